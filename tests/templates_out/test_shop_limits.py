"""The list of what to buy: sizes that still clear, tolerances, and parts in hand."""

from __future__ import annotations

import datetime

import pytest

from geometry.design.hardware import Washer
from geometry.doubt.size_limits import SizeLimit, size_limits
from geometry.doubt.spreads import with_spreads
from geometry.edits.confirm_or_buy import bought, confirmed, parts
from geometry.judge.check import check
from templates_out.pages.shop.shop_buy import to_buy
from templates_out.pages.shop.shop_limits import inward, size_words
from templates_out.pages.shop.shop_pages import shop_pages
from tests.designs import roomy, with_some_room
from tests.templates_out.test_shop import plainly, whole


def bought_lines(design, *origins):
    """Return what to buy, with the chances known, after changes of origin."""
    for make in origins:
        for pair in ("lower", "upper"):
            design = make(design, parts(design, 0, pair))
    return [what for _, what in plainly(to_buy(design, size_limits(with_spreads(check(design)))))]


def line_of(lines, start):
    (line,) = [line for line in lines if line.startswith(start)]
    return line


def test_parts_to_buy_say_the_sizes_that_still_clear():
    """Room 10.16 less 1.96 spreads of 2.24 leaves 5.77 on the radius: 49.6 mm, down to a sixteenth 1-15/16 in (49.2).

    The outer washer spans 1.5 x 13.5 = 20.25 mm, up to a sixteenth 13/16 in (20.64). It is one of type A, the inside
    one is in no table. It is 3 mm thick: the bolts have 82.55 - 81.18 mm to spare, down to a sixteenth 1/8 in in all.
    """
    lines = bought_lines(with_some_room(), bought)
    inside, outside = line_of(lines, "inside washers"), line_of(lines, "outside washers")
    assert inside.endswith(
        "thickness. At most 1-15/16 in across still clears. They may be 1/32 in wider than listed: our assumption. "
        "5/64 in to 1/8 in thick fits these bolts."
    )
    assert outside.endswith("thickness. At least 13/16 in across is wide enough.")
    assert line_of(lines, "socket for the nuts, 1-1/32 in (26 mm) outside, 2-9/16 in (65 mm) with its drive")


def test_a_washer_near_its_limit_is_to_be_measured_and_one_beyond_is_too_wide():
    """Type A wide is 34.9 mm, and may be 0.76 mm wider: its standard says so."""
    near = with_some_room(mounts__0__lower_hardware__washer__outer=49.0, mounts__0__upper_hardware__washer__outer=49.0)
    assert "At most 1-15/16 in across still clears. They may be" in line_of(bought_lines(near, bought), "inside washers")
    assert "Measure each of them." in line_of(bought_lines(near, bought), "inside washers")
    wide = with_some_room(mounts__0__lower_hardware__washer__outer=55.0, mounts__0__upper_hardware__washer__outer=55.0)
    assert "These are too wide. At most 1-15/16 in across" in line_of(bought_lines(wide, bought), "inside washers")
    washer = Washer(outer=34.925, inner=14.2748, thickness=3.3528, flat_cut=None)
    listed = with_some_room(mounts__0__lower_hardware__washer=washer, mounts__0__upper_hardware__washer=washer)
    said = line_of(bought_lines(listed, bought), "inside")
    assert "still clears. The standard (ASME B18.21.1 type A wide) allows 1/32 in more." in said


def test_a_washer_that_would_bend_has_its_limit_from_that():
    """3 mm thick: 8 x 3 / 0.4 = 60 mm, down to a sixteenth 2-5/16 in (58.7)."""
    line = line_of(bought_lines(roomy(), bought), "inside washers")
    assert "thickness. At most 2-5/16 in across: a wider one as thin as that bends." in line


def test_parts_in_hand_are_said_to_be_there_and_others_say_nothing():
    lines = bought_lines(with_some_room(), bought, confirmed)
    assert line_of(lines, "inside washers").endswith("thickness. You have these.")
    assert not any(line.startswith("socket") for line in lines)
    assert bought_lines(with_some_room()) == [what for _, what in plainly(to_buy(with_some_room()))]


@pytest.mark.parametrize(
    ("largest", "value", "listed", "unit", "said"),
    [
        (True, 40.2, 38.1, "in", 39.6875),  # 1-9/16
        (True, 38.2, 38.1, "mm", 38.2), (True, 38.15, 38.1, "mm", 38.1), (True, 26.98, 26.97, "in", 26.97),
        (False, 20.25, 34.9, "in", 20.6375), (False, 20.25, 34.9, "mm", 21.0), (True, 36.0, 38.1, "in", 34.925),
    ],
)  # fmt: skip
def test_a_limit_is_rounded_to_the_safe_side_and_not_past_the_listed_size(largest, value, listed, unit, said):
    """To 1/16 in or 1 mm; finer, to 1/64 in or 0.1 mm, where the listed size clears and a coarse step would deny it."""
    assert inward(SizeLimit("", value, largest, ""), listed, unit) == pytest.approx(said, abs=1e-6)


def test_the_limits_are_on_the_shop_sheet():
    design = bought(with_some_room(), parts(with_some_room(), 0, "lower"))
    text = whole(shop_pages(with_spreads(check(design)), datetime.date(2026, 11, 25)))
    assert "At most 1-15/16 in across still clears." in text


@pytest.mark.parametrize(
    ("most", "measured"), [((), False), ((1.0,), False), ((0.1,), True), ((0.1, 1.0), True), ((1.0, 0.1), True)]
)
def test_washers_are_to_be_measured_where_any_of_them_may_be_wider_than_its_limit(most, measured):
    """They may be 1/32 in, 0.79 mm, wider than listed. ``most``: by how much wider each pair's washer still clears [mm]."""
    design = with_some_room()
    for pair in ("lower", "upper"):
        design = bought(design, parts(design, 0, pair))
    keys = [f"mounts.0.{pair}_hardware.washer.outer" for pair in ("lower", "upper")]
    limits = tuple(SizeLimit(key, 38.1 + more, True, "washer") for key, more in zip(keys, most, strict=False))
    assert size_words(design, keys, limits).endswith("Measure each of them.") == measured
