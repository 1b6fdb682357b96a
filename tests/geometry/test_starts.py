"""Starting shapes, and what is added to a boat: each is valid, and every reading behind a finding is a guess."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from app.entries.card_items import answered, items, key_of
from geometry.decide.ladder import ladders
from geometry.design.patterns import bracket, kind_of
from geometry.design_text import from_text, to_text
from geometry.doubt.spreads import with_spreads
from geometry.edits import additions
from geometry.edits.choices import Choice, choices
from geometry.edits.edits import enter
from geometry.edits.starting_shapes import blank, starts
from geometry.judge.check import check
from geometry.judge.drillable import drillable, lacking_readings
from geometry.judge.words import answer
from geometry.readings.assumption_measures import SECTION
from geometry.readings.measures import measure, measures
from tests.designs import IN, changed, example_design, sure, twin_design

STARTS = {start.title: start.design for start in starts()}
STARTS |= {f"{start.title}, mm": start.design for start in starts("mm")}


@pytest.mark.parametrize("title", STARTS)
def test_a_starting_shape_is_a_design_that_can_be_saved_and_checked(title: str) -> None:
    design = STARTS[title]
    assert from_text(to_text(design)) == design
    assert lacking_readings(check(design)) == []
    assert ladders(design)


@pytest.mark.parametrize("title", STARTS)
def test_every_value_that_a_finding_rests_on_is_a_guess(title: str) -> None:
    design = STARTS[title]
    rests = tuple({key for finding in check(design).findings for key in finding.rests})
    resting = [row for row in measures(design) if row.key.startswith(rests)]
    held = [row for row in resting if not row.free and row.kind != "shape" and row.get(design) is not None]
    assert len(held) > 20
    assert [grip.key for grip in held if grip.key not in design.readings] == []
    assert {reading.state for reading in design.readings.values()} == {"guess"}
    assert "transom.top_cut" in design.readings  # given by a word, and a guess all the same
    assert "transom.outline" in design.readings


@pytest.mark.parametrize("title", STARTS)
def test_no_starting_shape_is_said_to_fit(title: str) -> None:
    """While its chances are not known nothing is said to fit; then guesses are named. Measured, no guess is in the way."""
    design = STARTS[title]
    checked = check(design)
    of_holes = [finding for finding in checked.findings if finding.stops != "never"]  # a new motor's weight is not known yet
    assert [finding for finding in of_holes if finding.state != "note" and not finding.guesses] == []
    shallow = title.startswith("Cut-out, shallow well")
    assert answer(checked).sentence.startswith("Don't drill here" if shallow else "Nothing is in the way of the holes")
    kinds = {reason.kind for reason in drillable(with_spreads(checked)).reasons}
    assert "guess" in kinds
    measured = {reason.kind for reason in drillable(with_spreads(check(replace(design, readings={})))).reasons}
    assert measured == ({"fouled", "doubt"} if shallow else set())


def test_the_shapes_are_what_they_are_called() -> None:
    lower = [f for f in check(STARTS["Cut-out, shallow well"]).findings if f.check == "washer" and "lower" in f.at]
    assert {f.state for f in lower} == {"fouled"}
    assert STARTS["No well"].well is None
    assert {f.state for f in check(STARTS["Deep well"]).findings if f.check == "washer"} == {"clear"}
    assert len(STARTS["Notched transom"].transom.outline) > len(STARTS["No well"].transom.outline)
    thickness = STARTS["Tapered transom"].transom.thickness
    assert sure(thickness.low) > sure(thickness.top)


def test_blank_knows_nothing_and_can_be_checked_and_saved() -> None:
    design = blank("mm")
    assert from_text(to_text(design)) == design
    assert check(design).findings == ()
    read = [row for row in measures(design) if row.kind != "shape" and row.section != SECTION]  # no assumption is read
    assert len(read) > 20
    assert all(row.get(design) is None for row in read)


def test_a_typed_value_is_a_guess_no_more() -> None:
    design = STARTS["Deep well"]
    after = enter(design, sure(measure(design, "well.floor_port")), "13 7/8")
    assert after.readings["well.floor_port"].state == "measured"
    assert after.readings["well.floor_starboard"].state == "guess"


def test_a_well_is_measured_from_nothing_in_walking_order() -> None:
    design = additions.add_well(blank())
    for key, text in (("well.floor_port", "9 3/4"), ("well.floor_starboard", "9 7/8"), ("well.floor_width", "20")):
        design = enter(design, sure(measure(design, key)), text)
    assert sure(measure(design, "well.floor_port")).get(design) == pytest.approx(9.75 * IN, abs=1e-9)
    assert sure(measure(design, "well.floor_starboard")).get(design) == pytest.approx(9.875 * IN, abs=1e-9)


# The trade's four-bolt pattern, in inches: upper pair 12-7/8 apart, lower pair 9-7/8, slot 8 to 11 below the 1st hole,
# pitch 3/4, top `row` 2 below the hook. Common practice, no source.
def test_the_standard_bracket_has_the_trades_numbers() -> None:
    standard = bracket("standard")
    rows, lower = sure(standard.rows), sure(standard.lower)
    assert [2 * rows.half_spacing / IN, 2 * lower.half_spacing / IN] == pytest.approx([12.875, 9.875], abs=1e-9)
    assert [rows.row0_depth / IN, rows.pitch / IN] == pytest.approx([2.0, 0.75], abs=1e-9)
    assert [place / IN for place in lower.slots[0]] == pytest.approx([8.0, 11.0], abs=1e-9)
    assert all(kind_of(bracket(kind)) == kind for kind in ("standard", "fixed lower", "clamp-on", "own"))


def test_fixed_lower_holes_are_round_and_all_reach() -> None:
    lower = sure(bracket("fixed lower").lower)
    assert all(high == low for high, low in lower.slots)
    design = additions.set_bracket(example_design(), 0, "fixed lower")
    assert "mounts.0.bracket.rows.pitch" in design.readings
    assert check(design).findings


def test_a_twin_hangs_alike_at_both_sides_and_a_kicker_has_no_bolts() -> None:
    design = additions.add_twin(example_design(), 0)
    assert [mount.name for mount in design.mounts] == ["port motor", "starboard motor"]
    assert sum(sure(mount.offset) for mount in design.mounts) == pytest.approx(0.0, abs=1e-9)
    assert design.mounts[0].lower_hardware == design.mounts[1].lower_hardware
    third = additions.add_kicker(design, 0)
    assert third.mounts[2].bracket.rows is None
    assert len({mount.name for mount in third.mounts}) == 3
    assert from_text(to_text(third)) == third


def test_taking_an_old_hole_off_moves_the_readings_of_later_ones_up() -> None:
    design = additions.add_old_hole(additions.add_old_hole(example_design()))
    design = enter(design, sure(measure(design, "old_holes.2.across")), "5")
    after = additions.remove_part(design, "old_holes", 1)
    assert [hole.name for hole in after.old_holes] == ["old lower starboard", "old hole 2"]
    assert after.readings["old_holes.1.across"].value == 5 * IN
    assert "old_holes.2.across" not in after.readings


@pytest.mark.parametrize(("at", "guessed"), [(None, {"diameter"}), ((100.0, -200.0), {"across", "down", "diameter"})])
def test_what_is_known_of_an_added_old_hole_is_a_guess(at: tuple[float, float] | None, guessed: set[str]) -> None:
    design = additions.add_old_hole(example_design(), at)
    made, readings = design.old_holes[1], design.readings
    assert (made.name, made.at, made.diameter, made.state) == ("old hole 1", at or (None, None), 0.5 * IN, "open")
    assert {key for key, row in readings.items() if row.state == "guess"} == {f"old_holes.1.{name}" for name in guessed}


def test_a_pair_of_old_holes_gives_upper_depth_and_offset() -> None:
    design = example_design()
    for _ in range(2):
        design = additions.add_old_hole(design)
    half = sure(design.mounts[0].bracket.rows).half_spacing
    design = changed(design, old_holes__1__at=(10 - half, -61.0), old_holes__2__at=(11 + half, -63.0))
    assert additions.upper_pairs(design, 0) == ((1, 2),)
    after = additions.use_pair(design, 0, (1, 2))
    assert after.mounts[0].upper_at == -62.0
    assert after.mounts[0].offset == pytest.approx(10.5, abs=1e-9)
    assert [hole.reuse for hole in after.old_holes] == [False, True, True]
    apart = changed(design, old_holes__2__at=(15 + half, -63.0))  # 5 mm too far apart
    assert additions.upper_pairs(apart, 0) == ()


# A half-inch hole read to its lower, far from the datum, edge: 5-5/8 in is 5-3/8 in to its centre; to its near one 5-1/8.
@pytest.mark.parametrize(("text", "edge"), [("5 1/8", "near edge"), ("5 3/8", "centre"), ("5 5/8", "far edge")])
@pytest.mark.parametrize(("key", "sign"), [("old_holes.0.down", 1), ("old_holes.0.across", 1), ("old_holes.0.across", -1)])
def test_an_edge_reading_comes_to_the_centre_at_either_side(key: str, sign: int, text: str, edge: str) -> None:
    design = example_design()
    after = enter(design, sure(measure(design, key)), text if sign > 0 else f"-{text}", edge, 0.5 * IN)  # type: ignore[arg-type]
    assert sure(measure(after, key)).get(after) == pytest.approx(sign * 5.375 * IN, abs=1e-9)


@pytest.mark.parametrize("design", [*STARTS.values(), blank(), example_design(), twin_design()], ids=lambda d: d.name or "new")
def test_every_choice_can_be_made_and_is_then_the_present_one(design) -> None:
    for choice in choices(design, 0):
        for index in range(len(choice.options)):
            after = choice.put(index)
            check(after)
            assert from_text(to_text(after)) == after, choice.key
            now = next((present.at for present in choices(after, 0) if present.key == choice.key), None)
            assert now in (index, None) or choice.options[index].short == "own sizes", choice.key


def test_another_bolt_takes_its_own_nut_hole_and_washers() -> None:
    design = example_design()
    bolts = next(choice for choice in choices(design, 0) if choice.key.endswith("lower_hardware.bolt"))
    after = bolts.put([option.full for option in bolts.options].index("M12x1.75"))
    hardware = sure(after.mounts[0].lower_hardware)
    assert hardware.nut == "ISO 7040"
    assert hardware.hole == 13.0  # ISO 273, fine
    assert (hardware.washer.outer, hardware.washer.inner) == (37.0, 13.0)  # ISO 7093-1, nearest to the 38.1 before


def test_a_flat_cut_leaves_the_whole_nut() -> None:
    design = example_design()
    cut = next(choice for choice in choices(design, 0) if choice.key.endswith("lower_hardware.flat")).put(1)
    hardware = sure(cut.mounts[0].lower_hardware)
    assert sure(hardware.washer.flat_cut) >= sure(hardware.nut_hexagon.corners) / 2
    assert replace(hardware.washer, flat_cut=None) == sure(design.mounts[0].lower_hardware).washer


def test_the_proposed_backing_plate_clears() -> None:
    """The drain tube of the example is between the bolts: made to measure, the backing plate is notched over it.

    As it is there, a plain backing plate is fouled by the tube, and a relieved one that is not notched as well.
    """
    design = example_design()
    plates = sure(next(row for row in items(design, 0, 8) if key_of(row).endswith("lower_hardware.plate")))
    assert isinstance(plates, Choice)
    half, findings = sure(design.mounts[0].bracket.lower).half_spacing, {}
    for index, made in ((1, answered(plates, 1, 0)), (2, plates.put(2)), (3, answered(plates, 2, 0))):
        plate = sure(sure(made.mounts[0].lower_hardware).backing_plate)
        assert plate.joins == ("lower port", "lower starboard")
        assert max(sure(u) for u, _ in plate.outline) > half + 38.1 / 2
        findings[index] = sure(check(made).of("washer", "main motor / lower / plate"))
        assert bool(plate.relief[0]) == (index > 1)
        assert len(plate.outline) == (8 if index == 3 else 4)
    assert [findings[index].state for index in (1, 2, 3)] == ["fouled", "fouled", "clear"]
    assert sure(findings[3].value) >= design.limits.clearance[1] - 1e-6


def test_a_backing_plate_for_the_upper_pair_is_relieved_as_asked() -> None:
    """Nothing there asks for a relief: it is as proposed, the corner's radius of 12."""
    design = example_design()
    plates = next(choice for choice in choices(design, 0) if choice.key.endswith("upper_hardware.plate"))
    made = answered(plates, 2, 0)
    plate = sure(sure(made.mounts[0].upper_hardware).backing_plate)
    assert (plate.joins, plate.relief[0], len(plate.outline)) == (("upper port", "upper starboard"), 12.0, 4)
    assert sure(check(made).of("washer", "main motor / upper / plate")).state == "clear"
    again = next(choice for choice in choices(made, 0) if choice.key == plates.key)
    assert answered(again, again.at, 0) == made


def test_a_backing_plate_where_the_well_is_not_measured_is_as_proposed() -> None:
    design = changed(example_design(), well__floor_rise=None)
    plates = next(choice for choice in choices(design, 0) if choice.key.endswith("lower_hardware.plate"))
    assert answered(plates, 2, 0) == plates.put(2)


def test_without_a_motor_no_bracket_is_chosen_and_choosing_one_hangs_it() -> None:
    bare = replace(example_design(), mounts=())
    choice = next(choice for choice in choices(bare, 0) if choice.key == "choice.bracket")
    assert choice.at == -1
    assert [len(choice.put(index).mounts) for index in range(len(choice.options))] == [1] * len(choice.options)
