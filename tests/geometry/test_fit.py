"""The search for a fit: what it finds, in which order, what it says of it, and that all of it passes the check."""

import math
from itertools import islice, pairwise
from random import Random

import pytest
from msgspec.structs import replace

from assets import design_text
from geometry.decide.fit import _causes, fits, search
from geometry.decide.kit import CUT, PLAIN, kits
from geometry.decide.measured_kit import made_to_measure
from geometry.decide.offer import Fit, Progress, _to_measure
from geometry.decide.placing import all_choices, uppers_of
from geometry.decide.search_ground import Aim, Candidate, Ground, Leeway, prepared
from geometry.design.boat import Block, OldHole
from geometry.design.validity import NonsenseError
from geometry.design_text import from_text
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.judge.drillable import ROOM_TO_DRILL, drillable, room_aimed_at
from geometry.judge.findings import verdict_of
from geometry.judge.inside_room import part_room
from geometry.judge.reporter import Reporter
from geometry.readings.measures import name_of, put_path
from geometry.solid.faces import Unmeasured
from tests.designs import (
    IN,
    changed,
    clamp_on_mount,
    example_design,
    half_inch_hardware,
    numbers_of,
    random_design,
    roomy,
    sure,
    with_some_room,
)

DEMONSTRATIONS = ("shallow-well-skiff", "cap-lip-launch", "tapered-work-boat", "thrice-drilled-runabout", "twin-motor-launch")


def demonstration(name):
    return from_text(design_text(name))


def floor_at(design, depth):
    """Return a design whose well's floor is ``depth`` below where the profile is measured from."""
    (first, *floor, last) = design.well.profile
    profile = (first, *((u, -depth) for u, _ in floor), last)
    return changed(design, well__profile=profile, inside_blocks=())


def deep():
    """Return the worked example with a well so deep that the standard drop is no trouble."""
    return replace(floor_at(changed(example_design(), mounts__0__drop=203.2), 320.0), old_holes=())


def findings_of_motor(design, index=0):
    return [f for f in check(design).findings if not f.mounts or index in f.mounts]


def state_of_motor(design, index):
    return verdict_of(tuple(findings_of_motor(design, index)))


def measured(design):
    """Return a boat whose guesses are counted as measured: an owner measures them before drilling."""
    return replace(design, readings={key: replace(reading, state="measured") for key, reading in design.readings.items()})


def refusals(design, index=0):
    """Return what keeps this motor's holes from being drilled, once every guess is measured, by kind and finding.

    A load over its limit, or an outer washer too narrow, is so at every place. An offer says it as a cost.
    """
    reasons = drillable(with_spreads(check(measured(design)))).reasons
    return [(reason.kind, reason.finding.check, reason.finding.at) for reason in reasons
            if reason.finding is not None and (not reason.finding.mounts or index in reason.finding.mounts)
            and not (reason.kind == "fouled" and reason.finding.check in ("clamp", "pressure", "outer_washer"))]  # fmt: skip


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_all_that_is_offered_passes_the_check(name):
    design = demonstration(name)
    for index in range(len(design.mounts)):
        offers = fits(design, index)
        assert offers
        assert all(fit.fits for fit in offers)
        for fit in offers:
            mount = fit.design.mounts[index]
            assert state_of_motor(fit.design, index) == fit.state != "fouled"
            assert refusals(fit.design, index) == []
            assert (mount.row, mount.drop, mount.upper_at, mount.offset) == (fit.row, fit.drop, fit.upper_at, fit.offset)
            assert fit.row in fit.rows_left
            assert fit.change is None
            # Nothing but this motor, the origin of its new parts, and which old holes are used, is another than before.
            others = [mount for number, mount in enumerate(fit.design.mounts) if number != index]
            assert others == [mount for number, mount in enumerate(design.mounts) if number != index]
            assert replace(fit.design, mounts=design.mounts, old_holes=design.old_holes, readings=design.readings) == design
            fresh = {key: r for key, r in fit.design.readings.items() if design.readings.get(key) != r}
            assert all("_hardware." in key and reading.state == "to buy" for key, reading in fresh.items())


def test_the_standard_drop_comes_first_where_it_fits():
    first = fits(deep())[0]
    assert (first.drop, first.hardware, first.upper_at) == (203.2, "the hardware as it is", -50.8)
    assert first.rows_left == (0, 1, 2, 3, 4)
    assert not [cost for cost in first.costs if "lower bolts go" in cost]


