"""The frames of all sheets on the board, and what has to find its own place: inner sheets have no outer edge."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec
from msgspec.structs import replace

from templates_out.drawing.clipping import Rect
from templates_out.drawing.labels import Candidate, apart, thing, things_of
from templates_out.drawing.marks import Line, Mark, Text
from templates_out.drawing.shapes import shift
from templates_out.sheets import pens
from templates_out.sheets.frame import (
    Bar,
    Title,
    across_bar,
    across_bar_marks,
    arrow_marks,
    column_marks,
    inner_edges,
    map_marks,
    title_marks,
    up_bar,
    up_bar_marks,
)
from templates_out.sheets.hole_marks import filled_arrow
from templates_out.sheets.on_face import Stretch
from templates_out.sheets.pages import Board, on_drawing
from templates_out.sheets.tiles import STRIP, Plan, Tile

_TITLE_HIGH, _TITLE_WIDE = 22.0, 112.0
_TITLE_AT = 31.0  # over the margin, on the bottom row: there the title begins


class Seen(msgspec.Struct, frozen=True):
    """From where a drawing is seen, as its sheets say it.

    Attributes:
        fold: words above the fold, the longest first; none where nothing is folded.
        views: what is said how far across the drawing: marks from the origin to the right, and the share of its width.
    """

    fold: tuple[str, ...]
    views: tuple[tuple[Candidate, float], ...]


def sides(left: str, right: str) -> tuple[tuple[Candidate, float], ...]:
    """Return the names of both sides, each at its end."""
    names = (f"◄ {left}", 0.0), (f"{right} ►", 1.0)
    return tuple(((Text((0.0, 0.0), name, pens.SIDE, bold=True, part="view"),), share) for name, share in names)


FROM_ASTERN = Seen(
    (
        "▲  FOLD BACK HERE: this line lies on the top edge of the motor cut-out  ▲",
        "▲  FOLD BACK HERE: on the top edge of the cut-out  ▲",
        "▲  FOLD BACK HERE  ▲",
    ),
    (
        *sides("PORT", "STARBOARD"),
        (
            (
                Text((0.0, 0.0), "SEEN FROM ASTERN", pens.VIEW, bold=True, part="view"),
                pens.words((0.0, -4.4), "the outside face, looking forward", pens.LINES, part="view"),
            ),
            0.4,
        ),
    ),
)


def framed(sheets: Board, title: Title, stretch: Stretch, seen: Seen = FROM_ASTERN) -> Board:
    """Return the board with all that stands at the sheets' outer edges, and the flap's words."""
    plan = sheets.plan
    for tile in plan.tiles:
        across, up = across_bar(tile, plan, stretch), up_bar(tile, plan, stretch)
        marks: list[Mark] = [*column_marks(tile, plan)]
        if across:
            marks += across_bar_marks(across, stretch)
        if up:
            marks += up_bar_marks(up, stretch)
        if across and up:
            marks += _outer_title(tile, plan, title, (across, up), stretch)
        sheets = sheets.carrying(tile, on_drawing(tile, marks))
        if tile.row == 0 and seen.fold:
            sheets = _with_fold(sheets, tile, seen)
    return sheets


def _outer_title(tile: Tile, plan: Plan, title: Title, bars: tuple[Bar, Bar], stretch: Stretch) -> tuple[Mark, ...]:
    left, right = inner_edges(tile, plan)
    top = plan.height - plan.margin - 10.5 if tile.row == 0 else plan.margin + 29.8
    return title_marks(tile, plan, title, bars, stretch, left, right, top)


def _with_fold(sheets: Board, tile: Tile, seen: Seen) -> Board:
    """Put the words above the fold, and the arrow to the boat's own centreline mark."""
    left, _, right, _ = tile.core
    if left < 0.0 < right:
        name = pens.words((1.8, 3.4), "the boat's own centreline mark", pens.FIGURE, part="centreline mark")
        if 1.8 + pens.width_of(name) > right - 3.0:
            name = replace(name, at=(-1.8, 3.4), anchor="end")
        arrow = (
            Line((0.0, 8.4), (0.0, 1.2), pens.FINE, "centreline mark"),
            filled_arrow((0.0, 0.6), -90.0, 2.6, "centreline mark"),
        )
        sheets = sheets.carrying(tile, (*arrow, name))

    def candidates() -> Iterator[Candidate]:
        for text in seen.fold:
            half = pens.width_of(Text((0, 0), text, pens.QUESTION, bold=True)) / 2
            middle = (left + right) / 2
            for step in sorted(range(-150, 151, 5), key=abs):
                x = middle + step
                if left + 16.0 <= x - half and x + half <= right - 3.0:
                    yield (Text((x, 3.2), text, pens.QUESTION, bold=True, anchor="middle", part="fold"),)

    return sheets.placed(candidates())[0]


