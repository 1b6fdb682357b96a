"""What the shop sheet says: the answer, the holes, the checks, what to buy, how to drill."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterator
from functools import partial

from geometry.design.hardware import Washer
from geometry.design.units import Unit, format_length
from geometry.design.whole import Design
from geometry.judge.findings import Checked, Finding
from geometry.solid.bolts import Bolt, bolts
from geometry.solid.frames import Unmeasured, faces
from templates_out.drawing.fonts import writable
from templates_out.sheets.figures import check_figure, unbroken

NOT_KNOWN = "not known"
_COUNTS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight")
_PLACES = ("top", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
_STATES = {"clear": "clear", "tight": "tight", "unknown": "not known", "fouled": "fouled", "note": "note"}
_STAGES = {"in": (3.175, 6.35, 9.525), "mm": (3.0, 6.0, 10.0)}  # pilot and steps up to it: common practice, no source


def known(tell: Callable[[], str]) -> str:
    """Return what ``tell`` says, or that it is not known."""
    try:
        return tell()
    except Unmeasured:
        return NOT_KNOWN


def figure(mm: float, unit: Unit) -> str:
    """Return a place in both units, "6-7/16 in (163.5)"."""
    return unbroken(check_figure(mm, unit))


def place_of(row: int) -> str:
    """Name a row of the bracket's holes: "top hole", "second hole from the top"."""
    if row == 0:
        return "top hole"
    return f"{_PLACES[row] if row < len(_PLACES) else f'number {row + 1}'} hole from the top"


def up_by(row: int) -> str:
    """Say how high a row hangs the motor: "lowest", "one up"."""
    return "motor lowest" if row == 0 else f"motor {_COUNTS[row].lower() if row < len(_COUNTS) else row} up"


def answer(design: Design) -> str:
    """Say in a line what is to be drilled, and which holes of the bracket are used."""
    every = bolts(design)
    if not every:
        return "No holes: nothing here is bolted through the transom."
    count = _COUNTS[len(every)] if len(every) < len(_COUNTS) else str(len(every))
    rows = {mount.row for mount in design.mounts if mount.bracket.rows is not None}
    told = f"{count} holes, {known(lambda: _directions(every))}."
    if len(rows) == 1 and (row := rows.pop()) is not None:
        told += f" Upper bolts through the bracket’s {place_of(row)}."
    return told


def _directions(every: tuple[Bolt, ...]) -> str:
    said = {bolt.pair: set[float]() for bolt in every}
    for bolt in every:
        said[bolt.pair].add(round(bolt.tilt, 1))
    tilts = set().union(*said.values())
    if tilts == {0.0}:
        return "square to the face"
    if len(tilts) == 1:
        return _direction(tilts.pop())
    return ", ".join(f"{pair} pair {' or '.join(map(_direction, sorted(values)))}" for pair, values in said.items())


def _direction(tilt: float) -> str:
    return "square to the face" if tilt == 0 else f"tilted {'up' if tilt > 0 else 'down'} {abs(tilt):g}° going in"


def why(checked: Checked) -> str:
    """Say what is not clear, worst first, in at most three sentences."""
    told = [line for line in checks(checked) if line[0] in ("fouled", "not known", "tight")]
    if not told:
        rests = f"It rests on {len(checked.guesses)} guesses." if checked.guesses else "Nothing is guessed."
        return f"Everything that was checked is clear. {rests}"
    more = f" And {len(told) - 3} more, on the next page." if len(told) > 3 else ""
    return " ".join(f"{state.capitalize()}: {text}" for state, text, *_ in told[:3]) + more


HOLE_HEADS = ("hole", "from the centreline", "below top edge", "below inside edge", "drill", "bolt", "goes in")


def _cell(mm: float, unit: Unit) -> str:
    """Return a place as the table has it, the other unit bare in brackets: "2 in (50.8)", "50.8 mm (2)"."""
    return figure(mm, unit).replace("\N{NO-BREAK SPACE}in)", ")")


def hole_rows(design: Design, index: int) -> list[tuple[str, ...]]:
    """Return the table of one motor's holes: places along the face, in both units."""
    unit = design.units
    return [tuple(_hole_row(bolt, unit)) for bolt in bolts(design) if bolt.mount_index == index]


