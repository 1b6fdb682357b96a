"""The places of marks on the template, and the refusals to print. (Read back and joined: test_joined.)"""

from __future__ import annotations

import math
from typing import Literal

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.design.boat import Fitting, OldHole
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.solid.placed_bolts import bolts
from geometry.tables.papers import paper_names
from templates_out.drawing.labels import Ground, apart, thing
from templates_out.drawing.marks import Circle, Line, Path, Pen, Text
from templates_out.drawing.printer import Stretch
from templates_out.drawing.transforms import text_box
from templates_out.faces.check_lines import check_marks, checks, figure_places
from templates_out.faces.hole_marks import old_places
from templates_out.faces.on_face import fit_ring, on_face
from templates_out.layout.needs import needs, wishes
from templates_out.layout.spread_on_sheets import _amiss
from templates_out.pages.inside.inside_pages import inside_pages
from templates_out.pages.template.template_pages import template_pages
from tests.designs import changed, clamp_on_mount, example_design, numbers_of
from tests.readers import read_with_pikepdf
from tests.templates_out.kinds import pages_of
from tests.templates_out.printed import BOATS, boat, cleared, is_hole, on, printed

CASES = [
    *(("example", paper) for paper in paper_names()),
    *((name, paper) for name in BOATS[1:] for paper in ("letter", "tabloid")),
    ("twin", "a4"),
    ("tilted", "roll24"),
    ("twin", "legal"),
]


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_no_hole_cross_or_drill_circle_comes_near_a_seam(name: str, paper: str) -> None:
    """15 mm from every cross end, 20 from the centreline: common sense, our assumption."""
    for page in pages_of("template", name, paper):
        seams = [m for m in page.marks if isinstance(m, Line) and m.part in ("seam", "trim")]
        holes = [m for m in page.marks if isinstance(m, Circle) and is_hole(m)]
        for seam in seams:
            for hole in holes:
                far = apart(thing("line", (seam.a, seam.b)), thing("line", (hole.centre,)))
                assert far >= 30.0 + 15.0 - 1e-6 or far == 0.0
                assert far > 0.0
        middle = [m for m in page.marks if isinstance(m, Line) and m.part == "centreline"]
        upright = [s for s in seams if s.a[0] == s.b[0]]
        assert all(abs(s.a[0] - line.a[0]) >= 20.0 - 1e-6 for s in upright for line in middle)


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_every_hole_has_its_words_clear_of_all_lines(name: str, paper: str) -> None:
    """1.1 mm from every line but its own leader."""
    labelled = 0
    for page in pages_of("template", name, paper):
        lines = [m for m in page.marks if not isinstance(m, Text)]
        for bolt in bolts(boat(name)):
            part = f"{bolt.at} / label"
            words = tuple(m for m in page.marks if isinstance(m, Text) and m.part == part)
            labelled += bool(words)
            assert Ground().plus(m for m in lines if m.part != part and "strip" not in m.part).is_free(words)
    assert labelled == len(bolts(boat(name)))


def test_every_seam_has_two_crosses_or_more_and_a_check_across() -> None:
    for paper in ("letter", "a4", "legal", "tabloid", "a3"):
        for page in (page for page in pages_of("template", "example", paper) if page.name.startswith("Sheet")):
            levels = [m for m in page.marks if isinstance(m, Path) and m.part == "matching cross"]
            assert len(levels) >= 2
            checks = [m for m in page.marks if isinstance(m, Text) and m.part == "join check"]
            assert checks, f"{page.name} of {paper} has no join check"


def test_hidden_floor_old_holes_and_bracket_are_where_the_design_puts_them() -> None:
    """The example's floor: w = y + w_top, and v = w where the faces are parallel. Its top is cut level, so
    w_top = -44·tan 14° = -10.97 and the floor is at -236.03 - 10.97 = -247.00. Land begins r·cot(β/2) above it,
    β = 90° + 14° - 3°: 12·cot 50.5° = 9.89. The bracket hook is at -50.8 + 50.8 + 2·19.05 = 38.1.
    """
    face = on_face(example_design(), Stretch())
    (floor,), (land,) = face.floor, face.land
    assert [v for _, v in floor] == pytest.approx([-236.03 - 44 * math.tan(math.radians(14))] * 2, abs=1e-9)
    assert [v for _, v in land] == pytest.approx([floor[0][1] + 12 / math.tan(math.radians(50.5))] * 2, abs=1e-9)
    assert face.brackets[0][1][0] == pytest.approx((-190, 38.1))
    (old,) = face.old
    assert (old.at, old.radius, old.plug) == ((125.4, -254.0), 6.35, 12.7)
    pages = pages_of("template", "example", "letter")
    chords = [m for page in pages for m in page.marks if isinstance(m, Line) and "old lower" in m.part]
    assert len(chords) == 2


