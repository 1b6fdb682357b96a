"""What the program makes of a design, as files: what such a file may take the place of.

A paper or a picture never takes the place of a design, whatever name or link leads there. Any other file that is there
gives way unasked only where this program made it and nothing has changed it since.
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from app.document.files import ENDING, FileError, real_path, write_bytes

if TYPE_CHECKING:
    from pathlib import Path

_LARGEST = 50_000_000  # bytes; no output of ours comes near
_PDF, _PNG = b"/Creator (Boltwell)", b"Software\0Boltwell"
_SVG = b'<svg xmlns="http://www.w3.org/2000/svg" data-made-by="Boltwell" '  # an editor that saves it orders this its own way


def write_output(path: Path, raw: bytes, *, force: bool = False) -> None:
    """Write a paper, a drawing or a picture, wholly or not at all.

    Args:
        force: whether a file that is there may be lost, whatever it is; a design never is.

    Raises:
        FileError: nothing was written, and why.
    """
    refuse_to_replace(path, force=force)
    write_bytes(path, raw)


def refuse_to_replace(path: Path, *, force: bool = False) -> None:
    """Refuse a place where something would be lost.

    Raises:
        FileError: the name is a design's, links followed; or a design is there; or, without ``force``, another file that
            is not as this program writes it.
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
    """Tell whether a file's bytes are a design's, even a damaged one's or a newer program's."""
    return raw.removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"{") and b'"boltwell"' in raw


def is_ours(raw: bytes) -> bool:
    """Tell whether a file's bytes are a PDF, an SVG or a PNG of this program; a PDF with notes added is one no more."""
    if raw.startswith(b"%PDF-"):
        return _PDF in raw and raw.count(b"startxref") == 1  # whoever adds to a PDF adds one more
    if raw.startswith(b"\x89PNG"):
        return _PNG in raw
    return raw.startswith(b"<?xml") and raw.partition(b"?>\n")[2].startswith(_SVG)


def _start(path: Path) -> bytes:
    """Return what the file holds, as far as it matters here.

    Raises:
        FileError: it can't be read, so that nobody can tell what would be lost.
    """
    try:
        with open(path, "rb") as file:
            return file.read(_LARGEST)
    except OSError as error:
        raise FileError(f"{path} is there already and can't be read. Choose another name.") from error
