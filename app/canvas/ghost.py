"""Where the holes of another design would go, as a fine ghost over the face."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from geometry.solid.bolts import Bolt, bolts
from templates_out.drawing.marks import Circle, Line, Mark, Pen
from templates_out.views.viewport import told

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.whole import Design
    from templates_out.views.viewport import Viewport

GHOST = Pen("new", 0.25, (1.4, 0.9))


def ghost_marks(present: Design, other: Design, view: Viewport) -> tuple[Mark, ...]:
    """Return the holes of ``other`` with their washers, and a line from where each is now."""
    marks: list[Mark] = []
    now = {(bolt.mount_index, bolt.name): bolt for bolt in bolts(present)}
    for bolt in bolts(other):
        marks += told(partial(_bolt, bolt, now.get((bolt.mount_index, bolt.name)), view))
    return tuple(marks)


def _bolt(bolt: Bolt, now: Bolt | None, view: Viewport) -> Iterator[Mark]:
    at = view.to_paper((bolt.u, bolt.v))
    if now is not None:
        here = view.to_paper((now.u, now.v))
        if here == at:
            return
        yield Line(here, at, GHOST, "ghost")
    yield Circle(at, max(bolt.hole / 2 * view.scale, 0.8), GHOST, None, "ghost")
    yield Circle(at, (bolt.hardware.washer.outer or 30.0) / 2 * view.scale, GHOST, None, "ghost")
