"""Paints marks with Qt. The screen is a sheet of paper at scale 1:n, and so are the pictures of the command line.

The painter's origin is the sheet's lower left corner. Level and upright lines are on whole device pixels, so that a
hairline is sharp. No line is thinner than one device pixel.
"""

from __future__ import annotations

import math
from functools import cache, lru_cache
from typing import TYPE_CHECKING, assert_never

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QImage, QPainter, QPen, QPolygonF

from app.canvas.single_lines import LEVEL, Grid, dashed_circle, slanting, snapped, strokes
from app.ui.font_files import load_font
from app.ui.palette import Palette, palette
from templates_out.drawing.fonts import font_name
from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Mark, Page, Path, Pen, Text
from templates_out.drawing.transforms import ABOVE, BELOW, hatch_strokes

if TYPE_CHECKING:
    from collections.abc import Iterable

    from PySide6.QtCore import QRect
    from PySide6.QtGui import QImage

    from templates_out.drawing.marks import Point, Role

SCREEN = 96 / 25.4  # px for each mm of the sheet, at 100 %
_LARGE = 40000.0  # square px: a larger shape is first filled roughly
PATCH = 0.28  # a patch's margin around its text, as a share of the text's size


def paint(painter: QPainter, marks: Iterable[Mark], px_per_mm: float, colours: Palette) -> None:
    """Paint ``marks`` [mm, y up from the painter's origin] at ``px_per_mm``."""
    hand = _MarkPainter(painter, px_per_mm, colours)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for mark in marks:
        hand.draw(mark)
    hand.draw_lines()
    painter.restore()


def paint_in(painter: QPainter, box: QRect, marks: Iterable[Mark], colours: Palette) -> None:
    """Paint ``marks`` at the screen's scale, with the paper's lower left corner in that of ``box`` [px]."""
    painter.save()
    painter.translate(box.left(), box.top() + box.height())
    paint(painter, marks, SCREEN, colours)
    painter.restore()


def image(page: Page, px_per_mm: float = SCREEN, *, dark: bool = False) -> QImage:
    """Return ``page`` as a picture, the sheet's colour behind it. Needs a running QGuiApplication."""
    from PySide6.QtGui import QImage

    colours = palette(dark)
    width, height = math.ceil(page.width * px_per_mm), math.ceil(page.height * px_per_mm)
    made = QImage(width, height, QImage.Format.Format_RGB32)
    made.setText("Software", "Boltwell")  # the program recognises its files by this
    made.fill(colours["sheet"])
    painter = QPainter(made)
    painter.translate(0, height)
    paint(painter, page.marks, px_per_mm, colours)
    painter.end()
    return made


def png_bytes(page: Page, px_per_mm: float = 2 * SCREEN, *, dark: bool = False) -> bytes:
    """Return ``page`` as the bytes of a PNG file. Start a QGuiApplication without a screen where none runs."""
    from PySide6.QtCore import QBuffer, QByteArray, QIODevice
    from PySide6.QtGui import QGuiApplication, QImageWriter

    held = QGuiApplication.instance() or QGuiApplication(["boltwell", "-platform", "offscreen"])
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"PNG")).write(image(page, px_per_mm, dark=dark))
    del held
    return bytes(buffer.data().data())


