"""Capital letters as plain lines, for drawings that go to a cutter: its program may drop text, but not lines."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from templates_out.drawing.marks import Path

if TYPE_CHECKING:
    from templates_out.drawing.marks import Pen, Point

_WIDE, _HIGH, _ADVANCE = 4.0, 6.0, 5.8  # of a letter, and from letter to letter, in units of the grid below
_LETTERS: dict[str, tuple[tuple[Point, ...], ...]] = {
    "A": (((0, 0), (2, 6), (4, 0)), ((0.67, 2), (3.33, 2))),
    "B": (((0, 0), (0, 6), (3, 6), (4, 5), (4, 4), (3, 3), (0, 3)), ((3, 3), (4, 2), (4, 1), (3, 0), (0, 0))),
    "D": (((0, 0), (0, 6), (2.5, 6), (4, 4.5), (4, 1.5), (2.5, 0), (0, 0)),),
    "E": (((4, 6), (0, 6), (0, 0), (4, 0)), ((0, 3), (3, 3))),
    "I": (((2, 0), (2, 6)),),
    "L": (((0, 6), (0, 0), (4, 0)),),
    "M": (((0, 0), (0, 6), (2, 3), (4, 6), (4, 0)),),
    "N": (((0, 0), (0, 6), (4, 0), (4, 6)),),
    "O": (((1, 0), (3, 0), (4, 1), (4, 5), (3, 6), (1, 6), (0, 5), (0, 1), (1, 0)),),
    "P": (((0, 0), (0, 6), (3, 6), (4, 5), (4, 4), (3, 3), (0, 3)),),
    "R": (((0, 0), (0, 6), (3, 6), (4, 5), (4, 4), (3, 3), (0, 3)), ((2, 3), (4, 0))),
    "T": (((0, 6), (4, 6)), ((2, 6), (2, 0))),
    "Y": (((0, 6), (2, 3), (4, 6)), ((2, 3), (2, 0))),
}


def stroke_words(text: str, middle: Point, high: float, room: float, pen: Pen, part: str) -> Iterator[Path]:
    """Yield capital words as lines about ``middle``, lower where they would be wider than ``room`` [mm].

    Raises:
        KeyError: a letter is not in the table.
    """
    units = _ADVANCE * (len(text) - 1) + _WIDE
    scale = min(high / _HIGH, room / units)
    left, foot = middle[0] - units * scale / 2, middle[1] - _HIGH * scale / 2
    for index, letter in enumerate(text):
        if letter == " ":
            continue
        for stroke in _LETTERS[letter]:
            points = tuple((left + (_ADVANCE * index + x) * scale, foot + y * scale) for x, y in stroke)
            yield Path(points, False, pen, part=part)
