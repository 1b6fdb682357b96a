"""The output of `check` and `rows`: the same findings as text for a person and as JSON for a program."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from app.deciding.fit_text import plate_words
from app.deciding.motor_height_text import SEATS, way_words
from app.entries.entry_text import origin
from app.findings.findings_text import finding_lines
from app.ladder.ladder_text import slot_end_words
from app.ui.terminal import wrapped
from geometry.decide.alternatives import low_enough
from geometry.doubt.flips import flips
from geometry.doubt.size_limits import size_limits
from geometry.judge.drillable import drillable
from geometry.judge.findings import STATE_WORDS
from geometry.judge.words import MEASURE_FIRST, answer, figure_of, title_of
from geometry.readings.measures import measures, state_of
from geometry.readings.part_tolerances import tolerance
from geometry.units.height_words import hole_words, usable_holes
from geometry.units.units import format_length, format_reading

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.decide.alternatives import Kind
    from geometry.decide.ladder import Ladder, Rung
    from geometry.design.design import Design
    from geometry.doubt.flips import Flip
    from geometry.judge.findings import Checked, Finding
    from geometry.units.units import Unit

_FIELDS = (
    "check", "at", "value", "least", "advised", "unit", "state", "spread", "chance", "text", "remedy", "guesses",
    "family", "against",
)  # fmt: skip
_WIDE = max(map(len, STATE_WORDS.values())) + 2
_HEIGHT = 44  # letters: of a height in words, with the present one marked


def check_json(checked: Checked) -> str:
    """Return the findings as one JSON object; lengths [mm], angles [degrees]."""
    turned = flips(checked) if checked.sure else {}
    findings = [
        {field: getattr(finding, field) for field in _FIELDS} | {"flip": _flip_text(turned, finding)}
        for finding in checked.findings
    ]  # fmt: skip
    answered = drillable(checked)
    return _json({
        "name": checked.design.name, "verdict": checked.verdict, "drillable": answered.answer, "reasons": answered.sentences,
        "guesses": checked.guesses, "origins": _origins(checked.design), "to_buy": _to_buy(checked), "findings": findings,
    })  # fmt: skip


def _flip_text(turned: dict[tuple[str, str], Flip], finding: Finding) -> str | None:
    """Return what would turn a finding, in a sentence; None where no reading near its value does."""
    flip = turned.get((finding.check, finding.at))
    return None if flip is None else flip.text


def _origins(design: Design) -> dict[str, str]:
    """Return the origin of each value that is no choice: "measured", "to buy", "confirmed", "guess" or "not known"."""
    rows = [row for row in measures(design) if not row.free or row.key in design.readings]  # a cut in words may be a guess
    lacking = {row.key for row in rows if row.empty is not None and row.get(design) is None}
    return {row.key: "not known" if row.key in lacking else origin(design, row) for row in rows}


def _to_buy(checked: Checked) -> list[dict[str, Any]]:
    """Return each size to buy, with its tolerance, and the largest or smallest size that still clears [mm]."""
    design, limits = checked.design, size_limits(checked)
    most = {limit.key: limit.value for limit in limits if limit.largest}
    least = {limit.key: limit.value for limit in limits if not limit.largest}
    return [
        {
            "key": row.key, "name": row.name, "value": row.get(design), "tolerance": tolerance(design, row).most,
            "most": most.get(row.key), "least": least.get(row.key),
        }
        for row in measures(design) if state_of(design, row) == "to buy" and row.kind == "length"
    ]  # fmt: skip


def check_text(checked: Checked) -> str:
    """Return the answer, then the findings, worst first and left and right alike in one, in the person's unit."""
    design = checked.design
    lines = [wrapped(answer(checked).sentence), wrapped(f"({_about(checked)})")]
    kinds = ("guess", "unlikely", "doubt")
    lines += [wrapped(reason.text, "  ") for reason in drillable(checked).reasons if reason.kind in kinds]
    lines.append("")
    shown = finding_lines(checked)
    wide = max((len(line.word) for line in shown), default=0) + 2
    for line in shown:
        part = f"{line.name}: {line.figure}." if line.figure else f"{line.name}."
        lines.append(wrapped(f"{part} {line.text}", line.word.ljust(wide)))
        if line.remedy:
            lines.append(wrapped(line.remedy, " " * (wide + 2)))
    if design.demonstration:
        lines += ["", wrapped("This is the demonstration boat. Its sheets are marked so that nobody drills by them.")]
    return "\n".join(lines)


