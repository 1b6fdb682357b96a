"""Holes on the full-scale sheets: crosses, circles, dots, washers, old holes, and their labels."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from geometry.units.units import Unit
from templates_out.drawing import sheet_figures as figures
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import Rect
from templates_out.drawing.fonts import writable
from templates_out.drawing.labels import Candidate
from templates_out.drawing.marks import CROSSED, Arc, Circle, Line, Mark, Path, Pen, Text
from templates_out.drawing.opening_shape import opening_shape
from templates_out.drawing.printer import Stretch
from templates_out.faces.on_face import TARGET, Hole, Old

Said = list[tuple[str, float, bool]]  # words as (text, size, bold), from the top
Drilling = Literal["all", "pilot", "later", "none"]
"""What is drilled at a hole now: pilot and final size, its pilot only, a pilot on a later sheet, or nothing."""
DOT = 0.8  # across
X_REACH = 24.0  # of the X over a hole that is not to be drilled, each way


def hole_marks(hole: Hole, stretch: Stretch, drilling: Drilling) -> tuple[Mark, ...]:
    """Return a hole's cross, circles and dot; a reused hole has neither dot nor pilot.

    In place of dot and pilot there is a heavy X where nothing is to be drilled. Where only pilots are, no final circle is.
    The dotted fit ring is where all is drilled.
    """
    (x, y), reach, part = hole.at, hole.reach, hole.part
    marks: list[Mark] = [
        Line((x - reach, y), (x + reach, y), pens.FINE, part),
        Line((x, y - reach), (x, y + reach), pens.FINE, part),
    ]
    if drilling in ("all", "none"):
        marks.append(Circle(hole.at, stretch.length(hole.final / 2), pens.FINAL, part=part))
    if drilling == "all" and hole.fit_ring:
        marks.append(Circle(hole.at, hole.fit_ring, pens.FIT_RING, part=f"{part} / fit ring"))
    if drilling == "none":
        marks += x_marks(hole)
    elif not hole.reused:
        marks.append(Circle(hole.at, stretch.length(hole.pilot / 2), pens.PILOT, part=part))
        if drilling != "later":  # nobody punches there yet
            marks.append(Circle(hole.at, DOT / 2, None, "ink", part))
    return (*marks, *washer_marks(hole))


def opening_marks(opening: Hole, stretch: Stretch, *, drilled: bool) -> tuple[Mark, ...]:
    """Return an opening: its circle in a square that is set on a corner, which no bolt's hole has, and its cross.

    A dot is there where a new hole may be drilled; none where an old hole is opened.
    """
    radius, lines = stretch.length(opening.final / 2), (pens.FINE, pens.FINAL, pens.SEAM)
    marks = opening_shape(opening.at, radius, opening.reach, lines, opening.part)
    return (*marks, Circle(opening.at, DOT / 2, None, "ink", opening.part)) if drilled and not opening.reused else marks


def opening_lines(opening: Hole, unit: Unit, *, drilled: bool) -> Said:
    """Return an opening's words, from the top; its place only, where the sheet may not be drilled by."""
    place: Said = [
        (f"Not for the motor: {writable(opening.name)}", pens.LINES, True),
        (figures.across(opening.u, unit), pens.LINES, False),
        (figures.below(opening.v, unit), pens.LINES, False),
    ]
    size = figures.both(opening.final, unit)
    work = f"open the old hole to {size}" if opening.reused else f"drill {size}"
    return [*place, (work, pens.LINES, False)] if drilled else place


def x_marks(hole: Hole) -> tuple[Mark, ...]:
    """Return the heavy X over a hole that is not to be drilled."""
    (x, y), far, part = hole.at, X_REACH, f"{hole.part}{CROSSED}"
    return (
        Line((x - far, y - far), (x + far, y + far), pens.HEAVY, part),
        Line((x - far, y + far), (x + far, y - far), pens.HEAVY, part),
    )


def washer_marks(hole: Hole, pen: Pen = pens.WASHER) -> list[Mark]:
    """Return the washer's outline, its lower side cut flat where it is; nothing where its size is not known."""
    part = f"{hole.part} / washer"
    if hole.washer is None:
        return []
    if hole.flat_cut is None or hole.flat_cut >= hole.washer:
        return [Circle(hole.washer_at, hole.washer, pen, part=part)]
    (x, y), half = hole.washer_at, math.sqrt(hole.washer**2 - hole.flat_cut**2)
    low = math.degrees(math.atan2(-hole.flat_cut, half))
    return [
        Arc(hole.washer_at, hole.washer, low, 180.0 - low, pen, part),
        Line((x - half, y - hole.flat_cut), (x + half, y - hole.flat_cut), pen, part),
    ]


