"""The full-scale template, read back from its PDF by two readers that share no code with the writer.

Tolerances are lengths on paper. The sheets are put together as a person does it, by their matching crosses.
"""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Callable
from functools import cache
from io import BytesIO
from itertools import combinations

import msgspec
import pikepdf
import pytest
from msgspec.structs import replace

import assets
from geometry.design.design_text import from_text
from geometry.design.whole import Design, Reading
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.judge.findings import Checked
from geometry.solid.bolts import bolts
from geometry.tables.papers import paper_names
from templates_out.drawing.labels import Ground, apart, thing
from templates_out.drawing.marks import Circle, Line, Page, Path, Text
from templates_out.drawing.pdf import pdf_bytes
from templates_out.drawing.shapes import text_box
from templates_out.sheets.on_face import Stretch, on_face
from templates_out.sheets.template import bar_lengths, needs, template_pages
from templates_out.sheets.why_not import why_not
from tests.designs import changed, clamp_on_mount, example_design, numbers_of, twin_design
from tests.readers import ReadPage, raster, read_with_pdfium, read_with_pikepdf

DAY = datetime.date(2026, 11, 25)
READERS = [read_with_pikepdf, read_with_pdfium]
Reader = Callable[[bytes], list[ReadPage]]
PRECISE = 0.02  # mm, what the template promises


def cleared(design: Design) -> Checked:
    """What the checks would say were there nothing to say."""
    return Checked(design, (), "clear", ())


def named(name: str) -> Design:
    if name == "example":
        return example_design()
    if name == "twin":
        return twin_design()
    if name == "tilted":
        return changed(example_design(), mounts__0__lower_tilt=8.0, mounts__0__upper_tilt=-3.0, units="mm")
    return replace(from_text(assets.design_text(name)), demonstration=False)


@cache
def pages_of(name: str, paper: str, drillable: bool = True) -> tuple[Page, ...]:
    design = named(name)
    return template_pages(design, cleared(design) if drillable else check(design), paper, date=DAY)


@cache
def read_of(name: str, paper: str, read: Reader) -> list[ReadPage]:
    return read(pdf_of(name, paper))


@cache
def pdf_of(name: str, paper: str) -> bytes:
    return pdf_bytes(pages_of(name, paper), "template", DAY)


NAMES = ["example", "twin", "tilted", *assets.design_names()]
CASES = [
    *(("example", paper) for paper in paper_names()),
    *((name, paper) for name in NAMES[1:] for paper in ("letter", "tabloid")),
    ("twin", "a4"),
    ("tilted", "roll24"),
    ("twin", "legal"),
]


# Reading back


def crosses(page: ReadPage) -> list[tuple[float, float]]:
    """Middles of the matching crosses: level lines 6 mm long with an upright one through them."""
    short = [p.points for p in page.paths if len(p.points) == 2 and abs(math.dist(*p.points) - 6.0) < 0.01]
    level = [((a[0] + b[0]) / 2, a[1]) for a, b in short if abs(a[1] - b[1]) < 1e-3]
    upright = [(a[0], (a[1] + b[1]) / 2) for a, b in short if abs(a[0] - b[0]) < 1e-3]
    return [at for at in level if any(math.dist(at, other) < 0.01 for other in upright)]


def cell(page: ReadPage) -> tuple[int, int]:
    """Row and column, as the sheet itself says."""
    found = re.search(r"row (\d+), column (\d+)", page.text)
    assert found
    return int(found[1]), int(found[2])


def joined(pages: list[ReadPage]) -> list[tuple[float, float]]:
    """Where each page lies on the first, found by laying crosses on a neighbour's crosses: the most that meet win."""
    places = {0: (0.0, 0.0)}
    found = [crosses(page) for page in pages]
    cells = [cell(page) for page in pages]
    while len(places) < len(pages):
        new, old = next(
            (n, o)
            for n in range(len(pages))
            for o in places
            if n not in places and cells[n] in ((cells[o][0] + 1, cells[o][1]), (cells[o][0], cells[o][1] + 1))
        )
        axis, end = (0, max) if cells[new][0] == cells[old][0] else (1, min)
        start = min if end is max else max
        edge, other_edge = end(at[axis] for at in found[old]), start(at[axis] for at in found[new])
        there = [at for at in found[old] if abs(at[axis] - edge) < 0.1]  # on the seam that the two share
        here = [at for at in found[new] if abs(at[axis] - other_edge) < 0.1]
        best, meet = (0.0, 0.0), 0
        for a in there:
            for b in here:
                move = (a[0] - b[0], a[1] - b[1])
                count = sum(any(math.dist((x + move[0], y + move[1]), q) < PRECISE for q in there) for x, y in here)
                if count > meet:
                    best, meet = move, count
        assert meet >= 2, "fewer than two crosses meet"
        places[new] = (places[old][0] + best[0], places[old][1] + best[1])
    return [places[i] for i in range(len(pages))]


