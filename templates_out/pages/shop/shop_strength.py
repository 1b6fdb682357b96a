"""The shop sheet's lines on strength and power: clamp and core by torque, what pulls the bolts, the plate or the rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from geometry.design import forces
from geometry.design.design import Design
from geometry.design.units import Unit, format_length, format_mass
from geometry.judge.findings import Checked
from geometry.judge.loads import Loads, OldMotorRatios, SourcedValue, bolt_loads, ratios_to_old_motor
from geometry.judge.opening import clamp_left
from geometry.judge.pressed_area import area_of
from geometry.judge.strength import (
    PLATE,
    Allowed,
    allowed,
    core_supports,
    drag_words,
    may_be_wet,
    post_words,
    proof_load,
    shares,
    span,
    threads,
    with_plate,
)
from geometry.judge.torque import clamps, drag
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt, bolts
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import printed, unbroken
from templates_out.layout.reading_pages import ROW, Piece, Sheet, gap
from templates_out.pages.shop.shop_holes import NOT_KNOWN

SCREENING = "This is screening, to compare and to be wary by: it promises nothing of the transom’s strength."
_HEADS, _AT = ("pair", "wrench torque", "pulls each bolt with", "of its proof load", "presses the core with",
               "of what it bears"), (0.0, 0.12, 0.29, 0.48, 0.64, 0.86)  # fmt: skip

Row = tuple[str, ...]


def strength_pieces(checked: Checked, sheet: Sheet) -> Iterator[Piece]:
    """Yield what each torque does, what each washer allows, what pulls the bolts, and what the boat may carry."""
    design, every = checked.design, bolts(checked.design)
    told: list[str] = []
    if every:
        yield Piece(partial(sheet.heading, text="Clamp, core and load"), tied=True, names="strength")
        yield Piece(partial(sheet.paragraph, text=SCREENING, size=ROW), tied=True)
        yield Piece(gap, tied=True)
        yield from sheet.pieces(_HEADS, pulls(every), _AT)
        for heads, rows in core_tables(every):
            yield from sheet.pieces(heads, rows, sheet.columns(heads, rows))
        cures = dict.fromkeys(one.remedy for one in checked.findings if one.check == "clamp" and one.remedy)
        told = [" ".join((*notes(every), *cures)), *load_words(design)]
    power = power_words(checked)
    told += [f"Power and weight. {power}"] if power else []
    for left, text in zip(range(len(told), 0, -1), told, strict=True):  # the last one never stands on a page alone
        yield Piece(partial(sheet.paragraph, text=printed(text), size=ROW), tied=left <= 2)
        yield Piece(gap if left == 1 else lambda y: ((), y - 0.6), tied=left == 2)


def pulls(every: tuple[Bolt, ...]) -> list[Row]:
    """Return a row for each pair, those alike in one: torque, force, share of the proof load, pressure, share of the core's."""
    found: dict[Row, list[str]] = {}
    several = len({bolt.mount_index for bolt in every}) > 1
    for bolt in every:
        if bolt.port:
            name = f"{writable(bolt.mount.name)}, {bolt.pair}" if several else bolt.pair
            found.setdefault(_pull(bolt), []).append(name)
    pairs = {tuple(names): told for told, names in found.items()}
    return [("all" if len(found) == 1 else "; ".join(names), *told) for names, told in pairs.items()]


def _pull(bolt: Bolt) -> Row:
    unit = bolt.design.units
    try:
        low, high = clamps(bolt)
    except Unmeasured:
        return (NOT_KNOWN,) * 5
    proof = proof_load(bolt)
    told = (_nm(bolt.hardware.torque or 0.0, unit), _range(low, high, unit, forces.force),
            shares(low / proof, high / proof))  # fmt: skip
    try:
        area, most = area_of(bolt), core_supports(bolt)
    except Unmeasured:
        area, most = 0.0, None
    if area <= 0:
        return (*told, NOT_KNOWN, NOT_KNOWN)
    core = NOT_KNOWN if most is None else shares(low / area / most, high / area / most)
    return (*told, _range(low / area, high / area, unit, forces.pressure), core)


def core_tables(every: tuple[Bolt, ...]) -> list[tuple[Row, list[Row]]]:
    """Return heads and rows of a table for each size of bolt and washer: the torques that the core allows with each washer."""
    found: dict[tuple[Allowed, ...], list[Bolt]] = {}
    for bolt in every:
        try:
            told = (*allowed(bolt), with_plate(bolt))
        except Unmeasured:
            continue
        found.setdefault(told, []).append(bolt)
    tables = []
    for told, mine in found.items():
        unit = mine[0].design.units
        pairs = dict.fromkeys(bolt.pair for bolt in mine)
        which = f"the {next(iter(pairs))} pair’s core" if len(pairs) == 1 else "the core"
        heads = tuple(f"{format_length(one.outer, unit, style='paper')} {_SHORT.get(one.name, 'across')}" for one in told[:-1])
        plate = " on ".join(format_length(mm, unit, style="paper") for mm in (told[-1].outer, PLATE[unit])) + " plate"
        easy, most = (tuple(_nm(torque, unit, down=True) for torque in column)
                      for column in zip(*((one.easy, one.most) for one in told), strict=True))  # fmt: skip
        rows: list[Row] = [("wrench torque, easily", *easy), ("wrench torque, at most", *most)]
        tables.append(((f"{which}, washers", *heads, plate), rows))
    return tables


