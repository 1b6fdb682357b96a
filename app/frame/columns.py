"""Lays out the window's parts: three columns, or one part at a time in a narrow window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtWidgets import QWidget

from app.ladder.ladder_strip import CLOSED, LadderStrip
from app.ui.basic_widgets import FittedStack, SharedSplitter, ground, hairline

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QResizeEvent

    from app.document.view_state import ViewState
    from app.printing.taped_strip import TapedStrip
    from geometry.judge.findings import Checked

WIDE = 1700  # px: above this the margins keep their width and the face takes the rest
NARROW = 900  # px: below this one part is shown at a time
SQUEEZED = 1180  # px: below this the cut folds to `FOLDED`
FOLDED = 200
LOW = 680  # px: in a window lower than this the ladder opens over the face
PARTS = ("card", "face", "cut", "findings")


def columns_of(width: int) -> list[int]:
    """Return the widths of card, face and right margin [px]: 22, 48 and 30 %, fixed margins where there is room."""
    card, right = (340, 480) if width > WIDE else (max(284, round(width * 0.22)), max(284, round(width * 0.304)))
    return [card, width - card - right, right]


def comparing_columns_of(width: int) -> list[int]:
    """Return the same widths while placements are side by side: they have the card's place too."""
    card, middle, right = columns_of(width)
    return [0, card + middle, right]


def rows(height: int) -> list[int]:
    """Return the heights of the cut and of the findings below it [px]."""
    cut = round(height * 0.565)
    return [cut, height - cut]


