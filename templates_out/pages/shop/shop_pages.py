"""The shop sheet: for the bench and the boat, what is drilled where, what was checked, what to buy, what to do.

Portrait pages, pictures not to scale: a page of pictures and places for each motor, then all else in one flow.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from geometry.doubt.size_limits import size_limits
from geometry.judge.findings import Checked
from geometry.solid.placed_bolts import bolts
from geometry.survey.taped_paper import Row
from geometry.tables.papers import paper as paper_named
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import WARNING, Line, Mark, Page, Path, Text
from templates_out.drawing.printer import Printing
from templates_out.drawing.sheet_figures import printed
from templates_out.drawing.sheet_pens import PT, width_of, wrapped
from templates_out.layout.blocks import band, band_height
from templates_out.layout.drilling_permission import Stamp, stamp, stops_all
from templates_out.layout.reading_pages import BODY, HEAD, ROW, SUBHEAD, TITLE, Piece, Sheet, Writing, Written, flowed, gap
from templates_out.pages.shop import shop_holes as says
from templates_out.pages.shop.shop_buy import to_buy
from templates_out.pages.shop.shop_chances import before_drilling_pieces
from templates_out.pages.shop.shop_checks import check_pieces, taped_rows
from templates_out.pages.shop.shop_findings import power_words, summary_lines, why
from templates_out.pages.shop.shop_fitting import hook_pads
from templates_out.pages.shop.shop_pictures import IN_SPACE, boat_in_space, in_space, pictures
from templates_out.pages.shop.shop_sources import sources, unsure
from templates_out.pages.shop.shop_step import Step, used
from templates_out.pages.shop.shop_tools import tool_words
from templates_out.pages.shop.shop_torque import torque_pieces
from templates_out.pages.shop.shop_work import CAUTIONS, work

ANSWER, SMALL = 10.5 * PT, 7.5 * PT
IN_SHORT = ("clear", "within limits", "note")
CHECK_HEADS, CHECK_COLUMNS = ("state", "finding", "limits"), (0.0, 0.125, 0.76)
INITIALS = "At each STOP a second person looks too, and writes initials at the right."
NOT_TO_SCALE, ABOUT = "pictures not to scale", "tick as you go"
TIGHTER = (0.85, 0.7, 0.6)  # of the usual white
GROUPS = 0.115  # of the width: where the names of the groups of steps are
STRIP = 7.0  # mm: height of the warning on later pages


def shop_pages(
    checked: Checked, date: datetime.date, paper: str = "letter", template: Printing | None = None
) -> tuple[Page, ...]:
    """Return the shop sheet: answer, pictures and holes of each motor, checks, what to buy, the work, torque, record.

    Args:
        template: how the template is printed: its joins are then in the table of the taped-up paper.

    Raises:
        OwnerError: there is no such paper.
    """
    sheet = Sheet(checked.design, date, paper_named(paper))
    top = sheet.headed("", "")[1]
    reason = stamp(checked)
    high = band_height(reason, sheet.room) + 3.0 if reason is not None else 0.0

    space = boat_in_space(checked, sheet)

    table = taped_rows(checked, template) if not stops_all(reason) or checked.design.taped is not None else ()

    def flow(air: float, space: tuple[Mark, ...] = ()) -> list[Writing]:
        pieces = _pieces(checked, replace(sheet, air=air), space, table)
        return flowed(pieces, top - high, top - STRIP - 2.0 if reason is not None else top)

    pages, chosen = flow(1.0), 1.0
    most = 2 + 2 * max(1, len(checked.design.mounts))
    for air in TIGHTER:
        if len(pages) <= most and pages[-1].y < sheet.height / 2:
            break
        tighter = flow(air)  # too many pages, or little on the last: a page less, where that is possible
        pages, chosen = (tighter, air) if len(tighter) < len(pages) else (pages, chosen)
    pictured = flow(chosen, space) if space else pages
    if len(pictured) == len(pages) and any(mark.part == IN_SPACE for mark in pictured[0].marks):
        pages = pictured  # where it takes no page more
    made = []
    for number, page in enumerate(pages, start=1):
        head = sheet.headed(_title(sheet, page), ABOUT if number > 1 else NOT_TO_SCALE)[0]
        warning: tuple[Mark, ...] = ()
        if reason is not None:
            first = number == 1
            warning = band((sheet.left, top - high + 3.0, sheet.right, top), reason) if first else _strip(sheet, top, reason)
        marks = (*head, *sheet.numbered(number, len(pages)), *warning)
        made.append(sheet.page(page.with_marks(marks), f"Shop {number}", reason))
    return tuple(made)


def _strip(sheet: Sheet, top: float, reason: Stamp) -> tuple[Mark, ...]:
    """Return the warning again, small, for later pages."""
    size, part = HEAD, WARNING
    block = Path(
        ((sheet.left, top - STRIP), (sheet.right, top - STRIP), (sheet.right, top), (sheet.left, top)), True, None, "ink", part
    )
    words = Text((sheet.left + sheet.room / 2, top - STRIP / 2 - 0.37 * size), reason.words, size, "sheet", bold=True,
                anchor="middle", part=part)  # fmt: skip
    where = Text((sheet.right - 2.0, words.at[1]), "why: page 1", ROW, "sheet", condensed=True, anchor="end", part=part)
    return block, words, where


def _title(sheet: Sheet, page: Writing) -> str:
    """Name a page by what begins on it."""
    title = "Shop sheet"
    for index, name in enumerate(page.names):
        longer = f"{title}{': ' if index == 0 else ', '}{name}"
        if width_of(Text((0.0, 0.0), longer, TITLE, bold=True)) > sheet.room - 26.0:
            break
        title = longer
    return title if page.names else f"{title}, continued"


def _pieces(checked: Checked, sheet: Sheet, space: tuple[Mark, ...], table: tuple[Row, ...]) -> Iterator[Piece]:
    """Yield all that the sheet says, in order.

    Args:
        space: the picture of the boat in space, () for none. table: of the taped-up paper, () for none.
    """
    design = checked.design
    yield from _places(checked, sheet, 0)
    yield from _findings(checked, sheet)  # the first page always has what is wrong
    if space:
        yield Piece(partial(in_space, space, sheet))
    for index in range(1, len(design.mounts)):
        yield from _places(checked, sheet, index)
    stamped = stamp(checked)
    steps = work(design, None if stamped is None else stamped.pilot)
    yield from _buying(checked, sheet, steps)
    yield from _working(checked, sheet, steps)
    yield from check_pieces(design, sheet, table)
    yield from torque_pieces(design, sheet)
    yield Piece(partial(sheet.paragraph, text=f"Sources. {' '.join(sources(design))}", size=SMALL))


def _places(checked: Checked, sheet: Sheet, index: int) -> Iterator[Piece]:
    """Yield the answer, both pictures, the bracket's holes and the table of holes of one motor."""
    design = checked.design
    mount = design.mounts[index] if index < len(design.mounts) else None
    several = mount is not None and len(design.mounts) > 1
    name = writable(mount.name) if mount is not None and several else ""
    stamped = stamp(checked)
    crossed, pilot = stops_all(stamped), None if stamped is None else stamped.pilot
    if index == 0:
        yield Piece(partial(_answer, sheet, says.answer(design, pilot)))
        yield Piece(lambda y: sheet.paragraph(y - 1.0, why(checked)))
    yield Piece(lambda y: pictures(checked, sheet, index, y - 2.0, crossed=crossed), names=name or "holes")
    rows = says.hole_rows(design, index, pilot)
    if rows:
        yield Piece(lambda y: sheet.heading(y, "The holes"), tied=True)
        yield from sheet.pieces(says.HOLE_HEADS, rows, sheet.columns(says.HOLE_HEADS, rows))
        yield Piece(lambda y: sheet.paragraph(y, says.edge_words(design)))


