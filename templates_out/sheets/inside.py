"""The full-scale inside sheet: the well's inner face as seen looking aft, to tape up before drilling and after.

A mirror of the template: port is on the right. It shows where each bolt comes out and what sits round it, the floor's
line and the flat land. Nobody drills by it.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.design.design_text import fingerprint
from geometry.errors import OwnerError
from geometry.tables.papers import paper as paper_named
from templates_out.drawing.clipping import Rect, clip
from templates_out.drawing.fonts import writable
from templates_out.drawing.labels import Candidate, place
from templates_out.drawing.marks import Circle, Line, Mark, Page, Path, Text
from templates_out.sheets import pens
from templates_out.sheets.bands import with_bands
from templates_out.sheets.blocks import Item, laid
from templates_out.sheets.check_lines import check_marks, checks, figure_places
from templates_out.sheets.face_lines import datum_marks, name_places, ticks
from templates_out.sheets.frame import Title
from templates_out.sheets.framing import Seen, framed, sides, with_floating, with_views
from templates_out.sheets.hole_marks import (
    Said,
    block,
    block_size,
    label_places,
    old_marks,
    old_places,
    washer_marks,
    washer_name_places,
    x_marks,
)
from templates_out.sheets.inside_words import blocks, exit_words
from templates_out.sheets.joining import with_seams
from templates_out.sheets.on_face import Stretch
from templates_out.sheets.on_inside import Inner, OnInside, on_inside
from templates_out.sheets.pages import Board, board, finished, texts_within
from templates_out.sheets.portrait import Sheet, Writing
from templates_out.sheets.reading import with_block
from templates_out.sheets.template import MARGIN, drawing_room, home_of, needs, outside, overlap, paper_called
from templates_out.sheets.tiles import Needs, Plan, letter, plan
from templates_out.sheets.why_not import why_not

if TYPE_CHECKING:
    from geometry.design.units import Unit
    from geometry.design.whole import Design
    from geometry.judge.findings import Checked

LEAST_BAR = 149.0  # mm on paper: 150 from a printer that is off by as much as one may be


def inside_pages(
    design: Design,
    checked: Checked,
    paper: str = "letter",
    margin: float = MARGIN,
    date: datetime.date | None = None,
    bars: tuple[float, float] | None = None,
    turned: str | None = None,
) -> tuple[Page, ...]:
    """Return the inside sheets; their letters go on where the template's end.

    Args:
        design: what to drill.
        checked: what there is to say of it; sheets of a design that nobody may drill by say so across each.
        paper: a name of ``geometry.tables.papers``.
        margin: what the printer leaves free along each edge [mm].
        date: printed on every sheet; None: today.
        bars: what the bars of the template's sheet A measured across and up [mm]; None: no correction.
        turned: "portrait" or "landscape"; None: whichever takes fewer sheets.

    Raises:
        OwnerError: no bolts, something not measured, a paper too small, or bars that no printer would print.
    """
    first, stretch = outside(design, checked, paper, margin, bars, turned)
    inside = on_inside(design, stretch)
    reason = why_not(checked)
    date = date or datetime.date.today()
    count = len(_lying(inside, reason, paper, margin, turned=turned)[1].tiles)
    tries: list[tuple[int, tuple[Page, ...]]] = []  # how many things are amiss, and the pages
    for back in (0.0, 10.0, 20.0, 35.0):  # a hole's words are never left out: the seams move instead
        try:
            asked, lying = _lying(inside, reason, paper, margin, first, back, turned)
        except OwnerError:
            break
        if len(lying.tiles) != count:
            break
        rooms = drawing_room(lying, asked)
        for bars_early in (False, True) if reason is None else (False,):  # a band would cross them
            sheets, left_over, complete = _sheets(design, inside, lying, rooms, reason, stretch, date, bars_early)
            pages = (*finished(sheets), *to_read(design, date, paper, left_over))
            amiss = 4 * (not all(map(_has_title, sheets.own))) + 2 * (not complete) + (not all(map(_has_long_bars, sheets.own)))
            if not amiss:
                return pages
            tries.append((amiss, pages))
        if min(amiss for amiss, _ in tries) < 2:
            break
    return min(tries, key=lambda one: one[0])[1]


def _has_title(own: tuple[Mark, ...]) -> bool:
    return any(mark.part == "title" for mark in own)


def _has_long_bars(own: tuple[Mark, ...]) -> bool:
    """Say whether a sheet has both its bars, long enough to be measured well."""
    lengths = (
        [math.dist(m.a, m.b) for m in own if isinstance(m, Line) and m.part == part] for part in ("bar across", "bar up")
    )
    return all(max(found, default=0.0) >= LEAST_BAR for found in lengths)


def inside_count(design: Design, checked: Checked, paper: str = "letter", margin: float = MARGIN) -> int:
    """Return how many inside sheets there are; the letters of what is printed with them go on after these."""
    return len(_lying(on_inside(design, Stretch()), why_not(checked), paper, margin)[1].tiles)


def _lying(
    inside: OnInside,
    reason: str | None,
    paper: str,
    margin: float,
    first: int = 0,
    back: float = 0.0,
    turned: str | None = None,
) -> tuple[Needs, Plan]:
    """Return what is asked of the sheets and how they lie; the floor is left out where it alone costs a sheet."""
    every = [needs(inside.face, reason, with_floor) for with_floor in (True, False)]
    ways = [(asked, plan(asked, paper_named(paper), margin, first, back, turned)) for asked in every]
    return min(ways, key=lambda way: len(way[1].tiles))


def _sheets(
    design: Design, inside: OnInside, lying: Plan, rooms: tuple[Rect, Rect | None], reason: str | None, stretch: Stretch,
    date: datetime.date, bars_early: bool,
) -> tuple[Board, list[tuple[Item, ...]], bool]:  # fmt: skip
    """Return all sheets, the blocks of words that found no place, and whether every hole's words found one."""
    unit, (room, column) = design.units, rooms
    title = Title(
        f"Inside sheet: {writable(design.name)}" + "".join(f", {writable(m.name)}" for m in design.mounts),
        fingerprint(design), design.revision, date, paper_called(lying), unit,
    )  # fmt: skip
    seen = looking_aft(_letters(lying))
    sheets = framed(board(lying), title, stretch, seen)
    sheets = sheets.drawn(datum_marks(inside.face, (lying.tiles[0].core[0], room[1], lying.tiles[-1].core[2], 0.0)))
    lines = inner_face_marks(inside, room)
    sheets = sheets.drawn(lines)
    for old in inside.face.old:
        sheets = sheets.drawn(old_marks(old))
    for one in inside.inner:
        sheets = sheets.drawn(exit_marks(one, stretch))
        if reason is not None:
            sheets = sheets.drawn(x_marks(one.hole))
    taken = checks(inside.face.holes)
    distances = tuple(mark for check in taken for mark in check_marks(check))
    if bars_early:
        sheets = with_floating(sheets, title, room, stretch)
    if reason is not None:
        sheets = with_bands(sheets, room, reason, distances)
    words, complete = with_views(sheets.drawn(distances), room, seen), True
    for one in inside.inner:
        home, said = home_of(lying, room, one.hole), exit_words(one, unit)
        places = [c for c in (*label_places(one.hole, unit, home, said), *_over_and_under(one, said)) if texts_within(c, home)]
        words, found = words.placed(places)
        complete = complete and found
        if not found:  # rather across a line of distance than across the floor
            ground = sheets.ground.plus(words.drawing[len(sheets.drawing) + len(distances) :])
            words = words.drawn(place(places, ground) or next(iter(places), ()))
    sheets = sheets.drawn(words.drawing[len(sheets.drawing) + len(distances) :])
    if not bars_early:
        sheets = with_floating(sheets, title, room, stretch)
    sheets = with_seams(sheets.drawn(distances), unit, stretch)
    left_over = blocks(inside, lying, unit, reason)
    if column is not None:
        sheets, left_over = with_block(sheets, left_over, column, room)
    sheets = _named(sheets, inside, lines, room, unit)
    for check in taken:
        sheets, _ = sheets.placed(figure_places(check, unit), room)
    if left_over:
        sheets, left_over = with_block(sheets, left_over, None, room)
    return sheets, left_over, complete


