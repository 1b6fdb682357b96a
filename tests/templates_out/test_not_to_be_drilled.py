"""Every output asks the one gate: what nobody may drill by says so on each page and in each drawing, and why."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import cache, partial
from random import Random
from xml.etree import ElementTree as Tree

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

import templates_out.layout.drilling_permission as gate
from app.printing.print_jobs import drawings
from app.printing.sheet_kinds import SHEET_KINDS
from assets import design_text
from geometry.design.design import Design, Reading
from geometry.design.validity import NonsenseError
from geometry.design_text import from_text
from geometry.doubt.spreads import with_spreads
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.judge.drillable import Drillable, drillable
from geometry.judge.findings import Checked
from geometry.readings.measures import measures
from geometry.tables.papers import paper, paper_names
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import Rect
from templates_out.drawing.labels import Ground
from templates_out.drawing.marks import CROSSED, WARNING, Circle, Line, Page, Path, Text
from templates_out.drawing.transforms import text_box
from templates_out.layout.blocks import band, reason_lines
from templates_out.layout.board import Board
from templates_out.layout.drilling_permission import Stamp
from templates_out.layout.no_drilling_bands import _crossed, _overlap, with_bands
from templates_out.layout.tiles import FOOT, Needs, plan
from templates_out.pages.inside.inside_pages import inside_pages
from templates_out.pages.shop.shop_pages import shop_pages
from templates_out.pages.template.template_pages import template_pages
from tests.designs import changed, example_design, random_design, roomy
from tests.readers import read_with_pdfium, texts
from tests.templates_out.printed import DAY, assert_legible, is_hole, on, printed, said
from tests.templates_out.test_plate import plate

SVG = "{http://www.w3.org/2000/svg}"
BOX = ((-152.4, -22.0), (152.4, -22.0), (152.4, 38.1), (-152.4, 38.1))
DRAWN = tuple(key for key, kind in SHEET_KINDS.items() if kind.svgs)
STAMPED = tuple(key for key, kind in SHEET_KINDS.items() if kind.stamped)


def pages_of(key: str, checked: Checked) -> tuple[Page, ...]:
    """One kind of sheet, on the usual paper."""
    return SHEET_KINDS[key].pages(checked, on())


def plated(**values: object) -> Design:
    """A boat with room for everything, a backing plate under its lower washers: it may be drilled."""
    flat = plate(outline=BOX, relief=(0.0, 0.0))
    return changed(roomy(mounts__0__lower_hardware__backing_plate=flat), **values)


def guessed(key: str) -> Design:
    reading = Reading(text="", value=None, from_="centre", how="tape", state="guess", spread=None, second=None)
    return replace(plated(), readings={key: reading})


CORNERS = ((None, 0.0), (190.0, 0.0), (150.0, -350.0), (-150.0, -350.0))
NOT_TO_BE: dict[str, Callable[[], Design]] = {
    "fouled": lambda: plated(mounts__0__drop=203.2, mounts__0__row=1),
    "row not known": lambda: plated(mounts__0__row=None),
    "lower pad not known": lambda: plated(mounts__0__bracket__lower__pad_thickness=None),
    "old hole's place not known": lambda: plated(old_holes__0__at=(None, -254.0)),
    "bracket's corner not known": lambda: plated(mounts__0__bracket__outline=CORNERS),
    "well's length not known": lambda: plated(well__length=None),
    "a guess that turns it": lambda: guessed("well.fillet_radius"),
    "too little chance": lambda: plated(well__profile=example_design().well.profile),
    "demonstration": lambda: plated(demonstration=True),
}


@cache
def checked_of(name: str) -> Checked:
    return with_spreads(check(plated() if name == "may be drilled" else NOT_TO_BE[name]()))


def plain(text: str) -> str:
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").replace("-", " ").split())


def test_a_stamped_template_names_no_drill() -> None:
    stamped, good = (" ".join(map(said, pages_of("template", checked_of(name)))) for name in ("fouled", "may be drilled"))
    for words in ("final 17/32 in", "pilot 1/8", "SQUARE TO THE FACE"):
        assert words in good
        assert words not in stamped


@pytest.mark.parametrize("kind", STAMPED)
def test_what_may_be_drilled_is_not_stamped(kind: str) -> None:
    checked = checked_of("may be drilled")
    assert drillable(checked).answer == "yes"
    pages = pages_of(kind, checked)
    assert not [page.name for page in pages if page.warning]
    assert "NOT TO BE DRILLED" not in " ".join(texts(printed(pages)))
    assert not [m for page in pages for m in page.marks if m.part.endswith(CROSSED)]


@pytest.mark.parametrize("kind", STAMPED)
@pytest.mark.parametrize("name", NOT_TO_BE)
def test_each_page_of_each_kind_is_stamped_with_the_reason(name: str, kind: str) -> None:
    """Read back from the file. The words are those that the window and the command give: a later shop page names page 1."""
    checked = checked_of(name)
    answered = drillable(checked)
    assert answered.answer == "no"
    pages = pages_of(kind, checked)
    for number, words in enumerate(texts(printed(pages))):
        assert "NOT TO BE DRILLED" in words
        text = plain(words)
        later = kind == "shop" and number
        assert ("why: page 1" if later else plain(answered.why_not)[:40]) in text
    if kind != "shop":
        assert all(any(m.part.endswith(CROSSED) for m in page.marks) for page in pages[:1])
    for page in pages:
        assert page.warning == f"NOT TO BE DRILLED. {answered.why_not}"
        if kind == "gauge":
            assert_legible(page)


@pytest.mark.parametrize("name", NOT_TO_BE)
def test_each_drawing_for_a_cutter_has_a_layer_with_the_warning(name: str) -> None:
    """Read by the standard library's XML parser: description, layer with a title, band and cross as lines without fill."""
    checked = checked_of(name)
    reason = drillable(checked).why_not
    made = dict(drawings(checked, DAY, DRAWN))
    assert {"template", "inside sheet", "backing plate, lower pair"} <= set(made)
    for title, text in made.items():
        root = Tree.fromstring(text)
        wanted = "NOT TO BE MADE" if title.startswith("backing") else "NOT TO BE DRILLED"
        description = root.findtext(f"{SVG}desc") or ""
        assert description.startswith(wanted)
        assert description.endswith(reason)
        (layer,) = root.iter(f"{SVG}g")
        assert layer.findtext(f"{SVG}title") == description
        parts = [element.attrib.get("data-part", "") for element in layer]
        if "to read" not in title:
            assert sum(part.endswith(CROSSED) for part in parts) == (2 if title.startswith("backing") else 8)
        lines = [element for element in layer if element.tag != f"{SVG}title" and element.tag != f"{SVG}text"]
        assert len(lines) >= 20
        assert all(element.attrib["fill"] == "none" for element in lines)
        outside = [element for element in root if element is not layer]
        assert not [element for element in outside if element.attrib.get("data-part", "").endswith(CROSSED)]


