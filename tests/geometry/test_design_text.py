"""A design as text: what is written is read again, and what can't be read is refused in words that help."""

import json
import math
import re

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from assets import design_names, design_text
from geometry.design.design import Reading
from geometry.design.file_editions import NEWEST
from geometry.design.validity import LARGEST, NonsenseError
from geometry.design_text import MOST_BYTES, DesignError, fingerprint, from_text, to_text
from geometry.readings.measures import measures
from tests.designs import changed, clamp_on_mount, designs, example_design, numbers_of

TEXT = design_text("shallow-well-skiff")
SKIFF = from_text(TEXT)
BOATS = {name: from_text(design_text(name)) for name in design_names()}
NEVER = ("error", "invalid", "please", "successfully", "oops", "must")
GONE = object()
READING = {"text": "1", "value": 1.0, "from": "centre", "how": "tape", "state": "guess", "spread": None, "second": None}
MOTOR = ("mounts", 0)
LOWER = (*MOTOR, "lower_hardware")
PLATE = {
    "outline": [[-9, -9], [9, -9], [9, 9]],
    "thickness": 6,
    "relief": [0, 0],
    "material": "steel",
    "joins": ["lower port"],
}


def refusal(raw):
    """Return what is said when ``raw`` is read, having looked at how it is said."""
    with pytest.raises(DesignError) as refused:
        from_text(raw)
    said = str(refused.value)
    assert said.endswith(".")
    assert "\n" not in said
    assert len(re.findall(r"\. [A-Z]", said)) <= 1, "one sentence, or two"
    assert len(said) <= 240
    assert not [word for word in NEVER if re.search(rf"\b{word}\b", said, re.IGNORECASE)]
    ours = re.sub(r'"(?:[^"\\]|\\.)*"', '""', said)  # what is quoted from the text may be anything
    assert not re.search(r"\bgot\b|`|\bNone\b|\bTrue\b|\$|Expected", ours), "a decoder's own words"
    return said


def edited(*path, to):
    """Return the skiff's text with one value, by its path, put in another's place or taken out."""
    whole = json.loads(TEXT)
    holder = whole
    for step in path[:-1]:
        holder = holder[step]
    if to is GONE:
        del holder[path[-1]]
    else:
        holder[path[-1]] = to
    return json.dumps(whole)


def renamed(*path, to):
    whole = json.loads(TEXT)
    holder = whole
    for step in path[:-1]:
        holder = holder[step]
    holder[to] = holder.pop(path[-1])
    return json.dumps(whole)


def with_rake(written):
    assert '"rake": 15.0' in TEXT
    return TEXT.replace('"rake": 15.0', f'"rake": {written}', 1)


