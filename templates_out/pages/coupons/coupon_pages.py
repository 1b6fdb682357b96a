"""Coupons to cut out and try in the well: washers, sockets and nuts at their real size, and cards for the corner radius."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import msgspec

from geometry.errors import OwnerError
from geometry.readings.measures import name_of
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.tables.papers import paper as paper_named
from geometry.units.trade_words import in_trade_words
from geometry.units.units import Unit, format_length
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.marks import Arc, Circle, Line, Mark, Page, Path, Text
from templates_out.drawing.sheet_pens import PT, width_of, words
from templates_out.faces.on_face import PILOT
from templates_out.faces.sheet_refusals import no_bolts, not_known
from templates_out.layout.full_scale import FullScale, full_scale, stretched
from templates_out.layout.reading_pages import BODY, HEAD, SUBHEAD, Sheet, Writing

if TYPE_CHECKING:
    from geometry.design.design import Design
    from templates_out.drawing.marks import Point
    from templates_out.drawing.printer import Printing, Stretch

DOT = 0.8  # across: an awl goes through it
RADII = ((3, 5, 6, 8), (10, 12, 15, 20), (25, 40, 30, 35))  # mm: of each card, from its lower left corner anticlockwise
SIDES = (36.0, 45.0, 70.0)  # mm: of the cards
_BETWEEN = 5.0  # mm: between coupons, and between cards
_UNDER = 7 * PT
_DRAWN_FROM = (
    "washer.outer", "washer.inner", "washer.flat_cut", "hole", "nut_sizes.flats", "nut_sizes.corners", "head_sizes.flats",
    "head_sizes.corners", "socket.outer", "spanner.outer",
)  # fmt: skip
"""Sizes of a bolt's hardware that the coupons are drawn from."""


class Coupon(msgspec.Struct, frozen=True):
    """Something to cut out.

    Attributes:
        kind: "washer", "pin card", "socket", "nut" or "head". radius: half its outside, of a hexagon half its corners [mm].
        bore: of its hole, 0 without [mm]. cut: where its lower side is cut flat, below its centre; inf: nowhere.
        name, about: two lines under it.
    """

    kind: str
    radius: float
    bore: float
    cut: float
    name: str
    about: str


def coupon_pages(design: Design, printing: Printing) -> tuple[Page, ...]:
    """Return the coupons of a design, and the corner radius cards: one page, or two where the hardware is of many kinds.

    Raises:
        OwnerError: there are no bolts, a size is not known, or the paper or its margin will not do.
    """
    try:
        made = coupons(design)
    except Unmeasured as missing:
        raise not_known(design, "The coupons", missing) from missing
    if not made:
        raise no_bolts(design, "there is no washer to try in the well")
    sheet = Sheet(design, printing.date, paper_named(printing.paper))
    for count in (1, 2):
        pages = _pages(sheet, made, count, printing.correction.on("portrait"), printing.margin)
        if pages is not None:
            return pages
    raise OwnerError("There are too many kinds of hardware for two pages of coupons. Choose a larger paper.")


def coupons(design: Design) -> tuple[Coupon, ...]:
    """Return one coupon of each kind in the design: washers, washers cut flat, cards to centre them on a pin, sockets, nuts.

    Raises:
        Unmeasured: a size is not known.
    """
    unit, every = design.units, bolts(design)
    made = dict.fromkeys(coupon for bolt in every for coupon in _of(bolt, unit))
    order = ("washer", "pin card", "socket", "nut", "head")
    return tuple(sorted(made, key=lambda coupon: (order.index(coupon.kind), -coupon.radius, math.isfinite(coupon.cut))))


def _of(bolt: Bolt, unit: Unit) -> Iterator[Coupon]:
    disc, bore = bolt.washer_disc, bolt.hole
    if bolt.hardware.washer.inner is not None:
        bore = bolt.hardware.washer.inner
    nut, socket = bolt.body("nut"), bolt.body("socket")
    if nut is None:
        raise TypeError("every bolt has a nut or a head inside")
    size, other = _size(2 * disc.radius, unit), _other(2 * disc.radius, unit)
    yield Coupon("washer", disc.radius, bore, math.inf, f"washer {size}", f"{other} across")
    cut = disc.cut if disc.is_cut else least_cut(nut.shape.radius, unit)
    if cut < disc.radius - 0.5:
        yield Coupon("washer", disc.radius, bore, cut, "same washer, cut flat", f"flat {_size(cut, unit)} below its centre")
    if not bolt.upper:
        yield Coupon("pin card", bore / 2, PILOT[unit], math.inf, "pin card", f"{_size(PILOT[unit], unit)} hole")
    if socket is not None:
        tool = "socket" if bolt.hardware.socket is not None else in_trade_words("ring spanner", unit)
        across = _size(2 * socket.shape.radius, unit)
        yield Coupon("socket", socket.shape.radius, 0.0, math.inf, f"{tool} {across}", "draw around yours")
    kind = "head" if bolt.from_inside else "nut"
    flats = bolt.hardware.inside_hexagon.flats
    name = kind if flats is None else f"{kind} {_size(flats, unit)}"
    yield Coupon(
        kind, nut.shape.radius, bolt.thread.diameter, math.inf, name, f"{_other(2 * nut.shape.radius, unit)} over corners"
    )


