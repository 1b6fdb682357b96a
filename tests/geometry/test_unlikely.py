"""Unlikely readings are accepted, and noted until they are confirmed. A note stops no hole.

The limits are common practice, no source. Rake is 5 to 20°, and thickness 1 1/4 to 2 1/2 in. A floor is 6 to 14 in deep, and
its radius is at most 1 1/2 in. Its sides are at most 1 in apart, and a shaft at most 2 1/2 in from the height.
"""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from assets import design_names, design_text
from geometry.decide.cures import cure
from geometry.design_text import DesignError, from_text, to_text
from geometry.doubt.spreads import with_spreads
from geometry.edits.confirm_or_buy import counted_as
from geometry.edits.edits import enter, enter_value, forget, remove_mount, set_units
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.words import findings_rows
from geometry.readings.measures import measure
from geometry.readings.unlikely import confirm_unlikely, unlikely, unlikely_reading
from tests.designs import changed, roomy, sure, twin_design

IN = 25.4
START = starts()[0].design
"""A boat of guesses, in inches."""
PATTERN = "mounts.0.bracket."


def typed(design, **texts):
    """Return a design with texts typed one after the other, their keys' dots written as two underscores."""
    for key, text in texts.items():
        design = enter(design, sure(measure(design, key.replace("__", "."))), text)
    return design


def asked(design) -> dict[str, str]:
    """Return what is said of each unlikely reading, by its key."""
    return {each.measure.key: each.text for each in unlikely(design)}


def notes(design) -> list[str]:
    return [finding.text for finding in check(design).findings if finding.check == "reading"]


@pytest.mark.parametrize(("key", "usual", "beyond"), [
    ("transom.rake", ("5", "20"), ("4.9", "20.1")),
    ("transom.thickness.top", ("1 1/4", "2 1/2"), ("1 15/64", "2 33/64")),
    ("transom.thickness.low", ("1 1/4", "2 1/2"), ("1 15/64", "2 33/64")),
    ("well.fillet_radius", ("0", "1 1/2"), ("1 33/64",)),
    ("well.floor_port", ("6", "14"), ("5 63/64", "14 1/64")),
])  # fmt: skip
def test_the_ends_of_a_usual_range_are_usual_and_what_is_beyond_is_not(key, usual, beyond):
    for text in usual:
        assert key not in asked(typed(START, **{key: text}))
    for text in beyond:
        said = asked(typed(START, **{key: text}))[key]
        assert "(common practice)" in said


def test_the_sentence_names_reading_and_usual_range_in_the_owners_unit():
    design = typed(START, well__floor_port="15")
    assert asked(design)["well.floor_port"] == "Floor depth at port is 15 in. Most are 6 in to 14 in (common practice)."
    metric = asked(set_units(design, "mm"))["well.floor_port"]
    assert metric == "Floor depth at port is 381 mm. Most are 152 mm to 356 mm (common practice)."
    assert asked(typed(START, transom__rake="22"))["transom.rake"] == "Rake is 22°. Most are 5° to 20° (common practice)."
    deep = asked(typed(START, well__floor_width="70"))["well.floor_width"]
    assert deep == "Width at the floor is 70 in. Most are 12 in to 60 in (our assumption)."


def test_a_guess_a_choice_and_a_size_to_buy_are_no_readings():
    assert unlikely(START) == ()
    assert unlikely(changed(START, transom__rake=30.0)) == ()
    assert unlikely(changed(typed(START, mounts__0__drop="2"), mounts__0__offset=900.0)) == ()
    key = "mounts.0.lower_hardware.washer.thickness"
    thick = typed(START, **{key: "1/2"})
    assert key in asked(thick)
    assert asked(counted_as(thick, sure(measure(thick, key)), "to buy")) == {}


def test_0_says_that_there_is_none():
    assert asked(typed(START, transom__skin_outside="0", transom__skin_inside="1/64")).keys() == {"transom.skin_inside"}


