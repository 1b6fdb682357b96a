"""The one answer to "may these holes be drilled, and if not, why". Window, command, each sheet, SVG and gauge ask it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.design.hardware import BOLT_NAMES
from geometry.edits.reading_order import in_order
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.findings import is_bad
from geometry.readings.measures import name_of
from geometry.readings.pilots import end_words, ends_there, pilot_key, pilot_of
from geometry.readings.unlikely import unlikely
from geometry.solid.nearest_obstacle import nearest
from geometry.solid.placed_bolts import bolts
from geometry.solid.well import space
from geometry.solving.solved import solved
from geometry.solving.witnesses import witnessed
from geometry.units.units import format_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.design.design import Design, PilotEnd
    from geometry.judge.findings import Checked, Finding

SURE = 0.975
"""The least chance of room for every part inside, at which holes may be drilled: about two spreads, our assumption."""

LEAST_FOR_A_PILOT = 0.7
"""The least such chance at which a pilot may be drilled, to learn more: our assumption."""

ROOM_TO_DRILL = 4.4
"""[mm] At this room, planning readings usually give the chance `SURE`: 1.96 spreads of 2.0 to 2.3 mm, our calculation."""

WOOD_TO_DRILL = 2.6
"""[mm] At this much wood beyond the least, next to an old hole, planning readings usually give that chance: 1.96 spreads of
1.3 mm, our calculation."""

SPREADS = 1.959964  # spreads of a normal distribution: 0.975 of it is on one side of them
_OF_100 = 100

_ACROSS = (".bracket.rows.half_spacing", ".bracket.lower.half_spacing")
_REACH = 40.0  # [mm] of room: an inch miscounted changes no answer beyond it
_COUNTS = 0.05  # of a finding's variance: a reading with less does not decide

Kind = Literal["demonstration", "fouled", "unknown", "guess", "unlikely", "pilot", "doubt", "not calculated", "no motor"]


class Reason(msgspec.Struct, frozen=True):
    """Why holes may not be drilled.

    Attributes:
        kind: the kind of obstacle. text: one or two plain sentences, with the action to take.
        finding: the finding behind it, or None. key: of the reading to take, "" for none.
    """

    kind: Kind
    text: str
    finding: Finding | None = None
    key: str = ""


class FirstPilot(msgspec.Struct, frozen=True):
    """The pilot to drill now: its motor, its hole ("lower port"), and what the distance from it is measured to."""

    mount: int
    hole: str
    to: PilotEnd

    @property
    def key(self) -> str:
        """The key of the distance from it."""
        return pilot_key(self.mount, self.hole)


class Drillable(msgspec.Struct, frozen=True):
    """Whether the holes may be drilled, and each reason why not, the worst first; the pilot to drill, if only that."""

    answer: Literal["yes", "pilot only", "no"]
    reasons: tuple[Reason, ...]
    pilot: FirstPilot | None = None

    @property
    def sentences(self) -> tuple[str, ...]:
        """The texts of the reasons."""
        return tuple(reason.text for reason in self.reasons)

    @property
    def why_not(self) -> str:
        """The text to print where the answer is no: a demonstration's note, then the worst reason; else ""."""
        demonstration = [reason.text for reason in self.reasons if reason.kind == "demonstration"]
        others = [reason.text for reason in self.reasons if reason.kind != "demonstration"]
        return " ".join((*demonstration, *others[:1]))


def room_aimed_at(design: Design) -> float:
    """Return the room inside that a proposed place should have [mm]: as advised, and enough to be drilled."""
    return max(design.limits.clearance[1], ROOM_TO_DRILL)


def stops_the_paper(finding: Finding) -> bool:
    """Return whether the state of a finding alone keeps holes from being drilled."""
    match finding.stops:
        case "always":
            return is_bad(finding)
        case "over its limit":  # the owner chooses the torque after the holes
            return finding.state == "fouled"
        case "never":
            return False


def may_turn(finding: Finding) -> bool:
    """Return whether other readings may turn a finding: by its chance, or by a guess where it has no chance."""
    return finding.doubtful or (finding.chance is None and bool(finding.guesses))


def readings_may_turn(checked: Checked) -> bool:
    """Return whether readings may turn all that is fouled at this place. A finding that other parts cure does not count."""
    kinds = ((finding, CHECK_KINDS[finding.check]) for finding in checked.findings if finding.state == "fouled")
    return all(may_turn(each) for each, kind in kinds if stops_the_paper(each) and not kind.ease and not kind.of_hardware)


