"""Other bolts as a fine ghost in the cut: the other way to drill with how far its exits move, or another place."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from geometry.solid.faces import Unmeasured
from geometry.solving.solved import solved
from geometry.units.units import format_reading
from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Line, Mark, Path, Pen, Text
from templates_out.views.cut import Side, bolts_of
from templates_out.views.cut_boat import on_paper
from templates_out.views.cut_bolts import body_box, box
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.viewport import if_known

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from geometry.solid.placed_bolts import Bolt
    from templates_out.views.viewport import Rect, Viewport

GHOST = Pen("soft", 0.18, (1.4, 0.9))
_PAST = 18.0  # boat mm that the axis runs past either end


def exits_moved(design: Design, other: Design, side: Side, mount: int) -> tuple[float, ...]:
    """Return how far the exits of one side's bolts move up the inner face, upper bolt first [mm].

    Raises:
        Unmeasured: something that they rest on is not known.
    """
    pairs = zip(bolts_of(design, side, mount), bolts_of(other, side, mount), strict=True)
    return tuple(there.exit.w - here.exit.w for here, there in pairs)


def ghost_marks(
    checked: Checked, view: Viewport, side: Side, mount: int, other: Design, taken: Rect | None = None
) -> tuple[Mark, ...]:
    """Return the bolts of ``other`` as a ghost over the cut of ``checked``, each with its exit's difference.

    A figure that would reach into ``taken``, the place of the detail on paper, is left out.
    """
    scene = Scene(checked, view, ViewFocus(mount), "screen")
    try:
        moved = exits_moved(scene.boat, solved(other), side, mount)
    except Unmeasured:
        return ()
    marks: list[Mark] = []
    for bolt, by in zip(bolts_of(solved(other), side, mount), moved, strict=True):
        marks += if_known(partial(_bolt, scene, bolt, GHOST))
        figure = if_known(partial(_figure, scene, bolt, by))
        if not any(isinstance(mark, Text) and _reaches(mark, taken) for mark in figure):
            marks += figure
    return tuple(marks)


def bolts_as_ghost(
    checked: Checked, view: Viewport, side: Side, mount: int, other: Design, pen: Pen
) -> tuple[tuple[Mark, ...], ...]:
    """Return the bolts of ``other`` that differ in the cut of ``checked``, upper bolt first; none where a place is unknown."""
    scene = Scene(checked, view, ViewFocus(mount), "screen")
    try:
        here, there = bolts_of(scene.boat, side, mount), bolts_of(solved(other), side, mount)
    except Unmeasured:
        return ()
    now = {bolt.name: (bolt.u, bolt.v, bolt.tilt, bolt.hardware) for bolt in here}
    moved = (bolt for bolt in there if now.get(bolt.name) != (bolt.u, bolt.v, bolt.tilt, bolt.hardware))
    return tuple(tuple(if_known(partial(_bolt, scene, bolt, pen))) for bolt in moved)


def _reaches(text: Text, taken: Rect | None) -> bool:
    x, y = text.at
    end = x + text_width(text.text, text.size) + 1.0
    return taken is not None and end > taken[0] and x < taken[2] and y + text.size > taken[1] and y < taken[3]


def _bolt(scene: Scene, bolt: Bolt, pen: Pen) -> Iterator[Mark]:
    radius = bolt.hole / 2
    a, b, c, d = on_paper(scene, box(bolt, -bolt.exit.along, 0.0, radius, radius))
    yield Line(a, b, pen, "ghost")
    yield Line(d, c, pen, "ghost")
    ends = on_paper(scene, box(bolt, -bolt.exit.along - _PAST, bolt.nut_at + 3 * _PAST, 0.0, 0.0))
    yield Line(ends[0], ends[1], pen, "ghost")
    for part in ("washer", "nut"):
        body = bolt.body("washer" if part == "washer" else "nut")
        if body is not None:
            yield Path(on_paper(scene, body_box(bolt, body)), True, pen, None, "ghost")


def _figure(scene: Scene, bolt: Bolt, by: float) -> Iterator[Mark]:
    unit = scene.design.units
    words = f"{format_reading(abs(by), unit)} {'higher' if by > 0 else 'lower'}"
    at = on_paper(scene, box(bolt, bolt.nut_at + 3.2 * _PAST, bolt.nut_at + 4 * _PAST, 0.0, 0.0))[0]
    yield Text((at[0] + 1.0, at[1] - 1.2), words, scene.figure_size, "soft", patch="sheet", part="ghost")
