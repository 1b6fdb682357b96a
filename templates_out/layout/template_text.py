"""The words of the template: its steps, the checks before punching, and three questions."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.solving.floor_moved import floor_moved
from geometry.units.units import format_length
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import Rect
from templates_out.drawing.transforms import shift
from templates_out.layout.blocks import Item, laid
from templates_out.layout.taped_pieces import TITLE

if TYPE_CHECKING:
    from geometry.design.design import Design
    from templates_out.drawing.printer import Printing
    from templates_out.faces.on_face import Hole
    from templates_out.layout.board import Board
    from templates_out.layout.tiles import Plan, Tile

_HEAD = 10 * pens.PT
_BRACKET = "Lay the bracket on. Through each hole and slot, all of the dotted ring shows."


def floor_names(design: Design, names: tuple[str, ...]) -> tuple[str, ...]:
    """Return the names of the floor's line, with how much higher or lower than read it is, where that is worth saying."""
    moved = floor_moved(design)
    if moved is None:
        return names
    by = format_length(abs(moved), design.units, denominator=32)
    said = f"{by} {'higher' if moved > 0 else 'lower'} than first read"
    return (*(f"{name}, {said}" for name in names), said)


def steps(plan: Plan, printing: Printing, holes: tuple[Hole, ...], only: str = "") -> tuple[Item, ...]:
    """Return the steps: put the paper together, put it on, and what to do with its ``holes``.

    Args:
        only: the one hole whose pilot is drilled by it, "" for a template that all is drilled by.
    """
    texts = [f"Measure both bars on every sheet. {printing.if_off}"]
    if len(plan.tiles) > 1:
        texts += [
            "Cut the later sheets along their dashed edges. Lay them on so that the crosses meet. Tape them.",
            "Each join check measures what is printed on it.",
        ]
    texts += [
        "Fold the flap back along the heavy line. Lay the fold on the top edge of the cut-out, the centreline on the boat's "
        "mark.",
        "Tape the outer corners. Smooth the paper flat.",
    ]
    if only:
        texts.append(f"Do every check of Before you punch. Punch the dot of the {only} hole, and no other.")
    elif any(hole.reused for hole in holes):
        texts.append("Look at each target ring. If its reused hole is not inside it, stop.")
    if not only and any(not hole.reused for hole in holes):
        texts.append("Do every check of Before you punch. Then punch the dots.")
    if not only and any(hole.reused for hole in holes):
        texts.append("Drill no pilot in a reused hole. Open it to size.")
    texts.append("The motor maker's instructions and local rules come first.")
    return (
        Item("Put it on", _HEAD, bold=True, before=0.0),
        *(Item(text, pens.STEP, lead=f"{number}") for number, text in enumerate(texts, start=1)),
    )


def before_you_punch(plan: Plan, holes: tuple[Hole, ...]) -> tuple[Item, ...]:
    """Return six checks and one or two questions, each with a box. A pilot has a question only where one is drilled."""
    questions = ["Is PORT on your left?"]
    if any(not hole.reused for hole in holes):
        questions.append("Did the first pilot come out inside the dotted circle of the inside sheet?")
    return (
        Item("Before you punch", _HEAD, bold=True, before=0.0),
        *(Item(text, pens.STEP, lead="box") for text in (*_on_the_boat(plan), _BRACKET)),
        Item("Before you drill on", _HEAD, bold=True, before=3.0),
        *(Item(text, pens.QUESTION, bold=True, lead="box", before=2.2) for text in questions),
        Item("If a box is empty, do not drill on.", pens.STEP, bold=True, before=2.2),
    )


def _on_the_boat(plan: Plan) -> tuple[str, ...]:
    joined = "The crosses meet. Each join check is as printed." if len(plan.tiles) > 1 else "The paper is flat, not stretched."
    return (
        "Both bars are true on every sheet.",
        joined,
        "The fold is on the top edge, all along.",
        "CENTRELINE is on the boat's own mark, top and bottom.",
        f"Every figure of {TITLE}, the last page, is within its limits.",
    )


def before_pilot(plan: Plan, reading: tuple[Item, ...]) -> tuple[Item, ...]:
    """Return the checks before the one pilot, then how it is read."""
    return (
        Item("Before you punch", _HEAD, bold=True, before=0.0),
        *(Item(text, pens.STEP, lead="box") for text in _on_the_boat(plan)),
        *reading,
    )


def not_yet() -> tuple[Item, ...]:
    """Return what to do with a template that nobody may drill by."""
    return (
        Item("Only to look at", _HEAD, bold=True, before=0.0),
        Item("Change or measure what the band names. Go on until the program says that you may drill.", pens.STEP),
        Item("Then print again. The new sheets have dots to punch, and another design number.", pens.STEP),
    )


def with_block(
    sheets: Board, blocks: list[tuple[Item, ...]], column: Rect | None, room: Rect
) -> tuple[Board, list[tuple[Item, ...]]]:
    """Return the board with the blocks that have a place, and those that have none.

    Args:
        sheets: the board.
        blocks: first on the top sheets, the last on the bottom sheets.
        column: the free column at the right, if there is one.
        room: for the drawing; where there is no column a block takes any free part of a sheet.
    """
    left_over = []
    for index, block in enumerate(blocks):
        rows = range(sheets.plan.rows)
        order = sorted(sheets.plan.tiles, key=lambda t: (t.row != (rows[-1] if index else 0), -t.column))
        for tile in order:
            placed = _put(sheets, tile, block, column, room)
            if placed is not None:
                sheets = placed
                break
        else:
            left_over.append(block)
    return sheets, left_over


def _put(sheets: Board, tile: Tile, block: tuple[Item, ...], column: Rect | None, room: Rect) -> Board | None:
    """Return the board with a block on one sheet, None where it has no place there."""
    low, high = tile.core[1] + 3.0, min(tile.core[3] - 5.0, -6.0)
    for left, right, width in _widths(sheets.plan, tile, column, room):
        marks, tall = laid(block, 0.0, 0.0, width, "words")
        across = (left + 6.0 * k for k in range(math.floor((right - left - width + 1e-9) / 6.0) + 1))
        places = [(x, float(top)) for x in across for top in range(int(high), int(low + tall), -5)]
        at = sheets.ground.first_free(places, width, tall)
        if at is not None:
            return sheets.carrying(tile, shift(marks, *at))
    return None


def _widths(plan: Plan, tile: Tile, column: Rect | None, room: Rect) -> list[tuple[float, float, float]]:
    """Return left end, right end and width to try."""
    if column is not None:
        width = min(column[2] - column[0], 78.0)
        return [(column[0], column[0] + width, width)] if tile.column == plan.columns - 1 else []
    left, right = max(tile.core[0] + 4.0, room[0]), min(tile.core[2] - 4.0, room[2] + 4.0)
    return [(left, right, width) for width in (64.0, 80.0, 100.0, 56.0)]
