"""Nothing is copied from the judge: with another limit, and with a made-up check, zone, fit and ladder follow.

Each place is a shape's own point, so that no place is chosen by hand. Tolerance of a zone: 0.02 mm.
"""

from itertools import combinations, product
from random import Random

import pytest
import shapely
from msgspec.structs import replace

from geometry.decide.fit import fits
from geometry.decide.ladder import rungs
from geometry.decide.lowest import greatest_depth, lowest_plate
from geometry.decide.search_ground import Leeway
from geometry.design.boat import Block
from geometry.design.hardware import Spanner
from geometry.edits.edits import with_mount
from geometry.judge import check as checking
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS, IN_WELL, CheckKind
from geometry.judge.inside_room import inside
from geometry.judge.reporter import Outcome, Reporter
from geometry.judge.room_to_work import working_room
from geometry.solid.clearances import axes_gap
from geometry.solid.placed_bolts import bolts
from geometry.zones import pair_zone as zoning
from geometry.zones import pattern_zone as pattern_zoning
from geometry.zones.centred_motor import bodies_of, centred, longest_thread_end
from geometry.zones.pair_zone import pair_zone, zones
from tests.designs import changed, roomy, sure

TIGHTER = {  # each least limit, set so that some of what passed before fails
    "clearance": (14.0, 15.0),
    "edge_diameters": (6.0, 6.5),
    "wood_between_diameters": (3.0, 3.5),
    "top_edge": (60.0, 70.0),
}
CHECKS = {
    "clearance": ("washer", "nut", "socket", "thread_end", "neighbour"), "edge_diameters": ("edge",),
    "wood_between_diameters": ("old_hole",), "top_edge": ("top_edge",),
}  # fmt: skip
DEEP = 66.0  # mm: the made-up check wants each hole so far below the datum


def area(zone, grade="least"):
    return shapely.union_all([shapely.Polygon(patch.outline, patch.holes) for patch in getattr(zone, grade)])


def at(design, place):
    """The whole pattern of a boat, hung at a place (offset, upper_at)."""
    return with_mount(design, 0, offset=place[0], upper_at=place[1])


def fouled(design):
    return {finding.check for finding in check(design).findings if finding.state == "fouled"}


@pytest.mark.parametrize("name", TIGHTER)
def test_zone_ladder_and_fit_follow_a_limit(name):
    open_hole = {"at": (163.5, -95.0), "state": "open", "plug_diameter": None}  # below the upper starboard hole
    design = changed(roomy(), **{f"old_holes__0__{field}": value for field, value in open_hole.items()})
    tight = changed(design, **{f"limits__{name}": TIGHTER[name]})
    before, after = (area(zones(each).pattern) for each in (design, tight))
    assert after.difference(before).area < 1.0
    lost = before.difference(after).buffer(-0.05)
    assert lost.area > 10.0
    place = lost.representative_point().coords[0]
    assert not fouled(at(design, place))
    assert fouled(at(tight, place)) & set(CHECKS[name])
    mount = design.mounts[0]
    loose_state, tight_state = (
        next(rung.state for rung in rungs(at(each, place), 0) if (rung.drop, rung.row) == (mount.drop, mount.row))
        for each in (design, tight)
    )
    assert loose_state != "fouled"
    assert tight_state == "fouled"
    for fit in fits(tight)[:3]:
        assert fit.fits
        assert not fouled(fit.design)


@pytest.fixture
def made_up(monkeypatch):
    """A check of each bolt, with its area."""
    kind = CheckKind(
        key="made_up", title="{} hole below the rub rail", noun="depth below the rub rail", nouns="rub rail", family="room",
        place="top-edge", zone="bolt",
    )  # fmt: skip

    def look(report):
        for bolt in report.bolts:

            def say(bolt=bolt):
                return Outcome(-bolt.v, f"The {bolt.name} hole is behind the rub rail.", "Lower the bolts.")

            report.add("made_up", bolt.at, (DEEP, DEEP), "mm", (), (bolt.mount_index,), say)

    def below_rail(_, area):
        return area.intersection(shapely.box(-1e5, -1e5, 1e5, -DEEP))

    monkeypatch.setitem(CHECK_KINDS, "made_up", kind)
    monkeypatch.setattr(checking, "ROW_INDEPENDENT", (*checking.ROW_INDEPENDENT, look))
    monkeypatch.setitem(zoning.BOLT_AREAS, ("made_up",), below_rail)
    zoning._zones.cache_clear()
    yield
    zoning._zones.cache_clear()


