"""The finding that limits a fit, in a few words for the list of fits."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from app.deciding.fit_text import _short, fit_line
from geometry.decide.offer import Fit
from geometry.edits.edits import with_mount
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS
from tests.designs import example_design

BRIEF = [  # figures worked by hand in `tests/geometry/test_judge_findings.py` and `test_judge_wood.py`
    ("washer", "main motor / lower port", "lower washer 1/16 in"),
    ("top_edge", "main motor / upper port", "upper holes 2 in below the top"),
    ("row", "main motor", "slot’s end 0 in"),
]


@pytest.mark.parametrize(("key", "at", "text"), BRIEF)
def test_the_limit_of_a_fit_is_named_in_a_few_words(key: str, at: str, text: str) -> None:
    checked = check(example_design())
    finding = checked.of(key, at)
    assert finding is not None
    assert _short(checked.design, finding) == text


def test_every_brief_has_only_the_places_that_it_is_given() -> None:
    for kind in CHECK_KINDS.values():
        assert "{" not in kind.brief.format(pair="lower", figure="2 mm", last="inside"), kind.key


def test_without_a_brief_and_for_a_backing_plate_its_title_names_it() -> None:
    checked = check(example_design())
    finding = checked.of("washer", "main motor / lower port")
    assert finding is not None
    plate = replace(finding, at="main motor / lower / plate")
    assert _short(checked.design, plate) == "lower backing plate 1/16 in"


def test_a_result_of_the_search_is_said_in_steps_of_the_tape() -> None:
    """Upper holes 49.8 mm down are 1 15/16 in, and a drop of 165.6 mm is 6 1/2 in: no step of 1/32 in is said."""
    design = example_design()
    moved = with_mount(design, 0, upper_at=-49.8, drop=165.6)
    fit = Fit(moved, True, "clear", 1, 165.6, -49.8, 0.0, 0.0, 0.0, 0, "the hardware as it is", (1,), 5.0, 19.0, (), None, ())
    line = fit_line(design, 0, fit)
    assert line.title.startswith("Drop 6 1/2 in, ")
    assert "/32" not in line.title + line.gist
    assert "upper holes 1 15/16 in down" in line.gist
