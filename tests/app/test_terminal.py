"""How the command speaks: progress from the first second on, and silence before."""

import time

import pytest

from app.terminal import each, follow, waiting, wrapped


def slow(steps, pause):
    for step in range(steps):
        time.sleep(pause)
        yield step
    return "the result"


def test_what_is_quick_says_nothing(capsys):
    assert list(each(range(1000), "rows")) == list(range(1000))
    assert follow(slow(3, 0.0), "sheets", 3) == "the result"
    assert capsys.readouterr() == ("", "")


def test_what_is_slow_says_how_far_it_is(capsys):
    assert follow(slow(5, 0.5), "sheets", 5) == "the result"
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.splitlines() == ["sheets: 2 of 5", "sheets: 4 of 5"]


def test_without_a_total_the_count_is_said(capsys):
    assert list(each(slow(3, 0.6), "rows")) == [0, 1, 2]
    assert capsys.readouterr().err == "rows: 2\n"


@pytest.mark.parametrize("columns", ["40", "100", "3", "4000", ""])
def test_wrapped_between_40_and_100(columns, monkeypatch):
    monkeypatch.setenv("COLUMNS", columns)
    lines = wrapped("word " * 100, "tight  ").splitlines()
    assert lines[0].startswith("tight  word")
    assert all(line.startswith("       word") for line in lines[1:])
    assert 36 <= max(map(len, lines)) <= 100


def test_work_that_cannot_count_its_steps_says_that_it_goes_on(capsys, monkeypatch):
    monkeypatch.setattr("app.terminal._QUIET", 0.02)
    with waiting("planning"):
        time.sleep(0.3)
    assert capsys.readouterr().err.splitlines()[0] == "planning …"
    with waiting("planning"):
        pass
    assert capsys.readouterr().err == ""
