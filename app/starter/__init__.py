"""Prepares a bare machine with the standard library alone. The program then runs in an environment made for it.

A second start finds the stamp of the first and goes straight on. An obstacle becomes one sentence on standard error,
and the program exits with code 2.
"""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import time
from pathlib import Path

from app.starter import system
from app.starter.environment import Environment, everything_is_here
from app.starter.lock import only_one
from app.starter.saying import CHECKOUT, FOLDER, NotReadyError, say, stopped

__all__ = ["CHECKOUT", "make_ready", "stopped"]

REQUIREMENTS = {"app": CHECKOUT / "requirements.txt", "tests": CHECKOUT / "requirements-test.txt"}
_HANDED_OVER = "BOLTWELL_HANDED_OVER"  # counts the hand-overs, so that they end


def make_ready(module: str, words: list[str]) -> int | None:
    """Return None where this interpreter can go on with ``module`` ('app' or 'tests'), else an exit code.

    Where another interpreter has the packages, it takes this one's place, and the call does not return. On Windows it
    runs to its end, and its exit code is returned.
    """
    requirements = REQUIREMENTS[module]
    if not requirements.exists():  # an installed program: its installer did everything
        return None
    environment = Environment(FOLDER / "python", requirements)
    handed_over = int(os.environ.pop(_HANDED_OVER, 0))
    inside = environment.is_this_one()
    needs = system.needs(module, words)
    if inside and environment.is_finished() and (handed_over or environment.has_seen(needs)):
        return None
    if not inside and everything_is_here(requirements):
        return None
    try:
        if inside and not environment.is_finished():  # an environment can't make itself again
            return _hand_over(Path(sys._base_executable), module, words, handed_over + 1)  # type: ignore[attr-defined]
        _prepare(environment, needs)
        return None if inside else _hand_over(environment.python, module, words, handed_over + 1)
    except NotReadyError as sentence:
        say(str(sentence))
        return 2
    except OSError as refused:
        say(_why(refused))
        return 2
    except KeyboardInterrupt:
        say("stopped. The half-done work does not count. The next start does it again.")
        return 130


def _why(refused: OSError) -> str:
    """Say what the system refused, and what to do."""
    place = refused.filename or FOLDER
    if FOLDER.exists() and not FOLDER.is_dir():
        return f"{FOLDER} is a file, but the program's environment goes there. Move the file away, and start again."
    if isinstance(refused, PermissionError):
        return f"{place} can't be written. Put the checkout in a folder where you may write, and start again."
    if refused.errno in (errno.ENOSPC, errno.EDQUOT):
        return "the disk is full. The program needs about 0.5 GB. Make room, and start again."
    return f"{place} can't be used ({refused.strerror}). Delete {FOLDER}, and start again."


def _prepare(environment: Environment, needs: system.Needs) -> None:
    """Bring the machine and the environment to where ``needs`` and the requirements are met, one starter at a time."""
    FOLDER.mkdir(exist_ok=True)
    with only_one(FOLDER / "lock", waiting=lambda: say("another start is setting things up. Waiting for it.")):
        finished = environment.is_finished()
        if finished and environment.has_seen(needs):
            return
        began = time.monotonic()
        if not environment.exists():
            say("the first start sets everything up. This takes a minute or two. The next one starts at once.")
        met = system.meet(needs, environment_to_make=not environment.exists())
        if not finished:
            environment.finish()
            say(f"ready, after {time.monotonic() - began:.0f} s.")
        if met:
            environment.remember(needs)


def _hand_over(python: Path, module: str, words: list[str], times: int) -> int:
    """Let ``python`` run ``module`` in this process's place; on Windows, return its exit code."""
    if times > 2:
        raise NotReadyError(f"the environment does not work. Delete {FOLDER} and start again.")
    command = [str(python), "-m", module, *words]
    os.environ[_HANDED_OVER] = str(times)
    if os.name != "nt":
        os.execv(command[0], command)
    return subprocess.call(command)  # Windows' execv returns to the shell before the program has ended
