"""Spreads and chances against what is calculated by hand from one standard deviation of each reading."""

from __future__ import annotations

import math
import random
from collections import deque

import pytest
from msgspec.structs import replace

from assets import design_names, design_text
from geometry.design.boat import Block
from geometry.design.design import Reading
from geometry.design_text import from_text
from geometry.doubt.kept_bolt_lengths import with_lengths_kept
from geometry.doubt.one_reading_off import trials
from geometry.doubt.spreads import spreading, with_spreads
from geometry.edits.edits import with_mount
from geometry.judge.check import check, findings_of
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.readings.measures import measure
from geometry.readings.reading_spreads import CALIPERS
from geometry.solid.placed_bolts import bolts
from geometry.solving.solved import solved
from tests.designs import changed, example_design, random_design, sure, twin_design

LOWER = "main motor / lower port"


def still(design):
    """Return a design whose readings and holes are all exact."""
    spreads = design.spreads
    return replace(design, spreads=replace(spreads, **dict.fromkeys(spreads.__struct_fields__, 0.0)))


def read(design, key, value, state="measured", spread=None):
    reading = Reading(text="", value=value, from_="centre", how="tape", state=state, spread=spread, second=None)
    return replace(design, readings={**design.readings, key: reading})


def test_published_hardware_has_no_spread():
    finding = with_spreads(check(still(example_design()))).of("washer", LOWER)
    assert (finding.spread, finding.chance) == (0.0, 1.0)


@pytest.mark.parametrize(
    ("state", "own", "step"), [("measured", None, CALIPERS), ("guess", None, 1.0), ("measured", 0.25, 0.25)]
)
def test_a_washer_that_was_measured_has(state, own, step):
    """Its room falls by half of what it grows across: the spread is half a step, within 1e-6 mm."""
    key = "mounts.0.lower_hardware.washer.outer"
    finding = with_spreads(check(read(still(example_design()), key, 38.1, state, own))).of("washer", LOWER)
    assert finding.spread == pytest.approx(step / 2, abs=1e-6)


def test_the_skin_spreads_the_pressure():
    """Skin 4 with 0.5: p over 10.5 at 4.5 and 3.5, half the difference; within 1e-6."""
    design = read(still(example_design()), "transom.skin_inside", 4.0, spread=0.5)
    finding = with_spreads(check(design)).of("pressure", LOWER)
    force = 47_500 / (0.14 * 12.7)
    at = [force / (math.pi / 4 * ((38.1 + 2 * skin) ** 2 - 13.5**2)) / 10.5 for skin in (4.5, 3.5)]
    assert finding.spread == pytest.approx(abs(at[0] - at[1]) / 2, abs=1e-6)
    away = (1.67 - finding.value) / finding.spread
    assert finding.chance == pytest.approx(0.5 * (1 + math.erf(away / math.sqrt(2))), abs=1e-6)
    assert finding.text.endswith(". First measure inner skin again.")


@pytest.mark.parametrize(("power", "chance"), [(37.3, 1.0), (29.8, 1.0), (29.0, 0.0)])
def test_power_is_on_the_right_side_up_to_the_capacity_plate(power, chance):
    """29.8 kW: more than the capacity plate allows is wrong, and no reading by tape changes it."""
    finding = with_spreads(check(changed(example_design(), boat__plate__power_kw=power))).of("power", "boat")
    assert (finding.spread, finding.chance) == (0.0, chance)


def test_readings_that_move_a_value_are_listed_by_how_much_they_do():
    """A washer's room against the floor's depth, read to 3 mm, and its own size, to 0.5 mm by half: 3 against 0.25."""
    design = read(still(example_design()), "well.floor_port", 236.03, spread=3.0)
    design = read(design, "mounts.0.lower_hardware.washer.outer", 38.1, spread=0.5)
    checked = check(design)
    assert {finding.moved_by for finding in checked.findings} == {()}
    sure = with_spreads(checked)
    result = sure.of("washer", LOWER)
    assert result.moved_by == ("well.floor_port", "mounts.0.lower_hardware.washer.outer")
    assert result.doubtful
    assert result.text.endswith(". First measure floor depth at port again.")
    assert sure.of("washer", "main motor / upper port").moved_by == ()


