"""Where the ink of a mark is: nothing of it is painted outside its box, on any shipped boat."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QImage, QPainter, QRegion

from app.canvas.painted_area import ink_box, ink_region
from app.canvas.pen import SCREEN, paint
from app.canvas.picture_cache import CachedLayer
from app.ui.palette import palette
from assets import design_names, design_text
from geometry.design_text import from_text
from geometry.judge.check import check
from templates_out.drawing.marks import Circle, Line, Path, Pen, Text
from templates_out.drawing.paper_ink import INK
from templates_out.pages.view_pages import view_pages

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from templates_out.drawing.marks import Mark

WIDE, HIGH = 900, 800


def sheet() -> QImage:
    made = QImage(WIDE, HIGH, QImage.Format.Format_RGB32)
    made.fill(palette(False)["sheet"])
    return made


def painted(marks: tuple[Mark, ...], over: QImage, region: QRegion | None = None) -> QImage:
    made = over.copy()
    painter = QPainter(made)
    if region is not None:
        painter.setClipRegion(region)
    painter.translate(0, HIGH)
    paint(painter, marks, SCREEN, palette(False))
    painter.end()
    return made


@pytest.mark.parametrize(
    "mark",
    [
        Line((30.0, 30.0), (60.0, 50.0), Pen("ink", 2.0)),
        Circle((60.0, 60.0), 12.0, Pen("ink", 3.0)),
        Path(((30.0, 30.0), (90.0, 36.0), (31.0, 42.0)), True, Pen("ink", 1.5)),
        Text((60.0, 60.0), "(Åg) 7/8", 6.0, italic=True),
        Text((60.0, 60.0), "Qj 3/16", 6.0, patch="lit", angle=20.0, anchor="middle"),
    ],
)
def test_the_ink_of_each_kind_of_mark_is_in_its_box(qapp: QApplication, mark: Mark) -> None:
    made = painted((mark,), sheet())
    assert made != sheet()
    assert painted((mark,), sheet(), QRegion(ink_box(mark, 0.0, HIGH))) == made


@pytest.mark.parametrize("name", design_names())
def test_the_ink_of_all_marks_is_in_their_region(qapp: QApplication, name: str) -> None:
    """Painted through the region of its ink, each view is the same as painted whole."""
    for page in view_pages(check(from_text(design_text(name)))):
        for number in range(0, len(page.marks), 7):
            marks = page.marks[number : number + 7]
            assert painted(marks, sheet(), ink_region(marks, 0.0, HIGH)) == painted(marks, sheet()), marks


def test_a_part_of_the_sheet_is_painted_as_the_whole_is(qapp: QApplication) -> None:
    """Marks outside the region are left out, and none that reaches into it."""
    page = view_pages(check(from_text(design_text("shallow-well-skiff"))))[0]
    box = QRect(0, 0, WIDE, HIGH)
    for corner in ((40, 120), (300, 300), (180, 420)):
        part = QRegion(QRect(*corner, 90, 60)) + QRect(500, 200, 40, 200)
        frames = sheet(), sheet()
        for frame, region in zip(frames, (part, None), strict=True):
            painter = QPainter(frame)
            CachedLayer().draw(painter, box, page.marks, palette(False), region)
            painter.end()
        assert frames[0] != frames[1]
        assert all(
            frames[0].copy(rect) == frames[1].copy(rect) for rect in (QRect(*corner, 90, 60), QRect(500, 200, 40, 200))
        )


def test_only_the_sheet_itself_is_white_on_paper():
    """Words and lines in any other colour of the screen are black, or a tint that is left out."""
    assert {role for role, ink in INK.items() if ink == 1.0} == {"sheet"}
    assert set(INK.values()) == {0.0, 1.0, None}
