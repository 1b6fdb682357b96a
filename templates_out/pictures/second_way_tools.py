"""The tools of second ways and of pilots, laid on the cut: a washer that rocks, a straightedge, a rule from a pilot."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from geometry.readings.pilots import DIAMETER
from geometry.solid.faces import Unmeasured, exit_of
from templates_out.drawing.marks import Line
from templates_out.pictures import tools_in_use as tools

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.design.design import PilotEnd
    from templates_out.drawing.marks import Mark, Point
    from templates_out.views.cut_plane import Plane

    Laid = tuple[Iterable[Mark], Point]  # the marks of a tool, and the middle of its figure

_THICK = 2.5  # [mm] of the washer that is drawn
_BEYOND = 30.0  # [mm]: so far a straightedge reaches aft of the face


class Cut(Protocol):
    """A cut that is drawn, with its places on paper."""

    @property
    def plane(self) -> Plane:
        """Return the plane of the cut."""

    @property
    def scale(self) -> float:
        """Return paper mm for a boat mm."""

    @property
    def units(self) -> str:
        """Return the unit of its lengths."""

    def inside(self, w: float, n: float) -> Point:
        """Return the place ``w`` up the inner face and ``n`` in front of it."""

    def outside(self, v: float, s: float) -> Point:
        """Return the place ``v`` up the outer face and ``s`` forward of it."""


def from_outside(cut: Cut) -> Laid:
    """Lay a straightedge square to the face on the outside top edge, and a tape from it down to the floor."""
    top, foot = 0.0, foot_of(cut.plane)
    edge = tools.bar(cut.outside(top, -_BEYOND), cut.outside(top, cut.plane.faces.top + 40.0), 1.4, side=-1.0)
    tape = tools.tape(cut.inside(top, 0.0), cut.inside(foot, 0.0), cut.scale, cut.units, side=-1.0, hooked=False)
    x, y = cut.inside((top + foot) / 2, 0.0)
    return (*tape, edge), (x + 16.0, y)


def washer_down(cut: Cut, across: float) -> Laid:
    """Lay a washer where it rocks, and a tape from the inside top edge to its middle."""
    plane = cut.plane
    land = need_floor(plane)
    middle, edge = land + across / 2, plane.faces.edge_w
    tape = tools.tape(cut.inside(edge, 0.0), cut.inside(middle, 0.0), cut.scale, cut.units, side=-1.0)
    x, y = cut.inside((edge + middle) / 2, 0.0)
    return (*_washer(cut, land, across), *tape), (x + 16.0, y)


def across_washer(cut: Cut, across: float) -> Laid:
    """Lay a washer where it rocks, and calipers over it."""
    land = need_floor(cut.plane)
    a, b = (cut.inside(w, 0.0) for w in (land, land + across))
    ahead = cut.inside(land, 10.0)
    jaws = tools.calipers(a, b, (ahead[0] - a[0], ahead[1] - a[1]), 7.0)
    return (*_washer(cut, land, across), *jaws), (b[0] + 18.0, (a[1] + b[1]) / 2)


def outside_points(plane: Plane) -> list[Point]:
    """Return the places to show round a straightedge on the outside top edge."""
    return [plane.outside(0.0, -_BEYOND - 6.0), plane.outside(22.0, plane.faces.top + 44.0)]


def from_pilot(cut: Cut, place: tuple[float, float, float], to: PilotEnd, across: float) -> Laid:
    """Draw a pilot through the transom, and a rule from its middle down to a washer's mark or to the floor.

    Args:
        place: (u, v) on the outer face and the tilt. across: the washer.
    """
    plane = cut.plane
    out = exit_of(plane.faces, *place)
    half = max(DIAMETER / 2, 0.6 / cut.scale)
    hole = [
        Line(cut.outside(place[1] + side, 0.0), cut.inside(out.w + side, 0.0), tools.BODY, tools.PART) for side in (-half, half)
    ]
    land = need_floor(plane)
    marks: list[Mark] = [*hole]
    end = foot_of(plane)
    if to == "washer mark":
        end = land + across / 2
        marks += _washer(cut, land, across)
    elif to == "floor":
        marks.append(tools.bar(cut.inside(end, 0.0), cut.inside(end - 60.0 * plane.space.falls, 60.0), 1.0, side=-1.0))
    ahead = 3.0 / cut.scale
    a, b = cut.inside(out.w, ahead), cut.inside(end, ahead)
    rule = Line(a, b, tools.BLADE, tools.PART)
    ends = [Line(cut.inside(w, 0.0), cut.inside(w, 2 * ahead), tools.TICK, tools.PART) for w in (out.w, end)]
    return (*marks, rule, *ends), (b[0] + 14.0, (a[1] + b[1]) / 2)


def foot_of(plane: Plane) -> float:
    """Return where the floor, without its rounded corner, meets the inner face (w)."""
    edge = plane.edge
    return 0.0 if edge is None else (edge.foot - edge.normal_u * plane.u) / edge.normal_w


def need_floor(plane: Plane) -> float:
    """Return where the flat land ends above the floor (w).

    Raises:
        Unmeasured: there is no floor here.
    """
    land = plane.floor_w(0.0)
    if land is None:
        raise Unmeasured("well.profile")
    return land


def _washer(cut: Cut, land: float, across: float) -> list[Mark]:
    thick = max(1.0, _THICK * cut.scale)
    middle = land + across / 2
    x, y = cut.inside(middle, 0.0)
    return [
        tools.bar(cut.inside(land, 0.0), cut.inside(land + across, 0.0), thick),
        Line((x - 2.0, y), (x + thick + 2.0, y), tools.TICK, tools.PART),
    ]
