"""The measuring sheet: its list holds everything that is measured, nothing overlaps, every balloon leads somewhere."""

from __future__ import annotations

import datetime
import math
import re
from itertools import combinations, pairwise

import numpy as np
import pytest
from msgspec.structs import replace

from geometry.asking.question_order import questions
from geometry.asking.question_words import how_to_read, title
from geometry.design.boat import Block
from geometry.design.design import Reading
from geometry.design.validity import NonsenseError, known
from geometry.design_text import fingerprint
from geometry.edits.confirm_or_buy import bought, confirmed, parts
from geometry.edits.reading_order import deciding_readings
from geometry.readings.measures import measure, measures, put_path
from templates_out.drawing.marks import Circle, Line, Path
from templates_out.drawing.pdf import pdf_bytes
from templates_out.drawing.sheet_figures import printed
from templates_out.drawing.transforms import text_box
from templates_out.layout.balloons import BALLOON, _by_cost, balloons
from templates_out.layout.reading_pages import ROW
from templates_out.pages.measuring.measuring_items import FIRST_OF_ALL, items
from templates_out.pages.measuring.measuring_keys import _letters, _on_face
from templates_out.pages.measuring.measuring_pages import BLANK, UNDER, how_to, measuring_pages
from templates_out.pictures.usual_sizes import sketched
from templates_out.views.viewport import fit
from tests.designs import all_guesses, changed, example_design, numbers_of, sure
from tests.readers import texts as texts_in
from tests.templates_out.viewing import DEMONSTRATIONS, demonstration, of, overlaps, texts, variants

DAY = datetime.date(2026, 11, 25)
NBSP = "\N{NO-BREAK SPACE}"


def said(pages):
    return [text.text.replace(NBSP, " ") for page in pages for text in texts(page.marks)]


def unknown():
    """The worked example with every number that may be unknown unknown."""
    design = example_design()
    for path in numbers_of(design):
        try:
            design = put_path(design, path, None)
        except (NonsenseError, TypeError):
            continue
    return design


EVERY = {**variants(), "unknown": unknown()}
LOOKED_AT = [name for name in EVERY if not name.startswith("without")]


def parts_asked(design):
    """Return the keys of the parts that the sheet has blanks for."""
    return {key for item in items(design) for key in item.keys if "_hardware." in key and not key.endswith(".torque")}


def test_parts_to_buy_have_no_blanks_and_others_keep_theirs():
    """Both pairs are alike: the sheet asks for the upper pair's, or for the lower pair's where the upper is to buy."""
    design = example_design()
    upper, lower = ({row.key for row in parts(design, 0, pair)} for pair in ("upper", "lower"))
    assert parts_asked(design) == upper
    assert parts_asked(bought(design, parts(design, 0, "upper"))) == lower
    assert parts_asked(bought(design, parts(design, 0, "lower"))) == upper
    both = bought(bought(design, parts(design, 0, "upper")), parts(design, 0, "lower"))
    assert parts_asked(both) == set()
    assert parts_asked(confirmed(both, parts(design, 0, "upper"))) == upper


@pytest.mark.parametrize(("name", "paper"), [*((name, "letter") for name in EVERY), *((name, "a4") for name in LOOKED_AT)])
def test_few_pages_and_nothing_overlaps(name, paper):
    """Two or three; four where there are more than five old holes. Text keeps 13 mm from every edge."""
    design = EVERY[name]
    units = ("in", "mm") if name in DEMONSTRATIONS else (design.units,)
    for unit in units:
        pages = measuring_pages(replace(design, units=unit), DAY, paper)
        assert 2 <= len(pages) <= (4 if len(design.old_holes) > 5 else 3)
        for number, page in enumerate(pages, start=1):
            shown = texts(page.marks)
            assert not overlaps(shown)
            for text in shown:
                assert not text.text.endswith("…"), "cut off"
                assert all(13 <= x <= page.width - 13 and 13 <= y <= page.height - 13 for x, y in text_box(text)), text.text
            assert f"page {number} of {len(pages)}" in said([page])
            assert any(f"design {fingerprint(design)}" in line for line in said([page]))


