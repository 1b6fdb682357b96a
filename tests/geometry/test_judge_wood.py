"""Edges, seats and old holes, each case against a length or an angle calculated by hand."""

from __future__ import annotations

import math
import re

import pytest
from msgspec.structs import replace

from geometry.design.boat import OldHole, Thickness
from geometry.edits.starting_shapes import guess
from geometry.judge.check import check
from geometry.readings.measures import measures
from tests.designs import IN, changed, example_design

CLOSE = 1e-3  # [mm], diameters, degrees: what the hand's figures are rounded to
LOWER = "main motor / lower port"
UPPER = "main motor / upper port"


@pytest.mark.parametrize(
    ("upper_at", "outer", "inner", "states"),
    [
        (-50.8, 4.0, (50.8 - 10.97043) / 12.7, ("clear", "tight")),
        (-1.875 * IN, 3.75, (47.625 - 10.97043) / 12.7, ("tight", "tight")),
        (-25.0, 25 / 12.7, (25 - 10.97043) / 12.7, ("tight", "fouled")),  # 1.97 and 1.10
        (-10.0, 10 / 12.7, (10 - 10.97043) / 12.7, ("fouled", "fouled")),  # through the edge inside: below 0
    ],
)
def test_edges_on_both_faces(upper_at, outer, inner, states):
    """A level cut lowers the inside edge by 44·tan 14° = 10.97043; limits 1.5 and 4 diameters of 12.7."""
    checked = check(changed(example_design(), mounts__0__upper_at=upper_at))
    findings = [checked.of("edge", f"{UPPER} / {face} face") for face in ("outer", "inner")]
    assert [finding.value for finding in findings] == pytest.approx([outer, inner], abs=CLOSE)
    assert tuple(finding.state for finding in findings) == states


def test_a_square_cut_leaves_both_edges_alike():
    checked = check(changed(example_design(), transom__top_cut="square"))
    assert checked.of("edge", f"{UPPER} / inner face").value == pytest.approx(4.0, abs=CLOSE)


def test_the_side_of_a_narrow_cut_out():
    """A cut-out only 400 wide, 60 deep below ears: the upper hole at 163.5 is 36.4875 off the corner's side, 50.8 below."""
    outline = ((-700, 60), (-200, 60), (-200, 0), (200, 0), (200, 60), (700, 60), (620, -420), (0, -520), (-620, -420))
    checked = check(changed(example_design(), transom__outline=outline))
    assert checked.of("edge", f"{UPPER} / outer face").value == pytest.approx(50.8 / 12.7, abs=CLOSE)  # wood goes on there


def test_a_guessed_thickness_is_behind_the_inner_edge_and_not_behind_the_outer_one():
    """A hole comes out where the thickness says. So a guess of it makes the inner finding a guess."""
    design = example_design()
    thick = next(measure for measure in measures(design) if measure.key == "transom.thickness.top")
    checked = check(guess(design, [thick]))
    assert checked.of("edge", f"{UPPER} / inner face").guesses == ("transom.thickness.top",)
    assert checked.of("edge", f"{UPPER} / outer face").guesses == ()


@pytest.mark.parametrize(
    ("tilt", "wedge", "value", "state"),
    [
        (0.0, 0.0, 0.0, "clear"), (0.9, 0.0, 0.9, "clear"), (-1.0, 0.0, 1.0, "clear"), (2.0, 0.0, 2.0, "tight"),
        (2.0, 2.0, 2.0, "tight"),  # a wedge inside helps the nut, not the head
        (2.8, 0.0, 2.8, "tight"), (2.87, 0.0, 2.87, "fouled"), (0.0, 3.0, 3.0, "fouled"),
    ],
)  # fmt: skip
def test_seats_on_parallel_faces(tilt, wedge, value, state):
    design = changed(example_design(), mounts__0__lower_tilt=tilt, mounts__0__lower_hardware__wedge=wedge)
    finding = check(design).of("seat", LOWER)
    assert finding.value == pytest.approx(value, abs=CLOSE)
    assert finding.state == state


@pytest.mark.parametrize(
    ("wedge", "value", "state"),
    [(0.0, 3.43363, "fouled"), (-3.43363, 0.0, "clear"), (-2.0, 1.43363, "tight"), (3.43363, 6.867, "fouled")],
)
def test_seats_on_a_tapered_transom(wedge, value, state):
    """15 mm thicker 250 down: atan(0.06) = 3.43363°; the inner normal points up by that, the axis is below it: -3.43°."""
    design = changed(example_design(), transom__thickness=Thickness(top=44.0, low=59.0, low_at=-250.0),
                     mounts__0__lower_hardware__wedge=wedge)  # fmt: skip
    finding = check(design).of("seat", LOWER)
    assert finding.value == pytest.approx(value, abs=CLOSE)
    assert finding.state == state


