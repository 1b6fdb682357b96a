"""The shop sheet as values and as a file: what it says, that nothing is clipped or overlaps, how it is read back."""

from __future__ import annotations

import datetime
import re
from functools import partial

import pytest
from msgspec.structs import replace

from geometry.design.boat import Block
from geometry.design_text import fingerprint
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.judge.drillable import FirstPilot
from geometry.judge.words import figure_of
from geometry.readings.measures import measure, measures
from geometry.solid.placed_bolts import bolts
from geometry.survey.taped_paper import Row
from geometry.tables.papers import paper as paper_named
from geometry.units.trade_words import in_trade_words
from templates_out.drawing.marks import Circle, Line, Path, Text
from templates_out.drawing.pdf import pdf_bytes
from templates_out.drawing.printer import bar_exactness
from templates_out.drawing.sheet_figures import printed
from templates_out.drawing.sheet_pens import width_of, words
from templates_out.drawing.transforms import text_box
from templates_out.layout.reading_pages import ROW, Piece, Sheet, flowed
from templates_out.layout.taped_pieces import taped_pieces
from templates_out.pages.shop import shop_holes as says
from templates_out.pages.shop import shop_sources
from templates_out.pages.shop.shop_buy import hardware, to_buy
from templates_out.pages.shop.shop_chances import before_drilling_pieces
from templates_out.pages.shop.shop_findings import power_words, summary_lines
from templates_out.pages.shop.shop_fitting import hook_pads
from templates_out.pages.shop.shop_pages import ANSWER, _answer, shop_pages
from templates_out.pages.shop.shop_pictures import face_picture, side_to_show
from templates_out.pages.shop.shop_step import used
from templates_out.pages.shop.shop_tools import tool_words
from templates_out.pages.shop.shop_torque import pattern
from templates_out.pages.shop.shop_work import work
from templates_out.pages.view_pages import view_pages
from templates_out.views.viewport import fit, work_rect
from tests.designs import changed, clamp_on_mount, example_design, roomy, sure
from tests.readers import texts as texts_in
from tests.templates_out.viewing import DEMONSTRATIONS, demonstration, of, overlaps, texts, variants

DAY = datetime.date(2026, 11, 25)
NBSP = "\N{NO-BREAK SPACE}"


MOST = {0: 4, 1: 4, 2: 6, 3: 8}  # pages, by the number of motors: issue 16 for one and two


def said(pages):
    return [text.text.replace(NBSP, " ") for page in pages for text in texts(page.marks)]


def plainly(lines):
    return [(count, what.replace(NBSP, " ")) for count, what, *_ in lines]


def a_sheet(design=None):
    return Sheet(design or example_design(), DAY, paper_named("letter"))


def whole(pages):
    return " ".join(said(pages))


FEW = ("without transom__rake", "without mounts__0__drop", "without mounts__0__lower_hardware__hole")
LOOKED_AT = [name for name in variants() if name in FEW or not name.startswith("without")]


@pytest.mark.parametrize(
    ("name", "paper"), [*((name, "letter") for name in LOOKED_AT), *((name, "a4") for name in DEMONSTRATIONS)]
)
def test_nothing_overlaps_or_leaves_the_page(name, paper):
    """Text keeps 13 mm from every edge of the page (14 but for a rounding of what the ends of glyphs need)."""
    pages = shop_pages(check(variants()[name]), DAY, paper)
    for number, page in enumerate(pages, start=1):
        assert not overlaps(texts(page.marks))
        for text in texts(page.marks):
            for x, y in text_box(text):
                assert 13.0 <= x <= page.width - 13.0, text.text
                assert 13.0 <= y <= page.height - 13.0, text.text
        words = said([page])
        assert f"page {number} of {len(pages)}" in words
        assert any(
            f"design {fingerprint(variants()[name])}" in line and "2026-11-25" in line and "revision" in line
            for line in words
        )
    assert len(pages) <= MOST[len(variants()[name].mounts)]


@pytest.mark.parametrize("name", ["example", *DEMONSTRATIONS])
@pytest.mark.parametrize("units", ["in", "mm"])
def test_in_either_unit_on_either_paper(name, units):
    design = replace(variants()[name], units=units)
    checked = check(design)
    for paper in ("letter", "a4"):
        pages = shop_pages(checked, DAY, paper)
        assert 2 <= len(pages) <= MOST[len(design.mounts)]
        for page in pages:
            assert not overlaps(texts(page.marks))
            for text in texts(page.marks):
                assert all(13 <= x <= page.width - 13 and 13 <= y <= page.height - 13 for x, y in text_box(text)), text.text


def test_the_answer_is_one_line():
    assert says.answer(example_design()) == (
        "Four holes, square to the face. Upper bolts in the 3rd hole from the top (two holes up)."
    )
    tilted = changed(example_design(), mounts__0__lower_tilt=6.0, mounts__0__row=0)
    assert says.answer(tilted) == (
        "Four holes, upper pair square to the face, lower pair tilted up 6° going in. "
        "Upper bolts in the 1st hole from the top (lowest)."
    )
    assert says.answer(changed(example_design(), mounts=())) == "No holes: no motor is bolted through the transom."