def old_marks(old: Old) -> tuple[Mark, ...]:
    """Return an old hole with two chords and its plug; a target to lay the paper by where it is used again."""
    (x, y), r, part = old.at, old.radius, f"old hole / {old.hole.name}"
    marks: list[Mark] = [Circle(old.at, r, pens.OLD, part=part)]
    if not old.hole.is_reused:
        for offset in (-r / 3, r / 3):  # chords of a 135° hatch
            half, c = math.sqrt(r * r - offset * offset), math.sqrt(0.5)
            middle = (x + offset * c, y + offset * c)
            marks.append(
                Line(
                    (middle[0] - half * c, middle[1] + half * c),
                    (middle[0] + half * c, middle[1] - half * c),
                    pens.OLD,
                    part,
                )
            )
    marks += _plug_marks(old, part)
    if old.hole.is_reused:
        marks.append(Circle(old.at, r + 3.0, pens.OLD, part=part))
        for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            inner, outer = ((x + dx * out, y + dy * out) for out in (r, r + TARGET))
            marks.append(Line(inner, outer, pens.FINE, part))
    return tuple(marks)


def _plug_marks(old: Old, part: str) -> list[Mark]:
    """Return a plug's outline: round, or two half circles and two lines where it is a long plug."""
    if not old.plug:
        return []
    if old.long_to is None:
        return [Circle(old.at, old.plug, pens.PLUG, part=part)]
    (x0, y0), (x1, y1), r = old.at, old.long_to, old.plug
    turn = math.atan2(y1 - y0, x1 - x0)
    ahead, (dx, dy) = math.degrees(turn), (-r * math.sin(turn), r * math.cos(turn))
    return [
        Arc(old.long_to, r, ahead - 90.0, ahead + 90.0, pens.PLUG, part),
        Arc(old.at, r, ahead + 90.0, ahead + 270.0, pens.PLUG, part),
        *(Line((x0 + s * dx, y0 + s * dy), (x1 + s * dx, y1 + s * dy), pens.PLUG, part) for s in (1.0, -1.0)),
    ]


def first_words(hole: Hole) -> Said:
    """Return what comes before a hole through a plug is drilled, in bold; no words at any other hole."""
    return [(hole.through_plug, pens.LINES, True)] if hole.through_plug else []


def label_lines(hole: Hole, unit: Unit, drilling: Drilling = "all") -> Said:
    """Return a hole's words as (text, size, bold), from the top; its place only, where it may not be drilled."""
    name = hole.name.upper() + (f", {hole.motor}" if hole.motor else "")
    place: Said = [
        (name, pens.NAME, True),
        (figures.across(hole.u, unit), pens.LINES, False),
        (figures.below(hole.v, unit), pens.LINES, False),
    ]
    if drilling == "none" or (drilling != "all" and hole.reused):
        return place
    if drilling == "later":
        return [*place, (figures.pilot_later(), pens.LINES, False)]
    if drilling == "pilot":
        now, way = figures.pilot_now(hole.pilot, unit), figures.direction(hole.tilt)
        return [*place, *first_words(hole), (now, pens.LINES, True), (way, pens.LINES, True)]
    return [
        *place,
        *first_words(hole),
        (figures.opened(hole.final, unit) if hole.reused else figures.drills(hole.pilot, hole.final, unit), pens.LINES, False),
        (figures.direction(hole.tilt), pens.LINES, True),
    ]


def block(lines: list[tuple[str, float, bool]], left: float, top: float, part: str, italic: bool = False) -> tuple[Text, ...]:
    """Return lines of text under each other from a left upper corner."""
    texts, y = [], top
    for text, size, bold in lines:
        y -= 0.74 * size
        texts.append(Text((left, y), text, size, bold=bold, italic=italic, condensed=size < pens.NAME - 0.01, part=part))
        y -= 0.50 * size
    return tuple(texts)


def block_size(lines: list[tuple[str, float, bool]]) -> tuple[float, float]:
    """Return a block's width and height, to its last line's foot."""
    texts = block(lines, 0.0, 0.0, "")
    last = texts[-1]
    return max(map(pens.width_of, texts)), -(last.at[1] - 0.17 * last.size)


def label_places(hole: Hole, said: Said, home: Rect) -> Iterator[Candidate]:
    """Yield places for a hole's words on the hole's sheet, best first: inboard, near, above its cross; then anywhere."""
    inboard = 1.0 if hole.at[0] <= 0 else -1.0
    (x, y), part = hole.at, f"{hole.part} / label"
    for shrink in (1.0, 0.94, 0.89):
        lines = [(text, size * shrink, bold) for text, size, bold in said]
        wide, high = block_size(lines)
        next_to = (y + 1.7 + high, y - 1.7, y + high / 2)
        higher = tuple(y + high + k for k in range(10, 71, 10))
        lower = tuple(y - k for k in range(10, 71, 10))
        for tops in (next_to, (*higher, *lower)):
            for side in (inboard, -inboard):
                for away in range(23, 71, 3):
                    left = x + away if side > 0 else x - away - wide
                    if not home[0] <= left <= home[2] - wide:
                        continue
                    for top in tops:
                        if not home[1] + high <= top <= home[3]:
                            continue
                        texts = block(lines, left, top, part)
                        if away <= 35 and tops is next_to:
                            yield texts
                        else:
                            yield (*texts, _leader(hole, left, top, wide, high, part))
    small = [(text, size * 0.89, bold) for text, size, bold in said]
    yield from _over_and_under(hole, small, part)
    yield from _anywhere(hole, small, home, part)


