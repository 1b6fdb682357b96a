"""The face of the transom as seen from astern: starboard is to the right.

A pure function from a checked design to marks in paper millimetres. Places are boat millimetres times the view's
scale; text, strokes, hatches and line weights are paper millimetres at any scale.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from geometry.judge.findings import Checked
from templates_out.drawing.marks import Circle, Line, Mark, Path
from templates_out.views import view_pens as pens
from templates_out.views.face_boat import old_hole_marks, standing_marks
from templates_out.views.face_bolts import bolt_marks
from templates_out.views.face_drilled import drilled_marks
from templates_out.views.face_figures import figure_marks
from templates_out.views.motor_sweep import sweep_of_face, words_of_face
from templates_out.views.view_focus import Scene, ViewFocus
from templates_out.views.view_pens import Style
from templates_out.views.viewport import Viewport, if_known


def face_marks(
    checked: Checked, view: Viewport, focus: ViewFocus | None = None, style: Style = "screen",
    under: tuple[Mark, ...] = (), kept_places: dict[str, int] | None = None,
) -> tuple[Mark, ...]:  # fmt: skip
    """Return the face as marks.

    A part that rests on a reading not yet taken is left out, and all others stay. Marks may reach beyond the view.
    ``under`` is over wood and well and under every line; figures keep off its outlines. ``kept_places`` is handed on in a drag:
    a figure stays at its place while that is free, and a new place is written there. None: all places are chosen again.
    """
    scene = Scene(checked, view, focus or ViewFocus(), style)
    motor = f":{scene.focus.mount}"
    bare = (*standing_marks(scene), *_lines(scene), *bolt_marks(scene), *drilled_marks(scene), *sweep_of_face(scene))
    standing = (*sorted(bare, key=lambda mark: mark.part.endswith(motor)), *_old_rings(scene))  # what moves comes last
    grounds = (number for number, mark in enumerate(standing) if isinstance(mark, Path) and mark.fill in ("wood", "well"))
    after = max(grounds, default=-1) + 1
    standing = (*standing[:after], *under, *standing[after:])
    drawn = (*standing, *figure_marks(scene, standing, kept_places))
    return (*drawn, *words_of_face(scene, drawn))


def _lines(scene: Scene) -> Iterator[Mark]:
    """The centreline and the datum."""
    x, y = scene.at(0.0, 0.0)
    high = min(scene.view.height - 2.0, y + 14.0)
    yield Line((x, 1.0), (x, high), pens.CENTRE, "centreline")
    reach = 12.0
    yield Line((x - reach, y), (x + reach, y), pens.CENTRE, "datum")


def _old_rings(scene: Scene) -> Iterator[Mark]:
    """Old holes once more as rings, so that none is lost under what fouls."""
    for index in range(len(scene.design.old_holes)):
        for mark in if_known(partial(old_hole_marks, scene, index)):
            if isinstance(mark, Circle):
                yield mark