OTHER_FILES = {
    "cut off half-way": (TEXT[: len(TEXT) // 2], "breaks off at line 2"),
    "cut off within a word": (TEXT[: TEXT.index("washers overlap")], "breaks off at line 5"),
    "without its last bracket": (TEXT.rstrip()[:-1], f"breaks off at line {TEXT.count(chr(10))}"),
    "empty": ("", "is empty"),
    "only spaces": (" \n\t ", "is empty"),
    "a list": ("[1, 2]", "lacks the field boltwell"),
    "null": ("null", "lacks the field boltwell"),
    "a number": ("14.5", "lacks the field boltwell"),
    "a picture": (b"\x89PNG\r\n\x1a\n\0\0", "line 1"),
    "a page": (b"%PDF-1.7\n", "line 1"),
    "nothing but zeros": (b"\0" * 100, "line 1"),
    "another text behind it": (TEXT + "and more", f"line {TEXT.count(chr(10)) + 1}"),
    "not UTF-8": (TEXT.replace("In this small", "In this smäll").encode("latin-1"), "line 5"),
    "UTF-16": (TEXT.encode("utf-16"), "line 1"),
    "half a character": (TEXT.replace("In this", "\ud800 this"), "line 5"),
    "half a character, written out": (TEXT.replace("In this", "\\ud800 this"), "line 5"),
    "nested lists": ("[" * 100_000 + "]" * 100_000, "nested too deeply"),
    "nested lists, open": ("[" * 100_000, "nested too deeply"),
    "nested groups": ('{"a":' * 100_000 + "1" + "}" * 100_000, "nested too deeply"),
    "nested within a field": (
        TEXT.replace('"survey": null', f'"survey": {"[" * 5000}{"]" * 5000}'),
        "nested too deeply",
    ),
    "over 5 MB": (TEXT.ljust(MOST_BYTES + 1), "5.01 MB"),
}


@pytest.mark.parametrize("case", OTHER_FILES)
def test_a_file_that_is_no_whole_design_is_refused(case):
    raw, place = OTHER_FILES[case]
    assert place in refusal(raw)


HALF_NAMES = {
    "at the top": renamed("notes", to="\ud800"),
    "within": renamed("transom", "rake", to="ra\udc00ke"),
    "of a reading": edited("readings", to={"\ud800": {"state": "guess"}}),
    "twice": TEXT.replace('"name"', '"\\ud800": 1, "\\ud800": 2, "name"', 1),
    "above a field that stands twice": TEXT.replace('"name"', '"\\ud800": {"a": 1, "a": 2}, "name"', 1),
    "of a number without end": TEXT.replace('"name"', '"\\ud800": 1e999, "name"', 1),
}


@pytest.mark.parametrize("where", HALF_NAMES)
def test_half_a_character_in_a_field_s_name_is_refused_in_words_that_can_be_shown(where):
    assert refusal(HALF_NAMES[where]).encode()


VERSIONS = {
    "from the future": (NEWEST + 1, f"boltwell, is {NEWEST + 1},"),
    "0": (0, "boltwell is 0"),
    "below 0": (-3, "boltwell is -3"),
    "a fraction": (1.5, "boltwell is 1.5"),
    "text": ("1", 'boltwell is "1"'),
    "true": (True, "boltwell is true"),
    "null": (None, "boltwell is null"),
    "endless": (10**30, "boltwell is a number too large"),
    "missing": (GONE, "lacks the field boltwell"),
}


@pytest.mark.parametrize("case", VERSIONS)
def test_a_version_that_this_program_does_not_know_is_refused(case):
    version, place = VERSIONS[case]
    assert place in refusal(edited("boltwell", to=version))


def test_a_file_from_the_future_is_refused_for_its_version_with_any_content():
    whole = {**json.loads(TEXT), "boltwell": 7, "a new field": 1}
    said = refusal(json.dumps(whole))
    assert "newer Boltwell" in said
    assert "a new field" not in said


FIELDS = {
    "misspelt": (renamed("transom", "rake", to="raek"), 'transom has a field "raek"'),
    "misspelt on top": (renamed("notes", to="ntoes"), 'The design has a field "ntoes"'),
    "misspelt deep down": (
        renamed(*LOWER, "washer", "flat_cut", to="flatcut"),
        'mounts[0].lower_hardware.washer has a field "flatcut"',
    ),
    "endless name": (renamed("transom", "rake", to="x" * 5000), 'transom has a field "xxx'),
    "missing": (edited("transom", "rake", to=GONE), "transom lacks the field rake"),
    "missing on top": (edited("notes", to=GONE), "The design lacks the field notes"),
    "missing deep down": (edited(*LOWER, "nut", to=GONE), "mounts[0].lower_hardware lacks the field nut"),
    "text for a number": (edited("transom", "rake", to="14"), "transom.rake holds text, and a number"),
    "number for a text": (edited("name", to=3), "name holds a whole number, and text"),
    "word for yes or no": (
        edited("boat", "flat_bottom_hard_chines", to="no"),
        "boat.flat_bottom_hard_chines holds text",
    ),
    "list for a group": (edited("transom", to=[]), "transom holds a list, and a group of fields"),
    "group for a list": (edited("mounts", to={}), "mounts holds a group of fields, and a list"),
    "fraction for a count": (edited(*MOTOR, "row", to=1.5), "mounts[0].row holds a number, and a whole number"),
    "null for a limit": (edited("limits", "clearance", 0, to=None), "limits.clearance[0] holds null"),
    "null for a spread": (edited("spreads", "tape", to=None), "spreads.tape holds null"),
    "null for a slot": (
        edited(*MOTOR, "bracket", "lower", "slots", to=None),
        "mounts[0].bracket.lower.slots holds null",
    ),
    "half a corner": (edited("transom", "outline", 0, to=[1]), "transom.outline[0] holds a list of the wrong length"),
    "one limit": (edited("limits", "clearance", to=[1]), "limits.clearance holds a list of the wrong length, and 2"),
    "a word in a corner": (edited("transom", "outline", 0, to=[1, "x"]), "transom.outline[0][1] holds text"),
    "something not yet used": (edited("photo", to={}), "photo holds a group of fields, and null"),
    "a survey without its list": (edited("survey", to={}), "survey lacks the field distances"),
    "unknown unit": (edited("units", to="cm"), 'units is "cm", and "in" or "mm" was expected'),
    "unknown kind": (edited(*MOTOR, "bracket", "kind", to="glued"), 'mounts[0].bracket.kind is "glued", and "bolted"'),
    "unknown cut": (edited("transom", "top_cut", to="round"), '"level", "square" or a number was expected'),
    "unknown side": (edited(*LOWER, "inserted_from", to="above"), 'mounts[0].lower_hardware.inserted_from is "above"'),
    "endless word": (edited("units", to="c" * 5000), 'units is "ccc'),
    "unknown bolt": (edited(*LOWER, "bolt", to="5/8-11"), 'mounts[0].lower_hardware: there is no bolt "5/8-11"'),
    "endless bolt": (edited(*LOWER, "bolt", to="5" * 5000), 'mounts[0].lower_hardware: there is no bolt "555'),
    "unknown nut": (edited(*LOWER, "nut", to="wing"), 'mounts[0].lower_hardware: there is no nut "wing"'),
    "nut of another bolt": (edited(*LOWER, "nut", to="ISO 7040"), 'there is no nut "ISO 7040" for a 1/2-13 bolt'),
    "unknown grade": (edited(*LOWER, "grade", to="soft"), 'mounts[0].lower_hardware: there is no grade "soft"'),
    "unknown core": (edited("transom", "core", to="cork"), 'transom: there is no core "cork"'),
    "unknown name in a plate": (
        edited(*LOWER, "backing_plate", to={**PLATE, "joins": ["lower middle"]}),
        'mounts[0].lower_hardware.backing_plate.joins[0] is "lower middle"',
    ),
    "unknown reading": (edited("readings", "transom.colour", to=READING), 'readings has an entry "transom.colour"'),
    "reading of no motor": (edited("readings", "mounts.7.leg", to=READING), 'readings has an entry "mounts.7.leg"'),
    "endless reading": (edited("readings", "x" * 5000, to=READING), 'readings has an entry "xxx'),
    "reading in two lines": (edited("readings", "a\nb", to=READING), r'readings has an entry "a\nb"'),
    "reading's state": (
        edited("readings", "transom.rake", "state", to="sure"),
        'readings["transom.rake"].state is "sure"',
    ),
    "reading's value": (
        edited("readings", "transom.rake", "value", to="x"),
        'readings["transom.rake"].value holds text',
    ),
    "reading's spread": (edited("readings", "transom.rake", "spread", to=-1), 'readings["transom.rake"].spread is -1'),
    "readings in a list": (edited("readings", to=[]), "readings holds a list, and a group of fields"),
}


@pytest.mark.parametrize("case", FIELDS)
def test_a_field_that_is_not_as_it_should_be_is_named(case):
    raw, place = FIELDS[case]
    assert place in refusal(raw)


NUMBERS = {
    "NaN": (with_rake("NaN"), "transom.rake is NaN"),
    "Infinity": (with_rake("Infinity"), "transom.rake is a number too large"),
    "minus Infinity": (with_rake("-Infinity"), "transom.rake is a number too large"),
    "1e999": (with_rake("1e999"), "transom.rake is a number too large"),
    "1e300": (edited("transom", "height", to=1e300), "transom.height is a number too large"),
    "400 figures": (edited("transom", "height", to=10**400), "transom.height is a number too large"),
    "5000 figures": (with_rake("9" * 5000), "transom.rake is a number too large"),
    "endless count": (
        edited(*MOTOR, "bracket", "rows", "count", to=-(10**40)),
        "mounts[0].bracket.rows.count is a number",
    ),
    "endless revision": (edited("revision", to=10**40), "revision is a number too large"),
    "NaN in a corner": (TEXT.replace("-685.8", "NaN", 1), "transom.outline[0][0] is NaN"),
}


@pytest.mark.parametrize("case", NUMBERS)
def test_a_number_that_is_none_is_refused_by_name(case):
    raw, place = NUMBERS[case]
    assert place in refusal(raw)


BOW_TIE = [[-10, 0], [10, -10], [10, 0], [-10, -10]]
NONSENSE = {
    "outline crosses itself": (edited("transom", "outline", to=BOW_TIE), "transom.outline crosses itself"),
    "outline of two corners": (edited("transom", "outline", to=[[-9, 0], [9, 0]]), "transom.outline has 2 corners"),
    "outline off the datum": (
        edited("transom", "outline", to=[[-9, 5], [9, 5], [0, -50]]),
        "transom.outline's top at u = 0",
    ),
    "outline off the centreline": (
        edited("transom", "outline", to=[[5, 0], [9, 0], [9, -9]]),
        "transom.outline does not reach the centreline",
    ),
    "block crosses itself": (
        edited("inside_blocks", 0, "outline", to=BOW_TIE),
        "inside_blocks[0].outline crosses itself",
    ),
    "profile doubles back": (
        edited("well", "profile", to=[[-266, 0], [-250, -246], [250, -252], [200, -99], [266, 0]]),
        "well.profile doubles back at corner 4",
    ),
    "profile from starboard": (
        edited("well", "profile", to=[[266, 0], [250, -246], [-250, -246], [-266, 0]]),
        "well.profile doubles back at corner 2",
    ),
    "well without width": (
        edited("well", "profile", to=[[9, -20], [9, -120], [9, -200], [9, -250]]),
        "well.profile has no width",
    ),
    "well above the transom": (
        edited("well", "profile", to=[[-266, 99], [-250, 10], [250, 10], [266, 99]]),
        "well.profile is above the transom's top",
    ),
    "slot upside down": (
        edited(*MOTOR, "bracket", "lower", "slots", to=[[279.4, 203.2]]),
        "mounts[0].bracket.lower: slot [279.4, 203.2]",
    ),
    "no slots": (edited(*MOTOR, "bracket", "lower", "slots", to=[]), "mounts[0].bracket.lower.slots is empty"),
    "bore outside the rim": (
        edited(*LOWER, "washer", "inner", to=40),
        "mounts[0].lower_hardware.washer: the bore (40 mm)",
    ),
    "flat cut into the nut": (edited(*LOWER, "washer", "flat_cut", to=9), "mounts[0].lower_hardware: flat_cut is 9 mm"),
    "hole too small": (edited(*LOWER, "hole", to=5), "mounts[0].lower_hardware.hole is 5 mm"),
    "friction upside down": (
        edited(*LOWER, "friction", to=[0.3, 0.1]),
        "mounts[0].lower_hardware.friction runs from 0.3",
    ),
    "corners within flats": (
        edited(*LOWER, "nut_sizes", to={"flats": 20, "corners": 10, "height": 5}),
        "mounts[0].lower_hardware.nut_sizes.corners (10 mm)",
    ),
    "relief through the plate": (
        edited(*LOWER, "backing_plate", to={**PLATE, "relief": [3, 9]}),
        "mounts[0].lower_hardware.backing_plate.relief goes 9 mm",
    ),
    "plate without bolts": (
        edited(*LOWER, "backing_plate", to={**PLATE, "joins": []}),
        "mounts[0].lower_hardware.backing_plate.joins is empty",
    ),
    "name too long": (edited("name", to="x" * 201), "name has 201 characters"),
    "row beyond the last": (edited(*MOTOR, "row", to=5), "mounts[0].row is 5; for this bracket it is 0 to 4"),
    "row above the first": (edited(*MOTOR, "row", to=-1), "mounts[0].row is -1"),
    "upper holes above the top": (edited(*MOTOR, "upper_at", to=5), "mounts[0].upper_at is 5"),
    "clamp-on with rows": (
        edited(*MOTOR, "bracket", "kind", to="clamp-on"),
        "mounts[0].bracket: a clamp-on bracket has no",
    ),
    "bolted without rows": (
        edited(*MOTOR, "bracket", "rows", to=None),
        "mounts[0].bracket: a bolted bracket needs rows",
    ),
    "bolted without hardware": (edited(*LOWER, to=None), "mounts[0]: a bolted bracket needs upper_hardware"),
    "rake of a ramp": (edited("transom", "rake", to=70), "transom.rake is 70"),
    "cut of a ramp": (edited("transom", "top_cut", to=-60), "transom.top_cut is -60"),
    "floor of a ramp": (edited("well", "floor_rise", to=-50), "well.floor_rise puts the floor 65.0°"),
    "low place above the top": (edited("transom", "thickness", "low_at", to=10), "transom.thickness.low_at is 10"),
    "no thickness": (edited("transom", "thickness", "top", to=0), "transom.thickness.top is 0"),
    "spread below 0": (edited("spreads", "tape", to=-1), "spreads.tape is -1"),
    "revision below 0": (edited("revision", to=-1), "revision is -1"),
    "plug within its hole": (
        edited(
            "old_holes",
            to=[
                {"name": "old", "at": [0, -50], "diameter": 20, "state": "plugged", "plug_diameter": 10, "reuse": False,
                 "drill": None}
            ],
        ),
        "old_holes[0].plug_diameter (10 mm)",
    ),
}


@pytest.mark.parametrize("case", NONSENSE)
def test_impossible_values_are_refused_by_name(case):
    raw, place = NONSENSE[case]
    assert refusal(raw).startswith(place)


def test_a_clamp_on_bracket_with_bolts_is_refused():
    whole = json.loads(TEXT)
    clamped = {**whole["mounts"][0]["bracket"], "kind": "clamp-on", "rows": None, "lower": None}
    whole["mounts"][0]["bracket"] = clamped
    assert refusal(json.dumps(whole)).startswith("mounts[0]: a clamp-on bracket has no bolts")


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ('"drop":', '"drop": 7.0, "drop":', 'mounts[0] has the field "drop" twice.'),
        ('"name": "', '"name": "another", "name": "', 'The design has the field "name" twice.'),
        ('"rake":', '"rake": 3, "r\\u0061ke":', 'transom has the field "rake" twice.'),
        ('"readings": {', '"readings": {"a": 1, "a": 1', 'readings has the field "a" twice.'),
    ],
)
def test_a_field_that_is_there_twice_is_refused_by_name(old, new, sentence):
    """The last would win in silence."""
    text = to_text(example_design())
    with pytest.raises(DesignError) as refused:
        from_text(text.replace(old, new, 1))
    assert str(refused.value) == f"{sentence} Take one of them out."


