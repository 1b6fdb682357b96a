"""Look-ups of bolts, nuts, washers, holes and grades by name: one place to import from.

Each raises NotListedError for an unknown name. The message names the rows of the table.
"""

from functools import lru_cache

from geometry.tables.bolt_sizes import BOLT_SIZES, BoltSize, ClearanceHoles, FlatWasher, Nut
from geometry.tables.bolts import Bolt
from geometry.tables.grades import Grade, grade, grade_names
from geometry.tables.known import NotListedError, look_up

__all__ = [
    "Bolt", "FlatWasher", "Grade", "Nut", "bolt", "bolt_names", "clearance_holes", "grade", "grade_names", "locks", "nut",
    "nut_names", "washers",
]  # fmt: skip


def _size(bolt_name: str) -> BoltSize:
    return look_up(BOLT_SIZES, bolt_name, "bolt")


def bolt(name: str) -> Bolt:
    """Return the bolt called ``name``."""
    return _size(name).bolt


def bolt_names() -> tuple[str, ...]:
    """Return all bolts, in the order in which they are offered."""
    return tuple(BOLT_SIZES)


def clearance_holes(bolt_name: str) -> ClearanceHoles:
    """Return the clearance holes for a bolt."""
    return _size(bolt_name).holes


def washers(bolt_name: str) -> tuple[FlatWasher, ...]:
    """Return the washers for a bolt."""
    return _size(bolt_name).washers


def nut_names(bolt_name: str) -> tuple[str, ...]:
    """Return the names of the nuts for a bolt, lock nuts first."""
    return tuple(nut.name for nut in _size(bolt_name).nuts)


@lru_cache(maxsize=64)
def nut(name: str, bolt_name: str) -> Nut:
    """Return the nut called ``name`` for a bolt."""
    listed = _size(bolt_name).nuts
    row = next((nut for nut in listed if nut.name == name), None)
    if row is None:
        names = ", ".join(nut.name for nut in listed)
        raise NotListedError(f'There is no nut "{name}" for a {bolt_name} bolt in the tables. Choose one of: {names}.')
    return row


def locks(name: str) -> bool:
    """Return whether a nut of this name is a lock nut."""
    return any(nut.locks for size in BOLT_SIZES.values() for nut in size.nuts if nut.name == name)