def test_the_cross_of_a_plate_for_a_cutter_goes_over_the_plate() -> None:
    root = Tree.fromstring(dict(drawings(checked_of("fouled"), DAY, ("plate",)))["backing plate, lower pair"])

    def ends(part: str) -> list[tuple[float, float]]:
        rows = [
            [float(word) for word in element.attrib["d"].replace("M", "").replace("L", "").split()]
            for element in root.iter(f"{SVG}path")
            if element.attrib.get("data-part") == part and "A" not in element.attrib["d"]
        ]
        return [(row[i], row[i + 1]) for row in rows for i in (0, 2)]

    for axis in (0, 1):
        plate_at, cross_at = [at[axis] for at in ends("backing plate")], [at[axis] for at in ends(f"backing plate{CROSSED}")]
        assert (min(cross_at), max(cross_at)) == pytest.approx((min(plate_at), max(plate_at)), abs=1e-5)


def test_a_drawing_that_may_be_cut_has_no_warning() -> None:
    for _, text in drawings(checked_of("may be drilled"), DAY, DRAWN):
        root = Tree.fromstring(text)
        assert root.find(f"{SVG}desc") is None
        assert not list(root.iter(f"{SVG}g"))
        assert "NOT TO BE" not in text


def test_coupons_bars_and_measuring_sheet_may_always_be_printed() -> None:
    checked = check(plated(mounts__0__drop=203.2, mounts__0__row=1))
    free = {key for key in SHEET_KINDS if key not in STAMPED}
    assert free == {"coupons", "measuring", "planning", "bars", "record"}
    for key in free - {"record"}:  # nothing is drilled on this boat
        assert "NOT TO BE" not in " ".join(map(said, pages_of(key, checked)))


def test_any_answer_of_the_gate_but_yes_is_stamped(monkeypatch: pytest.MonkeyPatch) -> None:
    """No sheet knows yet what to show of "pilot only": until one does, it is stamped, with its reason."""
    monkeypatch.setattr(gate, "drillable", lambda _checked: Drillable("pilot only", ()))
    checked = checked_of("may be drilled")
    for kind in STAMPED:
        assert all("NOT TO BE DRILLED" in words for words in texts(printed(pages_of(kind, checked))))


