"""A lock that one living process holds: the system lets go of it when its process ends, however it ends."""

from __future__ import annotations

import os
import re
import sys
from contextlib import suppress
from typing import TYPE_CHECKING, BinaryIO

if TYPE_CHECKING:
    from io import FileIO
    from pathlib import Path

if sys.platform == "win32":
    import msvcrt

    def _take(file: BinaryIO | FileIO) -> bool:
        file.seek(1 << 20)  # Windows lets nobody else read a locked byte, so lock one that nobody reads
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
else:
    import fcntl

    def _take(file: BinaryIO | FileIO) -> bool:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


_PART = ".boltwell.part"


class FileLock:
    """A lock in hand; `release` gives it up."""

    def __init__(self, path: Path, file: FileIO | None) -> None:
        self._path, self._file = path, file

    def release(self) -> None:
        """Let go, and take the lock file away; a second time does nothing."""
        if self._file is None:
            return
        if sys.platform == "win32":  # no open file can be taken away there; another may have opened it by now
            self._file.close()
            with suppress(OSError):
                self._path.unlink(missing_ok=True)
        else:  # while still held, so that nobody takes hold of a file that is about to go
            with suppress(OSError):
                self._path.unlink(missing_ok=True)
            self._file.close()
        self._file = None


def acquire(path: Path) -> FileLock | None:
    """Take the lock file ``path`` and write this process's number in it; None where a living process has it.

    The lock does not need the number: on a full disk the file stays empty. Where no lock file can be made, or the disk
    knows no locks, the hold is an empty one.
    """
    while True:
        try:
            file = open(path, "a+b", buffering=0)  # noqa: SIM115 (the hold keeps it open)
        except (OSError, ValueError):
            return FileLock(path, None)
        try:
            if not _take(file):
                file.close()
                return None
            if _is_at(path, file):
                with suppress(OSError):
                    file.truncate(0)
                    file.write(f"{os.getpid()}\n".encode())
                return FileLock(path, file)
        except OSError:
            file.close()
            return FileLock(path, None)
        file.close()  # its last holder took it away while we were at the door


def create_part(folder: Path, name: str) -> tuple[Path, FileIO]:
    """Make a file for what is being written, and hold it for as long as it is open, so that `remove_if_free` leaves it alone.

    Args:
        name: of the file that it will replace; `is_part` knows the new file by it.

    Raises:
        OSError: it can't be made.
    """
    while True:
        part = folder / f".{name[:55]}.{os.urandom(4).hex()}{_PART}"  # 55 letters of 4 bytes: within the 255 of most disks
        file = open(part, "xb", buffering=0)  # noqa: SIM115 (the caller closes it)
        if sys.platform == "win32":  # no open file can be taken away there
            return part, file
        with suppress(OSError):  # a disk that knows no locks: there `remove_if_free` takes nothing away
            if not _take(file) or not _is_at(part, file):  # another process has just cleared it away
                file.close()
                continue
        return part, file


def is_part(name: str) -> bool:
    """Tell whether a file's name is one that `create_part` gives, or gave in an earlier version to what replaced a design."""
    return re.fullmatch(r"\..+\.[0-9a-f]{8}\.boltwell\.part|\..+\.boltwell\.[0-9a-f]{8}\.part", name) is not None


def remove_if_free(path: Path) -> None:
    """Take a file away that no living process holds: one that a killed process left."""
    with suppress(OSError):
        if not os.path.isfile(path):
            return
        if sys.platform == "win32":  # this refuses a file that is open
            path.unlink()
            return
        with open(path, "rb", buffering=0) as file:
            if _take(file) and _is_at(path, file):
                path.unlink()


def _is_at(path: Path, file: FileIO) -> bool:
    """Tell whether the open file is still the one at ``path``."""
    try:
        return os.path.samestat(os.stat(path), os.fstat(file.fileno()))
    except FileNotFoundError:
        return False
