"""What nobody may drill by says so across every sheet, and has nothing to punch."""

from __future__ import annotations

import math

import msgspec
import pytest
from msgspec.structs import replace

from assets import design_text
from geometry.design.design_text import from_text
from geometry.design.whole import Reading
from geometry.judge.check import check
from geometry.tables.papers import paper_names
from templates_out.drawing.marks import Circle, Line, Path, Text
from templates_out.drawing.shapes import text_box
from templates_out.sheets import pens
from templates_out.sheets.blocks import reason_lines
from templates_out.sheets.inside import inside_pages
from templates_out.sheets.template import template_pages
from templates_out.sheets.why_not import why_not
from tests.designs import changed, example_design
from tests.readers import read_with_pdfium
from tests.templates_out.printed import is_hole, on, printed


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


def test_why_not() -> None:
    design = example_design()
    assert why_not(check(design)) is None
    assert "demonstration" in (why_not(check(replace(design, demonstration=True))) or "")
    fouled = changed(design, mounts__0__drop=203.2, mounts__0__row=0)
    assert "washer" in (why_not(check(fouled)) or "")
    unknown = changed(design, well__fillet_radius=None)
    assert why_not(check(unknown)) is not None
    guess = Reading(text="12", value=12.0, from_="centre", how="tape", state="guess", spread=None, second=None)
    guessed = replace(design, readings={"well.fillet_radius": guess})
    assert "guess" in (why_not(check(guessed)) or "")
    tight = msgspec.structs.replace(check(design), verdict="tight")
    assert why_not(tight) is None


@pytest.mark.parametrize("paper", paper_names())
@pytest.mark.parametrize("name", ["twin-motor-launch", "shallow-well-skiff"])
def test_what_bars_are_measured_from_is_not_hidden(name: str, paper: str) -> None:
    """End ticks and the figures beside them, 1 mm clear of the band; the twin's inner sheets have bars in the drawing."""
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
def test_the_reason_stands_in_lines_alike_and_breaks_no_figure(width: float) -> None:
    """No last line of a word or two: none is shorter than two thirds of the longest; "7/32 in" stays whole."""
    reason = "This is a demonstration, not yours. Between the lower port hole and old lower port only 7/32 in of wood is left."
    lines = reason_lines(reason, width)
    assert " ".join(lines).replace("\N{NO-BREAK SPACE}", " ") == reason
    assert any("7/32\N{NO-BREAK SPACE}in" in line for line in lines)
    assert min(map(len, lines)) > 2 / 3 * max(map(len, lines))
    assert len(lines) == 1 or len(lines) <= len(pens.wrapped(reason, pens.FIGURE, width - 6.0, bold=True, condensed=True))
