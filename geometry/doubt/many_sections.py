"""The free sections of many boats at once: the same rules as `geometry.solid.section`, for arrays of boats.

Every array has one place for each boat, last; lines and edges come first. Distances [mm]. Where no short rule is exact, a
room is less than the truth, never more.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Places = NDArray[np.intp]
"""Numbers of some of the boats, rising."""

_FAR = 1e5  # [mm]: no boat's well is so high
_OFF = 1e-7  # [mm] beyond an obstacle's edge, where a free place is looked for
_FEW = 8  # lines: with no more, each two of them may have the nearest corner between them


class Edges(NamedTuple):
    """Segments from a to b, one row each."""

    au: Floats
    aw: Floats
    bu: Floats
    bw: Floats

    def at(self, boats: Places) -> Edges:
        """Return the edges of some of the boats."""
        return Edges(*(part[:, boats] for part in self))


class Lines(NamedTuple):
    """Lines normal·place = foot, one row each, with a unit normal into the free side; ``strip`` is of the rounded corner."""

    nu: Floats
    nw: Floats
    foot: Floats
    strip: Floats

    def over(self, u: Floats, w: Floats) -> Floats:
        """Return how far places are from each line, positive on its free side."""
        return self.nu * u + self.nw * w - self.foot

    def at(self, boats: Places) -> Lines:
        """Return the lines of some of the boats."""
        return Lines(*(part[:, boats] for part in self))


class Ring(NamedTuple):
    """A polygon, its corners in rows."""

    u: Floats
    w: Floats

    @property
    def edges(self) -> Edges:
        """Its sides."""
        return Edges(self.u, self.w, np.concatenate((self.u[1:], self.u[:1])), np.concatenate((self.w[1:], self.w[:1])))

    def at(self, boats: Places) -> Ring:
        """Return the ring of some of the boats."""
        return Ring(self.u[:, boats], self.w[:, boats])


class Blocks(NamedTuple):
    """A block at one distance, and in which boats it is there."""

    ring: Ring
    there: Flags


class Shape(NamedTuple):
    """A disc, cut level at ``cut`` below its centre where that is less than the radius."""

    radius: Floats
    cut: Floats

    @property
    def is_cut(self) -> bool:
        """Whether the disc is cut in any boat."""
        return bool(np.any(self.cut < self.radius))

    def at(self, boats: Places) -> Shape:
        """Return the shapes of some of the boats."""
        return Shape(*(part[boats] if np.ndim(part) else np.broadcast_to(part, boats.shape) for part in self))


class Section:
    """One free section of each boat.

    Args:
        lines: the profile's edges from port, rounded corner included; None without a well.
        corners: the profile's corners, one fewer. convex: in which boats no corner points into the well. blocks: each block.
    """

    def __init__(self, lines: Lines | None, corners: Ring | None, convex: Flags, blocks: tuple[Blocks, ...]) -> None:
        self.lines, self.corners, self.convex, self.blocks = lines, corners, convex, blocks
        self._bent: tuple[Ring, tuple[Blocks, ...]] | None = None

    def at(self, boats: Places) -> Section:
        """Return the sections of some of the boats."""
        blocks = tuple(Blocks(block.ring.at(boats), block.there[boats]) for block in self.blocks)
        lines = None if self.lines is None else self.lines.at(boats)
        corners = None if self.corners is None else self.corners.at(boats)
        some = Section(lines, corners, self.convex[boats], blocks)
        if self._bent is not None:
            above, strips = self._bent
            some._bent = above.at(boats), tuple(Blocks(strip.ring.at(boats), strip.there[boats]) for strip in strips)
        return some

    def room_of(self, shape: Shape, u: Floats, w: Floats) -> Floats:
        """Return the room of a shape with its centre at a place; see `geometry.solid.section.Section.room_of`."""
        if not shape.is_cut:
            return self.signed_distance(u, w) - shape.radius
        room = np.full(u.shape, np.inf)
        cut, bent = shape.cut < shape.radius, ~self.convex
        if self.lines is not None:
            reaches = reach(shape, -self.lines.nu, -self.lines.nw)
            room = np.where(self.convex, np.min(self.lines.over(u, w) - reaches, axis=0), np.inf)
        for edges, there in self._obstacles(bent):
            room = np.minimum(room, np.where(there, np.min(gap(shape, u, w, edges), axis=0), np.inf))
        free = self.is_free(u, w)
        room = np.where(free, room, np.minimum(room, -shape.radius))
        short = np.flatnonzero((room <= 0.0) | ~cut)
        if short.size:
            some = self.at(short)
            few = shape.at(short)
            room[short] = np.minimum(room[short], some._of_discs_within(few, u[short], w[short], free[short]))
        return room

    def _of_discs_within(self, shape: Shape, u: Floats, w: Floats, free: Flags) -> Floats:
        """Return the least room of the discs in a cut disc; of the whole disc where its centre is in an obstacle."""
        whole = self.signed_distance(u, w) - shape.radius
        cut = np.flatnonzero((shape.cut < shape.radius) & free)
        if not cut.size:
            return whole
        some, few, at_u, at_w = self.at(cut), shape.at(cut), u[cut], w[cut]
        low = np.arcsin(np.clip(few.cut / few.radius, -1.0, 1.0))
        half = np.sqrt(few.radius**2 - few.cut**2)
        best = np.minimum(some.signed_distance(at_u + half, at_w - few.cut), some.signed_distance(at_u - half, at_w - few.cut))
        for turn in (-low / 2, *(np.full(low.shape, np.radians(each)) for each in (0, 45, 90, 135, 180)), np.pi + low / 2):
            out = (few.radius - few.cut) / (1 + np.sin(turn))
            there = some.signed_distance(at_u + out * np.cos(turn), at_w + out * np.sin(turn))
            best = np.minimum(best, there - (few.radius - out))
        whole[cut] = best
        return whole

    def signed_distance(self, u: Floats, w: Floats) -> Floats:
        """Return the distance from a place to the nearest obstacle, negative inside one; inf without any."""
        apart = np.full(u.shape, np.inf)
        bent = ~self.convex
        if self.lines is not None:
            apart = np.where(self.convex, np.min(self.lines.over(u, w), axis=0), np.inf)
        for edges, there in self._obstacles(bent):
            apart = np.minimum(apart, np.where(there, to_edges(u, w, edges), np.inf))
        free = self.is_free(u, w)
        taken = np.flatnonzero(~free)
        if taken.size:
            apart[taken] = -self.at(taken)._depth(u[taken], w[taken])
        return apart

    def is_free(self, u: Floats, w: Floats) -> Flags:
        """Return in which boats a place is free of every obstacle."""
        free = np.ones(u.shape, dtype=bool)
        for block in self.blocks:
            free &= ~(block.there & inside(u, w, block.ring))
        if self.lines is None:
            return free
        free &= ~self.convex | np.all(self.lines.over(u, w) >= 0.0, axis=0)
        if not self.convex.all():
            above, strips = self._in_bent_wells()
            clear = inside(u, w, above)
            for strip in strips:
                clear &= ~(strip.there & inside(u, w, strip.ring))
            free &= self.convex | clear
        return free

    def _obstacles(self, bent: Flags) -> list[tuple[Edges, Flags]]:
        """Return the edges of the obstacles that are no straight lines, and in which boats they are there."""
        obstacles = [(block.ring.edges, block.there) for block in self.blocks]
        if self.lines is not None and bent.any():
            above, strips = self._in_bent_wells()
            open_edges = Edges(*(part[:-1] for part in above.edges))  # the last one closes the space far above
            obstacles += [(open_edges, bent), *((strip.ring.edges, strip.there & bent) for strip in strips)]
        return obstacles

    def _in_bent_wells(self) -> tuple[Ring, tuple[Blocks, ...]]:
        """Return the space above the profile, and the rounded corner along each edge."""
        if self._bent is None:
            self._bent = self._stripped()
        return self._bent

    def _stripped(self) -> tuple[Ring, tuple[Blocks, ...]]:
        if self.lines is None or self.corners is None:
            raise TypeError("a boat without a well has no profile")
        lines, corners = self.lines, self.corners
        far = np.full((1, *corners.u.shape[1:]), _FAR)
        above = Ring(np.vstack((corners.u[:1], corners.u, corners.u[-1:])), np.vstack((far, corners.w, far)))
        u, w = above
        strips = []
        for index in range(len(lines.nu)):
            nu, nw, strip = lines.nu[index], lines.nw[index], lines.strip[index]
            if not np.any(strip > 1e-8):
                continue
            ends = []
            for at, other in ((index, index - 1), (index + 1, index + 1)):
                far_u, far_w = u[at] + nu * strip, w[at] + nw * strip
                if 0 <= other < len(lines.nu):
                    sign = 1.0 if other < index else -1.0
                    turn = sign * (lines.nu[other] * nw - lines.nw[other] * nu)
                    inward = turn < -1e-12
                    if inward.any():
                        met_u, met_w = _meet(lines, other, index)
                        far_u, far_w = np.where(inward, met_u, far_u), np.where(inward, met_w, far_w)
                ends.append((far_u, far_w))
            (ua, wa), (ub, wb) = ends
            ring = Ring(np.stack((u[index], u[index + 1], ub, ua)), np.stack((w[index], w[index + 1], wb, wa)))
            strips.append(Blocks(ring, strip > 1e-8))
        return above, tuple(strips)

    def _depth(self, u: Floats, w: Floats) -> Floats:
        """Return how far a place in an obstacle is from a free one: the distance itself, or more than that."""
        plain = self.convex.copy()
        for block in self.blocks:
            plain &= ~block.there
        deep = np.full(u.shape, np.inf)
        other = np.flatnonzero(~plain)
        if self.lines is not None and other.size < len(plain):
            rest = np.flatnonzero(plain)
            deep[rest] = _below_lines(self.lines.at(rest), u[rest], w[rest])
        if other.size:
            deep[other] = self.at(other)._to_free(u[other], w[other])
        return deep

    def _to_free(self, u: Floats, w: Floats) -> Floats:
        """Return the distance to the nearest free place, the nearest are tried first.

        Places are tried beyond the nearest point of any edge, and where two lines of a convex well meet.
        """
        ways_u, ways_w, far = [], [], []
        if self.lines is not None:
            over = self.lines.over(u, w)
            away = np.where(self.convex & (over < 0.0), _OFF - over, 0.0)
            ways_u, ways_w, far = [away * self.lines.nu], [away * self.lines.nw], [away]
            if pairs := _pairs(len(over)):
                first, second = map(list, zip(*pairs, strict=True))
                to_u, to_w = _meet(self.lines, first, second)
                to_u = to_u + _OFF * (self.lines.nu[first] + self.lines.nu[second]) - u  # into the free side of both
                to_w = to_w + _OFF * (self.lines.nw[first] + self.lines.nw[second]) - w
                ways_u.append(to_u)
                ways_w.append(to_w)
                far.append(np.where(self.convex, np.hypot(to_u, to_w), 0.0))
        for group, there in self._obstacles(~self.convex):
            to_u, to_w = _foot(u, w, *group)
            apart = np.hypot(to_u - u, to_w - w)
            longer = np.where(there & (apart > 0.0), 1.0 + _OFF / np.maximum(apart, 1e-12), 0.0)
            ways_u.append((to_u - u) * longer)
            ways_w.append((to_w - w) * longer)
            far.append(apart * longer)
        du, dw, left = np.vstack(ways_u), np.vstack(ways_w), np.vstack(far)
        left[left <= 0.0] = np.inf
        best, todo = np.full(u.shape, _FAR), np.arange(len(u))
        while todo.size:
            nearest = np.argmin(left[:, todo], axis=0)
            apart = left[nearest, todo]
            todo, nearest, apart = (part[apart < _FAR] for part in (todo, nearest, apart))
            free = self.at(todo).is_free(u[todo] + du[nearest, todo], w[todo] + dw[nearest, todo])
            best[todo[free]] = apart[free]
            left[nearest, todo] = np.inf
            todo = todo[~free]
        return best


def to_edges(u: Floats, w: Floats, edges: Edges) -> Floats:
    """Return the distance from places to the nearest of some edges."""
    to_u, to_w = _foot(u, w, *edges)
    nearest: Floats = np.sqrt(np.min((to_u - u) ** 2 + (to_w - w) ** 2, axis=0))
    return nearest


def inside(u: Floats, w: Floats, ring: Ring) -> Flags:
    """Return whether places are inside a ring."""
    au, aw, bu, bw = ring.edges
    crosses = (aw > w) != (bw > w)
    rise = np.where(crosses, bw - aw, 1.0)
    left = u < (bu - au) * (w - aw) / rise + au
    odd: Flags = np.logical_xor.reduce(crosses & left, axis=0)
    return odd


def gap(shape: Shape, u: Floats, w: Floats, edges: Edges) -> Floats:
    """Return the distance from a cut disc to each edge; below 0 where they meet; see `geometry.solid.discs.Disc.gap`."""
    radius = shape.radius
    cut = np.minimum(shape.cut, radius)
    half = np.sqrt(radius**2 - cut**2)
    au, aw, bu, bw = edges.au - u, edges.aw - w, edges.bu - u, edges.bw - w
    nothing = np.zeros_like(au)
    near_u, near_w = _foot(nothing, nothing, au, aw, bu, bw)
    chord = tuple(np.broadcast_to(part, au.shape) for part in (-half, -cut, half, -cut))
    best = _between((au, aw, bu, bw), chord)
    spots = ((near_u, near_w), (au, aw), (bu, bw))
    for at_u, at_w in spots:
        far = np.hypot(at_u, at_w)
        best = np.where((far <= radius) & (at_w >= -cut), 0.0, best)
        outside = (far > radius) & (radius * at_w >= -cut * far)
        best = np.where(outside, np.minimum(best, far - radius), best)
    du, dw, off = bu - au, bw - aw, radius - cut
    deepest = np.maximum.reduce([_depth_in(shape, cut, at_u, at_w) for at_u, at_w in spots])
    square, middle, rest = du * du, au * du + off * dw, au * au + 2 * off * aw - off * off
    under = middle * middle - square * rest
    root = -(middle + np.copysign(np.sqrt(np.maximum(under, 0.0)), middle))
    for above, below in ((root, square), (rest, root)):
        share = np.divide(above, below, out=np.full(above.shape, -1.0), where=(below != 0.0) & (under >= 0.0))
        share = np.where((share > 0.0) & (share < 1.0), share, 0.0)
        deepest = np.maximum(deepest, _depth_in(shape, cut, au + share * du, aw + share * dw))
    return np.where(best > 0.0, best, -np.maximum(0.0, deepest))


def _depth_in(shape: Shape, cut: Floats, u: Floats, w: Floats) -> Floats:
    """Return how far places, seen from a cut disc's centre, are inside its rim."""
    return np.minimum(shape.radius - np.hypot(u, w), cut + w)


