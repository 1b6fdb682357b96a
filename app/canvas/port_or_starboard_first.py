"""Chooses the side whose bolts the window shows first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.judge.check_kinds import IN_WELL

if TYPE_CHECKING:
    from geometry.judge.findings import Checked
    from templates_out.views.cut import Side

_ALIKE = 1e-6  # [mm]: clearances closer than this count as equal


def tightest_side(checked: Checked) -> Side:
    """Return the side with the smallest clearance inside, starboard where both are equal."""
    room = [finding for finding in checked.findings if finding.check in IN_WELL]
    inside = [(finding.at, finding.value) for finding in room if finding.value is not None]
    least = min((value for _, value in inside), default=0.0)
    sides = {at.rsplit(" ", 1)[-1] for at, value in inside if value - least < _ALIKE}
    return "port" if sides == {"port"} else "starboard"