def test_the_hole_table_in_both_units():
    """Lower: 50.8 + 165.1 = 215.9 below the top edge; the inside edge is 44·tan 14° = 10.970 lower: 204.93."""
    rows = [[cell.replace(NBSP, " ") for cell in row] for row in says.hole_rows(example_design(), 0)]
    assert rows[0] == [
        "upper port", "6-7/16 in port (163.5 mm)", "2 in (50.8 mm)", "1-9/16 in (39.8 mm)", "17/32 in (13.5 mm)", "3-1/4 in",
        "from outside",
    ]  # fmt: skip
    assert rows[3][:4] == ["lower starboard", "4-15/16 in stbd (125.4 mm)", "8-1/2 in (215.9 mm)", "8-1/16 in (204.9 mm)"]
    metric = [cell.replace(NBSP, " ") for cell in says.hole_rows(changed(example_design(), units="mm"), 0)[0]]
    assert metric[1:3] == ["163.5 mm port (6-7/16 in)", "50.8 mm (2 in)"]


def test_the_step_between_the_edges_is_said():
    assert "7/16 in (11 mm) lower than the outside top edge" in says.edge_words(example_design()).replace(NBSP, " ")
    assert "top edges are level" in says.edge_words(changed(example_design(), transom__top_cut="square"))
    assert "not known" in says.edge_words(changed(example_design(), transom__rake=None))


def test_what_to_buy():
    """Four bolts of 3-1/4 in; 61.8 grip + 15.47 nut + 2 pitches of 1.954 = 81.18, 61.8 + 31.75 of thread = 93.55.

    Rounded inward to 1/16 in: 82.55 is 3-1/4 (the next below is 80.963), 92.075 is 3-5/8 (the next above 93.663).
    """
    lines = plainly(hardware(example_design()))
    assert lines[0] == (
        4, "hex bolts 1/2-13 x 3-1/4 in, A4-70 or better, 1-1/4 in of thread. "
        "Any length from 3-1/4 in to 3-5/8 in fits. Other stock: 3-1/2 in.",
    )  # fmt: skip
    assert [count for count, _ in lines] == [4, 8, 4, 4]
    assert lines[1][1].startswith("nylon-insert lock nuts 1/2-13, ASME B18.16.6 NE, A4 stainless")
    assert lines[2][1] == "outside washers 1-3/8 x 9/16 x 7/64 in (34.9 x 14.3 x 2.8 mm): across, hole, thickness"
    assert lines[3][1] == "inside washers 1-1/2 x 17/32 x 1/8 in (38.1 x 13.5 x 3 mm): across, hole, thickness"
    assert says.stages(example_design()) == ["1/8, 1/4, 3/8 and 17/32 in"]
    assert says.stages(changed(example_design(), units="mm")) == ["3, 6, 10 and 13.5 mm"]


def test_how_much_epoxy_and_sealant():
    """Core: 81.1 mL by hand (see the tests of quantities), 30 to 50 % more is 105.4 to 121.6: 110 to 125 in steps of 5.

    Sealant 19.7 mL: 25.6 to 29.5, so 30. With an open 1/2 in hole bored to 1 in through 44 mm: 22.3 mL more, 103.4 in all.
    """
    bought = [what for _, what in plainly(to_buy(example_design()))]
    assert "marine sealant for below the waterline, of a kind that the motor’s manual allows: about 30 mL" in bought
    assert any("81 mL for the core around the new holes; mix 110 to 125 mL in all" in what for what in bought)
    opened = changed(example_design(), old_holes__0__state="open", old_holes__0__plug_diameter=None)
    bought = [what for _, what in plainly(to_buy(opened))]
    assert any("81 mL for the core around the new holes and 22 mL for the old holes; mix 135 to 160 mL" in x for x in bought)
    first = next(step.what for step in work(opened) if step.what.startswith("Fill the old holes first")).replace(NBSP, " ")
    assert "Bore out old lower starboard to 1 in (25.4 mm)" in first
    assert "This takes 22 mL: mix 30 to 35 mL" in first
    bare = plainly(to_buy(changed(example_design(), transom__thickness__top=None)))
    assert any("how much is not known yet" in what for _, what in bare)


def test_a_tapered_transom_takes_two_lengths():
    lines = plainly(hardware(changed(example_design(), transom__thickness__low=70.0)))
    assert [count for count, what in lines if what.startswith("hex")] == [2, 2]


def test_the_used_hole_of_the_bracket_is_filled():
    first = shop_pages(check(example_design()), DAY)[0]
    holes = [of(first.marks, Circle, f"bracket hole {row}")[0] for row in range(5)]
    assert [hole.fill for hole in holes] == [None, None, "ink", None, None]
    assert [hole.centre[1] for hole in holes] == sorted((hole.centre[1] for hole in holes), reverse=True)
    assert "the bolts go here: 3rd hole from the top (two holes up)" in said([first])


