"""Check of second readings: each against what the other readings give. Beyond three spreads they contradict each other.

A spread is the root sum of squares over the readings behind both. A check that rests on a contradiction is not made until
it is settled. Three spreads are our assumption. Lengths [mm], angles [degrees].
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.validity import CLOSE
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.findings import Finding
from geometry.judge.reporter import spoken
from geometry.readings.measures import measure, name_of
from geometry.solving.compared import SPREADS, compared
from geometry.solving.comparisons import comparisons
from geometry.units.units import format_clearance, format_reading

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.design.design import Design
    from geometry.solving.comparisons import Comparison


_WEIGHS = 0.1  # of the whole spread: a reading with less settles no contradiction; our assumption


class Contradiction(msgspec.Struct, frozen=True):
    """Two readings that contradict each other.

    Attributes:
        key, first: of both. keys: of all readings behind them. text, settle: what to say and to do.
        again: what to read again, the two first, without readings that hardly move the comparison.
    """

    key: str
    first: str
    keys: tuple[str, ...]
    text: str
    settle: str
    again: tuple[str, ...]


def contradictions(design: Design) -> tuple[Contradiction, ...]:
    """Return the contradictions among a design's readings."""
    judged = (_judged(design, comparison) for comparison in comparisons(design))
    return tuple(each for each in judged if each is not None)


def contradicted(design: Design, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings, those that rest on a contradiction not checked, and one finding for each contradiction."""
    clashes = contradictions(design)
    if not clashes:
        return tuple(findings)
    doubted = (_doubted(design, finding, clashes) for finding in findings)
    return (*doubted, *(_finding(design, clash) for clash in clashes))


def _doubted(design: Design, finding: Finding, clashes: tuple[Contradiction, ...]) -> Finding:
    clash = next((each for each in clashes if any(key.startswith(finding.rests) for key in each.keys)), None)
    if clash is None or finding.state == "note":
        return finding
    first, other = name_of(design, clash.first), name_of(design, clash.key)
    checked = f"The {CHECK_KINDS[finding.check].noun} of {spoken(finding.at)} is not checked"
    text = f"{checked}: {first} and {other} contradict each other."
    return replace(finding, value=None, state="unknown", text=text, remedy=clash.settle, missing=clash.key, against="")


def _finding(design: Design, clash: Contradiction) -> Finding:
    parts = clash.key.split(".")
    mounts = (int(parts[1]),) if parts[0] == "mounts" else ()
    whose = design.mounts[mounts[0]].name if mounts else "boat"
    return Finding(
        "reading", f"{whose} / {name_of(design, clash.key)}", None, None, None, "", "unknown", clash.text, clash.settle,
        rests=clash.keys, mounts=mounts,
    )  # fmt: skip


def _judged(design: Design, comparison: Comparison) -> Contradiction | None:
    """Return the contradiction of a second reading; None where it agrees, or a reading is not known."""
    row, seen = measure(design, comparison.key), compared(design, comparison)
    if row is None or seen is None or seen.agrees:
        return None
    behind = tuple(key for key, share in seen.shares.items() if abs(share) > CLOSE or key == comparison.first)
    weighty = (key for key, share in seen.shares.items() if abs(share) >= _WEIGHS * seen.spread)
    again = tuple(dict.fromkeys((comparison.first, row.key, *weighty)))
    here, there, between = (
        format_reading(size, design.units) for size in (seen.read, seen.expected, abs(seen.read - seen.expected))
    )
    most = format_clearance(seen.most, design.units)
    why = "three spreads" if seen.most >= SPREADS * seen.spread - CLOSE else "the most that a pilot may be off"
    text = (
        f"{row.name} is {here}. By {name_of(design, comparison.first)} and the readings with it, it is {there}. "
        f"They are {between} apart, and such readings agree within {most} (our assumption: {why})."
    )
    return Contradiction(row.key, comparison.first, (row.key, *behind), text, comparison.settle, again)
