"""The drillable zones against the checks themselves, and against places calculated by hand."""

import math
from collections import Counter
from random import Random

import pytest
import shapely
from msgspec.structs import replace

from app.document.examples import demonstrations
from geometry.design.boat import Block
from geometry.design.hardware import BOLT_NAMES, BackingPlate, Socket, Spanner, Washer
from geometry.design.validity import NonsenseError
from geometry.judge import wood_around_holes
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.inside_room import inside
from geometry.judge.over_openings import over_openings
from geometry.judge.reporter import Reporter
from geometry.judge.room_to_work import is_turned_by_spanner, working_room
from geometry.solid.discs import Disc
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import bolts
from geometry.solid.well import space
from geometry.zones import pair_zone as module
from geometry.zones.centred_motor import centred
from geometry.zones.free_room import Stretch, free_of
from geometry.zones.pair_zone import Grade, Patch, Zone, zones
from geometry.zones.pattern_zone import PATTERN_AREAS, _onto
from tests.designs import changed, clamp_on_mount, example_design, mirrored, random_design, roomy, sure, twin_design

BOLT_CHECKS = tuple(kind.key for kind in CHECK_KINDS.values() if kind.zone == "bolt")
PATTERN_CHECKS = tuple(kind.key for kind in CHECK_KINDS.values() if kind.zone)
OUT = 0.05  # [mm]: what is further out than this has to fail a check
GRADES: tuple[Grade, ...] = ("least", "advised")


def area_of(zone: Zone, grade: str):
    """Put a zone's patches together again."""
    return shapely.union_all([shapely.Polygon(p.outline, p.holes) for p in getattr(zone, grade)])


def _state(finding) -> str:
    """Return a finding's state. Where only a ring spanner reaches, a socket has no room: to the zone it is fouled."""
    return "fouled" if finding.check == "socket" and finding.state == "note" else finding.state


def passes(design, findings, names) -> dict[str, bool]:
    """Return for the least and for the advised limits whether all findings of some checks pass.

    A ring spanner next to a socket only helps out where the socket is too long for its room: that is no zone's question.
    """
    turned = {bolt.at for bolt in bolts(design) if is_turned_by_spanner(bolt)}
    states = {_state(finding) for finding in findings
              if finding.check in names and (finding.check != "spanner" or finding.at in turned)}  # fmt: skip
    assert "unknown" not in states
    return {"least": "fouled" not in states, "advised": not states & {"fouled", "tight"}}


def with_bolt_at(design, name, at):
    """Put one bolt of the first motor at a place on the outer face; the others are anywhere."""
    mount = design.mounts[0]
    half = (mount.bracket.rows if name.startswith("upper") else mount.bracket.lower).half_spacing
    offset = at[0] + (half if name.endswith("port") else -half)
    upper = at[1] if name.startswith("upper") else at[1] + 150.0
    try:
        return replace(design, mounts=(replace(mount, offset=offset, upper_at=upper, drop=150.0),))
    except NonsenseError:
        # The place of a lower bolt that would need an upper one above the datum: hang it so that the drop is free.
        return replace(design, mounts=(replace(mount, offset=offset, upper_at=-1e-3, drop=-1e-3 - at[1]),))


def bolt_passes(design, name, at) -> dict[str, bool]:
    """Put one bolt at a place on the outer face, and see what the checks say of it alone."""
    # An old hole that is meant to be used asks something of the pattern, not of each bolt.
    design = replace(design, old_holes=tuple(hole for hole in design.old_holes if not hole.is_reused))
    moved = with_bolt_at(design, name, at)
    report = Reporter(moved)
    mount = moved.mounts[0]
    if mount.upper_hardware.backing_plate is None and mount.lower_hardware.backing_plate is None:
        # The check looks at the bolts that it finds here, and at no others. (A backing plate is about two of them.)
        report.__dict__["bolts"] = tuple(bolt for bolt in bolts(moved) if bolt.name == name)
    inside(report)
    wood_around_holes.wood(report)
    over_openings(report)
    by_itself = Reporter(moved)
    by_itself.__dict__["bolts"] = tuple(bolt for bolt in bolts(moved) if bolt.name == name)
    working_room(by_itself)
    every = (*report.findings, *by_itself.findings)
    findings = [finding for finding in every if name in finding.at and " and " not in finding.at]
    return passes(moved, findings, BOLT_CHECKS)


