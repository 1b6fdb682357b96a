"""Torque on the shop sheet: the pattern of the nuts, the passes, and the record to fill in."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial
from itertools import pairwise

from geometry.design.design import Design
from geometry.design.hardware import BoltName
from geometry.judge.strength import span
from geometry.judge.torque import CROSS, SHARES, clamps
from geometry.judge.torque_passes import Tightening, tightening
from geometry.readings.measures import lacking, name_of
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.tables.known import origin
from geometry.units import force_units
from geometry.units.units import Unit
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Circle, Line, Mark, Path, Point, Text
from templates_out.drawing.sheet_figures import unbroken
from templates_out.drawing.sheet_pens import words
from templates_out.layout.reading_pages import HEAD, ROW, Piece, Sheet, Writing, Written, gap

_UP, _ACROSS, _NARROW, _ROUND = 11.0, 19.5, 15.5, 3.6  # mm: places of the nuts in the pattern, their circles
_PICTURE = 0.36  # share of the width that the pattern takes
_NUTS = (0.0, 0.165, 0.255, 0.395, 0.535, 0.64, 0.74, 0.83, 0.92)


def torque(nm: float, unit: Unit, most: float = math.inf, *, down: bool = False) -> str:
    """Return a torque in both units, neither above ``most`` [N m]: "30 lb-ft (40.5 N·m)"."""
    other: Unit = "mm" if unit == "in" else "in"
    first, second = (force_units.torque(nm, each, down=down, most=most) for each in (unit, other))
    return unbroken(f"{first} ({second})")


def torque_pieces(design: Design, sheet: Sheet) -> Iterator[Piece]:
    """Yield pattern and passes, once for all motors that are tightened alike, then a table of each motor's nuts to fill in."""
    alike: dict[tuple[object, ...], list[list[Bolt]]] = {}
    for index in range(len(design.mounts)):
        mine = [bolt for bolt in bolts(design) if bolt.mount_index == index]
        if mine:
            alike.setdefault((*_kinds(mine), *(bolt.from_inside for bolt in mine)), []).append(mine)
    for motors in alike.values():
        yield from _tightened(sheet, motors, names=len(design.mounts) > 1)


def _tightened(sheet: Sheet, motors: list[list[Bolt]], *, names: bool) -> Iterator[Piece]:
    called = [writable(mine[0].mount.name) for mine in motors]
    whose = f": {', '.join(called)}" if names else ""
    yield Piece(lambda y: sheet.heading(y, f"Torque on the nuts{whose}"), tied=True, names="torque")
    yield Piece(lambda y: _pattern_and_passes(sheet, motors[0], y))
    yield Piece(lambda y: sheet.heading(y, f"As tightened{whose}"), tied=True, names="record")
    for index, (mine, name) in enumerate(zip(motors, called, strict=True), start=1):
        yield from _nuts(sheet, mine, name if names else "", last=index == len(motors))
    least = "1/32 in (0.8 mm)" if sheet.design.units == "in" else "0.8 mm (1/32 in)"
    sunk = f"if a washer sinks more than {least}, rust weeps out or the skin cracks. Do not run the motor."
    yield Piece(lambda y: sheet.gate(y - 1.4, sunk))


def outside_in(mine: list[Bolt]) -> bool:
    """Say whether all nuts are outside: then the pattern is seen from astern."""
    return all(bolt.from_inside for bolt in mine)


def _pattern_and_passes(sheet: Sheet, mine: list[Bolt], y: float) -> Written:
    picture = pattern(mine, (sheet.left + _PICTURE * sheet.room / 2 - 2.0, y - 9.5 - _UP))
    column = sheet.column(_PICTURE)
    page = Writing(y=y).then(lambda y: sheet.column(0, _PICTURE - 0.03).paragraph(y - 41.0, _seen(mine), ROW, bold=True))
    below = page.y
    page = Writing((*page.marks, *picture), y)
    for text, strong in passes(mine, sheet.design.units):
        page = page.then(partial(column.ticked, text=text, strong=strong))
    for text in refusals(mine, sheet.design.units):
        page = page.then(partial(column.gate, reason=text))
    for text in notes(mine, sheet.design.units):
        page = page.then(partial(column.paragraph, text=text, size=ROW))
        page = page.with_marks((), page.y - 0.6)
    return page.marks, min(page.y, below) - 1.0


def _seen(mine: list[Bolt]) -> str:
    if outside_in(mine):
        return "Seen from astern, looking forward. Port is on the left."
    odd = "" if not any(bolt.from_inside for bolt in mine) else " Two nuts are outside, as marked."
    return f"Seen from inside, looking aft. Port is on the right.{odd}"


