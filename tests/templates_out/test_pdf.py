"""The PDF writer, read back by other people's readers.

Sources: ISO 32000-1:2008, 8.3.2.3 (a unit is 1/72 in), 12.2 table 150 (PrintScaling, Duplex),
12.3.3 (outline), 12.4.2 (page labels), 14.3.3 (title, author, subject), 14.9.2 (language).
"""

from __future__ import annotations

import datetime
import math
import random
from io import BytesIO

import pikepdf
import pypdfium2
import pytest

from templates_out.drawing.marks import Arc, Circle, Line, Page, Path, Pen, Role, Text
from templates_out.drawing.pdf import pdf_bytes, write_pdf
from tests.readers import raster, read_with_pdfium, read_with_pikepdf, texts

DAY = datetime.date(2026, 11, 25)
READERS = [read_with_pikepdf, read_with_pdfium]
SIZES = [(215.9, 279.4), (210.0, 297.0), (279.4, 431.8), (420.0, 594.0), (914.4, 5080.0)]


def _many(width: float, height: float) -> Page:
    """40 circles and 40 lines anywhere on a page, from a fixed seed."""
    dice = random.Random(7)

    def anywhere() -> tuple[float, float]:
        return dice.uniform(60, width - 60), dice.uniform(60, height - 60)

    circles = tuple(Circle(anywhere(), dice.uniform(0.4, 50), Pen()) for _ in range(40))
    return Page(width, height, circles + tuple(Line(anywhere(), anywhere(), Pen()) for _ in range(40)))


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("size", SIZES)
def test_circles_and_lines_are_where_they_were_put(read, size):
    """Tolerance 0.005 mm on paper; the promise is 0.02."""
    page = _many(*size)
    (sheet,) = read(pdf_bytes([page], "scale", DAY))
    assert (sheet.width, sheet.height) == pytest.approx(size, abs=5e-4)
    assert len(sheet.circles) == 40
    for mark in page.marks:
        if isinstance(mark, Circle):
            assert sheet.circle_at(mark.centre, mark.radius, 0.005)
        else:
            assert sheet.line_between(mark.a, mark.b, 0.005)


@pytest.mark.parametrize("read", READERS)
def test_weights_and_dashes_are_set_for_each_mark(read):
    marks = (
        Line((10, 10), (50, 10), Pen(weight=0.5, dash=(6, 2))),
        Line((10, 20), (50, 20), Pen(weight=0.13)),
        Path(((10, 30), (50, 30), (50, 40)), True, None, "ink"),
        Arc((100, 100), 20, 0, 90, Pen(weight=0.35)),
    )
    (sheet,) = read(pdf_bytes([Page(200, 200, marks)], "pens", DAY))
    dashed, plain, filled, arc = sheet.paths
    assert (dashed.look.weight, dashed.look.dashed) == (pytest.approx(0.5, abs=1e-4), True)
    assert (plain.look.weight, plain.look.dashed) == (pytest.approx(0.13, abs=1e-4), False)
    assert (filled.look.filled, filled.look.stroked) == (True, False)
    assert arc.curves == 1
    assert math.dist(arc.points[0], (120, 100)) < 1e-3
    assert math.dist(arc.points[-1], (100, 120)) < 1e-3


def test_tints_and_patches_leave_no_ink_but_sheet_is_white():
    roles: tuple[Role, ...] = ("well", "wood", "new wash")
    washes = tuple(Circle((20 + 20 * i, 50), 8, None, role) for i, role in enumerate(roles))
    page = Page(100, 100, (*washes, Path(((10, 70), (90, 70), (90, 90), (10, 90)), True, None, "ink"),
                           Text((20, 76), "WHITE", 8, role="sheet", bold=True)))  # fmt: skip
    image = raster(pdf_bytes([page], "tints", DAY), 0, 100)
    rows = image.shape[0]
    assert image[int(rows * 0.35) :].min() == 255  # nothing of the washes
    band = image[int(rows * 0.12) : int(rows * 0.28), 50:350]
    assert band.min() == 0
    assert band.max() == 255


def test_a_disc_and_a_line_measure_true_at_600_dpi():
    """A pixel is 0.0423 mm; the centroid of a disc is found to 0.002 mm, a line's ends to half a pixel."""
    page = Page(215.9, 279.4, (Circle((150, 200), 6.75, None, "ink"), Line((20, 40), (180, 40), Pen(weight=0.5))))
    image = 255 - raster(pdf_bytes([page], "raster", DAY), 0).astype(float)
    per_row, per_column = 279.4 / image.shape[0], 215.9 / image.shape[1]
    disc = image[: int(130 / per_row)]
    ys, xs = disc.nonzero()
    ink = disc[ys, xs]
    centre = ((xs + 0.5) @ ink / ink.sum() * per_column, 279.4 - (ys + 0.5) @ ink / ink.sum() * per_row)
    assert centre == pytest.approx((150, 200), abs=0.002)
    assert math.sqrt(ink.sum() / 255 * per_row * per_column / math.pi) == pytest.approx(6.75, abs=0.005)
    xs = image[int(230 / per_row) :].max(axis=0).nonzero()[0]
    assert (xs[0] * per_column, (xs[-1] + 1) * per_column) == pytest.approx((20, 180), abs=0.05)


