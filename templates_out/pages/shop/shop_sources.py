"""The basis of the shop sheet: every reading, how it was taken and how sure it is, and where the figures are from."""

from __future__ import annotations

import re
from collections.abc import Iterator

from geometry.design import assumption_measures, force_units
from geometry.design.assumption_measures import OWNER
from geometry.design.design import Design
from geometry.design.measures import Measure, measures, state_of
from geometry.design.reading_spreads import spread_of
from geometry.design.units import format_angle, format_length, format_mass
from geometry.judge.torque import drag
from geometry.solid.placed_bolts import bolts
from geometry.tables import capacity, fasteners, materials
from geometry.tables.known import MM_PER_INCH, origin
from geometry.tables.trade import DEFAULT_LIMITS, is_default
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import both, unbroken
from templates_out.layout.reading_pages import Piece, Sheet
from templates_out.pages.shop.shop_holes import NOT_KNOWN, UNITS

GUESS = "a guess"
_LAST = 5  # sections of the card up to the bracket's: the later ones are decided or bought, not measured
_IN_A_SENTENCE = 5  # limits, at the most
_HEADS, _AT = ("how", "within", "readings"), (0.0, 0.14, 0.235)


def readings(design: Design, sheet: Sheet) -> Iterator[Piece]:
    """Yield the readings in few rows: those taken alike and as exactly share one, guesses and gaps first."""
    groups: dict[tuple[str, str], dict[tuple[str, str], list[str]]] = {}
    for measure in measures(design):
        # A usual balance point counts where none was read, and a second reading is wanted only where the first is in doubt.
        spare = measure.get(design) is None and (measure.second or measure.key.endswith(".centre_aft"))
        if wanted(measure) and not spare:
            how, within, value = reading(design, measure)
            motor, name, part = _named(design, measure)
            groups.setdefault((how, within), {}).setdefault((motor, name), []).append(f"{part} {value}".strip())
    rows = [(how, within, _sentences(named)) for (how, within), named in groups.items()]
    rows.sort(key=lambda row: (NOT_KNOWN, GUESS).index(row[0]) if row[0] in (NOT_KNOWN, GUESS) else 2)
    yield Piece(lambda y: sheet.heading(y, "What this is based on"), tied=True, names="readings and sources")
    yield from sheet.pieces(_HEADS, rows, _AT)


def exactly(design: Design) -> str:
    """Say what "within" means, and how exactly a new hole comes where it should."""
    spreads = design.spreads
    tilt = format_angle(spreads.drill_angle)
    return (
        "Within: one standard deviation. One reading in three is off by more. A new hole is off by these: "
        f"print {_length(design, spreads.print)}, mark {_length(design, spreads.mark)}, drill {tilt}."
    )


def _sentences(named: dict[tuple[str, str], list[str]]) -> str:
    """Return a sentence for each name with its values; a motor is named before its first one."""
    sentences, last = [], ""
    for (motor, name), values in named.items():
        whose = f"{motor}: " if motor not in ("", last) else ""
        sentences.append(f"{whose}{name} {', '.join(values)}.")
        last = motor
    return " ".join(sentences)


def _named(design: Design, measure: Measure) -> tuple[str, str, str]:
    """Return a reading's motor ("" for the only one), the name that it is listed under, and its part there.

    "Old lower port:" has the part "across", and "Rake" has none.
    """
    motor = ""
    if measure.key.startswith("mounts.") and len(design.mounts) > 1:
        name = writable(design.mounts[int(measure.key.split(".")[1])].name)
        motor = f"{name[:1].upper()}{name[1:]}"
    head, comma, part = writable(measure.name).partition(", ")
    return (motor, f"{head}:", part) if comma else (motor, head, "")


def wanted(measure: Measure) -> bool:
    """Say whether a person takes this with a tape: no decision, no shape, nothing bought."""
    return measure.section <= _LAST and measure.kind != "shape" and not measure.free and not measure.key.startswith("boat.")


