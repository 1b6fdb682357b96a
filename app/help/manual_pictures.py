"""The manual's pictures. The program's views draw them from the demonstration boats, so they are never out of date. No Qt.

A picture is a sheet [paper mm] of the width that it is given.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache, partial
from typing import TYPE_CHECKING

import msgspec

from app.document.examples import DEMONSTRATION
from assets import design_text
from geometry.design.checking_readings import SurveyDistance, SurveyReadings
from geometry.design.motor import Tilt, TiltPoint
from geometry.design_text import from_text
from geometry.edits.choices import choices
from geometry.edits.edits import hang
from geometry.judge.check import check
from geometry.solid.square_or_level import other_way
from geometry.survey.network import CENTRELINE, TOP_EDGE
from geometry.survey.of_design import DATUM_WORDS, points_of, surveyed
from geometry.tables.known import MM_PER_INCH
from geometry.units.units import format_length
from templates_out.drawing.marks import Line, Mark, Page, Pen, Text
from templates_out.pictures.survey_picture import survey_picture
from templates_out.views import view_pens as pens
from templates_out.views.cut import cut_marks, cut_rect, plane_of
from templates_out.views.cut_ghost import ghost_marks
from templates_out.views.detail import RADIUS, detail_box, detail_centre, detail_marks
from templates_out.views.dimensions import Figure, size_line
from templates_out.views.face import face_marks
from templates_out.views.motor_sweep import part_of_sweep, sweep_rect
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import Viewport, fit, round_all, union, work_rect

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Point
    from templates_out.views.cut import Side
    from templates_out.views.viewport import Rect

Make = Callable[[float, float], tuple[Mark, ...]]

FIT_DROP, PLATE_DROP, CUT_DROP = 184.15, 200.025, 203.2  # mm: 7 1/4 in, where whole washers fit; 7 7/8; 8 in
_LOWER = "mounts.0.lower_hardware"
_SIDE: Side = "port"
_WORD = 3.1  # paper mm
_ASIDE = 4.0  # paper mm that the detail's ring is further in: its name is wider than it
_LEADER = Pen("soft", 0.18)


class Picture(msgspec.Struct, frozen=True):
    """One picture.

    Attributes:
        high: its height as a share of its width. make: gives its marks for a width and a height [paper mm].
        paper: the width of a printed page [mm], always black on white; None for a picture that is no page.
        share: how much of the column's width it takes. slow: whether a background task draws it.
    """

    high: float
    make: Make
    paper: float | None = None
    share: float = 1.0
    slow: bool = False

    def page(self, width: float) -> Page:
        """Return it on a sheet of ``width`` [mm]."""
        wide = self.paper or width
        return Page(wide, wide * self.high, self.make(wide, wide * self.high), "picture")


@cache
def boat(name: str = DEMONSTRATION, drop: float | None = None, *chosen: tuple[str, str]) -> Checked:
    """Return a shipped boat, its lower bolts at ``drop`` [mm] in the 2nd hole from the top, with ``chosen`` set."""
    design = from_text(design_text(name))
    if drop is not None:
        design = hang(design, 0, 1, drop)
    for key, word in chosen:
        choice = next(option for option in choices(design, 0) if option.key == key)
        design = choice.put(next(index for index, option in enumerate(choice.options) if option.short == word))
    return check(design)


@cache
def _plated() -> Checked:
    """A relieved plate under the lower washers; without the drain tube, which is in its way on this boat."""
    checked = boat(DEMONSTRATION, PLATE_DROP, (f"{_LOWER}.plate", "relieved"))
    return check(msgspec.structs.replace(checked.design, inside_blocks=()))


@cache
def _tilting() -> Checked:
    """A motor whose cowl was measured; the figures are invented."""
    point = TiltPoint(radius=440.0, angle=12.0, half_width=120.0)
    tilt = Tilt(tube=(70.0, 30.0), most=70.0, lock=35.0, points=(point,))
    design = boat(DEMONSTRATION, FIT_DROP).design
    well = None if design.well is None else msgspec.structs.replace(design.well, front_height=25.4)
    mount = msgspec.structs.replace(design.mounts[0], tilt=tilt)
    return check(msgspec.structs.replace(design, well=well, mounts=(mount,)))


def _cut(
    source: Callable[[], Checked], width: float, height: float, *, lit: str = "", rect: Rect | None = None,
    ring: bool = False, times: int | None = None, other: Callable[[Design], Design] | None = None,
) -> tuple[Mark, ...]:  # fmt: skip
    """The cut through the port bolts, in ``rect`` [boat mm] or where the work is."""
    checked, focus = source(), ViewFocus(lit=lit)
    part = rect or cut_rect(checked.design, _SIDE)
    view = fit(part, width, height)
    view = msgspec.structs.replace(view, left=part[0]) if ring else view
    if other is not None:
        marks = cut_marks(checked, view, _SIDE, 0, focus)
        return (*marks, *ghost_marks(checked, view, _SIDE, 0, other(checked.design)))
    if not ring:
        return cut_marks(checked, view, _SIDE, 0, focus)
    radius = min(RADIUS, 0.24 * width, 0.4 * height)
    x, y = detail_centre(view, radius)
    centre = x - _ASIDE, y
    drawn = detail_marks(checked, view, _SIDE, 0, focus, centre=centre, radius=radius, times=times)
    return (*cut_marks(checked, view, _SIDE, 0, focus, keep_free=detail_box(centre, radius), over=drawn), *drawn)


def _face(
    source: Callable[[], Checked], width: float, height: float, *, lit: str = "", rect: Rect | None = None
) -> tuple[Mark, ...]:
    """The face, in ``rect`` [boat mm] or where the work is."""
    checked = source()
    return face_marks(checked, fit(rect or work_rect(checked.design), width, height), ViewFocus(lit=lit))


def _swept(width: float, height: float) -> tuple[Mark, ...]:
    """The cut with the sweep of a motor's cowl, from the tilt tube to the lip of the well's front."""
    checked, focus = _tilting(), ViewFocus(chosen=part_of_sweep(0))
    rect = sweep_rect(checked.design, focus)
    part = cut_rect(checked.design, _SIDE)
    return cut_marks(checked, fit(part if rect is None else union(part, rect), width, height), _SIDE, 0, focus)


def _top_step(width: float, height: float) -> tuple[Mark, ...]:
    """The top of the transom, cut: how much lower the inner edge is."""
    checked = boat()
    plane = plane_of(checked.design, _SIDE, 0)
    faces = plane.faces
    view = fit((-90.0, -100.0, 140.0, 48.0), width, height)
    outer, inner = view.to_paper(plane.outside(0.0, 0.0)), view.to_paper(plane.inside(faces.edge_w, 0.0))
    square = view.to_paper(plane.inside(0.0, 0.0))
    off = view.to_paper(plane.inside(0.0, 34.0)), view.to_paper(plane.inside(faces.edge_w, 34.0))
    figure = Figure(format_length(-faces.edge_w, checked.design.units), "step", 3.6, bold=True, patch="well")
    bare = tuple(mark for mark in cut_marks(checked, view, _SIDE, 0) if _standing(mark))
    return (
        *bare,
        Line(outer, square, Pen("ink", 0.18, (2.0, 1.0)), "step"),
        Line(square, off[0], pens.SIZE, "step"),
        Line(inner, off[1], pens.SIZE, "step"),
        *size_line(*off, figure).marks,
        *_named(view, "outer top edge", plane.outside(0.0, 0.0), (-9.0, 7.0), "end"),
        *_named(view, "square to the face", plane.outside(0.0, 24.0), (7.0, 12.0)),
        *_named(view, "inside top edge", plane.inside(faces.edge_w, 0.0), (12.0, -13.0)),
    )


def _standing(mark: Mark) -> bool:
    """Whether a mark belongs to the boat itself: no bolt, no figure."""
    return not isinstance(mark, Text) and mark.part.partition(":")[0] in ("", "transom", "well", "floor", "block", "land")


def _named(view: Viewport, word: str, at: Point, away: Point, anchor: str = "start") -> tuple[Mark, ...]:
    """A word at a distance of ``away`` [paper mm] from a place on the boat, with a line to it."""
    x, y = view.to_paper(at)
    end = x + away[0], y + away[1]
    gap = 1.2 if anchor == "start" else -1.2 if anchor == "end" else 0.0
    text = Text((end[0] + gap, end[1] - 0.35 * _WORD), word, _WORD, anchor=anchor, part="word")  # type: ignore[arg-type]
    return Line((x, y), end, _LEADER, "word"), text


def _words(width: float, height: float) -> tuple[Mark, ...]:
    """The cut with the names of its parts."""
    checked = boat(DEMONSTRATION, FIT_DROP)
    design = checked.design
    plane = plane_of(design, _SIDE, 0)
    left, bottom, right, top = cut_rect(design, _SIDE)
    view = fit((left - 60.0, bottom, right + 80.0, top + 10.0), width, height)
    mount = design.mounts[0]
    upper, lower = mount.upper_at or 0.0, (mount.upper_at or 0.0) - (mount.drop or 0.0)
    drawn = cut_marks(checked, view, _SIDE, 0)
    marks = tuple(mark for mark in drawn if not isinstance(mark, Text) and "measure" not in mark.part)
    exit_ = plane.inside(lower, 3.0)
    a, b = view.to_paper(plane.outside(upper, -62.0)), view.to_paper(plane.outside(lower, -62.0))
    drop = Figure("drop", "word", _WORD, bold=True, patch="sheet")
    return (
        *marks,
        *size_line(a, b, drop).marks,
        *_named(view, "datum", plane.outside(0.0, 0.0), (-14.0, 5.0), "end"),
        *_named(view, "inside top edge", plane.inside(plane.faces.edge_w, 0.0), (16.0, 9.0)),
        *_named(view, "head and outer washer", plane.outside(upper, -26.0), (-6.0, 13.0), "end"),
        *_named(view, "washer and nut", plane.inside(upper, 14.0), (14.0, -9.0)),
        *_named(view, "core", plane.outside((upper + lower) / 2, 20.0), (22.0, -1.0)),
        *_named(view, "flat land", (exit_[0], exit_[1] + 30.0), (18.0, 9.0)),
        *_named(view, "rounded corner", plane.inside((plane.floor_w(4.0) or 0.0), 4.0), (14.0, 11.0)),
        *_named(view, "the well’s floor", plane.inside((plane.floor_w(120.0) or 0.0), 120.0), (8.0, 12.0)),
    )


def _rows(width: float, height: float) -> tuple[Mark, ...]:
    from templates_out.pages.shop.shop_pictures import column_height, hole_column

    mount = boat().design.mounts[0]
    return hole_column(mount, (width * 0.05, (height + column_height(mount)) / 2))


def _sketch(width: float, height: float) -> tuple[Mark, ...]:
    """A half-drawn outline: three corners are set, and the length of the fourth edge is typed."""
    from app.tools.sketch import Sketch
    from geometry.edits.starting_shapes import blank
    from templates_out.views.viewport import whole_rect

    design = blank("in")
    corners = ((-700.0, 60.0), (-330.0, 60.0), (-330.0, 0.0), (0.0, 0.0))
    tool = Sketch("outline", corners=((0.0, 0.0), *reversed(corners[:-1])), pointer=(-640.0, -380.0), length="17 1/2")
    rect = round_all((*corners, (700.0, 60.0), (0.0, -520.0)), 40.0) or whole_rect(design)
    view = fit(rect, width, height)
    x, y = view.to_paper((0.0, 0.0))
    lines = (Line((x, 2.0), (x, height - 2.0), pens.CENTRE), Line((2.0, y), (width - 2.0, y), Pen("rule", 0.18)))
    return (*lines, *tool.marks(design, view))


@cache
def _printed() -> tuple[Page, Page]:
    """The template's first sheet, and the gauge, as they are printed."""
    from app.printing.sheet_set import PrintOptions, sheet_set
    from app.ui.dates import today

    options = PrintOptions("letter", turned="landscape", kinds=("template", "gauge"))
    made = sheet_set(boat(), options, today())
    before = sum(group.count for group in made.groups if group.key != "gauge")
    return made.pages[0], made.pages[before]


