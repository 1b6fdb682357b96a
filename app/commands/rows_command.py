"""The command `rows`: the ladders of every motor, as it is fitted or with another way to seat the lower washers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.commands.command import UsageError, Words, design_of
from app.ui.terminal import each, print_text
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from geometry.decide.alternatives import Kind
    from geometry.decide.ladder import Ladder
    from geometry.design.design import Design

_KINDS: dict[str, Kind] = {"whole": "plain", "cut": "cut", "backing": "plate"}
"""The words after --hardware, as the kinds of seat."""


def rows(words: Words) -> int:
    """Print the ladders of every motor.

    Raises:
        OwnerError: the file can't be read, or a motor can't have this hardware.
    """
    from app.commands.reports import rows_json, rows_text

    if words.hardware is not None and words.hardware not in _KINDS:
        raise UsageError(f'"{words.hardware}" is no way to seat the washers. Write --hardware whole, cut or backing.')
    design, kind = design_of(words), _KINDS.get(words.hardware)
    ladders = [_ladder(design, index, kind) for index in range(len(design.mounts))]
    print_text(rows_json(design, ladders, kind) if words.json else rows_text(design, ladders, kind))
    return 0


def _ladder(design: Design, index: int, kind: Kind | None) -> Ladder:
    from app.deciding.motor_height_text import SEATS
    from geometry.decide.alternatives import low_enough, seat_rungs
    from geometry.decide.ladder import Ladder, rungs
    from geometry.decide.lowest import Lowest, lowest_plate

    mount = design.mounts[index]
    title = f"rows of {mount.name}"
    if kind is None or mount.bracket.rows is None:
        return Ladder(mount.name, index, lowest_plate(design, index), tuple(each(rungs(design, index), title)))
    way = next((way for way in low_enough(design, index).ways if way.seat.kind == kind), None)
    if way is None:
        raise OwnerError(
            f"{SEATS[kind]}: not possible on the lower bolts of {mount.name}. The washer's size is not known, or too small "
            "for the nut. Measure it, or choose another washer on the card."
        )
    made = tuple(each(seat_rungs(design, index, way.seat), title))
    return Ladder(mount.name, index, Lowest(way.advised, way.least), made)
