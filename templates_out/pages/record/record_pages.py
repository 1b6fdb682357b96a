"""The record for the next owner or surveyor: holes as drilled and as planned, old holes, bolts, torque, what is under sealant.

It has a blank to fill in by hand for each value that nobody read, and only blanks where nothing was entered.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from geometry.decide.amounts_to_buy import has_wood
from geometry.decide.old_holes import reused_by
from geometry.design.boat import OldHole
from geometry.design.design import Design
from geometry.design.validity import Pair
from geometry.drilling.as_drilled import is_drilled, off_plan
from geometry.drilling.as_drilled_words import bracket_words, own_words
from geometry.errors import OwnerError
from geometry.judge.findings import Checked
from geometry.judge.wood_around_holes import core_bore
from geometry.readings.drilled_readings import drilled_of
from geometry.solid.faces import Unmeasured
from geometry.solid.openings import openings
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.tables.papers import paper as paper_named
from geometry.units import force_units
from geometry.units.units import format_length
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Page
from templates_out.drawing.sheet_figures import printed
from templates_out.layout.reading_pages import ROW, Piece, Sheet, Writing, Written, flowed, gap
from templates_out.pages.shop.shop_holes import known
from templates_out.pages.shop.shop_pictures import face_picture

ABOUT = "keep it with the boat’s papers"
BLANK = "_" * 12
_NONE: Pair = (None, None)
HIGH, AIR = (66.0, 48.0, 30.0), (1.0, 0.7)  # mm: height of a picture, and how much of the usual white; the first that fits
HEADS = ("hole", "outside, planned", "outside, as drilled", "inside, planned", "inside, as drilled", "diameter", "read with")
_AT = (0.0, 0.13, 0.30, 0.47, 0.64, 0.80, 0.91)
_BOLTS = ("pair", "bolt", "nut", "inside washer", "wrench torque", "tightened to", "on the day")
_BOLTS_AT = (0.0, 0.09, 0.29, 0.50, 0.64, 0.77, 0.89)


def record_pages(checked: Checked, date: datetime.date, paper: str = "letter") -> tuple[Page, ...]:
    """Return the record.

    Raises:
        OwnerError: no motor is bolted on, or there is no such paper.
    """
    design = checked.design
    bolted = list(dict.fromkeys(bolt.mount_index for bolt in bolts(design)))
    if not bolted:
        raise OwnerError("No motor is bolted to this boat, so there are no holes to record. Hang one with bolts first.")
    motors = [index for index in bolted if is_drilled(design, index)] or bolted
    sheet = Sheet(design, date, paper_named(paper))
    top = sheet.headed("", "")[1]
    tries = (flowed(_pieces(checked, replace(sheet, air=air), motors, high), top, top) for high in HIGH for air in AIR)
    pages: list[Writing] = []
    for pages in tries:
        if len(pages) == 1:
            break
    return tuple(
        sheet.page(
            page.with_marks((*sheet.headed("Record for the next owner", ABOUT)[0], *sheet.numbered(number, len(pages)))),
            f"Record {number}",
        )
        for number, page in enumerate(pages, start=1)
    )  # fmt: skip


def _pieces(checked: Checked, sheet: Sheet, motors: list[int], high: float) -> Iterator[Piece]:
    """Yield the picture of all motors, each motor's holes, plugs, bolts, and what is under the sealant."""
    design = checked.design
    yield Piece(partial(_picture, checked, sheet, motors[0], high), tied=True)
    yield Piece(partial(sheet.paragraph, text="Seen from astern. × as drilled, + as planned. Depths are along each "
                        "face, from its own top edge.", size=ROW), tied=True)  # fmt: skip
    for index in motors:
        name = f": {writable(design.mounts[index].name)}" if len(design.mounts) > 1 else ""
        yield Piece(partial(sheet.heading, text=f"The holes as drilled{name}"), tied=True)
        yield from sheet.pieces(HEADS, _holes(design, index), _AT)
        for text in _known_lines(design, index) if is_drilled(design, index) else ():
            yield Piece(partial(sheet.paragraph, text=printed(text)))
    yield from _old_holes(design, sheet)
    yield from _bolted(design, sheet, motors)
    yield from _sealed(design, sheet, motors)


