"""The checks that are made at the boat, on the shop sheet: the taped-up paper's table, and the survey with its ellipses."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from geometry.design.design_text import fingerprint
from geometry.design.units import format_length
from geometry.errors import OwnerError
from geometry.solid.placed_bolts import bolts
from geometry.survey.of_design import surveyed
from geometry.survey.survey_words import agreement_word, distance_words, place_words, survey_sentences
from geometry.survey.taped_paper import is_out
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Line, Mark, Path
from templates_out.drawing.sheet_figures import printed
from templates_out.drawing.sheet_pens import width_of, words
from templates_out.drawing.transforms import shift
from templates_out.layout.reading_pages import ROW, Piece, Sheet, Written
from templates_out.layout.taped_table import paper_without_joins
from templates_out.views.survey_picture import survey_picture

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.design.units import Unit
    from geometry.survey.of_design import Surveyed
    from geometry.survey.taped_paper import Row

_HEADS, _AT = ("from, to", "should be", "within", "is"), (0.0, 0.515, 0.715, 0.845)
_HIGH = 62.0  # mm: height of the survey's picture
_LINE = 5.2  # mm: height of a line with a blank
_ABOUT = (
    "Measure to the boat's own edge and centreline, not to the lines on the paper. The sheets show each join check: it is "
    "within the same as the distances between holes. If a figure is off, do not punch. Type all figures into the program: it "
    "says whether to tape or to print again."
)


def check_pieces(design: Design, sheet: Sheet) -> Iterator[Piece]:
    """Yield the table of the taped-up check, then the survey of each face, where there are any."""
    yield from _taped(design, sheet)
    yield from _survey(design, sheet)


def _taped(design: Design, sheet: Sheet) -> Iterator[Piece]:
    try:
        rows = paper_without_joins(design).rows if bolts(design) else ()
    except OwnerError:  # a hole's place is not known: there is no template either
        rows = ()
    if not rows:
        return
    taped = design.taped
    read = {} if taped is None or taped.number != fingerprint(design) else {each.row: each.read for each in taped.readings}
    yield Piece(partial(sheet.heading, text="After taping, before punching"), tied=True, names="after taping")
    yield Piece(partial(sheet.paragraph, text=_ABOUT), tied=True)
    left, right = sheet.column(0.0, 0.485), sheet.column(0.515, 1.0)
    narrow = all(width_of(words((0.0, 0.0), writable(row.name), ROW)) < _AT[1] * left.room - 1.0 for row in rows)
    middle = (len(rows) + 1) // 2 if narrow else len(rows)
    columns = ((left, rows[:middle]), (right, rows[middle:])) if narrow else ((sheet, rows),)

    def heads(y: float) -> Written:
        made = [column.heads(y - 1.0, _HEADS, _AT) for column, _ in columns]
        return tuple(mark for marks, _ in made for mark in marks), made[0][1]

    yield Piece(heads, tied=True)
    for line in range(middle):
        pair = [(column, part[line]) for column, part in columns if line < len(part)]
        yield Piece(partial(_lines, pair, read, design.units), again=heads, tied=line < 2)
    yield Piece(lambda y: ((), y - 2.0))


def _lines(pair: list[tuple[Sheet, Row]], read: dict[str, float], unit: Unit, y: float) -> Written:
    """Return a line in each column: what to measure, what it should be, how far off it may be, and a blank or what was read."""
    base = y - _LINE + 1.3
    marks: list[Mark] = []
    for sheet, row in pair:
        at = [sheet.left + share * sheet.room for share in _AT]
        seen = read.get(row.name)
        marks += [
            words((at[0], base), writable(row.name), ROW),
            words((at[1], base), _figure(row.expected, unit), ROW, bold=True),
            words((at[2], base), _figure(row.within, unit), ROW),
        ]
        if seen is None:
            marks.append(Line((at[3], base - 0.6), (sheet.right, base - 0.6), pens.FINE, "blank"))
        else:
            off = " off" if is_out(row, seen) else ""
            marks.append(words((at[3], base), f"{_figure(seen, unit)}{off}", ROW, bold=True))
    return tuple(marks), y - _LINE


def _figure(mm: float, unit: Unit) -> str:
    return format_length(mm, unit, denominator=64, style="paper") if unit == "in" else format_length(mm, unit, places=1)


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
