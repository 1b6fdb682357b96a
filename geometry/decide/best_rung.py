"""The best rung: of those that clear, the one with the least change of the drop, its lower bolts off the slot's end.

If a hole is drilled a little off and its bolt is at the end of the slot, the bolt does not go in. A step of the tape away
from there is therefore better where it costs nothing else. The order is common practice, no source. Lengths [mm].
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.decide.cures import cure
from geometry.design.validity import CLOSE
from geometry.edits.edits import hang
from geometry.judge.bracket import usual_plate_heights
from geometry.judge.check import check
from geometry.judge.check_kinds import IN_WELL
from geometry.judge.drillable import room_aimed_at

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.judge.findings import Checked, Finding

_ABLE = ("clear", "tight")


class Best(msgspec.Struct, frozen=True):
    """The best rung for a motor.

    Attributes:
        checked: the boat with the motor on it, and its findings. row, drop: its place [mm].
        room: smallest clearance inside [mm], None where nothing limits it.
        slot_end: distance of the lower bolts from the slot's end, where that is less than advised [mm]; else None.
        off_end: how much more the drop is than the rung's, so that the lower bolts are off the slot's end [mm], below 0 less.
    """

    checked: Checked
    row: int
    drop: float
    room: float | None
    slot_end: float | None
    off_end: float

    @property
    def design(self) -> Design:
        """The boat with the motor on it."""
        return self.checked.design


def best_rung(design: Design, mount: int, rungs: tuple[Rung, ...]) -> Best | None:
    """Return the rung that clears with the least change of the drop, then the AV plate nearest its usual height.

    A rung with enough room to be drilled comes before that. Next come rungs whose lower bolts are off the slot's end, or can
    be moved off it, unless the AV plate is then further from its usual height. None where no rung clears.
    """
    hung = design.mounts[mount]
    usual = usual_plate_heights(hung.set_back)
    able = [rung for rung in rungs if rung.state in _ABLE and rung.row in rung.rows_left]
    able.sort(key=lambda rung: (round(abs(rung.drop - (hung.drop or 0.0)), 6), _away(rung, usual), rung.row))
    settled = [_settled(design, mount, rung) for rung in able if _away(rung, usual) <= _away(able[0], usual)]
    return min(settled, key=lambda best: (_too_tight(best, design), best.slot_end is not None), default=None)


def best_of_each_drop(design: Design, mount: int, rungs: tuple[Rung, ...]) -> Iterator[Best]:
    """Yield the best rung of each drop, the lowest bolts first: the one whose AV plate is nearest its usual height.

    A fouled rung is among them: what fouls it may be cured, or a reading may be off. An upper hole that can't be used is not.
    """
    usual = usual_plate_heights(design.mounts[mount].set_back)
    drops: dict[float, list[Rung]] = {}
    for rung in rungs:
        if rung.row in rung.rows_left:
            drops.setdefault(rung.drop, []).append(rung)
    for drop in sorted(drops, reverse=True):
        yield _settled(design, mount, min(drops[drop], key=lambda rung: (_away(rung, usual), rung.row)))


def _away(rung: Rung, usual: tuple[float, float]) -> float:
    plate = rung.plate_height
    return 0.0 if plate is None else round(max(usual[0] - plate, 0.0, plate - usual[1]), 3)


def _too_tight(best: Best, design: Design) -> bool:
    """Return whether a rung has too little room inside to be drilled, as a rule; within 1e-6 mm."""
    return best.room is not None and best.room < room_aimed_at(design) - CLOSE


def _settled(design: Design, mount: int, rung: Rung) -> Best:
    """Return a rung with its lower bolts off the slot's end, if a step of the drop helps that and worsens nothing."""
    checked = check(hang(design, mount, rung.row, rung.drop))
    end = next((finding for finding in _ours(checked, mount) if finding.check == "row" and finding.state == "tight"), None)
    better = None if end is None else cure(checked, end)
    if better is not None and better.design.mounts[mount].row == rung.row:
        checked, end = check(better.design), None
    rooms = (finding.value for finding in _ours(checked, mount) if finding.check in IN_WELL)
    inside = (room for room in rooms if room is not None)
    drop = checked.design.mounts[mount].drop or rung.drop
    room = min(inside, default=None)
    return Best(checked, rung.row, drop, room, None if end is None else end.value, drop - rung.drop)


def _ours(checked: Checked, mount: int) -> tuple[Finding, ...]:
    """Return the findings that concern one motor."""
    return tuple(finding for finding in checked.findings if mount in finding.mounts)
