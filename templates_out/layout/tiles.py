"""Dividing a drawing among sheets of paper: as few as can be, with no seam near what it would spoil.

Drawing coordinates are the face's, across to starboard and up [mm on paper]. Page coordinates count from the lower
left corner of a page. A page's place is drawing + offset.
"""

from __future__ import annotations

import string
from collections.abc import Sequence

import msgspec

from geometry.errors import OwnerError
from geometry.tables.papers import LONGEST_ROLL, Paper
from templates_out.drawing.clipping import Rect

FLAP = 38.0  # above the datum, to fold back
STRIP = 12.0  # how far a sheet runs on past its seam, under the next one
WASTE = 5.0  # what is cut off the next one
OUTER, OUTER_RIGHT = 28.0, 33.0  # the columns along the outer edges: bar, arrow, map
WORDS = 75.0  # next to the drawing, where the sheet is as large as it has to be
ONE_SHEET = "one sheet"
FOOT = 49.0  # under the drawing, on the bottom row: bar, title, view line
CLOSE_FOOT = 36.0  # the same where the drawing comes down next to the view line

Span = tuple[float, float]


class Needs(msgspec.Struct, frozen=True):
    """The needs of a drawing from its sheets.

    Attributes:
        across: least and greatest u that have to be on paper [mm].
        down: how far below the datum they have to reach [mm].
        no_seam_across, no_seam_down: open spans of u, and of depth below the datum, where no seam may run.
        foot: height kept free at the foot of the bottom row; bare: the same where there is but one row [mm].
        openings: whether the openings for cables and hoses are on paper.
    """

    across: Span
    down: float
    no_seam_across: tuple[Span, ...]
    no_seam_down: tuple[Span, ...]
    foot: float = FOOT
    bare: float = 4.0
    openings: bool = True


class Tile(msgspec.Struct, frozen=True):
    """One sheet's part of the drawing.

    Attributes:
        letter: its name in the set. row, column: from 0, from the top and from port.
        core: what it alone shows, in drawing coordinates; outer sides run to the page's margin.
        shown: the core and the strips that run on under its neighbours.
        offset: from drawing to page coordinates.
    """

    letter: str
    row: int
    column: int
    core: Rect
    shown: Rect
    offset: tuple[float, float]


class Plan(msgspec.Struct, frozen=True):
    """The way in which the drawing is laid on paper.

    Attributes:
        paper: its name. orientation: "portrait", "landscape", "roll", "roll, turned" or "one sheet".
        width, height: of each page [mm]. margin: that the printer leaves.
        seams_across: u of the upright seams. seams_down: v of the level seams.
        tiles: row by row from the top, each from port.
    """

    paper: str
    orientation: str
    width: float
    height: float
    margin: float
    seams_across: tuple[float, ...]
    seams_down: tuple[float, ...]
    tiles: tuple[Tile, ...]

    @property
    def columns(self) -> int:
        """Number of sheets next to each other."""
        return len(self.seams_across) + 1

    @property
    def rows(self) -> int:
        """Number of sheets above each other."""
        return len(self.seams_down) + 1


def seams(span: Span, first: float, middle: float, last: float, barred: Sequence[Span], most: int = 40) -> list[float]:
    """Return the fewest seams that cover ``span``, each as far along as it may be.

    Taking the furthest place each time needs the fewest: from a further seam everything is reachable that was
    reachable from a nearer one.

    Args:
        span: low and high end [mm].
        first, middle, last: what the first sheet, one between two seams, and the last can hold [mm].
        barred: open spans where no seam may be.
        most: give up beyond this many.

    Raises:
        OwnerError: no number of sheets will do.
    """
    low, high = span
    placed: list[float] = []
    at, room = low, first
    while high - at > last + 1e-9:
        seam = _free(at + room, barred)
        if seam - at < 20.0 or len(placed) >= most:
            raise OwnerError("The paper is too small: no seam keeps clear of the holes. Choose a larger paper.")
        placed.append(seam)
        at, room = seam, middle
    return placed


def evened(
    latest: Sequence[float], span: Span, first: float, middle: float, last: float, barred: Sequence[Span]
) -> list[float]:
    """Return as many seams as were found, moved toward equal parts as far as capacities and barred spans let them.

    One seam alone stays: the further it runs, the wider the last sheet's outer strip.
    """
    low, high = span
    count = len(latest)
    if count < 2:
        return list(latest)
    earliest = [high - last]
    for _ in range(count - 1):
        earliest.insert(0, _free_up(earliest[0], barred) - middle)
    even: list[float] = []
    at, room = low, first
    for index in range(count):
        least, most = _free_up(max(earliest[index], at + 20.0), barred), min(_free(at + room, barred), latest[index])
        wanted = min(max(low + (index + 1) * (high - low) / (count + 1), least), most)
        down, up = _free(wanted, barred), _free_up(wanted, barred)
        at = down if down >= least and (wanted - down <= up - wanted or up > most) else min(up, most)
        even.append(at)
        room = middle
    return even


def _free_up(at: float, barred: Sequence[Span]) -> float:
    """Return the least place from ``at`` on that is in no barred span."""
    return -_free(-at, [(-high, -low) for low, high in barred])


def _free(at: float, barred: Sequence[Span]) -> float:
    """Return the greatest place up to ``at`` that is in no barred span."""
    while True:
        inside = [low for low, high in barred if low + 1e-9 < at < high - 1e-9]
        if not inside:
            return at
        at = min(inside)


