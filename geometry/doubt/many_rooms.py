"""The room of every part inside of many boats at once; the same rules as the checks of one boat.

Each room is that of the check, or less: never more. Lengths [mm].
"""

from __future__ import annotations

from itertools import combinations, pairwise, product
from typing import TYPE_CHECKING

import numpy as np

from geometry.doubt.boat_numbers import BODIES
from geometry.doubt.many_boats import Cylinder, Place
from geometry.doubt.many_plain_wells import below_one_line, convex_run, largest, plain_rooms
from geometry.doubt.many_sections import Edges, Flags, Floats, Ring, Shape, gap, inside, to_edges
from geometry.judge.inside_room import joined_by
from geometry.solid.placed_bolts import plate_ring

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.doubt.many_boats import ManyBoats
    from geometry.judge.reporter import Reporter
    from geometry.solid.placed_bolts import Bolt

_TURNS = 12  # tries for it, at most
_FAR = 1e5  # [mm]: as good as no obstacle
_WIDE = 300.0  # [mm]: no part with its room is wider in a well
_STEPS = 24  # along the rounded corner, where an inward corner is followed


def part_rooms(boats: ManyBoats, report: Reporter, index: int, part: str) -> Floats:
    """Return the room of one part of a bolt; inf where nothing limits it.

    Args:
        report: of the design that the boats differ from. index: of the bolt.
    """
    bolt, exit_ = report.bolts[index], boats.exit(index)
    body, spacer = boats.body(index, part), boats.body(index, "spacer")
    if body is None:
        raise TypeError(f"the {bolt.name} bolt has no {part}")
    kept = boats.rooms.get((index, part))
    room = _body_rooms(boats, [(exit_, body)])[0] if kept is None else kept
    if part != "washer":
        return room
    seat = (spacer or body).shape
    if bolt.plate is not None:
        room = np.minimum(room, _on_plate(boats, report, bolt, exit_, seat))
    else:
        room = np.minimum(room, _flat_rooms(boats, exit_, seat))
        if not np.all(_sure_on_wood(boats, report, bolt, exit_) > room + seat.radius):
            room = np.minimum(room, _on_wood(boats, exit_, seat))
    return room if spacer is None else np.minimum(room, _body_rooms(boats, [(exit_, spacer)])[0])


def keep_rooms(boats: ManyBoats, parts: Iterable[tuple[int, str]]) -> None:
    """Keep the rooms of several parts for ``part_rooms``: together they take less time.

    Args:
        parts: each with its bolt's number, and its name.
    """
    there = [(at, (boats.exit(at[0]), body)) for at in parts if (body := boats.body(*at)) is not None]
    for cut in (True, False):
        alike = [(at, each) for at, each in there if each[1].shape.is_cut is cut]
        boats.rooms.update(zip((at for at, _ in alike), _body_rooms(boats, [each for _, each in alike]), strict=True))


def _body_rooms(boats: ManyBoats, parts: list[tuple[Place, Cylinder]]) -> list[Floats]:
    """Return the room of each part; see `geometry.solid.clearances.body_clearance`. All are cut flat, or none is."""
    rooms, left = list[Floats](), list[tuple[Flags, Flags, Floats]]()
    for exit_, body in parts:
        if boats.design.well is None or body.shape.is_cut != bool(np.all(body.shape.cut < body.shape.radius)):
            rooms.append(_any_rooms(boats, exit_, body))
            left.append((np.zeros(boats.count, dtype=bool),) * 2 + (rooms[-1],))
        else:
            room, other, off = _short_rooms(boats, exit_, body)
            rooms.append(room)
            left.append((other & boats.well.convex & np.isfinite(off), other, off))
    # In an obstacle, and perhaps far from all blocks: first as if there were none.
    _some_rooms(boats, parts, rooms, [far for far, _, _ in left], blocks=False)
    near = [
        other & (~far | (off <= np.abs(room) + 2 * body.shape.radius))
        for room, (far, other, off), (_, body) in zip(rooms, left, parts, strict=True)
    ]
    _some_rooms(boats, parts, rooms, near, blocks=True)
    return rooms


