"""One table of all that is measured, in the order in which a person with a tape goes round the boat.

Card, dimensions, readings, spreads, help and advice look things up here by key. A measure speaks as a person does:
depths are positive downward, distances to port or starboard from the centreline; lengths [mm], angles [degrees], masses
[kg], torques [N m], forces [N], pressures [N/mm2], powers [kW].
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any, Literal

import msgspec

from geometry.design.sense import CLOSE, NonsenseError, Number, above_zero, known
from geometry.tables import trade

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.boat import Well
    from geometry.design.sense import Points
    from geometry.design.whole import Design

SECTIONS = (
    "Transom", "Inside top edge", "Well", "Old holes", "Motor and bracket", "Upper holes", "Drop and row", "Hardware",
)  # fmt: skip
"""The card's sections, numbered from 1."""

Kind = Literal["length", "angle", "mass", "count", "shape", "torque", "force", "pressure", "power", "number"]


class Measure(msgspec.Struct, frozen=True):
    """One thing to measure.

    Attributes:
        key: its place in the design, or a name of its own where the design holds it in another form.
        section: 1 to 8, see `SECTIONS`.
        name: what a person calls it. how: how to take it. exact: how exactly it is needed [mm] or [degrees],
            0 where nothing is said of it.
        kind: "shape" stands for a whole outline, which has no single value.
        spread: which of the design's spreads it has where nothing better is known.
        get: value, None where not measured. set: a new design with that value.
        depth: for old holes and the like: a hole's edge can be read instead of its centre.
        free: no measurement but a decision (a drop, a row), or read nowhere on this boat: never a guess.
    """

    key: str
    section: int
    name: str
    how: str
    exact: float
    kind: Kind
    spread: Literal["tape", "well", "rake"]
    get: Callable[[Design], Number]
    set: Callable[[Design, float], Design]
    edge_reading: bool = False
    free: bool = False


def at_path(value: Any, path: str) -> Any:
    """Return what lies at a dotted path such as "mounts.0.bracket.rows.pitch"; None where the path ends early."""
    for part in path.split("."):
        if value is None:
            return None
        value = value[int(part)] if part.isdigit() else getattr(value, part)
    return value


def put_path(value: Any, path: str, new: Any) -> Any:
    """Return ``value`` with ``new`` at a dotted path; everything else is shared.

    Raises:
        NonsenseError: the new value makes no sense there.
    """
    part, _, rest = path.partition(".")
    if part.isdigit():
        index = int(part)
        changed = put_path(value[index], rest, new) if rest else new
        return (*value[:index], changed, *value[index + 1 :])
    changed = put_path(getattr(value, part), rest, new) if rest else new
    return msgspec.structs.replace(value, **{part: changed})


def _plain(
    key: str, section: int, name: str, how: str, exact: float, *, kind: Kind = "length",
    spread: Literal["tape", "well", "rake"] = "tape", sign: float = 1.0, edge: bool = False, free: bool = False,
    path: str | None = None,
) -> Measure:  # fmt: skip
    """Return the measure of a number that the design holds at ``path`` (the key itself if not given)."""
    place = path or key

    def get(design: Design) -> Number:
        value = at_path(design, place)
        return None if value is None else sign * value

    def put(design: Design, value: float) -> Design:
        number = round(value) if kind == "count" else sign * value
        changed: Design = put_path(design, place, number)
        return changed

    return Measure(key, section, name, how, exact, kind, spread, get, put, edge, free)


def _shape(key: str, section: int, name: str, how: str, spread: Literal["tape", "well", "rake"]) -> Measure:
    """Return the measure that stands for a whole outline."""

    def none(_: Design) -> Number:
        return None

    def refuse(_: Design, __: float) -> Design:
        raise NonsenseError(f"{name} is a shape, drawn corner by corner")

    return Measure(key, section, name, how, 2.0, "shape", spread, none, refuse)


