"""Whether a washer is thick enough for its width, worked by hand. Limits 0.4 and 0.6: our assumption."""

from __future__ import annotations

import math

import pytest

from app.findings.findings_text import finding_lines
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.pressed_area import area_of
from geometry.judge.strength import allowed, torque_at_most, with_plate
from geometry.judge.washer_stiff import stiff_across
from geometry.judge.words import answer, findings_rows
from geometry.solid.placed_bolts import bolts
from tests.designs import IN, changed, example_design, roomy, sure

LOWER = "main motor / lower port"


def washers(thickness, outer=40.0, **values):
    fields = {"mounts__0__lower_hardware__washer__thickness": thickness, "mounts__0__lower_hardware__washer__outer": outer}
    return changed(roomy(), **(fields | values))


def finding_of(design, which="inside washer", at=LOWER):
    return check(design).of("washer_stiff", f"{at} / {which}")


@pytest.mark.parametrize(
    ("thickness", "value", "state"),
    [(0.5, 0.1, "fouled"), (1.99, 0.398, "fouled"), (2.0, 0.4, "tight"), (2.99, 0.598, "tight"), (3.0, 0.6, "clear"),
     (5.0, 1.0, "clear")],
)  # fmt: skip
def test_eight_times_its_thickness_over_its_width(thickness, value, state):
    finding = finding_of(washers(thickness))
    assert finding.value == pytest.approx(value, abs=1e-9)
    assert (finding.state, finding.least, finding.advised, finding.unit, finding.stops) == (state, 0.4, 0.6, "ratio", "never")


def test_inside_and_outside_are_two_findings():
    """Outside 34.9 by 2.8: 8·2.8/34.9 = 0.6418; inside 38.1 by 3.0: 0.6299."""
    checked = check(roomy())
    assert checked.of("washer_stiff", f"{LOWER} / outer washer").value == pytest.approx(0.6418, abs=1e-4)
    assert checked.of("washer_stiff", f"{LOWER} / inside washer").value == pytest.approx(0.6299, abs=1e-4)
    thin = changed(roomy(), mounts__0__upper_hardware__outside_washer__thickness=0.5)
    assert finding_of(thin, "outer washer", "main motor / upper port").state == "fouled"
    assert finding_of(thin, "inside washer", "main motor / upper port").state == "clear"
    titles = {row.title for row in findings_rows(check(thin)) if row.first.check == "washer_stiff"}
    assert "Stiffness of both upper outer washers" in titles
    assert "Stiffness of both lower inside washers" in titles


def test_it_is_said_in_plain_words():
    finding = finding_of(washers(0.5, units="mm"))
    assert finding.text == (
        "The lower port inside washer is 40 mm across and 0.5 mm thick. It bends, and spreads the pull over its middle only."
    )
    assert finding.remedy == "Use a washer at least 2 mm thick; 3 mm is advised."  # 0.4·40/8 and 0.6·40/8
    stiff = finding_of(washers(3.0, units="mm"))
    assert (stiff.text, stiff.remedy) == ("The lower port inside washer is 40 mm across and 3 mm thick.", None)
    tight = finding_of(washers(1 / 16 * IN, 1 * IN, units="in"))
    assert tight.text == "The lower port inside washer is 1 in across and 1/16 in thick; 3/32 in is advised."  # 0.075, up


@pytest.mark.parametrize(
    ("outer", "thickness", "across"),
    [
        (40.0, 2.0, 40.0),  # 0.4 itself: stiff enough
        (40.0, 1.9, 0.96 * 19.05 + 9.5),
        (2.0 * IN, 0.05 * IN, 0.72 * IN + 0.25 * IN),  # the trade's: nut's bearing 0.72 in, and 5 thicknesses
        (20.0, 0.5, 20.0 if 0.96 * 19.05 + 2.5 > 20 else 0.0),  # never more than the washer has
    ],
)
def test_a_washer_that_bends_spreads_the_pull_over_its_middle(outer, thickness, across):
    """The nut of a 1/2 in bolt is 3/4 in = 19.05 across its flats, of which 0.96 support: 0.72 in."""
    assert stiff_across(outer, thickness, 19.05, example_design()) == pytest.approx(across, abs=1e-9)


def test_the_pressure_counts_only_the_stiff_part_of_a_washer_of_half_a_millimetre():
    """Its nut is 0.752 in = 19.1008 across flats: 18.3368 + 2.5 = 20.8368, with 4 of skin 28.8368 across; the hole 13.5.

    π/4·(28.8368² - 13.5²) = 509.97 mm2. Whole it would be π/4·(46.1² - 13.5²) = 1526.0.
    """
    design = washers(0.5, 38.1)
    bolt = bolts(design)[2]
    assert area_of(bolt) == pytest.approx(math.pi / 4 * (28.8368**2 - 13.5**2), abs=0.05)
    thin, stiff = (sure(sure(check(some).of("pressure", LOWER)).value) for some in (design, washers(3.0, 38.1)))
    assert thin / stiff == pytest.approx(1526.0 / 509.97, abs=0.001)
    assert sure(check(design).of("pressure", LOWER)).text.endswith("The washer bends, so only its middle counts.")
    assert "bends" not in sure(check(roomy()).of("pressure", LOWER)).text


def test_the_torque_that_the_core_allows_follows():
    thin, stiff = (bolts(washers(thickness, 38.1))[2] for thickness in (0.5, 3.0))
    share = 509.97 / 1526.0
    assert torque_at_most(thin, "pressure") / torque_at_most(stiff, "pressure") == pytest.approx(share, abs=0.001)
    assert allowed(thin)[0].most / allowed(stiff)[0].most == pytest.approx(share, abs=0.001)
    assert with_plate(thin).most < with_plate(stiff).most


def test_it_stops_no_hole_and_is_said_before_the_launch():
    design = changed(roomy(), mounts__0__upper_hardware__outside_washer__thickness=0.5)
    checked = check(design)
    assert answer(checked).sentence.endswith("Before you launch: stiffness of both upper outer washers.")
    named = [reason.finding.check for reason in drillable(checked).reasons if reason.finding is not None]
    assert "washer_stiff" not in named


@pytest.mark.parametrize("size", ["outer", "thickness"])
def test_a_missing_size_is_named(size):
    finding = finding_of(changed(roomy(), **{f"mounts__0__lower_hardware__washer__{size}": None}))
    assert (finding.state, finding.value) == ("unknown", None)
    assert finding.text.startswith("The stiffness of the washer of the lower port bolt is not checked yet: lower washer, ")


def test_its_line_lights_the_washer_that_is_too_thin():
    outer = changed(roomy(), mounts__0__upper_hardware__outside_washer__thickness=0.5)
    thin = changed(outer, mounts__0__lower_hardware__washer__thickness=0.5)
    parts = {line.name: line.part for line in finding_lines(check(thin))}
    assert parts["Stiffness of both upper outer washers"] == "upper port outside washer:0"
    assert parts["Stiffness of both lower inside washers"] == "lower port washer:0"
