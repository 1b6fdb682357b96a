"""Check of the outer washers: each must span the bracket's slot or hole, or head and bracket pull through each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.reporter import Outcome, Reporter
from geometry.solid.faces import need

if TYPE_CHECKING:
    from geometry.solid.placed_bolts import Bolt


def outer_washers(report: Reporter) -> None:
    """Report how far the outer washer of each bolt spans the bracket's slot or hole, whichever way the bolt goes in."""
    for bolt in report.bolts:
        _outer_washer(report, bolt)


def _outer_washer(report: Reporter, bolt: Bolt) -> None:
    field = "rows" if bolt.upper else "lower"
    washer_key, opening_key = bolt.hardware_key("outside_washer.outer"), bolt.key(f"bracket.{field}.diameter")

    limits = report.design.limits.outer_washer

    def look() -> Outcome:
        outer = need(bolt.hardware.outside_washer.outer, washer_key)
        opening = need(_opening(bolt), opening_key)
        value = outer / opening
        over = f"a slot {report.size(opening)} wide" if _is_slot(bolt) else f"a hole {report.size(opening)} across"
        text = f"The outer washer of the {bolt.name} bolt is {report.size(outer)} across, over {over}"
        least, advised = (report.limit(limit * opening) for limit in limits)
        if value < limits[0] - CLOSE:
            held = "nut" if bolt.from_inside else "head"
            cure = f"Use a thick outer washer, at least {least} across; {advised} is advised."
            return Outcome(value, f"{text}. The {held} could pull through.", cure)
        if value < limits[1] - CLOSE:
            return Outcome(value, f"{text}; {advised} is advised.", "Use a wider outer washer, and a thick one.")
        return Outcome(value, f"{text}.")

    report.add("outer_washer", bolt.at, limits, "ratio", (washer_key, opening_key), (bolt.mount_index,), look)


def _opening(bolt: Bolt) -> float | None:
    """Return the width of the slot, or the diameter of the hole, that the washer covers [mm]; None where not measured."""
    holes = bolt.mount.bracket.rows if bolt.upper else bolt.mount.bracket.lower
    return None if holes is None else holes.diameter


def _is_slot(bolt: Bolt) -> bool:
    lower = bolt.mount.bracket.lower
    return not bolt.upper and lower is not None and any(low - high > CLOSE for high, low in lower.slots)
