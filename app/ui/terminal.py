"""Prints the commands' plain text on standard output and standard error, wrapped to the terminal."""

from __future__ import annotations

import os
import re
import shutil
import sys
import textwrap
import threading
import time
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, TextIO, TypeVar

from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Generator, Iterable, Iterator

T = TypeVar("T")

_QUIET = 1.0  # [s] longer work shows its progress
_IN_A_FIGURE = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|mm|diameters)\b)")  # no line ends within "1 1/2 in"
_PLAIN = str.maketrans({"−": "-", "″": '"', "’": "'", "‘": "'", "“": '"', "”": '"', "×": "x", "°": " deg", "…": "..."})


def width() -> int:
    """Return the width to wrap to: the terminal's, but neither too narrow nor too wide to read."""
    return min(max(shutil.get_terminal_size((80, 24)).columns, 40), 100)


def wrapped(text: str, first: str = "", later: str | None = None) -> str:
    """Return ``text`` wrapped, its first line behind ``first`` and the others behind ``later`` (blank, as wide)."""
    later = " " * len(first) if later is None else later
    bound = _IN_A_FIGURE.sub("\N{NO-BREAK SPACE}", text)
    filled = textwrap.fill(
        bound, width(), initial_indent=first, subsequent_indent=later, break_long_words=False, break_on_hyphens=False
    )
    return filled.replace("\N{NO-BREAK SPACE}", " ")


def print_text(text: str) -> None:
    """Write ``text`` as lines on standard output. A reader that has closed its end (``| head``) is no fault.

    Raises:
        OwnerError: it can't be written, for example on a full disk.
    """
    if sys.stdout is None:  # started with standard output closed
        return
    try:
        sys.stdout.write(_shown(text, sys.stdout) + "\n")
        sys.stdout.flush()
    except BrokenPipeError:
        _leave_alone(sys.stdout)
    except OSError as error:
        _leave_alone(sys.stdout)
        raise OwnerError(f"The findings can't be written: {error.strerror}. Send them somewhere else.") from error


def warn(text: str) -> None:
    """Write ``text`` as a line on standard error, where that can be written."""
    if sys.stderr is None:
        return
    try:
        sys.stderr.write(_shown(text, sys.stderr) + "\n")
        sys.stderr.flush()
    except OSError:
        _leave_alone(sys.stderr)


def each(steps: Iterable[T], doing: str, total: int | None = None) -> Iterator[T]:
    """Yield ``steps``. After the first second, write each second on standard error how many are done."""
    next_word = time.monotonic() + _QUIET
    for done, step in enumerate(steps, start=1):
        yield step
        if time.monotonic() >= next_word:
            next_word = time.monotonic() + _QUIET
            warn(f"{doing}: {done} of {total}" if total else f"{doing}: {done}")


@contextmanager
def waiting(doing: str) -> Iterator[None]:
    """Write each second on standard error that ``doing`` goes on, for work that can't count its steps."""
    done = threading.Event()

    def say() -> None:
        while not done.wait(_QUIET):
            warn(f"{doing} …")

    teller = threading.Thread(target=say, daemon=True)
    teller.start()
    try:
        yield
    finally:
        done.set()
        teller.join()


def follow(work: Generator[int, None, T], doing: str, total: int) -> T:
    """Run ``work`` to its end and return its result. It yields after each part, and each part is counted."""
    result: list[T] = []

    def parts() -> Iterator[int]:
        result.append((yield from work))

    for _ in each(parts(), doing, total):
        pass
    return result[0]


def _shown(text: str, stream: TextIO) -> str:
    """Return ``text`` without control characters, in characters that ``stream`` has."""
    safe = "".join(letter if letter.isprintable() or letter == "\n" else "\N{REPLACEMENT CHARACTER}" for letter in text)
    encoding = stream.encoding or "utf-8"
    try:
        safe.encode(encoding)
    except UnicodeEncodeError:
        return safe.translate(_PLAIN).encode(encoding, "backslashreplace").decode(encoding)
    return safe


def _leave_alone(stream: TextIO) -> None:
    """Send the rest of the output nowhere, so that the stream closes without a new failure."""
    with suppress(OSError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
