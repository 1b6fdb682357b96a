"""The window's start: what a crash left comes back, what can't be read is told, and where there is no screen it is said."""

import ast
import os
import subprocess
import sys
from functools import partial
from pathlib import Path

import msgspec
import pytest

from app.asking import Asking
from app.autosave import Autosave, left_behind
from app.commands import main
from app.demonstration import demonstration
from app.desk import Desk
from app.main_window import MainWindow
from app.program import bring_back, has_screen
from app.settings import Settings
from geometry.design.design_text import from_text

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = Path(__file__).with_name("example.boltwell")
DESIGN = from_text(EXAMPLE.read_bytes())

linux_only = pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="there is always a screen there")


@pytest.fixture
def nowhere(monkeypatch):
    """No screen, and nothing said of one."""
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)


@linux_only
@pytest.mark.parametrize(
    ("told", "seen"),
    [
        ({}, False),
        ({"DISPLAY": ""}, False),
        ({"DISPLAY": ":0"}, True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, True),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, False),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "minimal:enable_fonts"}, False),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "xcb"}, True),
    ],
)
def test_a_screen_is_there_where_one_is_told_of(told, seen, nowhere, monkeypatch):
    for name, value in told.items():
        monkeypatch.setenv(name, value)
    assert has_screen() is seen


@linux_only
@pytest.mark.parametrize("words", [[], [str(EXAMPLE)], ["BOAT.BOLTWELL"]])
def test_without_a_screen_the_window_is_one_sentence(words, nowhere, capsys):
    assert main(words) == 2
    assert capsys.readouterr().err.startswith("boltwell: There is no screen here")


def test_the_demonstration_boat_is_one():
    assert demonstration().demonstration is True


LEAVES = """
import os, signal, sys
from pathlib import Path
import msgspec
from app.autosave import Autosave, kept_folder
from app.files import read_design
design, seen = read_design(Path(sys.argv[2]))
Autosave().keep(sys.argv[1], msgspec.structs.replace(design, notes=sys.argv[1]), seen if sys.argv[3:] else None)
os.kill(os.getpid(), getattr(signal, "SIGKILL", signal.SIGTERM))
"""


def leave(label, data, path=None):
    command = [sys.executable, "-c", LEAVES, label, *([str(path), "its own"] if path else [str(EXAMPLE)])]
    ran = subprocess.run(command, cwd=ROOT, env={**os.environ, "XDG_DATA_HOME": str(data)}, timeout=60, check=False)
    assert ran.returncode != 0


@linux_only
def test_what_a_crash_left_comes_back_one_at_a_start(qapp, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    leave("Drop to 8 in", tmp_path)
    leave("Drop to 7 1/4 in", tmp_path)
    desk, saver = Desk(DESIGN), Autosave()
    saver.follow(desk)
    said = bring_back(desk, saver)
    assert said == (
        'The program closed without saving. Your last change, "Drop to 7 1/4 in", is here. '
        "One more comes back at the next start."
    )
    assert desk.design == msgspec.structs.replace(DESIGN, notes="Drop to 7 1/4 in")
    assert desk.changed_since_saved
    desk.save(tmp_path / "boat.boltwell")
    assert bring_back(desk, saver) == ('The program closed without saving. Your last change, "Drop to 8 in", is here.')
    saver.drop()
    assert left_behind() == ()
    assert bring_back(desk, saver) == ""
    desk.close()


@linux_only
@pytest.mark.parametrize("damaged", [False, True])
def test_what_a_crash_left_of_a_file_comes_back_with_that_file(qapp, tmp_path, monkeypatch, damaged):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    told = []
    monkeypatch.setattr(Asking, "tell", lambda _asking, sentence: told.append(sentence))
    boat = tmp_path / "boat.boltwell"
    boat.write_bytes(EXAMPLE.read_bytes())
    leave("Drop to 7 in", tmp_path, boat)
    leave("Drop to 8 in", tmp_path)  # of no file
    if damaged:
        boat.write_bytes(b"{")
    desk, saver = Desk(DESIGN), Autosave()
    saver.follow(desk)
    assert bring_back(desk, saver, tmp_path / "other.boltwell") == ""
    window = MainWindow(desk)
    window.doors.bring_back = partial(bring_back, desk, saver)
    window.doors.open_path(boat)
    assert window.foot.said == 'The program closed without saving. Your last change, "Drop to 7 in", is here.'
    assert [sentence.split(":")[0] for sentence in told] == ["boat.boltwell"] * damaged
    assert (desk.path, desk.design.notes, desk.changed_since_saved) == (boat, "Drop to 7 in", True)
    desk.undo()
    assert desk.design.notes == ("Drop to 7 in" if damaged else DESIGN.notes)
    saver.drop()
    (other,) = left_behind()
    assert other.label == "Drop to 8 in"
    other.remove()
    desk.close()
    window.deleteLater()


STARTS = """
import sys
from PySide6.QtCore import QCoreApplication, QTimer
from app.asking import Asking
from app.commands import main
from app.doors import Doors
def choose(asking, sentence, answers):
    print(repr((asking._window.hint.isVisible(), sentence, answers)), flush=True)
    return 1 if answers[0] == "Save" else 0
Asking.choose = choose
def leaving(act):
    def acts(*words):
        act(*words)
        QTimer.singleShot(100, QCoreApplication.quit)
    return acts
Doors.opened, Doors.refuse = leaving(Doors.opened), leaving(Doors.refuse)
sys.exit(main(sys.argv[1:]))
"""


def start(folder, *words):
    """Start the window in ``folder``, take the first answer to what it asks, and leave it without saving."""
    environment = {
        **os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_DATA_HOME": str(folder / "data"), "PYTHONPATH": str(ROOT),
    }  # fmt: skip
    command = [sys.executable, "-c", STARTS, *words]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, env=environment, timeout=60, check=False)


