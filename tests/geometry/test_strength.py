"""Clamp and pressure of whole designs, reckoned by hand: the worked example's 1/2-13 A4-70 bolts at 47.5 N m.

F = T / (K d): 47500 / (0.14 * 12.7) = 26715.4 N at the most, 47500 / (0.18 * 12.7) = 20778.7 at the least.
Proof: 91.548 mm2 * 0.85 * 450 = 35017 N. Washer 38.1, inner skin 4, hole 13.5: pi/4 (46.1^2 - 13.5^2) = 1526.0 mm2.
"""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.decide.cures import cure
from geometry.design.hardware import BackingPlate, Spacer
from geometry.judge.check import check
from geometry.judge.strength import allowed, area_of, post, torque_at_most, with_plate
from geometry.judge.words import answer
from geometry.solid.bolts import bolts
from geometry.tables.fasteners import bolt as bolt_named
from geometry.tables.fasteners import bolt_names, grade, grade_names, nut_names
from tests.designs import changed, example_design, sure

CLOSE = 1e-4  # ratios: what the hand's figures are rounded to
AT = "main motor / lower port"
HIGH, AREA = 47_500 / (0.14 * 12.7), math.pi / 4 * (46.1**2 - 13.5**2)


def lower(**values):
    return changed(example_design(), **{f"mounts__0__lower_hardware__{name}": value for name, value in values.items()})


def finding(design, name, at=AT):
    return check(design).of(name, at)


def test_clamp_of_the_worked_example():
    found = finding(example_design(), "clamp")
    assert found.value == pytest.approx(26715.4 / 35017, abs=CLOSE)  # 0.7629
    assert (found.least, found.advised, found.unit, found.state) == (1.0, 0.75, "ratio", "tight")
    assert "4670 to 6010 lbf, 0.59 to 0.77 of its proof load (0.85 of A4-70's yield)" in found.text
    assert "threads lubricated (friction 0.14 to 0.18, common practice)" in found.text
    assert "running torque counted as 0" in found.text
    assert found.remedy.startswith("For the 1/2-13 bolt 34 lb-ft or less is advised")  # 46.69 N m is 34.4


@pytest.mark.parametrize(
    ("torque", "running", "mark", "ratio", "state"),
    [
        (46.6, None, "A4-70", 46_600 / 1.778 / 35017, "clear"), (62.2, None, "A4-70", 62_200 / 1.778 / 35017, "tight"),
        (62.4, None, "A4-70", 62_400 / 1.778 / 35017, "fouled"), (62.4, 16.0, "A4-70", 46_400 / 1.778 / 35017, "clear"),
        (47.5, None, "F593F", 26715.4 / (91.548 * 0.85 * 30 * 6.894757), "fouled"),  # annealed: 1.66
        (47.5, None, "A4-80", 26715.4 / (91.548 * 0.85 * 600), "clear"),
    ],
)  # fmt: skip
def test_clamp_by_torque_running_torque_and_grade(torque, running, mark, ratio, state):
    """K d = 0.14 * 12.7 = 1.778 mm; the running torque clamps nothing."""
    found = finding(lower(torque=torque, running_torque=running, grade=mark), "clamp")
    assert found.value == pytest.approx(ratio, abs=CLOSE)
    assert found.state == state


def test_every_grade_on_every_bolt_is_held_to_its_proof():
    """No proof stress is published for any of them: 0.85 of the yield."""
    assert all(grade(mark).proof is None for mark in grade_names())
    fitted = sure(example_design().mounts[0].lower_hardware)
    for name in bolt_names():
        thread, nut = bolt_named(name), nut_names(name)[0]
        for mark in grade_names():
            other = replace(fitted, bolt=name, grade=mark, hole=14.0, nut=nut, torque=20.0)
            found = finding(changed(example_design(), mounts__0__lower_hardware=other), "clamp")
            proof = thread.stress_area * 0.85 * grade(mark).yield_strength
            assert found.value == pytest.approx(20_000 / (0.14 * thread.diameter) / proof, abs=1e-9)


def test_a_nut_that_takes_all_of_the_torque_clamps_nothing():
    found = finding(lower(torque=20.0, running_torque=20.0), "clamp")
    assert (found.value, found.state) == (0.0, "fouled")
    assert "nothing clamps" in found.text


