"""The frames of all sheets on the board, and the places for what has none: inner sheets have no outer edge."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial

import msgspec

from geometry.units.units import Unit
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import Rect
from templates_out.drawing.labels import Candidate, apart, thing, things_of
from templates_out.drawing.marks import Line, Mark, Path, Text
from templates_out.drawing.printer import Stretch
from templates_out.drawing.transforms import shift
from templates_out.faces.hole_marks import filled_arrow
from templates_out.layout.board import Board, on_drawing
from templates_out.layout.frame import (
    LEAST,
    MOST,
    STEP,
    Bar,
    Title,
    across_bar,
    across_bar_marks,
    arrow_marks,
    column_marks,
    inner_edges,
    map_marks,
    map_size,
    title_marks,
    up_bar,
    up_bar_marks,
)
from templates_out.layout.tiles import STRIP, Plan, Tile

View = tuple[tuple[Candidate, ...], float]
Bars = dict[str, tuple[Bar, Bar]]  # of each sheet by its letter, across and up

_FLOOR = ("well floor", "well floor tick", "flat land")
_TITLE_HIGH, _TITLE_WIDE = 22.0, 112.0
_OVER_BAR = 11.6  # over the margin, at the foot: the lowest line of a title, clear of the bar's numbers
_TITLE_AT = 31.0  # over the margin, on the bottom row: there the title begins


class Seen(msgspec.Struct, frozen=True):
    """From where a drawing is seen, as its sheets say it.

    Attributes:
        fold: words above the fold, the longest first; none where nothing is folded.
        views: what is said how far across the drawing: marks from the origin to the right, the widest wording first, and
            the share of its width.
    """

    fold: tuple[str, ...]
    views: tuple[View, ...]


def sides(left: str, right: str) -> tuple[View, ...]:
    """Return the names of both sides, each at its end."""
    names = (f"◄ {left}", 0.0), (f"{right} ►", 1.0)

    def written(name: str, size: float) -> Candidate:
        return (Text((0.0, 0.0), name, size, bold=True, part="view"),)

    return tuple(((written(name, pens.SIDE), written(name, 0.7 * pens.SIDE)), share) for name, share in names)


def on_black(*lines: str) -> Candidate:
    """Return lines of words white on black, the first on the origin's level."""
    texts = [Text((2.0, -5.0 * k), line, pens.VIEW, "sheet", bold=True, part="view") for k, line in enumerate(lines)]
    wide, foot = max(map(pens.width_of, texts)) + 4.0, -5.0 * (len(lines) - 1) - 1.5
    return (Path(((0.0, foot), (wide, foot), (wide, 4.3), (0.0, 4.3)), True, None, "ink", "view"), *texts)


def under(head: Candidate, *lines: str) -> Candidate:
    """Return words with lines of what they mean below."""
    left, low = min((mark.at for mark in head if isinstance(mark, Text)), key=lambda at: at[1])
    low -= 5.4 if isinstance(head[0], Path) else 4.4
    rows = (pens.words((left, low - 4.0 * k), line, pens.LINES, part="view") for k, line in enumerate(lines))
    return (*head, *rows)


def _astern(*lines: str) -> Candidate:
    return tuple(Text((0.0, -4.8 * k), line, pens.VIEW, bold=True, part="view") for k, line in enumerate(lines))




FROM_ASTERN = Seen(
    (
        "▲  FOLD BACK HERE: this line goes on the top edge of the motor cut-out  ▲",
        "▲  FOLD BACK HERE: on the top edge of the cut-out  ▲",
        "▲  FOLD BACK HERE  ▲",
        "FOLD BACK HERE",
    ),
    (
        *sides("PORT", "STARBOARD"),
        (
            (
                under(_astern("SEEN FROM ASTERN"), "the outside face, looking forward"),
                under(_astern("SEEN FROM", "ASTERN"), "the outside face,", "looking forward"),
            ),
            0.4,
        ),
    ),
)


