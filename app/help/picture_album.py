"""The manual's pictures as images: painted when they are first seen. A background task draws the slow ones."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QPainter

from app.canvas.pen import SCREEN, paint
from app.document.view_state import ViewState
from app.help.manual_pictures import PICTURES, boat
from app.ui.background_tasks import BackgroundTasks
from app.ui.icons import icon
from app.ui.palette import palette
from app.ui.state_marks import paint_state
from geometry.decide.ladder import rungs
from templates_out.drawing.marks import Page

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.decide.ladder import Rung
    from geometry.judge.findings import State

SMALL = 16  # px of an icon or a mark in a line of text
LADDER = "ladder"
_ONE_AT_A_TIME = threading.Lock()
_LADDER_HIGH = 244  # px


def is_small(name: str) -> bool:
    """Return whether a picture is in a line of text."""
    return name.startswith(("icon-", "state-"))


class Album(QObject):
    """Paints the pictures and keeps them.

    Signals:
        picture_ready: name of a slow picture that can be painted now.
    """

    picture_ready = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pages: dict[tuple[str, float], Page] = {}
        self._rungs: tuple[Rung, ...] = ()
        self._asked: set[tuple[str, float]] = set()
        self._tasks = BackgroundTasks(self)
        self._tasks.received.connect(self._take)

    def size(self, name: str, column: int) -> QSize:
        """Return the size of a picture in a column of text [px]."""
        if is_small(name):
            return QSize(SMALL, SMALL)
        if name == LADDER:
            return QSize(column, _LADDER_HIGH)
        picture = PICTURES[name]
        wide = round(column * picture.share)
        return QSize(wide, round(wide * picture.high))

    def image(self, name: str, column: int, *, dark: bool, ratio: float) -> QImage:
        """Return a picture at a device's pixel ratio; a slow one is an empty sheet until ``picture_ready``."""
        size = self.size(name, column)
        made = QImage(size * ratio, QImage.Format.Format_ARGB32_Premultiplied)
        made.setDevicePixelRatio(ratio)
        made.fill(Qt.GlobalColor.transparent)
        painter = QPainter(made)
        if name.startswith("icon-"):
            ink = palette(dark)["ink"].name()
            painter.drawPixmap(0, 0, icon(name.removeprefix("icon-"), ink, ratio, SMALL))
        elif name.startswith("state-"):
            paint_state(painter, QRectF(0, 0, SMALL, SMALL), _state(name.removeprefix("state-")), palette(dark))
        elif name == LADDER:
            self._paint_ladder(painter, size)
        else:
            self._paint_page(painter, name, size, dark=dark)
        painter.end()
        return made

    def _paint_page(self, painter: QPainter, name: str, size: QSize, *, dark: bool) -> None:
        paper = PICTURES[name].paper is not None
        colours = palette(dark and not paper)
        ground = QRectF(0, 0, size.width(), size.height())
        painter.fillRect(ground, colours["field" if paper else "sheet"])
        width = size.width() / SCREEN
        page = self._page(name, width)
        if page is not None:
            painter.setClipRect(ground)
            painter.translate(0, size.height())
            paint(painter, page.marks, size.width() / page.width, colours)
            painter.resetTransform()
        painter.setClipping(False)
        painter.setPen(palette(dark)["rule"])
        painter.drawRect(ground.adjusted(0.5, 0.5, -0.5, -0.5))

    def _page(self, name: str, width: float) -> Page | None:
        """Return a picture's sheet, None while a slow one is on its way."""
        key = name, 0.0 if PICTURES[name].paper else width
        if key not in self._pages:
            if not PICTURES[name].slow:
                self._pages[key] = PICTURES[name].page(width)
            elif key not in self._asked:
                self._draw(*key, lambda: PICTURES[name].page(width))
        return self._pages.get(key)

    def _paint_ladder(self, painter: QPainter, size: QSize) -> None:
        from app.ladder.ladder_strip import LadderStrip

        if not self._rungs:
            self._draw(LADDER, 0.0, lambda: tuple(rungs(boat().design, 0)))
        strip = LadderStrip()
        strip.show_checked(boat(), ViewState())
        strip.show_rungs(self._rungs)
        strip.head.click()
        strip.resize(size)
        strip.render(painter, QPoint())
        strip.deleteLater()

    def _draw(self, name: str, width: float, make: Callable[[], object]) -> None:
        """Draw a slow picture in the background, once."""
        if (name, width) in self._asked:
            return
        self._asked.add((name, width))

        def work(send: Callable[[object], None]) -> None:
            try:
                with _ONE_AT_A_TIME:  # two of the pictures are pages of the same sheets
                    made: object = make()
            except Exception as fault:  # noqa: BLE001 (raised again in the event loop, where the last stop sees it)
                made = fault
            send((name, width, made))

        self._tasks.start(work, "pictures", daemon=True)

    def _take(self, picture: tuple[str, float, object]) -> None:
        name, width, made = picture
        match made:
            case Exception():
                raise made
            case Page():
                self._pages[name, width] = made
            case tuple():
                self._rungs = made
        self.picture_ready.emit(name)


def _state(word: str) -> State:
    states: tuple[State, ...] = ("clear", "tight", "unknown", "fouled", "note")
    return next(state for state in states if state == word)
