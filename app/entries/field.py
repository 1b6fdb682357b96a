"""The field of an entry: a hairline below, white only while focused. It calculates nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING, get_args

from PySide6.QtCore import QLineF, QRectF, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QApplication, QMenu

from app.entries.field_words import ENTRY_HIGH, EdgeWord, OriginWord, origin_word
from app.entries.windows_field import AWAY, WindowsField
from app.ui.basic_widgets import wide
from app.ui.palette import of
from app.ui.typography import row_high, sized
from geometry.design.design import How
from geometry.readings.measure import tool_word

if TYPE_CHECKING:
    from app.entries.entry_text import Room

EDGE_WIDE = 150
_WIDE: dict[Room, int] = {"figure": 104, "words": 180, "line": 176}


class Field(WindowsField):
    """The field: a hairline below, white only while focused; Enter goes on, Escape restores.

    Signals:
        typed: the text to commit; left alone it is never sent.
        read_with: what the reading was taken with, chosen in the field's menu. counted_as: where the value is from.
        focused, restored, gone_on (Enter), stepped (+1 or -1, by Up and Down), step_ended (the key is let go).
    """

    typed = Signal(str)
    read_with = Signal(str)
    counted_as = Signal(str)
    focused = Signal()
    restored = Signal()
    gone_on = Signal()
    stepped = Signal(int)
    step_ended = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setFixedSize(_WIDE["figure"], row_high(ENTRY_HIGH) - 4)
        self.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.setTextMargins(0, 0, 6, 0)
        self._rest = self._edit = ""
        self.origin, self.edge = OriginWord(self), EdgeWord(self)
        self._sent: str | None = None
        self._guess = self._refused = self._touched = False
        self.pointed = False  # whether another part of the window points at it
        self.way = ""  # what its reading was taken with, "" where that can't be said
        self.counts: tuple[str, ...] = ()  # where its value can be from; the first is where it is from
        self._entering = False  # whether the press that brought the focus goes on
        self.textEdited.connect(self._touch)

    @property
    def pending(self) -> bool:
        """Whether it holds a text that nobody has taken: still being typed, or refused."""
        return self._refused or (self.hasFocus() and self.text() not in (self._edit, self._sent))

    def show_value(self, rest: str, edit: str, *, origin: str = "", edge: str = "", room: Room = "figure") -> None:
        """Show a value: ``rest`` unfocused, ``edit`` (as typed) while focused; a pending text stays.

        Args:
            origin: where the value is from; a guess, a size to buy and an "unlikely" reading have a word.
            edge: what the reading is taken to, where that can be chosen. room: for how much text it is wide enough.
        """
        kept = self.pending
        self._rest, self._edit, self._guess = rest, edit, origin == "guess"
        worded = self.origin.show_origin(origin)
        self.edge.setVisible(bool(edge))
        self.edge.show_edge(edge or "centre", left=self.origin.width() + 8 if worded else 4)
        words_wide = (self.origin.width() + 4 if worded else 0) + (self.edge.width() + 4 if edge else 0)
        room_wide = wide(sized(), rest) + words_wide + 18 if room == "line" else 0  # a large font's words need more
        self.setFixedWidth(EDGE_WIDE if edge else max(_WIDE[room], room_wide))
        self.setTextMargins(words_wide, 0, 6, 0)
        if not kept:
            self._fill(edit if self.hasFocus() else rest)
        self.tint()

    def refuse(self) -> None:
        """Keep a text that was not taken, until Escape or a better one; after a step there is none."""
        self._refused = self.text() != self._edit

    def commit(self) -> None:
        """Send the text if it was changed; one that was typed over an equal guess makes it measured."""
        if self.text() not in (self._edit, self._rest) or (self._guess and self._touched):
            self._refused, self._sent, self._touched = False, self.text(), False
            self.typed.emit(self.text())
            self._sent = None

    @property
    def takes_undo(self) -> bool:
        """Whether it has a typed text to take back."""
        return self.pending

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter commits and goes on, Escape restores, Up and Down step."""
        match event.key():
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self.commit()
                if not self._refused:
                    self.gone_on.emit()
            case Qt.Key.Key_Escape:
                self._refused = self._touched = False
                self._fill(self._edit)
                self.selectAll()
                self.restored.emit()
            case Qt.Key.Key_Up:
                self.stepped.emit(1)
            case Qt.Key.Key_Down:
                self.stepped.emit(-1)
            case _:
                super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """A key held down is one step, until it is let go."""
        super().keyReleaseEvent(event)
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down) and not event.isAutoRepeat():
            self.step_ended.emit()

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """Show the value as it was typed, and say so."""
        super().focusInEvent(event)
        self.tint()
        if event.reason() in AWAY:  # back from another window, or a menu: what was being typed goes on
            return
        if not self._refused:
            self._fill(self._edit)
        self.selectAll()
        self._entering = event.reason() == Qt.FocusReason.MouseFocusReason
        self.focused.emit()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """A click that comes in selects all, so that typing replaces it; the next one places the cursor."""
        super().mousePressEvent(event)
        if self._entering:
            self.selectAll()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """A hand that shakes in that first click leaves all of it selected."""
        if not self._entering:
            super().mouseMoveEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """The first click is over."""
        super().mouseReleaseEvent(event)
        self._entering = False

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 (Qt's name)
        """Commit what was changed, and show the result."""
        super().focusOutEvent(event)
        self._entering = False
        self.step_ended.emit()  # the key that is held is let go elsewhere
        if event.reason() in AWAY:
            return
        self.commit()
        if not self._refused:
            self._fill(self._rest)
        self.deselect()
        self.tint()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:  # noqa: N802 (Qt's name)
        """List what every field offers, and what the reading may have been taken with."""
        menu = self.full_menu()
        menu.popup(event.globalPos())
        menu.aboutToHide.connect(menu.deleteLater)

    def full_menu(self) -> QMenu:
        """Return the list."""
        menu = self.createStandardContextMenu()
        if self.way:
            menu.addSeparator()
            ways = menu.addMenu("Read with")
            for way in get_args(How):
                action = ways.addAction(tool_word(way).capitalize())
                action.setCheckable(True)
                action.setChecked(way == self.way)
                action.triggered.connect(lambda _on=False, way=way: self.read_with.emit(way))
        if self.counts:
            origins = menu.addMenu("Counts as")
            for origin in self.counts:
                action = origins.addAction(origin_word(origin).capitalize())
                action.setCheckable(True)
                action.setChecked(origin == self.counts[0])
                action.triggered.connect(lambda _on=False, origin=origin: self.counted_as.emit(origin))
        return menu

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the text, and the line below or the frame of the focus."""
        super().paintEvent(event)
        colours, box = of(self), QRectF(self.rect())
        painter = QPainter(self)
        if self.hasFocus() or self.pointed:
            painter.setPen(QPen(colours["new"], 2))
            painter.drawRect(box.adjusted(1, 1, -1, -1))
        elif not self.isReadOnly():
            pen = QPen(colours["edge"], 1)
            if self._guess:
                pen.setDashPattern([1, 2])
            painter.setPen(pen)
            painter.drawLine(QLineF(0, box.bottom() - 0.5, box.right(), box.bottom() - 0.5))

    def tint(self) -> None:
        """White only while focused; a guess is soft. Both come from the window's own palette."""
        parts = QPalette.ColorRole
        whole = QApplication.palette()
        tinted = QPalette()  # the rest comes from the window, and follows its light
        if not self.hasFocus():
            tinted.setColor(parts.Base, whole.color(parts.Window))
            if self._guess:
                tinted.setColor(parts.Text, whole.color(parts.PlaceholderText))
        self.setPalette(tinted)
        self.setFont(sized(slanted=self.isReadOnly()))

    def _touch(self, text: str) -> None:
        self._touched = True
        if self._refused and text == self._edit:  # taken back, by undo or by hand: so is what was said of it
            self._refused = self._touched = False
            self.restored.emit()

    def _fill(self, text: str) -> None:
        self._touched = self._touched and text == self.text()
        if text != self.text():
            with QSignalBlocker(self):
                self.setText(text)
