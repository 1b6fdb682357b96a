"""A walk from *New* to the sheets with the shallow-well skiff's figures, without a window: answers as an owner types them.

The skiff's drain tube is at the centreline, four inches from any washer: its owner says that nothing is in the way.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
import pytest
from msgspec.structs import replace

from app.card.next_step import SHEETS, Next, next_step
from app.card.one_press_group import group_of
from app.card.question import question
from app.document.examples import demonstration
from app.entries import typed_entries as typing
from geometry.decide.ladder import rungs
from geometry.doubt import spreads
from geometry.doubt.spreads import with_spreads
from geometry.edits.edits import set_units
from geometry.edits.starting_shapes import guess, starts
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.readings.figures_in_sentences import figure
from geometry.readings.measures import measure
from geometry.readings.second_readings import OUTSIDE, WASHER, WASHER_ACROSS
from geometry.solving.comparisons import comparisons
from geometry.units.units import format_length
from tests.designs import IN, sure

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked


class Steps(msgspec.Struct):
    """The steps of a walk: the boat, its keys and titles in order, the answers, and all presses, Enter among them."""

    design: Design
    titles: list[str] = msgspec.field(default_factory=list)
    keys: list[str] = msgspec.field(default_factory=list)
    answers: int = 0
    presses: int = 0
    to_holes: tuple[int, int] | None = None
    again: tuple[str, ...] = ()


@pytest.fixture(autouse=True)
def few_drawn_boats(monkeypatch: pytest.MonkeyPatch) -> None:
    """Draw enough boats for a walk: it is faster."""
    monkeypatch.setattr(spreads, "DRAWN", 400)


def text_of(true: Design, design: Design, key: str) -> str:
    """Return what a tape, a level or calipers show on the true boat, in the unit of the design."""
    if key == "transom.top_cut":
        return str(true.transom.top_cut)
    row = sure(measure(true, key))
    if key in (OUTSIDE, WASHER, WASHER_ACROSS):
        corner = replace(sure(true.readings.get("well.fillet_radius")), value=38.1)
        known = replace(true, readings={key: corner, WASHER_ACROSS: corner})
        value = 38.1 if key == WASHER_ACROSS else next(each.expect(known) for each in comparisons(known) if each.key == key)
    else:
        value = sure(row.get(true))
    if row.kind != "length":
        return f"{value:g}" if row.kind == "angle" else figure(design, row, value)
    return format_length(value, design.units, denominator=16) if design.units == "in" else f"{value:.0f}"


def walked(design: Design) -> Steps:
    """Walk to the button for the sheets; a question is answered, a group and a move are pressed."""
    true, steps = demonstration(), Steps(design)
    for _ in range(40):
        step, checked = _next(steps)
        steps.titles.append(step.title)
        steps.keys.append(step.key)
        if steps.to_holes is None and checked.sure and drillable(checked).answer == "yes":
            steps.to_holes = steps.answers, steps.presses
        steps.presses += 1
        group = None if step.again or not step.key else group_of(steps.design, 0, step.key)
        if step.opens == SHEETS:
            return steps
        if group is not None:
            steps.design = group.main.make()
        elif step.key:
            steps.answers += 1
            asked = sure(question(step.asked_on(steps.design), step.key, alone=step.again))
            for key in (asked.key, *asked.also):
                text = text_of(true, steps.design, key)
                steps.design = (typing.typed_again if step.again else typing.typed)(steps.design, key, text)
            steps.again = (*steps.again, step.key) if step.again else steps.again
        else:
            steps.design = sure(step.design)
    raise AssertionError(steps.titles)


def _next(steps: Steps) -> tuple[Next, Checked]:
    """Return the next step, with chances and ladder only where it waits for them, as in the window."""
    checked = check(steps.design)
    step = next_step(checked, 0, None, steps.again)
    if not step.waits:
        return step, checked
    checked = with_spreads(checked)
    return next_step(checked, 0, tuple(rungs(steps.design, 0)), steps.again), checked


@pytest.mark.parametrize("units", ["in", "mm"])
def test_from_new_to_the_sheets_with_few_answers(units: str) -> None:
    """The aims: 14 answers and 16 presses for the holes, then six of each to the sheets.

    They are counted from the last move too, which is earlier than the holes are allowed: five answers, and the sheets' button.
    """
    walk = walked(set_units(starts()[0].design, "mm" if units == "mm" else "in"))
    answers, presses = sure(walk.to_holes)
    assert answers <= 14, walk.titles
    assert presses <= 16, walk.titles
    assert walk.answers - answers <= 6
    assert walk.presses - presses <= 6
    last_move = max(at for at, key in enumerate(walk.keys[:-1]) if not key)
    assert len(walk.keys[last_move + 1 : -1]) <= 5, walk.titles
    checked = with_spreads(check(walk.design))
    assert drillable(checked).answer == "yes"
    assert [reason.key for reason in drillable(checked).reasons] == []  # no guess is left that the holes rest on
    assert [each.guesses for each in checked.findings if each.stops != "never" and each.guesses] == []
    true = replace(demonstration(), mounts=(replace(demonstration().mounts[0], drop=walk.design.mounts[0].drop,
                                                    row=walk.design.mounts[0].row),))  # fmt: skip
    inside = [each for each in check(true).findings if each.check in ("washer", "nut", "socket", "neighbour", "row")]
    assert [each.text for each in inside if each.state == "fouled"] == []


def test_a_guess_that_hardly_moves_the_seat_of_a_bolt_is_not_counted() -> None:
    """With the five and the parts known, the seat rests on both thicknesses. Eleven other guesses move it by nothing."""
    walk = walked(starts()[0].design)
    design = walk.design
    for key in ("transom.thickness.top", "transom.thickness.low"):
        design = guess(design, [sure(measure(design, key))])
    checked = with_spreads(check(design))
    seats = [each.guesses for each in checked.findings if each.check == "seat" and each.guesses]
    assert set(seats) == {("transom.thickness.low", "transom.thickness.top")}


def test_the_walk_ends_by_saying_that_nothing_is_left_to_measure() -> None:
    walk = walked(starts()[0].design)
    checked = with_spreads(check(walk.design))
    last = next_step(checked, 0, tuple(rungs(walk.design, 0)), walk.again)
    assert last.why.startswith("Nothing left to measure would change this.")
    assert walk.keys.count("old_holes") == 1
    assert len(set(walk.keys) - {""}) == len([key for key in walk.keys if key]) - len(walk.again)
    moves = [at for at, key in enumerate(walk.keys) if not key]
    assert moves[0] > walk.keys.index("transom.rake")  # no move before the five readings
    assert walk.design.mounts[0].drop == pytest.approx(7.25 * IN)  # one step up
