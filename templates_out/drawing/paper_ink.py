"""The ink on paper of each colour on the screen: PDF and printer take it from here."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from templates_out.drawing.marks import Role

INK: dict[Role, float | None] = {
    "ink": 0.0, "soft": 0.0, "old": 0.0, "new": 0.0, "fouled": 0.0, "lit": 0.0, "hatch": 0.0, "edge": 0.0, "rule": 0.0,
    "sheet": 1.0, "new wash": None, "fouled wash": None, "well": None, "wood": None, "board": None, "card": None,
    "field": None,
}  # fmt: skip
"""0 is black, 1 is the paper. On paper there is nothing else: a tint is left out, and the marks carry the meaning."""