def _short_rooms(boats: ManyBoats, exit_: Place, body: Cylinder) -> tuple[Floats, Flags, Floats]:
    """Return the rooms by the short rules of straight lines, where these do not hold, and how far all blocks are at least."""
    run = convex_run(boats, exit_)
    room = plain_rooms(boats, exit_, body, run)
    off = np.full(boats.count, np.inf)
    for box in boats.block_boxes:
        off = np.minimum(off, _off(exit_, body.end, box))
    deep = room <= (0.0 if body.shape.is_cut else -body.shape.radius)
    near = off <= np.abs(room) + 2 * body.shape.radius
    deep &= near | ~below_one_line(boats, exit_, body, deep, run)
    bent = np.abs(room) + 2 * body.shape.radius > run.clear
    return room, bent | deep | (off <= room + body.shape.radius), off


def _some_rooms(
    boats: ManyBoats, parts: list[tuple[Place, Cylinder]], rooms: list[Floats], some: list[Flags], *, blocks: bool
) -> None:
    """Put the rooms of parts in some of the boats in their places, all calculated together.

    Args:
        some: of each part the boats.
    """
    at = [np.flatnonzero(flags) for flags in some]
    if not any(each.size for each in at):
        return
    places = [tuple(field[few] for field in exit_) for (exit_, _), few in zip(parts, at, strict=True)]
    bodies = [
        (body.start[few], body.end[few], *body.shape.at(few)) for (_, body), few in zip(parts, at, strict=True)
    ]
    start, end, radius, cut = (np.concatenate(field) for field in zip(*bodies, strict=True))
    place = Place(*(np.concatenate(field) for field in zip(*places, strict=True)))
    every = _any_rooms(boats.at(np.concatenate(at), blocks=blocks), place, Cylinder(start, end, Shape(radius, cut)))
    ends = np.cumsum([each.size for each in at])
    for room, few, mine in zip(rooms, at, np.split(every, ends[:-1]), strict=True):
        room[few] = mine


def _flat_rooms(boats: ManyBoats, exit_: Place, seat: Shape) -> Floats:
    """Return the room of a seat flat on the inner face; the short rule holds where only straight lines are near a whole one."""
    section = boats.flat_section
    if section.lines is None or seat.is_cut or not section.convex.all():
        return section.room_of(seat, exit_.u, exit_.w)
    over: Floats = np.min(section.lines.over(exit_.u, exit_.w), axis=0)
    near, square = over < 0.0, exit_._replace(lean=np.zeros(boats.count))
    for box in boats.block_boxes:
        near |= _off(square, square.lean, box) <= over
    room, at = over - seat.radius, np.flatnonzero(near)
    if at.size:
        room[at] = section.at(at).room_of(seat.at(at), exit_.u[at], exit_.w[at])
    return room


def _off(exit_: Place, end: Floats, box: tuple[Floats, Floats, Floats, Floats]) -> Floats:
    """Return the least distance that a block can have, by its box, from the axis of a part up to ``end``, however wide."""
    left, bottom, right, top = box
    slack = np.abs(np.sin(exit_.lean)) * (end + _WIDE)
    across = np.maximum(0.0, np.maximum(left - exit_.u, exit_.u - right))
    up = np.maximum(0.0, np.maximum(bottom - exit_.w, exit_.w - top) - slack) * np.cos(exit_.lean)
    apart: Floats = np.sqrt(across * across + up * up)
    return apart


def _any_rooms(boats: ManyBoats, exit_: Place, body: Cylinder) -> Floats:
    """Return the room of a part next to any obstacles."""
    cosine, sine = np.cos(exit_.lean), np.abs(np.sin(exit_.lean))
    start, end, radius = np.maximum(0.0, body.start * cosine), body.end * cosine, body.shape.radius
    most = _least_rooms(boats, exit_, body.shape, start, end)
    leans = (sine >= 1e-12) & (most > -radius) & (most < np.inf)
    if not leans.any():
        return most

    def room(clearance: Floats) -> Floats:
        over = np.where(leans, np.maximum(0.0, radius + clearance) * sine, 0.0)
        return np.minimum(_FAR, _least_rooms(boats, exit_, body.shape, np.maximum(0.0, start - over), end + over))

    return np.where(leans, largest(room, np.minimum(most, _FAR), turns=_TURNS), most)


