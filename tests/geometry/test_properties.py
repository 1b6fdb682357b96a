"""Rules that are true of every design, with any numbers: tried on random ones."""

from __future__ import annotations

import contextlib
import math
import random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.design.boat import Thickness
from geometry.design.hardware import BOLT_NAMES, BackingPlate
from geometry.design.validity import NonsenseError
from geometry.design_text import fingerprint, from_text, to_text
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.findings import WORSE, Checked, state_of
from geometry.readings.measures import at_path, measures, put_path
from geometry.solid.clearances import body_clearance
from geometry.solid.placed_bolts import bolts
from geometry.solid.well import space
from tests.designs import SWAPPED, changed, designs, example_design, mirrored, numbers_of, random_design, sure, twin_design

few = settings(max_examples=20, suppress_health_check=[HealthCheck.too_slow])
BODIES = ("nut", "socket", "thread_end")
NOT_MEASURED_BUT_CHOSEN = ("stands_out", "flat_cut", "hardware.length", "plug_diameter")  # None has a meaning there


def rooms(checked: Checked, mirror: bool = False) -> dict[tuple[str, str], float | None]:
    def place(at: str) -> str:
        for name, other in SWAPPED.items():
            if name in at and mirror:
                return at.replace(name, other)
        return at

    return {(finding.check, place(finding.at)): finding.value for finding in checked.findings if finding.check != "neighbour"}


def same(value: float | None, other: float | None, within: float) -> bool:
    return value is other or (value is not None and other is not None and abs(value - other) < within)


def without_reuse(design):
    """Take out what names only the nearest bolt: of two equally near it names the one at port."""
    return replace(design, old_holes=tuple(replace(hole, reuse=False) for hole in design.old_holes))


@few
@given(designs(square=True))
def test_a_mirrored_boat_has_the_same_values(design):
    design = without_reuse(design)
    here, there = rooms(check(design)), rooms(check(mirrored(design)), mirror=True)
    assert here.keys() == there.keys()
    rough = {key: 0.01 for key in here if "plate" in key[1] or key[0] == "bearing"}
    within = {key: max(1e-6, rough.get(key, 0.0)) for key in here}  # all else are discs, and exact
    assert {key for key in here if not same(here[key], there[key], within[key])} == set()


@few
@given(designs(square=True))
def test_a_mirrored_boat_with_a_convex_well_has_the_same_clearances_to_the_last_digit(design):
    other = mirrored(design)
    if not space(design).convex:
        return
    twins = {str(bolt.name): bolt for bolt in bolts(other)}
    for bolt in bolts(design):
        for part in BODIES:
            body, twin = bolt.body(part), twins[SWAPPED[bolt.name]]
            if body is None or space(design).empty:
                continue
            before, after = body_clearance(space(design), bolt.exit, body), body_clearance(space(other), twin.exit, body)
            assert same(before, after, 1e-9)


@few
@given(designs(square=False))
def test_a_leaning_boat_mirrored_has_the_same_values_within_a_micrometre(design):
    design = without_reuse(design)
    here, there = rooms(check(design)), rooms(check(mirrored(design)), mirror=True)
    assert {key for key in here if not same(here[key], there[key], 1e-3)} == set()


@given(st.floats(-40.0, 40.0), st.floats(-12.0, 12.0), st.floats(0.0, 25.0), st.floats(-8.0, 25.0))
def test_moving_the_exit_down_by_x_lowers_the_floors_clearance_by_x_times_n_w(x, slope, radius, rise):
    """The floor tilted across by any angle: its normal's share along w is the cosine of that angle."""
    up = 300 * math.tan(math.radians(slope))
    design = changed(
        example_design(), inside_blocks=(), well__fillet_radius=radius, well__floor_rise=rise,
        well__profile=((-300, 0), (-300, -300 + up), (300, -300 - up), (300, 0)),
    )  # fmt: skip
    bolt = bolts(design)[2]
    for part in ("washer", *BODIES):
        at = space(design)
        low = replace_exit(bolt.exit, bolt.exit.w - 20)
        here = sure(body_clearance(at, low, sure(bolt.body(part))))
        there = sure(body_clearance(at, replace_exit(low, low.w - x), sure(bolt.body(part))))
        assert here - there == pytest.approx(x * math.cos(math.radians(slope)), abs=1e-9)


def replace_exit(exit_, w: float):
    return type(exit_)(exit_.u, w, w, exit_.s, exit_.along, exit_.lean)


