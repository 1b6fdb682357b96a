"""Old holes and the work on them: limits are our assumption, lengths are our calculation.

Bolts 1/2 in, holes 13.5 mm, 44 mm thick; the lower starboard hole is at 125.4125 across, 215.9 down. Within 1e-6.
"""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.decide.amounts_to_buy import is_cut, plug, to_plug, too_wide
from geometry.decide.old_holes import covered_by, crowded, old_hole_plans
from geometry.design.boat import OldHole
from geometry.judge.check import check
from tests.designs import IN, changed, example_design

U, V = 125.4125, -215.9


def hole(across=0.0, down=0.0, **values):
    bare = OldHole(name="old", at=(U + across, V - down), diameter=12.7,
                   state="open", plug_diameter=None, reuse=False, drill=None)  # fmt: skip
    return replace(bare, **values)


def boat(*holes, **values):
    return changed(example_design(), old_holes=tuple(holes), **values)


@pytest.mark.parametrize(
    ("old", "fated"),
    [
        (hole(3 * IN), "plug"), (hole(0.75 * IN), "long plug"), (hole(1.5 * IN), "plug"), (hole(0.3), "may be used again"),
        (hole(0.3, reuse=True), "used again"), (hole(5.0), "long plug"), (hole(1.0), "plug"),
        (hole(3 * IN, diameter=40.0), "own repair"), (hole(3 * IN, state="plugged", plug_diameter=25.4), "stays"),
        (hole(0.75 * IN, state="sealed"), "long plug"), (hole(3 * IN, diameter=None), "plug"),
    ],
)  # fmt: skip
def test_what_becomes_of_an_old_hole(old, fated):
    """A plug of 1 in a pitch of 3/4 in away leaves 19.05 - 12.7 - 6.75 = -0.4: a long plug; two pitches leave 18.65.

    0.3 off, the new 13.5 hole swallows the old 12.7: (13.5 - 12.7)/2 = 0.4. One off, a round plug of
    2 (1 + 6.75 + 6.35) = 28.2, drilled as 1-1/8 in, takes the new hole in; 5 off it would be 36.2, over 1-1/4 in.
    """
    (plan,) = old_hole_plans(boat(old))
    assert plan.kind == fated
    assert (plan.plug is not None) == (fated in ("plug", "long plug") and old.diameter is not None)


def test_a_long_plug_takes_old_and_new_in():
    """The new hole 1/2 in: 1 in wide, 3/4 in on, 1.75 in long; through 2 in (pi/4 + 0.75) * 2 = 3.07 in3, 50 mL."""
    thick = {"transom__thickness__top": 2 * IN, "transom__thickness__low": 2 * IN, "mounts__0__lower_hardware__hole": IN / 2}
    filling = plug(boat(hole(0.75 * IN), **thick), 0)
    assert (filling.bore, filling.run, filling.bolt) == pytest.approx((IN, 0.75 * IN, "lower starboard"))
    assert filling.bore + filling.run == pytest.approx(1.75 * IN, abs=1e-6)
    assert filling.amount.net == pytest.approx(2 * (math.pi / 4 + 0.75) * IN**3 / 1000, abs=1e-6)
    assert filling.amount.net == pytest.approx(50, abs=0.5)


def test_a_long_plug_is_as_wide_as_the_new_hole_needs():
    """An old 1/4 in hole would be bored to 1/2 in; a new one of 13.5 and two walls of 6.35 are 26.2, drilled as 1-1/8 in."""
    filling = plug(boat(hole(13.0, diameter=6.35)), 0)
    assert (filling.bore, filling.run) == pytest.approx((1.125 * IN, 13.0), abs=1e-6)
    metric = plug(replace(boat(hole(13.0, diameter=6.35)), units="mm"), 0)
    assert (metric.bore, metric.run) == pytest.approx((28.0, 13.0), abs=1e-6)


def test_a_wider_round_plug_takes_a_near_hole_in():
    filling = plug(boat(hole(1.0)), 0)
    assert (filling.bore, filling.run) == pytest.approx((1.125 * IN, 0.0), abs=1e-6)


