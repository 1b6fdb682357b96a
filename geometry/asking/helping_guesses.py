"""Guesses that may still make room where no step has any: measuring any other guess would change nothing there."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.asking.question_order import is_guess
from geometry.decide.best_rung import best_of_each_drop
from geometry.design.validity import CLOSE, NonsenseError
from geometry.doubt.spreads import ROOMS
from geometry.edits.reading_order import in_order
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import stops_the_paper
from geometry.readings.measures import measure

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.judge.findings import Checked, Finding

    Score = tuple[int, float]


def helping_guess(design: Design, mount: int, rungs: tuple[Rung, ...], passed: Collection[str]) -> str | None:
    """Return the first guess to measure where no step has room: all that help may together make room at the best step.

    None where no guess is left, or where even the best end of every guess's usual range leaves no room.

    Args:
        passed: readings that can't be taken.
    """
    best = min(best_of_each_drop(design, mount, rungs), key=lambda each: _score(each.checked, mount), default=None)
    if best is None:
        return None
    blocking = list(_blocking(best.checked, mount))
    behind = {key for finding in blocking for key in (*finding.guesses, *finding.moved_by)}
    keys = in_order(design, [key for key in behind if key not in passed and is_guess(design, key)])
    shape = next((key for key in keys if _is_shape(design, key) and any(_is_at_an_edge(each, key) for each in blocking)), None)
    tried, helping = best.design, list[str]()
    score = _score(best.checked, mount)
    for key in keys:
        better = min(_at_ends(tried, key, mount), key=lambda each: each[0], default=None)
        if better is not None and _is_better(better[0], score):
            score, tried = better
            helping.append(key)
    return (helping[0] if helping and score[0] == 0 else None) or shape


def _at_ends(design: Design, key: str, mount: int) -> Iterator[tuple[Score, Design]]:
    """Yield a design with a guess at each end of its usual range, with its score."""
    row = measure(design, key)
    value = None if row is None else row.get(design)
    if row is None or value is None:
        return
    for end in row.about(value):
        try:
            moved = row.set(design, end)
        except NonsenseError:
            continue
        yield _score(check(moved), mount), moved


def _is_better(score: Score, before: Score) -> bool:
    return score[0] < before[0] or (score[0] == before[0] and score[1] < before[1] - CLOSE)


def _score(checked: Checked, mount: int) -> Score:
    """Return how many findings rule a place out, and by how much the worst one lacks room [mm]: less is better."""
    blocking = list(_blocking(checked, mount))
    lacking = ((each.least or 0.0) - each.value for each in blocking if each.value is not None and each.check in ROOMS)
    return len(blocking), max(lacking, default=-math.inf)


def _blocking(checked: Checked, mount: int) -> Iterator[Finding]:
    """Yield what keeps the holes from a place: no other hardware helps, and no other torque."""
    for finding in checked.findings:
        kind = CHECK_KINDS[finding.check]
        stops = finding.state == "fouled" and stops_the_paper(finding)
        if stops and mount in finding.mounts and not (kind.ease or kind.of_hardware):
            yield finding


def _is_shape(design: Design, key: str) -> bool:
    row = measure(design, key)
    return row is not None and row.kind == "shape"


def _is_at_an_edge(finding: Finding, key: str) -> bool:
    """Return whether a finding rests on a shape, and is no room inside the well: a shape has no range to try."""
    return finding.check not in ROOMS and key in finding.guesses