@few
@given(designs(), st.floats(0.1, 15.0))
def test_a_larger_washer_never_clears_more(design, more):
    washer = design.mounts[0].lower_hardware.washer
    larger = put_path(design, "mounts.0.lower_hardware.washer", replace(washer, outer=washer.outer + more))
    here, there = check(design), check(larger)
    for side in ("port", "starboard"):
        before, after = (which.of("washer", f"main motor / lower {side}") for which in (here, there))
        assert after.value <= before.value + 1e-6


@few
@given(designs(square=True), st.floats(0.1, 8.0))
def test_a_larger_rounded_corner_never_clears_more(design, more):
    if design.well is None:
        return
    larger = changed(design, well__fillet_radius=design.well.fillet_radius + more)
    for bolt in bolts(design):
        for part in BODIES:
            body = bolt.body(part)
            if body is not None:
                there, here = (sure(body_clearance(space(boat), bolt.exit, body)) for boat in (larger, design))
                assert there <= here + 1e-6


@few
@given(designs(), st.floats(-30.0, 30.0))
def test_well_blocks_and_holes_shifted_together_clear_alike(design, down):
    """On parallel faces, everything inside measured from the datum: only the distance between holes and floor counts."""
    if design.well is None:
        return
    even = changed(design, transom__thickness=Thickness(top=44.0, low=44.0, low_at=-250.0), well__well_from="datum")

    def lower(points):
        return tuple((u, y - down) for u, y in points)

    moved = replace(
        even, well=replace(sure(even.well), profile=lower(even.well.profile)),
        inside_blocks=tuple(replace(block, outline=lower(block.outline)) for block in even.inside_blocks),
        mounts=(replace(even.mounts[0], upper_at=even.mounts[0].upper_at - down),),
    )  # fmt: skip
    for bolt, other in zip(bolts(even), bolts(moved), strict=True):
        for part in BODIES:
            body = bolt.body(part)
            if body is not None:
                before, after = (body_clearance(space(d), b.exit, body) for d, b in ((even, bolt), (moved, other)))
                assert same(before, after, 1e-6)


@few
@given(designs())
def test_a_check_never_raises_and_every_finding_makes_sense(design):
    checked = check(design)
    order = [WORSE.index(finding.state) for finding in checked.findings]
    assert order == sorted(order, reverse=True)
    assert len({(finding.check, finding.at) for finding in checked.findings}) == len(checked.findings)
    for result in checked.findings:
        assert result.check in CHECK_KINDS
        assert result.text.endswith(".")
        for number in (result.value, result.least, result.advised):
            assert number is None or math.isfinite(number)
        if result.value is not None and result.least is not None and result.advised is not None and result.state != "note":
            by_limits = state_of(result.value, result.least, result.advised)
            decided_otherwise = result.check in ("row", "seat", "old_hole")
            assert decided_otherwise or result.state == by_limits
        assert "nan" not in result.text
    assert checked.verdict in ("clear", "tight", "fouled")


@few
@given(designs())
def test_the_same_design_gives_the_same_findings(design):
    assert check(design).findings == check(from_text(to_text(design))).findings


@given(designs())
def test_save_then_load_is_equal(design):
    again = from_text(to_text(design))
    assert again == design
    assert to_text(again) == to_text(design)
    assert fingerprint(again) == fingerprint(design)


def same_finding(finding, other) -> bool:
    return (finding.value, finding.state, finding.text) == (other.value, other.state, other.text)


def lacking(design, path: str) -> None:
    """Hold that without one number the checks that need it say so, and the others say what they said."""
    before = {(finding.check, finding.at): finding for finding in check(design).findings}
    without = put_path(design, path, None)
    after = {(finding.check, finding.at): finding for finding in check(without).findings}
    for key, row in after.items():
        if row.state == "unknown":
            assert row.value is None
            assert "is not measured" in row.text
            assert row.remedy.startswith("Measure ")
        elif key in before:
            notes = row.check in ("height", "weight") and row.state == "note" and row.value is None
            assert same_finding(row, before[key]) or notes, f"{path}: {row.text}"
    gone = {check_ for check_, at in before.keys() - after.keys()}
    # Notes of bracket, old motor, persons and unlikely readings; a ring spanner that is there next to the socket; the pair,
    # or the bolt next to a hole to be reused, that is not known.
    assert gone <= {"bearing", "neighbour", "old_hole", "crowding", "weight", "motors", "reading", "spanner"}, path
    assert check(without).verdict in ("unknown", "fouled", "tight", "clear")