def test_the_skiff_is_decided_as_its_maker_wrote():
    """One step up, plain washers have room enough to be drilled. At 8 in washers cut flat have it, higher, with all five rows.

    Cut flat and kept 2 in down they have 2.3 mm: they clear, but too unsurely to be drilled, so they are not offered.
    """
    design = demonstration("shallow-well-skiff")
    offers = fits(design)
    cut = next(fit for fit in offers if fit.hardware == "washers cut flat")
    assert cut.drop == pytest.approx(8 * IN)
    assert cut.rows_left == (0, 1, 2, 3, 4)
    assert -2 * IN < cut.upper_at <= -1.75 * IN + 1e-6
    assert cut.design.mounts[0].lower_hardware.washer.flat_cut is not None
    mount = design.mounts[0]
    (least,) = [kit for kit in kits(mount.lower_hardware, mount.bracket, "lower", "in") if kit.name == "washers cut flat"]
    kept = changed(cut.design, mounts__0__upper_at=-2 * IN, mounts__0__lower_hardware=least.hardware)
    assert state_of_motor(kept, 0) != "fouled"
    assert {reason[:2] for reason in refusals(kept)} == {("doubt", "washer")}
    plain = offers[0]
    assert (plain.hardware, plain.upper_at) == ("the hardware as it is", -2 * IN)
    assert plain.room >= ROOM_TO_DRILL
    # A sixteenth of an inch, a step of the tape, and no more beyond the whole step: the slot's end stays clear.
    assert plain.drop == pytest.approx(7.25 * IN + IN / 16)
    assert plain.rows_left == (1, 2, 3, 4)
    assert plain.row == 1


def test_a_shallow_well_of_sixteen_feet():
    """Transom 2 in, rake 14°, level cut, floor level and 9 in down, corner radius 1/2 in; a tape's 1/8 in wanted everywhere.

    Calculated by hand: h = 9.499 - 1.875 - drop; at 6-1/2 in it is 1.124 in. A whole washer of 1-1/2 in asks for
    0.391 + 0.75 + 0.125 = 1.266: it fails, and so does every washer at 7-1/4 in (h = 0.374). Cut flat at 0.46 in it asks
    for 0.976 and passes. A narrow washer of 1.062 in would clear too (1.047), but crushes the wood at that torque.
    """
    design = example_design()
    design = changed(
        design, transom__thickness__top=2 * IN, transom__thickness__low=2 * IN, well__floor_rise=0.0,
        well__fillet_radius=0.5 * IN,
        limits__clearance=(0.0, IN / 8), mounts__0__upper_at=-1.875 * IN, mounts__0__drop=8 * IN, transom__height=19.5 * IN,
        mounts__0__leg=20.25 * IN,
    )  # fmt: skip
    design = replace(floor_at(design, 9 * IN), old_holes=())
    kept = [fit for fit in fits(design) if fit.upper_at == pytest.approx(-1.875 * IN)]
    first = kept[0]
    assert first.hardware == "washers cut flat"
    assert 6.5 * IN <= first.drop <= 6.5 * IN + IN / 16
    assert first.rows_left == (2, 3, 4)
    assert first.room >= IN / 8
    assert not [fit for fit in kept if fit.drop > 7 * IN and fit.room >= IN / 8]
    # `row` 2 gives an AV plate 0.83 in above the bottom, plumb.
    assert first.row == 2
    assert first.plate_height == pytest.approx(0.83 * IN, abs=0.005 * IN)


def test_a_bracket_with_round_holes_has_no_drop_between():
    """Round holes 8 and 8-3/4 in below `row` 0, four rows: 6-1/2 in leaves `rows` 2 and 3; 7-5/8 in would leave none."""
    slots = ((8 * IN, 8 * IN), (8.75 * IN, 8.75 * IN))
    design = changed(
        example_design(), mounts__0__bracket__rows__count=4, mounts__0__bracket__lower__slots=slots, old_holes=(),
    )  # fmt: skip
    for fit in fits(design):
        for row in fit.rows_left:
            place = row * 19.05 + fit.drop
            assert min(abs(place - 8 * IN), abs(place - 8.75 * IN)) <= (13.5 - 12.7) / 2 + 1e-6
    assert next(fit.rows_left for fit in fits(design) if fit.drop == pytest.approx(6.5 * IN)) == (2, 3)


def test_where_nothing_fits_the_nearest_miss_says_how_far_the_floor_is_off():
    """Lowered by what is said it may be drilled, and by a sixteenth of an inch less it may not."""
    design = replace(floor_at(example_design(), 150.0), old_holes=())
    (miss,) = fits(design)
    assert not miss.fits
    assert miss.state == "fouled"
    by = said(miss.change, "The well's floor would have to be {} lower.")
    assert refusals(lowered(miss.design, by)) == []
    assert refusals(lowered(miss.design, by - IN / 16)) != []
    assert fits(lowered(design, by))[0].fits


def said(change, words):
    """Return the length in a sentence of a change [mm]."""
    before, after = words.split("{}")
    text = change.split(before)[1].split(after)[0]
    return float(text.split()[0]) if text.endswith(" mm") else float(sum(map(_inches, text.removesuffix(" in").split()))) * IN


