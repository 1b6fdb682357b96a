"""The owner's edits, each with every number that it may change calculated by hand. Lengths [mm], within 1e-9 mm."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from geometry.design.design import Reading
from geometry.design.validity import NonsenseError
from geometry.edits.edits import (
    EntryError,
    drill_tilts,
    hang,
    move_bracket,
    move_corner,
    move_lower,
    move_old_hole,
    move_shape,
    move_upper,
    parse_entry,
    remove_mount,
    rename,
    set_row,
)
from geometry.readings.measures import measure
from geometry.solid.faces import faces
from geometry.solid.square_or_level import level_tilt, other_way
from geometry.units.units import MassError
from tests.designs import changed, clamp_on_mount, example_design, sure, twin_design


def place(design, index=0):
    """Return a motor's place: upper bolts, drop, offset and hole in use."""
    mount = design.mounts[index]
    return mount.upper_at, mount.drop, mount.offset, mount.row


@pytest.mark.parametrize(
    ("move", "moved"),
    [(move_bracket, (-57.8, 165.1, 5.0, 2)), (move_lower, (-50.8, 172.1, 5.0, 2)), (move_upper, (-57.8, 158.1, 5.0, 2))],
)
def test_five_to_starboard_and_seven_down(move, moved):
    """The bracket takes all along; the lower pair changes the drop; the upper pair leaves the lower one at -215.9."""
    assert place(move(example_design(), 0, 5.0, -7.0)) == pytest.approx(moved, abs=1e-9)
    assert move(example_design(), 0, 0.0, 0.0) == example_design()


@pytest.mark.parametrize("move", [move_bracket, move_lower, move_upper])
def test_a_place_that_nobody_has_measured_does_not_move(move):
    design = changed(example_design(), mounts__0__upper_at=None, mounts__0__drop=None, mounts__0__offset=None)
    assert place(move(design, 0, 5.0, -7.0)) == (None, None, None, 2)
    assert place(move_upper(changed(example_design(), mounts__0__drop=None), 0, 0.0, -7.0))[:2] == (pytest.approx(-57.8), None)


def test_each_motor_is_changed_by_itself():
    design = twin_design()
    for edited in (set_row(design, 1, 3), hang(design, 1, 3, 170.0), drill_tilts(design, 1, 1.0, -2.0)):
        assert edited.mounts[0] == design.mounts[0]
        assert edited.mounts[1] != design.mounts[1]
    assert place(hang(design, 1, 3, 170.0), 1) == (-50.8, 170.0, 350.0, 3)
    tilted = drill_tilts(design, 1, 1.0, -2.0).mounts[1]
    assert (tilted.upper_tilt, tilted.lower_tilt) == (1.0, -2.0)


def test_an_old_hole_and_a_block_move_as_a_whole():
    design = example_design()
    assert move_old_hole(design, 0, (100.0, -250.0)).old_holes[0].at == (100.0, -250.0)
    block = move_shape(design, "inside_blocks.0.outline", 3.0, -4.0).inside_blocks[0].outline
    for corner, to in zip(block, ((-17, -240.03), (23, -240.03), (23, -208), (-17, -208)), strict=True):
        assert corner == pytest.approx(to)
    unread = changed(design, well__profile=((-320, 0), (-300, None), (300, None), (320, 0)))
    assert sure(move_shape(unread, "well.profile", 3.0, 0.0).well).profile == ((-317, 0), (-297, None), (303, None), (323, 0))


def test_a_corner_takes_its_twin_along_only_where_that_is_wished():
    design = example_design()
    alone = move_corner(design, "transom.outline", 6, (610.0, -430.0)).transom.outline
    assert (alone[6], alone[8]) == ((610.0, -430.0), (-620, -420))
    both = move_corner(design, "transom.outline", 6, (610.0, -430.0), alike=True).transom.outline
    assert (both[6], both[8]) == ((610.0, -430.0), (-610.0, -430.0))
    keel = move_corner(design, "transom.outline", 7, (5.0, -530.0), alike=True).transom.outline
    assert keel[7] == (0.0, -530.0)  # its own twin stays on the centreline
    assert move_corner(design, "transom.outline", 7, (5.0, -530.0)).transom.outline[7] == (5.0, -530.0)