@pytest.mark.parametrize(
    ("pad", "hole", "tilt", "state"),
    [
        (19.05, 13.49375, 2.3, "tight"),  # trade's 17/32 over 3/4: atan(0.79375/19.05) = 2.386°
        (19.05, 13.49375, 2.4, "fouled"),
        (19.05, 14.2875, 2.4, "tight"),  # 9/16: atan(1.5875/19.05) = 4.764°
        (50.0, 13.0, 0.35, "fouled"),  # atan(0.3/50) = 0.344°, though it sits flat enough
        (50.0, 13.0, 0.34, "clear"),
    ],
)
def test_how_far_the_brackets_hole_lets_a_bolt_lean(pad, hole, tilt, state):
    design = changed(example_design(), mounts__0__bracket__lower__pad_thickness=pad,
                     mounts__0__bracket__lower__diameter=hole, mounts__0__lower_tilt=tilt)  # fmt: skip
    assert check(design).of("seat", LOWER).state == state


def test_a_leaning_bolt_in_a_hole_not_measured_is_unknown():
    """Whether the bracket lets it lean hangs on that hole; drilled square it does not matter."""
    gone = changed(example_design(), mounts__0__bracket__lower__diameter=None)
    assert check(gone).of("seat", LOWER).state == "clear"
    leaning = check(changed(gone, mounts__0__lower_tilt=0.5)).of("seat", LOWER)
    assert leaning.state == "unknown"
    assert "lower slots, width" in leaning.text


@pytest.mark.parametrize("gone", ["drop", "offset"])
def test_seat_and_pressure_do_not_ask_where_on_the_boat_a_bolt_goes_in(gone):
    """As thick anywhere or tapered: flat faces make the same angle all over, and a washer presses alike."""
    for low, lean in ((44.0, 0.0), (59.0, 3.43363)):
        design = changed(example_design(), transom__thickness=Thickness(top=44.0, low=low, low_at=-250.0))
        checked = check(changed(design, **{f"mounts__0__{gone}": None}))
        assert checked.of("seat", LOWER).value == pytest.approx(lean, abs=CLOSE)
        assert checked.of("pressure", LOWER) == check(design).of("pressure", LOWER)


def next_to(across, state="open", plug=None, *, reuse=False, diameter=12.7, **more):
    """Return the example with one old hole ``across`` from the lower starboard one."""
    hole = OldHole(name="old hole", at=(125.4125 + across, -215.9), diameter=diameter, state=state, plug_diameter=plug,
                   reuse=reuse, drill=None)  # fmt: skip
    return check(replace(changed(example_design(), **more), old_holes=(hole,)))


HOLE = "main motor / lower starboard / old hole"


