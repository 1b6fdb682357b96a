"""The page plan draws the checks that the strip below it asks for, each figure clear of every other."""

from __future__ import annotations

import datetime
import math

import pytest
from msgspec.structs import replace

from app.canvas.page_plan import pages_rect, plan_marks
from app.printing.sheet_set import sheet_set, taped_words, usual_options
from assets import design_text
from geometry.design_text import from_text
from geometry.edits.edits import set_units
from geometry.judge.check import check
from geometry.solid.placed_bolts import bolts
from geometry.units.units import format_length
from templates_out.drawing.marks import Line, Text
from templates_out.views.viewport import fit
from tests.designs import sure
from tests.gestures.looking import overlaps


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("name", ["shallow-well-skiff", "twin-motor-launch"])
def test_the_plan_draws_what_the_strip_asks_for(name: str, units: str) -> None:
    design = set_units(from_text(design_text(name)), "in" if units == "in" else "mm")
    sheets = sheet_set(check(design), usual_options(design), datetime.date(2026, 1, 1))
    marks = plan_marks(sheets, fit(pages_rect(sheets), 165.0, 135.0))
    drawn = [mark for mark in marks if isinstance(mark, Line) and mark.part == "check"]
    figures = [mark.text for mark in marks if isinstance(mark, Text) and mark.part == "check"]
    assert len(drawn) == len(figures) == 4 * len(design.mounts)  # two pairs and two diagonals for each motor
    first_motor = [bolt for bolt in bolts(design) if bolt.mount_index == 0]
    holes: dict[str, tuple[float, float]] = {bolt.name: (bolt.u, sure(bolt.v)) for bolt in first_motor}
    for start, end in (("upper port", "lower starboard"), ("upper starboard", "lower port"), ("upper port", "upper starboard")):
        true = format_length(math.dist(holes[start], holes[end]), design.units, denominator=32)
        assert true in figures
        assert true in taped_words(sheets)
    texts = [mark for mark in marks if isinstance(mark, Text)]
    assert list(overlaps(tuple(replace(mark, part=str(number)) for number, mark in enumerate(texts)))) == []