@pytest.mark.parametrize("other", [(-300, None), (None, -236)])
def test_a_corner_of_which_one_number_is_unknown_is_no_twin(other):
    design = changed(example_design(), well__profile=((-320, 0), other, (300, -236), (320, 0)))
    moved = sure(move_corner(design, "well.profile", 2, (290.0, -240.0), alike=True).well).profile
    assert moved == ((-320, 0), other, (290.0, -240.0), (320, 0))


def reading(value):
    return Reading(text="", value=value, from_="centre", how="tape", state="measured", spread=None, second=None)


def test_a_motor_goes_with_its_readings_and_later_ones_move_up():
    keys = ("transom.rake", "mounts.0.drop", "mounts.1.drop", "mounts.1.bracket.rows.pitch")
    design = replace(twin_design(), readings={key: reading(float(number)) for number, key in enumerate(keys)})
    first = remove_mount(design, 0)
    assert [mount.name for mount in first.mounts] == ["starboard motor"]
    assert {key: read.value for key, read in first.readings.items()} == {
        "transom.rake": 0.0, "mounts.0.drop": 2.0, "mounts.0.bracket.rows.pitch": 3.0,
    }  # fmt: skip
    second = remove_mount(design, 1)
    assert [mount.name for mount in second.mounts] == ["port motor"]
    assert {key: read.value for key, read in second.readings.items()} == {"transom.rake": 0.0, "mounts.0.drop": 1.0}


def test_a_demonstration_that_gets_another_name_is_an_ordinary_boat():
    boat = replace(example_design(), demonstration=True)
    assert rename(boat, "example").demonstration
    assert not rename(boat, "my boat").demonstration
    assert not rename(example_design(), "example").demonstration


@pytest.mark.parametrize(
    ("key", "units", "text", "value"),
    [
        ("mounts.0.mass", "in", "200", 90.718474), ("mounts.0.mass", "mm", "200", 200.0),  # 0.45359237 kg: NIST SP 811
        ("mounts.0.mass", "mm", "200 lb", 90.718474), ("mounts.0.mass", "in", "90 kg", 90.0),
        ("mounts.0.bracket.rows.count", "in", " 4 ", 4), ("mounts.0.row", "in", "3", 3),
        ("mounts.0.row", "in", "third from the top", 3),
    ],
)  # fmt: skip
def test_a_typed_mass_count_or_hole(key, units, text, value):
    design = replace(example_design(), units=units)
    assert parse_entry(design, sure(measure(design, key)), text) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    ("key", "text", "fault"),
    [("mounts.0.mass", "heavy", MassError), ("mounts.0.mass", "1" + 9 * "0", EntryError),
     ("mounts.0.bracket.rows.count", "4.5", EntryError), ("mounts.0.bracket.rows.count", "12345", EntryError),
     ("mounts.0.row", "side", EntryError)],
)  # fmt: skip
def test_a_typed_text_that_no_boat_has(key, text, fault):
    with pytest.raises(fault):
        parse_entry(example_design(), sure(measure(example_design(), key)), text)


@pytest.mark.parametrize(("rake", "tilt"), [(14.0, -14.0), (13.26, -13.3), (-5.0, 5.0), (0.0, 0.0)])
def test_level_holes_lean_against_the_transom(rake, tilt):
    """Level holes: their inner ends are lower, seen from the face, by as much as its top leans aft. To 0.1 degree."""
    design = changed(example_design(), transom__rake=rake)
    assert level_tilt(faces(design.transom)) == pytest.approx(-rake, abs=1e-9)
    way, level = other_way(design, 0)
    assert (way, level.mounts[0].upper_tilt, level.mounts[0].lower_tilt) == ("level", tilt, tilt)


@pytest.mark.parametrize(("upper", "lower"), [(-14.0, -14.0), (0.1, 0.0), (0.0, -0.1), (None, 3.0)])
def test_holes_that_are_not_square_become_square(upper, lower):
    way, square = other_way(drill_tilts(example_design(), 0, upper, lower), 0)
    assert (way, square.mounts[0].upper_tilt, square.mounts[0].lower_tilt) == ("square", 0.0, 0.0)


def test_holes_closer_to_square_than_anybody_drills_are_square():
    assert other_way(drill_tilts(example_design(), 0, 0.04, -0.04), 0)[0] == "level"


def test_a_jaw_that_closes_further_than_it_opens_is_refused_in_a_sentence():
    mount = clamp_on_mount()
    with pytest.raises(NonsenseError) as refused:
        replace(mount.bracket, jaw=(60.0, 30.0))
    assert str(refused.value) == "jaw runs from 60 to 30; the least opening comes first"
