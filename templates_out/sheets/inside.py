"""The full-scale inside sheet: the well's inner face as seen looking aft, to tape up before drilling and after.

A mirror of the template: port is on the right. It shows where each bolt comes out and what sits round it, the floor's
line and the flat land. Nobody drills by it.
"""

from __future__ import annotations

import datetime
import math
from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.design.design_text import fingerprint
from geometry.tables.papers import paper as paper_named
from templates_out.drawing.clipping import Rect, clip
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Circle, Line, Mark, Page, Path, Text
from templates_out.sheets import figures, pens
from templates_out.sheets.bands import with_bands
from templates_out.sheets.blocks import Item, laid
from templates_out.sheets.check_lines import check_marks, checks, figure_places
from templates_out.sheets.face_lines import datum_marks, name_places, ticks
from templates_out.sheets.frame import Title
from templates_out.sheets.framing import Seen, framed, sides, with_floating, with_views
from templates_out.sheets.hole_marks import Said, label_places, old_marks, old_places, washer_marks, washer_name_places, x_marks
from templates_out.sheets.joining import with_seams
from templates_out.sheets.on_face import Stretch
from templates_out.sheets.on_inside import Inner, OnInside, on_inside
from templates_out.sheets.pages import Board, board, finished, texts_within
from templates_out.sheets.portrait import Sheet, Writing
from templates_out.sheets.reading import with_block
from templates_out.sheets.seams import join_length
from templates_out.sheets.template import MARGIN, drawing_room, home_of, needs, outside, overlap, paper_called
from templates_out.sheets.tiles import Needs, Plan, letter, plan
from templates_out.sheets.why_not import why_not

if TYPE_CHECKING:
    from geometry.design.units import Unit
    from geometry.design.whole import Design
    from geometry.judge.findings import Checked

GO_ON = 25.4 / 8  # mm: a pilot this near its place needs no second thought; common practice, no source


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
    best: tuple[bool, tuple[Page, ...]] | None = None
    for back in (0.0, 10.0, 20.0, 35.0):  # a hole's words are never left out: the seams move instead
        asked, lying = _lying(inside, reason, paper, margin, first, back, turned)
        sheets, left_over, complete = _sheets(design, inside, lying, drawing_room(lying, asked), reason, stretch, date)
        pages = (*finished(sheets), *_to_read(design, date, paper, left_over))
        if best is None:
            best = complete, pages
        if complete and len(pages) <= len(best[1]):
            return pages
    return best[1] if best else ()


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
    date: datetime.date,
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
    if reason is not None:
        sheets = with_bands(sheets, room, reason, distances)
    words, complete = with_views(sheets.drawn(distances), room, seen), True
    for one in inside.inner:
        home, said = home_of(lying, room, one.hole), exit_words(one, unit)
        words, found = words.placed(label_places(one.hole, unit, home, said), home)
        complete = complete and found
        if not found:
            words = words.drawn(next((c for c in label_places(one.hole, unit, home, said) if texts_within(c, home)), ()))
    sheets = sheets.drawn(words.drawing[len(sheets.drawing) + len(distances) :])
    sheets = with_floating(sheets, title, room, stretch).drawn(distances)
    sheets = with_seams(sheets, unit, stretch)
    blocks = _blocks(inside, lying, unit, reason)
    if column is not None:
        sheets, blocks = with_block(sheets, blocks, column, room)
    sheets = _named(sheets, inside, lines, room, unit)
    for check in taken:
        sheets, _ = sheets.placed(figure_places(check, unit), room)
    if blocks:
        sheets, blocks = with_block(sheets, blocks, None, room)
    return sheets, blocks, complete


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


