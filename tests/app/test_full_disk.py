"""A full disk, for real where a small one can be mounted: one true sentence, the window opens, editing goes on."""

import os
import shutil
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import msgspec
import pytest

from app.document.backups import save_backup
from app.document.document import Document
from app.document.files import FileError, lock_design, read_design, write_bytes, write_design
from app.document.recovery import Autosave, unsaved_designs
from app.document.settings import remember, settings
from geometry.design_text import from_text

ROOT = Path(__file__).resolve().parents[2]
DESIGN = from_text(Path(__file__).with_name("example.boltwell").read_bytes())

pytestmark = pytest.mark.skipif(os.name == "nt", reason="asks for disks that are mounted or limits")


# In a process that may not mount, every new byte below a folder is refused as a full disk refuses it.
REFUSES = """
import builtins, errno, io, os, sys
_folder, _open = os.path.realpath(os.environ["FULL"]), builtins.open
class _Full(io.FileIO):
    def write(self, raw):
        raise OSError(errno.ENOSPC, "No space left on device")
def _opening(path, mode="r", *rest, **how):
    below = os.path.realpath(path).startswith(_folder) if isinstance(path, (str, os.PathLike)) else False
    if below and set(mode) & set("wax+") and how.get("buffering") == 0:
        return _Full(path, mode.replace("b", ""))
    return _open(path, mode, *rest, **how)
"""


@pytest.fixture
def small(tmp_path):
    """Yield the folder of a disk of 64 kB, and whether it is a real one."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mounted = shutil.which("mount") is not None and not subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(folder)], capture_output=True, check=False
    ).returncode  # fmt: skip
    yield folder, mounted
    if mounted:
        subprocess.run(["umount", "-l", str(folder)], check=True)


def fill(small, monkeypatch):
    """Leave no byte of room on the disk."""
    folder, mounted = small
    if not mounted:
        monkeypatch.setenv("FULL", str(folder))
        space: dict[str, object] = {}
        exec(REFUSES, space)
        monkeypatch.setattr("builtins.open", space["_opening"])
        return
    with open(folder / "filler", "wb", buffering=0) as filler, suppress(OSError):
        for _ in range(1000):
            filler.write(b"x" * 512)
    assert os.statvfs(folder).f_bavail == 0


def room_again(small, monkeypatch):
    """Make room."""
    monkeypatch.undo()
    (small[0] / "filler").unlink(missing_ok=True)


def noted(notes):
    return msgspec.structs.replace(DESIGN, notes=notes)


def test_a_lock_needs_no_room(small, monkeypatch):
    path = small[0] / "boat.boltwell"
    write_design(path, DESIGN)
    fill(small, monkeypatch)
    held = lock_design(path)
    assert held is not None
    assert lock_design(path) is None  # it holds, number or not
    held.release()
    assert not (path.parent / ".boat.boltwell.lock").exists()


def test_a_boat_on_a_full_disk_opens_and_a_save_is_refused_and_loses_nothing(qapp, small, monkeypatch):
    path = small[0] / "boat.boltwell"
    write_design(path, DESIGN)
    before = path.read_bytes()
    fill(small, monkeypatch)
    document = Document(noted("another"))
    document.open(path)
    assert document.design == DESIGN
    document.commit("Notes", noted("n" * 5000))
    with pytest.raises(FileError, match=r"can't be written: the disk is full\. Make room"):
        document.save()
    assert path.read_bytes() == before
    assert document.changed_since_saved
    assert not [file for file in path.parent.iterdir() if "part" in file.name]
    room_again(small, monkeypatch)
    document.save()
    assert read_design(path)[0].notes == "n" * 5000
    document.close()


def test_where_the_data_folder_is_full_nothing_is_called_kept(qapp, small, monkeypatch):
    folder = small[0] / "kept"
    document, saver = Document(DESIGN), Autosave(folder)
    saver.follow(document)
    fill(small, monkeypatch)
    for number in range(3):
        document.commit("Notes", noted(f"{number}"))
        assert document.design == noted(f"{number}")
        assert saver.trouble == "The last change is not kept against a crash: the disk is full. Save often."
        assert saver.location(document) == "Your last change is not kept: save the boat."
    assert unsaved_designs(folder) == ()
    room_again(small, monkeypatch)
    document.commit("Notes", noted("room"))
    assert saver.trouble == ""
    (file,) = folder.glob("*.kept")
    assert saver.location(document) == f"Your design is kept in {file}."
    file.unlink()  # by whoever: only what is there is spoken of
    assert saver.location(document) == "Your last change is not kept: save the boat."
    saver.discard()
    document.close()


def test_a_change_kept_before_the_disk_was_full_is_not_called_the_last_one(qapp, small, monkeypatch):
    folder = small[0] / "kept"
    document, saver = Document(DESIGN), Autosave(folder)
    saver.follow(document)
    document.commit("Notes", noted("first"))
    assert "is kept in" in saver.location(document)
    fill(small, monkeypatch)
    document.commit("Notes", noted("n" * 9000))
    assert saver.location(document) == "Your last change is not kept: save the boat."
    assert from_text(next(folder.glob("*.kept")).read_bytes().partition(b"\n")[2]) == noted("first")  # it is still whole
    saver.discard()
    document.close()


def test_where_a_saved_design_is_is_said_and_of_nothing_that_can_be_lost_nothing(qapp, tmp_path):
    path = tmp_path / "boat.boltwell"
    document, saver = Document(DESIGN), Autosave(tmp_path / "kept")
    saver.follow(document)
    assert saver.location(document) == ""
    document.save(path)
    assert saver.location(document) == f"Your design is saved in {path}."
    path.unlink()
    assert saver.location(document) == ""
    document.close()


def test_settings_and_copies_stop_nothing(small, monkeypatch):
    path = small[0] / "boat.boltwell"
    monkeypatch.setenv("XDG_DATA_HOME", str(small[0] / "data"))
    remember(dark=True)
    _, seen = write_design(path, DESIGN)
    if small[1]:
        fill(small, monkeypatch)
        remember(dark=False, printers=())
        save_backup(seen)
        assert settings().dark is True  # whole, as it was


def test_a_paper_that_finds_no_room_leaves_the_last_one(small, monkeypatch):
    path = small[0] / "out.pdf"
    write_bytes(path, b"the last print")
    fill(small, monkeypatch)
    with pytest.raises(FileError, match="the disk is full"):
        write_bytes(path, b"x" * 9000)
    assert path.read_bytes() == b"the last print"
    assert not [file for file in path.parent.iterdir() if "part" in file.name]


EDITS = """
import os, sys
if os.environ.get("FULL"):
    exec(os.environ["REFUSES"]); builtins.open = _opening
