"""The marks of a seam: its line, which sheet goes on top, matching crosses, and a distance to check across it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import product

import msgspec

from geometry.units.units import Unit
from templates_out.drawing import sheet_figures as figures
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import text_width
from templates_out.drawing.labels import Candidate, Ground, apart, thing
from templates_out.drawing.marks import Line, Mark, Path, Point
from templates_out.drawing.printer import Stretch
from templates_out.layout.tiles import STRIP, WASTE, Plan, Tile

CROSS, CHECK = "matching cross", "join check"
_TICK = 2.0  # mm to either side


class Seam(msgspec.Struct, frozen=True):
    """One sheet's edge against the next: drawing coordinates.

    Attributes:
        under, over: the earlier sheet, which runs on under it, and the later, which is cut and laid on top.
        start, end: of the seam, from below or from port.
    """

    under: Tile
    over: Tile
    start: Point
    end: Point

    @property
    def upright(self) -> bool:
        """Whether it runs up and down."""
        return self.start[0] == self.end[0]

    def at(self, along: float, off: float = 0.0) -> Point:
        """Return the place ``along`` the seam, ``off`` onto the earlier sheet."""
        if self.upright:
            return self.start[0] - off, self.start[1] + along
        return self.start[0] + along, self.start[1] + off

    def steps(self, by: int) -> list[int]:
        """Return places along it, 8 from its ends; an upright one's neither in the flap nor next to a title at the foot."""
        places = range(8, int(self.length) - 7, by)
        if not self.upright:
            return list(places)
        low = 31.0 if self.under.row and self.under.shown[1] == self.under.core[1] else 0.0
        return [along for along in places if along >= low and self.start[1] + along <= -6.0]

    @property
    def length(self) -> float:
        """Its length [mm]."""
        return math.dist(self.start, self.end)


def seams_of(plan: Plan) -> tuple[Seam, ...]:
    """Return every seam between two sheets."""
    seams = []
    for tile in plan.tiles:
        left, bottom, right, top = tile.core
        index = tile.row * plan.columns + tile.column
        if tile.column < plan.columns - 1:
            seams.append(Seam(tile, plan.tiles[index + 1], (right, bottom), (right, top)))
        if tile.row < plan.rows - 1:
            seams.append(Seam(tile, plan.tiles[index + plan.columns], (left, bottom), (right, bottom)))
    return tuple(seams)


def crosses(seam: Seam, ground: Ground) -> list[Point]:
    """Return the places of a seam's matching marks: three where it is long, else two, clear of other lines.

    They keep 6 mm where that leaves two, else as much as the drawing lets them.
    """
    steps = [seam.at(along) for along in seam.steps(1)]
    for gap in (6.0, 3.0, 1.0):
        free = []
        for x, y in steps:
            box = thing("line", ((x - 3, y - 3), (x + 3, y - 3), (x + 3, y + 3), (x - 3, y + 3)))
            if all(apart(box, old) >= gap for old in ground.near(box.box, gap) if old.kind != "seam"):
                free.append((x, y))
        shares = (0.12, 0.5, 0.88) if seam.length > 180 else (0.2, 0.8)
        wanted = [seam.at(share * seam.length) for share in shares]
        chosen = sorted({min(free, key=lambda place: math.dist(place, want)) for want in wanted}) if free else []
        apart_enough = [p for i, p in enumerate(chosen) if i == 0 or math.dist(p, chosen[i - 1]) > 25.0]
        if len(apart_enough) >= 2:
            return apart_enough
    return chosen


def cross_marks(at: Point) -> tuple[Mark, ...]:
    """Return a cross of 6 in a diamond of 4."""
    x, y = at
    return (
        Line((x - 3, y), (x + 3, y), pens.FINE, CROSS),
        Line((x, y - 3), (x, y + 3), pens.FINE, CROSS),
        Path(((x - 2, y), (x, y - 2), (x + 2, y), (x, y + 2)), True, pens.SEAM, part=CROSS),
    )


def join_length(unit: Unit) -> tuple[float, ...]:
    """Return lengths of a join check in the person's round figures, best first [mm]."""
    return (76.2, 50.8, 25.4) if unit == "in" else (80.0, 50.0, 30.0)


def join_places(seam: Seam, unit: Unit, stretch: Stretch) -> Iterator[tuple[Candidate, Candidate, float]]:
    """Yield a join check's two halves, (on the earlier sheet, on the later one, length), best place first."""
    for length in join_length(unit):
        half = length / 2 * (stretch.across if seam.upright else stretch.up)
        figure = figures.check_figure(length, unit)
        middle = seam.length / 2
        places = sorted(seam.steps(3), key=lambda step: (abs(abs(step - middle) - 30), step))
        if length == join_length(unit)[-1]:  # where it is so crowded the middle is left to the words
            places = seam.steps(3)[::-1]
        for near, far in product((0.55, 0.76), repeat=2):
            for along in places:
                yield _half(seam, along, half, CHECK, near), _half(seam, along, -half, figure, far), length


