"""A placement in small: the part of the face where the work is, with its bolts, no figures."""

from __future__ import annotations

from geometry.judge.findings import Checked
from templates_out.drawing.marks import Hatch, Mark
from templates_out.views.face_bolts import bolt_marks
from templates_out.views.face_parts import standing_marks
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.viewport import Rect, fit


def placement_marks(checked: Checked, mount: int, rect: Rect, width: float, height: float) -> tuple[Mark, ...]:
    """Return ``rect`` of the face [boat mm] on a paper of ``width`` by ``height`` [mm]; what is fouled stays hatched."""
    scene = Scene(checked, fit(rect, width, height), ViewFocus(mount), "screen")
    standing = (mark for mark in standing_marks(scene) if not isinstance(mark, Hatch))
    return (*standing, *bolt_marks(scene))
