"""Printed words next to their hole, and full-scale lengths by their own factor, read back from the files by others' readers.

Each file is put together as a person does it. Then each hole's words are looked up at its place on the paper.
This is done on every paper, for a boat and its mirror image, and for a printer whose bars are off by 1 % and 0.4 %.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache

import pytest
from msgspec.structs import replace

from geometry.design.design import Design
from geometry.tables.papers import paper, paper_names
from templates_out.drawing.marks import Page
from templates_out.drawing.printer import Correction
from templates_out.pages.bars.bars_page import bars_page
from templates_out.pages.coupons.coupon_pages import coupon_pages
from templates_out.pages.gauge.gauge_pages import gauge_pages
from templates_out.pages.inside.inside_pages import inside_pages
from templates_out.pages.plate.plate_pages import plate_pages
from templates_out.pages.template.template_pages import template_pages
from tests.designs import changed, example_design, mirrored, twin_design
from tests.readers import ReadPage, ReadPath, ReadText, read_with_pikepdf, words_on
from tests.templates_out.by_hand import Place, behind, inside_edge, places
from tests.templates_out.joined import assembled
from tests.templates_out.printed import PRECISE, bar_said, cleared, on, printed
from tests.templates_out.test_plate import with_plate

SHORT, LONG = 1 / 1.01, 1 / 1.004
OFF = Correction(SHORT, LONG, (0.001, 0.001))  # 1 % long along the paper's shorter side, 0.4 % along its longer one
NAME = re.compile(r"^(UPPER|LOWER) (PORT|STARBOARD)(, .*)?$")

Box = tuple[float, float, float, float]


@cache
def boat(name: str) -> Design:
    """Boats whose holes are all different: off the middle, and thicker or thinner lower down."""
    example = example_design()
    lean = changed(example, mounts__0__offset=-17.0, transom__thickness__low=56.0, inside_blocks=(), outside_fittings=())
    if name == "offset":
        return lean
    if name == "thinner, mm":
        return changed(lean, transom__thickness__low=36.0, units="mm", mounts__0__lower_tilt=6.0)
    if name == "cut washers":
        return changed(lean, mounts__0__lower_hardware__washer__flat_cut=12.0)
    if name == "twin":
        twin = twin_design()
        return replace(twin, mounts=(replace(twin.mounts[0], offset=-341.0), twin.mounts[1]))
    if name == "mirrored twin":
        return mirrored(boat("twin"))
    return mirrored(boat(name.removeprefix("mirrored ")))


CASES = [
    *(("offset", paper_name, False) for paper_name in paper_names()),
    *(("mirrored offset", paper_name, True) for paper_name in paper_names()),
    ("thinner, mm", "a4", True), ("twin", "a4", False), ("mirrored twin", "letter", True),
]  # fmt: skip


@dataclass(frozen=True)
class Laid:
    """Sheets of one kind, read back and joined: each page's paths and words, and where its origin is."""

    pages: list[ReadPage]
    words: list[list[ReadText]]
    corners: list[tuple[float, float]]
    origin: tuple[float, float]
    factors: tuple[float, float]

    def on(self, index: int, across: float, up: float) -> tuple[float, float]:
        """Return where a true place from the centreline and the fold is on a page."""
        (dx, dy), (x, y) = self.corners[index], self.origin
        return x + across * self.factors[0] - dx, y + up * self.factors[1] - dy


def factors_of(page: ReadPage | Page, paper_name: str, off: bool) -> tuple[float, float]:
    """Return what a page's drawing has to be multiplied by, across and up: a page on its side meets the two turned."""
    if not off:
        return 1.0, 1.0
    size = paper(paper_name)
    if size.roll:
        return (SHORT, LONG) if abs(page.width - size.width) < 0.01 else (LONG, SHORT)
    return (SHORT, LONG) if page.width < page.height else (LONG, SHORT)


