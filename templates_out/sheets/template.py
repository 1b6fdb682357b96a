"""The full-scale paper template of the outside face, to lay on the transom and drill by.

Everything is 1:1, within 0.02 mm on paper. The face is drawn as seen from astern; the datum is the fold.
"""

from __future__ import annotations

import datetime
from itertools import chain
from typing import TYPE_CHECKING

from geometry.design.design_text import fingerprint
from geometry.errors import OwnerError
from geometry.tables.papers import paper as paper_named
from templates_out.drawing.clipping import Rect, within
from templates_out.drawing.fonts import writable
from templates_out.drawing.labels import Candidate
from templates_out.drawing.marks import Line, Mark, Page, Text
from templates_out.sheets import pens
from templates_out.sheets.bands import with_bands
from templates_out.sheets.blocks import Item
from templates_out.sheets.check_lines import Check, check_marks, checks, figure_places
from templates_out.sheets.face_lines import datum_marks, face_marks, name_places
from templates_out.sheets.frame import Title, across_bar, up_bar
from templates_out.sheets.framing import framed, with_floating, with_views
from templates_out.sheets.hole_marks import hole_marks, label_places, old_marks, old_places, washer_name_places
from templates_out.sheets.joining import with_seams
from templates_out.sheets.on_face import Hole, OnFace, Stretch, near, on_face
from templates_out.sheets.pages import Board, board, finished, texts_within
from templates_out.sheets.reading import before_you_punch, not_yet, steps, with_block, words_page
from templates_out.sheets.tiles import FOOT, OUTER, OUTER_RIGHT, Needs, Plan, Span, plan
from templates_out.sheets.why_not import why_not

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.design.units import Unit
    from geometry.design.whole import Design
    from geometry.judge.findings import Checked

MARGIN = 6.35  # a quarter inch: what most printers leave; common practice, no source
CLEAR = 15.0  # between a seam and the end of any cross
BESIDE_CENTRELINE = 20.0
MOST_OFF = 0.03  # a printer further off than this share is not off, but set to scale


def template_pages(
    design: Design,
    checked: Checked,
    paper: str = "letter",
    margin: float = MARGIN,
    bars: tuple[float, float] | None = None,
    date: datetime.date | None = None,
    turned: str | None = None,
) -> tuple[Page, ...]:
    """Return the template's sheets, in the order of their letters: see ``template_set``."""
    return template_set(design, checked, paper, margin, bars, date, turned)[1]


def template_set(
    design: Design,
    checked: Checked,
    paper: str = "letter",
    margin: float = MARGIN,
    bars: tuple[float, float] | None = None,
    date: datetime.date | None = None,
    turned: str | None = None,
) -> tuple[Plan, tuple[Page, ...]]:
    """Return how the template lies on paper, and its sheets in the order of their letters.

    Args:
        design: what to drill.
        checked: what there is to say of it; a template that nobody may drill by says so across every sheet.
        paper: a name of ``geometry.tables.papers``.
        margin: what the printer leaves free along each edge [mm].
        bars: what the bars of sheet A, printed before on the same paper, measured across and up [mm]; None: no
            correction.
        date: printed on every sheet; None: today.
        turned: "portrait" or "landscape"; None: whichever takes fewer sheets.

    Raises:
        OwnerError: no bolts, a place not measured, a paper too small, or bars that no printer would print.
    """
    stretch = _stretch(design, checked, paper, margin, bars, turned) if bars else Stretch()
    face = on_face(design, stretch)
    reason = why_not(checked)
    asked, lying = _lying(face, reason, paper, margin, turned)
    date = date or datetime.date.today()
    sheets, complete = _begun(design, face, lying, asked, reason, stretch, date)
    for back in (10.0, 20.0, 35.0):  # a hole's words are never left out: the seams move instead
        if complete:
            break
        try:
            other = plan(asked, paper_named(paper), margin, back=back, turned=turned)
        except OwnerError:
            break
        if len(other.tiles) == len(lying.tiles) and other != lying:
            again, complete = _begun(design, face, other, asked, reason, stretch, date)
            sheets = again if complete else sheets
    sheets, left_over = _completed(sheets, design, face, asked, reason, stretch, date)
    return sheets.plan, (*finished(sheets), *words_page(sheets.plan, left_over))


def _lying(
    face: OnFace, reason: str | None, paper: str, margin: float, turned: str | None = None
) -> tuple[Needs, Plan]:
    """Return what is asked of the sheets and how they lie; the floor is left out where it alone costs a sheet."""
    every = (needs(face, reason), needs(face, reason, False))
    ways = [(asked, plan(asked, paper_named(paper), margin, turned=turned)) for asked in every]
    return min(ways, key=lambda way: len(way[1].tiles))


def bar_lengths(
    design: Design, checked: Checked, paper: str = "letter", margin: float = MARGIN, turned: str | None = None
) -> tuple[float, float]:
    """Return how long the bars of sheet A are, across and up, on an uncorrected print [mm]."""
    _, lying = _lying(on_face(design, Stretch()), why_not(checked), paper, margin, turned)
    across, up = across_bar(lying.tiles[0], lying, Stretch()), up_bar(lying.tiles[0], lying, Stretch())
    if across is None or up is None:
        raise AssertionError("the first sheet lies at both outer edges")
    return across.length, up.length


