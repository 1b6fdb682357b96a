"""Two readers of PDF files that share no code with the program's writer: pikepdf's and PDFium's.

Each returns what is painted on a page in millimetres from the lower left corner of its box, y up.
"""

from __future__ import annotations

import ctypes
import math
import re
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

import numpy as np
import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium

MM = 25.4 / 72  # ISO 32000-1, 8.3.2.3: a unit is 1/72 in

Point = tuple[float, float]


@dataclass(frozen=True)
class Look:
    """How a path is painted: width of its line [mm], filled, drawn, dashed."""

    weight: float
    filled: bool
    stroked: bool
    dashed: bool = False


@dataclass(frozen=True)
class ReadCircle:
    """Four curves that run back to their start: the mean of their ends, and the mean distance from it."""

    centre: Point
    radius: float
    look: Look


@dataclass(frozen=True)
class ReadPath:
    """A row of points (curves by their ends only)."""

    points: tuple[Point, ...]
    curves: int
    closed: bool
    look: Look


@dataclass
class ReadPage:
    """All that one reader found on one page [mm]."""

    width: float
    height: float
    circles: list[ReadCircle] = field(default_factory=list)
    paths: list[ReadPath] = field(default_factory=list)
    text: str = ""

    def circle_at(self, centre: Point, radius: float, within: float = 0.02) -> bool:
        """Say whether a circle has this centre and radius, within a tolerance [mm]."""
        return any(math.dist(c.centre, centre) <= within and abs(c.radius - radius) <= within for c in self.circles)

    def line_between(self, a: Point, b: Point, within: float = 0.02) -> bool:
        """Say whether a straight line runs from a to b, within a tolerance [mm]."""
        return any(
            (math.dist(p.points[0], a) <= within and math.dist(p.points[-1], b) <= within)
            or (math.dist(p.points[0], b) <= within and math.dist(p.points[-1], a) <= within)
            for p in self.paths
            if len(p.points) == 2 and not p.curves
        )

    def add(self, points: list[Point], curves: int, closed: bool, look: Look) -> None:
        ends = points[:-1] if len(points) > 1 and math.dist(points[0], points[-1]) < 1e-4 else points
        if curves == 4 and len(ends) == 4:
            centre = (sum(x for x, _ in ends) / 4, sum(y for _, y in ends) / 4)
            radius = sum(math.dist(p, centre) for p in ends) / 4
            self.circles.append(ReadCircle(centre, radius, look))
        elif points:
            self.paths.append(ReadPath(tuple(points), curves, closed, look))


def read_with_pikepdf(data: bytes) -> list[ReadPage]:
    """Interpret each page's content stream: q Q cm w d, m l c re h, and the painting operators."""
    with pikepdf.open(BytesIO(data)) as pdf:
        pages = [_interpret(page) for page in pdf.pages]
    for page, text in zip(pages, texts(data), strict=True):
        page.text = text
    return pages


def texts_with_pikepdf(data: bytes) -> list[str]:
    """Return each page's text as its content stream shows it, through each font's own table to Unicode (ISO 32000-1, 9.10)."""
    with pikepdf.open(BytesIO(data)) as pdf:
        return [_text_of(page) for page in pdf.pages]


def _text_of(page: pikepdf.Page) -> str:
    tables = {str(name): _to_unicode(font) for name, font in page.resources.get("/Font", {}).items()}
    table: dict[int, str] = {}
    pieces = list[str]()
    for step in pikepdf.parse_content_stream(page):
        operands, op = list(step.operands), str(step.operator)
        if op == "Tf":
            table = tables[str(operands[0])]
        elif op in ("Tj", "'", '"', "TJ"):
            strings = operands[-1] if op == "TJ" else operands[-1:]
            pieces.append("".join(table[code] for part in strings if isinstance(part, pikepdf.String) for code in bytes(part)))
    return "\n".join(pieces)