def test_zone_ladder_and_fit_follow_a_made_up_check(made_up):
    design = roomy()  # its upper holes are 50.8 mm below the datum
    assert fouled(design) == {"made_up"}
    upper = area(pair_zone(design, 0, "upper"))
    assert upper.bounds[3] == pytest.approx(-DEEP, abs=1e-6)
    assert area(zones(design).pattern).bounds[3] == pytest.approx(-DEEP, abs=1e-6)
    assert {rung.state for rung in rungs(design, 0)} == {"fouled"}
    assert "made_up" in {rung.worst.check for rung in rungs(design, 0) if rung.worst is not None}
    offers = fits(design)
    assert offers
    assert all(fit.fits and fit.upper_at <= -DEEP + 1e-6 for fit in offers)
    assert not fouled(offers[0].design)


ASIDE = 40.0  # mm: the made-up check of a pattern wants its middle so far to starboard


@pytest.fixture
def made_up_pattern(monkeypatch):
    """A check of the whole pattern, with its area."""
    kind = CheckKind(
        key="made_up", title="Bracket clear of the rope locker", noun="room for the locker", nouns="locker", family="room",
        place="bearing", zone="pattern",
    )  # fmt: skip

    def look(report):
        for index, mount in enumerate(report.design.mounts):

            def say(mount=mount):
                return Outcome(mount.offset, "The bracket is in the locker's way.", "Move the motor.")

            report.add("made_up", mount.name, (ASIDE, ASIDE), "mm", (f"mounts.{index}.offset",), (index,), say)

    monkeypatch.setitem(CHECK_KINDS, "made_up", kind)
    monkeypatch.setattr(checking, "ROW_INDEPENDENT", (*checking.ROW_INDEPENDENT, look))
    def clear(_case, _grade, area):
        return area.intersection(shapely.box(ASIDE, -1e5, 1e5, 1e5))

    monkeypatch.setitem(pattern_zoning.PATTERN_AREAS, ("made_up",), clear)
    zoning._zones.cache_clear()
    yield
    zoning._zones.cache_clear()


def test_zone_ladder_and_fit_follow_a_made_up_check_of_a_pattern(made_up_pattern):
    design = roomy()
    assert fouled(design) == {"made_up"}
    zoned = zones(design)
    assert area(zoned.pattern).bounds[0] == pytest.approx(ASIDE, abs=1e-6)
    assert area(zoned.upper).bounds[0] < 0.0  # a bolt alone is asked nothing
    inside_ = area(zoned.pattern).representative_point().coords[0]
    assert not fouled(at(design, inside_))
    assert fouled(at(design, (ASIDE - 0.1, inside_[1]))) == {"made_up"}
    assert {rung.state for rung in rungs(design, 0)} == {"fouled"}
    assert not any(fit.fits and fouled(fit.design) for fit in fits(design))


def test_without_it_the_same_boat_fits_as_it_is():
    zoning._zones.cache_clear()
    assert not fouled(roomy())
    assert area(zones(roomy()).pattern).bounds[3] > -DEEP


def spanners_only(rng, design):
    """Return a boat whose nuts are all turned by ring spanners of any size, with a swing that they often lack."""
    hardware = {
        f"mounts__0__{pair}_hardware": replace(
            getattr(design.mounts[0], f"{pair}_hardware"), socket=None,
            spanner=Spanner(outer=26.0, thickness=12.0, swing=rng.choice((15.0, 30.0, 60.0, 100.0, 200.0)),
                            length=rng.uniform(60.0, 260.0), handle=rng.uniform(8.0, 20.0)),
        )
        for pair in ("upper", "lower")
    }  # fmt: skip
    return changed(design, **hardware)


def knees(rng):
    """Return two upright blocks in the well, somewhere about the starboard bolts."""
    middle = rng.uniform(110.0, 180.0)
    port, starboard = (middle - rng.uniform(24.0, 60.0), middle + rng.uniform(24.0, 60.0))
    return tuple(
        Block(name=name, outline=((u, -280.0), (u + 15.0, -280.0), (u + 15.0, -20.0), (u, -20.0)),
              stands_out=rng.choice((None, 6.0, 15.0, 40.0)))
        for name, u in (("port knee", port - 15.0), ("starboard knee", starboard))
    )  # fmt: skip


def a_boat(rng, square):
    """Return a boat with room for its pattern, whose bolts are near each other, and often two knees or a second motor."""
    design = spanners_only(rng, roomy(units="mm"))
    design = changed(
        design, old_holes=(), mounts__0__drop=rng.uniform(110.0, 203.2), well__fillet_radius=rng.choice((0.0, 12.0, 30.0)),
        mounts__0__upper_tilt=0.0 if square else rng.uniform(-6.0, 6.0),
        mounts__0__lower_tilt=0.0 if square else rng.uniform(-6.0, 6.0),
        transom__thickness__low=44.0 if square else rng.uniform(40.0, 50.0),
    )  # fmt: skip
    if rng.random() < 0.5:
        design = changed(design, inside_blocks=knees(rng))
    if rng.random() < 0.3:
        design = replace(design, mounts=(design.mounts[0], replace(design.mounts[0], name="kicker", offset=-330.0)))
    return design


