"""Inch flat washers against the published tables.

Source: ASME B18.21.1-2009, Washers: Helical Spring-Lock, Tooth Lock, and Plain Washers (Inch Series). Type A, table 1a,
read in Machinery's Handbook, 31st edition, page 1694; type B read in one secondary data set, its thickness at 3/8 and
7/16 from memory and not tested here. Inches. Tolerance: 1e-6 mm.
"""

import pytest

from geometry.tables.fasteners import FlatWasher, washers

INCH = 25.4
TYPE_A = {  # bore, outside, nominal thickness
    ("3/8-16", "narrow"): (0.406, 0.812, 0.065),
    ("3/8-16", "wide"): (0.438, 1.000, 0.083),
    ("7/16-14", "narrow"): (0.469, 0.922, 0.065),
    ("7/16-14", "wide"): (0.500, 1.250, 0.083),
    ("1/2-13", "narrow"): (0.531, 1.062, 0.095),
    ("1/2-13", "wide"): (0.562, 1.375, 0.109),
    ("1/2-20", "wide"): (0.562, 1.375, 0.109),
}
THICKEST_A = {
    ("3/8-16", "narrow"): 0.080,
    ("3/8-16", "wide"): 0.104,
    ("1/2-13", "narrow"): 0.121,
    ("1/2-13", "wide"): 0.132,
}
TYPE_B = {  # bore, outside
    ("1/2-13", "narrow"): (0.531, 1.000),
    ("1/2-13", "regular"): (0.531, 1.250),
    ("1/2-13", "wide"): (0.531, 1.750),
    ("3/8-16", "narrow"): (0.406, 0.734),
    ("3/8-16", "regular"): (0.406, 1.000),
    ("3/8-16", "wide"): (0.406, 1.250),
    ("7/16-14", "narrow"): (0.469, 0.875),
    ("7/16-14", "regular"): (0.469, 1.125),
    ("7/16-14", "wide"): (0.469, 1.469),
}
HALF_INCH_TYPE_B = {"narrow": 0.063, "regular": 0.100, "wide": 0.100}  # nominal thickness


def named(bolt_name: str, name: str) -> FlatWasher:
    (listed,) = [row for row in washers(bolt_name) if row.name == f"ASME B18.21.1 {name}"]
    return listed


@pytest.mark.parametrize("key", TYPE_A)
def test_type_a_as_published(key: tuple[str, str]) -> None:
    row = named(key[0], f"type A {key[1]}")
    published = [size * INCH for size in TYPE_A[key]]
    assert [row.inner, row.outer, row.nominal_thickness] == pytest.approx(published, abs=1e-6)


@pytest.mark.parametrize("key", THICKEST_A)
def test_type_a_is_as_thick_as_it_may_be(key: tuple[str, str]) -> None:
    assert named(key[0], f"type A {key[1]}").thickness == pytest.approx(THICKEST_A[key] * INCH, abs=1e-6)


@pytest.mark.parametrize("key", TYPE_A)
def test_type_a_may_be_wider_than_its_nominal_size(key: tuple[str, str]) -> None:
    """The table has +0.030 and -0.007 in for all of these rows."""
    assert named(key[0], f"type A {key[1]}").wider == pytest.approx(0.030 * INCH, abs=1e-6)


@pytest.mark.parametrize("key", TYPE_B)
def test_type_b_has_no_tolerance_that_was_read(key: tuple[str, str]) -> None:
    assert named(key[0], f"type B {key[1]}").wider is None


@pytest.mark.parametrize("key", TYPE_B)
def test_type_b_as_published(key: tuple[str, str]) -> None:
    row = named(key[0], f"type B {key[1]}")
    assert [row.inner, row.outer] == pytest.approx([size * INCH for size in TYPE_B[key]], abs=1e-6)


@pytest.mark.parametrize("series", HALF_INCH_TYPE_B)
def test_thickness_of_half_inch_type_b_as_published(series: str) -> None:
    row = named("1/2-13", f"type B {series}")
    assert row.nominal_thickness == pytest.approx(HALF_INCH_TYPE_B[series] * INCH, abs=1e-6)
    assert row.thickness > row.nominal_thickness


def test_fender_washers_for_a_half_inch_bolt_are_sold_up_to_two_inches() -> None:
    """Common practice, no source: 1-1/2 and 2 in across, hole 17/32 in."""
    fenders = [row for row in washers("1/2-13") if row.name.startswith("fender")]
    assert [row.outer / INCH for row in fenders] == pytest.approx([1.5, 2.0], abs=1e-9)
    assert [row.inner / INCH for row in fenders] == pytest.approx([17 / 32, 17 / 32], abs=1e-9)
