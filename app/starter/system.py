"""Finds and installs the system's part: Qt's libraries on Linux, and a screen for the tests."""

from __future__ import annotations

import ctypes
import os
import re
import shutil
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from importlib.util import find_spec

from app.starter.saying import NotReadyError, last_lines, run_quietly, say

# Library that Qt asks for, and Debian's package that holds it (each found missing on a bare Debian 12).
DRAWING = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libfontconfig.so.1": "libfontconfig1",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libxkbcommon.so.0": "libxkbcommon0",
}
SCREEN = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}
PROGRAMS = {"Xvfb": "xvfb", "xdotool": "xdotool"}  # the screen for the tests, and the tool that moves its pointer

_NO_NETWORK = re.compile(
    "Temporary failure resolving|Could not resolve|Could not connect|Failed to fetch|Unable to locate package"
    "|Network is unreachable|no installation candidate"
)


@dataclass(frozen=True, slots=True)
class Needs:
    """The needs of one start: drawing libraries always, a ``screen`` and ``programs`` where they serve.

    ``window``: only the window was asked for, so that without a screen's libraries there is nothing to do.
    """

    screen: bool
    programs: bool
    window: bool

    def __str__(self) -> str:
        return f"screen={self.screen:d} programs={self.programs:d}"


def needs(module: str, words: list[str]) -> Needs:
    """Return what ``python3 -m module words`` needs of this system."""
    tests = module == "tests"
    has_screen = "DISPLAY" in os.environ or "WAYLAND_DISPLAY" in os.environ
    window = not tests and (not words or words[0].lower().endswith(".boltwell"))
    shows = tests or (has_screen and (window or words[:1] == ["demo"]))
    return Needs(screen=shows, programs=tests, window=window)


def meet(needs: Needs, environment_to_make: bool) -> bool:
    """Install the Debian packages that are missing, or say which they are; return whether all is there now.

    Raises:
        NotReadyError: a required package is missing and can't be installed from here. The message has a line to paste.
    """
    required = _missing_parts_of_python() if environment_to_make else []
    wanted: list[str] = []
    if sys.platform == "linux":
        required += missing_libraries(DRAWING)
        if needs.screen:
            (required if needs.window else wanted).extend(missing_libraries(SCREEN))
        if needs.programs:
            wanted += [package for program, package in PROGRAMS.items() if shutil.which(program) is None]
    if may_install() and (required or wanted):
        install(required + wanted)
    elif required:
        raise NotReadyError(what_to_paste(required + wanted))
    elif wanted:
        say(f"going on without a window: {what_to_paste(wanted)}")
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
        return False
    return True


def missing_libraries(packages: dict[str, str]) -> list[str]:
    """Return the packages of those libraries that the system's loader does not find."""
    return [package for library, package in packages.items() if not _loads(library)]


def may_install() -> bool:
    """Say whether this process may install Debian packages."""
    return sys.platform == "linux" and os.geteuid() == 0 and shutil.which("apt-get") is not None


def what_to_paste(packages: Iterable[str]) -> str:
    """Return the sentence that names what is missing, with the line that installs it."""
    names = " ".join(packages)
    if sys.platform == "linux" and shutil.which("apt-get") is None:
        return f"the system needs packages that Debian calls {names}. Install them under their names on this system."
    return f"the system needs a few packages. Paste this line, then start again:\n    sudo apt-get install {names}"


def install(packages: list[str]) -> None:
    """Install ``packages`` with apt-get.

    Raises:
        NotReadyError: no network, or apt-get refused.
    """
    say(f"installing packages that the system needs: {' '.join(packages)}.")
    options = ["-q", "-y", "-o", "DPkg::Lock::Timeout=300"]
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive", "LC_ALL": "C"}
    output = ""
    for step in (["update"], ["install", "--no-install-recommends", *packages]):
        code, said = run_quietly(["apt-get", *options, *step], env=env)
        output += said
    if code:
        if _NO_NETWORK.search(output):
            raise NotReadyError("the network can't be reached, and the first start needs it. Connect, and start again.")
        raise NotReadyError(f"apt-get did not install {' '.join(packages)}. It said:\n{last_lines(output)}")


def _missing_parts_of_python() -> list[str]:
    """Return Debian's package with the part of Python that makes environments, where that is missing."""
    if find_spec("ensurepip") and find_spec("venv"):
        return []
    return [f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"]


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