def _to_unicode(font: Any) -> dict[int, str]:
    """Return a font's table from its codes of one byte to text, as its pairs of code and character give it."""
    if "/ToUnicode" not in font:
        return {}
    lists = re.findall(r"beginbfchar(.*?)endbfchar", font.ToUnicode.read_bytes().decode("ascii"), re.DOTALL)
    pairs = [pair for text in lists for pair in re.findall(r"<(\w\w)>\s*<(\w+)>", text)]
    return {int(code, 16): bytes.fromhex(character).decode("utf-16-be") for code, character in pairs}


def problems_of(data: bytes) -> list[str]:
    """Return what qpdf, the library in pikepdf, finds wrong with a file: its structure, streams and cross references."""
    with pikepdf.open(BytesIO(data)) as pdf:
        return [*pdf.check_pdf_syntax(), *map(str, pdf.get_warnings())]


def fonts_named(data: bytes) -> dict[str, bool]:
    """Return each font that a page of a file names, and whether its shapes are in the file."""
    with pikepdf.open(BytesIO(data)) as pdf:
        fonts = [font for page in pdf.pages for font in page.resources.get("/Font", {}).values()]
        return {str(font.BaseFont): "/FontFile2" in font.get("/FontDescriptor", {}) for font in fonts}


Matrix = tuple[float, float, float, float, float, float]
_FILLS, _STROKES, _CLOSES = {"f", "F", "f*", "B", "B*", "b", "b*"}, {"S", "s", "B", "B*", "b", "b*"}, {"s", "b", "b*"}


def _interpret(page: pikepdf.Page) -> ReadPage:
    left, bottom, right, top = (float(x) for x in page.mediabox)
    read_page = ReadPage((right - left) * MM, (top - bottom) * MM)
    matrix: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    weight, dashed = 1.0, False
    stack: list[tuple[Matrix, float, bool]] = []
    points: list[list[Point]] = []  # of each subpath
    curves: list[int] = []
    closed: list[bool] = []

    def at(x: float, y: float) -> Point:
        a, b, c, d, e, f = matrix
        return (a * x + c * y + e - left) * MM, (b * x + d * y + f - bottom) * MM

    for step in pikepdf.parse_content_stream(page):
        operands, op = list(step.operands), str(step.operator)
        values = [float(x) for x in operands] if op in ("cm", "w", "m", "l", "c", "re") else []
        if op == "q":
            stack.append((matrix, weight, dashed))
        elif op == "Q":
            matrix, weight, dashed = stack.pop()
        elif op == "cm":
            (p, q, r, s, t, u), (a, b, c, d, e, f) = values, matrix
            matrix = (p * a + q * c, p * b + q * d, r * a + s * c, r * b + s * d, t * a + u * c + e, t * b + u * d + f)
        elif op == "w":
            weight = values[0]
        elif op == "d":
            dashed = len(operands[0]) > 0
        elif op in ("m", "re"):
            x, y, *size = values
            corners = [(x, y)] if op == "m" else [(x, y), (x + size[0], y), (x + size[0], y + size[1]), (x, y + size[1])]
            points.append([at(*corner) for corner in corners])
            curves.append(0)
            closed.append(op == "re")
        elif op in ("l", "c"):
            points[-1].append(at(*values[-2:]))
            curves[-1] += op == "c"
        elif op == "h":
            closed[-1] = True
        elif op in _FILLS | _STROKES | {"n"}:
            for row, bends, shut in zip(points, curves, closed, strict=True):
                if op != "n":
                    scale = math.sqrt(abs(matrix[0] * matrix[3] - matrix[1] * matrix[2]))
                    look = Look(weight * scale * MM, op in _FILLS, op in _STROKES, dashed)
                    read_page.add(row, bends, shut or op in _CLOSES, look)
            points, curves, closed = [], [], []
    return read_page


