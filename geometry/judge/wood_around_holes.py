"""Checks of the wood: edges, the top edge, old holes, and whether heads and washers are flat on it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.validity import CLOSE
from geometry.judge.reporter import INNER_KEYS, Outcome, Reporter, bolt_keys
from geometry.solid.faces import need
from geometry.solid.openings import openings
from geometry.solid.outline import below_top
from geometry.tables.known import inches

if TYPE_CHECKING:
    from geometry.design.boat import OldHole
    from geometry.design.design import Design
    from geometry.solid.openings import Opening
    from geometry.solid.placed_bolts import Bolt
    from geometry.units.units import Unit

NEAR = 4.0  # bolt diameters: an old hole matters up to there. Timber spacing of bolts is 4 d (EN 1995-1-1 table 8.4)
THIN_WALL = 3.175  # [mm] of wood between a plug and a new hole: with less, one long plug covers both; our assumption
LARGEST_PLUG = inches(1.25)  # a wider hole needs a disc of wood, a separate repair: common practice, no source
_DRILLS = {"in": inches(1 / 8), "mm": 2.0}  # [mm] steps between drill sizes
TOP_EDGE = "outer top edge"
PLUG_DIAMETERS, LEAST_WIDER = 2.0, 6.35  # an old hole is bored to twice its size, by at least 1/4 in: common practice


def wood(report: Reporter) -> None:
    """Add the findings of edges, seats and old holes of every bolt."""
    for bolt in report.bolts:
        _edge(report, bolt, outer=True)
        _edge(report, bolt, outer=False)
        _top_edge(report, bolt)
        _seat(report, bolt)
    _old_holes(report)


def _edge(report: Reporter, bolt: Bolt, *, outer: bool) -> None:
    face = "outer" if outer else "inner"
    edge = f"edge of the {face} face"
    rests = ("transom.outline", *(() if outer else INNER_KEYS), *bolt_keys(bolt))

    def look() -> Outcome:
        rim = report.outer_rim if outer else report.inner_rim
        at = (bolt.u, bolt.v) if outer else (bolt.exit.u, bolt.exit.w)
        apart = rim.signed_distance(at)
        value = apart / bolt.thread.diameter
        least, advised = report.design.limits.edge_diameters
        figure = f"{report.room(apart)} from the edge of the {face} face, {math.floor(value * 10 + CLOSE) / 10:g} diameters"
        if apart < 0:
            text = f"The {bolt.name} hole is {report.overlap(apart)} beyond the edge of the {face} face."
            return Outcome(value, text, f"Move the {bolt.pair} bolts onto the transom.", against=edge)
        if value < least - CLOSE:
            text = f"The {bolt.name} hole is only {figure}; at least {least:g} are needed."
            return Outcome(value, text, f"Move the {bolt.pair} bolts away from the edge.", against=edge)
        if value < advised - CLOSE:
            text = f"The {bolt.name} hole is {figure}; {advised:g} are advised."
            cure = f"Move the {bolt.pair} bolts away from the edge if the bracket's holes allow it."
            return Outcome(value, text, cure, against=edge)
        return Outcome(value, f"The {bolt.name} hole is {figure}.", against=edge)

    limits = report.design.limits.edge_diameters
    report.add("edge", f"{bolt.at} / {face} face", limits, "diameters", rests, (bolt.mount_index,), look)


def _top_edge(report: Reporter, bolt: Bolt) -> None:
    """Add how far a hole is below the outer top edge. Where no top is above it, `edge` has the finding."""
    limits = report.design.limits.top_edge
    place = tuple(key for key in bolt_keys(bolt) if not key.endswith("_tilt"))

    def look() -> Outcome | None:
        value = below_top(report.design.transom, (bolt.u, bolt.v), bolt.thread.diameter)
        if value is None:
            return None
        least, advised = limits
        text = f"The {bolt.name} hole is {report.room(value)} below the transom's top edge"
        if value < least - CLOSE:
            cure = "Move the upper holes down, or raise the motor one hole." if bolt.upper else "Move the lower holes down."
            return Outcome(value, f"{text}; at least {report.limit(least)} is needed.", cure, against=TOP_EDGE)
        if value < advised - CLOSE:
            cure = f"Move the {bolt.pair} holes down if the bracket's holes allow it."
            return Outcome(value, f"{text}; {report.limit(advised)} is advised.", cure, against=TOP_EDGE)
        return Outcome(value, f"{text}.", against=TOP_EDGE)

    report.add("top_edge", bolt.at, limits, "mm", ("transom.outline", *place), (bolt.mount_index,), look)


def _seat(report: Reporter, bolt: Bolt) -> None:
    rests: tuple[str, ...] = ("transom.thickness", bolt.key(f"{bolt.pair}_tilt"), bolt.hardware_key("wedge"))
    if bolt.mount.upper_tilt if bolt.upper else bolt.mount.lower_tilt:  # then the bracket's hole matters too
        holes = bolt.key(f"bracket.{'rows' if bolt.upper else 'lower'}")
        rests = (*rests, f"{holes}.diameter", f"{holes}.pad_thickness")

    def look() -> Outcome:
        tilt = bolt.tilt
        lean = tilt - math.degrees(bolt.faces.taper)  # from the inner face, at any place on the boat
        wedge = need(bolt.hardware.wedge, bolt.hardware_key("wedge"))
        value = max(abs(lean - wedge), abs(tilt))
        limit = _tilt_limit(bolt) if tilt else None
        if limit is not None and abs(tilt) > limit + CLOSE:
            text = (
                f"The {bolt.name} bolt leans {report.angle(abs(tilt))} in the bracket's hole, "
                f"which allows {report.angle(limit)}."
            )
            return Outcome(value, text, "Drill square to the face.", "fouled")
        _, advised = report.design.limits.seat_angle
        if value > advised + CLOSE:
            side = "head" if abs(tilt) >= abs(lean - wedge) else "washer"
            text = f"The {side} of the {bolt.name} bolt is {report.angle(value)} off flat."
            cure = f"Put a wedge of {report.angle(abs(lean))} under the inside washer."
            if side == "head":
                cure = "Drill square to the face."
            return Outcome(value, text, cure)
        return Outcome(value, f"Head and washer of the {bolt.name} bolt are flat within {report.angle(value)}.")

    report.add("seat", bolt.at, report.design.limits.seat_angle, "degrees", rests, (bolt.mount_index,), look)


def _tilt_limit(bolt: Bolt) -> float | None:
    """Return how far a bolt can lean in the bracket's hole [degrees], None where nothing limits it.

    Raises:
        Unmeasured: the bracket's hole, or its pad, is not known.
    """
    field, spread = ("rows", bolt.mount.bracket.rows) if bolt.upper else ("lower", bolt.mount.bracket.lower)
    if spread is None:
        return None
    play = need(spread.diameter, bolt.key(f"bracket.{field}.diameter")) - bolt.thread.diameter
    pad = need(spread.pad_thickness, bolt.key(f"bracket.{field}.pad_thickness"))
    return math.degrees(math.atan(max(0.0, play) / pad)) if pad > 0 else None


def _old_holes(report: Reporter) -> None:
    for index, hole in enumerate(report.design.old_holes):
        if hole.drill is not None:
            continue  # it is an opening
        if hole.is_reused:
            _reused(report, hole, index)
            continue
        for bolt in report.bolts:
            _next_to(report, bolt, hole, index)
    for opening in openings(report.design):
        for bolt in report.bolts:
            _next_to_opening(report, bolt, opening)


def _next_to_opening(report: Reporter, bolt: Bolt, opening: Opening) -> None:
    """Add the wood between a bolt's hole and a hole to be drilled for a cable or a hose, on the worse of both faces."""
    limits = report.design.limits.wood_between_diameters

    def look() -> Outcome | None:
        u, v = opening.at
        outer = math.hypot(bolt.u - u, bolt.v - v)
        inner = math.hypot(bolt.exit.u - u, bolt.exit.w - bolt.faces.square_across(v))
        between = min(outer, inner) - (opening.diameter + bolt.hole) / 2
        if between >= NEAR * bolt.thread.diameter - CLOSE:
            return None
        value = between / bolt.thread.diameter
        hole = f"the hole to be drilled for {opening.name}"
        text = f"The {bolt.name} hole leaves {report.room(max(between, 0.0))} of wood next to {hole}."
        if between < -CLOSE:
            text = f"The {bolt.name} hole overlaps {hole} by {report.overlap(between)}."
        cure = f"Drill that hole smaller or elsewhere, or move the {bolt.pair} bolts."
        return Outcome(value, text, cure if value < limits[1] - CLOSE else None, against=opening.name)

    rests = (opening.key, "transom.thickness", *bolt_keys(bolt), bolt.hardware_key("hole"))
    report.add("old_hole", f"{bolt.at} / {opening.name}", limits, "diameters", rests, (bolt.mount_index,), look)


