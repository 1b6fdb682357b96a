"""Both views as sheets of their own, to be painted as pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.judge.inside import PARTS
from templates_out.drawing.marks import Page, Text
from templates_out.views.cut import cut_marks, cut_rect, cut_title
from templates_out.views.face import face_marks
from templates_out.views.viewport import fit, work_rect

if TYPE_CHECKING:
    from geometry.judge.findings import Checked
    from templates_out.views.cut import Side

WIDTH, HEIGHT = 172.0, 148.0  # [mm], about what the window shows at 100 %
_AIR = 6.0  # [mm]
_ALIKE = 1e-6  # [mm]: clearances nearer than this are alike


def face_picture(checked: Checked) -> Page:
    """Return the face as seen from astern, the work as large as the sheet allows."""
    view = fit(work_rect(checked.design), WIDTH, HEIGHT, _AIR)
    return Page(WIDTH, HEIGHT, face_marks(checked, view, style="paper"), "face")


def cut_picture(checked: Checked) -> Page:
    """Return the cut through the bolts of the side where it is tightest inside, seen from starboard."""
    side = tightest_side(checked)
    view = fit(cut_rect(checked.design, side), WIDTH, HEIGHT, _AIR)
    words = (
        Text((2.0, HEIGHT - 5.0), cut_title(side, bolted=bool(checked.design.mounts)), 3.0, bold=True),
        Text((WIDTH - 2.0, HEIGHT - 5.0), "seen from starboard", 3.0, anchor="end"),
    )
    return Page(WIDTH, HEIGHT, (*cut_marks(checked, view, side, style="paper"), *words), "cut")


def tightest_side(checked: Checked) -> Side:
    """Return the side with the smallest clearance inside, starboard where both are alike."""
    inside = [one for one in checked.findings if one.check in PARTS and one.value is not None]
    least = min((one.value for one in inside if one.value is not None), default=0.0)
    sides = {one.at.rsplit(" ", 1)[-1] for one in inside if one.value is not None and one.value - least < _ALIKE}
    return "port" if sides == {"port"} else "starboard"
