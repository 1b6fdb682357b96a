"""Clamp and pressure of whole designs, calculated by hand: the worked example's 1/2-13 A4-70 bolts at 47.5 N m.

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
from geometry.judge.pressed_area import area_of
from geometry.judge.strength import allowed, post, post_words, torque_at_most, with_plate
from geometry.judge.torque_passes import tightening
from geometry.judge.words import answer
from geometry.solid.placed_bolts import bolts
from geometry.tables.fasteners import bolt as bolt_named
from geometry.tables.fasteners import bolt_names, grade, grade_names, nut_names
from tests.designs import changed, example_design, sure

CLOSE = 1e-4  # ratios: what the hand's figures are rounded to
CHORDS = 0.9995  # of an area whose arcs are calculated as chords: rather too little than too much
AT = "main motor / lower port"
HIGH, AREA = 47_500 / (0.14 * 12.7), math.pi / 4 * (46.1**2 - 13.5**2)


def lower(**values):
    return changed(example_design(), **{f"mounts__0__lower_hardware__{name}": value for name, value in values.items()})


def finding(design, name, at=AT):
    return check(design).of(name, at)


def test_clamp_of_the_worked_example():
    clamp = finding(example_design(), "clamp")
    assert clamp.value == pytest.approx(26715.4 / 35017, abs=CLOSE)  # 0.7629
    assert (clamp.least, clamp.advised, clamp.unit, clamp.state) == (1.0, 0.75, "ratio", "tight")
    assert clamp.text == (
        "35 lb-ft of wrench torque pulls the lower port bolt with 2400 to 6010 lbf, 0.31 to 0.77 of its proof load (0.85 of "
        "A4-70's yield). Threads lubricated (friction 0.14 to 0.18, common practice); of the torque 0 to 17 lb-ft is the lock "
        "nut's drag (not measured; highest published)."
    )
    assert clamp.remedy.startswith("Advised wrench torque for the 1/2-13 bolt: 34 lb-ft or less")  # 46.69 N m is 34.4


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"running_torque": 8.0}, "3880 to 4990 lbf, 0.49 to 0.64 of"),  # 39.5 of the 47.5 N m clamp
        ({"running_torque": 8.0}, "of the torque 6 lb-ft is the lock nut's drag (measured)"),
        ({"nut": "ASME B18.2.2 hex"}, "4670 to 6010 lbf, 0.59 to 0.77 of"),
        ({"nut": "ASME B18.2.2 hex"}, "the nut has no drag"),
        ({"bolt": "1/2-20"}, "with up to 6010 lbf, up to 0.68 of"),
        ({"bolt": "1/2-20"}, "the lock nut's drag is not measured, and none is published for this nut"),
        ({"torque": 20.0}, "with up to 2530 lbf, up to 0.33 of"),  # a new nut may take all of it
    ],
)  # fmt: skip
def test_clamp_says_what_the_drag_leaves(values, words):
    clamp = finding(lower(**values), "clamp")
    assert words in clamp.text
    assert clamp.text.startswith(f"{15 if 'torque' in values else 35} lb-ft of wrench torque pulls ")


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
    clamp = finding(lower(torque=torque, running_torque=running, grade=mark), "clamp")
    assert clamp.value == pytest.approx(ratio, abs=CLOSE)
    assert clamp.state == state


def test_every_grade_on_every_bolt_is_held_to_its_proof():
    """No proof stress is published for any of them: 0.85 of the yield."""
    assert all(grade(mark).proof is None for mark in grade_names())
    fitted = sure(example_design().mounts[0].lower_hardware)
    for name in bolt_names():
        thread, nut = bolt_named(name), nut_names(name)[0]
        for mark in grade_names():
            other = replace(fitted, bolt=name, grade=mark, hole=14.0, nut=nut, torque=20.0)
            clamp = finding(changed(example_design(), mounts__0__lower_hardware=other), "clamp")
            proof = thread.stress_area * 0.85 * grade(mark).yield_strength
            assert clamp.value == pytest.approx(20_000 / (0.14 * thread.diameter) / proof, abs=1e-9)


def test_a_nut_that_takes_all_of_the_torque_clamps_nothing():
    clamp = finding(lower(torque=20.0, running_torque=20.0), "clamp")
    assert (clamp.value, clamp.state) == (0.0, "fouled")
    assert "Nothing clamps" in clamp.text


@pytest.mark.parametrize("field", ["torque", "friction"])
def test_what_is_not_known_is_named(field):
    value = None if field == "torque" else (None, 0.18)
    for name in ("clamp", "pressure"):
        result = finding(lower(**{field: value}), name)
        assert (result.state, result.value) == ("unknown", None)
        assert field in result.text


def test_pressure_of_the_worked_example():
    """17.507 N/mm2 over 10.5: 1.6673, within 1.67 and so tight; the text rounds it up."""
    pressed = finding(example_design(), "pressure")
    assert pressed.value == pytest.approx(26715.4 / 1526.0 / 10.5, abs=CLOSE)
    assert (pressed.least, pressed.advised, pressed.state) == (1.67, 1.0, "tight")
    assert "0.67 to 1.67 times the 1520 psi that it supports (fir plywood, if it is dry, our assumption)" in pressed.text


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
    pressed = finding(changed(example_design(), **values), "pressure")
    assert pressed.value == pytest.approx(ratio, abs=1e-9)
    assert pressed.state == state


def test_an_unknown_core_is_a_note_even_where_other_readings_are_missing():
    unknown = changed(example_design(), transom__core="unknown", transom__skin_inside=None)
    pressed = finding(unknown, "pressure")
    assert (pressed.state, pressed.value) == ("note", None)
    assert "Drill a pilot" in pressed.remedy
    assert finding(changed(example_design(), transom__skin_inside=None), "pressure").state == "unknown"


def test_cures_have_their_figures():
    """Easy: 10.5 * 1526 * 1.778 mm = 28.49 N m, 1.67 times that 47.58. 1-3/4 in washer: pi/4 (52.45^2 - 13.5^2) =
    2017.5 mm2, 37.66 and 62.90, and the fender of 2 in bends. A backing plate of 6 mm: 58.1 across, 2508.0 mm2, 78.19. Filled
    to 26 mm: 55 * 387.8 = 21.3 kN of 26.7."""
    pressed = finding(replace(example_design(), units="mm"), "pressure")
    assert pressed.remedy == (
        "With this washer the advised wrench torque is 28 N·m, the limit 47.5 N·m. With one 44.5 mm across the limit is "
        "62.5 N·m. With a 6 mm backing plate the limit is 78 N·m. Half of all this if the core is wet. A hole bored out to "
        "26 mm, filled with epoxy and drilled again carries 21.3 kN of the 26.7 kN that the bolt pulls at this torque. "
        "On torque, the motor's manual comes first."
    )
    bolt = next(bolt for bolt in bolts(replace(example_design(), units="mm")) if bolt.name == "lower port")
    at_hand, *_, wide, fender = allowed(bolt)
    assert (at_hand.easy, at_hand.most) == pytest.approx((28.49, 47.58), abs=0.01)
    assert wide.most == pytest.approx(62.90, abs=0.02)
    assert fender.most == pytest.approx(28.15, abs=0.02)  # 28.4968 across counts, spread to 36.4968: 903.0 mm2
    assert with_plate(bolt).most == pytest.approx(78.19, abs=0.02)
    assert post(bolt) == pytest.approx(55 * math.pi / 4 * (26**2 - 13.5**2), abs=1e-6)


@pytest.mark.parametrize(
    ("core", "torque", "words"),
    [
        ("fir plywood", 47.5, "carries 4490 lbf of the 6010 lbf that the bolt pulls"),  # 55 * 363.6 mm2 = 19997 N, 4495.6 lbf
        ("fir plywood", 35.0, "carries all 4430 lbf that the bolt pulls"), ("balsa", 47.5, "carries 4490 lbf of the 6010 lbf"),
        ("foam", 47.5, "foam needs a solid core at each bolt"), ("solid laminate", 47.5, ""), ("aluminium", 47.5, ""),
        ("unknown", 35.0, "that the bolt pulls at this torque, unless the core is foam"),
    ],
)  # fmt: skip
def test_a_filled_hole_promises_no_more_than_the_bolt_pulls(core, torque, words):
    """1 in less the hole's 13.5 mm; the example's bolt pulls with 562.4 N for each N m at the most."""
    said = post_words(bolts(changed(lower(torque=torque), transom__core=core))[2])
    assert words in said
    assert ("epoxy and drilled again carries" in said) is (core not in ("foam", "solid laminate", "aluminium"))


def cut_circle(radius, cut, spread):
    """Return the area of a circle cut by a chord ``cut`` off its centre, spread all round: A + P s + pi s2 (Steiner)."""
    half = math.acos(cut / radius)
    area = radius**2 * (math.pi - half + math.sin(half) * math.cos(half))
    return area + 2 * radius * (math.pi - half + math.sin(half)) * spread + math.pi * spread**2


def plate(low, relief=0.0, half=160.0):
    return BackingPlate(outline=((-half, low), (half, low), (half, 38.0), (-half, 38.0)), thickness=6.0,
                        relief=(relief, 6.0 if relief else 0.0), material="aluminium 5083",
                        joins=("lower port", "lower starboard"))  # fmt: skip


HOLE = math.pi / 4 * 13.5**2


def test_a_backing_plate_spreads_the_load_and_a_spacer_gathers_it():
    """6 mm: 38.1 + 12 + 8 across."""
    assert area_of(bolts(lower(backing_plate=plate(-38.0)))[2]) == pytest.approx(math.pi / 4 * 58.1**2 - HOLE, abs=1e-6)
    sleeve = Spacer(outer=25.0, inner=14.0, length=10.0)
    assert area_of(bolts(lower(spacer=sleeve))[2]) == pytest.approx(math.pi / 4 * (33.0**2 - 13.5**2), abs=1e-6)
    filed = replace(example_design().mounts[0].lower_hardware.washer, flat_cut=12.0)  # the spacer sits on the skin, not it
    assert area_of(bolts(lower(spacer=sleeve, washer=filed))[2]) == area_of(bolts(lower(spacer=sleeve))[2])


@pytest.mark.parametrize(("low", "relief", "cut"), [(-22.0, 0.0, 22.0), (-22.0, 8.0, 14.0), (-38.0, 24.0, 14.0)])
def test_a_backing_plate_supports_only_where_it_touches_the_face(low, relief, cut):
    """Circle of 19.05 + 6 cut by the backing plate's lower edge, drawn up by the relief at the face, and spread by 4 of skin.

    Within half a thousandth, its arcs being chords, and never more than that.
    """
    for bolt in bolts(lower(backing_plate=plate(low, relief)))[2:]:
        exact = cut_circle(25.05, cut, 4.0) - HOLE
        assert exact * CHORDS <= area_of(bolt) <= exact + 1e-9


def test_a_relief_may_turn_clear_into_tight():
    """At 44 N m, 24747 N: with the whole backing plate 24747 / 2508.0 / 10.5 = 0.940; relieved to 14 below the centre 1.144."""
    for relief, state in ((0.0, "clear"), (24.0, "tight")):
        pressed = finding(lower(torque=44.0, backing_plate=plate(-38.0, relief)), "pressure")
        area = cut_circle(25.05, 14.0, 4.0) - HOLE if relief else math.pi / 4 * 58.1**2 - HOLE
        assert pressed.value == pytest.approx(44_000 / 1.778 / area / 10.5, rel=1e-3)
        assert pressed.state == state


def test_bolts_of_one_backing_plate_share_the_area_between_them():
    """Twelve off the middle: each backing plate's circle of 25.05 is cut 8 off its centre, and the skin spreads it 4 all
    round."""
    close = lower(backing_plate=plate(-60.0))
    close = changed(close, mounts__0__bracket__lower__half_spacing=12.0, mounts__0__lower_hardware__backing_plate__outline=(
        (-90.0, -60.0), (90.0, -60.0), (90.0, 60.0), (-90.0, 60.0)))  # fmt: skip
    exact = cut_circle(25.05, 8.0, 4.0) - HOLE
    for bolt in bolts(close)[2:]:
        assert exact * CHORDS <= area_of(bolt) <= exact + 1e-9


def test_a_backing_plate_that_reaches_further_at_one_end_is_checked_for_each_bolt():
    ring = ((-130.0, -38.0), (150.0, -38.0), (150.0, 38.0), (-130.0, 38.0))  # 4.6 beyond the port bolt
    checked = check(lower(backing_plate=replace(plate(-38.0), outline=ring)))
    port, starboard = (checked.of("pressure", f"main motor / lower {side}") for side in ("port", "starboard"))
    assert port.value > starboard.value + 0.1


def test_a_pair_is_tightened_as_its_weaker_bolt_allows():
    ring = ((-130.0, -38.0), (150.0, -38.0), (150.0, 38.0), (-130.0, 38.0))
    design = lower(backing_plate=replace(plate(-38.0), outline=ring))
    port, starboard = (torque_at_most(bolt, "pressure") for bolt in bolts(design)[2:])
    assert port < starboard
    for torque, refused in ((port * 0.999, ""), ((port + starboard) / 2, "core")):
        pair = bolts(changed(design, mounts__0__lower_hardware__torque=torque))[2:]
        assert tightening(pair).refused == refused


def test_a_backing_plate_next_to_its_bolts_supports_nothing():
    pressed = finding(lower(backing_plate=plate(-38.0, half=30.0)), "pressure")
    assert (pressed.state, pressed.value) == ("fouled", None)
    assert "rests on the core" in pressed.text


def filed(cut, **values):
    return lower(washer=replace(example_design().mounts[0].lower_hardware.washer, flat_cut=cut), **values)


def test_a_flat_cut_is_named_first_where_it_passes_the_limit():
    """Cut 12 below the centre of 19.05, spread by 4: 1363.6 mm2, so 26715.4 / 1363.6 / 10.5 = 1.8659; the value stays."""
    pressed = finding(filed(12.0), "pressure")
    assert 26715.4 / (cut_circle(19.05, 12.0, 4.0) - HOLE) / 10.5 == pytest.approx(1.8659, abs=CLOSE)
    assert pressed.value == pytest.approx(HIGH / AREA / 10.5, abs=1e-9)
    assert pressed.state == "tight"
    start = "Cut flat, the lower port washer presses the core with 1.87 times what it supports; the limit is 1.67."
    assert pressed.text.startswith(start)
    assert "0.67 to 1.67 times the 1520 psi" in pressed.text


def test_a_flat_cut_s_torques_are_calculated_with_it():
    """10.5 * 1363.6 * 1.778 mm = 25.46 N m easily, 42.51 at the most; in the least limit's torque as well."""
    design = replace(filed(12.0), units="mm")
    bolt = bolts(design)[2]
    assert torque_at_most(bolt, "pressure") == pytest.approx(1.67 * 25.457, abs=0.01)
    assert finding(design, "pressure").remedy.startswith(
        "With this washer, its flat cut counted, the advised wrench torque is 25 N·m, the limit 42.5 N·m. With one "
        "44.5 mm across, cut alike, "
    )
    *_, wide, fender = allowed(bolt)
    assert wide.easy == pytest.approx(10.5 * (cut_circle(22.225, 12.0, 4.0) - HOLE) * 1.778 / 1000, abs=1e-6)
    # 2 in across and 0.08 in thick, the fender bends: 0.96·0.752 + 5·0.08 = 1.12192 in of it counts, 14.248384 mm each way
    assert fender.easy == pytest.approx(10.5 * (cut_circle(14.248384, 12.0, 4.0) - HOLE) * 1.778 / 1000, abs=1e-6)
    onto = with_plate(bolt)  # a backing plate can't reach further than the washer that was cut to clear the floor
    assert onto.easy == pytest.approx(10.5 * (cut_circle(25.05, 12.0, 4.0) - HOLE) * 1.778 / 1000, abs=1e-6)


