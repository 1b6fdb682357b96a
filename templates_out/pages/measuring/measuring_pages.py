"""The measuring sheet: a page or two to carry to the boat, with two key drawings and the numbered list to fill in."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from functools import partial
from itertools import groupby

from geometry.design.design import Design
from geometry.tables.papers import paper as paper_named
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import clip
from templates_out.drawing.fonts import text_width, writable
from templates_out.drawing.marks import Circle, Line, Mark, Page, Path, Text
from templates_out.drawing.sheet_pens import words, wrapped
from templates_out.drawing.transforms import shift
from templates_out.layout.balloons import BALLOON, NUMBER
from templates_out.layout.reading_pages import MARGIN, ROW, SUBHEAD, Piece, Sheet, Written, flowed
from templates_out.pages.measuring.measuring_items import MOST, Blank, Item, items
from templates_out.pages.measuring.measuring_keys import cut_key, face_key, letter
from templates_out.pictures.group_pictures import pattern_picture
from templates_out.pictures.reading_picture import NOT_TYPED, reading_picture
from templates_out.pictures.usual_sizes import sketched

ABOUT = "pencil, steel tape, batten, phone level"
LINE, LEAD = 7.4, 3.4  # mm: from item to item; from line to line within one
BLANK, BETWEEN = 21.0, 2.0  # mm: width of a blank, and between two
NAME, HOW = 7.6, 46.0  # mm from the left: where an item's name begins, and how to measure it
PICTURE = 62.0  # mm: height of both drawings
CELL, PICTURED, CELL_AIR = 29.0, 37.0, 4.0  # mm: height of a question with its picture, the picture's width, between two
TOP = 4.0  # mm: from a question's top to the base of its name
SHARE = 0.57  # of the width that the face takes
UNDER = pens.UNDER
GAP = 1.1 * UNDER  # mm: from a blank's line to the base of the words under it
MORE = 4  # blank lines for further distances of a survey
SURVEY = (
    "Distances between holes, corners and your own marks, more than are needed. Measure to the centreline and to the top edge "
    "square, the shortest way. Do not look at what you read before."
)


def measuring_pages(design: Design, date: datetime.date, paper: str = "letter") -> tuple[Page, ...]:
    """Return the measuring sheet, in the design's unit; a design that knows nothing gives blanks only.

    Raises:
        OwnerError: there is no such paper.
    """
    sheet = Sheet(design, date, paper_named(paper))
    top = sheet.headed("", "")[1]
    pages = flowed(_pieces(sheet, top), top, top)
    return tuple(
        sheet.page(
            page.with_marks((*sheet.headed("Measuring sheet", ABOUT)[0], *sheet.numbered(number, len(pages)))),
            f"Measure {number}",
        )
        for number, page in enumerate(pages, start=1)
    )  # fmt: skip


def _pieces(sheet: Sheet, top: float) -> Iterator[Piece]:
    design = sheet.design
    numbered = list(enumerate(items(design), start=1))
    yield Piece(partial(sheet.paragraph, text=how_to(design)))
    yield Piece(lambda y: _keys(sheet, numbered, y))
    for section, members in groupby(numbered, key=lambda entry: entry[1].section):
        lines = [Piece(partial(sheet.heading, text=section), tied=True)]
        listed = list(members)
        pictured = [(number, item) for number, item in listed if item.pictured and not item.shape]
        for start in range(0, len(pictured), 2):
            lines.append(Piece(partial(_cells, sheet, pictured[start : start + 2]), tied=True))
        for number, item in listed:
            if (number, item) in pictured:
                continue
            lines.append(Piece(partial(_line, sheet, number, item), tied=True))
            rows = range(0, len(item.corners), 3)
            lines += [Piece(partial(_corner_row, sheet, item, start), tied=True) for start in rows]
        end = 0.0
        for line in lines:
            end = line.write(end)[1]
        if top + end < MARGIN:  # longer than a page: it is broken where it has to be
            lines = [lines[0], *(Piece(line.write) for line in lines[1:])]
        yield from (*lines[:-1], Piece(lines[-1].write))
    yield from _survey(sheet)


def _survey(sheet: Sheet) -> Iterator[Piece]:
    """Yield a blank for each distance of the survey that was begun, and some for more."""
    design = sheet.design
    if design.survey is None:
        return
    yield Piece(partial(sheet.heading, text="Survey"), tied=True)
    yield Piece(partial(sheet.paragraph, text=SURVEY), tied=True)
    for number, each in enumerate(design.survey.distances, start=1):
        where = ", inside" if each.face == "inside" else ""
        name = f"{number}  {writable(each.from_)} to {writable(each.to)}{where} [{design.units}]"
        yield Piece(partial(sheet.to_fill, name=name, at=(0.0, 0.6)), tied=number == 1)
    for _ in range(MORE):
        yield Piece(lambda y: sheet.blank(y, ("from", 0.0), ("to", 0.34), (f"distance [{design.units}]", 0.68)))


def how_to(design: Design) -> str:
    """Say the rules for every reading."""
    start = "its 1 in mark and take 1 off" if design.units == "in" else "its 100 mm mark and take 100 off"
    unit = "inches" if design.units == "in" else "millimetres"
    drawn = "" if sketched(design) == design else " Where a size is not known yet, the pictures have a usual one."
    return (
        "Zero the phone on the hull bottom’s level line, fore and aft: every angle counts from there. First mark the "
        f"centreline, from both chines. Where no hook holds, start the tape at {start}. "
        "Measure along the face, not plumb. Measure heights plumb. "
        f"Write lengths in {unit}, and a mass with its unit. For “again”, cover the first reading and take it once more. "
        "Then type them in this order, as the program asks. The small figure under a blank is the value that the "
        f"design has now. A ? marks a guess. Write the value that you read.{drawn}"
    )


def _keys(sheet: Sheet, numbered: list[tuple[int, Item]], y: float) -> Written:
    """Return both key drawings under their names."""
    middle = sheet.left + SHARE * sheet.room
    base = y - 1.5 - 0.9 * SUBHEAD
    head, foot = base - 1.5, base - 1.5 - PICTURE
    face = face_key(sheet.design, numbered, (sheet.left, foot, middle, head))
    there = {mark.part for mark in face}
    rest = [(number, item) for number, item in numbered if f"balloon {number}" not in there]
    return (
        Text((sheet.left, base), "The face, from astern", SUBHEAD, bold=True, condensed=True),
        Text((middle + 4.0, base), "The cut, from starboard", SUBHEAD, bold=True, condensed=True),
        *face,
        *cut_key(sheet.design, rest, (middle + 4.0, foot, sheet.right, head)),
    ), foot


def _cells(sheet: Sheet, entries: list[tuple[int, Item]], y: float) -> Written:
    """Return one or two questions side by side, each as the program asks it: picture, number, name, how, blanks."""
    wide = (sheet.room - CELL_AIR) / 2
    room = wide - PICTURED - 2.5
    marks: list[Mark] = []
    written = [(_in_lines(item, room), item) for _, item in entries]
    high = max(CELL, *(_cell_needs(*lines, apart=_apart(item.blanks, _wide(item, room))) for lines, item in written))
    for index, (number, item) in enumerate(entries):
        left, (name, how) = sheet.left + index * (wide + CELL_AIR), written[index][0]
        foot = y - CELL + 2.0
        drawn = clip(_picture(sheet.design, item.pictured), (0.0, 0.0, PICTURED, CELL - 3.0))
        marks += shift(drawn, left, foot)
        box = ((left, foot), (left + PICTURED, foot), (left + PICTURED, y - 1.0), (left, y - 1.0))
        marks.append(Path(box, True, pens.FINE, None, "picture"))
        text = left + PICTURED + 2.5
        base = y - TOP
        marks += _number(text, base, number)
        marks += [words((text + NAME, base - LEAD * line), said, ROW, bold=True) for line, said in enumerate(name)]
        marks += [words((text, base - LEAD * (line + 0.35 + len(name))), said, ROW) for line, said in enumerate(how)]
        width = _wide(item, room)
        apart = _apart(item.blanks, width)
        line = y - high + 4.6 + (LEAD if apart else 0.0)
        for slot, blank in enumerate(item.blanks):
            marks += _blank(blank, text + slot * (width + BETWEEN), line, width, apart=apart)
    return tuple(marks), y - high


def _in_lines(item: Item, room: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return a question's name and how to measure it, in lines of so much room [mm]."""
    name = wrapped(item.name, ROW, room - NAME, bold=True, condensed=True)
    return tuple(name), tuple(wrapped(item.how, ROW, room, condensed=True))


