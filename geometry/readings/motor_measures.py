"""The measures of one motor: its bracket, its place and its hardware.

The rows are made once for each form of a motor, and shared by every design with that form. So a drag makes none.
"""

from __future__ import annotations

from functools import lru_cache, partial
from typing import TYPE_CHECKING, NamedTuple

import msgspec

from geometry.design.motor import MOST_POINTS, NO_POINT, NO_TILT
from geometry.design.validity import CLOSE, NonsenseError, Number, above_zero, known, same_way
from geometry.readings.adjusted_guesses import in_order, is_guess, still_guessed, with_adjustment
from geometry.readings.measure import NEEDED, Measure, Usual, at_path, capital, plain, put_path, shape
from geometry.tables.known import inches
from geometry.units.height_words import HEIGHT
from geometry.units.trade_words import in_trade_words

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.hardware import Hardware
    from geometry.design.motor import Bracket, Tilt
    from geometry.design.validity import Points
    from geometry.units.units import Unit


class _Form(NamedTuple):
    """All that decides which rows a motor has, and their words: no place of its holes. ``alone``: it is the only motor."""

    bracket: Bracket
    tilt: Tilt
    upper_hardware: Hardware | None
    lower_hardware: Hardware | None
    units: Unit
    alone: bool


def of_mounts(design: Design) -> list[Measure]:
    """Return the measures of all motors."""
    return [measure for index in range(len(design.mounts)) for measure in of_mount(design, index)]


def of_mount(design: Design, index: int) -> tuple[Measure, ...]:
    """Return the measures of one motor."""
    mount = design.mounts[index]
    form = _Form(
        mount.bracket, mount.tilt, mount.upper_hardware, mount.lower_hardware, design.units, len(design.mounts) == 1
    )  # fmt: skip
    return _of_form(form, index)


