"""Sheets for one pilot: they say PILOT ONLY, show no final size, and ask for the distance from it. Read back from PDF."""

from __future__ import annotations

from functools import cache
from xml.etree import ElementTree as Tree

import pytest

from app.printing.sheet_kinds import SHEET_KINDS
from geometry.design.patterns import backing_plate
from geometry.design_text import fingerprint
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.judge.drillable import FirstPilot, drillable
from geometry.readings.pilots import with_pilot
from geometry.solving.next_pilot import next_pilot
from templates_out.drawing.marks import CROSSED, Circle, Page
from templates_out.drawing.printer import Stretch
from templates_out.faces.on_inside import on_inside
from templates_out.layout.drilling_permission import DO_NOT_DRILL_ON, NOT_TO_BE_MADE, PILOT_ONLY, drilled_at, stamp
from templates_out.layout.pilot_reading import pilot_to_read, pilot_words
from templates_out.pages.plate.plate_pages import plate_svgs
from tests.designs import changed, example_design, sure, with_some_room
from tests.readers import read_with_pdfium, texts
from tests.templates_out.printed import PRECISE, assert_legible, is_hole, on, printed, said

SVG = "{http://www.w3.org/2000/svg}"
STAMPED = tuple(key for key, kind in SHEET_KINDS.items() if kind.stamped)


@cache
def checked_of(unit: str = "in"):
    """The worked example: its washers have room in 83 of 100 cases."""
    checked = with_spreads(check(changed(example_design(), units=unit)))
    assert drillable(checked).answer == "pilot only"
    return checked


@cache
def pages_of(key: str, unit: str = "in") -> tuple[Page, ...]:
    kind = SHEET_KINDS[key]
    return kind.pages(checked_of(unit), on()) if kind.there(checked_of(unit).design) else ()


@pytest.mark.parametrize("key", STAMPED)
def test_every_page_says_pilot_only_and_why_and_none_is_crossed_out(key):
    if not pages_of(key):
        pytest.skip("the example has no such sheet")
    for page, words in zip(pages_of(key), texts(printed(pages_of(key))), strict=True):
        assert PILOT_ONLY in words
        assert "NOT TO BE DRILLED" not in words
        assert page.warning.startswith("PILOT ONLY. Drill one pilot only, at the lower port hole.")
        assert DO_NOT_DRILL_ON in page.warning
        assert not [mark for mark in page.marks if mark.part.endswith(CROSSED)]


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("key", ["template", "inside"])
def test_pilots_are_circles_and_no_final_circle_is_in_the_file(key, unit):
    """By the file: a circle of 1/8 in or 3 mm at each of four holes, the dot at one, and none of 13.5 mm."""
    pages = pages_of(key, unit)
    pilot = {"in": 25.4 / 16, "mm": 1.5}[unit]
    holes = [mark for page in pages for mark in page.marks if isinstance(mark, Circle) and is_hole(mark)]
    radii = [circle.radius for page in read_with_pdfium(printed(pages)) for circle in page.circles]
    assert sum(abs(radius - pilot) < PRECISE for radius in radii) >= 4
    assert not any(abs(radius - 6.75) < PRECISE for radius in radii)
    dots = [mark for mark in holes if mark.fill]
    assert [mark.part for mark in dots] == (["main motor / lower port"] if key == "template" else [])


def test_the_words_at_the_holes():
    words = " ".join(said(page) for page in pages_of("template"))
    assert words.count("PILOT HERE: 1/8 in, and no more") == 1
    assert words.count("no drill here yet: print again first") == 3
    assert "final 17/32" not in words
    assert "Punch the dot of the lower port hole, and no other." in words


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_blank_its_unit_and_what_it_should_be(unit):
    checked = checked_of(unit)
    wanted = next_pilot(checked.design, 0, "lower port", "washer mark")
    room = sure(checked.of("washer", "main motor / lower port")).value
    assert wanted.expected == pytest.approx(room, abs=1e-6)  # the same washer: the distance is the room
    figure = "5/64 in (2.2 mm), within 1/4 in" if unit == "in" else "2.2 mm (5/64 in), within 6 mm"
    final = "3/16 in" if unit == "in" else "5 mm"  # half of 13.5 - 3.175 mm, rounded down
    for key in ("template", "inside", "shop"):
        words = " ".join(" ".join(texts(printed(pages_of(key, unit)))).replace("\N{NO-BREAK SPACE}", " ").split())
        assert "Lower port pilot to the washer’s" in words
        assert f"It should be {figure}." in words
        assert f"The final hole may then still move up to {final} and take the pilot away." in words
        assert "slide a washer 1-1/2 in across" in words or "slide a washer 38.1 mm across" in words
        assert "read it again, without a look at the first figure" in words.lower().replace("\n", " ")
    assert any(f"______ {unit}." in words for words in texts(printed(pages_of("shop", unit))))


