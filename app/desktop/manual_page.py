"""The manual page of the command, in roff, from the same texts as its help."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

_ENDS = (
    ("0", "It is done. For check: no finding that stops the paper is fouled or not checked."),
    ("1", "check: a finding that stops the paper is fouled or not checked. fit: nothing fits."),
    ("2", "A word, a file or a place can't be used. Standard error has a sentence."),
    ("70", "A fault of the program itself."),
)


def manual_page(about: str, commands: Iterable[tuple[str, str]], version: str) -> str:
    """Return the page.

    Args:
        about: what the program is, in one sentence. commands: the usage of each, and what it does.
    """
    lines = [
        f'.TH BOLTWELL 1 "" "boltwell {version}"', ".SH NAME",
        "boltwell \\- bolts for an outboard motor over a shallow splash well",
        ".SH SYNOPSIS", ".B boltwell", "[\\fICOMMAND\\fR] [\\fIFILE\\fR]", ".SH DESCRIPTION", _text(about), ".PP",
        "Without a command the window opens. With a file, it opens on that design.", ".SH COMMANDS",
    ]  # fmt: skip
    for usage, does in commands:
        lines += [".TP", f".B {_text(usage)}", _text(does)]
    lines.append(".SH EXIT STATUS")
    for code, meaning in _ENDS:
        lines += [".TP", f".B {code}", _text(meaning)]
    return "\n".join(lines) + "\n"


def _text(words: str) -> str:
    """Return words as roff has them: hyphens and backslashes as such, and no line that begins like a request."""
    escaped = words.replace("\\", "\\e").replace("-", "\\-")
    return f"\\&{escaped}" if escaped.startswith((".", "'")) else escaped
