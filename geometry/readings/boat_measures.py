"""The measures of the boat: its transom, well and old holes, and the figures of its capacity plate and papers."""

from __future__ import annotations

from functools import cache, lru_cache, partial
from typing import TYPE_CHECKING

import msgspec

from geometry.design.boat import MOST_TAPER
from geometry.design.corner_names import corner_name
from geometry.design.design import Reading
from geometry.design.validity import CLOSE, NonsenseError, Number, above_zero
from geometry.readings.adjusted_guesses import in_order, is_guess, moved, still_guessed, with_adjustment
from geometry.readings.measure import Measure, at_path, capital, plain, put_path, shape, without_reading
from geometry.tables import materials, trade
from geometry.tables.known import inches

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.readings.adjusted_guesses import Give

_FLOORS = {-1: "well.floor_port", 1: "well.floor_starboard"}
_AFLOAT = "With the old motor hung, the usual gear and nobody aboard."
_SKINS = ("transom.skin_outside", "transom.skin_inside")
_THICK = ("transom.thickness.top", "transom.thickness.low")
_TAPER = MOST_TAPER * (1 - 1e-9)  # a hair less, so that rounding does not matter
_NO_READING = Reading(text="", value=None, from_="centre", how="tape", state="measured", spread=None, second=None)


def of_transom(design: Design) -> tuple[Measure, ...]:
    """Return the measures of the transom and its top edge."""
    return _of_transom(cut_in_words=isinstance(design.transom.top_cut, str))


@cache
def _of_transom(*, cut_in_words: bool) -> tuple[Measure, ...]:
    made = [
        plain("transom.rake", 1, "Rake",
               "Hold a batten up the face, and a level or a phone on it. First set it to zero on the hull's level line.", 0.5,
               kind="angle", spread="rake", usual=None, page="measuring#rake"),
        plain("transom.thickness.top", 1, "Thickness at the top", "Square to the face, just below the top edge.", 1.0,
              usual=None, page="measuring#thickness",
              item=("Thickness", "top")),
        plain("transom.thickness.low", 1, "Thickness lower down", "Square to the face, through an old hole or by calipers.",
               1.0, usual=6.0, page="measuring#thickness", item=("Thickness", "lower")),
        plain("transom.thickness.low_at", 1, "Depth of the lower thickness",
               "From the top edge to where it was measured, along the face.", 5.0,
               sign=-1.0, usual=50.0, page="measuring#thickness", item=("Thickness", "down at")),
        plain("transom.height", 1, "Transom height", "Plumb, from the top edge to the hull's bottom at the centreline.", 3.0,
               way="plumb bob", usual=inches(2.5), page="measuring#height-and-deadrise"),
        plain("transom.deadrise", 1, "Deadrise", "Slope of the hull's bottom from the keel outward, at the transom.", 1.0,
               kind="angle",
               spread="rake", usual=None, page="measuring#height-and-deadrise"),
        plain("transom.skin_outside", 1, "Outer skin", "Look into an old hole.", 0.5, way="rule",
              usual=None, page="measuring#skins-and-core", item=("Skins, fittings", "outer")),
        plain("transom.skin_inside", 1, "Inner skin", "Look into an old hole.", 0.5, way="rule",
              usual=None, page="measuring#skins-and-core", item=("Skins, fittings", "inner")),
        msgspec.structs.replace(
            plain("transom.core_bears", 1, "Core supports",
                   "The pressure that it supports under a washer. Leave it empty to use our table.", 0.0,
                   kind="pressure", free=True, page="measuring#skins-and-core", empty="by the table"), set=_with_bearing),
        shape("transom.outline", 1, "Transom outline", "Measure each corner from the centreline and from the top edge.",
              "tape", page="sketching#outline"),
    ]  # fmt: skip
    made.append(
        Measure(
            "transom.top_cut", 2, "Top cut", "Lay a square over the top edge. Read how far the top is from square to the face.",
            0.5, "angle",
            "rake", lambda d: float(d.transom.top_cut) if isinstance(d.transom.top_cut, float | int) else None,
            lambda d, value: put_path(d, "transom.top_cut", value), free=cut_in_words, way="level",
            usual=5.0,
        )  # fmt: skip
    )
    return tuple(_with_adjusted_guesses(measure) for measure in made)


