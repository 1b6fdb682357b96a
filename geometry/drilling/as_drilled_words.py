"""The holes as drilled, in words: off their plan, the bracket on them, and what to do."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.drilling.as_drilled import MOST_OFF, Easing, Off, off_plan, on_holes, worse_as_drilled
from geometry.drilling.bracket_chance_words import percent
from geometry.judge.check import check
from geometry.judge.drillable import SURE
from geometry.readings.measures import name_of
from geometry.solid.faces import Unmeasured
from geometry.units.units import format_length

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked, Finding
    from geometry.solid.faces import Point
    from geometry.units.units import Unit

NOT_READ = "not read"
_FILED = {"in": 25.4 / 64, "mm": 0.1}  # [mm] what is filed off is rounded up to this
_LIMIT = {"in": "1/8 in", "mm": "3 mm"}


def moved(end: Point | None, unit: Unit) -> str:
    """Say how far an end is off its plan: "1/16 in to port, 1/8 in down", "as planned", "not read"."""
    if end is None:
        return NOT_READ
    least = 25.4 / 64 if unit == "in" else 0.5
    parts = [
        f"{format_length(abs(value), unit, denominator=32)} {words[0] if value > 0 else words[1]}"
        for value, words in zip(end, (("to starboard", "to port"), ("up", "down")), strict=True) if abs(value) >= least
    ]  # fmt: skip
    return ", ".join(parts) or "as planned"


def off_words(off: Off, unit: Unit) -> str:
    """Say where a hole came out, and what to do where that is too far off."""
    ends = f"{off.name.capitalize()}: outside {moved(off.outer, unit)}; inside {moved(off.inner, unit)}."
    if off.most <= MOST_OFF:
        return ends
    return (
        f"{ends} That is more than {_LIMIT[unit]} off. Look at the checks of this bolt below. Where one is fouled, plug the "
        "hole and drill it again."
    )


def own_words(design: Design, index: int) -> tuple[str, ...]:
    """Say which holes of a motor have a washer or a socket that the others do not have."""
    lines = []
    for each in design.as_drilled:
        said = [
            f"{name} {format_length(size, design.units, denominator=32)}{after}"
            for name, size, after in (
                ("washer", each.washer, " across"), ("flat cut at", each.flat_cut, ""), ("socket", each.socket, " across"),
            ) if size is not None
        ]  # fmt: skip
        if each.mount == index and said:
            lines.append(f"{each.hole.capitalize()}, its own: {', '.join(said)}.")
    return tuple(lines)


def bracket_words(design: Design, index: int) -> tuple[str, ...]:
    """Say whether the bracket goes on, and which hole to ease, by how much and to which side."""
    try:
        held = on_holes(design, index)
    except Unmeasured as missing:
        return (f"Whether the bracket goes on is not calculated. Read {name_of(design, missing.key)} first.",)
    chance = f"The chance is {percent(held.chance)}, as exactly as the holes were read."
    if held.excess <= 0.0:
        spare = format_length(-held.excess, design.units, denominator=64)
        sure = "" if held.chance >= SURE else " Try it with dry bolts before you do anything else."
        return (f"The bracket goes on these holes, with {spare} to spare. {chance}{sure}",)
    first = f"The bracket does not go on these holes. {chance} Try it with dry bolts first."
    if not held.easings:
        return (first, "No hole helps when it alone is eased. Plug the hole that is farthest off, and drill it again.")
    return (first, easing_words(held.easings[0], design.units))


def easing_words(easing: Easing, unit: Unit) -> str:
    """Say which hole to ease, by how much and to which side, or to plug and drill it again."""
    step = _FILED[unit]
    by = format_length(math.ceil(easing.by / step - CLOSE) * step, unit, denominator=64)
    if easing.kind == "plug":
        return (
            f"The {easing.name} hole would have to be {by} wider {_way(easing)}. That is too much. Fill it with epoxy, let it "
            "cure, and drill it again."
        )
    return f"Ease the {easing.name} hole by {by} {_way(easing)}, with a round file. Then try the bracket again."


def _way(easing: Easing) -> str:
    """Say the side to file: "towards port", "towards port and down"."""
    ways = [
        words[0] if value > 0 else words[1]
        for value, words in ((easing.across, ("towards starboard", "towards port")), (easing.up, ("upwards", "downwards")))
        if abs(value) > 0.38  # more than 22 degrees off the other axis
    ]
    return " and ".join(ways)


def summary(design: Design, index: int) -> tuple[str, ...]:
    """Return the lines about one motor: each hole that was read, then the bracket.

    Raises:
        Unmeasured: the plan is not known.
    """
    holes = [off_words(off, design.units) for off in off_plan(design, index) if off.outer is not None or off.inner is not None]
    return (*holes, *own_words(design, index), *bracket_words(design, index))


def findings_words(design: Design) -> tuple[str, ...]:
    """Say which checks are worse with the holes as drilled than in the plan.

    Raises:
        Unmeasured: the holes can't be placed.
    """
    return changed_findings(check(design)) or ("No check is worse with the holes as drilled.",)


def changed_findings(plan: Checked) -> tuple[str, ...]:
    """Say the findings whose state is worse with the holes as drilled, with the plan's state next to it.

    Raises:
        Unmeasured: the holes can't be placed.
    """
    worse = worse_as_drilled(plan)
    return () if worse is None else tuple(
        f"{finding.word.capitalize()}, {in_plan(plan, finding)}: {finding.text}" for finding in worse.findings
    )


def in_plan(plan: Checked, finding: Finding) -> str:
    """Say the state that a finding has in the plan: "clear in the plan"."""
    was = plan.of(finding.check, finding.at)
    return "not in the plan" if was is None else f"{was.word} in the plan"
