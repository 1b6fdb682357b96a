"""The job card: the order of its steps, read back from the printed file, and the lists of what the steps use.

The order is the trade's: the whole job from the survey to the second look at the torque, common practice. A step that a boat
does not have is in no pair; each pair is on at least one boat.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace

from geometry.design.boat import Fitting, OldHole
from geometry.design.hardware import Spacer
from geometry.doubt.size_limits import size_limits
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.units.trade_words import in_trade_words
from templates_out.drawing.pdf import pdf_bytes
from templates_out.layout.drilling_permission import stamp
from templates_out.pages.shop.shop_buy import hardware, to_buy
from templates_out.pages.shop.shop_fitting import hook_pads
from templates_out.pages.shop.shop_pages import shop_pages
from templates_out.pages.shop.shop_step import used
from templates_out.pages.shop.shop_tools import TOOLS, reach, tool_words
from templates_out.pages.shop.shop_work import work
from tests.designs import changed, clamp_on_mount, example_design, roomy
from tests.readers import texts
from tests.templates_out.printed import BOATS, DAY, boat
from tests.templates_out.viewing import variants

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.judge.findings import Checked

SURVEY, BATTERY, FUEL, OFF, CLEAN = (
    "Tap the transom", "Switch the battery off", "drain the line", "Lift the old motor off", "Clean the transom",
)  # fmt: skip
SOLID, FILL, CURED_PLUG, BARS, TAPE = (
    "Have a solid core put in", "Fill the old holes first", "Let it cure as long as the label says. Fair it.",
    "Measure both bars on each sheet", "Tape the paper to the outside",
)  # fmt: skip
FIGURES, RINGS, INSIDE, TRIED, PUNCH = (
    "Fill in Check before you punch", "target rings", "Tape up the inside sheet", "Before you drill, hoist the motor",
    "Punch the dots",
)  # fmt: skip
PILOT, LOOK, GATE, OTHERS, REUSED = (
    "Drill one lower pilot", "with a guide block. Look inside.", "if it comes out more than", "Drill the other pilots",
    "Drill no pilot in a reused hole",
)  # fmt: skip
BORE, DRY, POT, AGAIN, FIT = (
    "Bore the core of each hole", "if the bored core is not dry", "Wet the core with neat epoxy", "Drill to size again",
    "Dry fit every bolt",
)  # fmt: skip
LOCK, TORQUE, CURED, LAUNCH, RECORD = (
    "Before any sealant, hoist the motor again", "Tighten as Torque on the nuts says", "All epoxy is cured.",
    "Launch with a light load", "Print the Record",
)  # fmt: skip
SEAL, CAPTIVE, HUNG, ONE, READ, DO_NOT = (
    "Put sealant in each hole", "Before you hang the motor, put", "Hoist the motor to its marks by the lifting eye, with a tag "
    "line. Let nobody stand under it. Put sealant", "hole only. Drill one pilot", "Measure down from the pilot",
    "Drill on only by the next revision",
)  # fmt: skip
LAID, COVERED = "Lay its bracket flat on the template", "if the bracket covers a part of a ring"
CABLE, OPENED = "for rigging tube, square to the face", "Open old cable hole to"

ORDER = (
    (SURVEY, BATTERY), (BATTERY, OFF), (FUEL, OFF), (OFF, CLEAN), (CLEAN, TAPE), (SURVEY, SOLID), (SOLID, BARS),
    (SURVEY, FILL), (OFF, FILL), (FILL, CURED_PLUG), (CURED_PLUG, TAPE), (CURED_PLUG, PUNCH), (BARS, TAPE), (TAPE, FIGURES),
    (FIGURES, INSIDE), (BARS, RINGS), (TAPE, RINGS), (RINGS, REUSED), (FIGURES, PUNCH), (INSIDE, PUNCH), (OFF, PUNCH),
    (TRIED, PUNCH), (TAPE, LAID), (FIGURES, LAID), (TRIED, LAID), (LAID, COVERED), (COVERED, PUNCH), (COVERED, REUSED),
    (PUNCH, PILOT), (PILOT, LOOK), (LOOK, GATE), (GATE, OTHERS), (OTHERS, BORE), (OTHERS, REUSED),
    (REUSED, BORE), (BORE, DRY), (DRY, POT), (POT, AGAIN), (AGAIN, FIT), (FIT, LOCK), (LOCK, SEAL), (CAPTIVE, HUNG),
    (SEAL, TORQUE), (POT, CURED), (CURED, TORQUE), (TORQUE, LAUNCH), (LAUNCH, RECORD),
    (GATE, CABLE), (OTHERS, CABLE), (CABLE, OPENED), (OPENED, BORE), (CABLE, FIT), (FILL, OPENED),
    (OFF, ONE), (FIGURES, ONE), (INSIDE, ONE), (ONE, READ), (READ, DO_NOT),
)  # fmt: skip
"""What comes before what. A pilot's look inside and its gate come before the next pilot; epoxy cures before a torque."""