def rows_json(design: Design, ladders: Sequence[Ladder], kind: Kind | None = None) -> str:
    """Return every row of every motor as one JSON object; lengths [mm]. ``kind``: of the lower hardware, None as fitted."""
    mounts = [
        {
            "mount": ladder.mount,
            "hardware": "as fitted" if kind is None else SEATS[kind],
            "lowest_plate": {"advised": ladder.lowest.advised, "least": ladder.lowest.least},
            "rows": [_row(rung) for rung in ladder.rungs],
        }
        for ladder in ladders
    ]
    return _json({"name": design.name, "mounts": mounts})


def rows_text(design: Design, ladders: Sequence[Ladder], kind: Kind | None = None) -> str:
    """Return every row of every motor, drop by drop, in the person's unit. ``kind``: see `rows_json`."""
    if not ladders:
        return "No motor is hung on this boat yet."
    return "\n\n".join(_ladder_text(design, ladder, kind) for ladder in ladders)


def _about(checked: Checked) -> str:
    guesses = len(checked.guesses)
    guess_words = {0: "no guess", 1: "1 guess"}.get(guesses, f"{guesses} guesses")
    doubt = f", {MEASURE_FIRST}" if answer(checked).doubt else ""
    return f"{checked.design.called}: {STATE_WORDS[checked.verdict]}{doubt}, {guess_words}"


def _row(rung: Rung) -> dict[str, Any]:
    worst = rung.worst
    return {
        "drop": rung.drop,
        "row": rung.row,
        "state": rung.state,
        "saddle_gap": rung.hook_gap,
        "plate_height": rung.plate_height,
        "rows_left": rung.rows_left,
        "slot_end": rung.slot_end,
        "worst": None if worst is None else {"check": worst.check, "at": worst.at, "value": worst.value},
    }


def _ladder_text(design: Design, ladder: Ladder, kind: Kind | None) -> str:
    unit, mount, ways = design.units, design.mounts[ladder.index], low_enough(design, ladder.index).ways
    shown = [way.seat for way in ways if (way.seat.present if kind is None else way.seat.kind == kind)]
    fitted = not shown or shown[0].present
    named = "" if kind is None or not shown else f", {SEATS[kind].lower()}"
    lines = [wrapped(f"{ladder.mount}{named}: {_lowest(ladder, unit)}")]
    lines += [wrapped(way_words(design, way), "  ") for way in ways if way.seat not in shown]
    if not ladder.rungs:
        lines.append("  It hangs by its clamp screws and has no bolt holes.")
    for drop in ladder.drops():
        rungs = [rung for rung in ladder.rungs if rung.drop == drop]
        known = bool(rungs[0].rows_left) or all(rung.hook_gap is not None for rung in rungs)
        left = usable_holes(rungs[0].rows_left) if known else "not known"
        here = fitted and mount.drop is not None and abs(drop - mount.drop) < 1e-6
        lines += ["", f"drop {format_length(drop, unit)}, usable holes: {left}"]
        lines.append(f"  {'height':<{_HEIGHT}}{'state':<{_WIDE}}{'hook gap':<11}AV plate")
        lines += [_rung_text(rung, design, ", now" if here and rung.row == mount.row else "") for rung in rungs]
    return "\n".join(lines)


def _rung_text(rung: Rung, design: Design, now: str) -> str:
    gap, plate = _length(rung.hook_gap, design.units), _length(rung.plate_height, design.units)
    height = f"{hole_words(rung.row)}{now}"
    first = f"  {height:<{_HEIGHT}}{STATE_WORDS[rung.state]:<{_WIDE}}{gap:<11}{plate}"
    said = [end] if (end := slot_end_words(rung, design.units)) else []
    worst = rung.worst
    if worst is not None and rung.state != "clear":
        part, figure = title_of(worst), figure_of(design, worst)
        part = part[0].lower() + part[1:]
        said.append(f"limited by {part}: {figure}" if figure else f"limited by {part}")
    return "\n".join((first, *(wrapped(text, "    ", " " * 6) for text in said)))


def _lowest(ladder: Ladder, unit: Unit) -> str:
    lowest = ladder.lowest
    if lowest.advised is None and lowest.least is None:
        return "how low its AV plate can go is not known."
    return (
        f"the lowest AV plate with the advised clearance is {plate_words(lowest.advised, unit)}. "
        f"With no clearance at all it is {plate_words(lowest.least, unit)}."
    )


def _length(mm: float | None, unit: Unit) -> str:
    return "not known" if mm is None else format_reading(mm, unit)


def _json(value: dict[str, Any]) -> str:
    return json.dumps(_rounded(value), indent=2, allow_nan=False)


def _rounded(value: Any) -> Any:
    """Return nested lists and dicts with every number rounded to 1e-6; never −0."""
    match value:
        case float():
            return round(value, 6) + 0.0
        case dict():
            return {key: _rounded(inner) for key, inner in value.items()}
        case list() | tuple():
            return [_rounded(inner) for inner in value]
        case _:
            return value
