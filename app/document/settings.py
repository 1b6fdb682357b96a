"""What the program remembers of a person: boats lately opened, light or dark, whether the hint was read, the window's place."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from typing import Any

import msgspec
from msgspec.structs import replace

from app.document.files import data_folder, make_folder, read_bytes, write_bytes
from geometry.errors import OwnerError

MOST_RECENT = 8
MOST_PRINTERS = 20


class Printer(msgspec.Struct, frozen=True):
    """What a printer was found to be off, on one kind of paper.

    Attributes:
        name: as the person calls it. paper: a name of the table of papers.
        short, long: what to multiply by along the paper's shorter and longer side. unsure: how sure of each, as a share.
        read: what the bars along both sides measured when that was found [mm]; None: not measured.
    """

    name: str
    paper: str
    short: float
    long: float
    unsure: tuple[float, float]
    read: tuple[float | None, float | None] = (None, None)


class WindowPlace(msgspec.Struct, frozen=True):
    """Where a window was when it was closed [px of the desktop, which may be scaled].

    Attributes:
        left, top: the corner of its frame. wide, high: its size without the frame, while it is not maximised.
        edges: what the frame adds to width and height; a common desktop's, until the window has been shown.
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
        recent: paths of the boats lately opened or saved, the last one first.
        dark: whether the window is dark; None follows the desktop.
        hint_read: whether the hint of the first start was put away.
        printers: what each printer is off, the last one used first.
        place: where the window was when it was closed last.
    """

    recent: tuple[str, ...] = ()
    dark: bool | None = None
    hint_read: bool = False
    printers: tuple[Printer, ...] = ()
    place: WindowPlace | None = None


def settings_file() -> Path:
    """Return the settings' file; it need not be there yet."""
    return data_folder() / "settings.json"


def settings() -> Settings:
    """Return what is remembered; nothing, where the file is missing or damaged."""
    try:
        return msgspec.json.decode(read_bytes(settings_file()), type=Settings)
    except (OwnerError, msgspec.MsgspecError):
        return Settings()


def is_text(text: str) -> bool:
    """Tell whether a name is text that a file can hold, and not bytes in some other encoding, as names of files may be."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def remember(**changed: Any) -> None:
    """Remember something more. Where it can't be written it is forgotten at the end: no boat hangs on it."""
    before = settings()
    after = replace(before, **changed)
    if after != before:
        with suppress(OwnerError):
            make_folder(settings_file().parent)
            write_bytes(settings_file(), msgspec.json.format(msgspec.json.encode(after)), lasting=False)


def remember_boat(path: Path) -> None:
    """Put a boat's file first among those lately opened; a name that is no text is not remembered."""
    mine = str(path.absolute())
    if not is_text(mine):
        return
    others = tuple(other for other in settings().recent if other != mine)
    remember(recent=(mine, *others)[:MOST_RECENT])


def printer(name: str, paper: str) -> Printer | None:
    """Return what is remembered of a printer on this paper."""
    wanted = name.casefold(), paper
    return next((one for one in settings().printers if (one.name.casefold(), one.paper) == wanted), None)


def printer_names() -> tuple[str, ...]:
    """Return the names of the printers that are remembered, the last one used first."""
    return tuple(dict.fromkeys(one.name for one in settings().printers))


def remember_printer(found: Printer) -> None:
    """Remember what a printer is off, in place of what was remembered of it on this paper."""
    mine = found.name.casefold(), found.paper
    others = tuple(one for one in settings().printers if (one.name.casefold(), one.paper) != mine)
    remember(printers=(found, *others)[:MOST_PRINTERS])


def recent_boats() -> tuple[Path, ...]:
    """Return the boats lately opened that are still there, the last one first."""
    return tuple(path for path in map(Path, settings().recent) if os.path.isfile(path))
