"""The reporter: it runs each check and keeps its finding.

Each check is a small function that may raise `Unmeasured`. `Reporter.add` turns that into a finding that names the reading
to take. It also marks the guesses behind a finding.
"""

from __future__ import annotations

from functools import cache, cached_property, lru_cache
from typing import TYPE_CHECKING

import msgspec

from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.findings import Finding, State, state_of
from geometry.readings.measures import lacking, name_of
from geometry.solid.faces import Unmeasured
from geometry.solid.outline import Rim, inner_rim, outer_rim
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.solid.well import Space, space
from geometry.units.trade_words import in_trade_words
from geometry.units.units import format_angle, format_clearance, format_limit, format_overlap, format_reading

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design, Span
    from geometry.judge.kept_findings import Kept

INNER_KEYS = ("transom.rake", "transom.top_cut", "transom.thickness")
WELL_KEYS = (
    *INNER_KEYS, "well.profile", "well.floor", "well.top_width", "well.fillet_radius", "inside_blocks",
)  # fmt: skip
NO_LIMITS: tuple[float | None, float | None] = (None, None)


class Outcome(msgspec.Struct, frozen=True):
    """The outcome of a check: value, sentence, cure, a state where the limits alone do not give it, and the obstacle.

    ``missing``: key of the reading that a note asks for.
    """

    value: float | None
    text: str
    remedy: str | None = None
    state: State | None = None
    against: str = ""
    missing: str | None = None


class Reporter(msgspec.Struct, frozen=True, dict=True, eq=False):
    """The design under check, values that its checks share, and the findings so far.

    Attributes:
        kept: the findings to keep from another design. worded: False where only values and states are read.
    """

    design: Design
    findings: list[Finding] = msgspec.field(default_factory=list)
    kept: Kept | None = None
    worded: bool = True

    @cached_property
    def bolts(self) -> tuple[Bolt, ...]:
        """Every bolt."""
        return bolts(self.design)

    @cached_property
    def space(self) -> Space:
        """The space inside."""
        return space(self.design)

    @cached_property
    def inner_rim(self) -> Rim:
        """The inner face's edges."""
        return inner_rim(self.design.transom)

    @cached_property
    def outer_rim(self) -> Rim:
        """The outer face's edges."""
        return outer_rim(self.design.transom)

    @cached_property
    def _guessed(self) -> tuple[str, ...]:
        return tuple(key for key, reading in self.design.readings.items() if reading.state == "guess")

    def guesses(self, rests: tuple[str, ...]) -> tuple[str, ...]:
        """Return the guessed readings whose keys begin with one of ``rests``."""
        return _behind(self._guessed, rests) if self._guessed else ()

    def add(
        self,
        check: str,
        at: str,
        limits: Span | tuple[float | None, float | None],
        unit: str,
        rests: tuple[str, ...],
        mounts: tuple[int, ...],
        look: Callable[[], Outcome | None],
    ) -> None:
        """Run ``look`` and keep its finding. None from it means that nothing limits the part."""
        before = None if self.kept is None else self.kept.of(check, at, rests)
        if before is not None:
            self.findings.append(before)
            return
        least, advised = limits
        lacks = None
        try:
            outcome = look()
        except Unmeasured as missing:
            lacks = lacking(self.design, missing.key)
            outcome = self._unknown(check, at, lacks) if self.worded else Outcome(None, "", None, "unknown")
        if outcome is None:
            return
        lacks = lacks or outcome.missing
        state = outcome.state
        if state is None:
            if outcome.value is None or least is None or advised is None:
                raise TypeError(f"{check} gave neither a state nor a value with limits")
            state = state_of(outcome.value, least, advised)
        text, remedy = outcome.text, outcome.remedy or None
        if self.worded:
            text = in_trade_words(text, self.design.units)
            remedy = remedy and in_trade_words(remedy, self.design.units)
        self.findings.append(
            Finding(
                check, at, outcome.value, least, advised, unit, state, text, remedy,
                guesses=self.guesses(rests), rests=rests, mounts=mounts, missing=lacks,
                against=outcome.against,
            )
        )  # fmt: skip

    def _unknown(self, check: str, at: str, lacks: str) -> Outcome:
        name = name_of(self.design, lacks)
        text = f"The {CHECK_KINDS[check].noun} of {spoken(at)} is not checked yet: {name} is not measured."
        return Outcome(None, text, f"Measure {name}.", "unknown")

    def keeps(self, check: str, rests: tuple[str, ...]) -> bool:
        """Keep the findings of a check from before, where there are any and nothing behind them moved."""
        held = [] if self.kept is None else self.kept.all_of(check, rests)
        self.findings.extend(held)
        return bool(held)

    def room(self, mm: float) -> str:
        """Say a clearance, rounded to the unsafe-looking side."""
        return format_clearance(mm, self.design.units).replace("under", "less than")

    def overlap(self, mm: float) -> str:
        """Say the overlap of a negative clearance, rounded to the unsafe-looking side."""
        return format_overlap(mm, self.design.units)

    def size(self, mm: float) -> str:
        """Say a length as a tape shows it: to the nearest 1/16 in or 1 mm."""
        return format_reading(mm, self.design.units)

    def limit(self, mm: float) -> str:
        """Say a least or an advised length, rounded up to a tape's step, so that no value below it looks good enough."""
        return format_limit(mm, self.design.units)

    def angle(self, degrees: float) -> str:
        """Say an angle."""
        return format_angle(degrees)