def lowered(design, by):
    (first, *floor, last) = design.well.profile
    return changed(design, well__profile=(first, *((u, y - by) for u, y in floor), last))


def widened(design, port, starboard):
    (first, second, *floor, third, last) = design.well.profile
    out = ((first[0] - port, first[1]), (second[0] - port, second[1]), *floor,
           (third[0] + starboard, third[1]), (last[0] + starboard, last[1]))  # fmt: skip
    return changed(design, well__profile=out)


def _inches(text):
    top, _, bottom = text.partition("/")
    return int(top) / int(bottom or 1)


def below_top(fit, index=0):
    """Return the smallest depth of a new hole's centre below the top edge, for a boat whose top is level between the holes."""
    depths = [sure(f.value) for f in check(fit.design).findings if f.check == "top_edge" and index in f.mounts]
    assert len(depths) == 4
    return min(depths)


def test_where_the_well_s_readings_are_less_sure_the_search_goes_on_with_more_room():
    """A well read to 5 mm: with the usual room each place is in doubt. One with more room is offered, and may be drilled."""
    design = changed(with_some_room(), spreads__well=5.0)
    offer = next(step for step in search(design) if isinstance(step, Fit))
    assert refusals(offer.design) == []


@pytest.mark.parametrize("number", [0, 1, 13])
def test_no_place_is_offered_whose_upper_holes_are_too_near_the_top(number):
    """1-3/4 in at least, common practice. In an earlier program nine of thirty such boats were offered less, down to 9/16 in.

    Each offer may be drilled: nothing of the motor is fouled, missing or in doubt.
    """
    rng = Random(f"fit {number}")
    design = random_design(rng, square=True)
    design = changed(design, mounts__0__upper_at=-rng.uniform(25, 60))
    offers = [*islice((step for step in search(design) if isinstance(step, Fit)), 3)]
    assert offers[0].fits
    for fit in offers:
        assert below_top(fit) == pytest.approx(-fit.upper_at, abs=1e-6)
        assert below_top(fit) >= 44.45 - 1e-6
        assert refusals(fit.design) == []


@pytest.mark.parametrize("now", [-25.0, -30.0, -40.0, -44.0])
def test_holes_that_were_too_near_the_top_move_to_the_advised_depth(now):
    """Not just to the least, though that is less of a move: 2 in first, where both clear alike."""
    for fit in (offers := fits(changed(deep(), mounts__0__upper_at=now)))[:1]:
        assert fit.upper_at == pytest.approx(-50.8)
        assert fit.drop == pytest.approx(203.2)
    assert all(below_top(fit) >= 44.45 - 1e-6 for fit in offers)


def test_holes_that_are_tight_below_the_top_may_stay_where_they_are():
    """1-7/8 in is between 1-3/4 and 2: the standard place before a moved one, and a deeper one is offered as well."""
    offers = fits(changed(deep(), mounts__0__upper_at=-1.875 * IN))
    assert offers[0].upper_at == -1.875 * IN
    assert any(below_top(fit) >= 50.8 - 1e-6 for fit in offers)


def test_a_high_bracket_not_yet_hung_goes_to_the_advised_depth():
    """`row` 0 only 1-7/8 in below the hook: what would be its usual place is tight, so the pair goes an eighth deeper."""
    design = changed(deep(), mounts__0__bracket__rows__row0_depth=1.875 * IN, mounts__0__upper_at=None, mounts__0__drop=None,
                     mounts__0__row=None)  # fmt: skip
    assert fits(design)[0].upper_at == pytest.approx(-50.8)


def test_under_an_uneven_top_the_nearer_hole_decides():
    """The top is 20 lower over the starboard hole: 2 in below that is 70.8 below the datum."""
    cut_out = ((-330, 60), (-330, 0), (120, 0), (120, -20), (330, -20), (330, 60))
    outline = ((-700, 60), *cut_out, (700, 60), (620, -420), (0, -520), (-620, -420))
    design = changed(deep(), transom__outline=outline, mounts__0__upper_at=-40.0)
    offers = fits(design)
    assert offers[0].fits
    assert offers[0].upper_at == pytest.approx(-70.8)
    assert all(below_top(fit) >= 44.45 - 1e-6 for fit in offers)


def test_a_miss_keeps_its_upper_holes_below_the_top_too():
    (miss,) = fits(replace(floor_at(changed(example_design(), mounts__0__upper_at=-20.0), 80.0), old_holes=()))
    assert not miss.fits
    assert below_top(miss) >= 44.45 - 1e-6


