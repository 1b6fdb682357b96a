"""The shop sheet's passes: wrench torque, the lock nut's drag included, and never more than core and bolt allow.

By hand: clamp F = (T - drag) / (K d), T = 47.5 N m, K = 0.14, d = 12.7 mm. The core under a 38.1 mm washer, 4 mm of skin and
a hole of 13.5 mm is 1526.0 mm2; 1.67 times 10.5 N/mm2 of it allow 47.58 N m, 35.1 lb-ft, with no drag. A new 1/2-13 NE nut
takes 204 lbf in, 17 lb-ft or 23.05 N m, at most (ASME B18.16.6, read in a secondary copy).
"""

from __future__ import annotations

import datetime
import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.design.hardware import Washer
from geometry.judge.check import check
from geometry.judge.strength import post, post_words
from geometry.solid.placed_bolts import bolts
from geometry.tables.fasteners import nut_names
from geometry.tables.papers import paper as paper_named
from geometry.units import force_units
from templates_out.drawing.marks import Circle, Line, Path, Text
from templates_out.drawing.transforms import text_box
from templates_out.layout.reading_pages import Sheet
from templates_out.pages.shop.shop_pages import shop_pages
from templates_out.pages.shop.shop_torque import _pattern_and_passes, notes, passes, pattern, refusals
from templates_out.pages.shop.shop_work import work
from tests.designs import changed, example_design, half_inch_hardware
from tests.templates_out.viewing import of, texts

DAY = datetime.date(2026, 11, 25)
NBSP = "\N{NO-BREAK SPACE}"
LB_FT = 1.3558179483314004  # N m: NIST SP 811, appendix B.8
BOLTS = {"1/2-13": (12.7, 91.548), "M12x1.75": (12.0, 84.267)}  # d [mm], stress area [mm2]: see tests/reference
A4_70 = 0.85 * 450  # N/mm2 of proof: ISO 3506-1's yield, read in a secondary copy


def both(design=None, **values):
    """Return a design with the same hardware for both pairs."""
    paths = {f"mounts__0__{pair}_hardware__{name}": value for pair in ("upper", "lower") for name, value in values.items()}
    return changed(design or example_design(), **paths)


def steps(design, unit="in"):
    return [text.replace(NBSP, " ") for text, _ in passes(list(bolts(design)), unit)]


def refused(design, unit="in"):
    return [text.replace(NBSP, " ") for text in refusals(list(bolts(design)), unit)]


def noted(design, unit="in"):
    return [text.replace(NBSP, " ") for text in notes(list(bolts(design)), unit)]


def printed(design, unit="in"):
    """Return the figures of each pass: what a person reads, as (figure, unit's name)."""
    there = [text for text in steps(design, unit) if text.startswith("Pass ")]
    return [re.findall(r"(\d+(?:\.\d+)?) (lb-ft|N·m)", text) for text in there]


@pytest.mark.parametrize("values", [{}, {"running_torque": 8.0}, {"nut": "ASME B18.2.2 hex"}, {"bolt": "1/2-20"}])
def test_the_last_pass_is_the_torque_that_was_entered(values):
    """Half of 47.5 N m is 23.75, 17.5 lb-ft; neither changes with the drag, and nothing is to be added."""
    lines = steps(both(**values))
    assert "Pass 1, in that order: 18 lb-ft (24 N·m) on the wrench." in lines
    assert "Pass 2, in that order: 35 lb-ft (47.5 N·m) on the wrench." in lines
    assert "Pass 1, in that order: 24 N·m (18 lb-ft) on the wrench." in steps(both(**values), "mm")
    assert not any("+" in text for text in lines)
    adds_nothing = any("with the lock nut’s drag in it. Add nothing to it." in text for text in noted(both(**values)))
    assert adds_nothing is (values.get("nut") is None)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({}, "Nuts: a new one’s drag is up to 17 lb-ft (23 N·m), from the standard (ASME B18.16.6"),
        ({"running_torque": 8.0}, "Nuts: drag 6 lb-ft (8 N·m), as measured. Only the rest of the torque clamps."),
        ({"bolt": "1/2-20"}, "Nuts: no standard gives their drag. Enter the drag that you read."),
        ({}, "This pulls each bolt with 2400 to 6010 lbf"), ({"running_torque": 8.0}, "with 3880 to 4990 lbf"),
        ({"bolt": "1/2-20"}, "with up to 6010 lbf"), ({"nut": "ASME B18.2.2 hex"}, "with 4670 to 6010 lbf"),
    ],
)  # fmt: skip
def test_where_the_drag_is_from_and_what_it_leaves(values, words):
    assert any(words in text for text in noted(both(**values)))
    assert any("more than 17 lb-ft (23 N·m), take another nut." in text for text in steps(both(**values))) is (values == {})


