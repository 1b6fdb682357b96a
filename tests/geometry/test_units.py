"""Lengths and angles, from text and back. The inch is 25.4 mm exactly: 1959 agreement, NIST SP 811, appendix B.9."""

import math
import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.units.units import (
    AngleError,
    LengthError,
    Style,
    Unit,
    format_angle,
    format_both,
    format_clearance,
    format_length,
    format_overlap,
    parse_angle,
    parse_length,
)

INCH = 25.4
STEP = 1e-6  # [mm] what two lengths may differ by and still be the same

FORMS = [  # text, inches
    ("4 5/8", 4.625),
    ('4-5/8"', 4.625),
    ("4-⅝", 4.625),
    ("3½", 3.5),
    ("4 ⅝ ″", 4.625),
    ("6⅞in", 6.875),
    ("⅞", 0.875),
    ("7⁄8", 0.875),
    ("6.5in", 6.5),
    ("6.5 inches", 6.5),
    ("6 IN.", 6.0),
    (".5", 0.5),
    ("6.", 6.0),
    ("6,5", 6.5),
    ("117.475 mm", 4.625),
    ("88,9mm", 3.5),
    ("11.7475cm", 4.625),
    ("1' 3 1/4\"", 15.25),
    ("1'3 1/4”", 15.25),
    ("1′ 3¼″", 15.25),
    ("1’ 3''", 15.0),
    ("1'-3 1/4\"", 15.25),
    ("1 ft 3 in", 15.0),
    ("1ft3", 15.0),
    ("1.5 feet", 18.0),
    ("4 5/8 + 3/16", 4.8125),
    ("4 5/8+3/16", 4.8125),
    ("7 - 1/8", 6.875),
    ("7 − 1/8", 6.875),
    ("7 – 1/8", 6.875),
    ("7-1/8", 7.125),
    ("4 - 5/8", 3.375),
    ("4-5/8 - 1/8 + 1", 5.5),
    ("1 in + 25.4 mm - 1.27 cm", 1.5),
    ("1 ft - 3 in", 9.0),
    ("-3", -3.0),
    ("−6-7/16", -6.4375),
    ("- 3 1/2", -3.5),
    ("+2", 2.0),
    ("\u00a04\u20095/8 ", 4.625),  # a hard and a thin space
]


@pytest.mark.parametrize(("text", "inches"), FORMS)
def test_forms_of_entry(text: str, inches: float) -> None:
    assert parse_length(text, "in") == pytest.approx(inches * INCH, abs=STEP)


def test_a_bare_number_is_in_the_chosen_unit() -> None:
    assert parse_length("165", "mm") == 165.0
    assert parse_length("6", "in") == 152.4
    assert parse_length("6 in", "mm") == 152.4
    assert parse_length("165 mm", "in") == 165.0
    assert parse_length("100 + 1 in", "mm") == 125.4


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "seven",
        "7 1/4x",
        "1/0",
        "6 1/0",
        "1/2/3",
        "6.5.1",
        "4 5/8 3/4",
        "4⅝⅝",
        "6²",
        "٣",  # a figure, but not one that a tape shows here
        "1e3",
        "1e999",
        "nan",
        "inf",
        "9" * 400,
        "9" * 400 + " - " + "9" * 400,
        "1" * 5000 + "/" + "1" * 5000,
        "7 -1/8",  # a difference, or seven and an eighth?
        "7- 1/8",
        "7−1/8",
        '6"-1/2"',
        "1' - 3\"",  # fifteen inches, or nine?
        "7-3",
        "1,250 mm",  # one and a quarter, or twelve hundred and fifty?
        "1,250.5",
        "1 000 mm",
        "6 +",
        "+",
        "--3",
        "6 m",
        "1 ft 3 mm",
        "6 in 3",
        "6 in 1/2",
        "(6)",
        "6 * 2",
    ],
)
def test_what_could_be_read_twice_or_not_at_all_is_refused(text: str) -> None:
    with pytest.raises(LengthError) as caught:
        parse_length(text, "in")
    assert "does not read as a length" in str(caught.value)
    assert len(str(caught.value)) < 200


