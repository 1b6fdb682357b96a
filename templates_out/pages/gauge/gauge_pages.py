"""The drill-angle gauge, folded from card, and the phone's reading that does the same: one page for each tilt.

The card has two walls and a fold between them. Folded to a right angle, it sits on the face by its tabs, with the drill in
the valley. So a person sees the drill from the side and from above at once.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from geometry.errors import OwnerError
from geometry.solid.faces import Unmeasured, exit_of
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.tables.papers import paper as paper_named
from geometry.units.units import Unit, format_angle, format_length
from templates_out.drawing import sheet_figures as figures
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.marks import Line, Mark, Page, Path, Pen, Text
from templates_out.drawing.sheet_pens import PT, words, wrapped
from templates_out.faces.sheet_refusals import no_bolts, not_known
from templates_out.layout.drilling_permission import stamp, stops_all
from templates_out.layout.full_scale import FullScale, crossed_out, full_scale, stretched
from templates_out.layout.reading_pages import Sheet, Writing
from templates_out.pages.gauge.guide_block import guide_block_page, rake_is_guess
from templates_out.pages.shop.shop_holes import stage_sizes

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Point
    from templates_out.drawing.printer import Printing, Stretch
    from templates_out.layout.drilling_permission import Stamp

WALL, LONG, TAB = 44.0, 112.0, 16.0  # mm: of each wall across and along the fold, and of the tabs
_SHORTEST_TICK, _TICK_STEP = 9.0, 5.0
_THICK = Pen(weight=1.2)


def gauge_pages(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    """Return, for each tilt in the design, the gauge with the phone's reading, and a guide block that does the same.

    Where the holes may not be drilled each page says so, and card and block are crossed out.

    Raises:
        OwnerError: there are no bolts, a reading is not known, a hole is too steep, or the paper or margin will not do.
    """
    design, reason = checked.design, stamp(checked)
    sheet = Sheet(design, printing.date, paper_named(printing.paper))
    stretch, margin = printing.correction.on("portrait"), printing.margin
    try:
        kinds = by_tilt(design)
        pages: list[Page] = []
        for tilt, same in kinds:
            number, count = len(pages) + 1, 2 * len(kinds)
            which = "" if len(kinds) == 1 else f"For {_names(same, len(design.mounts) > 1)}. "
            pages.append(_gauge_page(sheet, tilt, same, which, (number, count), stretch, margin, reason))
            drills = drills_of(same, design.units)
            pages.append(guide_block_page(sheet, tilt, drills, which, (number + 1, count), stretch, margin, reason))
    except Unmeasured as missing:
        raise not_known(design, "The gauge", missing) from missing
    return tuple(pages)


def by_tilt(design: Design) -> list[tuple[float, tuple[Bolt, ...]]]:
    """Return the design's tilts [degrees], each with its bolts.

    Raises:
        OwnerError: there are no bolts. Unmeasured: a tilt is not known.
    """
    every = bolts(design)
    if not every:
        raise no_bolts(design, "there is nothing to drill and no angle to keep")
    tilts = sorted({round(bolt.tilt, 3) for bolt in every}, key=lambda tilt: (abs(tilt), tilt))
    return [(tilt, tuple(bolt for bolt in every if round(bolt.tilt, 3) == tilt)) for tilt in tilts]


def drills_of(same: tuple[Bolt, ...], unit: Unit) -> tuple[float, ...]:
    """Return all drills that these holes need, the smallest first [mm]."""
    return tuple(sorted({size for bolt in same for size in stage_sizes(bolt.hole, unit)}))


def _names(same: tuple[Bolt, ...], several: bool) -> str:
    names = [bolt.at.replace(" / ", ", ") if several else bolt.name for bolt in same]
    pairs = {bolt.pair for bolt in same}
    if len(pairs) == 1 and len(names) % 2 == 0 and not several:
        return f"the {pairs.pop()} pair"
    return ", ".join(names[:-1]) + f" and {names[-1]}" if len(names) > 1 else names[0]


def direction(tilt: float) -> str:
    """Return a drill's direction in a title: "square to the face", "tilt up 8°"."""
    return "square to the face" if abs(tilt) < 0.05 else f"tilt {'up' if tilt > 0 else 'down'} {format_angle(abs(tilt))}"


