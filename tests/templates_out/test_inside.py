"""The inside sheets: mirrored, true on paper, legible, and nothing to punch."""

from __future__ import annotations

import math
from typing import Any

import pytest
from msgspec.structs import replace

from geometry.design.boat import OldHole, Thickness
from geometry.design.design import Design
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.solid.placed_bolts import Bolt, bolts
from templates_out.drawing.marks import Arc, Circle, Line, Page, Path, Text
from templates_out.drawing.printer import Correction, Stretch
from templates_out.faces.on_inside import on_inside
from templates_out.pages.inside.inside_pages import inside_count, inside_pages, looking_aft
from templates_out.pages.inside.inside_text import pilot_checks
from templates_out.pages.template.template_pages import template_pages
from tests.designs import changed, example_design, mirrored, sure
from tests.readers import ReadPage
from tests.templates_out.joined import assembled
from tests.templates_out.kinds import pages_of
from tests.templates_out.printed import (
    BOATS,
    PAPERS,
    PRECISE,
    READERS,
    boat,
    cleared,
    on,
    printed,
    said,
)


def read(pages: tuple[Page, ...]) -> str:
    """The steps on some pages, without the steps' numbers, with plain spaces."""
    words = (m.text for page in pages for m in page.marks if isinstance(m, Text) and m.part == "words")
    return " ".join(" ".join(text for text in words if not text.isdigit()).split())


def sheets_of(name: str, paper: str) -> tuple[Page, ...]:
    return tuple(page for page in pages_of("inside", name, paper) if page.name.startswith("Sheet"))


def exits(design: Design) -> dict[str, tuple[float, float]]:
    """Where each bolt comes out, as the sheet has it: to port, and up from the inside top edge.

    Calculated afresh in the side view: the axis is walked until it meets the inner face. The depth is the straight
    distance from that point to the inside top edge.
    """
    thick = design.transom.thickness
    rake = design.transom.rake or 0.0
    cut = {"level": rake, "square": 0.0}.get(design.transom.top_cut, design.transom.top_cut)  # type: ignore[arg-type]

    def at(v: float) -> float:
        return thick.top + (thick.low - thick.top) * v / thick.low_at

    def walk(v: float, fall: float) -> tuple[float, float]:
        s = at(v)
        for _ in range(60):
            s = at(v + s * fall)
        return v + s * fall, s

    edge = walk(0.0, -math.tan(math.radians(float(cut or 0.0))))
    places = {}
    for bolt in bolts(design):
        out = walk(bolt.v, math.tan(math.radians(bolt.tilt)))
        places[bolt.at] = (-bolt.u, math.copysign(math.dist(out, edge), out[0] - edge[0]))
    return places


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", BOATS)
def test_each_exit_is_true_on_the_joined_paper(name: str, paper: str) -> None:
    """Within 0.02 mm from the fold and the centreline, as two readers see it; washer, nut, socket, pilot's circle with it."""
    design = boat(name)
    data = printed(sheets_of(name, paper))
    wanted = exits(design)
    for read in READERS:
        pages = read(data)
        places, origin = assembled(pages)
        for bolt in bolts(design):
            x, y = wanted[bolt.at]
            radii = [bolt.hole / 2]
            circle = circle_by_hand(design, bolt)
            if circle is None:
                assert not dotted(pages, places, (origin[0] + x, origin[1] + y))
            else:
                radii.append(circle)
            if bolt.hardware.washer.flat_cut is None:
                radii.append(bolt.hardware.washer.outer / 2)
            if bolt.hardware.socket is not None:
                radii.append(bolt.hardware.socket.outer / 2)
            for radius in radii:
                assert found_at(pages, places, (origin[0] + x, origin[1] + y), radius) == 1, (bolt.at, radius)


