"""Places by more distances than are needed: against another library, squares by hand, planted blunders, twins, too few."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.optimize import least_squares

from geometry.design.checking_readings import SurveyDistance
from geometry.errors import OwnerError
from geometry.survey.adjust import CRITICAL, SHOWN, Survey, adjust
from geometry.survey.least_squares import Fit, fit
from geometry.survey.network import CENTRELINE, DATUM, TOP_EDGE, Distance, Network, network
from geometry.survey.of_design import _top_ends, surveyed, taken_over, with_distances
from geometry.survey.places import _two_circles
from geometry.survey.survey_text import distances_in
from geometry.survey.survey_words import distance_words
from tests.designs import changed, example_design, sure

TAPE = 0.8  # mm
BLUNDER = 10.0  # mm
VAGUE = 2.0  # mm, one standard deviation of a place
ORIGIN = {DATUM: (0.0, 0.0)}


@dataclass
class Boat:
    """Random places on a transom, and the distances that a tape read between them."""

    places: dict[str, tuple[float, float]]
    network: Network


def random_boat(random: np.random.Generator) -> Boat:
    """Three to six places, and up to fifteen distances more than the places have unknowns."""
    count = int(random.integers(3, 7))
    places = {f"hole {k}": (random.uniform(-700, 700), random.uniform(-520, -40)) for k in range(count)}
    names = list(places)
    pairs = [(a, b) for k, a in enumerate(names) for b in names[k + 1 :]]
    pairs += [(name, other) for name in names for other in (DATUM, CENTRELINE, TOP_EDGE)]
    chosen = random.permutation(len(pairs))[: 2 * count + int(random.integers(1, 16))]
    read = [
        Distance(a, b, abs(true_length(places, a, b) + random.normal(0.0, TAPE)), TAPE) for a, b in (pairs[k] for k in chosen)
    ]
    return Boat(places, network(ORIGIN, tuple(read)))


def true_length(places: dict[str, tuple[float, float]], first: str, second: str) -> float:
    u, v = places[first]
    if second in (CENTRELINE, TOP_EDGE):
        return abs(u) if second == CENTRELINE else abs(v)
    return math.dist((u, v), places.get(second, (0.0, 0.0)))


def test_one_value_read_twice_and_one_read_once_by_hand() -> None:
    """Read: a is 10 and 13, spreads 1 and 2; b is 7, spread 0.5; nothing reads c.

    a is 10 + 3·1/(1 + 4) = 10.6. Its residuals are 0.6 and -2.4, by their spreads 0.6 and -1.2: 1.8 is the sum of their
    squares. The shares are 1/5 and 4/5: each residual is 3/√5 of its deviation, and one is the other's opposite.
    Nothing checks b's reading. Its residual, its share and its likenesses are 0.
    """
    slopes = np.array([[1.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
    answer = fit(lambda values: (slopes @ values, slopes), np.zeros(3), np.array([10.0, 13.0, 7.0]), np.array([1.0, 2.0, 0.5]))
    assert answer.values[:2] == pytest.approx((10.6, 7.0), abs=1e-9)
    assert answer.residuals == pytest.approx((0.6, -2.4, 0.0), abs=1e-9)
    assert answer.shares == pytest.approx((0.2, 0.8, 0.0), abs=1e-12)
    assert answer.normalised == pytest.approx((3 / math.sqrt(5), -3 / math.sqrt(5), 0.0), abs=1e-9)
    assert answer.alike == pytest.approx(np.array([[1.0, -1.0, 0.0], [-1.0, 1.0, 0.0], [0.0, 0.0, 0.0]]), abs=1e-12)
    assert answer.covariance == pytest.approx(np.diag((0.8, 0.25, 0.0)), abs=1e-12)
    assert np.abs(answer.loose) == pytest.approx(np.array([[0.0, 0.0, 1.0]]), abs=1e-12)
    assert answer.squares == pytest.approx(1.8, abs=1e-9)
    assert answer.free == 1
    assert answer.unit_spread == pytest.approx(math.sqrt(1.8), abs=1e-9)


def is_braced(survey: Survey) -> bool:
    """Return whether an error in any one distance shows, and names that distance."""
    return bool(survey.agreements) and all(each.checked for each in survey.agreements) and not survey.alike


def residuals_of(boat: Boat, values: np.ndarray) -> np.ndarray:
    """The residuals by their spreads, written again without the program's model."""
    places = {name: (values[2 * k], values[2 * k + 1]) for k, name in enumerate(boat.network.loose)}
    return np.array([(true_length(places, r.first, r.second) - r.length) / r.spread for r in boat.network.readings])


