"""Pages as a PDF at exactly 1:1. The only module that knows reportlab; the writer decides nothing.

Sources: ISO 32000-1, 8.3.2.3 (a unit is 1/72 in), 12.2 (PrintScaling, Duplex), 12.3.3 (outline),
12.4.2 (page labels), 14.3.3 (title, author, subject), 14.9.2 (language).
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Generator, Iterable
from functools import cache
from io import BytesIO
from typing import Any, assert_never

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

import assets
from templates_out.drawing.fonts import font_name, missing, text_width
from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Mark, Page, Path, Pen, Point, Role, Text
from templates_out.drawing.paper_ink import INK
from templates_out.drawing.transforms import hatch_lines, text_box

_SUBJECT = "Paper for the bolts of an outboard motor. Print it at 100 %, on one side."
POINTS = 72 / 25.4  # PDF units in a millimetre


def pdf_bytes(pages: Iterable[Page], title: str, date: datetime.date) -> bytes:
    """Return a PDF file with one sheet for each page, 1:1; equal pages, title and date give equal bytes."""
    writing = write_pdf(pages, title, date)
    while True:
        try:
            next(writing)
        except StopIteration as done:
            return bytes(done.value)


def write_pdf(pages: Iterable[Page], title: str, date: datetime.date) -> Generator[int, None, bytes]:
    """Write the pages one by one, yielding how many are done; the file's bytes are the return value.

    Raises:
        ValueError: a text has a character that the font lacks (a fault: see ``fonts.writable``).
    """
    out = BytesIO()
    first: Any = _font(font_name(False, False, True))  # else each page names a font of the library, which is not embedded
    canvas = Canvas(out, pageCompression=1, invariant=1, pdfVersion=(1, 7), lang="en", initialFontName=first)
    canvas.setDateFormatter(lambda *_clock: f"D:{date:%Y%m%d}000000Z")
    canvas.setTitle(title)
    canvas.setSubject(_SUBJECT)
    canvas.setAuthor("Boltwell")
    canvas.setCreator("Boltwell")
    for preference, value in (("PrintScaling", "None"), ("Duplex", "Simplex"), ("DisplayDocTitle", "true")):
        canvas.setViewerPreference(preference, value)
    for number, page in enumerate(pages, start=1):
        canvas.setPageSize((page.width * POINTS, page.height * POINTS))
        if page.name:
            canvas.addPageLabel(number - 1, prefix=page.name)
            canvas.bookmarkPage(f"page {number}")
            canvas.addOutlineEntry(page.name, f"page {number}")
        for mark in page.marks:
            _draw(canvas, mark)
        canvas.showPage()
        yield number
    canvas.save()
    return out.getvalue()


def _draw(canvas: Any, mark: Mark) -> None:
    # Pen, dash and fill outlast a mark in the file, so each mark sets all that it uses.
    match mark:
        case Line():
            if _set(canvas, mark.pen, None)[0]:
                canvas.line(*_pt(mark.a), *_pt(mark.b))
        case Circle():
            stroke, fill = _set(canvas, mark.pen, mark.fill)
            if stroke or fill:
                canvas.circle(*_pt(mark.centre), mark.radius * POINTS, stroke=stroke, fill=fill)
        case Arc():
            if _set(canvas, mark.pen, None)[0]:
                (x, y), r = _pt(mark.centre), mark.radius * POINTS
                canvas.arc(x - r, y - r, x + r, y + r, mark.start, mark.end - mark.start)
        case Path():
            stroke, fill = _set(canvas, mark.pen, mark.fill)
            if stroke or fill:
                path = canvas.beginPath()
                path.moveTo(*_pt(mark.points[0]))
                for point in mark.points[1:]:
                    path.lineTo(*_pt(point))
                if mark.closed:
                    path.close()
                canvas.drawPath(path, stroke=stroke, fill=fill)
        case Hatch():
            for line in hatch_lines(mark):
                _draw(canvas, line)
        case Text():
            _draw_text(canvas, mark)
        case _:
            assert_never(mark)


def _pt(point: Point) -> Point:
    return point[0] * POINTS, point[1] * POINTS


def _set(canvas: Any, pen: Pen | None, fill: Role | None) -> tuple[int, int]:
    """Set pen and fill; say which of them (stroke, fill) puts anything on paper, as reportlab's 0 or 1."""
    ink = INK[pen.role] if pen else None
    if pen and ink is not None:
        canvas.setStrokeGray(ink)
        canvas.setLineWidth(pen.weight * POINTS)
        canvas.setDash([length * POINTS for length in pen.dash])
    tone = INK[fill] if fill else None
    if tone is not None:
        canvas.setFillGray(tone)
    return int(ink is not None), int(tone is not None)


def _draw_text(canvas: Any, text: Text) -> None:
    if text.patch:  # on paper every ground is the paper's
        _draw(canvas, Path(text_box(text), True, None, "sheet"))
    lacking = missing(text.text, text.bold, text.italic, text.condensed)
    if lacking:
        raise ValueError(f"no glyph for {lacking!r} in the text {text.text!r}")
    tone = INK[text.role]
    if tone is None:
        return
    width = text_width(text.text, text.size, text.bold, text.italic, text.condensed)
    back = {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
    c, s = math.cos(math.radians(text.angle)), math.sin(math.radians(text.angle))
    x, y = _pt((text.at[0] - back * c, text.at[1] - back * s))
    line = canvas.beginText()
    line.setFont(_font(font_name(text.bold, text.italic, text.condensed)), text.size * POINTS)
    line.setFillGray(tone)
    line.setTextTransform(c, s, -s, c, x, y)
    line.textOut(text.text)
    canvas.drawText(line)


@cache
def _font(name: str) -> str:
    pdfmetrics.registerFont(TTFont(name, BytesIO(assets.font(name))))
    return name
