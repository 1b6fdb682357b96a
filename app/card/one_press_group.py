"""Several values that one press answers: the standard pattern, the parts to buy, a shape as it is drawn."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from app.entries import typed_entries as typing
from app.entries.card_items import ADD_HOLE
from app.ui.apostrophes import curly
from geometry.asking.question_order import OLD_HOLES
from geometry.asking.question_words import ANY_OLD_HOLES, WHERE_TO_LOOK, pattern_title
from geometry.edits.confirm_or_buy import bought, confirmed, is_part, parts, pattern, to_buy_now, to_confirm
from geometry.edits.confirm_or_buy_words import distances, figures, parts_named
from geometry.readings.figures_in_sentences import figure
from geometry.readings.measures import measure, state_of
from geometry.units.units import format_length

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design
    from geometry.readings.measures import Measure
    from templates_out.drawing.marks import Mark

_SIZES = {"outer": "{} across", "thickness": "{} thick", "length": "{} long", "height": "{} high", "flats": "{} flats"}
_TO_LOOK_FOR = (
    ("Old holes", "open, filled or painted over"), ("In the well", "drain tube, bracket, cable, lip"),
)  # fmt: skip
_FEW = 2  # sizes of a part that its line has room for


class Press(msgspec.Struct, frozen=True):
    """A button of a group: its word, the name of the step that it makes, and that step."""

    word: str
    label: str
    make: Callable[[], Design]


class Group(msgspec.Struct, frozen=True):
    """A group of values that are asked for at once.

    Attributes:
        name: of the group, the same as long as it is asked for. keys: of its measures.
        title, how: its words. main: the first button. second: another one, None for one that leads to the values themselves.
        own: the word for typing or choosing each value, and ``goes`` where that leads; "" to the question of each value.
        guess: whether the group may be left a guess. draw: its picture, for a width and a height of paper [mm].
        spoken: the values of the picture, for a screen reader; "" where ``how`` has them.
    """

    name: str
    keys: tuple[str, ...]
    title: str
    how: str
    main: Press
    second: Press | None
    own: str
    goes: str
    guess: bool
    draw: Callable[[float, float], tuple[Mark, ...]]
    spoken: str = ""


def group_of(design: Design, mount: int, key: str) -> Group | None:
    """Return the group that a guess is asked for with; None where it is asked for alone."""
    if key == OLD_HOLES:
        return _old_holes(design)
    row = measure(design, key)
    if row is None or state_of(design, row) != "guess":
        return None
    if row.kind == "shape":
        return _shape(design, row)
    if not key.startswith("mounts."):
        return None
    mount = int(key.split(".")[1])
    three = to_confirm(design, pattern(design, mount))
    if len(three) > 1 and key in {each.key for each in three}:
        return _pattern(design, mount, three)
    return _parts(design, mount) if is_part(row) else None


def _pattern(design: Design, mount: int, rows: tuple[Measure, ...]) -> Group:
    holes = design.mounts[mount].bracket.rows
    pitch = "" if holes is None else f" {holes.count} holes, {format_length(holes.pitch, design.units)} apart."
    return Group(
        f"pattern.{mount}", tuple(row.key for row in rows), pattern_title(design, mount),
        f"Measure these on the motor, hole centre to hole centre. The standard pattern is drawn.{pitch}",
        Press("All match", f"Standard pattern confirmed: {figures(design, rows)}", partial(confirmed, design, rows)),
        None, "Enter mine", "", True, partial(_pattern_picture, design, mount), distances(design, rows),
    )  # fmt: skip


def _parts(design: Design, mount: int) -> Group | None:
    every = (*parts(design, mount, "lower"), *parts(design, mount, "upper"))
    buying, held = to_buy_now(design, every), to_confirm(design, every)
    if not buying:
        return None
    listed = parts_listed(design, mount)
    second = Press("I have these", f"Parts confirmed: {parts_named(design, held)}", partial(confirmed, design, held))
    return Group(
        f"parts.{mount}", tuple(row.key for row in buying), "Washers, nuts and tools",
        "Bought to this list, they count as known. The shop sheet lists them with the largest washer that still clears.",
        Press("I will buy these", f"Parts to buy: {parts_named(design, buying)}", partial(bought, design, buying)),
        second if held else None, "Other sizes…", f"mounts.{mount}.lower_hardware.washer", False,
        partial(_parts_picture, listed), ". ".join(f"{name}: {sizes}" for name, sizes in listed),
    )  # fmt: skip


def _old_holes(design: Design) -> Group:
    """Ask whether there are old holes or obstacles: a press says that there are none."""
    return Group(
        OLD_HOLES, (OLD_HOLES,), ANY_OLD_HOLES, WHERE_TO_LOOK,
        Press("None", "No old holes, and nothing in the well", partial(replace, design, look_for_holes=False)),
        None, "Add them", ADD_HOLE, False, partial(_parts_picture, _TO_LOOK_FOR),
        ". ".join(f"{name}: {where}" for name, where in _TO_LOOK_FOR),
    )  # fmt: skip


def _shape(design: Design, row: Measure) -> Group:
    return Group(
        row.key, (row.key,), curly(row.name), curly(f"{row.how} Is it as drawn?"),
        Press("It is as drawn", f"{row.name} measured", partial(typing.confirmed, design, row.key)),
        None, "Draw mine", row.key, True, partial(_shape_picture, design, row.key),
    )  # fmt: skip


def parts_listed(design: Design, mount: int) -> tuple[tuple[str, str], ...]:
    """Return a line for each kind of part: its name, and its first sizes. Both pairs have one line where they are alike."""
    lists = {pair: _sizes(design, mount, pair) for pair in ("lower", "upper")}
    if lists["lower"] == lists["upper"]:
        return tuple(lists["lower"].items())
    return tuple((f"{pair} {name}", sizes) for pair, listed in lists.items() for name, sizes in listed.items())


def _sizes(design: Design, mount: int, pair: str) -> dict[str, str]:
    listed: dict[str, list[str]] = {}
    for row in parts(design, mount, "lower" if pair == "lower" else "upper"):
        said = _SIZES.get(row.key.rsplit(".", 1)[-1])
        sizes = listed.setdefault(parts_named(design, (row,)), [])
        if said is not None and len(sizes) < _FEW:
            sizes.append(said.format(figure(design, row, row.get(design) or 0.0)))
    return {name: ", ".join(sizes) for name, sizes in listed.items()}


def _pattern_picture(design: Design, mount: int, width: float, height: float) -> tuple[Mark, ...]:
    from templates_out.pictures.group_pictures import pattern_picture  # drawn after the first paint

    return pattern_picture(design, mount, width, height)


def _parts_picture(lines: tuple[tuple[str, str], ...], width: float, height: float) -> tuple[Mark, ...]:
    from templates_out.pictures.group_pictures import list_picture

    return list_picture(lines, width, height)


def _shape_picture(design: Design, key: str, width: float, height: float) -> tuple[Mark, ...]:
    from templates_out.pictures.reading_picture import reading_picture

    return reading_picture(design, key, width, height)
