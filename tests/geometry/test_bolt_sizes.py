"""One record a bolt size: a made-up one is offered on the card, checked, tried by the search, bought and printed."""

import datetime

import pytest
from msgspec.structs import replace

from app.commands.command_line import main
from geometry.decide.kit import kits
from geometry.design_text import from_text, to_text
from geometry.edits.choices import choices
from geometry.judge.check import check
from geometry.judge.torque import drag
from geometry.solid.placed_bolts import bolts
from geometry.tables.bolt_sizes import BOLT_SIZES, BoltSize, ClearanceHoles, FlatWasher, Nut
from geometry.tables.bolts import metric_bolt
from geometry.tables.fasteners import bolt_names, locks, nut
from geometry.tables.known import NotListedError
from templates_out.drawing.marks import Circle
from templates_out.drawing.printer import Printing
from templates_out.pages.coupons.coupon_pages import coupon_pages
from templates_out.pages.shop.shop_buy import to_buy
from tests.designs import changed, roomy

MADE = "made up for this test"
SIZE = BoltSize(
    bolt=replace(metric_bolt(12.25, 1.3, 18.5, 7.9), source=MADE),
    holes=ClearanceHoles(13.2, 13.7, 14.7, MADE),
    washers=(FlatWasher("made up small", 25.0, 13.0, 2.5, 2.4, MADE), FlatWasher("made up large", 33.0, 13.0, 2.7, 2.5, MADE)),
    nuts=(Nut("made up lock", "M12.25x1.3", 18.5, 21.4, 13.0, MADE, locks=True, drag=12.0, drag_source=MADE),),
)
NAME = SIZE.bolt.name


@pytest.fixture(autouse=True)
def made_up(monkeypatch):
    monkeypatch.setitem(BOLT_SIZES, NAME, SIZE)


def chosen(key, word, design):
    """Choose an answer on the card, as a person does."""
    choice = next(choice for choice in choices(design, 0, 8) if choice.key == key)
    return choice.put([option.short for option in choice.options].index(word))


def fitted():
    design = roomy()
    for pair in ("upper", "lower"):
        design = chosen(f"mounts.0.{pair}_hardware.bolt", NAME, design)
    return design


def test_it_is_chosen_on_the_card_with_all_that_belongs_to_it():
    design = fitted()
    hardware = design.mounts[0].lower_hardware
    assert (hardware.bolt, hardware.nut, hardware.hole) == (NAME, "made up lock", 13.2)
    assert (hardware.washer.outer, hardware.outside_washer.outer) == (33.0, 33.0)
    assert bolt_names()[-1] == NAME
    assert locks("made up lock")
    for key, name in (("washer", "made up small"), ("nut", "made up lock")):
        options = next(choice for choice in choices(design, 0, 8) if choice.key == f"mounts.0.lower_hardware.{key}").options
        assert [option.full for option in options if option.full.startswith(name)]


def test_it_is_kept_in_the_file_and_checked():
    design = fitted()
    assert from_text(to_text(design)) == design
    checked = check(design)
    assert "fouled" not in {finding.state for finding in checked.findings if finding.check in ("washer", "nut", "clamp")}
    (upper, *_) = bolts(design)
    assert drag(upper).most == 12.0
    assert upper.thread.diameter == 12.25


def test_without_its_torque_the_clamp_is_not_checked():
    findings = check(changed(fitted(), mounts__0__lower_hardware__torque=None)).findings
    assert {finding.state for finding in findings if finding.check == "clamp" and "lower" in finding.at} == {"unknown"}


def test_the_search_tries_it_where_the_bracket_takes_it():
    mount = roomy().mounts[0]
    assert mount.lower_hardware is not None
    assert NAME in {tried.hardware.bolt for tried in kits(mount.lower_hardware, mount.bracket, "lower", "in")}


def test_the_sheets_name_it():
    design = fitted()
    assert any(f"hex bolts {NAME}" in what for _, what, _ in to_buy(design))
    assert any(f"nuts {NAME}, made up lock" in what and "spares" in what for _, what, _ in to_buy(design))
    pages = coupon_pages(design, Printing(datetime.date(2026, 1, 1), "letter"))
    round_marks = [mark for page in pages for mark in page.marks if isinstance(mark, Circle)]
    assert any(mark.radius == pytest.approx(16.5, abs=1e-6) for mark in round_marks), "its washer, 33 mm across"


def test_the_command_checks_a_boat_with_it(tmp_path, capsys):
    file = tmp_path / "boat.boltwell"
    easy = {f"mounts__0__{pair}_hardware__torque": 20.0 for pair in ("upper", "lower")}
    file.write_text(to_text(changed(fitted(), **easy)), encoding="utf-8")
    assert main(["check", str(file)]) == 0
    assert "within limits" in capsys.readouterr().out


def test_a_size_without_washers_or_nuts_is_refused():
    for missing in ({"washers": ()}, {"nuts": ()}):
        with pytest.raises(ValueError, match="every size needs both"):
            replace(SIZE, **missing)


def test_a_nut_that_is_not_in_the_tables_is_refused_with_those_that_are():
    refusal = r'There is no nut "wing nut" for a 1/2-13 bolt.*Choose one of: ASME B18.16.6 NE, '
    with pytest.raises(NotListedError, match=refusal):
        nut("wing nut", "1/2-13")
