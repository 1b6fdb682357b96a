"""An entry's refusals: in the chosen unit, in a person's words, and with a figure that can be typed instead."""

from __future__ import annotations

import re

import pytest

from app.entries.entry_text import lines
from app.entries.refusals import plain_refusal
from app.entries.typed_entries import label, stepped, typed
from assets import design_names, design_text
from geometry.design.design import Design
from geometry.design.validity import NonsenseError
from geometry.design_text import from_text, to_text
from geometry.edits.choices import choices
from geometry.edits.edits import move_corner, set_units, with_mount
from geometry.edits.starting_shapes import blank, guess, starts
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.readings.measures import measure, put_path
from tests.app.test_words import NEVER

BOATS = {
    **{name: from_text(design_text(name)) for name in design_names()},
    **{start.title: start.design for start in starts()[:2]},
    "blank": blank(),
}
NONSENSE = ("-5", "0", "1/2", "12", "45", "80", "12000", "abc", "9" * 60, "")
INCH = "Cut-out, shallow well"
STEP = {"in": "1/64 in", "mm": "0.1 mm"}  # the step of a length


def entries(design: Design) -> set[str]:
    """Return the keys of all that can be typed into."""
    mounts = range(max(1, len(design.mounts)))
    card_lines = (line for mount in mounts for number in range(1, 9) for line in lines(design, mount, number))
    return {line.key for line in card_lines if line.key and not line.shape}


def answer(design: Design, key: str, text: str) -> str:
    """Return what an entry says to a text; "" where it takes it."""
    try:
        typed(design, key, text)
    except OwnerError as sentence:
        return str(sentence)
    return ""


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("name", BOATS)
def test_a_refusal_speaks_as_a_person_does_and_says_what_can_be_typed(name: str, units: str) -> None:
    """No key of a file, no unit but the chosen one, no word that blames.

    A figure with "or more" or "or less" is accepted itself. Of lengths "above" or "below", the next step is accepted.
    """
    design, tried = set_units(BOATS[name], "in" if units == "in" else "mm"), 0
    other = r"\bmm\b|\bkg\b" if units == "in" else r"\d in\b|\blb\b|\bpsi\b"
    for key in entries(design):
        entry = measure(design, key)
        for said in filter(None, (answer(design, key, text) for text in NONSENSE)):
            assert said.endswith("."), said
            assert not re.search(r"'|[a-z]_|[a-z]\.[a-z0-9]|\brow 0\b|null|profile|\[", said), (key, said)
            assert not any(word in re.findall(r"[a-z]+", said.lower()) for word in NEVER), said
            assert re.search(r"[Ww]rite |Check the figure|Type one", said), (key, said)
            own = re.sub(r"Did you mean [0-9.]+ (in|mm)\?", "", said)  # the one place for the other unit
            assert "does not read" in said or not re.search(other, own), (key, said)
            if match := re.search(r"Write ([^;]+) or (?:more|less)\.$", said):
                assert answer(design, key, match[1]) == "", (key, said)
                tried += 1
            elif (match := re.search(r"Write a figure (above|below) (.+)\.$", said)) and entry and entry.kind == "length":
                step = f"{match[2]} {'+' if match[1] == 'above' else '-'} {STEP[units]}".replace("−", "-")
                assert answer(design, key, step) == "", (key, said, step)
                tried += 1
    assert tried > (10 if design.mounts else 2)


