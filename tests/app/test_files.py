"""Designs in and out of real files: a file that can't be read gives one sentence and stays as it is."""

import errno
import os
import socket
import subprocess
import sys
import tempfile
from pathlib import Path

import msgspec
import pytest

from app.document import file_lock as held
from app.document.files import FileError, data_folder, lock_design, make_folder, read_design, write_bytes, write_design
from geometry.design_text import MOST_BYTES, from_text, to_text
from geometry.errors import OwnerError

ROOT = Path(__file__).resolve().parents[2]
TEXT = Path(__file__).with_name("example.boltwell").read_text(encoding="utf-8")
DESIGN = from_text(TEXT)
NEVER = ("error", "invalid", "please", "successfully", "oops", "must")

posix_only = pytest.mark.skipif(os.name == "nt", reason="asks for POSIX permissions or limits")


def sentence(refused):
    """Return the one sentence, having looked at how it speaks."""
    text = str(refused.value)
    assert "\n" not in text
    assert text.endswith(".")
    assert not [word for word in NEVER if word in text.lower().split()]
    return text


def edited(old, new):
    assert old in TEXT
    return TEXT.replace(old, new, 1).encode()


BAD = {
    "cut off": (TEXT[: len(TEXT) // 2].encode(), "breaks off"),
    "from the future": (edited('"boltwell": 1', '"boltwell": 9'), "newer Boltwell"),
    "misspelt": (edited('"rake"', '"rakke"'), "rakke"),
    "missing": (edited('"deadrise": 12.0, ', ""), "deadrise"),
    "not a number": (edited('"rake": 14.0', '"rake": NaN'), "rake"),
    "without end": (edited('"rake": 14.0', '"rake": 1e999'), "too large"),
    "text for a number": (edited('"rake": 14.0', '"rake": "14"'), "rake"),
    "not UTF-8": (edited("example", "exämple").decode().encode("latin-1"), "UTF-8"),
    "too long a name": (edited('"name": "example"', f'"name": "{"x" * 201}"'), "200"),
    "empty": (b"", "breaks off"),
    "a picture": (b"\x89PNG\r\n\x1a\n", "UTF-8"),
    "over 5 MB": (TEXT.encode() + b" " * MOST_BYTES, "5 MB"),
}  # fmt: skip


@pytest.mark.parametrize("case", BAD)
def test_a_file_that_cannot_be_read_gives_a_sentence_and_is_never_replaced(case, tmp_path):
    raw, word = BAD[case]
    path = tmp_path / "boat.boltwell"
    path.write_bytes(raw)
    with pytest.raises(OwnerError, match=r"^boat\.boltwell") as refused:
        read_design(path)
    assert word in sentence(refused)
    for over in (False, True):
        with pytest.raises(OwnerError, match="stays as it is") as refused:
            write_design(path, DESIGN, over=over)
        sentence(refused)
    assert path.read_bytes() == raw
    assert list(tmp_path.iterdir()) == [path]


def test_a_file_of_5_mb_is_still_read(tmp_path):
    path = tmp_path / "boat.boltwell"
    path.write_bytes(TEXT.encode().ljust(MOST_BYTES))
    assert read_design(path)[0] == DESIGN


NO_FILES = {
    "a device without end": lambda folder: Path("/dev/zero"),
    "a device that holds nothing": lambda folder: Path("/dev/null"),
    "a pipe": lambda folder: piped(folder / "pipe.boltwell"),
    "a link to a pipe": lambda folder: (folder / "l").symlink_to(piped(folder / "p")) or folder / "l",
    "a socket": lambda folder: listening(folder / "socket"),
}


def piped(path):
    os.mkfifo(path)
    return path


def listening(path):
    with socket.socket(socket.AF_UNIX) as made:
        made.bind(str(path))
    return path


@posix_only
@pytest.mark.parametrize("kind", NO_FILES)
def test_what_is_no_file_is_refused_and_not_waited_for(kind, tmp_path):
    """Nobody writes to the pipe: to open it the usual way waits without end."""
    path = NO_FILES[kind](tmp_path)
    with pytest.raises(FileError, match="is not a file but a pipe or a device") as refused:
        read_design(path)
    sentence(refused)
    with pytest.raises(FileError, match="stays as it is"):
        write_design(path, DESIGN, over=True)


@posix_only
def test_a_pipe_that_comes_in_the_place_of_a_file_is_not_waited_for(tmp_path, monkeypatch):
    """Between the look at the name and the opening of it."""
    path, file = tmp_path / "pipe", tmp_path / "file"
    file.touch()
    os.mkfifo(path)
    real_stat = os.stat
    monkeypatch.setattr("app.document.files.os.stat", lambda name, **words: real_stat(file if name == path else name, **words))
    with pytest.raises(FileError, match="not a file but a pipe"):
        read_design(path)


@pytest.mark.parametrize("name", ["a\0b.boltwell", "\ud800.boltwell"])
def test_a_name_that_no_file_can_have(name, tmp_path):
    path = tmp_path / name
    for doing in (lambda: read_design(path), lambda: write_design(path, DESIGN), lambda: write_bytes(path, b"")):
        with pytest.raises(FileError, match="no name that a file can have") as refused:
            doing()
        assert sentence(refused).isascii()


GONE = """
import os, sys
from pathlib import Path
from app.commands.command_line import main
from app.document.files import lock_design, make_folder, read_bytes
from geometry.errors import OwnerError
os.rmdir(os.getcwd())
code = main(["sheet", sys.argv[1], "--to", "out.pdf"])
for words in (["check", "boat.boltwell"], ["fit", sys.argv[1], "--save", "best.boltwell"],
              ["demo", "--to", "here", "--no-window"], ["template", sys.argv[1], "--to", "../out.svg"]):
    code = min(code, main(words))
print(code)
"""


@posix_only
def test_from_a_folder_that_was_deleted_each_command_is_one_sentence(tmp_path):
    folder = tmp_path / "gone"
    folder.mkdir()
    command = [sys.executable, "-c", GONE, str(ROOT / "tests/app/example.boltwell")]
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    ran = subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True, timeout=60, check=False)
    lines = [line for line in ran.stderr.splitlines() if line.startswith("boltwell: ")]
    assert len(lines) == 5, ran.stderr
    assert "Traceback" not in ran.stderr
    assert ran.stdout.splitlines()[-1] == "2"
    assert all("is gone" in line or "no file" in line for line in lines)


def test_a_missing_file_and_a_folder(tmp_path):
    with pytest.raises(FileError, match="There is no file") as refused:
        read_design(tmp_path / "missing.boltwell")
    sentence(refused)
    for doing in (lambda: read_design(tmp_path), lambda: write_design(tmp_path, DESIGN)):
        with pytest.raises(FileError, match="is a folder") as refused:
            doing()
        sentence(refused)
    with pytest.raises(FileError, match="there is no folder") as refused:
        write_design(tmp_path / "missing" / "boat.boltwell", DESIGN)
    sentence(refused)
    assert list(tmp_path.iterdir()) == []


def test_save_then_load_is_equal(tmp_path):
    path = tmp_path / "boat.boltwell"
    written, seen = write_design(path, DESIGN)
    assert read_design(path) == (written, seen)
    assert written == DESIGN


def test_saving_again_and_again(tmp_path):
    path = tmp_path / "boat.boltwell"
    _, seen = write_design(path, DESIGN)
    changed = msgspec.structs.replace(DESIGN, notes="second")
    _, seen = write_design(path, changed, seen)
    assert read_design(path)[0] == changed
    path.unlink()  # taken away behind our back: nothing is lost by writing it again
    write_design(path, DESIGN, seen)
    assert read_design(path)[0] == DESIGN


def test_a_file_that_changed_since_is_not_written_over(tmp_path):
    path = tmp_path / "boat.boltwell"
    design, seen = write_design(path, DESIGN)
    theirs = to_text(msgspec.structs.replace(DESIGN, notes="theirs")).encode()
    path.write_bytes(theirs)
    with pytest.raises(FileError, match=r"^Another window saved this boat at \d\d:\d\d\.") as refused:
        write_design(path, design, seen)
    sentence(refused)
    assert path.read_bytes() == theirs
    path.write_bytes(b"{")
    with pytest.raises(FileError, match=r"^boat\.boltwell: The file breaks off .* Save under another name\.$") as refused:
        write_design(path, design, seen)
    sentence(refused)
    assert path.read_bytes() == b"{"


def test_another_boat_is_written_over_only_where_it_may_be_lost(tmp_path):
    path, other = tmp_path / "boat.boltwell", tmp_path / "other.boltwell"
    design, seen = write_design(path, DESIGN)
    write_design(other, msgspec.structs.replace(DESIGN, notes="another"))
    with pytest.raises(FileError, match="is there already, and the boat in it would be lost") as refused:
        write_design(other, design, seen)
    sentence(refused)
    assert read_design(other)[0].notes == "another"
    write_design(other, design, seen, over=True)
    assert read_design(other)[0] == design


def test_touched_but_equal_is_no_change(tmp_path):
    path = tmp_path / "boat.boltwell"
    design, seen = write_design(path, DESIGN)
    path.write_bytes(path.read_bytes())
    assert write_design(path, design, seen) == (design, seen)


def test_a_demonstration_is_one_until_it_has_another_name(tmp_path):
    shown = msgspec.structs.replace(DESIGN, demonstration=True)
    path = tmp_path / "demo.boltwell"
    path.write_text(to_text(shown), encoding="utf-8")
    design, seen = read_design(path)
    assert write_design(path, design, seen)[0].demonstration is True
    assert write_design(tmp_path / "mine.boltwell", design, seen)[0].demonstration is False
    assert read_design(tmp_path / "mine.boltwell")[0] == DESIGN
    assert read_design(path)[0] == shown


@posix_only
def test_the_mode_stays_and_a_link_stays_a_link(tmp_path):
    path, link = tmp_path / "boat.boltwell", tmp_path / "link.boltwell"
    _, seen = write_design(path, DESIGN)
    umask = os.umask(0)
    os.umask(umask)
    assert path.stat().st_mode & 0o777 == 0o666 & ~umask
    path.chmod(0o640)
    link.symlink_to(path)
    changed = msgspec.structs.replace(DESIGN, notes="through the link")
    write_design(link, changed, seen)
    assert link.is_symlink()
    assert read_design(path)[0] == changed
    assert path.stat().st_mode & 0o777 == 0o640


@pytest.fixture
def anybody():
    """A folder that anybody may enter, as somebody whom permissions bind (root passes every one)."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o777)
        root = os.geteuid() == 0
        if root:
            os.seteuid(65534)
        try:
            yield folder
        finally:
            if root:
                os.seteuid(0)


@posix_only
def test_a_folder_or_a_file_without_permission(anybody):
    path = anybody / "boat.boltwell"
    _, seen = write_design(path, DESIGN)
    before = path.read_bytes()
    changed = msgspec.structs.replace(DESIGN, notes="changed")
    path.chmod(0o444)
    with pytest.raises(FileError, match="not allowed") as refused:
        write_design(path, changed, seen)
    sentence(refused)
    path.chmod(0o600)
    inner = anybody / "inner"
    inner.mkdir()
    (inner / "boat.boltwell").write_bytes(before)
    inner.chmod(0o555)
    with pytest.raises(FileError, match="not allowed") as refused:
        write_design(inner / "boat.boltwell", changed, read_design(inner / "boat.boltwell")[1])
    sentence(refused)
    with pytest.raises(FileError, match="not allowed"):
        write_bytes(inner / "new.pdf", b"%PDF")
    with pytest.raises(FileError, match="can't be made"):
        make_folder(inner / "deeper")
    lock = lock_design(inner / "boat.boltwell")
    assert lock is not None  # where no lock can be made, nobody can save either
    lock.release()
    assert [file.name for file in inner.iterdir()] == ["boat.boltwell"]
    assert (inner / "boat.boltwell").read_bytes() == before
    path.chmod(0o000)
    with pytest.raises(FileError, match="can't be read") as refused:
        read_design(path)
    sentence(refused)
    path.chmod(0o600)
    assert path.read_bytes() == before
    inner.chmod(0o777)


def run_child(code, *words):
    command = [sys.executable, "-c", code, *map(str, words)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=60, check=False)


FULL = """
import resource, sys
from pathlib import Path
from app.document.files import read_design, write_bytes, write_design
from geometry.errors import OwnerError
path = Path(sys.argv[1])
design, seen = read_design(path)
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, resource.RLIM_INFINITY))
for writing in (lambda: write_design(path, design, seen), lambda: write_bytes(path.with_name("new.pdf"), b"x" * 2000)):
    try:
        writing()
    except OwnerError as sentence:
        print(sentence)
