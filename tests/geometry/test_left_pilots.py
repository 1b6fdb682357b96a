"""Pilots that the plan has left, by hand: a 17/32 in hole takes a 1/8 in pilot away up to 0.203 in apart.

(0.53125 - 0.125) / 2 = 0.203125 in: geometry. They overlap up to (0.53125 + 0.125) / 2 = 0.328 in apart. Drillable zone,
ladder and *Find a fit* leave the same places out.
"""

from __future__ import annotations

import math
from random import Random

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.decide.cures import cure
from geometry.decide.fit import fits
from geometry.decide.ladder import rungs
from geometry.decide.search_ground import Leeway
from geometry.design.design import Pilot
from geometry.edits.edits import with_mount
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.left_pilots import left_pilots
from geometry.judge.reporter import Reporter
from geometry.readings.pilots import with_pilot
from geometry.solid.placed_bolts import bolts
from geometry.solving.next_pilot import next_pilot
from geometry.zones.pair_zone import zones
from tests.designs import IN, example_design, random_design, roomy, sure, twin_design

AT = "main motor / lower port"
HOLE, PILOT = 0.53125, 0.125  # in


def piloted(by, *, read=True):
    """Return the worked example with a pilot at its lower port hole, and the lower bolts then moved up by ``by`` [in]."""
    value = next_pilot(example_design(), 0, "lower port", "washer mark").expected if read else None
    design = with_pilot(example_design(), 0, "lower port", to="washer mark", value=value, washer=38.1)
    mount = design.mounts[0]
    lower = replace(sure(mount.lower_hardware), hole=HOLE * IN)
    return with_mount(design, 0, lower_hardware=lower, drop=sure(mount.drop) - by * IN)


def finding_of(design):
    return check(design).of("left_pilot", AT)


@pytest.mark.parametrize(
    ("by", "state"),
    [
        (0.0, None),
        (0.2, None),
        (0.203, None),
        (0.2032, "fouled"),
        (0.328, "fouled"),
        (0.3282, "tight"),
        (2.0, "tight"),
        (-0.5, "tight"),
    ],
)
def test_what_the_final_hole_does_with_a_pilot(by, state):
    finding = finding_of(piloted(by))
    if state is None:
        assert finding is None
    else:
        assert sure(finding).state == state
        assert sure(sure(finding).value) == pytest.approx(abs(by) * IN, abs=1e-9)
        assert sure(finding).mounts == (0,)


@pytest.mark.parametrize(
    ("tilt", "by", "apart"), [(6.0, 0.0, None), (-6.0, 0.0, None), (7.0, 0.0, 5.4024), (-7.0, 0.0, 5.4024), (7.0, -0.1, None)]
)
def test_a_hole_that_leans_leaves_a_pilot_that_was_drilled_square(tilt, by, apart):
    """By hand: through 44 mm, 6 degrees are 4.62 mm apart inside, and 7 degrees 5.40. The hole takes 5.16 away.

    A tenth of an inch lower outside, 7 degrees are only 2.86 mm apart inside.
    """
    design = with_mount(piloted(by), 0, lower_tilt=tilt)
    finding = finding_of(design)
    if apart is None:
        assert finding is None
    else:
        assert sure(finding).state == "fouled"
        assert sure(sure(finding).value) == pytest.approx(apart, abs=1e-3)
        where = "is 3/16 in from the planned hole inside"
        assert sure(finding).text == f"The lower port pilot {where}. The final hole does not take it away."


def test_a_hole_that_crosses_a_pilot_in_the_middle_of_the_wood_overlaps_it():
    """By hand: 7 degrees rise 5.40 in 44 mm, half of it on each side of the pilot, which is 8.2 mm to the side.

    Both ends are 8.63 mm apart, more than the 8.33 at which hole and pilot touch. In the middle they are 8.2 mm apart.
    """
    design = with_mount(piloted(-2.70 / IN), 0, lower_tilt=7.0, offset=8.2)
    finding = sure(finding_of(design))
    assert finding.value == pytest.approx(math.hypot(8.2, 2.70), abs=2e-3)
    assert finding.state == "fouled"
    assert sure(finding_of(with_mount(design, 0, offset=8.4))).state == "tight"