def _letters(lying: Plan) -> str:
    """Return the template's letters: "sheets A to D"."""
    own = lying.tiles[0].letter
    last = next(index for index in range(1000) if letter(index) == own) - 1
    return "sheet A" if last == 0 else f"sheets A to {letter(last)}"


def looking_aft(mirrored: str) -> Seen:
    """Return how the inner face is seen, as a mirror of the outside sheets called ``mirrored``."""
    words = Text((2.0, 0.0), "INSIDE, SEEN LOOKING AFT", pens.VIEW, "sheet", bold=True, part="view")
    wide = pens.width_of(words) + 4.0
    bar = Path(((0.0, -1.5), (wide, -1.5), (wide, 4.3), (0.0, 4.3)), True, None, "ink", "view")
    below = f"a mirror of {mirrored}: port is on your right. Do not drill by it."
    return Seen(
        (
            "▲  FOLD BACK HERE: this line lies on the top edge of the well’s inner face  ▲",
            "▲  FOLD BACK HERE: on the inside top edge  ▲",
            "▲  FOLD BACK HERE  ▲",
        ),
        (*sides("STARBOARD", "PORT"), ((bar, words, pens.words((2.0, -5.4), below, pens.LINES, part="view")), 0.5)),
    )


def exit_marks(one: Inner, stretch: Stretch) -> tuple[Mark, ...]:
    """Return an exit's cross, hole, dotted limit for the pilot, washer, nut and socket; no dot: nobody punches here."""
    hole = one.hole
    (x, y), reach, part = hole.at, hole.reach, hole.part
    turns = (math.radians(60 * k) for k in range(6))
    marks: list[Mark] = [
        Line((x - reach, y), (x + reach, y), pens.FINE, part),
        Line((x, y - reach), (x, y + reach), pens.FINE, part),
        Circle(hole.at, stretch.length(hole.final / 2), pens.FINAL, part=part),
        Circle(hole.at, one.limit, pens.PLUG, part=f"{part} / limit"),
        *washer_marks(hole, pens.FINAL),
        Path(
            tuple((x + one.nut * math.cos(a), y + one.nut * math.sin(a)) for a in turns), True, pens.SEAM, part=f"{part} / nut"
        ),
    ]
    if one.socket is not None:
        marks.append(Circle(hole.at, one.socket, pens.SOCKET, part=f"{part} / socket"))
    return tuple(marks)