@lru_cache(maxsize=1024)  # the same guesses are behind a check of many designs, each with another value off
def _behind(guessed: tuple[str, ...], rests: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(key for key in guessed if key.startswith(rests))


def spoken(at: str) -> str:
    """Say the thing that is checked as a person would: "main motor / lower port" becomes "the lower port bolt"."""
    parts = at.split(" / ")
    if len(parts) == 1:
        return parts[0] if parts[0].startswith("all ") else f"the {parts[0]}"
    name = parts[1]
    if name in ("upper port", "upper starboard", "lower port", "lower starboard"):
        return f"the {name} bolt"
    return f"the {name}"


def bolt_keys(bolt: Bolt) -> tuple[str, ...]:
    """Return the keys of the readings that place a bolt."""
    return _bolt_keys(bolt.mount_index, bolt.pair)


@cache
def _bolt_keys(index: int, pair: str) -> tuple[str, ...]:
    place = ("upper_at", "offset") if pair == "upper" else ("upper_at", "drop", "offset")
    spread = "bracket.rows.half_spacing" if pair == "upper" else "bracket.lower.half_spacing"
    return tuple(f"mounts.{index}.{name}" for name in (*place, spread, f"{pair}_tilt"))


def hardware_keys(bolt: Bolt) -> tuple[str, ...]:
    """Return the keys of a bolt's hardware, and of its backing plate, which may belong to the other pair's hardware."""
    return (bolt.hardware_key(""), *(() if bolt.plate is None else (bolt.plate_key(""),)))


def stack_keys(bolt: Bolt) -> tuple[str, ...]:
    """Return the keys of the parts between the inner face and the nut."""
    own = _stack_keys(bolt.mount_index, bolt.pair)
    return own if bolt.plate is None else (bolt.plate_key(""), *own)


@cache
def _stack_keys(index: int, pair: str) -> tuple[str, ...]:
    return f"mounts.{index}.{pair}_hardware.washer.", f"mounts.{index}.{pair}_hardware.spacer."


def own_keys(bolt: Bolt, part: str) -> tuple[str, ...]:
    """Return the keys of the readings that a part needs besides washers and spacer."""
    return _own_keys(bolt.mount_index, bolt.pair, part)


@cache
def _own_keys(index: int, pair: str, part: str) -> tuple[str, ...]:
    return tuple(f"mounts.{index}.{pair}_hardware.{name}" for name in CHECK_KINDS[part].hardware)


def length_keys(bolt: Bolt) -> tuple[str, ...]:
    """Return the keys of the readings behind a bolt's length."""
    pad = "bracket.rows.pad_thickness" if bolt.upper else "bracket.lower.pad_thickness"
    return ("transom.thickness", bolt.key(pad), *hardware_keys(bolt), *bolt_keys(bolt))
