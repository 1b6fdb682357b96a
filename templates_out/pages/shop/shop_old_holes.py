"""The work on core and old holes before anything new is drilled: a solid core, plugs, patches, holes that are used again."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from geometry.decide.amounts_to_buy import plug, plugs, to_plug, too_wide
from geometry.decide.old_holes import crowded, old_hole_plans
from geometry.solid.faces import Unmeasured
from templates_out.drawing.fonts import writable
from templates_out.pages.shop.shop_buy import net
from templates_out.pages.shop.shop_figures import both_units, capital, round_size, size_of, takes
from templates_out.pages.shop.shop_holes import known
from templates_out.pages.shop.shop_step import Step

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design

ONE_LIFT = 25.4  # mm: a wider plug gets too hot where it is filled at once; common practice


def foam(design: Design) -> Iterator[Step]:
    """Yield the step for a foam core."""
    if design.transom.core == "foam":
        yield Step(
            "Have a solid core put in where the bracket goes. Cut out the foam. Bond wood or solid laminate between the skins. "
            "Foam does not support a nut’s pull. An epoxy post in foam touches only the two skins.",
            "if the core at any bolt is still foam.",
        )


def old_holes(design: Design) -> Iterator[Step]:
    """Yield the steps for the old holes."""
    unit = design.units
    if design.transom.core == "aluminium" and to_plug(design):
        yield Step(
            "Have a welder close the old holes, after the core is taken out. In aluminium no epoxy plug carries load."
        )
    elif to_plug(design):
        bores = ", ".join(
            f"{writable(design.old_holes[index].name)} to {known(partial(bore_words, design, index))}"
            for index in to_plug(design)
        )
        lifts = " Fill a plug wider than 1 in (25 mm) in two lifts: it gets hot." if _deep(design) else ""
        yield Step(
            f"Fill the old holes first. Bore out {bores}. Dry the wood. Wet it with neat epoxy. Fill it with thickened epoxy, "
            f"from low to high.{lifts} Let it cure as long as the label says. Fair it."
            f"{takes(lambda: (net(plugs(design)), plugs(design).mix))}",
            f"if the wood is wet or soft more than {round_size(25.0, unit)} around a hole. It needs a new core first.",
            ("plug cutters", "epoxy", "epoxy kit", "sandpaper"),
        )
    crowd = crowded(design)
    if crowd:
        names = capital(", ".join(writable(name) for name in crowd))
        yield Step(
            f"{names} are within {round_size(100.0, unit)} of each other. Repair that area as one: laminate over all of them.",
            uses=("epoxy", "epoxy kit", "glass cloth"),
        )
    for index in too_wide(design):
        name = capital(writable(design.old_holes[index].name))
        yield Step(f"{name} is too wide for a plug. Have a disc let in, with glass cloth over it on both faces.")
    again = [plan for plan in old_hole_plans(design) if plan.kind == "may be used again"]
    if again:
        names = ", ".join(f"{writable(plan.name)} by the {plan.bolt} bolt" for plan in again)
        yield Step(f"You may use these again instead of filling them: {names}. Say so on the card, then print again.")


def _deep(design: Design) -> bool:
    """Return whether a plug is so wide that it is filled in two lifts."""
    try:
        return any(plug(design, index).bore > ONE_LIFT + 0.5 for index in to_plug(design))
    except Unmeasured:
        return False


def bore_words(design: Design, index: int) -> str:
    """Say how wide an old hole is bored out, or cut out to a long plug.

    Raises:
        Unmeasured: a size or a place is not known.
    """
    filled = plug(design, index)
    if not filled.run:
        return both_units(filled.bore, design.units)
    size = f"{size_of(filled.bore, design.units)} × {size_of(filled.bore + filled.run, design.units)}"
    return f"a long plug of {size} with the whole {filled.bolt} hole in it"


def plug_cutters(design: Design) -> str:
    """Name the cutters for the old holes, each size once.

    Raises:
        Unmeasured: a size is not known.
    """
    filled = [plug(design, index) for index in to_plug(design)]
    sizes = sorted({each.bore for each in filled})
    cutters = ", ".join(both_units(size, design.units) for size in sizes)
    rasp = ", and a rasp for each long plug" if any(each.run for each in filled) else ""
    return f"cutter or hole saw for old holes, {cutters}{rasp}"
