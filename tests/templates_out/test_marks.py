"""Marks, their boxes, hatches and cuts: all without a file format."""

from __future__ import annotations

import math
from itertools import pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase import pdfmetrics
from shapely.geometry import LineString, Polygon, box

from templates_out.drawing.clipping import clip
from templates_out.drawing.fonts import missing, text_width, writable
from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Path, Pen, Text
from templates_out.drawing.pdf import _font
from templates_out.drawing.printer import Stretch
from templates_out.drawing.sheet_figures import across
from templates_out.drawing.sheet_pens import shortened
from templates_out.drawing.stroke_letters import stroke_words
from templates_out.drawing.transforms import hatch_lines, shift, text_box
from templates_out.layout.dimension_lines import dimension_marks
from templates_out.layout.drilling_permission import NOT_TO_BE_DRILLED, NOT_TO_BE_MADE, PILOT_ONLY
from templates_out.layout.frame import Bar, across_bar_marks, up_bar_marks

PEN = Pen()
RECT = (10.0, 20.0, 110.0, 80.0)
number = st.floats(-50, 150)
point = st.tuples(number, number)
STYLES = list(product((False, True), repeat=3))  # bold, italic, condensed


@pytest.mark.parametrize("style", STYLES)
def test_widths_agree_with_another_reader_of_the_fonts(style):
    """Independent check: reportlab's own reading of the same font; tolerance 1e-4 of a millimetre in 100."""
    name = "DejaVuSans" + ("Condensed" if style[2] else "")
    name += {(0, 0): "", (1, 0): "-Bold", (0, 1): "-Oblique", (1, 1): "-BoldOblique"}[style[0], style[1]]
    text = "Drilling template: 6-7/16 in to port (163.5 mm) ½ ⅞ ° ± × Ø ≥ − ◄►▲"
    assert missing(text, *style) == ""
    assert text_width(text, 10, *style) == pytest.approx(pdfmetrics.stringWidth(text, _font(name), 10), abs=0.15)


def test_what_the_font_lacks_is_reported_and_replaced():
    assert missing("Sea漢 Otter") == "漢"
    assert writable("Sea漢\nOtter") == "Sea□□Otter"
    assert missing(writable("漢\U0001f6a4\t")) == ""


def test_a_text_box_turns_with_its_text():
    flat = Text((10, 10), "PORT", 5, anchor="middle")
    width = text_width("PORT", 5)
    assert text_box(flat)[0] == pytest.approx((10 - width / 2, 10 - 0.85))
    assert text_box(flat)[2] == pytest.approx((10 + width / 2, 10 + 3.7))
    upright = Text((10, 10), "PORT", 5, angle=90)
    assert text_box(upright)[0] == pytest.approx((10.85, 10))
    assert text_box(upright)[2] == pytest.approx((10 - 3.7, 10 + width))


def test_moving_keeps_pens_and_sizes():
    marks = (Line((1, 2), (3, 4), PEN), Circle((1, 1), 2, PEN), Text((5, 5), "a", 3))
    moved = shift(marks, 10, 20)
    assert (moved[0].a, moved[0].b, moved[1].centre, moved[2].at) == ((11, 22), (13, 24), (11, 21), (15, 25))
    assert (moved[0].pen, moved[1].radius, moved[2].size) == (PEN, 2, 3)


@pytest.mark.parametrize("kind", ["lines", "cross", "plywood", "foam", "pairs"])
def test_hatch_lines_stay_in_a_hollow_outline(kind):
    """Against shapely: no part of a line outside the polygon, to 1e-6 mm."""
    outline = ((0, 0), (40, 0), (40, 30), (25, 10), (5, 30))
    lines = hatch_lines(Hatch(outline, 45, 3, PEN, kind))
    shape = Polygon(outline).buffer(1e-6)
    assert len(lines) > 10
    assert all(shape.covers(LineString([line.a, line.b])) for line in lines)


