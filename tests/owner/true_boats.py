"""Random true boats: what an owner has in front of them. The starting shape that they begin with is only like it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.decide.best_rung import best_of_each_drop
from geometry.decide.ladder import rungs
from geometry.design.boat import OldHole
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS, IN_WELL
from geometry.readings.measures import measure, put_path
from tests.designs import IN, sure

if TYPE_CHECKING:
    from collections.abc import Iterator
    from random import Random

    from geometry.design.design import Design

ENOUGH = 3.2
"""[mm] of true room: a motor that hangs higher than the lowest step with so much hangs higher than it had to."""
WRONG = ("neighbour", "old_hole", "edge", "top_edge", "row", *IN_WELL)
"""The checks that a hole fails on the true boat where it is wrong. Bolts are bought after the holes."""


class TrueBoat(msgspec.Struct, frozen=True):
    """A boat as it is, all values known, with the starting shape that its owner begins with."""

    true: Design
    start: Design

    def wrong(self, planned: Design) -> dict[str, float]:
        """Return by how much each planned hole is wrong on the true boat [mm]. Across a bracket some play is allowed for that.

        The holes are where the plan has them, and the parts are the plan's. Bracket and boat are the true ones.
        """
        mount = replace(planned.mounts[0], bracket=self.true.mounts[0].bracket)
        checked = check(replace(self.true, mounts=(mount,)))
        across = {f"across {pair}": abs(a - b) for pair, a, b in _half_spacings(planned, self.true)}
        return across | {
            f"{finding.check} {finding.at}": (finding.least or 0.0) - finding.value
            for finding in checked.findings
            if finding.check in WRONG and finding.state == "fouled" and finding.value is not None
        }

    def lowest(self) -> float | None:
        """Return the lowest drop with enough true room for plain parts [mm]; None where no drop has that."""
        for best in best_of_each_drop(self.true, 0, tuple(rungs(self.true, 0))):
            checked = check(best.design)
            lacking = [finding for finding in checked.findings if finding.state == "fouled" and finding.check in WRONG]
            rooms = [each.value for each in checked.findings if CHECK_KINDS[each.check].in_well and each.value is not None]
            if not lacking and min(rooms, default=ENOUGH) >= ENOUGH:
                return best.drop
        return None


def _half_spacings(planned: Design, true: Design) -> Iterator[tuple[str, float, float]]:
    """Yield both pairs with their half spacing on the plan and on the bracket [mm]."""
    now, then = planned.mounts[0].bracket, true.mounts[0].bracket
    yield "upper", sure(now.rows).half_spacing, sure(then.rows).half_spacing
    yield "lower", sure(now.lower).half_spacing, sure(then.lower).half_spacing


def true_boat(rng: Random) -> TrueBoat:
    """Return a random boat with a well, and the starting shape with the shallow well."""
    start = starts()[0].design
    rake = rng.uniform(8.0, 18.0)
    thick = rng.uniform(34.0, 52.0)
    floor, width = rng.uniform(8.2, 12.2) * IN, rng.uniform(19.0, 22.0) * IN
    values = {
        "transom.rake": rake,
        "transom.thickness.top": thick,
        "transom.thickness.low": thick + (rng.uniform(-4.0, 5.0) if rng.random() < 0.3 else 0.0),
        "transom.height": rng.uniform(18.4, 20.2) * IN,
        "transom.skin_outside": rng.uniform(3.0, 6.0),
        "transom.skin_inside": rng.uniform(3.0, 6.0),
        "well.floor_port": floor,
        "well.floor_starboard": floor + rng.gauss(0.0, 5.0),
        "well.fillet_radius": rng.uniform(4.0, 30.0),
        "well.floor_rise": rng.uniform(-1.0, 6.0),
        "well.length": rng.uniform(15.0, 20.0) * IN,
        **_pattern(rng),
    }
    rim = width + rng.uniform(0.0, 1.5) * IN
    profile = ((-rim / 2, 0.0), (-width / 2, -floor), (width / 2, -floor), (rim / 2, 0.0))
    true = put_path(replace(start, readings={}, look_for_holes=False), "well.profile", profile)
    for key, value in values.items():
        true = sure(measure(true, key)).set(true, value)
    cut = rng.random()
    top_cut = "level" if cut < 0.55 else "square" if cut < 0.8 else round(rng.uniform(0.0, rake), 1)
    true = put_path(true, "transom.top_cut", top_cut)
    return TrueBoat(replace(true, old_holes=tuple(_old_holes(rng))), start)


def _pattern(rng: Random) -> dict[str, float]:
    """Return the distances of the bracket: the standard ones as a foundry makes them, or quite others."""
    start, off = "mounts.0.bracket.", 0.2 if rng.random() < 0.85 else 5.0
    standard = {f"{start}rows.half_spacing": 6.4375, f"{start}lower.half_spacing": 4.9375, f"{start}lower.slots.0.0": 8.0}
    return {key: value * IN + rng.gauss(0.0, off) for key, value in standard.items()}


def _old_holes(rng: Random) -> list[OldHole]:
    """Return old holes of a motor before, in three boats of ten."""
    if rng.random() > 0.3:
        return []
    across, down = rng.uniform(95.0, 165.0), rng.uniform(60.0, 270.0)
    return [
        OldHole(name=f"old hole {number}", at=(side * across, -down), diameter=12.7, state="open", plug_diameter=None,
                reuse=False, drill=None)
        for number, side in enumerate((-1, 1), start=1)
    ]  # fmt: skip
