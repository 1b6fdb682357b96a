"""The widget that shows a page of the manual."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QUrl, Signal
from PySide6.QtGui import QTextCursor, QTextDocument, QTextFrameFormat
from PySide6.QtWidgets import QFrame, QTextBrowser, QTextEdit

from app.help.typesetting import typeset
from app.ui.basic_widgets import ThinScrollBar, ground
from app.ui.palette import of

if TYPE_CHECKING:
    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QResizeEvent

    from app.help.manual_pages import Page
    from app.help.picture_album import Album
    from app.help.typesetting import Places

_WIDEST = 640  # px of a picture
_MARGIN, _NARROW_MARGIN, _NARROW = 44, 18, 520  # px; below the last the margins are small
_RESOURCE = QTextDocument.ResourceType.ImageResource


class Reader(QTextBrowser):
    """Shows one page.

    Signals:
        link_followed: the place of a link that the person clicked.
    """

    link_followed = Signal(str)

    def __init__(self, album: Album) -> None:
        super().__init__()
        self.setFrameShape(QFrame.Shape.NoFrame)
        ground(self.viewport(), "sheet")
        self.setVerticalScrollBar(ThinScrollBar(Qt.Orientation.Vertical))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setOpenLinks(False)
        self.setUndoRedoEnabled(False)
        self.setAccessibleName("Manual")
        self.page: Page | None = None
        self.anchor = ""
        self._album, self._column, self._read_on = album, 0, False
        self._places: Places = {}
        self.anchorClicked.connect(lambda url: self.link_followed.emit(url.toString()))
        self.verticalScrollBar().actionTriggered.connect(self._note_reading)
        album.picture_ready.connect(self._paint_again)

    def show_page(self, page: Page, anchor: str = "") -> None:
        """Show a page from one of its anchors on, else from its top."""
        self.page, self.anchor = page, anchor
        self._set()
        self.go_to(anchor)

    def go_to(self, anchor: str) -> None:
        """Bring an anchor to the top of the window, its words lit."""
        self.anchor = anchor
        start, end = self._places.get(anchor, (0, 0))
        self.document().pageCount()  # this makes Qt lay out all of it, which it otherwise does when a part is seen
        self.setExtraSelections(self._lit(start, end) if end else [])
        here = QTextCursor(self.document())
        here.setPosition(start)
        self.setTextCursor(here)  # Qt scrolls a text that it shows for the first time to its cursor
        top = self.document().documentLayout().blockBoundingRect(self.document().findBlock(start)).top() if end else 0.0
        self.verticalScrollBar().setValue(round(top) - 12 if end else 0)
        self._read_on = False

    @property
    def places(self) -> frozenset[str]:
        """The anchors of the page that is shown."""
        return frozenset(self._places)

    def loadResource(self, kind: int, url: QUrl | str) -> object:  # noqa: N802 (Qt's name)
        """Paint a picture when it is first seen."""
        if kind != _RESOURCE.value and kind != _RESOURCE:
            return None
        name = url if isinstance(url, str) else url.toString()
        return self._album.image(name, self._column, dark=of(self).dark, ratio=self.devicePixelRatioF())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 (Qt's name)
        """Set the page again where its column has another width."""
        super().resizeEvent(event)
        if self.page is None:
            return
        if self._width() != self._column:
            self._again()
        else:
            self._margins(self.document())
            if not self._read_on:
                self.go_to(self.anchor)

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 (Qt's name)
        """Set the page again in another light, or another size of type."""
        super().changeEvent(event)
        if event.type() in (event.Type.PaletteChange, event.Type.FontChange) and self.page is not None:
            self._again()

    def _again(self) -> None:
        """Set the page again, and keep the reader near the same place."""
        bar = self.verticalScrollBar()
        share = bar.value() / max(1, bar.maximum())
        self._set()
        if self._read_on:
            bar.setValue(round(share * bar.maximum()))
        else:
            self.go_to(self.anchor)

    def _note_reading(self, _action: int) -> None:
        self._read_on = True

    def _paint_again(self, name: str) -> None:
        if self.page is not None and name in self.page.pictures:
            picture = self._album.image(name, self._column, dark=of(self).dark, ratio=self.devicePixelRatioF())
            self.document().addResource(_RESOURCE.value, QUrl(name), picture)
            self.viewport().update()

    def _width(self) -> int:
        margin = _MARGIN if self.viewport().width() >= _NARROW else _NARROW_MARGIN
        return max(120, min(_WIDEST, self.viewport().width() - 2 * margin))

    def _set(self) -> None:
        if self.page is None:
            return
        self._column = self._width()
        document, self._places = typeset(self.page.text, self._album, self._column, of(self))
        document.setParent(self)
        self._margins(document)
        self.setDocument(document)  # Qt deletes the one before

    def _margins(self, document: QTextDocument) -> None:
        """Give the column its margins."""
        margin = _MARGIN if self.viewport().width() >= _NARROW else _NARROW_MARGIN
        sheet = QTextFrameFormat()
        sheet.setLeftMargin(margin)
        sheet.setRightMargin(max(0, self.viewport().width() - margin - self._column))
        sheet.setTopMargin(margin * 0.7)
        sheet.setBottomMargin(margin)
        document.rootFrame().setFrameFormat(sheet)

    def _lit(self, start: int, end: int) -> list[QTextEdit.ExtraSelection]:
        selection = QTextEdit.ExtraSelection()
        cursor = QTextCursor(self.document())
        cursor.setPosition(start)
        cursor.setPosition(end, QTextCursor.MoveMode.KeepAnchor)
        selection.cursor = cursor
        selection.format.setBackground(of(self)["lit"])
        return [selection]
