"""Making the sheets in the window: the plan over the drawing, the real pages next to it, saved and opened."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING, Any

import pypdfium2
import pytest
from PySide6.QtCore import Qt, QTimer

from app.document.settings import Printer, printer, remember_printer
from app.printing.sheet_set import PrintOptions, making, margin_of, plan_words, sheet_set, taped_words
from app.ui.dates import today
from geometry.design_text import to_text
from geometry.edits.edits import set_units, with_mount
from geometry.edits.starting_shapes import guess
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.readings.measures import measure
from tests.designs import example_design, roomy, sure
from tests.gestures.conftest import come_to_rest, place
from tests.gestures.looking import too_wide
from tests.gestures.test_window import Answers

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.entries.field import Field
    from app.printing.sheets_card import SheetsCard
    from app.printing.sheets_mode import SheetsMode
    from app.window.main_window import MainWindow
    from geometry.design.design import Design
    from geometry.judge.findings import Checked

LEFT = Qt.MouseButton.LeftButton


class Viewer(Answers):
    """Answers, and keeps which file was opened in the viewer."""

    shown: Path | None = None

    def show_file(self, path: Path) -> bool:
        self.shown = path
        return True


def begin(qtbot: QtBot, window: MainWindow) -> None:
    """Press the button, and wait for all pages."""
    qtbot.mouseClick(window.answer.button, LEFT)
    assert window.document.view_state.sheets
    all_pictured(qtbot, window)


def all_pictured(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.waitUntil(
        lambda: window.sheets.mode.made is not None
        and window.sheets.paper.pictured == len(window.sheets.mode.made.sheets.pages),
    )


def test_in_and_out_leaves_the_design_as_it_was(qtbot: QtBot, window: MainWindow) -> None:
    design = window.document.design
    begin(qtbot, window)
    assert window.sheets.paper.isVisible()
    assert window.sheets.card.isVisible()
    assert not window.card.isVisible()
    assert not window.ladder.isVisible()
    assert window.answer.button.text() == "Save the PDF"
    qtbot.keyClick(window.face, Qt.Key.Key_Escape)
    assert not window.document.view_state.sheets
    assert window.card.isVisible()
    assert window.ladder.isVisible()
    assert window.answer.button.text() == "Make the sheets"
    assert window.document.design == design
    assert window.document.history.past == ()


def test_the_way_back_is_a_word_next_to_the_button(qtbot: QtBot, window: MainWindow) -> None:
    begin(qtbot, window)
    qtbot.mouseClick(window.answer.link, LEFT)
    assert not window.document.view_state.sheets


def test_what_is_saved_is_what_was_shown(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    answers = Viewer(kept / "x")
    window.file_actions._dialogs = answers  # type: ignore[assignment]
    begin(qtbot, window)
    qtbot.mouseClick(window.answer.button, LEFT)
    qtbot.waitUntil(lambda: bool(list(kept.glob("* sheets.pdf"))))
    path = next(kept.glob("* sheets.pdf"))
    made = window.sheets.mode.made
    assert made is not None
    assert path.read_bytes() == made.pdf
    document = pypdfium2.PdfDocument(path)
    assert len(document) == len(made.sheets.pages)
    plan = made.sheets.plan
    wide, high = document[0].get_size()  # 1/72 in: ISO 32000-1, 8.3.2.3
    assert (wide, high) == pytest.approx((plan.width / 25.4 * 72, plan.height / 25.4 * 72), abs=0.01)
    document.close()
    assert made.sheets.checked.design.revision == 1
    assert window.sheets.card.title.text() == "Print it, then read both bars"
    qtbot.mouseClick(window.sheets.card.open, LEFT)
    assert answers.shown == path
    assert answers.messages == [""]


@pytest.mark.parametrize(("kind", "why"), [
    ("measured", ""),
    ("a guess that turns nothing", ""),
    ("guessed", "The sheets are stamped NOT TO BE DRILLED. Corner radius is only a guess, and the answer rests on it."),
    ("doubtful", "The sheets are stamped PILOT ONLY. Drill one pilot only, at the lower port hole."),
    ("demonstration", "The sheets are stamped NOT TO BE DRILLED. This is a demonstration boat, not yours."),
    ("fouled", "The sheets are stamped NOT TO BE DRILLED."),
])  # fmt: skip
def test_the_answer_says_why_sheets_are_stamped(
    qtbot: QtBot, opened: Callable[[Design], MainWindow], kind: str, why: str
) -> None:
    """The sheets' own reason, once the chances are known; what is plain before that is said at once."""
    design = example_design() if kind == "doubtful" else roomy(demonstration=kind == "demonstration")
    if kind == "guessed":
        design = guess(design, [sure(measure(design, "well.fillet_radius"))])
    elif kind == "a guess that turns nothing":
        design = guess(design, [sure(measure(design, "transom.thickness.low_at"))])
    elif kind == "fouled":
        design = with_mount(design, 0, drop=203.2)
    window = opened(design)
    assert window.answer.stamped == ""
    window.make_sheets()
    assert window.answer.button.text() == "Save the PDF"
    assert why or window.answer.stamped == ""  # not even until the chances are known
    doubts: list[Checked] = []
    window.doubt_worker.ready.connect(doubts.append)
    qtbot.waitUntil(lambda: bool(doubts) and doubts[-1].design == window.document.design, timeout=60_000)
    assert window.answer.stamped.startswith(why)
    assert bool(window.answer.stamped) is bool(why)
    assert window.answer.button.filled is (why == "")
    window.leave_sheets()
    assert window.answer.stamped == ""


