"""What nobody may drill by says so across every sheet, and has nothing to punch."""

from __future__ import annotations

import msgspec
import pytest
from msgspec.structs import replace

from geometry.design.whole import Reading
from geometry.judge.check import check
from geometry.tables.papers import paper_names
from templates_out.drawing.marks import Circle, Line, Path
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
    guess = Reading(text="12", value=12.0, from_="centre", how="tape", state="guess", spread=None)
    guessed = replace(design, readings={"well.fillet_radius": guess})
    assert "guess" in (why_not(check(guessed)) or "")
    tight = msgspec.structs.replace(check(design), verdict="tight")
    assert why_not(tight) is None
