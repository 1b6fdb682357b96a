"""The virtual owner: answers what the program asks on random true boats, and drills nothing wrong.

The numbers of boats and owners are fixed, so that every run has the same boats. Run with ``-s`` it prints its figures.
`tests/benchmarks/test_bench_owner.py` walks on many more.
"""

from __future__ import annotations

from functools import cache, partial
from statistics import median

from geometry.design.patterns import kind_of
from tests.designs import sure
from tests.owner.tally import Outcome, blunder_table, chance_table, outcome, table
from tests.owner.virtual_owner import BLUNDERS
from tests.owner.walks import by_hand, ours

BOATS = (0, 1, 14)
"""On boat 14 a bracket read by tape once missed its bolts, and the motor hung too high, next to old holes."""
TO_THE_HOLES = (34, 40)
"""Boats whose walk ends once the holes may be drilled. On 34 the motor once hung too high, next to old holes."""
_HAND = range(30)


@cache
def usual() -> tuple[Outcome, ...]:
    """Return the walks with usual errors only."""
    return tuple(outcome(seed, ours) for seed in BOATS)


@cache
def to_the_holes() -> tuple[Outcome, ...]:
    """Return the walks of more boats, as far as the holes."""
    return tuple(outcome(seed, partial(ours, to_sheets=False)) for seed in TO_THE_HOLES)


@cache
def with_blunders() -> tuple[Outcome, ...]:
    """Return a walk with each kind of blunder, as far as the holes."""
    return tuple(outcome(100 + at, partial(ours, to_sheets=False), kind) for at, kind in enumerate(BLUNDERS))


def test_no_hole_is_wrong_and_few_motors_hang_too_high() -> None:
    walks = (*usual(), *to_the_holes())
    print("\n" + table({"questions": walks}) + "\n" + chance_table(walks))
    assert [each.seed for each in walks if each.wrong > 0.0] == []
    assert [each.seed for each in walks if each.refused] == []
    assert [each.seed for each in usual() if each.high] == []
    assert sum(each.high for each in walks) <= 1


def test_every_walk_comes_to_an_end_with_few_answers() -> None:
    """The aims: 12 answers for the holes in the median and 18 at most, then six answers and six presses for the sheets.

    A bracket that is not standard takes two more: its diagonal, and the end of its slot once more.
    """
    ends = {each.walk.ends for each in usual()}
    assert ends <= {"yes", "nothing fits"}
    holes = [each.walk.to_holes for each in usual() if each.walk.to_holes is not None]
    assert len(holes) >= len(BOATS) - 1
    assert median(answers for answers, _ in holes) <= 12
    for each in usual():
        own = kind_of(each.walk.design.mounts[0].bracket) == "own"
        assert each.walk.to_holes is None or each.walk.to_holes[0] <= (20 if own else 18), each.seed
    done = [each.walk for each in usual() if each.walk.ends == "yes"]
    later = [walk.answers - sure(walk.to_holes)[0] for walk in done]
    assert median(later) <= 6
    assert max(later) <= 10


def test_no_question_is_asked_twice_but_to_read_again() -> None:
    """A reading is taken once more twice at most."""
    for each in usual():
        asked = each.walk.asked
        readings = [name for name in asked if name.startswith("reading ")]
        assert len(set(readings)) == len(readings), each.seed
        assert all(asked.count(name) <= 2 for name in asked if name.startswith("again ")), each.seed


def test_by_hand_more_holes_are_wrong() -> None:
    """One depth and the trade's steps, without the step between the faces and without the rounded corner."""
    hand = [outcome(seed, by_hand) for seed in _HAND]
    print("\n" + table({"by hand": hand}))
    assert sum(each.wrong > 0.0 for each in hand) >= len(hand) / 10


def test_a_blunder_leads_to_no_wrong_hole() -> None:
    print("\n" + blunder_table(with_blunders()))
    assert [(each.blunder, each.wrong) for each in with_blunders() if each.wrong > 0.0] == []
    assert [each.blunder for each in with_blunders() if each.harm > 1.0 and not each.walk.noticed] == []
    assert sum(bool(each.walk.noticed) for each in with_blunders()) >= 3
