"""The check of a design: every finding, worst first, and the verdict."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.judge.bolt_length import joints
from geometry.judge.bracket import brackets, rows
from geometry.judge.contradictions import contradicted
from geometry.judge.crowded_old_holes import crowding
from geometry.judge.findings import Checked, Finding, rank, verdict_of
from geometry.judge.inside_room import inside
from geometry.judge.joint_opening import openings
from geometry.judge.kept_findings import Kept, kept, kept_but
from geometry.judge.left_pilots import left_pilots
from geometry.judge.outer_washer import outer_washers
from geometry.judge.over_openings import over_openings
from geometry.judge.powering import powering
from geometry.judge.reporter import Reporter
from geometry.judge.room_to_work import insertion_room, working_room
from geometry.judge.several_motors import motors
from geometry.judge.strength import strength
from geometry.judge.tilt_and_lock import tilting
from geometry.judge.unlikely_readings import unlikely_readings
from geometry.judge.washer_stiff import washers_stiff
from geometry.judge.weight import weighing
from geometry.judge.wood_around_holes import wood
from geometry.solving.solved import solved, solved_near

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design


ROW_INDEPENDENT: tuple[Callable[[Reporter], None], ...] = (
    inside, working_room, insertion_room, wood, over_openings, joints, strength, washers_stiff, outer_washers, brackets,
    powering, weighing,
)  # fmt: skip
"""The functions that add the findings that do not depend on the upper hole in use."""

OF_ROOM: tuple[Callable[[Reporter], None], ...] = (inside, wood)
"""Those of them that add the findings on room inside, between the bolts and next to old holes."""

ROW_DEPENDENT: tuple[Callable[[Reporter], None], ...] = (rows, motors, tilting, openings, crowding)
"""The functions that add the findings that depend on it."""

OF_CHANCE: tuple[Callable[[Reporter], None], ...] = (inside, working_room, wood)
"""Those that add the findings that keep holes from being drilled while their chance is too small."""

OF_READINGS: tuple[Callable[[Reporter], None], ...] = (unlikely_readings,)
"""The functions that add the findings about readings themselves. An error of a reading does not change them."""

OF_PILOTS: tuple[Callable[[Reporter], None], ...] = (left_pilots,)
"""Those that need the pilots as they were made: a boat as it is solved has none. No upper hole in use changes them."""


def check(design: Design, before: Checked | None = None) -> Checked:
    """Return every finding of ``design``, worst first, with the verdict.

    The boat is checked as it is solved with its second readings and its pilots.
    The same design always gives the same findings. Where a reading is missing, the checks that need it are unknown. The
    others do not change.

    Args:
        before: the findings of a design that differs little. A finding is kept where nothing behind it moved.
            This changes the time that it takes, never the findings.
    """
    held = kept(before, design)
    if before is not None and held is not None and held.upright:
        notes = _notes_of_readings(before)
    else:
        notes = _of_design(design, OF_READINGS)
    findings = (*row_independent_findings(design, held), *row_findings(design, held), *notes)
    return assembled(design, contradicted(design, findings))


def findings_of(
    design: Design, before: Checked, *, worded: bool, looks: tuple[Callable[[Reporter], None], ...] | None = None,
    still: frozenset[tuple[str, str]] = frozenset(),
) -> tuple[Finding, ...]:
    """Return every finding of ``design``, in no order; with ``looks`` only those that these functions add.

    Args:
        before: the findings of a design with other readings. A finding that does not rest on them is not made again.
        worded: False where only values and states are read. still: findings that stay as they were before.
    """
    near = solved_near(design, before.design)
    report = Reporter(near, kept=kept_but(before, near, still), worded=worded)
    for look in (*ROW_INDEPENDENT, *ROW_DEPENDENT) if looks is None else looks:
        look(report)
    return tuple(report.findings)


def row_independent_findings(design: Design, held: Kept | None = None) -> tuple[Finding, ...]:
    """Return the findings that do not depend on the upper hole in use."""
    report = Reporter(solved(design), kept=held)
    for look in ROW_INDEPENDENT:
        look(report)
    return (*report.findings, *(_of_design(design, OF_PILOTS) if design.pilots else ()))


def _of_design(design: Design, looks: tuple[Callable[[Reporter], None], ...]) -> tuple[Finding, ...]:
    """Return the findings of a design as it was read, before it is solved."""
    report = Reporter(design)
    for look in looks:
        look(report)
    return tuple(report.findings)


def _notes_of_readings(before: Checked) -> tuple[Finding, ...]:
    """Return the notes about readings from before."""
    return tuple(finding for finding in before.findings if finding.check == "reading" and finding.state == "note")


def row_findings(design: Design, held: Kept | None = None) -> tuple[Finding, ...]:
    """Return the findings that depend on the upper hole in use."""
    report = Reporter(solved(design), kept=held)
    for look in ROW_DEPENDENT:
        look(report)
    return tuple(report.findings)


def assembled(design: Design, findings: tuple[Finding, ...]) -> Checked:
    """Return the findings in order, with their verdict and all guesses behind them."""
    ordered = tuple(sorted(findings, key=rank))
    guesses = tuple(sorted({key for finding in ordered for key in finding.guesses}))
    return Checked(design, ordered, verdict_of(ordered), guesses)
