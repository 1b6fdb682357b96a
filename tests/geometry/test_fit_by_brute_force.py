"""The search for a fit against a brute force: thirty boats, every place on a grid of 2 mm with the hardware as it is.

No place on the grid that may be drilled is cheaper than the first offer, in the order in which the offers are ranked.
"""

import math
from random import Random

import pytest
from msgspec.structs import replace

from geometry.decide.fit import search
from geometry.decide.offer import Fit
from geometry.decide.search_ground import Leeway
from geometry.design.boat import Block, OldHole
from geometry.judge.check import check, row_independent_findings
from geometry.solid.bracket_holes import plate_height
from tests.designs import changed, example_design, sure
from tests.geometry.test_fit import refusals

HOOK, PITCH, COUNT, SLOT = 50.8, 19.05, 5, (203.2, 279.4)  # the trade's four-bolt pattern, common practice
DEEP = 50.8  # 2 in below the top edge is advised
GRID = 2.0
ROOMY = 4.4  # with less, a place is seldom sure enough: so many are not looked at
LOOKED_AT = 5  # of the cheaper places


def boat(number):
    """Return one of the boats: wells from shallow to deep, narrow ones, lips, drain tubes and old holes among them."""
    rng = Random(f"brute force {number}")
    half, depth, slope = rng.choice((rng.uniform(184, 200), rng.uniform(200, 330))), rng.uniform(215, 300), rng.uniform(-12, 12)
    profile = ((-half - 20, 0), (-half, -depth - slope), (half, -depth + slope), (half + 20, 0))
    lip = rng.uniform(6, 26)
    blocks = []
    if rng.random() < 0.3:
        blocks.append(Block(name="cap lip", outline=((-170, -lip), (170, -lip), (170, 0), (-170, 0)), stands_out=40.0))
    if rng.random() < 0.4:
        u = rng.uniform(-110, 80)
        tube = ((u, -depth), (u + 35, -depth), (u + 35, -depth + 35), (u, -depth + 35))
        blocks.append(Block(name="drain tube", outline=tube, stands_out=30.0))
    holes = tuple(
        OldHole(name=f"old hole {at + 1}", at=(rng.choice((-1, 1)) * rng.uniform(110, 180), -rng.uniform(40, 270)),
                diameter=12.7, state=rng.choice(("open", "sealed")), plug_diameter=None, reuse=False, drill=None)
        for at in range(rng.choice((0, 1, 2)))
    )  # fmt: skip
    thick = rng.uniform(34, 60)
    design = changed(
        example_design(), transom__rake=rng.uniform(4, 16), transom__top_cut=rng.choice(("level", "square")),
        transom__thickness__top=thick, transom__thickness__low=thick, transom__height=rng.uniform(470, 540),
        well__profile=profile, well__fillet_radius=rng.choice((0.0, rng.uniform(3, 30))), well__floor_rise=rng.uniform(-3, 8),
        mounts__0__upper_at=-rng.uniform(45, 72), mounts__0__drop=rng.choice((203.2, 184.15, 165.1)), mounts__0__row=2,
    )  # fmt: skip
    return replace(design, inside_blocks=tuple(blocks), old_holes=holes)


def usable(at, drop):
    """Return the usable upper holes: hook not below the top, lower bolts in the slot."""
    return [row for row in range(COUNT)
            if at + HOOK + row * PITCH >= -1e-6 and SLOT[0] - 1e-6 <= row * PITCH + drop <= SLOT[1] + 1e-6]  # fmt: skip


def cost(home, at, left, height, special):
    """Return the cost of a place, smallest first.

    An AV plate above 2 in, then upper holes moved and lost, then less than 2 in below the top edge, then special hardware.
    A place higher than now counts three times as much as a deeper one, and two steps more above the advised depth.
    """
    away = (at - home) / PITCH
    moved = 0 if abs(away) < 1e-6 else math.ceil(-away) if away < 0 else 3 * math.ceil(away)
    moved += 2 if moved and at > -DEEP + 1e-6 else 0
    return height > 50.8 + 1e-6, moved + max(0, len(usable(at, SLOT[0])) - len(left)), at > -DEEP + 1e-6, special


def rooms(design):
    """Return for each pair whether it is sound alone, with a room of `ROOMY`, from one check of both."""
    good = {"upper": True, "lower": True}
    for finding in row_independent_findings(design):
        pair = finding.at.split(" / ")[1:2]
        if not pair or finding.check in ("clamp", "pressure"):
            continue
        narrow = finding.check in ("washer", "nut", "socket", "thread_end") and sure(finding.value) < ROOMY
        if finding.state in ("fouled", "unknown") or narrow:
            good[pair[0].split()[0]] = False
    return good


def cheapest(design):
    """Yield the places of the grid that have room, with their costs, the cheapest first."""
    home = sure(design.mounts[0].upper_at)
    uppers: dict[float, bool] = {}
    lowers: dict[float, bool] = {}
    heights = sorted((home + step * GRID for step in range(-18, 15) if home + step * GRID <= -44.45), reverse=True)
    depths = [home - SLOT[0] + step * GRID for step in range(-18, 45)]
    for number in range(max(len(heights), len(depths))):
        at, low = heights[number % len(heights)], depths[number % len(depths)]
        if at - low > 1.0:
            good = rooms(changed(design, mounts__0__upper_at=at, mounts__0__drop=at - low))
            uppers[at], lowers[low] = uppers.get(at, True) and good["upper"], good["lower"]
    places = []
    for at in (at for at, good in uppers.items() if good):
        for low in (low for low, good in lowers.items() if good):
            left = usable(at, at - low)
            for row in left:
                hung = changed(design, mounts__0__upper_at=at, mounts__0__drop=at - low, mounts__0__row=row)
                places.append((cost(home, at, left, plate_height(hung, 0), special=False), at, at - low, row))
    return sorted(places)


@pytest.mark.parametrize("start", range(0, 30, 5))
def test_nothing_cheaper_that_may_be_drilled_is_missed(start):
    fitted = 0
    for number in range(start, start + 5):
        design = boat(number)
        first = next(step for step in search(design, allowed=Leeway(aside=False)) if isinstance(step, Fit))
        places = cheapest(design)
        if first.fits:
            fitted += 1
            assert refusals(first.design) == [], number
            now, then = design.mounts[0], first.design.mounts[0]
            special = (now.upper_hardware, now.lower_hardware) != (then.upper_hardware, then.lower_hardware)
            special |= (first.upper_tilt, first.lower_tilt) != (0.0, 0.0)
            limit = cost(sure(now.upper_at), first.upper_at, first.rows_left, first.plate_height, special)
            places = [place for place in places if place[0] < limit]
        for price, at, drop, row in places[:LOOKED_AT]:
            hung = changed(design, mounts__0__upper_at=at, mounts__0__drop=drop, mounts__0__row=row)
            missed = not [f for f in check(hung).findings if f.state == "fouled"] and refusals(hung) == []
            assert not missed, (number, price, at, drop, row, first)
    assert fitted
