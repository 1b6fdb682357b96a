"""Autosaved designs after a crash, with real processes that are killed."""

import os
import subprocess
import sys
from pathlib import Path

import msgspec
import pytest

from app.document.document import Document
from app.document.files import read_design, write_design
from app.document.recovery import Autosave, unsaved_designs
from geometry.design_text import from_text, to_text
from geometry.errors import OwnerError

ROOT = Path(__file__).resolve().parents[2]
DESIGN = from_text(Path(__file__).with_name("example.boltwell").read_bytes())


def noted(notes, design=DESIGN):
    return msgspec.structs.replace(design, notes=notes)


# A change every 10 ms; each is printed on standard output before it goes to the document.
WORKS_ON = """
import itertools, sys
from pathlib import Path
import msgspec
from PySide6.QtCore import QCoreApplication, QTimer
from app.document.recovery import Autosave
from app.document.document import Document
from geometry.design_text import from_text

app = QCoreApplication([])
document = Document(from_text(Path("tests/app/example.boltwell").read_bytes()))
if len(sys.argv) > 2:
    document.open(Path(sys.argv[2]))
saver = Autosave(Path(sys.argv[1]))
saver.follow(document)
numbers = itertools.count()
def change():
    number = next(numbers)
    print(number, flush=True)
    document.commit(f"Notes {number}", msgspec.structs.replace(document.design, notes=str(number)))
timer = QTimer()
timer.timeout.connect(change)
timer.start(10)
app.exec()
"""


def killed_after(changes, *words):
    """Let a process make some changes, kill it in the middle of the next, and return how many it began."""
    with subprocess.Popen(
        [sys.executable, "-c", WORKS_ON, *map(str, words)], cwd=ROOT, stdout=subprocess.PIPE, text=True
    ) as child:
        assert child.stdout is not None
        lines = [child.stdout.readline() for _ in range(changes + 1)]
        child.kill()
        lines += child.stdout.read().splitlines()
    return len(lines)


@pytest.mark.parametrize("changes", [1, 5, 23])
def test_a_killed_process_loses_at_most_the_last_change(changes, tmp_path):
    """Each change is kept before the next is begun, however slow the machine is."""
    begun = killed_after(changes, tmp_path)
    assert begun > changes
    (left,) = unsaved_designs(tmp_path)
    assert left.label == f"Notes {left.design.notes}"
    assert left.file_state is None
    assert begun - 2 <= int(left.design.notes) <= begun - 1  # they are counted from 0
    left.remove()
    assert list(tmp_path.iterdir()) == []


def test_what_was_left_comes_back_with_its_file(qapp, tmp_path):
    path, kept = tmp_path / "boat.boltwell", tmp_path / "kept"
    write_design(path, DESIGN)
    killed_after(3, kept, path)
    (left,) = unsaved_designs(kept)
    document = Document(DESIGN)
    saver = Autosave(kept)
    saver.follow(document)
    document.recover(left.label, left.design, left.file_state)
    left.remove()
    assert document.design == left.design
    assert document.undo_label == left.label
    assert document.path == path
    assert document.changed_since_saved
    document.undo()
    assert document.design == DESIGN
    document.redo()
    document.save()
    assert read_design(path)[0] == left.design
    assert list(kept.iterdir()) == []
    document.close()


def test_what_was_left_is_not_saved_over_a_newer_file(qapp, tmp_path):
    path, kept = tmp_path / "boat.boltwell", tmp_path / "kept"
    write_design(path, DESIGN)
    killed_after(3, kept, path)
    theirs = to_text(noted("theirs")).encode()
    path.write_bytes(theirs)
    (left,) = unsaved_designs(kept)
    document = Document(DESIGN)
    document.recover(left.label, left.design, left.file_state)
    with pytest.raises(OwnerError, match="Another window"):
        document.save()
    assert path.read_bytes() == theirs
    path.write_bytes(b"{ damaged")
    document.recover(left.label, left.design, left.file_state)
    assert document.design == left.design
    assert document.changed_since_saved
    left.release()
    document.close()


