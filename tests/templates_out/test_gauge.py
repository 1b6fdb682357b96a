"""The drill-angle gauge and the guide block: folded and drilled in arithmetic, they show the drill's own line."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.design.design import Reading
from geometry.errors import OwnerError
from geometry.units.units import Unit
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.marks import Circle, Line, Page, Path, Text
from templates_out.drawing.printer import Correction
from templates_out.pages.gauge.gauge_pages import LONG, WALL, _leaning, by_tilt, gauge_pages, phone_reading
from templates_out.pages.gauge.guide_block import block_for
from tests.designs import changed, example_design
from tests.templates_out.kinds import pages_of
from tests.templates_out.printed import (
    BOATS,
    PAPERS,
    PRECISE,
    READERS,
    assert_legible,
    boat,
    cleared,
    on,
    printed,
    said,
)

Point3 = tuple[float, float, float]


def tilted(tilt: float, paper: str = "letter") -> Page:
    return gauge_pages(cleared(changed(example_design(), mounts__0__upper_tilt=tilt, mounts__0__lower_tilt=tilt)), on(paper))[0]


@pytest.mark.parametrize("name", BOATS)
def test_each_tilt_takes_two_pages(name: str) -> None:
    assert len(pages_of("gauge", name, "letter")) == 2 * len(by_tilt(boat(name)))


@pytest.mark.parametrize("tilt", [0.0, 8.0])
@pytest.mark.parametrize("paper", PAPERS)
def test_a_guessed_rake_is_said_next_to_the_angle(paper: str, tilt: float) -> None:
    """On the gauge right of the phone's reading, on its line; on the block in bold under its title."""
    design = changed(example_design(), mounts__0__upper_tilt=tilt, mounts__0__lower_tilt=tilt)
    guess = Reading(text="14", value=14.0, from_="centre", how="level", state="guess", spread=None, second=None)
    gauge, block = gauge_pages(cleared(replace(design, readings={"transom.rake": guess})), on(paper))
    reading = next(m for m in gauge.marks if isinstance(m, Text) and m.part == "reading")
    warning = next(m for m in gauge.marks if isinstance(m, Text) and m.text == "from a guessed rake:")
    assert 0 < warning.at[0] - reading.at[0] < 80.0
    assert abs(warning.at[1] - reading.at[1]) < 6.0
    assert "with a guessed rake. Measure the rake before you drill by this block" in said(block)
    assert_legible(gauge)
    assert_legible(block)
    for page in gauge_pages(cleared(replace(design, readings={"transom.rake": replace(guess, state="measured")})), on(paper)):
        assert "guess" not in said(page)


# The card


def folded(page: Page, x: float, y: float) -> Point3:
    """Where a place on the card is when it is folded: along the drill, at starboard of it, square over it.

    The side wall (left of the fold) is turned up by a right angle, printed faces toward each other. The card is laid with
    its foot forward, its floor wall's printed side up: what is right of the fold is then to port.
    """
    fold = next(m for m in page.marks if isinstance(m, Line) and m.part == "fold")
    across, along = x - fold.a[0], y - fold.a[1]
    return (-along, 0.0, -across) if across < 0 else (-along, -across, 0.0)


def on_boat(at: Point3, tilt: float) -> Point3:
    """(u, v, s) of a place given along the drill's axis (forward), to starboard and square over it."""
    along, starboard, over = at
    t = math.radians(tilt)
    return starboard, along * math.sin(t) + over * math.cos(t), along * math.cos(t) - over * math.sin(t)


