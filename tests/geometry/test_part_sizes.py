"""Own heads, spacers and the material of a backing plate, with the sizes that an owner begins with."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from geometry.decide.kit import PLATE, Kit, kits
from geometry.decide.measured_kit import plate_to_measure
from geometry.design.hardware import HexSizes
from geometry.design.patterns import plate_reach
from geometry.design.validity import NonsenseError
from geometry.edits.part_sizes import with_head, with_plate_of, with_spacer
from geometry.edits.starting_shapes import starts
from geometry.judge.bolt_length_words import lengths_that_fit
from geometry.readings.pilots import has_place, planned
from geometry.solid.placed_bolts import bolts, plate_ring
from geometry.zones.centred_motor import longest_thread_end
from tests.designs import changed, half_inch_hardware, roomy, sure
from tests.templates_out.test_plate import plate


@pytest.mark.parametrize(
    ("flats", "bore", "outer"),
    [
        (19.05, 13.5, 19.05),  # as wide as the nut
        (None, 13.5, 19.05),  # the nut's width is not known: 1.5 times a bolt of 12.7
        (19.05, 17.0, 21.0),  # a wide washer: 2 of wall all around its hole
        (19.05, None, 19.05),
    ],
)
def test_a_spacer_is_as_wide_as_the_nut_and_has_a_wall_of_2_around_the_washers_hole(flats, bore, outer):
    """It makes the bolt's length open again: a spacer of 12 mm takes another bolt."""
    fitted = half_inch_hardware(length=90.0, nut_sizes=HexSizes(flats=flats, corners=None, height=15.0))
    fitted = replace(fitted, washer=replace(fitted.washer, inner=bore))
    spaced = with_spacer(fitted, there=True)
    spacer = sure(spaced.spacer)
    assert spacer.outer == pytest.approx(outer)
    assert (spacer.inner, spacer.length) == (bore, 12.0)
    assert spaced.length is None
    assert with_spacer(spaced, there=True) is spaced
    assert with_spacer(spaced, there=False) == replace(fitted, length=None)


def test_an_own_head_begins_with_the_listed_sizes():
    """The listed head of a 1/2 in bolt: 19.05 across flats, 7.9 to 8.2 high (ASME B18.2.1, 5/16 in nominal)."""
    listed = half_inch_hardware()
    own = with_head(listed, own=True)
    assert sure(own.head_sizes).flats == pytest.approx(19.05)
    assert 7.6 < sure(sure(own.head_sizes).height) < 8.3
    assert with_head(own, own=True) is own
    assert with_head(own, own=False) == listed


def test_another_material_changes_the_backing_plate_alone():
    fitted = half_inch_hardware(backing_plate=plate())
    steel = with_plate_of(fitted, "A4 stainless")
    assert sure(steel.backing_plate).material == "A4 stainless"
    assert with_plate_of(steel, sure(fitted.backing_plate).material) == fitted
    assert with_plate_of(half_inch_hardware(), "A4 stainless") == half_inch_hardware()


@pytest.mark.parametrize(("along", "fine"), [(59.9, True), (60.0, False), (75.0, False)])
def test_the_relief_leaves_some_of_the_back_of_a_backing_plate_60_high(along, fine):
    """It reaches from 22 below the bolts to 38 above them. Its thickness of 6.35 is the most that a relief goes through."""
    outline = ((-150, -22), (150, -22), (150, 38), (-150, 38))
    if fine:
        assert plate(outline=outline, relief=(along, 6.35), thickness=6.35).relief == (along, 6.35)
    else:
        with pytest.raises(NonsenseError, match=f"relief goes {along:g} mm along a .* 60 mm high"):
            plate(outline=outline, relief=(along, 6.0), thickness=6.35)


def test_a_kit_without_the_backing_plate_says_what_that_costs():
    """It comes with the plain washers, and its bolt's length is open again."""
    mount = roomy().mounts[0]
    fitted = replace(sure(mount.lower_hardware), backing_plate=plate(), length=90.0)
    kit = next(kit for kit in kits(fitted, mount.bracket, "lower", "in") if kit.hardware.backing_plate is None and kit.costs)
    bare = next(kit for kit in kits(fitted, mount.bracket, "lower", "in") if kit.name == "washers without a backing plate")
    assert bare.costs == ("No backing plate under the lower washers: they press harder on the wood.",)
    assert bare.hardware == replace(fitted, backing_plate=None, length=None)
    assert bare.level == kit.level
    plain = replace(fitted, backing_plate=None)
    assert not any(kit.name == bare.name for kit in kits(plain, mount.bracket, "lower", "in"))


