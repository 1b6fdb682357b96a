"""Lengths and angles as a person writes them, to millimetres and degrees and back.

A length may be written as ``7``, ``7.25``, ``7,25``, ``1/4``, ``7 1/4``, ``7-1/4`` or ``7¼``.
After it may come ``mm``, ``cm``, ``in``, ``"``, ``ft`` or ``'``, or nothing.
Feet with inches are ``1' 3 1/4"``, ``1'-3"`` or ``1 ft 3 in``. Sums and differences of all these are allowed.
Two readings of the same text would be worse than none, so:

- ``4-5/8`` is four and five eighths; a difference has a space on each side of its minus, ``4 - 5/8``;
- ``1' - 3"`` is refused: drawings write 15 inches so, and it may be meant as 9;
- a comma is a decimal comma, followed by one or two figures; ``1,250`` is refused, it may be meant as thousands.
"""

from __future__ import annotations

import math
import re
from functools import lru_cache
from typing import Literal

from geometry.errors import OwnerError
from geometry.tables.known import KG_PER_POUND, MM_PER_INCH

Unit = Literal["in", "mm"]
Style = Literal["screen", "paper"]
STEPS: dict[Unit, float] = {"in": MM_PER_INCH / 16, "mm": 1.0}
"""The step that a person reads on a tape, and by which a hole moves [mm]."""


class LengthError(OwnerError, ValueError):
    """A text that does not read as a length."""


class AngleError(OwnerError, ValueError):
    """A text that does not read as an angle."""


class MassError(OwnerError, ValueError):
    """A text that does not read as a mass."""


_MM_PER_UNIT = {"in": MM_PER_INCH, "mm": 1.0, "cm": 10.0, "ft": 12 * MM_PER_INCH}
_MINUS = "\N{MINUS SIGN}"
_GRAIN = 1e-6  # [mm, or parts of a step]: so little is rounding of the computer, not of a tape

_NUMBER = (
    r"(?:(?:(?P<{0}whole>[0-9]+)(?: |-))?(?P<{0}top>[0-9]+)/(?P<{0}bottom>[0-9]+)"
    r"|(?P<{0}decimal>[0-9]+(?:\.[0-9]*|,[0-9]{{1,2}})?|\.[0-9]+))(?![0-9.,/])"
)
_INCH_MARK = r'(?:"|(?:inches|inch|in)(?![a-z])\.?)'
_TERM = (  # compiled when the first is read: the window starts without
    rf"{_NUMBER.format('feet_')} ?(?:'|(?:feet|foot|ft)(?![a-z])\.?)"
    rf"(?:(?: ?|-){_NUMBER.format('inches_')}(?: ?{_INCH_MARK})?)?"
    rf"|{_NUMBER.format('')}(?: ?(?P<unit>{_INCH_MARK}|(?:mm|cm)(?![a-z])))?"
)
_BETWEEN = rf" ?(\+) ?| ([-{_MINUS}]) "
_SIGN = rf"[-+{_MINUS}] ?"
_ANGLE = (
    rf"(?P<sign>[-+{_MINUS}] ?)?{_NUMBER.format('')}(?: ?(?:°|(?:degrees|degree|deg)\.?)| in {_NUMBER.format('run_')})?"
)

_MASS = rf"{_NUMBER.format('')}(?: ?(?P<unit>kg|lbs?)\.?)?"

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5",
    "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_AFTER_FIGURE = rf"(?<=[0-9])(?=[{''.join(_VULGAR)}])"
_PLAIN = str.maketrans(
    {**_VULGAR, "⁄": "/", "″": '"', "“": '"', "”": '"', "′": "'", "‘": "'", "’": "'", "‐": "-", "‑": "-", "–": "-"}
)


def parse_length(text: str, unit: Unit) -> float:
    """Return the length in ``text`` [mm]; a number without a unit is in ``unit``.

    Raises:
        LengthError: the text does not read as a length, or the length is not finite.
    """
    line = _plain(text)
    sign = re.match(_SIGN, line)
    factor = -1.0 if sign and sign[0][0] in f"-{_MINUS}" else 1.0
    at = sign.end() if sign else 0
    total = 0.0
    while True:
        term = re.compile(_TERM).match(line, at)
        if term is None:
            raise _no_length(text, unit)
        total += factor * _term(term, unit)
        at = term.end()
        if at == len(line):
            break
        between = re.compile(_BETWEEN).match(line, at)
        if between is None or (between[2] and line[at - 1] == "'"):
            raise _no_length(text, unit)
        factor = 1.0 if between[1] else -1.0
        at = between.end()
    if not math.isfinite(total):
        raise _no_length(text, unit)
    return round(total, 9)  # 6 in is 152.4 mm, not 152.39999999999998


