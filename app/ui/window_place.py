"""Places the window where it was closed last, if that screen is still there, within the screen's free area."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from app.document.settings import WindowPlace, remember, settings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtCore import QRect
    from PySide6.QtWidgets import QWidget

Area = tuple[int, int, int, int]  # left, top, width, height [px]

USUAL = WindowPlace(0, 0, 1366, 708)
_MOST_EDGE = 200  # px: no frame adds more


def fitted(kept: WindowPlace, areas: Sequence[Area]) -> WindowPlace:
    """Return the place nearest to ``kept`` at which the window and its frame are inside one area.

    The area that shares most with ``kept`` counts, else the first. A window that must shrink both ways is maximised.

    Args:
        areas: the screens' free areas, the main screen first; at least one.
    """
    across, down = (max(0, min(edge, _MOST_EDGE)) for edge in kept.edges)
    left, top, wide, high = max(areas, key=lambda area: _shared(area, kept))
    room = max(1, wide - across), max(1, high - down)
    size = max(1, min(kept.wide, room[0])), max(1, min(kept.high, room[1]))
    return WindowPlace(
        left=max(left, min(kept.left, left + room[0] - size[0])),
        top=max(top, min(kept.top, top + room[1] - size[1])),
        wide=size[0],
        high=size[1],
        edges=(across, down),
        maximised=kept.maximised or (kept.wide > room[0] and kept.high > room[1]),
    )


def _shared(area: Area, kept: WindowPlace) -> int:
    """Return the part of an area that the window covers [px²]."""
    across = min(area[0] + area[2], kept.left + kept.wide) - max(area[0], kept.left)
    down = min(area[1] + area[3], kept.top + kept.high) - max(area[1], kept.top)
    return max(0, across) * max(0, down)


def show_placed(window: QWidget) -> None:
    """Show the window where it was closed last. At the first start the desktop chooses the place."""
    kept = settings().place
    place = fitted(kept or USUAL, free_areas())
    window.resize(place.wide, place.high)
    if kept is not None:
        window.move(place.left, place.top)
    (window.showMaximized if place.maximised else window.show)()


def remember_place(window: QWidget) -> None:
    """Keep the window's place for the next start. A maximised window keeps its place from before."""
    if window.isMaximized():
        remember(place=replace(settings().place or USUAL, maximised=True))
        return
    frame, inside = window.frameGeometry(), window.size()
    edges = frame.width() - inside.width(), frame.height() - inside.height()
    remember(place=WindowPlace(frame.x(), frame.y(), inside.width(), inside.height(), edges))


def keep_on_screen(window: QWidget) -> None:
    """Make a window no larger than the free area of its screen. A window that was too large goes to the middle."""
    area = _area(window.screen().availableGeometry())
    size = window.width(), window.height()
    place = fitted(WindowPlace(*area[:2], *size), [area])
    if (place.wide, place.high) != size:  # the rest is for the frame, most of it above for its title
        spare = area[2] - place.wide, area[3] - place.high
        window.setGeometry(area[0] + spare[0] // 2, area[1] + spare[1] * 3 // 4, place.wide, place.high)


def free_areas() -> list[Area]:
    """Return the screens' free areas, the main screen first."""
    from PySide6.QtGui import QGuiApplication

    main = QGuiApplication.primaryScreen()
    screens = sorted(QGuiApplication.screens(), key=lambda screen: screen is not main)
    return [_area(screen.availableGeometry()) for screen in screens]


def _area(rect: QRect) -> Area:
    return rect.x(), rect.y(), rect.width(), rect.height()
