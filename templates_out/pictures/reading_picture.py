"""The picture of one reading: the boat as it is, with the tool laid where it is to be laid.

The marks of the boat are those of the cut and the face. Where no tool is drawn for a reading, the picture is the cut or the
face with its dimension lit. Usual sizes stand in for what is not known yet. Paper millimetres.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial

import msgspec

from geometry.design.design import Design, PilotEnd
from geometry.design.validity import NonsenseError, known
from geometry.judge.findings import Checked
from geometry.readings.boat_measures import floor_place
from geometry.readings.pilots import hole_of, pilot_of, planned
from geometry.readings.second_readings import (
    CENTRE,
    OUTLINE,
    OUTSIDE,
    WASHER,
    WASHER_ACROSS,
    WASHER_PORT,
    diagonal_corners,
    second_value,
)
from geometry.solid.bracket_holes import bracket_ring, hook_above_datum
from geometry.solid.faces import Unmeasured, faces, profile_up
from templates_out.drawing.fonts import text_width
from templates_out.drawing.labels import Thing, apart, thing, things_of
from templates_out.drawing.marks import Arc, Circle, Line, Mark, Path, Point, Text
from templates_out.drawing.transforms import text_box
from templates_out.pictures import second_way_tools
from templates_out.pictures import tools_in_use as tools
from templates_out.pictures.usual_sizes import sketched
from templates_out.views import view_pens as pens
from templates_out.views.cut import bolts_of, cut_marks, plane_of
from templates_out.views.cut_boat import floor_line, standing_marks
from templates_out.views.cut_lit_dimensions import lit_figure
from templates_out.views.cut_plane import Plane, plane_at
from templates_out.views.face import face_marks
from templates_out.views.face_boat import old_hole_marks
from templates_out.views.face_boat import standing_marks as face_standing
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.viewport import Rect, Viewport, fit, if_known, round_all, whole_rect, work_rect

NOT_TYPED = "?"
"""The figure while nothing is typed."""
_WORDS = 5.2  # mm of paper below the drawing for its words
_AIR = 2.4  # mm of paper at the other sides
_WASHER = 38.0  # mm: of the washer that is drawn where the boat has none
_HEAVY = 0.35  # mm: a line of this width or more may not cross the figure
_FROM_HEAVY = 0.3  # mm of paper between the figure and a heavy line
_EIGHT_WAYS = [(math.cos(turn * math.pi / 4), math.sin(turn * math.pi / 4)) for turn in range(8)]
_AROUND = [(x * far, y * far) for far in range(2, 31, 2) for x, y in _EIGHT_WAYS]  # mm of paper, the nearest first
_Laid = tuple[Iterable[Mark], Point]  # the marks of a tool, and the middle of its figure


def reading_picture(
    design: Design, key: str, width: float, height: float, *, mount: int = 0, figure: str = NOT_TYPED
) -> tuple[Mark, ...]:
    """Return the picture of a reading on a piece of paper [mm]; nothing where too little is known to draw it.

    Args:
        figure: what is typed, as its figure says it.
    """
    drawn = sketched(design)
    asked = _Asked(drawn, key, width, height, mount, figure)
    try:
        return _picture(asked)
    except Unmeasured:
        return ()


class _Asked(msgspec.Struct, frozen=True):
    """A picture that is asked for."""

    design: Design
    key: str
    width: float
    height: float
    mount: int
    figure: str

    @property
    def checked(self) -> Checked:
        """The design as the views take it, without findings."""
        return Checked(self.design, (), "unknown", ())

    def view(self, points: Iterable[Point], *, left: float = 0.22) -> Viewport:
        """Return a view with all the points in it, as large as it may be; ``left`` of the spare width is at the left."""
        rect = round_all(points) or (-100.0, -300.0, 300.0, 60.0)
        wide, high = max(rect[2] - rect[0], 1.0), max(rect[3] - rect[1], 1.0)
        scale = min((self.width - 2 * _AIR) / wide, (self.height - _AIR - _WORDS) / high)
        spare_x, spare_y = self.width / scale - wide, (self.height - _AIR - _WORDS) / scale - high
        return Viewport(scale, rect[0] - _AIR / scale - left * (spare_x - 2 * _AIR / scale),
                        rect[1] - _WORDS / scale - spare_y / 2, self.width, self.height)  # fmt: skip


class _Cut(msgspec.Struct, frozen=True):
    """A cut that is drawn, with its places on paper."""

    scene: Scene
    plane: Plane

    def inside(self, w: float, n: float) -> Point:
        """Return the place ``w`` up the inner face and ``n`` in front of it."""
        return self.scene.view.to_paper(self.plane.inside(w, n))

    def outside(self, v: float, s: float) -> Point:
        """Return the place ``v`` up the outer face and ``s`` forward of it."""
        return self.scene.view.to_paper(self.plane.outside(v, s))

    @property
    def scale(self) -> float:
        """Paper mm for a boat mm."""
        return self.scene.view.scale

    @property
    def units(self) -> str:
        """The unit of its lengths."""
        return self.scene.design.units


def _picture(asked: _Asked) -> tuple[Mark, ...]:
    key, design = asked.key, asked.design
    if key in ("well.floor_port", "well.floor_starboard") and design.well is not None:
        return _cut_with(asked, floor_place(design, -1 if key.endswith("port") else 1), _floor_points, _floor_tape)
    on_cut = {
        "well.fillet_radius": (_corner_points, _washer), "well.floor_rise": (_floor_points, _floor_level),
        "well.length": (_front_points, _length_tape), "well.front_lean": (_front_points, _front_level),
    } if design.well is not None else {}  # fmt: skip
    on_cut |= {
        "transom.rake": (_face_points, _batten), "transom.top_cut": (_top_points, _square),
        "transom.thickness.top": (_top_points, _calipers_at_top), "transom.thickness.low": (_low_points, _calipers_lower),
        "transom.thickness.low_at": (_low_points, _low_tape),
        "transom.skin_outside": (_top_points, partial(_skin, inner=False)),
        "transom.skin_inside": (_top_points, partial(_skin, inner=True)),
    }
    if key in on_cut:
        return _cut_with(asked, plane_of(design, "port", asked.mount).u, *on_cut[key])
    return _second_way(asked) or _on_face(asked) or _lit(asked)


def _second_way(asked: _Asked) -> tuple[Mark, ...]:
    """Return the picture of a second way to the floor, or of a pilot; () for another reading."""
    key, design = asked.key, asked.design
    if design.well is None:
        return ()
    across = second_value(WASHER_ACROSS, design) or _WASHER
    down = partial(second_way_tools.washer_down, across=across)
    port, starboard = floor_place(design, -1), floor_place(design, 1)
    ways: dict[str, tuple[float, Callable[[Plane], list[Point]], Callable[[_Cut], _Laid]]] = {
        OUTSIDE: (port, _outside_points, second_way_tools.from_outside), CENTRE: (0.0, _floor_points, _floor_tape),
        WASHER_PORT: (port, _floor_points, down), WASHER: (starboard, _floor_points, down),
        WASHER_ACROSS: (starboard, _corner_points, partial(second_way_tools.across_washer, across=across)),
    }  # fmt: skip
    if key in ways:
        return _cut_with(asked, *ways[key])
    hole = hole_of(key)
    return _pilot(asked, hole) if hole and asked.mount < len(design.mounts) else ()


def _pilot(asked: _Asked, hole: str) -> tuple[Mark, ...]:
    """Return the picture of a pilot with a washer's mark or the floor below it; () for what is at its side."""
    design = asked.design
    pilot = pilot_of(design, asked.mount, hole)
    try:
        place = planned(design, asked.mount, hole) if pilot is None else (*pilot.at, pilot.tilt)
    except NonsenseError:
        return ()
    to: PilotEnd = "washer mark" if pilot is None else pilot.to
    if to not in ("washer mark", "floor"):
        return ()
    across = _WASHER if pilot is None or pilot.washer is None else pilot.washer
    lay = partial(second_way_tools.from_pilot, place=place, to=to, across=across)
    return _cut_with(asked, place[0], partial(_pilot_points, place[1]), lay)


