"""Lines and letters of the full-scale sheets: black only, nothing thinner than 0.13 mm."""

from __future__ import annotations

from typing import Any

from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Pen, Point, Text

PT = 25.4 / 72  # mm in a point: sizes of type are thought of in points

DATUM = EDGE = Pen(weight=0.50)
CENTRELINE = Pen(weight=0.35, dash=(8, 1.5, 1.5, 1.5))
TRIM = Pen(weight=0.35, dash=(6, 2))
FINAL = Pen(weight=0.35)
HIDDEN = Pen(weight=0.35, dash=(3, 1.5))
PILOT = Pen(weight=0.25)
OLD = Pen(weight=0.25)
PLUG = Pen(weight=0.13, dash=(1, 1))
FIT_RING = Pen(weight=0.18, dash=(0.6, 0.6))
WASHER = Pen(weight=0.18, dash=(2.4, 1.2))
LAND = Pen(weight=0.18, dash=(5, 2))
SEAM = Pen(weight=0.18)
FINE = Pen(weight=0.13)
BRACKET = Pen(weight=0.13, dash=(0.6, 1.4))
SOCKET = Pen(weight=0.13, dash=(5, 1, 1, 1))
FOLD = Pen(weight=0.25, dash=(2, 2))
FITTING = Pen(weight=0.25)
HEAVY = Pen(weight=0.50)

LETTER, SIDE, VIEW, NAME, LINES = 15 * PT, 17 * PT, 11 * PT, 11 * PT, 9 * PT
QUESTION, STEP, FIGURE, TITLE, SMALL, UNDER = 9 * PT, 8.5 * PT, 8 * PT, 7.5 * PT, 7 * PT, 6.5 * PT
BAND, REASON = 24 * PT, 10 * PT


def words(at: Point, text: str, size: float, **how: Any) -> Text:
    """Return running text: condensed, unless it is said otherwise."""
    return Text(at, text, size, **{"condensed": True, **how})


def width_of(text: Text) -> float:
    """Return how wide a text is [mm]."""
    return text_width(text.text, text.size, text.bold, text.italic, text.condensed)


def shortened(text: str, size: float, room: float, **style: bool) -> str:
    """Return ``text`` cut with an ellipsis where it is wider than ``room`` [mm]."""
    if text_width(text, size, **style) <= room:
        return text
    while text and text_width(text + "…", size, **style) > room:
        text = text[:-1]
    return text.rstrip() + "…"


def wrapped(text: str, size: float, room: float, **style: bool) -> list[str]:
    """Return ``text`` in lines no wider than ``room`` [mm]; a longer word is cut."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, **style) <= room:
            lines[-1] = longer
        else:
            lines.append(shortened(word, size, room, **style))
    return lines
