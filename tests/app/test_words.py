"""What the panels say, as values: the answer's first words, findings of both sides in one line, what is next."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from app.words.card_words import lines, section_of, sections
from app.words.findings_words import finding_lines, limit_words, wood_words
from app.words.ladder_words import closed_line, rows, uprights
from app.words.next_words import first_sight, next_step
from assets import design_names, design_text
from geometry.decide.ladder import rungs
from geometry.design.boat import OldHole
from geometry.design.design_text import from_text
from geometry.design.edits import set_units, with_mount
from geometry.design.measures import SECTIONS, put_path
from geometry.design.starts import starts
from geometry.design.whole import Design
from geometry.judge.check import check
from geometry.judge.words import answer
from geometry.solid.bolts import bolts

NEVER = ("error", "invalid", "please", "successfully", "oops", "must")


def boat(name: str = "shallow-well-skiff") -> Design:
    return from_text(design_text(name))


def measured(design: Design) -> Design:
    return replace(design, readings={key: replace(one, state="measured") for key, one in design.readings.items()})


def test_fouled_says_so_first() -> None:
    told = answer(check(boat()))
    assert told.state == "fouled"
    assert told.sentence.startswith("Don't drill here: the lower port washer sits ")
    assert told.sentence.endswith(" too low for the well's floor.")


def test_a_guess_keeps_it_from_being_clear() -> None:
    design = with_mount(boat(), 0, drop=165.1, row=3)
    assert answer(check(design)).sentence.startswith("It fits, if ")
    assert answer(check(measured(design))).sentence.startswith("It fits")
    assert "if" not in answer(check(measured(design))).sentence.split()


def test_missing_readings_are_counted() -> None:
    design = put_path(boat(), "well.fillet_radius", None)
    told = answer(check(design))
    assert told.state in ("unknown", "fouled")
    assert told.sentence.startswith("Don't drill")


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("name", design_names())
def test_the_voice_keeps_to_its_words(name: str, units: str) -> None:
    design = set_units(boat(name), "in" if units == "in" else "mm")
    checked = check(design)
    said = [answer(checked).sentence, next_step(checked, 0, tuple(rungs(design, 0))).why]
    said += [f"{line.name} {line.text} {line.remedy}" for line in finding_lines(checked)]
    said += [f"{line.name} {line.how}" for section in range(1, 9) for line in lines(design, 0, section)]
    for sentence in said:
        assert not any(word in sentence.lower().split() for word in NEVER), sentence
        assert "None" not in sentence, sentence


def test_both_sides_that_say_the_same_stand_in_one_line() -> None:
    design = boat("cap-lip-launch")
    names = [line.name for line in finding_lines(check(design))]
    assert "Both upper washers" in names
    assert len(names) == len(set(names))


@pytest.mark.parametrize("name", design_names())
def test_every_finding_is_in_some_line_and_the_worst_is_first(name: str) -> None:
    checked = check(boat(name))
    found = finding_lines(checked)
    order = ("fouled", "unknown", "tight", "clear", "note")
    places = [order.index(line.state) for line in found]
    assert places == sorted(places)
    assert {(line.state, line.figure) for line in found} >= {(checked.findings[0].state, found[0].figure)}


def test_next_is_the_cure_then_the_guess_then_the_sheets() -> None:
    design = boat()
    cure = next_step(check(design), 0, tuple(rungs(design, 0)))
    assert cure.title == "Raise the lower pair by 1 1/2 in"  # 8 - 6 1/2: the first rung that clears
    assert cure.design is not None
    assert check(cure.design).verdict != "fouled"
    guess = next_step(check(cure.design), 0, tuple(rungs(cure.design, 0)))
    assert guess.title.startswith("Measure the ")
    assert section_of(cure.design, guess.key) > 0
    done = measured(cure.design)
    assert next_step(check(done), 0, tuple(rungs(done, 0))).title.startswith("Make the sheets")


def test_the_slip_waits_for_the_ladder() -> None:
    assert next_step(check(boat()), 0, None).design is None


def test_the_section_of_the_next_reading_is_open_at_first() -> None:
    design = with_mount(put_path(boat(), "well.fillet_radius", None), 0, drop=165.1, row=3)
    assert first_sight(check(boat())).section == SECTIONS.index("Drop and row") + 1
    assert answer(check(design)).sentence == "Don't drill yet: one reading is missing."
    assert first_sight(check(design)).section == SECTIONS.index("Well") + 1


def test_the_ladder_has_a_rung_for_each_row_and_marks_the_present_one() -> None:
    design = boat()
    found = tuple(rungs(design, 0))
    ladders = uprights(design, 0, found)
    assert [one.title for one in ladders[:3]] == ["8 in", "7 1/4 in", "6 1/2 in"]
    assert [sum(rung.present for rung in one.rungs) for one in ladders[:3]] == [1, 0, 0]
    # Rows that a drop leaves, common practice: 8 in keeps all five, 7 1/4 in four, 6 1/2 in three.
    assert [sum(rung.kind != "broken" for rung in one.rungs) for one in ladders[:3]] == [5, 4, 3]
    assert [place.words for place in rows(design, 0, found)] == ["lowest", "one up", "two up", "three up", "four up"]


def test_the_closed_ladder_is_one_line() -> None:
    assert closed_line(boat(), 0, 0.1) == "Drop 8 in · third hole from the top (two up) · plate level with the bottom"


def test_heads_tell_what_is_missing_else_the_gist() -> None:
    design = boat()
    told = {section.title: section.told for section in sections(design, 0)}
    assert told["Inside top edge"] == "cut level"
    assert told["Well"].endswith("guesses")
    blank = sections(put_path(design, "transom.rake", None), 0)
    assert blank[0].told == "1 to measure"


def test_an_entry_shows_the_result_and_edits_as_typed() -> None:
    from app.tools.typing import typed

    design = typed(boat(), "well.floor_port", "9 3/4 + 1/16")
    line = next(one for one in lines(design, 0, 3) if one.key == "well.floor_port")
    assert (line.rest, line.edit) == ("9 13/16", "9 3/4 + 1/16")
    plain = typed(boat(), "well.floor_port", "9 3/4")
    turned = next(one for one in lines(set_units(plain, "mm"), 0, 3) if one.key == "well.floor_port")
    assert (turned.rest, turned.edit) == ("247.7", "9 3/4 in")  # as typed, in its own unit: 247.65 mm
    in_mm = next(one for one in lines(set_units(design, "mm"), 0, 3) if one.key == "well.floor_port")
    assert in_mm.rest == "249.2"  # 9 13/16 in are 249.2375 mm


def test_an_open_finding_says_its_limit_and_whose_it_is():
    checked = check(boat())
    washer = next(one for one in checked.findings if one.check == "washer" and one.state == "fouled")
    assert limit_words(checked.design, washer) == "Advised 5/64 in, least 0 in: our choice."
    own = replace(checked.design, limits=replace(checked.design.limits, clearance=(0.0, 25.4)))
    washer = next(one for one in check(own).findings if one.check == "washer" and one.state == "fouled")
    assert limit_words(own, washer) == "Advised 1 in, least 0 in."  # the owner's, and nobody else's
    edge = next(one for one in checked.findings if one.check == "edge" and one.state == "tight")
    assert limit_words(checked.design, edge) == (
        "Least 1.5 diameters: NDS 12.5.1C, bolts in timber, unloaded and loaded edge."
    )
    clear = next(one for one in checked.findings if one.state == "clear")
    assert limit_words(checked.design, clear) == ""


def test_the_wood_left_beside_old_holes():
    """By hand: centres 2 in apart, half-inch holes: 2 - 1/2 = 1 1/2 in; 1 in plug: 1 1/4 in; 3/8 in apart: they meet."""
    design = boat()
    mount = design.mounts[0]
    assert mount.lower_hardware is not None
    design = with_mount(design, 0, lower_hardware=replace(mount.lower_hardware, hole=12.7), lower_tilt=0.0)
    thickness = replace(design.transom.thickness, low=design.transom.thickness.top)  # parallel faces: both tell the same
    design = replace(design, transom=replace(design.transom, thickness=thickness))
    bolt = next(one for one in bolts(design) if one.name == "lower starboard")
    assert bolt.v is not None

    def beside(away, **fields):
        hole = OldHole(name="old", at=(bolt.u + away, bolt.v), diameter=12.7, state="open", plug_diameter=None, reuse=False)
        return replace(design, old_holes=(replace(hole, **fields),))

    assert wood_words(beside(50.8), "old hole", 0) == "1 1/2 in of wood left"
    assert wood_words(beside(50.8, state="plugged", plug_diameter=25.4), "old hole", 0) == "1 1/4 in of wood left"
    assert wood_words(beside(9.525), "lower", 0) == "the holes meet by 1/8 in"
    assert wood_words(beside(50.8), "upper", 0) == ""  # too far from these
    assert wood_words(design, "old hole", 0) == ""
    assert wood_words(design, "outline", 3) == ""


def test_readings_come_first_while_most_is_guessed():
    shape = check(starts()[0].design)
    assert shape.verdict == "fouled"
    assert next_step(shape, 0, None).key == "transom.rake"
    known = replace(shape.design, readings={})
    assert next_step(check(known), 0, None).key == ""  # nothing is left to read: now a cure
