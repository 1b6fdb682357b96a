"""The only disk access: designs in and out, and the bytes of sheets and pictures out.

Writing is atomic: the new text is whole in a file beside the old one before it takes its place, so that a full disk or
a killed process leaves the old file or the new one, never a half. What can't be done becomes one plain sentence.
"""

from __future__ import annotations

import errno
import os
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from app.held import Hold, hold
from geometry.design.design_text import COPY, MOST_BYTES, DesignError, from_text, to_text
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from geometry.design.whole import Design

ENDING = ".boltwell"
_LEFT = 3600.0  # s after which nobody is still writing what was begun


class FileError(OwnerError):
    """A file that can't be read or written; the message says why and what to do."""


class Seen(msgspec.Struct, frozen=True):
    """What a file held when this program last read or wrote it."""

    path: Path
    digest: bytes

    @classmethod
    def of(cls, path: Path, raw: bytes) -> Seen:
        """Return what was seen where the file, links followed, held ``raw``."""
        import hashlib  # slow to import, and not needed to open the window

        return cls(real(path), hashlib.sha256(raw).digest())


def read_design(path: Path) -> tuple[Design, Seen]:
    """Return the design in the file and what was seen there; the file stays as it is.

    Raises:
        OwnerError: the file can't be read, or holds no design; the sentence begins with its name.
    """
    raw = read_bytes(path)
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError as error:
        raise FileError(f"{path.name} is not UTF-8 text (see byte {error.start}), as a design is. {COPY}") from error
    try:
        return from_text(raw), Seen.of(path, raw)
    except DesignError as sentence:
        raise type(sentence)(f"{path.name}: {sentence}") from sentence


def reason(sentence: OwnerError) -> str:
    """Return why a file can't be read, without the advice to open a copy: for where better advice follows."""
    return str(sentence).removesuffix(f" {COPY}")


def write_design(path: Path, design: Design, seen: Seen | None = None) -> tuple[Design, Seen]:
    """Write ``design`` and return it as written, and what the file holds now.

    A demonstration that is saved under another name than the one in ``seen`` is one no longer. An existing file is
    written over only where it can be read as a design and, if it is the one in ``seen``, holds what it held then.

    Raises:
        OwnerError: nothing was written, and why.
    """
    target = real(path)
    same_name = seen is not None and seen.path == target
    if os.path.exists(target):
        _may_be_replaced(path, seen if same_name else None)
    if not same_name:
        design = msgspec.structs.replace(design, demonstration=False)
    raw = to_text(design).encode()
    _replace(path, raw)
    return design, Seen.of(target, raw)


def read_bytes(path: Path) -> bytes:
    """Return what the file holds, at most 5 MB.

    Raises:
        FileError: it is missing, a folder, larger, or not to be read.
    """
    try:
        with path.open("rb") as file:
            size = os.fstat(file.fileno()).st_size
            raw = b"" if size > MOST_BYTES else file.read(MOST_BYTES + 1)  # a device tells no size and has no end
    except OSError as error:
        raise FileError(_why(error, path, "read")) from error
    if size > MOST_BYTES or len(raw) > MOST_BYTES:
        raise FileError(f"{path.name} holds more than 5 MB, the most that a design has; it is some other file.")
    return raw


def write_bytes(path: Path, raw: bytes, *, lasting: bool = True) -> None:
    """Put ``raw`` in the file, wholly or not at all; a file that was there keeps its mode.

    Args:
        lasting: wait until the disk has it, so that it outlasts a power cut too.

    Raises:
        FileError: nothing was written, and why; or the name is one for a design.
    """
    keep_from_designs(path)
    _replace(path, raw, lasting=lasting)


def keep_from_designs(path: Path) -> None:
    """Refuse a name that belongs to a design, where something else is to be written.

    Raises:
        FileError: the name ends as a design's does.
    """
    if path.suffix.lower() == ENDING:
        raise FileError(f"{path.name} is a name for a design, and something else goes there. Choose another ending.")


def real(path: Path) -> Path:
    """Return where a file lies, all links followed."""
    return Path(os.path.realpath(path))  # like Path.resolve, but for a loop of links, which opening then tells of


def hold_design(path: Path) -> Hold | None:
    """Take the lock beside a design file for as long as it is open; None where another window has it open."""
    target = real(path)
    return hold(target.with_name(f".{target.name}.lock"))


