"""Hidden lines: which pieces of straight lines are in front of all flat surfaces, exact for convex surfaces.

Coordinates are those of the eye: x to the right, y up, z towards the eye [mm].
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

SLACK = 0.05  # mm: a surface hides a line that is so much behind it, so that no surface hides its own edges
_EDGE_ON = 1e-6  # mm2: a surface that looks smaller hides nothing
_SHORT = 1e-4  # mm: what is left of a line and is shorter is not drawn


def visible(lines: Floats, surfaces: Sequence[Floats]) -> list[tuple[int, float, float]]:
    """Return the pieces of lines that no surface hides: the line's number, and where the piece starts and ends, 0 to 1.

    Args:
        lines: [number of lines, 2, 3], the ends of each.
        surfaces: flat convex polygons in blocks of [number, number of corners, 3], in either sense.
    """
    hidden = _hidden(lines, surfaces)
    size = np.linalg.norm(lines[:, 1] - lines[:, 0], axis=1)
    starts: list[list[tuple[float, float]]] = [[] for _ in lines]
    for number, low, high in hidden:
        starts[number].append((low, high))
    pieces: list[tuple[int, float, float]] = []
    for number, spans in enumerate(starts):
        at, short = 0.0, _SHORT / max(float(size[number]), _SHORT)
        for low, high in (*sorted(spans), (1.0, 1.0)):
            if low - at > short:
                pieces.append((number, at, low))
            at = max(at, high)
    return pieces


def _hidden(lines: Floats, surfaces: Sequence[Floats]) -> list[tuple[int, float, float]]:
    """Return each piece of a line that one surface hides."""
    pieces: list[tuple[int, float, float]] = []
    for corners in sorted({block.shape[1] for block in surfaces}):
        pieces += _hidden_by(lines, np.concatenate([block for block in surfaces if block.shape[1] == corners]))
    return pieces


def _hidden_by(lines: Floats, surfaces: Floats) -> list[tuple[int, float, float]]:
    """Do so for surfaces of as many corners each, [number, corners, 3]."""
    across = np.roll(surfaces, -1, axis=1) - surfaces
    x, y = surfaces[..., 0], surfaces[..., 1]
    area = (x * np.roll(y, -1, axis=1) - np.roll(x, -1, axis=1) * y).sum(axis=1) / 2
    seen = np.abs(area) > _EDGE_ON
    surfaces, across, turn = surfaces[seen], across[seen], np.sign(area[seen])
    if not len(surfaces):
        return []
    line, surface = _pairs(lines, surfaces)
    start, way = lines[line, 0], lines[line, 1] - lines[line, 0]
    # Each condition is: at + slope * t >= 0, for a point t along the line. First: left of each edge, seen anticlockwise.
    normals = np.stack([-across[..., 1], across[..., 0]], axis=-1) * turn[:, None, None]
    feet = (normals * surfaces[..., :2]).sum(axis=-1)
    at = np.einsum("pkc,pc->pk", normals[surface], start[:, :2]) - feet[surface]
    slope = np.einsum("pkc,pc->pk", normals[surface], way[:, :2])
    # Then: behind the surface's plane.
    plane = _planes(surfaces)[surface]
    depth = plane[:, 0] * start[:, 0] + plane[:, 1] * start[:, 1] + plane[:, 2] - start[:, 2] - SLACK
    sinks = plane[:, 0] * way[:, 0] + plane[:, 1] * way[:, 1] - way[:, 2]
    at, slope = np.column_stack([at, depth]), np.column_stack([slope, sinks])
    level = np.abs(slope) < 1e-12
    cross = -at / np.where(level, 1.0, slope)
    low = np.where(level, np.where(at < 0, 2.0, 0.0), np.where(slope > 0, cross, 0.0)).max(axis=1).clip(min=0.0)
    high = np.where(level | (slope > 0), 1.0, cross).min(axis=1).clip(max=1.0)
    hides = high - low > 1e-9
    return list(zip(line[hides].tolist(), low[hides].tolist(), high[hides].tolist(), strict=True))


def _pairs(lines: Floats, surfaces: Floats) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Return the lines and surfaces whose boxes overlap, and of which the line is not wholly in front."""
    low, high = lines.min(axis=1), lines.max(axis=1)
    left, right = surfaces.min(axis=1), surfaces.max(axis=1)
    near = low[:, None, 2] < right[None, :, 2]
    for axis in (0, 1):
        near &= (low[:, None, axis] <= right[None, :, axis]) & (high[:, None, axis] >= left[None, :, axis])
    line, surface = np.nonzero(near)
    return line, surface


def _planes(surfaces: Floats) -> Floats:
    """Return a, b and c of each surface's plane z = a x + b y + c, from its corners' sums (Newell's way)."""
    following = np.roll(surfaces, -1, axis=1)
    normal = np.cross(surfaces, following).sum(axis=1)
    middle = surfaces.mean(axis=1)
    slopes = -normal[:, :2] / normal[:, 2:]
    return np.column_stack([slopes, middle[:, 2] - (slopes * middle[:, :2]).sum(axis=1)])
