"""Finds the change that would turn a finding: the smallest one of one reading, in steps of the owner's tape.

A finding that is fouled turns where it is so no more, any other where it becomes fouled. A sentence is given only where a
whole check of the changed design says the same. Lengths [mm], angles [degrees].
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import NonsenseError
from geometry.judge.check import check, findings_of
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.findings import is_bad
from geometry.judge.words import AGAIN, title_of
from geometry.readings.measures import measure, name_of
from geometry.readings.reading_spreads import wide_spread_of
from geometry.units.units import STEPS, format_angle, format_length

if TYPE_CHECKING:
    from collections.abc import Generator

    from geometry.design.design import Design
    from geometry.judge.findings import Checked, Finding
    from geometry.readings.measures import Measure

    Seeking = Generator[None, None, "Flip | None"]

Place = tuple[str, str]

MOST_STEPS = 8
"""The largest change that is looked at: 1/2 in, 8 mm or 4 degrees. Nobody misreads a tape by more and does not notice."""
_DEGREES = 0.5  # the step of a level or a phone
_KEYS = 4  # of the readings that move a finding most
_LEAST = 1e-9
_MOST_SPREADS = 6.0  # of a reading: a clear finding that needs a larger change is safe from it
_FLOORS = {"well.floor_port": "the floor at port", "well.floor_starboard": "the floor at starboard"}
_ENDS = ("highest", "lowest")  # of a slot
_CORNER = re.compile(r"well\.profile\.\d+\.(\d)")
_SENTENCE = re.compile(r"(?<=[a-z)])\. (?=[A-Z])")
_ROOM = re.compile(r" by (?:only )?(?:less than )?[\d/ ]+(?:in|mm)\b.*")


class Flip(msgspec.Struct, frozen=True):
    """A change of one reading that turns a finding.

    Attributes:
        check, at: of the finding. key: of the reading. value: the changed reading. steps: the change, in steps of the tape.
        state: of the finding with it. text: one plain sentence.
    """

    check: str
    at: str
    key: str
    value: float
    steps: int
    state: str
    text: str


def flip_of(checked: Checked, finding: Finding) -> Flip | None:
    """Return the likeliest change that turns a finding of a checked design; None where none is near.

    It needs the chances of the design: they say which readings move a finding. Long: up to some fifty checks.
    """
    return _end(seeking(checked, finding))


def seeking(checked: Checked, finding: Finding) -> Seeking:
    """Return the same step by step: yield after each check, and return the change at the end."""
    return _Flips(checked).seeking(finding)


def flips(checked: Checked) -> dict[Place, Flip]:
    """Return what would turn each finding that can stop the paper, by check and place; long."""
    tries = _Flips(checked)
    turned = {(finding.check, finding.at): _end(tries.seeking(finding)) for finding in checked.findings}
    return {place: flip for place, flip in turned.items() if flip is not None}


def _end(steps: Seeking) -> Flip | None:
    while True:
        try:
            next(steps)
        except StopIteration as end:
            flip: Flip | None = end.value
            return flip


class _Flips:
    """The designs with one reading off, and their findings: many findings ask for the same."""

    def __init__(self, checked: Checked) -> None:
        self._checked = checked
        self._tried: dict[tuple[str, int], dict[Place, Finding] | None] = {}

    def seeking(self, finding: Finding) -> Seeking:
        """Look for the change that turns a finding, reading by reading."""
        if finding.stops == "never" or finding.value is None or finding.state in ("unknown", "note"):
            return None
        design = self._checked.design
        rows = [row for key in finding.moved_by if (row := measure(design, key)) is not None and _is_read(design, row)]
        turns: list[tuple[float, Measure, int]] = []
        for row in rows[:_KEYS]:
            for steps in (sign * size for size in range(1, MOST_STEPS + 1) for sign in (1, -1)):
                tried = self._findings(row, steps)
                yield
                there = None if tried is None else tried.get((finding.check, finding.at))
                if there is not None and is_bad(there) != is_bad(finding):
                    turns.append((abs(steps) * _step(design, row) / max(wide_spread_of(design, row), _LEAST), row, steps))
                    break
        for spreads, row, steps in sorted(turns, key=lambda turn: turn[0]):
            if finding.state == "clear" and spreads > _MOST_SPREADS:
                break
            flip = self._said(finding, row, steps)
            yield
            if flip is not None:
                return flip
        return None

    def _findings(self, row: Measure, steps: int) -> dict[Place, Finding] | None:
        asked = row.key, steps
        if asked not in self._tried:
            changed = _changed(self._checked.design, row, steps)
            kept = None if changed is None else findings_of(changed, self._checked, worded=False)
            self._tried[asked] = None if kept is None else {(each.check, each.at): each for each in kept}
        return self._tried[asked]

    def _said(self, finding: Finding, row: Measure, steps: int) -> Flip | None:
        changed = _changed(self._checked.design, row, steps)
        there = None if changed is None else check(changed).of(finding.check, finding.at)
        if changed is None or there is None or there.missing is not None or is_bad(there) == is_bad(finding):
            return None
        if there.state == "note" and CHECK_KINDS[finding.check].in_well:  # another tool reaches, and the part still overlaps
            return None
        text = f"If {_change_words(self._checked.design, row, steps)}, {_outcome(there)}."
        return Flip(finding.check, finding.at, row.key, row.get(changed) or 0.0, steps, there.state, text)


def _is_read(design: Design, row: Measure) -> bool:
    """Return whether a value is read with a tape or a level on the boat: no choice, and no part to buy."""
    reading = design.readings.get(row.key)
    bought = reading is not None and reading.state == "to buy"
    return row.kind in ("length", "angle") and not row.free and not row.second and not bought and row.get(design) is not None


def _step(design: Design, row: Measure) -> float:
    return _DEGREES if row.kind == "angle" else STEPS[design.units]


def _changed(design: Design, row: Measure, steps: int) -> Design | None:
    value = row.get(design)
    if value is None:
        return None
    try:
        return row.set(design, value + steps * _step(design, row))
    except NonsenseError:
        return None


def _outcome(finding: Finding) -> str:
    """Say how a finding then is: "the lower port washer overlaps the well floor"."""
    if finding.family == "load":
        title = title_of(finding)
        return f"the {title[:1].lower()}{title[1:]} is {finding.word}"
    said = _SENTENCE.split(finding.text.partition(AGAIN)[0])[0].partition(";")[0].rstrip(".")
    if CHECK_KINDS[finding.check].in_well:
        said = _ROOM.sub("", said)
    return f"{said[:1].lower()}{said[1:]}"


def _change_words(design: Design, row: Measure, steps: int) -> str:
    """Say a change as a person sees it: "the floor at port is 1/16 in higher", "the rake is 0.5° larger"."""
    by = abs(steps) * _step(design, row)
    size = format_angle(by) if row.kind == "angle" else format_length(by, design.units)
    more = steps > 0
    name, _, part = name_of(design, row.key).rpartition(", ")
    corner = _CORNER.fullmatch(row.key)
    if row.key in _FLOORS:
        return f"{_FLOORS[row.key]} is {size} {'lower' if more else 'higher'}"
    if row.key.endswith(".across") or (corner and corner[1] == "0"):
        return f"{name} is {size} farther to {'starboard' if more else 'port'}"
    if row.key.endswith(".down") or corner:
        return f"{name} is {size} {'lower' if more else 'higher'}"
    part = f"{part} place" if part in _ENDS else part
    return f"the {f'{part} of {name}' if name else part} is {size} {'larger' if more else 'smaller'}"
