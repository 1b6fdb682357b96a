"""The tolerance of a part that is bought: by how much it may differ from its listed size [mm]."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from geometry.design.measures import at_path
from geometry.tables import fasteners
from geometry.tables.known import CHOICE

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.design.measures import Measure
    from geometry.tables.fasteners import FlatWasher

UNLISTED = 0.8
"""[mm] by which a bought part may differ from its size where no tolerance is listed: our assumption.

That is 1/32 in, about as much as a washer of type A may be wider than listed.
"""
_SAME = 0.05  # [mm] within this, a washer has a published size


class Tolerance(msgspec.Struct, frozen=True):
    """The most by which a bought part may differ from its size [mm], and where that is published."""

    most: float
    source: str

    @property
    def spread(self) -> float:
        """One standard deviation: half of the most, as a guess has half of its usual range."""
        return self.most / 2


def tolerance(design: Design, row: Measure) -> Tolerance:
    """Return the tolerance of a part's size: that of its washer where it is listed, else our assumption."""
    path, _, field = row.key.rpartition(".")
    washer = _listed(design, path) if path.endswith("washer") else None
    if washer is not None and field == "outer" and washer.wider is not None:
        return Tolerance(washer.wider, washer.source)
    if washer is not None and field == "thickness" and washer.thickness > washer.nominal_thickness:
        return Tolerance(2 * (washer.thickness - washer.nominal_thickness), washer.source)  # as far under as over the nominal
    return Tolerance(UNLISTED, CHOICE)


def _listed(design: Design, path: str) -> FlatWasher | None:
    """Return the published washer with the sizes of the one at a path; None for another."""
    mine, bolt = at_path(design, path), at_path(design, f"{path.rpartition('.')[0]}.bolt")
    fields = ("outer", "inner", "thickness")
    sizes = [getattr(mine, field) for field in fields]
    return next(
        (washer for washer in fasteners.washers(bolt) if None not in sizes and all(
            abs(getattr(washer, field) - size) < _SAME for field, size in zip(fields, sizes, strict=True))),
        None,
    )  # fmt: skip