def measures(design: Design) -> tuple[Measure, ...]:
    """Return everything that can be measured on this design, in walking order."""
    kept: tuple[Measure, ...] | None = design.__dict__.get("measures")  # several views ask, at every move of a hand
    if kept is None:
        kept = design.__dict__["measures"] = _all(design)
    return kept


def _all(design: Design) -> tuple[Measure, ...]:
    found = [*_transom(design), *_well(design), *_boat()]
    for index in range(len(design.old_holes)):
        found += _old_hole(design, index)
    for index in range(len(design.mounts)):
        found += _mount(design, index)
    return tuple(sorted(found, key=lambda measure: measure.section))


def measure(design: Design, key: str) -> Measure | None:
    """Return one measure by its key."""
    return next((found for found in measures(design) if found.key == key), None)


def name_of(design: Design, key: str) -> str:
    """Return what a person calls the thing behind a key, for a sentence."""
    found = measure(design, key)
    if found is not None:
        return found.name[0].lower() + found.name[1:]
    return key.rsplit(".", 1)[-1].replace("_", " ")


def _transom(design: Design) -> list[Measure]:
    found = [
        _plain("transom.rake", 1, "Rake",
               "Lay a level or a phone on a straight batten up the face. Zero it on the hull's level line.", 0.5,
               kind="angle", spread="rake"),
        _plain("transom.thickness.top", 1, "Thickness at the top", "Square to the face, just below the top edge.", 1.0),
        _plain("transom.thickness.low", 1, "Thickness lower down", "Square to the face, through an old hole or by calipers.",
               1.0),
        _plain("transom.thickness.low_at", 1, "Lower thickness taken at", "How far below the top edge, along the face.", 5.0,
               sign=-1.0),
        _plain("transom.height", 1, "Transom height", "Plumb, from the top edge to the hull's bottom at the centreline.", 3.0),
        _plain("transom.deadrise", 1, "Deadrise", "Slope of the hull's bottom athwart, at the transom.", 1.0, kind="angle",
               spread="rake"),
        _plain("transom.skin_outside", 1, "Outer skin", "Seen in an old hole.", 0.5),
        _plain("transom.skin_inside", 1, "Inner skin", "Seen in an old hole.", 0.5),
        _plain("transom.core_bears", 1, "Core bears", "Pressure under a washer, where you know better than the table.", 0.0,
               kind="pressure", free=True),
        _shape("transom.outline", 1, "Transom outline", "Corner by corner, from the centreline and the top edge.", "tape"),
    ]  # fmt: skip
    cut = design.transom.top_cut
    found.append(
        Measure(
            "transom.top_cut", 2, "Top cut", "Bridge a square over the top: from square to the face.", 0.5, "angle",
            "rake", lambda d: float(d.transom.top_cut) if isinstance(d.transom.top_cut, float | int) else None,
            lambda d, value: put_path(d, "transom.top_cut", value), free=isinstance(cut, str),
        )  # fmt: skip
    )
    return found


