"""Writes sheets, drawings and pictures to files, and decides which existing files they may replace.

A sheet or a picture never replaces a design, by any name or link. Without a question it replaces another file only
where this program made that file, and nobody has changed it since.
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from app.document.files import ENDING, FileError, real_path, write_bytes

if TYPE_CHECKING:
    from pathlib import Path

_LARGEST = 50_000_000  # bytes; our files are much smaller
_PDF, _PNG = b"/Creator (Boltwell)", b"Software\0Boltwell"
_SVG = b'<svg xmlns="http://www.w3.org/2000/svg" data-made-by="Boltwell" '  # an editor writes another order


def write_output(path: Path, raw: bytes, *, force: bool = False) -> None:
    """Write a sheet, a drawing or a picture, completely or not at all.

    Args:
        force: whether any existing file but a design may be replaced.

    Raises:
        FileError: nothing was written, and why.
    """
    refuse_to_replace(path, force=force)
    write_bytes(path, raw)


def refuse_to_replace(path: Path, *, force: bool = False) -> None:
    """Refuse to write where something would be lost.

    Raises:
        FileError: the name is a design's, links followed, or a design is there. Without ``force`` also where another
            file is there that this program did not write so.
    """
    target = real_path(path)
    if ENDING in (path.suffix.lower(), target.suffix.lower()):
        through = "" if path.suffix.lower() == ENDING else f" leads to {target.name}, which"
        raise FileError(f"{path.name}{through} is a name for a design, and something else goes there. Choose another name.")
    if not os.path.isfile(target):
        return
    raw = _start(target)
    if holds_design(raw):
        raise FileError(f"{path} holds a design, and it would be lost. Choose another name.")
    if raw and not force and not is_ours(raw):
        raise FileError(
            f"{path} is there already, and it is no paper of this program, or was changed since. "
            "Choose another name, or replace it with --force."
        )


def holds_design(raw: bytes) -> bool:
    """Return whether a file's bytes are a design, also a damaged one or one of a newer program."""
    return raw.removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"{") and b'"boltwell"' in raw


def is_ours(raw: bytes) -> bool:
    """Return whether a file's bytes are a PDF, SVG or PNG of this program. A PDF with added notes is not."""
    if raw.startswith(b"%PDF-"):
        return _PDF in raw and raw.count(b"startxref") == 1  # every program that adds to a PDF adds another one
    if raw.startswith(b"\x89PNG"):
        return _PNG in raw
    return raw.startswith(b"<?xml") and raw.partition(b"?>\n")[2].startswith(_SVG)


def _start(path: Path) -> bytes:
    """Return the first bytes of the file, as many as matter here.

    Raises:
        FileError: it can't be read, so that nobody knows what would be lost.
    """
    try:
        with open(path, "rb") as file:
            return file.read(_LARGEST)
    except OSError as error:
        raise FileError(f"{path} is there already and can't be read. Choose another name.") from error
