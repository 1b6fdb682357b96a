"""Check of several motors: their brackets, their cowls straight ahead, and how far their centrelines are apart [mm]."""

from __future__ import annotations

import math
from itertools import combinations
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.reporter import NO_LIMITS, Outcome, Reporter
from geometry.solid.bracket_holes import bracket_ring, mount_key
from geometry.solid.faces import Unmeasured, need
from geometry.solid.planes import Point, between, sides
from geometry.solid.ring_cutting import plainly_apart
from geometry.tables.known import KW_PER_HP

if TYPE_CHECKING:
    from geometry.design.motor import Mount

LARGE = 150 * KW_PER_HP  # [kW] above which a motor is large: our assumption
COWLS, CENTRELINES = "cowls", "centrelines"

Ring = tuple[Point, ...]


def motors(report: Reporter) -> None:
    """Report for each two motors next to each other, or too near, how far they are apart."""
    for port, starboard in _neighbours(report):
        mounts = report.design.mounts[port], report.design.mounts[starboard]
        at, who = " and ".join(mount.name for mount in mounts), f"the {mounts[0].name} and the {mounts[1].name}"
        _brackets(report, (port, starboard), at, who)
        _cowls(report, (port, starboard), at, who)
        _centrelines(report, (port, starboard), at, who)


def _neighbours(report: Reporter) -> list[tuple[int, int]]:
    """Return the pairs of motors to look at, port first.

    Those next to each other across the boat, and any others whose brackets' boxes are nearer than advised. A motor without
    a place comes with every other one: nobody knows which is next to it.
    """
    mounts = report.design.mounts
    order = sorted(range(len(mounts)), key=lambda index: mounts[index].offset or 0.0)
    unplaced = {index for index, mount in enumerate(mounts) if mount.offset is None}
    advised = report.design.limits.motors[1]
    return [
        (port, starboard) for (place, port), (other, starboard) in combinations(enumerate(order), 2)
        if other == place + 1 or unplaced & {port, starboard} or _reach(mounts[port]) + _reach(mounts[starboard]) + advised
        > (mounts[starboard].offset or 0.0) - (mounts[port].offset or 0.0)
    ]  # fmt: skip


def _reach(mount: Mount) -> float:
    """Return how far a motor reaches from its own middle to either side, as far as that is measured [mm]."""
    sizes = [abs(u) for u, _ in mount.bracket.outline if u is not None]
    return max((*sizes, mount.cowl_half_width or 0.0), default=0.0)


def _place_keys(pair: tuple[int, int]) -> tuple[str, ...]:
    return tuple(mount_key(index, field) for index in pair for field in ("upper_at", "offset", "row", "bracket"))


def _brackets(report: Reporter, pair: tuple[int, int], at: str, who: str) -> None:
    def look() -> Outcome:
        port, starboard = (bracket_ring(report.design.mounts[index], index) for index in pair)
        value = apart(port, starboard)
        return _gap(report, value, f"The brackets of {who}")

    report.add("motors", at, report.design.limits.motors, "mm", _place_keys(pair), pair, look)


def _gap(report: Reporter, value: float, what: str) -> Outcome:
    """Return the outcome of a gap between two motors' parts [mm]; below 0 they overlap."""
    advised = report.design.limits.motors[1]
    if value < -CLOSE:
        cure = f"Move the motors {report.limit(advised - value)} further apart."
        return Outcome(value, f"{what} overlap by {report.overlap(value)}.", cure)
    text = f"{what} are {report.room(value)} apart"
    if value < advised - CLOSE:
        return Outcome(value, f"{text}; {report.limit(advised)} is advised.", "Move the motors further apart.")
    return Outcome(value, f"{text}.")


def apart(port: Ring, starboard: Ring) -> float:
    """Return how far two brackets are apart on the face [mm]; where they overlap, how far to part them, negative.

    They are parted by a move across the boat, ``port`` to port.
    """
    if not plainly_apart(port, starboard):
        import shapely  # a large library, for what is not plain

        if shapely.Polygon(port).intersects(shapely.Polygon(starboard)):
            return -max(0.0, _across(port, starboard))
    return min(between(side, other) for side in sides(port) for other in sides(starboard))


def _across(port: Ring, starboard: Ring) -> float:
    """Return how far ``port`` reaches beyond ``starboard`` at any height that they share [mm]: largest at some corner."""
    heights = sorted({v for _, v in (*port, *starboard)})
    lines = ((_ends(port, v), _ends(starboard, v)) for v in heights)
    return max((mine[1] - theirs[0] for mine, theirs in lines if mine is not None and theirs is not None), default=-math.inf)


def _ends(ring: Ring, v: float) -> tuple[float, float] | None:
    """Return from where to where a ring reaches across at one height; None where it does not reach that height."""
    met: list[float] = []
    for (ua, va), (ub, vb) in sides(ring):
        if min(va, vb) <= v <= max(va, vb):
            met += [ua, ub] if va == vb else [ua + (ub - ua) * (v - va) / (vb - va)]
    return (min(met), max(met)) if met else None


def _centres(report: Reporter, pair: tuple[int, int]) -> float:
    port, starboard = (need(report.design.mounts[index].offset, mount_key(index, "offset")) for index in pair)
    return abs(starboard - port)


def _cowls(report: Reporter, pair: tuple[int, int], at: str, who: str) -> None:
    """Report the cowls' gap with both motors straight ahead; a cowl that is not measured is a note."""
    rests = tuple(mount_key(index, field) for index in pair for field in ("offset", "cowl_half_width"))

    def look() -> Outcome | None:
        halves = [report.design.mounts[index].cowl_half_width for index in pair]
        if None in halves:
            text = f"The cowls of {who} are not checked: the half width of a cowl is not measured."
            return Outcome(None, text, "Measure each cowl, from the motor's middle to its outside.", "note")
        try:
            value = _centres(report, pair) - sum(half for half in halves if half is not None)
        except Unmeasured:
            return None  # the brackets' finding names what is missing
        return _gap(report, value, f"The cowls of {who}")

    report.add("motors", f"{at} / {COWLS}", report.design.limits.motors, "mm", rests, pair, look)


def _centrelines(report: Reporter, pair: tuple[int, int], at: str, who: str) -> None:
    """Report two motors whose centrelines are nearer than is common: a note."""
    rests = tuple(mount_key(index, field) for index in pair for field in ("offset", "power_kw"))

    def look() -> Outcome | None:
        try:
            value = _centres(report, pair)
        except Unmeasured:
            return None
        large = any((report.design.mounts[index].power_kw or 0.0) > LARGE + CLOSE for index in pair)
        assumed = report.design.assumptions
        usual = assumed.large_centres if large else assumed.motor_centres
        if value >= usual - CLOSE:
            return None
        text = (
            f"The middles of {who} are {report.size(value)} apart; {report.limit(usual)} or more is common. "
            "The motor's drawing comes first."
        )
        return Outcome(value, text, None, "note")

    report.add("motors", f"{at} / {CENTRELINES}", NO_LIMITS, "mm", rests, pair, look)
