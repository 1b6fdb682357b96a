"""Contrast of the colours that are used on each other.

Source: W3C, Web Content Accessibility Guidelines 2.2: relative luminance and contrast ratio (section 6, terms), 1.4.3
(text: at least 4.5) and 1.4.11 (lines that are needed: at least 3).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QPalette

from app.ui.palette import of, palette, qt_palette

if TYPE_CHECKING:
    from PySide6.QtGui import QColor
    from pytestqt.qtbot import QtBot

    from templates_out.drawing.marks import Role

TEXT: list[tuple[Role, Role]] = [
    *((role, ground) for role in ("ink", "soft", "old", "new", "fouled") for ground in ("sheet", "card", "wood")),
    ("ink", "field"), ("ink", "lit"), ("ink", "new wash"), ("ink", "fouled wash"), ("ink", "well"), ("soft", "well"),
    ("soft", "board"),
]  # fmt: skip
LINES: list[tuple[Role, Role]] = [("edge", "sheet"), ("edge", "card"), ("hatch", "sheet"), ("new", "well"), ("fouled", "well")]


def luminance(colour: QColor) -> float:
    linear = [
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (colour.redF(), colour.greenF(), colour.blueF())
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(colour: QColor, other: QColor) -> float:
    light, dark = sorted((luminance(colour), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_against_its_own_bounds() -> None:
    """Black on white is 21 : 1, a colour on itself 1 : 1."""
    white, black = (palette(False).colours["field"], qt_palette(False).color(QPalette.ColorRole.Window).fromRgb(0, 0, 0))
    assert contrast(white, black) == pytest.approx(21.0, abs=1e-6)
    assert contrast(black, black) == 1.0


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize(("role", "ground"), TEXT)
def test_text_reads_on_its_ground(role: Role, ground: Role, dark: bool) -> None:
    colours = palette(dark)
    assert contrast(colours[role], colours[ground]) >= 4.5


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize(("role", "ground"), LINES)
def test_needed_lines_are_seen(role: Role, ground: Role, dark: bool) -> None:
    colours = palette(dark)
    assert contrast(colours[role], colours[ground]) >= 3.0


@pytest.mark.parametrize("dark", [False, True])
def test_the_default_button_reads(dark: bool) -> None:
    assert contrast(palette(dark).on_new, palette(dark)["new"]) >= 4.5


@pytest.mark.parametrize("dark", [False, True])
def test_a_widget_knows_its_light(qtbot: QtBot, dark: bool) -> None:
    from PySide6.QtWidgets import QWidget

    widget = QWidget()
    qtbot.addWidget(widget)
    widget.setPalette(qt_palette(dark))
    assert of(widget) is palette(dark)
