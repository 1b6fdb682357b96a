"""Keeps a backup of each boat's file: its text when it was last read or written whole, against damage on the disk.

A backup is in the person's data folder, and nobody else may read it. Its name is the boat's name and a digest of the
boat's path, so that two boats of one name stay apart. Where a backup can't be made, the work goes on without it.
"""

from __future__ import annotations

import os
import time
from contextlib import suppress
from typing import TYPE_CHECKING

import msgspec

from app.document.files import FileState, data_folder, make_folder, read_bytes, read_design, real_path, write_bytes
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from pathlib import Path

    from geometry.design.design import Design

MOST = 20
LONGEST = 400 * 86_400.0  # s: a boat that nobody opens for a winter and a summer still has its backup


class Backup(msgspec.Struct, frozen=True):
    """The backup of a boat's file.

    Attributes:
        at: when the file was last read or written whole here [s since 1970].
        file_state: the state of the file then.
    """

    design: Design
    at: float
    file_state: FileState


def save_backup(file_state: FileState) -> None:
    """Keep a copy of the file, if it is still in this state. Delete the oldest backups where there are too many."""
    with suppress(OwnerError, OSError):
        if not file_state.path.is_file():  # a pipe can't be read a second time
            return
        raw = read_bytes(file_state.path)
        if FileState.of(file_state.path, raw) == file_state:
            make_folder(backups_folder(), private=True)
            write_bytes(_copy_of(file_state.path), raw, lasting=False)
            _thin_out(backups_folder())


def load_backup(path: Path) -> Backup | None:
    """Return the backup of the file; None where there is none that can be read."""
    try:
        file = _copy_of(path)
        design, file_state = read_design(file)
        return Backup(design, file.stat().st_mtime, FileState(real_path(path), file_state.digest))
    except (OwnerError, OSError):
        return None


def backups_folder() -> Path:
    """Return the folder of the backups. It may not exist yet."""
    return data_folder() / "copies"


def _copy_of(path: Path) -> Path:
    import hashlib  # slow to import, and not needed to open the window

    target = real_path(path)
    mark = hashlib.sha256(os.fsencode(os.path.normcase(target))).hexdigest()[:16]
    return backups_folder() / f"{target.stem[:40]} {mark}.copy"


def _thin_out(folder: Path) -> None:
    """Delete all but the newest files, also half-written ones of killed processes."""
    newest = sorted(folder.iterdir(), key=lambda file: -file.stat().st_mtime)
    for index, file in enumerate(newest):
        if index >= MOST or file.stat().st_mtime < time.time() - LONGEST:
            file.unlink()
