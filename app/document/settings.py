"""The person's settings: recent boats, light or dark, size of text, whether the hint was read, printers, the window's place."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from typing import Any

import msgspec
from msgspec.structs import replace

from app.document.files import DAMAGED, data_folder, make_folder, read_bytes, write_bytes
from geometry.errors import OwnerError

MOST_RECENT = 8
MOST_PRINTERS = 20


class Printer(msgspec.Struct, frozen=True):
    """The correction of a printer, on one kind of paper.

    Attributes:
        name: as the person calls it. paper: a name of the table of papers.
        short, long: factors along the paper's shorter and longer side. unsure: the doubt of each, as a share.
        read: measured lengths of the bars along both sides [mm]; None: not measured.
    """

    name: str
    paper: str
    short: float
    long: float
    unsure: tuple[float, float]
    read: tuple[float | None, float | None] = (None, None)


class WindowPlace(msgspec.Struct, frozen=True):
    """The place of a window when it was closed [px of the desktop, which may be scaled].

    Attributes:
        left, top: the corner of its frame. wide, high: its size without the frame, while it is not maximised.
        edges: the frame's share of width and height. Until the window has been shown, a common desktop's.
        maximised: whether it fills the screen.
    """

    left: int
    top: int
    wide: int
    high: int
    edges: tuple[int, int] = (16, 48)
    maximised: bool = False


class Settings(msgspec.Struct, frozen=True):
    """The person's settings.

    Attributes:
        recent: paths of the boats that were opened or saved recently, the last one first.
        dark: whether the window is dark; None follows the desktop.
        hint_read: whether the person dismissed the hint of the first start.
        printers: the correction of each printer, the last used one first.
        place: the place of the window when it was closed last.
        text: the size of text [%].
    """

    recent: tuple[str, ...] = ()
    dark: bool | None = None
    hint_read: bool = False
    printers: tuple[Printer, ...] = ()
    place: WindowPlace | None = None
    text: int = 100


def settings_file() -> Path:
    """Return the file of the settings. It may not exist yet."""
    return data_folder() / "settings.json"


def settings() -> Settings:
    """Return the settings; the usual ones where the file is missing or damaged."""
    try:
        return msgspec.json.decode(read_bytes(settings_file()), type=Settings)
    except (OwnerError, *DAMAGED):
        return Settings()


def is_text(text: str) -> bool:
    """Return whether a name is text. The name of a file may be bytes in another encoding."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def remember(**changed: Any) -> None:
    """Change some of the settings. Where the file can't be written, the change is lost: no boat depends on it."""
    before = settings()
    after = replace(before, **changed)
    if after != before:
        with suppress(OwnerError):
            make_folder(settings_file().parent)
            write_bytes(settings_file(), msgspec.json.format(msgspec.json.encode(after)), lasting=False)


def remember_boat(path: Path) -> None:
    """Put a boat's file first among the recent boats. A name that is no text is left out."""
    mine = str(path.absolute())
    if not is_text(mine):
        return
    others = tuple(other for other in settings().recent if other != mine)
    remember(recent=(mine, *others)[:MOST_RECENT])


def printer(name: str, paper: str) -> Printer | None:
    """Return the kept correction of a printer on this paper."""
    wanted = name.casefold(), paper
    return next((kept for kept in settings().printers if (kept.name.casefold(), kept.paper) == wanted), None)


def printer_names() -> tuple[str, ...]:
    """Return the names of the printers with a correction, the last used one first."""
    return tuple(dict.fromkeys(kept.name for kept in settings().printers))


def remember_printer(measured: Printer) -> None:
    """Keep the correction of a printer, in place of an earlier one on this paper."""
    mine = measured.name.casefold(), measured.paper
    others = tuple(kept for kept in settings().printers if (kept.name.casefold(), kept.paper) != mine)
    remember(printers=(measured, *others)[:MOST_PRINTERS])


def recent_boats() -> tuple[Path, ...]:
    """Return the recent boats whose files still exist, the last one first."""
    return tuple(path for path in map(Path, settings().recent) if os.path.isfile(path))
