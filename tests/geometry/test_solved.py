"""The boat solved again with washer readings, a straightedge and pilots. Expected sizes and spreads are by hand.

The boat of `test_contradictions`: parallel faces 2 in apart, rake 14°, cut level, a level floor 9 in down, radius 1/2 in.
The corner is 104° wide, so its flat land begins 12.7 mm / tan 52° above the floor.
"""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from app.entries.card_items import Act, items, key_of
from geometry.design.validity import NonsenseError
from geometry.design_text import fingerprint, from_text, to_text
from geometry.doubt.spreads import with_spreads
from geometry.edits.edits import enter_value, forget, move_lower, remove_mount
from geometry.judge.check import check
from geometry.judge.contradictions import contradictions
from geometry.readings.measures import measure
from geometry.readings.pilots import is_at_plan, may_move, pilot_key, planned, with_pilot
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.solving.comparisons import _through, comparisons
from geometry.solving.floor_from_pilot import floor_from_pilot
from geometry.solving.pilot_distances import _to_wall, pilot_distance
from geometry.solving.solved import solved, solved_near
from tests.designs import changed, sure
from tests.geometry.test_clearances import inside
from tests.geometry.test_contradictions import BY_HAND, IN, OUTSIDE, WASHER, boat, with_reading

COT, SIN = 1 / math.tan(math.radians(52)), math.sin(math.radians(52))
WASHER_PORT = "well.second.washer_port"
PORT, STARBOARD, RADIUS = "well.floor_port", "well.floor_starboard", "well.fillet_radius"
TURN = 12.7 / 2 / SIN**2  # [mm] by which the land moves for each radian of the corner
THICK_TURN = 0.8 / 254  # [radians] of taper for one spread of a thickness: the lower one was read 10 in down
LAND = math.hypot(1.5 * COT, *(2 * [TURN * math.radians(0.5)]), *(2 * [TURN * THICK_TURN]))
"""[mm] one spread of the land, by radius, floor slope, rake and both thicknesses."""


def value(design, key):
    return sure(measure(design, key)).get(design)


def placed():
    """Return the boat with its lower bolts 6 1/2 in below the upper ones, 1 7/8 in down."""
    return changed(boat(), mounts__0__drop=165.1, mounts__0__upper_at=-47.625)


def piloted(off=0.0, to="washer mark", hole="lower port", design=None):
    """Return the boat with a pilot whose distance is ``off`` mm more than its readings say, and that distance."""
    design = with_pilot(design or placed(), 0, hole, to=to)
    distance = pilot_distance(len(design.pilots) - 1, design)
    return enter_value(design, sure(measure(design, pilot_key(0, hole))), distance + off), distance


def lower(design, side="port", check_="washer"):
    return sure(with_spreads(check(design)).of(check_, f"main motor / lower {side}"))


@pytest.mark.parametrize(("key", "floor", "other"), [(WASHER, STARBOARD, PORT), (WASHER_PORT, PORT, STARBOARD)])
def test_a_washer_that_rocks_lower_moves_floor_and_radius_by_their_weights(key, floor, other):
    """2 mm more than expected, shared by the squares: 1.5 of the floor, LAND, the washer's own half width and its mark."""
    whole = 1.5**2 + LAND**2 + 0.05**2 + 0.75**2
    there = solved(with_reading(boat(), key, BY_HAND[WASHER] * IN + 2.0))
    assert value(there, floor) == pytest.approx(9 * IN + 2 * 1.5**2 / whole, abs=2e-3)
    assert value(there, other) == pytest.approx(9 * IN, abs=1e-6)
    assert value(there, RADIUS) == pytest.approx(12.7 - 2 * 1.5**2 * COT / whole, abs=2e-3)
    assert value(there, "transom.rake") == pytest.approx(14 + 2 * TURN * math.radians(0.5) * 0.5 / whole, abs=2e-3)


