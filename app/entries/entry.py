"""One entry of the card: a name, a field, and how to measure it. It passes text on and calculates nothing."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, get_args

from PySide6.QtCore import QEvent, QLineF, QObject, QPoint, QRectF, QSignalBlocker, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
)
from PySide6.QtWidgets import QApplication, QBoxLayout, QHBoxLayout, QLabel, QLineEdit, QMenu, QSizePolicy, QVBoxLayout, QWidget

from app.entries.entry_text import SURE
from app.ui.basic_widgets import StateMark, recolour, shows_focus, unbroken, words
from app.ui.palette import of
from app.ui.typography import sized
from geometry.design.design import How
from geometry.design.measure import tool_word

if TYPE_CHECKING:
    from app.entries.entry_text import Line, Room
    from geometry.design.design import Edge

EDGE_WIDE = 150
_WIDE: dict[Room, int] = {"figure": 104, "words": 180, "line": 224}
ENTRY_HIGH = 30
_ORIGIN_WORDS = {"guess": "guess", "to buy": "to buy", "unlikely": SURE}
_AWAY = (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason)  # the hand comes back to it


class Field(QLineEdit):
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
        self.setFrame(False)
        self.setFixedSize(_WIDE["figure"], ENTRY_HIGH - 4)
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
        self.setFixedWidth(EDGE_WIDE if edge else _WIDE[room])
        words_wide = (self.origin.width() + 4 if worded else 0) + (self.edge.width() + 4 if edge else 0)
        self.setTextMargins(words_wide, 0, 6, 0)
        if not kept:
            self._fill(edit if self.hasFocus() else rest)
        self._tint()

    def refuse(self) -> None:
        """Keep a text that was not taken, until Escape or a better one; after a step there is none."""
        self._refused = self.text() != self._edit

    def commit(self) -> None:
        """Send the text if it was changed; one that was typed over an equal guess makes it measured."""
        if self.text() not in (self._edit, self._rest) or (self._guess and self._touched):
            self._refused, self._sent, self._touched = False, self.text(), False
            self.typed.emit(self.text())
            self._sent = None

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window, unless the field has a typed text to take back."""
        standard, override = QKeySequence.StandardKey, QEvent.Type.ShortcutOverride
        if (
            isinstance(event, QKeyEvent) and event.type() == override and not self.pending
            and (event.matches(standard.Undo) or event.matches(standard.Redo))
        ):  # fmt: skip
            event.ignore()
            return False
        return super().event(event)

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
        self._tint()
        if event.reason() in _AWAY:  # back from another window, or a menu: what was being typed goes on
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
        if event.reason() in _AWAY:
            return
        self.commit()
        if not self._refused:
            self._fill(self._rest)
        self.deselect()
        self._tint()

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

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Take the colours of another light."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._tint()

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

    def _tint(self) -> None:
        """The ground is white only while focused, a guess is soft; both come from the window's own palette."""
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