@pytest.mark.parametrize("name", EVERY)
def test_the_list_holds_what_is_measured_once(name):
    """Left out: choices, second readings, and a twin's repeated readings. Nothing else, and nothing twice."""
    design = EVERY[name]
    keys = [key for item in items(design) for key in item.keys]
    assert len(keys) == len(set(keys))
    for entry in measures(design):
        if entry.free or entry.second or entry.key == "well.profile" or entry.key.endswith(".wedge"):
            continue
        if entry.key.startswith("mounts.1"):
            continue
        if ".bracket.outline" in entry.key:  # by its numbers where they are known, else as a shape
            by_numbers = "mounts.0.bracket.outline" not in keys
            assert by_numbers == (known(design.mounts[0].bracket.outline) is not None)
            assert (entry.key in keys) == (by_numbers != (entry.kind == "shape"))
            continue
        twin = entry.key.replace("lower_hardware", "upper_hardware")
        assert entry.key in keys or twin in keys, entry.key
    most = {"old_holes": 6}  # across and down once more
    numbered = [item for item in items(design) if not item.corners]
    assert all(1 <= len(item.blanks) <= most.get("".join(item.keys[:1]).partition(".")[0], 3) for item in numbered)
    numbers = [int(mark.part.removeprefix("item ")) for page in measuring_pages(design, DAY) for mark in page.marks
               if mark.part.startswith("item ")]  # fmt: skip
    assert numbers == list(range(1, len(items(design)) + 1))


def test_a_blank_for_each_reading():
    """Each 21 mm wide; a shape's is as wide as three with the 2 mm between."""
    pages = measuring_pages(example_design(), DAY)
    blanks = [line for page in pages for line in of(page.marks, Line, "blank")]
    widths = [line.b[0] - line.a[0] for line in blanks]
    shapes = sum(item.shape for item in items(example_design()))
    assert len(blanks) == sum(len(item.blanks) for item in items(example_design()))
    assert sum(width == pytest.approx(3 * BLANK + 4, abs=1e-6) for width in widths) == shapes
    assert sum(width == pytest.approx(BLANK, abs=1e-6) for width in widths) == len(blanks) - shapes


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_each_blank_of_a_length_has_its_unit_and_the_words_keep_off_its_line(name, unit):
    """The tops of capitals are 0.73 of the size above the base: at least 0.6 mm of air to the line."""
    design = replace(EVERY[name], units=unit)
    for item in items(design):
        for key, blank in zip(item.keys, item.blanks, strict=False):
            if sure(measure(design, key)).kind in ("length", "shape"):
                assert blank.unit == unit, key
    for page in measuring_pages(design, DAY):
        for line in of(page.marks, Line, "blank"):
            above = [text for text in texts(page.marks) if line.a[0] - 1 <= text_box(text)[0][0] <= line.b[0]
                     and 0 <= text.at[1] - line.a[1] < 8 and text.size != UNDER]  # fmt: skip
            assert all(text.at[1] - 0.25 * text.size - line.a[1] >= 0.3 for text in above), above
            under = [text for text in texts(page.marks) if line.a[0] - 1 <= text_box(text)[0][0] <= line.b[0]
                     and 0 < line.a[1] - text.at[1] < 5]  # fmt: skip
            assert all(line.a[1] - text.at[1] - 0.73 * text.size >= 0.6 for text in under), under


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_no_line_breaks_a_figure_at_its_fraction(name, paper):
    """A line that begins with 15/16 in has lost the 4 before it: the owner would measure at the wrong place."""
    for page in measuring_pages(EVERY[name], DAY, paper):
        how = [text.text for text in texts(page.marks) if text.size == ROW]
        for before, line in pairwise(how):
            assert not (re.search(r" \d+$", before) and re.match(r"\d+/\d+", line)), (before, line)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_a_boat_that_is_all_guesses_has_its_sheet(name, unit):
    """The runabout has a backing plate, whose corners are seen in no key drawing: its sheet could not be made once."""
    design = replace(all_guesses(EVERY[name]), units=unit)
    pages = measuring_pages(design, DAY, "letter" if unit == "in" else "a4")
    blanks = [line for page in pages for line in of(page.marks, Line, "blank")]
    assert len(blanks) == sum(len(item.blanks) + 2 * len(item.corners) for item in items(design))


