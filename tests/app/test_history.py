"""The laws of undo and redo, for any order of edits."""

from pathlib import Path

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from app.document.history import History, Step
from geometry.design_text import from_text

DESIGN = from_text(Path(__file__).with_name("example.boltwell").read_bytes())
NAMES = st.sampled_from(["one", "two", "three"])  # few, so that equal designs come one after another
MOVES = st.one_of(NAMES, st.just(History.undo), st.just(History.redo))


def named(name):
    return msgspec.structs.replace(DESIGN, name=name)


def after(moves):
    history = History(Step("", DESIGN))
    for move in moves:
        history = history.do(f"Name {move}", named(move)) if isinstance(move, str) else move(history)
    return history


def row(history):
    return (*history.past, history.present, *history.future)


histories = st.lists(MOVES, max_size=25).map(after)


@given(histories, NAMES)
def test_undo_takes_back_just_one_edit(history, name):
    done = history.do("Name", named(name))
    if history.present.design == named(name):
        assert done is history
    else:
        assert done.undo().present == history.present
        assert done.undo().past == history.past
        assert done.undo().redo() == done


@given(histories)
def test_redo_is_the_way_back_from_undo(history):
    if history.past:
        assert history.undo().redo() == history
    else:
        assert history.undo() is history
    if history.future:
        assert history.redo().undo() == history
    else:
        assert history.redo() is history


@given(histories)
def test_undo_goes_all_the_way_to_the_first_design_and_back(history):
    steps = len(history.past)
    back = history
    for _ in range(steps):
        back = back.undo()
    assert back.present == Step("", DESIGN)
    for _ in range(steps):
        back = back.redo()
    assert back == history


@given(histories, NAMES)
def test_an_edit_forgets_what_was_undone(history, name):
    done = history.do("Name", named(name))
    assert done is history or done.future == ()


@given(histories)
def test_no_two_neighbouring_steps_are_equal(history):
    steps = row(history)
    assert all(earlier.design != later.design for earlier, later in zip(steps, steps[1:], strict=False))


@given(histories)
def test_a_change_made_everywhere_leaves_the_steps_as_they_are(history):
    changed = history.everywhere(lambda design: msgspec.structs.replace(design, revision=7))
    assert [len(changed.past), len(changed.future)] == [len(history.past), len(history.future)]
    for step, old in zip(row(changed), row(history), strict=True):
        assert step == Step(old.label, msgspec.structs.replace(old.design, revision=7))


def test_a_thousand_steps_are_kept():
    history = History(Step("", DESIGN))
    for number in range(1000):
        history = history.do(f"Name {number}", named(str(number)))
    for _ in range(1000):
        history = history.undo()
    assert history.present.design == DESIGN
    assert len(history.future) == 1000
