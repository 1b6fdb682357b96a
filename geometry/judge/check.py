"""The one question: what is there to say of this design?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.judge.bracket import brackets, rows
from geometry.judge.findings import Checked, Finding, rank, verdict_of
from geometry.judge.inside import feeds, inside
from geometry.judge.joint import joints
from geometry.judge.powering import powering
from geometry.judge.report import Reporter
from geometry.judge.strength import strength
from geometry.judge.wood import wood

if TYPE_CHECKING:
    from geometry.design.whole import Design


def check(design: Design) -> Checked:
    """Return every finding of ``design``, worst first, with the verdict.

    Pure: the same design gives the same findings. A reading that is missing makes the checks that need it unknown
    and leaves the others alone.
    """
    return assembled(design, (*standing(design), *row_findings(design)))


def standing(design: Design) -> tuple[Finding, ...]:
    """Return the findings that do not depend on the row in which a motor hangs."""
    report = Reporter(design)
    inside(report)
    feeds(report)
    wood(report)
    joints(report)
    strength(report)
    brackets(report)
    powering(report)
    return tuple(report.findings)


def row_findings(design: Design) -> tuple[Finding, ...]:
    """Return the findings that depend on the row: bearing, slot, saddle and height."""
    report = Reporter(design)
    rows(report)
    return tuple(report.findings)


def assembled(design: Design, findings: tuple[Finding, ...]) -> Checked:
    """Return findings put in order, with their verdict and all the guesses that they rest on."""
    ordered = tuple(sorted(findings, key=rank))
    guesses = tuple(sorted({key for finding in ordered for key in finding.guesses}))
    return Checked(design, ordered, verdict_of(ordered), guesses)
