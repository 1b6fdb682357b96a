"""Four invented boats, each with the outcome that a careful rigger calculates by hand [in].

The four-bolt pattern, its rows and slots are common practice, no source; everything else is derived from geometry. A
margin of 1/8 in is advised: "short" means short of it, not in contact. In every calculation L is the rounded corner's reach
up the face, r·cot(θ/2), and θ the corner's angle. F is the floor below the outer datum, h the hole above the floor's corner.
"""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.decide.ladder import ladders
from geometry.decide.lowest import lowest_plate
from geometry.design.boat import Block, Thickness, Well
from geometry.design.hardware import BackingPlate, Washer
from geometry.judge.check import check
from geometry.judge.reporter import Reporter
from geometry.solid.bracket_holes import plate_height, rows_left
from geometry.solid.clearances import body_clearance
from geometry.solid.placed_bolts import bolts
from tests.designs import IN, changed, clamp_on_mount, example_design, sure

LOWER = ("main motor / lower port", "main motor / lower starboard")
UPPER = ("main motor / upper port", "main motor / upper starboard")
SHORT = 0.0006 * IN  # [mm]: the hand's figures are rounded to 0.001 in


def boat(
    *, rake: float, thick: float, cut: str, well: tuple[float, float, float] | None, upper: float, drop: float, row: int,
    height: float, leg: float = 20.25, boss: float = 0.75, slots=((8.0, 11.0),), count: int = 5, flat: float | None = None,
):  # fmt: skip
    """Return a boat from inches; ``well`` is its floor below the inside top edge, its rounded corner and its length forward."""
    design = example_design()
    bracket = design.mounts[0].bracket
    upper_hardware, lower_hardware = sure(design.mounts[0].upper_hardware), sure(design.mounts[0].lower_hardware)
    washer = Washer(outer=1.5 * IN, inner=13.5, thickness=0.109 * IN, flat_cut=None if flat is None else flat * IN)
    outside = Washer(outer=1.375 * IN, inner=13.5, thickness=0.109 * IN, flat_cut=None)
    bracket = replace(
        bracket,
        rows=replace(sure(bracket.rows), row0_depth=2 * IN, pitch=0.75 * IN, count=count, pad_thickness=boss * IN),
        lower=replace(sure(bracket.lower), slots=tuple((a * IN, b * IN) for a, b in slots), pad_thickness=boss * IN),
    )
    mount = replace(
        design.mounts[0], bracket=bracket, leg=leg * IN, row=row, upper_at=-upper * IN, drop=drop * IN,
        upper_hardware=replace(upper_hardware, washer=replace(washer, flat_cut=None), outside_washer=outside),
        lower_hardware=replace(lower_hardware, washer=washer, outside_washer=outside),
    )  # fmt: skip
    transom = replace(design.transom, rake=rake, top_cut=cut, height=height * IN,
                      thickness=Thickness(top=thick * IN, low=thick * IN, low_at=-250.0))  # fmt: skip
    inside = None
    if well is not None:
        floor, radius, length = (item * IN for item in well)
        inside = Well(
            well_from="inside top edge", profile=((-10 * IN, 0), (-10 * IN, -floor), (10 * IN, -floor), (10 * IN, 0)),
            floor_rise=0.0, fillet_radius=radius, length=length, front_lean=0.0, front_height=None,
        )  # fmt: skip
    return replace(design, transom=transom, well=inside, inside_blocks=(), outside_fittings=(), old_holes=(),
                   mounts=(mount,), limits=replace(design.limits, clearance=(0.0, 3.175)))  # fmt: skip


def room(design, part: str = "washer", at: tuple[str, ...] = LOWER) -> float:
    checked = check(design)
    values = {sure(sure(checked.of(part, place)).value) for place in at}
    assert max(values) - min(values) < 1e-9
    return max(values)


def state(design, part: str = "washer", at: tuple[str, ...] = LOWER) -> str:
    checked = check(design)
    (states,) = {checked.of(part, place).state for place in at}
    return states


def skiff(drop: float = 6.5, row: int = 2, flat: float | None = None):
    """Boat 1, a shallow-well skiff: rake 14°, 2 in thick, top cut level, floor 9 below the inside edge, r 1/2."""
    return boat(rake=14, thick=2.0, cut="level", well=(9.0, 0.5, 18.0), upper=1.875, drop=drop, row=row, height=19.5, flat=flat)


