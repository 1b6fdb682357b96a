"""The chance that the bracket will go on, on the shop sheet before the work: by the way of drilling and the holes' size."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from geometry.design.design import Design
from geometry.design.measures import name_of
from geometry.doubt.before_drilling import Chances, chances
from geometry.doubt.before_drilling_words import TITLE, advice_words, explained, size_words, way_rows
from geometry.solid.faces import Unmeasured
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import printed
from templates_out.layout.reading_pages import ROW, Piece, Sheet, gap


def before_drilling_pieces(design: Design, sheet: Sheet) -> Iterator[Piece]:
    """Yield a table with what is advised, for all motors whose chances are the same in one."""
    alike: dict[tuple[Chances, str], list[str]] = {}
    lacking: list[str] = []
    for index, mount in enumerate(design.mounts):
        try:
            table = chances(design, index)
        except Unmeasured as missing:
            lacking.append(f"Measure {name_of(design, missing.key)} first.")
            continue
        if table is not None:
            alike.setdefault((table, advice_words(design, index, table)), []).append(writable(mount.name))
    if alike or lacking:
        yield Piece(partial(sheet.heading, text=TITLE), tied=True, names="work")
    for text in dict.fromkeys(lacking):
        yield Piece(partial(sheet.paragraph, text=f"Not calculated. {text}"))
    if alike:
        yield Piece(partial(sheet.paragraph, text=printed(explained()), size=ROW), tied=True)
        yield Piece(gap, tied=True)
    for (table, advised), names in alike.items():
        heads = (
            ", ".join(names) if len(alike) > 1 else "way of drilling",
            *(f"{printed(size)} holes" for size in size_words(table, design.units)),
        )
        rows = way_rows(table)
        table_pieces = sheet.pieces(heads, rows, sheet.columns(heads, rows))
        yield from (replace(piece, tied=True) for piece in table_pieces)  # a few rows, and what they advise
        yield Piece(partial(sheet.paragraph, text=printed(advised)))