@pytest.mark.parametrize("tilt", [0.0, 8.0, -3.0, -14.0, 12.5])
def test_folded_it_is_on_the_face_with_the_drill_s_tilt(tilt: float) -> None:
    """Both feet are in the face (s = 0) when the fold is turned to the drill's own tilt."""
    page = tilted(tilt)
    feet = [m for m in page.marks if isinstance(m, Line) and m.part == "foot"]
    assert len(feet) == 2
    for foot in feet:
        for end in (foot.a, foot.b):
            _, _, s = on_boat(folded(page, *end), tilt)
            assert s == pytest.approx(0.0, abs=1e-9)
    side = min(feet, key=lambda foot: foot.b[0])
    u, v, _ = on_boat(folded(page, *side.b), tilt)
    assert u == pytest.approx(0.0, abs=1e-9)
    assert v == pytest.approx(WALL / math.cos(math.radians(tilt)))  # the side wall rises above the drill


@pytest.mark.parametrize("tilt", [0.0, 8.0, -14.0])
def test_a_tick_on_the_cross_puts_the_drill_s_axis_through_its_middle(tilt: float) -> None:
    """A drill of diameter d in the valley: its axis is d/2 from both walls. Where it meets the face, seen from a fold.

    The side wall's tick is then on the level line through that place, the floor wall's on the upright line.
    """
    page = tilted(tilt)
    ticks = [m for m in page.marks if isinstance(m, Line) and m.part == "tick"]
    drills = (25.4 / 8, 25.4 / 4, 25.4 * 3 / 8, 13.5)
    assert len(ticks) == 2 * len(drills)
    fold = next(m for m in page.marks if isinstance(m, Line) and m.part == "fold")
    for d in drills:
        t = math.radians(tilt)
        centre = (-d / 2, d / 2 / math.cos(t))  # to port of the side wall; up the face: d/2 square over the floor wall
        own = [m for m in ticks if abs(abs(m.a[0] - fold.a[0]) - d / 2) < 1e-9]
        for tick in own:
            u, v, s = on_boat(folded(page, *tick.a), tilt)
            assert s == pytest.approx(0.0, abs=1e-9)
            if tick.a[0] < fold.a[0]:
                assert v == pytest.approx(centre[1])
            else:
                assert u == pytest.approx(centre[0])


def test_the_smallest_drill_has_the_tallest_tick() -> None:
    page = tilted(0.0)
    ticks = [m for m in page.marks if isinstance(m, Line) and m.part == "tick"]
    fold = next(m for m in page.marks if isinstance(m, Line) and m.part == "fold")
    right = sorted((m for m in ticks if m.a[0] > fold.a[0]), key=lambda m: m.a[0])
    heights = [math.dist(m.a, m.b) for m in right]
    assert heights == sorted(heights, reverse=True)
    assert [round(m.a[0] - fold.a[0], 4) for m in right] == [1.5875, 3.175, 4.7625, 6.75]


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("tilt", [0.0, 8.0])
def test_the_card_is_true_on_paper(read, tilt: float) -> None:
    """Two walls 44 × 112; the side wall's foot leans by the tilt, 44·tan 8° = 6.18 mm at its outer edge."""
    page = tilted(tilt)
    sheet = read(printed((page,)))[0]
    fold = next(m for m in page.marks if isinstance(m, Line) and m.part == "fold")
    assert (WALL, LONG) == (44.0, 112.0)
    x, y = fold.a
    assert sheet.line_between((x, y), (x, y + 112.0), PRECISE)
    assert sheet.line_between((x, y), (x - 44.0, y - 44.0 * math.tan(math.radians(tilt))), PRECISE)
    assert sheet.line_between((x, y), (x + 44.0, y), PRECISE)
    words = said(page)
    assert words.count("foot cut at 90° to the fold") == (1 if tilt else 2)
    if tilt:
        assert "foot cut at 82° to the fold, longer" in words


# The phone


