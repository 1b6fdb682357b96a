"""Reads and writes files: designs in and out, and the bytes of sheets and pictures out. No other module does.

Writing is atomic. The new text is complete in a second file before that file takes the old one's place. So a full disk
or a killed process leaves the old file or the new one, never a half. Each failure becomes one plain sentence.
"""

from __future__ import annotations

import errno
import os
import stat
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from app.document.file_lock import FileLock, acquire, create_part, is_part, remove_if_free
from geometry.design_text import COPY, MOST_BYTES, DesignError, from_text, to_text
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from io import FileIO

    from geometry.design.design import Design

ENDING = ".boltwell"
_LOCK = ".lock"
_AT_ONCE = getattr(os, "O_NONBLOCK", 0)  # else the program would wait forever for a pipe that nobody opens at its other end


DAMAGED = (msgspec.MsgspecError, UnicodeDecodeError, RecursionError)
"""What the reader of JSON raises for a damaged file of our own: settings, or an autosaved boat."""


class FileError(OwnerError):
    """A file that can't be read or written; the message says why and what to do."""


class FileState(msgspec.Struct, frozen=True):
    """The state of a file when this program last read or wrote it: its path, and a digest of its bytes."""

    path: Path
    digest: bytes

    @classmethod
    def of(cls, path: Path, raw: bytes) -> FileState:
        """Return the state of a file with the bytes ``raw``, links followed."""
        import hashlib  # slow to import, and not needed to open the window

        return cls(real_path(path), hashlib.sha256(raw).digest())


def read_design(path: Path) -> tuple[Design, FileState]:
    """Return the design in the file, and the file's state. The file stays as it is.

    Raises:
        OwnerError: the file can't be read, or holds no design; the sentence begins with its name.
    """
    raw = read_bytes(path)
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError as error:
        raise FileError(f"{path.name} is not UTF-8 text (see byte {error.start}), as a design is. {COPY}") from error
    try:
        return from_text(raw), FileState.of(path, raw)
    except DesignError as sentence:
        raise type(sentence)(f"{path.name}: {sentence}") from sentence


def reason(sentence: OwnerError) -> str:
    """Return why a file can't be read, without the advice to open a copy. The caller adds better advice."""
    return str(sentence).removesuffix(f" {COPY}")


def write_design(
    path: Path, design: Design, file_state: FileState | None = None, *, over: bool = False
) -> tuple[Design, FileState]:
    """Write ``design``. Return the design as it was written, and the file's new state.

    A demonstration that is saved under another name than the one in ``file_state`` is one no longer. The file in
    ``file_state`` is replaced only where it still holds the same.

    Args:
        over: whether another design there may be replaced. A file that is no design stays in any case.

    Raises:
        OwnerError: nothing was written, and why.
    """
    target = real_path(path)
    same_name = file_state is not None and file_state.path == target
    if os.path.exists(target):
        _refuse_changed(path, file_state if same_name else None)
        if not same_name and not over:
            raise FileError(f"{path.name} is there already, and the boat in it would be lost. Choose another name.")
    if not same_name:
        design = msgspec.structs.replace(design, demonstration=False)
    raw = to_text(design).encode()
    write_bytes(path, raw)
    return design, FileState.of(target, raw)


def read_bytes(path: Path) -> bytes:
    """Return the bytes of the file, at most 5 MB.

    Raises:
        FileError: it is missing, a folder, a pipe or a device, larger, or not to be read.
    """
    try:
        if not stat.S_ISREG(os.stat(path).st_mode):  # before it is opened, since opening starts some devices
            raise _no_file(path)
        with open(path, "rb", opener=lambda name, flags: os.open(name, flags | _AT_ONCE)) as file:
            status = os.fstat(file.fileno())
            if not stat.S_ISREG(status.st_mode):  # it changed in between
                raise _no_file(path)
            raw = b"" if status.st_size > MOST_BYTES else file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise FileError(_why(error, path, "read")) from error
    if status.st_size > MOST_BYTES or len(raw) > MOST_BYTES:
        raise FileError(f"{path.name} holds more than 5 MB, the most that a design has; it is some other file.")
    return raw


def write_bytes(path: Path, raw: bytes, *, lasting: bool = True) -> None:
    """Write ``raw`` to the file, completely or not at all. An existing file keeps its mode, and a link stays a link.

    Args:
        lasting: whether to wait until the disk has the bytes, so that they survive a power cut.

    Raises:
        FileError: nothing was written, and why.
    """
    target = real_path(path)
    try:
        if os.path.exists(target) and not os.path.isfile(target):  # a device or a pipe is never replaced
            _write_to_device(target, raw)
            return
        _replace(target, raw, lasting=lasting)
    except (OSError, ValueError) as error:
        raise FileError(_why(error, path, "written")) from error
    if lasting:
        remove_leftovers(target.parent)


