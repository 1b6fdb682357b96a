"""The template read back from its PDF by two readers that share no code with the writer, and put together.

Tolerances are lengths on paper.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache
from io import BytesIO

import pikepdf
import pytest

from geometry.solid.placed_bolts import bolts
from geometry.tables.papers import paper_names
from templates_out.drawing.marks import Text
from tests.readers import ReadPage, raster, read_with_pdfium, read_with_pikepdf
from tests.templates_out.joined import assembled, cell, joined
from tests.templates_out.kinds import pages_of
from tests.templates_out.printed import BOATS, PRECISE, READERS, bar_said, boat, printed

Reader = Callable[[bytes], list[ReadPage]]
CASES = [
    *(("example", paper) for paper in paper_names()),
    *((name, paper) for name in BOATS[1:] for paper in ("letter", "tabloid")),
    ("twin", "a4"),
    ("tilted", "roll24"),
    ("twin", "legal"),
]


@cache
def pdf_of(name: str, paper: str) -> bytes:
    return printed(pages_of("template", name, paper))


@cache
def read_of(name: str, paper: str, read: Reader) -> list[ReadPage]:
    return read(pdf_of(name, paper))


def sheets(name: str, paper: str, read: Reader) -> list[ReadPage]:
    """The full-scale pages: those with bars to measure."""
    return [page for page in read_of(name, paper, read) if "Print at 100 %" in page.text]


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize(("name", "paper"), CASES)
def test_joined_by_its_crosses_every_hole_is_where_the_design_puts_it(name: str, paper: str, read: Reader) -> None:
    """Each hole once, on one sheet, its circles about one centre, within 0.02 mm; a reused hole has no pilot and no dot."""
    pages = sheets(name, paper, read)
    places, (u0, v0) = assembled(pages)
    for bolt in bolts(boat(name)):
        at = (bolt.u + u0, bolt.v + v0)
        seen = 0
        for page, (dx, dy) in zip(pages, places, strict=True):
            here = (at[0] - dx, at[1] - dy)
            if page.circle_at(here, bolt.hole / 2, PRECISE):
                seen += 1
                pilot = 25.4 / 16 if boat(name).units == "in" else 1.5
                new = (name, bolt.name) != ("thrice-drilled-runabout", "upper port")  # that bolt uses an old hole again
                assert page.circle_at(here, pilot, PRECISE) == new
                assert page.circle_at(here, 0.4, PRECISE) == new
                if bolt.hardware.washer.flat_cut is None:
                    behind = (here[0], here[1] + bolt.exit.v - bolt.v)
                    assert page.circle_at(behind, bolt.washer_disc.radius, PRECISE)
                assert page.line_between((here[0] - 30, here[1]), (here[0] + 30, here[1]))
                assert page.line_between((here[0], here[1] - 30), (here[0], here[1] + 30))
        assert seen == 1, f"{bolt.at} is seen on {seen} sheets of {paper}"


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("paper", paper_names())
def test_bars_are_as_long_as_they_say_across_and_up_on_every_sheet(paper: str, read: Reader) -> None:
    """Tick to tick within 0.02 mm; at least 150 mm each way on every paper."""
    for page in sheets("example", paper, read):
        words = page.text.replace("\r\n", " ")
        for word, axis in (("Across", 0), ("Up", 1)):
            said = bar_said(words, word)
            assert said >= 150
            ends = [p.points for p in page.paths if len(p.points) == 2 and abs(p.look.weight - 0.18) < 0.01]
            bars = [
                points
                for points in ends
                if abs(math.dist(*points) - said) < PRECISE and abs(points[0][1 - axis] - points[1][1 - axis]) < 1e-3
            ]
            assert len(bars) == 1, f"{word} {said}"
            for end in bars[0]:
                ticks = [
                    p.points
                    for p in page.paths
                    if len(p.points) == 2 and abs(p.look.weight - 0.13) < 0.01 and 3 < math.dist(*p.points) < 7
                ]
                assert any(abs(a[axis] - end[axis]) < PRECISE and abs(b[axis] - end[axis]) < PRECISE for a, b in ticks)


@pytest.mark.parametrize("paper", paper_names())
def test_every_sheet_says_what_it_is(paper: str) -> None:
    """Searchable words, the paper's size, its name, and the wish not to be scaled."""
    data = pdf_of("example", paper)
    with pikepdf.open(BytesIO(data)) as pdf:
        assert str(pdf.Root.ViewerPreferences.PrintScaling) == "/None"
        labels = [page.label for page in pdf.pages]
    pages = read_with_pdfium(data)
    count = len([label for label in labels if label.startswith("Sheet ")])
    for number, (page, label) in enumerate(zip(pages[:count], labels, strict=False), start=1):
        words = " ".join(page.text.split())
        assert label == f"Sheet {'ABCDEFGH'[number - 1]}"
        for wanted in (
            label, "Drilling template: example, main motor", f"page {number} of {count}", "2026-11-25", "revision 1",
            "Print at 100 %, no scaling", "SEEN FROM ASTERN", "PORT", "STARBOARD", "UP",
        ):  # fmt: skip
            assert wanted in words, f"{label} lacks {wanted}"
    everything = " ".join(" ".join(page.text.split()) for page in pages)
    for wanted in (
        "FOLD BACK HERE", "CENTRELINE", "UPPER PORT", "LOWER STARBOARD", "6-7/16 in to port (163.5 mm)",
        "8-1/2 in below the top edge (215.9 mm)", "SQUARE TO THE FACE", "washer, inside", "well floor behind this line",
        "12-7/8 in (327.0)", "9-7/8 in (250.8)", "13-3/32 in (332.8)", "tape", "Before you punch", "Is PORT on your left?",
        "If a box is empty, do not drill on.",
    ):  # fmt: skip
        assert wanted in everything, f"{paper} lacks {wanted}"


