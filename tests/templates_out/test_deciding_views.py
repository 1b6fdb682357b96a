"""The height picture and the drillable zone as marks: the place of each part, and that it reads without colour."""

from __future__ import annotations

import pytest

from geometry.decide.alternatives import low_enough
from geometry.judge.check import check
from geometry.zones.pair_zone import zones
from templates_out.drawing.marks import Hatch, Line, Path, Pen, Text
from templates_out.drawing.transforms import hatch_strokes, text_box
from templates_out.pictures.thumbnails import placement_marks
from templates_out.views.drillable_zone import ADVISED, LEAST, key_marks, place_marks, zone_marks, zone_of
from templates_out.views.motor_height import low_enough_marks
from templates_out.views.viewport import fit, work_rect
from tests.designs import IN, changed, example_design
from tests.reference.test_trade_boats import capped, skiff, tender

WIDE, HIGH = 110.0, 88.0
SIZES = [(WIDE, HIGH), (180.0, 50.0), (127.0, 110.0)]


def picture(design, size=(WIDE, HIGH)):
    return low_enough_marks(design, 0, low_enough(design, 0), *size)


def heights(marks):
    """Return the places of the AV plates' bars, from the left."""
    return [min(y for _, y in mark.points) for mark in marks if isinstance(mark, Path) and mark.part == "plate"]


def bottom(marks):
    return next(mark.a[1] for mark in marks if isinstance(mark, Line) and mark.part == "bottom" and mark.a[0] > 0.2 * WIDE)


def test_av_plates_are_drawn_as_high_as_they_would_hang():
    """One scale for all: differences on paper are as those on the boat, to 1e-6."""
    outcome = low_enough(skiff(), 0)
    marks = picture(skiff())
    bars, zero = heights(marks), bottom(marks)
    wanted = [way.advised for way in outcome.ways] + [outcome.now]
    scales = {round((bar - zero) / height, 6) for bar, height in zip(bars, wanted, strict=True)}
    assert len(scales) == 1
    assert 0.1 <= scales.pop() <= 1.0


def test_a_leg_of_another_class_stays_on_the_paper():
    """A shaft length of 25 in on a transom of 20 in puts the AV plate 5 in lower: the scale becomes smaller."""
    outcome = low_enough(changed(skiff(), mounts__0__leg=25.25 * IN), 0)
    marks = low_enough_marks(skiff(), 0, outcome, WIDE, HIGH)
    assert all(0 < bar < HIGH for bar in heights(marks))


def test_the_small_motor_hangs_from_its_bracket_hook():
    """Its cowl is 90 mm long and 100 high. Both lines below it begin level with its lower edge."""
    marks = [mark for mark in picture(skiff()) if mark.part == "motor"]
    (cowl,) = [mark.points for mark in marks if isinstance(mark, Path)]
    legs = [mark for mark in marks if isinstance(mark, Line)][:2]
    xs, ys = [x for x, _ in cowl], [y for _, y in cowl]
    assert (max(xs) - min(xs)) / (max(ys) - min(ys)) == pytest.approx(0.9, abs=1e-6)
    assert [leg.a[1] for leg in legs] == pytest.approx([min(ys)] * 2, abs=1e-6)
    assert all(min(xs) < leg.a[0] < max(xs) for leg in legs)


def test_what_is_usual_is_a_band_with_its_name():
    marks = picture(skiff())
    band = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "usual")
    low, high = min(y for _, y in band.points), max(y for _, y in band.points)
    assert low == pytest.approx(bottom(marks))
    bars = heights(marks)
    assert all(low < bar < high for bar in bars)  # +0.965, +0.6, +0.7 and +0.83 in
    assert [mark for mark in marks if isinstance(mark, Text) and mark.text == "usual"]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("design", [skiff(), capped(2.25), example_design(), tender(), changed(skiff(), mounts__0__leg=None)])
def test_no_text_is_on_another_and_all_stay_on_the_paper(design, size):
    boxes = [(mark.text, text_box(mark)) for mark in picture(design, size) if isinstance(mark, Text)]
    assert boxes
    for number, (text, box) in enumerate(boxes):
        xs, ys = [x for x, _ in box], [y for _, y in box]
        assert min(xs) >= 0, text
        assert max(xs) <= size[0], text
        assert min(ys) >= 0, text
        assert max(ys) <= size[1], text
        for other, there in boxes[:number]:
            theirs = [x for x, _ in there], [y for _, y in there]
            apart = (max(xs) <= min(theirs[0]) or max(theirs[0]) <= min(xs) or max(ys) <= min(theirs[1]) + 0.3
                     or max(theirs[1]) <= min(ys) + 0.3)  # fmt: skip
            assert apart, (text, other)


def test_a_reading_that_is_missing_leaves_the_rest_of_the_picture():
    marks = picture(changed(skiff(), well__fillet_radius=None))
    assert [mark.text for mark in marks if isinstance(mark, Text)].count("not known") == 3
    assert len(heights(marks)) == 1  # as it hangs now