def _half(seam: Seam, along: float, off: float, text: str, share: float) -> Candidate:
    """Return one sheet's half: line, end and words, which are at a share of the way out."""
    part = CHECK
    end = seam.at(along, off)
    ends = (seam.at(along - _TICK, off), seam.at(along + _TICK, off))
    middle = seam.at(along, off * share)
    reach = text_width(text, pens.SMALL) / 2
    between = abs(off) * share + reach < abs(off) - 0.6
    aside = 1.6 if between else _TICK + 0.7  # words too long for the room before the end's tick go clear of it
    if seam.upright:
        name = pens.words((middle[0], middle[1] + aside), text, pens.SMALL, anchor="middle", part=part)
    else:
        name = pens.words((middle[0] - aside, middle[1]), text, pens.SMALL, anchor="middle", angle=90, part=part)
    return Line(seam.at(along), end, pens.FINE, part), Line(*ends, pens.FINE, part), name


def no_parallel(line: Line, ground: Ground, gap: float = 6.0) -> bool:
    """Say whether no other line runs more or less along this one within ``gap``."""
    dx, dy = line.b[0] - line.a[0], line.b[1] - line.a[1]
    own = thing("line", (line.a, line.b))
    for other in ground.near(own.box, gap):
        if other.kind != "line" or len(other.corners) < 2:
            continue
        (ax, ay), (bx, by) = other.corners[:2]
        size = math.hypot(dx, dy) * math.hypot(bx - ax, by - ay)
        if size and abs(dx * (by - ay) - dy * (bx - ax)) / size < 0.6 and apart(own, other) < gap:
            return False
    return True


def no_words(line: Line, ground: Ground, gap: float = 1.1) -> bool:
    """Say whether no words are within ``gap`` of a line."""
    own = thing("line", (line.a, line.b))
    return all(old.kind != "text" or apart(own, old) >= gap for old in ground.near(own.box, gap))


def seam_marks(seam: Seam, plan: Plan) -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
    """Return the marks along a seam on the earlier sheet (with ticks along its strip) and on the later one."""
    low, high = -STRIP, seam.length + STRIP
    if seam.upright:
        under = [Line(seam.at(0.0 if seam.under.row == plan.rows - 1 else low), seam.at(seam.length), pens.SEAM, "seam")]
    else:
        under = [Line(seam.at(0.0), seam.at(seam.length if seam.under.column == plan.columns - 1 else high), pens.SEAM, "seam")]
    over = [Line(seam.at(_over_start(seam, plan)), seam.at(_over_end(seam, plan)), pens.TRIM, "trim")]
    for along in range(6, int(seam.length) - 2, 8):
        if seam.upright and seam.start[1] + along > -4.0:
            break  # the flap carries words there
        a, b = seam.at(along, -STRIP), seam.at(along + 3.0, -STRIP + 3.0)
        if seam.upright:
            a, b = seam.at(along, -STRIP + 3.0), seam.at(along + 3.0, -STRIP)
        under.append(Line(a, b, pens.FINE, "strip"))
    return tuple(under), tuple(over)


def _over_start(seam: Seam, plan: Plan) -> float:
    """The trim line runs through the waste, or the strip, of the other seam as well."""
    if seam.upright:
        return -STRIP if seam.over.row < plan.rows - 1 else 0.0
    return -WASTE if seam.over.column else 0.0


def _over_end(seam: Seam, plan: Plan) -> float:
    if seam.upright:
        return seam.length + (WASTE if seam.over.row else 0.0)
    return seam.length + (STRIP if seam.over.column < plan.columns - 1 else 0.0)


def under_words(seam: Seam) -> Iterator[Candidate]:
    """Yield places in the strip for the words that say which sheet goes on top."""
    text = f"Sheet {seam.over.letter} goes on top, to this line"
    yield from _along(seam, text, -STRIP / 2 + 0.4, "strip")


def over_words(seam: Seam) -> Iterator[Candidate]:
    """Yield places in the waste for the words to cut it off."""
    yield from _along(seam, f"✂ cut off, then lay on {seam.under.letter}", WASTE / 2, "waste")


def _along(seam: Seam, text: str, off: float, part: str) -> Iterator[Candidate]:
    size = pens.SMALL if part == "waste" else pens.FIGURE * 0.94
    middle = seam.length / 2
    for along in sorted(range(30, int(seam.length) - 29, 5), key=lambda step: abs(step - middle)):
        x, y = seam.at(along, off)
        if seam.upright:
            yield (pens.words((x + 0.36 * size, y), text, size, anchor="middle", angle=90, part=part),)
        else:
            yield (pens.words((x, y - 0.36 * size), text, size, anchor="middle", part=part),)