def _well(design: Design) -> list[Measure]:
    found = [
        _shape(f"inside_blocks.{i}.outline", 3, f"Outline of {block.name}", "Corner by corner, inside.", "well")
        for i, block in enumerate(design.inside_blocks)
    ]
    found += [
        _plain(f"inside_blocks.{i}.stands_out", 3, f"How far {block.name} stands out", "From the inner face.", 1.0,
               spread="well")
        for i, block in enumerate(design.inside_blocks) if block.stands_out is not None
    ]  # fmt: skip
    found += [
        _shape(f"outside_fittings.{i}.outline", 1, f"Outline of {fitting.name}", "Corner by corner, outside.", "tape")
        for i, fitting in enumerate(design.outside_fittings)
    ]
    if design.well is None:
        return found
    edge = "inside top edge" if design.well.well_from == "inside top edge" else "datum"
    how = f"From the {edge}, down along the inside of the transom, under the lower bolt."
    if len(design.well.profile) == 4:
        found += [
            Measure("well.floor_port", 3, "Floor depth, port", how, 1.5, "length", "well",
                    lambda d: _floor(d, -1), lambda d, value: _with_floor(d, -1, value)),
            Measure("well.floor_starboard", 3, "Floor depth, starboard", how, 1.5, "length", "well",
                    lambda d: _floor(d, 1), lambda d, value: _with_floor(d, 1, value)),
            Measure("well.floor_width", 3, "Width at the floor", "Athwart, along the floor.", 5.0, "length", "well",
                    lambda d: _width(d, 1, 2), lambda d, value: _with_width(d, 1, 2, value)),
            Measure("well.top_width", 3, "Width at the top", "Athwart, at the top of the well's sides.", 5.0, "length",
                    "well", lambda d: _width(d, 0, 3), lambda d, value: _with_width(d, 0, 3, value)),
        ]  # fmt: skip
    else:
        for i in range(len(design.well.profile)):
            found += [
                _plain(f"well.profile.{i}.0", 3, f"Well corner {i + 1}, across", "From the centreline.", 3.0, spread="well"),
                _plain(f"well.profile.{i}.1", 3, f"Well corner {i + 1}, depth", f"From the {edge}.", 1.5, spread="well",
                       sign=-1.0),
            ]  # fmt: skip
    return [
        *found,
        _shape("well.profile", 3, "Well profile", "Corner by corner, inside.", "well"),
        _plain("well.fillet_radius", 3, "Corner radius",
               "Slide a washer down until it rocks, or try coins or cards in the corner.", 1.5, spread="well"),
        _plain("well.floor_rise", 3, "Floor slope", "A level fore and aft on the floor; up going forward counts as plus.", 0.5,
               kind="angle", spread="rake"),
        _plain("well.length", 3, "Length forward", "Along the floor, from the transom to the front.", 5.0),
        _plain("well.front_lean", 3, "Lean of the front", "From plumb; top further aft counts as plus.", 2.0, kind="angle",
               spread="rake"),
    ]  # fmt: skip


def _boat() -> list[Measure]:
    """What the boat's plate and papers say; none of it has to be known."""
    return [
        _plain("boat.plate.power_kw", 5, "Plate, power", "On the boat's capacity plate, which comes before any rule.", 0.0,
               kind="power"),
        _plain("boat.plate.motor_mass", 5, "Plate, motor", "Heaviest motor that it allows, if it says.", 5.0, kind="mass"),
        _plain("boat.plate.total_mass", 5, "Plate, all in all", "Persons, motor and gear together on the plate.", 5.0,
               kind="mass"),
        _plain("boat.plate.persons_mass", 5, "Plate, persons", "Weight of persons on the plate.", 5.0, kind="mass", free=True),
        _plain("boat.length", 5, "Boat's length", "Over the deck in a straight line, no rails, brackets or handles.", 12.0),
        _plain("boat.beam", 5, "Boat's beam", "Between the outer sides at the widest, without rubbing strakes.", 12.0),
        _plain("boat.transom_width", 5, "Transom's width",
               "At its widest; where that is under half the beam, the widest place of the hindmost quarter.", 12.0),
        _plain("boat.old_motor.power_kw", 5, "Old motor, power", "Of the motor that hung there before.", 0.0, kind="power",
               free=True),
        _plain("boat.old_motor.mass", 5, "Old motor, mass", "Of the motor that hung there before, from its papers.", 5.0,
               kind="mass", free=True),
        _plain("boat.old_motor.centre_aft", 5, "Old motor, balance point", "How far aft of the transom it was.", 25.0,
               free=True),
    ]  # fmt: skip


