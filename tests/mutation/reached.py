"""The map: which test reaches which statement, and how long each test takes.

The copy for the map has a mark before every statement of every function. A test that runs the statement sets the mark.
"""

from __future__ import annotations

import ast
import builtins
import json
import math
import re
import signal
import time
from collections import defaultdict
from collections.abc import Generator
from pathlib import Path
from typing import Any, NamedTuple, TextIO

import pytest

from tests.mutation.changes import Change, head

VARIANTS = 5  # of a test with parameters are on the map, evenly chosen
LONG = 1.0  # [s] of the processor: no test runs longer while the map is made; such a test counts as slow
_OFF, _ON = ord("0"), ord("1")


class Reach(NamedTuple):
    """A test: its file, its name for pytest, how long it takes [s], and the statements that it reaches as bits."""

    file: str
    test: str
    seconds: float
    bits: int


class TooLong(BaseException):
    """A test takes too long for the map."""


def marked(path: str, source: str, keys: list[str]) -> str:
    """Return a module's source with a mark before every statement of a function; `keys` grows by what it has."""
    numbers = {key: number for number, key in enumerate(keys)}
    tree = ast.parse(source)
    _mark(tree, path, "", numbers, False)
    keys[:] = numbers
    return ast.unparse(ast.fix_missing_locations(tree))


def _mark(node: ast.AST, path: str, function: str, numbers: dict[str, int], inside: bool) -> None:
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        function = f"{function}.{node.name}".lstrip(".")
        inside = isinstance(node, ast.FunctionDef)
    for field in ("body", "orelse", "finalbody", "handlers", "cases"):
        children = getattr(node, field, [])
        if not isinstance(children, list):
            continue  # a lambda or an if inside an expression
        marked_children: list[ast.AST] = []
        for child in children:
            is_doc = isinstance(child, ast.Expr) and isinstance(child.value, ast.Constant)
            if inside and isinstance(child, ast.stmt) and not is_doc:
                number = numbers.setdefault(statement_key(path, function, head(child)), len(numbers))
                marked_children.append(ast.parse(f"__reached__[{number}] = {_ON}").body[0])
            _mark(child, path, function, numbers, inside)
            marked_children.append(child)
        if marked_children:
            setattr(node, field, marked_children)


def statement_key(path: str, function: str, text: str) -> str:
    """Return the name of a statement, which stays when lines move."""
    return f"{path} | {function} | {text}"


class Recorder:
    """A plugin of pytest that writes one line for each test that passes."""

    def __init__(self, out: TextIO, size: int) -> None:
        self.out, self.size, self.ok = out, size, True
        builtins.__dict__["__reached__"] = bytearray([_OFF]) * size

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Keep some variants of each test with parameters."""
        alike: dict[str, list[pytest.Item]] = defaultdict(list)
        for item in items:
            alike[item.nodeid.split("[", 1)[0]].append(item)
        items[:] = [item for row in alike.values() for item in row[:: math.ceil(len(row) / VARIANTS)]]

    def pytest_collection_finish(self, session: pytest.Session) -> None:
        """Write what the import of a test file reaches."""
        if session.items:
            self._write(session.items[0].nodeid.split("::", 1)[0], 0.0)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, Any, Any]:
        """Watch one test."""
        marks = builtins.__dict__["__reached__"]
        marks[:] = bytes([_OFF]) * self.size
        self.ok = True
        signal.signal(signal.SIGVTALRM, _stop)
        start = time.process_time()
        signal.setitimer(signal.ITIMER_VIRTUAL, LONG)
        try:
            result = yield
        except TooLong:  # between two steps of the test
            item.session._setupstate.teardown_exact(None)
            result = True
        finally:
            signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        if self.ok:
            self._write(item.nodeid, round(time.process_time() - start, 3))
        return result

    def _write(self, test: str, seconds: float) -> None:
        bits = int(bytes(builtins.__dict__["__reached__"][::-1]), 2)
        self.out.write(json.dumps((test, seconds, f"{bits:x}")) + "\n")
        self.out.flush()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Leave out a test that fails without any change; one that was stopped counts as slow."""
        if report.failed and "TooLong" not in str(report.longrepr):
            self.ok = False


def _stop(*_: Any) -> None:
    raise TooLong


def read_map(folder: Path) -> list[Reach]:
    """Return the map's rows."""
    rows = []
    for path in sorted(folder.glob("*.jsonl")):
        for line in path.read_text(encoding="utf-8").splitlines():
            test, seconds, bits = json.loads(line)
            rows.append(Reach(test.split("::", 1)[0], test, seconds, int(bits, 16)))
    return rows


def tests_of(change: Change, root: Path, keys: list[str], rows: list[Reach]) -> list[Reach]:
    """Return the tests that reach a change: those of files that name its module first, and the quickest of them first.

    Last are the tests of a file that reaches it when it is imported. A statement outside of functions runs when it is
    imported. Its tests reach a statement with one of its names.
    """
    key = statement_key(change.path, change.function, change.statement)
    if key in keys:
        bits = 1 << keys.index(key)
    elif change.function and not change.statement.startswith("def "):
        bits = _of_module(change, keys)  # it is newer than the map
    else:
        bits = _users(change, root, keys)
    files = {row.file for row in rows if row.bits & bits and row.test == row.file}
    tests = [row for row in rows if row.test != row.file and (row.bits & bits or row.file in files)]
    name = Path(change.path).stem
    naming = {file for file in {row.file for row in tests} if name in (root / file).read_text(encoding="utf-8")}
    return sorted(tests, key=lambda row: (not row.bits & bits, row.file not in naming, row.seconds))


def _of_module(change: Change, keys: list[str]) -> int:
    """Return the statements of the same function, or else of the same module, as bits."""
    for start in (statement_key(change.path, change.function, ""), f"{change.path} | "):
        if bits := sum(1 << number for number, key in enumerate(keys) if key.startswith(start)):
            return bits
    return 0


def _users(change: Change, root: Path, keys: list[str]) -> int:
    """Return the statements that use the names which a statement outside of functions gives, as bits."""
    names = _names(change, root)
    word = re.compile(rf"\b(?:{'|'.join(map(re.escape, names))})\b")
    return sum(1 << number for number, key in enumerate(keys) if word.search(key.split(" | ", 2)[2]))


def _names(change: Change, root: Path) -> list[str]:
    """Return the names that a statement outside of functions gives, and those that come from them in its module."""
    tree = ast.parse((root / change.path).read_text(encoding="utf-8"))
    names = {name.rpartition(".")[2] for name in [change.function] if name}
    given = [node for node in ast.walk(tree) if isinstance(node, ast.Assign | ast.AnnAssign)]
    names |= {name for node in given if head(node) == change.statement for name in _targets(node)}
    for _ in range(3):
        used = [node for node in tree.body if isinstance(node, ast.Assign | ast.AnnAssign) and _uses(node, names)]
        names |= {name for node in used for name in _targets(node)}
    return sorted(names) or [Path(change.path).stem]


def _targets(node: ast.Assign | ast.AnnAssign) -> set[str]:
    targets = node.targets if isinstance(node, ast.Assign) else [node.target]
    return {part.id for target in targets for part in ast.walk(target) if isinstance(part, ast.Name)}


def _uses(node: ast.AST, names: set[str]) -> bool:
    return any(isinstance(part, ast.Name) and part.id in names for part in ast.walk(node))