def test_old_upper_holes_are_used_again():
    """Two open holes as far apart as the bracket's upper ones, 6 mm to starboard and 4 mm lower than the pair is now."""
    design = deep()
    old = OldHole(name="old port", at=(6.0 - 163.5125, -54.8), diameter=12.7,
                  state="open", plug_diameter=None, reuse=True, drill=None)  # fmt: skip
    holes = (old, replace(old, name="old starboard", at=(6.0 + 163.5125, -54.8)))
    offers = fits(replace(design, old_holes=holes))
    used = next(fit for fit in offers if fit.reused)
    assert used.reused == ("old port", "old starboard")
    assert used.offset == pytest.approx(6.0)
    assert used.upper_at == pytest.approx(-54.8)
    assert "The upper bolts use old port and old starboard." in used.costs
    notes = [f for f in check(used.design).findings if f.check == "old_hole" and f.at.endswith(("old port", "old starboard"))]
    assert {finding.state for finding in notes} == {"note"}
    # Next to them there is too little wood for new ones.
    assert all(fit.reused or abs(fit.upper_at + 54.8) > 15 or abs(fit.offset - 6.0) > 15 for fit in offers)
    # Not far enough apart by 2 mm, they are of no use.
    apart = (replace(holes[0], at=(holes[0].at[0] - 2.0, -54.8)), holes[1])
    assert not [fit for fit in fits(replace(design, old_holes=apart)) if fit.reused]


def test_a_relieved_plate_is_over_the_rounded_corner():
    """An owner who measures closely and does not want other washers."""
    design = changed(demonstration("shallow-well-skiff"), spreads__well=0.5, spreads__tape=0.3, spreads__drill_angle=0.3)
    offers = fits(design, allowed=Leeway(washers=False))
    plated = next(fit for fit in offers if fit.hardware == "a relieved backing plate")
    plate = plated.design.mounts[0].lower_hardware.backing_plate
    assert 0 < plate.relief[0] <= 2 * plate.thickness
    assert plate.joins == ("lower port", "lower starboard")
    finding = check(plated.design).of("washer", "main motor / lower / plate")
    assert finding.value >= 2.0 - 1e-6
    # The drain tube is between the bolts: the backing plate is notched over it.
    assert len(plate.outline) == 8


def test_tilt_stays_within_the_brackets_play():
    """In a 13.5 mm hole 12 mm long a 12.7 mm bolt leans atan(0.8/12) = 3.81° at most; the seat allows 2.86°."""
    design = replace(floor_at(example_design(), 196.0), old_holes=())
    tilts = {fit.lower_tilt for fit in fits(design)}
    assert all(0.0 <= tilt <= min(math.degrees(math.atan(0.8 / 12)), 2.86) for tilt in tilts)


def test_bolts_that_lean_too_far_are_drilled_square():
    """10° is more than the bracket's hole lets a bolt lean, at any place of the holes."""
    first = fits(changed(deep(), mounts__0__upper_tilt=10.0))[0]
    assert first.design.mounts[0].upper_tilt == 0.0
    assert first.costs[0] == "The upper holes are drilled square to the face."


def test_a_taper_asks_for_wedges():
    """19 mm thicker 250 mm down: atan(19/250) = 4.35°, more than the 2.86° that a washer may sit off flat."""
    design = changed(deep(), transom__thickness__low=63.0)
    first = fits(design)[0]
    hung = first.design.mounts[0]
    assert hung.upper_hardware.wedge == hung.lower_hardware.wedge == pytest.approx(-math.degrees(math.atan(19 / 250)), abs=0.05)
    assert "Wedges of 4.3° under the inside washers of both lower bolts." in first.costs


def test_where_the_middle_is_taken_the_motor_moves_aside():
    """An open hole on each side, just where the upper pair would be at every height that the trade has for it."""
    design = deep()
    stake = OldHole(name="stake", at=(-163.5125, -50.8), diameter=20.0,
                    state="open", plug_diameter=None, reuse=False, drill=None)  # fmt: skip
    heights = (-30.0, -60.0, -90.0, -120.0, -150.0, -180.0, -210.0, -240.0)
    holes = tuple(replace(stake, name=f"stake {v:g}", at=(-163.5125, v)) for v in heights)
    first = fits(replace(design, old_holes=holes))[0]
    assert first.fits
    assert abs(first.offset) >= 6.0
    side = "starboard" if first.offset > 0 else "port"
    assert [cost for cost in first.costs if cost.startswith("The motor moves") and cost.endswith(f" to {side}.")]


@pytest.mark.parametrize("name", DEMONSTRATIONS[:3])
def test_an_offer_that_costs_something_has_an_advantage_over_each_cheaper_one(name):
    """Smaller or cut washers, a backing plate or other bolts, and nothing for it: the skiff was offered two of those."""
    design = demonstration(name)
    offers = fits(design)
    assert len({(fit.drop, fit.upper_at, fit.offset, fit.hardware, fit.lower_tilt, fit.row) for fit in offers}) == len(offers)
    now = design.mounts[0].upper_at
    for fit in offers:
        for cheaper in offers:
            if cheaper.level < fit.level and cheaper.design.mounts[0].upper_hardware == design.mounts[0].upper_hardware:
                more_holes = not set(fit.rows_left) <= set(cheaper.rows_left)
                kept = abs(fit.upper_at - now) < abs(cheaper.upper_at - now)
                deeper = fit.upper_at <= -50.8 + 1e-6 < cheaper.upper_at
                assert more_holes or kept or deeper or fit.reused != cheaper.reused, (fit.costs, cheaper.costs)


