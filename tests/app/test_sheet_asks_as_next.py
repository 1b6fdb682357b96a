"""The measuring sheet and *Next* ask the same: each question in the same order, in the same words, with the same picture."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from app.card.one_press_group import group_of
from app.card.question import question
from app.document.examples import demonstrations
from app.entries.typed_entries import typed_again
from geometry.asking.next_question import Asked, next_question
from geometry.asking.question_order import OLD_HOLES
from geometry.decide.ladder import rungs
from geometry.doubt import spreads
from geometry.doubt.spreads import with_spreads
from geometry.edits.confirm_or_buy import bought, confirmed, parts
from geometry.edits.edits import set_units
from geometry.judge.check import check
from geometry.readings.figures_in_sentences import figure
from geometry.readings.measures import measure
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Mark, Text
from templates_out.drawing.sheet_figures import printed
from templates_out.pages.measuring.measuring_items import items
from templates_out.pages.measuring.measuring_pages import _picture
from templates_out.pictures.reading_picture import reading_picture
from tests.designs import all_guesses, sure

if TYPE_CHECKING:
    from geometry.design.design import Design
    from templates_out.pages.measuring.measuring_items import Item

BOATS = tuple(demonstrations())
MOST = 30  # questions before all depends on the chances
NBSP = "\N{NO-BREAK SPACE}"


def unread(name: str) -> Design:
    """Return a demonstration boat of which nothing was read yet, and nobody looked for old holes."""
    return replace(all_guesses(demonstrations()[name]), old_holes=(), inside_blocks=(), look_for_holes=True)


def asked_by_next(design: Design) -> list[tuple[str, str]]:
    """Return key and title of each question until the chances are needed. A reading is typed, a group is pressed."""
    asked: list[tuple[str, str]] = []
    for _ in range(MOST):
        step = next_question(check(design), Asked())
        if step.kind == "wait":
            return asked
        group = group_of(design, 0, step.key)
        if step.key == OLD_HOLES:
            asked.append((OLD_HOLES, sure(group).title))
            design = replace(design, look_for_holes=False)
            continue
        asked.append((step.key, group.title if group is not None else sure(question(design, step.key)).title))
        mount = int(step.key.split(".")[1]) if step.key.startswith("mounts.") else 0
        if group is not None and group.name.startswith("parts."):
            design = bought(design, [row for pair in ("lower", "upper") for row in parts(design, mount, pair)])
        else:
            keys = (step.key,) if group is None else group.keys
            design = confirmed(design, [sure(measure(design, key)) for key in keys])
    raise AssertionError(asked)


def asked_late(design: Design) -> list[tuple[str, str]]:
    """Return kind and key of each question once the first ones are answered, until no reading is asked for."""
    asked: list[tuple[str, str]] = []
    again: tuple[str, ...] = ()
    for _ in range(MOST):
        checked = with_spreads(check(design))
        step = next_question(checked, Asked(0, tuple(rungs(design, 0)), again))
        if step.kind in ("move", "lower"):
            design = sure(step.step).best.design
            continue
        if step.kind not in ("reading", "again"):
            return asked
        asked.append((step.kind, step.key))
        row = sure(measure(design, step.key))
        if step.kind == "again":
            again = (*again, step.key)
            design = typed_again(design, step.key, figure(design, row, sure(row.get(design))))
        else:
            design = confirmed(design, [row])
    raise AssertionError(asked)


def answered(design: Design) -> Design:
    """Return a boat with an answer to each question that comes before the chances."""
    for key, title in asked_by_next(design):
        if key == OLD_HOLES:
            design = replace(design, look_for_holes=False)
        elif title == "Washers, nuts and tools":
            design = bought(design, [row for pair in ("lower", "upper") for row in parts(design, 0, pair)])
        else:
            group = group_of(design, 0, key)
            keys = (key,) if group is None else group.keys
            design = confirmed(design, [sure(measure(design, each)) for each in keys])
    return design


def _on_sheet(listed: tuple[Item, ...], key: str) -> int:
    """Return the place of a question on the sheet: by its picture, or by the key of a reading in it."""
    return next(at for at, item in enumerate(listed) if item.pictured == key or key in item.keys)


def _place(listed: tuple[Item, ...], key: str) -> int:
    pattern = ".bracket." in key
    return _on_sheet(listed, f"pattern.{key.split('.')[1]}" if pattern else key)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("name", BOATS)
def test_the_sheet_has_the_questions_of_next_in_its_order_and_words(name: str, unit: str) -> None:
    """Every question before the chances, for every demonstration boat, in both units, with the shapes among them."""
    design = set_units(unread(name), "mm" if unit == "mm" else "in")
    listed, asked = items(design), asked_by_next(design)
    assert len(asked) >= 5, "readings, pattern or parts, old holes"
    bought_now = [key for key, title in asked if title == "Washers, nuts and tools"]
    on_paper = [(_place(listed, key), title) for key, title in asked if key not in bought_now]
    assert [at for at, _ in on_paper] == sorted(at for at, _ in on_paper), asked
    for at, title in on_paper:
        assert listed[at].name == writable(title)


def test_a_plates_corners_are_asked_for_with_its_thickness_before_the_old_holes() -> None:
    """The runabout's lower backing plate is a guess: Next asks for it with the parts, and so does the sheet."""
    design = unread("thrice-drilled-runabout")
    plate = "mounts.0.lower_hardware.backing_plate.outline"
    asked = [key for key, _ in asked_by_next(design)]
    assert asked.index(plate) < asked.index(OLD_HOLES)
    listed = items(design)
    assert _place(listed, "mounts.0.bracket.rows.half_spacing") < _place(listed, plate) < _place(listed, OLD_HOLES)
    assert listed[_place(listed, plate)].section == "Hardware"


