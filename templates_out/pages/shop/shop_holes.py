"""What the shop sheet says of the holes: the answer, the table, the distances to check, the drills."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from geometry.design.design import Design
from geometry.design.hole_words import hole_from_top
from geometry.design.units import Unit, format_length
from geometry.solid.faces import Unmeasured, faces
from geometry.solid.placed_bolts import Bolt, bolts
from templates_out.drawing.sheet_figures import check_figure, unbroken

NOT_KNOWN = "not known"
_COUNTS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight")
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


def answer(design: Design) -> str:
    """Say in a line what is to be drilled, and which holes of the bracket are used."""
    every = bolts(design)
    if not every:
        return "No holes: nothing here is bolted through the transom."
    count = _COUNTS[len(every)] if len(every) < len(_COUNTS) else str(len(every))
    rows = {mount.row for mount in design.mounts if mount.bracket.rows is not None}
    directions = known(lambda: _directions(every))
    told = f"{count} holes, {'direction not known' if directions == NOT_KNOWN else directions}."
    if len(rows) == 1 and (row := rows.pop()) is not None:
        told += f" Upper bolts through the bracket’s {hole_from_top(row)}."
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


def bare(mm: float | None, unit: Unit) -> str:
    """Return a size without its unit, as paper has it: "1-3/8", "?" where it is not known."""
    return "?" if mm is None else format_length(mm, unit, style="paper", denominator=64, unit_word=False)


def stage_sizes(final: float, unit: Unit) -> tuple[float, ...]:
    """Return the drills for a hole of diameter ``final`` in the order of use, the pilot first [mm]."""
    return (*(size for size in _STAGES[unit] if size < final - 1.0), final)


def stages(design: Design, *, pilot: bool = True) -> list[str]:
    """Return the drills in the order of use, for each final diameter, as the person's unit writes them."""
    unit = design.units
    finals = sorted({bolt.hardware.hole for bolt in bolts(design) if bolt.hardware.hole is not None})
    found = []
    for final in finals:
        told = [bare(size, unit) for size in stage_sizes(final, unit)[0 if pilot else 1 :]]
        found.append(f"{', '.join(told[:-1])} and {told[-1]} {unit}" if len(told) > 1 else f"{told[-1]} {unit}")
    return found