def pattern_passes(design, at) -> dict[str, bool]:
    try:
        mount = replace(design.mounts[0], offset=at[0], upper_at=at[1])
    except NonsenseError:
        return {"least": False, "advised": False}
    hung = replace(design, mounts=(mount, *design.mounts[1:]))
    return passes(hung, check(hung).findings, PATTERN_CHECKS)


def exact(design) -> bool:
    """Whether the zone claims to be exact: square bolts turned by sockets, thread ends hidden by sockets or all alike."""
    hung = bolts(design)
    if any(is_turned_by_spanner(bolt) for bolt in hung):
        return False
    no_taper = design.transom.thickness.top == design.transom.thickness.low
    hidden = all(bolt.hardware.socket is not None for bolt in hung)
    return all(abs(bolt.exit.lean) < 1e-12 for bolt in hung) and (no_taper or hidden)


def some_places(rng, area, count):
    """Return places in and about an area: half of them within 3 mm of its edge."""
    left, low, right, high = area.bounds if not area.is_empty else (-200, -300, 200, -20)
    places = []
    for number in range(count):
        if number % 2 or area.is_empty:
            places.append((rng.uniform(left - 20, right + 20), rng.uniform(low - 20, min(high + 20, -0.5))))
        else:
            line = area.boundary
            spot = line.interpolate(rng.uniform(0, line.length))
            turn, far = rng.uniform(0, 2 * math.pi), rng.choice((0.2, 1.0, 3.0)) * rng.random()
            places.append((spot.x + far * math.cos(turn), spot.y + far * math.sin(turn)))
    return [(u, v) for u, v in places if v < -2e-3]


def agreement(design, rng, counts, tally):
    """Check zones against checks; ``found`` counts the places, by whether they are inside and the zone claims to be exact."""
    zoned = zones(design)
    claims = exact(design)
    for part, zone, count in zip(("upper", "lower", "pattern"), (zoned.upper, zoned.lower, zoned.pattern), counts, strict=True):
        areas = {grade: area_of(zone, grade) for grade in GRADES}
        assert areas["advised"].difference(areas["least"]).area < 1e-6
        for at in some_places(rng, areas["least"], count):
            if part == "pattern":
                good = pattern_passes(design, at)
            else:
                good = bolt_passes(design, f"{part} {rng.choice(('port', 'starboard'))}", at)
            for grade in GRADES:
                within = zone.holds(at, grade)
                assert good[grade] or not within, (part, grade, at)
                if claims and not within:
                    far = math.inf if areas[grade].is_empty else areas[grade].distance(shapely.Point(at))
                    assert not good[grade] or far <= OUT, (part, grade, at, far)
            tally[zone.holds(at), claims] += 1


@pytest.mark.parametrize("seed", range(8))
def test_inside_passes_and_outside_fails_one(seed):
    """Ten thousand places over random designs: what is within passes, what is out by more than 0.05 mm fails.

    A check in a well with a corner that points into it takes twenty times as long: fewer such are looked at.
    """
    tally: Counter[tuple[bool, bool]] = Counter()
    number = 0
    while sum(tally.values()) < 1250:
        number += 1
        rng = Random(f"{seed} {number}")
        design = random_design(rng, square=number % 8 != 0)
        if space(design).convex:
            counts = (20, 20, 6) if exact(design) else (10, 10, 2)
        elif number % 3:
            continue
        else:
            counts = (3, 3, 1) if exact(design) else (2, 2, 0)
        agreement(design, rng, counts, tally)
    assert min(tally[within, claims] for within in (True, False) for claims in (True, False)) > 10


