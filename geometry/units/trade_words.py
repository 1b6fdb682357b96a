"""Words of the trade that differ between America and Britain: one table, and the choice by the design's unit.

A boat in inches gets the American words, a boat in millimeters the British ones. Common practice.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.units.units import Unit

PAIRS = (
    ("box-end wrenches", "ring spanners"),
    ("box-end wrench", "ring spanner"),
    ("open-end wrenches", "open-ended spanners"),
    ("open-end wrench", "open-ended spanner"),
    ("aluminum", "aluminium"),
    ("type 316 stainless", "A4 stainless"),
)
"""The American word, and the British one. A plural comes before its singular."""


@cache  # made when first asked for: the window starts without it
def _table(unit: Unit) -> tuple[re.Pattern[str], dict[str, tuple[str, str]], tuple[str, ...]]:
    """Return what finds the other country's words, a pair for each (that word and ours), and the words without plurals."""
    words = {british.lower(): (british, american) for american, british in PAIRS}
    if unit == "mm":
        words = {american.lower(): (american, british) for american, british in PAIRS}
    singular = tuple(word for word in words if not any(other in word for other in words if other != word))
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, words))})\b", re.IGNORECASE), words, singular


def in_trade_words(text: str, unit: Unit) -> str:
    """Return ``text`` with the trade words of the boat's country. A capital at the beginning of a sentence stays."""
    pattern, words, singular = _table(unit)
    lower = text.lower()
    for word in singular:
        if word in lower:
            break
    else:  # nearly always, and far quicker than the pattern
        return text

    def own(match: re.Match[str]) -> str:
        other, word = words[match[0].lower()]
        begins = match.start() == 0 or match[0][0] != other[0]
        return word[0].upper() + word[1:] if begins and match[0][0].isupper() else word

    return pattern.sub(own, text)