def _thickness_gives(other: str, design: Design, value: float) -> Design:
    """Move the other thickness to where the faces may lean so far, and make room for a thinner transom between the skins."""
    now, at = at_path(design, other), design.transom.thickness.low_at
    if now is not None and at is not None:
        reach = _TAPER * -at
        design = moved(design, other, min(max(now, value - reach), value + reach))
    return _thinner(design, value)


def _taper_gives(design: Design, value: float) -> Design:
    """Move a thickness to where the faces may lean so far over ``value``; of two guesses the lower one."""
    thick, reach = design.transom.thickness, _TAPER * value
    if thick.top is None or thick.low is None:
        return design
    if is_guess(design, "transom.thickness.low"):
        return moved(design, "transom.thickness.low", min(max(thick.low, thick.top - reach), thick.top + reach))
    return moved(design, "transom.thickness.top", min(max(thick.top, thick.low - reach), thick.low + reach))


def _thinner(design: Design, thickness: float) -> Design:
    """Make guessed skins thinner, each by the same share, until both go into a thickness."""
    skins = {key: at_path(design, key) or 0.0 for key in _SKINS}
    guessed = sum(thick for key, thick in skins.items() if is_guess(design, key))
    left = thickness - (sum(skins.values()) - guessed)
    if not 0.0 <= left < guessed:
        return design
    for key, thick in skins.items():
        design = moved(design, key, thick * left / guessed)
    return design


def _wood_gives(other: str, design: Design, value: float) -> Design:
    """Make a guessed thickness at least as thick as both skins; where it was measured, the other skin is thinner."""
    both = value + (at_path(design, other) or 0.0)
    for key in _THICK:
        thick = at_path(design, key)
        if thick is not None and thick < both:
            design = moved(design, key, both)
    thin = [thick for key in _THICK if (thick := at_path(design, key)) is not None and thick < both]
    return moved(design, other, max(0.0, min(thin) - value)) if thin else design


def _with_bearing(design: Design, value: Number) -> Design:
    """Set the pressure that the core supports [N/mm2]. An entry refuses more than its kind can support; a file does not."""
    most = materials.most_supported(design.transom.core)
    if value is not None and value > most:
        raise NonsenseError(f"core_bears is {value:g}; {most:g} is the most", "no core of its kind supports more")
    changed: Design = put_path(design, "transom.core_bears", value)
    return changed


def of_well(design: Design) -> tuple[Measure, ...]:
    """Return the measures of the well, of blocks inside and of fittings outside."""
    well = design.well
    edge = "inside top edge" if well is None or well.well_from == "inside top edge" else "outside top edge"
    blocks = tuple((block.name, len(block.outline)) for block in design.inside_blocks)
    around = _around(blocks, tuple((fitting.name, len(fitting.outline)) for fitting in design.outside_fittings), edge)
    if well is None:
        return around
    tilts = any(mount.tilt.points for mount in design.mounts)
    names = tuple(corner_name(well.profile, at) for at in range(len(well.profile)))
    return (*around, *_of_well(names, inside=well.well_from == "inside top edge", tilts=tilts))


@lru_cache(maxsize=16)
def _around(blocks: tuple[tuple[str, int], ...], fittings: tuple[tuple[str, int], ...], edge: str) -> tuple[Measure, ...]:
    """Return the measures of blocks inside and of fittings outside, by their names and their numbers of corners.

    Args:
        edge: that heights inside count from.
    """
    made = [
        shape(f"inside_blocks.{i}.outline", 3, f"Outline of {block}", "Measure each corner, inside.", "well",
              page="sketching#block")
        for i, (block, _) in enumerate(blocks)
    ]
    for i, (block, count) in enumerate(blocks):
        made += _corners_of(f"inside_blocks.{i}.outline", 3, block, count, f"From the {edge}, down along the inside.")
    made += [
        plain(f"inside_blocks.{i}.stands_out", 3, f"How far {block} sticks out", "From the inner face.", 1.0,
               spread="well", page="measuring#blocks", empty="without end")
        for i, (block, _) in enumerate(blocks)
    ]  # fmt: skip
    made += [
        shape(f"outside_fittings.{i}.outline", 1, f"Outline of {fitting}", "Measure each corner, outside.", "tape",
              page="sketching#fitting")
        for i, (fitting, _) in enumerate(fittings)
    ]
    for i, (fitting, count) in enumerate(fittings):
        made += _corners_of(f"outside_fittings.{i}.outline", 1, fitting, count, "From the outside top edge, along the face.")
    made += [
        plain(f"outside_fittings.{i}.stands_out", 1, f"How far {fitting} sticks out", "From the outer face.", 1.0,
              page="sketching#fitting", empty="without end",
              item=("Skins, fittings", f"fitting {i + 1}" if i else "fitting"))
        for i, (fitting, _) in enumerate(fittings)
    ]  # fmt: skip
    made += [
        plain(f"outside_fittings.{i}.drill", 1, f"Hole to be drilled for {fitting}",
              "Across the hole at its middle, for a cable, a hose or a tube.", 0.5, way="rule", free=True, empty="none",
              page="sketching#fitting")
        for i, (fitting, _) in enumerate(fittings)
    ]  # fmt: skip
    return tuple(made)


