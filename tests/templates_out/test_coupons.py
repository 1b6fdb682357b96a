"""Coupons and corner cards: real sizes, as two readers and a raster see them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geometry.design.design import Design
from geometry.edits.edits import set_units
from geometry.edits.starting_shapes import starts
from geometry.errors import OwnerError
from templates_out.drawing.marks import Arc, Circle, Line, Path
from templates_out.drawing.printer import Correction, Stretch
from templates_out.pages.coupons.coupon_pages import RADII, coupon_pages, coupons, least_cut
from tests.designs import changed, example_design
from tests.readers import raster
from tests.templates_out.kinds import pages_of
from tests.templates_out.printed import (
    PAPERS,
    PRECISE,
    READERS,
    assert_legible,
    assert_marked,
    on,
    printed,
    said,
)


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("paper", PAPERS)
def test_washer_socket_and_nut_are_as_large_as_real_ones(read, paper: str) -> None:
    """38.1 mm washer with a 13.5 mm hole, 26 mm socket; the nut's corners 0.752 in · 2/sqrt(3) (ASME B18.16.6 NE, 1/2)."""
    pages = pages_of("coupons", "example", paper)
    page = read(printed(pages))[0]
    centre = next(m.centre for m in pages[0].marks if isinstance(m, Circle) and m.part == "washer" and m.radius > 10)
    assert page.circle_at(centre, 19.05, PRECISE)
    assert page.circle_at(centre, 6.75, PRECISE)
    assert page.circle_at(centre, 0.4, PRECISE)
    assert [c.radius for c in page.circles if abs(c.radius - 13.0) < PRECISE]
    nut = next(p.points for p in page.paths if len(set(p.points)) == 6 and p.closed)
    assert math.dist(nut[0], nut[3]) == pytest.approx(0.752 * 25.4 * 2 / math.sqrt(3), abs=PRECISE)