def test_a_flat_cut_within_the_limit_is_named_next_to_the_value():
    """At 30 N m 1.0531 whole, 1.1785 cut flat."""
    pressed = finding(filed(12.0, torque=30.0), "pressure")
    assert "0.19 to 1.06 times the 1520 psi that it supports (fir plywood, if it is dry, our assumption), 1.18" in pressed.text
    assert pressed.text.startswith("The lower port washer presses")
    whole = finding(filed(12.0, torque=27.0), "pressure")  # 0.948 whole, 1.061 cut: clear by its value, yet with a remedy
    assert whole.state == "clear"
    assert "1.07 with the flat cut" in whole.text
    assert whole.remedy is not None


def test_a_washer_cut_flat_on_a_backing_plate_spreads_through_both():
    """By 6 and 4: the cut circle spread by ten."""
    bolt = bolts(filed(12.0, backing_plate=plate(-60.0)))[2]
    assert area_of(bolt) == pytest.approx(cut_circle(19.05, 12.0, 10.0) - HOLE, abs=1e-6)
    short = bolts(filed(12.0, backing_plate=plate(-20.0)))[2]  # ends 2 beyond the cut's spread of 18: uncut there
    assert area_of(short) == pytest.approx(cut_circle(19.05, 12.0, 10.0) - HOLE, rel=1e-3)
    assert area_of(short) < area_of(short, whole=True)


