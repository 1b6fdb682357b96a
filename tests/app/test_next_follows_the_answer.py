"""*Next* asks for the reading that the answer names, and proposes no move before it."""

from __future__ import annotations

import re
from random import Random
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from app.card.one_press_group import group_of
from app.document.examples import demonstration, demonstrations
from app.findings.glance_lines import glance_lines, group_title
from geometry.asking.next_question import Asked, NextQuestion, next_question
from geometry.asking.question_words import title
from geometry.decide.ladder import rungs
from geometry.design.validity import NonsenseError
from geometry.doubt import spreads
from geometry.doubt.spreads import with_spreads
from geometry.edits.edits import forget
from geometry.edits.reading_order import FIRST, deciding_readings
from geometry.edits.starting_shapes import guess, starts
from geometry.judge.check import check
from geometry.judge.drillable import lacking_readings, stops_the_paper
from geometry.judge.words import MEASURE_FIRST, answer
from geometry.readings.measures import measure, measures, name_of, put_path
from tests.designs import all_guesses, all_measured, sure

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from geometry.judge.words import Answer

NAMED = re.compile(r"Don't drill yet\. Measure first: (?P<name>.+?)(?: and [a-z0-9-]+ more)?\.")
TRIED = 4
NO_MOVES = ("reading", "again", "old holes")
STARTS = {start.title: start.design for start in starts()}
WELLS = {
    "uneven": ((-266.7, 0.0), (-254.0, -250.0), (-60.0, -262.0), (254.0, -240.0), (266.7, 0.0)),
    "stepped": ((-266.7, 0.0), (-254.0, -251.0), (-20.0, -251.0), (20.0, -225.0), (254.0, -225.0), (266.7, 0.0)),
    "one wall": ((-254.0, -246.0), (254.0, -246.0), (266.7, 0.0)),
    "vee": ((-266.7, 0.0), (0.0, -290.0), (266.7, 0.0)),
}  # fmt: skip
"""Wells that are drawn corner by corner (u, y) [mm]."""


@pytest.fixture(autouse=True)
def few_drawn_boats(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spreads, "DRAWN", 200)


def boats() -> dict[str, Design]:
    """Return every kind of boat: the demonstrations, the starting shapes, and wells of other shapes."""
    usual = starts()[0].design
    drawn = {name: put_path(usual, "well.profile", profile) for name, profile in WELLS.items()}
    made = {**demonstrations(), **STARTS, **{name: guess(design, measures(design)) for name, design in drawn.items()}}
    return {name: replace(design, demonstration=False) for name, design in made.items()}


def with_some_unread(design: Design, rng: Random) -> Design:
    """Return a boat whose readings were taken, all but some that are guesses or not known, a little higher or lower."""
    drop = design.mounts[0].drop
    design = all_measured(replace(design, look_for_holes=rng.random() < 0.2))
    if drop is not None:
        design = put_path(design, "mounts.0.drop", drop - rng.choice((0.0, 19.05, 38.1)))
    rows = [row for row in measures(design) if not row.free and not row.second and row.kind != "shape"]
    for row in rng.sample(rows, rng.randint(0, min(12, len(rows)))):
        design = guess(design, [sure(measure(design, row.key))])
    for key in rng.sample(deciding_readings(design), rng.choice((0, 0, 0, 1))):
        try:
            design = forget(design, sure(measure(design, key)))
        except NonsenseError:
            continue
    return design


def asked(checked: Checked, mount: int) -> NextQuestion:
    return next_question(checked, Asked(mount, tuple(rungs(checked.design, mount))))


def names_asked(design: Design, key: str, mount: int) -> list[str]:
    """Return the names of what one question asks for, as a sentence says them."""
    group = group_of(design, mount, key)
    return [name_of(design, each) for each in (group.keys if group is not None else (key,))]


def disagreements(design: Design) -> list[str]:
    """Return where the next step is another than the answer asks for, for each motor in hand.

    Below a move the answer of the window does not say to measure first.
    """
    checked = with_spreads(check(design))
    said, missing = answer(checked).sentence, {finding.missing for finding in lacking_readings(checked)}
    named = NAMED.match(said)
    wrong = []
    for mount in range(len(design.mounts)):
        wanted = asked(checked, mount)
        if wanted.kind not in NO_MOVES and (named or missing & {*deciding_readings(design)}):
            wrong.append(f"{said} But next is {wanted.kind}.")
        elif named and wanted.kind == "reading" and named["name"] not in names_asked(design, wanted.key, mount):
            wrong.append(f"{said} But next is {wanted.key}.")
        if wanted.kind not in NO_MOVES and says_to_measure(answer(checked, wanted.key)):
            wrong.append(f"{answer(checked, wanted.key).sentence} But next is {wanted.kind}.")
    return wrong


def says_to_measure(answered: Answer) -> bool:
    """Return whether an answer says to measure first, in its sentence or in its word for the state."""
    return MEASURE_FIRST in answered.sentence.lower() or MEASURE_FIRST in answered.word


