"""The numbers of a boat behind the room of its parts inside, by name, so that many boats can be calculated together.

Lengths [mm], angles [degrees]. A number that is not known is left out.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.design.inner_face import cut_angle
from geometry.judge.check_kinds import IN_WELL
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from geometry.design.design import Design
    from geometry.solid.placed_bolts import Bolt

BODIES = (*IN_WELL, "spacer")
"""The parts of a bolt inside: each has a start, an end, a radius and, where it is cut flat, the cut's depth."""

_BOAT = ("transom", "well", "inside_blocks", "old_holes")
_BOLTS = ("mounts",)

Numbers = dict[str, float]


def numbers_of(design: Design) -> Numbers:
    """Return every number of a design that the room of a part inside is calculated from."""
    return boat_numbers(design) | bolt_numbers(design)


def moved_by(keys: Iterable[str]) -> tuple[bool, bool]:
    """Return whether a change of values at some dotted paths moves the boat's numbers, and its bolts' numbers."""
    first = {key.partition(".")[0] for key in keys}
    return bool(first.intersection(_BOAT)), bool(first.intersection(_BOLTS))


def boat_numbers(design: Design) -> Numbers:
    """Return the numbers of the transom, the well, the blocks and the old holes."""
    return {name: float(value) for name, value in _of_boat(design) if value is not None}


def bolt_numbers(design: Design) -> Numbers:
    """Return the numbers of each bolt: its place on the outer face, its hole, and its parts inside.

    The thread's end is counted from the bolt's head, so that it does not change with the transom's thickness.
    """
    return {f"bolt.{index}.{name}": value for index, bolt in enumerate(bolts(design)) for name, value in _of_bolt(bolt)}


def _of_boat(design: Design) -> Iterator[tuple[str, float | None]]:
    transom, well = design.transom, design.well
    yield "rake", transom.rake
    yield "cut", cut_angle(transom)
    yield "top", transom.thickness.top
    yield "low", transom.thickness.low
    yield "low_at", transom.thickness.low_at
    for at, (u, v) in enumerate(transom.outline):
        yield f"outline.{at}.u", u
        yield f"outline.{at}.v", v
    if well is not None:
        yield "rise", well.floor_rise
        yield "radius", well.fillet_radius
        for at, (u, y) in enumerate(well.profile):
            yield f"profile.{at}.u", u
            yield f"profile.{at}.y", y
    for index, block in enumerate(design.inside_blocks):
        yield f"block.{index}.out", math.inf if block.stands_out is None else block.stands_out
        for at, (u, y) in enumerate(block.outline):
            yield f"block.{index}.{at}.u", u
            yield f"block.{index}.{at}.y", y
    for index, hole in enumerate(design.old_holes):
        yield f"old.{index}.u", hole.at[0]
        yield f"old.{index}.v", hole.at[1]
        yield f"old.{index}.across", hole.plug_diameter if hole.state == "plugged" else hole.diameter


def _of_bolt(bolt: Bolt) -> Iterator[tuple[str, float]]:
    for name in ("u", "v", "tilt", "hole", "plate_thickness"):
        try:
            yield name, getattr(bolt, name)
        except Unmeasured:
            continue
    for part in BODIES:
        try:
            body = bolt.body(part)
            along = bolt.exit.along if part == "thread_end" else 0.0
        except Unmeasured:
            continue
        if body is not None:
            yield f"{part}.start", body.start
            yield f"{part}.end", body.end + along
            yield f"{part}.radius", body.shape.radius
            yield f"{part}.cut", body.shape.cut
