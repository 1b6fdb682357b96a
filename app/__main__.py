"""``python3 -m app``: makes the machine ready, then runs the command.

Kept so plain that a Python too old for the rest, 2 included, can still read it and say so.
"""

import sys


def main():
    # type: () -> int
    """Return the exit code of the command in ``sys.argv``: 0, 1, or 2 where something was in the way."""
    if sys.version_info < (3, 11):  # noqa: UP036 (an older Python does get this far from a checkout)
        version = "%d.%d" % sys.version_info[:2]  # noqa: UP031
        sys.stderr.write("Boltwell: this is Python " + version + "; Boltwell needs 3.11 or newer.\n")
        return 2
    from app.starter import make_ready, stopped

    code = make_ready("app", sys.argv[1:])
    if code is not None:
        return code
    try:
        from app.commands.command_line import main as run
    except Exception as error:  # noqa: BLE001 (Python's own code for it is 1, which says "fouled" here)
        return stopped(error)
    return run(sys.argv[1:])


def window():
    # type: () -> int
    """Open the window, on the file in ``sys.argv`` where there is one. No terminal is needed."""
    from app.commands.command_line import main as run

    return run(sys.argv[1:2])


if __name__ == "__main__":
    sys.exit(main())