"""


@posix_only
def test_a_full_disk_leaves_the_old_file_whole(tmp_path):
    """A limit on a file's size stops a write part way, just as a full disk does."""
    path = tmp_path / "boat.boltwell"
    write_design(path, DESIGN)
    before = path.read_bytes()
    assert len(before) > 1000
    ran = run_child(FULL, path)
    assert ran.stderr == ""
    sentences = ran.stdout.splitlines()
    assert len(sentences) == 2
    assert all("the disk is full. Make room" in sentence for sentence in sentences)
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


KILLED = """
import sys
from pathlib import Path
import app.document.files as files
step, path = sys.argv[1], Path(sys.argv[2])
design, seen = files.read_design(path)
import os, signal
def watch(event, args):
    if event == step and (step != "open" or str(args[0]).endswith(".part")):
        os.kill(os.getpid(), signal.SIGKILL)
sys.addaudithook(watch)
import msgspec
files.write_design(path, msgspec.structs.replace(design, notes="new"), seen)
"""


@posix_only
@pytest.mark.parametrize("event", ["open", "os.chmod", "os.rename"])
def test_killed_in_the_middle_of_writing_leaves_the_old_file(event, tmp_path):
    path = tmp_path / "boat.boltwell"
    write_design(path, DESIGN)
    assert run_child(KILLED, event, path).returncode == -9
    assert read_design(path)[0] == DESIGN


