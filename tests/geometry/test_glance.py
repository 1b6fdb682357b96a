"""The findings at a glance: groups by what to do, equal ones together, loads as bars, and words for every check."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from assets import design_names, design_text
from geometry.design_text import from_text
from geometry.doubt.spreads import with_spreads
from geometry.edits.edits import with_mount
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import stops_the_paper
from geometry.judge.glance import GROUPS, Glance, glances
from geometry.judge.words import answer, findings_rows
from tests.designs import all_measured, changed, clamp_on_mount, example_design, twin_design

if TYPE_CHECKING:
    from geometry.design.design import Design

SKIFF = from_text(design_text("shallow-well-skiff"))
BOATS = [
    *(from_text(design_text(name)) for name in design_names()), twin_design(), example_design(),
    replace(example_design(), mounts=(clamp_on_mount(),)), changed(SKIFF, well__fillet_radius=None),
    changed(SKIFF, mounts__0__drop=230.0), changed(SKIFF, mounts__0__lower_hardware__torque=95.0),
    changed(SKIFF, mounts__0__lower_hardware__torque=None), changed(SKIFF, mounts__0__lower_hardware__torque=5.0),
]  # fmt: skip


def demonstration(name: str) -> Design:
    return from_text(design_text(name))


def of(lines: tuple[Glance, ...], group: str) -> list[tuple[str, str, str]]:
    return [(line.part, line.hit, line.figure) for line in lines if line.group == group]


def test_a_line_names_part_what_it_hits_and_figure() -> None:
    """The washers have a figure each; sockets and nuts that hit the same thing are one line with the worst of theirs."""
    lines = glances(check(with_mount(SKIFF, 0, drop=230.0)))
    assert of(lines, "change") == [
        ("Lower port washer", "overlaps the corner", "1 5/16 in"),
        ("Lower starboard washer", "overlaps the corner", "1 1/8 in"),
        ("2 sockets, 2 nuts", "overlap the corner", "13/16 in"),
        ("Both lower sockets", "have no room in front", "2 3/4 in"),
        ("2 lower thread ends", "overlap the floor", "5/16 in"),
    ]
    assert of(lines, "tight") == [("Both upper holes", "close to the inside edge", "3.1 diameters")]


def test_the_worst_of_equal_ones_speaks() -> None:
    checked = check(with_mount(SKIFF, 0, drop=230.0))
    line = next(line for line in glances(checked) if line.part == "2 sockets, 2 nuts")
    values = [finding.value for row in line.rows for finding in row.findings]
    assert len(values) == 4
    assert line.first.value == min(value for value in values if value is not None)


def test_checks_that_wait_for_one_reading_are_one_line_with_its_name() -> None:
    lines = glances(check(changed(SKIFF, well__fillet_radius=None)))
    assert of(lines, "measure") == [("Corner radius", "for 4 washers, 4 nuts, 4 sockets and 4 more", "")]


@pytest.mark.parametrize("design", BOATS)
def test_every_finding_is_in_one_line_and_in_the_group_of_what_to_do(design) -> None:
    for checked in (check(design), with_spreads(check(design))):
        lines = glances(checked)
        listed = [finding for line in lines for row in line.rows for finding in row.findings]
        assert sorted(map(repr, listed)) == sorted(map(repr, checked.findings))
        order = [list(GROUPS).index(line.group) for line in lines]
        assert order == sorted(order)
        for line in lines:
            for finding in (finding for row in line.rows for finding in row.findings):
                assert finding.state == line.state
                assert (line.group == "change") == (stops_the_paper(finding) and finding.state == "fouled")
                if line.group in ("clear", "loads", "tight"):
                    assert finding.state in ("clear", "tight")
                    assert not finding.doubtful or line.group == "loads"
                if finding.state == "clear" and not finding.doubtful:
                    assert line.group in ("clear", "loads")


@pytest.mark.parametrize("design", BOATS)
def test_no_line_is_without_words(design) -> None:
    """Each has a part, and says what is the matter with it by words, a figure or a bar. No template is left open."""
    keys = set()
    for line in glances(check(design)):
        assert line.part
        assert line.part[0].isupper() or line.part[0].isdigit()
        assert line.hit or line.figure or line.part in {row.title for row in line.rows}
        assert not {"{", "}"} & set(line.part + line.hit + line.figure)
        assert not line.figure.startswith("−") or not line.hit.startswith("overlap")
        keys.add((line.first.check, line.first.at))
    assert len(keys) == len(glances(check(design)))


def test_several_parts_take_a_verb_of_many() -> None:
    for design in BOATS:
        for line in glances(check(design)):
            verb = line.hit.partition(" ")[0]
            if line.part.startswith("Both ") or line.part[0].isdigit():
                assert not verb.endswith("s") or verb in ("close", "uses"), line.hit


def test_a_load_is_its_share_of_the_limit_rounded_up() -> None:
    """1.3306 times what the core supports, of 1.67 that it may have: 79.7 %, shown as 80. Advised is 1 of 1.67."""
    line = next(line for line in glances(check(SKIFF)) if line.part == "Torque on the core")
    assert line.bar is not None
    assert line.figure == "80 %"
    assert line.bar.share == pytest.approx((line.first.value or 0.0) / 1.67, abs=1e-12)
    assert line.bar.advised == pytest.approx(1 / 1.67, abs=1e-12)
    assert line.group == "loads"


def test_a_load_over_its_limit_must_change_and_names_its_pair() -> None:
    """After the washer that the answer names: a torque is changed more easily than a hole."""
    lines = glances(check(changed(SKIFF, mounts__0__lower_hardware__torque=95.0)))
    assert of(lines, "change")[:3] == [
        ("Lower port washer", "overlaps the corner", "1/4 in"),
        ("Torque on the core, lower", "", "186 %"), ("Torque on the bolts, lower", "", "153 %"),
    ]
    assert ("Torque on the core, upper", "", "80 %") in of(lines, "loads")


def test_a_torque_that_is_all_drag_has_no_bar() -> None:
    nut = changed(SKIFF, mounts__0__lower_hardware__torque=10.0, mounts__0__lower_hardware__running_torque=12.0)
    line = next(line for line in glances(check(nut)) if line.first.check == "clamp" and line.group == "change")
    assert (line.bar, line.hit) == (None, "nothing clamps")


def test_two_equal_motors_share_their_lines() -> None:
    lines = glances(check(twin_design()))
    assert ("4 upper holes", "close to the inside edge", "3.1 diameters") in of(lines, "tight")
    assert ("Torque on the core (each motor)", "", "100 %") in of(lines, "loads")


def test_what_is_in_doubt_is_measured_first() -> None:
    """Loads stay in their own group: the torque is chosen after the holes."""
    for boat in (SKIFF, demonstration("twin-motor-launch")):
        checked = with_spreads(check(all_measured(boat)))
        doubtful = [line for line in glances(checked) if line.doubt]
        assert [line for line in doubtful if line.bar is None]
        assert all(line.group == "loads" if line.bar else line.group in ("measure", "change") for line in doubtful)


def test_a_load_in_doubt_is_no_reason_to_measure_first() -> None:
    """The torque on the launch's core is at 93 % of its limit, in doubt by the inner skin. Its washers need the floor."""
    lines = glances(with_spreads(check(demonstration("twin-motor-launch"))))
    assert [line.group for line in lines if line.part == "Torque on the core (each motor)" and line.doubt] == ["loads"]
    assert lines[0].group == "measure"
    assert lines[0].part == "2 lower washers"


