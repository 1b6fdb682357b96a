"""A design as text and back; no disk here.

The text is one JSON object, indented, its keys in the order of the values' fields. What can't be read is refused with
one plain sentence that names the place. NaN and infinities never enter or leave.
"""

from __future__ import annotations

import hashlib
import math
import re
from typing import TYPE_CHECKING, Any

import msgspec

from geometry.design.measures import known_key
from geometry.design.whole import VERSION, Design
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Iterator

MOST_BYTES = 5_000_000
_ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"  # without what is easily misread: 0 1 I L O
_WORDS = {
    "float": "a number", "int": "a whole number", "str": "text", "bool": "true or false", "null": "null (not measured)",
    "array": "a list", "object": "a group of fields",
}  # fmt: skip


class DesignError(OwnerError, ValueError):
    """The text is not a design; the message says where and what was expected."""


def to_text(design: Design) -> str:
    """Return ``design`` as the text of its file.

    Raises:
        DesignError: a number without end, which no file may hold, or a text too large to be read again.
    """
    for path, value in _numbers(msgspec.to_builtins(design), ""):
        if not math.isfinite(value):
            raise DesignError(f"{path} is {value}; only a finite number can be saved. Enter it again.")
    text = msgspec.json.format(msgspec.json.encode(design), indent=2).decode() + "\n"
    if len(text.encode()) > MOST_BYTES:
        raise DesignError("The design comes to more than 5 MB, the most that can be read again. Take out some corners.")
    return text


def from_text(text: str | bytes) -> Design:
    """Return the design in ``text``.

    Raises:
        DesignError: not JSON, cut off, from a newer program, a field missing, unknown or of the wrong kind, a value
            or shape that no boat can have, or more than 5 MB.
    """
    raw = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
    if len(raw) > MOST_BYTES:
        raise DesignError(f"The file has {len(raw) / 1e6:.1f} MB; a design has at most 5 MB. It is some other file.")
    raw = raw.removeprefix(b"\xef\xbb\xbf")
    _refuse_other_version(raw)
    try:
        design = msgspec.json.decode(raw, type=Design)
    except msgspec.ValidationError as error:
        raise DesignError(_sentence(str(error))) from error
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise DesignError(_damage(error)) from error
    for key in design.readings:
        if not known_key(design, key):
            raise DesignError(f"readings has an entry {key!r}, which names no measurement of this design. Take it out.")
    return design


def fingerprint(design: Design) -> str:
    """Return eight letters and digits that change with all that moves a hole or a check; not name, notes or units."""
    bare = msgspec.to_builtins(design)
    for field in ("boltwell", "name", "units", "notes", "revision", "demonstration", "photo", "taped", "as_drilled"):
        bare.pop(field)
    for reading in bare["readings"].values():
        reading.pop("text")
    text = msgspec.json.encode(bare, order="deterministic")
    number = int.from_bytes(hashlib.sha256(text).digest()[:8], "big")
    letters = ""
    for _ in range(8):
        number, index = divmod(number, len(_ALPHABET))
        letters += _ALPHABET[index]
    return f"{letters[:4]}-{letters[4:]}"


def _numbers(value: Any, path: str) -> Iterator[tuple[str, float]]:
    """Yield every float in nested lists and dicts with its path."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _numbers(inner, f"{path}.{key}" if path else key)
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            yield from _numbers(inner, f"{path}[{index}]")
    elif isinstance(value, float):
        yield path, value


def _refuse_other_version(raw: bytes) -> None:
    """Refuse a version that this program can't read, before its fields are looked at."""
    try:
        head = msgspec.json.decode(raw)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise DesignError(_damage(error)) from error
    if not isinstance(head, dict) or "boltwell" not in head:
        raise DesignError("The file is no Boltwell design: it lacks the field boltwell, its version.")
    version = head["boltwell"]
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise DesignError(f"boltwell is {version!r}; the version has to be a whole number from 1 up.")
    if version > VERSION:
        raise DesignError(
            f"The file is from a newer Boltwell (version {version}); this one reads up to {VERSION}. Use the newer one."
        )


def _damage(error: Exception) -> str:
    """Say that the text is no JSON, and where it breaks off."""
    found = re.search(r"byte (\d+)", str(error))
    if "truncated" in str(error):
        return "The file breaks off before its end; it was not wholly written or copied. Open a copy or the last autosave."
    if "out of range" in str(error):
        where = f" (at byte {found[1]})" if found else ""
        return f"The file holds a number too large to mean anything{where}. Correct it, or open the last autosave."
    where = f" at byte {found[1]}" if found else ""
    return f"The file is damaged{where}: it is not the text of a design. Open a copy or the last autosave."


def _sentence(told: str) -> str:
    """Turn a decoder's message into one plain sentence that names the place."""
    message, _, path = told.partition(" - at `")
    place = path.rstrip("`").removeprefix("$").removeprefix(".").replace("[...]", "")
    where = place or "the design"
    if found := re.fullmatch(r"Object missing required field `(.+)`", message):
        return f"{where} lacks the field {found[1]}. Put it in, or open the last autosave."
    if found := re.fullmatch(r"Object contains unknown field `(.+)`", message):
        return f"{where} has a field {found[1]}, which is not known. Correct its spelling or take it out."
    if found := re.fullmatch(r"Expected (.+), got (.+)", message):
        return f"{where} holds {_named(found[2])}, and {_named(found[1])} was expected. Correct it, or open the last autosave."
    if found := re.fullmatch(r"(?:Invalid enum value|Invalid value) (.+)", message):
        return f"{where} is {found[1]}, which is not among the words known there. Correct its spelling."
    if "out of range" in message:
        return f"{where} is a number too large to mean anything. Correct it, or open the last autosave."
    return f"{where}: {message.rstrip('.')}."


def _named(kinds: str) -> str:
    """Say a decoder's kinds in plain words: "`float | null`" becomes "a number or null"."""
    names = [_WORDS.get(kind.strip("` "), kind.strip("` ")) for kind in kinds.split("|")]
    return " or ".join(dict.fromkeys(names))
