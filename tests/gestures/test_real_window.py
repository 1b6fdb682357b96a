"""The whole job in a real window: from *New* to the pages of a boat that fits, with a mouse and a keyboard; and a crash.

The boat is the demonstration skiff, typed here in the order in which the card asks for it [in]. Its outcome is worked by
hand in `tests/reference/test_demonstration_boats.py`. It runs on a separate screen, and is left out where none can be made.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pypdfium2
import pytest

from geometry.decide.ladder import ladders
from geometry.design_text import from_text
from geometry.judge.check import check
from geometry.readings.measures import measures
from tests.designs import IN

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

ROOT = Path(__file__).resolve().parents[2]
PATIENCE = 60.0  # s: a busy machine is no fault of the program
PRESSES = 11  # besides one entry for each reading

pytestmark = pytest.mark.skipif(
    not (shutil.which("Xvfb") and shutil.which("xdotool")), reason="a screen of its own needs Xvfb and xdotool"
)

SHAPES = ("Transom outline",)  # as the shape has them: confirmed, not typed
READ = {  # name of the entry: what the tape or the papers say [in]; the others may stay as they are
    "Rake": "15", "Thickness at the top": "1 1/2", "Thickness lower down": "1 1/2", "Depth of the lower thickness": "10",
    "Transom height": "19 5/8", "Deadrise": "10", "Outer skin": "3/16", "Inner skin": "3/16",
    "Floor depth at port": "10 7/16", "Floor depth at starboard": "10 5/8", "Width at the floor": "19 3/4",
    "Width at the top": "21", "Corner radius": "3/8", "Floor slope": "2", "Length forward": "17", "Lean of the front": "0",
    "Shaft length": "20", "Motor’s power": "40", "Motor’s weight": "216 lb", "Set-back": "0",
    "Bracket corner 1, across": "7 1/2", "Bracket corner 1, down": "0",
    "Bracket corner 2, across": "7 1/2", "Bracket corner 2, down": "4 3/4", "Bracket corner 3, across": "6",
    "Bracket corner 3, down": "13 3/4", "Upper holes, half spacing": "6 7/16",
    "Top hole below the bracket hook": "2", "Pitch of the upper holes": "3/4", "Number of upper holes": "5",
    "Bracket thickness at the upper holes": "1/2",
    "Upper holes, diameter": "17/32", "Lower slots, half spacing": "4 15/16", "Bracket thickness at the lower slots": "1/2",
    "Lower slots, width": "17/32", "Slot 1, highest": "8", "Slot 1, lowest": "11", "Upper holes, down": "2",
    "Motor’s height": "2",
}  # fmt: skip
BOLTS = {
    "washer, outside": "1 1/2", "washer, bore": "17/32", "washer, thickness": "1/8", "outer washer, outside": "1 3/8",
    "outer washer, bore": "9/16", "outer washer, thickness": "1/8", "bolt length": "3 1/4", "socket, outside": "1 1/32",
    "socket, length": "2 5/8", "wrench torque": "30",
}  # fmt: skip
READ |= {f"{pair} {name}": text for pair in ("Lower", "Upper") for name, text in BOLTS.items()}
LAST = "Upper wrench torque"


class Person:
    """Somebody with a mouse, a keyboard and eyes; what is pressed and typed is counted."""

    def __init__(self, display: str, folder: Path) -> None:
        own = dict.fromkeys(("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME"), str(folder))
        self._env = {**os.environ, **own, "DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
        self._program = subprocess.Popen(
            [sys.executable, "-m", "tests.gestures.eye"], cwd=ROOT, env=self._env,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        )  # fmt: skip
        self.presses = self.entries = 0
        assert self._hears() == "ready"
        self.turn_to_it()

    def asks(self, *words: Any) -> Any:
        """Ask the eye."""
        assert self._program.stdin is not None
        self._program.stdin.write(json.dumps(words) + "\n")
        self._program.stdin.flush()
        return self._hears()

    def waits(self, for_: Callable[[], Any]) -> Any:
        """Wait until there is something to see."""
        end = time.monotonic() + PATIENCE
        while not (result := for_()):
            assert time.monotonic() < end, {key: value for key, value in self.asks("state").items() if key != "design"}
            time.sleep(0.02)
        return result

    def sees(self, name: str, value: Any) -> None:
        """Wait until the window says so."""
        self.waits(lambda: self.asks("state")[name] == value)

    def turn_to_it(self) -> None:
        """Let the keyboard go to what is in front: on this screen no window manager does it."""
        self._hand("windowfocus", "--sync", self.asks("front"))

    def clicks(self, *where: Any) -> None:
        """Click on something, once it is there."""
        x, y = self.waits(lambda: self.asks(*where))
        self._hand("mousemove", "--sync", x, y, "click", 1)
        self.presses += 1

    def scrolls_back_to(self, name: str) -> None:
        """Turn the wheel over the card until something is seen."""
        x, y = self.asks("control", "Card")
        self._hand("mousemove", "--sync", x, y)
        while not self.asks("control", name):
            self._hand("click", 4)

    def strikes(self, key: str) -> None:
        self._hand("key", key)
        self.presses += 1

    def enters(self, name: str, text: str) -> None:
        """Type one reading into the entry that has the hand, and press Enter."""
        self.sees("focus", name)
        self.sees("in_sight", True)
        self._hand("type", "--delay", 4, text)
        self._hand("key", "Return")
        self.entries += 1

    def passes_by(self) -> None:
        """Press Enter in an entry that may stay as it is."""
        self._hand("key", "Return")
        self.entries += 1

    def confirms(self, name: str) -> None:
        """A shape that is as it was guessed is a reading too, taken by a click on the word."""
        self.sees("focus", name)
        self.clicks("control", f"{name} is a guess")
        self.presses, self.entries = self.presses - 1, self.entries + 1

    def answers(self, name: str) -> None:
        """So is a choice that has the hand: Enter lists its answers, Enter takes the one that was guessed."""
        self.sees("focus", name)
        self._hand("key", "Return")
        self.sees("list", True)
        self._hand("key", "Return")
        self.entries += 1

    def leaves(self) -> None:
        self._program.kill()
        self._program.communicate()

    def _hand(self, *words: Any) -> None:
        subprocess.run(["xdotool", *map(str, words)], env=self._env, check=True, timeout=PATIENCE)

    def _hears(self) -> Any:
        assert self._program.stdout is not None
        return json.loads(self._program.stdout.readline())


@pytest.fixture
def display() -> Iterator[str]:
    """A screen of 1366 x 768."""
    reader, writer = os.pipe()
    words = ["Xvfb", "-displayfd", str(writer), "-screen", "0", "1366x768x24", "-nolisten", "tcp"]
    screen = subprocess.Popen(words, pass_fds=(writer,), stderr=subprocess.DEVNULL)
    os.close(writer)
    with os.fdopen(reader) as number:
        yield f":{number.readline().strip()}"
    screen.kill()
    screen.wait()


@pytest.fixture
def person(display: str, tmp_path: Path) -> Iterator[Person]:
    owner = Person(display, tmp_path)
    yield owner
    owner.leaves()


def test_the_skiff_from_new_to_its_pages(person: Person, tmp_path: Path) -> None:
    pdf = makes_the_skiff(person, tmp_path)
    state = person.asks("state")
    _holds_the_skiff(state["design"])
    _is_ready_to_print(pdf)
    readings = len(measures(from_text(state["design"]))) + 1  # the top cut too
    assert person.entries <= readings
    assert person.presses <= PRESSES


def makes_the_skiff(person: Person, folder: Path) -> Path:
    """Type the whole boat, make it fit, and save its sheets; return their file."""
    person.strikes("ctrl+n")
    person.sees("start", True)
    person.strikes("Return")  # the first shape: a cut-out and a shallow well
    person.sees("start", False)
    person.clicks("control", "Transom, ")  # the card's first section: here every value is typed, not only those asked for
    person.strikes("Tab")
    person.sees("focus", "Name")
    _goes_down_the_card(person)
    person.sees("guesses", [])
    state = person.asks("state")
    assert state["verdict"] == "fouled"
    assert state["answer"].startswith("Don’t drill here: the lower port washer")

    person.scrolls_back_to("Lower washers’ edge")
    person.clicks("control", "Lower washers’ edge")
    person.clicks("answer_of", "Cut flat")
    person.enters("Lower washer, flat cut at", "15/32")
    person.clicks("control", "Ladder:")
    person.clicks("control", "Drop 7 1/4 in, one hole up")
    person.sees("verdict", "tight")  # the lower bolts are at the slot's end; in the well all is clear
    person.clicks("control", "Make the sheets")
    person.sees("pages", True)
    person.clicks("control", "Save the PDF")
    person.waits(lambda: person.asks("state")["question"])
    person.turn_to_it()
    person.strikes("Return")  # under the name that is offered
    pdf: Path = person.waits(lambda: list(folder.glob("*.pdf")))[0]
    person.sees("question", False)
    return pdf


def test_a_boat_that_was_never_saved_outlives_its_killed_window(display: str, tmp_path: Path) -> None:
    first = Person(display, tmp_path)
    first.strikes("ctrl+n")
    first.sees("start", True)
    first.strikes("Return")
    first.sees("start", False)
    first.enters("Floor depth at port", "10 1/2")  # the question has the hand at once, and then the next one
    first.sees("focus", "Floor depth at starboard")
    design = first.asks("state")["design"]
    first.leaves()  # killed for good, nothing asked
    second = Person(display, tmp_path)
    state = second.asks("state")
    assert state["design"] == design
    assert 'Your last change, "Floor depth at port to 10 1/2 in", is here.' in state["said"]
    assert len(state["steps"]) == 1  # the design comes back, not its steps
    second.leaves()


def _goes_down_the_card(person: Person) -> None:
    """Type, confirm or pass by each entry that has the hand, until the last; each comes once."""
    seen = [""]
    while seen[-1] != LAST:
        name = person.waits(lambda: (focus := person.asks("state")["focus"]) != seen[-1] and focus)
        assert name not in seen
        seen.append(name)
        if name in SHAPES:
            person.confirms(name)
        elif name == "Top cut: level":
            person.answers(name)
        elif name in READ:
            person.enters(name, READ[name])
        else:
            person.passes_by()
    assert set(READ) <= set(seen)


def _holds_the_skiff(text: str) -> None:
    """Check what was made against the figures that were typed, and against the skiff as it is worked by hand."""
    design = from_text(text)
    mount, checked = design.mounts[0], check(design)
    assert design.well is not None
    assert (mount.upper_at, mount.drop) == pytest.approx((-2 * IN, 7.25 * IN), abs=1e-9)
    assert mount.row == 1
    assert design.transom.thickness.top == pytest.approx(1.5 * IN, abs=1e-9)
    assert [y for _, y in design.well.profile] == pytest.approx([0, -262.73125, -272.25625, 0], abs=1e-9)
    assert [u for u, _ in design.well.profile] == pytest.approx([-10.5 * IN, -9.875 * IN, 9.875 * IN, 10.5 * IN], abs=1e-9)
    assert checked.guesses == ()
    assert checked.verdict == "tight"
    for side, room in (("port", 20.6008), ("starboard", 25.3625)):  # cut flat, at 7 1/4 in
        washer = checked.of("washer", f"main motor / lower {side}")
        assert (washer.state, washer.value) == ("clear", pytest.approx(room, abs=0.001))
    (rung,) = [rung for rung in ladders(design)[0].rungs if (rung.drop, rung.row) == (mount.drop, mount.row)]
    assert rung.rows_left == (1, 2, 3, 4)
    assert rung.plate_height == pytest.approx(8.8759, abs=0.001)


def _is_ready_to_print(pdf: Path) -> None:
    """By hand: the sides are the root of 7.25² + (6 7/16 - 4 15/16)² = 7.4035 in apart, which is 7 13/32."""
    document = pypdfium2.PdfDocument(pdf)
    texts = [page.get_textpage().get_text_range() for page in document]
    document.close()
    assert any("page 1" in text.lower() for text in texts), texts[0][:400]
    assert not any("NOT TO BE DRILLED" in text for text in texts)
    assert any("7-13/32 in (188.1)" in text for text in texts)  # template and shop sheet
