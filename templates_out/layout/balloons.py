"""Numbered balloons with leaders: each as near to its spot as it can, over as few lines, clear of all the others."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import Rect
from templates_out.drawing.labels import things_of
from templates_out.drawing.marks import Circle, Line, Mark, Point, Text
from templates_out.drawing.sheet_pens import PT

BALLOON, NUMBER = 2.5, 8 * PT  # radius of a balloon [mm], size of its number


def balloons(spots: list[tuple[int, Point]], drawn: tuple[Mark, ...], box: Rect) -> Iterator[Mark]:
    """Yield a numbered balloon for each spot, with a leader; none touches another or another's leader."""
    lines = _lines(drawn)
    placed: list[tuple[Point, Point]] = []  # centres with their spots
    for number, spot in spots:
        tried = _by_cost(_round(spot, box), spot, [other for _, other in spots if other != spot], lines)
        centre = next((at for at in tried if _is_free(at, spot, placed)), tried[0])
        placed.append((centre, spot))
        far = math.dist(centre, spot)
        c, s = (spot[0] - centre[0]) / far, (spot[1] - centre[1]) / far
        yield Line((centre[0] + BALLOON * c, centre[1] + BALLOON * s), spot, pens.SEAM, f"balloon {number}")
        yield Circle(spot, 0.45, None, "ink", f"balloon {number}")
        yield Circle(centre, BALLOON, pens.PILOT, "sheet", f"balloon {number}")
        base = (centre[0], centre[1] - 0.37 * NUMBER)
        yield Text(base, str(number), NUMBER, bold=True, condensed=True, anchor="middle", part=f"balloon {number}")


def _round(spot: Point, box: Rect) -> list[Point]:
    """Return the places to try about a spot, within the box."""
    places = []
    for far in (7.0, 9.0, 11.0, 13.0, 16.0, 19.0, 23.0, 28.0, 34.0):
        for turn in range(0, 360, 15):
            x, y = spot[0] + far * math.cos(math.radians(turn)), spot[1] + far * math.sin(math.radians(turn))
            if box[0] + BALLOON <= x <= box[2] - BALLOON and box[1] + BALLOON <= y <= box[3] - BALLOON:
                places.append((x, y))
    return places or [((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)]


def _lines(drawn: tuple[Mark, ...]) -> NDArray[np.float64]:
    """Return all that is drawn as straight pieces, one row each: both ends; a circle as twelve."""
    rows: list[tuple[float, float, float, float]] = []
    for mark in drawn:
        for side in things_of(mark):
            ring = side.corners
            if side.radius:
                (x, y), turns = ring[0], [math.pi * turn / 6 for turn in range(12)]
                ring = tuple((x + side.radius * math.cos(turn), y + side.radius * math.sin(turn)) for turn in turns)
            rows += [(*a, *b) for a, b in pairwise((*ring, ring[0]))]
    return np.array(rows or [(0.0, 0.0, 0.0, 0.0)])


def _by_cost(tried: list[Point], spot: Point, others: list[Point], lines: NDArray[np.float64]) -> list[Point]:
    """Return the places best first: over few lines and no other spot, near by."""
    at = np.array(tried)
    start, along = lines[:, :2], lines[:, 2:] - lines[:, :2]
    square = np.maximum((along**2).sum(axis=1), 1e-12)
    share = np.clip(((at[:, None] - start) * along).sum(axis=2) / square, 0.0, 1.0)
    off = np.linalg.norm(at[:, None] - start - share[..., None] * along, axis=2)
    cost = 0.3 * np.linalg.norm(at - np.array(spot), axis=1) + 4.0 * (off < BALLOON + 0.6).sum(axis=1)
    if others:
        cost += 100.0 * (np.linalg.norm(at[:, None] - np.array(others), axis=2) < BALLOON + 1.2).sum(axis=1)
    return [tried[index] for index in np.argsort(cost, kind="stable")]


def _is_free(at: Point, spot: Point, placed: list[tuple[Point, Point]]) -> bool:
    """Say whether a balloon and its leader keep clear of those that are there."""
    return all(
        math.dist(at, centre) >= 2 * BALLOON + 1.0
        and _off(at, centre, other) >= BALLOON + 0.6
        and _off(centre, at, spot) >= BALLOON + 0.6
        and not _cross(at, spot, centre, other)
        and min(_off(spot, centre, other), _off(other, at, spot)) >= 0.5
        for centre, other in placed
    )


def _off(at: Point, a: Point, b: Point) -> float:
    """Return how far a place is from the straight piece from ``a`` to ``b``."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    share = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / max(dx * dx + dy * dy, 1e-12)
    share = min(1.0, max(0.0, share))
    return math.hypot(at[0] - a[0] - share * dx, at[1] - a[1] - share * dy)


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
