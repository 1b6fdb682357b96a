"""The manual's text: every link leads somewhere, every picture shows something, and the voice is the house's."""

from __future__ import annotations

import re
import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.help.manual_pages import KEYS, MOST_HITS, NAMES, Page, anchor_of, manual, page_of, search, slug
from app.help.manual_pictures import PICTURES
from app.help.picture_album import is_small
from app.tools import tool as tools
from app.ui.icons import icon
from geometry.errors import OwnerError
from geometry.judge.findings import STATE_WORDS
from geometry.judge.glance import GROUPS
from geometry.units.units import parse_length

PAGES = manual("### Boat\n\n| Keys | |\n| --- | --- |\n| **Ctrl+S** | Save |\n")
PLACES = {place for page in PAGES for place in page.places}
NEVER = ("error", "invalid", "please", "successfully", "oops", "must")  # the house's voice has no use for them
LADDER = "ladder"


def test_the_keys_are_on_the_last_page():
    assert [page.name for page in PAGES] == list(NAMES)
    assert KEYS in PAGES[-1].places
    assert "Ctrl+S" in PAGES[-1].text


@pytest.mark.parametrize("page", PAGES, ids=NAMES)
def test_every_link_leads_to_a_place(page: Page):
    assert {link for link in page.links if link not in PLACES} == set()


@pytest.mark.parametrize("page", PAGES, ids=NAMES)
def test_every_picture_is_one_that_can_be_painted(page: Page):
    marks = {f"state-{state}" for state in STATE_WORDS}
    assert {name for name in page.pictures if not is_small(name)} <= {*PICTURES, LADDER}
    assert {name for name in page.pictures if name.startswith("state-")} <= marks


def test_every_picture_and_every_mark_is_used():
    used = {name for page in PAGES for name in page.pictures}
    assert {*PICTURES, LADDER} <= used
    assert {f"state-{state}" for state in STATE_WORDS} <= used


def test_every_icon_is_there(qtbot):
    for page in PAGES:
        for name in page.pictures:
            if name.startswith("icon-"):
                assert not icon(name.removeprefix("icon-"), "#1e2932").isNull()


@pytest.mark.parametrize("page", PAGES, ids=NAMES)
def test_the_voice(page: Page):
    text = page.text.replace(GROUPS["change"], "")  # the title of a group of findings
    assert not [word for word in re.findall(r"[a-z]+", text.lower()) if word in NEVER]


@pytest.mark.parametrize("page", PAGES, ids=NAMES)
def test_the_signs_are_those_that_paper_knows(page: Page):
    allowed = set(string.printable) | set("’“”·°×−–…")
    assert set(page.text) <= allowed


@pytest.mark.parametrize("page", PAGES, ids=NAMES)
def test_each_page_begins_with_its_name_and_no_place_occurs_twice(page: Page):
    assert [part.level for part in page.parts].count(1) == 1
    assert page.parts[0].level == 1
    headings = [part.place for part in page.parts if part.level in (2, 3)]
    assert len(headings) == len(set(headings))


def test_what_the_page_on_measuring_lets_a_person_type_can_be_typed():
    text = next(page.text for page in PAGES if page.name == "measuring")
    shown = re.findall(r"`([^`]+)`", text)
    assert len(shown) >= 7
    for length in shown:
        assert parse_length(length, "in") > 0


def test_it_says_what_comes_first():
    text = PAGES[0].text
    assert all(word in text for word in ("motor maker’s instructions", "local codes", "licensed", "capacity plate"))


def test_the_trades_words_are_explained_once():
    explained = {part.title.lower() for part in PAGES[-1].parts if part.level == 4}
    wanted = (
        "av plate", "backing plate", "capacity plate", "bracket hook", "gap under the bracket hook", "hole from the top",
        "usable holes", "drop", "rake", "flat cut", "splash well", "datum", "pitch", "top cut", "flat land", "corner radius",
        "shaft length", "hard pad", "nylon-insert lock nut", "wrench torque",
    )  # fmt: skip
    assert set(wanted) <= explained


@given(st.text(max_size=60))
def test_any_words_may_be_looked_for(words: str):
    hits = search(PAGES, words)
    assert len(hits) <= MOST_HITS
    for hit in hits:
        assert hit.place in PLACES
        assert all(word in f"{hit.title} {hit.text}".lower() for word in words.lower().split())


def test_what_is_in_a_name_comes_first():
    hits = search(PAGES, "drop")
    assert "drop" in hits[0].title.lower()
    assert search(PAGES, "") == ()
    assert search(PAGES, "no purple zebra in it") == ()


def test_every_tool_has_its_place():
    assert {f"sketching#{slug(tool)}" for tool in tools.NAMES} <= PLACES


def test_places_come_apart():
    assert (page_of("words#drop"), anchor_of("words#drop")) == ("words", "drop")
    assert (page_of("words"), anchor_of("words")) == ("words", "")
    assert slug("How high the motor hangs") == "how-high-the-motor-hangs"


def test_a_page_that_is_not_there_is_a_fault():
    with pytest.raises(OSError, match="no-such-page"):
        Page("no-such-page", __import__("assets").help_text("no-such-page"))
    assert not issubclass(OSError, OwnerError)
