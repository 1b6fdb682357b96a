"""What the program remembers for this person from one start to the next; no design depends on it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from app.files import data_folder, make_folder, read_bytes, write_bytes
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Iterator

MOST_RECENT = 8


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    """What is remembered.

    Attributes:
        recent: paths of the designs opened or saved last, newest first.
        paper: the paper chosen last, "" for the usual one.
        margin: what the printer leaves free along each edge [mm], None where never told.
    """

    recent: tuple[str, ...] = ()
    paper: str = ""
    margin: float | None = None

    def used(self, path: Path) -> Settings:
        """Return the settings with ``path`` as the newest of the recent designs."""
        told = str(path.absolute())
        others = tuple(one for one in self.recent if one != told)
        return msgspec.structs.replace(self, recent=(told, *others)[:MOST_RECENT])

    def still_there(self) -> Iterator[Path]:
        """Yield the recent designs that still exist, newest first."""
        return (path for path in map(Path, self.recent) if path.is_file())


def load(folder: Path | None = None) -> Settings:
    """Return what is remembered; the first settings where nothing is, or where it can't be read."""
    try:
        return msgspec.json.decode(read_bytes(_file(folder)), type=Settings)
    except (OwnerError, msgspec.MsgspecError):  # nothing of the person's own work is in it: begin anew
        return Settings()


def save(settings: Settings, folder: Path | None = None) -> None:
    """Remember ``settings``.

    Raises:
        OwnerError: they can't be written.
    """
    file = _file(folder)
    make_folder(file.parent)
    write_bytes(file, msgspec.json.encode(settings), lasting=False)


def _file(folder: Path | None) -> Path:
    return (folder or data_folder()) / "settings.json"