def test_a_figure_that_fits_the_other_unit_is_asked_about():
    """A radius of 6 in is unlikely, one of 6 mm is not. A floor 9 mm deep is unlikely, one of 9 in is not."""
    inch = typed(START, well__fillet_radius="6")
    assert "Corner radius is 6 in. Did you mean 6 mm? Most are" in asked(inch)["well.fillet_radius"]
    assert "mean" not in asked(typed(START, well__fillet_radius="6 in"))["well.fillet_radius"]
    metric = typed(set_units(START, "mm"), well__floor_port="9", well__floor_starboard="9")
    assert "Floor depth at port is 9 mm. Did you mean 9 in?" in asked(metric)["well.floor_port"]


def test_floors_more_than_an_inch_apart():
    level = typed(START, well__floor_port="9", well__floor_starboard="10")
    assert asked(level) == {}
    apart = typed(START, well__floor_port="9", well__floor_starboard="10 1/8")
    said = (
        "Floor depth at starboard is 10 1/8 in, and floor depth at port is 9 in. "
        "Most differ by 1 in or less (common practice)."
    )
    assert asked(apart) == {"well.floor_starboard": said}
    once = typed(START, well__floor_starboard="12")  # the other side is a guess, and follows
    assert asked(once) == {}


def test_a_shaft_far_from_the_transoms_height():
    """20 and 17 1/2 in are 2 1/2 in apart."""
    near = typed(START, transom__height="17 1/2", mounts__0__leg="20")
    assert asked(near) == {}
    far = typed(near, transom__height="17 1/4")
    assert "and transom height is 17 1/4 in. Most differ by 2 1/2 in or less" in asked(far)["mounts.0.leg"]
    assert asked(typed(START, mounts__0__leg="25")) == {}  # the height is a guess


@pytest.mark.parametrize(("key", "text", "off"), [
    ("rows.half_spacing", "6 7/16", False), ("rows.half_spacing", "163.5 mm", False), ("rows.half_spacing", "6 3/8", True),
    ("rows.half_spacing", "6 5/16", False), ("lower.half_spacing", "125.5 mm", False), ("lower.half_spacing", "5", True),
    ("rows.pitch", "19 mm", False), ("rows.pitch", "11/16", True), ("lower.slots.0.0", "203 mm", False),
    ("lower.slots.0.0", "8 1/16", True), ("lower.slots.0.0", "8 1/8", False),
])  # fmt: skip
def test_a_pattern_nearly_the_standard_one(key, text, off):
    """6 7/16, 4 15/16, 3/4 and 8 in, in drawings 163.5, 125.5, 19 and 203 mm: common practice, no source."""
    said = asked(typed(START, **{f"{PATTERN}{key}".replace(".", "__"): text}))
    assert (f"{PATTERN}{key}" in said) == off
    if off:
        assert "the standard pattern has" in said[f"{PATTERN}{key}"]
        assert "from a hole's edge?" in said[f"{PATTERN}{key}"]


def test_one_figure_in_two_entries_that_seldom_agree():
    """A floor's depth typed in the next entry too. Both sides of a floor, and both ends of a round hole, may well be alike."""
    twice = typed(START, well__floor_port="13", well__floor_starboard="13", well__floor_width="13")
    said = "Width at the floor and floor depth at starboard are both 13 in. Is each in its own entry?"
    assert asked(twice) == {"well.floor_width": said}
    assert asked(typed(twice, well__floor_width="13 1/64")) == {}
    alike = typed(START, transom__thickness__top="1 3/4", transom__thickness__low="1 3/4", transom__skin_outside="1/8",
                  transom__skin_inside="1/8")  # fmt: skip
    assert asked(alike) == {}


def test_a_note_stops_nothing():
    """The same boat, with the same room, answers as before but for the note."""
    plain = roomy()
    odd = changed(plain, well__length=1500.0)
    assert len(notes(odd)) == len(notes(plain)) + 1
    before, after = (check(design) for design in (plain, odd))
    assert (after.verdict, drillable(with_spreads(after)).answer) == (before.verdict, "yes")
    row = next(row for row in findings_rows(after) if row.first.check == "reading")
    assert (row.state, row.first.stops, row.first.family) == ("note", "never", "reading")


