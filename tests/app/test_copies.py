"""The last good copy of a boat's file: what is kept, for whom, and how long."""

import os
import sys
import time
from pathlib import Path

import msgspec
import pytest

from app.document.backups import LONGEST, MOST, backups_folder, load_backup, save_backup
from app.document.files import read_design, write_design
from geometry.design_text import from_text
from geometry.errors import OwnerError

DESIGN = from_text(Path(__file__).with_name("example.boltwell").read_bytes())

posix_only = pytest.mark.skipif(os.name == "nt", reason="asks for POSIX permissions, links or pipes")


@pytest.fixture(autouse=True)
def data(tmp_path, monkeypatch):
    """A data folder of the test's own, which is not made yet."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "data"))
    monkeypatch.setenv("HOME", str(tmp_path / "data"))


def saved(path, notes="", seen=None):
    """Save the example with some notes and keep a copy of it; return the design and what was seen."""
    path.parent.mkdir(parents=True, exist_ok=True)
    design, seen = write_design(path, msgspec.structs.replace(DESIGN, notes=notes), seen)
    save_backup(seen)
    return design, seen


def test_what_was_written_whole_is_kept_to_the_byte(tmp_path):
    path = tmp_path / "boat.boltwell"
    before = time.time()
    design, seen = saved(path, "first")
    copy = load_backup(path)
    assert (copy.design, copy.file_state) == (design, seen)
    assert before - 2 <= copy.at <= time.time() + 2  # s: a file's time may be that coarse
    (file,) = backups_folder().iterdir()
    assert file.read_bytes() == path.read_bytes()
    assert file.name.startswith("boat ")
    changed, seen = saved(path, "second", seen)
    assert load_backup(path).design == changed
    assert len(list(backups_folder().iterdir())) == 1


def test_boats_of_one_name_stay_apart_and_a_long_name_fits(tmp_path):
    for folder in ("one", "two"):
        saved(tmp_path / folder / "boat.boltwell", folder)
    long = tmp_path / f"{'舟' * 70}.boltwell"
    saved(long, "long")
    assert [load_backup(tmp_path / folder / "boat.boltwell").design.notes for folder in ("one", "two")] == ["one", "two"]
    assert load_backup(long).design.notes == "long"
    assert load_backup(tmp_path / "boat.boltwell") is None


@posix_only
def test_a_link_leads_to_the_same_copy(tmp_path):
    path, link = tmp_path / "boat.boltwell", tmp_path / "link.boltwell"
    _, seen = saved(path)
    link.symlink_to(path)
    assert load_backup(link).file_state == seen


@pytest.mark.parametrize("now", [b"{", None, b"theirs"])
def test_a_file_that_changed_since_is_not_kept(tmp_path, now):
    path = tmp_path / "boat.boltwell"
    design, seen = saved(path, "good")
    if now is None:
        path.unlink()
    else:
        path.write_bytes(path.read_bytes().replace(b"good", b"theirs") if now == b"theirs" else now)
    save_backup(seen)
    assert load_backup(path).design == design


def test_a_backup_replaces_no_later_file_but_a_missing_one(tmp_path):
    path = tmp_path / "boat.boltwell"
    saved(path, "good")
    path.write_bytes(b"{")
    copy = load_backup(path)
    with pytest.raises(OwnerError, match="stays as it is"):
        write_design(path, copy.design, copy.file_state)
    assert path.read_bytes() == b"{"
    path.unlink()
    write_design(path, copy.design, copy.file_state)
    assert read_design(path)[0] == copy.design


def aged(path, seconds):
    """Make a copy older than it is."""
    (file,) = backups_folder().glob(f"{path.stem} *")
    os.utime(file, (time.time() - seconds,) * 2)


def test_the_newest_stay_and_none_for_ever(tmp_path):
    paths = [tmp_path / f"{number}.boltwell" for number in range(MOST + 3)]
    for number, path in enumerate(paths):
        saved(path)
        aged(path, 60.0 * (len(paths) - number))
    assert [path for path in paths if load_backup(path)] == paths[3:]
    aged(paths[5], LONGEST + 60)
    saved(paths[-1], seen=read_design(paths[-1])[1])
    assert [path for path in paths if load_backup(path)] == [path for path in paths[3:] if path != paths[5]]


@posix_only
def test_nobody_else_looks_into_them(tmp_path):
    saved(tmp_path / "boat.boltwell")
    assert backups_folder().stat().st_mode & 0o777 == 0o700


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="asks for a disk that is always full")
@pytest.mark.parametrize("way", ["no folder", "full disk"])
def test_where_none_can_be_kept_nothing_stops(tmp_path, way, monkeypatch):
    path = tmp_path / "boat.boltwell"
    if way == "no folder":
        (tmp_path / "data").write_text("in the way")
    else:
        backups_folder().mkdir(parents=True)
        monkeypatch.setattr("app.document.backups._copy_of", lambda _path: Path("/dev/full"))
    design, seen = saved(path)
    assert read_design(path) == (design, seen)
    monkeypatch.undo()
    assert load_backup(path) is None


@pytest.mark.parametrize("raw", [b"{", b'{"boltwell": 99}', b"\xff"])
def test_a_copy_that_cannot_be_read_is_none(tmp_path, raw):
    path = tmp_path / "boat.boltwell"
    saved(path)
    next(backups_folder().iterdir()).write_bytes(raw)
    assert load_backup(path) is None


@posix_only
@pytest.mark.skipif(sys.platform == "win32", reason="no pipes with names there")
def test_a_pipe_is_not_read_a_second_time(tmp_path):
    path = tmp_path / "boat.boltwell"
    _, seen = write_design(path, DESIGN)
    path.unlink()
    os.mkfifo(path)
    save_backup(seen)  # it would wait for ever
    assert not backups_folder().exists()
