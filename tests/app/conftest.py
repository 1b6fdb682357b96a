"""Commands run here say nothing of how far they are: on a busy machine each of them might."""

import pytest


@pytest.fixture(autouse=True)
def _no_progress(monkeypatch):
    monkeypatch.setattr("app.ui.terminal._QUIET", 3600.0)  # s