@pytest.mark.parametrize("name", boats())
def test_no_move_comes_while_the_answer_asks_for_a_reading(name: str) -> None:
    """Each boat as it is, all of it a guess, and with readings unset at random, for every motor."""
    design = boats()[name]
    rng = Random(name)
    for each in (design, guess(design, measures(design)), *(with_some_unread(design, rng) for _ in range(TRIED))):
        assert disagreements(each) == []


@pytest.mark.parametrize("name", demonstrations())
def test_answer_findings_and_next_agree_on_measuring_first(name: str) -> None:
    """Each demonstration boat as it is: the commands' answer, which knows of no question, and the list's title too."""
    checked = with_spreads(check(replace(demonstration(name), demonstration=False)))
    said = says_to_measure(answer(checked))
    for mount in range(len(checked.design.mounts)):
        wanted = asked(checked, mount)
        assert not said or wanted.kind in NO_MOVES, (answer(checked).sentence, wanted.kind)
        assert said == says_to_measure(answer(checked, wanted.key))
    changes = tuple(line for line in glance_lines(checked) if line.group == "change")
    assert not changes or (MEASURE_FIRST in group_title(changes)) == said


def test_what_no_reading_turns_is_named_and_leads_to_find_a_fit() -> None:
    """The runabout misses an old hole that it is to use again by 1/16 in, beyond doubt: only another place helps.

    A lower hole is in doubt as well. Once the old hole is where it has to be, readings may turn all that is left.
    """
    boat = replace(demonstration("thrice-drilled-runabout"), demonstration=False)
    checked = with_spreads(check(boat))
    assert answer(checked).sentence.startswith("Don't drill here: the upper starboard hole misses old upper starboard")
    assert [each.doubtful for each in checked.findings if each.state == "fouled" and stops_the_paper(each)] == [True, False]
    assert asked(checked, 0).kind == "search"
    missed = boat.old_holes[3]
    met = put_path(boat, "old_holes.3.at", (missed.at[0], -50.8))  # [mm] as the other one of the pair
    checked = with_spreads(check(met))
    assert answer(checked).sentence.startswith("Don't drill here, measure first: the lower port hole leaves only")
    assert asked(checked, 0).kind in ("reading", "again")


def test_an_old_hole_that_is_a_guess_is_asked_for_before_a_fit_is_sought() -> None:
    """The same boat as guesses alone: whether an old hole can be used again depends on where it is."""
    checked = with_spreads(check(replace(all_guesses(demonstration("thrice-drilled-runabout")), demonstration=False)))
    missed = sure(checked.of("old_hole", "main motor / upper starboard / old upper starboard"))
    assert {"old_holes.3.across", "old_holes.3.down", "old_holes.3.diameter"} <= {*missed.guesses}
    assert says_to_measure(answer(checked))
    assert asked(checked, 0).kind == "reading"


def test_a_guess_is_not_asked_for_where_it_can_turn_nothing() -> None:
    """The launch's upper washers overlap its lip by 3/8 in, beyond doubt. A guessed thickness lower down changes none of it."""
    checked = with_spreads(check(replace(demonstration("cap-lip-launch"), demonstration=False)))
    assert checked.guesses == ("transom.thickness.low",)
    wanted = asked(checked, 0)
    assert (wanted.kind, wanted.key) == ("search", "")


def test_a_floor_of_several_pieces_is_asked_for_by_its_corners_under_the_lower_bolts() -> None:
    """The launch with two motors: both need the deepest point, in the middle. Its starboard corner is a guess."""
    design = replace(demonstration("twin-motor-launch"), demonstration=False)
    assert deciding_readings(design)[:3] == tuple(f"well.profile.{at}.1" for at in (1, 2, 3))
    for mount in (0, 1):
        wanted = asked(with_spreads(check(design)), mount)
        assert (wanted.kind, wanted.key) == ("reading", "well.profile.3.1")
    assert title(sure(measure(design, "well.profile.3.1"))) == "Floor corner at starboard, depth"
    assert deciding_readings(starts()[0].design) == FIRST


def test_a_corner_that_no_lower_washer_is_over_decides_nothing() -> None:
    """The floor's outer pieces begin at 200 mm. The washers reach to 125.4 + 25.4 = 150.8 mm."""
    profile = ((-320.0, 0.0), (-300.0, -230.0), (-200.0, -250.0), (200.0, -250.0), (300.0, -230.0), (320.0, 0.0))
    design = put_path(starts()[0].design, "well.profile", profile)
    assert deciding_readings(design)[:2] == ("well.profile.2.1", "well.profile.3.1")
    moved = put_path(design, "mounts.0.offset", 60.0)
    assert deciding_readings(moved)[:3] == ("well.profile.2.1", "well.profile.3.1", "well.profile.4.1")
    nowhere = put_path(design, "mounts.0.offset", None)
    assert [key for key in deciding_readings(nowhere) if key.startswith("well.profile")] == [
        f"well.profile.{at}.1" for at in (1, 2, 3, 4)
    ]
