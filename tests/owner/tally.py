"""Counts how walks went, and puts the figures in a table."""

from __future__ import annotations

from itertools import pairwise
from random import Random
from statistics import median
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.decide.best_rung import best_of_each_drop
from geometry.decide.ladder import rungs
from geometry.design.validity import CLOSE, SECOND
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.judge.drillable import ROOM_TO_DRILL, stops_the_paper
from tests.owner.true_boats import WRONG, true_boat
from tests.owner.virtual_owner import Owner
from tests.owner.walks import Walk

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from geometry.design.design import Design
    from tests.owner.true_boats import TrueBoat

_PLAY = 1.0  # [mm] by which a bolt still goes in past a slot's end or across, with the play of its holes
_BRACKET = ("row", "across")
_STEP = 19.05  # [mm] from one step of the drop to the next
_WIDE = (6, 8, 7, 7, 9, 6)  # letters of a table's columns
_OTHERS = 10**6  # numbers of the owners, apart from those of the boats


class Outcome(msgspec.Struct, frozen=True):
    """How one walk ended on the true boat.

    Attributes:
        wrong: by how much the worst planned hole is wrong [mm], 0 for none. unlaid: where no bracket is laid on the template.
        refused: nothing was to fit, although a step has room. high: it hangs a step higher than it had to.
        blundered: whether the blunder happened. harm: by how much it alone, unnoticed, makes a hole wrong [mm].
    """

    seed: int
    blunder: str
    walk: Walk
    wrong: float
    refused: bool
    high: bool
    blundered: bool
    harm: float = 0.0
    unlaid: float = 0.0


def outcome(seed: int, way: Callable[[Owner], Walk], blunder: str = "") -> Outcome:
    """Walk one way on the boat of a number, and look at the holes on the true boat."""
    boat = true_boat(Random(seed))
    owner = Owner(boat, Random(seed + _OTHERS), blunder)
    walk = way(owner)
    done = walk.ends == "yes"
    wrong = _wrong(boat, walk.design) if done else 0.0
    lowest, drop = boat.lowest(), walk.design.mounts[0].drop or 0.0
    high = done and lowest is not None and drop < lowest - _STEP / 2
    refused = walk.ends not in ("yes", "another tape", "another bracket") and lowest is not None
    unlaid = 0.0 if walk.unlaid is None else _wrong(boat, walk.unlaid)
    return Outcome(seed, blunder, walk, wrong, refused, high, owner.blundered, _harm(boat, owner, walk.design), unlaid)


def _wrong(boat: TrueBoat, planned: Design) -> float:
    """Return by how much the worst planned hole is wrong on the true boat [mm]."""
    failed = boat.wrong(planned)
    return max((by for name, by in failed.items() if not name.startswith(_BRACKET) or by > _PLAY), default=0.0)


def _harm(boat: TrueBoat, owner: Owner, known: Design) -> float:
    """Return by how much a blunder that nobody notices makes a hole wrong [mm]: at the lowest step that then has room.

    Every other reading is as in ``known``, without second ways and pilots.
    """
    if not owner.slips:
        return 0.0
    try:
        believed = bare(known)
        for slip in owner.slips.values():
            believed = slip(believed)
    except OwnerError:
        return 0.0
    for best in best_of_each_drop(believed, 0, tuple(rungs(believed, 0))):
        fouled = (each for each in check(best.design).findings if each.state == "fouled" and stops_the_paper(each))
        if (best.room is None or best.room >= ROOM_TO_DRILL) and not any(each.check in WRONG for each in fouled):
            return _wrong(boat, best.design)
    return 0.0


def bare(design: Design) -> Design:
    """Return ``design`` without second ways and pilots."""
    readings = {key: reading for key, reading in design.readings.items() if SECOND not in key}
    return replace(design, readings=readings, pilots=())


def table(ways: dict[str, Sequence[Outcome]]) -> str:
    """Return the figures of some ways, a line each. "unlaid" are the wrong ones where no bracket is laid on the template."""
    heads = ("boats", "unlaid", "wrong", ">1 mm", "refused", "high")
    first = "".join(f"{head:>{wide}}" for head, wide in zip(heads, _WIDE, strict=True))
    lines = [f"{'':24}{first}{'to the holes':>20}{'to the sheets':>20}"]
    for name, outcomes in ways.items():
        holes = [each.walk.to_holes for each in outcomes if each.walk.to_holes is not None]
        sheets = [(each.walk.answers, each.walk.presses) for each in outcomes if each.walk.ends == "yes"]
        counts = (
            len(outcomes), sum(each.unlaid > 0.0 for each in outcomes), sum(each.wrong > 0.0 for each in outcomes),
            sum(each.wrong > 1.0 for each in outcomes),
            sum(each.refused for each in outcomes), sum(each.high for each in outcomes),
        )  # fmt: skip
        figures = "".join(f"{count:>{wide}}" for count, wide in zip(counts, _WIDE, strict=True))
        lines.append(f"{name:24}{figures}{_spans(holes):>20}{_spans(sheets):>20}")
    return "\n".join(lines)


def blunder_table(outcomes: Iterable[Outcome]) -> str:
    """Return what became of the blunders, by their kind. A harmful one would have made a hole wrong."""
    heads = ("noticed", "harmful", "noticed", "wrong", "high", "refused")
    lines = [f"{'blunder':24}{'made':>6}{''.join(f'{head:>9}' for head in heads)}  noticed by"]
    kinds: dict[str, list[Outcome]] = {"all": []}
    for each in outcomes:
        if each.blundered:
            kinds.setdefault(each.blunder, []).append(each)
            kinds["all"].append(each)
    for kind, made in kinds.items():
        ways, harmful = sorted({each.walk.noticed for each in made if each.walk.noticed}), [each for each in made if each.harm]
        counts = (
            len(made), sum(bool(each.walk.noticed) for each in made), len(harmful),
            sum(bool(each.walk.noticed) for each in harmful), sum(each.wrong > 0.0 for each in made),
            sum(each.high for each in made), sum(each.refused for each in made),
        )  # fmt: skip
        figures = "".join(f"{count:>{wide}}" for count, wide in zip(counts, (6, 9, 9, 9, 9, 9, 9), strict=True))
        lines.append(f"{kind:24}{figures}  {', '.join(ways)}")
    return "\n".join(lines)


def chance_table(outcomes: Iterable[Outcome]) -> str:
    """Return how many plans were wrong, by their least chance: a chance of 0.98 is right where 2 of 100 are."""
    lines = [f"{'least chance':24}{'plans':>6}{'wrong':>7}{'expected':>10}"]
    done = [(each.walk.chance, each.wrong) for each in outcomes if each.walk.ends == "yes" and each.walk.chance is not None]
    for low, high in pairwise((0.0, 0.9, 0.975, 0.99, 1.0 + CLOSE)):
        part = [(chance, wrong) for chance, wrong in done if low <= chance < high]
        expected = sum(1.0 - chance for chance, _ in part)
        failed = sum(wrong > 0.0 for _, wrong in part)
        lines.append(f"{f'{low:g} to {min(high, 1.0):g}':24}{len(part):>6}{failed:>7}{expected:>10.2f}")
    return "\n".join(lines)


def _spans(counts: list[tuple[int, int]]) -> str:
    """Return median and most of answers, and of presses: "9 (14), 4 (6)"."""
    if not counts:
        return ""
    return ", ".join(f"{median(each):g} ({max(each)})" for each in zip(*counts, strict=True))
