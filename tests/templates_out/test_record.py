"""The record for the next owner: the holes as drilled next to the plan, and blanks for what was not read."""

from __future__ import annotations

import datetime
from typing import Any

import pytest
from msgspec.structs import replace

from geometry.design.boat import Fitting
from geometry.design_text import fingerprint
from geometry.edits.edits import set_units
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.readings.drilled_readings import drilled_key, with_drilled
from geometry.solid.placed_bolts import bolts
from templates_out.drawing.marks import Line
from templates_out.drawing.transforms import text_box
from templates_out.pages.record.record_pages import record_pages
from templates_out.views.face import face_marks
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import fit, work_rect
from tests.designs import clamp_on_mount, roomy
from tests.geometry.test_as_drilled import drilled
from tests.templates_out.printed import BOATS, boat
from tests.templates_out.viewing import overlaps, texts

DAY = datetime.date(2026, 11, 25)


def said(design):
    pages = record_pages(check(design), DAY)
    return [text.text.replace("\N{NO-BREAK SPACE}", " ") for page in pages for text in texts(page.marks)]


def test_the_record_has_plan_and_holes_as_drilled_next_to_each_other():
    """By hand: the worked example's lower port hole is 125.4 mm to port and 215.9 down; here it is 5 mm lower."""
    lines = said(drilled(roomy(), lower_port=(1.0, -5.0), upper_starboard=(2.0, 0.0)))
    whole = " ".join(lines)
    assert "Record for the next owner" in lines
    assert {"outside, planned", "outside, as drilled", "inside, planned", "inside, as drilled"} <= set(lines)
    assert "4-15/16 in port, 8-1/2 in down" in whole
    assert "4-29/32 in port, 8-11/16 in down" in whole
    assert "Ease the upper starboard hole by 1/32 in towards port, with a round file." in whole
    assert "□" not in whole
    assert {"Old holes, and holes for cables", "Bolts and torque", "Under the sealant", "old lower starboard"} <= set(lines)


def test_what_was_not_read_is_a_blank():
    whole = drilled(roomy())
    part = tuple(replace(each, inner=(None, None)) if each.hole == "lower port" else each for each in whole.as_drilled)
    blanks = sum(line.count("____________") for line in said(whole))
    assert sum(line.count("____________") for line in said(replace(whole, as_drilled=part))) == blanks + 1


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_nothing_overlaps_or_leaves_the_page(units, paper):
    pages = record_pages(check(set_units(drilled(roomy(), lower_port=(1.0, -5.0)), units)), DAY, paper)
    assert len(pages) == 1
    for page in pages:
        assert not overlaps(texts(page.marks))
        for text in texts(page.marks):
            assert all(13 <= x <= page.width - 13 and 13 <= y <= page.height - 13 for x, y in text_box(text)), text.text


def test_the_picture_has_a_turned_cross_at_each_hole_that_was_read():
    pages = record_pages(check(drilled(roomy())), DAY)
    crosses = [mark for page in pages for mark in page.marks if isinstance(mark, Line) and mark.part.startswith("drilled ")]
    assert len(crosses) == 2 * 4


@pytest.mark.parametrize("name", BOATS)
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_before_anything_is_entered_it_has_the_plan_and_blanks_on_one_page(name, paper):
    """Each hole has its plan, and four blanks: its two ends as drilled, its diameter, and what it was read with."""
    design = boat(name)
    (page,) = record_pages(check(design), DAY, paper)
    lines = [text.text for text in texts(page.marks)]
    assert any(f"design {fingerprint(design)}" in line for line in lines)
    assert lines.count("____________") >= 2 * len(bolts(design))
    assert not any("Whether the bracket goes on" in line for line in lines)
    assert not overlaps(texts(page.marks))


def test_a_boat_without_bolts_has_no_record():
    with pytest.raises(OwnerError, match="No motor is bolted to this boat"):
        record_pages(check(replace(roomy(), mounts=(clamp_on_mount(),))), DAY)


