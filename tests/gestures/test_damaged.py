"""A file that can't be read: the window says why, offers the copy that was kept, and writes over nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QAbstractButton, QApplication, QMessageBox

from app.document.backups import load_backup
from app.document.document import Document
from app.document.files import read_design
from assets import design_text
from geometry.design.file_editions import NEWEST
from geometry.edits.edits import with_mount
from tests.gestures.test_window import Answers, file_actions

if TYPE_CHECKING:
    from pathlib import Path

    from app.window.main_window import MainWindow

MINE = design_text("cap-lip-launch").replace('"demonstration": true', '"demonstration": false')
HALF = MINE[: len(MINE) // 2]


class Reads(Answers):
    """Answers, and keeps each question with its answers."""

    def __init__(self, path: Path, answer: int = 0) -> None:
        super().__init__(path, answer)
        self.questions: list[tuple[str, tuple[str, ...]]] = []

    def choose(self, sentence: str, answers: tuple[str, ...]) -> int:
        self.questions.append((sentence, answers))
        return super().choose(sentence, answers)


@pytest.fixture
def launch(window: MainWindow, kept: Path) -> Path:
    """A boat that was opened here, and of which half is left since; the window has gone on to the demonstration."""
    path = kept / "launch.boltwell"
    path.write_text(MINE)
    window.file_actions.open_path(path)
    window.file_actions.open_demonstration()
    path.write_text(HALF)
    return path


def damaged(path: Path) -> bool:
    """Return whether the file is still as it was when it was damaged."""
    return path.read_text() == HALF


def test_the_copy_is_offered_and_is_opened_unsaved(window: MainWindow, launch: Path) -> None:
    answers = Reads(launch)
    file_actions(window, answers).open()
    ((sentence, words),) = answers.questions
    assert words == ("Open the copy", "Go on without")
    why, offer = sentence.split("\n\n")
    assert why.startswith("launch.boltwell: The file breaks off at line ")
    assert offer.startswith("Boltwell kept a copy when this boat was last opened or saved here, on 20")
    copy = load_backup(launch)
    assert copy is not None
    assert window.document.design == copy.design
    assert window.document.path == launch
    assert window.document.changed_since_saved
    assert window.foot.said == f"This is the copy of {offer.rpartition(', on ')[2]}"
    assert "not saved" in window.foot._state.text()
    assert damaged(launch)


def test_the_copy_goes_under_another_name_and_never_over_the_file(window: MainWindow, launch: Path, kept: Path) -> None:
    answers = Reads(launch)
    file_actions(window, answers).open()
    answers.answer = 1
    assert not window.file_actions.save()
    sentence, words = answers.questions[-1]
    assert sentence.endswith("It stays as it is. Save under another name.")
    assert words == ("Save under another name…", "Back to the drawing")
    assert window.document.path == launch
    assert "not saved" in window.foot._state.text()  # not "changed since", as if it had been
    answers.answer, design = 0, window.document.design
    assert window.file_actions.save()
    assert window.document.path == kept / f"{design.name} 2.boltwell"
    assert read_design(window.document.path)[0] == design
    assert damaged(launch)
    assert answers.messages == [""]


def test_without_the_copy_all_stays(window: MainWindow, launch: Path) -> None:
    design = window.document.design
    file_actions(window, Reads(launch, answer=1)).open_path(launch)
    assert window.document.design is design
    assert window.document.path is None
    assert damaged(launch)
    assert load_backup(launch) is not None  # offered again the next time


def test_a_file_that_is_gone_comes_back_by_saving(window: MainWindow, launch: Path) -> None:
    launch.unlink()
    answers = Reads(launch)
    file_actions(window, answers).open_path(launch)
    assert answers.questions[0][0].startswith("There is no file ")
    assert window.file_actions.save()
    assert read_design(launch)[0] == window.document.design
    assert not window.document.changed_since_saved
    assert answers.messages == [""]


def test_what_was_saved_here_is_what_is_offered(window: MainWindow, kept: Path) -> None:
    answers = Reads(kept / "any.boltwell")
    file_actions(window, answers)
    window.document.commit("Drop", with_mount(window.document.design, 0, drop=170.0))
    assert window.file_actions.save()
    window.document.commit("Drop", with_mount(window.document.design, 0, drop=171.0))
    assert window.file_actions.save()
    path = window.document.path
    assert path is not None
    window.file_actions.open_demonstration()
    path.write_bytes(b"")
    window.file_actions.open_path(path)
    assert answers.asked == 1
    assert window.document.design.mounts[0].drop == 171.0


@pytest.mark.parametrize(
    ("raw", "problem"),
    [
        (b"%PDF-1.7 \xe2\xe3", "launch.boltwell is not UTF-8 text"),
        (b"{}", "launch.boltwell: The file is no Boltwell design"),
        (None, "is a folder, and a file was expected"),
    ],
)
def test_another_kind_of_thing_in_its_place(window: MainWindow, launch: Path, raw: bytes | None, problem: str) -> None:
    launch.unlink()
    if raw is None:
        launch.mkdir()
    else:
        launch.write_bytes(raw)
    answers = Reads(launch)
    file_actions(window, answers).open_path(launch)
    assert problem in answers.questions[0][0]
    assert window.document.path == launch
    answers.answer = 1
    assert not window.file_actions.save()
    assert launch.is_dir() if raw is None else launch.read_bytes() == raw


def test_a_newer_programs_file_is_whole_and_no_old_copy_is_offered(window: MainWindow, launch: Path) -> None:
    launch.write_text(MINE.replace(f'"boltwell": {NEWEST}', f'"boltwell": {NEWEST + 1}'))
    answers = Reads(launch)
    file_actions(window, answers).open_path(launch)
    assert answers.questions == []
    assert "newer Boltwell" in answers.messages[-1]


def test_where_no_copy_was_kept_none_is_spoken_of(window: MainWindow, kept: Path) -> None:
    path = kept / "launch.boltwell"
    path.write_text(HALF)
    answers = Reads(path)
    file_actions(window, answers).open_path(path)
    assert answers.questions == []
    assert answers.messages[-1].endswith("it was not wholly written. Open a copy.")


@pytest.mark.parametrize(("gone", "where"), [(False, "Save under another name."), (True, "Saving puts the file back.")])
def test_what_a_crash_left_of_a_damaged_file_comes_with_the_reason(
    window: MainWindow, launch: Path, gone: bool, where: str
) -> None:
    copy = load_backup(launch)
    assert copy is not None
    if gone:
        launch.unlink()
    said = "The program closed without saving. Your work is here."

    def left(_path: Path) -> str:
        window.document.recover("", copy.design, copy.file_state)
        return said

    window.file_actions.recover_unsaved = left
    answers = Reads(launch)
    file_actions(window, answers).open_path(launch)
    (message,) = answers.messages[1:]
    why, what = message.split("\n\n")
    assert why.startswith("There is no file" if gone else "launch.boltwell: The file breaks off")
    assert what.startswith(said)
    assert what.endswith(where)
    assert window.foot.said == said
    assert window.document.changed_since_saved


def test_an_unsaved_design_of_a_boat_that_another_window_has_open_says_both(window: MainWindow, launch: Path) -> None:
    launch.write_text(MINE)
    other = Document(window.document.design)
    other.open(launch)
    copy = load_backup(launch)
    assert copy is not None

    def left(_path: Path) -> str:
        window.document.recover("", copy.design, copy.file_state)
        return "Your work is here."

    window.file_actions.recover_unsaved = left
    file_actions(window, Reads(launch)).open_path(launch)
    assert window.foot.said == "Your work is here. Another window has this boat open. Save yours under a new name."
    other.close()


def test_the_box_itself(window: MainWindow, launch: Path) -> None:
    """The first answer is the usual one, and the message is plain text."""
    seen: list[object] = []

    def press() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        seen.extend((box.text(), box.textFormat()))
        first = box.defaultButton()
        assert isinstance(first, QAbstractButton)
        seen.append(first.text())
        first.click()

    QTimer.singleShot(0, press)
    window.file_actions.open_path(launch)
    text, form, first = seen
    assert "Boltwell kept a copy" in str(text)
    assert form == Qt.TextFormat.PlainText
    assert first == "Open the copy"
    assert window.document.path == launch