def test_the_file_asks_not_to_be_scaled_and_names_its_pages():
    pages = [Page(210, 297, (), "Sheet A"), Page(297, 210, (), "Sheet B")]
    data = pdf_bytes(pages, "Drilling template: ✂ ½", DAY)
    with pikepdf.open(BytesIO(data)) as pdf:
        assert str(pdf.Root.ViewerPreferences.PrintScaling) == "/None"
        assert str(pdf.Root.ViewerPreferences.Duplex) == "/Simplex"
        assert pdf.Root.ViewerPreferences.DisplayDocTitle == True  # noqa: E712  (an object of the file, not a bool)
        assert [page.label for page in pdf.pages] == ["Sheet A", "Sheet B"]
        assert [[float(x) * 25.4 / 72 for x in page.mediabox[2:]] for page in pdf.pages] == [
            pytest.approx([210, 297], abs=1e-4), pytest.approx([297, 210], abs=5e-4)
        ]  # fmt: skip
        assert str(pdf.docinfo["/Title"]) == "Drilling template: ✂ ½"
        assert str(pdf.docinfo["/Author"]) == "Boltwell"
        assert "on one side" in str(pdf.docinfo["/Subject"])
        assert str(pdf.Root.Lang) == "en"
        assert str(pdf.docinfo["/CreationDate"]).startswith("D:20261125")
    assert data.startswith(b"%PDF-1.7")


def test_the_outline_leads_to_each_page_by_its_name():
    """Two pages may have one name: each entry leads to its own page. A page without a name has no entry."""
    pages = [Page(210, 297, (), name) for name in ("Sheet A", "To read ½", "", "To read ½")]
    data = pdf_bytes(pages, "outline", DAY)
    with pikepdf.open(BytesIO(data)) as pdf, pdf.open_outline() as outline:
        entries = [(entry.title, _leads_to(pdf, entry)) for entry in outline.root]
        assert all(not entry.children for entry in outline.root)
    assert entries == [("Sheet A", 0), ("To read ½", 1), ("To read ½", 3)]
    document = pypdfium2.PdfDocument(data)
    again = [(mark.get_title(), mark.get_dest().get_index()) for mark in document.get_toc()]
    document.close()
    assert again == entries


def _leads_to(pdf, entry):
    place = entry.destination
    if not isinstance(place, pikepdf.Array):
        place = pdf.Root.Dests[pikepdf.Name("/" + str(place).lstrip("/"))]
    return next(number for number, page in enumerate(pdf.pages) if page.objgen == place[0].objgen)


def test_text_is_text_in_every_style_and_turned():
    styles = [(b, i, c) for b in (False, True) for i in (False, True) for c in (False, True)]
    marks = tuple(
        Text((20, 20 + 10 * k), f"6-7/16 in ½ ⅞ ◄ ► ✂ ▲ no {k}", 3, bold=b, italic=i, condensed=c, angle=k)
        for k, (b, i, c) in enumerate(styles)
        if not i  # the oblique faces have no scissors
    )
    (text,) = texts(pdf_bytes([Page(200, 200, marks)], "text", DAY))
    assert all(mark.text in text for mark in marks)
    with pikepdf.open(BytesIO(pdf_bytes([Page(200, 200, marks)], "text", DAY))) as pdf:
        fonts = pdf.pages[0].Resources.Font
        used = [font for font in fonts.as_dict().values() if "DejaVu" in str(font.BaseFont)]
        assert len(used) == 4
        assert all("/FontFile2" in font.FontDescriptor for font in used)


def test_a_missing_glyph_is_a_fault():
    with pytest.raises(ValueError, match="no glyph"):
        pdf_bytes([Page(100, 100, (Text((10, 10), "漢", 3),))], "glyph", DAY)


def test_equal_pages_give_equal_bytes_and_progress_is_reported():
    pages = [_many(215.9, 279.4), Page(100, 100, (Text((10, 10), "again", 3),))]
    assert pdf_bytes(pages, "same", DAY) == pdf_bytes(pages, "same", DAY)
    assert list(write_pdf(pages, "same", DAY)) == [1, 2]