@pytest.mark.parametrize(
    ("across", "diameters", "state"),
    [
        (19.05 + 6.75 + 6.35, (19.05) / 12.7, "clear"),
        (12.7 + 13.1, 1.0, "clear"), (12.6 + 13.1, 12.6 / 12.7, "tight"), (6.35 + 13.1, 0.5, "tight"),
        (6.3 + 13.1, 6.3 / 12.7, "fouled"), (5.0, (5 - 13.1) / 12.7, "fouled"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("filled", ["open", "sealed"])
def test_wood_between_an_open_hole_and_a_new_one(across, diameters, state, filled):
    """Radii 6.75 and 6.35: between centres less 13.1, in bolt diameters of 12.7; filler counts as open."""
    finding = next_to(across, filled).of("old_hole", HOLE)
    assert finding.value == pytest.approx(diameters, abs=CLOSE)
    assert (finding.state, finding.unit) == (state, "diameters")


def test_two_half_inch_holes_a_pitch_apart_leave_a_quarter_inch():
    """0.75 - 0.5 = 0.25 in; with the drilled hole 1/2 in too. Half a diameter: tight. Derived from geometry."""
    finding = next_to(19.05, mounts__0__lower_hardware__hole=12.7).of("old_hole", HOLE)
    assert finding.value * 12.7 == pytest.approx(0.25 * IN, abs=CLOSE)
    assert finding.state == "tight"


def test_next_to_a_one_inch_plug_a_pitch_away_nothing_is_left():
    """0.75 - 0.5 - 0.25 = 0: touching, tight. Derived from geometry."""
    finding = next_to(19.05, "plugged", 25.4, mounts__0__lower_hardware__hole=12.7).of("old_hole", HOLE)
    assert finding.value == pytest.approx(0.0, abs=CLOSE)
    assert finding.state == "tight"


@pytest.mark.parametrize(
    ("across", "value", "state"),
    [(0.0, 19.05 - 6.75, "clear"), (5.95, 6.35, "clear"), (6.0, 6.3, "tight"), (12.3, 0.0, "tight"), (12.4, -0.1, "fouled"),
     (19.05, -6.75, "fouled"), (25.7, -0.1, "fouled"), (25.8, 0.0, "tight"), (32.15, 6.35, "clear")],
)  # fmt: skip
def test_wholly_in_or_wholly_out_of_a_plug(across, value, state):
    """Plug 38.1 (R 19.05), new hole R 6.75: inside 19.05 - across - 6.75, outside across - 19.05 - 6.75."""
    finding = next_to(across, "plugged", 38.1).of("old_hole", HOLE)
    assert finding.value == pytest.approx(value, abs=CLOSE)
    assert (finding.state, finding.unit) == (state, "mm")


@pytest.mark.parametrize(("across", "listed"), [(50.79, True), (50.8, False)])
def test_beyond_four_diameters_an_old_hole_has_no_finding(across, listed):
    assert (next_to(across).of("old_hole", HOLE) is not None) is listed


def test_each_bolt_and_each_old_hole_has_its_own_finding():
    holes = tuple(
        OldHole(name=f"hole {number}", at=(u, -230.0), diameter=12.7, state="open", plug_diameter=None, reuse=False, drill=None)
        for number, u in enumerate((-125.0, -110.0, 125.0), start=1)
    )  # fmt: skip
    findings = check(replace(example_design(), old_holes=holes)).findings
    places = [finding.at for finding in findings if finding.check == "old_hole"]
    assert sorted(places) == [f"{LOWER} / hole 1", f"{LOWER} / hole 2", "main motor / lower starboard / hole 3"]


def test_the_nearer_face_counts():
    """The new hole leans 5° up, the old one is square and 30 above: outside 30, inside 30 - 44·tan 5° = 26.150, less 13.1."""
    hole = OldHole(name="old hole", at=(125.4125, -185.9), diameter=12.7,
                   state="open", plug_diameter=None, reuse=False, drill=None)  # fmt: skip
    design = replace(changed(example_design(), mounts__0__lower_tilt=5.0), old_holes=(hole,))
    room = 30 - 44 * math.tan(math.radians(5)) - 13.1
    assert check(design).of("old_hole", HOLE).value * 12.7 == pytest.approx(room, abs=CLOSE)


@pytest.mark.parametrize(
    ("across", "diameter", "tilt", "state"),
    [(0.3, 12.7, 0.0, "note"), (0.4, 12.7, 0.0, "note"), (0.41, 12.7, 0.0, "fouled"), (0.0, 13.5, 0.0, "note"),
     (0.0, 14.0, 0.0, "fouled"), (0.0, 12.7, 0.5, "note"), (0.0, 12.7, 0.6, "fouled")],
)  # fmt: skip
def test_an_old_hole_that_is_to_be_used_again(across, diameter, tilt, state):
    """The new 13.5 hole swallows an old one of 12.7 up to 0.4 off, on both faces: leaning, 44·tan 0.5° = 0.384, 0.6°: 0.461."""
    checked = next_to(across, reuse=True, diameter=diameter, mounts__0__lower_tilt=tilt)
    assert checked.of("old_hole", HOLE).state == state
    assert len([finding for finding in checked.findings if finding.check == "old_hole"]) == 1


def test_no_bolts_no_wood_to_judge():
    from tests.designs import clamp_on_mount

    design = replace(example_design(), mounts=(clamp_on_mount(),))
    assert {finding.check for finding in check(design).findings} == {
        "bearing", "clamp_on", "height", "power", "weight", "reading", "tilt_room", "lock_room",
    }  # fmt: skip


def test_a_distance_in_diameters_is_rounded_down_in_its_sentence():
    """The figure in the sentence is never more than the value, and less by under a tenth."""
    design = example_design()
    finding = next(f for f in check(design).findings if f.check == "edge" and f.at.endswith("outer face"))
    said = re.search(r"([0-9.]+) diameters", finding.text)
    assert said is not None
    assert 0 <= finding.value - float(said[1]) < 0.1