def _corners_of(key: str, section: int, name: str, count: int, down: str) -> list[Measure]:
    """Return the corners of a drawn part. The whole outline is the reading, so a corner alone is none."""
    page = "sketching#block" if section > 1 else "sketching#fitting"
    return [
        plain(f"{key}.{corner}.{axis}", section, f"{capital(name)}, corner {corner + 1}, {word}", how, 2.0, sign=sign,
              free=True, needed=True, page=page)
        for corner in range(count)
        for axis, word, how, sign in ((0, "across", "From the centreline. Starboard is plus.", 1.0), (1, "down", down, -1.0))
    ]  # fmt: skip


@lru_cache(maxsize=16)
def _of_well(corners: tuple[str, ...], *, inside: bool, tilts: bool) -> tuple[Measure, ...]:
    """Return the measures of a well.

    Args:
        corners: names of its profile's. inside: its heights count from the inside top edge. tilts: a motor's tilt is known.
    """
    made: list[Measure] = []
    edge = "inside top edge" if inside else "outside top edge"
    how = f"From the {edge} down along the inside of the transom, under the lower bolt."
    if len(corners) == 4:
        made += [
            Measure("well.floor_port", 3, "Floor depth at port", how, 1.5, "length", "well",
                    lambda d: floor_depth(d, -1), lambda d, value: _with_floor(d, -1, value),
                    usual=None, page="measuring#floor-depth-at-port-and-starboard",
                    item=("Floor depth", "port")),
            Measure("well.floor_starboard", 3, "Floor depth at starboard", how, 1.5, "length", "well",
                    lambda d: floor_depth(d, 1), lambda d, value: _with_floor(d, 1, value),
                    usual=None, page="measuring#floor-depth-at-port-and-starboard",
                    item=("Floor depth", "stbd")),
            Measure("well.floor_width", 3, "Width at the floor", "Across, along the floor.", 5.0, "length", "well",
                    lambda d: _width(d, 1, 2), lambda d, value: _with_width(d, 1, 2, value),
                    usual=50.0, page="measuring#widths-length-and-front", item=("Width of the well", "floor")),
            Measure("well.top_width", 3, "Width at the top", "Across, at the top of the well's sides.", 5.0, "length",
                    "well", lambda d: _width(d, 0, 3), lambda d, value: _with_width(d, 0, 3, value),
                    usual=50.0, page="measuring#widths-length-and-front", item=("Width of the well", "top")),
        ]  # fmt: skip
    else:
        for i, name in enumerate(corners):
            made += [
                plain(f"well.profile.{i}.0", 3, f"{name}, across", "From the centreline.", 3.0, spread="well",
                      usual=25.0, page="sketching#well", item=(f"Well corner {i + 1}", "across")),
                plain(f"well.profile.{i}.1", 3, f"{name}, depth", f"From the {edge}.", 1.5, spread="well",
                       sign=-1.0, usual=inches(4), page="sketching#well", item=(f"Well corner {i + 1}", "depth")),
            ]  # fmt: skip
    return (
        *(_with_adjusted_guesses(measure) for measure in made),
        shape("well.profile", 3, "Well profile", "Measure each corner, inside.", "well", usual=25.0, page="sketching#well"),
        plain("well.fillet_radius", 3, "Corner radius",
               "Slide a washer down until it rocks, or try coins or cards in the corner.", 1.5, spread="well",
               way="washer", usual=None, page="measuring#corner-radius"),
        plain("well.floor_rise", 3, "Floor slope",
               "Lay a level on the floor, fore and aft. Plus is a floor that rises forward.", 0.5,
               kind="angle", spread="rake", usual=None, page="measuring#floor-slope"),
        plain("well.length", 3, "Length forward", "Along the floor, from the transom to the front.", 5.0,
              usual=100.0, page="measuring#widths-length-and-front", item=("Front of the well", "length")),
        plain("well.front_lean", 3, "Lean of the front", "From plumb. Plus is a top that leans aft.", 2.0, kind="angle",
               spread="rake",
              usual=None, page="measuring#widths-length-and-front", item=("Front of the well", "lean")),
        plain("well.front_height", 3, "Front's lip, up", "From the datum up to the top of the front, plumb. Minus is below.",
              5.0, free=not tilts, usual=50.0, empty="not measured",
              page="measuring#tilt-and-lock", item=("Front of the well", "lip")),
    )  # fmt: skip


