"""The origin of values: the distances and parts that one press confirms or buys, and another origin for one value."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from geometry.design.validity import CLOSE
from geometry.edits.starting_shapes import as_text
from geometry.readings.measure import reading_of
from geometry.readings.measures import Measure, at_path, measures, state_of
from geometry.tables.trade import STANDARD_PATTERN

if TYPE_CHECKING:
    from collections.abc import Iterable
    from typing import Literal

    from geometry.design.design import Design, Origin, Reading

PARTS = {
    "washer": "inside washers", "outside_washer": "outside washers", "socket": "socket", "spanner": "ring spanner",
    "nut_sizes": "nuts", "head_sizes": "heads", "spacer": "spacers", "backing_plate": "backing plate",
}  # fmt: skip
"""The parts of a pair that can be bought, by their field of the hardware, and the words for each."""


def pattern(design: Design, mount: int) -> tuple[Measure, ...]:
    """Return the distances of the standard pattern; () where a motor's bracket has others, or has no holes.

    They are the half spacing of the upper holes and their pitch, the half spacing of the lower ones, and the highest place
    of a lower bolt.
    """
    wanted = pattern_distances(mount)
    three = tuple(row for row in measures(design) if row.key in wanted)
    same = all(abs((row.get(design) or 0.0) - wanted[row.key]) <= CLOSE for row in three)
    return three if same else ()


def pattern_distances(mount: int) -> dict[str, float]:
    """Return the distances of the standard pattern, by the keys of a motor's bracket [mm]."""
    std, start = STANDARD_PATTERN, f"mounts.{mount}.bracket."
    return {
        f"{start}rows.half_spacing": std.upper_half_spacing, f"{start}rows.pitch": std.pitch,
        f"{start}lower.half_spacing": std.lower_half_spacing, f"{start}lower.slots.0.0": std.slot[0],
    }  # fmt: skip


def parts(design: Design, mount: int, pair: Literal["upper", "lower"]) -> tuple[Measure, ...]:
    """Return the sizes of one pair's washers, tools, nuts, spacers and backing plate, as far as they are known."""
    start = f"mounts.{mount}.{pair}_hardware."
    return tuple(row for row in measures(design) if row.key.startswith(start) and is_part(row) and _is_known(design, row))


def is_part(row: Measure) -> bool:
    """Return whether a measure is the size of a part that can be bought. A cut, a hole or a torque is none."""
    return row.key.partition("_hardware.")[2].split(".")[0] in PARTS and not row.free


def to_confirm(design: Design, chosen: Iterable[Measure]) -> tuple[Measure, ...]:
    """Return the values that still can be confirmed: the guesses, and the sizes to buy."""
    return tuple(row for row in chosen if state_of(design, row) in ("guess", "to buy"))


def to_buy_now(design: Design, chosen: Iterable[Measure]) -> tuple[Measure, ...]:
    """Return the sizes that still can be bought: all but those that were measured, or are to buy already."""
    states = {key: reading.state for key, reading in design.readings.items()}
    return tuple(row for row in chosen if states.get(row.key) not in ("measured", "to buy"))


def confirmed(design: Design, chosen: Iterable[Measure]) -> Design:
    """Return ``design`` with values that the owner checked together, with a tape. A measured reading stays as it is.

    Raises:
        NonsenseError: they are impossible together with other readings.
    """
    return _with_origin(design, chosen, "confirmed")


def bought(design: Design, chosen: Iterable[Measure]) -> Design:
    """Return ``design`` with sizes that the owner will buy to. A measured reading stays as it is."""
    return _with_origin(design, chosen, "to buy")


def with_new_parts_to_buy(before: Design, design: Design) -> Design:
    """Return ``design`` with each size of a part that differs from ``before`` to buy: a proposal chose it, nobody read it."""
    fresh = [row for row in measures(design) if is_part(row) and _size(before, row) != _size(design, row)]
    keys = {row.key for row in fresh}
    bare = replace(design, readings={key: reading for key, reading in design.readings.items() if key not in keys})
    return bought(bare, (row for row in fresh if _is_known(design, row))) if fresh else design


def _size(design: Design, row: Measure) -> object:
    return at_path(design, row.key) if row.kind == "shape" else row.get(design)


def counted_as(design: Design, row: Measure, origin: Origin) -> Design:
    """Return ``design`` with another origin for one value; unchanged where it has no value, or is a choice.

    Raises:
        NonsenseError: it is impossible together with other readings.
    """
    before = design.readings.get(row.key)
    if row.free or not _is_known(design, row) or (before is not None and before.state == origin):
        return design
    reading = _reading(design, row, origin) if before is None else replace(before, state=origin, spread=None)
    return replace(design, readings={**design.readings, row.key: reading})


def _with_origin(design: Design, chosen: Iterable[Measure], origin: Origin) -> Design:
    states = {key: reading.state for key, reading in design.readings.items()}
    changed = {
        row.key: _reading(design, row, origin) for row in chosen if states.get(row.key) not in ("measured", origin)
    }  # fmt: skip
    return replace(design, readings={**design.readings, **changed}) if changed else design


def _reading(design: Design, row: Measure, origin: Origin) -> Reading:
    value = None if row.kind == "shape" else row.get(design)
    reading = reading_of(design, row, as_text(design, row) or "", value, origin)
    return replace(reading, how="tape") if origin == "confirmed" else reading


def _is_known(design: Design, row: Measure) -> bool:
    return row.kind == "shape" or row.get(design) is not None
