"""Each kind of odd input, with the part of the program that has to take it.

A part may refuse its input with an `OwnerError` of one sentence. Any other exception is a fault.
"""

from __future__ import annotations

import contextlib
import io
import os
import random
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from app.commands.command_line import FAULT_CODE, main
from app.document.files import read_design
from app.document.recovery import autosave_folder, unsaved_designs
from app.document.settings import settings, settings_file
from app.entries import typed_entries
from assets import design_names, design_text
from geometry.design_text import from_text, to_text
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.readings.measures import measures
from tests.fuzz import odd_input

BOATS = {name: from_text(design_text(name)) for name in design_names()}
LONGEST = 400  # letters of a refusal


class NotBorneError(AssertionError):
    """The program took an input, but not as it should."""


class Kind(NamedTuple):
    """Makes an input from a seed, and feeds it. The input is bytes, so that it can be kept in a file."""

    make: Callable[[random.Random], bytes]
    feed: Callable[[bytes, Path], None]


def _feed_file(raw: bytes, folder: Path) -> None:
    """Open a file as the window does; what can be read is checked, and saved and read again as the same."""
    path = folder / "boat.boltwell"
    path.write_bytes(raw)
    try:
        design = read_design(path)[0]
    except OwnerError as sentence:
        _plain(str(sentence))
    else:
        drillable(check(design))
        if to_text(from_text(to_text(design))) != to_text(design):
            raise NotBorneError("a boat that was saved is read as another")
    if path.read_bytes() != raw:
        raise NotBorneError("reading changed the file")


def _feed_settings(raw: bytes, _folder: Path) -> None:
    settings_file().parent.mkdir(parents=True, exist_ok=True)
    settings_file().write_bytes(raw)
    settings()


def _feed_autosave(raw: bytes, _folder: Path) -> None:
    autosave_folder().mkdir(parents=True, exist_ok=True)
    path = autosave_folder() / "0123456789abcdef.kept"
    path.write_bytes(raw)
    for unsaved in unsaved_designs():
        unsaved.release()
    path.unlink(missing_ok=True)


def _make_entry(draw: random.Random) -> bytes:
    name = draw.choice(sorted(BOATS))
    key = draw.choice([each.key for each in measures(BOATS[name])])
    return "\n".join((name, key, odd_input.text(draw))).encode("utf-8", "surrogatepass")


def _feed_entry(raw: bytes, _folder: Path) -> None:
    name, key, text = raw.decode("utf-8", "surrogatepass").split("\n", 2)
    try:
        design = typed_entries.typed(BOATS[name], key, text)
    except OwnerError as sentence:
        _plain(str(sentence))
    else:
        typed_entries.label(design, key, BOATS[name])
        if random.Random(raw).random() < 0.1:  # a check takes as long as a hundred entries
            check(design)


def _make_command(draw: random.Random) -> bytes:
    return "\n".join(odd_input.command(draw, "FILE", "OUT")).encode("utf-8", "surrogatepass")


def _feed_command(raw: bytes, folder: Path) -> None:
    file = folder / "boat.boltwell"
    file.write_text(design_text("cap-lip-launch"), encoding="utf-8")
    names = {"FILE": str(file), "OUT": str(folder / "out.pdf")}
    words = [names.get(word, word) for word in raw.decode("utf-8", "surrogatepass").split("\n")]
    if words[0] in ("", "demo") or words == [str(file)]:  # the window, and the whole job
        return
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err), contextlib.chdir(folder):
        code = main(words)
    said = err.getvalue().strip()
    if code == FAULT_CODE or "Traceback" in said:
        raise NotBorneError(said)
    if code not in (0, 1, 2):
        raise NotBorneError(f"exit code {code}")
    if code == 2 and not said:
        raise NotBorneError("exit code 2 without a sentence")
    if file.read_text(encoding="utf-8") != design_text("cap-lip-launch"):
        raise NotBorneError("the command changed its input")


def _plain(sentence: str) -> None:
    if not sentence.strip() or len(sentence) > LONGEST or "Traceback" in sentence or "Error(" in sentence:
        raise NotBorneError(f"no plain sentence: {sentence[:LONGEST]}")


def _autosaved(draw: random.Random) -> bytes:
    head = b'{"label":"Drop to 7 in","at":1700000000.0,"path":null,"digest":null}\n'
    return odd_input.damaged(draw, head + odd_input.design(draw))


def _kept_settings(draw: random.Random) -> bytes:
    raw = (
        b'{"recent":["/a/boat.boltwell"],"dark":true,"hint_read":false,"printers":[{"name":"office","paper":"letter","short":1.0,'
        b'"long":1.001,"unsure":[0.0005,0.0005],"read":[200.0,null]}],"place":{"left":0,"top":0,"wide":900,"high":700}}'
    )
    return odd_input.damaged(draw, raw)


KINDS = {
    "design": Kind(odd_input.design, _feed_file),
    "bytes": Kind(lambda draw: odd_input.damaged(draw, odd_input.design(draw)), _feed_file),
    "settings": Kind(_kept_settings, _feed_settings),
    "autosave": Kind(_autosaved, _feed_autosave),
    "entry": Kind(_make_entry, _feed_entry),
    "command": Kind(_make_command, _feed_command),
}


@contextlib.contextmanager
def own_home(folder: Path):
    """Keep the person's own settings and autosaved boats out of it."""
    before = os.environ.get("XDG_DATA_HOME")
    os.environ["XDG_DATA_HOME"] = str(folder)
    try:
        yield
    finally:
        if before is None:
            del os.environ["XDG_DATA_HOME"]
        else:
            os.environ["XDG_DATA_HOME"] = before