def outside(
    design: Design,
    checked: Checked,
    paper: str,
    margin: float,
    bars: tuple[float, float] | None,
    turned: str | None = None,
) -> tuple[int, Stretch]:
    """Return how many sheets the template takes, and what ``bars`` of its sheet A correct: other sheets go on from there."""
    stretch = _stretch(design, checked, paper, margin, bars, turned) if bars else Stretch()
    return len(_lying(on_face(design, stretch), why_not(checked), paper, margin, turned)[1].tiles), stretch


def _stretch(
    design: Design, checked: Checked, paper: str, margin: float, bars: tuple[float, float], turned: str | None
) -> Stretch:
    true = bar_lengths(design, checked, paper, margin, turned)
    for word, nominal, measured in zip(("across", "up"), true, bars, strict=True):
        if not abs(measured / nominal - 1) <= MOST_OFF:
            raise OwnerError(
                f"The bar {word} on sheet A is {nominal:.0f} mm long; {measured:g} mm is more than {MOST_OFF:.0%} off. "
                "Measure it again from end tick to end tick, and see that the print was not scaled."
            )
    return Stretch(true[0] / bars[0], true[1] / bars[1])


def needs(face: OnFace, reason: str | None, with_floor: bool = True) -> Needs:
    """Return what the template asks of the sheets: holes with their crosses, old holes and the floor near them."""
    left = min(-22.0, *(hole.at[0] - hole.reach for hole in face.holes))
    right = max(22.0, *(hole.at[0] + hole.reach for hole in face.holes))
    deep = max(hole.reach - hole.at[1] for hole in face.holes)
    no_across: list[Span] = [(-BESIDE_CENTRELINE, BESIDE_CENTRELINE)]
    no_down: list[Span] = [(-CLEAR, CLEAR)]
    for hole in face.holes:
        clear = hole.reach + CLEAR
        no_across.append((hole.at[0] - clear, hole.at[0] + clear))
        no_down.append((-hole.at[1] - clear, -hole.at[1] + clear))
    for old in face.old:
        if near(old.at, face.holes, 60.0):
            size = max(old.radius, old.plug or 0.0) + 2.0
            left, right, deep = min(left, old.at[0] - size), max(right, old.at[0] + size), max(deep, size - old.at[1])
            no_across.append((old.at[0] - size - 4, old.at[0] + size + 4))
            no_down.append((-old.at[1] - size - 4, -old.at[1] + size + 4))
    for run in chain(face.floor, face.land):
        for a, b in zip(run, run[1:], strict=False):
            if abs(b[1] - a[1]) < abs(b[0] - a[0]):  # a floor, not a wall
                level = [
                    a[1] + (hole.at[0] - a[0]) / (b[0] - a[0]) * (b[1] - a[1])
                    for hole in face.holes
                    if a[0] < hole.at[0] < b[0]
                ]
                if with_floor and level and -min(level) < deep + 60.0:
                    deep = max(deep, 9.0 - min(level))
                if abs(b[1] - a[1]) < 6.0:
                    no_down.append((-max(a[1], b[1]) - 6.0, -min(a[1], b[1]) + 6.0))
    extra = 0.0 if reason is None else 24.0
    return Needs((left, right), deep + 2.0, tuple(no_across), tuple(no_down), FOOT, 4.0 + extra)


def _begun(
    design: Design, face: OnFace, lying: Plan, asked: Needs, reason: str | None, stretch: Stretch, date: datetime.date
) -> tuple[Board, bool]:
    """Return the sheets with frames, lines, holes and their words, and whether all of these found a place."""
    room, _column = drawing_room(lying, asked)
    first, last = lying.tiles[0], lying.tiles[-1]
    sheets = framed(board(lying), _title(design, lying, date), stretch)
    sheets = sheets.drawn(datum_marks(face, (first.core[0], room[1], last.core[2], 0.0)))
    sheets = sheets.drawn(face_marks(face, room))
    for old in face.old:
        sheets = sheets.drawn(old_marks(old))
    for hole in face.holes:
        sheets = sheets.drawn(hole_marks(hole, stretch, reason is None))
    if reason is not None:
        sheets = with_bands(sheets, room, reason, _distances(face))
    sheets = with_views(sheets.drawn(_distances(face)), room)
    complete = True
    for hole in face.holes:
        home = home_of(lying, room, hole)
        sheets, found = sheets.placed(label_places(hole, design.units, home), home)
        complete = complete and found
        if not found:
            sheets = sheets.drawn(_squeezed(sheets, label_places(hole, design.units, home), home))
    return sheets, complete