def test_a_straightedge_from_outside_moves_the_floor_and_the_step():
    """1 mm more: the floor's share, and the rake's, whose half a degree is half a millimetre of step."""
    step = 50.8 / math.cos(math.radians(14)) ** 2 * math.radians(0.5)
    whole = 1.5**2 + 1.5**2 + step**2 + (0.8 * math.tan(math.radians(14))) ** 2
    there = solved(with_reading(boat(), OUTSIDE, BY_HAND[OUTSIDE] * IN + 1.0))
    assert value(there, PORT) == pytest.approx(9 * IN + 1.5**2 / whole, abs=2e-3)
    assert value(there, "transom.rake") == pytest.approx(14 + 0.5 * step / whole, abs=2e-3)


def test_readings_that_agree_move_nothing_and_make_it_surer():
    plain, read = placed(), with_reading(placed(), WASHER, BY_HAND[WASHER] * IN)
    assert value(solved(read), STARBOARD) == pytest.approx(9 * IN, abs=1e-6)
    before, after = lower(plain, "starboard"), lower(read, "starboard")
    assert after.value == pytest.approx(before.value, abs=1e-6)
    assert after.spread < 0.7 * before.spread


def test_the_readings_on_the_card_stay_as_they_were_read():
    read = with_reading(boat(), WASHER, BY_HAND[WASHER] * IN + 2.0)
    assert value(read, STARBOARD) == pytest.approx(9 * IN)
    assert solved(read).readings == {key: row for key, row in read.readings.items() if ".second." not in key}
    assert solved(boat()) is not None
    plain = changed(boat(), readings={key: row for key, row in boat().readings.items() if ".second." not in key})
    assert solved(plain) is plain


def test_a_guessed_radius_is_solved_by_the_washer():
    """A guess of the radius is good for 0 to 1 1/2 in, so the washer alone says where the land begins."""
    guess = replace(boat().readings[RADIUS], state="guess")
    guessed = changed(boat(), readings={**boat().readings, RADIUS: guess})
    there = solved(with_reading(guessed, WASHER, BY_HAND[WASHER] * IN - 8.0))
    spread = 0.75 * IN * COT
    whole = 1.5**2 + spread**2 + LAND**2 - (1.5 * COT) ** 2 + 0.05**2 + 0.75**2
    assert value(there, RADIUS) == pytest.approx(12.7 + 8 * spread / whole * 0.75 * IN, abs=0.05)
    lower_floor = value(there, STARBOARD)
    assert lower_floor == pytest.approx(9 * IN - 8 * 1.5**2 / whole, abs=0.05)


def test_a_radius_is_never_below_zero():
    guess = replace(boat().readings[RADIUS], state="guess")
    guessed = changed(boat(), readings={**boat().readings, RADIUS: guess})
    there = solved(with_reading(guessed, WASHER, BY_HAND[WASHER] * IN + 14.0))
    assert value(there, RADIUS) == 0.0
    assert value(there, STARBOARD) > 9 * IN


def test_a_contradicting_washer_is_not_solved_with():
    read = with_reading(boat(), WASHER, BY_HAND[WASHER] * IN + 40.0)
    assert [clash.key for clash in contradictions(read)] == [WASHER]
    assert value(solved(read), STARBOARD) == pytest.approx(9 * IN)


@pytest.mark.parametrize(("to", "distance"), [
    ("washer mark", 9 * IN - 12.7 * COT - 0.75 * IN - (8.375 * IN - 2 * IN * math.tan(math.radians(14)))),
    ("floor", 9 * IN - (8.375 * IN - 2 * IN * math.tan(math.radians(14)))),
    ("wall", None),
])
def test_the_distance_from_a_pilot_is_that_by_hand(to, distance):
    """The hole is 1 7/8 + 6 1/2 in below the outside edge; inside, a level cut takes 2 in · tan 14° off."""
    if distance is None:  # the side runs from 10 1/2 in at the top to 10 in at the floor; the hole is 4 15/16 in off
        deep = (8.375 - 2 * math.tan(math.radians(14))) / 9
        distance = (10.5 - 0.5 * deep - 4.9375) * IN
    assert piloted(to=to)[1] == pytest.approx(distance, abs=1e-6)


