"""Every entry lights its dimension or its part in face or cut; only figures of the boat's papers have no place there."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import pytest

from app.canvas.face_overlays import lit_marks
from assets import design_text
from geometry.design_text import from_text
from geometry.judge.check import check
from geometry.readings.measures import measure, measures
from geometry.units.units import format_length
from templates_out.drawing.marks import Circle, Line, Mark, Path, Text
from templates_out.views.cut import cut_marks, cut_rect
from templates_out.views.face import face_marks
from templates_out.views.lit_parts import is_one_of, lit_parts
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import fit, whole_rect
from tests.designs import sure

if TYPE_CHECKING:
    from geometry.judge.findings import Checked

BOATS = ("shallow-well-skiff", "twin-motor-launch", "cap-lip-launch", "tapered-work-boat", "thrice-drilled-runabout")
PAPERS = (  # read from the capacity plate or a paper, or above the waterline: neither view has a place for them
    "boat.plate.power_kw", "boat.plate.motor_mass", "boat.plate.total_mass", "boat.plate.persons_mass", "boat.length",
    "boat.beam", "boat.hull_mass", "boat.displacement", "boat.old_motor.power_kw", "boat.old_motor.mass",
    "boat.old_motor.centre_aft", "boat.afloat.scupper", "boat.afloat.drain", "mounts.0.power_kw", "mounts.1.power_kw",
)  # fmt: skip


@cache
def views(name: str, mount: int, key: str = "") -> list[tuple[Mark, ...]]:
    """Return face, port cut and starboard cut with an entry lit, all of the transom on the face."""
    checked = boat(name)
    focus = ViewFocus(mount, lit=key)
    cuts = (cut_marks(checked, fit(cut_rect(checked.design, side, mount), 600, 600, 8), side, mount, focus)
            for side in ("port", "starboard"))  # fmt: skip
    return [face_marks(checked, fit(whole_rect(checked.design), 900, 900, 8), focus), *cuts]


@cache
def boat(name: str) -> Checked:
    return check(from_text(design_text(name)))


def mount_of(key: str) -> int:
    return int(key.split(".")[1]) if key.startswith("mounts.") else 0


def lit_names(name: str, key: str) -> set[str]:
    """Return the names of the marks that are lit in face or cut."""
    parts = lit_parts(boat(name).design, key)
    return {mark.part for view in views(name, mount_of(key)) for mark in lit_marks(view, (), (), parts)
            if isinstance(mark, Line | Circle | Path)}  # fmt: skip


def figures(name: str, key: str) -> list[str]:
    """Return the entry's lit figures in face and cut."""
    return [mark.text for view in views(name, mount_of(key), key) for mark in view
            if isinstance(mark, Text) and mark.part == f"measure:{key}" and mark.patch == "lit"]  # fmt: skip


@pytest.mark.parametrize("name", BOATS)
def test_every_entry_lights_its_dimension_or_its_part(name: str) -> None:
    design = from_text(design_text(name))
    keys = [row.key for row in measures(design)]
    dark = {key for key in keys if not lit_names(name, key) and not figures(name, key)}
    without_plugs = {key for key in keys if key.startswith("limits.plug_wall") and not design.old_holes}
    assert dark == {key for key in PAPERS if key in keys} | without_plugs


@pytest.mark.parametrize(("key", "names"), [
    ("mounts.0.lower_hardware.socket.length", {"lower port socket:0", "lower starboard socket:0"}),
    ("mounts.0.upper_hardware.washer.thickness", {
        "upper port washer:0", "upper starboard washer:0",
    }),
    ("mounts.0.upper_hardware.outside_washer.outer", {"upper port outside washer:0", "upper starboard outside washer:0"}),
    ("mounts.0.second.pilot_lower_port", {"lower port hole:0"}),
    ("transom.skin_inside", {"skin inside"}),
    ("old_holes.1.diameter", {"old hole 1"}),
    ("inside_blocks.0.stands_out", {"block 0"}),
    ("mounts.0.bracket.room_aft.lower", {"lower port head:0", "lower starboard head:0"}),
    ("boat.plate.power_kw", set()),
])  # fmt: skip
def test_an_entry_lights_its_own_part_only(key: str, names: set[str]) -> None:
    assert lit_names("thrice-drilled-runabout", key) == names


def test_twins_are_lit_by_their_own_entries_only() -> None:
    assert lit_names("twin-motor-launch", "mounts.1.lower_hardware.torque") == {"lower port nut:1", "lower starboard nut:1"}


def test_a_name_with_one_more_digit_is_another_part() -> None:
    assert is_one_of(("old hole 1",))("old hole 1")
    assert not is_one_of(("old hole 1",))("old hole 12")
    assert not is_one_of(())("")


@pytest.mark.parametrize(("name", "key", "text"), [
    ("shallow-well-skiff", "transom.height", "19 5/8"), ("shallow-well-skiff", "transom.thickness.low_at", "10"),
    *(("thrice-drilled-runabout", f"{shape}.outline.{corner}.{axis}", "")
      for shape in ("inside_blocks.0", "outside_fittings.0") for corner in (0, 2) for axis in (0, 1)),
    *(("twin-motor-launch", f"well.profile.{corner}.{axis}", "") for corner in (1, 2) for axis in (0, 1)),
])  # fmt: skip
def test_corners_and_heights_have_dimensions_of_their_own(name: str, key: str, text: str) -> None:
    """The figure says what the entry says: the skiff's as it is typed, a corner's distance without its sign."""
    row = sure(measure(boat(name).design, key))
    said = f"{text} in" if text else format_length(abs(sure(row.get(boat(name).design))), boat(name).design.units)
    assert set(figures(name, key)) == {said}