def test_a_pilot_that_was_not_read_is_not_there():
    assert finding_of(piloted(1.0, read=False)) is None


def test_one_that_overlaps_its_hole_keeps_it_from_being_drilled():
    """The drill would run out of the new hole. One further off stays open, but its hole can be drilled."""
    reasons = drillable(check(piloted(0.3))).reasons
    assert any("pilot" in reason.text for reason in reasons)
    assert not any("pilot" in reason.text for reason in drillable(check(piloted(0.6))).reasons)


@pytest.mark.parametrize("by", [0.3, 1.0])
def test_the_cure_adds_it_to_the_old_holes_with_their_checks(by):
    design = piloted(by)
    step = sure(cure(check(design), sure(finding_of(design))))
    assert step.label == "Lower port pilot added to the old holes"
    old = step.design.old_holes[-1]
    assert (old.name, old.at, old.state) == ("lower port pilot", design.pilots[0].at, "open")
    assert old.diameter == pytest.approx(PILOT * IN)
    assert finding_of(step.design) is None
    wood = check(step.design).of("old_hole", f"{AT} / {old.name}")
    between = by - (HOLE + PILOT) / 2  # in, by hand on the outer face: both are square to it
    assert (sure(wood).state == "fouled") == (between < 0.5 * HOLE)


def test_a_drag_keeps_what_is_said_about_pilots_true():
    """Findings from before must not stay: by a step of a drag the pilot is taken away, or is not."""
    before = check(piloted(1.0))
    for by in (0.9, 0.1, 0.25, 0.0):
        design = with_mount(before.design, 0, drop=sure(piloted(by).mounts[0].drop))
        assert check(design, before).of("left_pilot", AT) == check(design).of("left_pilot", AT)
        before = check(design, before)


@given(st.floats(-40.0, 40.0), st.floats(-40.0, 40.0))
def test_a_pilot_is_left_where_any_of_it_is_out_of_the_hole(across, up):
    """For any way that the plan moved: by points round the pilot's rim, which the hole covers all or not [mm]."""
    design = piloted(0.0)
    mount = design.mounts[0]
    moved = with_mount(design, 0, offset=(mount.offset or 0.0) + across, drop=sure(mount.drop) - up)
    rim = [(PILOT * IN / 2 * math.cos(turn / 10), PILOT * IN / 2 * math.sin(turn / 10)) for turn in range(63)]
    out = max(math.hypot(x - across, y - up) for x, y in rim) - HOLE * IN / 2
    if abs(out) > 0.01:
        assert (finding_of(moved) is not None) == (out > 0.0)


def test_each_motor_and_each_hole_has_its_own_pilot():
    """The second motor's upper pair goes up by 6 mm, and its 17/32 in hole takes 5.16 mm. The first motor's hole is wider."""
    boat = twin_design()
    first, second = boat.mounts
    wide, usual = (replace(sure(mount.upper_hardware), hole=hole) for mount, hole in ((first, 20.0), (second, HOLE * IN)))
    boat = with_mount(with_mount(boat, 0, upper_hardware=wide), 1, upper_hardware=usual)
    value = next_pilot(boat, 1, "upper starboard", "washer mark").expected
    boat = with_pilot(boat, 1, "upper starboard", to="washer mark", value=value, washer=38.1)
    for index, at in ((0, first), (1, second)):
        moved = with_mount(boat, index, upper_at=sure(at.upper_at) + 6.0, drop=sure(at.drop) + 6.0)
        left = [finding for finding in check(moved).findings if finding.check == "left_pilot"]
        assert [(finding.at, finding.mounts) for finding in left] == [(f"{second.name} / upper starboard", (1,))][: index]


