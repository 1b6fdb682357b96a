"""The isometric picture as marks: the bodies turned to the eye, their hidden lines left out."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from geometry.solid.planes import inside, turns_left
from geometry.solving.solved import solved
from templates_out.drawing.clipping import clip
from templates_out.drawing.marks import Line, Mark, Path, Pen, Point, Text
from templates_out.isometric.bodies import Piece, Prism, Sheet, Spot, Trace, bodies
from templates_out.isometric.hidden_lines import visible
from templates_out.views import view_pens as pens
from templates_out.views.viewport import Rect, fit, round_all

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from numpy.typing import NDArray

    from geometry.judge.findings import Checked

    Floats = NDArray[np.float64]

LEVEL = math.degrees(math.atan(math.sqrt(0.5)))  # degrees: of the eye above level in an isometric picture (ISO 5456-3)
MOST_UP = 90.0
_MARGIN = 4.0  # mm of paper round the bodies
_SIZE = 2.9  # mm: of the words
_STEP = 1.5 * _SIZE  # mm: from one line of words to the next
_CROSS = 1.6  # mm
_SAME = 1e-6  # mm: lines whose ends are so near run on
_WIDE = 100.0  # mm of paper: room for all words
_SIDEWAYS = 0.2  # of a beam's length: what is seen shorter is seen from its end
_BODY, _FOUL = Pen("new", 0.25), Pen("fouled", 0.45)
_PENS = {"transom": pens.SEEN, "well": pens.SEEN, "old hole": pens.OLD}


class Turn(NamedTuple):
    """The place of the eye: ``round`` from straight forward of the transom towards starboard, ``up`` from level [degrees]."""

    round: float = 45.0
    up: float = LEVEL

    def by(self, round_: float, up: float) -> Turn:
        """Return the place of the eye further round and further up. It does not go over the top."""
        return Turn((self.round + round_) % 360.0, min(MOST_UP, max(-MOST_UP, self.up + up)))

    @property
    def axes(self) -> Floats:
        """To the right, up, and towards the eye, each as (forward, starboard, up); the frame is left-handed."""
        turn, rise = math.radians(self.round), math.radians(self.up)
        sin, cos, high, far = math.sin(turn), math.cos(turn), math.sin(rise), math.cos(rise)
        return np.array([[sin, -cos, 0.0], [-high * cos, -high * sin, far], [far * cos, far * sin, high]])

    @property
    def words(self) -> str:
        """Where the picture is seen from."""
        ends = "inside" if math.cos(math.radians(self.round)) >= 0 else "outside"
        side = math.sin(math.radians(self.round))
        across = "" if abs(side) < math.sin(math.radians(10.0)) else " and starboard" if side > 0 else " and port"
        height = " and below" if self.up < -5.0 else ""
        return f"seen from {ends}{across}{height}"


def isometric_marks(
    checked: Checked, width: float, height: float, turn: Turn | None = None, closer: float = 1.0,
) -> tuple[Mark, ...]:  # fmt: skip
    """Return the picture on a paper of ``width`` by ``height`` [mm].

    It shows the well, the brackets and the bolts as large as the paper allows, times ``closer``; where there is no well,
    the whole transom. A fouled body is drawn heavily, and its bolt is named.

    Raises:
        Unmeasured: rake, outline or thickness of the transom is not known.
    """
    turn = turn or Turn()
    flat = _seen(bodies(solved(checked.design)), turn)
    fouled = _fouled(checked)
    room = _SIZE + 2 * _STEP  # for the words below
    view = fit(_work(flat), width, height - room, _MARGIN)
    view = view.zoomed(closer, (width / 2, (height - room) / 2))

    def place(spot: Spot) -> Point:
        x, y = view.to_paper((spot[0], spot[1]))
        return x, y + room

    marks: list[Mark] = []
    for part, spots in _joined(flat):
        places = tuple(map(place, spots))
        pen = _pen(part, fouled)
        marks.append(Line(places[0], places[1], pen, part) if len(places) == 2 else Path(places, False, pen, None, part))
    marks += [mark for spot in _crossed(flat, fouled).values() for mark in _cross(place(spot))]
    return (*clip(marks, (0.0, room, width, height)), *_words(turn, _names(fouled.values()), width))


def _work(flat: _Flat) -> Rect:
    """Return the part of the picture that is shown: well, brackets and bolts, or all without a well."""
    parts = {part for part, _ in flat.lines}
    shown = [lines.reshape(-1, 3) for part, lines in flat.lines if part != "transom" or "well" not in parts]
    return round_all(np.concatenate(shown)[:, :2].tolist()) or (0.0, 0.0, 1.0, 1.0)


def _cross(at: Point) -> Iterator[Mark]:
    """Yield a cross over a fouled body, so that the colour is not all that shows it."""
    x, y = at
    for rise in (1.0, -1.0):
        yield Line((x - _CROSS, y - rise * _CROSS), (x + _CROSS, y + rise * _CROSS), _FOUL, "fouled body")


def _words(turn: Turn, names: tuple[str, ...], width: float) -> Iterator[Mark]:
    """Yield the place of the eye, the names of both sides, and the fouled bolts."""
    low = 0.6 * _SIZE
    words = turn.words if width > _WIDE else turn.words.split()[2]
    yield Text((width / 2, low), words, _SIZE, "soft", anchor="middle")
    right = float(turn.axes[0][1])
    if abs(right) > _SIDEWAYS:
        ends = ("port", "starboard") if right > 0 else ("starboard", "port")
        yield Text((_SIZE, low), f"\N{LEFTWARDS ARROW} {ends[0]}", _SIZE, "soft")
        yield Text((width - _SIZE, low), f"{ends[1]} \N{RIGHTWARDS ARROW}", _SIZE, "soft", anchor="end")
    if names:
        yield Text((width / 2, low + _STEP), f"Fouled: {', '.join(names)}", _SIZE, "fouled", bold=True, anchor="middle")


def _fouled(checked: Checked) -> dict[str, str]:
    """Return the fouled bodies: each part, with its bolt's name. A fouled socket shows on its nut."""
    names: dict[str, str] = {}
    for finding in checked.findings:
        if finding.state == "fouled" and finding.check in ("washer", "nut", "thread_end", "socket"):
            part = "nut" if finding.check == "socket" else finding.check
            names.setdefault(f"{part} of {finding.at}", finding.at)
    return names


