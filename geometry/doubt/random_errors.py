"""The errors of readings and holes, as changes of the boat's numbers, and many boats drawn with all errors together.

A reading that moves several numbers moves them together. Each error is drawn by itself from a normal distribution: a spread
of the reading is one standard deviation. A guess is a reading with a wide spread.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
import numpy as np
from msgspec.structs import replace

from geometry.design.differences import differences
from geometry.doubt.boat_numbers import boat_numbers, bolt_numbers, moved_by
from geometry.doubt.one_reading_off import trials
from geometry.solid.placed_bolts import bolts, with_holes_off
from geometry.solving.solved import solved, solved_near

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.doubt.boat_numbers import Numbers
    from geometry.doubt.many_sections import Floats

_SAME = 1e-9  # [mm] or degrees: a smaller change is rounding
_THIN = 1.0  # [mm]: no drawn transom is thinner
_LEAN = 45.0  # degrees: no drawn angle is larger


class DrawnError(msgspec.Struct, frozen=True):
    """An error of one reading, or of one hole.

    Attributes:
        key: of the reading; "" for a hole. guess: key of the guess that it is part of, "" for none.
        up, down: by how much each number changes with the reading one spread larger, and one spread smaller.
    """

    key: str
    guess: str
    up: dict[str, float]
    down: dict[str, float]


def drawn_errors(design: Design, bought: Design) -> Iterator[DrawnError]:
    """Yield every error that moves a number behind the room of a part inside. Each takes about a millisecond.

    Args:
        bought: ``design`` with the present lengths of its bolts. The numbers are those of the boat as it is solved.
    """
    boat, parts = boat_numbers(solved(bought)), bolt_numbers(solved(bought))
    for trial in trials(design, bought):
        base = design if trial.guess else bought
        up, down = (_changes(base, tried, boat, parts, bought) for tried in (trial.plus, trial.minus))
        if up or down:
            yield DrawnError(trial.key, trial.guess, up, down)


def _changes(base: Design, tried: Design, boat: Numbers, parts: Numbers, bought: Design) -> dict[str, float]:
    then, now = solved(base), solved_near(tried, base)
    moves_boat, moves_bolts = moved_by(differences(then, now))
    off: dict[tuple[int, str], tuple[float, float]] = {(bolt.mount_index, bolt.name): bolt.off for bolt in bolts(now)}
    changes: dict[str, float] = {}
    if moves_boat:
        changes |= _apart(boat, boat_numbers(now))
    if moves_bolts or any(bolt.off != off[bolt.mount_index, bolt.name] for bolt in bolts(then)):
        changes |= _apart(parts, bolt_numbers(with_holes_off(_with_lengths(now, bought), off)))
    return changes


def _with_lengths(tried: Design, bought: Design) -> Design:
    """Return a design with the bolts that were bought for another: a drawn error changes no bolt."""
    mounts = []
    for mount, kept in zip(tried.mounts, bought.mounts, strict=True):
        changed = {}
        for pair in ("upper_hardware", "lower_hardware"):
            here, there = getattr(mount, pair), getattr(kept, pair)
            if here is not None and there is not None and here.length != there.length:
                changed[pair] = replace(here, length=there.length)
        mounts.append(replace(mount, **changed) if changed else mount)
    return replace(tried, mounts=tuple(mounts))


def _apart(before: Numbers, after: Numbers) -> dict[str, float]:
    return {
        name: after[name] - value
        for name, value in before.items() if name in after and after[name] != value and abs(after[name] - value) > _SAME
    }  # fmt: skip


def drawn_numbers(base: Numbers, errors: tuple[DrawnError, ...], off: Floats) -> dict[str, float | Floats]:
    """Return the numbers of many boats.

    Args:
        base: the numbers of the boat as it was read. off: of each error (rows) in each boat, in spreads.
    """
    drawn: dict[str, float | Floats] = dict(base)
    for error, shares in zip(errors, off, strict=True):
        larger, smaller = np.maximum(shares, 0.0), np.maximum(-shares, 0.0)
        for name in error.up.keys() | error.down.keys():
            up, down = error.up.get(name, 0.0), error.down.get(name, 0.0)
            drawn[name] = drawn[name] + (shares * up if abs(up + down) <= _SAME else larger * up + smaller * down)
    for name, value in drawn.items():
        if not isinstance(value, float):
            drawn[name] = _possible(name, value)
    return drawn


def _possible(name: str, value: Floats) -> Floats:
    """Return drawn numbers with the impossible ones at the nearest that is possible."""
    if name in ("rake", "cut", "rise"):
        return np.clip(value, -_LEAN, _LEAN)
    if name in ("top", "low"):
        return np.maximum(value, _THIN)
    if name == "low_at":
        return np.minimum(value, -_THIN)
    if name == "radius" or name.endswith((".out", ".across", ".hole", ".radius")):
        return np.maximum(value, 0.0)
    return value