def test_a_colon_in_a_text_is_no_field():
    noted = replace(example_design(), notes='He said: "so": it is, "drop": 7')
    assert from_text(to_text(noted)) == noted


def test_the_largest_name_and_the_largest_file_are_still_read():
    assert len(from_text(edited("name", to="x" * 200)).name) == 200
    assert from_text(TEXT.ljust(MOST_BYTES)) == SKIFF


def test_order_of_fields_and_a_byte_order_mark_are_free():
    backwards = json.dumps(dict(reversed(json.loads(TEXT).items())))
    assert from_text(backwards) == SKIFF
    assert from_text(b"\xef\xbb\xbf" + TEXT.encode()) == SKIFF


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 2.0 * LARGEST])
def test_a_number_that_can_not_be_read_again_is_never_written(value):
    """A length such as the height is refused in its field; the value of a reading alone has no range."""
    with pytest.raises(NonsenseError):
        changed(SKIFF, transom__height=value)
    reading = replace(SKIFF.readings["transom.rake"], value=value)
    with pytest.raises(DesignError, match=r'^readings\["transom\.rake"\]\.value is '):
        to_text(replace(SKIFF, readings={**SKIFF.readings, "transom.rake": reading}))


def test_a_text_that_can_not_be_read_again_is_never_written():
    with pytest.raises(DesignError, match="half a character"):
        to_text(replace(SKIFF, name="\ud800"))
    with pytest.raises(DesignError, match="5 MB"):
        to_text(replace(SKIFF, notes="x" * MOST_BYTES))