ORDER = {
    "fouled": 0, "over the limit": 0, "not checked": 1, "tight": 2, "near the limit": 2, "clear": 3, "within limits": 3,
    "note": 4,
}  # fmt: skip
"""The states' words, those of the loads too, worst first."""


def test_the_worst_comes_first_and_what_is_clear_in_few_lines():
    design = changed(example_design(), mounts__0__drop=203.2, mounts__0__row=1)
    checked = check(design)
    rows = summary_lines(checked)
    places = [ORDER[word] for word, *_ in rows]
    assert places == sorted(places)
    text = "The lower washer overlaps the well floor's rounded corner by 1-7/16 in. Both are alike."
    assert rows[0][1].replace(NBSP, " ").startswith(text)
    words = whole(shop_pages(checked, DAY))
    for state, text, _ in rows:
        assert all(word in words for word in in_trade_words(text, "in").replace(NBSP, " ").split())
        assert state in words.lower()
    assert len(rows) <= 27 < len(checked.findings)


def test_no_finding_is_lost():
    """A fouled or tight finding is there word for word, both sides in one. Of the clear ones there is the least of a kind.

    Clamp and pressure stand there by their figures; their reasons have other lines.
    """
    checked = check(example_design())
    rows = [(state, text.replace(NBSP, " ")) for state, text, _ in summary_lines(checked)]
    texts_ = " ".join(text for _, text in rows)
    for finding in checked.findings:
        if finding.check in ("clamp", "pressure"):
            assert f"{figure_of(checked.design, finding)} (advised " in texts_
        elif finding.state in ("fouled", "tight"):
            bare = finding.text.replace(" port", "").replace(" starboard", "")
            assert printed(bare).replace(NBSP, " ") in texts_
    least = min(finding.value or 0.0 for finding in checked.findings if finding.check == "washer")
    assert least == pytest.approx(2.16, abs=0.01)  # 1/16 in is 1.59 mm: rounded down
    clear = next(text for state, text in rows if text.startswith("Least room inside"))
    assert "washers 1/16 in" in clear
    assert {word for word, _ in rows} == {"tight", "clear", "within limits", "near the limit", "note"}


def test_what_waits_for_a_reading_is_under_it():
    rows = summary_lines(check(changed(example_design(), transom__rake=None)))
    waiting = [text for state, text, _ in rows if state == "not checked"]
    assert len(waiting) == 1
    assert waiting[0].startswith("Rake: not measured. These checks need it: ")
    assert "washers" in waiting[0]


def test_limits_are_said():
    rows = {text: limits for _, text, limits in summary_lines(check(example_design()))}
    washer = next(limits for text, limits in rows.items() if text.startswith("Least room inside"))
    seat = next(limits for text, limits in rows.items() if text.startswith("Most tilt under a head"))
    assert washer == "advised 1/8 in, limit 0 in"
    assert seat == "advised 1°, limit 2.9°"  # 1 in 20 is 2.86°


def test_not_to_be_drilled_is_on_every_page_of_a_fouled_design():
    fouled = shop_pages(check(changed(example_design(), mounts__0__drop=203.2, mounts__0__row=1)), DAY)
    for page in fouled:
        assert "NOT TO BE DRILLED" in said([page])
    for page in fouled[1:]:
        strip = [mark for mark in page.marks if mark.part == "not to be drilled"]
        (ring,) = [mark.points for mark in strip if isinstance(mark, Path)]
        words = next(mark for mark in strip if isinstance(mark, Text) and mark.text == "NOT TO BE DRILLED")
        assert words.anchor == "middle"
        assert words.at[0] == pytest.approx((ring[0][0] + ring[1][0]) / 2)
        assert all(ring[0][1] < y < ring[2][1] for _, y in text_box(words))
    assert "NOT TO BE DRILLED" not in said(shop_pages(with_spreads(check(roomy())), DAY))
    demo = shop_pages(check(replace(example_design(), demonstration=True)), DAY)
    assert all("NOT TO BE DRILLED" in said([page]) for page in demo)


def test_gates_and_cautions():
    words = said(shop_pages(check(example_design()), DAY))
    assert words.count("STOP") >= 10
    text = " ".join(words)
    for needed in ("maker’s manual", "local codes", "licensed", "if chips are wet or dark.", "1/32 in (0.8 mm)"):
        assert needed in text


def test_several_motors_have_a_page_each():
    pages = shop_pages(check(demonstration("twin-motor-launch")), DAY)
    titles = [next(text.text for text in texts(page.marks) if text.part == "title") for page in pages]
    assert titles[0] == "Shop sheet: port motor, checks"
    assert any("starboard motor" in title for title in titles[1:3])  # the checks between them fill up to a page


