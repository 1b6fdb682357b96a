"""The shop sheet as values and as a file: what it says, that nothing is clipped or overlaps, how it is read back."""

from __future__ import annotations

import datetime
import math

import pytest
from msgspec.structs import replace

from geometry.design.design_text import fingerprint
from geometry.judge.check import check
from templates_out.drawing.marks import Circle, Path
from templates_out.drawing.pdf import pdf_bytes
from templates_out.drawing.shapes import text_box
from templates_out.sheets import shop_words as says
from templates_out.sheets.shop import shop_pages, view_pages
from tests.designs import changed, example_design
from tests.readers import texts as texts_in
from tests.templates_out.viewing import DEMONSTRATIONS, demonstration, of, overlaps, texts, variants

DAY = datetime.date(2026, 11, 25)
NBSP = "\N{NO-BREAK SPACE}"


def said(pages):
    return [text.text.replace(NBSP, " ") for page in pages for text in texts(page.marks)]


def whole(pages):
    return " ".join(said(pages))


FEW = ("without transom__rake", "without mounts__0__drop", "without mounts__0__lower_hardware__hole")
LOOKED_AT = [name for name in variants() if name in FEW or not name.startswith("without")]


@pytest.mark.parametrize(
    ("name", "paper"), [*((name, "letter") for name in LOOKED_AT), *((name, "a4") for name in DEMONSTRATIONS)]
)
def test_nothing_overlaps_or_leaves_the_page(name, paper):
    """Text keeps 13 mm from every edge of the page (14 but for a rounding of what the ends of glyphs need)."""
    pages = shop_pages(check(variants()[name]), DAY, paper)
    for number, page in enumerate(pages, start=1):
        assert not overlaps(texts(page.marks))
        for text in texts(page.marks):
            for x, y in text_box(text):
                assert 13.0 <= x <= page.width - 13.0, text.text
                assert 13.0 <= y <= page.height - 13.0, text.text
        words = said([page])
        assert f"page {number} of {len(pages)}" in words
        assert any(
            f"design {fingerprint(variants()[name])}" in line and "2026-11-25" in line and "revision" in line
            for line in words
        )
    assert len(pages) <= 2 + 2 * max(1, len(variants()[name].mounts))


def test_the_answer_is_one_line():
    assert says.answer(example_design()) == (
        "Four holes, square to the face. Upper bolts through the bracket’s third hole from the top."
    )
    tilted = changed(example_design(), mounts__0__lower_tilt=6.0, mounts__0__row=0)
    assert says.answer(tilted) == (
        "Four holes, upper pair square to the face, lower pair tilted up 6° going in. "
        "Upper bolts through the bracket’s top hole."
    )
    assert says.answer(changed(example_design(), mounts=())) == "No holes: nothing here is bolted through the transom."


def test_the_hole_table_in_both_units():
    """Lower: 50.8 + 165.1 = 215.9 below the top edge; the inside edge lies 44·tan 14° = 10.970 lower: 204.93."""
    rows = [[cell.replace(NBSP, " ") for cell in row] for row in says.hole_rows(example_design(), 0)]
    assert rows[0] == [
        "upper port", "6-7/16 in port (163.5)", "2 in (50.8)", "1-9/16 in (39.8)", "17/32 in (13.5)", "3-1/4 in",
        "from outside",
    ]  # fmt: skip
    assert rows[3][:4] == ["lower starboard", "4-15/16 in stbd (125.4)", "8-1/2 in (215.9)", "8-1/16 in (204.9)"]
    metric = [cell.replace(NBSP, " ") for cell in says.hole_rows(changed(example_design(), units="mm"), 0)[0]]
    assert metric[1:3] == ["163.5 mm port (6-7/16)", "50.8 mm (2)"]


def test_check_distances_come_from_unrounded_places():
    """Pairs 2·163.5125 = 327.025 and 2·125.4125 = 250.825; sides √(38.1² + 165.1²) = 169.439 (6-43/64 in is 169.465);

    diagonals √(288.925² + 165.1²) = 332.770 (13-3/32 in is 332.581, 13-7/64 in is 332.978: the first is nearer).
    """
    sides = math.hypot(163.5125 - 125.4125, 165.1)
    cross = math.hypot(163.5125 + 125.4125, 165.1)
    assert (sides, cross) == pytest.approx((169.439, 332.770), abs=1e-3)
    assert says.centre_checks(example_design(), 0).replace(NBSP, " ") == (
        "Check, centre to centre: upper pair 12-7/8 in (327.0), lower pair 9-7/8 in (250.8), "
        "sides 6-43/64 in (169.4), both diagonals 13-3/32 in (332.8)."
    )