WRITES_ON = """
import sys
from pathlib import Path
import msgspec
from app.document.files import read_design, write_design
path = Path(sys.argv[1])
design, seen = read_design(path)
print("ready", flush=True)
for number in range(10**9):
    changed = msgspec.structs.replace(design, revision=number, notes="n" * (number % 7) * 9999)
    _, seen = write_design(path, changed, seen)
"""


def test_killed_at_any_moment_leaves_a_whole_file(tmp_path):
    path = tmp_path / "boat.boltwell"
    write_design(path, DESIGN)
    for pause in (0.0, 0.003, 0.011, 0.04):
        with subprocess.Popen(
            [sys.executable, "-c", WRITES_ON, str(path)], cwd=ROOT, stdout=subprocess.PIPE, text=True
        ) as child:
            assert child.stdout is not None
            assert child.stdout.readline() == "ready\n"
            try:
                child.wait(pause)
            except subprocess.TimeoutExpired:
                child.kill()
        assert child.returncode != 0
        design, _ = read_design(path)
        assert msgspec.structs.replace(design, revision=1, notes="") == DESIGN


HOLDS = """
import sys, time
from pathlib import Path
from app.document.files import lock_design
held = lock_design(Path(sys.argv[1]))
print(held is not None, flush=True)
time.sleep(60)
"""