@pytest.mark.parametrize(("more", "above"), [(0.0, 0.0), (30.0, 12.0), (80.0, 62.0)])
def test_an_av_plate_that_is_too_high_is_said(more, above):
    """490 mm of transom and 508 of shaft: with the hook down -18, one hole up 19.05 cos(14°) = 18.5 more.

    The offer takes the hole that is nearest to the usual 0 to 25 mm. Above 2 in, 50.8 mm, it says so: common practice.
    """
    first = fits(changed(deep(), transom__height=490.0 + more))[0]
    assert first.plate_height == pytest.approx(above, abs=0.6)
    said_so = [cost for cost in first.costs if "higher than usual: expect it to suck air" in cost]
    words = "The AV plate is 2 7/16 in above the bottom, higher than usual: expect it to suck air."
    assert said_so == ([words] if more > 50 else [])


def test_a_motor_that_is_set_back_far_may_have_a_higher_av_plate():
    """1 in more for each foot of set-back, common practice: 30 in back, 2 1/2 to 3 1/2 in above the bottom is usual."""
    first = fits(changed(deep(), transom__height=590.0, mounts__0__set_back=762.0))[0]
    assert first.plate_height == pytest.approx(82.0, abs=0.6)
    assert not [cost for cost in first.costs if "higher than usual" in cost]


def test_a_usual_height_of_the_av_plate_comes_before_more_room():
    """Of all placements of equal cost, depth and hardware, the one in the usual range ranks first, however little its room."""
    ground = prepared(changed(demonstration("shallow-well-skiff"), transom__height=540.0), 0, Leeway())
    choices = sorted((choice for _, _, some in all_choices(ground, (0.0,)) for choice in some), key=lambda choice: choice.rank)
    alike: dict[tuple[float, ...], list[Candidate]] = {}
    for choice in choices:
        alike.setdefault((choice.high, choice.upper.moved + choice.lost, choice.upper.deep, choice.special), []).append(choice)
    assert max(len(group) for group in alike.values()) > 20
    for group in alike.values():
        off = [round(choice.off_usual) for choice in group]
        assert off == sorted(off)
    # More room alone, of the same place, is tried later or not at all.
    assert any(not choice.advised and later.advised for group in alike.values() for choice, later in pairwise(group))


def test_both_ends_of_each_free_stretch_are_tried():
    """An old hole at -90: the upper pair, now there, is free above and below it, as near as 0.1 mm to the zone's edges.

    20 mm across, it takes 10 + 6.75 of holes and 6.35 + 2.6 of wood: free above -64.3 and below -115.7.
    """
    old = OldHole(name="old hole", at=(163.5125, -90.0), diameter=20.0,
                  state="open", plug_diameter=None, reuse=False, drill=None)  # fmt: skip
    ground = prepared(replace(changed(deep(), mounts__0__upper_at=-90.0), old_holes=(old,)), 0, Leeway())
    heights = {upper.at for upper in uppers_of(ground, 0.0) if upper.kit.level == 0}
    assert max(at for at in heights if at < -90.0) == pytest.approx(-115.7, abs=0.11)
    assert min(at for at in heights if at > -90.0) == pytest.approx(-64.3, abs=0.11)


def test_a_thicker_bolt_that_the_bracket_takes_settles_a_clamp_that_is_too_much():
    """3/8-16 at 26 lb-ft is over its proof load, 1/2-13 at the same clamp is not: 0.0775 and 0.1419 in2 (ASME B1.1).

    The bracket's 13.5 mm hole takes it, since its close clearance hole is 17/32 in, 13.49 mm (ASME B18.2.8).
    """
    bare = half_inch_hardware()
    thin = replace(bare, bolt="3/8-16", hole=10.0, torque=35.0, washer=replace(bare.washer, inner=10.0))
    design = changed(deep(), transom__core_bears=40.0, mounts__0__upper_hardware=thin, mounts__0__lower_hardware=thin)
    offers = fits(design)
    assert [cost for cost in offers[0].costs if cost.startswith("Still to be settled")]
    assert offers[0].hardware == "the hardware as it is"
    thick = next(fit for fit in offers if not [cost for cost in fit.costs if cost.startswith("Still to be settled")])
    bolts = {hardware.bolt for hardware in (thick.design.mounts[0].upper_hardware, thick.design.mounts[0].lower_hardware)}
    assert "3/8-16" not in bolts
    assert not [f for f in check(thick.design).findings if f.check == "clamp" and f.state == "fouled"]
    # A bracket with a hole of 10 mm takes none.
    tight = changed(design, mounts__0__bracket__rows__diameter=10.0, mounts__0__bracket__lower__diameter=10.0)
    assert {fit.design.mounts[0].lower_hardware.bolt for fit in fits(tight)} <= {"3/8-16", "M10x1.5"}