def _least_rooms(boats: ManyBoats, exit_: Place, shape: Shape, start: Floats, end: Floats) -> Floats:
    """Return the least room of a shape between two distances; see `geometry.solid.room_along_axis.least_room`."""
    cosine, sine = np.cos(exit_.lean), np.sin(exit_.lean)
    square = np.abs(exit_.lean) < 1e-12

    def room(n: Floats, *, before: bool = False) -> Floats:
        return boats.section(n, cosine, before=before).room_of(shape, exit_.u, exit_.w * cosine + n * sine)

    best = room(start)
    floor_recedes = boats.falls + np.tan(exit_.lean) >= 0.0
    if boats.design.well is not None:
        floor_recedes &= boats.well.open_up
    rings = boats.block_rings
    if np.all(floor_recedes & (square | (not rings))):
        return best
    best = np.minimum(best, room(end))
    for index, ring in enumerate(rings):
        out = boats.of(f"block.{index}.out")
        ends = (out > start) & (out <= end)
        if ends.any():
            there = room(np.where(ends, out, start), before=True)
            best = np.where(ends, np.minimum(best, there), best)
        if not square.all():
            best = np.minimum(best, _to_corners(ring, exit_, shape, start, np.minimum(end, out)))
    if boats.design.well is not None and not np.all(floor_recedes | boats.well.convex):
        inward = _to_inward_corners(boats, exit_, shape, start, end)
        best = np.where(floor_recedes, best, np.minimum(best, inward))
    return best


def _to_corners(ring: Ring, exit_: Place, shape: Shape, start: Floats, end: Floats) -> Floats:
    """Return the least room to the corners of a block, as seen from a leaning axis on its way from ``start`` to ``end``."""
    cosine, sine = np.cos(exit_.lean), np.sin(exit_.lean)
    u, w = ring.u - exit_.u, (ring.w - exit_.w) * cosine - start * sine
    least = _gaps(shape, Edges(u, w, u, w - (end - start) * sine))
    return np.where(end > start, least, np.inf)


def _gaps(shape: Shape, seen: Edges) -> Floats:
    """Return the least gap from a shape, with its centre at nothing, to some segments."""
    nothing = np.zeros(seen.au.shape[1:])
    if shape.is_cut:
        least: Floats = np.min(gap(shape, nothing, nothing, seen), axis=0)
        return least
    return to_edges(nothing, nothing, seen) - shape.radius


def _to_inward_corners(boats: ManyBoats, exit_: Place, shape: Shape, start: Floats, end: Floats) -> Floats:
    """Return the least room to the corners that point into the well, on the way from ``start`` to ``end``.

    Each corner's path is followed in steps. The bow of each step is taken off, so that the room is never too large.
    """
    corners, nu, nw, foot, sinks, land, ends, radius, *_ = boats.well
    cosine, sine = np.cos(exit_.lean), np.sin(exit_.lean)
    least = np.full(boats.count, np.inf)
    for at in range(len(corners.u)):
        inward = nu[at] * nw[at + 1] - nw[at] * nu[at + 1] < -1e-12
        if not inward.any():
            continue
        last = np.maximum(ends[at], ends[at + 1])
        bent = np.minimum(last, end)
        far = np.arccos(np.clip(1.0 - bent / np.maximum(radius, 1e-12), -1.0, 1.0))
        near = np.arccos(np.clip(1.0 - np.minimum(start, last) / np.maximum(radius, 1e-12), -1.0, 1.0))
        turns = [near + (far - near) * step / _STEPS for step in range(_STEPS + 1)]
        stops = [radius * (1 - np.cos(turn)) for turn in turns]
        stops += [ends[at], ends[at + 1], end]
        places = np.sort(np.clip(np.stack(stops), start, end), axis=0)
        seen_u, seen_w = [], []
        for n in places:
            (fa, sa), (fb, sb) = (
                (foot[side] - n * sinks[side], _strip(n, land[side], ends[side], sinks[side], radius)) for side in (at, at + 1)
            )
            den = nu[at] * nw[at + 1] - nw[at] * nu[at + 1]
            safe = np.where(inward, den, 1.0)
            u = ((fa + sa) * nw[at + 1] - nw[at] * (fb + sb)) / safe
            w = (nu[at] * (fb + sb) - (fa + sa) * nu[at + 1]) / safe
            seen_u.append(u - exit_.u)
            seen_w.append((w - exit_.w) * cosine - n * sine)
        step = (far - near) / _STEPS
        wide = (np.hypot(nw[at + 1], nu[at + 1]) + np.hypot(nw[at], nu[at])) / np.where(inward, np.abs(den), 1.0)
        bow = (wide * (1.0 + np.abs(boats.falls)) + np.abs(sine)) * radius * step**2 / 8
        for (au, bu), (aw, bw) in zip(pairwise(seen_u), pairwise(seen_w), strict=True):
            room = _gaps(shape, Edges(au[None], aw[None], bu[None], bw[None])) - bow
            least = np.where(inward, np.minimum(least, room), least)
    return least


