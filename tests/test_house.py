"""Rules of the house that no other checker knows: what is in the checkout, and what its files may not hold."""

import re
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
TOP = {"README.md", "DEVELOPERS.md", "CHANGELOG.md", "pyproject.toml", "requirements.txt", "requirements-test.txt",
       "app", "assets", "geometry", "templates_out", "tests"}  # fmt: skip
# Put together here, so that this file does not hold what it looks for.
REGISTRIES = ["py" + "pi.org", "python" + "hosted.org", "ana" + "conda.org", "npm" + "js.org", "artifact" + "registry"]
FOLDERS = ["/" + folder for folder in ("work", "farm", "root", "tmp/" + "venv", "opt/" + "wheels")]
FORBIDDEN = re.compile(
    "|".join([*map(re.escape, REGISTRIES), rf"(?<![\w.$}}/-])(?:{'|'.join(FOLDERS)})(?![\w-])"]).encode()
)
PIN = re.compile(
    r"^([a-z0-9-]+)==([\w.]+)(?: ; [^\\]+)? \\\n((?:    --hash=sha256:[0-9a-f]{64}(?: \\)?\n)+)", re.MULTILINE
)


def _files() -> list[Path]:
    """Return every file that is, or would be, in the repository."""
    git = ["git", "-C", str(ROOT), "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    try:
        listed = subprocess.run(git, capture_output=True, check=True, text=True).stdout.split("\0")
    except (OSError, subprocess.CalledProcessError):  # no git, or no repository: a copied checkout
        skip = re.compile(r"^(\.git|\.env-boltwell|\..*_cache|\.hypothesis|__pycache__|boltwell-demo)$")
        inside = [path.relative_to(ROOT) for path in ROOT.rglob("*")]
        listed = [str(path) for path in inside if not any(skip.match(part) for part in path.parts)]
    return [ROOT / name for name in listed if name and (ROOT / name).is_file()]


def _pins(name: str) -> dict[str, str]:
    return {package: version for package, version, _ in PIN.findall((ROOT / name).read_text())}


def test_no_file_holds_a_registry_or_a_path_of_one_machine():
    files = _files()
    assert Path(__file__).resolve() in files
    hits = {str(file.relative_to(ROOT)): hit[0] for file in files if (hit := FORBIDDEN.search(file.read_bytes()))}
    assert not hits


@pytest.mark.parametrize(
    ("text", "forbidden"),
    [(f"see https://{REGISTRIES[0]}/x", True), (f'"{FOLDERS[0]}/a.py"', True), (f"{FOLDERS[3]}/bin", True),
     ("frame" + FOLDERS[0][1:] + "/a", False), ("at the /" + "workshop", False), ("a" + FOLDERS[2] + "/b", False)],
)  # fmt: skip
def test_the_look_out_knows_them(text, forbidden):
    assert bool(FORBIDDEN.search(text.encode())) is forbidden


def test_no_lock_file_that_records_addresses():
    names = {file.name for file in _files()}
    assert not {name for name in names if name == "uv.lock" or name.startswith("pylock") or name.endswith(".lock")}


def test_the_top_level_holds_only_what_it_should():
    top = {file.relative_to(ROOT).parts[0] for file in _files()}
    assert {name for name in top if not name.startswith(".")} <= TOP


@pytest.mark.parametrize("name", ["requirements.txt", "requirements-test.txt"])
def test_every_requirement_is_pinned_by_hash_and_has_no_address(name):
    text = (ROOT / name).read_text()
    assert not re.search(r"https?:|file:|^-|@", text, re.MULTILINE)
    rest = re.sub(r"^ *#.*\n", "", PIN.sub("", text), flags=re.MULTILINE)
    assert rest.strip() == ""
    assert len(_pins(name)) >= 9


def test_the_tests_run_on_the_very_versions_that_the_program_runs_on():
    assert _pins("requirements.txt").items() <= _pins("requirements-test.txt").items()


def test_everything_the_program_depends_on_is_pinned():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    wanted = {re.split("[<>=]", line)[0].lower() for line in project["dependencies"]}
    assert wanted <= _pins("requirements.txt").keys()


def test_qt_stays_below_the_line_that_loses_references():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    assert "PySide6-Essentials>=6.11,<6.12" in project["dependencies"]
    assert _pins("requirements.txt")["pyside6-essentials"].startswith("6.11.")
