"""Check of readings: each unlikely one is a note until its owner reads it again or confirms it. It keeps no hole undrilled."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from geometry.judge.reporter import NO_LIMITS, Outcome
from geometry.readings.unlikely import unlikely

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.reporter import Reporter

_AGAIN = "Read it again, or confirm it in its entry."


def unlikely_readings(report: Reporter) -> None:
    """Add a note for each unlikely reading."""
    for doubtful in unlikely(report.design):
        key = doubtful.measure.key
        mounts = (int(key.split(".")[1]),) if key.startswith("mounts.") else ()
        at = f"{_whose(report.design, mounts)} / {doubtful.measure.name[0].lower()}{doubtful.measure.name[1:]}"
        report.add("reading", at, NO_LIMITS, "", (key,), mounts, partial(Outcome, None, doubtful.text, _AGAIN, "note"))


def _whose(design: Design, mounts: tuple[int, ...]) -> str:
    return design.mounts[mounts[0]].name if mounts else "boat"
