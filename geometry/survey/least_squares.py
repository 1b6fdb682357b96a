"""Least squares of readings with spreads: the values that fit best, how sure they are, and which reading does not fit.

Any unit of length, the same one for readings, spreads and values. The method is Gauss and Newton's, with Levenberg's damping.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Model = Callable[[Floats], tuple[Floats, Floats]]

_MOST_STEPS = 200
_STILL = 1e-12  # a step this small, as a share of the values, ends the search
_ROUNDING = 1e-13  # of the squares: near the minimum a good step changes them by less than this
_IDLE = 3  # that many end the search
_LOOSE = 1e-7  # a direction with less than this share of the largest singular value is not fixed


class Fit(msgspec.Struct, frozen=True):
    """The values that fit readings best.

    Attributes:
        values: in the order of the model's.
        residuals: calculated less read. shares: the redundancy of each reading: the share of its error that shows in its
            residual. 0: nothing checks it, 1: it decides nothing.
        normalised: each residual by its own standard deviation; 0 where nothing checks the reading.
        alike: correlation of each two normalised residuals.
        covariance: of the values, with the spreads as given. loose: directions that no reading fixes, one a row.
        squares: sum of the squares of the residuals, each by its spread. free: readings more than are needed.
    """

    values: Floats
    residuals: Floats
    shares: Floats
    normalised: Floats
    alike: Floats
    covariance: Floats
    loose: Floats
    squares: float
    free: int

    @property
    def unit_spread(self) -> float:
        """How large the residuals are by their spreads: near 1 for honest ones, 0 where no reading is to spare.

        It is the S0 of the textbooks.
        """
        return (self.squares / self.free) ** 0.5 if self.free > 0 else 0.0


def fit(model: Model, start: Floats, read: Floats, spreads: Floats) -> Fit:
    """Return the values near ``start`` whose readings, by ``model``, come closest to those that were read.

    It goes downhill only: another start may lead to another, lower minimum.

    Args:
        model: gives the readings that values would have, and their derivatives: a row a reading, a column a value.
        start: values. read: what was read. spreads: one standard deviation of each.
    """
    values = np.array(start, dtype=np.float64)
    damping = 1e-6
    calculated, slopes = model(values)
    off, slopes = (calculated - read) / spreads, slopes / spreads[:, None]
    squares = float(off @ off)
    idle = 0  # steps that brought nothing more
    for _ in range(_MOST_STEPS):
        normal, gradient = slopes.T @ slopes, slopes.T @ off
        scale = float(np.trace(normal)) / max(1, len(values)) or 1.0
        step = -np.linalg.solve(normal + damping * scale * np.eye(len(values)), gradient)
        calculated, tried = model(values + step)
        new_off = (calculated - read) / spreads
        new = float(new_off @ new_off)
        if new <= squares + _ROUNDING * (1.0 + squares):
            idle = idle + 1 if new >= squares - _ROUNDING * (1.0 + squares) else 0
            values, off, slopes, squares = values + step, new_off, tried / spreads[:, None], new
            damping = 0.0 if damping < 1e-14 else damping / 30.0
            damping = max(damping, 1e-14)
            if idle == _IDLE or float(np.abs(step).max(initial=0.0)) <= _STILL * (1.0 + float(np.abs(values).max(initial=0.0))):
                break
        else:
            damping = max(damping, 1e-12) * 10.0
            if damping > 1e12:
                break
    return _judged(values, off, slopes, spreads)


def _judged(values: Floats, off: Floats, slopes: Floats, spreads: Floats) -> Fit:
    """Return a fit with how sure it is. ``off``, ``slopes``: by the spreads."""
    left, sizes, right = np.linalg.svd(slopes, full_matrices=True)
    fixed = sizes > _LOOSE * max(1e-300, float(sizes.max(initial=0.0)))
    rank = int(fixed.sum())
    used = left[:, :rank]
    within = np.eye(len(off)) - used @ used.T  # of the readings' errors, what shows in the residuals
    shares = np.clip(np.diag(within), 0.0, 1.0)
    checked = shares > 1e-9
    root = np.sqrt(np.where(checked, shares, 1.0))
    covariance = (right[:rank].T / sizes[:rank] ** 2) @ right[:rank]
    both = np.outer(checked, checked)
    return Fit(
        values, off * spreads, shares, np.where(checked, off / root, 0.0), np.where(both, within / np.outer(root, root), 0.0),
        covariance, right[rank:], float(off @ off), len(off) - rank,
    )  # fmt: skip