@given(st.data())
def test_a_damaged_file_is_read_or_refused_and_nothing_else(data):
    raw = TEXT.encode()
    start = data.draw(st.integers(0, len(raw)))
    end = data.draw(st.integers(start, min(len(raw), start + 40)))
    damaged = raw[:start] + data.draw(st.binary(max_size=8)) + raw[end:]
    try:
        assert to_text(from_text(damaged))
    except DesignError:
        refusal(damaged)


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=2),
    max_leaves=4,
)


def every_path(value, path=()):
    """Yield the path of everything inside a nested value."""
    steps = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, inner in steps:
        yield (*path, step)
        yield from every_path(inner, (*path, step))


@given(st.sampled_from(sorted(every_path(json.loads(TEXT)), key=str)), JSON)
def test_anything_in_any_place_is_read_or_refused_and_nothing_else(path, value):
    raw = edited(*path, to=value)
    try:
        assert from_text(to_text(from_text(raw))) == from_text(raw)
    except DesignError:
        refusal(raw)


@st.composite
def edits(draw):
    """Draw a demonstration boat with a few of its measures set again, or not measured yet."""
    design = BOATS[draw(st.sampled_from(sorted(BOATS)))]
    for _ in range(draw(st.integers(0, 4))):
        try:
            if draw(st.booleans()):
                path = draw(st.sampled_from(numbers_of(design)))
                design = changed(design, **{path.replace(".", "__"): None})
            else:
                rows = draw(st.sampled_from([row for row in measures(design) if row.kind != "shape"]))
                bounds = (0, 5) if rows.kind == "count" else (-1000, 1000)
                design = rows.set(design, draw(st.floats(*bounds) | st.integers(*bounds).map(float)))
        except NonsenseError:
            assume(False)
    return replace(design, name=draw(st.text(st.characters(codec="utf-8"), max_size=200)), notes=draw(st.text()))


