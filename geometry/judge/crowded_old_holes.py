"""Check of old holes close together under one washer, backing plate or bracket: is there wood enough between them [mm]?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import CLOSE
from geometry.judge.inside_room import joined_by
from geometry.judge.reporter import Outcome, Reporter
from geometry.judge.wood_around_holes import NEAR
from geometry.solid.bracket_holes import bracket_ring, mount_key
from geometry.solid.faces import Unmeasured, faces, need
from geometry.solid.placed_bolts import Bolt, plate_ring
from geometry.solid.planes import inside, sides, to_segment

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.boat import OldHole
    from geometry.solid.discs import Disc
    from geometry.solid.planes import Point

_FILL = "Drill both out and fill them with one long plug, or fit a disc of wood."
_MOUNT_FIELDS = ("upper_at", "offset", "row", "drop", "bracket", "upper_hardware", "lower_hardware", "upper_tilt", "lower_tilt")


class Cover(msgspec.Struct, frozen=True):
    """A part on one face, and which circles it covers.

    Attributes:
        name: as in a sentence. outer: whether it is on the outer face.
        covers: whether it covers a circle about a point, of a radius.
    """

    name: str
    outer: bool
    covers: Callable[[Point, float], bool]


def crowding(report: Reporter) -> None:
    """Add the wood between each two old holes near each other that one washer, backing plate or bracket covers."""
    pairs = list(_near(report.design.old_holes))
    if not pairs or not report.design.mounts:
        return
    covers = list(_covers(report))
    every = tuple(range(len(report.design.mounts)))
    place = tuple(mount_key(index, field) for index in every for field in _MOUNT_FIELDS)
    for first, second in pairs:
        rests = (f"old_holes.{first}.", f"old_holes.{second}.", "transom.thickness", *place)
        at = f"{report.design.old_holes[first].name} and {report.design.old_holes[second].name}"
        limits = report.design.limits.wood_between_diameters

        def look(first: int = first, second: int = second) -> Outcome | None:
            return _crowded(report, first, second, covers)

        report.add("crowding", at, limits, "diameters", rests, every, look)


def _near(holes: tuple[OldHole, ...]) -> Iterator[tuple[int, int]]:
    """Yield the pairs of old holes that are nearer than so many diameters of the larger one.

    A hole without a place is left to `old_hole`, which names what is missing. The holes are taken in order across the face,
    so that many of them far apart cost little.
    """
    places = ((*hole.at, index) for index, hole in enumerate(holes))
    placed = sorted((u, v, index) for u, v, index in places if u is not None and v is not None)
    reach = NEAR * max((_known(hole) for hole in holes), default=0.0)
    for start, (u, v, number) in enumerate(placed):
        for across, up, other in placed[start + 1 :]:
            if across - u >= reach:
                break
            if math.hypot(across - u, up - v) < NEAR * max(_known(holes[number]), _known(holes[other])) - CLOSE:
                yield min(number, other), max(number, other)


def _known(hole: OldHole) -> float:
    """Return the diameter of a hole, or of its plug, as far as it is measured [mm]."""
    return max(hole.diameter or 0.0, hole.drill or 0.0, (hole.plug_diameter or 0.0) if hole.state == "plugged" else 0.0)


def _diameter(hole: OldHole, index: int) -> float:
    """Return the diameter of a hole, of its plug where it is filled [mm].

    Raises:
        Unmeasured: it is not known.
    """
    field = "plug_diameter" if hole.state == "plugged" else "diameter"
    return need(getattr(hole, field), f"old_holes.{index}.{field}")


def _covers(report: Reporter) -> Iterator[Cover]:
    """Yield each inside washer, each backing plate and each bracket whose place is known, the smallest kind first."""
    several = len(report.design.mounts) > 1
    for bolt in report.bolts:
        try:
            at, disc = (bolt.exit.u, bolt.exit.w), bolt.washer_disc
        except Unmeasured:
            continue
        if bolt.plate is None:
            yield Cover(f"the {bolt.name} washer{_of(bolt, several)}", outer=False, covers=_disc(at, disc))
    for bolt in report.bolts:
        plate = bolt.hardware.backing_plate
        if plate is None or not bolt.port:
            continue
        try:
            ring = plate_ring(joined_by(report, bolt, plate), plate, 0.0)
        except Unmeasured:
            continue
        yield Cover(f"the {bolt.pair} backing plate{_of(bolt, several)}", outer=False, covers=_ring(ring))
    for index, mount in enumerate(report.design.mounts):
        try:
            ring = bracket_ring(mount, index)
        except Unmeasured:
            continue
        yield Cover(f"the {mount.name}'s bracket", outer=True, covers=_ring(ring))


def _of(bolt: Bolt, several: bool) -> str:
    return f" of the {bolt.mount.name}" if several else ""


def _disc(centre: Point, disc: Disc) -> Callable[[Point, float], bool]:
    def covers(at: Point, radius: float) -> bool:
        below = disc.is_cut and centre[1] - at[1] - radius >= disc.cut - CLOSE
        return math.dist(centre, at) < disc.radius + radius - CLOSE and not below

    return covers


def _ring(ring: tuple[Point, ...]) -> Callable[[Point, float], bool]:
    def covers(at: Point, radius: float) -> bool:
        return inside(at, ring) or min(to_segment(at, side) for side in sides(ring)) < radius - CLOSE

    return covers


def _crowded(report: Reporter, first: int, second: int, covers: list[Cover]) -> Outcome | None:
    """Return the wood between two old holes in diameters of the larger; None where nothing covers both.

    An old hole runs square to the outer face, and each has two places: on the outer face, and carried on the inner one.
    """
    holes = report.design.old_holes[first], report.design.old_holes[second]
    sizes = tuple(_diameter(hole, index) for hole, index in zip(holes, (first, second), strict=True))
    outer = tuple((need(hole.at[0], "old_holes"), need(hole.at[1], "old_holes")) for hole in holes)
    across = faces(report.design.transom).square_across
    inner = tuple((u, across(v)) for u, v in outer)
    over = next((cover for cover in covers if all(
        cover.covers(at, size / 2) for at, size in zip(outer if cover.outer else inner, sizes, strict=True)
    )), None)  # fmt: skip
    if over is None:
        return None
    between = min(math.dist(*outer), math.dist(*inner)) - sum(sizes) / 2
    value = between / max(sizes)
    least, advised = report.design.limits.wood_between_diameters
    names = f"{holes[0].name} and {holes[1].name}"
    if between < -CLOSE:
        text = f"Under {over.name}, {names} overlap by {report.overlap(between)}."
        return Outcome(value, text, _FILL, against=holes[1].name)
    only = "only " if value < least - CLOSE else ""
    text = f"Under {over.name}, {only}{report.room(between)} of wood is left between {names}."
    return Outcome(value, text, _FILL if value < advised - CLOSE else None, against=holes[1].name)