@pytest.mark.parametrize("name", BOATS)
def test_an_emptied_entry_is_not_known(name: str) -> None:
    """In one named step; it outlives the file, and what rests on it says so instead of failing."""
    design = BOATS[name]
    for key in entries(design):
        entry = measure(design, key)
        assert entry is not None
        said = answer(design, key, "")
        if said:
            what = "bracket" if ".bracket." in key else "outline"
            assert what == "bracket" or ".outline." in key, (key, said)
            assert said == f"Without this figure there is no {what}. Type one, or press Escape."
            continue
        emptied = typed(design, key, "")
        assert key not in emptied.readings
        assert check(emptied).verdict
        assert from_text(to_text(emptied)) == emptied, key
        left = measure(emptied, key)
        if left is not None:  # a washer that is not cut has no such entry
            assert left.get(emptied) is None, key
            left_out = ("known", "measured", "read", "drilled", "opened")
            endings = (*(f" to not {word}" for word in left_out), " to none", " to by the table", " to without end")
            assert label(emptied, key).endswith(endings), key
            assert typed(emptied, key, "not known") == emptied


def test_the_floor_of_a_well_is_emptied_side_by_side() -> None:
    """The line of a floor needs both its depths; while one lacks, the other is kept as it was read, 9 1/2 in."""
    port, starboard, width = "well.floor_port", "well.floor_starboard", "well.floor_width"

    def reads(design: Design) -> list[float | None]:
        floor = (measure(design, key) for key in (port, starboard, width))
        return [None if entry is None or (value := entry.get(design)) is None else round(value / 25.4, 6) for entry in floor]

    design = typed(typed(BOATS["shallow-well-skiff"], port, "9 1/8"), starboard, "9 1/2")
    emptied = typed(design, port, "")
    assert reads(emptied) == [None, 9.5, reads(design)[2]]
    assert reads(from_text(to_text(emptied))) == reads(emptied)
    assert reads(typed(emptied, port, "9 1/8")) == reads(design)
    narrow = typed(design, width, "")
    assert reads(narrow) == [9.125, 9.5, None]
    assert reads(typed(narrow, width, "18")) == [9.125, 9.5, 18.0]
    assert reads(typed(emptied, starboard, ""))[:2] == [None, None]


def test_a_side_of_the_floor_that_was_dragged_since_is_kept_where_it_is() -> None:
    """Read at 9 1/2 in, then both corners dragged 1/2 in down: 10 in, and no reading says so."""
    starboard = "well.floor_starboard"
    design = typed(BOATS["shallow-well-skiff"], starboard, "9 1/2")
    for corner in (1, 2):
        assert design.well is not None
        u, y = design.well.profile[corner]
        assert u is not None
        assert y is not None
        design = move_corner(design, "well.profile", corner, (u, y - 12.7))
    kept = measure(design, starboard)
    emptied = typed(design, "well.floor_port", "")
    assert kept is not None
    assert kept.get(emptied) == pytest.approx(254.0, abs=1e-9)


def test_a_first_depth_of_the_floor_is_a_guess_for_the_other_side() -> None:
    port, starboard = "well.floor_port", "well.floor_starboard"
    design = typed(typed(typed(BOATS["shallow-well-skiff"], port, ""), starboard, ""), port, "9 1/8")
    assert [design.readings[key].state for key in (port, starboard)] == ["measured", "guess"]
    assert typed(design, port, "").readings.keys() & {port, starboard} == set()  # a guess that followed goes along


def test_a_step_that_goes_too_far_says_how_far_it_goes() -> None:
    design = put_path(set_units(BOATS[INCH], "mm"), "mounts.0.leg", 1.0)  # a guess: what was measured is not stepped
    with pytest.raises(OwnerError, match=r'^"0 mm" can’t be right. Write a figure above 0[.]$'):
        stepped(design, "mounts.0.leg", -1)
    top = put_path(design, "mounts.0.row", 0)
    with pytest.raises(OwnerError, match=r'^"0" can’t be right. This bracket has 5 upper holes. Write 1 or more[.]$'):
        stepped(top, "mounts.0.row", -1)


