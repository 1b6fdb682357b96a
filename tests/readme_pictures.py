"""Makes the README's pictures again: the window before and after the cure, and the template's first sheet.

Run it from the checkout with the tests' Python:

    QT_QPA_PLATFORM=offscreen .env-boltwell/python/bin/python -m tests.readme_pictures
"""

from __future__ import annotations

import sys
from pathlib import Path

import pypdfium2
from msgspec.structs import replace
from PySide6.QtTest import QTest

from app.document.document import Document
from app.document.examples import demonstration
from app.printing.print_jobs import how
from app.ui.dates import today
from app.ui.theme import apply_theme, start
from app.window.main_window import MainWindow
from geometry.decide.fit import fits
from geometry.design.design import Design
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from templates_out.drawing.pdf import pdf_bytes
from templates_out.pages.template.template_pages import template_pages

PICTURES = Path(__file__).parents[1] / "assets" / "pictures"
SIZE = 1366, 708  # px: a small laptop's screen without its bars
SHARP = 90 / 72  # px a point of the printed sheet
PATIENCE, STEP = 120_000, 2_000  # ms


def main() -> int:
    """Write the three pictures."""
    application = start()
    apply_theme(dark=False)
    before = demonstration()
    for name, design in (("window", before), ("window-after", cured(before))):
        window = MainWindow(Document(design))
        window.hint.setVisible(False)
        window.resize(*SIZE)
        window.show()
        _wait_for_chances(window)
        window.grab().save(str(PICTURES / f"{name}.png"))
        window.hide()
    checked = with_spreads(check(before))
    raw = pdf_bytes(template_pages(checked, how(checked, today())), "template", today())
    pypdfium2.PdfDocument(raw)[0].render(scale=SHARP).to_pil().save(PICTURES / "template.png")
    application.quit()
    return 0


def cured(design: Design) -> Design:
    """Return the first fit that is found, its guesses measured as they are."""
    best = fits(design)[0].design
    return replace(best, readings={key: replace(reading, state="measured") for key, reading in best.readings.items()})


def _wait_for_chances(window: MainWindow) -> None:
    """Wait until the chances are known and all is painted.

    Raises:
        TimeoutError: they do not come.
    """
    for _ in range(PATIENCE // STEP):
        QTest.qWait(STEP)
        if window.card.next_step._tracker.sure:
            QTest.qWait(STEP)
            return
    raise TimeoutError("the chances do not come")


if __name__ == "__main__":
    sys.exit(main())