LIKELY = st.text(alphabet=st.sampled_from("0123456789/.,-+−–'\"″ ½⅞minctfe"), max_size=24)


@given(LIKELY | st.text(), st.sampled_from(["in", "mm"]))
def test_any_text_gives_a_length_or_a_lengtherror(text: str, unit: Unit) -> None:
    try:
        length = parse_length(text, unit)
    except LengthError:
        return
    assert math.isfinite(length)


@given(LIKELY | st.text())
def test_any_text_gives_an_angle_or_an_angleerror(text: str) -> None:
    try:
        angle = parse_angle(text)
    except AngleError:
        return
    assert math.isfinite(angle)


LENGTHS = st.floats(-5000, 5000)


STYLES: list[Style] = ["screen", "paper"]


@given(LENGTHS, st.sampled_from([1, 2, 8, 10, 16, 32, 64]), st.sampled_from(STYLES))
def test_inches_read_back_within_half_a_step(mm: float, denominator: int, style: Style) -> None:
    shown = format_length(mm, "in", denominator=denominator, style=style)
    assert abs(parse_length(shown, "mm") - mm) <= INCH / denominator * (0.5 + 2e-6) + 1e-9


@given(LENGTHS, st.sampled_from([1, 2, 8, 10, 16, 32, 64]))
def test_inches_rounded_down_be_less_than_a_step_below(mm: float, denominator: int) -> None:
    below = mm - parse_length(format_length(mm, "in", denominator=denominator, down=True), "mm")
    assert -2 * STEP <= below <= INCH / denominator


