"""The outer washers against the bracket's slots and holes: widths worked by hand. Limits 1.5 and 1.85, our assumption."""

from __future__ import annotations

import pytest

from app.findings.findings_text import finding_lines
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.words import answer, findings_rows
from templates_out.drawing.marks import Circle
from templates_out.views.cut import cut_marks
from templates_out.views.face import face_marks
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import fit, work_rect
from tests.designs import IN, changed, example_design, roomy, sure

UPPER, LOWER = "main motor / upper port", "main motor / lower starboard"


def outer(washer, slot, **values):
    """Return a boat with room for all, its lower outer washers ``washer`` across, over a slot ``slot`` wide [mm]."""
    fields = {"mounts__0__lower_hardware__outside_washer__outer": washer, "mounts__0__bracket__lower__diameter": slot}
    return changed(roomy(), **(fields | values))


def finding_of(design, at=LOWER):
    return check(design).of("outer_washer", at)


@pytest.mark.parametrize(
    ("washer", "slot", "state"),
    [
        (20.0, 30.0, "fouled"),  # 0.667: as issue 13 saw it, the head pulls through
        (44.9, 30.0, "fouled"),  # 1.4967
        (45.0, 30.0, "tight"),  # 1.5 itself
        (55.4, 30.0, "tight"),  # 1.8467
        (55.5, 30.0, "clear"),  # 1.85 itself
        (17 / 16 * IN, 9 / 16 * IN, "clear"),  # 17/9 = 1.889: common practice for a slot of 9/16 in
    ],
)
def test_the_washer_is_checked_against_the_width_that_it_covers(washer, slot, state):
    finding = finding_of(outer(washer, slot))
    assert finding.value == pytest.approx(washer / slot, abs=1e-9)
    assert (finding.state, finding.unit, finding.least, finding.advised) == (state, "ratio", 1.5, 1.85)
    assert ("advised" in f"{finding.text} {finding.remedy}") == (state != "clear")


def test_the_upper_ones_are_checked_against_the_upper_holes_and_no_other_bolt_is_touched():
    design = changed(roomy(), mounts__0__bracket__rows__diameter=30.0)
    assert finding_of(design, UPPER).value == pytest.approx(34.9 / 30)
    assert finding_of(design).value == pytest.approx(34.9 / 13.5)


@pytest.mark.parametrize(("way", "part"), [("outside", "head"), ("before hanging", "head"), ("inside", "nut")])
def test_it_counts_whichever_way_the_bolt_goes_in(way, part):
    finding = finding_of(outer(20.0, 30.0, units="mm", mounts__0__lower_hardware__inserted_from=way))
    assert finding.state == "fouled"
    assert finding.text == (
        f"The outer washer of the lower starboard bolt is 20 mm across, over a slot 30 mm wide. The {part} could pull through."
    )
    assert finding.remedy == "Use a thick outer washer, at least 45 mm across; 56 mm is advised."  # 1.85·30 = 55.5, rounded up


def test_a_round_hole_is_called_a_hole():
    design = outer(22.0, 13.5, units="mm", mounts__0__bracket__lower__slots=((203.2, 203.2),))
    assert "over a hole 14 mm across; 25 mm is advised" in finding_of(design).text  # 1.85·13.5 = 24.975


@pytest.mark.parametrize("path", ["mounts__0__lower_hardware__outside_washer__outer", "mounts__0__bracket__lower__diameter"])
def test_a_missing_width_is_named_and_stops_the_holes(path):
    design = changed(roomy(), **{path: None})
    finding = finding_of(design)
    assert (finding.state, finding.value) == ("unknown", None)
    assert finding.text.startswith("The outer washer of the lower starboard bolt is not checked yet: lower ")
    assert any(reason.finding == finding for reason in drillable(check(design)).reasons)
    assert finding_of(design, UPPER).state == "clear"


def test_the_answer_and_the_paper_know():
    checked = with_spreads(check(outer(20.0, 30.0, units="mm")))
    assert answer(checked).sentence.startswith("Don't drill yet: the outer washer of the lower port bolt is 20 mm across")
    assert drillable(checked).answer == "no"
    assert drillable(with_spreads(check(outer(40.0, 20.0)))).answer == "yes"
    row = next(row for row in findings_rows(checked) if row.first.check == "outer_washer")
    assert (row.title, row.figure) == ("Outer washers of both lower bolts", "0.66 × the slot or hole")  # 0.667, rounded down


def test_its_line_lights_the_washer_in_face_and_cut():
    checked = check(outer(20.0, 30.0))
    line = next(line for line in finding_lines(checked) if sure(line.first).check == "outer_washer")
    assert line.part == "lower port outside washer:0"
    view = fit(work_rect(checked.design), 180.0, 180.0, 10.0)
    rings = [mark for mark in face_marks(checked, view, ViewFocus(0, line.part)) if mark.part == line.part]
    assert [type(ring) for ring in rings] == [Circle, Circle]
    assert rings[0].radius / rings[1].radius == pytest.approx(20 / 30)
    assert not [mark for mark in face_marks(checked, view, ViewFocus(0)) if mark.part == line.part]
    assert [mark for mark in cut_marks(checked, view, "port") if mark.part == line.part], "the cut draws it always"


def test_its_spread_comes_from_the_slot_that_was_measured():
    """A tape's 0.8 mm on the slot moves 40/20 by 40·0.8/20² = 0.08; a washer of a published size has no spread."""
    finding = with_spreads(check(outer(40.0, 20.0))).of("outer_washer", LOWER)
    assert sure(sure(finding).spread) == pytest.approx(0.08, abs=0.001)


def test_the_example_boat_is_clear():
    assert finding_of(example_design()).state == "clear"
