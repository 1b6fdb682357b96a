"""Impossible values are refused where they are typed and where they are read. A guess is never the reason.

Limits are ours where no source is named. Hulls by hand: height less the rise of the bottom, plumb, over cos(rake).
"""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assets import design_names, design_text
from geometry.design.impossible_boats import _places
from geometry.design.validity import NonsenseError
from geometry.design_text import DesignError, from_text, to_text
from geometry.edits.additions import add_well
from geometry.edits.choices import choices
from geometry.edits.edits import confirm, enter, enter_value, set_units
from geometry.edits.starting_shapes import blank, starts
from geometry.readings.measures import measure
from geometry.readings.nearest_accepted import reach, refused
from tests.designs import changed, example_design, sure, twin_design

IN = 25.4
SHAPES = {start.title: start.design for start in starts()}
WELL = SHAPES["Cut-out, shallow well"]
FLOOR = ("well.floor_port", "well.floor_starboard")


def entered(design, **values):
    """Return a design with readings typed one after the other, their keys' dots written as two underscores [mm, degrees]."""
    for key, value in values.items():
        design = enter_value(design, sure(measure(design, key.replace("__", "."))), value)
    return design


def why_not(design, key: str, value: float) -> str:
    """Return why an entry does not take a value; "" where it does."""
    sentence = refused(lambda it: enter_value(design, sure(measure(design, key)), it), value)
    return "" if sentence is None else sentence.why or str(sentence)


def limit(design, key: str, beyond: float) -> float:
    """Return the value nearest to a refused one that an entry takes."""
    row = sure(measure(design, key))
    return sure(reach(lambda it: enter_value(design, row, it), row.get(design), beyond)).last


def filed(design, *place, to):
    """Return the text of a file in which one value was changed by hand."""
    whole = json.loads(to_text(design))
    group = whole
    for step in place[:-1]:
        group = group[step]
    group[place[-1]] = to
    return json.dumps(whole)


@pytest.mark.parametrize("title", [title for title in SHAPES if SHAPES[title].well is not None])
@pytest.mark.parametrize("key", FLOOR)
@pytest.mark.parametrize(("value", "why"), [(90 * IN, "no boat"), (243 * IN, "no boat"),
                                                  (-5 * IN, "above 0"), (0, "above 0")])  # fmt: skip
def test_no_floor_is_90_in_deep_or_above_the_edge(title, key, value, why):
    assert why in why_not(SHAPES[title], key, value)


@pytest.mark.parametrize("name", design_names())
@pytest.mark.parametrize("inches", [90, 243, -5])
def test_no_demonstration_boat_takes_such_a_floor_at_any_corner(name, inches):
    """-5 in of a corner is above the edge, which the ends of a well's line may be, but no corner between them."""
    design = from_text(design_text(name))
    keys = [*FLOOR, *(f"well.profile.{corner}.1" for corner in range(1, len(design.well.profile) - 1))] if design.well else []
    asked = [key for key in keys if measure(design, key) is not None]
    assert len(asked) >= 2 or design.well is None
    assert all(why_not(design, key, inches * IN) for key in asked)


def hull(**values):
    """Return a boat whose transom is measured, all but ``values``; what is left of its guesses is the well's."""
    design = entered(WELL, **{**HULL, **values})
    return changed(design, readings={key: row for key, row in design.readings.items() if not key.startswith("transom.")})


HULL = {"transom__rake": 14.0, "transom__height": 19.5 * IN, "transom__deadrise": 10.0, "transom__thickness__top": 44.45,
        "transom__thickness__low": 44.45}  # fmt: skip


def test_a_floor_stays_above_the_hulls_bottom():
    """Level cut: the inside top edge is level with the datum. Under the lower bolts, 4.9375 in out, the bottom is
    4.9375 tan 10° higher: 19.5 - 0.8706 = 18.6294 in down, plumb; along the face, which leans 14°, 19.1998 in.
    """
    design = hull()
    by_hand = (19.5 - 4.9375 * math.tan(math.radians(10))) / math.cos(math.radians(14)) * IN
    for key in FLOOR:
        assert limit(design, key, 40 * IN) == pytest.approx(by_hand, abs=1e-6)
        assert "hull’s bottom" in why_not(design, key, by_hand + 0.01)
        assert why_not(design, key, by_hand - 0.01) == ""


