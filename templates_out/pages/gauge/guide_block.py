"""A hardwood block that guides the drill: its face and section at full scale, cutting list, and how to prove it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import msgspec

from geometry.errors import OwnerError
from geometry.units.units import Unit, format_angle, format_length
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.marks import Circle, Hatch, Line, Mark, Page, Path, Text
from templates_out.drawing.sheet_pens import PT, words
from templates_out.layout.dimension_lines import dimension_marks
from templates_out.layout.drilling_permission import stops_all
from templates_out.layout.full_scale import FullScale, crossed_out, full_scale, stretched
from templates_out.layout.reading_pages import BODY, HEAD, SUBHEAD, Sheet, Writing
from templates_out.pages.shop.shop_holes import BLOCK_THICK

if TYPE_CHECKING:
    from geometry.design.design import Design
    from templates_out.drawing.marks import Point
    from templates_out.drawing.printer import Stretch
    from templates_out.layout.drilling_permission import Stamp

LONGEST = 165.1  # mm: a block that fits every paper next to its bar
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")


class Block(msgspec.Struct, frozen=True):
    """The block's sizes, round in the person's unit [mm].

    Attributes:
        long, high, thick: along the row of holes, up, and along the drill.
        edge, pitch: from the end to the first hole, and from hole to hole.
        tilt: of the holes from square, inner end higher positive [degrees].
        drills: diameters, the smallest first.
    """

    long: float
    high: float
    thick: float
    edge: float
    pitch: float
    tilt: float
    drills: tuple[float, ...]

    @property
    def level(self) -> float:
        """Height of the holes' line on the face that goes on the paper: they lean the same way from mid-thickness."""
        return self.high / 2 + self.thick / 2 * math.tan(math.radians(self.tilt))


def rake_is_guess(design: Design) -> bool:
    """Say whether the rake is a guess. Then every angle that goes with it says so."""
    reading = design.readings.get("transom.rake")
    return reading is not None and reading.state == "guess"


def block_for(drills: tuple[float, ...], tilt: float, unit: Unit) -> Block:
    """Return the block for these drills. The steeper they are, the higher it is.

    Raises:
        OwnerError: the tilt is too steep, or the drills are too many, for one block.
    """
    edge, high, step, rise = (15.875, 50.8, 3.175, 6.35) if unit == "in" else (20.0, 50.0, 5.0, 5.0)
    thick = BLOCK_THICK[unit]
    spaces = len(drills) - 1
    pitch = math.floor((LONGEST - 2 * edge) / max(spaces, 3) / step + 1e-9) * step
    lean = thick * abs(math.tan(math.radians(tilt)))
    high += math.ceil(lean / rise - 1e-9) * rise if lean > 0.05 else 0.0
    if high > 110.0 or pitch < drills[-1] + 6.0:
        raise OwnerError(
            f"{len(drills)} drills at {format_angle(tilt)} from square do not fit one guide block on one page. "
            "Tilt the holes less, or drill with the gauge alone."
        )
    return Block(2 * edge + spaces * pitch, high, thick, edge, pitch, tilt, drills)


def face_marks(block: Block, unit: Unit, foot: Point) -> Iterator[Mark]:
    """Yield the face that goes on the paper, its lower left corner at ``foot``: outline, lines, holes, dimensions."""
    x0, y0 = foot
    middle, part = y0 + block.level, "guide block"
    ring = ((x0, y0), (x0 + block.long, y0), (x0 + block.long, y0 + block.high), (x0, y0 + block.high))
    yield Path(ring, True, pens.EDGE, part=part)
    yield Line((x0, middle), (x0 + block.long, middle), pens.FINE, part)
    places = [x0 + block.edge + index * block.pitch for index in range(len(block.drills))]
    for x, drill in zip(places, block.drills, strict=True):
        yield Line((x, y0), (x, y0 + block.high), pens.FINE, part)
        yield Circle((x, middle), drill / 2, pens.FINAL, part=f"{part} / hole")
        top = y0 + block.high - 5.6
        yield Text((x - 1.8, top), _bare(drill, unit), HEAD * 0.9, bold=True, anchor="end", part=part)
        yield words((x - 1.8, top - 4.2), _other(drill, unit), 8 * PT, anchor="end", part=part)
    level = y0 - 6.0
    for a, b in zip((x0, *places), (*places, x0 + block.long), strict=True):
        yield from dimension_marks((a, level), (b, level), _bare(b - a, unit), 4.0)


