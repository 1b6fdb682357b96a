"""The command `drilled` and the card's entries: the holes as drilled next to the plan."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from app.commands.command_line import main
from app.entries.card_items import Act, Said, items, short_name
from app.entries.entry_text import Line
from geometry.design_text import from_text, to_text
from geometry.drilling.as_drilled import Easing
from geometry.drilling.as_drilled_words import easing_words
from geometry.edits.choices import Choice
from geometry.readings.drilled_readings import DRILLED, with_drilled
from tests.designs import example_design, roomy
from tests.geometry.test_as_drilled import drilled

HOLES = 7  # the card's section


@pytest.fixture
def saved(tmp_path):
    def save(design):
        path = tmp_path / "boat.boltwell"
        path.write_text(to_text(design), encoding="utf-8")
        return str(path)

    return save


def test_a_boat_drilled_as_planned_goes_on(saved, capsys):
    assert main(["drilled", saved(drilled(roomy()))]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Lower port: outside as planned; inside as planned." in said
    assert "The bracket goes on these holes" in said
    assert "No check is worse with the holes as drilled." in said


def test_a_hole_that_is_off_is_named_with_what_to_do(saved, capsys):
    off = drilled(roomy(), lower_port=(0.0, -5.0), upper_starboard=(2.0, 0.0))
    path = saved(off)
    assert main(["drilled", path]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "Lower port: outside 3/16 in down; inside 3/16 in down. That is more than 1/8 in off." in said
    assert "The bracket does not go on these holes." in said
    assert "Ease the upper starboard hole by 1/32 in towards port, with a round file." in said
    assert from_text(Path(path).read_text(encoding="utf-8")) == off  # the plan and its readings stay


def test_json_has_holes_brackets_and_both_checks(saved, capsys):
    assert main(["drilled", saved(drilled(roomy(), upper_starboard=(2.0, 0.0))), "--json"]) == 1
    said = json.loads(capsys.readouterr().out)
    hole = next(each for each in said["holes"] if each["hole"] == "upper starboard")
    assert hole["outer_off"] == pytest.approx([2.0, 0.0], abs=1e-6)
    assert hole["how"] == "rule"
    (bracket,) = said["brackets"]
    assert bracket["excess"] == pytest.approx(0.2, abs=2e-3)
    assert bracket["easings"][0]["hole"] == "upper starboard"
    assert {each["check"] for each in said["planned"]["findings"]} == {each["check"] for each in said["as_drilled"]["findings"]}


def test_a_boat_without_holes_as_drilled_is_refused_with_what_to_do(saved, capsys):
    for design in (roomy(), with_drilled(roomy(), 0)):
        assert main(["drilled", saved(design)]) == 2
        said = " ".join(capsys.readouterr().err.split())
        assert said.startswith("boltwell: boat.boltwell has no holes as drilled. In section 7 of the card press Enter the")


def test_an_end_that_was_not_read_leaves_a_blank_and_the_bracket_not_judged(saved, capsys):
    whole = drilled(roomy())
    part = tuple(replace(each, outer=(None, None)) if each.hole == "lower port" else each for each in whole.as_drilled)
    assert main(["drilled", saved(replace(whole, as_drilled=part))]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "Lower port: outside not read; inside as planned." in said
    assert "Read lower port as drilled, outside, across first." in said


def test_the_card_offers_the_entries_then_says_what_follows_and_takes_them_away():
    design = example_design()
    offer = next(item for item in items(design, 0, HOLES) if isinstance(item, Act) and item.key == "drilled")
    assert not [item for item in items(design, 0, HOLES) if isinstance(item, Line) and DRILLED in item.key]
    entered = offer.make()
    rows = [item for item in items(entered, 0, HOLES) if isinstance(item, Line) and DRILLED in item.key]
    assert len(rows) == 32
    texts = [item.text for item in items(entered, 0, HOLES) if isinstance(item, Said)]
    assert "Nothing is entered yet. The plan does not change by it." in texts
    texts = [item.text for item in items(drilled(lower_port=(0.0, -5.0)), 0, HOLES) if isinstance(item, Said)]
    assert any(text.startswith("Lower port: outside 3/16 in down") for text in texts)
    assert any(text.startswith("Fouled, ") and "lower port washer" in text for text in texts)
    gone = next(item for item in items(entered, 0, HOLES) if isinstance(item, Act) and item.key == "drilled.off").make()
    assert gone == design


def test_the_card_asks_for_the_tool_of_each_hole():
    entered = with_drilled(example_design(), 0)
    ways = [item for item in items(entered, 0, HOLES) if isinstance(item, Choice) and item.key.endswith(".how")]
    assert [choice.name for choice in ways] == [
        f"{hole} as drilled, read with" for hole in ("Lower port", "Lower starboard", "Upper port", "Upper starboard")
    ]
    assert {short_name(choice) for choice in ways} == {"Read with"}
    first = ways[0]
    other = first.put([option.short for option in first.options].index("calliper"))
    assert [each.how for each in other.as_drilled] == ["calliper", "rule", "rule", "rule"]


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_what_is_filed_off_is_rounded_up(unit):
    words = easing_words(Easing("lower port", 0.41, 0.0, -1.0, "ease"), unit)
    said = "1/32 in" if unit == "in" else "0.5 mm"
    assert words.startswith(f"Ease the lower port hole by {said} downwards, with a round file.")
