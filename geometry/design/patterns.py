"""Usual brackets and hardware to start with, to be replaced by the real ones [mm].

The four-bolt pattern is common practice, no source. Sizes of bolts, nuts and washers are the published ones. Every other
value is our assumption.
"""

from __future__ import annotations

import math
from typing import Literal

from msgspec.structs import replace

from geometry.design.hardware import BOLT_NAMES, BackingPlate, Hardware, Socket, Spanner, Washer
from geometry.design.motor import NO_TILT, Bracket, ClampScrews, Lower, Mount, RoomAft, Rows
from geometry.design.validity import CLOSE
from geometry.tables import fasteners
from geometry.tables.fasteners import FlatWasher
from geometry.tables.friction import BANDS
from geometry.tables.known import MM_PER_INCH, NM_PER_LB_FT
from geometry.tables.trade import STANDARD_PATTERN

BracketKind = Literal["standard", "fixed lower", "clamp-on", "own"]
BRACKET_KINDS: tuple[BracketKind, ...] = ("standard", "fixed lower", "clamp-on", "own")

_IN = MM_PER_INCH
_UPPER_AT = -2 * _IN  # usual depth of the upper pair below the top edge: common practice, no source
_ROW = 2  # the middle hole leaves two either way
_HOLE = 17 / 32 * _IN  # of the bracket: the close clearance hole of a 1/2 in bolt
_PAD = 0.5 * _IN
_FLAT_AIR = 0.5  # of washer left beyond the nut's corners by a flat cut
SHOCK = 3.0  # times its weight: the motor's pull in a slam
PLATE_THICKNESS = _IN / 4  # common practice, of aluminium
MOST_RELIEF = 2 * PLATE_THICKNESS  # of a backing plate over the rounded corner: our assumption
_PLATE_REACH = 3.0  # of backing plate beyond a washer's rim; more where more clearance is advised
_PLATE_ABOVE = 30.0  # of backing plate above the holes: common practice, all around more than an inch
_PLATE_BAR = 20.0  # of backing plate left above a notch and a chamfer


def bracket(kind: BracketKind) -> Bracket:
    """Return a usual bracket. The numbers of an "own" one are to be replaced."""
    if kind == "clamp-on":
        return Bracket(
            kind="clamp-on", rows=None, lower=None, outline=((-130.0, 0.0), (130.0, 0.0), (130.0, -260.0), (-130.0, -260.0)),
            jaw=(30.0, 60.0), clamp_screws=ClampScrews(half_spacing=4 * _IN, depth=60.0, pads=(6.0, 6.0)), room_aft=None,
        )  # fmt: skip
    std = STANDARD_PATTERN
    rows = Rows(half_spacing=std.upper_half_spacing, row0_depth=std.row0_depth, pitch=std.pitch, count=std.count,
                diameter=_HOLE, pad_thickness=_PAD)  # fmt: skip
    slots: tuple[tuple[float, float], ...] = (std.slot,)
    half = std.lower_half_spacing
    if kind == "fixed lower":
        slots = tuple((at, at) for at in (std.slot[0] + k * std.pitch for k in range(std.count)))
    elif kind == "own":
        rows = Rows(half_spacing=150.0, row0_depth=50.0, pitch=20.0, count=4, diameter=_HOLE, pad_thickness=_PAD)
        slots, half = ((200.0, 260.0),), 120.0
    wide, low = rows.half_spacing + 27.0, slots[-1][1] + 70.0
    outline = ((-wide, 0.0), (wide, 0.0), (wide, -120.0), (half + 27.0, -low), (-half - 27.0, -low), (-wide, -120.0))
    return Bracket(
        kind="bolted", rows=rows, lower=Lower(half_spacing=half, slots=slots, diameter=_HOLE, pad_thickness=_PAD),
        outline=outline, jaw=None, clamp_screws=None, room_aft=RoomAft(upper=None, lower=None),
    )  # fmt: skip


def kind_of(present: Bracket) -> BracketKind:
    """Return the usual bracket with the same holes; "own" for none of them."""
    if present.rows is None or present.lower is None:
        return "clamp-on"
    for kind in BRACKET_KINDS[:2]:
        usual = bracket(kind)
        if usual.rows is not None and usual.lower is not None and _holes(present) == _holes(usual):
            return kind
    return "own"


def _holes(held: Bracket) -> tuple[object, ...]:
    rows, lower = held.rows, held.lower
    if rows is None or lower is None:
        return ()
    slots = tuple(round(place, 6) for slot in lower.slots for place in slot)
    numbers = (rows.half_spacing, rows.row0_depth, rows.pitch, lower.half_spacing)
    return (*(round(number, 6) for number in numbers), rows.count, slots)


def flat_washer(published: FlatWasher) -> Washer:
    """Return a published washer as one to use."""
    return Washer(outer=published.outer, inner=published.inner, thickness=published.thickness, flat_cut=None)


def hardware(bolt: str = "1/2-13") -> Hardware:
    """Return published hardware for a bolt, with its close clearance hole and a usual socket."""
    listed = fasteners.washers(bolt)
    nut = fasteners.nut(fasteners.nut_names(bolt)[0], bolt)
    return Hardware(
        bolt=bolt, grade="A4-70", length=None, hole=fasteners.clearance_holes(bolt).close, inserted_from="outside",
        outside_washer=flat_washer(listed[1]), washer=flat_washer(_large(listed)), nut=nut.name, nut_sizes=None,
        head_sizes=None, backing_plate=None, spacer=None, wedge=0.0, socket=socket(nut.corners), spanner=None,
        torque=usual_torque(bolt), friction=BANDS["lubricated"], running_torque=None,
    )  # fmt: skip


