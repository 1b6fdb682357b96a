"""Saves the demonstration boats with the newest number, after a field was added, and keeps the older files for the tests.

Run it by ``python3 -m tests --save-designs``.
"""

import json
from pathlib import Path

from assets import DESIGNS, design_names
from geometry.design_text import from_text, to_text

FILES = Path(__file__).parent / "files"


def main() -> None:
    """Save every boat whose file changes."""
    for name in design_names():
        file = DESIGNS / f"{name}.boltwell"
        before = file.read_text(encoding="utf-8")
        after = to_text(from_text(before))
        if after != before:
            kept = FILES / f"number_{json.loads(before)['boltwell']}" / file.name
            kept.parent.mkdir(exist_ok=True)
            if not kept.exists():
                kept.write_text(before, encoding="utf-8")
            file.write_text(after, encoding="utf-8")


if __name__ == "__main__":
    main()