def room_about_socket(design, name, at):
    """Return the distance from a socket's axis to the nearest side of the well or of a block, at a place that passes [mm].

    A place passes where no check of the bolt is fouled: a ring spanner may do the socket's work. None where it does not pass.
    The distance is that in the well's sections, at each millimetre of the socket's length; 0 where its axis is in the way.
    """
    report = Reporter(with_bolt_at(design, name, at))
    report.__dict__["bolts"] = tuple(bolt for bolt in report.bolts if bolt.name == name)
    inside(report)
    wood_around_holes.wood(report)
    if any(finding.state == "fouled" and finding.check in BOLT_CHECKS for finding in report.findings):
        return None
    body, exit_ = sure(report.bolts[0].body("socket")), report.bolts[0].exit
    axis = shapely.Point(exit_.u, exit_.w)
    along = (min(body.start + step, body.end) for step in range(math.ceil(body.end - body.start) + 1))
    free = [report.space.section(n)._free for n in along]
    return min(each.boundary.distance(axis) if each.contains(axis) else 0.0 for each in free)


def boats_with_both_tools():
    """Yield the demonstration boats and drawn ones, square, each nut with a socket 36 across and a small ring spanner."""
    parts = {
        "spacer": None, "backing_plate": None, "socket": Socket(outer=36.0, length=40.0),
        "washer": Washer(outer=24.0, inner=14.8, thickness=3.0, flat_cut=None),
        "spanner": Spanner(outer=20.0, thickness=9.0, swing=15.0, length=60.0, handle=8.0),
    }  # fmt: skip
    sizes = {f"mounts__0__{pair}_hardware__{part}": size for pair in ("upper", "lower") for part, size in parts.items()}
    drawn = (random_design(Random(f"both tools {number}"), square=True) for number in range(16))
    boats = (replace(design, old_holes=(), mounts=design.mounts[:1]) for design in (*demonstrations().values(), *drawn))
    yield from filter(exact, (changed(design, **sizes) for design in boats))


def test_the_zone_leaves_out_no_more_than_the_places_of_a_ring_spanner():
    """A place that passes, but is out of the zone by more than 0.05 mm, is one that only a ring spanner reaches.

    There the socket's axis is nearer to an obstacle than its radius, 18 mm, and the least room.
    """
    by_spanner, boats = 0, 0
    for design in boats_with_both_tools():
        rng, zoned, boats = Random("places"), zones(design), boats + 1
        for pair in ("upper", "lower"):
            zone = getattr(zoned, pair)
            area = area_of(zone, "least")
            for at in some_places(rng, area, 40):
                if zone.holds(at) or area.distance(shapely.Point(at)) <= OUT:
                    continue
                near = room_about_socket(design, f"{pair} {rng.choice(('port', 'starboard'))}", at)
                if near is not None:
                    assert near < 18.0 + design.limits.clearance[0], (design.name, pair, at)
                    by_spanner += 1
    assert boats > 8
    assert by_spanner > 30


def random_top(rng):
    """Return an outline whose top is level, crowned, stepped, notched or sloping near the upper holes."""
    places = sorted({round(rng.uniform(-330, 330), 3) for _ in range(rng.choice((2, 4, 8, 16)))} - {0.0})
    heights = [rng.choice((rng.uniform(-30, 30), 0.0)) for _ in places]
    top = [*zip(places, heights, strict=True)]
    if rng.random() < 0.5:  # upright sides between level stretches
        top = [corner for (u, v), (_, before) in zip(top, [(0, 0.0), *top], strict=False) for corner in ((u, before), (u, v))]
    port, starboard = ([item for item in top if side * item[0] > 25.0] for side in (-1, 1))
    ring = ((-700, 40), *port, (-20, 0), (20, 0), *starboard, (700, 40), (620, -420), (0, -520), (-620, -420))
    return tuple(dict.fromkeys(ring))


@pytest.mark.parametrize("seed", range(3))
def test_the_zone_knows_the_top_edge_as_the_check_does(seed):
    """Uneven tops, and edge limits so low that the top edge's own limits bound the zone."""
    tally: Counter[tuple[bool, bool]] = Counter()
    bounded, number = 0, 0
    while number < 30:
        rng = Random(f"top {seed} {number}")
        number += 1
        design = random_design(rng, square=True)
        if not space(design).convex:
            continue
        limits = replace(design.limits, edge_diameters=(0.1, 0.2))
        try:
            design = replace(design, limits=limits, transom=replace(design.transom, outline=random_top(rng)))
        except NonsenseError:
            continue
        agreement(design, rng, (40, 6, 6), tally)
        free = replace(design, limits=replace(limits, top_edge=(0.0, 0.0)))
        bounded += area_of(zones(free).upper, "least").area > area_of(zones(design).upper, "least").area + 1000
    assert bounded > 3
    assert min(tally[True, True], tally[False, True]) > 20