def is_same(design):
    """Return whether a design is written, read again and written again without a difference.

    But for readings of what it has no more, such as how far a block sticks out that now goes on without end.
    """
    again = from_text(to_text(design))
    assert again == replace(design, readings=again.readings)
    assert again.readings.items() <= design.readings.items()
    assert again.readings.keys() == design.readings.keys() & {row.key for row in measures(design)}
    assert to_text(again) == to_text(design)
    return fingerprint(again) == fingerprint(design)


@given(edits())
def test_what_is_saved_is_loaded_again(design):
    assume(design.notes.isprintable())
    assert is_same(design)


@given(designs())
@settings(max_examples=50)
def test_any_design_that_is_saved_is_loaded_again(design):
    assert is_same(design)


def test_readings_of_what_is_gone_are_not_written_and_do_not_count():
    twins = BOATS["twin-motor-launch"]
    single = replace(twins, mounts=twins.mounts[:1])
    assert "mounts.1.leg" in single.readings
    again = from_text(to_text(single))
    assert again.readings == {key: reading for key, reading in twins.readings.items() if key != "mounts.1.leg"}
    assert fingerprint(again) == fingerprint(single)


@pytest.mark.parametrize("name", BOATS)
def test_every_demonstration_boat_is_the_same_after_saving(name):
    assert is_same(BOATS[name])