def test_the_lengths_of_bolt_that_fit_a_pair_and_those_that_are_in_stock():
    """By hand: 44 of wood, 12 of bracket, washers of 2.8 and 3, and the nut: from 81.2 mm to 93.6 mm, 3 1/4 to 3 5/8 in."""
    assert lengths_that_fit(roomy(), 0, "upper") == (
        "Any length from 3 1/4 in to 3 5/8 in fits. Stock: 3 1/4 in or 3 1/2 in."
    )
    tapered = changed(roomy(units="mm"), transom__thickness__low=60.0)
    assert lengths_that_fit(tapered, 0, "lower").startswith("Any length from ")
    unknown = changed(roomy(), transom__thickness__top=None)
    assert lengths_that_fit(unknown, 0, "lower").startswith("Lengths that fit: not calculated. Measure the ")


@pytest.mark.parametrize(
    ("path", "least"),
    [("bracket__rows__half_spacing", 6.35), ("bracket__lower__half_spacing", 6.35), ("bracket__rows__pitch", 12.7)],
)
def test_two_bolts_of_12_7_need_holes_that_are_further_apart(path, least):
    """By half a spacing of 6.35 the two holes of a pair are one bolt apart, by a pitch of 12.7 two rows are."""
    for value in (least, least - 0.1):
        with pytest.raises(NonsenseError, match=r"a bolt of 12\.7 mm has to fit into each"):
            changed(roomy(), **{f"mounts__0__{path}": value})
    assert changed(roomy(), **{f"mounts__0__{path}": least + 0.1})


@pytest.mark.parametrize(("n", "lift"), [(0.0, 0.8), (2.0, 0.4), (3.9, 0.02), (4.0, 0.0), (6.0, 0.0)])
def test_a_small_relief_lifts_the_lower_edge_of_a_backing_plate_at_its_back(n, lift):
    """0.8 up the face, 4 through a thickness of 6: it lifts the lower edge by 0.8 at the wood, and by 0 from 4 on."""
    outline = ((-150, -22), (150, -22), (150, 38), (-150, 38))
    square = plate(outline=outline, relief=(0.8, 4.0), thickness=6.0)
    joined = tuple(bolt for bolt in bolts(roomy()) if not bolt.upper)
    ring = plate_ring(joined, square, n)
    middle = sum(bolt.exit.w for bolt in joined) / 2
    assert min(w for _, w in ring) - middle == pytest.approx(-22.0 + lift)
    assert max(w for _, w in ring) - middle == pytest.approx(38.0)


@pytest.mark.parametrize(("room", "beyond"), [(0.0, 3.0), (2.0, 3.0), (3.0, 3.0), (3.1, 3.5), (3.5, 3.5), (7.2, 7.5)])
def test_a_backing_plate_reaches_beyond_its_washers_by_the_clearance(room, beyond):
    """3 mm at least, and in halves of a millimetre: never less than the clearance."""
    assert plate_reach(38.0, room) == pytest.approx(19.0 + beyond)


def test_a_backing_plate_is_made_to_measure_only_where_there_is_one_and_its_washer_is_known():
    design = roomy()
    hardware = sure(design.mounts[0].lower_hardware)
    plain = Kit(hardware, PLATE, "none")
    assert plate_to_measure(design, 0, plain) is plain
    unknown = replace(hardware, backing_plate=plate(), washer=replace(hardware.washer, outer=None))
    without = Kit(unknown, PLATE, "washer not known")
    assert plate_to_measure(design, 0, without) is without
    made = plate_to_measure(design, 0, Kit(replace(hardware, backing_plate=plate()), PLATE, "plate"))
    assert made.hardware.backing_plate is not None


@pytest.mark.parametrize("length", [88.9, 95.25])
def test_the_longest_thread_end_of_a_square_bolt_is_the_one_that_it_has(length):
    """Square to both faces, the grip is the same at every place, so that the bolt's own length says where its thread ends."""
    hardware = {f"mounts__0__{pair}_hardware__length": length for pair in ("upper", "lower")}
    for bolt in bolts(changed(roomy(), **hardware)):
        longest = sure(longest_thread_end(bolt))
        assert (longest.start, longest.end) == pytest.approx((sure(bolt.body("thread_end")).start, bolt.body("thread_end").end))


@pytest.mark.parametrize("missing", ["offset", "upper_at", "drop", "lower_tilt"])
def test_a_hole_without_its_whole_place_has_no_pilot_yet(missing):
    design = changed(roomy(), **{f"mounts__0__{missing}": None})
    assert not has_place(design, 0, "lower port")
    with pytest.raises(NonsenseError, match="the lower port hole has no place yet"):
        planned(design, 0, "lower port")
    assert has_place(design, 0, "upper port") is (missing in ("drop", "lower_tilt"))


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_starting_shapes_well_begins_and_ends_at_the_inside_top_edge(unit):
    for start in starts(unit):
        well = start.design.well
        if well is not None:
            assert (well.profile[0][1], well.profile[-1][1]) == (0.0, 0.0)
            assert well.well_from == "inside top edge"