def reading(design: Design, measure: Measure) -> tuple[str, str, str]:
    """Return how a reading was taken, within what, and its value in both units."""
    value, state = measure.get(design), state_of(design, measure)
    taken = design.readings.get(measure.key)
    if value is None:
        return NOT_KNOWN, "", ""
    spread = spread_of(design, measure)
    how: str = measure.way if taken is None else taken.how
    if taken is not None and taken.from_ != "centre":
        how = f"{how}, {taken.from_}"
    least = MM_PER_INCH / 64 if design.units == "in" else 0.1  # a smaller spread would read as none
    within = format_angle(spread) if measure.kind == "angle" else _length(design, max(spread, least))
    if measure.kind == "mass":
        first, other = (format_mass(value, unit) for unit in UNITS[design.units])
        shown, how, within = f"{first} ({other})", "read, counted", ""
    elif measure.kind in force_units.KINDS:
        first, other = (force_units.written(measure.kind, value, unit) for unit in UNITS[design.units])
        shown, how, within = f"{first} ({other})", "read, counted", ""
    elif measure.kind == "count":
        how, within, shown = "read, counted", "", f"{value:.0f}"
    elif measure.kind == "angle":
        shown = format_angle(value)
    else:
        shown = both(abs(value), design.units)
        if measure.key.endswith(".across") or re.fullmatch(r"well\.profile\.\d+\.0", measure.key):
            shown += " port" if value < 0 else " starboard" if value > 0 else ""
        elif value < 0:
            shown = f"\N{MINUS SIGN}{shown}"
    return GUESS if state == "guess" else how, within, unbroken(shown)


def _length(design: Design, mm: float) -> str:
    return format_length(mm, design.units, denominator=32 if mm > 0.5 else 64, style="paper")


def _assumed(design: Design) -> Iterator[str]:
    """Yield the values that the loads and the core are calculated with, those from one source in a sentence."""
    named: dict[str, list[str]] = {}
    for row in assumption_measures.rows():
        if row.key.startswith("assumptions."):
            usual = assumption_measures.is_usual(design, row.key)
            source = assumption_measures.origin_words(row.key) if usual else OWNER
            named.setdefault(source, []).append(f"{row.name[0].lower()}{row.name[1:]} {_figure(design, row)}")
    yield from (f"Counted with {', '.join(values)}: {source}." for source, values in named.items())


def _figure(design: Design, measure: Measure) -> str:
    value = measure.get(design) or 0.0
    match measure.kind:
        case "length":
            return both(value, design.units)
        case "angle":
            return format_angle(value)
        case kind:
            return force_units.written(kind, value, design.units)


def sources(design: Design) -> list[str]:
    """Return where the figures come from, a sentence or two each."""
    lines: dict[str, None] = {}
    for bolt in bolts(design):
        fitted = bolt.hardware
        lines[f"Bolts {fitted.bolt}: {origin(bolt.thread.source)}."] = None
        lines[f"Nuts: {origin(fasteners.nut(fitted.nut, fitted.bolt).source)}."] = None
        lines[f"Grade {fitted.grade}: {origin(fasteners.grade(fitted.grade).source)}."] = None
        if listed := drag(bolt).source:
            lines[f"Lock nut's drag: {origin(listed)}."] = None
    limits: dict[str, list[str]] = {}
    for name, limit in DEFAULT_LIMITS.items():
        ours = is_default(name, getattr(design.limits, name))
        limits.setdefault(origin(limit.source) if ours else OWNER, []).append(limit.name)
    for source, names in limits.items():
        for first in range(0, len(names), _IN_A_SENTENCE):
            lines[f"Limits for {', '.join(names[first : first + _IN_A_SENTENCE])}: {source}."] = None
    if bolts(design):
        lines[f"Core: {origin(materials.core(design.transom.core).source)}."] = None
        lines["Torque and friction: as entered from the motor’s manual."] = None
        lines["Force = (torque - drag) / (friction x diameter): from Shigley, Mechanical Engineering Design."] = None
        lines["Proof load: 0.85 of the yield where none is published, and 0.75 of it advised, from the same book."] = None
        lines |= dict.fromkeys(_assumed(design))
        lines["Passes, cross pattern, intervals, drill stages, 30 to 50 % more epoxy, core bored out to twice the bolt: "
              "common practice."] = None  # fmt: skip
        lines["Bed of sealant, 1/8 in for a pilot: our assumption."] = None
    if design.mounts:
        lines[f"Power: {origin(capacity.SOURCE)}. Weights next to the motor: a table like that of ABYC S-30."] = None
    lines["Loads: stay out from under them, 29 CFR 1910.184. Glass dust: limit 5 mg/m3, NIOSH."] = None
    lines["The manual’s page Where the numbers come from says how well we read each of them."] = None
    return [writable(line) for line in lines]
