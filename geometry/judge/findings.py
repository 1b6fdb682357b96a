"""A finding: one part's value, checked against its limits, in one plain sentence."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.judge.check_kinds import CHECK_KINDS

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.check_kinds import Family, Stops

State = Literal["clear", "tight", "unknown", "fouled", "note"]
Verdict = Literal["clear", "tight", "unknown", "fouled"]

WORSE: tuple[State, ...] = ("note", "clear", "tight", "unknown", "fouled")
"""States from the mildest to the worst. A note never makes a verdict."""

STATE_WORDS: dict[State, str] = {
    "clear": "clear", "tight": "tight", "unknown": "not checked", "fouled": "fouled", "note": "note",
}  # fmt: skip
"""The words for the states, for all checks but those of load, and where no check is meant."""
_LOAD_WORDS: dict[State, str] = {"clear": "within limits", "tight": "near the limit", "fouled": "over the limit"}

DOUBTFUL = (0.025, 0.975)
"""A finding is in doubt between these chances: about two spreads to each side, our assumption."""

_NOT_CLEAR: tuple[Verdict, ...] = ("fouled", "unknown", "tight")
_HOW_BAD = {state: number for number, state in enumerate(WORSE)}


class Finding(msgspec.Struct, frozen=True):
    """One finding.

    Attributes:
        check: the key of its record in `CHECK_KINDS`.
        at: the thing that is checked, such as "main motor / lower starboard" or "… / outer face".
        value: in ``unit``; None where a reading is missing.
        least, advised: the limits; None where there are none. Where least > advised, less is better.
        unit: "mm", "diameters", "degrees", "ratio".
        state: see `State`.
        text: one sentence with the figure, in the person's unit.
        remedy: one sentence, or None.
        spread: one standard deviation of the value, None where not calculated.
        chance: that the value is on the right side of the least, None where not calculated.
        guesses: keys of the guesses behind it.
        rests: keys of all readings behind it.
        mounts: indices of the mounts that it concerns.
        missing: key of the missing reading, None where there is none.
        moved_by: keys of the readings whose errors move the value, the strongest first; () where not calculated.
        shares: of each of ``moved_by``, the variance of the value that its error brings.
        against: the nearest or overlapped obstacle, such as "corner radius"; "" where it has no name.
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
    shares: tuple[float, ...] = ()
    against: str = ""

    @property
    def family(self) -> Family:
        """The kind of question that its check asks."""
        return CHECK_KINDS[self.check].family

    @property
    def stops(self) -> Stops:
        """When it keeps holes from being drilled."""
        kind = CHECK_KINDS[self.check]
        return "never" if self.at.rpartition(" / ")[2] in dict(kind.aside) else kind.stops

    @property
    def word(self) -> str:
        """The word for its state. A load is over its limit, never fouled."""
        said = STATE_WORDS[self.state]
        return _LOAD_WORDS.get(self.state, said) if self.family == "load" else said

    @property
    def doubtful(self) -> bool:
        """Whether its chance is between the two of `DOUBTFUL`, and a reading can change it. The text then says which one."""
        return bool(self.moved_by) and self.chance is not None and DOUBTFUL[0] < self.chance < DOUBTFUL[1]

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
    """Return the worst finding without notes: by state, then without value, then by smallest margin, then by order."""
    judged = [finding for finding in findings if finding.state != "note"]
    return min(judged, key=rank, default=None)


def rank(finding: Finding) -> tuple[int, bool, float, int]:
    """Return the sort key that puts the worst finding first and notes last."""
    return -_HOW_BAD[finding.state], finding.value is not None, finding.margin, CHECK_KINDS[finding.check].order


def verdict_of(findings: tuple[Finding, ...]) -> Verdict:
    """Return the worst state without notes; clear where nothing is checked."""
    states = {finding.state for finding in findings}
    return next((verdict for verdict in _NOT_CLEAR if verdict in states), "clear")


class Checked(msgspec.Struct, frozen=True, dict=True):
    """A design and all its findings, worst first.

    Attributes:
        verdict: the worst state without notes. guesses: keys of the guesses behind findings.
        sure: whether the findings have their chances. They then name only the guesses that can change them.
    """

    design: Design
    findings: tuple[Finding, ...]
    verdict: Verdict
    guesses: tuple[str, ...]
    sure: bool = False

    def of(self, check: str, at: str) -> Finding | None:
        """Return one finding by its check and the thing that is checked."""
        return self.by_place.get((check, at))

    @cached_property
    def by_place(self) -> dict[tuple[str, str], Finding]:
        """The findings by check and by the thing that is checked."""
        return {(finding.check, finding.at): finding for finding in reversed(self.findings)}