def test_the_step_between_the_edges_is_said():
    assert "7/16 in (11.0) lower than the outside one" in says.edge_words(example_design()).replace(NBSP, " ")
    assert "stands level" in says.edge_words(changed(example_design(), transom__top_cut="square"))
    assert "not known" in says.edge_words(changed(example_design(), transom__rake=None))


def test_what_to_buy():
    """Four bolts of 3-1/4 in; 61.8 grip + 15.47 nut + 2 pitches of 1.954 = 81.18, next quarter inch up is 82.55."""
    lines = says.to_buy(example_design())
    assert lines[0] == (4, "hex bolts 1/2-13 x 3-1/4 in, A4-70 or better, 1-1/4 in of thread. 3-1/2 in would do.")
    assert [count for count, _ in lines] == [4, 8, 4, 4]
    assert lines[1][1].startswith("nuts 1/2-13, ASME B18.16.6 NE, A4")
    assert lines[3][1] == "inside washers 1-1/2 x 17/32 x 1/8 in (38.1 x 13.5 x 3)"
    assert says.stages(example_design()) == ["1/8, 1/4, 3/8 and 17/32 in"]
    assert says.stages(changed(example_design(), units="mm")) == ["3, 6, 10 and 13.5 mm"]


def test_the_used_hole_of_the_bracket_is_filled():
    first = shop_pages(check(example_design()), DAY)[0]
    holes = [of(first.marks, Circle, f"bracket hole {row}")[0] for row in range(5)]
    assert [hole.fill for hole in holes] == [None, None, "ink", None, None]
    assert [hole.centre[1] for hole in holes] == sorted((hole.centre[1] for hole in holes), reverse=True)
    assert "the bolts go here: third hole from the top, motor two up" in said([first])


def test_every_finding_is_there_and_the_worst_comes_first():
    design = changed(example_design(), mounts__0__drop=203.2, mounts__0__row=1)
    checked = check(design)
    rows = says.checks(checked)
    order = ["fouled", "not known", "tight", "clear", "note"]
    places = [order.index(state) for state, *_ in rows]
    assert places == sorted(places)
    assert rows[0][1].replace(NBSP, " ") == "The lower washer is fouled by 1-7/16 in. Both sides alike."
    pages = shop_pages(checked, DAY)
    words = whole(pages)
    for state, text, _, _ in rows:
        assert all(word in words for word in text.replace(NBSP, " ").split())
        assert state in words
    assert len(rows) < len(checked.findings)


def test_limits_are_said():
    rows = {text: limits for _, text, _, limits in says.checks(check(example_design()))}
    washer = next(limits for text, limits in rows.items() if text.startswith("The lower washer"))
    seat = next(limits for text, limits in rows.items() if text.startswith("Head and washer"))
    assert washer == "advised 5/64 in, least 0 in"
    assert seat == "advised 1°, most 2.86°"


def test_not_to_be_drilled_stands_on_every_page_of_a_fouled_design():
    fouled = shop_pages(check(changed(example_design(), mounts__0__drop=203.2, mounts__0__row=1)), DAY)
    for page in fouled:
        assert "NOT TO BE DRILLED" in said([page])
    assert "NOT TO BE DRILLED" not in said(shop_pages(check(example_design()), DAY))
    demo = shop_pages(check(replace(example_design(), demonstration=True)), DAY)
    assert all("NOT TO BE DRILLED" in said([page]) for page in demo)


def test_gates_and_cautions():
    words = said(shop_pages(check(example_design()), DAY))
    assert words.count("STOP") >= 6
    text = " ".join(words)
    for needed in ("maker’s manual", "local codes", "licensed", "if chips are wet or dark.", "1/8 in (3.2 mm)"):
        assert needed in text


def test_several_motors_have_a_page_each():
    pages = shop_pages(check(demonstration("twin-motor-launch")), DAY)
    titles = [texts(page.marks)[0].text for page in pages]
    assert titles[:2] == ["Shop sheet: port motor", "Shop sheet: starboard motor"]


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_read_back_from_the_file(name):
    pages = shop_pages(check(demonstration(name)), DAY, "a4")
    data = pdf_bytes(pages, "shop sheet", DAY)
    assert data == pdf_bytes(pages, "shop sheet", DAY)
    found = texts_in(data)
    assert len(found) == len(pages)
    assert "The holes" in "".join(found[0])


def test_pictures_alone():
    face, cut = view_pages(check(demonstration("shallow-well-skiff")))
    for page in (face, cut):
        assert not overlaps(texts(page.marks))
        for text in texts(page.marks):
            assert all(0 <= x <= page.width and 0 <= y <= page.height for x, y in text_box(text))
    assert {"PORT", "STARBOARD", "seen from astern"} <= set(said([face]))
    assert {"aft", "forward"} <= set(said([cut]))
    assert of(face.marks, Path, "bracket:0")