def planted(design, number, at):
    """Return a boat with an open pilot at any place on the outer face. Nothing is solved with it: its end is not there."""
    pilot = Pilot(
        mount=0, pair="lower" if number < 2 else "upper", side="starboard" if number % 2 else "port", to="old hole",
        value=90.0, washer=None, at=at, tilt=0.0,
    )  # fmt: skip
    return replace(design, old_holes=(), pilots=(*design.pilots, pilot))


def area(zone, grade):
    return shapely.union_all([shapely.Polygon(patch.outline, patch.holes) for patch in getattr(zone, grade)])


def lower_zone(design):
    return zones(design).lower


def test_a_hole_of_another_pair_may_not_overlap_a_pilot_either():
    """A lower port pilot 6 mm above the upper starboard hole; the radii are 6.75 and 1.59 mm, so they overlap."""
    design = with_mount(roomy(), 0, drop=160.0)
    upper = next(bolt for bolt in bolts(design) if bolt.name == "upper starboard")
    finding = sure(check(planted(design, 0, (upper.u, upper.v + 6.0))).of("left_pilot", AT))
    assert finding.state == "fouled"
    assert finding.value == pytest.approx(6.0, abs=1e-9)
    where = "is 3/16 in from the planned upper starboard hole"
    assert finding.text == f"The lower port pilot {where}. The final hole does not take it away."
    assert check(planted(design, 0, (upper.u, upper.v + 1.0))).of("left_pilot", AT) is None  # that hole takes it away
    away = sure(check(planted(design, 0, (upper.u, upper.v + 12.0))).of("left_pilot", AT))
    assert away.state == "tight"  # it stays open, next to no hole
    assert "upper" not in away.text


def test_the_zone_leaves_out_the_places_whose_hole_overlaps_a_pilot():
    """A ring from (hole - pilot) / 2 to (hole + pilot) / 2: its area is pi x hole x pilot. The same of both grades."""
    design, hole = with_mount(roomy(), 0, drop=160.0), sure(roomy().mounts[0].lower_hardware).hole
    open_ = planted(design, 0, (0.0, -150.0))
    for grade in ("least", "advised"):
        lost = area(lower_zone(replace(open_, pilots=())), grade).difference(area(lower_zone(open_), grade))
        assert lost.area == pytest.approx(math.pi * hole * PILOT * IN, rel=0.01)
        assert lost.bounds[2] == pytest.approx((hole + PILOT * IN) / 2, abs=0.02)
        assert not lost.contains(shapely.Point(0.0, -150.0 + (hole - PILOT * IN) / 2 - 0.02))
    unread = replace(open_, pilots=(replace(open_.pilots[0], value=None),))
    assert lower_zone(unread) == lower_zone(replace(open_, pilots=()))


def test_a_rung_is_fouled_where_its_hole_overlaps_a_pilot():
    """The pilot is 6 mm above the lower port hole of one drop of the ladder, and goes with no other drop."""
    design = roomy()
    states = {rung.drop: rung.state for rung in rungs(design, 0) if rung.row in rung.rows_left}
    drop = next(drop for drop, state in states.items() if state != "fouled")
    lower = next(bolt for bolt in bolts(with_mount(design, 0, drop=drop)) if bolt.name == "lower port")
    open_ = planted(design, 0, (lower.u, lower.v + 6.0))
    for rung in rungs(open_, 0):
        if rung.row not in rung.rows_left:
            continue
        assert rung.state == check(sure(rung.design)).verdict
        if rung.drop == drop:
            assert (rung.state, sure(rung.worst).check) == ("fouled", "left_pilot")
        else:
            assert sure(rung.worst).check != "left_pilot" or rung.state == "tight"


