"""The lock that lets one starter work at a time. The system frees it when its process ends, also after a crash."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

if sys.platform == "win32":
    import msvcrt

    def _take(file: IO[bytes]) -> bool:
        try:
            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
else:
    import fcntl

    def _take(file: IO[bytes]) -> bool:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


@contextmanager
def only_one(path: Path, waiting: Callable[[], None]) -> Iterator[None]:
    """Hold the lock at ``path``; where another process holds it, call ``waiting`` once and wait.

    The file stays and means nothing: the system keeps the lock, and frees it when the process ends. A killed process
    may leave an installer that runs on for a while, so a child process can keep the lock too.
    """
    with path.open("ab") as file:
        if not _take(file):
            waiting()
            while not _take(file):
                time.sleep(0.1)
        os.set_inheritable(file.fileno(), True)
        yield
