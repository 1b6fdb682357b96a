"""The differences between two designs. An edit shares the parts that it does not change, so comparing is quick."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design


def equal_designs(before: Design, after: Design) -> bool:
    """Return whether two designs are equal, as ``==`` does, in a twentieth of its time where they share most parts."""
    return next(differences(before, after), None) is None


def differences(before: object, after: object, key: str = "") -> Iterator[str]:
    """Yield the keys of the numbers, words and rows that differ, such as "mounts.0.drop".

    Rows of different lengths, and parts that only one of them has, are one difference.
    """
    if before is after:
        return
    if isinstance(before, msgspec.Struct) and type(before) is type(after):
        for name in before.__struct_fields__:
            yield from differences(getattr(before, name), getattr(after, name), f"{key}.{name}" if key else name)
    elif isinstance(before, tuple) and isinstance(after, tuple) and len(before) == len(after):
        for index, pair in enumerate(zip(before, after, strict=True)):
            yield from differences(*pair, f"{key}.{index}" if key else str(index))
    elif before != after:
        yield key