@pytest.mark.parametrize(
    ("values", "listed"),
    [({}, True), ({"transom__core_state": "dry"}, False), ({"transom__core_bears": 10.0}, False),
     ({"transom__core": "foam", "mounts__0__lower_hardware__torque": 20.0}, False)],
)  # fmt: skip
def test_a_core_whose_state_nobody_knows_may_be_wet(values, listed):
    assert ("Half of all this if the core is wet" in finding(changed(example_design(), **values), "pressure").remedy) is listed


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
        offer = sure(cure(checked, sure(checked.of(name, AT))))
        assert offer.button == words
        assert check(offer.design).of(name, AT).state == "tight"
    wet = check(changed(example_design(), transom__core_state="wet"))
    assert cure(wet, sure(wet.of("pressure", AT))) is None
    assert wet.of("pressure", AT).remedy.startswith("Dry or renew the wet core first")


def test_a_wider_washer_where_there_is_room_for_it():
    """Fouled at 60 N m: the next washer that takes it is 1-3/4 in across; without a well nothing is in its way."""
    open_ = changed(lower(torque=60.0), well=None, inside_blocks=(), old_holes=())
    finding = sure(cure(check(open_), sure(check(open_).of("pressure", AT))))
    assert finding.design.mounts[0].lower_hardware.washer.outer == pytest.approx(44.45, abs=0.01)
    assert check(finding.design).of("pressure", AT).state == "tight"


