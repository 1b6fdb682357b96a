"""The program's own environment in the checkout: made from the hash-pinned requirements, stamped when it is whole."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import sys
from dataclasses import dataclass
from pathlib import Path

from app.starter.saying import NotReadyError, last_lines, run_quietly, say

_PIN = re.compile(r"^([A-Za-z0-9._-]+)==([^\s;\\]+) *\\?$", re.MULTILINE)  # packages for one platform only are left out
_ARRIVED = re.compile(r"(?:Downloading|Using cached|Processing) (?:\S*/)?([\w.]+)-([\w.]+)-\S+\.whl(?: (\(.+?\)))?")
_NO_NETWORK = re.compile(
    r"NewConnectionError|NameResolutionError|ConnectTimeoutError|ReadTimeoutError|ProxyError|Connection refused"
    r"|Temporary failure in name resolution|Network is unreachable|Read timed out|Connection (?:reset|aborted)"
)


@dataclass(frozen=True, slots=True)
class Environment:
    """A virtual environment in ``folder`` that holds what ``requirements`` lists.

    The tests' requirements hold the program's, so that one environment serves both; each has its own stamp,
    written last. Without the program's stamp the folder does not count and is made again.
    """

    folder: Path
    requirements: Path

    @property
    def python(self) -> Path:
        """The environment's interpreter."""
        return self.folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

    def is_this_one(self) -> bool:
        """Say whether the running interpreter is this environment's."""
        return Path(sys.prefix).resolve() == self.folder.resolve()

    def exists(self) -> bool:
        """Say whether the interpreter and at least one stamp of this Python are there."""
        return self.python.exists() and any(self.folder.glob("finished-*"))

    def is_finished(self) -> bool:
        """Say whether everything in ``requirements`` went in, to the end, for this Python."""
        return self.python.exists() and _read(self._stamp) == self._key()

    def finish(self) -> None:
        """Make what is missing; the stamp is the last thing written.

        Raises:
            NotReadyError: no network, no room, or no build for this machine.
        """
        if not self.exists():
            self._make_empty()
        say(f"installing what {self.requirements.name} lists.")
        self._install()
        _write_whole(self._stamp, self._key())

    def has_seen(self, needs: object) -> bool:
        """Say whether ``needs`` of the system were met in an earlier start."""
        return str(needs) in _read(self._seen).splitlines()

    def remember(self, needs: object) -> None:
        """Note that ``needs`` of the system are met."""
        if not self.has_seen(needs):
            _write_whole(self._seen, f"{_read(self._seen)}{needs}\n")

    @property
    def _stamp(self) -> Path:
        return self.folder / f"finished-{self.requirements.stem}"

    @property
    def _seen(self) -> Path:
        return self.folder / "system-seen"

    def _key(self) -> str:
        contents = hashlib.sha256(self.requirements.read_bytes()).hexdigest()
        return f"{sys.platform} {sys.implementation.cache_tag} {contents} finished\n"

    def _make_empty(self) -> None:
        if self.folder.exists():
            say("an earlier start was interrupted, or used another Python. Making its environment again.")
            shutil.rmtree(self.folder)
        say(f"making an environment in {self.folder.parent.name}. Nothing outside the checkout changes.")
        code, output = run_quietly([sys.executable, "-m", "venv", str(self.folder)], keep_lock=True)
        if code:
            raise NotReadyError(f"Python's venv could not make the environment. It said:\n{last_lines(output)}")

    def _install(self) -> None:
        command = [str(self.python), "-m", "pip", "install", "--require-hashes", "--only-binary=:all:", "--no-input",
                   "--progress-bar=off", "--disable-pip-version-check", "-r", str(self.requirements)]  # fmt: skip
        code, output = run_quietly(command, _Progress(), {**os.environ, "PYTHONUNBUFFERED": "1"}, keep_lock=True)
        if code:
            raise NotReadyError(_why_pip_stopped(output))


class _Progress:
    """Turns pip's lines into plain ones."""

    def __init__(self) -> None:
        self.complained = False

    def __call__(self, line: str) -> None:
        if arrived := _ARRIVED.match(line):
            name, version, size = arrived.groups()
            say(f"  {name.replace('_', '-')} {version} {size or ''}".rstrip())
        elif line.startswith("Installing collected"):
            say("  installing the packages.")
        elif _NO_NETWORK.search(line) and not self.complained:
            self.complained = True
            say("  the network does not answer. Trying a few more times.")


def _why_pip_stopped(output: str) -> str:
    if _NO_NETWORK.search(output):
        return "the network can't be reached, and the first start needs it. Connect, and start again."
    if "SSLError" in output or "CERTIFICATE_VERIFY_FAILED" in output:
        return (
            "the network sends a certificate that this machine does not know. Some offices do that. "
            "Set PIP_CERT to the office's certificate file, and start again."
        )
    if "DO NOT MATCH THE HASHES" in output:
        return (
            "a package from the network is not the one that this program was tested with, so it was refused. "
            "Start again on another network."
        )
    if "No space left" in output:
        return "the disk is full. The program needs about 0.5 GB. Make room, and start again."
    if "No matching distribution" in output:
        python = f"Python {sys.version_info[0]}.{sys.version_info[1]}"
        return f"there is no build of a package for this machine and {python}. pip said:\n{last_lines(output, 2)}"
    return f"the packages could not be installed. pip said:\n{last_lines(output)}"


def everything_is_here(requirements: Path) -> bool:
    """Say whether the running interpreter has every package of ``requirements`` in the version pinned there."""
    from importlib.metadata import PackageNotFoundError, version

    try:
        return all(version(name) == pin for name, pin in _PIN.findall(requirements.read_text(encoding="utf-8")))
    except PackageNotFoundError:
        return False


def _read(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return ""


def _write_whole(path: Path, text: str) -> None:
    """Write ``text`` so that the file holds all of it or is not there."""
    new_file = path.with_suffix(".new")
    new_file.write_text(text, encoding="utf-8")
    new_file.replace(path)
