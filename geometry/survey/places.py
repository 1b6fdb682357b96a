"""Places where the points of a network may be, from its distances alone: where circles and lines cross.

Two circles cross twice, so most points have a twin on the other side. Each way to place them all is a start for the least
squares; together they find the lowest minimum, and the others.
"""

from __future__ import annotations

import math
from itertools import combinations
from typing import TYPE_CHECKING

from geometry.survey.network import CENTRELINE, LINES, TOP_EDGE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.survey.network import Distance, Network, Point

    Placed = dict[str, Point]

_KEPT = 8  # ways to place the points that are followed up, the best ones
_CROSSINGS = 3  # pairs of circles that are tried for one point


def ways(network: Network) -> Iterator[dict[str, Point]]:
    """Yield ways to place all points, the best first; none where their places follow from no crossing after another."""
    kept: list[tuple[float, Placed]] = [(0.0, dict(network.fixed))]
    left = list(network.loose)
    while left:
        placed = kept[0][1]
        name, known = max(((name, _to_known(network, name, placed)) for name in left), key=lambda each: len(each[1]))
        if len(known) < 2:
            return
        left.remove(name)
        grown = []
        for misfit, before in kept:
            for at in _crossings(known, before):
                more = sum(_off(reading, name, at, before) ** 2 for reading in known)
                grown.append((misfit + more, {**before, name: at}))
        kept = sorted(grown, key=lambda way: way[0])[:_KEPT]
        if not kept:
            return
    yield from ({name: placed[name] for name in network.loose} for _, placed in kept)


def _to_known(network: Network, name: str, placed: Placed) -> list[Distance]:
    """Return the distances between a point and what has a place already."""
    return [
        reading for reading in network.readings
        if name in (reading.first, reading.second) and (_other(reading, name) in placed or _other(reading, name) in LINES)
    ]  # fmt: skip


def _other(reading: Distance, name: str) -> str:
    return reading.second if reading.first == name else reading.first


def _off(reading: Distance, name: str, at: Point, placed: Placed) -> float:
    other = _other(reading, name)
    if other == CENTRELINE:
        far = abs(at[0])
    elif other == TOP_EDGE:
        far = abs(at[1])
    else:
        far = math.dist(at, placed[other])
    return (far - reading.length) / reading.spread


def _crossings(known: list[Distance], placed: Placed) -> Iterator[Point]:
    """Yield where each two distances from known places and lines cross; where they just miss, the place between them."""
    for first, other in list(combinations(known, 2))[:_CROSSINGS]:
        ends = [_known_end(each, placed) for each in (first, other)]
        if ends[0] == ends[1]:
            continue
        if ends[0] in LINES and ends[1] in LINES:
            across, down = (first, other) if ends[0] == CENTRELINE else (other, first)
            yield from ((u, v) for u in (-across.length, across.length) for v in (-down.length, down.length))
        elif ends[0] in LINES or ends[1] in LINES:
            (line, flat), (round_, centre) = ((first, ends[0]), (other, ends[1])) if ends[0] in LINES else (
                (other, ends[1]), (first, ends[0]))  # fmt: skip
            yield from _line_and_circle(flat, line.length, placed[centre], round_.length)
        else:
            yield from _two_circles(placed[ends[0]], first.length, placed[ends[1]], other.length)


def _known_end(reading: Distance, placed: Placed) -> str:
    return reading.second if reading.second in placed or reading.second in LINES else reading.first


def _line_and_circle(line: str, off: float, centre: Point, radius: float) -> Iterator[Point]:
    for place in (-off, off):
        along, across = (centre[1], place - centre[0]) if line == CENTRELINE else (centre[0], place - centre[1])
        half = math.sqrt(max(0.0, radius**2 - across**2))
        for step in (-half, half):
            yield (place, along + step) if line == CENTRELINE else (along + step, place)


def _two_circles(a: Point, ra: float, b: Point, rb: float) -> Iterator[Point]:
    far = math.dist(a, b)
    if far == 0.0:
        return
    along = (far**2 + ra**2 - rb**2) / (2 * far)
    half = math.sqrt(max(0.0, ra**2 - along**2))
    dx, dy = (b[0] - a[0]) / far, (b[1] - a[1]) / far
    for side in (-half, half):
        yield a[0] + along * dx - side * dy, a[1] + along * dy + side * dx
