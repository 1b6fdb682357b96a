"""Tools without a screen: the parts under a place, and the effect of a drag or a typed text on a design."""

from __future__ import annotations

import math
from contextlib import suppress
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from app.entries.steps import snapped, step
from app.entries.typed_entries import stepped, typed
from app.tools.drag import Drag, both_alike, moved_by
from app.tools.handles import Grip, grips, under
from app.tools.pointer_tool import PointerTool, neighbour, part_at
from assets import design_names, design_text
from geometry.design.design import Design
from geometry.design.validity import NonsenseError
from geometry.design_text import from_text
from geometry.edits.additions import remove_well
from geometry.edits.edits import forget, set_units, with_mount
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.readings.measures import measures
from templates_out.views.cut import Side, cut_rect
from templates_out.views.detail import cut_with_detail
from templates_out.views.face import face_marks
from templates_out.views.viewport import fit, work_rect
from tests.designs import all_guesses

SIXTEENTH = 25.4 / 16  # mm


def boat(name: str = "shallow-well-skiff") -> Design:
    return from_text(design_text(name))


def grip(design: Design, part: str) -> Grip:
    return next(grip for grip in grips(design, 0) if grip.part == part)


@pytest.mark.parametrize("name", design_names())
def test_every_grip_is_under_its_place(name: str) -> None:
    design = boat(name)
    view = fit(work_rect(design), 170.0, 140.0)
    for grip in grips(design, 0):
        assert grip in under(design, view, view.to_paper(grip.at), 0), grip.part


@pytest.mark.parametrize("well", [True, False])
@pytest.mark.parametrize("name", design_names())
def test_whichever_reading_lacks_all_is_drawn_and_grabbed_that_can_be(name: str, well: bool) -> None:
    """Also in a boat without a well, where blocks hang from the inside top edge and a washer can still touch one."""
    design = from_text(design_text(name))
    design = design if well else remove_well(design)
    view = fit(work_rect(design), 170.0, 150.0)
    every = {grip.part for grip in grips(design, 0)}
    for measure in measures(design):
        with suppress(NonsenseError):  # a shape, or the measures of a bracket
            lacking = forget(design, measure)
            assert {grip.part for grip in grips(lacking, 0)} <= every, measure.key
            checked = check(lacking)
            assert face_marks(checked, view), measure.key
            for side in get_args(Side):
                cut_with_detail(checked, fit(cut_rect(lacking, side), 110.0, 90.0), side)


def test_the_top_part_is_taken_first() -> None:
    """Corner before hole before bracket; the bracket hook's handle before all."""
    design = boat()
    view = fit(work_rect(design), 170.0, 140.0)

    def first(part: str) -> str:
        return under(design, view, view.to_paper(grip(design, part).at), 0)[0].part

    assert first("saddle:0") == "saddle:0"
    assert first("lower port hole:0") == "lower port hole:0"
    assert first("profile corner 2") == "profile corner 2"
    near = grip(design, "upper port hole:0").at
    at = view.to_paper((near[0] + 80.0, near[1] - 60.0))
    assert under(design, view, at, 0)[0].part == "bracket:0"


def test_a_chosen_brackets_corners_leave_its_holes_within_reach() -> None:
    """Drawn small, both are within a grab of each other: a press takes the nearer, and a handle where it is drawn."""
    design = with_mount(boat(), 0, row=2)
    view = fit((-800.0, -600.0, 800.0, 120.0), 110.0, 90.0)  # where 42 mm of boat are 11 px
    hole, corner = grip(design, "upper starboard hole:0"), grip(design, "bracket:0 corner 2")
    apart = math.dist(view.to_paper(hole.at), view.to_paper(corner.at))
    assert 1.6 < apart < 3.2
    for target in (hole, corner):
        assert under(design, view, view.to_paper(target.at), 0, "bracket:0")[0] == target
        assert under(design, view, view.to_paper(target.at), 0)[0] == target


def test_there_is_nothing_next_to_the_boat() -> None:
    design = boat()
    view = fit(work_rect(design), 170.0, 140.0)
    assert under(design, view, view.to_paper((0.0, 5000.0)), 0) == ()


