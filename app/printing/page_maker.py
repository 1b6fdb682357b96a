"""Makes the sheets and the pictures of their pages in a background task. The window shows the very PDF that is saved."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

import msgspec
from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QImage

from app.printing.sheet_set import PrintOptions, SheetSet, making
from app.ui.background_tasks import BackgroundTasks
from geometry.errors import OwnerError

if TYPE_CHECKING:
    import datetime
    from collections.abc import Callable

    from geometry.judge.findings import Checked

_SCALE = 0.9  # px for each point of a page's picture: sharp at its size in the margin, at 200 % as well
_REST = 60  # ms
_ONE_AT_A_TIME = threading.Lock()  # the reader of PDFs is not made for two threads


class Made(msgspec.Struct, frozen=True):
    """The sheets and the bytes of their PDF."""

    sheets: SheetSet
    pdf: bytes


_Message = str | SheetSet | Made | tuple[int, QImage] | Exception
"""A message of a job."""


class PageMaker(QObject):
    """Makes one set of sheets at a time; a new one drops the one under way.

    Signals:
        begun: the name of the kind of sheet under way. planned: the SheetSet, before its pages are written.
        made: Made, once they are.
        pictured: (number, QImage) of one page. refused: why no sheets can be made.
        drawn: the drawings that were asked for, each as (name, SVG); or the OwnerError that says why there are none.
    """

    begun = Signal(str)
    planned = Signal(object)
    made = Signal(object)
    pictured = Signal(int, object)
    refused = Signal(str)
    drawn = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._job: _Job | None = None
        self._rest = QTimer(self, interval=_REST, singleShot=True)
        self._rest.timeout.connect(self._start)
        self._sheets, self._drawings = BackgroundTasks(self), BackgroundTasks(self)
        self._sheets.received.connect(self._pass_on)
        self._drawings.received.connect(self._pass_drawings)

    def make(self, checked: Checked, options: PrintOptions, date: datetime.date) -> None:
        """Begin to make the sheets of a checked design."""
        self.stop()
        self._job = _Job(checked, options, date)
        self._rest.start()  # the window changes first: both at once would make it wait

    def draw(self, checked: Checked, kinds: tuple[str, ...], date: datetime.date) -> None:
        """Make drawings as SVG, next to all other tasks."""

        def run(send: Callable[[object], None]) -> None:
            from app.printing.print_jobs import drawings
            from geometry.doubt.spreads import with_spreads

            try:
                send(tuple(drawings(with_spreads(checked), date, kinds)))
            except Exception as fault:  # noqa: BLE001 (raised again in the event loop, where the last stop sees it)
                send(fault)

        self._drawings.start(run, "drawings")

    def stop(self) -> None:
        """Drop what is under way."""
        if self._job is not None:
            self._job.stopped.set()
        self._job = None

    def _start(self) -> None:
        if self._job is not None:
            self._sheets.start(self._job.run, "sheets")

    def _pass_on(self, of_job: tuple[threading.Event, _Message]) -> None:
        """Pass on a message of the present job. Late messages of a stopped job are dropped."""
        job, message = of_job
        if self._job is None or job is not self._job.stopped:
            return
        match message:
            case str():
                self.begun.emit(message)
            case SheetSet():
                self.planned.emit(message)
            case Made():
                self.made.emit(message)
            case tuple():
                self.pictured.emit(*message)
            case OwnerError():
                self.refused.emit(str(message))
            case _:
                raise message


    def _pass_drawings(self, drawn: object) -> None:
        if isinstance(drawn, Exception) and not isinstance(drawn, OwnerError):
            raise drawn
        self.drawn.emit(drawn)


class _Job:
    def __init__(self, checked: Checked, options: PrintOptions, date: datetime.date) -> None:
        self.stopped = threading.Event()
        self._checked, self._options, self._date = checked, options, date

    def run(self, send: Callable[[object], None]) -> None:
        """Make the sheets, write the PDF and make the pictures. A stopped job sends nothing."""

        def still(message: _Message) -> None:
            if not self.stopped.is_set():
                send((self.stopped, message))

        with _ONE_AT_A_TIME:
            if not self.stopped.is_set():
                self._run(still)

    def _run(self, send: Callable[[_Message], None]) -> None:
        from templates_out.drawing.pdf import write_pdf

        try:
            sheets = None
            for message in making(self._checked, self._options, self._date):
                if self.stopped.is_set():
                    return
                send(message)
                sheets = message if isinstance(message, SheetSet) else None
            if sheets is None:
                return
            writing = write_pdf(sheets.pages, f"{self._checked.design.name}: sheets", self._date)
            while True:
                try:
                    next(writing)
                except StopIteration as end:
                    pdf = bytes(end.value)
                    break
                if self.stopped.is_set():
                    return
            send(Made(sheets, pdf))
            self._picture(pdf, send)
        except Exception as fault:  # noqa: BLE001 (raised again in the event loop, where the last stop sees it)
            send(fault)

    def _picture(self, pdf: bytes, send: Callable[[_Message], None]) -> None:
        import pypdfium2

        document = pypdfium2.PdfDocument(pdf)
        try:
            for number in range(len(document)):
                if self.stopped.is_set():
                    return
                page = document[number]
                bitmap = page.render(scale=_SCALE, prefer_bgrx=True)
                raw = bytes(bitmap.buffer)
                picture = QImage(raw, bitmap.width, bitmap.height, bitmap.stride, QImage.Format.Format_RGB32).copy()
                bitmap.close()
                page.close()
                send((number, picture))
        finally:
            document.close()
