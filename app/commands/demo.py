"""The command `demo`: does the whole job on a demonstration boat."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from app.commands.reports import check_text
from app.document.examples import DEMONSTRATION, demonstration
from app.document.files import make_folder
from app.document.outputs import refuse_to_replace, write_output
from app.printing.print_jobs import how, write_pdf
from app.printing.sheet_kinds import SHEET_KINDS
from app.ui.dates import today
from app.ui.terminal import print_text, warn
from app.window.screen_check import has_screen, why_no_window
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check

_NAMES = ("template.pdf", "shop-sheet.pdf", "face.png", "cut.png")
_WINDOW = "import sys; from app.window.program import run; sys.exit(run(demonstration_boat=sys.argv[1]))"


def demo(folder: Path, *, window: bool, force: bool = False, boat: str = DEMONSTRATION) -> int:
    """Print the findings, write sheets and pictures to ``folder``, then open the window where there is a screen.

    Args:
        force: whether other files of these names may be lost there. boat: the key of a demonstration boat.

    Raises:
        OwnerError: there is no such boat, or the folder can't be made or written, or a file in it would be lost. Then
            nothing is written.
    """
    from app.canvas.pen import png_bytes
    from templates_out.pages.view_pages import view_pages

    design = demonstration(boat)
    for name in _NAMES:
        refuse_to_replace(folder / name, force=force)
    checked, date = with_spreads(check(design)), today()
    print_text(check_text(checked))
    make_folder(folder)
    for name, kind in zip(_NAMES, (SHEET_KINDS["template"], SHEET_KINDS["shop"]), strict=False):
        write_pdf(folder / name, kind.pages(checked, how(checked, date)), kind.what, checked.design, date, force=force)
    for name, page in zip(_NAMES[2:], view_pages(checked), strict=True):
        write_output(folder / name, png_bytes(page), force=force)
    print_text(f"\nIn the folder {folder.absolute()}: {', '.join(_NAMES)}")
    if window and has_screen():
        if why := why_no_window():
            warn(why)
        else:
            _open_window(boat)
    return 0


def _open_window(boat: str) -> None:
    """Show the window until it is closed, in a second process, which Qt ends where it can't have the screen."""
    print_text("The window opens now.")
    paths = (str(Path(__file__).resolve().parents[2]), os.environ.get("PYTHONPATH", ""))
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, paths))}
    if subprocess.run([sys.executable, "-c", _WINDOW, boat], env=environment, check=False).returncode:
        warn("The window did not stay open here. Everything else is done.")