def parse_angle(text: str) -> float:
    """Return the angle in ``text`` [degrees]: '14', '14.5°', '-3 deg', or a slope, '1 in 20'.

    Raises:
        AngleError: the text does not read as an angle, or the angle is not finite.
    """
    entry = re.fullmatch(_ANGLE, _plain(text))
    angle = math.nan
    if entry:
        angle = _number(entry, "")
        if entry["run_decimal"] or entry["run_top"]:
            angle = math.degrees(math.atan2(angle, _number(entry, "run_")))
        if entry["sign"] and entry["sign"][0] != "+":
            angle = -angle
    if not math.isfinite(angle):
        raise AngleError(f"{quoted(text)} does not read as an angle. Write it in degrees like 14 or 14.5°.")
    return angle


def parse_mass(text: str, unit: Unit) -> float:
    """Return the mass that a person wrote [kg]: '58', '58 kg', '128 lb'; a bare number is in pounds with inches, else in kg.

    Raises:
        MassError: it does not read as one.
    """
    entry = re.fullmatch(_MASS, _plain(text))
    mass = _number(entry, "") if entry else math.nan
    if entry is None or not math.isfinite(mass):
        like = "128, 128 lb or 58 kg" if unit == "in" else "58, 58 kg or 128 lb"
        raise MassError(f"{quoted(text)} does not read as a mass. Write it like {like}.")
    return mass * (KG_PER_POUND if (entry["unit"] or ("lb" if unit == "in" else "kg")).startswith("lb") else 1.0)


def format_mass(kg: float, unit: Unit = "mm") -> str:
    """Return a mass [kg], finite: '58 kg', to the nearest 0.1, or with inches '128 lb', to the nearest pound."""
    if unit == "in":
        return f"{kg / KG_PER_POUND:.0f} lb"
    return format_length(kg, "mm", unit_word=False) + " kg"


def format_length(
    mm: float,
    unit: Unit,
    *,
    places: int | None = None,
    denominator: int = 32,
    down: bool = False,
    unit_word: bool = True,
    style: Style = "screen",
) -> str:
    """Return ``mm`` as a person reads it: '6 7/16 in', '163.5 mm', '2 mm', '−7/8 in'.

    Inches are rounded to 1/``denominator`` and the fraction is reduced. Millimetres are rounded to 0.1, without a zero
    after the point. With ``places``, both units are decimal and have exactly so many places.

    Args:
        mm: the length [mm], finite.
        unit: the unit of the text.
        places: places after the point, for a decimal figure.
        denominator: of the fraction of an inch, 1 to 64.
        down: round toward minus infinity, so that nothing looks better than it is (but for 1e-6 mm); else to nearest.
        unit_word: whether the unit follows the figure.
        style: "screen" puts a space between inches and fraction, "paper" a hyphen.
    """
    if not 1 <= denominator <= 64:
        raise ValueError(f"denominator {denominator} is not within 1 to 64")
    word = f" {unit}" if unit_word else ""
    if unit == "in" and places is None:
        steps = _steps(mm, MM_PER_INCH / denominator, down)
        figure = _fraction(abs(steps), denominator, " " if style == "screen" else "-")
    else:
        shown = 1 if places is None else places
        steps = _steps(mm, _MM_PER_UNIT[unit] / 10**shown, down)
        figure = f"{abs(steps) / 10**shown:.{shown}f}"
        if places is None:
            figure = figure.removesuffix(".0")
    return f"{_MINUS if steps < 0 else ''}{figure}{word}"


def format_clearance(mm: float, unit: Unit) -> str:
    """Return a clearance, or any value that has a limit, rounded down to a tape's step, 1/16 in or 1 mm.

    2.97 mm is '2 mm', −0.824 in is '−7/8 in', and −0.2 mm is '−1 mm'. Room of less than a step is 'under 1/16 in'.
    """
    if _GRAIN < mm < STEPS[unit] - _GRAIN:
        return f"under {'1/16 in' if unit == 'in' else '1 mm'}"
    return _to_a_step(mm, unit, down=True)


