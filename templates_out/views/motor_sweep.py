"""The sweep of a motor's outermost places: from the side while it tilts, and from astern at full lock.

It shows while its finding is chosen, or while an entry of the motor's tilt has the focus. Its edges are those that the check
measures (`geometry.solid.tilt_sweep`).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from geometry.design.design import Design
from geometry.solid.bracket_holes import mount_key
from geometry.solid.faces import faces, need
from geometry.solid.tilt_sweep import Front, Sweep, front_of, sweep_of
from geometry.solid.well import space
from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Arc, Circle, Line, Mark, Path, Pen, Point, Text
from templates_out.views import view_pens as pens
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.viewport import Rect, if_known, known_points, round_all

_TUBE = 1.6  # paper mm: radius of the tilt tube's ring
_LIP = 60.0  # boat mm: so much of what is behind the lip is drawn
_HEAVY = Pen("new", 0.35)
_GAP = 1.4  # paper mm from a line to its word
_EDGE = 1.0  # paper mm that a word keeps from the edge of the sheet


def part_of_sweep(mount: int) -> str:
    """Name a motor's sweep, "sweep:0"."""
    return f"sweep:{mount}"


def sweep_of_cut(scene: Scene) -> tuple[Mark, ...]:
    """Return the sweeps of the motor in hand from the side, with the tilt tube and the lip of the well's front."""
    return if_known(partial(_from_the_side, scene)) if is_shown(scene.design, scene.focus) else ()


def sweep_of_face(scene: Scene) -> tuple[Mark, ...]:
    """Return how far the motor in hand reaches to each side at full lock, from astern."""
    return if_known(partial(_from_astern, scene)) if is_shown(scene.design, scene.focus) else ()


def sweep_rect(design: Design, focus: ViewFocus) -> Rect | None:
    """Return the part of the cut that the sweep takes [boat mm], None where it is not shown or not known."""
    if not is_shown(design, focus):
        return None
    return round_all(known_points(lambda: [at for sweep in _sweeps(design, focus.mount) for at in _box(sweep)]), 60.0)


def is_shown(design: Design, focus: ViewFocus) -> bool:
    """Return whether a sweep is shown: the motor's finding is chosen, or an entry of its tilt has the focus."""
    mount = focus.mount
    lit = (mount_key(mount, "tilt."), "well.front_height")
    return mount < len(design.mounts) and (focus.chosen == part_of_sweep(mount) or focus.lit.startswith(lit))


def _sweeps(design: Design, mount: int) -> list[Sweep]:
    return [sweep_of(design, mount, number) for number in range(len(design.mounts[mount].tilt.points))]


def _box(sweep: Sweep) -> list[Point]:
    """Return the corners of the upright box around a sweep, in (x, z)."""
    low, high = ([-sweep.lowest((-way * x, -way * z)) * way for x, z in ((1.0, 0.0), (0.0, 1.0))] for way in (-1.0, 1.0))
    return [(low[0], low[1]), (high[0], high[1])]


def _from_the_side(scene: Scene) -> Iterator[Mark]:
    part, size = part_of_sweep(scene.focus.mount), scene.word_size
    sweeps = _sweeps(scene.boat, scene.focus.mount)
    for sweep in sweeps:
        yield from _edges(scene, sweep, part)
        down = scene.view.to_paper(sweep.at(sweep.forward, 0.0))
        up = scene.view.to_paper(sweep.at(sweep.aft, sweep.most))
        yield _word(scene, (down[0] + _GAP, down[1]), "motor down", 2 * _GAP)
        yield _word(scene, (up[0] - 2 * _GAP, up[1] - size), "full tilt", -4 * _GAP)
    if not sweeps:
        return
    tube = scene.view.to_paper(sweeps[0].tube)
    yield Circle(tube, _TUBE, pens.SEEN, part=part)
    yield _word(scene, (tube[0] - _TUBE, tube[1] + _TUBE + _GAP), "tilt tube", 0.0)
    front = front_of(scene.boat, space(scene.boat), scene.focus.mount)
    if front is not None:
        yield from _lip(scene, front, part)


def _word(scene: Scene, at: Point, text: str, across: float) -> Text:
    """Return a word of the sweep that begins at a place, or that ends there where it is on the other side of its line.

    Where the sheet's edge would cut it, it is on the line's other side, and within the sheet in any case.

    Args:
        across: paper mm to the place at the line's other side: more than 0 for a word that begins at ``at``.
    """
    size, part = scene.word_size, part_of_sweep(scene.focus.mount)
    wide = text_width(text, size, condensed=scene.narrow)
    begins = across >= 0.0
    starts = (at[0], at[0] - across - wide) if begins else (at[0] - wide, at[0] - across)
    most = scene.view.width - _EDGE - wide
    x = next((x for x in starts if _EDGE <= x <= most), min(max(starts[0], _EDGE), most))
    return Text((x, at[1]), text, size, condensed=scene.narrow, patch="sheet", part=part)


def _edges(scene: Scene, sweep: Sweep, part: str) -> Iterator[Mark]:
    """The level stretch of one place before and after the tilt, and the arcs of its ends between them."""
    to_paper = scene.view.to_paper
    for tilt, pen in ((0.0, pens.NEW_FINE), (sweep.most, _HEAVY)):
        yield Line(to_paper(sweep.at(sweep.aft, tilt)), to_paper(sweep.at(sweep.forward, tilt)), pen, part)
    centre = to_paper(sweep.tube)
    for radius, first, last in sweep.arcs():
        yield Arc(centre, radius * scene.view.scale, 90.0 - math.degrees(last), 90.0 - math.degrees(first), pens.SOCKET, part)


def _lip(scene: Scene, front: Front, part: str) -> Iterator[Mark]:
    """The front of the well below its lip, and the lip."""
    x, z = front.lip
    foot = x + math.tan(math.asin(front.square[1])) * _LIP, z - _LIP
    points = tuple(scene.view.to_paper(at) for at in (foot, front.lip, (x + _LIP, z)))
    yield Path(points, False, pens.SEEN, None, part)
    size = scene.word_size
    word = points[1][0] - _GAP, points[1][1] - size - _GAP
    yield Text(word, "lip", size, condensed=scene.narrow, anchor="end", part=part)


def _from_astern(scene: Scene) -> Iterator[Mark]:
    """How wide the outermost places are at all turns of the steering, and how high at all tilts."""
    mount, part, size = scene.focus.mount, part_of_sweep(scene.focus.mount), scene.word_size
    middle = need(scene.design.mounts[mount].offset, mount_key(mount, "offset"))
    rake = faces(scene.boat.transom).rake
    up = -math.sin(rake), math.cos(rake)  # along the face, in (x, z)
    for number, sweep in enumerate(_sweeps(scene.boat, mount)):
        low, high = sweep.lowest(up), -sweep.lowest((-up[0], -up[1]))
        ends = ((-1, low), (1, low), (1, high), (-1, high))
        yield Path(tuple(scene.at(middle + side * sweep.aside, v) for side, v in ends), True, pens.SOCKET, None, part)
        x, y = scene.at(middle - sweep.aside / 2, low)
        said = "full lock, any tilt" if number == 0 else f"place {number + 1}"
        yield Text((x, y - size - _GAP), said, size, condensed=scene.narrow, anchor="middle", patch="sheet", part=part)
