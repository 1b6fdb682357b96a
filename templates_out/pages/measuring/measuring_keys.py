"""The measuring sheet's two key drawings, face and bare cut, with numbered balloons that lead to what is measured.

Where the boat's own sizes are not known yet, usual ones stand in, so that there is something to point at.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import pairwise

from msgspec.structs import replace

from geometry.design.design import Design
from geometry.design.validity import known
from geometry.judge.findings import Checked
from geometry.solid.bracket_holes import bracket_ring, hook_above_datum
from geometry.solid.faces import Unmeasured, faces, profile_up
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import clip
from templates_out.drawing.marks import Line, Mark, Point, Text
from templates_out.drawing.transforms import shift
from templates_out.layout.balloons import balloons
from templates_out.pages.measuring.measuring_items import Item
from templates_out.pictures.usual_sizes import sketched
from templates_out.views import view_pens
from templates_out.views.cut import cut_rect, plane_of
from templates_out.views.cut_boat import floor_line, standing_marks
from templates_out.views.cut_plane import Plane
from templates_out.views.face_boat import standing_marks as face_standing
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.viewport import Rect, Viewport, fit, if_known, round_all, work_rect

_AIR = 9.0  # mm of paper round a drawing for its balloons
_BOTTOM, _BEAM, _RISE = 0.6, 26.0, 2.6  # mm of paper: where the hull's bottom is drawn, half its width, its rise
_FORWARD = 150.0  # mm of the floor that the cut shows


def face_key(design: Design, numbered: list[tuple[int, Item]], box: Rect) -> tuple[Mark, ...]:
    """Return the face within ``box`` [paper mm], with a balloon for each item that is seen on it."""
    drawn = sketched(design)
    view = _view(work_rect(drawn), box)
    scene = Scene(Checked(drawn, (), "unknown", ()), view, ViewFocus(mount=0), "paper")
    x = scene.at(0.0, 0.0)[0]
    lines = (
        *(mark for mark in face_standing(scene) if not isinstance(mark, Text)),
        Line((x, 0.0), (x, view.height), view_pens.CENTRE, "centreline"),
        *(Line((x, _BOTTOM), (x + side * _BEAM, _BOTTOM + _RISE), view_pens.SEEN, "hull bottom") for side in (-1, 1)),
    )
    marks = shift(clip(lines, (0.0, 0.0, view.width, view.height)), box[0] + _AIR, box[1] + _AIR)
    letters = tuple(mark for _, item in numbered if item.corners for mark in _letters(drawn, item.keys[0], view, box))
    spots = _spots(numbered, lambda key: _on_hull(key, view, x) or _on_face(drawn, key), view, box)
    return (*marks, *letters, *balloons(spots, (*marks, *letters), box))


def letter(index: int) -> str:
    """Return a corner's letter: a, b, … z, a2, b2, …"""
    return chr(ord("a") + index % 26) + (str(index // 26 + 1) if index >= 26 else "")


def _letters(design: Design, key: str, view: Viewport, box: Rect) -> Iterator[Text]:
    """Yield the letters of a shape's corners that are seen, each a little outside."""
    try:
        ring = _ring(design, key)
    except Unmeasured:
        return
    if not ring:
        return
    middle = (sum(u for u, _ in ring) / len(ring), sum(v for _, v in ring) / len(ring))
    for index, at in enumerate(ring):
        x, y = view.to_paper(at)
        far = math.dist(at, middle) or 1.0
        x, y = x + 2.2 * (at[0] - middle[0]) / far, y + 2.2 * (at[1] - middle[1]) / far
        if 0 <= x <= view.width and 0 <= y <= view.height:
            spot = (x + box[0] + _AIR, y + box[1] + _AIR - 0.37 * pens.UNDER)
            yield pens.words(spot, letter(index), pens.UNDER, anchor="middle", part=f"corner {key} {index}")


def _ring(design: Design, key: str) -> list[Point]:
    """Return a shape's corners on the face; none of one that is not seen there."""
    first, *rest = key.split(".")
    if key == "transom.outline":
        return known(design.transom.outline) or []
    if first == "mounts":
        return list(bracket_ring(design.mounts[int(rest[0])], int(rest[0]))) if rest[1] == "bracket" else []
    things = design.inside_blocks if first == "inside_blocks" else design.outside_fittings
    corners = known(things[int(rest[0])].outline) or [] if int(rest[0]) < len(things) else []
    up = profile_up(faces(design.transom), design.well) if first == "inside_blocks" and design.well is not None else 0.0
    return [(u, v + up) for u, v in corners]


def cut_key(design: Design, numbered: list[tuple[int, Item]], box: Rect) -> tuple[Mark, ...]:
    """Return the bare cut within ``box`` [paper mm], no bolts in it, with its balloons."""
    drawn = sketched(design)
    plane = plane_of(drawn, "starboard", 0)
    view = _view(_cut_rect(drawn, plane), box)
    scene = Scene(Checked(drawn, (), "unknown", ()), view, ViewFocus(mount=0), "paper")
    lines = (*standing_marks(scene, plane), *if_known(lambda: floor_line(scene, plane)))
    marks = shift(clip(lines, (0.0, 0.0, view.width, view.height)), box[0] + _AIR, box[1] + _AIR)
    spots = _spots(numbered, lambda key: _on_cut(plane, key), view, box)
    return (*marks, *balloons(spots, marks, box))


def _on_hull(key: str, view: Viewport, middle: float) -> Point | None:
    """Return where height and deadrise are read, at the hull's bottom that is drawn below the face, out of scale."""
    if key == "transom.height":
        return view.to_boat((middle, _BOTTOM))
    return view.to_boat((middle + 0.8 * _BEAM, _BOTTOM + 0.8 * _RISE)) if key == "transom.deadrise" else None


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
    spots = []
    for number, item in numbered:
        for key in item.keys:
            try:
                at = place(key)
            except Unmeasured:
                continue
            if at is not None:
                x, y = view.to_paper(at)
                if -1.0 <= x <= view.width + 1.0 and -1.0 <= y <= view.height + 1.0:
                    spots.append((number, (x + box[0] + _AIR, y + box[1] + _AIR)))
                    break
    return spots


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
        ring = _ring(design, key)
        return ring[len(ring) // 2] if ring and rest[1] != "stands_out" else None
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
    if rest[0] == "floor_starboard":
        return ua + 0.85 * (ub - ua), va + 0.85 * (vb - va)
    if rest[0] == "floor_width":
        (uc, vc) = ring[middle + 1] if middle + 1 < len(ring) else ring[middle]
        return (ub + uc) / 2, (vb + vc) / 2
    return None


def _on_bracket(design: Design, index: int, rest: str) -> Point | None:
    mount = design.mounts[index]
    rows, lower, screws = mount.bracket.rows, mount.bracket.lower, mount.bracket.clamp_screws
    up, offset = hook_above_datum(mount, index), mount.offset or 0.0
    if rest.startswith("bracket.outline"):
        ring, corner = bracket_ring(mount, index), rest.split(".")[2:3]
        return ring[int(corner[0])] if corner else min(ring, key=lambda at: at[1] + 0.01 * at[0])
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
