"""Dividing a drawing among sheets: nothing lost, no seam near a hole, as few sheets as can be."""

from __future__ import annotations

import math
from bisect import bisect_left
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box
from shapely.ops import unary_union

from geometry.errors import OwnerError
from geometry.tables.papers import paper, paper_names
from templates_out.drawing.labels import Ground, things_of
from templates_out.drawing.marks import Line, Pen
from templates_out.drawing.printer import Stretch
from templates_out.layout.board import Board
from templates_out.layout.framing import _float_bar, with_views
from templates_out.layout.seams import Seam, seam_marks
from templates_out.layout.tiles import FOOT, STRIP, WASTE, Needs, Plan, letter, plan, seams

MARGIN = 6.35
SHEETS = [name for name in paper_names() if not name.startswith("roll")]


@st.composite
def drawings(draw: st.DrawFn) -> Needs:
    """Two to eight holes anywhere within reason, in pairs about one or two centres."""
    centres = draw(st.sampled_from([(0.0,), (-260.0, 260.0), (70.0,), (-310.0, 310.0)]))
    half, low_half = draw(st.floats(120, 170)), draw(st.floats(100, 160))
    upper = draw(st.floats(40, 90))
    lower = upper + draw(st.floats(120, 220))
    holes = [(c + s * h, d) for c in centres for h, d in ((half, upper), (low_half, lower)) for s in (-1, 1)]
    across = min(u for u, _ in holes) - 30, max(u for u, _ in holes) + 30
    return Needs(
        across,
        lower + 32,
        ((-20.0, 20.0), *((u - 45, u + 45) for u, _ in holes)),
        ((-15.0, 15.0), *((d - 45, d + 45) for _, d in holes)),
    )


def _plan(needs: Needs, name: str) -> Plan | None:
    """A plan, None where this paper can't carry this drawing at all."""
    try:
        return plan(needs, paper(name), MARGIN)
    except OwnerError:
        return None


@given(drawings(), st.sampled_from(paper_names()))
def test_the_sheets_cover_the_drawing_with_no_strip_missing(needs: Needs, name: str) -> None:
    sheet_plan = _plan(needs, name)
    if sheet_plan is None:
        assert name in ("letter", "legal", "a4", "tabloid", "a3")  # the large ones carry every such drawing
        return
    wanted = box(needs.across[0], -needs.down, needs.across[1], 0.0)
    assert unary_union([box(*tile.core) for tile in sheet_plan.tiles]).buffer(1e-6).covers(wanted)
    for tile, other in combinations(sheet_plan.tiles, 2):
        assert box(*tile.core).intersection(box(*other.core)).area < 1e-6


@given(drawings(), st.sampled_from(paper_names()))
def test_what_a_sheet_shows_is_within_its_margins(needs: Needs, name: str) -> None:
    sheet_plan = _plan(needs, name)
    for tile in sheet_plan.tiles if sheet_plan else ():
        dx, dy = tile.offset
        left, bottom, right, top = tile.shown
        assert left + dx >= MARGIN - 1e-6
        assert bottom + dy >= MARGIN - 1e-6
        assert right + dx <= sheet_plan.width - MARGIN + 1e-6
        assert top + dy <= sheet_plan.height - MARGIN + 1e-6


@given(drawings(), st.sampled_from(paper_names()))
def test_no_seam_comes_near_what_it_would_spoil(needs: Needs, name: str) -> None:
    sheet_plan = _plan(needs, name)
    for seam in sheet_plan.seams_across if sheet_plan else ():
        assert all(not low + 1e-6 < seam < high - 1e-6 for low, high in needs.no_seam_across)
    for seam in sheet_plan.seams_down if sheet_plan else ():
        assert all(not low + 1e-6 < -seam < high - 1e-6 for low, high in needs.no_seam_down)


@given(
    st.floats(50, 2000), st.floats(120, 300), st.floats(120, 300), st.floats(120, 300),
    st.lists(st.tuples(st.floats(0, 2000), st.floats(1, 50)), max_size=6),
)  # fmt: skip
def test_no_other_choice_of_seams_needs_fewer(
    high: float, first: float, middle: float, last: float, bars: list[tuple[float, float]]
) -> None:
    """Against a search over every seam on a 1 mm grid, which can at best do as well."""
    barred = [(at, at + width) for at, width in bars]
    try:
        fewest_seams = seams((0.0, high), first, middle, last, barred)
    except OwnerError:
        return
    free = [float(x) for x in range(1, int(high) + 1) if all(not a < x < b for a, b in barred)]
    reach, count = [0.0], 0
    while reach and not any(high - at <= last for at in reach):
        room = first if count == 0 else middle
        reach = [x for x in free if (i := bisect_left(reach, x - room)) < len(reach) and reach[i] < x]
        count += 1
    assert not reach or len(fewest_seams) <= count