@lru_cache(maxsize=32)
def _of_form(mount: _Form, index: int) -> tuple[Measure, ...]:
    key = f"mounts.{index}"
    made = [
        plain(f"{key}.leg", 5, "Shaft length", "From the bracket hook to the AV plate, motor upright.", 3.0,
              usual=inches(2.5), page="measuring#shaft-length", item=("Shaft, set-back, weight", "shaft")),
        plain(f"{key}.power_kw", 5, "Motor's power", "From the motor's label or papers.", 0.0, kind="power",
              page="measuring#mass-power-and-balance", empty="not known", item=("Power, balance, cowl", "power")),
        plain(f"{key}.set_back", 5, "Set-back", "How far the bracket is aft of the transom.", 5.0,
              usual=50.0, empty="none", item=("Shaft, set-back, weight", "set-back")),
        plain(f"{key}.mass", 5, "Motor's weight", "From the motor's label or papers.", 5.0, kind="mass",
              page="measuring#mass-power-and-balance", empty="not known", item=("Shaft, set-back, weight", "weight")),
        plain(f"{key}.offset", 6, "Offset", "From the centreline to the bracket's centre. Starboard is plus.", 0.8,
               free=True),
        *_bracket_corners(mount.bracket.outline, f"{key}.bracket.outline"),
    ]  # fmt: skip
    last = [
        plain(f"{key}.centre_aft", 5, "Balance point", f"How far aft of the transom. {_usual_balance(mount.units)}", 25.0,
              usual=75.0, page="measuring#mass-power-and-balance", empty="none", item=("Power, balance, cowl", "balance")),
        plain(f"{key}.cowl_half_width", 5, "Cowl, half width", "From the motor's middle to the outside of its cowl.", 5.0,
              free=mount.alone, empty="not measured", item=("Power, balance, cowl", "half cowl")),
    ]  # fmt: skip
    last += _tilting(mount.tilt, index)
    if mount.bracket.rows is None:
        held = mount.bracket
        return (*made, *last, *_clamps(f"{key}.bracket", screws=held.clamp_screws is not None, jaw=held.jaw is not None))
    made += [
        plain(f"{key}.bracket.rows.half_spacing", 5, "Upper holes, half spacing",
               "From the bracket's centre to a hole: half of what is between the two.", 0.4,
               needed=True, usual=inches(1 / 8), page="measuring#upper-holes", item=("Upper holes", "across")),
        plain(f"{key}.bracket.rows.row0_depth", 5, "Top hole below the bracket hook",
               "From the bracket hook to the centre of the top hole.",
               0.8, needed=True, usual=6.0, page="measuring#upper-holes", item=("Upper holes", "top one")),
        plain(f"{key}.bracket.rows.pitch", 5, "Pitch of the upper holes",
               "From the top hole to the bottom one, centre to centre. Divide by the number of gaps between them.",
               0.2, needed=True, usual=1.0, page="measuring#upper-holes", item=("Upper holes", "pitch")),
        plain(f"{key}.bracket.rows.count", 5, "Number of upper holes", "On one side of the bracket.", 0, kind="count",
               needed=True, usual=1.0, page="measuring#upper-holes", item=("Upper holes: how many", "number")),
        plain(f"{key}.bracket.rows.diameter", 5, "Upper holes, diameter", "Across a hole of the bracket.", 0.2, way="calliper",
              usual=0.8, page="measuring#upper-holes", item=("Upper holes: how many", "diameter")),
        plain(f"{key}.bracket.rows.pad_thickness", 5, "Bracket thickness at the upper holes", "How thick it is under the bolt.",
               1.0,
               way="calliper", usual=3.0, page="measuring#pads-and-room-aft", item=("Upper holes: how many", "thickness")),
        plain(f"{key}.bracket.lower.half_spacing", 5, "Lower slots, half spacing",
               "From the bracket's centre to a slot: half of what is between the two.", 0.4,
               needed=True, usual=inches(1 / 8), page="measuring#slots", item=("Lower slots", "across")),
        plain(f"{key}.bracket.lower.diameter", 5, "Lower slots, width", "Across a slot of the bracket.", 0.2, way="calliper",
              usual=0.8, page="measuring#slots", item=("Lower slots", "width")),
        plain(f"{key}.bracket.lower.pad_thickness", 5, "Bracket thickness at the lower slots",
               "How thick it is under the bolt.", 1.0,
               way="calliper", usual=3.0, page="measuring#pads-and-room-aft", item=("Lower slots", "thickness")),
        plain(f"{key}.upper_at", 6, "Upper holes, down", "From the top edge, along the face, to the centre.", 0.8,
               sign=-1.0, free=True),
        plain(f"{key}.upper_tilt", 6, "Upper tilt", "From square to the face. Plus is an inner end that points up.", 0.5,
               kind="angle", spread="rake", free=True, page="placing#square-or-level"),
        plain(f"{key}.drop", 7, "Drop", "From the upper holes to the lower ones, centre to centre, along the face.", 0.8,
               free=True),
        _height(f"{key}.row"),
        plain(f"{key}.lower_tilt", 7, "Lower tilt", "From square to the face. Plus is an inner end that points up.", 0.5,
               kind="angle", spread="rake", free=True, page="placing#square-or-level"),
    ]  # fmt: skip
    for number, _ in enumerate(mount.bracket.lower.slots if mount.bracket.lower else ()):
        slot = f"{key}.bracket.lower.slots.{number}"
        made += in_order(
            plain(f"{slot}.0", 5, f"Slot {number + 1}, highest",
                   "From the top hole to a bolt's highest place, by their centres.",
                   0.4, needed=True, usual=inches(1 / 8), page="measuring#slots", item=(f"Slot {number + 1}", "highest")),
            plain(f"{slot}.1", 5, f"Slot {number + 1}, lowest", "From the top hole to a bolt's lowest place, by their centres.",
                   0.4, needed=True, usual=inches(1 / 8), page="measuring#slots", item=(f"Slot {number + 1}", "lowest")),
        )
    made += [
        *last,
        plain(f"{key}.thrust", 5, "Thrust",
               "Of the propeller, with the boat held still. Leave it empty to calculate it from the power.", 0.0,
               kind="force", free=True, page="measuring#mass-power-and-balance", empty="none"),
        plain(f"{key}.shock", 5, "Shock",
               "How many times its weight the motor pulls in a slam. Our assumption is 3, and 5 for rough water.",
               0.0, kind="number", free=True, page="measuring#mass-power-and-balance"),
    ]  # fmt: skip
    for pair, hardware in (("upper", mount.upper_hardware), ("lower", mount.lower_hardware)):
        if hardware is not None:
            made += _hardware(hardware, f"{key}.{pair}_hardware", pair, mount.units)
    made += [
        plain(f"{key}.bracket.room_aft.{pair}", 8, f"Room aft, {pair}", "Free room behind the bracket, along the bolt.", 5.0,
              usual=50.0, page="measuring#pads-and-room-aft", empty="none", item=("Room behind the bracket", pair))
        for pair in ("upper", "lower") if mount.bracket.room_aft is not None
    ]  # fmt: skip
    return tuple(made)


