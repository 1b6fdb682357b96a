"""What can be opened to decide by: the height picture, the search for a fit, placements side by side, the zone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

if TYPE_CHECKING:
    from app.document.document import Document
    from app.document.view_state import ViewState
    from geometry.design.design import Design

MOST_KEPT = 3  # beside the present place: four stand side by side
LOW_ENOUGH, FIT, COMPARE = "low enough", "fit", "compare"
MODES = (
    (LOW_ENOUGH, "Will it hang &low enough?", "Ctrl+L"),
    (FIT, "Find a &fit", "Ctrl+F"),
    (COMPARE, "&Compare", "Ctrl+R"),
)
"""Name, words in the menu, key."""


def with_mode(view_state: ViewState, name: str) -> ViewState:
    """Return a view state with one of the doors open, or none for ""; a ghost goes with what showed it."""
    return replace(view_state, deciding=name, ghost=None)


def toggle(document: Document, name: str) -> None:
    """Open one of the doors, or close it."""
    document.set_view_state(with_mode(document.view_state, "" if document.view_state.deciding == name else name))


def is_open(document: Document, name: str) -> bool:
    """Tell whether one of the doors is open."""
    return document.view_state.deciding == name


def can_open(document: Document, name: str = "") -> bool:
    """Tell whether there is a motor to decide about, and a drawing to see it on; what clamps on has nothing to compare."""
    if not document.design.mounts or document.view_state.sheets:
        return False
    return name != COMPARE or document.design.mounts[document.view_state.mount].bracket.rows is not None


def clamps_on(design: Design) -> bool:
    """Tell whether all that hangs clamps on: no hole to drill, and no sheets to drill by."""
    return bool(design.mounts) and all(one.bracket.rows is None for one in design.mounts)


def toggle_zone(document: Document) -> None:
    """Show the drillable zone, or hide it."""
    document.set_view_state(replace(document.view_state, zone=not document.view_state.zone))


def keep_placement(document: Document) -> None:
    """Keep how the motor in hand hangs now, to be compared."""
    document.set_view_state(with_kept(document.view_state, document.design))


def can_keep(document: Document) -> bool:
    """Tell whether there is room to keep one more place."""
    if not can_open(document) or len(document.view_state.kept) >= MOST_KEPT:
        return False
    return document.design.mounts[document.view_state.mount].drop is not None


def with_kept(view_state: ViewState, design: Design) -> ViewState:
    """Return a view state with how the motor in hand hangs in ``design`` among what is compared, if there is room for it."""
    from geometry.decide.compare import alike, placement_of

    if view_state.mount >= len(design.mounts) or design.mounts[view_state.mount].bracket.rows is None:
        return view_state
    found = placement_of(design, view_state.mount)
    if len(view_state.kept) >= MOST_KEPT or any(alike(one, found) for one in view_state.kept):
        return view_state
    return replace(view_state, kept=(*view_state.kept, found))
