"""Changes a design by a drag. Each kind of grip has a meaning, and every place snaps to the steps of a tape."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from app.entries.entry_text import shown_in_full
from app.entries.refusals import plain_refusal as reason
from app.entries.steps import HOLD, snapped
from app.tools.handles import PART_FIELDS
from app.ui.apostrophes import curly
from geometry.design.validity import CLOSE, known
from geometry.edits import moving_by_hand
from geometry.edits.edits import (
    Shape,
    move_bracket,
    move_corner,
    move_lower,
    move_old_hole,
    move_shape,
    move_upper,
    set_row,
    twin_of,
)
from geometry.edits.sketching import move_edge
from geometry.errors import OwnerError
from geometry.readings.measures import measure, state_of
from geometry.solid.faces import faces
from geometry.units.height_words import height_step, hole_words
from geometry.units.units import format_length

if TYPE_CHECKING:
    from app.tools.handles import Grip
    from geometry.design.design import Design
    from geometry.design.motor import Mount
    from geometry.design.validity import Points
    from geometry.edits.sketching import Ring
    from templates_out.drawing.marks import Point

_RINGS = {"outline": "transom.outline", "profile": "well.profile"}
_BOLTED = ("bracket", "upper", "lower")
SAME_HOLE = 0.5  # boat mm within which a new hole is on an old one


class DragResult(msgspec.Struct, frozen=True):
    """The result of a drag: the design, the name of the step, the live figure, and what snaps or stops it.

    ``entry``: key of the measured value that stops it, and that the card has an entry for; "" for none.
    """

    design: Design
    label: str
    figure: str
    said: str = ""
    entry: str = ""


class Drag(msgspec.Struct, frozen=True):
    """A drag that has begun.

    Attributes:
        start: the design when it began. grip: the part. from_: the place of the press (u, v) [boat mm].
        last: the last possible result.
        alike: whether a shape's other side moves too; None: where both sides are alike.
    """

    start: Design
    grip: Grip
    from_: Point
    last: DragResult | None = None
    alike: bool | None = None

    def to(self, at: Point, *, free: bool = False, one_axis: bool = False, hold: float = HOLD) -> Drag:
        """Return the drag with its part taken to ``at`` (u, v) [boat mm].

        Args:
            free: whether it does not snap. one_axis: whether it keeps to the longer of both directions.
            hold: the distance within which it snaps to a part [boat mm].
        """
        du, dv = at[0] - self.from_[0], at[1] - self.from_[1]
        if one_axis:
            du, dv = (du, 0.0) if abs(du) > abs(dv) else (0.0, dv)
        last, first = self.last or DragResult(self.start, "", ""), pulled(self.start, self.grip, self.from_)
        try:
            moved = moved_by(self.start, self.grip, du, dv, free=free, hold=0.0 if free else hold, alike=self.alike)
            kept = moving_by_hand.moved(self.start, moved.design, self.grip.thing, first)
        except moving_by_hand.MeasuredError as measured:
            return replace(self, last=stopped(self.start, self.grip, last, measured.key))
        except OwnerError as sentence:
            key = last.entry or moving_by_hand.wholly_fixed_key(self.start, self.grip.thing, first)
            if key:  # it can't move at all, so an obstacle does not matter
                return replace(self, last=stopped(self.start, self.grip, last, key))
            return replace(self, last=replace(last, said=f"{why_not(self.grip, sentence, du, dv)}. It stays where it was."))
        return replace(self, last=replace(moved, design=kept))


def stopped(design: Design, grip: Grip, last: DragResult, key: str) -> DragResult:
    """Return the result of a drag that a measured value stops: the last possible one, with a sentence."""
    return replace(last, said=measured_words(design, grip, key), entry=key)


def pulled(design: Design, grip: Grip, at: Point) -> str:
    """Return the key of the measure that a pull at a place on a part changes, "" where it is not one measure."""
    if grip.kind == "profile edge" and grip.index == 1 and design.well is not None and len(design.well.profile) == 4:
        return "well.floor_port" if at[0] < 0 else "well.floor_starboard"
    return grip.entry


def measured_words(design: Design, grip: Grip, key: str) -> str:
    """Return a sentence: the part was measured, its value, and what to do instead of a drag."""
    entry = measure(design, key)
    if entry is None or entry.kind == "shape":
        typed = "Type an edge’s length, or count" if grip.thing == ("transom.outline",) else "To move it, count"
        at = f": {_place_words(design, grip.at)}" if grip.kind == "outline" else ""
        return f"{grip.name}, measured{at}. {typed} it as a guess in its menu."
    return f"{curly(entry.name)}, {state_of(design, entry)}: {shown_in_full(design, entry)}. Type a new reading on the card."


def _place_words(design: Design, at: Point) -> str:
    way = "up" if at[1] > CLOSE else "down"
    return f"{_size(design, abs(at[0]))} across, {_size(design, abs(at[1]))} {way}"


def why_not(grip: Grip, sentence: OwnerError, du: float, dv: float = 0.0) -> str:
    """Return why a part can't go there, in words for a drag."""
    text = str(sentence)
    what = "That edge" if " edge" in grip.kind else "That corner"
    if "crosses itself" in text or "no area" in text or "inside out" in text:
        return f"{what} would cross another edge"
    if "doubles back" in text or "no width" in text:
        wall = f"the {'port' if du < 0 else 'starboard'} wall" if abs(du) > max(abs(dv), CLOSE) else "another edge"
        return f"{what} would cross {wall}"
    if grip.kind in _BOLTED and text.startswith("drop "):
        return "The lower holes must be below the upper ones"
    if grip.kind not in _BOLTED and "datum" in text:
        return "All measurements start from the top edge at the centreline"
    return reason(sentence).rstrip(".")


