"""An impossible reading in a file is refused with the same sentence everywhere; an unlikely one is named by the command."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import pytest

from app.commands.command_line import main
from app.document.files import read_design
from geometry.design_text import to_text
from geometry.edits.edits import enter
from geometry.errors import OwnerError
from geometry.readings.measures import measure
from tests.designs import changed, example_design, roomy, sure
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


def test_the_command_names_unlikely_and_contradicting_readings(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A note leaves the exit code as it is. A contradiction is not drillable: the command exits with 1."""
    plain, path = roomy(), tmp_path / "boat.boltwell"
    odd = changed(plain, well__length=1500.0)
    clashing = enter(plain, sure(measure(plain, "mounts.0.second.diagonal")), "13 in")
    for design, code, words in (
        (plain, 0, ""), (odd, 0, "Most are 6 in to 48 in (our assumption)."), (clashing, 1, "Read the diagonal and both half"),
    ):  # fmt: skip
        path.write_text(to_text(design), encoding="utf-8")
        assert main(["check", str(path)]) == code
        assert words in " ".join(capsys.readouterr().out.split())
        assert main(["check", str(path), "--json"]) == code
        notes = [each["text"] for each in json.loads(capsys.readouterr().out)["findings"] if each["check"] == "reading"]
        assert len(notes) == bool(words)
