"""The one question: what is there to say of this design?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.judge.bracket import brackets, rows
from geometry.judge.findings import Checked, Finding, rank, verdict_of
from geometry.judge.inside_room import insertion_room, inside
from geometry.judge.joint import joints
from geometry.judge.kept_findings import Kept, kept
from geometry.judge.powering import powering
from geometry.judge.report import Reporter
from geometry.judge.strength import strength
from geometry.judge.wood import wood

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design


ROW_INDEPENDENT: tuple[Callable[[Reporter], None], ...] = (inside, insertion_room, wood, joints, strength, brackets, powering)
"""What makes the findings that do not depend on the row in which a motor hangs."""


def check(design: Design, before: Checked | None = None) -> Checked:
    """Return every finding of ``design``, worst first, with the verdict.

    Pure: the same design gives the same findings. A reading that is missing makes the checks that need it unknown
    and leaves the others alone.

    Args:
        before: what was found of a design that may differ little: what rests on nothing that moved is not looked at again.
            It changes how long this takes, never what it finds.
    """
    held = kept(before, design)
    return assembled(design, (*row_independent_findings(design, held), *row_findings(design, held)))


def row_independent_findings(design: Design, held: Kept | None = None) -> tuple[Finding, ...]:
    """Return the findings that do not depend on the row in which a motor hangs."""
    report = Reporter(design, kept=held)
    for look in ROW_INDEPENDENT:
        look(report)
    return tuple(report.findings)


def row_findings(design: Design, held: Kept | None = None) -> tuple[Finding, ...]:
    """Return the findings that depend on the row: bearing, slot, saddle and height."""
    report = Reporter(design, kept=held)
    rows(report)
    return tuple(report.findings)


def assembled(design: Design, findings: tuple[Finding, ...]) -> Checked:
    """Return findings put in order, with their verdict and all the guesses that they rest on."""
    ordered = tuple(sorted(findings, key=rank))
    guesses = tuple(sorted({key for finding in ordered for key in finding.guesses}))
    return Checked(design, ordered, verdict_of(ordered), guesses)