def test_an_old_hole_has_a_second_blank_for_its_place_and_one_for_its_plug_below_its_width():
    """Columns of 21 mm with 2 mm between: the blanks below are right under the others, by line and words."""
    design = EVERY["thrice-drilled-runabout"]
    plugged = next(item for item in items(design) if item.keys[:1] == ("old_holes.1.across",))
    assert [blank.word for blank in plugged.blanks] == ["across", "down", "diameter", "across again", "down again", "plug"]
    assert [blank.known for blank in plugged.blanks] == ["4-15/16", "10", "17/32", "", "", "2-1/4 ?"]
    open_one = next(item for item in items(design) if item.keys[:1] == ("old_holes.0.across",))
    assert [blank.word for blank in open_one.blanks] == ["across", "down", "diameter", "across again", "down again"]
    page = next(page for page in measuring_pages(design, DAY) if "plug, in" in said([page]))
    words = {text.text: text.at for text in texts(page.marks)}
    left = [words[f"{word}, in"][0] for word in ("across", "down", "diameter")]
    assert [words[f"{word}, in"][0] for word in ("across again", "down again", "plug")] == left
    assert words["plug, in"][1] < words["diameter, in"][1] - 7


def test_two_motors_of_one_kind_have_their_names_at_the_pattern():
    names = [item.name for item in items(EVERY["twin-motor-launch"]) if item.pictured.startswith("pattern.")]
    assert names == ["Does the port motor’s bracket match?", "Does the starboard motor’s bracket match?"]


def test_a_shape_that_is_a_guess_is_asked_for_corner_by_corner():
    """Nine corners, two blanks each, 21 mm wide, with a letter in the list and, where it is seen, in the drawing."""
    guess = Reading(text="", value=None, from_="centre", how="tape", state="guess", spread=None, second=None)
    design = replace(example_design(), readings={"transom.outline": guess})
    outline = next(item for item in items(design) if item.keys == ("transom.outline",))
    assert outline.section == "Transom"
    assert outline.corners[2][0].known == "−12-63/64 ?"  # 330 mm: 12-63/64 in is 329.803, 13 in is 330.2
    assert len(outline.corners) == 9
    pages = measuring_pages(design, DAY)
    words = said(pages)
    assert all(words.count(name) >= 1 for name in "abcdefghi")
    blanks = [line for page in pages for line in of(page.marks, Line, "blank")]
    assert len(blanks) == sum(len(item.blanks) + 2 * len(item.corners) for item in items(design))


@pytest.mark.parametrize("name", EVERY)
def test_the_sheet_asks_in_the_order_of_the_window(name):
    """The window's questions, and each reading of the sheet, in one order: what was written is typed from top to bottom."""
    design = EVERY[name]
    order = [key for asking in questions(design) for key in (asking.keys or (asking.name,))]
    asked = [key for item in items(design) if item.pictured for key in (item.keys or (item.pictured,)) if key in order]
    assert asked == sorted(asked, key=order.index)
    first = [item.keys[0] for item in items(design) if item.section == FIRST_OF_ALL and item.keys]
    assert first == list(deciding_readings(design))


def test_each_first_question_has_the_windows_picture_and_words():
    """The same marks as the panel of the next step, in a box of the sheet, and the same title and way to read."""
    page = measuring_pages(example_design(), DAY)[0]
    asked = [item for item in items(example_design()) if item.pictured and not item.shape]
    assert len(of(page.marks, Path, "picture")) == len([item for item in asked if item.section == FIRST_OF_ALL]) == 6
    for item in asked:
        row = measure(example_design(), item.pictured)
        if row is not None:
            assert item.name == title(row).replace("'", "’")
            assert item.how.startswith(printed(how_to_read(example_design(), row)).replace("'", "’").split(".")[0][:40])
    parts = [mark.part for mark in page.marks]
    assert {"tape", "washer"} & set(parts) or any("tool" in part for part in parts)


def test_height_and_deadrise_have_balloons_at_the_hulls_bottom():
    page = measuring_pages(example_design(), DAY)[0]
    for key in ("transom.height", "transom.deadrise", "well.floor_port", "well.floor_starboard"):
        number = next(index for index, item in enumerate(items(example_design()), 1) if key in item.keys)
        assert of(page.marks, Circle, f"balloon {number}"), key
    assert len(of(page.marks, Line, "hull bottom")) == 2


