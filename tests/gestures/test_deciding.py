"""Deciding in the window: find a fit, will it hang low enough, ladders of other hardware, the drillable zone, compare."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QAction, QFontMetrics
from PySide6.QtWidgets import QAbstractButton, QApplication, QCheckBox, QLabel, QWidget

from app.canvas.ghost_overlay import ghost_marks
from app.canvas.pen import SCREEN
from app.deciding.compare_page import ComparePage
from app.deciding.find_fit_panel import FitPanel
from app.deciding.fit_row import FitHead
from app.deciding.fit_text import FitLine
from app.deciding.motor_height_panel import LowEnoughPanel
from app.entries.entry_text import lines
from app.ui.typography import sized
from app.window.main_window import MainWindow
from assets import design_text
from geometry.decide.alternatives import seats
from geometry.design_text import from_text
from geometry.edits.edits import set_units, with_mount
from geometry.judge.check import check
from geometry.readings.measures import put_path
from geometry.solid.placed_bolts import bolts
from geometry.zones.pair_zone import zones
from templates_out.drawing.marks import Text
from templates_out.views.viewport import fit, work_rect
from tests.designs import IN, changed, sure
from tests.gestures.conftest import come_to_rest, place
from tests.reference.test_trade_boats import blind, capped, skiff, tender

if TYPE_CHECKING:
    from collections.abc import Callable

    from pytestqt.qtbot import QtBot

    from geometry.design.design import Design
    from geometry.units.units import Unit

KEYS = {"low": "Ctrl+L", "fit": "Ctrl+F", "compare": "Ctrl+R", "keep": "Ctrl+K", "zone": "Ctrl+D"}


def press(window: MainWindow, name: str) -> None:
    """Do what a key of the menus does."""
    action = next(action for action in window.findChildren(QAction) if action.shortcut().toString() == KEYS[name])
    assert action.isEnabled()
    action.trigger()


def fit_panel(qtbot: QtBot, window: MainWindow) -> FitPanel:
    """Open the search and wait until it is through."""
    press(window, "fit")
    panel = window.aside.panels.currentWidget()
    assert isinstance(panel, FitPanel)
    qtbot.waitUntil(lambda: not panel.busy)
    return panel


def low_panel(window: MainWindow) -> LowEnoughPanel:
    press(window, "low")
    panel = window.aside.panels.currentWidget()
    assert isinstance(panel, LowEnoughPanel)
    return panel


def test_nothing_is_made_before_it_is_wanted(window: MainWindow) -> None:
    kinds = (FitPanel, LowEnoughPanel, ComparePage)
    assert [kind for kind in kinds if window.findChildren(kind)] == []
    for name in ("fit", "low", "compare"):
        press(window, name)
    assert [len(window.findChildren(kind)) for kind in kinds] == [1, 1, 1]


# Find a fit


def test_a_fit_is_seen_as_a_ghost_and_taken_in_one_step(qtbot: QtBot, window: MainWindow) -> None:
    panel, before = fit_panel(qtbot, window), window.document.design
    assert check(before).verdict == "fouled"
    row = panel.rows[1]
    qtbot.mouseClick(row.head, Qt.MouseButton.LeftButton)
    row.head.setFocus()
    assert window.document.view_state.ghost == panel.fits[1].design
    assert window.document.design == before
    qtbot.mouseClick(row.take, Qt.MouseButton.LeftButton)
    assert window.document.design == panel.fits[1].design
    assert check(window.document.design).verdict != "fouled"
    assert [step.label for step in window.document.history.past] == [""]
    # The fits stay, and another one can be taken.
    assert not panel.busy
    assert row.head.accessibleName().find("as it is now") > 0
    qtbot.mouseClick(panel.rows[0].head, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(panel.rows[0].take, Qt.MouseButton.LeftButton)
    assert window.document.design == panel.fits[0].design
    window.document.undo()
    window.document.undo()
    assert window.document.design == before


def test_the_first_come_at_once_and_the_search_can_be_stopped(qtbot: QtBot, window: MainWindow) -> None:
    press(window, "fit")
    panel = window.aside.panels.currentWidget()
    assert isinstance(panel, FitPanel)
    qtbot.waitUntil(lambda: len(panel.fits) >= 1)
    if panel.busy:
        qtbot.mouseClick(panel.stop, Qt.MouseButton.LeftButton)
        count = len(panel.fits)
        come_to_rest()
        assert len(panel.fits) == count
        assert panel.status.text().startswith("Stopped.")
    assert panel.rows[0].isVisible()


def test_another_boat_is_searched_again(qtbot: QtBot, window: MainWindow) -> None:
    panel = fit_panel(qtbot, window)
    window.document.commit("Heavier", with_mount(window.document.design, 0, mass=120.0))
    assert panel.busy
    assert not panel.rows[0].take.isEnabled()  # it belongs to the boat as it was
    qtbot.waitUntil(lambda: not panel.busy)
    assert all(fit.design.mounts[0].mass == 120.0 for fit in panel.fits)
    assert panel.rows[0].take.isEnabled()


def test_what_may_not_be_changed_is_not(qtbot: QtBot, window: MainWindow) -> None:
    panel = fit_panel(qtbot, window)
    assert any(fit.hardware == "washers cut flat" for fit in panel.fits)
    qtbot.mouseClick(panel.options, Qt.MouseButton.LeftButton)
    for name in ("washers", "plate", "bolts"):
        box = panel.boxes[name]
        qtbot.mouseClick(box, Qt.MouseButton.LeftButton, pos=QPoint(8, box.height() // 2))
    qtbot.waitUntil(lambda: not panel.busy)
    assert panel.fits
    assert {fit.hardware for fit in panel.fits} == {"the hardware as it is"}


def test_where_nothing_fits_the_nearest_miss_is_shown(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    design = skiff()
    (a, b, c, d) = sure(design.well).profile
    window = opened(changed(design, well__profile=(a, (b[0], -140.0), (c[0], -140.0), d)))
    panel = fit_panel(qtbot, window)
    assert [fit.fits for fit in panel.fits] == [False]
    assert panel.change.text().startswith("The well’s floor would have to be ")
    assert not panel.rows[0].take.isVisible()


def test_a_reading_that_the_search_needs_is_asked_for(qtbot: QtBot, window: MainWindow) -> None:
    window.document.commit("x", put_path(window.document.design, "well.fillet_radius", None))
    panel = fit_panel(qtbot, window)
    assert panel.measure.isVisible()
    qtbot.mouseClick(panel.measure, Qt.MouseButton.LeftButton)
    entry = sure(window.card.entry("well.fillet_radius"))
    qtbot.waitUntil(entry.field.hasFocus)


def test_escape_and_the_word_go_back_to_the_findings(qtbot: QtBot, window: MainWindow) -> None:
    panel = fit_panel(qtbot, window)
    assert not window.findings.isVisible()
    qtbot.keyClick(panel.rows[0].head, Qt.Key.Key_Escape)
    assert window.findings.isVisible()
    assert window.document.view_state.ghost is None
    fit_panel(qtbot, window)
    qtbot.mouseClick(panel.back, Qt.MouseButton.LeftButton)
    assert window.findings.isVisible()


def test_up_and_down_go_from_find_to_find(qtbot: QtBot, window: MainWindow) -> None:
    panel = fit_panel(qtbot, window)
    panel.rows[0].head.setFocus()
    qtbot.keyClick(panel.rows[0].head, Qt.Key.Key_Down)
    assert panel.rows[1].head.hasFocus()
    assert window.document.view_state.ghost == panel.fits[1].design
    qtbot.keyClick(panel.rows[1].head, Qt.Key.Key_Up)
    qtbot.keyClick(panel.rows[0].head, Qt.Key.Key_Up)
    assert panel.rows[0].head.hasFocus()
    qtbot.keyClick(panel.rows[0].head, Qt.Key.Key_Space)  # the first is open: it closes
    assert not panel.rows[0].take.isVisible()


def test_the_answer_line_leads_to_it(qtbot: QtBot, window: MainWindow) -> None:
    assert window.answer.decide.text() == "Find a fit"
    qtbot.mouseClick(window.answer.decide, Qt.MouseButton.LeftButton)
    assert isinstance(window.aside.panels.currentWidget(), FitPanel)
    assert not window.answer.decide.isVisible()


def test_in_a_narrow_window_the_panel_comes_to_sight(qtbot: QtBot, window: MainWindow) -> None:
    window.resize(683, 384)
    qtbot.waitUntil(lambda: window.columns.narrow)
    panel = fit_panel(qtbot, window)
    assert panel.isVisible()
    window.foot.part.emit("findings")
    assert window.findings.isVisible()


def test_a_title_wraps_before_it_meets_the_clearance(qtbot: QtBot) -> None:
    """In a small screen's panel it takes two lines, in a wide one only one."""
    head = FitHead()
    qtbot.addWidget(head)
    head.show_line(FitLine("tight", "Drop 7 5/16 in, one hole up", "7/16 in", "", (), ""), opened=True, hung=True)
    metrics = QFontMetrics(sized(strong=True))
    assert head.more_title(600) == 0
    assert head.more_title(302) >= metrics.lineSpacing() - 1
    assert head.heightForWidth(302) == head.heightForWidth(600) + head.more_title(302)
    for width in (275, 302, 600):
        assert 40 + head.title_width(width) + metrics.horizontalAdvance("7/16 in") < width - 16


