"""The words for what one press confirms or buys: distances of a bracket, and the parts of a pair."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.edits.confirm_or_buy import PARTS
from geometry.units.trade_words import in_trade_words
from geometry.units.units import format_length

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.design.design import Design
    from geometry.readings.measures import Measure

_APART = {"rows": "upper holes {} apart", "lower": "lower holes {} apart"}
_PITCH, _DOWN = "one {} below the other", "highest place of a lower bolt {} below the top hole"


def distances(design: Design, rows: Iterable[Measure]) -> str:
    """Return the distances of a bracket's pattern in words: "upper holes 12 7/8 in apart, lower holes 9 7/8 in apart"."""
    said = []
    for row in rows:
        words = _APART[row.key.split(".")[3]] if _is_half(row) else _PITCH if row.key.endswith(".pitch") else _DOWN
        said.append(words.format(format_length(_whole(design, row), design.units, denominator=64)))
    return ", ".join(said)


def figures(design: Design, rows: Iterable[Measure]) -> str:
    """Return the same distances in figures: "12 7/8, 9 7/8 and 8 in"."""
    lengths = [format_length(_whole(design, row), design.units, denominator=64, unit_word=False) for row in rows]
    return f"{listed(lengths)} {design.units}"


def _is_half(row: Measure) -> bool:
    return row.key.endswith(".half_spacing")


def _whole(design: Design, row: Measure) -> float:
    """Return the distance between two holes, of which the design has half; a depth as it is [mm]."""
    return (2 if _is_half(row) else 1) * (row.get(design) or 0.0)


def parts_named(design: Design, rows: Iterable[Measure]) -> str:
    """Return the parts that some sizes belong to: "inside washers, outside washers and socket"."""
    nouns = dict.fromkeys(PARTS[row.key.partition("_hardware.")[2].split(".")[0]] for row in rows)
    return in_trade_words(listed(list(nouns)), design.units)


def listed(words: list[str]) -> str:
    """Return words as a list in a sentence: "a, b and c"."""
    return " and ".join((", ".join(words[:-1]), words[-1])) if len(words) > 1 else "".join(words)