def _wide(item: Item, room: float) -> float:
    """Return the width of each of a question's blanks, next to its picture."""
    many = len(item.blanks)
    return min(BLANK, (room - (many - 1) * BETWEEN) / many)


def _cell_needs(name: tuple[str, ...], how: tuple[str, ...], *, apart: bool) -> float:
    """Return the height that a question with its picture needs, so that its words keep off its blanks [mm]."""
    last = TOP + LEAD * (len(how) - 0.65 + len(name))  # the base of the last line, below the top
    return last + LEAD + 4.6 + (LEAD if apart else 0.0)


def _picture(design: Design, name: str) -> tuple[Mark, ...]:
    """Return the picture of a question, as the panel of the next step has it, but without the words that both keys have."""
    size = PICTURED, CELL - 3.0
    if name.startswith("pattern."):
        return pattern_picture(sketched(design), int(name.split(".")[1]), *size)
    drawn = reading_picture(design, name, *size)
    return tuple(mark for mark in drawn if not isinstance(mark, Text) or mark.text == NOT_TYPED)


def _number(left: float, base: float, number: int) -> tuple[Mark, ...]:
    """Return an item's number in a balloon."""
    return (
        Circle((left + BALLOON, base + 1.0), BALLOON, pens.PILOT, None, f"item {number}"),
        words((left + BALLOON, base + 1.0 - 0.37 * NUMBER), str(number), NUMBER, bold=True, anchor="middle"),
    )


