"""Portrait pages to read: a title, a line that says whose page it is, and running text, tables and boxes below.

Everything is placed from the top down; a writer returns its marks and where the next thing may begin [mm].
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import Any

import msgspec
from msgspec.structs import replace

from geometry.design.design import Design
from geometry.design_text import fingerprint
from geometry.tables.papers import Paper
from geometry.units.trade_words import in_trade_words
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Line, Mark, Page, Path, Point, Text
from templates_out.drawing.sheet_pens import PT, shortened, width_of, words, wrapped
from templates_out.layout.drilling_permission import Stamp

MARGIN = 14.0
TITLE, HEAD, SUBHEAD, BODY, ROW = 15 * PT, 11 * PT, 9 * PT, 8.5 * PT, 8 * PT
FILL, BOX = 8.0, 3.6  # height of a row to be written in; side of a box to tick [mm]
INITIALS = 14.0  # mm: of a blank for initials

Written = tuple[tuple[Mark, ...], float]  # marks, and the height at which the next thing begins


class Writing(msgspec.Struct, frozen=True):
    """A page so far: its marks, the height at which the next thing begins, and what its title says."""

    marks: tuple[Mark, ...] = ()
    y: float = 0.0
    names: tuple[str, ...] = ()

    def then(self, write: Callable[..., Written], *what: Any, **how: Any) -> Writing:
        """Return the page with what ``write`` puts below."""
        marks, y = write(self.y, *what, **how)
        return Writing((*self.marks, *marks), y, self.names)

    def with_marks(self, marks: Iterable[Mark], y: float | None = None) -> Writing:
        """Return the page with marks put anywhere; going on at ``y``, or where it was."""
        return Writing((*self.marks, *marks), self.y if y is None else y, self.names)


class Piece(msgspec.Struct, frozen=True):
    """Something that is on one page as a whole.

    Attributes:
        write: puts it below a height.
        again: comes first where the piece begins a page, such as a table's head.
        tied: keeps it on one page with the next piece.
        names: what a page's title says of it.
    """

    write: Callable[[float], Written]
    again: Callable[[float], Written] | None = None
    tied: bool = False
    names: str = ""


def flowed(pieces: Iterable[Piece], first: float, later: float, foot: float = MARGIN - 1.5) -> list[Writing]:
    """Return the pages that ``pieces`` fill down to ``foot``: from ``first`` on the first page, from ``later`` on others.

    A page that goes on is named by the last piece with a name, even where the page before has that name from further up.
    """
    pages: list[Writing] = []
    last: tuple[str, ...] = ()
    for group in _tied(pieces):
        named = next(((piece.names,) for piece in reversed(group) if piece.names), last)
        trial = _put(pages[-1], group) if pages else None
        if trial is not None and trial.y >= foot:
            pages[-1], last = trial, named
            continue
        again, top = group[0].again, later if pages else first
        start = Writing(y=top, names=() if group[0].names else last)
        page = _put(start if again is None else start.then(again), group)
        if page.marks:  # white alone begins no page
            pages.append(page)
            last = named
    return pages


def _put(page: Writing, group: Iterable[Piece]) -> Writing:
    for piece in group:
        page = page.then(piece.write)
        if piece.names not in ("", *page.names):
            page = replace(page, names=(*page.names, piece.names))
    return page


def _tied(pieces: Iterable[Piece]) -> list[list[Piece]]:
    """Return the pieces in groups that stay on one page."""
    groups: list[list[Piece]] = []
    tied = False
    for piece in pieces:
        if tied:
            groups[-1].append(piece)
        else:
            groups.append([piece])
        tied = piece.tied
    return groups


class Sheet(msgspec.Struct, frozen=True):
    """The same for every page of a set.

    Attributes:
        design: whose it is. date: of printing. paper: what it is printed on.
        inset: by how much text is further in, at left and at right [mm].
        air: how much of the usual white is between lines and paragraphs.
    """

    design: Design
    date: datetime.date
    paper: Paper
    inset: tuple[float, float] = (0.0, 0.0)
    air: float = 1.0

    @property
    def width(self) -> float:
        """Of the page [mm]."""
        return self.paper.width

    @property
    def height(self) -> float:
        """Of the page [mm]."""
        return self.paper.height or 279.4

    @property
    def left(self) -> float:
        """Where text begins."""
        return MARGIN + self.inset[0]

    @property
    def right(self) -> float:
        """Where text ends."""
        return self.width - MARGIN - self.inset[1]

    @property
    def room(self) -> float:
        """Width of the text."""
        return self.right - self.left

    def column(self, start: float, end: float = 1.0) -> Sheet:
        """Return the part of the text's width between two fractions of it, to write in."""
        return replace(self, inset=(self.inset[0] + start * self.room, self.inset[1] + (1 - end) * self.room))

    def numbered(self, number: int, count: int) -> tuple[Mark, ...]:
        """Return which page of how many it is."""
        y = self.height - MARGIN - 0.74 * TITLE
        return (words((self.right, y), f"page {number} of {count}", ROW, anchor="end", part="title"),)

    def headed(self, title: str, about: str) -> Written:
        """Return a page's head."""
        y = self.height - MARGIN - 0.74 * TITLE
        design = self.design
        right = words((self.right, y - 7.2), about, ROW, bold=True, condensed=False, anchor="end", part="title")
        whose = (
            f"{writable(design.called)}  ·  design {fingerprint(design)}  ·  "
            f"revision {design.revision}  ·  {self.date:%Y-%m-%d}  ·  {_called(self.paper)}"
        )
        room = self.room - width_of(right) - 6.0
        rest = whose[whose.rindex("  ·  design ") :]
        name = shortened(whose[: -len(rest)], ROW, room - width_of(words((0, 0), rest, ROW)), condensed=True)
        return (
            Text((self.left, y), title, TITLE, bold=True, part="title"),
            Line((self.left, y - 2.6), (self.right, y - 2.6), pens.FINE),
            words((self.left, y - 7.2), name + rest, ROW, part="title"),
            right,
        ), y - 12.5

    def page(self, writing: Writing, name: str, reason: Stamp | None = None) -> Page:
        """Return a finished page.

        Args:
            reason: why nobody may drill by it.
        """
        return Page(self.width, self.height, writing.marks, name, "" if reason is None else reason.warning)

    def in_own_words(self, text: str) -> str:
        """Return a text with the trade words of the boat's country."""
        return in_trade_words(text, self.design.units)

    def paragraph(
        self, y: float, text: str, size: float = BODY, *, bold: bool = False, condensed: bool = True,
        left: float | None = None, right: float | None = None,
    ) -> Written:  # fmt: skip
        """Return running text under the height ``y``."""
        start = self.left if left is None else left
        room = (self.right if right is None else right) - start
        marks = []
        for line in wrapped(self.in_own_words(text), size, room, bold=bold, condensed=condensed):
            y -= 0.9 * size
            marks.append(Text((start, y), line, size, bold=bold, condensed=condensed))
            y -= 0.45 * size * self.air
        return tuple(marks), y

    def heading(self, y: float, text: str, size: float = HEAD, left: float | None = None) -> Written:
        """Return a heading under the height ``y``."""
        y -= 2.0 * self.air + 0.9 * size
        return (Text((self.left if left is None else left, y), text, size, bold=True),), y - 0.6 * size * self.air

    def columns(self, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> list[float]:
        """Return where a table's columns begin, as fractions of the width: each as wide as its widest cell."""
        wide = [
            max(width_of(words((0.0, 0.0), cell, ROW, bold=index == 0 or cell == head)) for cell in (head, *cells))
            for index, (head, *cells) in enumerate(zip(heads, *rows, strict=True))
        ]
        gap = max(2.0, (self.room - sum(wide)) / (len(wide) - 1))
        starts = [sum(wide[:index]) + gap * index for index in range(len(wide))]
        return [start / max(self.room, starts[-1] + wide[-1]) for start in starts]

    def table(self, y: float, heads: Sequence[str], rows: Sequence[Sequence[str]], at: Sequence[float]) -> Written:
        """Return a table: columns begin at the fractions ``at`` of the width, long cells are wrapped."""
        page = Writing(y=y)
        for piece in self.pieces(heads, rows, at):
            page = page.then(piece.write)
        return page.marks, page.y

    def pieces(
        self, heads: Sequence[str], rows: Sequence[Sequence[str]], at: Sequence[float], bold: Sequence[int] = (0,)
    ) -> list[Piece]:
        """Return a table in pieces, to be broken between rows; its head comes again where it is."""
        head = partial(self.heads, heads=heads, at=at)
        table = [Piece(head, tied=True), *(Piece(partial(self.row, row=row, at=at, bold=bold), head) for row in rows)]
        return [*table, Piece(gap)]

    def heads(self, y: float, heads: Sequence[str], at: Sequence[float]) -> Written:
        """Return a table's head over its rule."""
        y -= 0.9 * ROW
        lefts = [self.left + share * self.room for share in at]
        marks = [words((left, y), head, ROW, bold=True) for left, head in zip(lefts, heads, strict=True) if head]
        y -= 0.55 * ROW
        return (*marks, Line((self.left, y), (self.right, y), pens.SEAM)), y

    def row(self, y: float, row: Sequence[str], at: Sequence[float], bold: Sequence[int] = (0,)) -> Written:
        """Return a row of a table over its rule."""
        lefts = [self.left + share * self.room for share in at]
        rights = [*(left - 2.0 for left in lefts[1:]), self.right]
        y -= 0.3
        pitch = (0.95 + 0.3 * self.air) * ROW
        cells = [
            wrapped(self.in_own_words(cell), ROW, right - left, condensed=True, bold=index in bold)
            for index, (cell, left, right) in enumerate(zip(row, lefts, rights, strict=True))
        ]
        marks = [
            words((left, y - 0.92 * ROW - i * pitch), line, ROW, bold=index in bold)
            for index, (lines, left) in enumerate(zip(cells, lefts, strict=True))
            for i, line in enumerate(lines) if line
        ]  # fmt: skip
        y -= pitch * max(len(lines) for lines in cells) + 0.12 * ROW
        return (*marks, Line((self.left, y), (self.right, y), pens.FINE)), y

    def to_fill(self, y: float, name: str, at: Sequence[float], boxes: Sequence[int] = ()) -> Written:
        """Return a row to be written in: its name, and a blank in each further column, or a box to tick in ``boxes``."""
        lefts = [self.left + share * self.room for share in at]
        rights = [*(left - 2.5 for left in lefts[1:]), self.right]
        base = y - FILL + 0.6
        marks: list[Mark] = [words((self.left, base + 0.4), name, ROW)]
        for index, (left, right) in enumerate(zip(lefts, rights, strict=True)):
            if index in boxes:
                marks.append(tick_box((left, base)))
            elif index and not boxes:
                marks.append(Line((left, base), (right, base), pens.FINE))
        return tuple(marks), y - FILL

    def blank(self, y: float, *labels: tuple[str, float]) -> Written:
        """Return a line of labels that begin at fractions of the width, each with a blank up to the next one."""
        base = y - FILL + 0.6
        marks: list[Mark] = []
        ends = [self.left + start * self.room - 3.0 for _, start in labels[1:]]
        for (label, start), end in zip(labels, [*ends, self.right], strict=True):
            said = words((self.left + start * self.room, base + 0.4), label, ROW)
            marks += [said, Line((said.at[0] + width_of(said) + 2.0, base), (end, base), pens.FINE)]
        return tuple(marks), y - FILL

    def ticked(self, y: float, text: str, number: str = "", count: str = "", *, strong: bool = False) -> Written:
        """Return a line with a box to tick, a number or a count in bold, and text."""
        size = BODY
        indent = self.left + 6.0 + (8.0 if number or count else 0.0)
        marks, below = self.paragraph(y, text, size, left=indent, bold=strong)
        base = y - 0.9 * size
        tick = tick_box((self.left, base + 0.37 * size - BOX / 2))
        lead = number or count
        bold = (Text((indent - 2.4, base), lead, size, bold=True, anchor="end"),) if lead else ()
        return (tick, *bold, *marks), below - 1.6 * self.air

    def gate(self, y: float, reason: str, *, initials: bool = False) -> Written:
        """Return a gate: STOP white on black, then when; and at the right a blank for a second person's initials."""
        size = BODY
        left = self.left + 14.0
        base = y - 0.9 * size
        stop = Text((left + 1.5, base), "STOP", size, "sheet", bold=True, part="stop")
        wide = width_of(stop) + 3.0
        foot, head = base - 0.35 * size, base + 0.95 * size
        block = Path(((left, foot), (left + wide, foot), (left + wide, head), (left, head)), True, None, "ink", "stop")
        blank = (Line((self.right - INITIALS, foot), (self.right, foot), pens.FINE, "initials"),) if initials else ()
        right = self.right - (INITIALS + 3.0 if initials else 0.0)
        marks, below = self.paragraph(y, reason, size, bold=True, left=left + wide + 2.0, right=right)
        return (block, stop, *marks, *blank), below - 2.2 * self.air


def gap(y: float) -> Written:
    """Return nothing, and where the next thing begins after a table."""
    return (), y - 1.5


def tick_box(at: Point) -> Path:
    """Return a box to tick above the lower left corner ``at``."""
    x, y = at
    return Path(((x, y), (x + BOX, y), (x + BOX, y + BOX), (x, y + BOX)), True, pens.SEAM)


def _called(paper: Paper) -> str:
    """Return the paper as a person calls it: "Letter, portrait", "24 in roll"."""
    return f"{paper.name.removeprefix('roll')} in roll" if paper.roll else f"{paper.name.capitalize()}, portrait"
