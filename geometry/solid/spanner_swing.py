"""The arc that a ring spanner can turn through on a bolt inside, between floor, walls, blocks and the other bolts.

The handle turns in the plane through the middle of the nut, square to the bolt. Places in it are (u, p), p up, from the
bolt's axis. The well's sides meet it in straight lines. Their rounded corners count as wide as they are nearest to the
inner face. That is exact for a bolt square to the inner face. For one that leans, the arc is never too large. The inner
face is no obstacle, since a ring spanner's handle is cranked.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE, SMALL
from geometry.solid.faces import need
from geometry.solid.handle_arcs import Blocked, Free, Handle, by_circle, by_segment, longest_free
from geometry.solid.obstacle import block_named, side_of
from geometry.solid.planes import inside, sides, to_segment
from geometry.solid.section import Line, Section

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.solid.faces import Exit
    from geometry.solid.placed_bolts import Bolt
    from geometry.solid.planes import Point
    from geometry.solid.well import Space

_AXIS = (0.0, 0.0)
_PARALLEL = 1e-3  # cosine: a floor or a bolt nearer than this to the plane's own direction takes the whole turn
_PARTS = ("spacer", "washer", "nut", "thread_end")


def handle_of(bolt: Bolt) -> Handle | None:
    """Return the handle of a bolt's ring spanner, None without one.

    Raises:
        Unmeasured: its length or its width is not known.
    """
    spanner = bolt.hardware.spanner
    if spanner is None:
        return None
    length = need(spanner.length, bolt.hardware_key("spanner.length"))
    return Handle(length, need(spanner.handle, bolt.hardware_key("spanner.handle")) / 2)


def swing(space: Space, bolt: Bolt, others: Sequence[Bolt], handle: Handle) -> Free:
    """Return the longest free arc of a handle on a bolt, with the obstacles at its ends.

    Raises:
        Unmeasured: a size of this bolt, or of one within reach, is not known.
    """
    nut = bolt.body("nut")
    if nut is None:
        raise TypeError("every bolt has a nut or a head inside")
    middle = (nut.start + nut.end) / 2
    section, names = _section(space, bolt.exit, middle, handle.reach)
    if section is None:
        return Free(0.0, 0.0, ())
    if not section.is_free(_AXIS):
        return Free(0.0, 0.0, (_covering(section, names),))
    return longest_free((*_by_well(handle, section, names), *_by_bolts(handle, bolt, others, middle)))


def _covering(section: Section, names: tuple[str, ...]) -> str:
    """Return the name of the obstacle that covers the axis."""
    for name, ring in zip(names, section.rings, strict=True):
        if inside(_AXIS, ring):
            return name
    edges = section.named_edges
    if not edges:
        return side_of(min(section.lines, key=lambda line: line.over(_AXIS))).words
    return side_of(min(edges, key=lambda named: to_segment(_AXIS, named[1]))[0]).words


def _by_well(handle: Handle, section: Section, names: tuple[str, ...]) -> Iterator[Blocked]:
    for line, edge in section.named_edges:
        blocked = by_segment(handle, edge, side_of(line).words)
        if blocked is not None:
            yield blocked
    for name, ring in zip(names, section.rings, strict=True):
        for edge in sides(ring):
            blocked = by_segment(handle, edge, name)
            if blocked is not None:
                yield blocked


def _section(space: Space, exit_: Exit, middle: float, reach: float) -> tuple[Section | None, tuple[str, ...]]:
    """Return the free section across a bolt at ``middle`` along its axis, about the axis, and its blocks' names.

    None where the plane never leaves the well.
    """
    sine, cosine = math.sin(exit_.lean), math.cos(exit_.lean)
    n, w = middle * cosine, exit_.w + middle * sine
    steep = cosine - sine * space.falls
    if steep < _PARALLEL:
        return None, ()

    def nearest(*places: float) -> float:
        """The least distance in front of the inner face between some places up the plane, as far as the handle reaches."""
        return max(0.0, n - max(sine * min(reach, max(-reach, place)) for place in places))

    def up(place: float) -> float:
        return (place - n * space.falls - w) / steep

    lines = []
    for number, edge in enumerate(space.edges):
        first = math.inf if number == 0 else up(edge.a[1])
        last = math.inf if number == len(space.edges) - 1 else up(edge.b[1])
        strip = edge.strip(nearest(first, last))
        stretch = math.hypot(edge.normal_u, edge.normal_w * steep)
        foot = edge.foot - n * edge.sinks - edge.normal_u * exit_.u - edge.normal_w * w + strip
        lines.append(Line(edge.normal_u / stretch, edge.normal_w * steep / stretch, foot / stretch, strip / stretch))
    corners = tuple((edge.a[0] - exit_.u, up(edge.a[1])) for edge in space.edges[1:])
    rings, names = [], []
    for block in space.blocks:
        ring = tuple((u - exit_.u, (place - w) / cosine) for u, place in block.ring)
        if block.out >= nearest(*(p for _, p in ring)) - CLOSE:
            rings.append(ring)
            names.append(block_named(block.name).words)
    return Section(tuple(lines), corners, space.convex, tuple(rings)), tuple(names)


def _by_bolts(handle: Handle, bolt: Bolt, others: Sequence[Bolt], middle: float) -> Iterator[Blocked]:
    """Yield the angles that the other bolts' parts take in the plane."""
    for other in others:
        if other is bolt:
            continue
        turned = abs(other.exit.lean - bolt.exit.lean)
        if math.cos(turned) < _PARALLEL:
            yield Blocked(-math.pi, math.pi, _named(bolt, other))
            continue
        at, along = _met(bolt.exit, other.exit, middle)
        if math.hypot(*at) > handle.reach + SMALL:  # no washer is so wide; its sizes may not be known
            continue
        for part in _PARTS:
            body = other.body(part)
            if body is None:
                continue
            radius = body.shape.radius
            over = radius * math.tan(turned) + CLOSE
            if body.start - over <= along <= body.end + over:
                blocked = by_circle(handle, at, radius / math.cos(turned), _named(bolt, other))
                if blocked is not None:
                    yield blocked


def _met(exit_: Exit, other: Exit, middle: float) -> tuple[Point, float]:
    """Return where another bolt's axis meets the plane, and how far along that axis."""
    sine, cosine = math.sin(exit_.lean), math.cos(exit_.lean)
    along = ((exit_.w - other.w) * sine + middle) / math.cos(other.lean - exit_.lean)
    w = other.w + along * math.sin(other.lean) - exit_.w - middle * sine
    n = along * math.cos(other.lean) - middle * cosine
    return (other.u - exit_.u, w * cosine - n * sine), along


def _named(bolt: Bolt, other: Bolt) -> str:
    """Name another bolt as this one sees it, so that port and starboard can share a sentence."""
    if other.mount_index != bolt.mount_index:
        return f"the {other.name} bolt of {other.mount.name}"
    if other.pair == bolt.pair:
        return f"the other {other.pair} bolt"
    return f"the {other.pair} bolt {'on its side' if other.port == bolt.port else 'across from it'}"
