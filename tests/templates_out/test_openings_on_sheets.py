"""Holes to be drilled for cables and hoses, on the inside sheet as two readers see it, and on the face of the screen."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.design.boat import Fitting, Thickness
from geometry.design.design import Design
from geometry.judge.check import check
from templates_out.drawing.marks import Circle, Line, Path, Text
from templates_out.faces.on_face import OPENING
from templates_out.pages.inside.inside_pages import inside_pages
from templates_out.pages.template.template_pages import template_pages
from templates_out.views.face import face_marks
from templates_out.views.viewport import fit, work_rect
from tests.designs import changed, roomy, sure
from tests.templates_out.joined import assembled
from tests.templates_out.printed import PAPERS, READERS, assert_legible, cleared, on, printed, said

SIZE = 38.1


def tube(u: float, v: float, **values: object) -> Design:
    """The roomy boat with a hole of 1 1/2 in to be drilled at a place, for a rigging tube."""
    ring = ((u - 25.0, v - 25.0), (u + 25.0, v - 25.0), (u + 25.0, v + 25.0), (u - 25.0, v + 25.0))
    fitting = Fitting(name="rigging tube", outline=ring, stands_out=30.0, drill=SIZE)
    return changed(replace(roomy(), outside_fittings=(fitting,)), **values)


def opened(state: str = "open") -> Design:
    """The roomy boat with its old hole 60 to starboard and 90 down, to be opened to 1 in."""
    old = replace(roomy().old_holes[0], state=state, plug_diameter=None, drill=25.4, at=(60.0, -90.0))
    return replace(roomy(), old_holes=(old,))


def words(design: Design, paper: str = "a2") -> list[str]:
    """The opening's words on the inside sheets."""
    pages = inside_pages(cleared(design), on(paper))
    return [m.text for page in pages for m in page.marks if isinstance(m, Text) and m.part.startswith(OPENING)]


@pytest.mark.parametrize("paper", [*PAPERS, "a2", "roll36"])
@pytest.mark.parametrize("tapered", [False, True])
def test_it_comes_out_at_its_mark_on_the_inside_sheet(paper: str, tapered: bool) -> None:
    """By hand, within 0.02 mm on the joined sheets. The rake is 14° and the top is cut level.

    Without taper the inside top edge is 44·tan 14° = 10.970 below the outer one: the middle, 235 down, is 224.030 below it.
    With 44 at the top and 40 at 250 down, the inner face is (44 + 0.016·v, v). Its edge is 10.970·(1 / (1 + 0.016·tan 14°))
    down. From there to the middle's end the way along the face is the fall times the root of 1 + 0.016².
    """
    slope = 4.0 / 250.0 if tapered else 0.0
    fall = math.tan(math.radians(14.0))
    edge = 44.0 * fall / (1.0 + slope * fall)
    deep = (235.0 - edge) * math.hypot(1.0, slope)
    design = tube(225.0, -235.0, transom__thickness=Thickness(top=44.0, low=40.0 if tapered else 44.0, low_at=-250.0))
    pages = inside_pages(cleared(design), on(paper))
    for read in READERS:
        sheets = read(printed(pages))[:len([page for page in pages if page.name.startswith("Sheet")])]
        places, origin = assembled(sheets)
        at = origin[0] - 225.0, origin[1] - deep
        assert any(
            page.circle_at((at[0] - place[0], at[1] - place[1]), SIZE / 2) for page, place in zip(sheets, places, strict=True)
        )
    for page in pages:
        assert_legible(page)


def test_its_words_say_where_it_comes_out():
    """In inches: 225 is 8 55/64, 224.030 is 8 52/64 to the nearest sixty-fourth."""
    assert words(tube(225.0, -235.0)) == [
        "Not for the motor: rigging tube", "8-55/64 in to starboard (225 mm)", "8-13/16 in below inside edge (224 mm)",
        "1-1/2 in (38.1 mm) comes out here",
    ]  # fmt: skip
    assert "1 in (25.4 mm) comes out here" in words(opened())


