"""The command `fit`: ways to hang each motor that clear everything, best first, as text or as JSON."""

from __future__ import annotations

import json
import os
from typing import TYPE_CHECKING, Any

from app.deciding.fit_text import plate_words
from app.document.files import read_design, write_design
from app.ui.terminal import each, print_text, warn, wrapped
from geometry.decide.fit import search
from geometry.decide.offer import Fit
from geometry.errors import OwnerError
from geometry.readings.measures import name_of
from geometry.solid.faces import Unmeasured
from geometry.units.height_words import hole_words, usable_holes
from geometry.units.units import format_angle, format_clearance, format_length

if TYPE_CHECKING:
    from pathlib import Path

    from geometry.design.design import Design

_INDENT = " " * 4


def run(path: Path, as_json: bool, save: Path | None = None, *, force: bool = False) -> int:
    """Search, print the fits, and save the best where asked; 0 where every motor with bolts has a fit, else 1.

    The search for each motor has the motors before it at their best fit.

    Args:
        force: whether a design that is there may be replaced.

    Raises:
        OwnerError: a file can't be read or written, or the one to save to is there already.
    """
    if save is not None and not force and os.path.lexists(save):  # nobody would see its content before it is lost
        raise OwnerError(
            f"{save.name} exists already, and a boat in it would be lost. "
            "Give --save a new name, or replace it with --force."
        )
    design, seen = read_design(path)
    now, searches = design, []
    for index, mount in enumerate(design.mounts):
        fits, lacking = _search(now, index)
        searches.append((mount.name, fits, lacking, mount.bracket.rows is not None))
        if fits and fits[0].fits:
            now = fits[0].design
    whole = all(not bolted or (fits and fits[0].fits) for _, fits, _, bolted in searches)
    print_text(_json(design, searches) if as_json else _text(design, searches))
    if save is not None and whole and now is not design:
        write_design(save, now, seen, over=force)
        warn(f"The first fit of each motor is saved as {save}.")
    elif save is not None:
        warn(f"Nothing is saved as {save}: " + ("there is no motor to hang." if whole else "not every motor has a fit."))
    return 0 if whole else 1


_Search = tuple[str, list[Fit], str | None, bool]


def _search(design: Design, index: int) -> tuple[list[Fit], str | None]:
    """Return what the search finds, or what has to be measured first."""
    steps = each(search(design, index), f"fits of {design.mounts[index].name}")
    try:
        return [step for step in steps if isinstance(step, Fit)], None
    except Unmeasured as missing:
        return [], missing.key


def _text(design: Design, searches: list[_Search]) -> str:
    if not searches:
        return "No motor is hung on this boat yet."
    return "\n\n".join(_mount_text(design, *search) for search in searches)


def _mount_text(design: Design, mount: str, fits: list[Fit], lacking: str | None, bolted: bool) -> str:
    if not bolted:
        return wrapped(f"{mount}: it hangs by its clamp screws. There is nothing to drill.")
    if lacking is not None:
        return wrapped(f"{mount}: the search needs one more reading. Measure {name_of(design, lacking)} first.")
    if not fits:
        return wrapped(f"{mount}: there is no fit, and none that is near.")
    if not fits[0].fits:
        first = f"{mount}: nothing fits. {fits[0].change or ''}".strip()
        return "\n".join([wrapped(first), "", wrapped("The nearest miss:"), *_fit_text(design, fits[0], "   ")])
    ways = "one way" if len(fits) == 1 else f"{len(fits)} ways"
    lines = [wrapped(f"{mount}: {ways} to hang it, the best first.")]
    for number, fit in enumerate(fits, start=1):
        lines += ["", *_fit_text(design, fit, f"{number:>2}. ")]
    return "\n".join(lines)


def _fit_text(design: Design, fit: Fit, first: str) -> list[str]:
    unit = design.units
    place = [f"drop {format_length(fit.drop, unit, denominator=16)}", hole_words(fit.row),
             f"upper holes {format_length(-fit.upper_at, unit, denominator=16)} down"]  # fmt: skip
    if abs(fit.offset) > 1e-6:
        side = "starboard" if fit.offset > 0 else "port"
        place.append(f"{format_length(abs(fit.offset), unit, denominator=16)} to {side}")
    for pair, tilt in (("upper", fit.upper_tilt), ("lower", fit.lower_tilt)):
        if abs(tilt) > 1e-6:
            place.append(f"{pair} holes {format_angle(abs(tilt))} {'up' if tilt > 0 else 'down'} from square")
    facts: list[str] = [fit.state]
    if fit.room is not None:
        facts.append(f"smallest clearance {format_clearance(fit.room, unit)}")
    if fit.plate_height is not None:
        facts.append(f"AV plate {plate_words(fit.plate_height, unit)}")
    facts.append(f"usable holes: {usable_holes(fit.rows_left)}")
    lines = [wrapped(f"{', '.join(place)}; {fit.hardware}.", first), wrapped(f"{'; '.join(facts)}.", _INDENT)]
    if fit.governs is not None:
        lines.append(wrapped(f"Limited by: {fit.governs.text}", _INDENT))
    return lines + [wrapped(cost, _INDENT + "- ") for cost in fit.costs]


def _json(design: Design, searches: list[_Search]) -> str:
    mounts = [
        {
            "mount": mount,
            "fits": [_fit_json(fit) for fit in fits if fit.fits],
            "miss": next(({**_fit_json(fit), "change": fit.change} for fit in fits if not fit.fits), None),
            "measure": lacking,
        }
        for mount, fits, lacking, _ in searches
    ]
    return json.dumps({"name": design.name, "mounts": mounts}, indent=2, allow_nan=False)


def _fit_json(fit: Fit) -> dict[str, Any]:
    """Return one fit; lengths [mm], angles [degrees], numbers rounded to 1e-6."""
    governs = fit.governs
    return {
        "state": fit.state,
        "row": fit.row,
        **{name: _rounded(getattr(fit, name)) for name in ("drop", "upper_at", "offset", "upper_tilt", "lower_tilt")},
        "hardware": fit.hardware,
        "rows_left": list(fit.rows_left),
        "room": _rounded(fit.room),
        "plate_height": _rounded(fit.plate_height),
        "reused": list(fit.reused),
        "governs": None if governs is None else {"check": governs.check, "at": governs.at, "value": _rounded(governs.value)},
        "costs": list(fit.costs),
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 6) + 0.0