def card_marks(tilt: float, drills: tuple[float, ...], unit: Unit, at: Point) -> tuple[Mark, ...]:
    """Return the card: its fold runs up from ``at``, the side wall at its left, the floor wall at its right.

    The side wall is in the plane of the drill's axis and of up and down. Where the axis leans by ``tilt`` from square, its
    foot leans by as much. The floor wall's foot runs across, square to the axis at any tilt.
    """
    x0, y0 = at
    slope = math.tan(math.radians(tilt))

    def to(x: float, y: float) -> Point:
        return x0 + x, y0 + y

    marks: list[Mark] = [
        Line(to(0, 0), to(0, LONG), pens.FOLD, "fold"),
        Path((to(-WALL, -WALL * slope), to(-WALL, LONG), to(WALL, LONG), to(WALL, 0)), False, pens.EDGE, part="card"),
        Line(to(0, 0), to(-WALL, -WALL * slope), pens.FOLD, "foot"),
        Line(to(0, 0), to(WALL, 0), pens.FOLD, "foot"),
    ]
    c, s = math.cos(math.radians(tilt)), math.sin(math.radians(tilt))
    foot = WALL / c
    for side, (ex, ey), (nx, ny), long in ((-1, (-c, -s), (s, -c), foot), (1, (1.0, 0.0), (0.0, -1.0), WALL)):
        near = 5.0 + (max(0.0, TAB * slope) if side < 0 else 0.0)
        ends = ((0.0, 0.0), (near, TAB), (long - 5.0, TAB), (long, 0.0))
        tab = tuple(to(a * ex + b * nx, a * ey + b * ny) for a, b in ends)
        marks.append(Path(tab, False, pens.EDGE, part="tab"))
        middle = to((long / 2 + near / 4) * ex + 0.6 * TAB * nx, (long / 2 + near / 4) * ey + 0.6 * TAB * ny)
        angle = tilt if side < 0 else 0.0
        marks.append(words(middle, "tab: tape to the face", 8 * PT, anchor="middle", angle=angle, part="tab"))
        marks += _wall_words(side, tilt, to)
        marks += _ticks(side, slope if side < 0 else 0.0, drills, unit, to)
    return tuple(marks)


def _wall_words(side: int, tilt: float, to: Callable[[float, float], Point]) -> Iterator[Mark]:
    middle, part = side * WALL / 2, "wall"
    name, where, line = (
        ("SIDE WALL", "upright", "LEVEL") if side < 0 else ("FLOOR WALL", "under the drill", "UPRIGHT")
    )
    yield Text(to(middle, LONG - 8.0), name, 10 * PT, bold=True, anchor="middle", part=part)
    yield words(to(middle, LONG - 13.0), where, 8 * PT, anchor="middle", part=part)
    step = f"Put the tick of your drill on the {line} line of the hole’s cross."
    y = LONG - 27.0
    for text in wrapped(step, 8 * PT, WALL - 7.0, condensed=True):
        yield words(to(middle - WALL / 2 + 3.5, y), text, 8 * PT, part=part)
        y -= 3.8
    y = LONG - 58.0
    cut = f"foot cut at {format_angle(90 - abs(tilt if side < 0 else 0.0))} to the fold"
    if side < 0 and abs(tilt) >= 0.05:
        cut += f", {'longer' if tilt > 0 else 'shorter'} at the outer edge"
    for text in wrapped(cut, 8 * PT, WALL - 6.0, bold=True, condensed=True):
        yield words(to(middle, y), text, 8 * PT, bold=True, anchor="middle", part=part)
        y -= 3.8


def _ticks(
    side: int, slope: float, drills: tuple[float, ...], unit: Unit, to: Callable[[float, float], Point]
) -> Iterator[Mark]:
    """A tick at half of each drill from the fold: there its axis meets the face. The smallest is the tallest."""
    for index, drill in enumerate(drills):
        x, high = side * drill / 2, _SHORTEST_TICK + _TICK_STEP * (len(drills) - 1 - index)
        foot = -abs(x) * slope
        yield Line(to(x, foot), to(x, foot + high), pens.SEAM, "tick")
        figure = format_length(drill, unit, denominator=64, style="paper", unit_word=False)
        place = to(x + side * 0.9, foot + high - 2.2)
        yield words(place, figure, 7 * PT, anchor="end" if side < 0 else "start", part="tick figure")


