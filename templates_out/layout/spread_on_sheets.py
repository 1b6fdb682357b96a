"""From a drawing to full-scale sheets: template, inside sheets and backing plates are all put on paper here.

A drawing says what it shows; the spread finds how it is laid on paper, and a place for everything. Nothing
that a person needs at the boat is left out. Where its words have no place, the seams move, or the bars come first.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import chain
from typing import TYPE_CHECKING

import msgspec

from geometry.design_text import fingerprint
from geometry.errors import OwnerError
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import Rect, within
from templates_out.drawing.fonts import writable
from templates_out.drawing.labels import Candidate, Ground, apart, things_of
from templates_out.drawing.marks import Line, Mark, Page, Text
from templates_out.drawing.printer import WHOLE, Correction, Printing, Stretch, paper_of
from templates_out.faces.face_lines import name_places
from templates_out.faces.hole_marks import Said, label_places
from templates_out.layout.blocks import Item, band, band_height, laid
from templates_out.layout.board import Board, board, finished, texts_within
from templates_out.layout.frame import Title
from templates_out.layout.framing import Bars, Seen, framed, with_bars, with_inner_frames, with_views
from templates_out.layout.joining import join_checks, with_seams
from templates_out.layout.no_drilling_bands import with_bands
from templates_out.layout.reading_pages import Sheet, Writing
from templates_out.layout.seams import seams_of
from templates_out.layout.template_text import with_block
from templates_out.layout.tiles import ONE_SHEET, OUTER, OUTER_RIGHT, Needs, Plan, plan

if TYPE_CHECKING:
    from geometry.design.design import Design
    from templates_out.faces.on_face import Hole
    from templates_out.layout.drilling_permission import Stamp

LEAST_BAR = 149.0  # mm on paper: 150 from a printer that is off by as much as one may be
BACK = (0.0, 10.0, 20.0, 35.0)  # mm: how much nearer than they might the first seams run, one try after another


class SheetLayout(msgspec.Struct, frozen=True):
    """The way in which a drawing is laid on paper.

    Attributes:
        asked: what it asks of the sheets. plan: of the sheets. stretch: what it is multiplied by there.
    """

    asked: Needs
    plan: Plan
    stretch: Stretch

    @property
    def room(self) -> Rect:
        """The room for the drawing under the datum."""
        return self._rooms()[0]

    @property
    def column(self) -> Rect | None:
        """The column at its right for words, where 60 mm are free."""
        return self._rooms()[1]

    @property
    def wide(self) -> Rect:
        """The room with that column: a label next to the drawing may run into it."""
        room, column = self._rooms()
        return room if column is None else (room[0], room[1], column[2], room[3])

    def _rooms(self) -> tuple[Rect, Rect | None]:
        first, last = self.plan.tiles[0], self.plan.tiles[-1]
        left = first.core[0] + OUTER + 1.5
        edge = last.core[2] - (OUTER_RIGHT + 2.0 if self.plan.columns > 1 else 3.0)
        right = self.asked.across[1] + 8.0
        if edge - right >= 56.0:
            return (left, -self.asked.down, right, 0.0), (right + 4.0, last.core[1], edge, 0.0)
        return (left, -self.asked.down, edge, 0.0), None

    def home_of(self, at: tuple[float, float]) -> Rect:
        """Return the part of the room on the sheet where a place is: its words are there, not across a seam."""
        tile = next(tile for tile in self.plan.tiles if within(at, tile.core))
        bottom = self.room[1] if self.plan.rows > 1 else tile.core[1] + 4.0
        return overlap(tile.core, (self.room[0], bottom, self.room[2], self.room[3])) or self.room

    def parts(self) -> Iterator[Rect]:
        """Yield each sheet's part of the room."""
        return (part for tile in self.plan.tiles if (part := overlap(tile.core, self.room)))


class Words(msgspec.Struct, frozen=True):
    """Words that look for a place within ``home``.

    Attributes:
        places: yields places, the best first.
        squeezed: where none is free, their leader may cross lines. must: they may go across a line of distance, or anything.
    """

    places: Callable[[], Iterator[Candidate]]
    home: Rect
    squeezed: bool = False
    must: bool = False


def hole_words(layout: SheetLayout, hole: Hole, said: Said) -> Words:
    """Return the words next to a hole, which are never left out and are on its sheet."""
    home = layout.home_of(hole.at)
    return Words(partial(label_places, hole, said, home), home, squeezed=True, must=True)


def line_words(layout: SheetLayout, lines: tuple[Mark, ...], floor: tuple[str, ...]) -> Iterator[Words]:
    """Yield the names of centreline, well floor and flat land, on every sheet where they run.

    Args:
        floor: what the floor's line is called, the fullest first.
    """
    middle = (Line((0.0, 0.0), (0.0, layout.room[1]), pens.CENTRELINE, "centreline"),)
    for part in layout.parts():
        yield Words(partial(name_places, middle, "centreline", "CENTRELINE", part, bold=True), part)
        yield Words(partial(_floor_places, lines, floor, part), part)
        yield Words(partial(name_places, lines, "flat land", "flat land: washers stay above", part), part)