def _strip(n: Floats, land: Floats, ends: Floats, sinks: Floats, radius: Floats) -> Floats:
    return np.where(n >= ends, 0.0, land - np.sqrt(np.maximum(0.0, (2 * radius - n) * n)) + n * sinks)


def _sure_on_wood(boats: ManyBoats, report: Reporter, bolt: Bolt, exit_: Place) -> Floats:
    """Return a distance that a bolt surely has from the edges of the inner face: as it was read, less all that moves."""
    apart = report.inner_rim.signed_distance((bolt.exit.u, bolt.exit.w))
    return apart - np.hypot(exit_.u - bolt.exit.u, exit_.w - bolt.exit.w) - boats.rim_moves


def _on_wood(boats: ManyBoats, exit_: Place, disc: Shape) -> Floats:
    """Return the room to the edges of the inner face; see `geometry.solid.clearances.rim_clearance`."""
    cut, across, edges = boats.rim
    every = boats.tan_cut >= 0.0

    def signed(at_u: Floats, at_w: Floats) -> Floats:
        first, second = inside(at_u, at_w, cut), inside(at_u, at_w, across)
        near = to_edges(at_u, at_w, edges)
        return np.where(np.where(every, first & second, first | second), near, -near)

    return _within(disc, exit_.u, exit_.w, edges, signed)


def _on_plate(boats: ManyBoats, report: Reporter, bolt: Bolt, exit_: Place, disc: Shape) -> Floats:
    """Return the room inside the outline of the backing plate, which keeps its shape and its place among its bolts."""
    if bolt.plate is None:
        raise TypeError(f"the {bolt.name} bolt has no backing plate")
    joined = joined_by(report, bolt, bolt.plate)
    exits = [boats.exit(report.bolts.index(each)) for each in joined]
    u0, w0 = sum(each.u for each in exits) / len(exits), sum(each.w for each in exits) / len(exits)
    here = sum(each.exit.u for each in joined) / len(joined), sum(each.exit.w for each in joined) / len(joined)
    corners = plate_ring(joined, bolt.plate, bolt.plate_thickness)
    ring = Ring(np.stack([u - here[0] + u0 for u, _ in corners]), np.stack([w - here[1] + w0 for _, w in corners]))

    def signed(at_u: Floats, at_w: Floats) -> Floats:
        near = to_edges(at_u, at_w, ring.edges)
        return np.where(inside(at_u, at_w, ring), near, -near)

    return _within(disc, exit_.u, exit_.w, ring.edges, signed)


def _within(disc: Shape, u: Floats, w: Floats, edges: Edges, signed: Callable[[Floats, Floats], Floats]) -> Floats:
    whole = signed(u, w) - disc.radius
    if not disc.is_cut:
        return whole
    cut = np.minimum(disc.cut, disc.radius)
    low, half = np.arcsin(np.clip(cut / disc.radius, -1.0, 1.0)), np.sqrt(disc.radius**2 - cut**2)
    best = np.minimum(np.min(gap(disc, u, w, edges), axis=0), np.minimum(signed(u + half, w - cut), signed(u - half, w - cut)))
    for turn in (-low / 2, *(np.full(low.shape, np.radians(each)) for each in (0, 45, 90, 135, 180)), np.pi + low / 2):
        out = (disc.radius - cut) / (1 + np.sin(turn))
        best = np.minimum(best, signed(u + out * np.cos(turn), w + out * np.sin(turn)) - (disc.radius - out))
    return np.where(disc.cut < disc.radius, best, whole)