def usual_torque(bolt: str) -> float:
    """Return a torque to start with [N m], which the motor's manual replaces.

    35 lb-ft for a 1/2 in bolt: the least of the usual 35 to 50, common practice, no source. For other bolts it grows with
    the cube of the diameter, which stretches them alike.
    """
    share = fasteners.bolt(bolt).diameter / (0.5 * _IN)
    return round(2 * 35 * NM_PER_LB_FT * share**3) / 2


def _large(listed: tuple[FlatWasher, ...]) -> FlatWasher:
    """Return the washer nearest to three bolt diameters across: common practice, no source."""
    bore = min(washer.inner for washer in listed)
    return min(listed, key=lambda washer: abs(washer.outer - 2.85 * bore))


def socket(corners: float) -> Socket:
    """Return a usual deep socket for a nut by its corners: its wall is about 2 mm."""
    return Socket(outer=round(corners + 4.2, 1), length=66.0)


def spanner(corners: float) -> Spanner:
    """Return a usual ring spanner for a nut by its corners: its wall is about 3 mm, and it turns by a point of twelve.

    It is as long as some eleven nuts: our assumption.
    """
    return Spanner(
        outer=round(corners + 6.5, 1), thickness=14.0, swing=30.0, length=round(11.5 * corners), handle=round(0.7 * corners)
    )


def flat_cut(fitted: Hardware, washer: Washer) -> float:
    """Return the least sensible distance of a flat cut from the washer's centre. The whole nut keeps its seat."""
    corners = fitted.inside_hexagon.corners or fitted.nut_hexagon.corners or 0.0
    least = corners / 2 + _FLAT_AIR
    steps = -(-least // (_IN / 32))
    cut = steps * _IN / 32
    return cut if washer.outer is None else min(cut, washer.outer / 2)


def plate_reach(outer: float, room: float) -> float:
    """Return the least reach of a backing plate from its bolts: beyond their washers by the clearance [mm]."""
    return outer / 2 + max(_PLATE_REACH, math.ceil(room * 2 - CLOSE) / 2)


def backing_plate(
    held: Bracket, pair: Literal["upper", "lower"], outer: float, *, along: float = 0.0, notch: float = 0.0, room: float = 0.0
) -> BackingPlate:
    """Return a backing plate under both washers of a pair.

    Args:
        outer: of the washers. along: how far up the face its lower back edge is chamfered, all through. notch: how far
            its lower edge is raised between the bolts; 0 for a plain rectangle. room: the advised clearance.
    """
    spread = held.rows if pair == "upper" else held.lower
    if spread is None:
        raise TypeError("a clamp-on bracket has no bolts, and no backing plate")
    reach, half = plate_reach(outer, room), spread.half_spacing
    low, wide = -reach, half + reach
    high = max(_PLATE_ABOVE, reach, low + notch + along + _PLATE_BAR)
    outline: tuple[tuple[float, float], ...] = ((-wide, low), (wide, low), (wide, high), (-wide, high))
    if notch > 0:
        near = half - reach
        outline = ((-wide, low), (-near, low), (-near, low + notch), (near, low + notch), (near, low), *outline[1:])
    return BackingPlate(
        outline=outline, thickness=PLATE_THICKNESS, relief=(along, PLATE_THICKNESS if along else 0.0),
        material="aluminium 5083", joins=BOLT_NAMES[:2] if pair == "upper" else BOLT_NAMES[2:],
    )  # fmt: skip


def motor(kind: BracketKind, name: str, offset: float = 0.0, bolts: tuple[Hardware, Hardware] | None = None) -> Mount:
    """Return a usual motor, hung by the middle hole at the standard drop; ``bolts``: upper and lower hardware."""
    bare = Mount(
        name=name, bracket=bracket("clamp-on"), leg=20 * _IN, mass=None, power_kw=None, set_back=0.0, centre_aft=None,
        thrust=None, shock=SHOCK, cowl_half_width=None, tilt=NO_TILT, row=None, upper_at=None, drop=None,
        offset=offset, upper_tilt=0.0, lower_tilt=0.0, upper_hardware=None, lower_hardware=None,
    )  # fmt: skip
    return on_bracket(bare, bracket(kind), bolts)


def on_bracket(mount: Mount, held: Bracket, bolts: tuple[Hardware, Hardware] | None = None) -> Mount:
    """Return a motor on another bracket. Its place, drop and hardware stay where the bracket still allows them."""
    if held.rows is None or held.lower is None:
        return replace(mount, bracket=held, row=None, upper_at=None, drop=None, upper_hardware=None, lower_hardware=None)
    upper, lower = bolts or (mount.upper_hardware or hardware(), mount.lower_hardware or hardware())
    return replace(
        mount, bracket=held, row=min(_ROW if mount.row is None else mount.row, held.rows.count - 1),
        upper_at=_UPPER_AT if mount.upper_at is None else mount.upper_at,
        drop=held.lower.slots[0][0] if mount.drop is None else mount.drop,
        upper_tilt=mount.upper_tilt or 0.0, lower_tilt=mount.lower_tilt or 0.0, upper_hardware=upper, lower_hardware=lower,
    )  # fmt: skip
