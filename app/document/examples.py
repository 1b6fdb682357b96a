"""The demonstration boat that the program starts with."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.design.design import Design

DEMONSTRATION = "shallow-well-skiff"


def demonstration() -> Design:
    """Return the demonstration boat as it is shipped."""
    from assets import design_text
    from geometry.design.design_text import from_text

    return from_text(design_text(DEMONSTRATION))
