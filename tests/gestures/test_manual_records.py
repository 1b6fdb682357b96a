"""One name a page of the manual: a made-up page is in the contents, is read, found, led to, and leads on."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

import assets
from app.help import manual_pages, manual_places
from app.help.manual_pages import manual, search
from app.help.manual_pictures import PICTURES, Picture
from app.help.manual_window import Manual
from app.help.picture_album import Album
from app.ui.palette import palette
from geometry.readings.measures import measure
from templates_out.drawing.marks import Path

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

TEXT = (
    "# Hull care\n\nWash the slipway.\n\n![A black square on the slipway](square)\n\n"
    "## Barnacles\n\nScrape them off, see [the sheets](sheets)."
)
SQUARE = Picture(0.5, lambda wide, high: (Path(((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)), True, None, "ink"),))


@pytest.fixture
def made_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page before the last one, its text in no file."""
    monkeypatch.setattr(manual_pages, "help_text", lambda name: TEXT if name == "care" else assets.help_text(name))
    monkeypatch.setattr(manual_pages, "NAMES", (*manual_pages.NAMES[:-1], "care", manual_pages.NAMES[-1]))
    monkeypatch.setitem(PICTURES, "square", SQUARE)


@pytest.mark.usefixtures("made_up")
def test_a_made_up_page_is_one_of_the_manual() -> None:
    pages = manual()
    before, page = pages[-3], pages[-2]
    assert (page.title, page.name) == ("Hull care", "care")
    assert before.links[-1] == "care"
    assert page.links == ("sheets", pages[-1].name)
    assert page.places == {"care", "care#barnacles"}
    assert [part.place for part in search(pages, "barnacles")] == ["care#barnacles"]


@pytest.mark.usefixtures("made_up")
def test_a_made_up_page_is_in_the_window_of_the_manual(qtbot: QtBot) -> None:
    window = Manual()
    qtbot.addWidget(window)
    window.open("care#barnacles")
    assert window.reader.page is not None
    assert window.reader.page.title == "Hull care"
    assert {"Hull care", "Barnacles"} <= {line.text() for line in window.lines}
    window.sought.setText("slipway")
    assert [line.place for line in window.lines if line.place] == ["care"]


@pytest.mark.usefixtures("made_up")
def test_the_picture_of_a_made_up_page_is_drawn() -> None:
    assert manual()[-2].pictures == ("square",)
    album = Album()
    assert (album.size("square", 300).width(), album.size("square", 300).height()) == (300, 150)
    image = album.image("square", 300, dark=False, ratio=1.0)
    assert image.pixelColor(150, 75).name() == palette(dark=False)["ink"].name()


@pytest.mark.usefixtures("made_up")
def test_f1_in_an_entry_that_names_a_made_up_page_opens_it(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    rake = measure(window.document.design, "transom.rake")
    assert rake is not None
    monkeypatch.setattr(manual_places, "measure", lambda _design, _key: replace(rake, page="care#barnacles"))
    window.card.go_to("transom.rake")
    focused = QApplication.focusWidget()
    assert focused is not None
    qtbot.keyClick(focused, Qt.Key.Key_F1)
    qtbot.waitUntil(window.manual.isVisible)
    assert window.manual.place == "care#barnacles"
    assert window.manual.reader.page is not None
    assert window.manual.reader.page.title == "Hull care"