def test_the_cut_washer_is_cut_past_the_nut_s_corners() -> None:
    """Corners 22.06 mm across: 11.03 mm from the centre, so 7/16 in (11.11 mm); in millimetres 11.5."""
    assert least_cut(0.752 * 25.4 / math.sqrt(3), "in") == pytest.approx(25.4 * 7 / 16)
    assert least_cut(0.752 * 25.4 / math.sqrt(3), "mm") == pytest.approx(11.5)
    page = pages_of("coupons", "example", "letter")[0]
    arc = next(m for m in page.marks if isinstance(m, Arc) and m.part == "washer")
    chord = next(m for m in page.marks if isinstance(m, Line) and m.part == "washer" and abs(m.a[1] - arc.centre[1]) > 5
                 and m.a[1] == m.b[1])  # fmt: skip
    assert arc.centre[1] - chord.a[1] == pytest.approx(25.4 * 7 / 16)
    assert math.dist(chord.a, chord.b) == pytest.approx(2 * math.sqrt(19.05**2 - (25.4 * 7 / 16) ** 2))
    own = changed(example_design(), mounts__0__lower_hardware__washer__flat_cut=12.5)
    cuts = sorted({coupon.cut for coupon in coupons(own) if math.isfinite(coupon.cut)})
    assert cuts == pytest.approx([25.4 * 7 / 16, 12.5])


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize(("boat", "pilot"), [(example_design(), 3.175), (set_units(example_design(), "mm"), 3.0)])
def test_a_pin_card_fills_the_washers_bore_and_has_the_pilots_hole(read, boat: Design, pilot: float) -> None:
    """The washer’s hole is 14.3 mm, that in the wood 13.5: the card follows the washer. A pilot of 1/8 in or 3 mm."""
    design = changed(boat, mounts__0__lower_hardware__washer__inner=14.3)
    pages = tuple(coupon_pages(design, on()))
    cards = [coupon for coupon in coupons(design) if coupon.kind == "pin card"]
    assert [size for card in cards for size in (card.radius, card.bore)] == pytest.approx([7.15, pilot])
    drawn = [m for m in pages[0].marks if isinstance(m, Circle) and m.part.startswith("pin card") and m.radius > 1.0]
    page = read(printed(pages))[0]
    assert {round(m.radius, 3) for m in drawn} == {7.15, round(pilot / 2, 3)}
    assert all(page.circle_at(m.centre, m.radius, PRECISE) for m in drawn)
    assert "The washer on a pin" in said(pages[0])


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("paper", PAPERS)
def test_each_corner_radius_card_has_its_radii(read, paper: str) -> None:
    """From 3 to 40 mm: each quarter circle ends where both straight sides begin, r from the corner's own corner."""
    pages = pages_of("coupons", "example", paper)
    arcs = [m for m in pages[0].marks if isinstance(m, Arc) and m.part == "corner card"]
    assert sorted(arc.radius for arc in arcs) == sorted(float(r) for card in RADII for r in card)
    assert {min(arc.radius for arc in arcs), max(arc.radius for arc in arcs)} == {3.0, 40.0}
    page = read(printed(pages))[0]
    ends = [(p.points[0], p.points[-1]) for p in page.paths if p.curves]
    for arc in arcs:
        wanted = [
            (arc.centre[0] + arc.radius * math.cos(math.radians(a)), arc.centre[1] + arc.radius * math.sin(math.radians(a)))
            for a in (arc.start, arc.end)
        ]
        assert any(math.dist(a, wanted[0]) < PRECISE and math.dist(b, wanted[1]) < PRECISE for a, b in ends)
    sides = [m for m in pages[0].marks if isinstance(m, Line) and m.part == "corner card"]
    starts = [p for line in sides for p in (line.a, line.b)]
    for arc in arcs:
        for a in (arc.start, arc.end):
            end = (
                arc.centre[0] + arc.radius * math.cos(math.radians(a)),
                arc.centre[1] + arc.radius * math.sin(math.radians(a)),
            )
            assert min(math.dist(end, p) for p in starts) < 1e-9
    for line in sides:  # no side runs backward: each is as long as its card less both radii
        assert math.dist(line.a, line.b) >= 0.0
        level = abs(line.a[1] - line.b[1]) < 1e-9
        near = [
            arc
            for arc in arcs
            for a in (arc.start, arc.end)
            if min(
                math.dist(
                    p,
                    (
                        arc.centre[0] + arc.radius * math.cos(math.radians(a)),
                        arc.centre[1] + arc.radius * math.sin(math.radians(a)),
                    ),
                )
                for p in (line.a, line.b)
            )
            < 1e-9
        ]
        span = {36.0, 45.0, 70.0}
        assert round(math.dist(line.a, line.b) + sum(arc.radius for arc in near), 6) in span
        assert level or abs(line.a[0] - line.b[0]) < 1e-9


def test_a_bigger_card_leaves_light_in_the_middle_and_a_smaller_one_at_the_ends() -> None:
    """As the page says: by hand, a card of radius r on both faces of a square corner with rounded corner R.

    r > R: its sides touch, and the gap in the middle is (r - R)(sqrt(2) - 1). r < R: its middle touches first, and its
    sides stand off by (R - r)(1 - 1/sqrt(2)).
    """
    words = said(pages_of("coupons", "example", "letter")[0])
    assert "If light shows under the middle of the arc, try the next smaller." in words
    assert "If it shows at both ends, try the next larger." in words
    for card, fillet in ((15.0, 12.0), (40.0, 35.0)):
        arc_middle = card - card / math.sqrt(2)  # from either face, at 45°
        fillet_middle = fillet - fillet / math.sqrt(2)
        assert math.sqrt(2) * (arc_middle - fillet_middle) == pytest.approx((card - fillet) * (math.sqrt(2) - 1))
        assert arc_middle > fillet_middle  # the card's arc is clear of the rounded corner there


def test_two_dots_measure_true_at_600_dpi() -> None:
    """The washer's dot to the socket's, as ink: within 0.02 mm."""
    pages = pages_of("coupons", "example", "a4")
    data = printed(pages)
    image = 255.0 - raster(data, 0).astype(float)
    height, width = image.shape
    dots = [m.centre for m in pages[0].marks if isinstance(m, Circle) and m.fill == "ink"]
    spots = []
    for x, y in dots[:3]:
        column, row = x / pages[0].width * width, (pages[0].height - y) / pages[0].height * height
        window = image[int(row) - 9 : int(row) + 10, int(column) - 9 : int(column) + 10]
        ys, xs = np.mgrid[int(row) - 9 : int(row) + 10, int(column) - 9 : int(column) + 10] + 0.5
        ink = window.sum()
        spots.append(((xs * window).sum() / ink * pages[0].width / width, (ys * window).sum() / ink * pages[0].height / height))
    for (x, y), (u, v) in zip(dots, spots, strict=False):
        assert math.dist((u - spots[0][0], spots[0][1] - v), (x - dots[0][0], y - dots[0][1])) < PRECISE


