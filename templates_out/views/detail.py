"""The detail ring: the cut about its smallest clearance, 2, 4, 8 or 16 times larger, in a circle."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import cached_property, partial
from itertools import pairwise

import msgspec
from msgspec.structs import replace

from geometry.judge.findings import Checked, Finding
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt
from geometry.solid.planes import inside, sides, turns_left
from geometry.units.units import format_clearance
from geometry.zones.areas import overlap
from templates_out.drawing.labels import Ground
from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Mark, Path, Pen, Point, Role, Text
from templates_out.drawing.transforms import text_box
from templates_out.views import view_pens as pens
from templates_out.views.cut import Side, bare_marks, bolts_of, cut_marks, plane_of
from templates_out.views.cut_boat import floor_line, front_marks, ground_at
from templates_out.views.cut_plane import Plane
from templates_out.views.dimensions import FREE, Figure, Placed, crosses, on_paper, size_line
from templates_out.views.face_bolts import BODIES
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.view_pens import Style
from templates_out.views.viewport import Rect, Viewport, if_known

RADIUS = 22.75  # mm: 172 px across
SCALES = (16, 8, 4, 2)
GAP = (6.35, 23.8)  # mm of paper: 24 to 90 px that the gap should have in the ring
_TURNS = tuple((math.cos(math.pi * i / 60), math.sin(math.pi * i / 60)) for i in range(120))
_FIGURE_OFF = 0.3  # mm: from a heavy line to a figure in the ring
_MOVED = ((0.0, 0.0), (-0.35, 0.35), (-0.35, -0.35), (0.35, 0.35), (0.35, -0.35), (0.0, 0.0))  # of its radius: to make room
_JOINED = 1e-9  # mm: ends that are one
_SAMPLES = 13  # places along a part at which its gap is looked at


class Spot(msgspec.Struct, frozen=True):
    """Where the smallest clearance of one side is.

    Attributes:
        finding: what was found. bolt: whose part it is.
        n: distance in front of the inner face. w_part, w_solid: of the part's edge and of what is nearest to it [mm].
    """

    finding: Finding
    bolt: Bolt
    n: float
    w_part: float
    w_solid: float


def detail_centre(view: Viewport, radius: float = RADIUS) -> Point:
    """Return where the ring is unless said otherwise: in the upper right of the cut."""
    return view.width - radius - 3.0, view.height - radius - 3.0


def detail_box(centre: Point, radius: float = RADIUS) -> Rect:
    """Return the place that the ring and its name take up [paper mm]."""
    return centre[0] - radius - 1.0, centre[1] - radius - 7.0, centre[0] + radius + 1.0, centre[1] + radius + 1.0


def detail_marks(
    checked: Checked, view: Viewport, side: Side, mount: int = 0, focus: ViewFocus | None = None, style: Style = "screen",
    centre: Point | None = None, radius: float = RADIUS, times: int | None = None,
) -> tuple[Mark, ...]:  # fmt: skip
    """Return the ring as marks, to be laid over the cut.

    Nothing where no clearance of this side is known, or the overlap is wider than the ring even at its least scale.

    Args:
        checked: design and findings. view, side, mount, focus, style: as the cut has them.
        centre: of the ring on paper, None for the upper right corner. radius: of the ring [paper mm].
        times: how much larger than the cut, None: chosen by the gap (a drag keeps what it began with).
    """
    scene = Scene(checked, view, focus or ViewFocus(mount=mount), style)
    plane = plane_of(scene.boat, side, mount, upper=scene.focus.chosen.startswith("upper"))
    pair = bolts_of(scene.boat, side, mount)
    spot = smallest(checked, plane, pair)
    if spot is None:
        return ()
    at = centre or detail_centre(view, radius)
    scale = times or detail_scale(abs(spot.w_part - spot.w_solid) * view.scale, radius)
    if scale is None:
        return ()
    x, z = plane.inside((spot.w_part + spot.w_solid) / 2, spot.n)
    size, ring = view.scale * scale, Ring(at, radius)
    near = tuple(bolt for bolt in pair if not _is_far(bolt, spot, 1.5 * radius / size))  # as far as it is moved
    for across, up in _MOVED:
        left, bottom = (x - (at[0] + across * radius) / size, z - (at[1] + up * radius) / size)
        close = Viewport(size, left, bottom, view.width, view.height)
        inner = Scene(checked, close, scene.focus, style)
        standing = tuple(ring.clip(bare_marks(inner, plane, near)))
        placed, free = _figure(inner, plane, spot, ring, standing)
        if free:
            break
    return (
        *_tether(view.to_paper(close.to_boat(at)), radius / scale, ring),
        Circle(at, radius, None, "sheet", "detail"),
        *standing,
        *ring.clip(placed.lines),
        *placed.figure.texts(placed.centre),
        Circle(at, radius, pens.SEEN, None, "detail"),
        *_name(scene, plane, scale, ring),
    )


def cut_with_detail(
    checked: Checked, view: Viewport, side: Side, mount: int = 0, focus: ViewFocus | None = None, style: Style = "screen",
    times: int | None = None,
) -> tuple[Mark, ...]:  # fmt: skip
    """Return the cut with the ring in its upper right corner, where there is something to show."""
    ring = detail_marks(checked, view, side, mount, focus, style, times=times)
    keep_free = detail_box(detail_centre(view)) if ring else None
    return (*cut_marks(checked, view, side, mount, focus, style, keep_free, ring), *ring)


def detail_scale(gap: float, radius: float = RADIUS) -> int | None:
    """Return the largest of 16, 8, 4, 2 that keeps a gap [paper mm, in the cut] within 6.35 to 23.8 mm.

    Where none does: 16 for a gap too small for any. Else the largest that keeps it below the most; None for one that is
    wider than the ring even at 2.
    """
    if gap * SCALES[-1] > 2 * radius:
        return None
    return next((times for times in SCALES if gap * times <= GAP[1]), SCALES[-1])


def smallest(checked: Checked, plane: Plane, pair: tuple[Bolt, ...]) -> Spot | None:
    """Return the smallest clearance of these bolts that shows in this plane."""
    kept: tuple[Plane, tuple[Bolt, ...], Spot | None] | None = checked.__dict__.get("spot")  # for its scale and for itself
    if kept is None or kept[0] is not plane or kept[1] != pair:
        kept = checked.__dict__["spot"] = plane, pair, _smallest(checked, plane, pair)
    return kept[2]


def _smallest(checked: Checked, plane: Plane, pair: tuple[Bolt, ...]) -> Spot | None:
    spots = []
    for bolt in pair:
        for check in BODIES:
            finding = checked.of(check, bolt.at)
            if finding is not None and finding.value is not None:
                spot = _spot(finding, plane, bolt)
                if spot is not None:
                    spots.append(spot)
    return min(spots, key=lambda spot: (spot.finding.state != "fouled", spot.finding.value), default=None)


def _spot(finding: Finding, plane: Plane, bolt: Bolt) -> Spot | None:
    """Return where a part comes nearest to something in this plane; None where it is fouled or limited elsewhere."""
    try:
        body = bolt.body(finding.check)
        if body is None:
            return None
        plane.inside(0.0, 0.0)  # where the rake lacks it can't be drawn, though its clearance may be known
        lean = bolt.exit.lean
        down, up = min(body.shape.radius, body.shape.cut) * math.cos(lean), body.shape.radius * math.cos(lean)
        gaps = []
        for i in range(_SAMPLES):
            a = body.start + (body.end - body.start) * i / (_SAMPLES - 1)
            n, w = max(0.0, a * math.cos(lean)), bolt.exit.w + a * math.sin(lean)
            gaps += [(gap, n, part, solid) for gap, part, solid in plane.gaps(n, w - down, w + up)]
    except Unmeasured:
        return None
    if not gaps:
        return None
    gap, n, part, solid = min(gaps)
    value = finding.value or 0.0
    shows = abs(gap - value) <= 0.5 + 0.15 * abs(value)  # a leaning bolt's clearance reads a little less than the gap
    return Spot(finding, bolt, n, part, solid) if shows else None


def _is_far(bolt: Bolt, spot: Spot, radius: float) -> bool:
    """Say whether nothing of a bolt can be seen within ``radius`` of a spot [boat mm]; most often so of the other one."""
    try:
        bodies = [body for body in map(bolt.body, BODIES) if body is not None]
        aslant = math.sin(abs(bolt.exit.lean - spot.bolt.exit.lean))
        away = abs(bolt.exit.w - spot.bolt.exit.w) - abs(spot.bolt.exit.w - spot.w_part)
    except Unmeasured:
        return False
    widest, longest = max(body.shape.radius for body in bodies), max(body.end for body in bodies) + bolt.exit.along
    return away > 3 * radius + 2 * widest + 2 * longest * aslant


def _figure(scene: Scene, plane: Plane, spot: Spot, ring: Ring, standing: tuple[Mark, ...]) -> tuple[Placed, bool]:
    """The clearance itself: along the inner face between the part and what is below, a little forward of it.

    Its figure is next to it, where it goes across no heavy line if there is such a place. Return that as well.
    """
    fouled = spot.finding.state == "fouled"
    role: Role = "fouled" if fouled else "ink"
    value = on_paper(format_clearance(spot.finding.value or 0.0, scene.design.units), scene.style)
    part = f"finding:{spot.finding.check}:{spot.finding.at}"
    figure = Figure(value, part, scene.figure_size * 1.1, False, role, True, scene.narrow, "sheet")
    pen = Pen(role, 0.25)
    off = 6.0 / scene.view.scale
    a, b = (scene.view.to_paper(plane.inside(w, spot.n + off)) for w in (spot.w_solid, spot.w_part))
    starts = [scene.view.to_paper(plane.inside(w, spot.n)) for w in (spot.w_solid, spot.w_part)]
    thin = Pen(role, 0.18)
    ends = size_line(a, b, figure, 0.5, pen).lines[-2:]
    lines = (Line(a, b, pen, part), *ends, *(Line(p, q, thin, part) for p, q in zip(starts, (a, b), strict=True)))
    ground = Ground().plus(mark for mark in (*standing, *lines) if isinstance(mark, Line | Path) and _heavy(mark))
    small = replace(figure, size=scene.figure_size * 0.9)
    first = small, ring.centre
    for size in (figure, small):
        for number, place in enumerate(_places_near(size, ring)):
            if ground.is_free_box(*size.box(place), gap=_FIGURE_OFF):
                return Placed(size, place, lines), True
            first = (size, place) if number == 0 and size is figure else first
    return Placed(*first, lines), False


def _heavy(mark: Line | Path) -> bool:
    return mark.pen is not None and mark.pen.weight >= pens.HEAVY


def _places_near(figure: Figure, ring: Ring) -> Iterator[Point]:
    """Yield the places in the ring where a figure may stand, the best first: right of its middle, then further up and down."""
    for up in (0.0, 0.25, -0.25, 0.4, -0.4, 0.55, -0.55, 0.7, -0.7):
        y = up * ring.radius
        room = math.sqrt(max(0.0, ring.radius**2 - (abs(y) + figure.height / 2 + 1) ** 2)) - figure.width / 2 - 1.5
        if room > 0:
            right = min(max(ring.radius * 0.2 + figure.width / 2, 10.0), room)
            across = right, room, -right, -room, 0.0, room / 2, -room / 2
            yield from ((ring.centre[0] + x, ring.centre[1] + y) for x in across)


def _tether(place: Point, radius: float, ring: Ring) -> Iterator[Mark]:
    """The small ring at the place itself, and a hairline from it to the large one."""
    yield Circle(place, radius, pens.FINE, None, "detail place")
    dx, dy = ring.centre[0] - place[0], ring.centre[1] - place[1]
    length = math.hypot(dx, dy)
    if length > radius + ring.radius:
        ux, uy = dx / length, dy / length
        yield Line(
            (place[0] + ux * radius, place[1] + uy * radius),
            (ring.centre[0] - ux * ring.radius, ring.centre[1] - uy * ring.radius),
            pens.FINE, "detail place",
        )  # fmt: skip


def _name(scene: Scene, plane: Plane, scale: int, ring: Ring) -> Iterator[Text]:
    """The name of the ring, below it; moved aside, or above it, where floor or front would strike it through."""
    size = scene.word_size
    x, y = ring.centre[0] + ring.radius, ring.centre[1] - ring.radius - 1.5 - 0.74 * size
    text = f"Detail, {scale} times the size"
    name = Text((x, y), text, size, "soft", anchor="end", condensed=scene.narrow, part="detail")
    lines = [mark for make in (front_marks, floor_line) for mark in if_known(partial(make, scene, plane))]
    heavy = [side for mark in lines if isinstance(mark, Path) and _heavy(mark) for side in pairwise(mark.points)]
    above = ring.centre[1] + ring.radius + 1.5 - 0.2 * size
    places = [(x - off, high) for high in (y, above) for off in (0.0, 4.0, 8.0, 12.0, 16.0, 20.0, 24.0)]
    seen = (place for place in places if place[1] + size < scene.view.height)
    at = next((place for place in seen if not _is_struck(replace(name, at=place), heavy)), None)
    if at is not None:
        yield replace(name, at=at, patch=ground_at(scene, plane, at))


def _is_struck(name: Text, lines: list[tuple[Point, Point]]) -> bool:
    """Say whether a line runs through a level text, or closer to it than a figure may stand."""
    (left, bottom), _, (right, top), _ = text_box(name)
    box = left - FREE, bottom - FREE, right + FREE, top + FREE
    return any(crosses(a, b, box) for a, b in lines)


class Ring(msgspec.Struct, frozen=True, dict=True):
    """A circle that marks are cut at."""

    centre: Point
    radius: float

    @cached_property
    def corners(self) -> tuple[Point, ...]:
        """The circle as a ring of 120 corners, outside by at most 0.4 thousandths of its radius."""
        (x, y), r = self.centre, self.radius
        return tuple((x + r * cosine, y + r * sine) for cosine, sine in _TURNS)

    def clip(self, marks: Iterable[Mark]) -> Iterator[Mark]:
        """Yield the pieces of ``marks`` within; texts and whole circles are left out."""
        for mark in marks:
            match mark:
                case Line():
                    yield from self._line(mark)
                case Path():
                    if mark.fill is not None:
                        for ring in self._within(mark.points):
                            yield Path(ring, True, None, mark.fill, mark.part)
                    if mark.pen is not None:
                        yield from self._outline(mark, mark.pen)
                case Hatch():
                    for ring in self._within(mark.outline):
                        yield Hatch(ring, mark.angle, mark.pitch, mark.pen, mark.kind, mark.part)
                case Circle() | Arc() | Text():
                    continue

    def _within(self, ring: tuple[Point, ...]) -> tuple[tuple[Point, ...], ...]:
        """Return the piece of a polygon within; most are wholly in or wholly out."""
        (x, y), r = self.centre, self.radius
        if all(math.dist(at, self.centre) <= r for at in ring):
            return (ring,)
        xs, ys = [at[0] for at in ring], [at[1] for at in ring]
        if max(xs) < x - r or min(xs) > x + r or max(ys) < y - r or min(ys) > y + r:
            return ()
        pieces = [piece for piece in (self._segment(a, b) for a, b in sides(ring)) if piece is not None]
        if not pieces:
            return (self.corners,) if inside(self.centre, ring) else ()
        breaks = [number for number, piece in enumerate(pieces) if math.dist(pieces[number - 1][1], piece[0]) > _JOINED]
        if len(breaks) > 1:  # several pieces, or one that the circle cuts more than twice
            return overlap(ring, self.corners)
        turned = pieces[breaks[0]:] + pieces[: breaks[0]] if breaks else pieces
        corners = (turned[0][0], *(end for _, end in turned))
        return ((*corners, *self._arc(corners[-1], corners[0], left=turns_left(ring))),)

    def _arc(self, start: Point, end: Point, *, left: bool) -> Iterator[Point]:
        """Yield the circle's corners on the way from one place on it to another."""
        a, b = (math.atan2(at[1] - self.centre[1], at[0] - self.centre[0]) * 60 / math.pi for at in (start, end))
        if left:
            first, count = math.floor(a) + 1, math.ceil((b - a) % 120)
            yield from (self.corners[(first + i) % 120] for i in range(count) if (first + i - a) < (b - a) % 120)
        else:
            first, count = math.ceil(a) - 1, math.ceil((a - b) % 120)
            yield from (self.corners[(first - i) % 120] for i in range(count) if (a - first + i) < (a - b) % 120)

    def _outline(self, path: Path, pen: Pen) -> Iterator[Mark]:
        points = (*path.points, path.points[0]) if path.closed else path.points
        run: list[Point] = []
        for a, b in zip(points, points[1:], strict=False):
            piece = self._segment(a, b)
            if piece is None:
                continue
            if run and run[-1] == piece[0]:
                run.append(piece[1])
                continue
            if run:
                yield Path(tuple(run), False, pen, None, path.part)
            run = list(piece)
        if run:
            yield Path(tuple(run), False, pen, None, path.part)

    def _line(self, line: Line) -> Iterator[Mark]:
        piece = self._segment(line.a, line.b)
        if piece is not None:
            yield Line(*piece, line.pen, line.part)

    def _segment(self, a: Point, b: Point) -> tuple[Point, Point] | None:
        """Cut a segment at the circle; None where nothing is left."""
        dx, dy = b[0] - a[0], b[1] - a[1]
        px, py = a[0] - self.centre[0], a[1] - self.centre[1]
        square, half, rest = dx * dx + dy * dy, px * dx + py * dy, px * px + py * py - self.radius**2
        under = half * half - square * rest
        if square < 1e-12 or under <= 0:
            return None
        root = math.sqrt(under)
        enters, leaves = max(0.0, (-half - root) / square), min(1.0, (-half + root) / square)
        if leaves - enters < 1e-9:
            return None
        start = a if enters == 0.0 else (a[0] + dx * enters, a[1] + dy * enters)
        end = b if leaves == 1.0 else (a[0] + dx * leaves, a[1] + dy * leaves)
        return start, end