def circle_by_hand(design: Design, bolt: Bolt) -> float | None:
    """Radius of the pilot's circle: the washer's room less print, mark and drill, 1/32 to 1/8 in or 1 to 3 mm; else None."""
    if (design.name, bolt.at) == ("Thrice-drilled runabout", "main motor / upper port"):
        return None  # an old hole that is reused
    most, least = (3.175, 25.4 / 32) if design.units == "in" else (3.0, 1.0)
    finding = check(design).of("washer", bolt.at)
    room = math.inf if finding is None else sure(finding.value)
    thick = design.transom.thickness
    length = (sure(thick.top) + (sure(thick.low) - sure(thick.top)) * bolt.exit.v / sure(thick.low_at)) / math.cos(
        math.radians(bolt.tilt)
    )
    spread = math.sqrt(0.3**2 + 0.5**2 + (length * math.tan(math.radians(1.0))) ** 2)
    assert (design.spreads.print, design.spreads.mark, design.spreads.drill_angle) == (0.3, 0.5, 1.0)
    radius = min(most, room - spread)
    return radius if radius >= least else None


def dotted(pages: list[ReadPage], places: list[tuple[float, float]], at: tuple[float, float]) -> list[float]:
    """Radii of the dotted circles about a place, up to 6 mm, the washers' dashes aside."""
    return [
        circle.radius
        for page, (dx, dy) in zip(pages, places, strict=True)
        for circle in page.circles
        if math.dist(circle.centre, (at[0] - dx, at[1] - dy)) < PRECISE and circle.look.dashed and circle.radius < 6.0
    ]


def found_at(pages: list[ReadPage], places: list[tuple[float, float]], at: tuple[float, float], radius: float) -> int:
    """On how many pages a circle is there."""
    return sum(page.circle_at((at[0] - dx, at[1] - dy), radius, PRECISE) for page, (dx, dy) in zip(pages, places, strict=True))


def test_the_worked_example_comes_out_where_the_hand_calculates_it() -> None:
    """215.9 mm down, drilled square through 44 mm; the inside edge is 44·tan 14° = 10.97 mm lower: 204.93 mm.

    The pilot's circle: 1/8 in for the upper holes; 2.1584 - sqrt(0.3² + 0.5² + (44·tan 1°)²) = 1.1941 mm for the lower.
    """
    words = " ".join(map(said, pages_of("inside", "example", "letter")))
    assert "8-1/16 in below inside edge (204.9 mm)" in words
    assert "1-9/16 in below inside edge (39.8 mm)" in words
    limits = [
        m.radius
        for p in pages_of("inside", "example", "letter")
        for m in p.marks
        if isinstance(m, Circle) and m.part.endswith("limit")
    ]
    assert limits == pytest.approx([3.175, 3.175, 1.1941, 1.1941], abs=1e-4)


def test_a_taper_and_a_tilt_move_the_exit() -> None:
    """By hand: thickness 40 at the top and 50 at 250 down; a hole 100 down tilted 10° up comes out where s = t(v)."""
    design = changed(
        example_design(), transom__thickness=Thickness(top=40.0, low=50.0, low_at=-250.0), transom__top_cut="square",
        mounts__0__upper_at=-100.0, mounts__0__drop=120.0, mounts__0__upper_tilt=10.0,
    )  # fmt: skip
    rise = math.tan(math.radians(10.0))
    s = (40.0 + 0.04 * 100.0) / (1 + 0.04 * rise)
    depth = math.hypot(-100.0 + s * rise, s - 40.0)
    for _, y in [exits(design)["main motor / upper port"]]:
        assert y == pytest.approx(-depth, abs=1e-9)
    texts = " ".join(map(said, inside_pages(cleared(design), on())))
    assert f"({depth:.1f} mm)" in texts


def test_it_is_a_mirror_and_says_so() -> None:
    for page in sheets_of("example", "letter"):
        words = said(page)
        for wanted in ("INSIDE, SEEN LOOKING AFT", "a mirror of sheets A to D: port is on your right. Do not drill by it."):
            assert wanted in words
        names = {m.text: m.at[0] for m in page.marks if isinstance(m, Text) and m.text in ("◄ STARBOARD", "PORT ►")}
        assert names["◄ STARBOARD"] < names["PORT ►"]
    left, right = pages_of("inside", "example", "letter")[:2]
    assert "UPPER STARBOARD" in said(left)
    assert "UPPER PORT" in said(right)


