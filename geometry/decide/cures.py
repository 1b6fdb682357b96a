"""Cures: for one finding, the least change by the program that improves it and worsens no other.

A cure is offered only after the whole design was checked with it. Lengths [mm], by steps of the person's tape.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import asdict, replace

from geometry.design import patterns
from geometry.design.design import Design
from geometry.design.validity import NonsenseError
from geometry.edits.additions import add_pilot_as_old_hole
from geometry.edits.confirm_or_buy import with_new_parts_to_buy
from geometry.edits.edits import hang, move_lower, move_upper, set_row, with_mount
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import room_aimed_at
from geometry.judge.findings import WORSE
from geometry.judge.joint_opening import clamp_left
from geometry.judge.loads import bolt_loads
from geometry.judge.strength import allowed, presses_too_hard, torque_at_most
from geometry.readings.unlikely import confirm_unlikely, unlikely_reading
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.tables import fasteners
from geometry.tables.known import NM_PER_LB_FT
from geometry.units import force_units
from geometry.units.height_words import height_step, number, up_words
from geometry.units.trade_words import in_trade_words
from geometry.units.units import STEPS, format_angle, format_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.hardware import Hardware, Spanner
    from geometry.judge.findings import Checked, Finding
    from geometry.solid.placed_bolts import Bolt

_SAME = 1e-6  # mm, or parts of a margin


class Cure(msgspec.Struct, frozen=True):
    """An edit that improves a finding: the word on its button, the name of its step, and its design."""

    button: str
    label: str
    design: Design


def cure(checked: Checked, finding: Finding) -> Cure | None:
    """Return the first cure that improves a finding and worsens no other; None where the program has none.

    Slow: one check for each candidate, a few at most.
    """
    if finding.check == "reading":
        return _confirmation(checked.design, finding)
    if finding.check == "left_pilot":
        return _among_old_holes(checked.design, finding)
    if finding.state not in ("fouled", "tight") or not finding.mounts:
        return None
    for candidate in _candidates(checked.design, finding):
        try:
            after = check(candidate.design)
        except Unmeasured:
            continue
        if _improves(checked, after, finding):
            return candidate
    return None


def _confirmation(design: Design, finding: Finding) -> Cure | None:
    """Return the step that confirms an unlikely reading."""
    doubtful = unlikely_reading(design, finding.rests[0])
    if doubtful is None:
        return None
    return Cure("Confirm it", f"{doubtful.measure.name} confirmed", confirm_unlikely(design, finding.rests[0]))


def _among_old_holes(design: Design, finding: Finding) -> Cure:
    """Return the step that adds a pilot that stays open to the old holes, with all that these ask for."""
    pilot = design.pilots[int(finding.rests[0].split(".")[1])]
    return Cure("Add it to the old holes", f"{pilot.hole.capitalize()} pilot added to the old holes",
                add_pilot_as_old_hole(design, pilot))  # fmt: skip


def improves(design: Design, finding: Finding) -> bool:
    """Return whether a finding is milder in another design, without regard to the others."""
    now = check(design).of(finding.check, finding.at)
    return now is None or _rank(now) < _rank(finding)


def _improves(before: Checked, after: Checked, finding: Finding) -> bool:
    """Return whether a finding is milder, every other is as mild as before, and no tight or fouled one has less room.

    Another finding is found by its check and place. A new one must be a note or clear. A clear one may lose room as long as
    it stays clear.
    """
    then = {(other.check, other.at): other for other in before.findings}
    now = after.of(finding.check, finding.at)
    if now is not None and _rank(now) >= _rank(finding):
        return False
    return not any(_worse(then.get((other.check, other.at)), other) for other in after.findings if other is not now)


def _worse(then: Finding | None, now: Finding) -> bool:
    if then is None or then.state not in ("tight", "fouled"):
        milder = max(0 if then is None else _rank(then), WORSE.index("tight" if _may_be_tight(now) else "clear"))
        return _rank(now) > milder
    return _rank(now) > _rank(then) or (now.state == then.state and now.margin < then.margin - _SAME)


def _may_be_tight(finding: Finding) -> bool:
    """Return whether a cure may bring a finding near its limit: what is bought, where it stops no hole, such as stiffness."""
    return CHECK_KINDS[finding.check].of_hardware and finding.stops == "never"


def _rank(finding: Finding) -> int:
    return WORSE.index(finding.state)


def _candidates(design: Design, finding: Finding) -> Iterator[Cure]:
    index = finding.mounts[0]
    bolt = next((bolt for bolt in bolts(design) if finding.at.startswith(bolt.at)), None)
    try:
        if CHECK_KINDS[finding.check].in_well and bolt is not None and not bolt.upper:
            yield from _cut_flat(design, finding, bolt)
            yield from _raised(design, finding, index)
        elif finding.check == "edge" and bolt is not None and bolt.upper:
            yield from _lowered(design, _short(finding) * bolt.thread.diameter, index)
        elif finding.check == "top_edge" and bolt is not None and bolt.upper:
            yield from _lowered(design, _short(finding), index)
        elif finding.check == "row":
            yield from _in_the_slot(design, finding, index)
        elif finding.check == "saddle":
            yield from _rows(design, index)
        elif finding.check == "seat" and bolt is not None:
            yield from _flat_seats(design, bolt, index)
        elif finding.check in ("length", "shank") and bolt is not None and bolt.hardware.length is not None:
            yield _hardware(design, bolt, "Use the length that fits", "stock length that fits", length=None)
        elif finding.check == "socket_room" and bolt is not None and bolt.hardware.socket is not None:
            corners = bolt.hardware.inside_hexagon.corners or bolt.hardware.nut_hexagon.corners
            if corners is not None:
                ring = _whole(bolt.hardware.spanner, patterns.spanner(corners))
                yield _hardware(design, bolt, "Use a ring spanner", "nuts tightened with a ring spanner",
                                socket=None, spanner=ring)  # fmt: skip
        elif finding.check == "spanner" and bolt is not None and bolt.hardware.socket is None:
            corners = bolt.hardware.inside_hexagon.corners
            if corners is not None:
                yield _hardware(design, bolt, "Use a socket", "nuts tightened with a socket", socket=patterns.socket(corners))
        elif finding.check == "feed" and bolt is not None and bolt.hardware.inserted_from == "outside":
            yield _hardware(design, bolt, "Insert the bolts first", "bolts inserted before the motor is hung",
                            inserted_from="before hanging")  # fmt: skip
        elif finding.check in ("clamp", "pressure") and bolt is not None:
            yield from _eased(design, finding, bolt)
    except (NonsenseError, Unmeasured):
        return


def _size(design: Design, mm: float) -> str:
    return format_length(mm, design.units)


def _steps_up(design: Design, mm: float) -> float:
    """Return the next whole number of steps from ``mm`` on."""
    step = STEPS[design.units]
    return math.ceil(mm / step - _SAME) * step


def _short(finding: Finding) -> float:
    """Return how far a finding is below its advised limit, in its unit."""
    return 0.0 if finding.value is None or finding.advised is None else finding.advised - finding.value


def _drop_to(design: Design, index: int, drop: float) -> Cure:
    size = _size(design, drop)
    return Cure(f"Drop to {size}", f"Drop to {size}", with_mount(design, index, drop=drop))


def _raised(design: Design, finding: Finding, index: int) -> Iterator[Cure]:
    mount = design.mounts[index]
    if mount.drop is None:
        return
    short = 0.0 if finding.value is None else room_aimed_at(design) - finding.value
    for more in (1.0, 1.1, 1.2):  # where the floor slopes, or a corner bends away, it needs a little more
        drop = mount.drop - _steps_up(design, short * more)
        yield _drop_to(design, index, drop)
        if mount.row is None or mount.bracket.rows is None:
            continue
        for up in range(1, mount.bracket.rows.count - mount.row):  # a shorter drop may need a higher motor
            words = f"Drop to {_size(design, drop)}, motor {up_words(up)}"
            yield Cure(words, f"Drop to {_size(design, drop)}", hang(design, index, mount.row + up, drop))


def _in_the_slot(design: Design, finding: Finding, index: int) -> Iterator[Cure]:
    mount = design.mounts[index]
    if mount.drop is not None and finding.state == "tight":
        by = _steps_up(design, _short(finding))
        for way in (by, -by):
            changed = move_lower(design, index, 0.0, -way)
            size = _size(design, changed.mounts[index].drop or 0.0)
            yield Cure(f"Drop to {size}", f"Drop to {size}", changed)
    yield from _rows(design, index)


def _whole(spanner: Spanner | None, usual: Spanner) -> Spanner:
    """Return a ring spanner, with the usual sizes where none is known: one without a length can't be checked."""
    sizes = {} if spanner is None else {name: size for name, size in asdict(spanner).items() if size is not None}
    return replace(usual, **sizes)


