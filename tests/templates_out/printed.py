"""The checks of every full-scale page: read back by two readers, legible, with bars, and marked with its design."""

from __future__ import annotations

import datetime
import math
import re
from collections import Counter
from collections.abc import Callable, Iterable
from itertools import combinations
from typing import Any

import pytest
from msgspec.structs import replace

import assets
from geometry.design.design import Design
from geometry.design_text import fingerprint, from_text
from geometry.judge.findings import Checked
from templates_out.drawing.fonts import missing
from templates_out.drawing.labels import Thing, apart, thing, things_of
from templates_out.drawing.marks import Arc, Circle, Line, Mark, Page, Path, Text
from templates_out.drawing.pdf import pdf_bytes
from templates_out.drawing.printer import Printing
from templates_out.drawing.transforms import text_box
from tests.designs import changed, example_design, twin_design
from tests.readers import (
    ReadPage,
    fonts_named,
    problems_of,
    read_with_pdfium,
    read_with_pikepdf,
    texts,
    texts_with_pikepdf,
)

DAY = datetime.date(2026, 11, 25)
PRECISE = 0.02  # mm, anywhere on any page
READERS: list[Callable[[bytes], list[ReadPage]]] = [read_with_pikepdf, read_with_pdfium]
BOATS = ["example", "twin", "tilted", *assets.design_names()]
PAPERS = ["letter", "a4"]


def boat(name: str) -> Design:
    """A demonstration boat, not marked as one, or one of the tests' own."""
    if name == "example":
        return example_design()
    if name == "twin":
        return twin_design()
    if name == "tilted":
        return changed(example_design(), mounts__0__lower_tilt=8.0, mounts__0__upper_tilt=-3.0, units="mm")
    return replace(from_text(assets.design_text(name)), demonstration=False)


def cleared(design: Design) -> Checked:
    """A design as if no check had anything to say, and all of it sure: the holes may be drilled."""
    return Checked(design, (), "clear", (), sure=True)


def on(paper: str = "letter", **how: Any) -> Printing:
    """Printed on the day of the tests."""
    return Printing(DAY, paper, **how)


def printed(pages: Iterable[Page]) -> bytes:
    """The pages as a file."""
    return pdf_bytes(pages, "printed", DAY)


def said(page: Page) -> str:
    """All words of a page."""
    return " ".join(mark.text for mark in page.marks if isinstance(mark, Text))


def assert_read_back(pages: tuple[Page, ...]) -> None:
    """Every circle and straight line of the pages is in the file, within 0.02 mm, as two readers see it."""
    data = printed(pages)
    assert_sound(data, pages)
    for read in READERS:
        for page, read_page in zip(pages, read(data), strict=True):
            assert (read_page.width, read_page.height) == pytest.approx((page.width, page.height), abs=0.01)
            circles = [(c.centre[0], c.centre[1], c.radius) for c in read_page.circles]
            for mark in page.marks:
                if isinstance(mark, Circle) and (mark.pen or mark.fill):
                    wanted = (*mark.centre, mark.radius)
                    assert any(max(abs(a - b) for a, b in zip(wanted, got, strict=True)) < PRECISE for got in circles), mark
            lines = [p.points for p in read_page.paths if len(p.points) == 2 and not p.curves]
            for mark in page.marks:
                if isinstance(mark, Line):
                    assert any(_same(mark, line) for line in lines), mark


def assert_sound(data: bytes, pages: Iterable[Page]) -> None:
    """Assert that a file's structure has no fault, that each font is in it, and that two readers read the same text.

    The text is that of the marks. Spaces, and the order in which a reader gives the words, do not count.
    """
    assert problems_of(data) == []
    assert all(fonts_named(data).values()), fonts_named(data)
    wanted = [_letters(said(page)) for page in pages]
    assert [_letters(text) for text in texts_with_pikepdf(data)] == wanted
    assert [_letters(text) for text in texts(data)] == wanted


def _letters(text: str) -> Counter[str]:
    return Counter("".join(text.replace("\N{SOFT HYPHEN}", "-").split()))


def _same(mark: Line, line: tuple[tuple[float, float], ...]) -> bool:
    return any(math.dist(mark.a, a) < PRECISE and math.dist(mark.b, b) < PRECISE for a, b in (line, line[::-1]))


