"""Entries of torque, power and the boat's papers: typed, shown, stepped and emptied again."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from app.entries.card_items import Said, items, key_of
from app.entries.entry_text import lines, sections
from app.entries.typed_entries import label, stepped, typed
from geometry.design_text import from_text, to_text
from geometry.edits.choices import choices
from geometry.edits.edits import EntryError
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.readings.measures import at_path, measures
from tests.designs import example_design

TORQUE = "mounts.0.lower_hardware.torque"


@pytest.mark.parametrize(
    ("key", "text", "value", "shown"),
    [
        (TORQUE, "40 lb-ft", 54.2327, "40 lb-ft"), (TORQUE, "28.5 N·m", 28.5, "21 lb-ft"),
        ("mounts.0.power_kw", "50", 37.285, "50 hp"), ("boat.plate.power_kw", "30 kW", 30.0, "40 hp"),
        ("boat.plate.total_mass", "1000 lb", 453.592, "1000 lb"), ("boat.length", "15 ft 6 in", 4724.4, "186"),
        ("mounts.0.thrust", "700 lbf", 3113.755, "700 lbf"), ("mounts.0.shock", "5", 5.0, "5"),
        ("transom.core_bears", "1200 psi", 8.2737, "1200 psi"), ("mounts.0.lower_hardware.friction.0", "0.12", 0.12, "0.12"),
        ("mounts.0.lower_hardware.running_torque", "8 N·m", 8.0, "6 lb-ft"), ("boat.old_motor.mass", "70", 31.7515, "70 lb"),
    ],
)
def test_typed_shown_and_saved(key, text, value, shown):
    """A typed value goes into the design, is shown in the person's unit, and survives the file; within 0.001."""
    design = typed(replace(example_design(), units="in"), key, text)
    assert at_path(design, key) == pytest.approx(value, abs=0.001)
    assert label(design, key).endswith(f"to {shown}" if not key.endswith("length") else f"to {shown} in")
    assert at_path(from_text(to_text(design)), key) == pytest.approx(value, abs=0.001)


@pytest.mark.parametrize("key", ["boat.plate.power_kw", "mounts.0.thrust", "mounts.0.lower_hardware.running_torque",
                                 "transom.core_bears", "mounts.0.centre_aft", "boat.length"])  # fmt: skip
@pytest.mark.parametrize("empty", ["", "none"])
def test_what_may_stay_empty_is_emptied(key, empty):
    filled = typed(example_design(), key, "20")
    assert at_path(filled, key) is not None
    emptied = typed(filled, key, empty)
    assert at_path(emptied, key) is None
    assert key not in emptied.readings


def test_an_emptied_torque_is_not_known_and_asked_for():
    emptied = typed(example_design(), TORQUE, "")
    assert at_path(emptied, TORQUE) is None
    assert label(emptied, TORQUE) == "Lower wrench torque to not known"
    assert check(emptied).of("clamp", "main motor / lower port").missing == TORQUE


@pytest.mark.parametrize("key", ["boat.plate.power_kw", "boat.plate.total_mass", "boat.length", "boat.old_motor.mass"])
def test_no_boat_and_no_capacity_plate_has_nothing(key):
    with pytest.raises(EntryError, match=r'^"0" can’t be right. Write a figure above 0[.]$'):
        typed(example_design(), key, "0")


def test_arrow_keys_move_by_a_pound_foot_or_a_newton_metre():
    inch, metric = replace(example_design(), units="in"), replace(example_design(), units="mm")
    assert at_path(stepped(inch, TORQUE, 1), TORQUE) == pytest.approx(47.5 + 1.3558, abs=0.001)
    assert at_path(stepped(metric, TORQUE, -1), TORQUE) == pytest.approx(46.5, abs=1e-9)
    key = "mounts.0.lower_hardware.friction.0"
    assert at_path(stepped(metric, key, 1), key) == pytest.approx(0.15, abs=1e-9)


def test_the_card_holds_every_input_of_strength_and_power():
    design = example_design()
    wanted = {
        "mounts.0.power_kw", "mounts.0.centre_aft", "mounts.0.thrust", "mounts.0.shock", "boat.plate.power_kw",
        "boat.plate.motor_mass", "boat.plate.persons_mass", "boat.plate.total_mass", "boat.length", "boat.beam",
        "boat.transom_width", "boat.old_motor.mass", "boat.old_motor.power_kw", "boat.old_motor.centre_aft", "boat.kind",
        "boat.remote_steering", "boat.flat_bottom_hard_chines", "transom.core_bears", "transom.skin_outside",
        "transom.skin_inside", "transom.core", "transom.core_state",
        *(f"mounts.0.{pair}_hardware.{field}" for pair in ("upper", "lower")
          for field in ("torque", "running_torque", "friction", "friction.0", "friction.1")),
    }  # fmt: skip
    held = [key_of(item) for number in range(1, 9) for item in items(design, 0, number)]
    assert wanted <= set(held)
    assert len(held) == len(set(held))
    heads = [item.text for item in items(design, 0, 5) if isinstance(item, Said) and item.head]
    assert heads == ["Capacity plate and boat size", "Old motor", "Afloat, for the planning page"]
    assert all(measure.how for measure in measures(design) if measure.key in wanted)


def test_what_is_on_the_threads_sets_both_factors():
    design = example_design()
    friction = next(choice for choice in choices(design, 0, 8) if choice.key == "mounts.0.lower_hardware.friction")
    assert friction.options[friction.at].short == "lubricated, 0.14 to 0.18"
    dry = friction.put([option.short.split(",")[0] for option in friction.options].index("dry"))
    assert dry.mounts[0].lower_hardware.friction == (0.2, 0.3)
    assert dry.mounts[0].upper_hardware.friction == (0.14, 0.18)


def test_another_bolt_gets_its_own_usual_torque():
    """By the cube of the diameter: 3/8 in is 27/64 of 47.45, to half a newton metre 20."""
    bolt = next(choice for choice in choices(example_design(), 0, 8) if choice.key == "mounts.0.lower_hardware.bolt")
    other = bolt.put([option.short for option in bolt.options].index("3/8-16"))
    assert other.mounts[0].lower_hardware.torque == 20.0
    assert other.readings[TORQUE].state == "guess"
    assert from_text(to_text(other)) == other


def test_another_nut_has_another_drag():
    """It was read on the nut that was there: another nut empties it, the same one chosen again keeps it."""
    read = typed(example_design(), "mounts.0.lower_hardware.running_torque", "8 N·m")
    nut = next(choice for choice in choices(read, 0, 8) if choice.key == "mounts.0.lower_hardware.nut")
    words = [option.short for option in nut.options]
    other = nut.put(words.index("B18.2.2 hex"))
    assert other.mounts[0].lower_hardware.running_torque is None
    same = nut.put(nut.at)
    assert same.mounts[0].lower_hardware.running_torque == 8.0


def test_a_starting_shape_guesses_its_torque_and_nothing_of_the_boats_papers():
    design = starts("in")[0].design
    assert design.readings[TORQUE].state == "guess"
    assert design.readings[TORQUE].text == "35 lb-ft"
    assert not [key for key in design.readings if key.startswith("boat.") or ".friction" in key]
    assert TORQUE in check(design).of("clamp", "main motor / lower port").guesses
    assert [section.missing for section in sections(design, 0) if section.number in (5, 8)] == [0, 0]
    shown = {line.key: line.rest for line in lines(design, 0, 8)}
    assert (shown[TORQUE], shown["mounts.0.lower_hardware.running_torque"]) == ("35 lb-ft", "not measured")