def lessened(rng: Random) -> Iterator[Design]:
    """Designs with room, and any designs, with a few readings taken away or made guesses."""
    for number in range(8):
        design = plated() if number % 2 else random_design(rng)
        for measure in rng.sample(measures(design), rng.choice((1, 1, 2, 4))):
            if measure.kind == "shape" or measure.free:
                continue
            if rng.random() < 0.5:
                reading = Reading(text="", value=None, from_="centre", how="tape", state="guess", spread=None, second=None)
                design = replace(design, readings={**design.readings, measure.key: reading})
                continue
            try:
                design = measure.set(design, None)
            except (NonsenseError, TypeError):
                continue
        yield design


@pytest.mark.parametrize("seed", range(3))
def test_with_any_reading_taken_away_every_output_agrees_with_the_gate(seed: int) -> None:
    """Which wrong program this catches: a sheet that asks another question, as the template did of its row."""
    made = 0
    for design in lessened(Random(seed)):
        checked = with_spreads(check(design))
        answer = drillable(checked).answer
        for make in (partial(pages_of, "shop"), partial(pages_of, "gauge"), partial(template_pages, printing=on("roll36"))):
            try:
                pages = make(checked)
            except OwnerError:
                continue  # what can't be drawn can't be drilled by
            made += 1
            assert all(("NOT TO BE DRILLED" in said(page)) == (answer != "yes") for page in pages)
    assert made > 8


def test_the_band_counts_the_lines_that_it_would_cross() -> None:
    """Two lines in the box, one 1.1 mm above it and one 1.3 mm above it: three of them are too near."""
    level = [Line((5.0, y), (10.0, y), pens.FINE, "line") for y in (2.0, 8.0, 11.1, 11.3)]
    assert _crossed(Ground().plus(level), (0.0, 0.0, 20.0, 10.0)) == 3
    assert _crossed(Ground(), (0.0, 0.0, 20.0, 10.0)) == 0


def test_each_x_over_a_picture_of_the_shop_sheet_is_inside_its_own_picture() -> None:
    """Two pictures next to each other: the two lines of an X are as wide, and the X's don't meet."""
    design = changed(example_design(), mounts__0__drop=203.2, mounts__0__row=0)
    pages = shop_pages(check(design), DAY)
    lines = [m for page in pages for m in page.marks if isinstance(m, Line) and m.part == f"picture{CROSSED}"]
    assert len(lines) == 4
    spans = [sorted((line.a[0], line.b[0])) for line in lines]
    assert spans[0] == spans[1]
    assert spans[2] == spans[3]
    assert spans[0][1] < spans[2][0] - 10.0
    wide = pages[0].width
    assert all(0.0 < left < right < wide - 10.0 for left, right in spans)


@pytest.mark.parametrize("paper", paper_names())
def test_a_fouled_design_says_so_across_every_sheet_and_has_nothing_to_punch(paper: str) -> None:
    design = changed(example_design(), mounts__0__drop=203.2, mounts__0__row=0)
    pages = template_pages(check(design), on(paper))
    texts = read_with_pdfium(printed(pages))
    for page, read in zip(pages, texts, strict=True):
        if not page.name.startswith("Sheet"):
            continue
        assert "NOT TO BE DRILLED" in read.text
        assert not any(isinstance(m, Circle) and m.radius < 2.0 for m in page.marks)  # neither dot nor pilot
        band = next(m for m in page.marks if isinstance(m, Path) and m.part == "not to be drilled")
        (left, bottom), _, (_, top), _ = band.points
        assert top - bottom >= 16.0 - 1e-9
        for hole in (m for m in page.marks if isinstance(m, Circle) and is_hole(m)):
            x, y = hole.centre
            ends = {((x - 24, y - 24), (x + 24, y + 24)), ((x - 24, y + 24), (x + 24, y - 24))}
            heavy = [m for m in page.marks if isinstance(m, Line) and m.part.endswith("/ X")]
            assert sum(any(m.a == pytest.approx(a) and m.b == pytest.approx(b) for a, b in ends) for m in heavy) == 2
            assert not (left < x < band.points[1][0] and bottom < y < top)
    everything = " ".join(" ".join(read.text.split()) for read in texts)
    assert "do not drill on" not in everything