def fitted(boat: Boat) -> Fit:
    """The fit from where the places truly are."""
    start = np.array([place for name in boat.network.loose for place in boat.places[name]])
    lengths = np.array([reading.length for reading in boat.network.readings])
    return fit(boat.network.model(), start, lengths, np.full(len(lengths), TAPE))


def test_a_thousand_random_networks_agree_with_another_library() -> None:
    """Every place within 1e-6 mm. A wrong derivative, damping or end of the search would fail.

    The other library stops at the rounding of the sum of squares, so vague places are left out: there that is more.
    """
    random = np.random.default_rng(20)
    compared = 0
    while compared < 1000:
        boat = random_boat(random)
        start = np.array([place + random.normal(0.0, 3.0) for name in boat.network.loose for place in boat.places[name]])
        lengths = np.array([reading.length for reading in boat.network.readings])
        ours = fit(boat.network.model(), start, lengths, np.full(len(lengths), TAPE))
        if len(ours.loose) or np.diag(ours.covariance).max() > VAGUE**2:
            continue
        theirs = least_squares(lambda values, boat=boat: residuals_of(boat, values), start, method="lm",
                               jac="3-point", xtol=1e-15, ftol=1e-15, gtol=1e-15)  # fmt: skip
        compared += 1
        assert np.abs(ours.values - theirs.x).max() < 1e-6
        assert ours.squares == pytest.approx(2 * theirs.cost, abs=1e-9)


def test_a_planted_blunder_is_found_in_95_of_100_well_braced_networks() -> None:
    """Well braced: a tenth of an error in any distance shows, and no two distances' tests go together by more than 0.95."""
    random = np.random.default_rng(7)
    braced = named = 0
    while braced < 200:
        boat = random_boat(random)
        if fitted(boat).shares.min() < SHOWN or not is_braced(adjust(boat.network, boat.places)):
            continue
        readings = list(boat.network.readings)
        wrong = int(random.integers(len(readings)))
        longer = readings[wrong].length + BLUNDER * random.choice((-1.0, 1.0))
        readings[wrong] = replace(readings[wrong], length=abs(longer))
        braced += 1
        named += adjust(network(ORIGIN, tuple(readings)), boat.places).suspects[:1] == (wrong,)
    print(f"planted blunders of {BLUNDER:g} mm named: {named} of {braced}, {100 * named / braced:.1f} %")
    assert named >= 0.95 * braced


def test_honest_readings_are_seldom_blamed() -> None:
    """Each test blames a good reading once in a thousand; a network has about fifteen."""
    random = np.random.default_rng(8)
    blamed = sum(bool(adjust(boat.network, boat.places).suspects) for boat in (random_boat(random) for _ in range(80)))
    assert blamed <= 5


def square(**off: float) -> Network:
    """A square of 100 mm with both diagonals; its top side along the top edge, from the datum to port. ``off``: errors."""
    diagonal = 100.0 * math.sqrt(2.0)
    lengths = {
        "top": ("b", DATUM, 100.0), "starboard": ("d", DATUM, 100.0), "port": ("c", "b", 100.0), "low": ("d", "c", 100.0),
        "down port": ("c", DATUM, diagonal), "down starboard": ("d", "b", diagonal), "edge": ("b", TOP_EDGE, 0.0),
    }  # fmt: skip
    return network(ORIGIN, tuple(
        Distance(first, second, length + off.get(name.replace(" ", "_"), 0.0), 1.0)
        for name, (first, second, length) in lengths.items()
    ))  # fmt: skip


