"""A short run of odd input, and each input that once was a fault. A long run: python3 -m tests.fuzz."""

import random
from pathlib import Path

import pytest

from geometry.errors import OwnerError
from tests.fuzz.__main__ import KEPT
from tests.fuzz.input_kinds import KINDS, NotBorneError, own_home

COUNTS = {"design": 150, "bytes": 400, "settings": 300, "autosave": 400, "entry": 3000, "command": 25}


@pytest.mark.parametrize("kind", KINDS)
def test_odd_input_is_borne(kind, tmp_path):
    """Other inputs than yesterday's would be found by the long run; these are the same ones at each run."""
    with own_home(tmp_path):
        for seed in range(COUNTS[kind]):
            KINDS[kind].feed(KINDS[kind].make(random.Random(seed)), tmp_path)


@pytest.mark.parametrize("path", sorted(KEPT.iterdir()), ids=lambda path: path.name)
def test_an_input_that_was_a_fault_is_borne(path: Path, tmp_path):
    with own_home(tmp_path):
        KINDS[path.name.partition("-")[0]].feed(path.read_bytes(), tmp_path)


def test_a_reader_that_changes_its_file_is_noticed(tmp_path, monkeypatch):
    """The run itself is tried."""

    def writes(path):
        path.write_bytes(b"")
        raise OwnerError("The file is damaged.")

    monkeypatch.setattr("tests.fuzz.input_kinds.read_design", writes)
    with pytest.raises(NotBorneError, match="changed the file"):
        KINDS["bytes"].feed(b"{", tmp_path)
