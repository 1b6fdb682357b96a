"""The best rung against the ladder that it is chosen from: it clears, and of those that clear it changes the drop least."""

from __future__ import annotations

import pytest

from geometry.decide.best_rung import best_rung
from geometry.decide.ladder import ladders
from geometry.judge.check import check
from geometry.judge.check_kinds import IN_WELL
from tests.designs import changed, example_design, roomy

BOATS = {
    "roomy": roomy(),
    "too low": changed(roomy(), mounts__0__drop=203.2, mounts__0__row=1),
    "shallow": changed(example_design(), inside_blocks=(), mounts__0__drop=203.2, mounts__0__row=1),
}


def rungs_of(design):
    return tuple(rung for ladder in ladders(design) for rung in ladder.rungs)


@pytest.mark.parametrize("name", BOATS)
def test_the_best_rung_is_a_rung_that_clears_and_says_what_its_check_says(name):
    design = BOATS[name]
    rungs = rungs_of(design)
    best = best_rung(design, 0, rungs)
    able = [rung for rung in rungs if rung.state in ("clear", "tight") and rung.row in rung.rows_left]
    assert (best is None) == (not able)
    if best is None:
        return
    mount = best.design.mounts[0]
    assert (mount.row, mount.drop) == (best.row, best.drop)
    assert any(rung.row == best.row and rung.drop == pytest.approx(best.drop - best.off_end, abs=1e-6) for rung in able)
    checked = check(best.design)
    assert checked.verdict in ("clear", "tight")
    inside = [finding.value for finding in checked.findings if finding.check in IN_WELL and finding.value is not None]
    assert best.room == min(inside)
    ends = [finding.value for finding in checked.findings if finding.check == "row" and finding.state == "tight"]
    assert best.slot_end == (ends[0] if ends else None)


def test_one_rung_that_clears_is_the_best_and_none_is_chosen_whose_plate_is_further_off_than_the_first():
    """Of three rungs at one drop, by any one of them alone; and with all, that with the AV plate nearest the usual height."""
    design = roomy()
    able = [rung for rung in rungs_of(design) if rung.state in ("clear", "tight") and rung.row in rung.rows_left]
    here = [rung for rung in able if rung.drop == pytest.approx(165.1)]
    assert len(here) == 3
    for rung in here:
        best = best_rung(design, 0, (rung,))
        assert best is not None
        assert best.row == rung.row
    best = best_rung(design, 0, tuple(here))
    assert best is not None
    assert best.row == min(here, key=lambda rung: abs(rung.plate_height)).row


def test_without_a_rung_that_clears_there_is_no_best():
    design = roomy()
    fouled = tuple(rung for rung in rungs_of(design) if rung.state == "fouled")
    assert fouled
    assert best_rung(design, 0, fouled) is None
    assert best_rung(design, 0, ()) is None
