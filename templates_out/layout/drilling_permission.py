"""The question that every sheet asks first: may the holes be drilled, and if not, why not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.judge.drillable import drillable

if TYPE_CHECKING:
    from geometry.judge.findings import Checked

NOT_TO_BE_DRILLED = "NOT TO BE DRILLED"
NOT_TO_BE_MADE = "NOT TO BE MADE"


def stamp(checked: Checked) -> str | None:
    """Return the reason that is printed with NOT TO BE DRILLED; None only where the answer is yes."""
    answered = drillable(checked)
    if answered.answer == "yes":
        return None
    return answered.why_not or "The program does not say yet that these holes may be drilled."
