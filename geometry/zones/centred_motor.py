"""A motor moved to the centreline, at any present place: the drillable zones are calculated from it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import shapely
from msgspec.structs import replace

from geometry.design.validity import CLOSE
from geometry.judge.left_pilots import open_pilots
from geometry.solid.discs import Disc
from geometry.solid.faces import exit_of
from geometry.solid.outline import outer_rim, tops
from geometry.solid.placed_bolts import Body, Bolt, bolts
from geometry.solving.solved import solved
from geometry.zones.shape_sums import NOTHING, grown, intersection_of

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from geometry.design.design import Design, Pilot
    from geometry.design.validity import Points
    from geometry.solid.outline import Rim


@dataclass(frozen=True)
class CentredMotor:
    """A motor's bolts, moved to the centreline just below the top, those of other motors, and the pilots that are open."""

    home: Design
    index: int
    hung: tuple[Bolt, ...]
    others: tuple[Bolt, ...]
    pilots: tuple[Pilot, ...]

    def room(self, grade: int) -> float:
        """Return the clearance to keep: the least for grade 0, the advised one for grade 1."""
        return max(0.0, self.home.limits.clearance[grade])


def centred(design: Design, index: int) -> CentredMotor:
    """Move one motor to the centreline, its upper pair 1 mm below the datum.

    Raises:
        ValueError: the motor's bracket has no bolts.
    """
    pilots = open_pilots(design)  # a boat as it is solved has none
    design = solved(design)
    mount = design.mounts[index]
    if mount.bracket.rows is None:
        raise ValueError(f"{mount.name} has no bolts")
    # Each motor needs a place here, even where the owner has not decided one yet.
    mounts = (*design.mounts[:index], replace(mount, offset=0.0, upper_at=-1.0), *design.mounts[index + 1 :])
    home = replace(design, mounts=mounts)
    every = bolts(home)
    ours, theirs = ([bolt for bolt in every if (bolt.mount_index == index) is own] for own in (True, False))
    return CentredMotor(home, index, tuple(ours), tuple(theirs), pilots)


def bodies_of(bolt: Bolt) -> list[Body]:
    """Return a bolt's bodies for any place. The thread end is at its longest, and only where no tool hides it."""
    bodies = [body for part in ("spacer", "washer", "nut", "socket") if (body := bolt.body(part)) is not None]
    thread = longest_thread_end(bolt)
    if thread is None:
        return bodies
    tool = bodies[-1]
    hidden = tool.part == "socket" and tool.end >= thread.end and tool.shape.radius >= thread.shape.radius
    if not hidden or abs(bolt.exit.lean) > 1e-12:
        bodies.append(thread)
    return bodies


def longest_thread_end(bolt: Bolt) -> Body | None:
    """Return a bolt's thread end at its longest, for any place; None where it has none."""
    if bolt.from_inside:
        return None
    start = bolt.nut_at + bolt.nut_height
    square = abs(bolt.faces.tan_taper) < 1e-12
    if square:
        end = None if bolt.length is None else start + bolt.length - bolt.grip - bolt.nut_height
    elif bolt.hardware.length is not None:
        bottom = min(v for _, v in outer_rim(bolt.design.transom).rings[0])
        thinnest = min(exit_of(bolt.faces, 0.0, v, bolt.tilt).along for v in (-1.0, bottom))
        end = start + bolt.hardware.length - (bolt.grip - bolt.exit.along + thinnest) - bolt.nut_height
    else:
        stock = bolt.thread.stock_lengths()
        end = start + 2 * bolt.thread.pitch + max(b - a for a, b in zip(stock, stock[1:], strict=False))
    return None if end is None or end <= start else Body("thread_end", start, end, Disc(bolt.thread.diameter / 2))


def exit_line(bolt: Bolt) -> tuple[float, float]:
    """Return rise and w0 of a bolt's exit, which is at w = rise·v + w0 on the inner face."""
    at = exit_of(bolt.faces, 0.0, 0.0, bolt.tilt).w
    return (at - exit_of(bolt.faces, 0.0, -100.0, bolt.tilt).w) / 100, at


def shifted(area: BaseGeometry, scale: float, by: float, across: float = 0.0) -> BaseGeometry:
    """Stretch an area upward by ``scale``, then move it up ``by`` and ``across`` to starboard."""
    return shapely.transform(area, lambda at: at * (1.0, scale) + (across, by))


def face_of(rim: Rim) -> BaseGeometry:
    """Return a face as an area."""
    rings = [shapely.Polygon(ring) for ring in rim.rings]
    return intersection_of(rings) if rim.every else shapely.union_all(rings)


@lru_cache(maxsize=64)
def eroded(rim: Rim, reach: float) -> BaseGeometry:
    """Return the part of a face that is at least ``reach`` from all its edges."""
    return face_of(rim).difference(grown(shapely.line_merge(shapely.MultiLineString(rim.edges)), reach))


@lru_cache(maxsize=64)
def near_top(outline: Points, reach: float, depth: float) -> BaseGeometry:
    """Return the places where a hole's centre is less than ``depth`` below a top edge within ``reach`` to a side [mm].

    Exact, but for 1e-6 mm on the safe side. See `geometry.solid.outline.below_top`.
    """
    wide = reach - CLOSE  # an edge that only touches the side does not count
    near = [
        shapely.MultiPoint([(u + side, v - by) for u, v in edge for side in (-wide, wide) for by in (0.0, depth)]).convex_hull
        for edge in tops(outline)
    ]  # fmt: skip
    return shapely.union_all(near) if depth > 0 else NOTHING