def test_a_motor_that_clamps_on_has_one_place():
    marks = picture(tender())
    assert len(heights(marks)) == 1
    assert "1/4 in" in {mark.text for mark in marks if isinstance(mark, Text)}


def test_the_zone_reads_without_colour():
    """Least: dashed and hatched; advised: a full line and no hatch by itself."""
    design = example_design()
    view = fit(work_rect(design), 150.0, 130.0)
    zone = zones(design).lower
    marks = zone_marks(view, zone)
    assert LEAST.dash
    assert not ADVISED.dash
    outlines = [mark for mark in marks if isinstance(mark, Path) and mark.pen is not None]
    assert {mark.pen for mark in outlines} == {LEAST, ADVISED}
    for hatch in [mark for mark in marks if isinstance(mark, Hatch)]:
        strokes = hatch_strokes(hatch)
        assert strokes
        assert all(b[0] - a[0] == pytest.approx(a[1] - b[1], abs=1e-9) for a, b in strokes)  # all at 135°
    ring = next(mark.points for mark in outlines if mark.pen == LEAST)
    assert [view.to_boat(at) for at in ring] == [pytest.approx(at, abs=1e-9) for at in zone.least[0].outline]


def test_a_hole_in_a_zone_is_not_filled():
    design = changed(example_design(), old_holes__0__state="open", old_holes__0__at=(0.0, -150.0))
    zone = zones(design).lower
    assert zone.least[0].holes
    view = fit(work_rect(design), 150.0, 130.0)
    fill = next(mark for mark in zone_marks(view, zone) if isinstance(mark, Path) and mark.fill)
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(fill.points, (*fill.points[1:], fill.points[0]), strict=True))) / 2
    rings = (zone.advised[0].outline, *zone.advised[0].holes)
    areas = [abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(r, (*r[1:], r[0]), strict=True))) / 2 for r in rings]
    assert area / view.scale**2 == pytest.approx(areas[0] - sum(areas[1:]), rel=1e-6)


def test_the_pattern_is_one_cross_ringed_where_it_may_lie():
    view = fit((-200.0, -300.0, 200.0, 50.0), 100.0, 90.0)
    inside, outside = (place_marks(view, (10.0, -50.8), holds=holds) for holds in (True, False))
    assert len(inside) == len(outside) + 1
    assert inside[-1].centre == view.to_paper((10.0, -50.8))
    assert inside[-1].fill is None
    assert inside[-1].pen == Pen("new", 0.4)


def test_the_av_plate_in_the_small_picture_reaches_20_forward_of_the_leg_and_130_aft():
    """150 wide where the cowl is 90, in one scale."""
    design = skiff()
    marks = low_enough_marks(design, 0, low_enough(design, 0), 90.0, 80.0)
    cowl = next(mark for mark in marks if isinstance(mark, Path) and mark.part == "motor")
    wide = max(x for x, _ in cowl.points) - min(x for x, _ in cowl.points)
    plate = next(mark for mark in marks if isinstance(mark, Line) and mark.part == "motor" and mark.pen == Pen("new", 0.6))
    assert plate.b[0] - plate.a[0] == pytest.approx(wide * 150 / 90, rel=1e-6)
    legs = [mark.b[0] for mark in marks if isinstance(mark, Line) and mark.part == "motor" and mark.pen == Pen("new", 0.3)]
    assert len(legs) == 2
    assert plate.a[0] < min(legs) < max(legs) < plate.b[0]


@pytest.mark.parametrize(("least", "advised"), [(True, True), (False, True), (False, False)])
def test_the_key_holds_what_it_says(least: bool, advised: bool) -> None:
    """Its words and its samples, one as wide as the other or much wider, are 3 mm and more inside it."""
    for line in ("A lower hole’s centre may lie here.", "A lower hole’s centre may lie here, and no other bolt of this motor."):
        marks, (wide, high) = key_marks(("Drillable zone", line), least=least, advised=advised)
        for mark in marks:
            if isinstance(mark, Text):
                assert all(3.0 - 1e-6 <= x <= wide - 3.0 and 0 <= y <= high for x, y in text_box(mark)), mark.text
        said = {mark.text for mark in marks if isinstance(mark, Text)}
        assert ("least allowed" in said, "advised" in said) == (least, advised)


def test_each_pair_has_its_own_zone():
    zoned = zones(example_design())
    assert [zone_of(zoned, pair) for pair in ("", "upper", "lower")] == [zoned.pattern, zoned.upper, zoned.lower]


def test_a_placement_in_small_keeps_what_is_fouled():
    whole = check(skiff())
    marks = placement_marks(whole, 0, work_rect(whole.design), 60.0, 40.0)
    assert whole.verdict == "fouled"
    assert [mark for mark in marks if isinstance(mark, Hatch)]
    clear = check(skiff(flat=0.46))
    assert not [mark for mark in placement_marks(clear, 0, work_rect(clear.design), 60.0, 40.0) if isinstance(mark, Hatch)]
