"""Walks that are kept in a file, one in a line: a long run that was ended goes on where it was.

The file belongs to the program as it is. After a change to the program, name another file.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from tests.owner.tally import Outcome

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator
    from pathlib import Path


class _Line(msgspec.Struct):
    """One walk. way: by the questions, with a blunder, or by hand."""

    way: str
    outcome: Outcome


def walked(file: Path | None, way: str, seeds: Iterable[int], walk: Callable[[int], Outcome]) -> Iterator[Outcome]:
    """Yield the walk of each number: from ``file`` where it is there, else walked now and added to it.

    Args:
        file: None keeps nothing.
    """
    lines = file.read_bytes().splitlines() if file is not None and file.exists() else []
    known = {(line.way, line.outcome.seed): line.outcome for line in map(_read, lines)}
    for seed in seeds:
        outcome = known.get((way, seed))
        if outcome is None:
            outcome = walk(seed)
            if file is not None:
                with file.open("ab") as out:
                    out.write(msgspec.json.encode(_Line(way, outcome)) + b"\n")
        yield outcome


def _read(line: bytes) -> _Line:
    return msgspec.json.decode(line, type=_Line)
