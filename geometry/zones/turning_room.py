"""The areas where a ring spanner can turn a nut far enough: areas of shapely on the outer face, in [mm].

It is the judge's own swing (`geometry.solid.spanner_swing`), for every place at once. A turn from one angle on takes a convex
shape, so the sides of well, blocks and bolts each rule out a sum of shapes. The angles are tried in ever finer steps. A place
is left out where the handle turns less than a degree more than it must. So is a little where bolts lean.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import shapely

from geometry.design.validity import CLOSE
from geometry.judge.room_to_work import is_turned_by_spanner, swing_limits
from geometry.solid.handle_arcs import gaps
from geometry.solid.spanner_swing import blocked_by_bolts, handle_of, middle_of, parts_in_the_way, surround
from geometry.solid.well import space
from geometry.zones.centred_motor import exit_line, longest_thread_end, shifted
from geometry.zones.free_room import SPECK
from geometry.zones.shape_sums import NOTHING, circle_around, grown, sums

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from shapely.geometry.base import BaseGeometry

    from geometry.solid.handle_arcs import Blocked, Handle
    from geometry.solid.placed_bolts import Body, Bolt
    from geometry.solid.planes import Segment
    from geometry.zones.shape_sums import Corners

_FIRST = math.pi / 4  # [radians] between the first angles tried
_FINE = math.radians(1.0)  # [radians] between the last ones
_PIECE = math.pi / 2  # [radians] a turn in one convex piece
_GRAIN = 0.06  # [mm] the handle's end may count so much longer
_SLIVER = 0.01  # [mm] an area that is narrower is left out
_SAME = 1e-9  # [radians]


@dataclass(frozen=True)
class _Obstacle:
    """Sides of obstacles, ``radius`` thick. The bolt's axis is at (u, w/stretch + foot) among them."""

    edges: tuple[Segment, ...]
    radius: float
    stretch: float
    foot: float


def turning_area(bolt: Bolt, still: Sequence[Bolt], grade: int, within: BaseGeometry) -> BaseGeometry:
    """Return the part of ``within`` where a bolt's ring spanner turns far enough; all of it without one.

    The other bolts of its motor are not in the way here.

    Args:
        still: the bolts of other motors. grade: 0 for the least swing, 1 for the advised one.
        within: an area of places on the outer face.

    Raises:
        Unmeasured: a size of the ring spanner, or of a bolt, is not known.
    """
    handle = _handle(bolt)
    return within if handle is None else _area(bolt, still, (), handle, grade, within)


def turning_next_to(
    bolt: Bolt, still: Sequence[Bolt], moved: Sequence[Bolt], grade: int, within: BaseGeometry
) -> BaseGeometry:
    """Return the part of a `turning_area` where the bolts that move with this one leave its ring spanner room to turn."""
    handle = _handle(bolt)
    if handle is None or within.is_empty:
        return within
    low, high = within.bounds[1], within.bounds[3]
    taken = tuple(_by_own(bolt, moved, handle, max(abs(low - bolt.v), abs(high - bolt.v))))
    return _area(bolt, still, taken, handle, grade, within) if taken else within


def _handle(bolt: Bolt) -> Handle | None:
    return handle_of(bolt) if is_turned_by_spanner(bolt) else None


def _area(
    bolt: Bolt, still: Sequence[Bolt], taken: tuple[Blocked, ...], handle: Handle, grade: int, within: BaseGeometry
) -> BaseGeometry:
    """Return the part of ``within`` where a handle turns far enough, outside the angles that are taken."""
    rise, at = exit_line(bolt)
    middle = middle_of(bolt)
    at += middle * math.sin(bolt.exit.lean)
    turn = _Turn(handle, math.radians(swing_limits(bolt)[grade]), tuple(_obstacles(bolt, still, handle)))
    sides = surround(space(bolt.design), bolt.exit.lean, middle, handle.reach)
    if sides is None:
        return NOTHING
    area = shifted(within, rise, at)
    for side in sides:
        area = area.intersection(shifted(side.free._free, side.stretch, 0.0))
    kept: BaseGeometry = NOTHING
    starts = [(free.start, free.end - turn.size) for free in gaps(taken)] if taken else [turn.any_start]
    for first, last in starts:
        if last >= first - _SAME:
            kept = kept.union(turn.somewhere(_solid(area.difference(kept)), first, last))
    return shifted(kept, 1 / rise, -at / rise)


def _by_own(bolt: Bolt, moved: Sequence[Bolt], handle: Handle, height: float) -> Iterator[Blocked]:
    """Yield the angles that the motor's own bolts take from a handle, up to a height above or below the present place [mm]."""
    for other in moved:
        if other is not bolt:
            # Two bolts that lean differently come nearer to each other as the transom's thickness changes.
            nearer = abs(exit_line(other)[0] - exit_line(bolt)[0]) * height
            yield from blocked_by_bolts(handle.wider(nearer), bolt, (other,), nearer, _at_longest)


def _at_longest(bolt: Bolt) -> tuple[Body, ...]:
    """Return the parts of a bolt in the way, with its thread end at its longest."""
    thread = longest_thread_end(bolt)
    short = tuple(body for body in parts_in_the_way(bolt) if body.part != "thread_end")
    return short if thread is None else (*short, thread)