def test_the_shop_sheet_stops_at_the_pilot_and_names_no_final_size_in_the_table_of_holes():
    words = " ".join(" ".join(texts(printed(pages_of("shop")))).split())
    assert "One pilot only, at the lower port hole." in words
    assert "Drill on only by the next revision of these sheets." in words
    assert "Drill the other pilots" not in words
    assert words.count("nothing yet") == 3
    assert "pilot 1/8 in" in words


@pytest.mark.parametrize("key", ["template", "inside"])
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_sheets_are_legible(key, unit):
    for page in pages_of(key, unit):
        assert_legible(page)


def test_the_next_sheet_is_another_one():
    """With the distance typed in, the design's number is another, and the other lower pilot is asked for."""
    design = checked_of().design
    read = with_pilot(design, 0, "lower port", to="washer mark", value=4.0)
    after = with_spreads(check(read))
    assert fingerprint(read) != fingerprint(design)
    assert sure(drillable(after).pilot).hole == "lower starboard"
    assert [drilled_at(stamp(after), 0, hole) for hole in ("lower port", "lower starboard")] == ["later", "pilot"]


def test_the_inside_sheet_shows_the_boat_as_it_is_solved_with_the_pilot_where_it_came_out():
    """A washer's mark 3 mm further down: most of it is a deeper floor, some of it a pilot that came out higher."""
    design = checked_of().design
    read = with_pilot(design, 0, "lower port", to="washer mark", value=5.2)
    before, after = (on_inside(each, Stretch()) for each in (design, read))
    exits = [next(each.hole.v for each in shown.inner if each.hole.name == "lower port") for shown in (before, after)]
    floors = [min(y for run in shown.face.floor for _, y in run) for shown in (before, after)]
    others = [next(each.hole.v for each in shown.inner if each.hole.name == "lower starboard") for shown in (before, after)]
    assert 0.3 < exits[1] - exits[0] < 1.0
    assert -2.4 < floors[1] - floors[0] < -0.8
    assert abs(others[1] - others[0]) < 0.3  # the step between the edges moves a little


@cache
def with_plate():
    """A boat with a backing plate, whose lower hole at port is sure only in some 90 of 100 cases."""
    boat = with_some_room()
    plate = backing_plate(boat.mounts[0].bracket, "lower", 38.1, along=0.0)
    checked = with_spreads(check(changed(boat, mounts__0__drop=168.0, mounts__0__lower_hardware__backing_plate=plate)))
    assert drillable(checked).answer == "pilot only"
    return checked


def test_a_backing_plate_waits_for_the_pilot_on_paper_and_for_a_cutter():
    """Its holes may move once the pilot is read: nobody makes it before."""
    pages = SHEET_KINDS["plate"].pages(with_plate(), on())
    for page, words in zip(pages, texts(printed(pages)), strict=True):
        assert PILOT_ONLY in words
        assert DO_NOT_DRILL_ON in page.warning
        assert_legible(page)
    ((_, svg),) = plate_svgs(with_plate())
    root = Tree.fromstring(svg)
    (layer,) = root.iter(f"{SVG}g")
    assert (layer.findtext(f"{SVG}title") or "").startswith(NOT_TO_BE_MADE)
    assert "PILOT ONLY" in (layer.findtext(f"{SVG}title") or "")
    assert sum(element.attrib.get("data-part", "").endswith(CROSSED) for element in layer) == 2
    assert (root.findtext(f"{SVG}desc") or "").startswith(NOT_TO_BE_MADE)


def test_the_one_pilot_has_its_words_in_order_with_its_blank_after_the_way_to_read_it():
    """Heading, drill, read, the blank, what it should be; what is not to be done is last."""
    design, pilot = checked_of().design, FirstPilot(0, "lower port", "washer mark")
    items, said_of = pilot_to_read(design, pilot), pilot_words(design, pilot)
    assert [item.text for item in items[:4]] == ["The one pilot", said_of.drill, said_of.read, said_of.blank]
    assert [item.blanks for item in items[:4]] == [(), (), (), (said_of.unit,)]
    assert all(item.text for item in items)
    assert items[-1].text == DO_NOT_DRILL_ON
