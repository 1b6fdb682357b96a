"""The findings on the shop sheet: fouled, missing and tight ones in full, clear ones in few lines."""

from __future__ import annotations

import re

from geometry.design.design import Design
from geometry.doubt.flips import flip_of
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.findings import Checked, Finding
from geometry.judge.words import figure_of, findings_rows
from geometry.readings.measures import name_of
from geometry.units.height_words import number
from geometry.units.units import Unit, format_limit
from templates_out.drawing.sheet_figures import printed
from templates_out.views.dimensions import on_paper

Line = tuple[str, str, str]  # state, finding, limits

_TITLES = 3  # of each state, in the line of what is not clear


def summary_lines(checked: Checked) -> list[Line]:
    """Return the findings as (state, sentences, limits), worst first.

    A fouled or tight finding and a note are written in full, one line for both sides where they are alike. Checks that
    wait for one reading share a line. Clear checks of one kind share a line with the least value of each.
    """
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in checked.findings:
        groups.setdefault(_kind(checked, finding), []).append(finding)
    return [_line(checked, key, group) for key, group in groups.items()]


def power_words(checked: Checked) -> str:
    """Return what to do about power and weight; "" for nothing."""
    return " ".join(finding.remedy for finding in checked.findings if finding.check in ("power", "weight") and finding.remedy)


def _kind(checked: Checked, finding: Finding) -> tuple[str, ...]:
    limits = _limits(finding, checked.design.units)
    if finding.missing is not None:
        return finding.state, "missing", name_of(checked.design, finding.missing)
    kind = CHECK_KINDS[finding.check]
    if finding.value is not None and (finding.state == "clear" or kind.own_page) and kind.clear_line:
        return finding.state, "family", kind.clear_line, "" if kind.own_page else limits
    return finding.state, finding.check, _bare(finding), limits


def _bare(finding: Finding) -> str:
    """Return a text without the bolt's side. A note or a clear one loses its pair as well."""
    if finding.state in ("clear", "note"):
        return re.sub(r"\b(upper|lower) (port |starboard )?(?=bolts? )", "", finding.text)
    return re.sub(r"\b(upper|lower) (port|starboard)\b", r"\1", finding.text)


def _line(checked: Checked, key: tuple[str, ...], group: list[Finding]) -> Line:
    word, unit = group[0].word, checked.design.units
    if key[1] == "missing":
        name = key[2]
        nouns = dict.fromkeys(CHECK_KINDS[finding.check].nouns for finding in group)
        text = f"{name[:1].upper()}{name[1:]}: not measured. These checks need it: {', '.join(nouns)}."
        return word, printed(text), ""
    if key[1] == "family":
        text = f"{key[2]}: {', '.join(_least(checked, group))}."
    else:
        text = group[0].text
        if len(group) > 1 and key[2] != text:
            text = f"{key[2]} {'Both' if len(group) == 2 else f'All {number(len(group))}'} are alike."
        if group[0].state in ("fouled", "unknown", "tight") and group[0].remedy:
            text = f"{text} {group[0].remedy}"
        flip = _flip(checked, group[0])
        if flip:
            text = f"{text} {flip}"
    guesses = {key for finding in group for key in finding.guesses}
    if guesses:
        text = f"{text} This is based on {'a guess' if len(guesses) == 1 else f'{len(guesses)} guesses'}."
    named = key[1] == "family" and CHECK_KINDS[group[0].check].own_page  # each of its figures has its limits behind it
    return word, printed(text), "" if named else _limits(group[0], unit)


def _flip(checked: Checked, finding: Finding) -> str:
    """Say which reading would turn a tight finding; "" for others: they are sure, or their cure is there already."""
    if finding.state != "tight" or not CHECK_KINDS[finding.check].by_chance:
        return ""
    flip = flip_of(checked, finding)
    return "" if flip is None else flip.text


def _least(checked: Checked, group: list[Finding]) -> list[str]:
    """Return the least value of each kind in a family: "washers 5/16 in"."""
    worst: dict[str, Finding] = {}
    for finding in group:
        name = CHECK_KINDS[finding.check].clear_name
        if finding.check == "edge":
            name = "inside" if finding.at.endswith("inner face") else "outside"
        if finding.check == "old_hole":
            name = "between holes" if finding.unit == "diameters" else "from a plug’s edge"
        if name not in worst or finding.margin < worst[name].margin:
            worst[name] = finding
    return [_named_figure(checked.design, name, finding) for name, finding in worst.items()]


def _named_figure(design: Design, name: str, finding: Finding) -> str:
    """Return a value after its name, rounded to the unsafe-looking side; limits behind it, where they have no column."""
    figure = figure_of(design, finding).replace(".0 ", " ").replace(".0°", "°")
    limits = f" ({_limits(finding, design.units)})" if CHECK_KINDS[finding.check].own_page else ""
    return f"{name} {figure}{limits}".strip()


def why(checked: Checked) -> str:
    """Say in a line or two what is not clear, worst first, and what is guessed."""
    sentences = []
    titles: dict[str, dict[str, None]] = {}
    for row in findings_rows(checked):
        if row.state in ("fouled", "unknown", "tight"):
            titles.setdefault(row.first.word, {})[_small(row.title)] = None
    for word, named in titles.items():
        more = f" and {number(len(named) - _TITLES)} more" if len(named) > _TITLES else ""
        sentences.append(f"{word.capitalize()}: {'; '.join(tuple(named)[:_TITLES])}{more}.")
    count = len(checked.guesses)
    guessed = f"This is based on {'a guess' if count == 1 else f'{number(count)} guesses'}." if count else "Nothing is a guess."
    return printed(" ".join([*(sentences or ["All checks are clear."]), guessed]))


def _small(title: str) -> str:
    return title[:1].lower() + title[1:]


def _limits(finding: Finding, unit: Unit) -> str:
    if finding.least is None or finding.advised is None or finding.state == "note":
        return ""
    least, advised = (_value(value, finding, unit) for value in (finding.least, finding.advised))
    if finding.least == finding.advised:
        return f"limit {least}"
    return f"advised {advised}, limit {least}"


def _value(value: float, finding: Finding, unit: Unit) -> str:
    if finding.unit == "mm":
        return on_paper(format_limit(value, unit), "paper")
    if finding.unit == "diameters":
        return f"{value:g} diameter{'' if value == 1 else 's'}"
    return f"{round(value, 1):g}°" if finding.unit == "degrees" else f"{value:g}"
