"""The window's start: an unsaved design comes back. A file that can't be read gives a sentence, as does a missing screen."""

import ast
import json
import os
import shutil
import socket
import subprocess
import sys
from functools import partial
from pathlib import Path

import msgspec
import pytest

from app.commands.command_line import main
from app.document.document import Document
from app.document.examples import demonstration
from app.document.recovery import Autosave, unsaved_designs
from app.document.settings import Settings, remember_boat
from app.ui.dialogs import Dialogs
from app.window.main_window import MainWindow
from app.window.program import clean_up, recover_unsaved
from app.window.screen_check import has_screen, why_no_window
from geometry.design_text import from_text
from geometry.errors import OwnerError

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
    ("variables", "seen"),
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
def test_a_screen_is_there_where_the_environment_names_one(variables, seen, nowhere, monkeypatch):
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    assert has_screen() is seen


@linux_only
@pytest.mark.parametrize("words", [[], [str(EXAMPLE)], ["BOAT.BOLTWELL"]])
def test_without_a_screen_the_window_is_one_sentence(words, nowhere, capsys):
    assert main(words) == 2
    assert capsys.readouterr().err.startswith("boltwell: There is no screen here")


DEAD = ":4711"  # far beyond the screens of any machine


@linux_only
@pytest.mark.parametrize(
    ("named", "said"),
    [
        ({"DISPLAY": DEAD}, f"The screen (DISPLAY={DEAD}) does not answer"),
        ({"DISPLAY": "nonsense"}, "The screen (DISPLAY=nonsense) does not answer"),
        ({"DISPLAY": DEAD, "QT_QPA_PLATFORM": "xcb"}, "does not answer"),
        ({"DISPLAY": DEAD, "QT_QPA_PLATFORM": "wayland;xcb"}, "does not answer"),
        ({"WAYLAND_DISPLAY": "wayland-9", "XDG_RUNTIME_DIR": "/nowhere"}, "The screen (WAYLAND_DISPLAY=wayland-9) does not"),
        ({"QT_QPA_PLATFORM": "typewriter"}, "QT_QPA_PLATFORM names typewriter, which Qt does not know"),
    ],
)
def test_a_screen_that_does_not_answer_is_one_sentence_and_no_abort(named, said, nowhere, monkeypatch):
    """Qt itself would end the process by a signal; so this is a second process."""
    for name, value in named.items():
        monkeypatch.setenv(name, value)
    code = "import sys; from app.commands.command_line import main; sys.exit(main(sys.argv[1:]))"
    for words in ([], [str(EXAMPLE)]):
        ran = subprocess.run(
            [sys.executable, "-c", code, *words], cwd=ROOT, capture_output=True, text=True, timeout=60, check=False
        )
        assert ran.returncode == 2, ran.stderr
        (line,) = ran.stderr.splitlines()
        assert said in line


@linux_only
@pytest.mark.skipif(shutil.which("Xvfb") is None, reason="a screen of its own needs Xvfb")
def test_a_screen_that_answers_until_it_is_gone(nowhere, monkeypatch):
    reader, writer = os.pipe()
    words = ["Xvfb", "-displayfd", str(writer), "-nolisten", "tcp", "-noreset"]  # a reset after each client answers nobody
    screen = subprocess.Popen(words, pass_fds=(writer,), stderr=subprocess.DEVNULL)
    try:
        os.close(writer)
        with os.fdopen(reader) as number:
            monkeypatch.setenv("DISPLAY", f":{number.readline().strip()}")
        assert why_no_window() == ""
        monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-9")  # dead; Qt goes on to the other
        assert why_no_window() == ""
        monkeypatch.setenv("QT_QPA_PLATFORM", "wayland")
        assert "does not answer" in why_no_window()
        monkeypatch.delenv("QT_QPA_PLATFORM")
    finally:  # a failure must not wait for the screen for ever
        screen.kill()
        screen.wait()
    assert "does not answer" in why_no_window()


