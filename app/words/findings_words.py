"""Findings as lines to read, and the smallest clearance in two words."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.design.hardware import BOLT_NAMES
from geometry.design.units import format_clearance
from geometry.judge.words import findings_rows

if TYPE_CHECKING:
    from geometry.judge.findings import Checked, State
    from geometry.judge.words import Row

_PARTS = {"washer": "washer", "nut": "nut", "socket": "socket", "thread_end": "thread end"}


class FindingLine(msgspec.Struct, frozen=True):
    """One line of the list, and what it says when it is opened.

    Attributes:
        name: what it looks at, such as "Both lower washers". figure: its value, "" without one.
        text: the sentence. remedy: the cure, "" where there is none.
        part: the part that it concerns, as marks carry it ("lower port washer:0"); "" where it is no bolt's.
    """

    state: State
    name: str
    figure: str
    text: str
    remedy: str
    part: str


def finding_lines(checked: Checked) -> tuple[FindingLine, ...]:
    """Return one line for each finding, those of both sides that say the same in one; worst first."""
    return tuple(_line(row) for row in findings_rows(checked))


def spare_words(checked: Checked | None) -> str:
    """Say the smallest clearance inside in two words, to stand beside a live figure: "clear 5/8 in"."""
    values = [f.value for f in checked.findings if f.check in _PARTS and f.value is not None] if checked else []
    if checked is None or not values:
        return ""
    told = format_clearance(min(values), checked.design.units)
    return f"fouled {told.lstrip('−')}" if min(values) < 0 else f"clear {told}"


def _line(row: Row) -> FindingLine:
    text, bolt = row.first.text, next((name for name in row.first.at.split(" / ") if name in BOLT_NAMES), "")
    if len(row.findings) > 1 and bolt:
        alike = text.replace(bolt, bolt.split()[0])
        text = f"Port and starboard alike: {alike[0].lower()}{alike[1:]}"
    part = f"{bolt} {_PARTS.get(row.first.check, 'hole')}:{row.first.mounts[0]}" if bolt and row.first.mounts else ""
    return FindingLine(row.state, row.title, row.figure, text, row.first.remedy or "", part)