def assert_legible(page: Page, margin: float = 6.35) -> None:
    """No two texts overlap, none lacks a glyph or is across a heavy line; no mark leaves the printer's margin."""
    texts = [mark for mark in page.marks if isinstance(mark, Text)]
    boxes = [thing("text", text_box(text)) for text in texts]
    for text, box_of in zip(texts, boxes, strict=True):
        assert missing(text.text, text.bold, text.italic, text.condensed) == "", text.text
        left, bottom, right, top = box_of.box
        room = min(left, bottom, page.width - right, page.height - top)
        assert room >= margin - 0.5, f"{text.text!r} on {page.name} leaves the margin by {margin - room:.2f} mm"
    for (upper, a), (lower, b) in combinations(zip(texts, boxes, strict=True), 2):
        if a.box[2] > b.box[0] and b.box[2] > a.box[0] and a.box[3] > b.box[1] and b.box[3] > a.box[1]:
            assert apart(a, b) > 0.0, f"{upper.text!r} and {lower.text!r} overlap on {page.name}"
    for mark in page.marks:
        for side in things_of(mark) if not isinstance(mark, Text) else ():
            left, bottom, right, top = side.box
            room = min(left, bottom, page.width - right, page.height - top)
            assert room >= margin - 0.01, f"{mark.part!r} on {page.name} leaves the margin by {margin - room:.2f} mm"
    heavy = [side for mark in page.marks for side in _heavy(mark)]
    for text, box in zip(texts, boxes, strict=True):
        if text.role == "sheet":
            continue  # white on a black band
        for side in heavy:
            if (
                side.box[2] >= box.box[0]
                and box.box[2] >= side.box[0]
                and side.box[3] >= box.box[1]
                and box.box[3] >= side.box[1]
            ):
                assert apart(box, side) > 0.0, f"a heavy line crosses {text.text!r} on {page.name}"


def _heavy(mark: Mark) -> list[Thing]:
    if isinstance(mark, Line) and mark.pen.weight >= 0.35 and not mark.part.endswith("X"):
        return [thing("line", (mark.a, mark.b))]
    if isinstance(mark, Circle) and mark.pen and mark.pen.weight >= 0.35:
        return [thing("line", (mark.centre,), mark.radius)]
    if isinstance(mark, Path) and mark.pen and mark.pen.weight >= 0.35:
        ring = (*mark.points, mark.points[0]) if mark.closed else mark.points
        return [thing("line", side) for side in zip(ring, ring[1:], strict=False)]
    if isinstance(mark, Arc) and mark.pen.weight >= 0.35:
        turns = [math.radians(mark.start + (mark.end - mark.start) * k / 24) for k in range(25)]
        points = [(mark.centre[0] + mark.radius * math.cos(a), mark.centre[1] + mark.radius * math.sin(a)) for a in turns]
        return [thing("line", side) for side in zip(points, points[1:], strict=False)]
    return []


def assert_marked(page: Page, design: Design, full_scale: bool = True) -> None:
    """Design, revision and date stand on the page, and a full-scale page has both bars, 150 mm or longer."""
    words = said(page)
    for wanted in (fingerprint(design), f"revision {design.revision}", "2026-11-25"):
        assert wanted in words, f"{page.name} lacks {wanted}"
    if not full_scale or "no drawing" in words:
        return
    assert "Print at 100 %, no scaling." in words
    assert any("ONE SIDE, 100 %" in text.text and text.bold for text in page.marks if isinstance(text, Text)), page.name
    for part in ("bar across", "bar up"):
        lengths = [math.dist(m.a, m.b) for m in page.marks if isinstance(m, Line) and m.part == part]
        assert max(lengths) >= 150.0, f"{page.name}: {part}"


def assert_bars_true(pages: tuple[Page, ...]) -> None:
    """Each bar is as long as it says, within 0.02 mm, as two readers see it."""
    data = printed(pages)
    for read in READERS:
        for page, read_page in zip(pages, read(data), strict=True):
            for part in ("bar across", "bar up"):
                bars = [m for m in page.marks if isinstance(m, Line) and m.part == part]
                if not bars:
                    continue
                longest = max(bars, key=lambda m: math.dist(m.a, m.b))
                length = math.dist(longest.a, longest.b)
                assert bar_said(said(page), "Across" if part == "bar across" else "Up") == pytest.approx(length, abs=1e-6)
                assert read_page.line_between(longest.a, longest.b, PRECISE)


def bar_said(words: str, word: str) -> float:
    """How long a page says that a bar is, "Across" or "Up" [mm]: whole inches or whole centimetres."""
    match = re.search(rf"{word} (\d+) (in|mm), measured", " ".join(words.split()))
    assert match, f"no bar {word}"
    number, unit = int(match[1]), match[2]
    assert unit == "in" or number % 10 == 0
    return number * 25.4 if unit == "in" else float(number)


def is_hole(mark: Circle) -> bool:
    """Whether this is a hole to drill: its part is motor and bolt, nothing more."""
    return mark.part.count(" / ") == 1 and not mark.part.startswith("old") and mark.part.endswith(("port", "starboard"))