@pytest.mark.parametrize("design", BOATS)
def test_the_list_begins_its_group_with_what_the_answer_rests_on(design) -> None:
    for checked in (check(design), with_spreads(check(design))):
        rests_on, lines = answer(checked).finding, glances(checked)
        groups = [line.group for line in lines for row in line.rows if rests_on in row.findings]
        if rests_on is None:
            assert answer(checked).sentence.startswith(("It fits", "Nothing is", "It clamps on", "No motor"))
            continue
        begins = next(line for line in lines if line.group == groups[0])
        assert any(rests_on in row.findings for row in begins.rows)


def test_each_check_with_a_bar_has_limits_where_less_is_better() -> None:
    for design in BOATS:
        for row in findings_rows(check(design)):
            first = row.first
            if CHECK_KINDS[first.check].bar and first.least is not None and first.advised is not None:
                assert first.least >= first.advised > 0


def test_a_hole_that_misses_the_old_one_to_use_again_misses_it():
    """It does not overlap it: a hole 38 mm off was to be drilled into the old one."""
    hole = replace(example_design().old_holes[0], state="open", plug_diameter=None, reuse=True)
    lines = glances(check(replace(example_design(), old_holes=(hole,))))
    hits = [line.hit for line in lines if "old lower starboard" in line.hit]
    assert any(hit.startswith("misses ") for hit in hits), hits
    assert not any(hit.startswith("overlaps ") for hit in hits)
