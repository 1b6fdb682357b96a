"""One record a measure: a made-up one is on the card, in the file, on the measuring sheet, in the manual and in a check.

Not known, it makes its check `unknown`, and the sheets are stamped.
"""


import pytest
from msgspec.structs import replace

from app.commands.reports import check_text
from app.document.document import Document
from app.entries.card_items import items as card_items
from app.entries.entry_text import Line, sections
from app.entries.typed_entries import typed
from app.help.manual_places import reading_place
from app.window.main_window import MainWindow
from geometry.design.design import Reading
from geometry.design.motor import MOST_POINTS, TiltPoint
from geometry.design_text import from_text, to_text
from geometry.doubt.one_reading_off import trials
from geometry.doubt.spreads import with_spreads
from geometry.judge import check as checking
from geometry.judge.check import check
from geometry.judge.check_kinds import CHECK_KINDS, CheckKind
from geometry.judge.drillable import drillable
from geometry.judge.reporter import Outcome
from geometry.readings import measures as registry
from geometry.readings.boat_measures import of_papers
from geometry.readings.drilled_readings import FIELDS, drilled_key, drilled_of, drilled_readings, with_drilled
from geometry.readings.figures_in_sentences import figure, round_figure
from geometry.readings.measure import Measure, without_reading
from geometry.readings.measure_ranges import Range, Ranges
from geometry.readings.measures import guess_of, lacking, measure, name_of
from geometry.solid.faces import need
from templates_out.layout.drilling_permission import stamp
from templates_out.pages.measuring.measuring_items import items
from templates_out.pages.template.template_pages import template_pages
from tests.designs import changed, clamp_on_mount, example_design, roomy, sure
from tests.templates_out.printed import on, said

KEY = "transom.hull_number_height"


def _get(design):
    reading = design.readings.get(KEY)
    return None if reading is None else reading.value


def _set(design, value):
    if value is None:
        return without_reading(design, KEY)
    reading = design.readings.get(KEY) or Reading(
        text="", value=None, from_="centre", how="tape", state="measured", spread=None, second=None
    )
    return replace(design, readings={**design.readings, KEY: replace(reading, value=value)})


MEASURE = Measure(
    KEY, 1, "Hull number", "From the top edge to the number cut into the transom.", 1.6, "length", "tape", _get, _set,
    usual=None, page="measuring#skins-and-core", item=("Number on the hull", "down"),
    own_ranges=Ranges(Range(0.0, 3000.0), Range(20.0, 90.0)),
)  # fmt: skip
KIND = CheckKind(
    key="made_up", title="Hull number", noun="place of the hull number", nouns="hull number", family="room",
    place="gap-between-bolts",
)  # fmt: skip


def _look(report):
    def say():
        return Outcome(need(_get(report.design), KEY), "A bolt covers the hull number.", "Move the bolts.")

    report.add("made_up", "transom", (10.0, 20.0), "mm", (KEY,), (), say)


@pytest.fixture(autouse=True)
def made_up(monkeypatch):
    monkeypatch.setattr(registry, "GROUPS", (*registry.GROUPS, lambda _: (MEASURE,)))


@pytest.fixture
def in_a_check(monkeypatch):
    monkeypatch.setitem(CHECK_KINDS, "made_up", KIND)
    monkeypatch.setattr(checking, "ROW_INDEPENDENT", (*checking.ROW_INDEPENDENT, _look))


def measured(value=50.0):
    return _set(roomy(), value)


def guessed(value):
    design = measured(value)
    return replace(design, readings={**design.readings, KEY: replace(design.readings[KEY], state="guess")})


def line(design):
    return next(item for item in card_items(design, 0, 1) if isinstance(item, Line) and item.key == KEY)


def test_it_is_on_the_card_where_it_is_typed_and_forgotten():
    assert (line(roomy()).name, line(roomy()).rest, line(roomy()).origin) == ("Hull number", "not known", "not known")
    assert "To 1/16 in." in line(roomy()).how
    assert sections(roomy(), 0)[0].missing == sections(measured(), 0)[0].missing + 1
    entered = typed(roomy(), KEY, "2 in")
    assert _get(entered) == pytest.approx(50.8, abs=1e-6)
    assert line(entered).rest == "2"
    assert _get(typed(entered, KEY, "")) is None


def test_it_is_in_the_window(qtbot):
    window = MainWindow(Document(measured()))
    qtbot.addWidget(window)
    window.card.show_entry(KEY)
    entry = window.card.entry(KEY)
    assert entry is not None
    assert entry.key == KEY


def test_it_is_kept_in_the_file():
    assert from_text(to_text(measured())) == measured()


def test_it_leads_to_its_place_in_the_manual():
    assert reading_place(roomy(), KEY) == "measuring#skins-and-core"


def test_a_measure_without_a_place_leads_to_that_of_its_section(monkeypatch):
    monkeypatch.setattr(registry, "GROUPS", (lambda _: (replace(MEASURE, page=""),),))
    assert reading_place(roomy(notes="other"), KEY) == "measuring#the-transom"


def test_it_is_on_the_measuring_sheet():
    listed = next(item for item in items(measured()) if item.name == "Number on the hull")
    assert [(blank.word, blank.known) for blank in listed.blanks] == [("down", "1-31/32")]
    assert "To 1/16 in." in listed.how.replace("\N{NO-BREAK SPACE}", " ")