def test_a_known_value_is_small_and_a_guess_is_marked():
    """236.03 mm is 9-19/64 in (236.14); a guess has a question mark."""
    guess = Reading(text="9 1/4", value=236.03, from_="centre", how="tape", state="guess", spread=None, second=None)
    design = replace(example_design(), readings={"well.floor_port": guess})
    words = said(measuring_pages(design, DAY))
    assert "9-19/64 ?" in words
    assert "9-19/64" in words
    blank = said(measuring_pages(unknown(), DAY))
    assert not any(word.endswith("?") and 1 < len(word) < 12 for word in blank)  # a bare one is in a picture
    assert "236" in said(measuring_pages(replace(design, units="mm"), DAY))


def test_which_level_the_phone_is_zeroed_on():
    assert how_to(example_design()).startswith("Zero the phone on the hull bottom’s level line, fore and aft")
    assert "1 in mark and take 1 off" in how_to(example_design())
    assert "100 mm mark and take 100 off" in how_to(replace(example_design(), units="mm"))
    assert "a usual one" not in how_to(example_design())
    assert "the pictures have a usual one" in how_to(unknown())


def test_angles_are_read_twice():
    rake = next(item for item in items(example_design()) if item.name == "Rake")
    assert [blank.word for blank in rake.blanks] == ["first", "turned"]
    assert rake.how.replace(NBSP, " ").endswith("To 0.5°.")
    floor = next(item for item in items(example_design()) if item.name == "Floor depth at port")
    assert [(blank.word, blank.unit) for blank in floor.blanks] == [("once", "in"), ("again", "in")]
    assert floor.how.replace(NBSP, " ").endswith("To 1/16 in.")
    metric = next(item for item in items(replace(example_design(), units="mm")) if item.name == "Floor depth at port")
    assert metric.how.replace(NBSP, " ").endswith("To 1.5 mm.")


@pytest.mark.parametrize("name", LOOKED_AT)
def test_balloons_are_clear_of_each_other(name):
    """Centres at least two radii apart, one for an item at the most, each with its leader and its spot."""
    first = measuring_pages(EVERY[name], DAY)[0]
    names = {mark.part for mark in first.marks if mark.part.startswith("balloon ")}
    centres = {}
    for part in names:
        rings = [circle for circle in of(first.marks, Circle, part) if circle.radius == BALLOON]
        assert len(rings) == 1
        assert len(of(first.marks, Line, part)) == 1
        centres[part] = rings[0].centre
    for (_, centre), (_, neighbour) in combinations(centres.items(), 2):
        assert math.dist(centre, neighbour) > 2 * BALLOON
    assert len(names) >= 6
    leaders = [of(first.marks, Line, part)[0] for part in names]
    for leader, other in combinations(leaders, 2):
        assert not crossing(leader, other)


def test_a_picture_too_small_for_a_balloon_next_to_its_spot_has_it_in_its_middle():
    """A balloon of radius 2.5 in a box 12 by 8: its centre is 5.2 mm from the spot at most. The nearest place is 7 mm off."""
    box, spot = (100.0, 50.0, 112.0, 58.0), (107.0, 53.0)
    ring = next(mark for mark in balloons([(1, spot)], (), box) if isinstance(mark, Circle) and mark.radius == BALLOON)
    assert ring.centre == pytest.approx((106.0, 54.0))
    wide = next(mark for mark in balloons([(1, spot)], (), (0.0, 0.0, 200.0, 200.0)) if getattr(mark, "radius", 0) == BALLOON)
    assert math.dist(wide.centre, spot) == pytest.approx(7.0)


