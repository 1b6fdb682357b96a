"""The full-scale paper template of the outside face, to lay on the transom and drill by.

Everything is 1:1, within 0.02 mm on paper. The face is drawn as seen from astern; the datum is the fold.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import chain
from typing import TYPE_CHECKING

from templates_out.drawing.fonts import writable
from templates_out.drawing.printer import WHOLE, Correction, corrected
from templates_out.faces.check_lines import check_marks, checks, figure_places
from templates_out.faces.face_lines import datum_marks, face_marks, name_places
from templates_out.faces.hole_marks import (
    hole_marks,
    label_lines,
    old_marks,
    old_places,
    opening_lines,
    opening_marks,
    washer_name_places,
)
from templates_out.faces.on_face import on_face
from templates_out.layout.drilling_permission import drilled_at, stamp, stops_all
from templates_out.layout.frame import across_bar, up_bar
from templates_out.layout.framing import FROM_ASTERN
from templates_out.layout.needs import face_layout
from templates_out.layout.pilot_reading import pilot_to_read
from templates_out.layout.spread_on_sheets import (
    Drawing,
    SheetLayout,
    Words,
    hole_words,
    line_words,
    spread,
    title_of,
)
from templates_out.layout.taped_pieces import taped_page
from templates_out.layout.taped_table import taped_paper
from templates_out.layout.template_text import before_pilot, before_you_punch, floor_names, not_yet, steps

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Mark, Page
    from templates_out.drawing.printer import Pair, Printing
    from templates_out.faces.hole_marks import Drilling
    from templates_out.faces.on_face import Hole, OnFace
    from templates_out.layout.blocks import Item
    from templates_out.layout.drilling_permission import Stamp
    from templates_out.layout.tiles import Plan


def template_pages(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    """Return the template's sheets, in the order of their letters: see ``template_set``."""
    return template_set(checked, printing)[1]


def template_set(checked: Checked, printing: Printing) -> tuple[Plan, tuple[Page, ...]]:
    """Return how the template of a checked design is laid on paper, and its sheets in the order of their letters.

    A template that nobody may drill by says so across every sheet. Behind any other is the table of what to measure on it.

    Raises:
        OwnerError: no bolts, a place not measured, or a paper too small.
    """
    kept: tuple[Printing, tuple[Plan, tuple[Page, ...]]] | None = checked.__dict__.get("template_set")
    if kept is None or kept[0] != printing:  # the shop sheet lists the joins of the same template
        kept = checked.__dict__["template_set"] = printing, _template_set(checked, printing)
    return kept[1]


def _template_set(checked: Checked, printing: Printing) -> tuple[Plan, tuple[Page, ...]]:
    design, reason = checked.design, stamp(checked)
    plan, pages = spread(
        partial(template_layout, checked, printing), partial(_drawing, checked, printing), design, printing
    )
    if stops_all(reason) or printing.paper == WHOLE.name:
        return plan, pages
    table = taped_paper(design, plan, pages, printing.correction.on(plan.orientation))
    return plan, (*pages, *taped_page(design, table, printing, reason))


def template_count(checked: Checked, printing: Printing) -> int:
    """Return how many sheets the template takes: the letters of other sheets go on from there."""
    return len(template_layout(checked, printing).plan.tiles)


def bar_lengths(checked: Checked, printing: Printing) -> Pair:
    """Return how long the bars of sheet A say they are, across and up [mm]."""
    layout = template_layout(checked, printing)
    across, up = (bar(layout.plan.tiles[0], layout.plan, layout.stretch, checked.design.units) for bar in (across_bar, up_bar))
    if across is None or up is None:
        raise AssertionError("the first sheet is at both outer edges")
    return across.length, up.length


def correction(checked: Checked, printing: Printing, measured: tuple[float | None, float | None]) -> Correction:
    """Return the correction that the bars of sheet A call for, as they measured across and up when printed so [mm].

    Raises:
        OwnerError: see ``printer.corrected``.
    """
    orientation = template_layout(checked, printing).plan.orientation
    return corrected(printing.correction, orientation, bar_lengths(checked, printing), measured, checked.design.units)


def template_layout(checked: Checked, printing: Printing, back: float = 0.0) -> SheetLayout:
    """Return how the template is laid on paper; ``back``: how much nearer than they might the first seams run [mm]."""
    return face_layout(partial(on_face, checked.design), stamp(checked), printing, back=back)


def _drawing(checked: Checked, printing: Printing, layout: SheetLayout) -> Drawing:
    """Return what the template shows on sheets that are laid so."""
    design, reason, room, stretch = checked.design, stamp(checked), layout.room, layout.stretch
    unit, face, plan = design.units, on_face(design, stretch), layout.plan
    openings = face.openings if layout.asked.openings else ()
    taken = checks(face.holes)
    lines = face_marks(face, room)

    def at(hole: Hole) -> Drilling:
        return drilled_at(reason, hole.mount, hole.name)

    return Drawing(
        what="template",
        title=title_of("Drilling template", design, printing, plan),
        seen=FROM_ASTERN,
        lines=(
            *datum_marks(face, (plan.tiles[0].core[0], room[1], plan.tiles[-1].core[2], 0.0)),
            *lines,
            *chain.from_iterable(map(old_marks, face.old)),
            *chain.from_iterable(opening_marks(opening, stretch, drilled=reason is None) for opening in openings),
            *chain.from_iterable(hole_marks(hole, stretch, at(hole)) for hole in face.holes),
        ),
        soft=tuple(mark for check in taken for mark in check_marks(check)),
        words=(
            *(hole_words(layout, hole, label_lines(hole, unit, at(hole))) for hole in face.holes),
            *(hole_words(layout, each, opening_lines(each, unit, drilled=reason is None)) for each in openings),
        ),
        names=(
            *(Words(partial(washer_name_places, hole), room) for hole in face.holes),
            *(Words(partial(old_places, old, unit), layout.wide, squeezed=True) for old in face.old),
            *(Words(partial(figure_places, check, unit), room) for check in taken),
            *_names(design, face, lines, layout),
        ),
        blocks=(not_yet(),) if stops_all(reason) else _blocks(layout, design, printing, face, reason),
        reason=reason,
    )


def _blocks(
    layout: SheetLayout, design: Design, printing: Printing, face: OnFace, stamped: Stamp | None
) -> tuple[tuple[Item, ...], ...]:
    """Return how the sheets are put on, what to check before punching, and how a sheet's one pilot is read."""
    if stamped is not None and stamped.pilot is not None:
        hole = next(hole for hole in face.holes if (hole.mount, hole.name) == (stamped.pilot.mount, stamped.pilot.hole))
        first = steps(layout.plan, printing, (hole,), only=hole.name)
        return first, before_pilot(layout.plan, pilot_to_read(design, stamped.pilot))
    return steps(layout.plan, printing, face.holes), before_you_punch(layout.plan, face.holes)


def _names(design: Design, face: OnFace, lines: tuple[Mark, ...], layout: SheetLayout) -> Iterator[Words]:
    """Yield the names of all lines."""
    room = layout.room
    yield from line_words(layout, lines, floor_names(design, ("well floor behind this line",)))
    for part_name, text in (
        ("bracket", "bracket"), ("transom edge", "edge of the transom"),
        *((f"block / {n}", f"{writable(n)} behind") for n, _ in face.blocks),
        *((f"fitting / {n}", writable(n)) for n, _ in face.fittings),
    ):  # fmt: skip
        yield Words(partial(name_places, lines, part_name, text, room), room)