def test_the_upper_pair_may_be_tilted_away_from_a_lip():
    """A lip that hangs 18 mm inside leaves the upper washers 2.8 mm. Tilted down 2.8°, they are 44 tan(2.8°) = 2.2 lower."""
    lip = Block(name="cap lip", outline=((-300, -18), (300, -18), (300, 0), (-300, 0)), stands_out=40.0)
    design = replace(floor_at(changed(example_design(), mounts__0__drop=203.2), 295.0), old_holes=(), inside_blocks=(lip,))
    kept = next(fit for fit in fits(design) if fit.upper_at == -50.8)
    assert kept.upper_tilt == kept.design.mounts[0].upper_tilt == -2.8
    assert [cost for cost in kept.costs if cost.startswith("The upper holes are drilled 2.8° down from square.")]
    straight = changed(kept.design, mounts__0__upper_tilt=0.0)
    washer = [sure(check(boat).of("washer", "main motor / upper port")).value for boat in (kept.design, straight)]
    assert washer[0] - washer[1] == pytest.approx(44 * math.tan(math.radians(2.8)), abs=0.1)
    assert all(fit.upper_tilt == 0.0 for fit in fits(design, allowed=Leeway(tilt=False)))


@pytest.mark.parametrize("side", ["port", "starboard"])
def test_a_wall_too_near_the_upper_bolts_is_said_to_go_further_out(side):
    """The wall is 16 to 26 mm from the upper hole's centre, and the washer needs 19 and its room."""
    port = ((-190, 0), (-180, -320), (300, -320), (320, 0))
    profile = port if side == "port" else tuple((-u, y) for u, y in reversed(port))
    design = changed(deep(), well__profile=profile)
    (miss,) = fits(design, allowed=Leeway(aside=False))
    by = said(miss.change, f"The well would have to be {{}} wider to {side}.")
    ways = (by, 0.0) if side == "port" else (0.0, by)
    assert fits(widened(design, *ways))[0].fits
    assert refusals(widened(miss.design, *ways)) == []
    less = tuple(max(0.0, way - IN / 16) for way in ways)
    assert refusals(widened(miss.design, *less)) != []


def test_a_well_too_narrow_and_too_shallow_needs_both():
    design = changed(deep(), well__profile=((-190, 0), (-180, -200), (180, -200), (190, 0)))
    (miss,) = fits(design)
    out = said(miss.change, "The well would have to be {} wider on each side.")
    down = said(miss.change, "The well's floor would have to be {} lower.")
    assert refusals(lowered(widened(miss.design, out, out), down)) == []
    assert refusals(widened(miss.design, out, out)) != []
    assert refusals(lowered(miss.design, down)) != []


def test_an_old_hole_in_the_way_of_the_upper_bolts_is_said_to_be_filled():
    """Open holes all the way down under the upper port bolt, none of them where a stretch between two would be wide enough."""
    old = OldHole(name="old hole", at=(-163.5, -50.0), diameter=20.0, state="open", plug_diameter=None, reuse=False, drill=None)
    holes = tuple(replace(old, name=f"old hole {number}", at=(-163.5, -50.0 - 44 * number)) for number in range(4))
    design = replace(deep(), old_holes=holes)
    (miss,) = fits(design, allowed=Leeway(aside=False))
    assert miss.change == "Fill old hole 0 with a plug 1 in across."
    filled = replace(old, name="old hole 0", state="plugged", plug_diameter=IN)
    assert refusals(replace(miss.design, old_holes=(filled, *holes[1:]))) == []
    assert fits(replace(design, old_holes=(filled, *holes[1:])))[0].fits


def test_an_obstacle_in_the_way_is_named():
    knee = Block(name="knee", outline=((100, -330), (150, -330), (150, -150), (100, -150)), stands_out=60.0)
    design = replace(deep(), inside_blocks=(knee,))
    (miss,) = fits(design)
    assert miss.change == "The knee would have to go."
    assert refusals(replace(miss.design, inside_blocks=())) == []


def test_the_search_shows_its_progress_and_can_be_stopped():
    steps = search(demonstration("shallow-well-skiff"))
    assert isinstance(next(steps), Progress)
    seen = [next(steps)]
    while not isinstance(seen[-1], Fit):
        seen.append(next(steps))
    done = [step.done for step in seen if isinstance(step, Progress)]
    assert done
    assert all(step.done <= step.total for step in seen if isinstance(step, Progress))
    steps.close()
    assert next(steps, None) is None