# Will it hang low enough


def test_the_height_picture_says_more_with_each_reading(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    design = changed(skiff(), well__fillet_radius=None, mounts__0__leg=None)
    window = opened(design)
    panel = low_panel(window)
    assert panel.answer.text() == "Not known yet."
    keys = [line.property("key") for line in panel.missing if line.isVisible()]
    assert keys == ["mounts.0.leg", "well.fillet_radius"]
    window.document.commit("Leg", put_path(design, "mounts.0.leg", 20.25 * IN))
    qtbot.waitUntil(lambda: sure(panel.outcome).down is not None)
    window.document.commit("Corner", put_path(window.document.design, "well.fillet_radius", 0.5 * IN))
    qtbot.waitUntil(lambda: not sure(panel.outcome).missing)
    assert panel.answer.text() == "Yes, with whole washers."
    assert not any(line.isVisible() for line in panel.missing)
    texts = {getattr(mark, "text", "") for mark in panel.picture.marks()}
    assert {"15/16 in", "usual", "bottom"} <= texts  # 24.5 mm are 15.4/16 in


def test_the_missing_reading_leads_to_its_entry(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    window = opened(changed(skiff(), mounts__0__leg=None))
    panel = low_panel(window)
    qtbot.mouseClick(panel.missing[0], Qt.MouseButton.LeftButton)
    entry = sure(window.card.entry("mounts.0.leg"))
    qtbot.waitUntil(entry.field.hasFocus)


# The ladders


def test_the_ladders_of_other_hardware_and_a_rung_with_it(qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.design
    qtbot.mouseClick(window.ladder.head, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: any(rung.isVisible() for rung in window.ladder.rungs))
    qtbot.mouseClick(window.ladder.head.seats["cut"], Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: any(r.accessibleName() == "Drop 8 in, one hole up: tight" for r in window.ladder.rungs))
    assert window.document.design == before  # looking is no step
    rungs = {(round(sure(rung.place[0]), 2), rung.place[1]): rung for rung in window.ladder.rungs}
    rungs[184.15, 1].setFocus()
    assert window.ladder.note.endswith("No longer usable: lowest (AV plate 3/8 in below the bottom).")
    rung = rungs[203.2, 1]
    rung.setFocus()
    note = window.ladder.note
    assert note.startswith("2nd hole from the top (one hole up), drop 8 in: nearest is the lower port washer, 1/16 in to")
    assert "No longer usable" not in note
    qtbot.mouseClick(rung, Qt.MouseButton.LeftButton)
    mount = window.document.design.mounts[0]
    assert mount.drop == pytest.approx(203.2)
    assert mount.row == 1
    assert sure(mount.lower_hardware).washer.flat_cut is not None
    assert len(window.document.history.past) == 1


def test_the_loss_of_holes_is_shown_next_to_the_pointer(qtbot: QtBot, window: MainWindow) -> None:
    half = sure(window.document.design.mounts[0].bracket.lower).half_spacing
    at = place(window, half, -254.0)
    qtbot.mousePress(window.face, Qt.MouseButton.LeftButton, pos=at)
    qtbot.mouseMove(window.face, at - QPoint(0, 12))
    qtbot.mouseMove(window.face, at - QPoint(0, 24))
    drop = window.document.checked.design.mounts[0].drop
    assert sure(drop) < 203.0
    lost = 1 if sure(drop) >= 203.2 - 19.05 - 1e-6 else 2
    assert f"{('no', 'one', 'two')[lost]} hole" in window.face.figure
    qtbot.mouseRelease(window.face, Qt.MouseButton.LeftButton, pos=at - QPoint(0, 24))


# The zone


def test_the_zone_is_drawn_for_the_pattern_and_for_a_pair_in_hand(qtbot: QtBot, window: MainWindow, fitting: Design) -> None:
    window.document.commit("Fits", fitting)
    assert not [mark for mark in window.face.marks() if mark.part == "zone"]
    press(window, "zone")
    qtbot.waitUntil(lambda: window.face.zone.shown is not None)
    assert window.face.zone.shown == zones(fitting).pattern
    assert [mark for mark in window.face.marks() if mark.part == "zone"]
    window.document.set_view_state(replace(window.document.view_state, chosen="lower port hole:0"))
    assert window.face.zone.shown == zones(fitting).lower
    window.document.set_view_state(replace(window.document.view_state, chosen=""))
    qtbot.mouseClick(window.face_head.zone, Qt.MouseButton.LeftButton)
    assert not window.document.view_state.zone
    assert not [mark for mark in window.face.marks() if mark.part == "zone"]


def test_the_zone_follows_a_drag_and_says_where_there_is_none(qtbot: QtBot, window: MainWindow, fitting: Design) -> None:
    window.document.commit("Fits", fitting)
    press(window, "zone")
    moved = with_mount(fitting, 0, drop=175.0)
    window.document.preview(moved)
    qtbot.waitUntil(lambda: window.face.zone.shown == zones(moved).pattern)
    window.document.preview(with_mount(fitting, 0, drop=235.0))
    qtbot.waitUntil(lambda: any(word.startswith("Nowhere") for word in window.face.zone.words))
    window.document.preview(put_path(fitting, "well.fillet_radius", None))
    qtbot.waitUntil(lambda: any("measure the corner radius" in word for word in window.face.zone.words))
    window.document.cancel()


@pytest.mark.parametrize("drop", [203.2, 184.15])
def test_the_key_of_the_zone_leaves_every_bolt_in_sight(qtbot: QtBot, window: MainWindow, drop: float) -> None:
    """With the ladder open the face is low: the key keeps clear of washers, or is shorter."""
    qtbot.mouseClick(window.ladder.head, Qt.MouseButton.LeftButton)
    window.document.commit("Drop", with_mount(window.document.design, 0, drop=drop, row=2))
    press(window, "zone")
    face = window.face
    qtbot.waitUntil(lambda: bool(face.zone.words) and face.view is not None and face.height() < 400)
    board = face.board()
    key = face.zone.key(face.marks(), board.width() / SCREEN, board.height() / SCREEN)
    assert key is not None
    _, (left, bottom), (wide, high) = key
    view = sure(face.view)
    for bolt in bolts(window.document.design):
        x, y = view.to_paper((bolt.u, sure(bolt.v)))
        radius = sure(bolt.hardware.washer.outer) / 2 * view.scale
        assert not (left - radius < x < left + wide + radius and bottom - radius < y < bottom + high + radius), bolt.name
    if drop == 184.15:
        assert "least allowed" in {mark.text for mark in key[0] if isinstance(mark, Text)}


# Texts next to decisions


def test_guesses_are_named_where_they_decide(qtbot: QtBot, window: MainWindow) -> None:
    """Two guesses are left on the demonstration boat; once both are measured nobody speaks of them."""
    sentence = "Based on two guesses."
    assert fit_panel(qtbot, window).guesses.text() == sentence
    assert low_panel(window).guesses.text() == sentence
    assert any(sentence in label.text() for label in compare_page(window).findChildren(QLabel))
    readings = {key: replace(reading, state="measured") for key, reading in window.document.design.readings.items()}
    window.document.commit("Measured", replace(window.document.design, readings=readings))
    assert not any("guess" in label.text() for label in sure(window.face_or_compare.compare).findChildren(QLabel))
    assert not fit_panel(qtbot, window).guesses.isVisible()
    assert not low_panel(window).guesses.isVisible()


def test_pulls_that_are_not_known_say_what_to_type(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    window = opened(changed(skiff(), mounts__0__power_kw=None))
    page = compare_page(window)
    assert page.columns[0].texts[5] == "not known. Type the motor’s power"
    assert page.columns[0].texts[6] == page.columns[0].texts[5]


@pytest.mark.parametrize(("units", "drop", "shown"), [("in", 6.53 * IN, "6 17/32"), ("mm", 165.83, "165.8")])
def test_one_quantity_is_shown_in_one_way_everywhere(
    qtbot: QtBot, window: MainWindow, units: str, drop: float, shown: str
) -> None:
    """Drop and AV plate to 1/32 in or 0.1 mm on card, face and ladder and in the height picture; by hand 6.53·32 = 209."""
    unit: Unit = "in" if units == "in" else "mm"
    window.document.commit("Drop", set_units(with_mount(window.document.design, 0, drop=drop, row=3), unit))
    window.document.set_view_state(replace(window.document.view_state, section=7))
    card = {line.name: line.rest for line in lines(window.document.design, 0, 7)}
    assert card["Drop"] == shown
    face = [mark.text for mark in window.face.marks() if getattr(mark, "part", "") == "measure:mounts.0.drop"
            and isinstance(mark, Text)]  # fmt: skip
    assert face == [f"{shown} {units}"]
    assert f"Drop {shown} {units} " in window.ladder.head.text()
    height = card["AV plate above bottom"]
    assert f"plate {height} {units} above" in window.ladder.head.text()
    texts = {getattr(mark, "text", "") for mark in low_panel(window).picture.marks()}
    assert f"{height} {units}" in texts
    press(window, "low")
    assert compare_page(window).columns[0].texts[4] == f"{height} {units} above the bottom"


# Compare


def compare_page(window: MainWindow) -> ComparePage:
    press(window, "compare")
    page = window.face_or_compare.compare
    assert page is not None
    assert page.isVisible()
    return page


def test_kept_placements_are_side_by_side_and_can_be_taken(qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.design
    press(window, "keep")
    panel = fit_panel(qtbot, window)
    qtbot.mouseClick(panel.rows[0].keep, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(panel.rows[1].head, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(panel.rows[1].keep, Qt.MouseButton.LeftButton)
    assert window.document.design == before
    page = compare_page(window)
    assert len(page.sides) == 3  # the present one is kept, and is there once
    assert [side.checked.design for side in page.sides] == [before, panel.fits[0].design, panel.fits[1].design]
    texts = page.columns[1].texts
    assert texts[0] == "tight"
    assert texts[3] == "2nd to 5th"
    assert texts[5].endswith("lbf")
    qtbot.mouseClick(page.columns[1].take, Qt.MouseButton.LeftButton)
    assert window.document.design == panel.fits[0].design
    assert len(window.document.history.past) == 1
    assert page.sides[0].checked.design == panel.fits[0].design
    assert before in [side.checked.design for side in page.sides]
    count = len(page.sides)
    qtbot.mouseClick(page.columns[1].drop, Qt.MouseButton.LeftButton)
    assert len(page.sides) == count - 1
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert window.face.isVisible()
    assert window.document.view_state.deciding == ""


def test_four_stand_side_by_side_and_no_more(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    window = opened(from_text(design_text("tapered-work-boat")))
    panel = fit_panel(qtbot, window)
    assert len(panel.fits) >= 4
    for row in (*panel.rows[1:4], panel.rows[0]):  # the first is the present place
        if not row.keep.isVisible():
            qtbot.mouseClick(row.head, Qt.MouseButton.LeftButton)
        if row.keep.isEnabled():
            qtbot.mouseClick(row.keep, Qt.MouseButton.LeftButton)
    assert len(window.document.view_state.kept) == 3
    assert len(compare_page(window).sides) == 4


def two_placements(qtbot: QtBot, window: MainWindow) -> ComparePage:
    """Return the page with the present place, and the first offer of *Find a fit*."""
    panel = fit_panel(qtbot, window)
    qtbot.mouseClick(panel.rows[0].keep, Qt.MouseButton.LeftButton)
    return compare_page(window)


def test_the_cut_stays_in_sight_next_to_the_comparison(qtbot: QtBot, window: MainWindow) -> None:
    right = window.cut.mapTo(window, window.cut.rect().topLeft()).x()
    page = two_placements(qtbot, window)
    assert window.cut.isVisible()
    assert window.findings.isVisible()
    assert not window.card.isVisible()
    assert not window.face.isVisible()
    assert abs(window.cut.mapTo(window, window.cut.rect().topLeft()).x() - right) <= 2  # px, of a hairline
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert window.card.isVisible()
    assert window.face.isVisible()
    assert abs(window.cut.mapTo(window, window.cut.rect().topLeft()).x() - right) <= 2


def test_a_compared_place_under_pointer_or_focus_is_a_ghost_in_the_cut(qtbot: QtBot, window: MainWindow) -> None:
    page = two_placements(qtbot, window)

    def ghost() -> Design | None:
        return window.document.view_state.ghost

    page.columns[1].take.setFocus()
    assert ghost() is page.columns[1].design
    assert window.cut.canvas.ghost()
    page.back.setFocus()
    assert ghost() is None
    for watched, wanted in ((page.columns[1].picture, page.columns[1].design), (page.columns[0].picture, None)):
        QApplication.sendEvent(watched, QEvent(QEvent.Type.Enter))
        assert ghost() is wanted
    columns = page.columns
    QApplication.sendEvent(columns[1].cells[2], QEvent(QEvent.Type.Enter))
    assert ghost() is columns[1].design
    assert page.columns is columns  # nothing is made again for a ghost
    QApplication.sendEvent(page, QEvent(QEvent.Type.Leave))
    assert ghost() is None
    assert window.face_or_compare.compares


def test_a_dimension_of_the_cut_leads_from_the_comparison_to_its_entry(qtbot: QtBot, window: MainWindow) -> None:
    two_placements(qtbot, window)
    window.cut.canvas.wanted.emit("mounts.0.drop")
    assert not window.face_or_compare.compares
    assert window.card.isVisible()
    assert window.document.view_state.section == 7


def test_the_sheets_are_made_from_the_comparison_too(qtbot: QtBot, window: MainWindow) -> None:
    two_placements(qtbot, window)
    window.make_sheets()
    assert not window.face_or_compare.compares
    assert window.sheets.card.isVisible()


def test_another_boat_forgets_what_was_kept(window: MainWindow) -> None:
    press(window, "keep")
    assert window.document.view_state.kept
    window.document.new(skiff())
    assert not window.document.view_state.kept


# A careful rigger's calculation by hand, on the screen: tests/reference/test_trade_boats.py


def rungs_of(qtbot: QtBot, window: MainWindow, kind: str) -> dict[tuple[float, int], str]:
    """Return what the ladders say of each rung with one way to seat the lower washers, by drop and row [in]."""
    if not window.ladder.is_open:
        qtbot.mouseClick(window.ladder.head, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: any(rung.isVisible() for rung in window.ladder.rungs))
    seen = window.ladder.shown
    button = window.ladder.head.seats[kind]  # type: ignore[index]
    if not button.isChecked():
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
        qtbot.waitUntil(lambda: window.ladder.shown is not seen)
    return {(round(rung.place[0] / IN, 4), rung.place[1]): rung.accessibleName() for rung in window.ladder.rungs}


def test_boat_one_on_the_screen(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    """6-1/2 in with whole washers is fouled by 0.43 mm. Cut flat it passes, two to four holes up, AV plate +0.83 in."""
    window = opened(skiff())
    whole = rungs_of(qtbot, window, "plain")
    assert whole[6.5, 2].endswith("fouled, as it is now")
    cut = rungs_of(qtbot, window, "cut")
    assert "tight" in cut[6.5, 2]
    assert [row for row in range(5) if "out of reach" not in cut[6.5, row]] == [2, 3, 4]
    assert all("fouled" in cut[drop, row] for drop, row in ((8.0, 2), (7.25, 2)))
    assert "tight" in rungs_of(qtbot, window, "plate")[6.5, 2]
    panel = fit_panel(qtbot, window)
    assert panel.fits[0].hardware == "washers cut flat"
    assert panel.fits[0].drop / IN == pytest.approx(6.5 + 1 / 16)
    assert panel.rows[0].head.line.details[0] == (
        "3rd hole from the top (two holes up). AV plate 13/16 in above the bottom. Usable holes: 3rd to 5th."
    )
    assert sure(low_panel(window).outcome).ways[0].advised == pytest.approx(0.965 * IN, abs=0.01 * IN)


def test_boat_two_on_the_screen(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    """The cap's lip meets the upper washers at 1-7/8 in; 2-1/4 in down it is clear, and 8 in leaves the 2nd to 5th hole."""
    window = opened(capped(1.875))
    panel = fit_panel(qtbot, window)
    assert window.answer.sentence.startswith("Don’t drill here")  # with the doubt, once the chances have come
    assert ": both upper washers overlap the cap lip" in window.answer.sentence
    first = panel.fits[0]
    assert first.drop / IN == pytest.approx(8.0, abs=1 / 31)
    assert 2.125 <= -first.upper_at / IN <= 2.3
    assert first.rows_left == (1, 2, 3, 4)
    window.document.commit("Deeper", with_mount(window.document.design, 0, upper_at=-2.25 * IN))
    qtbot.waitUntil(lambda: "out of reach" in rungs_of(qtbot, window, "plain")[8.0, 0])
    rungs = rungs_of(qtbot, window, "plain")
    assert [row for row in range(5) if "out of reach" not in rungs[8.0, row]] == [1, 2, 3, 4]
    assert sure(low_panel(window).outcome).now == pytest.approx(0.99 * IN, abs=0.006 * IN)


def test_boat_nine_on_the_screen(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    """Round lower holes: 6-1/2 in fits whole washers in the 3rd and 4th hole. 7-1/4 in cut flat is 0.77 mm short."""
    window = opened(blind(7.25))
    whole = rungs_of(qtbot, window, "plain")
    assert [row for row in range(4) if "out of reach" not in whole[6.5, row]] == [2, 3]
    assert [row for row in range(4) if "out of reach" not in whole[7.25, row]] == [1, 2]
    assert "fouled" in whole[7.25, 2]
    assert "fouled" in whole[8.0, 0]
    assert "fouled" not in whole[6.5, 2]
    assert "fouled" not in rungs_of(qtbot, window, "cut")[7.25, 2]
    panel = fit_panel(qtbot, window)
    first = panel.fits[0]
    assert first.drop / IN == pytest.approx(6.5)
    assert first.rows_left == (2, 3)
    assert sure(first.plate_height) / IN == pytest.approx(0.96, abs=0.006)


def test_boat_ten_on_the_screen(qtbot: QtBot, opened: Callable[[Design], MainWindow]) -> None:
    """Nothing to drill: no ladder, no search; the AV plate +1/4 in is within the usual range."""
    window = opened(tender())
    # no capacity plate says what the boat carries
    assert window.answer.sentence == "It clamps on: there is nothing to drill. Before you launch: motor’s weight."
    assert window.ladder.head.text() == "A clamp-on bracket has no bolt holes."
    assert window.answer.decide.text() == "Will it hang low enough?"
    panel = low_panel(window)
    assert panel.answer.text() == "The motor clamps on. Its AV plate is 1/4 in above the bottom, which is usual."
    search = fit_panel(qtbot, window)
    assert search.status.text() == "This motor clamps on. There is nothing to drill."
    with pytest.raises(AssertionError):  # its word in the menu is dull
        press(window, "compare")


def test_what_clamps_on_lets_go_of_the_height_picture_by_escape(
    qtbot: QtBot, opened: Callable[[Design], MainWindow]
) -> None:
    """Nothing is missing and there is nothing to search: the hand is on the way back."""
    window = opened(tender())
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    for key, kind in ((Qt.Key.Key_F, FitPanel), (Qt.Key.Key_L, LowEnoughPanel)):
        qtbot.keyClick(window, key, Qt.KeyboardModifier.ControlModifier)
        assert isinstance(window.aside.panels.currentWidget(), kind)
    focus = window.focusWidget()
    assert focus is not None
    assert focus.isVisible()
    assert window.aside.panels.isAncestorOf(focus)
    qtbot.keyClick(focus, Qt.Key.Key_Escape)
    assert window.document.view_state.deciding == ""
    assert window.findings.isVisible()


# Its looks as values


def texts_too_wide(whole: QWidget) -> list[str]:
    """Return the texts that are wider than their places."""
    texts = []
    for part in whole.findChildren(QWidget):
        if not part.isVisible():
            continue
        if isinstance(part, QLabel) and not part.wordWrap():
            needed = part.fontMetrics().horizontalAdvance(part.text())
        elif isinstance(part, QAbstractButton | QCheckBox) and part.text():
            needed = min(part.sizeHint().width(), part.width() + 1000)
            if part.sizePolicy().horizontalPolicy().name in ("Preferred", "Ignored"):
                continue  # cut with its whole text in the tip
        else:
            continue
        if needed > part.width() + 1:
            texts.append(part.text() if isinstance(part, QLabel | QAbstractButton) else "")
    return texts


@pytest.mark.parametrize("size", [(1366, 708), (1920, 1016), (683, 384)])
@pytest.mark.parametrize("units", ["in", "mm"])
def test_no_text_is_wider_than_its_place(qtbot: QtBot, window: MainWindow, units: str, size: tuple[int, int]) -> None:
    window.document.commit("Units", set_units(window.document.design, "mm" if units == "mm" else "in"))
    window.resize(*size)
    panel = fit_panel(qtbot, window)
    assert texts_too_wide(panel) == []
    qtbot.mouseClick(panel.rows[0].keep, Qt.MouseButton.LeftButton)
    assert texts_too_wide(low_panel(window)) == []
    assert texts_too_wide(compare_page(window)) == []


def test_everything_has_a_name_and_a_tab_place(qtbot: QtBot, window: MainWindow) -> None:
    panel = fit_panel(qtbot, window)
    parts = [*panel.findChildren(QAbstractButton), *low_panel(window).findChildren(QAbstractButton)]
    qtbot.mouseClick(panel.rows[0].keep, Qt.MouseButton.LeftButton)
    parts += compare_page(window).findChildren(QAbstractButton)
    assert len(parts) > 20
    for part in parts:
        assert part.accessibleName() or part.text() or part.isHidden()
        assert part.focusPolicy() & Qt.FocusPolicy.TabFocus


# The ghost


def test_the_ghost_shows_other_hardware_in_the_same_place() -> None:
    design = skiff()
    view = fit(work_rect(design), 150.0, 130.0)
    assert ghost_marks(design, design, view) == ()
    kinds = {}
    for seat in seats(design, 0):
        marks = ghost_marks(design, seat.fitted(design, 0), view)
        kinds[seat.kind] = Counter(type(mark).__name__ for mark in marks)
    assert kinds["cut"] == {"Circle": 2, "Arc": 2, "Line": 2}  # two holes, two washers with a flat each
    assert kinds["plate"] == {"Circle": 4, "Path": 1}
    moved = ghost_marks(design, with_mount(design, 0, drop=150.0), view)
    assert Counter(type(mark).__name__ for mark in moved) == {"Circle": 4, "Line": 2}