def least_cut(corners: float, unit: Unit) -> float:
    """Return how far from its centre a washer may be cut flat at most: past the nut's corners, in a round size [mm].

    Args:
        corners: half across the nut's corners [mm]. unit: the person's: 1/32 in or 0.5 mm steps.
    """
    step = 25.4 / 32 if unit == "in" else 0.5
    return math.ceil(corners / step - 1e-9) * step


def _size(mm: float, unit: Unit) -> str:
    return format_length(mm, unit, denominator=64, style="paper")


def _other(mm: float, unit: Unit) -> str:
    return f"{mm:.1f} mm" if unit == "in" else format_length(mm, "in", denominator=64, style="paper")


def coupon_marks(coupon: Coupon, at: Point) -> tuple[Mark, ...]:
    """Return a coupon about its centre: outline, hole, cross and the dot for an awl."""
    (x, y), r, part = at, coupon.radius, coupon.kind
    low, high = -min(r, coupon.cut), r
    if coupon.kind in ("nut", "head"):
        turns = [math.radians(60 * k) for k in range(6)]
        low, high = -r * math.sin(math.radians(60)), r * math.sin(math.radians(60))
        marks: list[Mark] = [Path(tuple((x + r * math.cos(a), y + r * math.sin(a)) for a in turns), True, pens.EDGE, part=part)]
    elif coupon.cut < r:
        half = math.sqrt(r * r - coupon.cut**2)
        start = math.degrees(math.atan2(-coupon.cut, half))
        marks = [
            Arc(at, r, start, 180.0 - start, pens.EDGE, part),
            Line((x - half, y - coupon.cut), (x + half, y - coupon.cut), pens.EDGE, part),
        ]
    else:
        marks = [Circle(at, r, pens.EDGE, part=part)]
    if coupon.bore:
        marks.append(Circle(at, coupon.bore / 2, pens.SEAM, part=f"{part} / hole"))
    return (
        *marks,
        Line((x - r, y), (x + r, y), pens.FINE, part),
        Line((x, y + low), (x, y + high), pens.FINE, part),
        Circle(at, DOT / 2, None, "ink", part),
    )


def card_marks(radii: tuple[int, int, int, int], side: float, foot: Point) -> tuple[Mark, ...]:
    """Return a card's outline with its lower left corner at ``foot``, and each corner's radius inside it."""
    (x, y), part = foot, "corner card"
    a, b, c, d = radii
    corners = (
        (a, (x + a, y + a), 180.0, (1, 1), (x, y)), (b, (x + side - b, y + b), 270.0, (-1, 1), (x + side, y)),
        (c, (x + side - c, y + side - c), 0.0, (-1, -1), (x + side, y + side)),
        (d, (x + d, y + side - d), 90.0, (1, -1), (x, y + side)),
    )  # fmt: skip
    marks: list[Mark] = [
        Line((x + a, y), (x + side - b, y), pens.EDGE, part),
        Line((x + side, y + b), (x + side, y + side - c), pens.EDGE, part),
        Line((x + side - c, y + side), (x + d, y + side), pens.EDGE, part),
        Line((x, y + side - d), (x, y + a), pens.EDGE, part),
    ]
    for radius, centre, start, (dx, dy), corner in corners:
        marks.append(Arc(centre, radius, start, start + 90.0, pens.EDGE, part))
        inset = 0.3 * radius + 8.5
        place = (corner[0] + dx * inset, corner[1] + dy * inset)
        marks.append(Text(place, f"{radius}", HEAD, bold=True, anchor="middle", part=part))
        inches = format_length(radius, "in", style="paper")
        marks.append(words((place[0], place[1] - 3.6), inches, _UNDER, anchor="middle", part=part))
    return tuple(marks)


def _pages(sheet: Sheet, made: tuple[Coupon, ...], count: int, stretch: Stretch, margin: float) -> tuple[Page, ...] | None:
    """Return all on ``count`` pages, None where it does not fit."""
    titles = ("Coupons to try in the well", "Corner radius cards to try in the well")
    begun = [full_scale(sheet, title, index + 1, count, stretch, margin) for index, title in enumerate(titles[:count])]
    first = _trying(sheet, begun[0], made, stretch)
    rest = begun[-1] if count > 1 else msgspec.structs.replace(begun[0], writing=first)
    last = _reading(sheet, rest, _cards(sheet, rest, stretch))
    if first.y < begun[0].foot or last.y < rest.foot:
        return None
    written = (first, last) if count > 1 else (last,)
    return tuple(sheet.page(page, f"Coupons {index}") for index, page in enumerate(written, start=1))


