"""A file with an impossible reading is refused with one sentence, the same by command and in the window."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from app.commands.command_line import main
from app.document.files import read_design
from geometry.errors import OwnerError
from tests.designs import example_design
from tests.geometry.test_possible import IMPOSSIBLE, filed

if TYPE_CHECKING:
    from pathlib import Path

LIMITS = r"(more than|beyond|less than|at most|is the most|has to be|needs room|too much|has to fit|can't be less)"


@pytest.mark.parametrize("what", IMPOSSIBLE)
def test_command_and_window_refuse_a_file_with_the_same_sentence(
    what: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It says what is impossible, and the limit; a file in millimetres has its limits in millimetres."""
    place, value, _ = IMPOSSIBLE[what]
    path = tmp_path / "boat.boltwell"
    path.write_text(filed(example_design(), *place, to=value), encoding="utf-8")
    assert main(["check", str(path)]) == 2
    by_command = " ".join(capsys.readouterr().err.split())
    with pytest.raises(OwnerError) as opened:
        read_design(path)
    assert by_command == f"boltwell: {opened.value}"
    assert re.search(LIMITS, by_command), by_command
