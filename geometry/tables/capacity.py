"""The US rules for small outboard boats without a capacity plate: power, weight, persons.

Source: 33 CFR part 183, subparts C and D (2001 text of 183.53 read; its formulas, 183.35 and the definitions of 183.3
read in secondary copies; 183.41 read). The rules are for builders. The boat's capacity plate and local law come first.
Feet, horsepower and pounds are the regulation's units.
"""

from __future__ import annotations

import math

import msgspec

from geometry.tables.known import SECONDARY

MM_PER_FOOT = 304.8  # exact
LONGEST = 20 * MM_PER_FOOT  # 183.51: monohull boats shorter than this, for outboards
SHORT = 13 * MM_PER_FOOT  # 183.53(b): up to it a test may replace the rule, on conditions that were read in no copy
TALL_TRANSOM = 508.0  # mm: 20 in, 183.53(a)(2)
SOURCE = f"33 CFR 183.53; its formulas {SECONDARY}"
EXCEPT = "sailboats, canoes, kayaks and inflatables"
"""Craft to which the rules do not apply, 183.51."""
ELSEWHERE = "ISO 11592 for power, ISO 14946 for load and the capacity plate of ISO 14945"
"""Standards that replace the rule outside the United States."""

_POWERS = ((35, 3.0), (39, 5.0), (42, 7.5), (45, 10.0), (52, 15.0))  # factor to the nearest integer, up to; hp
_CLOSE = 1e-6


class Rule(msgspec.Struct, frozen=True):
    """The result of the rule.

    Attributes:
        factor: length times transom width [ft2].
        calculated: before it is raised [hp]. most: raised to the next multiple of 5 where the rule allows it [hp].
        undefined: a sentence where the rule's text leaves the case open; ``most`` is then the lesser reading.
    """

    factor: float
    calculated: float
    most: float
    undefined: str = ""


def most_power(factor: float, *, remote_and_tall: bool, flat: bool) -> Rule:
    """Return the power that 183.53(a) allows a boat.

    Args:
        factor: boat's length times transom's width [ft2].
        remote_and_tall: remote steering and a transom of 20 in or more, both.
        flat: a flat bottom with hard chines.
    """
    if factor > 52.5 + _CLOSE:
        calculated = 2 * factor - 90 if remote_and_tall else 0.5 * factor - 15 if flat else 0.8 * factor - 25
        return Rule(factor, calculated, 5 * math.ceil(calculated / 5 - _CLOSE))
    if abs(factor - 52.5) <= _CLOSE:
        return Rule(factor, _listed(52, flat=flat), _listed(52, flat=flat), "At 52.5 it does not say whether 52 or 53 counts.")
    middle = math.floor(factor) + 0.5
    nearest = math.floor(factor) if factor <= middle + _CLOSE else math.floor(factor) + 1
    least = _listed(nearest, flat=flat)
    if abs(factor - middle) <= _CLOSE and least != _listed(nearest + 1, flat=flat):
        return Rule(factor, least, least, f"Halfway, it does not say whether {nearest} or {nearest + 1} counts.")
    if flat and nearest <= _POWERS[0][0]:
        return Rule(factor, least, least, "A flat bottom takes one step less, and below 3 hp there is none.")
    if flat and factor > 52 + _CLOSE:
        return Rule(factor, least, least, "It does not say whether the step less for a flat bottom holds between 52 and 52.5.")
    return Rule(factor, least, least)


def _listed(nearest: int, *, flat: bool) -> float:
    """Return the power listed for a factor to the nearest integer [hp]; a flat bottom with hard chines is one step less."""
    step = next(index for index, (most, _) in enumerate(_POWERS) if nearest <= most)
    return _POWERS[max(0, step - 1) if flat else step][1]


def weight_capacity(displacement: float, boat: float) -> float:
    """Return the greatest weight that an outboard boat may carry, motor and persons included: a fifth of the difference.

    Source: 33 CFR 183.35 (read in a secondary copy). Any one unit of weight.

    Args:
        displacement: of the boat swamped to the rail. boat: its weight.
    """
    return (displacement - boat) / 5


def persons_weight(capacity: float, motor: float, tilt: float | None = None) -> float:
    """Return the weight of persons [lb].

    Source: 33 CFR 183.41(a): the rest of the capacity. Where that is below 550 lb, 1/0.6 of the tilt test's weight if that
    is less.

    Args:
        capacity: see `weight_capacity` [lb]. motor: with controls, battery and full tank, see `rigged` [lb].
        tilt: weight that heeled the boat in the tilt test, None where it was not done [lb].
    """
    left = capacity - motor
    return left if tilt is None or left >= 550 else min(left, tilt / 0.6)


def persons(weight: float) -> int:
    """Return the number of persons for a weight [lb]: (lb + 32)/141 to the nearest integer, a half up; 33 CFR 183.41(b)."""
    return max(0, math.floor((weight + 32) / 141 + 0.5 + _CLOSE))


class Rigged(msgspec.Struct, frozen=True):
    """The weights to count for a motor up to ``most`` hp: dry, running, and its accessories [lb]."""

    most: float
    dry: float
    running: float
    controls: float
    battery: float
    fuel: float

    @property
    def total(self) -> float:
        """Weight running, with controls, battery and a full portable tank [lb]."""
        return self.running + self.controls + self.battery + self.fuel

    @property
    def accessories(self) -> float:
        """Weight of controls, battery and a full portable tank alone [lb]."""
        return self.controls + self.battery + self.fuel


# hp up to, and lb: a table like that of ABYC S-30, behind 33 CFR 183.75, read in a secondary copy. Dry is 10 % over the
# published weight, running 5 % over dry
RIGGED = tuple(
    Rigged(*row)
    for row in (
        (2.0, 30, 32, 0, 0, 0), (3.9, 42, 44, 0, 0, 0), (6.9, 66, 69, 0, 0, 25), (10.9, 105, 110, 5, 20, 50),
        (22.9, 127, 133, 6, 45, 50), (34.9, 187, 196, 9, 45, 100), (64.9, 286, 300, 14, 45, 100),
        (94.9, 439, 461, 22, 45, 100), (104.9, 458, 481, 23, 45, 100), (144.9, 526, 552, 26, 45, 100),
        (194.9, 561, 589, 28, 45, 100), (209.9, 652, 685, 33, 45, 100), (300.0, 699, 734, 35, 45, 100),
        (350.0, 884, 928, 44, 45, 100),
    )
)  # fmt: skip


def rigged(hp: float) -> Rigged | None:
    """Return the weights to count for a motor of this power, None beyond the table. Between two rows the upper one counts."""
    return next((row for row in RIGGED if hp <= row.most + _CLOSE), None)
