"""The editions of the file: an older one is read, keeps its printed number, and is saved as the newest."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from geometry.design.file_editions import ADDED, NEWEST, Added, upgraded, without_defaults
from geometry.design_text import DesignError, fingerprint, from_text, to_text
from geometry.edits.additions import add_old_hole
from geometry.readings.drilled_readings import with_drilled

FILES = Path(__file__).parents[1] / "files"
NUMBER_1 = FILES / "number_1"
PRINTED = {  # on paper by the program that wrote number 1: typed from its sheets, so no later program may print another
    "cap-lip-launch": "8CM6-DANF",
    "shallow-well-skiff": "9ZHD-BKMC",
    "tapered-work-boat": "FWVA-V6G9",
    "thrice-drilled-runabout": "V2BC-AB3A",
    "twin-motor-launch": "N5T8-88UN",
}

PRINTED_BY_2 = {**PRINTED, "shallow-well-skiff": "655Z-QVKX", "twin-motor-launch": "PCDZ-4S7A"}  # with a handle, and a tilt


def text_of(name):
    return (NUMBER_1 / f"{name}.boltwell").read_text("utf-8")


@pytest.mark.parametrize("name", PRINTED)
def test_an_older_file_is_read_keeps_its_printed_number_and_is_saved_as_the_newest(name):
    assert json.loads(text_of(name))["boltwell"] == 1
    design = from_text(text_of(name))
    assert design.boltwell == NEWEST
    assert fingerprint(design) == PRINTED[name]
    saved = to_text(design)
    assert json.loads(saved)["boltwell"] == NEWEST
    assert from_text(saved) == design
    assert fingerprint(from_text(saved)) == PRINTED[name]


@pytest.mark.parametrize("name", PRINTED)
def test_a_file_of_number_2_is_read_keeps_its_printed_number_and_is_saved_as_the_newest(name):
    text = (FILES / "number_2" / f"{name}.boltwell").read_text("utf-8")
    assert json.loads(text)["boltwell"] == 2
    design = from_text(text)
    assert design.boltwell == NEWEST
    assert from_text(to_text(design)) == design
    assert fingerprint(design) == PRINTED_BY_2[name]


def test_all_older_files_are_tried():
    assert {path.stem for path in NUMBER_1.iterdir()} == {path.stem for path in (FILES / "number_2").iterdir()} == set(PRINTED)


def test_number_1_gets_no_cowls_and_no_weights_of_the_hull():
    design = from_text(text_of("twin-motor-launch"))
    assert (design.boat.hull_mass, design.boat.displacement) == (None, None)
    assert [mount.cowl_half_width for mount in design.mounts] == [None, None]


def test_number_1_gets_ring_spanners_without_a_handle():
    design = from_text(text_of("shallow-well-skiff"))
    spanners = [hardware.spanner for hardware in (design.mounts[0].upper_hardware, design.mounts[0].lower_hardware)]
    assert [(spanner.length, spanner.handle, spanner.swing) for spanner in spanners] == [(None, None, 30.0)] * 2


def test_number_1_gets_the_limit_of_the_top_edge_and_no_second_readings():
    design = from_text(text_of("shallow-well-skiff"))
    assert design.limits.top_edge == (44.45, 50.8)  # 1-3/4 and 2 in: common practice
    assert design.readings
    assert all(reading.second is None for reading in design.readings.values())


def test_a_file_of_number_2_gets_the_limits_of_its_unit():
    """An inch and 25 mm in front of a socket, half an inch and 12 mm to insert a bolt: our assumption."""
    skiff, boat = (from_text((FILES / "number_2" / f"{name}.boltwell").read_text("utf-8"))
                   for name in ("shallow-well-skiff", "tapered-work-boat"))  # fmt: skip
    assert (skiff.units, skiff.limits.socket_room, skiff.limits.feed) == ("in", (0.0, 25.4), (0.0, 12.7))
    assert (boat.units, boat.limits.socket_room, boat.limits.feed) == ("mm", (0.0, 25.0), (0.0, 12.0))
    assert (skiff.assumptions.wide_swing, skiff.limits.clamp) == (60.0, (1.0, 0.75))


def test_a_later_field_changes_the_printed_number_only_away_from_its_default():
    design = from_text(text_of("shallow-well-skiff"))
    stricter = replace(design, limits=replace(design.limits, top_edge=(44.45, 63.5)))
    assert fingerprint(stricter) != fingerprint(design)
    key, reading = next(iter(design.readings.items()))
    again = replace(design, readings={**design.readings, key: replace(reading, second=1.0)})
    assert fingerprint(again) != fingerprint(design)


@pytest.mark.parametrize("field", ADDED, ids=lambda field: field.path)
def test_a_field_of_the_newest_number_is_refused_in_an_older_file(field):
    newest = json.loads(to_text(from_text(text_of("shallow-well-skiff"))))
    older = {**newest, "boltwell": field.number - 1}
    with pytest.raises(DesignError, match="which is not known"):
        from_text(json.dumps(older))


@pytest.mark.parametrize("field", ADDED, ids=lambda field: field.path)
def test_a_field_of_the_newest_number_has_to_be_there(field):
    boat = add_old_hole(with_drilled(from_text(text_of("shallow-well-skiff")), 0), (60.0, -90.0))
    content = json.loads(to_text(boat))
    group = content
    *steps, name = field.path.split(".")
    for step in steps:
        group = group[step] if step != "*" else group[0] if isinstance(group, list) else next(iter(group.values()))
    del group[name]
    with pytest.raises(DesignError, match=f"lacks the field {name}"):
        from_text(json.dumps(content))


def test_a_made_up_field_is_added_step_by_step_and_left_out_at_its_default():
    """Which wrong program this catches: one that skips a step, or that counts a default in the printed number."""
    added = (*ADDED, Added(NEWEST + 1, "old_holes.*.lined", False), Added(NEWEST + 1, "made_up", {"list": [1.0, 2.0]}))
    head = json.loads(text_of("thrice-drilled-runabout"))
    before = json.loads(json.dumps(head))
    newer = upgraded(head, added, newest=NEWEST + 1)
    assert newer["boltwell"] == NEWEST + 1
    assert newer["limits"]["top_edge"] == [44.45, 50.8]
    assert len(newer["old_holes"]) > 1
    assert all(hole["lined"] is False for hole in newer["old_holes"])
    assert newer["made_up"] == {"list": [1.0, 2.0]}
    newer["old_holes"][0]["lined"] = True
    bare = without_defaults(newer, added)
    assert [hole.get("lined") for hole in bare["old_holes"]] == [True, *[None] * (len(bare["old_holes"]) - 1)]
    del bare["old_holes"][0]["lined"]
    assert {**bare, "boltwell": 1} == before


def test_a_file_of_number_1_that_is_damaged_is_refused_by_its_place():
    content = json.loads(text_of("shallow-well-skiff"))
    content["limits"] = 5
    with pytest.raises(DesignError, match="limits holds"):
        from_text(json.dumps(content))
    content = json.loads(text_of("shallow-well-skiff"))
    content["transom"]["rake"] = "steep"
    with pytest.raises(DesignError, match=r"transom\.rake holds text, and a number"):
        from_text(json.dumps(content))


def test_tilt_points_of_number_1_become_places_of_the_motors_tilt_and_keep_the_printed_number():
    """They were a radius and an angle each. A half width makes it another motor, with another number."""
    content = json.loads(text_of("shallow-well-skiff"))
    bare = fingerprint(from_text(json.dumps(content)))
    content["mounts"][0]["tilt_points"] = [[420.0, 10.0], [150.0, None]]
    design = from_text(json.dumps(content))
    places = [(point.radius, point.angle, point.half_width) for point in design.mounts[0].tilt.points]
    assert places == [(420.0, 10.0, None), (150.0, None, None)]
    assert from_text(to_text(design)) == design
    others = (design, replace_tilt(design, lock=30.0), replace_tilt(design, points=()))
    numbers = {bare, *map(fingerprint, others)}
    assert len(numbers) == 3
    assert without_defaults(json.loads(to_text(design)))["mounts"][0]["tilt_points"] == [[420.0, 10.0], [150.0, None]]


def replace_tilt(design, **values):
    mount = design.mounts[0]
    return replace(design, mounts=(replace(mount, tilt=replace(mount.tilt, **values)),))


@pytest.mark.parametrize(("points", "place"), [(5, "tilt"), ([5], "points"), ([["far", 1.0]], "radius"), ([[1.0]], "points")])
def test_damaged_tilt_points_are_refused_by_their_place(points, place):
    content = json.loads(text_of("shallow-well-skiff"))
    content["mounts"][0]["tilt_points"] = points
    with pytest.raises(DesignError, match=place):
        from_text(json.dumps(content))


def test_number_1_without_its_tilt_points_is_refused():
    content = json.loads(text_of("shallow-well-skiff"))
    del content["mounts"][0]["tilt_points"]
    with pytest.raises(DesignError, match="lacks the field tilt"):
        from_text(json.dumps(content))