def folded_rows(height: int) -> list[int]:
    """Return the same where the window is narrow: the cut folds."""
    cut = min(FOLDED, height // 2)
    return [cut, height - cut]


def deciding_rows(height: int) -> list[int]:
    """Return the same while a list to decide by is in the findings' place: it needs more room than they do."""
    cut = round(height * 0.42)
    return [cut, height - cut]


class SheetsStack(FittedStack):
    """Two parts in one place. The second is made later, and is shown while the sheets are made."""

    def __init__(self, drawing: QWidget) -> None:
        super().__init__()
        self.addWidget(drawing)

    def add(self, sheets: QWidget) -> None:
        """Add the second part."""
        self.addWidget(sheets)

    def show_checked(self, _checked: Checked, view_state: ViewState) -> None:
        """Show the part for the drawing, or the part for the sheets."""
        if self.currentIndex() != int(view_state.sheets):
            self.setCurrentIndex(int(view_state.sheets))


class FaceColumn(QWidget):
    """The face under its head, and the ladder below it. In a low window the open ladder covers a part of the face."""

    def __init__(self, head: QWidget, hint: QWidget, face: QWidget, ladder: LadderStrip) -> None:
        super().__init__()
        ground(self, "card")
        self._line = hairline()
        self._head, self._hint, self._face, self._ladder = head, hint, face, ladder
        self._strip: TapedStrip | None = None
        self._hint_waits = False
        for part in (head, hint, face, self._line, ladder):
            part.setParent(self)
        ladder.opened.connect(self._lay)

    def add(self, strip: TapedStrip) -> None:
        """Add the strip that takes the ladder's place while the sheets are made."""
        self._strip = strip
        strip.setParent(self)

    def show_checked(self, _checked: Checked, view_state: ViewState) -> None:
        """Hide ladder and hint while the sheets are made. An unread hint comes back with the drawing."""
        if self._ladder.isHidden() != view_state.sheets:
            self._ladder.setVisible(not view_state.sheets)
            if view_state.sheets:
                self._hint_waits = not self._hint.isHidden()
            self._hint.setVisible(self._hint_waits and not view_state.sheets)
            self._lay()

    def minimumSizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return the least size that still shows something."""
        return QSize(240, 200)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Lay out the parts again."""
        super().resizeEvent(event)
        self._lay()

    def event(self, event: QEvent) -> bool:
        """Lay out the parts again where one has changed its height."""
        done = super().event(event)
        if event.type() == QEvent.Type.LayoutRequest:
            self._lay()
        return done

    def _lay(self) -> None:
        wide, high = self.width(), self.height()
        head = self._head.height()
        below: QWidget = self._strip if self._strip is not None and self._ladder.isHidden() else self._ladder
        foot = min(max(_height(below, wide), below.minimumHeight()), high - head)
        over = below is self._ladder and self._ladder.is_open and self.window().height() < LOW
        closed = CLOSED if over else foot
        self._head.setGeometry(0, 0, wide, head)
        if not self._hint.isHidden():
            hint = _height(self._hint, wide)
            self._hint.setGeometry(0, head, wide, hint)
            head += hint
        self._face.setGeometry(0, head, wide, max(0, high - head - closed - 1))
        self._line.setGeometry(0, high - foot - 1, wide, 1)
        below.setGeometry(0, high - foot, wide, foot)
        self._line.raise_()
        below.raise_()


def _height(part: QWidget, wide: int) -> int:
    return part.heightForWidth(wide) if part.hasHeightForWidth() else part.sizeHint().height()


class Columns(SharedSplitter):
    """Card, face, right margin; in a narrow window one of four parts.

    Signals:
        turned: (whether one part is shown at a time, which).
    """

    turned = Signal(bool, str)

    def __init__(
        self, card: QWidget, middle: QWidget, right: QWidget, upright: SharedSplitter, cut: QWidget, findings: QWidget
    ) -> None:
        super().__init__(Qt.Orientation.Horizontal, columns_of)
        self._card, self._middle, self._right, self._upright = card, middle, right, upright
        self._cut, self._findings = cut, findings
        self.add(card, middle, right)
        self.narrow, self.current = False, "face"
        self._squeezed = self._deciding = self._comparing = False

    def show_comparing(self, index: int) -> None:
        """Give the card's place to the middle's second page: placements side by side."""
        self._comparing = index > 0
        self._apply()
        self.reshare(comparing_columns_of if self._comparing else columns_of)

    def show_deciding(self, index: int) -> None:
        """Give the findings' place more room while something else than they is there: its second page."""
        self._deciding = index > 0
        self._upright.prefer(self._rows())

    def _rows(self) -> Callable[[int], list[int]]:
        if self._squeezed and not self.narrow:
            return folded_rows
        return deciding_rows if self._deciding else rows

    def minimumSizeHint(self) -> QSize:  # noqa: N802 (Qt's name)
        """Return a small size: a narrow window shows only one part."""
        return QSize(300, 200)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Show all parts, or one part where there is no room for all."""
        wide = self.window().width()
        if (wide < NARROW) != self.narrow:
            self.narrow = wide < NARROW
            self._apply()
        if (wide < SQUEEZED) != self._squeezed:
            self._squeezed = wide < SQUEEZED
            self._upright.reshare(self._rows())
        super().resizeEvent(event)

    def show_part(self, name: str) -> None:
        """Show one of the four parts, in a narrow window."""
        self.current = name
        self._apply()

    def reveal(self, part: QWidget) -> None:
        """Show the part with ``part`` in it, in a narrow window."""
        places = {"card": self._card, "face": self._middle, "cut": self._cut, "findings": self._findings}
        name = next((name for name, place in places.items() if place is part or place.isAncestorOf(part)), None)
        if name is None and self._right.isAncestorOf(part):
            name = "cut"
        if self.narrow and name is not None and name != self.current:
            self.show_part(name)

    def _apply(self) -> None:
        alone = self.current if self.narrow else ""
        self._card.setVisible(alone == "card" or not (alone or self._comparing))
        self._middle.setVisible(alone in ("", "face"))
        self._right.setVisible(alone in ("", "cut", "findings"))
        self._cut.setVisible(alone in ("", "cut"))
        self._findings.setVisible(alone in ("", "findings"))
        self.restore()
        self.turned.emit(self.narrow, self.current)