@pytest.mark.parametrize("paper", paper_names())
@pytest.mark.parametrize("name", ["twin-motor-launch", "shallow-well-skiff"])
def test_what_bars_are_measured_from_is_not_hidden(name: str, paper: str) -> None:
    """End ticks and the figures next to them, 1 mm clear of the band; the twin's inner sheets have bars in the drawing."""
    checked = check(from_text(design_text(name)))
    count = 0
    for page in (*template_pages(checked, on(paper)), *inside_pages(checked, on(paper))):
        band = next((m for m in page.marks if isinstance(m, Path) and m.part == "not to be drilled"), None)
        if band is None:
            continue
        (left, bottom), _, (right, top), _ = band.points
        for part in ("bar across", "bar up"):
            own = [m for m in page.marks if m.part == part]
            line = max((m for m in own if isinstance(m, Line)), key=lambda m: math.dist(m.a, m.b))
            for mark in own:
                ends = [mark.a, mark.b] if isinstance(mark, Line) else text_box(mark) if isinstance(mark, Text) else []
                if mark is line or all(math.dist(end, at) > 6.0 for end in ends for at in (line.a, line.b)):
                    continue
                low, high = min(y for _, y in ends), max(y for _, y in ends)
                first, last = min(x for x, _ in ends), max(x for x, _ in ends)
                assert low > top + 1.0 or high < bottom - 1.0 or first > right + 1.0 or last < left - 1.0, (page.name, mark)
                count += 1
    assert count > 8


@pytest.mark.parametrize("width", [120.0, 150.0, 200.0, 300.0, 500.0])
def test_the_reason_is_in_lines_alike_and_breaks_no_figure(width: float) -> None:
    """No last line of a word or two: none is shorter than two thirds of the longest; "7/32 in" stays whole."""
    reason = "This is a demonstration, not yours. Between the lower port hole and old lower port only 7/32 in of wood is left."
    lines = reason_lines(reason, width)
    assert " ".join(lines).replace("\N{NO-BREAK SPACE}", " ") == reason
    assert any("7/32\N{NO-BREAK SPACE}in" in line for line in lines)
    assert min(map(len, lines)) > 2 / 3 * max(map(len, lines))
    assert len(lines) == 1 or len(lines) <= len(pens.wrapped(reason, pens.FIGURE, width - 6.0, bold=True, condensed=True))


@pytest.mark.parametrize("paper", ["tabloid", "a3", "roll24"])
def test_the_band_is_below_the_holes_where_the_foot_of_the_sheet_is_free(paper: str) -> None:
    """The cross of a fouled hole reaches 24 mm down from its middle."""
    design = changed(example_design(), mounts__0__drop=203.2, mounts__0__row=0)
    count = 0
    for page in template_pages(check(design), on(paper)):
        holes = [m.centre[1] for m in page.marks if isinstance(m, Circle) and is_hole(m)]
        if holes:
            bar = next(m for m in page.marks if isinstance(m, Path) and m.part == "not to be drilled")
            assert bar.points[2][1] < min(holes) - 24.0
            count += 1
    assert count


@pytest.mark.parametrize(("repeats", "fewest"), [(1, 1), (8, 2)])
def test_each_sheets_band_is_as_wide_as_the_drawing_and_as_high_as_its_reason(repeats: int, fewest: int) -> None:
    """From 3 within the sheet, or from the drawing's side, to the other side. 16 high, and 3.7 more for each further line."""
    sheet_plan = plan(Needs((-300.0, 300.0), 400.0, (), (), FOOT, 4.0), paper("tabloid"), 6.35)
    left, right = -290.0, 280.0
    sheets = Board(sheet_plan, (), ((),) * len(sheet_plan.tiles), Ground())
    reason = Stamp("NOT TO BE DRILLED", "Measure the well's floor again. " * repeats)
    banded = with_bands(sheets, (left, -380.0, right, 0.0), reason, ())
    assert len(sheet_plan.tiles) > 1
    for tile, own in zip(sheet_plan.tiles, banded.own, strict=True):
        ring, *words = own
        assert isinstance(ring, Path)
        lines = len(words) - 1
        assert lines == 1 if fewest == 1 else lines >= fewest
        (first, low), _, (last, high), _ = ring.points
        assert (first, last) == (max(left, tile.core[0] + 3.0), min(right, tile.core[2] - 3.0))
        assert high - low == pytest.approx(16.0 + 3.7 * (lines - 1), abs=1e-9)
        assert tile.core[1] < low < high < min(0.0, tile.core[3])
        for word in words:
            assert isinstance(word, Text)
            assert all(first < x < last and low < y < high for x, y in text_box(word)), word