def by_place(findings) -> dict[tuple[str, str], tuple[float | None, str]]:
    """Return values and states of findings by check and place."""
    return {(finding.check, finding.at): (finding.value, finding.state) for finding in findings}


@pytest.mark.parametrize("seed", range(8))
def test_a_reading_off_gives_what_a_whole_check_gives(seed):
    """A trial makes only the findings again that rest on its reading; all values and states are those of a whole check.

    Notes of unlikely readings aside: a trial is no reading.
    """
    design = (example_design(), twin_design())[seed] if seed < 2 else random_design(random.Random(seed))
    base = check(design)
    for trial in list(trials(design, design))[seed % 3 :: 3]:
        for tried in (trial.plus, trial.minus):
            again = findings_of(tried, base, worded=False)
            whole = tuple(each for each in check(tried).findings if each.check != "reading")
            assert by_place(again) == by_place(whole)


def test_a_drawn_shape_is_one_reading_with_one_error():
    """A lip 30 over the exit, drawn off by 1.5 as a whole: the nut's room moves by 1.5 up, by nothing across."""
    lip = Block(name="lip", outline=((-290, -70), (0, -70), (290, -70), (290, -60), (-290, -60)), stands_out=None)
    design = replace(still(example_design()), well=None, inside_blocks=(lip,))
    design = replace(design, spreads=replace(design.spreads, well=1.5))
    finding = with_spreads(check(design)).of("nut", LOWER)
    assert finding.spread == pytest.approx(1.5, abs=1e-6)
    assert finding.moved_by == ("inside_blocks.0.outline",)


def test_a_corner_that_was_read_by_itself_has_its_own_error():
    """A floor with a corner in its middle, 0.2 off at the left of it: the room there moves by that corner's share alone.

    The lower port hole is 125.4125 from the middle, which is 300 from the floor's port end: 125.4125/300 of 0.2.
    """
    profile = ((-320, 0), (-300, -236.03), (0, -236.03), (300, -236.03), (320, 0))
    design = changed(still(example_design()), well__profile=profile, inside_blocks=())
    finding = with_spreads(check(read(design, "well.profile.1.1", -236.03, spread=0.2))).of("nut", LOWER)
    assert finding.spread == pytest.approx(0.2 * 125.4125 / 300, abs=1e-3)
    drawn = replace(read(design, "well.fillet_radius", 12.0, spread=0.0), spreads=replace(design.spreads, well=0.2))
    assert with_spreads(check(drawn)).of("nut", LOWER).spread == pytest.approx(0.2, abs=1e-3)


def test_the_datums_edge_stays_where_a_drawn_transom_is_off():
    design = still(example_design())
    design = replace(design, spreads=replace(design.spreads, tape=0.8))
    moved = [trial.plus.transom.outline for trial in trials(design, design) if trial.key == "transom.outline"]
    assert [outline[2] for outline in moved] == [(-329.2, 0), (-330, 0)]
    assert [outline[7] for outline in moved] == [(0.8, -520), (0, -519.2)]


@pytest.mark.parametrize(("state", "off"), [("guess", True), ("measured", False)])
def test_a_guessed_top_thickness_keeps_the_taper_to_a_guessed_low_one(state, off):
    """A guess of 44 at the top and 50 low down stays 6 apart; a measured low one stays where it is. Within 1e-6 mm."""
    design = changed(still(example_design()), transom__thickness__top=44.0, transom__thickness__low=50.0)
    design = read(read(design, "transom.thickness.top", 44.0, "guess"), "transom.thickness.low", 50.0, state)
    trial = next(trial for trial in trials(design, design) if trial.key == "transom.thickness.top")
    for thickness in (trial.plus.transom.thickness, trial.minus.transom.thickness):
        assert thickness.top != 44.0
        assert thickness.low == pytest.approx(thickness.top + 6.0 if off else 50.0, abs=1e-6)


