"""The record of a command, and the reading that all commands share. It imports nothing slow before it is needed."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from geometry.errors import OwnerError

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked

Words = argparse.Namespace


class UsageError(OwnerError):
    """Words that the command does not know. The message says which, and shows the usage."""


class Command(msgspec.Struct, frozen=True):
    """One command: its words, what it does, and the function that does it and returns the exit code."""

    name: str
    words: str
    does: str
    run: Callable[[Words], int]
    flags: tuple[str, ...] = ()
    options: tuple[str, ...] = ()
    needed: tuple[str, ...] = ()

    @property
    def usage(self) -> str:
        """The usage: the command with its words."""
        return f"boltwell {self.name} {self.words}".strip()


def design_of(words: Words) -> Design:
    """Return the design in FILE.

    Raises:
        OwnerError: it can't be read.
    """
    from app.document.files import read_design

    return read_design(Path(words.FILE))[0]


def checked_of(design: Design) -> Checked:
    """Return a design with its findings and how sure each of them is."""
    from geometry.doubt.spreads import with_spreads
    from geometry.judge.check import check

    return with_spreads(check(design))


def out_of(words: Words) -> Path:
    """Return the file that the sheet goes to.

    Raises:
        OwnerError: something would be lost there. The writing checks it again; this check comes before the long work.
    """
    from app.document.outputs import refuse_to_replace

    out = Path(words.to)
    refuse_to_replace(out, force=words.force)
    return out