def test_each_of_two_motors_is_named_before_its_readings():
    """"Shaft length" by itself would be either motor's; of one motor alone no name is needed."""
    design = changed(demonstration("twin-motor-launch"), mounts__0__leg=None, mounts__1__leg=None)
    words = shop_sources.unsure(design)
    for motor in design.mounts:
        assert f"{motor.name.capitalize()}: Shaft length." in words
    assert shop_sources.unsure(changed(example_design(), mounts__0__leg=None)).startswith("Not known: Shaft length.")


def test_the_pattern_is_seen_from_inside():
    """Looking aft, port is at the right; the first nut is the upper one there."""
    mine = list(bolts(example_design()))
    marks = pattern(mine, (0.0, 0.0))
    first, second = (of(marks, Circle, f"nut {number}")[0].centre for number in (1, 2))
    assert first[0] > 0 < first[1]
    assert second[0] < 0 > second[1]
    turned = changed(example_design(), mounts__0__upper_hardware__inserted_from="inside",
                     mounts__0__lower_hardware__inserted_from="inside")  # fmt: skip
    marks = pattern(list(bolts(turned)), (0.0, 0.0))
    assert of(marks, Circle, "nut 1")[0].centre[0] < 0  # nuts outside: seen from astern
    assert "Seen from astern, looking forward. Port is on the left." in whole(shop_pages(check(turned), DAY))


def test_which_bolt_goes_in_when_and_from_where():
    design = changed(example_design(), mounts__0__lower_hardware__inserted_from="before hanging",
                     mounts__0__bracket__room_aft__upper=200.0)  # fmt: skip
    steps = [what for what, *_ in work(design)]
    before = next(i for i, what in enumerate(steps) if what.startswith("Before you hang the motor, put the lower bolts into"))
    hoist = next(i for i, what in enumerate(steps) if what.startswith("Hoist"))
    upper = next(i for i, what in enumerate(steps) if what.startswith("Put the upper bolts in from outside"))
    assert before < hoist < upper
    assert not any("not measured" in what for what in steps)
    assert any("The room behind the bracket is not measured" in what for what, *_ in work(example_design()))
    assert not any("cut washer" in what for what in steps)
    flat = changed(example_design(), mounts__0__lower_hardware__washer__flat_cut=15.0)
    assert any(what.startswith("Under the lower bolts, turn the flat side of each cut washer down") for what, *_ in work(flat))


def test_old_holes_come_first_and_wide_ones_are_another_repair():
    holes = (
        replace(example_design().old_holes[0], name="drain", state="open", plug_diameter=None, diameter=50.0),
        replace(example_design().old_holes[0], name="old upper port", state="open", plug_diameter=None, reuse=True),
    )
    steps = [what for what, *_ in work(changed(example_design(), old_holes=holes))]
    wide = next(number for number, what in enumerate(steps) if what.startswith("Drain is too wide for a plug"))
    assert wide < next(number for number, what in enumerate(steps) if what.startswith("Print the template"))
    assert not any("Bore out" in what for what in steps)


def test_the_first_pilot_s_gate_is_the_circle_of_the_inside_sheet_and_names_only_what_has_an_entry():
    """The lower washers of the example have 2.16 mm of room less 0.96 of spread: 1.19, in words 1/32 in."""
    gate = next(gate for what, gate, *_ in work(example_design()) if "Drill one lower pilot" in what).replace(NBSP, " ")
    assert gate.startswith("if it comes out more than 1/32 in (0.8 mm) from its place")
    assert gate.endswith("Fill it with epoxy. Measure thickness, rake and floor again. Type them in, then print again.")
    roomy = changed(example_design(), mounts__0__drop=155.0)
    assert any("more than 1/8 in (3.2 mm) from its place" in gate.replace(NBSP, " ") for _, gate, *_ in work(roomy))
    low = changed(example_design(), mounts__0__drop=167.0)
    refused = "before you drill. A pilot that is a little off has too little room. Raise the bolts"
    assert any(gate.startswith(refused) for _, gate, *_ in work(low))


def test_no_step_pilots_a_reused_hole_or_lays_a_template_before_it_is_printed():
    places = {
        "upper port": (-163.5125, -50.8), "upper starboard": (163.5125, -50.8),
        "lower port": (-125.4125, -215.9), "lower starboard": (125.4125, -215.9),
    }  # fmt: skip
    olds = {
        name: replace(example_design().old_holes[0], name=f"old {name}", at=at, state="open", plug_diameter=None, reuse=True)
        for name, at in places.items()
    }

    def steps_of(*names):
        return [what for what, *_ in work(changed(example_design(), old_holes=tuple(olds[name] for name in names)))]

    steps = steps_of("upper port", "upper starboard")
    printing, rings, pilot, opening = (
        next(number for number, what in enumerate(steps) if what.startswith(start))
        for start in ("Print the template", "Look at the template", "Punch the dots. Drill one lower pilot", "Drill no pilot")
    )
    assert printing < rings < pilot < opening
    assert "old upper port, old upper starboard" in steps[rings]
    assert steps[opening].startswith("Drill no pilot in a reused hole: upper port, upper starboard. Open it to 17/32")
    lower = steps_of("lower port", "lower starboard")
    assert any("Drill one upper pilot" in what for what in lower)
    assert not any("lower pilot" in what for what in lower)
    single = steps_of("upper port", "upper starboard", "lower port")
    assert any("Drill one lower pilot, 1/8 in" in what.replace(NBSP, " ") for what in single)
    every = " ".join(steps_of(*places))
    assert "Punch" not in every
    assert "pilot" not in every.replace("no pilot", "")


