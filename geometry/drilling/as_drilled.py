"""The holes as they were drilled: everything checked again, the bracket on them, and what to do with a hole that is off.

The plan stays as it is. A bolt has its own place and lean: from the middle of its hole's outer end to that of its inner end.
Where one end was not read, the hole runs as planned from the other. Lengths [mm].
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

import msgspec
import numpy as np

from geometry.design.validity import CLOSE
from geometry.drilling.bracket_chance import Pattern, pattern
from geometry.drilling.bracket_fit import Holes, best_place
from geometry.judge.check import assembled, check
from geometry.judge.contradictions import contradicted
from geometry.readings.drilled_readings import drilled_key, drilled_of
from geometry.solid.faces import Unmeasured, need, profile_up
from geometry.solid.placed_bolts import Bolt, OwnHole, bolts, with_own_holes
from geometry.solving.solved import solved
from geometry.tables import fasteners

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.drilled_hole import DrilledHole
    from geometry.design.validity import Pair
    from geometry.drilling.bracket_fit import Numbers
    from geometry.judge.findings import Checked, Finding
    from geometry.solid.faces import Point

MOST_OFF = 25.4 / 8
"""[mm] an exit that is further off its plan is looked at again: 1/8 in, common practice."""
SETS = 1000
"""Sets of holes that are drawn with the readings' spread: a chance of 50 % is off by 1.6 % in one of three cases."""
_BAD = {"tight": 1, "unknown": 2, "fouled": 3}
_EXACT = 1e-3  # [mm] of an excess, for the chance
_NEAR = 1e-3  # [mm] how exactly the least easing is found


class Off(msgspec.Struct, frozen=True):
    """How far a hole is off its plan. An end is None where it was not read.

    Attributes:
        name: of the hole. outer: (across, up) on the outer face. inner: the same on the inner face. lean: of the axis from
            the planned one [degrees], None where an end was not read.
    """

    name: str
    outer: Point | None
    inner: Point | None
    lean: float | None

    @property
    def most(self) -> float:
        """The farther of both ends off the plan; 0 where none was read."""
        return max((math.hypot(*end) for end in (self.outer, self.inner) if end is not None), default=0.0)


class Easing(msgspec.Struct, frozen=True):
    """A hole that lets the bracket go on, once it is eased.

    Attributes:
        name: of the hole. by: how much is filed off one side. across, up: the way to file, a unit vector on the outer face.
        kind: "ease", or "plug" where the hole would then be wider than the bolt's normal clearance hole.
    """

    name: str
    by: float
    across: float
    up: float
    kind: Literal["ease", "plug"]


class OnHoles(msgspec.Struct, frozen=True):
    """The bracket of one motor on its holes as drilled.

    Attributes:
        excess: the least that some hole lacks, at or below 0 where the bracket goes on. chance: with the readings' spread.
        easings: the holes that help alone, the least easing first; empty where the bracket goes on.
    """

    excess: float
    chance: float
    easings: tuple[Easing, ...]


def is_drilled(design: Design, index: int) -> bool:
    """Return whether anything of a motor's holes as drilled was read. A motor that clamps on has none."""
    bolted = design.mounts[index].bracket.rows is not None
    return bolted and any(each.mount == index and not each.is_empty for each in design.as_drilled)


def placed(design: Design) -> Design:
    """Return the boat as solved, with each bolt in its hole as drilled where that was read.

    Raises:
        Unmeasured: where the inside top edge is, is not known.
    """
    boat = solved(design)
    own = {
        (each.mount, each.hole): _own(boat, each) for each in design.as_drilled
        if not each.is_empty and is_drilled(design, each.mount)
    }  # fmt: skip
    return with_own_holes(boat, own)


def check_drilled(design: Design) -> Checked:
    """Return every finding with the holes as drilled, worst first.

    Raises:
        Unmeasured: see `placed`.
    """
    there = placed(design)
    return assembled(there, contradicted(design, check(there).findings))


def worse_as_drilled(plan: Checked) -> Checked | None:
    """Return the findings that are worse with the holes as drilled than in a plan, worst first; None without such holes.

    Raises:
        Unmeasured: see `placed`.
    """
    design = plan.design
    if not any(is_drilled(design, index) for index in range(len(design.mounts))):
        return None
    now = check_drilled(design)
    return assembled(now.design, tuple(finding for finding in now.findings if _is_worse(finding, plan)))


def _is_worse(finding: Finding, plan: Checked) -> bool:
    was = plan.of(finding.check, finding.at)
    return finding.state in _BAD and (was is None or _BAD[finding.state] > _BAD.get(was.state, 0))


def off_plan(design: Design, index: int) -> tuple[Off, ...]:
    """Return how far each hole of a motor is off its plan.

    Raises:
        Unmeasured: the plan is not known.
    """
    boat = solved(design)
    drilled = {(bolt.mount_index, bolt.name): bolt for bolt in bolts(placed(design))}
    made = []
    for bolt in bolts(boat):
        if bolt.mount_index == index:
            now = drilled[index, bolt.name]
            made.append(_off(bolt, now))
    return tuple(made)


