"""One file a demonstration boat: a made-up one is in menu, command and manual, and is checked, with a missing reading too."""

import shutil

import pytest

import assets
from app.commands.command_line import main
from app.document.document import Document
from app.document.examples import DEMONSTRATION, demonstration, demonstrations
from app.help.manual_pages import manual
from app.window.main_window import MainWindow
from app.window.menus import menu_entries
from geometry.design_text import to_text
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from tests.designs import changed, roomy
from tests.plain_words import faults


@pytest.fixture
def made_up(tmp_path, monkeypatch):
    """A new boat in a copy of the folder; its floor is not measured."""
    folder = tmp_path / "designs"
    shutil.copytree(assets.DESIGNS, folder)
    boat = changed(roomy(), name="Pea-green dory", notes="A boat for this test.", demonstration=True, well__length=None)
    (folder / "pea-green-dory.boltwell").write_text(to_text(boat), encoding="utf-8")
    monkeypatch.setattr(assets, "DESIGNS", folder)
    return boat


def test_the_first_is_the_one_that_the_program_starts_with():
    assert next(iter(demonstrations())) == DEMONSTRATION
    assert demonstration() == demonstrations()[DEMONSTRATION]


def test_the_notes_that_the_manual_shows_are_plain():
    assert [fault for boat in demonstrations().values() for fault in faults(boat.notes)] == []


def test_a_made_up_boat_is_in_the_menu(qtbot, made_up):
    window = MainWindow(Document(demonstration()))
    qtbot.addWidget(window)
    line = next(record for record in menu_entries(window) if record.title() == "&Demonstration boats")
    assert line.submenu is not None
    opened = {record.title(): record.run for record in line.submenu()}
    assert next(iter(opened)) == "Shallow-well skiff"
    opened["Pea-green dory"]()
    assert window.document.design == made_up
    assert drillable(window.document.checked).why_not.startswith("This is a demonstration boat, not yours.")
    assert "well.length" in {finding.missing for finding in check(made_up).findings if finding.state == "unknown"}


@pytest.mark.usefixtures("made_up")
def test_a_made_up_boat_is_in_the_manual():
    page = next(page for page in manual() if page.name == "files")
    assert "- **Pea-green dory.** A boat for this test." in page.text
    assert "files#pea-green-dory" in page.places


@pytest.mark.usefixtures("made_up")
def test_the_command_does_the_whole_job_on_a_made_up_boat(tmp_path, capsys):
    out = tmp_path / "out"
    assert main(["demo", "--boat", "pea-green-dory", "--to", str(out), "--no-window"]) == 0
    assert "Pea-green dory" in capsys.readouterr().out
    assert {file.name for file in out.iterdir()} == {"template.pdf", "shop-sheet.pdf", "face.png", "cut.png"}


def test_a_boat_that_there_is_not_is_refused_with_those_that_there_are(tmp_path, capsys):
    assert main(["demo", "--boat", "ark", "--to", str(tmp_path / "out"), "--no-window"]) == 2
    said = capsys.readouterr().err
    assert 'There is no demonstration boat "ark". Choose one of: ' in said
    assert "shallow-well-skiff" in said
    assert not (tmp_path / "out").exists()
    with pytest.raises(OwnerError):
        demonstration("ark")