def _gauge_page(
    sheet: Sheet, tilt: float, same: tuple[Bolt, ...], which: str, place: tuple[int, int], stretch: Stretch, margin: float,
    reason: Stamp | None,
) -> Page:  # fmt: skip
    unit = sheet.design.units
    begun = full_scale(sheet, f"Drill-angle gauge: {direction(tilt)}", *place, stretch, margin)
    page = begun.introduced(
        sheet,
        f"{which}Glue this page to thin card. Cut along the heavy lines. Fold the dashed lines: tabs outward, the middle fold "
        "to a right angle. Put the tabs on the face. Lay the drill in the valley so that it touches both walls. It now points "
        "right, seen from the side and from above.",
        reason,
    )  # fmt: skip
    dip = max(0.0, WALL * math.tan(math.radians(tilt)))
    foot = page.y - 5.0 - LONG
    fold = (sheet.left + 8.0 + WALL, foot)
    page = page.with_marks(stretched(card_marks(tilt, drills_of(same, unit), unit, fold), stretch, fold))
    if stops_all(reason):
        page = page.with_marks(crossed_out((fold[0] - WALL, fold[1], fold[0] + WALL, fold[1] + LONG), "card"))
    page = page.with_marks(_placed(tilt, (begun.right - 24.0, page.y - 50.0)))
    page = page.with_marks((), foot - dip - TAB - 2.0)
    with_phone = _phone(sheet, begun, page, tilt, same)
    if reason is None or with_phone.y >= begun.foot:  # a page with the band may lack room for it, and is not used
        page = with_phone
    if page.y < begun.foot:
        raise OwnerError(f"A tilt of {format_angle(tilt)} is too steep for the gauge on this paper. Choose a longer paper.")
    return sheet.page(page, f"Gauge {direction(tilt)}", reason)


def _placed(tilt: float, at: Point) -> Iterator[Mark]:
    """Yield the card on the face, seen from port, astern and above; ``at``: the hole's cross."""
    scale, lean = 0.36, math.radians(tilt)

    def to(u: float, v: float, aft: float) -> Point:
        # the drill's line falls going aft where it rises going in
        return at[0] + scale * u - 0.26 * aft, at[1] + scale * (v - aft * math.sin(lean)) - 0.19 * aft

    part = "how it is placed"
    yield Text((at[0] - 34.0, at[1] + 31.0), "How to place it", 10 * PT, bold=True, part=part)
    face = tuple(to(u, v, 0.0) for u, v in ((-64, -80), (64, -80), (64, 74), (-64, 74)))
    yield Path(face, True, pens.FINAL, part=part)
    yield words(to(14, 60, 0.0), "the face", 8 * PT, part=part)
    yield Line(to(-64, 0, 0.0), to(64, 0, 0.0), pens.FINE, part)
    yield Line(to(0, -70, 0.0), to(0, 60, 0.0), pens.FINE, part)
    u, v = 4.0, -4.0  # the fold is at starboard of the drill and below it
    floor = to(u, v, 0.0), to(u - WALL, v, 0.0), to(u - WALL, v, LONG), to(u, v, LONG)
    side = to(u, v, 0.0), to(u, v + WALL, 0.0), to(u, v + WALL, LONG), to(u, v, LONG)
    yield Path(side, True, pens.SEAM, "sheet", part)
    yield Path(floor, True, pens.SEAM, "sheet", part)
    end = to(0, 0, LONG + 40.0)
    yield Line(to(0, 0, 0.0), end, _THICK, part)
    name = "the drill, in the valley"
    low = min(end[1] - 12.0, to(0, -80, 0.0)[1] - 4.5)
    yield words((end[0] - 2.0, low), name, 8 * PT, part=part)
    yield Line((end[0] + 3.0, low + 3.4), (end[0] + 2.6, end[1] + 0.4), pens.FINE, part)
    for name, target, dx, dy in (
        ("side wall", to(u, v + 0.6 * WALL, 90.0), -2.0, 14.0), ("floor wall", to(u - WALL / 2, v, 100.0), -3.0, 11.0)
    ):  # fmt: skip
        x, y = target[0] + dx, target[1] + dy
        yield words((x, y), name, 8 * PT, anchor="end", part=part)
        yield Line((x - 2.0, y - 1.8), target, pens.FINE, part)