@pytest.mark.parametrize(("cut", "up"), [("square", 44.45 * math.tan(math.radians(14))), ("level", 0.0)])
def test_the_step_between_the_edges_counts(cut, up):
    """Parallel faces, 44.45 mm: cut square, the inside edge is 44.45 tan(rake) nearer to the bottom along the face."""
    design = changed(hull(), transom__top_cut=cut)
    level = (19.5 - 4.9375 * math.tan(math.radians(10))) / math.cos(math.radians(14)) * IN
    assert limit(design, "well.floor_port", 40 * IN) == pytest.approx(level + up, abs=1e-6)


@pytest.mark.parametrize(("well_from", "further"), [("inside top edge", 0.0), ("datum", 44.45 * math.tan(math.radians(14)))])
def test_a_depth_from_the_datum_may_be_more_than_one_from_the_inside_top_edge(well_from, further):
    """Level cut, parallel faces: the inside top edge is 44.45 tan(rake) further down along the face than the datum is."""
    design = changed(hull(), transom__top_cut="level", well__well_from=well_from)
    level = (19.5 - 4.9375 * math.tan(math.radians(10))) / math.cos(math.radians(14)) * IN
    assert limit(design, "well.floor_port", 40 * IN) == pytest.approx(level + further, abs=1e-6)


def test_the_same_limit_refuses_a_height():
    """The floor, 14 in along a face that leans 14°, is 13.584 in down: the hull's bottom there can't be higher."""
    design = hull(well__floor_port=14 * IN, well__floor_starboard=14 * IN)
    by_hand = (14 * math.cos(math.radians(14)) + 4.9375 * math.tan(math.radians(10))) * IN
    assert limit(design, "transom.height", 5 * IN) == pytest.approx(by_hand, abs=1e-6)
    assert "hull’s bottom" in why_not(design, "transom.height", 5 * IN)


@pytest.mark.parametrize("guessed", ["transom__height", "transom__deadrise"])
def test_a_guess_of_the_hull_refuses_no_floor(guessed):
    """19.4 in is under a bottom that rises by 10°, and above a level one; 22 in under both."""
    design = entered(WELL, **{key: value for key, value in HULL.items() if key != guessed})
    assert why_not(design, "well.floor_port", 19.4 * IN) == ""
    assert bool(why_not(design, "well.floor_port", 22 * IN)) is (guessed == "transom__deadrise")


def test_where_the_face_is_a_guess_a_floor_has_an_inch_more():
    design = entered(WELL, transom__height=19.5 * IN, transom__deadrise=10.0)
    by_hand = (19.5 + 1 - 4.9375 * math.tan(math.radians(10))) / math.cos(math.radians(14)) * IN
    assert limit(design, "well.floor_port", 40 * IN) == pytest.approx(by_hand, abs=1e-6)


@pytest.mark.parametrize("gone", ["transom__height", "transom__rake", "transom__thickness__low"])
def test_what_is_not_known_refuses_nothing(gone):
    design = changed(entered(WELL, **HULL), **{gone: None})
    assert why_not(design, "well.floor_port", 30 * IN) == ""


def test_a_hull_of_several_bodies_has_no_such_bottom():
    assert why_not(changed(entered(WELL, **HULL), boat__kind="other"), "well.floor_port", 30 * IN) == ""


def test_port_and_starboard_differ_by_less_than_15_degrees():
    """9.875 in apart: 9.875 tan 15° = 2.646 in. A guess at the other side follows, and refuses nothing."""
    both = entered(WELL, well__floor_port=9 * IN, well__floor_starboard=9 * IN)
    most = 9.875 * math.tan(math.radians(15)) * IN
    assert limit(both, "well.floor_port", 15 * IN) - 9 * IN == pytest.approx(most, abs=1e-4)
    assert limit(both, "well.floor_port", 2 * IN) - 9 * IN == pytest.approx(-most, abs=1e-4)
    assert "empty its entry first" in why_not(both, "well.floor_port", 19 * IN)
    once = entered(WELL, well__floor_port=9 * IN)
    deeper = entered(once, well__floor_port=19 * IN)
    assert [sure(measure(deeper, key)).get(deeper) for key in FLOOR] == [pytest.approx(19 * IN)] * 2


