"""Will it hang low enough? The boat's side in small, and next to it, larger, where the AV plate would come over the bottom.

Seen from starboard: aft is to the left. The usual range is common practice, and the picture says so.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec

from geometry.solid.bracket_holes import hook_above_datum, local_height
from geometry.solid.faces import Unmeasured
from geometry.units.units import format_reading
from templates_out.drawing.marks import Hatch, Line, Mark, Path, Pen, Point, Role, Text
from templates_out.views import view_pens as pens

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.decide.alternatives import Kind, LowEnough, Way
    from geometry.design.design import Design
    from geometry.units.units import Unit

SIZE = 3.0  # of the words [mm]
_KEY, _NAMED = 0.24, 0.15  # of the width: for the small side view, and for what the levels are
_HEAD, _FOOT = 5.0, 12.0  # mm above and below the gauge
_MOST = 1.0  # paper mm for a boat mm in the gauge
_AIR = 14.0  # boat mm above and below what is shown
_PLATE = 9.0  # length of an AV plate's bar [mm]
_LEADING = 1.3
_LIMIT = Pen("soft", 0.18, (4.3, 0.6, 0.4, 0.6))
NAMES: dict[Kind, tuple[str, str]] = {
    "chosen": ("as it is", "fitted"),
    "plain": ("whole", "washers"),
    "cut": ("washers", "cut flat"),
    "plate": ("backing", "plate"),
}


class Gauge(msgspec.Struct, frozen=True):
    """A plumb scale on paper: where its foot is, the height there [boat mm], and paper mm for a boat mm."""

    left: float
    right: float
    bottom: float
    top: float
    lowest: float
    scale: float

    def y(self, height: float) -> float:
        """Return how high on paper a height over the bottom is."""
        return self.bottom + (height - self.lowest) * self.scale


def low_enough_marks(design: Design, index: int, heights: LowEnough, width: float, height: float) -> tuple[Mark, ...]:
    """Return the picture on a paper of ``width`` by ``height`` [mm]."""
    left, right = _KEY * width, (1 - _NAMED) * width
    gauge = _gauge(heights, left, right, _FOOT, height - _HEAD)
    return (*_levels(gauge, heights), *_plates(gauge, heights, design.units), *_small(design, index, left, height))


def _gauge(lowest: LowEnough, left: float, right: float, bottom: float, top: float) -> Gauge:
    heights = (*(way.advised for way in lowest.ways), lowest.down, lowest.now, *lowest.usual)
    shown = [height for height in heights if height is not None]
    low, high = min(0.0, *shown) - _AIR, max(shown) + _AIR
    scale = min(_MOST, (top - bottom) / (high - low))
    spare = (top - bottom) / scale - (high - low)
    return Gauge(left, right, bottom, top, low - spare / 2, scale)


def _levels(gauge: Gauge, lowest: LowEnough) -> Iterator[Mark]:
    """The usual range as a pale band, the hull's bottom, and the height with the hook on the transom, each with its name."""
    low, high = (gauge.y(height) for height in lowest.usual)
    left, right, zero = gauge.left, gauge.right, gauge.y(0.0)
    yield Path(((left, low), (right, low), (right, high), (left, high)), True, None, "wood", "usual")
    for level in {low, high} - {zero}:
        yield Line((left, level), (right, level), pens.HIDDEN, "usual")
    yield Hatch(((left, zero), (right, zero), (right, zero - 1.8), (left, zero - 1.8)), 45.0, 1.5, pens.HATCH, part="bottom")
    yield Line((left, zero), (right, zero), pens.CUT, "bottom")
    names = [(zero, "bottom"), ((low + high) / 2, "usual")]
    if lowest.down is not None:
        level = gauge.y(lowest.down)
        yield Line((left, level), (right, level), _LIMIT, "down")
        names.append((level, "hook on top" if abs(level - zero) > 3 * SIZE else "hook"))
    for middle, name in _apart(names):
        role: Role = "ink" if name == "bottom" else "soft"
        lines = ("hook", "on top") if name == "hook on top" else (name,)
        for number, line in enumerate(lines):
            base = middle + (len(lines) / 2 - number - 0.5) * _LEADING * SIZE - 0.37 * SIZE
            yield Text((right + 1.6, base), line, SIZE, role, part=name)


def _apart(names: list[tuple[float, str]]) -> Iterator[tuple[float, str]]:
    """Yield the names with places for them: the first stays, others are pushed away from it until they are apart."""
    (zero, first), *others = names
    yield zero, first
    for way in (1.0, -1.0):
        edge = zero + way * 0.6 * _LEADING * SIZE
        beyond = (level for level in others if (level[0] >= zero) == (way > 0))
        for middle, name in sorted(beyond, key=lambda level: way * level[0]):
            half = len(name.split()) * _LEADING * SIZE / 2
            placed = way * max(way * middle, way * edge + half)
            yield placed, name
            edge = placed + way * half


