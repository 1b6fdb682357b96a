"""``python3 -m tests --bundle FOLDER``: makes the bundle in FOLDER/boltwell, and says its size.

It fetches the bundler into a separate environment in FOLDER, which can be deleted afterwards.
"""

import subprocess
import sys
import venv
from pathlib import Path

BUNDLER = "pyinstaller==6.22.3"
ROOT = Path(__file__).parents[2]
SPEC = Path(__file__).parent / "boltwell.spec"


def main() -> int:
    """Return 0 where the bundle is made, 2 where no folder was named, else the code of the step that failed."""
    if len(sys.argv) != 2:
        sys.stderr.write("Name the folder for the bundle: python3 -m tests --bundle FOLDER\n")
        return 2
    folder = Path(sys.argv[1]).resolve()
    venv.create(folder / "environment", with_pip=True)
    python = str(folder / "environment" / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python"))
    steps = (
        ("-m", "pip", "install", "-q", "--require-hashes", "-r", str(ROOT / "requirements.txt")),
        ("-m", "pip", "install", "-q", "--no-deps", str(ROOT)),
        ("-m", "pip", "install", "-q", BUNDLER),
        ("-m", "PyInstaller", "-y", "--log-level=WARN", f"--distpath={folder}", f"--workpath={folder / 'work'}", str(SPEC)),
    )
    for step in steps:
        code = subprocess.call([python, *step])
        if code:
            return code
    size = sum(path.stat().st_size for path in (folder / "boltwell").rglob("*") if path.is_file() and not path.is_symlink())
    sys.stdout.write(f"{folder / 'boltwell'}: {size / 1e6:.0f} MB\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
