"""The text for *Square or level*: where the exits would be if the holes were drilled the other way."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.design.design import Design
from geometry.errors import OwnerError
from geometry.solid.faces import Unmeasured
from geometry.solid.square_or_level import other_way
from geometry.units.units import format_angle, format_reading
from templates_out.views.cut_ghost import exits_moved

if TYPE_CHECKING:
    from geometry.judge.findings import Checked
    from templates_out.views.cut import Side


class OtherWay(msgspec.Struct, frozen=True):
    """The other way to drill.

    Attributes:
        words: one sentence. label: name of the step that sets it, "" where that is impossible.
        design: the design with it, or None.
    """

    words: str
    label: str = ""
    design: Design | None = None


def describe_other_way(checked: Checked, mount: int, side: Side) -> OtherWay:
    """Return the other way to drill a motor's holes, and its effect on the exits of one side."""
    try:
        way, other = other_way(checked.design, mount)
        moved = exits_moved(checked.design, other, side, mount)
    except Unmeasured:
        return OtherWay("Measure the transom’s lean and thickness first. Level is calculated from them.")
    except OwnerError as sentence:
        return OtherWay(str(sentence))
    unit = checked.design.units
    parts = [
        f"the {name} {format_reading(abs(by), unit)} {'higher' if by > 0 else 'lower'}"
        for name, by in zip(("upper bolt comes out", "lower"), moved, strict=True)
    ]
    tilt = other.mounts[mount].lower_tilt or 0.0
    how = "Square to the face" if way == "square" else f"Level, {format_angle(abs(tilt))} off square"
    return OtherWay(f"{how}: {', '.join(parts)}.", f"Drill {way}", other)
