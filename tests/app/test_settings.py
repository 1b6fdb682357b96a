"""The person's settings: written at once, and the usual ones where the file can't be read."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
import pytest

from app.document.settings import (
    MOST_PRINTERS,
    MOST_RECENT,
    Printer,
    printer,
    printer_names,
    recent_boats,
    remember,
    remember_boat,
    remember_printer,
    settings,
    settings_file,
)

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path


def test_nothing_is_remembered_at_first() -> None:
    kept_settings = settings()
    assert (kept_settings.recent, kept_settings.dark, kept_settings.hint_read) == ((), None, False)


def test_what_is_remembered_comes_back() -> None:
    remember(dark=True)
    remember(hint_read=True)
    assert settings().dark is True
    assert settings().hint_read is True


def test_damaged_settings_give_the_usual_ones() -> None:
    remember(dark=True)
    settings_file().write_text('{"dark": "perhaps"}')
    assert settings().dark is None
    remember(dark=False)
    assert settings().dark is False


def test_the_last_boat_is_first_once_and_lost_ones_are_left_out(data: Path) -> None:
    boats = [data / f"{number}.boltwell" for number in range(MOST_RECENT + 3)]
    for boat in (*boats, boats[5]):
        boat.write_text("a boat")
        remember_boat(boat)
    boats[9].unlink()
    paths = recent_boats()
    assert paths[0] == boats[5]
    assert len(settings().recent) == MOST_RECENT
    assert boats[9] not in paths
    assert len(set(paths)) == len(paths)


def test_settings_that_cannot_be_written_stop_nothing(data: Path) -> None:
    (data / "data").write_text("a file where a folder was expected")
    remember(dark=True)
    assert settings().dark is None


def test_a_printer_is_remembered_by_name_and_paper_in_any_case() -> None:
    office = Printer("Office", "letter", 1.0, 1.006, (0.0, 0.001))
    remember_printer(office)
    remember_printer(Printer("Shed", "a4", 0.997, 1.0, (0.001, 0.0)))
    assert printer("office", "letter") == office
    assert printer("Office", "a4") is None
    assert printer_names() == ("Shed", "Office")
    better = Printer("OFFICE", "letter", 1.0, 1.008, (0.0, 0.001))
    remember_printer(better)
    assert printer("Office", "letter") == better
    assert printer_names() == ("OFFICE", "Shed")
    for number in range(2 * MOST_PRINTERS):
        remember_printer(Printer(f"printer {number}", "letter", 1.0, 1.0, (0.0, 0.0)))
    assert len(settings().printers) == MOST_PRINTERS


def test_a_printer_kept_before_its_reading_was_is_still_known() -> None:
    """The bars' lengths are kept only to recognise the same reading."""
    remember_printer(Printer("Office", "letter", 1.0, 1.006, (0.0, 0.001), (150.0, 238.6)))
    kept = msgspec.json.decode(settings_file().read_bytes())
    assert kept["printers"][0].pop("read") == [150.0, 238.6]
    settings_file().write_bytes(msgspec.json.encode(kept))
    assert printer("Office", "letter") == Printer("Office", "letter", 1.0, 1.006, (0.0, 0.001))
