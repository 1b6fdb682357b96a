"""The limits of sizes to buy: exact, true when applied, and no longer true 0.1 mm further."""

from __future__ import annotations

import random
from functools import cache

import pytest
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from assets import design_text
from geometry.design.hardware import HexSizes, Spanner
from geometry.design.validity import SMALL, NonsenseError
from geometry.design_text import from_text
from geometry.doubt.kept_bolt_lengths import with_lengths_kept
from geometry.doubt.size_limits import size_limits
from geometry.doubt.spreads import with_spreads
from geometry.edits.confirm_or_buy import bought, counted_as, is_part
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import SPREADS, SURE, drillable
from geometry.readings.measures import measure, measures
from tests.designs import changed, example_design, random_design, roomy, sure, with_some_room

LOWER = "mounts.0.lower_hardware"
OUTER, OUTSIDE, SOCKET, LONG = (
    f"{LOWER}.{size}" for size in ("washer.outer", "outside_washer.outer", "socket.outer", "socket.length")
)  # fmt: skip
THICKNESS, FLATS, HEIGHT = (f"{LOWER}.{size}" for size in ("washer.thickness", "nut_sizes.flats", "nut_sizes.height"))
PORT = "main motor / lower port"
BEYOND = 0.1  # mm
THICK = {"mounts__0__lower_hardware__washer__thickness": 10.0}  # so thick that the widest does not bend


def buying(design, *keys):
    """Return a design's chances with some sizes to buy; every part where none is named."""
    rows = [row for row in measures(design) if row.key in keys or (not keys and is_part(row))]
    return with_spreads(check(bought(design, rows)))


def of(limits, key):
    return next((limit for limit in limits if limit.key == key), None)


def applied(checked, key, value):
    """Return the chances with one size at a value."""
    return with_spreads(check(sure(measure(checked.design, key)).set(checked.design, value)))


def test_the_largest_washer_that_may_still_be_drilled_for():
    """Each washer has room r. A washer wider by d has d/2 less, and 1.96 spreads must be left; within 1e-6 mm."""
    checked = buying(with_some_room(), OUTER)
    limit = of(size_limits(checked), OUTER)
    least = min(
        finding.value - SPREADS * finding.spread for finding in checked.findings
        if finding.check == "washer" and "lower" in finding.at
    )  # fmt: skip
    assert limit.largest
    assert limit.value == pytest.approx(38.1 + 2 * least, abs=1e-6)
    assert drillable(checked).answer == "yes"
    assert drillable(applied(checked, OUTER, limit.value)).answer == "yes"
    beyond = drillable(applied(checked, OUTER, limit.value + BEYOND))
    assert (beyond.answer, {reason.finding.check for reason in beyond.reasons}) == ("pilot only", {"washer"})


def test_a_washer_that_is_too_wide_has_a_limit_below_its_size():
    wide = buying(with_some_room(mounts__0__lower_hardware__washer__outer=55.0), OUTER)
    assert drillable(wide).answer != "yes"
    limit = of(size_limits(wide), OUTER)
    assert 38.1 < limit.value < 55.0
    assert drillable(applied(wide, OUTER, limit.value)).answer == "yes"
    assert drillable(applied(wide, OUTER, limit.value + BEYOND)).answer == "pilot only"


def test_a_washer_so_wide_that_it_bends_is_over_the_limit_of_the_core():
    """8 x 3 mm / 60 mm = 0.4: wider, only the middle of a washer 3 mm thick counts under the nut; within 1e-3 mm."""
    checked = buying(roomy(), OUTER)
    limit = of(size_limits(checked), OUTER)
    assert (limit.value, limit.check) == (pytest.approx(60.0, abs=1e-3), "pressure")
    assert drillable(applied(checked, OUTER, limit.value)).answer == "yes"
    assert drillable(applied(checked, OUTER, limit.value + BEYOND)).answer == "no"


def test_the_smallest_outside_washer_spans_the_slot_by_half():
    """1.5 widths of a slot 13.5 mm wide: 20.25 mm; within 1e-6."""
    checked = buying(roomy(), OUTSIDE)
    limit = of(size_limits(checked), OUTSIDE)
    assert not limit.largest
    assert limit.value == pytest.approx(20.25, abs=1e-6)
    at, beyond = (applied(checked, OUTSIDE, limit.value - by).of("outer_washer", PORT) for by in (0.0, BEYOND))
    assert (at.state, beyond.state) == ("tight", "fouled")


