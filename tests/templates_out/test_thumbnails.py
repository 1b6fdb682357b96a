"""The small pictures without figures: what is in them, and where."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from geometry.edits.starting_shapes import blank
from geometry.judge.check import check
from templates_out.drawing.marks import Hatch, Line, Text
from templates_out.pictures.thumbnails import cut_portrait, face_portrait, placement_marks
from tests.designs import changed, example_design


def test_a_bare_sheet_has_a_centreline_and_a_datum():
    """40 by 30 mm: a line down its middle, 1 mm from its edges; a level one half as wide as the sheet at 0.72 of its height."""
    down, level = face_portrait(check(blank()), 40.0, 30.0)
    assert isinstance(down, Line)
    assert isinstance(level, Line)
    assert (down.a, down.b) == ((20.0, 1.0), (20.0, 29.0))
    assert (*level.a, *level.b) == pytest.approx((10.0, 21.6, 30.0, 21.6))


def test_a_boat_in_small_has_its_parts_and_no_figure():
    marks = face_portrait(check(example_design()), 40.0, 30.0)
    assert {"transom", "lower port washer:0"} <= {mark.part for mark in marks}
    assert not [mark for mark in marks if isinstance(mark, Hatch | Text)]
    cut = cut_portrait(check(example_design()), 40.0, 30.0)
    assert {"transom", "well floor"} <= {mark.part for mark in cut}
    assert not [mark for mark in cut if isinstance(mark, Text) or "washer" in mark.part]


def test_a_placement_in_small_hatches_only_what_is_fouled():
    """With an 8 in drop the lower washers go into the floor. The standing parts are not hatched."""
    rect = (-380.0, -372.0, 380.0, 98.0)
    fouled = check(changed(example_design(), mounts__0__drop=203.2, mounts__0__row=1))
    hatched = {mark.part for mark in placement_marks(fouled, 0, rect, 40.0, 30.0) if isinstance(mark, Hatch)}
    assert {"lower port washer:0", "lower starboard washer:0"} <= hatched
    assert all(part.startswith("lower ") for part in hatched)
    bare = check(replace(example_design(), mounts=()))
    assert not [mark for mark in placement_marks(bare, 0, rect, 40.0, 30.0) if isinstance(mark, Hatch)]
