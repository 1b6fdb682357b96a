"""The cut fore and aft through one side's bolts, seen from starboard: aft at left, forward at right, level is level.

A pure function from a checked design to marks in paper millimetres. The floor, its rounded corner and the blocks are those at
the place of the bolt that is looked at: the lower one, or the upper where that is chosen.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Literal

from msgspec.structs import replace

from geometry.design.boat import top_at
from geometry.design.design import Design
from geometry.judge.findings import Checked
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.tables import trade
from templates_out.drawing.marks import Line, Mark, Point
from templates_out.views import view_pens as pens
from templates_out.views.cut_boat import floor_line, standing_marks
from templates_out.views.cut_bolts import bolt_marks, box
from templates_out.views.cut_drilled import drilled_marks
from templates_out.views.cut_figures import figure_marks
from templates_out.views.cut_plane import Plane, plane_at
from templates_out.views.motor_sweep import sweep_of_cut, words_of_cut
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.view_pens import Style
from templates_out.views.viewport import Rect, Viewport, if_known, known_points, round_all

Side = Literal["port", "starboard"]


def cut_marks(
    checked: Checked, view: Viewport, side: Side, mount: int = 0, focus: ViewFocus | None = None,
    style: Style = "screen", keep_free: Rect | None = None, over: tuple[Mark, ...] = (),
    kept_places: dict[str, int] | None = None,
) -> tuple[Mark, ...]:  # fmt: skip
    """Return the cut as marks; ``keep_free`` is a place on paper that no figure takes, for the detail.

    ``over`` is the detail itself, which is laid over the cut: its leader crosses no figure. ``kept_places`` is handed on in a
    drag: figures stay at their places as long as these are free.
    A part that rests on a reading not yet taken is left out, and all others stay. Marks may reach beyond the view.
    """
    scene = Scene(checked, view, focus or ViewFocus(mount=mount), style)
    plane = plane_of(scene.boat, side, mount, upper=scene.focus.chosen.startswith("upper"))
    pair = bolts_of(scene.boat, side, mount)
    standing = bare_marks(scene, plane, pair)
    leader = (replace(mark, pen=pens.SEEN) for mark in over if isinstance(mark, Line) and mark.part == "detail place")
    drawn = (*standing, *figure_marks(scene, plane, pair, (*standing, *leader), keep_free, kept_places))
    return (*drawn, *words_of_cut(scene, drawn, keep_free))


def bare_marks(scene: Scene, plane: Plane, pair: tuple[Bolt, ...]) -> tuple[Mark, ...]:
    """Return the cut without figures and words."""
    joined = tuple(bolt for bolt in bolts(scene.boat) if bolt.mount_index == scene.focus.mount)
    return (
        *standing_marks(scene, plane),
        *(mark for bolt in pair for mark in bolt_marks(scene, plane, bolt, joined)),
        *if_known(partial(floor_line, scene, plane)),
        *if_known(partial(drilled_marks, scene, pair)),
        *if_known(partial(_doubt_marks, scene, plane, pair)),
        *sweep_of_cut(scene),
    )


def _doubt_marks(scene: Scene, plane: Plane, pair: tuple[Bolt, ...]) -> Iterator[Mark]:
    """Yield the bands of doubt, once the chances are known."""
    if scene.checked.sure:
        from templates_out.views.cut_doubt import doubt_marks

        yield from doubt_marks(scene, plane, pair)


def bolts_of(design: Design, side: Side, mount: int) -> tuple[Bolt, ...]:
    """Return the upper and the lower bolt of one side of a motor; none where it has none."""
    return tuple(bolt for bolt in bolts(design) if bolt.mount_index == mount and bolt.name.endswith(side))


def plane_of(design: Design, side: Side, mount: int, *, upper: bool = False) -> Plane:
    """Return the plane through one side's lower bolt, or its upper one; a usual place where there is none yet."""
    sign = -1.0 if side == "port" else 1.0
    u = sign * trade.STANDARD_PATTERN.lower_half_spacing
    pair = bolts_of(design, side, mount)
    try:
        if pair:
            u = pair[0 if upper else 1].u
        elif mount < len(design.mounts):
            u = design.mounts[mount].offset or 0.0
    except Unmeasured:
        pass
    if top_at(design.transom.outline, u) is None:
        u = 0.0
    return plane_at(design, u)


def cut_title(side: Side, *, bolted: bool = True) -> str:
    """Say what the cut goes through."""
    return f"Cut through the {side} bolts" if bolted else "Cut through the transom"


def cut_rect(design: Design, side: Side, mount: int = 0) -> Rect:
    """Return the part of the cut where the work is: top, bolts with their sockets, floor, with some air [boat mm]."""
    plane = plane_of(design, side, mount)
    points: list[Point] = known_points(lambda: plane.transom[:2])
    for bolt in bolts_of(design, side, mount):
        points += known_points(partial(_ends, bolt))
    points += known_points(lambda: [plane.inside(plane.floor_w(n) or 0.0, n) for n in (0.0, 90.0) if plane.floor])
    if not bolts_of(design, side, mount):
        points += known_points(lambda: [plane.inside(-200.0, 0.0), plane.outside(-200.0, 0.0)])
    return round_all(points, 35.0) or (-100.0, -300.0, 300.0, 60.0)


def _ends(bolt: Bolt) -> list[Point]:
    socket = bolt.body("socket")
    end = socket.end if socket is not None else bolt.nut_at + 40.0
    return list(box(bolt, -bolt.exit.along - 45.0, end, 20.0, 20.0))