def format_overlap(mm: float, unit: Unit) -> str:
    """Return how much a clearance below 0 overlaps: −20.9 mm is '21 mm', and −0.2 mm is 'less than 1 mm'."""
    text = format_clearance(abs(mm), unit)
    return text.replace("under", "less than") if text.startswith("under") else format_clearance(-abs(mm), unit).lstrip(_MINUS)


def format_reading(mm: float, unit: Unit) -> str:
    """Return a length as a tape shows it, to the nearest 1/16 in or 1 mm: '6 7/16 in', '164 mm'."""
    return _to_a_step(mm, unit, down=False)


def format_limit(mm: float, unit: Unit) -> str:
    """Return a least length, rounded up to 1/16 in or 1 mm: 2 mm is '1/8 in'."""
    step = STEPS[unit]
    return _to_a_step(math.ceil(mm / step - _GRAIN) * step, unit, down=False)


def _to_a_step(mm: float, unit: Unit, *, down: bool) -> str:
    if unit == "in":
        return format_length(mm, "in", denominator=16, down=down)
    return format_length(mm, "mm", places=0, down=down)


def format_both(mm: float, unit: Unit, *, denominator: int = 64) -> str:
    """Return ``mm`` in both units, ``unit`` first, to the nearest 1/64 in and 0.1 mm: '6-7/16 in (163.5 mm)'."""
    inches = format_length(mm, "in", denominator=denominator, style="paper")
    metric = format_length(mm, "mm")
    return f"{inches} ({metric})" if unit == "in" else f"{metric} ({inches})"


def format_angle(degrees: float, *, places: int | None = None) -> str:
    """Return an angle [degrees], finite, to the nearest 0.1: '14°', '−3.5°'; with ``places``, with just so many."""
    return format_length(degrees, "mm", places=places, unit_word=False) + "°"


def _plain(text: str) -> str:
    """Return ``text`` in small letters, with one kind of space, quote, hyphen and fraction."""
    return " ".join(re.sub(_AFTER_FIGURE, " ", text.lower()).translate(_PLAIN).replace("''", '"').split())


def _term(term: re.Match[str], unit: Unit) -> float:
    """Return the length of one term [mm]."""
    if term["feet_decimal"] or term["feet_top"]:
        inches = _number(term, "inches_") if term["inches_decimal"] or term["inches_top"] else 0.0
        return (_number(term, "feet_") * 12 + inches) * MM_PER_INCH
    word = term["unit"]
    key = word if word in ("mm", "cm") else "in" if word else unit
    return _number(term, "") * _MM_PER_UNIT[key]


def _number(entry: re.Match[str], name: str) -> float:
    """Return the number in the groups called ``name``; not a number where its fraction has no value."""
    if decimal := entry[f"{name}decimal"]:
        return float(decimal.replace(",", "."))
    bottom = float(entry[f"{name}bottom"])
    return float(entry[f"{name}whole"] or 0) + float(entry[f"{name}top"]) / bottom if bottom else math.nan


def _steps(value: float, step: float, down: bool) -> int:
    return math.floor((value + _GRAIN) / step) if down else math.floor(value / step + 0.5 + _GRAIN)


@lru_cache(maxsize=4096)
def _fraction(steps: int, denominator: int, between: str) -> str:
    whole, top = divmod(steps, denominator)
    shared = math.gcd(top, denominator)
    rest = f"{top // shared}/{denominator // shared}" if top else ""
    return f"{whole}{between}{rest}" if whole and rest else rest or str(whole)


def quoted(text: str) -> str:
    """Return a text for a quotation; a long one ends early."""
    return f'"{text}"' if len(text) <= 40 else f'"{text[:39]}…"'


def _no_length(text: str, unit: Unit) -> LengthError:
    like, less = ("7 1/4, 7.25 in or 184 mm", "7 1/4 - 1/8") if unit == "in" else ("184, 18.4 cm or 7 1/4 in", "184 - 3")
    return LengthError(
        f"{quoted(text)} does not read as a length. Write it like {like}; "
        f"a difference has a space on each side of the minus, {less}."
    )
