"""The key drawing: the whole transom, small, with a frame around the part that the face shows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.design.validity import known
from geometry.solid.bracket_holes import bracket_ring
from geometry.solid.placed_bolts import bolts
from templates_out.drawing.marks import Circle, Mark, Path, Pen
from templates_out.views.viewport import Rect, fit, known_points, whole_rect

if TYPE_CHECKING:
    from geometry.design.design import Design

WIDE, HIGH = 112 * 25.4 / 96, 64 * 25.4 / 96  # paper mm
_LINE = Pen("ink", 0.2)


def key_marks(design: Design, seen: Rect) -> tuple[Mark, ...]:
    """Return the key drawing on a small sheet; ``seen`` [boat mm] is the part that the face shows."""
    view = fit(whole_rect(design), WIDE, HIGH, 1.5)
    marks: list[Mark] = []
    outline = known(design.transom.outline)
    if outline:
        marks.append(Path(tuple(view.to_paper(at) for at in outline), True, _LINE, "wood"))
    for index, mount in enumerate(design.mounts):
        ring = known_points(lambda i=index, m=mount: bracket_ring(m, i))  # type: ignore[misc]
        if ring:
            marks.append(Path(tuple(view.to_paper(at) for at in ring), True, Pen("soft", 0.18)))
    for bolt in bolts(design):
        for at in known_points(lambda b=bolt: [(b.u, b.v)]):  # type: ignore[misc]
            marks.append(Circle(view.to_paper(at), 0.45, None, "new"))
    (left, bottom), (right, top) = view.to_paper(seen[:2]), view.to_paper(seen[2:])
    left, bottom = max(left, 0.4), max(bottom, 0.4)
    right, top = min(right, WIDE - 0.4), min(top, HIGH - 0.4)
    if right > left and top > bottom:
        marks.append(Path(((left, bottom), (right, bottom), (right, top), (left, top)), True, Pen("ink", 0.35)))
    return tuple(marks)
