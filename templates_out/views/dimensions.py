"""Dimensions: a line with oblique strokes and a figure upright in its gap (ISO 129-1), placed where they hide nothing.

A figure tries its places in order and takes the first that is free; where none is, it is left out. Paper mm.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable
from functools import cached_property, lru_cache
from itertools import islice
from typing import Literal

import msgspec
from msgspec.structs import replace

from templates_out.drawing.fonts import text_width
from templates_out.drawing.labels import Ground
from templates_out.drawing.marks import Line, Mark, Pen, Point, Role, Text
from templates_out.views.view_pens import SIZE
from templates_out.views.viewport import Rect

STROKE = 2.5  # the oblique stroke at each end
PAST = 1.5  # an extension line runs on so far past the dimension line
OFF = 1.0  # and starts so far off the part
AIR = 0.8  # of a figure to the line whose gap it is in
FREE = 1.1  # of a figure to all else
LEADING = 1.35
_AGAIN = -8  # steps of a drag after which a figure without a place is looked for again
AT_REST = 7  # figures shown at most while nothing is lit


class Figure(msgspec.Struct, frozen=True, dict=True):
    """A figure to be placed: its text (lines parted by a line feed), "about" over it for a guess, and how it is set."""

    text: str
    part: str
    size: float
    about: bool = False
    role: Role = "ink"
    bold: bool = False
    narrow: bool = False
    patch: Role | None = None

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The lines of text, from above."""
        return (*(("about",) if self.about else ()), *self.text.split("\n"))

    @cached_property
    def width(self) -> float:
        """Of the block of text."""
        return max(_width(line, self.size, self.bold, self.narrow) for line in self.lines)

    @cached_property
    def height(self) -> float:
        """Of the block of text."""
        return self.size * (0.74 + 0.17 + LEADING * (len(self.lines) - 1))

    def box(self, centre: Point) -> Rect:
        """Return the box that it fills with its middle at ``centre``."""
        w, h = self.width / 2, self.height / 2
        return centre[0] - w, centre[1] - h, centre[0] + w, centre[1] + h

    def texts(self, centre: Point) -> tuple[Text, ...]:
        """Return it as text with its middle at ``centre``."""
        base = centre[1] + self.height / 2 - 0.74 * self.size
        return tuple(
            Text((centre[0], base - i * LEADING * self.size), line, self.size, self.role, self.bold,
                 condensed=self.narrow, anchor="middle", patch=self.patch, part=self.part)
            for i, line in enumerate(self.lines)
        )  # fmt: skip


class Placed(msgspec.Struct, frozen=True, dict=True):
    """A figure with its lines, ready to be drawn if its place is free."""

    figure: Figure
    centre: Point
    lines: tuple[Line, ...]

    @cached_property
    def box(self) -> Rect:
        """Of the figure."""
        return self.figure.box(self.centre)

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Lines first, then the text over its patch."""
        return (*self.lines, *self.figure.texts(self.centre))


Place = Placed | Callable[[], Placed | None]
"""A figure at one of its places, or what makes it when the place is tried: None where that would be for nothing."""


def _made(place: Place) -> Placed | None:
    return place if isinstance(place, Placed) else place()


class Sheet(msgspec.Struct, frozen=True):
    """The marks on the sheet already: others, and figures with their lines.

    ``kept_places`` keeps the number of each figure's place. Below 0 it is how many steps a figure without a place
    waits. In a drag it is handed on, so that no figure leaves its place for nothing.
    """

    ground: Ground
    rect: Rect
    placed: tuple[Placed, ...] = ()
    kept_places: dict[str, int] = msgspec.field(default_factory=dict)

    def has_room(self, new: Placed) -> bool:
        """Say whether a figure hides nothing, is hidden by nothing, and stays on the sheet."""
        box = new.box
        if not self.is_open(box):
            return False
        wide = _grown(box, FREE)
        for old in self.placed:
            theirs = _grown(old.box, 0.4)
            if _meets(wide, old.box) or any(_crosses(line, theirs) for line in new.lines):
                return False
            if any(_crosses(line, wide) for line in old.lines):
                return False
        return True

    def is_open(self, box: Rect) -> bool:
        """Say whether a figure's box is on the sheet and on nothing that was there before the figures."""
        return _holds(self.rect, box) and self.ground.is_free_box(*box, gap=FREE)

    def put(self, places: Iterable[Place], *, always: bool = False, key: str = "") -> Sheet:
        """Return the sheet with the first of ``places`` that is free; where none is, as it was.

        With ``always`` it is put down even so, at the first place on the sheet: what is lit has to be seen.
        """
        first: Placed | None = None
        for number, place in enumerate(places):
            new = _made(place)
            if new is None:
                continue
            if self.has_room(new):
                self.kept_places[key] = number
                return self._with(new)
            first = first or (new if always and _holds(self.rect, new.box) else None)
        self.kept_places[key] = _AGAIN
        return self if first is None else self._with(first)

    def put_where_it_was(self, key: str, places: Callable[[], Iterable[Place]], *, always: bool = False) -> Sheet:
        """Return the same; the place that the figure ``key`` had the last time is tried before all others.

        One that found none the last time is not looked for again at each step, unless it has to be seen ``always``.
        """
        number = self.kept_places.get(key)
        if number is not None and number < 0 and not always:
            self.kept_places[key] = number + 1
            if number + 1 < 0:
                return self
        elif number is not None and number >= 0:
            new = next(map(_made, islice(places(), number, None)), None)
            if new is not None and self.has_room(new):
                return self._with(new)
        return self.put(places(), always=always, key=key)

    def _with(self, new: Placed) -> Sheet:
        return replace(self, placed=(*self.placed, new))

    @property
    def last(self) -> Placed | None:
        """The figure placed last."""
        return self.placed[-1] if self.placed else None