@pytest.mark.parametrize(
    ("drop", "flat", "h_less_need", "expected"),
    [
        # F = 9 + 2·tan 14° = 9.499; θ = 104°, L = 0.3906. D = 1.875 + S, h = F - D; contact at h = L + half washer
        (8.0, None, -0.3763 - 1.1406, "fouled"),
        (7.25, None, 0.3737 - 1.1406, "fouled"),
        (6.5, None, 1.1237 - 1.1406, "fouled"),  # -0.0169 in = -0.43 mm: short of contact, and of the margin by 0.142
        (6.5, 0.46, 1.1237 - 0.8506, "clear"),  # 0.2731 in = 6.93 mm: the margin and 0.148 more
        (7.25, 0.46, 0.3737 - 0.8506, "fouled"),
    ],
)
def test_the_skiffs_lower_washers(drop, flat, h_less_need, expected):
    design = skiff(drop, flat=flat)
    assert room(design) == pytest.approx(h_less_need * IN, abs=0.02)
    assert state(design) == expected


def test_the_skiff_by_the_millimetre():
    assert room(skiff()) == pytest.approx(-0.43, abs=0.01)
    assert room(skiff(flat=0.46)) == pytest.approx(6.93, abs=0.01)


def test_square_drilling_is_what_makes_the_skiff():
    """Drilled level the exit is 0.4987 lower: h = 0.625, and a cut washer needs 0.8506: -0.2256 in."""
    level = changed(skiff(flat=0.46), mounts__0__lower_tilt=-14.0)
    assert room(level) < -0.2256 * IN + 0.02
    assert state(level) == "fouled"


def test_a_relieved_plate_under_the_skiffs_whole_washers():
    """A backing plate 1/4 thick, relieved at its lower back edge. At 1/4 out the rounded corner is at -0.0424. So the washer
    needs 0.0 - 0.0424 + 0.75 and 0.125 more, 0.833: h = 1.124 spares 0.291; room 0.4161 in. Checked on the washer's own body.
    """

    plate = BackingPlate(
        outline=((-150, -25), (150, -25), (150, 30), (-150, 30)), thickness=0.25 * IN, relief=(15.0, 0.25 * IN),
        material="aluminium 5083", joins=("lower port", "lower starboard"),
    )  # fmt: skip
    design = changed(skiff(), mounts__0__lower_hardware__backing_plate=plate)
    bolt = bolts(design)[2]
    room = body_clearance(Reporter(design).space, bolt.exit, sure(bolt.body("washer")))
    assert room == pytest.approx((1.1237 + 0.0424 - 0.75) * IN, abs=0.02)
    # 2.968 + 0.25 of grip: from 3.218 + 0.609 + 0.154 on, 4 in
    assert bolt.length == pytest.approx(4.0 * IN)


def test_the_skiffs_rows_and_heights():
    """S = 6-1/2 leaves `rows` 2-4.

    g = 2 + k·0.75 - 1.875: A = 19.5 + g·cos 14° - 20.25 = +0.83, +1.55, +2.28; lost: -0.63, +0.10.
    """
    design = skiff()
    assert rows_left(design, 0, 6.5 * IN) == (2, 3, 4)
    heights = [plate_height(design, 0, row) / IN for row in range(5)]
    assert heights == pytest.approx([-0.63, 0.10, 0.83, 1.55, 2.28], abs=0.006)


def test_how_low_the_skiff_can_go():
    """Cut washers: D = 9.4987 - 0.3906 - 0.46 - 0.125 = 8.523: A = 19.5 + (10 - 8.523)·cos 14° - 20.25 = +0.68."""
    assert lowest_plate(skiff(flat=0.46), 0).advised / IN == pytest.approx(0.68, abs=0.006)
    # whole washers: D = 8.233, A = +0.965
    lowest = 19.5 + (10 - 8.2331) * math.cos(math.radians(14)) - 20.25
    assert lowest_plate(skiff(), 0).advised / IN == pytest.approx(lowest, abs=0.001)


