"""Findings in a person's words: titles, figures, port and starboard in one line, and the one answer."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.hardware import BOLT_NAMES
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import drillable, lacking_readings, may_turn, stops_the_paper
from geometry.judge.findings import STATE_WORDS, Checked, Finding, State, is_bad
from geometry.judge.strength import round_up
from geometry.readings.adjusted_guesses import nothing_measured
from geometry.readings.measures import name_of
from geometry.units.height_words import number
from geometry.units.units import format_clearance, format_reading

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.units.units import Unit

_ALIKE = 1e-6  # in the value's unit: port and starboard within it share one line

ALIKE = "Port and starboard alike."
"""The first sentence of a row that is about both sides."""
AGAIN = " First measure "
"""The first words of the sentence that asks for a reading to be taken again."""
MEASURE_FIRST = "measure first"
"""The word of doubt, after the state and a comma: readings may well turn the answer round."""
NOTHING_MEASURED = "Nothing measured yet. Answer the questions at the top left."
"""The answer in the window to a boat of guesses alone."""
BELOW = ("well floor", "corner radius")
"""The obstacles below a part."""


class FindingsRow(msgspec.Struct, frozen=True):
    """One line of the findings: one finding, or two that are alike at port and starboard.

    Attributes:
        findings: one or both. state, title: to show. figure: the value in the person's unit, "" without one.
    """

    findings: tuple[Finding, ...]
    state: State
    title: str
    figure: str

    @property
    def first(self) -> Finding:
        """The finding that speaks for the row."""
        return self.findings[0]

    @property
    def bolt(self) -> str:
        """The bolt that it concerns, the first of two; "" where it concerns no bolt."""
        return next((name for name in self.first.at.split(" / ") if name in BOLT_NAMES), "")

    @property
    def text(self) -> str:
        """Its sentence; one for both sides where they are alike."""
        text = self.first.text
        if len(self.findings) == 1 or not self.bolt:
            return text
        alike = text.replace(self.bolt, self.bolt.split()[0])
        return f"{ALIKE} {alike}"


def findings_rows(checked: Checked) -> tuple[FindingsRow, ...]:
    """Return the findings worst first, like ones on both sides in one row. A row names the motor where there are two."""
    kept: tuple[FindingsRow, ...] | None = checked.__dict__.get("rows")  # several views ask at each move of a hand
    if kept is None:
        kept = checked.__dict__["rows"] = _rows(checked)
    return kept


def _rows(checked: Checked) -> tuple[FindingsRow, ...]:
    rows: list[FindingsRow] = []
    used: set[int] = set()
    mounts = checked.design.mounts
    places: dict[tuple[str, State, str], list[int]] = {}
    for index, finding in enumerate(checked.findings):
        places.setdefault((finding.check, finding.state, finding.at), []).append(index)
    for index, finding in enumerate(checked.findings):
        if index in used:
            continue
        across = places.get((finding.check, finding.state, _other_side(finding.at)), ())
        twin = next(
            (later for later in across
             if later > index and later not in used and _alike(finding, checked.findings[later])), None,
        )  # fmt: skip
        if twin is not None:
            used.add(twin)
        alike = (finding,) if twin is None else (finding, checked.findings[twin])
        motor = " and ".join(mounts[at].name for at in finding.mounts) if len(finding.mounts) < len(mounts) else ""
        rows.append(_row(alike, motor, checked.design.units))
    return tuple(rows)


@lru_cache(maxsize=512)  # while a hand drags, most findings stay the same
def _row(findings: tuple[Finding, ...], motor: str, unit: Unit) -> FindingsRow:
    first = findings[0]
    title = title_of(first, both=len(findings) > 1)
    return FindingsRow(findings, first.state, f"{title} ({motor})" if motor else title, figure_in(unit, first))


def _other_side(at: str) -> str:
    if " port" in at:
        return at.replace(" port", " starboard")
    return at.replace(" starboard", " port")


def _alike(finding: Finding, other: Finding) -> bool:
    """Return whether two findings of one check and state, at port and at starboard, say the same."""
    if not CHECK_KINDS[finding.check].both:
        return False
    if finding.value is None or other.value is None:
        return finding.value is other.value and finding.missing == other.missing
    return abs(finding.value - other.value) <= _ALIKE


def is_of_plate(finding: Finding) -> bool:
    """Return whether a finding is about a backing plate and not about one bolt."""
    return finding.at.split(" / ")[2:3] == ["plate"]


def title_of(finding: Finding, *, both: bool = False) -> str:
    """Return the title of a finding: "Lower port washer", "Both upper holes, inside edge"."""
    parts = finding.at.split(" / ")
    if is_of_plate(finding):
        return ", ".join((f"{parts[1].capitalize()} backing plate", *parts[3:]))
    kind = CHECK_KINDS[finding.check]
    if parts[-1] in dict(kind.aside):
        return dict(kind.aside)[parts[-1]]
    if "{}" not in kind.title or len(parts) < 2:
        return kind.title if "{}" not in kind.title else f"{kind.noun[0].upper()}{kind.noun[1:]}"
    name = parts[1].split()[0] if both else parts[1]
    rest = {"outer face": "outside", "inner face": "inside"}.get(parts[-1], parts[-1])
    if both:
        rest = rest.replace(" port", "").replace(" starboard", "")
    title = (kind.both if both else kind.title).format(name, rest)
    return title[0].upper() + title[1:]


def figure_of(design: Design, finding: Finding) -> str:
    """Return a finding's value in the person's unit, clearances rounded to the unsafe-looking side; "" without one."""
    return figure_in(design.units, finding)


def figure_in(unit: Unit, finding: Finding) -> str:
    """Return the same in a unit."""
    value = finding.value
    if value is None:
        return ""
    if finding.unit == "diameters":
        return f"{int(value * 10 + 1e-6) / 10:.1f} diameters".replace("-", "−")
    if finding.unit == "degrees":
        return f"{value:.1f}°"
    if finding.unit == "ratio":
        if finding.least is None:
            return f"{round_up(value)} times"
        return f"{_ratio(finding, value)} {CHECK_KINDS[finding.check].of}"
    if finding.least is None or finding.state == "note":  # as in its sentence: a length without a limit
        return format_reading(value, unit)
    return format_clearance(value, unit)


def _ratio(finding: Finding, value: float) -> str:
    """Say a ratio, rounded to the unsafe-looking side: down where more is better."""
    more_is_better = finding.least is not None and finding.advised is not None and finding.least < finding.advised
    return f"{math.floor(value * 100 + _ALIKE) / 100:.2f}" if more_is_better else round_up(value)


class Answer(msgspec.Struct, frozen=True):
    """The one answer: its mark and its sentence.

    Attributes:
        state: "note" where there is no motor yet. doubt: whether the readings behind it may well turn it round.
        finding: what keeps the holes from being drilled, None where nothing does. The list of findings begins with it.
    """

    state: State
    sentence: str
    doubt: bool = False
    finding: Finding | None = None

    @property
    def word(self) -> str:
        """The word of its state, with the doubt after a comma: "tight, measure first"."""
        return f"{STATE_WORDS[self.state]}, {MEASURE_FIRST}" if self.doubt else STATE_WORDS[self.state]


def answer(checked: Checked, asked: str | None = None) -> Answer:
    """Return the first thing to say: may these holes be drilled?

    Without the chances it says only that a part is fouled, that a reading is missing, or that nothing is fouled.

    Args:
        asked: the key of the reading that is asked for next, "" for none; None where nobody asks. The answer says to
            drill a pilot only where nothing else is asked for, and to measure first only where a reading is. Of what is
            fouled it names first what no reading turns.
    """
    design = checked.design
    if not design.mounts:
        return Answer("note", "No motor hangs yet.")
    if asked and nothing_measured(design):
        return Answer("unknown", NOTHING_MEASURED)
    fouled = [row for row in findings_rows(checked) if row.state == "fouled"]
    stopping = sorted(
        (row for row in fouled if stops_the_paper(row.first)),
        key=lambda row: (bool(CHECK_KINDS[row.first.check].instead), any(may_turn(finding) for finding in row.findings)),
    )
    if stopping:
        dont = CHECK_KINDS[stopping[0].first.check].instead or "Don't drill here"
        doubt = asked != "" and any(finding.doubtful for finding in stopping[0].findings)
        first = f"{dont}, {MEASURE_FIRST}" if doubt else dont
        return Answer("fouled", f"{first}: {_fouled(design, stopping[0])}.", doubt, stopping[0].first)
    unknown = lacking_readings(checked)
    contradiction = next((f for f in checked.findings if f.check == "reading" and f.state == "unknown"), None)
    if contradiction is not None:
        return Answer("unknown", "Don't drill yet: two readings contradict each other.", finding=contradiction)
    if unknown:
        count = len({finding.missing for finding in unknown if finding.missing})
        said = f"{number(count)} reading is missing" if count == 1 else f"{number(count)} readings are missing"
        return Answer("unknown", f"Don't drill yet: {said if count else 'something is not known'}.", finding=unknown[0])
    launch = _before_launch(checked)
    if not any(mount.bracket.rows for mount in design.mounts):
        return Answer("tight" if launch else checked.verdict, f"It clamps on: there is nothing to drill.{launch}")
    return _doubt(checked, asked) or _yes(checked, launch)


def _doubt(checked: Checked, asked: str | None) -> Answer | None:
    """Say which guesses or doubts are in the way; None where there are none.

    A part whose room is in doubt is tight, with however much room it was read.
    """
    answered = drillable(checked)
    reasons = [reason for reason in answered.reasons if reason.kind in ("guess", "unlikely", "doubt")]
    if not checked.sure or not reasons:
        return None
    guesses = [reason for reason in reasons if reason.kind == "guess"]
    if guesses:
        name = name_of(checked.design, guesses[0].key)
        more = f" and {number(len(guesses) - 1)} more" if len(guesses) > 1 else ""
        return Answer("unknown", f"Don't drill yet. Measure first: {name}{more}.", finding=guesses[0].finding)
    finding = reasons[0].finding
    if reasons[0].kind == "unlikely":
        name = name_of(checked.design, reasons[0].key)
        return Answer("unknown", f"Don't drill yet. Read again or confirm: {name}.", finding=finding)
    if finding is None:
        return None
    title = title_of(finding)
    cases = f"has room in only {int((finding.chance or 0.0) * 100)} of 100 cases"
    if finding.check == "old_hole":
        cases = f"keeps its wood in only {int((finding.chance or 0.0) * 100)} of 100 cases"
    if finding.check == "row":
        title, cases = "Lower bolts", cases.replace("has room", "reach their slot")
    doubted = Answer("tight", "", doubt=asked != "", finding=finding)
    first = f"{doubted.word[0].upper()}{doubted.word[1:]}"
    if answered.pilot is not None and asked in (None, answered.pilot.key):
        return replace(doubted, sentence=f"{first}: drill one pilot only, at the {answered.pilot.hole} hole.")
    return replace(doubted, sentence=f"{first}: the {title[0].lower()}{title[1:]} {cases}. Don't drill yet.")


def _yes(checked: Checked, launch: str) -> Answer:
    spare = _spare(checked)
    tight = [row for row in findings_rows(checked) if row.state == "tight"]
    if not checked.sure:
        nothing = "Nothing is in the way of the holes" if launch else "Nothing is fouled"
        state = "tight" if launch and checked.verdict == "unknown" else checked.verdict
        return Answer(state, f"{nothing}: {spare}.{launch}" if spare else f"{nothing}.{launch}")
    if tight:
        tight_words = f"{number(len(tight)).capitalize()} {'thing is' if len(tight) == 1 else 'things are'} tight"
        return Answer("tight", f"It fits: {spare}. {tight_words}.{launch}" if spare else f"It fits. {tight_words}.{launch}")
    return Answer("tight" if launch else "clear", f"It fits, with {spare}.{launch}" if spare else f"It fits.{launch}")


def _before_launch(checked: Checked) -> str:
    """Name the checks that are fouled, not known or a note over the limit, but let the owner drill; "" for none."""
    rows = [row for row in findings_rows(checked) if _to_settle(row.first) and not stops_the_paper(row.first)]
    titles = list(dict.fromkeys(f"{row.title[0].lower()}{row.title[1:]}" for row in rows))
    return f" Before you launch: {', '.join(titles)}." if titles else ""


def _to_settle(finding: Finding) -> bool:
    return is_bad(finding) or (finding.state == "note" and finding.margin < -_ALIKE)


def _fouled(design: Design, row: FindingsRow) -> str:
    finding = row.first
    name = row.title[0].lower() + row.title[1:]
    if not name.startswith("both"):
        name = f"the {name}"
    if CHECK_KINDS[finding.check].in_well and finding.value is not None:
        overlapped = finding.text.partition(" overlaps ")[2].partition(AGAIN)[0].rstrip(".")
        return f"{name} {'overlap' if name.startswith('both') else 'overlaps'} {overlapped}"
    if finding.check == "pressure" and finding.value is not None:
        press = "press" if name.startswith("both") else "presses"
        return f"{name.removesuffix(' on the core')} {press} {round_up(finding.value)} times what the core supports"
    if finding.check == "clamp" and finding.value:
        who = f"both {row.bolt.split()[0]} bolts" if len(row.findings) == 2 else f"the {row.bolt} bolt"
        return f"{finding.text.split(' pulls ')[0]} pulls {who} to {round_up(finding.value)} times the proof load"
    text = finding.text.partition(AGAIN)[0].rstrip(".")
    return text[0].lower() + text[1:]


def _spare(checked: Checked) -> str:
    """Say the smallest clearance in the well and its place."""
    in_well = [f for f in checked.findings if CHECK_KINDS[f.check].in_well and f.value is not None]
    if not in_well:
        return ""
    least = min(in_well, key=lambda finding: finding.value or 0.0)
    row = next(row for row in findings_rows(checked) if least in row.findings)
    where = "below" if least.against in BELOW else "at"
    name = row.title.removeprefix("Both ")
    name = name[0].lower() + name[1:]
    return f"{format_clearance(least.value or 0.0, checked.design.units)} to spare {where} the {name}"
