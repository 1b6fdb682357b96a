"""The holes as drilled on the face: a cross turned by 45° where each outer end is, next to the planned hole."""

from __future__ import annotations

from collections.abc import Iterator

from templates_out.drawing.marks import Circle, Line, Mark
from templates_out.views import view_pens as pens
from templates_out.views.view_focus import Scene

_REACH = 1.3  # the cross reaches so many of the hole's radii


def drilled_marks(scene: Scene) -> Iterator[Mark]:
    """Yield the hole and its cross for each outer end that was read."""
    for drilled in scene.design.as_drilled:
        u, v = drilled.outer
        mount = scene.design.mounts[drilled.mount]
        hardware = mount.upper_hardware if drilled.pair == "upper" else mount.lower_hardware
        if u is None or v is None or hardware is None:
            continue
        radius = (drilled.diameter or hardware.hole or 0.0) / 2 * scene.view.scale
        (x, y), reach = scene.at(u, v), max(1.6, _REACH * radius) * 0.5**0.5
        part = f"drilled {drilled.hole}"
        yield Circle((x, y), radius, pens.FINE, None, part)
        yield Line((x - reach, y - reach), (x + reach, y + reach), pens.SEEN, part)
        yield Line((x - reach, y + reach), (x + reach, y - reach), pens.SEEN, part)