def test_guesses_and_gaps_are_named_and_readings_that_were_taken_are_not():
    """The runabout guesses one plug. Its rake was read."""
    words = whole(shop_pages(check(demonstration("thrice-drilled-runabout")), DAY))
    assert "A guess: Old lower starboard: plug 2-1/4 in (57.2 mm)" in words
    assert "Rake" not in shop_sources.unsure(demonstration("thrice-drilled-runabout"))
    unknown = whole(shop_pages(check(changed(example_design(), transom__rake=None)), DAY))
    assert "Not known: Rake." in unknown


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_every_second_reading_and_every_pilot_can_be_on_the_sheet(name):
    """Each by itself, as an owner types it: the sheet is made, and says within what it was read."""
    design = demonstration(name)
    for row in measures(design):
        if not row.second:
            continue
        value = 38.1 if row.spread == "calipers" else 180.0
        taken = row.set(design, value)
        typed = sure(measure(taken, row.key))
        assert typed.get(taken) == value
        assert shop_sources.reading(taken, typed)[1], row.key
    across = measure(design, "well.second.washer_across")
    if across is not None:
        assert shop_sources.reading(across.set(design, 38.1), across)[1] == ("0.1 mm" if design.units == "mm" else "1/64 in")


def test_a_second_reading_that_nobody_took_is_no_gap():
    """The gaps name only what the checks lack."""
    design = demonstration("shallow-well-skiff")
    diagonal = sure(measure(design, "well.second.diagonal"))
    assert diagonal.get(design) is None
    said = "Well's diagonal"
    assert said not in shop_sources.unsure(design)
    assert said not in shop_sources.unsure(diagonal.set(design, 600.0))


def test_record_to_fill_in():
    """Four nuts by eight columns; boxes at five intervals, and one for each step, part and tool."""
    pages = shop_pages(check(example_design()), DAY)
    words = said(pages)
    for interval in ("24 hours", "first trip", "10 hours", "50 hours", "season", "drag, lb-ft"):
        assert interval in words
    boxes = [mark for page in pages for mark in page.marks if isinstance(mark, Path) and mark.closed and mark.fill is None
             and len(mark.points) == 4 and mark.points[1][0] - mark.points[0][0] == pytest.approx(3.6, abs=1e-9)]  # fmt: skip
    steps, passes_ = work(example_design()), 6
    parts = to_buy(example_design(), pads=hook_pads(example_design()))
    listed = [line for line in parts if used(steps).intersection(line.keys)]
    tools = tool_words(example_design(), used(steps) - {key for line in listed for key in line.keys})
    assert len(boxes) == len(steps) + passes_ + 5 + len(listed) + len(tools)


def test_power_and_persons():
    """680 kg less 112, and 14 + 45 + 100 lb = 72 kg of gear, leave 496 kg: (1093 + 32)/141 = 7.98, eight."""
    boat = demonstration("tapered-work-boat")
    metric = whole(shop_pages(check(boat), DAY)).replace(NBSP, " ")
    assert "496 kg is left for persons: 8 persons" in metric
    inches = whole(shop_pages(check(changed(boat, units="in")), DAY)).replace(NBSP, " ")
    assert "less 159 lb for controls" in inches  # 14 + 45 + 100, kilograms to the nearest in between
    assert "1093 lb is left for persons: 8 persons" in inches
    assert "ISO 14946" in power_words(check(demonstration("cap-lip-launch")))
    clamped = whole(shop_pages(check(changed(example_design(), mounts=(clamp_on_mount(),))), DAY))
    assert "Power and weight." in clamped


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_what_belongs_together_is_on_one_page(name, paper):
    """No heading and no table's head at a foot, no last sentence alone on the next page; a title says what its page holds."""
    pages = shop_pages(check(demonstration(name)), DAY, paper)
    words = [[t.text.replace(NBSP, " ") for t in texts(page.marks)] for page in pages]
    motors = len({bolt.mount_index for bolt in bolts(demonstration(name))})
    for held in (("drag, ", "stripe straight, all dry"),):
        for page in words:
            there = [any(text.startswith(wanted) for text in page) for wanted in held]
            assert all(there) or not any(there), (held, there)
    (watched,) = [page for page in words if any(text.startswith("if a washer sinks more than") for text in page)]
    assert "stripe straight, all dry" in watched
    assert sum(page.count("stripe straight, all dry") for page in words) == motors
    for page in words:
        title = next(text for text in page if text.startswith("Shop sheet"))
        assert "continued" not in title
        for heading, called in (
            ("Checks", "checks"), ("To buy", "to buy"), ("The work, in order", "work"),
            ("Torque on the nuts", "torque"),
        ):
            assert heading not in page or called in title or title.count(",") == 2, (heading, title)  # three are the most
        assert ("STOP" not in page) or any(called in title for called in ("work", "record", "punch")), title