def framed(sheets: Board, title: Title, stretch: Stretch, seen: Seen = FROM_ASTERN) -> Board:
    """Return the board with all marks at the sheets' outer edges, and the flap's words."""
    plan, unit = sheets.plan, title.unit
    for tile in plan.tiles:
        across, up = across_bar(tile, plan, stretch, unit), up_bar(tile, plan, stretch, unit)
        upright = [*up_bar_marks(up, stretch)] if up else []
        marks: list[Mark] = [*column_marks(tile, plan, upright), *upright]
        if across:
            marks += across_bar_marks(across, stretch)
        if across and up:
            marks += _outer_title(tile, plan, title, (across, up), stretch)
        sheets = sheets.carrying(tile, on_drawing(tile, marks))
        if across and not up:  # its title comes once its other bar has found a place: until then its room is kept free
            alike = _outer_title(tile, plan, title, (across, across), stretch)
            sheets = sheets.heeding(on_drawing(tile, _title_room(tile, plan, alike)))
        if tile.row == 0 and seen.fold:
            sheets = _with_fold(sheets, tile, seen, stretch)
    return sheets


def _outer_title(tile: Tile, plan: Plan, title: Title, bars: tuple[Bar, Bar], stretch: Stretch) -> tuple[Mark, ...]:
    left, right = inner_edges(tile, plan)
    top = plan.height - plan.margin - 10.5 if tile.row == 0 else plan.margin + 29.8
    marks = title_marks(tile, plan, title, bars, stretch, left, right, top)
    if tile.row == 0:
        return marks
    low = min(mark.at[1] for mark in marks if isinstance(mark, Text))  # what a correction adds takes one more line
    return shift(marks, 0.0, max(0.0, plan.margin + _OVER_BAR - low))