def wood_between(bolt: Bolt, hole: OldHole, index: int) -> float:
    """Return the wood left between a new hole and an old one, or its plug, on the worse of both faces [mm].

    Below 0 where they overlap. For a new hole wholly inside a plug, it is the rest of the plug around it.

    Raises:
        Unmeasured: a reading behind it is missing.
    """
    plugged = hole.state == "plugged"
    size = need(hole.plug_diameter, f"old_holes.{index}.plug_diameter") if plugged else None
    old, new = (need(hole.diameter, f"old_holes.{index}.diameter") if size is None else size) / 2, bolt.hole / 2
    aparts = centres_apart(bolt, hole, index)
    if plugged:
        return min(max(apart - old - new, old - apart - new) for apart in aparts)
    return min(aparts) - old - new


def centres_apart(bolt: Bolt, hole: OldHole, index: int) -> tuple[float, float]:
    """Return the distance of the centres on the outer and on the inner face [mm].

    An old hole runs square to the outer face.
    """
    u = need(hole.at[0], f"old_holes.{index}.across")
    v = need(hole.at[1], f"old_holes.{index}.down")
    outer = math.hypot(bolt.u - u, bolt.v - v)
    inner = math.hypot(bolt.exit.u - u, bolt.exit.w - bolt.faces.square_across(v))
    return outer, inner


