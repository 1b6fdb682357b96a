"""The picture of the next step: a question with what is typed, a group, or where a move leads."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from app.entries import typed_entries as typing
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.card.question import Question
    from geometry.design.design import Design
    from templates_out.drawing.marks import Mark

    Draw = Callable[[float, float], tuple[Mark, ...]]


def of_move(design: Design, mount: int) -> Draw:
    """Return the drawing of where a move leads."""
    return partial(_move, design, mount)


def of_question(design: Design, asked: Question, mount: int, text: str) -> Draw:
    """Return a question's picture of the boat as it would be with the text that is typed, as far as that can be taken."""
    return partial(_question, design, asked, mount, text)


def _move(design: Design, mount: int, width: float, height: float) -> tuple[Mark, ...]:
    from templates_out.pictures.group_pictures import move_picture  # drawn after the first paint

    return move_picture(design, mount, width, height)


def _question(design: Design, asked: Question, mount: int, text: str, width: float, height: float) -> tuple[Mark, ...]:
    from templates_out.pictures.reading_picture import NOT_TYPED, reading_picture

    figure, drawn = NOT_TYPED, design
    if text:
        try:
            drawn = typing.typed(design, asked.key, text)
        except OwnerError:
            pass
        else:
            figure = typing.shown_figure(drawn, asked.key)
    return reading_picture(drawn, asked.key, width, height, mount=mount, figure=figure)
