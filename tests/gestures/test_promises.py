"""Lengths of bolts that fit, the sources of loads, and slots, blocks and parts that are edited by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QLabel

from app.entries.card_items import Said, items
from app.tools.handles import grips
from app.window.main_window import MainWindow
from geometry.edits import additions
from geometry.edits.edits import confirm
from tests.designs import IN, changed, sure
from tests.gestures.conftest import chosen, pixel, place
from tests.gestures.test_card_choices import LOWER, choose, press
from tests.gestures.test_deciding import compare_page
from tests.gestures.test_typing import typed
from tests.reference.test_trade_boats import blind, skiff

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from geometry.design.design import Design
    from geometry.design.hardware import Hardware

SLOTS = "mounts.0.bracket.lower.slots"


def said(window: MainWindow, section: int, key: str) -> str:
    """Return a short text of the card, which is open at its section."""
    window.document.set_view_state(replace(window.document.view_state, section=section))
    shown = items(window.document.design, 0, section)
    text = next(item.text for item in shown if isinstance(item, Said) and item.key == key)
    labels = [label.text() for label in window.card.findChildren(QLabel) if label.isVisibleTo(window.card)]
    assert text in labels
    return text


def test_the_card_shows_which_lengths_of_bolt_fit(opened: Callable[[Design], MainWindow]) -> None:
    """By hand: grip 2.868 in, nut 0.61 and two threads 0.154 give 3.632; the thread of 1 1/4 in ends at 4.118."""
    window = opened(blind(6.5))
    text = said(window, 8, "mounts.0.lower_hardware.length.window")
    assert text == "Any length from 3 11/16 in to 4 1/16 in fits. Stock: 3 3/4 in or 4 in."
    thick = changed(blind(6.5), mounts__0__lower_hardware__washer__thickness=None)
    window.document.commit("Not known", thick)
    text = said(window, 8, "mounts.0.lower_hardware.length.window")
    assert text == "Lengths that fit: not calculated. Measure the lower washer, thickness first."


def test_the_comparison_names_the_source_of_each_load(opened: Callable[[Design], MainWindow]) -> None:
    window = opened(changed(skiff(), mounts__0__thrust=2000.0, mounts__0__centre_aft=None, mounts__0__mass=100.0))
    page = compare_page(window)
    text = next(label.text() for label in page.findChildren(QLabel) if "The pulls are" in label.text())
    assert "Thrust 450 lbf: entered." in text  # 2000 N over 4.448 N
    assert "Weight 220 lb: entered." in text
    usual = "10 to 16 in (250 to 400 mm) aft of the bracket, common practice."
    assert f"Balance point 12 in aft of the transom: {usual}" in text
    assert "Shock 3: our assumption." in text
    window.document.commit("No weight", changed(window.document.design, mounts__0__mass=None))
    assert not any("The pulls are" in label.text() for label in page.findChildren(QLabel))


def test_boat_nines_bracket_is_made_by_hand(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    """Four holes above, and round holes at 8 and 8 3/4 in below them: the trade's boat 9, from the usual fixed holes."""
    window = opened(skiff())
    choose(qtbot, window, "choice.bracket", "Four bolts, fixed lower holes")
    assert len(sure(window.document.design.mounts[0].bracket.lower).slots) == 5
    for number in (4, 2, 2):  # what was the 4th hole is the 3rd, once that is gone
        press(qtbot, window, f"{SLOTS}.{number}.off")
    typed(qtbot, window, "mounts.0.bracket.rows.count", "4")
    held, boat_nine = window.document.design.mounts[0].bracket, blind(6.5).mounts[0].bracket
    for mine, theirs in zip(sure(held.lower).slots, sure(boat_nine.lower).slots, strict=True):
        assert mine == pytest.approx(theirs, abs=1e-6)
    assert sure(held.rows).count == 4
    assert window.document.undo_label == "Number of upper holes to 4"
    assert not [key for key in window.document.design.readings if key.startswith((f"{SLOTS}.2", f"{SLOTS}.3"))]


def test_a_slot_is_added_removed_and_undone(qtbot: QtBot, window: MainWindow) -> None:
    """By hand: the slot from 8 to 11 in and a pitch of 3/4 in below it begin the next one at 11 3/4 in; it ends at 14 3/4."""
    before = window.document.design
    window.document.set_view_state(replace(window.document.view_state, section=5))
    assert window.card.act(f"{SLOTS}.0.off") is None  # a bracket has at least one
    press(qtbot, window, f"{SLOTS}.add")
    assert slots(window) == [(8.0, 11.0), (11.75, 14.75)]
    assert window.document.design.readings[f"{SLOTS}.1.0"].state == "guess"
    typed(qtbot, window, f"{SLOTS}.1.0", "12")
    press(qtbot, window, f"{SLOTS}.0.off")
    assert slots(window) == [(12.0, 14.75)]
    assert window.document.design.readings[f"{SLOTS}.0.0"].text == "12"  # the reading went along
    for _ in range(3):
        window.document.undo()
    assert window.document.design == before


def slots(window: MainWindow) -> list[tuple[float, ...]]:
    """Return the slots [in], to 1e-6."""
    return [tuple(round(side / IN, 6) for side in slot) for slot in sure(window.document.design.mounts[0].bracket.lower).slots]


