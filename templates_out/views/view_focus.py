"""The focus of a view: which motor is in hand, what is chosen, which dimension is lit. No part of the design."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import msgspec

from geometry.design.design import Design
from geometry.judge.findings import Checked
from geometry.solid.faces import Unmeasured, faces
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.solid.planes import inside
from geometry.solving.solved import solved
from geometry.zones.areas import overlap, well_area
from templates_out.drawing.marks import Point, Role
from templates_out.views.view_pens import FIGURE, WORD, Style
from templates_out.views.viewport import Viewport

AIR = 5.0  # mm of paper round the sheet that is hatched with it
_SAME = 6  # decimals of a mm: where only its far end moves, what is cut at the sheet stays the same


class ViewFocus(msgspec.Struct, frozen=True):
    """The focus of the eye.

    Attributes:
        mount: index of the motor in hand; the others are drawn in thinner line.
        chosen: part that is chosen, as a mark's ``part`` names it ("lower port hole:0", "outline", "profile").
        lit: key of the measure whose dimension is lit, "" for none.
        text: size of the figures [paper mm], None for the style's own.
    """

    mount: int = 0
    chosen: str = ""
    lit: str = ""
    text: float | None = None




class Scene(msgspec.Struct, frozen=True, dict=True):
    """All that a piece of a view needs to draw itself."""

    checked: Checked
    view: Viewport
    focus: ViewFocus
    style: Style

    @property
    def design(self) -> Design:
        """The design as read: what entries and figures say."""
        return self.checked.design

    @property
    def boat(self) -> Design:
        """The boat as drawn: solved with its second readings and its pilots, as the checks have it."""
        return solved(self.checked.design)

    @property
    def figure_size(self) -> float:
        """Of figures [paper mm]."""
        return self.focus.text or FIGURE[self.style]

    @property
    def word_size(self) -> float:
        """Of words [paper mm]."""
        return WORD[self.style] * self.figure_size / FIGURE[self.style]

    @property
    def narrow(self) -> bool:
        """Whether words are set in the condensed font."""
        return self.style == "paper"

    def at(self, u: float, v: float) -> Point:
        """Return the place on paper."""
        return self.view.to_paper((u, v))

    @cached_property
    def grounds(self) -> tuple[tuple[Role, Sequence[Point]], ...]:
        """The grounds behind a figure on the face, as rings [boat mm], the nearest to the eye first."""
        rings: list[tuple[Role, Sequence[Point]]] = []
        try:
            cosine = faces(self.boat.transom).cos_taper
            rings += [("well", [(u, w * cosine) for u, w in ring]) for ring in well_area(self.boat)]
        except Unmeasured:
            pass
        outline = [(a, b) for a, b in self.design.transom.outline if a is not None and b is not None]
        return (*rings, ("wood", outline)) if len(outline) > 2 else tuple(rings)

    @cached_property
    def overlaps(self) -> dict[str, tuple[tuple[str, tuple[Point, ...]], ...]]:
        """The piece of each bolt that is in something, by the bolt's name in findings, as far as it was calculated."""
        return {}

    def is_guess(self, key: str) -> bool:
        """Say whether a measure's value is a guess."""
        reading = self.design.readings.get(key)
        return reading is not None and reading.state == "guess"


def on_sheet(scene: Scene, ring: tuple[Point, ...]) -> tuple[tuple[Point, ...], ...]:
    """Return what of a ring [paper mm] is near the sheet: what is far off it need not be hatched."""
    left, bottom, right, top = -AIR, -AIR, scene.view.width + AIR, scene.view.height + AIR
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    if left <= min(xs) and max(xs) <= right and bottom <= min(ys) and max(ys) <= top:
        return (ring,)
    if max(xs) <= left or right <= min(xs) or max(ys) <= bottom or top <= min(ys):
        return ()
    cut = overlap(ring, ((left, bottom), (right, bottom), (right, top), (left, top)))
    return tuple(tuple((round(x, _SAME), round(y, _SAME)) for x, y in piece) for piece in cut)


def part_of(bolt: Bolt, what: str) -> str:
    """Name a bolt's part, "lower port washer:0", the number being the motor's."""
    return f"{bolt.name} {what}:{bolt.mount_index}"


def in_hand(scene: Scene, name: str) -> Bolt:
    """Return a bolt of the motor in hand."""
    return next(bolt for bolt in bolts(scene.boat) if bolt.mount_index == scene.focus.mount and bolt.name == name)


def ground_at(scene: Scene, at: Point) -> Role:
    """Return the ground behind a place on paper: well, wood or the bare sheet."""
    place = scene.view.to_boat(at)
    return next((role for role, ring in scene.grounds if inside(place, ring)), "sheet")