class Entry(QWidget):
    """A name, a field, and two lines of how-to while it is focused.

    Signals:
        typed: (key, text). focused: key. stepped: (key, direction). step_ended, gone_on: key.
        confirmed: key; the word `guess`, `to buy` or `sure?` was clicked. read_with: (key, what with).
        counted_as: (key, origin).
        read_to: (key, edge); another edge was chosen for a reading.
    """

    typed = Signal(str, str)
    focused = Signal(str)
    stepped = Signal(str, int)
    step_ended = Signal(str)
    gone_on = Signal(str)
    confirmed = Signal(str)
    read_with = Signal(str, str)
    counted_as = Signal(str, str)
    read_to = Signal(str, str)

    def __init__(self) -> None:
        super().__init__()
        self.key = ""
        self.field = Field()
        self._name = words(wrap=True)
        self._note: QLabel | None = None
        self._below: _Below | None = None
        self._problem = self._how_to = self._spoken = ""
        row = self._row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self._name, 1)
        row.addWidget(self.field, 0, Qt.AlignmentFlag.AlignRight)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 2, 0, 2)
        self._column.setSpacing(0)
        self._column.addLayout(row)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.field.typed.connect(lambda text: self.typed.emit(self.key, text))
        self.field.focused.connect(self._on_focus)
        self.field.restored.connect(self._on_restored)
        self.field.stepped.connect(lambda way: self.stepped.emit(self.key, way))
        self.field.step_ended.connect(lambda: self.step_ended.emit(self.key))
        self.field.gone_on.connect(lambda: self.gone_on.emit(self.key))
        self.field.read_with.connect(lambda way: self.read_with.emit(self.key, way))
        self.field.counted_as.connect(lambda origin: self.counted_as.emit(self.key, origin))
        self.field.origin.clicked.connect(lambda: self.confirmed.emit(self.key))
        self.field.edge.picked.connect(lambda edge: self.read_to.emit(self.key, edge))
        self.field.installEventFilter(self)
        self._unfold(open_=False)

    def show_line(self, line: Line, name: str) -> None:
        """Show one line of the card under a name; a text that is being typed, or was refused, stays with its sentence."""
        if line.key != self.key:
            self.key, self._problem = line.key, ""
        self._how_to, self.field.way, self.field.counts = line.how, line.way, line.counts
        self._name.setText(name)
        self.field.setAccessibleName(line.name)
        self._spoken = f"{line.how} {line.note or (line.origin if line.edit else '')}".strip()
        self._show_note(line.note)
        self.field.setReadOnly(line.origin == "calculated" or line.shape)
        edge = self.edge if line.edge and line.origin == "not known" else line.edge  # chosen before the reading is typed
        shown = "unlikely" if line.unlikely else line.origin
        self.field.show_value(line.rest, line.edit, origin=shown, edge=edge, room=line.room)
        self._row.setDirection(QBoxLayout.Direction.TopToBottom if line.room == "line" else QBoxLayout.Direction.LeftToRight)
        self.field.edge.setAccessibleName(f"{line.name} is read to the {edge}")
        confirms = "confirm it" if line.unlikely else "confirm it as measured"
        self.field.origin.setAccessibleName(f"{line.name} is {origin_word(shown)}. Press to {confirms}")
        if not self.field.pending:
            self._problem = ""
        self._unfold(open_=self.field.hasFocus() or self.field.pointed)

    def _show_note(self, note: str) -> None:
        """Show where an assumption is from, always below its field."""
        if note and self._note is None:
            self._note = words(role="soft", size="small", wrap=True)
            self._column.insertWidget(1, self._note)
        if self._note is not None:
            self._note.setText(unbroken(note))
            self._note.setVisible(bool(note))

    def point_at(self, *, on: bool) -> None:
        """Light it, as focus does, while another part of the window points at it."""
        if on != self.field.pointed:
            self.field.pointed = on
            self.field.update()
            self._unfold(open_=on or self.field.hasFocus())

    @property
    def edge(self) -> Edge:
        """The part of the old hole that was read."""
        return self.field.edge.edge

    def stops(self) -> tuple[QWidget, ...]:
        """Return where Tab stops."""
        return self.field, self.field.origin, self.field.edge

    @property
    def sentence(self) -> str:
        """Why its text was not taken; "" where it was."""
        return self._problem

    def show_problem(self, sentence: str) -> None:
        """Show why a text was not taken; the text stays."""
        self._problem = sentence
        self.field.refuse()
        self._unfold(open_=True)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        """Fold the how-to away when the field is left."""
        popup = isinstance(event, QFocusEvent) and event.reason() == Qt.FocusReason.PopupFocusReason
        if event.type() == QEvent.Type.FocusOut and not popup:
            self._unfold(open_=False)
        return super().eventFilter(watched, event)

    def _on_focus(self) -> None:
        self._unfold(open_=True)
        self.focused.emit(self.key)

    def _on_restored(self) -> None:
        self._problem = ""
        self._unfold(open_=True)

    def _unfold(self, *, open_: bool) -> None:
        self.field.setAccessibleDescription(self._problem or self._spoken)
        shown = bool(self._problem) or (open_ and bool(self._how_to))
        if shown and self._below is None:  # made when it is first wanted: most entries are only read
            self._below = _Below()
            self._column.addWidget(self._below)
        if self._below is not None:
            self._below.tell(self._problem or self._how_to, wrong=bool(self._problem))
            self._below.setVisible(shown)
        self._name.setFont(sized(strong=shown))


