"""How far an area reaches away from something: the farthest of its points, wherever it lies in the area."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry


WITHIN = 0.01  # [mm]: to which a farthest point that is no corner is found
_HAIR = 1e-6  # [mm]


def farthest(area: BaseGeometry, other: BaseGeometry) -> float:
    """Return the greatest distance from a point of ``area`` to ``other``, never too little and at most 0.01 mm too much [mm].

    As a rule a corner lies farthest, and the other grown by so much covers the area. Where it does not, squares over
    the area are looked at: a distance changes by no more than one moves, so a square whose middle is ``far`` away holds
    nothing farther than ``far`` and half its diagonal. Those that may hold the farthest point are parted until that
    half is small. (Growing the other step by step is no way: near the end the library leaves specks that are none.)
    An area of no size is 0 away.
    """
    import numpy as np
    import shapely

    corners = shapely.get_coordinates(area)
    if len(corners) == 0 or area.area == 0.0:
        return 0.0
    shapely.prepare(area)
    shapely.prepare(other)
    least = float(shapely.distance(shapely.points(corners), other).max())
    if other.buffer(least * 1.0002 + _HAIR, quad_segs=64).covers(area):  # 0.02 %: what the rounds lack at their chords
        return least
    left, bottom, right, top = area.bounds
    half = max(right - left, top - bottom) / 2 + _HAIR
    middles: NDArray[np.float64] = np.array([((left + right) / 2, (bottom + top) / 2)])
    quarter = np.array([(-0.5, -0.5), (0.5, -0.5), (-0.5, 0.5), (0.5, 0.5)])
    while True:
        u, w = middles[:, 0], middles[:, 1]
        far = np.asarray(shapely.distance(shapely.points(middles), other))
        holds = shapely.intersects(area, shapely.box(u - half, w - half, u + half, w + half))
        reach = half * np.sqrt(2.0)
        least = max(least, float((far[holds] - reach).max(initial=least)))
        open_ = holds & (far + reach > least + WITHIN)
        if not open_.any():
            return least + WITHIN
        middles = (middles[open_, None, :] + quarter[None, :, :] * half).reshape(-1, 2)
        half /= 2