def with_views(sheets: Board, room: Rect, seen: Seen = FROM_ASTERN) -> Board:
    """Put both sides' names and how it is seen on every sheet, under the fold or above the title where that is free."""
    for tile in sheets.plan.tiles:
        left, bottom, right, top = tile.core
        left, right = max(left + 3.0, room[0]), min(right - 3.0, room[2])
        foot = sheets.plan.margin + 39.0 - tile.offset[1]
        low = foot - 4.0 if tile.row == sheets.plan.rows - 1 and tile.row else max(bottom, room[1]) + 6.0
        down = [-7.6 - 4.0 * k for k in range(100) if -7.6 - 4.0 * k > low] if tile.row == 0 else []
        up = [low + 4.0 + 4.0 * k for k in range(100) if low + 4.0 + 4.0 * k < min(top, 0.0) - 8.0]
        heights = down or up
        for marks, share in seen.views:
            sheets, _ = sheets.placed(_sliding(marks, left, right, heights, share))
    return sheets


def _sliding(marks: Candidate, left: float, right: float, heights: list[float], share: float) -> Iterator[Candidate]:
    """Yield places level by level, each from ``share`` of the way across outward."""
    room = right - left - max(found.box[2] for mark in marks for found in things_of(mark))
    places = [min(room, 4.0 * k) for k in range(int(room / 4.0) + 2)] if room >= 0 else []
    for y in heights:
        for x in sorted(places, key=lambda place: abs(place - share * room)):
            yield shift(marks, left + x, y)


def with_floating(sheets: Board, title: Title, room: Rect, stretch: Stretch) -> Board:
    """Find places for the bars, arrow, map and title of the sheets that have no outer edge for them."""
    plan = sheets.plan
    for tile in plan.tiles:
        across, up = across_bar(tile, plan, stretch), up_bar(tile, plan, stretch)
        if across and up and tile.column in (0, plan.columns - 1):
            continue
        if up is None:
            sheets, up = _float_bar(sheets, tile, stretch, upright=True)
        if tile.column not in (0, plan.columns - 1):
            marks = [*arrow_marks((0.0, 0.0))]
            sheets, _ = _float(sheets, tile, marks, (-6.0, -40.5, 6.0, 0.5))
            marks = [*map_marks((0.0, 0.0), tile, plan)]
            wide, high = 4.0 * plan.columns, 3.2 * plan.rows
            sheets, _ = _float(sheets, tile, marks, (-wide, -high, wide, high))
        if across is None:
            sheets, across = _float_bar(sheets, tile, stretch, upright=False)
        if tile.column not in (0, plan.columns - 1) and (tile.row in (0, plan.rows - 1)) and up_bar(tile, plan, stretch):
            continue  # its title stands already
        if tile.row in (0, plan.rows - 1):
            sheets = sheets.carrying(tile, on_drawing(tile, _outer_title(tile, plan, title, (across, up), stretch)))
        else:
            block = title_marks(tile, plan, title, (across, up), stretch, 0.0, _TITLE_WIDE, 0.0)
            sheets, _ = _float(sheets, tile, [*block], (0.0, -_TITLE_HIGH, _TITLE_WIDE, 0.0))
    return sheets


def _float_bar(sheets: Board, tile: Tile, stretch: Stretch, upright: bool) -> tuple[Board, Bar]:
    """Return the board with the longest bar that finds room on a sheet, 150 mm or more where there is any way."""
    left, bottom, right, top = tile.core
    most = (min(top, 0.0) - bottom if upright else right - left) - 3.0
    # A bar may run on under the next sheet: it is read before joining.
    strip = upright and tile.row < sheets.plan.rows - 1
    for tens in range(max(int(most / 10.0), 15 if strip else 0), 4, -1):
        bar = Bar((0.0, 0.0), 10.0 * tens)
        if upright:
            marks = [*up_bar_marks(bar, stretch)]
            box = (-8.5, -0.2, 8.0, bar.length * stretch.up + 0.2)
        else:
            marks = [*across_bar_marks(bar, stretch)]
            box = (-0.5, -6.5, bar.length * stretch.across + 0.5, 5.0)
        sheets, found = _float(sheets, tile, marks, box)
        if not found and strip and tens == 15:
            sheets, found = _float(sheets, tile, marks, box, over_seam=True)
        if found:
            return sheets, bar
    return sheets, Bar((0.0, 0.0), 0.0)


def _float(sheets: Board, tile: Tile, marks: list[Mark], box: Rect, over_seam: bool = False) -> tuple[Board, bool]:
    """Put marks, drawn about the origin within ``box``, where a sheet has room for the box."""
    left, bottom, right, top = tile.core
    if tile.row == sheets.plan.rows - 1 and tile.row:
        bottom += _TITLE_AT
    if over_seam:
        bottom -= STRIP - 1.0
    x_low, x_high = left + 3.0 - box[0], right - 3.0 - box[2]
    y_low, y_high = bottom + 1.2 - box[1], min(top - 6.0, -1.2) - box[3]
    for i in range(int((x_high - x_low) / 4.0) + 1 if x_high >= x_low else 0):
        for k in range(int((y_high - y_low) / 4.0) + 1 if y_high >= y_low else 0):
            x, y = x_low + 4.0 * i, y_high - 4.0 * k
            left, low, right, high = box[0] + x, box[1] + y, box[2] + x, box[3] + y
            new = thing("text", ((left, low), (right, low), (right, high), (left, high)))
            near = sheets.ground.near(new.box, 1.2)
            if all(apart(new, old) >= 1.2 for old in near if not (over_seam and old.kind == "seam")):
                return sheets.carrying(tile, shift(tuple(marks), x, y)), True
    return sheets, False
