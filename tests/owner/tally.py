"""Counts how walks went, and puts the figures in a table."""

from __future__ import annotations

from random import Random
from statistics import median
from typing import TYPE_CHECKING

import msgspec

from tests.owner.true_boats import true_boat
from tests.owner.virtual_owner import Owner

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from tests.owner.walks import Walk

_PLAY = 1.0  # [mm] by which a lower bolt still goes in past a slot's end, with the play of its holes
_STEP = 19.05  # [mm] from one step of the drop to the next
_OTHERS = 10**6  # numbers of the owners, apart from those of the boats


class Outcome(msgspec.Struct, frozen=True):
    """How one walk ended on the true boat.

    Attributes:
        wrong: by how much the worst planned hole is wrong [mm], 0 for none.
        refused: nothing was to fit, although a step has room. high: it hangs a step higher than it had to.
        blundered: whether the blunder happened.
    """

    seed: int
    blunder: str
    walk: Walk
    wrong: float
    refused: bool
    high: bool
    blundered: bool


def outcome(seed: int, way: Callable[[Owner], Walk], blunder: str = "") -> Outcome:
    """Walk one way on the boat of a number, and look at the holes on the true boat."""
    boat = true_boat(Random(seed))
    owner = Owner(boat, Random(seed + _OTHERS), blunder)
    walk = way(owner)
    done = walk.ends == "yes"
    failed = boat.wrong(walk.design) if done else {}
    wrong = [by for name, by in failed.items() if not name.startswith("row") or by > _PLAY]
    lowest, drop = boat.lowest(), walk.design.mounts[0].drop or 0.0
    high, refused = done and lowest is not None and drop < lowest - _STEP / 2, not done and lowest is not None
    return Outcome(seed, blunder, walk, max(wrong, default=0.0), refused, high, owner.blundered)


def table(ways: dict[str, Sequence[Outcome]]) -> str:
    """Return the figures of some ways, a line each."""
    lines = [f"{'':24}{'boats':>6}{'wrong':>7}{'>1 mm':>7}{'refused':>9}{'high':>6}{'to the holes':>20}{'to the sheets':>20}"]
    for name, outcomes in ways.items():
        holes = [each.walk.to_holes for each in outcomes if each.walk.to_holes is not None]
        sheets = [(each.walk.answers, each.walk.presses) for each in outcomes if each.walk.ends == "yes"]
        counts = (
            len(outcomes), sum(each.wrong > 0.0 for each in outcomes), sum(each.wrong > 1.0 for each in outcomes),
            sum(each.refused for each in outcomes), sum(each.high for each in outcomes),
        )  # fmt: skip
        figures = "".join(f"{count:>{wide}}" for count, wide in zip(counts, (6, 7, 7, 9, 6), strict=True))
        lines.append(f"{name:24}{figures}{_spans(holes):>20}{_spans(sheets):>20}")
    return "\n".join(lines)


def blunder_table(outcomes: Iterable[Outcome]) -> str:
    """Return what became of the blunders, by their kind."""
    lines = [f"{'blunder':24}{'made':>6}{'noticed':>9}{'wrong':>7}{'high':>6}{'refused':>9}  noticed by"]
    kinds: dict[str, list[Outcome]] = {}
    for each in outcomes:
        if each.blundered:
            kinds.setdefault(each.blunder, []).append(each)
    for kind, made in kinds.items():
        ways = sorted({each.walk.noticed for each in made if each.walk.noticed})
        counts = (
            len(made), sum(bool(each.walk.noticed) for each in made), sum(each.wrong > 0.0 for each in made),
            sum(each.high for each in made), sum(each.refused for each in made),
        )  # fmt: skip
        figures = "".join(f"{count:>{wide}}" for count, wide in zip(counts, (6, 9, 7, 6, 9), strict=True))
        lines.append(f"{kind:24}{figures}  {', '.join(ways)}")
    return "\n".join(lines)


def _spans(counts: list[tuple[int, int]]) -> str:
    """Return median and most of answers, and of presses: "9 (14), 4 (6)"."""
    if not counts:
        return ""
    return ", ".join(f"{median(each):g} ({max(each)})" for each in zip(*counts, strict=True))
