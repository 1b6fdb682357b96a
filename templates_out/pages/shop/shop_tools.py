"""The tools that the steps of the work use, each with the sizes and the reach that this boat needs."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from geometry.judge.torque import SHARES
from geometry.judge.wood_around_holes import core_bore
from geometry.solid.faces import Unmeasured
from geometry.solid.openings import openings
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.units import force_units
from geometry.units.trade_words import in_trade_words
from geometry.units.units import format_length, format_mass
from templates_out.drawing.printer import bar_exactness
from templates_out.drawing.sheet_figures import unbroken
from templates_out.pages.shop.shop_figures import both_units, size_of
from templates_out.pages.shop.shop_holes import BLOCK_THICK, NOT_KNOWN, known, stage_sizes
from templates_out.pages.shop.shop_old_holes import plug_cutters

if TYPE_CHECKING:
    from geometry.design.design import Design

CHUCK = 25.4  # mm of a drill that the chuck holds: our assumption


def _opening_cutters(design: Design) -> str:
    sizes = sorted({opening.diameter for opening in openings(design)})
    return f"hole saw for cables and hoses, {', '.join(both_units(size, design.units) for size in sizes)}"


def _always(words: str) -> Callable[[Design], str]:
    return lambda design: words


def _hoist(design: Design) -> str:
    masses = [mount.mass for mount in design.mounts if mount.mass is not None]
    enough = f" for at least {format_mass(max(masses), design.units)}" if masses else ""
    return f"hoist{enough}, lifting eye, tag line"


def _rule(design: Design) -> str:
    long = "24 in" if design.units == "in" else "600 mm"
    return f"steel rule that shows {bar_exactness(design.units)}, straightedge of {long}"


def reach(design: Design) -> float:
    """Return how long a drill has to be: through the guide block and the thickest part, and held in the chuck [mm].

    Raises:
        Unmeasured: the thickness at a hole is not known.
    """
    return BLOCK_THICK[design.units] + max(bolt.exit.along for bolt in bolts(design)) + CHUCK


def reach_words(design: Design) -> str:
    """Say how long a drill has to be, rounded up to 1/4 in or 5 mm.

    Raises:
        Unmeasured: the thickness at a hole is not known.
    """
    step = 6.35 if design.units == "in" else 5.0
    return unbroken(format_length(math.ceil(reach(design) / step - 1e-6) * step, design.units, style="paper"))


def _drill(sizes: list[float], design: Design) -> str:
    long = known(partial(reach_words, design))
    which = ", ".join(size_of(size, design.units) for size in sizes)
    at_least = "their length is not known yet: measure the thickness" if long == NOT_KNOWN else f"at least {long} long"
    return f"{'drill' if len(sizes) == 1 else 'drills'} {which}, sharp, {at_least}"


def _finals(design: Design) -> list[float]:
    return sorted({bolt.hardware.hole for bolt in bolts(design) if bolt.hardware.hole is not None})


def _pilot_drill(design: Design) -> str:
    finals = _finals(design)
    return _drill([stage_sizes(finals[0], design.units)[0]], design) if finals else "drill for the pilots"


def _step_drills(design: Design) -> str:
    sizes = sorted({size for final in _finals(design) for size in stage_sizes(final, design.units)[1:]})
    return _drill(sizes, design) if sizes else "drill of the final size: the size is not known yet"


def _core_cutter(design: Design) -> str:
    sizes = dict.fromkeys(known(lambda bolt=bolt: both_units(core_bore(bolt), design.units)) for bolt in bolts(design))  # type: ignore[misc]
    return f"cutter for the core, {' and '.join(sizes)}"


def _countersink(design: Design) -> str:
    finals = _finals(design)
    return f"countersink, wider than {size_of(finals[-1], design.units)}" if finals else "countersink"


def _torque_wrench(design: Design) -> str:
    torques = sorted({bolt.hardware.torque for bolt in bolts(design) if bolt.hardware.torque is not None})
    if not torques:
        return "torque wrench"
    low, high = (force_units.torque(torque, design.units) for torque in (SHARES[0] * torques[0], torques[-1]))
    return f"torque wrench that reads {unbroken(low)} to {unbroken(high)}"


def _wrench(design: Design, *, nut: bool) -> str:
    """Name what turns the nuts, or holds the heads, with the sizes across flats."""
    lines = dict.fromkeys(_wrench_for(bolt, nut=nut) for bolt in bolts(design))
    return " and ".join(lines)


def _wrench_for(bolt: Bolt, *, nut: bool) -> str:
    fitted = bolt.hardware
    flats = (fitted.nut_hexagon if nut else fitted.head_hexagon).flats
    size = "" if flats is None else f"{size_of(flats, 'in' if bolt.thread.inch else 'mm')} "
    if nut and fitted.socket is not None:
        sizes = (fitted.socket.outer, fitted.socket.length)
        most = "" if None in sizes else f", at most {size_of(sizes[0] or 0.0, bolt.design.units)} outside"
        return f"{size}socket for the nuts{most}"
    return f"{size}ring spanner {'for the nuts' if nut else 'to hold the heads'}"


def _guide_block(design: Design) -> str:
    return f"hardwood guide block, {size_of(BLOCK_THICK[design.units], design.units)} thick, from its sheet"


TOOLS: dict[str, Callable[[Design], str]] = {
    "hammer": _always("small hammer"),
    "light": _always("light, to look into the holes"),
    "chocks": _always("wheel chocks"),
    "fuel can": _always("can for fuel"),
    "labels": _always("labels for cables and hoses"),
    "hoist": _hoist,
    "solvent": _always("solvent and rags"),
    "masking tape": _always("masking tape"),
    "plug cutters": lambda design: known(partial(plug_cutters, design)).replace(NOT_KNOWN, "cutter for the old holes"),
    "opening cutters": _opening_cutters,
    "sandpaper": _always("sandpaper"),
    "rule": _rule,
    "scissors": _always("scissors or knife"),
    "awl": _always("awl or punch"),
    "pilot drill": _pilot_drill,
    "step drills": _step_drills,
    "guide block": _guide_block,
    "angle gauge": _always("gauge for the drill’s angle, from its sheet"),
    "wood block": _always("block of wood for the inside"),
    "mirror": _always("mirror or phone, to look inside"),
    "masks": _always("eye and ear protection, dust mask, gloves"),
    "core cutter": _core_cutter,
    "countersink": _countersink,
    "file": _always("file for the washers’ flat sides"),
    "torque wrench": _torque_wrench,
    "nut wrench": partial(_wrench, nut=True),
    "head wrench": partial(_wrench, nut=False),
}
"""By key, in the order of the work."""


def tool_words(design: Design, keys: frozenset[str]) -> list[str]:
    """Return the tools that are used, in words of the boat's country."""
    made = []
    for key in (key for key in TOOLS if key in keys):
        try:
            words = TOOLS[key](design)
        except Unmeasured:
            words = key
        made.append(in_trade_words(words, design.units))
    return made
