"""The virtual owner: answers what the program asks on random true boats, and drills nothing wrong.

The numbers of boats and owners are fixed, so that every run has the same boats. Run with ``-s`` it prints its figures.
`tests/benchmarks/test_bench_owner.py` walks on many more.
"""

from __future__ import annotations

from functools import cache, partial
from random import Random
from statistics import median

from msgspec.structs import replace

from geometry.design.patterns import kind_of
from tests.designs import sure
from tests.owner.tally import Outcome, blunder_table, chance_table, outcome, table
from tests.owner.true_boats import true_boat
from tests.owner.virtual_owner import BLUNDERS, Owner
from tests.owner.walks import by_hand, ours

BOATS = (0, 1, 14)
"""On boat 14 a bracket read by tape once missed its bolts, and the motor hung too high, next to old holes."""
TO_THE_HOLES = (34, 40)
"""Boats whose walk ends once the holes may be drilled. On 34 the motor once hung too high, next to old holes."""
NEARLY_STANDARD = 183
"""A boat whose bracket has its upper holes 2.4 mm nearer to each other than the standard pattern: no tape shows that."""
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


def test_a_bracket_that_is_nearly_standard_is_seen_on_the_template_only() -> None:
    seen = outcome(NEARLY_STANDARD, partial(ours, to_sheets=False))
    assert seen.walk.ends == "yes"
    assert seen.walk.laid == 2
    assert (seen.unlaid > 1.0, seen.wrong) == (True, 0.0)


def test_who_lays_a_bracket_on_sees_what_keeps_it_off_its_bolts() -> None:
    """By hand: 17/32 in holes leave a half-inch bolt 0.8 mm to each side, half in the boat and half in the bracket."""
    boat = true_boat(Random(1))
    mount = boat.true.mounts[0]
    rows, lower = sure(mount.bracket.rows), sure(mount.bracket.lower)

    def seen(off: float) -> int:
        bracket = replace(mount.bracket, rows=replace(rows, half_spacing=sure(rows.half_spacing) + off))
        planned = replace(boat.true, mounts=(replace(mount, bracket=bracket, row=2, drop=sure(lower.slots[0][0])),))
        return sum(Owner(boat, Random(seed)).sees_a_ring_covered(planned) for seed in range(40))

    assert [seen(off) for off in (0.0, -1.6, 1.6)] == [0, 40, 40]
    assert 5 < seen(0.8) < 35


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
