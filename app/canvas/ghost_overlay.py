"""Draws the holes and hardware of another design faintly over face and cut, with the smallest clearance that it has."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING, Literal

from app.findings.findings_text import room_words
from geometry.judge.check import findings_of
from geometry.judge.inside_room import inside
from geometry.solid.placed_bolts import Bolt, bolts, plate_ring
from templates_out.drawing.fonts import text_width
from templates_out.drawing.marks import Arc, Circle, Line, Mark, Path, Pen, Text
from templates_out.views.cut_ghost import bolts_as_ghost
from templates_out.views.viewport import if_known

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Point, Role
    from templates_out.views.cut import Side
    from templates_out.views.viewport import Rect, Viewport

GHOST = Pen("new", 0.25, (1.4, 0.9))
_SIZE, _AIR = 3.4, 1.5  # mm: the figure's size, and its distance from the washer


def ghost_room(checked: Checked, other: Design, mount: int) -> str:
    """Say the smallest clearance inside of a motor of ``other``, which differs little: "clear 5/8 in"; "": not known."""
    kept: tuple[Design, int, str] | None = checked.__dict__.get("ghost")  # face and cut ask for it, at each paint
    if kept is None or kept[0] is not other or kept[1] != mount:
        rooms = findings_of(other, checked, worded=False, looks=(inside,))
        words = room_words((room for room in rooms if mount in room.mounts), other.units)
        kept = checked.__dict__["ghost"] = other, mount, words
    return kept[2]


def face_ghost(checked: Checked, other: Design, view: Viewport, mount: int) -> tuple[Mark, ...]:
    """Return the ghost of a design on the face, with its smallest clearance next to the lower port bolt of the motor."""
    marks, words = ghost_marks(checked.design, other, view), ghost_room(checked, other, mount)
    bolt = next((bolt for bolt in bolts(other) if bolt.mount_index == mount and bolt.name == "lower port"), None)
    if not marks or not words or bolt is None:
        return marks

    def figure() -> Iterator[Mark]:
        x, y = view.to_paper((bolt.u, bolt.v))
        off = (bolt.hardware.washer.outer or 30.0) / 2 * view.scale + _AIR
        yield _figure((max(x - off, text_width(words, _SIZE) + _AIR), y + _AIR), words, "end")

    return (*marks, *if_known(figure))


def cut_ghost(checked: Checked, other: Design, view: Viewport, side: Side, mount: int, taken: Rect | None) -> tuple[Mark, ...]:
    """Return the ghost of a design in the cut, with its smallest clearance next to the lower bolt.

    Args:
        taken: the place of the detail on paper, which the figure keeps off.
    """
    ghosts, words = bolts_as_ghost(checked, view, side, mount, other, GHOST), ghost_room(checked, other, mount)
    if not ghosts or not words:
        return tuple(mark for marks in ghosts for mark in marks)
    corners = [point for mark in ghosts[-1] if isinstance(mark, Path) for point in mark.points]
    right, y = max((x for x, _ in corners), default=0.0), min((y for _, y in corners), default=0.0)
    wide = text_width(words, _SIZE)
    at = right + 2 * _AIR, y - _SIZE
    if taken is not None and at[0] + wide > taken[0] and at[1] + _SIZE > taken[1] and at[1] < taken[3]:
        at = min(at[0], taken[0] - wide - _AIR), y - _SIZE
    at = min(at[0], view.width - wide - _AIR), max(at[1], _AIR)
    return (*(mark for marks in ghosts for mark in marks), _figure(at, words, "start"))


def _figure(at: Point, words: str, anchor: Literal["start", "end"]) -> Text:
    role: Role = "fouled" if words.startswith("fouled") else "new"
    return Text(at, words, _SIZE, role, bold=True, anchor=anchor, patch="sheet", part="ghost")


def ghost_marks(present: Design, other: Design, view: Viewport) -> tuple[Mark, ...]:
    """Return the bolts of ``other`` that differ: hole, washer and backing plate, and a line from the present place."""
    marks: list[Mark] = []
    now = {(bolt.mount_index, bolt.name): bolt for bolt in bolts(present)}
    every = bolts(other)
    for bolt in every:
        was = now.get((bolt.mount_index, bolt.name))
        if was is not None and (was.u, was.v, was.hardware) == (bolt.u, bolt.v, bolt.hardware):
            continue
        marks += if_known(partial(_bolt, bolt, was, view))
        marks += if_known(partial(_plate, bolt, every, view))
    return tuple(marks)


def _bolt(bolt: Bolt, now: Bolt | None, view: Viewport) -> Iterator[Mark]:
    at = view.to_paper((bolt.u, bolt.v))
    if now is not None and (now.u, now.v) != (bolt.u, bolt.v):
        yield Line(view.to_paper((now.u, now.v)), at, GHOST, "ghost")
    yield Circle(at, max(bolt.hole / 2 * view.scale, 0.8), GHOST, None, "ghost")
    outer, cut = bolt.hardware.washer.outer or 30.0, bolt.hardware.washer.flat_cut
    radius = outer / 2 * view.scale
    if cut is None:
        yield Circle(at, radius, GHOST, None, "ghost")
        return
    low, end = cut * view.scale, math.degrees(math.asin(min(1.0, 2 * cut / outer)))
    half = math.sqrt(max(0.0, radius**2 - low**2))
    yield Arc(at, radius, -end, 180.0 + end, GHOST, "ghost")
    yield Line((at[0] - half, at[1] - low), (at[0] + half, at[1] - low), GHOST, "ghost")


def _plate(bolt: Bolt, every: tuple[Bolt, ...], view: Viewport) -> Iterator[Mark]:
    plate = bolt.hardware.backing_plate
    if plate is None or not bolt.port:
        return
    joined = tuple(other for other in every if other.mount_index == bolt.mount_index and other.name in plate.joins)
    cosine = bolt.faces.cos_taper
    ring = plate_ring(joined, plate, plate.thickness or 0.0)
    yield Path(tuple(view.to_paper((u, w * cosine)) for u, w in ring), True, GHOST, None, "ghost")