def test_pairs_that_differ_are_listed_apart_and_those_alike_are_not():
    apart = changed(example_design(), mounts__0__lower_hardware__torque=40.0)
    assert ("Pass 2, in that order: upper pair 35 lb-ft (47.5 N·m) on the wrench; lower pair 30 lb-ft (40 N·m) on the wrench."
            in steps(apart))  # fmt: skip
    alike = changed(example_design(), mounts__0__lower_hardware__washer__outer=44.0)  # the core allows more, the torque is one
    assert "Pass 2, in that order: 35 lb-ft (47.5 N·m) on the wrench." in steps(alike)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"torque": 65.0}, "Do not tighten the nuts to 48 lb-ft (65 N·m). The core’s limit is 35 lb-ft (47.5 N·m) of wrench "
         "torque. Use wider washers, a backing plate, or less torque"),
        ({"grade": "F593F"}, "The bolt’s limit is 21 lb-ft (28.5 N·m) of wrench torque. Use bolts of a higher grade"),
        ({"torque": 9.0, "running_torque": 9.0}, "their drag takes all of the 7 lb-ft (9 N·m)"),
    ],
)  # fmt: skip
def test_beyond_what_is_allowed_there_is_no_pass_but_what_to_change(values, words):
    """F593F: 91.548 mm2 of 0.85 * 30 ksi are 16096 N, 28.62 N m, 21.1 lb-ft. One pair over its limit stops both."""
    assert words in refused(both(**values))[0]
    assert printed(both(**values)) == []
    design = changed(example_design(), **{f"mounts__0__lower_hardware__{name}": value for name, value in values.items()})
    assert words.replace("the nuts", "the lower pair nuts") in refused(design)[0]
    assert printed(design) == []
    assert "This pulls" not in " ".join(noted(design))


@pytest.mark.parametrize("drag", [None, 8.0])
def test_a_pass_is_not_rounded_up_over_what_is_allowed(drag):
    """10.725 N/mm2 of core allow 48.6 N m without drag; 48.3 is 35.6 lb-ft, and 36 would be 48.8. A drag changes no figure."""
    design = both(changed(example_design(), transom__core_bears=10.725), torque=48.3, running_torque=drag)
    assert "Pass 2, in that order: 35 lb-ft (48.5 N·m) on the wrench." in steps(design)
    words = [text.text for page in shop_pages(check(design), DAY) for text in texts(page.marks)]
    assert "pass 2: 35 lb-ft" in words


def test_what_is_not_measured_is_asked_for_before_a_pass():
    friction = "mounts__0__lower_hardware__friction"
    for path, name in (("transom__skin_inside", "inner skin"), (friction, "lower friction, lowest")):
        design = changed(example_design(), **{path: (None, 0.18) if path == friction else None})
        assert f"{name} is not measured. Measure it. Enter it" in refused(design)[0]
        assert printed(design) == []


def test_the_manuals_torque_has_the_same_limit():
    manual = both(torque=None)
    assert "Pass 1, in that order: half the manual’s wrench torque." in steps(manual)
    assert "Pass 2, in that order: the manual’s wrench torque, never more than 35 lb-ft (47.5 N·m)." in steps(manual)
    assert any("torque not known. Take it from the motor’s manual" in text for text in noted(manual))


def test_a_core_that_nobody_knows_is_looked_at_before_the_first_pass():
    lines = steps(changed(example_design(), transom__core="unknown"))
    look = next(i for i, text in enumerate(lines) if text.startswith("Look at the pilots’ chips"))
    assert look < next(i for i, text in enumerate(lines) if text.startswith("Pass 1"))


def test_the_page_stops_instead_of_passing():
    """One STOP more than with a torque that is allowed, and no figure in the record's heads."""
    counts = []
    for design in (example_design(), both(torque=65.0)):
        pages = shop_pages(check(design), DAY)
        counts.append(sum(len(of(page.marks, Path, "stop")) for page in pages))
        words = [text.text.replace(NBSP, " ") for page in pages for text in texts(page.marks)]
        assert ("pass 2: 35 lb-ft" in words) is (len(counts) == 1)
        assert ("pass 2, lb-ft" in words) is (len(counts) == 2)
    assert counts[1] == counts[0] + 1