@pytest.mark.parametrize(
    ("name", "count", "orientation"),
    [("letter", 4, "landscape"), ("a4", 4, "landscape"), ("tabloid", 2, None), ("a3", 2, None), ("a2", 1, None)],
)
def test_the_usual_pattern_takes_as_many_sheets_as_calculated_by_hand(name: str, count: int, orientation: str | None) -> None:
    """The four-bolt pattern, drop 6-1/2 in, is 387 wide and 248 deep with its crosses.

    Letter, landscape: 279.4 - 12.7 - 28 - 12 = 226.7 on the first sheet, so two across; 215.9 - 12.7 - 38 - 4 = 161 on
    one, so two down. Portrait would take 163 + 186 + 153: three across.
    """
    holes = [(-163.5, 50.8), (163.5, 50.8), (-125.4, 215.9), (125.4, 215.9)]
    needs = Needs(
        (-193.5, 193.5), 248.0,
        ((-20.0, 20.0), *((u - 45, u + 45) for u, _ in holes)), ((-15.0, 15.0), *((d - 45, d + 45) for _, d in holes)),
    )  # fmt: skip
    sheet_plan = plan(needs, paper(name), MARGIN)
    assert len(sheet_plan.tiles) == count
    assert orientation in (None, sheet_plan.orientation)


def test_letters_go_on_after_z() -> None:
    assert [letter(n) for n in (0, 25, 26, 27, 52)] == ["A", "Z", "AA", "AB", "BA"]


def test_a_margin_that_leaves_nothing_is_refused_in_a_sentence() -> None:
    with pytest.raises(OwnerError, match="margin of 60 mm"):
        plan(Needs((-100.0, 100.0), 200.0, (), ()), paper("letter"), 60.0)


@st.composite
def small_drawings(draw: st.DrawFn) -> Needs:
    """Drawings up to a few sheets, with up to five spans each way where no seam may run."""
    wide, down = draw(st.integers(60, 700)), draw(st.integers(60, 560))
    left = -draw(st.integers(0, wide))

    def spans(low: int, high: int) -> tuple[tuple[float, float], ...]:
        pairs = draw(st.lists(st.tuples(st.integers(low, high), st.integers(5, 90)), max_size=5))
        return tuple((float(at), float(at + long)) for at, long in pairs)

    return Needs((float(left), float(left + wide)), float(down), spans(left, left + wide), spans(0, down), 40.0, 6.0)


def fewest(length: int, low: int, single: float, first: float, middle: float, last: float, barred) -> int | None:
    """How many sheets one axis takes, by trying every set of seams on a 1 mm grid; None where three seams are too few."""
    high = low + length
    if length <= single + 1e-9:
        return 1
    free = [x for x in range(low + 1, high) if all(not a + 1e-9 < x < b - 1e-9 for a, b in barred)]
    for count in (1, 2, 3):
        ends = {float(low)}
        for index in range(count):
            room = first if index == 0 else middle
            ends = {float(x) for x in free if any(20.0 <= x - at <= room + 1e-9 for at in ends)}
        if any(high - at <= last + 1e-9 for at in ends):
            return count + 1
    return None


@given(small_drawings(), st.sampled_from(["letter", "a4", "legal", "a3"]))
def test_no_other_division_takes_fewer_sheets(needs: Needs, name: str) -> None:
    """Against every division into whole columns and rows with seams on a 1 mm grid, both ways round.

    Capacities by hand, from the other parts of a sheet. Margin 6.35 each side, flap 38 over the top sheets, outer columns
    28 and 33. Strip under the next sheet 12, waste 5, foot 40 and 6.
    """
    sheet = paper(name)
    assert sheet.height is not None
    counts = []
    for width, height in ((sheet.width, sheet.height), (sheet.height, sheet.width)):
        w, h = width - 2 * MARGIN, height - 2 * MARGIN
        low, high = needs.across
        across = fewest(
            round(high - low), round(low), w - 28 - 8, w - 28 - 12, w - 5 - 12, w - 5 - 33, needs.no_seam_across
        )
        down = fewest(round(needs.down), 0, h - 38 - 6, h - 38 - 12, h - 5 - 12, h - 5 - 40, needs.no_seam_down)
        if across and down:
            counts.append(across * down)
    sheet_plan = _plan(needs, name)
    if sheet_plan is not None and counts:
        assert len(sheet_plan.tiles) <= min(counts)
    if sheet_plan is None:
        assert not counts


