"""The frame of the drawing on every full-scale sheet: bars, letter and title, arrow, map, corners.

Page coordinates [mm]. The parts that must last are at the outer edges, which are never cut.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator

import msgspec

from geometry.tables.known import MM_PER_INCH
from geometry.units.units import Unit, format_length
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import text_width
from templates_out.drawing.labels import Ground
from templates_out.drawing.marks import Line, Mark, Path, Point, Text
from templates_out.drawing.printer import MOST_OFF, Stretch, bar_exactness
from templates_out.layout.tiles import FLAP, OUTER, STRIP, WASTE, Plan, Tile

STEP: dict[Unit, float] = {"in": MM_PER_INCH, "mm": 10.0}  # [mm] a bar has a whole number of these
MOST: dict[Unit, int] = {"in": 11, "mm": 30}  # of them: a rule of 12 in or 300 mm measures the bar
LEAST: dict[Unit, float] = {"in": 6 * MM_PER_INCH, "mm": 150.0}  # [mm] a shorter bar is not measured well enough
QUARTER = MM_PER_INCH / 4
_COLUMN = 12.0  # from the margin to where bars across and titles begin: numbers of the up bar are there
_BAR_IN = 8.65  # of the up bar from the margin
_BLANK, _BETWEEN = 17.0, 3.4  # mm: of a blank, and from its unit to the next words
ONE_SIDE = "ONE SIDE, 100 %"  # what a printer must be set to, next to the sheet's letter
_LETTERED = 3.4  # narrower cells of the map have no room for letters that can be read: the sheet's own is filled


class Title(msgspec.Struct, frozen=True):
    """The words of a sheet about itself.

    Attributes:
        what: "Drilling template: Example skiff, main motor". design: its fingerprint.
        paper: "Letter, landscape". unit: the person's.
    """

    what: str
    design: str
    revision: int
    date: datetime.date
    paper: str
    unit: Unit


class Bar(msgspec.Struct, frozen=True):
    """A bar: where it begins, its true length [mm], and the person's unit: whole inches or whole centimetres are in it."""

    at: Point
    length: float
    unit: Unit = "mm"

    @property
    def words(self) -> str:
        """Its length as a rule shows it: "9 in", "240 mm"."""
        return format_length(self.length, self.unit)


def across_bar(tile: Tile, plan: Plan, stretch: Stretch, unit: Unit) -> Bar | None:
    """Return the longest bar that fits along the upper or lower outer edge; None for a sheet without one."""
    if tile.row not in (0, plan.rows - 1):
        return None
    left, right = inner_edges(tile, plan)
    if right - left < LEAST[unit] * stretch.across:  # past the seam, over paper that the next sheet covers once it is read
        right = max(right, min(plan.width - plan.margin - 2.0, left + LEAST[unit] * stretch.across))
    y = plan.height - plan.margin - 5.25 if tile.row == 0 else plan.margin + 5.45
    return Bar((left, y), whole(right - left, stretch.across, unit), unit)


def up_bar(tile: Tile, plan: Plan, stretch: Stretch, unit: Unit) -> Bar | None:
    """Return the longest bar that fits along the outer edge at the side, or on spare paper beyond an inner sheet's strip.

    On the top sheets it ends at the fold, not across it. None where there is neither.
    """
    edges = {plan.columns - 1: plan.width - plan.margin - _BAR_IN - 0.8, 0: plan.margin + _BAR_IN}
    spare = tile.core[2] + tile.offset[0] + STRIP + 9.5
    if tile.column not in edges and spare + 8.5 > plan.width - plan.margin:
        return None
    top = plan.height - plan.margin - (FLAP + 1.2 if tile.row == 0 else WASTE + 6.0)
    foot = plan.margin + (12.1 if tile.row else 1.0)
    if tile.column not in edges:
        foot = plan.margin + 1.0
    elif tile.row < plan.rows - 1:
        foot = tile.core[1] + tile.offset[1] + 1.0
        if top - foot < LEAST[unit] * stretch.up:  # the strip under the next sheet helps out: bars are read before joining
            foot = max(plan.margin + 0.5, top - LEAST[unit] * stretch.up)
    length = whole(top - foot, stretch.up, unit)
    x = edges.get(tile.column, spare)
    return Bar((x, top - length * stretch.up if tile.row == 0 else foot), length, unit)


