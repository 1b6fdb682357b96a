"""The errors where a sheet can't be drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.errors import OwnerError
from geometry.readings.measures import name_of

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.solid.faces import Unmeasured


def not_known(design: Design, what: str, missing: Unmeasured) -> OwnerError:
    """Return what is said where ``what`` can't be drawn for want of a measurement."""
    return OwnerError(f"{what} can't be drawn yet: {name_of(design, missing.key)} is not known. Enter it, then print again.")


def no_bolts(design: Design, so: str) -> OwnerError:
    """Return what is said of a design without bolts: why it has none, and what follows."""
    if not design.mounts:
        return OwnerError(f"No motor hangs on this boat yet, so {so}. Hang one first.")
    why = "its bracket clamps on" if len(design.mounts) == 1 else "its brackets clamp on"
    return OwnerError(f"This design has no bolts: {why}, so {so}. Choose a bolted bracket if the motor is to be bolted.")