def datum(page: ReadPage) -> float:
    """Height of the datum: the longest level line 0.5 mm wide."""
    heavy = [p.points for p in page.paths if len(p.points) == 2 and abs(p.look.weight - 0.5) < 0.01]
    level = [points for points in heavy if abs(points[0][1] - points[1][1]) < 1e-3]
    return max(level, key=lambda points: math.dist(*points))[0][1]


def centreline(page: ReadPage) -> float | None:
    """Place across of the centreline: dashed, upright, 0.35 mm wide, ending on the datum."""
    for p in page.paths:
        if len(p.points) == 2 and p.look.dashed and abs(p.look.weight - 0.35) < 0.01:
            (ax, ay), (bx, by) = p.points
            if abs(ax - bx) < 1e-3 and abs(max(ay, by) - datum(page)) < 0.01:
                return ax
    return None


def assembled(pages: list[ReadPage]) -> tuple[list[tuple[float, float]], tuple[float, float]]:
    """Places of the pages, and the origin (datum on centreline) among them."""
    places = joined(pages)
    for page, (dx, dy) in zip(pages, places, strict=True):
        u = centreline(page)
        if u is not None:
            return places, (u + dx, datum(page) + dy)
    raise AssertionError("no sheet shows the centreline under the datum")


def is_hole(mark: Circle) -> bool:
    """Whether this is a hole to drill: its part is motor and bolt, nothing more."""
    return mark.part.count(" / ") == 1 and not mark.part.startswith("old") and mark.part.endswith(("port", "starboard"))


def sheets(name: str, paper: str, read: Reader) -> list[ReadPage]:
    """The full-scale pages: those with bars to measure."""
    return [page for page in read_of(name, paper, read) if "Print at 100 %" in page.text]


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize(("name", "paper"), CASES)
def test_joined_by_its_crosses_every_hole_lies_where_the_design_puts_it(name: str, paper: str, read: Reader) -> None:
    """Each hole once, on one sheet, its three circles about one centre, within 0.02 mm."""
    pages = sheets(name, paper, read)
    places, (u0, v0) = assembled(pages)
    for bolt in bolts(named(name)):
        at = (bolt.u + u0, bolt.v + v0)
        seen = 0
        for page, (dx, dy) in zip(pages, places, strict=True):
            here = (at[0] - dx, at[1] - dy)
            if page.circle_at(here, bolt.hole / 2, PRECISE):
                seen += 1
                pilot = 25.4 / 16 if named(name).units == "in" else 1.5
                assert page.circle_at(here, pilot, PRECISE)
                assert page.circle_at(here, 0.4, PRECISE)
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
            said = float(words.split(f"{word} ")[1].split(" mm")[0])
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
        "A box left empty: do not drill on.",
    ):  # fmt: skip
        assert wanted in everything, f"{paper} lacks {wanted}"


def test_the_diagonals_are_true() -> None:
    """By hand: sqrt((163.5125 + 125.4125)^2 + 165.1^2) = 332.77 mm, and each figure stands once for each diagonal."""
    texts = [mark.text for page in pages_of("example", "letter") for mark in page.marks if isinstance(mark, Text)]
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


# What stands where


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_no_hole_cross_or_drill_circle_comes_near_a_seam(name: str, paper: str) -> None:
    """15 mm from every cross end, 20 from the centreline: common sense, our choice."""
    for page in pages_of(name, paper):
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


