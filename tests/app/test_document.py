"""The document: edits go in, and every view gets a signal."""

from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

from app.document.document import Document
from app.document.files import read_design
from geometry.design_text import from_text
from geometry.errors import OwnerError
from geometry.judge.check import check

EXAMPLE = Path(__file__).with_name("example.boltwell")
DESIGN = from_text(EXAMPLE.read_bytes())


def dropped(drop, design=DESIGN):
    mount = msgspec.structs.replace(design.mounts[0], drop=drop)
    return msgspec.structs.replace(design, mounts=(mount, *design.mounts[1:]))


@pytest.fixture
def document(qapp):
    document = Document(DESIGN)
    yield document
    document.close()


@pytest.fixture
def recorded(document):
    """Everything that was shown, in order."""
    shown = []
    document.shown.connect(lambda checked, view_state: shown.append((checked, view_state)))
    return shown


def test_an_edit_is_checked_and_shown(document, recorded):
    document.commit("Drop to 8 in", dropped(203.2))
    checked, _ = recorded[-1]
    assert checked.design == document.design == dropped(203.2)
    assert checked.verdict == "fouled"
    assert document.undo_label == "Drop to 8 in"
    assert document.changed_since_saved


def test_a_drag_is_shown_and_is_no_step(document, recorded):
    document.preview(dropped(190.0))
    document.preview(dropped(195.0))
    assert [checked.design for checked, _ in recorded] == [dropped(190.0), dropped(195.0)]
    assert document.design == DESIGN
    assert not document.changed_since_saved
    document.cancel()
    assert recorded[-1][0].design == DESIGN
    assert document.undo_label == ""


def test_a_drag_that_ends_where_it_began_is_no_step_and_is_shown(document, recorded):
    document.preview(dropped(190.0))
    document.commit("Drop", DESIGN)
    assert recorded[-1][0].design == DESIGN
    assert document.history.past == ()


def test_undo_and_redo_show_and_name_their_step(document, recorded):
    document.commit("Drop to 8 in", dropped(203.2))
    document.undo()
    assert recorded[-1][0].design == DESIGN
    assert (document.undo_label, document.redo_label) == ("", "Drop to 8 in")
    document.redo()
    assert recorded[-1][0].design == dropped(203.2)
    document.redo()
    document.undo()
    document.undo()
    assert document.design == DESIGN


def test_a_step_that_was_left_keeps_nothing_that_can_be_calculated(document):
    """A day of editing has thousands of steps. Each would keep its bolts, its planes and its measures."""
    for drop in (190.0, 191.0, 192.0, 193.0):
        document.commit(f"Drop to {drop} mm", dropped(drop))
    document.undo()
    document.go_to(1)
    history = document.history
    assert [bool(step.design.__dict__) for step in (*history.past, *history.future)] == [False] * 4
    assert document.design.__dict__
    assert check(document.design).findings == document.checked.findings


def test_looking_is_no_step_and_keeps_a_drag_in_view(document, recorded):
    document.preview(dropped(190.0))
    document.set_view_state(replace(document.view_state, chosen="lower port hole:0", section=3))
    checked, view_state = recorded[-1]
    assert checked.design == dropped(190.0)
    assert (view_state.chosen, view_state.section) == ("lower port hole:0", 3)
    assert document.history.past == ()


def test_the_motor_in_hand_is_one_that_is_there(document, recorded):
    twin = msgspec.structs.replace(DESIGN.mounts[0], name="kicker", offset=500.0)
    document.commit("Motor added", msgspec.structs.replace(DESIGN, mounts=(*DESIGN.mounts, twin)))
    document.set_view_state(replace(document.view_state, mount=1))
    assert recorded[-1][1].mount == 1
    document.undo()
    assert recorded[-1][1].mount == 0


def test_save_then_open_is_equal(document, tmp_path):
    document.commit("Drop", dropped(190.0))
    document.save(tmp_path / "mine.boltwell")
    assert not document.changed_since_saved
    document.new(DESIGN)
    assert document.path is None
    document.open(tmp_path / "mine.boltwell")
    assert document.design == dropped(190.0)
    assert document.path == tmp_path / "mine.boltwell"
    assert not document.changed_since_saved


def test_undo_to_what_was_saved_is_no_change(document, tmp_path):
    document.save(tmp_path / "mine.boltwell")
    document.commit("Drop", dropped(190.0))
    assert document.changed_since_saved
    document.undo()
    assert not document.changed_since_saved


def test_what_cannot_be_opened_leaves_all_as_it_was(document, tmp_path, recorded):
    document.save(tmp_path / "mine.boltwell")
    document.commit("Drop", dropped(190.0))
    with pytest.raises(OwnerError):
        document.open(tmp_path / "missing.boltwell")
    assert document.design == dropped(190.0)
    assert document.path == tmp_path / "mine.boltwell"
    assert document.undo_label == "Drop"


def test_a_second_window_knows_that_it_is_one(document, tmp_path):
    path = tmp_path / "mine.boltwell"
    document.save(path)
    assert not document.elsewhere
    other = Document(DESIGN)
    other.open(path)
    assert other.elsewhere
    other.commit("Drop", dropped(190.0, other.design))
    other.save()
    document.commit("Drop", dropped(195.0))
    with pytest.raises(OwnerError, match=r"^Another window saved this boat at \d\d:\d\d\. Keep yours under a new name"):
        document.save()
    assert read_design(path)[0] == other.design
    assert document.changed_since_saved
    document.save(tmp_path / "yours.boltwell")
    assert not document.changed_since_saved
    other.close()
    again = Document(DESIGN)
    again.open(path)
    assert not again.elsewhere
    again.close()
    document.close()
    assert sorted(file.name for file in tmp_path.iterdir()) == ["mine.boltwell", "yours.boltwell"]


def test_a_demonstration_becomes_ones_own_under_another_name_and_stays_so(qapp, tmp_path):
    document = Document(msgspec.structs.replace(DESIGN, demonstration=True))
    document.commit("Drop", dropped(190.0, document.design))
    document.save(tmp_path / "mine.boltwell")
    assert document.design.demonstration is False
    document.undo()
    assert document.design.demonstration is False
    assert document.design == DESIGN
    document.close()


def test_the_revision_rises_with_the_first_sheet_after_a_change(document):
    assert document.for_a_sheet().revision == 1
    document.commit("Drop", dropped(190.0))
    assert document.design.revision == 1
    assert document.for_a_sheet().revision == 2
    assert document.for_a_sheet().revision == 2
    document.commit("Notes", msgspec.structs.replace(document.design, notes="moves no hole"))
    assert document.for_a_sheet().revision == 2
    document.undo()
    document.undo()
    assert document.for_a_sheet().revision == 3
    assert document.design == msgspec.structs.replace(DESIGN, revision=3)
