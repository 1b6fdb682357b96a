"""Edges given a length and corners rounded: checked against the circle's own area, and against what a tape would read."""

from __future__ import annotations

import math
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from app.tools.handles import edge_grips
from app.tools.typed_figure import TypedFigure
from assets import design_text
from geometry.design.validity import NonsenseError, known
from geometry.design_text import from_text
from geometry.edits.additions import add_block, add_fitting
from geometry.edits.moving_by_hand import measures_of
from geometry.edits.sketching import (
    draw_outline,
    draw_well,
    insert_corner,
    move_edge,
    remove_corner,
    round_corner,
    set_edge_length,
)
from geometry.readings.measures import measure, put_path, state_of
from tests.designs import all_guesses, example_design, sure

CLOSE = 1e-9  # mm
SAG = 0.5  # mm that a rounded corner may fall short of the circle


def area(ring) -> float:
    return abs(math.fsum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))) / 2


def with_well(*profile):
    return put_path(example_design(), "well.profile", tuple(profile))


def profile(design) -> list[tuple[float, float]]:
    corners = known(design.well.profile)
    assert corners is not None
    return corners


def turned_by_radius(ring, corner) -> tuple[float, float]:
    """Return the corner's angle, and what a round of radius 1 takes: cot(w/2) - (pi - w)/2."""
    at, a, b = ring[corner], ring[corner - 1], ring[(corner + 1) % len(ring)]
    ways = [math.atan2(y - at[1], x - at[0]) for x, y in (a, b)]
    angle = abs((ways[0] - ways[1] + math.pi) % math.tau - math.pi)
    return angle, 1 / math.tan(angle / 2) - (math.pi - angle) / 2


@given(st.floats(5.0, 100.0), st.floats(-60.0, 19.0), st.floats(-200.0, -150.0))
def test_a_rounded_well_holds_no_more_air_than_the_circle_leaves(radius, lean, floor):
    drawn = (-320.0 + lean, 0.0), (-300.0, floor), (300.0, floor), (320.0, 0.0)
    made = profile(round_corner(with_well(*drawn), "well.profile", 1, radius))
    angle, share = turned_by_radius(drawn, 1)
    true = area(drawn) - radius**2 * share
    assert -CLOSE * area(drawn) <= true - area(made) <= SAG * radius * (math.pi - angle) + CLOSE
    assert made[0] == drawn[0]
    assert made[-2:] == list(drawn[-2:])


@pytest.mark.parametrize(("corner", "sign"), [(2, 1.0), (1, -1.0)])  # into the cut-out: wood is added; out of it: taken
def test_a_rounded_outline_holds_no_more_wood_than_the_circle_leaves(corner, sign):
    """Right angles: a round of radius r takes (1 - pi/4) r^2 of the corner, or fills it by as much."""
    design, radius = example_design(), 25.0
    outline = design.transom.outline
    assert turned_by_radius(outline, corner)[0] == pytest.approx(math.pi / 2, abs=CLOSE)
    made = round_corner(design, "transom.outline", corner, radius).transom.outline
    true = area(outline) + sign * (1 - math.pi / 4) * radius**2
    assert -CLOSE * area(outline) <= true - area(made) <= SAG * radius * math.pi / 2


def test_every_point_of_a_round_is_on_its_circle_or_touches_it_from_outside():
    design, radius = with_well((-250.0, 0.0), (-250.0, -240.0), (250.0, -240.0), (250.0, 0.0)), 50.0
    made = profile(round_corner(design, "well.profile", 1, radius, alike=True))
    on_port = [at for at in made if at[0] < 0 and at != (-250.0, 0.0)]
    assert all(math.dist(at, (-200.0, -190.0)) == pytest.approx(radius, abs=CLOSE) for at in on_port)
    assert {(round(-u, 9), round(y, 9)) for u, y in made} == {(round(u, 9), round(y, 9)) for u, y in made}


@pytest.mark.parametrize(
    ("corner", "radius", "refusal"),
    [(1, 0.0, "above 0"), (1, 400.0, "too short"), (0, 10.0, "no corner to round")],
)
def test_what_cannot_be_rounded_is_said(corner, radius, refusal):
    with pytest.raises(NonsenseError, match=refusal):
        round_corner(example_design(), "well.profile", corner, radius)


def test_the_datum_is_not_rounded_away():
    """On a peaked top the corner at the centreline is the datum."""
    peaked = put_path(example_design(), "transom.outline", ((-700, -60), (0, 0), (700, -60), (620, -420), (-620, -420)))
    with pytest.raises(NonsenseError, match="datum"):
        round_corner(peaked, "transom.outline", 1, 50.0)


