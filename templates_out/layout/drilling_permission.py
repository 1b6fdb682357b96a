"""The question that every sheet asks first: may the holes be drilled, or one pilot only, and if not, why not."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from geometry.judge.drillable import drillable

if TYPE_CHECKING:
    from geometry.judge.drillable import FirstPilot
    from geometry.judge.findings import Checked

NOT_TO_BE_DRILLED = "NOT TO BE DRILLED"
NOT_TO_BE_MADE = "NOT TO BE MADE"
PILOT_ONLY = "PILOT ONLY"
DO_NOT_DRILL_ON = "Do not drill to the final size by this sheet."
"""Of 1,000 simulated boats, 42 that were drilled to size by a sheet for pilots had a wrong hole: our calculation."""


class Stamp(msgspec.Struct, frozen=True):
    """The stamp of a sheet that is not to be drilled by, or by which one pilot is drilled.

    Attributes:
        words: "NOT TO BE DRILLED" or "PILOT ONLY". reason: the reason, with what to do.
        pilot: the pilot to drill; None where nothing is drilled.
    """

    words: str
    reason: str
    pilot: FirstPilot | None = None

    @property
    def warning(self) -> str:
        """Both in a line, for what is written of a page outside it."""
        return f"{self.words}. {self.reason}"


def stamp(checked: Checked) -> Stamp | None:
    """Return the stamp of a design's sheets; None only where the answer is yes."""
    answered = drillable(checked)
    if answered.answer == "yes":
        return None
    if answered.pilot is not None:
        return Stamp(PILOT_ONLY, f"{answered.why_not} {DO_NOT_DRILL_ON}", answered.pilot)
    return Stamp(NOT_TO_BE_DRILLED, answered.why_not or "The program does not say yet that these holes may be drilled.")


def drilled_at(stamped: Stamp | None, mount: int, hole: str) -> Literal["all", "pilot", "later", "none"]:
    """Return what is drilled at a hole by a sheet: all, its pilot only, a pilot on a later sheet, or nothing."""
    if stamped is None:
        return "all"
    if stamped.pilot is None:
        return "none"
    return "pilot" if (stamped.pilot.mount, stamped.pilot.hole) == (mount, hole) else "later"


def stops_all(stamped: Stamp | None) -> bool:
    """Return whether nothing at all is drilled by a sheet."""
    return stamped is not None and stamped.pilot is None