@pytest.mark.parametrize("name", ["thrice-drilled-runabout", "tilted"])
def test_a_mirrored_boat_gives_the_mirrored_sheet(name: str) -> None:
    design = boat(name)
    here, there = exits(design), exits(mirrored(design))
    swapped = {"port": "starboard", "starboard": "port"}
    for part, (x, y) in here.items():
        other = part.rsplit(" ", 1)[0] + " " + swapped[part.rsplit(" ", 1)[1]]
        assert there[other] == pytest.approx((-x, y))
    data = printed(
        tuple(p for p in inside_pages(cleared(mirrored(design)), on()) if p.name[:5] == "Sheet")
    )
    pages = READERS[0](data)
    places, origin = assembled(pages)
    for bolt in bolts(mirrored(design)):
        x, y = there[bolt.at]
        assert found_at(pages, places, (origin[0] + x, origin[1] + y), bolt.hole / 2) == 1


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["example", "tilted", "thrice-drilled-runabout"])
def test_no_letter_of_the_set_occurs_twice(name: str, paper: str) -> None:
    design = boat(name)
    outer = [page.name for page in template_pages(cleared(design), on(paper)) if page.name.startswith("Sheet")]
    inner = [page.name for page in sheets_of(name, paper)]
    assert len({*outer, *inner}) == len(outer) + len(inner)
    assert inner[0] == f"Sheet {chr(ord('A') + len(outer))}"
    assert inside_count(cleared(design), on(paper)) == len(inner)


def test_nobody_can_punch_by_it() -> None:
    """There is no dot, and no full circle as small as a pilot."""
    for page in pages_of("inside", "example", "letter"):
        small = [m for m in page.marks if isinstance(m, Circle) and m.radius < 4.0]
        assert not [m for m in small if m.fill or m.pen is None or not m.pen.dash]


def words_of(design: Design) -> str:
    return " ".join(" ".join(map(said, inside_pages(cleared(design), on()))).replace("\N{NO-BREAK SPACE}", " ").split())


def test_each_pilot_has_a_box_and_its_own_limit_and_nothing_is_asked_for_that_has_no_entry() -> None:
    """The example's lower washers have 2.16 mm of room. The spread is sqrt(0.3² + 0.5² + (44·tan 1°)²) = 0.96 mm.

    So the circle is 1.19 mm: in words 1/32 in, rounded down from 3/64. The upper washers have room for the whole 1/8 in.
    """
    words = words_of(example_design())
    assert "Lower port: within 1/32 in (0.8 mm) of its cross, inside the dots" in words
    assert "Upper port: within 1/8 in (3.2 mm) of its cross, inside the dots" in words
    assert words.count("inside the dots") == 4
    for wanted in ("If it is inside its dots, tick it and go on.", "If it is outside, stop.", "Type them in"):
        assert wanted in words
    for gone in ("up / down", "port / starboard", "fill in the table", "plug it first"):
        assert gone not in words


def raised(by: float, **more: Any) -> Design:
    """The example, its lower pair raised so that the washer's room grows by as much [mm]."""
    return changed(example_design(), mounts__0__drop=165.1 - by, **more)


@pytest.mark.parametrize(
    ("units", "room", "radius"),
    [
        ("in", 10.0, 3.175), ("in", 4.2, 3.175), ("in", 3.0, 2.0357), ("in", 1.8, 0.8357), ("in", 1.7, None),
        ("in", -3.0, None),
        ("mm", 10.0, 3.0), ("mm", 3.0, 2.0357), ("mm", 1.98, 1.0157), ("mm", 1.95, None),
    ],
)  # fmt: skip
def test_the_pilot_s_circle_is_what_the_washer_has_room_for(units: str, room: float, radius: float | None) -> None:
    """Room less 0.9643 mm, at most 1/8 in or 3 mm; none below 1/32 in or 1 mm. By hand, with the spread of the test above."""
    design = raised(room - 2.1584, units=units)
    sheets = tuple(page for page in inside_pages(cleared(design), on()) if page.name.startswith("Sheet"))
    pages = READERS[0](printed(sheets))
    places, origin = assembled(pages)
    words = words_of(design)
    for name in ("lower port", "lower starboard"):
        x, y = exits(design)[f"main motor / {name}"]
        drawn = dotted(pages, places, (origin[0] + x, origin[1] + y))
        assert drawn == ([] if radius is None else pytest.approx([radius], abs=0.02))
    assert words.count("no pilot: raise the bolts first") == (2 if radius is None else 0)
    assert ("Drill nothing yet" in words) == (radius is None)


