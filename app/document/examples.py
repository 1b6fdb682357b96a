"""The demonstration boats. Each is a file among the shipped designs; its name and its notes are in the file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.errors import OwnerError

if TYPE_CHECKING:
    from geometry.design.design import Design

DEMONSTRATION = "shallow-well-skiff"
"""The boat that the program starts with."""


def demonstration(key: str = DEMONSTRATION) -> Design:
    """Return a demonstration boat as it is shipped.

    Raises:
        OwnerError: there is none of that name.
    """
    from assets import design_names, design_text
    from geometry.design_text import from_text

    if key not in design_names():
        raise OwnerError(f'There is no demonstration boat "{key}". Choose one of: {", ".join(design_names())}.')
    return from_text(design_text(key))


def demonstrations() -> dict[str, Design]:
    """Return every demonstration boat by its key, the first one first."""
    from assets import design_names

    return {key: demonstration(key) for key in sorted(design_names(), key=lambda key: (key != DEMONSTRATION, key))}
