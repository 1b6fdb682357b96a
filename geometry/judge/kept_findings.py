"""What a moved motor leaves as it was: while a hand drags one, most of what was found stays true."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.design.differences import differences

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked, Finding

_PLACES = ("upper_at", "drop", "offset")


class Kept(msgspec.Struct, frozen=True):
    """What was found before.

    Attributes:
        findings: by check and by what they look at. moved: keys of the readings that are others now.
    """

    findings: dict[tuple[str, str], Finding]
    moved: tuple[str, ...]

    def of(self, check: str, at: str, rests: tuple[str, ...]) -> Finding | None:
        """Return the finding from before where it rests on nothing that moved; ``rests`` are beginnings of keys.

        What could not be told is looked at again: the reading that was lacking may be there now.
        """
        if any(key.startswith(rests) for key in self.moved):
            return None
        found = self.findings.get((check, at))
        return None if found is None or found.missing is not None else found


def kept(before: Checked | None, design: Design) -> Kept | None:
    """Return what to keep of ``before``: None where ``design`` differs in anything but the places of its motors' holes."""
    if before is None:
        return None
    moved = tuple(differences(before.design, design))
    return Kept(before.by_place, moved) if all(map(_is_place, moved)) else None


def _is_place(key: str) -> bool:
    """Tell whether a key is that of a place along or across a motor: "mounts.0.drop"."""
    parts = key.split(".")
    return len(parts) == 3 and parts[0] == "mounts" and parts[2] in _PLACES
