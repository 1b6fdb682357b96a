"""The full-scale inside sheet: the well's inner face as seen looking aft, to tape up before drilling and after.

A mirror of the template: port is on the right. It shows where each bolt comes out and what sits round it, the floor's
line and the flat land. Nobody drills by it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import chain, pairwise
from typing import TYPE_CHECKING

from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import Rect, clip
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Circle, Line, Mark, Page, Path
from templates_out.faces.check_lines import check_marks, checks, figure_places
from templates_out.faces.face_lines import datum_marks, name_places, ticks
from templates_out.faces.hole_marks import (
    old_marks,
    old_places,
    opening_marks,
    washer_marks,
    washer_name_places,
    x_marks,
)
from templates_out.faces.on_inside import Inner, OnInside, on_inside
from templates_out.layout.drilling_permission import drilled_at, stamp, stops_all
from templates_out.layout.framing import Seen, on_black, sides, under
from templates_out.layout.needs import face_layout
from templates_out.layout.spread_on_sheets import (
    Drawing,
    SheetLayout,
    Words,
    hole_words,
    line_words,
    spread,
    title_of,
)
from templates_out.layout.template_text import floor_names
from templates_out.layout.tiles import Plan, letter
from templates_out.pages.inside.inside_text import blocks, exit_words, opening_words
from templates_out.pages.template.template_pages import template_count

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.printer import Printing, Stretch
    from templates_out.faces.hole_marks import Drilling, Said
    from templates_out.faces.on_face import Hole, OnFace


def inside_pages(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    """Return the inside sheets of a checked design; their letters go on where the template's end.

    Sheets of a design that nobody may drill by say so across each.

    Raises:
        OwnerError: no bolts, something not measured, or a paper too small.
    """
    lay = partial(_layout, checked, printing, template_count(checked, printing))
    return spread(lay, partial(_drawing, checked, printing), checked.design, printing)[1]


def inside_count(checked: Checked, printing: Printing) -> int:
    """Return how many inside sheets there are; the letters of what is printed with them go on after these."""
    return len(_layout(checked, printing, 0).plan.tiles)


def _layout(checked: Checked, printing: Printing, first: int, back: float = 0.0) -> SheetLayout:
    def face(stretch: Stretch) -> OnFace:
        return on_inside(checked.design, stretch).face

    return face_layout(face, stamp(checked), printing, first, back)


def _drawing(checked: Checked, printing: Printing, layout: SheetLayout) -> Drawing:
    """Return what the inside sheets show where they are laid so."""
    design, reason, room, stretch = checked.design, stamp(checked), layout.room, layout.stretch
    unit, inside, plan = design.units, on_inside(design, stretch), layout.plan
    openings = inside.face.openings if layout.asked.openings else ()
    taken = checks(inside.face.holes)
    lines = inner_face_marks(inside, room)

    def at(hole: Hole) -> Drilling:
        return drilled_at(reason, hole.mount, hole.name)

    def say(opening: Hole) -> Said:
        return opening_words(opening, unit, drilled=reason is None, off_flat=opening.part in inside.off_flat)

    return Drawing(
        what="inside sheets",
        title=title_of("Inside sheet", design, printing, plan),
        seen=looking_aft(_letters(plan)),
        lines=(
            *datum_marks(inside.face, (plan.tiles[0].core[0], room[1], plan.tiles[-1].core[2], 0.0)),
            *lines,
            *chain.from_iterable(map(old_marks, inside.face.old)),
            *chain.from_iterable(opening_marks(opening, stretch, drilled=False) for opening in openings),
            *chain.from_iterable(exit_marks(exit_, stretch, at(exit_.hole)) for exit_ in inside.inner),
            *chain.from_iterable(x_marks(exit_.hole) for exit_ in inside.inner if stops_all(reason)),
        ),
        soft=tuple(mark for check in taken for mark in check_marks(check)),
        words=(
            *(hole_words(layout, exit_.hole, exit_words(exit_, unit, at(exit_.hole))) for exit_ in inside.inner),
            *(hole_words(layout, each, say(each)) for each in openings),
        ),
        names=(
            *(Words(partial(washer_name_places, exit_.hole, ("washer",)), room) for exit_ in inside.inner),
            *(Words(partial(old_places, old, unit), layout.wide, squeezed=True) for old in inside.face.old),
            *_names(design, inside, lines, layout),
            *(Words(partial(figure_places, check, unit), room) for check in taken),
        ),
        blocks=blocks(design, inside, layout, reason, printing),
        reason=reason,
    )


def _letters(plan: Plan) -> str:
    """Return the template's letters: "sheets A to D"."""
    own = plan.tiles[0].letter
    last = next(index for index in range(1000) if letter(index) == own) - 1
    return "sheet A" if last == 0 else f"sheets A to {letter(last)}"


