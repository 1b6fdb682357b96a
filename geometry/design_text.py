"""A design as text and back, without the disk.

The text is one JSON object, indented, its keys in the order of the values' fields. Unreadable text is refused with one
plain sentence that names the place. NaN and infinities never enter or leave.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Any

import msgspec
from msgspec import inspect

from geometry.design.design import VERSION, Design, Reading
from geometry.design.file_editions import UnknownFieldError, upgraded, without_defaults
from geometry.design.validity import LARGEST
from geometry.errors import OwnerError
from geometry.readings.measures import measures

if TYPE_CHECKING:
    from collections.abc import Iterator

MOST_BYTES = 5_000_000
COPY = "Open a copy."  # the end of a refusal where nothing else helps
_LONGEST_QUOTE = 60
_AGAIN = "Correct it, or open a copy."
_ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"  # without letters and digits that are easily misread: 0 1 I L O
_WORDS = {
    "float": "a number", "int": "a whole number", "str": "text", "bool": "true or false", "null": "null (not measured)",
    "array": "a list", "object": "a group of fields",
}  # fmt: skip


class DesignError(OwnerError, ValueError):
    """The text is not a design. The message says where, and what was expected."""


class NewerError(DesignError):
    """The text is a newer program's design, and complete as far as this one can see."""


def to_text(design: Design) -> str:
    """Return ``design`` as the text of its file, without readings of parts that it no longer has.

    Raises:
        DesignError: a number without end or beyond `LARGEST`, half a character, or a text that is too large to be read
            again.
    """
    for path, value in _numbers(msgspec.to_builtins(design), ""):
        if not abs(value) <= LARGEST:
            raise DesignError(f"{path} is {value:g}; a saved value is at most {LARGEST:,} either way. Enter it again.")
    try:
        # Read once, every number is a float where it should be: equal designs have equal text.
        same = msgspec.json.decode(msgspec.json.encode(_kept(design)), type=Design)
        text = msgspec.json.format(msgspec.json.encode(same), indent=2).decode() + "\n"
    except UnicodeEncodeError as error:
        half = ascii(error.object[error.start])
        raise DesignError(
            f"A name or note holds {half}, half a character, which no file can hold. Type it again."
        ) from error
    if len(text.encode()) > MOST_BYTES:
        raise DesignError("The design comes to more than 5 MB, the most that can be read again. Take out some corners.")
    return text


def from_text(text: str | bytes) -> Design:
    """Return the design in ``text``.

    Raises:
        DesignError: not JSON, cut off, from a newer program, a field missing, unknown, twice or of the wrong kind, an
            impossible value or shape, or more than 5 MB.
    """
    raw = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
    if len(raw) > MOST_BYTES:
        size = math.ceil(len(raw) / 1e4) / 100
        raise DesignError(f"The file has {size:.2f} MB, and a design has 5 MB at most. Choose another file.")
    raw = raw.removeprefix(b"\xef\xbb\xbf")
    try:
        head = msgspec.json.decode(raw)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise DesignError(_damage(raw, error)) from error
    for path, value in _numbers(head, ""):
        if abs(value) > LARGEST:
            raise DesignError(_too_large(path))
    _refuse_other_version(head)
    if len(re.findall(rb'"\s*:', raw)) != _fields(head):  # a colon in a text, or a field that is there twice
        _refuse_twice(raw)
    try:
        if head["boltwell"] == VERSION:
            design = msgspec.json.decode(raw, type=Design)
        else:
            design = msgspec.convert(upgraded(head), type=Design)
    except UnknownFieldError as error:
        raise DesignError(_unknown(error.place, error.field)) from error
    except msgspec.ValidationError as error:
        raise DesignError(_sentence(error, head)) from error
    kept = _kept(design)
    for field, before, after in (("readings", design.readings, kept.readings), ("sure_of", design.sure_of, kept.sure_of)):
        for key in before.keys() - after.keys():
            raise DesignError(f"{field} has an entry {_quoted(key)}, which names no measure of this design. Take it out.")
    return design


def fingerprint(design: Design) -> str:
    """Return eight letters and digits that change with every value that moves a hole or a check; not name, notes or units.

    A later number's field counts only where it is not at its default, so that a printed template keeps its number.
    """
    bare = without_defaults(msgspec.to_builtins(_kept(design)))
    for field in ("boltwell", "name", "units", "notes", "revision", "demonstration", "photo", "taped", "as_drilled"):
        bare.pop(field)
    bare["survey"] = None  # its places move holes only as readings, when they are taken over
    for reading in bare["readings"].values():
        reading.pop("text")
    text = msgspec.json.encode(_as_floats(bare), order="deterministic")
    import hashlib  # slow to import, and needed on paper only

    number = int.from_bytes(hashlib.sha256(text).digest()[:8], "big")
    letters = ""
    for _ in range(8):
        number, index = divmod(number, len(_ALPHABET))
        letters += _ALPHABET[index]
    return f"{letters[:4]}-{letters[4:]}"


