"""Runs tests in a child of this process, in a copy of the tree, and limits the child's time on the processor."""

from __future__ import annotations

import gc
import os
import resource
import signal
import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

UNDONE = 4  # the exit code where a change cannot be made in the process
_WORDS = ("-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-o", "addopts=--import-mode=importlib",
          "-W", "ignore::pytest.PytestAssertRewriteWarning")  # fmt: skip
_GIB = 1 << 30


def warm() -> None:
    """Import the libraries once, so that each child has them."""
    import hypothesis
    import msgspec
    import numpy
    import pikepdf
    import pypdfium2
    import PySide6.QtWidgets
    import pytestqt.plugin
    import reportlab.pdfgen.canvas
    import shapely

    _ = hypothesis, msgspec, numpy, pikepdf, pypdfium2, PySide6, pytestqt, reportlab, shapely


def in_child(tree: Path, log: Path, limit: float | None, work: Callable[[], int]) -> int:
    """Return the exit code of `work`, done in a child in `tree`; below 0 where a signal ended it. `limit` is in seconds."""
    sys.stdout.flush()
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    code = 99
    try:
        _prepare(tree, log, limit)
        code = int(work())
    except BaseException:  # noqa: BLE001 (a child shows its fault in the log, and never goes on as the parent)
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)


def _prepare(tree: Path, log: Path, limit: float | None) -> None:
    for number in (1, 2):
        os.dup2(os.open(log, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), number)
    if limit is not None:
        limit_time(limit)
    os.chdir(tree)
    here = str(Path(__file__).resolve().parents[2])
    sys.path[:] = [str(tree), *(part for part in sys.path if part not in ("", here))]
    for name in [name for name in sys.modules if name.split(".")[0] in ("tests", "app", "geometry", "templates_out", "assets")]:
        del sys.modules[name]
    os.environ |= {"CI": "1", "QT_QPA_PLATFORM": "offscreen", "PYTHONHASHSEED": "0"}


def limit_time(limit: float) -> None:
    """End this process when it has used so many seconds of the processor."""
    seconds = int(limit) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
    resource.setrlimit(resource.RLIMIT_AS, (6 * _GIB, 6 * _GIB))
    signal.alarm(100 * seconds)  # a child that only waits ends too


class Session:
    """A plugin of pytest that collects all tests once; then `work` runs some of them again and again, in children."""

    def __init__(self, work: Callable[[Session], None]) -> None:
        self.work = work
        self.items: dict[str, pytest.Item] = {}

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Do the work instead of running the tests."""
        self.items = {item.nodeid: item for item in session.items}
        gc.collect()
        gc.freeze()
        self.work(self)
        return True

    def run(self, tests: list[str], log: Path, note: Path, limit: float, before: Callable[[], bool]) -> int:
        """Return 0 where these tests pass in a child after `before`, 1 where one fails, `UNDONE` where `before` fails."""
        child = os.fork()
        if child:
            return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        try:
            limit_time(limit)
            for number in (1, 2):
                os.dup2(os.open(log, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), number)
            os._exit(UNDONE if not before() else self._run([self.items[test] for test in tests if test in self.items], note))
        except BaseException:  # noqa: BLE001 (as above)
            traceback.print_exc()
        os._exit(1)

    def _run(self, items: list[pytest.Item], note: Path) -> int:
        for item in items[:1]:
            item.config.pluginmanager.register(Stopper(note))
        for item, following in zip(items, [*items[1:], None], strict=False):
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        return 0


class Stopper:
    """A plugin of pytest that ends the process with the first test that fails, and notes it."""

    def __init__(self, note: Path) -> None:
        self.note = note

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """End with the first failure."""
        if report.failed:
            self.note.write_text(report.nodeid, encoding="utf-8")
            print(report.longrepr)
            sys.stdout.flush()
            os._exit(1)


class Chosen:
    """A plugin of pytest that keeps the chosen tests, in their order, and notes the first that fails."""

    def __init__(self, tests: list[str], note: Path) -> None:
        self.order = {test: number for number, test in enumerate(tests)}
        self.note = note

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Keep the chosen tests."""
        if self.order:
            items[:] = sorted((item for item in items if item.nodeid in self.order), key=lambda item: self.order[item.nodeid])

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note the first test that fails."""
        if report.failed and not self.note.exists():
            self.note.write_text(report.nodeid, encoding="utf-8")


def run_tests(files: list[str], plugins: list[Any], *words: str) -> int:
    """Run tests in this process and return pytest's exit code."""
    return int(pytest.main([*_WORDS, *words, *files], plugins=plugins))
