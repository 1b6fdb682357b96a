"""The tolerance of a part that is bought: by how much it may differ from its listed size [mm]."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.readings.measures import at_path
from geometry.tables import fasteners
from geometry.tables.known import CHOICE

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.readings.measures import Measure
    from geometry.tables.fasteners import FlatWasher

UNLISTED = 0.8
"""[mm] by which a bought part may differ from its size where no tolerance is listed: our assumption.

That is 1/32 in, about as much as a washer of type A may be wider than listed.
"""
_SAME = 0.05  # [mm] within this, a washer has a published size
_SAME_SIZES = {"outer": ("outer", "inner"), "thickness": ("outer", "inner", "thickness")}
"""Of a washer: the sizes that have to be a published one's, for the tolerance of each."""


class Tolerance(msgspec.Struct, frozen=True):
    """The most by which a bought part may differ from its size [mm], and the standard that says so, or our assumption."""

    most: float
    source: str

    @property
    def spread(self) -> float:
        """One standard deviation: half of the most, as a guess has half of its usual range."""
        return self.most / 2


def tolerance(design: Design, row: Measure) -> Tolerance:
    """Return the tolerance of a part's size: that of its washer where it is listed, else our assumption."""
    path, _, field = row.key.rpartition(".")
    washer = None
    if path.endswith("washer") and field in _SAME_SIZES:
        washer = _listed(design, path, _SAME_SIZES[field])
    if washer is not None and field == "outer" and washer.wider is not None:
        return Tolerance(washer.wider, washer.name)
    if washer is not None and field == "thickness" and washer.thickness > washer.nominal_thickness:
        return Tolerance(2 * (washer.thickness - washer.nominal_thickness), washer.name)  # as far under as over the nominal
    return Tolerance(UNLISTED, CHOICE)


def _listed(design: Design, path: str, fields: tuple[str, ...]) -> FlatWasher | None:
    """Return the first published washer with some sizes of the one at a path; None where there is none."""
    mine, bolt = at_path(design, path), at_path(design, f"{path.rpartition('.')[0]}.bolt")
    sizes = {field: getattr(mine, field) for field in fields}
    if None in sizes.values():
        return None
    return next(
        (washer for washer in fasteners.washers(bolt)
         if all(abs(getattr(washer, field) - size) < _SAME for field, size in sizes.items())),
        None,
    )  # fmt: skip
