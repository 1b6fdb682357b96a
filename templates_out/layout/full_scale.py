"""Portrait pages at full scale: head, bars across and up, the lines to write what they measure, and the room between."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, assert_never

import msgspec
from msgspec.structs import replace

from geometry.errors import OwnerError
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.marks import CROSSED, Arc, Circle, Hatch, Line, Mark, Path, Text
from templates_out.drawing.printer import Stretch
from templates_out.drawing.transforms import shift
from templates_out.layout.blocks import band, band_height
from templates_out.layout.frame import ONE_SIDE, Bar, across_bar_marks, ask_marks, up_bar_marks, whole
from templates_out.layout.reading_pages import MARGIN, Sheet, Writing

if TYPE_CHECKING:
    from templates_out.drawing.clipping import Rect
    from templates_out.drawing.marks import Point
    from templates_out.layout.drilling_permission import Stamp

_BAR_IN, _NUMBERS = 9.4, 10.5  # mm: of the bar up from the margin, and what its numbers take at its left
_ACROSS_AT, _ASK_AT = 5.45, 8.0  # mm: of the bar across above the margin, and of the last line of words above it


class FullScale(msgspec.Struct, frozen=True):
    """A page's begin and the room that is left.

    Attributes:
        writing: head, bars and words so far, going on below the head.
        right: where text and drawing end, left of the bar up. foot: where they end above the words at the foot [mm].
    """

    writing: Writing
    right: float
    foot: float

    def introduced(self, sheet: Sheet, text: str, reason: Stamp | None) -> Writing:
        """Return the page with what to do; where there is a reason not to drill, with the band in its place."""
        if reason is None:
            return self.writing.then(sheet.paragraph, text, right=self.right)
        high = band_height(reason, self.right - sheet.left)
        top = self.writing.y - 1.0
        return self.writing.with_marks(band((sheet.left, top - high, self.right, top), reason), top - high - 2.0)


def full_scale(
    sheet: Sheet, title: str, number: int, count: int, stretch: Stretch, margin: float, about: str = "full scale: 1 to 1"
) -> FullScale:
    """Return a page with its frame, before its drawing.

    Raises:
        OwnerError: the printer leaves more of the paper's edge free than the page does.
    """
    if margin > MARGIN:
        raise OwnerError(
            f"This page keeps {MARGIN:g} mm free along its edges, and a margin of {margin:g} mm is more: its bars would be "
            "cut. Enter what the printer really leaves, or use another printer."
        )
    head, top = sheet.headed(title, f"{about}  ·  {ONE_SIDE}")
    x, y = sheet.width - margin - _BAR_IN, margin + _ACROSS_AT
    right = x - _NUMBERS
    unit = sheet.design.units
    across = Bar((sheet.left, y), whole(right - sheet.left, stretch.across, unit), unit)
    up_foot = y + 6.5
    up = Bar((x, up_foot), whole(top - 1.0 - up_foot, stretch.up, unit), unit)
    ask = tuple(ask_marks(sheet.left, right, 0.0, unit, (across, up), stretch))
    low, high = (edge(text.at[1] for text in ask if isinstance(text, Text)) for edge in (min, max))
    marks = (
        *head,
        *sheet.numbered(number, count),
        *across_bar_marks(across, stretch),
        *up_bar_marks(up, stretch),
        *shift(ask, 0.0, y + _ASK_AT - low),
    )
    return FullScale(Writing(marks, top), right, y + _ASK_AT + high - low + 6.0)


def crossed_out(box: Rect, part: str) -> tuple[Line, Line]:
    """Return the heavy X over a part that is not to be used: from corner to corner of its box."""
    left, low, right, high = box
    name = f"{part}{CROSSED}"
    return Line((left, low), (right, high), pens.HEAVY, name), Line((left, high), (right, low), pens.HEAVY, name)


def stretched(marks: Iterable[Mark], stretch: Stretch, about: Point) -> tuple[Mark, ...]:
    """Return marks stretched about a point that stays, so that they come out true from a printer that is off."""
    if stretch == Stretch():
        return tuple(marks)

    def to(p: Point) -> Point:
        x, y = stretch((p[0] - about[0], p[1] - about[1]))
        return about[0] + x, about[1] + y

    return tuple(_placed(mark, to, stretch) for mark in marks)


def _placed(mark: Mark, to: Callable[[Point], Point], stretch: Stretch) -> Mark:
    match mark:
        case Line():
            return replace(mark, a=to(mark.a), b=to(mark.b))
        case Circle() | Arc():
            return replace(mark, centre=to(mark.centre), radius=stretch.length(mark.radius))
        case Path():
            return replace(mark, points=tuple(map(to, mark.points)))
        case Hatch():
            return replace(mark, outline=tuple(map(to, mark.outline)))
        case Text():
            return replace(mark, at=to(mark.at))
        case _:
            assert_never(mark)
