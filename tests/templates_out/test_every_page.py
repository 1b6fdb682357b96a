"""The checks of every page of every paper: legible, marked with its design, read back true, the same each time."""

from __future__ import annotations

from io import BytesIO

import pikepdf
import pytest
from msgspec.structs import replace

from app.printing.sheet_kinds import SHEET_KINDS
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.tables.papers import paper_names
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.fonts import missing
from templates_out.drawing.labels import apart, thing
from templates_out.drawing.marks import Line, Path, Pen, Text
from templates_out.drawing.printer import Correction
from templates_out.drawing.transforms import text_box
from tests.designs import clamp_on_mount, example_design
from tests.templates_out.kinds import KINDS, TO_READ, boat_of, pages_of
from tests.templates_out.printed import (
    BOATS,
    PAPERS,
    assert_bars_true,
    assert_legible,
    assert_marked,
    assert_read_back,
    boat,
    cleared,
    on,
    printed,
    said,
)

ROLLS = [name for name in paper_names() if name.startswith("roll")]


def papers_of(kind: str) -> list[str]:
    """On which papers a kind is printed: what is read is not printed on a roll."""
    return [name for name in paper_names() if kind not in TO_READ or name not in ROLLS]


VIEWS = {
    "template": ("SEEN FROM", "ASTERN"),
    "inside": ("INSIDE,", "SEEN", "LOOKING AFT", "Do not drill by it."),
    "plate": ("SEEN FROM INSIDE",),
}
EVERYWHERE = [(kind, name, paper) for kind in KINDS for name in BOATS for paper in papers_of(kind)]


@pytest.mark.parametrize(("kind", "name", "paper"), EVERYWHERE)
def test_no_two_labels_overlap_and_none_is_across_a_heavy_line(kind: str, name: str, paper: str) -> None:
    """Drillable or not; within the margins, every glyph in the font, design, revision, date and bars on each page."""
    for page in (*pages_of(kind, name, paper), *pages_of(kind, name, paper, False)):
        assert_legible(page)
        assert_marked(page, boat_of(kind, name), kind not in TO_READ)


@pytest.mark.parametrize("paper", paper_names())
@pytest.mark.parametrize("name", BOATS)
def test_thin_lines_that_are_measured_keep_clear_of_words(name: str, paper: str) -> None:
    """A check line runs through no word of the frame nor of a seam; a join check stays 1 mm from all words but its own."""
    frame = ("up", "map", "title", "view", "fold", "tape here", "strip", "waste", "join check")
    for page in (*pages_of("template", name, paper, False), *pages_of("inside", name, paper, False),
                 *pages_of("template", name, paper), *pages_of("inside", name, paper)):  # fmt: skip
        words = [(mark, thing("text", text_box(mark))) for mark in page.marks if isinstance(mark, Text)]
        for line in (mark for mark in page.marks if isinstance(mark, Line)):
            own = thing("line", (line.a, line.b))
            if line.part.startswith("check: "):
                crossed = [text.text for text, box in words if text.part in frame and apart(own, box) <= 0.0]
                assert not crossed, (page.name, line.part)
            elif line.part == "join check":
                near = [text.text for text, box in words if text.part != "join check" and apart(own, box) < 1.0]
                assert not near, page.name


@pytest.mark.parametrize("paper", paper_names())
@pytest.mark.parametrize("kind", KINDS)
def test_two_readers_find_every_mark_of_every_paper(kind: str, paper: str) -> None:
    """Circles and lines within 0.02 mm, as pikepdf and PDFium read them; bars as long as they say."""
    if paper not in papers_of(kind):
        paper = "letter"
    name = "thrice-drilled-runabout" if kind == "plate" else "example"
    pages = pages_of(kind, name, paper)
    assert pages
    assert_read_back(pages)
    if kind not in TO_READ:
        assert_bars_true(pages)


@pytest.mark.parametrize("name", BOATS)
@pytest.mark.parametrize("kind", KINDS)
def test_two_readers_find_every_mark_of_every_boat(kind: str, name: str) -> None:
    for paper in PAPERS:
        pages = pages_of(kind, name, paper)
        assert pages or kind == "plate"  # few boats have one
        if pages:
            assert_read_back(pages)


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_design_and_date_give_the_same_bytes(kind: str) -> None:
    design = boat_of(kind, "thrice-drilled-runabout")
    again = SHEET_KINDS[kind].pages(cleared(design), on("a4"))
    assert printed(again) == printed(pages_of(kind, "thrice-drilled-runabout", "a4"))


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in (*TO_READ, "plate")])
def test_a_motor_that_clamps_on_has_nothing_to_drill_by(kind: str) -> None:
    design = replace(example_design(), mounts=(clamp_on_mount(),))
    with pytest.raises(OwnerError, match="no bolts: its bracket clamps on,") as caught:
        SHEET_KINDS[kind].pages(check(design), on())
    assert "\n" not in str(caught.value)
    two = replace(design, mounts=(clamp_on_mount(offset=-150.0), clamp_on_mount(name="other motor", offset=150.0)))
    with pytest.raises(OwnerError, match="no bolts: its brackets clamp on,"):
        SHEET_KINDS[kind].pages(check(two), on())
    with pytest.raises(OwnerError, match=r"No motor hangs on this boat yet, so .* Hang one first"):
        SHEET_KINDS[kind].pages(check(replace(design, mounts=())), on())