def test_a_lock_ends_with_its_process(tmp_path):
    path = tmp_path / "boat.boltwell"
    write_design(path, DESIGN)
    lock = tmp_path / ".boat.boltwell.lock"
    command = [sys.executable, "-c", HOLDS, str(path)]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        assert child.stdout.readline() == "True\n"
        assert lock.read_text() == f"{child.pid}\n"
        assert lock_design(path) is None
        child.kill()
    assert lock.exists()
    mine = lock_design(path)
    assert mine is not None
    assert lock.read_text() == f"{os.getpid()}\n"
    assert lock_design(path) is None
    mine.release()
    mine.release()
    assert not lock.exists()


def test_the_data_folder_is_where_the_system_wants_it(monkeypatch, tmp_path):
    """XDG Base Directory Specification 0.8 on Linux: $XDG_DATA_HOME, where that is an absolute path."""
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    assert data_folder() == tmp_path / "data" / "boltwell"
    for ignored in ("", "relative"):
        monkeypatch.setenv("XDG_DATA_HOME", ignored)
        assert data_folder() == tmp_path / ".local" / "share" / "boltwell"


def test_a_name_that_is_too_long(tmp_path):
    with pytest.raises(FileError, match="too long") as refused:
        write_bytes(tmp_path / ("ä" * 200 + ".pdf"), b"")
    sentence(refused)
    assert refused.value.__cause__.errno == errno.ENAMETOOLONG


LEAVES = """
import os, sys, time
from pathlib import Path
from app.document.files import lock_design
from app.document.file_lock import create_part
path = Path(sys.argv[1])
held = lock_design(path)
part, file = create_part(path.parent, path.name)
file.write(b"half")
print(part.name, flush=True)
time.sleep(60)
"""


def test_what_a_killed_process_left_goes_with_the_next_save_and_what_a_living_one_has_stays(tmp_path):
    """Half a file and the lock of a boat: its process decides, not its age."""
    mine, theirs = tmp_path / "boat.boltwell", tmp_path / "theirs.boltwell"
    others = {tmp_path / "notes.part", tmp_path / ".notes.pdf.0badcafe.part", tmp_path / ".lock"}
    for file in others:
        file.write_bytes(b"somebody else's")
    earlier = tmp_path / ".boat.boltwell.0badcafe.part"  # as an earlier version named what it wrote
    earlier.write_bytes(b"half")
    command = [sys.executable, "-c", LEAVES, str(theirs)]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        left = {tmp_path / child.stdout.readline().strip(), tmp_path / ".theirs.boltwell.lock"}
        _, seen = write_design(mine, DESIGN, None)
        assert set(tmp_path.iterdir()) == {mine, *others, *left}
        child.kill()
    assert set(tmp_path.iterdir()) == {mine, *others, *left}
    write_design(mine, DESIGN, seen)
    assert set(tmp_path.iterdir()) == {mine, *others}


def test_a_file_begun_while_another_process_clears_up_is_begun_again(tmp_path, monkeypatch):
    """A new file has its name before its process holds it: taken away in between, it is begun under another."""
    real_take = held._take
    taken: list[str] = []

    def take(file):
        if not taken:
            taken.append(os.listdir(tmp_path)[0])
            os.unlink(tmp_path / taken[0])
        return real_take(file)

    monkeypatch.setattr(held, "_take", take)
    write_bytes(tmp_path / "a.pdf", b"whole")
    assert (tmp_path / "a.pdf").read_bytes() == b"whole"
    assert os.listdir(tmp_path) == ["a.pdf"]
