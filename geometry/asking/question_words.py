"""The words of a question: the name of a reading by where it is on the boat, and how to take it. Slip and sheet share them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.readings.angle_sides import SIDES
from geometry.readings.boat_measures import floor_place
from geometry.readings.pilots import hole_of
from geometry.units.units import format_length

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.readings.measures import Measure

_HOW = {
    "transom.top_cut": "Lay a square over the top edge, one arm down the outside. Read how far the top is from square. "
                       "Or type level or square.",
    "well.fillet_radius": "Slide a washer down the inside face until it rocks, or try coins or cards in the corner.",
}  # fmt: skip


ANY_OLD_HOLES = "Any old holes? Anything standing in the well?"
"""The title of the question for old holes and obstacles."""
WHERE_TO_LOOK = "Look at both faces of the transom, and into the well. A hole that is filled or painted over counts too."
"""How to answer it."""


def pattern_title(design: Design, mount: int) -> str:
    """Return the title of the question for a bracket's three distances. It names the motor where there are several."""
    whose = f"the {design.mounts[mount].name}’s" if len(design.mounts) > 1 else "your"
    return f"Does {whose} bracket match?"


def title(asked: Measure) -> str:
    """Return the name of a reading: the same as on the card, where a corner is named by where it is on the boat."""
    return asked.name


def how_to_read(design: Design, asked: Measure) -> str:
    """Return how to take a reading, without its exactness."""
    if asked.key in ("well.floor_port", "well.floor_starboard") and design.well is not None:
        side = "port" if asked.key.endswith("port") else "starboard"
        away = format_length(abs(floor_place(design, -1 if side == "port" else 1)), design.units)
        if design.well.well_from == "datum":
            return (f"Lay a straightedge square to the face on the outside top edge, {away} to {side} of the centreline. "
                    "From it read down along the inside face to the floor.")  # fmt: skip
        return (f"Hook the tape on the inside top edge, {away} to {side} of the centreline. "
                "Read down along the inside face to the floor.")  # fmt: skip
    if hole_of(asked.key):
        return f"Make the sheets, and drill this pilot only. {asked.how}"
    how = _HOW.get(asked.key, asked.how)
    return f"{how.partition(' Plus is ')[0]} {SIDES[asked.key].question}" if asked.key in SIDES else how
