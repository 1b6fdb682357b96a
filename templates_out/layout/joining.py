"""Seams on the board: lines, matching crosses, which sheet goes on top, and a check across each."""

from __future__ import annotations

from geometry.units.units import Unit
from templates_out.drawing.labels import Candidate, Ground, place
from templates_out.drawing.marks import Line, Mark, Text
from templates_out.drawing.printer import Stretch
from templates_out.layout.board import Board
from templates_out.layout.seams import (
    CHECK,
    CROSS,
    Seam,
    cross_marks,
    crosses,
    join_places,
    no_parallel,
    no_words,
    over_words,
    seam_marks,
    seams_of,
    under_words,
)


def with_seams(sheets: Board, unit: Unit, stretch: Stretch, soft: tuple[Mark, ...] = ()) -> Board:
    """Return the board with all that the seams carry; clear of ``soft`` lines, still to come, where there is such a place."""
    plan = sheets.plan
    seams = seams_of(plan)
    for seam in seams:
        for at in crosses(seam, sheets.heeding(soft).ground):
            sheets = sheets.carrying(seam.under, cross_marks(at))
            sheets = sheets.carrying(seam.over, cross_marks(at), in_the_way=False)
    for seam in seams:
        sheets = _with_words(sheets, seam, soft)
    for seam in seams:
        under, over = seam_marks(seam, plan)
        sheets = sheets.carrying(seam.under, under, in_the_way=False)
        sheets = sheets.carrying(seam.over, over, in_the_way=False)
    for seam in seams:
        sheets = _with_join_check(sheets, seam, unit, stretch, soft)
    return sheets


def join_checks(sheets: Board) -> int:
    """Return how many seams have a check across them."""
    return sum(isinstance(mark, Text) and mark.text == CHECK for own in sheets.own for mark in own)


def _with_words(sheets: Board, seam: Seam, soft: tuple[Mark, ...]) -> Board:
    """Put the words into the strip and the waste, clear of what each of the two sheets shows there."""
    plan = sheets.plan
    shown = Ground().plus((*sheets.drawing, *sheets.own[plan.tiles.index(seam.under)]))
    cut_off = Ground().plus(mark for mark in sheets.own[plan.tiles.index(seam.over)] if mark.part == CROSS)
    for words, tile, ground in ((under_words(seam), seam.under, shown), (over_words(seam), seam.over, cut_off)):
        places = list(words)
        marks = place(places, ground.plus(soft)) or place(places, ground)
        if marks is not None:
            sheets = sheets.carrying(tile, marks, in_the_way=False)
    return sheets


def _with_join_check(sheets: Board, seam: Seam, unit: Unit, stretch: Stretch, soft: tuple[Mark, ...]) -> Board:
    for ground in (sheets.heeding(soft).ground, sheets.ground)[: 2 if soft else 1]:
        for under, over, _length in join_places(seam, unit, stretch):
            halves: list[tuple[Candidate, Line]] = [(half, half[0]) for half in (under, over) if isinstance(half[0], Line)]
            if all(
                no_parallel(line, ground) and no_words(line, ground) and ground.is_free(half[1:]) for half, line in halves
            ):
                return sheets.carrying(seam.under, under).carrying(seam.over, over)
    return sheets
