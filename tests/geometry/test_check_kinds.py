"""One record a check: a made-up one is found everywhere, measured or not, and each real one leads to the manual."""

import json

import pytest
from msgspec.structs import replace

from app.commands.reports import check_json, check_text
from app.findings.findings_text import finding_lines
from app.help.manual_pages import manual
from app.help.manual_places import check_place
from assets import design_names, design_text
from geometry.design_text import from_text
from geometry.judge import check as checking
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS, CheckKind
from geometry.judge.drillable import drillable
from geometry.judge.findings import worst
from geometry.judge.reporter import Outcome, bolt_keys
from geometry.judge.words import answer, findings_rows
from geometry.solid.faces import need
from geometry.solid.placed_bolts import bolts
from templates_out.pages.shop.shop_findings import summary_lines, why
from tests.designs import changed, clamp_on_mount, example_design, roomy, twin_design
from tests.geometry.test_left_pilots import piloted
from tests.geometry.test_openings import beside_lower_starboard

KIND = CheckKind(
    key="made_up", title="Room for the {} cap", both="Room for both {} caps", noun="room for the cap", nouns="caps",
    family="room", place="gap-between-bolts",
)  # fmt: skip


@pytest.fixture
def made_up(monkeypatch):
    """A check that no boat has: the transom's height must be 500 mm, of which 600 are advised."""

    def look(report):
        for bolt in report.bolts:
            height = report.design.transom.height

            def say(bolt=bolt, height=height):
                return Outcome(need(height, "transom.height"), f"The {bolt.name} cap fits badly.", "Take another cap.")

            report.add("made_up", bolt.at, (500.0, 600.0), "mm", ("transom.height",), (bolt.mount_index,), say)

    monkeypatch.setitem(CHECK_KINDS, "made_up", KIND)
    monkeypatch.setattr(checking, "ROW_INDEPENDENT", (*checking.ROW_INDEPENDENT, look))


def test_a_made_up_check_is_found_everywhere(made_up):
    checked = check(changed(roomy(), transom__height=400.0))
    first = worst(checked.findings)
    assert first is not None
    assert (first.check, first.state, first.family, first.word) == ("made_up", "fouled", "room", "fouled")
    assert [row.title for row in findings_rows(checked)][:2] == ["Room for both upper caps", "Room for both lower caps"]
    assert answer(checked).sentence == "Don't drill here: the upper port cap fits badly."
    assert drillable(checked).reasons[0].text == "The upper port cap fits badly."
    assert "Room for both upper caps: " in check_text(checked)
    listed = json.loads(check_json(checked))["findings"][0]
    assert (listed["check"], listed["state"], listed["family"]) == ("made_up", "fouled", "room")
    assert check_place("made_up") == "findings#gap-between-bolts"
    cap = "The upper cap fits badly. Both are alike. Take another cap."
    assert any(text.startswith(cap) for _, text, _ in summary_lines(checked))
    assert why(checked).startswith("Fouled: room for both upper caps; room for both lower caps.")


def test_a_made_up_check_without_its_reading(made_up):
    checked = check(changed(roomy(), transom__height=None))
    line = next(line for line in finding_lines(checked) if line.first is not None and line.first.check == "made_up")
    assert (line.state, line.word, line.name) == ("unknown", "not checked", "Room for both upper caps")
    assert "room for the cap of the upper bolt is not checked yet: " in line.text
    assert drillable(checked).reasons[0].kind == "unknown"
    assert "not checked" in check_text(checked)
    assert any("These checks need it: caps." in text for word, text, _ in summary_lines(checked) if word == "not checked")


@pytest.mark.parametrize("stops", ["always", "over its limit", "never"])
def test_a_record_says_whether_its_check_keeps_holes_from_being_drilled(made_up, monkeypatch, stops):
    monkeypatch.setitem(CHECK_KINDS, "made_up", replace(KIND, stops=stops))
    for height, bad in ((400.0, stops != "never"), (None, stops == "always")):
        checked = check(changed(roomy(), transom__height=height))
        stopping = [reason for reason in drillable(checked).reasons if reason.kind in ("fouled", "unknown")]
        assert bool(stopping) == bad, height


def test_every_check_leads_to_a_paragraph_of_the_manual():
    page = next(page for page in manual() if page.name == "findings")
    assert {f"findings#{kind.place}" for kind in CHECK_KINDS.values()} <= page.places


def test_a_load_is_over_its_limit_and_never_fouled():
    torque = changed(example_design(), mounts__0__lower_hardware__torque=90.0)
    words = {finding.word for finding in check(torque).findings if finding.family == "load"}
    assert "over the limit" in words
    assert not words & {"fouled", "tight", "clear"}


def test_a_check_of_a_load_or_of_room_that_was_not_made_says_so():
    design = changed(example_design(), mounts__0__lower_hardware__torque=None, well__fillet_radius=None)
    missed = {finding.family: finding.word for finding in check(design).findings if finding.state == "unknown"}
    assert {missed["load"], missed["room"]} == {"not checked"}


def test_a_bolt_rests_on_its_own_pair_s_readings():
    upper, _, lower, _ = bolts(example_design())
    assert set(bolt_keys(upper)) == {
        f"mounts.0.{name}" for name in ("upper_at", "offset", "bracket.rows.half_spacing", "upper_tilt")
    }
    assert set(bolt_keys(lower)) == {
        f"mounts.0.{name}" for name in ("upper_at", "drop", "offset", "bracket.lower.half_spacing", "lower_tilt")
    }


def test_every_record_has_a_function_that_reports_it():
    boats = [from_text(design_text(name)) for name in design_names()]
    boats += [replace(example_design(), mounts=(clamp_on_mount(),)), twin_design()]
    boats.append(changed(example_design(), transom__rake=22.0))
    boats.append(changed(example_design(), mounts__0__lower_hardware__socket=None))  # a ring spanner turns the nuts
    boats.append(piloted(0.3))
    boats.append(beside_lower_starboard(40.0))
    assert {finding.check for boat in boats for finding in check(boat).findings} == set(CHECK_KINDS)


def test_several_parts_are_named_as_one_is_with_an_s():
    for kind in CHECK_KINDS.values():
        assert kind.parts in ("", f"{kind.part}s"), kind.key