def _over_and_under(one: Inner, said: Said) -> Iterator[Candidate]:
    """Yield places right over and under an exit's cross, for where nothing is free beside it."""
    lines = [(text, size * 0.89, bold) for text, size, bold in said]
    wide, high = block_size(lines)
    (x, y), reach = one.hole.at, one.hole.reach + 2.0
    for away in range(0, 61, 3):
        for top in (y - reach - away, y + reach + away + high):
            for slide in (0.0, -12.0, 12.0, -24.0, 24.0):
                yield block(lines, x - wide / 2 + slide, top, f"{one.hole.part} / label")


def inner_face_marks(inside: OnInside, reach: Rect) -> tuple[Mark, ...]:
    """Return what is seen on the inner face, cut to ``reach``, the room for drawing below the fold."""
    marks: list[Mark] = []
    for run in inside.face.floor:
        marks += [Path(run, False, pens.EDGE, part="well floor"), *ticks(run)]
    marks += [Path(run, False, pens.LAND, part="flat land") for run in inside.face.land]
    marks += [Path(ring, True, pens.FINAL, part=f"block / {name}") for name, ring in inside.face.blocks]
    for front, back in inside.plates:
        marks.append(Path(front, True, pens.FINAL, part="backing plate"))
        if back is not None:
            marks += [
                Line(a, b, pens.WASHER, "relieved edge")
                for a, b in pairwise((*back, back[0]))
                if not any(_along(a, b, c, d) for c, d in pairwise((*front, front[0])))
            ]
    for a, b in inside.rim:
        if max(abs(a[1]), abs(b[1])) > 1e-6:  # the edge along the fold is the fold's own line
            marks.append(Line(a, b, pens.EDGE, "transom edge"))
    return clip(marks, (reach[0], reach[1], reach[2], min(reach[3], -0.6)))


def _along(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float]) -> bool:
    """Say whether both ends of a side lie on another's line."""
    size = math.dist(c, d)
    return size > 0 and all(abs((d[0] - c[0]) * (p[1] - c[1]) - (d[1] - c[1]) * (p[0] - c[0])) / size < 1e-6 for p in (a, b))


def _named(sheets: Board, inside: OnInside, lines: tuple[Mark, ...], room: Rect, unit: Unit) -> Board:
    """Place what may be left out: names of washers, old holes and lines."""
    for one in inside.inner:
        sheets, _ = sheets.placed(washer_name_places(one.hole, ("washer",)), room)
    for old in inside.face.old:
        sheets, _ = sheets.placed(old_places(old, unit), room)
    centreline = (Line((0.0, 0.0), (0.0, room[1]), pens.CENTRELINE, "centreline"),)
    for tile in sheets.plan.tiles:
        part = overlap(tile.core, room)
        if part is None:
            continue
        sheets, _ = sheets.placed(name_places(centreline, "centreline", "CENTRELINE", part, bold=True), part)
        for text in ("well floor (to where the straight lines meet)", "well floor"):
            sheets, found = sheets.placed(name_places(lines, "well floor", text, part, above=False, off=3.6), part)
            if found:
                break
        sheets, _ = sheets.placed(name_places(lines, "flat land", "flat land: washers stay above", part), part)
    for part_name, text in (
        ("transom edge", "edge of the inner face"), ("backing plate", "backing plate"),
        ("relieved edge", "relieved at the back to here"),
        *((f"block / {n}", writable(n)) for n, _ in inside.face.blocks),
    ):  # fmt: skip
        sheets, _ = sheets.placed(name_places(lines, part_name, text, room), room)
    return sheets


def to_read(
    design: Design, date: datetime.date, paper: str, left_over: list[tuple[Item, ...]], what: str = "inside sheets"
) -> tuple[Page, ...]:
    """Return one more page for the blocks that found no place on the sheets; none where all did."""
    if not left_over:
        return ()
    sheet = Sheet(design, date, paper_named(paper))
    page = Writing(*sheet.headed(f"To read with the {what}", "no drawing"))
    for items in left_over:
        marks, tall = laid(items, sheet.left, page.y, min(sheet.room, 120.0), "words")
        page = page.beside(marks, page.y - tall - 8.0)
    return (sheet.page(page, f"To read: {what}"),)