def _hole_row(bolt: Bolt, unit: Unit) -> Iterator[str]:
    yield bolt.name
    yield known(lambda: _across(bolt.u, unit))
    yield known(lambda: _cell(-bolt.v, unit))
    yield known(lambda: _cell(bolt.faces.edge_w - bolt.exit.w, unit))
    yield known(lambda: _cell(bolt.hole, unit))
    yield known(lambda: _length(bolt, unit))
    inserted = bolt.hardware.inserted_from
    yield inserted if inserted == "before hanging" else f"from {inserted}"


def _across(u: float, unit: Unit) -> str:
    side = "port" if u < 0 else "stbd"
    first, other = _cell(abs(u), unit).split("\N{NO-BREAK SPACE}(")
    return f"{first} {side} ({other}"


def _length(bolt: Bolt, unit: Unit) -> str:
    if bolt.length is None:
        return "none fits"
    return format_length(bolt.length, "in" if bolt.thread.inch else "mm", style="paper", denominator=64)


def centre_checks(design: Design, index: int) -> str:
    """Return the distances to check centre to centre, reckoned from unrounded places."""
    pair = [bolt for bolt in bolts(design) if bolt.mount_index == index]
    if not pair:
        return ""
    return known(lambda: _distances(pair, design.units)).replace(NOT_KNOWN, "Check distances: not known yet.")


def _distances(pair: list[Bolt], unit: Unit) -> str:
    up, us, lp, ls = [(bolt.u, bolt.v) for bolt in pair]
    port, starboard = math.dist(up, lp), math.dist(us, ls)
    one, two = math.dist(up, ls), math.dist(us, lp)
    sides = f"sides {figure(port, unit)}"
    if abs(port - starboard) > 0.05:
        sides = f"port side {figure(port, unit)}, starboard side {figure(starboard, unit)}"
    cross = f"both diagonals {figure(one, unit)}"
    if abs(one - two) > 0.05:
        cross = f"upper port to lower starboard {figure(one, unit)}, the other diagonal {figure(two, unit)}"
    return (
        f"Check, centre to centre: upper pair {figure(math.dist(up, us), unit)}, "
        f"lower pair {figure(math.dist(lp, ls), unit)}, {sides}, {cross}."
    )


def edge_words(design: Design) -> str:
    """Say how far the two top edges differ, since depths are read from either."""

    def told() -> str:
        step = -faces(design.transom).edge_w
        if abs(step) < 0.3:
            return "The inside edge stands level with the outside one, measured along the face."
        where = "lower" if step > 0 else "higher"
        return f"The inside edge is {figure(abs(step), design.units)} {where} than the outside one."

    step = known(told)
    missing = "How far the two top edges differ is not known."
    return f"Measure along the face, never plumb. {missing if step == NOT_KNOWN else step}"


def checks(checked: Checked) -> list[tuple[str, str, str, str]]:
    """Return every finding as (state, sentence, cure, limits), worst first, alike on both sides in one."""
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in checked.findings:
        bare = re.sub(r"\b(upper|lower) (port|starboard)\b", r"\1", finding.text)
        groups.setdefault((finding.state, finding.check, bare), []).append(finding)
    found = []
    for (state, _, bare), group in groups.items():
        text = group[0].text
        if len(group) > 1 and bare != text:
            sides = "Both sides" if len(group) == 2 else f"All {len(group)}"
            text = f"{bare} {sides} alike."
        cure = writable(group[0].remedy or "")
        found.append((_STATES[state], _printed(text), cure, _limits(group[0], checked.design.units)))
    return found


def _printed(text: str) -> str:
    """Return a sentence with its figures as paper has them: a hyphen before a fraction, unbroken before the unit."""
    hyphened = re.sub(r"(\d) (\d+/\d)", r"\1-\2", writable(text))
    return re.sub(r"(\d) (in|mm)\b", "\\1\N{NO-BREAK SPACE}\\2", hyphened)


def _limits(finding: Finding, unit: Unit) -> str:
    if finding.least is None or finding.advised is None:
        return ""
    least, advised = (_value(value, finding, unit) for value in (finding.least, finding.advised))
    if finding.least == finding.advised:
        return f"least {least}"
    most = finding.least > finding.advised
    return f"advised {advised}, {'most' if most else 'least'} {least}"