def test_a_page_that_goes_on_is_named_by_what_it_goes_on_with():
    """Three lines of 10 mm a page; white between two sections begins no page, and so names none."""
    def line(y, text):
        return (Text((0.0, y), text, 3.0),), y - 10.0

    def piece(text, names=""):
        return Piece(partial(line, text=text), names=names)

    white = Piece(lambda y: ((), y - 5.0))
    pages = flowed([piece("a", "first"), piece("b"), piece("c"), piece("d"), piece("e", "second"), piece("f"), white,
                    piece("g", "third")], 30.0, 30.0, 0.0)  # fmt: skip
    assert [page.names for page in pages] == [("first",), ("first", "second"), ("third",)]
    assert [[mark.text for mark in page.marks] for page in pages] == [["a", "b", "c"], ["d", "e", "f"], ["g"]]
    pages = flowed([piece("a", "first"), piece("b", "second"), piece("c", "first"), piece("d")], 30.0, 30.0, 0.0)
    assert [page.names for page in pages] == [("first", "second"), ("first",)]  # goes on with the last of the page before


def test_the_answer_takes_no_second_line_for_a_word_or_two():
    """On A4 the twin's and the tapered boat's ended with the word "top." alone."""
    for name in DEMONSTRATIONS:
        page = shop_pages(check(demonstration(name)), DAY, "a4")[0]
        said_large = [t.text for t in texts(page.marks) if abs(t.size - ANSWER) < 1e-6]
        assert said_large == [says.answer(demonstration(name))]


def test_a_motor_that_clamps_on_has_no_torque_and_its_own_steps():
    design = replace(example_design(), mounts=(clamp_on_mount(),))
    pages = shop_pages(check(design), DAY)
    words = whole(pages)
    assert "lanyard or chain" in words
    assert "Torque on the nuts" not in words
    assert {"To buy", "Tools", "lanyard or chain for the motor", "small hammer"} <= set(said(pages))


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_read_back_from_the_file(name):
    """PDFium finds every word that the pages say, in the same file each time."""
    pages = shop_pages(check(demonstration(name)), DAY, "a4")
    data = pdf_bytes(pages, "shop sheet", DAY)
    assert data == pdf_bytes(pages, "shop sheet", DAY)
    read = texts_in(data)
    assert len(read) == len(pages)
    for page, text in zip(pages, read, strict=True):
        there = "".join(text.replace(NBSP, " ").split())
        for line in said([page]):
            assert "".join(line.split()) in there, line


def test_pictures_alone():
    face, cut = view_pages(check(demonstration("shallow-well-skiff")))
    for page in (face, cut):
        assert not overlaps(texts(page.marks))
        for text in texts(page.marks):
            assert all(0 <= x <= page.width and 0 <= y <= page.height for x, y in text_box(text))
    assert {"PORT", "STARBOARD", "seen from astern"} <= set(said([face]))
    assert {"aft", "forward"} <= set(said([cut]))
    assert "Cut through the port bolts, seen from starboard" in said([cut])
    clamped = view_pages(check(replace(example_design(), mounts=(clamp_on_mount(),))))[1]
    assert "Cut through the transom, seen from starboard" in said([clamped])
    assert of(face.marks, Path, "bracket:0")
    for page in (face, cut):
        head = next(text for text in texts(page.marks) if text.bold and text.size == 4.2)
        assert head.at == (4.0, page.height - 7.5)


@pytest.mark.parametrize("name", ["skiff", "the boat with the longest name of all that were ever hauled out on this slip " * 2])
def test_a_picture_alone_has_as_much_of_the_boats_name_as_there_is_room_for(name):
    """The face has a short name whole, and the first words of a long one. The design's number stays, and the title is free."""
    design = replace(example_design(), name=name)
    for number, page in enumerate(view_pages(check(design))):
        title, whose = (mark for mark in page.marks[-2:] if isinstance(mark, Text))
        shown, _, last = whose.text.rpartition("  ·  design ")
        assert last == fingerprint(design)
        assert shown == name or shown.endswith("…")
        assert name.startswith(shown.removesuffix("…"))
        assert number or len(shown) >= min(len(name), 40)
        assert min(x for x, _ in text_box(whose)) > max(x for x, _ in text_box(title)) + 3.0


