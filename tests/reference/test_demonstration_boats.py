"""The demonstration boats, calculated by hand with pencil, tangents and square roots.

Source: the arithmetic below, step by step in millimetres; it uses no line of the program. The nut's corners are
0.752 in across flats (ASME B18.16.6, largest listed, read in a secondary copy) times 2/sqrt(3), half of it 11.0279.
Figures are carried to four places, so every comparison allows 0.001 mm (or diameters, or degrees).
"""

from pathlib import Path

import pytest
from msgspec.structs import replace

from assets import design_names, design_text, help_text
from geometry.decide.lowest import lowest_plate
from geometry.design_text import from_text, to_text
from geometry.doubt.spreads import with_spreads
from geometry.edits.additions import add_twin
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.solid.bracket_holes import rows_left
from geometry.solid.placed_bolts import bolts
from tests.designs import changed

NEAR = 0.001
INCH = 25.4


def boat(name, **values):
    """Return a demonstration boat with new values at some places, "__" for a dot."""
    return changed(from_text(design_text(name)), **values)


def values(checked, check_name, mount="main motor"):
    """Return the values of one check by what it looks at, without the motor's name."""
    return {
        finding.at.removeprefix(f"{mount} / "): finding.value for finding in checked.findings if finding.check == check_name
    }


def all_near(actual, expected):
    """Return whether there is something and every value is the expected one."""
    return len(actual) > 0 and all(value == pytest.approx(expected, abs=NEAR) for value in actual)


def states(checked, check_name):
    return {finding.state for finding in checked.findings if finding.check == check_name}


def skiff(drop, *, flat=False):
    cut = {"mounts__0__lower_hardware__washer__flat_cut": 15 / 32 * INCH} if flat else {}
    return boat("shallow-well-skiff", mounts__0__drop=drop * INCH, **cut)


def test_every_boat_is_calculated_here_and_the_skiff_is_among_them():
    assert "shallow-well-skiff" in design_names()
    text = Path(__file__).read_text(encoding="utf-8")
    assert [name for name in design_names() if f'"{name}"' not in text] == []


@pytest.mark.parametrize("name", design_names())
def test_every_boat_is_written_as_the_program_writes_it_and_says_that_it_is_a_demonstration(name):
    design = from_text(design_text(name))
    assert to_text(design) == design_text(name)
    assert design.demonstration
    assert design.notes.count(". ") == 1, "two sentences"
    assert not [finding for finding in check(design).findings if finding.state == "unknown"]


def test_guesses_are_shown():
    assert check(boat("shallow-well-skiff")).guesses == ("well.fillet_radius", "well.floor_rise")


@pytest.mark.parametrize(
    ("drop", "flat", "port", "starboard", "verdict"),
    [
        (8.0, False, -5.3093, -0.5477, "fouled"),
        (8.0, True, 1.5543, 6.3159, "tight"),
        (7.25, False, 13.7372, 18.4989, "tight"),
        (7.25, True, 20.6008, 25.3625, "tight"),
    ],
)
def test_skiff_lower_washers_at_two_drops(drop, flat, port, starboard, verdict):
    """The lower washers against the floor and its rounded corner, whole and cut flat.

    Inside edge: the top is cut level, rake 15: a level line drops 38.1 tan 15 = 38.1 * 0.267949 = 10.2089.
    Floor in outer coordinates: port 10-7/16 in = 265.1125 below the inside edge, 275.3214 below the datum;
        starboard 10-5/8 in = 269.875, so 280.0839.
    Slope of the floor from port to starboard: 4.7625 in 250.825 = 0.018987, cos 0.999820, sin 0.018984.
    Angle: rake 15 less floor rise 2 makes 13; across the slope atan(0.999820 tan 13) = 12.9977; corner 102.9977.
    Rounded corner land: 9.525 cot(51.4989) = 9.525 * 0.795468 = 7.5768.
    Required, whole washer (1-1/2 in): 7.5768 + 19.05 = 26.6268.
    Required, cut 15/32 in = 11.90625 below the centre: the chord's half is sqrt(19.05^2 - 11.90625^2) = 14.8709. Its
        end reaches 11.90625 * 0.999820 + 14.8709 * 0.018984 = 12.1864 toward the floor; 7.5768 + 12.1864 = 19.7632.
        That end is the one on the side where the floor is higher, port, for both washers.
    At 8 in: the upper pair is 2 in down, so the lower is 254 down: port (275.3214 - 254) * 0.999820 = 21.3175,
        whole 21.3175 - 26.6268 = -5.3093. Starboard (280.0839 - 254) * 0.999820 = 26.0792 less 26.6268 = -0.5477.
    The step of 3/4 in to 7-1/4 in adds 19.05 * 0.999820 = 19.0466; the cut adds 26.6268 - 19.7632 = 6.8636.
    Verdict: the advised 3.175 mm (1/8 in) makes the cut port washer tight at 8 in, and 4.4 mm are wanted before drilling;
        at 7-1/4 in the slot's end is met exactly, which is tight.
    """
    checked = check(skiff(drop, flat=flat))
    washers = values(checked, "washer")
    assert washers["lower port"] == pytest.approx(port, abs=NEAR)
    assert washers["lower starboard"] == pytest.approx(starboard, abs=NEAR)
    assert checked.verdict == verdict