def read_with_pdfium(data: bytes) -> list[ReadPage]:
    """Walk the page objects that PDFium makes of the file."""
    document = pypdfium2.PdfDocument(data)
    pages = []
    for page in document:
        left, bottom, right, top = page.get_mediabox()
        read_page = ReadPage((right - left) * MM, (top - bottom) * MM, text=page.get_textpage().get_text_range())
        for thing in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
            raw = thing.raw
            m = thing.get_matrix()
            weight = ctypes.c_float()
            pdfium.FPDFPageObj_GetStrokeWidth(raw, weight)
            fill, stroke = ctypes.c_int(), ctypes.c_int()
            pdfium.FPDFPath_GetDrawMode(raw, fill, stroke)
            dashed = pdfium.FPDFPageObj_GetDashCount(raw) > 0
            look = Look(weight.value * MM, bool(fill.value), bool(stroke.value), dashed)
            points: list[Point] = []
            curves, closed, bends = 0, False, 0
            for i in range(pdfium.FPDFPath_CountSegments(raw)):
                segment = pdfium.FPDFPath_GetPathSegment(raw, i)
                x, y = ctypes.c_float(), ctypes.c_float()
                pdfium.FPDFPathSegment_GetPoint(segment, x, y)
                px, py = m.on_point(x.value, y.value)
                place = ((px - left) * MM, (py - bottom) * MM)
                kind = pdfium.FPDFPathSegment_GetType(segment)
                if kind == pdfium.FPDF_SEGMENT_MOVETO:
                    if points:
                        read_page.add(points, curves, closed, look)
                    points, curves, closed, bends = [place], 0, False, 0
                elif kind == pdfium.FPDF_SEGMENT_LINETO:
                    points.append(place)
                else:
                    bends += 1
                    if bends % 3 == 0:  # two handles, then the end
                        points.append(place)
                        curves += 1
                closed = closed or bool(pdfium.FPDFPathSegment_GetClose(segment))
            if points:
                read_page.add(points, curves, closed, look)
        pages.append(read_page)
    document.close()
    return pages


def texts(data: bytes) -> list[str]:
    """Return each page's text as PDFium extracts it."""
    document = pypdfium2.PdfDocument(data)
    page_texts = [page.get_textpage().get_text_range() for page in document]
    document.close()
    return page_texts


@dataclass(frozen=True)
class ReadText:
    """One piece of text as the writer set it, and the box about its ink: left, bottom, right, top [mm]."""

    text: str
    box: tuple[float, float, float, float]


def words_on(data: bytes) -> list[list[ReadText]]:
    """Return each page's pieces of text with their places, as PDFium reads them."""
    document = pypdfium2.PdfDocument(data)
    pages = []
    for page in document:
        left, bottom, _, _ = page.get_mediabox()
        held = page.get_textpage()
        pieces = []
        for thing in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]):
            size = pdfium.FPDFTextObj_GetText(thing.raw, held.raw, None, 0)
            room = ctypes.create_string_buffer(size)
            pdfium.FPDFTextObj_GetText(thing.raw, held.raw, ctypes.cast(room, ctypes.POINTER(pdfium.FPDF_WCHAR)), size)
            x0, y0, x1, y1 = thing.get_bounds()
            box = ((x0 - left) * MM, (y0 - bottom) * MM, (x1 - left) * MM, (y1 - bottom) * MM)
            pieces.append(ReadText(room.raw.decode("utf-16-le").rstrip("\0").strip(), box))
        pages.append(pieces)
    document.close()
    return pages


def raster(data: bytes, page: int, dpi: float = 600.0) -> np.ndarray[Any, np.dtype[np.uint8]]:
    """Return a page as grey pixels (0 black), the first row at the top."""
    document = pypdfium2.PdfDocument(data)
    image = document[page].render(scale=dpi / 72 - 1e-9, grayscale=True).to_numpy().squeeze()
    document.close()
    return np.asarray(image, dtype=np.uint8)
