"""The panels' texts as values: the answer's first words, findings of both sides in one line, the next step."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from app.card.next_step import Next, first_view_state, next_step
from app.entries.entry_text import exactness, lines, sections
from app.findings.findings_text import finding_lines, limit_words, wood_words
from app.ladder.ladder_text import closed_line, rows, uprights
from app.ui.deciding_modes import FIT, LOW_ENOUGH
from assets import design_names, design_text
from geometry.asking.question_order import OLD_HOLES, SECOND_WAYS, questions
from geometry.decide.ladder import rungs
from geometry.design.boat import OldHole
from geometry.design.design import Design
from geometry.design.patterns import kind_of
from geometry.design_text import from_text
from geometry.doubt.spreads import with_spreads
from geometry.edits.confirm_or_buy import confirmed
from geometry.edits.edits import confirm, enter_value, set_units, with_mount
from geometry.edits.reading_order import FIRST
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.words import answer
from geometry.readings.measures import SECTIONS, measures, put_path
from geometry.readings.second_readings import OUTLINE, OUTSIDE, WASHER
from geometry.solid.placed_bolts import bolts
from tests.designs import all_guesses, example_design, roomy
from tests.reference.test_trade_boats import tender

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.judge.findings import Finding

NEVER = ("error", "invalid", "please", "successfully", "oops", "must")


def boat(name: str = "shallow-well-skiff") -> Design:
    return from_text(design_text(name))


def measured(design: Design) -> Design:
    return replace(design, readings={key: replace(reading, state="measured") for key, reading in design.readings.items()})


def test_fouled_says_so_first() -> None:
    answered = answer(check(boat()))
    assert answered.state == "fouled"
    assert answered.sentence.startswith("Don't drill here: the lower port washer overlaps the well floor")
    assert answered.sentence.endswith(" in.")


def test_a_guess_keeps_it_from_being_clear() -> None:
    design = with_mount(boat(), 0, drop=184.15, row=3)
    assert answer(check(design)).sentence.startswith("Nothing is fouled")  # in a drag: no more is known
    guessed = answer(with_spreads(check(design)))
    assert guessed.state == "unknown"
    assert guessed.sentence.startswith("Don't drill yet. Measure first: ")
    assert answer(with_spreads(check(roomy()))).sentence.startswith("It fits")


def test_a_boat_of_guesses_alone_has_nothing_measured_yet() -> None:
    """In the window only, where a question is at the top left. One reading, and the answer says what it knows."""
    design = all_guesses(boat())
    assert answer(check(design), "transom.rake").sentence == "Nothing measured yet. Answer the questions at the top left."
    assert answer(check(design)).sentence.startswith("Don't drill here")
    measured = enter_value(design, next(row for row in measures(design) if row.key == "transom.rake"), 14.0)
    assert answer(check(measured), "well.floor_port").sentence.startswith("Don't drill here")
    assert drillable(with_spreads(check(design))).answer == "no"


def test_little_chance_lets_only_a_pilot_be_drilled() -> None:
    said = answer(with_spreads(check(example_design())))
    assert said.word == "tight, measure first"
    assert (said.state, said.sentence) == ("tight", "Tight, measure first: drill one pilot only, at the lower port hole.")
    assert answer(check(example_design())).word == "tight"  # in a drag nothing is said of doubt


def test_a_fouled_part_in_doubt_asks_to_measure_first() -> None:
    """Half a millimetre into the floor, with readings good to 2 mm: it may well clear."""
    design = example_design()
    deep = next(measure for measure in measures(design) if measure.key == "well.floor_port")
    room = check(design).of("washer", "main motor / lower port")
    assert room is not None
    assert room.value is not None
    near = deep.set(design, (deep.get(design) or 0.0) - room.value - 0.5)
    said = answer(with_spreads(check(near)))
    assert said.word == "fouled, measure first"
    assert said.sentence.startswith("Don't drill here, measure first: the lower port washer overlaps the well floor")
    assert answer(check(near)).sentence.startswith("Don't drill here: the lower port washer")


def test_what_only_the_launch_waits_for_is_named_after_the_answer() -> None:
    said = answer(with_spreads(check(roomy(boat__plate__power_kw=20.0))))
    assert said.state == "tight"
    assert said.sentence.startswith("It fits")
    assert said.sentence.endswith("Before you launch: motor's power, motor's weight.")  # its capacity plate gives only power


def test_missing_readings_are_counted() -> None:
    design = put_path(boat(), "well.fillet_radius", None)
    answered = answer(check(design))
    assert answered.state in ("unknown", "fouled")
    assert answered.sentence.startswith("Don't drill")


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
    shown_lines = finding_lines(checked)
    order = ("fouled", "unknown", "tight", "clear", "note")
    places = [order.index(line.state) for line in shown_lines]
    assert places == sorted(places)
    assert {(line.state, line.figure) for line in shown_lines} >= {(checked.findings[0].state, shown_lines[0].figure)}


def what_next(design: Design, again: Sequence[str] = (), passed: tuple[str, ...] = SECOND_WAYS) -> Next:
    """Return the next step of a boat with its chances and its ladder; second ways are passed by."""
    return next_step(with_spreads(check(design)), 0, tuple(rungs(design, 0)), again, passed)


def test_next_is_the_reading_then_the_move_then_the_sheets() -> None:
    """The corner radius is the only one of the five that is a guess: no move comes before it."""
    design = boat()
    first = what_next(design)
    assert (first.key, first.design) == (FIRST[2], None)
    move = what_next(confirm(design, first.key))
    # At 7 1/4 in, 3/4 in higher, the bolts sit at the slot's very end: 1/16 in less keeps them off it.
    assert move.title == "Raise the lower bolts 11/16 in"
    assert move.design is not None
    assert check(move.design).verdict != "fouled"
    last = what_next(move.design)
    assert last.title.startswith("Make the sheets")
    assert last.why.startswith("Nothing left to measure would change this.")


def test_a_reading_that_changes_no_hole_and_no_sheet_is_never_asked_for() -> None:
    """Four guesses: only the inner skin decides anything, the torque. Height, length and shaft are only for the launch."""
    guessed = ("transom.height", "transom.skin_inside", "well.length", "mounts.0.leg")
    design = with_mount(boat(), 0, drop=185.7375)
    readings = {
        key: replace(reading, state="guess" if key in guessed else "measured") for key, reading in design.readings.items()
    }
    blank_reading = next(iter(design.readings.values()))
    readings |= {key: replace(blank_reading, state="guess", spread=None) for key in guessed if key not in readings}
    design = replace(design, readings=readings)
    assert set(guessed) <= set(check(design).guesses)
    assert next_step(check(design), 0, None).waits  # without chances nobody knows what decides
    step = what_next(design)
    assert (step.key, step.title) == ("transom.skin_inside", "Measure the inner skin")
    assert step.why.endswith(exactness(next(measure for measure in measures(design) if measure.key == step.key), design))
    assert what_next(confirm(design, step.key)).title.startswith("Make the sheets")


def test_the_five_readings_that_decide_the_lower_holes_come_first() -> None:
    """In their order, from a new boat on, with chances or without. No move comes while one of them is a guess."""
    design, asked = starts()[0].design, []
    for _ in range(5):
        step = next_step(check(design), 0, tuple(rungs(design, 0)))
        assert step.key == what_next(design).key
        asked.append(step.key)
        design = confirm(design, step.key)
    assert asked == list(FIRST)
    assert next_step(check(design), 0, tuple(rungs(design, 0))).key not in FIRST


def test_a_new_boat_is_asked_for_in_the_order_of_the_sheet() -> None:
    """The readings, the pattern, the parts, old holes once, the second ways: as `questions` lists them."""
    design, names = starts()[0].design, []
    listed = questions(design)
    for asking in listed[:11]:
        step = what_next(design, passed=())
        assert step.key in (*asking.keys, asking.name)
        names.append(step.key)
        if step.key == OLD_HOLES:
            design = replace(design, look_for_holes=False)
        elif step.key in SECOND_WAYS:
            row = next(row for row in measures(design) if row.key == step.key)
            design = enter_value(design, row, {OUTSIDE: 258.8, WASHER: 218.5}.get(step.key, 38.1))
        elif len(asking.keys) == 1:
            design = confirm(design, step.key)
        else:
            design = confirmed(design, [row for row in measures(design) if row.key in asking.keys])
    assert names[-4:] == [OLD_HOLES, *(key for key in SECOND_WAYS if key != OUTLINE)]  # its outline is a guess
    assert what_next(design, passed=()).design is not None  # now a move


def test_room_in_doubt_is_read_again_before_a_move_where_that_may_help() -> None:
    """By hand: room of r where the spread is s holds in Φ(r/s) of all cases, shown in tenths."""
    design = measured(boat())
    drop = next(drop / 16 * 25.4 for drop in range(128, 90, -1)
                if (lower := washers(with_mount(design, 0, drop=drop / 16 * 25.4, row=2))) and (lower[0].value or 0) > 2.2)
    design = with_mount(design, 0, drop=drop, row=2)
    first = what_next(design)
    assert (first.title, first.again) == ("Measure the floor depth at port again", True)
    worst = next(f for f in with_spreads(check(design)).findings if f.check == "washer" and f.at.endswith("lower port"))
    assert worst.value is not None
    assert worst.spread is not None
    tenths = min(9, round(10 * 0.5 * (1 + math.erf(worst.value / worst.spread / math.sqrt(2)))))
    assert f"It is within its limit in about {tenths} of 10 cases. To 1/16 in." in first.why
    asked = [first.key]
    while (then := what_next(design, asked)).again:
        asked.append(then.key)
        assert asked.count(then.key) <= 2
    assert then.design is not None  # all was read as often as it may be: now the move
    assert check(then.design).verdict != "fouled"


def test_a_lower_step_that_clears_after_all_is_offered_and_may_be_left() -> None:
    design = measured(with_mount(boat(), 0, drop=165.1, row=2))  # 6 1/2 in, where 7 5/16 in has room enough
    step = what_next(design)
    assert step.title == "7 5/16 in clears after all: hang it lower?"
    assert step.design is not None
    assert (step.leave, what_next(design, passed=(*SECOND_WAYS, step.leaves)).opens) == ("Leave it here", "sheets")


def test_a_bracket_read_as_the_standard_one_may_be_taken_for_it_or_not() -> None:
    design = boat()
    for key, value in (("rows.half_spacing", 163.5), ("rows.pitch", 19.05), ("lower.half_spacing", 124.6),
                       ("lower.slots.0.0", 204.8)):  # fmt: skip
        row = next(row for row in measures(design) if row.key == f"mounts.0.bracket.{key}")
        design = enter_value(design, row, value)
    step = what_next(design)
    assert (step.title, step.key, step.button) == ("Is the bracket the standard one?", "", "It is")
    assert step.design is not None
    assert kind_of(step.design.mounts[0].bracket) == "standard"
    left = what_next(design, passed=(step.leaves,))
    assert (step.leave, left.title, left.again) == ("It is not", "Measure the lower slots, half spacing again", True)


def washers(design: Design) -> list[Finding]:
    """Return the lower washers' findings, the worst first."""
    return [finding for finding in check(design).findings if finding.check == "washer" and " / lower " in finding.at]


