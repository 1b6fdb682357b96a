"""The virtual owner on many boats, with usual errors and with one blunder each: the figures are printed.

Run it by ``python3 -m tests --bench tests/benchmarks/test_bench_owner.py -s``. ``BOATS`` in the environment sets how many.
"""

from __future__ import annotations

import os

from tests.owner.tally import blunder_table, outcome, table
from tests.owner.virtual_owner import BLUNDERS
from tests.owner.walks import by_hand, ours

BOATS = int(os.environ.get("BOATS", "200"))


def test_the_virtual_owner() -> None:
    """At most 1 wrong hole in 1,000 boats is the aim; by hand it is about one in six."""
    walks = [outcome(seed, ours) for seed in range(BOATS)]
    hand = [outcome(seed, by_hand) for seed in range(BOATS)]
    print("\n" + table({"questions": walks, "by hand": hand}))
    print(f"{sum(each.walk.seconds for each in walks) / BOATS:.2f} s a boat")
    assert sum(each.wrong > 1.0 for each in walks) <= max(1, BOATS // 100)


def test_blunders_of_the_virtual_owner() -> None:
    kinds = list(BLUNDERS)
    made = [outcome(10_000 + number, ours, kinds[number % len(kinds)]) for number in range(BOATS)]
    print("\n" + blunder_table(made))
    assert sum(each.wrong > 1.0 for each in made) <= max(2, BOATS // 20)