@cache
def laid(kind: str, name: str, paper_name: str, off: bool) -> Laid:
    printing = on(paper_name, correction=OFF) if off else on(paper_name)
    make = {"template": template_pages, "inside": inside_pages}[kind]
    data = printed(make(cleared(boat(name)), printing))
    read = read_with_pikepdf(data)
    kept = [index for index, page in enumerate(read) if "Print at 100 %" in page.text]
    pages, words = [read[index] for index in kept], [words_on(data)[index] for index in kept]
    corners, origin = assembled(pages)
    return Laid(pages, words, corners, origin, factors_of(pages[0], paper_name, off))


def seen_at(kind: str, place: Place) -> tuple[float, float]:
    """Return where a hole is on the drawing: the inside sheet is a mirror image, and counts from its own edge."""
    return (place.u, place.v) if kind == "template" else (-place.u, -place.deep)


def block_under(head: ReadText, words: list[ReadText]) -> list[ReadText]:
    """Return the lines of a label: its name and what is under it, from the same left edge, line by line."""
    block = [head]
    while True:
        below = [
            word
            for word in words
            if abs(word.box[0] - head.box[0]) < 0.8 and 0.0 < block[-1].box[1] - word.box[1] < 5.5 and word not in block
        ]
        if not below:
            return block
        block.append(max(below, key=lambda word: word.box[1]))