def moved_by(
    design: Design, grip: Grip, du: float, dv: float, *, free: bool = False, hold: float = HOLD, alike: bool | None = None
) -> DragResult:
    """Return the result of moving a grip of ``design`` by (du, dv) [boat mm].

    Raises:
        NonsenseError: no boat can be so.
    """
    match grip.kind:
        case "bracket" | "upper" | "lower":
            return _motor(design, grip, du, dv, free=free, hold=hold)
        case "saddle":
            return _row(design, grip, dv)
        case "outline" | "profile" | "bracket corner" | "block corner" | "fitting corner":
            return _corner(design, grip, du, dv, free=free, hold=hold, alike=alike)
        case "outline edge" | "profile edge":
            return _edge(design, grip, du, dv, free=free, alike=alike)
        case "old hole":
            return _old_hole(design, grip, du, dv, free=free)
        case _:
            path = f"{PART_FIELDS[grip.kind]}.{grip.index}.outline"
            du, dv = (du, dv) if free else (snapped(du, design.units), snapped(dv, design.units))
            return DragResult(move_shape(design, path, du, dv), f"{grip.name} moved", f"{grip.name}{_moved(design, du, dv)}")


def _size(design: Design, mm: float) -> str:
    return format_length(mm, design.units)


def _moved(design: Design, du: float, dv: float) -> str:
    """Return how far a part has moved: ": 1 1/2 in to port, 1/4 in up"."""
    ways = ((du, "to starboard", "to port"), (dv, "up", "down"))
    moves = [f"{_size(design, abs(by))} {more if by > 0 else less}" for by, more, less in ways if abs(by) > CLOSE]
    return f": {', '.join(moves)}" if moves else ""


def _motor(design: Design, grip: Grip, du: float, dv: float, *, free: bool, hold: float) -> DragResult:
    mount = design.mounts[grip.index]
    onto_old = _on_old_hole(design, grip, du, dv, 0.0 if free else hold)
    if onto_old is not None:
        du, dv, said = *onto_old, "on old hole"
    else:
        du, said = _across(design, mount, du, free=free, hold=hold)
        dv = _down(design, mount, grip, dv, free=free)
    move = {"bracket": move_bracket, "upper": move_upper, "lower": move_lower}[grip.kind]
    changed = move(design, grip.index, du, dv)
    after = changed.mounts[grip.index]
    if onto_old is not None and _both_on_old_holes(changed, after):
        said = "both on old holes"
    if grip.kind == "lower":
        size = _size(design, after.drop or 0.0)
        figure, label = f"Drop {size}", f"Drop to {size}"
    else:
        depth = _size(design, -(after.upper_at or 0.0))
        figure = f"Upper holes {depth} down"
        label = f"{'Bracket' if grip.kind == 'bracket' else 'Upper holes'} to {depth} down"
    return DragResult(changed, label if dv else _sideways(design, changed, grip.index), figure, said)


def _on_old_hole(design: Design, grip: Grip, du: float, dv: float, hold: float) -> Point | None:
    """Return the move that brings an upper hole onto a near old one; None where none is near."""
    mount = design.mounts[grip.index]
    if grip.kind != "upper" or mount.upper_at is None or mount.offset is None or not (du or dv):
        return None
    ways = [(u - grip.at[0], v - mount.upper_at) for hole in design.old_holes for u, v in known((hole.at,)) or ()]
    near = min(ways, key=lambda way: math.dist(way, (du, dv)), default=None)
    return near if near is not None and math.dist(near, (du, dv)) < hold else None


def _both_on_old_holes(design: Design, mount: Mount) -> bool:
    """Return whether both upper holes are on old ones, so that the old pair can be used again."""
    rows = mount.bracket.rows
    if rows is None or mount.offset is None or mount.upper_at is None:
        return False
    places = [(mount.offset + side * rows.half_spacing, mount.upper_at) for side in (-1.0, 1.0)]
    old = [at for hole in design.old_holes for at in known((hole.at,)) or ()]
    return all(any(math.dist(place, at) <= SAME_HOLE for at in old) for place in places)


