"""The passes that tighten the nuts of a pair, or why there are none yet.

A pass is a wrench torque, the lock nut's drag included. No pass exceeds the limit of core or bolt. Torques [N m].
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.design.validity import CLOSE
from geometry.judge.strength import core_supports, torque_at_most
from geometry.judge.torque import SHARES, Drag, drag
from geometry.solid.faces import Unmeasured

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.solid.placed_bolts import Bolt

Refused = Literal["", "core", "bolt", "drag", "not measured"]


class Tightening(msgspec.Struct, frozen=True):
    """How the nuts of one pair are tightened.

    Attributes:
        torque: wrench torque of the last pass, None where it is not known. drag: of the nuts.
        most: wrench torque that core and bolt allow, with the lowest friction and the least drag; None where not known.
        by: which of the two allows less, "core" or "bolt".
        lacking: key of the reading that ``most`` needs, "" where none is missing.
        core_known: whether the core limits ``most``; False where nobody knows the core's material.
    """

    torque: float | None
    drag: Drag
    most: float | None
    by: Literal["core", "bolt"]
    lacking: str
    core_known: bool

    @property
    def refused(self) -> Refused:
        """Why no pass may be printed: the check that is over its limit, or not measured; "" where passes may be printed."""
        if self.most is None:
            return "not measured"
        if self.torque is None:
            return ""
        if self.torque > self.most + CLOSE:
            return self.by
        return "drag" if self.torque <= self.drag.least + CLOSE else ""

    @property
    def passes(self) -> tuple[float, ...]:
        """The wrench torques, pass by pass; none where the torque is not known or not allowed."""
        return () if self.torque is None or self.refused else tuple(share * self.torque for share in SHARES)

    @property
    def ceiling(self) -> float:
        """The limit of every printed pass, after it is rounded.

        A torque that is allowed without any drag keeps to that limit. A drag that is read later then changes no figure.
        """
        most = 0.0 if self.most is None else self.most
        bare = most - self.drag.least
        return bare if self.torque is not None and self.torque <= bare + CLOSE else most


def tightening(pair: Sequence[Bolt]) -> Tightening:
    """Return how the nuts of one pair are tightened. The weaker bolt sets the limit for both."""
    first = pair[0]
    known = core_supports(first) is not None
    checks: tuple[Literal["core", "bolt"], ...] = ("bolt", "core") if known else ("bolt",)
    try:
        least = {by: min(torque_at_most(bolt, _CHECKS[by]) for bolt in pair) for by in checks}
    except Unmeasured as missing:
        return Tightening(first.hardware.torque, drag(first), None, "core", missing.key, known)
    by = min(least, key=lambda limit: least[limit])
    return Tightening(first.hardware.torque, drag(first), least[by], by, "", known)


_CHECKS: dict[Literal["core", "bolt"], Literal["pressure", "clamp"]] = {"core": "pressure", "bolt": "clamp"}