def test_where_the_drawing_leaves_no_free_place_the_band_stays_on_its_sheet_below_the_top_edge() -> None:
    """Lines at each millimetre of the drawing: it is at most 2 mm under the top edge and 4 mm under the sheet's upper end."""
    sheet_plan = plan(Needs((-300.0, 300.0), 400.0, (), (), FOOT, 4.0), paper("tabloid"), 6.35)
    sheets = Board(sheet_plan, (), ((),) * len(sheet_plan.tiles), Ground())
    lines = [Line((-300.0, -1.0 - k), (300.0, -1.0 - k), pens.FINE, "line") for k in range(400)]
    banded = with_bands(sheets, (-300.0, -400.0, 300.0, 0.0), Stamp("NOT TO BE DRILLED", "Measure the floor."), lines)
    assert sheet_plan.rows > 1
    for tile, own in zip(sheet_plan.tiles, banded.own, strict=True):
        ring = own[0]
        assert isinstance(ring, Path)
        assert ring.points[2][1] <= min(-2.0, tile.core[3] - 4.0) + 1e-9
        assert ring.points[0][1] >= tile.core[1]


def test_the_band_is_a_whole_rectangle_with_its_words_inside() -> None:
    """As black with white words, and as lines for a cutter: there the letters are as high as the printed capitals."""
    rect, reason = (10.0, 20.0, 190.0, 40.0), Stamp("NOT TO BE DRILLED", "Measure the floor first.")
    black, words, *lines = band(rect, reason)
    assert [line.text for line in lines if isinstance(line, Text)] == ["Measure the floor first."]
    ring, *strokes = (mark for mark in band(rect, reason, outlined=True) if isinstance(mark, Path))
    assert isinstance(black, Path)
    assert isinstance(words, Text)
    for outline in (black.points, ring.points):
        assert set(outline) == {(10.0, 20.0), (190.0, 20.0), (190.0, 40.0), (10.0, 40.0)}
    points = [at for stroke in strokes for at in stroke.points]
    low, high = (pick(y for _, y in points) for pick in (min, max))
    assert high - low == pytest.approx(0.74 * words.size, abs=0.01)
    assert low > 20.0
    assert high < 40.0
    assert min(x for x, _ in points) + max(x for x, _ in points) == pytest.approx(200.0, abs=0.01)


def test_the_warning_on_a_later_shop_page_is_white_on_black_and_in_the_middle_of_its_strip() -> None:
    """The black strip is painted first, so that it covers no word. The words are at most 0.5 mm off its middle."""
    pages = pages_of("shop", checked_of("fouled"))
    assert len(pages) > 1
    for page in pages[1:]:
        strip, *words = [mark for mark in page.marks if mark.part == "not to be drilled"]
        assert isinstance(strip, Path)
        assert strip.fill == "ink"
        low, high = strip.points[0][1], strip.points[2][1]
        assert len(words) == 2
        for text in words:
            assert isinstance(text, Text)
            corners = text_box(text)
            assert low < corners[0][1] < corners[2][1] < high
        assert isinstance(words[0], Text)
        assert words[0].at[1] + 0.37 * words[0].size == pytest.approx((low + high) / 2, abs=0.5)


BOXES = st.tuples(*[st.integers(0, 8)] * 2, *[st.integers(1, 8)] * 2).map(lambda n: (n[0], n[1], n[0] + n[2], n[1] + n[3]))


@given(BOXES, BOXES)
def test_boxes_overlap_where_they_share_an_area(first: Rect, second: Rect) -> None:
    assert _overlap(first, second) == (shapely.box(*first).intersection(shapely.box(*second)).area > 0.0)


def test_a_later_shop_page_has_the_warning_from_edge_to_edge() -> None:
    """A black strip as wide as the page's text, with white words in its middle, and where the reason is at its right end."""
    pages = pages_of("shop", checked_of("fouled"))
    strip = next(m for m in pages[1].marks if isinstance(m, Path) and m.part == WARNING)
    left, right = min(x for x, _ in strip.points), max(x for x, _ in strip.points)
    low, high = min(y for _, y in strip.points), max(y for _, y in strip.points)
    assert (len(set(strip.points)), strip.fill) == (4, "ink")
    assert (left, right) == pytest.approx((pages[1].width - right, right), abs=1e-9)
    assert right - left > 0.8 * pages[1].width
    words = {m.text: m for m in pages[1].marks if isinstance(m, Text) and m.part == WARNING}
    middle, where = next(m for text, m in words.items() if text != "why: page 1"), words["why: page 1"]
    assert (middle.anchor, where.anchor) == ("middle", "end")
    assert middle.at[0] == pytest.approx((left + right) / 2, abs=1e-9)
    assert where.at[0] == pytest.approx(right - 2.0, abs=1e-9)
    for text in (middle, where):
        assert low < text.at[1] < text.at[1] + 0.7 * text.size < high
