"""The table of the taped-up check on paper: on the template's last page and on the shop sheet, the same."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from geometry.design_text import fingerprint
from geometry.survey.taped_paper import is_out
from geometry.survey.taped_words import FROM, allowed, figure
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Line, Mark
from templates_out.drawing.printer import paper_of
from templates_out.drawing.sheet_pens import width_of, words
from templates_out.layout.blocks import band, band_height
from templates_out.layout.reading_pages import ROW, Piece, Sheet, Written, flowed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.survey.taped_paper import Paper, Row
    from geometry.units.units import Unit
    from templates_out.drawing.marks import Page
    from templates_out.drawing.printer import Printing
    from templates_out.layout.drilling_permission import Stamp

TITLE = "Check before you punch"
_LINE, _TIGHT = 5.2, 4.5  # mm: height of a line with a blank, and where many have to go on a page
_MANY, _TIED = 40, 12  # lines; so few stay on one page
_BLANK, _GAP = 14.0, 2.0  # mm: width of a blank at the least, and of the white between columns
_SMALL = 7.5 * pens.PT
_WIDE = 200.0  # mm: of the table at the most, on a roll
_OFF = (
    "if a figure is outside its limits. Do not punch. Type all figures into the program: it says whether to tape or to print "
    "again."
)


def taped_page(
    design: Design, paper: Paper, printing: Printing, stamped: Stamp | None, what: str = "template"
) -> tuple[Page, ...]:
    """Return the page of the table behind a template's sheets."""
    sheet = Sheet(design, printing.date, paper_of(printing))
    if sheet.room > _WIDE:
        sheet = sheet.column(0.0, _WIDE / sheet.room)
    head, top = sheet.headed(TITLE, "no drawing")
    warning: tuple[Mark, ...] = ()
    if stamped is not None:
        high = band_height(stamped, sheet.room)
        warning, top = band((sheet.left, top - high, sheet.right, top), stamped), top - high - 4.0
    pages = flowed(taped_pieces(design, paper.rows, sheet, narrow=False), top, top)
    return tuple(
        sheet.page(
            page.with_marks((*head, *warning, *sheet.numbered(number, len(pages)))), f"To measure: {what} {number}", stamped
        )
        for number, page in enumerate(pages, start=1)
    )


def taped_pieces(design: Design, rows: tuple[Row, ...], sheet: Sheet, *, narrow: bool = True) -> Iterator[Piece]:
    """Yield from what to measure, the table, and when to stop.

    Args:
        narrow: in two columns, small and with shorter names, where they have room.
    """
    taped, unit = design.taped, design.units
    read = {} if taped is None or taped.number != fingerprint(design) else {each.row: each.read for each in taped.readings}
    yield Piece(partial(sheet.paragraph, text=FROM), tied=True)
    left, right = sheet.column(0.0, 0.485), sheet.column(0.515, 1.0)
    middle = (len(rows) + 1) // 2
    columns = [_Column(sheet, rows, unit, short=False)]
    if narrow:
        halves = [_Column(left, rows[:middle], unit, short=True), _Column(right, rows[middle:], unit, short=True)]
        columns = halves if all(column.fits for column in halves) else columns

    def heads(y: float) -> Written:
        made = [column.sheet.heads(y - 1.0, _heads(unit), column.shares) for column in columns]
        return tuple(mark for marks, _ in made for mark in marks), made[0][1]

    yield Piece(heads, tied=True)
    count = len(columns[0].rows)
    high = _TIGHT if count > _MANY else _LINE
    for line in range(count):
        yield Piece(partial(_lines, columns, line, read, unit, high), again=heads, tied=count <= _TIED or line == count - 1)
    yield Piece(lambda y: sheet.gate(y - 1.5, _OFF))


def _heads(unit: Unit) -> tuple[str, str, str, str]:
    return f"from, to [{unit}]", "should be", "within", f"is [{unit}]"


class _Column:
    """One column of the table: its rows as words, and where each cell begins, as shares of its width."""

    def __init__(self, sheet: Sheet, rows: tuple[Row, ...], unit: Unit, *, short: bool) -> None:
        self.sheet, self.rows, self.size = sheet, rows, _SMALL if short else ROW
        self.cells = [_cells(row, unit, short=short) for row in rows]
        wide = [
            max(width_of(words((0.0, 0.0), cell, self.size, bold=index == 1)) for cell in column)
            for index, column in enumerate(zip(*self.cells, strict=True))
        ]
        heads = [width_of(words((0.0, 0.0), head, ROW, bold=True)) for head in _heads(unit)[:3]]
        wide = [max(cell, head) + _GAP for cell, head in zip(wide, heads, strict=True)]
        self.fits = sum(wide) + _BLANK <= sheet.room
        rest = 0.0 if short else max(0.0, sheet.room - sum(wide) - 2 * _BLANK) / 3
        starts = [0.0, wide[0] + rest, wide[0] + wide[1] + 2 * rest, sum(wide) + 3 * rest]
        self.shares = tuple(start / sheet.room for start in starts)


def _cells(row: Row, unit: Unit, *, short: bool) -> tuple[str, str, str]:
    name = writable(row.name)
    if short:
        name = name.replace("starboard", "stbd").replace(" to the ", " to ")
    expected, within = figure(row.expected, unit, "paper"), allowed(row, unit, "paper")
    return name, expected.removesuffix(f" {unit}"), within.removesuffix(f" {unit}")


def _lines(columns: list[_Column], line: int, read: dict[str, float], unit: Unit, high: float, y: float) -> Written:
    """Return a line in each column: what to measure, what it should be, what is allowed, and a blank or what was read."""
    base = y - high + 1.3
    marks: list[Mark] = []
    for column in columns:
        if line >= len(column.rows):
            continue
        row, sheet = column.rows[line], column.sheet
        at = [sheet.left + share * sheet.room for share in column.shares]
        marks += [
            words((left, base), cell, column.size, bold=index == 1)
            for index, (left, cell) in enumerate(zip(at, column.cells[line], strict=False))
        ]
        seen = read.get(row.name)
        if seen is None:
            marks.append(Line((at[3], base - 0.6), (sheet.right, base - 0.6), pens.FINE, "blank"))
        else:
            off = " off" if is_out(row, seen) else ""
            marks.append(words((at[3], base), f"{figure(seen, unit, 'paper')}{off}", column.size, bold=True))
    return tuple(marks), y - high