def _line(sheet: Sheet, number: int, item: Item, y: float) -> Written:
    """Return an item: its number in a balloon, its name, how to measure it, its blanks."""
    slots = 3 if item.shape else min(max(1, len(item.blanks)), MOST)
    blanks = sheet.right - slots * BLANK - (slots - 1) * BETWEEN
    name = wrapped(item.name, ROW, HOW - NAME - 2.0, bold=True, condensed=True)
    how = wrapped(item.how, ROW, blanks - 3.0 - sheet.left - HOW, condensed=True)
    base = y - 3.6
    marks: list[Mark] = [*_number(sheet.left, base, number)]
    marks += [words((sheet.left + NAME, base - LEAD * i), line, ROW, bold=True) for i, line in enumerate(name)]
    marks += [words((sheet.left + HOW, base - LEAD * i), line, ROW) for i, line in enumerate(how)]
    width = 3 * BLANK + 2 * BETWEEN if item.shape else BLANK
    foot = y
    for start in range(0, len(item.blanks), MOST):
        row = item.blanks[start : start + MOST]
        apart = _apart(row, width)
        for column, blank in enumerate(row):
            marks += _blank(blank, blanks + column * (BLANK + BETWEEN), foot - 4.4, width, apart=apart)
        foot -= LINE + (LEAD if apart else 0.0)
    return tuple(marks), min(foot, y - LINE, y - 4.4 - LEAD * (max(len(name), len(how)) - 1))


def _corner_row(sheet: Sheet, item: Item, start: int, y: float) -> Written:
    """Return three corners of a shape: for each its letter in the drawing, and two blanks."""
    base, wide = y - 3.6, 2 * BLANK + BETWEEN
    apart = _apart([blank for pair in item.corners[start : start + 3] for blank in pair], BLANK)
    marks: list[Mark] = []
    for index, pair in enumerate(item.corners[start : start + 3]):
        right = sheet.right - (2 - index) * (wide + 3 * BETWEEN)
        marks.append(words((right - wide - BETWEEN, base), letter(start + index), ROW, bold=True, anchor="end"))
        for blank, left in zip(pair, (right - wide, right - BLANK), strict=True):
            marks += _blank(blank, left, base - 0.8, BLANK, apart=apart)
    return tuple(marks), y - LINE - (LEAD if apart else 0.0)


def _apart(blanks: Sequence[Blank], width: float) -> bool:
    """Return whether a blank is too narrow for its words and its known value in one line: all then have two."""
    known = [text_width(blank.known, UNDER, bold=True, condensed=True) + 1.0 if blank.known else 0.0 for blank in blanks]
    return any(text_width(blank.under, UNDER, condensed=True) + its > width for blank, its in zip(blanks, known, strict=True))


def _blank(blank: Blank, left: float, y: float, width: float, *, apart: bool = False) -> Iterator[Mark]:
    """Yield a blank, the words under its left end, and the known value under its right end.

    Args:
        apart: the known value is below the words, as the blank is too narrow for both.
    """
    yield Line((left, y), (left + width, y), pens.FINE, "blank")
    below = y - GAP
    if blank.under:
        yield words((left, below), blank.under, UNDER)
    if blank.known:
        spot = (left, below - LEAD) if apart else (left + width, below)
        yield words(spot, blank.known, UNDER, bold=True, anchor="start" if apart else "end")
