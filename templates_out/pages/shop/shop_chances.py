"""The chance that the bracket will go on, on the shop sheet before the work: what to drill, and how."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from geometry.design.design import Design
from geometry.drilling.bracket_chance import chances
from geometry.drilling.bracket_chance_words import TITLE, advice_words, card_lines
from geometry.readings.measures import name_of
from geometry.solid.faces import Unmeasured
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import printed
from templates_out.layout.reading_pages import ROW, Piece, Sheet


def before_drilling_pieces(design: Design, sheet: Sheet) -> Iterator[Piece]:
    """Yield chances and advice, once for all motors for which they are the same."""
    names_of: dict[str, list[str]] = {}
    for index, mount in enumerate(design.mounts):
        try:
            table = chances(design, index)
        except Unmeasured as missing:
            advised = f"{TITLE} Not calculated. Measure {name_of(design, missing.key)} first."
        else:
            if table is None:
                continue
            advised = " ".join((*card_lines(design, table), advice_words(design, index, table)))
        names_of.setdefault(advised, []).append(writable(mount.name))
    for advised, names in names_of.items():
        whose = f"{', '.join(names)}: " if len(names_of) > 1 else ""
        yield Piece(partial(sheet.paragraph, text=printed(f"{whose}{advised}"), size=ROW))