@pytest.mark.parametrize("field", ["torque", "friction"])
def test_what_is_not_known_is_named(field):
    value = None if field == "torque" else (None, 0.18)
    for name in ("clamp", "pressure"):
        found = finding(lower(**{field: value}), name)
        assert (found.state, found.value) == ("unknown", None)
        assert field in found.text


def test_pressure_of_the_worked_example():
    """17.507 N/mm2 over 10.5: 1.6673, within 1.67 and so tight; the text rounds it up."""
    found = finding(example_design(), "pressure")
    assert found.value == pytest.approx(26715.4 / 1526.0 / 10.5, abs=CLOSE)
    assert (found.least, found.advised, found.state) == (1.67, 1.0, "tight")
    assert "1.30 to 1.67 times the 1520 psi that it bears (fir plywood, if it is dry, our choice)" in found.text


@pytest.mark.parametrize(
    ("values", "ratio", "state"),
    [
        ({"transom__core_state": "wet"}, HIGH / AREA / 5.25, "fouled"),
        ({"transom__core_state": "damp"}, HIGH / AREA / 7.875, "fouled"),
        ({"transom__core_bears": 17.6}, HIGH / AREA / 17.6, "clear"),
        ({"transom__core_bears": 17.6, "transom__core_state": "wet"}, HIGH / AREA / 17.6, "clear"),  # as entered
        ({"transom__core_bears": 10.0, "transom__core": "unknown"}, HIGH / AREA / 10.0, "fouled"),
        ({"transom__core": "solid laminate", "transom__core_state": "wet"}, HIGH / AREA / 50, "clear"),
        ({"transom__skin_inside": 6.0}, HIGH / (math.pi / 4 * (50.1**2 - 13.5**2)) / 10.5, "tight"),
    ],
)
def test_pressure_by_core_and_skin(values, ratio, state):
    found = finding(changed(example_design(), **values), "pressure")
    assert found.value == pytest.approx(ratio, abs=1e-9)
    assert found.state == state


def test_a_core_that_nobody_knows_is_a_note_whatever_else_is_not_known():
    unknown = changed(example_design(), transom__core="unknown", transom__skin_inside=None)
    found = finding(unknown, "pressure")
    assert (found.state, found.value) == ("note", None)
    assert "Drill a pilot" in found.remedy
    assert finding(changed(example_design(), transom__skin_inside=None), "pressure").state == "unknown"


def test_cures_have_their_figures():
    """Easily: 10.5 * 1526 * 1.778 mm = 28.49 N m, 1.67 times that 47.58; 2 in washer: pi/4 (58.8^2 - 13.5^2) = 2572.3 mm2,
    48.02 and 80.20; a plate of 6 mm: 58.1 across, 2508.0 mm2, 78.19; the post, 25 mm: 55 * 347.7 = 19.1 kN."""
    found = finding(replace(example_design(), units="mm"), "pressure")
    assert found.remedy == (
        "With this washer the core takes 28 N·m easily and 47.5 N·m at the most; with one 50.8 mm across 80 N·m; with a 6 mm "
        "plate 78 N·m; a hole filled with epoxy to 25 mm and drilled again carries 19.1 kN by itself."
    )
    bolt = next(bolt for bolt in bolts(replace(example_design(), units="mm")) if bolt.name == "lower port")
    at_hand, *_, widest = allowed(bolt)
    assert (at_hand.easy, at_hand.most) == pytest.approx((28.49, 47.58), abs=0.01)
    assert widest.most == pytest.approx(80.20, abs=0.02)
    assert with_plate(bolt).most == pytest.approx(78.19, abs=0.02)
    assert post(bolt) == pytest.approx(55 * math.pi / 4 * (25**2 - 13.5**2), abs=1e-6)


def test_a_plate_spreads_the_load_and_a_spacer_gathers_it():
    """6 mm: 38.1 + 12 + 8 across. A plate of 60 x 60 for two bolts shares 1800 mm2 each: 47.87 across, not 50.1."""
    ring = ((-150.0, -38.0), (150.0, -38.0), (150.0, 38.0), (-150.0, 38.0))
    plate = BackingPlate(outline=ring, thickness=6.0, relief=(0.0, 0.0), material="aluminium 5083",
                         joins=("lower port", "lower starboard"))  # fmt: skip
    under = bolts(lower(backing_plate=plate))[2]
    assert area_of(under) == pytest.approx(math.pi / 4 * (58.1**2 - 13.5**2), abs=1e-6)
    small = replace(plate, outline=((-30.0, -30.0), (30.0, -30.0), (30.0, 30.0), (-30.0, 30.0)))
    share = math.sqrt(4 * 1800 / math.pi)
    assert area_of(bolts(lower(backing_plate=small))[2]) == pytest.approx(math.pi / 4 * ((share + 8) ** 2 - 13.5**2), abs=1e-6)
    sleeve = Spacer(outer=25.0, inner=14.0, length=10.0)
    assert area_of(bolts(lower(spacer=sleeve))[2]) == pytest.approx(math.pi / 4 * (33.0**2 - 13.5**2), abs=1e-6)


