"""The command line: `boltwell` and the words after it.

Each command imports what it needs when it runs, so that `check` starts without Qt and without the PDF writer.
"""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections import deque
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import msgspec

from app.problems import told
from app.terminal import each, tell, waiting, warn, wrapped
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.whole import Design
    from geometry.judge.findings import Checked

    Words = argparse.Namespace

_ABOUT = "Places an outboard's bracket on a transom with a shallow splash well, and prints the template at full scale."
FAULT_CODE = 70  # EX_SOFTWARE in BSD's sysexits.h


class UsageError(OwnerError):
    """Words that the command does not know; the message says which, and how it goes."""


class Command(msgspec.Struct, frozen=True):
    """One command: its words, what it does, and the function that does it and returns the exit code."""

    name: str
    words: str
    does: str
    run: Callable[[Words], int]
    flags: tuple[str, ...] = ()
    options: tuple[str, ...] = ()
    needed: tuple[str, ...] = ()

    @property
    def usage(self) -> str:
        """How it goes."""
        return f"boltwell {self.name} {self.words}".strip()


def main(argv: list[str] | None = None) -> int:
    """Do what the words say and return the exit code; a sentence on standard error where it is 2.

    `check` returns 1 where the verdict is not known or fouled; what can't be read, written or understood returns 2;
    a fault of the program itself returns 70.
    """
    words = sys.argv[1:] if argv is None else argv
    try:
        return _run(words)
    except OwnerError as sentence:
        warn(f"boltwell: {sentence}")
        return 2
    except KeyboardInterrupt:
        warn("boltwell: stopped.")
        return 130
    except Exception as fault:  # noqa: BLE001 (the last stop: Python's own code for it is 1, which says "fouled" here)
        short, details = told(fault)
        warn(f"{details}boltwell: {short}")
        return FAULT_CODE


def _run(words: list[str]) -> int:
    if not words:
        from app.program import run

        return run()
    first, rest = words[0], words[1:]
    if first.endswith(".boltwell") and not rest:
        from app.program import run

        return run(Path(first))
    if first in ("--help", "-h", "help"):
        tell(_help(*COMMANDS))
        return 0
    if first == "--version":
        from importlib.metadata import PackageNotFoundError, version

        try:
            tell(f"boltwell {version('boltwell')}")
        except PackageNotFoundError:
            tell("boltwell, run from its checkout")
        return 0
    command = next((one for one in COMMANDS if one.name == first), None)
    if command is None:
        names = ", ".join(one.name for one in COMMANDS)
        raise UsageError(f'"{first}" is no command of this program: it knows {names}, and --help tells what they do.')
    if "--help" in rest or "-h" in rest:
        tell(_help(command))
        return 0
    return command.run(_Parser(command).parse_args(rest))


def _help(*commands: Command) -> str:
    lines = []
    if len(commands) > 1:
        lines = [wrapped(_ABOUT), wrapped("With no words the window opens; with a design's file, on that design."), ""]
    for command in commands:
        lines += [command.usage, wrapped(command.does, "    ", "    ")]
    return "\n".join(lines)


class _Parser(argparse.ArgumentParser):
    """Reads one command's words, and says in one sentence what it can't read."""

    def __init__(self, command: Command) -> None:
        super().__init__(prog=command.name, add_help=False, allow_abbrev=False)
        self._command = command
        for name in command.needed:
            if name.startswith("--"):
                self.add_argument(name, required=True)
            else:
                self.add_argument(name)
        for name in command.options:
            self.add_argument(name)
        for name in command.flags:
            self.add_argument(name, action="store_true")

    def error(self, message: str) -> NoReturn:
        raise UsageError(f"{_what(message, self._command.name)}. It goes like this: {self._command.usage}")


def _what(message: str, name: str) -> str:
    """Say in our own words what a parser's message says."""
    if found := re.fullmatch(r"the following arguments are required: (.+)", message):
        return f"{name} lacks {found[1]}"
    if found := re.fullmatch(r"unrecognized arguments: (.+)", message):
        return f"{name} does not know {found[1]}"
    if found := re.fullmatch(r"argument (.+): expected one argument", message):
        return f"{name} lacks what belongs behind {found[1]}"
    if found := re.fullmatch(r"argument (.+): ignored explicit argument .+", message):
        return f"nothing belongs behind {found[1]}"
    return f"{name} can't make sense of these words"


def _design(words: Words) -> Design:
    from app.files import read_design

    return read_design(Path(words.FILE))[0]


def _checked(design: Design) -> Checked:
    from geometry.judge.check import check

    return check(design)


def _check(words: Words) -> int:
    from app.reports import check_json, check_text
    from geometry.doubt.spreads import spreading

    tried = each(spreading(_checked(_design(words))), "how sure each finding is: reading")
    checked = deque(tried, maxlen=1).pop()
    tell(check_json(checked) if words.json else check_text(checked))
    return 0 if checked.verdict in ("clear", "tight") else 1


