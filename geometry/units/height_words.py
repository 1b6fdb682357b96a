"""The motor's height in words: which of the bracket's upper holes takes the upper bolts, counted from the top.

A design counts these holes from 0 (`Mount.row`), a person from 1: "3rd hole from the top (two holes up)".
"""

from __future__ import annotations

import re

HEIGHT = "Motor's height"
"""The name of its entry."""

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh",
             "twelfth")  # fmt: skip
_MOST = 100  # holes: more than any bracket has
_TAIL = re.compile(r"(?: hole)?(?: from (?:the )?top)?$")
_FIGURES = re.compile(r"(\d{1,4})(?:st|nd|rd|th)?")



def number(count: int) -> str:
    """Say a small number as a word."""
    return _NUMBERS[count] if 0 <= count < len(_NUMBERS) else str(count)


def ordinal(row: int) -> str:
    """Say which of a bracket's upper holes a row is, counted from the top: "1st", "3rd"."""
    count = row + 1
    ending = "th" if 10 < count % 100 < 14 else {1: "st", 2: "nd", 3: "rd"}.get(count % 10, "th")
    return f"{count}{ending}"


def hole_from_top(row: int) -> str:
    """Say which hole of a bracket the upper bolts go into: "3rd hole from the top"."""
    return f"{ordinal(row)} hole from the top"


def up_words(row: int) -> str:
    """Say how high a row puts the motor: "lowest", "one hole up", "two holes up"."""
    return "lowest" if row == 0 else f"{number(row)} {'hole' if row == 1 else 'holes'} up"


def hole_words(row: int) -> str:
    """Say a row both ways: "3rd hole from the top (two holes up)"."""
    return f"{hole_from_top(row)} ({up_words(row)})"


def height_step(row: int) -> str:
    """Name the step that hangs the motor at a row."""
    return f"{HEIGHT} to {hole_words(row)}"


def usable_holes(left: tuple[int, ...]) -> str:
    """Say which upper holes a drop still allows: "2nd to 5th", "1st, 3rd", "none"."""
    if not left:
        return "none"
    if len(left) > 2 and left == tuple(range(left[0], left[-1] + 1)):
        return f"{ordinal(left[0])} to {ordinal(left[-1])}"
    return ", ".join(map(ordinal, left))


def row_of(text: str) -> int | None:
    """Return the row that a person means: 2 for "3", "3rd", "third hole" or "two holes up"; None for anything else.

    "0" gives -1, which no bracket has. Two ways that disagree give None.
    """
    said, _, aside = " ".join(text.lower().split()).removesuffix(")").partition(" (")
    if aside:
        row = row_of(said)
        return row if row == row_of(aside) else None
    said = _TAIL.sub("", said)
    named = (row for row in range(_MOST) if said in (number(row + 1), up_words(row), *_ORDINALS[row : row + 1]))
    figures = _FIGURES.fullmatch(said)
    return next(named, None if figures is None else int(figures[1]) - 1)
