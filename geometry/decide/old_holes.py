"""The plan for each old hole: used again, left as it is, or filled first, and with which plug.

Lengths [mm]. Filling comes first, since epoxy has to cure before a new hole is drilled next to it.
"""

from __future__ import annotations

import math
from itertools import combinations
from operator import itemgetter
from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.decide.amounts_to_buy import Plug, is_cut, nearest, plug, too_wide
from geometry.design.validity import CLOSE
from geometry.judge.wood_around_holes import centres_apart, covers, wood_between
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.tables.known import inches

if TYPE_CHECKING:
    from geometry.design.boat import OldHole
    from geometry.design.design import Design

PlanKind = Literal["plug", "long plug", "own repair", "used again", "may be used again", "stays"]
ORDER: tuple[PlanKind, ...] = ("own repair", "long plug", "plug", "used again", "may be used again", "stays")
"""The order of the work."""

CROWD, WITHIN = 4, inches(4)  # so many old holes in a circle so wide need one repair together: common practice


class OldHolePlan(msgspec.Struct, frozen=True):
    """The plan for one old hole.

    Attributes:
        index: of the hole. name: of the hole.
        kind: the work on it; a plug that a new hole cuts is made again, round or long.
        bolt: the nearest new hole, "" where none is known.
        between: wood left between them, or around the new hole in a plug; below 0 they overlap; None where it is used again
            or not known.
        plug: its filling, None where it is not filled or not known.
    """

    index: int
    name: str
    kind: PlanKind
    bolt: str
    between: float | None
    plug: Plug | None = None


def old_hole_plans(design: Design) -> tuple[OldHolePlan, ...]:
    """Return the plan for each old hole, in the order of the work."""
    every = [_plan(design, index) for index in range(len(design.old_holes))]
    return tuple(sorted(every, key=lambda plan: ORDER.index(plan.kind)))


def _plan(design: Design, index: int) -> OldHolePlan:
    old = design.old_holes[index]
    try:
        bolt = nearest(design, index)
        between = None if bolt is None else wood_between(bolt, old, index)
    except Unmeasured:
        bolt = between = None
    name = "" if bolt is None else bolt.name
    if old.drill is not None:  # it is opened for a cable or a hose
        return OldHolePlan(index, old.name, "stays", name, between)
    if old.is_reused:
        return OldHolePlan(index, old.name, "used again", name, None)
    if covered_by(design, index):
        return OldHolePlan(index, old.name, "may be used again", name, None)
    if old.state == "plugged" and not is_cut(design, index):
        return OldHolePlan(index, old.name, "stays", name, between)
    if index in too_wide(design):
        return OldHolePlan(index, old.name, "own repair", name, between)
    try:
        filled = plug(design, index)
    except Unmeasured:
        return OldHolePlan(index, old.name, "plug", name, between)
    return OldHolePlan(index, old.name, "long plug" if filled.run else "plug", name, between, filled)


class PlugInTheWay(msgspec.Struct, frozen=True):
    """A plug that a new hole goes through: an old one, or the one that is still to be made.

    Attributes:
        bore: across the plug [mm].
        run: of a long plug, from the old hole towards the first of the bolts; 0 for a round one [mm].
        bolts: the new holes that go through it, by their places ("main motor / upper port"), the nearest first.
    """

    bore: float
    run: float
    bolts: tuple[str, ...]


def plugs_drilled_through(design: Design) -> dict[int, PlugInTheWay]:
    """Return the plugs that new holes go through, by the index of their old hole.

    A new hole goes through a plug where their circles overlap on either face, by more than 1e-6 mm. A hole that is used
    again has no plug. A hole that is not measured has none either.
    """
    every, ways = bolts(design), dict[int, PlugInTheWay]()
    for plan in old_hole_plans(design):
        old = design.old_holes[plan.index]
        size = old.plug_diameter if old.state == "plugged" else old.diameter
        if plan.kind == "used again" or size is None or old.drill is not None:
            continue
        made = plan.plug or Plug(old.name, size, 0.0)
        try:
            if plan.kind == "may be used again":  # until the owner says so, it is filled like any other
                made = plug(design, plan.index)
            near = sorted(((min(centres_apart(bolt, old, plan.index)), bolt) for bolt in every), key=itemgetter(0))
            through = [
                bolt.at
                for turn, (apart, bolt) in enumerate(near)
                if apart < (made.bore + bolt.hole) / 2 - CLOSE or (made.run and turn == 0)
            ]
        except Unmeasured:
            continue
        if through:
            ways[plan.index] = PlugInTheWay(made.bore, made.run, tuple(through))
    return ways


def covered_by(design: Design, index: int) -> str:
    """Return the bolt whose new hole covers an old one on both faces, so that it may be used again; "" for none."""
    for bolt in bolts(design):
        try:
            if covers(bolt, design.old_holes[index], index):
                return bolt.name
        except Unmeasured:
            continue
    return ""


def reused_by(design: Design) -> dict[str, OldHole]:
    """Return, by each bolt's place ("main motor / upper port"), the open old hole that its new hole uses.

    An old hole counts where it is marked for use again, is not plugged, and the nearest new hole covers it on both faces.
    """
    taken: dict[str, OldHole] = {}
    for index, old in enumerate(design.old_holes):
        if not old.is_reused:
            continue
        try:
            bolt = min(bolts(design), key=lambda nearby: max(centres_apart(nearby, old, index)), default=None)
            if bolt is not None and covers(bolt, old, index):
                taken[bolt.at] = old
        except Unmeasured:
            continue
    return taken


def crowded(design: Design) -> tuple[str, ...]:
    """Return the names of old holes that are too close together: four or more centres in a circle of 4 in; else none."""
    places = [(u, v, hole.name) for hole in design.old_holes for u, v in (hole.at,) if u is not None and v is not None]
    most: tuple[str, ...] = ()
    for first, second in combinations(places, 2):
        for centre in _centres(first[:2], second[:2], WITHIN / 2):
            inside = tuple(name for u, v, name in places if math.dist((u, v), centre) <= WITHIN / 2 + CLOSE)
            most = max(most, inside, key=len)
    return most if len(most) >= CROWD else ()


def _centres(a: tuple[float, float], b: tuple[float, float], radius: float) -> list[tuple[float, float]]:
    """Return the centres of the two circles of ``radius`` through two points, none where they are too far apart."""
    half, middle = math.dist(a, b) / 2, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    if half > radius or half < CLOSE:
        return [middle] if half < CLOSE else []
    off = math.sqrt(radius**2 - half**2) / (2 * half)
    across = (b[1] - a[1]) * off, (a[0] - b[0]) * off
    return [(middle[0] + across[0], middle[1] + across[1]), (middle[0] - across[0], middle[1] - across[1])]