def test_a_pilot_to_an_old_hole_is_a_straight_distance():
    design = changed(placed(), old_holes__0__at=(-100.0, -200.0))
    assert piloted(to="old hole", design=design)[1] == pytest.approx(math.hypot(25.4125, 12.725), abs=1e-6)


def test_a_pilot_to_the_washers_mark_leaves_the_spread_of_its_own_reading():
    """model.md: planning 2.0 to 2.3 mm, a washer's mark about 0.75 mm, pilot to floor 1.4 mm.

    By hand the mark leaves 0.75 mm of the reading, less what the other readings know, and half the washer's 0.8 mm to buy.
    """
    washer = lower(placed()).spread
    assert 2.0 <= washer <= 2.35
    marked, floor = lower(piloted()[0]).spread, lower(piloted(to="floor")[0]).spread
    prior = 2.2**2
    own = prior * 0.75**2 / (prior + 0.75**2)
    assert marked == pytest.approx(math.hypot(math.sqrt(own), 0.4), abs=0.15)
    assert floor == pytest.approx(1.4, abs=0.12)


def test_a_pilot_moves_the_room_at_its_hole_by_nearly_what_it_says():
    """The reading has 0.75 mm against 2.2 mm of all the others: 89 % of it counts there, and little at the other side."""
    before = lower(placed()).value
    for off in (1.5, -1.5):
        there = piloted(off)[0]
        assert lower(there).value - before == pytest.approx(0.89 * off, abs=0.05)
        assert abs(lower(there, "starboard").value - before) < 0.45 * abs(off)


def test_the_hole_of_a_pilot_is_off_its_plan_by_its_share_and_follows_the_plan_no_more_once_that_moves():
    there, _ = piloted(2.0)
    off = {bolt.name: bolt.off for bolt in bolts(solved(there))}
    assert off["lower starboard"] == (0.0, 0.0)
    assert 0.2 < off["lower port"][1] < 1.0  # 1.06 mm of the hole's 2.3 mm in squares, less the mark's own
    moved = move_lower(there, 0, 0.0, 3.0)
    assert not is_at_plan(moved, moved.pilots[0])
    assert planned(moved, 0, "lower port")[1] - moved.pilots[0].at[1] == pytest.approx(3.0)
    assert all(bolt.off == (0.0, 0.0) for bolt in bolts(solved(moved)))
    assert value(solved(moved), PORT) == pytest.approx(value(solved(there), PORT), abs=1e-6)
    assert lower(moved).spread > lower(there).spread + 0.1  # the new hole has its own error again


def test_a_move_after_the_pilot_changes_the_room_by_the_move_and_the_share_of_the_hole():
    there, _ = piloted(2.0)
    off = next(bolt.off[1] for bolt in bolts(solved(there)) if bolt.name == "lower port")
    assert lower(move_lower(there, 0, 0.0, 3.0)).value == pytest.approx(lower(there).value + 3.0 - off, abs=0.02)


def test_a_final_hole_takes_its_pilot_away_within_half_the_difference():
    """trade.md 1.5: 17/32 in over 1/8 in swallows 0.203 in."""
    assert may_move(17 / 32 * IN) == pytest.approx(0.203125 * IN, abs=1e-9)
    assert may_move(2.0) == 0.0