def looking_aft(mirrored: str) -> Seen:
    """Return the words for the view of the inner face, a mirror of the outside sheets called ``mirrored``."""
    lines = (f"a mirror of {mirrored}:", "port is on your right.", "Do not drill by it.")
    wide, narrow = on_black("INSIDE, SEEN LOOKING AFT"), on_black("INSIDE,", "SEEN LOOKING AFT")
    narrowest = on_black("INSIDE,", "SEEN", "LOOKING AFT")
    wordings = (
        under(wide, " ".join(lines)), under(wide, lines[0], " ".join(lines[1:])), under(narrow, *lines),
        under(narrowest, "a mirror of", f"{mirrored}:", *lines[1:]),
    )  # fmt: skip
    return Seen(
        (
            "▲  FOLD BACK HERE: this line goes on the top edge of the well’s inner face  ▲",
            "▲  FOLD BACK HERE: on the inside top edge  ▲",
            "▲  FOLD BACK HERE  ▲",
            "FOLD BACK HERE",
        ),
        (*sides("STARBOARD", "PORT"), (wordings, 0.5)),
    )


def exit_marks(exit_: Inner, stretch: Stretch, drilling: Drilling = "all") -> tuple[Mark, ...]:
    """Return an exit's cross, hole, dotted circle for the pilot, washer, nut and socket; no dot: nobody punches here.

    Where only a pilot is drilled, it is the pilot's circle, and no final one.
    """
    hole, whole = exit_.hole, drilling in ("all", "none")
    drill = hole.final if whole else hole.pilot
    (x, y), reach, part = hole.at, hole.reach, hole.part
    turns = (math.radians(60 * k) for k in range(6))
    marks: list[Mark] = [
        Line((x - reach, y), (x + reach, y), pens.FINE, part),
        Line((x, y - reach), (x, y + reach), pens.FINE, part),
        Circle(hole.at, stretch.length(drill / 2), pens.FINAL if whole else pens.PILOT, part=part),
        *washer_marks(hole, pens.FINAL),
        Path(
            tuple((x + exit_.nut * math.cos(a), y + exit_.nut * math.sin(a)) for a in turns), True, pens.SEAM,
            part=f"{part} / nut",
        ),
    ]  # fmt: skip
    if exit_.limit is not None and whole:
        marks.append(Circle(hole.at, exit_.limit, pens.PLUG, part=f"{part} / limit"))
    if exit_.socket is not None:
        marks.append(Circle(hole.at, exit_.socket, pens.SOCKET, part=f"{part} / socket"))
    return tuple(marks)


def inner_face_marks(inside: OnInside, reach: Rect) -> tuple[Mark, ...]:
    """Return what is seen on the inner face, cut to ``reach``, the room for drawing below the fold."""
    marks: list[Mark] = []
    for run in inside.face.floor:
        marks += [Path(run, False, pens.EDGE, part="well floor"), *ticks(run)]
    marks += [Path(run, False, pens.LAND, part="flat land") for run in inside.face.land]
    marks += [Path(ring, True, pens.FINAL, part=f"block / {name}") for name, ring in inside.face.blocks]
    for front, back in inside.backing_plates:
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
    """Say whether both ends of a side are on another's line."""
    size = math.dist(c, d)
    return size > 0 and all(abs((d[0] - c[0]) * (p[1] - c[1]) - (d[1] - c[1]) * (p[0] - c[0])) / size < 1e-6 for p in (a, b))


def _names(design: Design, inside: OnInside, lines: tuple[Mark, ...], layout: SheetLayout) -> Iterator[Words]:
    """Yield the names of all lines."""
    room = layout.room
    names = "well floor, to where its straight lines meet", "well floor"
    yield from line_words(layout, lines, floor_names(design, names))
    for part_name, text in (
        ("transom edge", "edge of the inner face"), ("backing plate", "backing plate"),
        ("relieved edge", "back relieved to here"),
        *((f"block / {n}", writable(n)) for n, _ in inside.face.blocks),
    ):  # fmt: skip
        yield Words(partial(name_places, lines, part_name, text, room), room)