import msgspec
from PySide6.QtCore import QCoreApplication, QTimer
from app.ui.dialogs import Dialogs
from app.window.file_actions import FileActions
from app.ui import error_messages as problems
from app.commands.command_line import main
from app.window.main_window import MainWindow
def choose(dialogs, sentence, answers):
    print("asked", sentence, flush=True)
    return 1 if answers[0] == "Save" else 0
Dialogs.choose = choose
problems._box = lambda sentence, details: print("box", sentence, flush=True)
def opened(actions, said, act=FileActions.opened):
    act(actions, said)
    document, window = actions._document, actions.parent()
    print("window", window.isVisible(), document.path, flush=True)
    for number in range(2):
        document.commit("Notes", msgspec.structs.replace(document.design, notes=str(number)))
    print("foot", window.foot.trouble, flush=True)
    print("notes", document.design.notes, flush=True)
    QTimer.singleShot(0, fault)
    QTimer.singleShot(300, QCoreApplication.quit)
def fault():
    raise ZeroDivisionError("a fault")
FileActions.opened = opened
sys.exit(main(sys.argv[1:]))
"""


def edits(small, path, *, full):
    """Start the window on a boat, change it twice, fail once, and leave; return what it said."""
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_DATA_HOME": str(path.parent / "data"), "PYTHONPATH": str(ROOT)}
    if full and not small[1]:
        env |= {"FULL": str(small[0]), "REFUSES": REFUSES}
    ran = subprocess.run(
        [sys.executable, "-c", EDITS, str(path)], env=env, capture_output=True, text=True, timeout=120, check=False
    )
    assert ran.returncode == 0, ran.stderr
    assert ran.stderr.count("Traceback") == 1, ran.stderr  # the fault that was made
    lines = [line.partition(" ")[::2] for line in ran.stdout.splitlines()]
    assert len(dict(lines)) == len(lines)
    return dict(lines)


@pytest.mark.parametrize("full", [True, False], ids=["full", "with room"])
def test_the_window_opens_and_editing_goes_on(small, monkeypatch, full):
    """The boat and what is kept are on the full disk. A fault speaks of a kept design only where there is one."""
    path = small[0] / "boat.boltwell"
    write_design(path, DESIGN)
    if full and small[1]:
        fill(small, monkeypatch)
    said = edits(small, path, full=full)
    assert said["window"] == f"True {path}"
    assert said["notes"] == "1"
    assert said["asked"] == "Save the changes to example?"  # on leaving, and nothing before
    if full:
        assert said["foot"] == "The last change is not kept against a crash: the disk is full. Save often."
        assert said["box"] == "A fault in this program. Your last change is not kept: save the boat."
    else:
        assert said["foot"] == ""
        assert said["box"].startswith(f"A fault in this program. Your design is kept in {path.parent / 'data'}")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="asks for a device that is always full")
def test_findings_that_cannot_be_written_are_one_sentence():
    code = "import sys; from app.commands.command_line import main; sys.exit(main(sys.argv[1:]))"
    words = [sys.executable, "-c", code, "check", str(Path(__file__).with_name("example.boltwell"))]
    with open("/dev/full", "w") as full:
        ran = subprocess.run(words, cwd=ROOT, stdout=full, stderr=subprocess.PIPE, text=True, timeout=60, check=False)
    assert ran.returncode == 2
    assert [line for line in ran.stderr.splitlines() if line.startswith("boltwell: The findings can't be written")]
    assert "Traceback" not in ran.stderr