def size_line(a: Point, b: Point, figure: Figure, where: float = 0.5, pen: Pen = SIZE, strokes: str = "ab") -> Placed:
    """Return a dimension from ``a`` to ``b``, its figure in a gap at the fraction ``where`` of the way.

    Where the gap would leave no line, the figure is next to it and the strokes come from outside. ``strokes``
    says which ends carry one.
    """
    (dx, dy), middle, half = _gap(a, b, figure, where)
    ends = tuple(_stroke(at, (dx, dy), pen, figure.part) for at, name in ((a, "a"), (b, "b")) if name in strokes)
    if half is None:
        return next_to(a, b, figure, pen, -1.0 if where < 0.5 else 1.0, ends)
    gap_a = middle[0] - dx * half, middle[1] - dy * half
    gap_b = middle[0] + dx * half, middle[1] + dy * half
    return Placed(figure, middle, (Line(a, gap_a, pen, figure.part), Line(gap_b, b, pen, figure.part), *ends))


def gap_box(a: Point, b: Point, figure: Figure, where: float) -> Rect | None:
    """Return the box that a dimension's figure fills in its gap, None where it would be next to the line."""
    _, middle, half = _gap(a, b, figure, where)
    return None if half is None else figure.box(middle)


def _gap(a: Point, b: Point, figure: Figure, where: float) -> tuple[Point, Point, float | None]:
    """Return the way from ``a`` to ``b``, the figure's place on it, and half the gap; None where no line would be left."""
    length = math.dist(a, b)
    dx, dy = ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length > 1e-9 else (0.0, 1.0)
    half = min(_part(figure.width / 2 + AIR, abs(dx)), _part(figure.height / 2 + AIR, abs(dy)))
    fits = min(length * where, length * (1 - where)) - half > STROKE / 2
    return (dx, dy), (a[0] + dx * length * where, a[1] + dy * length * where), half if fits else None


def next_to(
    a: Point, b: Point, figure: Figure, pen: Pen, side: float, ends: tuple[Line, ...] | None = None
) -> Placed:
    """Return a short dimension with its figure next to it, at the right of it (or above) for ``side`` 1."""
    length = math.dist(a, b)
    dx, dy = ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length > 1e-9 else (0.0, 1.0)
    nx, ny = (abs(dy), abs(dx)) if abs(dy) > abs(dx) else (0.0, 1.0)
    away = nx * (figure.width / 2) + ny * (figure.height / 2) + 1.6
    middle = (a[0] + b[0]) / 2 + side * nx * away, (a[1] + b[1]) / 2 + side * ny * away
    out = STROKE * 1.2 if length < 3 * STROKE else 0.0
    line = Line((a[0] - dx * out, a[1] - dy * out), (b[0] + dx * out, b[1] + dy * out), pen, figure.part)
    if ends is None:
        ends = tuple(_stroke(at, (dx, dy), pen, figure.part) for at in (a, b))
    return Placed(figure, middle, (line, *ends))


