"""What can be opened to decide by: the height picture, the search for a fit, placements side by side, the zone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

if TYPE_CHECKING:
    from app.document.document import Document
    from app.document.selection import Sight
    from geometry.design.design import Design

MOST_KEPT = 3  # beside the present place: four stand side by side
LOW_ENOUGH, FIT, COMPARE = "low enough", "fit", "compare"
DOORS = (
    (LOW_ENOUGH, "Will it hang &low enough?", "Ctrl+L"),
    (FIT, "Find a &fit", "Ctrl+F"),
    (COMPARE, "&Compare", "Ctrl+R"),
)
"""Name, words in the menu, key."""


def opened(sight: Sight, name: str) -> Sight:
    """Return a sight with one of the doors open, or none for ""; a ghost goes with what showed it."""
    return replace(sight, deciding=name, ghost=None)


def turn(document: Document, name: str) -> None:
    """Open one of the doors, or close it."""
    document.look(opened(document.sight, "" if document.sight.deciding == name else name))


def is_open(document: Document, name: str) -> bool:
    """Tell whether one of the doors is open."""
    return document.sight.deciding == name


def possible(document: Document, name: str = "") -> bool:
    """Tell whether there is a motor to decide about, and a drawing to see it on; what clamps on has nothing to compare."""
    if not document.design.mounts or document.sight.sheets:
        return False
    return name != COMPARE or document.design.mounts[document.sight.mount].bracket.rows is not None


def clamps_on(design: Design) -> bool:
    """Tell whether all that hangs clamps on: no hole to drill, and no sheets to drill by."""
    return bool(design.mounts) and all(one.bracket.rows is None for one in design.mounts)


def zone(document: Document) -> None:
    """Show the drillable zone, or hide it."""
    document.look(replace(document.sight, zone=not document.sight.zone))


def keep(document: Document) -> None:
    """Keep how the motor in hand hangs now, to be compared."""
    document.look(kept(document.sight, document.design))


def may_keep(document: Document) -> bool:
    """Tell whether there is room to keep one more place."""
    if not possible(document) or len(document.sight.kept) >= MOST_KEPT:
        return False
    return document.design.mounts[document.sight.mount].drop is not None


def kept(sight: Sight, design: Design) -> Sight:
    """Return a sight with how the motor in hand hangs in ``design`` among what is compared, if there is room for it."""
    from geometry.decide.compare import alike, placement_of

    if sight.mount >= len(design.mounts) or design.mounts[sight.mount].bracket.rows is None:
        return sight
    found = placement_of(design, sight.mount)
    if len(sight.kept) >= MOST_KEPT or any(alike(one, found) for one in sight.kept):
        return sight
    return replace(sight, kept=(*sight.kept, found))
