"""Each change that would turn a finding, applied to its reading and checked again."""

from __future__ import annotations

import random

import pytest
from msgspec.structs import replace

from assets import design_names, design_text
from geometry.design_text import from_text
from geometry.doubt.flips import MOST_STEPS, _change_words, flip_of, flips
from geometry.doubt.spreads import with_spreads
from geometry.edits.edits import set_units
from geometry.judge.check import check
from geometry.judge.findings import is_bad
from geometry.readings.measures import measure
from geometry.units.units import STEPS
from tests.designs import changed, example_design, random_design, sure, with_some_room
from tests.geometry.test_spreads import read


def boat(name):
    return from_text(design_text(name))


def applied(design, flip):
    """Return the findings of a design with the changed reading."""
    return check(sure(measure(design, flip.key)).set(design, flip.value))


def all_true(design):
    checked = with_spreads(check(design))
    turned = flips(checked)
    for (kind, at), flip in turned.items():
        now, then = sure(checked.of(kind, at)), sure(applied(design, flip).of(kind, at))
        assert is_bad(now) != is_bad(then), flip.text
        assert then.state == flip.state
        assert flip.text.startswith("If ")
        assert flip.text.endswith(".")
        assert not flip.key.endswith((".drop", ".upper_at", ".offset", ".torque")), "a choice is never named"
    return turned


@pytest.mark.parametrize("name", design_names())
def test_every_sentence_about_a_demonstration_boat_is_true(name):
    assert all_true(boat(name))


def test_the_sentences_are_true_in_the_other_unit_too():
    assert all_true(set_units(boat("shallow-well-skiff"), "mm"))


@pytest.mark.parametrize("seed", range(5))
def test_every_sentence_about_a_random_boat_is_true(seed):
    all_true(random_design(random.Random(seed)))


def test_it_is_the_fewest_steps_of_the_tape():
    """A floor 1.2 mm under the washer at port: 1 mm higher leaves it free, 2 mm do not; the sentence says 2 mm."""
    design = replace(with_some_room(), units="mm")
    room = sure(check(design).of("washer", "main motor / lower port")).value
    lower = sure(measure(design, "well.floor_port"))
    design = lower.set(design, sure(lower.get(design)) - room + 1.2)
    design = read(design, "well.floor_port", sure(lower.get(design)), spread=4.0)
    flip = sure(flip_of(*at_port(design)))
    assert (flip.key, flip.steps, flip.state) == ("well.floor_port", -2, "fouled")
    assert flip.text.startswith("If the floor at port is 2 mm higher, the lower port washer overlaps the well floor")
    before = check(lower.set(design, flip.value + STEPS["mm"])).of("washer", "main motor / lower port")
    assert not is_bad(sure(before))


def at_port(design):
    checked = with_spreads(check(design))
    return checked, sure(checked.of("washer", "main motor / lower port"))


def test_what_overlaps_says_what_would_clear_it():
    design = changed(example_design(), mounts__0__drop=168.0, inside_blocks=())
    checked, finding = at_port(design)
    assert finding.state == "fouled"
    flip = sure(flip_of(checked, finding))
    assert flip.state in ("tight", "clear")
    assert " clears the well floor" in flip.text


def test_without_chances_nothing_is_said():
    """In a drag nothing of doubt is shown: the readings behind a finding are not known yet."""
    checked = check(example_design())
    assert flips(checked) == {}


def test_no_reading_is_changed_by_more_than_anybody_misreads():
    turned = all_true(example_design())
    assert turned
    assert all(1 <= abs(flip.steps) <= MOST_STEPS for flip in turned.values())


@pytest.mark.parametrize(("key", "more", "less"), [
    ("old_holes.0.across", "farther to starboard", "farther to port"), ("old_holes.0.down", "lower", "higher"),
    ("well.floor_port", "lower", "higher"), ("transom.rake", "larger", "smaller"), ("well.length", "larger", "smaller"),
])  # fmt: skip
def test_a_change_is_said_in_its_direction(key, more, less):
    """A value that grows is to starboard across, and deeper down: u grows to starboard, depths grow downward."""
    design = example_design()
    row = sure(measure(design, key))
    assert _change_words(design, row, 2).endswith(f" {more}")
    assert _change_words(design, row, -2).endswith(f" {less}")