def test_what_fouls_beyond_doubt_is_cured_at_once() -> None:
    design = measured(with_mount(boat(), 0, drop=209.55))  # 8 1/4 in: both washers overlap by more than 6 mm
    assert what_next(design).button == "Raise it"


def test_where_no_row_clears_the_slip_opens_the_search() -> None:
    design = measured(boat("thrice-drilled-runabout"))
    step = what_next(design)
    assert (step.title, step.button, step.opens) == ("No height or drop fits", "Find a fit", FIT)


def test_what_clamps_on_is_clamped_on_and_offers_no_sheets() -> None:
    checked = check(tender())
    step = next_step(checked, 0, None)
    assert step.title == "Clamp the motor on"
    assert (step.button, step.opens) == ("See how low", LOW_ENOUGH)
    assert first_view_state(checked).section == SECTIONS.index("Motor and bracket") + 1
    heads = {section.title: section.summary for section in sections(checked.design, 0)}
    assert {heads[title] for title in ("Upper holes", "Drop and height", "Hardware")} == {"none, it clamps on"}
    wide = replace(checked.design, mounts=(replace(checked.design.mounts[0], bracket=replace(
        checked.design.mounts[0].bracket, jaw=(50.0, 60.0))),))  # fmt: skip
    assert check(wide).verdict == "fouled"
    assert next_step(check(wide), 0, None).title == "Look at the findings"


