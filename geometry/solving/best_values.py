"""Least squares: the values that agree best with readings of unequal spreads. Pure numbers, without a boat.

Each value was read itself, with its spread; that is where the values start. More readings each give a function of the
values, each with a spread. The best values make the sum of the squares of all misfits smallest, each misfit
divided by its spread. This is generalised least squares, in the form that starts from known values and also takes spreads of 0.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Predict = Callable[[Floats], Floats]
    Numbers = Sequence[float] | Floats

ROUNDS = 12
"""The most rounds: where the functions are nearly straight, three are enough."""
STILL = 1e-7
"""The values are at rest where a round moves none of them by more, in their own units."""
_SHARE = 1e-3  # of a spread: the step of a derivative


class Solved(msgspec.Struct, frozen=True, eq=False):
    """The best values.

    Attributes:
        values: in the order of the start. covariance: of the values. misfits: of each further reading, as read less as it
            should be by the values. settled: whether the rounds came to rest.
        gain: by how much each value follows each further reading. rows: change of each further reading for each value.
    """

    values: Floats
    covariance: Floats
    misfits: Floats
    settled: bool
    gain: Floats
    rows: Floats

    def near(self, start: Numbers, read: Numbers, predicted: Floats) -> Floats:
        """Return the best values for other readings near these, with the same spreads: one straight step from here.

        Args:
            start: each value as it was read itself. read: the further readings. predicted: these by the values here.
        """
        known, seen = np.asarray(start, dtype=np.float64), np.asarray(read, dtype=np.float64)
        return known + self.gain @ (seen - predicted - self.rows @ (known - self.values))

    @property
    def spreads(self) -> Floats:
        """One standard deviation of each value."""
        return np.sqrt(np.clip(np.diag(self.covariance), 0.0, None))


def best_values(
    start: Numbers, spreads: Numbers, predict: Predict, read: Numbers, read_spreads: Numbers,
    slopes: Predict | None = None,
) -> Solved:  # fmt: skip
    """Return the values that agree best with their first readings and with the further ones.

    Args:
        start: each value as it was read itself. spreads: of these readings; a spread of 0 keeps a value.
        predict: gives what each further reading should be by the values. read, read_spreads: these readings.
        slopes: gives a row for each further reading: its change for each value. None: by small steps.
    """
    known, seen = np.asarray(start, dtype=np.float64), np.asarray(read, dtype=np.float64)
    before = np.diag(np.square(np.asarray(spreads, dtype=np.float64)))
    noise = np.diag(np.square(np.asarray(read_spreads, dtype=np.float64)))
    values, settled = known, False
    gain, rows = np.zeros((len(known), len(seen))), np.zeros((len(seen), len(known)))
    for _ in range(ROUNDS):
        rows = slopes(values) if slopes is not None else by_steps(predict, values, spreads)
        gain = np.linalg.lstsq(rows @ before @ rows.T + noise, rows @ before, rcond=None)[0].T
        moved = known + gain @ (seen - predict(values) - rows @ (known - values))
        settled = bool(np.max(np.abs(moved - values), initial=0.0) <= STILL)
        values = moved
        if settled:
            break
    return Solved(values, before - gain @ rows @ before, seen - predict(values), settled, gain, rows)


def by_steps(predict: Predict, values: Floats, spreads: Numbers) -> Floats:
    """Return the change of each predicted reading for each value, by central steps of a thousandth of its spread."""
    columns = []
    for index, spread in enumerate(spreads):
        step = np.zeros(len(values))
        step[index] = _SHARE * (spread or 1.0)
        columns.append((predict(values + step) - predict(values - step)) / (2 * step[index]))
    return np.array(columns).T.reshape(-1, len(values))
