"""The transom's outer and inner face, the frames of both, and the level frame.

Face frame: u to starboard, v up the face, s forward and square to it. Inner-face frame: (u, w), w up the inner face from
the point v = 0, s = top; n forward and square to it. Level frame: x forward, z up. Lengths [mm]. Angles of the design are
in [degrees], angles in here in [radians] where the name says so. A missing reading raises `Unmeasured`.
"""

from __future__ import annotations

import math
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

import msgspec

from geometry.design.boat import tan_taper
from geometry.design.inner_face import cut_angle, top_on_inner

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.design.boat import Transom, Well
    from geometry.design.validity import Number, Pair

Point = tuple[float, float]


class Unmeasured(Exception):  # noqa: N818 (a missing reading is no error)
    """A value that was needed is not measured. ``key`` names it as the measures do."""

    def __init__(self, key: str) -> None:
        super().__init__(key)
        self.key = key


def need(value: Number, key: str) -> float:
    """Return ``value``, or raise `Unmeasured` with ``key`` where it is None."""
    if value is None:
        raise Unmeasured(key)
    return value


def need_all(points: Sequence[Pair], key: str) -> list[Point]:
    """Return the points, or raise `Unmeasured` with ``key`` where a coordinate is None."""
    known: list[Point] = []
    for x, y in points:
        if x is None or y is None:
            raise Unmeasured(key)
        known.append((x, y))
    return known


class Faces(msgspec.Struct, frozen=True, dict=True):
    """The transom's two faces. The thickness is known. Rake and top cut raise `Unmeasured` where they are not.

    Attributes:
        taper: [radians]. top: thickness at v = 0 [mm]. tan_taper, cos_taper: of the taper.
    """

    taper: float
    top: float
    tan_taper: float
    cos_taper: float
    _rake: float | None
    _tan_cut: float | None
    _follows_rake: bool

    @property
    def rake(self) -> float:
        """Lean of the outer face, its top further aft positive [radians]."""
        return need(self._rake, "transom.rake")

    @property
    def tan_cut(self) -> float:
        """Tangent of the top cut's angle from square to the face; a level cut follows the rake."""
        return need(self._tan_cut, "transom.rake" if self._follows_rake else "transom.top_cut")

    def thickness(self, v: float) -> float:
        """Thickness square to the outer face at ``v`` [mm]."""
        return self.top - v * self.tan_taper

    def inner_top(self, v: float) -> float:
        """Return the w at which the top cut that starts at ``v`` on the outer face meets the inner face [mm]."""
        return top_on_inner(v, self.top, self.tan_taper, self.tan_cut)

    def square_across(self, v: float) -> float:
        """Return the w at which a line square to the outer face at ``v`` meets the inner face [mm]."""
        return v / self.cos_taper

    @property
    def edge_depth(self) -> float:
        """The s of the inside top edge [mm]."""
        return self.top / (1 - self.tan_taper * self.tan_cut)

    @property
    def edge_w(self) -> float:
        """The w of the inside top edge, below 0 where the cut falls going forward [mm]."""
        return self.inner_top(0.0)

    def face_point(self, w: float, n: float) -> Point:
        """Return (v, s) of the point ``w`` up the inner face and ``n`` in front of it [mm]."""
        sin_taper = self.tan_taper * self.cos_taper
        return w * self.cos_taper + n * sin_taper, self.top - w * sin_taper + n * self.cos_taper

    def level_point(self, v: float, s: float) -> Point:
        """Return (x, z), forward and up, of the point (v, s), from the datum [mm]."""
        sin, cos = self._turn
        return -v * sin + s * cos, v * cos + s * sin

    @cached_property
    def _turn(self) -> tuple[float, float]:
        """Sine and cosine of the rake."""
        return math.sin(self.rake), math.cos(self.rake)


def faces(transom: Transom) -> Faces:
    """Return the transom's faces.

    Raises:
        Unmeasured: a thickness, or where it was taken, is not known.
    """
    thick = transom.thickness
    top = need(thick.top, "transom.thickness.top")
    need(thick.low, "transom.thickness.low")
    need(thick.low_at, "transom.thickness.low_at")
    slope = need(tan_taper(thick), "transom.thickness")
    return _faces(transom.rake, cut_angle(transom), slope, top, transom.top_cut == "level")


@lru_cache(maxsize=256)
def _faces(rake: float | None, cut: float | None, slope: float, top: float, follows_rake: bool) -> Faces:
    taper = math.atan(slope)
    return Faces(
        taper,
        top,
        slope,
        math.cos(taper),
        None if rake is None else math.radians(rake),
        None if cut is None else math.tan(math.radians(cut)),
        follows_rake,
    )


class Exit(msgspec.Struct, frozen=True):
    """Where a bolt's axis meets the inner face.

    Attributes:
        u, w: place on the inner face [mm]. v, s: the same point in the face frame [mm].
        along: transom's thickness along the axis [mm].
        lean: the axis' angle to the inner face's normal, inner end higher positive [radians].
    """

    u: float
    w: float
    v: float
    s: float
    along: float
    lean: float


def exit_of(face: Faces, u: float, v: float, tilt: float) -> Exit:
    """Return the exit of a hole drilled at (u, v) [mm] with ``tilt`` from square [degrees]."""
    angle = math.radians(tilt)
    rise = math.tan(angle)
    s = (face.top - v * face.tan_taper) / (1 + face.tan_taper * rise)
    v_exit = v + s * rise
    return Exit(u, v_exit / face.cos_taper, v_exit, s, s / math.cos(angle), angle - face.taper)


def profile_up(face: Faces, well: Well) -> float:
    """Return the height to add to the well's y for its w: w = y + this [mm]."""
    return face.edge_w if well.well_from == "inside top edge" else 0.0
