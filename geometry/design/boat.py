"""The boat: its transom, its well, and the parts and holes that are already there.

Lengths are millimetres, angles degrees, mass kilograms, power kilowatts. The face is drawn as seen from astern.
``u`` is to starboard from the centreline, ``v`` up along the face from the top edge of the motor cut-out. ``s`` is forward,
square to the face. A number that is None is not measured yet.
"""

from __future__ import annotations

from typing import Literal

import msgspec

from geometry.design.validity import (
    CLOSE,
    FACE,
    MOST_TILT,
    PART,
    SMALL,
    NonsenseError,
    Number,
    Pair,
    Points,
    above_zero,
    at_most,
    closed_shape,
    known,
    not_below_zero,
    well_line,
    within,
)
from geometry.tables import materials
from geometry.tables.known import MM_PER_INCH

MOST_MASS = 5_000.0  # [kg]
MOST_POWER = 2_000.0  # [kW]
MOST_HULL = 100_000.0  # [kg]
MOST_LEAN = 45.0  # degrees: of a face from plumb or level; our assumption, like the other limits here
MOST_TAPER = 0.5  # of a transom's thickness for each millimetre down
MOST_LENGTH = 100 * 12 * MM_PER_INCH  # [mm]


class Plate(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The figures on the boat's capacity plate; None where it has none or is lost."""

    power_kw: Number
    motor_mass: Number
    persons_mass: Number
    total_mass: Number

    def __post_init__(self) -> None:
        above_zero(MOST_POWER, power_kw=self.power_kw)
        above_zero(MOST_MASS, motor_mass=self.motor_mass, persons_mass=self.persons_mass, total_mass=self.total_mass)


class OldMotor(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The motor before, as far as known."""

    mass: Number
    power_kw: Number
    centre_aft: Number

    def __post_init__(self) -> None:
        above_zero(MOST_MASS, mass=self.mass)
        above_zero(MOST_POWER, power_kw=self.power_kw)
        not_below_zero(FACE, centre_aft=self.centre_aft)


class Afloat(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How high parts are above the water, at rest with the old motor hung and nobody aboard; minus is below it [mm].

    Attributes:
        top_edge: of the motor cut-out at the centreline. scupper: the lowest one. drain: lower edge of the well's drain.
    """

    top_edge: Number
    scupper: Number
    drain: Number

    def __post_init__(self) -> None:
        at_most(FACE, top_edge=self.top_edge, scupper=self.scupper, drain=self.drain)


class Boat(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The hull's figures [mm].

    Attributes:
        hull_mass: the boat's weight without motor and gear. displacement: of the boat swamped to its rail [kg].
    """

    kind: Literal["monohull", "other"]
    length: Number
    beam: Number
    transom_width: Number
    hull_mass: Number
    displacement: Number
    flat_bottom_hard_chines: bool
    remote_steering: bool | None
    plate: Plate
    old_motor: OldMotor
    afloat: Afloat

    def __post_init__(self) -> None:
        above_zero(MOST_LENGTH, length=self.length)
        above_zero(2 * FACE, beam=self.beam, transom_width=self.transom_width)
        above_zero(MOST_HULL, hull_mass=self.hull_mass, displacement=self.displacement)


class Thickness(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Transom thickness square to the outer face: ``top`` at v = 0, ``low`` at v = ``low_at`` (negative) [mm]."""

    top: Number
    low: Number
    low_at: Number

    def __post_init__(self) -> None:
        above_zero(SMALL, top=self.top, low=self.low)
        at_most(FACE, low_at=self.low_at)
        if self.low_at is not None and not self.low_at < 0:
            raise NonsenseError(f"low_at is {self.low_at:g}; it is measured downward, so it has to be below 0",
                                "it is measured downward")  # fmt: skip
        taper = tan_taper(self)
        if taper is not None and not abs(taper) <= MOST_TAPER:
            raise NonsenseError(
                f"low ({self.low:g} mm) and top ({self.top:g} mm) differ too much to be {-(self.low_at or 0):g} mm apart",
                "the two thicknesses would differ too much for so short a way down",
            )


def tan_taper(thickness: Thickness) -> Number:
    """Return the tangent of the angle between the faces, positive where the transom is thicker lower down."""
    if thickness.top is None or thickness.low is None or thickness.low_at is None:
        return None
    return (thickness.low - thickness.top) / -thickness.low_at


class Transom(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The transom's outer face, its thickness, cut and core.

    Attributes:
        outline: corners (u, v) of the outer face, in order around it.
        rake: lean of the face, positive with its top further aft [degrees].
        top_cut: how the top is cut, from square to the face: "square", "level" (follows the rake) or degrees.
        deadrise: rise of the hull's bottom from the keel outward [degrees].
        height: plumb, from the datum to the hull's bottom at the centreline.
        core_bears: pressure that the core supports [N/mm2]; None: the table's value counts.
    """

    outline: Points
    rake: Number
    top_cut: float | Literal["square", "level"] | None
    deadrise: Number
    height: Number
    thickness: Thickness
    skin_outside: Number
    skin_inside: Number
    core: str
    core_state: Literal["dry", "damp", "wet", "unknown"]
    core_bears: Number

    def __post_init__(self) -> None:
        within(-MOST_LEAN, MOST_LEAN, rake=self.rake, deadrise=self.deadrise)
        if isinstance(self.top_cut, float | int):
            within(-MOST_LEAN, MOST_LEAN, top_cut=self.top_cut)
        above_zero(FACE, height=self.height)
        not_below_zero(SMALL, skin_outside=self.skin_outside, skin_inside=self.skin_inside)
        skins = (self.skin_outside or 0.0) + (self.skin_inside or 0.0)
        for name, thick in (("top", self.thickness.top), ("low", self.thickness.low)):
            if thick is not None and thick < skins - CLOSE:
                raise NonsenseError(f"thickness.{name} is {thick:g}; it can't be less than both skins together, {skins:g} mm",
                                    "the transom is at least as thick as both its skins together")  # fmt: skip
        above_zero(core_bears=self.core_bears)
        materials.core(self.core)
        closed_shape(self.outline, "outline")
        top = top_at(self.outline, 0.0)
        if top is not None and abs(top) > CLOSE:
            raise NonsenseError(f"outline's top at u = 0 is at v = {top:g}; it has to be at 0, where the datum is")
        if top is None and known(self.outline) is not None:
            raise NonsenseError("outline does not reach the centreline (u = 0), where the datum is")


def top_at(outline: Points, u: float) -> float | None:
    """Return the highest v of the outline at ``u`` [mm], None outside it or where it is not measured."""
    corners = known(outline)
    if corners is None:
        return None
    heights: list[float] = []
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        low, high = (a, b) if a[0] <= b[0] else (b, a)
        if low[0] <= u <= high[0]:
            if high[0] - low[0] < CLOSE:
                heights.append(max(a[1], b[1]))
            else:
                heights.append(low[1] + (high[1] - low[1]) * (u - low[0]) / (high[0] - low[0]))
    return max(heights, default=None)


class Well(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The splash well, as measured inside the boat.

    Attributes:
        well_from: the origin of ``y``, up along the inner face: the inside top edge or the datum.
        profile: open line of corners (u, y) from the top at port, down, across the floor and up to starboard, drawn
            without rounded corners.
        floor_rise: slope of the floor from level, positive when it rises going forward [degrees].
        fillet_radius: corner radius (fillet, cove) between inner face and profile.
        length: length of the well along its floor.
        front_lean: lean of the well's front from plumb, positive with its top further aft [degrees].
        front_height: the lip at the top of the well's front above the datum, plumb.
    """

    well_from: Literal["inside top edge", "datum"]
    profile: Points
    floor_rise: Number
    fillet_radius: Number
    length: Number
    front_lean: Number
    front_height: Number

    def __post_init__(self) -> None:
        within(-MOST_TILT, MOST_TILT, floor_rise=self.floor_rise, front_lean=self.front_lean)
        not_below_zero(SMALL, fillet_radius=self.fillet_radius)
        above_zero(FACE, length=self.length)
        at_most(FACE, front_height=self.front_height)
        well_line(self.profile)
        depths = [y for _, y in self.profile if y is not None]
        if len(depths) == len(self.profile) and min(depths) >= 0:
            raise NonsenseError(f"profile is above the transom's top (lowest y is {min(depths):g}); its floor is below 0",
                                "the well’s floor is below the transom’s top")  # fmt: skip
        if len(depths) == len(self.profile):
            rim = max(depths[0], depths[-1])
            for number, y in enumerate(depths, start=1):
                if y > rim + CLOSE:
                    raise NonsenseError(f"profile's corner {number} (y is {y:g}) is above both ends; {rim:g} is the most",
                                        "the well’s floor is below the top of its sides")  # fmt: skip


class StandsOut(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A part on a face, with its outline there. It sticks out by ``stands_out`` (None: without end) [mm]."""

    name: str
    outline: Points
    stands_out: Number

    def __post_init__(self) -> None:
        above_zero(FACE, stands_out=self.stands_out)
        closed_shape(self.outline, "outline")


class Block(StandsOut, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A part on the inner face, its outline in (u, y)."""


class Fitting(StandsOut, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A part on the outer face, its outline in (u, v).

    Attributes:
        drill: hole to be drilled at its middle, for a cable, a hose or a tube; None where there is none.
    """

    drill: Number

    def __post_init__(self) -> None:
        super().__post_init__()
        above_zero(PART, drill=self.drill)


class OldHole(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """An old hole, square to the outer face.

    Attributes:
        at: centre (u, v) on the outer face.
        state: "open", "sealed" (filler only, counts as open) or "plugged" (cured and structural).
        plug_diameter: of a plugged hole.
        reuse: a new hole is meant to use it.
        drill: it is to be opened to this, for a cable, a hose or a tube; None where it is not.
    """

    name: str
    at: Pair
    diameter: Number
    state: Literal["open", "sealed", "plugged"]
    plug_diameter: Number
    reuse: bool
    drill: Number

    def __post_init__(self) -> None:
        above_zero(PART, diameter=self.diameter, plug_diameter=self.plug_diameter, drill=self.drill)
        at_most(FACE, at_u=self.at[0], at_v=self.at[1])
        if self.diameter is not None and self.plug_diameter is not None and self.plug_diameter < self.diameter:
            raise NonsenseError(
                f"plug_diameter ({self.plug_diameter:g} mm) is smaller than the hole that it fills ({self.diameter:g} mm)",
                "a plug is no smaller than the hole that it fills",
            )

    @property
    def is_reused(self) -> bool:
        """Whether a new bolt goes through it as it is: meant to be used again, without a plug, and opened for nothing else."""
        return self.reuse and self.state != "plugged" and self.drill is None
