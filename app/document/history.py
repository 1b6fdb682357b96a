"""Undo and redo as a list of finished designs. No step needs an inverse."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design


class Step(msgspec.Struct, frozen=True):
    """A design and the words of its edit, such as "Drop to 7 1/4 in"; "" for the first."""

    label: str
    design: Design


class History(msgspec.Struct, frozen=True):
    """The present step, the past ones (oldest first), and the ones that undo took back (next first)."""

    present: Step
    past: tuple[Step, ...] = ()
    future: tuple[Step, ...] = ()

    def do(self, label: str, design: Design) -> History:
        """Return the history with one more step; the same history where the design is equal."""
        if design == self.present.design:
            return self
        return History(Step(label, design), (*self.past, self.present))

    def undo(self) -> History:
        """Return the history one step back; the same history where there is none."""
        if not self.past:
            return self
        return History(self.past[-1], self.past[:-1], (self.present, *self.future))

    def redo(self) -> History:
        """Return the history with the last undone step done again; the same history where there is none."""
        if not self.future:
            return self
        return History(self.future[0], (*self.past, self.present), self.future[1:])

    @property
    def steps(self) -> tuple[Step, ...]:
        """All steps, the first one first, undone ones last."""
        return (*self.past, self.present, *self.future)

    def at(self, index: int) -> History:
        """Return the history at the step ``index`` of `steps`. Nothing is lost.

        Raises:
            IndexError: there is no such step.
        """
        steps = self.steps
        return History(steps[index], steps[:index], steps[index + 1 :])

    def everywhere(self, change: Callable[[Design], Design]) -> History:
        """Return the history with ``change`` made to every design, for a change that undo must not take back."""

        def changed(steps: tuple[Step, ...]) -> tuple[Step, ...]:
            return tuple(replace(step, design=change(step.design)) for step in steps)

        return History(changed((self.present,))[0], changed(self.past), changed(self.future))
