"""Moving marks, the lines of a hatch, and the box that a text fills."""

from __future__ import annotations

import math
from typing import assert_never

from msgspec.structs import replace

from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Mark, Path, Point, Text

BELOW, ABOVE = -0.17, 0.74  # what a line of text takes up under and over its baseline, of its size


def mapped(mark: Mark, scale: float, dx: float, dy: float) -> Mark:
    """Return ``mark`` with each place at scale·place + (dx, dy); pens, dashes and pitches stay as they are.

    Texts keep their size: on paper it is fixed for any scale of the drawing.
    """

    def to(p: Point) -> Point:
        return p[0] * scale + dx, p[1] * scale + dy

    match mark:
        case Line():
            return replace(mark, a=to(mark.a), b=to(mark.b))
        case Circle() | Arc():
            return replace(mark, centre=to(mark.centre), radius=mark.radius * scale)
        case Path():
            return replace(mark, points=tuple(map(to, mark.points)))
        case Hatch():
            return replace(mark, outline=tuple(map(to, mark.outline)))
        case Text():
            return replace(mark, at=to(mark.at))
        case _:
            assert_never(mark)


def shift(marks: tuple[Mark, ...], dx: float, dy: float) -> tuple[Mark, ...]:
    """Return ``marks`` moved by (dx, dy) [mm]."""
    return tuple(mapped(mark, 1.0, dx, dy) for mark in marks)


def text_box(text: Text) -> tuple[Point, Point, Point, Point]:
    """Return the corners of the box that a text fills [mm], anticlockwise from the start of its foot."""
    width = text_width(text.text, text.size, text.bold, text.italic, text.condensed)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    foot, head = BELOW * text.size, ABOVE * text.size
    c, s = math.cos(math.radians(text.angle)), math.sin(math.radians(text.angle))

    def place(x: float, y: float) -> Point:
        return text.at[0] + x * c - y * s, text.at[1] + x * s + y * c

    return place(left, foot), place(left + width, foot), place(left + width, head), place(left, head)


def hatch_lines(hatch: Hatch) -> tuple[Line, ...]:
    """Return the lines of a hatch, cut exactly to its outline; see `hatch_strokes`."""
    return tuple(Line(a, b, hatch.pen, hatch.part) for a, b in hatch_strokes(hatch))


def hatch_strokes(hatch: Hatch) -> list[tuple[Point, Point]]:
    """Return both ends of each line of a hatch, cut exactly to its outline.

    The pattern is anchored to the page's origin, so that neighbouring hatches of one kind run on.
    ``cross`` adds the same lines turned by 90°. ``pairs`` draws two lines, a third of the pitch apart. ``plywood`` draws
    full lines, with a row of short strokes along every second band between them. ``foam`` draws dots on a skewed grid.
    """
    pitch = hatch.pitch
    match hatch.kind:
        case "lines":
            return _rows(hatch, hatch.angle, pitch, 0.0)
        case "cross":
            return _rows(hatch, hatch.angle, pitch, 0.0) + _rows(hatch, hatch.angle + 90, pitch, 0.0)
        case "pairs":
            return _rows(hatch, hatch.angle, pitch, 0.0) + _rows(hatch, hatch.angle, pitch, pitch / 3)
        case "plywood":
            short = _rows(hatch, hatch.angle, 2 * pitch, pitch / 2, stroke=(0.5 * pitch, 1.4 * pitch))
            return _rows(hatch, hatch.angle, pitch, 0.0) + short
        case "foam":
            return _rows(hatch, hatch.angle, pitch, 0.0, stroke=(0.3, pitch - 0.3))
        case _:
            assert_never(hatch.kind)


def _rows(
    hatch: Hatch, angle: float, pitch: float, start: float, stroke: tuple[float, float] | None = None
) -> list[tuple[Point, Point]]:
    """Return the parallel lines at start + k·pitch from the origin, cut where they cross the outline.

    With ``stroke`` (length, gap) each is broken into strokes, shifted by a third from row to row.
    """
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    corners = [(x * c + y * s, (y * c - x * s - start) / pitch) for x, y in hatch.outline]  # the second in rows
    above = [math.ceil(row) for _, row in corners]  # the first row that is not below the corner
    lowest = min(above)
    crossed: list[list[float]] = [[] for _ in range(max(above) - lowest)]
    (x1, row1), first = corners[-1], above[-1]
    for (x2, row2), last in zip(corners, above, strict=True):  # side by side: most cross few rows
        if first != last:
            slope = (x2 - x1) / (row2 - row1)
            for row in range(min(first, last), max(first, last)):
                crossed[row - lowest].append(x1 + (row - row1) * slope)
        x1, row1, first = x2, row2, last
    rows: list[tuple[Point, Point]] = []
    for row, cuts in enumerate(crossed, lowest):
        y = start + row * pitch
        dx, dy = -y * s, y * c
        cuts.sort()
        for a, b in zip(cuts[::2], cuts[1::2], strict=True):
            for p, q in _strokes(a, b, row, stroke) if stroke else ((a, b),):
                if q - p > 1e-9:
                    rows.append(((p * c + dx, p * s + dy), (q * c + dx, q * s + dy)))
    return rows


def _strokes(a: float, b: float, row: int, stroke: tuple[float, float]) -> list[tuple[float, float]]:
    length, period = stroke[0], stroke[0] + stroke[1]
    first = row * period / 3
    steps = range(math.floor((a - first) / period), math.ceil((b - first) / period) + 1)
    return [(max(a, first + i * period), min(b, first + i * period + length)) for i in steps]
