"""The drillable zone over the face: reckoned once the hand has moved, so that it lags a frame and never holds one up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from geometry.design.measures import name_of
from geometry.solid.frames import Unmeasured
from templates_out.drawing.marks import Mark, Path, Text
from templates_out.drawing.shapes import text_box
from templates_out.views.zone import Pair, key_marks, place_marks, zone_marks, zone_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.sight import Sight
    from geometry.design.whole import Design
    from geometry.solid.zones import Zone, Zones
    from templates_out.views.viewport import Viewport

Spot = tuple[float, float]
_OFF = 1.6  # mm of the key from the edges of the sheet
_NAMES: dict[Pair, str] = {
    "": "The middle (+) of the upper holes\nmay lie here, the pattern as it is.",
    "upper": "An upper hole’s centre may lie here.",
    "lower": "A lower hole’s centre may lie here.",
}
_NOWHERE: dict[Pair, str] = {
    "": "Nowhere: with this drop, row and hardware\nthe pattern fouls wherever it hangs.",
    "upper": "Nowhere: the upper holes foul wherever they are.",
    "lower": "Nowhere: the lower holes foul wherever they are.",
}


class ZoneHand(QObject):
    """The zone of the motor in hand, where it is asked for.

    Signals:
        changed: another zone is there to be shown.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._asked: tuple[Design, int] | None = None
        self._found: Zones | None = None
        self._lacking = ""
        self._pair: Pair = ""
        self._idle = QTimer(self, interval=0, singleShot=True)
        self._idle.timeout.connect(self._reckon)

    @property
    def shown(self) -> Zone | None:
        """What is shown now; None where nothing is."""
        return None if self._found is None else zone_of(self._found, self._pair)

    @property
    def words(self) -> tuple[str, ...]:
        """What the key says, a line each; empty while nothing is shown."""
        if self._asked is None or (self._found is None and not self._lacking):
            return ()
        zone = self.shown
        if zone is None:
            return "Drillable zone", self._lacking
        return "Drillable zone", *(_NAMES[self._pair] if zone.least else _NOWHERE[self._pair]).split("\n")

    def show(self, design: Design, sight: Sight) -> None:
        """Show the zone of what is looked at: of the pair that is chosen, else of the whole pattern."""
        pair: Pair = "upper" if sight.chosen.startswith("upper ") else "lower" if sight.chosen.startswith("lower ") else ""
        if not sight.zone or sight.sheets or not design.mounts or design.mounts[sight.mount].bracket.rows is None:
            self._asked, self._found, self._lacking = None, None, ""
            return
        self._pair = pair
        asked = design, sight.mount
        if self._asked is None or asked[0] is not self._asked[0] or asked[1] != self._asked[1]:
            self._asked = asked
            self._idle.start()

    def _reckon(self) -> None:
        from geometry.solid.zones import zones

        if self._asked is None:
            return
        design, index = self._asked
        try:
            self._found, self._lacking = zones(design, index), ""
        except Unmeasured as missing:
            self._found, self._lacking = None, f"Not known yet: measure the {name_of(design, missing.key)}."
        self.changed.emit()

    def into(self, marks: tuple[Mark, ...], view: Viewport) -> tuple[Mark, ...]:
        """Return the face's marks with the zone among them: over wood and well, under every line."""
        zone = self.shown
        if zone is None:
            return marks
        grounds = (number for number, mark in enumerate(marks) if isinstance(mark, Path) and mark.fill in ("wood", "well"))
        after = max(grounds, default=-1) + 1
        return (*marks[:after], *zone_marks(view, zone), *marks[after:])

    def over(self, view: Viewport) -> tuple[Mark, ...]:
        """Return what lies over the drawing: where the pattern hangs now."""
        zone = self.shown
        if zone is None or self._pair or self._asked is None:
            return ()
        mount = self._asked[0].mounts[self._asked[1]]
        if mount.offset is None or mount.upper_at is None:
            return ()
        at = mount.offset, mount.upper_at
        return place_marks(view, at, holds=zone.holds(at))

    def key(self, drawing: tuple[Mark, ...], width: float, height: float) -> tuple[tuple[Mark, ...], Spot, Spot] | None:
        """Return the key, its lower left corner on a paper of this size, and its own size; None while nothing is shown.

        It stands in the corner where it covers the fewest figures of the drawing, at the lower right if it may; mere
        captions don't count.
        """
        if not self.words:
            return None
        zone = self.shown
        marks, size = key_marks(self.words, least=zone is not None and bool(zone.least),
                                advised=zone is not None and bool(zone.advised))  # fmt: skip
        texts = [text_box(mark) for mark in drawing if isinstance(mark, Text) and mark.role != "soft"]
        right, top = max(_OFF, width - size[0] - _OFF), max(_OFF, height - size[1] - _OFF)
        corners = (right, _OFF), (right, top), (_OFF, top), (_OFF, _OFF)
        return marks, min(corners, key=lambda at: sum(_meets(at, size, box) for box in texts)), size


def _meets(at: Spot, size: Spot, box: Sequence[Spot]) -> bool:
    xs, ys = [x for x, _ in box], [y for _, y in box]
    return min(xs) < at[0] + size[0] and at[0] < max(xs) and min(ys) < at[1] + size[1] and at[1] < max(ys)