@st.composite
def tightened(draw):
    """Any torque on any nut, drag, core and washer, whole or cut flat."""
    name = draw(st.sampled_from(sorted(BOLTS)))
    outer = draw(st.floats(28.0, 60.0))
    cut = draw(st.one_of(st.none(), st.floats(12.0, outer / 2)))
    low = draw(st.sampled_from((0.12, 0.14, 0.20)))
    hole, skin = BOLTS[name][0] + 0.8, draw(st.floats(0.0, 8.0))
    fitted = half_inch_hardware(
        bolt=name, nut=draw(st.sampled_from(nut_names(name))), hole=hole, torque=draw(st.floats(0.5, 120.0)),
        friction=(low, low + 0.04), running_torque=draw(st.one_of(st.none(), st.floats(0.0, 40.0))),
        washer=Washer(outer=outer, inner=hole, thickness=3.0, flat_cut=cut),
    )  # fmt: skip
    design = changed(example_design(), mounts__0__upper_hardware=fitted, mounts__0__lower_hardware=fitted,
                     transom__core_bears=draw(st.floats(0.5, 45.0)), transom__skin_inside=skin)  # fmt: skip
    return replace(design, units=draw(st.sampled_from(("in", "mm"))))


def allowed_by_hand(design):
    """Return the wrench torque that core and bolt allow, with the least drag and friction [N m]."""
    fitted = design.mounts[0].lower_hardware
    size, stress = BOLTS[fitted.bolt]
    r, skin, cut = fitted.washer.outer / 2, design.transom.skin_inside, fitted.washer.flat_cut
    half = 0.0 if cut is None else math.acos(min(1.0, cut / r))
    seat, rim = r * r * (math.pi - half + math.sin(half) * math.cos(half)), 2 * r * (math.pi - half + math.sin(half))
    pressed = seat + rim * skin + math.pi * skin**2 - math.pi / 4 * fitted.hole**2  # Steiner
    force = min(1.67 * design.transom.core_bears * pressed, stress * A4_70)
    return force * fitted.friction[0] * size / 1000 + (fitted.running_torque or 0.0)


@settings(max_examples=300)
@given(tightened())
def test_no_printed_pass_exceeds_what_core_and_bolt_allow(design):
    """In either unit; the stress areas are typed to five figures, so within 1e-4 of it."""
    most, torque = allowed_by_hand(design), design.mounts[0].lower_hardware.torque
    figures = printed(design, design.units)
    for figure, unit in (each for design_ in figures for each in design_):
        assert float(figure) * (LB_FT if unit == "lb-ft" else 1.0) <= most * (1 + 1e-4) + 1e-5
    clamps = torque > (design.mounts[0].lower_hardware.running_torque or 0.0) + 1e-5
    if torque < most * (1 - 1e-4) and clamps:
        per, step = (LB_FT, 1.0) if design.units == "in" else (1.0, 0.5)
        last = float(figures[-1][0][0])
        assert abs(last - torque / per) <= step / 2 + 1e-5 or (last + step) * per > most * (1 - 1e-4) - (
            design.mounts[0].lower_hardware.running_torque or 0.0)  # fmt: skip
        assert not refused(design, design.units)
    if torque > most * (1 + 1e-4):
        assert figures == []
        assert "limit" in refused(design, design.units)[0]


@settings(max_examples=200)
@given(tightened())
def test_one_torque_prints_one_figure_whether_the_drag_is_known_or_not(design):
    without, known = printed(both(design, running_torque=None), design.units), printed(design, design.units)
    if without and known:
        assert without == known


@settings(max_examples=100)
@given(tightened())
def test_sheet_and_findings_agree_on_what_is_allowed(design):
    """A finding over its limit, and a sheet without passes, are the same; a flat cut counts on the sheet in any case."""
    findings = [finding for finding in check(design).findings if finding.check in ("clamp", "pressure")]
    assert all(finding.value is not None and finding.state != "unknown" for finding in findings)
    if any(finding.state == "fouled" for finding in findings):
        assert printed(design, design.units) == []
    elif design.mounts[0].lower_hardware.washer.flat_cut is None:
        assert printed(design, design.units)


@settings(max_examples=100)
@given(tightened())
def test_the_figure_in_the_finding_is_the_figure_of_the_last_pass(design):
    figures = printed(design, design.units)
    said = force_units.torque(design.mounts[0].lower_hardware.torque, design.units)
    texts_of = [finding.text for finding in check(design).findings if finding.check == "clamp"]
    assert all(said in text for text in texts_of)
    if figures and " ".join(figures[-1][0]) != said:  # only where the next step up would be more than is allowed
        number, unit = said.split(" ")
        drag = design.mounts[0].lower_hardware.running_torque or 0.0
        assert float(number) * (LB_FT if unit == "lb-ft" else 1.0) > allowed_by_hand(design) * (1 - 1e-4) - drag


