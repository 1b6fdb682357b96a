"""What stands below an entry that does not take a text: why, and what it would take, in the chosen unit."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from app.entries.entry_text import figure
from app.ui.apostrophes import curly
from geometry.design.edits import enter_value, parse_entry
from geometry.design.nearest_accepted import reach, refused
from geometry.design.units import quoted
from geometry.design.validity import NonsenseError

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.measures import Measure
    from geometry.errors import OwnerError


def told(sentence: OwnerError) -> str:
    """Return a refusal as the window says it: of what makes no sense the reason, without a file's keys."""
    why = sentence.why if isinstance(sentence, NonsenseError) else ""
    return curly(f"{why[0].upper()}{why[1:]}." if why else str(sentence))


def refusal(design: Design, one: Measure, text: str, wrong: float | None, sentence: NonsenseError) -> str:
    """Say why one measure's entry does not take a text, and the nearest that it would take.

    The nearest is found by trying, so that there is one for every entry and in either unit: what is told can be typed.

    Args:
        wrong: the value that the text means; None where the entry was emptied.
    """
    if wrong is None:
        return f"{told(sentence)} Type one, or press Escape."
    put = partial(enter_value, design, one)
    found = reach(put, one.get(design), wrong)
    why, bound = sentence.why, ""
    if found is not None:
        words, why = figure(design, one, found.last), found.why
        bare = "0" if words.startswith("0 ") else words
        if refused(put, parse_entry(design, one, words)) is None:
            bound = f"write {bare} or {'less' if wrong > found.last else 'more'}"
        else:
            bound = f"write a figure {'below' if wrong > found.last else 'above'} {bare}"
    return curly(f"{quoted(text)} can’t stand here: {'; '.join(part for part in (why, bound) if part)}.")
