"""Angles that are typed without a sign: a word says to which side, as "14 bottom". Nobody has to know which way is plus."""

from __future__ import annotations

import msgspec

from geometry.units.units import AngleError, parse_angle, quoted


class Sides(msgspec.Struct, frozen=True):
    """The words for both sides of an angle.

    Attributes:
        usual: for plus, on most boats; it may be left out. other: for minus.
        question: asks which one it is, and says what to add.
    """

    usual: str
    other: str
    question: str


SIDES = {
    "transom.rake": Sides("top", "bottom", "Which edge is nearer to you, seen from astern? If the bottom one, add: bottom."),
    "transom.top_cut": Sides("under", "above", "Is the inside edge above the square? Then add: above."),
    "well.floor_rise": Sides("rises", "falls", "Does the floor fall forward? Then add: falls."),
    "well.front_lean": Sides("aft", "forward", "Is its top further forward than its foot? Then add: forward."),
}  # fmt: skip
"""The angles whose side is asked for in words, by their keys."""


def read_angle(key: str, text: str) -> float:
    """Return the angle of a measure in ``text`` [degrees]: "14", "14 bottom", or with a sign.

    Raises:
        AngleError: it does not read as an angle, or has a sign and a word.
    """
    sides, (figure, _, word) = SIDES.get(key), text.strip().lower().rpartition(" ")
    if sides is None:
        return parse_angle(text)
    named = word in (sides.usual, sides.other)
    try:
        size = parse_angle(figure if named else text)
    except AngleError as error:
        like = f"Write it in degrees, like 14 or 14 {sides.other}."
        raise AngleError(f"{quoted(text.strip())} does not read as an angle. {like}") from error
    if not named:
        return size
    if size < 0 or figure.lstrip().startswith("+"):
        raise AngleError(f"{quoted(text.strip())} has a sign and a word. Write the word only, such as 14 {sides.other}.")
    return size if word == sides.usual else -size