@pytest.mark.parametrize(("floor", "chance"), [(236.03, 0.5), (237.03, 0.841345), (235.03, 0.158655), (238.03, 0.977250)])
def test_a_clearance_s_chance_is_that_of_a_normal_error(floor, chance):
    """One spread more than the least is right in 84.13 of 100 cases, two are in 97.72: the normal distribution's own table.

    A level floor that was read to 1 mm, and the limit where the washer then is.
    """
    design = read(still(changed(example_design(), inside_blocks=())), "well.floor_port", 236.03, spread=1.0)
    least = check(design).of("washer", LOWER).value
    design = changed(design, limits__clearance=(least, least + 2.0))
    design = changed(design, well__profile=((-320, 0), (-300, -floor), (300, -floor), (320, 0)))
    assert with_spreads(check(design)).of("washer", LOWER).chance == pytest.approx(chance, abs=2e-3)


def lipped(**readings):
    """Return a boat with a lip under the nut that ends 1 mm short of it, known to 1 mm; the nut begins at 3 mm."""
    square = ((-140, -200), (-110, -200), (-110, -190), (-140, -190))
    design = replace(still(example_design()), inside_blocks=(Block(name="lip", outline=square, stands_out=2.0),))
    return read(design, "inside_blocks.0.stands_out", 2.0, **({"spread": 1.0} | readings))


def test_next_to_a_blocks_end_drawn_boats_give_the_chance():
    """The lip reaches the nut beyond one spread: in 15.87 of 100 boats, within 1. Differences alone would say 40 and more."""
    checked = check(lipped())
    room = checked.of("nut", LOWER).value
    finding = with_spreads(checked).of("nut", LOWER)
    assert finding.chance == pytest.approx(0.8413, abs=0.01)
    assert finding.spread > room / 3, "the room jumps, by more than any reading moves it"
    assert finding.moved_by == ("inside_blocks.0.stands_out",)
    assert finding.doubtful


def test_what_is_smooth_needs_no_drawn_boats(monkeypatch):
    """A plain floor: the differences of each reading give spread and chance, and nothing is drawn."""
    from geometry.doubt import chances

    def never(*_args, **_kept):
        raise AssertionError("boats were drawn")

    monkeypatch.setattr(chances, "drawing", never)
    with_spreads(check(read(still(example_design()), "well.floor_port", 236.03, spread=2.0)))
    with pytest.raises(AssertionError, match="boats were drawn"):
        with_spreads(check(lipped()))


def test_a_guessed_end_waits_until_it_is_measured(monkeypatch):
    """Its chance would be drawn, but the finding rests on the guess in any case."""
    from geometry.doubt import chances

    monkeypatch.setattr(chances, "drawing", None)
    finding = with_spreads(check(lipped(state="guess", spread=None))).of("nut", LOWER)
    assert "inside_blocks.0.stands_out" in finding.guesses


@pytest.mark.parametrize("name", design_names())
def test_of_ring_spanners_alone_the_chances_are_those_of_all_findings(name):
    """Without sockets a wrench's swing still has a spread: a search that leaves it out trusts it too much."""
    design = from_text(design_text(name))
    for index in range(len(design.mounts)):
        for pair in ("upper", "lower"):
            hardware = getattr(design.mounts[index], f"{pair}_hardware")
            spanner = replace(hardware.spanner, length=200.0, handle=20.0)
            design = with_mount(design, index, **{f"{pair}_hardware": replace(hardware, socket=None, spanner=spanner)})
    checked = check(design)
    *_, alone = spreading(checked, of_chance=True)
    every = with_spreads(checked).findings
    assert alone.findings == tuple(finding for finding in every if CHECK_KINDS[finding.check].by_chance)
    assert any(finding.check == "spanner" for finding in checked.findings)