@given(st.floats(-40.0, 40.0), st.floats(-40.0, 40.0))
def test_a_pattern_is_never_skewed(du: float, dv: float) -> None:
    """In every drag both pairs keep one centre: the offset is the mount's, the same for upper and lower."""
    design = boat()
    mount = design.mounts[0]
    assert mount.upper_at is not None
    assert mount.drop is not None
    for part in ("upper port hole:0", "lower port hole:0", "bracket:0"):
        moved = moved_by(design, grip(design, part), du, dv).design.mounts[0]
        assert moved.upper_at is not None
        assert moved.drop is not None
        assert moved.bracket == mount.bracket
        if part.startswith("upper"):
            assert moved.upper_at - moved.drop == pytest.approx(mount.upper_at - mount.drop, abs=1e-9)
        if part.startswith("lower"):
            assert moved.upper_at == mount.upper_at
        if part.startswith("bracket"):
            assert moved.drop == mount.drop


def test_a_drag_near_the_centreline_holds_to_it() -> None:
    design = with_mount(boat(), 0, offset=20.0)
    moved = moved_by(design, grip(design, "bracket:0"), -16.0, 0.0, hold=6.0)
    assert moved.design.mounts[0].offset == 0.0
    assert moved.said == "on the centreline"
    free = moved_by(design, grip(design, "bracket:0"), -16.0, 0.0, free=True, hold=0.0)
    assert free.design.mounts[0].offset == 4.0


def test_an_upper_hole_holds_to_an_old_one() -> None:
    design = boat("thrice-drilled-runabout")
    old = next(hole for hole in design.old_holes if hole.name == "old upper port")
    upper_at = design.mounts[0].upper_at
    assert old.at[1] is not None
    assert upper_at is not None
    away = with_mount(design, 0, upper_at=old.at[1] - 30.0)
    moved = moved_by(away, grip(away, "upper port hole:0"), 0.0, 27.0)
    assert moved.design.mounts[0].upper_at == old.at[1]
    assert moved.said == "on old hole"


def test_a_pair_of_old_holes_that_both_upper_holes_meet_is_named() -> None:
    design = boat("thrice-drilled-runabout")
    holes = [replace(hole, at=(hole.at[0], -50.8)) if "upper" in hole.name else hole for hole in design.old_holes]
    away = with_mount(replace(design, old_holes=tuple(holes)), 0, upper_at=-80.0, offset=3.0)
    moved = moved_by(away, grip(away, "upper port hole:0"), -2.0, 27.0)
    assert moved.design.mounts[0].upper_at == -50.8
    assert moved.design.mounts[0].offset == pytest.approx(0.0, abs=1e-9)
    assert moved.said == "both on old holes"


def test_shift_keeps_to_the_longer_axis() -> None:
    design = boat()
    last = Drag(design, grip(design, "bracket:0"), (0.0, 0.0)).to((20.0, -50.8), one_axis=True).last
    assert last is not None
    assert last.design.mounts[0].offset == design.mounts[0].offset
    assert last.design.mounts[0].upper_at != design.mounts[0].upper_at


def test_an_impossible_place_stops_the_part_and_says_why() -> None:
    design = all_guesses(boat())
    held = Drag(design, grip(design, "profile corner 1"), (0.0, 0.0)).to((25.4, 0.0))
    assert held.last is not None
    beyond = held.to((2000.0, 0.0))
    assert beyond.last is not None
    assert beyond.last.design == held.last.design
    assert "It stays where it was." in beyond.last.said


@pytest.mark.parametrize(
    ("part", "up", "why"),
    [
        ("lower port hole:0", 400.0, "The lower holes must be below the upper ones"),
        ("upper port hole:0", -400.0, "The lower holes must be below the upper ones"),
        ("upper port hole:0", 400.0, "The upper holes are below the top edge"),
        ("bracket:0", 400.0, "The upper holes are below the top edge"),
        ("profile corner 1", 400.0, "The well’s floor is below the transom’s top"),
        ("profile corner 1", 4000.0, "No boat reaches so far"),
        ("outline corner 2", 400.0, "All measurements start from the top edge at the centreline"),
    ],
)
def test_why_a_part_stops_is_said_in_the_words_of_who_drags_it(part: str, up: float, why: str) -> None:
    """No key of a file, and no unit but the chosen one."""
    design = all_guesses(boat("cap-lip-launch" if part.startswith("outline") else "tapered-work-boat"))
    last = Drag(design, grip(design, part), (0.0, 0.0)).to((0.0, up)).last
    assert last is not None
    assert last.said == f"{why}. It stays where it was."