def test_the_slip_waits_for_chances_and_ladder() -> None:
    known = with_spreads(check(measured(boat())))
    assert next_step(check(known.design), 0, tuple(rungs(known.design, 0)), (), SECOND_WAYS).waits
    assert next_step(known, 0, None, (), SECOND_WAYS).waits
    assert next_step(known, 0, tuple(rungs(known.design, 0)), (), SECOND_WAYS).design is not None


def test_the_card_is_folded_at_first_while_a_reading_is_asked_for() -> None:
    design = with_mount(put_path(boat(), "well.fillet_radius", None), 0, drop=184.15, row=3)
    assert first_view_state(check(measured(boat()))).section == SECTIONS.index("Drop and height") + 1
    assert answer(check(design)).sentence == "Don't drill yet: one reading is missing."
    assert first_view_state(check(design)).section == 0


def test_the_ladder_has_a_rung_for_each_row_and_marks_the_present_one() -> None:
    design = boat()
    every_rung = tuple(rungs(design, 0))
    ladders = uprights(design, 0, every_rung)
    assert [ladder.title for ladder in ladders[:3]] == ["8 in", "7 1/4 in", "6 1/2 in"]
    assert [sum(rung.present for rung in ladder.rungs) for ladder in ladders[:3]] == [1, 0, 0]
    # Usable holes of a drop, our calculation: 8 in keeps all five, 7 1/4 in four, 6 1/2 in three.
    assert [sum(rung.kind != "broken" for rung in ladder.rungs) for ladder in ladders[:3]] == [5, 4, 3]
    words = ["lowest", "one hole up", "two holes up", "three holes up", "four holes up"]
    assert [place.words for place in rows(design, 0, every_rung)] == words


