"""Finds out whether there is a screen for a window, before Qt starts. Qt ends the process where it can't open a screen."""

from __future__ import annotations

import os
import sys

_NOWHERE = ("offscreen", "minimal")
_OF_QT = (*_NOWHERE, "eglfs", "linuxfb", "minimalegl", "vkkhrdisplay", "vnc")
_PLATFORMS = {"DISPLAY": "xcb", "WAYLAND_DISPLAY": "wayland"}
_HELP = "boltwell --help lists the commands that work without a screen."


def has_screen() -> bool:
    """Return whether the environment names a screen that a person can see."""
    if os.environ.get("QT_QPA_PLATFORM", "").partition(":")[0] in _NOWHERE:
        return False
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def why_no_window() -> str:
    """Return one sentence that says why Qt can open no window here; "" where it can."""
    if sys.platform in ("win32", "darwin"):
        return ""
    asked = [name.partition(":")[0] for name in os.environ.get("QT_QPA_PLATFORM", "").split(";") if name]
    if not asked and not has_screen():
        return f"There is no screen here, and the window needs one. {_HELP}"
    named = [name for name in ("DISPLAY", "WAYLAND_DISPLAY") if os.environ.get(name)]
    if any(map(_opens, asked or map(_PLATFORMS.__getitem__, named))):  # X first, since it answers quickly
        return ""
    unknown = [name for name in asked if name not in _OF_QT and not _is_x_or_wayland(name)]
    if unknown:
        return f"QT_QPA_PLATFORM names {unknown[0]}, which Qt does not know. Unset it, or set it to xcb or wayland."
    which = f" ({', '.join(f'{name}={os.environ[name]}' for name in named)})" if named else ""
    return f"The screen{which} does not answer, and the window needs one. Start it on the desktop itself. {_HELP}"


def _is_x_or_wayland(name: str) -> bool:
    return name == "xcb" or name.startswith("wayland")


def _opens(name: str) -> bool:
    """Return whether Qt's platform of this name can open its screen."""
    if name == "xcb":
        return _x_answers()
    if name.startswith("wayland"):
        return _wayland_answers()
    return name in _OF_QT or bool(os.environ.get("QT_QPA_PLATFORM_PLUGIN_PATH"))


def _x_answers() -> bool:
    """Ask the X server in DISPLAY, through the library that Qt uses, since the rules for names and keys are many."""
    import ctypes

    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:  # Qt lacks it too, and says so
        return True
    xcb.xcb_connect.restype = ctypes.c_void_p
    connection = ctypes.c_void_p(xcb.xcb_connect(None, None))
    failed = xcb.xcb_connection_has_error(connection)
    xcb.xcb_disconnect(connection)
    return not failed


def _wayland_answers() -> bool:
    """Return whether a Wayland server listens at the usual socket.

    Source: the documentation of wl_display_connect in libwayland: WAYLAND_SOCKET, else WAYLAND_DISPLAY, else "wayland-0",
    in XDG_RUNTIME_DIR where it is no absolute path.
    """
    import socket

    if os.environ.get("WAYLAND_SOCKET"):
        return True
    name = os.path.join(os.environ.get("XDG_RUNTIME_DIR", ""), os.environ.get("WAYLAND_DISPLAY") or "wayland-0")
    with socket.socket(socket.AF_UNIX) as knocking:
        knocking.settimeout(2.0)
        try:
            knocking.connect(name)
        except (OSError, ValueError):
            return False
    return True
