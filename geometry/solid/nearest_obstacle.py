"""The obstacle nearest to a part inside, by its name: well floor, corner radius, wall, block, or edge of the wood."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.solid.discs import Disc
from geometry.solid.planes import between, inside, sides, to_nearest, to_segment
from geometry.solid.room_along_axis import recedes

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from geometry.solid.faces import Exit
    from geometry.solid.placed_bolts import Body
    from geometry.solid.planes import Point
    from geometry.solid.section import Line, Section
    from geometry.solid.well import Space

    _Thing = Line | str

_LEVEL = 0.7  # an edge is a floor where its normal points up by more than this, else a wall
_SPECK = 1e-6  # [mm] a narrower strip of the rounded corner does not count


class Obstacle(msgspec.Struct, frozen=True):
    """An obstacle that limits a part.

    Attributes:
        name: as in a finding, such as "corner radius". words: as in a sentence, with its article.
        rises: the gain in room for each unit of height, 0 where height gives none.
    """

    name: str
    words: str
    rises: float = 0.0


WOOD = Obstacle("inside edge of the transom", "the inside edge of the transom")
PLATE = Obstacle("backing plate's edge", "the edge of its backing plate")


def block_named(name: str) -> Obstacle:
    """Return a block as an obstacle, by its owner's name for it."""
    return Obstacle(name, f"the {name}")


def nearest(space: Space, exit_: Exit, body: Body) -> Obstacle | None:
    """Return the obstacle that a body on a bolt is nearest to, or overlaps most; None where nothing limits it.

    Each obstacle is measured by itself, at the body's ends and, by a leaning axis, where a block ends between them. That is
    exact in a convex well with a square axis. Elsewhere it may name a neighbour with about the same room.
    """
    if space.empty:
        return None
    cosine, sine = math.cos(exit_.lean), math.sin(exit_.lean)
    start, end = max(0.0, body.start * cosine), body.end * cosine
    rooms: list[tuple[float, _Thing]] = []
    for n in (start,) if recedes(space, exit_) else (start, end):
        centre = exit_.u, exit_.w * cosine + n * sine
        standing = [block.name for block in space.blocks if block.out > n]
        rooms += _rooms(space.section(n, cosine), standing, body.shape, centre)
    for block in space.blocks if sine else ():
        if start < block.out <= end:
            centre = exit_.u, exit_.w * cosine + block.out * sine
            ring = tuple((u, w * cosine) for u, w in block.ring)
            rooms.append((_block_room(ring, body.shape, centre), block.name))
    return _nearest(rooms)


def _nearest(rooms: Iterable[tuple[float, _Thing]]) -> Obstacle | None:
    thing = min(rooms, key=lambda pair: pair[0], default=(0.0, None))[1]
    return None if thing is None else _obstacle(thing)


def nearest_to_ring(section: Section, standing: Iterable[str], ring: tuple[Point, ...]) -> tuple[float, Obstacle] | None:
    """Return the room of a polygon in one section [mm] and the obstacle that leaves it least; None where nothing limits it.

    Args:
        standing: the names of the section's blocks.
    """
    names, speck = tuple(standing), Disc(0.0)
    rooms = [(room, thing) for corner in ring for room, thing in _rooms(section, names, speck, corner)]
    for name, block in zip(names, section.rings, strict=True):  # a block's corner may be nearest to a side, or within
        deepest = max((min(to_segment(at, side) for side in sides(ring)) for at in block if inside(at, ring)), default=0.0)
        apart = min(between(side, edge) for side in sides(ring) for edge in sides(block))
        rooms.append((-deepest if deepest else apart, name))
    if not rooms:
        return None
    room, thing = min(rooms, key=lambda pair: pair[0])
    return room, _obstacle(thing)


def _rooms(section: Section, blocks: Iterable[str], shape: Disc, centre: Point) -> Iterator[tuple[float, _Thing]]:
    """Yield the room to each obstacle of one section by itself, with the edge's line or the block's name."""
    chain: tuple[Point, ...] = ()
    if section.lines and not section.convex:
        first, last = section.corners[0], section.corners[-1]
        far = max(centre[1], first[1], last[1]) + 1e4
        chain = ((first[0], far), *section.corners, (last[0], far))
    for index, line in enumerate(section.lines):
        over = line.over(centre)
        if section.convex or (over < 0 and _within(centre, chain[index], chain[index + 1])):
            room = over - (shape.reach(-line.normal_u, -line.normal_w) if shape.is_cut else shape.radius)
        else:
            room = to_segment(centre, (chain[index], chain[index + 1])) - line.strip - shape.radius
        yield room, line
    for name, ring in zip(blocks, section.rings, strict=True):
        yield _block_room(ring, shape, centre), name


def _block_room(ring: tuple[Point, ...], shape: Disc, centre: Point) -> float:
    if not shape.is_cut or inside(centre, ring):
        apart = to_nearest(centre, sides(ring))
        return (-apart if inside(centre, ring) else apart) - shape.radius
    return min(shape.gap(centre, edge) for edge in sides(ring))


def _within(at: Point, a: Point, b: Point) -> bool:
    """Return whether a point's foot on a line is between two of the line's points."""
    du, dw = b[0] - a[0], b[1] - a[1]
    along = (at[0] - a[0]) * du + (at[1] - a[1]) * dw
    return 0.0 <= along <= du * du + dw * dw


def side_of(line: Line) -> Obstacle:
    """Return the side of the well that a section's line is, or its rounded corner."""
    floor = line.normal_w > _LEVEL
    name = "well floor" if floor else "port wall" if line.normal_u > 0 else "starboard wall"
    rises = line.normal_w if floor else 0.0
    rounded = line.strip > _SPECK
    return Obstacle("corner radius", f"the {name}'s rounded corner", rises) if rounded else Obstacle(name, f"the {name}", rises)


def _obstacle(thing: _Thing) -> Obstacle:
    """Return the obstacle of an edge's line, or of a block's name."""
    return block_named(thing) if isinstance(thing, str) else side_of(thing)