def test_the_zone_ends_at_the_least_below_the_top_edge():
    """1-3/4 and 2 in below the cut-out, also 25.4 beyond its sides; from there on below the raised top, 60 higher."""
    bare = replace(example_design(), well=None, inside_blocks=())
    areas = zones(changed(bare, limits__edge_diameters=(0.0, 0.0), limits__clearance=(0.0, 0.0)))
    for grade, depth in zip(GRADES, (44.45, 50.8), strict=True):
        assert areas.upper.spans(0.0, grade)[-1][1] == pytest.approx(-depth, abs=1e-6)
        assert areas.upper.spans(330 - 25.39, grade)[-1][1] == pytest.approx(-depth, abs=1e-6)
        (_, low), (floor, high) = areas.upper.spans(330 + 25.39, grade)  # over the floor's level the floor counts no more
        assert (low, floor, high) == pytest.approx((-depth, 0.0, 60 - depth), abs=1e-6)
        assert areas.upper.spans(330 + 25.41, grade)[-1][1] == pytest.approx(60 - depth, abs=1e-6)


def test_the_example_calculated_by_hand():
    """A washer of 38.1 comes down to the rounded corner's end, and no lower.

    Inside top edge 44·tan 14° = 10.970 below the datum, floor 236.03 below that; corner of 90° + 14° - 3° = 101°. So the
    rounded corner of 12 reaches 12·cot 50.5° = 9.892 up the face: the land ends at 237.109. A washer's centre stays 19.05
    above it, 21.05 with the advised 2 mm. The holes are square in a transom without taper: on the outer face alike.
    Upward the top edge governs, 1-3/4 in = 44.45 down, against 10.970 + 1.5·12.7 = 30.020 from the inside edge. Of the
    advised limits, the edge distance on the inner face, 10.970 + 4·12.7 = 61.770, against 2 in.
    """
    areas = zones(example_design())
    edge = 44 * math.tan(math.radians(14))
    land = edge + 236.03 - 12 / math.tan(math.radians(101 / 2))
    for grade, room, wood_kept, top_kept in (("least", 0.0, 19.05, 44.45), ("advised", 2.0, 50.8, 50.8)):
        u, _, _, top = area_of(areas.lower, grade).bounds
        crossing = shapely.intersection(area_of(areas.lower, grade), shapely.LineString([(100, -400), (100, 0)]))
        assert crossing.bounds[1] == pytest.approx(-(land - 19.05 - room), abs=1e-6)
        # The whole washer is on the wood too: 19.05, and the room.
        assert top == pytest.approx(-max(top_kept, edge + max(wood_kept, 19.05 + room)), abs=0.02)
        assert u < -200


def test_the_pattern_hangs_between_the_hook_and_the_floor():
    """Drop 165.1: the lower washers clear by 2.16 mm at an upper depth of 50.8, so 0.16 mm are left to go down.

    Upward: `row` 2's hook may come down to the top, 50.8 + 2·19.05 = 88.9 below it; the edge distance comes first.
    """
    areas = zones(example_design())
    least = area_of(areas.pattern, "least")
    assert least.bounds[1] == pytest.approx(-(50.8 + 2.16), abs=0.01)
    assert areas.pattern.holds((0.0, -50.8))
    assert not areas.pattern.holds((0.0, -53.1))
    # Upper edges are tight where it hangs (3.14 diameters inside): nothing is advised.
    assert areas.pattern.advised == ()


