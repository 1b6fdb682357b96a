"""The one answer to "may these holes be drilled, and if not, why". Window, command, each sheet, SVG and gauge ask it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.design.measures import name_of
from geometry.design.units import format_length
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.findings import is_bad

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked, Finding

SURE = 0.975
"""The least chance of room for every part inside, at which holes may be drilled: about two spreads, our assumption."""

ROOM_TO_DRILL = 4.4
"""[mm] At this room, planning readings usually give the chance `SURE`: 1.96 spreads of 2.0 to 2.3 mm, our calculation."""

WOOD_TO_DRILL = 2.6
"""[mm] At this much wood beyond the least, next to an old hole, planning readings usually give that chance: 1.96 spreads of
1.3 mm, our calculation."""

SPREADS = 1.959964  # spreads of a normal distribution: 0.975 of it is on one side of them
_OF_100 = 100

Kind = Literal["demonstration", "fouled", "unknown", "guess", "doubt", "not calculated", "no motor"]


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


class Drillable(msgspec.Struct, frozen=True):
    """Whether the holes may be drilled, and each reason why not, the worst first."""

    answer: Literal["yes", "pilot only", "no"]
    reasons: tuple[Reason, ...]

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


def lacking_readings(checked: Checked) -> list[Finding]:
    """Return the findings that keep holes from being drilled because a reading is missing."""
    return [finding for finding in checked.findings if finding.state == "unknown" and stops_the_paper(finding)]


def drillable(checked: Checked) -> Drillable:
    """Return whether the holes of a design may be drilled, and why not.

    A design without its chances is never drillable. That is the safe side.
    """
    reasons = [*_fouled_or_unknown(checked), *_guessed(checked), *_doubted(checked)]
    design = checked.design
    if not design.mounts:
        reasons.append(Reason("no motor", "No motor is on the boat yet. Choose its bracket."))
    elif not reasons and not checked.sure and any(mount.bracket.rows for mount in design.mounts):
        reasons.append(Reason("not calculated", "How sure the findings are has not been calculated yet."))
    if design.demonstration:
        reasons.append(Reason("demonstration", "This is a demonstration boat, not yours."))
    return Drillable("no" if reasons else "yes", tuple(reasons))


def _fouled_or_unknown(checked: Checked) -> list[Reason]:
    stopping = [finding for finding in checked.findings if stops_the_paper(finding)]
    return [
        Reason("fouled" if finding.state == "fouled" else "unknown", finding.text, finding, finding.missing or "")
        for finding in sorted(stopping, key=lambda finding: finding.state != "fouled")
    ]


def _guessed(checked: Checked) -> list[Reason]:
    """Return a reason for each guess behind a finding that can stop the paper."""
    rest: dict[str, Finding] = {}
    for finding in checked.findings:
        if finding.stops == "always" and not is_bad(finding) and finding.state != "note":
            for key in finding.guesses:
                rest.setdefault(key, finding)
    design = checked.design
    return [
        Reason("guess", f"{_name(design, key)} is only a guess, and the answer rests on it. Measure it.", finding, key)
        for key, finding in rest.items()
    ]


def _name(design: Design, key: str) -> str:
    name = name_of(design, key)
    return name[:1].upper() + name[1:]


def _doubted(checked: Checked) -> list[Reason]:
    doubted = [
        finding for finding in checked.findings
        if CHECK_KINDS[finding.check].by_chance and not is_bad(finding) and not finding.guesses
        and finding.chance is not None and finding.chance < SURE
    ]  # fmt: skip
    return [_doubt(checked.design, finding) for finding in sorted(doubted, key=lambda finding: finding.chance or 0.0)]


def _doubt(design: Design, finding: Finding) -> Reason:
    cases = int((finding.chance or 0.0) * _OF_100)
    again = finding.moved_by[0] if finding.moved_by else ""
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
