"""What is looked at: chosen, lit and in hand. Stands beside the design, and has no history."""

from __future__ import annotations

import msgspec


class Sight(msgspec.Struct, frozen=True):
    """What the person has in hand.

    Attributes:
        mount: index of the motor in hand.
        chosen: the chosen part, by the name its marks carry; "" where nothing is chosen.
        lit: key of the measure whose dimension is lit; "" for none.
        section: the open section of the card, 1 to 8; 0 where all are closed.
        tool: the tool in hand; "" for the bare hand.
    """

    mount: int = 0
    chosen: str = ""
    lit: str = ""
    section: int = 0
    tool: str = ""
