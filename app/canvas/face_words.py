"""Words on the face where there is little to see: how to begin on a blank sheet, and the numbers of a well's corners."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from app.tools.handles import profile_place
from geometry.design.sense import known
from templates_out.drawing.marks import Mark, Text
from templates_out.views.pens import FIGURE
from templates_out.views.viewport import known_points

if TYPE_CHECKING:
    from app.sight import Sight
    from geometry.design.whole import Design
    from templates_out.views.viewport import Viewport

BEGIN = "Click the transom’s top corner at port,\nor choose a starting shape: Boat, New."
_WELL = 3  # the card's section of the well
_FOUR = 4  # corners of a usual well, told by depths and widths instead
_OFF = 3.6  # paper mm from a corner to its number


def blank_words(design: Design) -> str:
    """Return how to begin, "" once there is an outline."""
    return BEGIN if known(design.transom.outline) is None else ""


def corner_numbers(design: Design, sight: Sight, view: Viewport) -> tuple[Mark, ...]:
    """Return the numbers of a well's corners, while the card lists them one by one."""
    if sight.section != _WELL or design.well is None or len(design.well.profile) <= _FOUR:
        return ()
    marks: list[Mark] = []
    for index in range(len(design.well.profile)):
        for u, v in known_points(lambda i=index: [partial(profile_place, design)(i)]):  # type: ignore[misc]
            x, y = view.to_paper((u, v))
            at = x + (_OFF if u > 0 else -_OFF), y - _OFF
            words, size = str(index + 1), FIGURE["screen"]
            marks.append(Text(at, words, size, "soft", anchor="middle", patch="wood", part="corner number"))
    return tuple(marks)