def old_upper(name: str, u: float) -> OldHole:
    return OldHole(name=f"old {name}", at=(u, -50.8), diameter=12.7, state="open", plug_diameter=None, reuse=True, drill=None)


def test_each_hole_to_drill_has_its_fit_ring_and_no_other_has() -> None:
    """By hand: a bolt of 12.7 mm in a hole of 13.5 mm has a ring of 12.7 - 6.75 = 5.95 mm, on any paper."""
    for paper in ("letter", "a4"):
        rings = [m for page in pages_of("template", "example", paper) for m in page.marks
                 if isinstance(m, Circle) and m.part.endswith(" / fit ring")]  # fmt: skip
        assert {ring.part.removesuffix(" / fit ring") for ring in rings} == {bolt.at for bolt in bolts(example_design())}
        assert {round(ring.radius, 3) for ring in rings} == {5.95}
    crossed = [mark.part for page in pages_of("template", "example", "letter", drillable=False) for mark in page.marks]
    assert not any(part.endswith("fit ring") for part in crossed)


@given(st.floats(6.0, 20.0), st.floats(0.0, 2.0), st.floats(0.0, 3.0), st.floats(0.0, 4.0), st.floats(-5.0, 60.0))
def test_a_bracket_shows_a_whole_fit_ring_just_where_a_bolt_goes_in(
    bolt: float, wider: float, bracket_wider: float, off: float, down: float
) -> None:
    """Many places of the bolt are tried, in the planned hole and in the bracket's slot, 40 mm long. Allows 0.02 mm.

    The slot is ``off`` mm aside, and the hole ``down`` mm below the middle of its upper end.
    """
    assume(bolt > wider)
    ring, slot = fit_ring(bolt, bolt + wider), shapely.LineString([(off, 0.0), (off, -40.0)])
    middle = shapely.Point(0.0, -down)
    shows = (bolt + bracket_wider) / 2 - slot.distance(middle) - ring  # from the ring's farthest point to the slot's edge
    assume(abs(shows) > 0.02)
    way = shapely.LineString([middle, slot.interpolate(slot.project(middle))])
    places = [way.interpolate(wider / 2 * part / 100) for part in range(101)]  # of the bolt in the planned hole
    assert (shows > 0.0) is any(place.distance(slot) <= bracket_wider / 2 + 0.01 for place in places)


@pytest.mark.parametrize("kind", ["template", "inside"])
def test_a_boat_without_a_name_is_called_so(kind: str) -> None:
    """It was an empty place before the comma."""
    pages = {"template": template_pages, "inside": inside_pages}[kind](check(replace(example_design(), name="")), on("a4"))
    title = next(mark.text for mark in pages[0].marks if isinstance(mark, Text) and mark.text.endswith(", main motor"))
    assert title.endswith(": A boat without a name, main motor")


def test_one_more_corner_in_a_level_floor_changes_no_printed_line() -> None:
    """The flat land over two floor edges in one line is one height, all the way across."""
    profile = ((-320.0, 0.0), (-300.0, -236.03), (10.0, -236.03), (300.0, -236.03), (320.0, 0.0))
    face = on_face(changed(example_design(), well__profile=profile), Stretch())
    (floor,), (land,) = face.floor, face.land
    for run, corner in ((floor, (10.0, -247.0)), (land, (10.0, -237.108))):
        assert {round(v, 3) for _, v in run} == {round(run[0][1], 3)}
        assert any(math.dist(at, corner) < 0.001 for at in run)


def test_a_reused_hole_has_a_target_ring_and_neither_dot_nor_pilot() -> None:
    """The upper port bolt uses an open 1/2 in hole 0.2 mm off its place; read back from the file by another's reader."""
    design = changed(example_design(), old_holes=(old_upper("upper port", -163.7),))
    pages = template_pages(cleared(design), on("a4"))
    read = read_with_pikepdf(printed(pages))
    for bolt in bolts(design):
        (index, hole) = next(
            (index, m)
            for index, page in enumerate(pages)
            for m in page.marks
            if isinstance(m, Circle) and is_hole(m) and m.part == bolt.at and m.radius == pytest.approx(6.75)
        )
        new = bolt.name != "upper port"
        sheet = read[index]
        assert sheet.circle_at(hole.centre, 6.75)
        assert sheet.circle_at(hole.centre, 25.4 / 16) == new
        assert sheet.circle_at(hole.centre, 0.4) == new
        assert sheet.circle_at((hole.centre[0] - 0.1875, hole.centre[1]), 6.35 + 3.0, 0.01) == (not new)
    words = " ".join(" ".join(page.text for page in read).split())
    assert words.count("reused: open to 17/32 in (13.5 mm)") == 1
    assert words.count("pilot 1/8, final 17/32 in (13.5 mm)") == 3
    assert "Look at each target ring. If its reused hole is not inside it, stop." in words
    assert "Drill no pilot in a reused hole. Open it to size." in words
    assert "target" not in " ".join(page.text for page in read_with_pikepdf(printed(pages_of("template", "example", "a4"))))


