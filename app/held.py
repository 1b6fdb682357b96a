"""A lock that one living process holds: the system lets go of it when its process ends, however it ends."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from typing import TYPE_CHECKING, BinaryIO

if TYPE_CHECKING:
    from pathlib import Path

if sys.platform == "win32":
    import msvcrt

    def _take(file: BinaryIO) -> bool:
        file.seek(1 << 20)  # Windows lets nobody else read a locked byte, so lock one that nobody reads
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
else:
    import fcntl

    def _take(file: BinaryIO) -> bool:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


class Hold:
    """A lock in hand; `release` gives it up."""

    def __init__(self, path: Path, file: BinaryIO | None) -> None:
        self._path, self._file = path, file

    def release(self) -> None:
        """Let go, and take the lock file away; a second time does nothing."""
        if self._file is None:
            return
        if sys.platform == "win32":  # no open file can be taken away there; another may have opened it by now
            self._file.close()
            with suppress(PermissionError):
                self._path.unlink(missing_ok=True)
        else:  # while still held, so that nobody takes hold of a file that is about to go
            with suppress(PermissionError):
                self._path.unlink(missing_ok=True)
            self._file.close()
        self._file = None


def hold(path: Path) -> Hold | None:
    """Take the lock file ``path`` and write this process's number in it; None where a living process has it.

    Where no lock file can be made, the hold is an empty one: in a folder that can't be written nobody can save either.
    """
    while True:
        try:
            file = path.open("a+b")
        except OSError:
            return Hold(path, None)
        if not _take(file):
            file.close()
            return None
        if path.exists() and os.path.samestat(path.stat(), os.fstat(file.fileno())):
            file.truncate(0)
            file.write(f"{os.getpid()}\n".encode())
            file.flush()
            return Hold(path, file)
        file.close()  # its last holder took it away while we were at the door
