"""Before a motor is bought: shaft lengths and the stern's sinking, by hand and by slices of the hull; and openings."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.decide.amounts_to_buy import to_plug
from geometry.decide.old_holes import old_hole_plans
from geometry.decide.planning import after, more_mass, room_of, shafts, sinks
from geometry.design.boat import Fitting
from geometry.doubt.spreads import with_spreads
from geometry.edits.starting_shapes import blank
from geometry.judge.check import check
from geometry.judge.findings import Checked
from geometry.readings.measures import measure
from geometry.solid.faces import Unmeasured
from geometry.solid.openings import openings
from tests.designs import changed, clamp_on_mount, example_design, roomy, sure, twin_design
from tests.reference.test_trade_boats import skiff

IN, NEAR = 25.4, 1e-6
UP = math.cos(math.radians(14.0))


def bare(**values):
    """Return a boat without a motor: only its transom's height and rake are known."""
    return changed(blank("in"), **{"transom__height": 19.5 * IN, "transom__rake": 14.0, **values})


def test_three_shafts_on_a_transom_of_19_and_a_half_inches():
    """By hand, rake 14 degrees, for hooks 0 to 3 1/4 in up: that is 2 in, and four pitches of 3/4 in, less 1 3/4 in."""
    assert room_of(bare(), None).most == pytest.approx(3.25 * IN, abs=NEAR)
    short, middle, long = shafts(bare(), None)
    assert [each.answer for each in (short, middle, long)] == ["too short", "suits", "too long"]
    assert middle.av_plate == pytest.approx((-1.5 * IN, -0.5 * IN), abs=NEAR)  # 19 1/2 less 21, and less 20
    assert middle.lift == pytest.approx((0.5 * IN / UP, (1.5 * IN + 25.0) / UP), abs=NEAR)
    assert short.av_plate == pytest.approx((3.5 * IN, 4.5 * IN), abs=NEAR)
    assert long.av_plate == pytest.approx((-6.5 * IN, -5.5 * IN), abs=NEAR)


def test_a_shaft_between_two_answers_is_measured_first():
    """By hand: 15 1/2 in high. A shaft of 15 in is 1/2 in too high and one of 16 in is 1/2 in too low: both can be lifted.

    17 in high, 16 in are 25.4 mm above the bottom where 25 are usual, so that the longest is too high too by 0.4 mm. At
    16.9 in the longest is 22.9 mm above and suits, and the shortest is 48.3 mm above and does not.
    """
    answers = [shafts(bare(transom__height=high * IN), None)[0].answer for high in (15.5, 17.0, 16.9)]
    assert answers == ["suits", "too short", "measure first"]


def test_the_well_sets_how_low_a_motor_of_the_trades_skiff_can_hang():
    """trade boat B1, washers cut flat: the deepest lower bolts are 8.523 in down, the slot is 10 in below the hook."""
    room = room_of(skiff(flat=0.46), 0)
    assert room.by_well
    assert room.least == pytest.approx((10 - 8.523) * IN, abs=0.05)
    own = shafts(skiff(flat=0.46), 0)[0]
    assert own.nominal is None
    assert own.av_plate[0] == pytest.approx(0.68 * IN, abs=0.01 * IN)  # B1: A_min = +.68
    assert own.answer == "suits"


def test_what_is_missing_is_named():
    with pytest.raises(Unmeasured, match=r"transom\.height"):
        shafts(changed(bare(), transom__height=None), None)
    with pytest.raises(Unmeasured, match=r"mounts\.0\.mass"):
        more_mass(bare())
    with pytest.raises(Unmeasured, match=r"boat\.beam"):
        sinks(heavier(boat__beam=None))


def test_a_motor_that_clamps_on_cannot_be_lifted():
    assert room_of(replace(example_design(), mounts=(clamp_on_mount(),)), 0).most == 0.0


def test_a_twin_away_from_the_middle_has_a_lower_transom():
    design = twin_design()
    offset = abs(sure(design.mounts[0].offset))
    drop = offset * math.tan(math.radians(sure(design.transom.deadrise)))
    assert room_of(design, 0).height == pytest.approx(sure(design.transom.height) - drop, abs=NEAR)


def heavier(**values):
    """Return a boat of 5 m by 2 m, on the water 4.5 by 1.8: a motor of 98 kg for one of 71 kg, both 300 mm aft."""
    usual = {
        "boat__length": 5000.0, "boat__beam": 2000.0, "boat__old_motor__mass": 71.0, "boat__old_motor__centre_aft": 300.0,
        "mounts__0__centre_aft": 300.0,
    }  # fmt: skip
    return changed(example_design(), **{**usual, **values})