def _rows(words: Words) -> int:
    from app.reports import rows_json, rows_text
    from geometry.decide.ladder import Ladder, rungs
    from geometry.decide.lowest import lowest_plate

    design = _design(words)
    found = []
    for index, mount in enumerate(design.mounts):
        rows = each(rungs(design, index), f"rows of {mount.name}")
        found.append(Ladder(mount.name, index, lowest_plate(design, index), tuple(rows)))
    tell(rows_json(design, found) if words.json else rows_text(design, found))
    return 0


def _fit(words: Words) -> int:
    from app.fit_command import run

    return run(Path(words.FILE), words.json, Path(words.save) if words.save else None)


def _template(words: Words) -> int:
    from app.dates import today
    from app.printing import template, write_pdf

    out, design = _out(words), _design(words)
    with waiting("template: planning the sheets"):
        pages = template(_checked(design), today(), words.paper, _bars(words.bars, design), inside=words.inside)
    write_pdf(out, pages, "template", design, today())
    return 0


def _bars(text: str | None, design: Design) -> tuple[float, float] | None:
    """Return what the bars of the last print measured, across and up [mm]."""
    from geometry.design.units import parse_length

    if text is None:
        return None
    lengths = text.split(",")
    if len(lengths) != 2:
        raise UsageError(f'"{text}" is not two lengths. Write what the bars measured across and up, such as 238.5mm,149mm.')
    return parse_length(lengths[0], design.units), parse_length(lengths[1], design.units)


def _measure(words: Words) -> int:
    from app.dates import today
    from app.printing import measuring_sheet, write_pdf

    out, design = _out(words), _design(words)
    with waiting("measuring sheet: laying it out"):
        pages = measuring_sheet(design, today())
    write_pdf(out, pages, "measuring sheet", design, today())
    return 0


def _sheet(words: Words) -> int:
    from app.dates import today
    from app.printing import shop_sheet, write_pdf

    out, design = _out(words), _design(words)
    with waiting("shop sheet: laying it out"):
        pages = shop_sheet(_checked(design), today())
    write_pdf(out, pages, "shop sheet", design, today())
    return 0


def _demo(words: Words) -> int:
    from app.demo import demo

    return demo(Path(words.to or "boltwell-demo"), window=not words.no_window)


def _out(words: Words) -> Path:
    """Return where the PDF goes, which is never where a design is."""
    from app.files import keep_from_designs

    out = Path(words.to)
    keep_from_designs(out)
    if os.path.exists(out) and os.path.exists(words.FILE) and out.samefile(words.FILE):
        raise UsageError(f"{out} is the design itself. Give --to another name.")
    return out


COMMANDS = (
    Command(
        "demo", "[--to DIR] [--no-window]",
        "Runs the demonstration boat through the whole job: the findings here; the template, the shop sheet and "
        "pictures of both views in DIR (boltwell-demo without it); then the window on it, where there is a screen.",
        _demo, flags=("--no-window",), options=("--to",),
    ),
    Command(
        "check", "FILE [--json]",
        "Tells all findings, worst first. Ends with 0 where everything is clear or tight, with 1 where something is "
        "fouled or not known, with 2 where the file can't be read.",
        _check, flags=("--json",), needed=("FILE",),
    ),
    Command(
        "rows", "FILE [--json]",
        "Tells, for every drop and every row, its state, the saddle gap, the plate's height and which rows are left.",
        _rows, flags=("--json",), needed=("FILE",),
    ),
    Command(
        "fit", "FILE [--json] [--save OUT]",
        "Searches for placements that clear everything and ranks them, the best first; OUT takes the design with the best. "
        "Where nothing fits, tells the nearest miss and what would have to change, and ends with 1.",
        _fit, flags=("--json",), options=("--save",), needed=("FILE",),
    ),
    Command(
        "template", "FILE --to OUT.pdf [--paper P] [--inside] [--bars ACROSS,UP]",
        "Writes the full-scale paper template. P is letter, legal, tabloid, a4, a3, a2, roll24 or roll36; without it, "
        "letter for a boat in inches and a4 for one in millimetres. With --inside the sheets for the well's inner face "
        "follow, as seen looking aft. ACROSS and UP are what the bars of the last print "
        "measured on sheet A, with a unit or in the boat's own: the new sheets are corrected by them.",
        _template, flags=("--inside",), options=("--paper", "--bars"), needed=("FILE", "--to"),
    ),
    Command(
        "measure", "FILE --to OUT.pdf",
        "Writes the measuring sheet: what to measure, how, and blanks to fill in at the boat.",
        _measure, needed=("FILE", "--to"),
    ),
    Command("sheet", "FILE --to OUT.pdf", "Writes the shop sheet.", _sheet, needed=("FILE", "--to")),
)  # fmt: skip
