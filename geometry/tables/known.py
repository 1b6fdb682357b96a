"""How well the numbers of these tables are known, and how to look up a row by its name.

Every row has its standard and one of these words. No row was read in the standard itself unless it says so. A number
marked "from memory" or "common practice" is never more than a starting value.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TypeVar

from geometry.errors import OwnerError

MM_PER_INCH = 25.4  # exact: the 1959 agreement, NIST SP 811, appendix B.9
KG_PER_POUND = 0.45359237  # exact: the 1959 agreement, NIST SP 811, appendix B.8
MPA_PER_KSI = 6.894757  # 1000 lbf/in2 in N/mm2, NIST SP 811, appendix B.9
N_PER_LBF = 4.4482216152605  # NIST SP 811, appendix B.8
NM_PER_LB_FT = 1.3558179483314004  # the same
KW_PER_HP = 0.745699872  # the same: mechanical horsepower, 550 ft lbf/s

SECONDARY = "read in a secondary copy"
MEMORY = "from memory"
PRACTICE = "common practice, no source"
CHOICE = "our assumption"
TEXTBOOK = "Shigley, Mechanical Engineering Design"

T = TypeVar("T")


class NotListedError(OwnerError, ValueError):
    """A name that no table lists. The message names the rows of the table."""


def inches(length: float) -> float:
    """Return ``length`` inches [mm], without the last figures of a float: 0.75 is 19.05, not 19.049999999999997."""
    return round(length * MM_PER_INCH, 9)


def look_up(table: Mapping[str, T], name: str, kind: str) -> T:
    """Return ``table[name]``.

    Raises:
        NotListedError: there is no such row; the message names the rows of the table.
    """
    row = table.get(name)
    if row is None:
        choices = ", ".join(table)
        raise NotListedError(f'There is no {kind} "{name}" in the tables. Choose one of: {choices}.')
    return row


def credit(source: str) -> str:
    """Return a source without how well it was read: the manual's page of sources says that, and names each number."""
    clauses = re.split(r"(?=[,;] )", source)
    return "".join(clause for clause in clauses if not clause.endswith((SECONDARY, MEMORY, "no source")))


def origin(source: str) -> str:
    """Return a source as an owner reads it: "from the standard (ISO 3506-1)", "common practice", "our assumption"."""
    credited = credit(source)
    if credited.startswith(TEXTBOOK):
        return f"from a textbook ({credited})"
    ours = credited.startswith((CHOICE, "common practice"))
    return credited if ours else f"from the standard ({credited})"
