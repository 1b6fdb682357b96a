"""The planning page, printed before a motor is bought: what the first readings say of the motor that this boat can carry.

Each part has its figures, or says which reading is missing and has a blank for it. Nobody drills by this page.
"""

from __future__ import annotations

import datetime
import math
from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.decide.planning import Shaft, after, more_mass, room_of, shafts, sinks
from geometry.judge.powering import by_the_rule
from geometry.judge.weight import motors_mass
from geometry.readings.measures import measure, name_of
from geometry.solid.bracket_holes import mount_key
from geometry.solid.faces import Unmeasured
from geometry.solid.openings import openings
from geometry.tables import trade
from geometry.tables.papers import paper as paper_named
from geometry.units import force_units
from geometry.units.units import format_angle, format_length, format_mass, format_reading
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import across, below, both, printed
from templates_out.layout.reading_pages import BODY, Piece, Sheet, Writing, flowed, gap

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Page

ABOUT = "before you buy a motor"
AIR = (1.0, 0.8, 0.6)  # how much of the usual white; the first that fits
_COARSE = {"in": 25.4 / 4, "mm": 5.0}  # [mm] steps of what a rule of thumb gives
_ANSWERS = {
    "suits": "suits this transom",
    "too short": "too short: its AV plate is too high",
    "too long": "too long: its AV plate is too deep",
    "measure first": "may suit: measure the motor first",
}
_NEW_MASS = "new mass"  # where no motor hangs yet
_BEHIND = ("transom.height", "transom.rake", "well.floor_port", "well.floor_starboard", "boat.length", "boat.beam")
_FIRST = (
    "Nobody drills by this page. The boat’s capacity plate, the makers’ instructions and local law come before it. Fuel, "
    "steering and wiring may need a licensed technician. Ask before you buy."
)


def planning_pages(checked: Checked, date: datetime.date, paper: str = "letter") -> tuple[Page, ...]:
    """Return the planning page.

    Raises:
        OwnerError: there is no such paper.
    """
    sheet = Sheet(checked.design, date, paper_named(paper))
    top = sheet.headed("", "")[1]
    pages: list[Writing] = []
    for air in AIR:
        pages = flowed(_pieces(checked, replace(sheet, air=air)), top, top)
        if len(pages) == 1:
            break
    return tuple(
        sheet.page(
            page.with_marks((*sheet.headed("Planning", ABOUT)[0], *sheet.numbered(number, len(pages)))), f"Planning {number}"
        )
        for number, page in enumerate(pages, start=1)
    )  # fmt: skip


def _pieces(checked: Checked, sheet: Sheet) -> Iterator[Piece]:
    yield _said(sheet, _FIRST, bold=True)
    yield from _guesses(checked, sheet)
    yield from _shaft_lengths(checked.design, sheet)
    yield from _weight(checked.design, sheet)
    yield from _power(checked, sheet)
    yield from _rigging(checked.design, sheet)


def _said(sheet: Sheet, text: str, *, bold: bool = False) -> Piece:
    return Piece(partial(sheet.paragraph, text=printed(text), size=BODY, bold=bold))


def _headed(sheet: Sheet, text: str) -> Piece:
    return Piece(partial(sheet.heading, text=text), tied=True)


def _blanks(sheet: Sheet, *labels: tuple[str, float]) -> Iterator[Piece]:
    """Yield a line of labels, each with a blank."""
    yield Piece(lambda y: sheet.blank(y, *labels), tied=True)
    yield Piece(gap)


def _lacking(design: Design, keys: tuple[str, ...], sheet: Sheet) -> Iterator[Piece]:
    """Yield a blank with its unit for each reading of ``keys`` that is missing, two in a line."""
    named = [_label(design, key) for key in keys if key == _NEW_MASS or _is_missing(design, key)]
    for first in range(0, len(named), 2):
        some = named[first : first + 2]
        yield from _blanks(sheet, *((label, 0.5 * place) for place, label in enumerate(some)))


def _is_missing(design: Design, key: str) -> bool:
    row = measure(design, key)
    return row is not None and row.get(design) is None


def _label(design: Design, key: str) -> str:
    if key == _NEW_MASS:
        return f"new motor, weight, {_mass_unit(design)}"
    row = measure(design, key)
    unit = {"length": design.units, "angle": "degrees", "mass": _mass_unit(design)}[row.kind] if row is not None else ""
    return f"{writable(name_of(design, key))}, {unit}"


def _mass_unit(design: Design) -> str:
    return "lb" if design.units == "in" else "kg"


def _guesses(checked: Checked, sheet: Sheet) -> Iterator[Piece]:
    """Yield which readings behind the page are still guesses."""
    design = checked.design
    names = [name_of(design, key) for key in _BEHIND if key in design.readings and design.readings[key].state == "guess"]
    if names:
        yield _said(sheet, f"Still a guess: {writable(', '.join(names))}. Measure before you buy.", bold=True)


