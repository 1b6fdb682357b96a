"""Blocks of running text on the sheets: steps, checks with boxes, questions; and the band across a sheet."""

from __future__ import annotations

import msgspec

from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import Rect
from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import WARNING, Line, Mark, Path, Text
from templates_out.drawing.sheet_figures import printed
from templates_out.drawing.stroke_letters import stroke_words
from templates_out.layout.drilling_permission import Stamp

_BLANK = 18.5  # wide, 2 of it free


class Item(msgspec.Struct, frozen=True):
    """One paragraph.

    Attributes:
        text: its words. size: of type [mm]. lead: "", a step's number, or "box" for a box to tick.
        blanks: words under blanks to write in, behind the text at the right.
    """

    text: str
    size: float
    bold: bool = False
    lead: str = ""
    before: float = 1.6
    blanks: tuple[str, ...] = ()


def laid(items: tuple[Item, ...], left: float, top: float, width: float, part: str) -> tuple[tuple[Mark, ...], float]:
    """Return a block's marks under a left upper corner, and its height [mm]."""
    marks: list[Mark] = []
    y = top
    for item in items:
        indent = 6.2 if item.lead else 0.0
        y -= item.before
        first = True
        start, wide = left + width - len(item.blanks) * _BLANK, width - indent - len(item.blanks) * _BLANK
        for index, under in enumerate(item.blanks):
            x, foot = start + index * _BLANK + 2.0, y - 0.78 * item.size - 0.6
            marks.append(Line((x, foot), (x + _BLANK - 2.0, foot), pens.FINE, part))
            marks.append(pens.words((x, foot - 0.95 * pens.UNDER), under, pens.UNDER, part=part))
        for line in pens.wrapped(item.text, item.size, wide, bold=item.bold, condensed=not item.bold):
            y -= 0.78 * item.size
            marks.append(Text((left + indent, y), line, item.size, bold=item.bold, condensed=not item.bold, part=part))
            if first and item.lead == "box":
                side = 4.2 if item.bold else 3.2
                x, foot = left, y + 0.37 * item.size - side / 2
                marks.append(
                    Path(
                        ((x, foot), (x + side, foot), (x + side, foot + side), (x, foot + side)),
                        True,
                        pens.SEAM,
                        part=part,
                    )
                )
            elif first and item.lead:
                marks.append(pens.words((left, y), item.lead, item.size, part=part))
            first = False
            y -= 0.47 * item.size
        y -= pens.UNDER * 0.9 if item.blanks else 0.0
    return tuple(marks), top - y


def band(rect: Rect, stamped: Stamp, *, outlined: bool = False, words: str = "") -> tuple[Mark, ...]:
    """Return a stamp's words and its reason, white on black.

    Args:
        outlined: as lines without any fill, for a drawing that goes to a cutter. words: to say instead of the stamp's.
    """
    left, bottom, right, top = rect
    words = words or stamped.words
    part, middle, room = WARNING, (left + right) / 2, right - left - 6.0
    size = min(pens.BAND, pens.BAND * room / pens.width_of(Text((0, 0), words, pens.BAND, bold=True)))
    lines = reason_lines(stamped.reason, right - left)
    foot = bottom + 1.9 + (len(lines) - 1) * _LINE
    ring = ((left, bottom), (right, bottom), (right, top), (left, top))
    marks: list[Mark] = (
        [
            Path(ring, True, pens.HEAVY, part=part),
            *stroke_words(words, (middle, (foot + 3.4 + top) / 2), 0.74 * size, room, pens.HEAVY, part),
        ]
        if outlined
        else [
            Path(ring, True, None, "ink", part),
            Text((middle, foot + 5.0), words, size, "sheet", bold=True, anchor="middle", part=part),
        ]
    )
    for index, line in enumerate(lines):
        marks.append(
            Text(
                (middle, foot - index * _LINE),
                line,
                _reason_size(lines, room),
                "ink" if outlined else "sheet",
                bold=True,
                condensed=True,
                anchor="middle",
                part=part,
            )
        )
    return tuple(marks)


_LINE = 3.7


def _reason_size(lines: list[str], room: float) -> float:
    fits = len(lines) == 1 and text_width(lines[0], pens.REASON, bold=True, condensed=True) <= room
    return pens.REASON if fits else pens.FIGURE


def reason_lines(reason: str, width: float) -> list[str]:
    """Return the reason in one line of 10, or in up to three of 8, as long as one another, cut where that is not enough."""
    words, room = printed(reason), width - 6.0
    line = pens.wrapped(words, pens.REASON, room, bold=True, condensed=True)
    if len(line) == 1:
        return line
    more = pens.wrapped(words, pens.FIGURE, room, bold=True, condensed=True)
    while len(more) > 1 and room > 2.0:  # narrower as long as it takes no line more: no last line of a word or two
        room -= 2.0
        narrower = pens.wrapped(words, pens.FIGURE, room, bold=True, condensed=True)
        if len(narrower) > len(more):
            break
        more = narrower
    return more if len(more) <= 3 else [*more[:2], more[2].rstrip(".") + " …"]


def band_height(stamped: Stamp, width: float) -> float:
    """Return how high the band has to be [mm]: 16, and more for a longer reason."""
    return 16.0 + (len(reason_lines(stamped.reason, width)) - 1) * _LINE