def test_skiff_may_be_drilled_at_seven_and_a_quarter_once_its_guesses_are_measured():
    """With plain washers and no slot's end in the way, `row` 2: the chance is 0.975 or more. At 8 in a cut washer's is not.

    Port: 13.7372 and 1.5543 mm of room, with a spread near 2.1: 6.5 spreads and 0.7 spreads. 0.7 spreads are 0.76 of a normal
    distribution: at least 0.7, so one pilot may be drilled.
    """

    def measured(design):
        readings = {key: replace(reading, state="measured") for key, reading in design.readings.items()}
        return with_spreads(check(replace(design, readings=readings, demonstration=False)))

    assert drillable(measured(changed(skiff(7.25), mounts__0__row=2))).answer == "yes"
    cut = drillable(measured(skiff(8.0, flat=True)))
    assert cut.answer == "pilot only"
    assert [reason.kind for reason in cut.reasons] == ["pilot", "doubt"]


def test_skiff_nut_socket_and_thread_end_at_eight_inches():
    """They are in front of the washer, where the rounded corner takes less: all three have room where the washer has none.

    Behind the washer (1/8 in), n = 3.175: the rounded corner's arc is sqrt(2 * 9.525 * 3.175 - 3.175^2) = sqrt(50.4031) =
    7.0995 further out than its land. So the free line is 7.5768 - 7.0995 = 0.4773 above the floor's line at n = 0.
    Port axis over the floor's line: 21.3175. Nut 21.3175 - 0.4773 - 11.0279 = 9.8123.
    Socket 1-1/32 in: 21.3175 - 0.4773 - 13.0969 = 7.7433.
    Thread end from n = 3.175 + 15.4686 = 18.6436, beyond the rounded corner (it ends at 7.5768 sin 102.9977 = 7.3827). The
        floor has sunk by 18.6436 * 0.999820 tan 13 = 18.6436 * 0.230827 = 4.3034; 21.3175 + 4.3034 - 6.35 = 19.2709.
    """
    checked = check(skiff(8.0))
    room = [values(checked, part)["lower port"] for part in ("nut", "socket", "thread_end")]
    assert room == pytest.approx([9.8123, 7.7433, 19.2709], abs=NEAR)


@pytest.mark.parametrize(
    ("drop", "rows", "slot"), [(8.0, (0, 1, 2, 3, 4), 19.05), (7.25, (1, 2, 3, 4), 0.0), (5.75, (3, 4), -38.1)]
)
def test_skiff_usable_holes_at_three_drops(drop, rows, slot):
    """Slot 8 to 11 in below `row` 0, pitch 3/4 in: row k works where 8 <= drop + 3/4 k <= 11.

    8 + 0 = 8 and 8 + 3 = 11: all five. 7-1/4: 7-1/4 misses, 8 to 10-1/4 fit: 1 to 4. 5-3/4: 8 at `row` 3: 3 and 4.
    The hook keeps them all: `row` 0 is 2 in below it and the holes 2 in down, so the gap is 3/4 in a row.
    In `row` 1 the bolt is at drop + 3/4: 8-3/4, 8 and 6-1/2 in, so 3/4, 0 and -1-1/2 in from the slot's upper end.
    Our calculation.
    """
    design = skiff(drop)
    assert rows_left(design, 0, drop * INCH) == rows
    assert check(design).of("row", "main motor").value == pytest.approx(slot, abs=NEAR)


