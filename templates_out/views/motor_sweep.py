"""The sweep of a motor's outermost places: from the side while it tilts, and from astern at full lock.

It shows while its finding is chosen, or while an entry of the motor's tilt has the focus. Its edges are those that the check
measures (`geometry.solid.tilt_sweep`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from functools import partial

from geometry.design.design import Design
from geometry.solid.bracket_holes import mount_key
from geometry.solid.faces import Unmeasured, faces, need
from geometry.solid.tilt_sweep import Front, Sweep, front_of, sweep_of
from geometry.solid.well import space
from templates_out.drawing.fonts import text_width
from templates_out.drawing.labels import Ground
from templates_out.drawing.marks import Arc, Circle, Line, Mark, Path, Pen, Point, Text
from templates_out.drawing.transforms import text_box
from templates_out.views import view_pens as pens
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.viewport import Rect, if_known, known_points, round_all

_TUBE = 1.6  # paper mm: radius of the tilt tube's ring
_LIP = 60.0  # boat mm: so much of what is behind the lip is drawn
_HEAVY = Pen("new", 0.35)
_GAP = 1.4  # paper mm from a line to its word
_EDGE = 1.0  # paper mm that a word keeps from the edge of the sheet
_Word = tuple[str, list[Point]]
_AIR = 0.8  # paper mm that it keeps from other words


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
    part = part_of_sweep(scene.focus.mount)
    sweeps = _sweeps(scene.boat, scene.focus.mount)
    for sweep in sweeps:
        yield from _edges(scene, sweep, part)
    if not sweeps:
        return
    yield Circle(scene.view.to_paper(sweeps[0].tube), _TUBE, pens.SEEN, part=part)
    front = front_of(scene.boat, space(scene.boat), scene.focus.mount)
    if front is not None:
        yield from _lip(scene, front, part)


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


def _from_astern(scene: Scene) -> Iterator[Mark]:
    """How wide the outermost places are at all turns of the steering, and how high at all tilts."""
    for ring in _rings(scene):
        yield Path(ring, True, pens.SOCKET, None, part_of_sweep(scene.focus.mount))


def _rings(scene: Scene) -> list[tuple[Point, ...]]:
    mount = scene.focus.mount
    middle = need(scene.design.mounts[mount].offset, mount_key(mount, "offset"))
    rake = faces(scene.boat.transom).rake
    up = -math.sin(rake), math.cos(rake)  # along the face, in (x, z)
    rings = []
    for sweep in _sweeps(scene.boat, mount):
        low, high = sweep.lowest(up), -sweep.lowest((-up[0], -up[1]))
        ends = ((-1, low), (1, low), (1, high), (-1, high))
        rings.append(tuple(scene.at(middle + side * sweep.aside, v) for side, v in ends))
    return rings


def words_of_cut(scene: Scene, drawn: tuple[Mark, ...], keep_free: Rect | None = None) -> tuple[Mark, ...]:
    """Return the words of the sweeps from the side, clear of all that is drawn. A word without a free place is left out."""
    return _placed(scene, partial(_cut_places, scene), drawn, keep_free)


def words_of_face(scene: Scene, drawn: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """Return the words of the sweeps from astern, in the same way."""
    return _placed(scene, partial(_face_places, scene), drawn, None)


def _cut_places(scene: Scene) -> Iterator[_Word]:
    """Yield each word with the points on its line, the best one first. The lines of a further place have its number."""
    to_paper, sweeps = scene.view.to_paper, _sweeps(scene.boat, scene.focus.mount)
    for number, sweep in enumerate(sweeps):
        ahead, aft = (to_paper(sweep.at(x, 0.0)) for x in (sweep.forward, sweep.aft))
        yield "motor down" if number == 0 else f"place {number + 1}", [ahead, aft, _between(ahead, aft)]
        if number == 0:
            ahead, aft = (to_paper(sweep.at(x, sweep.most)) for x in (sweep.forward, sweep.aft))
            yield "full tilt", [aft, ahead, _between(ahead, aft)]
    if sweeps:
        x, y = to_paper(sweeps[0].tube)
        yield "tilt tube", [(x + way * _TUBE, y + rise * _TUBE) for way, rise in ((0, 1), (-1, 0), (1, 0), (0, -1))]
        front = front_of(scene.boat, space(scene.boat), scene.focus.mount)
        if front is not None:
            x, z = front.lip
            yield "lip", [to_paper((x, z)), to_paper((x + _LIP, z))]


def _face_places(scene: Scene) -> Iterator[_Word]:
    """Yield each ring's word, with points along its lower edge, its upper edge and its sides."""
    for number, (a, b, c, d) in enumerate(_rings(scene)):
        edges = ((a, b), (d, c), (a, d), (b, c))
        points = [_between(*edge, share) for edge in edges for share in (0.25, 0.75, 0.5, 0.1, 0.9)]
        yield "full lock, any tilt" if number == 0 else f"place {number + 1}", points


def _between(a: Point, b: Point, share: float = 0.5) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _placed(
    scene: Scene, words: Callable[[], Iterable[_Word]], drawn: tuple[Mark, ...], keep_free: Rect | None
) -> tuple[Mark, ...]:
    """Return words where they are off texts, heavy lines and the sweep's own, or else off texts; on the sheet in any case."""
    if not is_shown(scene.design, scene.focus):
        return ()
    own = part_of_sweep(scene.focus.mount)
    texts: list[Mark] = [mark for mark in drawn if isinstance(mark, Text) or (isinstance(mark, Circle) and mark.part == own)]
    if keep_free is not None:
        left, bottom, right, top = keep_free
        texts.append(Path(((left, bottom), (right, bottom), (right, top), (left, top)), True, pens.SIZE, "sheet"))
    lines: list[Mark] = [
        mark if isinstance(mark, Line) else Path(mark.points, mark.closed, mark.pen)
        for mark in drawn if isinstance(mark, Line | Path) and mark.pen is not None
        and (mark.pen.weight >= pens.HEAVY or mark.part == own)
    ]  # fmt: skip
    placed: list[Mark] = []
    for said, points in _if_known(words):
        places = [word for at in points for word in _around(scene, at, said)]
        ground = Ground().plus((*texts, *placed)), Ground().plus((*texts, *lines, *placed))
        free = (word for each in ground[::-1] for word in places if _is_free(scene, each, word))
        placed += [word for word in (next(free, None),) if word is not None]
    return tuple(placed)


def _if_known(words: Callable[[], Iterable[_Word]]) -> tuple[_Word, ...]:
    try:
        return tuple(words())
    except Unmeasured:
        return ()


def _around(scene: Scene, at: Point, said: str) -> Iterator[Text]:
    """Yield a word to the right of a point, to its left, above it and below it."""
    size, (x, y) = scene.word_size, at
    wide = text_width(said, size, condensed=scene.narrow)
    middle = x - wide / 2
    for left, base in ((x + _GAP, y), (x - _GAP - wide, y), (middle, y + _GAP), (middle, y - _GAP - size)):
        yield Text((left, base), said, size, condensed=scene.narrow, patch="sheet", part=part_of_sweep(scene.focus.mount))


def _is_free(scene: Scene, ground: Ground, word: Text) -> bool:
    corners = text_box(word)
    left, right = (ends(x for x, _ in corners) for ends in (min, max))
    bottom, top = (ends(y for _, y in corners) for ends in (min, max))
    on_sheet = min(left, bottom) >= _EDGE and right <= scene.view.width - _EDGE and top <= scene.view.height - _EDGE
    return on_sheet and ground.is_free_box(left, bottom, right, top, _AIR)