def _sheet(_width: float, _height: float) -> tuple[Mark, ...]:
    return _printed()[0].marks


def _gauge(_width: float, _height: float) -> tuple[Mark, ...]:
    return _printed()[1].marks


_demo = boat
_fits = partial(boat, DEMONSTRATION, FIT_DROP)
_drilled = partial(boat, "thrice-drilled-runabout")
_flat = partial(boat, DEMONSTRATION, CUT_DROP, (f"{_LOWER}.flat", "cut flat"))
_CORNER = (-60.0, -300.0, 150.0, -160.0)  # boat mm of the cut: the lower bolts and the corner
_LOW = (-60.0, -300.0, 240.0, -170.0)  # the same with room for the ring

def _survey(width: float, height: float) -> tuple[Mark, ...]:
    """The survey of two old holes, each distance read to a sixteenth: two to the lines, one between them, one more each."""
    design = _drilled().design
    sixteenth = MM_PER_INCH / 16
    points = {point.name: point.at for point in points_of(design, "outside") if point.at is not None}
    first, second = (design.old_holes[index].name for index in (0, 3))
    (ua, va), (ub, vb) = points[first], points[second]
    read = (
        (first, CENTRELINE, abs(ua)), (first, TOP_EDGE, abs(va)), (second, CENTRELINE, abs(ub)), (second, TOP_EDGE, abs(vb)),
        (first, second, math.dist((ua, va), (ub, vb))), (first, DATUM_WORDS, math.hypot(ua, va)),
        (second, DATUM_WORDS, math.hypot(ub, vb)),
    )  # fmt: skip
    distances = tuple(
        SurveyDistance(face="outside", from_=start, to=end, length=round(length / sixteenth) * sixteenth, spread=None)
        for start, end, length in read
    )
    boat_surveyed = msgspec.structs.replace(design, survey=SurveyReadings(distances=distances))
    return survey_picture(boat_surveyed, "outside", surveyed(boat_surveyed)[0], width, height)


