"""The findings that stay true where a design differs little: while a hand drags a motor, or with one reading off.

A step of a drag of one of two motors is so checked in a third of the time: 2.3 ms and not 7 (processor time).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.design.differences import differences
from geometry.solid.placed_bolts import bolts
from geometry.solving.solved import solved

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked, Finding

_PLACES = ("upper_at", "drop", "offset")


class Kept(msgspec.Struct, frozen=True):
    """The findings of the design before.

    Attributes:
        findings: by check and by the thing that is checked. moved: keys of the readings that changed.
        dragged: whether only places of the motors' holes moved. These are no readings, so that no reading has come.
        still: findings that are kept always: nobody asks for them.
    """

    findings: dict[tuple[str, str], Finding]
    moved: tuple[str, ...]
    dragged: bool = False
    still: frozenset[tuple[str, str]] = frozenset()

    def of(self, check: str, at: str, rests: tuple[str, ...]) -> Finding | None:
        """Return the finding from before where nothing behind it moved, else None.

        ``rests`` are the first parts of keys. A check without its reading is made again: the reading may be there now.
        """
        finding = self.findings.get((check, at))
        if (check, at) in self.still:
            return finding
        for key in self.moved:  # tens of thousands of times where spreads are found
            if key.startswith(rests):
                return None
        return None if finding is None or self._may_have_come(finding) else finding

    def all_of(self, check: str, rests: tuple[str, ...]) -> list[Finding]:
        """Return the findings of a check from before, where nothing behind them moved and no reading lacked."""
        if any(key.startswith(rests) for key in self.moved):
            return []
        findings = [finding for (kind, _), finding in self.findings.items() if kind == check]
        return [] if any(finding.missing is not None for finding in findings) else findings

    @property
    def upright(self) -> bool:
        """Whether holes moved up or down only. The floor's depth is read below them, so that no reading moved then."""
        return self.dragged and not any(key.endswith(".offset") for key in self.moved)

    def _may_have_come(self, finding: Finding) -> bool:
        """Return whether a reading that lacked may be there. In a drag a note that names it is kept."""
        if finding.missing is None:
            return False
        return not (self.dragged and finding.state == "note" and finding.missing not in self.moved)


def kept(before: Checked | None, design: Design) -> Kept | None:
    """Return the findings to keep from ``before``. None: the designs differ in more than the places of the motors' holes."""
    if before is None:
        return None
    moved = _moved(before, solved(design))
    return Kept(before.by_place, moved, dragged=True) if all(map(_is_place, moved)) else None


def kept_but(before: Checked, design: Design, still: frozenset[tuple[str, str]] = frozenset()) -> Kept:
    """Return the findings to keep from ``before``, whose design differs from ``design``, solved, in numbers only.

    Args:
        still: findings to keep always.
    """
    return Kept(before.by_place, _moved(before, design), still=still)


def _moved(before: Checked, now: Design) -> tuple[str, ...]:
    """Return the keys of what moved, in the boats as they are solved; a hole off its plan counts as a place that moved."""
    then = solved(before.design)
    holes = zip(bolts(then), bolts(now), strict=False)
    off = (bolt.key("drop") if bolt.pair == "lower" else bolt.key("upper_at") for old, bolt in holes if old.off != bolt.off)
    return (*differences(then, now), *off)


def _is_place(key: str) -> bool:
    """Return whether a key is a place along or across a motor: "mounts.0.drop"."""
    parts = key.split(".")
    return len(parts) == 3 and parts[0] == "mounts" and parts[2] in _PLACES
