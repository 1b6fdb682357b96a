"""``python3 -m tests``: makes the machine ready, then runs the tests; further words go to pytest.

    python3 -m tests                      everything
    python3 -m tests tests/geometry -q    a part
    python3 -m tests --bench              the benchmarks, and nothing else
    python3 -m tests --house              style, types and the one-way doors between the rooms
    python3 -m tests --save-designs       the demonstration boats, after a field of the file was added
    python3 -m tests --save-man           the manual page, after a command was changed
    python3 -m tests --bundle FOLDER      the program with Python in one folder, for a machine without it

Kept so plain that a Python too old for the rest, 2 included, can still read it and say so.
"""

import os
import subprocess
import sys

HOUSE = (
    ("-m", "ruff", "check", "."),
    ("-m", "mypy"),
    ("-c", "from importlinter.cli import lint_imports_command; lint_imports_command()"),
)


def main():
    # type: () -> int
    """Return the exit code of pytest, or the worst of the house checks."""
    if sys.version_info < (3, 11):  # noqa: UP036 (an older Python does get this far from a checkout)
        version = "%d.%d" % sys.version_info[:2]  # noqa: UP031
        sys.stderr.write("Boltwell: this is Python " + version + "; its tests need 3.11 or newer.\n")
        return 2
    from app.starter import CHECKOUT, make_ready

    words = sys.argv[1:]
    code = make_ready("tests", words)
    if code is not None:
        return code
    os.chdir(CHECKOUT)
    if words == ["--house"]:
        return max(_python(*check) for check in HOUSE)  # each has its say
    if words == ["--save-designs"]:
        return _python("-m", "tests.save_designs")
    if words == ["--save-man"]:
        return _python("-m", "tests.save_man")
    if words[:1] == ["--bundle"]:
        return _python("-m", "tests.bundle", *words[1:])
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    if words[:1] == ["--bench"]:
        return _python("-m", "pytest", "tests/benchmarks", *words[1:])
    return _python("-m", "pytest", *(words or ("-n", "auto", "--maxprocesses", "4", "--dist", "loadfile")))


def _python(*words):
    # type: (*str) -> int
    return subprocess.call([sys.executable] + list(words))


if __name__ == "__main__":
    sys.exit(main())
