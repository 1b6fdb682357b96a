"""Saving asks before anything is lost, and asks for the name that the file gets in the end."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QFileDialog

from app.document.files import read_design
from app.document.outputs import is_ours
from app.ui.dialogs import Dialogs
from assets import design_text
from geometry.edits.edits import rename

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from app.window.main_window import MainWindow

ANOTHER, REPLACE, BACK = 0, 1, 2
WORDS = ("Choose another name…", "Replace it", "Back to the drawing")
MINE = b"%PDF-1.7 my own drawing of the boat"


class Hand:
    """Types names into the system's own dialog and answers questions; keeps what it was asked."""

    def __init__(self) -> None:
        self.names: list[str] = []
        self.answers: list[int] = []
        self.asked: list[str] = []
        self.words: list[tuple[str, ...]] = []
        self.proposed: list[str] = []
        self.unasked_by_dialog: list[bool] = []

    def type_name(
        self, _parent: object, _title: str, proposed: str, _kinds: str, *, options: QFileDialog.Option
    ) -> tuple[str, str]:
        self.proposed.append(proposed)
        self.unasked_by_dialog.append(options == QFileDialog.Option.DontConfirmOverwrite)
        return self.names.pop(0), ""

    def choose(self, sentence: str, words: tuple[str, ...]) -> int:
        if sentence.endswith("or save it as a PDF?"):
            return 1
        self.asked.append(sentence)
        self.words.append(words)
        return self.answers.pop(0)


@pytest.fixture
def hand(monkeypatch: pytest.MonkeyPatch) -> Hand:
    typist = Hand()
    monkeypatch.setattr(QFileDialog, "getSaveFileName", typist.type_name)
    monkeypatch.setattr(Dialogs, "choose", lambda _dialogs, sentence, words: typist.choose(sentence, words))
    return typist


@pytest.fixture
def other(kept: Path) -> Path:
    """Another boat in the folder."""
    path = kept / "tapered-work-boat.boltwell"
    path.write_text(design_text("tapered-work-boat"), encoding="utf-8")
    return path


def test_a_name_typed_without_its_ending_replaces_no_boat_unasked(window: MainWindow, hand: Hand, other: Path) -> None:
    hand.names, hand.answers = [str(other.with_suffix(""))], [BACK]
    assert not window.file_actions.save_as()
    assert hand.asked == ["tapered-work-boat.boltwell is there already, and what it holds would be lost."]
    assert hand.words == [WORDS]  # the first is Enter's, the last Escape's: neither loses anything
    assert other.read_text(encoding="utf-8") == design_text("tapered-work-boat")
    assert window.document.path is None


def test_another_name_is_asked_for_until_it_is_free(window: MainWindow, hand: Hand, other: Path) -> None:
    free = other.with_name("v1.2")
    hand.names, hand.answers = [str(other.with_suffix("")), str(other), str(free)], [ANOTHER, ANOTHER]
    assert window.file_actions.save_as()
    assert hand.proposed[1:] == [str(other), str(other)]
    assert other.read_text(encoding="utf-8") == design_text("tapered-work-boat")
    assert window.document.path == free.with_name("v1.2.boltwell")  # what is behind a dot is no ending of ours
    assert not free.exists()
    assert all(hand.unasked_by_dialog)  # one question, and it names the file that would be lost


def test_a_boat_that_may_go_is_replaced(window: MainWindow, hand: Hand, other: Path) -> None:
    window.document.commit("Name mine", rename(window.document.design, "mine"))
    hand.names, hand.answers = [str(other.with_suffix(""))], [REPLACE]
    assert window.file_actions.save_as()
    assert read_design(other)[0] == window.document.design
    assert window.document.path == other


def test_a_file_that_is_no_design_stays_even_where_it_may_go(window: MainWindow, hand: Hand, other: Path) -> None:
    other.write_bytes(MINE)
    hand.names, hand.answers = [str(other.with_suffix(""))], [REPLACE, 0]
    assert not window.file_actions.save_as()
    assert hand.asked[1].endswith("It stays as it is. Save under another name.")
    assert other.read_bytes() == MINE


ASKS: dict[str, Callable[[MainWindow], Path | None]] = {
    "sheets": lambda window: window.file_actions.sheets_name(),
    "measuring sheet": lambda window: window.file_actions.sheet("measuring"),
}


@pytest.mark.parametrize("what", ASKS)
def test_a_pdf_is_replaced_only_where_it_may_be(window: MainWindow, hand: Hand, kept: Path, what: str) -> None:
    path = kept / "mine.pdf"
    path.write_bytes(MINE)
    hand.names, hand.answers = [str(kept / "mine"), str(kept / "mine.PDF")], [ANOTHER]
    ASKS[what](window)
    assert hand.asked == ["mine.pdf is there already, and what it holds would be lost."]
    assert hand.proposed[1] == str(path)
    assert path.read_bytes() == MINE


def test_no_answer_puts_a_paper_in_the_place_of_a_design(window: MainWindow, hand: Hand, other: Path) -> None:
    link = other.with_name("sheets.pdf")
    link.symlink_to(other)
    hand.answers = [0]
    assert not window.file_actions.write(link, b"%PDF")
    assert "a name for a design" in hand.asked[0]
    assert other.read_text(encoding="utf-8") == design_text("tapered-work-boat")


def test_of_several_drawings_those_that_are_there_are_asked_about(window: MainWindow, hand: Hand, kept: Path) -> None:
    drawn = tuple((name, '<?xml version=\'1.0\'?>\n<svg xmlns="http://www.w3.org/2000/svg" data-made-by="Boltwell" />')
                  for name in ("template", "inside sheet", "backing plate, upper"))  # fmt: skip
    first = kept / "d.svg"
    there = [kept / "d, inside sheet.svg", kept / "d, backing plate, upper.svg"]
    for path in there:
        path.write_bytes(MINE)
    hand.answers = [1, 0]
    assert window.file_actions.write_drawings(first, drawn) == ()
    assert hand.asked == [f"{there[0].name}, {there[1].name} are there already, and what they hold would be lost."]
    assert not first.exists()
    assert window.file_actions.write_drawings(first, drawn) == (first, *there)
    assert all(is_ours(path.read_bytes()) for path in (first, *there))