@pytest.mark.parametrize(
    ("rake", "tilt", "reads"),
    [
        (14.0, 0.0, "14.0°  nose up"),
        (14.0, -14.0, "0.0°  level"),
        (14.0, 8.0, "22.0°  nose up"),
        (5.0, -9.0, "4.0°  nose down"),
    ],
)
def test_the_phone_reads_rake_and_tilt_together(rake: float, tilt: float, reads: str) -> None:
    """By hand: going in, a square hole rises sin(rake) for each unit; a tilt adds to the angle."""
    assert phone_reading(rake + tilt) == reads
    design = changed(example_design(), transom__rake=rake, mounts__0__upper_tilt=tilt, mounts__0__lower_tilt=tilt)
    assert reads in said(gauge_pages(cleared(design), on())[0])


def test_what_a_level_hole_would_do_is_calculated() -> None:
    """44·tan 14° = 10.97 mm lower where the faces are parallel; nothing is said where the holes are level."""
    level = said(tilted(0.0)).replace("\N{NO-BREAK SPACE}", " ")
    assert "Do not drill at 0°. A level hole would come out 7/16 in (11 mm) lower inside." in level
    assert "Do not drill at 0°" not in said(tilted(-14.0))
    thin = changed(example_design(), transom__thickness__top=30.0, transom__thickness__low=30.0)
    off = 30.0 * math.tan(math.radians(14.0))
    assert f"({off:.1f}\N{NO-BREAK SPACE}mm)" in said(gauge_pages(cleared(thin), on())[0])


def test_each_tilt_has_its_own_pages_and_says_for_which_holes() -> None:
    pages = pages_of("gauge", "tilted", "a4")
    assert [page.name for page in pages][::2] == ["Gauge tilt down 3°", "Gauge tilt up 8°"]
    assert "For the upper pair." in said(pages[0])
    assert "For the lower pair." in said(pages[2])
    assert "rising 8° toward the paper" in said(pages[3])
    assert "falling 3° toward the paper" in said(pages[1])


# The guide block


@pytest.mark.parametrize("paper", PAPERS)
def test_the_block_is_drawn_in_round_sizes_at_full_scale(paper: str) -> None:
    """6-1/2 × 2 × 2-1/4 in, holes 1-3/4 in apart; 160 × 50 × 55 mm, 40 mm apart. Each hole is a circle of its drill."""
    inch, metric = block_for((3.175, 6.35, 9.525, 13.5), 0.0, "in"), block_for((3.0, 6.0, 10.0, 13.5), 0.0, "mm")
    assert (inch.long, inch.high, inch.thick, inch.pitch) == pytest.approx((165.1, 50.8, 57.15, 44.45))
    assert (metric.long, metric.high, metric.thick, metric.pitch) == pytest.approx((160.0, 50.0, 55.0, 40.0))
    page = pages_of("gauge", "example", paper)[1]
    holes = [m for m in page.marks if isinstance(m, Circle) and m.part == "guide block / hole"]
    assert [2 * m.radius for m in holes] == pytest.approx([3.175, 6.35, 9.525, 13.5])
    for read in READERS:
        sheet = read(printed((page,)))[0]
        for hole in holes:
            assert sheet.circle_at(hole.centre, hole.radius, PRECISE)
        assert math.dist(holes[0].centre, holes[-1].centre) == pytest.approx(3 * 44.45)
        ring = next(m.points for m in page.marks if isinstance(m, Path) and m.part == "guide block")
        assert any(
            all(min(math.dist(a, b) for b in p.points) < PRECISE for a in ring) for p in sheet.paths if len(set(p.points)) == 4
        )
    words = said(page)
    for wanted in (
        "hardwood 6-1/2 × 2 × 2-1/4 in", "holes through the 2-1/4 in: 1/8, 1/4, 3/8, 17/32 in", "Turn the block half around",
        "Put no screws into the boat", "strips of double-sided tape",
    ):  # fmt: skip
        assert wanted in words


