"""The frame that a shape is drawn in: outline and fittings on the outer face, well and blocks on the inner one."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from app.entries.steps import snapped
from geometry.errors import OwnerError
from geometry.solid.faces import Unmeasured, faces, profile_up

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.units import Unit
    from templates_out.drawing.marks import Point


class Frame(msgspec.Struct, frozen=True):
    """Turns places on the face (u, v) into a shape's own (u, y), y being what a tape reads, and back [mm]."""

    up: float = 0.0
    cosine: float = 1.0

    def own(self, at: Point) -> Point:
        """Return a place on the face in the shape's own coordinates."""
        return at[0], at[1] / self.cosine - self.up

    def face(self, at: Point) -> Point:
        """Return a place of the shape's own on the face."""
        return at[0], (at[1] + self.up) * self.cosine


OUTER = Frame()


def inner_frame(design: Design) -> Frame:
    """Return the inner face's frame.

    Raises:
        OwnerError: what carries the inside over to the face is not measured yet.
    """
    try:
        face = faces(design.transom)
        return Frame(face.edge_w if design.well is None else profile_up(face, design.well), face.cos_taper)
    except Unmeasured:
        raise OwnerError(
            "Measure the transom’s lean, thickness and top cut first: the inside is drawn from the inside top edge."
        ) from None


def held(at: Point, unit: Unit, hold: float, *, free: bool) -> tuple[Point, str]:
    """Return a place on the tape's steps, or on the centreline where it is near; and the word for that."""
    if free:
        return at, ""
    down = -snapped(-at[1], unit)
    if abs(at[0]) < hold:
        return (0.0, down), "on the centreline"
    return (snapped(at[0], unit), down), ""
