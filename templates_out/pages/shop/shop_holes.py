"""The holes on the shop sheet: the answer, the table, the distances to check, the drills."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from geometry.design.design import Design
from geometry.judge.drillable import FirstPilot
from geometry.solid.faces import Unmeasured, faces
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.solving.solved import solved_at_plan
from geometry.units.height_words import hole_words
from geometry.units.units import Unit, format_length
from templates_out.drawing.sheet_figures import both, unbroken

NOT_KNOWN = "not known"
_COUNTS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight")
_STAGES = {"in": (3.175, 6.35, 9.525), "mm": (3.0, 6.0, 10.0)}  # pilot and steps up to it: common practice, no source


BLOCK_THICK: dict[Unit, float] = {"in": 57.15, "mm": 55.0}  # mm: of the guide block, in the person's round figures
UNITS: dict[Unit, tuple[Unit, Unit]] = {"in": ("in", "mm"), "mm": ("mm", "in")}  # a person's own unit, then the other


def known(say: Callable[[], str]) -> str:
    """Return the words that ``say`` makes, or that they are not known."""
    try:
        return say()
    except Unmeasured:
        return NOT_KNOWN


def figure(mm: float, unit: Unit) -> str:
    """Return a place in both units, "6-7/16 in (163.5 mm)"."""
    return unbroken(both(mm, unit))


def answer(design: Design, pilot: FirstPilot | None = None) -> str:
    """Say in a line what is to be drilled, and which holes of the bracket are used; or that only one pilot is."""
    if pilot is not None:
        return f"One pilot only, at the {pilot.hole} hole. Nothing is drilled to its final size by this sheet."
    every = bolts(design)
    if not every:
        return "No holes: no motor is bolted through the transom."
    count = _COUNTS[len(every)] if len(every) < len(_COUNTS) else str(len(every))
    rows = {mount.row for mount in design.mounts if mount.bracket.rows is not None}
    directions = known(lambda: _directions(every))
    holes = f"{count} holes, {'direction not known' if directions == NOT_KNOWN else directions}."
    if len(rows) == 1 and (row := rows.pop()) is not None:
        return f"{holes} Upper bolts in the {hole_words(row)}."
    return holes


def _directions(every: tuple[Bolt, ...]) -> str:
    by_pair = {bolt.pair: set[float]() for bolt in every}
    for bolt in every:
        by_pair[bolt.pair].add(round(bolt.tilt, 1))
    tilts = set().union(*by_pair.values())
    if tilts == {0.0}:
        return "square to the face"
    if len(tilts) == 1:
        return _direction(tilts.pop())
    return ", ".join(f"{pair} pair {' or '.join(map(_direction, sorted(values)))}" for pair, values in by_pair.items())


def _direction(tilt: float) -> str:
    return "square to the face" if tilt == 0 else f"tilted {'up' if tilt > 0 else 'down'} {abs(tilt):g}° going in"


HOLE_HEADS = ("hole", "from the centreline", "below top edge", "below inside edge", "drill", "bolt", "put in")


def hole_rows(design: Design, index: int, pilot: FirstPilot | None = None) -> list[tuple[str, ...]]:
    """Return the table of one motor's holes: places along the face, in both units.

    Args:
        pilot: the one that is drilled by the sheet; then no final size is shown.
    """
    unit = design.units
    return [tuple(_hole_row(bolt, unit, pilot)) for bolt in bolts(solved_at_plan(design)) if bolt.mount_index == index]


def _hole_row(bolt: Bolt, unit: Unit, pilot: FirstPilot | None) -> Iterator[str]:
    yield bolt.name
    yield known(lambda: _across(bolt.u, unit))
    yield known(lambda: figure(-bolt.v, unit))
    yield known(lambda: figure(bolt.faces.edge_w - bolt.exit.w, unit))
    if pilot is None:
        yield known(lambda: figure(bolt.hole, unit))
    else:
        first = (pilot.mount, pilot.hole) == (bolt.mount_index, bolt.name)
        yield f"pilot {bare(_STAGES[unit][0], unit)} {unit}" if first else "nothing yet"
    yield known(lambda: _length(bolt, unit))
    inserted = bolt.hardware.inserted_from
    yield inserted if inserted == "before hanging" else f"from {inserted}"


def _across(u: float, unit: Unit) -> str:
    side = "port" if u < 0 else "stbd"
    first, other = figure(abs(u), unit).split("\N{NO-BREAK SPACE}(")
    return f"{first} {side} ({other}"


def _length(bolt: Bolt, unit: Unit) -> str:
    if bolt.length is None:
        return "none fits"
    return format_length(bolt.length, "in" if bolt.thread.inch else "mm", style="paper", denominator=64)


def edge_words(design: Design) -> str:
    """Say how far apart the two top edges are in height, since depths are read from either."""

    def step_words() -> str:
        step = -faces(design.transom).edge_w
        if abs(step) < 0.3:
            return "The inside and outside top edges are level."
        where = "lower" if step > 0 else "higher"
        return f"The inside top edge is {figure(abs(step), design.units)} {where} than the outside top edge."

    words = known(step_words)
    missing = "How far apart the two top edges are is not known."
    return f"Measure along the face, not plumb. {missing if words == NOT_KNOWN else words}"


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
    lines = []
    for final in finals:
        sizes = [bare(size, unit) for size in stage_sizes(final, unit)[0 if pilot else 1 :]]
        lines.append(f"{', '.join(sizes[:-1])} and {sizes[-1]} {unit}" if len(sizes) > 1 else f"{sizes[-1]} {unit}")
    return lines