def _picture(checked: Checked, sheet: Sheet, index: int, high: float, y: float) -> Written:
    return face_picture(checked, index, (sheet.left, y - high, sheet.right, y)), y - high - 1.0


def _holes(design: Design, index: int) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    for bolt in bolts(design):
        if bolt.mount_index == index:
            held = drilled_of(design, index, bolt.name)
            outer, inner = (_NONE, _NONE) if held is None else (held.outer, _inside(bolt, held.inner))
            read = any(value is not None for value in (*outer, *inner))
            rows.append((
                bolt.name, known(partial(_planned_outside, bolt)), _place(design, *outer),
                known(partial(_planned_inside, bolt)), _place(design, *inner), _across(design, bolt), _how(design, bolt, read),
            ))  # fmt: skip
    return rows


def _inside(bolt: Bolt, inner: Pair) -> Pair:
    """Return an inner end with its depth below the inside top edge."""
    u, y = inner
    well = bolt.design.well
    if y is None or well is None or well.well_from == "inside top edge":
        return u, y
    try:
        return u, y - bolt.faces.edge_w
    except Unmeasured:
        return u, None


def _planned_outside(bolt: Bolt) -> str:
    return _place(bolt.design, bolt.u, bolt.v)


def _planned_inside(bolt: Bolt) -> str:
    return _place(bolt.design, bolt.exit.u, bolt.exit.w - bolt.faces.edge_w)


def _place(design: Design, u: float | None, up: float | None) -> str:
    across = BLANK
    if u is not None:
        across = f"{_length(design, abs(u))} {'port' if u < 0 else 'stbd'}"
    down = BLANK if up is None else f"{_length(design, -up)} down"
    return BLANK if u is None and up is None else f"{across}, {down}"


def _across(design: Design, bolt: Bolt) -> str:
    held = drilled_of(design, bolt.mount_index, bolt.name)
    size = None if held is None else held.diameter
    return BLANK[:6] if size is None else _length(design, size)


def _how(design: Design, bolt: Bolt, read: bool) -> str:
    held = drilled_of(design, bolt.mount_index, bolt.name)
    return BLANK[:6] if held is None or not read else held.how


def _length(design: Design, mm: float) -> str:
    return format_length(mm, design.units, denominator=32, style="paper")


def _known_lines(design: Design, index: int) -> tuple[str, ...]:
    """Say whether the bracket goes on; a line about the lean of each hole whose both ends were read."""
    try:
        leans = [f"{off.name} {off.lean:.1f}°" for off in off_plan(design, index) if off.lean is not None]
    except Unmeasured:
        return ()
    said = (f"Off the planned direction: {', '.join(leans)}.",) if leans else ()
    return (*own_words(design, index), *bracket_words(design, index), *said)


def _old_holes(design: Design, sheet: Sheet) -> Iterator[Piece]:
    """Yield a row for each old hole, and for each hole that is drilled for a cable or a hose."""
    yield Piece(partial(sheet.heading, text="Old holes, and holes for cables"), tied=True)
    used = reused_by(design).values()
    rows = [_old_hole(design, old, used=old in used) for old in design.old_holes]
    rows += [
        (writable(each.name), _place(design, each.at_u, each.at_v), _length(design, each.diameter), "new", "", _FOR_A_CABLE)
        for each in openings(design) if not each.is_there
    ]  # fmt: skip
    if rows:
        heads = ("hole", "where, outside", "across", "state", "its plug, across", "filled with, on the day")
        yield from sheet.pieces(heads, rows, (0.0, 0.22, 0.46, 0.57, 0.69, 0.82))
    yield Piece(lambda y: sheet.blank(y, ("Other plugs, wet places, repairs", 0.0)))