def test_a_motor_that_clamps_on_has_nothing_to_search_for():
    assert list(search(replace(example_design(), mounts=(clamp_on_mount(),)))) == []


def test_what_has_to_be_measured_first_is_named():
    with pytest.raises(Unmeasured, match=r"well\.fillet_radius"):
        fits(changed(example_design(), well__fillet_radius=None))


def test_any_reading_that_is_missing_is_named_or_not_needed():
    """Every eleventh number of the example, not measured: the search goes on without it, or says which it is."""
    design, named = example_design(), set[str]()
    for path in numbers_of(design)[::11]:
        try:
            lacking = put_path(design, path, None)
        except NonsenseError:
            continue
        try:
            assert all(fit.state in ("clear", "tight", "unknown") for fit in fits(lacking))
        except Unmeasured as missing:
            named.add(missing.key)
    assert len(named) > 3
    rooms = {"transom", "well", "inside_blocks", "outside_fittings", "old_holes", "mounts"}
    assert {key.split(".")[0] for key in named} <= rooms


def test_a_place_not_yet_decided_is_found():
    offers = fits(changed(deep(), mounts__0__upper_at=None, mounts__0__drop=None, mounts__0__offset=None, mounts__0__row=None))
    first = offers[0]
    assert (first.upper_at, first.offset, first.drop) == (-50.8, 0.0, 203.2)


@pytest.mark.parametrize("drag", [None, 7.5])
def test_a_thinner_bolt_gets_another_torque_and_no_drag_that_was_read_on_another_nut(drag):
    """7/16-14 for 1/2-13: stress areas 0.1063 and 0.1419 in2, so 40 N m of clamp become 40 * 0.7491 * 0.875 = 26.2."""
    design = changed(example_design(), mounts__0__lower_hardware__running_torque=drag,
                     mounts__0__lower_hardware__torque=40.0 + (drag or 0.0))  # fmt: skip
    mount = design.mounts[0]
    tried = kits(sure(mount.lower_hardware), mount.bracket, "lower", "in")
    thinner = next(kit for kit in tried if kit.hardware.bolt == "7/16-14")
    assert thinner.hardware.running_torque is None
    assert thinner.hardware.torque == pytest.approx(40 * 0.1063 / 0.1419 * 0.875, abs=0.06)


def test_a_cut_that_presses_too_hard_is_said():
    """The check's limit is for whole washers. A 38.1 mm washer, cut c below its centre and spread by 4 of skin, presses
    A + P 4 + 16 pi less the hole. 10.5 N/mm2 of it, 1.67 times, clamp at 1.778 mm of torque a newton: 30 lb-ft.
    """
    for torque, costs in ((47.5, 1), (30.0, 0)):
        design = changed(floor_at(example_design(), 225.0), mounts__0__lower_hardware__torque=torque)
        cut = next(fit for fit in fits(design) if fit.hardware == "washers cut flat")
        of_cut = [cost for cost in cut.costs if "cut flat the core allows" in cost]
        assert len(of_cut) == costs
        if of_cut:
            c = cut.design.mounts[0].lower_hardware.washer.flat_cut
            half, r = math.acos(c / 19.05), 19.05
            area = r * r * (math.pi - half + math.sin(half) * c / r) + 8 * r * (math.pi - half + math.sin(half)) + 16 * math.pi
            most = 1.67 * 10.5 * (area - math.pi / 4 * 13.5**2) * 1.778 / 1355.818
            assert of_cut == [f"With its lower washers cut flat the core allows {math.floor(most)} lb-ft of wrench torque. The "
                            "motor's manual comes first."]  # fmt: skip


def test_fits_aim_at_room_enough_to_be_drilled():
    """The worked example has room of 2.2 mm, advised 2: less than may be drilled. Whoever asks is offered more first."""
    design = example_design()
    offered = fits(design)
    first = offered[0]
    assert first.room is None or first.room >= ROOM_TO_DRILL - 1e-6
    assert all(fit.design.limits == design.limits for fit in offered)
    assert drillable(with_spreads(check(first.design))).answer == "yes"


@pytest.mark.parametrize(("bottom", "helps"), [(150.0, False), (190.0, True), (250.0, True)])
def test_a_floor_is_never_said_to_go_below_the_hulls_bottom(bottom, helps):
    """The search lowers the floor by up to 200 mm to say what would have to change; a hull's bottom stops it before.

    Along the face, which leans 14°, the bottom is bottom / cos(14°) down; what is said is rounded up to 1/16 in.
    """
    design = changed(floor_at(example_design(), 120.0), transom__height=bottom, transom__deadrise=0.0)
    (miss,) = fits(design)
    assert not miss.fits
    said = miss.change.split("would have to be ")
    assert (len(said) == 2) is helps
    if helps:
        lower = float(sum(map(_inches, said[1].split(" in ")[0].split()))) * IN
        assert 120.0 + lower - IN / 16 <= bottom / math.cos(math.radians(14)) + 1e-6


