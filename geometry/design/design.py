"""The whole design: one boat, its motors, and the readings behind its values."""

from __future__ import annotations

from typing import Literal

import msgspec

from geometry.design.boat import Block, Boat, Fitting, OldHole, Transom, Well
from geometry.design.checking_readings import SurveyReadings, TapedReadings
from geometry.design.drilled_hole import DrilledHole
from geometry.design.file_editions import NEWEST
from geometry.design.impossible_boats import refuse_impossible
from geometry.design.motor import Mount
from geometry.design.validity import (
    CLOSE,
    FACE,
    MOST_TILT,
    SMALL,
    NonsenseError,
    Number,
    above_zero,
    at_most,
    from_to,
    not_below_zero,
    within,
)
from geometry.tables import trade

VERSION = NEWEST
LONGEST_NAME = 200

Span = tuple[float, float]  # [least, advised]
How = Literal["tape", "rule", "level", "plumb bob", "calliper", "washer", "pilot", "photo"]
Origin = Literal["measured", "to buy", "confirmed", "guess"]
Edge = Literal["centre", "near edge", "far edge"]
PilotEnd = Literal["washer mark", "floor", "wall", "old hole", "block"]
"""What the distance from a pilot is measured to, along the inner face."""


class Limits(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The limits of each check, as [least, advised]."""

    clearance: Span  # [mm]
    edge_diameters: Span  # in bolt diameters
    wood_between_diameters: Span  # in bolt diameters
    seat_angle: Span  # [degrees], less is better
    slot_end: Span  # [mm]
    top_edge: Span  # [mm] from a hole's centre up to the outer top edge
    socket_room: Span  # [mm] along the bolt, in front of its socket
    feed: Span  # [mm] more than the bolt and a hand need on the side where it goes in
    outer_washer: Span  # width of an outer washer over that of the slot or hole under it
    motors: Span  # [mm] between two motors' brackets, and their cowls
    tilt_room: Span  # [mm] ahead of a motor that tilts
    lock_room: Span  # [mm] to each side of a motor that turns
    plug_wall: Span  # [mm] of plug around a new hole, or of wood between it and the plug
    washer_stiff: Span  # thickness of a washer over an eighth of its width
    clamp: Span  # clamp over proof load, less is better
    pressure: Span  # pressure on the core over what it supports, less is better
    joint: Span  # pull on a bolt over the clamp that is left, less is better

    def __post_init__(self) -> None:
        for name in self.__struct_fields__:
            least, advised = getattr(self, name)
            for value in (least, advised):
                not_below_zero(SMALL, **{name: value})
            less = name in trade.LESS_IS_BETTER
            if less and name != "seat_angle":
                above_zero(SMALL, **{name: advised})
            low, high, word = (advised, least, "less") if less else (least, advised, "more")
            if low > high + CLOSE:
                raise NonsenseError(f"{name} is [{least:g}, {advised:g}]; its first value, the limit, must not be {word} "
                                    "than the advised one", "the limit must not be stricter than what is advised")  # fmt: skip


class Spreads(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One standard deviation of a reading, or of a hole's place, where nothing better is known [mm], angles [degrees]."""

    tape: float
    well: float
    rake: float
    print: float
    mark: float
    drill_angle: float
    washer: float
    freehand: float  # of a new hole's place, across and up, by the way of drilling it
    punched: float
    block: float
    jig: float

    def __post_init__(self) -> None:
        for name in self.__struct_fields__:
            not_below_zero(trade.MOST_SPREAD, **{name: getattr(self, name)})


class Assumptions(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Values that loads and pressures are calculated with where nobody knows better. `trade.ASSUMPTIONS` has the sources."""

    thrust_share: float  # of the shaft's power that the propeller gives to its stream
    reverse_share: float  # of the forward thrust
    settling: float  # share of the clamp that is lost once wood and washers have settled
    drag_share: float  # of a lock nut's highest published drag, where its drag was not measured
    shaft_depth: float  # [mm] from the AV plate down to the propeller's shaft
    centre_aft: float  # [mm] from the bracket aft to a motor's balance point, where it is not known
    reverse_edge: float  # [mm] from the transom's top down to the edge about which a bracket tips in reverse
    epoxy: float  # [N/mm2] that cured epoxy supports in a filled hole
    spread_angle: float  # [degrees] from the bolt, at which skin and backing plate spread a washer's load
    nut_bearing: float  # of a nut's or head's flats, that presses on its washer
    washer_spread: float  # thicknesses by which a bent washer presses wider than its nut
    wide_swing: float  # [degrees] that a ring spanner should turn, where it has to turn less
    motor_centres: float  # [mm] between the middles of two motors
    large_centres: float  # [mm] the same where one is large

    def __post_init__(self) -> None:
        for name in self.__struct_fields__:
            usual = trade.ASSUMPTIONS[name]
            from_to(usual.least, usual.most, **{name: getattr(self, name)})


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
        not_below_zero(trade.MOST_SPREAD, spread=self.spread)


class Pilot(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A pilot hole that was drilled, and the distance from its middle on the inner face to something there [mm].

    Attributes:
        mount: the motor, counted from 0. pair, side: its hole.
        to: the other end of the distance. value: the distance; None where it is not read yet. To a washer's mark or the
            floor it is down, and below 0 where that is above the pilot.
        washer: across the washer that was slid down, for its mark.
        at: where the pilot was to be, (u, v) on the outer face. tilt: of the drill, inner end higher positive [degrees].
    """

    mount: int
    pair: Literal["upper", "lower"]
    side: Literal["port", "starboard"]
    to: PilotEnd
    value: Number
    washer: Number
    at: tuple[float, float]
    tilt: float

    def __post_init__(self) -> None:
        at_most(FACE, value=self.value)
        if self.to not in ("washer mark", "floor"):
            above_zero(value=self.value)
        above_zero(SMALL, washer=self.washer)
        at_most(FACE, at_u=self.at[0], at_v=self.at[1])
        within(-MOST_TILT, MOST_TILT, tilt=self.tilt)

    @property
    def hole(self) -> str:
        """The name of its hole: "lower port"."""
        return f"{self.pair} {self.side}"


class Design(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, dict=True):
    """Everything in a `.boltwell` file. An edit makes a new one.

    Attributes:
        sure_of: the unlikely readings that the owner confirmed, by key: the value, then those that it was compared with.
        look_for_holes: whether its owner is still to be asked for old holes and obstacles: a starting shape has none.
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
    assumptions: Assumptions
    readings: dict[str, Reading]
    sure_of: dict[str, tuple[float, ...]]
    look_for_holes: bool
    survey: SurveyReadings | None
    photo: None
    pilots: tuple[Pilot, ...]
    taped: TapedReadings | None
    as_drilled: tuple[DrilledHole, ...]

    def __post_init__(self) -> None:
        if len(self.name) > LONGEST_NAME:
            raise NonsenseError(f"name has {len(self.name)} characters; {LONGEST_NAME} are the most",
                                f"{LONGEST_NAME} characters are the most that a name has")  # fmt: skip
        if self.revision < 0:
            raise NonsenseError(f"revision is {self.revision}; it counts up from 0")
        for name in ("pilots", "as_drilled"):
            holes = [(each.mount, each.hole) for each in getattr(self, name)]
            if len(set(holes)) < len(holes) or any(not 0 <= mount < len(self.mounts) for mount, _ in holes):
                raise NonsenseError(
                    f"{name} names a motor that is not there, or one hole twice; one entry for each hole is enough"
                )
        refuse_impossible(self)

    @property
    def called(self) -> str:
        """Its name, as a person reads it: one without a name is called so."""
        return self.name or "A boat without a name"


def forget_results(design: Design) -> None:
    """Drop what was calculated from a design. It is calculated again where somebody asks for it."""
    design.__dict__.clear()