def easily_turned(design):
    """Return a boat whose ring spanners hardly have to turn."""
    for pair in ("upper", "lower"):
        spanner = getattr(design.mounts[0], f"{pair}_hardware").spanner
        design = changed(design, **{f"mounts__0__{pair}_hardware__spanner": replace(spanner, swing=0.001)})
    return design


def swings(design, name=None):
    """Return the judge's findings of the first motor's ring spanners; of one bolt without its motor's other bolts."""
    report = Reporter(design)
    if name is not None:
        report.__dict__["bolts"] = tuple(bolt for bolt in bolts(design) if bolt.mount_index or bolt.name == name)
    working_room(report)
    return [finding for finding in report.findings if finding.check == "spanner" and finding.mounts == (0,)]


def spots(rng, zone, wide, count):
    """Return places in an area, most of them near the edge that the swing alone makes."""
    left, low, right, high = wide.bounds
    edge = shapely.boundary(zone).difference(shapely.boundary(wide).buffer(0.01)) if not zone.is_empty else zone
    for number in range(count):
        if number % 4 == 0 or edge.is_empty:
            yield rng.uniform(left, right), rng.uniform(low, high)
        else:
            spot, far = edge.interpolate(rng.uniform(0.0, edge.length)), rng.choice((0.1, 1.0, 6.0))
            yield spot.x + rng.uniform(-far, far), spot.y + rng.uniform(-far, far)


@pytest.mark.parametrize("seed", range(14))
def test_a_place_in_the_zone_is_one_where_each_spanner_turns(seed):
    """Each place in a zone passes the judge. One out by 0.05 mm or more lacks swing, but for the degree that is left out.

    The places that are looked at are in the zone of the same boat with a swing of 0.001°. Leaning bolts may lose more.
    """
    rng = Random(f"spanners {seed}")
    square, looked_at, limited = seed % 3 != 0, 0, False
    design = a_boat(rng, square)
    zoned, easy = zones(design), zones(easily_turned(design))
    for part, grade in product(("upper", "lower", "pattern"), ("least", "advised")):
        zone, wide = area(getattr(zoned, part), grade), area(getattr(easy, part), grade)
        assert zone.difference(wide.buffer(1e-6)).area < 1e-3
        limited = limited or zone.area < wide.area - 100.0
        for place in spots(rng, zone, wide, 80) if not wide.is_empty else ():
            spot = shapely.Point(place)
            if not (place[1] < -1.0 and wide.contains(spot)):
                continue
            if part == "pattern":
                judged, count = swings(at(design, place)), 4
            else:
                name = f"{part} {rng.choice(('port', 'starboard'))}"
                judged, count = swings(alone(design, name, place), name), 1
            assert len(judged) == count
            limits = [(f, f.least if grade == "least" else f.advised) for f in judged]
            if zone.contains(spot):
                assert all(f.value >= limit - 1e-6 for f, limit in limits), (part, grade, place)
            elif square and zone.distance(spot) > 0.05:
                looked_at += 1
                assert any(f.value < limit + 1.01 for f, limit in limits), (part, grade, place)
    assert looked_at or not (square and limited)



def alone(design, name, place):
    """Return a boat whose bolt of this name is at a place on the outer face; the other pair is anywhere."""
    rows, lower = design.mounts[0].bracket.rows, design.mounts[0].bracket.lower
    half = rows.half_spacing if name.startswith("upper") else lower.half_spacing
    upper_at = place[1] if name.startswith("upper") else -0.5
    drop = 50.0 if name.startswith("upper") else -0.5 - place[1]
    return with_mount(design, 0, offset=place[0] + (half if name.endswith("port") else -half), upper_at=upper_at, drop=drop)


def narrowing(rng):
    """Return a boat whose well is narrow at its floor, so that its ring spanners turn less the deeper they are."""
    half, depth = rng.uniform(150.0, 175.0), rng.uniform(250.0, 330.0)
    profile = ((-half - rng.uniform(10.0, 160.0), 0.0), (-half, -depth), (half, -depth), (half + rng.uniform(10.0, 160.0), 0.0))
    lean = 0.0 if rng.random() < 0.5 else rng.uniform(-6.0, 6.0)
    design = changed(
        spanners_only(rng, roomy(units="mm")), old_holes=(), well__profile=profile, mounts__0__lower_tilt=lean,
        well__fillet_radius=rng.choice((0.0, 12.0, 25.0)), well__floor_rise=rng.uniform(-5.0, 15.0),
    )  # fmt: skip
    return changed(design, mounts__0__lower_hardware__spanner__swing=rng.choice((150.0, 190.0, 210.0, 240.0)))


