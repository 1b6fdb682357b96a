"""States, order and verdict."""

from __future__ import annotations

import pytest

from geometry.judge.check import check
from geometry.judge.findings import Finding, rank, state_of, verdict_of, worst
from tests.designs import example_design


@pytest.mark.parametrize(
    ("value", "least", "advised", "state"),
    [
        (-0.1, 0.0, 2.0, "fouled"), (0.0, 0.0, 2.0, "tight"),
        (-0.9e-6, 0.0, 2.0, "tight"), (-1.1e-6, 0.0, 2.0, "fouled"),
        (1.9, 0.0, 2.0, "tight"), (2.0, 0.0, 2.0, "clear"),
        (2.0 - 0.9e-6, 0.0, 2.0, "clear"), (2.0 - 1.1e-6, 0.0, 2.0, "tight"),
        # less is better: seat angle
        (2.86, 2.86, 1.0, "tight"), (2.87, 2.86, 1.0, "fouled"), (1.0, 2.86, 1.0, "clear"), (1.01, 2.86, 1.0, "tight"),
        (2.86 + 0.9e-6, 2.86, 1.0, "tight"), (2.86 + 1.1e-6, 2.86, 1.0, "fouled"),
        # nothing between
        (0.0, 0.0, 0.0, "clear"), (-0.9e-6, 0.0, 0.0, "clear"), (-1.1e-6, 0.0, 0.0, "fouled"),
    ],
)  # fmt: skip
def test_the_least_itself_is_tight_and_the_advised_itself_is_clear(value, least, advised, state):
    assert state_of(value, least, advised) == state


def finding(check_: str, value: float | None, state: str, least: float | None = 0.0, advised: float | None = 2.0) -> Finding:
    return Finding(check_, "somewhere", value, least, advised, "mm", state, "A sentence.")  # type: ignore[arg-type]


def test_worst_first():
    """By state; without a value first; then by steps from least to advised; then by the checks' order."""
    row = [
        finding("edge", 9.0, "note"), finding("nut", 5.0, "clear"), finding("washer", 5.0, "clear"),
        finding("edge", 0.5, "tight", 0.0, 1.0), finding("nut", 0.5, "tight"), finding("socket", None, "unknown"),
        finding("length", -1.0, "fouled"), finding("shank", None, "fouled"),
    ]  # fmt: skip
    assert [(item.check, item.state) for item in sorted(row, key=rank)] == [
        ("shank", "fouled"), ("length", "fouled"), ("socket", "unknown"), ("nut", "tight"), ("edge", "tight"),
        ("washer", "clear"), ("nut", "clear"), ("edge", "note"),
    ]  # fmt: skip
    assert worst(tuple(row)).check == "shank"
    assert verdict_of(tuple(row)) == "fouled"


def test_where_less_is_better_steps_count_the_other_way():
    """2.5 of [2.86, 1.0] is 0.36/1.86 = 0.19 of the way, 1.2 is 0.89."""
    assert finding("seat", 2.5, "tight", 2.86, 1.0).margin == pytest.approx(0.36 / 1.86)
    assert finding("saddle", -3.0, "fouled", 0.0, 0.0).margin == -3.0


def test_notes_make_no_verdict():
    assert verdict_of((finding("height", 30.0, "note"),)) == "clear"
    assert verdict_of(()) == "clear"


def test_the_worked_example():
    """Every figure that the example is known by [mm, diameters]."""
    checked = check(example_design())
    assert checked.verdict == "tight"
    assert checked.guesses == ()
    main = "main motor"
    expected = {
        ("washer", f"{main} / lower port"): (2.16, "clear"), ("washer", f"{main} / lower starboard"): (2.16, "clear"),
        ("nut", f"{main} / lower port"): (18.1, "clear"), ("socket", f"{main} / lower starboard"): (16.1, "clear"),
        ("edge", f"{main} / upper port / outer face"): (4.00, "clear"),
        ("edge", f"{main} / upper port / inner face"): (3.14, "tight"),
        ("row", main): (0.0, "tight"), ("saddle", main): (38.1, "note"), ("height", main): (19.0, "clear"),
        ("old_hole", f"{main} / lower starboard / old lower starboard"): (18.65, "clear"),
        ("bearing", main): (0.0, "clear"), ("seat", f"{main} / lower port"): (0.0, "clear"),
    }  # fmt: skip
    for (name, at), (value, state) in expected.items():
        finding = checked.of(name, at)
        assert finding.value == pytest.approx(value, abs=0.05)
        assert finding.state == state


def test_the_worked_examples_grip():
    """2.8 + 12 + 44 + 3 = 61.8; from 61.8 + 15.4686 + 3.9077 = 81.176 on: 3-1/4 in."""
    from geometry.solid.placed_bolts import bolts

    for bolt in bolts(example_design()):
        assert bolt.grip == pytest.approx(61.8, abs=1e-9)
        assert bolt.window == pytest.approx((81.1763, 93.55), abs=0.0005)
        assert bolt.length == pytest.approx(82.55, abs=1e-9)


@pytest.mark.parametrize(("drop", "row", "room"), [(184.15, 1, -16.9), (203.2, 0, -35.9)])
def test_deeper_drops_of_the_worked_example_foul(drop, row, room):
    from tests.designs import changed

    checked = check(changed(example_design(), mounts__0__drop=drop, mounts__0__row=row))
    assert checked.verdict == "fouled"
    for side in ("port", "starboard"):
        finding = checked.of("washer", f"main motor / lower {side}")
        assert finding.value == pytest.approx(room, abs=0.05)
        assert finding.state == "fouled"


def test_the_worked_example_drilled_level_fouls():
    from tests.designs import changed

    checked = check(changed(example_design(), mounts__0__lower_tilt=-14.0))
    assert checked.of("washer", "main motor / lower port").state == "fouled"
    assert checked.of("seat", "main motor / lower port").state == "fouled"