@pytest.mark.parametrize(("part", "length"), [("well floor", 150.0), ("rim", 50.0)])
def test_an_upright_bar_crosses_the_floor_rather_than_being_too_short_to_measure(part: str, length: float) -> None:
    """Level lines 60 mm apart leave room for 50 mm. Across a floor's lines a bar may go, so it is 150 mm; not across a rim."""
    sheet_plan = plan(Needs((-150.0, 150.0), 200.0, (), (), FOOT, 4.0), paper("tabloid"), MARGIN)
    (tile,) = sheet_plan.tiles
    left, bottom, right, _ = tile.core
    heights = (bottom + 60.0 * number for number in range(8))
    lines = tuple(Line((left, y), (right, y), Pen("ink", 0.2), part) for y in heights if y < 0.0)
    board, bar = _float_bar(Board(sheet_plan, (), ((),), Ground()).drawn(lines), tile, Stretch(), "mm", True)
    assert bar.length == length
    assert max(math.dist(mark.a, mark.b) for mark in board.own[0] if isinstance(mark, Line)) == pytest.approx(length)


def _wide_plan() -> Plan:
    """A drawing that takes letter sheets next to each other and under each other."""
    sheet_plan = plan(Needs((-300.0, 300.0), 400.0, (), (), FOOT, 4.0), paper("letter"), MARGIN)
    assert sheet_plan.columns > 1
    assert sheet_plan.rows > 1
    return sheet_plan


def test_what_a_sheet_carries_is_in_the_way_only_where_it_reaches_into_what_that_sheet_alone_shows() -> None:
    """A line of 4 mm across each edge of the sheet's core, one in its middle, and one 1 mm outside of each edge."""
    sheet_plan = _wide_plan()
    tile = sheet_plan.tiles[0]
    left, bottom, right, top = tile.core
    x, y = (left + right) / 2, (bottom + top) / 2
    for ends, counts in (
        (((x - 2, y), (x + 2, y)), True),
        (((left - 2, y), (left + 2, y)), True), (((left - 5, y), (left - 1, y)), False),
        (((right - 2, y), (right + 2, y)), True), (((right + 1, y), (right + 5, y)), False),
        (((x, bottom - 2), (x, bottom + 2)), True), (((x, bottom - 5), (x, bottom - 1)), False),
        (((x, top - 2), (x, top + 2)), True), (((x, top + 1), (x, top + 5)), False),
    ):  # fmt: skip
        line = Line(*ends, Pen("ink", 0.2), "line")
        board = Board(sheet_plan, (), ((),) * len(sheet_plan.tiles), Ground()).carrying(tile, (line,))
        assert board.own[0] == (line,)
        box_ = min(a for a, _ in ends), min(b for _, b in ends), max(a for a, _ in ends), max(b for _, b in ends)
        assert board.ground.is_free_box(*box_, gap=0.1) is not counts, ends
        ignoring = board.ignoring(())  # its ground is made again, with the seams
        assert any(thing.kind != "seam" for thing in ignoring.ground.near(box_, 0.1)) is counts, ends


def test_the_names_of_the_sides_stay_3_mm_within_their_sheet() -> None:
    """The last sheet of a row shows its side's name as far out as it may be: 3 mm from the sheet's edge."""
    sheet_plan = _wide_plan()
    board, lacking = with_views(Board(sheet_plan, (), ((),) * len(sheet_plan.tiles), Ground()), (-1e4, -1e4, 1e4, 1e4))
    assert lacking == 0
    boxes = [side.box for mark in board.drawing for side in things_of(mark)]
    for tile in sheet_plan.tiles:
        left, bottom, right, top = tile.core
        here = [box_ for box_ in boxes if left < (box_[0] + box_[2]) / 2 < right and bottom < box_[1] < top]
        assert min(box_[0] for box_ in here) == pytest.approx(left + 3.0, abs=0.5)
        assert max(box_[2] for box_ in here) == pytest.approx(right - 3.0, abs=0.5)
        assert max(box_[2] for box_ in here) <= right - 3.0 + 1e-6


def test_the_line_to_cut_runs_through_the_waste_of_the_sheet_that_is_cut_too() -> None:
    """A level seam's line begins at the sheet's edge at port; further to starboard it begins in the waste, 5 mm before."""
    sheet_plan = _wide_plan()
    by_place = {(tile.row, tile.column): tile for tile in sheet_plan.tiles}
    starts = []
    for column in range(sheet_plan.columns):
        under, over = by_place[0, column], by_place[1, column]
        seam = Seam(under, over, (over.core[0], over.core[3]), (over.core[2], over.core[3]))
        (line,) = [mark for mark in seam_marks(seam, sheet_plan)[1] if isinstance(mark, Line)]
        starts.append(line.a[0] - over.core[0])
    assert starts == pytest.approx([0.0, *[-WASTE] * (sheet_plan.columns - 1)])
    upright = Seam(by_place[0, 0], by_place[0, 1], (by_place[0, 1].core[0], -200.0), (by_place[0, 1].core[0], 0.0))
    (line,) = [mark for mark in seam_marks(upright, sheet_plan)[1] if isinstance(mark, Line)]
    assert line.a[1] == pytest.approx(-200.0 - STRIP)