def test_the_longest_socket_fills_the_room_before_the_front():
    """Room left for the hand may be nothing, and no less; within 1e-6 mm."""
    checked = buying(roomy(well__length=110.0), LONG)
    room = min(f.value for f in checked.findings if f.check == "socket_room" and "lower" in f.at)
    limit = of(size_limits(checked), LONG)
    assert limit.value == pytest.approx(65.0 + room, abs=1e-6)
    assert applied(checked, LONG, limit.value).of("socket_room", PORT).state == "tight"
    assert applied(checked, LONG, limit.value + BEYOND).of("socket_room", PORT).state == "fouled"


def test_the_longest_wrench_that_still_turns():
    """The longer its handle, the less it swings between the walls: 100 degrees here, with the chance that drilling asks for.

    A handle a little longer meets a corner. One reading off then takes 10 degrees, so the spread of a shorter one is no help.
    """
    spanner = Spanner(outer=28.6, thickness=13.9, swing=100.0, length=120.0, handle=16.0)
    key = f"{LOWER}.spanner.length"
    checked = buying(with_some_room(mounts__0__lower_hardware__socket=None, mounts__0__lower_hardware__spanner=spanner,
                                    well__profile=((-170, 0), (-150, -244), (150, -244), (170, 0))), key)  # fmt: skip
    limit = of(size_limits(checked), key)
    assert limit.check == "spanner"
    at, beyond = (applied(checked, key, limit.value + by).of("spanner", PORT) for by in (0.0, BEYOND))
    assert at.chance >= SURE > beyond.chance


def test_only_sizes_to_buy_have_limits_and_only_with_chances():
    checked = buying(roomy(), OUTER)
    assert {limit.key for limit in size_limits(checked)} == {OUTER}
    assert size_limits(check(checked.design)) == ()
    measured = counted_as(checked.design, sure(measure(checked.design, OUTER)), "measured")
    assert size_limits(with_spreads(check(measured))) == ()


def test_a_place_where_no_washer_fits_gives_no_limit():
    """At a drop of 8 in the example's washers overlap the floor's corner by 36 mm: no washer under its nut is so small."""
    assert of(size_limits(buying(changed(example_design(), mounts__0__drop=203.2), OUTER)), OUTER) is None


def test_a_size_that_nothing_limits_has_none():
    assert of(size_limits(buying(roomy(well=None), OUTER, SOCKET, LONG)), SOCKET) is None


@pytest.mark.parametrize("seed", [0, 3, 5])
def test_limits_of_random_boats_hold_and_end(seed):
    """At each limit no check that the size moves is fouled or in doubt; 0.1 mm further one is."""
    checked = buying(replace(random_design(random.Random(seed)), readings={}), OUTER, OUTSIDE, SOCKET)
    for limit in size_limits(checked):
        way = 1.0 if limit.largest else -1.0
        held, broken = (_stopped(checked, limit, by) for by in (0.0, way * BEYOND))
        assert limit.check not in {name for name, _ in held}, (seed, limit)
        assert limit.check in {name for name, _ in broken}, (seed, limit)


def _stopped(checked, limit, by):
    """Return the checks that stop the paper with a size applied, of its motor, and that the size has moved."""
    tried = applied(checked, limit.key, limit.value + by)
    mount = checked.design.mounts[int(limit.key.split(".")[1])].name
    before = {(finding.check, finding.at): finding.value for finding in checked.findings}
    return {
        (finding.check, finding.at) for finding in tried.findings
        if finding.at.startswith(mount) and finding.value != pytest.approx(before.get((finding.check, finding.at)), abs=1e-9)
        and (finding.state == "fouled" or (finding.chance is not None and finding.chance < SURE - 1e-6
                                           and CHECK_KINDS[finding.check].by_chance))
    }  # fmt: skip


def test_a_washer_as_wide_as_the_card_takes_has_the_limit_of_a_narrower_one():
    """No wider one can be tried from there: its spread lacks the maker's tolerance. The limit has its own; within 1e-3 mm."""
    listed = sure(of(size_limits(buying(with_some_room(), OUTER)), OUTER))
    wide = buying(with_some_room(mounts__0__lower_hardware__washer__outer=SMALL), OUTER)
    with pytest.raises(NonsenseError):
        applied(wide, OUTER, SMALL + 1.0)
    limit = sure(of(size_limits(wide), OUTER))
    assert (limit.check, limit.largest) == ("washer", True)
    assert limit.value == pytest.approx(listed.value, abs=1e-3)
    assert drillable(applied(wide, OUTER, limit.value)).answer == "yes"


BOATS = {
    "some room": with_some_room, "room enough": roomy, "at the side": lambda: with_some_room(mounts__0__offset=141.0),
    "leaning bolts": lambda: with_some_room(mounts__0__lower_tilt=2.0), "thick washers": lambda: roomy(**THICK),
}  # fmt: skip


@cache
def _limit_as_listed(boat):
    return sure(of(size_limits(buying(BOATS[boat](), OUTER)), OUTER))


