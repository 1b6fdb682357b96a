"""What stands round the drawing on every full-scale sheet: bars, letter and title, arrow, map, corners.

Page coordinates [mm]. What must last stands at the outer edges, which are never cut.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass

from geometry.design.units import Unit
from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Line, Mark, Path, Point, Text
from templates_out.sheets import pens
from templates_out.sheets.on_face import Stretch
from templates_out.sheets.tiles import FLAP, OUTER, WASTE, Plan, Tile

_COLUMN = 12.0  # from the margin to where bars across and titles begin: numbers of the up bar stand there
_BAR_IN = 8.65  # of the up bar from the margin
_BLANK = 17.0


@dataclass(frozen=True, slots=True)
class Title:
    """What every sheet says of itself.

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


@dataclass(frozen=True, slots=True)
class Bars:
    """The bars of one sheet: where they begin, and their true lengths [mm], whole tens."""

    across_at: Point
    across: float
    up_at: Point
    up: float


def bars(tile: Tile, plan: Plan, stretch: Stretch) -> Bars | None:
    """Return the longest bars that fit along the outer edges; None for a sheet without an outer edge both ways."""
    if not (_outer_side(tile, plan) and _outer_level(tile, plan)):
        return None
    left, right = _inner_edges(tile, plan)
    y = plan.height - plan.margin - 5.25 if tile.row == 0 else plan.margin + 5.45
    across = _tens((right - left) / stretch.across)
    datum = plan.height - plan.margin - FLAP
    last = tile.row == plan.rows - 1
    top = datum - 1.2 if tile.row == 0 else plan.height - plan.margin - WASTE - 6.0
    foot = plan.margin + (12.1 if last and tile.row else 1.0) if last else tile.core[1] + tile.offset[1] + 1.0
    up = _tens((top - foot) / stretch.up)
    if up < 150.0 and not last:  # the strip under the next sheet helps out: bars are measured before joining
        foot = plan.margin + 0.5
        up = _tens((top - foot) / stretch.up)
    x = plan.margin + _BAR_IN if tile.column == 0 else plan.width - plan.margin - _BAR_IN
    foot = top - up * stretch.up if tile.row == 0 else foot
    return Bars((left, y), across, (x, foot), up)


def bar_marks(found: Bars, stretch: Stretch) -> tuple[Mark, ...]:
    """Return both bars with their ticks and numbers."""
    return (*_across_bar(found, stretch), *_up_bar(found, stretch))


def _across_bar(found: Bars, stretch: Stretch) -> Iterator[Mark]:
    (x0, y), part = found.across_at, "bar across"
    yield Line((x0, y), (x0 + found.across * stretch.across, y), pens.SEAM, part)
    for mm in range(0, round(found.across) + 1, 10):
        x, end = x0 + mm * stretch.across, mm == round(found.across)
        tall = mm % 50 == 0 or end
        yield Line((x, y - (3.2 if mm == 0 or end else 0.0)), (x, y + (3.2 if tall else 1.5)), pens.FINE, part)
        if end or (mm % 50 == 0 and found.across - mm > 22):
            text, anchor = (f"{mm} mm", "end") if end else (f"{mm}", "start")
            yield pens.words((x - 0.8 if end else x + 0.8, y + 2.3), text, pens.SMALL, anchor=anchor, part=part)
    for quarter in range(1, int(found.across / 6.35 + 1e-9) + 1):
        x = x0 + quarter * 6.35 * stretch.across
        whole = quarter % 4 == 0
        yield Line((x, y), (x, y - (3.2 if whole else 1.8 if quarter % 2 == 0 else 1.2)), pens.FINE, part)
        if whole:
            last = quarter + 4 > found.across / 6.35 + 1e-9
            yield pens.words(
                (x - 0.7, y - 4.0), f"{quarter // 4} in" if last else f"{quarter // 4}", pens.SMALL, anchor="end", part=part
            )


def _up_bar(found: Bars, stretch: Stretch) -> Iterator[Mark]:
    (x, y0), part = found.up_at, "bar up"
    yield Line((x, y0), (x, y0 + found.up * stretch.up), pens.SEAM, part)
    for mm in range(0, round(found.up) + 1, 10):
        y, end = y0 + mm * stretch.up, mm == round(found.up)
        tall = mm % 50 == 0 or end
        yield Line((x - (3.2 if tall else 1.5), y), (x + (3.2 if mm == 0 or end else 0.0), y), pens.FINE, part)
        if end or (mm % 50 == 0 and found.up - mm > 9):
            foot = y - 0.74 * pens.SMALL - 0.5 if end else y + 0.6
            yield pens.words((x - 3.5, foot), f"{mm}", pens.SMALL, anchor="end", part=part)
        if end:
            yield pens.words((x - 3.5, y - 2 * pens.SMALL - 0.3), "mm", pens.SMALL, anchor="end", part=part)
    for quarter in range(1, int(found.up / 6.35 + 1e-9) + 1):
        y = y0 + quarter * 6.35 * stretch.up
        whole = quarter % 4 == 0
        yield Line((x, y), (x + (3.2 if whole else 1.8 if quarter % 2 == 0 else 1.2), y), pens.FINE, part)
        if whole:
            last = quarter + 4 > found.up / 6.35 + 1e-9
            text = f"{quarter // 4} in" if last else f"{quarter // 4}"
            yield pens.words((x + 2.6, y - 0.74 * pens.SMALL - 0.4), text, pens.SMALL, part=part)


