"""Fewer drawn boats: enough for a walk, and fast."""

from __future__ import annotations

import pytest

from geometry.doubt import spreads


@pytest.fixture(autouse=True)
def few_drawn_boats(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spreads, "DRAWN", 400)