Segments = tuple[Floats, ...]


def _between(first: Segments, second: Segments) -> Floats:
    """Return the distance between segments, 0 where they cross."""
    au, aw, bu, bw = first
    cu, cw, du, dw = second
    best = np.minimum.reduce([
        _apart(au, aw, second), _apart(bu, bw, second), _apart(cu, cw, first), _apart(du, dw, first),
    ])  # fmt: skip
    ru, rw, su, sw = bu - au, bw - aw, du - cu, dw - cw
    den = ru * sw - rw * su
    safe = np.where(den == 0.0, 1.0, den)
    t, k = ((cu - au) * sw - (cw - aw) * su) / safe, ((cu - au) * rw - (cw - aw) * ru) / safe
    return np.where((den != 0.0) & (t >= 0) & (t <= 1) & (k >= 0) & (k <= 1), 0.0, best)


def _apart(u: Floats, w: Floats, segment: Segments) -> Floats:
    to_u, to_w = _foot(u, w, *segment)
    return np.hypot(to_u - u, to_w - w)


def _foot(u: Floats, w: Floats, au: Floats, aw: Floats, bu: Floats, bw: Floats) -> tuple[Floats, Floats]:
    """Return the points of segments nearest to places."""
    du, dw = bu - au, bw - aw
    square = du * du + dw * dw
    share = ((u - au) * du + (w - aw) * dw) / np.where(square == 0.0, 1.0, square)
    share = np.minimum(1.0, np.maximum(0.0, share))
    return au + share * du, aw + share * dw