def test_other_paper_makes_other_pages(qtbot: QtBot, window: MainWindow) -> None:
    begin(qtbot, window)
    window.sheets.card.paper.pick("tabloid")
    all_pictured(qtbot, window)
    made = window.sheets.mode.made
    assert made is not None
    assert {made.sheets.plan.width, made.sheets.plan.height} == {279.4, 431.8}
    window.sheets.card.turned.pick("portrait")
    all_pictured(qtbot, window)
    assert window.sheets.mode.made is not None
    assert window.sheets.mode.made.sheets.plan.orientation == "portrait"


def test_sheets_can_be_left_out(qtbot: QtBot, window: MainWindow) -> None:
    begin(qtbot, window)
    window.sheets.card.boxes["shop"].setChecked(False)
    window.sheets.card.boxes["inside"].setChecked(False)
    all_pictured(qtbot, window)
    assert window.sheets.mode.made is not None
    assert [group.key for group in window.sheets.mode.made.sheets.groups] == ["template"]


def test_a_bar_that_no_printer_prints_is_refused_in_its_place(qtbot: QtBot, window: MainWindow) -> None:
    begin(qtbot, window)
    field = window.sheets.card.across
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "5")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: "bar across" in window.sheets.card._problem.text())
    assert window.sheets.mode.made is None


def typed(qtbot: QtBot, field: Field, text: str) -> None:
    """Type into a field, and press Enter."""
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def corrected(window: MainWindow) -> str | None:
    """Return the correction of the sheets, in words; None where none are made."""
    made = window.sheets.mode.made
    return None if made is None else made.sheets.corrected


def made_again(qtbot: QtBot, window: MainWindow, said: str) -> None:
    """Wait until the sheets are made with this correction."""
    qtbot.waitUntil(lambda: said in (corrected(window) or ""))


