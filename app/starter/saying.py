"""Messages of the starter: short sentences on standard error."""

from __future__ import annotations

import subprocess
import sys
import traceback
from collections.abc import Callable, Mapping
from pathlib import Path


class NotReadyError(Exception):
    """An obstacle that the person at the keyboard can remove. The message is the sentence that they read."""


CHECKOUT = Path(__file__).resolve().parents[2]
FOLDER = CHECKOUT / ".env-boltwell"
_OURS = ("app", "geometry", "templates_out", "assets", "")


def say(text: str) -> None:
    """Write ``text`` as a line on standard error, at once."""
    print(f"Boltwell: {text}", file=sys.stderr, flush=True)


def stopped(error: Exception) -> int:
    """Say why the program could not even be read; return the exit code."""
    if missing := why_not_loaded(error):
        say(missing)
        return 2
    traceback.print_exception(error)
    say("this is a fault in the program.")
    return 70  # EX_SOFTWARE in BSD's sysexits.h


def why_not_loaded(error: BaseException) -> str:
    """Say which package is missing or damaged; "" where ``error`` says nothing of the kind."""
    package = (error.name or "").partition(".")[0] if isinstance(error, ImportError) else ""
    if package in _OURS:
        return ""
    own = FOLDER.resolve() in Path(sys.prefix).resolve().parents
    cure = f"Delete {FOLDER} and start again." if own else "Install what Boltwell needs again."
    return f"The package {package} is missing or damaged. {cure}"


def run_quietly(
    command: list[str],
    each_line: Callable[[str], None] = lambda line: None,
    env: Mapping[str, str] | None = None,
    keep_lock: bool = False,
) -> tuple[int, str]:
    """Return exit code and output of ``command``, handing each line to ``each_line`` as it comes.

    With ``keep_lock``, the lock that this process holds is free only when ``command`` has ended too.
    """
    lines: list[str] = []
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL, text=True,
        encoding="utf-8", errors="replace", env=env, close_fds=not keep_lock,
    ) as process:  # fmt: skip
        assert process.stdout is not None
        for line in process.stdout:
            lines.append(line)
            each_line(line.strip())
    return process.returncode, "".join(lines)


def last_lines(output: str, count: int = 12) -> str:
    """Return the last ``count`` lines of ``output``, indented, to go under a sentence."""
    return "\n".join(f"    {line}" for line in output.splitlines()[-count:])
