"""The sweep of a motor's outermost places while it tilts and turns, and its room in the well.

A place turns about the steering axis first: a plumb line through the middle of the tilt tube, our assumption. Then it
tilts about the tube. From the side, at all turns of the steering, it is a level stretch that turns about the tube. Places
seen from the side are (x, z): forward and up, from the datum. Lengths [mm], angles [radians].
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.solid.bracket_holes import hook_above_datum, mount_key
from geometry.solid.faces import faces, need
from geometry.solid.planes import foot
from geometry.solid.well import floor_end

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.solid.planes import Point
    from geometry.solid.well import Space

_WALL = 0.7  # an edge whose normal points up by no more than this is a side of the well


class Front(msgspec.Struct, frozen=True):
    """The front of the well from the side: all that is forward of it and below its lip.

    Attributes:
        square: unit vector square to the front, forward. lip: its top.
    """

    square: Point
    lip: Point

    def past(self, at: Point) -> float:
        """Return how far a place is past the front, square to it [mm]; negative aft of it."""
        return self.square[0] * (at[0] - self.lip[0]) + self.square[1] * (at[1] - self.lip[1])

    def below(self, at: Point) -> float:
        """Return how far a place is below the lip [mm]."""
        return self.lip[1] - at[1]

    def room(self, at: Point) -> float:
        """Return the distance of a place from the front or from all that is behind its lip [mm]; negative inside."""
        past, below = self.past(at), self.below(at)
        if past >= 0.0 and below >= 0.0:
            return -min(past, below)
        up, far = (-self.square[1], self.square[0]), 1e6
        ends = ((self.lip[0] - up[0] * far, self.lip[1] - up[1] * far), (self.lip[0] + far, self.lip[1]))
        return min(math.dist(at, foot(at, (self.lip, end))) for end in ends)


class Sweep(msgspec.Struct, frozen=True):
    """The sweep of one outermost place.

    Attributes:
        tube: the tube's middle in (x, z). aft, forward: the level stretch, from the tube, before it tilts. up: its height.
        most: full tilt. aside: how far the place reaches to each side of the motor's middle.
    """

    tube: Point
    aft: float
    forward: float
    up: float
    most: float
    aside: float

    def at(self, along: float, tilt: float) -> Point:
        """Return a place of the stretch once it has tilted."""
        sine, cosine = math.sin(tilt), math.cos(tilt)
        return self.tube[0] + along * cosine + self.up * sine, self.tube[1] - along * sine + self.up * cosine

    def arcs(self) -> Iterator[tuple[float, float, float]]:
        """Yield radius, first and last angle forward of plumb of the arcs at the edge of the sweep."""
        middle = (0.0,) if self.aft < 0.0 < self.forward else ()
        for along in (self.aft, self.forward, *middle):
            first = math.atan2(along, self.up)
            yield math.hypot(along, self.up), first, first + self.most

    def lowest(self, toward: Point) -> float:
        """Return the least of place · ``toward``, a vector, over the sweep."""
        away = math.atan2(-toward[0], -toward[1])
        least = math.inf
        for radius, first, last in self.arcs():
            for angle in (first, last, *_between(away, first, last)):
                at = _on(self.tube, radius, angle)
                least = min(least, at[0] * toward[0] + at[1] * toward[1])
        return least


def sweep_of(design: Design, index: int, number: int) -> Sweep:
    """Return the sweep of one outermost place of a motor.

    Raises:
        Unmeasured: the tube, the place, the tilt, the lock or the height of the motor is not known.
    """
    tilt = design.mounts[index].tilt
    most = math.radians(need(tilt.most, mount_key(index, "tilt.most")))
    x, up, half, lock = _place(design, index, number)
    forward, aft = most_turned(x, half, lock), -most_turned(-x, half, lock)
    return Sweep(tube_at(design, index), aft, forward, up, most, most_turned(half, abs(x), lock))


def reach_aside(design: Design, index: int, number: int) -> float:
    """Return how far an outermost place reaches to each side of the motor's middle, at any lock [mm].

    Raises:
        Unmeasured: the place or the lock is not known.
    """
    x, _, half, lock = _place(design, index, number)
    return most_turned(half, abs(x), lock)


def _place(design: Design, index: int, number: int) -> tuple[float, float, float, float]:
    """Return how far forward of the tube and above it an outermost place is, its half width, and the lock."""
    tilt, key = design.mounts[index].tilt, f"tilt.points.{number}."
    lock = math.radians(need(tilt.lock, mount_key(index, "tilt.lock")))
    point = tilt.points[number]
    radius = need(point.radius, mount_key(index, f"{key}radius"))
    angle = math.radians(need(point.angle, mount_key(index, f"{key}angle")))
    half = need(point.half_width, mount_key(index, f"{key}half_width"))
    return radius * math.sin(angle), radius * math.cos(angle), half, lock


def most_turned(along: float, across: float, lock: float) -> float:
    """Return the most of along·cos(turn) + across·sin(turn) for a turn from none to the lock; ``across`` is not negative."""
    turn = min(lock, math.atan2(across, along))
    return along * math.cos(turn) + across * math.sin(turn)


def tube_at(design: Design, index: int) -> Point:
    """Return the middle of a motor's tilt tube in (x, z); it rises with the bracket [mm].

    Raises:
        Unmeasured: its place on the bracket, the bracket's height, the rake or the thickness is not known.
    """
    mount = design.mounts[index]
    aft, above = (need(mount.tilt.tube[at], mount_key(index, f"tilt.tube.{at}")) for at in (0, 1))
    back = aft + need(mount.set_back, mount_key(index, "set_back"))
    return faces(design.transom).level_point(hook_above_datum(mount, index) + above, -back)


def front_of(design: Design, space: Space, index: int) -> Front | None:
    """Return the front of the well ahead of a motor, None without a well.

    Raises:
        Unmeasured: the well's length, the lean or the lip of its front, or the motor's place is not known.
    """
    well = design.well
    if well is None:
        return None
    u = need(design.mounts[index].offset, mount_key(index, "offset"))
    lean = math.radians(need(well.front_lean, "well.front_lean"))
    top = need(well.front_height, "well.front_height")
    x, z = floor_end(faces(design.transom), space, u, need(well.length, "well.length"))
    return Front((math.cos(lean), math.sin(lean)), (x - (top - z) * math.tan(lean), top))


def room_ahead(sweep: Sweep, front: Front) -> float:
    """Return the least distance of a sweep from the well's front and lip [mm]; negative, how deep it is inside.

    Least is at the edge of the sweep: on its arcs, or on the stretch before and after the tilt. There it is at an end,
    toward the front, down, toward the lip, or where both depths inside are alike.
    """
    places = [_on(sweep.tube, radius, angle) for radius, first, last in sweep.arcs()
              for angle in _turning(sweep.tube, radius, first, last, front)]  # fmt: skip
    for tilt in (0.0, sweep.most):
        ends = sweep.at(sweep.aft, tilt), sweep.at(sweep.forward, tilt)
        places += [*ends, foot(front.lip, ends), *_alike(ends, front)]
    return min(map(front.room, places))


def _on(tube: Point, radius: float, angle: float) -> Point:
    return tube[0] + radius * math.sin(angle), tube[1] + radius * math.cos(angle)


def _turning(tube: Point, radius: float, first: float, last: float, front: Front) -> Iterator[float]:
    """Yield the angles of an arc at which it may be nearest to the front, or deepest inside."""
    yield first
    yield last
    yield from _between(math.atan2(*front.square), first, last)
    yield from _between(math.pi, first, last)
    yield from _between(math.atan2(front.lip[0] - tube[0], front.lip[1] - tube[1]), first, last)
    across, up = front.square[0], front.square[1] + 1.0  # past = below along a line: across·x + up·z is constant
    size, middle = math.hypot(across, up) * radius, math.atan2(across, up)
    apart = across * (front.lip[0] - tube[0]) + up * (front.lip[1] - tube[1])
    if size > abs(apart):
        half = math.acos(apart / size)
        yield from _between(middle - half, first, last)
        yield from _between(middle + half, first, last)


def _between(angle: float, first: float, last: float) -> Iterator[float]:
    """Yield an angle, by whole turns, where it is between two others."""
    turned = first + (angle - first) % math.tau
    if turned <= last:
        yield turned


def _alike(ends: tuple[Point, Point], front: Front) -> Iterator[Point]:
    """Yield the place between two others at which both depths inside are alike."""
    a, b = (front.past(end) - front.below(end) for end in ends)
    if a * b < 0.0:
        share = a / (a - b)
        (ax, az), (bx, bz) = ends
        yield ax + share * (bx - ax), az + share * (bz - az)


def sides_of(design: Design, space: Space, sweeps: list[Sweep]) -> tuple[float, float]:
    """Return the u of the well's port and starboard side: the innermost places no lower than the sweeps [mm].

    The sides run on upward without end. That is the safe side where they stop at a deck. Their rounded corners with the
    inner face count as wide as they are where the sweeps come nearest to that face.
    """
    face = faces(design.transom)
    rise = face.rake - math.atan(space.falls) + face.taper
    # Carried back along the floor, every place at w on the inner face has the same height in this direction, up it.
    up = -math.sin(rise), math.cos(rise)
    zero = face.level_point(*face.face_point(0.0, 0.0))
    above = face.level_point(*face.face_point(1.0, 0.0))
    unit = (above[0] - zero[0]) * up[0] + (above[1] - zero[1]) * up[1]
    lowest = min(sweep.lowest(up) for sweep in sweeps)
    ahead = face.level_point(*face.face_point(0.0, 1.0))
    square = ahead[0] - zero[0], ahead[1] - zero[1]  # of length 1, from the inner face into the boat
    nearest = max(0.0, min(sweep.lowest(square) for sweep in sweeps) - zero[0] * square[0] - zero[1] * square[1])
    w = (lowest - zero[0] * up[0] - zero[1] * up[1]) / unit
    port = [space.edges[0].b[0] + space.edges[0].strip(nearest)]
    starboard = [space.edges[-1].a[0] - space.edges[-1].strip(nearest)]
    for edge in space.edges[1:-1]:
        high, low = max(edge.a[1], edge.b[1]), min(edge.a[1], edge.b[1])
        if abs(edge.normal_w) > _WALL or high < w:
            continue
        ends = [edge.a[0], edge.b[0]]
        if low < w:
            share = (w - edge.a[1]) / (edge.b[1] - edge.a[1])
            ends = [edge.a[0] + share * (edge.b[0] - edge.a[0]), max((edge.a, edge.b), key=lambda end: end[1])[0]]
        inward = edge.strip(nearest) / edge.normal_u
        (port if edge.normal_u > 0.0 else starboard).extend(end + inward for end in ends)
    return max(port), min(starboard)