@pytest.mark.parametrize("words", [[], ["boat.boltwell"]])
def test_the_window_starts_and_ends_and_leaves_nothing_behind(words, tmp_path):
    (tmp_path / "boat.boltwell").write_bytes(EXAMPLE.read_bytes())
    ran = start(tmp_path, *words)
    assert ran.returncode == 0, ran.stderr
    assert "Traceback" not in ran.stderr
    left = sorted(str(file.relative_to(tmp_path)) for file in tmp_path.rglob("*") if file.is_file())
    assert left[0] == "boat.boltwell"
    if words:  # a copy of it, and that it was lately open
        assert [Path(name).parent.name for name in left[1:]] == ["copies", "boltwell"]
        assert (tmp_path / left[1]).read_bytes() == EXAMPLE.read_bytes()
    else:  # the window's place alone
        assert left[1:] == ["data/boltwell/settings.json"]
        kept = msgspec.json.decode((tmp_path / left[1]).read_bytes(), type=Settings)
        assert kept == Settings(place=kept.place)
    assert (tmp_path / "boat.boltwell").read_bytes() == EXAMPLE.read_bytes()
    assert ran.stdout == ""


@pytest.mark.parametrize(
    ("raw", "told"),
    [(b"{", "boat.boltwell: The file breaks off"), (b'{"boltwell": 99}', "a newer Boltwell"), (None, "There is no file")],
)
def test_a_file_that_cannot_be_read_is_told_in_the_window(raw, told, tmp_path):
    path, remembered = tmp_path / "boat.boltwell", tmp_path / "data" / "boltwell" / "settings.json"
    if raw is not None:
        path.write_bytes(raw)
    remembered.parent.mkdir(parents=True)
    remembered.write_text('{"hint_read": true}')
    ran = start(tmp_path, path.name)
    assert ran.returncode == 0, ran.stderr
    assert "Traceback" not in ran.stderr
    hinted, sentence, answers = ast.literal_eval(ran.stdout)
    assert hinted  # what lies on the desk is the demonstration boat, and nobody takes it for their own
    assert told in sentence
    assert answers == ("Go on",)
    kept = msgspec.json.decode(remembered.read_bytes(), type=Settings)
    assert kept == Settings(hint_read=True, place=kept.place)  # it is not among those lately open
    assert list(remembered.parent.iterdir()) == [remembered]
    assert raw is None or path.read_bytes() == raw


def test_a_file_that_was_damaged_since_it_was_open_comes_with_its_copy(tmp_path):
    path = tmp_path / "boat.boltwell"
    path.write_bytes(EXAMPLE.read_bytes())
    assert start(tmp_path, path.name).stdout == ""
    path.write_bytes(b"{")
    ran = start(tmp_path, path.name)
    assert ran.returncode == 0, ran.stderr
    (_, sentence, answers), (_, leaving, _) = map(ast.literal_eval, ran.stdout.splitlines())
    assert sentence.startswith("boat.boltwell: The file breaks off")
    assert answers[0] == "Open the copy"
    assert leaving == "Save the changes to example?"
    assert path.read_bytes() == b"{"


START = """
import inspect, sys
from app.program import hurry
hurry()
before = set(sys.modules)
from app.light import start
from app.demonstration import demonstration
from app.desk import Desk
from app.main_window import MainWindow
application = start()
desk = Desk(demonstration())
window = MainWindow(desk)
window.show()
application.processEvents()
ours = [one for name, one in sys.modules.items() if name.startswith(("app.", "geometry.", "templates_out."))]
late = [one.__name__ for one in ours if one.__name__ not in before and "PySide6" not in inspect.getsource(one)]
early = {name.partition(".")[0] for name in before} & {"PySide6", "shiboken6"}
print(sorted(early), [name for name in late if name.count(".") > 1])
print(sorted({name.partition(".")[0] for name in sys.modules} & {"shapely", "numpy", "reportlab", "pypdfium2"}))
"""


def test_what_needs_no_qt_is_loaded_before_it_and_what_is_large_not_at_all(tmp_path):
    """A few small modules may come later; some tens would cost a twentieth of the start."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_DATA_HOME": str(tmp_path)}
    ran = subprocess.run(
        [sys.executable, "-c", START], cwd=ROOT, env=environment, capture_output=True, text=True, check=True, timeout=120
    )
    first, large = ran.stdout.splitlines()
    assert first.startswith("[] ")
    assert first.count("'") // 2 <= 6, first
    assert large == "[]"