class _Tick(msgspec.Struct, frozen=True):
    """A tick of a bar: how far along its true length, how tall [mm], and its figure, "" for none."""

    at: float
    tall: float
    figure: str = ""


def _metric_ticks(bar: Bar) -> Iterator[_Tick]:
    """Yield the ticks in millimetres: each 10; on a metric bar each 1 in its first and its last centimetre."""
    tens_ = int(bar.length / 10.0 + 1e-9)
    own = bar.unit == "mm"
    for ten in range(0 if own else 1, tens_ + 1):
        mm, end = 10 * ten, own and ten == tens_
        figured = end or (mm % 50 == 0 and (not own or bar.length - mm > 22))
        last = end or (not own and mm + 50 > bar.length + 1e-9)
        yield _Tick(mm, 3.2 if mm % 50 == 0 or end else 1.5, (f"{mm} mm" if last else f"{mm}") if figured else "")
    if own:
        yield from (_Tick(mm, 1.0) for mm in _fine(bar.length, 10.0, 1.0))


def _inch_ticks(bar: Bar) -> Iterator[_Tick]:
    """Yield the ticks in inches: each quarter; on an inch bar each 1/32 in in its first and its last inch."""
    quarters = int(bar.length / QUARTER + 1e-9)
    for quarter in range(1, quarters + 1):
        inch = quarter % 4 == 0
        last = quarter + 4 > bar.length / QUARTER + 1e-9
        figure = (f"{quarter // 4} in" if last else f"{quarter // 4}") if inch else ""
        yield _Tick(quarter * QUARTER, 3.2 if inch else 1.8 if quarter % 2 == 0 else 1.2, figure)
    if bar.unit == "in":
        yield from (_Tick(mm, 1.0) for mm in _fine(bar.length, 4 * QUARTER, QUARTER / 8))


def _fine(length: float, end: float, step: float) -> Iterator[float]:
    """Yield the places of the fine ticks within ``end`` of both ends of a bar [mm]."""
    count = round(end / step)
    for k in range(1, count):
        yield k * step
        yield length - k * step


def across_bar_marks(bar: Bar, stretch: Stretch) -> Iterator[Mark]:
    """Yield a bar across: millimetres on its upper side, inches below."""
    (x0, y), part = bar.at, "bar across"
    yield Line((x0, y), (x0 + bar.length * stretch.across, y), pens.SEAM, part)
    for x in (x0, x0 + bar.length * stretch.across):
        yield Line((x, y - 3.2), (x, y + 3.2), pens.FINE, part)
    for tick in _metric_ticks(bar):
        x, end = x0 + tick.at * stretch.across, tick.figure.endswith("mm")
        yield Line((x, y), (x, y + tick.tall), pens.FINE, part)
        if tick.figure:
            anchor = "end" if end else "start"
            yield pens.words((x - 0.8 if end else x + 0.8, y + 2.3), tick.figure, pens.SMALL, anchor=anchor, part=part)
    for tick in _inch_ticks(bar):
        x = x0 + tick.at * stretch.across
        yield Line((x, y), (x, y - tick.tall), pens.FINE, part)
        if tick.figure:
            yield pens.words((x - 0.7, y - 4.0), tick.figure, pens.SMALL, anchor="end", part=part)


def up_bar_marks(bar: Bar, stretch: Stretch) -> Iterator[Mark]:
    """Yield a bar up: millimetres at its left, inches at its right."""
    (x, y0), part = bar.at, "bar up"
    yield Line((x, y0), (x, y0 + bar.length * stretch.up), pens.SEAM, part)
    for y in (y0, y0 + bar.length * stretch.up):
        yield Line((x - 3.2, y), (x + 3.2, y), pens.FINE, part)
    for tick in _metric_ticks(bar):
        y, end = y0 + tick.at * stretch.up, tick.figure.endswith(" mm")
        yield Line((x - tick.tall, y), (x, y), pens.FINE, part)
        if tick.figure:
            foot = y - 0.74 * pens.SMALL - 0.5 if end else y + 0.6
            yield pens.words((x - 3.5, foot), tick.figure.removesuffix(" mm"), pens.SMALL, anchor="end", part=part)
        if end:
            yield pens.words((x - 3.5, y - 2 * pens.SMALL - 0.3), "mm", pens.SMALL, anchor="end", part=part)
    for tick in _inch_ticks(bar):
        y = y0 + tick.at * stretch.up
        yield Line((x, y), (x + tick.tall, y), pens.FINE, part)
        if tick.figure:
            yield pens.words((x + 3.6, y - 0.74 * pens.SMALL - 0.4), tick.figure, pens.SMALL, part=part)


