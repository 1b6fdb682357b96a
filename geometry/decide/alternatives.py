"""The three ways to seat a motor's lower washers, each with its ladders and its lowest AV plate height.

Whole washers, washers cut flat as near to the nut as it allows, and whole washers on a relieved backing plate. The chosen
hardware is one of them, or a fourth way. Lengths [mm].
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec
from msgspec.structs import replace

from geometry.decide.kit import CUT, PLATE, Kit, kits
from geometry.decide.ladder import Rung, rungs
from geometry.decide.lowest import lowest_height
from geometry.decide.measured_kit import plate_to_measure
from geometry.edits.edits import with_mount
from geometry.judge.bracket import usual_plate_heights
from geometry.solid.bracket_holes import local_height, mount_key, plate_height
from geometry.solid.faces import Unmeasured

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design
    from geometry.design.hardware import Hardware

Kind = Literal["chosen", "plain", "cut", "plate"]


class Seat(msgspec.Struct, frozen=True):
    """A way to seat the lower washers.

    Attributes:
        kind: "chosen" only for hardware that is none of the three. hardware: of the lower pair.
        present: whether it is the present hardware.
    """

    kind: Kind
    hardware: Hardware
    present: bool

    def fitted(self, hung: Design, index: int) -> Design:
        """Return a boat with this hardware in its lower holes, its backing plate made to measure for their place.

        Raises:
            Unmeasured: the backing plate can't be made to measure.
        """
        if self.present:
            return hung
        made = with_mount(hung, index, lower_hardware=self.hardware)
        if self.kind != "plate":
            return made
        kit = plate_to_measure(made, index, Kit(self.hardware, PLATE, "a relieved backing plate"))
        return with_mount(hung, index, lower_hardware=kit.hardware)


def seats(design: Design, index: int) -> tuple[Seat, ...]:
    """Return the ways to seat a motor's lower washers, the chosen one included; none for a motor that clamps on."""
    mount = design.mounts[index]
    now = mount.lower_hardware
    if now is None or mount.bracket.lower is None:
        return ()
    whole = now
    if now.washer.flat_cut is not None or now.backing_plate is not None:
        washer = replace(now.washer, flat_cut=None)
        length = None if now.backing_plate is not None else now.length
        whole = replace(now, washer=washer, backing_plate=None, length=length)
    room = design.limits.clearance[1]
    others = {kit.level: kit.hardware for kit in kits(whole, mount.bracket, "lower", design.units, room)}
    plated, cut = now.backing_plate is not None, now.washer.flat_cut is not None
    chosen: Kind = "chosen" if plated and cut else "plate" if plated else "cut" if cut else "plain"
    ways = [Seat("plain", whole, chosen == "plain")]
    ways += [Seat(kind, others[level], present=False) for kind, level in _SPECIAL if level in others and kind != chosen]
    if chosen != "plain":
        ways.append(Seat(chosen, now, present=True))
    return tuple(sorted(ways, key=lambda seat: _ORDER.index(seat.kind)))


_SPECIAL: tuple[tuple[Kind, int], ...] = (("cut", CUT), ("plate", PLATE))
_ORDER: tuple[Kind, ...] = ("chosen", "plain", "cut", "plate")


def seat_rungs(design: Design, index: int, seat: Seat) -> Iterator[Rung]:
    """Yield a motor's rungs with one way to seat the lower washers, without those whose backing plate can't be made."""
    fitted = None if seat.present else lambda hung: seat.fitted(hung, index)
    try:
        yield from rungs(design, index, fitted)
    except Unmeasured:
        return


class Way(msgspec.Struct, frozen=True):
    """The lowest AV plate with one way to seat the lower washers.

    Attributes:
        advised, least: its lowest possible height over the hull's bottom, plumb, with the advised and the least clearance
            [mm]. None where a reading is missing, or no depth passes.
        missing: key of the missing reading, or None.
    """

    seat: Seat
    advised: float | None
    least: float | None
    missing: str | None


class LowEnough(msgspec.Struct, frozen=True):
    """Can this motor sit low enough on this boat?

    Attributes:
        usual: usual heights of the AV plate [mm]: common practice, no source.
        down: AV plate height with the bracket hook on the transom, and `now` at present [mm]; None where not known.
        ways: with each way to seat the lower washers; none for a motor that clamps on.
        missing: keys of the missing readings, in the order in which they are needed.
    """

    usual: tuple[float, float]
    down: float | None
    now: float | None
    ways: tuple[Way, ...]
    missing: tuple[str, ...]


def low_enough(design: Design, index: int) -> LowEnough:
    """Return the lowest possible heights of a motor's AV plate, as far as the readings go."""
    mount, missing = design.mounts[index], list[str]()

    def known(look: Callable[[], float | None], *, asks: bool = True) -> float | None:
        try:
            return look()
        except Unmeasured as lacking:
            if asks:
                missing.append(lacking.key)
            return None

    leg = mount.leg
    if leg is None:
        missing.append(mount_key(index, "leg"))
    bare = known(lambda: local_height(design, index))
    down = None if bare is None or leg is None else bare - leg
    now = known(lambda: plate_height(design, index), asks=mount.bracket.rows is None)
    ways = []
    for seat in seats(design, index):
        count, heights = len(missing), list[float | None]()
        for wanted in (design.limits.clearance[1], design.limits.clearance[0]):
            heights.append(known(lambda: lowest_height(design, index, wanted, lambda hung: seat.fitted(hung, index))))  # noqa: B023
        lacking = missing[count] if len(missing) > count else None
        ways.append(Way(seat, heights[0], heights[1], lacking))
    return LowEnough(usual_plate_heights(mount.set_back), down, now, tuple(ways), tuple(dict.fromkeys(missing)))