def test_an_upper_backing_plate_stays_below_the_transoms_top():
    """It reaches 60 above the upper bolts of an upright transom: they are 60 below the top or more, and 62 with 2 to spare."""
    upper = BackingPlate(outline=((-195, -30), (195, -30), (195, 60), (-195, 60)), thickness=6.0, material="aluminium 5083",
                         relief=(0.0, 0.0), joins=BOLT_NAMES[:2])  # fmt: skip
    plated = roomy(transom__rake=0.0, mounts__0__upper_hardware__backing_plate=upper, old_holes=())
    for grade, room in (("least", 0.0), ("advised", 2.0)):
        area = area_of(zones(plated).pattern, grade)
        assert area.bounds[3] == pytest.approx(-60.0 - room, abs=0.02)
        assert area.bounds[2] == pytest.approx(-area.bounds[0], abs=0.02)


def test_a_zone_does_not_depend_on_where_the_pattern_hangs_now():
    design = example_design()
    moved = changed(design, mounts__0__offset=33.0, mounts__0__upper_at=-80.0)
    assert zones(moved) == zones(design)
    assert zones(changed(design, mounts__0__offset=None, mounts__0__upper_at=None)) == zones(design)


def test_an_open_old_hole_cuts_a_round_out_of_the_zone():
    """Half a diameter of wood at least: centres 0.5·12.7 + (13.5 + 12.7)/2 = 19.45 apart."""
    design = example_design()
    open_ = replace(design, old_holes=(replace(design.old_holes[0], state="open", at=(0.0, -150.0)),))
    cut = area_of(zones(design).lower, "least").difference(area_of(zones(open_).lower, "least"))
    assert cut.area == pytest.approx(math.pi * 19.45**2, rel=2e-3)
    assert cut.bounds == pytest.approx((-19.45, -169.45, 19.45, -130.55), abs=0.02)


def test_a_notched_backing_plate_and_a_waisted_bracket_are_taken_as_they_are():
    """A notch lets the backing plate stand over a block between the bolts; a waist lets the bracket pass a fitting."""
    design = example_design()
    plate = BackingPlate(
        outline=((-147, -22), (-103, -22), (-103, 35), (103, 35), (103, -22), (147, -22), (147, 60), (-147, 60)),
        thickness=6.35, relief=(0.0, 0.0), material="aluminium 5083", joins=("lower port", "lower starboard"),
    )  # fmt: skip
    waisted = ((-190, 0), (190, 0), (120, -150), (150, -350), (-150, -350), (-120, -150))
    design = changed(
        design, mounts__0__lower_hardware__backing_plate=plate, mounts__0__bracket__outline=waisted, old_holes=(),
        inside_blocks__0__outline=((-20, -236.03), (20, -236.03), (20, -190), (-20, -190)), mounts__0__drop=160.0,
        outside_fittings__0__outline=((135, -130), (300, -130), (300, -110), (135, -110)),
    )  # fmt: skip
    tally: Counter[tuple[bool, bool]] = Counter()
    agreement(design, Random("notched"), (10, 10, 120), tally)
    pattern = zones(design).pattern
    assert pattern.holds((0.0, -50.8))
    whole = changed(design, mounts__0__lower_hardware__backing_plate__outline=(*plate.outline[:2], *plate.outline[4:]))
    assert not zones(whole).pattern.holds((0.0, -50.8))


def test_another_motor_keeps_its_own_ground():
    design = twin_design()
    areas = zones(design, 0)
    assert areas.pattern.holds((-350.0, -50.8))
    assert not areas.pattern.holds((350.0, -50.8))


@pytest.mark.parametrize("seed", range(6))
def test_port_and_starboard_exchanged_give_the_mirrored_zone(seed):
    """Areas alike within what rounds are drawn with: 0.02 mm along their edges."""
    design = random_design(Random(f"mirror {seed}"))
    areas, other = zones(design), zones(mirrored(design))
    for zone, twin in ((areas.upper, other.upper), (areas.lower, other.lower), (areas.pattern, other.pattern)):
        flipped = shapely.transform(area_of(twin, "least"), lambda at: at * (-1.0, 1.0))
        area = area_of(zone, "least")
        assert flipped.symmetric_difference(area).area <= 0.04 * (area.length + flipped.length) + 1e-3