def test_where_every_hole_is_reused_no_step_asks_to_punch_or_to_judge_a_pilot() -> None:
    holes = tuple(
        replace(old_upper(bolt.name, bolt.u), at=(bolt.u, bolt.v)) for bolt in bolts(example_design())
    )
    pages = template_pages(cleared(changed(example_design(), old_holes=holes)), on())
    words = " ".join(" ".join(page.text for page in read_with_pikepdf(printed(pages))).split())
    assert words.count("reused: open to") == 4
    assert "punch the dots" not in words
    assert "first pilot" not in words


@pytest.mark.parametrize("path", numbers_of(example_design()))
def test_without_any_measure_the_holes_are_drawn_or_the_reason_is_said(path: str) -> None:
    design = changed(example_design(), **{path.replace(".", "__"): None})
    if any(path.startswith(f"mounts.0.{field}") for field in ("upper_at", "drop", "offset", "upper_tilt", "lower_tilt")) or (
        path.endswith("_hardware.hole")
    ):
        with pytest.raises(OwnerError, match="is not known"):
            on_face(design, Stretch())
        return
    face = on_face(design, Stretch())
    assert len(face.holes) == 4
    assert needs(face, None).down > 240


# What can't be printed


def test_a_hole_not_yet_placed_is_named() -> None:
    design = changed(example_design(), mounts__0__drop=None)
    with pytest.raises(OwnerError, match="not known"):
        template_pages(check(design), on())


def test_names_that_no_font_has_are_printed_as_squares() -> None:
    design = replace(example_design(), name="漢 " + "x" * 190)
    pages = template_pages(check(design), on())
    assert any("□" in m.text and m.text.endswith("…") for m in pages[0].marks if isinstance(m, Text))
    assert printed(pages).startswith(b"%PDF")


@pytest.mark.parametrize(("near", "shown"), [(149.0, True), (151.0, False)])
def test_a_fitting_is_shown_where_a_corner_of_it_is_within_150_mm_of_a_hole(near, shown) -> None:
    """To starboard of the lower starboard hole, which is at (125.4125, -215.9)."""
    u, v = 125.4125 + near, -215.9
    eye = Fitting(name="eye", outline=((u, v), (u + 20, v - 10), (u + 20, v + 10)), stands_out=20.0, drill=None)
    shapes = on_face(replace(example_design(), outside_fittings=(eye,)), Stretch())
    assert [name for name, _ in shapes.fittings] == (["eye"] if shown else [])


@pytest.mark.parametrize("offset", [-40.0, 0.0, 40.0])
def test_the_sheets_reach_past_every_cross(offset: float) -> None:
    """Left, right and down, for a motor on either side of the centreline."""
    face = on_face(changed(example_design(), mounts__0__offset=offset), Stretch())
    wanted = needs(face, None)
    for hole in face.holes:
        assert wanted.across[0] <= hole.at[0] - hole.reach
        assert wanted.across[1] >= hole.at[0] + hole.reach
        assert wanted.down >= hole.reach - hole.at[1]


@pytest.mark.parametrize("floor", ["whole", "under holes"])
def test_the_sheets_reach_below_the_lowest_floor_under_a_hole(floor: Literal["whole", "under holes"]) -> None:
    """A floor 34 mm lower at starboard: its line is at -270 - 10.97, with 9 mm for its ticks and name and 2 mm of air."""
    profile = ((-320.0, 0.0), (-300.0, -236.03), (0.0, -236.03), (10.0, -270.0), (300.0, -270.0), (320.0, 0.0))
    face = on_face(changed(example_design(), well__profile=profile, old_holes=()), Stretch())
    line = 270.0 + 44 * math.tan(math.radians(14))
    assert needs(face, None, floor).down == pytest.approx(line + 9.0 + 2.0, abs=1e-6)
    assert needs(face, None, floor, close=True).down == pytest.approx(line + 5.0 + 2.0, abs=1e-6)
    crosses = max(hole.reach - hole.at[1] for hole in face.holes)
    assert needs(face, None, "").down == pytest.approx(crosses + 2.0, abs=1e-6)