_SHORT = {"the washer at hand": "as they are"}


def notes(every: tuple[Bolt, ...]) -> list[str]:
    """Return where the figures of both tables are from."""
    unit, found = every[0].design.units, list[str]()
    for bolt in every:
        try:
            said = threads(bolt)
        except Unmeasured:
            continue
        found.append(f"{_capital(said)}; a wrench is a quarter off either way, dry a third (NASA-STD-5020B).")
        found.append(f"{_capital(drag_words(bolt))}.")
    most = core_supports(every[0])
    wet = " Nobody has said that it is dry: wet, it bears half." if may_be_wet(every[0].design.transom) else ""
    cut = " A flat cut counts above." if any(bolt.hardware.washer.flat_cut is not None for bolt in every) else ""
    if most is not None:
        found.append(
            f"The core is taken to bear {forces.pressure(most, unit)} (see sources); pressed up to 1.67 times as hard it is "
            f"to be watched: washers sink in.{wet}{cut} Skin and plate spread the load at 45°, our assumption."
        )
    for bolt in every:
        try:
            filled = post_words(bolt)
        except Unmeasured:
            filled = "what an epoxy-filled hole carries depends on the drilled size and the torque"
        found += [f"{_capital(filled)}."] if filled else []
    return list(dict.fromkeys(found))


def load_words(design: Design) -> list[str]:
    """Return what pulls the bolts of each motor, from what, and how all motors stand to the one before."""
    told: dict[str, list[str]] = {}
    for index, mount in enumerate(design.mounts):
        if mount.bracket.rows is None:
            continue
        try:
            text = _pulled(design, index, bolt_loads(design, index))
        except Unmeasured:
            text = "What weight and thrust pull on the bolts can’t be told without the motor’s mass, power and leg."
        told.setdefault(text, []).append(writable(mount.name))
    several = len(design.mounts) > 1
    found = [f"{_capital(', '.join(names))}: {text[:1].lower()}{text[1:]}" if several else text for text, names in told.items()]
    before = _before(ratios_to_old_motor(design))
    return [*found, before] if before else found


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _pulled(design: Design, index: int, loads: Loads) -> str:
    unit, mass = design.units, design.mounts[index].mass or 0.0
    say = partial(forces.force, unit=unit)
    text = (
        f"With {format_mass(mass, unit)}, {loads.shock.value:g} times that where the boat slams{_from(loads.shock)}, balanced "
        f"{_aft(loads.centre_aft, unit)}, thrust {say(loads.thrust.value)}{_from(loads.thrust)}: ahead each upper bolt is "
        f"pulled with {say(loads.upper)}, in reverse, with four tenths of the thrust, each lower one with {say(loads.lower)}"
    )
    ours = [bolt for bolt in bolts(design) if bolt.mount_index == index and bolt.port]
    try:
        left = [clamp_left(bolt) for bolt in ours]
    except Unmeasured:
        return f"{text}. Whether the joint stays shut is not known before torque, friction and the lock nut’s drag are."
    stays = all(pull <= held for pull, held in zip((loads.upper, loads.lower), left, strict=True))
    end = "the joint stays shut" if stays else "a pair is pulled with more, and its joint may open"
    half = any(drag(bolt).known == "published" for bolt in ours)
    counted = " (half of the highest published drag counted)" if half else ""
    return f"{text}. Once all has settled by 30 %, {say(min(left))} of clamp is left at the least{counted}: {end}."


def _aft(given: SourcedValue, unit: Unit) -> str:
    return f"{format_length(given.value, unit)} aft of the transom{_from(given)}"


def _from(given: SourcedValue) -> str:
    return "" if given.source == "entered" else f" ({given.source})"


def _before(against: OldMotorRatios) -> str:
    ratios = (("mass", against.mass), ("power", against.power), ("moment about the transom", against.moment))
    told = [f"{value:.2f} times its {word}" for word, value in ratios if value]
    if not told:
        return ""
    return f"Against the motor before: {', '.join(told)}. Where it is much over 1, look at the transom and its knees first."


def power_words(checked: Checked) -> str:
    """Return what to do about power and weight; "" for nothing."""
    return " ".join(one.remedy for one in checked.findings if one.check in ("power", "weight") and one.remedy)


def _nm(value: float, unit: Unit, *, down: bool = False) -> str:
    other: Unit = "mm" if unit == "in" else "in"
    return unbroken(f"{forces.torque(value, unit, down=down)} ({forces.torque(value, other, down=down)})")


def _range(low: float, high: float, unit: Unit, say: Callable[..., str]) -> str:
    return unbroken(span(low, high, partial(say, unit=unit)))