def test_choices_share_a_cause_only_where_they_share_what_it_rests_on():
    """All fouled by one place of the lower holes are refused together: a wrong key would drop a choice that is sound."""
    _, _, choices = next(all_choices(prepared(deep(), 0, Leeway()), (0.0,)))
    first = choices[0]
    higher = first._replace(upper=first.upper._replace(at=first.upper.at + 10.0), drop=first.drop + 10.0)
    deeper = first._replace(upper=first.upper._replace(at=first.upper.at - 10.0), drop=first.drop + 10.0)
    shared = [tuple(a == b for a, b in zip(_causes(first), _causes(other), strict=True)) for other in (higher, deeper)]
    # The upper place and its holes, the lower place and its holes; the hook and the hardware are the same in all.
    assert shared[0][:4] == (False, True, False, True)
    assert shared[1][:4] == (False, False, False, False)
    assert shared[0][4:] == shared[1][4:] == (True, True, True, False, False)


@pytest.mark.parametrize(("offset", "there"), [(30.0, True), (-30.0, False), (0.0, False)])
def test_old_holes_are_tried_where_the_motor_hangs_now_and_nowhere_else(offset, there):
    """A motor that hangs 30 mm to starboard of the middle, and two old holes as far apart as its upper ones."""
    old = OldHole(name="old port", at=(36.0 - 163.5125, -54.8), diameter=12.7,
                  state="open", plug_diameter=None, reuse=True, drill=None)  # fmt: skip
    holes = (old, replace(old, name="old starboard", at=(36.0 + 163.5125, -54.8)))
    design = replace(changed(deep(), mounts__0__offset=30.0), old_holes=holes)
    _, _, choices = next(all_choices(prepared(design, 0, Leeway()), (offset,)))
    assert any(choice.upper.reused for choice in choices) == there


def test_smaller_washers_do_not_depend_on_the_hole_in_the_present_ones():
    """For a 1/2 in bolt under a washer of 38.1 mm: published washers that are narrower, and never narrower than the nut."""
    mount = example_design().mounts[0]
    hardware = sure(mount.lower_hardware)
    unread = replace(hardware, washer=replace(hardware.washer, inner=None))
    listed, without = (
        [kit for kit in kits(each, mount.bracket, "lower", "in") if kit.level == PLAIN] for each in (hardware, unread)
    )
    assert listed
    assert all(hardware.inside_hexagon.corners <= kit.hardware.washer.outer < 38.1 for kit in listed)
    assert [kit.hardware.washer for kit in without] == [kit.hardware.washer for kit in listed]


@pytest.mark.parametrize("deeper", [0.0, 1.3, 2.6, 3.9, 60.0])
def test_washers_are_cut_no_nearer_to_their_centres_than_needed_by_half_a_millimetre(deeper):
    """From the nearest possible cut: half a millimetre more would leave too little room, or too little to cut off.

    A cut washer keeps its cut at least 0.5 mm within its rim.
    """
    design = floor_at(replace(example_design(), old_holes=()), 236.03 + deeper)
    mount = design.mounts[0]
    (kit,) = [each for each in kits(mount.lower_hardware, mount.bracket, "lower", "in") if each.level == CUT]
    before = kit.hardware.washer.flat_cut

    def room(cut):
        washer = replace(kit.hardware.washer, flat_cut=cut)
        hung = changed(design, mounts__0__lower_hardware=replace(kit.hardware, washer=washer))
        report = Reporter(hung)
        return min(sure(part_room(report, bolt, "washer")) for bolt in report.bolts if not bolt.upper)

    made = made_to_measure(changed(design, mounts__0__lower_hardware=kit.hardware), 0, kit).hardware.washer.flat_cut
    assert made >= before
    assert made == before or room(made) >= room_aimed_at(design) - 1e-6
    assert made + 0.5 > 38.1 / 2 - 0.5 + 1e-6 or room(made + 0.5) < room_aimed_at(design)
    assert made <= 38.1 / 2 - 0.5


def test_an_offer_names_each_reading_that_is_missing_before_anybody_may_drill():
    """Once each, in the words of the card; a reading that stops nothing is not among them."""
    design = changed(roomy(), well__length=None, mounts__0__bracket__lower__pad_thickness=None)
    ground = Ground(design, 0, (), frozenset(), Leeway(), Aim(0.0, 0.0))
    findings = check(design).findings
    said = list(_to_measure(ground, findings))
    missing = {f.missing for f in findings if f.state == "unknown" and f.stops == "always" and f.missing}
    assert missing
    assert sorted(said) == sorted(f"Still to be measured: {name_of(design, key)}." for key in missing)
    assert list(_to_measure(ground, check(roomy()).findings)) == []
