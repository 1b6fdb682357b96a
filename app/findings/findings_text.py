"""The findings as lines to read, and the smallest clearance in two words."""

from __future__ import annotations

import math
from contextlib import suppress
from functools import lru_cache
from typing import TYPE_CHECKING

import msgspec

from app.ui.apostrophes import curly
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.findings import STATE_WORDS, Finding
from geometry.judge.wood_around_holes import NEAR, wood_between
from geometry.judge.words import findings_rows
from geometry.solid.bracket_holes import rows_left
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.tables.known import origin
from geometry.tables.trade import DEFAULT_LIMITS, is_default
from geometry.units.height_words import number
from geometry.units.units import format_clearance, format_limit

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.design.design import Design
    from geometry.judge.findings import Checked, State
    from geometry.judge.words import FindingsRow
    from geometry.units.units import Unit

_HOPELESS = "No height or drop fits. Use Find a fit, or measure the floor again."


class FindingLine(msgspec.Struct, frozen=True):
    """One line of the list, and what it says when it is opened.

    Attributes:
        name: what it looks at, such as "Both lower washers". figure: its value, "" without one.
        text: the sentence. remedy: the cure, "" where there is none.
        part: the part that it concerns, as marks carry it ("lower port washer:0"); "" for no bolt's and no bracket's.
        limit: its limits; "" where it is clear, or nothing limits it.
        doubt: whether the readings it rests on may well turn it round: measure first.
        first: the finding that speaks for the line; None for the line of the clear ones.
    """

    state: State
    name: str
    figure: str
    text: str
    remedy: str
    part: str
    limit: str = ""
    doubt: bool = False
    first: Finding | None = None

    @property
    def word(self) -> str:
        """How its state is called."""
        return STATE_WORDS[self.state] if self.first is None else self.first.word


def finding_lines(checked: Checked, *, hopeless: bool = False) -> tuple[FindingLine, ...]:
    """Return one line for each finding, those of both sides that say the same in one; worst first.

    ``hopeless``: no height or drop fits. So no finding says to raise the lower bolts.
    """
    return tuple(line_of(checked.design.units, row, hopeless=hopeless) for row in findings_rows(checked))


def limit_words(unit: Unit, finding: Finding) -> str:
    """Say a finding's limits and where they are from: "Advised 1/8 in, limit 0 in: our assumption."."""
    if finding.least is None or finding.advised is None or finding.state not in ("fouled", "tight"):
        return ""

    def figure(value: float) -> str:
        if finding.unit == "mm":
            return format_limit(value, unit)
        if finding.unit == "diameters":
            return f"{value:g} diameter{'' if value == 1 else 's'}"
        return f"{value:g}{'°' if finding.unit == 'degrees' else ''}"

    name = CHECK_KINDS[finding.check].limits
    standing = name in DEFAULT_LIMITS and is_default(name, (finding.least, finding.advised))
    whose = f": {origin(DEFAULT_LIMITS[name].source)}" if standing else ""
    advised = "" if "advised" in finding.text else f"Advised {figure(finding.advised)}, "
    return f"{advised}{'limit' if advised else 'Limit'} {figure(finding.least)}{whose}."


def guess_words(checked: Checked) -> str:
    """Say how many guesses are behind a decision; "" where there is none."""
    count = len(checked.guesses)
    return f"Based on {number(count)} {'guess' if count == 1 else 'guesses'}." if count else ""


def spare_words(checked: Checked | None) -> str:
    """Say the smallest clearance inside in two words, next to a live figure: "clear 5/8 in"."""
    return "" if checked is None else room_words(checked.findings, checked.design.units)


def room_words(findings: Iterable[Finding], unit: Unit) -> str:
    """Say the smallest clearance inside among findings in two words; "" where there is none."""
    value = min((f.value for f in findings if CHECK_KINDS[f.check].in_well and f.value is not None), default=None)
    if value is None:
        return ""
    figure = format_clearance(value, unit)
    return f"fouled {figure.lstrip('−')}" if value < 0 else f"clear {figure}"


def wood_words(design: Design, kind: str, index: int) -> str:
    """Say the wood left by a dragged part, next to its live figure: "3/4 in of wood left"; "" where that has no sense.

    An old hole is measured to the nearest new hole. A bracket or its bolts are measured to old holes near enough to matter.
    """
    if kind not in ("old hole", "bracket", "upper", "lower"):
        return ""
    rooms: list[float] = []
    for place, hole in enumerate(design.old_holes):
        for bolt in bolts(design):
            mine = place == index if kind == "old hole" else bolt.mount_index == index and kind in ("bracket", bolt.pair)
            with suppress(Unmeasured):
                wood = wood_between(bolt, hole, place) if mine and not hole.is_reused else math.inf
                rooms += [wood] if wood < (math.inf if kind == "old hole" else NEAR * bolt.thread.diameter) else []
    if not rooms:
        return ""
    figure = format_clearance(min(rooms), design.units)
    return f"the holes overlap by {figure.lstrip('−')}" if min(rooms) < 0 else f"{figure} of wood left"


def lost_words(design: Design, mount: int) -> str:
    """Say next to a live figure how many upper holes the present drop costs; "" where it costs none."""
    hung = design.mounts[mount]
    if hung.bracket.rows is None or hung.drop is None:
        return ""
    try:
        lost = hung.bracket.rows.count - len(rows_left(design, mount, hung.drop))
    except Unmeasured:
        return ""
    return f"{number(lost)} hole{'' if lost == 1 else 's'} lost" if lost else ""


def _part(row: FindingsRow) -> str:
    """Return the part that a row concerns, as marks carry it: a bolt's, the bracket or an old hole; "" for none."""
    lights, mounts = CHECK_KINDS[row.first.check].lights, row.first.mounts
    if row.first.at.endswith("/ outer washer"):
        lights = "outside washer"
    if lights == "old hole":
        return f"old hole {row.first.rests[0].split('.')[1]}"
    if not mounts or not (row.bolt or lights in ("bracket", "sweep")):
        return ""
    return f"{row.bolt} {lights}:{mounts[0]}" if row.bolt else f"{lights}:{mounts[0]}"


@lru_cache(maxsize=512)  # while a hand drags, most rows are those of the step before
def line_of(unit: Unit, row: FindingsRow, *, hopeless: bool) -> FindingLine:
    """Return the line of one row."""
    part = _part(row)
    doubt = any(finding.doubtful for finding in row.findings)
    limit = limit_words(unit, row.first)
    remedy = row.first.remedy or ""
    if hopeless and row.state == "fouled" and CHECK_KINDS[row.first.check].in_well and row.bolt.startswith("lower"):
        remedy = _HOPELESS
    text, remedy = curly(row.text), curly(remedy)
    return FindingLine(row.state, curly(row.title), row.figure, text, remedy, part, limit, doubt, row.first)
