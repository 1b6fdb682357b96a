"""Puts Boltwell into the desktop's menu of one person, and takes it out. It follows freedesktop's standards.

The files go below `XDG_DATA_HOME`: the desktop entry, the file type with its icon, and the icon in the usual sizes.
"""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import assets
from geometry.errors import OwnerError

SIZES = (16, 22, 24, 32, 48, 64, 128, 256)  # px: the icon theme's usual ones
_NAME = "boltwell"
_TYPE = "application-x-boltwell+json"  # the icon of files of this type
_RENEW = (("update-desktop-database", "applications"), ("update-mime-database", "mime"))


def data_home() -> Path:
    """Return the folder of a person's own data, as the base directory standard has it."""
    named = Path(os.environ.get("XDG_DATA_HOME") or "")
    return named if named.is_absolute() else Path.home() / ".local" / "share"


def add_to_menu() -> list[Path]:
    """Write the entry, the file type and the icons, and return the files.

    Raises:
        OwnerError: this system has no such menu, or a file can't be written.
    """
    if sys.platform in ("win32", "darwin"):
        raise OwnerError("This system has no menu of that kind. Start Boltwell by its command.")
    home = data_home()
    contents = {_entry(home): _desktop_entry().encode(), _kind(home): assets.desktop_file(f"{_NAME}.xml")}
    contents |= {
        home / "icons/hicolor" / place / f"{name}.svg": assets.desktop_file(f"{_NAME}.svg")
        for place, name in (("scalable/apps", _NAME), ("scalable/mimetypes", _TYPE))
    }
    for size in SIZES:
        folder, picture = home / "icons/hicolor" / f"{size}x{size}", icon_png(size)
        contents |= {folder / "apps" / f"{_NAME}.png": picture, folder / "mimetypes" / f"{_TYPE}.png": picture}
    try:
        for path, content in contents.items():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
    except OSError as refused:
        raise OwnerError(f"{refused.filename} can't be written. Check that you may write there, and try again.") from refused
    _renew(home)
    return list(contents)


def remove_from_menu() -> list[Path]:
    """Take the files away again, and return those that were there."""
    home = data_home()
    icons = [home / "icons/hicolor" / f"{size}x{size}" for size in SIZES] + [home / "icons/hicolor/scalable"]
    places = [folder / kind / f"{name}.{ending}" for folder in icons for ending in ("png", "svg")
              for kind, name in (("apps", _NAME), ("mimetypes", _TYPE))]  # fmt: skip
    removed = [path for path in (_entry(home), _kind(home), *places) if path.is_file()]
    for path in removed:
        path.unlink()
    _renew(home)
    return removed


def icon_png(size: int) -> bytes:
    """Return the program's icon as a PNG of ``size`` by ``size`` pixels."""
    from PySide6.QtCore import QBuffer, QByteArray, QIODevice
    from PySide6.QtGui import QImage, QImageWriter, QPainter
    from PySide6.QtSvg import QSvgRenderer

    picture = QImage(size, size, QImage.Format.Format_ARGB32)
    picture.fill(0)
    painter = QPainter(picture)
    QSvgRenderer(QByteArray(assets.desktop_file(f"{_NAME}.svg"))).render(painter)
    painter.end()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"PNG")).write(picture)
    return bytes(buffer.data().data())


def _desktop_entry() -> str:
    """Return the shipped entry with the command that starts this very program."""
    text = assets.desktop_file(f"{_NAME}.desktop").decode()
    script = shutil.which("boltwell-window", path=str(Path(sys.executable).parent))
    if script:
        command, folder = shlex.quote(script), ""
    else:  # a checkout: its window starts in its folder
        command, folder = f"{shlex.quote(sys.executable)} -m app", f"Path={Path(assets.__file__).parents[1]}\n"
    return text.replace("Exec=boltwell-window %f\n", f"Exec={command} %f\n{folder}")


def _entry(home: Path) -> Path:
    return home / "applications" / f"{_NAME}.desktop"


def _kind(home: Path) -> Path:
    return home / "mime" / "packages" / f"{_NAME}.xml"


def _renew(home: Path) -> None:
    """Let the desktop read the files at once, where it has the programs for that. Without them it reads them later."""
    for program, folder in _RENEW:
        if shutil.which(program) and (home / folder).is_dir():
            subprocess.run([program, str(home / folder)], check=False, capture_output=True)