def test_the_stern_sinks_as_by_hand():
    """8.1 kg sink it level by 1 mm. Box: (4 * 27 + 6 * 27 * 300 / 4500) / 8.1; wedge: (6 * 27 + 12 * 1.8) / 8.1."""
    assert sinks(heavier()) == pytest.approx((14.6667, 22.6667), abs=1e-4)
    assert after(heavier(), 60.0) == pytest.approx(60.0 - 22.6667, abs=1e-4)
    rises = sinks(heavier(boat__old_motor__mass=125.0))
    assert rises == pytest.approx((-14.6667, -22.6667), abs=1e-4)


@pytest.mark.parametrize(("shape", "number"), [(lambda _: 1.0, 0), (lambda share: 1.0 - share, 1)])
def test_the_stern_sinks_as_a_hull_in_thin_slices_does(shape, number):
    """Sum of forces and of moments over 20,000 slices of the water's surface: level sinking and trim, two equations."""
    length, beam, more, aft, count = 4500.0, 1800.0, 27.0, 300.0, 20_000
    step = length / count
    places = [(k + 0.5) * step for k in range(count)]
    areas = [beam * shape(x / length) * step * 1e-6 for x in places]  # kg for each mm
    zeroth, first, second = (sum(area * x**power for area, x in zip(areas, places, strict=True)) for power in (0, 1, 2))
    # stern + slope * x is the sinking: its moments about the stern are those of the mass at -aft
    stern = (more * second + more * aft * first) / (zeroth * second - first * first)
    assert sinks(heavier())[number] == pytest.approx(stern, rel=1e-6)


def with_tube(u, v, drill=50.8, side=60.0):
    ring = ((u, v), (u + side, v), (u + side, v + side), (u, v + side))
    return replace(roomy(), outside_fittings=(Fitting(name="rigging tube", outline=ring, stands_out=30.0, drill=drill),))


def test_an_opening_is_at_the_middle_of_its_fitting():
    (opening,) = openings(with_tube(200.0, -150.0))
    assert opening.at == pytest.approx((230.0, -120.0), abs=NEAR)
    assert (opening.diameter, opening.is_there) == (50.8, False)
    assert openings(with_tube(200.0, -150.0, drill=None)) == ()


def test_an_old_hole_is_opened_to_no_less_than_it_is_and_gets_no_plug():
    old = replace(roomy().old_holes[0], state="open", plug_diameter=None, drill=10.0, at=(60.0, -90.0))
    design = replace(roomy(), old_holes=(old,))
    (opening,) = openings(design)
    assert (opening.diameter, opening.is_there) == (old.diameter, True)
    assert to_plug(design) == ()
    assert [plan.kind for plan in old_hole_plans(design)] == ["stays"]
    assert to_plug(replace(design, old_holes=(replace(old, drill=None),))) == (0,)


def test_the_wood_between_a_bolt_and_an_opening_is_checked():
    """By hand: a hole of 2 in whose middle is 40 mm to starboard of a bolt's hole of 13.5: 40 less 25.4, less 6.75."""
    bolt_u, bolt_v = 163.5125, roomy().mounts[0].upper_at
    design = with_tube(bolt_u + 40.0 - 30.0, bolt_v - 30.0)
    finding = check(design).of("old_hole", "main motor / upper starboard / rigging tube")
    assert finding.value == pytest.approx((40.0 - 25.4 - 6.75) / 12.7, abs=NEAR)
    near = with_tube(bolt_u + 20.0 - 30.0, bolt_v - 30.0)
    fouled = check(near).of("old_hole", "main motor / upper starboard / rigging tube")
    assert fouled.state == "fouled"
    assert "overlaps the hole to be drilled for rigging tube" in fouled.text
    assert isinstance(with_spreads(check(near)), Checked)
    assert check(with_tube(300.0, -300.0)).of("old_hole", "main motor / upper starboard / rigging tube") is None


def test_an_opening_of_an_unmeasured_fitting_is_not_checked():
    ring = ((None, None),) * 4
    design = replace(roomy(), outside_fittings=(Fitting(name="tube", outline=ring, stands_out=None, drill=50.8),))
    assert check(design).of("old_hole", "main motor / lower port / tube").state == "unknown"


@pytest.mark.parametrize("key", ["boat.afloat.top_edge", "boat.afloat.scupper", "boat.afloat.drain", "outside_fittings.0.drill",
                                 "old_holes.0.drill"])  # fmt: skip
def test_the_new_readings_are_never_asked_for_by_the_boat_itself(key):
    design = example_design()
    row = measure(design, key)
    assert row.free
    assert row.get(row.set(design, 25.4)) == 25.4
