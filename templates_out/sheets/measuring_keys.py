"""The measuring sheet's two key drawings, face and bare cut, with numbered balloons that lead to what is measured.

Where the boat's own sizes are not known yet, usual ones stand in, so that there is something to point at.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import pairwise

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from geometry.design.boat import Thickness, Transom, Well
from geometry.design.motor import Mount
from geometry.design.sense import NonsenseError, known
from geometry.design.whole import Design
from geometry.judge.findings import Checked
from geometry.solid.frames import Unmeasured, faces, profile_up
from geometry.solid.rows import bracket_ring, saddle_above_datum
from templates_out.drawing.clipping import clip
from templates_out.drawing.labels import things_of
from templates_out.drawing.marks import Circle, Line, Mark, Point, Text
from templates_out.drawing.shapes import shift
from templates_out.sheets import pens
from templates_out.sheets.measuring_items import Item
from templates_out.sheets.pens import PT
from templates_out.views import pens as view_pens
from templates_out.views.cut import cut_rect, plane_of
from templates_out.views.cut_parts import floor_line, standing_marks
from templates_out.views.face_parts import standing_marks as face_standing
from templates_out.views.plane import Plane
from templates_out.views.sight import Scene, Sight
from templates_out.views.viewport import Rect, Viewport, fit, round_all, told, work_rect

BALLOON, NUMBER = 2.5, 8 * PT  # radius of a balloon [mm], size of its number
_AIR = 9.0  # mm of paper round a drawing for its balloons
_FORWARD = 150.0  # mm of the floor that the cut shows
_USUAL_TOP = ((-700.0, 60.0), (-330.0, 60.0), (-330.0, 0.0), (330.0, 0.0), (330.0, 60.0), (700.0, 60.0), (620.0, -420.0),
              (0.0, -520.0), (-620.0, -420.0))  # fmt: skip
_USUAL_WELL = ((-320.0, 0.0), (-300.0, -240.0), (300.0, -240.0), (320.0, 0.0))
_USUAL_BLOCK = ((-20.0, -240.0), (20.0, -240.0), (20.0, -208.0), (-20.0, -208.0))
_USUAL_FITTING = ((300.0, -300.0), (340.0, -300.0), (340.0, -260.0), (300.0, -260.0))
_USUAL_BRACKET = ((-190.0, 0.0), (190.0, 0.0), (190.0, -120.0), (150.0, -350.0), (-150.0, -350.0), (-190.0, -120.0))


def sketched(design: Design) -> Design:
    """Return ``design`` with usual sizes where something that is drawn is not known."""
    try:
        return replace(
            design, transom=_transom(design.transom), well=_well(design.well),
            mounts=tuple(_mount(mount) for mount in design.mounts),
            inside_blocks=tuple(
                one if known(one.outline) else replace(one, outline=_USUAL_BLOCK) for one in design.inside_blocks
            ),
            outside_fittings=tuple(
                one if known(one.outline) else replace(one, outline=_USUAL_FITTING) for one in design.outside_fittings
            ),
        )  # fmt: skip
    except NonsenseError:  # what is known does not go with the usual sizes: draw the usual boat
        usual = Thickness(top=44.0, low=44.0, low_at=-250.0)
        transom = replace(design.transom, outline=_USUAL_TOP, rake=14.0, top_cut="level", thickness=usual)
        well = None if design.well is None else replace(
            design.well, profile=_USUAL_WELL, floor_rise=3.0, fillet_radius=12.0, length=400.0, front_lean=0.0
        )  # fmt: skip
        return replace(
            design, transom=transom, well=well, mounts=tuple(_mount(mount) for mount in design.mounts), inside_blocks=(),
            outside_fittings=(),
        )  # fmt: skip


def _or(value: float | None, usual: float) -> float:
    return usual if value is None else value


def _transom(transom: Transom) -> Transom:
    thick = transom.thickness
    if None in (thick.top, thick.low, thick.low_at):
        top = _or(thick.top, _or(thick.low, 44.0))
        thick = Thickness(top=top, low=top, low_at=_or(thick.low_at, -250.0))
    return replace(
        transom, outline=transom.outline if known(transom.outline) else _USUAL_TOP, rake=_or(transom.rake, 14.0),
        top_cut="level" if transom.top_cut is None else transom.top_cut, thickness=thick,
        skin_outside=_or(transom.skin_outside, 4.0), skin_inside=_or(transom.skin_inside, 4.0),
    )  # fmt: skip


def _well(well: Well | None) -> Well | None:
    if well is None:
        return None
    return replace(
        well, profile=well.profile if known(well.profile) else _USUAL_WELL, floor_rise=_or(well.floor_rise, 3.0),
        fillet_radius=_or(well.fillet_radius, 12.0), length=_or(well.length, 400.0), front_lean=_or(well.front_lean, 0.0),
    )  # fmt: skip


def _mount(mount: Mount) -> Mount:
    bracket = mount.bracket if known(mount.bracket.outline) else replace(mount.bracket, outline=_USUAL_BRACKET)
    hung = {} if bracket.rows is None else {"upper_at": _or(mount.upper_at, -50.8), "row": mount.row or 0}
    return replace(mount, bracket=bracket, offset=_or(mount.offset, 0.0), **hung)


def face_key(design: Design, numbered: list[tuple[int, Item]], box: Rect) -> tuple[Mark, ...]:
    """Return the face within ``box`` [paper mm], with a balloon for each item that is seen on it."""
    drawn = sketched(design)
    view = _view(work_rect(drawn), box)
    scene = Scene(Checked(drawn, (), "unknown", ()), view, Sight(mount=0), "paper")
    x = scene.at(0.0, 0.0)[0]
    lines = (
        *(mark for mark in face_standing(scene) if not isinstance(mark, Text)),
        Line((x, 0.0), (x, view.height), view_pens.CENTRE, "centreline"),
    )
    marks = shift(clip(lines, (0.0, 0.0, view.width, view.height)), box[0] + _AIR, box[1] + _AIR)
    spots = _spots(numbered, lambda key: _on_face(drawn, key), view, box)
    return (*marks, *balloons(spots, marks, box))


def cut_key(design: Design, numbered: list[tuple[int, Item]], box: Rect) -> tuple[Mark, ...]:
    """Return the bare cut within ``box`` [paper mm], no bolts in it, with its balloons."""
    drawn = sketched(design)
    plane = plane_of(drawn, "starboard", 0)
    view = _view(_cut_rect(drawn, plane), box)
    scene = Scene(Checked(drawn, (), "unknown", ()), view, Sight(mount=0), "paper")
    lines = (*standing_marks(scene, plane), *told(lambda: floor_line(scene, plane)))
    marks = shift(clip(lines, (0.0, 0.0, view.width, view.height)), box[0] + _AIR, box[1] + _AIR)
    spots = _spots(numbered, lambda key: _on_cut(plane, key), view, box)
    return (*marks, *balloons(spots, marks, box))


def _view(rect: Rect, box: Rect) -> Viewport:
    return fit(rect, box[2] - box[0] - 2 * _AIR, box[3] - box[1] - 2 * _AIR)


def _cut_rect(design: Design, plane: Plane) -> Rect:
    """Return the transom and a piece of the floor; the transom alone without one [boat mm]."""
    if design.well is None or not plane.floor:
        return cut_rect(replace(design, mounts=()), "starboard")
    foot = plane.inside((plane.floor_w(0.0) or 0.0) - 40.0, 0.0)
    ahead = plane.inside(plane.floor_w(_FORWARD) or 0.0, _FORWARD)
    return round_all([plane.transom[0], plane.transom[1], foot, ahead, plane.outside(-250.0, 0.0)], 12.0) or (0, 0, 1, 1)


def _spots(
    numbered: list[tuple[int, Item]], place: Callable[[str], Point | None], view: Viewport, box: Rect
) -> list[tuple[int, Point]]:
    """Return the items that have a place in the view, with that place on the page."""
    found = []
    for number, item in numbered:
        for key in item.keys:
            try:
                at = place(key)
            except Unmeasured:
                continue
            if at is not None:
                x, y = view.to_paper(at)
                if -1.0 <= x <= view.width + 1.0 and -1.0 <= y <= view.height + 1.0:
                    found.append((number, (x + box[0] + _AIR, y + box[1] + _AIR)))
                    break
    return found


def _on_face(design: Design, key: str) -> Point | None:
    """Return where a measure is seen on the face (u, v), None where it is not."""
    first, *rest = key.split(".")
    if key == "transom.outline":
        corners = known(design.transom.outline) or []
        edges = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(corners)]
        return min(edges, key=lambda at: math.dist(at, (-250.0, 0.0)))
    if first == "well":
        return _on_well(design, rest)
    if first in ("inside_blocks", "outside_fittings"):
        things = design.inside_blocks if first == "inside_blocks" else design.outside_fittings
        corners = known(things[int(rest[0])].outline) or [] if int(rest[0]) < len(things) else []
        up = profile_up(faces(design.transom), design.well) if first == "inside_blocks" and design.well is not None else 0.0
        return (corners[2][0], corners[2][1] + up) if corners and rest[1] != "stands_out" else None
    if first == "old_holes":
        u, v = design.old_holes[int(rest[0])].at
        return (u, v) if u is not None and v is not None and rest[1] in ("across", "down") else None
    return _on_bracket(design, int(rest[0]), ".".join(rest[1:])) if first == "mounts" else None


def _on_well(design: Design, rest: list[str]) -> Point | None:
    corners = known(design.well.profile) if design.well is not None else None
    if corners is None or design.well is None:
        return None
    up = profile_up(faces(design.transom), design.well)
    ring = [(u, y + up) for u, y in corners]
    if rest[0] == "profile" and len(rest) > 1:
        return ring[int(rest[1])]
    middle = len(ring) // 2
    (ua, va), (ub, vb) = ring[middle - 1], ring[middle]
    if rest[0] in ("floor_port", "profile"):
        return ua + 0.2 * (ub - ua), va + 0.2 * (vb - va)
    if rest[0] == "floor_width":
        (uc, vc) = ring[middle + 1] if middle + 1 < len(ring) else ring[middle]
        return (ub + uc) / 2, (vb + vc) / 2
    return None


def _on_bracket(design: Design, index: int, rest: str) -> Point | None:
    mount = design.mounts[index]
    rows, lower, screws = mount.bracket.rows, mount.bracket.lower, mount.bracket.clamp_screws
    up, offset = saddle_above_datum(mount, index), mount.offset or 0.0
    if rest == "bracket.outline":
        ring = bracket_ring(mount, index)
        return min(ring, key=lambda at: at[1] + 0.01 * at[0])
    if rest.startswith("bracket.rows.") and rows is not None:
        row = rows.count - 1 if rest.endswith(("count", "diameter", "pad_thickness")) else 0
        return offset - rows.half_spacing, up - rows.row0_depth - row * rows.pitch
    if rest.startswith("bracket.lower.") and rows is not None and lower is not None:
        slot = int(rest.split(".")[3]) if ".slots." in rest else 0
        high, low = lower.slots[slot]
        side = 1 if ".slots." in rest else -1
        return offset + side * lower.half_spacing, up - rows.row0_depth - (low if side > 0 else high)
    if rest.startswith("bracket.clamp_screws.depth") and screws is not None and None not in (screws.half_spacing, screws.depth):
        return offset - (screws.half_spacing or 0.0), up - (screws.depth or 0.0)
    return None


def _on_cut(plane: Plane, key: str) -> Point | None:
    """Return where a measure is seen on the cut (x, z), None where it is not."""
    if key == "transom.rake":
        return plane.outside(-110.0, 0.0)
    if key == "transom.thickness.top":
        (xa, za), (xb, zb) = plane.transom[:2]
        return (xa + xb) / 2, (za + zb) / 2
    if key == "transom.skin_outside":
        return plane.outside(-185.0, (plane.design.transom.skin_outside or 0.0) / 2)
    if key == "transom.top_cut":
        return plane.transom[1]
    if not plane.floor:
        return None
    if key == "well.fillet_radius":
        return plane.floor[len(plane.floor) // 2 if len(plane.floor) > 2 else 0]
    far = {"well.floor_rise": 80.0, "well.length": _FORWARD - 8.0}.get(key)
    return None if far is None else plane.inside(plane.floor_w(far) or 0.0, far)


def balloons(spots: list[tuple[int, Point]], drawn: tuple[Mark, ...], box: Rect) -> Iterator[Mark]:
    """Yield a numbered balloon for each spot, with a leader; none touches another or another's leader."""
    lines = _lines(drawn)
    placed: list[tuple[Point, Point]] = []  # centres with their spots
    for number, spot in spots:
        tried = _by_cost(_round(spot, box), spot, [other for _, other in spots if other != spot], lines)
        centre = next((at for at in tried if _is_free(at, spot, placed)), tried[0])
        placed.append((centre, spot))
        far = math.dist(centre, spot)
        c, s = (spot[0] - centre[0]) / far, (spot[1] - centre[1]) / far
        yield Line((centre[0] + BALLOON * c, centre[1] + BALLOON * s), spot, pens.SEAM, f"balloon {number}")
        yield Circle(spot, 0.45, None, "ink", f"balloon {number}")
        yield Circle(centre, BALLOON, pens.PILOT, "sheet", f"balloon {number}")
        base = (centre[0], centre[1] - 0.37 * NUMBER)
        yield Text(base, str(number), NUMBER, bold=True, condensed=True, anchor="middle", part=f"balloon {number}")


