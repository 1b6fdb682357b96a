"""What the shop sheet rests on: every reading with how it was taken and how sure it is, and where the figures are from."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from geometry.design.measures import Measure, measures, state_of
from geometry.design.units import Unit, format_angle, format_both, format_length
from geometry.design.whole import Design
from geometry.judge.torque import turning
from geometry.solid.bolts import bolts
from geometry.solid.frames import Unmeasured
from geometry.tables import fasteners, materials
from geometry.tables.known import CHOICE, PRACTICE
from geometry.tables.trade import STANDING_LIMITS
from templates_out.drawing.fonts import writable
from templates_out.sheets.portrait import ROW, Piece, Sheet, gap
from templates_out.sheets.shop_words import NOT_KNOWN

_AT = (0.0, 0.20, 0.335, 0.435, 0.52, 0.72, 0.855, 0.955)  # two tables side by side
_HEADS = ("measured", "value", "how", "within") * 2
_LAST = 5  # sections of the card up to the bracket's: what follows is decided or bought, not measured


def rests(design: Design, sheet: Sheet) -> Iterator[Piece]:
    """Yield the table of readings, in two columns."""
    cells = [_cells(design, one) for one in measures(design) if wanted(one)]
    half = (len(cells) + 1) // 2
    head = partial(sheet.heads, heads=_HEADS, at=_AT)
    yield Piece(lambda y: sheet.heading(y, "What it rests on"), tied=True, names="what it rests on")
    yield Piece(head, tied=True)
    for index in range(half):
        right = cells[half + index] if half + index < len(cells) else ("", "", "", "")
        yield Piece(partial(sheet.row, row=(*cells[index], *right), at=_AT, bold=(0, 4)), head)
    yield Piece(gap)
    said = (
        "Within: one standard deviation; one reading in three lies further off. New holes: "
        f"print {_length(design, design.spreads.print)}, mark {_length(design, design.spreads.mark)}, "
        f"drill {format_angle(design.spreads.drill_angle)}."
    )
    yield Piece(lambda y: sheet.paragraph(y, said, ROW))


def wanted(one: Measure) -> bool:
    """Tell whether a measure is one that a person takes with a tape: no decision, no shape, nothing bought."""
    return one.section <= _LAST and one.kind != "shape" and not one.free


def _cells(design: Design, one: Measure) -> tuple[str, str, str, str]:
    value, state = one.get(design), state_of(design, one)
    reading = design.readings.get(one.key)
    if value is None:
        return writable(one.name), NOT_KNOWN, "", ""
    spread = getattr(design.spreads, one.spread) if reading is None or reading.spread is None else reading.spread
    how: str = "tape" if reading is None else reading.how
    if one.kind == "angle" and reading is None:
        how = "level"
    if reading is not None and reading.from_ != "centre":
        how = f"{how}, {reading.from_}"
    if state == "guess":
        how = "a guess"
    if one.key.endswith(".mass"):
        return writable(one.name), f"{value:g} kg", "papers" if how == "tape" else how, ""
    if one.kind == "count":
        return writable(one.name), f"{value:.0f}", "counted" if how == "tape" else how, ""
    told = format_angle(value) if one.kind == "angle" else format_both(value, design.units)
    within = format_angle(spread) if one.kind == "angle" else _length(design, spread)
    return writable(one.name), told, how, "" if state == "guess" and reading is not None and reading.spread is None else within


def _length(design: Design, mm: float) -> str:
    unit: Unit = design.units
    return format_length(mm, unit, denominator=32 if mm > 0.5 else 64, style="paper")


def sources(design: Design) -> list[str]:
    """Return where the figures come from, a sentence or two each."""
    told: dict[str, None] = {}
    for bolt in bolts(design):
        fitted = bolt.hardware
        told[f"Bolts {fitted.bolt}: {bolt.thread.source}."] = None
        told[f"Nuts: {fasteners.nut(fitted.nut, fitted.bolt).source}."] = None
        told[f"Grade {fitted.grade}: {fasteners.grade(fitted.grade).source}."] = None
        try:
            listed = turning(bolt).source
        except Unmeasured:
            listed = ""
        if listed:
            told[f"Running torque: {listed}."] = None
    limits = []
    for name, limit in STANDING_LIMITS.items():
        ours = getattr(design.limits, name) == (limit.least, limit.advised)
        limits.append(f"{_LIMITS[name]} {limit.source if ours else 'as its owner set them'}")
    told[f"Limits: {'; '.join(limits)}."] = None
    if bolts(design):
        told[f"Core: {materials.core(design.transom.core).source}."] = None
        told["Torque and friction: as entered from the motor’s manual; force = torque / (friction x diameter), Shigley, "
             "Mechanical Engineering Design."] = None  # fmt: skip
        told[f"Passes, cross pattern, intervals, drill stages, epoxy and its 30 to 50 % more: {PRACTICE}. Widening of the "
             f"wood, bed of sealant, 1/8 in for a pilot: {CHOICE}."] = None  # fmt: skip
    told["Loads: keep from under them, 29 CFR 1910.184. Glass dust: NIOSH, 5 mg/m3."] = None
    return [writable(line) for line in told]


_LIMITS = {
    "clearance": "clearances", "edge_diameters": "edges", "wood_between_diameters": "wood to old holes",
    "seat_angle": "seats", "slot_end": "slot ends",
}  # fmt: skip