def test_the_words_of_an_old_hole_are_next_to_it() -> None:
    """Every place is off its drawing, by 36 mm across and up at the most."""
    (old,) = on_face(example_design(), Stretch()).old
    places = list(old_places(old, "in"))
    assert places
    for place in places:
        words = shapely.union_all([shapely.Polygon(text_box(mark)) for mark in place if isinstance(mark, Text)])
        away = shapely.Point(old.at).distance(words)
        assert old.reach - 0.5 < away < math.sqrt(2) * (old.reach + 36.0)
        for leader in (mark for mark in place if isinstance(mark, Line)):  # from the words straight to the hole's rim
            assert math.dist(leader.b, old.at) == pytest.approx(old.radius + 1.3, abs=1e-6)
            assert math.dist(leader.a, old.at) == pytest.approx(math.dist(leader.a, leader.b) + old.radius + 1.3, abs=1e-6)


def test_each_distance_to_check_has_an_arrow_at_both_ends_that_points_along_its_line() -> None:
    """The tip is at the line's end, and the rest of the arrow is on the line's own side of it."""
    for check_ in checks(on_face(example_design(), Stretch()).holes):
        line, first, second = check_marks(check_)
        assert isinstance(line, Line)
        for arrow, tip, other in ((first, line.a, line.b), (second, line.b, line.a)):
            assert isinstance(arrow, Path)
            assert math.dist(arrow.points[0], tip) < 1e-6
            backs = [math.dist(at, other) for at in arrow.points[1:]]
            assert max(backs) < math.dist(tip, other) - 1.5


@pytest.mark.parametrize(("across", "up", "titled", "amiss"), [
    (150.0, 160.0, True, 0), (150.0, 40.0, True, 1), (40.0, 150.0, True, 1), (150.0, 160.0, False, 4), (40.0, 40.0, False, 5),
])  # fmt: skip
def test_what_a_sheet_lacks(across: float, up: float, titled: bool, amiss: int) -> None:
    """A bar that is too short to be measured, and a title, which weighs more."""
    pen = Pen("ink", 0.2)
    bars = (Line((0.0, 0.0), (across, 0.0), pen, "bar across"), Line((0.0, 0.0), (0.0, up), pen, "bar up"))
    assert _amiss((*bars, *([Text((0.0, 0.0), "Template", 4.0, part="title")] if titled else []))) == amiss


@pytest.mark.parametrize(("count", "words"), [
    (0, "No motor hangs on this boat yet"), (1, "its bracket clamps on"), (2, "its brackets clamp on"),
])  # fmt: skip
def test_a_boat_without_bolts_has_no_template_and_says_why(count: int, words: str) -> None:
    design = replace(example_design(), mounts=(clamp_on_mount(), clamp_on_mount(name="second motor", offset=300.0))[:count])
    with pytest.raises(OwnerError, match=words):
        template_pages(check(design), on())


def test_the_floor_is_left_out_last() -> None:
    """The whole floor comes first, then the same nearer to the title, then the floor under holes; no floor is last."""
    profile = ((-320.0, 0.0), (-300.0, -236.03), (0.0, -236.03), (10.0, -270.0), (300.0, -270.0), (320.0, 0.0))
    asked = wishes(on_face(changed(example_design(), well__profile=profile, old_holes=()), Stretch()), None)
    downs = [wanted.down for wanted in asked]
    assert downs[0] == max(downs)
    assert downs[0] > downs[1] > downs[-1]
    assert downs[2] > downs[3] > downs[-1]


def test_the_figure_of_a_check_is_on_its_line_or_just_off_it() -> None:
    """Whichever way the line goes: between its ends, and square to it by 1 to 5 mm."""
    for distance in checks(on_face(example_design(), Stretch()).holes):
        (ax, ay), (bx, by) = distance.first.at, distance.second.at
        far = math.dist((ax, ay), (bx, by))
        for (written,) in figure_places(distance, "in"):
            assert isinstance(written, Text)
            x, y = written.at[0] - ax, written.at[1] - ay
            along, off = (x * (bx - ax) + y * (by - ay)) / far, abs(x * (by - ay) - y * (bx - ax)) / far
            assert 0.0 < along < far
            assert 1.0 < off < 5.0