def _floor_places(lines: tuple[Mark, ...], names: tuple[str, ...], part: Rect) -> Iterator[Candidate]:
    return chain.from_iterable(
        name_places(lines, "well floor", name, part, above=False, off=3.6) for name in names
    )


class Drawing(msgspec.Struct, frozen=True):
    """The marks of the sheets, as a plan lays them.

    Attributes:
        what: what a page of left-over words calls the sheets. title: what each sheet says of itself.
        seen: from where it is seen. lines: the drawing.
        soft: lines that words keep off, but bars, arrows and bands may cross.
        words: placed first, next to their holes. names: placed last.
        blocks: of running text, the first for the top sheets, the last for the bottom sheets.
        reason: why nobody may work by it.
    """

    what: str
    title: Title
    seen: Seen
    lines: tuple[Mark, ...]
    soft: tuple[Mark, ...]
    words: tuple[Words, ...]
    names: tuple[Words, ...]
    blocks: tuple[tuple[Item, ...], ...]
    reason: Stamp | None


def layout_of(
    asked: Callable[[Stretch], Sequence[Needs]], printing: Printing, first_letter: int = 0, back: float = 0.0
) -> SheetLayout:
    """Return how a drawing is laid: the first of its wishes that takes as few sheets as any.

    Args:
        asked: what the drawing asks of the sheets when it is stretched; several wishes, the fullest first.
        back: how much nearer than they might the first seams run [mm], for another try.

    Raises:
        OwnerError: the paper is too small, or the margin too wide.
    """

    def fewest(stretch: Stretch, turned: str | None) -> SheetLayout:
        paper = paper_of(printing)
        ways = [SheetLayout(a, plan(a, paper, printing.margin, first_letter, back, turned), stretch) for a in asked(stretch)]
        return min(ways, key=lambda way: len(way.plan.tiles))

    bare = fewest(Stretch(), printing.turned)
    if printing.correction == Correction():
        return bare
    # Which way the pages are turned decides which side of the paper is across.
    orientation = bare.plan.orientation
    return fewest(printing.correction.on(orientation), orientation)


def spread(
    lay: Callable[[float], SheetLayout], draw: Callable[[SheetLayout], Drawing], design: Design, printing: Printing
) -> tuple[Plan, tuple[Page, ...]]:
    """Return how a drawing is laid on paper, and its pages: the first try at which nothing is amiss, or the best.

    Args:
        lay: see ``layout_of``, by how far back the seams run. draw: what is to be drawn on sheets that are laid so.

    Raises:
        OwnerError: as ``layout_of`` does.
    """
    first = lay(BACK[0])
    inner = first.plan.columns > 2 or first.plan.rows > 2  # a sheet without an outer edge for one of its bars
    tries: list[_Begun] = []
    orders = [(back, inner, seams) for back in BACK for seams in (False, True)]
    for back, early, seams in (*orders, *(((0.0, False, False),) if inner else ())):
        try:
            way = lay(back) if back else first
        except OwnerError:
            continue
        if back and (any(way == other.way for other in tries[:-1]) or len(way.plan.tiles) != len(first.plan.tiles)):
            continue
        begun = _begun(way, draw(way), early, seams)
        if not begun.amiss:
            begun = _completed(begun)
        if not begun.amiss:
            return way.plan, _pages(begun, design, printing)
        tries.append(begun)
    best = min(tries, key=lambda attempt: attempt.amiss)
    return best.way.plan, _pages(best if best.complete else _completed(best), design, printing)


def _pages(done: _Begun, design: Design, printing: Printing) -> tuple[Page, ...]:
    reason = done.drawing.reason
    warning = "" if reason is None else reason.warning
    return (*finished(done.sheets, warning), *_to_read(design, printing, done.blocks, done.drawing.what, reason))


class _Begun(msgspec.Struct, frozen=True):
    """Sheets in the making, and how much is amiss with them.

    Attributes:
        seams: whether the marks of the seams are there already. complete: everything has its place that found one.
    """

    way: SheetLayout
    drawing: Drawing
    sheets: Board
    bars: Bars
    blocks: tuple[tuple[Item, ...], ...]
    amiss: int
    seams: bool
    complete: bool = False


def _begun(way: SheetLayout, drawing: Drawing, early: bool, seams: bool) -> _Begun:
    """Return the sheets with frames, lines, and the words next to the holes.

    Args:
        early: inner sheets' bars come before words. seams: what the seams carry does.
    """
    sheets = framed(board(way.plan), drawing.title, way.stretch, drawing.seen).drawn(drawing.lines)
    bars: Bars = {}
    if seams:
        sheets = with_seams(sheets, drawing.title.unit, way.stretch, drawing.soft)
    if early:
        sheets, bars = with_bars(sheets, way.stretch, drawing.title.unit)
    if drawing.reason is not None:
        sheets = with_bands(sheets, way.room, drawing.reason, drawing.soft)
    sheets, lacking = with_views(sheets.drawn(drawing.soft), way.room, drawing.seen)
    amiss = 2 * lacking
    for words in drawing.words:
        sheets, placed = _put(sheets, words, drawing.soft)
        amiss += 0 if placed else 2
    return _Begun(way, drawing, sheets, bars, drawing.blocks, amiss, seams)