def _openings() -> Design:
    """A hole of 1 1/2 in for a rigging tube, an old hole that is opened to 1 in, and one that is filled."""
    ring = ((205.0, -255.0), (245.0, -255.0), (245.0, -215.0), (205.0, -215.0))
    tube = Fitting(name="rigging tube", outline=ring, stands_out=30.0, drill=38.1)
    bare = replace(example_design().old_holes[0], state="open", plug_diameter=None)
    holes = (replace(bare, name="old cable hole", at=(30.0, -110.0), drill=25.4), replace(bare, at=(-30.0, -170.0)))
    return replace(roomy(), outside_fittings=(tube,), old_holes=holes)


def _reused() -> Design:
    old = example_design().old_holes[0]
    ports = {"upper port": -163.5125, "upper starboard": 163.5125}
    holes = tuple(
        replace(old, name=f"old {name}", at=(u, -50.8), state="open", plug_diameter=None, reuse=True)
        for name, u in ports.items()
    )
    return changed(example_design(), old_holes=holes)


def _plugged(units: str) -> Design:
    """Open holes to fill: a small one, and a wide one whose plug takes two lifts."""
    hole = OldHole(name="old lower port", at=(-125.0, -245.0), diameter=12.7,
                   state="open", plug_diameter=None, reuse=False, drill=None)  # fmt: skip
    wide = replace(hole, name="old drain", at=(40.0, -120.0), diameter=25.4)
    return changed(example_design(), old_holes=(hole, wide), units=units)


@cache
def boats() -> dict[str, Checked]:
    """Every demonstration boat, and boats of other kinds."""
    example = example_design()
    designs = {
        **{name: boat(name) for name in BOATS},
        "openings": _openings(), "reused": _reused(), "plugged": _plugged("in"), "plugged, mm": _plugged("mm"),
        "no well": changed(example, well=None), "foam": changed(example, transom__core="foam"),
        "aluminium": changed(_plugged("mm"), transom__core="aluminium"),
        "laminate": changed(example, transom__core="solid laminate"),
        "before hanging": changed(example, mounts__0__lower_hardware__inserted_from="before hanging"),
        "from inside": variants()["flat washer, head inside"],
        "wedges and spacers": changed(example, **{
            f"mounts__0__{pair}_hardware__{field}": value for pair in ("upper", "lower")
            for field, value in {"wedge": 3.0, "spacer": Spacer(outer=30.0, inner=14.0, length=8.0)}.items()
        }),
        "plated": variants()["plated"], "clamped": replace(example, mounts=(clamp_on_mount(),)),
        "nothing hung": variants()["no motor"], "twins and a kicker": variants()["twins and a kicker"],
        "without a thickness": changed(example, transom__thickness__top=None),
        "without a hole's size": variants()["without mounts__0__lower_hardware__hole"],
    }  # fmt: skip
    return {name: check(design) for name, design in designs.items()} | {"pilot only": with_spreads(check(example))}


NAMES = (
    *BOATS, "openings",
    "reused", "plugged", "plugged, mm", "no well", "foam", "aluminium", "laminate", "before hanging", "from inside",
    "wedges and spacers", "plated", "clamped", "nothing hung", "twins and a kicker", "without a thickness",
    "without a hole's size", "pilot only",
)  # fmt: skip