def _hole_keys(bolt: Bolt, index: int) -> tuple[str, ...]:
    return (f"old_holes.{index}.", "transom.thickness", *bolt_keys(bolt), bolt.hardware_key("hole"))


def _next_to(report: Reporter, bolt: Bolt, hole: OldHole, index: int) -> None:
    plugged = hole.state == "plugged"
    limits = report.design.limits.plug_wall if plugged else report.design.limits.wood_between_diameters

    def look() -> Outcome | None:
        apart = min(centres_apart(bolt, hole, index))
        if apart >= NEAR * bolt.thread.diameter - CLOSE:
            return None
        if plugged:
            return _plug(report, bolt, hole, index, apart)
        between = wood_between(bolt, hole, index)
        value = between / bolt.thread.diameter
        if between < -CLOSE:
            text = f"The {bolt.name} hole overlaps {hole.name} by {report.overlap(between)}."
        else:
            only = "only " if value < limits[0] - CLOSE else ""
            text = f"The {bolt.name} hole leaves {only}{report.room(between)} of wood next to {hole.name}."
        return Outcome(value, text, _cure(bolt, hole, index) if value < limits[1] - CLOSE else None, against=hole.name)

    unit = "mm" if plugged else "diameters"
    at = f"{bolt.at} / {hole.name}"
    report.add("old_hole", at, limits, unit, _hole_keys(bolt, index), (bolt.mount_index,), look)


class Filling(msgspec.Struct, frozen=True):
    """How an old hole is bored out and filled.

    Attributes:
        bore: across the plug. run: length of a long plug from the old hole to the new one, 0 for a round plug [mm].
        takes_in: whether the new hole is wholly inside it.
    """

    bore: float
    run: float
    takes_in: bool


def plug_bore(diameter: float) -> float:
    """Return the diameter to which an old hole is bored out for its plug [mm]."""
    return max(PLUG_DIAMETERS * diameter, diameter + LEAST_WIDER)


def core_bore(bolt: Bolt) -> float:
    """Return the diameter to which the core around a new hole is bored out, to be filled and drilled again [mm].

    Twice the bolt, and at least 1/4 in more than the hole: common practice. The work, the epoxy to buy and the load on the
    filled hole all follow from it.

    Raises:
        Unmeasured: the hole's diameter is not known.
    """
    return stocked(max(plug_bore(bolt.thread.diameter), bolt.hole + LEAST_WIDER), bolt.design.units)


def stocked(diameter: float, unit: Unit) -> float:
    """Return the next larger size of a drill [mm]."""
    step = _DRILLS[unit]
    return math.ceil(diameter / step - CLOSE) * step