@pytest.mark.parametrize("kind", ["template", "inside", "coupons", "gauge", "bars"])
def test_a_margin_that_leaves_too_little_is_one_sentence(kind: str) -> None:
    with pytest.raises(OwnerError, match="margin of 60 mm") as caught:
        SHEET_KINDS[kind].pages(cleared(example_design()), on(margin=60.0))
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("style", [(bold, italic, condensed) for bold in (0, 1) for italic in (0, 1) for condensed in (0, 1)])
def test_the_fonts_have_the_fractions_and_the_marks(style: tuple[int, int, int]) -> None:
    """Eighths, prime marks, scissors, arrows and signs; every string of every page is checked against its font above."""
    bold, italic, condensed = map(bool, style)
    assert missing("⅛⅜⅝⅞″′✂◄►▲°×±−’“”…·", bold, italic, condensed) == ""


def test_lines_differ_by_dash_and_weight() -> None:
    """Black alone is enough: no two kinds of line that meet on a sheet look alike, but the old hole has its chords."""
    kinds = {
        name: (pen.weight, pen.dash)
        for name, pen in vars(pens).items()
        if isinstance(pen, Pen) and name not in ("EDGE", "HEAVY", "FITTING", "OLD")
    }
    assert len(set(kinds.values())) == len(kinds) > 12
    assert (pens.OLD.weight, pens.OLD.dash) == kinds["PILOT"]
    assert all(weight >= 0.13 for weight, _ in kinds.values())


@pytest.mark.parametrize("kind", KINDS)
def test_all_is_black_on_white(kind: str) -> None:
    """No grey, no tint: the only colours set in a file are black and white (ISO 32000-1, 8.6.8: G and g)."""
    with pikepdf.open(BytesIO(printed(pages_of(kind, "thrice-drilled-runabout", "letter", False)))) as pdf:
        for page in pdf.pages:
            for instruction in pikepdf.parse_content_stream(page):
                assert str(instruction.operator) not in ("RG", "rg", "K", "k", "SC", "sc", "SCN", "scn", "sh", "gs")
                if str(instruction.operator) in ("G", "g"):
                    assert float(str(instruction.operands[0])) in (0.0, 1.0)


@pytest.mark.parametrize("paper", paper_names())
@pytest.mark.parametrize("name", BOATS)
@pytest.mark.parametrize("kind", ["template", "inside", "plate"])
def test_every_sheet_says_from_where_it_is_seen_and_every_seam_can_be_checked(kind: str, name: str, paper: str) -> None:
    """Both sides by name, the view, the arrow; two crosses or more on each seam, and one check across it."""
    for drillable in (True, False):
        sheets = [page for page in pages_of(kind, name, paper, drillable) if page.name.startswith("Sheet")]
        for page in sheets:
            words = said(page)
            for text in ("◄", "►", "PORT", "STARBOARD", "UP", *VIEWS[kind]):
                assert text in words, f"{page.name} lacks {text}"
            left = next(m for m in page.marks if isinstance(m, Text) and m.text.startswith("◄"))
            right = next(m for m in page.marks if isinstance(m, Text) and m.text.endswith("►"))
            assert left.at[0] + pens.width_of(left) / 2 < right.at[0] + pens.width_of(right) / 2, f"{page.name}: sides crossed"
        halves = [m for page in sheets for m in page.marks if isinstance(m, Text) and m.part == "join check"]
        crosses = [m for page in sheets for m in page.marks if isinstance(m, Path) and m.part == "matching cross"]
        trims = [m for page in sheets for m in page.marks if isinstance(m, Line) and m.part == "trim"]
        assert sum(half.text == "join check" for half in halves) * 2 == len(halves)
        # Paper that nobody may drill by has heavy crosses and the band: one seam of many may lack its check.
        assert len(trims) - len(halves) // 2 in ((0,) if drillable or len(trims) < 6 else (0, 1))
        assert len(crosses) >= 4 * len(trims)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", BOATS)
@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in TO_READ])
def test_what_a_correction_says_has_its_place_too(kind: str, name: str, paper: str) -> None:
    sheet, design = SHEET_KINDS[kind], boat(name)
    printing = on(paper, correction=Correction(1.0071, 0.9962, (0.0017, 0.001)))
    for page in sheet.pages(cleared(design), printing) if sheet.there(design) else ():
        assert_legible(page)
        assert "no drawing" in said(page) or "Corrected for your printer" in said(page)
