"""Looks a window over as a picky stranger would: cut-off texts, overlaps, missing names.

Run as a program it looks at every state in both lights and both units, at Qt's scale. It prints its complaints, one
a line::

    QT_SCALE_FACTOR=1.5 python3 -m tests.gestures.looking 1280 720
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from itertools import combinations
from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QFontMetrics
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit, QScrollArea, QWidget

from app.canvas.drawing import Drawing
from app.ui.basic_widgets import Button
from app.ui.tool_button import HIGH
from assets import design_text
from geometry.design_text import from_text
from geometry.edits.edits import set_units, with_mount
from geometry.edits.starting_shapes import blank, starts
from templates_out.drawing.labels import nearer, things_of
from templates_out.drawing.marks import Arc, Circle, Line, Path, Text
from templates_out.views import view_pens as pens
from tests.templates_out.viewing import plated, with_kicker

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from app.window.main_window import MainWindow
    from geometry.design.design import Design
    from geometry.units.units import Unit
    from templates_out.drawing.marks import Mark

FIGURES_AT_REST = 7
SHARE_AT_REST, SHARE_WITH_LADDER = 0.50, 0.40  # of the window, tools and rulers counted
MOTORS_ON_SHEETS = 2  # the sheets of more take a quarter of a minute to plan, and the window shows them like any others
PATIENCE = float(os.environ.get("PATIENCE", "60"))  # s, on a busy machine
AFTER_A_FAILURE = 2.0  # s: what does not settle once keeps nobody waiting for hours
_FAILED: list[float] = []  # when something did not settle


def states() -> dict[str, Design]:
    """Return a design for each state that the window can be in."""
    skiff = from_text(design_text("shallow-well-skiff"))
    return {
        "blank": blank(),
        "guesses": starts()[0].design,
        "fouled": skiff,
        "clear": with_mount(skiff, 0, drop=184.15),
        "twins": from_text(design_text("twin-motor-launch")),
        "old holes": from_text(design_text("thrice-drilled-runabout")),
        "plated": plated(),
        "twins and a kicker": with_kicker(),
    }


def complaints(window: MainWindow) -> list[str]:
    """Return what is wrong with what a window shows now; nothing where all is well."""
    return [*too_wide(window), *run_out(window), *nameless(window), *crowded(window), *overfilled(window), *typewritten(window)]


def too_wide(window: QWidget) -> list[str]:
    """Return the texts that are wider, or higher when wrapped, than the place they have."""
    texts = []
    for widget in _seen(window):
        metrics = QFontMetrics(widget.font())
        match widget:
            case QLabel() if widget.wordWrap():
                word = max(map(metrics.horizontalAdvance, widget.text().split()), default=0)
                if widget.heightForWidth(widget.width()) > widget.height() + 1 or word > widget.width():
                    texts.append(widget.text())
            case QLabel():
                margins = widget.contentsMargins()
                if metrics.horizontalAdvance(widget.text()) > widget.width() - margins.left() - margins.right() + 1:
                    texts.append(widget.text())
            case QLineEdit():
                margins = widget.textMargins()
                if metrics.horizontalAdvance(widget.text()) > widget.width() - margins.left() - margins.right() - 2:
                    texts.append(widget.text())
            case QAbstractButton() if widget.text():
                if widget.sizeHint().width() > widget.width() + 1:
                    texts.append(widget.text())
            case _:
                continue
    return texts


def run_out(window: QWidget) -> list[str]:
    """Return what runs out of the side of its scrolled area: no bar leads there."""
    return [
        f"{area.parentWidget().accessibleName()}: {inner.width() - area.viewport().width()} px run out"
        for area in window.findChildren(QScrollArea)
        if area.isVisible() and area.horizontalScrollBarPolicy() == Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        and (inner := area.widget()) is not None and inner.width() > area.viewport().width()
    ]  # fmt: skip


def nameless(window: QWidget) -> list[str]:
    """Return the controls without an accessible name or a tab place."""
    faults = []
    for widget in _seen(window):
        if isinstance(widget, QAbstractButton | QLineEdit | Drawing):
            if not (widget.accessibleName() or (isinstance(widget, QAbstractButton) and widget.text())):
                faults.append(f"no name: {widget!r}")
            if not widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
                faults.append(f"no tab place: {widget.accessibleName() or widget!r}")
    return faults


def crowded(window: MainWindow) -> list[str]:
    """Return the words of a view that overlap each other or a heavy line. The detail ring hides what is under it."""
    cut = window.cut.canvas
    below, ring = cut.sheet_marks(), cut.ring.marks()
    words = tuple(mark for mark in below if isinstance(mark, Text))
    layers = [(window.face, window.face.marks()), (cut, below), (cut, (*words, *ring))]
    return [
        f"{canvas.accessibleName()}: {overlap}" for canvas, marks in layers if canvas.isVisible() for overlap in overlaps(marks)
    ]  # fmt: skip


def overlaps(marks: tuple[Mark, ...]) -> Iterator[str]:
    """Yield the marks that words of a drawing overlap, 0.05 mm allowed."""
    texts = [(mark, things_of(mark)[0]) for mark in marks if isinstance(mark, Text) and mark.text]
    for (first, a), (second, b) in combinations(texts, 2):
        if first.part != second.part and nearer(a, b, 0.05):
            yield f"{first.text!r} lies over {second.text!r}"
    for mark in marks:
        if isinstance(mark, Line | Arc | Circle | Path) and mark.pen is not None and mark.pen.weight >= pens.HEAVY:
            lines = things_of(Path(mark.points, mark.closed, mark.pen) if isinstance(mark, Path) else mark)
            for text, box in texts:
                if any(nearer(box, line, 0.05) for line in lines):
                    yield f"{text.text!r} lies across a heavy line of {mark.part!r}"


def overfilled(window: MainWindow) -> list[str]:
    """Return where there are more figures or buttons than an eye takes in."""
    faults = []
    figures = {
        mark.part for mark in window.face.marks()
        if isinstance(mark, Text) and mark.part.startswith(("measure:", "finding:"))
    }  # fmt: skip
    if len(figures) > FIGURES_AT_REST:
        faults.append(f"{len(figures)} figures at rest")
    buttons = [button for button in _seen(window) if isinstance(button, Button)]
    filled = [button.text() for button in buttons if button.filled]
    if len(filled) > 1:
        faults.append(f"{len(filled)} filled buttons: {filled}")
    cures = [button.text() for button in buttons if window.findings.isAncestorOf(button)]
    if len(cures) > 1:
        faults.append(f"{len(cures)} buttons in the findings: {cures}")
    return faults


def typewritten(window: MainWindow) -> list[str]:
    """Return the words with a straight apostrophe: visible, spoken, scrolled away, or in a menu."""
    every = [window, *window.findChildren(QWidget)]
    said = [words for widget in every for words in (widget.accessibleName(), widget.accessibleDescription(), widget.toolTip())]
    said += [widget.text() for widget in every if isinstance(widget, QLabel | QAbstractButton)]
    said += [action.text() for action in window.findChildren(QAction)]
    said += [mark.text for view in (window.face, window.cut.canvas) for mark in view.marks() if isinstance(mark, Text)]
    return [f"typewritten: {words}" for words in said if "'" in words]


def share(window: MainWindow) -> float:
    """Return the share of the window that the drawing has."""
    drawn = window.face.width() * (window.face.height() + HIGH) + window.cut.width() * window.cut.height()
    return drawn / (window.width() * window.height())


def _seen(window: QWidget) -> Iterator[QWidget]:
    for widget in window.findChildren(QWidget):
        if widget.isVisible() and not widget.visibleRegion().isEmpty():
            yield widget


def until(done: Callable[[], bool]) -> bool:
    """Let Qt work until something is done; return whether it came to it. After the first failure it waits a short time only."""
    start, patience = time.monotonic(), AFTER_A_FAILURE if _FAILED else PATIENCE
    while not done() and time.monotonic() - start < patience:
        QApplication.processEvents()
        time.sleep(0.005)
    if done():
        return True
    _FAILED.append(time.monotonic())
    return False


def look_over(window: MainWindow) -> Iterator[str]:
    """Yield what is wrong in one state: at rest, with each section of the card, with the ladder open, with the sheets."""
    document, settled = window.document, lambda: not complaints(window)
    if not until(settled):
        yield from (f"at rest: {complaint}" for complaint in complaints(window))
    if not until(lambda: share(window) >= SHARE_AT_REST):  # a panel still closing has its room for a moment
        yield f"at rest: the drawing has {share(window):.0%}"
    from app.document.view_state import ViewState

    for section in range(1, 9):
        document.set_view_state(ViewState(section=section))
        if not until(settled):
            yield from (f"section {section}: {complaint}" for complaint in complaints(window))
    document.set_view_state(ViewState())
    if document.checked.design.mounts:
        window.ladder.head.click()
        until(lambda: any(rung.isVisible() for rung in window.ladder.rungs))
        if not until(settled):
            yield from (f"ladder: {complaint}" for complaint in complaints(window))
        if not until(lambda: share(window) >= SHARE_WITH_LADDER):
            yield f"ladder: the drawing has {share(window):.0%}"
        window.ladder.head.click()
    if 0 < len(document.checked.design.mounts) <= MOTORS_ON_SHEETS:
        refused: list[str] = []
        window.sheets.mode.refused.connect(refused.append)
        window.sheets.mode.enter()
        until(lambda: window.sheets.mode.made is not None or any(refused))
        if not until(settled):
            yield from (f"sheets: {complaint}" for complaint in complaints(window))
        window.sheets.mode.leave()


def main(wide: int, high: int) -> None:
    """Print every complaint at one size of the window."""
    from app.document.document import Document
    from app.ui.theme import apply_theme, start
    from app.window.main_window import MainWindow

    application = start()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_DATA_HOME"] = os.environ["XDG_CONFIG_HOME"] = folder
        window = MainWindow(Document(next(iter(states().values()))))
        window.hint.hide()
        window.resize(wide, high)
        window.show()
        looked = 0
        for name, design in states().items():
            for units, dark in (("in", False), ("mm", True)):
                apply_theme(dark=dark)
                unit: Unit = "in" if units == "in" else "mm"
                window.document.new(set_units(design, unit))
                for complaint in look_over(window):
                    print(f"{name}, {units}, {'dark' if dark else 'light'}: {complaint}")
                looked += 1
        window.document.save(FilePath(folder) / "done.boltwell", over=True)
        window.close()
        application.processEvents()
    print(f"looked at {looked} at {application.devicePixelRatio():g}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:3]))