def _over_and_under(hole: Hole, lines: Said, part: str) -> Iterator[Candidate]:
    """Yield places right under and over a hole's cross, for where nothing is free next to it."""
    wide, high = block_size(lines)
    (x, y), reach = hole.at, hole.reach + 2.0
    for away in range(0, 13, 3):
        for top in (y - reach - away, y + reach + away + high):
            for slide in (0.0, -12.0, 12.0, -24.0, 24.0):
                yield block(lines, x - wide / 2 + slide, top, part)


def _anywhere(hole: Hole, lines: Said, home: Rect, part: str) -> Iterator[Candidate]:
    """Yield every place on the hole's sheet, the nearest first: a hole's words are never left out."""
    wide, high = block_size(lines)
    across = range(int(home[0]) + 1, int(home[2] - wide), 4)
    down = range(int(home[1] + high) + 1, int(home[3]), 4)
    (x, y) = hole.at

    def far(place: tuple[int, int]) -> float:
        return math.hypot(place[0] + wide / 2 - x, place[1] - high / 2 - y)

    for left, top in sorted(((left, top) for left in across for top in down), key=far):
        if not left - 2.0 < x < left + wide + 2.0:
            yield (*block(lines, left, top, part), _leader(hole, left, top, wide, high, part))


def _leader(hole: Hole, left: float, top: float, wide: float, high: float, part: str) -> Line:
    """Return a line from a label's nearer side to just outside the washer."""
    (x, y) = hole.at
    side = left - 1.3 if left > x else left + wide + 1.3
    foot = (side, min(top - 1.5, max(top - high + 1.5, y)))
    far = math.dist(foot, hole.at)
    stop = (max(hole.washer or 0.0, hole.final) + 1.3) / far
    return Line(foot, (x + stop * (foot[0] - x), y + stop * (foot[1] - y)), pens.FINE, part)


def washer_name_places(hole: Hole, names: tuple[str, ...] = ("washer, inside", "washer")) -> Iterator[Candidate]:
    """Yield places for the words by the washer's circle, so that nobody drills to it."""
    if hole.washer is None:
        return
    for text in names:
        wide = pens.width_of(pens.words((0, 0), text, pens.FIGURE))
        for degrees in (230, 310, 130, 50, 215, 325, 145, 35, 240, 300, 200, 340):
            turn = math.radians(degrees)
            x = hole.washer_at[0] + (hole.washer + 1.5) * math.cos(turn)
            y = hole.washer_at[1] + (hole.washer + 1.5) * math.sin(turn)
            left = x if math.cos(turn) > 0 else x - wide
            foot = y if math.sin(turn) > 0 else y - 0.74 * pens.FIGURE
            yield (pens.words((left, foot), text, pens.FIGURE, part=f"{hole.part} / washer name"),)


def old_places(old: Old, unit: Unit) -> Iterator[Candidate]:
    """Yield places for an old hole's words."""
    hole, then = old.hole, f"{old.drilled_through} the new hole" if old.drilled_through else "not to be drilled"
    if hole.drill is not None:
        return  # it is an opening, with words for that
    if hole.is_reused:
        lines = ["old hole, reused:", "lay the paper by it"]
    elif hole.state == "plugged":
        size = "" if hole.plug_diameter is None else " " + figures.both(hole.plug_diameter, unit).split(" (")[0]
        lines = [f"old hole, plugged{size}", then]
    else:
        lines = [f"old hole, {hole.state}", then]
    rows = [(text, pens.FIGURE, False) for text in lines]
    wide, high = block_size(rows)
    reach = old.reach
    (x, y), part = old.at, f"old hole / {hole.name} / label"
    for away in (2.0, 5.0, 9.0, 14.0, 20.0, 28.0, 36.0):
        next_to = (x + reach + away, x - reach - away - wide)
        middling = (x - wide / 2, x + 2.0, x - wide - 2.0)
        places = [(left, top) for left in next_to for top in (y + high / 2, y - reach / 2, y + reach / 2 + high)]
        places += [(left, top) for left in next_to for top in (y - reach - away / 2, y + reach + away / 2 + high)]
        places += [(left, top) for left in middling for top in (y - reach - away, y + reach + away + high)]
        for left, top in places:
            texts = block(rows, left, top, part, italic=True)
            if away <= 9.0:
                yield texts
                continue
            foot = (min(max(x, left - 1.3), left + wide + 1.3), min(max(y, top - high - 1.3), top + 1.3))
            share = (old.radius + 1.3) / max(math.dist(foot, old.at), 1e-9)
            end = (x + share * (foot[0] - x), y + share * (foot[1] - y))
            yield (*texts, Line(foot, end, pens.FINE, part))


def filled_arrow(tip: tuple[float, float], angle: float, length: float = 2.2, part: str = "") -> Path:
    """Return a filled arrow head whose tip points along ``angle`` [degrees]."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    half = length * 0.2
    back = (tip[0] - length * c, tip[1] - length * s)
    return Path(
        (tip, (back[0] - half * s, back[1] + half * c), (back[0] + half * s, back[1] - half * c)),
        True,
        None,
        "ink",
        part,
    )