def _outside_points(plane: Plane) -> list[Point]:
    return [*_floor_points(plane), *second_way_tools.outside_points(plane)]


def _pilot_points(v: float, plane: Plane) -> list[Point]:
    foot = _foot(plane)
    return [plane.outside(v + 30.0, -20.0), plane.inside(max(v, foot) + 40.0, 0.0), plane.inside(foot - 10.0, 60.0),
            plane.outside(foot - 14.0, -20.0)]  # fmt: skip


# On the cut


def _cut_with(
    asked: _Asked, u: float, points: Callable[[Plane], list[Point]], lay: Callable[[_Cut], _Laid]
) -> tuple[Mark, ...]:
    plane = plane_at(asked.design, u)
    view = asked.view(points(plane))
    scene = Scene(asked.checked, view, ViewFocus(mount=asked.mount), "screen")
    cut = _Cut(scene, plane)
    laid, at = lay(cut)
    marks, tool = (*standing_marks(scene, plane), *if_known(partial(floor_line, scene, plane))), tuple(laid)
    drawn = (*marks, *tool)
    return (*drawn, *_words(asked, "seen from starboard", "aft"), _figure(asked, (at,), drawn))


def _floor_points(plane: Plane) -> list[Point]:
    foot, top = plane.floor_w(0.0) or 0.0, plane.faces.inner_top(plane.top)
    long = (top - foot) * 1.1
    return [
        *plane.transom[:2], plane.outside(foot - 30.0, 0.0), plane.inside(foot - 30.0, 0.0),
        plane.inside(plane.floor_w(long) or 0.0, long),
    ]  # fmt: skip


