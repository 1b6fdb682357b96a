"""Each backing plate's own drawing at full scale: on sheets of paper, and as SVG in millimetres for a workshop's cutter."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING

from geometry.design_text import fingerprint
from geometry.units.trade_words import in_trade_words
from templates_out.drawing import sheet_figures as figures
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import Rect
from templates_out.drawing.fonts import writable
from templates_out.drawing.labels import Candidate
from templates_out.drawing.marks import Circle, Hatch, Line, Mark, Page, Path
from templates_out.drawing.sheet_pens import PT, width_of, words
from templates_out.drawing.svg import svg_text
from templates_out.drawing.transforms import shift
from templates_out.faces.face_lines import name_places
from templates_out.faces.hole_marks import Said, block, block_size
from templates_out.layout.blocks import Item, band, band_height
from templates_out.layout.dimension_lines import dimension_marks
from templates_out.layout.drilling_permission import NOT_TO_BE_MADE, stamp
from templates_out.layout.framing import Seen, on_black, sides
from templates_out.layout.full_scale import crossed_out, stretched
from templates_out.layout.needs import CLEAR
from templates_out.layout.spread_on_sheets import Drawing, SheetLayout, Words, layout_of, spread, title_of
from templates_out.layout.tiles import FOOT, Needs
from templates_out.pages.inside.inside_pages import inside_count
from templates_out.pages.plate.plate_shape import PlateShape, hole_marks, outline_marks, plate_shapes, relief_marks, section
from templates_out.pages.template.template_pages import template_count

if TYPE_CHECKING:
    from geometry.judge.findings import Checked
    from geometry.units.units import Unit
    from templates_out.drawing.marks import Point
    from templates_out.drawing.printer import Printing, Stretch
    from templates_out.layout.drilling_permission import Stamp

_CROSS = 6.0  # mm: how far a hole's cross reaches past it
_TOP = 26.0  # mm: of the backing plate below the sheets' upper line
_SECTION = 26.0  # mm: from the backing plate to its section
_AROUND = 10.0  # mm: free around the backing plate in an SVG
_OUT = (9.0, 17.0)  # mm: of both rows of dimensions from the backing plate


def plate_pages(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    """Return the sheets of every backing plate; their letters go on where the inside sheets' end.

    Backing plates of a design that nobody may drill by say so across each sheet.

    Raises:
        OwnerError: no backing plate, something not measured, or a paper too small.
    """
    first = template_count(checked, printing) + inside_count(checked, printing)
    pages: list[Page] = []
    for shape in plate_shapes(checked.design):
        lay = partial(_layout, shape, stamp(checked), printing, first)
        layout, made = spread(lay, partial(_drawing, checked, shape, printing), checked.design, printing)
        first += len(layout.tiles)
        pages += made
    return tuple(pages)


def plate_svgs(checked: Checked, date: datetime.date | None = None) -> tuple[tuple[str, str], ...]:
    """Return a name ("backing plate, lower pair") and an SVG in millimetres for every backing plate, to cut along.

    Outline and holes are thin full lines; the dashed line is where the chamfer of the back begins, not to be cut through.
    A backing plate of a design that nobody may drill by has a cross over it and says NOT TO BE MADE, in a separate layer.

    Raises:
        OwnerError: there is no backing plate, or one of its measurements is not known.
    """
    return tuple(
        (f"backing plate, {shape.name}", svg_text(_svg_page(checked, shape, date or datetime.date.today())))
        for shape in plate_shapes(checked.design)
    )


def _svg_page(checked: Checked, shape: PlateShape, date: datetime.date) -> Page:
    design, reason = checked.design, stamp(checked)
    left, low, right, high = shape.box
    lines = [
        f"Backing plate, {shape.name}: {writable(design.name)}",
        f"design {fingerprint(design)}  ·  revision {design.revision}  ·  {date:%Y-%m-%d}  ·  millimetres, 1 to 1",
        *facts(shape, design.units),
    ]
    texts = [words((0.0, 0.0), line, 8 * PT, condensed=True) for line in lines]
    foot = 4.6 * len(lines) + 4.0
    dx, dy = _AROUND - left, _AROUND + foot - low
    drawn = (*outline_marks(shape, pens.FINE), *hole_marks(shape, pens.FINE), *relief_marks(shape))
    crossed = () if reason is None else crossed_out(shape.box, "backing plate")
    named = tuple(
        words((_AROUND, foot + _AROUND - 6.0 - 4.6 * index), line, 8 * PT, part="words") for index, line in enumerate(lines)
    )
    wide = max(right - left, *map(width_of, texts)) + 2 * _AROUND
    tall = high - low + foot + 2 * _AROUND
    marks = (*shift((*drawn, *crossed), dx, dy), *named)
    if reason is None:
        return Page(wide, tall, marks, lines[0])
    warned = band_height(reason, wide - 2 * _AROUND)
    across = (_AROUND, tall, wide - _AROUND, tall + warned)
    warning = f"{NOT_TO_BE_MADE}: the boat is {reason.warning}"
    over = band(across, reason, outlined=True, words=NOT_TO_BE_MADE)
    return Page(wide, tall + warned + _AROUND, (*marks, *over), lines[0], warning)


def facts(shape: PlateShape, unit: Unit) -> list[str]:
    """Return the facts for a workshop, line by line."""
    sizes = sorted({diameter for _, diameter, _ in shape.holes})
    lines = [
        f"make {shape.count}: {in_trade_words(shape.material, unit)}, {figures.both(shape.thickness, unit)} thick",
        f"holes {' and '.join(figures.both(size, unit) for size in sizes)}, square through",
        f"outward corners rounded, radius {figures.both(shape.radius, unit)}" if shape.radius else "corners as drawn",
    ]
    if shape.has_inward_corner:
        lines.append("inward corners as sharp as they can be cut")
    if shape.back is not None:
        along, through = (figures.both(value, unit) for value in shape.relief)
        lines.append(f"lower edge relieved at the back: {along} up the face, {through} through")
    return [*lines, "all other edges broken", "drawn as seen from inside the boat, port at the right", "mark UP and PORT on it"]


def _layout(shape: PlateShape, reason: Stamp | None, printing: Printing, first: int, back: float = 0.0) -> SheetLayout:
    return layout_of(lambda stretch: (_needs(shape, stretch, reason),), printing, first, back)


def _needs(shape: PlateShape, stretch: Stretch, reason: Stamp | None) -> Needs:
    left, low, right, high = shape.box
    down = _TOP + high - low + _OUT[1] + 4.0
    across = (left - _OUT[1] - 5.0, right + _SECTION + shape.thickness + 12.0)
    no_across = [(right + 4.0, across[1] + 30.0), (across[0] - 30.0, left + CLEAR)]
    no_down = [(-10.0, _TOP + CLEAR), (_TOP + high - low - CLEAR, down + 30.0)]
    for (x, y), diameter, _ in shape.holes:
        reach = diameter / 2 + _CROSS + CLEAR
        no_across.append((x - reach, x + reach))
        no_down.append((_TOP + high - y - reach, _TOP + high - y + reach))

    def wider(spans: list[tuple[float, float]], by: float) -> tuple[tuple[float, float], ...]:
        return tuple((a * by, b * by) for a, b in spans)

    extra = 0.0 if reason is None else 24.0
    return Needs(
        (across[0] * stretch.across, across[1] * stretch.across), down * stretch.up,
        wider(no_across, stretch.across), wider(no_down, stretch.up), FOOT, 4.0 + extra,
    )  # fmt: skip


def _drawing(checked: Checked, shape: PlateShape, printing: Printing, layout: SheetLayout) -> Drawing:
    """Return what a backing plate's sheets show where they are laid so."""
    design, reason, room = checked.design, stamp(checked), layout.room
    unit, at = design.units, (0.0, -_TOP - shape.box[3])
    figured = (room[0] - 3.0, *room[1:])  # the figure at the height's left may be next to the arrow

    def true(marks: Iterable[Mark]) -> tuple[Mark, ...]:
        return stretched(shift(tuple(marks), *at), layout.stretch, (0.0, 0.0))

    dimensions = tuple(_dimensions(shape))
    ends = [line for a, b, _ in dimensions for line in true((Line(a, b, pens.FINE),)) if isinstance(line, Line)]
    return Drawing(
        what="backing plate’s sheets",
        title=title_of(f"Backing plate, {shape.name}", design, printing, layout.plan),
        seen=_seen(),
        lines=true((
            *outline_marks(shape, pens.EDGE), *hole_marks(shape, pens.FINAL), *relief_marks(shape),
            *_crosses(shape), *_section_marks(shape), *(() if reason is None else crossed_out(shape.box, "backing plate")),
            *(mark for a, b, _ in dimensions for mark in dimension_marks(a, b, back=3.0 if a[1] == b[1] else -3.0)),
        )),
        soft=(),
        words=(),
        names=(
            *(Words(partial(_along, line.a, line.b, length, unit), figured)
              for line, (_, _, length) in zip(ends, dimensions, strict=True)),
            *_names(shape, true, room, unit),
        ),
        blocks=(_block(shape, unit, reason),),
        reason=reason,
    )  # fmt: skip


