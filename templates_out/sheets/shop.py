"""The shop sheet: for the bench and the boat, what is drilled where, what was checked, what to buy, what to do.

Portrait pages, pictures not to scale. One page of pictures and places for each motor, one of checks and of what to
buy, one of cautions and of the work in order.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from geometry.design.design_text import fingerprint
from geometry.judge.findings import Checked
from geometry.tables.papers import paper as paper_named
from templates_out.drawing.clipping import clip
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Mark, Page, Text
from templates_out.sheets import shop_words as says
from templates_out.sheets.blocks import band, band_height
from templates_out.sheets.pens import PT, shortened, width_of
from templates_out.sheets.portrait import BODY, MARGIN, ROW, SUBHEAD, TITLE, Sheet, Writing
from templates_out.sheets.shop_pictures import column_height, cut_picture, face_picture, hole_column, side_to_show
from templates_out.sheets.shop_work import CAUTIONS, work
from templates_out.sheets.why_not import why_not
from templates_out.views.cut import cut_rect, cut_title
from templates_out.views.detail import cut_with_detail
from templates_out.views.face import face_marks
from templates_out.views.sight import Sight
from templates_out.views.viewport import fit, work_rect

ANSWER = 10.5 * PT
PICTURES = 76.0  # mm: height of both pictures
CHECK_HEADS, CHECK_COLUMNS = ("state", "what was found", "limits"), (0.0, 0.09, 0.76)
NOT_TO_SCALE = "pictures not to scale"


def shop_pages(checked: Checked, date: datetime.date, paper: str = "letter") -> tuple[Page, ...]:
    """Return the shop sheet: a page for each motor, one of checks, one of the work.

    Raises:
        OwnerError: there is no such paper.
    """
    sheet = Sheet(checked.design, date, paper_named(paper))
    motors = max(1, len(checked.design.mounts))
    pages = [
        *(_places(checked, sheet, index) for index in range(motors)), *_checks(checked, sheet), _work(checked, sheet)
    ]  # fmt: skip
    return tuple(
        sheet.page(page.beside(sheet.numbered(number, len(pages))), f"Shop {number}")
        for number, page in enumerate(pages, start=1)
    )


def _begun(checked: Checked, sheet: Sheet, title: str, about: str) -> Writing:
    """Return a page with its head, and the band where nobody may drill by it."""
    begun = Writing(*sheet.headed(title, about))
    reason = why_not(checked)
    if reason is None:
        return begun
    high = band_height(reason, sheet.room)
    return begun.beside(band((sheet.left, begun.y - high, sheet.right, begun.y), reason), begun.y - high - 3.0)


def _places(checked: Checked, sheet: Sheet, index: int) -> Writing:
    """The answer, both pictures, the bracket's holes and the table of holes of one motor."""
    design = checked.design
    mount = design.mounts[index] if index < len(design.mounts) else None
    several = len(design.mounts) > 1 and mount is not None
    title = f"Shop sheet: {writable(mount.name)}" if several and mount is not None else "Shop sheet"
    page = _begun(checked, sheet, shortened(title, TITLE, sheet.room - 30.0, bold=True), NOT_TO_SCALE)
    page = page.then(sheet.paragraph, says.answer(design), ANSWER, bold=True, condensed=False)
    page = page.then(lambda y: sheet.paragraph(y - 1.0, says.why(checked)))
    page = page.beside(_pictures(checked, sheet, index, page.y - 2.0), page.y - 2.0 - 6.0 - PICTURES)
    if mount is not None and mount.bracket.rows is not None:
        page = page.then(sheet.heading, "The bracket’s upper holes, either side", SUBHEAD)
        page = page.beside(hole_column(mount, (sheet.left + 4.0, page.y)), page.y - column_height(mount))
    rows = says.hole_rows(design, index)
    if rows:
        page = page.then(sheet.heading, "The holes")
        page = page.then(sheet.table, says.HOLE_HEADS, rows, sheet.columns(says.HOLE_HEADS, rows))
        page = page.then(sheet.paragraph, says.centre_checks(design, index))
        page = page.then(sheet.paragraph, says.edge_words(design))
    return page


