"""The lines of the findings list as text: short when a line is opened, and whole one press later."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from app.findings.findings_text import FindingLine, line_of
from app.ui.apostrophes import curly
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.glance import GROUPS, Bar, Glance, glances
from geometry.judge.words import AGAIN, ALIKE, MEASURE_FIRST
from geometry.solid.faces import Unmeasured

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.judge.findings import Checked, Finding, State
    from geometry.judge.glance import Group

_SENTENCES = re.compile(r"(?<=[.!?]) (?=[A-Z0-9“])")
_AGAIN = AGAIN.strip()
_DRILLED = "In section 7 of the card this hole can have its own washer or socket. Or plug it and drill it again."


class GlanceLine(msgspec.Struct, frozen=True):
    """One line of the list.

    Attributes:
        part, hit, figure, bar: as in `Glance`. lines: the findings behind it, the worst first.
        first: the finding that speaks for it.
        short: the sentences that are read first once it is open, the most important first.
    """

    group: Group
    state: State
    part: str
    hit: str
    figure: str
    bar: Bar | None
    doubt: bool
    lines: tuple[FindingLine, ...]
    first: Finding
    short: tuple[str, ...]

    @property
    def key(self) -> str:
        """Its name for the program: no other line has it."""
        drilled = "drilled " if self.group == "drilled" else ""
        return f"{drilled}{self.first.check} {self.first.at}"

    @property
    def name(self) -> str:
        """Its title: that of its finding, or its parts where there are several."""
        return self.lines[0].name if len(self.lines) == 1 else f"{self.part} {self.hit}".strip()

    @property
    def word(self) -> str:
        """How its state is called."""
        return self.first.word

    @property
    def lit(self) -> str:
        """The part that it concerns, as marks carry it; "" for none."""
        return self.lines[0].part

    @property
    def spoken(self) -> str:
        """The line for a screen reader: state, doubt, part, what it hits, figure, and the advised share of a load."""
        share = f"{self.figure} of the limit" if self.bar is not None else self.figure
        said = self.word, MEASURE_FIRST if self.doubt else "", self.part, self.hit, share, _advised(self.bar)
        return ", ".join(part for part in said if part)

    @property
    def whole(self) -> str:
        """All that is known: each finding's sentence with its limits, and each cure once."""
        said = [f"{line.text} {line.limit}".strip() for line in self.lines]
        return "\n".join(dict.fromkeys((*said, *(line.remedy for line in self.lines if line.remedy))))


def glance_lines(checked: Checked, *, hopeless: bool = False) -> tuple[GlanceLine, ...]:
    """Return the lines of the list, group by group. ``hopeless``: no height or drop fits, so none says to raise the bolts."""
    return (*_as_drilled(checked), *(_line(checked, glance, hopeless=hopeless) for glance in glances(checked)))


def _as_drilled(checked: Checked) -> tuple[GlanceLine, ...]:
    """Return the lines about what is worse with the holes as drilled than in the plan, once the hand rests."""
    if not checked.design.as_drilled or not checked.sure:
        return ()
    kept: tuple[GlanceLine, ...] | None = checked.__dict__.get("drilled lines")
    if kept is None:
        kept = checked.__dict__["drilled lines"] = tuple(_drilled_lines(checked))
    return kept


def _drilled_lines(checked: Checked) -> Iterator[GlanceLine]:
    from geometry.drilling.as_drilled import worse_as_drilled  # numpy comes with it: wanted only where holes were drilled
    from geometry.drilling.as_drilled_words import in_plan

    try:
        worse = worse_as_drilled(checked)
    except Unmeasured:
        return
    for glance in glances(worse) if worse is not None else ():
        made = _line(checked, glance, hopeless=False)
        lines = tuple(
            replace(line, text=f"{line.text} It is {in_plan(checked, row.first)}.", remedy=_DRILLED)
            for line, row in zip(made.lines, glance.rows, strict=True)
        )
        yield replace(made, group="drilled", lines=lines, short=tuple(_SENTENCES.split(_DRILLED)))


def group_title(lines: tuple[GlanceLine, ...]) -> str:
    """Return the title of a group's lines. The clear ones are counted, since they are folded: "Clear (12)"."""
    group = lines[0].group
    if group == "clear":
        return f"{GROUPS[group]} ({len(lines)})"
    return f"{GROUPS[group]}, or {MEASURE_FIRST}" if group == "change" and all(line.doubt for line in lines) else GROUPS[group]


def least_room(lines: tuple[GlanceLine, ...]) -> str:
    """Say the least room inside among clear lines: "least room 13/16 in, both upper washers"; "" where there is none."""
    rooms = [line for line in lines if CHECK_KINDS[line.first.check].in_well]
    if not rooms:
        return ""
    line = min(rooms, key=lambda line: line.first.value or 0.0)
    return f"least room {line.figure}, {line.part[0].lower()}{line.part[1:]}"


def _line(checked: Checked, glance: Glance, *, hopeless: bool) -> GlanceLine:
    lines = tuple(line_of(checked.design.units, row, hopeless=hopeless) for row in glance.rows)
    part, hit = curly(glance.part), curly(glance.hit)
    return GlanceLine(
        glance.group, glance.state, part, hit, glance.figure, glance.bar, glance.doubt, lines, glance.first,
        _short(glance, lines[0]),
    )  # fmt: skip


def _advised(bar: Bar | None) -> str:
    """Say the advised share of a load: "60 % is advised"; "" where the limit is all that is known."""
    return f"{round(bar.advised * 100)} % is advised" if bar is not None and bar.advised < 1.0 else ""


def _short(glance: Glance, line: FindingLine) -> tuple[str, ...]:
    """Return the sentences to read first: what to measure again, else the cure, else the fact."""
    facts = _SENTENCES.split(line.text.removeprefix(f"{ALIKE} "))
    again = [fact for fact in facts if fact.startswith(_AGAIN)]
    cures = _SENTENCES.split(line.remedy) if line.remedy else []
    if glance.bar is not None and not cures:
        share = "; ".join(part for part in (f"{glance.figure} of the limit", _advised(glance.bar)) if part)
        return (*again, f"{share}.")
    return tuple((*again, *cures) or facts)
