"""The window as a whole: the ladder, files in and out, the question before closing, and its looks as values."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QCloseEvent, QDropEvent
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QWidget

from app.canvas.cut_canvas import CutView
from app.canvas.face_canvas import FaceCanvas
from app.doors import Doors
from app.files import read_design
from app.light import dress
from app.panels.answer import AnswerLine
from app.panels.card import Card
from app.panels.findings import FindingsPanel
from app.panels.foot import FootLine
from app.panels.ladder import LadderStrip
from app.sight import Sight
from assets import design_names, design_text
from geometry.design.design_text import from_text
from geometry.design.edits import set_units
from geometry.errors import OwnerError
from geometry.judge.check import check
from tests.gestures.looking import share, too_wide

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.main_window import MainWindow
    from geometry.design.whole import Design


class Answers:
    """Answers in the person's place, and keeps what was told."""

    def __init__(self, path: Path, answer: int = 0) -> None:
        self.path, self.answer, self.asked, self.told = path, answer, 0, [""]

    def open_name(self, _folder: Path, _kinds: str) -> Path | None:
        return self.path

    def save_name(self, _title: str, proposed: Path, _kinds: str) -> Path | None:
        return self.path.with_name(proposed.name)

    def choose(self, _sentence: str, _answers: tuple[str, ...]) -> int:
        self.asked += 1
        return self.answer

    def tell(self, sentence: str) -> None:
        self.told.append(sentence)


def doors(window: MainWindow, answers: Answers) -> Doors:
    """Put the answers in the place of the dialogs."""
    window.doors._asking = answers  # type: ignore[assignment]
    return window.doors


def opened_ladder(qtbot: QtBot, window: MainWindow) -> LadderStrip:
    """Open the strip and wait until its rungs are reckoned."""
    qtbot.mouseClick(window.ladder.head, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: any(rung.isVisible() for rung in window.ladder.rungs))
    return window.ladder


def test_a_rung_is_row_and_drop_in_one_step(qtbot: QtBot, window: MainWindow) -> None:
    ladder = opened_ladder(qtbot, window)
    rung = next(one for one in ladder.rungs if one.isEnabled() and one.place[0] == pytest.approx(165.1))
    qtbot.mouseClick(rung, Qt.MouseButton.LeftButton)
    mount = window.desk.design.mounts[0]
    assert (mount.drop, mount.row) == rung.place
    assert len(window.desk.history.past) == 1
    window.desk.undo()
    assert window.desk.design.mounts[0].drop == 203.2


def test_a_rung_out_of_reach_takes_no_click(qtbot: QtBot, window: MainWindow) -> None:
    ladder = opened_ladder(qtbot, window)
    broken = next(one for one in ladder.rungs if not one.isEnabled())
    qtbot.mouseClick(broken, Qt.MouseButton.LeftButton)
    assert window.desk.history.past == ()


def test_the_slip_raises_the_pair_in_one_step(qtbot: QtBot, window: MainWindow) -> None:
    button = window.card.slip.button
    qtbot.waitUntil(button.isVisible)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert window.desk.design.mounts[0].drop == pytest.approx(165.1)  # 6 1/2 in: the first that clears
    assert window.desk.checked.verdict != "fouled"
    assert len(window.desk.history.past) == 1


def test_open_and_save_come_back_equal(window: MainWindow, kept: Path) -> None:
    path = kept / "mine.boltwell"
    answers = Answers(path)
    window.desk.commit("Millimetres", set_units(window.desk.design, "mm"))
    assert doors(window, answers).save()
    saved = next(kept.glob("*.boltwell"))
    assert read_design(saved)[0] == window.desk.design
    assert not window.desk.changed_since_saved
    assert not window.isWindowModified()
    answers.path = saved
    window.doors.open()
    assert window.desk.design.units == "mm"
    assert window.desk.path == saved
    assert answers.told == [""]


def test_a_damaged_file_is_told_and_all_stays(window: MainWindow, kept: Path) -> None:
    path = kept / "half.boltwell"
    path.write_text(design_text("shallow-well-skiff")[:300])
    design, answers = window.desk.design, Answers(path)
    doors(window, answers).open()
    assert window.desk.design == design
    assert answers.told[-1].startswith("half.boltwell")
    assert path.read_text() == design_text("shallow-well-skiff")[:300]


def test_a_dropped_file_opens(window: MainWindow, kept: Path) -> None:
    path = kept / "dropped.boltwell"
    path.write_text(design_text("cap-lip-launch"))
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    window.dropEvent(QDropEvent(QPointF(10, 10), Qt.DropAction.CopyAction, data, buttons, keys))
    assert window.desk.path == path


@pytest.mark.parametrize(("answer", "closes"), [(0, True), (1, True), (2, False)])
def test_closing_asks_before_anything_is_lost(window: MainWindow, kept: Path, answer: int, closes: bool) -> None:
    answers = Answers(kept / "kept.boltwell", answer)
    doors(window, answers)
    window.desk.commit("Millimetres", set_units(window.desk.design, "mm"))
    event = QCloseEvent()
    window.closeEvent(event)
    assert event.isAccepted() is closes
    assert answers.asked == 1
    assert len(list(kept.glob("*.boltwell"))) == (1 if answer == 0 else 0)


def test_closing_without_a_change_asks_nothing(window: MainWindow, kept: Path) -> None:
    answers = Answers(kept / "kept.boltwell")
    doors(window, answers)
    window.closeEvent(QCloseEvent())
    assert answers.asked == 0


