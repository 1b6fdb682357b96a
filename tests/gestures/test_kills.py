"""A few kills of a working window: the whole run is ``python3 -m tests.kills``."""

from __future__ import annotations

import pytest

from tests.kills import once


@pytest.mark.parametrize("seed", range(3))
def test_a_killed_window_loses_nothing_but_its_last_second(seed: int) -> None:
    left = once(seed)
    assert left.shown