def test_hatch_lines_are_a_pitch_apart_and_fill_the_outline():
    """A 30 x 30 square under 45° lines 3 mm apart: their lengths add up to area / pitch, to 2 %."""
    lines = hatch_lines(Hatch(((0, 0), (30, 0), (30, 30), (0, 30)), 45, 3, PEN))
    assert sum(math.dist(line.a, line.b) for line in lines) == pytest.approx(900 / 3, rel=0.02)
    places = sorted((line.a[1] - line.a[0]) / math.sqrt(2) for line in lines)
    assert [b - a for a, b in pairwise(places)] == pytest.approx([3] * (len(places) - 1), abs=1e-9)


@given(point, point)
def test_lines_are_cut_as_shapely_cuts_them(a, b):
    """General library: shapely's intersection; lengths agree within 1e-6 mm."""
    pieces = clip((Line(a, b, PEN),), RECT)
    wanted = LineString([a, b]).intersection(box(*RECT)).length
    lengths = [math.dist(piece.a, piece.b) for piece in pieces if isinstance(piece, Line)]
    assert sum(lengths) == pytest.approx(wanted, abs=1e-6)


@given(point, st.floats(0.5, 90))
def test_circles_are_cut_into_arcs_of_the_right_length(centre, radius):
    """The length left inside against a 3600-gon cut by shapely: within 0.1 mm + 0.2 % (the polygon's own error)."""
    total = 0.0
    for piece in clip((Circle(centre, radius, PEN),), RECT):
        if isinstance(piece, Circle):
            total += 2 * math.pi * radius
        else:
            assert isinstance(piece, Arc)
            assert (piece.centre, piece.radius) == (centre, radius)
            total += math.radians(piece.end - piece.start) * radius
    ring = [
        (centre[0] + radius * math.cos(i * math.pi / 1800), centre[1] + radius * math.sin(i * math.pi / 1800))
        for i in range(3601)
    ]
    assert total == pytest.approx(LineString(ring).intersection(box(*RECT)).length, abs=0.1 + radius * 0.005, rel=0.002)


@given(st.lists(point, min_size=3, max_size=8), st.booleans())
def test_outlines_keep_their_length_inside(points, closed):
    pieces = clip((Path(tuple(points), closed, PEN),), RECT)
    drawn = 0.0
    for piece in pieces:
        ring = [*piece.points, *(piece.points[:1] if piece.closed else ())]
        drawn += sum(math.dist(a, b) for a, b in pairwise(ring))
    whole = [*points, *(points[:1] if closed else ())]
    wanted = sum(LineString([a, b]).intersection(box(*RECT)).length for a, b in pairwise(whole))
    assert drawn == pytest.approx(wanted, abs=1e-5)


def test_fills_hatches_and_texts_are_cut():
    across = ((0, 0), (60, 0), (60, 60), (0, 60))
    filled, *_ = clip((Path(across, True, None, "ink"),), RECT)
    assert Polygon(filled.points).area == pytest.approx(50 * 40)
    assert all(10 <= x <= 60 and 20 <= y <= 60 for x, y in filled.points)
    hatch = Hatch(across, 45, 3, PEN)
    cut = clip((hatch,), RECT)
    assert len(cut) > 5
    shape = box(10, 20, 60, 60).buffer(1e-9)
    assert all(shape.covers(LineString([line.a, line.b])) for line in cut)
    inside, over = Text((20, 30), "whole", 4), Text((100, 30), "over the edge", 4)
    assert clip((inside, over), RECT) == (inside,)
    disc = clip((Circle((10, 50), 5, None, "ink"),), RECT)[0]
    assert Polygon(disc.points).area == pytest.approx(math.pi * 25 / 2, rel=1e-3)


def test_words_of_lines_keep_their_height_or_their_room():
    """Eight letters are 7·5.8 + 4 = 44.6 units wide and 6 high. In a room of 22.3 mm they are 3 mm high."""
    for room, high, wide in ((1000.0, 12.0, 89.2), (22.3, 3.0, 22.3)):
        points = [at for path in stroke_words("DRILLED ", (50.0, 20.0), 12.0, room, Pen("ink", 0.3), "p") for at in path.points]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        assert (min(ys), max(ys)) == pytest.approx((20.0 - high / 2, 20.0 + high / 2))
        assert min(xs) == pytest.approx(50.0 - wide / 2)
        assert max(xs) == pytest.approx(50.0 - wide / 2 + (6 * 5.8 + 4.0) / 44.6 * wide)  # the space is the last


