"""The backing plate's own drawing, on paper and as SVG: true, mirrored, rounded and relieved as it is to be made."""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree as Tree

import pytest
from msgspec.structs import replace

from geometry.design.design import Design
from geometry.design.hardware import BackingPlate
from geometry.errors import OwnerError
from geometry.judge.check import check
from templates_out.drawing.marks import Arc, Circle, Line, Page, Path, Text
from templates_out.drawing.printer import Correction
from templates_out.drawing.sheet_figures import check_figure
from templates_out.pages.inside.inside_pages import inside_pages
from templates_out.pages.plate.plate_pages import _dimensions, plate_pages, plate_svgs
from templates_out.pages.plate.plate_shape import corner_radius, plate_shapes, rounding, section
from tests.designs import changed, example_design, twin_design
from tests.templates_out.printed import (
    DAY,
    PAPERS,
    PRECISE,
    READERS,
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

NOTCHED = (
    (-152.4, -28.0), (-98.0, -28.0), (-98.0, -8.0), (90.0, -8.0), (90.0, -28.0), (152.4, -28.0), (152.4, 38.1), (-152.4, 38.1),
)  # fmt: skip
SVG = "{http://www.w3.org/2000/svg}"


def plate(**values) -> BackingPlate:
    bare = BackingPlate(
        outline=NOTCHED, thickness=8.0, relief=(9.0, 6.0), material="aluminium 5083", joins=("lower port", "lower starboard")
    )
    return replace(bare, **values)


@cache
def with_plate(name: str) -> Design:
    if name == "notched":
        return changed(example_design(), mounts__0__lower_hardware__backing_plate=plate())
    if name == "millimetres":
        return changed(with_plate("notched"), units="mm")
    if name == "uppers":
        box = ((-190.0, -25.0), (190.0, -25.0), (190.0, 25.0), (-190.0, 25.0))
        upper = plate(outline=box, relief=(0.0, 0.0), joins=("upper port", "upper starboard"))
        return changed(with_plate("notched"), mounts__0__upper_hardware__backing_plate=upper)
    if name == "twins":
        return changed(
            twin_design(), mounts__0__lower_hardware__backing_plate=plate(), mounts__1__lower_hardware__backing_plate=plate()
        )
    return boat(name)


NAMES = ["notched", "millimetres", "uppers", "twins", "thrice-drilled-runabout"]


@cache
def pages_of(name: str, paper: str) -> tuple[Page, ...]:
    design = with_plate(name)
    return plate_pages(cleared(design), on(paper))


@pytest.mark.parametrize("paper", [*PAPERS, "tabloid", "roll24"])
@pytest.mark.parametrize("name", NAMES)
def test_every_page_is_true_legible_and_marked(name: str, paper: str) -> None:
    pages = pages_of(name, paper)
    assert_read_back(pages)
    assert_bars_true(pages)
    for page in pages:
        assert_legible(page)
        assert_marked(page, with_plate(name))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_letters_go_on_after_the_inside_sheets(name: str, paper: str) -> None:
    design = with_plate(name)
    inner = [page.name for page in inside_pages(cleared(design), on(paper)) if page.name.startswith("Sheet")]
    own = [page.name for page in pages_of(name, paper) if page.name.startswith("Sheet")]
    assert not set(inner) & set(own)
    assert len(set(own)) == len(own)


def crosses(page: Page) -> list[tuple[float, float]]:
    return sorted(
        {(round((m.a[0] + m.b[0]) / 2, 6), round(m.a[1], 6)) for m in page.marks
         if isinstance(m, Line) and m.part == "matching cross" and m.a[1] == m.b[1]}
    )  # fmt: skip


@pytest.mark.parametrize("read", READERS)
def test_holes_are_true_across_the_joined_sheets(read) -> None:
    """250.825 mm apart (9-7/8 in), each 13.5 mm: joined by their matching crosses, within 0.02 mm."""
    for name in ("notched", "thrice-drilled-runabout"):
        pages = pages_of(name, "letter")
        assert len(pages) == 2
        left, right = (crosses(page) for page in pages)
        assert len(left) == len(right) >= 2
        moves = [(a[0] - b[0], a[1] - b[1]) for a, b in zip(left, right, strict=True)]
        assert max(math.dist(move, moves[0]) for move in moves) < PRECISE
        sheets = read(printed(pages))
        holes = [[c for c in page.circles if 6.5 < c.radius < 7.0] for page in sheets]
        assert [len(row) for row in holes] == [1, 1]
        (x, y), (u, v) = holes[0][0].centre, holes[1][0].centre
        assert (u + moves[0][0] - x, v + moves[0][1] - y) == pytest.approx((250.825, 0.0), abs=PRECISE)


def test_seams_keep_clear_of_holes() -> None:
    for name in NAMES:
        for page in pages_of(name, "a4"):
            seams = [m.a[0] for m in page.marks if isinstance(m, Line) and m.part in ("seam", "trim") and m.a[0] == m.b[0]]
            for hole in (m for m in page.marks if isinstance(m, Circle) and m.part.startswith("hole")):
                assert all(abs(hole.centre[0] - x) > 15.0 + hole.radius for x in seams)


# The shape


def test_the_plate_is_mirrored_as_it_is_seen_from_inside() -> None:
    """The notch ends at 90 to starboard and 98 to port: seen from inside, port at the right."""
    (shape,) = plate_shapes(with_plate("notched"))
    notch = sorted(x for x, y in shape.ring if y == pytest.approx(-8.0))
    assert notch == pytest.approx([-90.0, 98.0])
    holes = {name: at for at, _, name in shape.holes}
    assert holes["lower port"] == pytest.approx((125.4125, 0.0))
    assert shape.box == pytest.approx((-152.4, -28.0, 152.4, 38.1))


def test_outward_corners_are_rounded_and_inward_ones_are_not() -> None:
    """A right corner of radius r: the arc begins and ends r from the corner, its centre r from both sides."""
    (shape,) = plate_shapes(with_plate("notched"))
    assert shape.radius == pytest.approx(6.35)  # 3/8 in would take more than its share of the 20 mm step
    corner = rounding((0, 0), (10, 0), (10, 10), 3.0)
    assert corner is not None
    assert [x for point in corner for x in point] == pytest.approx([7.0, 3.0, 7.0, 0.0, 10.0, 3.0])
    assert rounding((0, 0), (10, 0), (10, -10), 3.0) is None
    arcs = [m for page in pages_of("notched", "roll24") for m in page.marks if isinstance(m, Arc) and m.part == "backing plate"]
    assert len(arcs) == 6
    assert {arc.radius for arc in arcs} == {6.35}
    assert all(arc.end - arc.start == pytest.approx(90.0) for arc in arcs)
    assert "Inward corners as sharp as they can be cut." in said(pages_of("notched", "roll24")[0])


def test_rounding_leaves_washers_their_seat() -> None:
    """The end of a washer cut flat stays on the backing plate: where it is in the corner itself, nothing is rounded."""
    box = ((-50.0, -20.0), (50.0, -20.0), (50.0, 20.0), (-50.0, 20.0))
    assert corner_radius(box, (), "in") == pytest.approx(9.525)
    assert corner_radius(box, ((-48.0, -18.0),), "in") == pytest.approx(6.35)
    assert corner_radius(box, ((-49.9, -19.9),), "in") == 0.0
    tiny = ((-4.0, -4.0), (4.0, -4.0), (4.0, 4.0), (-4.0, 4.0))
    assert corner_radius(tiny, (), "mm") == 3.0


def test_the_relieved_edge_is_dashed_where_the_chamfer_begins() -> None:
    """9 mm up the face and 6 mm through: the back begins 9 mm over each edge that faces down."""
    page = pages_of("notched", "roll24")[0]
    lines = [m for m in page.marks if isinstance(m, Line) and m.part == "relieved edge"]
    low = min(y for m in page.marks if isinstance(m, Line) and m.part == "backing plate" for y in (m.a[1], m.b[1]))
    assert sorted(round(m.a[1] - low, 6) for m in lines) == [9.0, 9.0, 29.0]
    assert all(m.pen.dash for m in lines)
    (shape,) = plate_shapes(with_plate("notched"))
    assert section(shape) == ((0.0, -19.0), (6.0, -28.0), (8.0, -28.0), (8.0, 38.1), (0.0, 38.1))
    words = said(page).replace("\N{NO-BREAK SPACE}", " ")
    assert "Lower edge relieved at the back: 23/64 in (9 mm) up the face, 15/64 in (6 mm) through." in words
    ring = next(m for m in page.marks if isinstance(m, Path) and m.part == "section")
    assert max(x for x, _ in ring.points) - min(x for x, _ in ring.points) == pytest.approx(8.0)


@pytest.mark.parametrize("name", NAMES)
def test_a_dimension_is_level_or_upright_off_the_backing_plate_and_as_long_as_it_says(name: str) -> None:
    """Those between holes are next to the backing plate, those over all further out; within 1e-6 mm."""
    for shape in plate_shapes(with_plate(name)):
        left, low, right, high = shape.box
        lines = list(_dimensions(shape))
        for a, b, length in lines:
            assert math.dist(a, b) == pytest.approx(length, abs=1e-6)
            assert (a[1] == b[1] < low - 1.0) or (a[0] == b[0] < left - 1.0), (a, b)
        for axis, over_all, edge in ((1, right - left, low), (0, high - low, left)):
            rows = {round(edge - a[axis], 6) for a, b, length in lines if a[axis] == b[axis] and length < over_all - 1e-6}
            (outer,) = (edge - a[axis] for a, b, length in lines if a[axis] == b[axis] and length > over_all - 1e-6)
            assert len(rows) == 1
            assert outer > max(rows)


def test_a_plate_without_relief_has_a_square_section() -> None:
    (shape,) = plate_shapes(with_plate("thrice-drilled-runabout"))
    assert shape.back is None
    assert section(shape) == ((0.0, -38.1), (6.35, -38.1), (6.35, 38.1), (0.0, 38.1))


@pytest.mark.parametrize("paper", [*PAPERS, "tabloid", "roll24"])
@pytest.mark.parametrize("name", NAMES)
def test_every_dimension_line_has_its_figure(name: str, paper: str) -> None:
    """Breadth and height over all, and each distance between edges and holes, across and up."""
    unit = with_plate(name).units
    words = [m for page in pages_of(name, paper) for m in page.marks if isinstance(m, Text)]
    figures = [m.text for m in words if m.part == "dimension figure"]
    for shape in plate_shapes(with_plate(name)):
        left, low, right, high = shape.box
        across = [left, *sorted({x for (x, _), _, _ in shape.holes}), right]
        up = [low, *sorted({y for (_, y), _, _ in shape.holes}), high]
        for a, b in (*pairwise(across), *pairwise(up), (left, right), (low, high)):
            own = check_figure(b - a, unit).split(" (")[0]
            assert any(figure.split(" (")[0] == own for figure in figures), (own, figures)


def test_backing_plates_made_alike_are_there_once() -> None:
    shapes = plate_shapes(with_plate("twins"))
    assert [(shape.name, shape.count) for shape in shapes] == [("lower pair, port motor and starboard motor", 2)]
    assert "Make 2: aluminum 5083" in " ".join(map(said, pages_of("twins", "letter")))
    assert [shape.name for shape in plate_shapes(with_plate("uppers"))] == ["upper pair", "lower pair"]


def test_what_is_not_to_be_made_yet_says_so() -> None:
    design = boat("thrice-drilled-runabout")
    words = " ".join(map(said, plate_pages(check(design), on())))
    assert "Do not make it yet." in words
    assert "Do not make it yet." not in " ".join(map(said, pages_of("thrice-drilled-runabout", "letter")))


# For a cutter


@pytest.mark.parametrize("name", NAMES)
def test_the_svg_is_in_millimetres_and_holds_outline_and_holes(name: str) -> None:
    """Read by the standard library's XML parser: width and viewBox agree in mm, and holes are circles of their radius."""
    design = with_plate(name)
    for (title, text), shape in zip(plate_svgs(cleared(design), DAY), plate_shapes(design), strict=True):
        root = Tree.fromstring(text)
        _, _, width, height = map(float, root.attrib["viewBox"].split())
        assert (root.attrib["width"], root.attrib["height"]) == (f"{width:g}mm", f"{height:g}mm")
        circles = [tuple(float(c.attrib[key]) for key in ("cx", "cy", "r")) for c in root.iter(f"{SVG}circle")]
        assert len(circles) == len(shape.holes)
        (a, b), (first, second) = circles, sorted(at for at, _, _ in reversed(shape.holes))
        left, right = sorted((a, b))
        assert (right[0] - left[0], left[1] - right[1]) == pytest.approx((second[0] - first[0], second[1] - first[1]), abs=1e-5)
        assert [circle[2] for circle in circles] == pytest.approx([diameter / 2 for _, diameter, _ in shape.holes])
        paths = [p.attrib["d"] for p in root.iter(f"{SVG}path") if p.attrib.get("data-part") == "backing plate"]
        numbers = [[float(x) for x in d.replace("M", "").replace("L", "").split()] for d in paths if "A" not in d]
        xs = [row[i] for row in numbers for i in (0, 2)]
        assert max(xs) - min(xs) == pytest.approx(shape.box[2] - shape.box[0], abs=1e-5)
        assert title == f"backing plate, {shape.name}"
        words = " ".join(t.text or "" for t in root.iter(f"{SVG}text"))
        for wanted in ("revision 1", "2026-11-25", "millimetres, 1 to 1", "port at the right"):
            assert wanted in words


def test_the_svg_s_outline_is_one_closed_line() -> None:
    """Every piece ends where another begins, so that a cutter can join them."""
    root = Tree.fromstring(plate_svgs(cleared(with_plate("notched")), DAY)[0][1])
    ends: list[tuple[float, float]] = []
    for p in root.iter(f"{SVG}path"):
        if p.attrib.get("data-part") == "backing plate":
            numbers = p.attrib["d"].replace("M", "").replace("L", "").replace("A", "").split()
            ends += [(float(numbers[0]), float(numbers[1])), (float(numbers[-2]), float(numbers[-1]))]
    for at in ends:
        assert sum(math.dist(at, other) < 1e-5 for other in ends) == 2


# What can't be drawn


def test_no_plate_and_a_plate_not_measured_are_refused_in_one_sentence() -> None:
    for write in (lambda design: plate_svgs(cleared(design)), lambda design: plate_pages(cleared(design), on())):
        with pytest.raises(OwnerError, match="no backing plate"):
            write(example_design())
        with pytest.raises(OwnerError, match="not known") as caught:
            write(changed(with_plate("notched"), mounts__0__lower_hardware__backing_plate__thickness=None))
        assert "thickness" in str(caught.value)


def test_a_printer_that_is_off_is_corrected() -> None:
    design = with_plate("notched")
    pages = plate_pages(cleared(design), on("roll24"))
    assert len(pages) == 1
    other = plate_pages(cleared(design), on("roll24", correction=Correction(short=1 / 0.995)))
    here, there = (
        sorted(m.centre[0] for m in page[0].marks if isinstance(m, Circle) and m.part.startswith("hole"))
        for page in (pages, other)
    )
    assert (there[1] - there[0]) * 0.995 == pytest.approx(here[1] - here[0])


def test_the_same_design_and_date_give_the_same_bytes() -> None:
    design = with_plate("notched")
    assert plate_svgs(cleared(design), DAY) == plate_svgs(cleared(design), DAY)


def test_the_svg_s_words_are_under_each_other_below_the_plate() -> None:
    """The backing plate's name comes first. y grows downward in SVG."""
    root = Tree.fromstring(plate_svgs(cleared(with_plate("notched")), DAY)[0][1])
    words = [(float(element.attrib["y"]), "".join(element.itertext())) for element in root.iter(f"{SVG}text")]
    rows = [row for row, _ in words]
    assert words[0][1].startswith("Backing plate")
    assert rows == sorted(rows)
    assert all(b - a > 4.0 for a, b in pairwise(rows))
