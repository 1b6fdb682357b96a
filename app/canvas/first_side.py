"""Which side's bolts the window shows first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.judge.check_kinds import IN_WELL

if TYPE_CHECKING:
    from geometry.judge.findings import Checked
    from templates_out.views.cut import Side

_ALIKE = 1e-6  # [mm]: clearances nearer than this are alike


def tightest_side(checked: Checked) -> Side:
    """Return the side with the smallest clearance inside, starboard where both are alike."""
    inside = [one for one in checked.findings if one.check in IN_WELL and one.value is not None]
    least = min((one.value for one in inside if one.value is not None), default=0.0)
    sides = {one.at.rsplit(" ", 1)[-1] for one in inside if one.value is not None and one.value - least < _ALIKE}
    return "port" if sides == {"port"} else "starboard"
