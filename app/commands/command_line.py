"""The command line: `boltwell` and the words after it.

Each command imports what it needs when it runs, so that `check` starts without Qt and without the PDF writer.
"""

from __future__ import annotations

import argparse
import re
import sys
from collections import deque
from pathlib import Path
from typing import NoReturn

from app.commands.command import Command, UsageError, Words, design_of, out_of
from app.commands.sheet_commands import sheet_commands
from app.ui.error_messages import message_for
from app.ui.terminal import each, print_text, warn, wrapped
from geometry.errors import OwnerError
from geometry.solid.faces import Unmeasured

ABOUT = "Places an outboard motor on a transom with a shallow splash well, and prints the drilling template at full scale."
FAULT_CODE = 70  # EX_SOFTWARE in BSD's sysexits.h


def main(argv: list[str] | None = None) -> int:
    """Run the command in ``argv`` and return the exit code. Where that is 2, standard error has a sentence.

    `check` returns 1 where a finding that stops the paper is fouled or not checked. Words or files that can't be read or
    written return 2. A fault of the program itself returns 70.
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
        short, details = message_for(fault)
        warn(f"{details}boltwell: {short}")
        return FAULT_CODE if details else 2


def _run(words: list[str]) -> int:
    if not words:
        from app.window.program import run

        return run()
    first, rest = words[0], words[1:]
    if first.lower().endswith(".boltwell") and not rest:
        from app.window.program import run

        return run(Path(first))
    if first in ("--help", "-h", "help"):
        print_text(_help(*commands()))
        return 0
    if first == "--version":
        print_text(f"boltwell {_version()}")
        return 0
    command = next((command for command in commands() if command.name == first), None)
    if command is None:
        names = ", ".join(command.name for command in commands())
        raise UsageError(f'Unknown command "{first}". Commands: {names}. For help, add --help.')
    if "--help" in rest or "-h" in rest:
        print_text(_help(command))
        return 0
    parsed = _Parser(command).parse_args(rest)
    try:
        return command.run(parsed)
    except Unmeasured as missing:
        raise OwnerError(_lacking(parsed, missing.key)) from missing


def _lacking(words: Words, key: str) -> str:
    """Say which reading a command lacks."""
    from geometry.readings.measures import name_of

    return f"The {name_of(design_of(words), key)} is not known. Measure it, enter it on the card, and save the boat."


def _help(*commands: Command) -> str:
    lines = []
    if len(commands) > 1:
        lines = [wrapped(ABOUT), wrapped("Without a command the window opens. With a file, it opens on that design."), ""]
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
        raise UsageError(f"{_what(message, self._command.name)}. Usage: {self._command.usage}")


def _what(message: str, name: str) -> str:
    """Return a parser's message in our own words."""
    if match := re.fullmatch(r"the following arguments are required: (.+)", message):
        return f"{name} needs {match[1]}"
    if match := re.fullmatch(r"unrecognized arguments: (.+)", message):
        return f"{name} does not take {match[1]}"
    if match := re.fullmatch(r"argument (.+): expected one argument", message):
        return f"{name} needs a value after {match[1]}"
    if match := re.fullmatch(r"argument (.+): ignored explicit argument .+", message):
        return f"{match[1]} takes no value"
    return f"{name} can't read these words"


def _check(words: Words) -> int:
    from app.commands.reports import check_json, check_text
    from geometry.doubt.spreads import spreading
    from geometry.judge.check import check
    from geometry.judge.drillable import stops_the_paper

    tried = each(spreading(check(design_of(words))), "how sure each finding is: reading")
    checked = deque(tried, maxlen=1).pop()
    print_text(check_json(checked) if words.json else check_text(checked))
    return 1 if any(map(stops_the_paper, checked.findings)) else 0


def _rows(words: Words) -> int:
    from app.commands.rows_command import rows

    return rows(words)


def _fit(words: Words) -> int:
    from app.commands.fit_command import run

    return run(Path(words.FILE), words.json, Path(words.save) if words.save else None, force=words.force)


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("boltwell")
    except PackageNotFoundError:
        return "from its checkout"


def _menu(words: Words) -> int:
    from app.desktop.menu_entry import add_to_menu, remove_from_menu

    if words.remove:
        removed = remove_from_menu()
        print_text("Boltwell is out of the desktop's menu." if removed else "Boltwell was not in the desktop's menu.")
        return 0
    first = add_to_menu()[0]
    print_text(f"Boltwell is in the desktop's menu, by {first}. A double click opens a .boltwell file.")
    return 0


def _components(words: Words) -> int:
    from app.desktop.components import cyclonedx, listing

    if not words.to:
        print_text(listing())
        return 0
    from app.document.outputs import write_output

    write_output(out_of(words), cyclonedx(_version()).encode(), force=words.force)
    return 0


def _manual(_words: Words) -> int:
    print_text(manual_text(_version()).rstrip())
    return 0


