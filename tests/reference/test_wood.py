"""What wood bears across the grain, against the published values that the table's choice stands beside.

Sources: NDS Supplement, table 4A, compression across the grain, Douglas-fir 625 lbf/in2 (read in a secondary copy);
USDA Wood Handbook, table 5-3, Douglas-fir 800 lbf/in2 at the proportional limit and spruce 580 (from memory), black
cherry 690 (read in a secondary copy). The 1,500 lbf/in2 of dry plywood is common practice, no source.
1 ksi = 6.894757 N/mm2. Tolerance: 1e-6.
"""

import pytest

from geometry.tables.materials import core, core_names

PSI = 6.894757e-3
WITH_A_FIGURE = {
    "fir plywood",
    "hardwood plywood",
    "softwood",
    "hardwood",
    "balsa",
    "foam",
    "solid laminate",
    "aluminium",
}


def bears(name: str) -> float:
    figure = core(name).bears
    assert figure is not None
    return figure


def test_dry_fir_plywood_is_the_trades_figure_and_over_the_timber_ones() -> None:
    assert bears("fir plywood") == pytest.approx(1500 * PSI, abs=1e-6)
    assert bears("fir plywood") > 800 * PSI > 625 * PSI


def test_order_of_the_woods_is_that_of_the_handbook() -> None:
    """Spruce 580, cherry 690, Douglas-fir 800 lbf/in2."""
    assert bears("softwood") / bears("fir plywood") == pytest.approx(580 / 800, abs=1e-6)
    assert bears("hardwood") / bears("fir plywood") == pytest.approx(690 / 800, abs=1e-6)
    assert bears("foam") < bears("balsa") < bears("softwood") < bears("solid laminate") < bears("aluminium")


def test_what_nobody_knows_has_no_figure() -> None:
    assert set(core_names()) == WITH_A_FIGURE | {"unknown"}
    assert core("unknown").bears is None