def _answer(sheet: Sheet, text: str, y: float) -> Written:
    """Return the answer, narrower where that saves a line with a word or two."""
    ways = (sheet.paragraph(y, text, ANSWER, bold=True, condensed=narrow) for narrow in (False, True))
    return max(ways, key=lambda way: way[1])


def _findings(checked: Checked, sheet: Sheet) -> Iterator[Piece]:
    """Yield the findings, worst first, and the readings that are guesses or missing."""
    rows = summary_lines(checked)
    listed = [row for row in rows if row[0] not in IN_SHORT]
    if rows:
        yield Piece(lambda y: sheet.heading(y, "Checks"), tied=True, names="checks")
    if listed:
        yield from sheet.pieces(CHECK_HEADS, listed, CHECK_COLUMNS)
    for word in IN_SHORT:
        text = " ".join(text for each, text, _ in rows if each == word)
        if text:
            yield Piece(partial(sheet.paragraph, text=f"{word.capitalize()}: {text}", size=ROW))
    power = power_words(checked)
    for text in (printed(f"Power and weight. {power}") if power else "", unsure(checked.design)):
        if text:
            yield Piece(partial(sheet.paragraph, text=text, size=ROW))


def _buying(checked: Checked, sheet: Sheet, steps: tuple[Step, ...]) -> Iterator[Piece]:
    """Yield what the steps use: what to buy, then the tools in three columns. A part that no step uses is left out."""
    design, keys = checked.design, used(steps)
    bought = [line for line in to_buy(design, size_limits(checked), hook_pads(design)) if keys.intersection(line.keys)]
    if bought:
        yield Piece(lambda y: sheet.heading(y, "To buy"), tied=True, names="to buy")
    for index, line in enumerate(bought):
        yield Piece(partial(sheet.ticked, text=line.what, count=str(line.number)), tied=index == 0 and len(bought) > 1)
    have = {key for line in bought for key in line.keys}
    listed = tool_words(design, keys - have)
    if listed:
        yield Piece(lambda y: sheet.heading(y, "Tools"), tied=True, names="tools")
    columns = tuple(sheet.column(start, start + 0.32) for start in (0.0, 0.34, 0.68))
    for first in range(0, len(listed), len(columns)):
        yield Piece(partial(_side_by_side, columns, listed[first : first + len(columns)]), tied=first == 0)