def _plates(gauge: Gauge, lowest: LowEnough, unit: Unit) -> Iterator[Mark]:
    """An AV plate for each way to seat the washers, as low as it goes, and the one that hangs now."""
    columns: list[tuple[tuple[str, str], float | None, str, Role]] = [
        (NAMES[way.seat.kind], way.advised, _unknown(way), "ink") for way in lowest.ways
    ]
    columns.append((("as it", "is now"), lowest.now, "not known", "new"))
    step = (gauge.right - gauge.left) / len(columns)
    for number, (names, height, lacking, role) in enumerate(columns):
        x = gauge.left + (number + 0.5) * step
        for line, name in enumerate(names):
            y = gauge.bottom - 4.2 - line * _LEADING * SIZE
            yield Text((x, y), name, SIZE, role, anchor="middle", part="way")
        if height is None:
            yield Text((x, (gauge.bottom + gauge.top) / 2 + 6.0), lacking, SIZE, "soft", italic=True, anchor="middle",
                       patch="sheet", part="way")  # fmt: skip
        else:
            yield from _plate(gauge, x, height, role, unit)


def _plate(gauge: Gauge, x: float, height: float, role: Role, unit: Unit) -> Iterator[Mark]:
    """Draw an AV plate: a heavy bar, the shaft above it, and its height in figures on the free side."""
    y, half = gauge.y(height), _PLATE / 2
    figure = format_reading(abs(height), unit)
    level = figure.split()[0] == "0"
    lines = ("level",) if level else (figure, "above" if height > 0 else "below")
    above = height > 0 or level
    top = y + 1.6 + SIZE * 0.74 + _LEADING * SIZE * (len(lines) - 1)
    leg = top + 1.2 if above else y
    if leg < gauge.top:
        for side in (-1.2, 1.2):
            yield Line((x + side, leg), (x + side, gauge.top), Pen(role, 0.18), "leg")
    yield Path(((x - half, y), (x + half, y), (x + half, y + 0.9), (x - half, y + 0.9)), True, Pen(role, 0.18), role, "plate")
    base = top - SIZE * 0.74 if above else y - 1.6 - SIZE * 0.74
    for line, text in enumerate(lines):
        yield Text((x, base - line * _LEADING * SIZE), text, SIZE, role, bold=line == 0, anchor="middle", patch="sheet",
                   part="height")  # fmt: skip


def _unknown(way: Way) -> str:
    return "nowhere" if way.missing is None else "not known"


def _small(design: Design, index: int, width: float, height: float) -> Iterator[Mark]:
    """The boat's side in small: transom, bottom and the motor as it hangs, or right down; nothing where that is not known."""
    mount, rake = design.mounts[index], math.radians(design.transom.rake or 0.0)
    try:
        tall = local_height(design, index)
    except Unmeasured:
        return
    leg, sine, cosine = mount.leg or tall, math.sin(rake), math.cos(rake)
    gap, back = _gap(design, index), 30.0 + (mount.set_back or 0.0)
    head = (-tall * sine / cosine, tall)
    top = (head[0] - back - gap * sine, tall + gap * cosine)
    plate = (top[0] + leg * sine / cosine, top[1] - leg)
    left, right = min(top[0] - 90.0, plate[0] - 130.0), 70.0
    low, high = min(plate[1] - 80.0, -40.0), max(top[1] + 110.0, tall)
    scale = min((width - 5.0) / (right - left), (height - _HEAD - _FOOT) / (high - low))
    bottom = _FOOT + (height - _HEAD - _FOOT - (high - low) * scale) / 2

    def at(fore: float, up: float) -> Point:
        return 2.0 + (fore - left) * scale, bottom + (up - low) * scale

    yield Line(at(0, 0), at(*head), pens.CUT, "transom")
    yield Line(at(0, 0), at(right, 0), pens.CUT, "bottom")
    yield Line(at(*head), at(right, tall), pens.SEEN, "transom")
    pen = Pen("new", 0.3)
    cowl = ((-80, 100), (10, 100), (10, 0), (-60, 0), (-80, 30))
    yield Path(tuple(at(top[0] + x, top[1] + y) for x, y in cowl), True, pen, None, "motor")
    slope = sine / cosine
    for x in (-48.0, -8.0):
        foot = top[1] - plate[1] + 70.0
        yield Line(at(top[0] + x, top[1]), at(top[0] + x + foot * slope, plate[1] - 70.0), pen, "motor")
    yield Line(at(plate[0] - 130, plate[1]), at(plate[0] + 20, plate[1]), Pen("new", 0.6), "motor")


def _gap(design: Design, index: int) -> float:
    """Return how far the bracket hook is over the datum as it hangs now, 0 where that is not known [mm]."""
    try:
        return hook_above_datum(design.mounts[index], index)
    except Unmeasured:
        return 0.0