def test_a_correction_is_kept_for_its_printer_and_offered_again(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    """228.6 mm read as 227.1: across × 228.6/227.1 = 1.0066. After saving, bars are those of the print just saved."""
    window.file_actions._dialogs = Viewer(kept / "x")  # type: ignore[assignment]
    begin(qtbot, window)
    card, mode = window.sheets.card, window.sheets.mode
    assert not card._kept.isVisible()
    typed(qtbot, card.across, "227.1 mm")
    qtbot.waitUntil(lambda: "Measure the bar up as well" in card._problem.text())
    typed(qtbot, card.up, "6")
    made_again(qtbot, window, "across × 1.0066 ± 0.0011")
    typed(qtbot, card.printer, " Office  laser ")
    assert mode.options.printer == "Office laser"
    qtbot.mouseClick(window.answer.button, LEFT)
    qtbot.waitUntil(lambda: bool(list(kept.glob("* sheets.pdf"))))
    saved_printer = printer("office laser", "letter")
    assert saved_printer is not None
    assert (saved_printer.short, saved_printer.long) == pytest.approx((1.0, 228.6 / 227.1))
    assert (mode.options.across, mode.options.up) == (None, None)
    assert mode.options.before is not None
    assert card.across.text() == "not known"
    assert card._kept.isVisible()
    assert card.correct.isVisible()
    # Another time: picked by its name; left out, it is refused, as it is off by more than half a percent
    mode.leave()
    mode._options = None
    begin(qtbot, window)
    assert corrected(window) == ""
    card.known.pick("Office laser")
    made_again(qtbot, window, "across × 1.0066")
    card.correct.setChecked(False)
    qtbot.waitUntil(lambda: "Office laser is known to print 0.7 % too short" in card._problem.text())
    assert corrected(window) is None
    card.paper.pick("a4")  # no correction is saved for other paper
    all_pictured(qtbot, window)
    assert corrected(window) == ""


def measured_and_saved(qtbot: QtBot, window: MainWindow, kept: Path) -> tuple[SheetsCard, SheetsMode]:
    """Read the bars of a nameless printer, and save the sheets that are corrected by them."""
    window.file_actions._dialogs = Viewer(kept / "x")  # type: ignore[assignment]
    begin(qtbot, window)
    card, mode = window.sheets.card, window.sheets.mode
    typed(qtbot, card.across, "227.1 mm")
    typed(qtbot, card.up, "6")
    made_again(qtbot, window, "across × 1.0066")
    qtbot.mouseClick(window.answer.button, LEFT)
    qtbot.waitUntil(lambda: mode.options.before is not None)
    return card, mode


def test_a_printer_named_after_it_was_measured_keeps_its_correction(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    """A name is no other printer: not before the sheets are saved, nor after."""
    card, mode = measured_and_saved(qtbot, window, kept)
    assert not mode.options.known
    typed(qtbot, card.printer, "Office")
    made_again(qtbot, window, "across × 1.0066")
    assert list(mode.options.known) == ["Office"]
    saved_printer = printer("office", "letter")
    assert saved_printer is not None
    assert saved_printer.long == pytest.approx(228.6 / 227.1)
    assert saved_printer.read == pytest.approx((152.4, 227.1))


def test_a_correction_that_no_printer_needs_is_named_and_not_used(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    """Twice as large, in settings changed by hand: the sheets go on without, and its bars are measured again."""
    answers = Viewer(kept / "x")
    window.file_actions._dialogs = answers  # type: ignore[assignment]
    remember_printer(Printer("Office", "letter", 0.5, 1.0, (0.001, 0.0)))
    begin(qtbot, window)
    card, mode = window.sheets.card, window.sheets.mode
    typed(qtbot, card.printer, "Office")
    all_pictured(qtbot, window)
    assert answers.messages[1:] == [
        'The saved correction of "Office" on letter is more than 3 %. No printer needs that. '
        "Measure the bars of an uncorrected print again."
    ]
    assert corrected(window) == ""
    typed(qtbot, card.across, "227.1 mm")
    typed(qtbot, card.up, "6")
    made_again(qtbot, window, "across × 1.0066")
    qtbot.mouseClick(window.answer.button, LEFT)
    qtbot.waitUntil(lambda: mode.options.before is not None)
    saved_printer = printer("Office", "letter")
    assert saved_printer is not None
    assert saved_printer.short == 1.0
    assert saved_printer.long == pytest.approx(228.6 / 227.1)


def test_another_printer_or_paper_has_its_own_bars(qtbot: QtBot, window: MainWindow) -> None:
    """The bars of one print say nothing of another printer, nor of the same one on other paper."""
    begin(qtbot, window)
    card, mode = window.sheets.card, window.sheets.mode
    typed(qtbot, card.printer, "Office")
    typed(qtbot, card.across, "227.1 mm")
    typed(qtbot, card.up, "6")
    typed(qtbot, card.printer, "office")  # the same one
    assert (mode.options.across, mode.options.up) == pytest.approx((227.1, 152.4))
    typed(qtbot, card.printer, "At home")
    assert (mode.options.across, mode.options.up, mode.options.before) == (None, None, None)
    typed(qtbot, card.across, "227.1 mm")
    card.paper.pick("a4")
    assert (mode.options.across, mode.options.up) == (None, None)
    assert card.across.text() == "not known"


def test_a_reading_typed_again_is_the_same_reading(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    """Typed again behind a save, it is not corrected by twice; what it is taken for is said."""
    card, mode = measured_and_saved(qtbot, window, kept)
    first = mode.options.before
    typed(qtbot, card.across, "227.1 mm")
    typed(qtbot, card.up, "6")
    made_again(qtbot, window, "The correction stays across × 1.0066 ± 0.0011.")
    assert mode.made is not None
    assert mode.made.sheets.correction == first


def test_another_boat_begins_with_what_is_usual_for_it(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    begin(qtbot, window)
    window.sheets.card.paper.pick("tabloid")
    window.sheets.card.boxes["coupons"].setChecked(True)
    all_pictured(qtbot, window)
    other = kept / "other.boltwell"
    other.write_text(to_text(set_units(window.document.design, "mm")), encoding="utf-8")
    window.file_actions.open_path(other)
    assert not window.document.view_state.sheets
    assert window.sheets.mode.options == PrintOptions("a4")
    begin(qtbot, window)
    assert window.sheets.card.paper.text() == "A4"


def test_the_foot_says_nothing_of_the_sheets_behind_them(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    window.file_actions._dialogs = Viewer(kept / "x")  # type: ignore[assignment]
    begin(qtbot, window)
    qtbot.mouseClick(window.answer.button, LEFT)
    qtbot.waitUntil(lambda: "Measure both bars before you mark anything." in window.foot.said)
    qtbot.mouseClick(window.answer.link, LEFT)
    assert window.foot.said == ""
    window.make_sheets()
    assert window.foot.said.startswith("Making the sheets")
    window.leave_sheets()
    assert window.foot.said == ""


def test_bars_and_a_grid_can_be_printed_alone(qtbot: QtBot, window: MainWindow) -> None:
    begin(qtbot, window)
    card = window.sheets.card
    card.boxes["bars"].setChecked(True)
    for key in ("template", "inside", "shop"):
        card.boxes[key].setChecked(False)
    all_pictured(qtbot, window)
    assert window.sheets.mode.made is not None
    assert [group.key for group in window.sheets.mode.made.sheets.groups] == ["bars"]
    card.boxes["bars"].setChecked(False)
    qtbot.waitUntil(lambda: "No sheet is chosen" in card._problem.text())


def test_drawings_are_saved_as_svg(qtbot: QtBot, window: MainWindow, kept: Path) -> None:
    window.file_actions._dialogs = Viewer(kept / "x")  # type: ignore[assignment]
    begin(qtbot, window)
    qtbot.mouseClick(window.sheets.card.svg, LEFT)
    qtbot.waitUntil(lambda: len(list(kept.glob("*.svg"))) == 2)
    names = sorted(path.name for path in kept.glob("*.svg"))
    assert names[0].endswith("drawings, inside sheet.svg")
    assert names[1].endswith("drawings.svg")


def test_nothing_is_dragged_while_the_sheets_are_made(qtbot: QtBot, window: MainWindow) -> None:
    design = window.document.design
    begin(qtbot, window)
    start = place(window, 60.0, -130.0)
    qtbot.mousePress(window.face, LEFT, pos=start)
    qtbot.mouseMove(window.face, place(window, 120.0, -180.0))
    qtbot.mouseRelease(window.face, LEFT, pos=place(window, 120.0, -180.0))
    assert window.document.design == design


def test_the_plan_and_the_checks_in_words(fitting: Design) -> None:
    """Spacings by hand: the standard pattern's pairs are 12 7/8 and 9 7/8 in apart (common practice, no source).
    The diagonal at a drop of 7 1/4 in is the root of (6 7/16 + 4 15/16) squared and 7 1/4 squared: 13.489 in,
    which is 13 1/2 to a 1/32."""
    sheets = sheet_set(check(fitting), PrintOptions("letter"), today())
    assert plan_words(sheets.plan) == "Page plan: four pages, two across"
    assert taped_words(sheets) == (
        "Measure upper to upper 12 7/8 in, lower to lower 9 7/8 in, both diagonals 13 1/2 in."
    )
    metric = sheet_set(check(set_units(fitting, "mm")), PrintOptions("a4", kinds=("template",)), today())
    assert "both diagonals 342.6 mm" in taped_words(metric)


@pytest.mark.parametrize("text", ["-1", "3 in", "x"])
def test_a_bare_edge_that_no_printer_leaves(text: str) -> None:
    with pytest.raises(OwnerError):
        margin_of(text, "in")


def test_the_event_loop_goes_on_while_pages_are_made(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The work waits for a timer of the event loop: if both were one, that timer would never tick."""
    ticked, waited = threading.Event(), list[bool]()
    timer = QTimer(interval=10)
    timer.timeout.connect(ticked.set)

    def making_slowly(*words: Any) -> Iterator[Any]:
        waited.append(ticked.wait(60.0))
        yield from making(*words)

    monkeypatch.setattr("app.printing.page_maker.making", making_slowly)
    timer.start()
    begin(qtbot, window)
    timer.stop()
    assert waited == [True]


SIZES = [("in", 1366, 708), ("mm", 1366, 708), ("in", 1920, 1016), ("in", 683, 384)]


@pytest.mark.parametrize(("units", "wide", "high"), SIZES)
def test_no_text_is_wider_than_its_place(qtbot: QtBot, window: MainWindow, units: str, wide: int, high: int) -> None:
    window.document.commit("Unit", set_units(window.document.design, "in" if units == "in" else "mm"))
    window.resize(wide, high)
    begin(qtbot, window)
    for part in ("card", "face", "cut"):
        window.columns.show_part(part)
        come_to_rest()
        assert too_wide(window) == [], part
