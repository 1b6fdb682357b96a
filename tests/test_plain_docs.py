"""Plain English in docstrings and comments, folder by folder; and that the scanner reads them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plain_words import documentation, faults

ROOT = Path(__file__).resolve().parents[1]
FOLDERS = ("app", "assets", "geometry", "templates_out", "tests")
MODULES = [path for folder in FOLDERS for path in sorted((ROOT / folder).rglob("*.py"))]


@pytest.mark.parametrize("path", MODULES, ids=[str(path.relative_to(ROOT)) for path in MODULES])
def test_docstrings_and_comments_of_a_module_are_plain(path: Path) -> None:
    assert [fault for text in documentation(path.read_text(encoding="utf-8")) for fault in faults(text)] == []


def test_documentation_of_a_module_is_its_docstrings_and_comments() -> None:
    source = '"""Module."""\nSIZE = 2  # px here\ndef do():\n    """Do it."""\n    return "no # comment"\n'
    assert documentation(source) == ["Module.", "Do it.", "px here"]
