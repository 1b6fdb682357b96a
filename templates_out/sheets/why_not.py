"""Why a template is not to be drilled by."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.judge.findings import worst

if TYPE_CHECKING:
    from geometry.judge.findings import Checked

_INSIDE = ("washer", "nut", "socket")  # the checks whose guesses and gaps make a template dangerous


def why_not(checked: Checked) -> str | None:
    """Return in a sentence or two why nobody may drill by this design's template, None where one may.

    A design that is fouled, a demonstration, or one whose washers, nuts or sockets are unknown or rest on guesses.
    """
    reasons = []
    if checked.design.demonstration:
        reasons.append("This is a demonstration boat, not yours.")
    if checked.verdict == "fouled" and (found := worst(checked.findings)) is not None:
        reasons.append(found.text)
    inside = [finding for finding in checked.findings if finding.check in _INSIDE]
    unknown = next((finding for finding in inside if finding.state == "unknown"), None)
    if unknown is not None:
        reasons.append(unknown.text)
    elif any(finding.guesses for finding in inside):
        count = len({key for finding in inside for key in finding.guesses})
        few = "a reading that is a guess" if count == 1 else f"{count} readings that are guesses"
        reasons.append(f"The washers, nuts and sockets rest on {few}. Measure, then print again.")
    return " ".join(reasons) or None