def pattern(mine: list[Bolt], at: Point) -> tuple[Mark, ...]:
    """Return the nuts of one motor about ``at`` [paper mm], numbered, with arrows from each to the next."""
    mirror = 1.0 if outside_in(mine) else -1.0
    spots = {bolt.name: _spot(bolt.name, mirror, at) for bolt in mine}
    marks: list[Mark] = []
    for a, b in pairwise(CROSS):
        marks += _arrow(spots[a], spots[b])
    for number, name in enumerate(CROSS, start=1):
        bolt = next(bolt for bolt in mine if bolt.name == name)
        x, y = spots[name]
        marks.append(Circle((x, y), _ROUND, pens.FINAL, None, f"nut {number}"))
        marks.append(Text((x, y - 0.37 * HEAD), str(number), HEAD, bold=True, anchor="middle", part=f"nut {number}"))
        label = name if not bolt.from_inside or mirror > 0 else f"{name}, outside"
        base = y + _ROUND + 1.4 if bolt.upper else y - _ROUND - 1.4 - 0.74 * ROW
        marks.append(words((x, base), label, ROW, anchor="middle", part=f"nut {number}"))
    return tuple(marks)


def _spot(name: BoltName, mirror: float, at: Point) -> Point:
    upper = name.startswith("upper")
    side = -1.0 if name.endswith("port") else 1.0
    return at[0] + mirror * side * (_ACROSS if upper else _NARROW), at[1] + (_UP if upper else -_UP)


def _arrow(a: Point, b: Point) -> Iterator[Mark]:
    far = math.dist(a, b)
    c, s = (b[0] - a[0]) / far, (b[1] - a[1]) / far
    clear = _ROUND + 1.2
    start, tip = (a[0] + clear * c, a[1] + clear * s), (b[0] - clear * c, b[1] - clear * s)
    yield Line(start, (tip[0] - 1.5 * c, tip[1] - 1.5 * s), pens.SEAM, "order")
    wing = [(tip[0] - 2.2 * c - side * 0.75 * s, tip[1] - 2.2 * s + side * 0.75 * c) for side in (-1, 1)]
    yield Path((tip, *wing), True, None, "ink", "order")


def _kinds(mine: list[Bolt]) -> list[tuple[str, Tightening]]:
    """Return how each pair is tightened, both in one where they are alike."""
    pairs_of: dict[Tightening, list[str]] = {}
    for pair in dict.fromkeys(bolt.pair for bolt in mine):
        pairs_of.setdefault(tightening([bolt for bolt in mine if bolt.pair == pair]), []).append(pair)
    return [("" if len(pairs_of) == 1 else f"{pairs[0]} pair ", kind) for kind, pairs in pairs_of.items()]


def passes(mine: list[Bolt], unit: Unit) -> list[tuple[str, bool]]:
    """Return the steps as (what to do, whether in bold); no pass while one pair's torque is not allowed."""
    kinds = _kinds(mine)
    steps: list[tuple[str, bool]] = []
    if any(kind.drag.known != "no lock nut" for _, kind in kinds):
        steps.append(("Run each nut on by hand until its insert grips.", False))
        limits = _each(kinds, lambda kind: torque(kind.drag.most or 0.0, unit) if kind.drag.known == "published" else "")
        more = f" If it is more than {limits}, take another nut." if limits else ""
        steps.append((f"Turn each on with the torque wrench. It reads the nut’s drag: write it down.{more}", False))
    if not all(kind.core_known for _, kind in kinds):
        steps.append(("Look at the pilots’ chips to see the core’s material. Enter it, then print this page again.", True))
    steps.append(("Tighten all four snug by feel, in the order 1 2 3 4.", False))
    if refusals(mine, unit):
        return steps
    for number in range(len(SHARES)):
        each = _each(kinds, lambda kind, number=number: _pass(kind, number, unit))  # type: ignore[misc]
        steps.append((f"Pass {number + 1}, in that order: {each}.", True))
    steps.append(("Go around once more. If a nut moves, go around again.", False))
    return steps


def _each(kinds: list[tuple[str, Tightening]], say: Callable[[Tightening], str]) -> str:
    """Say the same of both pairs once, else of each. A pair for which it is "" is left out."""
    texts = {pair: text for pair, kind in kinds if (text := say(kind))}
    if len(texts) == len(kinds) and len(set(texts.values())) == 1:
        return next(iter(texts.values()))
    return "; ".join(f"{pair}{text}" for pair, text in texts.items())


def _pass(kind: Tightening, number: int, unit: Unit) -> str:
    if kind.passes:
        return f"{torque(kind.passes[number], unit, kind.ceiling)} on the wrench"
    if number + 1 < len(SHARES):
        return "half the manual’s wrench torque"
    return f"the manual’s wrench torque, never more than {_allowed(kind, unit)}"


def _allowed(kind: Tightening, unit: Unit) -> str:
    return torque(kind.most or 0.0, unit, down=True)