def _tilting(tilt: Tilt, index: int) -> list[Measure]:
    """Return how a motor tilts and turns, with its outermost places and one more to add.

    Nobody has to measure them before a first one is known.
    """
    key = f"mounts.{index}.tilt"
    free = tilt == NO_TILT
    page, tube, most = "measuring#tilt-and-lock", "Tilt tube", "Full tilt, full lock"
    made = [
        plain(f"{key}.tube.0", 5, "Tilt tube, aft", "From the bracket's face back to the tube's middle, square to the face.",
               3.0, free=free, usual=25.0, page=page, empty="not measured", item=(tube, "aft")),
        plain(f"{key}.tube.1", 5, "Tilt tube, up", "From the bracket hook up to the tube's middle, along the bracket.", 3.0,
               free=free, usual=25.0, page=page, empty="not measured", item=(tube, "up")),
        plain(f"{key}.most", 5, "Full tilt", "How far the motor tilts, from its lowest place.", 2.0, kind="angle",
               spread="rake", free=free, usual=10.0, page=page, empty="not measured", item=(most, "tilt")),
        plain(f"{key}.lock", 5, "Full lock", "How far the motor turns to each side.", 2.0, kind="angle", spread="rake",
               free=free, usual=10.0, page=page, empty="not measured", item=(most, "lock")),
    ]  # fmt: skip
    for number in range(min(len(tilt.points) + 1, MOST_POINTS)):
        name, spare = f"Cowl point {number + 1}", free or number == len(tilt.points)
        item = (name, "radius"), (name, "angle"), (name, "half width")
        start = f"{key}.points.{number}"
        made += [
            plain(f"{start}.radius", 5, f"{name}, radius", "From the tube's middle to an outermost place, seen from the side.",
                   5.0, free=spare, usual=25.0, page=page, empty="not measured", item=item[0]),
            plain(f"{start}.angle", 5, f"{name}, angle", "Forward of plumb from the tube, motor down. Minus is aft.", 2.0,
                   kind="angle", spread="rake", free=spare, usual=10.0, page=page, empty="not measured", item=item[1]),
            plain(f"{start}.half_width", 5, f"{name}, half width", "From the motor's middle to the outside there.", 5.0,
                   free=spare, usual=25.0, page=page, empty="not measured", item=item[2]),
        ]  # fmt: skip
    return [_of_a_point(row, index) if ".points." in row.key else row for row in made]


def _of_a_point(row: Measure, index: int) -> Measure:
    """Return the measure of an outermost place, which is there once one of its values is known."""
    *_, place, field = row.key.split(".")
    number = int(place)

    def get(design: Design) -> Number:
        points = design.mounts[index].tilt.points
        value: Number = getattr(points[number], field) if number < len(points) else None
        return value

    def put(design: Design, value: Number) -> Design:
        points = list(design.mounts[index].tilt.points)
        points += [NO_POINT] * (number + 1 - len(points))
        points[number] = msgspec.structs.replace(points[number], **{field: value})
        while points and points[-1] == NO_POINT:
            points.pop()
        changed: Design = put_path(design, f"mounts.{index}.tilt.points", tuple(points))
        return changed

    return msgspec.structs.replace(row, get=get, set=put)


