"""The checks at the boat on the sheets: the taped-up paper's table, the survey with its ellipses, and blanks for both."""

from __future__ import annotations

import datetime
import math
from typing import Literal

import pytest
from msgspec.structs import replace

from app.printing.sheet_kinds import SHEET_KINDS, on_paper
from assets import design_text
from geometry.design.boat import OldHole
from geometry.design.checking_readings import SurveyDistance, SurveyReadings, TapedReading, TapedReadings
from geometry.design_text import fingerprint, from_text
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.survey.of_design import surveyed
from templates_out.drawing.marks import Line, Path, Text
from templates_out.drawing.printer import Printing, Stretch
from templates_out.layout.reading_pages import MARGIN
from templates_out.layout.seams import CHECK, seams_of
from templates_out.layout.taped_table import paper_without_joins, taped_paper
from templates_out.layout.template_text import before_you_punch, steps
from templates_out.pages.measuring.measuring_pages import measuring_pages
from templates_out.pages.shop.shop_pages import shop_pages
from templates_out.pages.template.template_pages import template_layout, template_set
from templates_out.pictures.survey_picture import survey_picture
from tests.designs import example_design, roomy

DATE = datetime.date(2026, 11, 30)
HOLE = OldHole(name="old lower port", at=(-120.0, -255.0), diameter=12.7,
               state="open", plug_diameter=None, reuse=False, drill=None)  # fmt: skip
READ = (("centreline", 120.0), ("top edge", 255.0), ("middle of the top edge", math.hypot(120.0, 255.0)))


def with_survey(off: float = 0.0):
    lengths = {**dict(READ), "top edge": dict(READ)["top edge"] + off}
    distances = tuple(
        SurveyDistance(face="outside", from_="old lower port", to=to, length=length, spread=None)
        for to, length in lengths.items()
    )
    return replace(roomy(), units="mm", old_holes=(HOLE,), survey=SurveyReadings(distances=distances))


def pages_of(design):
    """The shop sheet with the chances known: this boat may be drilled, so that there is something to punch."""
    return shop_pages(with_spreads(check(design)), DATE)


def texts(design) -> list[str]:
    return [mark.text for page in pages_of(design) for mark in page.marks if isinstance(mark, Text)]


def test_the_shop_sheet_has_each_line_of_the_table_with_its_figure_and_a_blank() -> None:
    design = replace(roomy(), units="mm")
    said = texts(design)
    rows = paper_without_joins(design).rows
    assert len(rows) == 6 + 8 + 4
    for row in rows:
        assert row.name.replace("starboard", "stbd").replace(" to the ", " to ") in said
        assert f"{row.expected:.1f}" in said
    blanks = [mark for page in pages_of(design) for mark in page.marks
              if isinstance(mark, Line) and mark.part == "blank"]  # fmt: skip
    assert len(blanks) == len(rows)


def test_a_figure_that_was_read_takes_its_blank_and_says_where_it_is_off() -> None:
    design = replace(roomy(), units="mm")
    row = paper_without_joins(design).rows[0]
    read = (TapedReading(row=row.name, read=row.expected + 3.0),)
    taped = replace(design, taped=TapedReadings(number=fingerprint(design), readings=read))
    assert any(text.endswith(" mm off") for text in texts(taped))
    old = replace(design, taped=TapedReadings(number="AAAA-AAAA", readings=read))
    assert texts(old) == texts(design)


def test_the_shop_sheet_says_how_the_survey_agrees_and_draws_its_ellipse() -> None:
    said = texts(with_survey())
    assert "Survey of the outside" in said
    assert any(text.startswith("All 3 readings agree within") for text in said)
    pages = pages_of(with_survey())
    drawn = [mark.part for page in pages for mark in page.marks if isinstance(mark, Path)]
    assert [part for part in drawn if part.startswith("ellipse")] == ["ellipse: old lower port"]


