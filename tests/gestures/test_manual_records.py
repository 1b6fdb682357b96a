"""One name a page of the manual: a made-up page is in the contents, is read, found, led to, and leads on."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

import assets
from app.help import manual_pages
from app.help.manual_pages import manual, search
from app.help.manual_window import Manual

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

TEXT = "# Hull care\n\nWash the slipway.\n\n## Barnacles\n\nScrape them off, see [the sheets](sheets)."


@pytest.fixture
def made_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page before the last one, its text in no file."""
    monkeypatch.setattr(manual_pages, "help_text", lambda name: TEXT if name == "care" else assets.help_text(name))
    monkeypatch.setattr(manual_pages, "NAMES", (*manual_pages.NAMES[:-1], "care", manual_pages.NAMES[-1]))


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
