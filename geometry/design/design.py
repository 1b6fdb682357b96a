"""The whole design: one boat, its motors, and the readings behind its values."""

from __future__ import annotations

from typing import Literal

import msgspec

from geometry.design.boat import Block, Boat, Fitting, OldHole, Transom, Well
from geometry.design.editions import NEWEST
from geometry.design.motor import Mount
from geometry.design.possible import refuse_impossible
from geometry.design.validity import SMALL, NonsenseError, Number, at_most, not_below_zero

VERSION = NEWEST
LONGEST_NAME = 200
_MOST_SPREAD = 60.0  # [mm] or degrees: our assumption

Span = tuple[float, float]  # [least, advised]
How = Literal["tape", "rule", "level", "plumb bob", "calliper", "washer", "pilot", "photo"]
Origin = Literal["measured", "to buy", "confirmed", "guess"]
Edge = Literal["centre", "near edge", "far edge"]


class Limits(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The limits of each check, as [least, advised]."""

    clearance: Span  # [mm]
    edge_diameters: Span  # in bolt diameters
    wood_between_diameters: Span  # in bolt diameters
    seat_angle: Span  # [degrees], less is better
    slot_end: Span  # [mm]
    top_edge: Span  # [mm] from a hole's centre up to the outer top edge

    def __post_init__(self) -> None:
        for name in self.__struct_fields__:
            for value in getattr(self, name):
                at_most(SMALL, **{name: value})


class Spreads(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One standard deviation of a reading, or of a hole's place, where nothing better is known [mm], angles [degrees]."""

    tape: float
    well: float
    rake: float
    print: float
    mark: float
    drill_angle: float

    def __post_init__(self) -> None:
        for name in self.__struct_fields__:
            not_below_zero(_MOST_SPREAD, **{name: getattr(self, name)})


class Reading(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, rename={"from_": "from"}):
    """The origin of a value: its typed text, its result, the edge read, the tool, and its state.

    Attributes:
        state: measured, a size to buy to, confirmed in a group, or a guess. second: a blind second reading, or None.
    """

    text: str
    value: Number
    from_: Edge
    how: How
    state: Origin
    spread: Number
    second: Number

    def __post_init__(self) -> None:
        not_below_zero(_MOST_SPREAD, spread=self.spread)


class Design(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, dict=True):
    """Everything in a `.boltwell` file. An edit makes a new one.

    Attributes:
        sure_of: the unlikely readings that the owner confirmed, by key: the value, then those that it was compared with.
    """

    boltwell: int
    name: str
    units: Literal["in", "mm"]
    notes: str
    revision: int
    demonstration: bool
    boat: Boat
    transom: Transom
    well: Well | None
    inside_blocks: tuple[Block, ...]
    outside_fittings: tuple[Fitting, ...]
    old_holes: tuple[OldHole, ...]
    mounts: tuple[Mount, ...]
    limits: Limits
    spreads: Spreads
    readings: dict[str, Reading]
    sure_of: dict[str, tuple[float, ...]]
    survey: None
    photo: None
    pilots: tuple[None, ...]
    taped: None
    as_drilled: tuple[None, ...]

    def __post_init__(self) -> None:
        if len(self.name) > LONGEST_NAME:
            raise NonsenseError(f"name has {len(self.name)} characters; {LONGEST_NAME} are the most",
                                f"{LONGEST_NAME} characters are the most that a name has")  # fmt: skip
        if self.revision < 0:
            raise NonsenseError(f"revision is {self.revision}; it counts up from 0")
        refuse_impossible(self)
