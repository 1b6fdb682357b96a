"""Every kind of sheet, made of a boat: the one way in for the tests that ask the same of all of them."""

from __future__ import annotations

from functools import cache

from msgspec.structs import replace

from app.printing.sheet_kinds import SHEET_KINDS
from geometry.design.design import Design
from geometry.judge.check import check
from geometry.readings.drilled_readings import with_drilled
from geometry.solid.faces import profile_up
from geometry.solid.placed_bolts import Bolt, bolts
from templates_out.drawing.marks import Page
from tests.templates_out.printed import boat, cleared, on

KINDS = tuple(SHEET_KINDS)
TO_READ = tuple(key for key, kind in SHEET_KINDS.items() if not kind.full_scale)


def drilled_as_planned(design: Design) -> Design:
    """Return a boat whose holes of every motor were entered, each with both ends where it was planned."""
    plan: dict[tuple[int, str], Bolt] = {(bolt.mount_index, bolt.name): bolt for bolt in bolts(design)}
    for index in sorted({index for index, _ in plan}):
        design = with_drilled(design, index)
    made = []
    for each in design.as_drilled:
        bolt = plan[each.mount, each.hole]
        up = bolt.faces.edge_w if design.well is None else profile_up(bolt.faces, design.well)
        inner = (bolt.exit.u, bolt.exit.w - up)
        made.append(replace(each, outer=(bolt.u, bolt.v), inner=inner))
    return replace(design, as_drilled=tuple(made))


def boat_of(key: str, name: str) -> Design:
    """Return the boat that a kind of sheet is made of: the record is there only once holes as drilled were entered."""
    return drilled_as_planned(boat(name)) if key == "record" else boat(name)


@cache
def pages_of(key: str, name: str, paper: str, drillable: bool = True) -> tuple[Page, ...]:
    """One kind of sheet of a boat: as if nothing were to say of it, or as it is."""
    kind, design = SHEET_KINDS[key], boat_of(key, name)
    return kind.pages(cleared(design) if drillable else check(design), on(paper)) if kind.there(design) else ()
