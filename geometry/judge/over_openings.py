"""Check of the washers and backing plates inside next to a hole that is to be drilled for a cable, a hose or a tube [mm]."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.inside_room import joined_by, plate_keys
from geometry.judge.reporter import Outcome, Reporter, bolt_keys, stack_keys
from geometry.judge.wood_around_holes import NEAR
from geometry.solid.openings import openings
from geometry.solid.placed_bolts import plate_ring
from geometry.solid.planes import inside, sides, to_segment

if TYPE_CHECKING:
    from geometry.solid.openings import Opening
    from geometry.solid.placed_bolts import Bolt


def over_openings(report: Reporter) -> None:
    """Add how far the part on the wood inside stays off each opening.

    A washer or backing plate over one has less wood under it, and blocks the way.
    A backing plate counts once, for the bolts that go through it.
    """
    for opening in openings(report.design):
        for bolt in report.bolts:
            if bolt.plate is None:
                at, name, smaller = bolt.at, f"{bolt.name} washer", "washer"
            elif bolt.port:
                at, name, smaller = f"{bolt.mount.name} / {bolt.pair} / plate", f"{bolt.pair} backing plate", "backing plate"
            else:
                continue
            rests = (opening.key, "transom.thickness", *bolt_keys(bolt), *stack_keys(bolt), *plate_keys(report, bolt))
            look = partial(_look, report, bolt, opening, (name, smaller))
            limits = report.design.limits.clearance
            report.add("over_opening", f"{at} / {opening.name}", limits, "mm", rests, (bolt.mount_index,), look)


def _look(report: Reporter, bolt: Bolt, opening: Opening, names: tuple[str, str]) -> Outcome | None:
    room = opening_room(report, bolt, opening)
    if room is None or room >= NEAR * bolt.thread.diameter - CLOSE:
        return None
    cure, there = None, f"the hole to be drilled for {opening.name}"
    if room < report.design.limits.clearance[1] - CLOSE:
        cure = f"Drill that hole elsewhere, move the {bolt.pair} bolts, or use a smaller {names[1]}."
    if room < -CLOSE:
        return Outcome(room, f"The {names[0]} overlaps {there} by {report.overlap(room)}.", cure, against=opening.name)
    return Outcome(room, f"The {names[0]} clears {there} by {report.room(room)}.", cure, against=opening.name)


def opening_room(report: Reporter, bolt: Bolt, opening: Opening) -> float | None:
    """Return how far the part on the wood stays off an opening on the inner face, below 0 where it overlaps; exact to 1e-6.

    An opening is square to the outer face. In a tapered transom it is a little longer inside: less than 1 % up to 8 degrees.
    None where the bolt has no washer.

    Raises:
        Unmeasured: a place, or a size, is not known.
    """
    u, v = opening.at
    at = u, bolt.faces.square_across(v)
    if bolt.plate is not None:
        ring = plate_ring(joined_by(report, bolt, bolt.plate), bolt.plate, 0.0)
        apart = min(to_segment(at, edge) for edge in sides(ring))
        return (-apart if inside(at, ring) else apart) - opening.diameter / 2
    seat = bolt.body("spacer") or bolt.body("washer")
    if seat is None:
        return None
    return seat.shape.gap((bolt.exit.u, bolt.exit.w), (at, at)) - opening.diameter / 2