@pytest.mark.parametrize(("units", "key", "text", "asked"), [
    ("in", "well.fillet_radius", "19.05", "Did you mean 19.05 mm?"), ("in", "well.fillet_radius", "19.05 in", ""),
    ("in", "well.fillet_radius", "90", ""), ("mm", "transom.height", "0", ""),
    ("in", "well.floor_port", "230", "Did you mean 230 mm?"), ("in", "well.floor_port", "230 5/32", ""),
])  # fmt: skip
def test_a_refused_figure_that_fits_the_other_unit_is_asked_about(units: str, key: str, text: str, asked: str) -> None:
    """A radius is at most 1 1/2 in, a floor is 6 to 14 in deep: common practice. A figure with its unit is meant so."""
    said = answer(set_units(BOATS[INCH], "in" if units == "in" else "mm"), key, text)
    assert said.startswith(f'"{text}" can’t be right.')
    assert ("Did you mean" in said) == bool(asked)
    assert asked in said


@pytest.mark.parametrize("name", BOATS)
def test_no_choice_is_refused_and_if_one_were_the_reason_is_plain(name: str) -> None:
    design = BOATS[name]
    for mount in range(max(1, len(design.mounts))):
        for choice in choices(design, mount):
            for index in range(len(choice.options)):
                assert check(choice.put(index)).verdict
    sentence = NonsenseError("low_at is 5; it is measured downward", "it is measured downward")
    assert plain_refusal(sentence) == "It is measured downward."
    assert plain_refusal(OwnerError("The hole's diameter comes first.")) == "The hole’s diameter comes first."


@pytest.mark.parametrize(
    ("core", "units", "text", "most"),
    [("fir plywood", "in", "999999 psi", "7250 psi"), ("balsa", "mm", "60", "50 N/mm²"),
     ("aluminium", "mm", "401", "400 N/mm²")],
)
def test_no_core_supports_more_than_any_wood(core: str, units: str, text: str, most: str) -> None:
    """50 N/mm2 for wood and foam, 7,252 psi at 6.894757 N/mm2 to the ksi, to the nearest 10. All else 400: our assumption."""
    design = typed(set_units(BOATS["shallow-well-skiff"], "in" if units == "in" else "mm"), "transom.core_bears", "")
    design = put_path(design, "transom.core", core)
    said_so = f'"{text}" can’t be right. No core of its kind supports more. Write {most} or less.'
    assert answer(design, "transom.core_bears", text) == said_so
    filed = put_path(design, "transom.core_bears", 6894.0)
    assert from_text(to_text(filed)) == filed  # what a file holds is still read


def test_a_mass_is_shown_and_taken_in_the_unit_that_goes_with_lengths() -> None:
    """98 kg are 216.05 lb (NIST SP 811, appendix B.8); the file keeps kilograms, and an arrow moves by one of what is shown."""
    inch, key = BOATS["shallow-well-skiff"], "mounts.0.mass"
    metric = set_units(inch, "mm")
    shown = [next(line.rest for line in lines(design, 0, 5) if line.key == key) for design in (inch, metric)]
    assert shown == ["216 lb", "98 kg"]
    assert typed(inch, key, "200").mounts[0].mass == pytest.approx(200 * 0.45359237, abs=1e-9)
    assert typed(metric, key, "90").mounts[0].mass == 90.0
    mass = measure(inch, key)
    assert mass is not None
    assert stepped(guess(inch, (mass,)), key, 1).mounts[0].mass == pytest.approx(98 + 0.45359237, abs=1e-9)
    turned = next(line for line in lines(set_units(typed(inch, key, "200"), "mm"), 0, 5) if line.key == key)
    assert (turned.rest, turned.edit) == ("90.7 kg", "200 lb")  # as typed, in its own unit
    assert [guess(design, (mass,)).readings[key].text for design in (inch, metric)] == shown


