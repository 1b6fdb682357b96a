"""A file lock. The system releases it when its process ends, also after a crash."""

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
    """A lock that this process holds."""

    def __init__(self, path: Path, file: FileIO | None) -> None:
        self._path, self._file = path, file

    def release(self) -> None:
        """Release the lock and delete its file. A second call does nothing."""
        if self._file is None:
            return
        if sys.platform == "win32":  # no open file can be deleted there; another process may have opened it by now
            self._file.close()
            with suppress(OSError):
                self._path.unlink(missing_ok=True)
        else:  # while the lock is held, so that nobody locks a file that is about to be deleted
            with suppress(OSError):
                self._path.unlink(missing_ok=True)
            self._file.close()
        self._file = None


def acquire(path: Path) -> FileLock | None:
    """Lock the file ``path`` and write this process's number in it; None where a living process has the lock.

    The lock does not need the number: on a full disk the file stays empty. Where no lock file can be made, or the disk
    has no locks, the returned lock is an empty one.
    """
    while True:
        try:
            file = open(path, "a+b", buffering=0)  # noqa: SIM115 (the lock keeps it open)
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
        file.close()  # its last holder deleted it just now


def create_part(folder: Path, name: str) -> tuple[Path, FileIO]:
    """Make a temporary file and lock it while it is open, so that `remove_if_free` does not delete it.

    Args:
        name: the name of the file that it will replace. `is_part` recognises the new file by its name.

    Raises:
        OSError: it can't be made.
    """
    while True:
        part = folder / f".{name[:55]}.{os.urandom(4).hex()}{_PART}"  # 55 letters of 4 bytes: within the 255 of most disks
        file = open(part, "xb", buffering=0)  # noqa: SIM115 (the caller closes it)
        if sys.platform == "win32":  # no open file can be deleted there
            return part, file
        with suppress(OSError):  # a disk without locks: there `remove_if_free` deletes nothing
            if not _take(file) or not _is_at(part, file):  # another process has just deleted it
                file.close()
                continue
        return part, file


def is_part(name: str) -> bool:
    """Return whether a file's name is one that `create_part` gives, in this version or an earlier one."""
    return re.fullmatch(r"\..+\.[0-9a-f]{8}\.boltwell\.part|\..+\.boltwell\.[0-9a-f]{8}\.part", name) is not None


def remove_if_free(path: Path) -> None:
    """Delete a file that no living process has locked: a killed process left it."""
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
    """Return whether the open file is still the one at ``path``."""
    try:
        return os.path.samestat(os.stat(path), os.fstat(file.fileno()))
    except FileNotFoundError:
        return False