def _seen() -> Seen:
    wordings = on_black("BACKING PLATE, SEEN FROM INSIDE"), on_black("BACKING PLATE,", "SEEN FROM INSIDE")
    return Seen((), (*sides("STARBOARD", "PORT"), (wordings, 0.5)))


def _crosses(shape: PlateShape) -> Iterator[Mark]:
    for (x, y), diameter, _ in shape.holes:
        reach = diameter / 2 + _CROSS
        yield Line((x - reach, y), (x + reach, y), pens.FINE, "cross")
        yield Line((x, y - reach), (x, y + reach), pens.FINE, "cross")


def _section_marks(shape: PlateShape) -> Iterator[Mark]:
    left = shape.box[2] + _SECTION
    ring = tuple((left + x, y) for x, y in section(shape))
    yield Hatch(ring, 45.0, 2.4, pens.FINE, part="section")
    yield Path(ring, True, pens.EDGE, part="section")


def _dimensions(shape: PlateShape) -> Iterator[tuple[Point, Point, float]]:
    """Yield each dimension's ends and its true length: below the backing plate, and at its left."""
    left, low, right, high = shape.box
    stops = [left, *sorted({x for (x, _), _, _ in shape.holes}), right]
    for a, b in zip(stops, stops[1:], strict=False):
        yield (a, low - _OUT[0]), (b, low - _OUT[0]), b - a
    yield (left, low - _OUT[1]), (right, low - _OUT[1]), right - left
    levels = [low, *sorted({y for (_, y), _, _ in shape.holes}), high]
    for a, b in zip(levels, levels[1:], strict=False):
        yield (left - _OUT[0], a), (left - _OUT[0], b), b - a
    yield (left - _OUT[1], low), (left - _OUT[1], high), high - low


