"""The starter on a small checkout, for real: a real venv, real pip, a wheel made here, no network."""

import ast
import hashlib
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from app import __main__ as entry
from app.starter import system
from app.starter.environment import Environment, everything_is_here
from app.starter.lock import only_one
from app.starter.saying import NotReadyError

ROOT = Path(__file__).resolve().parents[1]
NOWHERE = "http://127.0.0.1:9/"  # the discard port: refused at once


def _wheel(folder: Path) -> str:
    """Write a wheel that holds nothing into ``folder`` and return the line that requires it."""
    path = folder / "boltwell_probe-1.0-py3-none-any.whl"
    with zipfile.ZipFile(path, "w") as wheel:
        info = "boltwell_probe-1.0.dist-info"
        wheel.writestr(f"{info}/METADATA", "Metadata-Version: 2.1\nName: boltwell-probe\nVersion: 1.0\n")
        wheel.writestr(f"{info}/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        wheel.writestr(f"{info}/RECORD", "")
    return f"boltwell-probe==1.0 \\\n    --hash=sha256:{hashlib.sha256(path.read_bytes()).hexdigest()}\n"


class Checkout:
    """A checkout with the real starter and a command that says where it runs."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        (folder / "app").mkdir()
        shutil.copytree(ROOT / "app/starter", folder / "app/starter", ignore=shutil.ignore_patterns("__pycache__"))
        for name in ("__init__.py", "__main__.py"):
            shutil.copy(ROOT / "app" / name, folder / "app")
        (folder / "app/commands").mkdir()
        (folder / "app/commands/command_line.py").write_text(
            "import sys\ndef main(words):\n    print(sys.prefix, *words)\n    return 1\n"
        )
        (folder / "requirements.txt").write_text(_wheel(folder))
        self.environment = Environment(folder / ".env-boltwell/python", folder / "requirements.txt")

    def start(self, **settings: str) -> subprocess.CompletedProcess[str]:
        """Run ``python -m app demo`` with pip's ``settings``; no settings: the network is away."""
        kept = {key: value for key, value in os.environ.items() if not key.startswith("PIP_")}
        pip = {"PIP_CONFIG_FILE": os.devnull, "PIP_RETRIES": "1", **(settings or {"PIP_INDEX_URL": NOWHERE})}
        command = [sys.executable, "-m", "app", "demo"]
        env = {**kept, **pip}
        return subprocess.run(command, cwd=self.folder, env=env, capture_output=True, text=True, check=False)

    @property
    def wheels_here(self) -> dict[str, str]:
        return {"PIP_NO_INDEX": "1", "PIP_FIND_LINKS": str(self.folder)}


@pytest.fixture
def checkout(tmp_path):
    return Checkout(tmp_path)


def test_first_start_without_network_is_one_sentence_and_the_next_one_with_it_makes_all_again(checkout):
    """A start that fails leaves nothing that counts; the next makes it again; the one after that is silent."""
    refused = checkout.start()
    assert refused.returncode == 2
    assert refused.stderr.splitlines()[-1] == (
        "Boltwell: the network can't be reached, and the first start needs it. Connect, and start again."
    )
    assert refused.stdout == ""
    assert not checkout.environment.is_finished()
    (checkout.environment.folder / "left-over").touch()

    first = checkout.start(**checkout.wheels_here)
    assert first.stdout == f"{checkout.environment.folder} demo\n"
    assert first.returncode == 1, "the command's own exit code"
    assert "Making its environment again" in first.stderr
    assert "boltwell-probe 1.0" in first.stderr
    assert not (checkout.environment.folder / "left-over").exists()

    second = checkout.start()
    assert (second.stdout, second.stderr, second.returncode) == (first.stdout, "", 1)


def test_a_package_that_is_not_the_one_tested_with_is_refused(checkout):
    text = checkout.environment.requirements.read_text()
    checkout.environment.requirements.write_text(text.replace("sha256:", "sha256:0000")[:-5] + "\n")
    refused = checkout.start(**checkout.wheels_here)
    assert refused.returncode == 2
    assert "so it was refused. Start again on another network." in refused.stderr.splitlines()[-1]
    assert not checkout.environment.is_finished()


def test_the_stamp_counts_only_for_these_requirements_and_this_environment(tmp_path):
    requirements = tmp_path / "requirements.txt"
    requirements.write_text("one==1\n")
    environment = Environment(tmp_path / "env", requirements)
    environment.python.parent.mkdir(parents=True)
    environment.python.touch()
    assert not environment.is_finished(), "an interpreter without a stamp is half made"
    environment._stamp.write_text(environment._key())
    assert environment.is_finished()
    requirements.write_text("one==2\n")
    assert not environment.is_finished(), "other requirements"
    requirements.write_text("one==1\n")
    environment._stamp.write_text(environment._key()[:-5])
    assert not environment.is_finished(), "a stamp cut short"
    environment._stamp.write_text(environment._key())
    environment.python.unlink()
    assert not environment.is_finished(), "the interpreter it was made with is gone"


def test_what_the_system_had_is_remembered_for_each_kind_of_start(tmp_path):
    environment = Environment(tmp_path, tmp_path / "requirements.txt")
    plain, screen = (system.Needs(screen=screen, programs=False, window=False) for screen in (False, True))
    environment.remember(plain)
    assert environment.has_seen(plain)
    assert not environment.has_seen(screen)


def test_an_interpreter_that_has_all_is_used_as_it_is(tmp_path):
    requirements = tmp_path / "requirements.txt"
    here = f"pytest=={pytest.__version__} \\\n    --hash=sha256:0\n"
    requirements.write_text(f"{here}not-here==1 ; sys_platform == 'x' \\\n")
    assert everything_is_here(requirements)
    requirements.write_text("pytest==0.1 \\\n")
    assert not everything_is_here(requirements)
    requirements.write_text("not-here==1 \\\n")
    assert not everything_is_here(requirements)


def test_a_lock_whose_holder_was_killed_is_free(tmp_path):
    path = tmp_path / "lock"
    hold = (
        "import sys, time; from pathlib import Path; from app.starter.lock import only_one\n"
        "with only_one(Path(sys.argv[1]), waiting=print): print('held', flush=True); time.sleep(60)"
    )
    with subprocess.Popen([sys.executable, "-c", hold, str(path)], cwd=ROOT, stdout=subprocess.PIPE) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == b"held\n"
        waited = []

        def waiting() -> None:
            waited.append(path.exists())
            holder.kill()

        with only_one(path, waiting):
            assert waited == [True], "it waited while the holder lived, and went on when it was killed"
    with only_one(path, waiting=pytest.fail):
        assert path.exists(), "the file means nothing"


@pytest.mark.skipif(sys.platform == "win32", reason="there a lock is one process's own")
def test_an_installer_that_outlives_its_starter_keeps_the_lock(tmp_path):
    path, go = tmp_path / "lock", tmp_path / "go"
    start = (
        "import sys; from pathlib import Path; from app.starter.lock import only_one\n"
        "from app.starter.saying import run_quietly, say\n"
        "with only_one(Path(sys.argv[1]), waiting=print):\n"
        "    work = 'echo at work; until [ -e \"$0\" ]; do sleep 0.05; done'\n"
        "    run_quietly(['sh', '-c', work, sys.argv[2]], say, keep_lock=True)"
    )
    with subprocess.Popen([sys.executable, "-c", start, str(path), str(go)], cwd=ROOT, stderr=subprocess.PIPE) as starter:
        assert starter.stderr is not None
        assert starter.stderr.readline() == b"Boltwell: at work\n"
        starter.kill()
    waited: list[bool] = []

    def waiting() -> None:
        waited.append(True)
        go.touch()  # the installer ends only now

    with only_one(path, waiting):
        assert waited == [True]


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux lacks Qt's libraries")
def test_a_missing_library_is_named_in_one_line_to_paste(monkeypatch):
    monkeypatch.setattr(system, "DRAWING", {"libc.so.6": "libc6", "libnot-here.so.9": "libnot-here9"})
    monkeypatch.setattr(system, "may_install", lambda: False)
    monkeypatch.setattr("shutil.which", lambda program: f"/usr/bin/{program}")
    with pytest.raises(NotReadyError) as sentence:
        system.meet(system.Needs(screen=False, programs=False, window=False), environment_to_make=False)
    assert str(sentence.value).splitlines()[-1].strip() == "sudo apt-get install libnot-here9"


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux lacks Qt's libraries")
@pytest.mark.parametrize(("words", "goes_on"), [(["demo"], True), ([], False)])
def test_without_a_screens_libraries_words_go_on_and_the_window_does_not(monkeypatch, capsys, words, goes_on):
    monkeypatch.setattr(system, "DRAWING", {})
    monkeypatch.setattr(system, "SCREEN", {"libnot-here.so.9": "libnot-here9"})
    monkeypatch.setattr(system, "may_install", lambda: False)
    monkeypatch.setenv("DISPLAY", ":9")
    monkeypatch.setenv("QT_QPA_PLATFORM", "xcb")
    needs = system.needs("app", words)
    if goes_on:
        assert system.meet(needs, environment_to_make=False) is False
        assert os.environ["QT_QPA_PLATFORM"] == "offscreen"
        assert "libnot-here9" in capsys.readouterr().err
    else:
        with pytest.raises(NotReadyError, match="libnot-here9"):
            system.meet(needs, environment_to_make=False)


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux lacks Qt's libraries")
def test_what_is_missing_is_installed_where_it_may_be(monkeypatch):
    installed: list[str] = []
    monkeypatch.setattr(system, "DRAWING", {"libnot-here.so.9": "libnot-here9"})
    monkeypatch.setattr(system, "may_install", lambda: True)
    monkeypatch.setattr(system, "install", installed.extend)
    assert system.meet(system.Needs(screen=False, programs=False, window=False), environment_to_make=False) is True
    assert installed == ["libnot-here9"]


def test_where_the_environment_goes_is_a_file(checkout):
    folder = checkout.folder / ".env-boltwell"
    folder.write_text("mine")
    refused = checkout.start(**checkout.wheels_here)
    assert refused.returncode == 2
    assert refused.stderr == (
        f"Boltwell: {folder} is a file, but the program's environment goes there. Move the file away, and start again.\n"
    )
    assert folder.read_text() == "mine"


@pytest.mark.parametrize("name", ["lock", "python"])
def test_an_environment_that_is_not_as_it_was_left_is_one_sentence(checkout, name):
    """A folder in the lock's place, a file in the environment's."""
    place = checkout.folder / ".env-boltwell" / name
    if name == "lock":
        place.mkdir(parents=True)
    else:
        place.parent.mkdir()
        place.write_text("mine")
    refused = checkout.start(**checkout.wheels_here)
    assert refused.returncode == 2
    line = refused.stderr.splitlines()[-1]
    assert line.startswith(f"Boltwell: {place} can't be used (")
    assert line.endswith(f"Delete {checkout.folder / '.env-boltwell'}, and start again.")
    assert "Traceback" not in refused.stderr


MISSING = {
    "import boltwell_was_here": (2, "Boltwell: The package boltwell_was_here is missing or damaged. Delete "),
    "from ast import nothing_of_the_kind": (2, "Boltwell: The package ast is missing or damaged. Delete "),
    "import app.not_here": (70, "Boltwell: this is a fault in the program."),
    "1 / 0": (70, "Boltwell: this is a fault in the program."),
}


def test_a_package_missing_after_the_set_up_is_no_verdict(checkout):
    """1 would mean that the boat is fouled."""
    assert checkout.start(**checkout.wheels_here).returncode == 1  # the command's own
    for code, (ends_with, said) in MISSING.items():
        (checkout.folder / "app/commands/command_line.py").write_text(f"{code}\n")
        refused = checkout.start()
        assert refused.returncode == ends_with
        assert refused.stderr.splitlines()[-1].startswith(said)
        assert ("Traceback" in refused.stderr) == (ends_with == 70)


ENTRIES = ("app/__init__.py", "app/__main__.py", "tests/__init__.py", "tests/__main__.py")
NEWER = (  # what Python 2 can't read, as far as anybody would write it here
    ast.AnnAssign, ast.JoinedStr, ast.NamedExpr, ast.AsyncFunctionDef, ast.Nonlocal, ast.YieldFrom, ast.Starred, ast.Match,
)  # fmt: skip


def test_the_ways_in_can_be_read_by_any_python():
    for name in ENTRIES:
        text = (ROOT / name).read_text(encoding="utf-8")
        assert text.isascii()
        tree = ast.parse(text, feature_version=(3, 4))
        passed = [word for call in ast.walk(tree) if isinstance(call, ast.Call) for word in call.args]
        for node in ast.walk(tree):
            assert not isinstance(node, NEWER) or node in passed, (name, node.lineno)
            if isinstance(node, ast.FunctionDef):
                assert node.returns is None
                assert not node.args.kwonlyargs
                assert not [arg for arg in (*node.args.args, node.args.vararg) if arg is not None and arg.annotation]
            if isinstance(node, ast.ImportFrom):
                assert node.module != "__future__"


@pytest.mark.parametrize("way", ["app", "tests"])
@pytest.mark.parametrize("python", ["python2", "python2.7", "python3.6", "python3.8", "python3.10"])
def test_an_old_python_that_is_here_says_so(python, way):
    if not _runs(python):
        pytest.skip(f"no {python} here")
    ran = subprocess.run([python, "-B", "-m", way], cwd=ROOT, capture_output=True, text=True, check=False)
    assert ran.returncode == 2
    (line,) = ran.stderr.splitlines()
    assert line.startswith(f"Boltwell: this is Python {python[6]}.")
    assert line.endswith("3.11 or newer.")


def _runs(python):
    """Say whether there is such a Python; a name may lead nowhere."""
    if shutil.which(python) is None:
        return False
    return not subprocess.run([python, "-c", "pass"], capture_output=True, check=False).returncode


def test_a_python_that_is_too_old_gets_one_sentence(monkeypatch, capsys):
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    assert entry.main() == 2
    assert capsys.readouterr().err == "Boltwell: this is Python 3.9; Boltwell needs 3.11 or newer.\n"
