"""The frame of a sheet: each unit is next to its blank, apart from the words after it; the sides’ names are in order."""

from __future__ import annotations

import pytest

from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.marks import Text
from templates_out.drawing.printer import Stretch
from templates_out.drawing.transforms import text_box
from templates_out.layout.frame import Bar, ask_marks
from tests.templates_out.kinds import pages_of
from tests.templates_out.printed import BOATS, PAPERS, said


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("right", [160.0, 210.0, 260.0, 330.0])
def test_a_blanks_unit_is_apart_from_the_next_words(unit, right):
    """The unit is within 1 mm of its blank, and 3 mm or more from the words of the next."""
    bars = Bar((0.0, 0.0), 228.6, unit), Bar((0.0, 0.0), 152.4, unit)
    marks = [mark for mark in ask_marks(12.0, right, 100.0, unit, bars, Stretch()) if isinstance(mark, Text)]
    units = [mark for mark in marks if mark.text == unit]
    assert len(units) == 2
    for mark in units:
        end = mark.at[0] + pens.width_of(mark)
        after = [other.at[0] - end for other in marks if other.at[1] == mark.at[1] and other.at[0] > mark.at[0]]
        assert all(gap >= 3.0 for gap in after)
        assert end <= right
    assert all(x <= right + 0.01 for mark in marks for x, _ in text_box(mark))


@pytest.mark.parametrize("kind", ["template", "inside", "plate"])
@pytest.mark.parametrize("name", BOATS)
@pytest.mark.parametrize("paper", PAPERS)
def test_the_name_of_the_right_side_is_right_of_the_other(kind, name, paper):
    """On every sheet, drillable or not: names over each other would not say which side is which.

    It begins where the other ends. Where a sheet has no room for that, it is a line higher or lower, and further right.
    """
    right = "STARBOARD ►" if kind == "template" else "PORT ►"
    crowded = 0
    for page in (*pages_of(kind, name, paper, False), *pages_of(kind, name, paper)):
        named = [mark for mark in page.marks if isinstance(mark, Text) and mark.part == "view"]
        for own in (mark for mark in named if mark.text == right):
            for other in (mark for mark in named if mark.text.startswith("◄")):
                if own.at[0] > other.at[0] + pens.width_of(other):
                    continue
                crowded += 1
                assert abs(own.at[1] - other.at[1]) >= 4.0, page.name
                assert own.at[0] > other.at[0], page.name
                assert own.at[0] + pens.width_of(own) > other.at[0] + pens.width_of(other), page.name
    assert crowded <= 2


ROLLS_AND_SHEETS = [("roll24", "24 in roll"), ("roll36", "36 in roll"), ("a4", "A4, "), ("letter", "Letter, ")]


@pytest.mark.parametrize(("paper", "called"), ROLLS_AND_SHEETS)
def test_every_page_of_a_set_calls_its_paper_by_one_name(paper, called):
    """The sheets and the page of checks behind them: a roll is never "Roll24, portrait"."""
    pages = pages_of("template", "example", paper)
    assert len(pages) > 1
    assert all(called in said(page) for page in pages)
