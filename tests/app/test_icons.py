"""The icons: our own drawings, all in one manner, readable in both lights and at each size of pixel."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest
from PySide6.QtGui import QColor, QGuiApplication

import assets
from app.ui.icons import icon
from app.ui.palette import palette

FILES = sorted((Path(assets.__file__).parent / "icons").glob("*.svg"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_one_grid_one_line_one_ink(file: Path):
    drawn = ElementTree.fromstring(file.read_text())
    assert drawn.attrib["viewBox"] == "0 0 20 20"
    assert 1.4 <= float(drawn.attrib["stroke-width"]) <= 1.6
    colours = {part.attrib[name] for part in drawn.iter() for name in ("stroke", "fill") if name in part.attrib}
    assert colours <= {"#000", "none"}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("dark", [False, True])
def test_it_is_drawn_in_the_ink_of_the_light(qapp: QGuiApplication, file: Path, ratio: float, dark: bool):
    ink = palette(dark)["ink"]
    image = icon(file.stem, ink.name(), ratio, 16).toImage()
    assert image.width() == round(16 * ratio)
    seen = [image.pixelColor(x, y) for x in range(image.width()) for y in range(image.height())]
    full = [colour for colour in seen if colour.alpha() > 200]
    assert len(full) > 10  # lines, not a grey veil
    assert all(_near(colour, ink) for colour in full)
    assert len(full) < 0.7 * len(seen)


def _near(colour: QColor, other: QColor) -> bool:
    return all(abs(a - b) <= 8 for a, b in zip(colour.getRgb()[:3], other.getRgb()[:3], strict=True))  # type: ignore[index]
