"""A reading as a question: its title, how to take it and to what exactness, and what is known of it now."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from app.entries.entry_text import exactness
from app.ui.apostrophes import curly
from geometry.asking.question_pairs import pair_of
from geometry.asking.question_words import how_to_read, title
from geometry.edits.confirm_or_buy import is_part
from geometry.edits.reading_order import deciding_readings
from geometry.readings.figures_in_sentences import figure
from geometry.readings.measures import guess_of, measure, measures, state_of

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.readings.measures import Measure

_TOP_CUT = "transom.top_cut"
_DISTANCES = (".bracket.rows.half_spacing", ".bracket.lower.half_spacing", ".bracket.lower.slots.0.0")
_MOVES = 2  # the last steps: the holes' place, and the sheets
_OTHER_WAYS = {
    "well.floor_port": "Another way: stand a straight stick on the floor, along the inside face. "
                       "Mark the inside top edge on it. Then measure the stick.",
    "well.fillet_radius": "Another way: cut a card round until it fits the corner. Compare its end with coins.",
    "transom.thickness.top": "Another way: hold two straight battens on the faces, past the top edge. Measure between them.",
    "transom.thickness.low": "Another way: push a wire with a small hook through an old hole. Mark the outside on it.",
}  # fmt: skip
_OTHER_WAYS["well.floor_starboard"] = _OTHER_WAYS["well.floor_port"]


class Question(msgspec.Struct, frozen=True):
    """The question that the panel of the next step asks.

    Attributes:
        key: of the measure. title: a few words. how: what to do, and how exactly. plain_how: the same in the card's words.
        reason: what it decides, "" where nothing is said. guess: the value until then, "" for none.
        unit: of what is typed, "" where the text itself says it. other_way: another way to the same reading, "" for none.
        guessed: whether it may be left a guess: a second way or a pilot may not.
        also: keys of other readings that the same answer gives.
    """

    key: str
    title: str
    how: str
    plain_how: str
    reason: str
    guess: str
    unit: str
    other_way: str
    guessed: bool
    also: tuple[str, ...] = ()


def question(design: Design, key: str, *, alone: bool = False) -> Question | None:
    """Return the question for a reading; None for a shape or a choice, which have no field.

    Args:
        alone: ask for this reading only, although one answer may give two.
    """
    pair = None if alone else pair_of(design, key)
    first = None if pair is None else _question(design, pair.keys[0])
    if pair is None or first is None:
        return _question(design, key)
    how = f"{pair.how} {exactness(row, design)}" if (row := measure(design, first.key)) is not None else pair.how
    return replace(first, title=curly(pair.title), how=curly(how.strip()), also=pair.keys[1:])


def _question(design: Design, key: str) -> Question | None:
    asked = measure(design, key)
    if asked is None or asked.kind == "shape":
        return None
    how, plain_how = (f"{words} {exactness(asked, design)}".strip() for words in (how_to_read(design, asked), asked.how))
    unit = design.units if asked.kind == "length" else "°" if asked.kind == "angle" and key != _TOP_CUT else ""
    other = _OTHER_WAYS.get(key, "") if design.well is None or design.well.well_from != "datum" else ""
    other = f"{other} {exactness(asked, design)}" if other else ""
    bolted = any(mount.bracket.rows is not None for mount in design.mounts)
    reason = "It decides whether the lower washers clear." if key in deciding_readings(design) and bolted else ""
    name, said, plain = curly(title(asked)), curly(how), curly(plain_how)
    return Question(key, name, said, plain, reason, _guess(design, asked), unit, curly(other), not asked.second)


def _guess(design: Design, asked: Measure) -> str:
    """Return the present value where it is a guess, with its unit; a reading that is taken again is not shown."""
    if asked.key == _TOP_CUT and isinstance(design.transom.top_cut, str):
        return design.transom.top_cut if guess_of(design, asked) else ""
    value = asked.get(design)
    return "" if value is None or not guess_of(design, asked) else figure(design, asked, value)


def progress(design: Design, key: str, *, sheets: bool) -> tuple[int, int]:
    """Return how many of the usual questions are answered, and how many there are, the one about ``key`` among them.

    They are the readings that decide the lower holes, the pattern, the parts, the holes' place and the sheets. A question
    that is never asked counts as answered once a move is proposed.

    Args:
        key: of the reading that is asked for, "" for a move. sheets: whether the move is to make the sheets.
    """
    deciding = deciding_readings(design)
    readings = [asked for name in deciding if (asked := measure(design, name)) is not None]
    groups = [[row for row in measures(design) if holds(row)] for holds in (_is_distance, is_part)]
    done = sum(_is_answered(design, asked) for asked in readings)
    done += sum(bool(rows) and all(_is_answered(design, row) for row in rows) for rows in groups)
    every = len(readings) + len(groups) + _MOVES
    asked = measure(design, key) if key else None
    if asked is not None:
        extra = key not in deciding and not _is_distance(asked) and not is_part(asked)
        return min(done, every - _MOVES - (not extra)), every + extra
    return every - 1 if sheets else every - _MOVES, every


def _is_answered(design: Design, asked: Measure) -> bool:
    if asked.key == _TOP_CUT and isinstance(design.transom.top_cut, str):
        return not guess_of(design, asked)
    return not guess_of(design, asked) and state_of(design, asked) != "not known"


def _is_distance(row: Measure) -> bool:
    """Return whether a measure is one of the three distances of a bracket's pattern."""
    return row.key.startswith("mounts.") and row.key.endswith(_DISTANCES)