def test_the_diagonals_are_true() -> None:
    """By hand: sqrt((163.5125 + 125.4125)^2 + 165.1^2) = 332.77 mm, and each figure is there once for each diagonal."""
    texts = [mark.text for page in pages_of("template", "example", "letter") for mark in page.marks if isinstance(mark, Text)]
    assert math.hypot(163.5125 + 125.4125, 165.1) == pytest.approx(332.77, abs=0.005)
    assert texts.count("13-3/32 in (332.8)") == 2
    assert texts.count("12-7/8 in (327.0)") == texts.count("9-7/8 in (250.8)") == 1


def test_a_hole_measures_true_at_600_dpi() -> None:
    """A pixel is 0.042 mm: the dot's centroid within 0.01 mm of where the reader puts its circle, 0.8 mm across."""
    data = pdf_of("example", "letter")
    page = read_with_pikepdf(data)[0]
    dot = next(circle for circle in page.circles if abs(circle.radius - 0.4) < 0.01 and circle.look.filled)
    image = 255.0 - raster(data, 0).astype(float)
    per_row, per_column = page.height / image.shape[0], page.width / image.shape[1]
    row, column = (page.height - dot.centre[1]) / per_row, dot.centre[0] / per_column
    window = image[int(row) - 60 : int(row) + 60, int(column) - 60 : int(column) + 60].copy()
    ys, xs = window.nonzero()
    keep = (ys - 60) ** 2 + (xs - 60) ** 2 < (1.1 / per_row) ** 2  # inside the pilot's circle: dot and fine cross
    ys, xs, ink = ys[keep], xs[keep], window[ys[keep], xs[keep]]
    middle = (
        (int(column) - 60 + (xs + 0.5) @ ink / ink.sum()) * per_column,
        page.height - (int(row) - 60 + (ys + 0.5) @ ink / ink.sum()) * per_row,
    )
    assert middle == pytest.approx(dot.centre, abs=0.01)
    rays = image[int(row), int(column) - 300 : int(column) + 300]
    dark = (rays > 128).nonzero()[0]
    assert len(dark) > 500  # the cross runs right through, unbroken


# Print and tape, rehearsed by arithmetic


def placed(pages: list[ReadPage], off: list[tuple[float, float]]) -> dict[str, tuple[float, float]]:
    """Where each hole of the example is on the joined paper, each sheet laid ``off`` from where its crosses meet."""
    places, (u0, v0) = assembled(pages)
    holes: dict[str, tuple[float, float]] = {}
    for bolt in bolts(boat("example")):
        at = (bolt.u + u0, bolt.v + v0)
        (home,) = [
            index for index, (dx, dy) in enumerate(places)
            if pages[index].circle_at((at[0] - dx, at[1] - dy), bolt.hole / 2, PRECISE)
        ]  # fmt: skip
        circle = min(
            (c for c in pages[home].circles if abs(c.radius - bolt.hole / 2) < PRECISE),
            key=lambda c: math.dist(c.centre, (at[0] - places[home][0], at[1] - places[home][1])),
        )
        dx, dy = places[home]
        holes[bolt.name] = (circle.centre[0] + dx + off[home][0], circle.centre[1] + dy + off[home][1])
    return holes


