"""The menu of a part on the face: at the pointer, or at the part where a key asked for it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from app.tools.corners import inserted, loosened, removed, thing_name
from app.tools.pointer_tool import entry_of
from app.ui.apostrophes import curly
from geometry.edits.moving_by_hand import fixed_key
from geometry.readings.measures import measure, name_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from PySide6.QtWidgets import QWidget

    from app.tools.corners import CornerEdit
    from app.tools.handles import Grip
    from app.tools.tool import Typed
    from geometry.design.design import Design
    from templates_out.drawing.marks import Point

_OFF = ("old hole", "block", "fitting")
_BOLTS = ("upper", "lower")


def part_menu(
    parent: QWidget, design: Design, grip: Grip, at: Point, *, alike: bool | None, figure: Callable[[Typed], object],
    step: Callable[[Callable[[Design], CornerEdit | None]], object], wanted: Callable[[str], object],
    zone: Callable[[], object],
) -> QMenu | None:  # fmt: skip
    """Return the menu of a part, None where there is nothing to do.

    Args:
        at: the pressed place on the face (u, v) [boat mm]. figure: takes a typed figure in hand.
        step: makes a step of the present design. wanted: goes to an entry of the card, by its key.
        zone: shows where a bolt may be, or hides it.
    """
    offers: list[tuple[str, Callable[[], object]]] = [(words, partial(wanted, key)) for words, key in _entries(design, grip)]
    if grip.kind in _BOLTS:
        offers.append(("Show or hide where its holes may be", zone))
    if grip.kind in ("block corner", "fitting corner"):
        offers += [("Remove the corner", partial(step, partial(removed, grip=grip, alike=alike)))]
    elif grip.kind in ("outline", "profile"):
        offers += [("Round…", partial(figure, "round")),
                   ("Remove the corner", partial(step, partial(removed, grip=grip, alike=alike)))]  # fmt: skip
    elif grip.kind.endswith(" edge"):
        offers += [("Type its length…", partial(figure, "length")),
                   ("Add a corner here", partial(step, partial(inserted, grip=grip, at=at, alike=alike)))]  # fmt: skip
    elif grip.kind in _OFF:
        offers += [(f"Remove the {grip.name.lower()}", partial(step, partial(removed, grip=grip, alike=alike)))]
    if fixed_key(design, grip.thing):
        name = thing_name(grip)
        words = f"Count the {name[0].lower()}{name[1:]} as a guess, so that you can drag it"
        offers.append((words, partial(step, partial(loosened, grip=grip))))
    if not offers:
        return None
    menu = QMenu(parent)
    for offer, do in offers:
        menu.addAction(offer).triggered.connect(lambda _on=False, do=do: do())
    menu.aboutToHide.connect(menu.deleteLater)
    return menu


def _entries(design: Design, grip: Grip) -> Iterator[tuple[str, str]]:
    """Yield the entries of a part, as words of the menu and as keys: its place, and the size or the hardware that it has."""
    key = entry_of(grip)
    typed = measure(design, key) if key else None
    if typed is not None and typed.kind != "shape":
        yield f"Go to its entry: {curly(name_of(design, key))}", key
    if grip.kind in _BOLTS:
        yield "Go to its washer, nut and bolt", f"mounts.{grip.index}.{grip.kind}_hardware.washer.outer"
    if grip.kind == "bracket":
        row = f"mounts.{grip.index}.row"
        yield f"Go to its entry: {curly(name_of(design, row))}", row