@pytest.mark.parametrize(
    ("unit", "hole", "bored", "across"),
    [("in", 13.5, "1 in (25.4 mm)", 25.4), ("mm", 13.5, "26 mm (1-1/32 in)", 26.0),
     ("in", 20.0, "1-1/8 in (28.6 mm)", 28.575)],
)  # fmt: skip
def test_work_and_promise_bore_to_one_diameter(unit, hole, bored, across):
    """The step's diameter, put into 55 N/mm2 of epoxy round the hole, is what the finding promises."""
    design = replace(both(hole=hole, torque=60.0), units=unit)
    (step,) = [what.replace(NBSP, " ") for what, *_ in work(design) if what.startswith("Bore the core")]
    assert f"out to {bored}" in step
    lower = bolts(design)[2]
    assert post(lower) == pytest.approx(55 * math.pi / 4 * (across**2 - hole**2), abs=1e-3)
    size = bored.split(" (")[0].replace("-", " ")
    carried = force_units.force(post(lower), unit, down=True)
    promise = f"bored out to {size}, filled with epoxy and drilled again carries {carried} of"
    assert promise in check(design).of("pressure", "main motor / lower port").remedy


def test_foam_needs_a_solid_core_first():
    """In finding and work; no epoxy post is promised."""
    design = both(torque=30.0)
    design = changed(design, transom__core="foam")
    remedy = check(design).of("pressure", "main motor / lower port").remedy
    assert "foam needs a solid core at each bolt" in remedy.lower()
    sentences = [*map(post_words, bolts(design)), remedy]
    assert not any("drilled again carries" in text for text in sentences)
    steps_ = work(design)
    solid = next(i for i, (what, *_) in enumerate(steps_) if what.startswith("Have a solid core put in"))
    assert steps_[solid][1] == "if the core at any bolt is still foam."
    assert solid < next(i for i, (what, *_) in enumerate(steps_) if what.startswith("Punch"))
    assert "Have a solid core put in, or less torque" in refused(design)[0]


def test_each_arrow_of_the_order_points_along_its_line():
    """The head's tip is ahead of the line's end, and its wings are behind the tip."""
    marks = [mark for page in shop_pages(check(example_design()), DAY) for mark in page.marks if mark.part == "order"]
    lines, heads = ([mark for mark in marks if isinstance(mark, kind)] for kind in (Line, Path))
    assert len(lines) == len(heads) > 2
    for line, head in zip(lines, heads, strict=True):
        tip, *wings = head.points
        assert math.dist(line.a, tip) == pytest.approx(math.dist(line.a, line.b) + 1.5, abs=1e-6)
        assert all(math.dist(line.a, wing) < math.dist(line.a, tip) - 1.0 for wing in wings)


@pytest.mark.parametrize(("from_", "port"), [("outside", 1.0), ("inside", -1.0)])
def test_the_picture_of_the_order_has_each_nut_at_its_place(from_, port):
    """Looking aft port is on the right; where all nuts are outside, one looks forward and port is on the left.

    The order is crosswise: upper port, lower starboard, upper starboard, lower port.
    """
    marks = pattern(list(bolts(both(inserted_from=from_))), (100.0, 50.0))
    places = [mark.centre for mark in sorted(marks, key=lambda mark: mark.part) if isinstance(mark, Circle)]
    across, up = [(x - 100.0) * port for x, _ in places], [y - 50.0 for _, y in places]
    assert across[0] > 5.0
    assert across[3] > 5.0
    assert (across[2], across[1]) == pytest.approx((-across[0], -across[3]), abs=1e-6)
    assert up[0] == up[2] > 5.0
    assert up[1] == up[3] < -5.0
    words = {mark.text: mark.at for mark in marks if isinstance(mark, Text) and not mark.text.isdigit()}
    for name, place in zip(("upper port", "lower starboard", "upper starboard", "lower port"), places, strict=True):
        at = next(at for text, at in words.items() if text.startswith(name))
        assert at[0] == place[0]
        assert 0.0 < abs(at[1] - place[1]) < 10.0


@pytest.mark.parametrize("values", [{}, {"torque": None}, {"running_torque": 30.0}])
def test_what_follows_the_passes_is_below_their_picture_and_below_their_words(values):
    sheet = Sheet(both(**values), DAY, paper_named("letter"))
    marks, foot = _pattern_and_passes(sheet, list(bolts(sheet.design)), 200.0)
    texts_ = [mark for mark in marks if isinstance(mark, Text)]
    assert any(mark.text.startswith("Seen from inside") for mark in texts_)
    assert foot <= min(y for mark in texts_ for _, y in text_box(mark))
