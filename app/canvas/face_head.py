"""The strip over the face: what is drawn below it."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.panels.parts import ground, words

HIGH = 30


class FaceHead(QWidget):
    """One line over the face."""

    def __init__(self) -> None:
        super().__init__()
        ground(self, "sheet")
        self.setFixedHeight(HIGH)
        row = QHBoxLayout(self)
        row.setContentsMargins(24, 0, 16, 0)
        row.addWidget(words("Face of the transom", strong=True))