@linux_only
def test_a_wayland_screen_answers_where_somebody_listens(nowhere, monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    monkeypatch.setenv("QT_QPA_PLATFORM", "wayland")
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(str(tmp_path / "wayland-0"))
        listening.listen()
        assert why_no_window() == ""
    assert "does not answer" in why_no_window()


def test_the_demonstration_boat_is_one():
    assert demonstration().demonstration is True


LEAVES = """
import os, signal, sys
from pathlib import Path
import msgspec
from app.document.recovery import Autosave, autosave_folder
from app.document.files import read_design
design, seen = read_design(Path(sys.argv[2]))
Autosave().write(sys.argv[1], msgspec.structs.replace(design, notes=sys.argv[1]), seen if sys.argv[3:] else None)
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
    document, saver = Document(DESIGN), Autosave()
    saver.follow(document)
    said = recover_unsaved(document, saver)
    assert said == (
        'The program closed without saving. Your last change, "Drop to 7 1/4 in", is here. '
        "One more comes back at the next start."
    )
    assert document.design == msgspec.structs.replace(DESIGN, notes="Drop to 7 1/4 in")
    assert document.changed_since_saved
    document.save(tmp_path / "boat.boltwell")
    assert recover_unsaved(document, saver) == ('The program closed without saving. Your last change, "Drop to 8 in", is here.')
    saver.discard()
    assert unsaved_designs() == ()
    assert recover_unsaved(document, saver) == ""
    document.close()


@linux_only
@pytest.mark.parametrize("damaged", [False, True])
def test_what_a_crash_left_of_a_file_comes_back_with_that_file(qapp, tmp_path, monkeypatch, damaged):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    messages = []
    monkeypatch.setattr(Dialogs, "show_message", lambda _dialogs, sentence: messages.append(sentence))
    boat = tmp_path / "boat.boltwell"
    boat.write_bytes(EXAMPLE.read_bytes())
    leave("Drop to 7 in", tmp_path, boat)
    leave("Drop to 8 in", tmp_path)  # of no file
    if damaged:
        boat.write_bytes(b"{")
    document, saver = Document(DESIGN), Autosave()
    saver.follow(document)
    assert recover_unsaved(document, saver, tmp_path / "other.boltwell") == ""
    window = MainWindow(document)
    window.file_actions.recover_unsaved = partial(recover_unsaved, document, saver)
    window.file_actions.open_path(boat)
    assert window.foot.said == 'The program closed without saving. Your last change, "Drop to 7 in", is here.'
    assert [sentence.split(":")[0] for sentence in messages] == ["boat.boltwell"] * damaged
    assert (document.path, document.design.notes, document.changed_since_saved) == (boat, "Drop to 7 in", True)
    document.undo()
    assert document.design.notes == ("Drop to 7 in" if damaged else DESIGN.notes)
    saver.discard()
    (other,) = unsaved_designs()
    assert other.label == "Drop to 8 in"
    other.remove()
    document.close()
    window.deleteLater()


def kept_file(tmp_path, **head):
    """Write a kept file of the example, as a dead process left it; return it."""
    folder = tmp_path / "boltwell" / "kept"
    folder.mkdir(parents=True)
    first = {"label": "Drop to 8 in", "at": 1e9, "path": None, "digest": None} | head
    file = folder / "0123456789abcdef.kept"
    file.write_bytes(json.dumps(first).encode() + b"\n" + EXAMPLE.read_bytes())
    return file


@linux_only
@pytest.mark.parametrize("path", ["/tmp/a\0b.boltwell", "\0", "x" * 5000, "/dev/null", "/"])
def test_a_kept_file_with_an_impossible_path_comes_back_and_no_start_fails(path, qapp, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    file = kept_file(tmp_path, path=path, digest="AAAA")
    document, saver = Document(demonstration()), Autosave()
    saver.follow(document)
    assert "is here" in recover_unsaved(document, saver)
    assert document.design == DESIGN
    assert document.changed_since_saved
    assert not file.exists()  # this process keeps it from now on
    saver.discard()
    document.close()


@linux_only
def test_what_was_left_of_a_file_whose_name_is_no_text_comes_back(qapp, tmp_path, monkeypatch):
    """A name in an old encoding: "Möwe" in ISO 8859-1."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    boat = tmp_path / os.fsdecode(b"M\xf6we.boltwell")
    boat.write_bytes(EXAMPLE.read_bytes())
    leave("Drop to 8 in", tmp_path, boat)
    remember_boat(boat)
    document, saver = Document(demonstration()), Autosave()
    saver.follow(document)
    assert "Drop to 8 in" in recover_unsaved(document, saver, boat)
    assert saver.trouble == ""
    assert (document.path, document.design.notes) == (boat, "Drop to 8 in")
    document.save()
    assert unsaved_designs() == ()
    document.close()


@linux_only
def test_what_the_program_fails_on_is_set_aside_so_that_the_window_opens(qapp, tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    file = kept_file(tmp_path)
    document, saver = Document(demonstration()), Autosave()

    def fails(*_words):
        raise ZeroDivisionError("a fault")

    monkeypatch.setattr(document, "recover", fails)
    with pytest.raises(OwnerError, match=r"because of a fault in this program\. It is kept in .*\.failed\.$"):
        recover_unsaved(document, saver)
    assert "ZeroDivisionError" in capsys.readouterr().err
    assert file.with_suffix(".failed").read_bytes().endswith(EXAMPLE.read_bytes())
    assert recover_unsaved(document, saver) == ""
    assert [path.name for path in file.parent.iterdir()] == [file.with_suffix(".failed").name]
    document.close()


@linux_only
def test_a_start_clears_up_what_killed_processes_left(tmp_path, monkeypatch):
    """In the program's folders, and in those of recent boats."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    boat = tmp_path / "boats" / "boat.boltwell"
    boat.parent.mkdir()
    boat.write_bytes(EXAMPLE.read_bytes())
    remember_boat(boat)
    data = tmp_path / "data" / "boltwell"
    (data / "copies").mkdir()
    stays = {boat, data / "settings.json", boat.with_name("notes.part")}
    left = {
        data / ".settings.json.0badcafe.boltwell.part", data / "copies" / ".boat 0.copy.0badcafe.boltwell.part",
        boat.with_name(".boat.boltwell.0badcafe.boltwell.part"), boat.with_name(".other.boltwell.lock"),
    }  # fmt: skip
    for file in {*left, *stays} - {boat, data / "settings.json"}:
        file.write_bytes(b"half")
    clean_up()
    assert {file for file in tmp_path.rglob("*") if file.is_file()} == stays


STARTS = """
import sys
from PySide6.QtCore import QCoreApplication, QTimer
from app.ui.dialogs import Dialogs
from app.commands.command_line import main
from app.window.file_actions import FileActions
def choose(dialogs, sentence, answers):
    print(repr((dialogs._window.hint.isVisible(), sentence, answers)), flush=True)
    return 1 if answers[0] == "Save" else 0
Dialogs.choose = choose
def leaving(act):
    def acts(*words):
        act(*words)
        QTimer.singleShot(100, QCoreApplication.quit)
    return acts
FileActions.opened, FileActions.refuse = leaving(FileActions.opened), leaving(FileActions.refuse)
sys.exit(main(sys.argv[1:]))
"""


def start(folder, *words, before=""):
    """Start the window in ``folder``, after some code, take the first answer to what it asks, and leave it without saving."""
    environment = {
        **os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_DATA_HOME": str(folder / "data"), "PYTHONPATH": str(ROOT),
    }  # fmt: skip
    command = [sys.executable, "-c", before + STARTS, *words]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, env=environment, timeout=60, check=False)


@pytest.mark.parametrize("words", [[], ["boat.boltwell"]])
def test_the_window_starts_and_ends_and_leaves_nothing_behind(words, tmp_path):
    (tmp_path / "boat.boltwell").write_bytes(EXAMPLE.read_bytes())
    ran = start(tmp_path, *words)
    assert ran.returncode == 0, ran.stderr
    assert "Traceback" not in ran.stderr
    left = sorted(str(file.relative_to(tmp_path)) for file in tmp_path.rglob("*") if file.is_file())
    assert left[0] == "boat.boltwell"
    if words:  # its backup, and the list of recent boats
        assert [Path(name).parent.name for name in left[1:]] == ["copies", "boltwell"]
        assert (tmp_path / left[1]).read_bytes() == EXAMPLE.read_bytes()
    else:  # the window's place alone
        assert left[1:] == ["data/boltwell/settings.json"]
        kept = msgspec.json.decode((tmp_path / left[1]).read_bytes(), type=Settings)
        assert kept == Settings(place=kept.place)
    assert (tmp_path / "boat.boltwell").read_bytes() == EXAMPLE.read_bytes()
    assert ran.stdout == ""


@pytest.mark.parametrize(
    ("raw", "phrase"),
    [(b"{", "boat.boltwell: The file breaks off"), (b'{"boltwell": 99}', "a newer Boltwell"), (None, "There is no file")],
)
def test_a_file_that_cannot_be_read_gives_a_sentence_in_the_window(raw, phrase, tmp_path):
    path, remembered = tmp_path / "boat.boltwell", tmp_path / "data" / "boltwell" / "settings.json"
    if raw is not None:
        path.write_bytes(raw)
    remembered.parent.mkdir(parents=True)
    remembered.write_text('{"hint_read": true}')
    ran = start(tmp_path, path.name)
    assert ran.returncode == 0, ran.stderr
    assert "Traceback" not in ran.stderr
    hinted, sentence, answers = ast.literal_eval(ran.stdout)
    assert hinted  # the demonstration boat is open, and nobody takes it for their own
    assert phrase in sentence
    assert answers == ("Go on",)
    kept = msgspec.json.decode(remembered.read_bytes(), type=Settings)
    assert kept == Settings(hint_read=True, place=kept.place)  # it is not among the recent boats
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


@linux_only
def test_with_a_kept_file_that_fails_the_window_opens_and_says_so(tmp_path):
    """Its digest is no digest, and what is asked of it fails; the file that was asked for opens all the same."""
    path = tmp_path / "boat.boltwell"
    path.write_bytes(EXAMPLE.read_bytes())
    kept_file(tmp_path / "data", path=str(path), digest="AAAA")
    before = "from app.document.document import Document\nDocument.recover = lambda *words: 1 / 0\n"
    ran = start(tmp_path, path.name, before=before)
    assert ran.returncode == 0, ran.stderr
    _, sentence, answers = ast.literal_eval(ran.stdout)
    assert sentence.startswith("Your last change can't be recovered, because of a fault in this program.")
    assert answers == ("Go on",)
    assert start(tmp_path, path.name).stdout == ""


START = """
import inspect, sys
from app.window.program import prepare_start
prepare_start()
before = set(sys.modules)
from app.ui.theme import start
from app.document.examples import demonstration
from app.document.document import Document
from app.window.main_window import MainWindow
application = start()
document = Document(demonstration())
window = MainWindow(document)
window.show()
application.processEvents()
ours = [module for name, module in sys.modules.items() if name.startswith(("app.", "geometry.", "templates_out."))]
late = [module.__name__ for module in ours if module.__name__ not in before and "PySide6" not in inspect.getsource(module)]
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