def test_stretches_straight_above_each_other():
    ring = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    hole = ((4.0, 4.0), (4.0, 6.0), (6.0, 6.0), (6.0, 4.0))
    zone = Zone((Patch(ring, (hole,)),), ())
    assert zone.spans(5.0) == ((0.0, 4.0), (6.0, 10.0))
    assert zone.spans(2.0) == ((0.0, 10.0),)
    assert zone.spans(11.0) == zone.spans(5.0, "advised") == ()
    assert not zone.holds((5.0, 5.0))
    assert zone.holds((5.0, 7.0))


def test_what_is_not_measured_is_named():
    with pytest.raises(Unmeasured, match=r"transom\.rake"):
        zones(changed(example_design(), transom__rake=None))


def test_a_bracket_without_bolts_has_no_zone():
    design = replace(example_design(), mounts=(clamp_on_mount(),))
    with pytest.raises(ValueError, match="no bolts"):
        zones(design)


def test_every_check_that_asks_of_a_bolt_or_a_pattern_has_its_area():
    """A check whose record names a zone, and that no area answers for, would leave the zone wrong."""
    assert {key for keys in module.BOLT_AREAS for key in keys} == {*BOLT_CHECKS, "neighbour"}
    only_patterns = {kind.key for kind in CHECK_KINDS.values() if kind.zone == "pattern"}
    assert {key for keys in PATTERN_AREAS for key in keys} >= only_patterns


@pytest.mark.parametrize(
    ("tilt", "off", "anywhere"), [(0.0, 0.0, True), (8.0, 0.0, False), (0.0, 0.5, False), (0.0, 0.3, True)]
)
def test_an_old_hole_that_another_motor_uses_on_both_faces_leaves_the_pattern_free(tilt, off, anywhere):
    """Its bolt of 12.7 goes through a hole of 13.5, so an old hole of 12.7 is used within 0.4 mm of it.

    A bolt that leans by 8 degrees comes out 44 tan 8° = 6.2 mm off the old hole, which is square to the face.
    """
    case = centred(changed(twin_design(), mounts__1__upper_tilt=tilt), 0)
    bolt = next(bolt for bolt in case.others if bolt.upper)
    hole = replace(example_design().old_holes[0], at=(bolt.u, bolt.v + off), state="open", diameter=12.7, reuse=True)
    area = _onto(hole, 0, case.hung, case.others)
    assert (area.area > 1e6) is anywhere
    alone = _onto(hole, 0, case.hung, ())
    assert 0.0 < alone.area < 4 * math.pi * 0.5**2


@pytest.mark.parametrize("lean", [-12.0, 0.0, 12.0])
@pytest.mark.parametrize(
    ("start", "end", "out"), [(0.0, 60.0, 100.0), (10.0, 60.0, 100.0), (0.0, 60.0, 30.0), (40.0, 60.0, 30.0)]
)
def test_a_disc_on_a_leaning_axis_keeps_off_a_block_on_its_whole_way(lean, start, end, out):
    """A disc of radius 20 with 2 mm of room, from ``start`` to ``end``; the block is there up to ``out``.

    Its centre rises by n·sin(lean). Places about the block against 400 places of the disc on its way; within 0.05 mm.
    """
    rng, lean = Random(7), math.radians(lean)
    block = Block(name="block", outline=((-20, -120), (20, -120), (20, -90), (-20, -90)), stands_out=out)
    inside_ = space(roomy(inside_blocks=(block,), well__floor_rise=0.0))
    (solid,) = inside_.blocks
    ring = shapely.Polygon([(u, w * math.cos(lean)) for u, w in solid.ring])
    free = free_of(inside_, lean, [Stretch(start, end, Disc(20.0))], 2.0)
    ways = [start + (min(end, out) - start) * number / 400 for number in range(401)] if start < out else []
    inside_count = 0
    for _ in range(300):
        u, h = rng.uniform(-60.0, 60.0), rng.uniform(-150.0, -50.0)
        apart = min((ring.distance(shapely.Point(u, h + n * math.sin(lean))) for n in ways), default=math.inf)
        if abs(apart - 22.0) > 0.05:
            assert free.contains(shapely.Point(u, h)) is (apart > 22.0), (u, h, apart)
            inside_count += apart < 22.0
    assert bool(inside_count) is bool(ways)
