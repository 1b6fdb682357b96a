"""The pictures of what one press answers: the pattern with its three distances, a list of parts, and a move. Paper mm."""

from __future__ import annotations

import math

from geometry.design.design import Design
from geometry.judge.findings import Checked
from geometry.solid.bracket_holes import bracket_ring, hook_above_datum
from geometry.solid.faces import Unmeasured
from geometry.units.units import format_length
from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Circle, Line, Mark, Path, Point, Text
from templates_out.pictures import tools_in_use as tools
from templates_out.views import view_pens as pens
from templates_out.views.cut import cut_marks, cut_rect
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import fit, round_all

_AIR = 2.5
_ASIDE, _RIGHT, _BELOW = 0.35, 0.32, 3.9  # share of the way, of half the width, mm below a line: figures keep off each other
_SHARE = 0.5  # of a line, which its figure takes at the most
_LEAST = 2.4  # size of the smallest text in a list


def pattern_picture(design: Design, mount: int, width: float, height: float) -> tuple[Mark, ...]:
    """Return a bracket with the three distances of its pattern; nothing where its place is not known."""
    try:
        return _pattern(design, mount, width, height)
    except Unmeasured:
        return ()


def _pattern(design: Design, mount: int, width: float, height: float) -> tuple[Mark, ...]:
    hung = design.mounts[mount]
    rows, lower, middle = hung.bracket.rows, hung.bracket.lower, hung.offset or 0.0
    if rows is None or lower is None:
        return ()
    ring = bracket_ring(hung, mount)
    view = fit(round_all(ring) or (0.0, 0.0, 1.0, 1.0), width, height, _AIR)
    top = hook_above_datum(hung, mount) - rows.row0_depth
    deep = top - lower.slots[0][0]
    marks: list[Mark] = [Path(tuple(view.to_paper(at) for at in ring), True, pens.SEEN)]
    radius = max(0.8, (rows.diameter or 13.0) / 2 * view.scale)
    for side in (-1, 1):
        for row in range(rows.count):
            at = view.to_paper((middle + side * rows.half_spacing, top - row * rows.pitch))
            marks.append(Circle(at, radius, tools.BODY if row == 0 else pens.FINE))
        for high, low in lower.slots:
            a, b = (view.to_paper((middle + side * lower.half_spacing, top - depth)) for depth in (high, low))
            marks += [*_slot(a, b, radius), Circle(a, radius, tools.BODY)]
    half_up, half_low = rows.half_spacing, lower.half_spacing
    right = middle + _RIGHT * half_up
    sizes = (
        ((middle - half_up, top), (middle + half_up, top), 2 * half_up, _ASIDE, 0.0),
        ((middle - half_low, deep), (middle + half_low, deep), 2 * half_low, 0.5, -_BELOW),
        ((right, top), (right, deep), top - deep, 0.5, 0.0),
    )  # fmt: skip
    for a, b, length, where, off in sizes:
        figure = format_length(length, design.units, denominator=64, unit_word=False)
        marks += _size(view.to_paper(a), view.to_paper(b), figure, where, off)
    return tuple(marks)


def _slot(a: Point, b: Point, radius: float) -> tuple[Mark, ...]:
    sides = tuple(Line((a[0] + x, a[1]), (b[0] + x, b[1]), pens.FINE) for x in (-radius, radius))
    return (*sides, Circle(b, radius, pens.FINE))


def _size(a: Point, b: Point, text: str, where: float, off: float) -> tuple[Mark, ...]:
    """Draw a line between two holes, and its figure ``where`` along it and ``off`` above it."""
    size = min(pens.WORD["screen"], _SHARE * max(math.dist(a, b), 8.0) / text_width(text, 1.0))
    x, y = a[0] + (b[0] - a[0]) * where, a[1] + (b[1] - a[1]) * where + off
    figure = Text((x, y - 0.36 * size), text, size, "ink", True, anchor="middle", patch="lit", part="figure")
    return Line(a, b, pens.SIZE, "figure"), figure


def list_picture(lines: tuple[tuple[str, str], ...], width: float, height: float) -> tuple[Mark, ...]:
    """Return a list: names at the left, sizes at the right, as large as they fit. Where they do not, sizes are below names."""
    if not lines:
        return ()
    named = tuple((f"{name[:1].upper()}{name[1:]}", sizes) for name, sizes in lines)
    pitch, room = min(6.4, (height - 2 * _AIR) / len(named)), width - 2 * _AIR
    widest, condensed = (_widest(named, condensed=narrow) for narrow in (False, True))
    size = max(_LEAST, min(3.1, pitch * 0.62, (room - 3.0) / widest))
    if condensed * size > room - 2.0:
        return _stacked(named, height, (height - 2 * _AIR) / len(named))
    narrow = widest * size > room - 2.0
    marks: list[Mark] = []
    for at, (name, sizes) in enumerate(named):
        y = height - _AIR - (at + 0.5) * pitch - 0.36 * size
        marks.append(Text((_AIR, y), name, size, "soft", condensed=narrow))
        marks.append(Text((width - _AIR, y), sizes, size, "ink", condensed=narrow, anchor="end"))
    return tuple(marks)


def _widest(lines: tuple[tuple[str, str], ...], *, condensed: bool) -> float:
    """Return how wide the longest line is, at a size of 1."""
    return max(text_width(name, 1.0, condensed=condensed) + text_width(size, 1.0, condensed=condensed) for name, size in lines)


def _stacked(lines: tuple[tuple[str, str], ...], height: float, pitch: float) -> tuple[Mark, ...]:
    """Return a list with each size below its name."""
    size = min(_LEAST, 0.42 * pitch)
    marks: list[Mark] = []
    for at, (name, sizes) in enumerate(lines):
        top = height - _AIR - at * pitch - 0.9 * size
        marks.append(Text((_AIR, top), name, size, "soft", condensed=True))
        marks.append(Text((_AIR, top - 1.12 * size), sizes, size, "ink", condensed=True))
    return tuple(marks)


def move_picture(design: Design, mount: int, width: float, height: float) -> tuple[Mark, ...]:
    """Return the cut as it will be after a move."""
    checked, focus = Checked(design, (), "unknown", ()), ViewFocus(mount, text=3.0)
    return cut_marks(checked, fit(cut_rect(design, "port", mount), width, height, 1.0), "port", mount, focus)