def test_a_process_that_died_between_saving_and_forgetting_stops_nobody(qapp, tmp_path):
    """The unsaved design equals the file by now: no other window saved it."""
    path, kept = tmp_path / "boat.boltwell", tmp_path / "kept"
    write_design(path, DESIGN)
    killed_after(3, kept, path)
    (left,) = unsaved_designs(kept)
    write_design(path, left.design, left.file_state)
    document = Document(DESIGN)
    document.recover(left.label, left.design, left.file_state)
    document.commit("Notes", noted("mine"))
    document.save()
    assert read_design(path)[0] == noted("mine")
    left.release()
    document.close()


def test_what_was_left_once_is_offered_by_one_start_only_and_until_it_is_taken(tmp_path):
    killed_after(1, tmp_path)
    (left,) = unsaved_designs(tmp_path)
    assert unsaved_designs(tmp_path) == ()
    left.release()
    (again,) = unsaved_designs(tmp_path)
    assert again.design == left.design
    again.remove()
    assert unsaved_designs(tmp_path) == ()


def test_a_living_process_is_left_alone(tmp_path):
    saver = Autosave(tmp_path)
    saver.write("Notes", noted("mine"), None)
    assert unsaved_designs(tmp_path) == ()
    saver.discard()
    saver.discard()
    assert list(tmp_path.iterdir()) == []


def test_kept_at_every_change_and_gone_with_a_save(qapp, tmp_path):
    kept = tmp_path / "kept"
    document = Document(DESIGN)
    saver = Autosave(kept)
    saver.follow(document)
    document.preview(noted("a drag"))
    assert not kept.exists()
    document.commit("Notes", noted("one"))
    (file,) = kept.glob("*.kept")
    assert from_text(file.read_bytes().partition(b"\n")[2]) == noted("one")
    document.commit("Notes", noted("two"))
    assert from_text(file.read_bytes().partition(b"\n")[2]) == noted("two")
    document.save(tmp_path / "boat.boltwell")
    assert list(kept.iterdir()) == []
    document.commit("Notes", noted("three"))
    assert file.exists()
    document.undo()
    assert list(kept.iterdir()) == []
    document.close()


def test_a_name_in_any_letters_is_kept(tmp_path):
    saver = Autosave(tmp_path)
    design = noted("Łódź\n﻿½\u2028", msgspec.structs.replace(DESIGN, name="舟"))
    saver.write("Named 舟", design, None)
    (file,) = tmp_path.glob("*.kept")
    head, _, text = file.read_bytes().partition(b"\n")
    assert "舟" in head.decode()
    assert from_text(text) == design
    saver.discard()


def test_where_nothing_can_be_kept_it_is_said_and_work_goes_on(qapp, tmp_path):
    folder = tmp_path / "a file"
    folder.write_text("in the way")
    document = Document(DESIGN)
    saver = Autosave(folder)
    saver.follow(document)
    document.commit("Notes", noted("one"))
    assert document.design == noted("one")
    assert saver.trouble.startswith("The last change is not kept against a crash: ")
    assert unsaved_designs(folder) == ()
    folder.unlink()
    document.commit("Notes", noted("two"))
    assert saver.trouble == ""
    saver.discard()


def test_rubbish_in_the_folder_is_passed_over(tmp_path):
    (tmp_path / "0.kept").write_bytes(b"not ours")
    head = b'{"label": "from the future", "at": 1, "path": null, "digest": null}\n'
    (tmp_path / "1.kept").write_bytes(head + b'{"boltwell": 99}')
    (tmp_path / "2.lock").write_bytes(b"123\n")
    (tmp_path / ".1.kept.0123abcd.part").write_bytes(b"half")
    assert unsaved_designs(tmp_path) == ()
    assert sorted(os.listdir(tmp_path)) == ["0.kept", "1.kept"]