PICTURES: dict[str, Picture] = {
    "cut-fouled": Picture(0.56, partial(_cut, _demo, ring=True)),
    "lit-rake": Picture(0.5, partial(_cut, _fits, lit="transom.rake", rect=(-120.0, -290.0, 190.0, 40.0))),
    "top-step": Picture(0.42, _top_step),
    "lit-floor": Picture(0.52, partial(_face, _fits, lit="well.floor_port")),
    "lit-fillet": Picture(0.42, partial(_cut, _fits, lit="well.fillet_radius", rect=_CORNER)),
    "lit-old-hole": Picture(0.46, partial(_face, _drilled, lit="old_holes.0.across"), slow=True),
    "lit-row": Picture(0.52, partial(_face, _fits, lit="mounts.0.bracket.rows.row0_depth")),
    "sketch": Picture(0.44, _sketch),
    "rows": Picture(0.3, _rows, share=0.75),
    "level": Picture(0.56, partial(_cut, _fits, other=lambda design: other_way(design, 0)[1])),
    "flat-cut": Picture(0.42, partial(_cut, _flat, ring=True, rect=_LOW)),
    "plate": Picture(0.42, partial(_cut, _plated, ring=True, rect=_LOW)),
    "face-fouled": Picture(0.56, partial(_face, _demo)),
    "sheet": Picture(215.9 / 279.4, _sheet, paper=279.4, slow=True),
    "gauge": Picture(279.4 / 215.9, _gauge, paper=215.9, share=0.62, slow=True),
    "survey": Picture(0.5, _survey, slow=True),
    "old-holes": Picture(0.5, partial(_face, _drilled), slow=True),
    "swept": Picture(0.7, _swept, share=0.8),
    "named": Picture(0.62, _words),
}
