"""Strength and power on the shop sheet: clamp and core by torque, the pull on the bolts, the capacity plate or the rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from geometry.design import force_units
from geometry.design.assumption_measures import source_of
from geometry.design.design import Design
from geometry.design.units import Unit, format_angle, format_length, format_mass, format_reading
from geometry.judge.findings import Checked
from geometry.judge.joint_opening import clamp_left
from geometry.judge.loads import Loads, OldMotorRatios, SourcedValue, bolt_loads, ratios_to_old_motor
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
from geometry.tables.known import credit
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import printed, unbroken
from templates_out.layout.reading_pages import ROW, Piece, Sheet, gap
from templates_out.pages.shop.shop_holes import NOT_KNOWN

SCREENING = "A rough check, for comparison only. It does not prove that the transom is strong enough."
_HEADS, _AT = ("pair", "wrench torque", "pulls each bolt with", "of its proof load", "presses the core with",
               "of what it supports"), (0.0, 0.12, 0.29, 0.48, 0.64, 0.84)  # fmt: skip

Row = tuple[str, ...]


def strength_pieces(checked: Checked, sheet: Sheet) -> Iterator[Piece]:
    """Yield the pull of each torque, the torque that each washer allows, the loads, and what the boat may carry."""
    design, every = checked.design, bolts(checked.design)
    lines: list[str] = []
    if every:
        yield Piece(partial(sheet.heading, text="Clamp, core and load"), tied=True, names="strength")
        yield Piece(partial(sheet.paragraph, text=SCREENING, size=ROW), tied=True)
        yield Piece(gap, tied=True)
        yield from sheet.pieces(_HEADS, pulls(every), _AT)
        for heads, rows in core_tables(every):
            yield from sheet.pieces(heads, rows, sheet.columns(heads, rows))
        cures = dict.fromkeys(finding.remedy for finding in checked.findings if finding.check == "clamp" and finding.remedy)
        lines = [" ".join((*notes(every), *cures)), *load_words(design)]
    power = power_words(checked)
    lines += [f"Power and weight. {power}"] if power else []
    for left, text in zip(range(len(lines), 0, -1), lines, strict=True):  # the last one never stays alone on a page
        yield Piece(partial(sheet.paragraph, text=printed(text), size=ROW), tied=left <= 2)
        yield Piece(gap if left == 1 else lambda y: ((), y - 0.6), tied=left == 2)


def pulls(every: tuple[Bolt, ...]) -> list[Row]:
    """Return a row for each pair, those alike in one: torque, force, share of the proof load, pressure, share of the core's."""
    names_of: dict[Row, list[str]] = {}
    several = len({bolt.mount_index for bolt in every}) > 1
    for bolt in every:
        if bolt.port:
            name = f"{writable(bolt.mount.name)}, {bolt.pair}" if several else bolt.pair
            names_of.setdefault(_pull(bolt), []).append(name)
    return [("all" if len(names_of) == 1 else "; ".join(names), *cells) for cells, names in names_of.items()]


def _pull(bolt: Bolt) -> Row:
    unit = bolt.design.units
    try:
        low, high = clamps(bolt)
    except Unmeasured:
        return (NOT_KNOWN,) * 5
    proof = proof_load(bolt)
    cells = (_nm(bolt.hardware.torque or 0.0, unit), _range(low, high, unit, force_units.force),
            shares(low / proof, high / proof))  # fmt: skip
    try:
        area, most = area_of(bolt), core_supports(bolt)
    except Unmeasured:
        area, most = 0.0, None
    if area <= 0:
        return (*cells, NOT_KNOWN, NOT_KNOWN)
    core = NOT_KNOWN if most is None else shares(low / area / most, high / area / most)
    return (*cells, _range(low / area, high / area, unit, force_units.pressure), core)


def core_tables(every: tuple[Bolt, ...]) -> list[tuple[Row, list[Row]]]:
    """Return heads and rows of a table for each size of bolt and washer: the torques that the core allows with each washer."""
    alike: dict[tuple[Allowed, ...], list[Bolt]] = {}
    for bolt in every:
        try:
            torques = (*allowed(bolt), with_plate(bolt))
        except Unmeasured:
            continue
        alike.setdefault(torques, []).append(bolt)
    tables = []
    for torques, mine in alike.items():
        unit = mine[0].design.units
        pairs = dict.fromkeys(bolt.pair for bolt in mine)
        which = f"{next(iter(pairs))} washers" if len(pairs) == 1 else "washers on the core"
        size = partial(format_length, unit=unit, style="paper")
        *washers, plated = torques
        heads = tuple(f"{size(each.outer)} {_SHORT.get(each.name, 'across')}" for each in washers)
        plate = f"{size(plated.outer)} on {size(PLATE[unit])} backing plate"
        easy, most = (tuple(_nm(torque, unit, down=True) for torque in column)
                      for column in zip(*((each.easy, each.most) for each in torques), strict=True))  # fmt: skip
        rows: list[Row] = [("advised torque", *easy), ("torque limit", *most)]
        tables.append(((which, *heads, plate), rows))
    return tables


_SHORT = {"the washer at hand": "as chosen"}


