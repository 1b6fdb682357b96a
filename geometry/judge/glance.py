"""The findings at a glance: grouped by what to do, equal ones together, each with its part, what it hits and its figure."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.design.validity import CLOSE
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import stops_the_paper
from geometry.judge.words import answer, findings_rows, is_of_plate, title_of
from geometry.readings.measures import name_of
from geometry.units.trade_words import in_trade_words

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.check_kinds import CheckKind
    from geometry.judge.findings import Checked, Finding, State
    from geometry.judge.words import FindingsRow

Group = Literal["drilled", "change", "measure", "tight", "loads", "launch", "clear"]

GROUPS: dict[Group, str] = {
    "drilled": "As drilled, worse than planned", "change": "Must change", "measure": "Measure first", "tight": "Tight",
    "loads": "Loads", "launch": "Before you launch", "clear": "Clear",
}  # fmt: skip
"""The groups and their titles, in their order."""

_KINDS_NAMED = 3  # kinds of parts that one line names; the rest are counted
_WORDS_OF = {"clear": 0, "tight": 1, "fouled": 2, "note": 3}
_NEAR = {"corner radius": "corner", "inside edge of the transom": "inside edge"}  # shorter than in a sentence
_FACES = {"outer face": "outside", "inner face": "inside"}
_PLURALS = {
    "clears": "clear", "overlaps": "overlap", "has": "have", "covers": "cover", "sits": "sit", "does": "do", "uses": "use",
    "goes": "go", "misses": "miss",
}  # fmt: skip


class Bar(msgspec.Struct, frozen=True):
    """A load as a share of its limit, and the advised share. Both are one where the limit is also what is advised."""

    share: float
    advised: float


class Glance(msgspec.Struct, frozen=True):
    """One line of the list: one row of the findings, or several that are equal.

    Attributes:
        rows: the worst first. part: what is checked, such as "2 sockets, 2 nuts". hit: what it hits, "" for nothing.
        figure: the worst value in the person's unit, without a minus where ``hit`` says it; "" without one.
        bar: the load as a bar, None for no load.
    """

    group: Group
    rows: tuple[FindingsRow, ...]
    part: str
    hit: str
    figure: str
    bar: Bar | None = None

    @property
    def first(self) -> Finding:
        """The finding that speaks for the line."""
        return self.rows[0].first

    @property
    def state(self) -> State:
        """The state of all its findings."""
        return self.rows[0].state

    @property
    def doubt(self) -> bool:
        """Whether the readings behind it may well turn it round."""
        return _doubtful(self.rows[0])


def glances(checked: Checked) -> tuple[Glance, ...]:
    """Return the lines of the list, group by group. Each begins with what the answer rests on, then the worst is first."""
    kept: tuple[Glance, ...] | None = checked.__dict__.get("glances")  # asked for again at each look at the same design
    if kept is None:
        alike: dict[tuple[object, ...], list[FindingsRow]] = {}
        for row in findings_rows(checked):
            alike.setdefault(_likeness(row, checked.design), []).append(row)
        lines = (_glance(tuple(rows), checked.design) for rows in alike.values())
        order, rests_on = list(GROUPS), answer(checked).finding

        def place(line: Glance) -> tuple[int, bool]:
            return order.index(line.group), not any(rests_on is finding for row in line.rows for finding in row.findings)

        kept = checked.__dict__["glances"] = tuple(sorted(lines, key=place))
    return kept


def group_of(row: FindingsRow) -> Group:
    """Return the group of a row: by what its owner has to do."""
    first = row.first
    if first.family == "reading":
        return "measure"
    if first.state == "fouled":
        return "change" if stops_the_paper(first) else "launch"
    if first.state == "unknown":
        return "measure" if stops_the_paper(first) else "launch"
    load = CHECK_KINDS[first.check].own_page or first.check == "joint"
    if _doubtful(row) and not load:
        return "measure"
    if first.state == "note":
        return "launch"
    if load:
        return "loads"  # in doubt too: the torque is chosen after the holes
    return "tight" if first.state == "tight" else "clear"


def _doubtful(row: FindingsRow) -> bool:
    return any(finding.doubtful for finding in row.findings)


def _waits_for(finding: Finding) -> str:
    """Return the key of the reading that a check waits for, "" where it waits for none."""
    return finding.missing or "" if finding.value is None and finding.family != "reading" else ""


def _likeness(row: FindingsRow, design: Design) -> tuple[object, ...]:
    """Return what rows of one line have in common.

    Checks that wait for one reading are one line. So are nuts, sockets and thread ends that hit the same thing: the worst
    of them speaks. Washers, and all other parts, share a line only with the same figure.
    """
    first, kind, group = row.first, CHECK_KINDS[row.first.check], group_of(row)
    if waits := _waits_for(first):
        return group, waits
    if _is_aside(first) or first.family == "reading" or _is_plate(row):
        return group, first.check, first.at
    same = group, first.state, _doubtful(row), _hit(first, design)
    return same if kind.in_well and first.check != "washer" else (*same, first.check, row.figure)


def _glance(rows: tuple[FindingsRow, ...], design: Design) -> Glance:
    row, group, bar = rows[0], group_of(rows[0]), _bar(rows[0].first)
    first, several = row.first, sum(len(row.findings) for row in rows) > 1
    if waits := _waits_for(first):
        owner = waits.split(".")[1] if waits.startswith("mounts.") and len(design.mounts) > 1 else ""
        part = f"{_capital(name_of(design, waits))}{f' ({design.mounts[int(owner)].name})' if owner else ''}"
        return Glance(group, rows, part, f"for {_counted(rows)}", "")
    hit, figure = "" if bar is not None else _hit(first, design), row.figure
    if bar is not None:
        figure = f"{math.ceil(bar.share * 100 - CLOSE)} %"
    elif first.unit == "ratio" and figure:
        figure = f"{figure.split()[0]} ×"
    elif hit and _is_below(first):
        figure = figure.removeprefix("−")
    hit = _plural(hit) if several and CHECK_KINDS[first.check].parts else hit
    return Glance(group, rows, _part(rows, design), hit, figure, bar)


def _is_aside(finding: Finding) -> bool:
    return finding.at.rpartition(" / ")[2] in dict(CHECK_KINDS[finding.check].aside)


def _is_below(finding: Finding) -> bool:
    """Return whether a length, or one in diameters, is below 0: an overlap."""
    return finding.unit in ("mm", "diameters") and finding.value is not None and finding.value < -CLOSE


def _bar(finding: Finding) -> Bar | None:
    """Return the bar of a load; None where it has no value, or where its value is not what is wrong."""
    value, least, advised = finding.value, finding.least, finding.advised
    if not CHECK_KINDS[finding.check].bar or value is None or not least or advised is None or _is_aside(finding):
        return None
    if finding.state == "fouled" and value <= least + CLOSE:  # all of the torque is drag: nothing clamps
        return None
    return Bar(value / least, advised / least)


def _hit(first: Finding, design: Design) -> str:
    """Say what a part hits or is close to, as of one part."""
    kind = CHECK_KINDS[first.check]
    if first.family == "reading":
        return kind.hits[_WORDS_OF["fouled" if first.state == "unknown" else "note"]]
    if first.state == "unknown":
        return "not checked"
    if _is_aside(first):
        return ""
    words = kind.hits[_WORDS_OF["fouled" if _is_below(first) else first.state]]
    if first.state == "fouled" and not _is_below(first):  # without limits it is an old hole that was to be used again
        words = words.replace("overlaps {}", "misses {}" if first.least is None else "too close to {}")
    last = first.at.rpartition(" / ")[2]
    near = last if last == first.against else f"the {_NEAR.get(first.against, first.against.removeprefix('well '))}"
    return in_trade_words(words.format(near, last=_FACES.get(last, last)), design.units)


def _plural(hit: str) -> str:
    verb, _, rest = hit.partition(" ")
    return f"{_PLURALS.get(verb, verb)} {rest}".strip()


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def _is_plate(row: FindingsRow) -> bool:
    """Return whether a row is about a backing plate, which belongs to two bolts."""
    return is_of_plate(row.first)


def _part(rows: tuple[FindingsRow, ...], design: Design) -> str:
    """Name what a line is about: "Lower port washer", "Both lower washers", "2 sockets, 2 nuts", "Torque on the core"."""
    row, first, kind = rows[0], rows[0].first, CHECK_KINDS[rows[0].first.check]
    if first.family == "reading" or _is_aside(first) or _is_plate(row):
        return row.title
    if not kind.parts:
        return f"{kind.part or title_of(first)}{_of_bolts(rows) if row.bolt else ''}{_of_motors(rows, design)}"
    if len(rows) > 1:
        return f"{_counted(rows)}{_of_motors(rows, design, each='')}"
    names, both = _names(kind, first), len(row.findings) > 1
    said = f"both {row.bolt.split()[0]} {names[1]}" if both else f"{row.bolt} {names[0]}"
    return f"{_capital(said)}{_of_motors(rows, design)}"


def _of_motors(rows: tuple[FindingsRow, ...], design: Design, each: str = " (each motor)") -> str:
    """Say which motors a line is about where there are several. ``each``: the words for all of them, one by one."""
    mounts = sorted({at for row in rows for at in row.first.mounts})
    if len(mounts) < len(design.mounts):
        return f" ({' and '.join(design.mounts[at].name for at in mounts)})"
    return each if len(mounts) > 1 and len(rows[0].first.mounts) == 1 else ""


def _of_bolts(rows: tuple[FindingsRow, ...]) -> str:
    """Say which bolts of its motors a load is about; "" for all of them."""
    names = {finding.at.split(" / ")[1] for row in rows for finding in row.findings}
    pairs = {name.split()[0] for name in names}
    if len(pairs) > 1:
        return ""
    return f", {pairs.pop() if len(names) > 1 else names.pop()}"


def _names(kind: CheckKind, finding: Finding) -> tuple[str, str]:
    """Return the names of one part and of several."""
    last = finding.at.rpartition(" / ")[2]
    return kind.part.format(last=last), kind.parts.format(last=last)


def _counted(rows: tuple[FindingsRow, ...]) -> str:
    """Count parts, kind by kind: "2 sockets, 2 nuts and 4 more"; a single kind of one pair has the pair: "4 upper holes"."""
    parts: dict[tuple[str, str], set[tuple[str, ...]]] = {}  # two checks may look at one part
    for row in rows:
        kind = CHECK_KINDS[row.first.check]
        names = _names(kind, row.first) if kind.parts else (kind.noun, "")
        parts.setdefault(names, set()).update(tuple(finding.at.split(" / ")[:2]) for finding in row.findings)
    counts = {names: len(places) for names, places in parts.items()}
    pairs = {row.bolt.partition(" ")[0] for row in rows}
    pair = f"{pairs.pop()} " if len(counts) == len(pairs) == 1 and rows[0].bolt else ""
    said = [
        f"{count} {pair}{single if count == 1 else several}" if several else single
        for (single, several), count in counts.items()
    ]
    more = sum(list(counts.values())[_KINDS_NAMED:])
    return f"{', '.join(said[:_KINDS_NAMED])}{f' and {more} more' if more else ''}"
