"""The list of what to buy: bolts with the lengths that fit, nuts, washers, backing plates, tools, epoxy, sealant."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import NamedTuple

from geometry.decide.amounts_to_buy import Amount, has_wood, plugs, potting, sealant, to_plug
from geometry.design.design import Design
from geometry.design.hardware import BackingPlate, Washer
from geometry.design.validity import known as all_known
from geometry.doubt.size_limits import SizeLimit
from geometry.judge.bolt_length_words import window_words
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.solving.solved import solved_at_plan
from geometry.tables import fasteners
from geometry.units.trade_words import in_trade_words
from geometry.units.units import Unit, format_length
from templates_out.drawing.fonts import writable
from templates_out.drawing.sheet_figures import unbroken
from templates_out.pages.shop.shop_holes import UNITS, bare, figure
from templates_out.pages.shop.shop_limits import size_words, thickness_words


class Bought(NamedTuple):
    """A line of the list: how many, what, and the keys by which the steps of the work ask for it."""

    number: int
    what: str
    keys: tuple[str, ...]


_KINDS = ("bolts", "nuts", "outside washers", "inside washers", "wedges", "spacers", "backing plate")
_TOOLS = {
    "socket": ("socket", {"outer": "outside", "length": "with its drive"}),
    "spanner": ("ring spanner", {"outer": "outside", "thickness": "thick", "length": "long"}),
}  # fmt: skip
_DISC = ": across, hole, thickness"  # the order of a washer's sizes


def to_buy(design: Design, limits: tuple[SizeLimit, ...] = (), pads: Mapping[int, float] | None = None) -> list[Bought]:
    """Return what to buy: bolts first, what is mixed last.

    Args:
        limits: the largest and smallest sizes of parts to buy that still clear.
        pads: the thickness of each hard pad under a bracket hook [mm], by the motor's number.
    """
    return [
        *hardware(design, limits), *_pads(design, pads or {}), *_tools(design, limits), *stuff(design), *_for_clamps(design),
    ]


def hardware(design: Design, limits: tuple[SizeLimit, ...] = ()) -> list[Bought]:
    """Return bolts, nuts, washers, wedges, spacers and backing plates."""
    unit = design.units
    washers: dict[tuple[str, str], list[str]] = {}
    counts: Counter[tuple[str, str]] = Counter()
    nuts: Counter[tuple[str, bool]] = Counter()
    every = bolts(solved_at_plan(design))  # a bolt is as long as the wood that all readings together give
    lines = [_bolt(bolt) for bolt in every]
    for bolt, line in zip(every, lines, strict=True):
        fitted = bolt.hardware
        counts["bolts", line if len(set(lines)) == 1 else f"{line.rstrip('.')}. For the {bolt.pair} pair."] += 1
        locking = fasteners.locks(fitted.nut)
        kind = "nylon-insert lock nuts" if locking else "hex nuts"
        nuts[f"{kind} {fitted.bolt}, {fitted.nut}, {fitted.grade.split('-')[0]} stainless", locking] += 1
        for side, field, washer in (
            ("outside", "outside_washer", fitted.outside_washer), ("inside", "washer", fitted.washer),
        ):  # fmt: skip
            name = f"{side} washers"
            washers.setdefault((name, f"{name} {_washer(washer, unit)}"), []).append(bolt.hardware_key(f"{field}.outer"))
        if fitted.wedge:
            counts["wedges", f"wedges of {abs(fitted.wedge):g}°, one under each inside washer"] += 1
        if fitted.spacer is not None:
            spacer = fitted.spacer
            sizes = _sizes((spacer.outer, spacer.inner, spacer.length), unit, ": across, bore, length")
            counts["spacers", f"spacers {sizes}"] += 1
        if fitted.backing_plate is not None and bolt.port:
            thick = thickness_words(design, [bolt.plate_key("thickness")], limits)
            counts["backing plate", f"{_plate(fitted.backing_plate, unit)}{thick and '.'}{thick}"] += 1
    bought = [Bought(count, what, (key,)) for (key, what), count in counts.items()]
    bought += [
        Bought(len(keys), f"{what}{_washer_words(design, keys, limits)}", (name,)) for (name, what), keys in washers.items()
    ]
    bought += [
        Bought(2 * count, f"{what}. Half of them are spares: use a lock nut only once.", ("nuts",)) if locking
        else Bought(count, what, ("nuts",))
        for (what, locking), count in nuts.items()
    ]  # fmt: skip
    return sorted(bought, key=lambda line: _KINDS.index(line.keys[0]))


def _pads(design: Design, pads: Mapping[int, float]) -> list[Bought]:
    """Return the hard pads under the bracket hooks, those as thick in one line."""
    counts = Counter(figure(thick, design.units) for thick in pads.values())
    return [
        Bought(count, f"hard pad, {thick} thick, of hard plastic or laminate, as long as the bracket hook", ("hard pad",))
        for thick, count in counts.items()
    ]


def _for_clamps(design: Design) -> list[Bought]:
    """Return what motors need that clamp on."""
    clamps = sum(mount.bracket.rows is None for mount in design.mounts)
    if not clamps or bolts(design):
        return []
    return [Bought(2 * clamps, "hard pads for the clamp screws, one on each face", ("clamp pads",)),
            Bought(clamps, "lanyard or chain for the motor", ("lanyard",))]  # fmt: skip


def _bolt(bolt: Bolt) -> str:
    name = f"hex bolts {bolt.hardware.bolt}"
    own: Unit = "in" if bolt.thread.inch else "mm"
    try:
        window = unbroken(window_words(bolt.window, own, style="paper"))
    except Unmeasured:
        return f"{name}, {bolt.hardware.grade} or better: their length is not known yet"
    if bolt.length is None:
        return f"{name}, {bolt.hardware.grade}: no stock length fits. Have them made: {window} long."
    length, thread = (
        format_length(mm, own, style="paper", denominator=64) for mm in (bolt.length, bolt.thread.thread_length(bolt.length))
    )
    others = " or ".join(
        format_length(mm, own, style="paper", denominator=64)
        for mm in bolt.fitting_lengths if abs(mm - bolt.length) > 1e-6
    )  # fmt: skip
    name = f"{name} x {length}, {bolt.hardware.grade} or better, {thread} of thread."
    return f"{name} {f'Any length from {window} fits. Other stock: {others}.' if others else 'No other stock length fits.'}"


def _washer(washer: Washer, unit: Unit) -> str:
    cut = ""
    if washer.flat_cut is not None:
        cut = f", cut flat {figure(washer.flat_cut, unit)} below the centre"
    return _sizes((washer.outer, washer.inner, washer.thickness), unit, _DISC) + cut


def _washer_words(design: Design, keys: list[str], limits: tuple[SizeLimit, ...]) -> str:
    """Return sentences about the sizes of washers that are bought alike."""
    wide = size_words(design, keys, limits)
    thick = thickness_words(design, [f"{key.removesuffix('outer')}thickness" for key in keys], limits)
    return f"{wide or '.'}{thick}" if thick else wide


def _tools(design: Design, limits: tuple[SizeLimit, ...]) -> list[Bought]:
    """Return the sockets and ring spanners that are to buy, each with its sizes and their limits."""
    lines: dict[str, dict[str, list[str]]] = {}
    for bolt in bolts(design):
        name = "socket" if bolt.hardware.socket is not None else "spanner"
        noun, words = _TOOLS[name]
        read = {word: getattr(getattr(bolt.hardware, name), field, None) for field, word in words.items()}
        sizes = {word: size for word, size in read.items() if size is not None}
        keys = {word: bolt.hardware_key(f"{name}.{field}") for field, word in words.items()}
        states = [design.readings[key].state for key in keys.values() if key in design.readings]
        if "to buy" in states and len(sizes) == len(words):
            said = ", ".join(f"{figure(size, design.units)} {word}" for word, size in sizes.items())
            line = lines.setdefault(in_trade_words(f"{noun} for the nuts, {said}", design.units), {})
            for word, key in keys.items():
                line.setdefault(word, []).append(key)
    return [
        Bought(1, what + "".join(size_words(design, keys, limits, across) for across, keys in sizes.items()), ("nut wrench",))
        for what, sizes in lines.items()
    ]  # fmt: skip


def _plate(plate: BackingPlate, unit: Unit) -> str:
    corners = all_known(plate.outline) or []
    sides = [max(x[axis] for x in corners) - min(x[axis] for x in corners) for axis in (0, 1) if corners]
    relieved = ", its lower back edge chamfered" if plate.relief[0] else ""
    return f"backing plate, {writable(plate.material)}, {_sizes((*sides, plate.thickness), unit, '')}{relieved}"


def _sizes(sizes: tuple[float | None, ...], unit: Unit, order: str) -> str:
    """Return sizes in both units with their ``order`` behind: "1-1/2 x 17/32 x 1/8 in (38.1 x 13.5 x 3 mm): across, ..."."""
    own, other = (f"{' x '.join(bare(mm, each) for mm in sizes)} {each}" for each in UNITS[unit])
    return f"{own} ({other}){order}"


def stuff(design: Design) -> Iterator[Bought]:
    """Yield what is not counted by the piece: sealant, epoxy, lubricant, paint."""
    if not bolts(design):
        return
    sealed = _mixed(partial(sealant, design), "about")
    yield Bought(
        1, f"marine sealant for below the waterline, of a kind that the motor’s manual allows: {sealed}", ("sealant",)
    )
    if design.transom.core != "aluminium":
        yield Bought(1, _epoxy(design), ("epoxy",))
        yield Bought(1, "each: foam brush and cups for the epoxy", ("epoxy kit",))
    yield Bought(1, "glass cloth, to laminate over the old holes", ("glass cloth",))
    yield Bought(1, "each: thread lubricant by the manual, paint for a stripe on each nut", ("lubricant", "stripe paint"))


def _epoxy(design: Design) -> str:
    parts = []
    if has_wood(design):
        parts.append(("the core around the new holes", partial(potting, design)))
    if to_plug(design):
        parts.append(("the old holes", partial(plugs, design)))
    if not parts:
        return "epoxy, to coat the cut laminate"
    every = " and ".join(f"{_net(amount)} for {what}" for what, amount in parts)
    whole = _mixed(lambda: Amount(sum(amount().net for _, amount in parts)), "mix")
    return f"epoxy with thickener: {every}; {whole} in all. From 30 to 50 % soaks in or stays in the cup."


def millilitres(mix: tuple[float, float]) -> str:
    """Return how much to mix, in steps of 5 mL: "35 to 40 mL"."""
    low, high = (5 * math.ceil(amount / 5 - 1e-6) for amount in mix)
    return unbroken(f"{high} mL") if low == high else unbroken(f"{low} to {high} mL")


def net(amount: Amount) -> str:
    """Return how much a job takes by calculation: "26 mL"."""
    return unbroken(f"{amount.net:.0f} mL")


def _net(calculate: Callable[[], Amount]) -> str:
    try:
        return net(calculate())
    except Unmeasured:
        return "an amount not known yet"


def _mixed(calculate: Callable[[], Amount], how: str) -> str:
    try:
        return f"{how} {millilitres(calculate().mix)}"
    except Unmeasured:
        return "how much is not known yet"