def real_path(path: Path) -> Path:
    """Return the path of a file, all links followed.

    Raises:
        FileError: no file can have that name, or the current folder no longer exists.
    """
    try:
        return Path(os.path.realpath(path))  # unlike Path.resolve it accepts a loop of links; opening reports that
    except (OSError, ValueError) as error:
        raise FileError(_why(error, path, "found")) from error


def lock_design(path: Path) -> FileLock | None:
    """Lock a design file while it is open; None where another window has it open."""
    target = real_path(path)
    return acquire(target.with_name(f".{target.name}{_LOCK}"))


def remove_leftovers(folder: Path) -> None:
    """Delete files of killed processes in a folder: half-written files, and locks of designs that nobody has open."""
    with suppress(OSError):
        for name in os.listdir(folder):
            if is_part(name) or (name.startswith(".") and name.endswith(f"{ENDING}{_LOCK}")):
                remove_if_free(folder / name)


def data_folder() -> Path:
    """Return the folder of this person's data. It may not exist yet."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "Boltwell"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "Boltwell"
    named = Path(os.environ.get("XDG_DATA_HOME", ""))  # XDG Base Directory Specification 0.8: a relative path is ignored
    return (named if named.is_absolute() else home / ".local" / "share") / "boltwell"


def make_folder(path: Path, *, private: bool = False) -> None:
    """Make the folder and those above it, where they are missing.

    Args:
        private: whether nobody else may read a new folder.

    Raises:
        FileError: it can't be made, and why.
    """
    try:
        path.mkdir(0o700 if private else 0o777, parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(_why(error, path, "made")) from error


def _replace(target: Path, raw: bytes, *, lasting: bool) -> None:
    mode = _mode(target)
    part, file = create_part(target.parent, target.name)
    try:
        _write_all(file, raw)
        if lasting:
            os.fsync(file.fileno())
        if mode is not None:
            part.chmod(mode)
        if sys.platform == "win32":  # no open file can change its name there
            file.close()
        os.replace(part, target)
    except BaseException:
        with suppress(OSError):
            file.close()
        with suppress(OSError):  # the first failure counts
            part.unlink()
        raise
    file.close()
    if lasting:
        _sync_folder(target.parent)


def _write_to_device(target: Path, raw: bytes) -> None:
    """Write to a device, or to a pipe that somebody reads."""
    with open(target, "wb", buffering=0, opener=lambda name, _flags: os.open(name, os.O_WRONLY | _AT_ONCE)) as file:
        if _AT_ONCE:
            os.set_blocking(file.fileno(), True)
        _write_all(file, raw)


def _write_all(file: FileIO, raw: bytes) -> None:
    rest = memoryview(raw)
    while rest:
        rest = rest[file.write(rest) :]


def _refuse_changed(path: Path, file_state: FileState | None) -> None:
    """Refuse to replace a file that can't be read, or that has changed since this program read it."""
    try:
        _, now = read_design(path)
    except OwnerError as sentence:
        raise FileError(f"{reason(sentence)} It stays as it is. Save under another name.") from sentence
    if file_state is not None and now != file_state:
        at = time.strftime("%H:%M", time.localtime(path.stat().st_mtime))
        raise FileError(f"Another window saved this boat at {at}. Keep yours under a new name, or open theirs.")


def _mode(target: Path) -> int | None:
    """Return the mode of the file that will be replaced; None where there is none.

    Raises:
        OSError: it may not be written, or is no file. (To take a file's place asks for its folder's permission only.)
    """
    try:
        with target.open("r+b") as file:
            return os.fstat(file.fileno()).st_mode & 0o7777
    except FileNotFoundError:
        return None


def _sync_folder(folder: Path) -> None:
    """Wait until the disk has the new name too, on systems that can do so. The file is written already."""
    if sys.platform == "win32":
        return
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _no_file(path: Path) -> FileError:
    if os.path.isdir(path):
        return FileError(f"{path} is a folder, and a file was expected. Add the file's name.")
    return FileError(f"{path} is not a file but a pipe or a device, and a file was expected. Choose a file.")


def _here_is_gone() -> bool:
    """Return whether this process's current folder was deleted."""
    try:
        os.getcwd()
    except OSError:
        return True
    return False


def _why(error: OSError | ValueError, path: Path, done: str) -> str:
    """Return one sentence for a refusal of the system. ``done`` is "read", "written", "made" or "found"."""
    if not isinstance(error, OSError):  # the name has a null, or half a character
        return f"{str(path)!a} is no name that a file can have. Choose another."
    if not path.is_absolute() and _here_is_gone():
        return f"{path} can't be {done}: the folder that it is named from is gone. Go to a folder that is there."
    folder = path.absolute().parent
    if os.path.isdir(path) and done != "made":
        return str(_no_file(path))
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
        case errno.ENXIO:
            return f"{path} can't be {done}: nobody reads from that pipe. Choose another place."
        case errno.ENAMETOOLONG:
            return f"{path.name[:40]}… can't be {done}: the name is too long. Choose a shorter one."
        case _:
            return f"{path} can't be {done}: {error.strerror or error}. Choose another place."