@pytest.mark.parametrize(
    ("design", "sentence"),
    [
        (lower(torque=65.0), "Don't tighten so: both lower washers press 2.29 times what the core supports."),
        (changed(lower(torque=63.0), transom__core_bears=30.0),
         "Don't tighten so: 46 lb-ft of wrench torque pulls both lower bolts to 1.02 times the proof load."),
        (lower(torque=20.0, running_torque=20.0),
         "Don't tighten so: the drag of the lower port bolt's lock nut takes all of its 15 lb-ft wrench torque. "
         "Nothing clamps."),
        (changed(example_design(), boat__plate__power_kw=20.0),
         "Nothing is in the way of the holes: 1/16 in to spare below the lower washers. "
         "Before you launch: motor's power, motor's weight."),  # 26.8 hp: 187 lb by the table, and it has 216
        (changed(lower(torque=65.0), mounts__0__drop=203.2, mounts__0__row=0),
         "Don't drill here: both lower washers overlap the well floor's rounded corner by 1 7/16 in."),
    ],
)  # fmt: skip
def test_the_answer_says_what_not_to_do(design, sentence):
    """Findings that no place of a hole can help come after those that the holes foul."""
    assert answer(check(replace(design, units="in"))).sentence == sentence


def test_port_and_starboard_have_their_own_names():
    checked = check(example_design())
    for name in ("clamp", "pressure"):
        alike = [finding for finding in checked.findings if finding.check == name]
        assert len(alike) == 4
        assert all(finding.at.split(" / ")[1] in finding.text for finding in alike)
