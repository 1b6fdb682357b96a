"""How a measure's figure is set: soft with "about" for a guess, on a wash where lit, faded where another is."""

from __future__ import annotations

import math
from functools import lru_cache

from geometry.readings.measures import measure
from geometry.units.units import format_length
from templates_out.drawing.marks import Pen, Role
from templates_out.views import view_pens as pens
from templates_out.views.dimensions import Figure, on_paper
from templates_out.views.view_focus import Scene


def figure_of(scene: Scene, key: str, value: float | str, ground: Role) -> Figure:
    """Return the figure of the measure ``key``: a length [mm], or what else is to be written, on its ground."""
    text = value if isinstance(value, str) else format_length(value, scene.design.units)
    lit = scene.focus.lit == key
    role: Role = "soft" if _soft(scene, key) else "ink"
    return _figure(
        on_paper(text, scene.style), f"measure:{key}", scene.figure_size, scene.is_guess(key), role,
        lit or key.endswith(".drop"), scene.narrow, "lit" if lit else ground,
    )  # fmt: skip


_figure = lru_cache(maxsize=512)(Figure)  # it keeps its size, which is asked for at every place that it tries


def as_read(scene: Scene, key: str, drawn: float) -> float:
    """Return a measure as it was read [mm], where second readings moved what is drawn; ``drawn`` where they did not.

    The figure says what its entry says. Depths and distances are shown without their sign, as ``drawn`` has them.
    """
    if scene.boat is scene.design:
        return drawn
    row = measure(scene.design, key)
    value = None if row is None else row.get(scene.design)
    return drawn if value is None else math.copysign(value, drawn)


def pen_of(scene: Scene, key: str) -> Pen:
    """Return the pen of its dimension line."""
    return Pen("soft", pens.SIZE.weight) if _soft(scene, key) else pens.SIZE


def _soft(scene: Scene, key: str) -> bool:
    return scene.focus.lit != key and (scene.is_guess(key) or bool(scene.focus.lit))
