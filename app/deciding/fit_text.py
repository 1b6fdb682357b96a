"""The costs of a fit and the finding that limits it, in the few words of a list; and the name of a place."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from app.ui.apostrophes import curly
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.words import figure_of, is_of_plate, title_of
from geometry.units.height_words import hole_words, number, up_words, usable_holes
from geometry.units.units import format_angle, format_clearance, format_length, format_reading

if TYPE_CHECKING:
    from geometry.decide.offer import Fit
    from geometry.design.design import Design
    from geometry.design.motor import Mount
    from geometry.judge.findings import Finding, State

_SAME = 0.5  # mm: two places nearer than this are one


class FitLine(msgspec.Struct, frozen=True):
    """One fit of the list.

    Attributes:
        title: "Drop 7 5/16 in, one hole up". room: its smallest clearance. gist: its costs and the finding that limits it.
        details: its sentences when it is opened. label: of the step that it makes.
    """

    state: State
    title: str
    room: str
    gist: str
    details: tuple[str, ...]
    label: str


def plate_words(height: float | None, unit: str) -> str:
    """Say where the AV plate is: "3/4 in above the bottom"."""
    if height is None:
        return "not known"
    figure = format_reading(abs(height), "in" if unit == "in" else "mm")
    if figure.split()[0] == "0":
        return "level with the bottom"
    return f"{figure} {'above' if height > 0 else 'below'} the bottom"


def governing(design: Design, finding: Finding | None) -> str:
    """Name the finding that limits a fit, with its size: "lower port washer 1/16 in"."""
    if finding is None:
        return "nothing is near"
    title = title_of(finding)
    figure = figure_of(design, finding)
    return f"{title[0].lower()}{title[1:]} {figure}".strip()


def _short(design: Design, finding: Finding | None) -> str:
    """Name it in three or four words: "upper holes 3.1 diameters from the inside edge", "lower washer"."""
    if finding is None:
        return "nothing is near"
    parts, brief = finding.at.split(" / "), CHECK_KINDS[finding.check].brief
    if not brief or is_of_plate(finding):
        return governing(design, finding)
    last = {"outer face": "outside", "inner face": "inside"}.get(parts[-1], parts[-1])
    return brief.format(pair=parts[1].split()[0] if len(parts) > 1 else "", figure=figure_of(design, finding), last=last)


def fit_line(design: Design, index: int, fit: Fit) -> FitLine:
    """Return one line of the list; ``design`` is what the search started from."""
    unit = design.units
    place = f"Drop {format_length(fit.drop, unit, denominator=16)}, {up_words(fit.row)}"
    room = "free" if fit.room is None else format_clearance(fit.room, unit)
    details = [
        f"{hole_words(fit.row)}. AV plate {plate_words(fit.plate_height, unit)}. "
        f"Usable holes: {usable_holes(fit.rows_left)}.",
        *(f"– {cost}" for cost in fit.costs),
    ]
    if fit.governs is not None:
        details.append(f"Limited by: {fit.governs.text[0].lower()}{fit.governs.text[1:]}")
    gist = f"{', '.join(costs(design.mounts[index], fit, design))} · {_short(design, fit.governs)}"
    gist = curly(f"{gist[0].upper()}{gist[1:]}")
    return FitLine(fit.state, place, room, gist, tuple(map(curly, details)), f"{place}, from Find a fit")


def costs(mount: Mount, fit: Fit, design: Design) -> list[str]:
    """Return the costs of a fit, two or three words each."""
    from geometry.decide.kit import CUT, PLATE, PRESENT  # what helps to decide comes in when it is wanted
    from geometry.decide.usual_height import too_high

    special = {PRESENT: "wedges", CUT: "cut flat", PLATE: "relieved backing plate"}
    unit, hung = design.units, fit.design.mounts[design.mounts.index(mount)]
    count = mount.bracket.rows.count if mount.bracket.rows else 0
    lost = count - len(fit.rows_left)
    made = [f"{number(lost)} hole{'' if lost == 1 else 's'} lost"]
    if hung.lower_hardware != mount.lower_hardware:
        made.append(special.get(fit.level, fit.hardware))
    upper, before = hung.upper_hardware, mount.upper_hardware
    if upper is not None and before is not None and upper != before:
        made.append("other upper washers" if upper.bolt == before.bolt else f"{upper.bolt} upper bolts")
    if fit.reused:
        made.append("old upper holes used")
    elif mount.upper_at is None or abs(fit.upper_at - mount.upper_at) > _SAME:
        made.append(f"upper holes {format_length(-fit.upper_at, unit, denominator=16)} down")
    aside = fit.offset - (mount.offset or 0.0)
    if abs(aside) > _SAME:
        made.append(f"{format_length(abs(aside), unit, denominator=16)} to {'starboard' if aside > 0 else 'port'}")
    for pair, tilt, now in (("upper", fit.upper_tilt, mount.upper_tilt), ("lower", fit.lower_tilt, mount.lower_tilt)):
        if abs(tilt - (now or 0.0)) > 0.05:
            made.append(f"{pair} holes {format_angle(abs(tilt))} {'up' if tilt >= 0 else 'down'}")
    if fit.plate_height is not None and too_high(fit.plate_height, mount):
        made.append("AV plate higher than usual")
    return made