def _usual_balance(unit: Unit) -> str:
    """Say where the balance point usually is, and which place is used while it is not known."""
    low, high, used = ((10, 16, "12 in") if unit == "in" else (250, 400, "305 mm"))
    return f"{low} to {high} {unit} is common. While it is empty, {used} is used."


def _height(key: str) -> Measure:
    """Return the motor's height: the hole of the bracket that takes the upper bolts, counted from 1 as a person does."""

    def get(design: Design) -> Number:
        row = at_path(design, key)
        return None if row is None else row + 1

    def put(design: Design, count: Number) -> Design:
        changed: Design = put_path(design, key, None if count is None else round(count) - 1)
        return changed

    how = "The bracket's hole that takes the upper bolts, counted from the top. Using a lower hole raises the motor."
    return msgspec.structs.replace(plain(key, 7, HEIGHT, how, 0.0, kind="hole", free=True), get=get, set=put)


def _bracket_corners(ring: Points, key: str) -> list[Measure]:
    """Return a bracket's outline, and its corners one by one; where both sides are alike those at starboard speak for both."""
    twins = _twins(ring)
    across = "From the bracket's centre. " + ("Both sides are alike." if twins else "Starboard is plus.")
    made = [shape(key, 5, "Bracket outline", "Measure each corner from the bracket hook.", "tape", page="measuring#outline")]
    shown = [at for at, (u, _) in enumerate(ring) if not twins or (u or 0.0) > -CLOSE]
    for number, at in enumerate(shown, start=1):
        twin, name = twins.get(at), f"Bracket corner {number}"
        if twin != at:
            measure = plain(f"{key}.{at}.0", 5, f"{name}, across", across, 2.0, page="measuring#outline",
                             item=("Bracket corners", f"{number} across"))  # fmt: skip
            made.append(_corner(measure, key, at, twin, 0))
        measure = plain(f"{key}.{at}.1", 5, f"{name}, down", "From the bracket hook.", 2.0, sign=-1.0, page="measuring#outline",
                         item=("Bracket corners", f"{number} down"))  # fmt: skip
        made.append(_corner(measure, key, at, twin, 1))
    return made


def _corner(measure: Measure, key: str, at: int, twin: int | None, axis: int) -> Measure:
    put = partial(_with_corner, key, at, twin, axis)
    return with_adjustment(msgspec.structs.replace(measure, set=put), partial(_others_give, key, at, axis))


def _others_give(key: str, at: int, axis: int, design: Design, value: float) -> Design:
    """Take the guessed corners of a bracket along with one of them, so that the bracket keeps its shape.

    Outward or down: those as far or further, by as much. Back towards the bracket hook: those on the way, by their share.
    """
    ring = at_path(design, key)
    now = ring[at][axis] if axis == 0 else -ring[at][axis]
    twins = _twins(ring)
    for other in _bracket_corners(ring, key):
        place, steps = other.get(design), other.key.removeprefix(f"{key}.").split(".")
        if place is None or steps[-1] != str(axis) or steps[0] == str(at) or not is_guess(design, other.key):
            continue
        if value > now and place >= now:
            to = place + value - now
        elif value < now and 0.0 < place <= now:
            to = place * value / now
        else:
            continue
        corner = int(steps[0])
        design = still_guessed(_with_corner(key, corner, twins.get(corner), axis, design, to), other.key, to)
    return design


def _twins(ring: Points) -> dict[int, int]:
    """Return each corner's mirror image within 1e-6 mm, itself on the centreline; empty where the two sides differ."""
    twins = {
        at: other for at, (u, v) in enumerate(known(ring) or ()) for other, (x, y) in enumerate(known(ring) or ())
        if abs(x + u) <= CLOSE and abs(y - v) <= CLOSE
    }  # fmt: skip
    return twins if len(twins) == len(ring) else {}


def _with_corner(key: str, at: int, twin: int | None, axis: int, design: Design, value: Number) -> Design:
    """Set one corner of a bracket, across (axis 0) or down, and its twin with it."""
    if value is None:
        raise NonsenseError(f"{key} has a corner that is null; it has to be a number", NEEDED)
    if twin is not None and axis == 0:
        above_zero(across=value)
    ring = [list(corner) for corner in at_path(design, key)]
    ring[at][axis] = value if axis == 0 else -value
    if twin is not None:
        ring[twin][axis] = -value
    changed: Design = put_path(design, key, tuple((u, v) for u, v in ring))
    same_way(at_path(design, key), at_path(changed, key))
    return changed


