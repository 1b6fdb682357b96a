"""Checks of the bracket: its support, its slots, its hook, the motor's height, and clamps without bolts."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.reporter import NO_LIMITS, Outcome, Reporter
from geometry.solid.bracket_holes import (
    bracket_ring,
    hook_gap,
    mount_key,
    plate_height,
    play,
    round_hole,
    slot_place,
)
from geometry.solid.faces import Unmeasured, faces, need, need_all
from geometry.solid.farthest_point import farthest
from geometry.solid.planes import inside, sides, to_line
from geometry.solid.ring_cutting import box, left_of_line, plainly_apart
from geometry.tables import trade
from geometry.units.units import format_length

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from geometry.design.boat import Fitting
    from geometry.design.design import Design
    from geometry.design.motor import Mount
    from geometry.solid.planes import Point

STICKER = 0.4  # [mm] that a fitting may stand out under a bracket, as a sticker does: our assumption
COVERED = "covered"
HARD_PAD = 3.0  # [mm] a gap from here on needs a hard pad under the hook: our assumption, an eighth of an inch
SET_BACK_SHARE = 1 / 12  # of the set-back: the AV plate may be so much higher. An inch for each foot: common practice
JAW_SPARE = (0.0, 3.0)  # [mm] our assumption
ANOTHER = "Use another upper hole of the bracket, or another drop."
SLOT, TOP = "end of the slot", "outer top edge"
_FAR = 1e5


def brackets(report: Reporter) -> None:
    """Add the findings that do not depend on the upper hole in use."""
    for index in range(len(report.design.mounts)):
        _clamp_on(report, index)


def rows(report: Reporter) -> None:
    """Add the findings that depend on the upper hole in use."""
    for index in range(len(report.design.mounts)):
        _bearing(report, index)
        _row(report, index)
        _hook(report, index)
        _height(report, index)


def _place_keys(index: int) -> tuple[str, ...]:
    return tuple(mount_key(index, field) for field in ("upper_at", "offset", "row", "bracket.rows", "bracket.outline"))


def _bearing(report: Reporter, index: int) -> None:
    mount = report.design.mounts[index]
    rests = ("transom.outline", "outside_fittings", mount_key(index, "set_back"), *_place_keys(index))

    def look() -> Outcome:
        off, over, _ = bracket_overhang(report.design, index)
        worst = max(off, over[0])
        if worst <= CLOSE:
            return Outcome(0.0, f"The {mount.name}'s bracket rests wholly on the transom.")
        if over[0] > off:
            text = f"The {mount.name}'s bracket overlaps the {over[1]} by {report.overlap(-over[0])}."
            high = next(fitting.stands_out for fitting in report.design.outside_fittings if fitting.name == over[1])
            if high is not None:
                text = f"{text} It sticks out {format_length(high, report.design.units)}."
            return Outcome(-worst, text, f"Move the {over[1]} or the bracket.", against=over[1])
        text = f"The {mount.name}'s bracket extends {report.overlap(-off)} beyond the transom's face."
        return Outcome(-worst, text, "Move the bracket, or use another of its upper holes.", against="edge of the outer face")

    report.add("bearing", mount.name, (0.0, 0.0), "mm", rests, (index,), look)
    report.add("bearing", f"{mount.name} / {COVERED}", NO_LIMITS, "mm", rests, (index,), lambda: _covered(report, index))
    try:
        above = bracket_overhang(report.design, index)[2]
    except Unmeasured:
        return
    if above > CLOSE and mount.bracket.rows is not None:
        text = f"The {mount.name}'s bracket is {report.size(above)} above the transom's top."
        report.add(
            "bearing", f"{mount.name} / above the top", NO_LIMITS, "mm", rests, (index,),
            lambda: Outcome(above, text, None, "note"),
        )  # fmt: skip


def clears(fitting: Fitting, mount: Mount) -> bool:
    """Return whether a bracket clears a fitting under it: one as thin as a sticker, or one within the bracket's set-back."""
    return fitting.stands_out is not None and fitting.stands_out <= (mount.set_back or 0.0) + STICKER + CLOSE