def title_marks(tile: Tile, plan: Plan, title: Title, found: Bars, stretch: Stretch) -> tuple[Mark, ...]:
    """Return the sheet's letter, its title and the lines to write the bars' lengths on."""
    left, right = _inner_edges(tile, plan)
    if tile.row == 0:
        top = plan.height - plan.margin
        first, second, name, ask = top - 13.3, top - 17.0, top - 16.0, top - 23.0
    else:
        foot = plan.margin
        first, second, name, ask = foot + 27.0, foot + 23.1, foot + 24.6, foot + 16.9
    called = Text((left, name), f"Sheet {tile.letter}", pens.LETTER, bold=True, part="title")
    x = left + pens.width_of(called) + 4.0
    count = plan.rows * plan.columns
    about = (
        f"row {tile.row + 1}, column {tile.column + 1}", f"page {tile.row * plan.columns + tile.column + 1} of {count}",
        f"design {title.design}", f"revision {title.revision}", f"{title.date:%Y-%m-%d}", title.paper,
    )  # fmt: skip
    what = pens.shortened(title.what, pens.NAME * 0.9, right - x, bold=True)
    details = pens.shortened("  ·  ".join(about), pens.TITLE, right - x, condensed=True)
    return (
        called,
        Text((x, first), what, pens.NAME * 0.9, bold=True, part="title"),
        pens.words((x, second), details, pens.TITLE, part="title"),
        *_ask(left, right, ask, title.unit, found, stretch),
    )


def _ask(left: float, right: float, y: float, unit: Unit, found: Bars, stretch: Stretch) -> Iterator[Mark]:
    """Return the request not to scale, and two blanks, in as many lines as they need."""
    exact = "1/100 in (0.25 mm)" if unit == "in" else "0.25 mm"
    texts = [("Print at 100 %, no scaling.", False), (f"Measure both bars, tick to tick, to {exact} before use.", False)]
    if stretch != Stretch():
        texts.append((f"Corrected for your printer: across × {stretch.across:.4f}, up × {stretch.up:.4f}.", False))
    texts += [(f"Across {found.across:.0f} mm, measured", True), (f"Up {found.up:.0f} mm, measured", True)]
    x = left
    for text, blank in texts:
        wide = text_width(text, pens.FIGURE, condensed=True)
        if x > left and x + wide + (_BLANK + 1.5 if blank else 0.0) > right:
            x, y = left, y - 4.4
        yield pens.words((x, y), text, pens.FIGURE, part="title")
        x += wide + 1.5
        if blank:
            yield Line((x, y - 0.6), (x + _BLANK, y - 0.6), pens.FINE, "title")
            x += _BLANK + 2.5


def column_marks(tile: Tile, plan: Plan) -> tuple[Mark, ...]:
    """Return arrow and map of an outer column, and where to tape."""
    if not _outer_side(tile, plan):
        return ()
    x = plan.margin + 20.5 if tile.column == 0 else plan.width - plan.margin - 20.5
    top = plan.height - plan.margin - (FLAP + 28.0 if tile.row == 0 else WASTE + 22.0)
    marks = [*arrow_marks((x, top))]
    if plan.rows * plan.columns > 1:
        marks += map_marks((x, top - 62.0), tile, plan)
    return (*marks, *_corner(tile, plan))


def arrow_marks(tip: Point) -> Iterator[Mark]:
    """Return the arrow up, 34 high, and its word."""
    x, y = tip
    shape = ((0, 0), (5, -8), (2, -8), (2, -34), (-2, -34), (-2, -8), (-5, -8))
    yield Path(tuple((x + dx, y + dy) for dx, dy in shape), True, pens.FINAL, part="up")
    yield Text((x, y - 38.4), "UP", pens.NAME * 0.95, bold=True, anchor="middle", part="up")


def map_marks(middle: Point, tile: Tile, plan: Plan) -> Iterator[Mark]:
    """Return the map of all sheets, this one's cell and the top edge heavy."""
    wide, high = min(7.0, (OUTER - 12.0) / plan.columns), 5.5
    left, top = middle[0] - wide * plan.columns / 2, middle[1] + high * plan.rows / 2
    for row in range(plan.rows):
        for column in range(plan.columns):
            other = plan.tiles[row * plan.columns + column]
            own = other.letter == tile.letter
            x, y = left + column * wide, top - (row + 1) * high
            corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
            yield Path(corners, True, pens.HEAVY if own else pens.FINE, part="map")
            size = pens.NAME if own else pens.FIGURE
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


def _inner_edges(tile: Tile, plan: Plan) -> tuple[float, float]:
    """Return where bars and titles may begin and end across."""
    left = plan.margin + (_COLUMN if tile.column == 0 else WASTE + 5.0)
    last = tile.column == plan.columns - 1
    right = plan.width - plan.margin - _COLUMN if last else tile.core[2] + tile.offset[0] - 2.5
    return left, right


def _outer_side(tile: Tile, plan: Plan) -> bool:
    return tile.column in (0, plan.columns - 1)


def _outer_level(tile: Tile, plan: Plan) -> bool:
    return tile.row in (0, plan.rows - 1)


def _tens(length: float) -> float:
    return 10.0 * int(length / 10.0 + 1e-9)
