"""The ranges of every measure: values that are impossible, and values that are unlikely, each with its source.

An impossible value is refused. An unlikely one is accepted, and its owner is asked to read it again or to confirm it.
Lengths [mm], angles [degrees], masses [kg], torques [N m], forces [N], powers [kW].
"""

from __future__ import annotations

from functools import cache
from itertools import product

import msgspec

from geometry.design.boat import MOST_HULL, MOST_LEAN, MOST_LENGTH, MOST_MASS, MOST_POWER
from geometry.design.hardware import MOST_FRICTION, MOST_SWING, MOST_TORQUE
from geometry.design.motor import MOST_ANGLE, MOST_LOCK, MOST_ROWS, MOST_SHOCK
from geometry.design.validity import CLOSE, DEEP, FACE, LARGEST, LEAST, MOST_TILT, PART, SMALL
from geometry.tables.known import CHOICE, PRACTICE, inches, origin
from geometry.tables.trade import ASSUMPTIONS, DEFAULT_LIMITS, SPREADS, STANDARD_PATTERN

EIGHTH = inches(1 / 8)  # [mm] a pattern so near the standard one is most likely the standard one: our assumption
ROUNDED = 0.5  # [mm] a drawing in millimetres gives the standard pattern to the nearest 1 mm


class Range(msgspec.Struct, frozen=True):
    """The lowest and the highest value, and the source of both."""

    low: float
    high: float
    source: str = CHOICE

    def holds(self, value: float) -> bool:
        """Return whether a value is within it, its ends included; allows 1e-6."""
        return self.low - CLOSE <= value <= self.high + CLOSE

    @property
    def whose(self) -> str:
        """The source as an owner reads it: "common practice"."""
        return origin(self.source)


class Differs(msgspec.Struct, frozen=True):
    """The most by which a value usually differs from another measure's."""

    key: str
    most: float
    source: str

    @property
    def whose(self) -> str:
        """The source as an owner reads it."""
        return origin(self.source)


class Ranges(msgspec.Struct, frozen=True):
    """The ranges of one measure.

    Attributes:
        possible: beyond it a value is refused where it is kept, in a file too. The ends may be impossible themselves.
        likely: beyond it a value is unlikely; None where every possible value is as likely.
        standard: the value that a standard bracket has; None where there is none.
        differs: how far it usually is from another measure.
        like_before: whether its value may well be that of the length before it on the card.
    """

    possible: Range
    likely: Range | None = None
    standard: float | None = None
    differs: Differs | None = None
    like_before: bool = False


def _in(low: float, high: float, source: str = CHOICE) -> Range:
    """Return a range whose ends are given in inches."""
    return Range(inches(low), inches(high), source)


_SIZE = Range(LEAST, FACE)  # of anything on a boat that has a size
_REACH = Range(0.0, FACE)  # of anything that may also be missing
_PLACE = Range(-FACE, FACE)
_PART, _PART_OR_NONE = Range(LEAST, PART), Range(0.0, PART)
_PART_PLACE = Range(-PART, PART)
_THICK, _THIN = Range(LEAST, SMALL), Range(0.0, SMALL)
_LEAN = Range(-MOST_LEAN, MOST_LEAN)
_TILT = Range(-MOST_TILT, MOST_TILT)
_MASS, _HULL, _POWER = Range(LEAST, MOST_MASS), Range(LEAST, MOST_HULL), Range(LEAST, MOST_POWER)
_SECOND = Range(LEAST, 2 * FACE)
_DEPTHS, _RADII = _in(6, 14, PRACTICE), _in(0, 1.5, PRACTICE)
_WOOD = _in(1.25, 2.5, PRACTICE)
_POWERS = Range(1.5, 261.0)  # 2 to 350 hp
_FLOORS = Differs("well.floor_port", inches(1), PRACTICE)
_SHAFT = Differs("transom.height", inches(2.5), PRACTICE)  # shafts are made for heights of 15, 20, 25 and 30 in