def _title_room(tile: Tile, plan: Plan, marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """Return the box about a title, from edge to edge of its sheet."""
    left, right = inner_edges(tile, plan)
    boxes = [side.box for mark in marks for side in things_of(mark)]
    low, high = min(box[1] for box in boxes), max(box[3] for box in boxes)
    return (Path(((left, low), (left, high), (right, high), (right, low)), True, None, "ink", "title"),)


def _with_fold(sheets: Board, tile: Tile, seen: Seen, stretch: Stretch) -> Board:
    """Put the words above the fold, and the arrow to the boat's own centreline mark."""
    left, _, right, _ = tile.core
    if left < 0.0 < right:
        arrow = (
            Line((0.0, 8.4), (0.0, 1.2), pens.FINE, "centreline mark"),
            filled_arrow((0.0, 0.6), -90.0, 2.6, "centreline mark"),
        )
        sheets = sheets.carrying(tile, arrow)

    def candidates() -> Iterator[Candidate]:
        for text in seen.fold:
            half = pens.width_of(Text((0, 0), text, pens.QUESTION, bold=True)) / 2
            middle = (left + right) / 2
            for step in sorted(range(-150, 151, 5), key=abs):
                x = middle + step
                if left + (16.0 if tile.column == 0 else 3.0) <= x - half and x + half <= right - 3.0:
                    yield (Text((x, 3.2), text, pens.QUESTION, bold=True, anchor="middle", part="fold"),)

    sheets, _ = sheets.placed(candidates())
    return sheets.placed(_mark_names(tile, (3.4,) if stretch.words else (3.4, 6.4, 8.6)))[0] if left < 0.0 < right else sheets


def _mark_names(tile: Tile, heights: tuple[float, ...]) -> Iterator[Candidate]:
    """Yield places for the name of the arrow to the boat's own centreline mark, at either side of it."""
    left, _, right, _ = tile.core
    for text in ("the boat's own centreline mark", "the boat's mark"):
        wide = pens.width_of(pens.words((0.0, 0.0), text, pens.FIGURE))
        for y in heights:
            for x in (1.8, -1.8 - wide):
                if left + 3.0 <= x and x + wide <= right - 3.0:
                    yield (pens.words((x, y), text, pens.FIGURE, part="centreline mark"),)


def with_views(sheets: Board, room: Rect, seen: Seen = FROM_ASTERN) -> tuple[Board, int]:
    """Put both sides' names and how it is seen on every sheet, under the fold or above the title where that is free.

    Returns:
        The board, and how many of these found no place.
    """
    lacking = 0
    for tile in sheets.plan.tiles:
        left, bottom, right, top = tile.core
        left, right = max(left + 3.0, room[0]), min(right - 3.0, room[2])
        foot = sheets.plan.margin + 39.0 - tile.offset[1]
        low = foot - 4.0 if tile.row == sheets.plan.rows - 1 and tile.row else max(bottom, room[1]) + 6.0
        down = [-7.6 - 4.0 * k for k in range(100) if -7.6 - 4.0 * k > low] if tile.row == 0 else []
        up = [low + 4.0 + 4.0 * k for k in range(100) if low + 4.0 + 4.0 * k < min(top, 0.0) - 8.0]
        heights = down or up
        first = (-math.inf, -math.inf)
        for wordings, share in seen.views:
            parts = (heights[:5], heights[5:])  # rather in fewer words than far down
            every = partial(_everywhere, wordings, parts, left, right, share)
            before = len(sheets.drawing)
            sheets, placed = sheets.placed(_right_of(first, every) if share == 1.0 else every())
            lacking += not placed
            if placed and share == 0.0:
                first = _ends(sheets.drawing[before:])
    return sheets, lacking


def _everywhere(
    wordings: tuple[Candidate, ...], parts: tuple[list[float], ...], left: float, right: float, share: float
) -> Iterator[Candidate]:
    """Yield the places of all wordings, within each part of the heights."""
    for part in parts:
        for marks in wordings:
            yield from _sliding(marks, left, right, part, share)


def _right_of(other: tuple[float, float], places: Callable[[], Iterator[Candidate]]) -> Iterator[Candidate]:
    """Yield the places for the name of the right side: wholly right of the other name first, else with its middle so.

    Each pass makes its places again: the first is free on most sheets, and a list of all takes a fifth of a page's time.
    """
    yield from (place for place in places() if _ends(place)[0] > other[1])
    for place in places():
        left, right = _ends(place)
        if left <= other[1] and left + right > sum(other):
            yield place


def _ends(marks: Candidate) -> tuple[float, float]:
    """Return where marks begin and end across."""
    boxes = [side.box for mark in marks for side in things_of(mark)]
    return min(box[0] for box in boxes), max(box[2] for box in boxes)


def _sliding(marks: Candidate, left: float, right: float, heights: list[float], share: float) -> Iterator[Candidate]:
    """Yield places level by level, each from ``share`` of the way across outward."""
    room = right - left - max(side.box[2] for mark in marks for side in things_of(mark))
    places = [min(room, 4.0 * k) for k in range(int(room / 4.0) + 2)] if room >= 0 else []
    for y in heights:
        for x in sorted(places, key=lambda place: abs(place - share * room)):
            yield shift(marks, left + x, y)


def with_bars(sheets: Board, stretch: Stretch, unit: Unit) -> tuple[Board, Bars]:
    """Return the board with the bars of sheets that have no outer edge for them, and both bars of every sheet."""
    plan, bars = sheets.plan, dict[str, tuple[Bar, Bar]]()
    for tile in plan.tiles:
        across, up = across_bar(tile, plan, stretch, unit), up_bar(tile, plan, stretch, unit)
        if up is None:
            sheets, up = _float_bar(sheets, tile, stretch, unit, upright=True)
        if across is None:
            sheets, across = _float_bar(sheets, tile, stretch, unit, upright=False)
        bars[tile.letter] = (across, up)
    return sheets, bars


def with_inner_frames(sheets: Board, title: Title, bars: Bars, stretch: Stretch, soft: tuple[Mark, ...] = ()) -> Board:
    """Find places for arrow, map and title of the sheets that have no outer edge for them.

    Arrow and map are clear of ``soft`` lines where there is any such place, else at least their words are. The board comes
    back with these in the way.
    """
    plan, sheets = sheets.plan, sheets.heeding(soft)
    wide, high = map_size(plan)
    arrow, cells = (-6.0, -40.5, 6.0, 0.5), (-wide / 2 - 0.5, -high / 2 - 0.5, wide / 2 + 0.5, high / 2 + 0.5)
    for tile in plan.tiles:
        if tile.column not in (0, plan.columns - 1):
            for marks, box in (([*arrow_marks((0.0, 0.0))], arrow), ([*map_marks((0.0, 0.0), tile, plan)], cells)):
                sheets, placed = _float(sheets, tile, marks, box)
                if not placed:
                    sheets, placed = _float(sheets, tile, marks, box, through=soft)
                if not placed:
                    sheets = _float(sheets.ignoring(soft), tile, marks, box)[0].heeding(soft)
        if any(mark.part == "title" for mark in sheets.own[plan.tiles.index(tile)]):
            continue
        if tile.row in (0, plan.rows - 1):
            sheets = sheets.carrying(tile, on_drawing(tile, _outer_title(tile, plan, title, bars[tile.letter], stretch)))
        else:
            block = title_marks(tile, plan, title, bars[tile.letter], stretch, 0.0, _TITLE_WIDE, 0.0)
            sheets, _ = _float(sheets, tile, [*block], (0.0, -_TITLE_HIGH, _TITLE_WIDE, 0.0))
    return sheets


def _float_bar(sheets: Board, tile: Tile, stretch: Stretch, unit: Unit, upright: bool) -> tuple[Board, Bar]:
    """Return the board with the longest bar that finds room on a sheet, 6 in or 150 mm or more where there is any way."""
    left, bottom, right, top = tile.core
    most = (min(top, 0.0) - bottom if upright else right - left) - 3.0
    # A bar may run on under the next sheet: it is read before joining.
    strip = upright and tile.row < sheets.plan.rows - 1
    least = round(LEAST[unit] / STEP[unit])
    longest = min(max(int(most / STEP[unit]), least if strip else 0), MOST[unit])
    for count in range(longest, math.ceil(50.0 / STEP[unit]) - 1, -1):
        bar = Bar((0.0, 0.0), count * STEP[unit], unit)
        if upright:
            marks = [*up_bar_marks(bar, stretch)]
            box = (-8.5, -0.2, 8.0, bar.length * stretch.up + 0.2)
        else:
            marks = [*across_bar_marks(bar, stretch)]
            box = (-0.5, -6.5, bar.length * stretch.across + 0.5, 5.0)
        sheets, placed = _float(sheets, tile, marks, box)
        if not placed and strip and count == least:
            sheets, placed = _float(sheets, tile, marks, box, over_seam=True)
        if not placed and upright and count == least:  # rather across the floor's line than too short to be measured
            floor = tuple(mark for mark in sheets.drawing if mark.part in _FLOOR)
            sheets, placed = _float(sheets, tile, marks, box, through=floor)
        if placed:
            return sheets, bar
    return sheets, Bar((0.0, 0.0), 0.0, unit)


def _float(
    sheets: Board, tile: Tile, marks: list[Mark], box: Rect, over_seam: bool = False, through: tuple[Mark, ...] = ()
) -> tuple[Board, bool]:
    """Put marks, drawn about the origin within ``box``, where a sheet has room for the box.

    Args:
        over_seam: it may run on under the next sheet. through: marks that its lines, not its words, may cross.
    """
    ground = sheets.ignoring(through).ground if through else sheets.ground
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
            near = ground.near(new.box, 1.2)
            if all(apart(new, old) >= 1.2 for old in near if not (over_seam and old.kind == "seam")):
                placed = shift(tuple(marks), x, y)
                if not through or sheets.ground.is_free(tuple(mark for mark in placed if isinstance(mark, Text))):
                    return sheets.carrying(tile, placed), True
    return sheets, False