def _old_hole(design: Design, old: OldHole, *, used: bool) -> tuple[str, ...]:
    """Return an old hole's row; one that a bolt uses, or that is opened for a cable, is never filled."""
    across = _some(design, old.diameter)
    first = writable(old.name), _place(design, *old.at)
    if old.drill is not None:
        return (*first, _length(design, max(old.drill, old.diameter or 0.0)), "opened", "", _FOR_A_CABLE)
    if used:
        return (*first, across, old.state, "", "a bolt goes through it")
    return (*first, across, old.state, _some(design, old.plug_diameter), BLANK)


_FOR_A_CABLE = "for a cable or a hose"


def _some(design: Design, size: float | None) -> str:
    return BLANK[:6] if size is None else _length(design, size)


def _bolted(design: Design, sheet: Sheet, motors: list[int]) -> Iterator[Piece]:
    yield Piece(partial(sheet.heading, text="Bolts and torque"), tied=True)
    rows = []
    for bolt in bolts(design):
        if bolt.mount_index in motors and bolt.port:
            fitted = bolt.hardware
            several = f"{writable(bolt.mount.name)}, " if len(design.mounts) > 1 else ""
            torque = BLANK[:6] if fitted.torque is None else force_units.torque(fitted.torque, design.units)
            rows.append((f"{several}{bolt.pair}", known(partial(_bolt, bolt)), fitted.nut, known(partial(_washer, bolt)),
                         torque, BLANK[:8], BLANK[:8]))  # fmt: skip
    yield from sheet.pieces(_BOLTS, rows, sheet.columns(_BOLTS, rows) if len(design.mounts) > 1 else _BOLTS_AT)


def _bolt(bolt: Bolt) -> str:
    length = bolt.length
    long = BLANK[:6] if length is None else format_length(length, "in" if bolt.thread.inch else "mm", style="paper")
    return f"{bolt.hardware.bolt} × {long}, {bolt.hardware.grade}"


def _washer(bolt: Bolt) -> str:
    outer, thick = bolt.hardware.washer.outer, bolt.hardware.washer.thickness
    return ", ".join(BLANK[:6] if size is None else _length(bolt.design, size) for size in (outer, thick))


def _sealed(design: Design, sheet: Sheet, motors: list[int]) -> Iterator[Piece]:
    """Yield what is under the sealant as it was to be done, each with a blank for what was done."""
    yield Piece(partial(sheet.heading, text="Under the sealant"), tied=True)
    names_of: dict[str, list[str]] = {}
    for bolt in bolts(design):
        if bolt.mount_index in motors and bolt.port:
            several = f"{writable(bolt.mount.name)}, " if len(design.mounts) > 1 else ""
            plate = ", a backing plate under the washers" if bolt.plate is not None else ""
            bore = known(lambda bolt=bolt: _length(design, core_bore(bolt)))  # type: ignore[misc]
            planned = f"core to be bored to {bore} and filled with epoxy{plate}." if has_wood(design) else f"sealed{plate}."
            names_of.setdefault(planned, []).append(f"{several}{bolt.pair}")
    for planned, names in names_of.items():
        text = f"{'all' if len(names_of) == 1 else '; '.join(names)} holes: {planned}"
        yield Piece(partial(sheet.paragraph, text=printed(f"{text[:1].upper()}{text[1:]}")), tied=True)
        yield Piece(lambda y: sheet.blank(y, ("as done", 0.0), ("epoxy, sealant, makers", 0.4)), tied=True)
        yield Piece(gap)
    yield Piece(lambda y: sheet.blank(y, ("Drilled by", 0.0), ("date", 0.45), ("photographs kept at", 0.65)), tied=True)
    yield Piece(lambda y: sheet.blank(y, ("Motor’s serial number", 0.0), ("next check of the torque", 0.5)))
