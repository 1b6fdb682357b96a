"""The right margin: the cut over the findings; in their place, while something is to be decided, a panel for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from app.document.selection import Sight
from app.ui.basic_widgets import Stack, ground
from app.ui.deciding_modes import FIT, LOW_ENOUGH, opened

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent

    from app.deciding.fit_panel import FitPanel
    from app.deciding.low_enough_panel import LowEnoughPanel
    from geometry.judge.findings import Checked


class Panels(Stack):
    """The panels to decide by, each made when it is first wanted; only the one that is seen is told anything.

    Signals:
        committed: (label, design). looked: a sight. wanted: key of a measure to take.
    """

    committed = Signal(str, object)
    looked = Signal(object)
    wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self._sight = Sight()
        self._made: dict[str, FitPanel | LowEnoughPanel] = {}

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show the panel that is asked for."""
        self._sight = sight
        name = sight.deciding if sight.deciding in (FIT, LOW_ENOUGH) and not sight.sheets else ""
        for other, panel in self._made.items():
            if other != name:
                panel.rest(sight)
        if not name or not checked.design.mounts:
            return
        fresh = name not in self._made
        if fresh:
            self._made[name] = self._make(name)
        came = fresh or self.currentWidget() is not self._made[name] or not self.isVisible()
        self.setCurrentWidget(self._made[name])
        self._made[name].show_checked(checked, sight)
        if came and sight.deciding == name:
            self.setAccessibleName(self._made[name].accessibleName())

    def take_hand(self) -> None:
        """Take the focus."""
        panel = self.currentWidget()
        if panel in self._made.values():
            panel.take_hand()  # type: ignore[union-attr]

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Escape goes back to the findings."""
        if event.key() == Qt.Key.Key_Escape:
            self.looked.emit(opened(self._sight, ""))
        else:
            super().keyPressEvent(event)

    def _make(self, name: str) -> FitPanel | LowEnoughPanel:
        made: FitPanel | LowEnoughPanel
        if name == FIT:
            from app.deciding.fit_panel import FitPanel

            made = FitPanel()
            made.committed.connect(self.committed)
        else:
            from app.deciding.low_enough_panel import LowEnoughPanel

            made = LowEnoughPanel()
        made.looked.connect(self.looked)
        made.wanted.connect(self.wanted)
        self.addWidget(made)
        return made


class Aside(Stack):
    """Cut and findings, or what is to be decided.

    Signals:
        revealed: a panel has come in their place.
    """

    revealed = Signal(object)

    def __init__(self, usual: QWidget) -> None:
        super().__init__()
        self.panels = Panels()
        self._sight = Sight()
        self.addWidget(usual)
        self.addWidget(self.panels)

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show the one that belongs to what is being done."""
        self._sight = sight
        self.panels.show_checked(checked, sight)
        wanted = int(sight.deciding in (FIT, LOW_ENOUGH) and bool(checked.design.mounts))
        if wanted == self.currentIndex():
            return
        self.setCurrentIndex(wanted)
        if wanted:
            self.revealed.emit(self.panels)
            if self.panels.isVisible():
                self.panels.take_hand()

    @property
    def open_parts(self) -> tuple[QWidget, ...]:
        """What stands in the place of cut and findings now; nothing while they are there themselves."""
        return (self.panels,) if self.currentIndex() == 1 else ()

    def leave(self, _part: str) -> None:
        """Go back to cut and findings: one of them is asked for by its name."""
        if self._sight.deciding in (FIT, LOW_ENOUGH):
            self.panels.looked.emit(replace(self._sight, deciding="", ghost=None))