def _covered(report: Reporter, index: int) -> Outcome | None:
    """Report the highest of the fittings that the bracket covers and clears: a note. None where there is none."""
    design, mount = report.design, report.design.mounts[index]
    try:
        ring = bracket_ring(mount, index)
        under = [
            (fitting.stands_out or 0.0, fitting.name) for number, fitting in enumerate(design.outside_fittings)
            if clears(fitting, mount) and _over(ring, tuple(need_all(fitting.outline, _outline_key(number)))) > CLOSE
        ]  # fmt: skip
    except Unmeasured:
        return None  # the support's own finding names it
    if not under:
        return None
    high, name = max(under)
    text = f"The {mount.name}'s bracket covers the {name}, which"
    if mount.set_back:
        text = f"{text} sticks out {format_length(high, design.units)}."
        return Outcome(
            high, f"{text} The bracket is {format_length(mount.set_back, design.units)} off the face.", None, "note"
        )
    return Outcome(high, f"{text} is as thin as a sticker.", f"Remove the {name}, or bed the bracket flat on sealant.", "note")


def _outline_key(number: int) -> str:
    return f"outside_fittings.{number}.outline"


def bracket_overhang(design: Design, index: int) -> tuple[float, tuple[float, str], float]:
    """Return how far the bracket reaches off the face, over a fitting (and which), and above the transom's top [mm].

    The local top is the highest v of the outline at a place across. Below it, each point of the bracket must be on the face
    and off the fittings.

    Raises:
        Unmeasured: its place, the outline or a fitting is not known.
    """
    ring = bracket_ring(design.mounts[index], index)
    outline = tuple(need_all(design.transom.outline, "transom.outline"))
    over = (0.0, "")
    for number, fitting in enumerate(design.outside_fittings):
        if not clears(fitting, design.mounts[index]):
            reach = _over(ring, tuple(need_all(fitting.outline, _outline_key(number))))
            over = max(over, (reach, fitting.name))
    off, above = _off_face(ring, outline)
    return off, over, above


@lru_cache(maxsize=64)
def _off_face(ring: tuple[Point, ...], outline: tuple[Point, ...]) -> tuple[float, float]:
    """Return how far a bracket reaches off the face below its top, and how far above it [mm]."""
    plain = _plainly_off_face(ring, outline)
    if plain is not None:
        return plain
    import shapely  # a large library: loaded only where the simple way gives no answer

    face, shade = _areas(outline)
    beyond = shapely.Polygon(ring).difference(face)
    if beyond.is_empty:
        return 0.0, 0.0
    parts = beyond.difference(shade), beyond.intersection(shade)
    off, above = (0.0 if part.area < CLOSE else farthest(part, face) for part in parts)  # slivers from rounding do not count
    return off, above


def _plainly_off_face(ring: tuple[Point, ...], outline: tuple[Point, ...]) -> tuple[float, float] | None:
    """Return the same for a simple outline, else None.

    In a simple outline at most one edge is near, and it is a top that runs past both sides.
    """
    left, bottom, right, top = box(ring)
    edges = sides(outline)
    near = [edge for edge in edges if _apart(edge, (left, bottom, right, top)) <= CLOSE]
    if not inside(((left + right) / 2, bottom), outline) or len(near) > 1:
        return None
    if not near:
        return 0.0, 0.0
    a, b = sorted(near[0])
    if not (a[0] < left and right < b[0]):
        return None
    above = left_of_line(ring, a, b)
    if above is None:
        return None
    height = max((to_line(corner, (a, b)) for corner in above), default=0.0)
    slope = abs(b[1] - a[1]) / (b[0] - a[0])
    if a[0] > left - height * slope - CLOSE or b[0] < right + height * slope + CLOSE:
        return None  # the nearest place may be the end of the edge
    for edge in edges:
        over = max(edge[0][1], edge[1][1]) > min(a[1], b[1])
        shades = over and min(edge[0][0], edge[1][0]) < right and max(edge[0][0], edge[1][0]) > left
        if edge is not near[0] and (shades or _apart(edge, (left, bottom, right, top)) <= height):
            return None
    return 0.0, height


