"""The trade's pattern and limits: common practice, unless a line says otherwise. Inches as people say them.

Our calculation: usable holes for a drop follow from slot and pitch; the pattern's diagonals from Pythagoras.
Tolerance: 1e-6 mm, or half of the last place that a number is given with.
"""

import math

import pytest

from geometry.tables.trade import DEFAULT_LIMITS, PLATE_HEIGHT, STANDARD_PATTERN

INCH = 25.4


def test_four_bolt_pattern() -> None:
    pattern = STANDARD_PATTERN
    assert 2 * pattern.upper_half_spacing == pytest.approx(12.875 * INCH, abs=1e-6)
    assert 2 * pattern.lower_half_spacing == pytest.approx(9.875 * INCH, abs=1e-6)
    assert pattern.row0_depth == pytest.approx(2 * INCH, abs=1e-6)
    assert pattern.pitch == pytest.approx(0.75 * INCH, abs=1e-6)
    assert pattern.slot == pytest.approx((8 * INCH, 11 * INCH), abs=1e-6)
    assert pattern.count == 5


def test_diagonals_of_the_standard_drop() -> None:
    """By hand: sqrt(8^2 + (6.4375 + 4.9375)^2) = 13.906496 in; slant sides sqrt(8^2 + 1.5^2) = 8.139410 in."""
    pattern = STANDARD_PATTERN
    across = (pattern.upper_half_spacing + pattern.lower_half_spacing) / INCH
    aside = (pattern.upper_half_spacing - pattern.lower_half_spacing) / INCH
    assert math.hypot(8, across) == pytest.approx(13.906496, abs=5e-7)
    assert math.hypot(8, aside) == pytest.approx(8.139410, abs=5e-7)


@pytest.mark.parametrize(("drop", "rows"), [(8.0, [0, 1, 2, 3, 4]), (7.25, [1, 2, 3, 4]), (6.5, [2, 3, 4])])
def test_usable_holes_of_a_drop(drop: float, rows: list[int]) -> None:
    pattern = STANDARD_PATTERN
    high, low = pattern.slot
    reach = [row * pattern.pitch + drop * INCH for row in range(pattern.count)]
    assert [row for row, at in enumerate(reach) if high - 1e-6 <= at <= low + 1e-6] == rows


def test_backing_plate_height_is_level_to_an_inch_up() -> None:
    low, high = PLATE_HEIGHT
    assert low == 0
    assert high == pytest.approx(INCH, abs=0.5)


def test_standing_limits_and_who_demands_them() -> None:
    """Edge: NDS 12.5.1C, bolts in timber, 1.5 and 4 diameters, from memory. Seat: 1 in 20, from memory."""
    assert {name: (limit.least, limit.advised) for name, limit in DEFAULT_LIMITS.items()} == {
        "clearance": (0.0, 25.4 / 8),
        "edge_diameters": (1.5, 4.0),
        "wood_between_diameters": (0.5, 1.0),
        "seat_angle": (2.86, 1.0),
        "slot_end": (0.0, 0.8),
        "top_edge": (44.45, 50.8),  # 1-3/4 and 2 in, common practice
        "socket_room": (0.0, 25.4),
        "feed": (0.0, 12.7),
        "outer_washer": (1.5, 1.85),
        "motors": (0.0, 25.0),
        "tilt_room": (0.0, 25.0),
        "lock_room": (0.0, 25.0),
        "plug_wall": (0.0, 6.35),  # 1/4 in, common practice
        "washer_stiff": (0.4, 0.6),
        "clamp": (1.0, 0.75),  # Shigley, eq. 8-31: 0.75 for a joint that is undone again
        "pressure": (1.67, 1.0),
        "joint": (1.0, 0.75),
    }
    assert math.degrees(math.atan(1 / 20)) == pytest.approx(DEFAULT_LIMITS["seat_angle"].least, abs=0.005)
    assert "NDS 12.5.1C" in DEFAULT_LIMITS["edge_diameters"].source
    assert "from memory" in DEFAULT_LIMITS["edge_diameters"].source
    assert "our assumption" in DEFAULT_LIMITS["clearance"].source