@given(st.sampled_from(sorted(BOATS)), st.floats(23.0, SMALL))
@example("some room", SMALL)
@example("some room", 150.0)  # halving steps once jumped from here past every size that clears
@example("room enough", 100.0)  # a washer that bends already is no reason to let a wider one bend more
@settings(max_examples=5, phases=[Phase.explicit, Phase.generate])
def test_the_largest_washer_is_the_same_whichever_is_listed(boat, listed):
    """Within 1e-3 mm; and with the largest one the chance of every lower washer's room is enough to drill."""
    wide = buying(changed(BOATS[boat](), mounts__0__lower_hardware__washer__outer=listed), OUTER)
    limit = sure(of(size_limits(wide), OUTER))
    assert (limit.check, limit.value) == (_limit_as_listed(boat).check, pytest.approx(_limit_as_listed(boat).value, abs=1e-3))
    lower = [finding for finding in applied(wide, OUTER, limit.value).findings if "lower" in finding.at]
    assert min(finding.chance for finding in lower if finding.check == "washer") >= SURE
    assert not [finding for finding in lower if finding.check == limit.check and finding.state == "fouled"]


def test_a_range_of_washers_that_is_narrower_than_the_sizes_tried():
    """In soft wood a washer under 36.9 mm presses too hard, and one over 37.4 mm reaches the corner. Both within 0.1 mm."""
    checked = buying(from_text(design_text("tapered-work-boat")), OUTER)
    limit = sure(of(size_limits(checked), OUTER))
    assert (limit.check, limit.value) == ("washer", pytest.approx(37.4, abs=0.1))
    assert applied(checked, OUTER, 36.8).of("pressure", PORT).state == "fouled"
    assert applied(checked, OUTER, limit.value).of("pressure", PORT).state == "tight"


@pytest.mark.parametrize(("name", "field"), [
    ("tapered-work-boat", "washer.thickness"), ("thrice-drilled-runabout", "washer.thickness"),
    ("thrice-drilled-runabout", "backing_plate.thickness"),
])  # fmt: skip
def test_a_thickness_fits_the_bolts_that_are_bought_with_it(name, field):
    """At the limit the bolts that are listed have the length that is advised; 0.1 mm beyond it they have not."""
    checked = buying(from_text(design_text(name)))
    key = f"{LOWER}.{field}"
    limits = [limit for limit in size_limits(checked) if limit.key == key]
    assert any(limit.largest and limit.check == "length" for limit in limits)
    listed = with_lengths_kept(checked.design)
    for limit in limits:
        way = 1.0 if limit.largest else -1.0
        assert way * (limit.value - sure(measure(listed, key)).get(listed)) > 0
        assert lacking(listed, key, limit.value, limit.check) >= -1e-6
        assert lacking(listed, key, limit.value + way * BEYOND, limit.check) < 0


def lacking(listed, key, size, check_name):
    """Return the least room of a check with a size, below 0 where it lacks some; of a bolt's length, of what is advised."""
    findings = [each for each in check(sure(measure(listed, key)).set(listed, size)).findings if each.check == check_name]
    if check_name == "pressure":
        return min(each.least - each.value for each in findings)
    return min(each.value - (each.advised if check_name == "length" else each.least) for each in findings)


def test_a_washer_may_be_as_much_thicker_as_its_bolt_is_longer_than_needed():
    """By hand: the bolts are 82.55 mm, 81.1763 mm is the least that is advised, and the listed washer is 3 mm thick."""
    checked = buying(with_some_room(), THICKNESS)
    most = next(limit for limit in size_limits(checked) if limit.largest)
    assert most.key == THICKNESS
    assert most.value == pytest.approx(3 + 82.55 - 81.1763, abs=1e-3)


def test_no_other_thickness_is_offered_where_the_listed_one_does_not_clear():
    checked = buying(changed(example_design(), mounts__0__drop=203.2), THICKNESS)
    assert of(size_limits(checked), THICKNESS) is None


def test_a_nut_to_buy_has_its_largest_size():
    """Its corners have the room of a socket less around them, and the bolt is long enough for so much height."""
    own = HexSizes(flats=19.0, corners=None, height=12.0)
    checked = buying(with_some_room(mounts__0__lower_hardware__nut_sizes=own), FLATS, HEIGHT)
    limits = size_limits(checked)
    assert {limit.key for limit in limits if limit.largest} == {FLATS, HEIGHT}
    tall = sure(of(limits, HEIGHT))
    assert tall.value > 12.0
    listed = with_lengths_kept(checked.design)
    assert lacking(listed, HEIGHT, tall.value, tall.check) >= -1e-6
    assert lacking(listed, HEIGHT, tall.value + BEYOND, tall.check) < 0