SKETCH = {"b": (-90.0, 0.0), "c": (-110.0, -90.0), "d": (5.0, -95.0)}


def test_a_true_square_comes_out_square_and_its_shares_are_an_eighth_and_a_quarter() -> None:
    """By hand: forces in balance in a square are 1 in each side and the root of 2 in each diagonal.

    So of the one distance to spare a side has 1/8 and a diagonal 2/8. Nothing checks that the top side is on the top edge.
    """
    survey = adjust(square(), SKETCH)
    assert {placed.name: placed.at for placed in survey.placed}["c"] == pytest.approx((-100.0, -100.0), abs=1e-9)
    assert [each.share for each in survey.agreements] == pytest.approx([1 / 8] * 4 + [1 / 4] * 2 + [0.0], abs=1e-9)
    assert survey.agrees
    assert survey.free == 1
    assert not is_braced(survey)  # one distance to spare shows an error, and never which


def test_an_error_in_a_diagonal_shows_by_its_share_and_names_all_that_it_could_be() -> None:
    """A diagonal 0.08 mm too long keeps a quarter of it in its residual, and its sides take an eighth of the root of 2."""
    survey = adjust(square(down_port=0.08), SKETCH)
    off = [each.off for each in survey.agreements]
    assert off[4] == pytest.approx(0.02, abs=1e-4)
    assert off[:4] == pytest.approx([-0.02 / math.sqrt(2.0)] * 4, abs=1e-4)
    wrong = adjust(square(down_port=10.0), SKETCH)
    assert set(wrong.suspects) == {0, 1, 2, 3, 4, 5}
    assert [abs(each.normalised) for each in wrong.agreements[:6]] == pytest.approx([10.0 * math.sqrt(1 / 4)] * 6, rel=0.03)


def test_the_ellipse_of_two_distances_that_cross_square_is_a_circle() -> None:
    edges = (Distance("p", CENTRELINE, 120.0, 0.5), Distance("p", TOP_EDGE, 200.0, 2.0))
    square = adjust(network(ORIGIN, edges), {"p": (130.0, -190.0)})
    ellipse = square.placed[0].ellipse
    assert (square.placed[0].across, square.placed[0].up) == pytest.approx((0.5, 2.0))
    assert (ellipse.long, ellipse.short, abs(ellipse.turned)) == pytest.approx((2.0, 0.5, 90.0))
    far = 50.0 * math.sqrt(2.0)
    leaning = adjust(
        network({**ORIGIN, "end": (100.0, 0.0)}, (Distance("p", DATUM, far, 1.0), Distance("p", "end", far, 1.0))),
        {"p": (50.0, -40.0)},
    )
    assert (leaning.placed[0].ellipse.long, leaning.placed[0].ellipse.short) == pytest.approx((1.0, 1.0))


def test_spreads_of_the_places_are_those_of_many_trials() -> None:
    random = np.random.default_rng(3)
    boat = next(boat for boat in (random_boat(random) for _ in range(50)) if is_braced(adjust(boat.network, boat.places)))
    true = [true_length(boat.places, r.first, r.second) for r in boat.network.readings]
    start = np.array([place for name in boat.network.loose for place in boat.places[name]])
    spreads = np.full(len(true), TAPE)
    drawn = [fit(boat.network.model(), start, np.array(true) + random.normal(0, TAPE, len(true)), spreads) for _ in range(1500)]
    seen = np.std([each.values for each in drawn], axis=0)
    assert seen == pytest.approx(np.sqrt(np.diag(drawn[0].covariance)), rel=0.08)


