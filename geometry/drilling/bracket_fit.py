"""Whether a bracket goes on its holes: the best shift and turn of the bracket, for many sets of holes at once.

A bolt passes where its hole in the boat and its hole in the bracket are no further apart than their play. The play is half
of what both holes are wider than the bolt, added up. In a slot the bolt may also slide up and down.

The excess of a set of holes is the least, over all shifts and turns, of the largest distance less its play. At 0 or below
the bracket goes on. Above 0 each hole needs at most that much more play.

Method: an interior-point method for a problem of second-order cones, with the turn as exact sine and cosine. Each set has
these unknowns: shift across, shift up, turn, the excess, and the slide of each bolt in a slot. The excess that is returned
is that of the returned place of the bracket, so it is never too small. It is too large by no more than was asked for.
Lengths [mm].
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]

EXACT = 1e-5
"""An excess is usually asked for as exact as this [mm]."""
_FIRST = 0.3  # [mm] the first weight of the barrier, of the size of the holes' errors
_FASTER = 0.04  # each weight is this share of the one before
_STEPS = 20  # Newton's steps for each weight, at most
_CENTRED = 1e-2  # a squared decrement under this is close enough to the middle
_ACROSS, _UP, _TURN, _EXCESS, _SLIDES = range(5)  # the unknowns; the slides are the last ones
_HALVINGS = 60
_FAR = 8.0  # a bolt slides no farther than this many times the largest error of a hole
_RIDGE = 1e-10  # keeps rounding from making a curvature singular


class Holes(msgspec.Struct, frozen=True):
    """The holes of a bracket, each with its bolt.

    Attributes:
        places: (u, v) of each bolt on the bracket, n by 2. up, down: how far each bolt may slide in its slot, 0 in a round
            hole, n each. plays: of each bolt, n.
    """

    places: Numbers
    up: Numbers
    down: Numbers
    plays: Numbers


class Fitted(msgspec.Struct, frozen=True):
    """The best place of the bracket on each set of holes.

    Attributes:
        excess: of each set, N. turns: of the bracket, anticlockwise as seen from astern [radians], N.
        misses: from each bracket hole, or from the nearest place in its slot, to the hole in the boat, N by n by 2, in
            the bracket's directions.
    """

    excess: Numbers
    turns: Numbers
    misses: Numbers


def best_place(bracket: Holes, boat: Numbers, exact: float = EXACT) -> Fitted:
    """Return the best place of a bracket on each set of holes of the boat.

    Args:
        boat: the holes' centres, N sets by n holes by (u, v). exact: how much too large an excess may be [mm].
    """
    middle = bracket.places.mean(axis=0)
    own, there = bracket.places - middle, boat - middle
    most = _FAR * float(np.abs(there - own).max())
    problem = _Problem(bracket, own, there, float(np.sqrt((own**2).sum(axis=1).mean())), most)
    at, weight = problem.start(), _FIRST
    last = exact / (2 * problem.cones)
    while weight > last:
        _centre(problem, at, weight)
        weight = max(last, weight * _FASTER)
    _centre(problem, at, last)
    misses = problem.at_best_slide(at)
    return Fitted(_excess(bracket, misses), at[:, _TURN] / problem.reach, misses)


def _excess(bracket: Holes, misses: Numbers) -> Numbers:
    worst: Numbers = (np.hypot(misses[..., 0], misses[..., 1]) - bracket.plays).max(axis=1)
    return worst


class _Problem(msgspec.Struct, frozen=True):
    """The holes about the bracket's middle.

    Attributes:
        reach: makes the turn a length, as the shifts are. most: the farthest that a bolt may come to slide [mm].
    """

    bracket: Holes
    own: Numbers
    there: Numbers
    reach: float
    most: float

    @property
    def cones(self) -> int:
        """How many times its weight the barrier is off, at its middle: two for each hole, two for each slot."""
        return 2 * (len(self.own) + len(self.slots))

    @property
    def free(self) -> NDArray[np.bool_]:
        """Which bolts slide so far that no set brings them to an end of their slots. Up and down hold nothing there."""
        far: NDArray[np.bool_] = np.minimum(self.bracket.up, self.bracket.down) > self.most
        return far

    @property
    def slots(self) -> NDArray[np.intp]:
        """Numbers of the holes in which a bolt slides, and may come to an end."""
        return np.flatnonzero((self.bracket.up + self.bracket.down > 0.0) & ~self.free)

    def of(self, sets: NDArray[np.intp]) -> _Problem:
        """Return the problem of some of the sets."""
        return _Problem(self.bracket, self.own, self.there[sets], self.reach, self.most)

    def start(self) -> Numbers:
        """Return unknowns that are inside every cone."""
        slots = self.slots
        at = np.zeros((len(self.there), _SLIDES + len(slots)))
        at[:, :_TURN] = (self.there - self.own).mean(axis=1)
        at[:, _SLIDES:] = (self.bracket.up - self.bracket.down)[slots] / 2
        at[:, _EXCESS] = _excess(self.bracket, self.misses(at)) + 1.0
        return at

    def turned(self, at: Numbers) -> Numbers:
        """Return the boat's holes in the directions of the turned bracket."""
        turn = at[:, _TURN, None] / self.reach
        cos, sin, u, v = np.cos(turn), np.sin(turn), self.there[..., 0], self.there[..., 1]
        return np.stack((u * cos + v * sin, v * cos - u * sin), axis=-1)

    def unslid(self, at: Numbers) -> Numbers:
        """Return how far each hole is from its bolt's place on the bracket, before a bolt slides."""
        apart: Numbers = self.turned(at) - at[:, None, :_TURN] - self.own
        return apart

    def misses(self, at: Numbers) -> Numbers:
        """Return how far each hole is from its bolt."""
        apart = self.unslid(at)
        apart[:, self.slots, 1] -= at[:, _SLIDES:]
        apart[:, self.free, 1] = 0.0
        return apart

    def at_best_slide(self, at: Numbers) -> Numbers:
        """Return how far each hole is from the nearest place of its bolt."""
        apart = self.unslid(at)
        apart[..., 1] -= np.clip(apart[..., 1], -self.bracket.down, self.bracket.up)
        return apart

    def inside(self, at: Numbers) -> NDArray[np.bool_]:
        """Return which sets are inside all their cones and slots."""
        slides, slots = at[:, _SLIDES:], self.slots
        slid = (slides < self.bracket.up[slots]) & (slides > -self.bracket.down[slots])
        in_cones: NDArray[np.bool_] = _excess(self.bracket, self.misses(at)) < at[:, _EXCESS]
        return in_cones & slid.all(axis=1)

    def slopes(self, at: Numbers, weight: float) -> tuple[Numbers, Numbers]:
        """Return gradient and curvature of excess/weight less the logarithms of cones and slots, for each set.

        A hole's cone is room² - across² - up² > 0, with the room of excess and play. The turn's own curvature is left
        out: it changes the way to the answer, not the answer.
        """
        turned, misses, slots = self.turned(at), self.misses(at), self.slots
        room = at[:, _EXCESS, None] + self.bracket.plays
        cone = (room**2 - (misses**2).sum(axis=-1))[..., None]
        across, up, wider = (np.zeros((*room.shape, at.shape[1])) for _ in range(3))
        across[..., _ACROSS], across[..., _TURN] = -1.0, turned[..., 1] / self.reach
        up[..., _UP], up[..., _TURN] = -1.0, -turned[..., 0] / self.reach
        up[:, slots, range(_SLIDES, at.shape[1])] = -1.0
        wider[..., _EXCESS] = 1.0
        up[:, self.free] = 0.0
        inner = room[..., None] * wider - misses[..., :1] * across - misses[..., 1:] * up  # half of the cone's slope
        rows = np.concatenate((across / cone**0.5, up / cone**0.5, 2**0.5 * inner / cone), axis=1)
        gradient, curvature = -2 * (inner / cone).sum(axis=1), 2 * rows.transpose(0, 2, 1) @ rows
        gradient[:, _EXCESS] += 1 / weight
        curvature[:, _EXCESS, _EXCESS] -= 2 * (1 / cone[..., 0]).sum(axis=1)
        over, under = self.bracket.up[slots] - at[:, _SLIDES:], at[:, _SLIDES:] + self.bracket.down[slots]
        gradient[:, _SLIDES:] += 1 / over - 1 / under
        diagonal = range(_SLIDES, at.shape[1])
        curvature[:, diagonal, diagonal] += over**-2 + under**-2
        return gradient, curvature