def test_the_skiffs_bolts():
    """Grip 0.109 + 0.75 + 2 + 0.109 = 2.968; + nut 0.609 + 2/13 = 3.731, up to 2.968 + 1.25 = 4.218: shortest 3-3/4."""
    for bolt in bolts(skiff()):
        assert bolt.grip / IN == pytest.approx(2.968, abs=1e-6)
        assert [length / IN for length in bolt.window] == pytest.approx([3.731, 4.218], abs=0.001)
        assert [length / IN for length in bolt.fitting_lengths] == pytest.approx([3.75, 4.0])
        assert bolt.length / IN == pytest.approx(3.75)


def test_the_skiffs_upper_holes_are_near_the_inside_edge():
    """1.875 - 0.4987 = 1.376 in inside, 2.75 diameters: tight. Outside 3.75: tight too."""
    checked = check(skiff())
    assert checked.of("edge", f"{UPPER[0]} / inner face").value == pytest.approx(1.376 / 0.5, abs=0.002)
    assert checked.of("edge", f"{UPPER[0]} / inner face").state == "tight"


def capped(upper: float):
    """Boat 2, no well, a cap lip inside: rake 12°, 2-1/4 thick, cut square; the lip hangs 1-1/4 below the edge."""
    lip = Block(name="cap lip", outline=((-600, -1.25 * IN), (600, -1.25 * IN), (600, 0), (-600, 0)), stands_out=2 * IN)
    design = boat(rake=12, thick=2.25, cut="square", well=None, upper=upper, drop=8.0, row=1, height=20.75)
    return replace(design, inside_blocks=(lip,))


@pytest.mark.parametrize(
    ("upper", "gap", "expected"), [(1.875, -0.125, "fouled"), (2.25, 0.25, "clear"), (2.125, 0.125, "clear")]
)
def test_the_cap_lip_and_the_upper_washers(upper, gap, expected):
    """The washer's top is at upper - 0.75: 1.125 meets the lip, 1.5 clears it by 1/4, an eighth more than advised."""
    assert room(capped(upper), at=UPPER) == pytest.approx(gap * IN, abs=1e-6)
    assert state(capped(upper), at=UPPER) == expected


def test_nothing_below_limits_the_capped_boat():
    checked = check(capped(2.25))
    assert checked.of("nut", LOWER[0]).state == "clear"
    assert checked.of("socket", LOWER[0]) is None or checked.of("socket", LOWER[0]).state == "clear"


def test_the_capped_boats_rows_and_heights():
    """The hook asks k >= (2.25 - 2)/0.75, so 1: `rows` 1-4. A = 20.75 + (k·0.75 - 0.25)·cos 12° - 20.25: +0.99, +1.72."""
    design = capped(2.25)
    assert rows_left(design, 0, 8.0 * IN) == (1, 2, 3, 4)
    assert [plate_height(design, 0, row) / IN for row in (1, 2)] == pytest.approx([0.99, 1.72], abs=0.006)
    assert check(changed(design, mounts__0__row=0)).of("saddle", "main motor").state == "fouled"


def test_the_capped_boats_bolts():
    """Grip 3.218: 3.98 to 4.47: 4 or 4-1/4, the shorter one."""
    bolt = bolts(capped(2.25))[0]
    assert bolt.grip / IN == pytest.approx(3.218, abs=1e-6)
    assert [length / IN for length in bolt.fitting_lengths] == pytest.approx([4.0, 4.25])


def blind(drop: float, row: int = 2, flat: float | None = None):
    """Boat 9, fixed lower holes at 8 and 8-3/4, four rows, bolts from inside.

    Rake 13°, 1.9 thick, floor 9.6, r 3/8, 6 forward.
    """
    design = boat(
        rake=13, thick=1.9, cut="level", well=(9.6, 0.375, 6.0), upper=2.0, drop=drop, row=row, height=19.75,
        slots=((8.0, 8.0), (8.75, 8.75)), count=4, flat=flat,
    )  # fmt: skip
    return changed(design, mounts__0__lower_hardware__inserted_from="inside")


