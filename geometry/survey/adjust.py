"""The survey: where points are by more distances than are needed, how sure each is, and which distance does not agree.

Any unit of length, the same one for all. Spreads are one standard deviation.

Sources: W. Baarda, A testing procedure for use in geodetic networks, 1968: the test of each reading by its normalised
residual, with a chance of 0.001 to blame a good one.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec
import numpy as np

from geometry.survey.least_squares import Fit, fit
from geometry.survey.network import Network, Point
from geometry.survey.places import ways

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.survey.least_squares import Floats
    from geometry.survey.network import Distance

CRITICAL = 3.29  # of a normalised residual: Baarda's, for a chance of 0.001 to blame a good reading
SHOWN = 0.1  # a reading of which less than this share of an error shows is not checked well enough; our assumption
APART = 0.95  # readings whose tests go together more than so can't be held apart; our assumption
_AS_GOOD = 13.8  # more squares than the best: the limit of chance 0.001 for two unknowns
_SAME = 1e-4  # of the network's size: places nearer than this are the same
_RANDOM = 6  # starts that are thrown, where the crossings give none
_WORST = 1e4  # of the network's size: a spread beyond this is none


class Ellipse(msgspec.Struct, frozen=True):
    """Where a point is, with one standard deviation each way: half the length, half the width, and the length's direction.

    The direction is in degrees from starboard, anticlockwise, from -90 to 90.
    """

    long: float
    short: float
    turned: float


class Placed(msgspec.Struct, frozen=True):
    """A point's place, with its spreads across and up, and its ellipse."""

    name: str
    at: Point
    across: float
    up: float
    ellipse: Ellipse


class Agreement(msgspec.Struct, frozen=True):
    """How one distance agrees with all others.

    Attributes:
        reading: the distance. off: how much longer it was read than the places make it.
        share: of an error in it that would show. normalised: its residual by its standard deviation.
    """

    reading: Distance
    off: float
    share: float
    normalised: float

    @property
    def checked(self) -> bool:
        """Whether the others would show an error in it."""
        return self.share >= SHOWN


class Twin(msgspec.Struct, frozen=True):
    """Other places that agree as well with every distance: for one point or more a mirror image."""

    places: dict[str, Point]
    names: tuple[str, ...]


class Survey(msgspec.Struct, frozen=True):
    """The result of a survey.

    Attributes:
        placed: every point that is fixed. loose: names of those that are not: too few distances, or all in one line.
        agreements: one a distance. suspects: the distance that does not agree, with those that may be wrong instead.
        twins: what agrees as well, and that no sketch decides between. astray: whether the sketch alone would have led to
            a false minimum. unit_spread: how large the residuals are by their spreads. free: distances to spare.
        alike: pairs of distances, by number: if one of the two is wrong, nobody can say which.
    """

    placed: tuple[Placed, ...]
    loose: tuple[str, ...]
    agreements: tuple[Agreement, ...]
    suspects: tuple[int, ...]
    twins: tuple[Twin, ...]
    astray: bool
    unit_spread: float
    free: int
    alike: tuple[tuple[int, int], ...]

    @property
    def agrees(self) -> bool:
        """Whether every point has one place, and no distance disagrees."""
        return not (self.loose or self.suspects or self.twins)


def anywhere(_name: str, _at: Point) -> bool:
    """Return that a point may be anywhere."""
    return True


def adjust(network: Network, sketch: dict[str, Point], may_be: Callable[[str, Point], bool] = anywhere) -> Survey:
    """Return where the points of a network are.

    Args:
        network: the distances. sketch: about where points are. It decides between mirror images, and starts the search.
        may_be: whether a point may be at a place, of two places that agree as well with the distances.
    """
    read = np.array([reading.length for reading in network.readings])
    spreads = np.array([reading.spread for reading in network.readings])
    model = network.model()
    size = network_size(network)
    crossings = tuple(ways(network))
    first = _start(network, sketch, crossings)
    from_sketch = fit(model, first, read, spreads)
    starts = [_values(network, way) for way in crossings] or _thrown(network, first)
    fits = [from_sketch, *(fit(model, start, read, spreads) for start in starts)]
    best = min(fits, key=lambda each: each.squares)
    good = _distinct([each for each in fits if each.squares <= best.squares + _AS_GOOD], _SAME * size)
    good = [each for each in good if all(may_be(name, _at(network, each, name)) for name in network.loose)] or good
    loose = _loose(network, best)
    chosen, twins = (good[0], ()) if loose else _chosen(network, good, sketch)
    astray = bool(sketch) and from_sketch.squares > best.squares + _AS_GOOD
    return _result(network, chosen, loose, twins, astray=astray)


def network_size(network: Network) -> float:
    """Return the longest distance of a network."""
    return max((reading.length for reading in network.readings), default=0.0)


def _start(network: Network, sketch: dict[str, Point], crossings: tuple[dict[str, Point], ...]) -> Floats:
    """Return where the search begins: as sketched, else where the first crossing is, else below the datum."""
    guess = crossings[0] if crossings else {}
    size = network_size(network)
    spread = {name: (size * math.cos(2.4 * k), -size * (0.5 + 0.1 * k)) for k, name in enumerate(network.loose)}
    return _values(network, {**spread, **guess, **{name: at for name, at in sketch.items() if name in network.loose}})