def _along(a: Point, b: Point, length: float, unit: Unit) -> Iterator[Candidate]:
    """Yield places for a dimension's figure along its line, above it or at its left."""
    both, size, part = figures.check_figure(length, unit), pens.FIGURE, "dimension figure"
    for figure in (both, both.split(" (")[0]):
        for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9):
            x, y = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
            if a[1] == b[1]:
                yield (words((x, y + 1.3 + 0.17 * size), figure, size, anchor="middle", part=part),)
            else:
                yield (words((x - 1.3 - 0.17 * size, y), figure, size, anchor="middle", angle=90.0, part=part),)


def _names(
    shape: PlateShape, true: Callable[[Iterable[Mark]], tuple[Mark, ...]], room: Rect, unit: Unit
) -> Iterator[Words]:
    """Yield the names of holes, of the section and of the relieved edge."""
    for (x, y), diameter, name in shape.holes:
        (middle,) = true((Circle((x, y), diameter / 2, None),))
        if isinstance(middle, Circle):
            yield Words(partial(_hole_names, middle, name, f"drill {figures.both(diameter, unit)}"), room)
    ring = next(mark for mark in true(_section_marks(shape)) if isinstance(mark, Path))
    left, low, high = ring.points[-1][0], min(y for _, y in ring.points), max(y for _, y in ring.points)
    for angle, at, text in (
        (90.0, (left - 1.9, (low + high) / 2), "back, on the wood"), (0.0, (left + shape.thickness / 2, low - 4.2), "section")
    ):  # fmt: skip
        called = words(at, text, 8 * PT, anchor="middle", angle=angle, part="section name")
        yield Words(partial(iter, ((called,),)), room)
    relief = true(relief_marks(shape))
    yield Words(partial(name_places, relief, "relieved edge", "back relieved from here down", room), room)


def _hole_names(hole: Circle, name: str, drill: str) -> Iterator[Candidate]:
    lines: Said = [(name, pens.LINES, True), (drill, pens.FIGURE, False)]
    wide, tall = block_size(lines)
    (x, y), off = hole.centre, hole.radius + 2.0
    for left in (x + off, x - off - wide, x - wide / 2):
        for top in (y + off + tall, y - off, y + off + tall + 5.0, y - off - 5.0):
            yield block(lines, left, top, "hole name")


def _block(shape: PlateShape, unit: Unit, reason: Stamp | None) -> tuple[Item, ...]:
    lines = facts(shape, unit)
    head = (Item("For the workshop", 10 * PT, bold=True, before=0.0),)
    wait = () if reason is None else (Item("Do not make it yet. The band says why.", pens.STEP, bold=True),)
    lay = "Cut this paper out and hold it in the well before you cut metal. It must be flat, and clear of the floor’s corner."
    return (
        *head,
        *wait,
        *(Item(line[0].upper() + line[1:] + ".", pens.STEP) for line in lines),
        Item(lay, pens.STEP, bold=True),
    )