@given(st.floats(250.0, 700.0))
def test_a_length_is_what_a_tape_reads_and_the_nearer_end_stays(length):
    design = with_well((-320.0, 0.0), (-300.0, -236.0), (300.0, -236.0), (320.0, 0.0))
    made = profile(set_edge_length(design, "well.profile", 2, length))
    assert math.dist(made[2], made[3]) == pytest.approx(length, abs=CLOSE)
    assert made[:3] == profile(design)[:3]
    alike = profile(set_edge_length(design, "well.profile", 2, length, alike=True))
    assert alike[0] == (-alike[3][0], alike[3][1])


def test_an_edge_across_the_centreline_grows_to_both_sides_or_to_starboard():
    design = with_well((-320.0, 0.0), (-300.0, -236.0), (300.0, -236.0), (320.0, 0.0))
    both = profile(set_edge_length(design, "well.profile", 1, 500.0, alike=True))
    assert (both[1], both[2]) == ((-250.0, -236.0), (250.0, -236.0))
    corners = profile(set_edge_length(design, "well.profile", 1, 500.0))
    assert math.dist(corners[1], corners[2]) == pytest.approx(500.0, abs=CLOSE)
    with pytest.raises(NonsenseError, match="1 mm"):
        set_edge_length(design, "well.profile", 1, 0.0)


def read(design, thing):
    """Return the states of what is measured of a thing, by key."""
    return {row.key: state_of(design, row) for row in measures_of(design, (thing,))}


BOX = ((-250.0, 0.0), (-250.0, -240.0), (250.0, -240.0), (250.0, 0.0))
WIDTHS, DEPTHS = ("well.floor_width", "well.top_width"), ("well.floor_port", "well.floor_starboard")


@pytest.mark.parametrize(
    ("corners", "entered", "measured"),
    [
        (BOX, ("clicked",) * 4, set()),
        (BOX, ("clicked", "length", "clicked", "clicked"), {"well.floor_port"}),
        (BOX, ("clicked", "clicked", "length", "clicked"), {"well.floor_width"}),
        (BOX, ("clicked", "length", "length", "clicked"), {"well.floor_port", "well.floor_width"}),
        (BOX, ("clicked", "length", "length", "length"), {"well.floor_port", "well.floor_starboard", "well.floor_width"}),
        (BOX[::-1], ("clicked", "length", "length", "clicked"), {"well.floor_starboard", "well.floor_width"}),
        # A slope that was typed too says where the wall ends both ways; one by eye says neither.
        (((-260.0, 0.0), *BOX[1:]), ("clicked", "length", "clicked", "clicked"), set()),
        (((-260.0, 0.0), *BOX[1:]), ("clicked", "length and slope", "length", "length and slope"),
         {"well.floor_port", "well.floor_starboard", *WIDTHS}),
        # A wall that begins off the top edge says no depth from it; the floor's width is its own.
        (((-250.0, -5.0), *BOX[1:]), ("clicked", "length", "length", "clicked"), {"well.floor_width"}),
        # On a floor that was drawn aslant the depth under a bolt is between two corners.
        ((*BOX[:2], (250.0, -230.0), BOX[3]), ("clicked", "length", "length and slope", "clicked"), {"well.floor_width"}),
    ],
)  # fmt: skip
def test_of_a_drawn_well_only_what_was_typed_is_measured(corners, entered, measured):
    design = draw_well(from_text(design_text("shallow-well-skiff")), corners, entered)
    states = read(design, "well.floor_") | read(design, "well.top_")
    assert {key for key in (*WIDTHS, *DEPTHS) if states[key] == "measured"} == measured
    assert {states[key] for key in {*WIDTHS, *DEPTHS} - measured} <= {"guess"}
    for key in (*WIDTHS, *DEPTHS):
        assert design.readings[key].value == pytest.approx(sure(measure(design, key)).get(design), abs=1e-6)


