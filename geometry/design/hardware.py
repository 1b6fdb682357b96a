"""Bolts, nuts, washers, backing plates and the tools that turn them [mm, N m]."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

import msgspec

from geometry.design.validity import (
    CLOSE,
    MOST_TILT,
    PART,
    SMALL,
    NonsenseError,
    Number,
    Pair,
    Points,
    above_zero,
    closed_shape,
    hole_in_rim,
    not_below_zero,
    within,
)
from geometry.tables import fasteners

MOST_FRICTION = 10.0
MOST_TORQUE = 2_000.0  # [N m]
MOST_SWING = 360.0  # degrees
BoltName = Literal["upper port", "upper starboard", "lower port", "lower starboard"]
BOLT_NAMES: tuple[BoltName, ...] = ("upper port", "upper starboard", "lower port", "lower starboard")


class Washer(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A flat washer. ``flat_cut`` is the distance from the centre down to a level cut, None: whole [mm]."""

    outer: Number
    inner: Number
    thickness: Number
    flat_cut: Number

    def __post_init__(self) -> None:
        hole_in_rim(self.inner, self.outer)
        above_zero(SMALL, outer=self.outer, thickness=self.thickness, flat_cut=self.flat_cut)


class HexSizes(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The sizes of a nut or a head that is not a published one [mm]."""

    flats: Number
    corners: Number
    height: Number

    def __post_init__(self) -> None:
        above_zero(SMALL, flats=self.flats, corners=self.corners, height=self.height)
        if self.flats is not None and self.corners is not None and self.corners < self.flats:
            raise NonsenseError(f"corners ({self.corners:g} mm) can't be less than flats ({self.flats:g} mm)",
                                "across its corners a hexagon is wider than across its flats")  # fmt: skip


class BackingPlate(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A backing plate between the inner face and the washers.

    Attributes:
        outline: corners (u, w) about the midpoint of the exits of its bolts.
        relief: how its lower back edge is chamfered: along the face, and through the thickness.
        joins: names of the bolts that go through it.
    """

    outline: Points
    thickness: Number
    relief: Pair
    material: str
    joins: tuple[BoltName, ...]

    def __post_init__(self) -> None:
        closed_shape(self.outline, "outline", PART)
        above_zero(SMALL, thickness=self.thickness)
        not_below_zero(PART, relief_along=self.relief[0], relief_through=self.relief[1])
        if not self.joins:
            raise NonsenseError("joins is empty; name the bolts that go through the backing plate")
        heights = [w for _, w in self.outline if w is not None]
        along = self.relief[0]
        if along is not None and len(heights) == len(self.outline) and along >= max(heights) - min(heights):
            high = max(heights) - min(heights)
            raise NonsenseError(f"relief goes {along:g} mm along a backing plate {high:g} mm high; it has to leave some of it",
                                "the relief leaves some of the backing plate’s back")  # fmt: skip
        through, thickness = self.relief[1], self.thickness
        if through is not None and thickness is not None and through > thickness + CLOSE:
            raise NonsenseError(f"relief goes {through:g} mm through a backing plate {thickness:g} mm thick",
                                "the relief goes no deeper than the backing plate is thick")  # fmt: skip


class Spacer(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A sleeve between backing plate or wood and the washer [mm]."""

    outer: Number
    inner: Number
    length: Number

    def __post_init__(self) -> None:
        hole_in_rim(self.inner, self.outer)
        above_zero(SMALL, outer=self.outer, length=self.length)


class Socket(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A socket with its drive [mm]."""

    outer: Number
    length: Number

    def __post_init__(self) -> None:
        above_zero(SMALL, outer=self.outer)
        above_zero(PART, length=self.length)


class Spanner(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A ring spanner.

    Attributes:
        outer, thickness: of its ring [mm]. swing: the turn that it needs before it is set again [degrees].
        length: from the ring's middle to the end of the handle [mm]. handle: the handle's width, at its widest [mm].
    """

    outer: Number
    thickness: Number
    swing: Number
    length: Number
    handle: Number

    def __post_init__(self) -> None:
        above_zero(SMALL, outer=self.outer, thickness=self.thickness, handle=self.handle)
        above_zero(MOST_SWING, swing=self.swing)
        above_zero(PART, length=self.length)


class Hardware(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The hardware in one pair of holes.

    Attributes:
        bolt, grade, nut: names in the published tables.
        length: of the bolt, None: the shortest stock length that fits.
        hole: diameter drilled through the transom.
        wedge: angle of a wedge under the inside washer, signed like the axis' angle to the inner face's normal [degrees].
        torque: the wrench's reading at the last pass, the lock nut's drag included [N m].
        running_torque: the lock nut's drag as measured, None where it was not [N m]. friction: lowest and highest nut factor.
    """

    bolt: str
    grade: str
    length: Number
    hole: Number
    inserted_from: Literal["outside", "inside", "before hanging"]
    outside_washer: Washer
    washer: Washer
    nut: str
    nut_sizes: HexSizes | None
    head_sizes: HexSizes | None
    backing_plate: BackingPlate | None
    spacer: Spacer | None
    wedge: Number
    socket: Socket | None
    spanner: Spanner | None
    torque: Number
    friction: Pair
    running_torque: Number

    def __post_init__(self) -> None:
        bolt = fasteners.bolt(self.bolt)
        fasteners.grade(self.grade)
        fasteners.nut(self.nut, self.bolt)
        above_zero(PART, length=self.length)
        above_zero(SMALL, hole=self.hole)
        above_zero(MOST_FRICTION, friction_low=self.friction[0], friction_high=self.friction[1])
        not_below_zero(MOST_TORQUE, torque=self.torque, running_torque=self.running_torque)
        within(-MOST_TILT, MOST_TILT, wedge=self.wedge)
        if self.hole is not None and self.hole < bolt.diameter - CLOSE:
            raise NonsenseError(f"hole is {self.hole:g} mm, and a {self.bolt} bolt ({bolt.diameter:g} mm) can't pass it",
                                f"the {self.bolt} bolt has to pass it")  # fmt: skip
        bores = {"washer": self.washer, "outside_washer": self.outside_washer, "spacer": self.spacer}
        for name, ring in bores.items():
            if ring is not None and ring.inner is not None and ring.inner < bolt.diameter - CLOSE:
                raise NonsenseError(f"{name}.inner is {ring.inner:g}; a {self.bolt} bolt ({bolt.diameter:g} mm) can't pass it",
                                    f"the {self.bolt} bolt has to pass it")  # fmt: skip
        low, high = self.friction
        if low is not None and high is not None and low > high:
            raise NonsenseError(f"friction runs from {low:g} to {high:g}; the lower one comes first",
                                "the lowest is no higher than the highest")  # fmt: skip
        for washer, hexagon in ((self.washer, self.inside_hexagon), (self.outside_washer, self.outside_hexagon)):
            corners = hexagon.corners
            if washer.flat_cut is not None and corners is not None and washer.flat_cut < corners / 2 - CLOSE:
                raise NonsenseError(
                    f"flat_cut is {washer.flat_cut:g} mm from the washer's centre, and the nut's corners reach "
                    f"{corners / 2:.4g} mm: the cut has to leave the whole nut on the washer",
                    "the cut leaves the whole nut on the washer",
                )

    @property
    def nut_hexagon(self) -> HexSizes:
        """Largest listed sizes of the nut, or its entered sizes."""
        if self.nut_sizes is not None:
            return _with_corners(self.nut_sizes)
        return _of_nut(self.nut, self.bolt)

    @property
    def head_hexagon(self) -> HexSizes:
        """Largest listed sizes of the bolt's head, or its entered sizes."""
        if self.head_sizes is not None:
            return _with_corners(self.head_sizes)
        return _of_head(self.bolt)

    @property
    def inside_hexagon(self) -> HexSizes:
        """The hexagon inside the boat: the nut, or the head of a bolt that is inserted from inside."""
        return self.head_hexagon if self.inserted_from == "inside" else self.nut_hexagon

    @property
    def outside_hexagon(self) -> HexSizes:
        """The hexagon outside: the head, or the nut of a bolt that is inserted from inside."""
        return self.nut_hexagon if self.inserted_from == "inside" else self.head_hexagon


@lru_cache(maxsize=64)
def _of_nut(nut_name: str, bolt_name: str) -> HexSizes:
    nut = fasteners.nut(nut_name, bolt_name)
    return HexSizes(flats=nut.flats, corners=nut.corners, height=nut.height)


@lru_cache(maxsize=64)
def _of_head(bolt_name: str) -> HexSizes:
    bolt = fasteners.bolt(bolt_name)
    return HexSizes(flats=bolt.head_flats, corners=bolt.head_corners, height=bolt.head_height)


def _with_corners(sizes: HexSizes) -> HexSizes:
    """Return sizes with corners. Where only the flats are measured: flats times 2/sqrt(3), for a sharp hexagon."""
    if sizes.corners is None and sizes.flats is not None:
        return msgspec.structs.replace(sizes, corners=sizes.flats * 2 / 3**0.5)
    return sizes
