"""The exits of holes on the inner face as points of the survey: their names, their places, and what is entered of them."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace
from scipy.optimize import least_squares

from geometry.design.boat import OldHole
from geometry.design.checking_readings import SurveyDistance, SurveyReadings
from geometry.errors import OwnerError
from geometry.judge.contradictions import contradictions
from geometry.readings.drilled_readings import drilled_of, with_drilled
from geometry.readings.measures import measure
from geometry.survey.of_design import points_of, surveyed, taken_over
from geometry.survey.survey_words import survey_sentences
from templates_out.drawing.marks import Path
from templates_out.pictures.survey_picture import survey_picture
from tests.designs import changed, roomy, sure

EXIT, DRILLED = "old lower port, inside", "lower port as drilled, inside"
INSIDE = "old_holes.0.second.inside"
OLD = OldHole(name="old lower port", at=(-120.0, -180.0), diameter=12.7, state="open", plug_diameter=None, reuse=False,
              drill=None)  # fmt: skip
THICK = 50.8


def boat():
    """Return a boat with faces 2 in apart, square cut and without taper: a hole comes out as far down as it goes in."""
    design = changed(roomy(), transom__top_cut="square", transom__thickness__top=THICK, transom__thickness__low=THICK)
    return replace(with_drilled(design, 0), units="mm", old_holes=(OLD,))


def distances(at: tuple[float, float], name: str, off: float = 0.0) -> tuple[SurveyDistance, ...]:
    """Return ten distances that brace a point inside and two marks next to it; the last is ``off`` too long [mm]."""
    mark = (150.0, -90.0)
    listed = (
        (name, "port mark", math.dist(at, (-150.0, -40.0))), (name, "centreline", -at[0]), (name, "top edge", -at[1]),
        (name, "starboard mark", math.dist(at, mark)), ("starboard mark", "centreline", mark[0]),
        ("starboard mark", "top edge", -mark[1]), ("starboard mark", "middle of the top edge", math.hypot(*mark)),
        ("port mark", "centreline", 150.0), ("port mark", "top edge", 40.0),
        (name, "middle of the top edge", math.hypot(*at) + off),
    )  # fmt: skip
    return tuple(SurveyDistance(face="inside", from_=a, to=b, length=length, spread=None) for a, b, length in listed)


def with_survey(design, *every: SurveyDistance):
    return replace(design, survey=SurveyReadings(distances=every))


def test_old_holes_and_holes_as_drilled_are_points_on_both_faces() -> None:
    outside, inside = ({point.name: point for point in points_of(boat(), face)} for face in ("outside", "inside"))
    assert {OLD.name, "lower port as drilled", "upper starboard as drilled"} <= {*outside}
    assert {EXIT, DRILLED, "upper starboard as drilled, inside", "well corner 1"} <= {*inside}
    assert inside[EXIT].at == pytest.approx((-120.0, -180.0), abs=1e-6)  # by hand: square cut, no taper
    assert inside[DRILLED].at is None  # nobody read it yet
    without = replace(boat(), old_holes=(), as_drilled=(), well=None)
    assert points_of(without, "inside") == ()


def test_with_a_level_cut_the_exit_counts_from_the_edge_that_the_well_is_measured_from() -> None:
    """By hand, 14° and 2 in: the inside edge is 50.8 · tan 14° = 12.666 mm below the outside one, square to the face."""
    step = THICK * math.tan(math.radians(14.0))
    level = changed(boat(), transom__top_cut="level", transom__rake=14.0)
    for start, up in (("inside top edge", step), ("datum", 0.0)):
        design = changed(level, well__well_from=start)
        point = next(point for point in points_of(design, "inside") if point.name == EXIT)
        assert point.at == pytest.approx((-120.0, -180.0 + up), abs=1e-6)
        entered = taken_over(with_survey(design, *distances((-120.0, -180.0 + up), EXIT)))
        assert sure(measure(entered, INSIDE)).get(entered) == pytest.approx(180.0 - step, abs=0.01)  # from the inside edge
        assert entered.old_holes[0].at == OLD.at


def test_an_exit_s_place_and_spread_are_those_of_another_library() -> None:
    """Its depth becomes the second reading of the old hole, with the spread that the distances give."""
    at = (-118.6, -178.2)
    design = with_survey(boat(), *distances(at, EXIT, off=1.0))
    entered = taken_over(design)
    spread = design.spreads.well
    names = (EXIT, "starboard mark", "port mark")

    def off(values):
        places = {name: values[2 * k : 2 * k + 2] for k, name in enumerate(names)} | {"middle of the top edge": (0.0, 0.0)}
        return [(_far(places, each.from_, each.to) - each.length) / spread for each in sure(design.survey).distances]

    best = least_squares(off, [*at, 150.0, -90.0, -150.0, -40.0], xtol=1e-14, ftol=1e-14, gtol=1e-14)
    placed = next(each for each in surveyed(design)[0].survey.placed if each.name == EXIT)
    assert placed.at == pytest.approx(best.x[:2], abs=1e-4)
    covariance = _inverse(best.jac.T @ best.jac)
    size = max(1.0, math.sqrt(2 * best.cost / (len(best.fun) - len(best.x))))
    reading = entered.readings[INSIDE]
    assert reading.state == "measured"
    assert reading.spread == pytest.approx(size * math.sqrt(covariance[1][1]), rel=1e-3)
    assert reading.value == pytest.approx(-best.x[1], abs=1e-3)
    assert contradictions(entered) == ()


def _inverse(matrix):
    import numpy as np

    return np.linalg.inv(matrix)


def _far(places, first: str, second: str) -> float:
    if second == "centreline":
        return abs(float(places[first][0]))
    return abs(float(places[first][1])) if second == "top edge" else math.dist(places[first], places[second])


def test_an_exit_that_the_faces_do_not_give_contradicts_them() -> None:
    """It comes out 15 mm lower than square: the survey's place is one more witness of thickness, rake and cut."""
    entered = taken_over(with_survey(boat(), *distances((-120.0, -195.0), EXIT)))
    assert [clash.key for clash in contradictions(entered)] == [INSIDE]


