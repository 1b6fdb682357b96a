"""Words on the face where there is little to see: how to begin on a blank sheet, and the numbers of corners."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from app.tools.handles import profile_place
from geometry.design.measures import measures
from geometry.design.validity import known
from geometry.solid.rows import bracket_ring
from templates_out.drawing.marks import Mark, Role, Text
from templates_out.views.view_pens import FIGURE
from templates_out.views.viewport import known_points

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document.view_state import ViewState
    from geometry.design.design import Design
    from templates_out.views.viewport import Viewport

BEGIN = "Click the transom’s top corner at port,\nor choose a starting shape: Boat, New."
_WELL, _MOTOR = 3, 5  # sections of the card
_FOUR = 4  # corners of a usual well, told by depths and widths instead
_OFF = 3.6  # paper mm from a corner to its number


def blank_words(design: Design) -> str:
    """Return how to begin, "" once there is an outline."""
    return BEGIN if known(design.transom.outline) is None else ""


def corner_numbers(design: Design, view_state: ViewState, view: Viewport) -> tuple[Mark, ...]:
    """Return the numbers of a well's or a bracket's corners, while the card lists them one by one."""
    marks: list[Mark] = []
    for number, place in enumerate(_corners(design, view_state), start=1):
        for u, v in known_points(lambda at=place: [at()]):  # type: ignore[misc]
            x, y = view.to_paper((u, v))
            at = x + (_OFF if u > 0 else -_OFF), y - _OFF
            patch: Role | None = "wood" if view_state.section == _WELL else None  # a bracket's may stand beside the wood
            marks.append(Text(at, str(number), FIGURE["screen"], "soft", anchor="middle", patch=patch, part="corner number"))
    return tuple(marks)


def _corners(design: Design, view_state: ViewState) -> list[Callable[[], tuple[float, float]]]:
    """Return what finds each corner that has a number of its own on the card."""
    if view_state.section == _WELL and design.well is not None and len(design.well.profile) > _FOUR:
        return [partial(profile_place, design, index) for index in range(len(design.well.profile))]
    if view_state.section != _MOTOR or view_state.mount >= len(design.mounts):
        return []
    start = f"mounts.{view_state.mount}.bracket.outline."
    told = [one.key.split(".")[-2] for one in measures(design) if one.key.startswith(start) and one.key.endswith(".1")]
    return [partial(_bracket_corner, design, view_state.mount, int(at)) for at in told]


def _bracket_corner(design: Design, mount: int, at: int) -> tuple[float, float]:
    return bracket_ring(design.mounts[mount], mount)[at]