@pytest.mark.parametrize(("units", "exact"), [("in", "1/64 in"), ("mm", "0.5 mm")])
def test_the_shop_sheet_holds_the_bars_as_exactly_as_the_template_asks(units, exact):
    """In what a rule shows, as the manual has it."""
    checked = check(replace(demonstration("shallow-well-skiff"), units=units))
    said = " ".join(text.text for page in shop_pages(checked, DAY) for text in texts(page.marks)).replace(NBSP, " ")
    assert f"off by more than {exact}." in said
    assert bar_exactness(units) == exact


@pytest.mark.parametrize(("value", "shown"), [(0.05, "0.05"), (0.5, "0.50"), (0.805, "0.81"), (1.0, "1.00")])
def test_a_ratio_keeps_its_point(value, shown):
    """The pressure over what the core supports is rounded up to a hundredth: 0.05 is no 05, nor 1.00 a 10."""
    checked = check(example_design())
    findings = tuple(
        replace(finding, state="clear", value=value) if finding.check == "pressure" else finding for finding in checked.findings
    )
    line = next(text for _, text, _ in summary_lines(replace(checked, findings=findings)) if text.startswith("Highest load"))
    figures = re.findall(r"pressure on the core ([0-9]*\.?[0-9]+) × what it supports", line)
    assert figures == [shown]


def test_full_lock_and_full_tilt_come_before_drilling_and_again_before_the_sealant():
    """In each the hoist holds the motor: nobody turns one that hangs on bolts without torque."""
    steps = [f"{step.what} {step.gate}" for step in work(example_design())]

    def first(words):
        return next(number for number, step in enumerate(steps) if words in step)

    tries = [number for number, step in enumerate(steps) if "full lock both ways. Tilt it fully at each lock." in step]
    assert len(tries) == 2
    assert all("hoist" in steps[number] and "Let nobody stand under it." in steps[number] for number in tries)
    assert tries[0] < first("Punch the dots.")
    assert first("Dry fit every bolt") < tries[1] < first("Put sealant in each hole")


@pytest.mark.parametrize(("u", "side"), [(-125.4125, "port"), (125.4125, "starboard"), (None, "starboard")])
def test_the_side_with_the_worst_finding_is_shown(u, side):
    """A block just over one lower nut; without it both sides are alike."""
    block = () if u is None else (
        Block(name="rib", outline=((u - 5, -190), (u + 5, -190), (u + 5, -180), (u - 5, -180)), stands_out=None),
    )  # fmt: skip
    checked = check(roomy(inside_blocks=block))
    if u is not None:
        assert checked.of("washer", f"main motor / lower {side}").state in ("fouled", "tight")
    assert side_to_show(checked, 0) == side


def test_the_chance_that_the_bracket_goes_on_comes_before_the_work():
    """Motors with the same chances share the sentence."""
    pages = shop_pages(check(demonstration("twin-motor-launch")), DAY)
    words = whole(pages)
    assert words.count("Will the bracket go on?") == 1
    assert words.index("Will the bracket go on?") < words.index("Tap the transom")
    assert "The bracket then goes on in over 99 % of cases. Drill every hole with a guide block." in whole(pages)


def test_two_motors_with_other_chances_have_sentences_by_their_names():
    twins = demonstration("twin-motor-launch")
    looser = changed(twins, mounts__1__bracket__lower__diameter=None)
    words = whole(shop_pages(check(looser), DAY))
    assert all(f"{mount.name}: Will the bracket go on?" in words for mount in twins.mounts)


def test_the_sheet_says_which_diameter_the_chance_needs():
    pages = shop_pages(check(changed(example_design(), mounts__0__bracket__lower__diameter=None)), DAY)
    assert "Not calculated. Measure lower slots, width first." in whole(pages)
    assert "Will the bracket go on?" not in whole(shop_pages(check(replace(example_design(), mounts=(clamp_on_mount(),))), DAY))


def test_the_face_fills_its_box_on_the_sheet():
    """A hole is where a view of that width and height puts it. The wrong program takes the box for a square."""
    design, box = example_design(), (20.0, 40.0, 140.0, 110.0)
    view = fit(work_rect(design), 120.0, 70.0)
    marks = face_picture(check(design), 0, box)
    for side, u in (("port", -125.4125), ("starboard", 125.4125)):
        hole = max((mark for mark in of(marks, Circle, f"lower {side} hole:0")), key=lambda mark: mark.radius)
        x, y = view.to_paper((u, -215.9))
        assert hole.centre == pytest.approx((20.0 + x, 40.0 + y), abs=1e-6)


def test_a_table_wider_than_the_page_begins_its_columns_as_shares_of_its_own_width():
    """Two columns of one long cell each: the second begins after the first and 2 mm, of both and those 2 mm."""
    sheet, cell = a_sheet(), "m" * 90
    bold, plain = (width_of(words((0.0, 0.0), cell, ROW, bold=bold)) for bold in (True, False))
    assert bold + plain > sheet.room
    assert sheet.columns(("a", "b"), ((cell, cell),)) == pytest.approx([0.0, (bold + 2.0) / (bold + 2.0 + plain)])
    # Where there is room, the rest of it is between the columns.
    narrow = width_of(words((0.0, 0.0), "mm", ROW))
    assert sheet.columns(("a", "b"), (("mm", "mm"),))[1] == pytest.approx((sheet.room - narrow) / sheet.room)


