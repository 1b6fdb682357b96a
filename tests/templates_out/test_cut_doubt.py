"""The bands of doubt in the cut, against spreads that are calculated by hand."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from assets import design_text
from geometry.design_text import from_text
from geometry.doubt.place_spreads import place_spreads
from geometry.doubt.spreads import with_spreads
from geometry.edits.edits import set_units
from geometry.judge.check import check
from templates_out.drawing.marks import Line, Path
from templates_out.views.cut import cut_marks, cut_rect
from templates_out.views.detail import cut_with_detail, detail_box, detail_centre
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import fit
from tests.designs import changed, example_design, roomy
from tests.geometry.test_spreads import read, still
from tests.templates_out.viewing import overlaps, struck, texts

PORT = "main motor / lower port"


def drawn(checked, side="port", style="screen", wide=110.0, high=90.0):
    view = fit(cut_rect(checked.design, side), wide, high)
    return view, cut_marks(checked, view, side, 0, ViewFocus(), style)


def words(marks):
    return " ".join(text.text for text in texts(marks))


def doubts(marks):
    return [mark for mark in marks if getattr(mark, "part", "") == "doubt"]


def test_the_floor_alone_is_off_by_what_was_read():
    """A floor read to 4 mm at port, all else exact: the floor there has a spread of 4, the washer none; within 1e-6."""
    design = read(still(roomy()), "well.floor_port", 261.43, spread=4.0)
    spreads = place_spreads(with_spreads(check(design)))[PORT]
    assert spreads.floor == pytest.approx(4.0, abs=1e-6)
    assert spreads.washer == pytest.approx(0.0, abs=1e-6)


def test_the_washer_moves_with_its_hole():
    """A hole marked to 3 mm, square to parallel faces: it comes out 3 mm off along the inner face too; within 1e-6."""
    design = still(roomy())
    design = replace(design, spreads=replace(design.spreads, mark=3.0))
    spreads = place_spreads(with_spreads(check(design)))[PORT]
    assert spreads.washer == pytest.approx(3.0, abs=1e-6)
    assert spreads.floor == pytest.approx(0.0, abs=1e-6)


def test_the_bands_are_one_and_two_spreads_from_the_floor():
    """Spread 4: dashed lines 4 mm over and under the floor's end, dotted ones at 8, along the inner face; within 0.01 mm."""
    design = read(still(changed(roomy(), well__fillet_radius=0.0)), "well.floor_port", 261.43, spread=4.0)
    view, marks = drawn(with_spreads(check(design)))
    floor = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "well floor" and not mark.closed)
    bands = [mark for mark in doubts(marks) if isinstance(mark, Path)]
    away = sorted(math.dist(band.points[0], floor.points[0]) / view.scale for band in bands)
    assert away == pytest.approx([4.0, 4.0, 8.0, 8.0], abs=0.01)
    assert len({band.pen for band in bands}) == 2, "the two spreads differ by their dashes"
    assert all(band.pen is not None and band.pen.dash for band in bands)


def test_the_washer_has_a_bar_with_ticks_and_both_have_words():
    design = roomy()
    _, marks = drawn(with_spreads(check(design)), wide=220.0, high=180.0)
    assert len([mark for mark in doubts(marks) if isinstance(mark, Line)]) == 5
    said = words(marks)
    assert "Doubt: floor within 1/8 in" in said
    assert "washer within 1/8 in" in said
    _, metric = drawn(with_spreads(check(set_units(design, "mm"))), wide=220.0, high=180.0)
    assert "floor within 4 mm" in words(metric)


def test_a_drag_shows_no_doubt():
    """The chances of a design in a drag are not known yet."""
    _, marks = drawn(check(roomy()))
    assert not doubts(marks)
    assert "Doubt" not in words(marks)


@pytest.mark.parametrize("style", ["screen", "paper"])
@pytest.mark.parametrize("side", ["port", "starboard"])
def test_the_words_of_doubt_hide_nothing(side, style):
    checked = with_spreads(check(example_design()))
    view = fit(cut_rect(checked.design, side), 110.0, 90.0)
    marks = cut_with_detail(checked, view, side, 0, ViewFocus(), style)
    assert not overlaps(texts(marks))
    marks = cut_marks(checked, view, side, 0, ViewFocus(), style)
    assert not overlaps(texts(marks))
    assert not struck(marks)


@pytest.mark.parametrize("side", ["port", "starboard"])
def test_in_a_small_cut_the_word_of_doubt_is_short_and_hides_nothing(side):
    """As wide and high as in a window of 1024 x 700, with the ring in it: the word has two lines where one has no room."""
    checked = with_spreads(check(from_text(design_text("tapered-work-boat"))))
    view = fit(cut_rect(checked.design, side), 82.0, 45.0)
    marks = cut_with_detail(checked, view, side, 0, ViewFocus())
    assert doubts(marks)
    assert "doubt 3 mm" in words(marks)
    assert not overlaps(texts(marks))
    ring, (said, *_) = detail_box(detail_centre(view)), [text for text in texts(marks) if text.text.startswith("doubt")]
    assert not all(low < at < high for low, at, high in zip(ring[:2], said.at, ring[2:], strict=True))


def test_without_a_well_only_the_washer_has_a_band():
    design = replace(roomy(), well=None)
    spreads = place_spreads(with_spreads(check(design)))[PORT]
    assert spreads.floor is None
    assert spreads.washer > 0.0


@pytest.mark.parametrize("side", ["port", "starboard"])
@pytest.mark.parametrize(("wide", "high"), [(66.0, 69.0), (120.0, 100.0)])
def test_the_words_of_doubt_are_off_the_bands(wide, high, side):
    """Neither the dashed floor nor the washer's bar goes through a word, in cuts as windows of different sizes have them."""
    checked = with_spreads(check(from_text(design_text("cap-lip-launch"))))
    view = fit(cut_rect(checked.design, side), wide, high)
    marks = cut_with_detail(checked, view, side, 0, ViewFocus())
    said = [text for text in texts(marks) if text.text.lower().startswith(("doubt", "washer within"))]
    bands = [replace(mark, pen=replace(mark.pen, weight=9.0)) for mark in doubts(marks)]  # as heavy as any
    assert bands
    assert said
    assert not struck((*said, *bands))