def test_a_flat_cut_is_told_beside_the_value():
    """Cut 12 below the centre: on the core 16 of 23.05; the segment is 23.05^2 (a - sin a cos a), a = acos(0.6941)."""
    found = finding(lower(washer=replace(example_design().mounts[0].lower_hardware.washer, flat_cut=12.0)), "pressure")
    half = math.acos(16 / 23.05)
    lost = 23.05**2 * (half - math.sin(half) * math.cos(half)) / AREA
    assert found.value == pytest.approx(HIGH / AREA / 10.5, abs=1e-9)
    assert f"its flat cut takes {lost * 100:.0f} % of that area away besides" in found.text


@pytest.mark.parametrize(("name", "torque"), [("clamp", 62.25), ("pressure", 47.57)])
def test_the_most_torque_is_where_the_least_limit_is_met(name, torque):
    """35017 N * 1.778 mm = 62.26 N m; 1.67 * 10.5 * 1526.0 * 1.778 mm = 47.58 N m; a hair more is fouled."""
    most = torque_at_most(bolts(example_design())[2], name)
    assert most == pytest.approx(torque, abs=0.02)
    assert finding(lower(torque=most), name).state == "tight"
    assert finding(lower(torque=most * 1.001), name).state == "fouled"


def test_what_the_program_can_do_about_it():
    """Less torque where it is more than may be, in whole lb-ft; nothing about a wet core, which comes first."""
    for name, words in (("clamp", "Torque 45 lb-ft"), ("pressure", "Torque 35 lb-ft")):
        checked = check(replace(lower(torque=65.0), units="in"))
        found = sure(cure(checked, sure(checked.of(name, AT))))
        assert found.button == words
        assert check(found.design).of(name, AT).state == "tight"
    wet = check(changed(example_design(), transom__core_state="wet"))
    assert cure(wet, sure(wet.of("pressure", AT))) is None
    assert wet.of("pressure", AT).remedy.startswith("A wet core is dried or renewed first")


def test_a_wider_washer_where_there_is_room_for_it():
    """Fouled at 60 N m: the next washer that takes it is 1-3/4 in across; without a well nothing stands in its way."""
    open_ = changed(lower(torque=60.0), well=None, inside_blocks=(), old_holes=())
    found = sure(cure(check(open_), sure(check(open_).of("pressure", AT))))
    assert found.design.mounts[0].lower_hardware.washer.outer == pytest.approx(44.45, abs=0.01)
    assert check(found.design).of("pressure", AT).state == "tight"


@pytest.mark.parametrize(
    ("design", "sentence"),
    [
        (lower(torque=65.0), "Don't tighten so: both lower washers press 2.29 times what the core bears."),
        (changed(lower(torque=63.0), transom__core_bears=30.0),
         "Don't tighten so: 46 lb-ft pulls both lower bolts to 1.02 of the proof load."),
        (changed(example_design(), boat__plate__power_kw=20.0),
         "Don't hang it: the motor's 40 hp is 1.49 of the 27 hp on the boat's plate."),
        (changed(lower(torque=65.0), mounts__0__drop=203.2, mounts__0__row=0),
         "Don't drill here: both lower washers sit 1 7/16 in too low for the well's floor."),
    ],
)  # fmt: skip
def test_the_answer_says_what_not_to_do(design, sentence):
    """What no place of a hole can help comes after what the holes foul."""
    assert answer(check(replace(design, units="in"))).sentence == sentence


def test_port_and_starboard_have_their_own_names():
    checked = check(example_design())
    for name in ("clamp", "pressure"):
        told = [found for found in checked.findings if found.check == name]
        assert len(told) == 4
        assert all(found.at.split(" / ")[1] in found.text for found in told)