class _Below(QWidget):
    """The lines below a field: how to measure it, or why its text was not taken."""

    def __init__(self) -> None:
        super().__init__()
        self._how = words(role="soft", size="small", wrap=True)
        self._mark = StateMark(14)
        self._mark.show_state("fouled")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 4, 0, 8)
        row.setSpacing(6)
        row.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._how, 1)

    def tell(self, text: str, *, wrong: bool) -> None:
        self._how.setText(unbroken(text))
        recolour(self._how, "ink" if wrong else "soft")
        self._mark.setVisible(wrong)


class OriginWord(QLabel):
    """The word `guess`, `to buy` or `sure?` in a field; a click, or Enter, confirms the value."""

    clicked = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setFont(sized("small"))
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.show_origin("guess")
        self.hide()

    def show_origin(self, origin: str) -> bool:
        """Show the word of a guess, soft, of a size to buy, or of an unlikely reading; return whether there is one."""
        worded = origin in _ORIGIN_WORDS
        if worded and _ORIGIN_WORDS[origin] != self.text():
            self.setText(_ORIGIN_WORDS[origin])
            unlikely = "This is unlikely. Read it again, or click here to confirm it."
            self.setToolTip(unlikely if origin == "unlikely" else "Click here after you have measured it.")
            self.setForegroundRole(QPalette.ColorRole.PlaceholderText if origin == "guess" else QPalette.ColorRole.WindowText)
            self.adjustSize()
            self.move(4, (ENTRY_HIGH - 4 - self.height()) // 2)
        self.setVisible(worded)
        return worded

    def mousePressEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """A click confirms."""
        self.clicked.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter or Space confirms."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.clicked.emit()
        else:
            super().keyPressEvent(event)


class EdgeWord(QLabel):
    """The words `centre`, `near edge` or `far edge` in a field; a click, or Enter, lists the others.

    Signals:
        picked: one of them.
    """

    picked = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__("centre", parent)
        self.edge: Edge = "centre"
        self.setFont(sized("small"))
        self.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setToolTip("The part of the hole that you read: its centre, near edge or far edge")
        self.hide()

    def show_edge(self, edge: str, *, left: int) -> None:
        """Show the part of the old hole that is read."""
        self.edge = edge_of(edge)
        if self.isHidden():
            return
        self.setText(self.edge)
        self.adjustSize()
        self.move(left, (ENTRY_HIGH - 4 - self.height()) // 2)

    def mousePressEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """A click lists them."""
        self.open()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter, Space or Down lists them."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space, Qt.Key.Key_Down):
            self.open()
        else:
            super().keyPressEvent(event)

    @cached_property
    def menu(self) -> QMenu:
        """Return the list, made when it is first opened: few entries ever need it."""
        menu = QMenu(self)
        for edge in ("centre", "near edge", "far edge"):
            menu.addAction(f"Read to its {edge}").triggered.connect(lambda _on=False, edge=edge: self._take(edge))
        return menu

    def open(self) -> None:
        """List them."""
        self.menu.popup(self.mapToGlobal(QPoint(0, self.height())))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the word, dotted below; a frame for the focus."""
        super().paintEvent(event)
        colours, painter = of(self), QPainter(self)
        pen = QPen(colours["new" if shows_focus(self) else "edge"], 1)
        pen.setDashPattern([1, 2])
        painter.setPen(pen)
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)

    def _take(self, edge: str) -> None:
        self.show_edge(edge, left=self.x())
        self.picked.emit(edge)


def origin_word(origin: str) -> str:
    """Return where a value is from, as a sentence has it: "a guess", "measured"."""
    return "a guess" if origin == "guess" else origin


def edge_of(word: str) -> Edge:
    """Return the part of an old hole that a word names."""
    return "near edge" if word == "near edge" else "far edge" if word == "far edge" else "centre"
