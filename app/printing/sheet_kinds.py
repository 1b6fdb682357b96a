"""Every kind of sheet, one record each: the window, the command line, the manual and the tests read it here.

To add a sheet, add a record here, and the function that makes its pages.
That function imports the pages when it is called.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec
from msgspec.structs import replace

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Page
    from templates_out.drawing.printer import Printing

    Pages = Callable[[Checked, Printing], tuple[Page, ...]]
    Svgs = Callable[[Checked, Printing], Iterator[tuple[str, str]]]

Order = Literal["as taped", "like the template", "in a row"]
"""How the pages of a sheet are shown next to each other."""
BOUND = ("letter", "legal", "a4")
"""The papers that a binder takes."""


def usual_paper(design: Design) -> str:
    """Return the paper that is at hand where lengths are measured as in ``design``."""
    return "letter" if design.units == "in" else "a4"


def has_plate(design: Design) -> bool:
    """Return whether there is a backing plate to be made."""
    pairs = ((mount.upper_hardware, mount.lower_hardware) for mount in design.mounts)
    return any(hardware is not None and hardware.backing_plate is not None for pair in pairs for hardware in pair)


def is_bolted(design: Design) -> bool:
    """Return whether a motor is bolted on, so that there are holes to record."""
    return any(mount.bracket.rows is not None for mount in design.mounts)


def _always(_: Design) -> bool:
    return True


class SheetKind(msgspec.Struct, frozen=True, kw_only=True):
    """One kind of sheet, for all of the program.

    Attributes:
        key: its name in the print options.
        title: its name in the window. what: the same inside a sentence.
        says: what it is for, one or two sentences in the manual.
        command: the word of its command. does: what its command does, for the command's help.
        pages: makes its pages. svgs: makes its drawings for a cutter, each with a name; None where it has none.
        there: whether a design has anything to draw on it.
        chosen: whether it is made where nobody has chosen the sheets.
        stamped: whether a person works by it. It says NOT TO BE DRILLED, with the reason, where the answer is no.
        full_scale: whether it is measured on the paper, so that a correction of the printer matters.
        bound: whether it goes on a paper that a binder takes, even where the template goes on another.
        order: how its pages are shown next to each other.
        menu: its own entry in the menu of the sheets, for a sheet that is wanted before the others; "" for none. icon: of that.
        finds_correction: whether it finds out what a printer is off, and so needs no correction itself.
        takes_bars: whether its command takes what the bars of the last print measured.
        behind: the sheets that its command adds behind it, each where its key is given, such as --inside.
    """

    key: str
    title: str
    what: str
    says: str
    command: str
    does: str
    pages: Pages
    svgs: Svgs | None = None
    there: Callable[[Design], bool] = _always
    chosen: bool = False
    stamped: bool = True
    full_scale: bool = True
    bound: bool = False
    order: Order = "in a row"
    menu: str = ""
    icon: str = ""
    finds_correction: bool = False
    takes_bars: bool = False
    behind: tuple[str, ...] = ()


def _template(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    from templates_out.pages.template.template_pages import template_pages

    return template_pages(checked, printing)


def _inside(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    from templates_out.pages.inside.inside_pages import inside_pages

    return inside_pages(checked, printing)


def _shop(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    from templates_out.pages.shop.shop_pages import shop_pages

    return shop_pages(checked, printing.date, paper=printing.paper, template=printing.template or printing)


def _coupons(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    from templates_out.pages.coupons.coupon_pages import coupon_pages

    return coupon_pages(checked.design, printing)


def _gauge(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    from templates_out.pages.gauge.gauge_pages import gauge_pages

    return gauge_pages(checked, printing)


def _plate(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    from templates_out.pages.plate.plate_pages import plate_pages

    return plate_pages(checked, printing)


def _plate_svgs(checked: Checked, printing: Printing) -> Iterator[tuple[str, str]]:
    from templates_out.pages.plate.plate_pages import plate_svgs

    return iter(plate_svgs(checked, printing.date))


def _measuring(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    from templates_out.pages.measuring.measuring_pages import measuring_pages

    return measuring_pages(checked.design, printing.date, paper=printing.paper)


def _planning(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    from templates_out.pages.planning.planning_pages import planning_pages

    return planning_pages(checked, printing.date, paper=printing.paper)


def _record(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    from templates_out.pages.record.record_pages import record_pages

    return record_pages(checked, printing.date, paper=printing.paper)


def _bars(checked: Checked, printing: Printing) -> tuple[Page, ...]:
    from templates_out.pages.bars.bars_page import bars_page

    return (bars_page(checked, printing),)


def _svgs(name: str, make: Pages) -> Svgs:
    """Return what draws a sheet as SVG: the drawing first, and the page of words behind it."""

    def svgs(checked: Checked, printing: Printing) -> Iterator[tuple[str, str]]:
        from templates_out.drawing.svg import svg_text

        for number, page in enumerate(make(checked, printing)):
            yield f"{name}, to read" if number else name, svg_text(page)

    return svgs


_ALL = (
    SheetKind(
        key="template", title="Template", what="template", says="It goes on the outside of the transom.",
        command="template",
        does="Writes the full-scale paper template. P is letter, legal, tabloid, a4, a3, a2, roll24 or roll36. "
        "Without --paper it is letter for a boat in inches, and a4 for a boat in millimetres. "
        "M is the printer's unprintable margin. "
        "With --inside the sheets for the well's inner face follow, as seen looking aft. "
        "ACROSS and UP are the measured lengths of the two bars on sheet A of the last print. They are in the boat's unit, or "
        "have a unit. The new sheets are corrected by them. "
        "With --printer the correction is kept under that name, and used again where no bars are given. Bars given with "
        "--printer belong to a print corrected by it. Bars without --printer belong to a print without a correction. "
        "Where OUT ends with .svg, it is one sheet in millimetres, with the inside sheet in a second file.",
        pages=_template, svgs=_svgs("template", _template), chosen=True, order="as taped", takes_bars=True,
        behind=("inside",),
    ),
    SheetKind(
        key="inside", title="Inside sheet", what="inside sheet",
        says="It is the template’s mirror image, to hold up in the well. "
        "It shows where each bolt comes out, with washer, nut and socket.",
        command="inside",
        does="Writes the full-scale sheet for the well's inner face, as seen looking aft. Where OUT ends with .svg, it is one "
        "sheet in millimetres.",
        pages=_inside, svgs=_svgs("inside sheet", _inside), chosen=True, order="like the template",
    ),
    SheetKind(
        key="shop", title="Shop sheet", what="shop sheet",
        says="It has the hole table, the shopping list, the order of work and the torque.",
        command="sheet", does="Writes the shop sheet: holes, shopping list, order of work, torque.",
        pages=_shop, chosen=True, full_scale=False, bound=True,
    ),
    SheetKind(
        key="coupons", title="Coupons", what="coupons",
        says="They are washer, socket and corner cards at full size, to cut out and try in the well.",
        command="coupons",
        does="Writes washers, sockets, nuts and corner cards at their real size, to cut out and try in the well.",
        pages=_coupons, stamped=False, bound=True,
    ),
    SheetKind(
        key="gauge", title="Drill-angle gauge", what="gauge",
        says="It shows the drill’s angle. The guide block holds the drill at it.",
        command="gauge", does="Writes the drill-angle gauge and the drawing of a guide block, for each tilt in the design.",
        pages=_gauge, bound=True,
    ),
    SheetKind(
        key="plate", title="Backing plate", what="backing plate", says="It is the pattern of each backing plate, at full size.",
        command="plate",
        does="Writes the drawing of every backing plate at full scale. Where OUT ends with .svg, it is for a cutter, "
        "in millimetres.",
        pages=_plate, svgs=_plate_svgs, there=has_plate,
    ),
    SheetKind(
        key="measuring", title="Measuring sheet", what="measuring sheet",
        says="It comes before all of them, for the boat. It has each reading, how to take it, and a blank.",
        command="measure",
        does="Writes the measuring sheet: each reading, how to take it, and a blank to fill in at the boat.",
        pages=_measuring, stamped=False, full_scale=False, bound=True, menu="&Measuring sheet…", icon="measuring-sheet",
    ),
    SheetKind(
        key="planning", title="Planning page", what="planning page",
        says="It is one page, before you buy a motor. It has the shaft length, weight and trim, power and persons, and the "
        "room for cables and hoses.",
        command="planning",
        does="Writes the planning page, before a motor is bought: the shaft length, weight and trim, power and persons, and "
        "the room for cables and hoses.",
        pages=_planning, stamped=False, full_scale=False, bound=True, menu="&Planning page…", icon="measuring-sheet",
    ),
    SheetKind(
        key="record", title="Record for the next owner", what="record",
        says="It has the holes as drilled, plugs, bolts and torque, and what is under the sealant. It has a blank for each "
        "value that you have not entered.",
        command="record",
        does="Writes the record for the next owner: the holes as drilled next to the plan, plugs, torque, and what is under "
        "the sealant. It has blanks for what was not read.",
        pages=_record, there=is_bolted, stamped=False, full_scale=False, bound=True,
    ),
    SheetKind(
        key="bars", title="Bars and a grid", what="page of bars",
        says="It is one page. It shows how far off a printer is, before you print anything that matters.",
        command="bars",
        does="Writes a page of bars and a grid, to find out how far off the printer is before you print the template. "
        "Its bars are as long as those of the template's sheet A. Give their measured lengths after --bars.",
        pages=_bars, stamped=False, finds_correction=True,
    ),
)  # fmt: skip

SHEET_KINDS: dict[str, SheetKind] = {kind.key: kind for kind in _ALL}
"""Every kind of sheet by its key, in the order in which they are printed."""


def pages_of(kind: SheetKind, checked: Checked, printing: Printing) -> tuple[Page, ...]:
    """Return the pages of one kind by itself. A stamped sheet waits for the chances of the findings.

    Raises:
        OwnerError: there is nothing to draw, or one of its measurements is not known.
    """
    from geometry.doubt.spreads import with_spreads

    return kind.pages(with_spreads(checked) if kind.stamped else checked, printing)


def on_paper(kind: SheetKind, design: Design, printing: Printing) -> Printing:
    """Return how a kind is printed among the others: a bound one on a paper that a binder takes.

    A correction holds for the paper that it was measured on.
    """
    from templates_out.drawing.printer import plain

    if not kind.bound or printing.paper in BOUND:
        return printing
    return replace(plain(printing), paper=usual_paper(design), template=printing)
