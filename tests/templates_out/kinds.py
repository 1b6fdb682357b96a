"""Every kind of sheet, made of a boat: the one way in for the tests that ask the same of all of them."""

from __future__ import annotations

from functools import cache

from app.printing.sheet_kinds import SHEET_KINDS
from geometry.judge.check import check
from templates_out.drawing.marks import Page
from tests.templates_out.printed import boat, cleared, on

KINDS = tuple(SHEET_KINDS)
TO_READ = tuple(key for key, kind in SHEET_KINDS.items() if not kind.full_scale)


@cache
def pages_of(key: str, name: str, paper: str, drillable: bool = True) -> tuple[Page, ...]:
    """One kind of sheet of a boat: as if nothing were to say of it, or as it is."""
    kind, design = SHEET_KINDS[key], boat(name)
    return kind.pages(cleared(design) if drillable else check(design), on(paper)) if kind.there(design) else ()
