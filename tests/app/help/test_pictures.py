"""The manual's pictures: drawn by the program's own views from the demonstration boats."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor

from app.help.manual_pictures import FIT_DROP, PICTURES, boat
from app.help.picture_album import LADDER, SMALL, Album
from geometry.judge.check import check
from geometry.judge.findings import STATE_WORDS
from templates_out.drawing.marks import Circle, Line, Path, Text
from templates_out.drawing.transforms import text_box

COLUMN = 600  # px
WIDE, NARROW = 160.0, 80.0  # paper mm


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_every_picture_shows_something_on_its_sheet(name: str, width: float):
    page = PICTURES[name].page(width)
    assert len(page.marks) > 5
    inside = [mark for mark in page.marks if any(0 <= x <= page.width and 0 <= y <= page.height for x, y in _points(mark))]
    assert len(inside) > 5
    assert any(isinstance(mark, Text) for mark in page.marks)


def _points(mark: object):
    match mark:
        case Line(a, b):
            return (a, b)
        case Path(points):
            return points
        case Circle(centre):
            return (centre,)
        case Text(at):
            return (at,)
        case _:
            return ()


@pytest.mark.parametrize("name", [name for name in PICTURES if name.startswith("lit-")])
def test_what_is_lit_is_lit(name: str):
    marks = PICTURES[name].page(WIDE).marks
    assert [mark for mark in marks if isinstance(mark, Text) and mark.patch == "lit"]


def test_what_the_pictures_say_is_so():
    """The fouled boat is fouled, the fitting one is not: the captions rest on it."""
    assert boat().verdict == "fouled"
    assert boat(drop=FIT_DROP).verdict != "fouled"
    assert boat(drop=FIT_DROP).design.mounts[0].row == 1  # "the second hole from the top"
    assert boat().design.mounts[0].drop == pytest.approx(203.2)  # "at a drop of 8 in"


def test_the_survey_agrees_and_its_names_keep_off_the_ellipses():
    """Rounded to a sixteenth, the distances agree; each ellipse is whole to be seen."""
    marks = PICTURES["survey"].page(150.0).marks
    assert not [mark for mark in marks if mark.part == "wrong"]
    rings = [mark for mark in marks if isinstance(mark, Path) and mark.part.startswith("ellipse: ")]
    names = [mark for mark in marks if isinstance(mark, Text) and mark.part.startswith("name: ")]
    assert len(rings) == len(names) == 2
    for name in names:
        xs, ys = zip(*text_box(name), strict=True)
        for ring in rings:
            assert not any(min(xs) <= x <= max(xs) and min(ys) <= y <= max(ys) for x, y in ring.points), name.text


@pytest.mark.parametrize("name", ["flat-cut", "plate"])
def test_what_cures_the_corner_cures_it(name: str):
    """Where a whole washer fouls the corner of the demonstration boat, one cut flat, or one on a relieved plate, does not."""
    shown = PICTURES[name].make.args[0]()  # type: ignore[attr-defined]
    assert check(shown.design).verdict != "fouled"
    whole = boat(drop=shown.design.mounts[0].drop)
    assert any(finding.check == "washer" and finding.state == "fouled" for finding in whole.findings)


@pytest.mark.parametrize("dark", [False, True])
def test_every_picture_is_painted_in_both_lights(qtbot, dark: bool):
    from app.ui.theme import apply_theme

    apply_theme(dark=dark)
    album = Album()
    for name in (*PICTURES, LADDER, *(f"state-{state}" for state in STATE_WORDS), "icon-well"):
        image = album.image(name, COLUMN, dark=dark, ratio=1.0)
        if not (name == LADDER or (name in PICTURES and PICTURES[name].slow)):
            assert len({image.pixel(x, y) for x in range(0, image.width(), 3) for y in range(0, image.height(), 3)}) > 1, name
        assert image.size() == album.size(name, COLUMN)
    assert album.size("icon-well", COLUMN).width() == SMALL


@pytest.mark.parametrize("name", ["sheet", "old-holes", LADDER])
def test_a_slow_picture_comes_later_and_nobody_waits(qtbot, name: str):
    album = Album()
    with qtbot.waitSignal(album.picture_ready, check_params_cb=lambda ready: ready == name):
        first = album.image(name, COLUMN, dark=False, ratio=1.0)
    then = album.image(name, COLUMN, dark=False, ratio=1.0)
    assert first != then


def test_a_printed_page_is_black_on_white_by_any_light(qtbot):
    album = Album()
    image = album.image("gauge", COLUMN, dark=True, ratio=1.0)
    assert QColor(image.pixel(image.width() // 2, 3)) == QColor("#FFFFFF")
