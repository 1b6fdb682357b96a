"""Where the window opens, as plain numbers: always whole on one screen, and where it was, if there is room."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from app.document.settings import WindowPlace
from app.ui.window_place import USUAL, Area, fitted

SMALL: Area = (0, 0, 1024, 700)
LAPTOP: Area = (0, 0, 1366, 768)
WIDE: Area = (1366, 0, 1920, 1040)
DOUBLE: Area = (0, 0, 683, 384)  # 1366 x 768 at 200 %


def inside(place: WindowPlace, area: Area) -> bool:
    across, down = place.edges
    left, top, wide, high = area
    return (
        place.left >= left and place.top >= top
        and place.left + place.wide + across <= left + wide and place.top + place.high + down <= top + high
    )  # fmt: skip


def test_a_place_with_room_stays_to_the_pixel() -> None:
    for kept in (
        WindowPlace(0, 0, 1366 - 16, 720), WindowPlace(40, 25, 900, 600, (2, 25)), WindowPlace(683, 0, 683, 743, (0, 25)),
    ):  # fmt: skip
        assert fitted(kept, [LAPTOP]) == kept
    there = WindowPlace(1700, 30, 1500, 900, (2, 25), maximised=True)
    assert fitted(there, [LAPTOP, WIDE]) == there


def test_the_usual_size_is_maximised_where_it_has_no_room_at_all() -> None:
    assert not fitted(USUAL, [WIDE]).maximised
    for area in (SMALL, DOUBLE, (0, 0, 910, 512)):
        place = fitted(USUAL, [area])
        assert place.maximised
        assert inside(place, area)


def test_on_a_screen_of_the_usual_width_it_gives_up_some_width_alone() -> None:
    place = fitted(USUAL, [LAPTOP])
    assert (place.wide, place.high, place.maximised) == (1366 - 16, 708, False)


def test_a_place_on_a_screen_that_is_gone_comes_to_the_main_one() -> None:
    place = fitted(WindowPlace(1700, 30, 1000, 600, (2, 25)), [LAPTOP])
    assert place == WindowPlace(1366 - 1002, 30, 1000, 600, (2, 25))
    beyond = fitted(WindowPlace(-3000, -900, 1000, 600, (2, 25)), [WIDE, LAPTOP])
    assert (beyond.left, beyond.top) == WIDE[:2]


def test_half_over_the_edge_it_comes_back_whole() -> None:
    assert fitted(WindowPlace(900, 400, 1000, 600, (2, 25)), [LAPTOP]) == WindowPlace(364, 143, 1000, 600, (2, 25))
    assert fitted(WindowPlace(-500, -10, 1000, 600, (2, 25)), [LAPTOP]) == WindowPlace(0, 0, 1000, 600, (2, 25))


def test_of_two_screens_it_takes_the_one_that_it_is_mostly_on() -> None:
    place = fitted(WindowPlace(1300, 100, 800, 600, (2, 25)), [LAPTOP, WIDE])
    assert inside(place, WIDE)
    assert (place.left, place.top) == (1366, 100)


pixels = st.integers(-(10**12), 10**12)
places = st.builds(WindowPlace, pixels, pixels, pixels, pixels, st.tuples(pixels, pixels), st.booleans())
areas = st.tuples(st.integers(-4000, 4000), st.integers(-2000, 2000), st.integers(401, 4000), st.integers(401, 3000))


@given(places, st.lists(areas, min_size=1, max_size=3))
def test_with_any_settings_the_window_is_whole_on_one_screen(kept: WindowPlace, screens: list[Area]) -> None:
    place = fitted(kept, screens)
    assert any(inside(place, area) for area in screens)
    assert place.wide >= 1
    assert place.high >= 1
    assert place in [fitted(place, [area]) for area in screens]  # the next start changes nothing more
