"""Putting full-scale sheets together: a drawing that runs across them, and what each carries alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

import msgspec
from msgspec.structs import replace

from templates_out.drawing.clipping import Rect, clip, within
from templates_out.drawing.labels import Candidate, Ground, place, things_of
from templates_out.drawing.marks import Mark, Page, Point, Text
from templates_out.drawing.transforms import shift, text_box
from templates_out.layout.seams import seams_of
from templates_out.layout.tiles import Plan, Tile


class Board(msgspec.Struct, frozen=True):
    """Sheets in the making; every addition gives a new one.

    Attributes:
        plan: how the drawing is laid on paper.
        drawing: what runs across the sheets, in drawing coordinates; cut at each sheet's edge.
        own: what each sheet carries, in drawing coordinates as well; not cut.
        ground: all of it, for placing what comes next.
    """

    plan: Plan
    drawing: tuple[Mark, ...]
    own: tuple[tuple[Mark, ...], ...]
    ground: Ground

    def drawn(self, marks: Iterable[Mark], in_the_way: bool = True) -> Board:
        """Return this board with more of the drawing."""
        marks = tuple(marks)
        ground = self.ground.plus(marks) if in_the_way else self.ground
        return replace(self, drawing=self.drawing + marks, ground=ground)

    def carrying(self, tile: Tile, marks: Iterable[Mark], in_the_way: bool = True) -> Board:
        """Return this board with more on one sheet, in drawing coordinates."""
        index, marks = self.plan.tiles.index(tile), tuple(marks)
        own = (*self.own[:index], self.own[index] + marks, *self.own[index + 1 :])
        return replace(self, own=own, ground=self.ground.plus(_on(tile, marks)) if in_the_way else self.ground)

    def ignoring(self, marks: Iterable[Mark]) -> Board:
        """Return this board with some of its marks no longer in the way."""
        passed = set(marks)
        carried = (_on(tile, own) for tile, own in zip(self.plan.tiles, self.own, strict=True))
        kept = [mark for mark in chain(self.drawing, *carried) if mark not in passed]
        return replace(self, ground=Ground().plus(kept, _seams(self.plan)))

    def heeding(self, marks: Iterable[Mark]) -> Board:
        """Return this board with some of its marks in the way again."""
        return replace(self, ground=self.ground.plus(marks))

    def placed(self, candidates: Iterable[Candidate], within: Rect | None = None) -> tuple[Board, bool]:
        """Return this board with the first free candidate drawn, and whether there was one."""
        if within is not None:
            candidates = (free for free in candidates if texts_within(free, within))
        free = place(candidates, self.ground)
        return (self, False) if free is None else (self.drawn(free), True)


def _on(tile: Tile, marks: Iterable[Mark]) -> list[Mark]:
    """Return the marks that reach into what a sheet alone shows: in its strips they are in no other sheet's way."""
    left, bottom, right, top = tile.core
    return [
        mark
        for mark in marks
        if any(old.box[0] < right and left < old.box[2] and old.box[1] < top and bottom < old.box[3] for old in things_of(mark))
    ]


def _seams(plan: Plan) -> Iterator[tuple[Point, Point]]:
    return ((seam.start, seam.end) for seam in seams_of(plan))


def board(plan: Plan) -> Board:
    """Return empty sheets with their seams in the way of texts."""
    ground = Ground().plus((), _seams(plan))
    return Board(plan, (), tuple(() for _ in plan.tiles), ground)


def on_page(tile: Tile, marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """Return marks of the drawing in a page's coordinates."""
    return shift(tuple(marks), *tile.offset)


def on_drawing(tile: Tile, marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """Return marks of a page in the drawing's coordinates."""
    return shift(tuple(marks), -tile.offset[0], -tile.offset[1])


def finished(board: Board, warning: str = "") -> tuple[Page, ...]:
    """Return the pages: lines are cut where the strip under the next sheet ends; a text is on one sheet only.

    Args:
        warning: why nobody may work by them, "" where one may.
    """
    pages = []
    for tile, own in zip(board.plan.tiles, board.own, strict=True):
        lines = clip((mark for mark in board.drawing if not isinstance(mark, Text) and mark.part != "view"), tile.shown)
        bars = [mark for mark in board.drawing if mark.part == "view" and clip((mark,), tile.core) == (mark,)]
        texts = [mark for mark in board.drawing if isinstance(mark, Text) and texts_within((mark,), tile.core)]
        marks = on_page(tile, (*lines, *bars, *(text for text in texts if text.part != "view"), *own))
        pages.append(Page(board.plan.width, board.plan.height, marks, f"Sheet {tile.letter}", warning))
    return tuple(pages)


def texts_within(marks: Candidate, rect: Rect) -> bool:
    """Say whether all texts among ``marks`` are within ``rect``."""
    return all(within(corner, rect) for mark in marks if isinstance(mark, Text) for corner in text_box(mark))
