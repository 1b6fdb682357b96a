"""The files as Windows has them: no open file can be deleted, replaced or renamed, and a locked byte can't be read.

A new process takes that system's name before the locks are imported. Its `msvcrt`, `os.unlink` and `os.replace`
refuse as those of Windows do. The rules are in the documentation of LockFile, DeleteFile and MoveFileEx.
"""

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="asks which files are open")

ROOT = Path(__file__).resolve().parents[2]
AS_WINDOWS = """
import errno, fcntl, os, sys, types
from pathlib import Path
import app.starter.saying, app.ui.dates, geometry.design_text, hashlib, tempfile, subprocess

unlink, replace = os.unlink, os.replace

def locking(number, mode, count):
    at = os.lseek(number, 0, os.SEEK_CUR)
    assert (mode, count) == (2, 1) and at >= os.fstat(number).st_size, "it locks a byte that others read"
    fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)

def refuse_open(path):
    for number in os.listdir("/proc/self/fd"):
        try:
            same = os.path.samestat(os.stat(f"/proc/self/fd/{number}"), os.stat(path))
        except FileNotFoundError:
            continue
        if same:
            refused.append(str(path))
            raise PermissionError(errno.EACCES, "the file is open", str(path))

def windows_unlink(path, **how):
    refuse_open(path)
    unlink(path, **how)

def windows_replace(source, target, **how):
    refuse_open(source)
    refuse_open(target)
    replace(source, target, **how)

refused = []
os.unlink = os.remove = windows_unlink
os.replace = os.rename = windows_replace
sys.modules["msvcrt"] = types.SimpleNamespace(locking=locking, LK_NBLCK=2)
sys.platform = "win32"

folder = Path(sys.argv[1])
os.environ["LOCALAPPDATA"] = str(folder / "Local")
from app.document import backups, file_lock, files, outputs, recovery, settings
from geometry.design_text import from_text
import msgspec

def names(place):
    return sorted(each.name for each in place.iterdir() if each.is_file())

design = from_text(Path("tests/app/example.boltwell").read_bytes())
boat = folder / "boat.boltwell"
assert files.data_folder() == folder / "Local" / "Boltwell"
"""


def run(tmp_path, words):
    done = subprocess.run(
        [sys.executable, "-c", AS_WINDOWS + words, str(tmp_path)], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "whole\n", "")


def test_a_save_replaces_the_file_and_leaves_nothing_else(tmp_path):
    run(
        tmp_path,
        """
written, state = files.write_design(boat, design, None)
again = msgspec.structs.replace(design, notes="again")
written, state = files.write_design(boat, again, state)
assert files.read_design(boat)[0].notes == "again"
assert names(folder) == ["boat.boltwell"] and refused == []
backups.save_backup(state)
assert backups.load_backup(boat).design == again
outputs.write_output(folder / "paper.pdf", b"%PDF-1.4 /Creator (Boltwell) startxref")
outputs.write_output(folder / "paper.pdf", b"%PDF-1.4 /Creator (Boltwell) startxref again")
settings.remember(dark=True)
assert settings.settings().dark
assert names(folder) == ["boat.boltwell", "paper.pdf"] and refused == []
print("whole")
""",
    )


def test_a_save_over_a_file_that_another_program_has_open_is_refused_and_loses_nothing(tmp_path):
    run(
        tmp_path,
        """
_, state = files.write_design(boat, design, None)
before = boat.read_bytes()
with open(boat, "rb"):
    try:
        files.write_design(boat, msgspec.structs.replace(design, notes="new"), state)
    except files.FileError as sentence:
        assert str(sentence).startswith(str(boat)) and str(sentence).endswith("."), sentence
    else:
        raise AssertionError("it was replaced")
assert boat.read_bytes() == before and names(folder) == ["boat.boltwell"]
print("whole")
""",
    )


def test_one_window_has_the_lock_and_its_file_goes_with_it(tmp_path):
    run(
        tmp_path,
        """
mine = files.lock_design(boat)
assert mine is not None and files.lock_design(boat) is None
lock, = names(folder)
assert (folder / lock).read_text() == f"{os.getpid()}\\n"
mine.release()
mine.release()
assert names(folder) == [] and refused == []
again = files.lock_design(boat)
assert again is not None
again.release()
print("whole")
""",
    )


def test_a_file_of_a_living_process_stays_and_that_of_a_dead_one_goes(tmp_path):
    run(
        tmp_path,
        """
part, file = file_lock.create_part(folder, "boat.boltwell")
files.remove_leftovers(folder)
assert names(folder) == [part.name] and refused == [str(part)]
file.close()
files.remove_leftovers(folder)
assert names(folder) == []
print("whole")
""",
    )


def test_what_a_dead_process_left_is_offered_and_can_be_removed_or_set_aside(tmp_path):
    run(
        tmp_path,
        """
kept = folder / "kept"
savers = [recovery.Autosave(kept) for _ in range(2)]
for saver in savers:
    saver.write("Drop", design, None)
assert [saver.trouble for saver in savers] == ["", ""] and recovery.unsaved_designs(kept) == ()
for saver in savers:
    saver._lock._file.close()  # as the system does with a process that ends
first, second = recovery.unsaved_designs(kept)
assert recovery.unsaved_designs(kept) == ()
assert first.design == second.design == design
first.remove()
assert second.set_aside().exists()
assert recovery.unsaved_designs(kept) == () and refused == []
assert len(names(kept)) == 1, names(kept)
saver = recovery.Autosave(kept)
saver.write("Drop", design, None)
saver.discard()
assert len(names(kept)) == 1 and refused == []
print("whole")
""",
    )