def test_skiff_edges_hook_height_and_bolts():
    """Edges: outer face 50.8 / 12.7 = 4; inner face (50.8 - 10.2089) / 12.7 = 40.5911 / 12.7 = 3.1962 diameters.

    Hook gap in `row` 1: -50.8 + 50.8 + 19.05 = 19.05.
    AV plate: 19-5/8 in = 498.475, plus 19.05 cos 15 = 19.05 * 0.965926 = 18.4009, less the shaft length 508: 8.8759 above the
        bottom.
    Grip: washer 3.175 + pad 12.7 + transom 38.1 + washer 3.175 = 57.15, above and below (no taper).
    Bolt: nut 15.4686 and two pitches of 25.4/13 = 1.9538: at least 57.15 + 15.4686 + 3.9077 = 76.5263, at most
        57.15 + 1-1/4 in of thread = 88.9; 3 in = 76.2 is short, 3-1/4 in = 82.55 does.
    Beyond the nut 82.55 - 57.15 - 15.4686 = 9.9314; thread left under it 88.9 - 82.55 = 6.35.
    """
    design = skiff(8.0)
    checked = check(design)
    assert values(checked, "edge")["upper port / outer face"] == pytest.approx(4.0, abs=NEAR)
    assert values(checked, "edge")["upper port / inner face"] == pytest.approx(3.1962, abs=NEAR)
    assert checked.of("saddle", "main motor").value == pytest.approx(19.05, abs=NEAR)
    assert checked.of("height", "main motor").value == pytest.approx(8.8759, abs=NEAR)
    assert [bolt.grip for bolt in bolts(design)] == pytest.approx([57.15] * 4, abs=NEAR)
    assert [bolt.length for bolt in bolts(design)] == pytest.approx([82.55] * 4, abs=NEAR)
    assert all_near(values(checked, "length").values(), 9.9314)
    assert all_near(values(checked, "shank").values(), 6.35)


@pytest.mark.parametrize(
    ("name", "mount", "upper", "lower", "state"),
    [
        ("shallow-well-skiff", "main motor", 50.8, 254.0, "clear"),
        ("cap-lip-launch", "main motor", 50.8, 254.0, "clear"),
        ("tapered-work-boat", "main motor", 50.0, 253.0, "tight"),
        ("thrice-drilled-runabout", "main motor", 50.8, 234.95, "clear"),
        ("twin-motor-launch", "port motor", 50.8, 254.0, "clear"),
        ("twin-motor-launch", "starboard motor", 50.8, 254.0, "clear"),
    ],
)
def test_every_boats_holes_below_the_top_edge(name, mount, upper, lower, state):
    """Every cut-out is level at v = 0 over its holes, and none comes within two diameters, 25.4 or 24, of a raised side.

    Half widths of the cut-outs: 330.2, 355.6, 350, 355.6 and 558.8. The outermost holes are 163.5125 out, or 163.5; the
    twins' 330.2 + 163.5125 = 493.7125, which is 65.0875 off the side. So the value is the depth: 2 in = 50.8, or 50 mm;
    2 + 8 in = 254, 50 + 203 = 253, and 2 + 7-1/4 in = 234.95. Limits 1-3/4 in = 44.45 and 2 in = 50.8, common practice.
    """
    checked = check(boat(name))
    for side in ("port", "starboard"):
        finding = checked.of("top_edge", f"{mount} / upper {side}")
        assert (finding.value, finding.state) == (pytest.approx(upper, abs=NEAR), state)
        other = checked.of("top_edge", f"{mount} / lower {side}")
        assert (other.value, other.state) == (pytest.approx(lower, abs=NEAR), "clear")


def test_skiff_lowest_av_plate():
    """How low the motor could hang, with any upper holes.

    Port washer with 3.175 mm to spare: (275.3214 - d) * 0.999820 = 26.6268 + 3.175 = 29.8018, so d = 275.3214 - 29.8072
        = 245.5142.
    The highest slot is 2 + 8 in = 254 below the hook, which then is 8.4858 above the datum, plumb
        8.4858 * 0.965926 = 8.1967; 498.475 + 8.1967 - 508 = -1.3283.
    With nothing to spare: 3.175 / 0.999820 * 0.965926 = 3.0674 less: -4.3957.
    """
    lowest = lowest_plate(skiff(8.0), 0)
    assert lowest.advised == pytest.approx(-1.3283, abs=NEAR)
    assert lowest.least == pytest.approx(-4.3957, abs=NEAR)


