"""How sure the places of a washer and of the floor under it are, along the inner face: one standard deviation [mm].

Both move with many readings, and with some of them together. The spread of the room between them is another one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
import numpy as np

from geometry.doubt.boat_numbers import numbers_of
from geometry.doubt.kept_bolt_lengths import with_lengths_kept
from geometry.doubt.many_boats import ManyBoats
from geometry.doubt.random_errors import drawn_errors, drawn_numbers
from geometry.solid.placed_bolts import bolts
from geometry.solving.solved import solved

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.doubt.many_sections import Floats
    from geometry.judge.findings import Checked


class PlaceSpreads(msgspec.Struct, frozen=True):
    """The spreads along the inner face: of the floor under a bolt (None outside the well), and of its washer [mm]."""

    floor: float | None
    washer: float


def place_spreads(checked: Checked) -> dict[str, PlaceSpreads]:
    """Return the spreads at each bolt, by the bolt's place in findings; {} while the chances are not known.

    It is kept with the findings: a view asks at each new scale.

    Raises:
        Unmeasured: a reading behind the inside is missing.
    """
    if not checked.sure:
        return {}
    for _ in place_spreading(checked):
        pass
    kept: dict[str, PlaceSpreads] = checked.__dict__["place_spreads"]
    return kept


def place_spreading(checked: Checked) -> Iterator[None]:
    """Find the spreads of findings with chances, and keep them with the findings. Yield after each error.

    Raises:
        Unmeasured: a reading behind the inside is missing.
    """
    if "place_spreads" in checked.__dict__:
        return
    design = checked.design
    placed = bolts(design)
    for bolt in placed:
        _ = bolt.exit  # what is not measured is named here
    bought = with_lengths_kept(design)
    boat = solved(bought)
    every = []
    for error in drawn_errors(design, bought):
        every.append(error)
        yield
    errors, count = tuple(every), len(every)
    off = np.concatenate([np.eye(count), -np.eye(count)], axis=1)
    boats = ManyBoats(boat, drawn_numbers(numbers_of(boat), errors, off), 2 * count)
    places = {}
    for index, bolt in enumerate(placed):
        exit_ = boats.exit(index)
        floor = _floor(boats, exit_.u)
        places[bolt.at] = PlaceSpreads(None if floor is None else _spread(floor), _spread(exit_.w))
    checked.__dict__["place_spreads"] = places


def _floor(boats: ManyBoats, u: Floats) -> Floats | None:
    """Return the w of the profile under a place in each boat; None where it is outside the well in one of them."""
    if boats.design.well is None or not boats.has("rise") or not boats.has("radius"):
        return None
    corners = boats.well.corners
    best = np.full(boats.count, np.inf)
    for at in range(len(corners.u) - 1):
        (ua, ub), (wa, wb) = corners.u[at : at + 2], corners.w[at : at + 2]
        there = (ua <= u) & (u <= ub) & (ub > ua)
        best = np.where(there, np.minimum(best, wa + (wb - wa) * (u - ua) / np.where(ub > ua, ub - ua, 1.0)), best)
    return best if np.all(np.isfinite(best)) else None


def _spread(values: Floats) -> float:
    """Return the root sum of squares of the changes by each error: half of what it does from one side to the other."""
    up, down = np.split(values, 2)
    return float(np.sqrt(np.sum(((up - down) / 2) ** 2)))