def test_a_pilot_more_than_6_mm_off_contradicts_even_within_three_spreads():
    spread = math.hypot(0.75, 2.2)
    assert 3 * spread > 6.0
    assert contradictions(piloted(5.9)[0]) == ()
    clash, = contradictions(piloted(6.1)[0])
    assert clash.first == PORT
    assert "the most that a pilot may be off" in clash.text
    assert clash.settle == "Read it once more, without a look at the first figure: from the pilot to the washer’s mark."
    key = pilot_key(0, "lower port")
    again = piloted(6.1)[0]
    again = changed(again, readings={**again.readings, key: replace(again.readings[key], second=1.0)})
    assert contradictions(again)[0].settle.startswith("Stop. Take the floor from the pilot")


@pytest.mark.parametrize("to", ["washer mark", "floor"])
def test_the_floor_is_taken_from_a_pilot_that_is_still_off(to):
    """10 mm more from the pilot is a floor 10 mm deeper there. Its washer is checked again, with the pilot's spread."""
    off = piloted(10.0, to=to)[0]
    assert contradictions(off)
    assert lower(off).state == "unknown"
    taken = floor_from_pilot(off, 0)
    assert value(taken, PORT) == pytest.approx(9 * IN + 10.0, abs=0.05)  # a floor that tilts is a hair further off
    assert value(taken, STARBOARD) == pytest.approx(9 * IN, abs=1e-6)
    assert (taken.readings[PORT].how, taken.readings[PORT].spread) == ("pilot", 25.4)
    assert contradictions(taken) == ()
    assert lower(taken).value == pytest.approx(lower(placed()).value + 10.0, abs=0.1)
    assert lower(taken).spread < 1.7


def test_a_pilot_to_the_side_gives_no_floor():
    with pytest.raises(NonsenseError, match=r"^the pilot gives no floor$") as refused:
        floor_from_pilot(piloted(to="wall")[0], 0)
    assert refused.value.why == "measure from the pilot to the floor, or to a washer’s mark"


def test_a_hole_is_as_long_as_its_pilot_if_there_is_one_and_as_planned_else():
    """The wood is 50.8 thick. A hole that leans by 10 degrees is 50.8/cos 10° = 51.5837 long on parallel faces."""
    design = placed()
    assert _through(0, "lower port", design) == pytest.approx(50.8)
    leaning = changed(design, mounts__0__lower_tilt=10.0)
    assert _through(0, "lower port", leaning) == pytest.approx(51.5837, abs=1e-4)
    drilled = with_pilot(design, 0, "lower port", tilt=-10.0)
    assert _through(0, "lower port", drilled) == pytest.approx(51.5837, abs=1e-4)
    assert _through(0, "lower starboard", drilled) == pytest.approx(50.8)
    with pytest.raises(Unmeasured):
        _through(0, "upper port", changed(design, mounts__0__upper_at=None))


def test_the_card_has_a_pilots_end_its_distance_and_what_takes_the_floor():
    plain, off = placed(), piloted(10.0)[0]
    key = pilot_key(0, "lower port")
    for design, acts in ((plain, []), (off, [f"{key}.floor"])):
        made = items(design, 0, 7)
        keys = [key_of(item) for item in made]
        assert keys.index(f"{key}.to") == keys.index(key) - 1
        assert [item.key for item in made if isinstance(item, Act) and "pilot" in item.key] == acts
    act = next(item for item in items(off, 0, 7) if isinstance(item, Act) and "pilot" in item.key)
    assert contradictions(act.make()) == ()
    choice = next(item for item in items(off, 0, 7) if key_of(item) == f"{key}.to")
    to_floor = choice.put(1)
    assert (to_floor.pilots[0].to, to_floor.pilots[0].value) == ("floor", None)
    assert key not in to_floor.readings
    assert choice.put(choice.at) == off


def test_a_mark_above_the_pilot_is_less_than_nothing_and_a_wall_never_is():
    design = with_pilot(placed(), 0, "lower port", to="washer mark", value=-2.0)
    assert from_text(to_text(design)) == design
    with pytest.raises(NonsenseError):
        with_pilot(design, 0, "lower port", to="wall")