def _floor_tape(cut: _Cut) -> _Laid:
    """Lay a tape down the inner face, hooked on the edge that depths are from."""
    well, foot = cut.scene.design.well, _foot(cut.plane)
    top = profile_up(cut.plane.faces, well) if well is not None else 0.0
    a, b = cut.inside(top, 0.0), cut.inside(foot, 0.0)
    marks = list(tools.tape(a, b, cut.scale, cut.units, side=-1.0))
    if well is not None and well.well_from == "datum":  # a straightedge carries the outside edge to the inner face
        marks.append(tools.bar(cut.outside(0.0, -30.0), cut.inside(top, 40.0), 1.4, side=-1.0))
    return marks, _next_to(cut.inside((top + foot) / 2, 0.0), 16.0)


def _foot(plane: Plane) -> float:
    """Return where the floor, without its rounded corner, meets the inner face (w)."""
    edge = plane.edge
    return 0.0 if edge is None else (edge.foot - edge.normal_u * plane.u) / edge.normal_w


def _corner_points(plane: Plane) -> list[Point]:
    foot = _foot(plane)
    return [plane.inside(*at) for at in ((foot - 14.0, 0.0), (foot + 78.0, 0.0), (foot + 78.0, -40.0), (foot, 90.0))]


def _washer(cut: _Cut) -> _Laid:
    """Lay a washer on the inner face, pushed down to where it rocks; the rounded corner is heavy."""
    plane = cut.plane
    land, wide = plane.floor_w(0.0) or 0.0, _WASHER
    washer = tools.bar(cut.inside(land, 0.0), cut.inside(land + wide, 0.0), max(1.0, 2.5 * cut.scale))
    way = tools.arrow(cut.inside(land + wide + 26.0, 7.0), cut.inside(land + wide + 4.0, 7.0))
    arc = [cut.scene.view.to_paper(at) for at in plane.floor[:-1]]
    corner = [Line(a, b, tools.BLADE, tools.PART) for a, b in zip(arc, arc[1:], strict=False)]
    middle = arc[len(arc) // 2] if arc else cut.inside(land, 0.0)
    at = middle[0] + 16.0, middle[1] + 7.0
    leader = Line(middle, (at[0] - 5.0, at[1]), tools.TICK, tools.PART)
    return (washer, *way, *corner, leader), at


def _floor_level(cut: _Cut) -> _Laid:
    """Lay a level on the floor, fore and aft, with a level line from its aft end."""
    aft, ahead = (cut.inside(cut.plane.floor_w(n) or 0.0, n) for n in (60.0, 230.0))
    reach = ahead[0] - aft[0] + 6.0
    line = Line(aft, (aft[0] + reach, aft[1]), tools.TICK, tools.PART)
    arc = tools.angle(aft, reach - 2.0, 0.0, tools.direction(aft, ahead))
    return (*tools.level(aft, ahead, side=-1.0), line, *arc), ((aft[0] + ahead[0]) / 2, (aft[1] + ahead[1]) / 2 + 8.0)


def _front_points(plane: Plane) -> list[Point]:
    ends = min(plane.ends, 900.0)
    low, ahead = (plane.inside((plane.floor_w(n) or 0.0) - down, n) for n, down in ((0.0, 30.0), (ends, 0.0)))
    return [*plane.transom[:2], low, ahead, *plane.front]


def _length_tape(cut: _Cut) -> _Laid:
    """Lay a tape along the floor, from the transom to the front."""
    ends = min(cut.plane.ends, 900.0)
    a, b = (cut.inside((cut.plane.floor_w(n) or 0.0) + 3.0, n) for n in (0.0, ends))
    marks = tools.tape(a, b, cut.scale, cut.units, side=-1.0, hooked=False)
    return marks, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + 7.0)


