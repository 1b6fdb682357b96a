"""Second readings move the floor: sheets, views, zone and lowest height have it where the checks have it.

The boat of `test_contradictions`: a level floor 9 in down, its inside top edge 2 in · tan 14° below the datum. A depth read
once more at the centreline is 3 mm less. Its spread is 1.5 mm; that of both sides' mean is √(0.75² + 0.75²). So each side
rises by 1.5² / 2 / (1.125 + 2.25) of the 3 mm: 1 mm, by hand.
"""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.decide.lowest import greatest_depth
from geometry.doubt.spreads import with_spreads
from geometry.edits.edits import set_units
from geometry.judge.check import check
from geometry.solid.placed_bolts import bolts
from geometry.solid.well import space
from geometry.solving.floor_moved import floor_moved
from geometry.solving.solved import solved
from geometry.zones.pair_zone import pair_zone
from templates_out.drawing.marks import Path
from templates_out.drawing.printer import Stretch
from templates_out.faces.on_face import on_face
from templates_out.faces.on_inside import on_inside
from templates_out.pages.inside.inside_pages import inside_pages
from templates_out.pages.template.template_pages import template_pages
from templates_out.views.cut import cut_marks, cut_rect, plane_of
from templates_out.views.face import face_marks
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import Viewport, fit
from tests.designs import changed, roomy, sure
from tests.geometry.test_contradictions import CENTRE, IN, boat, with_reading
from tests.templates_out.printed import on, said
from tests.templates_out.viewing import texts

READ = -(2 * math.tan(math.radians(14)) + 9) * IN
"""[mm] the floor on the outer face, straight behind it, as first read."""


def hung(off: float):
    """Return the boat with its centre depth ``off`` mm less than its sides say; all guesses measured."""
    design = with_reading(boat(), CENTRE, 9 * IN - off)
    mount = changed(roomy(), mounts__0__upper_at=-50.8, mounts__0__drop=165.1).mounts[0]
    return changed(design, mounts=(mount,), boat=roomy().boat)


@pytest.mark.parametrize("off", [3.0, -3.0])
def test_the_template_has_the_floor_where_the_checks_have_it(off):
    levels = {round(v, 6) for run in on_face(hung(off), Stretch()).floor for _, v in run if v < -100}
    assert levels == {round(READ + off / 3, 6)}


def test_the_inside_sheet_has_the_same_floor():
    levels = {round(y, 6) for run in on_inside(hung(3.0), Stretch()).face.floor for _, y in run if y < -100}
    assert levels == {round(1.0 - 9 * IN, 6)}


def test_face_and_cut_show_it_and_their_figures_say_what_was_read():
    checked = check(hung(3.0))
    view = Viewport(0.2, -300.0, -400.0, 140.0, 110.0)
    marks = face_marks(checked, view, ViewFocus(lit="well.floor_port"))
    edges = {mark.part: mark for mark in marks if getattr(mark, "part", "").startswith("profile edge")}
    assert view.to_boat(edges["profile edge 1"].a)[1] == pytest.approx(READ + 1.0, abs=1e-6)
    assert "9 in" in [text.text for text in texts(marks) if text.part == "measure:well.floor_port"]
    view = fit(cut_rect(checked.design, "port"), 110.0, 90.0)
    marks = cut_marks(checked, view, "port", 0, ViewFocus(lit="well.floor_port"))
    floor = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "well floor" and not mark.closed)
    plane = plane_of(checked.design, "port", 0)
    foot, end = plane.inside(READ + 1.0, 0.0), view.to_boat(floor.points[-1])
    assert end[1] == pytest.approx(foot[1], abs=1e-6)  # a level floor
    assert "9 in" in [text.text for text in texts(marks) if text.part == "measure:well.floor_port"]


def test_the_lowest_place_and_the_zone_follow_it():
    """1 mm of floor is 1 mm of depth; within 1e-3."""
    once, again = hung(0.0), hung(3.0)
    assert sure(greatest_depth(once, 0, 3.0)) - sure(greatest_depth(again, 0, 3.0)) == pytest.approx(1.0, abs=1e-3)
    low = [pair_zone(design, 0, "lower").spans(0.1)[0][0] for design in (once, again)]
    assert low[1] - low[0] == pytest.approx(1.0, abs=1e-3)


@pytest.mark.parametrize(("off", "unit", "words"), [
    (3.0, "in", "1/32 in higher than first read"), (-4.5, "in", "1/16 in lower than first read"),
    (3.0, "mm", "1 mm higher than first read"),
])
def test_the_sheets_say_by_how_much(off, unit, words):
    checked = with_spreads(check(set_units(hung(off), unit)))
    for pages in (template_pages(checked, on("a3")), inside_pages(checked, on("a3"))):
        assert any(words in said(page) for page in pages)


@pytest.mark.parametrize(("side", "off"), [("port", 3.0), ("starboard", 3.0), ("port", -3.0)])
def test_where_one_side_was_read_worse_the_sheets_say_how_far_the_floor_moves_there(side, off):
    """That side's depth is known to 6 mm and takes up most. Under the bolts of the other side the floor hardly moves."""
    design = hung(off)
    key = f"well.floor_{side}"
    design = replace(design, readings={**design.readings, key: replace(design.readings[key], spread=6.0)})
    raised = [solved_at - read_at for read_at, solved_at in zip(*([space(boat_).floor_at(bolt.exit.u) for bolt in bolts(boat_)]
              for boat_ in (design, solved(design))), strict=True)]  # fmt: skip
    moved = sure(floor_moved(design))
    assert moved == pytest.approx(max(raised, key=abs), abs=1e-6)
    assert math.copysign(1.0, moved) == math.copysign(1.0, off)
    assert min(map(abs, raised)) < abs(moved) - 1.0


@pytest.mark.parametrize("off", [0.0, 1.4])
def test_half_a_millimetre_is_not_worth_a_word(off):
    """1.4 / 3 is below 0.5."""
    assert floor_moved(hung(off)) is None
    checked = with_spreads(check(hung(off)))
    assert not any("first read" in said(page) for page in template_pages(checked, on("a3")))
