"""What the shop sheet says of the checks: what is fouled, missing or tight at length, what is clear in few lines."""

from __future__ import annotations

import re

from geometry.design.design import Design
from geometry.design.hole_words import number
from geometry.design.measures import name_of
from geometry.design.units import Unit, format_limit
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.findings import STATE_WORDS, Checked, Finding
from geometry.judge.words import figure_of, findings_rows
from templates_out.drawing.sheet_figures import printed
from templates_out.views.dimensions import on_paper

Found = tuple[str, str, str]  # state, what was found, limits

_TITLES = 3  # of each state, in the line of what is not clear


def found(checked: Checked) -> list[Found]:
    """Return what the checks say as (state, sentences, limits), worst first.

    What is fouled, tight or a note stands at length, both sides in one where they are alike; what waits for a reading
    stands under that reading; what is clear is told by its least value, those of a kind in one line.
    """
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in checked.findings:
        groups.setdefault(_kind(checked, finding), []).append(finding)
    return [_line(checked, key, group) for key, group in groups.items()]


def _kind(checked: Checked, finding: Finding) -> tuple[str, ...]:
    limits = _limits(finding, checked.design.units)
    if finding.state == "unknown" and finding.missing is not None:
        return finding.state, "missing", finding.missing
    kind = CHECK_KINDS[finding.check]
    if finding.value is not None and (finding.state == "clear" or kind.own_page) and kind.clear_line:
        return finding.state, "family", kind.clear_line, "" if kind.own_page else limits
    return finding.state, finding.check, _bare(finding), limits


def _bare(finding: Finding) -> str:
    """Return a text without the bolt's side; a note or a clear one without its pair as well."""
    if finding.state in ("clear", "note"):
        return re.sub(r"\b(upper|lower) (port |starboard )?(?=bolts? )", "", finding.text)
    return re.sub(r"\b(upper|lower) (port|starboard)\b", r"\1", finding.text)


def _line(checked: Checked, key: tuple[str, ...], group: list[Finding]) -> Found:
    word, unit = group[0].word, checked.design.units
    if key[1] == "missing":
        nouns = dict.fromkeys(CHECK_KINDS[finding.check].nouns for finding in group)
        text = f"Not measured: {name_of(checked.design, key[2])}. It decides: {', '.join(nouns)}."
        return STATE_WORDS["unknown"], printed(text), ""
    if key[1] == "family":
        text = f"{key[2]}: {', '.join(_least(checked, group))}."
        text = text.replace("flat: within", "flat within")
    else:
        text = group[0].text
        if len(group) > 1 and key[2] != text:
            text = f"{key[2]} {'Both' if len(group) == 2 else f'All {number(len(group))}'} alike."
        if group[0].state in ("fouled", "unknown", "tight") and group[0].remedy:
            text = f"{text} {group[0].remedy}"
    guesses = {key for finding in group for key in finding.guesses}
    if guesses:
        text = f"{text} Rests on {'a guess' if len(guesses) == 1 else f'{len(guesses)} guesses'}."
    elsewhere = key[1] == "family" and CHECK_KINDS[group[0].check].own_page
    limits = "see clamp, core and load" if elsewhere else _limits(group[0], unit)
    return word, printed(text), limits


def _least(checked: Checked, group: list[Finding]) -> list[str]:
    """Return the least value of each kind in a family: "washers 5/16 in"."""
    worst: dict[str, Finding] = {}
    for finding in group:
        name = CHECK_KINDS[finding.check].clear_name
        if finding.check == "edge":
            name = "inside" if finding.at.endswith("inner face") else "outside"
        if finding.check == "old_hole":
            name = "wood between" if finding.unit == "diameters" else "from a plug’s edge"
        if CHECK_KINDS[finding.check].own_page:
            name = f"{name} ({_limits(finding, checked.design.units)})"
        if name not in worst or finding.margin < worst[name].margin:
            worst[name] = finding
    return [f"{name} {_figure(checked.design, finding)}".strip() for name, finding in worst.items()]


def _figure(design: Design, finding: Finding) -> str:
    """Return a value, rounded to the unsafe-looking side."""
    figure = figure_of(design, finding)
    return figure.split(" ")[0] if finding.unit == "ratio" else figure.replace(".0 ", " ").replace(".0°", "°")


def why(checked: Checked) -> str:
    """Say in a line or two what is not clear, worst first, and what is guessed."""
    told = []
    titles: dict[str, dict[str, None]] = {}
    for row in findings_rows(checked):
        if row.state in ("fouled", "unknown", "tight"):
            titles.setdefault(row.first.word, {})[_small(row.title)] = None
    for word, named in titles.items():
        more = f" and {number(len(named) - _TITLES)} more" if len(named) > _TITLES else ""
        told.append(f"{word.capitalize()}: {'; '.join(tuple(named)[:_TITLES])}{more}.")
    count = len(checked.guesses)
    guessed = f"It rests on {'a guess' if count == 1 else f'{number(count)} guesses'}." if count else "Nothing is guessed."
    return printed(" ".join([*(told or ["Everything that was checked is clear."]), guessed]))


def _small(title: str) -> str:
    return title[:1].lower() + title[1:]


def _limits(finding: Finding, unit: Unit) -> str:
    if finding.least is None or finding.advised is None:
        return ""
    least, advised = (_value(value, finding, unit) for value in (finding.least, finding.advised))
    if finding.least == finding.advised:
        return f"limit {least}"
    return f"advised {advised}, limit {least}"


def _value(value: float, finding: Finding, unit: Unit) -> str:
    if finding.unit == "mm":
        return on_paper(format_limit(value, unit), "paper")
    return f"{value:g}{'°' if finding.unit == 'degrees' else ''}"