def test_a_corner_radius_is_less_than_the_depth_and_than_half_the_width():
    deep = entered(WELL, well__floor_port=6 * IN, well__floor_starboard=6 * IN)
    assert limit(deep, "well.fillet_radius", 11 * IN) == pytest.approx(6 * IN, abs=1e-3)
    narrow = entered(WELL, well__floor_width=13 * IN, well__top_width=14 * IN)
    assert limit(narrow, "well.fillet_radius", 11 * IN) == pytest.approx(7 * IN, abs=1e-3)
    assert why_not(WELL, "well.fillet_radius", 10 * IN) == ""  # a guess of 9 3/4 in for the depth refuses nothing
    assert "no small boat" in why_not(WELL, "well.fillet_radius", 19.05 * IN)


def test_a_transom_is_no_thinner_than_its_skins():
    design = entered(WELL, transom__skin_outside=5.0, transom__skin_inside=6.0, transom__thickness__top=44.0,
                     transom__thickness__low=44.0)  # fmt: skip
    for key in ("transom.thickness.top", "transom.thickness.low"):
        assert limit(design, key, 1.0) == pytest.approx(11.0, abs=2e-6)
    assert limit(design, "transom.skin_inside", 100.0) == pytest.approx(39.0, abs=2e-6)


def test_the_inside_edge_is_where_rake_and_thickness_can_put_it():
    """Cut level it is 14° from square; 30° beyond level, or beyond square, no transom is cut."""
    design = entered(WELL, transom__rake=14.0, transom__top_cut=10.0)
    assert limit(design, "transom.top_cut", 50.0) == pytest.approx(44.0, abs=1e-5)
    assert limit(design, "transom.top_cut", -50.0) == pytest.approx(-30.0, abs=1e-5)
    assert "inside top edge" in why_not(design, "transom.top_cut", -40.0)


def test_two_bolts_are_never_in_one_hole():
    """A spacing of 5e-324 mm made the pressure under a backing plate fail: half a spacing is more than half a bolt, 12.7 mm."""
    for key in ("mounts.0.bracket.lower.half_spacing", "mounts.0.bracket.rows.half_spacing"):
        assert limit(WELL, key, 0.1) == pytest.approx(6.35, abs=1e-6)
        assert why_not(WELL, key, 5e-324)
    assert limit(WELL, "mounts.0.bracket.rows.pitch", 0.1) == pytest.approx(12.7, abs=1e-6)


IMPOSSIBLE = {
    "floor": (("well", "profile", 1, 1), -90 * IN, "well.profile reaches -2286 mm"),
    "floor above": (("well", "profile", 1, 1), 40.0, "well.profile's corner 2 (y is 40) is above both ends"),
    "hull": (("transom", "height"), 200.0, "well.profile goes down to 236.03 mm"),
    "radius": (("well", "fillet_radius"), 240.0, "well.fillet_radius is 240; it has to be less than the well's depth"),
    "large radius": (("well", "fillet_radius"), 635.0, "well.fillet_radius is 635; no small boat"),
    "thin": (("transom", "thickness", "low"), 7.0, "transom.thickness.low is 7; it can't be less than both skins"),
    "taper": (("transom", "thickness", "low"), 200.0, "transom.thickness.low (200 mm) and top (44 mm) differ too much"),
    "skin": (("transom", "skin_inside"), 41.0, "transom.thickness.top is 44"),
    "cut": (("transom", "top_cut"), 44.5, "transom.top_cut is 44.5; with a rake of 14°"),
    "nothing": (("mounts", 0, "bracket", "lower", "half_spacing"), 5e-324, "mounts[0].bracket.lower.half_spacing is 4.94066e"),
    "spacing": (("mounts", 0, "bracket", "lower", "half_spacing"), 5.0, "mounts[0].bracket.lower.half_spacing puts two"),
    "leg": (("mounts", 0, "leg"), 90_000.0, "mounts[0].leg is 90000; no small boat"),
    "rows": (("mounts", 0, "bracket", "rows", "count"), 99, "mounts[0].bracket.rows.count is 99"),
}


@pytest.mark.parametrize("what", IMPOSSIBLE)
def test_a_file_that_holds_it_is_refused_with_one_sentence_that_names_the_field(what):
    place, value, refusal = IMPOSSIBLE[what]
    with pytest.raises(DesignError) as sentence:
        from_text(filed(example_design(), *place, to=value))
    assert str(sentence.value).startswith(refusal)
    assert ". " not in str(sentence.value)
    assert str(sentence.value).endswith(".")


