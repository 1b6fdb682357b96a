"""The swing of a ring spanner and the room to tilt and turn of worked boats, calculated by hand; no line of the program.

One is a demonstration boat, the other an invented boat of `test_trade_boats`. Figures are carried to four places, so every
comparison allows 0.001 degrees or mm where it says nothing else. The sizes of tools and motors are invented.
"""

from __future__ import annotations

import pytest

from assets import design_text
from geometry.design.motor import Tilt, TiltPoint
from geometry.design_text import from_text
from geometry.judge.check import check
from tests.designs import IN, changed, sure
from tests.reference.test_trade_boats import LOWER, skiff

NEAR = 0.001


def demonstration():
    return from_text(design_text("shallow-well-skiff"))


def turned_by(design, length, handle):
    """Return a boat whose lower nuts are turned by a ring spanner of this length and width [mm], and by no socket."""
    spanner = {"outer": 28.6, "thickness": 14.0, "swing": 30.0, "length": length, "handle": handle}
    sizes = {f"mounts__0__lower_hardware__spanner__{field}": size for field, size in spanner.items()}
    return changed(design, mounts__0__lower_hardware__socket=None, **sizes)


def value(design, check_name, at="main motor"):
    return sure(sure(check(design).of(check_name, at)).value)


def test_the_swing_on_the_trades_skiff():
    """A spanner of 5 x 0.6 in. The middle of the nut is n = 0.109 + 0.609/2 = 0.4135 in front of the wood.

    The rounded corner ends at 0.3790, before it. The hole is h = 9 + 2·tan 14° - 8.375 = 1.1237 above the corner, and the
    floor falls n·tan 14° = 0.1031 more: 1.2268 in. The corner of the handle is at hypot(5, 0.3) = 5.0090. It meets the floor
    at asin(1.2268/5.0090) - atan(0.3/5) = 14.1765° - 3.4336° = 10.7429° below level, on both sides: 201.4858° are free.
    The walls are 5.0625 away and the other bolts 6.67, less their washers: out of reach.
    """
    for at in LOWER:
        assert value(turned_by(skiff(), 5 * IN, 0.6 * IN), "spanner", at) == pytest.approx(201.4858, abs=0.01)


@pytest.mark.parametrize(("side", "arc"), [("port", 200.6614), ("starboard", 206.3054)])
def test_the_swing_on_the_demonstration_skiff(side, arc):
    """A spanner of 100 x 12 mm. The middle of the nut is 3.175 + 15.4686/2 = 10.9093 in front; the corner ends at 7.3823.

    The floor slopes 9.525 in 501.65 across: 1.0878°. Under the lower bolts it is 275.3214 and 280.0839 below the datum's
    height on the inner face, and 10.9093·tan 13° = 2.5186 lower in the plane of the handle. The bolts are at 254. Square to
    the floor that is 23.8357 at port and 28.5973 at starboard. With hypot(100, 6) = 100.1798 and atan(6/100) = 3.4336° the
    arc is 180° + 2·(asin(23.8357/100.1798) - 3.4336°) = 200.6614°, and 206.3054°.
    """
    design = turned_by(demonstration(), 100.0, 12.0)
    motor = design.mounts[0].name
    assert value(design, "spanner", f"{motor} / lower {side}") == pytest.approx(arc, abs=NEAR)


def moving(design, lip, tube, most, lock, *points):
    """Return a boat with the lip of its well's front, and how its motor moves; points are radius, angle, half width."""
    made = tuple(TiltPoint(radius=radius, angle=angle, half_width=half) for radius, angle, half in points)
    return changed(design, well__front_height=lip, mounts__0__tilt=Tilt(tube=tube, most=most, lock=lock, points=made))


def test_the_tilt_of_the_trades_skiff():
    """The hook is 2 + 1.5 - 1.875 = 1.625 in above the datum, along the face; the tube 1.5 above it and 2.5 aft.

    On a rake of 14° that is x = -3.1817, z = 2.4274. The inside edge is 0.4987 below the datum along the face. The floor is
    9 below that and 2 forward: x = 4.2385, and the front 18 further on: 22.2385. The lip is 1 above the datum. A place 24
    over the tube comes to x = 20.8183 at 90°: 1.4203 aft of the lip and 1.4274 above it, hypot = 2.0136 in.
    """
    design = moving(skiff(), IN, (2.5 * IN, 1.5 * IN), 90.0, 0.0, (24 * IN, 0.0, 0.0))
    assert value(design, "tilt_room") == pytest.approx(2.0136 * IN, abs=0.003)


def test_the_lock_of_the_trades_skiff():
    """5 in forward of the tube and 5 to each side, at 30°: 5·0.5 + 5·0.8660 = 6.8301. The walls are at 10.

    The sweep begins behind the inner face, so the rounded corner of 0.5 counts in full: 10 - 0.5 - 6.8301 = 2.6699 in.
    """
    design = moving(skiff(), IN, (2.5 * IN, 1.5 * IN), 10.0, 30.0, (50**0.5 * IN, 45.0, 5 * IN))
    assert value(design, "lock_room") == pytest.approx(2.6699 * IN, abs=0.003)


def test_the_tilt_of_the_demonstration_skiff():
    """The hook is 19.05 above the datum, the tube 30 above it and 70 aft: on a rake of 15°, x = -80.3099, z = 29.2613.

    The floor in the middle is 267.4938 below the inside edge, and that 10.2088 below the datum: x = 277.7026·sin 15° + 38.1·cos
    15° = 108.6765. The front is 431.8·cos 2° = 431.5370 further on: 540.2135. The lip is 25.4 up. A place 560 over the tube
    comes to x = 479.6901 at 90°: 60.5233 aft and 3.8613 above, hypot = 60.6464.
    """
    design = moving(demonstration(), 25.4, (70.0, 30.0), 90.0, 0.0, (560.0, 0.0, 0.0))
    assert value(design, "tilt_room", design.mounts[0].name) == pytest.approx(60.6464, abs=NEAR)


def test_the_lock_of_the_demonstration_skiff():
    """150 forward and 140 to each side, at 35°: 150·sin 35° + 140·cos 35° = 200.7178. The sides' tops are at 266.7.

    The sweep begins behind the inner face, so the rounded corner of 9.525 counts in full: 266.7 - 9.525 - 200.7178 = 56.4572.
    """
    design = moving(demonstration(), 25.4, (70.0, 30.0), 10.0, 35.0, (45000**0.5, 45.0, 140.0))
    assert value(design, "lock_room", design.mounts[0].name) == pytest.approx(56.4572, abs=NEAR)