def test_a_clamp_on_motor_is_the_same_after_saving():
    assert is_same(replace(SKIFF, mounts=(clamp_on_mount(),)))


def test_a_fingerprint_is_eight_letters_and_figures_that_are_not_misread():
    assert re.fullmatch(r"[2-9A-HJKMNP-Z]{4}-[2-9A-HJKMNP-Z]{4}", fingerprint(SKIFF))
    assert len({fingerprint(boat) for boat in BOATS.values()}) == len(BOATS)


def test_the_fingerprint_stays_with_what_moves_nothing():
    said = {key: replace(reading, text="about that") for key, reading in SKIFF.readings.items()}
    for same in (
        replace(SKIFF, name="another"),
        replace(SKIFF, notes=""),
        replace(SKIFF, units="mm"),
        replace(SKIFF, revision=7),
        replace(SKIFF, demonstration=False),
        replace(SKIFF, readings=said),
        replace(SKIFF, readings=dict(reversed(SKIFF.readings.items()))),
        changed(SKIFF, transom__rake=15),
        changed(SKIFF, mounts__0__offset=-0.0),
    ):
        assert fingerprint(same) == fingerprint(SKIFF)


@pytest.mark.parametrize("name", BOATS)
def test_the_fingerprint_changes_with_every_measured_number(name):
    design = BOATS[name]
    seen = {fingerprint(design)}
    paths = numbers_of(design)
    for path in paths:
        seen.add(fingerprint(changed(design, **{path.replace(".", "__"): None})))
    assert len(paths) > 60
    assert len(seen) == len(paths) + 1


