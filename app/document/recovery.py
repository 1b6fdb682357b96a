"""Saves every finished change at once in the person's data folder, and opens it again after a crash.

An autosaved design is one file, written atomically: a line that names its boat's file, then the design's text. Next to
it is a lock file. Where the lock is free and the file is still there, the process that held the lock has died.
"""

from __future__ import annotations

import os
import time
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from app.document.file_lock import FileLock, acquire
from app.document.files import DAMAGED, FileState, data_folder, make_folder, read_bytes, real_path, write_bytes
from geometry.design_text import from_text, to_text
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from app.document.document import Document
    from geometry.design.design import Design

_ENDING, _LOCK, _ASIDE = ".kept", ".lock", ".failed"


class _Head(msgspec.Struct, frozen=True):
    """The first line: the last step, the time [s since 1970], and the last known state of the boat's file.

    Attributes:
        name: the bytes of the file's path, where they are no text.
    """

    label: str
    at: float
    path: str | None
    digest: bytes | None
    name: bytes | None = None


class UnsavedDesign(msgspec.Struct, frozen=True):
    """A design that a dead process left unsaved.

    Attributes:
        label: its last step, such as "Drop to 7 1/4 in".
        at: when it was autosaved [s since 1970].
        file_state: the state of its file that the process knew; None where it had no file.
    """

    design: Design
    label: str
    at: float
    file_state: FileState | None
    file: Path
    _lock: FileLock

    def remove(self) -> None:
        """Delete it: this process keeps it by now, or nobody needs it."""
        _delete(self.file)
        self._lock.release()

    def release(self) -> None:
        """Leave it for the next start."""
        self._lock.release()

    def set_aside(self) -> Path:
        """Move it to a name that later starts do not look for, and return its file."""
        aside = self.file.with_suffix(_ASIDE)
        with suppress(OSError):
            self.file.replace(aside)
        self._lock.release()
        return aside if aside.exists() else self.file


class Autosave:
    """Keeps the present design of a document in a file while it is not saved.

    Attributes:
        trouble: why the last change could not be kept, as one sentence; "" where it is kept.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self.trouble = ""
        self._file = (folder or autosave_folder()) / f"{os.urandom(8).hex()}{_ENDING}"
        self._lock: FileLock | None = None
        self._kept: Design | None = None

    def follow(self, document: Document) -> None:
        """Keep every change of ``document`` from now on."""
        document.shown.connect(lambda *_shown: self.update(document))

    def update(self, document: Document) -> None:
        """Keep the present design of ``document``, if it is new. If it is saved, delete the autosaved file."""
        if not document.changed_since_saved:
            self.discard()
        elif document.design is not self._kept:
            self.write(document.history.present.label, document.design, document.file_state)

    def write(self, label: str, design: Design, file_state: FileState | None) -> None:
        """Write ``design``. Where that fails, `trouble` says why."""
        try:
            make_folder(self._file.parent, private=True)
            self._lock = self._lock or acquire(_lock_file(self._file))
            # It does not wait for the disk against a power cut, since the window would wait too.
            write_bytes(self._file, _head(label, file_state) + b"\n" + to_text(design).encode(), lasting=False)
        except OwnerError as sentence:
            self.trouble = f"The last change is not kept against a crash: {self._reason(sentence)}. Save often."
        else:
            self.trouble, self._kept = "", design

    def _reason(self, sentence: OwnerError) -> str:
        """Return the reason, short and without the path: the foot line has little room."""
        text = str(sentence)
        if text.startswith(str(self._file.parent)):  # "FILE can't be written: the disk is full. Make room, …"
            text = text.partition("can't be ")[2].partition(": ")[2]
        return text.partition(". ")[0].rstrip(".")

    def location(self, document: Document) -> str:
        """Return a sentence that says where the present design of ``document`` is on the disk, or that it is not."""
        if not document.changed_since_saved:
            return f"Your design is saved in {document.path}." if document.path is not None and document.path.is_file() else ""
        if self._kept is document.design and self._file.is_file():
            return f"Your design is kept in {self._file}."
        return "Your last change is not kept: save the boat."

    def discard(self) -> None:
        """Delete the autosaved file: the design is saved, or the person did not want it."""
        if self._lock is not None:
            _delete(self._file)
            self._lock.release()
        self._lock, self._kept, self.trouble = None, None, ""


def autosave_folder() -> Path:
    """Return the folder of autosaved designs. It may not exist yet."""
    return data_folder() / "kept"


def unsaved_designs(folder: Path | None = None) -> tuple[UnsavedDesign, ...]:
    """Return the designs that dead processes left, newest first. Each is locked until it is removed or released."""
    folder = folder or autosave_folder()
    unsaved = []
    for stem in {file.stem for ending in (_ENDING, _LOCK) for file in folder.glob(f"*{ending}")}:
        file = folder / f"{stem}{_ENDING}"
        lock = acquire(_lock_file(file))
        if lock is None:  # its process is alive
            continue
        for part in folder.glob(f".{file.name}.*"):  # killed while it wrote: the file is the complete one before
            _delete(part)
        try:
            head, _, text = read_bytes(file).partition(b"\n")
            first = msgspec.json.decode(head, type=_Head)
            unsaved.append(UnsavedDesign(from_text(text), first.label, first.at, _file_state(first), file, lock))
        except (OwnerError, *DAMAGED):  # empty, damaged, or a newer program's, and left alone
            lock.release()
    return tuple(sorted(unsaved, key=lambda design: -design.at))


def _head(label: str, file_state: FileState | None) -> bytes:
    """Return the first line."""
    label = label.encode("utf-8", "replace").decode()
    if file_state is None:
        return msgspec.json.encode(_Head(label, time.time(), None, None))
    try:
        return msgspec.json.encode(_Head(label, time.time(), str(file_state.path), file_state.digest))
    except UnicodeEncodeError:
        return msgspec.json.encode(_Head(label, time.time(), None, file_state.digest, os.fsencode(file_state.path)))


def _file_state(head: _Head) -> FileState | None:
    """Return the file that the first line names; None where it names none, or a name that no file can have."""
    if head.digest is None or not (head.path or head.name):
        return None
    try:
        path = real_path(Path(os.fsdecode(head.name or head.path or "")))
    except OwnerError:
        return None
    return FileState(path, head.digest) if path.name else None


def _lock_file(file: Path) -> Path:
    return file.with_suffix(_LOCK)


def _delete(file: Path) -> None:
    with suppress(OSError):  # it does no harm: at worst the next start offers it again
        file.unlink()
