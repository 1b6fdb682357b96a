"""Findings as lines to read: left and right alike in one line, worst first, clear ones apart."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.design.hardware import BOLT_NAMES
from geometry.design.units import format_clearance, format_length

if TYPE_CHECKING:
    from geometry.design.units import Unit
    from geometry.judge.findings import Checked, Finding, State

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_PARTS = {"washer": "washer", "nut": "nut", "socket": "socket", "thread_end": "thread end"}
_OF_BOLTS = {
    "socket_room": ("room for", "socket"), "feed": ("room to bring in", "bolt"), "length": ("threads on", "bolt"),
    "shank": ("thread left on", "bolt"), "seat": ("seat of", "bolt"),
}  # fmt: skip
_OF_MOUNT = {
    "row": "Lower bolts, end of the slot", "saddle": "Saddle over the top", "height": "Plate height",
    "bearing": "Bracket on the transom", "clamp_on": "Clamp's jaw", "neighbour": "Gap between the bolts",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class FindingLine:
    """One line of the list, and what it says when it is opened.

    Attributes:
        name: what it looks at, such as "Both lower washers". figure: its value, "" without one.
        text: the sentence. remedy: the cure, "" where there is none.
        parts: names of the parts that it concerns, as marks carry them ("lower port washer:0").
    """

    state: State
    name: str
    figure: str
    text: str
    remedy: str
    parts: tuple[str, ...]


def number(count: int) -> str:
    """Return a small number as a word."""
    return NUMBERS[count] if 0 <= count < len(NUMBERS) else str(count)


def finding_lines(checked: Checked) -> tuple[FindingLine, ...]:
    """Return one line for each finding, those of both sides that say the same in one; worst first."""
    unit, groups = checked.design.units, _grouped(checked)
    several = len(checked.design.mounts) > 1
    return tuple(_line(group, unit, several) for group in groups)


def grouped_names(group: tuple[Finding, ...]) -> tuple[str, ...]:
    """Return the bolts that a group looks at, upper port first."""
    found = {part for finding in group for part in finding.at.split(" / ")[1:2]}
    return tuple(name for name in BOLT_NAMES if name in found)


def subject(group: tuple[Finding, ...]) -> str:
    """Name what a group looks at, in small letters: "both lower washers", "the lower port hole, inner face"."""
    check, names, extra = group[0].check, grouped_names(group), group[0].at.split(" / ")[2:]
    if not names:
        named = _OF_MOUNT.get(check, check)
        where = group[0].at.split(" / ")[1:]
        if check == "bearing" and where:
            return "bracket above the top"
        return named if check != "washer" else f"the {where[0]} backing plate"
    if check in _OF_BOLTS:
        what, part = _OF_BOLTS[check]
        told = _named(names, part)
        return f"{what} {told if len(names) > 1 else f'the {told}'}"
    told = _named(names, _PARTS.get(check, "hole"))
    if check == "edge":
        return f"{told.removeprefix('both ')}, {'inside' if 'inner face' in extra else 'outside'} edge"
    return f"{told}, {extra[0]}" if extra else told


def _named(names: tuple[str, ...], part: str) -> str:
    pairs = {name.split()[0] for name in names}
    if len(names) == 1:
        return f"{names[0]} {part}"
    if len(names) == 2 and len(pairs) == 1:
        return f"both {pairs.pop()} {part}s"
    if len(names) == 4:
        return f"all four {part}s"
    return f"{', '.join(names)} {part}"


def _grouped(checked: Checked) -> list[tuple[Finding, ...]]:
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for finding in checked.findings:
        parts = finding.at.split(" / ")
        sided = len(parts) > 1 and parts[1] in BOLT_NAMES
        value = None if finding.value is None else round(finding.value, 4)
        place = (parts[0], *parts[2:]) if sided else tuple(parts)
        groups.setdefault((finding.check, finding.state, value, sided, *place), []).append(finding)
    return [tuple(group) for group in groups.values()]


def figure(finding: Finding, unit: Unit) -> str:
    """Return a finding's value as a person reads it: a length, or so many diameters or degrees."""
    value = finding.value
    if value is None:
        return ""
    if finding.unit == "mm":
        judged = finding.least is not None
        return format_clearance(value, unit) if judged else format_length(value, unit, denominator=16)
    shown = math.floor(value * 10 + 1e-6) / 10 if finding.unit == "diameters" else math.ceil(value * 10 - 1e-6) / 10
    text = f"{shown:g}".replace("-", "−")
    return f"{text}°" if finding.unit == "degrees" else f"{text} {finding.unit}"


def _line(group: tuple[Finding, ...], unit: Unit, several: bool) -> FindingLine:
    first = group[0]
    mount = first.at.split(" / ")[0]
    name = subject(group)
    name = name[0].upper() + name[1:]
    if several and len(first.mounts) == 1:
        name = f"{name}, {mount}"
    text = first.text
    names = grouped_names(group)
    if len(names) > 1:
        told = names[0].split()[0] if len({n.split()[0] for n in names}) == 1 else ""
        alike = text.replace(names[0], told).replace("  ", " ")
        text = f"{'All four' if len(names) == 4 else 'Port and starboard'} alike: {alike[0].lower()}{alike[1:]}"
    parts = tuple(f"{bolt} {_PARTS.get(first.check, 'hole')}:{index}" for index in first.mounts for bolt in names)
    return FindingLine(first.state, name, figure(first, unit), text, first.remedy or "", parts)
