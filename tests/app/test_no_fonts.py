"""A system without any font: the window then uses the fonts that come with the program."""

import os
import subprocess
import sys

SHOWN = """
from PySide6.QtGui import QFontInfo
from app.ui.theme import apply_theme, start
from app.ui.typography import sized
application = start()
apply_theme(dark=False)
for kind in ({}, {"strong": True}, {"slanted": True}):
    shown = QFontInfo(sized(**kind))
    print(shown.family(), shown.bold(), shown.italic())
"""
NO_FOLDER = "<fontconfig><dir>{0}/none</dir><cachedir>{0}</cachedir></fontconfig>"


def test_the_shipped_fonts_stand_in_with_bold_and_italic(tmp_path):
    """A program that asks the system alone draws boxes for letters there."""
    (tmp_path / "fonts.conf").write_text(NO_FOLDER.format(tmp_path), encoding="utf-8")
    environment = {
        **os.environ, "FONTCONFIG_FILE": str(tmp_path / "fonts.conf"), "QT_QPA_PLATFORM": "offscreen",
        "QT_QPA_FONTDIR": str(tmp_path),
    }  # fmt: skip
    run = subprocess.run([sys.executable, "-c", SHOWN], env=environment, capture_output=True, text=True, check=True)
    assert run.stdout.splitlines() == [
        "DejaVu Sans Condensed False False", "DejaVu Sans Condensed True False", "DejaVu Sans Condensed False True",
    ]  # fmt: skip