def _clamps(key: str, *, screws: bool, jaw: bool) -> list[Measure]:
    made = []
    if screws:
        made += [
            plain(f"{key}.clamp_screws.depth", 5, "Clamp screws, down", "From the bracket hook.", 2.0,
                  usual=6.0, page="placing#the-bracket", item=("Clamp screws", "down")),
            plain(f"{key}.clamp_screws.half_spacing", 5, "Clamp screws, across", "From the bracket's centre.", 2.0,
                  usual=inches(1 / 8), page="placing#the-bracket", item=("Clamp screws", "across")),
            plain(f"{key}.clamp_screws.pads.0", 5, "Outer pad", "Thickness of the pad between bracket and transom, outside.",
                   1.0, usual=6.0, page="measuring#pads-and-room-aft", item=("Pads", "outer")),
            plain(f"{key}.clamp_screws.pads.1", 5, "Inner pad", "Thickness of the pad under the clamp screws, inside.", 1.0,
                  usual=6.0, page="measuring#pads-and-room-aft", item=("Pads", "inner")),
        ]
    if jaw:
        made += in_order(
            plain(f"{key}.jaw.0", 5, "Jaw, least", "The opening with the screws all the way in.", 1.0,
                  usual=6.0, page="placing#the-bracket", item=("Jaw", "least")),
            plain(f"{key}.jaw.1", 5, "Jaw, most", "The opening with the screws all the way out.", 1.0,
                  usual=6.0, page="placing#the-bracket", item=("Jaw", "most")),
        )
    return made