@pytest.mark.parametrize("tilt", [8.0, -3.0, 15.0])
def test_a_tilted_hole_leans_in_the_section_and_stays_in_the_wood(tilt: float) -> None:
    """Over 2-1/4 in it moves 57.15·tan(tilt); the paper is at the right, and the hole rises toward it where tilted up."""
    design = changed(example_design(), mounts__0__upper_tilt=tilt, mounts__0__lower_tilt=tilt)
    page = gauge_pages(cleared(design), on())[1]
    sides = [m for m in page.marks if isinstance(m, Line) and m.part == "section / hole"]
    ring = next(m.points for m in page.marks if isinstance(m, Path) and m.part == "section")
    low, high = min(y for _, y in ring), max(y for _, y in ring)
    for line in sides:
        assert line.b[1] - line.a[1] == pytest.approx(57.15 * math.tan(math.radians(tilt)))
        assert line.b[0] - line.a[0] == pytest.approx(57.15)
        assert low + 5.0 < min(line.a[1], line.b[1])
        assert max(line.a[1], line.b[1]) < high - 5.0
    apart = abs(sides[0].a[1] - sides[1].a[1]) * math.cos(math.radians(tilt))
    assert apart == pytest.approx(13.5)


# What can't be printed


def test_what_is_missing_is_named_in_one_sentence() -> None:
    for change, named in (({"transom__rake": None}, "rake"), ({"mounts__0__lower_tilt": None}, "tilt"),
                          ({"mounts__0__upper_hardware__hole": None}, "hole")):  # fmt: skip
        with pytest.raises(OwnerError, match="not known") as caught:
            gauge_pages(cleared(changed(example_design(), **change)), on())
        assert named in str(caught.value).lower()


def test_a_tilt_too_steep_for_the_page_is_refused() -> None:
    design = changed(example_design(), mounts__0__upper_tilt=50.0, mounts__0__lower_tilt=50.0)
    with pytest.raises(OwnerError, match="50°"):
        gauge_pages(cleared(design), on())


def test_a_printer_that_is_off_is_corrected() -> None:
    page = gauge_pages(cleared(example_design()), on(correction=Correction(1.005, 0.996)))[0]
    fold = next(m for m in page.marks if isinstance(m, Line) and m.part == "fold")
    assert math.dist(fold.a, fold.b) == pytest.approx(112.0 * 0.996)
    assert "Corrected for your printer" in said(page)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_no_guide_block_is_made_for_holes_that_lean_too_far_or_for_too_many(unit: Unit) -> None:
    """A block 55 thick leans by 55 tan 40° = 46 and is 50 + 50 high. At 60° it would be higher than 110."""
    assert block_for((3.0, 6.0, 10.0, 13.5), 40.0, unit).high <= 110.0
    for drills, tilt in (((3.0, 6.0, 10.0, 13.5), 60.0), (tuple(range(3, 30)), 0.0)):
        with pytest.raises(OwnerError, match="do not fit one guide block"):
            block_for(drills, tilt, unit)


@pytest.mark.parametrize(("rake", "angle"), [(14.0, 14.0), (14.0, 0.0), (0.0, -6.0)])
def test_the_transom_in_the_side_view_is_a_piece_of_13_by_36_that_leans_by_its_rake(rake: float, angle: float) -> None:
    """Its grain runs along it, and the hole goes in at the middle of its outer side."""
    marks = list(_leaning(rake, angle, (50.0, 60.0)))
    ring = next(mark for mark in marks if isinstance(mark, Path) and mark.pen == pens.EDGE).points
    sides = [math.dist(a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
    assert sides == pytest.approx([13.0, 36.0, 13.0, 36.0])
    assert math.dist(ring[0], ring[2]) == pytest.approx(math.hypot(13.0, 36.0))
    assert ((ring[0][0] + ring[3][0]) / 2, (ring[0][1] + ring[3][1]) / 2) == pytest.approx((50.0, 60.0))
    for line in [mark for mark in marks if isinstance(mark, Line) and mark.pen == pens.FINE]:
        assert math.degrees(math.atan2(line.a[0] - line.b[0], line.b[1] - line.a[1])) == pytest.approx(rake)
        assert math.dist(line.a, line.b) == pytest.approx(36.0)
