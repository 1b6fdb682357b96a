"""Words on the face: how to start on a blank sheet, and the numbers of corners."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from app.tools.handles import profile_place
from geometry.design.validity import known
from geometry.readings.measures import measures
from geometry.solid.bracket_holes import bracket_ring
from templates_out.drawing.marks import Mark, Role, Text
from templates_out.drawing.transforms import text_box
from templates_out.views.view_pens import FIGURE
from templates_out.views.viewport import known_points

if TYPE_CHECKING:
    from collections.abc import Callable

    from app.document.view_state import ViewState
    from geometry.design.design import Design
    from templates_out.views.viewport import Rect, Viewport

BEGIN = "Click the transom’s top corner at port,\nor choose a starting shape: Boat, New."
_WELL, _MOTOR = 3, 5  # sections of the card
_FOUR = 4  # corners of a usual well, which the card gives by depths and widths
_SIZE = FIGURE["screen"]
_AIR = 0.4  # paper mm round a text
_OFF = 3.6  # paper mm from a corner to its number


def blank_words(design: Design) -> str:
    """Return how to start, "" once there is an outline."""
    return BEGIN if known(design.transom.outline) is None else ""


def corner_numbers(
    design: Design, view_state: ViewState, view: Viewport, standing: tuple[Mark, ...] = ()
) -> tuple[Text, ...]:  # fmt: skip
    """Return the numbers of a well's or a bracket's corners, while the card lists the corners.

    Args:
        standing: the face's marks. A number keeps off their texts where it can.
    """
    texts = [mark for mark in standing if isinstance(mark, Text) and mark.text] if _corners(design, view_state) else []
    numbers: list[Text] = []
    for number, place in enumerate(_corners(design, view_state), start=1):
        for u, v in known_points(lambda at=place: [at()]):  # type: ignore[misc]
            x, y = view.to_paper((u, v))
            out = _OFF if u > 0 else -_OFF
            patch: Role | None = "wood" if view_state.section == _WELL else None  # a bracket's number may be next to the wood
            spots = [(x + right, y + up) for right in (out, -out) for up in (-_OFF, 0.4 * _OFF)]
            places = [Text(at, str(number), _SIZE, "soft", anchor="middle", patch=patch, part="corner number") for at in spots]
            numbers.append(next((each for each in places if _is_free(each, (*texts, *numbers))), places[0]))
    return tuple(numbers)


def _is_free(text: Text, others: tuple[Text, ...]) -> bool:
    """Return whether a text keeps off others."""
    left, bottom, right, top = _box(text)
    theirs = map(_box, others)
    return not any(left < other[2] and other[0] < right and bottom < other[3] and other[1] < top for other in theirs)


def _box(text: Text) -> Rect:
    """Return the upright box round a text, with some air."""
    xs, ys = zip(*text_box(text), strict=True)
    return min(xs) - _AIR, min(ys) - _AIR, max(xs) + _AIR, max(ys) + _AIR


def _corners(design: Design, view_state: ViewState) -> list[Callable[[], tuple[float, float]]]:
    """Return a function for each corner with a number on the card. It returns the corner's place."""
    if view_state.section == _WELL and design.well is not None and len(design.well.profile) > _FOUR:
        return [partial(profile_place, design, index) for index in range(len(design.well.profile))]
    if view_state.section != _MOTOR or view_state.mount >= len(design.mounts):
        return []
    start = f"mounts.{view_state.mount}.bracket.outline."
    keys = [entry.key for entry in measures(design)]
    listed = [key.split(".")[-2] for key in keys if key.startswith(start) and key.endswith(".1")]
    return [partial(_bracket_corner, design, view_state.mount, int(at)) for at in listed]


def _bracket_corner(design: Design, mount: int, at: int) -> tuple[float, float]:
    return bracket_ring(design.mounts[mount], mount)[at]
