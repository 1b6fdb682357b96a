"""The figures of the manual are those of the program's tables, within half of the last place that is printed."""

from __future__ import annotations

import re

import pytest

from app.help.manual_pages import Page, manual
from geometry.edits import additions
from geometry.judge import bracket
from geometry.judge.drillable import SURE
from geometry.tables.fasteners import nut
from geometry.tables.friction import BANDS
from geometry.tables.known import MPA_PER_KSI, origin
from geometry.tables.materials import WET, core
from geometry.tables.trade import ASSUMPTIONS, DEFAULT_LIMITS, METRIC_CLEARANCE, PLATE_HEIGHT, STANDARD_PATTERN

INCH = 25.4
PAGES = {page.name: page for page in manual()}


def text(name: str) -> str:
    return " ".join(_plain(PAGES[name]).split())


def _plain(page: Page) -> str:
    return page.text.replace("*", "")


def middle(band: tuple[float, float]) -> float:
    return (band[0] + band[1]) / 2


def test_paste_against_dry_follows_from_the_friction_bands() -> None:
    """Pull goes with 1/K. Middle to middle 0.25/0.14 = 1.79; ends 0.20/0.16 = 1.25 and 0.30/0.12 = 2.5."""
    dry, paste = BANDS["dry"], BANDS["anti-seize"]
    harder = round(100 * (middle(dry) / middle(paste) - 1), -1)
    assert f"pulls about {harder:.0f} % harder than dry" in text("hardware")
    assert f"pulls about {harder:.0f} % harder than dry" in text("sources")
    assert (dry[0] / paste[1], dry[1] / paste[0]) == pytest.approx((1.25, 2.5))
    assert "it pulls 1 1/4 to 2 1/2 times as hard" in text("sources")
    for word, (low, high) in BANDS.items():
        assert f"{word} {low:.2f} to {high:.2f}" in text("sources")


@pytest.mark.parametrize("page", ["findings", "sources"])
def test_limits_are_the_programs(page: str) -> None:
    """In round figures: 44.45 mm is said as 45, 50.8 as 51."""
    top, clear = DEFAULT_LIMITS["top_edge"], DEFAULT_LIMITS["clearance"]
    limits = top.least, top.advised, clear.advised, METRIC_CLEARANCE[1]
    assert limits == pytest.approx((1.75 * INCH, 2 * INCH, INCH / 8, 3.0))
    assert re.search(r"1 3/4 in \(45 mm\).*2 in \(51 mm\)", text(page))
    assert "advised 1/8 in, or 3 mm" in text(page)
    assert f"{100 * SURE:g} of 100 cases" in text(page)


def test_the_limits_of_loads_and_washers_are_the_programs() -> None:
    """Each figure of the page is the table's, in percent or inches."""
    page = text("sources")
    for name, said in {
        "pressure": "with {0} % of what it supports, and {1} % is advised",
        "joint": "with {0} % of the clamp that stays, and {1} % is advised",
        "outer_washer": "at least {0} % of its slot’s width, and {1} % advised",
        "washer_stiff": "at least {0} % of an eighth of its width, and {1} % advised",
    }.items():
        limit = DEFAULT_LIMITS[name]
        assert said.format(round(100 * limit.least), round(100 * limit.advised)) in page
    assert DEFAULT_LIMITS["clamp"].advised == 0.75
    assert "75 % of that for a joint that is opened again" in page
    assert (DEFAULT_LIMITS["socket_room"].advised, DEFAULT_LIMITS["feed"].advised) == pytest.approx((INCH, INCH / 2))
    assert "An inch (25 mm) to get the socket off again, and half an inch (12 mm) to spare" in page
    assert DEFAULT_LIMITS["motors"].advised == 25.0
    assert "two motors should be 25 mm apart" in page
    assert {DEFAULT_LIMITS[name].advised for name in ("tilt_room", "lock_room")} == {25.0}
    assert "A motor should have 25 mm to tilt and 25 mm to turn." in page
    assert DEFAULT_LIMITS["plug_wall"].advised == pytest.approx(INCH / 4)
    assert "1/4 in (6 mm) of plug around a new hole" in page
    bearing, spread = (ASSUMPTIONS[name].value for name in ("nut_bearing", "washer_spread"))
    assert f"presses over {100 * bearing:g} % of the nut’s flats and {spread:g} times its own thickness" in page