@pytest.mark.parametrize("paper", ["letter", "a4", "tabloid"])
def test_a_sheet_taped_askew_shows_in_a_distance_to_check(paper: str) -> None:
    """Cut, joined at the crosses, each sheet in turn laid 0.3 mm off one way. A distance between holes on different
    sheets differs by it, and so does the join check across. A drawing that is moved whole is not seen, and does not
    matter. Along the joined line the error is the whole 0.3 mm; across a diagonal the part along it.
    """
    pages = sheets("example", paper, read_with_pikepdf)
    true = placed(pages, [(0.0, 0.0)] * len(pages))
    sides = [(a, b) for a in true for b in true if a < b]
    for index in range(1, len(pages)):
        for shift in ((0.3, 0.0), (0.0, 0.3), (-0.3, 0.0), (0.0, -0.3)):
            off = [shift if other == index else (0.0, 0.0) for other in range(len(pages))]
            laid = placed(pages, off)
            moved = [name for name in laid if math.dist(laid[name], true[name]) > 1e-6]
            assert len(moved) < 4
            if moved:
                shown = max(abs(math.dist(laid[a], laid[b]) - math.dist(true[a], true[b])) for a, b in sides)
                assert shown > 0.148
                assert shown <= 0.3 + 1e-9


@pytest.mark.parametrize(("shear", "longer"), [(False, (0.3, 0.3, 0.409, 0.409)), (True, (0.0, 0.0, 0.2605, -0.2605))])
def test_an_error_at_every_joint_shows_in_pairs_and_diagonals(shear: bool, longer: tuple[float, ...]) -> None:
    """0.3 mm at each joint. By hand: half spacings 163.51 and 125.41, drop 165.1, so that a diagonal runs 288.925 across
    and 165.1 down, 332.77 long. Every joint open by 0.3: the pairs read 0.3 long, both diagonals
    0.3·(288.925 + 165.1)/332.77 = 0.409. The lower sheets 0.3 to starboard: one diagonal longer and one shorter by
    0.3·288.925/332.77 = 0.2605, and nothing else shows it.
    """
    pages = sheets("example", "letter", read_with_pikepdf)
    cells = [cell(page) for page in pages]
    true = placed(pages, [(0.0, 0.0)] * len(pages))
    off = [(0.3 * (row - 1), 0.0) if shear else (0.3 * (column - 1), -0.3 * (row - 1)) for row, column in cells]
    moved = placed(pages, off)
    pairs = (
        ("upper port", "upper starboard"), ("lower port", "lower starboard"),
        ("upper port", "lower starboard"), ("upper starboard", "lower port"),
    )  # fmt: skip
    for (a, b), wanted in zip(pairs, longer, strict=True):
        assert math.dist(moved[a], moved[b]) - math.dist(true[a], true[b]) == pytest.approx(wanted, abs=0.001)


@pytest.mark.parametrize("paper", ["letter", "a4", "legal", "tabloid", "a3"])
def test_each_join_check_is_as_long_as_it_says_when_the_crosses_meet(paper: str) -> None:
    """Half of it on either sheet: laid cross on cross, both halves together are the figure, within 0.02 mm."""
    marks = [page for page in pages_of("template", "example", paper) if page.name.startswith("Sheet")]
    pages = sheets("example", paper, read_with_pikepdf)
    places = joined(pages)
    halves: list[tuple[tuple[float, float], tuple[float, float], str]] = []
    for page, (dx, dy) in zip(marks, places, strict=True):
        lines = [m for m in page.marks if getattr(m, "part", "") == "join check" and not isinstance(m, Text)]
        words = [m for m in page.marks if isinstance(m, Text) and m.part == "join check"]
        longest = sorted(lines, key=lambda m: -math.dist(m.a, m.b))[: len(words)]
        for line in longest:
            text = min(words, key=lambda word: math.dist(word.at, line.b)).text
            halves.append(((line.a[0] + dx, line.a[1] + dy), (line.b[0] + dx, line.b[1] + dy), text))
    assert len(halves) >= 2
    for start, end, text in halves:
        if text == "join check":
            continue
        said = float(text.split(" (")[1].rstrip(")"))
        other = next(half for half in halves if half[2] == "join check" and math.dist(half[0], start) < PRECISE)
        assert math.dist(end, other[1]) == pytest.approx(said, abs=PRECISE)