def _centre(problem: _Problem, at: Numbers, weight: float) -> None:
    """Move each set's unknowns to the least of what `_Problem.slopes` has the slopes of. ``at`` is changed."""
    busy, every = np.arange(len(at)), range(at.shape[1])
    for _ in range(_STEPS):
        part = problem.of(busy)
        gradient, curvature = part.slopes(at[busy], weight)
        curvature[:, every, every] *= 1 + _RIDGE
        step = np.linalg.solve(curvature, -gradient[..., None])[..., 0]
        decrement = np.sqrt(np.maximum(0.0, -(gradient * step).sum(axis=1)))
        at[busy] = _stepped(part, at[busy], step / np.where(decrement > 0.25, 1 + decrement, 1.0)[:, None])
        busy = busy[decrement**2 > _CENTRED]
        if not len(busy):
            return


def _stepped(problem: _Problem, at: Numbers, step: Numbers) -> Numbers:
    """Return the unknowns after a step, halved for each set until it stays inside."""
    share = np.ones((len(at), 1))
    for _ in range(_HALVINGS):
        moved: Numbers = at + share * step
        outside = ~problem.inside(moved)
        if not outside.any():
            return moved
        share[outside] /= 2
    share[outside] = 0.0
    kept: Numbers = at + share * step
    return kept
