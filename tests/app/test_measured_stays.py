"""Measured parts can't be dragged: each part of the face, by pointer and arrow keys, without a screen."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from app.entries.typed_entries import typed
from app.tools.corners import inserted, loosened, removed
from app.tools.drag import Drag
from app.tools.handles import Grip, edge_grips, grips
from app.tools.pointer_tool import PointerTool
from assets import design_text
from geometry.design.design import Design
from geometry.design_text import from_text
from geometry.edits.additions import add_fitting
from geometry.edits.edits import set_units
from geometry.edits.moving_by_hand import MeasuredError
from geometry.errors import OwnerError
from geometry.readings.measures import measure, measures, put_path, state_of
from tests.designs import all_guesses

STEP = 25.4 / 16  # mm


def skiff() -> Design:
    """The demonstration boat: its floor was read at both sides, its outline and old holes have no reading at all."""
    return from_text(design_text("shallow-well-skiff"))


def with_everything() -> Design:
    """The boat with old holes, and a fitting and a block on it."""
    design = add_fitting(from_text(design_text("thrice-drilled-runabout")), ((250.0, -300.0), (300.0, -300.0), (300.0, -250.0)))
    fitting = {key: reading for key, reading in design.readings.items() if not key.startswith("outside_fittings")}
    return replace(design, inside_blocks=skiff().inside_blocks, readings=fitting)


def grip(design: Design, part: str) -> Grip:
    return next(grip for grip in (*grips(design, 0), *edge_grips(design)) if grip.part == part)


def pulled(design: Design, part: str, du: float, dv: float) -> Drag:
    held = grip(design, part)
    return Drag(design, held, held.at).to((held.at[0] + du, held.at[1] + dv), hold=0.0)


THINGS = (
    "outline corner 0", "outline edge 3", "profile corner 0", "profile corner 1", "profile corner 2", "profile edge 0",
    "profile edge 1", "profile edge 2", "old hole 0", "block 0", "fitting 0", "bracket:0 corner 2", "bracket:0 corner 5",
)  # fmt: skip


@pytest.mark.parametrize("way", [(30.0, 0.0), (0.0, -30.0), (-12.0, 9.0)])
@pytest.mark.parametrize("part", THINGS)
def test_no_pull_moves_what_was_measured(part: str, way: tuple[float, float]) -> None:
    """An edge moves only square to itself: a pull along it is no move."""
    design = with_everything()
    last = pulled(design, part, *way).last
    assert last is not None
    assert last.design == design
    if " edge " not in part:
        assert ", measured: " in last.said or ", measured. " in last.said
        assert last.label == ""


@pytest.mark.parametrize("part", THINGS)
def test_no_arrow_moves_what_was_measured(part: str) -> None:
    design = with_everything()
    for way in ((0, 1), (1, 0), (-1, -1)):
        hand = PointerTool()
        for _ in range(3):
            moved = hand.push(design, grip(design, part), way, 10)
            assert moved is not None
            assert moved.design == design
        ended = hand.end_push()
        assert ended is None or ended.design == design  # an edge moved along itself is no move


@pytest.mark.parametrize("part", THINGS)
def test_a_guess_is_dragged_and_stays_a_guess(part: str) -> None:
    """Its reading says where it has been put: text and value are those of the thing, and nothing became measured."""
    design = all_guesses(with_everything())
    states = {entry.key: state_of(design, entry) for entry in measures(design)}
    pulls = [pulled(design, part, *way).last for way in ((6.35, 0.0), (0.0, -6.35))]
    moved = [last for last in pulls if last is not None and last.design != design]
    assert moved
    for last in moved:
        assert last.label
        assert {entry.key: state_of(last.design, entry) for entry in measures(last.design)} == states
        for entry in measures(last.design):
            reading = last.design.readings.get(entry.key)
            if reading is not None and entry.kind != "shape":
                assert reading.value == pytest.approx(entry.get(last.design), abs=1e-6), entry.key


@pytest.mark.parametrize(
    ("part", "way", "said"),
    [
        ("profile edge 1", (0.0, -30.0), "Floor depth at starboard, measured: 10 5/8 in. Type a new reading on the card."),
        ("profile corner 1", (0.0, -30.0), "Floor depth at port, measured: 10 7/16 in. Type a new reading on the card."),
        ("profile corner 2", (0.0, -30.0), "Floor depth at starboard, measured: 10 5/8 in. Type a new reading on the card."),
        ("profile corner 0", (0.0, 30.0), "Width at the top, measured: 21 in. Type a new reading on the card."),
        ("bracket:0 corner 5", (0.0, 30.0), "Bracket corner 2, down, measured: 4 3/4 in. Type a new reading on the card."),
    ],
)  # fmt: skip
def test_the_thing_and_its_value_are_named(part: str, way: tuple[float, float], said: str) -> None:
    last = pulled(skiff(), part, *way).last
    assert last is not None
    assert last.said == said
    entry = measure(skiff(), last.entry)
    assert entry is not None
    assert said.startswith(entry.name)


def test_an_outline_names_its_corner_and_the_way_out() -> None:
    """An outline has no entry to type its corners in: an edge's length is typed, or it is counted as a guess."""
    last = pulled(skiff(), "outline corner 4", 20.0, 0.0).last
    assert last is not None
    assert skiff().transom.outline[4] == (330.2, 76.2)  # 13 in across, 3 in up
    assert last.said == (
        "Transom corner 5, measured: 13 in across, 3 in up. Type an edge’s length, or count it as a guess in its menu."
    )


