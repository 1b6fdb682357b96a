"""Starts the window."""

from __future__ import annotations

import gc
import sys
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from app.window.screen import why_no_window
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from app.document.document import Document
    from app.document.recovery import Autosave

_BEFORE_QT = (
    "app.ui.dialogs", "app.canvas.face_words", "app.canvas.key_drawing", "app.canvas.view_motion", "app.ui.dates",
    "app.ui.deciding_modes", "app.document.examples", "app.document.files", "app.document.history",
    "app.canvas.first_side", "app.ui.window_place", "app.document.settings", "app.window.title",
    "app.document.changed_parts", "app.tools.pointer_tool", "app.entries.typed_entries", "app.entries.card_items",
    "app.findings.findings_text", "app.ladder.ladder_text", "app.deciding.low_enough_text", "app.card.next_step",
    "geometry.judge.check", "templates_out.drawing.labels", "templates_out.views.cut", "templates_out.views.detail",
    "templates_out.views.face", "templates_out.views.rulers",
)  # fmt: skip
_PAINTED = 100  # ms after which the window has begun to paint; a timer of 0 comes before


def prepare_start() -> None:
    """Get ready for a window that comes up soon.

    The collector stays off, for nearly all that is made by then stays. What needs no Qt is loaded before it: once PySide is
    there, it reads the whole source of each module that is imported after it.
    """
    gc.disable()
    for name in _BEFORE_QT:
        import_module(name)


def resume_collector() -> None:
    """Set what stands by now apart, and let the collector look after the rest."""
    gc.freeze()
    gc.enable()


def run(path: Path | None = None, *, demonstration_boat: str = "") -> int:
    """Show the window until it is closed, and return the exit code.

    What a crash left behind comes back first of all; where a boat is asked for, only what was left of that one. Where
    that one can't be read, the window opens as it does without a boat and tells why.

    Raises:
        OwnerError: there is no screen, or it does not answer.
    """
    if why := why_no_window():
        raise OwnerError(why)
    prepare_start()
    from PySide6.QtCore import QTimer

    from app.document.document import Document
    from app.document.examples import DEMONSTRATION, demonstration
    from app.document.recovery import Autosave
    from app.document.settings import remember_boat, settings
    from app.ui.error_messages import install_hook
    from app.ui.theme import start
    from app.ui.window_place import show_placed
    from app.window.main_window import MainWindow

    application = start()
    document, saver = Document(demonstration(demonstration_boat or DEMONSTRATION)), Autosave()
    install_hook(where=partial(saver.location, document))
    saver.follow(document)  # before the views: what is shown is already kept
    said, failed, refused = "", None, None
    try:
        said = "" if demonstration_boat else recover_unsaved(document, saver, path)
    except OwnerError as sentence:
        failed = sentence
        document.new(demonstration())
    if path is not None:
        try:
            if not said:
                document.open(path)
            remember_boat(path)
        except OwnerError as sentence:
            refused = sentence
    window = MainWindow(document)
    window.file_actions.recover_unsaved = partial(recover_unsaved, document, saver)
    document.shown.connect(lambda *_shown: window.foot.show_trouble(saver.trouble))
    window.foot.show_trouble(saver.trouble)
    window.hint.setVisible(document.design.demonstration and (refused is not None or not settings().hint_read))
    show_placed(window)
    QTimer.singleShot(0, resume_collector)
    QTimer.singleShot(_PAINTED, clean_up)
    if said:
        window.say(said)
    if failed is not None:
        QTimer.singleShot(_PAINTED, partial(window.file_actions.show_error, failed))
    if path is not None and refused is not None:
        QTimer.singleShot(_PAINTED, partial(window.file_actions.refuse, path, refused))
    else:
        QTimer.singleShot(_PAINTED, partial(window.file_actions.opened, said))
    code = application.exec()
    saver.discard()
    document.close()
    return code


def clean_up() -> None:
    """Take away what killed processes left half written in the program's own folders, and beside boats lately open."""
    from app.document.backups import backups_folder
    from app.document.files import data_folder, remove_leftovers
    from app.document.settings import recent_boats

    for folder in dict.fromkeys((data_folder(), backups_folder(), *(boat.parent for boat in recent_boats()))):
        remove_leftovers(folder)


def recover_unsaved(document: Document, saver: Autosave, path: Path | None = None) -> str:
    """Open the newest design that a dead process left; return what to say of it, "" where none was left.

    Args:
        path: the file that is about to be opened: what was left of any other stays where it is.

    Raises:
        OwnerError: a fault of this program is in the way; what was left is set aside, so that the next start goes on without.
    """
    from app.document.files import real_path
    from app.document.recovery import unsaved_designs
    from app.ui.error_messages import message_for

    try:
        target = path and real_path(path)
    except OwnerError:  # no file can have that name: to open it is what says so
        return ""
    left = unsaved_designs()
    mine = tuple(one for one in left if target is None or (one.file_state is not None and one.file_state.path == target))
    for other in left:
        if other not in mine[:1]:
            other.release()
    if not mine:
        return ""
    newest = mine[0]
    try:
        document.recover(newest.label, newest.design, newest.file_state)
    except Exception as fault:  # it must not keep the window from opening, at this start and all to come
        sys.stderr.write(message_for(fault)[1])
        raise OwnerError(
            f"Your last change can't be brought back, by a fault in this program. It is kept in {newest.set_aside()}."
        ) from fault
    if saver.trouble:
        newest.release()
    else:  # this process keeps it from now on
        newest.remove()
    last = f'Your last change, "{newest.label}", is here.' if newest.label else "Your work is here."
    count = len(mine) - 1
    more = {0: "", 1: " One more comes back at the next start."}.get(count, f" {count} more come back at the next starts.")
    return f"The program closed without saving. {last}{more}"