def filling(hole: OldHole, index: int, design: Design, bolt: Bolt | None) -> Filling | None:
    """Return how to fill an old hole so that a new one is wholly out of the plug or wholly in it, on both faces.

    Round, where the new hole is far enough off. A wider round plug, where that covers the new hole. Else a long plug, wide
    enough for both holes. An old plug is bored out completely. None where the hole or its plug is too wide for a plug.

    Raises:
        Unmeasured: a place, or a size, is not known.
    """
    field = "plug_diameter" if hole.state == "plugged" else "diameter"
    size = need(getattr(hole, field), f"old_holes.{index}.{field}")
    unit, wall = design.units, design.limits.plug_wall[1]
    if size > LARGEST_PLUG + CLOSE:
        return None
    bore = size if hole.state == "plugged" else stocked(plug_bore(size), unit)
    if bolt is None:
        return Filling(bore, 0.0, takes_in=False)
    aparts = centres_apart(bolt, hole, index)
    if min(aparts) - (bore + bolt.hole) / 2 >= THIN_WALL - CLOSE:
        return Filling(bore, 0.0, takes_in=False)
    both = max(bore, stocked(2 * (max(aparts) + bolt.hole / 2 + wall), unit))
    if both <= LARGEST_PLUG + CLOSE:
        return Filling(both, 0.0, takes_in=True)
    wide = stocked(max(plug_bore(bolt.thread.diameter), bolt.hole + 2 * wall), unit)
    return Filling(max(bore, wide), max(aparts), takes_in=True)


def covers(bolt: Bolt, hole: OldHole, index: int) -> bool:
    """Return whether a new hole covers an old one on both faces, so that the old one may be used again.

    Raises:
        Unmeasured: a reading behind it is missing.
    """
    if hole.state == "plugged":
        return False
    play = bolt.hole - need(hole.diameter, f"old_holes.{index}.diameter")
    return max(centres_apart(bolt, hole, index)) <= play / 2 + CLOSE


def _cure(bolt: Bolt, hole: OldHole, index: int) -> str:
    """Say how to fill an open hole, or renew a plug, before the new hole is drilled."""
    if covers(bolt, hole, index):
        return f"Use it again: the {bolt.name} hole covers all of it. Or move the {bolt.pair} bolts."
    plug = filling(hole, index, bolt.design, bolt)
    if plug is None:
        return f"Move the {bolt.pair} bolts, or fit a disc of wood first: {hole.name} is too wide for a plug."
    if not plug.takes_in:
        return f"Fill the old hole with a structural plug first, or move the {bolt.pair} bolts."
    kind = "long plug" if plug.run else "wider plug"
    verb = "First bore out the plug and fill the hole" if hole.state == "plugged" else "First fill the old hole"
    return f"{verb} with one {kind} that covers the {bolt.name} hole too, or move the {bolt.pair} bolts."


def _plug(report: Reporter, bolt: Bolt, hole: OldHole, index: int, apart: float) -> Outcome:
    """Return whether the new hole is wholly in or wholly out of the plug, on the worse of the two faces."""
    value = wood_between(bolt, hole, index)
    if value < -CLOSE:
        text = f"The {bolt.name} hole cuts the edge of the plug in {hole.name} by {report.overlap(value)}."
        return Outcome(value, text, _cure(bolt, hole, index), against=hole.name)
    where = "inside" if apart < need(hole.plug_diameter, f"old_holes.{index}.plug_diameter") / 2 else "clear of"
    text = f"The {bolt.name} hole is {where} the plug in {hole.name} by {report.room(value)}."
    tight = value < report.design.limits.plug_wall[1] - CLOSE
    cure = f"Move the {bolt.pair} bolts a little if the bracket's holes allow it." if tight else None
    return Outcome(value, text, cure, against=hole.name)


def _reused(report: Reporter, hole: OldHole, index: int) -> None:
    """Add whether the nearest new hole uses an old one that is meant to be used."""
    if not report.bolts:
        return
    named: list[Bolt] = []

    def look() -> Outcome:
        bolt = min(report.bolts, key=lambda bolt: max(centres_apart(bolt, hole, index)))
        named.append(bolt)
        off = max(centres_apart(bolt, hole, index))
        allowed = (bolt.hole - need(hole.diameter, f"old_holes.{index}.diameter")) / 2
        if off <= allowed + CLOSE:
            return Outcome(off, f"The {bolt.name} bolt uses {hole.name}.", None, "note", hole.name)
        text = f"The {bolt.name} hole misses {hole.name}, which it is meant to use, by {report.size(off)}."
        return Outcome(off, text, f"Move the {bolt.pair} bolts onto {hole.name}, or don't use it again.", "fouled", hole.name)

    before = len(report.findings)
    rests = tuple(dict.fromkeys(key for bolt in report.bolts for key in _hole_keys(bolt, index)))
    mounts = tuple(dict.fromkeys(bolt.mount_index for bolt in report.bolts))
    report.add("old_hole", f"{report.bolts[0].mount.name} / {hole.name}", (None, None), "mm", rests, mounts, look)
    if named and len(report.findings) > before:
        finding = report.findings[-1]
        report.findings[-1] = replace(finding, at=f"{named[0].at} / {hole.name}", mounts=(named[0].mount_index,))
