"""How sure each finding is: every reading's and every hole's own error carried through the checks.

Spreads are one standard deviation. A finding's spread is the root sum of squares of central differences, a step being
one standard deviation of one reading; its chance is that the value lies on the right side of its least.
"""

from __future__ import annotations

import math
from collections import deque
from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.design.edits import Shape, move_bracket, move_lower, move_upper
from geometry.design.measures import Measure, at_path, measures, name_of, told_by_numbers
from geometry.design.sense import NonsenseError
from geometry.judge.check import assembled, check
from geometry.judge.findings import AT_MOST
from geometry.solid.bolts import bolts
from geometry.solid.frames import Unmeasured

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.whole import Design, Spreads
    from geometry.judge.findings import Checked, Finding

CALIPERS = 0.1  # mm: of hardware that was measured, not taken from a table; our choice
Key = tuple[str, str]


def with_spreads(checked: Checked) -> Checked:
    """Return the findings with their spreads and chances filled in."""
    return deque(spreading(checked), maxlen=1).pop()


def spreading(checked: Checked) -> Iterator[Checked]:
    """Yield after each reading tried; the last one yielded has every spread and chance filled in.

    Long: about two checks for each reading. What is not the last is the findings as they were.
    """
    design = _lengths_kept(checked.design)
    squares: dict[Key, float] = {}
    shares: dict[Key, dict[str, float]] = {}
    for key, plus, minus in _trials(design):
        yield checked
        after, before = _values(plus), _values(minus)
        for place in after.keys() & before.keys():
            share = ((after[place] - before[place]) / 2) ** 2
            squares[place] = squares.get(place, 0.0) + share
            if share > 0.0 and key:
                of = shares.setdefault(place, {})
                of[key] = of.get(key, 0.0) + share
    told = tuple(_told(design, finding, squares, shares) for finding in checked.findings)
    yield assembled(checked.design, told)


def _values(design: Design) -> dict[Key, float]:
    return {(f.check, f.at): f.value for f in check(design).findings if f.value is not None}


def _told(design: Design, finding: Finding, squares: dict[Key, float], shares: dict[Key, dict[str, float]]) -> Finding:
    if finding.value is None:
        return finding
    place = finding.check, finding.at
    spread = math.sqrt(squares.get(place, 0.0))
    of = shares.get(place, {})
    moved_by = tuple(sorted(of, key=lambda key: -of[key]))
    if finding.least is None:
        return replace(finding, spread=spread, moved_by=moved_by)
    less = finding.check in AT_MOST or (finding.advised is not None and finding.least > finding.advised)
    sign = -1.0 if less else 1.0
    apart = sign * (finding.value - finding.least)
    if spread > 1e-9:
        chance = 0.5 * (1 + math.erf(apart / spread / math.sqrt(2)))
    else:
        chance = 1.0 if apart >= -1e-6 else 0.0
    told = replace(finding, spread=spread, chance=chance, moved_by=moved_by)
    if not told.doubtful or not moved_by:
        return told
    return replace(told, text=f"{told.text.rstrip('.')}; measure {name_of(design, moved_by[0])} again first.")


def _lengths_kept(design: Design) -> Design:
    """Give each pair the bolt length that is chosen for it now: a bolt once bought does not change with a reading."""
    mounts = list(design.mounts)
    for bolt in bolts(design):
        try:
            length = bolt.length
        except Unmeasured:
            continue
        if length is not None and bolt.hardware.length is None and bolt.port:
            field = f"{bolt.pair}_hardware"
            kept = replace(bolt.hardware, length=length)
            mounts[bolt.mount_index] = replace(mounts[bolt.mount_index], **{field: kept})
    return replace(design, mounts=tuple(mounts))


def _trials(design: Design) -> Iterator[tuple[str, Design, Design]]:
    """Yield, for each reading and each hole, its key ("" for a hole) and the design one spread to either side."""
    for measure in measures(design):
        if measure.free or measure.kind not in ("length", "angle", "shape"):
            continue
        if measure.kind == "shape":
            if not told_by_numbers(measure.key):
                yield from _corner_trials(design, measure)
            continue
        value, step = measure.get(design), _spread(design, measure)
        if value is None or step == 0:
            continue
        try:
            yield measure.key, measure.set(design, value + step), measure.set(design, value - step)
        except NonsenseError:
            continue
    yield from _hole_trials(design)


def _spread(design: Design, measure: Measure) -> float:
    reading = design.readings.get(measure.key)
    if reading is not None and reading.spread is not None:
        return reading.spread
    if "_hardware." in measure.key:  # a published size is the largest listed: it only ever turns out smaller
        return 0.0 if reading is None else measure.exact if reading.state == "guess" else CALIPERS
    known: float = getattr(design.spreads, measure.spread)
    return known


def _corner_trials(design: Design, measure: Measure) -> Iterator[tuple[str, Design, Design]]:
    step = _spread(design, measure)
    shape = Shape(measure.key)
    corners = at_path(design, measure.key)
    for index, corner in enumerate(corners):
        for axis in (0, 1):
            if corner[axis] is None or step == 0:
                continue
            moved = []
            for sign in (1, -1):
                to = list(corner)
                to[axis] += sign * step
                moved.append((*corners[:index], tuple(to), *corners[index + 1 :]))
            try:
                yield measure.key, shape.with_corners(design, moved[0]), shape.with_corners(design, moved[1])
            except NonsenseError:
                continue  # such as the datum's own edge, which has to stay where it is


def hole_spread(spreads: Spreads, along: float) -> float:
    """Return how far a hole comes out from its place, one standard deviation [mm]: print, mark and the drill's angle.

    Args:
        along: the hole's length through the transom [mm].
    """
    through = along * math.tan(math.radians(spreads.drill_angle))
    return math.sqrt(spreads.print**2 + spreads.mark**2 + through**2)


def _hole_trials(design: Design) -> Iterator[tuple[str, Design, Design]]:
    """Each new hole is off by print, mark, and the drill's angle through the thickness, across and up."""
    spreads = design.spreads
    for index, mount in enumerate(design.mounts):
        if mount.bracket.rows is None:
            continue
        pair = [bolt for bolt in bolts(design) if bolt.mount_index == index and bolt.port]
        try:
            step = hole_spread(spreads, max(bolt.exit.along for bolt in pair))
        except Unmeasured:
            continue
        for move, du, dv in ((move_bracket, step, 0.0), (move_upper, 0.0, step), (move_lower, 0.0, step)):
            try:
                yield "", move(design, index, du, dv), move(design, index, -du, -dv)
            except NonsenseError:
                continue