def test_heads_spacers_material_and_swing_are_chosen_and_typed(qtbot: QtBot, window: MainWindow) -> None:
    choose(qtbot, window, f"{LOWER}.head", "Own sizes")
    typed(qtbot, window, f"{LOWER}.head_sizes.flats", "13/16")
    typed(qtbot, window, f"{LOWER}.head_sizes.height", "3/8")
    head = lower(window).head_sizes
    assert head is not None
    assert (head.flats, head.height) == pytest.approx((13 / 16 * IN, 3 / 8 * IN))
    choose(qtbot, window, f"{LOWER}.spacer", "A sleeve")
    typed(qtbot, window, f"{LOWER}.spacer.length", "1/2")
    assert sure(lower(window).spacer).length == pytest.approx(12.7)
    assert any(f.check == "washer" for f in window.document.checked.findings)
    choose(qtbot, window, f"{LOWER}.plate", "A backing plate under")
    choose(qtbot, window, f"{LOWER}.material", "Type 316 stainless")
    assert sure(lower(window).backing_plate).material == "A4 stainless"
    choose(qtbot, window, f"{LOWER}.tool", "Box-end wrench")
    typed(qtbot, window, f"{LOWER}.spanner.swing", "60")
    assert sure(lower(window).spanner).swing == 60.0
    choose(qtbot, window, f"{LOWER}.spacer", "No spacers")
    choose(qtbot, window, f"{LOWER}.head", "As the bolt")
    assert lower(window).spacer is None
    assert lower(window).head_sizes is None
    assert not [key for key in window.document.design.readings if ".spacer." in key or ".head_sizes." in key]


def lower(window: MainWindow) -> Hardware:
    return sure(window.document.design.mounts[0].lower_hardware)


@pytest.mark.parametrize(("kind", "field"), [("block", "inside_blocks"), ("fitting", "outside_fittings")])
def test_a_drawn_parts_corners_are_dragged_typed_and_removed(qtbot: QtBot, window: MainWindow, kind: str, field: str) -> None:
    add = additions.add_block if kind == "block" else additions.add_fitting
    ring = ((60.0, -60.0), (110.0, -60.0), (110.0, -110.0), (60.0, -110.0))
    bare = replace(window.document.design, **{field: ()})
    window.document.new(add(bare, ring))

    def corners() -> list[tuple[float, float]]:
        return [(round(u, 3), round(v, 3)) for u, v in getattr(window.document.design, field)[0].outline]

    grip = next(each for each in grips(window.document.design, 0) if each.part == f"{kind} 0 corner 2")
    start = place(window, *grip.at)
    qtbot.mousePress(window.face, Qt.MouseButton.LeftButton, pos=start)
    for by in (8, 20):
        qtbot.mouseMove(window.face, start + QPoint(by, by))
    qtbot.mouseRelease(window.face, Qt.MouseButton.LeftButton, pos=start + QPoint(20, 20))
    moved = corners()
    assert [at for number, at in enumerate(moved) if number != 2] == [at for number, at in enumerate(ring) if number != 2]
    assert moved[2][0] == pytest.approx(110.0 + 20 * pixel(window), abs=IN / 16)
    assert moved[2][0] / IN * 16 == pytest.approx(round(moved[2][0] / IN * 16), abs=1e-3)
    assert moved[2][1] < -110.0
    assert window.document.undo_label == f"{kind.capitalize()} 1, corner 3 moved"
    chosen(window, f"{kind} 0 corner 2")
    qtbot.keyClick(window.face, Qt.Key.Key_Return)  # Enter leads to its entry
    key = f"{field}.0.outline.2"
    qtbot.waitUntil(sure(window.card.entry(f"{key}.0")).field.hasFocus)
    typed(qtbot, window, f"{key}.0", "5")
    typed(qtbot, window, f"{key}.1", "6")
    assert corners()[2] == (127.0, -152.4)
    chosen(window, f"{kind} 0 corner 1")
    qtbot.keyClick(window.face, Qt.Key.Key_Delete)
    assert corners() == [ring[0], (127.0, -152.4), ring[3]]
    chosen(window, f"{kind} 0 corner 1")
    qtbot.keyClick(window.face, Qt.Key.Key_Delete)  # two corners are no shape
    assert len(corners()) == 3
    chosen(window, f"{kind} 0")
    qtbot.keyClick(window.face, Qt.Key.Key_Return)
    qtbot.waitUntil(sure(window.card.entry(f"{field}.0.stands_out")).field.hasFocus)


def test_a_measured_block_stays_until_it_counts_as_a_guess(qtbot: QtBot, window: MainWindow) -> None:
    block = window.document.design.inside_blocks[0]
    key = "inside_blocks.0.outline"
    window.document.new(confirm(window.document.design, key))
    grip = next(each for each in grips(window.document.design, 0) if each.part == "block 0 corner 0")
    start = place(window, *grip.at)
    qtbot.mousePress(window.face, Qt.MouseButton.LeftButton, pos=start)
    for by in (8, 20):
        qtbot.mouseMove(window.face, start - QPoint(by, 0))
    qtbot.mouseRelease(window.face, Qt.MouseButton.LeftButton, pos=start - QPoint(20, 0))
    assert window.document.design.inside_blocks[0] == block


def test_a_backing_plates_outline_is_typed(qtbot: QtBot, window: MainWindow) -> None:
    choose(qtbot, window, f"{LOWER}.plate", "A backing plate under")
    wide = 8.5 * IN
    for corner, sign in ((0, "-"), (3, "-"), (1, ""), (2, "")):
        typed(qtbot, window, f"{LOWER}.backing_plate.outline.{corner}.0", f"{sign}8 1/2")
    across = [u for u, _ in sure(lower(window).backing_plate).outline]
    assert across == pytest.approx([-wide, wide, wide, -wide])