def of_papers(_: Design) -> tuple[Measure, ...]:
    """Return the measures of the boat's capacity plate and papers. None has to be known."""
    return _of_papers()


@cache
def _of_papers() -> tuple[Measure, ...]:
    return (
        plain("boat.plate.power_kw", 5, "Capacity plate, power", "From the boat's capacity plate. It comes before any rule.",
               0.0,
               kind="power", page="measuring#capacity-plate", empty="not known", item=("Capacity plate", "power")),
        plain("boat.plate.motor_mass", 5, "Capacity plate, motor", "The heaviest motor that it allows, if it says so.", 5.0,
               kind="mass", page="measuring#capacity-plate", empty="none", item=("Capacity plate", "motor")),
        plain("boat.plate.total_mass", 5, "Capacity plate, total weight", "Persons, motor and gear together.", 5.0,
               kind="mass", page="measuring#capacity-plate", empty="none", item=("Capacity plate", "in all")),
        plain("boat.plate.persons_mass", 5, "Capacity plate, persons", "The weight of persons that it allows.", 5.0,
               kind="mass", free=True, page="measuring#capacity-plate", empty="none"),
        plain("boat.length", 5, "Boat's length", "Over the deck in a straight line, without rails, brackets or handles.", 12.0,
              page="measuring#capacity-plate", empty="none", item=("The boat", "length")),
        plain("boat.beam", 5, "Boat's beam", "At the widest, from outside to outside, without rubbing strakes.", 12.0,
              page="measuring#capacity-plate", empty="none", item=("The boat", "beam")),
        plain("boat.transom_width", 5, "Transom's width",
               "At its widest. Is that under half the beam? Then take the widest place of the boat's last quarter.", 12.0,
              page="measuring#capacity-plate", empty="none", item=("The boat", "transom")),
        plain("boat.hull_mass", 5, "Boat's own weight", "Without motor, battery and fuel, from the builder's papers.", 10.0,
               kind="mass", free=True, page="measuring#capacity-plate", empty="none"),
        plain("boat.displacement", 5, "Displacement", "Of the boat swamped to its rail, from the builder's papers.", 10.0,
               kind="mass", free=True, page="measuring#capacity-plate", empty="none"),
        plain("boat.old_motor.power_kw", 5, "Old motor, power", "Of the motor that the boat had before.", 0.0, kind="power",
               free=True, page="measuring#the-old-motor", empty="not known"),
        plain("boat.old_motor.mass", 5, "Old motor, weight", "Of the motor that the boat had before, from its papers.", 5.0,
               kind="mass", free=True, page="measuring#the-old-motor", empty="not known"),
        plain("boat.old_motor.centre_aft", 5, "Old motor, balance point", "How far aft of the transom its balance point was.",
               25.0,
               free=True, usual=75.0, page="measuring#the-old-motor", empty="none"),
        *(
            plain(f"boat.afloat.{part}", 5, f"Afloat, {name} above the water", f"{_AFLOAT} {how}", 5.0,
                  free=True, usual=25.0, page="measuring#afloat", empty=empty)
            for part, name, how, empty in (
                ("top_edge", "top edge", "From the water up to the top edge, plumb, at the centreline.", "not measured"),
                ("scupper", "lowest scupper", "From the water up to its lower edge, plumb.", "none"),
                ("drain", "well’s drain", "From the water up to the lower edge of the drain hole, plumb.", "none"),
            )
        ),
    )  # fmt: skip


def of_old_holes(design: Design) -> list[Measure]:
    """Return the measures of all old holes."""
    return [
        measure for index, hole in enumerate(design.old_holes)
        for measure in _of_old_hole(index, hole.name, filled=hole.state == "plugged")
    ]  # fmt: skip