@cache
def printed_text(name: str) -> str:
    """The shop sheet's words as PDFium reads them from the file, in one line."""
    words = " ".join(texts(pdf_bytes(shop_pages(boats()[name], DAY), name, DAY)))
    return " ".join(words.replace("\N{NO-BREAK SPACE}", " ").split())


@pytest.mark.parametrize("name", NAMES)
def test_each_step_is_printed_before_those_that_need_it(name: str) -> None:
    text = printed_text(name)
    for before, after in ORDER:
        if before in text and after in text:
            assert text.index(before) < text.index(after), (before, after)


def test_each_pair_of_the_order_is_on_a_boat_and_every_boat_is_tried() -> None:
    assert set(NAMES) == set(boats())
    assert drillable(boats()["pilot only"]).answer == "pilot only"
    for before, after in ORDER:
        assert any(before in printed_text(name) and after in printed_text(name) for name in NAMES), (before, after)


@pytest.mark.parametrize("name", [name for name in NAMES if name not in ("clamped", "nothing hung")])
def test_no_card_for_bolts_lacks_the_steps_before_the_drill(name: str) -> None:
    text = printed_text(name)
    for wanted in (SURVEY, BATTERY, FUEL, OFF, CLEAN, BARS, TAPE, FIGURES, INSIDE):
        assert wanted in text, wanted
    for wanted in (BORE, POT):
        assert (wanted in text) is (name not in ("aluminium", "laminate", "pilot only")), wanted
    for wanted in (TRIED, LAID, COVERED, FIT, LOCK, SEAL, TORQUE, LAUNCH, RECORD):
        assert (wanted in text) is (name != "pilot only"), wanted


def listed(checked: Checked) -> tuple[frozenset[str], frozenset[str]]:
    """Return the keys that the steps use, and the keys of all lines that could be bought."""
    stamped = stamp(checked)
    steps = work(checked.design, None if stamped is None else stamped.pilot)
    lines = to_buy(checked.design, size_limits(checked), hook_pads(checked.design))
    return used(steps), frozenset(key for line in lines for key in line.keys)


@pytest.mark.parametrize("name", NAMES)
def test_all_that_a_step_uses_is_on_a_list_and_every_part_has_its_step(name: str) -> None:
    checked = boats()[name]
    keys, bought = listed(checked)
    assert keys <= bought | set(TOOLS)
    if name != "pilot only":
        parts = {key for line in hardware(checked.design) for key in line.keys}
        assert parts <= keys
    text = printed_text(name)
    for line in to_buy(checked.design, size_limits(checked), hook_pads(checked.design)):
        words = in_trade_words(line.what, checked.design.units).replace("\N{NO-BREAK SPACE}", " ")
        first = " ".join(words.split(":")[0].split()[:3])
        if first.startswith(("nylon-insert", "wedges", "spacers", "backing plate", "hard pad", "marine sealant", "epoxy with")):
            assert (first in text) is bool(keys.intersection(line.keys)), first
    for words in tool_words(checked.design, keys - bought):
        assert " ".join(words.replace("\N{NO-BREAK SPACE}", " ").split()) in text, words


WORDS = {
    "hammer": "hammer", "solvent": "solvent", "masking tape": "masking tape", "can": "fuel can", "Label ": "labels",
    "hoist": "hoist", "Chock": "chocks", "thickened epoxy": "epoxy", "Bore out": "plug cutters", "sealant in": "sealant",
    "Bore the core": "core cutter", "Chamfer": "countersink", "guide block": "guide block", "Press a block": "wood block",
    "Measure both bars": "rule", "Cut and join": "scissors", "Punch the dot": "awl", "hard pad under": "hard pad",
    "flat side of each": "file", "Tighten as Torque": "torque wrench", "Lubricate": "lubricant",
    "a stripe over": "stripe paint", "Coat its bare wood": "epoxy", "Its middle is": "opening cutters",
    "along the gauge": "angle gauge", "laminate over": "glass cloth", "Dry fit every bolt": "bolts",
    "the transom: backing plate": "backing plate", "lanyard": "lanyard", "then 1/4": "step drills", "Look inside": "mirror",
}  # fmt: skip
"""A word of a step, and the key of what it asks for. By hand: a step that names a thing without its key fails."""