@pytest.mark.parametrize("across", [0.0, 1.0, 2.5, 6.0, 0.75 * IN, 1.0 * IN, 1.2 * IN, 1.5 * IN, 2.0 * IN])
def test_a_new_hole_is_wholly_in_a_plug_or_wholly_out_of_it(across):
    """At any distance it is out of a round plug by at least 1/8 in, or in it with a wall of 1/4 in. In a long one it has half
    of the rest of the width of 1-1/8 in, (28.575 - 13.5)/2 = 7.5375."""
    filling = plug(boat(hole(across)), 0)
    new = 13.5 / 2
    if filling.run:
        assert filling.run == pytest.approx(across, abs=1e-9)
        assert filling.bore / 2 - new == pytest.approx(7.5375, abs=1e-6)
    else:
        assert across - filling.bore / 2 - new >= 3.175 - 1e-6 or filling.bore / 2 - across - new >= 6.35 - 1e-6


@pytest.mark.parametrize("down", [0.0, 0.8, -1.5, 5.0, -3.0, 14.0, 24.0, -28.0, -30.0, 40.0])
@pytest.mark.parametrize("tilt", [0.0, 3.0, -3.0])
@pytest.mark.parametrize("units", ["in", "mm"])
def test_what_a_plug_promises_is_what_the_check_then_measures(down, tilt, units):
    """A bolt that leans 3 degrees comes out 44 tan 3 = 2.306 off: the worse of both faces counts, for in and for out."""
    design = replace(boat(hole(down=down), mounts__0__lower_tilt=tilt), units=units)
    filling = plug(design, 0)
    aparts = abs(down), abs(down + 44 * math.tan(math.radians(tilt)))
    if filling.run:  # half of its width is left all along, and it runs as far as the hole does on either face
        assert filling.run == pytest.approx(max(aparts), abs=1e-6)
        assert (filling.bore - 13.5) / 2 >= 6.35 - 1e-6
        return
    filled = changed(design, old_holes__0__state="plugged", old_holes__0__plug_diameter=filling.bore)
    finding = check(filled).of("old_hole", "main motor / lower starboard / old")
    taken_in = filling.bore / 2 > max(aparts)
    assert finding.value >= (6.35 if taken_in else 3.175) - 1e-6
    assert ("inside" if taken_in else "clear of") in finding.text
    assert old_hole_plans(filled)[0].kind == "stays"


def test_a_round_plug_grows_with_the_lean():
    """One off on the outer face, 1 + 2.306 on the inner one: 2 (3.306 + 6.75 + 6.35) = 32.8, over 1-1/4 in: a long plug."""
    upright, leaning = (plug(boat(hole(down=1.0), mounts__0__lower_tilt=tilt), 0) for tilt in (0.0, 3.0))
    assert (upright.bore, upright.run) == pytest.approx((1.125 * IN, 0.0), abs=1e-6)
    assert (leaning.bore, leaning.run) == pytest.approx((1.125 * IN, 1 + 44 * math.tan(math.radians(3))), abs=1e-6)


@pytest.mark.parametrize(
    ("across", "across_plug", "fated", "bore", "remedy"),
    [
        (0.75 * IN, IN, "long plug", 1.125 * IN, "First bore out the plug and fill the hole with one long plug"),
        (0.5, 14.0, "plug", 1.125 * IN, "First bore out the plug and fill the hole with one wider plug"),  # 2·13.6 = 27.2
        (0.75 * IN, 1.5 * IN, "own repair", None,
         "Move the lower bolts, or fit a disc of wood first: old is too wide for a plug."),
    ],
)  # fmt: skip
def test_a_plug_that_the_new_hole_cuts_is_made_again_first(across, across_plug, fated, bore, remedy):
    sound = hole(3 * IN, state="plugged", plug_diameter=IN)
    design = boat(sound, hole(across, diameter=None, state="plugged", plug_diameter=across_plug))
    first, last = old_hole_plans(design)
    assert (last.index, last.kind) == (0, "stays")
    assert (first.index, first.kind, first.bolt) == (1, fated, "lower starboard")
    assert first.between < 0
    assert (None if first.plug is None else first.plug.bore) == (None if bore is None else pytest.approx(bore, abs=1e-6))
    assert (to_plug(design), too_wide(design)) == (((1,), ()) if bore else ((), (1,)))
    assert check(design).of("old_hole", "main motor / lower starboard / old").remedy.startswith(remedy)