@lru_cache(maxsize=64)
def _of_old_hole(index: int, hole: str, *, filled: bool) -> tuple[Measure, ...]:
    """Return the measures of one old hole, by its name."""
    key = f"old_holes.{index}"
    across = plain(f"{key}.diameter", 4, f"{capital(hole)}, diameter", "Across the hole.", 0.5, way="calliper",
                   usual=1.6, page="measuring#old-holes", item=(capital(hole), "diameter"))
    plug = plain(f"{key}.plug_diameter", 4, f"{capital(hole)}, plug", "Across the plug.", 1.0,
                 usual=3.0, page="old-holes#their-state", item=(capital(hole), "plug"))
    return (
        plain(f"{key}.across", 4, f"{capital(hole)}, across", "From the centreline. Starboard is plus.", 0.8,
               edge=True, path=f"{key}.at.0", usual=6.0, page="measuring#old-holes", item=(capital(hole), "across")),
        plain(f"{key}.down", 4, f"{capital(hole)}, down", "From the top edge, along the face.", 0.8, sign=-1.0,
               edge=True, path=f"{key}.at.1", usual=6.0, page="measuring#old-holes", item=(capital(hole), "down")),
        *(in_order(across, plug) if filled else (across,)),
        plain(f"{key}.drill", 4, f"{capital(hole)}, new size", "For a cable, a hose or a tube. Across the hole.", 0.5,
              way="rule", free=True, empty="not opened", page="measuring#old-holes"),
    )  # fmt: skip


def floor_place(design: Design, side: int) -> float:
    """Return how far from the centreline the floor is measured: under the lower bolt at port (-1) or starboard (1) [mm]."""
    for mount in design.mounts:
        if mount.bracket.lower is not None and mount.offset is not None:
            return mount.offset + side * mount.bracket.lower.half_spacing
    return side * trade.STANDARD_PATTERN.lower_half_spacing


def floor_depth(design: Design, side: int) -> Number:
    """Return the floor's depth at one side [mm]: on the floor's line; while that is not known, as it was read there."""
    if design.well is None:
        return None
    (ua, ya), (ub, yb) = design.well.profile[1], design.well.profile[2]
    if ua is None or ya is None or ub is None or yb is None or ub - ua < 1e-9:
        reading = design.readings.get(_FLOORS[side])
        kept = reading is not None and (ua is None or ub is None or _FLOORS[-side] not in design.readings)
        return reading.value if reading is not None and kept else None
    return -(ya + (yb - ya) * (floor_place(design, side) - ua) / (ub - ua))


def _with_floor(design: Design, side: int, depth: Number) -> Design:
    """Set the floor's depth at one side, tilting it about its reading at the other; a first reading counts for both.

    While one side is not known, neither is the floor's line; what was measured at the other is kept by its reading, and a
    guess there goes along.

    Raises:
        NonsenseError: the floor is no lower than the edge that it is measured from.
    """
    above_zero(**{_FLOORS[side]: depth})
    other = floor_depth(design, -side)
    if depth is None:
        reading = design.readings.get(_FLOORS[-side])
        if reading is not None and reading.state == "guess":
            return _floor_through(without_reading(design, _FLOORS[-side]), None, None)
        return _floor_through(_with_readings(design, -side), None, None)
    other = depth if other is None else other
    return _floor_through(design, *((depth, other) if side < 0 else (other, depth)))


def _floor_through(design: Design, port: Number, starboard: Number) -> Design:
    """Put the floor's corners on the line through its depths under the lower bolts; not known where one of them is not."""
    if design.well is None:
        return design
    left, right = floor_place(design, -1), floor_place(design, 1)

    def height(u: Number) -> Number:
        if u is None or port is None or starboard is None:
            return None
        return -port - (starboard - port) * (u - left) / (right - left)

    first, *floor, last = design.well.profile
    changed: Design = put_path(design, "well.profile", (first, *((u, height(u)) for u, _ in floor), last))
    return changed


def _with_readings(design: Design, *sides: int) -> Design:
    """Give the floor's depths readings that say them, so that they outlive its line; one without counts as measured."""
    readings = dict(design.readings)
    for side in sides:
        depth, reading = floor_depth(design, side), readings.get(_FLOORS[side], _NO_READING)
        if depth is not None and (reading.value is None or abs(reading.value - depth) > CLOSE):  # moved since, by hand
            readings[_FLOORS[side]] = msgspec.structs.replace(reading, text="", value=depth)
    return msgspec.structs.replace(design, readings=readings)