def _trying(sheet: Sheet, begun: FullScale, made: tuple[Coupon, ...], stretch: Stretch) -> Writing:
    """Return how to use the coupons, and the coupons in rows."""
    page = begun.writing.then(
        sheet.paragraph,
        "Glue this page to thin card. Cut along the middle of the heavy lines. Slide each washer down the inner face under the "
        "place of a lower bolt until it rocks: its lower edge has left the flat land. Mark its centre through the dot. Measure "
        "from the inside top edge down to the mark. The shop sheet says how far below that edge each lower bolt comes out. If "
        "a bolt comes out lower than its mark, stop. Raise the lower bolts. Try nut and socket at the mark, too. The washer on "
        "a pin: put a pin in a lower pilot, and centre the real washer on it with a pin card. If the washer does not sit flat, "
        "with room to move a little towards the floor, stop.",
        right=begun.right,
    )  # fmt: skip
    guessed = guesses(sheet.design)
    if guessed:
        warning = f"Made from guesses: {'; '.join(guessed)}. Try them only. Measure your own parts before you buy or drill."
        page = page.then(lambda y: sheet.paragraph(y - 1.5, warning, bold=True, right=begun.right))
    row: list[Coupon] = []
    rows = [row]
    for coupon in made:
        if sum(map(_wide, (*row, coupon))) + _BETWEEN * len(row) > begun.right - sheet.left:
            row = []
            rows.append(row)
        row.append(coupon)
    for row in rows:
        spare = begun.right - sheet.left - sum(map(_wide, row))
        gap = min(spare / max(1, len(row) - 1), 14.0)
        high = max(coupon.radius for coupon in row)
        x, y = sheet.left, page.y - 3.5 - high
        for coupon in row:
            at = (x + _wide(coupon) / 2, y)
            page = page.with_marks(stretched(coupon_marks(coupon, at), stretch, at))
            page = page.with_marks((
                words((at[0], y - high - 5.6), coupon.name, SUBHEAD, bold=True, anchor="middle"),
                words((at[0], y - high - 9.4), coupon.about, 8 * PT, anchor="middle"),
            ))  # fmt: skip
            x += _wide(coupon) + gap
        page = page.with_marks((), y - high - 12.0)
    return page


def guesses(design: Design) -> list[str]:
    """Return the names of the guessed sizes that the coupons are drawn from."""
    keys = dict.fromkeys(bolt.hardware_key(size) for bolt in bolts(design) for size in _DRAWN_FROM)
    return [name_of(design, key) for key, reading in design.readings.items() if reading.state == "guess" and key in keys]


def _wide(coupon: Coupon) -> float:
    texts = words((0, 0), coupon.name, SUBHEAD, bold=True), words((0, 0), coupon.about, 8 * PT)
    return max(2 * coupon.radius, *map(width_of, texts))


def _cards(sheet: Sheet, begun: FullScale, stretch: Stretch) -> Writing:
    page = begun.writing.then(lambda y: sheet.heading(y - 6.0, "Corner radius cards")).then(
        sheet.paragraph,
        "Push a corner into the well’s corner, square to the floor. Look at the arc alone: few wells meet the wood at a right "
        "angle. If light shows under the middle of the arc, try the next smaller. If it shows at both ends, try the next "
        "larger. The large figures are in mm, with inches below.",
        right=begun.right,
    )  # fmt: skip
    top = page.y - 5.0
    gap = min((begun.right - sheet.left - sum(SIDES)) / 2, 12.0)
    x = sheet.left
    for radii, side in zip(RADII, SIDES, strict=True):
        foot = (x, top - side)
        page = page.with_marks(stretched(card_marks(radii, side, foot), stretch, foot))
        x += side + gap
    return page.with_marks((), top - max(SIDES) * stretch.up - 1.0)


def _reading(sheet: Sheet, begun: FullScale, page: Writing) -> Writing:
    """Return blanks for the readings of the coupons. Each has an entry in the program."""
    unit = sheet.design.units
    page = page.then(lambda y: sheet.heading(y - 4.0, "Write here", SUBHEAD))
    for text in (
        f"corner radius, the larger of port and starboard ({unit})",
        f"socket: outside diameter, length with the drive ({unit})",
    ):
        y = page.y - 5.2
        blank = Line((begun.right - 42.0, y - 0.8), (begun.right, y - 0.8), pens.FINE)
        page = page.with_marks((words((sheet.left, y), text, BODY), blank), y - 1.2)
    return page
