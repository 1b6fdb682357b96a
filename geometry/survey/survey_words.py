"""The survey in plain sentences: what is missing, which distance does not agree, or how well all agree."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.survey.network import CENTRELINE, DATUM, LINES, TOP_EDGE
from geometry.survey.of_design import DATUM_WORDS
from geometry.units.units import format_length

if TYPE_CHECKING:
    from geometry.survey.adjust import Agreement, Placed
    from geometry.survey.of_design import Surveyed
    from geometry.units.units import Unit

_STEP: dict[Unit, float] = {"in": 25.4 / 16, "mm": 1.0}
_HALF_STEP: dict[Unit, float] = {"in": 25.4 / 32, "mm": 0.5}


def survey_sentences(done: Surveyed, unit: Unit) -> tuple[str, ...]:
    """Return what a survey says of itself, the most urgent sentence first."""
    survey = done.survey
    made = [_loose(done, name) for name in survey.loose]
    if survey.loose and not _tied(done):
        made = [f"Nothing ties these points to the boat. Measure two of them to the {CENTRELINE} and to the {TOP_EDGE}."]
    for twin in survey.twins:
        there = _elsewhere(done, twin.names[0], twin.places, unit)
        made.append(
            f"{_capital(_listed(twin.names))} may also be {there}: the distances allow both. "
            "Measure to one more place, out of line with the others."
        )
    if survey.suspects:
        made.append(_disagreement(done, unit))
    if survey.astray:
        made.append("The drawing was far from where the distances cross. The places here agree with the distances.")
    if survey.agrees:
        made += _agreement(done, unit)
    return tuple(dict.fromkeys(made))


def place_words(placed: Placed, unit: Unit, inside: bool) -> str:
    """Return where a point is: "6 1/4 in to port, 10 in down, within 1/16 in". Within: two standard deviations."""
    u, v = placed.at
    across = f"{_length(abs(u), unit)} to {'port' if u < 0 else 'starboard'}" if abs(u) >= _HALF_STEP[unit] / 2 else "centred"
    down = f"{_length(abs(v), unit)} {'up' if v > 0 else 'down'}{' inside' if inside else ''}"
    if abs(v) < _HALF_STEP[unit] / 2:
        down = "level with the top edge"
    return f"{across}, {down}, within {_up(2 * placed.ellipse.long, unit)}"


def distance_words(done: Surveyed, index: int, unit: Unit) -> str:
    """Return one distance as a person reads it: "Distance 4, old hole to the centreline, 6 1/4 in"."""
    reading = done.survey.agreements[index].reading
    return (
        f"distance {done.numbers[index] + 1}, {_name(reading.first)} to {_name(reading.second)}, "
        f"{format_length(reading.length, unit, denominator=32)}"
    )


def agreement_word(each: Agreement, unit: Unit) -> str:
    """Return how one distance agrees: "agrees", "1/4 in too long", or that nothing checks it."""
    if not each.checked:
        return "nothing checks it"
    if abs(each.off) < _HALF_STEP[unit] / 2:
        return "agrees"
    return f"{_length(abs(each.off), unit)} too {'long' if each.off > 0 else 'short'}"


def _loose(done: Surveyed, name: str) -> str:
    count = sum(name in (each.reading.first, each.reading.second) for each in done.survey.agreements)
    if count == 1:
        return f"{_capital(name)} is not fixed: it has one distance. Measure it to one more place."
    return (
        f"{_capital(name)} is not fixed: its {count} distances let it move. "
        f"Measure it to the {CENTRELINE} or to the {TOP_EDGE} as well."
    )


def _tied(done: Surveyed) -> bool:
    own = (*LINES, DATUM)
    return any(each.reading.first in own or each.reading.second in own for each in done.survey.agreements)


def _elsewhere(done: Surveyed, name: str, places: dict[str, tuple[float, float]], unit: Unit) -> str:
    here = next(placed.at for placed in done.survey.placed if placed.name == name)
    there = places[name]
    if here[0] * there[0] < 0.0 and abs(here[0] + there[0]) < 0.1 * abs(here[0] - there[0]):
        return f"at {'port' if there[0] < 0 else 'starboard'}, as in a mirror"
    return f"{_up(math.dist(here, there), unit)} from the place shown"


def _disagreement(done: Surveyed, unit: Unit) -> str:
    survey = done.survey
    first, *others = survey.suspects
    each = survey.agreements[first]
    if others:
        numbers = _listed(tuple(str(done.numbers[index] + 1) for index in sorted(survey.suspects)))
        return f"One of the distances {numbers} is wrong, and nobody can say which. Read them again, or add one more."
    wrong = _length(abs(each.off) / each.share, unit)
    way = "long" if each.off > 0 else "short"
    return f"{_capital(distance_words(done, first, unit))}, does not agree: it is about {wrong} too {way}. Read it again."


def _agreement(done: Surveyed, unit: Unit) -> list[str]:
    survey = done.survey
    if survey.free <= 0:
        return ["The distances just fix every point, so nothing checks them. Measure one more than is needed."]
    most = max(abs(each.off) for each in survey.agreements)
    made = [f"All {len(survey.agreements)} readings agree within {_up(most, unit)}."]
    bare = [index for index, each in enumerate(survey.agreements) if not each.checked]
    if bare:
        some = _capital(distance_words(done, bare[0], unit).rsplit(",", 1)[0])
        more = f" The same is so of {len(bare) - 1} more." if len(bare) > 1 else ""
        made.append(f"{some}, is not checked by the others. Read it twice, or measure one more to that point.{more}")
    elif survey.alike:
        made.append("An error in one of them would show, but not always which one it is. One more distance helps.")
    return made


def _length(mm: float, unit: Unit) -> str:
    return format_length(mm, unit, denominator=32) if unit == "in" else format_length(mm, unit, places=1)


def _up(mm: float, unit: Unit) -> str:
    """Return a length rounded up to 1/16 in or 1 mm, at least one of them."""
    step = _STEP[unit]
    return format_length(max(1, math.ceil(mm / step - 1e-9)) * step, unit, denominator=16)


def _name(name: str) -> str:
    return DATUM_WORDS if name == DATUM else f"the {name}" if name in LINES else name


def _listed(names: tuple[str, ...]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
