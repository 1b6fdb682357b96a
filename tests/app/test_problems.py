"""The last stop for exceptions: a sentence for the owner, details for a fault."""

import importlib
import sys

import pytest
from PySide6.QtCore import QCoreApplication, QTimer

from app.ui.error_messages import FAULT, install_hook, message_for
from geometry.errors import OwnerError
from geometry.units.units import parse_length


def raised(doing):
    try:
        doing()
    except Exception as error:  # noqa: BLE001 (any exception is what is asked for)
        return error
    return None


@pytest.fixture
def hook(monkeypatch):
    """Everything that the last stop showed."""
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    shown = []
    install_hook(lambda sentence, details: shown.append((sentence, details)))
    return shown


def test_an_owners_error_is_its_sentence():
    error = raised(lambda: parse_length("7 1/4x", "in"))
    assert isinstance(error, OwnerError)
    assert message_for(error) == (str(error), "")


def test_anything_else_is_a_fault_with_details():
    sentence, details = message_for(raised(lambda: 1 / 0))
    assert sentence == FAULT == "A fault in this program."
    assert "ZeroDivisionError" in details
    assert "test_problems.py" in details
    assert message_for(ZeroDivisionError(), lambda: "It is there.")[0] == "A fault in this program. It is there."


def test_a_missing_package_is_no_fault_of_the_program(monkeypatch):
    """One of ours that is missing is one."""
    monkeypatch.setitem(sys.modules, "shapely", None)
    monkeypatch.delitem(sys.modules, "shapely.ops", raising=False)  # else what another test imported is found
    sentence, details = message_for(raised(lambda: importlib.import_module("shapely.ops")))
    assert sentence.startswith("The package shapely is missing or damaged. ")
    assert details == ""
    sentence, details = message_for(raised(lambda: importlib.import_module("app.not_here")))
    assert sentence == FAULT
    assert "not_here" in details


def test_the_hook_shows_both_kinds(hook, capsys):
    for error in (OwnerError("Measure it again."), ZeroDivisionError("division by zero")):
        sys.excepthook(type(error), error, None)
    assert hook[0] == ("Measure it again.", "")
    assert hook[1][0] == FAULT
    assert "ZeroDivisionError" in hook[1][1]
    assert "ZeroDivisionError" in capsys.readouterr().err


def test_a_fault_while_one_is_shown_opens_no_second_box(monkeypatch):
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    shown = []

    def show(sentence, _details):
        shown.append(sentence)
        sys.excepthook(ValueError, ValueError("in painting"), None)

    install_hook(show)
    sys.excepthook(ZeroDivisionError, ZeroDivisionError("first"), None)
    sys.excepthook(ZeroDivisionError, ZeroDivisionError("later"), None)
    assert shown == [FAULT, FAULT]


@pytest.mark.qt_no_exception_capture
def test_what_a_slot_raises_arrives_there(hook, qapp):
    QTimer.singleShot(0, lambda: parse_length("seven", "in"))
    QCoreApplication.processEvents()
    assert len(hook) == 1
    assert hook[0][0].startswith('"seven" does not read as a length.')


def test_no_box_opens_where_nobody_could_close_it(monkeypatch, qapp, capsys):
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    install_hook()
    sys.excepthook(OwnerError, OwnerError("Measure it again."), None)
    assert capsys.readouterr().err == "Measure it again.\n"