def _hardware(hardware: Hardware, key: str, pair: str, units: Unit) -> list[Measure]:
    def part(
        field: str, name: str, how: str, blank: tuple[str, str] | None = None, *, usual: Usual = 0.8,
        page: str = "hardware#bolts", empty: str | None = None, free: bool = False,
    ) -> Measure:  # fmt: skip
        return plain(
            f"{key}.{field}", 8, f"{capital(pair)} {name}", how, 0.4, free=free, way="calliper", usual=usual, page=page,
            empty=empty, item=blank,
        )  # fmt: skip

    rings, tools, plate = "hardware#washers", "hardware#socket-and-wrench", "hardware#backing-plate"
    inside, outside, ring, handle = "inside washers", "outside washers", "ring spanner", "ring spanner’s handle"
    made = [
        part("hole", "hole", "The diameter that you drill.", free=True),
        part("washer.outer", "washer, outside", "Across the washer.", (inside, "outside"), usual=1.0, page=rings),
        part("washer.inner", "washer, bore", "Across its hole.", (inside, "bore"), page=rings),
        part("washer.thickness", "washer, thickness", "By calipers, the thickest of them.", (inside, "thickness"), page=rings),
        part("outside_washer.outer", "outer washer, outside", "Across the washer.", (outside, "outside"), usual=1.0,
             page=rings),
        part("outside_washer.inner", "outer washer, bore", "Across its hole.", (outside, "bore"), page=rings),
        part("outside_washer.thickness", "outer washer, thickness", "By calipers.", (outside, "thickness"), page=rings),
        part("length", "bolt length",
             "From under the head to the end. Leave it empty, and Boltwell finds the next stock length.", empty="none",
             free=True),
        part("washer.flat_cut", "washer, flat cut at", "From the washer's centre to the cut.", page="hardware#cut-flat",
             empty="none", free=True),
    ]  # fmt: skip
    if hardware.socket is not None:
        made += [
            part("socket.outer", "socket, outside", "Across its wider end.", ("socket", "outside"), usual=1.5, page=tools),
            part("socket.length", "socket, length", "With its drive.", ("socket", "with drive"), usual=13.0, page=tools),
        ]
    if hardware.spanner is not None:
        spare = hardware.socket is not None
        made += [
            part(f"spanner.{field}", in_trade_words(f"ring spanner, {word}", units), how, (item, word),
                 usual=usual, page=tools, free=spare and item == handle,
                 empty="not measured" if spare and item == handle else None)
            for field, word, how, item, usual in (
                ("outer", "outside", "Across the ring.", ring, 2.0), ("thickness", "thickness", "Of the ring.", ring, 2.0),
                ("length", "length", "From the ring's middle to the end of the handle.", handle, 50.0),
                ("handle", "width", "Across the handle, at its widest.", handle, 4.0),
            )
        ]  # fmt: skip
        made.append(
            plain(f"{key}.spanner.swing", 8, f"{capital(pair)} {in_trade_words('ring spanner, swing', units)}",
                   "How far it turns before you set it again: 30 degrees for 12 points, 60 for 6.", 5.0, kind="angle",
                   spread="rake", free=True, page=tools)
        )  # fmt: skip
    if hardware.nut_sizes is not None:
        made += [
            part("nut_sizes.flats", "nut, flats", "Across flats.", ("nuts", "flats")),
            part("nut_sizes.height", "nut, height", "With its insert.", ("nuts", "height")),
        ]
    if hardware.head_sizes is not None:
        made += [
            part("head_sizes.flats", "head, flats", "Across flats.", ("heads", "flats")),
            part("head_sizes.height", "head, height", "By calipers.", ("heads", "height")),
        ]
    if hardware.spacer is not None:
        made += [
            part("spacer.outer", "spacer, outside", "Across it.", ("spacers", "outside")),
            part("spacer.length", "spacer, length", "End to end.", ("spacers", "length")),
        ]
    if hardware.backing_plate is not None:
        made += [
            part(f"backing_plate.outline.{corner}.{axis}", f"backing plate, corner {corner + 1}, {word}", how, page=plate,
                 free=True)
            for corner in range(len(hardware.backing_plate.outline))
            for axis, word, how in (
                (0, "across", "From its middle. Starboard is plus."), (1, "up", "From its bolts. Minus is below."),
            )
        ]  # fmt: skip
        made += [part("backing_plate.thickness", "backing plate, thickness", "By calipers.", page=plate)]
        if any(value != 0 for value in hardware.backing_plate.relief):
            made += [
                part("backing_plate.relief.0", "backing plate, relief up",
                     "How far its chamfer goes up the back, from the lower edge.", page=plate, free=True),
                part("backing_plate.relief.1", "backing plate, relief through",
                     "How far its chamfer goes into the thickness, at the lower edge.", page=plate, free=True),
            ]  # fmt: skip
    shapes = [] if hardware.backing_plate is None else [
        shape(f"{key}.backing_plate.outline", 8, f"{capital(pair)} backing plate", "Measure each corner from its middle.",
              "tape", usual=3.0, page=plate),
    ]
    return [
        *shapes, *made,
        plain(f"{key}.torque", 8, f"{capital(pair)} wrench torque",
               "From the motor's manual. The wrench reads it in the last pass, with the lock nut's drag in it.",
               0.0, kind="torque", page="hardware#torque"),
        plain(f"{key}.running_torque", 8, f"{capital(pair)} lock nut drag",
               "The wrench reads it while the nut turns on and clamps nothing. Empty: from none to the highest published.",
               0.0, kind="torque", free=True, page="hardware#torque", empty="not measured"),
        plain(f"{key}.friction.0", 8, f"{capital(pair)} friction, lowest",
               "Nut factor, common practice: dry 0.20 to 0.30, lubricated 0.14 to 0.18, anti-seize 0.12 to 0.16.", 0.0,
               kind="number", free=True, page="hardware#torque"),
        plain(f"{key}.friction.1", 8, f"{capital(pair)} friction, highest", "The highest nut factor of the same threads.", 0.0,
               kind="number",
               free=True, page="hardware#torque"),
        plain(f"{key}.wedge", 8, f"{capital(pair)} wedge", "The angle that the wedge takes up.", 0.5, kind="angle",
               spread="rake",
               free=True, usual=1.0, page="findings#seat")
    ]  # fmt: skip