def test_cap_lip_above_the_upper_bolts():
    """No well: only the turned-down lip and the knee stand in the way.

    Inside edge: 1-1/2 in = 38.1 thick, rake 12, cut level: 38.1 tan 12 = 38.1 * 0.212557 = 8.0984 below the datum.
    The lip hangs 1-1/4 in = 31.75 below that edge: 39.8484 below the datum; the upper axes are 2 in = 50.8 down, so
        10.9516 below the lip. Washer 10.9516 - 19.05 = -8.0984; nut 10.9516 - 11.0279 = -0.0763;
        socket 10.9516 - 13.0969 = -2.1453. The lip sticks out 3/4 in = 19.05; the thread's end begins at
        3.175 + 15.4686 = 18.6436, just behind the lip's front: 10.9516 - 6.35 = 4.6016.
    Half an inch lower: 12.7 more each, so the washer has 4.6016.
    Lower bolts: 4-15/16 in = 125.4125 from the centreline, the knee's side 1 in = 25.4: 100.0125 less 19.05 = 80.9625.
    """
    checked = check(boat("cap-lip-launch"))
    assert checked.verdict == "fouled"
    rooms = [values(checked, part)["upper port"] for part in ("washer", "nut", "socket", "thread_end")]
    assert rooms == pytest.approx([-8.0984, -0.0763, -2.1453, 4.6016], abs=NEAR)
    assert values(checked, "washer")["lower starboard"] == pytest.approx(80.9625, abs=NEAR)
    assert checked.guesses == ("transom.thickness.low",)

    lower = check(boat("cap-lip-launch", mounts__0__upper_at=-2.5 * INCH))
    assert values(lower, "washer")["upper port"] == pytest.approx(4.6016, abs=NEAR)
    assert states(lower, "washer") == {"clear"}
    assert lower.verdict == "tight", "the core is pressed 1.44 times as hard as it bears easily"


def test_cap_lip_hook_height_and_bolts():
    """`row` 1: gap -50.8 + 50.8 + 19.05 = 19.05; AV plate 508 + 19.05 cos 12 - 508 = 19.05 * 0.978148 = 18.6337.

    Grip 3.175 + 12.7 + 38.1 + 3.175 = 57.15; at least 57.15 + 19.3763 = 76.5263: 3 in = 76.2 is short, so 3-1/4 in.
    Half an inch lower, `row` 0 would put the hook 12.7 below the top, so `rows` 1 to 4 are left.
    """
    design = boat("cap-lip-launch")
    checked = check(design)
    assert checked.of("saddle", "main motor").value == pytest.approx(19.05, abs=NEAR)
    assert checked.of("height", "main motor").value == pytest.approx(18.6337, abs=NEAR)
    assert [bolt.grip for bolt in bolts(design)] == pytest.approx([57.15] * 4, abs=NEAR)
    assert [bolt.length for bolt in bolts(design)] == pytest.approx([82.55] * 4, abs=NEAR)
    assert rows_left(design, 0, 8 * INCH) == (0, 1, 2, 3, 4)
    assert rows_left(boat("cap-lip-launch", mounts__0__upper_at=-2.5 * INCH), 0, 8 * INCH) == (1, 2, 3, 4)


@pytest.mark.parametrize(
    ("wedge", "seat", "state"),
    [(-4.3, 0.0461, "clear"), (0.0, 4.3461, "fouled"), (-3.0, 1.3461, "tight"), (4.3, 8.6461, "fouled")],
)
def test_tapered_transom_needs_wedges(wedge, seat, state):
    """Taper: 57 - 38 = 19 thicker in 250: atan(0.076) = 4.3461 degrees; a square bolt is that far off the inner face.

    Its inner end is the lower one seen from the inner face's normal, which points up: the angle counts as -4.3461.
    A wedge of -4.3 leaves 0.0461; none leaves 4.3461, beyond 2.86 (1 in 20); -3 leaves 1.3461, between 1 and 2.86;
    the wedge turned upside down makes it 8.6461.
    """
    name = "tapered-work-boat"
    wedges = {f"mounts__0__{pair}_hardware__wedge": wedge for pair in ("upper", "lower")}
    checked = check(boat(name, **wedges))
    assert all_near(values(checked, "seat").values(), seat)
    assert states(checked, "seat") == {state}
    assert boat(name).mounts[0].lower_hardware.wedge == -4.3
    assert checked.verdict == ("fouled" if state == "fouled" else "tight"), "the damp core is tight with any wedge"


