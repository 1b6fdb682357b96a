"""Plain English on the card: every entry, choice and action of every demonstration boat, in inches and in millimetres."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from app.entries.card_items import Act, Said, items
from app.entries.entry_text import sections
from assets import design_names, design_text
from geometry.design_text import from_text
from geometry.edits.choices import Choice
from geometry.edits.edits import set_units
from geometry.readings.measures import SECTIONS
from tests.plain_words import faults

if TYPE_CHECKING:
    from collections.abc import Iterator

    from app.entries.card_items import Item
    from geometry.design.design import Design
    from geometry.units.units import Unit

INCHES = re.compile(r"\d ?(?:in|ft|lb|lb-ft|psi|hp)\b|\d\"")
METRIC = re.compile(r"\d ?(?:mm|kg|N·m|kW|kN)\b")


def texts(item: Item) -> Iterator[str]:
    """Yield what a person reads of one item."""
    match item:
        case Act():
            yield from (item.words, item.label)
        case Said():
            yield item.text
        case Choice():
            yield from (item.name, item.how, *(option.full for option in item.options))
        case _:
            yield from (item.name, item.how)


def card(design: Design) -> Iterator[str]:
    """Yield what a person reads on the whole card, with each motor chosen in turn."""
    for mount in range(len(design.mounts)):
        yield from (section.title for section in sections(design, mount))
        for number in range(1, len(SECTIONS) + 1):
            for item in items(design, mount, number):
                yield from texts(item)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("name", design_names())
def test_the_card_is_plain_and_speaks_the_boats_units(name: str, unit: Unit) -> None:
    said = set(card(set_units(from_text(design_text(name)), unit)))
    assert len(said) > 100
    assert [fault for text in said for fault in faults(text)] == []
    own, other = (METRIC, INCHES) if unit == "mm" else (INCHES, METRIC)
    # a published washer's name may have inches in it, with its size in the boat's unit
    assert [text for text in said if other.search(text) and not own.search(text)] == []