def notes(every: tuple[Bolt, ...]) -> list[str]:
    """Return where the figures of both tables are from."""
    unit, lines = every[0].design.units, list[str]()
    for bolt in every:
        try:
            friction = threads(bolt)
        except Unmeasured:
            continue
        lines.append(f"{_capital(friction)}.")
        lines.append("A torque wrench is off by up to 25 %, on dry threads by up to 35 %, from the standard (NASA-STD-5020B).")
        lines.append(f"{_capital(drag_words(bolt))}.")
    design, most = every[0].design, core_supports(every[0])
    wet = " Nobody has said that it is dry: a wet core supports half." if may_be_wet(design.transom) else ""
    cut = " Each flat cut counts in the table." if any(bolt.hardware.washer.flat_cut is not None for bolt in every) else ""
    if most is not None:
        lines.append(
            f"The core is assumed to support {force_units.pressure(most, unit)} (see Sources). "
            "Between that and 1.67 times as much, "
            f"washers may sink in: watch them.{wet}{cut} Skin and backing plate spread the load at "
            f"{format_angle(design.assumptions.spread_angle)}{_set(design, 'spread_angle')}."
        )
    for bolt in every:
        try:
            filled = post_words(bolt)
        except Unmeasured:
            filled = "the load that an epoxy-filled hole carries depends on the drilled size and the torque"
        lines += [f"{_capital(filled)}."] if filled else []
    return list(dict.fromkeys(lines))


def load_words(design: Design) -> list[str]:
    """Return what pulls the bolts of each motor, and how all motors compare with the old one."""
    names_of: dict[str, list[str]] = {}
    for index, mount in enumerate(design.mounts):
        if mount.bracket.rows is None:
            continue
        try:
            text = _pulled(design, index, bolt_loads(design, index))
        except Unmeasured:
            text = "The pull on the bolts is not known without the motor’s mass, power and shaft length."
        names_of.setdefault(text, []).append(writable(mount.name))
    several = len(design.mounts) > 1
    lines = [f"{_capital(', '.join(names))}. {text}" if several else text for text, names in names_of.items()]
    before = _before(ratios_to_old_motor(design))
    return [*lines, before] if before else lines


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _pulled(design: Design, index: int, loads: Loads) -> str:
    unit, mass = design.units, design.mounts[index].mass or 0.0
    say = partial(force_units.force, unit=unit)
    text = (
        f"Weight: {format_mass(mass, unit)}, and {loads.shock.value:g} times that where the boat slams{_from(loads.shock)}. "
        f"Balance point: {_aft(loads.centre_aft, unit)}. Thrust: {say(loads.thrust.value)}{_from(loads.thrust)}. "
        f"Ahead, they pull each upper bolt with {say(loads.upper)}. In reverse, with {_share(design, 'reverse_share')} of the "
        f"thrust{_set(design, 'reverse_share')}, they pull each lower bolt with {say(loads.lower)}."
    )
    ours = [bolt for bolt in bolts(design) if bolt.mount_index == index and bolt.port]
    try:
        left = [clamp_left(bolt) for bolt in ours]
    except Unmeasured:
        return f"{text} Enter torque, friction and the lock nut’s drag to see if the joint stays shut."
    stays = all(pull <= held for pull, held in zip((loads.upper, loads.lower), left, strict=True))
    end = "The joint stays shut." if stays else "That is less than the pull on one pair. Its joint may open."
    published = any(drag(bolt).known == "published" for bolt in ours)
    counted = f", with {_share(design, 'drag_share')} of the highest published drag" if published else ""
    settled = f"After settling by {_share(design, 'settling')}{_set(design, 'settling')}"
    return f"{text} {settled}, each bolt clamps with at least {say(min(left))}{counted}. {end}"


def _share(design: Design, name: str) -> str:
    return force_units.written("share", getattr(design.assumptions, name), design.units)


def _set(design: Design, name: str) -> str:
    """Say in brackets where an assumption is from."""
    return f" ({credit(source_of(design, f'assumptions.{name}'))})"


def _aft(given: SourcedValue, unit: Unit) -> str:
    return f"{format_reading(given.value, unit)} aft of the transom{_from(given)}"


def _from(given: SourcedValue) -> str:
    return "" if given.source == "entered" else f" ({credit(given.source)})"


def _before(against: OldMotorRatios) -> str:
    ratios = (("mass", against.mass), ("power", against.power), ("moment about the transom", against.moment))
    compared = [f"{value:.2f} times its {word}" for word, value in ratios if value]
    if not compared:
        return ""
    return f"Compared with the old motor: {', '.join(compared)}. If one is much over 1, check the transom and its knees first."


def power_words(checked: Checked) -> str:
    """Return what to do about power and weight; "" for nothing."""
    return " ".join(finding.remedy for finding in checked.findings if finding.check in ("power", "weight") and finding.remedy)


def _nm(value: float, unit: Unit, *, down: bool = False) -> str:
    other: Unit = "mm" if unit == "in" else "in"
    return unbroken(f"{force_units.torque(value, unit, down=down)} ({force_units.torque(value, other, down=down)})")


def _range(low: float, high: float, unit: Unit, say: Callable[..., str]) -> str:
    return unbroken(span(low, high, partial(say, unit=unit)))