@pytest.mark.parametrize(("field", "figure"), [
    ("outer.0", "4 29/32 in"), ("outer.1", "8 11/16 in"), ("inner.0", "4 29/32 in"), ("inner.1", "8 1/4 in"), ("diameter", ""),
])  # fmt: skip
def test_a_reading_with_the_focus_has_its_dimension_on_the_face(field, figure):
    """By hand: 1 mm to starboard and 5 mm down of 125.4 to port, 215.9 down and, from the inside edge, 204.9 down."""
    design = drilled(roomy(), lower_port=(1.0, -5.0))
    view = fit(work_rect(design), 180.0, 66.0)
    key = drilled_key(0, "lower port", field)
    marks = face_marks(check(design), view, ViewFocus(mount=0, lit=key), "screen")
    lit = [text.text.replace("\N{NO-BREAK SPACE}", " ") for text in texts(marks) if text.part == f"measure:{key}"]
    assert lit == ([figure] if figure else [])
    bare = face_marks(check(with_drilled(roomy(), 0)), view, ViewFocus(mount=0, lit=key), "screen")
    assert [text.text for text in texts(bare) if text.part == f"measure:{key}"] == (["?"] if figure else [])


def test_a_hole_of_which_one_end_was_read_still_says_how():
    """Its other end is a blank. Of a hole that was not read at all, the way is a blank too."""
    whole = drilled(roomy())
    how = whole.as_drilled[0].how
    for outer, inner in ((None, 1), (1, None)):
        part = tuple(replace(each, outer=each.outer if outer else (None, None), inner=each.inner if inner else (None, None))
                     for each in whole.as_drilled)  # fmt: skip
        assert said(replace(whole, as_drilled=part)).count(how) == said(whole).count(how) == 4
    none = tuple(replace(each, outer=(None, None), inner=(None, None)) for each in whole.as_drilled)
    assert said(replace(whole, as_drilled=none)).count(how) == 0


def rows_of(design):
    """Return the texts of each row of old holes, by its first text, read along its line."""
    (page,) = record_pages(check(design), DAY)
    rows: dict[float, list[str]] = {}
    for text in sorted(texts(page.marks), key=lambda text: text.at[0]):
        rows.setdefault(round(text.at[1], 2), []).append(text.text.replace("\N{NO-BREAK SPACE}", " "))
    return {row[0]: row for row in rows.values()}


def test_a_hole_that_a_bolt_uses_and_one_for_a_cable_are_never_filled():
    """A blank "filled with" is only where something is filled: at the plugged and at the open hole that nothing uses."""
    kinds: dict[str, dict[str, Any]] = {
        "old upper port": {"at": (-163.5125, -50.8), "reuse": True}, "old lower port": {"at": (-125.4, -254.0)},
        "old cable hole": {"at": (30.0, -110.0), "drill": 25.4},
    }
    plugged = roomy().old_holes[0]
    bare = replace(plugged, state="open", plug_diameter=None)
    holes = (plugged, *(replace(bare, name=name, **values) for name, values in kinds.items()))
    ring = ((205.0, -275.0), (245.0, -275.0), (245.0, -235.0), (205.0, -235.0))
    tube = Fitting(name="rigging tube", outline=ring, stands_out=30.0, drill=38.1)
    rows = rows_of(replace(roomy(), old_holes=holes, outside_fittings=(tube,)))
    assert rows["old upper port"][2:] == ["1/2 in", "open", "a bolt goes through it"]
    assert rows["old cable hole"][2:] == ["1 in", "opened", "for a cable or a hose"]
    assert rows["rigging tube"][1:] == ["8-27/32 in stbd, 10-1/32 in down", "1-1/2 in", "new", "for a cable or a hose"]
    assert rows["old lower port"][2:] == ["1/2 in", "open", "______", "____________"]
    assert rows["old lower starboard"][2:] == ["1/2 in", "plugged", "1 in", "____________"]
