"""The drillable zones against the checks themselves, and against places reckoned by hand."""

import math
from random import Random

import pytest
import shapely
from msgspec.structs import replace

from geometry.design.sense import NonsenseError
from geometry.judge import wood
from geometry.judge.check import check
from geometry.judge.inside import inside
from geometry.judge.report import Reporter
from geometry.solid import zones as module
from geometry.solid.bolts import Bolt, bolts
from geometry.solid.frames import Unmeasured
from geometry.solid.zones import BOLT_CHECKS, PATTERN_CHECKS, Zone, zones
from tests.designs import changed, clamp_on_mount, example_design, random_design, twin_design

OUT = 0.05  # [mm]: what lies further out than this has to fail a check
GRADES = ("least", "advised")


def area_of(zone: Zone, grade: str):
    """Put a zone's patches together again."""
    return shapely.union_all([shapely.Polygon(p.outline, p.holes) for p in getattr(zone, grade)])


def passes(findings, names) -> dict[str, bool]:
    """Tell for the least and for the advised limits whether all findings of some checks pass."""
    states = {finding.state for finding in findings if finding.check in names}
    assert "unknown" not in states
    return {"least": "fouled" not in states, "advised": not states & {"fouled", "tight"}}


def bolt_passes(design, name, at) -> dict[str, bool]:
    """Put one bolt at a place on the outer face, and see what the checks say of it alone."""
    mount = design.mounts[0]
    half = (mount.bracket.rows if name.startswith("upper") else mount.bracket.lower).half_spacing
    offset = at[0] + (half if name.endswith("port") else -half)
    upper = at[1] if name.startswith("upper") else at[1] + 150.0
    try:
        moved = replace(design, mounts=(replace(mount, offset=offset, upper_at=upper, drop=150.0),))
    except NonsenseError:
        # The place of a lower bolt that would need an upper one above the datum: hang it so that the drop gives way.
        moved = replace(design, mounts=(replace(mount, offset=offset, upper_at=-1e-3, drop=-1e-3 - at[1]),))
    report = Reporter(moved)
    mount = moved.mounts[0]
    if mount.upper_hardware.backing_plate is None and mount.lower_hardware.backing_plate is None:
        # The check looks at the bolts that it finds here, and at no others. (A plate lies about two of them.)
        report.__dict__["bolts"] = tuple(bolt for bolt in bolts(moved) if bolt.name == name)
    inside(report)
    wood.wood(report)
    findings = [finding for finding in report.findings if name in finding.at and " and " not in finding.at]
    return passes(findings, BOLT_CHECKS)


def pattern_passes(design, at) -> dict[str, bool]:
    try:
        mount = replace(design.mounts[0], offset=at[0], upper_at=at[1])
    except NonsenseError:
        return {"least": False, "advised": False}
    return passes(check(replace(design, mounts=(mount, *design.mounts[1:]))).findings, PATTERN_CHECKS)


def exact(design) -> bool:
    """Whether the zone claims to be exact: bolts square to the inner face, thread ends hidden by sockets or all alike."""
    hung = bolts(design)
    no_taper = design.transom.thickness.top == design.transom.thickness.low
    hidden = all(bolt.hardware.socket is not None for bolt in hung)
    return all(abs(bolt.exit.lean) < 1e-12 for bolt in hung) and (no_taper or hidden)


def some_places(rng, area, count):
    """Return places in and about an area: half of them within 3 mm of its edge."""
    left, low, right, high = area.bounds if not area.is_empty else (-200, -300, 200, -20)
    found = []
    for number in range(count):
        if number % 2 or area.is_empty:
            found.append((rng.uniform(left - 20, right + 20), rng.uniform(low - 20, min(high + 20, -0.5))))
        else:
            line = area.boundary
            spot = line.interpolate(rng.uniform(0, line.length))
            turn, far = rng.uniform(0, 2 * math.pi), rng.choice((0.2, 1.0, 3.0)) * rng.random()
            found.append((spot.x + far * math.cos(turn), spot.y + far * math.sin(turn)))
    return [(u, v) for u, v in found if v < -2e-3]


def agreement(design, rng, count, found):
    """Hold zones against checks; ``found`` counts what was seen inside and outside."""
    told = zones(design)
    claims = exact(design)
    for part, zone in (("upper", told.upper), ("lower", told.lower), ("pattern", told.pattern)):
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
                    far = areas[grade].distance(shapely.Point(at))
                    assert not good[grade] or (not areas[grade].is_empty and far <= OUT), (part, grade, at, far)
            found[zone.holds(at), claims] = found.get((zone.holds(at), claims), 0) + 1


@pytest.mark.parametrize("seed", range(8))
def test_inside_passes_and_outside_fails_one(seed):
    """Ten thousand places over random designs: what lies within passes, what lies out by more than 0.05 mm fails."""
    found: dict[tuple[bool, bool], int] = {}
    for number in range(25):
        rng = Random(f"{seed} {number}")
        agreement(random_design(rng, square=number % 5 != 0), rng, 17, found)
    assert sum(found.values()) >= 1200
    assert found[True, True] > 100
    assert found[False, True] > 100
    assert found[True, False] > 10