def _front_level(cut: _Cut) -> _Laid:
    """Hold a level up the well's front, with a plumb line from its foot."""
    front = [cut.scene.view.to_paper(at) for at in cut.plane.front]
    if not front:
        raise Unmeasured("well.length")
    foot, top = front
    plumb = Line(foot, (foot[0], top[1]), tools.TICK, tools.PART)
    arc = tools.angle(foot, (top[1] - foot[1]) * 0.8, 90.0, tools.direction(foot, top))
    return (*tools.level(foot, top, side=-1.0), plumb, *arc), (foot[0] - 12.0, (foot[1] + top[1]) / 2)


def _face_points(plane: Plane) -> list[Point]:
    return [*plane.transom[:2], plane.outside(-260.0, 0.0), plane.outside(-260.0, 60.0), plane.outside(0.0, -60.0)]


def _batten(cut: _Cut) -> _Laid:
    """Hold a batten up the outer face and a level on it, with a plumb line from the batten's top."""
    low, high = cut.outside(-245.0, 0.0), cut.outside(-25.0, 0.0)
    batten = tools.bar(low, high, 1.2, side=-1.0)
    (_, _, top, _) = batten.points
    level = tools.level(_off(cut, -190.0, 1.2), _off(cut, -80.0, 1.2), side=-1.0)
    plumb = Line(top, (top[0], low[1]), tools.TICK, tools.PART)
    arc = tools.angle(top, (top[1] - low[1]) * 0.86, -90.0, tools.direction(high, low))
    return (batten, *level, plumb, *arc), (min(top[0], low[0]) - 11.0, low[1] + 4.0)


def _off(cut: _Cut, v: float, paper: float) -> Point:
    """Return the place at ``v`` on the outer face, ``paper`` mm aft of it."""
    return cut.outside(v, -paper / cut.scale)


def _top_points(plane: Plane) -> list[Point]:
    thick = plane.faces.thickness(plane.top)
    down = plane.top - 1.7 * thick
    return [plane.outside(plane.top + 24.0, 0.0), plane.outside(down, -14.0), plane.outside(down, thick), *plane.transom[:2]]


def _square(cut: _Cut) -> _Laid:
    """Lay a square with one arm down the outer face and one over the top edge."""
    plane = cut.plane
    thick, top = plane.faces.thickness(plane.top), plane.top
    over = max(0.0, -thick * plane.faces.tan_cut)  # it rests on the higher edge
    corner, out = cut.outside(top + over, 0.0), cut.outside(top + over, thick * 1.5)
    arms = (
        tools.bar(corner, cut.outside(top - 1.3 * thick, 0.0), 1.6),
        tools.bar(_off(cut, top + over, 1.6), out, 1.6, side=-1.0),
    )  # fmt: skip
    outer, inner = (cut.scene.view.to_paper(at) for at in plane.transom[:2])
    low, high = (outer, inner) if over > 0 else (inner, outer)
    turned = 180.0 if over > 0 else 0.0
    arc = tools.angle(high, thick * 1.25 * cut.scale, tools.direction(corner, out) + turned, tools.direction(high, low))
    return (*arms, *arc), (max(out[0], inner[0]) + 10.0, min(out[1], inner[1]) - 3.0)


def _calipers_at_top(cut: _Cut) -> _Laid:
    """Hold calipers over the top edge, square to the face."""
    plane = cut.plane
    down = plane.top - 10.0 - max(0.0, plane.faces.thickness(plane.top) * plane.faces.tan_cut)
    thick = plane.faces.thickness(down)
    a, b = cut.outside(down, 0.0), cut.outside(down, thick)
    up = math.dist(a, cut.outside(plane.top + 14.0, 0.0))
    along = _way(cut.outside(down, 0.0), cut.outside(down + 50.0, 0.0))
    return tools.calipers(a, b, along, up), _next_to(b, 13.0)


def _low_points(plane: Plane) -> list[Point]:
    at = plane.design.transom.thickness.low_at or -250.0
    return [*plane.transom[:2], plane.outside(at - 40.0, 0.0), plane.outside(at - 40.0, plane.faces.thickness(at))]