def test_the_ellipse_in_the_picture_has_the_axes_and_the_turn_that_were_calculated() -> None:
    design = with_survey()
    done = surveyed(design)[0]
    marks = survey_picture(design, "outside", done, 120.0, 80.0)
    ring = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "ellipse: old lower port")
    middle = tuple(sum(axis) / len(ring.points) for axis in zip(*ring.points, strict=True))
    reach = [math.dist(point, middle) for point in ring.points]
    ellipse = done.survey.placed[0].ellipse
    assert max(reach) / min(reach) == pytest.approx(ellipse.long / ellipse.short, rel=0.01)
    far = ring.points[reach.index(max(reach))]
    turned = math.degrees(math.atan2(far[1] - middle[1], far[0] - middle[0]))
    assert abs((turned - ellipse.turned + 90.0) % 180.0 - 90.0) < 4.0


def test_the_picture_of_a_survey_is_inside_its_frame_and_the_frame_on_the_page() -> None:
    """The frame is as wide as the text: from the page's margin at the left to that at the right."""
    pages = pages_of(with_survey())
    page = next(page for page in pages if any(mark.part.startswith("ellipse") for mark in page.marks))
    ring = next(mark for mark in page.marks if isinstance(mark, Path) and mark.part.startswith("ellipse"))
    frames = [mark.points for mark in page.marks if isinstance(mark, Path) and mark.closed and len(mark.points) == 4]
    frame = next(points for points in frames if points[1][0] - points[0][0] == pytest.approx(page.width - 2 * MARGIN))
    (left, low), _, (right, high), _ = frame
    assert (left, right) == pytest.approx((MARGIN, page.width - MARGIN))
    assert 0.0 < low < high < page.height
    assert all(left < x < right and low < y < high for x, y in ring.points)


def test_distances_that_do_not_agree_are_dashed_and_numbered() -> None:
    design = with_survey(off=40.0)
    done = surveyed(design)[0]
    marks = survey_picture(design, "outside", done, 120.0, 80.0)
    wrong = {mark.text for mark in marks if isinstance(mark, Text) and mark.part == "wrong"}
    assert wrong == {str(index + 1) for index in done.survey.suspects}
    assert all(bool(mark.pen.dash) == (mark.part.removeprefix("distance ") in wrong)
               for mark in marks if isinstance(mark, Line) and mark.part.startswith("distance"))  # fmt: skip


@pytest.mark.parametrize(("face", "down"), [("outside", "255.0 mm down"), ("inside", "255.0 mm down inside")])
def test_the_shop_sheet_says_on_which_face_a_point_is(face: Literal["outside", "inside"], down: str) -> None:
    distances = tuple(SurveyDistance(face=face, from_="port mark", to=to, length=length, spread=None) for to, length in READ)
    said = texts(replace(roomy(), units="mm", survey=SurveyReadings(distances=distances)))
    assert f"Survey of the {face}" in said
    place = f"120.0 mm to port, {down}, within "
    assert any(place in text.replace("\N{NO-BREAK SPACE}", " ") for text in said)


def test_the_measuring_sheet_has_a_blank_for_each_distance_of_a_survey_and_none_without() -> None:
    def said(design) -> list[str]:
        return [mark.text for page in measuring_pages(design, DATE) for mark in page.marks if isinstance(mark, Text)]

    begun = said(with_survey())
    assert "1  old lower port to centreline [mm]" in begun
    assert begun.count("distance [mm]") == 4
    assert "Survey" not in said(replace(with_survey(), survey=None))


def test_each_seam_of_a_template_has_its_join_check_in_the_table_with_the_printed_length() -> None:
    """The sheets carry half of each check; the other half's words have the figure, which is read here for comparison."""
    design = example_design()
    checked, printing = check(design), Printing(DATE, "letter")
    plan, pages = template_set(checked, printing)
    paper = taped_paper(design, plan, pages, template_layout(checked, printing).stretch)
    joins = {row.name: row.expected for row in paper.rows if row.kind == "join"}
    assert set(joins) == {"join A-B", "join A-C", "join B-D", "join C-D"}
    printed = [mark.text for page in pages for mark in page.marks
               if isinstance(mark, Text) and mark.part == "join check" and mark.text != "join check"]  # fmt: skip
    assert sorted(f"{length:g}" for length in joins.values()) == sorted(
        f"{float(text.split('(')[1].rstrip(')')) if text.startswith(('1 in', '2 in', '3 in')) else float(text.split()[0]):g}"
        for text in printed
    )
    assert {(seam.upright, round(seam.at, 6)) for seam in paper.seams} == {
        *((True, round(u, 6)) for u in plan.seams_across), *((False, round(v, 6)) for v in plan.seams_down),
    }  # fmt: skip