def data_folder() -> Path:
    """Return the folder for what the program keeps for this person; it need not be there yet."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "Boltwell"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "Boltwell"
    told = Path(os.environ.get("XDG_DATA_HOME", ""))  # XDG Base Directory Specification 0.8: a relative one is ignored
    return (told if told.is_absolute() else home / ".local" / "share") / "boltwell"


def make_folder(path: Path, *, private: bool = False) -> None:
    """Make the folder and those above it, where they are missing.

    Args:
        private: for nobody else to look into, where it is made here.

    Raises:
        FileError: it can't be made, and why.
    """
    try:
        path.mkdir(0o700 if private else 0o777, parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(_why(error, path, "made")) from error


def _replace(path: Path, raw: bytes, *, lasting: bool = True) -> None:
    target = real(path)  # a link stays a link
    part = target.with_name(f".{target.name[:60]}.{os.urandom(4).hex()}.part")
    try:
        mode = _mode(target)
        if os.path.exists(target) and not os.path.isfile(target):  # a device is written to; nothing takes its place
            with target.open("wb", buffering=0) as file:
                file.write(raw)
            return
        try:
            with part.open("xb") as file:
                file.write(raw)
                file.flush()
                if lasting:
                    os.fsync(file.fileno())
            if mode is not None:
                part.chmod(mode)
            os.replace(part, target)
        except BaseException:
            with suppress(OSError):  # there may be none; what went wrong before is what counts
                part.unlink()
            raise
        if lasting:
            _settle(target.parent)
            _sweep(target)
    except OSError as error:
        raise FileError(_why(error, path, "written")) from error


def _sweep(target: Path) -> None:
    """Take away what a process that was killed while writing left half written beside the file."""
    with suppress(OSError):
        for file in target.parent.iterdir():
            left = file.name.startswith(f".{target.name[:60]}.") and file.suffix == ".part"
            if left and file.stat().st_mtime < time.time() - _LEFT:
                file.unlink()


def _may_be_replaced(path: Path, seen: Seen | None) -> None:
    """Refuse to write over what can't be read, or has changed since it was."""
    try:
        _, now = read_design(path)
    except OwnerError as sentence:
        raise FileError(f"{reason(sentence)} It stays as it is; save under another name.") from sentence
    if seen is not None and now != seen:
        at = time.strftime("%H:%M", time.localtime(path.stat().st_mtime))
        raise FileError(f"Another window saved this boat at {at}. Keep yours under a new name, or open theirs.")


def _mode(target: Path) -> int | None:
    """Return the mode of the file that is about to be replaced; None where there is none.

    Raises:
        OSError: it may not be written, or is no file. (To take a file's place asks for its folder's permission only.)
    """
    try:
        with target.open("r+b") as file:
            return os.fstat(file.fileno()).st_mode & 0o7777
    except FileNotFoundError:
        return None


def _settle(folder: Path) -> None:
    """Wait until the disk knows the new name too; Windows has no way to ask for it."""
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _why(error: OSError, path: Path, done: str) -> str:
    """Return one sentence for what the system refused; ``done`` is "read", "written" or "made"."""
    folder = path.absolute().parent
    if os.path.isdir(path) and done != "made":
        return f"{path} is a folder, and a file was expected. Add the file's name."
    match error.errno:
        case errno.ENOENT if done == "read":
            return f"There is no file {path}. Look at its name and folder."
        case errno.ENOENT:
            return f"{path} can't be {done}: there is no folder {folder}. Make it first, or choose another."
        case errno.ENOTDIR | errno.EEXIST:
            return f"{path} can't be {done}: there is a file where a folder was expected. Choose another place."
        case errno.EACCES | errno.EPERM | errno.EROFS if done == "read":
            return f"{path} can't be read: its owner has not allowed it to you. Ask for it, or open a copy."
        case errno.EACCES | errno.EPERM | errno.EROFS:
            return f"{path} can't be {done}: writing there is not allowed. Choose another folder or name."
        case errno.ENOSPC | errno.EFBIG | errno.EDQUOT:
            return f"{path} can't be {done}: the disk is full. Make room, or choose another disk."
        case errno.ENAMETOOLONG:
            return f"{path.name[:40]}… can't be {done}: the name is too long. Choose a shorter one."
        case _:
            return f"{path} can't be {done}: {error.strerror or error}. Choose another place."