def _value(value: float, finding: Finding, unit: Unit) -> str:
    if finding.unit == "mm":
        return format_length(value, unit, denominator=64, style="paper")
    return f"{value:g}{'°' if finding.unit == 'degrees' else ''}"


def to_buy(design: Design) -> list[tuple[int, str]]:
    """Return what to buy, as (how many, what)."""
    unit = design.units
    found: Counter[str] = Counter()
    nuts: Counter[str] = Counter()
    for bolt in bolts(design):
        hardware = bolt.hardware
        found[known(partial(_bolt, bolt))] += 1
        nuts[f"nuts {hardware.bolt}, {hardware.nut}, {hardware.grade.split('-')[0]}"] += 1
        found[f"outside washers {_washer(hardware.outside_washer, unit)}"] += 1
        found[f"inside washers {_washer(hardware.washer, unit)}"] += 1
        if hardware.spacer is not None:
            spacer = hardware.spacer
            found[f"spacers {_sizes((spacer.outer, spacer.inner, spacer.length), unit)}"] += 1
        if hardware.backing_plate is not None and bolt.port:
            plate = hardware.backing_plate
            found[f"backing plate, {writable(plate.material)}, {_sizes((plate.thickness,), unit)} thick"] += 1
    lines = [(count, what) for what, count in found.items()]
    spares = [(2 * count, f"{what} (half of them spares: a lock nut is used once)") for what, count in nuts.items()]
    return sorted([*lines, *spares], key=lambda line: _KINDS.index(line[1].split()[0]))


_KINDS = ("hex", "bolts,", "not", "nuts", "outside", "inside", "spacers", "backing")


def _bolt(bolt: Bolt) -> str:
    hardware = bolt.hardware
    name = f"hex bolts {hardware.bolt}"
    own: Unit = "in" if bolt.thread.inch else "mm"
    if bolt.length is None:
        low, high = (format_length(mm, own, style="paper", denominator=64) for mm in bolt.window)
        return f"{name}, {hardware.grade}: no stock length fits, it has to lie within {low} and {high}"
    others = [
        format_length(mm, own, style="paper", denominator=64)
        for mm in bolt.fitting_lengths if abs(mm - bolt.length) > 1e-6
    ]  # fmt: skip
    also = f" {' or '.join(others)} would do." if others else " No other stock length does."
    thread = format_length(bolt.thread.thread_length(bolt.length), own, style="paper", denominator=64)
    length = format_length(bolt.length, own, style="paper", denominator=64)
    return f"{name} x {length}, {hardware.grade} or better, {thread} of thread.{also}"


def _washer(washer: Washer, unit: Unit) -> str:
    cut = ""
    if washer.flat_cut is not None:
        cut = f", cut flat {figure(washer.flat_cut, unit)} below the centre"
    return _sizes((washer.outer, washer.inner, washer.thickness), unit) + cut


def _sizes(sizes: tuple[float | None, ...], unit: Unit) -> str:
    def row(one: Unit, *, word: bool) -> str:
        told = [_bare(mm, one) for mm in sizes]
        return " x ".join(told) + (f" {one}" if word else "")

    return f"{row(unit, word=True)} ({row('mm' if unit == 'in' else 'in', word=False)})"


def _bare(mm: float | None, unit: Unit) -> str:
    return "?" if mm is None else format_length(mm, unit, style="paper", denominator=64, unit_word=False)


def stages(design: Design, *, pilot: bool = True) -> list[str]:
    """Return the drills in the order of use, for each final diameter, as the person's unit writes them."""
    unit = design.units
    finals = sorted({bolt.hardware.hole for bolt in bolts(design) if bolt.hardware.hole is not None})
    found = []
    for final in finals:
        sizes = [size for size in _STAGES[unit][0 if pilot else 1 :] if size < final - 1.0]
        told = [_bare(size, unit) for size in (*sizes, final)]
        found.append(f"{', '.join(told[:-1])} and {told[-1]} {unit}" if len(told) > 1 else f"{told[-1]} {unit}")
    return found