def test_nobody_is_asked_to_punch_at_it_inside():
    """Its cross, circle and square are there, and no dot; the same where an old hole is opened."""
    for design in (tube(225.0, -235.0), opened()):
        (page,) = (p for p in inside_pages(cleared(design), on("a2")) if p.name.startswith("Sheet"))
        marks = [mark for mark in page.marks if mark.part.startswith(OPENING) and not isinstance(mark, Text)]
        assert sum(isinstance(mark, Circle) for mark in marks) == 1
        assert sum(isinstance(mark, Path) for mark in marks) == 1
        assert all(mark.pen for mark in marks)


@pytest.mark.parametrize(("down", "outside"), [(-235.0, False), (-243.4, False), (-243.5, True), (-255.0, True)])
def test_one_that_comes_out_in_the_floor_or_its_corner_says_so(down: float, outside: bool):
    """The floor is 261.43 below the inside edge, 272.400 down on the outer face. Its rounded corner takes 12·cot 50.5°.

    The flat face ends 9.892 above the floor, so a hole of 38.1 is wholly on it down to 272.400 − 9.892 − 19.05 = 243.458.
    """
    assert ("not wholly on the free inner face" in words(tube(225.0, down))) == outside


def test_where_nothing_may_be_drilled_it_has_its_place_and_no_size():
    design = tube(225.0, -235.0, limits__top_edge=(100.0, 120.0))
    pages = inside_pages(check(design), on("a2"))
    opening = [m.text for page in pages for m in page.marks if isinstance(m, Text) and m.part.startswith(OPENING)]
    assert "Not for the motor: rigging tube" in opening
    assert not any("comes out here" in text for text in opening)


def test_where_no_seam_keeps_clear_it_is_left_off_and_the_sheets_are_as_before():
    """An opening half way between the rows takes the only place of a seam of Letter paper."""
    plain, crowded = (inside_pages(cleared(design), on("letter")) for design in (roomy(), tube(205.0, -130.0)))
    assert [page.name for page in plain] == [page.name for page in crowded]
    assert "rigging tube" not in " ".join(map(said, crowded))


@pytest.mark.parametrize("old", [False, True])
def test_the_face_on_the_screen_shows_it_at_its_place(old: bool):
    design, at, size, part = (opened(), (60.0, -90.0), 25.4, "old hole 0") if old else (
        tube(225.0, -235.0), (225.0, -235.0), SIZE, "fitting 0")  # fmt: skip
    view = fit(work_rect(design), 172.0, 148.0)
    marks = [mark for mark in face_marks(check(design), view) if mark.part == part]
    circles = [m for m in marks if isinstance(m, Circle) and m.pen is not None and m.pen.role == "new"]
    (circle,) = circles
    assert view.to_boat(circle.centre) == pytest.approx(at, abs=1e-6)
    assert circle.radius == pytest.approx(size / 2 * view.scale, abs=1e-6)
    (square,) = [m for m in marks if isinstance(m, Path) and sure(m.pen).role == "new"]
    assert max(math.dist(corner, circle.centre) for corner in square.points) == pytest.approx(
        math.sqrt(2) * (circle.radius + 2.0), abs=1e-6)  # fmt: skip
    assert sum(isinstance(m, Line) and m.pen.role == "new" for m in marks) == 2


def test_a_fitting_without_a_hole_has_no_such_mark():
    design = tube(225.0, -235.0, outside_fittings__0__drill=None)
    view = fit(work_rect(design), 172.0, 148.0)
    marks = [mark for mark in face_marks(check(design), view) if mark.part == "fitting 0"]
    assert marks
    assert not any(mark.pen is not None and mark.pen.role == "new" for mark in marks if not isinstance(mark, Text))
    assert words(design) == []


@pytest.mark.parametrize("drill", [None, SIZE])
def test_a_fittings_diagonal_is_left_out_where_a_hole_is_drilled_in_it(drill: float | None):
    """On the template and on the screen: two crosses over each other would hide where the middle is."""
    design = tube(225.0, -235.0, outside_fittings__0__drill=drill)
    marks = [mark for page in template_pages(cleared(design), on("a2")) for mark in page.marks]
    assert any(isinstance(mark, Line) and mark.part == "fitting" for mark in marks) == (drill is None)
    shown = face_marks(check(design), fit(work_rect(design), 172.0, 148.0))
    old = [mark for mark in shown if isinstance(mark, Line) and mark.part == "fitting 0" and mark.pen.role == "old"]
    assert bool(old) == (drill is None)