def test_the_pattern_and_the_usual_places_are_the_programs() -> None:
    apart = 2 * additions._HALF_TWIN
    assert apart == pytest.approx(26 * INCH)
    assert all("26 in (660 mm)" in text(page) for page in ("placing", "sources"))
    pattern = STANDARD_PATTERN
    sizes = 2 * pattern.upper_half_spacing, 2 * pattern.lower_half_spacing, pattern.pitch
    assert sizes == pytest.approx((12.875 * INCH, 9.875 * INCH, 0.75 * INCH))
    assert "upper pair 12 7/8 in apart, lower pair 9 7/8 in, drop 8 in, holes 3/4 in apart" in text("sources")
    assert PLATE_HEIGHT == (0.0, 25.0)
    assert "0 to 1 in (0 to 25 mm)" in text("placing")
    assert bracket.HARD_PAD == 3.0
    assert "From 1/8 in (3 mm) on" in text("placing")


def test_a_core_carries_what_the_table_says() -> None:
    said = text("sources")
    for name, figure in (("fir plywood", "1,500 psi (10.5 N/mm2)"), ("hardwood", "1,300 psi (9 N/mm2)"),
                         ("softwood", "1,100 psi (7.5 N/mm2)"), ("hardwood plywood", "1,100 psi (7.5 N/mm2)")):  # fmt: skip
        value = core(name).supports
        assert value is not None
        assert f"({value:g} N/mm2)" in figure
        psi = float(figure.split()[0].replace(",", ""))
        assert psi * MPA_PER_KSI / 1000 == pytest.approx(value, rel=0.02)  # to the nearest 100; the table rounds up by 1.6 %
        assert figure in said
    figures = [f"{core(name).supports:g}" for name in ("balsa", "foam", "solid laminate", "aluminium")]
    assert figures == ["5", "0.7", "50", "110"]
    assert "5, 0.7, 50 and 110 N/mm2" in said
    assert (WET["damp"], WET["wet"]) == (0.75, 0.5)
    assert "8,000 psi (55 N/mm2)" in said
    assert ASSUMPTIONS["epoxy"].value == pytest.approx(8.0 * MPA_PER_KSI, abs=0.5)


ASSUMED = {  # as the page says it; the source is the page's section
    "thrust_share": "gives 55 % of the motor’s power", "reverse_share": "Reverse: 40 % of the thrust ahead",
    "settling": "Settling: 30 % of the clamp", "drag_share": "drag: 50 % of the highest",
    "shaft_depth": "is 6 in (152 mm) below",
    "centre_aft": "Balance point: 12 in (305 mm) aft", "reverse_edge": "edge 1/2 in (13 mm) below",
    "epoxy": "carries 8,000 psi (55 N/mm2)", "spread_angle": "spread it at 45°",
    "wide_swing": "should turn 60° on a nut", "motor_centres": "26 in (660 mm) apart",
    "nut_bearing": "presses over 96 % of the nut’s flats", "washer_spread": "and 5 times its own thickness",
    "large_centres": "28 1/2 in (724 mm) where one has more than 150 hp",
}  # fmt: skip


@pytest.mark.parametrize("name", ASSUMPTIONS)
def test_an_assumption_is_on_the_page_with_its_figure_under_its_source(name: str) -> None:
    """The page, the card and the shop sheet have one record each."""
    said, usual = ASSUMED[name], ASSUMPTIONS[name]
    page = text("sources")
    title = {"our assumption": "## Our assumption", "common practice": "## Common practice"}[origin(usual.source)]
    section = page.split(title)[1].split(" ## ")[0]
    assert said in section
    figures = {*re.findall(r"[\d.]+(?= %| mm|°| N| times)", said)}
    value = 100 * usual.value if " %" in said else usual.value
    assert any(float(figure) == pytest.approx(value, abs=0.5) for figure in figures)


def test_the_drag_of_a_new_lock_nut_is_the_published_one() -> None:
    """ASME B18.16.6: 204 lbf in, that is 17 lb-ft; 23 N m."""
    most = nut("ASME B18.16.6 NE", "1/2-13").drag
    assert most is not None
    assert most == pytest.approx(23.0, abs=0.5)
    assert "17 lb-ft (23 N·m)" in text("hardware")


def test_bars_are_read_as_a_rule_shows_them() -> None:
    assert "more than 1/64 in, or 0.5 mm on metric boats" in text("sheets")
    assert "0.25 mm" not in text("sheets")


def test_only_practice_of_the_trade_is_called_common_practice() -> None:
    """The practice of careful riggers is common practice. A figure without a source is our assumption."""
    assumed = {
        "findings": ("97.5 of 100 cases", "3 mm", "Above 1°"), "hardware": ("An eighth of its width",),
        "old-holes": ("limit half a bolt’s diameter", "wet no further than an inch"), "placing": ("The 1/8 in",),
    }  # fmt: skip
    for page, figures in assumed.items():
        for figure in figures:
            assert re.search(re.escape(figure) + r"[^:]{0,120}?(?:: | is )our assumption", text(page)), (page, figure)