def _width(design: Design, left: int, right: int) -> Number:
    if design.well is None:
        return None
    ua, ub = design.well.profile[left][0], design.well.profile[right][0]
    return None if ua is None or ub is None else ub - ua


def _ends(design: Design, left: int, right: int, width: Number) -> tuple[Number, Number]:
    """Return where two corners are with a width between them: the middle of the two stays where it is."""
    if design.well is None or width is None:
        return None, None
    ua, ub = design.well.profile[left][0], design.well.profile[right][0]
    middle = 0.0 if ua is None or ub is None else (ua + ub) / 2
    return middle - width / 2, middle + width / 2


def _with_width(design: Design, left: int, right: int, width: Number) -> Design:
    """Set a width, the middle of the two corners staying where it is; a floor's corners slide along it."""
    if design.well is None:
        return design
    (_, ya), (_, yb) = design.well.profile[left], design.well.profile[right]
    corners = list(design.well.profile)
    ends = _ends(design, left, right, width)
    corners[left], corners[right] = (ends[0], ya), (ends[1], yb)
    if (left, right) != (1, 2):
        changed: Design = put_path(design, "well.profile", tuple(corners))
        return changed
    port, starboard = floor_depth(design, -1), floor_depth(design, 1)
    read = _with_readings(design, -1, 1) if width is None else design
    return _floor_through(put_path(read, "well.profile", tuple(corners)), port, starboard)


def _other_floor_gives(other: int, design: Design, value: float) -> Design:
    """Take a guess of the floor's depth at the other side to the same depth."""
    if not is_guess(design, _FLOORS[other]):
        return design
    return still_guessed(_floor_through(design, value, value), _FLOORS[other], value)


def _top_width_gives(design: Design, value: float) -> Design:
    """Make a well whose top width is a guess as wide at the top as its floor will be."""
    left, right = _ends(design, 1, 2, value)
    (ua, ya), *floor, (ub, yb) = design.well.profile if design.well is not None else ((None, None),) * 4
    if not is_guess(design, "well.top_width") or left is None or right is None or ua is None or ub is None:
        return design
    ua, ub = min(ua, left), max(ub, right)
    wider: Design = put_path(design, "well.profile", ((ua, ya), *floor, (ub, yb)))
    return still_guessed(wider, "well.top_width", ub - ua)


def _floor_width_gives(design: Design, value: float) -> Design:
    """Make a floor whose width is a guess as narrow as the well's top will be; its corners slide along it."""
    left, right = _ends(design, 0, 3, value)
    first, (ua, ya), (ub, yb), last = design.well.profile if design.well is not None else ((None, None),) * 4
    if not is_guess(design, "well.floor_width") or left is None or right is None or ua is None or ub is None:
        return design
    port, starboard = floor_depth(design, -1), floor_depth(design, 1)
    ua, ub = max(ua, left), min(ub, right)
    narrower = _floor_through(put_path(design, "well.profile", (first, (ua, ya), (ub, yb), last)), port, starboard)
    return still_guessed(narrower, "well.floor_width", ub - ua)


def _corners_give(index: int, design: Design, value: float) -> Design:
    """Push guessed corners of a well's line out of the way, the outermost first: it runs from port to starboard all along."""
    corners = enumerate(design.well.profile if design.well is not None else ())
    for at, (u, _) in sorted(corners, key=lambda corner: -abs(corner[0] - index)):
        if u is not None and at != index and (u < value) == (at > index):
            design = moved(design, f"well.profile.{at}.0", value)
    return design


_GIVES: dict[str, Give] = {
    "transom.thickness.top": partial(_thickness_gives, "transom.thickness.low"),
    "transom.thickness.low": partial(_thickness_gives, "transom.thickness.top"),
    "transom.thickness.low_at": _taper_gives,
    "transom.skin_outside": partial(_wood_gives, "transom.skin_inside"),
    "transom.skin_inside": partial(_wood_gives, "transom.skin_outside"),
    "well.floor_port": partial(_other_floor_gives, 1),
    "well.floor_starboard": partial(_other_floor_gives, -1),
    "well.floor_width": _top_width_gives,
    "well.top_width": _floor_width_gives,
}


def _with_adjusted_guesses(measure: Measure) -> Measure:
    """Return a measure of the transom or the well with the guesses that yield to it."""
    give = _GIVES.get(measure.key)
    if measure.key.startswith("well.profile.") and measure.key.endswith(".0"):
        give = partial(_corners_give, int(measure.key.split(".")[2]))
    return measure if give is None else with_adjustment(measure, give)