def test_a_blunder_of_10_mm_at_an_exit_is_named_and_nothing_is_entered() -> None:
    design = with_survey(boat(), *distances((-120.0, -180.0), EXIT, off=10.0))
    done = surveyed(design)[0]
    assert done.face == "inside"
    assert done.survey.suspects == (9,)
    said = " ".join(survey_sentences(done, "mm"))
    assert "Distance 10, old lower port, inside to middle of the top edge" in said
    assert "too long. Read it again." in said
    with pytest.raises(OwnerError, match="does not agree yet"):
        taken_over(design)


def test_a_drilled_hole_s_exit_is_entered_as_drilled_and_moves_no_other_hole() -> None:
    at = (-124.0, -171.0)
    entered = taken_over(with_survey(boat(), *distances(at, DRILLED)))
    hole = sure(drilled_of(entered, 0, "lower port"))
    assert hole.inner == pytest.approx(at, abs=0.01)
    assert hole.outer == (None, None)
    assert sure(drilled_of(entered, 0, "lower starboard")).inner == (None, None)
    assert entered.mounts == boat().mounts  # the plan stays


def test_the_picture_of_the_inner_face_joins_corners_only() -> None:
    design = with_survey(boat(), *distances((-120.0, -180.0), EXIT))
    marks = survey_picture(design, "inside", surveyed(design)[0], 120.0, 80.0)
    shape = next(mark for mark in marks if isinstance(mark, Path) and not mark.part.startswith("ellipse"))
    assert len(shape.points) == len(sure(design.well).profile)
    assert any(isinstance(mark, Path) and mark.part == f"ellipse: {EXIT}" for mark in marks)