def _off(bolt: Bolt, now: Bolt) -> Off:
    own = now.own
    outer = None if own is None or own.outer is None else (own.outer[0] - bolt.u, own.outer[1] - bolt.v)
    inner = None if own is None or own.inner is None else (own.inner[0] - bolt.exit.u, own.inner[1] - bolt.exit.w)
    lean = None
    if outer is not None and inner is not None:
        lean = math.degrees(math.hypot(math.radians(now.tilt - bolt.tilt), math.atan(now.sway)))
    return Off(bolt.name, outer, inner, lean)


def on_holes(design: Design, index: int) -> OnHoles:
    """Return how a motor's bracket goes on its holes as drilled.

    Raises:
        Unmeasured: an outer end was not read, or a hole of the bracket is not known.
    """
    bracket, boat = _holes(design, index)
    excess = float(best_place(bracket, boat[None]).excess[0])
    errors = np.random.default_rng(0).standard_normal((SETS, *boat.shape)) * design.spreads.tape
    chance = float((best_place(bracket, boat + errors, _EXACT).excess <= CLOSE).mean())
    easings = () if excess <= CLOSE else _easings(design, index, bracket, boat)
    return OnHoles(excess, chance, easings)


def _own(boat: Design, drilled: DrilledHole) -> OwnHole:
    bolt = next(each for each in bolts(boat) if (each.mount_index, each.name) == (drilled.mount, drilled.hole))
    up = bolt.faces.edge_w if boat.well is None else profile_up(bolt.faces, boat.well)
    inner = _both(drilled.inner)
    inside = None if inner is None else (inner[0], inner[1] + up)
    return OwnHole(_both(drilled.outer), inside, drilled.diameter, drilled.washer, drilled.flat_cut, drilled.socket)


def _both(pair: Pair) -> Point | None:
    u, v = pair
    return None if u is None or v is None else (u, v)


def _holes(design: Design, index: int) -> tuple[Holes, Numbers]:
    """Return the bracket's holes with the plays of the holes as drilled, and where the bolts are in the bracket.

    A bolt that leans is off by half the bracket's thickness times its lean, at the middle of the bracket, and takes as much
    of the play. The bolt may lean back a little in its hole; that is left out, so nothing goes on that does not.
    """
    made: Pattern = pattern(design.mounts[index], index)
    table, plays, at = np.array(made[0]), [], []
    drilled = [bolt for bolt in bolts(placed(design)) if bolt.mount_index == index]
    for bolt, (*_, bracket_play) in zip(drilled, made[0], strict=True):
        if bolt.own is None or bolt.own.outer is None:
            held = drilled_of(design, index, bolt.name)
            axis = 1 if held is not None and held.outer[0] is not None else 0
            raise Unmeasured(drilled_key(index, bolt.name, f"outer.{axis}"))
        rise = math.tan(math.radians(bolt.tilt))
        half = _thickness(bolt) / 2
        off = half * bolt.sway, half * rise
        at.append((bolt.u - off[0], bolt.v - off[1]))
        plays.append(bracket_play + (bolt.hole - bolt.thread.diameter) / 2 - math.hypot(*off))
    return Holes(table[:, :2], table[:, 2], table[:, 3], np.array(plays)), np.array(at)


def _thickness(bolt: Bolt) -> float:
    rows, lower = bolt.mount.bracket.rows, bolt.mount.bracket.lower
    part = rows if bolt.upper else lower
    field = "rows" if bolt.upper else "lower"
    return need(None if part is None else part.pad_thickness, bolt.key(f"bracket.{field}.pad_thickness"))


def _easings(design: Design, index: int, bracket: Holes, boat: Numbers) -> tuple[Easing, ...]:
    """Return each hole that lets the bracket go on once it alone is eased, the least first."""
    mine = [bolt for bolt in bolts(placed(design)) if bolt.mount_index == index]
    made = [each for at, bolt in enumerate(mine) if (each := _easing(bolt, at, bracket, boat)) is not None]
    return tuple(sorted(made, key=lambda each: (each.kind == "plug", each.by)))


def _easing(bolt: Bolt, at: int, bracket: Holes, boat: Numbers) -> Easing | None:
    """Return how far one hole has to be eased, found by halving; None where easing it alone does not help."""

    def eased(by: float) -> Holes:
        plays = bracket.plays.copy()
        plays[at] += by
        return msgspec.structs.replace(bracket, plays=plays)

    low, high = 0.0, 2.0 * float(np.abs(boat - boat.mean(axis=0) - bracket.places + bracket.places.mean(axis=0)).max()) + 1.0
    if best_place(eased(high), boat[None]).excess[0] > CLOSE:
        return None
    while high - low > _NEAR:
        middle = (low + high) / 2
        low, high = (low, middle) if best_place(eased(middle), boat[None]).excess[0] <= CLOSE else (middle, high)
    best = best_place(eased(high), boat[None])
    u, v = (float(value) for value in best.misses[0, at])
    cos, sin = math.cos(best.turns[0]), math.sin(best.turns[0])
    u, v = u * cos - v * sin, u * sin + v * cos  # from the bracket's directions to the boat's
    size = math.hypot(u, v) or 1.0
    widest = fasteners.clearance_holes(bolt.hardware.bolt).normal
    kind: Literal["ease", "plug"] = "ease" if bolt.hole + high <= widest + CLOSE else "plug"
    return Easing(bolt.name, high, -u / size, -v / size, kind)