@pytest.mark.parametrize("stamped", [NOT_TO_BE_DRILLED, NOT_TO_BE_MADE, PILOT_ONLY])
def test_every_stamp_can_be_drawn_for_a_cutter(stamped):
    """A stroke or more for each letter."""
    strokes = list(stroke_words(stamped, (0.0, 0.0), 12.0, 200.0, Pen("ink", 0.3), "p"))
    assert len(strokes) >= len(stamped.replace(" ", ""))


@pytest.mark.parametrize("back", [3.0, -3.0])
def test_a_dimension_s_end_lines_run_back_to_what_is_measured(back):
    """Level: up for plus; upright: to the left. They run 1.2 past the line on its other side."""
    level, upright = (list(dimension_marks((10.0, 5.0), end, "4", back)) for end in ((30.0, 5.0), (10.0, 25.0)))
    past = math.copysign(1.2, back)
    ends = {frozenset((mark.a, mark.b)) for mark in level if isinstance(mark, Line)}
    assert {frozenset(((x, 5.0 - past), (x, 5.0 + back))) for x in (10.0, 30.0)} < ends
    ends = {frozenset((mark.a, mark.b)) for mark in upright if isinstance(mark, Line)}
    assert {frozenset(((10.0 + past, y), (10.0 - back, y))) for y in (5.0, 25.0)} < ends
    for marks, at in ((level, (0.0, 20.0, 6.3)), (upright, (90.0, 8.7, 15.0))):
        (words,) = [mark for mark in marks if isinstance(mark, Text)]
        assert (words.angle, *words.at) == pytest.approx(at)


@pytest.mark.parametrize("upright", [False, True])
def test_a_bar_s_strokes_are_every_10_mm_and_every_quarter_inch(upright):
    """150 mm on a printer that is off, 1 % across and 2 % up: 16 strokes of centimetres and 23 of quarter inches.

    The first and the last centimetre have a stroke at each millimetre.
    Those at 0, 50, 100 and 150 mm are long, and so is that of each whole inch.
    """
    bar, stretch = Bar((20.0, 30.0), 150.0), Stretch(1.01, 0.98)
    marks = list((up_bar_marks if upright else across_bar_marks)(bar, stretch))
    factor, along = (0.98, 1) if upright else (1.01, 0)
    at, start = 1 - along, bar.at[along]
    strokes = [sorted((mark.a, mark.b)) for mark in marks if isinstance(mark, Line)][1:]
    far = {}
    for a, b in strokes:
        assert a[along] == pytest.approx(b[along])
        far[round((a[along] - start) / factor, 4)] = max(abs(a[at] - bar.at[at]), abs(b[at] - bar.at[at]))
    assert {place for place in far if place % 10 == 0} == {10.0 * k for k in range(16)}
    fine = {float(place) for place in (*range(1, 10), *range(141, 150))}
    assert {place for place in far if place % 10} == {round(6.35 * k, 4) for k in range(1, 24)} | fine
    assert {place for place, reach in far.items() if reach > 3} == {0, 50, 100, 150, 25.4, 50.8, 76.2, 101.6, 127}
    line = next(mark for mark in marks if isinstance(mark, Line))
    assert math.dist(line.a, line.b) == pytest.approx(150 * factor)


def test_a_text_that_is_too_long_keeps_as_much_of_it_as_fits():
    """One letter more would be wider than the room."""
    text = "Longest stern on the lake"
    room = text_width(text, 3.0) * 0.6
    short = shortened(text, 3.0, room)
    kept = short.removesuffix("…")
    assert short.endswith("…")
    assert text.startswith(kept)
    assert text_width(short, 3.0) <= room < text_width(f"{text[: len(kept) + 2]}…", 3.0)
    assert shortened(text, 3.0, 2 * room) == text


@pytest.mark.parametrize(("u", "words"), [
    (100.0, "3-15/16 in to starboard"), (-100.0, "3-15/16 in to port"), (0.0, "on the centreline"),
])  # fmt: skip
def test_a_place_across_is_said_by_its_side(u, words):
    assert across(u, "in").replace("\N{NO-BREAK SPACE}", " ").startswith(words)