def _phone(sheet: Sheet, begun: FullScale, page: Writing, tilt: float, same: tuple[Bolt, ...]) -> Writing:
    """Return the page with the phone's reading along the drill: a square hole points up by the rake, going in."""
    angle = math.degrees(same[0].faces.rake) + tilt
    top = page.y
    room = sheet.left + 84.0
    page = page.then(sheet.heading, "Or lay your phone on the drill, as a level", 12 * PT)
    points = "A square hole points UP by the rake" if abs(tilt) < 0.05 else "This hole points up by rake and tilt together"
    page = page.then(
        sheet.paragraph,
        f"{points}, going in. Zero the phone on the line that was level when you read the rake. Then lay it along the drill. "
        "In this boat it reads:",
        right=room,
    )  # fmt: skip
    y = page.y - 8.0
    reading = Text((sheet.left, y), phone_reading(angle), 20 * PT, bold=True, part="reading")
    page = page.with_marks((reading,), y - 3.0)
    if rake_is_guess(sheet.design):
        left = sheet.left + pens.width_of(reading) + 3.0
        page = page.with_marks(
            Text((left, y + 3.8 - 4.0 * row), line, 9 * PT, bold=True, condensed=True, part="guess")
            for row, line in enumerate(("from a guessed rake:", "measure it first"))
        )
    off = level_hole(same, sheet.design.units)
    if off:
        page = page.then(sheet.paragraph, off, bold=True, right=room)
    middle = (begun.right - 29.0, (top + max(page.y, begun.foot)) / 2 - 2.0)
    return page.with_marks(_leaning(math.degrees(same[0].faces.rake), angle, middle))


def phone_reading(angle: float) -> str:
    """Return what the phone reads for a drill that points up by ``angle`` going in [degrees]: "14.0°  nose up"."""
    if abs(angle) < 0.05:
        return "0.0°  level"
    return f"{abs(angle):.1f}°  nose {'up' if angle > 0 else 'down'}"


def level_hole(same: tuple[Bolt, ...], unit: Unit) -> str:
    """Say how far off a level hole would come out at the most; nothing where the holes are level."""
    off = [bolt.exit.w - exit_of(bolt.faces, bolt.u, bolt.v, -math.degrees(bolt.faces.rake)).w for bolt in same]
    most = max(off, key=abs)
    if abs(most) < 0.05:
        return ""
    off_by = figures.unbroken(figures.both(abs(most), unit))
    return f"Do not drill at 0°. A level hole would come out {off_by} {'lower' if most > 0 else 'higher'} inside."


def _leaning(rake: float, angle: float, at: Point) -> Iterator[Mark]:
    """The drill, the phone on it and the transom in the side view, aft at the left; ``at``: where the hole goes in."""
    part = "side view"
    lean, rise = math.radians(rake), math.radians(angle)
    up, into = (-math.sin(lean), math.cos(lean)), (math.cos(lean), math.sin(lean))
    drill, off = (math.cos(rise), math.sin(rise)), (-math.sin(rise), math.cos(rise))

    def to(v: float, s: float) -> Point:
        return at[0] + v * up[0] + s * into[0], at[1] + v * up[1] + s * into[1]

    def on(along: float, above: float) -> Point:
        return at[0] + along * drill[0] + above * off[0], at[1] + along * drill[1] + above * off[1]

    thick, half = 13.0, 18.0
    yield Path((to(-half, 0), to(-half, thick), to(half, thick), to(half, 0)), True, pens.EDGE, part=part)
    for share in (0.2, 0.4, 0.6, 0.8):
        yield Line(to(-half, share * thick), to(half, share * thick), pens.FINE, part)
    start = on(-52.0, 0.0)
    yield Line(start, on(thick / max(0.3, math.cos(rise - lean)), 0.0), pens.FINAL, part)
    yield Line(on(-20.0, 0.0), on(-16.0, 0.0), Pen(weight=1.8), part)
    yield Path((on(-51.0, 1.4), on(-24.0, 1.4), on(-24.0, 5.0), on(-51.0, 5.0)), True, pens.SEAM, part=part)
    middle = on(-37.5, 2.4)
    yield words(middle, f"{abs(angle):.1f}°", 7 * PT, bold=True, anchor="middle", angle=angle, part=part)
    # Level starts from the drill's own lower end, or it would run through the phone.
    left = start if angle >= 0 else (at[0] - 38.0, at[1])
    yield Line(left, (left[0] + 34.0, left[1]), pens.CENTRELINE, part)
    yield words((left[0] + 15.0, left[1] - 4.2), "level", 8 * PT, anchor="middle", part=part)
    y = max(to(half, 0)[1], to(half, thick)[1]) - 2.0
    yield words((to(half, 0)[0] - 5.0, y), "aft", 8 * PT, anchor="end", part=part)
    yield words((max(to(half, thick)[0], to(0, thick)[0]) + 4.0, y), "forward", 8 * PT, part=part)
