"""The state of the view: the chosen part, the lit dimension, the tool in hand. It is no part of the design."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

if TYPE_CHECKING:
    from geometry.decide.compare import Placement
    from geometry.design.design import Design


class ViewState(msgspec.Struct, frozen=True):
    """The state of the view.

    Attributes:
        mount: index of the motor in hand.
        chosen: the chosen part, by the name of its marks; "" where nothing is chosen.
        lit: key of the measure whose dimension is lit; "" for none.
        section: the open section of the card, 1 to 8; 0 where all are closed.
        tool: the tool in hand; "" for the bare hand.
        alike: whether both sides of a shape change together; None: where they are alike now.
        ghost: a design that is drawn faintly over this one, while the pointer is on the cure that leads to it.
        other_way: whether the cut shows the other way to drill: level where it is square, else square.
        isometric: whether the isometric picture is shown in the cut's place.
        flash: parts that are lit for a moment, because undo has changed them.
        sheets: whether the sheets are being made.
        zone: whether the drillable zone is shown on the face.
        deciding: the open way to decide: "low enough", "fit", "compare"; "" for none.
        kept: placements of the motor in hand that the person kept for the comparison.
        again: readings that were measured, and that the program asked for once more.
        passed: readings that the person left as guesses, or can't reach, in that order.
    """

    mount: int = 0
    chosen: str = ""
    lit: str = ""
    section: int = 0
    tool: str = ""
    alike: bool | None = None
    ghost: Design | None = None
    other_way: bool = False
    isometric: bool = False
    flash: tuple[str, ...] = ()
    sheets: bool = False
    zone: bool = False
    deciding: str = ""
    kept: tuple[Placement, ...] = ()
    again: tuple[str, ...] = ()
    passed: tuple[str, ...] = ()


def only_ghost_differs(first: ViewState, second: ViewState) -> bool:
    """Return whether two view states differ in their ghosts alone."""
    if first.ghost is second.ghost:
        return False
    return msgspec.structs.replace(first, ghost=None) == msgspec.structs.replace(second, ghost=None)
