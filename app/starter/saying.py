"""How the starter speaks: short sentences on standard error."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Mapping


class NotReadyError(Exception):
    """Something that the person at the keyboard can put right; the message is the sentence that they read."""


def say(text: str) -> None:
    """Write ``text`` as a line on standard error, at once."""
    print(f"Boltwell: {text}", file=sys.stderr, flush=True)


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
    """Return the last ``count`` lines of ``output``, indented, to stand under a sentence."""
    return "\n".join(f"    {line}" for line in output.splitlines()[-count:])
