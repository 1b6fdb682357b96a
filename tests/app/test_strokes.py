"""Outlines drawn as lines: the same picture as Qt's own outlines, within what an eye can see."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen, QPolygonF

from app.canvas.pen import paint
from app.canvas.single_lines import dashed_circle, slanting, strokes
from app.ui.palette import palette
from templates_out.drawing.marks import Path

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QApplication

SQUARE = [(20.0, 20.0), (100.0, 20.0), (100.0, 90.0), (20.0, 90.0), (20.0, 20.0)]
LEANING = [(20.0, 30.0), (95.0, 18.0), (110.0, 84.0), (34.0, 97.0), (20.0, 30.0)]
HEXAGON = [(60 + 40 * math.cos(math.radians(a)), 60 + 40 * math.sin(math.radians(a))) for a in range(10, 371, 60)]
FILLET = [(60 + 45 * math.cos(math.radians(a)), 20 + 45 * math.sin(math.radians(a))) for a in range(0, 91, 3)]


def picture(draw: Callable[[QPainter], object]) -> QImage:
    made = QImage(128, 128, QImage.Format.Format_RGB32)
    made.fill(QColor("white"))
    painter = QPainter(made)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    draw(painter)
    painter.end()
    return made


def greys(made: QImage) -> list[int]:
    return [made.pixelColor(x, y).lightness() for y in range(128) for x in range(128)]


def pen(width: float, cap: Qt.PenCapStyle) -> QPen:
    made = QPen(QColor("black"), width)
    made.setCapStyle(cap)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return made


def stroke(painter: QPainter, places: list[QPointF], width: float) -> None:
    lines, rows = strokes(places, width / 2)
    if lines:
        painter.drawLines(lines)
    for row in rows:
        painter.drawPolyline(row)


@pytest.mark.parametrize("width", [1.3, 1.9, 3.8])
@pytest.mark.parametrize("corners", [SQUARE, LEANING, HEXAGON, FILLET])
def test_lines_make_the_outline_that_qt_makes(qapp: QApplication, corners: list[tuple[float, float]], width: float) -> None:
    places = [QPointF(x, y) for x, y in corners]

    def lines(painter: QPainter) -> None:
        painter.setPen(pen(width, Qt.PenCapStyle.SquareCap))
        stroke(painter, places, width)

    def outline(painter: QPainter) -> None:
        painter.setPen(pen(width, Qt.PenCapStyle.FlatCap))
        painter.drawPolyline(QPolygonF(places))

    ours, theirs = greys(picture(lines)), greys(picture(outline))
    off = [abs(a - b) for a, b in zip(ours, theirs, strict=True)]
    inked = sum(255 - grey for grey in theirs)
    assert inked > 255 * 40 * width
    assert sum(off) < 0.03 * inked  # at the corners, and by how Qt's two ways differ along one line


def test_the_ends_of_an_open_row_stay_where_they_are(qapp: QApplication) -> None:
    places = [QPointF(30.0, 40.0), QPointF(90.0, 40.0), QPointF(90.0, 100.0)]

    def draw(painter: QPainter) -> None:
        painter.setPen(pen(4.0, Qt.PenCapStyle.SquareCap))
        stroke(painter, places, 4.0)

    made = picture(draw)
    inked = [(x, y) for y in range(128) for x in range(128) if made.pixelColor(x, y).lightness() < 128]
    assert (min(x for x, _ in inked), max(y for _, y in inked)) == (30, 99)


def test_a_line_shorter_than_its_pen_keeps_its_middle(qapp: QApplication) -> None:
    lines, (row,) = strokes([QPointF(10.0, 10.0), QPointF(11.0, 10.0)], 5.0)
    assert not lines
    assert row.toList() == [QPointF(10.5, 10.0), QPointF(10.5, 10.0)]


def test_a_rounded_corner_between_two_long_sides_is_one_row(qapp: QApplication) -> None:
    fillet = [QPointF(x, y) for x, y in FILLET]
    lines, rows = strokes([QPointF(105.0, -60.0), *fillet, QPointF(-40.0, 65.0)], 0.9)
    assert len(lines) == 2
    assert [row.toList() for row in rows] == [fillet]


def test_only_slanting_sides_are_smoothed() -> None:
    trapezium = [QPointF(0.0, 0.0), QPointF(40.0, 0.0), QPointF(30.0, 20.0), QPointF(0.0, 20.0)]
    assert slanting(trapezium) == [QLineF(40.0, 0.0, 30.0, 20.0)]


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_a_large_shape_is_filled_as_a_small_one_is(qapp: QApplication, scale: float) -> None:
    """Roughly first and its sides after, against Qt's own smooth filling: along the sides only, and by a pixel at most."""
    corners = tuple((x * scale, -y * scale) for x, y in ((10.0, 10.0), (230.0, 24.0), (215.0, 240.0), (30.0, 236.0)))

    def made(draw: Callable[[QPainter], object]) -> QImage:
        image = QImage(512, 512, QImage.Format.Format_RGB32)
        image.fill(palette(False)["sheet"])
        painter = QPainter(image)
        draw(painter)
        painter.end()
        return image

    def plain(painter: QPainter) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(palette(False)["ink"])
        painter.drawPolygon(QPolygonF([QPointF(x, -y) for x, y in corners]))

    ours = made(lambda painter: paint(painter, (Path(corners, True, None, "ink"),), 1.0, palette(False)))
    theirs = made(plain)
    ring = [QPointF(x, -y) for x, y in (*corners, corners[0])]
    off = [
        (x, y) for y in range(512) for x in range(512)
        if abs(ours.pixelColor(x, y).lightness() - theirs.pixelColor(x, y).lightness()) > 8
    ]  # fmt: skip
    assert all(min(_off(QPointF(x + 0.5, y + 0.5), a, b) for a, b in pairwise(ring)) < 1.5 for x, y in off)


def _off(at: QPointF, a: QPointF, b: QPointF) -> float:
    line = QLineF(a, b)
    along = ((at.x() - a.x()) * line.dx() + (at.y() - a.y()) * line.dy()) / line.length() ** 2
    return QLineF(at, line.pointAt(min(1.0, max(0.0, along)))).length()


@pytest.mark.parametrize("radius", [6.0, 9.2, 44.2, 300.0])
@pytest.mark.parametrize("dash", [(6.8, 3.4), (9.0, 2.0, 1.0, 2.0)])
def test_a_dashed_circle_is_on_its_circle_and_closes(radius: float, dash: tuple[float, ...]) -> None:
    lines = dashed_circle(QPointF(100.0, 50.0), radius, dash)
    for line in lines:
        assert QLineF(QPointF(100.0, 50.0), line.p1()).length() == pytest.approx(radius, abs=1e-9)
        middle = QLineF(QPointF(100.0, 50.0), line.center()).length()
        assert radius - 0.3 < middle <= radius  # a chord's middle: within a third of a pixel
    drawn = sum(line.length() for line in lines)
    share = sum(dash[::2]) / sum(dash)
    assert drawn == pytest.approx(2 * math.pi * radius * share, rel=0.02)  # a chord is a little shorter than its arc
    turned = round(2 * math.pi * radius / sum(dash))
    first = {(round(line.x1(), 6), round(line.y1(), 6)) for line in lines}
    turn = 2 * math.pi / max(2, turned)
    for x, y in first:
        c, s = math.cos(turn), math.sin(turn)
        again = 100 + (x - 100) * c - (y - 50) * s, 50 + (x - 100) * s + (y - 50) * c
        assert min(math.dist(again, other) for other in first) < 1e-4  # every dash is followed by one like it