def title_marks(
    tile: Tile, plan: Plan, title: Title, bars: tuple[Bar, Bar], stretch: Stretch, left: float, right: float, top: float
) -> tuple[Mark, ...]:
    """Return the sheet's letter, its title and the lines to write the bars' lengths on, 15 high, in a given room."""
    called = Text((left, top - 5.4), f"Sheet {tile.letter}", pens.LETTER, bold=True, part="title")
    how = pens.words((left, top - 9.0), ONE_SIDE, pens.FIGURE, bold=True, part="title")
    x = left + max(map(pens.width_of, (called, how))) + 4.0
    count = plan.rows * plan.columns
    about = (
        f"{tile.column + 1} of {plan.columns} across, {tile.row + 1} of {plan.rows} down",
        f"page {tile.row * plan.columns + tile.column + 1} of {count}",
        f"design {title.design}", f"revision {title.revision}", f"{title.date:%Y-%m-%d}", title.paper,
    )  # fmt: skip
    details, rest = "  ·  ".join(about), ""
    if text_width(details, pens.TITLE, condensed=True) > right - x:
        details, rest = "  ·  ".join(about[:3]), "  ·  ".join(about[3:])
    marks: list[Mark] = [
        called,
        how,
        Text((x, top - 2.8), pens.shortened(title.what, _WHAT, right - x, bold=True), _WHAT, bold=True, part="title"),
        pens.words((x, top - 6.5), pens.shortened(details, pens.TITLE, right - x, condensed=True), pens.TITLE, part="title"),
    ]
    if rest:
        marks.append(pens.words((x, top - 9.6), rest, pens.TITLE, part="title"))
    return (*marks, *ask_marks(left, right, top - (13.4 if rest else 12.4), title.unit, bars, stretch))


_WHAT = 10 * pens.PT


def ask_marks(left: float, right: float, y: float, unit: Unit, bars: tuple[Bar, Bar], stretch: Stretch) -> Iterator[Mark]:
    """Yield the request not to scale, and two blanks, in as many lines as they need."""
    texts = [
        ("Print at 100 %, no scaling.", False),
        (f"Measure both bars, tick to tick, to {bar_exactness(unit)} before use.", False),
    ]
    if stretch.words:
        texts.append((stretch.words, False))
    texts += [(f"Across {bars[0].words}, measured", True), (f"Up {bars[1].words}, measured", True)]
    x, filled_in = left, _BLANK + 0.8 + text_width(unit, pens.FIGURE, condensed=True)
    for text, blank in texts:
        wide = text_width(text, pens.FIGURE, condensed=True)
        if x > left and x + wide + (1.5 + filled_in if blank else 0.0) > right:
            x, y = left, y - 4.2
        yield pens.words((x, y), text, pens.FIGURE, part="title")
        x += wide + 1.5
        if blank:
            yield Line((x, y - 0.6), (x + _BLANK, y - 0.6), pens.FINE, "title")
            yield pens.words((x + _BLANK + 0.8, y), unit, pens.FIGURE, part="title")
            x += filled_in + _BETWEEN


