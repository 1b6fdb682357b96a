"""How long the event loop is busy while somebody does the whole job in a real window, next to counting to a million.

Processor time of its thread. ``python3 -m tests --bench``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.gestures.test_real_window import display, makes_the_skiff, person, pytestmark

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

    from tests.gestures.test_real_window import Person

__all__ = ["display", "person", "pytestmark"]  # fixtures and a mark that are used here

GAP = 0.100  # s of work in one go, the longest that the event loop may stand still …
COUNTED = 0.028  # … where counting to a million takes so long [s]; a slower machine has longer


def test_the_event_loop_never_stops_for_long(
    person: Person,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    makes_the_skiff(person, tmp_path)
    gap, counted = person.asks("state")["gap"], person.asks("baseline")
    with capsys.disabled():
        print(f"\nlongest work in one go: {gap * 1000:.0f} ms; counting to a million: {counted * 1000:.0f} ms")
    assert gap <= GAP * max(1.0, counted / COUNTED)
