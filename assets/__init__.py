"""Files the program carries with it: fonts, icons and demonstration boats. The one place that reads them."""

from functools import cache
from pathlib import Path

_HERE = Path(__file__).parent  # always plain files: the program is never run from an archive
DESIGNS = _HERE / "designs"
"""The folder of the demonstration boats."""
ICON = _HERE / "desktop" / "boltwell.svg"
"""The program's own icon."""


def font_path(name: str) -> Path:
    """Return the path of a shipped font, by its name without the ending, for a reader that maps the file."""
    return _HERE / "fonts" / f"{name}.ttf"


@cache
def font(name: str) -> bytes:
    """Return the bytes of a shipped font, by its file's name without the ending."""
    return font_path(name).read_bytes()


def design_names() -> tuple[str, ...]:
    """Return the names of the shipped demonstration boats, in alphabetical order."""
    return tuple(sorted(file.name.removesuffix(".boltwell") for file in DESIGNS.iterdir() if file.name.endswith(".boltwell")))


def design_text(name: str) -> str:
    """Return the text of a shipped demonstration boat, by its file's name without the ending."""
    return (DESIGNS / f"{name}.boltwell").read_text(encoding="utf-8")


def icon(name: str) -> bytes:
    """Return the bytes of an icon's SVG file, drawn in black on a grid of 20."""
    return (_HERE / "icons" / f"{name}.svg").read_bytes()


def desktop_file(name: str) -> bytes:
    """Return the bytes of a file for the desktop: the entry, the file type, or the program's icon."""
    return (_HERE / "desktop" / name).read_bytes()


def help_text(name: str) -> str:
    """Return the text of one page of the manual, in Markdown."""
    return (_HERE / "help" / f"{name}.md").read_text(encoding="utf-8")
