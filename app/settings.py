"""What the program remembers of a person: boats lately opened, light or dark, whether the hint was read."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import Any

import msgspec
from msgspec.structs import replace

from app.files import data_folder, make_folder, read_bytes, write_bytes
from geometry.errors import OwnerError

MOST_RECENT = 8


class Settings(msgspec.Struct, frozen=True):
    """The person's settings.

    Attributes:
        recent: paths of the boats lately opened or saved, the last one first.
        dark: whether the window is dark; None follows the desktop.
        hint_read: whether the hint of the first start was put away.
    """

    recent: tuple[str, ...] = ()
    dark: bool | None = None
    hint_read: bool = False


def settings_file() -> Path:
    """Return the settings' file; it need not be there yet."""
    return data_folder() / "settings.json"


def settings() -> Settings:
    """Return what is remembered; nothing, where the file is missing or damaged."""
    try:
        return msgspec.json.decode(read_bytes(settings_file()), type=Settings)
    except (OwnerError, msgspec.MsgspecError):
        return Settings()


def remember(**changed: Any) -> None:
    """Remember something more. Where it can't be written it is forgotten at the end: no boat hangs on it."""
    before = settings()
    after = replace(before, **changed)
    if after != before:
        with suppress(OwnerError):
            make_folder(settings_file().parent)
            write_bytes(settings_file(), msgspec.json.format(msgspec.json.encode(after)), lasting=False)


def remember_boat(path: Path) -> None:
    """Put a boat's file first among those lately opened."""
    mine = str(path.absolute())
    others = tuple(other for other in settings().recent if other != mine)
    remember(recent=(mine, *others)[:MOST_RECENT])


def recent_boats() -> tuple[Path, ...]:
    """Return the boats lately opened that are still there, the last one first."""
    return tuple(path for path in map(Path, settings().recent) if path.is_file())
