"""American and British words of the trade: common practice."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from geometry.decide.cures import cure
from geometry.edits.choices import choices
from geometry.edits.confirm_or_buy_words import distances, figures, listed
from geometry.judge.check import check
from geometry.readings.measures import measure, measures, put_path
from geometry.units.trade_words import PAIRS, in_trade_words
from tests.designs import example_design, sure

if TYPE_CHECKING:
    from geometry.units.units import Unit

BOTH = [
    ("Use a box-end wrench.", "Use a ring spanner."),
    ("Box-end wrench, outside", "Ring spanner, outside"),
    ("It fits. Box-end wrenches go over the nuts.", "It fits. Ring spanners go over the nuts."),
    ("an open-end wrench", "an open-ended spanner"),
    ("a plate of aluminum 5083", "a plate of aluminium 5083"),
    ("bolts of type 316 stainless", "bolts of A4 stainless"),
    ("Type 316 stainless bolts", "A4 stainless bolts"),
    ("What the torque wrench reads is wrench torque.", "What the torque wrench reads is wrench torque."),
    ("Grade A4-70", "Grade A4-70"),
]


@pytest.mark.parametrize(("american", "british"), BOTH)
def test_a_text_takes_the_words_of_the_boats_unit(american: str, british: str) -> None:
    for text in (american, british):
        assert in_trade_words(text, "in") == american
        assert in_trade_words(text, "mm") == british


def test_no_word_is_listed_twice() -> None:
    words = [word.lower() for pair in PAIRS for word in pair]
    assert len(words) == len(set(words)) == 2 * len(PAIRS)


TOOL = "mounts.0.lower_hardware.tool"


@pytest.mark.parametrize(
    ("unit", "wrench", "metal"), [("in", "box-end wrench", "aluminum"), ("mm", "ring spanner", "aluminium")]
)
def test_card_findings_and_cures_use_them(unit: Unit, wrench: str, metal: str) -> None:
    """A socket of 500 mm is too long for a well that is 450 mm long."""
    boat = replace(example_design(), units=unit)
    tools, cores = (next(choice for choice in choices(boat, 0) if choice.key == key) for key in (TOOL, "transom.core"))
    assert f"{wrench[0].upper()}{wrench[1:]}" in [option.full for option in tools.options]
    assert metal in [option.short for option in cores.options]
    turned = tools.put(1)
    assert f"Lower {wrench}, outside" in [measure.name for measure in measures(turned)]
    checked = check(put_path(boat, "mounts.0.lower_hardware.socket.length", 500.0))
    finding = checked.of("socket_room", "main motor / lower port")
    assert finding is not None
    assert f"a shorter socket or a {wrench}" in (finding.remedy or "")
    made = cure(checked, finding)
    assert made is not None
    assert made.button == f"Use a {wrench}"
    assert made.label == f"Lower nuts tightened with a {wrench}"


def test_a_list_in_a_sentence():
    assert [listed(words) for words in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a and b", "a, b and c"]


def test_the_pattern_s_distances_in_words_and_in_figures():
    """The trade's four-bolt pattern (common practice): 12 7/8 in and 9 7/8 in apart, 3/4 in pitch, 8 in down."""
    design = example_design()
    keys = ("rows.half_spacing", "lower.half_spacing", "rows.pitch", "lower.slots.0.0")
    rows = [sure(measure(design, f"mounts.0.bracket.{key}")) for key in keys]
    assert distances(design, rows) == (
        "upper holes 12 7/8 in apart, lower holes 9 7/8 in apart, one 3/4 in below the other, "
        "highest place of a lower bolt 8 in below the top hole"
    )
    assert figures(design, rows) == "12 7/8, 9 7/8, 3/4 and 8 in"
