"""Seams on the board: lines, matching crosses, which sheet goes on top, and a check across each."""

from __future__ import annotations

from geometry.design.units import Unit
from templates_out.drawing.labels import Candidate, Ground
from templates_out.drawing.marks import Line
from templates_out.sheets import pens
from templates_out.sheets.on_face import Stretch
from templates_out.sheets.pages import Board
from templates_out.sheets.seams import (
    Seam,
    cross_marks,
    crosses,
    join_places,
    no_parallel,
    over_words,
    seam_marks,
    seams_of,
    under_words,
)


def with_seams(sheets: Board, unit: Unit, stretch: Stretch) -> Board:
    """Return the board with all that the seams carry."""
    plan = sheets.plan
    found = seams_of(plan)
    for seam in found:
        for at in crosses(seam, sheets.ground):
            sheets = sheets.carrying(seam.under, cross_marks(at))
            sheets = sheets.carrying(seam.over, cross_marks(at), in_the_way=False)
    for seam in found:
        under, over = seam_marks(seam, plan)
        sheets = sheets.carrying(seam.under, under, in_the_way=False)
        sheets = sheets.carrying(seam.over, over, in_the_way=False)
        sheets = _with_words(sheets, seam)
    for seam in found:
        sheets = _with_join_check(sheets, seam, unit, stretch)
    return sheets


def _with_words(sheets: Board, seam: Seam) -> Board:
    # The words lie in the strip and in the waste, which no other text enters, so the seam itself is not in their way.
    ground = sheets.ground.without_seams()
    for words, tile in ((under_words(seam), seam.under), (over_words(seam), seam.over)):
        candidates = list(words)
        free = next((found for found in candidates if ground.is_free(found)), candidates[0] if candidates else ())
        sheets = sheets.carrying(tile, free, in_the_way=False)
    return sheets


def _with_join_check(sheets: Board, seam: Seam, unit: Unit, stretch: Stretch) -> Board:
    lines = [
        Line(old.corners[0], old.corners[1], pens.FINE)
        for old in sheets.ground.things
        if old.kind != "seam" and len(old.corners) == 2
    ]
    for under, over, _length in join_places(seam, unit, stretch):
        halves: list[tuple[Candidate, Line]] = [(half, half[0]) for half in (under, over) if isinstance(half[0], Line)]
        if all(no_parallel(line, lines) and sheets.ground.is_free(half[1:]) for half, line in halves):
            return sheets.carrying(seam.under, under).carrying(seam.over, over)
    return sheets
