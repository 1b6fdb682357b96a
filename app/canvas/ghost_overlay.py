"""Draws the holes and hardware of another design, faintly over the face."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

from geometry.solid.placed_bolts import Bolt, bolts, plate_ring
from templates_out.drawing.marks import Arc, Circle, Line, Mark, Path, Pen
from templates_out.views.viewport import if_known

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from templates_out.views.viewport import Viewport

GHOST = Pen("new", 0.25, (1.4, 0.9))


def ghost_marks(present: Design, other: Design, view: Viewport) -> tuple[Mark, ...]:
    """Return the bolts of ``other`` that differ: hole, washer and backing plate, and a line from the present place."""
    marks: list[Mark] = []
    now = {(bolt.mount_index, bolt.name): bolt for bolt in bolts(present)}
    every = bolts(other)
    for bolt in every:
        was = now.get((bolt.mount_index, bolt.name))
        if was is not None and (was.u, was.v, was.hardware) == (bolt.u, bolt.v, bolt.hardware):
            continue
        marks += if_known(partial(_bolt, bolt, was, view))
        marks += if_known(partial(_plate, bolt, every, view))
    return tuple(marks)


def _bolt(bolt: Bolt, now: Bolt | None, view: Viewport) -> Iterator[Mark]:
    at = view.to_paper((bolt.u, bolt.v))
    if now is not None and (now.u, now.v) != (bolt.u, bolt.v):
        yield Line(view.to_paper((now.u, now.v)), at, GHOST, "ghost")
    yield Circle(at, max(bolt.hole / 2 * view.scale, 0.8), GHOST, None, "ghost")
    outer, cut = bolt.hardware.washer.outer or 30.0, bolt.hardware.washer.flat_cut
    radius = outer / 2 * view.scale
    if cut is None:
        yield Circle(at, radius, GHOST, None, "ghost")
        return
    low, end = cut * view.scale, math.degrees(math.asin(min(1.0, 2 * cut / outer)))
    half = math.sqrt(max(0.0, radius**2 - low**2))
    yield Arc(at, radius, -end, 180.0 + end, GHOST, "ghost")
    yield Line((at[0] - half, at[1] - low), (at[0] + half, at[1] - low), GHOST, "ghost")


def _plate(bolt: Bolt, every: tuple[Bolt, ...], view: Viewport) -> Iterator[Mark]:
    plate = bolt.hardware.backing_plate
    if plate is None or not bolt.port:
        return
    joined = tuple(other for other in every if other.mount_index == bolt.mount_index and other.name in plate.joins)
    cosine = bolt.faces.cos_taper
    ring = plate_ring(joined, plate, plate.thickness or 0.0)
    yield Path(tuple(view.to_paper((u, w * cosine)) for u, w in ring), True, GHOST, None, "ghost")
