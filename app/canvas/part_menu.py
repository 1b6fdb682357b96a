"""The menu of a part on the face: at the pointer, or at the part where a key asked for it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from app.tools.corners import inserted, loosened, removed, thing_name
from geometry.edits.moving_by_hand import fixed_key

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from app.tools.corners import CornerEdit
    from app.tools.handles import Grip
    from app.tools.tool import Typed
    from geometry.design.design import Design
    from templates_out.drawing.marks import Point

_OFF = ("old hole", "block", "fitting")


def part_menu(
    parent: QWidget, design: Design, grip: Grip, at: Point, *, alike: bool | None, figure: Callable[[Typed], object],
    step: Callable[[Callable[[Design], CornerEdit | None]], object],
) -> QMenu | None:  # fmt: skip
    """Return the menu of a part, None where there is nothing to do.

    Args:
        at: the pressed place on the face (u, v) [boat mm]. figure: takes a typed figure in hand.
        step: makes a step of the present design.
    """
    offers: list[tuple[str, Callable[[], object]]] = []
    if grip.kind in ("block corner", "fitting corner"):
        offers = [("Remove the corner", partial(step, partial(removed, grip=grip, alike=alike)))]
    elif grip.kind in ("outline", "profile"):
        offers = [("Round…", partial(figure, "round")),
                  ("Remove the corner", partial(step, partial(removed, grip=grip, alike=alike)))]  # fmt: skip
    elif grip.kind.endswith(" edge"):
        offers = [("Type its length…", partial(figure, "length")),
                  ("Add a corner here", partial(step, partial(inserted, grip=grip, at=at, alike=alike)))]  # fmt: skip
    elif grip.kind in _OFF:
        offers = [(f"Remove the {grip.name.lower()}", partial(step, partial(removed, grip=grip, alike=alike)))]
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
