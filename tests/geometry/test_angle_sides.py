"""Angles are asked for without a sign: a word says to which side."""

from __future__ import annotations

import re

import pytest

from assets import design_names, design_text
from geometry.asking.question_words import how_to_read
from geometry.design_text import from_text
from geometry.edits.edits import enter
from geometry.edits.starting_shapes import starts
from geometry.readings.angle_sides import SIDES, read_angle
from geometry.readings.measures import measure
from geometry.units.units import AngleError
from templates_out.pages.measuring.measuring_items import items
from tests.designs import sure

START = starts()[0].design


@pytest.mark.parametrize(("key", "text", "value"), [
    ("transom.rake", "14", 14.0), ("transom.rake", "14 top", 14.0), ("transom.rake", "14 Bottom", -14.0),
    ("transom.rake", " 14° bottom ", -14.0), ("transom.rake", "-14", -14.0), ("transom.rake", "1 in 4 bottom", -14.036),
    ("transom.top_cut", "3.5 above", -3.5), ("transom.top_cut", "3.5 under", 3.5),
    ("well.front_lean", "5 aft", 5.0), ("well.front_lean", "5 forward", -5.0), ("well.front_lean", "0", 0.0),
    ("well.floor_rise", "2 falls", -2.0), ("well.floor_rise", "2 rises", 2.0), ("well.floor_rise", "0 falls", 0.0),
])  # fmt: skip
def test_a_word_says_to_which_side(key, text, value):
    """Plus is a top that is further aft, an inside edge below the square, and a floor that rises forward. Within 1e-3."""
    read = enter(START, sure(measure(START, key)), text)
    assert sure(measure(read, key)).get(read) == pytest.approx(value, abs=1e-3)
    assert read.readings[key].text == text.strip()


@pytest.mark.parametrize("text", ["-14 bottom", "+14 top", "14 above", "bottom", "14 bottom bottom", "14bottom"])
def test_a_sign_and_a_word_or_another_word_is_refused(text):
    with pytest.raises(AngleError):
        read_angle("transom.rake", text)


@pytest.mark.parametrize("text", ["bottom", "14 botom", " bottom ", "14 above"])
def test_a_refusal_repeats_what_was_typed_and_shows_a_word_that_can_be(text):
    """Not the figure alone: of "bottom" nothing would be left, and its owner would read that nothing was typed."""
    with pytest.raises(AngleError) as refused:
        read_angle("transom.rake", text)
    assert str(refused.value) == f'"{text.strip()}" does not read as an angle. Write it in degrees, like 14 or 14 bottom.'


def test_another_angle_has_no_words():
    with pytest.raises(AngleError):
        read_angle("transom.deadrise", "14 bottom")
    assert read_angle("transom.deadrise", "-3") == -3.0


@pytest.mark.parametrize("name", design_names())
def test_no_angle_with_a_word_has_a_sign_on_the_measuring_sheet(name):
    design = from_text(design_text(name))
    said = {row.name: row.how.lower() for row in items(design)}
    for title in ("Rake", "Floor slope", "Top cut", "Front of the well"):
        assert not re.search(r"\b(plus|minus)\b", said.get(title, "")), said[title]
    assert "Rake" in said


@pytest.mark.parametrize("key", SIDES)
def test_no_question_speaks_of_a_sign(key):
    asked = how_to_read(START, sure(measure(START, key)))
    assert SIDES[key].question in asked
    assert SIDES[key].other in asked
    assert not {"minus", "plus"} & set(asked.lower().replace(".", "").split())