def neighbour_rooms(boats: ManyBoats, report: Reporter) -> Floats:
    """Return the smallest gap between parts inside of two bolts, backing plates aside."""
    numbers = range(len(report.bolts))
    exits = [boats.exit(index) for index in numbers]
    bodies = [[body for part in BODIES if (body := boats.body(index, part)) is not None] for index in numbers]
    widest = [[float(np.max(body.shape.radius)) for body in of] for of in bodies]
    pairs = []
    for i, j in combinations(numbers, 2):
        apart = np.hypot(exits[i].u - exits[j].u, (exits[i].w - exits[j].w) * np.cos(exits[i].lean)).min()
        if np.any(exits[i].lean != exits[j].lean):  # the axes come nearer to each other
            apart = np.abs(exits[i].u - exits[j].u).min()
        pairs += [
            (float(apart) - widest[i][a] - widest[j][b], i, a, j, b)
            for a, b in product(range(len(bodies[i])), range(len(bodies[j])))
        ]  # fmt: skip
    best = np.full(boats.count, np.inf)
    for least, i, a, j, b in sorted(pairs):
        if least > np.max(best):
            break
        apart = _axes_apart(_axis(exits[i], bodies[i][a]), _axis(exits[j], bodies[j][b]))
        best = np.minimum(best, apart - bodies[i][a].shape.radius - bodies[j][b].shape.radius)
    return best


Axis = tuple[tuple[Floats, Floats, Floats], tuple[Floats, Floats, Floats]]


def _axis(exit_: Place, body: Cylinder) -> Axis:
    sine, cosine = np.sin(exit_.lean), np.cos(exit_.lean)
    first, last = ((exit_.u, exit_.w + at * sine, at * cosine) for at in (body.start, body.end))
    return first, last


def _axes_apart(a: Axis, b: Axis) -> Floats:
    """Return the distance between two axes; see `geometry.solid.clearances.axes_gap`."""
    d1, d2 = ([q - p for p, q in zip(*axis, strict=True)] for axis in (a, b))
    r = [p - q for p, q in zip(a[0], b[0], strict=True)]
    aa, bb, ab, ar, br = _dot(d1, d1), _dot(d2, d2), _dot(d1, d2), _dot(d1, r), _dot(d2, r)
    den = aa * bb - ab * ab
    some = den > 1e-12 * aa * bb
    s = np.where(some, np.clip((ab * br - ar * bb) / np.where(some, den, 1.0), 0.0, 1.0), 0.0)
    best = np.full(aa.shape, np.inf)
    for first in (s, np.zeros_like(s), np.ones_like(s)):
        t = np.where(bb > 0.0, np.clip((ab * first + br) / np.where(bb > 0.0, bb, 1.0), 0.0, 1.0), 0.0)
        best = np.minimum(best, np.sqrt(sum((r[i] + first * d1[i] - t * d2[i]) ** 2 for i in range(3))))
    # The nearest pair may also have an end of the second axis, and the place on the first that is nearest to it.
    for last in (np.zeros_like(s), np.ones_like(s)):
        k = np.where(aa > 0.0, np.clip((ab * last - ar) / np.where(aa > 0.0, aa, 1.0), 0.0, 1.0), 0.0)
        best = np.minimum(best, np.sqrt(sum((r[i] + k * d1[i] - last * d2[i]) ** 2 for i in range(3))))
    return best


def _dot(a: list[Floats], b: list[Floats]) -> Floats:
    total: Floats = a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
    return total


def old_hole_rooms(boats: ManyBoats, report: Reporter, index: int, hole: int) -> Floats:
    """Return the wood between a bolt's hole and an old one; see `geometry.judge.wood_around_holes.wood_between`."""
    exit_, name = boats.exit(index), f"bolt.{index}"
    u, v, across = (boats.of(f"old.{hole}.{part}") for part in ("u", "v", "across"))
    old, new = across / 2, boats.of(f"{name}.hole") / 2
    outer = np.hypot(boats.of(f"{name}.u") - u, boats.of(f"{name}.v") - v)
    inner = np.hypot(exit_.u - u, exit_.w - v / boats.cos_taper)
    if report.design.old_holes[hole].state == "plugged":
        rooms = [np.maximum(apart - old - new, old - apart - new) for apart in (outer, inner)]
        return np.minimum(*rooms)
    return np.minimum(outer, inner) - old - new
