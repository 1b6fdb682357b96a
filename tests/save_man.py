"""Saves the manual page of the commands, after one was changed. Run it by ``python3 -m tests --save-man``."""

import tomllib
from pathlib import Path

from app.commands.command_line import manual_text

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "assets" / "desktop" / "boltwell.1"


def page() -> str:
    """Return the page of the version that pyproject.toml has."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    return manual_text(project["project"]["version"])


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
