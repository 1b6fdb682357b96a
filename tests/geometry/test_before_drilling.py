"""The chance that the bracket will go on, before a hole is drilled."""

import pytest
from msgspec.structs import replace

from geometry.drilling.bracket_chance import SETS, WAYS, _sizes, advice, chances
from geometry.solid.faces import Unmeasured
from geometry.tables.fasteners import clearance_holes
from tests.designs import changed, clamp_on_mount, example_design, half_inch_hardware

NEAR = 3 * 0.5 / SETS**0.5  # three times the largest error of a share


def with_mount(**values):
    design = example_design()
    return changed(design, **{f"mounts__0__{path}": value for path, value in values.items()})


def mid_slot(hole=13.5, bracket=13.5):
    """Return the worked example an inch and a half down its slot, with other holes in boat and bracket."""
    return with_mount(
        row=4, upper_hardware__hole=hole, lower_hardware__hole=hole, bracket__rows__diameter=bracket,
        bracket__lower__diameter=bracket,
    )  # fmt: skip


def table_of(design):
    table = chances(design, 0)
    assert table is not None
    return table


def share(design, way, size):
    table = table_of(design)
    return table.shares[[each.name for each in WAYS].index(way)][table.sizes.index(size)]


def test_the_ways_and_sizes_are_those_of_the_bolt():
    table = table_of(example_design())
    assert table.sizes == pytest.approx((12.7, 13.5, 14.2875), abs=1e-6)  # 1/2 in, as planned for 17/32 in, 9/16 in
    assert [len(shares) for shares in table.shares] == [3] * len(WAYS)


def test_the_chances_of_the_trades_reading_of_its_table():
    """Our calculation: a 1/2 in bolt, bracket 17/32 in. 1/32 in of play in all for tight holes, 1/16 in for 17/32 in."""
    tight = mid_slot(hole=12.7, bracket=12.7 + 25.4 / 32)
    assert share(tight, "guide block", 12.7) == pytest.approx(0.62, abs=0.03)
    assert share(tight, "paper and punch", 12.7) == pytest.approx(0.15, abs=0.03)
    assert share(tight, "paper and punch", round(12.7 + 25.4 / 32, 6)) == pytest.approx(0.61, abs=0.03)
    assert share(tight, "freehand", round(12.7 + 25.4 / 32, 6)) == pytest.approx(0.29, abs=0.03)


def test_a_wider_hole_and_a_better_way_never_lower_the_chance():
    table = table_of(example_design())
    for shares in table.shares:
        assert list(shares) == sorted(shares)
    for column in zip(*table.shares, strict=True):
        assert all(after >= before - NEAR for before, after in zip(column, column[1:], strict=False))


def test_at_a_slots_end_the_chance_is_lower():
    """By hand: two pitches and this drop of 165.1 are 203.2, the slot's top end. Two pitches more are in the slot's middle."""
    at_end, mid = example_design(), with_mount(row=4)
    assert share(at_end, "paper and punch", 13.5) < share(mid, "paper and punch", 13.5) - 0.03


def test_through_the_bracket_only_the_upper_pair_can_go_wrong():
    """By hand: half of the difference of two holes' errors across, against the play. Up and down the bracket turns."""
    tight = mid_slot(hole=12.7, bracket=13.5)
    expected = 0.862  # of a normal value within 0.4 of 0, its spread 0.381 / sqrt(2)
    assert share(tight, "lower holes through the bracket", 12.7) == pytest.approx(expected, abs=0.03)


def test_lower_round_holes_that_are_planned_off_the_bracket_lower_the_chance():
    fixed = {"bracket__lower__slots": ((203.2, 203.2),)}
    assert share(with_mount(**fixed, drop=165.6), "guide block", 13.5) < share(with_mount(**fixed), "guide block", 13.5) - 0.03


def spread(**values):
    return replace(mid_slot(), spreads=replace(mid_slot().spreads, **values))


def test_the_advice_keeps_a_planned_size_that_is_likely_else_takes_the_smallest_and_the_plainest_way():
    best = advice(table_of(mid_slot()), 13.5)
    assert (best.way.name, best.size) == ("guide block", 13.5)
    assert best.chance == share(mid_slot(), "guide block", 13.5)
    tight = advice(table_of(mid_slot(hole=12.7)), 12.7)
    assert (tight.way.name, tight.size) == ("guide block", pytest.approx(13.49375))
    exact = spread(punched=0.01, freehand=0.01)
    best = advice(table_of(exact), 14.2875)
    assert (best.way.name, best.size) == ("paper and punch", 14.2875)
    assert advice(table_of(exact), None).size == 12.7
    assert advice(table_of(spread(punched=9.0, block=9.0)), 13.5) is None


def test_pairs_with_different_bolts_have_their_own_plays():
    """An upper hole that is as tight as its bolt, a loose lower one: less than both loose, more than both tight."""
    mixed = with_mount(row=4, upper_hardware__hole=12.7, lower_hardware__hole=14.0)
    tight, loose = (with_mount(row=4, upper_hardware__hole=size, lower_hardware__hole=size) for size in (12.7, 14.0))
    now = share(mixed, "paper and punch", 14.0)
    assert share(tight, "paper and punch", 12.7) + 0.03 < now < share(loose, "paper and punch", 14.0) - 0.03


def test_a_bracket_that_is_not_measured_says_what_is_missing_and_a_clamp_has_no_chances():
    with pytest.raises(Unmeasured) as missing:
        chances(with_mount(bracket__lower__diameter=None), 0)
    assert missing.value.key == "mounts.0.bracket.lower.diameter"
    assert chances(replace(example_design(), mounts=(clamp_on_mount(),)), 0) is None


def test_the_sizes_to_drill_are_each_pair_s_own():
    """A 3/8 in bolt above, 1/2 in below (9.525 and 12.7 mm): the play is half of what the hole is wider than its bolt."""
    hardware = half_inch_hardware(bolt="3/8-16", hole=10.5)
    mount = changed(example_design(), mounts__0__upper_hardware=hardware, mounts__0__lower_hardware__hole=15.0).mounts[0]
    listed = dict(_sizes(mount))
    close, normal = (getattr(clearance_holes("1/2-13"), fit) for fit in ("close", "normal"))
    upper = [getattr(clearance_holes("3/8-16"), fit) for fit in ("close", "normal")]
    wanted = {12.7: (0.0, 0.0), 15.0: ((10.5 - 9.525) / 2, 1.15)}
    wanted |= {size: ((up - 9.525) / 2, (size - 12.7) / 2) for size, up in zip((close, normal), upper, strict=True)}
    for size, plays in wanted.items():
        assert listed[round(size, 6)] == pytest.approx(plays, abs=1e-6)