def _old_hole(design: Design, index: int) -> list[Measure]:
    hole = design.old_holes[index]
    key = f"old_holes.{index}"
    return [
        _plain(f"{key}.across", 4, f"{_capital(hole.name)}, across", "From the centreline; starboard counts as plus.", 0.8,
               edge=True, path=f"{key}.at.0"),
        _plain(f"{key}.down", 4, f"{_capital(hole.name)}, down", "From the top edge, along the face.", 0.8, sign=-1.0,
               edge=True, path=f"{key}.at.1"),
        _plain(f"{key}.diameter", 4, f"{_capital(hole.name)}, diameter", "Across the hole.", 0.5),
        *([_plain(f"{key}.plug_diameter", 4, f"{_capital(hole.name)}, plug", "Across the plug.", 1.0)]
          if hole.state == "plugged" else []),
    ]  # fmt: skip


def _mount(design: Design, index: int) -> list[Measure]:
    mount, key = design.mounts[index], f"mounts.{index}"
    found = [
        _plain(f"{key}.leg", 5, "Leg", "From the saddle to the anti-ventilation plate, motor upright.", 3.0),
        _plain(f"{key}.power_kw", 5, "Motor's power", "From the motor's plate or papers.", 0.0, kind="power"),
        _plain(f"{key}.mass", 5, "Motor's mass", "From the motor's plate or papers.", 5.0, kind="mass"),
        _plain(f"{key}.set_back", 5, "Set-back", "How far the bracket stands aft of the transom.", 5.0),
        _plain(f"{key}.offset", 6, "Offset", "Bracket's centre from the centreline; starboard counts as plus.", 0.8,
               free=True),
        *_bracket_corners(design, f"{key}.bracket.outline"),
    ]  # fmt: skip
    balance = _plain(f"{key}.centre_aft", 5, "Balance point",
                     "How far aft of the transom; 10 to 16 in is common, and 12 in stands for it while it is empty.",
                     25.0)  # fmt: skip
    if mount.bracket.rows is None:
        held = mount.bracket
        return [*found, balance, *_clamps(f"{key}.bracket", screws=held.clamp_screws is not None, jaw=held.jaw is not None)]
    found += [
        _plain(f"{key}.bracket.rows.half_spacing", 5, "Upper holes, half spacing", "From the bracket's centre.", 0.4),
        _plain(f"{key}.bracket.rows.row0_depth", 5, "Top row below the saddle", "Centre of the top hole.", 0.8),
        _plain(f"{key}.bracket.rows.pitch", 5, "Pitch of the rows", "Centre to centre.", 0.2),
        _plain(f"{key}.bracket.rows.count", 5, "Number of rows", "Upper holes on one side.", 0, kind="count"),
        _plain(f"{key}.bracket.rows.pad_thickness", 5, "Upper pad", "Bracket's thickness at the upper holes.", 1.0),
        _plain(f"{key}.bracket.rows.diameter", 5, "Upper holes, diameter", "Across a hole of the bracket.", 0.2),
        _plain(f"{key}.bracket.lower.half_spacing", 5, "Lower slots, half spacing", "From the bracket's centre.", 0.4),
        _plain(f"{key}.bracket.lower.pad_thickness", 5, "Lower pad", "Bracket's thickness at the lower slots.", 1.0),
        _plain(f"{key}.bracket.lower.diameter", 5, "Lower slots, width", "Across a slot of the bracket.", 0.2),
        _plain(f"{key}.upper_at", 6, "Upper holes, down", "From the top edge, along the face, to the centre.", 0.8,
               sign=-1.0, free=True),
        _plain(f"{key}.upper_tilt", 6, "Upper tilt", "From square to the face; inner end up counts as plus.", 0.5,
               kind="angle", spread="rake", free=True),
        _plain(f"{key}.drop", 7, "Drop", "Upper holes to lower holes, centre to centre, along the face.", 0.8, free=True),
        _plain(f"{key}.row", 7, "Row", "Which hole of the bracket takes the upper bolts, 0 at the top.", 0, kind="count",
               free=True),
        _plain(f"{key}.lower_tilt", 7, "Lower tilt", "From square to the face; inner end up counts as plus.", 0.5,
               kind="angle", spread="rake", free=True),
    ]  # fmt: skip
    for number, _ in enumerate(mount.bracket.lower.slots if mount.bracket.lower else ()):
        slot = f"{key}.bracket.lower.slots.{number}"
        found += [
            _plain(f"{slot}.0", 5, f"Slot {number + 1}, highest", "Highest place of a bolt's centre, below the top row.", 0.4),
            _plain(f"{slot}.1", 5, f"Slot {number + 1}, lowest", "Lowest place of a bolt's centre, below the top row.", 0.4),
        ]
    found += [
        balance,
        _plain(f"{key}.thrust", 5, "Thrust", "Of the propeller, held still; empty, it is reckoned from the power.", 0.0,
               kind="force", free=True),
        _plain(f"{key}.shock", 5, "Shock", "How many times its weight the motor pulls in a slam: 3 is our choice, 5 rough.",
               0.0, kind="number", free=True),
    ]  # fmt: skip
    for pair in ("upper", "lower"):
        found += _hardware(design, f"{key}.{pair}_hardware", pair)
    found += [
        _plain(f"{key}.bracket.room_aft.{pair}", 8, f"Room aft, {pair}", "Behind the bracket, along the bolt.", 5.0)
        for pair in ("upper", "lower") if mount.bracket.room_aft is not None
    ]  # fmt: skip
    return found