def beyond(a: Point, b: Point, figure: Figure, pen: Pen, *lines: Line | None) -> Placed:
    """Return a short upright dimension from ``a`` down to ``b`` with its figure on the free side, above ``a``."""
    line = Line((a[0], a[1] + STROKE), b, pen, figure.part)
    strokes = tuple(_stroke(at, (0.0, 1.0), pen, figure.part) for at in (a, b))
    return with_lines(Placed(figure, over(a, figure), (line, *strokes)), *lines)


def over(at: Point, figure: Figure) -> Point:
    """Return the middle of a figure over the end of an upright dimension."""
    return at[0], at[1] + STROKE + AIR + figure.height / 2


def leader(at: Point, away: Point, figure: Figure, pen: Pen) -> Placed:
    """Return a figure that is off by the vector ``away`` from ``at``, with a line between them."""
    centre = at[0] + away[0], at[1] + away[1]
    left, bottom, right, top = _grown(figure.box(centre), AIR)
    x, y = min(max(at[0], left), right), min(max(at[1], bottom), top)
    return Placed(figure, centre, (Line(at, (x, y), pen, figure.part),))


def with_lines(placed: Placed, *lines: Line | None) -> Placed:
    """Return a dimension with extension lines."""
    return replace(placed, lines=(*placed.lines, *(line for line in lines if line is not None)))


def extension(start: Point, end: Point, part: str, pen: Pen = SIZE) -> Line | None:
    """Return an extension line from just off ``start`` to past ``end``, None where it has no length."""
    length = math.dist(start, end)
    if length < 0.2:
        return None
    dx, dy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    off = min(OFF, length)
    return Line((start[0] + dx * off, start[1] + dy * off), (end[0] + dx * PAST, end[1] + dy * PAST), pen, part)


def on_paper(text: str, style: Literal["screen", "paper"]) -> str:
    """Return a figure with its fraction as the style writes it: '6-7/16 in' on paper."""
    return re.sub(r"(\d) (\d+/)", r"\1-\2", text) if style == "paper" else text


@lru_cache(maxsize=4096)  # the same few figures are tried at many places, and drawn at each mouse move
def _width(text: str, size: float, bold: bool, narrow: bool) -> float:
    return text_width(text, size, bold, condensed=narrow)


def _part(room: float, share: float) -> float:
    return room / share if share > 1e-9 else math.inf


def _stroke(at: Point, along: Point, pen: Pen, part: str) -> Line:
    """An oblique stroke, 45° to its line, rising to the right."""
    c = STROKE / 2 * math.sqrt(0.5)
    dx, dy = (along[0] - along[1]) * c, (along[0] + along[1]) * c
    if dx < 0:
        dx, dy = -dx, -dy
    return Line((at[0] - dx, at[1] - dy), (at[0] + dx, at[1] + dy), pen, part)


def _grown(box: Rect, by: float) -> Rect:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _meets(a: Rect, b: Rect) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _holds(rect: Rect, box: Rect) -> bool:
    return rect[0] <= box[0] and rect[1] <= box[1] and box[2] <= rect[2] and box[3] <= rect[3]


def _crosses(line: Line, box: Rect) -> bool:
    return crosses(line.a, line.b, box)


def crosses(a: Point, b: Point, box: Rect) -> bool:
    """Say whether the line between two points passes through a box (Liang and Barsky)."""
    (ax, ay), (bx, by) = a, b
    if (ax < box[0] and bx < box[0]) or (ax > box[2] and bx > box[2]):
        return False
    if (ay < box[1] and by < box[1]) or (ay > box[3] and by > box[3]):
        return False
    enters, leaves = 0.0, 1.0
    for slope, room in ((ax - bx, ax - box[0]), (bx - ax, box[2] - ax), (ay - by, ay - box[1]), (by - ay, box[3] - ay)):
        if slope == 0.0:
            if room < 0.0:
                return False
        elif slope < 0.0:
            enters = max(enters, room / slope)
        else:
            leaves = min(leaves, room / slope)
    return enters < leaves