def test_the_other_half_of_a_well_was_not_measured():
    """Drawn from the centreline to port, the floor's half width and the wall's height typed; starboard follows by itself."""
    half = ((0.0, -240.0), (-250.0, -240.0), (-250.0, 0.0))
    whole = (*half, (250.0, 0.0), (250.0, -240.0))
    design = draw_well(example_design(), whole[2::-1] + whole[:2:-1], ())
    assert set(read(design, "well.profile.").values()) == {"guess"}
    design = draw_well(example_design(), ((-250.0, 0.0), (-250.0, -240.0), (0.0, -240.0), (250.0, -240.0), (250.0, 0.0)),
                       ("clicked", "length", "length"))  # fmt: skip
    states = read(design, "well.profile.")
    measured = {key for key, state in states.items() if state == "measured"}
    assert measured == {"well.profile.0.1", "well.profile.1.0", "well.profile.1.1", "well.profile.2.0"}
    assert set(states.values()) == {"guess", "measured"}


def test_a_well_drawn_again_keeps_no_reading_of_the_one_before():
    before = from_text(design_text("shallow-well-skiff"))
    assert before.readings["well.floor_port"].text == "10 7/16"
    design = draw_well(before, BOX)
    assert {design.readings[key].state for key in (*WIDTHS, *DEPTHS)} == {"guess"}
    assert {key: row for key, row in design.readings.items() if not key.startswith(("well.floor_", "well.top_"))} == {
        key: row for key, row in before.readings.items() if not key.startswith(("well.floor_", "well.top_"))
    }


@pytest.mark.parametrize(
    ("first", "entered", "state"),
    [
        ((0.0, 0.0), ("clicked", "length", "length", "length and slope"), "measured"),
        ((0.0, 0.0), ("clicked", "length", "clicked", "length"), "guess"),
        ((0.0, 0.0), ("clicked", "length", "length", "length"), "guess"),  # the last one's slope was drawn by eye
        ((-10.0, 0.0), ("clicked", "length", "length", "length and slope"), "guess"),  # where it is across, was a click
        ((0.0, 0.0), ("clicked",) * 4, "guess"),
    ],
)
def test_an_outline_is_measured_only_where_every_length_was_typed(first, entered, state):
    half = (first, (-508.0, 0.0), (-508.0, -381.0), (-300.0, -480.0))
    whole = half + tuple((-u, v) for u, v in reversed(half) if u)
    design = draw_outline(from_text(design_text("shallow-well-skiff")), whole, entered)
    assert design.readings["transom.outline"].state == state


def test_blocks_and_fittings_are_drawn_by_eye():
    ring = ((100.0, -100.0), (150.0, -100.0), (150.0, -150.0))
    design = add_fitting(add_block(example_design(), ring), ring)
    assert design.readings["inside_blocks.1.outline"].state == design.readings["outside_fittings.1.outline"].state == "guess"


def test_a_typed_edge_measures_the_distance_that_it_is_and_no_other():
    """The floor's length is its width. A wall's moves the top's width, which was measured: that is refused."""
    design = all_guesses(with_well(*BOX))
    floor = next(grip for grip in edge_grips(design) if grip.part == "profile edge 1")
    done = TypedFigure("length", floor.part, text="19 1/2").key(design, "enter")
    assert done.design is not None
    reading = done.design.readings["well.floor_width"]
    assert (reading.state, reading.text) == ("measured", "19 1/2")
    assert reading.value == pytest.approx(495.3)
    assert done.design.readings["well.floor_port"].state == "guess"
    slanted = from_text(design_text("shallow-well-skiff"))
    wall = TypedFigure("length", "profile edge 0", text="10 1/2").key(slanted, "enter")
    assert wall.design is None
    assert isinstance(wall.tool, TypedFigure)
    assert wall.tool.trouble.startswith("Width at the top, measured: 21 in.")


def test_rounding_a_well_that_is_partly_guessed_says_that_all_of_it_is_a_guess_then():
    """Its corners have new readings, which are guesses where one of the old ones was."""
    design = all_guesses(with_well(*BOX))
    port = replace(design.readings["well.floor_port"], state="measured")
    mixed = replace(design, readings={**design.readings, "well.floor_port": port})
    done = TypedFigure("round", "profile corner 1", text="1").key(mixed, "enter")
    assert done.label == "Well corner 2 rounded by 1 in, and its line is a guess now"
    assert done.design is not None
    assert set(read(done.design, "well.profile.").values()) == {"guess"}
    for whole in (design, replace(design, readings={})):
        plain = TypedFigure("round", "profile corner 1", text="1").key(whole, "enter")
        assert plain.label == "Well corner 2 rounded by 1 in"
        assert plain.design is not None
        assert set(read(plain.design, "well.profile.").values()) == {"guess" if whole is design else "measured"}


OUTLINE: Final = "transom.outline"
WELL: Final = "well.profile"