def _apart(edge: tuple[Point, Point], of: tuple[float, float, float, float]) -> float:
    """Return the gap between an edge's box and another, on the axis where it is greatest. Below 0 they overlap."""
    (ax, ay), (bx, by) = edge
    return max(min(ax, bx) - of[2], of[0] - max(ax, bx), min(ay, by) - of[3], of[1] - max(ay, by))


@lru_cache(maxsize=16)
def _areas(outline: tuple[Point, ...]) -> tuple[BaseGeometry, BaseGeometry]:
    """Return the face, and the area above its local top: above an edge there, and below none."""
    import shapely

    face = shapely.Polygon(outline)
    edges = [(a, b) for a, b in zip(outline, outline[1:] + outline[:1], strict=True) if abs(a[0] - b[0]) > CLOSE]
    above, below = (
        shapely.union_all([shapely.Polygon((a, b, (b[0], end), (a[0], end))) for a, b in edges]) for end in (_FAR, -_FAR)
    )
    return face, above.difference(below).difference(face)


def _over(ring: tuple[tuple[float, float], ...], fitting: tuple[tuple[float, float], ...]) -> float:
    """Return how far a bracket reaches over a fitting [mm]: the greatest distance from the fitting's edge, inside both."""
    if plainly_apart(ring, fitting):
        return 0.0
    import shapely

    bracket, shape = shapely.Polygon(ring), shapely.Polygon(fitting)
    both = bracket.intersection(shape)
    return 0.0 if both.area < CLOSE else farthest(both, shape.exterior)


def _row(report: Reporter, index: int) -> None:
    mount = report.design.mounts[index]
    spread, lower = mount.bracket.rows, mount.bracket.lower
    if spread is None or lower is None:
        return
    rests = (mount_key(index, "drop"), mount_key(index, "row"), mount_key(index, "bracket.lower"),
             mount_key(index, "bracket.rows"))  # fmt: skip

    def look() -> Outcome:
        row = need(None if mount.row is None else float(mount.row), mount_key(index, "row"))
        place = row * spread.pitch + need(mount.drop, mount_key(index, "drop"))
        value = slot_place(lower, place)
        if value < -CLOSE:
            need(lower.diameter, mount_key(index, "bracket.lower.diameter"))  # else nobody knows whether the play reaches
        spare = play(mount, index)
        least, advised = report.design.limits.slot_end
        if value < -spare - CLOSE:
            text = f"With this upper hole the lower bolts miss the slot by {report.overlap(value)}."
            return Outcome(value, text, ANOTHER, "fouled", SLOT)
        if round_hole(lower, place):
            return Outcome(value, "The lower bolts meet the bracket's round holes within their play.", None, "clear")
        if value < -CLOSE:
            text = f"The lower bolts just reach the slot by the hole's play: they are {report.overlap(value)} beyond its end."
            return Outcome(value, text, ANOTHER, "tight", SLOT)
        if value < advised - CLOSE or value < least:
            near = f"The lower bolts are {report.room(value)} from the end of the slot"
            text = f"{near}; {report.limit(advised)} is advised."
            return Outcome(value, text, "Make the drop a little longer if the floor allows it.", "tight", SLOT)
        return Outcome(value, f"The lower bolts are {report.room(value)} from the end of the slot.", None, "clear", SLOT)

    report.add("row", mount.name, report.design.limits.slot_end, "mm", rests, (index,), look)


def hard_pad(design: Design, index: int) -> float | None:
    """Return the thickness of the hard pad that a motor's bracket hook needs [mm], None where it needs none.

    Raises:
        Unmeasured: its place, or the outline, is not known.
    """
    gap = hook_gap(design, index)
    return gap if gap >= HARD_PAD - CLOSE else None