@pytest.mark.parametrize("name", ["shallow-well-skiff", "tapered-work-boat"])
def test_what_next_asks_late_has_a_blank_and_a_second_one_where_it_is_read_again(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The work boat's floors are read twice. Two values that one answer gives have two blanks."""
    monkeypatch.setattr(spreads, "DRAWN", 200)
    design = unread(name)
    listed, late = items(design), asked_late(answered(design))
    assert len(late) >= 4
    for kind, key in late:
        alike = key.replace(".lower_hardware.", ".upper_hardware.")  # one blank for both pairs
        item = next(each for each in listed if key in (each.pictured, *each.keys) or alike in each.keys)
        assert len(item.blanks) >= (2 if kind == "again" else 1), (kind, key)
    assert ("again" in {kind for kind, _ in late}) == (name == "tapered-work-boat")


@pytest.mark.parametrize("name", BOATS)
def test_a_reading_with_a_picture_and_the_place_of_an_old_hole_can_be_written_twice(name: str) -> None:
    """Any of them may decide alone, and is then read once more, blind."""
    for item in items(demonstrations()[name]):
        words = [blank.word for blank in item.blanks]
        if item.pictured and item.pictured != OLD_HOLES and not item.pictured.startswith("pattern."):
            assert words[-2:] in (["once", "again"], ["first", "turned"]), item.name
        if item.keys and item.keys[0].startswith("old_holes."):
            assert {"across again", "down again"} <= {*words}


@pytest.mark.parametrize("name", BOATS)
def test_a_question_is_answered_in_the_same_way_with_the_same_picture(name: str) -> None:
    """The sheet says write where the window says type. Its small picture has no words but the mark for what is read."""
    design = unread(name)
    for item in items(design):
        asked = question(design, item.pictured) if item.pictured else None
        if asked is None:
            continue
        said = printed(asked.how).replace("Or type", "Or write").replace("Type a", "Write a").replace(NBSP, " ")
        assert item.how.replace(NBSP, " ") == said
        window = [mark for mark in reading_picture(design, item.pictured, 37.0, 26.0) if not isinstance(mark, Text)]
        sheet: list[Mark] = [mark for mark in _picture(design, item.pictured) if not isinstance(mark, Text)]
        assert sheet == window
