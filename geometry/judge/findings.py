"""What a check has to say about one part: a value, held against its limit, in one plain sentence."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.judge.check_kinds import CHECK_KINDS

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.check_kinds import Family

State = Literal["clear", "tight", "unknown", "fouled", "note"]
Verdict = Literal["clear", "tight", "unknown", "fouled"]

WORSE: tuple[State, ...] = ("note", "clear", "tight", "unknown", "fouled")
"""States from the mildest to the worst; a note never makes a verdict."""

STATE_WORDS: dict[State, str] = {
    "clear": "clear", "tight": "tight", "unknown": "not checked", "fouled": "fouled", "note": "note",
}  # fmt: skip
"""How a state is called where no single check is meant, and by every check but one of load."""
_LOAD_WORDS: dict[State, str] = {"clear": "within limits", "tight": "near the limit", "fouled": "over the limit"}

DOUBTFUL = (0.025, 0.975)
"""Between these chances a finding is in doubt: about two spreads to either side, our assumption."""

_HOW_BAD = {state: number for number, state in enumerate(WORSE)}


class Finding(msgspec.Struct, frozen=True):
    """One finding.

    Attributes:
        check: the key of its record in `CHECK_KINDS`.
        at: what it looks at, such as "main motor / lower starboard" or "… / outer face".
        value: in ``unit``; None where it can't be told.
        least, advised: the limits held against it; None where nothing limits it. Where least > advised, less is better.
        unit: "mm", "diameters", "degrees", "ratio".
        state: see `State`.
        text: one sentence with the figure, in the person's unit.
        remedy: one sentence, or None.
        spread: one standard deviation of the value, None where not reckoned.
        chance: that the value is on the right side of the least, None where not reckoned.
        guesses: keys of the readings it rests on that are guesses.
        rests: keys of the readings it rests on.
        mounts: indices of the mounts that it concerns.
        missing: key of the reading that is lacking, where it can't be told.
        moved_by: keys of the readings whose own errors move the value, what moves it most first; () where not reckoned.
        against: what it comes nearest to or overlaps, such as "corner radius"; "" where it is nothing with a name.
    """

    check: str
    at: str
    value: float | None
    least: float | None
    advised: float | None
    unit: str
    state: State
    text: str
    remedy: str | None = None
    spread: float | None = None
    chance: float | None = None
    guesses: tuple[str, ...] = ()
    rests: tuple[str, ...] = ()
    mounts: tuple[int, ...] = ()
    missing: str | None = None
    moved_by: tuple[str, ...] = ()
    against: str = ""

    @property
    def family(self) -> Family:
        """What kind of question its check asks."""
        return CHECK_KINDS[self.check].family

    @property
    def word(self) -> str:
        """How its state is called: a load is over its limit, never fouled."""
        said = STATE_WORDS[self.state]
        return _LOAD_WORDS.get(self.state, said) if self.family == "load" else said

    @property
    def doubtful(self) -> bool:
        """Whether its chance lies between: then the text says what to measure again first."""
        return self.chance is not None and DOUBTFUL[0] < self.chance < DOUBTFUL[1]

    @property
    def margin(self) -> float:
        """How far the value is from its least, in steps from least to advised, signed; inf without a value.

        Where least and advised are equal: value - least, or least - value where less is better.
        """
        if self.value is None or self.least is None or self.advised is None:
            return float("inf")
        if self.least == self.advised:
            return self.least - self.value if CHECK_KINDS[self.check].less_is_better else self.value - self.least
        return (self.value - self.least) / (self.advised - self.least)


def state_of(value: float, least: float, advised: float) -> State:
    """Return "fouled" beyond the least, "tight" from the least up to the advised, "clear" from the advised on.

    The least itself is tight and the advised itself is clear, within 1e-6. Where least > advised, less is better.
    """
    sign = -1.0 if least > advised else 1.0
    if sign * (value - least) < -1e-6:
        return "fouled"
    return "clear" if sign * (value - advised) >= -1e-6 else "tight"


def is_bad(finding: Finding) -> bool:
    """Return whether a finding is fouled or unknown."""
    return finding.state in ("fouled", "unknown")


def worst(findings: tuple[Finding, ...]) -> Finding | None:
    """Return the worst finding, notes aside: by state, then no value first, then smallest margin, then order."""
    judged = [finding for finding in findings if finding.state != "note"]
    return min(judged, key=rank, default=None)


def rank(finding: Finding) -> tuple[int, bool, float, int]:
    """Sort key that puts the worst finding first, notes last."""
    return -_HOW_BAD[finding.state], finding.value is not None, finding.margin, CHECK_KINDS[finding.check].order


def verdict_of(findings: tuple[Finding, ...]) -> Verdict:
    """Return the worst state, notes aside; clear where nothing is checked."""
    found = worst(findings)
    if found is None or found.state == "note":
        return "clear"
    return found.state


class Checked(msgspec.Struct, frozen=True, dict=True):
    """A design and all that there is to say of it, worst first.

    Attributes:
        verdict: the worst state, notes aside. guesses: keys of the guesses that findings rest on.
        sure: whether the findings have their chances: then they name only the guesses that can turn them.
    """

    design: Design
    findings: tuple[Finding, ...]
    verdict: Verdict
    guesses: tuple[str, ...]
    sure: bool = False

    def of(self, check: str, at: str) -> Finding | None:
        """Return one finding by its check and what it looks at."""
        return self.by_place.get((check, at))

    @cached_property
    def by_place(self) -> dict[tuple[str, str], Finding]:
        """The findings by check and by what they look at."""
        return {(found.check, found.at): found for found in reversed(self.findings)}
