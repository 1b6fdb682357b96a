"""What the window offers besides placing bolts: lengths of bolts, the sources of loads, slots and parts edited by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtWidgets import QLabel

from app.entries.card_items import Said, items
from app.window.main_window import MainWindow
from tests.designs import changed
from tests.gestures.test_deciding import compare_page
from tests.reference.test_trade_boats import blind, skiff

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.design.design import Design


def said(window: MainWindow, section: int, key: str) -> str:
    """Return a short text of the card, which is open at its section."""
    window.document.set_view_state(replace(window.document.view_state, section=section))
    shown = items(window.document.design, 0, section)
    text = next(item.text for item in shown if isinstance(item, Said) and item.key == key)
    labels = [label.text() for label in window.card.findChildren(QLabel) if label.isVisibleTo(window.card)]
    assert text in labels
    return text


def test_the_card_shows_which_lengths_of_bolt_fit(opened: Callable[[Design], MainWindow]) -> None:
    """By hand: grip 2.868 in, nut 0.61 and two threads 0.154 give 3.632; the thread of 1 1/4 in ends at 4.118."""
    window = opened(blind(6.5))
    text = said(window, 8, "mounts.0.lower_hardware.length.window")
    assert text == "Any length from 3 11/16 in to 4 1/16 in fits. Stock: 3 3/4 in or 4 in."
    thick = changed(blind(6.5), mounts__0__lower_hardware__washer__thickness=None)
    window.document.commit("Not known", thick)
    text = said(window, 8, "mounts.0.lower_hardware.length.window")
    assert text == "Lengths that fit: not calculated. Measure the lower washer, thickness first."


def test_the_comparison_names_the_source_of_each_load(opened: Callable[[Design], MainWindow]) -> None:
    window = opened(changed(skiff(), mounts__0__thrust=2000.0, mounts__0__centre_aft=None, mounts__0__mass=100.0))
    page = compare_page(window)
    text = next(label.text() for label in page.findChildren(QLabel) if "The pulls are" in label.text())
    assert "Thrust 450 lbf: entered." in text  # 2000 N over 4.448 N
    assert "Weight 220 lb: entered." in text
    usual = "10 to 16 in (250 to 400 mm) aft of the bracket, common practice."
    assert f"Balance point 12 in aft of the transom: {usual}" in text
    assert "Shock 3: our assumption." in text
    window.document.commit("No weight", changed(window.document.design, mounts__0__mass=None))
    assert not any("The pulls are" in label.text() for label in page.findChildren(QLabel))