def test_tapered_transom_bolts_and_washers():
    """Bolts of two lengths, and the floor as a leaning bolt meets it.

    Thickness at the upper pair (50 down): 38 + 0.076 * 50 = 41.8; at the lower (253 down): 38 + 0.076 * 253 = 57.228.
    Grip: 3.3 + 12 + 41.8 + 3.3 = 60.4 and 3.3 + 12 + 57.228 + 3.3 = 75.828.
    Length: nut 14.9 (ISO 7040) and two pitches of 1.75: at least 78.8 and 94.228. At most 30 mm of thread more,
        90.4 and 105.828: of ISO 888's lengths 80 and 100. Showing 80 - 75.3 = 4.7 and 100 - 90.728 = 9.272.
    Exit, along the inner face: 253 / cos 4.3461 = 253 / 0.997124 = 253.7296. The floor is 290 down the inner face
        (measured from the datum, so nothing is added): 36.2704 above it.
    Angle: rake 13 + taper 4.3461 - rise 1 = 16.3461; land 18 cot(53.1731) = 18 * 0.748829 = 13.4789.
    To the land's edge 36.2704 - 13.4789 = 22.7915, less 18.5 (37 mm washer) is 4.2915.
    The bound for a leaning bolt shortens the distance by cos 4.3461: 22.7915 * 0.997124 = 22.7259 - 18.5 = 4.2259, the
        smaller one, which counts.
    """
    design = boat("tapered-work-boat")
    checked = check(design)
    assert [bolt.grip for bolt in bolts(design)] == pytest.approx([60.4, 60.4, 75.828, 75.828], abs=NEAR)
    assert [bolt.length for bolt in bolts(design)] == [80, 80, 100, 100]
    assert values(checked, "length")["upper port"] == pytest.approx(4.7, abs=NEAR)
    assert values(checked, "length")["lower port"] == pytest.approx(9.272, abs=NEAR)
    assert values(checked, "washer")["lower port"] == pytest.approx(4.2259, abs=NEAR)
    short = {finding.check for finding in checked.findings if finding.state in ("tight", "fouled")}
    assert short == {"pressure", "top_edge"}, "its upper holes are 50 mm down, and 2 in is advised"


def test_tapered_transom_edges_and_height():
    """The top is cut square, so the inside edge is at w = 0: inner face 50 / 0.997124 = 50.1442 / 12 = 4.1787.

    Outer face 50 / 12 = 4.1667.
    `row` 1: gap -50 + 50 + 19 = 19; AV plate 499 + 19 cos 13 - 508 = 499 + 18.5130 - 508 = 9.5130.
    Slot 203 to 279, bolt at 203 + 19 = 222: 19 from its upper end.
    """
    checked = check(boat("tapered-work-boat"))
    assert values(checked, "edge")["upper port / outer face"] == pytest.approx(4.1667, abs=NEAR)
    assert values(checked, "edge")["upper port / inner face"] == pytest.approx(4.1787, abs=NEAR)
    assert checked.of("saddle", "main motor").value == pytest.approx(19, abs=NEAR)
    assert checked.of("height", "main motor").value == pytest.approx(9.5130, abs=NEAR)
    assert checked.of("row", "main motor").value == pytest.approx(19, abs=NEAR)


