"""Shows the drillable zone over the face. It is calculated after each move, so it is a frame late and delays none."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from app.ui.apostrophes import curly
from geometry.readings.measures import name_of
from geometry.solid.faces import Unmeasured
from templates_out.drawing.labels import Ground, keeps
from templates_out.drawing.marks import Circle, Mark, Path, Text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from app.document.view_state import ViewState
    from geometry.design.design import Design
    from geometry.zones.pair_zone import Zone, Zones
    from templates_out.views.drillable_zone import Pair
    from templates_out.views.viewport import Viewport

Spot = tuple[float, float]
_OFF, _AIR = 1.6, 1.0  # mm between the key and the sheet's edges, and between it and marks that it may not hide
_HEAD = "Drillable zone"
_CLAMPED, _BARE = "The motor clamps on: no hole to drill.", "There is no motor yet, and no hole."
_NAMES: dict[Pair, str] = {
    "": "The middle (+) of the upper holes\nmay be here, with the present pattern.",
    "upper": "An upper hole’s centre may be here.",
    "lower": "A lower hole’s centre may be here.",
}
_NOWHERE: dict[Pair, str] = {
    "": "Nowhere: with this drop, height and hardware\nthe pattern fouls at every place.",
    "upper": "Nowhere: the upper holes foul at every place.",
    "lower": "Nowhere: the lower holes foul at every place.",
}


class ZoneOverlay(QObject):
    """Keeps the zone of the motor in hand, while it is shown.

    Signals:
        changed: there is another zone to show.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._asked: tuple[Design, int] | None = None
        self._zones: Zones | None = None
        self._lacking = ""
        self._pair: Pair = ""
        self._idle = QTimer(self, interval=0, singleShot=True)
        self._idle.timeout.connect(self._calculate)

    @property
    def shown(self) -> Zone | None:
        """The zone that is shown now; None where there is none."""
        if self._zones is None:
            return None
        from templates_out.views.drillable_zone import zone_of  # imported when the zone is first shown

        return zone_of(self._zones, self._pair)

    @property
    def words(self) -> tuple[str, ...]:
        """The key's texts, one for each line; empty while no zone is shown."""
        if self._asked is None or (self._zones is None and not self._lacking):
            return ()
        zone = self.shown
        if zone is None:
            return _HEAD, self._lacking
        return _HEAD, *(_NAMES[self._pair] if zone.least else _NOWHERE[self._pair]).split("\n")

    def show(self, design: Design, view_state: ViewState) -> None:
        """Show the zone of the chosen pair, else of the whole pattern."""
        chosen = view_state.chosen
        pair: Pair = "upper" if chosen.startswith("upper ") else "lower" if chosen.startswith("lower ") else ""
        self._pair = pair
        if not view_state.zone or view_state.sheets:
            self._asked, self._zones, self._lacking = None, None, ""
            return
        asked, now = (design, view_state.mount), self._asked
        if now is not None and asked[0] is now[0] and asked[1] == now[1]:
            return
        self._asked = asked
        if design.mounts and design.mounts[view_state.mount].bracket.rows is not None:
            self._idle.start()
        else:
            self._idle.stop()
            self._zones, self._lacking = None, _CLAMPED if design.mounts else _BARE

    def _calculate(self) -> None:
        from geometry.zones.pair_zone import zones

        if self._asked is None:
            return
        design, index = self._asked
        try:
            self._zones, self._lacking = zones(design, index), ""
        except Unmeasured as missing:
            self._zones, self._lacking = None, f"Not known yet: measure the {curly(name_of(design, missing.key))}."
        self.changed.emit()

    def under(self, view: Viewport) -> tuple[Mark, ...]:
        """Return the zone's marks, which are over wood and well and under every line of the face."""
        if self.shown is None:
            return ()
        from templates_out.views.drillable_zone import zone_marks

        return zone_marks(view, self.shown)

    def over(self, view: Viewport) -> tuple[Mark, ...]:
        """Return the marks over the drawing: the pattern's present place."""
        zone = self.shown
        if zone is None or self._pair or self._asked is None:
            return ()
        mount = self._asked[0].mounts[self._asked[1]]
        if mount.offset is None or mount.upper_at is None:
            return ()
        from templates_out.views.drillable_zone import place_marks

        at = mount.offset, mount.upper_at
        return place_marks(view, at, holds=zone.holds(at))

    def key(self, drawing: tuple[Mark, ...], width: float, height: float) -> tuple[tuple[Mark, ...], Spot, Spot] | None:
        """Return the key, its lower left corner on a paper of this size, and its size; None while no zone is shown.

        It is in a corner where it covers no figure, hole, washer or bracket, at the lower right if possible. Where there
        is no such corner, the key is shorter. It may cover captions.
        """
        if not self.words:
            return None
        from templates_out.views.drillable_zone import key_marks

        zone, ground = self.shown, Ground().plus(_telling(drawing))
        places: list[tuple[int, tuple[tuple[Mark, ...], Spot, Spot]]] = []
        for lines in (self.words, self.words[:1]) if zone is not None and zone.least else (self.words,):
            marks, size = key_marks(lines, least=zone is not None and bool(zone.least),
                                    advised=zone is not None and bool(zone.advised))  # fmt: skip
            right, top = max(_OFF, width - size[0] - _OFF), max(_OFF, height - size[1] - _OFF)
            for at in (right, _OFF), (right, top), (_OFF, top), (_OFF, _OFF):
                box = at[0], at[1], at[0] + size[0], at[1] + size[1]
                covered = sum(not keeps(box, mark, _AIR) for mark in ground.near(box, _AIR))
                if not covered:
                    return marks, at, size
                places.append((covered, (marks, at, size)))
        return min(places, key=lambda place: place[0])[1]


def _telling(drawing: tuple[Mark, ...]) -> Iterator[Mark]:
    """Yield the marks that the key may not hide: figures, the circles of bolts, and the bracket."""
    for mark in drawing:
        match mark:
            case Text() if mark.role != "soft":
                yield mark
            case Circle() | Path() if mark.pen is not None and mark.part.startswith(("bracket", "upper ", "lower ")):
                yield mark
