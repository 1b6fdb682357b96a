"""The search for a fit: it tries rows, drops, places and hardware, and ranks the ones that clear as a rigger would.

The drillable zones of a few kinds of hardware show where the holes may be. Each offer has passed the whole check, and is so
sure that it may be drilled. Guesses count as measured here: the owner measures them before drilling.
The order of rank is common practice:

- an AV plate that does not suck air;
- standard place before moved;
- advised depth below the top edge before less;
- plain hardware before special;
- AV plate height in the usual range;
- more usable upper holes;
- old holes used again;
- advised clearance before less, then wider washers.

More room than that is no advantage. An offer that costs something and has no advantage over a cheaper one is left out.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field
from dataclasses import replace as changed
from typing import TYPE_CHECKING

from geometry.decide.nearest_miss import nearest_miss
from geometry.decide.offer import Fit, Progress, checked_fit, doubts, plate_overlaps, surely_doubted
from geometry.decide.placing import all_choices
from geometry.decide.search_ground import Aim, Leeway, prepared
from geometry.design.validity import CLOSE
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import ROOM_TO_DRILL, SPREADS
from geometry.solid.faces import faces
from geometry.tables import fasteners

if TYPE_CHECKING:
    from collections.abc import Generator

    from geometry.decide.search_ground import Candidate, Ground
    from geometry.design.design import Design
    from geometry.judge.findings import Finding

ALL = Leeway()
MOST = 12  # fits to offer at most
_TRIES = 150  # full checks at most in a round
_DOUBTS = 40  # places at most in a round whose doubt is calculated: each takes some dozens of checks
_OFFSETS = (6.0, -6.0, 12.0, -12.0, 25.0, -25.0)  # [mm] to try where nothing fits in the middle; our assumption


def search(design: Design, index: int = 0, allowed: Leeway = ALL) -> Generator[Fit | Progress]:
    """Yield fits for one motor, best first, with the progress between them; where none fits, the nearest miss.

    Nothing is yielded for a bracket without bolts. To stop the search, ask for no more.

    Raises:
        Unmeasured: a reading behind the zones is missing.
    """
    if design.mounts[index].bracket.rows is None:
        return
    ground = prepared(design, index, allowed)
    offset = ground.mount.offset or 0.0
    aside = tuple(offset + by for by in _OFFSETS) if allowed.aside else ()
    for places in ((offset,), aside):
        aims = [ground.aim]
        if ground.aim.room > ROOM_TO_DRILL:
            aims.append(ground.aim._replace(room=ROOM_TO_DRILL))  # less than the advised room, and enough to be drilled
        lacking = ground.aim
        doubted: dict[object, tuple[Finding, ...]] = {}
        sure: set[object] = set()
        while aims:
            tried = _Round(changed(ground, aim=aims.pop(0)), _doubted=doubted, _sure=sure)
            yield from tried.offers(places)
            if tried.taken:
                return
            wider = Aim(max(lacking.room, tried.lacking.room), max(lacking.wood, tried.lacking.wood))
            if wider != lacking and not aims:
                aims.append(wider)  # the readings are less sure than usual: once more, with more room
            lacking = wider
    miss = nearest_miss(ground)
    if miss is not None:
        yield miss


def fits(design: Design, index: int = 0, allowed: Leeway = ALL) -> tuple[Fit, ...]:
    """Return all fits of `search`, best first.

    Raises:
        Unmeasured: see `search`.
    """
    return tuple(step for step in search(design, index, allowed) if isinstance(step, Fit))


@dataclass
class _Round:
    """One round of the search.

    Attributes:
        taken: the placements that were offered.
        lacking: the most room that any place would have needed to be sure.
    """

    ground: Ground
    taken: list[Candidate] = field(default_factory=list)
    lacking: Aim = field(default_factory=lambda: Aim(0.0, 0.0))
    _doubted: dict[object, tuple[Finding, ...]] = field(default_factory=dict)
    _sure: set[object] = field(default_factory=set)
    _refused: set[object] = field(default_factory=set)

    def offers(self, places: tuple[float, ...]) -> Generator[Fit | Progress]:
        """Check choices in the order of their rank, and yield those that fit and are better in some way than earlier ones."""
        yield Progress(0, 1)
        heap: list[tuple[tuple[float, ...], int, Candidate, Fit | None]] = []
        for done, total, some in all_choices(self.ground, places):
            heap += [(choice.rank, len(heap) + number, choice, None) for number, choice in enumerate(some)]
            yield Progress(done, total + _TRIES)
        heapq.heapify(heap)
        tried = doubted = 0
        while heap and tried < _TRIES and doubted < _DOUBTS and len(self.taken) < MOST:
            _, number, choice, fit = heapq.heappop(heap)
            if not self._refused.isdisjoint(_causes(choice)) or any(better.makes_needless(choice) for better in self.taken):
                continue
            if fit is None:
                tried += 1
                yield Progress(tried, _TRIES)
                if plate_overlaps(self.ground, choice):
                    self._refused.add(_causes(choice)[1])
                    continue
                fit = checked_fit(self.ground, choice)
                if fit is None or fit.lacks:
                    self._refuse(choice, () if fit is None else fit.lacks)
                    continue
                if choice.advised and fit.room is not None and fit.room < self.ground.aim.room - CLOSE:
                    # It has less room than in its zone (the shape of a backing plate): it ranks later.
                    choice = choice._replace(advised=False)
                    heapq.heappush(heap, (choice.rank, number, choice, fit))
                    continue
            pairs = _causes(choice)[:2]  # no chance rests on the row
            if pairs not in self._doubted:
                unsure = surely_doubted(self.ground, fit)
                if not unsure:
                    doubted += 1
                    unsure = yield from self._doubts(choice, fit, Progress(tried, _TRIES))
                self._doubted[pairs] = unsure
            unsure = self._doubted[pairs]
            if unsure:
                self._refuse(choice, unsure)
                self._need(fit.design, unsure)
            else:
                self.taken.append(choice)
                yield fit

    def _doubts(self, choice: Candidate, fit: Fit, step: Progress) -> Generator[Progress, None, tuple[Finding, ...]]:
        """Return the findings that are not sure enough. One that rests on a pair alone, and was sure with it, is sure again."""
        seen: set[object] = set()

        def asked(finding: Finding) -> bool:
            cause = self._cause(choice, finding)
            known = finding.check, finding.at, cause
            seen.update([] if cause is None else [known])
            return known not in self._sure

        unsure = yield from doubts(self.ground, fit.design, step, asked)
        self._sure |= seen - {(finding.check, finding.at, self._cause(choice, finding)) for finding in unsure}
        return unsure

    def _refuse(self, choice: Candidate, findings: tuple[Finding, ...]) -> None:
        """Try no other choice that shares the cause of a finding."""
        self._refused |= {cause for finding in findings if (cause := self._cause(choice, finding)) is not None}

    def _cause(self, choice: Candidate, finding: Finding) -> object:
        """Return the part of a choice that a finding rests on alone; None where it is more than one part."""
        upper, lower, upper_hole, lower_hole, hook, upper_tools, lower_tools, apart, both = _causes(choice)
        part = finding.at.split(" / ")[1:2]
        if finding.check == "neighbour":
            blocks = [block.name for block in self.ground.design.inside_blocks]
            alone = choice.upper.kit.hardware.backing_plate is None and finding.against in blocks
            return lower if alone else apart if finding.mounts == (self.ground.index,) else None
        if finding.check in ("bearing", "saddle"):
            return hook
        if finding.check in ("spanner", "left_pilot"):  # any of the motor's bolts, or of its holes, may be in the way
            return both
        everywhere = CHECK_KINDS[finding.check].of_hardware
        if finding.check in ("length", "shank"):
            everywhere = faces(self.ground.design.transom).tan_taper == 0.0
        of_hole = finding.check in ("old_hole", "edge", "top_edge")
        if part and part[0].startswith("upper"):
            return upper_tools if everywhere else upper_hole if of_hole else upper
        if part and part[0].startswith("lower"):
            return lower_tools if everywhere else lower_hole if of_hole else lower
        return None

    def _need(self, design: Design, unsure: tuple[Finding, ...]) -> None:
        """Remember the room at which findings would be sure."""
        room, wood = self.lacking
        for finding in unsure:
            needed = SPREADS * (finding.spread or 0.0)
            if finding.unit == "diameters":
                hardware = design.mounts[self.ground.index].upper_hardware
                wood = max(wood, needed * (fasteners.bolt(hardware.bolt).diameter if hardware else 0.0))
            elif finding.unit == "mm":
                room = max(room, needed + (finding.least or 0.0))
        self.lacking = Aim(room, wood)


def _causes(choice: Candidate) -> tuple[object, ...]:
    """Return the parts of a choice that a finding may rest on.

    Each pair's place, that of its holes alone, the hook's place, each pair's hardware, the pairs' distance, and both places.
    """
    upper = choice.upper
    kits = (upper.kit.name, upper.tilt), (choice.kit.name, choice.tilt)
    holes = (upper.kit.hardware.bolt, upper.tilt), (choice.kit.hardware.bolt, choice.tilt)
    places = (upper.at, upper.offset, upper.reused), (round(upper.at - choice.drop, 3), upper.offset, upper.reused)
    return (
        ("upper", places[0], kits[0]),
        ("lower", places[1], kits[1]),
        ("upper hole", places[0], holes[0]),
        ("lower hole", places[1], holes[1]),
        ("hook", round(upper.gap, 3), choice.row, upper.offset),
        ("upper hardware", kits[0]),
        ("lower hardware", kits[1]),
        ("apart", round(choice.drop, 3), kits),
        ("both", places, kits),
    )
