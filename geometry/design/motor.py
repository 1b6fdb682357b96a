"""The motor, its clamp bracket and its place on the boat.

Bracket frame: the origin is the middle of the bracket hook, the underside that would rest on the transom's top. The
directions are those of u and v on the face. Rows of upper holes count from the top, 0 first.
"""

from __future__ import annotations

import math
from typing import Literal

import msgspec

from geometry.design.boat import MOST_MASS, MOST_POWER
from geometry.design.hardware import Hardware
from geometry.design.validity import (
    FACE,
    LARGEST,
    LEAST,
    MOST_TILT,
    PART,
    TOO_MUCH,
    NonsenseError,
    Number,
    Pair,
    Points,
    above_zero,
    at_most,
    closed_shape,
    not_below_zero,
    within,
)
from geometry.tables import fasteners

MOST_ROWS = 20  # rows of upper holes, and slots on one side: our assumption
MOST_ANGLE = 180.0  # degrees: half a turn
MOST_LOCK = 90.0  # degrees
MOST_POINTS = 6  # outermost places of a motor: our assumption
MOST_SHOCK = 100.0


class Rows(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The bracket's upper holes: half their spacing, depth of the 1st below the hook, pitch and number [mm]."""

    half_spacing: float
    row0_depth: float
    pitch: float
    count: int
    diameter: Number
    pad_thickness: Number

    def __post_init__(self) -> None:
        above_zero(PART, half_spacing=self.half_spacing, pitch=self.pitch, count=self.count, diameter=self.diameter)
        not_below_zero(PART, row0_depth=self.row0_depth, pad_thickness=self.pad_thickness)
        if self.count > MOST_ROWS:
            raise NonsenseError(f"count is {self.count}; a bracket has a few rows of holes, {MOST_ROWS} at most here", TOO_MUCH)


class Lower(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The bracket's lower slots: [highest, lowest] place of a bolt's centre below the 1st hole, equal for a round hole [mm]."""

    half_spacing: float
    slots: tuple[tuple[float, float], ...]
    diameter: Number
    pad_thickness: Number

    def __post_init__(self) -> None:
        above_zero(PART, half_spacing=self.half_spacing, diameter=self.diameter)
        not_below_zero(PART, pad_thickness=self.pad_thickness)
        if len(self.slots) > MOST_ROWS:
            raise NonsenseError(f"slots has {len(self.slots)} entries; a bracket has a few slots, {MOST_ROWS} at most here")
        if not self.slots:
            raise NonsenseError("slots is empty; a bolted bracket has lower holes or slots")
        for high, low in self.slots:
            at_most(FACE, slot_high=high, slot_low=low)
            if not LEAST <= high <= low:
                raise NonsenseError(
                    f"slot [{high:g}, {low:g}] is upside down; its highest place comes first, as depth below the 1st hole",
                    "the highest place is no lower than the lowest" if high > low else "it is below the 1st hole",
                )


class ClampScrews(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A clamp-on bracket's screws: half their spacing, depth below the hook, and pads [outside, inside] [mm]."""

    half_spacing: Number
    depth: Number
    pads: Pair

    def __post_init__(self) -> None:
        above_zero(PART, half_spacing=self.half_spacing, depth=self.depth)
        not_below_zero(PART, pad_outside=self.pads[0], pad_inside=self.pads[1])


class RoomAft(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Free room behind the bracket along each pair's axis, for inserting a bolt from outside [mm]."""

    upper: Number
    lower: Number

    def __post_init__(self) -> None:
        not_below_zero(FACE, upper=self.upper, lower=self.lower)


class Bracket(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A motor's bracket, bolted or clamped on; ``outline`` in the bracket frame, ``jaw`` [least, most] [mm]."""

    kind: Literal["bolted", "clamp-on"]
    rows: Rows | None
    lower: Lower | None
    outline: Points
    jaw: Pair | None
    clamp_screws: ClampScrews | None
    room_aft: RoomAft | None

    def __post_init__(self) -> None:
        closed_shape(self.outline, "outline")
        if self.kind == "bolted" and (self.rows is None or self.lower is None):
            raise NonsenseError("a bolted bracket needs rows and lower")
        if self.kind == "clamp-on" and (self.rows is not None or self.lower is not None):
            raise NonsenseError("a clamp-on bracket has no bolts: rows and lower are null")
        if self.jaw is not None:
            least, most = self.jaw
            above_zero(PART, jaw_least=least, jaw_most=most)
            if least is not None and most is not None and least > most:
                raise NonsenseError(f"jaw runs from {least:g} to {most:g}; the least opening comes first",
                                    "the least is no more than the most")  # fmt: skip


class TiltPoint(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """An outermost place of the motor, with the motor down and straight ahead.

    Attributes:
        radius: from the middle of the tilt tube, seen from the side [mm]. half_width: to each side of the motor's middle [mm].
        angle: forward of plumb, seen from the side [degrees].
    """

    radius: Number
    angle: Number
    half_width: Number

    def __post_init__(self) -> None:
        above_zero(FACE, radius=self.radius)
        within(-MOST_ANGLE, MOST_ANGLE, angle=self.angle)
        not_below_zero(FACE, half_width=self.half_width)


class Tilt(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How the motor tilts and turns.

    Attributes:
        tube: the middle of the tilt tube, [aft of the bracket's face, above the bracket hook], square to it and along it [mm].
        most: full tilt, from the motor's lowest place. lock: full lock to each side [degrees].
        points: the motor's outermost places.
    """

    tube: Pair
    most: Number
    lock: Number
    points: tuple[TiltPoint, ...]

    def __post_init__(self) -> None:
        at_most(FACE, tube_aft=self.tube[0], tube_above=self.tube[1])
        above_zero(MOST_ANGLE, most=self.most)
        not_below_zero(MOST_LOCK, lock=self.lock)
        if len(self.points) > MOST_POINTS:
            raise NonsenseError(f"points has {len(self.points)} entries; {MOST_POINTS} places of a motor are enough")


NO_TILT = Tilt(tube=(None, None), most=None, lock=None, points=())
"""A motor whose tilt nobody has measured."""
NO_POINT = TiltPoint(radius=None, angle=None, half_width=None)


class Mount(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One motor on the boat.

    Attributes:
        `leg`: shaft length, from the bracket hook to the AV plate [mm]. mass [kg], power_kw [kW].
        set_back, centre_aft: how far aft of the transom the bracket and the motor's centre of mass are [mm].
        cowl_half_width: from the motor's middle to the outside of its cowl [mm].
        row: the bracket's upper hole that has the upper bolts, 0 at the top.
        upper_at: v of the upper pair on the boat (negative). drop: upper to lower pair, along the face.
        offset: u of the bracket's centre. upper_tilt, lower_tilt: from square, inner end higher positive [degrees].
    """

    name: str
    bracket: Bracket
    leg: Number
    mass: Number
    power_kw: Number
    set_back: Number
    centre_aft: Number
    thrust: Number
    shock: Number
    cowl_half_width: Number
    tilt: Tilt
    row: int | None
    upper_at: Number
    drop: Number
    offset: Number
    upper_tilt: Number
    lower_tilt: Number
    upper_hardware: Hardware | None
    lower_hardware: Hardware | None

    def __post_init__(self) -> None:
        above_zero(FACE, leg=self.leg, drop=self.drop, cowl_half_width=self.cowl_half_width)
        above_zero(MOST_MASS, mass=self.mass)
        above_zero(MOST_POWER, power_kw=self.power_kw)
        above_zero(MOST_SHOCK, shock=self.shock)
        not_below_zero(FACE, set_back=self.set_back, centre_aft=self.centre_aft)
        not_below_zero(LARGEST, thrust=self.thrust)
        at_most(FACE, upper_at=self.upper_at, offset=self.offset)
        within(-MOST_TILT, MOST_TILT, upper_tilt=self.upper_tilt, lower_tilt=self.lower_tilt)
        if self.upper_at is not None and not self.upper_at < 0:
            raise NonsenseError(f"upper_at is {self.upper_at:g}; the upper holes are below the datum, so it has to be below 0",
                                "the upper holes are below the top edge")  # fmt: skip
        if self.bracket.rows is None:
            of_bolts = (self.row, self.upper_at, self.drop, self.upper_hardware, self.lower_hardware)
            if any(value is not None for value in of_bolts):
                raise NonsenseError(
                    "a clamp-on bracket has no bolts: row, upper_at, drop and both hardwares are null"
                )
            return
        if self.upper_hardware is None or self.lower_hardware is None:
            raise NonsenseError("a bolted bracket needs upper_hardware and lower_hardware")
        self._keep_holes_apart()
        if self.row is not None and not 0 <= self.row < self.bracket.rows.count:
            raise NonsenseError(f"row is {self.row}; for this bracket it is 0 to {self.bracket.rows.count - 1}",
                                f"this bracket has {self.bracket.rows.count} upper holes")  # fmt: skip

    def _keep_holes_apart(self) -> None:
        """Refuse bolts that would go through each other."""
        rows, lower = self.bracket.rows, self.bracket.lower
        if rows is None or lower is None or self.upper_hardware is None or self.lower_hardware is None:
            return
        upper, below = (fasteners.bolt(fitted.bolt).diameter for fitted in (self.upper_hardware, self.lower_hardware))
        for name, apart, bolt in (
            ("bracket.rows.half_spacing", 2 * rows.half_spacing, upper),
            ("bracket.lower.half_spacing", 2 * lower.half_spacing, below),
            ("bracket.rows.pitch", rows.pitch if rows.count > 1 else math.inf, upper),
        ):
            if apart <= bolt:
                raise NonsenseError(f"{name} puts two holes {apart:g} mm apart; a bolt of {bolt:g} mm has to fit into each",
                                    "two bolts side by side need more room than that")  # fmt: skip
