"""The paper as it is taped to the boat: its scale, turn, skew, shift and open joins, by what was read on it; and what to do.

As seen from astern: ``u`` to starboard from the centreline, ``v`` up from the top edge [mm]. The fold and the centreline
are those of the top sheet that has both. The other sheets may be off from it. The paper as a whole may be off on the boat.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

import msgspec
import numpy as np

from geometry.survey.adjust import CRITICAL
from geometry.survey.least_squares import fit

if TYPE_CHECKING:
    from geometry.survey.least_squares import Fit, Floats
    from geometry.survey.network import Point

Kind = Literal["holes", "join", "fold", "centreline", "top edge", "boat centreline"]
Answer = Literal["go on", "measure the rest", "read again", "re-tape", "print again"]

READ = 0.15  # mm, one standard deviation of a careful reading with a steel rule; our assumption
WITHIN: dict[Kind, float] = {
    "holes": 0.9, "join": 1.0, "fold": 0.65, "centreline": 0.65, "top edge": 1.6, "boat centreline": 1.6,
}  # fmt: skip
"""How far off a reading may be [mm]. Those of the paper are chosen by a simulation, which is a test (test_tired_person.py).
The last two are for the boat: paper that is laid by hand is 0.8 mm off, one standard deviation."""

_THOUSAND = 1000.0  # scale is counted in thousandths, so that every unknown is near 1
_SURE = 2.0  # spreads: a scale that is less may be none
_UPRIGHT = ("centreline", "boat centreline")
_KEPT = 6  # unknowns before those of the joins: scale across and up, turn, skew, shift across and up


class SeamLine(msgspec.Struct, frozen=True):
    """One line where sheets are joined: at ``u`` where it is upright, else at ``v``."""

    upright: bool
    at: float


class Row(msgspec.Struct, frozen=True):
    """One line of the table: what to measure, what it should be, and how far off it may be [mm].

    Attributes:
        first, second: numbers of holes; the second only between holes. seam: the number of a seam, of a join.
    """

    name: str
    kind: Kind
    expected: float
    within: float
    first: int = 0
    second: int = 0
    seam: int = 0


class Paper(msgspec.Struct, frozen=True):
    """A template that is to be checked: holes by name, its seams, and the rows of the table."""

    holes: tuple[tuple[str, Point], ...]
    seams: tuple[SeamLine, ...]
    rows: tuple[Row, ...]


class Causes(msgspec.Struct, frozen=True):
    """The faults of a paper, as far as the readings show.

    Attributes:
        scale: how much too long it is, across and up, as a share; scale_spread: one standard deviation of each.
        turned, skewed: degrees; anticlockwise is plus. shift: of the paper, next to its turn about the middle of the
            holes and its scale about the datum: to starboard and up [mm].
        open: how far each seam is open [mm], below 0 where the sheets overlap too far.
    """

    scale: tuple[float, float]
    scale_spread: tuple[float, float]
    turned: float
    skewed: float
    shift: Point
    open: tuple[float, ...]


class Verdict(msgspec.Struct, frozen=True):
    """The answer to the readings of a taped-up paper.

    Attributes:
        out: names of rows that are further off than they may be. missing: names of rows that were not read.
        again: the row to read again, "" for none. causes: None where too little was read to say.
    """

    answer: Answer
    out: tuple[str, ...]
    missing: tuple[str, ...]
    again: str
    causes: Causes | None


def rows_for(
    holes: tuple[tuple[str, Point], ...], pairs: tuple[tuple[int, int], ...], joins: tuple[tuple[str, int, float], ...]
) -> tuple[Row, ...]:
    """Return the rows of a table: pairs of holes, joins, each hole to fold and centreline; then the paper on the boat.

    Args:
        pairs: numbers of holes. joins: the name of each, the number of its seam, and its length [mm].
    """
    made = []
    for a, b in pairs:
        (first, start), (second, end) = holes[a], holes[b]
        made.append(_row(f"{first} to {_second(first, second)}", "holes", math.dist(start, end), a, b))
    made += [_row(name, "join", length, seam=seam) for name, seam, length in joins]
    for number in range(len(holes)):
        made += [_to_line(holes, number, "fold"), _to_line(holes, number, "centreline")]
    places = [at for _, at in holes]
    numbers = range(len(holes))
    port, starboard = min(numbers, key=lambda n: places[n][0]), max(numbers, key=lambda n: places[n][0])
    made += [_to_line(holes, number, "top edge") for number in dict.fromkeys((port, starboard))]
    highest, lowest = (min(numbers, key=lambda n: (way * places[n][1], abs(places[n][0]))) for way in (-1.0, 1.0))
    return (*made, *(_to_line(holes, number, "boat centreline") for number in dict.fromkeys((highest, lowest))))


def _to_line(holes: tuple[tuple[str, Point], ...], number: int, line: Kind) -> Row:
    """Return the row of a hole to a line of the paper or of the boat."""
    name, (u, v) = holes[number]
    return _row(f"{name} to the {line}", line, abs(u if line in _UPRIGHT else v), number)


def _row(name: str, kind: Kind, expected: float, first: int = 0, second: int = 0, seam: int = 0) -> Row:
    return Row(name, kind, expected, WITHIN[kind], first, second, seam)


def _second(first: str, second: str) -> str:
    """Return a hole's name after another one's, without the motor that both belong to."""
    motor, comma, name = second.rpartition(", ")
    return name if comma and first.startswith(f"{motor}, ") else second


def judged(paper: Paper, read: dict[str, float]) -> Verdict:
    """Return what to do, by what was read [mm]; a name that is no row's is left out.

    The scale is to blame where by itself it would put a row out, and is surely there: then only another print helps.
    """
    known = tuple(row for row in paper.rows if row.name in read)
    missing = tuple(row.name for row in paper.rows if row.name not in read)
    out = tuple(row.name for row in known if is_out(row, read[row.name]))
    solved = _solved(paper, known, read)
    causes = None if solved is None else _causes(solved)
    if not out:
        return Verdict("measure the rest" if missing else "go on", out, missing, "", causes)
    again = _misread(paper, known, read, solved)
    if again:
        return Verdict("read again", out, missing, again, None)
    if causes is None:
        return Verdict("measure the rest" if missing else "re-tape", out, missing, "", None)
    return Verdict("print again" if _scaled(paper, causes) else "re-tape", out, missing, "", causes)


def is_out(row: Row, read: float) -> bool:
    """Return whether a reading is further off than it may be; allows 1e-6."""
    return abs(read - row.expected) > row.within + 1e-6


def bars(causes: Causes, nominal: tuple[float, float]) -> tuple[float, float]:
    """Return what the bars across and up of such a print measure [mm], where they should be ``nominal``."""
    return nominal[0] * (1.0 + causes.scale[0]), nominal[1] * (1.0 + causes.scale[1])


def readings_of(paper: Paper, causes: Causes) -> dict[str, float]:
    """Return what would be read on a paper with such faults [mm]."""
    values = np.array([*(share * _THOUSAND for share in causes.scale), math.radians(causes.turned) * _THOUSAND,
                       math.radians(causes.skewed) * _THOUSAND, *causes.shift, *causes.open])  # fmt: skip
    return dict(zip((row.name for row in paper.rows), _lengths(paper, paper.rows, values), strict=True))


def _solved(paper: Paper, rows: tuple[Row, ...], read: dict[str, float]) -> Fit | None:
    """Return the faults that fit the readings best; None where the readings do not fix them all."""
    if not rows:
        return None
    start = np.zeros(_KEPT + len(paper.seams))

    def model(values: Floats) -> tuple[Floats, Floats]:
        steps = np.eye(len(values)) * 1e-4
        slopes = [(_lengths(paper, rows, values + step) - _lengths(paper, rows, values - step)) / 2e-4 for step in steps]
        return _lengths(paper, rows, values), np.array(slopes).T

    solved = fit(model, start, np.array([read[row.name] for row in rows]), np.full(len(rows), READ))
    return None if len(solved.loose) else solved


def _lengths(paper: Paper, rows: tuple[Row, ...], values: Floats) -> Floats:
    """Return what is read on a paper with these faults: scale, turn and skew in thousandths, shift and joins [mm]."""
    across, up, turned, skewed = values[:4] / _THOUSAND
    middle = _middle(paper)
    on_paper, on_boat = [], []
    for _, place in paper.holes:
        u, v = (1.0 + across) * place[0], (1.0 + up) * place[1]
        for seam, wide in zip(paper.seams, values[_KEPT:], strict=True):
            off = place[0] - seam.at if seam.upright else place[1] - seam.at
            beyond = off * seam.at > 0.0  # on the side away from the centreline, or from the top edge
            step = math.copysign(1.0, seam.at) * wide if beyond else 0.0
            u, v = (u + step, v) if seam.upright else (u, v + step)
        u += skewed * v
        on_paper.append((u, v))
        u, v = u - middle[0], v - middle[1]
        c, s = math.cos(turned), math.sin(turned)
        on_boat.append((middle[0] + c * u - s * v + values[4], middle[1] + s * u + c * v + values[5]))
    made = []
    for row in rows:
        if row.kind == "holes":
            made.append(math.dist(on_paper[row.first], on_paper[row.second]))
        elif row.kind == "join":
            made.append(row.expected * (1.0 + (across if paper.seams[row.seam].upright else up)) + values[_KEPT + row.seam])
        else:
            axis = 0 if row.kind in _UPRIGHT else 1
            at = on_boat if row.kind in ("top edge", "boat centreline") else on_paper
            made.append(math.copysign(1.0, paper.holes[row.first][1][axis]) * at[row.first][axis])
    return np.array(made)


def _middle(paper: Paper) -> Point:
    count = len(paper.holes)
    return sum(at[0] for _, at in paper.holes) / count, sum(at[1] for _, at in paper.holes) / count


def _causes(solved: Fit) -> Causes:
    values, spreads = solved.values, np.sqrt(np.diag(solved.covariance))
    across, up, turned, skewed, *shift = (float(value) for value in values[:_KEPT])
    return Causes(
        (across / _THOUSAND, up / _THOUSAND), (float(spreads[0]) / _THOUSAND, float(spreads[1]) / _THOUSAND),
        math.degrees(turned / _THOUSAND), math.degrees(skewed / _THOUSAND), (shift[0], shift[1]),
        tuple(float(wide) for wide in values[_KEPT:]),
    )  # fmt: skip


def _scaled(paper: Paper, causes: Causes) -> bool:
    """Return whether the scale by itself would put a row out."""
    surely = [abs(share) > _SURE * spread for share, spread in zip(causes.scale, causes.scale_spread, strict=True)]
    scale = (causes.scale[0] if surely[0] else 0.0, causes.scale[1] if surely[1] else 0.0)
    alone = readings_of(paper, Causes(scale, (0.0, 0.0), 0.0, 0.0, (0.0, 0.0), (0.0,) * len(paper.seams)))
    return any(is_out(row, alone[row.name]) for row in paper.rows)


def _misread(paper: Paper, rows: tuple[Row, ...], read: dict[str, float], solved: Fit | None) -> str:
    """Return the row that alone disagrees with all others: without it nothing is out, and all the rest agree."""
    if solved is None:
        return ""
    worst = int(np.abs(solved.normalised).argmax())
    if abs(float(solved.normalised[worst])) <= CRITICAL:
        return ""
    rest = tuple(row for number, row in enumerate(rows) if number != worst)
    without = _solved(paper, rest, read)
    if without is None or float(np.abs(without.normalised).max(initial=0.0)) > CRITICAL:
        return ""
    return rows[worst].name if not any(is_out(row, read[row.name]) for row in rest) else ""
