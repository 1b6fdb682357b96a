"""The checks that are made at the boat, on the shop sheet: the taped-up paper's table, and the survey with its ellipses."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from geometry.errors import OwnerError
from geometry.solid.placed_bolts import bolts
from geometry.survey.of_design import surveyed
from geometry.survey.survey_words import agreement_word, distance_words, place_words, survey_sentences
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Path
from templates_out.drawing.sheet_figures import printed
from templates_out.drawing.transforms import shift
from templates_out.layout.reading_pages import Piece, Sheet, Written
from templates_out.layout.taped_pieces import TITLE, taped_pieces
from templates_out.layout.taped_table import paper_without_joins, taped_paper
from templates_out.pages.template.template_pages import template_set
from templates_out.pictures.survey_picture import survey_picture

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from geometry.survey.of_design import Surveyed
    from geometry.survey.taped_paper import Row
    from templates_out.drawing.printer import Printing

_HIGH = 62.0  # mm: height of the survey's picture


def check_pieces(design: Design, sheet: Sheet, table: tuple[Row, ...]) -> Iterator[Piece]:
    """Yield the table of the taped-up check, then the survey of each face, where there are any."""
    if table:
        yield Piece(partial(sheet.heading, text=TITLE), tied=True, names=TITLE.lower())
        yield from taped_pieces(design, table, sheet)
    yield from _survey(design, sheet)


def taped_rows(checked: Checked, template: Printing | None) -> tuple[Row, ...]:
    """Return the lines of the taped-up paper's table, () where no hole has a place.

    Args:
        template: how the template is printed, for a line of each join of its sheets; None leaves the joins out.
    """
    design = checked.design
    try:
        if not bolts(design):
            return ()
        if template is None:
            return paper_without_joins(design).rows
        plan, pages = template_set(checked, template)
        return taped_paper(design, plan, pages, template.correction.on(plan.orientation)).rows
    except OwnerError:  # a hole's place is not known, or the paper is too small: there is no template either
        return ()


def _survey(design: Design, sheet: Sheet) -> Iterator[Piece]:
    try:
        faces = surveyed(design)
    except OwnerError as sentence:  # a distance that fixes nothing: its window says so too
        yield Piece(partial(sheet.heading, text="Survey"), tied=True, names="survey")
        yield Piece(partial(sheet.paragraph, text=str(sentence)))
        return
    for done in faces:
        unit = design.units
        yield Piece(partial(sheet.heading, text=f"Survey of the {done.face}"), tied=True, names="survey")
        yield Piece(partial(sheet.paragraph, text=printed(" ".join(survey_sentences(done, unit)))), tied=True)
        yield Piece(partial(_picture, design, done, sheet))
        rows = [
            (writable(each.name), printed(place_words(each, unit, done.face == "inside")))
            for each in done.survey.placed
        ]
        if rows:
            yield from sheet.pieces(("point", "place"), rows, (0.0, 0.4))
        listed = [
            (printed(distance_words(done, index, unit).removeprefix("distance ")), printed(agreement_word(each, unit)))
            for index, each in enumerate(done.survey.agreements)
        ]
        yield from sheet.pieces(("distance", "how it agrees"), listed, (0.0, 0.75))


def _picture(design: Design, done: Surveyed, sheet: Sheet, y: float) -> Written:
    """Return the picture of a survey in a frame."""
    marks = survey_picture(design, done.face, done, sheet.room, _HIGH)
    frame = Path(((0.0, 0.0), (sheet.room, 0.0), (sheet.room, _HIGH), (0.0, _HIGH)), True, pens.FINE)
    return shift((*marks, frame), sheet.left, y - _HIGH - 1.0), y - _HIGH - 3.0
