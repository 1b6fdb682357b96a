"""The template's PDF against bare reportlab drawing the same marks, in the same run. ``python3 -m tests --bench``."""

from __future__ import annotations

import datetime
import statistics
import time
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

import assets
from app.printing.sheet_kinds import SHEET_KINDS
from app.printing.sheet_set import PrintOptions, SheetSet, making
from geometry.design_text import from_text
from geometry.judge.check import check
from templates_out.drawing.fonts import font_name
from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Page, Path, Text
from templates_out.drawing.pdf import pdf_bytes, write_pdf
from templates_out.drawing.printer import Printing
from templates_out.drawing.transforms import hatch_lines
from templates_out.pages.template.template_pages import template_pages

ROUNDS = 15
DATE = datetime.date(2026, 1, 1)


def bare(pages: tuple[Page, ...]) -> bytes:
    """Draw the marks with nothing but reportlab: no checks, no clipping, no care for what was set before."""
    out = BytesIO()
    canvas = Canvas(out, invariant=1, pageCompression=1)
    for page in pages:
        canvas.setPageSize((page.width * mm, page.height * mm))
        for mark in page.marks:
            pen = getattr(mark, "pen", None)
            if pen is not None:
                canvas.setLineWidth(pen.weight * mm)
                canvas.setDash([step * mm for step in pen.dash])
            if isinstance(mark, Line):
                canvas.line(mark.a[0] * mm, mark.a[1] * mm, mark.b[0] * mm, mark.b[1] * mm)
            elif isinstance(mark, Circle):
                canvas.circle(mark.centre[0] * mm, mark.centre[1] * mm, mark.radius * mm, stroke=1, fill=0)
            elif isinstance(mark, Arc):
                x, y, r = mark.centre[0], mark.centre[1], mark.radius
                box = ((x - r) * mm, (y - r) * mm, (x + r) * mm, (y + r) * mm)
                canvas.arc(*box, mark.start, mark.end - mark.start)
            elif isinstance(mark, Path):
                path = canvas.beginPath()
                path.moveTo(mark.points[0][0] * mm, mark.points[0][1] * mm)
                for x, y in mark.points[1:]:
                    path.lineTo(x * mm, y * mm)
                canvas.drawPath(path, stroke=1, fill=0)
            elif isinstance(mark, Hatch):
                for line in hatch_lines(mark):
                    canvas.line(line.a[0] * mm, line.a[1] * mm, line.b[0] * mm, line.b[1] * mm)
            elif isinstance(mark, Text):
                canvas.saveState()
                canvas.setFont(font_name(mark.bold, mark.italic, mark.condensed), mark.size * mm)
                canvas.translate(mark.at[0] * mm, mark.at[1] * mm)
                canvas.rotate(mark.angle)
                canvas.drawString(0, 0, mark.text)
                canvas.restoreState()
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def test_the_templates_pdf_against_bare_reportlab():
    design = from_text(assets.design_text("shallow-well-skiff"))
    checked = check(design)
    started = time.process_time()
    pages = template_pages(checked, Printing(DATE))
    planned = time.process_time() - started
    for bold in (False, True):
        for italic in (False, True):
            for condensed in (False, True):
                name = font_name(bold, italic, condensed)
                pdfmetrics.registerFont(TTFont(name, BytesIO(assets.font(name))))
    assert pdf_bytes(pages, "warm", DATE)[:5] == bare(pages)[:5] == b"%PDF-"
    ours: list[float] = []
    theirs: list[float] = []
    for _ in range(ROUNDS):
        for times, draw in ((ours, lambda: pdf_bytes(pages, "bench", DATE)), (theirs, lambda: bare(pages))):
            start = time.process_time()
            draw()
            times.append(time.process_time() - start)
    ratio = statistics.median(our_time / bare_time for our_time, bare_time in zip(ours, theirs, strict=True))
    marks = sum(len(page.marks) for page in pages)
    print(
        f"\ntemplate's PDF: {ratio:.2f} times bare reportlab ({1000 * statistics.median(ours):.0f} ms against "
        f"{1000 * statistics.median(theirs):.0f} ms, {marks} marks on {len(pages)} sheets); planning the sheets "
        f"before that took {1000 * planned:.0f} ms"
    )
    assert ratio <= 3


def test_the_whole_set_of_papers_takes_less_than_two_seconds_and_shows_how_far_it_is():
    """Every kind of sheet of the demonstration boat, planned and written; and no step of it takes a second."""
    checked = check(from_text(assets.design_text("shallow-well-skiff")))
    options = PrintOptions("letter", kinds=tuple(SHEET_KINDS))
    steps: list[float] = []
    started = last = time.process_time()
    pages: tuple[Page, ...] = ()
    for step in making(checked, options, DATE):
        if isinstance(step, SheetSet):
            pages = step.pages
        now = time.process_time()
        steps.append(now - last)
        last = now
    for _ in write_pdf(pages, "bench", DATE):
        now = time.process_time()
        steps.append(now - last)
        last = now
    took = last - started
    print(f"\nthe whole set: {len(pages)} pages in {took:.2f} s, {len(steps)} steps, the longest {max(steps):.2f} s")
    assert len(steps) > len(pages)
    assert took < 2.0
    assert max(steps) < 1.0
