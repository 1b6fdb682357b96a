"""The shared parts of the tests of the views: designs to look at, and how figures are found among marks."""

from __future__ import annotations

from functools import cache
from itertools import combinations
from typing import TYPE_CHECKING, TypeVar

from msgspec.structs import replace

import assets
from geometry.design.patterns import backing_plate
from geometry.design_text import from_text
from geometry.edits.additions import add_kicker, add_twin
from templates_out.drawing.marks import Arc, Circle, Line, Mark, Path, Text
from templates_out.drawing.transforms import text_box
from tests.designs import changed, clamp_on_mount, example_design, twin_design

if TYPE_CHECKING:
    from geometry.design.design import Design

DEMONSTRATIONS = assets.design_names()
M = TypeVar("M", bound=Mark)

HEAVY = 0.3  # mm: cut edges, seen edges and what is fouled


@cache
def demonstration(name: str) -> Design:
    return from_text(assets.design_text(name))


@cache
def plated(along: float = 0.0) -> Design:
    """The skiff, too low, with a backing plate under both lower washers, its lower back edge relieved by ``along`` [mm]."""
    skiff = demonstration("shallow-well-skiff")
    plate = backing_plate(skiff.mounts[0].bracket, "lower", 38.1, along=along)
    return changed(skiff, mounts__0__lower_hardware__backing_plate=plate)


@cache
def with_kicker() -> Design:
    """Two motors on the skiff and a kicker next to them: more than it has room for."""
    return add_kicker(add_twin(demonstration("shallow-well-skiff"), 0), 0)


@cache
def variants() -> dict[str, Design]:
    """Boats of every kind: bare, without a well, clamped, tilted, tapered, and with readings not yet taken."""
    example = example_design()
    return {
        "example": example,
        "standard drop": changed(example, mounts__0__drop=203.2, mounts__0__row=1),
        "no well": changed(example, well=None),
        "no motor": changed(example, mounts=()),
        "clamped": replace(example, mounts=(clamp_on_mount(),)),
        "twins": twin_design(),
        "plated": plated(),
        "plated, relieved": plated(12.0),
        "twins and a kicker": with_kicker(),
        "tapered and tilted": changed(
            example, transom__thickness__low=60.0, mounts__0__upper_tilt=-5.0, mounts__0__lower_tilt=6.0,
            mounts__0__offset=12.0,
        ),
        "flat washer, head inside": changed(
            example, mounts__0__lower_hardware__washer__flat_cut=15.0,
            mounts__0__lower_hardware__inserted_from="inside",
        ),
        **{f"without {path}": changed(example, **{path: None}) for path in UNKNOWN},
        **{name: demonstration(name) for name in DEMONSTRATIONS},
    }  # fmt: skip


UNKNOWN = (
    "transom__rake", "transom__top_cut", "transom__thickness__top", "transom__outline__3__1", "transom__skin_inside",
    "well__profile__1__1", "well__fillet_radius", "well__length", "well__floor_rise", "inside_blocks__0__stands_out",
    "inside_blocks__0__outline__0__0", "outside_fittings__0__outline__0__1", "old_holes__0__at__0",
    "old_holes__0__diameter", "old_holes__0__plug_diameter", "mounts__0__offset", "mounts__0__upper_at",
    "mounts__0__drop", "mounts__0__row", "mounts__0__lower_tilt", "mounts__0__bracket__rows__diameter",
    "mounts__0__bracket__lower__pad_thickness", "mounts__0__lower_hardware__washer__outer",
    "mounts__0__lower_hardware__washer__thickness", "mounts__0__lower_hardware__hole",
    "mounts__0__lower_hardware__socket", "mounts__0__lower_hardware__outside_washer__thickness",
)  # fmt: skip


def of(marks: tuple[Mark, ...], kind: type[M], part: str) -> list[M]:
    """Return the marks of one kind that belong to one part."""
    return [mark for mark in marks if isinstance(mark, kind) and mark.part == part]


def texts(marks: tuple[Mark, ...]) -> list[Text]:
    return [mark for mark in marks if isinstance(mark, Text)]


def boxes(shown: list[Text]) -> list[tuple[float, float, float, float]]:
    """Return the boxes of upright texts: left, bottom, right, top [mm]."""
    corners = [text_box(text) for text in shown]
    return [(a[0], a[1], c[0], c[1]) for a, _, c, _ in corners]


def overlaps(shown: list[Text]) -> list[tuple[str, str]]:
    """Return the pairs of texts that are over each other."""
    placed = list(zip(shown, boxes(shown), strict=True))
    return [
        (upper.text, lower.text) for (upper, a), (lower, b) in combinations(placed, 2)
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]  # fmt: skip


def struck(marks: tuple[Mark, ...]) -> list[str]:
    """Return the texts that a heavy line passes through."""
    shown = texts(marks)
    heavy: list[tuple[tuple[float, float], tuple[float, float]]] = []
    for mark in marks:
        if isinstance(mark, Line) and mark.pen.weight >= HEAVY:
            heavy.append((mark.a, mark.b))
        if isinstance(mark, Path) and mark.pen is not None and mark.pen.weight >= HEAVY:
            ring = (*mark.points, mark.points[0]) if mark.closed else mark.points
            heavy += zip(ring, ring[1:], strict=False)
        if isinstance(mark, Circle | Arc) and mark.pen is not None and mark.pen.weight >= HEAVY:
            (x, y), r = mark.centre, mark.radius
            heavy += [((x - r, y), (x + r, y)), ((x, y - r), (x, y + r))]
    placed = zip(shown, boxes(shown), strict=True)
    return [text.text for text, box in placed if any(_through(a, b, box) for a, b in heavy)]


def _through(a: tuple[float, float], b: tuple[float, float], box: tuple[float, float, float, float]) -> bool:
    """Say whether a segment passes through a box, by looking at 200 places along it."""
    for i in range(201):
        x, y = a[0] + (b[0] - a[0]) * i / 200, a[1] + (b[1] - a[1]) * i / 200
        if box[0] < x < box[2] and box[1] < y < box[3]:
            return True
    return False