def reusing(name: str = "upper port", at: tuple[float, float] = (-163.5125, -50.8), **how: Any) -> Design:
    """The example with an open old hole of 1/2 in that a new hole is meant to use."""
    old = OldHole(name=f"old {name}", at=at, diameter=12.7, state="open", plug_diameter=None, reuse=True, drill=None)
    return changed(example_design(), old_holes=(replace(old, **how),))


def test_a_reused_hole_has_no_pilot_on_the_inside_sheet() -> None:
    words = words_of(reusing())
    assert words.count("reused: open to 17/32 in (13.5 mm)") == 1
    assert words.count("inside the dots") == 3
    assert "Upper port: within" not in words
    pages = inside_pages(cleared(reusing()), on())
    circles = {m.part for page in pages for m in page.marks if isinstance(m, Circle) and m.part.endswith("/ limit")}
    assert circles == {f"main motor / {name} / limit" for name in ("upper starboard", "lower port", "lower starboard")}


def test_an_old_hole_that_is_missed_or_plugged_is_not_reused() -> None:
    """13.5 - 12.7 leaves 0.4 mm of play each way: 0.5 mm off, the new hole cuts a separate crescent and has a pilot."""
    for design in (reusing(at=(-164.0125, -50.8)), reusing(state="plugged", plug_diameter=25.4), reusing(reuse=False)):
        assert "reused: open to" not in words_of(design)
    assert "reused: open to" in words_of(reusing(at=(-163.9, -50.8)))
    assert "reused" not in words_of(reusing(state="plugged", plug_diameter=25.4)), "a plug is no hole to lay the paper by"


def test_a_cut_washer_and_a_relieved_plate_are_drawn_as_they_are() -> None:
    design = changed(example_design(), mounts__0__lower_hardware__washer__flat_cut=12.0)
    pages = inside_pages(cleared(design), on())
    arcs = [m for p in pages for m in p.marks if isinstance(m, Arc) and m.part.endswith("lower port / washer")]
    cuts = [m for p in pages for m in p.marks if isinstance(m, Line) and m.part.endswith("lower port / washer")]
    assert [arc.radius for arc in arcs] == [19.05]
    assert arcs[0].centre[1] - cuts[0].a[1] == pytest.approx(12.0)
    assert math.dist(cuts[0].a, cuts[0].b) == pytest.approx(2 * math.sqrt(19.05**2 - 12.0**2))
    assert "washer 1-1/2 in, cut flat" in " ".join(map(said, pages))
    plates = [
        m
        for p in pages_of("inside", "thrice-drilled-runabout", "letter")
        for m in p.marks
        if isinstance(m, Path) and m.part == "backing plate"
    ]
    assert plates


def test_nuts_are_as_wide_over_their_corners_as_the_largest_listed() -> None:
    """ASME B18.16.6 NE 1/2: flats 0.752 in at the most, so corners 0.752·2/sqrt(3)."""
    nuts = [m for p in pages_of("inside", "example", "a4") for m in p.marks if isinstance(m, Path) and m.part.endswith("/ nut")]
    assert len(nuts) == 4
    for nut in nuts:
        assert math.dist(nut.points[0], nut.points[3]) == pytest.approx(0.752 * 25.4 * 2 / math.sqrt(3), abs=1e-6)


