"""One record a command: a made-up one runs, is in the help and in the list of an unknown word, and says what it needs."""

from pathlib import Path

import pytest

from app.commands import command_line
from app.commands.command import Command, design_of
from app.commands.command_line import commands, main
from app.ui.terminal import print_text
from geometry.design_text import to_text
from geometry.solid.faces import need
from tests.designs import changed, roomy

README = Path(__file__).parents[2] / "README.md"


def _height(words):
    print_text(f"{need(design_of(words).transom.height, 'transom.height'):.1f} mm")
    return 3 if words.loud else 0


KIND = Command("height", "FILE [--loud]", "Shows the transom's height.", _height, flags=("--loud",), needed=("FILE",))


@pytest.fixture
def made_up(monkeypatch):
    monkeypatch.setattr(command_line, "COMMANDS", (*command_line.COMMANDS, KIND))


@pytest.fixture
def saved(tmp_path):
    def save(**values):
        path = tmp_path / "boat.boltwell"
        path.write_text(to_text(changed(roomy(), **values)), encoding="utf-8")
        return str(path)

    return save


@pytest.mark.usefixtures("made_up")
def test_a_made_up_command_is_in_the_help_and_in_the_list(capsys):
    assert main(["--help"]) == 0
    assert "boltwell height FILE [--loud]\n    Shows the transom's height." in capsys.readouterr().out
    assert main(["heigth"]) == 2
    assert "man, height, template" in capsys.readouterr().err
    assert main(["height", "--help"]) == 0
    assert capsys.readouterr().out.startswith("boltwell height FILE [--loud]")


@pytest.mark.usefixtures("made_up")
def test_a_made_up_command_runs_and_says_what_it_needs(saved, capsys):
    assert main(["height", saved(transom__height=512.0)]) == 0
    assert capsys.readouterr().out == "512.0 mm\n"
    assert main(["height", saved(transom__height=512.0), "--loud"]) == 3
    assert main(["height"]) == 2
    assert "height needs FILE. Usage: boltwell height FILE [--loud]" in capsys.readouterr().err


@pytest.mark.usefixtures("made_up")
def test_a_made_up_command_names_the_reading_that_is_missing(saved, capsys):
    assert main(["height", saved(transom__height=None)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err == "boltwell: The transom height is not known. Measure it, enter it on the card, and save the boat.\n"


def test_readme_has_every_command_with_its_words():
    text = README.read_text(encoding="utf-8")
    assert [command.usage for command in commands() if f"| `{command.usage.removeprefix('boltwell ')}` |" not in text] == []
