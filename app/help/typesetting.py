"""Sets a page of the manual in type: the window's font and colours, pictures as wide as the column, words narrower."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from PySide6.QtGui import (
    QFont,
    QFontMetricsF,
    QTextBlock,
    QTextBlockFormat,
    QTextCharFormat,
    QTextCursor,
    QTextDocument,
    QTextFormat,
    QTextFrameFormat,
    QTextLength,
    QTextTable,
)

from app.help.manual_pages import slug
from app.help.picture_album import is_small
from app.ui.typography import sized

if TYPE_CHECKING:
    from collections.abc import Iterator

    from app.help.picture_album import Album
    from app.ui.palette import Palette

Places = dict[str, tuple[int, int]]
"""Anchors: from and to, in the document."""

_MEASURE = 66  # letters of average width in the longest line of prose
_LEADING, _HEAD_LEADING = 140.0, 115.0  # per cent
_CELL = 2  # px round the text of a table
_INDENT = 20  # px of a list
_KEYS_WIDE = 150  # px of the column of keys
_PADDING, _AROUND = 14, 10.0  # px inside a caution, and above and below it
_LETTER = "abcdefghijklmnopqrstuvwxyz"
_TOGETHER = re.compile(r"(?<=\d) (?=\d+/\d|in\b|mm\b|°)")
_FRAME_MARKS = "\u2029\ufdd0\ufdd1"  # characters of a text where a frame begins and ends
_HEIGHTS = QTextBlockFormat.LineHeightTypes
_HEADS = {1: (0, 14), 2: (24, 6), 3: (16, 4)}  # px above and below a heading, by its level


def typeset(text: str, album: Album, column: int, colours: Palette) -> tuple[QTextDocument, Places]:
    """Return a page's text, in Markdown, as a document for a column of ``column`` px, and where its anchors are."""
    return _Setter(album, column, colours).set(text)


