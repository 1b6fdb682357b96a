"""What a part on the face offers beside being dragged: a list at the pointer, or at the part where a key asked for it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from app.tools.corners import inserted, loosened, removed, thing_name
from geometry.design.by_hand import fixed_key

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
    """Return the list of what can be done with a part, None where there is nothing.

    Args:
        at: the place on the face (u, v) [boat mm] that was pressed. figure: takes a typed figure in hand.
        step: makes a step of the present design.
    """
    offers: list[tuple[str, Callable[[], object]]] = []
    if grip.kind in ("outline", "profile"):
        offers = [("Round…", partial(figure, "round")),
                  ("Take the corner out", partial(step, partial(removed, grip=grip, alike=alike)))]  # fmt: skip
    elif grip.kind.endswith(" edge"):
        offers = [("Type its length…", partial(figure, "length")),
                  ("Put a corner in here", partial(step, partial(inserted, grip=grip, at=at, alike=alike)))]  # fmt: skip
    elif grip.kind in _OFF:
        offers = [(f"Take the {grip.name.lower()} off", partial(step, partial(removed, grip=grip, alike=alike)))]
    if fixed_key(design, grip.thing):
        name = thing_name(grip)
        words = f"Count the {name[0].lower()}{name[1:]} as a guess, to move it by hand"
        offers.append((words, partial(step, partial(loosened, grip=grip))))
    if not offers:
        return None
    menu = QMenu(parent)
    for offer, do in offers:
        menu.addAction(offer).triggered.connect(lambda _on=False, do=do: do())
    menu.aboutToHide.connect(menu.deleteLater)
    return menu
