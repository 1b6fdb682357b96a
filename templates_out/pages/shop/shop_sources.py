"""What the shop sheet rests on: every reading with how it was taken and how sure it is, and where the figures are from."""

from __future__ import annotations

import re
from collections.abc import Iterator

from geometry.design import forces
from geometry.design.design import Design
from geometry.design.measures import Measure, measures, state_of
from geometry.design.units import Unit, format_angle, format_length, format_mass
from geometry.judge.torque import drag
from geometry.solid.placed_bolts import bolts
from geometry.tables import capacity, fasteners, materials
from geometry.tables.known import CHOICE, PRACTICE, SECONDARY
from geometry.tables.trade import DEFAULT_LIMITS, is_default
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import check_figure, unbroken
from templates_out.layout.reading_pages import Piece, Sheet
from templates_out.pages.shop.shop_holes import NOT_KNOWN

GUESS = "a guess"
UNITS: dict[Unit, tuple[Unit, Unit]] = {"in": ("in", "mm"), "mm": ("mm", "in")}  # a person's own unit, then the other
_LAST = 5  # sections of the card up to the bracket's: what follows is decided or bought, not measured
_HEADS, _AT = ("how", "within", "what was read"), (0.0, 0.14, 0.235)


def rests(design: Design, sheet: Sheet) -> Iterator[Piece]:
    """Yield the readings in few rows: those taken alike and as exactly stand together, guesses and gaps first."""
    groups: dict[tuple[str, str], dict[str, list[str]]] = {}
    for one in measures(design):
        if wanted(one) and not (one.key.endswith(".centre_aft") and one.get(design) is None):  # a usual place stands for it
            how, within, value = reading(design, one)
            name, part = _named(design, one)
            groups.setdefault((how, within), {}).setdefault(name, []).append(f"{part} {value}".strip())
    rows = [
        (how, within, "; ".join(f"{name} {', '.join(values)}".strip() for name, values in told.items()) + ".")
        for (how, within), told in groups.items()
    ]
    rows.sort(key=lambda row: (NOT_KNOWN, GUESS).index(row[0]) if row[0] in (NOT_KNOWN, GUESS) else 2)
    yield Piece(lambda y: sheet.heading(y, "What it rests on"), tied=True, names="what it rests on")
    yield from sheet.pieces(_HEADS, rows, _AT)


def exactly(design: Design) -> str:
    """Say what "within" means, and how exactly a new hole comes where it should."""
    return (
        "Within: one standard deviation; one reading in three lies further off. New holes: "
        f"print {_length(design, design.spreads.print)}, mark {_length(design, design.spreads.mark)}, "
        f"drill {format_angle(design.spreads.drill_angle)}."
    )


def _named(design: Design, one: Measure) -> tuple[str, str]:
    """Return what readings are listed under, and a reading's own name there: "Old lower port:", "across"."""
    name = writable(one.name)
    if one.key.startswith("mounts.") and len(design.mounts) > 1:
        motor = writable(design.mounts[int(one.key.split(".")[1])].name)
        return f"{motor[:1].upper()}{motor[1:]}:", name[:1].lower() + name[1:]
    head, comma, part = name.partition(", ")
    return (f"{head}:", part) if comma else (head, "")


def wanted(one: Measure) -> bool:
    """Tell whether a measure is one that a person takes with a tape: no decision, no shape, nothing bought."""
    return one.section <= _LAST and one.kind != "shape" and not one.free and not one.key.startswith("boat.")


def reading(design: Design, one: Measure) -> tuple[str, str, str]:
    """Return how a reading was taken, within what, and its value in both units."""
    value, state = one.get(design), state_of(design, one)
    taken = design.readings.get(one.key)
    if value is None:
        return NOT_KNOWN, "", ""
    spread: float = getattr(design.spreads, one.spread) if taken is None or taken.spread is None else taken.spread
    how: str = one.way if taken is None else taken.how
    if taken is not None and taken.from_ != "centre":
        how = f"{how}, {taken.from_}"
    within = format_angle(spread) if one.kind == "angle" else _length(design, spread)
    if one.kind == "mass":
        first, other = (format_mass(value, unit) for unit in UNITS[design.units])
        told, how, within = f"{first} ({other})", "read, counted", ""
    elif one.kind in forces.KINDS:
        first, other = (forces.written(one.kind, value, unit) for unit in UNITS[design.units])
        told, how, within = f"{first} ({other})", "read, counted", ""
    elif one.kind == "count":
        how, within, told = "read, counted", "", f"{value:.0f}"
    elif one.kind == "angle":
        told = format_angle(value)
    else:
        told = check_figure(abs(value), design.units)
        if one.key.endswith(".across") or re.fullmatch(r"well\.profile\.\d+\.0", one.key):
            told += " port" if value < 0 else " starboard" if value > 0 else ""
        elif value < 0:
            told = f"\N{MINUS SIGN}{told}"
    return GUESS if state == "guess" else how, within, unbroken(told)


def _length(design: Design, mm: float) -> str:
    return format_length(mm, design.units, denominator=32 if mm > 0.5 else 64, style="paper")


def sources(design: Design) -> list[str]:
    """Return where the figures come from, a sentence or two each."""
    told: dict[str, None] = {}
    for bolt in bolts(design):
        fitted = bolt.hardware
        told[f"Bolts {fitted.bolt}: {bolt.thread.source}."] = None
        told[f"Nuts: {fasteners.nut(fitted.nut, fitted.bolt).source}."] = None
        told[f"Grade {fitted.grade}: {fasteners.grade(fitted.grade).source}."] = None
        if listed := drag(bolt).source:
            told[f"Lock nut's drag: {listed}."] = None
    limits: dict[str, list[str]] = {}
    for name, limit in DEFAULT_LIMITS.items():
        ours = is_default(name, getattr(design.limits, name))
        limits.setdefault(limit.source if ours else "as their owner set them", []).append(_LIMITS[name])
    held = [f"{', '.join(names)}: {source}" for source, names in limits.items()]
    told[f"Limits. {'; '.join(held)}."] = None
    if bolts(design):
        told[f"Core: {materials.core(design.transom.core).source}."] = None
        told["Torque and friction: as entered from the motor’s manual; force = (torque - drag) / (friction x diameter), "
             "Shigley, Mechanical Engineering Design."] = None  # fmt: skip
        told["Proof load: 0.85 of the yield where none is published, 0.75 of it advised, Shigley, the same. Epoxy under a "
             "bolt: 8,000 lbf/in2, our assumption."] = None  # fmt: skip
        told[f"Passes, cross pattern, intervals, drill stages, epoxy and its 30 to 50 % more: {PRACTICE}. Core "
             f"bored out to twice the bolt: {PRACTICE}. Bed of sealant, 1/8 in for a pilot: {CHOICE}."] = None  # fmt: skip
    if design.mounts:
        told[f"Power: {capacity.SOURCE}; weights beside the motor: a table of ABYC S-30’s kind, {SECONDARY}."] = None
    told["Standards: read in secondary copies where it does not say otherwise."] = None
    told["Loads: keep from under them, 29 CFR 1910.184. Glass dust: NIOSH, 5 mg/m3."] = None
    return [writable(line.replace(f"; {SECONDARY}", "")) for line in told]


_LIMITS = {
    "clearance": "clearances", "edge_diameters": "edges", "wood_between_diameters": "wood to old holes",
    "seat_angle": "seats", "slot_end": "slot ends", "top_edge": "holes below the top edge",
}  # fmt: skip
