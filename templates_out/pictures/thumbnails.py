"""Small pictures without figures: a boat's face, the cut of its transom and well, and one placement."""

from __future__ import annotations

from geometry.design.validity import known
from geometry.judge.findings import Checked
from geometry.solving.solved import solved
from templates_out.drawing.marks import Hatch, Line, Mark
from templates_out.views import view_pens as pens
from templates_out.views.cut import bolts_of, plane_of
from templates_out.views.cut_boat import floor_line
from templates_out.views.cut_boat import standing_marks as cut_standing
from templates_out.views.face_boat import standing_marks as face_standing
from templates_out.views.face_bolts import bolt_marks
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.viewport import Rect, fit, if_known, whole_rect

_CUT_RECT: Rect = (-60.0, -400.0, 300.0, 60.0)  # boat mm of the cut that is shown in small


def face_portrait(checked: Checked, width: float, height: float) -> tuple[Mark, ...]:
    """Return the whole transom on a paper of ``width`` by ``height`` [mm], without figures."""
    view = fit(whole_rect(checked.design), width, height)
    scene = Scene(checked, view, ViewFocus(), "screen")
    if not known(checked.design.transom.outline):  # a bare sheet: centreline and datum
        x, y = width / 2, 0.72 * height
        return Line((x, 1.0), (x, height - 1.0), pens.CENTRE), Line((x - width / 4, y), (x + width / 4, y), pens.CENTRE)
    marks = (*face_standing(scene), *bolt_marks(scene))
    return tuple(mark for mark in marks if not isinstance(mark, Hatch))


def cut_portrait(checked: Checked, width: float, height: float) -> tuple[Mark, ...]:
    """Return the cut on a paper of ``width`` by ``height`` [mm], without bolts and figures."""
    view = fit(_CUT_RECT, width, height)
    scene = Scene(checked, view, ViewFocus(), "screen")
    plane = plane_of(solved(checked.design), "starboard", 0, upper=not bolts_of(checked.design, "starboard", 0))
    return (*cut_standing(scene, plane), *if_known(lambda: floor_line(scene, plane)))


def placement_marks(checked: Checked, mount: int, rect: Rect, width: float, height: float) -> tuple[Mark, ...]:
    """Return ``rect`` of the face [boat mm] on a paper of ``width`` by ``height`` [mm]; what is fouled stays hatched."""
    scene = Scene(checked, fit(rect, width, height), ViewFocus(mount), "screen")
    standing = (mark for mark in face_standing(scene) if not isinstance(mark, Hatch))
    return (*standing, *bolt_marks(scene))
