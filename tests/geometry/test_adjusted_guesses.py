"""Guesses adjust to a reading: each moves as little as needed, and stays a guess.

Usual ranges: common practice, no source; where the page on readings names one, it is that one.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.design.validity import NonsenseError
from geometry.design_text import from_text, to_text
from geometry.edits.additions import add_old_hole, hang_motor
from geometry.edits.edits import enter_value
from geometry.edits.starting_shapes import guess, starts
from geometry.judge.check import check
from geometry.readings.measures import lacking, measure, measures
from tests.designs import changed, sure

IN = 25.4
SHAPES = {start.title: start.design for start in starts()}
WELL = SHAPES["Cut-out, shallow well"]
USUAL = {
    "transom.rake": (0, 25), "transom.thickness.top": (1 * IN, 3 * IN), "transom.thickness.low": (1 * IN, 3 * IN),
    "transom.thickness.low_at": (6 * IN, 14 * IN), "transom.height": (13 * IN, 32 * IN), "transom.deadrise": (0, 25),
    "transom.skin_outside": (1, 0.5 * IN), "transom.skin_inside": (1, 0.5 * IN), "transom.top_cut": (-5, 25),
    "well.floor_port": (4 * IN, 20 * IN), "well.floor_starboard": (4 * IN, 20 * IN), "well.floor_width": (12 * IN, 48 * IN),
    "well.top_width": (12 * IN, 48 * IN), "well.fillet_radius": (0, 1.5 * IN), "well.floor_rise": (-5, 15),
    "well.length": (6 * IN, 40 * IN), "well.front_lean": (-20, 30), ".slots.0.0": (5 * IN, 10 * IN),
    ".slots.0.1": (6 * IN, 14 * IN), ".half_spacing": (3 * IN, 8 * IN), ".pitch": (0.6 * IN, 1.5 * IN),
    ".row0_depth": (1 * IN, 4 * IN), ".rows.count": (3, 6), ".rows.diameter": (12, 16), ".lower.diameter": (12, 18),
    ".pad_thickness": (3, 30), ".leg": (14 * IN, 32 * IN), ".set_back": (0, 16 * IN), ".mass": (10, 320),
    ".power_kw": (1, 230), ".room_aft.upper": (0, 12 * IN), ".room_aft.lower": (0, 12 * IN), ".jaw.0": (0.5 * IN, 3 * IN),
    ".jaw.1": (1 * IN, 4 * IN), ".plug_diameter": (0.4 * IN, 2 * IN), "holes.0.diameter": (0.25 * IN, 1.5 * IN),
    ".across": (-12 * IN, 12 * IN), ".down": (0.5 * IN, 16 * IN),
}  # fmt: skip


def everything():
    """Return a boat with all that has a guess to give: a well, a plugged old hole, bolts, and a motor that clamps on."""
    design = add_old_hole(hang_motor(WELL, "clamp-on"), (100.0, -200.0))
    hole = replace(design.old_holes[0], state="plugged", plug_diameter=25.4)
    key = "old_holes.0.plug_diameter"
    guess = replace(WELL.readings["transom.height"], text="1", value=25.4)
    return replace(design, old_holes=(hole,), readings={**design.readings, key: guess})


BOAT = everything()
PAIRS = (
    ("well.floor_width", "well.top_width"), ("mounts.0.bracket.lower.slots.0.0", "mounts.0.bracket.lower.slots.0.1"),
    ("mounts.1.bracket.jaw.0", "mounts.1.bracket.jaw.1"), ("old_holes.0.diameter", "old_holes.0.plug_diameter"),
)  # fmt: skip


def usual(key: str) -> tuple[float, float] | None:
    """Return the usual range of a measure; None where it has none here: what is bought, chosen, or read from papers."""
    if key.startswith(("transom.", "well.")):
        return USUAL.get(key)
    return next((span for end, span in USUAL.items() if key.endswith(end) and end.startswith((".", "holes"))), None)


KEYS = sorted(row.key for row in measures(BOAT) if usual(row.key) is not None)


def value_of(design, key: str) -> float:
    return sure(sure(measure(design, key)).get(design))


def enter(design, key: str, value: float):
    return enter_value(design, sure(measure(design, key)), value)


def test_the_boat_to_try_has_each_kind_of_neighbour():
    assert {name for pair in PAIRS for name in pair} <= set(KEYS)
    assert {"transom.thickness.low_at", "transom.skin_inside", "well.floor_starboard", "well.fillet_radius"} <= set(KEYS)
    assert len(KEYS) > 35


@given(st.data())
def test_with_all_else_a_guess_every_usual_reading_is_taken(data):
    """The neighbours that move stay guesses, and what is made of it is a boat that can be saved and checked."""
    key = data.draw(st.sampled_from(KEYS))
    low, high = sure(usual(key))
    value = data.draw(st.integers(int(low), int(high)) if key.endswith("count") else st.floats(low, high))
    after = enter(BOAT, key, value)
    assert value_of(after, key) == pytest.approx(value, abs=1e-6)
    for other in measures(BOAT):
        if other.key != key and other.key in after.readings:
            assert after.readings[other.key].state == BOAT.readings[other.key].state == "guess"
    assert from_text(to_text(after)) is not None


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_readings_that_agree_are_taken_in_any_order(data):
    """A true boat within the usual ranges, read in a random order: no reading is refused on the way, and each is kept."""
    true = {key: data.draw(st.floats(*sure(usual(key)))) for key in KEYS if not key.endswith(("rows.count", "floor_starboard"))}
    for narrow, wide in PAIRS:
        true[narrow], true[wide] = sorted((true[narrow], true[wide]))
    slope = data.draw(st.floats(-0.1, 0.1))  # an inch between the lower bolts; a guess of 4 15/16 in for 8 in makes 0.162 of it
    apart = 2 * true["mounts.0.bracket.lower.half_spacing"]
    starboard = min(20 * IN, max(4 * IN, true["well.floor_port"] + slope * apart))
    true["well.floor_starboard"] = starboard
    true["transom.height"] = max(true["transom.height"], max(starboard, true["well.floor_port"]) + 6 * IN)
    true["transom.deadrise"] = min(true["transom.deadrise"], 15.0)
    order = data.draw(st.permutations(sorted(true)))
    design = BOAT
    for key in order:
        design = enter(design, key, true[key])
    floors = ("well.floor_port", "well.floor_starboard")
    for key in order:
        if key not in floors or order.index("mounts.0.bracket.lower.half_spacing") < min(map(order.index, floors)):
            assert value_of(design, key) == pytest.approx(true[key], abs=1e-6), key
    assert check(design).verdict


def test_a_floor_wider_than_a_guessed_top_pushes_the_top_out_as_far_as_it_is_wide():
    wide = enter(WELL, "well.floor_width", 22 * IN)
    assert value_of(wide, "well.top_width") == pytest.approx(22 * IN)
    assert wide.readings["well.top_width"].state == "guess"
    assert wide.readings["well.top_width"].value == pytest.approx(22 * IN)
    assert value_of(wide, "well.floor_port") == pytest.approx(9.75 * IN)
    narrow = enter(WELL, "well.top_width", 15 * IN)
    assert value_of(narrow, "well.floor_width") == pytest.approx(15 * IN)
    assert value_of(narrow, "well.floor_port") == pytest.approx(9.75 * IN)
    within = enter(WELL, "well.floor_width", 20.5 * IN)
    assert value_of(within, "well.top_width") == pytest.approx(21 * IN)  # it was wide enough


def test_a_measured_neighbour_does_not_adjust():
    measured = enter(WELL, "well.top_width", 20 * IN)
    with pytest.raises(NonsenseError, match="doubles back"):
        enter(measured, "well.floor_width", 22 * IN)
    thick = enter(WELL, "transom.thickness.top", 1.5 * IN)
    with pytest.raises(NonsenseError, match="both skins"):
        enter(enter(thick, "transom.skin_inside", 0.25 * IN), "transom.skin_outside", 2 * IN)


def test_a_tilted_floor_keeps_its_line_while_its_width_adjusts():
    tilted = enter(enter(WELL, "well.floor_port", 9 * IN), "well.floor_starboard", 10 * IN)
    narrow = enter(tilted, "well.top_width", 14 * IN)
    assert [value_of(narrow, key) for key in ("well.floor_port", "well.floor_starboard")] == pytest.approx([9 * IN, 10 * IN])


def test_skins_and_thickness_adjust_to_each_other():
    """Two skins of 3/16 in; 1/8 in for both, half each. A skin of 2 in takes the guessed wood to 2 3/16 in."""
    thin = enter(WELL, "transom.thickness.top", 0.125 * IN)
    assert [value_of(thin, key) for key in ("transom.skin_outside", "transom.skin_inside")] == pytest.approx([0.0625 * IN] * 2)
    thick = enter(WELL, "transom.skin_inside", 2 * IN)
    for key in ("transom.thickness.top", "transom.thickness.low"):
        assert value_of(thick, key) == pytest.approx(2.1875 * IN)
    kept = enter(enter(WELL, "transom.thickness.top", 1 * IN), "transom.skin_inside", 0.875 * IN)
    assert value_of(kept, "transom.skin_outside") == pytest.approx(0.125 * IN)
    assert value_of(kept, "transom.thickness.low") == pytest.approx(1.75 * IN)


def test_thicknesses_that_differ_too_much_for_the_way_between_them():
    """Half the way at most: 4 in lower down, 10 in below, or measured 2 in below the top."""
    far = enter(WELL, "transom.thickness.low", 7 * IN)
    assert value_of(far, "transom.thickness.top") == pytest.approx(2 * IN, abs=1e-6)
    low = enter(WELL, "transom.thickness.low", 3 * IN)
    assert value_of(low, "transom.thickness.top") == 1.75 * IN
    near = enter(low, "transom.thickness.low_at", 2 * IN)
    assert value_of(near, "transom.thickness.top") == pytest.approx(2 * IN, abs=1e-6)
    thin = guess(enter(WELL, "transom.thickness.top", 4 * IN), [sure(measure(WELL, "transom.thickness.low"))])
    thin = changed(thin, transom__thickness__low=1.75 * IN)
    nearer = enter(thin, "transom.thickness.low_at", 2 * IN)  # the lower one moves: 1 in below the top's 4
    assert value_of(nearer, "transom.thickness.low") == pytest.approx(3 * IN, abs=1e-6)
    assert value_of(nearer, "transom.thickness.top") == 4 * IN


@pytest.mark.parametrize(("end", "value"), [(0, 12 * IN), (1, 6 * IN)])
def test_a_slots_guessed_end_goes_along(end, value):
    key, other = (f"mounts.0.bracket.lower.slots.0.{which}" for which in (end, 1 - end))
    after = enter(WELL, key, value)
    assert value_of(after, other) == value
    assert after.readings[other].state == "guess"


@given(st.sampled_from([row.key for row in measures(WELL) if ".bracket.outline." in row.key]), st.floats(0.3 * IN, 16 * IN))
def test_a_brackets_corner_takes_its_guessed_neighbours_along(key, value):
    """Wherever one is read first, the bracket is still one, and nothing else of it was measured."""
    after = enter(WELL, key, value)
    assert value_of(after, key) == pytest.approx(value)
    assert [name for name, row in after.readings.items() if row.state == "measured"] == [key]
    assert lacking(after, "mounts.0.bracket.outline") == "mounts.0.bracket.outline"


@pytest.mark.parametrize("across", [-40.0, 200.0, 400.0])
def test_corners_of_any_other_well_make_room_from_port_to_starboard(across):
    """Five corners, all guesses: the third is read at starboard of the fourth, or at port of the second."""
    profile = ((-266.7, 0.0), (-30.0, -240.0), (0.0, -250.0), (190.0, -240.0), (266.7, 0.0))
    keys = [f"well.profile.{at}.{axis}" for at in range(5) for axis in (0, 1)]
    design = changed(WELL, well__profile=profile, readings=dict.fromkeys(keys, WELL.readings["transom.height"]))
    after = enter(design, "well.profile.2.0", across)
    assert [u for u, _ in after.well.profile] == pytest.approx([u if (at - 2) * (u - across) > 0 else across
                                                                 for at, (u, _) in enumerate(profile)])  # fmt: skip