def test_a_confirmed_value_is_kept_with_the_value_and_a_changed_one_asks_again():
    odd = typed(START, well__floor_port="15", well__floor_starboard="15")
    sure_of = confirm_unlikely(odd, "well.floor_port")
    assert asked(sure_of).keys() == {"well.floor_starboard"}
    assert len(notes(odd)) - len(notes(sure_of)) == 1
    kept = from_text(to_text(sure_of))
    assert kept == sure_of
    assert kept.sure_of["well.floor_port"] == pytest.approx((15 * IN,))
    assert "well.floor_port" in asked(typed(kept, well__floor_port="15 1/16"))
    assert asked(typed(kept, well__floor_port="381 mm")).keys() == {"well.floor_starboard"}


def test_a_confirmed_difference_asks_again_when_the_other_value_changes():
    apart = confirm_unlikely(typed(START, well__floor_port="9", well__floor_starboard="10 1/2"), "well.floor_starboard")
    assert asked(apart) == {}
    assert asked(typed(apart, well__floor_port="8 3/4")).keys() == {"well.floor_starboard"}


def test_confirming_is_one_edit_that_changes_nothing_else():
    odd = typed(START, transom__rake="22")
    confirmed = confirm_unlikely(odd, "transom.rake")
    assert replace(confirmed, sure_of={}) == odd
    assert confirm_unlikely(confirmed, "transom.rake") is confirmed
    assert confirm_unlikely(odd, "transom.height") is odd
    assert unlikely_reading(odd, "transom.height") is None


def test_the_cure_of_the_note_confirms_it():
    checked = check(typed(START, transom__rake="22"))
    finding = next(finding for finding in checked.findings if finding.check == "reading")
    offered = sure(cure(checked, finding))
    assert (offered.button, offered.label) == ("Confirm it", "Rake confirmed")
    assert notes(offered.design) == []


def test_a_file_keeps_no_confirmation_of_a_part_that_is_gone():
    twins = confirm_unlikely(changed(twin_design(), mounts__1__leg=900.0), "mounts.1.leg")
    assert "mounts.1.leg" in twins.sure_of
    assert from_text(to_text(remove_mount(twins, 1))).sure_of == {}
    with pytest.raises(DesignError, match=r'^sure_of has an entry "mounts.7.leg", which names no measure'):
        from_text(to_text(START).replace('"sure_of": {}', '"sure_of": {"mounts.7.leg": [1.0]}'))
    with pytest.raises(DesignError, match=r'^sure_of\["transom.rake"\]'):
        from_text(to_text(START).replace('"sure_of": {}', '"sure_of": {"transom.rake": ["much"]}'))


def test_no_demonstration_boat_asks_about_a_reading():
    for name in design_names():
        assert asked(from_text(design_text(name))) == {}, name


def test_a_value_that_is_not_known_any_more_is_not_asked_about():
    odd = typed(START, transom__rake="22")
    assert asked(forget(odd, sure(measure(odd, "transom.rake")))) == {}
    assert enter_value(odd, sure(measure(odd, "transom.rake")), 14.0).sure_of == {}


def test_a_note_of_a_motor_s_reading_is_that_motor_s():
    """A shaft of 30 in on the second motor of two: the note is named by it. A rake of 40° is the boat's."""
    design = changed(twin_design(), mounts__1__leg=30 * IN, transom__rake=40.0)
    notes = {each.rests[0]: each for each in check(design).findings if each.check == "reading"}
    assert notes["mounts.1.leg"].mounts == (1,)
    name = sure(measure(design, "mounts.1.leg")).name
    assert notes["mounts.1.leg"].at == f"starboard motor / {name[0].lower()}{name[1:]}"  # as within a sentence
    assert name[0].isupper()
    assert notes["transom.rake"].mounts == ()
    assert notes["transom.rake"].at.startswith("boat / ")


def test_a_note_says_what_is_unlikely_and_what_to_do():
    """Port 9 in and starboard 12: the sentence is the finding's, and its cure is to read or to confirm."""
    design = typed(START, transom__rake="22")
    (finding,) = [finding for finding in check(design).findings if finding.check == "reading"]
    assert finding.text == asked(design)["transom.rake"]
    assert finding.remedy == "Read it again, or confirm it in its entry."


UPPER, LOWER, SLOT = f"{PATTERN}rows.half_spacing", f"{PATTERN}lower.half_spacing", f"{PATTERN}lower.slots.0.0"