def _kept(design: Design) -> Design:
    """Return ``design`` without readings that belong to no measure any more, such as those of a removed motor."""
    known = {measure.key for measure in measures(design)} if design.readings or design.sure_of else set()
    if design.readings.keys() | design.sure_of.keys() <= known:
        return design
    readings = {key: reading for key, reading in design.readings.items() if key in known}
    sure_of = {key: values for key, values in design.sure_of.items() if key in known}
    return msgspec.structs.replace(design, readings=readings, sure_of=sure_of)


def _as_floats(value: Any) -> Any:
    """Return nested lists and dicts with every number a float and no minus zero: equal designs have equal text."""
    if isinstance(value, dict):
        return {key: _as_floats(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_as_floats(inner) for inner in value]
    return value + 0.0 if isinstance(value, int | float) and not isinstance(value, bool) else value


def _numbers(value: Any, path: str) -> Iterator[tuple[str, float]]:
    """Yield every number in nested lists and dicts with its path."""
    if isinstance(value, dict):
        for key, inner in value.items():
            step = key if re.fullmatch(r"[A-Za-z_]\w{0,40}", key, re.ASCII) else f"[{_quoted(key)}]"
            yield from _numbers(inner, f"{path}.{step}" if path and step == key else path + step)
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            yield from _numbers(inner, f"{path}[{index}]")
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path, value


def _refuse_other_version(head: Any) -> None:
    """Refuse a version that this program can't read, before its fields are looked at."""
    if not isinstance(head, dict) or "boltwell" not in head:
        raise DesignError("The file is no Boltwell design: it lacks the field boltwell, its version.")
    version = head["boltwell"]
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise DesignError(
            f"boltwell is {_short(msgspec.json.encode(version).decode())}; "
            f"the version has to be a whole number from 1 up. {_AGAIN}"
        )
    if version > VERSION:
        raise NewerError(
            f"The file is from a newer Boltwell: its version, the field boltwell, is {version}, and this one "
            f"reads up to {VERSION}. Use the newer one."
        )


def _fields(value: Any) -> int:
    """Count the fields in nested lists and dicts."""
    if isinstance(value, dict):
        return len(value) + sum(map(_fields, value.values()))
    return sum(map(_fields, value)) if isinstance(value, list) else 0


class _Pairs(dict[str, Any]):
    """A group of fields that remembers a field that is there twice."""

    twice: str | None = None


def _paired(pairs: list[tuple[str, Any]]) -> _Pairs:
    group, seen = _Pairs(pairs), set[str]()
    if len(group) < len(pairs):
        group.twice = next(key for key, _ in pairs if key in seen or seen.add(key))  # type: ignore[func-returns-value]
    return group


def _refuse_twice(raw: bytes) -> None:
    """Refuse a text that has a field twice: nobody can say which of them was meant."""
    import json  # this reader shows every field; it is not needed while each is there once

    groups: list[tuple[str, Any]] = [("", json.loads(raw, object_pairs_hook=_paired))]
    while groups:
        place, group = groups.pop()
        if isinstance(group, _Pairs) and group.twice is not None:
            where = place.removeprefix(".") or "The design"
            raise DesignError(f"{where} has the field {_quoted(group.twice)} twice. Take one of them out.")
        if isinstance(group, dict):
            groups += [(f"{place}.{_short(key)}", inner) for key, inner in group.items()]
        elif isinstance(group, list):
            groups += [(f"{place}[{index}]", inner) for index, inner in enumerate(group)]


def _damage(raw: bytes, error: Exception) -> str:
    """Say why bytes are no JSON, and where: the line, or the field that has no number."""
    import json  # this reader names the place of the fault; it is not needed while there is none

    try:
        text = raw.decode()
    except UnicodeDecodeError as bad:
        return f"The file is damaged at line {_line(raw, bad.start)}: the characters there are no UTF-8 text. {COPY}"
    if not text.strip():
        return f"The file is empty: it breaks off before it begins. {COPY}"
    if isinstance(error, RecursionError):
        return f"The file is nested too deeply to be a design. {COPY}"
    place = re.search(r"byte (\d+)", str(error))
    line = _line(raw, int(place[1])) if place else 1
    try:
        loose = json.loads(text, parse_int=float)  # unlike JSON itself, this takes NaN, and 1e999 for an infinity
    except json.JSONDecodeError as bad:
        if bad.pos >= len(text.rstrip()) or "Unterminated" in bad.msg:
            return f"The file breaks off at line {bad.lineno}, before its end: it was not wholly written. {COPY}"
        line = bad.lineno
    except RecursionError:
        pass  # this reader cannot read it
    else:
        for path, value in _numbers(loose, ""):
            if math.isnan(value):
                return f"{path or 'The file'} is NaN, no number at all, and a number was expected. {_AGAIN}"
            if math.isinf(value):
                return _too_large(path)
    return f"The file is damaged at line {line}, or it is no design at all. {COPY}"


def _too_large(path: str) -> str:
    return f"{path or 'The file'} is a number too large to mean anything. {_AGAIN}"


def _line(raw: bytes, at: int) -> int:
    return raw.count(b"\n", 0, at) + 1


def _sentence(error: msgspec.ValidationError, head: Any) -> str:
    """Turn a decoder's refusal into one or two plain sentences that name the place."""
    message, _, path = str(error).partition(" - at `")
    steps = re.findall(r"\w+|\.\.\.", path)
    place = path.rstrip("`").removeprefix("$").removeprefix(".")
    if "..." in steps:  # a decoder does not say which reading it was
        key = _bad_reading(head) if place.startswith("readings") else _bad_values(head)
        steps[steps.index("...")] = key
        place = place.replace("[...]", f"[{_quoted(key)}]")
    if isinstance(error.__cause__, OwnerError):
        return f"{_joined(place, str(error.__cause__), _at(head, steps))}."
    where = place or "The design"
    if parts := re.fullmatch(r"Object missing required field `(.+)`", message):
        return f"{where} lacks the field {parts[1]}. Put it in, or open a copy."
    if parts := re.fullmatch(r"Object contains unknown field `(.+)`", message, re.DOTALL):
        return _unknown(where, parts[1])
    if parts := re.fullmatch(r"Expected `array` of length (\d+)(?:, got \d+)?", message):
        return f"{where} holds a list of the wrong length, and {parts[1]} entries were expected. {_AGAIN}"
    if parts := re.fullmatch(r"Expected (.+), got (.+)", message):
        return f"{where} holds {_named(parts[2])}, and {_named(parts[1])} was expected. {_AGAIN}"
    if parts := re.fullmatch(r"Invalid enum value '(.*)'", message, re.DOTALL):
        return f"{where} is {_quoted(parts[1])}, and {_choices(steps)} was expected. Correct its spelling."
    return f"{where} holds what no design can have there. {_AGAIN}"


def _unknown(where: str, field: str) -> str:
    return f"{where} has a field {_quoted(field)}, which is not known. Correct its spelling or take it out."


def _joined(place: str, refusal: str, holder: Any) -> str:
    """Put a refusal after its place: "mounts[0]" and "row is 5" become "mounts[0].row is 5"."""
    refusal = re.sub(rf'"([^"]{{{_LONGEST_QUOTE}}})[^"]+"', r'"\1…"', refusal).rstrip(".")
    if isinstance(holder, dict) and re.split(r"\W", refusal, maxsplit=1)[0] in holder:
        return f"{place}.{refusal}" if place else refusal
    return f"{place}: {refusal[0].lower()}{refusal[1:]}" if place else refusal


def _at(value: Any, steps: list[str]) -> Any:
    """Return the value at the end of a path."""
    for step in steps:
        value = value[int(step) if isinstance(value, list) else step]
    return value


def _bad_reading(head: Any) -> str:
    """Return the key of the first unreadable reading."""
    for key, value in head["readings"].items():
        try:
            msgspec.convert(value, Reading)
        except msgspec.ValidationError:
            return str(key)
    return ""


def _bad_values(head: Any) -> str:
    """Return the key of the first confirmed reading whose values are no numbers."""
    for key, values in head["sure_of"].items():
        try:
            msgspec.convert(values, tuple[float, ...])
        except msgspec.ValidationError:
            return str(key)
    return ""


def _choices(steps: list[str]) -> str:
    """Name the words that are allowed at the end of a path."""
    kinds: list[inspect.Type] = [inspect.type_info(Design)]
    for step in steps:
        kinds = [inner for kind in kinds for inner in _inside(kind, step)]
    kinds = [inner for kind in kinds for inner in (kind.types if isinstance(kind, inspect.UnionType) else (kind,))]
    words = [f'"{word}"' for kind in kinds if isinstance(kind, inspect.LiteralType) for word in kind.values]
    words += ["a number"] if any(isinstance(kind, inspect.FloatType) for kind in kinds) else []
    return " or ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _inside(kind: inspect.Type, part: str) -> Iterator[inspect.Type]:
    """Yield the types that are one step inside another."""
    if isinstance(kind, inspect.UnionType):
        for member in kind.types:
            yield from _inside(member, part)
    elif isinstance(kind, inspect.StructType):
        yield from (field.type for field in kind.fields if field.encode_name == part)
    elif isinstance(kind, inspect.VarTupleType):
        yield kind.item_type
    elif isinstance(kind, inspect.TupleType):
        yield kind.item_types[int(part)]
    elif isinstance(kind, inspect.DictType):
        yield kind.value_type


def _named(kinds: str) -> str:
    """Say a decoder's kinds in plain words: "`float | null`" becomes "a number or null"."""
    names = [_WORDS.get(kind.strip("` "), kind.strip("` ")) for kind in kinds.split("|")]
    return " or ".join(dict.fromkeys(names))


def _short(text: str) -> str:
    """Return the beginning of a text. Half a character, which no screen shows and no file holds, becomes a mark."""
    text = re.sub("[\ud800-\udfff]", "\N{REPLACEMENT CHARACTER}", text)
    return text if len(text) <= _LONGEST_QUOTE else f"{text[:_LONGEST_QUOTE]}…"


def _quoted(text: str) -> str:
    return msgspec.json.encode(_short(text)).decode()
