"""The basis of the shop sheet: every reading, how it was taken and how sure it is, and where the figures are from."""

from __future__ import annotations

import re

from geometry.design.design import Design
from geometry.judge.torque import drag
from geometry.readings.measures import Measure, measures, state_of
from geometry.readings.reading_spreads import spread_of
from geometry.solid.placed_bolts import bolts
from geometry.tables import capacity, fasteners, materials
from geometry.tables.known import MM_PER_INCH, origin
from geometry.units import force_units
from geometry.units.units import format_angle, format_length, format_mass
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import both, unbroken
from templates_out.pages.shop.shop_holes import NOT_KNOWN, UNITS

GUESS = "a guess"
_LAST = 5  # sections of the card up to the bracket's: the later ones are decided or bought, not measured
_IN_A_SENTENCE = 5  # limits, at the most
_HEADS, _AT = ("how", "within", "readings"), (0.0, 0.14, 0.235)


def unsure(design: Design) -> str:
    """Name the guesses and the gaps among the readings; "" where all were taken."""
    groups: dict[str, dict[tuple[str, str], list[str]]] = {}
    for measure in measures(design):
        # A usual balance point counts where none was read, and a second reading is wanted only where the first is in doubt.
        spare = measure.get(design) is None and (measure.second or measure.key.endswith(".centre_aft"))
        if wanted(measure) and not spare:
            how, _, value = reading(design, measure)
            if how in (NOT_KNOWN, GUESS):
                motor, name, part = _named(design, measure)
                groups.setdefault(how, {}).setdefault((motor, name), []).append(f"{part} {value}".strip())
    said = [f"{how[:1].upper()}{how[1:]}: {_sentences(groups[how])}" for how in (NOT_KNOWN, GUESS) if how in groups]
    return " ".join(said)


def _sentences(named: dict[tuple[str, str], list[str]]) -> str:
    """Return a sentence for each name with its values; a motor is named before its first one."""
    sentences, last = [], ""
    for (motor, name), values in named.items():
        whose = f"{motor}: " if motor not in ("", last) else ""
        sentences.append(f"{whose}{name} {', '.join(filter(None, values))}".rstrip(": ") + ".")
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
    if bolts(design):
        lines[f"Core: {origin(materials.core(design.transom.core).source)}."] = None
    if design.mounts:
        lines[f"Power: {origin(capacity.SOURCE)}. Weights next to the motor: a table like that of ABYC S-30."] = None
    lines["Loads: stay out from under them, 29 CFR 1910.184. Glass dust: limit 5 mg/m3, NIOSH."] = None
    lines["The manual’s page Where the numbers come from says how well we read each of them."] = None
    return [writable(line) for line in lines]