def test_twins_outer_washers_are_tight_and_inner_ones_are_not():
    """A V-shaped floor: four lower bolts, two depths.

    Motors 26 in apart: bolts at 13 + 4-15/16 = 17-15/16 in and 13 - 4-15/16 = 8-1/16 in from the centreline.
    Floor: 12 in deep at the centreline, 10-5/16 in at 25 in. 12 - 1.6875 * 17.9375/25 = 10.78922 in = 274.0462, and
        12 - 1.6875 * 8.0625/25 = 11.45578 in = 290.9768 below the inside edge. The edge is 50.8 tan 12 = 10.7979 below
        the datum: 284.8441 and 301.7747.
    Slope 1.6875 in 25: cos 0.997730. Angle: 12 - 2 = 10; across the slope atan(0.997730 tan 10) = 9.9778; corner 99.9778.
    Land 12.7 cot(49.9889) = 12.7 * 0.839431 = 10.6608. Required 10.6608 + 19.05 = 29.7108.
    Lower pair 254 down. Outer (284.8441 - 254) * 0.997730 = 30.7740 - 29.7108 = 1.0633: tight, below 2.
        Inner (301.7747 - 254) * 0.997730 = 47.6663 - 29.7108 = 17.9555.
    """
    checked = check(boat("twin-motor-launch"))
    port, starboard = (values(checked, "washer", f"{side} motor") for side in ("port", "starboard"))
    assert port["lower port"] == pytest.approx(1.0633, abs=NEAR)
    assert port["lower starboard"] == pytest.approx(17.9555, abs=NEAR)
    assert starboard["lower starboard"] == pytest.approx(1.0633, abs=NEAR)
    assert starboard["lower port"] == pytest.approx(17.9555, abs=NEAR)
    assert checked.verdict == "tight"


def test_twins_gap_between_bolts_and_height_over_the_deadrise():
    """Within one motor: 8 in down and 1-1/2 in across, sqrt(203.2^2 + 38.1^2) = 206.7410, less two half washers: 168.6410.

    Between the motors: the inner upper bolts are 26 - 12-7/8 = 13-1/8 in = 333.375 apart, less 38.1: 295.275, not the least.
    Height at 13 in off the centreline: 22-3/4 in = 577.85 - 330.2 tan 15 = 577.85 - 88.4768 = 489.3732.
    `row` 2: gap 38.1; AV plate 489.3732 + 38.1 cos 12 - 508 = 489.3732 + 37.2674 - 508 = 18.6406. Either motor.
    On the centreline it would be 88.4768 more.
    Inserting a bolt: 6 in = 152.4 behind the bracket; grip 3.175 + 12.7 + 50.8 + 3.175 = 69.85, bolt 3-3/4 in = 95.25
        (at least 69.85 + 19.3763 = 89.2263). Head 0.323 in = 8.2042 and 13 for the fingers:
        152.4 - 95.25 - 8.2042 - 13 = 35.9458.
    """
    design = boat("twin-motor-launch")
    checked = check(design)
    gap = next(finding for finding in checked.findings if finding.check == "neighbour")
    assert gap.value == pytest.approx(168.6410, abs=NEAR)
    assert gap.at == "port motor / upper starboard and lower starboard"
    for mount in ("port motor", "starboard motor"):
        assert checked.of("height", mount).value == pytest.approx(18.6406, abs=NEAR)
        assert checked.of("saddle", mount).value == pytest.approx(38.1, abs=NEAR)
    assert all_near([bolt.length for bolt in bolts(design)], 95.25)
    assert all_near(values(checked, "feed", "").values(), 35.9458)
    middle = check(boat("twin-motor-launch", mounts__0__offset=0.0))
    assert middle.of("height", "port motor").value == pytest.approx(18.6406 + 88.4768, abs=NEAR)


def test_twins_usual_distance_is_one_figure():
    """26 in between the motors' middles, common practice: demonstration, *Hang a twin*, and the manual."""
    demonstration = boat("twin-motor-launch")
    hung = add_twin(boat("shallow-well-skiff"), 0)
    for design in (demonstration, hung):
        port, starboard = (mount.offset for mount in design.mounts)
        assert starboard - port == pytest.approx(26 * INCH, abs=1e-6)
    assert "26 in apart" in demonstration.notes
    assert "distance between twins is 26 in (660 mm)" in help_text("placing")