def test_a_pilot_is_in_the_file_changes_its_number_and_goes_with_its_motor():
    design, _ = piloted()
    assert from_text(to_text(design)) == design
    assert fingerprint(design) != fingerprint(placed())
    assert forget(design, sure(measure(design, pilot_key(0, "lower port")))) == placed()
    assert remove_mount(design, 0).pilots == ()
    with pytest.raises(NonsenseError, match="one entry for each hole"):
        replace(design, pilots=(*design.pilots, *design.pilots))


@pytest.mark.parametrize("make", [
    lambda: piloted(1.0)[0], lambda: with_reading(with_reading(placed(), WASHER, BY_HAND[WASHER] * IN + 1), OUTSIDE, 243.0),
])
def test_one_step_is_as_good_as_a_whole_solution_for_one_reading_off(make):
    design = make()
    solved(design)
    for key, step in ((PORT, 1.5), (RADIUS, 1.5), ("transom.rake", 0.5), ("mounts.0.lower_hardware.washer.outer", 0.5)):
        row = sure(measure(design, key))
        moved = row.set(design, row.get(design) + step)
        near, whole = solved_near(moved, design), solved(moved)
        for size in (PORT, STARBOARD, RADIUS, "transom.rake", "well.floor_rise"):
            assert value(near, size) == pytest.approx(value(whole, size), abs=0.02)
        for bolt, other in zip(bolts(near), bolts(whole), strict=True):
            assert bolt.off == pytest.approx(other.off, abs=0.02)


@pytest.mark.parametrize("key", ["mounts.0.second.diagonal", "transom.second.diagonal"])
def test_a_reading_that_is_only_compared_leaves_the_doubt_of_the_room_as_it_is(key):
    """A diagonal moves no size. With it alone the floor's readings once counted as exact, and a tight washer as sure."""
    bare = placed()
    expected = next(each.expect(bare) for each in comparisons(with_reading(bare, key, 300.0)) if each.key == key)
    read = with_reading(bare, key, expected)
    assert contradictions(read) == ()
    for finding in with_spreads(check(bare)).findings:
        if finding.check in ("washer", "nut", "socket"):
            with_it = sure(with_spreads(check(read)).of(finding.check, finding.at))
            assert with_it.spread == pytest.approx(sure(finding.spread), rel=1e-6)
            assert with_it.chance == pytest.approx(sure(finding.chance), rel=1e-6)
            assert with_it.moved_by == finding.moved_by


def test_a_well_of_many_corners_is_solved_as_one_shape():
    """A line that was drawn is off as a whole; a pilot to its floor moves it up and down."""
    profile = ((-267.0, 0.0), (-254.0, -220.0), (0.0, -235.0), (254.0, -220.0), (267.0, 0.0))
    drawn = changed(placed(), well__profile=profile)
    drawn = changed(drawn, readings={key: row for key, row in drawn.readings.items() if not key.startswith("well.floor")})
    there = solved(piloted(2.0, to="floor", design=drawn)[0])
    ups = [after[1] - before[1] for before, after in zip(profile, sure(there.well).profile, strict=True)]
    assert ups == pytest.approx([ups[0]] * 5, abs=1e-6)
    assert -1.5 < ups[0] < -0.5


@pytest.mark.parametrize(("w", "port"), [(-200.0, 100.0), (-230.0, 100.0), (-199.0, 300.0)])
def test_a_pilot_is_measured_to_the_next_upright_side_at_its_height(w, port):
    """A floor 60 mm deeper from 100 to port on: at its upper level, below it and above it. The starboard side is at 300."""
    profile = ((-300, 0), (-300, -200), (-100, -200), (-100, -260), (300, -260), (300, 0))
    within = inside(profile=profile)
    assert _to_wall(within, (0.0, w), port=True) == pytest.approx(port, abs=1e-9)
    assert _to_wall(within, (0.0, w), port=False) == pytest.approx(300.0, abs=1e-9)