def manual_text(version: str) -> str:
    """Return the manual page in roff."""
    from app.desktop.manual_page import manual_page

    return manual_page(ABOUT, [(command.usage, command.does) for command in commands()], version)


def _survey(words: Words) -> int:
    from app.commands.check_commands import survey

    return survey(words)


def _taped(words: Words) -> int:
    from app.commands.check_commands import taped

    return taped(words)


def _drilled(words: Words) -> int:
    from app.commands.drilled_command import drilled

    return drilled(words)


def _demo(words: Words) -> int:
    from app.commands.demo import demo
    from app.document.examples import DEMONSTRATION

    folder, boat = Path(words.to or "boltwell-demo"), words.boat or DEMONSTRATION
    return demo(folder, window=not words.no_window, force=words.force, boat=boat)


COMMANDS = (
    Command(
        "demo", "[--boat NAME] [--to DIR] [--no-window] [--force]",
        "Does the whole job on a demonstration boat. Shows the findings here. Writes the template, the shop sheet and "
        "pictures of both views into DIR, or into boltwell-demo. Then opens the window, where there is a screen. "
        "With --no-window it does not. NAME is the boat's, shallow-well-skiff where it is left out.",
        _demo, flags=("--no-window", "--force"), options=("--boat", "--to"),
    ),
    Command(
        "check", "FILE [--json]",
        "Shows all findings, worst first, and whether the holes may be drilled. Exits with code 1 where a finding that stops "
        "the paper is fouled or not checked. Exits with code 2 where the file can't be read, else with 0.",
        _check, flags=("--json",), needed=("FILE",),
    ),
    Command(
        "rows", "FILE [--hardware KIND] [--json]",
        "Shows each upper hole of the bracket with each drop: its state, the gap under the bracket hook, the AV plate height. "
        "Shows how far the lower bolts are from the slot's end, and which holes each drop leaves usable. With --hardware the "
        "lower bolts get whole washers (whole), washers cut flat (cut) or a relieved backing plate (backing).",
        _rows, flags=("--json",), options=("--hardware",), needed=("FILE",),
    ),
    Command(
        "fit", "FILE [--json] [--save OUT [--force]]",
        "Searches for placements that clear everything and ranks them, the best first. Saves the design with the best as OUT. "
        "Where nothing fits, shows the nearest miss and the change that it needs, and exits with code 1. "
        "Where OUT exists already, nothing is saved. With --force a design there is replaced.",
        _fit, flags=("--json", "--force"), options=("--save",), needed=("FILE",),
    ),
    Command(
        "survey", "FILE [--distances LIST] [--json] [--take] [--save OUT [--force]]",
        "Places holes and corners by more distances than are needed, and names the distance that does not agree. LIST is a "
        "text file, one distance a line: old lower port; centreline; 4 7/8 in. A fourth word, inside, is for the inner face. "
        "With --take the places become readings. Saves the boat as OUT. Exits with code 1 where the distances do not agree, "
        "or do not fix every point.",
        _survey, flags=("--json", "--take", "--force"), options=("--distances", "--save"), needed=("FILE",),
    ),
    Command(
        "taped", "FILE [--paper P] [--read READINGS] [--json] [--save OUT [--force]]",
        "Checks the template after it is taped to the boat. Shows each distance, what it should be, and how far off it may "
        "be. READINGS are the numbers of its lines with what you read: 1=12 7/8, 2=9 7/8. Then says what to do: go on, tape "
        "it again, or print again by these bars. Saves the boat with them as OUT. Exits with code 1 where the answer is not "
        "to go on.",
        _taped, flags=("--json", "--force"), options=("--paper", "--read", "--save"), needed=("FILE",),
    ),
    Command(
        "drilled", "FILE [--json]",
        "Shows the holes as they were drilled, next to the plan. Shows how far each is off, and whether the bracket goes on. "
        "Else it says which hole to ease, by how much and to which side. Checks everything again with the holes as "
        "they are. Exits with code 1 where the bracket does not go on, or a check that stops the paper is fouled or not "
        "checked.",
        _drilled, flags=("--json",), needed=("FILE",),
    ),
    Command(
        "menu", "[--remove]",
        "Puts Boltwell into your desktop's menu, with its icon, and lets a double click open .boltwell files. "
        "With --remove it takes both away. Nobody else's menu changes.",
        _menu, flags=("--remove",),
    ),
    Command(
        "components", "[--to OUT.json] [--force]",
        "Lists the packages and fonts that come with the program, with their versions and licences. "
        "With --to it writes them as a CycloneDX file.",
        _components, flags=("--force",), options=("--to",),
    ),
    Command("man", "", "Shows the manual page in roff, for the program man.", _manual),
)  # fmt: skip
"""The commands that make no sheet; each kind of sheet has its own."""


def commands() -> tuple[Command, ...]:
    """Return every command, in the order of the help."""
    return (*COMMANDS, *sheet_commands())