def reach(shape: Shape, u: Floats, w: Floats) -> Floats:
    """Return how far a shape reaches from its centre in some directions, unit vectors."""
    cut = np.minimum(shape.cut, shape.radius)
    half = np.sqrt(shape.radius**2 - cut**2)
    return np.where(shape.radius * w >= -cut, shape.radius, np.abs(u) * half - cut * w)


def _meet(lines: Lines, first: int | list[int], second: int | list[int]) -> tuple[Floats, Floats]:
    """Return where two lines, or those of each pair, meet; far away where they are parallel."""
    den = lines.nu[first] * lines.nw[second] - lines.nw[first] * lines.nu[second]
    safe = np.where(np.abs(den) < 1e-12, 1e-12, den)
    return (
        (lines.foot[first] * lines.nw[second] - lines.nw[first] * lines.foot[second]) / safe,
        (lines.nu[first] * lines.foot[second] - lines.foot[first] * lines.nu[second]) / safe,
    )


def _below_lines(lines: Lines, u: Floats, w: Floats) -> Floats:
    """Return how far places are from the free side of all lines; how far beyond the farthest line where none is free."""
    over = lines.over(u, w)
    free = (over < 0.0) & _above_all(lines, u - over * lines.nu, w - over * lines.nw)
    best = np.min(np.where(free, -over, np.inf), axis=0)
    if pairs := _pairs(len(over)):
        to_u, to_w = _meet(lines, *map(list, zip(*pairs, strict=True)))
        free = _above_all(lines, to_u, to_w)
        best = np.minimum(best, np.min(np.where(free, np.hypot(to_u - u, to_w - w), np.inf), axis=0))
    beyond: Floats = np.where(np.isfinite(best), best, np.maximum(0.0, -np.min(over, axis=0)))
    return beyond


def _pairs(count: int) -> list[tuple[int, int]]:
    """Return the numbers of the lines that may meet at the nearest corner: each two, or neighbours where there are many."""
    return [(a, b) for a in range(count) for b in range(a + 1, count if count <= _FEW else min(count, a + 2))]


def _above_all(lines: Lines, u: Floats, w: Floats) -> Flags:
    """Return which places, in rows, are on the free side of all lines, or at them."""
    free = np.ones(u.shape, dtype=bool)
    for nu, nw, foot in zip(lines.nu, lines.nw, lines.foot, strict=True):
        free &= nu * u + nw * w - foot >= -_OFF
    return free
