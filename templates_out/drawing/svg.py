"""A page as SVG, in millimetres. The writer decides nothing.

Source: W3C, Scalable Vector Graphics 1.1: viewBox, path data (arc command), stroke-dasharray.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import assert_never
from xml.etree import ElementTree as Tree

from templates_out.drawing.marks import CROSSED, WARNING, Arc, Circle, Hatch, Line, Mark, Page, Path, Pen, Point, Role, Text
from templates_out.drawing.transforms import hatch_lines, text_box

_FONTS = "'DejaVu Sans Condensed'", "'DejaVu Sans'"
_UNPAINTED = {"new wash", "fouled wash", "well", "wood", "board", "card", "field"}


def svg_text(page: Page, colours: Mapping[Role, str] | None = None) -> str:
    """Return ``page`` as the text of an SVG file, 1:1 in mm; the same page gives the same text.

    Without ``colours`` it is black on white, and tints are left out, as on paper. A page's warning is the file's description
    and the title of a separate layer.
    """
    root = Tree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "data-made-by": "Boltwell",  # first, and so: by this the program knows its own files
            "width": f"{_n(page.width)}mm",
            "height": f"{_n(page.height)}mm",
            "viewBox": f"0 0 {_n(page.width)} {_n(page.height)}",
        },
    )
    if page.name:
        Tree.SubElement(root, "title").text = page.name
    if page.warning:
        Tree.SubElement(root, "desc").text = page.warning
    Tree.SubElement(root, "rect", {"width": "100%", "height": "100%", "fill": _colour("sheet", colours)})
    for mark in page.marks:
        if not (page.warning and _warns(mark)):
            _draw(root, mark, page.height, colours)
    if page.warning:
        layer = Tree.SubElement(root, "g", {"id": "warning"})
        Tree.SubElement(layer, "title").text = page.warning
        for mark in filter(_warns, page.marks):
            _draw(layer, mark, page.height, colours)
    Tree.indent(root)
    return Tree.tostring(root, encoding="unicode", xml_declaration=True) + "\n"


def _warns(mark: Mark) -> bool:
    """Say whether a mark belongs to the warning, which has a separate layer."""
    return mark.part == WARNING or mark.part.endswith(CROSSED)


def _n(value: float) -> str:
    return f"{value:.6f}".rstrip("0").rstrip(".")


def _colour(role: Role | None, colours: Mapping[Role, str] | None) -> str:
    if role is None:
        return "none"
    if colours is not None:
        return colours[role]
    return "none" if role in _UNPAINTED else "#fff" if role == "sheet" else "#000"


def _style(pen: Pen | None, fill: Role | None, part: str, colours: Mapping[Role, str] | None) -> dict[str, str]:
    style = {"fill": _colour(fill, colours)}
    if pen:
        style |= {"stroke": _colour(pen.role, colours), "stroke-width": _n(pen.weight)}
        if pen.dash:
            style["stroke-dasharray"] = " ".join(map(_n, pen.dash))
    if part:
        style["data-part"] = part
    return style


def _draw(root: Tree.Element, mark: Mark, height: float, colours: Mapping[Role, str] | None) -> None:
    def to(p: Point) -> str:
        return f"{_n(p[0])} {_n(height - p[1])}"

    match mark:
        case Line():
            style = _style(mark.pen, None, mark.part, colours)
            Tree.SubElement(root, "path", {"d": f"M {to(mark.a)} L {to(mark.b)}", **style})
        case Circle():
            x, y = mark.centre[0], height - mark.centre[1]
            place = {"cx": _n(x), "cy": _n(y), "r": _n(mark.radius)}
            Tree.SubElement(root, "circle", place | _style(mark.pen, mark.fill, mark.part, colours))
        case Arc():
            start, middle, end = (_on(mark, share) for share in (0.0, 0.5, 1.0))
            arc = f"A {_n(mark.radius)} {_n(mark.radius)} 0 0 0 "
            data = f"M {to(start)} {arc}{to(middle)} {arc}{to(end)}"  # two halves: a full turn has no one arc
            Tree.SubElement(root, "path", {"d": data, **_style(mark.pen, None, mark.part, colours)})
        case Path():
            data = "M " + " L ".join(map(to, mark.points)) + (" Z" if mark.closed else "")
            Tree.SubElement(root, "path", {"d": data, **_style(mark.pen, mark.fill, mark.part, colours)})
        case Hatch():
            for line in hatch_lines(mark):
                _draw(root, line, height, colours)
        case Text():
            _draw_text(root, mark, height, colours)
        case _:
            assert_never(mark)


def _on(arc: Arc, share: float) -> Point:
    angle = math.radians(arc.start + share * (arc.end - arc.start))
    return arc.centre[0] + arc.radius * math.cos(angle), arc.centre[1] + arc.radius * math.sin(angle)


def _draw_text(root: Tree.Element, text: Text, height: float, colours: Mapping[Role, str] | None) -> None:
    if text.patch:
        corners = " ".join(f"{_n(x)},{_n(height - y)}" for x, y in text_box(text))
        Tree.SubElement(root, "polygon", {"points": corners, "fill": _colour(text.patch, colours)})
    x, y = _n(text.at[0]), _n(height - text.at[1])
    style = {
        "x": x,
        "y": y,
        "font-family": ", ".join((*(_FONTS if text.condensed else _FONTS[1:]), "sans-serif")),
        "font-size": _n(text.size),
        "fill": _colour(text.role, colours),
        "text-anchor": text.anchor,
    }
    if text.bold:
        style["font-weight"] = "bold"
    if text.italic:
        style["font-style"] = "italic"
    if text.angle:
        style["transform"] = f"rotate({_n(-text.angle)} {x} {y})"
    if text.part:
        style["data-part"] = text.part
    Tree.SubElement(root, "text", style).text = text.text
