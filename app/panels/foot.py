"""The foot line: what the pointer is on; snap, unit, scale, and whether it is saved."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from app.panels.parts import ground, words
from app.tools import snap
from geometry.design.measures import measure

if TYPE_CHECKING:
    from app.sight import Sight
    from geometry.judge.findings import Checked

HIGH = 28


class FootLine(QWidget):
    """One line at the foot of the window."""

    def __init__(self) -> None:
        super().__init__()
        ground(self, "card")
        self.setFixedHeight(HIGH)
        self.setAccessibleName("Foot line")
        self._said = words(role="soft", size="small")
        self._said.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._state = words(role="soft", size="small")
        self._unit = self._scale = self._saved = self._lit = ""
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 0, 16, 0)
        row.addWidget(self._said, 1)
        row.addWidget(self._state)

    def show_checked(self, checked: Checked, sight: Sight) -> None:
        """Show what is lit, and the unit."""
        unit = checked.design.units
        self._unit = f"snap {snap.WORDS[unit]}  ·  {'inches' if unit == 'in' else 'millimetres'}"
        if sight.lit != self._lit:
            self._lit = sight.lit
            lit = measure(checked.design, sight.lit)
            self.say("" if lit is None else f"{lit.name}: {lit.how[0].lower()}{lit.how[1:]}")
        self._tell()

    def show_scale(self, scale: float) -> None:
        """Show the face's scale, paper for boat."""
        self._scale = f"scale {scale:.1f}:1" if scale > 1 else f"scale 1:{1 / scale:.1f}"
        self._tell()

    def show_saved(self, said: str) -> None:
        """Show whether it is saved: "saved 10:42"."""
        self._saved = said
        self._tell()

    def say(self, sentence: str) -> None:
        """Show what the pointer is on, or why something stays where it is."""
        self._said.setText(sentence)

    @property
    def said(self) -> str:
        """What it says at the left."""
        return self._said.text()

    def _tell(self) -> None:
        self._state.setText("  ·  ".join(word for word in (self._unit, self._scale, self._saved) if word))