def test_floor_and_flat_land_are_where_they_were_measured() -> None:
    """The floor 236.03 mm below the inside edge; flat land r·cot(beta/2) above it, beta = 90° + 14° - 3°."""
    page = next(p for p in pages_of("inside", "example", "letter") if "LOWER PORT" in said(p))
    hole = next(m for m in page.marks if isinstance(m, Circle) and m.part == "main motor / lower port")
    datum = hole.centre[1] + 215.9 - 44.0 * math.tan(math.radians(14.0))
    floors = [y for m in page.marks if isinstance(m, Path) and m.part == "well floor" for _, y in m.points]
    lands = [y for m in page.marks if isinstance(m, Path) and m.part == "flat land" for _, y in m.points]
    assert min(floors) == pytest.approx(datum - 236.03, abs=1e-6)
    assert min(lands) == pytest.approx(datum - 236.03 + 12.0 / math.tan(math.radians(101.0) / 2), abs=1e-6)


@pytest.mark.parametrize("drillable", [True, False])
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", BOATS)
def test_it_is_asked_of_floor_and_land_where_they_are_drawn_and_only_there(name: str, paper: str, drillable: bool) -> None:
    """A line that is not on the paper can't be compared with the boat. Then its depth is said."""
    pages = pages_of("inside", name, paper, drillable)
    parts = {m.part for page in pages for m in page.marks if isinstance(m, Path)}
    text = read(pages)
    assert ("the flat land where" in text) == ("flat land" in parts)
    assert ("are the floor and the flat land where" in text or "is the floor where" in text) == ("well floor" in parts)
    assert boat(name).well is None or "well floor" in parts or "lower than this paper shows" in text


@pytest.mark.parametrize(
    ("name", "paper", "phrase"),
    [
        ("thrice-drilled-runabout", "letter", "Before drilling, look: is the well floor 13 in (330.2 mm) below the fold"),
        ("thrice-drilled-runabout", "a4", "13 in (330.2 mm) below the fold, lower than this paper shows?"),
        ("twin-motor-launch", "a4", "is it 10-11/16 in (271.5 mm) to 11-9/16 in (293.5 mm) below the fold under"),
        ("twin-motor-launch", "letter", "are the floor and the flat land where they are drawn? If not, stop"),
        ("tapered-work-boat", "letter", "are the floor and the flat land where they are drawn? If not, stop"),
        ("tapered-work-boat", "a4", "are the floor and the flat land where they are drawn? If not, stop"),
    ],
)
def test_a_floor_below_the_paper_has_its_depth_in_words(name: str, paper: str, phrase: str) -> None:
    """The launch's floor falls from 10 5/16 in at 25 in off the middle to 12 in: by (25 - u)/25 of 1 11/16 in at u. Under
    the upper bolts furthest out, 19 7/16 in, 10.688 in; under the innermost, 6 9/16 in, 11.557 in."""
    assert phrase in read(pages_of("inside", name, paper))


@pytest.mark.parametrize("paper", PAPERS)
def test_a_design_not_to_be_drilled_by_says_so_across_every_sheet(paper: str) -> None:
    for design in (
        replace(example_design(), demonstration=True),
        changed(example_design(), mounts__0__drop=203.2, mounts__0__row=0),
        changed(example_design(), well__length=None, mounts__0__lower_hardware__socket=None, mounts__0__drop=203.2),
    ):
        pages = inside_pages(check(design), on(paper))
        sheets = [page for page in pages if page.name.startswith("Sheet")]
        assert all("NOT TO BE DRILLED" in said(page) for page in sheets)
        assert sum(isinstance(m, Line) and m.part.endswith("/ X") for page in sheets for m in page.marks) == 8
        assert "Outside the dots" not in " ".join(map(said, pages))
    assert not any("NOT TO BE DRILLED" in said(page) for page in pages_of("inside", "example", paper))


