"""Two guesses that one answer gives, where both are alike.

They are the wrench torque of both pairs, and the bracket's thickness at its upper holes and its lower slots.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import msgspec

from geometry.asking.question_order import is_guess
from geometry.design.validity import CLOSE
from geometry.readings.measures import measure

if TYPE_CHECKING:
    from geometry.design.design import Design


class Pair(msgspec.Struct, frozen=True):
    """Two readings that are asked for at once. keys: of both, the upper one first. title, how: the words of the question."""

    keys: tuple[str, str]
    title: str
    how: str


_PAIRS = (
    Pair(("upper_hardware.torque", "lower_hardware.torque"), "Wrench torque of all bolts",
         "From the motor’s manual. The wrench reads it in the last pass, with the lock nut’s drag in it."),
    Pair(("bracket.rows.pad_thickness", "bracket.lower.pad_thickness"), "Bracket thickness at its holes",
         "How thick it is under a bolt, at the upper holes and at the lower slots."),
)  # fmt: skip


def pair_of(design: Design, key: str) -> Pair | None:
    """Return the two readings of which ``key`` is one, if one answer may give both; else None.

    Both are guesses of the same value. Of two torques the bolts are alike too. Allows 1e-6.
    """
    mount, ends = re.match(r"mounts\.(\d+)\.", key), key.split(".", 2)[-1]
    pair = next((each for each in _PAIRS if ends in each.keys), None)
    if mount is None or pair is None:
        return None
    upper, lower = (f"{mount[0]}{end}" for end in pair.keys)
    values = [row.get(design) for row in (measure(design, upper), measure(design, lower)) if row is not None]
    known = [value for value in values if value is not None]
    alike = len(known) == len(pair.keys) and abs(known[0] - known[1]) <= CLOSE and is_guess(design, upper)
    if not alike or not is_guess(design, lower) or not _same_bolts(design, int(mount[1]), pair):
        return None
    return msgspec.structs.replace(pair, keys=(upper, lower))


def _same_bolts(design: Design, mount: int, pair: Pair) -> bool:
    """Return whether both pairs have bolts of one size and grade, where a torque is asked for."""
    upper, lower = design.mounts[mount].upper_hardware, design.mounts[mount].lower_hardware
    if "torque" not in pair.keys[0]:
        return True
    return upper is not None and lower is not None and (upper.bolt, upper.grade) == (lower.bolt, lower.grade)