@pytest.mark.parametrize("name", design_names())
def test_the_chances_alone_are_those_of_all_findings(name):
    """A search asks only for the findings that need a chance. Each is the same, and none is left out."""
    checked = check(from_text(design_text(name)))
    *_, alone = spreading(checked, of_chance=True)
    every = with_spreads(checked).findings
    assert alone.findings == tuple(finding for finding in every if CHECK_KINDS[finding.check].by_chance)
    assert {finding.check for finding in alone.findings} >= {"washer", "nut", "socket", "thread_end", "neighbour"}


def test_each_hole_is_off_up_and_across_and_along_nothing_else():
    """The bracket goes across as a whole; then each pair goes up or down alone, by one step, the same both ways."""
    design = still(example_design())
    design = replace(design, spreads=replace(design.spreads, mark=0.5))
    mount = design.mounts[0]

    def off(tried):
        hung = tried.mounts[0]
        lower = hung.upper_at - hung.drop - mount.upper_at + mount.drop
        return hung.offset - mount.offset, hung.upper_at - mount.upper_at, lower

    holes = [trial for trial in trials(design, design) if not trial.key]
    moved = [off(trial.plus) for trial in holes]
    step = moved[0][0]
    assert step > 0.0
    assert moved == [pytest.approx(each, abs=1e-9) for each in ((step, 0.0, 0.0), (0.0, step, 0.0), (0.0, 0.0, step))]
    back = [tuple(-by for by in off(trial.minus)) for trial in holes]
    assert back == [pytest.approx(each, abs=1e-9) for each in moved]


def test_a_bolt_that_is_bought_keeps_its_length_when_the_transom_is_thicker():
    """12 mm more wood: a bolt still to be chosen is at least 12 mm longer, one that is bought is as it was."""
    design = example_design()
    given = changed(design, mounts__0__upper_hardware__length=150.0)
    thick = {"transom__thickness__top": 56.0, "transom__thickness__low": 56.0}
    lengths = {bolt.name: bolt.length for bolt in bolts(design)}
    chosen = {bolt.name: bolt.length for bolt in bolts(changed(design, **thick))}
    assert all(chosen[name] >= length + 12.0 - 6.35 > length for name, length in lengths.items())
    assert {bolt.name: bolt.length for bolt in bolts(changed(with_lengths_kept(design), **thick))} == lengths
    assert with_lengths_kept(given).mounts[0].upper_hardware.length == 150.0
    unread = changed(design, transom__thickness__top=None)
    assert with_lengths_kept(unread) == unread


@pytest.mark.parametrize("name", design_names())
def test_some_findings_alone_have_the_chances_that_they_have_among_all(name):
    """Readings that move none of them are passed over. Chances are the same within 1e-12."""
    checked = check(from_text(design_text(name)))
    every = deque(spreading(checked, of_chance=True), maxlen=1).pop()
    for place in [(finding.check, finding.at) for finding in every.findings if finding.chance is not None][::7]:
        alone = sure(deque(spreading(checked, of_chance=True, only=frozenset({place})), maxlen=1).pop().of(*place))
        among = sure(every.of(*place))
        assert (alone.spread, alone.chance) == pytest.approx((among.spread, among.chance), abs=1e-12)
        assert (alone.guesses, alone.moved_by) == (among.guesses, among.moved_by)


def test_a_second_reading_moves_a_finding_that_rests_on_none_of_it():
    """The boat is then solved with all readings together, so that none is passed over."""
    row = sure(measure(example_design(), "well.second.diagonal"))
    design = row.set(example_design(), 665.0)
    assert solved(design) is not design
    place = ("nut", "main motor / lower port")
    every, alone = (
        deque(spreading(check(design), of_chance=True, only=only), maxlen=1).pop() for only in (None, frozenset({place}))
    )
    assert sure(alone.of(*place)).spread == pytest.approx(sure(every.of(*place)).spread, abs=1e-12)
