"""The cut's standing parts: the transom's layers, the well's floor and front, blocks, what is seen beyond."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from geometry.design.validity import known
from geometry.solid.faces import Unmeasured
from geometry.solid.planes import inside
from templates_out.drawing.marks import Hatch, Line, Mark, Path, Pen, Point, Role
from templates_out.views import view_pens as pens
from templates_out.views.cut_plane import Plane, Ring
from templates_out.views.view_focus import Scene, on_sheet
from templates_out.views.viewport import if_known

FLOOR_BAND = 2.2  # mm of paper hatched below the floor


def standing_marks(scene: Scene, plane: Plane) -> tuple[Mark, ...]:
    """Return all that is there without a bolt."""
    return (
        *if_known(partial(_air, scene, plane)),
        *if_known(partial(_beyond, scene, plane)),
        *if_known(partial(_wood, scene, plane)),
        *if_known(partial(_faces, scene, plane)),
        *if_known(partial(_blocks, scene, plane)),
        *if_known(partial(_floor, scene, plane)),
    )


def on_paper(scene: Scene, ring: Ring) -> tuple[Point, ...]:
    """Return a ring on paper."""
    return tuple(scene.view.to_paper(at) for at in ring)


def ground_at(scene: Scene, plane: Plane, at: Point) -> Role:
    """Return the ground behind a place on paper: the well's air, or the bare sheet."""
    try:
        return "well" if plane.air and inside(scene.view.to_boat(at), plane.air) else "sheet"
    except Unmeasured:
        return "sheet"


def seen(scene: Scene, ring: Ring) -> tuple[tuple[Point, ...], ...]:
    """Return what of a ring is near the sheet, on paper."""
    return on_sheet(scene, on_paper(scene, ring))


def hatched(scene: Scene, ring: Ring, angle: float, pitch: float, pen: Pen, kind: str, part: str) -> Iterator[Mark]:
    """Yield a ring's hatch, as far as it is seen."""
    for piece in seen(scene, ring):
        match kind:
            case "lines" | "cross" | "plywood" | "foam" | "pairs":
                yield Hatch(piece, angle, pitch, pen, kind, part)
            case _:
                raise ValueError(kind)


def _air(scene: Scene, plane: Plane) -> Iterator[Mark]:
    for piece in seen(scene, plane.air) if plane.air else ():
        yield Path(piece, True, None, "well", "well")


def _beyond(scene: Scene, plane: Plane) -> Iterator[Mark]:
    """The transom's higher part beyond this plane, away from the eye at starboard."""
    corners = known(scene.design.transom.outline) or []
    high = max((v for u, v in corners if u <= plane.u), default=plane.top)
    if high <= plane.top + 1.0:
        return
    face = plane.faces
    ends = [(plane.top, 0.0), (high, 0.0), (high, face.thickness(high)), (plane.top, face.thickness(plane.top))]
    yield Path(on_paper(scene, tuple(plane.outside(v, s) for v, s in ends)), False, pens.FINE, None, "transom beyond")


def _wood(scene: Scene, plane: Plane) -> Iterator[Mark]:
    for piece in seen(scene, plane.transom):
        yield Path(piece, True, None, "wood", "transom")
    up = 90.0 + math.degrees(plane.faces.rake)
    core = scene.design.transom.core
    kind = "plywood" if "plywood" in core else "foam" if "foam" in core else "lines"
    for layer, ring in plane.bands:
        if layer == "skin":
            yield from hatched(scene, ring, 45.0, 1.5, pens.HATCH, "lines", "skin")
        else:
            yield from hatched(scene, ring, up, 2.5, pens.HATCH, kind, "core")


def _faces(scene: Scene, plane: Plane) -> Iterator[Mark]:
    """The edges of the section; the inner face below the floor is hidden."""
    outer_top, inner_top, inner_foot, outer_foot = (scene.view.to_paper(at) for at in plane.transom)
    for layer, (a, b, c, d) in plane.bands:
        if layer == "core":
            yield Line(scene.view.to_paper(a), scene.view.to_paper(d), pens.FINE, "skin outside")
            yield Line(scene.view.to_paper(b), scene.view.to_paper(c), pens.FINE, "skin inside")
    yield Path((outer_foot, outer_top, inner_top), False, pens.CUT, None, "transom")
    land = scene.view.to_paper(plane.floor[0]) if plane.floor else inner_foot
    yield Line(inner_top, land, pens.CUT, "inner face")
    if plane.floor:
        yield Line(land, inner_foot, pens.HIDDEN, "inner face")
    yield Line(inner_foot, outer_foot, pens.CUT, "transom")


def _floor(scene: Scene, plane: Plane) -> Iterator[Mark]:
    if not plane.floor:
        return
    line = on_paper(scene, plane.floor)
    (xa, ya), (xb, yb) = line[-2], line[-1]
    length = math.hypot(xb - xa, yb - ya) or 1.0
    down = (yb - ya) / length * FLOOR_BAND, -(xb - xa) / length * FLOOR_BAND
    band = (line[-2], line[-1], (xb + down[0], yb + down[1]), (xa + down[0], ya + down[1]))
    for piece in on_sheet(scene, band):
        yield Hatch(piece, 45.0, 1.5, pens.HATCH, "lines", "well floor")
    yield from front_marks(scene, plane)


def front_marks(scene: Scene, plane: Plane) -> Iterator[Mark]:
    """The well's front end."""
    if plane.front:
        yield Path(on_paper(scene, plane.front), False, pens.SEEN, None, "well front")


def floor_line(scene: Scene, plane: Plane) -> Iterator[Mark]:
    """The floor's own line with its rounded corner: over the bolts, so that it is seen where one goes below it."""
    if plane.floor:
        yield Path(on_paper(scene, plane.floor), False, pens.CUT, None, "well floor")


def _blocks(scene: Scene, plane: Plane) -> Iterator[Mark]:
    for index, ring in plane.blocks:
        for piece in seen(scene, ring):
            yield Path(piece, True, None, "sheet", f"block {index}")
            yield Hatch(piece, 45.0, 2.6, pens.HATCH, "lines", f"block {index}")
        yield Path(on_paper(scene, ring), True, pens.CUT, None, f"block {index}")