def ring_of(design, path):
    return design.transom.outline if path == OUTLINE else sure(design.well).profile


def near(points):
    """Return points to compare within 1e-9 mm."""
    return tuple((pytest.approx(u, abs=1e-9), pytest.approx(v, abs=1e-9)) for u, v in points)


def test_a_new_corner_is_on_its_edge_and_its_twin_on_the_other_side():
    """The edge from (700, 60) to (620, -420) has its middle at (660, -180); (48, -8) more is square to it."""
    design = all_guesses(example_design())
    before = design.transom.outline
    alone = insert_corner(design, OUTLINE, 5, (708, -188)).transom.outline
    assert alone == near((*before[:6], (660, -180), *before[6:]))
    both = insert_corner(design, OUTLINE, 5, (708, -188), alike=True)
    assert both.transom.outline == near((*before[:6], (660, -180), *before[6:], (-660, -180)))
    assert remove_corner(both, OUTLINE, 6, alike=True).transom.outline == before
    assert remove_corner(both, OUTLINE, 6).transom.outline == near((*before, (-660, -180)))


def test_a_new_corner_in_an_edge_across_the_centreline_is_alone():
    design = all_guesses(example_design())
    floor = insert_corner(design, WELL, 1, (100, -200), alike=True)
    assert ring_of(floor, WELL) == near(((-320, 0), (-300, -236.03), (100, -236.03), (300, -236.03), (320, 0)))


@pytest.mark.parametrize("at", [(-301, -250), (-400, -236), (301, -250), (500, -236), (-299.1, -236)])
def test_no_new_corner_within_a_millimetre_of_an_end(at):
    with pytest.raises(NonsenseError, match="a corner already"):
        insert_corner(all_guesses(example_design()), WELL, 1, at)


def test_a_floor_moves_down_and_its_ends_slide_along_the_walls():
    """10 down along walls that come in by 20 in 236.03: each end comes in by 200/236.03. Sideways it does not move."""
    moved = ring_of(move_edge(all_guesses(example_design()), WELL, 1, 5.0, -10.0), WELL)
    u = 300 - 200 / 236.03
    assert moved == near(((-320, 0), (-u, -246.03), (u, -246.03), (320, 0)))


@pytest.mark.parametrize("alike", [False, True])
def test_a_wall_moves_square_to_itself_and_its_free_end_goes_along(alike):
    """10 to port: the foot slides 10 along the level floor. The free end moves square to the wall: 10·cos² and -10·cos·sin."""
    long = math.hypot(20, 236.03)
    cos, sin = 236.03 / long, 20 / long
    moved = ring_of(move_edge(all_guesses(example_design()), WELL, 0, -10.0, 0.0, alike=alike), WELL)
    end = (320 + 10 * cos * cos, -10 * cos * sin)
    starboard = ((310, -236.03), end) if alike else ((300, -236.03), (320, 0))
    assert moved == near(((-end[0], end[1]), (-310, -236.03), *starboard))


def test_a_closed_outlines_last_edge_has_neighbours_too():
    """The port side, from (-700, 60) to (-620, -420), moves 8 in: its ends slide along the bulwark and the bottom."""
    design = all_guesses(example_design())
    moved = move_edge(design, OUTLINE, 8, 8.0, 0.0).transom.outline
    assert moved[0] == near([(-692, 60)])[0]
    along = 8 / (1 - 80 / 480 * 100 / 620)  # the bottom falls 100 in 620, the side comes in 80 in 480
    assert moved[8] == near([(-620 + along, -420 - along * 100 / 620)])[0]
    assert moved[1:8] == design.transom.outline[1:8]


def test_the_datums_edge_does_not_move():
    with pytest.raises(NonsenseError, match="datum"):
        move_edge(all_guesses(example_design()), OUTLINE, 2, 0.0, 5.0)
    design = all_guesses(example_design())
    assert move_edge(design, OUTLINE, 2, 5.0, 0.0).transom.outline == near(design.transom.outline)


def test_a_drawn_well_counts_as_measured_from_the_inside_top_edge():
    """Nothing was read yet: the first reading is taken from there, as the card says."""
    bare = replace(example_design(), well=None)
    corners = ((-320.0, 0.0), (-300.0, -236.0), (300.0, -236.0), (320.0, 0.0))
    assert sure(draw_well(bare, corners).well).well_from == "inside top edge"
    kept = draw_well(put_path(example_design(), "well.well_from", "datum"), corners)
    assert sure(kept.well).well_from == "datum"
