"""What to buy: one length for each bolt and the window that would do, nuts, washers, plates, epoxy, sealant, drills."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator
from functools import partial

from geometry.decide.quantities import Amount, has_wood, plugs, potting, sealant, to_plug
from geometry.design.design import Design
from geometry.design.hardware import BackingPlate, Washer
from geometry.design.units import Unit, format_length
from geometry.design.validity import known as all_known
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.tables import fasteners
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import unbroken
from templates_out.pages.shop.shop_holes import bare, figure, stages

_KINDS = ("hex", "nuts", "outside", "inside", "wedges", "spacers", "backing")


def to_buy(design: Design) -> list[tuple[int, str]]:
    """Return what to buy, as (how many, what): bolts first, what is mixed and what drills last."""
    return [*hardware(design), *((1, what) for what in stuff(design))]


def hardware(design: Design) -> list[tuple[int, str]]:
    """Return bolts, nuts, washers, wedges, spacers and plates, as (how many, what)."""
    unit = design.units
    found: Counter[str] = Counter()
    nuts: Counter[tuple[str, bool]] = Counter()
    lengths = [_bolt(bolt) for bolt in bolts(design)]
    for bolt, told in zip(bolts(design), lengths, strict=True):
        fitted = bolt.hardware
        found[told if len(set(lengths)) == 1 else f"{told.rstrip('.')}. For the {bolt.pair} pair."] += 1
        nuts[f"nuts {fitted.bolt}, {fitted.nut}, {fitted.grade.split('-')[0]}", fasteners.locks(fitted.nut)] += 1
        found[f"outside washers {_washer(fitted.outside_washer, unit)}"] += 1
        found[f"inside washers {_washer(fitted.washer, unit)}"] += 1
        if fitted.wedge:
            found[f"wedges of {abs(fitted.wedge):g}° for under the inside washers"] += 1
        if fitted.spacer is not None:
            spacer = fitted.spacer
            found[f"spacers {_sizes((spacer.outer, spacer.inner, spacer.length), unit)}"] += 1
        if fitted.backing_plate is not None and bolt.port:
            found[_plate(fitted.backing_plate, unit)] += 1
    lines = [(count, what) for what, count in found.items()]
    lines += [
        (2 * count, f"{what} (half of them spares: a lock nut is used once)") if locking else (count, what)
        for (what, locking), count in nuts.items()
    ]
    return sorted(lines, key=lambda line: _KINDS.index(line[1].split()[0]))


def _bolt(bolt: Bolt) -> str:
    name = f"hex bolts {bolt.hardware.bolt}"
    own: Unit = "in" if bolt.thread.inch else "mm"
    try:
        low, high = bolt.window
    except Unmeasured:
        return f"{name}, {bolt.hardware.grade} or better: their length is not known yet"
    window = f"{_bound(low, own, up=True)} to {_bound(high, own, up=False)}"
    if bolt.length is None:
        return f"{name}, {bolt.hardware.grade}: no stock length fits, it has to lie within {window}"
    length, thread = (
        format_length(mm, own, style="paper", denominator=64) for mm in (bolt.length, bolt.thread.thread_length(bolt.length))
    )
    others = [
        format_length(mm, own, style="paper", denominator=64)
        for mm in bolt.fitting_lengths if abs(mm - bolt.length) > 1e-6
    ]  # fmt: skip
    also = f"{' or '.join(others)} too" if others else "no other stock length"
    return f"{name} x {length}, {bolt.hardware.grade} or better, {thread} of thread. Any length from {window} does, so {also}."


def _bound(mm: float, unit: Unit, *, up: bool) -> str:
    """Return one end of a window, rounded inward to 1/64 in or 0.1 mm."""
    step = 25.4 / 64 if unit == "in" else 0.1
    steps = math.ceil(mm / step - 1e-6) if up else math.floor(mm / step + 1e-6)
    return unbroken(format_length(steps * step, unit, style="paper", denominator=64))


def _washer(washer: Washer, unit: Unit) -> str:
    cut = ""
    if washer.flat_cut is not None:
        cut = f", cut flat {figure(washer.flat_cut, unit)} below the centre"
    return _sizes((washer.outer, washer.inner, washer.thickness), unit) + cut


def _plate(plate: BackingPlate, unit: Unit) -> str:
    corners = all_known(plate.outline) or []
    sides = [max(x[axis] for x in corners) - min(x[axis] for x in corners) for axis in (0, 1) if corners]
    relieved = ", its lower back edge chamfered" if plate.relief[0] else ""
    return f"backing plate, {writable(plate.material)}, {_sizes((*sides, plate.thickness), unit)}{relieved}"


def _sizes(sizes: tuple[float | None, ...], unit: Unit) -> str:
    def row(one: Unit, *, word: bool) -> str:
        return " x ".join(bare(mm, one) for mm in sizes) + (f" {one}" if word else "")

    return f"{row(unit, word=True)} ({row('mm' if unit == 'in' else 'in', word=False)})"


def stuff(design: Design) -> Iterator[str]:
    """Yield what is not counted by the piece: sealant, epoxy, drills."""
    if not bolts(design):
        return
    yield f"bedding sealant for below the water, as the motor’s manual allows: {_told(partial(sealant, design), 'about')}"
    parts = []
    if has_wood(design):
        parts.append(("the core round the new holes", partial(potting, design)))
    if to_plug(design):
        parts.append(("the old holes", partial(plugs, design)))
    if parts:
        every = " and ".join(f"{_net(reckon)} for {what}" for what, reckon in parts)
        whole = _told(lambda: Amount(sum(reckon().net for _, reckon in parts)), "mix")
        yield f"epoxy with thickener: {every}; {whole} in all, as 30 to 50 % soaks in or stays in the cup"
    yield "foam brush, cups and tape for the epoxy; marine thread lubricant as the manual names; paint for a stripe on each nut"
    for drills in stages(design):
        yield f"each: drills {drills}, sharp; a block of hardwood for a guide, another to hold inside"


def millilitres(mix: tuple[float, float]) -> str:
    """Return how much to mix, in steps of 5 mL: "35 to 40 mL"."""
    low, high = (5 * math.ceil(amount / 5 - 1e-6) for amount in mix)
    return unbroken(f"{high} mL") if low == high else unbroken(f"{low} to {high} mL")


def net(amount: Amount) -> str:
    """Return what a job takes by reckoning: "26 mL"."""
    return unbroken(f"{amount.net:.0f} mL")


def _net(reckon: Callable[[], Amount]) -> str:
    try:
        return net(reckon())
    except Unmeasured:
        return "what it takes"


def _told(reckon: Callable[[], Amount], how: str) -> str:
    try:
        return f"{how} {millilitres(reckon().mix)}"
    except Unmeasured:
        return "how much is not known yet"