def _shaft_lengths(design: Design, sheet: Sheet) -> Iterator[Piece]:
    """Yield a table of shaft lengths for each height at which a motor hangs; one for a boat without a motor."""
    yield _headed(sheet, "Shaft length")
    unit, done = design.units, set()
    for index in range(len(design.mounts)) or (None,):
        try:
            room, rows = room_of(design, index), shafts(design, index)
        except Unmeasured:
            yield from _lacking(design, ("transom.height", "transom.rake", *_aside(design, index)), sheet)
            break
        if rows in done:
            continue
        done.add(rows)
        whose = "" if index is None or len(design.mounts) == 1 else f" at the {writable(design.mounts[index].name)}"
        in_well = f" In this well the hook is at least {format_reading(room.least, unit)} above the top edge."
        yield _said(
            sheet, f"The transom is {format_reading(room.height, unit)} high{whose}, plumb, with a rake of "
            f"{format_angle(room.rake)}. The bracket’s holes can lift the motor by up to {format_reading(room.most, unit)}."
            f"{in_well if room.by_well else ''}",
        )  # fmt: skip
        heads = ("shaft", "AV plate, motor at its lowest", "usual: hook above the top", "answer")
        yield from sheet.pieces(heads, [_shaft_row(design, row) for row in rows], (0.0, 0.2, 0.5, 0.74))
    low, high = (format_reading(mm, unit) for mm in (0.0, trade.PLATE_HEIGHT[1]))
    over = format_reading(trade.SHAFT_OVER, unit)
    yield _said(
        sheet, f"On a planing hull the AV plate is usually {low.removesuffix(f' {unit}')} to {high} above the hull’s bottom, "
        "higher with a set-back. 15, 20 and 25 in are names, not sizes. From bracket hook to AV plate a motor is up to "
        f"{over} longer. All this is common practice. Measure the motor that you mean to buy.",
    )  # fmt: skip


def _aside(design: Design, index: int | None) -> tuple[str, ...]:
    """Return the readings that a motor's place across needs too."""
    return () if index is None else (mount_key(index, "offset"), "transom.deadrise")


def _shaft_row(design: Design, row: Shaft) -> tuple[str, ...]:
    unit = design.units
    name = f"this one, {format_reading(row.shortest, unit)}"
    if row.nominal is not None:
        inch = f"{row.nominal / 25.4:.0f} in"
        name = inch if unit == "in" else f"{row.nominal:.0f} mm ({inch})"
    low, high = row.av_plate
    plate = _over(high, design) if row.nominal is None else f"{_over(low, design)} to {_over(high, design)}"
    lift = "none"
    if row.answer in ("suits", "measure first"):
        lift = f"{format_reading(row.lift[0], unit).removesuffix(f' {unit}')} to {format_reading(row.lift[1], unit)}"
    return tuple(map(printed, (name, plate, lift, _ANSWERS[row.answer])))


def _over(mm: float, design: Design) -> str:
    return f"{format_reading(abs(mm), design.units)} {'above' if mm >= 0 else 'below'}"


def _weight(design: Design, sheet: Sheet) -> Iterator[Piece]:
    yield _headed(sheet, "Weight and trim")
    unit = design.units
    masses = tuple(mount_key(index, "mass") for index in range(len(design.mounts))) or (_NEW_MASS,)
    yield from _lacking(design, ("boat.old_motor.mass", *masses, "boat.length", "boat.beam"), sheet)
    try:
        more = more_mass(design)
    except Unmeasured:
        yield _said(sheet, "A new motor often weighs 15 to 40 % more than an old one of the same power (common practice).")
        yield from _afloat(design, sheet)
        return
    old, new = (format_mass(mass, unit) for mass in (motors_mass(design) - more, motors_mass(design)))
    change = f"{format_mass(abs(more), unit)} {'more' if more >= 0 else 'less'}"
    text = f"The old motor has {old}, {'the new one has' if len(design.mounts) == 1 else 'the new ones have'} {new}: {change}."
    try:
        box, wedge = sinks(design)
    except Unmeasured:
        yield _said(sheet, text)
        yield from _afloat(design, sheet)
        return
    yield _said(
        sheet, f"{text} By a rule of thumb the stern {_moves(box, wedge, design)}. The less is for a hull like a box, the more "
        "for one like a wedge. Length and beam on the water count as 0.9 of the boat’s (our assumption). The rule is our "
        "calculation for fresh water, at rest. It knows nothing of your hull.",
    )  # fmt: skip
    yield from _afloat(design, sheet)
    if more > 0:
        weigh = f"Prove it before you buy. Let people who weigh {format_mass(more, unit)} stand at the transom"
        yield _said(sheet, f"{weigh}, with the old motor hung. Look at scuppers, well and trim in calm water.")


def _moves(box: float, wedge: float, design: Design) -> str:
    """Say how far the stern sinks or rises: "sinks by 1/2 to 1 in"."""
    low, high = sorted((abs(box), abs(wedge)))
    most = _coarse(high, design, math.ceil)
    if box * wedge < 0:
        return f"moves by at most {most}"
    least = _coarse(low, design, math.floor).removesuffix(f" {design.units}")
    return f"{'sinks' if wedge >= 0 else 'rises'} by {least} to {most}"