def _completed(begun: _Begun) -> _Begun:
    """Return the sheets with all else that has a place, and the blocks of words that did not."""
    way, drawing, sheets, bars = begun.way, begun.drawing, begun.sheets, begun.bars
    room, column, stretch, soft = way.room, way.column, way.stretch, drawing.soft
    if not begun.seams:
        sheets = with_seams(sheets, drawing.title.unit, stretch)
    sheets = sheets.ignoring(soft)
    if not bars:
        sheets, bars = with_bars(sheets, stretch, drawing.title.unit)
    sheets = with_inner_frames(sheets, drawing.title, bars, stretch, soft)
    blocks = list(begun.blocks)
    if column is not None:
        sheets, blocks = with_block(sheets, blocks, column, room)
    for words in drawing.names:
        sheets, _ = _put(sheets, words, soft)
    if blocks:
        sheets, blocks = with_block(sheets, blocks, None, room)
    amiss = begun.amiss + sum(map(_amiss, sheets.own)) + len(seams_of(way.plan)) - join_checks(sheets)
    return _Begun(way, drawing, sheets, bars, tuple(blocks), amiss, begun.seams, complete=True)


def _put(sheets: Board, words: Words, soft: tuple[Mark, ...]) -> tuple[Board, bool]:
    """Return the board with words in the first free place, and whether they are clear of all lines there."""
    sheets, placed = sheets.placed(words.places(), words.home)
    if placed or not words.squeezed:
        return sheets, placed
    on_sheet = [place for place in words.places() if texts_within(place, words.home)]
    for ground in (sheets.ground, sheets.ignoring(soft).ground)[: 2 if words.must else 1]:
        for place in on_sheet:
            texts = tuple(mark for mark in place if isinstance(mark, Text))
            if ground.is_free(texts) and not _crosses_words(place[len(texts) :], sheets.ground):
                return sheets.drawn(place), ground is sheets.ground
    return sheets.drawn(on_sheet[0] if on_sheet and words.must else ()), False


def _crosses_words(leader: Candidate, ground: Ground) -> bool:
    """Say whether a leader, which may cross lines, goes across words."""
    new = [side for mark in leader for side in things_of(mark)]
    return any(old.kind == "text" and apart(new_side, old) < 0.8 for new_side in new for old in ground.near(new_side.box, 0.8))


def _amiss(own: tuple[Mark, ...]) -> int:
    """Say how much a sheet lacks: its title weighs more than a bar long enough to be measured well."""
    lengths = (
        [math.dist(m.a, m.b) for m in own if isinstance(m, Line) and m.part == part] for part in ("bar across", "bar up")
    )
    short = not all(max(bar, default=0.0) >= LEAST_BAR for bar in lengths)
    return short + 4 * (not any(mark.part == "title" for mark in own))


def _to_read(
    design: Design, printing: Printing, blocks: tuple[tuple[Item, ...], ...], what: str, reason: Stamp | None
) -> tuple[Page, ...]:
    """Return one more page for the blocks that have no place on the sheets; none where all did."""
    if not blocks:
        return ()
    sheet = Sheet(design, printing.date, paper_of(printing))
    page = Writing(*sheet.headed(f"To read with the {what}", "no drawing"))
    if reason is not None:
        high = band_height(reason, sheet.room)
        rect = (sheet.left, page.y - high, sheet.right, page.y)
        page = page.with_marks(band(rect, reason, outlined=printing.paper == WHOLE.name), page.y - high - 4.0)
    for items in blocks:
        marks, tall = laid(items, sheet.left, page.y, min(sheet.room, 120.0), "words")
        page = page.with_marks(marks, page.y - tall - 8.0)
    return (sheet.page(page, f"To read: {what}", reason),)


def title_of(kind: str, design: Design, printing: Printing, layout: Plan) -> Title:
    """Return the words of a sheet about itself: "Drilling template: Example skiff, main motor" and all else."""
    whose = ", ".join(map(writable, (design.called, *(mount.name for mount in design.mounts))))
    return Title(
        f"{kind}: {whose}", fingerprint(design), design.revision, printing.date, paper_called(layout), design.units
    )


def paper_called(layout: Plan) -> str:
    """Return the paper as a person calls it: "Letter, landscape", "24 in roll"."""
    if layout.orientation == ONE_SHEET:
        return layout.orientation
    if layout.paper.startswith("roll"):
        return f"{layout.paper.removeprefix('roll')} in {layout.orientation}"
    return f"{layout.paper.capitalize()}, {layout.orientation}"


def overlap(a: Rect, b: Rect) -> Rect | None:
    """Return what two rectangles share, None where they share nothing."""
    shared = (max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3]))
    return shared if shared[0] < shared[2] and shared[1] < shared[3] else None
