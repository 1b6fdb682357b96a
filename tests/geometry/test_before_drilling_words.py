"""The chance that the bracket will go on, in words."""

import pytest

from app.entries.card_items import Said, items, key_of
from geometry.drilling.bracket_chance import WAYS, Chances, chances
from geometry.drilling.bracket_chance_words import advice_words, card_lines, percent, way_rows
from geometry.edits.edits import set_units
from tests.designs import changed, example_design

HARDWARE = 8


def table(*shares):
    """Return chances with the same share for each way, for holes of 1/2, 17/32 and 9/16 in."""
    return Chances((12.7, 13.5, 14.2875), tuple(shares for _ in WAYS))


def of(design):
    table = chances(design, 0)
    assert table is not None
    return table


def test_a_chance_is_never_none_and_never_certain_and_is_rounded_down():
    said = [percent(share) for share in (0.0, 0.0099, 0.01, 0.629, 0.99, 0.9905, 1.0)]
    assert said == ["under 1 %", "under 1 %", "1 %", "62 %", "99 %", "over 99 %", "over 99 %"]


def test_the_advice_says_size_way_and_chance():
    design = example_design()
    now = advice_words(design, 0, of(design))
    assert now.startswith("Keep 17/32 in holes.")
    assert now.endswith("Drill every hole with a guide block.")
    assert advice_words(design, 0, table(0.1, 0.98, 0.99)).startswith("Keep 17/32 in holes.")
    assert advice_words(design, 0, table(0.98, 0.5, 0.99)).startswith("Choose 1/2 in holes.")
    assert advice_words(set_units(design, "mm"), 0, table(0.1, 0.98, 0.99)).startswith("Keep 13.5 mm holes.")
    assert "move the lower bolts away from the end" in advice_words(design, 0, table(0.1, 0.2, 0.97))


def test_the_card_says_it_below_the_size_of_the_lower_holes():
    design = example_design()
    shown = items(design, 0, HARDWARE)
    at = [key_of(item) for item in shown].index("mounts.0.lower_hardware.hole")
    texts = [item.text for item in shown[at + 1 : at + 3 + len(WAYS)] if isinstance(item, Said)]
    table = of(design)
    assert texts == [*card_lines(design, table), advice_words(design, 0, table)]
    assert texts[0] == "Will the bracket go on? With 1/2 in, 17/32 in or 9/16 in holes:"
    assert texts[1].startswith("Freehand: ")
    assert [row[0] for row in way_rows(table)] == [way.name for way in WAYS]


@pytest.mark.parametrize("field", ["rows", "lower"])
def test_the_card_names_the_diameter_that_is_missing(field):
    shown = items(changed(example_design(), **{f"mounts__0__bracket__{field}__diameter": None}), 0, HARDWARE)
    text = next(item.text for item in shown if isinstance(item, Said) and item.key == "goes on")
    assert text.startswith("Will the bracket go on? Not calculated: measure ")
