"""The findings below the cut; in their place, while something is to be decided, a panel for it. The cut stays in sight."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from app.document.view_state import ViewState
from app.ui.basic_widgets import FittedStack, ground
from app.ui.deciding_modes import FIT, LOW_ENOUGH, with_mode

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QKeyEvent

    from app.deciding.find_fit_panel import FitPanel
    from app.deciding.motor_height_panel import LowEnoughPanel
    from geometry.judge.findings import Checked


class Panels(FittedStack):
    """The panels to decide by, each made when it is first wanted; only the visible one is updated.

    Signals:
        committed: (label, design). view_changed: a view state. wanted: key of a measure to take.
    """

    committed = Signal(str, object)
    view_changed = Signal(object)
    wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self._view_state = ViewState()
        self._made: dict[str, FitPanel | LowEnoughPanel] = {}

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show the panel that is asked for."""
        self._view_state = view_state
        name = view_state.deciding if view_state.deciding in _MAKERS and not view_state.sheets else ""
        for other, panel in self._made.items():
            if other != name:
                panel.rest(view_state)
        if not name or not checked.design.mounts:
            return
        fresh = name not in self._made
        if fresh:
            self._made[name] = self._make(name)
        came = fresh or self.currentWidget() is not self._made[name] or not self.isVisible()
        self.setCurrentWidget(self._made[name])
        self._made[name].show_checked(checked, view_state)
        if came and view_state.deciding == name:
            self.setAccessibleName(self._made[name].accessibleName())

    def take_focus(self) -> None:
        """Take the focus."""
        panel = self.currentWidget()
        if panel in self._made.values():
            panel.take_focus()  # type: ignore[union-attr]

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Escape goes back to the findings."""
        if event.key() == Qt.Key.Key_Escape:
            self.view_changed.emit(with_mode(self._view_state, ""))
        else:
            super().keyPressEvent(event)

    def _make(self, name: str) -> FitPanel | LowEnoughPanel:
        made = _MAKERS[name](self)
        made.view_changed.connect(self.view_changed)
        made.wanted.connect(self.wanted)
        self.addWidget(made)
        return made


def _fit(panels: Panels) -> FitPanel:
    from app.deciding.find_fit_panel import FitPanel

    made = FitPanel()
    made.committed.connect(panels.committed)
    return made


def _low_enough(_panels: Panels) -> LowEnoughPanel:
    from app.deciding.motor_height_panel import LowEnoughPanel

    return LowEnoughPanel()


_MAKERS: dict[str, Callable[[Panels], FitPanel | LowEnoughPanel]] = {FIT: _fit, LOW_ENOUGH: _low_enough}
"""What makes each panel that comes in the findings' place, by its mode."""


class Aside(FittedStack):
    """The findings, or what is to be decided.

    Signals:
        revealed: a panel has come in their place.
    """

    revealed = Signal(object)

    def __init__(self, usual: QWidget) -> None:
        super().__init__()
        self.panels = Panels()
        self._view_state = ViewState()
        self.addWidget(usual)
        self.addWidget(self.panels)

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show the one that belongs to what is being done."""
        self._view_state = view_state
        self.panels.show_checked(checked, view_state)
        wanted = int(view_state.deciding in _MAKERS and bool(checked.design.mounts))
        if wanted == self.currentIndex():
            return
        self.setCurrentIndex(wanted)
        if wanted:
            self.revealed.emit(self.panels)
            if self.panels.isVisible():
                self.panels.take_focus()

    @property
    def open_parts(self) -> tuple[QWidget, ...]:
        """The panels in the place of the findings; none while those are there."""
        return (self.panels,) if self.currentIndex() == 1 else ()

    def leave(self, part: str) -> None:
        """Go back to the findings where they are asked for by their name, and a panel is in sight in their place."""
        if part == "findings" and self.isVisible() and self._view_state.deciding in _MAKERS:
            self.panels.view_changed.emit(replace(self._view_state, deciding="", ghost=None))
