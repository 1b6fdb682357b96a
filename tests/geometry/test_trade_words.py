"""American and British words of the trade: common practice."""

from __future__ import annotations

import pytest

from geometry.design.trade_words import PAIRS, in_trade_words

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
