"""Starts the window."""

from __future__ import annotations

import gc
import os
import sys
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from geometry.errors import OwnerError

if TYPE_CHECKING:
    from app.autosave import Autosave
    from app.desk import Desk

_BEFORE_QT = (
    "app.asking", "app.canvas.face_words", "app.canvas.key_drawing", "app.canvas.viewport", "app.dates", "app.deciding",
    "app.demonstration", "app.files", "app.history", "app.pictures", "app.placing", "app.settings", "app.title",
    "app.tools.changed", "app.tools.hand", "app.tools.typing", "app.words.card_items", "app.words.findings_words",
    "app.words.ladder_words", "app.words.low_enough_words", "app.words.next_words", "geometry.judge.check",
    "templates_out.drawing.labels", "templates_out.views.cut", "templates_out.views.detail", "templates_out.views.face",
    "templates_out.views.rulers",
)  # fmt: skip
_PAINTED = 100  # ms after which the window has begun to paint; a timer of 0 comes before
_NO_SCREEN = ("offscreen", "minimal")


def has_screen() -> bool:
    """Tell whether a window would be seen by anybody."""
    if os.environ.get("QT_QPA_PLATFORM", "").partition(":")[0] in _NO_SCREEN:
        return False
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def hurry() -> None:
    """Get ready for a window that comes up soon.

    The collector stays off, for nearly all that is made by then stays. What needs no Qt is loaded before it: once PySide is
    there, it reads the whole source of each module that is imported after it.
    """
    gc.disable()
    for name in _BEFORE_QT:
        import_module(name)


def settle() -> None:
    """Set what stands by now apart, and let the collector look after the rest."""
    gc.freeze()
    gc.enable()


def run(path: Path | None = None, *, demonstration_boat: bool = False) -> int:
    """Show the window until it is closed, and return the exit code.

    What a crash left behind comes back first of all; where a boat is asked for, only what was left of that one. Where
    that one can't be read, the window opens as it does without a boat and tells why.

    Raises:
        OwnerError: there is no screen.
    """
    if not has_screen() and "QT_QPA_PLATFORM" not in os.environ:
        raise OwnerError("There is no screen here, and the window needs one. boltwell --help tells what works without.")
    hurry()
    from PySide6.QtCore import QTimer

    from app.autosave import Autosave
    from app.demonstration import demonstration
    from app.desk import Desk
    from app.light import start
    from app.main_window import MainWindow
    from app.placing import show_placed
    from app.problems import install_hook
    from app.settings import remember_boat, settings

    application = start()
    install_hook()
    desk, saver = Desk(demonstration()), Autosave()
    saver.follow(desk)  # before the views: what is shown is already kept
    said = "" if demonstration_boat else bring_back(desk, saver, path)
    refused: OwnerError | None = None
    if path is not None:
        try:
            if not said:
                desk.open(path)
            remember_boat(path)
        except OwnerError as sentence:
            refused = sentence
    window = MainWindow(desk)
    window.doors.bring_back = partial(bring_back, desk, saver)
    desk.shown.connect(lambda *_shown: window.foot.show_trouble(saver.trouble))
    window.hint.setVisible(desk.design.demonstration and (refused is not None or not settings().hint_read))
    show_placed(window)
    QTimer.singleShot(0, settle)
    if said:
        window.say(said)
    if path is not None and refused is not None:
        QTimer.singleShot(_PAINTED, partial(window.doors.refuse, path, refused))
    else:
        QTimer.singleShot(_PAINTED, partial(window.doors.opened, said))
    code = application.exec()
    saver.drop()
    desk.close()
    return code


def bring_back(desk: Desk, saver: Autosave, path: Path | None = None) -> str:
    """Put the newest design that a dead process left on the desk; return what to say of it, "" where none was left.

    Args:
        path: the file that is about to be opened: what was left of any other stays where it is.
    """
    from app.autosave import left_behind
    from app.files import real

    left, target = left_behind(), path and real(path)
    mine = tuple(one for one in left if target is None or (one.seen is not None and one.seen.path == target))
    for other in left:
        if other not in mine:
            other.leave()
    if not mine:
        return ""
    newest, others = mine[0], mine[1:]
    for other in others:
        other.leave()
    desk.recover(newest.label, newest.design, newest.seen)
    if saver.trouble:
        newest.leave()
    else:  # this process keeps it from now on
        newest.remove()
    last = f'Your last change, "{newest.label}", is here.' if newest.label else "Your work is here."
    more = {0: "", 1: " One more comes back at the next start."}.get(
        len(others), f" {len(others)} more come back at the next starts."
    )
    return f"The program closed without saving. {last}{more}"
