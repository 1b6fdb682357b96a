"""The sheets that are made together, as values."""

import datetime

import pytest
from msgspec.structs import replace

from app.printing.sheet_kinds import SHEET_KINDS, has_plate
from app.printing.sheet_set import PrintOptions, sheet_set, usual_options
from assets import design_text
from geometry.design_text import from_text
from geometry.judge.check import check

DAY = datetime.date(2026, 1, 1)


def boat(name):
    return check(from_text(design_text(name)))


@pytest.mark.parametrize(("name", "plates"), [("thrice-drilled-runabout", True), ("shallow-well-skiff", False)])
def test_every_kind_of_sheet_can_be_had_together(name, plates):
    checked = boat(name)
    assert has_plate(checked.design) == plates
    sheets = sheet_set(checked, replace(usual_options(checked.design), kinds=tuple(SHEET_KINDS)), DAY)
    kinds = [group.key for group in sheets.groups]
    assert kinds == [key for key in SHEET_KINDS if plates or key != "plate"]
    assert all(group.count > 0 for group in sheets.groups)
    assert sum(group.count for group in sheets.groups) == len(sheets.pages)


def test_the_template_alone_is_never_left_out():
    checked = boat("shallow-well-skiff")
    sheets = sheet_set(checked, PrintOptions("letter", kinds=("template",)), DAY)
    assert [group.key for group in sheets.groups] == ["template"]
    assert len(sheets.pages) == len(sheets.plan.tiles)