def test_a_mirror_image_is_named_until_a_sketch_decides() -> None:
    """Distances from two places of the centreline alone: the point may be to port as well."""
    fixed = {**ORIGIN, "keel": (0.0, -400.0)}
    both = network(fixed, (Distance("p", DATUM, 250.0, TAPE), Distance("p", "keel", 250.0, TAPE)))
    unknown = adjust(both, {})
    assert [twin.names for twin in unknown.twins] == [("p",)]
    assert unknown.twins[0].places["p"][0] == pytest.approx(-unknown.placed[0].at[0])
    assert not unknown.agrees
    starboard = adjust(both, {"p": (90.0, -250.0)})
    assert starboard.placed[0].at == pytest.approx((150.0, -200.0))
    assert starboard.agrees
    middle = adjust(both, {"p": (10.0, -250.0)})  # a sketch on the centreline decides nothing
    assert middle.twins


@pytest.mark.parametrize(("read", "loose"), [
    ((("p", DATUM), ("q", DATUM), ("q", CENTRELINE)), ("p",)),
    ((("p", "q"), ("q", "r"), ("p", "r")), ("p", "q", "r")),  # a triangle that nothing ties to the boat
    ((("p", DATUM), ("p", "q"), ("q", DATUM)), ("p", "q")),  # it can turn about the datum
], ids=["one distance", "no tie to the boat", "turning about the datum"])  # fmt: skip
def test_too_few_distances_name_the_points_that_they_do_not_fix(
    read: tuple[tuple[str, str], ...], loose: tuple[str, ...]
) -> None:
    places = {"p": (200.0, -100.0), "q": (-150.0, -300.0), "r": (300.0, -350.0)}
    distances = tuple(Distance(a, b, true_length(places, a, b), TAPE) for a, b in read)
    survey = adjust(network(ORIGIN, distances), places)
    assert survey.loose == loose
    assert {placed.name for placed in survey.placed}.isdisjoint(loose)
    assert not survey.agrees


def test_one_distance_to_spare_is_enough_to_agree_but_not_to_name() -> None:
    places = {"p": (200.0, -100.0)}
    read = [Distance("p", name, true_length(places, "p", name), TAPE) for name in (DATUM, CENTRELINE, TOP_EDGE)]
    assert adjust(network(ORIGIN, tuple(read)), places).agrees
    read[0] = replace(read[0], length=read[0].length + 20.0)
    assert len(adjust(network(ORIGIN, tuple(read)), places).suspects) == 3


def test_a_residual_below_the_limit_blames_nobody() -> None:
    places = {"p": (300.0, -300.0)}
    read = [Distance("p", name, true_length(places, "p", name), TAPE) for name in (DATUM, CENTRELINE, TOP_EDGE)]
    read[0] = replace(read[0], length=read[0].length + CRITICAL * TAPE / math.sqrt(0.5) * 0.98)
    assert not adjust(network(ORIGIN, tuple(read)), places).suspects
    read[0] = replace(read[0], length=read[0].length + CRITICAL * TAPE / math.sqrt(0.5) * 0.04)
    assert adjust(network(ORIGIN, tuple(read)), places).suspects


@pytest.mark.parametrize(("reading", "said"), [
    (Distance("p", "p", 5.0, 1.0), "to itself"),
    (Distance(CENTRELINE, "p", 5.0, 1.0), "a hole or a corner first"),
    (Distance(DATUM, TOP_EDGE, 5.0, 1.0), "fixes no point"),
    (Distance("p", DATUM, -5.0, 1.0), "below 0"),
])  # fmt: skip
def test_a_distance_that_fixes_nothing_is_refused_in_one_sentence(reading: Distance, said: str) -> None:
    with pytest.raises(OwnerError, match=said):
        network(ORIGIN, (reading,))


def test_the_ends_of_the_top_edge_are_port_first_whichever_way_the_outline_is_listed():
    """Corners 2 and 3 of the example are at 330 mm on both sides; listed the other way they are 6 and 5 of nine."""
    design = example_design()
    outline = design.transom.outline
    assert [outline[at] for at in _top_ends(design)] == [(-330, 0), (330, 0)]
    backward = changed(design, transom__outline=outline[::-1])
    assert [backward.transom.outline[at] for at in _top_ends(backward)] == [(-330, 0), (330, 0)]