def _side_by_side(columns: tuple[Sheet, ...], texts: list[str], y: float) -> Written:
    """Return a line to tick in each column."""
    made = [column.ticked(y, text) for column, text in zip(columns, texts, strict=False)]
    return tuple(mark for marks, _ in made for mark in marks), min(below for _, below in made)


def _working(checked: Checked, sheet: Sheet, steps: tuple[Step, ...]) -> Iterator[Piece]:
    """Yield the cautions, then the work in order, each step with its gate."""
    yield Piece(lambda y: sheet.heading(y, "Cautions", SUBHEAD), tied=True, names="work")
    for caution in CAUTIONS if bolts(checked.design) else CAUTIONS[:-1]:
        yield Piece(partial(sheet.paragraph, text=caution))
        yield Piece(lambda y: ((), y - 0.8))
    if steps:
        yield Piece(lambda y: sheet.heading(y, "The work, in order"), tied=True, names="work")
    yield from before_drilling_pieces(checked.design, sheet)
    if any(step.gate for step in steps):
        yield Piece(partial(sheet.paragraph, text=INITIALS, size=ROW), tied=True)
        yield Piece(gap, tied=True)
    column = sheet.column(GROUPS)
    for number, step in enumerate(steps, start=1):
        yield Piece(partial(_step, sheet, column, step, number), tied=bool(step.gate))
        if step.gate:
            yield Piece(partial(column.gate, reason=step.gate, initials=True))


def _step(sheet: Sheet, column: Sheet, step: Step, number: int, y: float) -> Written:
    """Return a step with its box, and at the left the name of the group that begins with it."""
    rule = 1.2 if step.head and number > 1 else 0.0
    marks, below = column.ticked(y - 2.0 * rule, step.what, number=str(number))
    name = wrapped(step.head, SUBHEAD, GROUPS * sheet.room - 3.0, bold=True, condensed=True)
    named = [
        Text((sheet.left, y - 2.0 * rule - 0.9 * BODY - line * 1.25 * SUBHEAD), text, SUBHEAD, bold=True, condensed=True)
        for line, text in enumerate(name) if text
    ]  # fmt: skip
    over = (Line((sheet.left, y - rule), (sheet.right, y - rule), pens.FINE),) if rule else ()
    return (*over, *named, *marks), below