PATTERNS: dict[str, Ranges] = {
    "transom.rake": Ranges(_LEAN, Range(5.0, 20.0, PRACTICE)),
    "transom.thickness.top": Ranges(_THICK, _WOOD),
    "transom.thickness.low": Ranges(_THICK, _WOOD, like_before=True),
    "transom.thickness.low_at": Ranges(_SIZE, _in(4, 20)),
    "transom.height": Ranges(_SIZE, _in(12.5, 33)),
    "transom.deadrise": Ranges(_LEAN, Range(0.0, 24.0)),
    "transom.skin_outside": Ranges(_THIN, Range(1.5, 6.5)),
    "transom.skin_inside": Ranges(_THIN, Range(1.5, 6.5), like_before=True),
    "transom.core_bears": Ranges(Range(LEAST, LARGEST)),
    "transom.top_cut": Ranges(_LEAN, Range(-5.0, 25.0)),
    "well.floor_port": Ranges(Range(LEAST, DEEP), _DEPTHS),
    "well.floor_starboard": Ranges(Range(LEAST, DEEP), _DEPTHS, differs=_FLOORS, like_before=True),
    "well.floor_width": Ranges(Range(CLOSE, 2 * FACE), _in(12, 60)),
    "well.top_width": Ranges(Range(CLOSE, 2 * FACE), _in(12, 60), like_before=True),
    "well.profile.*.0": Ranges(_PLACE, like_before=True),
    "well.profile.*.1": Ranges(Range(-DEEP, DEEP), _in(-6, 14), like_before=True),
    "well.fillet_radius": Ranges(_THIN, _RADII),
    "well.floor_rise": Ranges(_TILT, Range(-3.0, 6.0)),
    "well.length": Ranges(_SIZE, _in(6, 48)),
    "well.front_lean": Ranges(_TILT, Range(-10.0, 20.0)),
    "well.front_height": Ranges(_PLACE, _in(-6, 24)),
    "transom.second.diagonal": Ranges(_SECOND, _in(24, 120)),
    "well.second.outside": Ranges(_SECOND, _in(5, 16), like_before=True),
    "well.second.centre": Ranges(_SECOND, _in(5, 16), like_before=True),
    "well.second.washer_port": Ranges(_SECOND, _in(2, 14), like_before=True),
    "well.second.washer": Ranges(_SECOND, _in(2, 14), like_before=True),
    "well.second.washer_across": Ranges(_SECOND, Range(16.0, 80.0)),
    "well.second.diagonal": Ranges(_SECOND, _in(10, 64)),
    "inside_blocks.*.stands_out": Ranges(_SIZE, _in(0, 24), like_before=True),
    "outside_fittings.*.stands_out": Ranges(_SIZE, _in(0, 24), like_before=True),
    "outside_fittings.*.drill": Ranges(_PART, Range(3.0, 100.0)),
    "old_holes.*.drill": Ranges(_PART, Range(3.0, 100.0)),
    "old_holes.*.across": Ranges(_PLACE, _in(-40, 40)),
    "old_holes.*.down": Ranges(_PLACE, _in(0, 24)),
    "old_holes.*.diameter": Ranges(_PART, Range(3.0, 40.0)),
    "old_holes.*.plug_diameter": Ranges(_PART, Range(6.0, 64.0)),
    "old_holes.*.second.inside": Ranges(_SECOND, _in(0, 24), like_before=True),
    "boat.plate.power_kw": Ranges(_POWER, _POWERS),
    "boat.plate.motor_mass": Ranges(_MASS, Range(10.0, 700.0)),
    "boat.plate.total_mass": Ranges(_MASS, Range(80.0, 2500.0)),
    "boat.plate.persons_mass": Ranges(_MASS),
    "boat.length": Ranges(Range(LEAST, MOST_LENGTH), _in(7 * 12, 32 * 12)),
    "boat.beam": Ranges(Range(LEAST, 2 * FACE), _in(3 * 12, 10 * 12)),
    "boat.transom_width": Ranges(Range(LEAST, 2 * FACE), _in(2.5 * 12, 10 * 12), like_before=True),
    "boat.hull_mass": Ranges(_HULL),
    "boat.displacement": Ranges(_HULL),
    "boat.old_motor.power_kw": Ranges(_POWER),
    "boat.old_motor.mass": Ranges(_MASS),
    "boat.old_motor.centre_aft": Ranges(_REACH),
    "boat.afloat.top_edge": Ranges(_PLACE, _in(4, 30)),
    "boat.afloat.scupper": Ranges(_PLACE, _in(-4, 24)),
    "boat.afloat.drain": Ranges(_PLACE, _in(-4, 24)),
    "mounts.*.leg": Ranges(_SIZE, _in(15, 31, PRACTICE), differs=_SHAFT),
    "mounts.*.power_kw": Ranges(_POWER, _POWERS),
    "mounts.*.set_back": Ranges(_REACH, _in(0, 30)),
    "mounts.*.mass": Ranges(_MASS, Range(10.0, 350.0)),
    "mounts.*.offset": Ranges(_PLACE),
    "mounts.*.centre_aft": Ranges(_REACH, _in(6, 20)),
    "mounts.*.cowl_half_width": Ranges(_SIZE, _in(4, 18)),
    "mounts.*.tilt.tube.*": Ranges(_PLACE, _in(-2, 20)),
    "mounts.*.tilt.most": Ranges(Range(LEAST, MOST_ANGLE), Range(40.0, 90.0)),
    "mounts.*.tilt.lock": Ranges(Range(0.0, MOST_LOCK), Range(20.0, 60.0)),
    "mounts.*.tilt.points.*.radius": Ranges(_SIZE, _in(4, 60)),
    "mounts.*.tilt.points.*.angle": Ranges(Range(-MOST_ANGLE, MOST_ANGLE), Range(-90.0, 90.0)),
    "mounts.*.tilt.points.*.half_width": Ranges(_REACH, _in(0, 18)),
    "mounts.*.thrust": Ranges(Range(0.0, LARGEST)),
    "mounts.*.shock": Ranges(Range(LEAST, MOST_SHOCK)),
    "mounts.*.upper_at": Ranges(Range(0.0, FACE)),
    "mounts.*.drop": Ranges(_SIZE),
    "mounts.*.row": Ranges(Range(1, MOST_ROWS)),
    "mounts.*.upper_tilt": Ranges(_TILT),
    "mounts.*.lower_tilt": Ranges(_TILT),
    "inside_blocks.*.outline.*.0": Ranges(_PLACE, like_before=True),
    "inside_blocks.*.outline.*.1": Ranges(_PLACE, like_before=True),
    "outside_fittings.*.outline.*.0": Ranges(_PLACE, like_before=True),
    "outside_fittings.*.outline.*.1": Ranges(_PLACE, like_before=True),
    "mounts.*.bolts.backing_plate.outline.*.0": Ranges(_PART_PLACE, like_before=True),
    "mounts.*.bolts.backing_plate.outline.*.1": Ranges(_PART_PLACE, like_before=True),
    "mounts.*.bracket.outline.*.0": Ranges(_PLACE, like_before=True),
    "mounts.*.bracket.outline.*.1": Ranges(_PLACE, like_before=True),
    "mounts.*.bracket.rows.half_spacing": Ranges(_PART, _in(3, 8), STANDARD_PATTERN.upper_half_spacing),
    "mounts.*.bracket.rows.row0_depth": Ranges(_PART_OR_NONE, _in(1, 4)),
    "mounts.*.bracket.rows.pitch": Ranges(_PART, _in(0.6, 1.5), STANDARD_PATTERN.pitch),
    "mounts.*.bracket.rows.count": Ranges(Range(1, MOST_ROWS), Range(2, 6)),
    "mounts.*.bracket.rows.diameter": Ranges(_PART, Range(8.0, 18.0)),
    "mounts.*.bracket.rows.pad_thickness": Ranges(_PART_OR_NONE, Range(3.0, 40.0)),
    "mounts.*.bracket.lower.half_spacing": Ranges(_PART, _in(3, 8), STANDARD_PATTERN.lower_half_spacing),
    "mounts.*.bracket.lower.diameter": Ranges(_PART, Range(8.0, 20.0), like_before=True),
    "mounts.*.bracket.lower.pad_thickness": Ranges(_PART_OR_NONE, Range(3.0, 40.0), like_before=True),
    "mounts.*.bracket.lower.slots.*.0": Ranges(_SIZE, _in(4, 14), STANDARD_PATTERN.slot[0]),
    "mounts.*.bracket.lower.slots.*.1": Ranges(_SIZE, _in(4, 16), like_before=True),
    "mounts.*.bracket.clamp_screws.depth": Ranges(_PART, _in(1, 8)),
    "mounts.*.bracket.clamp_screws.half_spacing": Ranges(_PART, _in(1, 8)),
    "mounts.*.bracket.clamp_screws.pads.*": Ranges(_PART_OR_NONE, _in(0, 1.5), like_before=True),
    "mounts.*.bracket.jaw.*": Ranges(_PART, _in(0.25, 5), like_before=True),
    "mounts.*.bracket.room_aft.upper": Ranges(_REACH),
    "mounts.*.bracket.room_aft.lower": Ranges(_REACH, like_before=True),
    "mounts.*.second.diagonal": Ranges(_SECOND, _in(8, 20)),
    **{f"mounts.*.second.pilot_{pair}_{side}": Ranges(_PLACE, _in(-1, 12))
       for pair in ("upper", "lower") for side in ("port", "starboard")},
    **{f"mounts.*.second.through_{pair}_{side}": Ranges(_SECOND, _WOOD)
       for pair in ("upper", "lower") for side in ("port", "starboard")},
    **{f"mounts.*.drilled.{pair}_{side}.{end}.*": Ranges(_PLACE)
       for pair in ("upper", "lower") for side in ("port", "starboard") for end in ("outer", "inner")},
    **{f"mounts.*.drilled.{pair}_{side}.{size}": Ranges(_THICK)
       for pair in ("upper", "lower") for side in ("port", "starboard")
       for size in ("diameter", "washer", "flat_cut", "socket")},
    "mounts.*.bolts.hole": Ranges(_THICK),
    "mounts.*.bolts.length": Ranges(_PART),
    "mounts.*.bolts.washer.outer": Ranges(_THICK, Range(20.0, 80.0)),
    "mounts.*.bolts.washer.inner": Ranges(_THICK, Range(8.0, 18.0)),
    "mounts.*.bolts.washer.thickness": Ranges(_THICK, Range(1.0, 8.0)),
    "mounts.*.bolts.washer.flat_cut": Ranges(_THICK),
    "mounts.*.bolts.outside_washer.outer": Ranges(_THICK, Range(16.0, 80.0)),
    "mounts.*.bolts.outside_washer.inner": Ranges(_THICK, Range(8.0, 18.0)),
    "mounts.*.bolts.outside_washer.thickness": Ranges(_THICK, Range(1.0, 8.0)),
    "mounts.*.bolts.socket.outer": Ranges(_THICK, Range(16.0, 40.0)),
    "mounts.*.bolts.socket.length": Ranges(_PART, Range(25.0, 200.0)),
    "mounts.*.bolts.spanner.outer": Ranges(_THICK, Range(18.0, 45.0)),
    "mounts.*.bolts.spanner.thickness": Ranges(_THICK, Range(5.0, 25.0)),
    "mounts.*.bolts.spanner.length": Ranges(_PART, Range(80.0, 400.0)),
    "mounts.*.bolts.spanner.handle": Ranges(_THICK, Range(6.0, 35.0)),
    "mounts.*.bolts.spanner.swing": Ranges(Range(LEAST, MOST_SWING), Range(10.0, 90.0)),
    "mounts.*.bolts.nut_sizes.flats": Ranges(_THICK, Range(11.0, 30.0)),
    "mounts.*.bolts.nut_sizes.height": Ranges(_THICK, Range(6.0, 22.0)),
    "mounts.*.bolts.head_sizes.flats": Ranges(_THICK, Range(11.0, 30.0)),
    "mounts.*.bolts.head_sizes.height": Ranges(_THICK, Range(4.0, 15.0)),
    "mounts.*.bolts.spacer.outer": Ranges(_THICK, Range(12.0, 60.0)),
    "mounts.*.bolts.spacer.length": Ranges(_THICK, Range(1.0, 100.0)),
    "mounts.*.bolts.backing_plate.thickness": Ranges(_THICK, Range(2.0, 16.0)),
    "mounts.*.bolts.backing_plate.relief.0": Ranges(_PART_OR_NONE),
    "mounts.*.bolts.backing_plate.relief.1": Ranges(_PART_OR_NONE, like_before=True),
    "mounts.*.bolts.torque": Ranges(Range(0.0, MOST_TORQUE)),
    "mounts.*.bolts.running_torque": Ranges(Range(0.0, MOST_TORQUE)),
    "mounts.*.bolts.friction.0": Ranges(Range(LEAST, MOST_FRICTION)),
    "mounts.*.bolts.friction.1": Ranges(Range(LEAST, MOST_FRICTION)),
    "mounts.*.bolts.wedge": Ranges(_TILT),
    **{f"assumptions.{name}": Ranges(Range(usual.least, usual.most)) for name, usual in ASSUMPTIONS.items()},
    **{f"limits.{name}.*": Ranges(_THIN) for name in DEFAULT_LIMITS},
    **{f"spreads.{name}": Ranges(Range(usual.least, usual.most)) for name, usual in SPREADS.items()},
}
"""The ranges by the keys of measures. "*" is any number, and "bolts" the hardware of either pair."""
_HARDWARE = ("upper_hardware", "lower_hardware")


@cache
def pattern_of(key: str) -> str:
    """Return the row of a measure.

    Raises:
        KeyError: the table has none for it.
    """
    steps = ["bolts" if step in _HARDWARE else step for step in key.split(".")]
    ways = [(step, "*") if step.isdigit() else (step,) for step in steps]
    for pattern in map(".".join, product(*ways)):
        if pattern in PATTERNS:
            return pattern
    raise KeyError(key)


def ranges_of(key: str) -> Ranges:
    """Return the ranges of a measure.

    Raises:
        KeyError: the table has no row for it.
    """
    return PATTERNS[pattern_of(key)]
