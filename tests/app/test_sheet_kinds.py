"""One record a sheet: a made-up one is in window, command line and manual, and says which reading is missing."""

import datetime

import pypdfium2
import pytest

from app.commands.command_line import commands, main
from app.document.document import Document
from app.help.manual_pages import manual, search
from app.printing.sheet_kinds import SHEET_KINDS, SheetKind, on_paper
from app.printing.sheet_set import PrintOptions, sheet_set, usual_options, with_kind
from app.window.main_window import MainWindow
from app.window.menus import menu_entries
from assets import design_text
from geometry.design_text import from_text, to_text
from geometry.judge.check import check
from geometry.solid.faces import Unmeasured, need
from templates_out.drawing.marks import Page, Text
from templates_out.drawing.printer import Correction, Printing
from templates_out.faces.sheet_refusals import not_known
from templates_out.layout.drilling_permission import stamp
from tests.designs import changed
from tests.plain_words import faults

DAY = datetime.date(2026, 1, 1)


def card(checked, printing):
    """A page that needs the transom's height, and says whether one may work by it."""
    try:
        height = need(checked.design.transom.height, "transom.height")
    except Unmeasured as missing:
        raise not_known(checked.design, "The reminder card", missing) from None
    words = f"{printing.paper}: keep {height:.0f} mm. {stamp(checked) or 'Go on.'}"
    return (Page(100.0, 60.0, (Text((5.0, 30.0), words, 3.0, "ink"),), "Reminder card"),)


KIND = SheetKind(
    key="reminder", title="Reminder card", what="reminder card", says="It goes in the boat’s log.", command="reminder",
    does="Writes a card for the log.", pages=card, svgs=lambda _checked, _printing: iter([("reminder card", "<svg/>")]),
    full_scale=False, bound=True, menu="&Reminder card…",
)  # fmt: skip


@pytest.fixture
def made_up(monkeypatch):
    monkeypatch.setitem(SHEET_KINDS, "reminder", KIND)


def boat(**values):
    return changed(from_text(design_text("shallow-well-skiff")), **values)


@pytest.mark.usefixtures("made_up")
def test_a_made_up_sheet_is_made_among_the_others():
    checked = check(boat())
    options = with_kind(usual_options(checked.design), "reminder", on=True)
    assert options.kinds == ("template", "inside", "shop", "reminder")
    made = sheet_set(checked, options, DAY)
    assert [(group.key, group.title) for group in made.groups][-1] == ("reminder", "Reminder card")
    assert "keep" in made.pages[-1].marks[0].text
    assert "demonstration boat" in made.pages[-1].marks[0].text  # the stamp's reason
    assert with_kind(options, "reminder", on=False).kinds == ("template", "inside", "shop")


@pytest.mark.usefixtures("made_up")
def test_a_made_up_sheet_is_in_the_manual():
    page = next(page for page in manual() if page.name == "sheets")
    assert "- **Reminder card.** It goes in the boat’s log." in page.text
    assert "sheets#reminder-card" in page.places
    assert search(manual(), "reminder card")[0].place == "sheets#reminder-card"


@pytest.mark.usefixtures("made_up")
def test_a_made_up_sheet_has_a_command(tmp_path, capsys):
    file, out = tmp_path / "boat.boltwell", tmp_path / "card.pdf"
    file.write_text(to_text(boat()), encoding="utf-8")
    assert main(["--help"]) == 0
    assert "boltwell reminder FILE --to OUT.pdf [--force]\n    Writes a card for the log." in capsys.readouterr().out
    assert main(["reminder", str(file), "--to", str(out)]) == 0
    assert f"reminder card: 1 sheet in {out}" in capsys.readouterr().err
    document = pypdfium2.PdfDocument(out)
    assert document[0].get_textpage().get_text_bounded().startswith("letter: keep")
    document.close()
    assert main(["reminder", str(file), "--to", str(tmp_path / "card.svg")]) == 0
    assert (tmp_path / "card.svg").read_text(encoding="utf-8") == "<svg/>"


@pytest.mark.usefixtures("made_up")
def test_a_made_up_sheet_without_its_reading_is_refused_in_one_sentence(tmp_path, capsys):
    file, out = tmp_path / "boat.boltwell", tmp_path / "card.pdf"
    file.write_text(to_text(boat(transom__height=None)), encoding="utf-8")
    assert main(["reminder", str(file), "--to", str(out)]) == 2
    assert "The reminder card can't be drawn yet: transom height is not known." in capsys.readouterr().err
    assert not out.exists()


@pytest.mark.usefixtures("made_up")
def test_a_made_up_sheet_is_in_the_window(qtbot):
    document = Document(boat())
    window = MainWindow(document)
    qtbot.addWidget(window)
    titles = [record.title() for record in menu_entries(window) if record.menu == "&Sheets"]
    assert titles[-1] == "&Reminder card…"
    window.make_sheets()
    box = window.sheets.card.boxes["reminder"]
    assert (box.text(), box.isChecked(), box.isEnabled()) == ("Reminder card", False, True)
    box.setChecked(True)
    assert window.sheets.mode.options.kinds[-1] == "reminder"
    with qtbot.waitSignal(window.sheets.mode.planned, timeout=60_000, check_params_cb=lambda plan: plan is not None):
        pass
    assert window.sheets.card._counts["reminder"].text() == "1"
    window.leave_sheets()


def test_what_a_record_says_holds():
    checked = check(boat())
    printing = Printing(DAY, "a2", correction=Correction(1.01, 1.0))
    for key, kind in SHEET_KINDS.items():
        assert kind.key == key
        own = on_paper(kind, checked.design, printing)
        assert (own.paper, own.correction == Correction()) == (("letter", True) if kind.bound else ("a2", False))
        assert all(other in SHEET_KINDS for other in kind.behind)
    assert len({kind.command for kind in SHEET_KINDS.values()}) == len(SHEET_KINDS)
    assert PrintOptions("letter").kinds == ("template", "inside", "shop")


@pytest.mark.parametrize("kind", SHEET_KINDS.values(), ids=list(SHEET_KINDS))
def test_every_sheet_has_a_command_of_the_same_name(kind):
    command = next(command for command in commands() if command.name == kind.command)
    assert command.does.startswith(kind.does)
    assert [fault for text in (kind.says, kind.does) for fault in faults(text)] == []