def refusals(mine: list[Bolt], unit: Unit) -> list[str]:
    """Return why there is no pass to print, and what to change instead; [] where there are passes."""
    design = mine[0].design
    return [_refusal(design, f"{pair}nuts", kind, unit) for pair, kind in _kinds(mine) if kind.refused]


def _refusal(design: Design, nuts: str, kind: Tightening, unit: Unit) -> str:
    if kind.refused == "not measured":
        name = name_of(design, lacking(design, kind.lacking))
        return f"No passes for the {nuts} yet: {name} is not measured. Measure it. Enter it, then print this page again."
    entered = torque(kind.torque or 0.0, unit)
    if kind.refused == "drag":
        return f"No passes for the {nuts}: their drag takes all of the {entered}. Ask the motor’s maker."
    instead = "Use bolts of a higher grade, thicker bolts"
    if kind.refused == "core":
        core, state = design.transom.core, design.transom.core_state
        instead = _EASED.get(core) or _EASED.get(state, "Use wider washers, a backing plate")
    return (
        f"Do not tighten the {nuts} to {entered}. The {kind.refused}’s limit is {_allowed(kind, unit)} of wrench torque. "
        f"{instead}, or less torque if the motor’s maker allows it. Enter it, then print this page again."
    )


_EASED = {"foam": "Have a solid core put in", "wet": "Dry the core or renew it", "damp": "Dry the core, use wider washers"}


def notes(mine: list[Bolt], unit: Unit) -> list[str]:
    """Return the lines below the passes: what a torque means, where the drag is from, and what pulls each bolt."""
    kinds = _kinds(mine)
    locking = any(kind.drag.known != "no lock nut" for _, kind in kinds)
    lines = ["Wrench torque is what the wrench reads, with the lock nut’s drag in it. Add nothing to it."] if locking else []
    for say in (partial(_torque_lacks, unit=unit), partial(_drag, unit=unit)):
        alike = len({say(kind) for _, kind in kinds}) == 1
        for pair, kind in kinds[:1] if alike else kinds:
            if text := say(kind):
                lines.append(f"{_capital('nuts' if alike else f'{pair}nuts')}: {text}")
    pulls = {pull for bolt in mine if (pull := _force(bolt, unit))}
    if pulls and not refusals(mine, unit):
        lines.append(f"This pulls each bolt with {' or '.join(sorted(pulls))}: see Checks.")
    return [*lines, "Hold the head and turn the nut, slowly, by hand. The motor’s manual comes first: enter its "
                    "torque, then print again."]  # fmt: skip


def _torque_lacks(kind: Tightening, unit: Unit) -> str:
    blank = f"____________ {'lb-ft' if unit == 'in' else 'N·m'}"
    return f"torque not known. Take it from the motor’s manual: {blank}" if kind.torque is None else ""


def _drag(kind: Tightening, unit: Unit) -> str:
    match kind.drag.known:
        case "published":
            most = torque(kind.drag.most or 0.0, unit)
            return f"a new one’s drag is up to {most}, {origin(kind.drag.source)}. Enter the drag that you read. {_REST}"
        case "measured":
            return f"drag {torque(kind.drag.least, unit)}, as measured. {_REST}"
        case "not published":
            return f"no standard gives their drag. Enter the drag that you read. {_REST}"
        case _:
            return ""


_REST = "Only the rest of the torque clamps."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _force(bolt: Bolt, unit: Unit) -> str:
    try:
        low, high = clamps(bolt)
    except Unmeasured:
        return ""
    return unbroken(span(low, high, partial(force_units.force, unit=unit)))


def _nuts(sheet: Sheet, mine: list[Bolt], name: str, *, last: bool) -> Iterator[Piece]:
    """Yield the table of one motor's nuts. The last one stays with the gate below it."""
    unit = sheet.design.units
    kinds = [kind for _, kind in _kinds(mine)]
    given = {
        tuple(force_units.torque(each, unit, most=kind.ceiling).split(" ", 1)[0] for each in kind.passes) for kind in kinds
    }
    figures = next(iter(given)) if len(given) == 1 else ()
    word = force_units.torque(1.0, unit).split(" ", 1)[1]
    turns = [f"pass {i}: {figures[i - 1]} {word}" if figures else f"pass {i}, {word}" for i in range(1, len(SHARES) + 1)]
    heads = (name or "nut", f"drag, {word}", *turns, "24 hours", "first trip", "10 hours", "50 hours", "season")
    yield Piece(partial(sheet.heads, heads=heads, at=_NUTS), tied=True)
    for number, nut in enumerate(CROSS, start=1):
        yield Piece(partial(sheet.to_fill, name=f"{number}  {nut}", at=_NUTS), tied=True)
    yield Piece(partial(sheet.to_fill, name="stripe straight, all dry", at=_NUTS, boxes=range(4, 9)), tied=True)
    yield Piece(gap, tied=last)