def test_a_floor_measured_at_one_side_stays_there_and_its_guessed_width_is_free() -> None:
    """A pull along the floor changes only the width, a guess, at both sides; one down changes the depth, which was typed."""
    design = typed(all_guesses(skiff()), "well.floor_port", "9 1/2")
    across = pulled(design, "profile corner 1", 2 * STEP, 0.0).last
    assert across is not None
    port, width = measure(design, "well.floor_port"), measure(design, "well.floor_width")
    assert port is not None
    assert width is not None
    assert port.get(across.design) == pytest.approx(241.3, abs=1e-6)
    assert width.get(across.design) == pytest.approx((width.get(design) or 0.0) - 4 * STEP, abs=2 * STEP)
    assert across.design.readings["well.floor_width"].state == "guess"
    down = pulled(design, "profile corner 1", 0.0, -30.0).last
    assert down is not None
    assert down.design == design
    assert down.entry == "well.floor_port"


def test_what_could_be_moved_is_kept_when_the_pull_turns_to_what_was_measured() -> None:
    design = typed(all_guesses(skiff()), "well.floor_port", "9 1/2")
    held = grip(design, "profile corner 1")
    u, v = held.at
    first = Drag(design, held, held.at).to((u + 25.4, v), hold=0.0)
    second = first.to((u + 25.4, v - 40.0), hold=0.0)
    assert first.last is not None
    assert second.last is not None
    assert second.last.design == first.last.design
    assert second.last.entry == "well.floor_port"
    back = second.to((u + 50.8, v), hold=0.0)
    assert back.last is not None
    assert back.last.entry == ""


def test_a_decision_can_be_dragged_with_any_measured_values() -> None:
    design = skiff()
    for part in ("upper port hole:0", "lower port hole:0", "bracket:0"):
        last = pulled(design, part, 0.0, -12.7).last
        assert last is not None
        assert last.label
        assert last.design != design
    hook = grip(design, "saddle:0")
    rows = design.mounts[0].bracket.rows
    assert rows is not None
    moved = Drag(design, hook, hook.at).to((hook.at[0], hook.at[1] - rows.pitch)).last
    assert moved is not None
    assert moved.design.mounts[0].row != design.mounts[0].row


def test_confirmed_and_bought_are_no_guesses_either() -> None:
    design = all_guesses(skiff())
    for state in ("confirmed", "to buy"):
        kept = replace(design.readings["well.floor_port"], state=state)
        fixed = replace(design, readings={**design.readings, "well.floor_port": kept})
        last = pulled(fixed, "profile corner 1", 0.0, -30.0).last
        assert last is not None
        assert last.design == fixed
        assert last.said.startswith(f"Floor depth at port, {state}: 10 7/16 in.")


def test_the_words_are_in_the_chosen_unit() -> None:
    last = pulled(set_units(skiff(), "mm"), "profile corner 1", 0.0, -30.0).last
    assert last is not None
    assert last.said.startswith("Floor depth at port, measured: 265.1 mm.")


@pytest.mark.parametrize("part", ["outline", "profile"])
def test_no_corner_is_put_into_a_measured_shape_or_taken_out_by_hand(part: str) -> None:
    design = skiff()
    edge, corner = grip(design, f"{part} edge 1"), grip(design, f"{part} corner 1")
    with pytest.raises(MeasuredError):
        inserted(design, edge, edge.at, alike=None)
    with pytest.raises(MeasuredError):
        removed(design, corner, alike=None)
    step = loosened(design, corner)
    assert step is not None
    assert step.label == ("Transom’s outline counted as a guess" if part == "outline" else "Well’s line counted as a guess")
    assert (step.design.transom, step.design.well) == (design.transom, design.well)
    assert inserted(step.design, edge, (edge.at[0] + 20.0, edge.at[1]), alike=False) is not None
    assert loosened(step.design, corner) is None


def test_counted_as_a_guess_it_keeps_how_it_was_read_and_can_be_dragged() -> None:
    design = skiff()
    rule = replace(design.readings["well.floor_port"], how="rule")
    design = replace(design, readings={**design.readings, "well.floor_port": rule})
    step = loosened(design, grip(design, "profile corner 1"))
    assert step is not None
    reading = step.design.readings["well.floor_port"]
    assert (reading.state, reading.text, reading.value, reading.how) == ("guess", "10 7/16", 265.1125, "rule")
    floor = ("well.floor_", "well.top_")
    others = {key: reading for key, reading in step.design.readings.items() if not key.startswith(floor)}
    assert others == {key: reading for key, reading in design.readings.items() if not key.startswith(floor)}
    last = pulled(step.design, "profile corner 1", 0.0, -12.7).last
    assert last is not None
    assert last.label == "Well corner 2 moved"


def test_a_measured_thing_says_so_though_it_could_not_be_there_anyway() -> None:
    last = pulled(skiff(), "profile corner 1", 4000.0, 0.0).last
    assert last is not None
    assert ", measured: " in last.said


def test_a_hole_with_one_reading_typed_moves_the_other_way_only() -> None:
    design = all_guesses(with_everything())
    design = typed(design, "old_holes.0.down", "10")
    across = pulled(design, "old hole 0", 12.7, 0.0).last
    down = pulled(design, "old hole 0", 0.0, 12.7).last
    assert across is not None
    assert down is not None
    assert across.label
    assert down.design == design
    assert down.entry == "old_holes.0.down"


def test_a_corner_with_no_value_at_all_is_no_fault() -> None:
    design = put_path(skiff(), "well.profile", ((-266.7, 0.0), (-254.0, None), (254.0, None), (266.7, 0.0)))
    for grip in (*grips(design, 0), *edge_grips(design)):
        try:
            Drag(design, grip, grip.at).to((grip.at[0] + 10.0, grip.at[1] - 10.0))
        except OwnerError as sentence:  # pragma: no cover
            pytest.fail(str(sentence))
