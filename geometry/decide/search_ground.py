"""A search's ground and its records: one motor on its boat, the changes that are allowed, and places before the whole check."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Literal, NamedTuple

from msgspec.structs import replace

from geometry.decide.kit import BOLT, CUT, PLAIN, PLATE, TILT, Kit
from geometry.design.validity import CLOSE, NonsenseError
from geometry.edits.edits import with_mount
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import WOOD_TO_DRILL, room_aimed_at
from geometry.solid.bracket_holes import (
    highest_upper,
    ladder_drops,
)
from geometry.solid.faces import faces
from geometry.tables import fasteners
from geometry.units.units import STEPS, format_angle
from geometry.zones.pair_zone import pair_area, zone_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from shapely.geometry.base import BaseGeometry

    from geometry.design.design import Design
    from geometry.design.hardware import Hardware
    from geometry.design.motor import Lower, Mount, Rows
    from geometry.judge.findings import Finding
    from geometry.zones.pair_zone import Zone


_AS_HIGH = 3.0  # [mm] an AV plate nearer by less than this to its usual height is no gain; our assumption


class Leeway(NamedTuple):
    """The changes that a search may make, besides row, drop and upper height.

    It may use old upper holes again, change or cut washers, add a backing plate, and use thinner or thicker bolts. It may
    drill holes up or down from square, choose drops between those of the ladder, and move the motor aside.
    """

    old_holes: bool = True
    washers: bool = True
    plate: bool = True
    bolts: bool = True
    tilt: bool = True
    drops: bool = True
    aside: bool = True

    def has(self, level: int) -> bool:
        """Return whether a kit of a level is allowed."""
        return {PLAIN: self.washers, CUT: self.washers, PLATE: self.plate, BOLT: self.bolts, TILT: self.tilt}.get(level, True)


class Aim(NamedTuple):
    """The room that a proposed place should have [mm]: inside the well, and beyond the least wood next to an old hole."""

    room: float
    wood: float


class Upper(NamedTuple):
    """A place for the upper pair.

    Attributes:
        design: the design with its hardware, but not yet at its height. Old holes are meant for use, or not.
        moved: distance from the present or usual place in steps of rank.
        advised: whether its parts have the room that is aimed at. deep: whether it is as far below the top edge as advised.
        gap: under the bracket hook, with the 1st hole from the top [mm]. height: of the AV plate then, None where not known.
    """

    design: Design
    at: float
    offset: float
    moved: int
    kit: Kit
    tilt: float
    reused: tuple[str, ...]
    costs: tuple[str, ...]
    advised: bool
    deep: bool
    gap: float
    height: float | None


class Candidate(NamedTuple):
    """A placement before it is checked.

    Attributes:
        left: usable upper holes.
        advised: whether its parts have the room that is aimed at. in_slot: whether the slot's end has its advised room too.
        off_usual: how far the AV plate is from its usual heights [mm]. high: whether it is so high that it sucks air.
        steps: upper holes that its drop costs where all could be used. lost: those that it does cost at this height.
        slack: how much deeper the lower pair could be [mm].
        unsettled: how many findings are fouled at any place with its hardware.
    """

    upper: Upper
    kit: Kit
    tilt: float
    drop: float
    row: int
    left: tuple[int, ...]
    advised: bool
    in_slot: bool
    off_usual: float
    high: bool
    steps: int
    lost: int
    slack: float
    unsettled: int

    @property
    def special(self) -> int:
        """How special its hardware is."""
        return self.kit.level + self.upper.kit.level

    @property
    def rank(self) -> tuple[float, ...]:
        """The order in which a rigger would choose, smallest first."""
        wide = self.kit.hardware.washer.outer or 0.0
        return (self.high, self.upper.moved + self.lost, not self.upper.deep, self.special, round(self.off_usual),
                self.steps, -len(self.left), -len(self.upper.reused), not self.advised, -wide, not self.in_slot, self.row,
                -round(self.slack))  # fmt: skip

    def makes_needless(self, other: Candidate) -> bool:
        """Return whether another placement of later rank has no advantage over it.

        More room than enough is none. A slot's end with its advised room is one only where nothing else is worse.
        """
        as_plain = self.special == other.special and self.upper.moved == other.upper.moved
        as_good = as_plain and other.off_usual <= self.off_usual + _AS_HIGH
        return (
            self.special <= other.special
            and self.high <= other.high
            and self.off_usual <= other.off_usual + _AS_HIGH
            and self.upper.moved <= other.upper.moved
            and self.upper.deep >= other.upper.deep
            and set(self.left) >= set(other.left)
            and set(self.upper.reused) >= set(other.upper.reused)
            and self.unsettled <= other.unsettled
            and (self.advised >= other.advised or self.special < other.special)
            and (self.in_slot >= other.in_slot or not as_good)
        )


class Seat(NamedTuple):
    """One kind of upper hardware at a place across: the boat with it, and the heights that its zone allows [mm]."""

    kit: Kit
    tilt: float
    hung: Design
    least: list[tuple[float, float]]
    advised: list[tuple[float, float]]


class Across(NamedTuple):
    """All that a place across gives the upper pair, the same for every lower pair [mm].

    Attributes:
        seats: each kind of upper hardware. wanted: the highest place by the advised depth below the top edge.
        usual: heights that put the AV plate in its usual range. gap, height: as in `Upper`, at the home height.
    """

    seats: tuple[Seat, ...]
    wanted: float
    usual: tuple[float, ...]
    gap: float
    height: float | None


@dataclass(frozen=True)
class Ground:
    """One motor on its boat.

    Attributes:
        costs: of seating its bolts. given: checks with a finding that is fouled at any place.
        allowed: the changes that may be made. aim: the room that places should have.
        across: what each place across gives the upper pair, as far as it is known.
    """

    design: Design
    index: int
    costs: tuple[str, ...]
    given: frozenset[str]
    allowed: Leeway
    aim: Aim
    _zones: dict[object, Zone] = field(default_factory=dict)
    _least: dict[object, BaseGeometry] = field(default_factory=dict)
    across: dict[tuple[Aim, float], Across] = field(default_factory=dict)
    _unsettled: dict[tuple[str, str], int] = field(default_factory=dict)

    @property
    def mount(self) -> Mount:
        """The motor."""
        return self.design.mounts[self.index]

    @property
    def bracket(self) -> tuple[Rows, Lower]:
        """Its bracket's upper holes and lower slots."""
        rows, lower = self.mount.bracket.rows, self.mount.bracket.lower
        if rows is None or lower is None:
            raise TypeError("a bracket without bolts has nothing to search for")
        return rows, lower

    @property
    def hardware(self) -> tuple[Hardware, Hardware]:
        """The present hardware of the upper and the lower holes."""
        return sure_hardware(self.mount.upper_hardware), sure_hardware(self.mount.lower_hardware)

    def highest(self, offset: float, grade: int) -> float:
        """Return the highest place of the upper pair by the top edge; grade 0: the least, 1: the advised [mm]."""
        return highest_upper(self.design, self.index, offset, self.design.limits.top_edge[grade])

    def zone(self, design: Design, pair: Literal["upper", "lower"]) -> Zone:
        """Return a pair's zone. Its advised part is for room and for old holes alone: edges count with their least limit.

        The advised depth below the top edge is checked separately, see `Upper`.
        """
        mount = design.mounts[self.index]
        hardware = sure_hardware(mount.upper_hardware if pair == "upper" else mount.lower_hardware)
        tilt = mount.upper_tilt if pair == "upper" else mount.lower_tilt
        kind = (pair, tuple(hole.is_reused for hole in design.old_holes), hardware, tilt)
        key = (self.aim, *kind)
        if key not in self._zones:
            limits = design.limits
            wood = limits.wood_between_diameters[0]
            edge, top = limits.edge_diameters[0], limits.top_edge[0]
            more = self.aim.wood / fasteners.bolt(hardware.bolt).diameter
            eased = replace(
                limits, edge_diameters=(edge, edge), top_edge=(top, top), wood_between_diameters=(wood, wood + more),
                clearance=(limits.clearance[0], max(limits.clearance[0], self.aim.room)),
            )  # fmt: skip
            hung = replace(design, limits=eased)
            if kind not in self._least:  # no aim changes the least limits
                self._least[kind] = pair_area(hung, self.index, pair, "least")
            self._zones[key] = zone_of(self._least[kind], pair_area(hung, self.index, pair, "advised"))
        return self._zones[key]

    @cached_property
    def ladder(self) -> tuple[float, ...]:
        """The ladder's drops, and each a step of the tape longer so that the slot's end is clear [mm]."""
        ladder, step = ladder_drops(self.mount, self.index), STEPS[self.design.units]
        end = math.ceil(self.design.limits.slot_end[1] / step - CLOSE) * step
        return (*ladder, *(drop + end for drop in ladder))

    def unsettled(self, upper: Kit, lower: Kit) -> int:
        """Return how many findings are fouled at any place with some hardware."""
        if not self.given:
            return 0
        key = upper.name, lower.name
        if key not in self._unsettled:
            try:
                hung = with_mount(self.design, self.index, upper_hardware=upper.hardware, lower_hardware=lower.hardware)
                self._unsettled[key] = len(self.still_given(check(hung).findings))
            except NonsenseError:
                self._unsettled[key] = len(self.given)
        return self._unsettled[key]

    def still_given(self, findings: Iterable[Finding]) -> list[Finding]:
        """Return the findings that this motor has at any place and that refuse none."""
        return [f for f in findings if f.state == "fouled" and f.check in self.given and self.index in f.mounts]