def _afloat(design: Design, sheet: Sheet) -> Iterator[Piece]:
    """Yield how high each part is above the water, now and with the new motor."""
    yield from sheet.pieces(
        ("at rest, nobody aboard", "above the water now", "with the new motor, about", "answer"),
        [_afloat_row(design, *part) for part in _parts(design)], (0.0, 0.24, 0.45, 0.68),
    )  # fmt: skip


def _parts(design: Design) -> tuple[tuple[str, float | None], ...]:
    afloat = design.boat.afloat
    return ("transom’s top edge", afloat.top_edge), ("lowest scupper", afloat.scupper), ("well’s drain", afloat.drain)


def _afloat_row(design: Design, name: str, above: float | None) -> tuple[str, ...]:
    unit = design.units
    if above is None:
        return name, f"________ {unit}", "", "not measured yet, or there is none"
    try:
        left = after(design, above)
    except Unmeasured:
        return name, printed(format_reading(above, unit)), "", "needs the values that are not known"
    answer = "above the water"
    if left < trade.NEAR_WATER:
        answer = f"nearer than {format_reading(trade.NEAR_WATER, unit)}: waves come in"
    if left < 0:
        answer = "under water: choose a lighter motor"
    return name, printed(format_reading(above, unit)), printed(_coarse(left, design, math.floor)), printed(answer)


def _coarse(mm: float, design: Design, rounded: Callable[[float], int]) -> str:
    step = _COARSE[design.units]
    whole = rounded(mm / step + (1e-9 if rounded is math.floor else -1e-9)) * step
    return format_length(whole, design.units, denominator=4)


def _power(checked: Checked, sheet: Sheet) -> Iterator[Piece]:
    """Yield the capacity plate's figures, and what the checks say of power, weight and persons."""
    yield _headed(sheet, "Power and persons")
    design = checked.design
    plate, unit = design.boat.plate, design.units
    figures = (
        ("power", "hp" if unit == "in" else "kW", None if plate.power_kw is None else force_units.power(plate.power_kw, unit)),
        *(
            (name, _mass_unit(design), None if mass is None else format_mass(mass, unit))
            for name, mass in (("motor", plate.motor_mass), ("persons", plate.persons_mass), ("in all", plate.total_mass))
        ),
    )
    entered = [f"{name} {figure}" for name, _, figure in figures if figure is not None]
    if entered:
        yield _said(sheet, f"The capacity plate says: {', '.join(entered)}.")
    lacking = [f"{name}, {word}" for name, word, figure in figures if figure is None]
    if lacking:
        labels = (f"Capacity plate: {lacking[0]}", *lacking[1:])
        yield from _blanks(sheet, *((label, index and 0.1 + 0.9 * index / len(labels)) for index, label in enumerate(labels)))
    every = [each for each in checked.findings if each.check in ("power", "weight")]
    for each in every:
        yield _said(sheet, each.text)
    if not design.mounts:
        yield _said(sheet, by_the_rule(design).text)
    yield _said(
        sheet, "Power by 33 CFR 183.53 and persons by 33 CFR 183.41 are rules of the United States for builders. They permit "
        "nothing. Elsewhere ISO 11592 and ISO 14946 apply. The capacity plate comes first everywhere.",
    )  # fmt: skip


def _rigging(design: Design, sheet: Sheet) -> Iterator[Piece]:
    yield _headed(sheet, "Cables, hoses and rigging tube")
    unit = design.units
    least, most = (format_reading(mm, unit) for mm in trade.CABLE_ROOM)
    room = f"{least.removesuffix(f' {unit}')} to {most}"
    for text in (
        f"Steering cable: its rod comes out of one end of the tilt tube. It needs {room} clear there (common practice). "
        "Hydraulic steering: its cylinder moves above and ahead of the bracket.",
        "Hang a rope of the length of each cable and hose. Turn it to both locks and up to full tilt. Nothing may stretch, "
        "kink or rub.",
    ):  # fmt: skip
        yield _said(sheet, text)
    yield from _blanks(sheet, (f"Clear at the tilt tube, {unit}: port", 0.0), ("starboard", 0.55))
    yield from _blanks(sheet, (f"Across, {unit}: all cables and hoses", 0.0), ("rigging tube, inside", 0.48), ("its hole", 0.8))
    rows = []
    for opening in openings(design):
        try:
            u, v = opening.at
            where = f"{across(u, unit)}, {below(v, unit)}"
        except Unmeasured:
            where = "not measured yet"
        work = "open it to" if opening.is_there else "drill"
        rows.append((writable(opening.name), printed(where), printed(f"{work} {both(opening.diameter, unit)}")))
    if rows:
        yield from sheet.pieces(("hole for a cable, hose or tube", "where, on the outer face", "size"), rows, (0.0, 0.28, 0.72))
    else:
        yield _said(sheet, "No hole for them is entered. A fitting or an old hole can have one. Type its size on the card.")
