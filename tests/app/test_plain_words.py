"""Plain English in documents, commands, the starter and the window; and that the scanner finds what is not plain."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from app.commands.command_line import commands, main
from app.document.document import Document
from app.document.examples import demonstration
from app.help.shortcut_list import HAND
from app.ui.deciding_modes import MODES
from app.window.main_window import MainWindow
from assets import design_names, design_text
from geometry.design_text import from_text
from tests.app.shown_texts import shown_texts, texts_of_widgets
from tests.plain_words import MOST_WORDS, faults, length, paragraphs, sentences, strings

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ROOT = Path(__file__).resolve().parents[2]
DOCUMENTS = [
    *sorted((ROOT / "assets/help").glob("*.md")),
    *(ROOT / f"{name}.md" for name in ("README", "CHANGELOG", "DEVELOPERS")),
]
MODULES = [path for folder in ("app", "assets", "geometry", "templates_out") for path in sorted((ROOT / folder).rglob("*.py"))]
NOT_SHOWN = {  # keys of a finding's place; how well a number is known, which only the code says; and the head of a column
    "X / X / plate", "/ plate", "read in a secondary copy", "from memory",
    "black cherry 690 lbf/in2, Wood Handbook, read in a secondary copy", "  XXXAV plate",
}  # fmt: skip
AIM = 20  # words


def named(paths: list[Path]) -> list[str]:
    return [str(path.relative_to(ROOT)) for path in paths]


@pytest.mark.parametrize("path", DOCUMENTS, ids=named(DOCUMENTS))
def test_a_document_is_plain(path: Path) -> None:
    assert faults(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", DOCUMENTS, ids=named(DOCUMENTS))
def test_nine_of_ten_sentences_of_a_document_are_short(path: Path) -> None:
    said = [sentence for paragraph in paragraphs(path.read_text(encoding="utf-8")) for sentence in sentences(paragraph)]
    assert len(said) > 20
    assert len([sentence for sentence in said if length(sentence) <= AIM]) >= 0.9 * len(said)


@pytest.mark.parametrize("path", MODULES, ids=named(MODULES))
def test_what_a_module_says_is_plain(path: Path) -> None:
    said = [text for text in strings(path.read_text(encoding="utf-8")) if text not in NOT_SHOWN]
    assert [fault for text in said for fault in faults(text)] == []


def test_the_modules_say_something() -> None:
    every = [text for path in MODULES for text in strings(path.read_text(encoding="utf-8"))]
    assert len(every) > 2000
    assert set(every) >= NOT_SHOWN


def test_help_of_every_command_is_plain(capsys: pytest.CaptureFixture[str]) -> None:
    for command in commands():
        assert faults(command.does) == [], command.name
        assert main([command.name, "--help"]) == 0
    assert capsys.readouterr().err == ""


USAGE = ["chek", "check", "check a b", "check a --jso", "check a --json=yes", "template a", "template a --to",
         "fit", "demo --to"]  # fmt: skip


@pytest.mark.parametrize("words", USAGE)
def test_usage_errors_are_plain_and_show_the_usage(words: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words.split()) == 2
    said = capsys.readouterr().err
    sentence, sign, names = re.split(r"(Usage|Commands): ", said)
    assert faults(sentence) == []
    assert names.startswith("boltwell " if sign == "Usage" else "demo, check, ")


def test_shortcuts_and_ways_to_decide_are_plain() -> None:
    said = [text for group in HAND for shortcut in group.shortcuts for text in (group.title, shortcut.does)]
    said += [title.replace("&", "") for _, title, _ in MODES]
    assert [fault for text in said for fault in faults(text)] == []


def test_what_the_window_shows_of_every_demonstration_boat_is_plain(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Texts, tool tips, accessible names, hints, menus, the foot line and the drawings' words, in both units.

    A bad tool tip is put in at the end, so that a scan that finds nothing fails.
    """
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    window = MainWindow(Document(demonstration()))
    qtbot.addWidget(window, before_close_func=lambda window: window.document.save(tmp_path / "done.boltwell"))
    window.resize(1366, 708)
    window.show()
    shown = set[str]()
    for name in design_names():
        shown |= shown_texts(window, from_text(design_text(name)))
    window.show_start()
    assert window.sheets.card is not None  # made now, so that its texts are read too
    shown |= texts_of_widgets(window)
    assert {"Dismiss", "Lay a tape between two places", "Make the sheets", "Blank sheet", "Foot line"} <= shown
    assert [fault for text in sorted(shown) for fault in faults(text)] == []

    window.foot.setToolTip("It tells where the saddle is.")
    assert len([fault for text in texts_of_widgets(window) for fault in faults(text)]) == 2


# The scanner


BAD = {
    "The value is reckoned from others.": "calculate",
    "The text tells why.": "show",
    "The line says whence it comes.": "from where",
    "The pad thereby carries more.": "so",
    "The bracket moves athwart.": "across",
    "The blocks beside the bolt are checked.": "next to",
    "The next step stands at the top.": "is",
    "The bolt lies under the floor.": "is",
    "The core bears less when wet.": "support",
    "New holes are held against old ones.": "check against",
    "It is a note and never given as leave.": "permission",
    "The environment is made anew.": "again",
    "Boats opened lately are listed.": "recently",
    "It clears whatever is there.": "any",
    "The backing plate has a sheet of its own.": "alone",
    "A guess gives way to a reading.": "yield",
    "Nobody so much as looked.": "even",
    "The figure is from memory.": "our assumption",
    "The rest is our choice.": "our assumption",
    "The saddle is too low.": "bracket hook",
    "The motor hangs in row 0.": "3rd hole",
    "Rows left: 1 to 4.": "usable holes",
    "The lowest rows are lost.": "1st, 2nd",
    "The leg is 20 in.": "shaft length",
    "The washer is on the fillet.": "corner radius",
    "The anti-ventilation plate is too high.": "AV plate",
    "The plate is too high.": "backing plate",
    "The lower starboard hole (port motor) is fouled.": "port motor",
    "What no boat can have is refused.": "as a subject",
    "One " + "word " * MOST_WORDS + "more.": "words:",
    "| check | The saddle is shown. |": "bracket hook",
    "- A list item that tells.": "show",
    "![A caption that tells.](picture)": "show",
}


@pytest.mark.parametrize("text", BAD, ids=BAD.values())
def test_the_scanner_finds_it(text: str) -> None:
    (fault, *_) = faults(text)
    assert BAD[text] in fault


GOOD = [
    "Never stand under a hoisted motor.",
    "The AV plate is also called anti-ventilation plate.",
    "The corner radius is also called fillet.",
    "Leave out the margin.",
    "What does it check?",
    "See `saddle_gap` and `plate`.",
    "    boltwell plate FILE",
    "The shafts of these bolts are in the legal range.",
    "word " * (MOST_WORDS - 1) + "3 1/4 in",
]


@pytest.mark.parametrize("text", GOOD)
def test_the_scanner_leaves_plain_words_alone(text: str) -> None:
    assert faults(text) == []


def test_a_figure_with_its_unit_is_one_word() -> None:
    assert length("Raise the bolts 1 1/2 in (38 mm) now.") == 6


def test_strings_of_a_module_are_what_it_says() -> None:
    source = '"""A docstring here."""\nsay(f"the {x} stands {y!r} there.")\nname = "key"\nWORDS = ("two words", "x" "y z")\n'
    assert sorted(strings(source)) == ["the X stands X there.", "two words", "xy z"]