def _obstacles(bolt: Bolt, still: Sequence[Bolt], handle: Handle) -> Iterator[_Obstacle]:
    middle, lean = middle_of(bolt), bolt.exit.lean
    for side in surround(space(bolt.design), lean, middle, handle.reach) or ():
        if side.edges:
            yield _Obstacle(side.edges, 0.0, side.stretch, 0.0)
    for other in still:
        turned = other.exit.lean - lean
        bodies = parts_in_the_way(other)
        if abs(lean) < CLOSE and abs(turned) < CLOSE:
            bodies = tuple(body for body in bodies if body.start - CLOSE <= middle <= body.end + CLOSE)
        if not bodies:
            continue
        radius = max(body.shape.radius for body in bodies) / math.cos(turned)
        far = radius * math.tan(abs(turned)) + CLOSE
        ends = min(body.start for body in bodies) - far, max(body.end for body in bodies) + far
        # The axis of the bolt is at w·cos(lean) in this frame, and that of the other runs across it where it leans more.
        low, high = ((other.exit.u, other.exit.w * math.cos(lean) + end * math.sin(turned)) for end in ends)
        yield _Obstacle(((low, high),), radius, 1 / math.cos(lean), -middle * math.sin(lean) * math.cos(lean))


@dataclass(frozen=True)
class _Turn:
    """A handle that has to turn through an angle among obstacles.

    ``size`` is the angle [radians].
    """

    handle: Handle
    size: float
    obstacles: tuple[_Obstacle, ...]

    @property
    def any_start(self) -> tuple[float, float]:
        """A whole turn of starts. Most obstacles are below, so it begins where the turn is about straight up."""
        upright = math.pi / 2 - self.size / 2
        return upright, upright + math.tau

    def somewhere(self, area: BaseGeometry, first: float, last: float) -> BaseGeometry:
        """Return the part of an area where the turn is free from some angle between two on [radians]."""
        steps = max(1, math.ceil((last - first) / _FIRST))
        starts = [first + (last - first) * number / steps for number in range(steps + 1)]
        upright = self.any_start[0]
        kept: BaseGeometry = NOTHING
        for start in sorted(starts, key=lambda start: abs(math.remainder(start - upright, math.tau))):
            got = self._free(area, start, self.size)
            kept, area = kept.union(got), _solid(area.difference(got))
            if area.is_empty:
                return kept
        for low, high in zip(starts, starts[1:], strict=False):
            got = self._between(area, low, high)
            kept, area = kept.union(got), _solid(area.difference(got))
        return kept

    def _between(self, area: BaseGeometry, low: float, high: float) -> BaseGeometry:
        """Return the part of an area where the turn is free from some angle between two on, but not from either end."""
        if high - low < _FINE or area.is_empty:
            return NOTHING
        # Each of these turns takes the angles from the last start to the first end.
        area = self._free(area, high, self.size - (high - low))
        middle = (low + high) / 2
        kept = self._free(area, middle, self.size)
        area = _solid(area.difference(kept))
        kept = kept.union(self._between(area, low, middle))
        return kept.union(self._between(_solid(area.difference(kept)), middle, high))

    def _free(self, area: BaseGeometry, start: float, size: float) -> BaseGeometry:
        """Return the part of an area where the handle is free from one angle on, through a size; all for a size below 0."""
        if size < 0.0:
            return area
        count = max(1, math.ceil(size / _PIECE))
        for number in range(count):
            piece = self._corners(start + size * number / count, start + size * (number + 1) / count)
            for obstacle in self.obstacles:
                if area.is_empty:
                    return NOTHING
                area = _solid(area.difference(_ruled_out(obstacle, piece, self.handle.reach, area)))
        return area

    def _corners(self, start: float, end: float) -> Corners:
        """Return the corners of a convex polygon around all that the handle covers from one angle to another."""
        aside, half = math.atan2(self.handle.half, self.handle.length), math.acos(1 / (1 + _GRAIN / self.handle.reach))
        start, end = start - aside, end + aside
        steps = math.ceil((end - start) / (2 * half))
        half = (end - start) / steps / 2
        at = start + half * (2 * np.arange(steps) + 1)
        arc = np.column_stack((np.cos(at), np.sin(at))) * (self.handle.reach / math.cos(half))
        ends = [(self.handle.reach * math.cos(at), self.handle.reach * math.sin(at)) for at in (start, end)]
        return np.vstack((arc, ends, self._about_axis))

    @cached_property
    def _about_axis(self) -> Corners:
        around: Corners = shapely.get_coordinates(circle_around((0.0, 0.0), self.handle.half))
        return around[:-1]


def _solid(area: BaseGeometry) -> BaseGeometry:
    """Return an area without its specks and slivers: places that are left out."""
    parts = shapely.get_parts(area)
    wide = shapely.area(parts) > np.maximum(SPECK, _SLIVER * shapely.length(parts))
    return area if wide.all() else shapely.union_all(parts[wide])


def _ruled_out(obstacle: _Obstacle, piece: Corners, reach: float, area: BaseGeometry) -> BaseGeometry:
    """Return where a bolt's axis may not be because an obstacle is in the way of its handle."""
    far = reach + obstacle.radius + 1.0
    left, low, right, high = area.bounds
    low, high = low / obstacle.stretch + obstacle.foot - far, high / obstacle.stretch + obstacle.foot + far
    near = [
        (a, b)
        for a, b in obstacle.edges
        if min(a[0], b[0]) <= right + far and max(a[0], b[0]) >= left - far
        and min(a[1], b[1]) <= high and max(a[1], b[1]) >= low
    ]  # fmt: skip
    if not near:
        return NOTHING
    each = sums(near, piece)
    if obstacle.radius:
        each = np.array([grown(shape, obstacle.radius) for shape in each])
    moved = np.asarray(shapely.transform(each, lambda at: (at - (0.0, obstacle.foot)) * (1.0, obstacle.stretch)))
    hit: BaseGeometry = shapely.union_all(moved[shapely.intersects(moved, area)])
    return hit
