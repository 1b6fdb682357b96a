"""Openings: holes through the transom for a cable, a hose or a tube, that are still to be drilled.

Each is at the middle of an outside fitting, or is an old hole that is to be opened wider. Lengths [mm].
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.design.validity import Number, known
from geometry.solid.faces import need

if TYPE_CHECKING:
    from geometry.design.boat import Fitting
    from geometry.design.design import Design


class Opening(msgspec.Struct, frozen=True):
    """A hole to drill square to the outer face, that is no bolt's.

    Attributes:
        name: of the fitting or the old hole. key: the first part of its readings' keys.
        at_u, at_v: its middle on the outer face; None where that is not known.
        diameter: across. is_there: whether an old hole is opened, so that nobody punches a dot.
    """

    name: str
    key: str
    at_u: Number
    at_v: Number
    diameter: float
    is_there: bool

    @property
    def at(self) -> tuple[float, float]:
        """Its middle (u, v) on the outer face.

        Raises:
            Unmeasured: it is not known.
        """
        across, down = ("across", "down") if self.is_there else ("outline", "outline")
        return need(self.at_u, f"{self.key}{across}"), need(self.at_v, f"{self.key}{down}")


def openings(design: Design) -> tuple[Opening, ...]:
    """Return every opening: of the fittings first, then of the old holes. An old hole is opened to no less than it is."""
    fittings = tuple(
        Opening(fitting.name, f"outside_fittings.{index}.", *middle(fitting), fitting.drill, is_there=False)
        for index, fitting in enumerate(design.outside_fittings) if fitting.drill is not None
    )  # fmt: skip
    holes = tuple(
        Opening(hole.name, f"old_holes.{index}.", *hole.at, max(hole.drill, hole.diameter or 0.0), is_there=True)
        for index, hole in enumerate(design.old_holes) if hole.drill is not None
    )  # fmt: skip
    return (*fittings, *holes)


def middle(fitting: Fitting) -> tuple[Number, Number]:
    """Return the middle of a fitting's width and height; None, None where a corner is not known."""
    corners = known(fitting.outline)
    if corners is None:
        return None, None
    across, up = ([corner[axis] for corner in corners] for axis in (0, 1))
    return (min(across) + max(across)) / 2, (min(up) + max(up)) / 2
