"""Coordinate frames of drawn shapes: outline and fittings on the outer face, well and blocks on the inner one."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from app.entries.steps import snapped
from geometry.errors import OwnerError
from geometry.solid.faces import Unmeasured, faces, profile_up

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.units.units import Unit
    from templates_out.drawing.marks import Point


class Frame(msgspec.Struct, frozen=True):
    """Converts places on the face (u, v) to a shape's coordinates (u, y), where a tape reads y, and back [mm]."""

    up: float = 0.0
    cosine: float = 1.0

    def own(self, at: Point) -> Point:
        """Return a place on the face in the shape's coordinates."""
        return at[0], at[1] / self.cosine - self.up

    def face(self, at: Point) -> Point:
        """Return a place in the shape's coordinates on the face."""
        return at[0], (at[1] + self.up) * self.cosine


OUTER = Frame()


def inner_frame(design: Design) -> Frame:
    """Return the inner face's frame.

    Raises:
        OwnerError: a value that relates the inside to the face is not measured yet.
    """
    try:
        face = faces(design.transom)
        return Frame(face.edge_w if design.well is None else profile_up(face, design.well), face.cos_taper)
    except Unmeasured:
        raise OwnerError(
            "Measure the transom’s lean, thickness and top cut first. The inside is drawn from the inside top edge."
        ) from None


def snapped_place(at: Point, unit: Unit, hold: float, *, free: bool) -> tuple[Point, str]:
    """Return a place snapped to the tape's steps or to a near centreline, and the words for that."""
    if free:
        return at, ""
    down = -snapped(-at[1], unit)
    if abs(at[0]) < hold:
        return (0.0, down), "on the centreline"
    return (snapped(at[0], unit), down), ""
