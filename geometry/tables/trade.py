"""The trade's numbers: no standard has them, or the owner may choose others."""

from __future__ import annotations

import msgspec

from geometry.tables.known import CHOICE, MEMORY, PRACTICE, SECONDARY, TEXTBOOK, inches


class FourBolts(msgspec.Struct, frozen=True):
    """A four-bolt bracket: a column of upper holes at each side, a slot below each [mm].

    Attributes:
        upper_half_spacing: centreline to an upper hole.
        lower_half_spacing: centreline to a lower slot.
        row0_depth: bracket hook to the 1st hole from the top.
        pitch: from each upper hole to the next.
        count: number of upper holes.
        slot: highest and lowest place of a lower bolt's centre, below the 1st hole.
        source: where the numbers are from.
    """

    upper_half_spacing: float
    lower_half_spacing: float
    row0_depth: float
    pitch: float
    count: int
    slot: tuple[float, float]
    source: str


STANDARD_PATTERN = FourBolts(
    upper_half_spacing=inches(6.4375),  # pair 12-7/8 in apart
    lower_half_spacing=inches(4.9375),  # pair 9-7/8 in apart
    row0_depth=inches(2),
    pitch=inches(0.75),
    count=5,
    slot=(inches(8), inches(11)),
    source=PRACTICE,
)

PLATE_HEIGHT = (0.0, 25.0)  # [mm] AV plate above the hull's bottom, level to an inch: common practice

SHAFTS = (inches(15), inches(20), inches(25))  # [mm] nominal, hook to AV plate: common practice
SHAFT_OVER = inches(1)  # [mm] a motor's own shaft length is up to this longer than its nominal one: common practice
CABLE_ROOM = (inches(20), inches(24))  # [mm] clear at one end of the tilt tube, for a steering cable: common practice
IN_WATER = 0.9  # of length and beam, on the water when at rest: our assumption
WATER = 1e-6  # [kg/mm3] fresh water; salt water carries more
NEAR_WATER = inches(1)  # [mm] a scupper nearer to the water lets waves in: our assumption


class DefaultLimit(msgspec.Struct, frozen=True):
    """A limit of a new design, until its owner chooses another.

    Attributes:
        least: beyond this a value is fouled.
        advised: from here on it is clear; where ``least`` is greater, less is better.
        source: where the limit is from. name: what it limits, in a list.
    """

    least: float
    advised: float
    source: str
    name: str


DEFAULT_LIMITS = {
    "clearance": DefaultLimit(0.0, inches(1 / 8), CHOICE, "clearances"),  # [mm] 3 on a boat in mm
    "edge_diameters": DefaultLimit(1.5, 4.0, f"NDS 12.5.1C, bolts in timber, unloaded and loaded edge; {MEMORY}", "edges"),
    "wood_between_diameters": DefaultLimit(0.5, 1.0, CHOICE, "wood to old holes"),
    "seat_angle": DefaultLimit(2.86, 1.0, f"structural bolting, 1 in 20 under a nut; {MEMORY}", "seats"),  # [degrees]
    "slot_end": DefaultLimit(0.0, 0.8, CHOICE, "slot ends"),  # [mm]
    "top_edge": DefaultLimit(44.45, 50.8, PRACTICE, "holes below the top edge"),  # [mm] 1-3/4 in, 2 in advised
    "socket_room": DefaultLimit(0.0, inches(1), CHOICE, "room in front of a socket"),  # [mm] to get it off again
    "feed": DefaultLimit(0.0, inches(1 / 2), CHOICE, "room to insert a bolt"),  # [mm] to spare
    "outer_washer": DefaultLimit(1.5, 1.85, CHOICE, "outer washers"),  # of the slot's width; 1.06 in over 9/16 in is usual
    "motors": DefaultLimit(0.0, 25.0, CHOICE, "gaps between motors"),  # [mm] between brackets, and between cowls
    "tilt_room": DefaultLimit(0.0, 25.0, CHOICE, "room to tilt"),  # [mm] ahead of a motor that tilts
    "lock_room": DefaultLimit(0.0, 25.0, CHOICE, "room to turn"),  # [mm] to each side of a motor that turns
    "plug_wall": DefaultLimit(0.0, inches(1 / 4), PRACTICE, "walls of plugs"),  # [mm] of plug, or of wood next to it
    "washer_stiff": DefaultLimit(0.4, 0.6, CHOICE, "stiffness of washers"),  # of an eighth of a washer's width
    "clamp": DefaultLimit(1.0, 0.75, f"{TEXTBOOK}, {SECONDARY}", "clamp"),  # of the proof load; 0.75 where undone again
    "pressure": DefaultLimit(1.67, 1.0, CHOICE, "pressure on the core"),  # of what it supports: 1500 psi easy, 2500 watched
    "joint": DefaultLimit(1.0, 0.75, CHOICE, "pull on the bolts"),  # of the clamp that is left
}