def _hook(report: Reporter, index: int) -> None:
    mount = report.design.mounts[index]
    if mount.bracket.rows is None:
        return

    def look() -> Outcome:
        gap = hook_gap(report.design, index)
        if gap < -CLOSE:
            text = f"The bracket hook hits the transom's top {report.overlap(gap)} before the holes line up."
            return Outcome(gap, text, "Raise the motor one hole, or move the upper holes down.", against=TOP)
        if hard_pad(report.design, index) is not None:
            text = f"The bracket hook is {report.size(gap)} above the transom's top. Put a hard pad under it."
            return Outcome(gap, text, None, "note", TOP)
        return Outcome(gap, f"The bracket hook is {report.room(gap)} above the transom's top.", against=TOP)

    rests = ("transom.outline", *_place_keys(index))
    report.add("saddle", mount.name, (0.0, 0.0), "mm", rests, (index,), look)


def usual_plate_heights(set_back: float | None) -> tuple[float, float]:
    """Return the usual range of the AV plate's height above the hull's bottom [mm]: common practice."""
    low, high = trade.PLATE_HEIGHT
    raised = (set_back or 0.0) * SET_BACK_SHARE
    return low + raised, high + raised


def _height(report: Reporter, index: int) -> None:
    mount = report.design.mounts[index]
    aside = ("transom.deadrise",) if mount.offset else ()  # on the centreline the hull's slope does not matter
    rests = ("transom.height", *aside, "transom.rake", mount_key(index, "leg"), mount_key(index, "set_back"),
             *_place_keys(index))  # fmt: skip

    def look() -> Outcome:
        try:
            height = plate_height(report.design, index)
        except Unmeasured:
            text = f"The height of the {mount.name}'s AV plate is not checked."
            return Outcome(None, text, "Measure the transom's height and the motor's shaft length.", "note")
        low, high = usual_plate_heights(mount.set_back)
        where = "above" if height >= 0 else "below"
        text = f"The {mount.name}'s AV plate is {report.size(abs(height))} {where} the hull's bottom"
        if low - CLOSE <= height <= high + CLOSE:
            return Outcome(height, f"{text}, as is common.", None, "clear")
        usual = f"{report.size(low)} to {report.size(high)} above is common"
        return Outcome(height, f"{text}; {usual}.", None, "note")

    report.add("height", mount.name, NO_LIMITS, "mm", rests, (index,), look)


def _clamp_on(report: Reporter, index: int) -> None:
    mount = report.design.mounts[index]
    if mount.bracket.kind != "clamp-on":
        return
    rests = ("transom.thickness", mount_key(index, "bracket"))

    def look() -> Outcome | None:
        jaw, screws = mount.bracket.jaw, mount.bracket.clamp_screws
        if jaw is None:
            return None
        face = faces(report.design.transom)
        thick = face.top
        if screws is not None:
            key = mount_key(index, "bracket.clamp_screws")
            thick = face.thickness(-need(screws.depth, f"{key}.depth"))
            thick += need(screws.pads[0], f"{key}.pads.0") + need(screws.pads[1], f"{key}.pads.1")
        least = need(jaw[0], mount_key(index, "bracket.jaw.0"))
        most = need(jaw[1], mount_key(index, "bracket.jaw.1"))
        value = min(thick - least, most - thick)
        size = report.size(thick)
        if value < -CLOSE:
            side = "too thick" if most < thick else "too thin"
            cure = "Thin the pads." if most < thick else "Put pads under the clamp."
            text = f"With its pads the transom is {size}, {side} for the clamp by {report.overlap(value)}."
            return Outcome(value, text, cure)
        return Outcome(value, f"With its pads the transom is {size}; the clamp has {report.room(value)} to spare.")

    report.add("clamp_on", mount.name, JAW_SPARE, "mm", rests, (index,), look)