def _round(spot: Point, box: Rect) -> list[Point]:
    """Return the places to try about a spot, within the box."""
    found = []
    for far in (7.0, 9.0, 11.0, 13.0, 16.0, 19.0, 23.0, 28.0, 34.0):
        for turn in range(0, 360, 15):
            x, y = spot[0] + far * math.cos(math.radians(turn)), spot[1] + far * math.sin(math.radians(turn))
            if box[0] + BALLOON <= x <= box[2] - BALLOON and box[1] + BALLOON <= y <= box[3] - BALLOON:
                found.append((x, y))
    return found or [((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)]


def _lines(drawn: tuple[Mark, ...]) -> NDArray[np.float64]:
    """Return all that is drawn as straight pieces, one row each: both ends; a circle as twelve."""
    rows: list[tuple[float, float, float, float]] = []
    for mark in drawn:
        for found in things_of(mark):
            ring = found.corners
            if found.radius:
                (x, y), turns = ring[0], [math.pi * turn / 6 for turn in range(12)]
                ring = tuple((x + found.radius * math.cos(turn), y + found.radius * math.sin(turn)) for turn in turns)
            rows += [(*one, *two) for one, two in pairwise((*ring, ring[0]))]
    return np.array(rows or [(0.0, 0.0, 0.0, 0.0)])


def _by_cost(tried: list[Point], spot: Point, others: list[Point], lines: NDArray[np.float64]) -> list[Point]:
    """Return the places best first: over few lines and no other spot, near by."""
    at = np.array(tried)
    start, along = lines[:, :2], lines[:, 2:] - lines[:, :2]
    square = np.maximum((along**2).sum(axis=1), 1e-12)
    share = np.clip(((at[:, None] - start) * along).sum(axis=2) / square, 0.0, 1.0)
    off = np.linalg.norm(at[:, None] - start - share[..., None] * along, axis=2)
    cost = 0.3 * np.linalg.norm(at - np.array(spot), axis=1) + 4.0 * (off < BALLOON + 0.6).sum(axis=1)
    if others:
        cost += 100.0 * (np.linalg.norm(at[:, None] - np.array(others), axis=2) < BALLOON + 1.2).sum(axis=1)
    return [tried[index] for index in np.argsort(cost, kind="stable")]


def _is_free(at: Point, spot: Point, placed: list[tuple[Point, Point]]) -> bool:
    """Tell whether a balloon and its leader keep clear of those that are there."""
    return all(
        math.dist(at, centre) >= 2 * BALLOON + 1.0
        and _off(at, centre, other) >= BALLOON + 0.6
        and _off(centre, at, spot) >= BALLOON + 0.6
        and not _cross(at, spot, centre, other)
        and min(_off(spot, centre, other), _off(other, at, spot)) >= 0.5
        for centre, other in placed
    )


def _off(at: Point, a: Point, b: Point) -> float:
    """Return how far a place is from the straight piece from ``a`` to ``b``."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    share = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / max(dx * dx + dy * dy, 1e-12)
    share = min(1.0, max(0.0, share))
    return math.hypot(at[0] - a[0] - share * dx, at[1] - a[1] - share * dy)


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