def test_a_list_of_distances_is_read_line_by_line():
    """4 15/16 in is 125.4125 mm. A line in capitals, one with tabs and a note are read; names are the boat's own."""
    text = "# taken on Sunday\n\nOLD LOWER STARBOARD; Centreline; 4 15/16 in\nold lower starboard\ttop edge\t254 mm\tinside\n"
    first, second = distances_in(text, example_design())
    assert (first.face, first.from_, first.to) == ("outside", "old lower starboard", "centreline")
    assert (second.face, second.from_, second.to) == ("inside", "old lower starboard", "top edge")
    assert (first.length, second.length) == pytest.approx((125.4125, 254.0), abs=1e-9)
    for wrong, line in (("a; b", 1), ("# x\na; b; 3; left", 2), ("a; a; 3 in", 1)):
        with pytest.raises(OwnerError, match=f"Line {line}"):
            distances_in(wrong, example_design())


@pytest.mark.parametrize("left_out", [None, 0, 3])
def test_a_well_whose_corners_are_all_placed_counts_as_measured(left_out):
    """Two distances a corner, to the centreline and to the top edge, known to 3 and 4 mm: a width to √2 · 3.

    With a corner left out the shape is not measured, nor is the width at its end.
    """
    design = example_design()
    corners = [(-320.0, 0.0), (-300.0, -240.0), (300.0, -236.0), (320.0, 0.0)]
    read = []
    for number, (u, w) in enumerate(corners):
        if number != left_out:
            for to, length, spread in (("centreline", abs(u), 3.0), ("top edge", -w, 4.0)):
                name = f"well corner {number + 1}"
                read.append(SurveyDistance(face="inside", from_=name, to=to, length=length, spread=spread))
    done = taken_over(with_distances(design, tuple(read)))
    assert sure(done.well).profile == pytest.approx(np.array(corners if left_out is None else design.well.profile), abs=5.0)
    measured = {key: reading.spread for key, reading in done.readings.items() if reading.state == "measured"}
    assert ("well.profile" in measured) is (left_out is None)
    assert ("well.top_width" in measured) is (left_out is None)
    assert measured["well.floor_width"] == pytest.approx(3.0 * math.sqrt(2))
    assert (measured["well.floor_port"], measured["well.floor_starboard"]) == pytest.approx((4.0, 4.0))
    assert "transom.outline" not in measured


def test_a_distance_is_said_as_it_was_read():
    """In thirty-seconds of an inch, as a tape shows it, with its number in the list."""
    design = example_design()
    read = distances_in("old lower starboard; centreline; 4 29/32 in\nold lower starboard; top edge; 10 1/16 in\n", design)
    (done,) = surveyed(with_distances(design, read))
    said = [distance_words(done, index, "in") for index in range(2)]
    assert said == [
        "distance 1, old lower starboard to the centreline, 4 29/32 in",
        "distance 2, old lower starboard to the top edge, 10 1/16 in",
    ]


def test_two_circles_cross_above_and_below_their_line():
    """Two triangles of 3, 4 and 5 on one side of 6; two circles that only touch have the one place twice."""
    assert sorted(_two_circles((0.0, 0.0), 5.0, (6.0, 0.0), 5.0)) == [pytest.approx((3.0, -4.0)), pytest.approx((3.0, 4.0))]
    assert list(_two_circles((1.0, 1.0), 2.0, (1.0, 4.0), 1.0)) == [pytest.approx((1.0, 3.0))] * 2


@pytest.mark.parametrize("start", [0.5, 3.0, -6.0, 30.0])
def test_a_fit_from_far_off_takes_shorter_steps_until_they_go_downhill(start):
    """An arc tangent read as 0: from beyond 1.39 Newton's own step goes further off each time. The fit ends at 0."""

    def arc(values):
        return np.arctan(values), np.diag(1.0 / (1.0 + values**2))

    answer = fit(arc, np.array([start]), np.array([0.0]), np.array([0.1]))
    assert answer.values == pytest.approx([0.0], abs=1e-9)
    assert answer.squares == pytest.approx(0.0, abs=1e-12)
