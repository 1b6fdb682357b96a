"""The program at home on a desktop: menu entry, file type, icons, manual page, components."""

import json
import re
import shutil
import subprocess
import xml.etree.ElementTree as ET
from importlib.metadata import version

import pytest
from PySide6.QtGui import QImage

import assets
from app.commands.command_line import commands, main
from app.desktop.components import PACKAGES, components, cyclonedx
from app.desktop.menu_entry import SIZES, add_to_menu, icon_png, remove_from_menu
from geometry.errors import OwnerError
from tests.save_man import PAGE, ROOT, page


@pytest.fixture
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    return tmp_path


def entry_of(text):
    lines = text.splitlines()
    assert lines[0] == "[Desktop Entry]"
    return dict(line.split("=", 1) for line in lines[1:])


def test_the_menu_gets_an_entry_that_starts_this_program_and_loses_it_again(home):
    """Keys by the Desktop Entry Specification 1.5: Type, Name and Exec are required for an application."""
    files = add_to_menu()
    assert all(path.is_relative_to(home) and path.stat().st_size > 100 for path in files)
    entry = entry_of((home / "applications/boltwell.desktop").read_text("utf-8"))
    assert (entry["Type"], entry["Name"], entry["Terminal"]) == ("Application", "Boltwell", "false")
    assert entry["Exec"].endswith(" %f")
    assert shutil.which(entry["Exec"].split()[0])
    assert entry["MimeType"] == "application/x-boltwell+json;"
    assert sorted(remove_from_menu()) == sorted(files)
    assert not any(path.exists() for path in files)
    assert remove_from_menu() == []


def test_the_file_type_is_that_of_the_entry_and_matches_the_ending():
    """Elements by the Shared MIME-info Database specification."""
    space = "{http://www.freedesktop.org/standards/shared-mime-info}"
    kind = ET.fromstring(assets.desktop_file("boltwell.xml")).find(f"{space}mime-type")
    entry = entry_of(assets.desktop_file("boltwell.desktop").decode())
    assert f"{kind.get('type')};" == entry["MimeType"]
    assert kind.find(f"{space}glob").get("pattern") == "*.boltwell"


@pytest.mark.skipif(shutil.which("update-mime-database") is None, reason="this machine has no such program")
def test_the_desktops_own_program_knows_the_type_afterwards(home):
    add_to_menu()
    assert "application/x-boltwell+json:*.boltwell" in (home / "mime/globs2").read_text("utf-8")


@pytest.mark.parametrize("size", SIZES)
def test_the_icon_has_the_usual_sizes_and_is_not_blank(size):
    picture = QImage.fromData(icon_png(size))
    assert (picture.width(), picture.height()) == (size, size)
    colours = {picture.pixelColor(x, y).name() for x in range(size) for y in range(size)}
    assert len(colours) > 4


def test_a_place_that_refuses_is_one_sentence(tmp_path, monkeypatch):
    (tmp_path / "blocked").write_text("a file", "utf-8")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "blocked"))
    with pytest.raises(OwnerError, match=r"can't be written\. Check that you may write there, and try again\."):
        add_to_menu()


def test_the_commands_put_it_in_and_out(home, capsys):
    assert main(["menu"]) == 0
    assert (home / "applications/boltwell.desktop").is_file()
    assert main(["menu", "--remove"]) == 0
    assert main(["menu", "--remove"]) == 0
    assert capsys.readouterr().out.splitlines()[-2:] == [
        "Boltwell is out of the desktop's menu.", "Boltwell was not in the desktop's menu.",
    ]  # fmt: skip


def test_the_shipped_manual_page_is_that_of_the_commands():
    """After a change of a command: python3 -m tests --save-man."""
    assert PAGE.read_text("utf-8") == page()
    for command in commands():
        assert f".B {command.usage}".replace("-", "\\-") in page()


@pytest.mark.skipif(shutil.which("groff") is None, reason="this machine has no groff")
def test_the_manual_page_is_roff_without_a_warning():
    set_ = subprocess.run(["groff", "-man", "-Tutf8", "-ww", PAGE], capture_output=True, text=True, check=True)
    assert set_.stderr == ""
    assert "--no-window" in re.sub(r"\x1b\[[0-9;]*m|.\x08", "", set_.stdout)


def test_every_package_that_the_program_needs_is_listed_with_version_and_licence():
    listed = {component.name.lower().replace("_", "-"): component for component in components()}
    project = (ROOT / "pyproject.toml").read_text("utf-8").partition("dependencies = [")[2].partition("]")[0]
    needed = {name.lower() for name in re.findall(r'^ *"([A-Za-z0-9-]+)', project, re.MULTILINE)}
    assert needed == {package.lower() for package in PACKAGES}
    assert needed | {"shiboken6", "python", "dejavu fonts"} <= set(listed)
    assert listed["shapely"].version == version("shapely")
    assert listed["reportlab"].licence.startswith("BSD")
    assert all(component.licence and "\n" not in component.licence for component in listed.values())


def test_the_components_are_cyclonedx(tmp_path):
    """Required by CycloneDX 1.6: bomFormat, specVersion, and of each component its type and name; references are unique."""
    made = json.loads(cyclonedx("1.2.3"))
    assert (made["bomFormat"], made["specVersion"]) == ("CycloneDX", "1.6")
    references = [each["bom-ref"] for each in made["components"]]
    assert len(set(references)) == len(references) == len(components())
    assert {each["type"] for each in made["components"]} <= {"application", "library", "data"}
    assert made["dependencies"] == [{"ref": "boltwell", "dependsOn": references}]
    assert f"pkg:pypi/shapely@{version('shapely')}" in references
    assert main(["components", "--to", str(tmp_path / "made.json")]) == 0
    assert json.loads((tmp_path / "made.json").read_text("utf-8"))["components"] == made["components"]
    assert main(["components", "--to", str(tmp_path / "made.json")]) == 2  # it is there already
