"""The frame of a page at full scale: what is at its foot, and the room that is left above it."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import OwnerError
from geometry.tables.papers import paper
from templates_out.drawing.clipping import Rect
from templates_out.drawing.labels import things_of
from templates_out.drawing.marks import Text
from templates_out.drawing.printer import Stretch
from templates_out.drawing.sheet_pens import width_of, words
from templates_out.faces.face_lines import readable
from templates_out.layout.full_scale import full_scale
from templates_out.layout.reading_pages import ROW, Sheet
from templates_out.layout.spread_on_sheets import overlap
from tests.designs import example_design
from tests.templates_out.printed import DAY

ASKS = ("Print at 100 %", "Measure both bars", "Across ", "Up ")


@pytest.mark.parametrize("name", ["letter", "a4"])
@pytest.mark.parametrize("margin", [6.35, 12.0])
def test_the_room_for_a_drawing_ends_6_mm_above_the_words_at_the_foot(name: str, margin: float) -> None:
    """The words are above the level bar, 13.45 mm above the margin or more. The upright bar is right of the room."""
    sheet = Sheet(example_design(), DAY, paper(name))
    begun = full_scale(sheet, "A page", 1, 1, Stretch(), margin)
    asks = [mark.at[1] for mark in begun.writing.marks if isinstance(mark, Text) and mark.text.startswith(ASKS)]
    assert len(asks) == 4
    assert min(asks) == pytest.approx(margin + 5.45 + 8.0)
    assert begun.foot == pytest.approx(max(asks) + 6.0)
    assert begun.right == pytest.approx(sheet.width - margin - 9.4 - 10.5)
    for mark in begun.writing.marks:
        for thing in things_of(mark):
            left, low, _, high = thing.box
            assert left >= begun.right or low >= begun.writing.y - 1e-6 or high <= begun.foot, mark
    assert begun.foot < begun.writing.y


def test_a_margin_wider_than_the_page_keeps_is_refused() -> None:
    with pytest.raises(OwnerError, match="a margin of 20 mm is more"):
        full_scale(Sheet(example_design(), DAY, paper("a4")), "A page", 1, 1, Stretch(), 20.0)


BOX = st.tuples(*[st.integers(-9, 9)] * 4).map(lambda n: (min(n[0], n[2]), min(n[1], n[3]), max(n[0], n[2]), max(n[1], n[3])))


@given(BOX, BOX)
def test_two_rectangles_share_what_another_library_says_they_share(a: Rect, b: Rect) -> None:
    common = shapely.box(*a).intersection(shapely.box(*b))
    shared = overlap(a, b)
    assert shared == (common.bounds if common.area > 0 else None)


def test_the_columns_of_a_table_fill_the_width_and_each_is_as_wide_as_its_widest_cell() -> None:
    """The last column ends at the right. Gaps between columns are alike. A table too wide has gaps of 2 mm and is shrunk."""
    sheet = Sheet(example_design(), DAY, paper("letter"))
    heads, rows = ("a", "bolt", "torque"), (("upper port", "1/2-13", "35 lb"), ("lower starboard", "1/2-13", "35 lb ft dry"))
    for repeat, fits in ((1, True), (9, False)):
        cells = [tuple(cell * repeat for cell in row) for row in rows]
        wide = [max(_wide(heads[at], bold=True), *(_wide(row[at], bold=at == 0) for row in cells)) for at in range(3)]
        starts = sheet.columns(heads, cells)
        whole = sheet.room if fits else sum(wide) + 2 * 2.0
        gaps = [(b - a) * whole - width for a, b, width in zip(starts, [*starts[1:], 1.0], wide, strict=True)]
        assert starts[0] == 0.0
        assert gaps[0] == pytest.approx(gaps[1])
        assert gaps[2] == pytest.approx(0.0, abs=1e-6)
        assert gaps[0] > 10.0 if fits else gaps[0] == pytest.approx(2.0)


def _wide(cell: str, *, bold: bool) -> float:
    return width_of(words((0.0, 0.0), cell, ROW, bold=bold))


@given(st.integers(-720, 720))
def test_words_along_a_line_are_read_from_below_or_from_the_right(angle: int) -> None:
    """The direction is the line's, or its opposite; up an upright line it is 90 degrees."""
    along = readable(float(angle))
    assert -90.0 < along <= 90.0
    assert (along - angle) % 180.0 == 0.0
