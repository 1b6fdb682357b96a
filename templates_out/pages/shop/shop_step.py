"""A step of the work on the shop sheet, with all that it uses by the names of the lists To buy and Tools."""

from __future__ import annotations

from typing import NamedTuple


class Step(NamedTuple):
    """One step.

    Attributes:
        what: what to do. gate: when to stop after it, "" for never.
        uses: the keys of what is bought or brought for it: see ``shop_buy`` and ``shop_tools``.
        head: the heading that begins here, "" for none.
    """

    what: str
    gate: str = ""
    uses: tuple[str, ...] = ()
    head: str = ""


def used(steps: tuple[Step, ...]) -> frozenset[str]:
    """Return the keys of all that the steps use."""
    return frozenset(key for step in steps for key in step.uses)