def crossing(first: Line, second: Line) -> bool:
    """Say whether two leaders cross, by the signs of four areas."""

    def side(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    return (side(first.a, first.b, second.a) * side(first.a, first.b, second.b) < 0
            and side(second.a, second.b, first.a) * side(second.a, second.b, first.b) < 0)  # fmt: skip


def test_the_cut_is_bare():
    """No bolt, washer or nut is in either drawing: only what is there to be measured."""
    parts = {mark.part for mark in measuring_pages(example_design(), DAY)[0].marks}
    assert not any(word in part for part in parts for word in ("nut", "washer", "bolt", "socket", "lower port hole"))
    assert {"transom", "well floor"} <= parts


def test_a_sketch_changes_nothing_that_is_known():
    assert sketched(example_design()) == example_design()
    odd = changed(unknown(), transom__thickness__top=30.0)
    assert sketched(odd).transom.thickness.top == 30.0
    assert sketched(changed(example_design(), transom__rake=None)).well == example_design().well


def test_a_boat_without_a_motor_asks_for_its_bracket():
    words = said(measuring_pages(changed(example_design(), mounts=()), DAY))
    assert "Motor, on its bracket" in words
    assert "Lower slots" in words


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_read_back_from_the_file(name):
    """PDFium finds every word that the pages say, in the same file each time."""
    pages = measuring_pages(demonstration(name), DAY, "a4")
    data = pdf_bytes(pages, "measuring sheet", DAY)
    assert data == pdf_bytes(pages, "measuring sheet", DAY)
    for page, text in zip(pages, texts_in(data), strict=True):
        there = "".join(text.replace(NBSP, " ").split())
        for line in said([page]):
            assert "".join(line.split()) in there, line


def test_the_number_of_a_block_s_outline_is_at_the_block_and_how_far_it_sticks_out_is_not_seen_on_the_face() -> None:
    design = example_design()
    at = _on_face(design, "inside_blocks.0.outline")
    assert at is not None
    assert abs(at[0]) == 20.0
    assert _on_face(design, "inside_blocks.0.stands_out") is None


def test_a_part_of_the_list_that_is_longer_than_a_page_goes_on_to_the_next():
    """Thirty blocks, each with its corners to read: their blanks take more than a page, and none is past its foot (12.5 mm)."""
    ring = ((-20.0, -60.0), (20.0, -60.0), (20.0, -40.0), (-20.0, -40.0))
    blocks = tuple(Block(name=f"block {number}", outline=ring, stands_out=None) for number in range(30))
    pages = measuring_pages(replace(example_design(), inside_blocks=blocks), DAY)
    assert len(pages) > 3
    for page in pages:
        for mark in page.marks:
            if isinstance(mark, Line):
                assert min(mark.a[1], mark.b[1]) >= 12.5, mark
        assert not [text.text for text in texts(page.marks) if min(y for _, y in text_box(text)) < 12.5]
    # The first page of the list is not left empty for the sake of a part that no page holds.
    full = [sum(isinstance(mark, Line) for mark in page.marks) for page in pages[:-1]]
    assert min(full) > 10


def test_a_shapes_corners_have_letters_where_they_are_seen():
    """2.2 mm of paper out from the shape's middle. A corner above or to the side of the picture has none."""
    design = example_design()
    ring = [(sure(u), sure(v)) for u, v in design.transom.outline]
    view, box = fit((-400.0, -540.0, 800.0, 100.0), 90.0, 60.0), (10.0, 20.0, 118.0, 98.0)
    letters = list(_letters(design, "transom.outline", view, box))
    seen = [index for index, at in enumerate(ring) if 0 < view.to_paper(at)[0] < 90.0]
    assert 2 < len(seen) < len(ring)
    assert [text.part for text in letters] == [f"corner transom.outline {index}" for index in seen]
    assert [text.text for text in letters] == [chr(ord("a") + index) for index in seen] or letters[0].text.isupper()
    for text, index in zip(letters, seen, strict=True):
        x, y = view.to_paper(ring[index])
        assert math.dist((text.at[0] - 10.0 - 9.0, text.at[1] - 20.0 - 9.0 + 0.37 * text.size), (x, y)) == pytest.approx(2.2)


def test_a_balloon_would_rather_be_where_no_other_spot_is():
    """Two places as near: one on another spot, one on none. One on none comes first, even 20 mm further off."""
    lines = np.array([(500.0, 500.0, 510.0, 500.0)])
    for off in ((0.0, 7.0), (0.0, -27.0)):
        assert _by_cost([(7.0, 0.0), off], (0.0, 0.0), [(7.0, 0.0)], lines) == [off, (7.0, 0.0)]
    assert _by_cost([(7.0, 0.0), (0.0, 27.0)], (0.0, 0.0), [], lines)[0] == (7.0, 0.0)
    across = np.array([(0.0, 7.0, 10.0, 7.0)])
    assert _by_cost([(0.0, 7.0), (7.0, 0.0)], (0.0, 0.0), [], across)[0] == (7.0, 0.0)
