"""Starts the window."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

from geometry.errors import OwnerError

if TYPE_CHECKING:
    from pathlib import Path

    from app.desk import Desk
    from geometry.design.whole import Design

DEMONSTRATION = "shallow-well-skiff"
_NO_SCREEN = ("offscreen", "minimal")


def has_screen() -> bool:
    """Tell whether a window would be seen by anybody."""
    if os.environ.get("QT_QPA_PLATFORM", "").partition(":")[0] in _NO_SCREEN:
        return False
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def demonstration() -> Design:
    """Return the demonstration boat as it is shipped."""
    from assets import design_text
    from geometry.design.design_text import from_text

    return from_text(design_text(DEMONSTRATION))
