"""The marks of a sheet: lines, circles, arcs, paths, hatches and texts, as plain values.

Everything is in millimetres on the paper, y up, the origin at the page's lower left corner. Writers
(pdf, svg, the screen) paint these and decide nothing.
"""

from __future__ import annotations

from typing import Literal

import msgspec

Point = tuple[float, float]

Role = Literal[
    "ink", "soft", "old", "new", "fouled", "lit", "new wash", "fouled wash", "well", "wood", "sheet",
    "hatch", "edge", "rule", "board", "card", "field",
]  # fmt: skip


class Pen(msgspec.Struct, frozen=True):
    """How a line is drawn.

    Attributes:
        role: what the line is for; each writer has its own colour for it.
        weight: width of the line [mm].
        dash: lengths of dashes and gaps in turn [mm]; empty for a full line.
    """

    role: Role = "ink"
    weight: float = 0.18
    dash: tuple[float, ...] = ()


class Line(msgspec.Struct, frozen=True):
    """A straight line from ``a`` to ``b``."""

    a: Point
    b: Point
    pen: Pen
    part: str = ""


class Circle(msgspec.Struct, frozen=True):
    """A circle, drawn (``pen``), filled (``fill``) or both."""

    centre: Point
    radius: float
    pen: Pen | None
    fill: Role | None = None
    part: str = ""


class Arc(msgspec.Struct, frozen=True):
    """A part of a circle, from ``start`` anticlockwise to ``end`` [degrees from the x axis]."""

    centre: Point
    radius: float
    start: float
    end: float
    pen: Pen
    part: str = ""


class Path(msgspec.Struct, frozen=True):
    """A polyline or polygon, drawn, filled or both."""

    points: tuple[Point, ...]
    closed: bool
    pen: Pen | None
    fill: Role | None = None
    part: str = ""


class Hatch(msgspec.Struct, frozen=True):
    """A polygon filled with a pattern of lines; ``shapes.hatch_lines`` gives the lines.

    Attributes:
        outline: the polygon, not closed by a repeated point.
        angle: direction of the lines [degrees].
        pitch: distance between neighbouring lines [mm].
        pen: of the lines; the outline itself is not drawn.
        kind: how the lines follow each other.
    """

    outline: tuple[Point, ...]
    angle: float
    pitch: float
    pen: Pen
    kind: Literal["lines", "cross", "plywood", "foam", "pairs"] = "lines"
    part: str = ""


class Text(msgspec.Struct, frozen=True):
    """One line of text.

    Attributes:
        at: the baseline's start, middle or end, as ``anchor`` says.
        size: of the font [mm], not points.
        angle: of the baseline, anticlockwise [degrees].
        patch: colour of a patch to paint behind the text, for the screen.
    """

    at: Point
    text: str
    size: float
    role: Role = "ink"
    bold: bool = False
    italic: bool = False
    condensed: bool = False
    angle: float = 0.0
    anchor: Literal["start", "middle", "end"] = "start"
    patch: Role | None = None
    part: str = ""


Mark = Line | Circle | Arc | Path | Hatch | Text


class Page(msgspec.Struct, frozen=True):
    """One sheet.

    Attributes:
        width, height: its size [mm]. marks: what is drawn on it. name: its name.
        warning: why nobody may work by it, "" where one may. Marks whose part is `WARNING`, or ends with `CROSSED`, show it.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    name: str = ""
    warning: str = ""


WARNING = "not to be drilled"
CROSSED = " / X"
