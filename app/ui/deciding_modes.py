"""The ways to decide: *Will it hang low enough?*, *Find a fit*, *Compare*, and the drillable zone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

if TYPE_CHECKING:
    from app.document.document import Document
    from app.document.view_state import ViewState
    from geometry.design.design import Design

MOST_KEPT = 3  # with the present placement four, side by side
LOW_ENOUGH, FIT, COMPARE = "low enough", "fit", "compare"
MODES = (
    (LOW_ENOUGH, "Will it hang &low enough?", "Ctrl+L"),
    (FIT, "Find a &fit", "Ctrl+F"),
    (COMPARE, "&Compare", "Ctrl+R"),
)
"""Name, words in the menu, key."""


def with_mode(view_state: ViewState, name: str) -> ViewState:
    """Return a view state with the mode ``name`` open, none for "". The ghost of the last mode goes."""
    return replace(view_state, deciding=name, ghost=None)


def toggle(document: Document, name: str) -> None:
    """Open a mode, or close it."""
    document.set_view_state(with_mode(document.view_state, "" if document.view_state.deciding == name else name))


def is_open(document: Document, name: str) -> bool:
    """Return whether a mode is open."""
    return document.view_state.deciding == name


def can_open(document: Document, name: str = "") -> bool:
    """Return whether there is a motor and a drawing. A motor that clamps on has nothing to compare."""
    if not document.design.mounts or document.view_state.sheets:
        return False
    return name != COMPARE or document.design.mounts[document.view_state.mount].bracket.rows is not None


def clamps_on(design: Design) -> bool:
    """Return whether all motors clamp on: there is no hole to drill, and no sheet to drill by."""
    return bool(design.mounts) and all(mount.bracket.rows is None for mount in design.mounts)


def toggle_zone(document: Document) -> None:
    """Show the drillable zone, or hide it."""
    document.set_view_state(replace(document.view_state, zone=not document.view_state.zone))


def keep_placement(document: Document) -> None:
    """Keep the present placement of the motor in hand for the comparison."""
    document.set_view_state(with_kept(document.view_state, document.design))


def can_keep(document: Document) -> bool:
    """Return whether there is room to keep one more placement."""
    if not can_open(document) or len(document.view_state.kept) >= MOST_KEPT:
        return False
    return document.design.mounts[document.view_state.mount].drop is not None


def with_kept(view_state: ViewState, design: Design) -> ViewState:
    """Return a view state that also keeps the placement of the motor in hand in ``design``, if there is room for it."""
    from geometry.decide.compare import placement_of, same_placement

    if view_state.mount >= len(design.mounts) or design.mounts[view_state.mount].bracket.rows is None:
        return view_state
    placement = placement_of(design, view_state.mount)
    if len(view_state.kept) >= MOST_KEPT or any(same_placement(kept, placement) for kept in view_state.kept):
        return view_state
    return replace(view_state, kept=(*view_state.kept, placement))
