"""The arc that a ring spanner can turn through on a bolt inside, between floor, walls, blocks and the other bolts.

The handle turns in the plane through the middle of the nut, square to the bolt. Places in it are (u, p), p up, from the
bolt's axis. The well's sides meet it in straight lines. Their rounded corners count as wide as they are nearest to the
inner face. That is exact for a bolt square to the inner face. For one that leans, the arc is never too large. The inner
face is no obstacle, since a ring spanner's handle is cranked.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import CLOSE, SMALL
from geometry.solid.faces import Exit, need
from geometry.solid.handle_arcs import Blocked, Free, Handle, by_circle, by_segment, longest_free
from geometry.solid.nearest_obstacle import block_named, side_of
from geometry.solid.planes import inside, sides, to_segment
from geometry.solid.section import Line, Section

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from geometry.solid.placed_bolts import Body, Bolt
    from geometry.solid.planes import Point, Segment
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


def middle_of(bolt: Bolt) -> float:
    """Return how far along a bolt's axis the middle of its nut is, or of its head inside [mm]."""
    nut = bolt.body("nut")
    if nut is None:
        raise TypeError("every bolt has a nut or a head inside")
    return (nut.start + nut.end) / 2


def parts_in_the_way(bolt: Bolt) -> tuple[Body, ...]:
    """Return the parts of a bolt that the handle of another one may meet."""
    return tuple(body for part in _PARTS if (body := bolt.body(part)) is not None)


def swing(space: Space, bolt: Bolt, others: Sequence[Bolt], handle: Handle, near: float = 0.0) -> Free:
    """Return the longest free arc of a handle on a bolt, with the obstacles at its ends.

    Args:
        near: 0, or a distance that the bolt may be moved up or down [mm]: no arc after such a move is longer than this one.

    Raises:
        Unmeasured: a size of this bolt, or of one within reach, is not known.
    """
    middle = middle_of(bolt)
    sine, cosine = math.sin(bolt.exit.lean), math.cos(bolt.exit.lean)
    # In the bolt's plane it is this far at most. The section there may be as much further in front of the inner face.
    moved = near / max(_PARALLEL, min(1.0, cosine - sine * space.falls, cosine))
    handle = handle.wider(-moved) if near else handle
    section, names = _section(space, bolt.exit, middle, handle.reach, 2 * moved * abs(sine))
    if section is None:
        return Free(0.0, 0.0, ())
    if not near and not section.is_free(_AXIS):
        return Free(0.0, 0.0, (_covering(section, names),))
    turned = blocked_by_bolts(handle, bolt, others, -2 * near * abs(sine))
    return longest_free((*_by_well(handle, section, names), *turned))


class Surround(msgspec.Struct, frozen=True):
    """The sides of the well and of the blocks in a bolt's plane, for any place of its axis on the inner face.

    The axis is at (u, w/stretch) among the edges. ``free`` is the room between them.
    """

    edges: tuple[Segment, ...]
    free: Section
    stretch: float


def surround(space: Space, lean: float, middle: float, reach: float) -> tuple[Surround, ...] | None:
    """Return the obstacles across all bolts of one lean, ``middle`` along their axes, the well and then the blocks [mm].

    Exact for square bolts. Where they lean, the rounded corners are as wide, and the blocks as long, as anywhere in reach.
    None where the plane never leaves the well.
    """
    sine, cosine = math.sin(lean), math.cos(lean)
    section, _ = _section(space, Exit(0.0, -middle * sine, 0.0, 0.0, 0.0, lean), middle, reach, -math.inf)
    if section is None:
        return None
    well = Section(section.lines, section.corners, section.convex, ())
    blocks = Section((), (), True, section.rings)
    edges = tuple(edge for _, edge in well.named_edges), tuple(edge for ring in section.rings for edge in sides(ring))
    return Surround(edges[0], well, cosine - sine * space.falls), Surround(edges[1], blocks, cosine)


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


def _section(
    space: Space, exit_: Exit, middle: float, reach: float, later: float = 0.0
) -> tuple[Section | None, tuple[str, ...]]:
    """Return the free section across a bolt at ``middle`` along its axis, about the axis, and its blocks' names.

    None where the plane never leaves the well.

    Args:
        later: counts each obstacle so much further in front of the inner face, where it is smaller; -inf: nearest of all.
    """
    sine, cosine = math.sin(exit_.lean), math.cos(exit_.lean)
    n, w = middle * cosine, exit_.w + middle * sine
    steep = cosine - sine * space.falls
    if steep < _PARALLEL:
        return None, ()

    def nearest(*places: float) -> float:
        """The least distance in front of the inner face between some places up the plane, as far as the handle reaches."""
        if later == -math.inf:
            return max(0.0, n - abs(sine) * reach)
        return max(0.0, n - max(sine * min(reach, max(-reach, place)) for place in places) + later)

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


def blocked_by_bolts(
    handle: Handle, bolt: Bolt, others: Sequence[Bolt], longer: float = 0.0,
    parts: Callable[[Bolt], tuple[Body, ...]] = parts_in_the_way,
) -> Iterator[Blocked]:
    """Yield the angles that the other bolts' parts take in the plane through the middle of a bolt's nut.

    Args:
        longer: each part counts as so much longer at both ends [mm]. parts: of a bolt, that may be in the way.
    """  # fmt: skip
    middle = middle_of(bolt)
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
        for body in parts(other):
            radius = body.shape.radius
            over = radius * math.tan(turned) + CLOSE + longer
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
