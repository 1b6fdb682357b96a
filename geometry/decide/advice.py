"""What to do next: a reading while one can change the answer, else the best cure, else the sheets."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.decide.ladder import Rung, rungs
from geometry.design.edits import hang
from geometry.design.measures import measures
from geometry.design.sense import CLOSE
from geometry.design.units import format_length
from geometry.judge.bracket import usual_plate_heights
from geometry.judge.words import answer, number

if TYPE_CHECKING:
    from geometry.design.whole import Design
    from geometry.judge.findings import Checked


class Step(msgspec.Struct, frozen=True):
    """The next step.

    Attributes:
        kind: "measure" (``key`` names the reading), "cure" (``design`` is the design after it), "sheets" or "hang".
        title, why: one line, and a sentence or two. button: word on its button, "" without one. label: undo step's name.
    """

    kind: Literal["measure", "cure", "sheets", "hang"]
    title: str
    why: str
    button: str = ""
    key: str = ""
    design: Design | None = None
    label: str = ""


def next_step(checked: Checked) -> Step:
    """Return what to do next on a checked design."""
    design = checked.design
    if not design.mounts:
        return Step("hang", "Hang a motor", "Choose its bracket on the card.")
    lacking = {finding.missing for finding in checked.findings if finding.state == "unknown"}
    fouled = checked.verdict == "fouled"
    wanted = lacking or (set() if fouled else set(checked.guesses))
    for measure in measures(design):
        if measure.key in wanted:
            return Step("measure", measure.name, measure.how, "", measure.key)
    if fouled:
        return raise_lower(checked) or Step(
            "cure", "Move the holes", answer(checked).sentence + " No row of the standard ladder clears it."
        )
    return Step("sheets", "Make the sheets", "Measure both bars on the first page before you mark anything.",
                "Make the sheets")  # fmt: skip


def raise_lower(checked: Checked) -> Step | None:
    """Return the cure that raises a fouled lower pair: the deepest drop that is not fouled, in the best row it leaves.

    The plate's height decides among the rows: the one nearest to the usual range, lowest first. None where nothing on
    the ladder helps, or the lower pair is not what fouls.
    """
    design = checked.design
    found = next((f for f in checked.findings if f.state == "fouled" and f.mounts and "lower" in f.at), None)
    if found is None:
        return None
    index = found.mounts[0]
    mount = design.mounts[index]
    if mount.drop is None or mount.bracket.rows is None:
        return None
    good = [rung for rung in rungs(design, index) if rung.state in ("clear", "tight") and rung.drop < mount.drop - CLOSE]
    if not good:
        return None
    deepest = max(rung.drop for rung in good)
    best = min((rung for rung in good if rung.drop == deepest), key=lambda rung: _off_usual(rung, mount.set_back))
    by = mount.drop - best.drop
    cured = hang(design, index, best.row, best.drop)
    drop = format_length(best.drop, design.units)
    up = "lowest" if best.row == 0 else f"{number(best.row)} up"
    return Step(
        "cure",
        f"Raise the lower pair by {format_length(by, design.units)}",
        f"Drop {drop}, motor {up}.",
        "Raise it",
        design=cured,
        label=f"Drop to {drop}",
    )


def _off_usual(rung: Rung, set_back: float | None) -> tuple[float, int]:
    if rung.plate_height is None:
        return 0.0, rung.row
    low, high = usual_plate_heights(set_back)
    return max(low - rung.plate_height, rung.plate_height - high, 0.0), rung.row
