"""The size of text, in percent of the desktop's: figures, handles and all that is around them grow with it.

Qt takes a scale only before the application is made. So another size shows from the next start on.
"""

from __future__ import annotations

import os

SIZES = (100, 125, 150, 175, 200)
"""The sizes that the menu goes through [%]."""
_SCALE = "QT_SCALE_FACTOR"
_given: list[str | None] = []  # the scale that the person's own environment has


def other_size(now: int, way: int) -> int | None:
    """Return the next larger (``way`` 1) or smaller (-1) size [%]; None where there is none."""
    beyond = [size for size in SIZES[::way] if (size - now) * way > 0]
    return beyond[0] if beyond else None


def scale_text(size: int) -> None:
    """Let the application that is made next show all at a size [%]. A scale of the environment stays a factor of it."""
    if not _given:
        _given.append(os.environ.get(_SCALE))
    size = min(max(size, SIZES[0]), SIZES[-1])
    if size != SIZES[0]:
        os.environ[_SCALE] = f"{_number(_given[0]) * size / 100:g}"


def own_environment() -> dict[str, str]:
    """Return the environment without our scale, for a program that takes its scale from the settings."""
    given = _given[0] if _given else os.environ.get(_SCALE)
    kept = {name: value for name, value in os.environ.items() if name != _SCALE}
    return kept if given is None else {**kept, _SCALE: given}


def _number(text: str | None) -> float:
    try:
        return float(text or 1.0)
    except ValueError:
        return 1.0
