"""The planning page, by hand for a demonstration boat and as a reader of the file sees it; openings on the template."""

from __future__ import annotations

import datetime
import re

import pytest
from msgspec.structs import replace

from geometry.design.boat import Fitting
from geometry.edits.starting_shapes import blank, starts
from geometry.judge.check import check
from templates_out.drawing.marks import Line, Text
from templates_out.drawing.transforms import text_box
from templates_out.faces.on_face import OPENING
from templates_out.pages.planning.planning_pages import planning_pages
from templates_out.pages.shop.shop_pages import shop_pages
from templates_out.pages.template.template_pages import template_layout, template_pages
from tests.designs import changed, roomy
from tests.readers import texts as read_texts
from tests.templates_out.printed import BOATS, PAPERS, READERS, assert_legible, boat, cleared, on, printed
from tests.templates_out.viewing import overlaps, texts

DAY = datetime.date(2026, 11, 25)


def read(design, paper="letter"):
    """Return the page's words as another program reads them from the file, spaces made single."""
    data = printed(planning_pages(check(design), DAY, paper))
    return re.sub(r"\s+", " ", " ".join(read_texts(data)))


def skiff(**values):
    return changed(boat("shallow-well-skiff"), **values)


FLOATING = {
    "boat__length": 5000.0, "boat__beam": 2000.0, "boat__old_motor__mass": 71.0, "boat__old_motor__centre_aft": 300.0,
    "mounts__0__centre_aft": 300.0, "mounts__0__mass": 98.0, "boat__afloat__top_edge": 330.2, "boat__afloat__scupper": 20.0,
    "boat__afloat__drain": 57.15,
}  # fmt: skip


def test_the_skiffs_page_as_a_stranger_reads_it():
    """By hand: 19 5/8 in high and a shaft of 20 in is 3/8 in below with the hook on the top; the well lifts the hook 5/16 in.

    27 kg is 60 lb more. The stern sinks by 14.7 to 22.7 mm: 1/2 to 1 in. A scupper of 20 mm is then under water. A drain
    of 57.15 mm has 34.5 mm left, that is 1 1/4 in.
    """
    words = read(skiff(**FLOATING))
    assert "The transom is 19-5/8 in high, plumb, with a rake of 15°." in words
    assert "15 in 3-15/16 in above to 4-15/16 in above none too short: its AV plate is too high" in words
    assert "25 in 6-1/16 in below to 5-1/16 in below none too long: its AV plate is too deep" in words
    assert re.search(r"this one, 20 in 1/16 in below \S+ to \S+ in suits this transom", words)
    assert "The old motor has 157 lb, the new one has 216 lb: 60 lb more." in words
    assert "the stern sinks by 1/2 to 1 in" in words
    assert "lowest scupper 13/16 in −1/4 in under water: choose a lighter motor" in words
    assert "well’s drain 2-1/4 in 1-1/4 in above the water" in words
    assert "Let people who weigh 60 lb stand at the transom" in words
    for caution in ("capacity plate", "makers’ instructions", "local law", "licensed technician", "rule of thumb",
                    "common practice", "our assumption"):  # fmt: skip
        assert caution in words


def test_a_lighter_motor_lets_the_stern_rise():
    words = read(skiff(**{**FLOATING, "boat__old_motor__mass": 125.0}))
    assert "the stern rises by 1/2 to 1 in" in words
    assert "Prove it" not in words


def test_a_metric_boat_has_millimetres():
    words = read(replace(skiff(**FLOATING), units="mm"), "a4")
    assert "508 mm (20 in)" in words
    assert "the stern sinks by 10 to 25 mm" in words
    assert "508 to 610 mm clear" in words


def test_a_blank_boat_has_a_blank_for_each_reading():
    words = read(blank("in"))
    for label in ("transom height, in", "rake, degrees", "old motor, weight, lb", "new motor, weight, lb", "boat's length, in",
                  "boat's beam, in", "Capacity plate: power, hp"):  # fmt: skip
        assert label in words
    assert "suits" not in words


def test_guesses_are_named():
    words = read(starts("in")[0].design)
    assert "Still a guess: transom height, rake" in words


