"""The readings that check others: distances of a survey, and what was read on the taped-up paper [mm]."""

from __future__ import annotations

from typing import Literal

import msgspec

from geometry.design.validity import FACE, SMALL, NonsenseError, Number, above_zero, not_below_zero

LONGEST_NAME = 200
Face = Literal["outside", "inside"]


class SurveyDistance(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, rename={"from_": "from"}):
    """One distance of a survey, on one face.

    Attributes:
        from_, to: names of holes and corners, or of own marks. ``to`` may also be "centreline" or "top edge".
        length: as read. spread: one standard deviation; None: the tape's.
    """

    face: Face
    from_: str
    to: str
    length: float
    spread: Number

    def __post_init__(self) -> None:
        _short(**{"from": self.from_, "to": self.to})
        not_below_zero(2 * FACE, length=self.length)
        above_zero(SMALL, spread=self.spread)


class SurveyReadings(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The distances of a survey, in the order in which they were typed."""

    distances: tuple[SurveyDistance, ...]


class TapedReading(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One line of the table of a taped-up paper: its name, and what was read."""

    row: str
    read: float

    def __post_init__(self) -> None:
        _short(row=self.row)
        not_below_zero(2 * FACE, read=self.read)


class TapedReadings(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The readings of one taped-up paper.

    Attributes:
        number: the design number that the paper carries. Readings of another number do not count.
    """

    number: str
    readings: tuple[TapedReading, ...]

    def __post_init__(self) -> None:
        _short(number=self.number)


def _short(**names: str) -> None:
    """Refuse names that are too long.

    Raises:
        NonsenseError: says which.
    """
    for field, name in names.items():
        if len(name) > LONGEST_NAME:
            raise NonsenseError(f"{field} has {len(name)} characters; {LONGEST_NAME} are the most")
