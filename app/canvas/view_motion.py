"""Moves a view over the boat: zooms around a place, pushes, and keeps the boat in view. No Qt, no pixels of a screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from templates_out.views.viewport import Viewport, fit

if TYPE_CHECKING:
    from templates_out.drawing.marks import Point
    from templates_out.views.viewport import Rect

SMALLEST, LARGEST = 1 / 20, 8.0  # scales, paper to boat
NOTCH = 1.2  # a notch of the wheel
_KEPT = 20.0  # paper mm of the boat that stay in view


def zoomed(view: Viewport, factor: float, about: Point, whole: Rect) -> Viewport:
    """Return the view, zoomed around a place on paper, between the smallest and the largest scale."""
    scale = min(max(view.scale * factor, SMALLEST), LARGEST)
    return kept(view.zoomed(scale / view.scale, about), whole)


def pushed(view: Viewport, dx: float, dy: float, whole: Rect) -> Viewport:
    """Return the view with the drawing pushed by (dx, dy) [paper mm], never out of view."""
    return kept(view.moved(dx, dy), whole)


def kept(view: Viewport, whole: Rect) -> Viewport:
    """Return the view, moved so that some of ``whole`` [boat mm] is visible."""
    left, bottom, right, top = view.rect
    room = _KEPT / view.scale
    dx = max(0.0, left + room - whole[2]) - max(0.0, whole[0] - (right - room))
    dy = max(0.0, bottom + room - whole[3]) - max(0.0, whole[1] - (top - room))
    return replace(view, left=view.left - dx, bottom=view.bottom - dy)


def fitted(rect: Rect, width: float, height: float) -> Viewport:
    """Return the view that shows ``rect`` [boat mm] on a paper of this size, between the two scales."""
    view = fit(rect, max(width, 1.0), max(height, 1.0))
    return view.at_scale(min(max(view.scale, SMALLEST), LARGEST))