def _completed(
    sheets: Board, design: Design, face: OnFace, asked: Needs, reason: str | None, stretch: Stretch, date: datetime.date
) -> tuple[Board, list[tuple[Item, ...]]]:
    """Return the sheets with all else, and the blocks of words that found no place."""
    unit, lying = design.units, sheets.plan
    room, column = drawing_room(lying, asked)
    sheets = with_seams(sheets, unit, stretch)
    # Bars, arrows and maps of inner sheets may stand across the lines between holes; words may not.
    distances = _distances(face)
    sheets = with_floating(sheets.ignoring(distances), _title(design, lying, date), room, stretch).heeding(distances)
    taken = checks(face.holes)
    blocks = _blocks(sheets, unit, taken, reason)
    if column is not None:
        sheets, blocks = with_block(sheets, blocks, column, room)
    sheets = _named(sheets, face, face_marks(face, room), room, taken, design)
    if blocks:
        sheets, blocks = with_block(sheets, blocks, None, room)
    return sheets, blocks


def _distances(face: OnFace) -> tuple[Mark, ...]:
    return tuple(mark for check in checks(face.holes) for mark in check_marks(check))


def _title(design: Design, lying: Plan, date: datetime.date) -> Title:
    return Title(
        f"Drilling template: {writable(design.name)}" + "".join(f", {writable(m.name)}" for m in design.mounts),
        fingerprint(design),
        design.revision,
        date,
        paper_called(lying),
        design.units,
    )


def _squeezed(sheets: Board, candidates: Iterable[Candidate], home: Rect, must: bool = True) -> Candidate:
    """Return the first candidate whose words are free, whatever its leader crosses; failing that, the first or none."""
    on_sheet = [found for found in candidates if texts_within(found, home)]
    free = (found for found in on_sheet if sheets.ground.is_free(tuple(m for m in found if isinstance(m, Text))))
    return next(free, on_sheet[0] if on_sheet and must else ())


def home_of(lying: Plan, room: Rect, hole: Hole) -> Rect:
    """Return the part of the room that lies on the hole's own sheet: its words stand there, not across a seam."""
    tile = next(tile for tile in lying.tiles if within(hole.at, tile.core))
    bottom = room[1] if lying.rows > 1 else tile.core[1] + 4.0
    return overlap(tile.core, (room[0], bottom, room[2], room[3])) or room


def drawing_room(lying: Plan, asked: Needs) -> tuple[Rect, Rect | None]:
    """Return the room for the drawing under the datum, and the column at its right for words where 60 mm are free."""
    first, last = lying.tiles[0], lying.tiles[-1]
    left = first.core[0] + OUTER + 1.5
    edge = last.core[2] - (OUTER_RIGHT + 2.0 if lying.columns > 1 else 3.0)
    right = asked.across[1] + 8.0
    if edge - right >= 56.0:
        return (left, -asked.down, right, 0.0), (right + 4.0, last.core[1], edge, 0.0)
    return (left, -asked.down, edge, 0.0), None


def paper_called(lying: Plan) -> str:
    """Return the paper as a person calls it: "Letter, landscape", "24 in roll"."""
    if lying.paper.startswith("roll"):
        return f"{lying.paper.removeprefix('roll')} in {lying.orientation}"
    return f"{lying.paper.capitalize()}, {lying.orientation}"


def _blocks(sheets: Board, unit: Unit, taken: tuple[Check, ...], reason: str | None) -> list[tuple[Item, ...]]:
    """Return the blocks of words that the sheets carry."""
    if reason is not None:
        return [not_yet()]
    return [steps(sheets.plan, unit), before_you_punch(sheets.plan, unit, taken)]


def _named(sheets: Board, face: OnFace, lines: tuple[Mark, ...], room: Rect, taken: tuple[Check, ...], design: Design) -> Board:
    """Place what may be left out: washer names, old holes' words, check figures, names of lines."""
    unit = design.units
    for hole in face.holes:
        sheets, _ = sheets.placed(washer_name_places(hole), room)
    for old in face.old:
        sheets, found = sheets.placed(old_places(old, unit), room)
        if not found:
            sheets = sheets.drawn(_squeezed(sheets, old_places(old, unit), room, must=False))
    for check in taken:
        sheets, _ = sheets.placed(figure_places(check, unit), room)
    centreline = (Line((0.0, 0.0), (0.0, room[1]), pens.CENTRELINE, "centreline"),)
    for tile in sheets.plan.tiles:
        part = overlap(tile.core, room)
        if part is None:
            continue
        sheets, _ = sheets.placed(name_places(centreline, "centreline", "CENTRELINE", part, bold=True), part)
        sheets, _ = sheets.placed(
            name_places(lines, "well floor", "well floor behind this line", part, above=False, off=3.6), part
        )
        sheets, _ = sheets.placed(name_places(lines, "flat land", "flat land: washers stay above", part), part)
    for part_name, text in (
        ("bracket", "bracket"), ("transom edge", "edge of the transom"),
        *((f"block / {n}", f"{writable(n)} behind") for n, _ in face.blocks),
        *((f"fitting / {n}", writable(n)) for n, _ in face.fittings),
    ):  # fmt: skip
        sheets, _ = sheets.placed(name_places(lines, part_name, text, room), room)
    return sheets


def overlap(a: Rect, b: Rect) -> Rect | None:
    """Return what two rectangles share, None where they share nothing."""
    found = (max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3]))
    return found if found[0] < found[2] and found[1] < found[3] else None
