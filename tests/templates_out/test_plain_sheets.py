"""The words of every kind of page, read back from the PDF: plain, short, one name for one thing, limits in round figures."""

from __future__ import annotations

import re
from functools import cache

import pytest
from msgspec.structs import replace

from app.printing.sheet_kinds import SHEET_KINDS
from geometry.design.design import Design
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from tests.designs import changed, clamp_on_mount, example_design
from tests.plain_words import faults
from tests.readers import ReadText, words_on
from tests.templates_out.kinds import TO_READ, drilled_as_planned
from tests.templates_out.printed import boat, cleared, on, printed
from tests.templates_out.viewing import DEMONSTRATIONS, plated

LINES_APART = 5.5  # mm: from one line of a paragraph to the next, at the most
FIGURE = r"\d[\d./-]* (?:in|mm)\b"
ALIGNED = 0.8  # mm: by which the ink of two lines may begin apart
Box = tuple[float, float, float, float]


def unlike(**how: object) -> Design:
    return changed(example_design(), **how)


BOATS: dict[str, Design] = {
    **{name: boat(name) for name in DEMONSTRATIONS},
    "plated and relieved, metric": replace(plated(12.0), units="mm"),
    "tilted, metric": boat("tilted"),
}
"""Boats whose sheets of every kind are read, stamped or not as the checks say."""
MAY_BE_DRILLED: dict[str, Design] = {"example": boat("example"), "a roll": boat("thrice-drilled-runabout")}
READ_ONLY: dict[str, Design] = {
    "guesses": starts("in")[0].design,
    "clamped": replace(example_design(), mounts=(clamp_on_mount(),)),
    "drilled": drilled_as_planned(example_design()),
    "no motor": unlike(mounts=()),
    "no well, metric": unlike(well=None, units="mm"),
    "aluminium, open hole": unlike(
        transom__core="aluminium", old_holes__0__state="open", old_holes__0__plug_diameter=None, transom__rake=None,
    ),
    "foam, much torque": unlike(transom__core="foam", mounts__0__upper_hardware__torque=80.0),
    "unknown core, no torque": unlike(
        transom__core="unknown", mounts__0__upper_hardware__torque=None, mounts__0__lower_hardware__torque=9.0,
    ),
    "wet, no mass": unlike(transom__core_state="wet", mounts__0__mass=None, mounts__0__power_kw=None),
    "cut washer, head inside": unlike(
        mounts__0__lower_hardware__washer__flat_cut=15.0, mounts__0__lower_hardware__inserted_from="inside",
        mounts__0__upper_hardware__inserted_from="before hanging",
    ),
}  # fmt: skip
"""Boats that change only the sheets that are read: the shop sheet, the measuring sheet and the record."""


@cache
def paragraphs_of(name: str) -> tuple[str, ...]:
    """Return the paragraphs of all pages of a boat: lines that follow each other, one below the other, are one."""
    design = {**BOATS, **MAY_BE_DRILLED, **READ_ONLY}[name]
    checked = cleared(design) if name in MAY_BE_DRILLED else check(design)
    paper = on("roll24" if name == "a roll" else "letter" if design.units == "in" else "a4")
    kinds = [SHEET_KINDS[key] for key in (TO_READ if name in READ_ONLY else SHEET_KINDS)]
    pages = [page for kind in kinds if kind.there(design) for page in kind.pages(checked, paper)]
    return tuple(text for pieces in words_on(printed(pages)) for text in joined(pieces))


def joined(pieces: list[ReadText]) -> list[str]:
    """Return the pieces of a page with the lines of each paragraph in one."""
    texts: list[str] = []
    last: ReadText | None = None
    for piece in pieces:
        if last is not None and aligned(last.box, piece.box) and 0.5 < last.box[1] - piece.box[1] < LINES_APART:
            texts[-1] += f" {piece.text}"
        else:
            texts.append(piece.text)
        last = piece
    return texts


def aligned(above: Box, below: Box) -> bool:
    """Say whether two lines begin at the same left edge, or have the same middle."""
    return min(abs(above[0] - below[0]), abs(above[0] + above[2] - below[0] - below[2]) / 2) < ALIGNED


def unrounded(text: str) -> list[str]:
    """Return the limits in figures that no owner's rule shows: finer than 1/16 in or 1 mm."""
    plain = text.replace("\N{NO-BREAK SPACE}", " ")
    limits = [hit[1] or hit[2] for hit in re.finditer(rf"(?:limit|advised) ({FIGURE})|({FIGURE}) (?:is|are) advised", plain)]
    return [limit for limit in limits if "." in limit or any(int(part) > 16 for part in re.findall(r"/(\d+)", limit))]


@pytest.mark.parametrize("name", [*BOATS, *MAY_BE_DRILLED, *READ_ONLY])
def test_every_page_is_in_plain_words(name: str) -> None:
    bad = {fault: text for text in paragraphs_of(name) for fault in faults(text)}
    assert list(bad) == []
    assert [(figure, text) for text in paragraphs_of(name) for figure in unrounded(text)] == []


def test_lines_of_a_paragraph_are_joined_and_cells_are_not() -> None:
    at = (20.0, 100.0, 60.0, 103.0)
    below, right = (20.3, 96.0, 50.0, 99.0), (70.0, 96.0, 90.0, 99.0)
    assert joined([ReadText("One", at), ReadText("two.", below), ReadText("A cell", right)]) == ["One two.", "A cell"]


def test_a_limit_that_no_rule_shows_is_found() -> None:
    assert unrounded("advised 15/32 in, limit 1/8 in") == ["15/32 in"]
    assert unrounded("limit 44.5 mm") == ["44.5 mm"]
    assert unrounded("It is 15/32 in thick; 1-1/32 in is advised.") == ["1-1/32 in"]
    assert unrounded("a hole of 17/32 in") == []
