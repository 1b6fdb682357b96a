"""A backing plate as a workshop makes it: its rounded outline, its holes and its relieved edge, before any page.

Seen from inside the boat as it is under the washers: x to port, y up, from the midpoint of its holes [mm]. Its back is
on the wood.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, cast

import msgspec

from geometry.design.validity import area
from geometry.errors import OwnerError
from geometry.solid.faces import Unmeasured, need
from geometry.solid.placed_bolts import Bolt, bolts, plate_ring
from geometry.solving.solved import solved_at_plan
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Arc, Circle, Line, Mark
from templates_out.faces.on_inside import plates_of
from templates_out.faces.sheet_refusals import not_known

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.hardware import BackingPlate
    from geometry.units.units import Unit
    from templates_out.drawing.marks import Pen, Point

CORNERS = {"in": (9.525, 6.35, 3.175), "mm": (10.0, 6.0, 3.0)}  # mm: radii to choose from, largest first: our assumption
_SHARE = 0.45  # of a side, that one corner's rounding may take


class PlateShape(msgspec.Struct, frozen=True):
    """A backing plate.

    Attributes:
        name: "lower pair", with its motor where there are more. count: how many are made so.
        ring: its corners, unrounded, anticlockwise. radius: of its outward corners, 0: sharp.
        holes: centre, diameter, and whose each is.
        back: its back's corners where the lower edge is relieved, else None. relief: along the face, and through.
        thickness: of the backing plate. material: its name.
    """

    name: str
    count: int
    ring: tuple[Point, ...]
    radius: float
    holes: tuple[tuple[Point, float, str], ...]
    back: tuple[Point, ...] | None
    relief: tuple[float, float]
    thickness: float
    material: str

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the backing plate [mm]."""
        xs, ys = [x for x, _ in self.ring], [y for _, y in self.ring]
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def has_inward_corner(self) -> bool:
        """Whether any corner points into the backing plate."""
        return any(_turn(a, b, c) < 0 for a, b, c in _threes(self.ring))


def plate_shapes(design: Design) -> tuple[PlateShape, ...]:
    """Return every backing plate of a design; backing plates that are made alike are there once.

    Raises:
        OwnerError: there is no backing plate, or one of its measurements is not known.
    """
    alike: dict[PlateShape, list[str]] = {}
    try:
        for joined in plates_of(bolts(solved_at_plan(design))):
            alike.setdefault(_made(joined, design.units), []).append(joined[0].mount.name)
    except Unmeasured as missing:
        raise not_known(design, "The backing plate", missing) from missing
    if not alike:
        raise OwnerError(
            "This design has no backing plate, so there is none to draw. Choose one under the washers if they need it."
        )
    several = len(design.mounts) > 1
    return tuple(
        msgspec.structs.replace(
            made, count=len(motors), name=f"{made.name}, {' and '.join(map(writable, motors))}" if several else made.name
        )
        for made, motors in alike.items()
    )


def _made(joined: tuple[Bolt, ...], unit: Unit) -> PlateShape:
    first = joined[0]
    plate = cast("BackingPlate", first.plate)
    u0, w0 = (sum(getattr(bolt.exit, axis) for bolt in joined) / len(joined) for axis in ("u", "w"))

    def seen(point: Point) -> Point:
        return round(u0 - point[0], 6) + 0.0, round(point[1] - w0, 6) + 0.0

    front, back = (_anticlockwise(tuple(map(seen, plate_ring(joined, plate, n)))) for n in (first.plate_thickness, 0.0))
    along, through = (need(value, first.plate_key(f"relief.{at}")) for at, value in enumerate(plate.relief))
    ends = tuple(
        seen(end) for bolt in joined if bolt.washer_disc.is_cut for end in bolt.washer_disc.ends((bolt.exit.u, bolt.exit.w))
    )
    return PlateShape(
        f"{first.plate_pair} pair", 1, front, corner_radius(front, ends, unit),
        tuple((seen((bolt.exit.u, bolt.exit.w)), bolt.hole, bolt.name) for bolt in joined),
        back if back != front else None, (along, through), first.plate_thickness, plate.material,
    )  # fmt: skip


