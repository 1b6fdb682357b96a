"""Faces, exits and edges, each against a length calculated by hand."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace

from geometry.design.boat import Thickness
from geometry.solid.faces import Unmeasured, exit_of, faces, profile_up
from geometry.solid.outline import inner_rim, outer_rim, top_under
from geometry.solid.placed_bolts import bolts
from tests.designs import IN, changed, example_design, sure

CLOSE = 1e-6  # [mm]


def transom(rake: float | None = 14.0, top: float = 44.0, low: float = 44.0, cut: object = "level"):
    return replace(
        example_design().transom, rake=rake, top_cut=cut, thickness=Thickness(top=top, low=low, low_at=-250.0)
    )


@pytest.mark.parametrize(
    ("thick", "rake", "inches"),
    [(1.5, 5, 0.131), (1.5, 10, 0.264), (1.5, 12, 0.319), (1.5, 14, 0.374), (1.5, 15, 0.402), (1.5, 18, 0.487),
     (2.0, 5, 0.175), (2.0, 10, 0.353), (2.0, 12, 0.425), (2.0, 14, 0.499), (2.0, 15, 0.536), (2.0, 18, 0.650),
     (2.5, 5, 0.219), (2.5, 10, 0.441), (2.5, 12, 0.531), (2.5, 14, 0.623), (2.5, 15, 0.670), (2.5, 18, 0.812)],
)  # fmt: skip
def test_drilling_level_comes_out_lower_by_t_tan_rake(thick, rake, inches):
    """t·tan(rake), derived from geometry; the table is rounded to 0.001 in."""
    face = faces(transom(rake, thick * IN, thick * IN))
    square, level = exit_of(face, 0.0, -200.0, 0.0), exit_of(face, 0.0, -200.0, -rake)
    assert (square.w - level.w) / IN == pytest.approx(inches, abs=0.0006)
    assert square.w - level.w == pytest.approx(thick * IN * math.tan(math.radians(rake)), abs=CLOSE)


def test_two_inches_at_fourteen_degrees_are_12_67():
    face = faces(transom(14.0, 50.8, 50.8))
    assert exit_of(face, 0, -200, 0).w - exit_of(face, 0, -200, -14).w == pytest.approx(12.67, abs=0.005)


def test_a_square_hole_climbs_by_t_sin_rake():
    """2·sin 14° = 0.4838 in plumb (derived from geometry)."""
    face = faces(transom(14.0, 50.8, 50.8))
    out = exit_of(face, 0.0, -200.0, 0.0)
    climb = face.level_point(out.v, out.s)[1] - face.level_point(-200.0, 0.0)[1]
    assert climb / IN == pytest.approx(0.4838, abs=0.0001)


def test_a_level_hole_neither_climbs_nor_falls():
    face = faces(transom(14.0, 50.8, 60.0))
    out = exit_of(face, 0.0, -200.0, -14.0)
    assert face.level_point(out.v, out.s)[1] == pytest.approx(face.level_point(-200.0, 0.0)[1], abs=CLOSE)


def test_exit_from_a_tapered_transom():
    """40 mm at the top, 50 at 250 down: t(-200) = 48; drilled square the exit is at s = 48, v = -200.

    tan(taper) = 10/250 = 0.04, taper 2.2906°; w = -200/cos = -200.1599; along = 48; lean = -2.2906°.
    """
    out = exit_of(faces(transom(top=40.0, low=50.0)), 10.0, -200.0, 0.0)
    assert (out.u, out.s, out.v, out.along) == pytest.approx((10.0, 48.0, -200.0, 48.0), abs=CLOSE)
    assert out.w == pytest.approx(-200.159936, abs=CLOSE)
    assert math.degrees(out.lean) == pytest.approx(-2.290610, abs=CLOSE)


def test_exit_of_a_tilted_hole_in_a_tapered_transom():
    """At 5°: s = (40 + 8)/(1 + 0.04·tan 5°) = 48/1.0034995 = 47.832608; v = -200 + s·tan 5° = -195.815189.

    The thickness there: 40 + 0.04·195.815189 = 47.832608, as it has to be; along = s/cos 5° = 48.015318.
    """
    out = exit_of(faces(transom(top=40.0, low=50.0)), 0.0, -200.0, 5.0)
    assert out.s == pytest.approx(47.832608, abs=1e-5)
    assert out.v == pytest.approx(-195.815189, abs=1e-5)
    assert out.along == pytest.approx(48.015318, abs=1e-5)
    assert math.degrees(out.lean) == pytest.approx(5 - 2.290610, abs=CLOSE)


@pytest.mark.parametrize(
    ("cut", "low", "s", "w"),
    [
        ("square", 44.0, 44.0, 0.0),
        ("level", 44.0, 44.0, -44 * math.tan(math.radians(14))),  # -10.9704
        (10.0, 44.0, 44.0, -44 * math.tan(math.radians(10))),
        # tan(taper) = 0.04: s = 44/(1 - 0.04·0.249328) = 44.443237, w = -s·0.249328/cos(2.2906°) = -11.089799
        ("level", 54.0, 44.443238, -11.089798),
    ],
)
def test_the_inside_top_edge_is_lower_by_the_cut(cut, low, s, w):
    face = faces(transom(cut=cut, low=low))
    assert face.edge_depth == pytest.approx(s, abs=1e-5)
    assert face.edge_w == pytest.approx(w, abs=1e-5)


def test_the_inside_edge_is_on_both_the_cut_and_the_inner_face():
    face = faces(transom(rake=11.0, low=52.0))
    v, s = face.face_point(face.edge_w, 0.0)
    assert s == pytest.approx(face.thickness(v), abs=CLOSE)
    assert v == pytest.approx(-s * math.tan(math.radians(11.0)), abs=CLOSE)


def test_what_is_measured_from_the_datum_needs_no_step():
    design = example_design()
    face, well = faces(design.transom), sure(design.well)
    assert profile_up(face, well) == pytest.approx(-10.970432, abs=CLOSE)
    assert profile_up(face, replace(well, well_from="datum")) == 0.0


def test_the_upper_hole_is_nearer_to_the_inside_edge():
    """1-7/8 in down on a level-cut 2 in transom at 14°: 1.875 - 2·tan 14° = 1.3763 in (derived from geometry)."""
    design = changed(example_design(), transom__thickness=Thickness(top=50.8, low=50.8, low_at=-250.0),
                     mounts__0__upper_at=-1.875 * IN)  # fmt: skip
    upper = bolts(design)[0]
    outside = outer_rim(design.transom).signed_distance((upper.u, upper.v))
    within = inner_rim(design.transom).signed_distance((upper.exit.u, upper.exit.w))
    assert outside / IN == pytest.approx(1.875, abs=CLOSE)
    assert within / IN == pytest.approx(1.3763, abs=0.0001)


def test_side_edges_are_carried_square_and_the_top_along_the_cut():
    """The cheek at port runs down (620, -420) to (700, 60): carried along s it keeps its place on parallel faces."""
    design = example_design()
    rim = inner_rim(design.transom)
    assert rim.signed_distance((0.0, -60.0)) == pytest.approx(60 - 10.970432, abs=CLOSE)
    face = outer_rim(design.transom)
    assert rim.signed_distance((640.0, -200.0)) == pytest.approx(face.signed_distance((640.0, -200.0)), abs=CLOSE)


def test_off_the_face_is_below_zero():
    design = example_design()
    assert outer_rim(design.transom).signed_distance((0.0, 5.0)) == pytest.approx(-5.0, abs=CLOSE)
    assert inner_rim(design.transom).signed_distance((0.0, -5.0)) == pytest.approx(5 - 10.970432, abs=CLOSE)


def test_the_highest_top_under_the_bracket():
    """The cut-out is 660 wide at v = 0, its ears stand at 60: what only touches the ear is next to it."""
    design = example_design()
    assert top_under(design.transom, -190, 190) == 0.0
    assert top_under(design.transom, -330, 330) == 0.0
    assert top_under(design.transom, -190, 331) == 60.0
    assert top_under(design.transom, 800, 900) == -math.inf


def test_what_is_not_measured_is_named():
    with pytest.raises(Unmeasured) as missing:
        faces(replace(transom(), thickness=Thickness(top=None, low=44.0, low_at=-250.0)))
    assert missing.value.key == "transom.thickness.top"


def test_rake_and_cut_are_asked_for_only_where_they_matter():
    """A square hole's exit needs neither rake nor top cut; the inside edge needs both where the cut is level."""
    face = faces(transom(rake=None))
    assert exit_of(face, 0.0, -200.0, 0.0).w == -200.0
    with pytest.raises(Unmeasured, match=r"transom\.rake"):
        _ = face.edge_w
    with pytest.raises(Unmeasured, match=r"transom\.top_cut"):
        _ = faces(transom(cut=None)).edge_w
    assert faces(transom(cut="square", rake=None)).edge_w == 0.0