def lacking_readings(checked: Checked) -> list[Finding]:
    """Return the findings that keep holes from being drilled because a reading is missing."""
    return [finding for finding in checked.findings if finding.state == "unknown" and stops_the_paper(finding)]


def drillable(checked: Checked) -> Drillable:
    """Return whether the holes of a design may be drilled, and why not.

    A design without its chances is never drillable. That is the safe side. Only a pilot may be drilled where nothing but
    chances are in the way. None of them is then under `LEAST_FOR_A_PILOT`, and a pilot that can raise one is not read yet.
    """
    before, doubts = [*_fouled_or_unknown(checked), *_guessed(checked), *_unlikely(checked)], _doubtful(checked)
    design = checked.design
    pilot = None if before or design.demonstration else first_pilot(design, doubts)
    asked = () if pilot is None else (_ask(design, pilot, doubts[0]),)
    reasons = [*before, *asked, *(_doubt(design, finding) for finding in doubts)]
    if not design.mounts:
        reasons.append(Reason("no motor", "No motor is on the boat yet. Choose its bracket."))
    elif not reasons and not checked.sure and any(mount.bracket.rows for mount in design.mounts):
        reasons.append(Reason("not calculated", "How sure the findings are has not been calculated yet."))
    if design.demonstration:
        reasons.append(Reason("demonstration", "This is a demonstration boat, not yours."))
    answer: Literal["yes", "pilot only", "no"] = "pilot only" if pilot is not None else "no" if reasons else "yes"
    return Drillable(answer, tuple(reasons), pilot)


def first_pilot(design: Design, doubts: Sequence[Finding]) -> FirstPilot | None:
    """Return the pilot to drill for findings in doubt, the least chance first; None where none may, or none is left to read.

    A finding of no hole, such as the gap between two, asks for a lower hole.
    """
    if not doubts or (doubts[0].chance or 0.0) < LEAST_FOR_A_PILOT:
        return None
    if any(CHECK_KINDS[finding.check].family == "motor" for finding in doubts):
        return None  # no pilot says anything about the bracket
    read = {(pilot.mount, pilot.hole) for pilot in design.pilots if pilot.value is not None}
    for finding in doubts:
        for mount in finding.mounts:
            named = [name for name in BOLT_NAMES if f" / {name}" in finding.at] or ["lower port", "lower starboard"]
            free = next((hole for hole in named if (mount, hole) not in read), None)
            if free is not None and design.mounts[mount].bracket.rows is not None:
                return FirstPilot(mount, free, _end(design, mount, free, finding))
    return None


def _end(design: Design, mount: int, hole: str, finding: Finding) -> PilotEnd:
    """Return what a pilot's distance is best measured to: as the owner chose, else by the obstacle of the finding."""
    there, chosen = ends_there(design), pilot_of(design, mount, hole)
    if chosen is not None:
        return chosen.to
    best: PilotEnd = "washer mark"
    if finding.check == "old_hole":
        best = "old hole"
    elif any(finding.against == block.name for block in design.inside_blocks):
        best = "block"
    elif _at_the_side(design, mount, hole, finding):
        best = "wall"
    elif finding.check != "washer":
        best = "floor"
    return best if best in there or not there else there[0]


def _at_the_side(design: Design, mount: int, hole: str, finding: Finding) -> bool:
    """Return whether a side of the well is in the way, or its rounded corner: height gives no room there."""
    boat = solved(design)
    bolt = next(bolt for bolt in bolts(boat) if (bolt.mount_index, bolt.name) == (mount, hole))
    body = bolt.body(finding.check) if CHECK_KINDS[finding.check].in_well else None
    obstacle = None if body is None else nearest(space(boat), bolt.exit, body)
    return design.well is not None and obstacle is not None and not obstacle.rises


def _ask(design: Design, pilot: FirstPilot, finding: Finding) -> Reason:
    """Say which pilot to drill, and what to measure from it."""
    several = len(design.mounts) > 1
    whose = f" of {design.mounts[pilot.mount].name}" if several else ""
    text = (
        f"Drill one pilot only, at the {pilot.hole} hole{whose}. Measure from it to {end_words(pilot.to)}, inside. "
        "Type that in, then print again."
    )
    return Reason("pilot", text, finding, pilot.key)