@pytest.mark.parametrize("name", [*BOATS, "blank", "start"])
@pytest.mark.parametrize("paper", PAPERS)
def test_it_is_one_page(name, paper):
    design = blank("mm") if name == "blank" else starts("in")[1].design if name == "start" else boat(name)
    (page,) = planning_pages(check(design), DAY, paper)
    assert not overlaps(texts(page.marks))
    for text in texts(page.marks):
        assert all(13 <= x <= page.width - 13 and 12 <= y <= page.height - 13 for x, y in text_box(text)), text.text


def with_tube(u=205.0, v=-275.0):
    ring = ((u, v), (u + 40.0, v), (u + 40.0, v + 40.0), (u, v + 40.0))
    tube = Fitting(name="rigging tube", outline=ring, stands_out=30.0, drill=38.1)
    return replace(roomy(), outside_fittings=(tube,))


@pytest.mark.parametrize("paper", ["letter", "a4", "a2", "roll36"])
def test_an_opening_has_its_mark_and_its_size_on_the_template(paper):
    """As two other programs read the file: a circle of 38.1 at 225 to starboard and 255 down, from the fold's zero."""
    checked = cleared(with_tube())
    layout, pages = template_layout(checked, on(paper)), template_pages(checked, on(paper))
    marked = [
        (tile, number) for number, tile in enumerate(layout.plan.tiles)
        if tile.core[0] <= 225.0 <= tile.core[2] and tile.core[1] <= -255.0 <= tile.core[3]
    ]  # fmt: skip
    ((tile, number),) = marked
    place = (225.0 + tile.offset[0], -255.0 + tile.offset[1])
    for reader in READERS:
        assert reader(printed(pages))[number].circle_at(place, 38.1 / 2)
    words = [mark.text for mark in pages[number].marks if isinstance(mark, Text) and mark.part.startswith(OPENING)]
    assert words == ["Not for the motor: rigging tube", "8-55/64 in to starboard (225 mm)",
                     "10-3/64 in below the top edge (255 mm)", "drill 1-1/2 in (38.1 mm)"]  # fmt: skip
    for page in pages:
        assert_legible(page)
    cross = [mark for mark in pages[number].marks if isinstance(mark, Line) and mark.part == f"{OPENING}rigging tube"]
    assert len(cross) >= 2


def test_the_planning_page_lists_each_opening_with_its_place_on_the_outer_face():
    """By its place it can be found from astern; its name and its size come with it."""
    words = read(with_tube())
    assert "hole for a cable, hose or tube where, on the outer face size" in words
    assert re.search(r"rigging tube 8-55/64 in to starboard.* 10-3/64 in below.* drill 1-1/2 in", words)
    assert "No hole for them is entered." not in words
    assert "No hole for them is entered." in read(roomy())


def test_where_nothing_may_be_drilled_an_opening_has_no_size_and_no_dot():
    pages = template_pages(check(changed(with_tube(), mounts__0__lower_hardware__washer__outer=None)), on("a2"))
    words = [mark.text for page in pages for mark in page.marks if isinstance(mark, Text) and mark.part.startswith(OPENING)]
    assert "Not for the motor: rigging tube" in words
    assert not any("drill" in text for text in words)


def test_where_no_seam_keeps_clear_the_opening_is_on_the_shop_sheet():
    """An opening half way between the rows takes the only place of a seam of Letter paper."""
    checked = cleared(with_tube(185.0, -150.0))
    pages = template_pages(checked, on("letter"))
    assert not any(isinstance(mark, Text) and mark.part.startswith(OPENING) for page in pages for mark in page.marks)
    shop = re.sub(r"\s+", " ", " ".join(read_texts(printed(shop_pages(checked, DAY)))))
    assert "Drill 1-1/2 in (38.1 mm) for rigging tube, square to the face. Its middle is" in shop
    assert "hole saw for cables and hoses, 1-1/2 in" in shop


def test_an_old_hole_that_is_opened_has_no_words_not_to_be_drilled():
    old = replace(roomy().old_holes[0], state="open", plug_diameter=None, drill=25.4, at=(60.0, -90.0))
    pages = template_pages(cleared(replace(roomy(), old_holes=(old,))), on("a2"))
    words = " ".join(mark.text for page in pages for mark in page.marks if isinstance(mark, Text))
    assert "open the old hole to 1 in (25.4 mm)" in words
    assert "not to be drilled" not in words