def by_a_tape(design, inches: float, *keys: str):
    """Return a design whose bracket's distances were read by a tape that is so many inches wrong."""
    for key in keys:
        row = sure(measure(design, key))
        design = enter_value(design, row, sure(row.get(design)) + inches * IN / (1 if key == SLOT else 2))
    return design


@pytest.mark.parametrize(("inches", "way"), [(1.0, "more"), (-1.0, "less"), (1.1, "more"), (0.9, "more")])
def test_a_tape_that_begins_at_its_first_inch_shows_at_the_standard_pattern(inches, way):
    """The pattern has 12 7/8, 9 7/8 and 8 in: common practice. Any other witness is read with the same tape."""
    said = asked(by_a_tape(roomy(), inches, UPPER, LOWER, SLOT))[UPPER]
    assert f"each about 1 in {way} than in the standard pattern (common practice)" in said
    assert "first inch" in said


@pytest.mark.parametrize(("inches", "keys"), [
    (0.5, (UPPER, LOWER, SLOT)), (1.25, (UPPER, LOWER, SLOT)),
    (1.0, (UPPER, LOWER)), (1.0, (LOWER, SLOT)), (1.0, (UPPER, SLOT)),
])  # fmt: skip
def test_another_bracket_says_nothing_of_the_tape(inches, keys):
    assert not any(each.tape for each in unlikely(by_a_tape(roomy(), inches, *keys)))


def test_distances_that_go_both_ways_say_nothing_of_the_tape():
    mixed = by_a_tape(by_a_tape(roomy(), 1.0, UPPER, LOWER), -1.0, SLOT)
    assert not any(each.tape for each in unlikely(mixed))


def test_a_wrong_tape_keeps_the_holes_from_being_drilled_until_its_owner_confirms_the_bracket():
    design = by_a_tape(roomy(), 1.0, UPPER, LOWER, SLOT)
    reasons = {(reason.kind, reason.key) for reason in drillable(with_spreads(check(design))).reasons}
    assert ("unlikely", UPPER) in reasons
    sure_of = confirm_unlikely(design, UPPER)
    reasons = {(reason.kind, reason.key) for reason in drillable(with_spreads(check(sure_of))).reasons}
    assert ("unlikely", UPPER) not in reasons
    longer = enter_value(sure_of, sure(measure(sure_of, SLOT)), 9 * IN + 1.0)
    assert unlikely_reading(longer, UPPER) is not None  # it was compared with this one


DIAGONAL = "mounts.0.second.diagonal"


def with_own_bracket(inches: float, diagonal_too: float):
    """Return a boat with a bracket of 12 1/4, 10 3/8 and 7 in, read by a tape that is so many inches wrong.

    Its diagonal is read by a tape that is wrong by ``diagonal_too``.
    """
    design = roomy()
    for key, size in ((UPPER, 6.125), (LOWER, 5.1875), (SLOT, 7.0)):
        design = enter_value(design, sure(measure(design, key)), (size + inches / (1 if key == SLOT else 2)) * IN)
    true = math.hypot(6.125 + 5.1875, 7.0)
    return enter_value(design, sure(measure(design, DIAGONAL)), (true + diagonal_too) * IN)


@pytest.mark.parametrize(("inches", "way"), [(1.0, "long"), (-1.0, "short")])
def test_a_tape_that_begins_at_its_first_inch_shows_at_the_diagonal_of_another_bracket(inches, way):
    """By hand: the sides make it 13.303 in. An inch more on each makes 14.683 in, and the tape reads 14.303 in."""
    assert math.hypot(11.3125, 7.0) == pytest.approx(13.303, abs=1e-3)
    assert math.hypot(12.3125, 8.0) == pytest.approx(14.683, abs=1e-3)
    design = with_own_bracket(inches, inches)
    said = asked(design)[UPPER]
    assert f"It would if all four were read 1 in too {way}" in said
    assert "first inch" in said
    assert any(each.tape for each in unlikely(design))


@pytest.mark.parametrize(("inches", "diagonal_too"), [(0.0, 0.0), (0.0, 0.2), (0.0, 2.0), (0.3, 0.3), (0.0, 1.0)])
def test_a_diagonal_that_agrees_or_is_off_by_itself_says_nothing_of_the_tape(inches, diagonal_too):
    assert not any(each.tape for each in unlikely(with_own_bracket(inches, diagonal_too)))
