"""How the command speaks: progress from the first second on, and silence before."""

import threading
from types import SimpleNamespace

import pytest

from app.ui.terminal import each, follow, waiting, wrapped


@pytest.fixture(autouse=True)
def clock(monkeypatch):
    """A clock that goes on only when a test says so, a word for each second of it."""
    clock = SimpleNamespace(now=100.0)
    monkeypatch.setattr("app.ui.terminal.time", SimpleNamespace(monotonic=lambda: clock.now))
    monkeypatch.setattr("app.ui.terminal._QUIET", 1.0)
    return clock


def slow(clock, steps, pause):
    for step in range(steps):
        clock.now += pause
        yield step
    return "the result"


def test_what_is_quick_says_nothing(capsys, clock):
    assert list(each(range(1000), "rows")) == list(range(1000))
    assert follow(slow(clock, 3, 0.25), "sheets", 3) == "the result"
    assert capsys.readouterr() == ("", "")


def test_what_is_slow_says_how_far_it_is(capsys, clock):
    assert follow(slow(clock, 5, 0.5), "sheets", 5) == "the result"
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.splitlines() == ["sheets: 2 of 5", "sheets: 4 of 5"]


def test_without_a_total_the_count_is_said(capsys, clock):
    assert list(each(slow(clock, 3, 0.75), "rows")) == [0, 1, 2]
    assert capsys.readouterr().err == "rows: 2\n"


@pytest.mark.parametrize("columns", ["40", "100", "3", "4000", ""])
def test_wrapped_between_40_and_100(columns, monkeypatch):
    monkeypatch.setenv("COLUMNS", columns)
    lines = wrapped("word " * 100, "tight  ").splitlines()
    assert lines[0].startswith("tight  word")
    assert all(line.startswith("       word") for line in lines[1:])
    assert 36 <= max(map(len, lines)) <= 100


def test_work_that_cannot_count_its_steps_says_that_it_goes_on(capsys, monkeypatch):
    """The work ends once the word is said; work that ends before its first word is due says nothing."""
    said, words = threading.Event(), []

    def warn(word):
        words.append(word)
        said.set()

    monkeypatch.setattr("app.ui.terminal.warn", warn)
    monkeypatch.setattr("app.ui.terminal._QUIET", 0.02)
    with waiting("planning"):
        assert said.wait(60.0)
    assert set(words) == {"planning …"}
    words.clear()
    monkeypatch.setattr("app.ui.terminal._QUIET", 3600.0)
    with waiting("planning"):
        pass
    assert words == []