def test_the_closed_ladder_is_one_line() -> None:
    assert closed_line(boat(), 0, 0.1) == "Drop 8 in · 2nd hole from the top (one hole up) · AV plate level with the bottom"


def test_heads_say_what_is_missing_else_the_gist() -> None:
    design = boat()
    heads = {section.title: section.summary for section in sections(design, 0)}
    assert heads["Inside top edge"] == "cut level"
    assert heads["Well"] == "7 of 9 readings"
    blank = sections(put_path(design, "transom.rake", None), 0)
    assert blank[0].summary == "7 of 9 readings"


def test_an_entry_shows_the_result_and_edits_as_typed() -> None:
    from app.entries.typed_entries import typed

    design = typed(boat(), "well.floor_port", "9 3/4 + 1/16")
    line = next(line for line in lines(design, 0, 3) if line.key == "well.floor_port")
    assert (line.rest, line.edit) == ("9 13/16", "9 3/4 + 1/16")
    plain = typed(boat(), "well.floor_port", "9 3/4")
    turned = next(line for line in lines(set_units(plain, "mm"), 0, 3) if line.key == "well.floor_port")
    assert (turned.rest, turned.edit) == ("247.7", "9 3/4 in")  # as typed, in its own unit: 247.65 mm
    in_mm = next(line for line in lines(set_units(design, "mm"), 0, 3) if line.key == "well.floor_port")
    assert in_mm.rest == "249.2"  # 9 13/16 in are 249.2375 mm


