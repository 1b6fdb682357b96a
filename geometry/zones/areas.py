"""Areas as rings, for drawing: overlaps of polygons, the inner face, the well, the end of the flat land [mm]."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from geometry.design.validity import area
from geometry.solid.faces import faces, need_all, profile_up
from geometry.solid.outline import inner_rim, single_ring
from geometry.solid.ring_cutting import intersection, left_of_line, plainly_apart, plainly_inside
from geometry.solid.section import meet
from geometry.solid.well import space

if TYPE_CHECKING:
    from collections.abc import Sequence

    import shapely

    from geometry.design.boat import Transom, Well
    from geometry.design.design import Design
    from geometry.solid.planes import Point
    from geometry.solid.section import Section

Ring = tuple["Point", ...]
_HIGH = 1e4  # [mm]: above any transom
_SPECK = 1e-6  # [mm2]: less does not count


def overlap(first: Sequence[Point], second: Sequence[Point]) -> tuple[Ring, ...]:
    """Return the overlap of two polygons."""
    plain = intersection(tuple(first), tuple(second))
    if plain is not None:
        return _grown(plain)
    import shapely

    return _rings(shapely.intersection(_polygon(first), _polygon(second)))


def blocked(section: Section, ring: Sequence[Point], off: Sequence[Ring] = ()) -> tuple[Ring, ...]:
    """Return the parts of a polygon outside the free section, or off the wood's rings ``off``."""
    plain = _plainly_taken(section, tuple(ring), off)
    if plain is not None:
        return _grown(plain)
    import shapely

    shape = shapely.polygons(ring)
    missing = shape.difference(section._free)
    if off:
        wood = shapely.union_all(shapely.polygons([shapely.linearrings(rim) for rim in off]))
        missing = missing.union(shape.difference(wood))
    return _rings(missing)


def _plainly_taken(section: Section, ring: Ring, off: Sequence[Ring]) -> Ring | None:
    """Return the part of a ring beyond one edge of a convex section. None where the ring is off the wood or on a block."""
    if not section.convex or (off and not plainly_inside(ring, off)):
        return None
    if not all(plainly_apart(ring, block) for block in section.rings):
        return None
    crossed = [line for line in section.lines if line.cuts(ring)]
    if len(crossed) > 1:
        return None
    return left_of_line(ring, *crossed[0].ends()[::-1]) if crossed else ()


def inner_face(design: Design) -> tuple[Ring, ...]:
    """Return the inner face's outline, in (u, w).

    Raises:
        Unmeasured: the outline, the rake, the cut or a thickness is not known.
    """
    return _inner_face(design.transom)


@lru_cache(maxsize=64)
def _inner_face(transom: Transom) -> tuple[Ring, ...]:
    rim = inner_rim(transom)
    plain = single_ring(rim)
    if plain is not None:
        return (plain,)
    import shapely

    cut, straight = (shapely.Polygon(ring) for ring in rim.rings)
    return _rings(cut.intersection(straight) if rim.every else cut.union(straight))


def well_area(design: Design) -> tuple[Ring, ...]:
    """Return the well on the inner face as drawn, without rounded corners, up to the transom's top, in (u, w).

    Raises:
        Unmeasured: a part of it is not known.
    """
    return () if design.well is None else _well_area(design.transom, design.well)


@lru_cache(maxsize=64)
def _well_area(transom: Transom, well: Well) -> tuple[Ring, ...]:
    up = profile_up(faces(transom), well)
    corners = [(u, y + up) for u, y in need_all(well.profile, "well.profile")]
    above = [(corners[0][0], _HIGH), *corners, (corners[-1][0], _HIGH)]
    return tuple(ring for part in _inner_face(transom) for ring in overlap(part, above))


def land_lines(design: Design) -> tuple[tuple[Point, Point], ...]:
    """Return the lines where the flat land ends above each edge of the floor, at the inner face, from port, in (u, w).

    Raises:
        Unmeasured: a part of the well is not known.
    """
    inside = space(design)
    lines = inside.section(0.0).lines
    land = []
    for index in range(1, len(lines) - 1):
        line, edge = lines[index], inside.edges[index]
        if line.normal_w < 0.5 or edge.land <= 0:
            continue
        lift = line.normal_u * edge.land, line.normal_w * edge.land
        ends = []
        for other, corner in ((lines[index - 1], edge.a), (lines[index + 1], edge.b)):
            ends.append(meet(line, other) or (corner[0] + lift[0], corner[1] + lift[1]))
        land.append((ends[0], ends[1]))
    return tuple(land)


def _grown(ring: Ring) -> tuple[Ring, ...]:
    """Return a ring as one area, none where it is too small."""
    return (ring,) if abs(area(ring)) > _SPECK else ()


def _polygon(ring: Sequence[Point]) -> shapely.Polygon | shapely.MultiPolygon:
    import shapely

    shape = shapely.polygons(ring)  # a tenth of the time of Polygon(ring)
    return shape if shapely.is_valid(shape) else shape.buffer(0)


def _rings(area: shapely.Geometry) -> tuple[Ring, ...]:
    import shapely

    parts = shapely.get_parts(area)
    return tuple(
        tuple((x, y) for x, y in shapely.get_coordinates(edge).tolist()[:-1])
        for edge in shapely.get_exterior_ring(parts[shapely.area(parts) > _SPECK])
    )