def _pen(part: str, fouled: dict[str, str]) -> Pen:
    if part in fouled:
        return _FOUL
    if " of " in part:
        return _BODY
    return _PENS.get(part, pens.FINE)


class _Flat(NamedTuple):
    """All that is seen, in the frame of the eye: lines [number, 2, 3] with their part, and the surfaces that may hide them."""

    lines: list[tuple[str, Floats]]
    surfaces: list[Floats]


def _seen(pieces: Iterable[Piece], turn: Turn) -> _Flat:
    axes = turn.axes.T
    flat = _Flat([], [])
    for piece in pieces:
        match piece:
            case Prism():
                _add_prism(flat, piece.part, np.array(piece.near) @ axes, np.array(piece.far) @ axes, smooth=piece.smooth)
            case Sheet():
                ring = np.array(piece.ring) @ axes
                front = float(_areas(ring[None])[0]) > 0
                flat.lines.append((piece.part if front else "well from behind", _edges(ring)))
                if front:
                    flat.surfaces.append(ring[None])
            case Trace():
                edges = _edges(np.array(piece.spots) @ axes)
                flat.lines.append((piece.part, edges if piece.closed else edges[:-1]))
    return flat


def _add_prism(flat: _Flat, part: str, near: Floats, far: Floats, *, smooth: bool) -> None:
    """Add a solid's lines and its surfaces. Of a round side only its outline is a line."""
    corners = np.stack([near, far], axis=1)
    following = np.roll(corners, -1, axis=0)
    sides = np.stack([near, following[:, 0], following[:, 1], far], axis=1)
    flat.surfaces.extend(ring[None] for end in (near, far) for ring in _convex_pieces(end))
    flat.surfaces.extend((sides,) if smooth else (sides[:, [0, 1, 2]], sides[:, [0, 2, 3]]))
    front = _areas(sides) > 0
    shown = front != np.roll(front, 1) if smooth else np.ones(len(near), dtype=bool)
    flat.lines.extend((part, lines) for lines in (_edges(near), _edges(far), corners[shown]))


def _edges(ring: Floats) -> Floats:
    """Return the lines round a ring, [number, 2, 3]."""
    return np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)


