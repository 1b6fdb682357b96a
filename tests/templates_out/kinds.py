"""Every kind of paper, made of a boat: one door for the tests that hold all of them to the same things."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from app.printing.sheet_set import has_plate
from geometry.judge.check import check
from geometry.judge.findings import Checked
from templates_out.drawing.marks import Page
from templates_out.drawing.printer import Printing
from templates_out.pages.bars.bars_page import bars_page
from templates_out.pages.coupons.coupon_pages import coupon_pages
from templates_out.pages.gauge.gauge_pages import gauge_pages
from templates_out.pages.inside.inside_pages import inside_pages
from templates_out.pages.measuring.measuring_pages import measuring_pages
from templates_out.pages.plate.plate_pages import plate_pages
from templates_out.pages.shop.shop_pages import shop_pages
from templates_out.pages.template.template_pages import template_pages
from tests.templates_out.printed import boat, cleared, on

KINDS: dict[str, Callable[[Checked, Printing], tuple[Page, ...]]] = {
    "template": template_pages,
    "inside": inside_pages,
    "shop": lambda checked, printing: shop_pages(checked, printing.date, printing.paper),
    "coupons": lambda checked, printing: coupon_pages(checked.design, printing),
    "gauge": gauge_pages,
    "plate": lambda checked, printing: plate_pages(checked, printing) if has_plate(checked.design) else (),
    "measuring": lambda checked, printing: measuring_pages(checked.design, printing.date, printing.paper),
    "bars": lambda checked, printing: (bars_page(checked, printing),),
}
TO_READ = ("shop", "measuring")  # not at full scale


@cache
def pages_of(kind: str, name: str, paper: str, drillable: bool = True) -> tuple[Page, ...]:
    """One kind of paper of a boat: as if nothing were to say of it, or as it is."""
    design = boat(name)
    return KINDS[kind](cleared(design) if drillable else check(design), on(paper))