def test_an_open_finding_says_its_limit_and_whose_it_is():
    checked = check(boat())
    washer = next(finding for finding in checked.findings if finding.check == "washer" and finding.state == "fouled")
    assert limit_words("in", washer) == "Advised 1/8 in, limit 0 in: our assumption."
    own = replace(checked.design, limits=replace(checked.design.limits, clearance=(0.0, 25.4)))
    washer = next(finding for finding in check(own).findings if finding.check == "washer" and finding.state == "fouled")
    assert limit_words("in", washer) == "Advised 1 in, limit 0 in."  # the owner's, and nobody else's
    edge = next(finding for finding in checked.findings if finding.check == "edge" and finding.state == "tight")
    assert limit_words("in", edge) == (
        "Limit 1.5 diameters: from the standard (NDS 12.5.1C, bolts in timber, unloaded and loaded edge)."
    )
    clear = next(finding for finding in checked.findings if finding.state == "clear")
    assert limit_words("in", clear) == ""
    drilled = boat("thrice-drilled-runabout")
    near = [finding for finding in check(drilled).findings if finding.check == "old_hole" and finding.state == "fouled"]
    wood = next(finding for finding in near if finding.unit == "diameters")
    assert limit_words("in", wood) == "Advised 1 diameter, limit 0.5 diameters: our assumption."


def test_the_wood_left_next_to_old_holes():
    """By hand: centres 2 in apart, half-inch holes: 2 - 1/2 = 1 1/2 in; 1 in plug: 1 1/4 in; 3/8 in apart: they meet."""
    design = boat()
    mount = design.mounts[0]
    assert mount.lower_hardware is not None
    design = with_mount(design, 0, lower_hardware=replace(mount.lower_hardware, hole=12.7), lower_tilt=0.0)
    thickness = replace(design.transom.thickness, low=design.transom.thickness.top)  # parallel faces: both are equal
    design = replace(design, transom=replace(design.transom, thickness=thickness))
    bolt = next(bolt for bolt in bolts(design) if bolt.name == "lower starboard")
    assert bolt.v is not None

    def next_to(away, **fields):
        hole = OldHole(name="old", at=(bolt.u + away, bolt.v), diameter=12.7,
                       state="open", plug_diameter=None, reuse=False, drill=None)  # fmt: skip
        return replace(design, old_holes=(replace(hole, **fields),))

    assert wood_words(next_to(50.8), "old hole", 0) == "1 1/2 in of wood left"
    assert wood_words(next_to(50.8, state="plugged", plug_diameter=25.4), "old hole", 0) == "1 1/4 in of wood left"
    assert wood_words(next_to(9.525), "lower", 0) == "the holes overlap by 1/8 in"
    assert wood_words(next_to(50.8), "upper", 0) == ""  # too far from these
    assert wood_words(design, "old hole", 0) == ""
    assert wood_words(design, "outline", 3) == ""


def test_readings_come_first_while_most_is_guessed():
    """The floor's depth first: it moves the washers most."""
    shape = check(starts()[0].design)
    assert shape.verdict == "fouled"
    assert next_step(shape, 0, None).key == "well.floor_port"
    assert next_step(with_spreads(shape), 0, None).key == "well.floor_port"
    assert next_step(with_spreads(shape), 0, None).title == "Measure the floor depth at port"
    known = replace(shape.design, readings={}, look_for_holes=False)
    assert what_next(known).key == ""  # nothing is left to read: now a move
