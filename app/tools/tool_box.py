"""Makes each tool, as it is when it is taken in hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.tools.point_tools import BracketTool, HoleTool, Tape
from app.tools.sketch import Sketch
from app.tools.typed_figure import TypedFigure

if TYPE_CHECKING:
    from app.tools.tool import Tool


def taken(name: str, mount: int, chosen: str, *, alike: bool | None) -> Tool | None:
    """Return a new tool; None for the pointer tool.

    Args:
        chosen: the part for a typed figure. alike: whether both sides change together; None: where they are alike.
    """
    match name:
        case "outline" | "well" | "block" | "fitting":
            return Sketch(name, alike=alike is not False)
        case "length" | "round":
            return TypedFigure(name, chosen, alike)
        case "old hole":
            return HoleTool()
        case "bracket":
            return BracketTool(mount)
        case "measure":
            return Tape(mount)
        case _:
            return None