def _rows(design: Design, index: int) -> Iterator[Cure]:
    """Yield the other upper holes, the nearest first. The holes in the boat stay."""
    mount = design.mounts[index]
    if mount.bracket.rows is None or mount.row is None:
        return
    now = mount.row
    for row in sorted(range(mount.bracket.rows.count), key=lambda row: (abs(row - now), row)):
        if row != now:
            holes = f"{number(abs(row - now))} {'hole' if abs(row - now) == 1 else 'holes'}"
            words = f"{'Lower' if row < now else 'Raise'} the motor {holes}"
            yield Cure(words, height_step(row), set_row(design, index, row))


def _lowered(design: Design, short: float, index: int) -> Iterator[Cure]:
    """Yield the upper pair further from the top. The lower pair stays; the motor keeps its height, or goes one hole up."""
    by = _steps_up(design, short)
    mount = design.mounts[index]
    if mount.upper_at is None or by <= 0:
        return
    size = _size(design, by - mount.upper_at)
    changed = move_upper(design, index, 0.0, -by)
    drop = "" if mount.drop is None else f", drop {_size(design, changed.mounts[index].drop or 0.0)}"
    whole = with_mount(design, index, upper_at=mount.upper_at - by)  # where the lower holes have room below
    label = f"Upper holes to {size} down"
    ways = [(f"Upper holes {size} down{drop}", changed)]
    ways += [] if mount.drop is None else [(f"All holes {_size(design, by)} lower", whole)]
    yield from (Cure(words, label, moved) for words, moved in ways)
    if mount.row is not None and mount.bracket.rows is not None and mount.row + 1 < mount.bracket.rows.count:
        for words, moved in ways:
            yield Cure(f"{words}, motor one hole up", label, set_row(moved, index, mount.row + 1))