def test_the_refusal_of_a_floor_below_the_hull_names_the_most_that_is_taken():
    """The file has a floor of 236.03 mm over a hull of 200 mm. The depth in the sentence is taken, and 0.01 mm more is not."""
    def boat(depth: float) -> str:
        whole = json.loads(to_text(example_design()))
        whole["transom"]["height"] = 200.0
        for corner in (1, 2):
            whole["well"]["profile"][corner][1] = -depth
        return json.dumps(whole)

    with pytest.raises(DesignError, match="is the most") as sentence:
        from_text(boat(236.03))
    most = float(str(sentence.value).partition("there; ")[2].split()[0])
    assert from_text(boat(most - 0.01)) is not None
    with pytest.raises(DesignError, match="hull's bottom"):
        from_text(boat(most + 0.01))


def test_a_floor_in_a_file_slopes_by_less_than_15_degrees():
    """236.03 mm at starboard, and 600 mm to port 80: 14.6°; 70: 15.5°."""
    assert from_text(filed(example_design(), "well", "profile", 1, 1, to=-80.0))
    with pytest.raises(DesignError, match=r"^well\.profile has a floor that slopes 15\.5°"):
        from_text(filed(example_design(), "well", "profile", 1, 1, to=-70.0))


@pytest.mark.parametrize("what", ["radius", "hull", "cut"])
def test_a_guess_in_a_file_is_read(what):
    """Where one of the readings is a guess, it may be what is wrong."""
    place, value, _ = IMPOSSIBLE[what]
    guess = WELL.readings["transom.rake"]
    keys = {"radius": "well.fillet_radius", "hull": "transom.height", "cut": "transom.rake"}
    design = changed(example_design(), readings={keys[what]: guess})
    assert from_text(filed(design, *place, to=value)) is not None


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("name", ["example", "twins", "blank", "add a well", *SHAPES])
def test_every_boat_of_the_program_is_still_read(name, units):
    made = {"example": example_design(), "twins": twin_design(), "blank": blank(), "add a well": add_well(blank()), **SHAPES}
    design = set_units(made[name], units)
    assert from_text(to_text(design)) == design


def test_a_guess_that_makes_no_sense_with_what_was_measured_can_not_be_confirmed():
    design = entered(WELL, **{key: value for key, value in HULL.items() if key != "transom__height"},
                     well__floor_port=22 * IN)  # fmt: skip
    with pytest.raises(NonsenseError, match="hull's bottom"):
        confirm(design, "transom.height")
    assert confirm(entered(design, well__floor_port=15 * IN), "transom.height").readings["transom.height"].state == "measured"


@given(st.floats(-60, 60), st.floats(-10, 45), st.floats(1, 300), st.floats(1, 300), st.floats(-1000, -1))
def test_no_taper_and_cut_run_past_each_other(cut, rake, top, low, at):
    """Where both are taken, the top cut still comes out at the inner face: 1 - tan(taper) tan(cut) stays above 0.4."""
    design = example_design()
    try:
        design = changed(design, transom__top_cut=cut, transom__rake=rake)
        thick = type(design.transom.thickness)(top=top, low=low, low_at=at)
        design = changed(design, transom__thickness=thick)
    except NonsenseError:
        return
    taper = (low - top) / -at
    assert 1 - taper * math.tan(math.radians(cut)) > 0.4


def test_no_choice_of_a_starting_shape_is_refused():
    for design in SHAPES.values():
        for choice in choices(design, 0):
            for index in range(len(choice.options)):
                choice.put(index)


def test_a_bound_can_be_typed_in_inches():
    assert limit(WELL, "well.floor_port", 100 * IN) == pytest.approx(60 * IN, abs=2e-6)
    assert enter(WELL, sure(measure(WELL, "well.floor_port")), "60 in") is not None


def test_the_floor_is_looked_at_in_the_middle_and_under_the_lower_bolts():
    """A floor 200 deep at -300, 240 at 20 and 200 at 300: its own corner, and by hand where it is under 0 and 125.4125.

    At 0 it is -200 - 40·300/320 = -237.5; at -125.4125 it is -221.823; at 125.4125 it is -240 + 40·105.4125/280 = -224.941.
    """
    corners = [(-320.0, 0.0), (-300.0, -200.0), (20.0, -240.0), (300.0, -200.0), (320.0, 0.0)]
    places = sorted((u, y) for u, y, _ in _places(corners))
    wanted = [(-125.4125, -221.82344), (0.0, -237.5), (20.0, -240.0), (125.4125, -224.94107)]
    assert places == [pytest.approx(at, abs=1e-4) for at in wanted]
