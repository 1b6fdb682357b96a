"""Bearing, hook and clamp, each case against a length calculated by hand."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from geometry.design.boat import Fitting, Thickness
from geometry.judge.check import check
from geometry.judge.words import findings_rows
from geometry.readings.measures import measure
from geometry.zones.pair_zone import zones
from tests.designs import changed, clamp_on_mount, example_design, roomy, sure

CLOSE = 1e-3  # [mm]
MAIN = "main motor"
ABOVE = f"{MAIN} / above the top"


def bearing(**values):
    checked = check(changed(example_design(), **values))
    finding = checked.of("bearing", MAIN)
    return finding.value, finding.state, checked.of("bearing", ABOVE)


def test_a_raised_bracket_is_supported_and_its_head_is_above():
    """`row` 2 raises it by 38.1; what is above the cut-out's edge is a note."""
    value, state, above = bearing()
    assert (value, state) == (0.0, "clear")
    assert above.value == pytest.approx(38.1, abs=CLOSE)
    assert above.state == "note"


def test_a_bracket_in_the_first_hole_has_nothing_above():
    assert bearing(mounts__0__row=0)[2] is None


def test_a_bracket_over_the_lower_edge_hangs_in_the_air():
    """Outline's lower end at -300, its corners at (±150, -311.9): 11.9 below the face."""
    value, state, _ = bearing(transom__outline=((-700, 0), (700, 0), (700, -300), (-700, -300)))
    assert value == pytest.approx(-(350 - 38.1 - 300), abs=CLOSE)
    assert state == "fouled"


def test_a_bracket_over_the_side_hangs_in_the_air():
    """Face from -170 to 700, the bracket from -190: 20 beyond, above the top edge or not there is no wood at that place."""
    value, state, _ = bearing(transom__outline=((-170, 0), (700, 0), (700, -500), (-170, -500)), mounts__0__row=0)
    assert value == pytest.approx(-20.0, abs=CLOSE)
    assert state == "fouled"


def test_the_local_top_is_the_highest_of_the_outline_there():
    """A notch 30 deep at u from 100 to 150, under the bracket in `row` 0: above that notch's own bottom it is a note."""
    notched = ((-700, 0), (100, 0), (100, -30), (150, -30), (150, 0), (700, 0), (700, -500), (-700, -500))
    value, state, above = bearing(transom__outline=notched, mounts__0__row=0)
    assert (value, state) == (0.0, "clear")
    assert above.value == pytest.approx(25.0, abs=0.006)  # the notch is 50 wide: its middle is 25 from wood


def fitting(left: float, low: float, out: float | None = 40.0) -> tuple[Fitting, ...]:
    shape = ((left, low), (left + 40, low), (left + 40, low + 40), (left, low + 40))
    return (Fitting(name="tow eye", outline=shape, stands_out=out, drill=None),)


@pytest.mark.parametrize(
    ("left", "over"), [(190.0, 0.0), (185.0, 5.0), (175.0, 15.0), (100.0, 20.0)]
)
def test_a_bracket_over_a_fitting(left, over):
    """Its straight side ends at 190 down to -81.9 (`row` 2): how far it reaches into a 40 mm square, at most to its middle."""
    value, state, _ = bearing(outside_fittings=fitting(left, -75.0))
    assert value == pytest.approx(-over, abs=0.006)
    assert state == ("fouled" if over else "clear")


def test_a_bracket_off_the_face_says_one_figure_everywhere():
    """190 - 93.6 = 96.4 mm off is 3.795 in: the sixteenth that looks less safe, on its line and in its sentence."""
    face = ((-700, 0), (93.6, 0), (93.6, -500), (-700, -500))
    design = changed(example_design(), mounts__0__row=0, transom__outline=face)
    row = next(row for row in findings_rows(check(design)) if row.first.check == "bearing")
    assert row.first.value == pytest.approx(-96.4, abs=CLOSE)
    assert row.figure == "−3 13/16 in"
    assert "extends 3 13/16 in beyond" in row.text


COVERED = f"{MAIN} / covered"


@pytest.mark.parametrize("out", [None, 0.41, 0.5, 100.0, 500.0])
def test_any_fitting_under_the_bracket_fouls_but_one_as_thin_as_a_sticker(out):
    """A bracket is flat on the face. A part of 1/64 in, 0.4 mm, is a sticker (our assumption)."""
    assert bearing(outside_fittings=fitting(0.0, -100.0, out))[1] == "fouled"
    assert check(changed(example_design(), outside_fittings=fitting(0.0, -100.0, out))).of("bearing", COVERED) is None


@pytest.mark.parametrize("out", [0.1, 0.4])
def test_a_sticker_under_the_bracket_is_a_note(out):
    design = changed(example_design(), outside_fittings=fitting(0.0, -100.0, out), units="mm")
    checked = check(design)
    assert checked.of("bearing", MAIN).state == "clear"
    finding = checked.of("bearing", COVERED)
    assert (finding.state, finding.value, finding.stops) == ("note", out, "never")
    assert finding.text == "The main motor's bracket covers the tow eye, which is as thin as a sticker."
    assert finding.remedy == "Remove the tow eye, or bed the bracket flat on sealant."
    title = next(row.title for row in findings_rows(checked) if row.first == finding)
    assert title == "Fitting under the bracket"