@pytest.mark.parametrize(
    "path", [*(p for p in numbers_of(example_design()) if not p.endswith(NOT_MEASURED_BUT_CHOSEN)), "transom.top_cut"]
)
def test_without_any_one_number_only_what_needs_it_is_unknown(path):
    lacking(example_design(), path)


@pytest.mark.parametrize("seed", range(8))
def test_without_any_one_number_of_random_boats(seed):
    rng = random.Random(seed)
    design = random_design(rng)
    paths = [path for path in numbers_of(design) if not path.endswith(NOT_MEASURED_BUT_CHOSEN)]
    for path in rng.sample(paths, 15):
        lacking(design, path)


@pytest.mark.parametrize(
    ("path", "unknown", "named"),
    [
        ("transom.rake", {"washer", "nut", "socket", "thread_end", "socket_room", "edge"}, "rake"),
        ("transom.top_cut", {"washer", "nut", "socket", "thread_end", "socket_room", "edge"}, "top cut"),
        ("transom.height", set(), None),
        ("well.fillet_radius", {"washer", "nut", "socket", "thread_end", "socket_room"}, "corner radius"),
        ("well.length", {"socket_room"}, "length forward"),
        ("mounts.0.row", {"row", "saddle", "bearing", "joint"}, "motor's height"),
        ("mounts.0.lower_hardware.wedge", {"seat"}, "lower wedge"),
        ("mounts.0.lower_hardware.hole", {"old_hole", "pressure"}, "lower hole"),
        ("mounts.0.lower_hardware.torque", {"clamp", "pressure", "joint"}, "lower wrench torque"),
        ("mounts.0.upper_hardware.running_torque", set(), None),
        ("transom.skin_inside", {"pressure"}, "inner skin"),
        ("mounts.0.power_kw", {"joint"}, "motor's power"),
        ("mounts.0.bracket.lower.pad_thickness", {"length", "shank", "thread_end", "neighbour"},
         "bracket thickness at the lower slots"),
        ("old_holes.0.at.0", {"old_hole"}, "old lower starboard, across"),
    ],
)  # fmt: skip
def test_which_checks_a_missing_number_makes_unknown(path, unknown, named):
    checked = check(put_path(example_design(), path, None))
    unknowns = [finding for finding in checked.findings if finding.state == "unknown"]
    assert {finding.check for finding in unknowns} == unknown
    assert all(named in finding.text for finding in unknowns)
    assert checked.verdict == ("unknown" if unknown else "tight")


def plated_design():
    """Return the worked example with one backing plate under all four bolts, which ends near each of them."""
    ring = ((-143.0, -104.0), (143.0, -104.0), (180.0, 104.0), (-180.0, 104.0))
    plate = BackingPlate(outline=ring, thickness=6.0, relief=(3.0, 6.0), material="aluminium 5083", joins=BOLT_NAMES)
    return changed(example_design(), inside_blocks=(), mounts__0__lower_hardware__backing_plate=plate)


@pytest.mark.parametrize("make", [example_design, twin_design, plated_design])
def test_a_finding_names_every_reading_that_moves_it(make):
    """Every measure shifted a little: a finding whose value moves rests on it, so that a guess of it is named."""
    design = make()
    before = {(finding.check, finding.at): finding for finding in check(design).findings}
    for measure in measures(design):
        now = measure.get(design)
        if now is None:
            continue
        for step in (0.31, -0.43) if measure.kind != "count" else (1, -1):
            try:
                moved = measure.set(design, now + step)
            except NonsenseError:
                continue
            for result in check(moved).findings:
                old = before.get((result.check, result.at))
                if old is None or same(old.value, result.value, 1e-9):
                    continue
                assert measure.key.startswith(old.rests), f"{old.check} of {old.at} does not name {measure.key}"


@pytest.mark.parametrize("seed", range(40))
def test_odd_numbers_never_make_a_check_raise(seed):
    """Up to four numbers of a boat changed wildly, as far as the design takes them: every value stays a number."""
    rng = random.Random(seed)
    design = rng.choice([example_design(), random_design(rng), twin_design()])
    for path in rng.sample(numbers_of(design), rng.choice((1, 2, 4))):
        now = at_path(design, path)
        odd = rng.choice((0.0, -now, now * rng.uniform(-3, 3), now + rng.uniform(-50, 50), now * 20, 1e-6))
        with contextlib.suppress(NonsenseError):
            design = put_path(design, path, odd if isinstance(now, float) else now)
    for finding in check(design).findings:
        assert finding.value is None or math.isfinite(finding.value)
        assert "nan" not in finding.text
