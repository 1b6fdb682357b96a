"""Which part of the boat a view shows, and at what scale: boat millimetres to paper millimetres and back."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial

import msgspec
from msgspec.structs import replace

from geometry.design.design import Design
from geometry.design.validity import known
from geometry.solid.bracket_holes import bracket_ring
from geometry.solid.faces import Unmeasured, faces
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.zones.areas import well_area
from templates_out.drawing.marks import Mark, Point

Rect = tuple[float, float, float, float]  # left, bottom, right, top

AIR = 60.0  # mm on the boat left free round the work
_ROOM = ((-750.0, -600.0), (750.0, 100.0))  # boat mm: a blank sheet has room for a small boat's whole transom


class Viewport(msgspec.Struct, frozen=True):
    """A window on the boat.

    Attributes:
        scale: paper mm for a boat mm.
        left, bottom: place on the boat in the paper's lower left corner [boat mm].
        width, height: of the paper [paper mm].
    """

    scale: float
    left: float
    bottom: float
    width: float
    height: float

    def to_paper(self, at: Point) -> Point:
        """Return the place on paper of a place on the boat."""
        return (at[0] - self.left) * self.scale, (at[1] - self.bottom) * self.scale

    def to_boat(self, at: Point) -> Point:
        """Return the place on the boat of a place on paper."""
        return at[0] / self.scale + self.left, at[1] / self.scale + self.bottom

    @property
    def rect(self) -> Rect:
        """The part of the boat that is seen [boat mm]."""
        return self.left, self.bottom, self.left + self.width / self.scale, self.bottom + self.height / self.scale

    def zoomed(self, factor: float, about: Point) -> Viewport:
        """Return the view enlarged by ``factor`` about a place on paper, which stays."""
        u, v = self.to_boat(about)
        scale = self.scale * factor
        return replace(self, scale=scale, left=u - about[0] / scale, bottom=v - about[1] / scale)

    def moved(self, dx: float, dy: float) -> Viewport:
        """Return the view with the drawing pushed by (dx, dy) [paper mm]."""
        return replace(self, left=self.left - dx / self.scale, bottom=self.bottom - dy / self.scale)

    def resized(self, width: float, height: float) -> Viewport:
        """Return the view on a paper of another size, the middle kept."""
        u, v = self.to_boat((self.width / 2, self.height / 2))
        return Viewport(self.scale, u - width / 2 / self.scale, v - height / 2 / self.scale, width, height)

    def at_scale(self, scale: float) -> Viewport:
        """Return the view at another scale, the middle kept."""
        return self.zoomed(scale / self.scale, (self.width / 2, self.height / 2))


def fit(rect: Rect, width: float, height: float, margin: float = 0.0) -> Viewport:
    """Return the view that shows ``rect`` [boat mm] as large as the paper allows, in its middle."""
    wide, high = max(rect[2] - rect[0], 1e-6), max(rect[3] - rect[1], 1e-6)
    scale = min(max(width - 2 * margin, 1e-6) / wide, max(height - 2 * margin, 1e-6) / high)
    left = (rect[0] + rect[2] - width / scale) / 2
    bottom = (rect[1] + rect[3] - height / scale) / 2
    return Viewport(scale, left, bottom, width, height)


def round_all(points: Iterable[Point], air: float = 0.0) -> Rect | None:
    """Return the upright rectangle round ``points`` with some air, None round nothing."""
    every = list(points)
    if not every:
        return None
    xs, ys = [x for x, _ in every], [y for _, y in every]
    return min(xs) - air, min(ys) - air, max(xs) + air, max(ys) + air


def union(first: Rect, second: Rect) -> Rect:
    """Return the upright rectangle around two."""
    return min(first[0], second[0]), min(first[1], second[1]), max(first[2], second[2]), max(first[3], second[3])


def work_rect(design: Design) -> Rect:
    """Return the part of the face where the work is: holes, washers, brackets, well, old holes, and air [boat mm]."""
    points: list[Point] = [(0.0, 0.0)]
    for index, mount in enumerate(design.mounts):
        points += known_points(partial(bracket_ring, mount, index))
    for bolt in bolts(design):
        points += known_points(partial(_washer_points, bolt))
    for old in design.old_holes:
        if old.at[0] is not None and old.at[1] is not None:
            points += _round((old.at[0], old.at[1]), (old.plug_diameter or old.diameter or 0.0) / 2)
    points += known_points(partial(_well_points, design))
    rect = round_all(points, AIR)
    return rect if rect is not None and rect[2] - rect[0] > 3 * AIR else whole_rect(design)


def whole_rect(design: Design) -> Rect:
    """Return the whole transom's part of the face, with air [boat mm]."""
    return round_all(known(design.transom.outline) or _ROOM, AIR) or (*_ROOM[0], *_ROOM[1])


def _well_points(design: Design) -> list[Point]:
    cosine = faces(design.transom).cos_taper
    return [(u, w * cosine) for ring in well_area(design) for u, w in ring]


def _washer_points(bolt: Bolt) -> list[Point]:
    return _round((bolt.u, bolt.v), (bolt.hardware.washer.outer or 0.0) / 2)


def _round(at: Point, radius: float) -> list[Point]:
    return [(at[0] - radius, at[1] - radius), (at[0] + radius, at[1] + radius)]


def known_points(piece: Callable[[], Iterable[Point]]) -> list[Point]:
    """Return the points that ``piece`` gives, none where a reading is missing."""
    try:
        return list(piece())
    except Unmeasured:
        return []


def if_known(piece: Callable[[], Iterable[Mark]]) -> tuple[Mark, ...]:
    """Return the marks that ``piece`` gives, none where a reading that they need is missing."""
    try:
        return tuple(piece())
    except Unmeasured:
        return ()
