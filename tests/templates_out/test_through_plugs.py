"""Where a new hole goes through a plug: its outline, what comes first, and the order of the work. Read back from PDF."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from geometry.decide.amounts_to_buy import plug
from geometry.decide.old_holes import plugs_drilled_through
from geometry.design.boat import OldHole
from templates_out.drawing.marks import Arc, Circle, Line, Text
from templates_out.pages.inside.inside_pages import inside_pages
from templates_out.pages.shop.shop_work import work
from templates_out.pages.template.template_pages import template_pages
from tests.designs import changed, example_design, roomy
from tests.templates_out.printed import READERS, assert_legible, cleared, on, printed, said

if TYPE_CHECKING:
    from geometry.design.design import Design
    from templates_out.drawing.marks import Page

FIRST = "fill, cure, then drill"
UPPER_PORT = (-163.5125, -50.8)  # of the example's new hole, 13.5 mm across


def with_old(at: tuple[float, float] = UPPER_PORT, units: str = "in", **how: object) -> Design:
    """The example with one old hole of 1/2 in, open unless it is said otherwise."""
    old = OldHole(name="old one", at=at, diameter=12.7, state="open", plug_diameter=None, reuse=False, drill=None)
    return changed(example_design(), old_holes=(replace(old, **how),), units=units)


PLUGGED = with_old(state="plugged", plug_diameter=30.0)
NEXT_TO = with_old((UPPER_PORT[0] + 20.0, UPPER_PORT[1]))  # too near for a round plug next to it, too far for one over both
APART = with_old((-100.0, -130.0))
SHEETS = [template_pages, inside_pages]


def sheets(make: object, design: Design) -> tuple[Page, ...]:
    return tuple(page for page in make(cleared(design), on("a4")) if page.name.startswith("Sheet"))


def label_of(pages: tuple[Page, ...], part: str) -> list[str]:
    return [m.text for page in pages for m in page.marks if isinstance(m, Text) and m.part == f"{part} / label"]


@pytest.mark.parametrize("make", SHEETS)
@pytest.mark.parametrize("design", [PLUGGED, with_old(), with_old(state="sealed"), NEXT_TO])
def test_the_new_hole_and_the_old_one_say_what_comes_first(make, design):
    pages = sheets(make, design)
    assert label_of(pages, "main motor / upper port").count(FIRST) == 1
    for other in ("upper starboard", "lower port", "lower starboard"):
        assert FIRST not in label_of(pages, f"main motor / {other}")
    assert "not to be drilled" not in said_by(pages), "a new hole is drilled there"
    for page in pages:
        assert_legible(page)


def said_by(pages: tuple[Page, ...]) -> str:
    return " ".join(map(said, pages))


@pytest.mark.parametrize("make", SHEETS)
@pytest.mark.parametrize(
    "design", [APART, with_old((-100.0, -130.0), state="plugged", plug_diameter=30.0), with_old(reuse=True)]
)
def test_no_other_hole_says_so(make, design):
    """A plug that no new hole goes through, and a hole that is used again and has no plug."""
    pages = sheets(make, design)
    assert FIRST not in said_by(pages)
    assert plugs_drilled_through(design) == {}
    assert not any("through a plug" in step.what for step in work(design))


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("make", SHEETS)
def test_the_outline_is_the_plug_s_own_round_the_new_hole(make, read):
    """Old plug: 30 mm across. Open hole of 1/2 in: the cut that the shop sheet asks for. Both within 0.02 mm on paper."""
    for design, bore in ((PLUGGED, 30.0), (with_old(), plug(with_old(), 0).bore)):
        pages = sheets(make, design)
        marks = [(n, m) for n, page in enumerate(pages) for m in page.marks]
        old = [(n, m) for n, m in marks if isinstance(m, Circle) and m.part == "old hole / old one"]
        outline = [(n, m) for n, m in old if m.pen and m.pen.dash]
        assert [m.radius * 2 for _, m in outline] == pytest.approx([bore], abs=1e-6)
        number, ring = outline[0]
        assert read(printed(pages))[number].circle_at(ring.centre, bore / 2)
        final = next(m for _, m in marks if isinstance(m, Circle) and m.part == "main motor / upper port" and m.radius > 6)
        assert math.dist(final.centre, ring.centre) + final.radius <= ring.radius + 1e-6


@pytest.mark.parametrize("make", SHEETS)
def test_a_long_plug_is_drawn_from_the_old_hole_over_the_whole_new_one(make):
    """Every point of the new hole's edge is inside the outline: no further than half the cut from the plug's middle line."""
    filled = plug(NEXT_TO, 0)
    assert filled.run > 0
    marks = [m for page in sheets(make, NEXT_TO) for m in page.marks]
    ends = [m for m in marks if isinstance(m, Arc) and m.part == "old hole / old one"]
    assert [m.radius for m in ends] == pytest.approx([filled.bore / 2] * 2)
    (far, near) = (m.centre for m in ends)
    assert math.dist(far, near) == pytest.approx(filled.run, abs=1e-6)
    final = next(m for m in marks if isinstance(m, Circle) and m.part == "main motor / upper port" and m.radius > 6)
    assert math.dist(far, final.centre) + final.radius <= filled.bore / 2 + 1e-6
    sides = [m for m in marks if isinstance(m, Line) and m.part == "old hole / old one" and m.pen.dash]
    assert [math.dist(m.a, m.b) for m in sides] == pytest.approx([filled.run] * 2, abs=1e-6)
    for side in sides:
        for end, centre in ((side.a, near), (side.b, far)):
            assert math.dist(end, centre) == pytest.approx(filled.bore / 2, abs=1e-6)


@pytest.mark.parametrize("design", [with_old(), NEXT_TO, PLUGGED])
def test_the_plug_is_filled_and_looked_at_before_its_hole_is_drilled(design):
    texts = [step.what for step in work(design)]
    look = next(n for n, text in enumerate(texts) if "go through a plug: upper port." in text)
    assert "Fill, cure, then drill." in texts[look]
    assert work(design)[look].gate.startswith("if a plug takes a mark.")
    assert look < next(n for n, text in enumerate(texts) if text.startswith("Punch the dots."))
    fill = [n for n, text in enumerate(texts) if text.startswith("Fill the old holes first.")]
    assert all(n < look and "Let it cure as long as the label says." in texts[n] for n in fill)
    assert len(fill) == (design is not PLUGGED)  # that plug is there already


def test_aluminium_is_welded_not_filled():
    design = changed(with_old(units="mm"), transom__core="aluminium")
    words = said_by(sheets(template_pages, design))
    assert "weld shut, then drill" in words
    assert FIRST not in words
    assert not any("through a plug" in step.what for step in work(design))


def test_a_round_plug_names_no_new_hole_and_a_long_one_does():
    """An old hole far from all new ones takes a round plug; one 10 mm below a bolt takes a long one, or a wide round one."""
    bare = replace(roomy().old_holes[0], state="open", plug_diameter=None, diameter=12.7)
    far = plug(replace(roomy(), old_holes=(replace(bare, at=(0.0, -380.0)),)), 0)
    assert (far.run, far.bolt) == (0.0, "")
    for name in ("lower starboard", "lower port"):
        u = 125.4125 if name.endswith("starboard") else -125.4125
        near = plug(replace(roomy(), old_holes=(replace(bare, at=(u, -240.0)),)), 0)
        assert (near.run > 0.0) is bool(near.bolt)
        assert near.bolt in ("", name)