def _pictures(checked: Checked, sheet: Sheet, index: int, top: float) -> Iterator[Mark]:
    """Face at left, cut at right, each under its name."""
    side = side_to_show(checked, index)
    middle = sheet.left + 0.54 * sheet.room
    bolted = bool(says.hole_rows(checked.design, index))
    base = top - 0.9 * SUBHEAD
    yield Text((sheet.left, base), "The face, seen from astern", SUBHEAD, bold=True, condensed=True)
    yield Text((middle + 4.0, base), cut_title(side, bolted=bolted), SUBHEAD, bold=True, condensed=True)
    yield Text((sheet.right, base), "seen from starboard", ROW, condensed=True, anchor="end")
    foot, head = top - 6.0 - PICTURES, top - 6.0
    yield from face_picture(checked, index, (sheet.left, foot, middle, head))
    yield from cut_picture(checked, side, index, (middle + 4.0, foot, sheet.right, head))


def _checks(checked: Checked, sheet: Sheet) -> list[Writing]:
    """What to buy, and what was checked, worst first: as many pages as that takes."""
    page = _begun(checked, sheet, "Shop sheet: what to buy, what was checked", "worst first")
    bought = says.to_buy(checked.design)
    if bought:
        page = page.then(sheet.heading, "To buy")
    for count, what in bought:
        page = page.then(sheet.ticked, what, count=str(count))
    for drills in says.stages(checked.design):
        what = f"each: drills {drills}; thread lubricant as the manual names; masking tape"
        page = page.then(sheet.ticked, what, count="1")
    rows = [(state, f"{text} {cure}" if state != "note" else text, limits)
            for state, text, cure, limits in says.checks(checked)]  # fmt: skip
    pages: list[Writing] = []
    while True:
        page = page.then(sheet.heading, "What was checked" if not pages else "What was checked, continued")
        shown = len(rows)
        while shown > 1 and sheet.table(page.y, CHECK_HEADS, rows[:shown], CHECK_COLUMNS)[1] < MARGIN:
            shown -= 1
        pages.append(page.then(sheet.table, CHECK_HEADS, rows[:shown], CHECK_COLUMNS))
        rows = rows[shown:]
        if not rows:
            return pages
        page = _begun(checked, sheet, "Shop sheet: what was checked", "worst first")


def _work(checked: Checked, sheet: Sheet) -> Writing:
    """Cautions, then the work in order with its gates."""
    page = _begun(checked, sheet, "Shop sheet: the work", "tick as you go")
    page = page.then(sheet.heading, "Cautions")
    for caution in CAUTIONS:
        page = page.then(sheet.paragraph, caution)
        page = page.beside((), page.y - 0.8)
    page = page.then(sheet.heading, "The work, in order")
    for step, (what, gate) in enumerate(work(checked.design), start=1):
        page = page.then(sheet.ticked, what, number=str(step))
        if gate:
            page = page.then(sheet.gate, gate)
    return page


FACE_SIZE, CUT_SIZE = (240.0, 180.0), (180.0, 150.0)  # mm: pages of the pictures
_HEAD = 12.0


def view_pages(checked: Checked, mount: int = 0) -> tuple[Page, Page]:
    """Return the face and the cut, each alone on a page, for pictures."""
    side = side_to_show(checked, mount)
    face, cut = (FACE_SIZE[0], FACE_SIZE[1] - _HEAD), (CUT_SIZE[0], CUT_SIZE[1] - _HEAD)
    face_view = fit(work_rect(checked.design), *face)
    cut_view = fit(cut_rect(checked.design, side, mount), *cut, 4.0)
    sight = Sight(mount=mount, text=3.4)
    bolted = bool(says.hole_rows(checked.design, mount))
    return (
        _picture(checked, FACE_SIZE, "The face, seen from astern", face_marks(checked, face_view, sight, "paper")),
        _picture(
            checked, CUT_SIZE, f"{cut_title(side, bolted=bolted)}, seen from starboard",
            cut_with_detail(checked, cut_view, side, mount, sight, "paper"),
        ),
    )  # fmt: skip


def _picture(checked: Checked, size: tuple[float, float], title: str, marks: tuple[Mark, ...]) -> Page:
    width, height = size
    head = Text((4.0, height - 7.5), title, 4.2, bold=True)
    room = width - width_of(head) - 16.0
    whose = shortened(f"{writable(checked.design.name)}  ·  design {fingerprint(checked.design)}", BODY, room)
    name = Text((width - 4.0, height - 7.5), whose, BODY, "soft", anchor="end")
    return Page(width, height, (*clip(marks, (0.0, 0.0, width, height - _HEAD)), head, name), title)
