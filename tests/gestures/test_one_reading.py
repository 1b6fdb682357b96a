"""Answer, *Next* and findings name one reading: the answer says to drill a pilot only once *Next* asks for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from app.document.examples import demonstrations
from app.findings.glance_lines import glance_lines
from geometry.asking.drop_steps import TWICE
from geometry.doubt import spreads
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.judge.first_reading import with_first_reading
from geometry.judge.words import answer
from geometry.readings.measures import measures
from geometry.readings.second_readings import OUTSIDE, WASHER, WASHER_ACROSS
from tests.designs import example_design, sure

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow
    from geometry.design.design import Design

PILOT = "drill one pilot only"
SETTLED = 30_000  # ms: until ladder and chances are known on a busy machine
LOWER = "main motor / lower port"


@pytest.fixture(autouse=True)
def few_drawn_boats(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spreads, "DRAWN", 400)


def _settle(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.waitUntil(lambda: window.findings._tracker.sure and window.findings._tracker.rungs is not None, timeout=SETTLED)
    qtbot.waitUntil(lambda: not window.card.next_step._next.waits, timeout=SETTLED)


def test_the_answer_names_the_pilot_only_once_next_asks_for_it(
    qtbot: QtBot, opened: Callable[[Design], MainWindow]
) -> None:
    """The worked example has room in 83 of 100 cases: readings come first, each twice at most, then the pilot."""
    window, document = (made := opened(example_design())), made.document
    _settle(qtbot, window)
    assert "pilot" not in window.card.next_step.key
    assert window.answer.sentence.startswith("Tight, measure first: ")
    assert PILOT not in window.answer.sentence
    spent = tuple(row.key for row in measures(document.design) for _ in range(TWICE))
    document.set_view_state(replace(document.view_state, again=spent, passed=(OUTSIDE, WASHER, WASHER_ACROSS)))
    _settle(qtbot, window)
    assert "pilot" in window.card.next_step.key
    assert PILOT in window.answer.sentence
    document.set_view_state(replace(document.view_state, sheets=True, again=()))
    assert PILOT in window.answer.sentence, "the sheets are stamped so"


def test_an_open_finding_names_the_reading_that_next_asks_for(
    qtbot: QtBot, opened: Callable[[Design], MainWindow]
) -> None:
    """In the twin launch the answer waits for a floor corner; the washers' own reading would be the corner radius."""
    window = opened(demonstrations()["twin-motor-launch"])
    _settle(qtbot, window)
    asked = window.card.next_step.title
    assert asked == "Floor corner at starboard, depth"
    assert window.answer.sentence == "Don’t drill yet. Measure first: floor corner at starboard, depth."
    row = next(row for row in window.findings.rows if row.text)
    assert row.text.startswith("First measure floor corner at starboard, depth. ")


def test_a_finding_in_doubt_names_the_guess_that_the_answer_rests_on() -> None:
    """Without a window too. A guess is not measured again: it never was. A load names its own reading."""
    checked = with_spreads(check(demonstrations()["twin-motor-launch"]))
    assert answer(checked).sentence.endswith("Measure first: floor corner at starboard, depth.")
    named = {each.text.partition(" First measure ")[2] for each in checked.findings if each.doubtful}
    assert named == {"floor corner at starboard, depth.", "inner skin again."}


def test_the_reading_that_is_asked_for_takes_the_place_of_a_findings_own() -> None:
    checked = with_spreads(check(example_design()))
    own, asked = (sure(each.of("washer", LOWER)).text for each in (checked, with_first_reading(checked, "transom.rake")))
    assert own.endswith(" again.")
    assert own.count("First measure") == asked.count("First measure") == 1
    assert not own.endswith("First measure rake again.")
    assert asked.endswith(" First measure rake again.")
    assert with_first_reading(checked).findings == checked.findings
    lines = glance_lines(with_first_reading(checked, "transom.rake"))
    assert any(line.short[0] == "First measure rake again." for line in lines)