class _MarkPainter:
    """Paints marks with one painter, one scale and one set of colours."""

    def __init__(self, painter: QPainter, k: float, colours: Palette) -> None:
        self._painter, self._k, self._colours = painter, k, colours
        to_device = painter.deviceTransform()
        self._zoom, self._grid = to_device.m11(), Grid(k, to_device.m11(), to_device.dx(), to_device.dy())
        self._lines: list[QLineF] = []
        self._lines_pen: Pen | None = None
        self._half = 0.0
        self._dpi = painter.device().logicalDpiY()

    def draw(self, mark: Mark) -> None:
        """Draw a mark. Lines of one pen wait, and are drawn together when another mark comes."""
        if isinstance(mark, Line):
            if mark.pen is not self._lines_pen:
                self.draw_lines()
                self._lines_pen, self._half = mark.pen, self._odd(mark.pen)
            self._lines.append(self._line(mark.a, mark.b))
            return
        self.draw_lines()
        match mark:
            case Circle():
                self._circle(mark)
            case Arc():
                self._painter.setPen(self._pen(mark.pen))
                r, middle = mark.radius * self._k, self._to(mark.centre)
                box = QRectF(middle.x() - r, middle.y() - r, 2 * r, 2 * r)
                self._painter.drawArc(box, round(mark.start * 16), round((mark.end - mark.start) * 16))
            case Path():
                self._path(mark)
            case Hatch():
                strokes = _hatch_lines(mark, self._k)
                if strokes:
                    self._painter.setPen(self._pen(mark.pen))
                    self._painter.drawLines(strokes)
            case Text():
                self._text(mark)
            case _:
                assert_never(mark)

    def draw_lines(self) -> None:
        """Draw the waiting lines."""
        if self._lines and self._lines_pen is not None:
            self._painter.setPen(self._pen(self._lines_pen))
            self._painter.drawLines(self._lines)
            self._lines = []

    def _to(self, point: Point) -> QPointF:
        return QPointF(point[0] * self._k, -point[1] * self._k)

    def _circle(self, mark: Circle) -> None:
        centre, radius, pen = self._to(mark.centre), mark.radius * self._k, mark.pen
        if pen and pen.dash and not mark.fill:
            self._painter.setPen(self._pen(Pen(pen.role, pen.weight)))
            self._painter.drawLines(dashed_circle(centre, radius, tuple(length * self._k for length in pen.dash)))
            return
        self._stroke(pen, mark.fill)
        self._painter.drawEllipse(centre, radius, radius)

    def _path(self, mark: Path) -> None:
        pen = mark.pen
        ring = (*mark.points, mark.points[0]) if mark.closed else mark.points
        places = snapped(ring, self._odd(pen) if pen else 0.0, self._grid)
        if mark.fill:
            self._fill(places, mark.fill)
        if not pen:
            return
        width = max(pen.weight * self._k, 1 / self._zoom)
        fine = width * self._zoom <= 1.0
        self._painter.setPen(self._pen(pen, square=not fine and not pen.dash))
        if fine or pen.dash:
            self._painter.drawPolyline(QPolygonF(places))
        else:
            lines, rows = strokes(places, width / 2)
            if lines:
                self._painter.drawLines(lines)
            for row in rows:
                self._painter.drawPolyline(row)

    def _fill(self, places: list[QPointF], role: Role) -> None:
        """Fill a shape. Fill a large one roughly first, which is much faster, and then along its slanting sides."""
        painter, shape = self._painter, QPolygonF(places)
        box = shape.boundingRect()
        large = box.width() * box.height() > _LARGE
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._colours[role])
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, not large)
        painter.drawPolygon(shape)
        if large:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(self._colours[role], 1 / self._zoom))
            painter.drawLines(slanting(places))

    def _line(self, a: Point, b: Point) -> QLineF:
        """Return a line in pixels, on device pixels where it is level or upright."""
        xa, ya, xb, yb = a[0] * self._k, -a[1] * self._k, b[0] * self._k, -b[1] * self._k
        if -LEVEL < xa - xb < LEVEL:
            xa = xb = self._grid.on_pixel(xa, self._grid.dx, self._half)
        if -LEVEL < ya - yb < LEVEL:
            ya = yb = self._grid.on_pixel(ya, self._grid.dy, self._half)
        return QLineF(xa, ya, xb, yb)

    def _odd(self, pen: Pen) -> float:
        """Return half a device pixel where a line's width is an odd number of them."""
        return 0.5 * (max(1, round(pen.weight * self._k * self._zoom)) % 2)

    def _pen(self, pen: Pen, *, square: bool = False) -> QPen:
        colours = self._colours
        return _made_pen(pen, self._k, self._zoom, square=square, dark=colours.dark, pencil=colours.pencil)

    def _stroke(self, pen: Pen | None, fill: Role | None) -> None:
        if pen:
            self._painter.setPen(self._pen(pen))
        else:
            self._painter.setPen(Qt.PenStyle.NoPen)
        if fill:
            self._painter.setBrush(self._colours[fill])
        else:
            self._painter.setBrush(Qt.BrushStyle.NoBrush)

    def _text(self, text: Text) -> None:
        look = text.size * self._k * 72 / self._dpi, text.bold, text.italic, text.condensed
        font, width = _font(*look), _advance(text.text, *look, self._dpi)
        size = text.size * self._k
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
        painter, at = self._painter, self._to(text.at)
        if text.angle:
            painter.save()
            painter.translate(at)
            painter.rotate(-text.angle)
            at = QPointF()
        if text.patch:
            room = PATCH * size if text.patch == "lit" else 0.12 * size
            box = QRectF(at.x() + left, at.y() - ABOVE * size, width, (ABOVE - BELOW) * size)
            box.adjust(-2 * room, -room, 2 * room, room)
            self._stroke(None, text.patch)
            if text.patch == "lit":
                painter.drawRoundedRect(box, room / 2, room / 2)
            else:
                painter.drawRect(box)
        painter.setPen(self._colours[text.role])
        painter.setFont(font)
        painter.drawText(QPointF(at.x() + left, at.y()), text.text)
        if text.angle:
            painter.restore()


@lru_cache(maxsize=256)
def _made_pen(pen: Pen, k: float, zoom: float, *, square: bool, dark: bool, pencil: bool) -> QPen:
    width = max(pen.weight * k, 1 / zoom)
    made = QPen(palette(dark, pencil=pencil)[pen.role], width)
    made.setCapStyle(Qt.PenCapStyle.SquareCap if square else Qt.PenCapStyle.FlatCap)
    made.setJoinStyle(Qt.PenJoinStyle.MiterJoin if square else Qt.PenJoinStyle.RoundJoin)
    if pen.dash:
        made.setDashPattern([max(length * k, 0.5) / width for length in pen.dash])
    return made


@lru_cache(maxsize=128)  # most hatches do not change during a drag
def _hatch_lines(hatch: Hatch, k: float) -> list[QLineF]:
    return [QLineF(xa * k, -ya * k, xb * k, -yb * k) for (xa, ya), (xb, yb) in hatch_strokes(hatch)]


@lru_cache(maxsize=1024)
def _advance(text: str, points: float, bold: bool, italic: bool, condensed: bool, dpi: int) -> float:
    """Return the width of a text on a device of ``dpi`` [px]."""
    device = QImage(1, 1, QImage.Format.Format_RGB32)
    device.setDotsPerMeterX(round(dpi / 0.0254))
    device.setDotsPerMeterY(round(dpi / 0.0254))
    return QFontMetricsF(_font(points, bold, italic, condensed), device).horizontalAdvance(text)


@cache
def _font(points: float, bold: bool, italic: bool, condensed: bool) -> QFont:
    font = QFont(load_font(font_name(bold, italic, condensed)))
    font.setPointSizeF(max(points, 1.0))
    font.setBold(bold)
    font.setItalic(italic)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font