def _across(design: Design, mount: Mount, du: float, *, free: bool, hold: float) -> tuple[float, str]:
    """Snap the bracket's offset to the tape's steps, or to the centreline."""
    if mount.offset is None:
        return du, ""
    offset = mount.offset + du
    if abs(offset) < hold:
        return -mount.offset, "on the centreline" if mount.offset else ""
    return (offset if free else snapped(offset, design.units)) - mount.offset, ""


def _down(design: Design, mount: Mount, grip: Grip, dv: float, *, free: bool) -> float:
    """Snap the drop, or the upper holes' depth."""
    if free or not dv:
        return dv
    if grip.kind == "lower":
        return dv if mount.drop is None else mount.drop - snapped(mount.drop - dv, design.units)
    return dv if mount.upper_at is None else -snapped(-(mount.upper_at + dv), design.units) - mount.upper_at


def _sideways(design: Design, changed: Design, index: int) -> str:
    offset = changed.mounts[index].offset or 0.0
    if abs(offset) < 1e-9:
        return "Bracket to the centreline"
    return f"Bracket {_size(design, abs(offset))} to {'starboard' if offset > 0 else 'port'}"


def _row(design: Design, grip: Grip, dv: float) -> DragResult:
    mount = design.mounts[grip.index]
    rows = mount.bracket.rows
    if rows is None or mount.row is None:
        return DragResult(design, "", "")
    row = min(max(mount.row + round(dv / rows.pitch), 0), rows.count - 1)
    return DragResult(set_row(design, grip.index, row), height_step(row), hole_words(row))


def _corner(
    design: Design, grip: Grip, du: float, dv: float, *, free: bool, hold: float, alike: bool | None
) -> DragResult:
    if grip.kind == "profile" and design.well is None:
        return DragResult(design, "", "")
    drawn = PART_FIELDS.get(grip.kind.removesuffix(" corner"), "")
    if grip.kind == "bracket corner":
        path, corner, middle = f"mounts.{grip.index}.bracket.outline", grip.corner, "on the bracket’s centre"
    elif drawn:
        path, corner, middle = f"{drawn}.{grip.index}.outline", grip.corner, "on the centreline"
    else:
        path, corner, middle = _RINGS[grip.kind], grip.index, "on the centreline"
    corners = Shape(path).corners(design)
    u, y = corners[corner]
    if u is None or y is None:
        return DragResult(design, "", "")
    cosine = faces(design.transom).cos_taper if grip.kind in ("profile", "block corner") else 1.0
    to = u + du, y + dv / cosine
    said = ""
    if abs(to[0]) < min(hold, 4.0):
        to, said = (0.0, to[1]), middle
    elif not free and du:
        to = snapped(to[0], design.units), to[1]
    if not free and dv:
        to = to[0], -snapped(-to[1], design.units)
    together = not drawn and (both_alike(corners) if alike is None else alike)
    twin = twin_of(corners, corner)
    if together and twin is None:
        said = "moves alone: it has no twin"
    changed = move_corner(design, path, corner, to, alike=together)
    figure = _place_words(design, to)
    if grip.kind != "bracket corner":
        return DragResult(changed, f"{grip.name} moved", figure, said)
    both = together and twin not in (None, corner)
    name, where = (grip.name.split(" at ")[0], " on both sides") if both else (grip.name, "")
    return DragResult(changed, f"{name} moved{where}", f"{name}{where}: {figure}", said)


def _edge(design: Design, grip: Grip, du: float, dv: float, *, free: bool, alike: bool | None) -> DragResult:
    """Move an edge at right angles to itself, by whole steps of the tape."""
    outline = grip.kind == "outline edge"
    if not outline and design.well is None:
        return DragResult(design, "", "")
    corners = design.transom.outline if outline or design.well is None else design.well.profile
    if not free:
        du, dv = snapped(du, design.units), snapped(dv, design.units)
    dv = dv if outline else dv / faces(design.transom).cos_taper
    together = both_alike(corners) if alike is None else alike
    path: Ring = "transom.outline" if outline else "well.profile"
    changed = move_edge(design, path, grip.index, du, dv, alike=together)
    return DragResult(changed, f"{grip.name} moved", f"{_size(design, abs(dv) if abs(dv) > abs(du) else abs(du))} off")


def both_alike(corners: Points) -> bool:
    """Return whether both sides of a shape are alike, so that a drag also moves a corner's twin."""
    return all(twin_of(corners, index) is not None for index in range(len(corners)))


def _old_hole(design: Design, grip: Grip, du: float, dv: float, *, free: bool) -> DragResult:
    u, v = design.old_holes[grip.index].at
    if u is None or v is None:
        return DragResult(design, "", "")
    to = u + du, v + dv
    if not free:
        to = snapped(to[0], design.units), -snapped(-to[1], design.units)
    figure = _place_words(design, to)
    return DragResult(move_old_hole(design, grip.index, to), f"{grip.name} moved", figure)