def _bracket_corners(design: Design, key: str) -> list[Measure]:
    """Return a bracket's outline, and its corners one by one; where both sides are alike those at starboard speak for both."""
    ring = at_path(design, key)
    twins = _twins(ring)
    across = "From the bracket's centre; " + ("both sides are alike." if twins else "starboard counts as plus.")
    found = [_shape(key, 5, "Bracket outline", "Corner by corner, from the saddle.", "tape")]
    told = [at for at, (u, _) in enumerate(ring) if not twins or u > -CLOSE]
    for number, at in enumerate(told, start=1):
        twin, name = twins.get(at), f"Bracket corner {number}"
        if twin != at:
            one = _plain(f"{key}.{at}.0", 5, f"{name}, across", across, 2.0)
            found.append(msgspec.structs.replace(one, set=partial(_with_corner, key, at, twin, 0)))
        one = _plain(f"{key}.{at}.1", 5, f"{name}, down", "From the saddle.", 2.0, sign=-1.0)
        found.append(msgspec.structs.replace(one, set=partial(_with_corner, key, at, twin, 1)))
    return found


def _twins(ring: Points) -> dict[int, int]:
    """Return each corner's mirror image within 1e-6 mm, itself on the centreline; empty where the two sides differ."""
    found = {
        at: other for at, (u, v) in enumerate(known(ring) or ()) for other, (x, y) in enumerate(known(ring) or ())
        if abs(x + u) <= CLOSE and abs(y - v) <= CLOSE
    }  # fmt: skip
    return found if len(found) == len(ring) else {}


def _with_corner(key: str, at: int, twin: int | None, axis: int, design: Design, value: float) -> Design:
    """Set one corner of a bracket, across (axis 0) or down, and its twin with it."""
    if twin is not None and axis == 0:
        above_zero(across=value)
    ring = [list(corner) for corner in at_path(design, key)]
    ring[at][axis] = value if axis == 0 else -value
    if twin is not None:
        ring[twin][axis] = -value
    try:
        changed: Design = put_path(design, key, tuple((u, v) for u, v in ring))
    except NonsenseError as sentence:
        raise NonsenseError("With that the sides of the bracket would meet or cross each other.") from sentence
    return changed


def told_by_numbers(key: str) -> bool:
    """Tell whether a shape's corners are measures too, or floor and widths in their place."""
    return key == "well.profile" or key.endswith(".bracket.outline")


