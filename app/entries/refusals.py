"""The sentences below an entry that refuses a text: what is wrong, why, and what the entry would take in the unit shown."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

from app.ui.apostrophes import curly
from geometry.design.validity import CLOSE, NonsenseError
from geometry.edits.edits import enter_value, parse_entry
from geometry.readings.figures_in_sentences import figure
from geometry.readings.nearest_accepted import Reach, reach, refused
from geometry.readings.other_unit import meant_in_other_unit
from geometry.units.units import STEPS, quoted

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.errors import OwnerError
    from geometry.readings.measures import Measure


def plain_refusal(sentence: OwnerError) -> str:
    """Return a refusal as the window shows it. Of an impossible value that is its reason, without a file's keys."""
    why = sentence.why if isinstance(sentence, NonsenseError) else ""
    return curly(_sentence(why) if why else str(sentence))


def refusal(design: Design, measure: Measure, text: str, wrong: float | None, sentence: NonsenseError) -> str:
    """Say why a measure's entry refuses a text, and the nearest value that it would take.

    That value is found by trying. So every entry has one in either unit, and it can be typed.

    Args:
        wrong: the value that the text means; None where the entry was emptied.
    """
    if wrong is None:
        return f"{plain_refusal(sentence)} Type one, or press Escape."
    put = partial(enter_value, design, measure)
    nearest = reach(put, measure.get(design), wrong)
    why = sentence.why if nearest is None else nearest.why
    bound = "" if nearest is None else _bound(design, measure, nearest, wrong)
    meant = meant_in_other_unit(measure, wrong, text, design.units)
    asked = f"Did you mean {meant}?" if meant and refused(put, parse_entry(design, measure, meant)) is None else ""
    return curly(" ".join(part for part in (f"{quoted(text)} can’t be right.", _sentence(why), asked, bound) if part))


def _bound(design: Design, measure: Measure, nearest: Reach, wrong: float) -> str:
    """Say what to write instead: "Write 3/8 in or more."; a length in whole steps of the owner's rule where these will do."""
    less, put = wrong > nearest.last, partial(enter_value, design, measure)
    said = str(round(nearest.last)) if measure.kind == "hole" else figure(design, measure, nearest.last)
    rounded = _whole_steps(design, parse_entry(design, measure, said), less=less) if measure.kind == "length" else 0.0
    if rounded and refused(put, rounded) is None:
        said = figure(design, measure, rounded)
    bare = "0" if said.startswith("0 ") else said
    if refused(put, parse_entry(design, measure, said)) is None:
        return f"Write {bare} or {'less' if less else 'more'}."
    return f"Write a figure {'below' if less else 'above'} {bare}."


def _whole_steps(design: Design, mm: float, *, less: bool) -> float:
    """Return the whole number of 1/16 in or 1 mm next to a length on the side that is accepted; allows 1e-6 mm."""
    step = STEPS[design.units]
    return step * (math.floor((mm + CLOSE) / step) if less else math.ceil((mm - CLOSE) / step))


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}." if words else ""