class _Setter:
    """Sets one page."""

    def __init__(self, album: Album, column: int, colours: Palette) -> None:
        self._album, self._column, self._colours = album, column, colours
        measure = QFontMetricsF(sized()).horizontalAdvance(_LETTER) / len(_LETTER) * _MEASURE
        self._spare = max(0.0, column - measure)  # prose leaves so much of the column free

    def set(self, text: str) -> tuple[QTextDocument, Places]:
        document = QTextDocument()
        document.setDefaultFont(sized())
        document.setIndentWidth(_INDENT)
        document.setUndoRedoEnabled(False)
        document.setMarkdown(_TOGETHER.sub("\u00a0", text))
        for block in list(_blocks(document)):
            pictured = self._letters(document, block)
            self._paragraph(block, pictured=pictured)
        for block in reversed(list(_blocks(document))):  # from the end, since a new block moves all later ones
            self._caption(block)
            self._caution(document, block)
        for frame in document.rootFrame().childFrames():
            if isinstance(frame, QTextTable):
                self._table(frame)
        return document, _places(document)

    def _letters(self, document: QTextDocument, block: QTextBlock) -> bool:
        """Set a block's letters and pictures; return whether it is a whole picture."""
        level, pictured = block.blockFormat().headingLevel(), False
        font = {1: sized("answer", strong=True), 2: sized("section", strong=True), 3: sized(strong=True)}.get(level)
        for start, length, form in list(_pieces(block)):
            piece = QTextCursor(document)
            piece.setPosition(start)
            piece.setPosition(start + length, QTextCursor.MoveMode.KeepAnchor)
            if form.isImageFormat():
                picture = form.toImageFormat()
                size = self._album.size(picture.name(), self._column)
                picture.setWidth(size.width())
                picture.setHeight(size.height())
                picture.setVerticalAlignment(QTextCharFormat.VerticalAlignment.AlignMiddle)
                piece.setCharFormat(picture)
                pictured = pictured or not is_small(picture.name())
                continue
            letters = QTextCharFormat(form)
            letters.setForeground(self._colours["ink"])
            if font is not None:
                letters.clearProperty(QTextFormat.Property.FontSizeAdjustment)
                letters.setFont(font)
            if form.isAnchor():
                letters.setFontUnderline(True)
                letters.setUnderlineColor(self._colours["edge"])
            if form.fontFixedPitch():  # what a person may type
                letters.setFontFamilies([sized().family()])
                letters.setFontFixedPitch(False)
                letters.setBackground(self._colours["card"])
            piece.setCharFormat(letters)
        return pictured

    def _paragraph(self, block: QTextBlock, *, pictured: bool) -> None:
        """Give a block its line height and the space around it."""
        level, shape = block.blockFormat().headingLevel(), QTextBlockFormat()
        above, below = _HEADS.get(level, (0, 9))
        if block.textList() is not None and block.next().textList() is not None:
            below = 5
        if pictured:
            above, below = 16, 4
        shape.setTopMargin(above)
        if QTextCursor(block).currentTable() is None:
            shape.setBottomMargin(below)
            shape.setRightMargin(0.0 if pictured else self._spare)
        if not pictured:
            shape.setLineHeight(_HEAD_LEADING if level else _LEADING, _HEIGHTS.ProportionalHeight.value)
        QTextCursor(block).mergeBlockFormat(shape)

    def _caption(self, block: QTextBlock) -> None:
        """Write a picture's caption below it, small."""
        captions = [form.stringProperty(QTextFormat.Property.ImageAltText) for _, _, form in _pieces(block)
                if form.isImageFormat() and not is_small(form.toImageFormat().name())]  # fmt: skip
        if not captions:
            return
        cursor = QTextCursor(block)
        cursor.movePosition(QTextCursor.MoveOperation.EndOfBlock)
        shape, letters = QTextBlockFormat(), QTextCharFormat()
        shape.setBottomMargin(18)
        shape.setRightMargin(self._spare)
        letters.setFont(sized("small"))
        letters.setForeground(self._colours["soft"])
        cursor.insertBlock(shape, letters)
        cursor.insertText(_TOGETHER.sub("\u00a0", captions[0]))

    def _caution(self, document: QTextDocument, block: QTextBlock) -> None:
        """Give a quoted text, which is a caution, a tinted background."""
        if not block.blockFormat().intProperty(QTextFormat.Property.BlockQuoteLevel):
            return
        cursor = QTextCursor(block)
        cursor.movePosition(QTextCursor.MoveOperation.EndOfBlock, QTextCursor.MoveMode.KeepAnchor)
        ground = QTextFrameFormat()
        ground.setBackground(self._colours["card"])
        ground.setPadding(_PADDING)
        ground.setRightMargin(max(0.0, self._spare - 2 * _PADDING))
        frame = cursor.insertFrame(ground)
        plain, thin = QTextBlockFormat(), QTextBlockFormat()
        plain.setLineHeight(_LEADING, _HEIGHTS.ProportionalHeight.value)
        thin.setLineHeight(_AROUND, _HEIGHTS.FixedHeight.value)
        frame.firstCursorPosition().setBlockFormat(plain)
        for place in (frame.firstPosition() - 1, frame.lastPosition() + 1):  # the empty lines before and after a frame
            neighbour = QTextCursor(document)
            neighbour.setPosition(place)
            if not neighbour.block().text().strip(_FRAME_MARKS):
                neighbour.setBlockFormat(thin)

    def _table(self, table: QTextTable) -> None:
        """Set a table of keys: keys at the left, their effect at the right, space and no lines."""
        table.removeRows(0, 1)
        wide = min(_KEYS_WIDE, self._column // 3)
        rest = max(80, self._column - wide - 4 * _CELL)
        shape = table.format()
        shape.setBorder(0)
        shape.setCellPadding(_CELL)
        shape.setCellSpacing(0)
        shape.setColumnWidthConstraints([QTextLength(QTextLength.Type.FixedLength, each) for each in (wide, rest)])
        table.setFormat(shape)


def _places(document: QTextDocument) -> Places:
    """Return where each anchor is: headings, and the bold words that a paragraph begins with."""
    places: Places = {}
    for block in _blocks(document):
        level, start = block.blockFormat().headingLevel(), block.position()
        if level > 1:
            places.setdefault(slug(block.text()), (start, start + block.length() - 1))
        elif level == 0 and QTextCursor(block).currentTable() is None:
            for at, length, letters in _pieces(block):
                words = block.text()[at - start : at - start + length]
                if letters.isImageFormat() or not words.strip():
                    continue
                if letters.fontWeight() >= QFont.Weight.Bold:
                    places.setdefault(slug(words), (at, at + length))
                break
    return places


def _blocks(document: QTextDocument) -> Iterator[QTextBlock]:
    block = document.begin()
    while block.isValid():
        yield block
        block = block.next()


def _pieces(block: QTextBlock) -> Iterator[tuple[int, int, QTextCharFormat]]:
    """Yield the pieces of a block that are set alike, as (from, length, format)."""
    at = block.begin()
    while not at.atEnd():
        piece = at.fragment()
        if piece.isValid():
            yield piece.position(), piece.length(), piece.charFormat()
        at += 1