@pytest.mark.parametrize(
    ("drop", "flat", "gap", "expected"),
    [
        # F = 9.6 + 1.9·tan 13° = 10.0386; θ = 103°, L = 0.2983; h = F - 2 - S
        (8.0, None, 0.0386 - 1.0483, "fouled"),
        (7.25, None, 0.7886 - 1.0483, "fouled"),  # -0.2597 in = -6.59 mm
        (7.25, 0.46, 0.7886 - 0.7583, "tight"),  # +0.0303 in = +0.77 mm: short of the margin by 0.094
        (6.5, None, 1.5386 - 1.0483, "clear"),
    ],
)
def test_the_blind_boats_lower_washers(drop, flat, gap, expected):
    assert room(blind(drop, flat=flat)) == pytest.approx(gap * IN, abs=0.02)
    assert state(blind(drop, flat=flat)) == expected


def test_the_blind_boat_by_the_millimetre():
    assert room(blind(7.25)) == pytest.approx(-6.59, abs=0.01)
    assert room(blind(7.25, flat=0.46)) == pytest.approx(0.77, abs=0.01)


@pytest.mark.parametrize(("drop", "rows"), [(6.5, (2, 3)), (7.25, (1, 2)), (7.625, ())])
def test_the_blind_boats_rows(drop, rows):
    """6-1/2 + k·3/4 has to be 8 or 8-3/4; 7-5/8 finds neither."""
    assert rows_left(blind(drop), 0, drop * IN) == rows


def test_the_blind_boats_heights():
    """g = k·0.75: A = 19.75 + g·cos 13° - 20.25 = +0.96 in `row` 2, +1.69 in `row` 3."""
    assert [plate_height(blind(6.5), 0, row) / IN for row in (2, 3)] == pytest.approx([0.96, 1.69], abs=0.006)


def test_the_blind_boats_bolts_can_be_brought_in_from_inside():
    """Grip 2.868, window 3.631 to 4.118: 3-3/4. Its way in, 3.75 + 0.323 head + 0.512 hand, fits within 6 in of well.

    The axis climbs 13° over a level floor 6 long, front plumb: from a hole 1.5386 over the corner,
    (6 + 1.5386·sin 13°)/cos 13° = 6.513 along; less 4.585 = 1.928 in.
    """
    design = blind(6.5)
    bolt = bolts(design)[2]
    assert bolt.grip / IN == pytest.approx(2.868, abs=1e-6)
    assert bolt.length / IN == pytest.approx(3.75)
    along = (6 + 1.5386 * math.sin(math.radians(13))) / math.cos(math.radians(13))
    finding = check(design).of("feed", LOWER[0])
    assert finding.value / IN == pytest.approx(along - 3.75 - 0.323 - 13 / IN, abs=0.001)
    assert finding.state == "clear"
    assert ladders(design)[0].rungs[-1].row == 3


def tender(thick: float = 1.1, pads: float = 0.25):
    """Boat 10, a tiny tender: rake 10°, a clamp of 1.2 to 2.4 in, screws 8 apart, transom 1.1: pads 1/4 at each side."""
    mount = clamp_on_mount()
    screws = replace(sure(mount.bracket.clamp_screws), half_spacing=4 * IN, pads=(pads * IN, pads * IN))
    bracket = replace(mount.bracket, jaw=(1.2 * IN, 2.4 * IN), clamp_screws=screws)
    design = example_design()
    transom = replace(design.transom, rake=10.0, height=15.25 * IN,
                      thickness=Thickness(top=thick * IN, low=thick * IN, low_at=-250.0))  # fmt: skip
    return replace(design, transom=transom, well=None, inside_blocks=(), outside_fittings=(), old_holes=(),
                   mounts=(replace(mount, bracket=bracket, leg=15 * IN),))  # fmt: skip


def test_the_tender_needs_pads():
    """1.1 in a clamp from 1.2 on: 0.1 short; with 1/4 at each side 1.6, 0.4 from its nearer end."""
    bare = check(tender(pads=0.0)).of("clamp_on", "small motor")
    assert (bare.state, bare.value) == ("fouled", pytest.approx(-0.1 * IN, abs=SHORT))
    padded = check(tender()).of("clamp_on", "small motor")
    assert (padded.state, padded.value) == ("clear", pytest.approx(0.4 * IN, abs=SHORT))


def test_the_tender_has_no_bolts_and_no_ladder():
    design = tender()
    assert bolts(design) == ()
    assert ladders(design)[0].rungs == ()
    assert check(design).of("height", "small motor").value / IN == pytest.approx(0.25, abs=1e-6)
    assert check(design).verdict == "clear"