def about(block: list[ReadText]) -> Box:
    lefts, bottoms, rights, tops = zip(*(word.box for word in block), strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


def away(box: Box, at: tuple[float, float]) -> float:
    """Return how far a place is from a box."""
    return math.hypot(max(box[0] - at[0], 0.0, at[0] - box[2]), max(box[1] - at[1], 0.0, at[1] - box[3]))


def pointed_at(box: Box, page: ReadPage, holes: dict[str, tuple[float, float]]) -> str:
    """Return the hole that a person takes a label for: that which its leader ends at, else the nearest."""
    for path in page.paths:
        if len(path.points) != 2 or abs(path.look.weight - 0.13) > 0.01:
            continue
        for here, there in (path.points, path.points[::-1]):
            for key, at in holes.items():
                if away(box, here) < 2.6 and math.dist(there, at) < 21.5 and math.dist(here, at) > math.dist(there, at) + 2.0:
                    return key
    return min(holes, key=lambda key: away(box, holes[key]))


def millimetres(text: str) -> float:
    match = re.search(r"([\d.]+) mm", text)
    assert match, text
    return float(match[1])


@pytest.mark.parametrize("kind", ["template", "inside"])
@pytest.mark.parametrize(("name", "paper_name", "off"), CASES)
def test_each_hole_has_its_own_words_at_its_own_place(name: str, paper_name: str, kind: str, off: bool) -> None:
    """Name, side, depth and drill belong to the hole that they are next to, or that their leader points at.

    The final circle is there as well, round, its radius multiplied by the root of both factors, within 0.02 mm.
    """
    design, sheets = boat(name), laid(kind, name, paper_name, off)
    wanted = {f"{place.motor} / {place.name}": place for place in places(design)}
    radius = math.sqrt(sheets.factors[0] * sheets.factors[1])
    labelled = []
    for index, (page, words) in enumerate(zip(sheets.pages, sheets.words, strict=True)):
        here = {key: sheets.on(index, *seen_at(kind, place)) for key, place in wanted.items()}
        here = {
            key: at for key, at in here.items() if page.circle_at(at, wanted[key].hole / 2 * radius, PRECISE)
        }
        for head in (word for word in words if NAME.match(word.text)):
            block = block_under(head, words)
            key = pointed_at(about(block), page, here)
            place = wanted[key]
            several = f", {place.motor}" if len(design.mounts) > 1 else ""
            lines = [word.text for word in block]
            assert lines[0] == f"{place.name.upper()}{several}", key
            side = "port" if place.u < 0 else "starboard"
            assert re.search(rf" to {side}\b", lines[1]), (key, lines[1])
            assert millimetres(lines[1]) == pytest.approx(abs(place.u), abs=0.051)
            deep = -place.v if kind == "template" else place.deep
            assert ("below the top edge" if kind == "template" else "below inside edge") in lines[2]
            assert millimetres(lines[2]) == pytest.approx(deep, abs=0.051), key
            if kind == "template":
                assert millimetres(lines[3].split("final")[1]) == pytest.approx(place.hole, abs=0.051)
                tilt = design.mounts[0].upper_tilt if place.name.startswith("upper") else design.mounts[0].lower_tilt
                assert lines[4] == (f"TILT UP {tilt:.0f}° going in" if tilt else "SQUARE TO THE FACE")
            labelled.append(key)
    assert sorted(labelled) == sorted(wanted), "each hole has its words once"


@pytest.mark.parametrize("kind", ["template", "inside"])
@pytest.mark.parametrize(("name", "paper_name", "off"), CASES)
def test_the_sides_are_named_as_they_are_seen(name: str, paper_name: str, off: bool, kind: str) -> None:
    """Outside the arrow to the left says PORT, inside STARBOARD; side by side, each name is on the right side."""
    sheets = laid(kind, name, paper_name, off)
    left, right = ("PORT", "STARBOARD") if kind == "template" else ("STARBOARD", "PORT")
    for words in sheets.words:
        ends = {word.text: word.box for word in words if word.text in (f"◄ {left}", f"{right} ►", f"◄ {right}", f"{left} ►")}
        assert set(ends) == {f"◄ {left}", f"{right} ►"}
        left_box, right_box = ends[f"◄ {left}"], ends[f"{right} ►"]
        assert abs(left_box[1] - right_box[1]) > 1.0 or left_box[2] < right_box[0]


# Bars, each by its own factor


@cache
def full_scale(kind: str, paper_name: str) -> list[ReadPage]:
    if kind in ("template", "inside"):
        return laid(kind, "mirrored offset", paper_name, True).pages
    if kind == "twin":
        return laid("template", "mirrored twin", paper_name, True).pages
    design, printing = boat("offset"), on(paper_name, correction=OFF)
    pages = {
        "bars": lambda: (bars_page(cleared(design), printing),),
        "coupons": lambda: coupon_pages(design, printing),
        "gauge": lambda: gauge_pages(cleared(design), printing),
        "plate": lambda: plate_pages(cleared(with_plate("notched")), printing),
    }[kind]()
    return [page for page in read_with_pikepdf(printed(pages)) if "Print at 100 %" in page.text]


@pytest.mark.parametrize(
    ("kind", "paper_name"),
    [
        *(("template", name) for name in paper_names()), *(("inside", name) for name in paper_names()),
        ("twin", "letter"), *((kind, name) for kind in ("bars", "coupons", "gauge", "plate") for name in ("letter", "a4")),
    ],
)  # fmt: skip
def test_each_bar_is_as_long_as_it_says_by_its_own_factor(kind: str, paper_name: str) -> None:
    """The bar across by the factor across, the bar up by the factor up, from end tick to end tick within 0.02 mm."""
    pages = full_scale(kind, paper_name)
    assert pages
    for page in pages:
        for word, axis in (("Across", 0), ("Up", 1)):
            true = bar_said(page.text, word)
            length = true * factors_of(page, paper_name, True)[axis]
            assert any(_ticked(page, line, axis) for line in _straight(page, length, axis)), (kind, word, true)


Ends = tuple[tuple[float, float], ...]


def _straight(page: ReadPage, length: float, axis: int) -> list[Ends]:
    """Return the lines as long as that, level (axis 0) or upright (axis 1)."""
    lines = [path.points for path in page.paths if len(path.points) == 2]
    return [
        (a, b) for a, b in lines if abs(a[1 - axis] - b[1 - axis]) < 1e-3 and abs(math.dist(a, b) - length) < PRECISE
    ]


def _ticked(page: ReadPage, bar: Ends, axis: int) -> bool:
    """Say whether a short tick square to a bar goes through each of its ends."""
    ticks = [path.points for path in page.paths if len(path.points) == 2 and 3.0 < math.dist(*path.points) < 7.0]

    def through(tick: Ends, end: tuple[float, float]) -> bool:
        low, high = sorted(at[1 - axis] for at in tick)
        return all(abs(at[axis] - end[axis]) < PRECISE for at in tick) and low - 0.01 <= end[1 - axis] <= high + 0.01

    return all(any(through(tick, end) for tick in ticks) for end in bar)


# Arcs at full scale


def arcs(pages: list[ReadPage]) -> list[ReadPath]:
    """Return what is bent but no whole circle."""
    return [path for page in pages for path in page.paths if path.curves and not path.look.filled]


def radius_of(path: ReadPath) -> float:
    """Return an arc's radius: of a quarter from its chord, of a longer one from the circle through three of its points."""
    first, middle, last = path.points[0], path.points[len(path.points) // 2], path.points[-1]
    if len(path.points) == 2:
        return math.dist(first, last) / math.sqrt(2.0)
    a, b, c = math.dist(middle, last), math.dist(first, last), math.dist(first, middle)
    half = (a + b + c) / 2
    return a * b * c / (4.0 * math.sqrt(half * (half - a) * (half - b) * (half - c)))


ROUND = math.sqrt(SHORT * LONG)


def test_a_washer_cut_flat_is_round_by_both_factors() -> None:
    """1 1/2 in across: two lower washers on template and inside sheet, 19.05 mm by the root of both factors."""
    for kind in ("template", "inside"):
        radii = [radius_of(path) for path in arcs(laid(kind, "cut washers", "letter", True).pages)]
        assert sorted(radii) == pytest.approx([19.05 * ROUND] * 2, abs=0.01)


def test_the_corner_cards_are_round_by_both_factors() -> None:
    """Twelve corners from 3 to 40 mm, a quarter each, and the washer cut flat."""
    radii = sorted(radius_of(path) for path in arcs(full_scale("coupons", "letter")))
    wanted = sorted((3, 5, 6, 8, 10, 12, 15, 20, 25, 30, 35, 40, 19.05))
    assert radii == pytest.approx([radius * ROUND for radius in wanted], abs=0.01)


def test_a_plate_s_corners_are_round_by_both_factors() -> None:
    """Outward corners of 1/4 in, where the page says so."""
    pages = full_scale("plate", "letter")
    match = re.search(r"rounded, radius (\d+/\d+) in", " ".join(" ".join(page.text.split()) for page in pages))
    assert match
    top, bottom = map(int, match[1].split("/"))
    radii = [radius_of(path) for path in arcs(pages)]
    assert len(radii) >= 6
    assert radii == pytest.approx([top / bottom * 25.4 * ROUND] * len(radii), abs=0.01)


# The floor line on a face whose inside leans


@pytest.mark.parametrize(("name", "paper_name", "off"), [case for case in CASES if "twin" not in case[0]])
def test_the_hidden_floor_is_straight_behind_the_outer_face(name: str, paper_name: str, off: bool) -> None:
    """236.03 mm down the inner face, carried square to the outer one: with 12 mm of taper in 250 mm, 0.27 mm less down.

    The inside sheet has the same floor 236.03 mm below its own fold.
    """
    design = boat(name)
    down = behind(design, 236.03)
    assert abs(inside_edge(design)[0] - 236.03 - down) > 0.1  # without the taper it would be elsewhere
    for kind, up, dashed, weight in (("template", down, True, 0.35), ("inside", -236.03, False, 0.50)):
        sheets = laid(kind, name, paper_name, off)
        gaps = []
        for index, page in enumerate(sheets.pages):
            level = sheets.on(index, 0.0, up)[1]
            for path in page.paths:
                ends = path.points
                flat = len(ends) == 2 and abs(ends[0][1] - ends[1][1]) < 0.05 and math.dist(*ends) > 20.0
                if flat and path.look.dashed == dashed and abs(path.look.weight - weight) < 0.01:
                    gaps += [ends[0][1] - level] if abs(ends[0][1] - level) < 2.0 else []
        assert gaps, kind
        assert gaps == pytest.approx([0.0] * len(gaps), abs=PRECISE)
