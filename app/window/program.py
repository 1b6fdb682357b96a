"""Starts the application: loads modules in order, recovers unsaved designs, and shows the window."""

from __future__ import annotations

import gc
import sys
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from app.window.screen_check import why_no_window
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from app.document.document import Document
    from app.document.recovery import Autosave

_BEFORE_QT = (
    "app.ui.dialogs", "app.canvas.face_words", "app.canvas.overview", "app.canvas.view_motion", "app.ui.dates",
    "app.ui.deciding_modes", "app.document.examples", "app.document.files", "app.document.history",
    "app.canvas.port_or_starboard_first", "app.ui.window_place", "app.document.settings", "app.window.title",
    "app.printing.sheet_kinds",
    "app.document.changed_parts", "app.tools.pointer_tool", "app.entries.typed_entries", "app.entries.card_items",
    "app.findings.glance_lines", "app.ladder.ladder_text", "app.deciding.motor_height_text", "app.card.next_step",
    "app.card.question", "app.card.one_press_group",
    "geometry.judge.check", "templates_out.drawing.labels", "templates_out.views.cut", "templates_out.views.detail",
    "templates_out.views.face", "templates_out.views.rulers",
)  # fmt: skip
_PAINTED = 100  # ms after which the window has begun to paint; a timer of 0 ms ends before that


def prepare_start() -> None:
    """Prepare a quick start of the window.

    The garbage collector stays off, since the start makes little garbage. Modules without Qt are loaded before Qt, since
    PySide reads the whole source of each module that is imported after it.
    """
    gc.disable()
    for name in _BEFORE_QT:
        import_module(name)


def resume_collector() -> None:
    """Start the garbage collector again, for objects that are made from now on."""
    gc.freeze()
    gc.enable()


def run(path: Path | None = None, *, demonstration_boat: str = "") -> int:
    """Show the window until it is closed, and return the exit code.

    A design that a crash left comes back first. With ``path``, only a design of that boat does. Where the boat can't be
    read, the window opens as it does without a boat, and says why.

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
    from app.ui.text_size import scale_text
    from app.ui.theme import start
    from app.ui.window_place import show_placed
    from app.window.main_window import MainWindow

    scale_text(settings().text)
    application = start()
    document, saver = Document(demonstration(demonstration_boat or DEMONSTRATION)), Autosave()
    install_hook(where=partial(saver.location, document))
    saver.follow(document)  # before the views, so that a shown design is already kept
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
    if window.starts_again:
        start_again(document.path)
    return code


def start_again(path: Path | None) -> None:
    """Begin the program in a new process, with the boat in ``path`` where there is one."""
    import subprocess

    from app.ui.text_size import own_environment

    program = [sys.executable] if getattr(sys, "frozen", False) else [sys.executable, "-m", "app"]
    subprocess.Popen(  # the person's own program, once more
        [*program, *([] if path is None else [str(path)])], env=own_environment(), start_new_session=True,
        cwd=None if getattr(sys, "frozen", False) else Path(__file__).parents[2],
    )  # fmt: skip


def clean_up() -> None:
    """Delete half-written files of killed processes in the program's folders and in the folders of recent boats."""
    from app.document.backups import backups_folder
    from app.document.files import data_folder, remove_leftovers
    from app.document.settings import recent_boats

    for folder in dict.fromkeys((data_folder(), backups_folder(), *(boat.parent for boat in recent_boats()))):
        remove_leftovers(folder)


def recover_unsaved(document: Document, saver: Autosave, path: Path | None = None) -> str:
    """Open the newest design that a dead process left, and return a sentence about it; "" where there is none.

    Args:
        path: the file to open. Designs that were left of other files stay where they are.

    Raises:
        OwnerError: a fault of this program stopped it. The design is set aside, so that the next start works.
    """
    from app.document.files import real_path
    from app.document.recovery import unsaved_designs
    from app.ui.error_messages import message_for

    try:
        target = path and real_path(path)
    except OwnerError:  # no file can have that name; opening it says so
        return ""
    left = unsaved_designs()
    mine = tuple(design for design in left if target is None or (design.file_state and design.file_state.path == target))
    for other in left:
        if other not in mine[:1]:
            other.release()
    if not mine:
        return ""
    newest = mine[0]
    try:
        document.recover(newest.label, newest.design, newest.file_state)
    except Exception as fault:  # it must not stop this start of the window, or a later one
        sys.stderr.write(message_for(fault)[1])
        raise OwnerError(
            f"Your last change can't be recovered, because of a fault in this program. It is kept in {newest.set_aside()}."
        ) from fault
    if saver.trouble:
        newest.release()
    else:  # this process keeps the design from now on
        newest.remove()
    last = f'Your last change, "{newest.label}", is here.' if newest.label else "Your work is here."
    count = len(mine) - 1
    more = {0: "", 1: " One more comes back at the next start."}.get(count, f" {count} more come back at the next starts.")
    return f"The program closed without saving. {last}{more}"
