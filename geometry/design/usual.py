"""The usual range of every measure: how far a guess may be off [mm], angles [degrees].

A range is common practice where it says so. A margin about the guess is our assumption. A guess counts as a reading with a
spread of half its range.
"""

from __future__ import annotations

from fnmatch import fnmatchcase

import msgspec

from geometry.tables.known import inches


class Usual(msgspec.Struct, frozen=True):
    """A range as a person reads it (depths positive), or a ``margin`` to either side of the present value."""

    low: float = 0.0
    high: float = 0.0
    margin: float = 0.0

    def about(self, value: float) -> tuple[float, float]:
        """Return the lowest and the highest value behind a guess. The guess itself is always between them."""
        if self.margin:
            return value - self.margin, value + self.margin
        return min(self.low, value), max(self.high, value)


_RANGES: tuple[tuple[str, Usual], ...] = (
    ("transom.rake", Usual(5.0, 20.0)),  # common practice
    ("transom.thickness.low_at", Usual(margin=50.0)),
    ("transom.thickness.top", Usual(inches(1.25), inches(2.5))),  # common practice
    ("transom.thickness.low", Usual(margin=6.0)),  # against the top: few transoms taper more
    ("transom.height", Usual(margin=inches(2.5))),
    ("transom.deadrise", Usual(0.0, 24.0)),
    ("transom.skin_*", Usual(1.5, 6.5)),
    ("transom.top_cut", Usual(margin=5.0)),
    ("transom.outline", Usual(margin=12.0)),
    ("well.floor_rise", Usual(-3.0, 6.0)),
    ("well.floor_width", Usual(margin=50.0)),
    ("well.floor_*", Usual(inches(6), inches(14))),  # common practice
    ("well.top_width", Usual(margin=50.0)),
    ("well.profile.*.1", Usual(margin=inches(4))),  # half of the floor's range
    ("well.profile*", Usual(margin=25.0)),
    ("well.fillet_radius", Usual(0.0, inches(1.5))),  # common practice
    ("well.length", Usual(margin=100.0)),
    ("well.front_lean", Usual(-10.0, 20.0)),
    ("inside_blocks.*.stands_out", Usual(margin=12.0)),
    ("inside_blocks.*", Usual(margin=12.0)),
    ("outside_fittings.*", Usual(margin=12.0)),
    ("old_holes.*.diameter", Usual(margin=1.6)),
    ("old_holes.*.plug_diameter", Usual(margin=3.0)),
    ("old_holes.*", Usual(margin=6.0)),
    ("*.bracket.outline*", Usual(margin=12.0)),
    ("*.bracket.rows.row0_depth", Usual(margin=6.0)),
    ("*.bracket.rows.count", Usual(margin=1.0)),
    ("*.bracket.rows.pitch", Usual(margin=1.0)),
    ("*.bracket.*.diameter", Usual(margin=0.8)),
    ("*.bracket.*.half_spacing", Usual(margin=inches(1 / 8))),  # further off the standard, it is another pattern
    ("*.bracket.lower.slots.*", Usual(margin=inches(1 / 8))),
    ("*.bracket.*.pad_thickness", Usual(margin=3.0)),
    ("*.bracket.room_aft.*", Usual(margin=50.0)),
    ("*.bracket.jaw.*", Usual(margin=6.0)),
    ("*.bracket.clamp_screws.*", Usual(margin=6.0)),
    ("*_hardware.washer.thickness", Usual(margin=0.8)),
    ("*_hardware.outside_washer.thickness", Usual(margin=0.8)),
    ("*_hardware.*washer.outer", Usual(margin=1.0)),
    ("*_hardware.*washer.inner", Usual(margin=0.8)),
    ("*_hardware.socket.outer", Usual(margin=1.5)),
    ("*_hardware.socket.length", Usual(margin=13.0)),
    ("*_hardware.spanner.*", Usual(margin=2.0)),
    ("*_hardware.backing_plate.outline", Usual(margin=3.0)),
    ("*_hardware.wedge", Usual(margin=1.0)),
    ("*_hardware.*", Usual(margin=0.8)),
    ("*.leg", Usual(margin=inches(2.5))),
    ("*.set_back", Usual(margin=50.0)),
    ("*.centre_aft", Usual(margin=75.0)),
)
_ELSE = Usual(margin=12.0)


def usual(key: str) -> Usual:
    """Return the usual range of a measure by its key. The first pattern that fits counts."""
    return next((range_ for pattern, range_ in _RANGES if fnmatchcase(key, pattern)), _ELSE)