def sure_hardware(hardware: Hardware | None) -> Hardware:
    """Return the hardware of a bolted bracket, which always has some."""
    if hardware is None:
        raise TypeError("a bracket without bolts has no hardware")
    return hardware


def prepared(design: Design, index: int, allowed: Leeway) -> Ground:
    """Return the ground of a search: both pairs square where they lean too far, on wedges where the faces lean.

    A finding that is fouled at any place, such as the motor's power, refuses no place. It counts as a cost.

    Raises:
        Unmeasured: a thickness is not known.
    """
    mount, least = design.mounts[index], design.limits.seat_angle[0]
    taper, costs = math.degrees(faces(design.transom).taper), list[str]()
    for pair in ("upper", "lower"):
        tilt: float | None = getattr(mount, f"{pair}_tilt")
        hardware: Hardware = getattr(mount, f"{pair}_hardware")
        if tilt is None or abs(tilt) > min(least, lean_of(mount, pair)) + CLOSE:
            if tilt is not None:
                costs.append(f"The {pair} holes are drilled square to the face.")
            tilt = 0.0
        wedge = hardware.wedge or 0.0
        if abs(tilt - taper - wedge) > least + CLOSE:
            wedge = round(tilt - taper, 1)
            costs.append(f"Wedges of {format_angle(abs(wedge))} under the inside washers of both {pair} bolts.")
        mount = replace(mount, **{f"{pair}_tilt": tilt, f"{pair}_hardware": replace(hardware, wedge=wedge)})
    seated = replace(design, mounts=(*design.mounts[:index], mount, *design.mounts[index + 1 :]))
    given = [f for f in check(design).findings if f.state == "fouled" and CHECK_KINDS[f.check].ease and index in f.mounts]
    aim = Aim(room_aimed_at(design), WOOD_TO_DRILL)
    return Ground(seated, index, tuple(dict.fromkeys(costs)), frozenset(finding.check for finding in given), allowed, aim)


def lean_of(mount: Mount, pair: str) -> float:
    """Return how far a pair's bolts can lean in the bracket's holes [degrees]; inf where that is not measured."""
    spread = mount.bracket.rows if pair == "upper" else mount.bracket.lower
    hardware: Hardware = getattr(mount, f"{pair}_hardware")
    if spread is None or spread.diameter is None or not spread.pad_thickness:
        return math.inf
    loose = max(0.0, spread.diameter - fasteners.bolt(hardware.bolt).diameter)
    return math.degrees(math.atan(loose / spread.pad_thickness))