def test_template_and_shop_sheet_by_themselves(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    answers = Answers(kept / "x")
    doors(window, answers)
    window.doors.sheets()
    qtbot.waitUntil(lambda: len(list(kept.glob("*.pdf"))) == 2, timeout=15000)
    assert all(path.read_bytes().startswith(b"%PDF-1.7") for path in kept.glob("*.pdf"))
    assert answers.told == [""]


LOOKS = [(name, units, units == "mm") for name in design_names() for units in ("in", "mm")]


@pytest.mark.parametrize(("name", "units", "dark"), [*LOOKS, ("shallow-well-skiff", "in", True)])
def test_no_text_is_wider_than_its_place(qtbot: QtBot, window: MainWindow, name: str, units: str, dark: bool) -> None:
    dress(dark=dark)
    window.desk.new(set_units(from_text(design_text(name)), "in" if units == "in" else "mm"))
    opened_ladder(qtbot, window)
    for section in range(9):
        window.desk.look(Sight(section=section))
        qtbot.waitUntil(lambda: too_wide(window) == [], timeout=3000)


def test_the_drawing_has_half_of_the_window_at_rest(qtbot: QtBot, window: MainWindow) -> None:
    assert share(window) >= 0.50
    opened_ladder(qtbot, window)
    qtbot.wait(1)
    assert share(window) >= 0.40


def test_every_control_has_a_name_and_a_tab_place(window: MainWindow) -> None:
    window.desk.look(Sight(section=3))
    controls = [
        widget for widget in window.findChildren(QWidget)
        if isinstance(widget, QAbstractButton | QLineEdit | FaceCanvas) and widget.isVisible()
    ]  # fmt: skip
    assert len(controls) > 20
    for widget in controls:
        assert widget.accessibleName(), repr(widget)
        assert widget.focusPolicy() & Qt.FocusPolicy.TabFocus, widget.accessibleName()


def test_f6_goes_round(qtbot: QtBot, window: MainWindow) -> None:
    window.activateWindow()
    window.face.setFocus()
    seen = []
    for _ in range(6):
        qtbot.keyClick(window, Qt.Key.Key_F6)
        focus = window.focusWidget()
        assert focus is not None
        parts = (window.answer, window.card, window.face, window.cut, window.ladder, window.findings)
        seen.append(next(i for i, part in enumerate(parts) if part is focus or part.isAncestorOf(focus)))
    assert sorted(seen) == [0, 1, 2, 3, 4, 5]


@pytest.mark.parametrize("name", design_names())
def test_a_view_can_be_built_from_a_design_alone(qtbot: QtBot, name: str) -> None:
    dress(dark=False)
    design: Design = from_text(design_text(name))
    for make in (FaceCanvas, CutView, AnswerLine, Card, FindingsPanel, LadderStrip, FootLine):
        view = make()
        qtbot.addWidget(view)
        view.show_checked(check(design), Sight(section=7))
        assert not view.grab().isNull()


def test_clicking_a_dimension_goes_to_its_entry(qtbot: QtBot, window: MainWindow) -> None:
    from templates_out.drawing.marks import Text

    window.activateWindow()
    figure = next(m for m in window.face.marks() if isinstance(m, Text) and m.part.endswith(".drop"))
    at = figure.at[0], figure.at[1] + figure.size / 3
    qtbot.mouseClick(window.face, Qt.MouseButton.LeftButton, pos=window.face.place_of(at).toPoint())
    assert window.desk.sight.lit == "mounts.0.drop"
    assert window.desk.sight.section == 7


def test_looking_is_no_step(qtbot: QtBot, window: MainWindow) -> None:
    window.face.zoom(2.0)
    window.face.push(10.0, 5.0)
    window.cut.step()
    qtbot.mouseClick(window.card.heads[4], Qt.MouseButton.LeftButton)
    assert window.desk.sight.section == 5
    assert window.desk.history.past == ()


def test_zoom_keeps_the_place_and_its_bounds(window: MainWindow) -> None:
    view = window.face.view
    assert view is not None
    about = (30.0, 40.0)
    before = view.to_boat(about)
    window.face.zoom(1.2, about)
    assert window.face.view is not None
    assert window.face.view.to_boat(about) == pytest.approx(before, abs=1e-9)
    for _ in range(60):
        window.face.zoom(1.2)
    assert window.face.view.scale == pytest.approx(8.0)
    for _ in range(80):
        window.face.zoom(1 / 1.2)
    assert window.face.view.scale == pytest.approx(1 / 20)


def test_a_design_that_says_nothing_at_all(window: MainWindow) -> None:
    from msgspec.structs import replace

    window.desk.new(replace(window.desk.design, mounts=(), well=None, inside_blocks=(), old_holes=(), readings={}))
    window.grab()
    assert window.answer.sentence.startswith("No motor")


def test_readings_not_taken_yet(window: MainWindow) -> None:
    from geometry.design.measures import put_path

    design = window.desk.design
    for key in ("transom.rake", "well.fillet_radius", "transom.thickness.top", "well.profile.1.1"):
        blank = put_path(design, key, None)
        window.desk.new(blank)
        window.grab()
        assert window.answer.sentence.startswith("Don’t drill")
    with pytest.raises(OwnerError):
        put_path(design, "transom.rake", 80.0)
