"""Painting marks: hairlines on whole pixels, nothing thinner than one, and unchanged marks kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QImage, QPainter

from app.canvas.pen import SCREEN, image, paint, png_bytes
from app.canvas.picture_cache import CachedLayer
from app.ui.palette import palette
from assets import design_text
from geometry.design_text import from_text
from geometry.edits.edits import with_mount
from geometry.judge.check import check
from templates_out.drawing.marks import Line, Page, Pen, Text
from templates_out.pages.view_pages import view_pages

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from templates_out.drawing.marks import Mark


def painted(marks: tuple[Mark, ...], ratio: float = 1.0) -> QImage:
    made = QImage(round(160 * ratio), round(120 * ratio), QImage.Format.Format_RGB32)
    made.setDevicePixelRatio(ratio)
    made.fill(palette(False)["sheet"])
    painter = QPainter(made)
    painter.translate(0, 120)
    paint(painter, marks, SCREEN, palette(False))
    painter.end()
    return made


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("x", [10.0, 10.07, 10.13, 17.77])
def test_an_upright_hairline_is_one_column_of_full_colour(qapp: QApplication, x: float, ratio: float) -> None:
    made = painted((Line((x, 2.0), (x, 28.0), Pen("ink", 0.05)),), ratio)
    row = round(60 * ratio)
    ground, ink = palette(False)["sheet"].rgb(), palette(False)["ink"].rgb()
    colours = [made.pixel(column, row) for column in range(made.width()) if made.pixel(column, row) != ground]
    assert colours == [ink]


def test_a_mark_of_another_light_has_its_colour(qapp: QApplication) -> None:
    page = Page(20.0, 10.0, (Line((0.0, 5.0), (20.0, 5.0), Pen("new", 1.0)),))
    for dark in (False, True):
        made = image(page, dark=dark)
        assert made.pixel(30, round(5 * SCREEN)) == palette(dark)["new"].rgb()
        assert made.pixel(1, 1) == palette(dark)["sheet"].rgb()


def test_y_goes_up_from_the_lower_left_corner(qapp: QApplication) -> None:
    made = image(Page(20.0, 10.0, (Line((0.0, 9.0), (5.0, 9.0), Pen("ink", 0.5)),)))
    dark = [(x, y) for x in range(made.width()) for y in range(made.height()) if made.pixelColor(x, y).lightness() < 80]
    assert dark
    assert all(x <= 5 * SCREEN + 1 and y < 2 * SCREEN for x, y in dark)


def test_the_standing_layer_paints_what_painting_at_once_paints(qapp: QApplication) -> None:
    """Frame after frame of a drag, with some marks kept: equal to the last pixel."""
    design = from_text(design_text("shallow-well-skiff"))
    layer, box = CachedLayer(), QRect(0, 0, 650, 560)
    for drop in (203.2, 200.0, 195.0, 195.0, 170.0):
        page = view_pages(check(with_mount(design, 0, drop=drop)))[0]
        frames = [QImage(650, 560, QImage.Format.Format_RGB32) for _ in range(2)]
        painter = QPainter(frames[0])
        layer.draw(painter, box, page.marks, palette(False))
        painter.end()
        frames[1].fill(palette(False)["sheet"])
        painter = QPainter(frames[1])
        painter.translate(0, 560)
        paint(painter, page.marks, SCREEN, palette(False))
        painter.end()
        assert frames[0] == frames[1], drop


def test_a_picture_is_a_png_of_its_size(qapp: QApplication) -> None:
    raw = png_bytes(Page(50.8, 25.4, (Text((5.0, 5.0), "4 5/8 in", 3.4),)), 96 / 25.4)
    assert raw[:8] == b"\x89PNG\r\n\x1a\n"  # ISO/IEC 15948, 5.2: the signature
    assert (int.from_bytes(raw[16:20], "big"), int.from_bytes(raw[20:24], "big")) == (192, 96)