def test_a_guess_of_it_is_swept_over_its_usual_range():
    trial = next(trial for trial in trials(guessed(50.0), guessed(50.0)) if trial.key == KEY)
    assert (_get(trial.minus), _get(trial.plus)) == (20.0, 90.0)
    assert guess_of(guessed(50.0), MEASURE) == KEY


@pytest.mark.usefixtures("in_a_check")
def test_known_its_check_is_made():
    checked = check(measured(50.0))
    assert "made_up" not in {finding.check for finding in checked.findings if finding.state != "clear"}
    assert drillable(with_spreads(checked)).answer == "yes"
    assert check(measured(5.0)).findings[0].check == "made_up"
    assert KEY in check(guessed(50.0)).guesses


@pytest.mark.usefixtures("in_a_check")
def test_not_known_its_check_is_unknown_and_the_sheets_are_stamped():
    checked = check(roomy())
    finding = next(finding for finding in checked.findings if finding.check == "made_up")
    assert (finding.state, finding.missing) == ("unknown", KEY)
    assert lacking(roomy(), KEY) == KEY
    assert name_of(roomy(), KEY) == "hull number"
    assert "hull number" in drillable(checked).why_not
    assert "hull number" in check_text(checked)
    assert sure(stamp(checked)).reason == drillable(checked).why_not
    pages = template_pages(checked, on())
    assert all("NOT TO BE DRILLED" in said(page) for page in pages)
    assert measure(roomy(), KEY) is MEASURE


@pytest.mark.parametrize(("part", "section"), [
    ("well.second.washer", 3), ("old_holes.", 4), ("0.second.diagonal", 5), (".rows.", 5), (".clamp_screws.", 5), (".jaw.", 5),
])  # fmt: skip
def test_a_reading_is_on_the_card_with_its_thing(part, section):
    """Section 3 of the card is the well, 4 the old holes, 5 the bracket: second readings and pads are there too."""
    design = example_design()
    design = replace(design, mounts=(*design.mounts, clamp_on_mount(offset=500.0)))
    sections = {row.key: row.section for row in registry.measures(design) if part in row.key}
    assert sections
    assert set(sections.values()) == {section}, sections
    second = sure(measure(design, "old_holes.0.second.inside"))
    assert second.name == "Old lower starboard, down inside"


def test_the_end_of_a_range_is_a_tape_s_step_for_a_length_only():
    """9.96 in is 10 in on a tape of sixteenths; an angle keeps its tenths."""
    design = roomy()
    length, angle = sure(measure(design, "transom.height")), sure(measure(design, "transom.rake"))
    assert round_figure(design, length, 9.96 * 25.4) == "9 15/16 in"
    assert round_figure(design, angle, 13.5) == figure(design, angle, 13.5) == "13.5°"


def test_the_card_asks_for_one_point_of_the_cowl_more_than_was_read():
    """Up to the most. None was read on the example; with two read there are three."""
    design = example_design()
    point = TiltPoint(radius=400.0, angle=10.0, half_width=200.0)
    for read, asked in ((0, 1), (2, 3), (MOST_POINTS, MOST_POINTS)):
        tilt = replace(design.mounts[0].tilt, points=(point,) * read)
        mounted = replace(design, mounts=(replace(design.mounts[0], tilt=tilt),))
        rows = [row for row in registry.measures(mounted) if ".points." in row.key and row.key.endswith(".radius")]
        assert len(rows) == asked


def test_the_boats_papers_are_all_in_the_section_of_the_motor():
    """The capacity plate, sizes of the boat and the old motor: one comes after the other on the card."""
    rows = of_papers(example_design())
    assert {row.section for row in rows} == {registry.SECTIONS.index("Motor and bracket") + 1}
    on_plate = ("power_kw", "motor_mass", "total_mass", "persons_mass")
    assert [row.key for row in rows[:4]] == [f"boat.plate.{part}" for part in on_plate]


@pytest.mark.parametrize("field", [field for field, *_ in FIELDS])
def test_a_value_of_a_hole_as_drilled_is_kept_as_it_was_typed(field):
    """40 mm in the file are the 40 mm that were read, down as minus."""
    design = with_drilled(roomy(), 0)
    key = drilled_key(0, "lower port", field)
    row = next(row for row in drilled_readings(design) if row.key == key)
    done = row.set(design, 40.0)
    held = sure(drilled_of(done, 0, "lower port"))
    name, _, at = field.partition(".")
    value = getattr(held, name)
    assert row.get(done) == 40.0
    assert (value[int(at)] if at else value) == (-40.0 if field.endswith(".1") else 40.0)


def test_an_outermost_place_of_a_motor_has_its_own_values():
    """Each entry has the value of the place that it names. A place that is not there yet has none."""
    places = tuple(TiltPoint(radius=400.0 + at, angle=10.0 + at, half_width=150.0 + at) for at in (0, 1))
    design = changed(roomy(), mounts__0__tilt__points=places)
    values = [
        sure(measure(design, f"mounts.0.tilt.points.{at}.{field}")).get(design)
        for at in range(3) for field in ("radius", "angle", "half_width")
    ]  # fmt: skip
    assert values == [400.0, 10.0, 150.0, 401.0, 11.0, 151.0, None, None, None]