def test_old_holes_each_in_its_way():
    """New holes 17/32 in = 13.49375, bolt 12.7; holes square to parallel faces, so both faces read alike.

    Lower pair 2 + 7-1/4 = 9-1/4 in down, old lower pair 10 in down: centres 19.05 apart.
    Open, 17/32 in: 19.05 - 13.49375 = 5.55625 / 12.7 = 0.4375 diameters: fouled, below 0.5.
    Plugged with 2-1/4 in: wholly in by 28.575 - 19.05 - 6.746875 = 2.7781: tight, below 6.35.
    Ladder hole, sealed, 3/8 in, 7/8 in from the upper port hole: 22.225 - (13.49375 + 9.525) / 2 = 10.715625 / 12.7 =
        0.8438: tight, between 0.5 and 1.
    Towing-eye hole, plugged with 1 in, 1-3/4 in from the lower port hole: wholly out by 44.45 - 12.7 - 6.746875 =
        25.0031: clear.
    Old upper port, to be used again, at the very place: 0, a note. Old upper starboard 1/16 in = 1.5875 lower, and
        the new hole hides no more than (13.49375 - 12.7) / 2 = 0.3969: fouled.
    Cable hole: nearest is the upper starboard hole, 9/16 in across and 3-1/2 in up: 90.04, beyond 4 * 12.7, so
        nothing is said of it.
    """
    checked = check(boat("thrice-drilled-runabout"))
    assert values(checked, "old_hole") == pytest.approx(
        {
            "lower port / old lower port": 0.4375,
            "lower starboard / old lower starboard": 2.7781,
            "upper port / ladder hole": 0.8438,
            "lower port / towing-eye hole": 25.0031,
            "upper port / old upper port": 0.0,
            "upper starboard / old upper starboard": 1.5875,
        },
        abs=NEAR,
    )
    states = {finding.at.rsplit(" / ", 1)[-1]: finding.state for finding in checked.findings if finding.check == "old_hole"}
    assert states == {
        "old lower port": "fouled",
        "old lower starboard": "tight",
        "ladder hole": "tight",
        "towing-eye hole": "clear",
        "old upper port": "note",
        "old upper starboard": "fouled",
    }
    assert checked.verdict == "fouled"


def test_old_holes_boat_has_no_other_trouble():
    """Filled and moved, the rest is clear: a plug of 1/2 in at the old lower port hole and the upper one shifted home.

    Plug 7/8 in instead of an open hole: wholly out by 19.05 - 11.1125 - 6.746875 = 1.1906, tight.
    """
    design = boat("thrice-drilled-runabout")
    port, starboard = design.old_holes[0], design.old_holes[3]
    port = replace(port, state="plugged", plug_diameter=7 / 8 * INCH)
    starboard = replace(starboard, at=(starboard.at[0], -2 * INCH))
    checked = check(replace(design, old_holes=(port, *design.old_holes[1:3], starboard, *design.old_holes[4:])))
    assert values(checked, "old_hole")["lower port / old lower port"] == pytest.approx(1.1906, abs=NEAR)
    assert checked.verdict == "tight"


def test_old_holes_boat_washers_sit_on_a_backing_plate():
    """Backing plate 12 x 3 in, 1/4 in thick: grip 3.175 + 12.7 + 44.45 + 6.35 + 3.175 = 69.85 below, 63.5 above.

    Bolts: at least 69.85 + 19.3763 = 89.2263, so 3-3/4 in = 95.25; above 3-1/2 in = 88.9.
    Washer on the backing plate: the backing plate's end is 6 - 4-15/16 = 1-1/16 in = 26.9875 away, less 19.05 = 7.9375.
    Backing plate: lower edge 9-1/4 + 1-1/2 = 10-3/4 in down, the drain tube's top 11-3/4 in: 1 in = 25.4. The floor is further:
        13 in deep (the top is cut square), land 19.05 cot(50.5) = 15.70: 330.2 - 15.70 - 273.05 = 41.45.
    """
    design = boat("thrice-drilled-runabout")
    checked = check(design)
    assert [bolt.grip for bolt in bolts(design)] == pytest.approx([63.5, 63.5, 69.85, 69.85], abs=NEAR)
    assert [bolt.length for bolt in bolts(design)] == pytest.approx([88.9, 88.9, 95.25, 95.25], abs=NEAR)
    assert values(checked, "washer")["lower starboard"] == pytest.approx(7.9375, abs=NEAR)
    assert values(checked, "washer")["lower / plate"] == pytest.approx(25.4, abs=NEAR)
    assert rows_left(design, 0, 7.25 * INCH) == (1, 2, 3, 4)