def _calipers_lower(cut: _Cut) -> _Laid:
    """Mark the thickness square to the face where the lower one is read."""
    at = cut.scene.design.transom.thickness.low_at or -250.0
    a, b = cut.outside(at, 0.0), cut.outside(at, cut.plane.faces.thickness(at))
    along = _way(cut.outside(at, 0.0), cut.outside(at - 50.0, 0.0))
    return tools.calipers(a, b, along, 7.0), _next_to(b, 12.0)


def _low_tape(cut: _Cut) -> _Laid:
    """Lay a tape down the outer face to where the lower thickness is read."""
    at = cut.scene.design.transom.thickness.low_at or -250.0
    a, b = cut.outside(cut.plane.top, 0.0), cut.outside(at, 0.0)
    x, y = cut.outside((cut.plane.top + at) / 2, 0.0)
    return tools.tape(a, b, cut.scale, cut.units), (x - 12.0, y)


def _skin(cut: _Cut, *, inner: bool) -> _Laid:
    """Mark one skin's thickness with a rule."""
    plane, transom = cut.plane, cut.scene.design.transom
    at = plane.top - 1.1 * plane.faces.thickness(plane.top)
    whole = plane.faces.thickness(at)
    thick = (transom.skin_inside if inner else transom.skin_outside) or 4.0
    a, b = (cut.outside(at, s) for s in ((whole - thick, whole) if inner else (0.0, thick)))
    rule = tools.calipers(a, b, _way(cut.outside(at, 0.0), cut.outside(at - 50.0, 0.0)), 5.0)
    return rule, (b[0] + 12.0, b[1]) if inner else (a[0] - 12.0, a[1])


# On the face


def _on_face(asked: _Asked) -> tuple[Mark, ...]:
    """Return a face with a tape from one place to another; () for a reading that has no two places on it."""
    two = _two_places(asked)
    if two is None:
        return ()
    (a, b), around = two
    view = asked.view([a, b, *around], left=0.5)
    scene = Scene(asked.checked, view, ViewFocus(mount=asked.mount), "screen")
    marks: list[Mark] = [mark for mark in face_standing(scene) if not isinstance(mark, Text)]
    for index in range(len(asked.design.old_holes)):
        marks += if_known(partial(old_hole_marks, scene, index))
    x = scene.at(0.0, 0.0)[0]
    line = Line((x, 0.0), (x, view.height), pens.CENTRE, "centreline")
    start, end = view.to_paper(a), view.to_paper(b)
    level = abs(end[0] - start[0]) > abs(end[1] - start[1])
    tape = tools.tape(start, end, view.scale, asked.design.units, hooked=False)
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    off = (0.0, 5.5) if level else (10.0, 0.0)
    sides = [(middle[0] + off[0] * side, middle[1] + off[1] * side) for side in (1.0, -1.0)]
    drawn = (*marks, line, *tape)
    return (*drawn, *_words(asked, "seen from astern", ""), _figure(asked, sides, drawn))


def _two_places(asked: _Asked) -> tuple[tuple[Point, Point], list[Point]] | None:
    """Return from where to where a tape is laid on the face, and what else is to be seen (u, v)."""
    key, design = asked.key, asked.design
    if hole := re.fullmatch(r"old_holes\.(\d+)\.(across|down)", key):
        u, v = design.old_holes[int(hole[1])].at
        if u is None or v is None:
            return None
        return (((0.0, v), (u, v)) if hole[2] == "across" else ((u, 0.0), (u, v))), [(0.0, 20.0), (0.0, v - 60.0), (u * 1.2, v)]
    if key in ("well.floor_width", "well.top_width") and design.well is not None and len(design.well.profile) == 4:
        ring = _profile(design)
        pair = (ring[1], ring[2]) if key == "well.floor_width" else (ring[0], ring[3])
        return (pair, [*ring, (0.0, min(v for _, v in ring) - 40.0)])
    if corner := re.fullmatch(r"well\.profile\.(\d+)\.([01])", key):
        ring = _profile(design)
        u, v = ring[int(corner[1])]
        return (((0.0, v), (u, v)) if corner[2] == "0" else ((u, 0.0), (u, v))), ring
    if key == OUTLINE:
        corners = diagonal_corners(design)
        return None if corners is None else (corners, list(known(design.transom.outline) or ()))
    if key == "transom.height":
        low = min(v for _, v in known(design.transom.outline) or [(0.0, -450.0)])
        return ((0.0, 0.0), (0.0, low)), list(known(design.transom.outline) or ())
    return _on_bracket(asked)


def _profile(design: Design) -> list[Point]:
    up = profile_up(faces(design.transom), design.well) if design.well is not None else 0.0
    return [(u, y + up) for u, y in (known(design.well.profile) if design.well is not None else None) or ()]


