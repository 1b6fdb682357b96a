"""Where holes may be drilled, as it is on the face: the whole pattern's zone, or that of the pair in hand.

The advised zone is washed over and has a full outline. The zone that only the least limits allow is hatched within a
dashed outline. Without colour it reads the same.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from geometry.design.validity import area
from templates_out.drawing.clipping import ring_within
from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Circle, Hatch, Line, Mark, Path, Pen, Point, Text
from templates_out.views.view_focus import AIR
from templates_out.views.view_pens import WORD
from templates_out.views.viewport import Viewport

if TYPE_CHECKING:
    from geometry.zones.pair_zone import Patch, Zone, Zones

Pair = Literal["", "upper", "lower"]

ADVISED = Pen("new", 0.30)
LEAST = Pen("new", 0.30, (1.6, 1.1))
HATCH = Pen("new", 0.13)
PITCH, ANGLE = 2.6, 135.0  # the other way than blocks are hatched
_CROSS = 2.6  # mm of each arm
_LINE = 5.2  # mm from line to line of the key
_SWATCH = (7.0, 3.2)
PART = "zone"


def zone_of(zones: Zones, pair: Pair) -> Zone:
    """Return the zone of the pair in hand, else the whole pattern's."""
    return {"": zones.pattern, "upper": zones.upper, "lower": zones.lower}[pair]


def zone_marks(view: Viewport, zone: Zone) -> tuple[Mark, ...]:
    """Return a zone to go under the drawing's lines: least first, advised upon it."""
    marks: list[Mark] = []
    for patch in zone.least:
        rings = [_paper(ring, view) for ring in (patch.outline, *patch.holes)]
        piece = _on_sheet(patch, view)
        marks += [Hatch(piece, ANGLE, PITCH, HATCH, part=PART)] if len(piece) > 2 else []
        marks += [Path(ring, True, LEAST, None, PART) for ring in rings]
    for patch in zone.advised:
        piece = _on_sheet(patch, view)
        marks += [Path(piece, True, None, "new wash", PART)] if len(piece) > 2 else []
        marks += [Path(_paper(edge, view), True, ADVISED, None, PART) for edge in (patch.outline, *patch.holes)]
    return tuple(marks)


def place_marks(view: Viewport, at: Point, *, holds: bool) -> tuple[Mark, ...]:
    """Return the pattern's own place, midway between the upper holes: a cross, ringed where it is in its zone."""
    x, y = view.to_paper(at)
    pen = Pen("new", 0.4)
    cross = (
        Line((x - _CROSS, y), (x + _CROSS, y), pen, PART),
        Line((x, y - _CROSS), (x, y + _CROSS), pen, PART),
    )
    return (*cross, Circle((x, y), 1.5, pen, None, PART)) if holds else cross


def key_marks(lines: tuple[str, ...], *, least: bool, advised: bool) -> tuple[tuple[Mark, ...], Point]:
    """Return the key that says what is shown, its lower left corner at the origin, and its size [mm]."""
    size = WORD["screen"]
    wide = 1.06 * max(text_width(line, size) for line in lines)  # a screen's font is set a little wider
    samples = [word for word, there in (("advised", advised), ("least allowed", least)) if there]
    high = _LINE * (len(lines) + bool(samples)) + 2.0
    marks: list[Mark] = []
    y = high - 4.6
    for line in lines:
        marks.append(Text((3.0, y), line, size, part=PART))
        y -= _LINE
    x = 3.0
    for word in samples:
        ring = ((x, y - 0.4), (x + _SWATCH[0], y - 0.4), (x + _SWATCH[0], y - 0.4 + _SWATCH[1]), (x, y - 0.4 + _SWATCH[1]))
        if word == "advised":
            marks.append(Path(ring, True, ADVISED, "new wash", PART))
        else:
            marks += [Hatch(ring, ANGLE, PITCH / 1.6, HATCH, part=PART), Path(ring, True, LEAST, None, PART)]
        marks.append(Text((x + _SWATCH[0] + 1.6, y), word, size, "soft", part=PART))
        x += _SWATCH[0] + 1.6 + text_width(word, size) + 4.0
    return tuple(marks), (max(wide + 6.0, x), high)


def _paper(ring: tuple[Point, ...], view: Viewport) -> tuple[Point, ...]:
    return tuple(view.to_paper(at) for at in ring)


def _on_sheet(patch: Patch, view: Viewport) -> tuple[Point, ...]:
    """Return the piece of a patch on the sheet, as one ring to be filled."""
    return ring_within(_paper(_joined(patch), view), (-AIR, -AIR, view.width + AIR, view.height + AIR))


@lru_cache(maxsize=64)
def _joined(patch: Patch) -> tuple[Point, ...]:
    """Return a patch as one ring, its holes joined to its outline by cuts without width."""
    ring = list(patch.outline)
    for hole in (_clockwise(inner) for inner in patch.holes):
        at, to = min(
            ((i, j) for i in range(len(ring)) for j in range(len(hole))),
            key=lambda pair: (ring[pair[0]][0] - hole[pair[1]][0]) ** 2 + (ring[pair[0]][1] - hole[pair[1]][1]) ** 2,
        )
        ring = [*ring[: at + 1], *hole[to:], *hole[: to + 1], *ring[at:]]
    return tuple(ring)


def _clockwise(ring: tuple[Point, ...]) -> tuple[Point, ...]:
    return ring[::-1] if area(ring) > 0 else ring