def test_hardware_of_many_kinds_takes_more_room_and_says_each_once() -> None:
    kinds = changed(
        example_design(), mounts__0__upper_hardware__washer__outer=50.8, mounts__0__upper_hardware__washer__flat_cut=15.0,
        mounts__0__upper_hardware__socket__outer=30.0, mounts__0__lower_hardware__inserted_from="inside",
    )  # fmt: skip
    drawn_coupons = coupons(kinds)
    assert len(drawn_coupons) == len(set(drawn_coupons)) == 9
    order = [coupon.kind for coupon in drawn_coupons]
    assert order == sorted(order, key=["washer", "pin card", "socket", "nut", "head"].index)
    pages = coupon_pages(kinds, on())
    for page in pages:
        assert_legible(page)
        assert_marked(page, kinds)
    assert "of 2" in said(pages[0]) or len(pages) == 1


def test_the_page_asks_only_for_what_has_an_entry() -> None:
    """The washer's mark is judged against the shop sheet, with a stop: the program has no entry for it."""
    words = said(pages_of("coupons", "example", "letter")[0])
    for wanted in (
        "until it rocks", "Mark its centre through the", "comes out lower than its mark, stop. Raise the lower bolts",
        "washer 1-1/2 in", "flat 7/16 in below its centre", "22.1 mm over corners",
        "corner radius, the larger of port and starboard", "socket: outside diameter, length with the drive",
    ):  # fmt: skip
        assert wanted in words
    assert "washer centre" not in words
    blanks = [
        m
        for m in pages_of("coupons", "example", "letter")[0].marks
        if isinstance(m, Line) and math.dist(m.a, m.b) == pytest.approx(42.0)
    ]
    assert len(blanks) == 2
    assert len({line.b[0] for line in blanks}) == 1


def test_the_page_says_from_which_guesses_it_was_made() -> None:
    """Of a starting shape's guesses only those that the coupons are drawn from: no rake, no torque."""
    start = starts("in")[0].design
    for page in coupon_pages(start, on())[:1]:
        words = said(page)
        assert "Made from guesses: upper washer, outside; upper washer, bore; upper socket, outside; lower washer," in words
        assert "rake" not in words
        assert "torque" not in words
        assert_legible(page)
    assert "guess" not in said(pages_of("coupons", "example", "letter")[0])


def test_a_printer_that_is_off_is_corrected() -> None:
    stretch = Stretch(1.006, 0.997)
    page = coupon_pages(example_design(), on(correction=Correction(stretch.across, stretch.up, (0.001, 0.0011))))[0]
    nut = next(m for m in page.marks if isinstance(m, Path) and m.part == "nut")
    assert math.dist(nut.points[0], nut.points[3]) / 1.006 == pytest.approx(0.752 * 25.4 * 2 / math.sqrt(3))
    assert "Corrected for your printer: across × 1.0060 ± 0.0010, up × 0.9970 ± 0.0011." in said(page)
    assert_legible(page)


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"mounts__0__lower_hardware__washer__outer": None}, "washer"),
        ({"mounts__0__lower_hardware__socket__outer": None}, "socket"),
    ],
)
def test_a_size_not_known_is_named_in_one_sentence(change, named: str) -> None:
    with pytest.raises(OwnerError, match="not known") as caught:
        coupon_pages(changed(example_design(), **change), on())
    assert named in str(caught.value).lower()


def test_what_can_t_be_printed_is_refused() -> None:
    with pytest.raises(OwnerError, match="margin of 20 mm"):
        coupon_pages(example_design(), on(margin=20.0))
    with pytest.raises(OwnerError, match="paper"):
        coupon_pages(example_design(), on("a7"))