def _fouled_or_unknown(checked: Checked) -> list[Reason]:
    stopping = [finding for finding in checked.findings if stops_the_paper(finding)]
    return [
        Reason("fouled" if finding.state == "fouled" else "unknown", finding.text, finding, finding.missing or "")
        for finding in sorted(stopping, key=lambda finding: finding.state != "fouled")
    ]


def _guessed(checked: Checked) -> list[Reason]:
    """Return a reason for each guess behind a finding that can stop the paper, in the order in which they are measured."""
    rest: dict[str, Finding] = {}
    for finding in checked.findings:
        if finding.stops == "always" and not is_bad(finding) and finding.state != "note":
            for key in finding.guesses:
                rest.setdefault(key, finding)
    design = checked.design
    return [
        Reason("guess", f"{_name(design, key)} is only a guess, and the answer rests on it. Measure it.", rest[key], key)
        for key in in_order(design, rest)
    ]


def _unlikely(checked: Checked) -> list[Reason]:
    """Return a reason for each unlikely reading that alone decides: no other reading confirms it, nor does its owner.

    A tape that is in doubt as a whole decides all that rests on readings.
    """
    design, reasons = checked.design, []
    for doubtful in unlikely(design):
        key = doubtful.measure.key
        if doubtful.tape:
            rests = (finding for finding in checked.findings if finding.check == "reading" and key in finding.rests)
        else:
            alone = key not in witnessed(design)
            rests = (finding for finding in checked.findings if alone and _decides(design, key, finding))
        finding = next(rests, None)
        if finding is not None:
            reasons.append(Reason("unlikely", f"{doubtful.text} Read it again, or confirm it.", finding, key))
    return reasons


def _decides(design: Design, key: str, finding: Finding) -> bool:
    """Return whether a slip of a typed reading can turn a finding whose chance counts."""
    if key not in design.readings or key not in finding.moved_by or not CHECK_KINDS[finding.check].by_chance:
        return False
    if finding.value is None or finding.spread is None or is_bad(finding):
        return False
    share = dict(zip(finding.moved_by, finding.shares, strict=False)).get(key, 0.0)
    near = finding.unit != "mm" or finding.value - (finding.least or 0.0) < _REACH
    return near and share > _COUNTS * finding.spread**2


def _name(design: Design, key: str) -> str:
    name = name_of(design, key)
    return name[:1].upper() + name[1:]


def _doubtful(checked: Checked) -> list[Finding]:
    """Return the findings whose chance is too small to drill, the least first."""
    doubted = [
        finding for finding in checked.findings
        if CHECK_KINDS[finding.check].by_chance and not is_bad(finding) and not finding.guesses
        and finding.chance is not None and finding.chance < SURE
    ]  # fmt: skip
    return sorted(doubted, key=lambda finding: finding.chance or 0.0)


def is_across(finding: Finding) -> bool:
    """Return whether a bracket's holes may be too far apart for its bolts, or not enough: no other drop helps that."""
    return finding.check == "row" and any(key.endswith(_ACROSS) for key in finding.moved_by[:1])


def _doubt(design: Design, finding: Finding) -> Reason:
    cases = int((finding.chance or 0.0) * _OF_100)
    again = finding.moved_by[0] if finding.moved_by else ""
    if is_across(finding):
        held = f"The bracket goes on its bolts in only {cases} of {_OF_100} cases, as it was read"
        return Reason("doubt", f"{held}. Measure {name_of(design, again)} again.", finding, again)
    measure = f"Measure {name_of(design, again)} again, or add" if again else "Add"
    held = finding.text.split(" First measure ")[0].rstrip(".")
    text = f"{held}, which holds in only {cases} of {_OF_100} cases. {measure} {_room(design, finding)}."
    return Reason("doubt", text, finding, again)


def _room(design: Design, finding: Finding) -> str:
    """Say how much room makes a finding `SURE`, or say it in words where its value is no length."""
    if finding.unit != "mm" or finding.value is None or finding.least is None or finding.spread is None:
        return "room"
    lacking = SPREADS * finding.spread - (finding.value - finding.least)
    step = 25.4 / 16 if design.units == "in" else 1.0
    return f"{format_length(max(step, -(-lacking // step) * step), design.units)} of room"