def test_find_a_fit_looks_for_places_off_a_pilot():
    """A pilot just above the first offer's lower hole: the offers of the same boat are elsewhere, and say what stays open."""
    as_it_is = Leeway(old_holes=False, washers=False, plate=False, bolts=False, tilt=False, aside=False)
    design = replace(roomy(), old_holes=())
    first = fits(design, 0, as_it_is)[0]
    lower = next(bolt for bolt in bolts(first.design) if bolt.name == "lower port")
    open_ = planted(design, 0, (lower.u, lower.v + 6.0))
    assert sure(check(replace(first.design, pilots=open_.pilots)).of("left_pilot", AT)).state == "fouled"
    offers = fits(open_, 0, as_it_is)
    assert offers
    for fit in offers:
        assert fit.fits
        finding = check(fit.design).of("left_pilot", AT)
        assert finding is None or finding.state == "tight"
        said = "The lower port pilot stays open: fill it, and let it cure."
        assert (said in fit.costs) == (finding is not None)


def overlapped(design, name=None):
    """Return whether the judge has a fouled pilot; of one bolt's hole alone where it is named."""
    report = Reporter(design)
    if name is not None:
        report.__dict__["bolts"] = tuple(bolt for bolt in bolts(design) if bolt.name == name)
    left_pilots(report)
    return any(finding.state == "fouled" for finding in report.findings)


def hung(design, part, place, side):
    """Return the boat with its pattern, or one bolt of a pair, at a place on the outer face."""
    if part == "pattern":
        return with_mount(design, 0, offset=place[0], upper_at=place[1])
    spread = design.mounts[0].bracket.rows if part == "upper" else design.mounts[0].bracket.lower
    offset = place[0] + (spread.half_spacing if side == "port" else -spread.half_spacing)
    upper_at, drop = (place[1], 150.0) if part == "upper" else (-1e-3, -1e-3 - place[1])
    return with_mount(design, 0, offset=offset, upper_at=upper_at, drop=drop)


@pytest.mark.parametrize("seed", range(6))
def test_zone_and_judge_agree_on_pilots(seed):
    """Random boats, square and leaning, with pilots near their holes: a place that only a pilot takes is out, to 0.03 mm."""
    looked_at = dict.fromkeys((True, False), 0)
    for number in range(5):
        rng = Random(f"left pilots {seed} {number}")
        bare = replace(random_design(rng, square=number % 2 == 0), old_holes=())
        design = bare
        for hole in range(4):
            bolt = rng.choice(bolts(bare))
            design = planted(design, hole, (bolt.u + rng.uniform(-9, 9), bolt.v + rng.uniform(-9, 9)))
        zoned, free = zones(design), zones(bare)
        for part in ("upper", "lower", "pattern"):
            for grade in ("least", "advised"):
                now, before = (area(getattr(each, part), grade) for each in (zoned, free))
                for place in rings(rng, design, part):
                    spot, side = shapely.Point(place), rng.choice(("port", "starboard"))
                    if place[1] > -1.0 or not before.contains(spot) or now.boundary.distance(spot) < 0.03:
                        continue
                    name = None if part == "pattern" else f"{part} {side}"
                    judged = overlapped(hung(design, part, place, side), name)
                    assert now.contains(spot) != judged, (number, part, grade, place)
                    looked_at[judged] += 1
    assert min(looked_at.values()) > 20


def rings(rng, design, part):
    """Yield places about the pilots; of a pattern, those that put one of its holes there."""
    mount = design.mounts[0]
    for pilot in design.pilots:
        for _ in range(25):
            turn, far = rng.uniform(0.0, math.tau), rng.uniform(0.0, 10.0)
            at = pilot.at[0] + far * math.cos(turn), pilot.at[1] + far * math.sin(turn)
            if part == "pattern":
                bolt = rng.choice(bolts(design))
                at = at[0] - bolt.u + mount.offset, at[1] - bolt.v + mount.upper_at
            yield at