def column_marks(tile: Tile, plan: Plan, bar: Iterable[Mark]) -> tuple[Mark, ...]:
    """Return arrow and map of an outer column, and where to tape; the map keeps clear of its up ``bar``'s numbers."""
    if tile.column not in (0, plan.columns - 1):
        return ()
    x = plan.margin + 22.4 if tile.column == 0 else plan.width - plan.margin - 25.2
    top = plan.height - plan.margin - (FLAP + 28.0 if tile.row == 0 else WASTE + 22.0)
    marks = [*arrow_marks((x, top))]
    if plan.rows * plan.columns > 1:
        numbers = Ground().plus(mark for mark in bar if isinstance(mark, Text))
        wide, high = map_size(plan)
        heights = [top - 62.0 + step for step in sorted(range(-24, 25, 2), key=abs)]
        free = (y for y in heights if numbers.is_free_box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2, 0.8))
        marks += map_marks((x, next(free, heights[0])), tile, plan)
    return (*marks, *_corner(tile, plan))


def arrow_marks(tip: Point) -> Iterator[Mark]:
    """Return the arrow up, 34 high, and its word."""
    x, y = tip
    shape = ((0, 0), (5, -8), (2, -8), (2, -34), (-2, -34), (-2, -8), (-5, -8))
    yield Path(tuple((x + dx, y + dy) for dx, dy in shape), True, pens.FINAL, part="up")
    yield Text((x, y - 38.4), "UP", pens.NAME * 0.95, bold=True, anchor="middle", part="up")


def map_size(plan: Plan) -> tuple[float, float]:
    """Return how wide and high the map of all sheets is."""
    return plan.columns * min(7.0, (OUTER - 12.0) / plan.columns), 5.5 * plan.rows


def map_marks(middle: Point, tile: Tile, plan: Plan) -> Iterator[Mark]:
    """Return the map of all sheets, this one's cell and the top edge heavy."""
    wide, high = (size / count for size, count in zip(map_size(plan), (plan.columns, plan.rows), strict=True))
    left, top = middle[0] - wide * plan.columns / 2, middle[1] + high * plan.rows / 2
    for row in range(plan.rows):
        for column in range(plan.columns):
            other = plan.tiles[row * plan.columns + column]
            own = other.letter == tile.letter
            x, y = left + column * wide, top - (row + 1) * high
            corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
            if wide < _LETTERED:
                yield Path(corners, True, pens.FINE, "ink" if own else None, part="map")
                continue
            yield Path(corners, True, pens.HEAVY if own else pens.FINE, part="map")
            size = (pens.NAME if own else pens.FIGURE) * min(1.0, wide / 4.0)
            yield Text(
                (x + wide / 2, y + high / 2 - 0.36 * size), other.letter, size, bold=own, condensed=not own,
                anchor="middle", part="map",
            )  # fmt: skip
    yield Line((left, top), (left + wide * plan.columns, top), pens.HEAVY, "map")


def _corner(tile: Tile, plan: Plan) -> Iterator[Mark]:
    """Return the words at an outer corner of the joined paper."""
    heights = []
    if tile.row == 0:
        heights.append(plan.height - plan.margin - FLAP + 5.2)
    if tile.row == plan.rows - 1 and plan.rows > 1:
        heights.append(plan.margin + 4.2)
    for y in heights:
        x, anchor = (plan.margin + 0.6, "start") if tile.column == 0 else (plan.width - plan.margin - 0.6, "end")
        yield pens.words((x, y), "tape", pens.FIGURE, anchor=anchor, part="tape here")
        yield pens.words((x, y - 3.2), "here", pens.FIGURE, anchor=anchor, part="tape here")


def inner_edges(tile: Tile, plan: Plan) -> tuple[float, float]:
    """Return where bars and titles may begin and end across."""
    left = plan.margin + (_COLUMN if tile.column == 0 else WASTE + 5.0)
    last = tile.column == plan.columns - 1
    right = plan.width - plan.margin - _COLUMN if last else tile.core[2] + tile.offset[0] - 2.5
    if right - left < 150.0:
        right = plan.width - plan.margin - 2.0
    return left, right


def whole(room: float, stretch: float, unit: Unit) -> float:
    """Return the longest bar in some room on paper [mm]: whole inches up to 11, or whole centimetres up to 30.

    A correction of up to 3 % leaves it as long as it was: room for that is kept. The least bar takes all the room.
    """
    step, least = STEP[unit], LEAST[unit]
    length = min(int(room / (1.0 + MOST_OFF) / step + 1e-9), MOST[unit]) * step
    return least if length < least - 1e-9 and room / stretch >= least - 1e-9 else length
