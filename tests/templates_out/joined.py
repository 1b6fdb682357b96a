"""Putting printed sheets together as a person does it, by their matching crosses, with another's reader."""

from __future__ import annotations

import math
import re

from tests.readers import ReadPage
from tests.templates_out.printed import PRECISE


def crosses(page: ReadPage) -> list[tuple[float, float]]:
    """Middles of the matching crosses: level lines 6 mm long with an upright one through them."""
    short = [p.points for p in page.paths if len(p.points) == 2 and abs(math.dist(*p.points) - 6.0) < 0.01]
    level = [((a[0] + b[0]) / 2, a[1]) for a, b in short if abs(a[1] - b[1]) < 1e-3]
    upright = [(a[0], (a[1] + b[1]) / 2) for a, b in short if abs(a[0] - b[0]) < 1e-3]
    return [at for at in level if any(math.dist(at, other) < 0.01 for other in upright)]


def cell(page: ReadPage) -> tuple[int, int]:
    """Row and column, as the sheet itself says."""
    place = re.search(r"(\d+) of \d+ across, (\d+) of \d+ down", page.text)
    assert place
    return int(place[2]), int(place[1])


def joined(pages: list[ReadPage]) -> list[tuple[float, float]]:
    """Where each page is on the first, found by laying crosses on a neighbour's crosses: the most that meet win."""
    places = {0: (0.0, 0.0)}
    marks = [crosses(page) for page in pages]
    cells = [cell(page) for page in pages]
    while len(places) < len(pages):
        new, old = next(
            (n, o)
            for n in range(len(pages))
            for o in places
            if n not in places and cells[n] in ((cells[o][0] + 1, cells[o][1]), (cells[o][0], cells[o][1] + 1))
        )
        axis, end = (0, max) if cells[new][0] == cells[old][0] else (1, min)
        start = min if end is max else max
        edge, other_edge = end(at[axis] for at in marks[old]), start(at[axis] for at in marks[new])
        there = [at for at in marks[old] if abs(at[axis] - edge) < 0.1]  # on the seam that the two share
        here = [at for at in marks[new] if abs(at[axis] - other_edge) < 0.1]
        best, meet = (0.0, 0.0), 0
        for a in there:
            for b in here:
                move = (a[0] - b[0], a[1] - b[1])
                count = sum(any(math.dist((x + move[0], y + move[1]), q) < PRECISE for q in there) for x, y in here)
                if count > meet:
                    best, meet = move, count
        assert meet >= 2, "fewer than two crosses meet"
        places[new] = (places[old][0] + best[0], places[old][1] + best[1])
    return [places[i] for i in range(len(pages))]


def datum(page: ReadPage) -> float:
    """Height of the datum: the longest level line 0.5 mm wide."""
    heavy = [p.points for p in page.paths if len(p.points) == 2 and abs(p.look.weight - 0.5) < 0.01]
    level = [points for points in heavy if abs(points[0][1] - points[1][1]) < 1e-3]
    return max(level, key=lambda points: math.dist(*points))[0][1]


def centreline(page: ReadPage) -> float | None:
    """Place across of the centreline: dashed, upright, 0.35 mm wide, ending on the datum."""
    for p in page.paths:
        if len(p.points) == 2 and p.look.dashed and abs(p.look.weight - 0.35) < 0.01:
            (ax, ay), (bx, by) = p.points
            if abs(ax - bx) < 1e-3 and abs(max(ay, by) - datum(page)) < 0.01:
                return ax
    return None


def assembled(pages: list[ReadPage]) -> tuple[list[tuple[float, float]], tuple[float, float]]:
    """Places of the pages, and the origin (datum on centreline) among them."""
    places = joined(pages)
    for page, (dx, dy) in zip(pages, places, strict=True):
        u = centreline(page)
        if u is not None:
            return places, (u + dx, datum(page) + dy)
    raise AssertionError("no sheet shows the centreline under the datum")