def _clamps(key: str, *, screws: bool, jaw: bool) -> list[Measure]:
    found = []
    if screws:
        found += [
            _plain(f"{key}.clamp_screws.depth", 5, "Clamp screws, down", "From the saddle.", 2.0),
            _plain(f"{key}.clamp_screws.half_spacing", 5, "Clamp screws, across", "From the bracket's centre.", 2.0),
            _plain(f"{key}.clamp_screws.pads.0", 5, "Outer pad", "Its thickness.", 1.0),
            _plain(f"{key}.clamp_screws.pads.1", 5, "Inner pad", "Its thickness.", 1.0),
        ]
    if jaw:
        found += [
            _plain(f"{key}.jaw.0", 5, "Jaw, least", "Screws wholly in.", 1.0),
            _plain(f"{key}.jaw.1", 5, "Jaw, most", "Screws wholly out.", 1.0),
        ]
    return found


_DECIDED = ("length", "washer.flat_cut", "hole", "backing_plate.relief.0", "backing_plate.relief.1")


def _hardware(design: Design, key: str, pair: str) -> list[Measure]:
    hardware = at_path(design, key)
    fields = [
        ("hole", "hole", "Diameter drilled."),
        ("washer.outer", "washer, outside", "Across the washer."),
        ("washer.inner", "washer, bore", "Across its hole."),
        ("washer.thickness", "washer, thickness", "By calipers, the thickest of them."),
        ("outside_washer.outer", "outer washer, outside", "Across the washer."),
        ("outside_washer.inner", "outer washer, bore", "Across its hole."),
        ("outside_washer.thickness", "outer washer, thickness", "By calipers."),
        ("length", "bolt length", "Under the head to the end."),
        ("washer.flat_cut", "washer, flat cut at", "From its centre to the cut."),
    ]
    if hardware.socket is not None:
        fields += [
            ("socket.outer", "socket, outside", "Across its wider end."),
            ("socket.length", "socket, length", "With its drive."),
        ]
    if hardware.spanner is not None:
        fields += [
            ("spanner.outer", "ring spanner, outside", "Across the ring."),
            ("spanner.thickness", "ring spanner, thickness", "Of the ring."),
        ]
    if hardware.nut_sizes is not None:
        fields += [("nut_sizes.flats", "nut, flats", "Across flats."), ("nut_sizes.height", "nut, height", "With its insert.")]
    if hardware.head_sizes is not None:
        fields += [("head_sizes.flats", "head, flats", "Across flats."), ("head_sizes.height", "head, height", "By calipers.")]
    if hardware.spacer is not None:
        fields += [("spacer.outer", "spacer, outside", "Across it."), ("spacer.length", "spacer, length", "End to end.")]
    if hardware.backing_plate is not None:
        fields += [("backing_plate.thickness", "plate, thickness", "By calipers.")]
        if any(value != 0 for value in hardware.backing_plate.relief):
            fields += [
                ("backing_plate.relief.0", "plate, relief up", "How far the chamfer goes up its back, from the lower edge."),
                ("backing_plate.relief.1", "plate, relief through", "How far it goes into the thickness, at the lower edge."),
            ]
    shapes = [] if hardware.backing_plate is None else [
        _shape(f"{key}.backing_plate.outline", 8, f"{_capital(pair)} plate", "Corner by corner, from its middle.", "tape"),
    ]
    return shapes + [
        _plain(f"{key}.{field}", 8, f"{_capital(pair)} {name}", how, 0.4, free=field in _DECIDED)
        for field, name, how in fields
    ] + [
        _plain(f"{key}.torque", 8, f"{_capital(pair)} torque",
               "By the motor's manual, as the wrench reads it in the last pass.", 0.0, kind="torque"),
        _plain(f"{key}.running_torque", 8, f"{_capital(pair)} running torque",
               "What the wrench reads while the nut runs on, nothing clamped; the torque then holds it. Empty counts as 0.",
               0.0, kind="torque", free=True),
        _plain(f"{key}.friction.0", 8, f"{_capital(pair)} friction, lowest",
               "Nut factor: dry 0.20 to 0.30, lubricated 0.14 to 0.18, anti-seize 0.12 to 0.16, common practice.", 0.0,
               kind="number", free=True),
        _plain(f"{key}.friction.1", 8, f"{_capital(pair)} friction, highest", "The same, at the most.", 0.0, kind="number",
               free=True),
        _plain(f"{key}.wedge", 8, f"{_capital(pair)} wedge", "Angle that it takes up.", 0.5, kind="angle", spread="rake",
               free=True)
    ]  # fmt: skip


