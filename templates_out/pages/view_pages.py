"""Both views, each on a page by itself, to be painted as pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.design_text import fingerprint
from templates_out.drawing.clipping import clip
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Mark, Page, Text
from templates_out.drawing.sheet_pens import shortened, width_of
from templates_out.layout.reading_pages import BODY
from templates_out.pages.shop.shop_pictures import side_to_show
from templates_out.views.cut import cut_rect, cut_title
from templates_out.views.detail import cut_with_detail
from templates_out.views.face import face_marks
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import fit, work_rect

if TYPE_CHECKING:
    from geometry.judge.findings import Checked

FACE_SIZE, CUT_SIZE = (240.0, 180.0), (180.0, 150.0)  # mm: pages of the pictures
_HEAD = 12.0


def view_pages(checked: Checked, mount: int = 0) -> tuple[Page, Page]:
    """Return the face and the cut, each alone on a page, for pictures."""
    side = side_to_show(checked, mount)
    face, cut = (FACE_SIZE[0], FACE_SIZE[1] - _HEAD), (CUT_SIZE[0], CUT_SIZE[1] - _HEAD)
    face_view = fit(work_rect(checked.design), *face)
    cut_view = fit(cut_rect(checked.design, side, mount), *cut, 4.0)
    focus = ViewFocus(mount=mount, text=3.4)
    bolted = bool(checked.design.mounts) and checked.design.mounts[mount].bracket.rows is not None
    return (
        _picture(checked, FACE_SIZE, "The face, seen from astern", face_marks(checked, face_view, focus, "paper")),
        _picture(
            checked, CUT_SIZE, f"{cut_title(side, bolted=bolted)}, seen from starboard",
            cut_with_detail(checked, cut_view, side, mount, focus, "paper"),
        ),
    )  # fmt: skip


def _picture(checked: Checked, size: tuple[float, float], title: str, marks: tuple[Mark, ...]) -> Page:
    width, height = size
    head = Text((4.0, height - 7.5), title, 4.2, bold=True)
    room = width - width_of(head) - 16.0
    mark = f"  ·  design {fingerprint(checked.design)}"
    whose = shortened(writable(checked.design.name), BODY, room - width_of(Text((0.0, 0.0), mark, BODY))) + mark
    name = Text((width - 4.0, height - 7.5), whose, BODY, "soft", anchor="end")
    return Page(width, height, (*clip(marks, (0.0, 0.0, width, height - _HEAD)), head, name), title)