def _on_bracket(asked: _Asked) -> tuple[tuple[Point, Point], list[Point]] | None:
    """Return the places of a distance on the bracket."""
    match = re.fullmatch(r"mounts\.(\d+)\.bracket\.(rows|lower)\.([a-z0-9_.]+)", asked.key)
    if match is None:
        return None
    index, part, what = int(match[1]), match[2], match[3]
    mount = asked.design.mounts[index]
    rows, lower, middle = mount.bracket.rows, mount.bracket.lower, mount.offset or 0.0
    if rows is None or lower is None:
        return None
    hook = hook_above_datum(mount, index)
    top = hook - rows.row0_depth
    around = list(bracket_ring(mount, index))
    if part == "rows":
        u = middle + rows.half_spacing
        ways = {
            "half_spacing": ((middle, top), (u, top)), "row0_depth": ((u, hook), (u, top)),
            "pitch": ((u, top), (u, top - rows.pitch)),
        }  # fmt: skip
        return (ways[what], around) if what in ways else None
    u = middle + lower.half_spacing
    if slot := re.fullmatch(r"slots\.(\d+)\.([01])", what):
        return (((u, top), (u, top - lower.slots[int(slot[1])][int(slot[2])])), around)
    deep = top - lower.slots[0][0]
    return (((middle, deep), (u, deep)), around) if what == "half_spacing" else None


# Anything else


def _lit(asked: _Asked) -> tuple[Mark, ...]:
    """Return the cut or the face with the reading's dimension lit."""
    design, focus = asked.design, ViewFocus(asked.mount, lit=asked.key)
    plane = plane_of(design, "port", asked.mount)
    probe = Scene(asked.checked, Viewport(0.1, 0.0, 0.0, asked.width, asked.height), focus, "screen")
    drop = asked.key.endswith((".drop", ".upper_at")) and bolts_of(design, "port", asked.mount)
    if lit_figure(probe, plane) is not None or drop:
        return cut_marks(asked.checked, asked.view(_face_points(plane)), "port", asked.mount, focus)
    rect: Rect = whole_rect(design) if asked.key.startswith("transom.") else work_rect(design)
    return face_marks(asked.checked, fit(rect, asked.width, asked.height, 1.0), focus)


# Words and figure


def _way(a: Point, b: Point) -> Point:
    return b[0] - a[0], b[1] - a[1]


def _next_to(at: Point, off: float) -> Point:
    return at[0] + off, at[1]


def _words(asked: _Asked, right: str, left: str) -> Iterator[Text]:
    """Say from where the picture is seen, and which way is aft."""
    size = pens.WORD["screen"]
    if left:
        yield Text((2.0, 1.6), left, size, "soft", patch="card")
    if text_width(right, size) + text_width(left, size) + 8.0 < asked.width:
        yield Text((asked.width - 2.0, 1.6), right, size, "soft", anchor="end", patch="card")


def _figure(asked: _Asked, places: Sequence[Point], drawn: Iterable[Mark]) -> Text:
    """Write the figure with its middle at the first place, or at the nearest where no heavy line crosses it.

    The place is that of the "?", so that the figure doesn't jump while it is typed.
    """
    heavy = [side for mark in drawn if _is_heavy(mark) for side in things_of(mark)]
    tried = (*places, *((places[0][0] + x, places[0][1] + y) for x, y in _AROUND))
    at = next((place for place in tried if _is_clear(_figure_at(asked, NOT_TYPED, place), heavy)), places[0])
    return _figure_at(asked, asked.figure, at)


def _figure_at(asked: _Asked, figure: str, at: Point) -> Text:
    """Return the figure with its middle at a place, as far as that is on the paper."""
    size = pens.FIGURE["screen"] * 1.15
    half = text_width(figure, size, True) / 2 + 2.5
    x = min(max(at[0], half), asked.width - half)
    y = min(max(at[1], _WORDS + 1.0), asked.height - 4.0)
    return Text((x, y - 0.36 * size), figure, size, "ink", True, anchor="middle", patch="lit", part="figure")


def _is_heavy(mark: Mark) -> bool:
    return isinstance(mark, Line | Circle | Arc | Path) and mark.pen is not None and mark.pen.weight >= _HEAVY


def _is_clear(figure: Text, heavy: Iterable[Thing]) -> bool:
    box = thing("text", text_box(figure))
    return all(apart(box, side) >= _FROM_HEAVY for side in heavy)