def _flat_seats(design: Design, bolt: Bolt, index: int) -> Iterator[Cure]:
    field = f"{bolt.pair}_tilt"
    if bolt.tilt:
        yield Cure("Drill square", "Drill square", with_mount(design, index, **{field: 0.0}))
    lean = math.degrees(bolt.exit.lean)
    angle = format_angle(round(lean, 1))
    yield _hardware(design, bolt, f"Put a wedge of {angle} under", f"wedge of {angle}", wedge=round(lean, 1))


def _eased(design: Design, finding: Finding, bolt: Bolt) -> Iterator[Cure]:
    """Yield a wider washer where the core is pressed too hard, and less torque where it is over the limit.

    The finding's remedy next to the button says that the motor's manual comes first on torque.
    """
    if finding.check == "pressure" and bolt.plate is None and bolt.hardware.spacer is None:
        torque = bolt.hardware.torque or 0.0
        wider = {washer.outer: washer for washer in allowed(bolt)[1:] if washer.most >= torque}
        for listed in sorted(fasteners.washers(bolt.hardware.bolt), key=lambda washer: washer.outer):
            if listed.outer in wider:
                cut = bolt.hardware.washer.flat_cut
                words = f"ashers {_size(design, listed.outer)} across{'' if cut is None else ', cut alike'}"
                washer = replace(patterns.flat_washer(listed), flat_cut=cut)
                yield _hardware(design, bolt, f"W{words}", f"w{words}", washer=washer)
    if finding.state == "fouled" and not (finding.check == "pressure" and design.transom.core_state == "wet"):
        least = torque_at_most(bolt, finding.check)
        step = NM_PER_LB_FT if design.units == "in" else 0.5
        torque = math.floor(least / step + _SAME) * step
        if torque > 0:
            said = force_units.torque(torque, design.units)
            less = _hardware(design, bolt, f"Torque {said}", f"torque {said}", torque=torque)
            if _stays_shut(less.design, bolt):
                yield less


def _stays_shut(design: Design, bolt: Bolt) -> bool:
    """Return whether a bolt still clamps against its pull, after all has settled; True where pull or drag is not known."""
    try:
        loads, left = bolt_loads(design, bolt.mount_index), clamp_left(_again(design, bolt))
    except Unmeasured:
        return True
    return left >= (loads.upper if bolt.upper else loads.lower)


def _cut_flat(design: Design, finding: Finding, bolt: Bolt) -> Iterator[Cure]:
    washer = bolt.hardware.washer
    if finding.check != "washer" or washer.outer is None or washer.flat_cut is not None or bolt.hardware.backing_plate:
        return
    cut = replace(washer, flat_cut=patterns.flat_cut(bolt.hardware, washer))
    cut_washers = _hardware(design, bolt, "Cut the washers flat", "washers cut flat", washer=cut)
    if presses_too_hard(bolt) or not presses_too_hard(_again(cut_washers.design, bolt)):
        yield cut_washers


def _again(design: Design, bolt: Bolt) -> Bolt:
    """Return the same bolt of another design."""
    return next(other for other in bolts(design) if other.at == bolt.at)


def _hardware(design: Design, bolt: Bolt, button: str, noun: str, **changed: object) -> Cure:
    field = f"{bolt.pair}_hardware"
    made: Hardware = replace(bolt.hardware, **changed)
    said, label = (in_trade_words(text, design.units) for text in (button, f"{bolt.pair.capitalize()} {noun}"))
    return Cure(said, label, with_new_parts_to_buy(design, with_mount(design, bolt.mount_index, **{field: made})))