@pytest.mark.parametrize("name", NAMES)
def test_a_step_that_names_a_thing_asks_for_it(name: str) -> None:
    checked = boats()[name]
    stamped = stamp(checked)
    keys = used(work(checked.design, None if stamped is None else stamped.pilot))
    for step in work(checked.design, None if stamped is None else stamped.pilot):
        for word, key in WORDS.items():
            if f" {word}" in f" {step.what}".replace("\N{NO-BREAK SPACE}", " "):
                assert key in keys, (word, step.what)


def test_the_bare_wood_of_a_hole_for_a_cable_is_coated() -> None:
    """In plywood each opening's own step says so; in aluminium and in solid laminate no wood is there to rot."""
    assert printed_text("openings").count("Coat its bare wood with thickened epoxy.") == 2
    for core in ("aluminium", "solid laminate"):
        steps = " ".join(step.what for step in work(changed(_openings(), transom__core=core)))
        assert "for rigging tube" in steps
        assert "bare wood" not in steps


def test_each_finding_that_asks_for_a_pad_has_it_on_the_list_and_in_the_work() -> None:
    asking = [name for name in NAMES if any("Put a hard pad under it." in finding.text for finding in boats()[name].findings)]
    assert asking
    for name in NAMES:
        if name != "pilot only":
            assert ("hard pad," in printed_text(name)) is (name in asking), name
            assert ("Lay the hard pad under the bracket hook" in printed_text(name)) is (name in asking), name


def test_a_drill_reaches_through_guide_block_and_transom() -> None:
    """By hand: a 2 1/4 in block, 44 mm of wood and 1 in in the chuck are 126.55 mm, 4.98 in: at least 5 in."""
    design = example_design()
    assert reach(design) == pytest.approx(57.15 + 44.0 + 25.4)
    text = printed_text("example")
    assert "drill 1/8 in, sharp, at least 5 in long" in text
    assert "drills 1/4 in, 3/8 in, 17/32 in, sharp, at least 5 in long" in text
    thick = changed(design, transom__thickness__top=60.0, transom__thickness__low=60.0)
    assert any("at least 5-3/4 in long" in words.replace("\N{NO-BREAK SPACE}", " ") for words in tool_words(
        thick, frozenset({"pilot drill"})))  # fmt: skip
    metric = changed(design, units="mm")  # 55 + 44 + 25.4 = 124.4
    (words,) = tool_words(metric, frozenset({"pilot drill"}))
    assert words.replace("\N{NO-BREAK SPACE}", " ") == "drill 3 mm, sharp, at least 125 mm long"
    assert "measure the thickness" in printed_text("without a thickness")


def test_the_torque_wrench_reads_from_the_first_pass_to_the_last_and_the_hoist_holds_the_heaviest() -> None:
    """The example: 35 lb-ft in passes of half and whole, 18 as the pass prints it. 200 kg / 0.45359237 are 440.9 lb."""
    assert "torque wrench that reads 18 lb-ft to 35 lb-ft" in printed_text("example")
    twin = boats()["twin-motor-launch"].design
    heavy = changed(twin, mounts__1__mass=200.0)
    assert "hoist for at least 441 lb, lifting eye, tag line" in tool_words(heavy, frozenset({"hoist"}))


def test_each_stop_has_a_blank_for_initials_and_the_pilot_sheet_lists_no_bolts() -> None:
    for name in ("example", "pilot only"):
        pages = shop_pages(boats()[name], DAY)
        blanks = sum(getattr(mark, "part", "") == "initials" for page in pages for mark in page.marks)
        stamped = stamp(boats()[name])
        gates = sum(bool(step.gate) for step in work(boats()[name].design, None if stamped is None else stamped.pilot))
        assert blanks == gates > 3
    assert "hex bolts" not in printed_text("pilot only")