@pytest.mark.parametrize(
    ("out", "set_back", "fouled"),
    [(40.0, 50.0, False), (50.4, 50.0, False), (50.5, 50.0, True), (None, 50.0, True), (40.0, None, True), (40.0, 0.0, True)],
)
def test_a_bracket_that_is_set_back_clears_what_sticks_out_less(out, set_back, fouled):
    fittings = fitting(0.0, -100.0, out)
    checked = check(changed(example_design(), outside_fittings=fittings, mounts__0__set_back=set_back, units="mm"))
    assert checked.of("bearing", MAIN).state == ("fouled" if fouled else "clear")
    finding = checked.of("bearing", COVERED)
    assert (finding is None) == fouled
    if finding is not None:
        assert finding.text.endswith("The bracket is 50 mm off the face.")


def test_how_far_a_fitting_sticks_out_is_said_and_read():
    design = changed(example_design(), outside_fittings=fitting(175.0, -75.0, 500.0), units="mm")
    overlaps = "The main motor's bracket overlaps the tow eye by 15 mm."
    assert check(design).of("bearing", MAIN).text == f"{overlaps} It sticks out 500 mm."
    endless = changed(design, outside_fittings__0__stands_out=None)
    assert check(endless).of("bearing", MAIN).text == overlaps
    row = sure(measure(design, "outside_fittings.0.stands_out"))
    assert (row.name, row.get(design), row.empty) == ("How far tow eye sticks out", 500.0, "without end")
    assert check(row.set(design, 0.2)).of("bearing", MAIN).state == "clear"


def test_a_sticker_off_the_bracket_is_not_named():
    assert check(changed(example_design(), outside_fittings=fitting(300.0, -100.0, 0.1))).of("bearing", COVERED) is None


def test_the_drillable_zone_follows_the_same_rule():
    """Over the fitting there is no place for the pattern; over a sticker there is."""
    for out, blocked in ((0.1, False), (40.0, True)):
        design = changed(roomy(), outside_fittings=fitting(-20.0, -200.0, out), old_holes=())
        assert zones(design).pattern.holds((0.0, -50.8)) == (not blocked)


@pytest.mark.parametrize(
    ("upper_at", "row", "gap", "state"),
    [(-50.8, 0, 0.0, "clear"), (-50.9, 0, -0.1, "fouled"), (-47.9, 0, 2.9, "clear"), (-47.8, 0, 3.0, "note"),
     (-50.8, 1, 19.05, "note"), (-120.0, 3, -12.05, "fouled")],
)  # fmt: skip
def test_the_hook(upper_at, row, gap, state):
    """upper_at + 50.8 + row·19.05; from 3 mm on a hard pad belongs under it."""
    finding = check(changed(example_design(), mounts__0__upper_at=upper_at, mounts__0__row=row)).of("saddle", MAIN)
    assert finding.value == pytest.approx(gap, abs=CLOSE)
    assert finding.state == state


@pytest.mark.parametrize(
    ("top", "low", "pads", "value", "state"),
    [
        (30.0, 30.0, (6.0, 6.0), 12.0, "clear"),  # 42 in a jaw of 30 to 60
        (44.0, 44.0, (6.0, 7.0), 3.0, "clear"), (44.0, 44.0, (6.0, 7.1), 2.9, "tight"), (48.0, 48.0, (6.0, 6.0), 0.0, "tight"),
        (49.0, 49.0, (6.0, 6.0), -1.0, "fouled"), (15.0, 15.0, (6.0, 6.0), -3.0, "fouled"),
        (40.0, 65.0, (0.0, 0.0), 14.0, "clear"),  # thicker below: at 60 down 40 + 25·60/250 = 46
    ],
)  # fmt: skip
def test_a_clamp_on_bracket(top, low, pads, value, state):
    mount = changed_pads(pads)
    design = replace(example_design(), mounts=(mount,))
    thickness = Thickness(top=top, low=low, low_at=-250.0)
    finding = check(changed(design, transom__thickness=thickness)).of("clamp_on", "small motor")
    assert finding.value == pytest.approx(value, abs=CLOSE)
    assert finding.state == state


def changed_pads(pads):
    mount = clamp_on_mount()
    return replace(mount, bracket=replace(mount.bracket, clamp_screws=replace(sure(mount.bracket.clamp_screws), pads=pads)))


def test_a_clamp_on_needs_neither_rake_nor_top_cut():
    design = replace(example_design(), mounts=(clamp_on_mount(),))
    gone = changed(design, transom__rake=None, transom__top_cut=None)
    assert check(gone).of("clamp_on", "small motor").value == pytest.approx(4.0, abs=CLOSE)  # 44 + 12 of 60


def test_a_clamp_on_without_a_jaw_is_not_judged():
    mount = clamp_on_mount()
    bare = replace(mount, bracket=replace(mount.bracket, jaw=None))
    assert check(replace(example_design(), mounts=(bare,))).of("clamp_on", "small motor") is None


def test_a_clamp_on_hangs_on_the_top_itself():
    """Height: 490 - 381 = 109 above the bottom."""
    design = replace(example_design(), mounts=(clamp_on_mount(),))
    assert check(design).of("height", "small motor").value == pytest.approx(109.0, abs=CLOSE)
