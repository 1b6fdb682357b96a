"""A short part of an endless session: nothing that a window has grows with the number of edits, but for the steps of undo."""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING, NamedTuple

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from app.ui.theme import apply_theme
from geometry.design.design import Design
from geometry.edits.edits import move_lower
from geometry.judge.findings import Checked
from tests.endless import Session, settle

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

ROUNDS = 4
SPARE = 40  # of each: a finding more has a row more, and a panel may be at work where a slow machine counts


class Sizes(NamedTuple):
    """The counts after a round."""

    widgets: int
    objects: int  # of Qt, in the window
    filled: int  # designs that keep what was calculated from them
    checked: int  # designs with their findings
    steps: int  # of undo


@pytest.fixture
def session(qapp: QApplication, kept: Path) -> Iterator[Session]:
    apply_theme(dark=False)
    made = Session(seed=5)
    yield made
    made.close()


def edit(session: Session) -> None:
    """Do one round, which ends as it began: steps, a drag, undo, redo, units, panels, sections."""
    document, first = session.document, session.document.design
    for _ in range(2):
        for do in (session.low_enough, session.compare, session.zone, session.in_space, session.other_way, session.units):
            do()
            QApplication.processEvents()
    for at in range(16):
        document.commit("Drop", move_lower(document.design, 0, 0.0, 0.5 if at < 8 else -0.4))
        if at % 8 == 7:
            document.undo()
            document.redo()
        document.set_view_state(replace(document.view_state, section=at % 9))
        QApplication.processEvents()
    session.drag()
    document.commit("Again", first)


def sizes(session: Session) -> Sizes:
    settle(0.5)
    gc.collect()
    settle(0.0)
    filled = sum(isinstance(each, Design) and bool(each.__dict__) for each in gc.get_objects())
    checked = sum(isinstance(each, Checked) for each in gc.get_objects())
    objects, steps = len(session.window.findChildren(QObject)), len(session.document.history.steps)
    return Sizes(len(QApplication.allWidgets()), objects, filled, checked, steps)


def test_no_widget_object_or_result_is_left_by_edits(session: Session) -> None:
    for _ in range(2):
        edit(session)
    before = sizes(session)
    for _ in range(ROUNDS):
        edit(session)
    after = sizes(session)
    assert after.steps > before.steps + 14 * ROUNDS
    assert after.widgets <= before.widgets + SPARE
    assert after.objects <= before.objects + SPARE
    assert after.filled <= before.filled + SPARE
    assert after.checked <= before.checked + SPARE