WORDS = {
    "transom__top_cut": "square",
    "transom__core": "balsa",
    "well__well_from": "datum",
    "well": None,
    "inside_blocks": (),
    "outside_fittings": (),
    "mounts__0__row": 2,
    "mounts__0__bracket__rows__pitch": 19.0,
    "mounts__0__bracket__lower__slots": ((203.2, 279.0),),
    "mounts__0__lower_hardware__bolt": "1/2-20",
    "mounts__0__lower_hardware__nut": "ASME B18.2.2 hex",
    "mounts__0__lower_hardware__grade": "A2-70",
    "mounts__0__lower_hardware__inserted_from": "inside",
    "mounts__0__lower_hardware__length": 88.9,
    "mounts__0__lower_hardware__washer__flat_cut": 12.0,
    "limits__clearance": (0.0, 2.5),
    "limits__slot_end": (0.1, 0.8),
    "spreads__tape": 0.9,
    "mounts": (),
}


@pytest.mark.parametrize("place", WORDS)
def test_the_fingerprint_changes_with_every_choice_and_limit(place):
    assert fingerprint(changed(SKIFF, **{place: WORDS[place]})) != fingerprint(SKIFF)


def test_the_fingerprint_changes_with_old_holes_and_with_what_is_a_guess():
    old = BOATS["thrice-drilled-runabout"]
    for place, value in (("state", "open"), ("reuse", True), ("plug_diameter", 60.0), ("at", (125.0, -254.0))):
        assert fingerprint(changed(old, **{f"old_holes__1__{place}": value})) != fingerprint(old)
    rake: Reading = SKIFF.readings["transom.rake"]
    for reading in (replace(rake, state="guess"), replace(rake, value=13.0), replace(rake, spread=0.2)):
        guessed = replace(SKIFF, readings={**SKIFF.readings, "transom.rake": reading})
        assert fingerprint(guessed) != fingerprint(SKIFF)