def corner_radius(ring: tuple[Point, ...], kept: tuple[Point, ...], unit: Unit) -> float:
    """Return the largest round radius for a backing plate's outward corners, 0 where none will do [mm].

    A whole washer on the backing plate stays on it, since its own radius is larger; ``kept`` are the ends of those cut
    flat.
    """
    for radius in CORNERS[unit]:
        rounds = [(a, b, c, rounding(a, b, c, radius)) for a, b, c in _threes(ring)]
        outward = [(a, b, c, arc) for a, b, c, arc in rounds if arc is not None]
        if all(
            math.dist(b, arc[1]) <= _SHARE * min(math.dist(a, b), math.dist(b, c))
            and not any(math.dist(b, at) < math.dist(b, arc[1]) and math.dist(arc[0], at) > radius for at in kept)
            for a, b, c, arc in outward
        ):
            return radius
    return 0.0


def rounding(a: Point, b: Point, c: Point, radius: float) -> tuple[Point, Point, Point] | None:
    """Return the arc that rounds the corner ``b`` of an anticlockwise ring: its centre, start and end; None if inward."""
    if radius <= 0 or _turn(a, b, c) <= 1e-9:
        return None
    (px, py), (qx, qy) = _unit(b, a), _unit(b, c)
    half = math.acos(max(-1.0, min(1.0, px * qx + py * qy))) / 2
    trim, far = radius / math.tan(half), radius / math.sin(half)
    middle = _unit((0.0, 0.0), (px + qx, py + qy))
    return (
        (b[0] + far * middle[0], b[1] + far * middle[1]),
        (b[0] + trim * px, b[1] + trim * py),
        (b[0] + trim * qx, b[1] + trim * qy),
    )


def outline_marks(shape: PlateShape, pen: Pen) -> Iterator[Mark]:
    """Yield the outline: straight sides, outward corners rounded."""
    part = "backing plate"
    rounds = [(b, rounding(a, b, c, shape.radius)) for a, b, c in _threes(shape.ring)]
    for (b, here), (c, there) in zip(rounds, rounds[1:] + rounds[:1], strict=True):
        if here is not None:
            (x, y), start, end = here
            first = math.degrees(math.atan2(start[1] - y, start[0] - x))
            last = math.degrees(math.atan2(end[1] - y, end[0] - x))
            yield Arc((x, y), shape.radius, first, last + (360.0 if last < first else 0.0), pen, part)
        yield Line(b if here is None else here[2], c if there is None else there[1], pen, part)


def hole_marks(shape: PlateShape, pen: Pen) -> Iterator[Mark]:
    """Yield the holes' circles."""
    for at, diameter, name in shape.holes:
        yield Circle(at, diameter / 2, pen, part=f"hole / {name}")


def relief_marks(shape: PlateShape) -> Iterator[Mark]:
    """Yield the dashed line where the chamfer of the back begins: it is hidden, seen from inside."""
    if shape.back is None:
        return
    for a, b in zip(shape.back, shape.back[1:] + shape.back[:1], strict=True):
        if not any(_on(a, c, d) and _on(b, c, d) for c, d in zip(shape.ring, shape.ring[1:] + shape.ring[:1], strict=True)):
            yield Line(a, b, pens.WASHER, "relieved edge")


def section(shape: PlateShape) -> tuple[Point, ...]:
    """Return the backing plate's section, its back at x = 0 and its lower edge at the backing plate's own height."""
    _, low, _, high = shape.box
    along, through = shape.relief
    thick = shape.thickness
    foot = ((0.0, low + along), (through, low)) if shape.back is not None else ((0.0, low),)
    return tuple(dict.fromkeys((*foot, (thick, low), (thick, high), (0.0, high))))


def _threes(ring: tuple[Point, ...]) -> Iterator[tuple[Point, Point, Point]]:
    return zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True)


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return the sine of the turn at ``b``, above 0 to the left."""
    (px, py), (qx, qy) = _unit(a, b), _unit(b, c)
    return px * qy - py * qx


def _unit(a: Point, b: Point) -> Point:
    far = math.dist(a, b)
    return (b[0] - a[0]) / far, (b[1] - a[1]) / far


def _on(at: Point, a: Point, b: Point) -> bool:
    """Say whether a place is on a side's line."""
    return abs((b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])) < 1e-6 * math.dist(a, b)


def _anticlockwise(ring: tuple[Point, ...]) -> tuple[Point, ...]:
    return ring if area(ring) > 0 else ring[::-1]