@given(st.integers(-5000, 5000), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_a_fraction_on_the_tape_is_shown_exactly_and_reduced(steps: int, denominator: int) -> None:
    shown = format_length(steps * INCH / denominator, "in", denominator=denominator, unit_word=False)
    figures = [Fraction(part) for part in shown.replace("−", "").split(" ")]
    assert sum(figures) == Fraction(abs(steps), denominator)
    assert [str(figure) for figure in figures] == shown.replace("−", "").split(" ")


@given(LENGTHS, st.sampled_from(["in", "mm"]), st.integers(0, 4), st.booleans())
def test_decimals_read_back_within_half_a_step(mm: float, unit: Unit, places: int, word: bool) -> None:
    shown = format_length(mm, unit, places=places, unit_word=word)
    step = (INCH if unit == "in" else 1.0) / 10**places
    assert abs(parse_length(shown, unit) - mm) <= step / 2 + 2 * STEP


@given(LENGTHS | st.floats(-0.5, 7), st.sampled_from(["in", "mm"]))
def test_a_clearance_is_never_shown_larger_than_it_is(mm: float, unit: Unit) -> None:
    shown = format_clearance(mm, unit)
    step = INCH / 16 if unit == "in" else 1.0
    if "under" in shown:
        assert shown.lstrip("−") == ("under 1/16 in" if unit == "in" else "under 1 mm")
        assert shown.startswith("−") == (mm < 0)
        assert 0 < abs(mm) < step
        return
    back = parse_length(shown, unit)
    assert back <= mm + 2 * STEP
    assert mm - back < step + STEP


@pytest.mark.parametrize(
    ("mm", "screen", "paper", "metric"),
    [
        (163.5125, "6 7/16 in", "6-7/16 in", "163.5 mm"),
        (6.35, "1/4 in", "1/4 in", "6.4 mm"),
        (50.8, "2 in", "2 in", "50.8 mm"),
        (-50.8, "−2 in", "−2 in", "−50.8 mm"),
        (-36.5125, "−1 7/16 in", "−1-7/16 in", "−36.5 mm"),
        (2.0, "3/32 in", "3/32 in", "2 mm"),
        (0.0, "0 in", "0 in", "0 mm"),
        (-0.0, "0 in", "0 in", "0 mm"),
        (-0.01, "0 in", "0 in", "0 mm"),
    ],
)
def test_how_lengths_are_shown(mm: float, screen: str, paper: str, metric: str) -> None:
    assert format_length(mm, "in") == screen
    assert format_length(mm, "in", style="paper") == paper
    assert format_length(mm, "mm") == metric
    assert format_length(mm, "mm", unit_word=False) == metric.removesuffix(" mm")


@pytest.mark.parametrize(
    ("mm", "inches", "metric"),
    [
        (-0.824 * INCH, "−7/8 in", "−21 mm"),  # the nearest sixteenth, −13/16, would flatter it
        (1.97, "1/16 in", "1 mm"),
        (2.0, "1/16 in", "2 mm"),
        (6.35, "1/4 in", "6 mm"),
        (6.36, "1/4 in", "6 mm"),
        (7.9, "1/4 in", "7 mm"),
        (-6.36, "−5/16 in", "−7 mm"),
        (-0.02, "−1/16 in", "−1 mm"),
        (-0.5, "−1/16 in", "−1 mm"),
        (-1.2, "−1/16 in", "−2 mm"),
        (-INCH / 16, "−1/16 in", "−2 mm"),
        (0.5, "under 1/16 in", "under 1 mm"),
        (0.0, "0 in", "0 mm"),
        (-1e-9, "0 in", "0 mm"),
    ],
)
def test_how_clearances_are_shown(mm: float, inches: str, metric: str) -> None:
    assert format_clearance(mm, "in") == inches
    assert format_clearance(mm, "mm") == metric


@pytest.mark.parametrize(
    ("mm", "inches", "metric"),
    [
        (-0.824 * INCH, "7/8 in", "21 mm"), (-0.5, "less than 1/16 in", "less than 1 mm"),
        (-1.2, "less than 1/16 in", "2 mm"), (-INCH / 16, "1/16 in", "2 mm"), (0.0, "0 in", "0 mm"),
    ],
)  # fmt: skip
def test_how_overlaps_are_shown(mm: float, inches: str, metric: str) -> None:
    assert format_overlap(mm, "in") == inches
    assert format_overlap(mm, "mm") == metric


def test_both_units_stand_together() -> None:
    assert format_both(163.5125, "in") == "6-7/16 in (163.5 mm)"
    assert format_both(163.5125, "mm") == "163.5 mm (6-7/16 in)"
    assert format_both(13.49375, "in") == "17/32 in (13.5 mm)"


def test_a_denominator_beyond_the_tape_is_a_fault() -> None:
    with pytest.raises(ValueError, match="denominator 128"):
        format_length(1.0, "in", denominator=128)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("14", 14.0),
        ("14°", 14.0),
        ("14.5 deg", 14.5),
        ("14,5 degrees", 14.5),
        ("14 1/2", 14.5),
        ("-3", -3.0),
        ("−3°", -3.0),
        ("1 in 20", 2.862405226),  # atan(1/20), by hand
        ("-1 in 1", -45.0),
    ],
)
def test_angles(text: str, degrees: float) -> None:
    assert parse_angle(text) == pytest.approx(degrees, abs=1e-8)


@pytest.mark.parametrize("text", ["", "14 mm", "14' ", "fourteen", "1/0", "1 in 1/0", "9" * 400, "nan", "14 + 1"])
def test_what_is_no_angle_is_refused(text: str) -> None:
    with pytest.raises(AngleError, match="does not read as an angle"):
        parse_angle(text)


@given(st.floats(-90, 90))
def test_an_angle_reads_back_within_half_a_tenth(degrees: float) -> None:
    assert abs(parse_angle(format_angle(degrees)) - degrees) <= 0.05 + STEP


def test_how_angles_are_shown() -> None:
    assert [format_angle(a) for a in (14.0, 14.5, -3.0, -0.01)] == ["14°", "14.5°", "−3°", "0°"]
    assert format_angle(14.0, places=1) == "14.0°"


@pytest.mark.parametrize(
    ("unit", "like"),
    [("in", "Write it like 7 1/4, 7.25 in or 184 mm;"), ("mm", "Write it like 184, 18.4 cm or 7 1/4 in;")],
)
def test_a_text_that_is_no_length_is_answered_with_examples_in_the_person_s_unit(unit, like):
    with pytest.raises(LengthError, match=re.escape(like)):
        parse_length("seven", unit)
