"""The reading that doubtful findings say to take first: the same one in all of them, and in the answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.edits.reading_order import in_order
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.words import AGAIN
from geometry.readings.measures import guess_of, measure, name_of

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked, Finding


def with_first_reading(checked: Checked, asked: str = "") -> Checked:
    """Return the findings with the reading that comes first: each one that is in doubt says it.

    It is the reading that is asked for, where one is. Else it is the first guess that room rests on. Where nothing
    rests on a guess, it is the reading that moves the finding itself most. A load always names its own.

    Args:
        asked: the key of the reading that is asked for, "" for none.
    """
    design = checked.design
    behind = {key: None for each in checked.findings if CHECK_KINDS[each.check].by_chance for key in each.guesses}
    first = asked or next(iter(in_order(design, behind)), "")
    return replace(checked, findings=tuple(_named(design, finding, first) for finding in checked.findings))


def _named(design: Design, finding: Finding, first: str) -> Finding:
    if not finding.doubtful:
        return finding
    key = first if first and CHECK_KINDS[finding.check].by_chance else finding.moved_by[0]
    row = measure(design, key)
    again = "" if row is not None and (guess_of(design, row) or row.get(design) is None) else " again"
    return replace(finding, text=f"{finding.text.partition(AGAIN)[0]}{AGAIN}{name_of(design, key)}{again}.")