def test_a_press_that_hardly_moves_is_a_click() -> None:
    design = boat()
    view = fit(work_rect(design), 170.0, 140.0)
    at = view.to_paper(grip(design, "bracket:0").at)
    hand = PointerTool()
    hand.press(at, part_at(design, view, at, 0, ""))
    assert hand.move(design, view, (at[0] + 0.9, at[1]), free=False, one_axis=False) is None  # 4 px are 1.06 mm
    assert hand.let_go() is None
    hand.press(at, part_at(design, view, at, 0, ""))
    assert hand.move(design, view, (at[0] + 1.2, at[1]), free=False, one_axis=False) is not None
    assert hand.let_go() is not None
    assert not hand.busy


def test_tab_goes_through_all_parts_once() -> None:
    design, part = boat(), ""
    seen: list[str] = []
    while (part := neighbour(design, 0, part, forward=True)) and len(seen) < 100:
        seen.append(part)
    assert seen == [grip.part for grip in grips(design, 0)]
    assert neighbour(design, 0, seen[0], forward=False) == ""


def test_a_dragged_block_shows_how_far_it_moved() -> None:
    design = boat()
    block = grip(design, "block 0")
    assert moved_by(design, block, -38.2, 6.3).figure == f"{block.name}: 1 1/2 in to port, 1/4 in up"
    assert moved_by(design, block, 25.4, 0.0).figure == f"{block.name}: 1 in to starboard"
    assert moved_by(design, block, 0.1, 0.1).figure == block.name


def test_both_sides_alike() -> None:
    outline = ((-100.0, 0.0), (100.0, 0.0), (80.0, -50.0), (0.0, -60.0), (-80.0, -50.0))
    assert both_alike(outline)
    assert not both_alike(((-100.0, 0.0), (101.0, 0.0), (0.0, -60.0)))


@given(st.floats(-1e4, 1e4), st.sampled_from(["in", "mm"]))
def test_snapping_goes_to_the_nearest_step(value: float, unit: str) -> None:
    word = "in" if unit == "in" else "mm"
    nearest = snapped(value, "in" if word == "in" else "mm")
    size = step("in" if word == "in" else "mm")
    assert abs(nearest - value) <= size / 2 + 1e-9
    assert math.isclose(nearest / size, round(nearest / size), abs_tol=1e-6)


def test_steps_are_what_a_tape_shows() -> None:
    assert step("in") == pytest.approx(SIXTEENTH, abs=1e-12)
    assert step("mm") == 1.0


def test_a_step_from_between_goes_to_a_whole_one() -> None:
    design = set_units(with_mount(boat(), 0, drop=184.15), "mm")
    assert stepped(design, "mounts.0.drop", 1).mounts[0].drop == 185.0
    assert stepped(design, "mounts.0.drop", -1).mounts[0].drop == 183.0


@given(st.text(max_size=12))
def test_any_text_gives_a_design_or_the_one_promised_sentence(text: str) -> None:
    design = boat()
    for key in ("mounts.0.drop", "transom.rake", "transom.top_cut", "mounts.0.row", "well.floor_port"):
        try:
            outcome: Design | str = typed(design, key, text)
        except OwnerError as sentence:
            outcome = str(sentence)
        assert outcome, key


def test_a_missing_reading_gives_a_sentence() -> None:
    with pytest.raises(OwnerError):
        typed(replace(boat(), well=None), "well.floor_port", "9")


@pytest.mark.parametrize(("text", "kg"), [("98 kg", 98.0), ("216", 97.97595192), ("216 lb", 97.97595192),
                                          ("216 lbs.", 97.97595192)])  # fmt: skip
def test_a_mass_is_no_length(text: str, kg: float) -> None:
    """216 lb are 216 x 0.45359237 kg (NIST SP 811, appendix B.8: the pound avoirdupois, exact); bare, they go with inches."""
    assert typed(boat(), "mounts.0.mass", text).mounts[0].mass == pytest.approx(kg, abs=1e-9)
    assert typed(set_units(boat(), "mm"), "mounts.0.mass", "98").mounts[0].mass == 98.0
