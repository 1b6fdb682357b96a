"""Nothing is copied from the judge: with another limit, and with a made-up check, zone, fit and ladder follow.

Each place is a shape's own point, so that no place is chosen by hand. Tolerance of a zone: 0.02 mm.
"""

import pytest
import shapely

from geometry.decide.fit import fits
from geometry.decide.ladder import rungs
from geometry.design.edits import with_mount
from geometry.judge import check as checking
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS, CheckKind
from geometry.judge.report import Outcome
from geometry.zones import pair_zone as zoning
from geometry.zones import pattern_zone as pattern_zoning
from geometry.zones.pair_zone import pair_zone, zones
from tests.designs import changed, roomy

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


def area(zone):
    return shapely.union_all([shapely.Polygon(patch.outline, patch.holes) for patch in zone.least])


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
