"""``python3 -m tests.kills``: kills a window at random moments of its work, and looks at what it leaves.

    --kills N    how often (200)
    --seed N     of the first moment (0)

A process without a screen opens a boat's file in the real window. It edits, undoes, saves, and makes and saves sheets, without
a pause. Somebody else kills it for good. A new process then has to find the work of all but the last second. Boat's file and
PDF have to be whole, and no lock may keep the boat closed. Once it has cleaned up, no half-written file may be left.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import random
import subprocess
import sys
import tempfile
import time
from functools import partial
from pathlib import Path
from typing import NamedTuple

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pikepdf

from app.document.files import lock_design, read_design
from app.document.recovery import unsaved_designs
from app.window.program import clean_up
from geometry.design_text import fingerprint

ROOT = Path(__file__).resolve().parents[1]
LOST = 1.0  # s of work that a kill may cost
EDITING, PRINTING = (0.3, 3.5), (3.0, 11.0)  # s from the window's first act to the kill; every third window prints first
_FOLDERS = ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME")
_BOAT, _SHEETS = "boat.boltwell", "boat sheets.pdf"


class Shown(NamedTuple):
    """A design that the window showed as its own, and when [s since 1970]."""

    at: float
    number: str


class Left(NamedTuple):
    """The files that a killed window left.

    Attributes:
        shown: the designs that it said it had. state: what the next start finds: "kept", or "saved" where all was saved.
        sheets: whether there is a PDF.
    """

    shown: tuple[Shown, ...]
    state: str
    sheets: bool


def work(folder: Path, seed: int) -> None:
    """Edit, save and print in a window, and say each design once it is kept. Never ends."""
    from PySide6.QtWidgets import QApplication

    from app.ui.theme import start
    from tests.endless import Session, settle

    start()
    session, chance = Session(seed), random.Random(seed)
    document, mode, window = session.document, session.window.sheets.mode, session.window
    document.save(folder / _BOAT, over=True)
    answers = {"save_name": folder / _SHEETS, "choose": 0}  # a person's: the name of the PDF, and yes, replace it
    for question, answer in answers.items():
        setattr(window.dialogs, question, partial(_answer, answer))
    document.shown.connect(lambda *_shown: say(fingerprint(document.design)))  # after it was kept

    written: list[Path] = []
    mode.saved.connect(written.append)

    def print_sheets() -> None:
        """Make the sheets, and save them again and again: a short moment, that a kill would hardly meet."""
        window.make_sheets()
        mode.save()
        until, before = time.monotonic() + chance.uniform(0.0, 2 * PRINTING[1]), len(written)
        while len(written) == before and time.monotonic() < until:  # some wait for their sheets, some don't
            settle(0.02)
        for _ in range(40 if len(written) > before else 0):
            mode.save()
        window.leave_sheets()

    say(fingerprint(document.design))
    acts = (session.step, session.drag, session.undo, session.redo, session.type, document.save, print_sheets)
    if _prints_first(seed):
        print_sheets()
    while True:
        chance.choices(acts, (8, 4, 2, 2, 4, 0.3, 0.3))[0]()
        QApplication.processEvents()


def _prints_first(seed: int) -> bool:
    return seed % 3 == 2


def _answer(answer: object, *_words: object) -> object:
    return answer


def say(number: str) -> None:
    """Signal to the process that will kill this one."""
    print(json.dumps((time.time(), number)), flush=True)


def killed(home: Path, seed: int) -> tuple[tuple[Shown, ...], float]:
    """Let a window work in ``home``, kill it at a random moment, and return what it said, and when it died [s since 1970]."""
    chance = random.Random(seed)
    own = {**os.environ, **dict.fromkeys(_FOLDERS, str(home)), "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "tests.kills", "--work", str(home), "--seed", str(seed)]
    with subprocess.Popen(command, cwd=ROOT, env=own, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as window:
        assert window.stdout is not None
        assert window.stderr is not None
        lines = [window.stdout.readline()]
        assert lines[0], window.stderr.read()  # else it died while it started
        time.sleep(chance.uniform(*(PRINTING if _prints_first(seed) else EDITING)))
        assert window.poll() is None, window.stderr.read()
        window.kill()
        died = time.time()
        lines += window.stdout.read().splitlines(keepends=True)
    return tuple(Shown(*json.loads(line)) for line in lines if line.endswith("\n")), died


def look(home: Path, shown: tuple[Shown, ...], died: float) -> Left:
    """Look at what a window left in ``home`` when it died, as the next start does.

    Raises:
        AssertionError: it lost something, and what.
    """
    boat, sheets, last = home / _BOAT, home / _SHEETS, shown[-1]
    numbers = {each.number for each in shown}
    recent = {each.number for at, each in enumerate(shown) if at + 1 == len(shown) or shown[at + 1].at > died - LOST}
    saved, _ = read_design(boat)
    kept = unsaved_designs()
    assert len(kept) <= 1, f"{len(kept)} designs are kept"
    for design in kept:
        number = fingerprint(design.design)
        assert number in recent or design.at >= last.at, "the kept design is too old"
        assert design.file_state is not None
        assert design.file_state.path == boat.resolve()
        design.remove()
    if not kept:
        assert fingerprint(saved) in recent, "nothing is kept, and the file is too old"
    assert fingerprint(saved) in numbers, "the file has a design that nobody made"
    if sheets.exists():
        with pikepdf.open(io.BytesIO(sheets.read_bytes())) as pdf:
            assert len(pdf.pages) > 1
            assert not pdf.check_pdf_syntax()
    lock = lock_design(boat)
    assert lock is not None, "the boat stays locked"
    lock.release()
    clean_up()
    there = {path.name for path in home.iterdir() if path.is_file()}
    assert there <= {_BOAT, _SHEETS}, f"left over: {sorted(there)}"
    return Left(shown, "kept" if kept else "saved", sheets.exists())


def once(seed: int) -> Left:
    """Kill one window, and look."""
    with tempfile.TemporaryDirectory() as folder:
        before = {name: os.environ.get(name) for name in _FOLDERS}
        os.environ |= dict.fromkeys(_FOLDERS, folder)
        try:
            return look(Path(folder), *killed(Path(folder), seed))
        finally:
            for name, value in before.items():
                if value is None:
                    del os.environ[name]
                else:
                    os.environ[name] = value


def main() -> int:
    """Return 0 where no kill lost anything, else 1."""
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--kills", type=int, default=200)
    words.add_argument("--seed", type=int, default=0)
    words.add_argument("--work", type=Path, help=argparse.SUPPRESS)
    asked = words.parse_args()
    if asked.work is not None:
        work(asked.work, asked.seed)
    faults, ends = 0, list[Left]()
    for seed in range(asked.seed, asked.seed + asked.kills):
        try:
            ends.append(once(seed))
        except AssertionError as fault:
            faults += 1
            print(f"kill {seed}: {fault}", flush=True)
    shown, kept = sum(len(end.shown) for end in ends), sum(end.state == "kept" for end in ends)
    papers = sum(end.sheets for end in ends)
    print(f"{asked.kills} kills, {faults} faults; {shown} designs, {kept} times one was kept, {papers} PDFs")
    return min(faults, 1)


if __name__ == "__main__":
    sys.exit(main())