def test_the_answer_is_narrower_only_where_that_saves_a_line():
    sheet, saved = a_sheet(), set()
    for count in range(1, 60):
        text = " ".join(["measure"] * count)
        marks, _ = _answer(sheet, text, 200.0)
        usual, narrow = (sheet.paragraph(200.0, text, ANSWER, bold=True, condensed=way)[0] for way in (False, True))
        saves = len(narrow) < len(usual)
        assert len(marks) == min(len(narrow), len(usual))
        assert all(isinstance(mark, Text) and mark.condensed == saves for mark in marks)
        saved.add(saves)
    assert saved == {True, False}


def test_the_taped_table_is_whole_where_one_of_its_halves_is_too_wide():
    """Four short rows, then four with a long name: side by side the right half has no room, so all are in one column."""
    short = [Row(f"hole {number} to 1", "holes", 100.0, 1.0) for number in range(4)]
    long = [Row(f"the lower starboard hole of the port motor and number {number} of the others", "holes", 100.0, 1.0)
            for number in range(4)]  # fmt: skip
    heads = {}
    for name, rows in (("short", short + short), ("left", long + short), ("right", short + long)):
        marks = [mark for piece in taped_pieces(example_design(), tuple(rows), a_sheet()) for mark in piece.write(200.0)[0]]
        heads[name] = sum(isinstance(mark, Text) and mark.text == "should be" for mark in marks)
    assert heads == {"short": 2, "left": 1, "right": 1}


def test_the_work_begins_with_what_is_looked_at_before_the_paper_with_a_pilot_too():
    """With a pilot alone it ends at the pilot: nothing is drilled, sealed or hung."""
    design = changed(example_design(), transom__core="foam")
    heads = [step.head for step in work(design) if step.head]
    alone = [step.head for step in work(design, FirstPilot(0, "lower port", "washer mark")) if step.head]
    assert heads[0] == alone[0] == "Before you start"
    assert alone.index("Paper") == 1
    assert "Old holes" not in alone
    first = next(iter(work(design, FirstPilot(0, "lower port", "washer mark"))))
    assert first.what.startswith("Tap the transom with a hammer.")


def test_a_page_that_goes_on_begins_with_the_heads_again():
    """Two lines of 10 mm fit on a page of 30 below their head: the next page begins with the head."""
    def line(y, text):
        return (Text((0.0, y), text, 3.0),), y - 10.0

    head = partial(line, text="head")
    rows = [Piece(partial(line, text=text), again=head) for text in "abc"]
    pages = flowed([Piece(head, tied=True), *rows], 30.0, 30.0, 0.0)
    assert [[mark.text for mark in page.marks] for page in pages] == [["head", "a", "b"], ["head", "c"]]


def test_a_size_that_is_not_known_is_a_question_mark():
    assert says.bare(None, "in") == "?"
    assert says.bare(34.925, "in") == "1-3/8"


def test_the_columns_of_the_taped_table_take_the_sheets_width():
    """A table in one column spreads: as much white before each of its columns. Its blank has its own width, and more."""
    sheet = a_sheet()
    rows = tuple(Row(f"hole {number} to 1", "holes", 100.0, 1.0) for number in range(3))
    pieces = taped_pieces(example_design(), rows, sheet, narrow=False)
    marks = [mark for piece in pieces for mark in piece.write(200.0)[0]]
    blanks = [mark for mark in marks if isinstance(mark, Line) and mark.part == "blank"]
    assert len(blanks) == 3
    assert sheet.left + 0.6 * sheet.room < blanks[0].a[0] < sheet.right - 20.0


def test_the_chances_name_their_motors_where_they_differ_only():
    """The twin's two motors hang alike: said once, without a name. With another size of hole each has its name."""
    twin = demonstration("twin-motor-launch")
    alike = [piece.write(200.0)[0] for piece in before_drilling_pieces(twin, a_sheet())]
    assert len(alike) == 1
    name = twin.mounts[0].name
    assert not any(mark.text.startswith(f"{name}:") for mark in alike[0] if isinstance(mark, Text))
    lower = replace(sure(twin.mounts[0].lower_hardware), hole=14.3)
    other = replace(twin, mounts=(replace(twin.mounts[0], lower_hardware=lower), *twin.mounts[1:]))
    differ = [piece.write(200.0)[0] for piece in before_drilling_pieces(other, a_sheet())]
    first = [next(mark.text for mark in marks if isinstance(mark, Text)) for marks in differ]
    assert [text.split(":")[0] for text in first] == [mount.name for mount in other.mounts]