def test_a_pilots_entry_is_named_by_what_its_distance_is_measured_to() -> None:
    """Without a well there is no washer's mark: a new pilot's distance is to the part in the way, and is above 0.

    To a washer's mark it may be below 0. No figure that is refused as well is asked about: -5 mm is no distance either.
    """
    key = "mounts.0.second.pilot_lower_port"
    launch, skiff = (measure(BOATS[name], key) for name in ("cap-lip-launch", "shallow-well-skiff"))
    assert launch is not None
    assert skiff is not None
    assert (launch.name, skiff.name) == ("Lower port pilot, to the part in the way", "Lower port pilot, to the washer’s mark")
    assert answer(BOATS["cap-lip-launch"], key, "-5") == '"-5" can’t be right. Write a figure above 0.'
    assert answer(BOATS["shallow-well-skiff"], key, "-1/8") == ""


def test_a_bracket_is_not_turned_inside_out() -> None:
    """Its top corners 40 in down are below its foot, and no two sides cross."""
    corner = "mounts.0.bracket.outline.1.1"
    said = answer(BOATS["shallow-well-skiff"], corner, "40")
    assert re.fullmatch('"40" can’t be right. .*. Write .* (or less|below .*).', said), said
    folded = ((-190.0, -1016.0), (190.0, -1016.0), (190.0, -120.0), (150.0, -350.0), (-150.0, -350.0), (-190.0, -120.0))
    skiff = BOATS["shallow-well-skiff"]
    bracket = type(skiff.mounts[0].bracket)
    fields = {name: getattr(skiff.mounts[0].bracket, name) for name in bracket.__struct_fields__}
    kept = with_mount(skiff, 0, bracket=bracket(**{**fields, "outline": folded}))
    assert from_text(to_text(kept)) == kept  # a file that has it so is read all the same


HULL = "with this height, deadrise and floor depth the well’s floor would be below the hull’s bottom"
SLOPE = "the floor would slope more than 15° from port to starboard; if the other side is wrong, empty its entry first"
MEASURED = (("transom.height", "19 1/2 in"), ("transom.deadrise", "10"), ("well.floor_port", "9 in"),
            ("well.floor_starboard", "9 in"), ("well.fillet_radius", "1/2 in"), ("transom.thickness.top", "1 1/2 in"),
            ("transom.skin_inside", "1/4 in"))  # fmt: skip


@pytest.mark.parametrize(
    ("key", "text", "why", "inch", "metric"),
    [
        ("well.floor_port", "90 in", "no boat reaches so far", "write 60 in or less", "write 1524 mm or less"),
        ("well.floor_port", "-5 in", "", "write a figure above 0", "write a figure above 0"),
        ("well.floor_port", "19 in", SLOPE, "write 11 5/8 in or less", "write 295 mm or less"),
        ("well.fillet_radius", "25 in", "no small boat has so much", "write 12 in or less", "write 304 mm or less"),
        ("well.fillet_radius", "9 in", "the well is not so deep", "write a figure below 9 in", "write 228 mm or less"),
        ("transom.height", "5 in", HULL, "write 8 9/16 in or more", "write 218 mm or more"),
        ("transom.skin_outside", "2 in", "the transom is at least as thick as both its skins together",
         "write 1 1/4 in or less", "write 31 mm or less"),
        ("mounts.0.bracket.lower.half_spacing", "1 mm", "two bolts side by side need more room than that",
         "write a figure above 1/4 in", "write 7 mm or more"),
    ],
)  # fmt: skip
def test_what_can_not_be_is_refused_in_the_owners_unit(key: str, text: str, why: str, inch: str, metric: str) -> None:
    """What, why, and what would be taken; how the figures come about: `tests/geometry/test_possible.py`.

    The floor, 9 in along a face that leans 14° and tapers 1/4 in over 10, is 8.675 in down; 4.9375 tan 10° more, an inch less.
    """
    for units, bound in (("in", inch), ("mm", metric)):
        design = set_units(BOATS[INCH], "in" if units == "in" else "mm")
        for known, read in MEASURED if why and not why.startswith("no ") else ():
            design = typed(design, known, read)
        said = answer(design, key, text)
        assert said == f'"{text}" can’t be right. {". ".join(part[0].upper() + part[1:] for part in (why, bound) if part)}.'