def exit_words(one: Inner, unit: Unit) -> Said:
    """Return what stands beside an exit."""
    hole = one.hole
    first, other = figures.both(abs(hole.v), unit).split(" (", 1)
    washer = figures.both(one.washer, unit).split(" (")[0]
    return [
        (hole.name.upper() + (f", {writable(hole.motor)}" if hole.motor else ""), pens.NAME, True),
        (figures.across(hole.u, unit), pens.LINES, False),
        (f"{first} {'below' if hole.v <= 0 else 'above'} inside edge ({other}", pens.LINES, False),
        (f"pilot inside the dots; washer {washer}{', cut flat' if one.cut else ''}", pens.LINES, False),
    ]


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


_HEAD = 10 * pens.PT


def _blocks(inside: OnInside, lying: Plan, unit: Unit, reason: str | None) -> list[tuple[Item, ...]]:
    """Return the blocks of words that the sheets carry: how to put them up, and the table of pilots."""
    if reason is not None:
        return [_only_to_look_at()]
    return [_putting_it_up(lying, unit), pilot_table(inside, unit)]


def _putting_it_up(lying: Plan, unit: Unit) -> tuple[Item, ...]:
    texts = ["Measure both bars on every sheet. If one is off, type in what it measures and print again."]
    if len(lying.tiles) > 1:
        join = figures.unbroken(figures.check_figure(join_length(unit)[0], unit))
        texts.append(f"Cut the later sheets along their dashed edges, lay cross on cross, tape. Each join check: {join}.")
    texts += [
        "Fold the flap back. Fold on the inside top edge, centreline on the boat’s mark. PORT on your right.",
        "Before drilling: do the floor and the flat land lie where they are drawn? If not, stop: measure again, type it in.",
        "Hold washer, nut and socket on their outlines: is there room?",
        "Drill from outside, by the template. Then fill in the table.",
    ]
    return (
        Item("Putting it up", _HEAD, bold=True, before=0.0),
        *(Item(text, pens.STEP, lead=f"{number}") for number, text in enumerate(texts, start=1)),
    )


def pilot_table(inside: OnInside, unit: Unit) -> tuple[Item, ...]:
    """Return the table of pilots: how far off each came out, and what that means."""
    within = figures.unbroken(figures.check_figure(GO_ON, unit))
    dots = min((one.hole.final - one.hole.pilot) / 2 for one in inside.inner)
    if dots > GO_ON:
        rules = [f"Within {within}: go on.", "More, but inside the dots: stop, type it in, print again."]
    else:
        rules = ["Inside the dots: go on."]
    return (
        Item("Where each pilot came out", _HEAD, bold=True, before=0.0),
        Item("From the middle of its cross to the middle of the pilot:", pens.STEP),
        *(
            Item(_short(one), pens.STEP, before=3.4, blanks=("up / down", "port / starboard"))
            for one in inside.inner
        ),
        *(Item(rule, pens.STEP, bold=True, before=2.6 if index == 0 else 1.2) for index, rule in enumerate(rules)),
        Item("Outside the dots: plug it first.", pens.STEP, bold=True, before=1.2),
    )  # fmt: skip


def _short(one: Inner) -> str:
    return f"{one.hole.name}, {writable(one.hole.motor)}" if one.hole.motor else one.hole.name


def _only_to_look_at() -> tuple[Item, ...]:
    return (
        Item("Only to look at", _HEAD, bold=True, before=0.0),
        Item("Taped up, it still shows whether floor and flat land were measured true.", pens.STEP),
        Item("Change or measure what the black band names, until the program calls the design clear or tight.", pens.STEP),
        Item("Then print again: the new sheets have another design number.", pens.STEP),
    )


def _to_read(design: Design, date: datetime.date, paper: str, blocks: list[tuple[Item, ...]]) -> tuple[Page, ...]:
    """Return one more page for the blocks that found no place on the sheets; none where all did."""
    if not blocks:
        return ()
    sheet = Sheet(design, date, paper_named(paper))
    page = Writing(*sheet.headed("To read with the inside sheets", "no drawing"))
    for block in blocks:
        marks, tall = laid(block, sheet.left, page.y, min(sheet.room, 120.0), "words")
        page = page.beside(marks, page.y - tall - 8.0)
    return (sheet.page(page, "To read inside"),)