@pytest.mark.parametrize(
    ("name", "pair", "clamp", "clamped", "pressure", "pressed"),
    [
        ("shallow-well-skiff", "lower", 0.6537, "clear", 1.3306, "tight"),
        ("cap-lip-launch", "upper", 0.4353, "clear", 1.4426, "tight"),
        ("tapered-work-boat", "lower", 0.4617, "clear", 1.6620, "tight"),
        ("thrice-drilled-runabout", "upper", 0.5445, "clear", 1.4777, "tight"),
        ("thrice-drilled-runabout", "lower", 0.5445, "clear", 0.8917, "clear"),
        ("twin-motor-launch", "lower", 0.8705, "tight", 1.5411, "tight"),
    ],
)
def test_clamp_and_core_of_every_boat(name, pair, clamp, clamped, pressure, pressed):
    """Force: T / (0.14 d), d 12.7 mm (1.778) or 12 (1.68). Proof: 0.85 * 450 = 382.5 on 91.548 mm2, 35017 N; M12 on
    84.267, 32232 N. No drag was measured, so the highest clamp has none.

    Skiff, 40.7 N m (30 lb-ft): 22891 N, 0.6537. On 38.1 + 2 * 4.7625 = 47.625 less 13.49375: pi/4 (2268.14 - 182.08) =
        1638.39 mm2; 13.972 N/mm2 on fir plywood, 10.5: 1.3306. Its state is not known: dry counts.
    Cap lip, 27.1 N m (20 lb-ft, since light plywood supports no more): 15242 N, 0.4353. On 38.1 + 6.35 = 44.45:
        pi/4 (1975.80 - 182.08) = 1408.79; 10.819 on 7.5: 1.4426. At 30 lb-ft it would be 2.17, fouled.
    Tapered, 25 N m: 14881 N, 0.4617. On 37 + 10 = 47 less 13.5: pi/4 (2209 - 182.25) = 1591.81; 9.3485 on damp softwood,
        0.75 * 7.5 = 5.625: 1.6620.
    Thrice drilled, 33.9 N m (25 lb-ft): 19066 N, 0.5445. Upper pair as the skiff's: 11.637 on damp fir, 0.75 * 10.5 = 7.875:
        1.4777. Lower pair on a 6.35 backing plate: 38.1 + 12.7 + 9.525 = 60.325 less 13.49375: pi/4 (3639.11 - 182.08) =
        2715.13; 7.0223: 0.8917. The backing plate's share, 304.8 * 76.2 / 2, reaches further.
    Twins, 54.2 N m (40 lb-ft): 30484 N, 0.8705. 38.1 + 12.7 = 50.8: pi/4 (2580.64 - 182.08) = 1883.83; 16.182 on 10.5: 1.5411.
    """
    design = boat(name)
    checked = check(design)
    mount = design.mounts[0].name
    for side in ("port", "starboard"):
        findings = checked.of("clamp", f"{mount} / {pair} {side}"), checked.of("pressure", f"{mount} / {pair} {side}")
        assert [finding.value for finding in findings] == pytest.approx([clamp, pressure], abs=NEAR)
        assert [finding.state for finding in findings] == [clamped, pressed]


@pytest.mark.parametrize(
    ("name", "value", "state"),
    [
        ("shallow-well-skiff", 0.7989, "clear"), ("cap-lip-launch", 0.6236, "note"), ("tapered-work-boat", 0.8364, "clear"),
        ("thrice-drilled-runabout", 0.7989, "clear"), ("twin-motor-launch", 0.8322, "clear"),
    ],
)  # fmt: skip
def test_power_of_every_boat(name, value, state):
    """The capacity plate: 29.8/37.3 twice; 36.8/44 = 0.8364 over 112/140 = 0.8; both twins 37.2/44.7 = 0.8322 over 116/160.

    The cap lip's is lost: 16.5 ft * 4.6667 ft = 77.0, steered by a tiller. 0.8 * 77 - 25 = 36.6, raised to 40 hp, is
    29.828 kW: 18.6/29.828 = 0.6236, a note (33 CFR 183.53).
    """
    finding = check(boat(name)).of("power", "boat")
    assert finding.value == pytest.approx(value, abs=NEAR)
    assert finding.state == state
