"""The holes as drilled in the cut: hole, axis and washer where they came out, next to the planned ones."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt, bolts
from templates_out.drawing.marks import Line, Mark, Path, Pen
from templates_out.views import view_pens as pens
from templates_out.views.cut_boat import on_paper
from templates_out.views.cut_bolts import body_box, box
from templates_out.views.view_focus import Scene

_PAST = 18.0  # boat mm that the axis runs past either end
_AXIS = Pen("ink", 0.25, pens.CENTRE.dash)


def drilled_marks(scene: Scene, pair: tuple[Bolt, ...]) -> Iterator[Mark]:
    """Yield the walls of each hole of this side as drilled, its axis, and its washer where it came out.

    They are as far up and down as they were read. How far a hole is off across shows on the face.
    """
    if not scene.design.as_drilled:
        return
    from geometry.drilling.as_drilled import placed  # numpy comes with it: wanted only now

    names = {(bolt.mount_index, bolt.name) for bolt in pair}
    try:
        drilled = [bolt for bolt in bolts(placed(scene.design)) if (bolt.mount_index, bolt.name) in names]
    except Unmeasured:
        return
    for bolt in drilled:
        if bolt.own is not None:
            yield from _hole(scene, bolt)


def _hole(scene: Scene, bolt: Bolt) -> Iterator[Mark]:
    part, radius = f"drilled {bolt.name}", bolt.hole / 2
    a, b, c, d = on_paper(scene, box(bolt, -bolt.exit.along, 0.0, radius, radius))
    yield Line(a, b, pens.FINE, part)
    yield Line(d, c, pens.FINE, part)
    ends = on_paper(scene, box(bolt, -bolt.exit.along - _PAST, bolt.nut_at + _PAST, 0.0, 0.0))
    yield Line(ends[0], ends[1], _AXIS, part)
    washer = bolt.body("washer")
    if washer is not None:
        yield Path(on_paper(scene, body_box(bolt, washer)), True, pens.SEEN, None, part)