def section_marks(block: Block, unit: Unit, foot: Point) -> Iterator[Mark]:
    """Yield the section through the last hole, its lower left corner at ``foot``; the paper is at the right."""
    x0, y0 = foot
    part, r, slope = "section", block.drills[-1] / 2, math.tan(math.radians(block.tilt))
    half = r / math.cos(math.radians(block.tilt))
    right, top = x0 + block.thick, y0 + block.high

    def axis(x: float) -> float:
        return y0 + block.level - (right - x) * slope

    over = ((x0, axis(x0) + half), (right, axis(right) + half))
    under = ((x0, axis(x0) - half), (right, axis(right) - half))
    yield Hatch((*over, (right, top), (x0, top)), 45.0, 3.2, pens.FINE, part=part)
    yield Hatch((under[0], (x0, y0), (right, y0), under[1]), 45.0, 3.2, pens.FINE, part=part)
    yield Path(((x0, y0), (right, y0), (right, top), (x0, top)), True, pens.EDGE, part=part)
    yield Line(*over, pens.FINAL, f"{part} / hole")
    yield Line(*under, pens.FINAL, f"{part} / hole")
    yield Line((x0 - 3.0, axis(x0 - 3.0)), (right + 3.0, axis(right + 3.0)), pens.CENTRELINE, f"{part} / axis")
    yield from dimension_marks((x0, y0 - 6.0), (right, y0 - 6.0), _bare(block.thick, unit), 4.0)
    yield from dimension_marks((right + 8.0, y0), (right + 8.0, top), _bare(block.high, unit), 4.5)


def guide_block_page(
    sheet: Sheet, tilt: float, drills: tuple[float, ...], which: str, place: tuple[int, int], stretch: Stretch, margin: float,
    reason: Stamp | None,
) -> Page:  # fmt: skip
    """Return the page of the guide block for one tilt [degrees] and these drills [mm]; crossed out where nothing is drilled.

    Raises:
        OwnerError: one block will not do, or the margin will not.
    """
    unit, square = sheet.design.units, abs(tilt) < 0.05
    block = block_for(drills, tilt, unit)
    lean = "square" if square else f"{format_angle(abs(tilt))} {'up' if tilt > 0 else 'down'}"
    begun = full_scale(sheet, f"Guide block: drills {lean}", *place, stretch, margin)
    count = _COUNTS[len(drills)] if len(drills) < len(_COUNTS) else f"{len(drills)}"
    turned = "" if square else " Mark the wood: this side up, as drawn."
    page = begun.introduced(
        sheet,
        f"{which}Take one bar of hardwood. Drill {count} holes, one for each size, on a drill press. Hold it on the paper with "
        "its lines over the lines of the hole’s cross. Press it on by hand or with two strips of double-sided tape. Put no "
        f"screws into the boat.{turned}",
        reason,
    )  # fmt: skip
    if rake_is_guess(sheet.design):
        angle = "square" if square else format_angle(abs(tilt))
        guess = f"{angle[:1].upper()}{angle[1:]}, with a guessed rake. Measure the rake before you drill by this block."
        page = page.then(lambda y: sheet.paragraph(y - 1.5, guess, bold=True, right=begun.right))
    page = page.then(sheet.heading, "Face that goes on the paper", SUBHEAD)
    if not square:
        page = page.with_marks((Text((begun.right, page.y + 0.6 * SUBHEAD), "▲ UP", SUBHEAD, bold=True, anchor="end"),))
    foot = (sheet.left, page.y - 2.0 - block.high)
    page = page.with_marks(stretched(face_marks(block, unit, foot), stretch, foot), foot[1] - 11.0)
    if stops_all(reason):
        page = page.with_marks(crossed_out((*foot, foot[0] + block.long, foot[1] + block.high), "guide block"))
    page = page.then(sheet.heading, "Section through the last hole, the paper at its right", SUBHEAD)
    foot = (sheet.left, page.y - 3.0 - block.high)
    column = sheet.left + block.thick + 22.0
    words_top = page.y
    page = page.with_marks(stretched(section_marks(block, unit, foot), stretch, foot), foot[1] - 11.0)
    if stops_all(reason):
        page = page.with_marks(crossed_out((*foot, foot[0] + block.thick, foot[1] + block.high), "section"))
    low = _words(sheet, begun, block, column, words_top)
    page = page.with_marks(low.marks, min(page.y, low.y))
    if page.y < begun.foot:
        raise OwnerError(f"A tilt of {format_angle(tilt)} is too steep for a guide block on this paper. Choose a longer paper.")
    return sheet.page(page, f"Guide block {place[0]}", reason)


