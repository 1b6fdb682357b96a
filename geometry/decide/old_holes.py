"""What becomes of each old hole: used again, left as it is, filled first, and with what kind of plug.

Lengths [mm]. Order of work: what is filled comes first, since epoxy has to cure before a new hole is drilled beside it.
"""

from __future__ import annotations

import math
from itertools import combinations
from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.decide.quantities import Plug, is_cut, nearest, plug, too_wide
from geometry.design.validity import CLOSE
from geometry.judge.wood import centres_apart, swallows, wood_between
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.tables.known import inches

if TYPE_CHECKING:
    from geometry.design.boat import OldHole
    from geometry.design.design import Design

Fated = Literal["plug", "long plug", "own repair", "used again", "may be used again", "stays"]
ORDER: tuple[Fated, ...] = ("own repair", "long plug", "plug", "used again", "may be used again", "stays")
"""In which order the work goes."""

CROWD, WITHIN = 4, inches(4)  # so many old holes in a circle so wide: the zone is a repair of its own, common practice


class Fate(msgspec.Struct, frozen=True):
    """What becomes of one old hole.

    Attributes:
        index: which. name: its.
        fated: what becomes of it; a plug that a new hole cuts is made anew, round or long.
        bolt: the nearest new hole, "" where none is known.
        between: wood left between them, or round the new hole in a plug; below 0 they run into each other; None where it is
            used again or not known.
        plug: what it is filled with, None where it is not filled or can't be reckoned.
    """

    index: int
    name: str
    fated: Fated
    bolt: str
    between: float | None
    plug: Plug | None = None


def fates(design: Design) -> tuple[Fate, ...]:
    """Return what becomes of each old hole, in the order of the work."""
    found = [_fate(design, index) for index in range(len(design.old_holes))]
    return tuple(sorted(found, key=lambda fate: ORDER.index(fate.fated)))


def _fate(design: Design, index: int) -> Fate:
    old = design.old_holes[index]
    try:
        bolt = nearest(design, index)
        between = None if bolt is None else wood_between(bolt, old, index)
    except Unmeasured:
        bolt = between = None
    name = "" if bolt is None else bolt.name
    if old.reuse:
        return Fate(index, old.name, "used again", name, None)
    if swallowed_by(design, index):
        return Fate(index, old.name, "may be used again", name, None)
    if old.state == "plugged" and not is_cut(design, index):
        return Fate(index, old.name, "stays", name, between)
    if index in too_wide(design):
        return Fate(index, old.name, "own repair", name, between)
    try:
        filled = plug(design, index)
    except Unmeasured:
        return Fate(index, old.name, "plug", name, between)
    return Fate(index, old.name, "long plug" if filled.run else "plug", name, between, filled)


def swallowed_by(design: Design, index: int) -> str:
    """Return the bolt whose new hole takes an old one in on both faces, so that it may be used again; "" for none."""
    for bolt in bolts(design):
        try:
            if swallows(bolt, design.old_holes[index], index):
                return bolt.name
        except Unmeasured:
            continue
    return ""


def reused_by(design: Design) -> dict[str, OldHole]:
    """Return, by each bolt's place ("main motor / upper port"), the open old hole that its new hole uses.

    An old hole counts where it is marked for use again, is not plugged, and the nearest new hole takes it in on both faces.
    """
    taken: dict[str, OldHole] = {}
    for index, old in enumerate(design.old_holes):
        if not old.reuse:
            continue
        try:
            bolt = min(bolts(design), key=lambda one: max(centres_apart(one, old, index)), default=None)
            if bolt is not None and swallows(bolt, old, index):
                taken[bolt.at] = old
        except Unmeasured:
            continue
    return taken


def crowded(design: Design) -> tuple[str, ...]:
    """Return the names of old holes that stand too close together: four or more centres in a circle of 4 in; else none."""
    places = [(u, v, hole.name) for hole in design.old_holes for u, v in (hole.at,) if u is not None and v is not None]
    most: tuple[str, ...] = ()
    for one, two in combinations(places, 2):
        for centre in _centres(one[:2], two[:2], WITHIN / 2):
            inside = tuple(name for u, v, name in places if math.dist((u, v), centre) <= WITHIN / 2 + CLOSE)
            most = max(most, inside, key=len)
    return most if len(most) >= CROWD else ()


def _centres(a: tuple[float, float], b: tuple[float, float], radius: float) -> list[tuple[float, float]]:
    """Return the centres of the two circles of ``radius`` through two points, none where they lie too far apart."""
    half, middle = math.dist(a, b) / 2, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    if half > radius or half < CLOSE:
        return [middle] if half < CLOSE else []
    off = math.sqrt(radius**2 - half**2) / (2 * half)
    across = (b[1] - a[1]) * off, (a[0] - b[0]) * off
    return [(middle[0] + across[0], middle[1] + across[1]), (middle[0] - across[0], middle[1] - across[1])]