LESS_IS_BETTER = ("seat_angle", "clamp", "pressure", "joint")
METRIC_LIMITS = {"clearance": (0.0, 3.0), "socket_room": (0.0, 25.0), "feed": (0.0, 12.0)}
"""Limits of a new boat in mm, instead of eighths and halves of an inch [mm]; our assumption."""
METRIC_CLEARANCE = METRIC_LIMITS["clearance"]
FIRST_CLEARANCE = (0.0, 2.0)  # [mm] of files of number 1; our assumption


class UsualValue(msgspec.Struct, frozen=True):
    """A value that a check counts with where nobody knows better, until the owner chooses another.

    Attributes:
        value: of a new design. source: where it is from. name: what it is, in a list.
        least, most: the range that the owner may choose from.
    """

    value: float
    source: str
    name: str
    least: float
    most: float


ASSUMPTIONS = {
    "thrust_share": UsualValue(0.55, CHOICE, "thrust share", 0.05, 1.0),  # of the shaft's power, in the propeller's stream
    "reverse_share": UsualValue(0.4, PRACTICE, "reverse share", 0.0, 1.0),  # of the forward thrust
    "settling": UsualValue(0.3, PRACTICE, "settling", 0.0, 0.9),  # of the clamp, lost once wood and washers have settled
    "drag_share": UsualValue(0.5, CHOICE, "drag share", 0.0, 1.0),  # of a lock nut's highest published drag
    "shaft_depth": UsualValue(inches(6), PRACTICE, "propeller depth", 0.0, inches(24)),  # [mm] its shaft below the AV plate
    "centre_aft": UsualValue(inches(12), PRACTICE, "usual balance point", 0.0, inches(40)),  # [mm] aft: 10 to 16 in
    "reverse_edge": UsualValue(inches(0.5), CHOICE, "tipping edge", 0.0, inches(6)),  # [mm] below the transom's top
    "epoxy": UsualValue(55.0, CHOICE, "epoxy", 1.0, 200.0),  # [N/mm2] cured, in a filled hole: 8,000 psi of 6,000 to 10,000
    "spread_angle": UsualValue(45.0, CHOICE, "spread angle", 0.0, 75.0),  # degrees, in skin and backing plate
    "nut_bearing": UsualValue(0.96, CHOICE, "bearing of a nut", 0.5, 1.2),  # of its flats, on the washer: 0.72 of 0.75 in
    "washer_spread": UsualValue(5.0, CHOICE, "spread of a bent washer", 0.0, 20.0),  # of its thickness, beyond that bearing
    "wide_swing": UsualValue(60.0, CHOICE, "advised swing", 0.0, 360.0),  # degrees of a wrench: a side of a hexagon
    "motor_centres": UsualValue(inches(26), PRACTICE, "middles of motors", 0.0, inches(60)),  # [mm] apart
    "large_centres": UsualValue(inches(28.5), PRACTICE, "middles of large motors", 0.0, inches(60)),  # [mm] above 150 hp
}

MOST_SPREAD = 60.0  # [mm] or degrees: our assumption

SPREADS = {
    "tape": UsualValue(0.8, CHOICE, "tape reading", 0.0, MOST_SPREAD),  # [mm]
    "well": UsualValue(1.5, CHOICE, "reading in the well", 0.0, MOST_SPREAD),  # [mm]
    "rake": UsualValue(0.5, CHOICE, "angle reading", 0.0, MOST_SPREAD),  # degrees
    "print": UsualValue(0.3, CHOICE, "print", 0.0, MOST_SPREAD),  # [mm]
    "mark": UsualValue(0.5, CHOICE, "mark", 0.0, MOST_SPREAD),  # [mm]
    "drill_angle": UsualValue(1.0, CHOICE, "drill angle", 0.0, MOST_SPREAD),  # degrees
    "washer": UsualValue(0.75, PRACTICE, "washer’s mark", 0.0, MOST_SPREAD),  # [mm] 0.03 in, where a washer rocks
    "freehand": UsualValue(inches(0.045), CHOICE, "hole drilled freehand", 0.0, MOST_SPREAD),  # [mm] across and up, as below
    "punched": UsualValue(inches(0.03), CHOICE, "hole from a punched dot", 0.0, MOST_SPREAD),  # [mm]
    "block": UsualValue(inches(0.015), CHOICE, "hole with a guide block", 0.0, MOST_SPREAD),  # [mm]
    "jig": UsualValue(inches(0.005), CHOICE, "hole through the bracket", 0.0, MOST_SPREAD),  # [mm]
}
"""One standard deviation each: a new design's."""


def is_default(name: str, span: tuple[float, float]) -> bool:
    """Return whether a limit is that of a new design in either unit, now or in files of number 1."""
    limit = DEFAULT_LIMITS[name]
    others = [METRIC_LIMITS[name]] if name in METRIC_LIMITS else []
    others += [FIRST_CLEARANCE] if name == "clearance" else []
    return span in ((limit.least, limit.advised), *others)
