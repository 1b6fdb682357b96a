"""Adds and removes corners of a finished shape, and removes parts: the edits of a double click and Delete. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from app.tools.drag import both_alike, measured_words
from app.tools.drawing_frames import OUTER, inner_frame
from app.tools.handles import PART_FIELDS
from geometry.design.validity import known
from geometry.edits import moving_by_hand
from geometry.edits.additions import remove_part, remove_part_corner
from geometry.edits.sketching import insert_corner, remove_corner

if TYPE_CHECKING:
    from app.tools.handles import Grip
    from geometry.design.design import Design
    from geometry.edits.sketching import Ring
    from templates_out.drawing.marks import Point

Parts = Literal["old_holes", "inside_blocks", "outside_fittings"]
_PARTS: dict[str, Parts] = {"old hole": "old_holes", "block": "inside_blocks", "fitting": "outside_fittings"}


class CornerEdit(msgspec.Struct, frozen=True):
    """An edit with its name, and the part that is chosen after it."""

    label: str
    design: Design
    chosen: str


def inserted(design: Design, grip: Grip, at: Point, *, alike: bool | None) -> CornerEdit | None:
    """Return the edit that adds a corner to an edge, at a place on the face; None where the grip is no edge.

    Raises:
        MeasuredError: the shape was measured. OwnerError: a corner is there already, or the inside can't be drawn on
            the face yet.
    """
    path = shape_of(grip.kind)
    if path is None or not grip.kind.endswith("edge"):
        return None
    _refuse_measured(design, grip)
    frame = OUTER if path == "transom.outline" else inner_frame(design)
    changed = insert_corner(design, path, grip.index, frame.own(at), alike=together(design, path, alike))
    return CornerEdit("Corner added", changed, f"{grip.kind.split(' ')[0]} corner {grip.index + 1}")


def removed(design: Design, grip: Grip, *, alike: bool | None) -> CornerEdit | None:
    """Return the edit that removes a corner or a part; None where the grip is neither.

    Raises:
        MeasuredError: the shape was measured. OwnerError: the rest would be no shape.
    """
    if grip.kind in _PARTS:
        return CornerEdit(f"{grip.name} removed", remove_part(design, _PARTS[grip.kind], grip.index), "")
    path = shape_of(grip.kind)
    if grip.kind in ("block corner", "fitting corner"):
        _refuse_measured(design, grip)
        field = PART_FIELDS[grip.kind.removesuffix(" corner")]
        return CornerEdit(f"{grip.name} removed", remove_part_corner(design, f"{field}.{grip.index}.outline", grip.corner), "")
    if path is None or grip.kind.endswith("edge"):
        return None
    _refuse_measured(design, grip)
    changed = remove_corner(design, path, grip.index, alike=together(design, path, alike))
    return CornerEdit(f"{grip.name} removed", changed, "")


def loosened(design: Design, grip: Grip) -> CornerEdit | None:
    """Return the edit that counts a measured part as a guess, so that it can be dragged; None where it was not measured."""
    if not moving_by_hand.fixed_key(design, grip.thing):
        return None
    return CornerEdit(f"{thing_name(grip)} counted as a guess", moving_by_hand.as_guess(design, grip.thing), grip.part)


def thing_name(grip: Grip) -> str:
    """Return the name of the shape that a corner or an edge belongs to: "Well’s line"."""
    names = {"outline": "Transom’s outline", "profile": "Well’s line", "bracket": "Bracket’s outline"}
    return names.get(grip.kind.split(" ")[0], grip.name.partition(", corner ")[0])


def _refuse_measured(design: Design, grip: Grip) -> None:
    key = moving_by_hand.fixed_key(design, grip.thing, grip.entry)
    if key:
        raise moving_by_hand.MeasuredError(key, measured_words(design, grip, key))


def shape_of(part: str) -> Ring | None:
    """Return the shape of a part's name or a grip's kind; None where it belongs to no shape."""
    rings: dict[str, Ring] = {"outline": "transom.outline", "profile": "well.profile"}
    return rings.get(part.split(" ", maxsplit=1)[0])


def together(design: Design, path: Ring, alike: bool | None) -> bool:
    """Return whether both sides change together. ``alike`` None: where they are alike now."""
    if alike is not None:
        return alike
    return both_alike(design.transom.outline if path == "transom.outline" or design.well is None else design.well.profile)


def sides_alike(design: Design, shape: str, alike: bool | None) -> bool:
    """Return whether the switch *Both sides alike* is on, for the shape of a tool or a chosen part.

    Nobody has set it (None): it is on where both sides are alike, and where nothing is drawn yet.
    """
    if alike is not None:
        return alike
    if shape.startswith("bracket:"):
        index = int(shape.split(" ", maxsplit=1)[0].removeprefix("bracket:"))
        corners = design.mounts[index].bracket.outline if index < len(design.mounts) else ()
    elif shape.startswith("outline"):
        corners = design.transom.outline
    else:
        corners = () if design.well is None else design.well.profile
    return known(corners) is None or both_alike(corners)
