"""The manual's window: contents at the left, the page on paper at the right. It is next to the work and hides none of it."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.help.contents import ContentsLine, FindLine
from app.help.manual_pages import Page, Part, anchor_of, manual, page_of, search
from app.help.picture_album import Album
from app.help.reader import Reader
from app.ui.basic_widgets import ScrollContent, ground, hairline, scrolled, words
from app.ui.window_place import keep_on_screen

if TYPE_CHECKING:
    from collections.abc import Iterable

    from PySide6.QtGui import QResizeEvent

    from app.help.shortcut_list import MenuLine

_CONTENTS, _NARROW = 250, 720  # px; a narrower window shows either the contents or the page
_SIZE = QSize(1010, 680)
_HERE = "files#this-manual"


def manual_of(menus: Iterable[MenuLine], parent: QWidget) -> Manual:
    """Return the manual of the window ``parent``; its shortcuts are read from the lines of that window's menus."""
    from app.help.shortcut_list import HAND, as_text, from_menus

    return Manual(as_text((*from_menus(menus), *HAND)), parent)


class Manual(QWidget):
    """The window that shows the manual.

    Args:
        keys: the shortcuts, in Markdown. parent: the window that it belongs to.

    Signals:
        opened: the place that is shown now.
    """

    opened = Signal(str)

    def __init__(self, keys: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle("Manual – Boltwell")
        self.setAccessibleName("Manual")
        ground(self, "card")
        self.pages: tuple[Page, ...] = manual(keys)
        self.place = ""
        self._past: list[str] = []
        self._narrow, self._asked = False, False
        self.reader = Reader(Album(self))
        self.reader.link_followed.connect(self.open)
        self.sought = FindLine()
        self.sought.textChanged.connect(self._look_for)
        self.sought.returnPressed.connect(self._take_first)
        self.lines: list[ContentsLine] = []
        self._place_parts()
        self._fill()
        for keys_, act in (("Ctrl+F", self._begin_find), ("Alt+Left", self.back), ("F1", lambda: self.open(_HERE))):
            QShortcut(QKeySequence(keys_), self, act)
        room = parent.size() if parent is not None else _SIZE
        self.resize(_SIZE.boundedTo(QSize(max(360, room.width()), max(300, room.height()))))
        keep_on_screen(self)

    def _place_parts(self) -> None:
        self.contents = QWidget()
        ground(self.contents, "card")
        inner = ScrollContent()
        self._list = QVBoxLayout(inner)
        self._list.setContentsMargins(0, 4, 0, 12)
        self._list.setSpacing(0)
        title = words("Manual", size="answer", strong=True)
        title.setContentsMargins(16, 14, 16, 4)
        box = QHBoxLayout()
        box.setContentsMargins(16, 0, 16, 8)
        box.addWidget(self.sought)
        column = QVBoxLayout(self.contents)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(title)
        column.addLayout(box)
        column.addWidget(scrolled(inner), 1)
        self.turn = ContentsLine("", "Contents")
        self.turn.clicked.connect(self._turn)
        self._parting = hairline(upright=True)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.contents)
        row.addWidget(self._parting)
        row.addWidget(self.reader, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.turn)
        whole.addLayout(row, 1)
        QWidget.setTabOrder(self.turn, self.sought)
        self._fit()

    # Reading

    def open(self, place: str) -> None:
        """Show a place, "page#anchor"; one that does not exist shows its page, else the first."""
        page = next((page for page in self.pages if page.name == page_of(place)), self.pages[0])
        if self.place and self.place != place:
            self._past.append(self.place)
        self.place, self._asked = place, False
        if self.reader.page is page:
            self.reader.go_to(anchor_of(place))
        else:
            self.reader.show_page(page, anchor_of(place))
        self._fill()
        self._fit()
        self.opened.emit(place)

    def show_at(self, place: str) -> None:
        """Come to the front, and show a place."""
        self.sought.clear()
        self.open(place)
        self.show()
        self.raise_()
        self.activateWindow()
        self.reader.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def back(self) -> None:
        """Show the place that was read before."""
        if self._past:
            before, self.place = self._past.pop(), ""
            self.open(before)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Clear the search with Escape; press it again to go back to the work."""
        if event.key() != Qt.Key.Key_Escape:
            super().keyPressEvent(event)
        elif self.sought.text():
            self.sought.clear()
            self.reader.setFocus()
        else:
            self.hide()
            parent = self.parentWidget()
            if parent is not None:
                parent.activateWindow()

    # Contents and finding

    def _fill(self) -> None:
        """List the pages, the open one with its parts, or the results of a search."""
        wanted = self._search_lines() if self.sought.text().strip() else self._contents()
        seen = [(line.place, line.text(), line.toolTip()) for line in self.lines]
        if seen != [(place, text, detail) for place, text, _, detail in wanted]:
            for line in self.lines:
                line.hide()
                line.deleteLater()
            while self._list.takeAt(0) is not None:
                continue
            self.lines = [ContentsLine(*row) for row in wanted]
            for line in self.lines:
                line.clicked.connect(lambda _on=False, line=line: self._choose(line))
                self._list.addWidget(line)
            self._list.addStretch(1)
            stops: tuple[QWidget, ...] = (self.sought, *self.lines, self.reader)
            for before, after in pairwise(stops):
                QWidget.setTabOrder(before, after)
        for line in self.lines:
            line.show_open(line.place == self.place or (line.place == page_of(self.place) and "#" not in line.place))

    def _contents(self) -> list[tuple[str, str, str, str]]:
        made = []
        for number, page in enumerate(self.pages, start=1):
            made.append((page.name, page.title, str(number), ""))
            if page.name == page_of(self.place):
                made += [(part.place, part.title, "", "") for part in page.parts if part.level == 2]
        return made

    def _search_lines(self) -> list[tuple[str, str, str, str]]:
        titles = {page.name: page.title for page in self.pages}
        hits = search(self.pages, self.sought.text())
        return [(hit.place, hit.title, "", _context(hit, titles[page_of(hit.place)], self.sought.text())) for hit in hits]

    def _choose(self, line: ContentsLine) -> None:
        self.open(line.place)
        self.reader.setFocus()
        if self.sought.text().strip():
            self.reader.find(self.sought.text().strip())

    def _begin_find(self) -> None:
        self._asked = True
        self._fit()
        self.sought.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.sought.selectAll()

    def _look_for(self) -> None:
        self._fill()

    def _take_first(self) -> None:
        if self.sought.text().strip() and self.lines:
            self._choose(self.lines[0])

    # Room

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Show contents and page side by side where both have room."""
        super().resizeEvent(event)
        self._fit()

    def _turn(self) -> None:
        self._asked = not self._asked
        self._fit()

    def _fit(self) -> None:
        self._narrow = self.width() < _NARROW
        self.turn.setVisible(self._narrow)
        self.turn.setText("Back to the page" if self._asked else "Contents")
        self.contents.setVisible(not self._narrow or self._asked)
        self.reader.setVisible(not self._narrow or not self._asked)
        self._parting.setVisible(not self._narrow)
        if self._narrow:
            self.contents.setMinimumWidth(0)
            self.contents.setMaximumWidth(16_777_215)
        else:
            self.contents.setFixedWidth(_CONTENTS)


def _context(hit: Part, title: str, words_: str) -> str:
    """Return the title of a result's page, and some words around the first word of the search."""
    first = words_.split(maxsplit=1)[0].lower()
    at = hit.text.lower().find(first)
    start = max(0, hit.text.rfind(" ", 0, max(0, at - 12)) + 1) if at > 0 else 0
    return f"{title}: {hit.text[start:start + 60]}" if hit.text else title