def _words(sheet: Sheet, begun: FullScale, block: Block, left: float, top: float) -> Writing:
    """Return cutting list, how to prove the block, and how to use it, in a column at the section's right."""
    unit, square = sheet.design.units, abs(block.tilt) < 0.05
    page = Writing((), top + 1.0).then(sheet.heading, "Cutting list", 10 * PT, left)
    sizes = (block.long, block.high, block.thick)
    other = " × ".join(
        f"{size:.0f}" if unit == "in" else format_length(size, "in", style="paper", unit_word=False) for size in sizes
    )
    own = " × ".join(format_length(size, unit, denominator=64, style="paper", unit_word=False) for size in sizes)
    drills = ", ".join(format_length(drill, unit, denominator=64, style="paper", unit_word=False) for drill in block.drills)
    lean = "" if square else f", {'rising' if block.tilt > 0 else 'falling'} {format_angle(abs(block.tilt))} toward the paper"
    level = "" if square else f"; the level line {_bare(block.level, unit)} above that face's lower edge"
    for number, what in (
        ("1", f"hardwood {own} {unit} ({other}{'' if unit == 'in' else ' in'}), faces square"),
        (f"{len(block.drills)}", f"holes through the {_bare(block.thick, unit)}: {drills} {unit}{lean}"),
        (f"{len(block.drills) + 1}", f"pencil lines, carried around the sides, to meet the cross{level}"),
        ("2", "strips of double-sided tape, thin"),
    ):
        page = page.with_marks((Text((left, page.y - 0.9 * BODY), number, BODY, bold=True),))
        page = page.then(sheet.paragraph, what, left=left + 7.0, right=begun.right)
        page = page.with_marks((), page.y - 1.6)
    pilot = _bare(block.drills[0], unit)
    prove = (
        f"Drill {pilot} through scrap as thick as the transom. Turn the block half around on the same hole. If the drill still "
        "goes in freely, the hole is square. If it binds, drill another."
        if square
        else f"Drill {pilot} through scrap as thick as the transom. Take the block off and leave the drill in. Put the folded "
        "gauge next to it. The drill must touch both walls all along. If not, drill another."
    )
    for head, text in (
        ("Check it before the boat", prove),
        ("At the boat", "Press or clamp a block of wood to the inside where the drill comes out. Let the drill clear its "
         "chips. If chips are wet or dark, stop."),
    ):  # fmt: skip
        page = page.then(sheet.heading, head, 10 * PT, left).then(sheet.paragraph, text, left=left, right=begun.right)
    return page


def _bare(mm: float, unit: Unit) -> str:
    return format_length(mm, unit, denominator=64, style="paper")


def _other(mm: float, unit: Unit) -> str:
    return f"{mm:.1f} mm" if unit == "in" else format_length(mm, "in", denominator=64, style="paper")