def plan(
    needs: Needs, paper: Paper, margin: float, first_letter: int = 0, back: float = 0.0, turned: str | None = None
) -> Plan:
    """Return how the drawing is laid on ``paper``: the orientation with fewer sheets, then with the wider outer strip.

    Args:
        needs: of the drawing.
        paper: to print on; a roll is cut as long as it has to be.
        margin: what the printer leaves free along each edge [mm].
        first_letter: of the first sheet, from 0.
        back: how much nearer than they might the first seams are to run [mm], for another try.
        turned: "portrait" or "landscape"; None: whichever takes fewer sheets. A roll is as it is.

    Raises:
        OwnerError: the paper is too small, the margin too wide, or a roll would have to be too long.
    """
    plans = []
    refused = None
    for width, height, orientation in _pages(needs, paper, margin):
        if turned is not None and orientation != turned and (not paper.roll or turned.startswith("roll")):
            continue
        try:
            plans.append(_plan(needs, paper, width, height, margin, orientation, first_letter, back))
        except OwnerError as error:
            refused = error
    if not plans:
        raise refused or OwnerError("The paper is too small for this drawing. Choose a larger one.")

    def worth(candidate: Plan) -> tuple[float, float, float]:
        return len(candidate.tiles), candidate.width * candidate.height, -_right_strip(candidate, needs)

    return min(plans, key=worth)


def _pages(needs: Needs, paper: Paper, margin: float) -> list[tuple[float, float, str]]:
    """Return the widths, heights and orientations to try; a roll is as long as it has to be."""
    if paper.height is not None:
        return [(paper.width, paper.height, "portrait"), (paper.height, paper.width, "landscape")]
    tall = needs.down + FLAP + needs.bare + 2 * margin
    wide = needs.across[1] - needs.across[0] + OUTER + OUTER_RIGHT + 2 * margin
    if not paper.width:
        return [(wide + WORDS, max(tall, 300.0), ONE_SHEET)]
    pages = [(paper.width, max(tall, 300.0), "roll"), (max(wide, 300.0), paper.width, "roll, turned")]
    short = [page for page in pages if max(page[:2]) <= LONGEST_ROLL]
    if not short:
        raise OwnerError(f"The sheet would be {min(tall, wide):.0f} mm long; a roll takes 5080 mm. Choose another paper.")
    return short


def _plan(
    needs: Needs,
    paper: Paper,
    width: float,
    height: float,
    margin: float,
    orientation: str,
    first_letter: int,
    back: float,
) -> Plan:
    inner_width, inner_height = width - 2 * margin, height - 2 * margin
    if min(inner_width, inner_height) < 170.0:
        raise OwnerError(
            f"A margin of {margin:g} mm leaves too little of the paper. Choose a larger paper or a smaller margin."
        )
    low, high = needs.across
    across: list[float] = []
    if high - low > inner_width - OUTER - 8.0 + 1e-9:
        holds = inner_width - OUTER - STRIP - back, inner_width - WASTE - STRIP, inner_width - WASTE - OUTER_RIGHT
        across = seams((low, high), *holds, needs.no_seam_across)
        across = evened(across, (low, high), *holds, needs.no_seam_across)
    down: list[float] = []
    if needs.down > inner_height - FLAP - needs.bare + 1e-9:
        down = seams(
            (0.0, needs.down), inner_height - FLAP - STRIP - back, inner_height - WASTE - STRIP,
            inner_height - WASTE - needs.foot, needs.no_seam_down,
        )  # fmt: skip
    tiles = tuple(
        _tile(row, column, across, down, needs, width, height, margin, first_letter)
        for row in range(len(down) + 1)
        for column in range(len(across) + 1)
    )
    return Plan(paper.name, orientation, width, height, margin, tuple(across), tuple(-depth for depth in down), tiles)


def _tile(
    row: int, column: int, across: list[float], down: list[float], needs: Needs, width: float, height: float,
    margin: float, first_letter: int,
) -> Tile:  # fmt: skip
    columns, rows = len(across) + 1, len(down) + 1
    if column == 0:  # the seam at the page's right; without one the drawing is in the middle of what is left
        spare = width - 2 * margin - OUTER - (needs.across[1] - needs.across[0])
        dx = width - margin - STRIP - across[0] if across else margin + OUTER + min(spare / 2, 20.0) - needs.across[0]
    else:
        dx = margin + WASTE - across[column - 1]
    dy = height - margin - (FLAP if row == 0 else WASTE - down[row - 1])
    left = across[column - 1] if column else margin - dx
    right = across[column] if column < columns - 1 else width - margin - dx
    top = -down[row - 1] if row else height - margin - dy
    bottom = -down[row] if row < rows - 1 else margin - dy
    shown = (
        left,
        bottom - STRIP if row < rows - 1 else bottom,
        right + STRIP if column < columns - 1 else right,
        top,
    )
    return Tile(letter(first_letter + row * columns + column), row, column, (left, bottom, right, top), shown, (dx, dy))


def letter(number: int) -> str:
    """Return a sheet's name: A to Z, then AA, AB …"""
    rest, index = divmod(number, 26)
    return (letter(rest - 1) if rest else "") + string.ascii_uppercase[index]


def _right_strip(candidate: Plan, needs: Needs) -> float:
    last = candidate.tiles[candidate.columns - 1]
    return last.core[2] - needs.across[1]