def _thrown(network: Network, first: Floats) -> list[Floats]:
    """Return other starts, the same ones each time."""
    random = np.random.default_rng(len(network.readings))
    return [first + random.normal(0.0, network_size(network), len(first)) for _ in range(_RANDOM)]


def _values(network: Network, places: dict[str, Point]) -> Floats:
    return np.array([place for name in network.loose for place in places[name]])


def _distinct(fits: list[Fit], near: float) -> list[Fit]:
    """Return one of each group of fits that have the same places, the best of it."""
    kept: list[Fit] = []
    for each in sorted(fits, key=lambda each: each.squares):
        if all(float(np.abs(each.values - other.values).max(initial=0.0)) > near for other in kept):
            kept.append(each)
    return kept


def _loose(network: Network, best: Fit) -> tuple[str, ...]:
    """Return the points that can move without any distance noticing."""
    moves = np.abs(best.loose).max(axis=0, initial=0.0).reshape(-1, 2).max(axis=1, initial=0.0)
    far = np.sqrt(np.diag(best.covariance)).reshape(-1, 2).max(axis=1, initial=0.0) > _WORST * max(1.0, network_size(network))
    return tuple(name for name, move, wide in zip(network.loose, moves, far, strict=True) if move > 1e-3 or wide)


def _chosen(network: Network, good: list[Fit], sketch: dict[str, Point]) -> tuple[Fit, tuple[Twin, ...]]:
    """Return the places that agree best with the sketch, and those that it does not rule out.

    It rules out places where a point is more than twice as far from its sketch, and none more than twice as near.
    """
    best = min(good, key=lambda each: _from_sketch(network, each, sketch))
    near = _SAME * network_size(network)
    twins = []
    for other in good:
        moved = [name for name in network.loose if math.dist(_at(network, best, name), _at(network, other, name)) > near]
        if other is best or not moved:
            continue
        ruled_out = any(_much_nearer(network, sketch, name, best, other) for name in moved) and not any(
            _much_nearer(network, sketch, name, other, best) for name in moved
        )
        if not ruled_out:
            twins.append(Twin({name: _at(network, other, name) for name in moved}, tuple(moved)))
    return best, tuple(twins)


def _much_nearer(network: Network, sketch: dict[str, Point], name: str, fitted: Fit, other: Fit) -> bool:
    """Return whether a point of one fit is less than half as far from its sketch as it is in the other."""
    if name not in sketch:
        return False
    near, far = (math.dist(sketch[name], _at(network, each, name)) for each in (fitted, other))
    return far > 2.0 * near


def _from_sketch(network: Network, each: Fit, sketch: dict[str, Point]) -> float:
    return sum(math.dist(_at(network, each, name), at) ** 2 for name, at in sketch.items() if name in network.loose)


def _at(network: Network, each: Fit, name: str) -> Point:
    index = 2 * network.loose.index(name)
    return float(each.values[index]), float(each.values[index + 1])


def _result(network: Network, chosen: Fit, loose: tuple[str, ...], twins: tuple[Twin, ...], *, astray: bool) -> Survey:
    agreements = tuple(
        Agreement(reading, -float(off), float(share), -float(normalised))
        for reading, off, share, normalised in zip(
            network.readings, chosen.residuals, chosen.shares, chosen.normalised, strict=True
        )
    )
    count = range(len(agreements))
    alike = tuple((i, j) for i in count for j in count if i < j and abs(chosen.alike[i, j]) > APART)
    placed = tuple(_placed(network, chosen, name) for name in network.loose if name not in loose)
    return Survey(
        placed, loose, agreements, () if loose else _suspects(chosen), twins, astray, chosen.unit_spread, chosen.free, alike,
    )  # fmt: skip


def _suspects(chosen: Fit) -> tuple[int, ...]:
    """Return the number of the reading with the largest normalised residual, where that is too large, and its likes."""
    sizes = np.abs(chosen.normalised)
    if sizes.size == 0 or float(sizes.max()) <= CRITICAL:
        return ()
    worst = int(sizes.argmax())
    likes = (i for i in range(len(sizes)) if i != worst and abs(chosen.alike[worst, i]) > APART and sizes[i] > CRITICAL)
    return worst, *likes


def _placed(network: Network, chosen: Fit, name: str) -> Placed:
    """Return a point's place. Where the residuals are larger than their spreads, so are the spreads of the places."""
    index = 2 * network.loose.index(name)
    part = chosen.covariance[index : index + 2, index : index + 2] * max(1.0, chosen.unit_spread) ** 2
    sizes, axes = np.linalg.eigh(part)
    turned = math.degrees(math.atan2(axes[1, 1], axes[0, 1]))
    turned = turned - 180.0 if turned > 90.0 else turned + 180.0 if turned <= -90.0 else turned
    short, long = (math.sqrt(max(0.0, float(size))) for size in sizes)
    return Placed(
        name, _at(network, chosen, name), math.sqrt(max(0.0, float(part[0, 0]))), math.sqrt(max(0.0, float(part[1, 1]))),
        Ellipse(long, short, turned),
    )  # fmt: skip