def _capital(name: str) -> str:
    return name[:1].upper() + name[1:]


def floor_place(design: Design, side: int) -> float:
    """Return the place athwart at which the floor is measured: under the lower bolt at port (-1) or starboard (1) [mm]."""
    for mount in design.mounts:
        if mount.bracket.lower is not None and mount.offset is not None:
            return mount.offset + side * mount.bracket.lower.half_spacing
    return side * trade.STANDARD_PATTERN.lower_half_spacing


def _floor_line(well: Well) -> tuple[float, float, float, float] | None:
    (ua, ya), (ub, yb) = well.profile[1], well.profile[2]
    if ua is None or ya is None or ub is None or yb is None or ub - ua < 1e-9:
        return None
    return ua, ya, ub, yb


def _floor(design: Design, side: int) -> Number:
    line = _floor_line(design.well) if design.well is not None else None
    if line is None:
        return None
    ua, ya, ub, yb = line
    return -(ya + (yb - ya) * (floor_place(design, side) - ua) / (ub - ua))


def _with_floor(design: Design, side: int, depth: float) -> Design:
    """Set the floor's depth at one side, tilting it about its reading at the other."""
    if design.well is None:
        return design
    (ua, _), (ub, _) = design.well.profile[1], design.well.profile[2]
    if ua is None or ub is None:
        raise NonsenseError("the floor's width comes first")
    other = _floor(design, -side)
    if other is None:
        other = depth
    at, away = floor_place(design, side), floor_place(design, -side)
    slope = -(depth - other) / (at - away)
    corners = list(design.well.profile)
    corners[1] = ua, -other + slope * (ua - away)
    corners[2] = ub, -other + slope * (ub - away)
    changed: Design = put_path(design, "well.profile", tuple(corners))
    return changed


def _width(design: Design, left: int, right: int) -> Number:
    if design.well is None:
        return None
    ua, ub = design.well.profile[left][0], design.well.profile[right][0]
    return None if ua is None or ub is None else ub - ua


def _with_width(design: Design, left: int, right: int, width: float) -> Design:
    """Set a width, the middle of the two corners staying where it is; a floor's corners slide along it."""
    if design.well is None:
        return design
    (ua, ya), (ub, yb) = design.well.profile[left], design.well.profile[right]
    middle = 0.0 if ua is None or ub is None else (ua + ub) / 2
    corners = list(design.well.profile)
    line = _floor_line(design.well) if (left, right) == (1, 2) else None
    if line is not None:
        slope, level = (line[3] - line[1]) / (line[2] - line[0]), (line[1] + line[3]) / 2
        ya, yb = level - slope * width / 2, level + slope * width / 2
    corners[left], corners[right] = (middle - width / 2, ya), (middle + width / 2, yb)
    changed: Design = put_path(design, "well.profile", tuple(corners))
    return changed


def state_of(design: Design, found: Measure) -> Literal["guess", "measured", "not known"]:
    """Return where a measure's value comes from; a value without a reading counts as measured."""
    reading = design.readings.get(found.key)
    if found.kind != "shape" and found.get(design) is None:
        return "not known"
    return reading.state if reading is not None else "measured"