@pytest.mark.parametrize(
    ("path", "named"),
    [
        ("transom.rake", "rake"), ("transom.thickness.top", "thickness"), ("well.fillet_radius", "corner radius"),
        ("well.floor_rise", "floor"), ("mounts.0.drop", "drop"), ("mounts.0.lower_hardware.washer.outer", "washer"),
        ("mounts.0.upper_hardware.socket.outer", "socket"), ("mounts.0.lower_hardware.hole", "hole"),
        ("well.profile.1.1", "floor depth"),
    ],
)  # fmt: skip
def test_what_is_not_measured_is_named_in_one_sentence(path: str, named: str) -> None:
    design = changed(example_design(), **{path.replace(".", "__"): None})
    with pytest.raises(OwnerError, match="not known") as caught:
        inside_pages(check(design), on())
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 200
    assert named in str(caught.value).lower()


def test_a_printer_that_is_off_is_corrected_as_the_template_is() -> None:
    """The sheets are turned on their side: across runs along the paper's longer side."""
    design = example_design()
    pages = inside_pages(cleared(design), on(correction=Correction(short=1 / 1.004, long=1 / 0.994, unsure=(0.0017, 0.001))))
    marks = [m for m in pages[0].marks if isinstance(m, Circle) and m.part.endswith("upper starboard")]
    holes = {m.part: m.centre for m in marks}
    middle = next(m for m in pages[0].marks if isinstance(m, Line) and m.part == "centreline")
    x, y = holes["main motor / upper starboard"]
    assert (middle.a[0] - x) * 0.994 == pytest.approx(163.5125, abs=1e-6)
    assert (max(middle.a[1], middle.b[1]) - y) * 1.004 == pytest.approx(39.8296, abs=1e-3)
    assert "Corrected for your printer: across × 1.0060 ± 0.0010, up × 0.9960 ± 0.0017." in said(pages[0])


def test_every_wording_of_the_view_looking_aft_says_which_side_is_port():
    """However narrow the sheet is. Which wrong program this catches: one that leaves out a sentence where room is short."""
    *_, (wordings, _) = looking_aft("sheets A to D").views
    assert len(wordings) == 4
    for wording in wordings:
        words = " ".join(mark.text for mark in wording if isinstance(mark, Text))
        assert words.replace(", ", ",").endswith("a mirror of sheets A to D: port is on your right. Do not drill by it.")


def test_the_floor_under_the_bolts_is_as_deep_as_a_straight_line_gives() -> None:
    """From 260 mm deep at 300 to port to 236 at 300 to starboard: at 163.5125 on either side 254.5405 and 241.4595."""
    profile = ((-320.0, 0.0), (-300.0, -260.0), (300.0, -236.0), (320.0, 0.0))
    deep = on_inside(changed(example_design(), well__profile=profile), Stretch()).floor_deep
    assert deep == pytest.approx((241.4595, 254.5405), abs=1e-4)
    assert on_inside(example_design(), Stretch()).floor_deep == pytest.approx((236.03, 236.03), abs=1e-4)
    assert on_inside(changed(example_design(), well=None), Stretch()).floor_deep is None


def test_the_pilots_boxes_come_after_their_head_and_the_first_step() -> None:
    items = pilot_checks(on_inside(cleared(example_design()).design, Stretch()), "in")
    assert [item.text for item in items[:2]] == [
        "Where each pilot comes out", "Drill one lower pilot. Look inside. Then drill the others.",
    ]  # fmt: skip
    assert [item.lead for item in items[2:6]] == ["box"] * 4


def test_an_old_hole_near_a_new_one_is_where_it_comes_out() -> None:
    """The example's old hole runs square to the outer face: inside it is as far across, mirrored. Within 0.01 mm.

    One without a place, or without a size, is not drawn.
    """
    design = example_design()
    drawn = on_inside(design, Stretch()).face.old
    assert len(drawn) == len(design.old_holes) == 1
    assert drawn[0].at[0] == pytest.approx(-(design.old_holes[0].at[0] or 0.0), abs=0.01)
    for field in ("at__0", "at__1", "diameter"):
        assert not on_inside(changed(design, **{f"old_holes__0__{field}": None}), Stretch()).face.old
