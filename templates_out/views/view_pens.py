"""The pens of both views: weights and dashes in paper millimetres, after ISO 128 (dashes in line widths)."""

from __future__ import annotations

from typing import Literal

from templates_out.drawing.marks import Pen, Role

Style = Literal["screen", "paper"]


def _dashed(role: Role, weight: float, *widths: float) -> Pen:
    return Pen(role, weight, tuple(width * weight for width in widths))


CUT = Pen("ink", 0.50)  # edges of what is cut through, and the face's own edge
SEEN = Pen("ink", 0.35)
FINE = Pen("ink", 0.18)
HIDDEN = _dashed("ink", 0.25, 8, 4)
LAND = _dashed("ink", 0.18, 2, 4)  # where the flat land ends
CENTRE = _dashed("ink", 0.18, 24, 3, 2, 3)
SIZE = Pen("ink", 0.18)  # dimension lines
OLD = Pen("old", 0.25)
OTHER = Pen("soft", 0.18)  # a motor that is not in hand
NEW = Pen("new", 0.50)
NEW_SEEN = Pen("new", 0.35)
NEW_FINE = Pen("new", 0.18)
WASHER = _dashed("new", 0.30, 6, 3)
PLATE = _dashed("new", 0.30, 12, 3)
SOCKET = _dashed("new", 0.18, 24, 3, 2, 3)
FOUL = Pen("fouled", 0.58)
FOUL_FINE = Pen("fouled", 0.18)
DOUBT_ONE = _dashed("ink", 0.13, 12, 6)  # the floor, one spread away
DOUBT_TWO = _dashed("ink", 0.13, 2, 5)  # two spreads away
DOUBT_BAR = Pen("new", 0.18)
HATCH = Pen("hatch", 0.18)

FIGURE = {"screen": 3.4, "paper": 2.7}  # size of figures [mm]
WORD = {"screen": 3.1, "paper": 2.5}  # size of words
HEAVY = 0.24  # a figure keeps off lines at least so thick [mm]