def test_no_sheet_gives_one_length_for_join_checks_of_different_lengths() -> None:
    """On this boat's paper one check has room for 1 in only. The steps said that each measures 3 in."""
    design = from_text(design_text("cap-lip-launch"))
    checked, printing = check(design), Printing(DATE, "letter")
    plan, pages = template_set(checked, printing)
    table = taped_paper(design, plan, pages, template_layout(checked, printing).stretch)
    assert len({row.expected for row in table.rows if row.kind == "join"}) == 2
    for said in (steps(plan, printing, ()), before_you_punch(plan, ())):
        assert [item.text for item in said if "join check" in item.text and "76.2" in item.text] == []


@pytest.mark.parametrize("paper", ["letter", "tabloid"])
def test_the_shop_sheet_has_a_line_for_each_join_of_the_template_that_is_printed_with_it(paper: str) -> None:
    """A binder takes no tabloid: the shop sheet goes on letter then, and has the joins of the sheets on tabloid."""
    checked, printing = with_spreads(check(replace(roomy(), units="mm"))), Printing(DATE, paper)
    kind = SHEET_KINDS["shop"]
    pages = kind.pages(checked, on_paper(kind, checked.design, printing))
    plan, sheets = template_set(checked, printing)
    joins = [row for row in taped_paper(checked.design, plan, sheets, Stretch()).rows if row.kind == "join"]
    assert len(joins) == len(seams_of(plan)) > 0
    marks = [mark for page in pages for mark in page.marks]
    said = {mark.text for mark in marks if isinstance(mark, Text)}
    assert {row.name for row in joins} <= said
    assert {f"{row.expected - row.within:.1f} to {row.expected + row.within:.1f}" for row in joins} <= said
    assert {text for text in said if text.startswith("join ")} == {row.name for row in joins}
    count = len(paper_without_joins(checked.design).rows) + len(joins)
    assert len([mark for mark in marks if isinstance(mark, Line) and mark.part == "blank"]) == count
    assert all(page.width < 216.0 for page in pages)


def test_a_template_is_laid_on_paper_once_for_its_own_sheets_and_the_table_of_the_shop_sheet() -> None:
    checked = with_spreads(check(roomy()))
    assert template_set(checked, Printing(DATE))[1] is template_set(checked, Printing(DATE))[1]
    assert template_set(checked, Printing(DATE, "a3"))[0] != template_set(checked, Printing(DATE))[0]


def test_only_the_line_of_a_join_check_counts_as_one() -> None:
    """Without its checks a paper has none, though other lines of their length begin on the same seam."""
    design = example_design()
    checked, printing = check(design), Printing(DATE, "letter")
    plan, pages = template_set(checked, printing)
    disguised = tuple(
        replace(page, marks=tuple(replace(mark, part="ruler") if getattr(mark, "part", "") == CHECK else mark
                                  for mark in page.marks))
        for page in pages
    )  # fmt: skip
    joins = [[row for row in taped_paper(design, plan, sheets, Stretch()).rows if row.kind == "join"]
             for sheets in (pages, disguised)]  # fmt: skip
    assert joins[0]
    assert not joins[1]


def test_what_is_looked_at_before_punching_is_what_that_paper_has() -> None:
    """Several sheets have crosses to meet and joins to check. One sheet has none."""
    checked = check(example_design())
    for paper, joined in (("letter", True), ("roll24", False)):
        plan, _ = template_set(checked, Printing(DATE, paper))
        assert (len(plan.tiles) > 1) == joined
        said = " ".join(item.text for item in before_you_punch(plan, ()))
        assert ("The crosses meet. Each join check is as printed." in said) == joined
        assert ("The paper is flat, not stretched." in said) != joined