def sinks(design, depth, grade):
    """Return whether the judge lets the lower bolts be so deep, without the motor's upper bolts; and whether but for swing."""
    hung = with_mount(design, 0, upper_at=-1e-3, drop=depth - 1e-3, row=0)
    report = Reporter(hung)
    report.__dict__["bolts"] = tuple(bolt for bolt in bolts(hung) if not bolt.upper)
    inside(report)
    working_room(report)
    bad = {"fouled"} if grade == 0 else {"fouled", "tight"}
    failed = {f.check for f in report.findings if f.check in (*IN_WELL, "spanner") and f.state in bad}
    return not failed, failed <= {"spanner"}


def test_the_lowest_place_is_the_deepest_where_each_spanner_turns():
    """Against the judge at 0.001 mm below, and then at every 3 mm down to the outline's lowest point."""
    by_swing = 0
    for seed in range(16):
        rng = Random(f"narrowing {seed}")
        design, grade = narrowing(rng), seed % 2
        depth = greatest_depth(design, 0, design.limits.clearance[grade])
        bottom = -min(v for _, v in design.transom.outline)
        if depth is not None:
            assert sinks(design, depth, grade)[0]
        deeper = [2.0 if depth is None else depth + 0.001]
        while deeper[-1] < bottom - 2.0:
            deeper.append(deeper[-1] + 3.0)
        assert not any(sinks(design, place, grade)[0] for place in deeper), seed
        by_swing += sinks(design, deeper[0], grade)[1]
    assert by_swing > 6


def test_a_rung_agrees_with_the_check_where_no_wrench_turns():
    """A well that narrows: the deepest rungs are fouled for their swing alone, and no clear rung is below the lowest place."""
    design = changed(narrowing(Random("rungs 26")), mounts__0__lower_hardware__spanner__swing=200.0)
    lowest, seen = lowest_plate(design, 0), set()
    for rung in rungs(design, 0):
        checked = check(sure(rung.design))
        turned = [f for f in checked.findings if f.check == "spanner" and "lower" in f.at]
        bad = any(f.state == "fouled" for f in turned)
        assert not bad or rung.state == "fouled"
        seen.add(bad)
        if not any(f.state == "fouled" for f in checked.findings):
            assert rung.state != "fouled"
            assert lowest.least is not None
            assert rung.plate_height >= lowest.least - 1e-6
    assert seen == {True, False}


def test_find_a_fit_offers_only_places_where_each_spanner_turns():
    """In a well that narrows, no nut turns at the standard drop; each offer is higher, and there all of them do."""
    design = changed(narrowing(Random("rungs 26")), mounts__0__lower_hardware__spanner__swing=200.0, mounts__0__drop=203.2)
    assert fouled(design) == {"spanner"}
    as_it_is = Leeway(old_holes=False, washers=False, plate=False, bolts=False, tilt=False, aside=False)
    offers = [fit for fit in fits(design, 0, as_it_is) if fit.fits]
    assert offers
    for fit in offers:
        judged = swings(fit.design)
        assert len(judged) == 4
        assert all(f.value >= f.least - 1e-6 for f in judged)
        assert fit.drop - fit.upper_at <= greatest_depth(design, 0, 0.0) + 1e-4


@pytest.mark.parametrize("drop", range(160, 173, 2))
def test_the_quick_look_at_two_bolts_leaves_out_no_body_that_is_near(drop):
    """Both pairs lean to each other by 35 degrees: their sockets' far ends meet, though the exits are far apart."""
    design = roomy(mounts__0__drop=float(drop), mounts__0__upper_tilt=-35.0, mounts__0__lower_tilt=35.0)
    design = changed(design, mounts__0__bracket__lower__half_spacing=163.5125)
    case = centred(design, 0)
    pairs = ((a, b, *two) for a, b in combinations(case.hung, 2) for two in product(bodies_of(a), bodies_of(b)))
    nearest = min(axes_gap(*pair) for pair in pairs)
    assert abs(nearest) < 8.0
    left = pattern_zoning._gap_between_bolts(case, 1, shapely.box(0, 0, 1, 1))
    assert left.is_empty == (nearest < 2.0)


def test_no_place_of_a_bolt_has_a_longer_thread_end_than_the_longest():
    """On a tapered transom another stock length is chosen place by place. Every millimetre is tried; 1 mm is never reached."""
    design = changed(roomy(), transom__thickness__low=64.0)
    longest = sure(longest_thread_end(bolts(design)[0])).end
    ends = []
    for place in range(-350, -20):
        body = bolts(at(design, (0.0, float(place))))[0].body("thread_end")
        ends += [] if body is None else [body.end]
    assert longest - 1.0 < max(ends) <= longest + 1e-6