@pytest.mark.parametrize("across", [2.0, 6.0, 13.0, 19.05, 22.0, 23.0, 24.0])
@pytest.mark.parametrize("diameter", [6.35, 8.0, 12.7, 13.0, 40.0])
@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_check_advises_what_the_plan_does(across, diameter, units):
    """A 13 mm hole bored to 26 is drilled to 1-1/8 in: what a plug is had in decides for both."""
    design = replace(boat(hole(across, diameter=diameter)), units=units)
    (plan,) = old_hole_plans(design)
    remedy = check(design).of("old_hole", "main motor / lower starboard / old").remedy
    if remedy is None:
        assert plan.between >= 12.7 - 1e-6
        return
    round_one = "one wider plug" if plan.plug and plan.plug.bore / 2 > across else "a structural plug"
    words = {
        "long plug": "one long plug",
        "plug": round_one,
        "own repair": "too wide for a plug",
        "may be used again": "Use it again",
    }
    assert words[plan.kind] in remedy


def test_what_a_rigger_does_first_comes_first():
    holes = (hole(0.3, reuse=True), hole(3 * IN), hole(0.75 * IN), hole(-60.0, diameter=40.0))
    assert [plan.kind for plan in old_hole_plans(boat(*holes))] == ["own repair", "long plug", "plug", "used again"]


def test_wood_left_is_that_of_the_finding():
    """A pitch away: 19.05 - 13.1 = 5.95; as the finding says in diameters."""
    design = boat(hole(0.75 * IN))
    (plan,) = old_hole_plans(design)
    finding = check(design).of("old_hole", "main motor / lower starboard / old")
    assert plan.between == pytest.approx(5.95, abs=1e-6)
    assert finding.value * 12.7 == pytest.approx(plan.between, abs=1e-9)
    assert "one long plug that covers the lower starboard hole too" in finding.remedy
    farther = check(boat(hole(22.5))).of("old_hole", "main motor / lower starboard / old")  # 22.5 - 12.7 - 6.75 = 3.05
    assert "long plug" in farther.remedy
    enough = check(boat(hole(23.0))).of("old_hole", "main motor / lower starboard / old")  # 3.55
    assert enough.remedy == "Fill the old hole with a structural plug first, or move the lower bolts."
    smaller = check(boat(hole(25.0, diameter=6.0))).of("old_hole", "main motor / lower starboard / old")
    assert smaller.remedy is None  # 25 - 3 - 6.75 = 15.25: more than a diameter


def test_a_reading_that_lacks_stops_nothing():
    (plan,) = old_hole_plans(boat(hole(0.75 * IN, at=(None, V))))
    assert (plan.kind, plan.between, plan.plug) == ("plug", None, None)
    assert covered_by(boat(hole(0.3, diameter=None)), 0) == ""


@pytest.mark.parametrize(
    ("places", "count"),
    [
        ([(0, 0), (50, 50), (100, 0)], 0), ([(0, 0), (50, 50), (100, 0), (50, -50)], 4),
        ([(0, 0), (52, 52), (104, 0), (52, -52)], 0), ([(0, 0), (10, 0), (20, 0), (30, 0), (400, 0)], 4),
        ([(0, 0), (0, 0), (0, 0), (0, 0)], 4), ([], 0),
    ],
)  # fmt: skip
def test_four_old_holes_in_a_circle_of_four_inches(places, count):
    """Radius 50.8: the square of four at 50 from its middle is in it, at 52 it is not."""
    holes = [hole(state="plugged", plug_diameter=25.4, name=f"h{i}", at=at) for i, at in enumerate(places)]
    assert len(crowded(boat(*holes))) == count


def test_a_plugged_hole_is_not_used_again():
    """Which wrong program this catches: one that says "uses it" of a plug, and lays the paper by a hole that is closed."""
    plugged = hole(0.3, state="plugged", plug_diameter=50.8, reuse=True)
    finding = check(boat(plugged)).of("old_hole", "main motor / lower starboard / old")
    assert "inside the plug" in finding.text
    assert [plan.kind for plan in old_hole_plans(boat(plugged))] != ["used again"]


@pytest.mark.parametrize(("apart", "cut"), [(19.45, False), (19.449, True), (19.451, False)])
def test_a_plug_that_a_new_hole_only_touches_is_not_cut(apart, cut):
    """A plug of 25.4 and a hole of 13.5: they touch at 12.7 + 6.75 = 19.45 from centre to centre."""
    design = changed(example_design(), old_holes__0__at=(125.4125 - apart, -215.9))
    assert is_cut(design, 0) is cut
