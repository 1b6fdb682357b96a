"""The files are sound for other programs: qpdf's check, embedded fonts, equal text; and each check finds its fault."""

from __future__ import annotations

from io import BytesIO

import pikepdf
import pytest

from templates_out.drawing.marks import Page
from tests.readers import fonts_named, problems_of
from tests.templates_out.kinds import KINDS, pages_of
from tests.templates_out.printed import assert_sound, printed

BOATS = ("thrice-drilled-runabout", "twin-motor-launch")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", BOATS)
def test_each_kind_of_sheet_is_a_sound_file_where_nothing_may_be_drilled_too(kind: str, name: str) -> None:
    pages = pages_of(kind, name, "a4", False)
    if pages:
        assert_sound(printed(pages), pages)


def template() -> tuple[Page, ...]:
    return pages_of("template", "example", "letter")


def test_a_file_that_lost_its_end_is_not_sound() -> None:
    data = printed(template())
    assert problems_of(data) == []
    assert problems_of(data[:-200])


def test_a_font_that_is_named_and_not_in_the_file_is_found() -> None:
    """Helvetica, which a library names on each page unless it is stopped."""
    data = printed(template())
    assert len(fonts_named(data)) >= 2
    with pikepdf.open(BytesIO(data)) as pdf:
        pdf.pages[0].resources.Font["/F99"] = pikepdf.Dictionary(
            Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica)  # fmt: skip
        out = BytesIO()
        pdf.save(out)
    assert fonts_named(out.getvalue())["/Helvetica"] is False
    with pytest.raises(AssertionError):
        assert_sound(out.getvalue(), template())


def test_text_that_a_reader_would_copy_wrongly_is_found() -> None:
    """One character of a font's table to Unicode is changed: the page looks the same, and its text is another."""
    data = printed(template())
    with pikepdf.open(BytesIO(data)) as pdf:
        for font in pdf.pages[0].resources.Font.values():
            table = font.ToUnicode.read_bytes()
            font.ToUnicode.write(table.replace(b"<0065>", b"<0061>"))  # e is read as a
        out = BytesIO()
        pdf.save(out)
    with pytest.raises(AssertionError):
        assert_sound(out.getvalue(), template())