@pytest.mark.parametrize("drillable", [True, False])
@pytest.mark.parametrize(("name", "paper"), CASES)
def test_no_two_texts_overlap_and_all_lie_within_the_margins(name: str, paper: str, drillable: bool) -> None:
    for page in pages_of(name, paper, drillable):
        texts = [mark for mark in page.marks if isinstance(mark, Text)]
        boxes = [thing("text", text_box(text)) for text in texts]
        for text, found in zip(texts, boxes, strict=True):
            left, bottom, right, top = found.box
            inside = min(left, bottom, page.width - right, page.height - top)
            assert inside >= 6.35 - 0.5, f"{text.text!r} on {page.name} leaves the margin"
        for (one, a), (two, b) in combinations(zip(texts, boxes, strict=True), 2):
            if one.part == two.part:
                continue  # lines of one block
            assert apart(a, b) > 0.0, f"{one.text!r} and {two.text!r} overlap on {page.name}"


@pytest.mark.parametrize(("name", "paper"), CASES)
def test_every_hole_has_its_words_clear_of_all_lines(name: str, paper: str) -> None:
    """1.1 mm from every line but its own leader."""
    found = 0
    for page in pages_of(name, paper):
        lines = [m for m in page.marks if not isinstance(m, Text)]
        for bolt in bolts(named(name)):
            part = f"{bolt.at} / label"
            words = tuple(m for m in page.marks if isinstance(m, Text) and m.part == part)
            found += bool(words)
            assert Ground().plus(m for m in lines if m.part != part and "strip" not in m.part).is_free(words)
    assert found == len(bolts(named(name)))


def test_every_seam_has_two_crosses_or_more_and_a_check_across() -> None:
    for paper in ("letter", "a4", "legal", "tabloid", "a3"):
        for page in (page for page in pages_of("example", paper) if page.name.startswith("Sheet")):
            levels = [m for m in page.marks if isinstance(m, Path) and m.part == "matching cross"]
            assert len(levels) >= 2
            checks = [m for m in page.marks if isinstance(m, Text) and m.part == "join check"]
            assert checks, f"{page.name} of {paper} has no join check"


def test_hidden_floor_old_holes_and_bracket_lie_where_the_design_puts_them() -> None:
    """The example's floor: w = y + w_top, and v = w where the faces are parallel; its top is cut level, so
    w_top = -44·tan 14° = -10.97 and the floor lies at -236.03 - 10.97 = -247.00. Land begins r·cot(β/2) above it,
    β = 90° + 14° - 3°: 12·cot 50.5° = 9.89. The bracket's saddle stands at -50.8 + 50.8 + 2·19.05 = 38.1.
    """
    face = on_face(example_design(), Stretch())
    (floor,), (land,) = face.floor, face.land
    assert [v for _, v in floor] == pytest.approx([-236.03 - 44 * math.tan(math.radians(14))] * 2, abs=1e-9)
    assert [v for _, v in land] == pytest.approx([floor[0][1] + 12 / math.tan(math.radians(50.5))] * 2, abs=1e-9)
    assert face.brackets[0][1][0] == pytest.approx((-190, 38.1))
    (old,) = face.old
    assert (old.at, old.radius, old.plug) == ((125.4, -254.0), 6.35, 12.7)
    chords = [m for page in pages_of("example", "letter") for m in page.marks if isinstance(m, Line) and "old lower" in m.part]
    assert len(chords) == 2


@pytest.mark.parametrize("path", numbers_of(example_design()))
def test_whatever_is_not_measured_the_holes_are_drawn_or_the_reason_is_said(path: str) -> None:
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


# Not to be drilled


