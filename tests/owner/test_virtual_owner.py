"""The virtual owner: answers what the program asks on random true boats, and drills nothing wrong.

The numbers of boats and owners are fixed, so that every run has the same boats. Run with ``-s`` it prints its figures.
`tests/benchmarks/test_bench_owner.py` walks on many more.
"""

from __future__ import annotations

from functools import cache
from statistics import median

from tests.designs import sure
from tests.owner.tally import Outcome, blunder_table, outcome, table
from tests.owner.virtual_owner import BLUNDERS
from tests.owner.walks import by_hand, ours

BOATS = range(5)
_HAND = range(60)


@cache
def usual() -> tuple[Outcome, ...]:
    """Return the walks with usual errors only."""
    return tuple(outcome(seed, ours) for seed in BOATS)


@cache
def with_blunders() -> tuple[Outcome, ...]:
    """Return a walk with each of three kinds of blunder."""
    return tuple(outcome(100 + number, ours, blunder) for number, blunder in enumerate(tuple(BLUNDERS)[:3]))


def test_no_hole_is_wrong_and_few_motors_hang_too_high() -> None:
    print("\n" + table({"questions": usual()}))
    assert [each.seed for each in usual() if each.wrong > 0.0] == []
    assert [each.seed for each in usual() if each.refused] == []
    assert sum(each.high for each in usual()) <= 1


def test_every_walk_comes_to_an_end_with_few_answers() -> None:
    """The aims: 12 answers for the holes in the median and 18 at most, then six answers and six presses for the sheets."""
    ends = {each.walk.ends for each in usual()}
    assert ends <= {"yes", "nothing fits"}
    holes = [each.walk.to_holes for each in usual() if each.walk.to_holes is not None]
    assert len(holes) >= len(BOATS) - 1
    assert median(answers for answers, _ in holes) <= 12
    assert max(answers for answers, _ in holes) <= 18
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
    assert [(each.blunder, each.wrong) for each in with_blunders() if each.wrong > 1.0] == []
    assert sum(bool(each.walk.noticed) for each in with_blunders()) >= 1
