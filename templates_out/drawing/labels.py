"""Placing texts and small drawings where they overlap nothing.

A candidate is a tuple of marks; the first that is free of the ground is taken. A text's box keeps 1.1 mm from every
line, 2 mm from every other text and from a seam. Two texts on one baseline stay 6 mm apart, or they would read as one
sentence. Lines of a candidate are checked against texts, and against lines that they would touch or run along.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from itertools import islice, pairwise
from typing import TYPE_CHECKING, Literal, assert_never

import msgspec

from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Mark, Path, Point, Text
from templates_out.drawing.transforms import text_box

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FROM_LINE, FROM_TEXT, FROM_SEAM, ON_BASELINE = 1.1, 2.0, 2.0, 6.0
_FEW = 500  # things that are looked through one by one as fast as any other way
_ROW = 8.0  # mm: height of a row of things

Kind = Literal["line", "text", "seam"]
Candidate = tuple[Mark, ...]
Box = tuple[float, float, float, float]  # left, bottom, right, top


class Thing(msgspec.Struct, frozen=True):
    """Something in the way: a convex ring of one or more points, or a circle's line about one point.

    Attributes:
        kind: what it counts as. corners: of the ring; a line has two, a circle its centre.
        radius: of a circle's line, 0 for a ring. angle: of a text's baseline [degrees].
        box: left, bottom, right, top.
    """

    kind: Kind
    corners: tuple[Point, ...]
    radius: float
    angle: float
    box: Box


def thing(kind: Kind, corners: Sequence[Point], radius: float = 0.0, angle: float = 0.0) -> Thing:
    """Return a thing with its box."""
    if len(corners) == 2:  # most things are a line's
        (ax, ay), (bx, by) = corners
        box = (ax if ax < bx else bx, ay if ay < by else by, bx if ax < bx else ax, by if ay < by else ay)
        return Thing(kind, tuple(corners), radius, angle, box)
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Thing(kind, tuple(corners), radius, angle, (min(xs) - radius, min(ys) - radius, max(xs) + radius, max(ys) + radius))


class Ground(msgspec.Struct, frozen=True, dict=True):
    """All that a new text has to keep clear of.

    Attributes:
        things: each of them.
        boxes: (left, bottom, -right, -top) of each, for a first sieve where they are many; a view has few.
        full: the same of those that fill their boxes, as level and upright things do.
    """

    things: tuple[Thing, ...] = ()
    boxes: NDArray[np.float64] | None = None
    full: NDArray[np.float64] | None = None

    def plus(self, marks: Iterable[Mark], seams: Iterable[tuple[Point, Point]] = ()) -> Ground:
        """Return this ground with ``marks`` and ``seams`` standing on it."""
        new = [new_thing for mark in marks for new_thing in things_of(mark)]
        new += [thing("seam", seam) for seam in seams]
        if not new:
            return self
        every = (*self.things, *new)
        if len(every) <= _FEW:
            more = Ground(every)
            if "_rows" in self.__dict__:
                more.__dict__["_rows"] = _in_rows(new, {row: things.copy() for row, things in self._rows.items()})
            return more
        fresh = every if self.boxes is None else new
        rows = [(entry.box[0], entry.box[1], -entry.box[2], -entry.box[3]) for entry in fresh]
        full = [row for row, entry in zip(rows, fresh, strict=True) if _fills_its_box(entry)]
        return Ground(every, _more(self.boxes, rows), _more(self.full, full))

    def near(self, box: Box, gap: float) -> list[Thing]:
        """Return the things whose boxes are within ``gap`` of a box [mm]."""
        if self.boxes is None:
            return list(self._near(box, gap))
        import numpy as np

        reach = np.array((box[2] + gap, box[3] + gap, gap - box[0], gap - box[1]))
        return [self.things[i] for i in np.flatnonzero(np.all(self.boxes <= reach, axis=1)).tolist()]

    def _near(self, box: Box, gap: float) -> Iterator[Thing]:
        """Yield them one by one, by their rows: most who ask have seen enough at the first."""
        left, bottom, right, top = box[0] - gap, box[1] - gap, box[2] + gap, box[3] + gap
        for row in range(math.floor(bottom / _ROW), math.floor(top / _ROW) + 1):
            for entry in self._rows.get(row, ()):
                x, y, over, up = entry.box
                if x <= right and y <= top and over >= left and up >= bottom:
                    yield entry

    @cached_property
    def _rows(self) -> dict[int, list[Thing]]:
        """The things by the rows that their boxes reach into; one of several rows is found more than once."""
        return _in_rows(self.things, {})

    def is_free(self, candidate: Candidate) -> bool:
        """Say whether nothing is in the way of ``candidate``."""
        return all(self.is_clear(new) for mark in candidate for new in things_of(mark))

    def is_free_box(self, left: float, bottom: float, right: float, top: float, gap: float = FROM_TEXT) -> bool:
        """Say whether an upright box keeps ``gap`` from everything [mm]."""
        box = left, bottom, right, top
        if any(not keeps(box, old, gap) for old in self._blocked):
            return False
        for old in self._near(box, gap) if self.boxes is None else self.near(box, gap):
            if not keeps(box, old, gap):
                self._blocked[:] = [old]
                return False
        return True

    @cached_property
    def _blocked(self) -> list[Thing]:
        """The things that were in the way of the last box. The next box is near it, and as a rule they are in its way too."""
        return []

    def first_free(self, places: Sequence[Point], wide: float, tall: float, gap: float = FROM_TEXT) -> Point | None:
        """Return the first left upper corner where an upright box of this size keeps ``gap`` from everything [mm]."""
        boxes = [(x, y - tall, x + wide, y) for x, y in places]
        blocked = self.sieve(boxes, gap / math.sqrt(2))
        rest = (at for at, box, out in zip(places, boxes, blocked, strict=True) if not out and self.is_free_box(*box, gap))
        return next(rest, None)

    def sieve(self, boxes: Sequence[Box], gap: float) -> list[bool]:
        """Say of each upright box whether a level or upright thing is surely nearer than ``gap``·√2: many at once."""
        if self.full is None or not boxes:
            return [False] * len(boxes)
        import numpy as np

        new = np.array(boxes)
        reach = np.stack((new[:, 2], new[:, 3], -new[:, 0], -new[:, 1]), axis=1) + gap
        blocked: list[bool] = np.all(self.full[None] < reach[:, None], axis=2).any(axis=1).tolist()
        return blocked

    def is_clear(self, new: Thing) -> bool:
        """Say whether one thing keeps its distance from all others."""
        near = self.near(new.box, ON_BASELINE if new.kind == "text" else FROM_SEAM)
        return not any(nearer(new, old, _wanted(new, old) - 1e-9) for old in near)


def _in_rows(things: Iterable[Thing], rows: dict[int, list[Thing]]) -> dict[int, list[Thing]]:
    for entry in things:
        for row in range(math.floor(entry.box[1] / _ROW), math.floor(entry.box[3] / _ROW) + 1):
            rows.setdefault(row, []).append(entry)
    return rows


def _more(rows: NDArray[np.float64] | None, new: list[Box]) -> NDArray[np.float64] | None:
    import numpy as np  # a large library, and no view needs it

    if not new:
        return rows
    return np.array(new) if rows is None else np.concatenate((rows, new))


def _fills_its_box(entry: Thing) -> bool:
    if entry.kind == "text":
        return entry.angle % 90.0 == 0.0
    (left, bottom, right, top), line = entry.box, len(entry.corners) == 2
    return line and (left == right or bottom == top)


def keeps(box: Box, old: Thing, gap: float) -> bool:
    """Say whether an upright box keeps ``gap`` from a thing: the same as `apart`, at a fraction of its time."""
    left, bottom, right, top = box
    if old.radius or not (len(old.corners) == 2 or _fills_its_box(old)):
        return apart(thing("text", ((left, bottom), (right, bottom), (right, top), (left, top))), old) >= gap
    aside = max(old.box[0] - right, left - old.box[2], 0.0)
    over = max(old.box[1] - top, bottom - old.box[3], 0.0)
    if aside * aside + over * over >= gap * gap:
        return True
    if _fills_its_box(old):
        return False
    (ax, ay), (bx, by) = old.corners
    dx, dy = bx - ax, by - ay
    length = math.hypot(dx, dy)
    # How far the box's corners are left of the line, times its length.
    sides = [dx * (y - ay) - dy * (x - ax) for y in (bottom, top) for x in (left, right)]
    nearest = max(min(sides), -max(sides))
    if nearest >= gap * length:
        return True
    if nearest < 0.0 and aside == 0.0 and over == 0.0:
        return False  # it goes through
    for x, y in old.corners:
        if math.hypot(max(left - x, x - right, 0.0), max(bottom - y, y - top, 0.0)) < gap:
            return False
    return all(_to_sides((x, y), old.corners) >= gap for y in (bottom, top) for x in (left, right))


def place(candidates: Iterable[Candidate], ground: Ground) -> Candidate | None:
    """Return the first candidate that is free, None where none is."""
    if ground.boxes is None:
        return next((candidate for candidate in candidates if ground.is_free(candidate)), None)
    every, size = iter(candidates), 4
    while chunk := list(islice(every, size)):
        size *= 2
        things = [[new for mark in candidate for new in things_of(mark)] for candidate in chunk]
        texts = [
            (index, new.box)
            for index, row in enumerate(things)
            for new in row
            if new.kind == "text" and _fills_its_box(new)
        ]
        blocked = ground.sieve([box for _, box in texts], FROM_LINE / math.sqrt(2))
        out = {index for (index, _), text in zip(texts, blocked, strict=True) if text}
        for index, (candidate, row) in enumerate(zip(chunk, things, strict=True)):
            if index not in out and all(map(ground.is_clear, row)):
                return candidate
    return None


def things_of(mark: Mark) -> list[Thing]:
    """Return what ``mark`` puts in the way."""
    match mark:
        case Text():
            return [thing("text", text_box(mark), angle=mark.angle)]
        case Line():
            return [thing("line", (mark.a, mark.b))]
        case Circle():
            return [thing("line", (mark.centre,), mark.radius)]
        case Arc():
            steps = max(2, math.ceil(abs(mark.end - mark.start) / 6))
            turns = (math.radians(mark.start + (mark.end - mark.start) * i / steps) for i in range(steps + 1))
            x, y = mark.centre
            points = [(x + mark.radius * math.cos(a), y + mark.radius * math.sin(a)) for a in turns]
            return [thing("line", side) for side in pairwise(points)]
        case Path():
            if mark.fill and len(mark.points) in (3, 4):
                return [thing("line", mark.points)]
            ring = (*mark.points, mark.points[0]) if mark.closed else mark.points
            return [thing("line", side) for side in pairwise(ring)]
        case Hatch():
            return [thing("line", side) for side in pairwise((*mark.outline, mark.outline[0]))]
        case _:
            assert_never(mark)


def _wanted(new: Thing, old: Thing) -> float:
    """Return the distance that these two have to keep [mm]."""
    kinds = {new.kind, old.kind}
    if "seam" in kinds:
        return FROM_SEAM if "text" in kinds else 0.0
    if kinds == {"text"}:
        return ON_BASELINE if _one_baseline(new, old) else FROM_TEXT
    return FROM_LINE


def _one_baseline(new: Thing, old: Thing) -> bool:
    if abs(new.angle - old.angle) > 1.0:
        return False
    c, s = math.cos(math.radians(new.angle)), math.sin(math.radians(new.angle))

    def foot(text: Thing) -> float:
        return text.corners[0][1] * c - text.corners[0][0] * s

    return abs(foot(new) - foot(old)) < 1.0


def nearer(a: Thing, b: Thing, than: float) -> bool:
    """Say whether two things are less than a distance apart [mm]: most are not, as their boxes show."""
    aside = max(a.box[0] - b.box[2], b.box[0] - a.box[2])
    over = max(a.box[1] - b.box[3], b.box[1] - a.box[3])
    return max(aside, over) < than and apart(a, b) < than


def apart(a: Thing, b: Thing) -> float:
    """Return the distance between two things, 0 where they touch [mm]."""
    if a.radius and b.radius:
        far = math.dist(a.corners[0], b.corners[0])
        return max(far - a.radius - b.radius, abs(a.radius - b.radius) - far, 0.0)
    if b.radius:
        a, b = b, a
    if a.radius:
        centre = a.corners[0]
        least = _to_ring(centre, b.corners)
        most = max(math.dist(centre, corner) for corner in b.corners)
        return max(least - a.radius, a.radius - most, 0.0)
    if _overlap(a.corners, b.corners):
        return 0.0
    return min(
        min(_to_sides(p, b.corners) for p in a.corners),
        min(_to_sides(p, a.corners) for p in b.corners),
    )


def _overlap(a: tuple[Point, ...], b: tuple[Point, ...]) -> bool:
    """Separating axes: two convex rings overlap unless a side's normal parts them. Two bare points have no side."""
    if _parted(a, b, 1.0, 0.0) or _parted(a, b, 0.0, 1.0):
        return False
    for ring in (a, b):
        for i in range(len(ring)):
            (x1, y1), (x2, y2) = ring[i - 1], ring[i]
            if _parted(a, b, y1 - y2, x2 - x1) or (len(ring) == 2 and _parted(a, b, x2 - x1, y2 - y1)):
                return False
            if len(ring) == 2:  # its other side is the same
                break
    return True


def _parted(a: tuple[Point, ...], b: tuple[Point, ...], nx: float, ny: float) -> bool:
    mine = [x * nx + y * ny for x, y in a]
    theirs = [x * nx + y * ny for x, y in b]
    return max(mine) < min(theirs) or max(theirs) < min(mine)


def _to_ring(at: Point, ring: tuple[Point, ...]) -> float:
    return 0.0 if len(ring) > 2 and _overlap((at, at), ring) else _to_sides(at, ring)


def _to_sides(at: Point, ring: tuple[Point, ...]) -> float:
    best = math.inf
    for i in range(len(ring)):
        (ax, ay), (bx, by) = ring[i - 1], ring[i]
        dx, dy = bx - ax, by - ay
        square = dx * dx + dy * dy
        t = 0.0 if square == 0.0 else min(1.0, max(0.0, ((at[0] - ax) * dx + (at[1] - ay) * dy) / square))
        best = min(best, math.hypot(at[0] - ax - t * dx, at[1] - ay - t * dy))
    return best