def _areas(rings: Floats) -> Floats:
    """Return the areas of rings as they are seen, positive where they run anticlockwise."""
    x, y = rings[..., 0], rings[..., 1]
    areas: Floats = (x * np.roll(y, -1, axis=-1) - np.roll(x, -1, axis=-1) * y).sum(axis=-1) / 2
    return areas


def _convex_pieces(ring: Floats) -> list[Floats]:
    """Return a flat ring as convex pieces: itself, or triangles."""
    plane = _longest_plane(ring)
    at = tuple((float(spot[plane[0]]), float(spot[plane[1]])) for spot in ring)
    return [ring[list(corners)] for corners in _pieces_of(at)]


def _longest_plane(ring: Floats) -> tuple[int, int]:
    """Return the two axes on which a flat ring has the largest shadow."""
    normal = np.abs(np.cross(ring, np.roll(ring, -1, axis=0)).sum(axis=0))
    drop = int(normal.argmax())
    return ((1, 2), (0, 2), (0, 1))[drop]


@lru_cache(maxsize=256)
def _pieces_of(ring: tuple[Point, ...]) -> tuple[tuple[int, ...], ...]:
    """Return the numbers of the corners of each convex piece: ears are cut off one by one."""
    left = list(range(len(ring)))
    if not turns_left(ring):
        left.reverse()
    if all(_turn(ring, left, index) >= 0 for index in range(len(left))):
        return (tuple(left),)
    pieces: list[tuple[int, ...]] = []
    while len(left) > 3:
        ear = next((index for index in range(len(left)) if _is_ear(ring, left, index)), None)
        if ear is None:  # a ring that touches itself: what is left hides nothing
            return tuple(pieces)
        pieces.append((left[ear - 1], left[ear], left[(ear + 1) % len(left)]))
        del left[ear]
    return (*pieces, tuple(left))


def _turn(ring: tuple[Point, ...], left: list[int], index: int) -> float:
    (ax, ay), (bx, by), (cx, cy) = (ring[left[(index + step) % len(left)]] for step in (-1, 0, 1))
    return (bx - ax) * (cy - by) - (by - ay) * (cx - bx)


def _is_ear(ring: tuple[Point, ...], left: list[int], index: int) -> bool:
    corners = left[index - 1], left[index], left[(index + 1) % len(left)]
    if _turn(ring, left, index) <= 0:
        return False
    triangle = tuple(ring[corner] for corner in corners)
    return not any(inside(ring[other], triangle) for other in left if other not in corners)


def _joined(flat: _Flat) -> Iterator[tuple[str, tuple[Spot, ...]]]:
    """Yield the visible lines, those that run on in one another as one."""
    lines = np.concatenate([lines for _, lines in flat.lines])
    parts = [part for part, lines in flat.lines for _ in lines]
    run: list[Spot] = []
    part = ""
    for number, start, end in visible(lines, flat.surfaces):
        a, b = lines[number].tolist()
        first, last = _between(a, b, start), _between(a, b, end)
        if run and part == parts[number] and math.dist(run[-1], first) < _SAME:
            run.append(last)
            continue
        if run:
            yield part, tuple(run)
        part, run = parts[number], [first, last]
    if run:
        yield part, tuple(run)


def _between(a: list[float], b: list[float], share: float) -> Spot:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share, a[2] + (b[2] - a[2]) * share


def _crossed(flat: _Flat, fouled: dict[str, str]) -> dict[str, Spot]:
    """Return the middle of the first fouled body of each bolt, by the bolt's name in findings."""
    middles: dict[str, Spot] = {}
    for part, at in fouled.items():
        spots = [lines.reshape(-1, 3) for name, lines in flat.lines if name == part]
        if spots and at not in middles:
            x, y, z = np.concatenate(spots).mean(axis=0).tolist()
            middles[at] = (x, y, z)
    return middles


def _names(bolts: Iterable[str]) -> tuple[str, ...]:
    """Return the bolts' names, both of a pair as one: "both lower bolts"."""
    names = list(dict.fromkeys(at.rpartition(" / ")[2] for at in bolts))
    for pair in ("upper", "lower"):
        both = [f"{pair} port", f"{pair} starboard"]
        if all(name in names for name in both):
            names = [f"both {pair} bolts", *(name for name in names if name not in both)]
    return tuple(names)
