"""The next step, from the parts of a checked boat that come one after another: findings, then ladder, then chances."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.card.next_step import next_step
from app.document.view_state import ViewState

if TYPE_CHECKING:
    from app.card.next_step import Next
    from geometry.decide.ladder import Rung
    from geometry.judge.findings import Checked

_Asked = tuple["Checked", int, "tuple[Rung, ...] | None", tuple[str, ...], tuple[str, ...]]


class NextStepTracker:
    """Keeps the parts of a checked boat that have come, and gives the next step.

    Attributes:
        checked: what is shown; with chances, where they are known. view_state: what it is shown with.
        rungs: the ladder of the motor in hand; None while it is being calculated. sure: whether chances are known.
    """

    def __init__(self) -> None:
        self.checked: Checked | None = None
        self.rungs: tuple[Rung, ...] | None = None
        self.view_state, self.sure = ViewState(), False
        self._asked: _Asked | None = None
        self._next: Next | None = None

    def shows(self, checked: Checked) -> bool:
        """Return whether a checked design is the one that is shown."""
        return self.checked is not None and checked.design is self.checked.design

    def show_checked(self, checked: Checked, view_state: ViewState) -> bool:
        """Take another checked design, or the same with another view state; return whether it is another boat or motor."""
        same = self.shows(checked)
        if not same:
            self.checked, self.sure = checked, False
        if not same or view_state.mount != self.view_state.mount:
            self.rungs, same = None, False
        self.view_state = view_state
        return not same

    def show_rungs(self, rungs: tuple[Rung, ...]) -> None:
        """Take the ladder of what is shown."""
        self.rungs = rungs

    def show_doubts(self, checked: Checked) -> bool:
        """Take the same findings with their chances; return whether they belong to it."""
        fits = self.shows(checked)
        if fits:
            self.checked, self.sure = checked, True
        return fits

    @property
    def step(self) -> Next | None:
        """The next step, calculated again only where something has changed; None before the first boat."""
        if self.checked is None:
            return None
        again = tuple(key for key in self.view_state.again if key != self.view_state.lit)  # not while the hand is at it
        asked = self.checked, self.view_state.mount, self.rungs, again, self.view_state.passed
        if self._asked is None or self._next is None or not _alike(asked, self._asked):
            self._asked, self._next = asked, next_step(*asked)
        return self._next


def _alike(first: _Asked, other: _Asked) -> bool:
    return first[0] is other[0] and first[1] == other[1] and first[2] is other[2] and first[3:] == other[3:]
