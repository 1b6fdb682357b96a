"""The desk: what goes in as an edit, and what every view is told."""

from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

from app.document.document import Desk
from app.document.files import read_design
from geometry.design.design_text import from_text
from geometry.errors import OwnerError

EXAMPLE = Path(__file__).with_name("example.boltwell")
DESIGN = from_text(EXAMPLE.read_bytes())


def dropped(drop, design=DESIGN):
    mount = msgspec.structs.replace(design.mounts[0], drop=drop)
    return msgspec.structs.replace(design, mounts=(mount, *design.mounts[1:]))


@pytest.fixture
def desk(qapp):
    desk = Desk(DESIGN)
    yield desk
    desk.close()


@pytest.fixture
def told(desk):
    """Everything that was shown, in order."""
    shown = []
    desk.shown.connect(lambda checked, sight: shown.append((checked, sight)))
    return shown


def test_an_edit_is_checked_and_shown(desk, told):
    desk.commit("Drop to 8 in", dropped(203.2))
    checked, _ = told[-1]
    assert checked.design == desk.design == dropped(203.2)
    assert checked.verdict == "fouled"
    assert desk.undo_label == "Drop to 8 in"
    assert desk.changed_since_saved


def test_a_drag_is_shown_and_is_no_step(desk, told):
    desk.preview(dropped(190.0))
    desk.preview(dropped(195.0))
    assert [checked.design for checked, _ in told] == [dropped(190.0), dropped(195.0)]
    assert desk.design == DESIGN
    assert not desk.changed_since_saved
    desk.cancel()
    assert told[-1][0].design == DESIGN
    assert desk.undo_label == ""


def test_a_drag_that_ends_where_it_began_is_no_step_and_is_shown(desk, told):
    desk.preview(dropped(190.0))
    desk.commit("Drop", DESIGN)
    assert told[-1][0].design == DESIGN
    assert desk.history.past == ()


def test_undo_and_redo_show_and_name_their_step(desk, told):
    desk.commit("Drop to 8 in", dropped(203.2))
    desk.undo()
    assert told[-1][0].design == DESIGN
    assert (desk.undo_label, desk.redo_label) == ("", "Drop to 8 in")
    desk.redo()
    assert told[-1][0].design == dropped(203.2)
    desk.redo()
    desk.undo()
    desk.undo()
    assert desk.design == DESIGN


def test_looking_is_no_step_and_keeps_a_drag_in_view(desk, told):
    desk.preview(dropped(190.0))
    desk.look(replace(desk.sight, chosen="lower port hole:0", section=3))
    checked, sight = told[-1]
    assert checked.design == dropped(190.0)
    assert (sight.chosen, sight.section) == ("lower port hole:0", 3)
    assert desk.history.past == ()


def test_the_motor_in_hand_is_one_that_is_there(desk, told):
    twin = msgspec.structs.replace(DESIGN.mounts[0], name="kicker", offset=500.0)
    desk.commit("Motor added", msgspec.structs.replace(DESIGN, mounts=(*DESIGN.mounts, twin)))
    desk.look(replace(desk.sight, mount=1))
    assert told[-1][1].mount == 1
    desk.undo()
    assert told[-1][1].mount == 0


def test_save_then_open_is_equal(desk, tmp_path):
    desk.commit("Drop", dropped(190.0))
    desk.save(tmp_path / "mine.boltwell")
    assert not desk.changed_since_saved
    desk.new(DESIGN)
    assert desk.path is None
    desk.open(tmp_path / "mine.boltwell")
    assert desk.design == dropped(190.0)
    assert desk.path == tmp_path / "mine.boltwell"
    assert not desk.changed_since_saved


def test_undo_to_what_was_saved_is_no_change(desk, tmp_path):
    desk.save(tmp_path / "mine.boltwell")
    desk.commit("Drop", dropped(190.0))
    assert desk.changed_since_saved
    desk.undo()
    assert not desk.changed_since_saved


def test_what_cannot_be_opened_leaves_all_as_it_was(desk, tmp_path, told):
    desk.save(tmp_path / "mine.boltwell")
    desk.commit("Drop", dropped(190.0))
    with pytest.raises(OwnerError):
        desk.open(tmp_path / "missing.boltwell")
    assert desk.design == dropped(190.0)
    assert desk.path == tmp_path / "mine.boltwell"
    assert desk.undo_label == "Drop"


def test_a_second_window_knows_that_it_is_one(desk, tmp_path):
    path = tmp_path / "mine.boltwell"
    desk.save(path)
    assert not desk.elsewhere
    other = Desk(DESIGN)
    other.open(path)
    assert other.elsewhere
    other.commit("Drop", dropped(190.0, other.design))
    other.save()
    desk.commit("Drop", dropped(195.0))
    with pytest.raises(OwnerError, match=r"^Another window saved this boat at \d\d:\d\d\. Keep yours under a new name"):
        desk.save()
    assert read_design(path)[0] == other.design
    assert desk.changed_since_saved
    desk.save(tmp_path / "yours.boltwell")
    assert not desk.changed_since_saved
    other.close()
    again = Desk(DESIGN)
    again.open(path)
    assert not again.elsewhere
    again.close()
    desk.close()
    assert sorted(file.name for file in tmp_path.iterdir()) == ["mine.boltwell", "yours.boltwell"]


def test_a_demonstration_becomes_ones_own_under_another_name_and_stays_so(qapp, tmp_path):
    desk = Desk(msgspec.structs.replace(DESIGN, demonstration=True))
    desk.commit("Drop", dropped(190.0, desk.design))
    desk.save(tmp_path / "mine.boltwell")
    assert desk.design.demonstration is False
    desk.undo()
    assert desk.design.demonstration is False
    assert desk.design == DESIGN
    desk.close()


def test_the_revision_rises_with_the_first_sheet_after_a_change(desk):
    assert desk.for_a_sheet().revision == 1
    desk.commit("Drop", dropped(190.0))
    assert desk.design.revision == 1
    assert desk.for_a_sheet().revision == 2
    assert desk.for_a_sheet().revision == 2
    desk.commit("Notes", msgspec.structs.replace(desk.design, notes="moves no hole"))
    assert desk.for_a_sheet().revision == 2
    desk.undo()
    desk.undo()
    assert desk.for_a_sheet().revision == 3
    assert desk.design == msgspec.structs.replace(DESIGN, revision=3)