@pytest.mark.parametrize("paper", paper_names())
def test_a_fouled_design_says_so_across_every_sheet_and_has_nothing_to_punch(paper: str) -> None:
    design = changed(example_design(), mounts__0__drop=203.2, mounts__0__row=0)
    pages = template_pages(design, check(design), paper, date=DAY)
    texts = read_with_pdfium(pdf_bytes(pages, "fouled", DAY))
    for page, read in zip(pages, texts, strict=True):
        if not page.name.startswith("Sheet"):
            continue
        assert "NOT TO BE DRILLED" in read.text
        assert not any(isinstance(m, Circle) and m.radius < 2.0 for m in page.marks)  # neither dot nor pilot
        band = next(m for m in page.marks if isinstance(m, Path) and m.part == "not to be drilled")
        (left, bottom), _, (_, top), _ = band.points
        assert top - bottom >= 16.0 - 1e-9
        for hole in (m for m in page.marks if isinstance(m, Circle) and is_hole(m)):
            x, y = hole.centre
            ends = {((x - 24, y - 24), (x + 24, y + 24)), ((x - 24, y + 24), (x + 24, y - 24))}
            heavy = [m for m in page.marks if isinstance(m, Line) and m.part.endswith("/ X")]
            assert sum(any(m.a == pytest.approx(a) and m.b == pytest.approx(b) for a, b in ends) for m in heavy) == 2
            assert not (left < x < band.points[1][0] and bottom < y < top)
    everything = " ".join(" ".join(read.text.split()) for read in texts)
    assert "do not drill on" not in everything


def test_why_not() -> None:
    design = example_design()
    assert why_not(check(design)) is None
    assert "demonstration" in (why_not(check(replace(design, demonstration=True))) or "")
    fouled = changed(design, mounts__0__drop=203.2, mounts__0__row=0)
    assert "washer" in (why_not(check(fouled)) or "")
    unknown = changed(design, well__fillet_radius=None)
    assert why_not(check(unknown)) is not None
    guess = Reading(text="12", value=12.0, from_="centre", how="tape", state="guess", spread=None)
    guessed = replace(design, readings={"well.fillet_radius": guess})
    assert "guess" in (why_not(check(guessed)) or "")
    tight = msgspec.structs.replace(check(design), verdict="tight")
    assert why_not(tight) is None


# What can't be printed


def test_a_clamp_on_motor_has_no_template() -> None:
    design = replace(example_design(), mounts=(clamp_on_mount(),))
    with pytest.raises(OwnerError, match="no bolts"):
        template_pages(design, check(design))


def test_a_hole_not_yet_placed_is_named() -> None:
    design = changed(example_design(), mounts__0__drop=None)
    with pytest.raises(OwnerError, match="not known"):
        template_pages(design, check(design))


def test_names_that_no_font_has_are_printed_as_squares() -> None:
    design = replace(example_design(), name="漢 " + "x" * 190)
    pages = template_pages(design, check(design), date=DAY)
    assert any("□" in m.text and m.text.endswith("…") for m in pages[0].marks if isinstance(m, Text))
    assert pdf_bytes(pages, design.name, DAY).startswith(b"%PDF")


# The printer's fault taken out


def test_measured_bars_cure_a_printer_that_is_off() -> None:
    """A printer that is 0.7 % short across and 0.3 % long up: reprinted with its bars measured, it comes out true."""
    design = example_design()
    across, up = bar_lengths(design, check(design))
    assert (across, up) == (240.0, 150.0)
    pages = template_pages(design, check(design), bars=(across * 0.993, up * 1.003), date=DAY)
    uppers = [
        mark.centre
        for page in pages
        for mark in page.marks
        if isinstance(mark, Circle) and mark.part == "main motor / upper port" and mark.radius > 6
    ]
    lowers = [
        mark.centre
        for page in pages
        for mark in page.marks
        if isinstance(mark, Line) and mark.part == "bar across" and abs(mark.a[1] - mark.b[1]) < 1e-9
        for mark in (Circle(mark.b, mark.b[0] - mark.a[0], None),)
    ]
    assert len(uppers) == 1
    assert lowers[0][0] > 0
    bar = max(m.b[0] - m.a[0] for m in pages[0].marks if isinstance(m, Line) and m.part == "bar across" and m.a[1] == m.b[1])
    assert bar * 0.993 == pytest.approx(230.0, abs=1e-6)  # ten less: 240 stretched would run across the seam
    words = " ".join(m.text for m in pages[0].marks if isinstance(m, Text))
    assert "Corrected for your printer: across × 1.0070, up × 0.9970" in words
    with pytest.raises(OwnerError, match="off"):
        template_pages(design, check(design), bars=(200.0, 150.0))


def test_the_same_design_and_date_give_the_same_bytes() -> None:
    design = example_design()
    once = pdf_bytes(template_pages(design, check(design), date=DAY), "again", DAY)
    assert once == pdf_bytes(template_pages(design, check(design), date=DAY), "again", DAY)
