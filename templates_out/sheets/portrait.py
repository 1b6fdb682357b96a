"""Portrait pages to read: a title, a line that says whose page it is, and running text, tables and boxes below.

Everything is placed from the top down; a writer returns its marks and where the next thing may begin [mm].
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import msgspec

from geometry.design.design_text import fingerprint
from geometry.design.whole import Design
from geometry.tables.papers import Paper
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Line, Mark, Page, Path, Text
from templates_out.sheets import pens
from templates_out.sheets.pens import PT, shortened, width_of, words, wrapped

MARGIN = 14.0
TITLE, HEAD, SUBHEAD, BODY, ROW = 15 * PT, 11 * PT, 9 * PT, 8.5 * PT, 8 * PT

Written = tuple[tuple[Mark, ...], float]  # marks, and the height at which the next thing begins


class Writing(msgspec.Struct, frozen=True):
    """A page so far: its marks, and the height at which the next thing begins."""

    marks: tuple[Mark, ...] = ()
    y: float = 0.0

    def then(self, write: Callable[..., Written], *what: Any, **how: Any) -> Writing:
        """Return the page with what ``write`` puts below."""
        marks, y = write(self.y, *what, **how)
        return Writing((*self.marks, *marks), y)

    def beside(self, marks: Iterable[Mark], y: float | None = None) -> Writing:
        """Return the page with marks put anywhere; going on at ``y``, or where it was."""
        return Writing((*self.marks, *marks), self.y if y is None else y)


class Sheet(msgspec.Struct, frozen=True):
    """What is the same on every page of a set.

    Attributes:
        design: whose it is. date: of printing. paper: what it is printed on.
    """

    design: Design
    date: datetime.date
    paper: Paper

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
        return MARGIN

    @property
    def right(self) -> float:
        """Where text ends."""
        return self.width - MARGIN

    @property
    def room(self) -> float:
        """Width of the text."""
        return self.right - self.left

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
            f"{writable(design.name) or 'A boat without a name'}  ·  design {fingerprint(design)}  ·  "
            f"revision {design.revision}  ·  {self.date:%Y-%m-%d}  ·  {_spoken(self.paper)}, portrait"
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

    def page(self, writing: Writing, name: str) -> Page:
        """Return a finished page."""
        return Page(self.width, self.height, writing.marks, name)

    def paragraph(
        self, y: float, text: str, size: float = BODY, *, bold: bool = False, condensed: bool = True,
        left: float | None = None, right: float | None = None,
    ) -> Written:  # fmt: skip
        """Return running text under the height ``y``."""
        start = self.left if left is None else left
        room = (self.right if right is None else right) - start
        marks = []
        for line in wrapped(text, size, room, bold=bold, condensed=condensed):
            y -= 0.9 * size
            marks.append(Text((start, y), line, size, bold=bold, condensed=condensed))
            y -= 0.45 * size
        return tuple(marks), y

    def heading(self, y: float, text: str, size: float = HEAD, left: float | None = None) -> Written:
        """Return a heading under the height ``y``."""
        y -= 2.0 + 0.9 * size
        return (Text((self.left if left is None else left, y), text, size, bold=True),), y - 0.6 * size

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
        lefts = [self.left + share * self.room for share in at]
        rights = [*(left - 2.0 for left in lefts[1:]), self.right]
        marks: list[Mark] = []
        y -= 0.9 * ROW
        marks += [words((left, y), head, ROW, bold=True) for left, head in zip(lefts, heads, strict=True)]
        y -= 0.55 * ROW
        marks.append(Line((self.left, y), (self.right, y), pens.SEAM))
        for row in rows:
            y -= 0.3
            cells = [
                wrapped(cell, ROW, right - left, condensed=True) for cell, left, right in zip(row, lefts, rights, strict=True)
            ]
            for index, (lines, left) in enumerate(zip(cells, lefts, strict=True)):
                marks += [
                    words((left, y - 0.92 * ROW - i * 1.25 * ROW), line, ROW, bold=index == 0) for i, line in enumerate(lines)
                ]
            y -= 1.25 * ROW * max(len(lines) for lines in cells) + 0.12 * ROW
            marks.append(Line((self.left, y), (self.right, y), pens.FINE))
        return tuple(marks), y - 1.5

    def ticked(self, y: float, text: str, number: str = "", count: str = "") -> Written:
        """Return a line with a box to tick, a number or a count in bold, and text."""
        side, size = 3.6, BODY
        indent = self.left + 6.0 + (8.0 if number or count else 0.0)
        marks, below = self.paragraph(y, text, size, left=indent)
        base = y - 0.9 * size
        foot = base + 0.37 * size - side / 2
        x = self.left
        box = Path(((x, foot), (x + side, foot), (x + side, foot + side), (x, foot + side)), True, pens.SEAM)
        lead = number or count
        bold = (Text((indent - 2.4, base), lead, size, bold=True, anchor="end"),) if lead else ()
        return (box, *bold, *marks), below - 1.6

    def gate(self, y: float, reason: str) -> Written:
        """Return a gate: STOP white on black, then when."""
        size = BODY
        left = self.left + 14.0
        base = y - 0.9 * size
        stop = Text((left + 1.5, base), "STOP", size, "sheet", bold=True, part="stop")
        wide = width_of(stop) + 3.0
        foot, head = base - 0.35 * size, base + 0.95 * size
        block = Path(((left, foot), (left + wide, foot), (left + wide, head), (left, head)), True, None, "ink", "stop")
        marks, below = self.paragraph(y, reason, size, bold=True, left=left + wide + 2.0)
        return (block, stop, *marks), below - 2.2


def _spoken(paper: Paper) -> str:
    return paper.name.upper() if len(paper.name) == 2 else paper.name.capitalize()
