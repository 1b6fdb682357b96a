"""Plain names: no two modules of one name, and no name in the code that only an old dialect understands."""

from __future__ import annotations

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
FOLDERS = ("app", "assets", "geometry", "templates_out", "tests")
MODULES = [path for folder in FOLDERS for path in sorted((ROOT / folder).rglob("*.py"))]
PROGRAM = [path for path in MODULES if not path.is_relative_to(ROOT / "tests")]
SHARED = {"__init__.py", "__main__.py", "conftest.py"}  # names that Python and pytest give
EMPTY = {"found", "told", "one"}  # a noun says what it is
OLD = re.compile(
    r"(^|_)(tells?|told|reckon\w*|whence|thereby|athwart\w*|beside|stands|stood|lies|anew|lately|whatever|saddle)(_|$)", re.I
)
FIELDS = {"stands_out"}  # of the design's file, which older files have


def names_of(source: str) -> Iterator[str]:
    """Yield the names that a module gives: of functions, classes, arguments, locals and attributes."""
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name) | ast.ClassDef(name=name) | ast.arg(arg=name):
                yield name
            case ast.Name(id=name, ctx=ast.Store()) | ast.Attribute(attr=name, ctx=ast.Store()):
                yield name
            case ast.ImportFrom() | ast.Import():
                yield from (alias.asname for alias in node.names if alias.asname)
            case _:
                pass


def unclear(source: str) -> set[str]:
    return {name for name in names_of(source) if name in EMPTY or (OLD.search(name) and name not in FIELDS)}


def test_no_file_name_is_there_twice() -> None:
    counted = Counter(path.name for path in MODULES)
    assert {name for name, count in counted.items() if count > 1} <= SHARED


@pytest.mark.parametrize("path", PROGRAM, ids=[str(path.relative_to(ROOT)) for path in PROGRAM])
def test_a_module_s_names_are_plain(path: Path) -> None:
    assert unclear(path.read_text(encoding="utf-8")) == set()


@pytest.mark.parametrize(
    "source",
    [
        "found = 1", "def f(told): pass", "for one, other in (): pass", "if (found := f()): pass", "def _tell(): pass",
        "class Told: pass", "self._reckoning = 1", "def test_it_lies_there(): pass", "import a as beside", "BESIDE_IT = 1",
        "[one for one in ()]",
    ],
)  # fmt: skip
def test_an_unclear_name_is_noticed(source: str) -> None:
    assert unclear(source)


@pytest.mark.parametrize("source", ["stands_out = 1", "hidden = found(1)", "fortold = 1", "from a import one", "relies = 1"])
def test_a_plain_name_is_left_alone(source: str) -> None:
    assert not unclear(source)
