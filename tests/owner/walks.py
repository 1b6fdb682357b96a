"""The walks of an owner: by the questions of the program, and by hand."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.asking.next_question import STANDARD, Asked, NextQuestion, next_question
from geometry.asking.question_order import LAST, SECOND_WAYS, is_guess
from geometry.decide.cures import cure
from geometry.decide.fit import search
from geometry.decide.ladder import rungs
from geometry.decide.offer import Fit
from geometry.design.design import Design
from geometry.doubt.spreads import with_chances_of_room, with_spreads
from geometry.edits.confirm_or_buy import bought, confirmed, is_part, parts, pattern, to_buy_now, to_confirm
from geometry.edits.edits import confirm, enter, enter_value
from geometry.edits.reading_order import FIRST
from geometry.edits.second_blind import disagrees, read_again
from geometry.edits.standard_pattern import with_standard
from geometry.errors import OwnerError
from geometry.judge.check import assembled, check
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.judge.drillable import drillable
from geometry.readings.measures import measure, put_path, without_reading
from geometry.readings.pilots import with_end
from geometry.readings.unlikely import unlikely
from tests.designs import IN, sure
from tests.owner.virtual_owner import FIRST_INCH, PATTERN

if TYPE_CHECKING:
    from geometry.judge.findings import Checked
    from tests.owner.virtual_owner import Owner

_LAID = 3  # times: whoever still sees a ring covered then has no bracket for these holes
MOST = 60  # steps: a walk that is longer never ends


class Walk(msgspec.Struct):
    """How a walk went.

    Attributes:
        design: the boat at its end. ends: "yes", "nothing fits", "another tape" or "stuck".
        asked: the keys of the questions, in order.
        answers: readings typed; of the three distances of a pattern as one. presses: of buttons.
        to_holes: answers and presses until the holes might be drilled. noticed: how the blunder was noticed, "" for not.
        chance: the least chance inside at the end, None for no chance. pilots: how many pilots were drilled.
        unlaid: the boat before its bracket was laid on the template, None where nothing was to be drilled.
        laid: how often it was.
    """

    design: Design
    ends: str = ""
    asked: list[str] = msgspec.field(default_factory=list)
    answers: int = 0
    presses: int = 0
    to_holes: tuple[int, int] | None = None
    noticed: str = ""
    chance: float | None = None
    pilots: int = 0
    unlaid: Design | None = None
    laid: int = 0
    seconds: float = 0.0


def typed(design: Design, key: str, text: str) -> Design:
    """Return ``design`` with a typed answer, as the window takes it."""
    row = sure(measure(design, key))
    if key == "transom.top_cut" and text in ("level", "square"):
        return without_reading(put_path(design, key, text), key)
    return read_again(design, row, text)


class Walker:
    """One owner on the way through the questions."""

    def __init__(self, owner: Owner, *, to_sheets: bool = True) -> None:
        self.owner, self.walk, self.to_sheets = owner, Walk(owner.boat.start), to_sheets
        self.rooms: Checked | None = None  # the findings by which the last second way was asked for
        self.again: tuple[str, ...] = ()
        self.passed: tuple[str, ...] = ()
        self.before_thin: tuple[int, int] | None = None  # answers and presses, where only the thickness was read since

    @property
    def design(self) -> Design:
        """The boat as it is known now."""
        return self.walk.design

    @design.setter
    def design(self, design: Design) -> None:
        self.walk.design = design

    def asked(self, *, ladder: bool = False) -> Asked:
        """Return what was asked by now, with the ladder where it is wanted."""
        return Asked(0, tuple(rungs(self.design, 0)) if ladder else None, self.again, self.passed)

    def read(self, key: str, *, again: bool = False) -> None:
        """Answer one question with a reading; one that is refused is read again."""
        self.walk.answers += 1
        if again:
            self.again = (*self.again, key)
        for _ in range(5):
            text = self.owner.text(self.design, key)
            try:
                self.design = typed(self.design, key, text) if again else first(self.design, key, text)
            except OwnerError:
                self.notice("refused", key)
            else:
                return
        self.passed = (*self.passed, key)  # such as a thickness that its skins do not allow

    def notice(self, how: str, *keys: str) -> None:
        """Keep how the blunder was noticed first. Of a wrong tape, a reading that looks wrong is read with the same tape."""
        if self.owner.blunder == FIRST_INCH and not any(each.tape for each in unlikely(self.design)):
            return
        if self.owner.blundered and not self.walk.noticed and any(key in keys for key in self.owner.at):
            self.walk.noticed = how

    def press(self, design: Design) -> None:
        """Press a button that makes an edit."""
        self.walk.presses += 1
        self.design = design

    def group(self, key: str) -> bool:
        """Answer a group with one press, where a key is asked for with one; return whether it was."""
        design, row = self.design, sure(measure(self.design, key))
        three = to_confirm(design, pattern(design, 0))
        if key in {each.key for each in three} and len(three) > 1:
            if self.owner.matches(design):
                self.press(confirmed(design, three))
            else:
                self.walk.presses += 1
                for each in three:
                    self.read(each.key)
            return True
        if is_part(row):
            every = (*parts(design, 0, "lower"), *parts(design, 0, "upper"))
            self.press(bought(design, to_buy_now(design, every)))
            return True
        if row.kind == "shape":
            self.press(confirm(design, key))
            return True
        return False

    def fit(self) -> bool:
        """Take the first fit of the search; return whether there is one."""
        fit = next((step for step in search(self.design, 0) if isinstance(step, Fit)), None)
        self.walk.presses += 2  # the search, and its first line
        if fit is not None and fit.fits:
            self.design = fit.design
        return fit is not None and fit.fits

    def look(self, checked: Checked) -> None:
        """Look whether the holes may be drilled by now, and whether a finding names the blunder."""
        for finding in checked.findings:
            if finding.check == "reading":
                self.notice("contradicted" if finding.state == "unknown" else "unlikely", *finding.rests)
        self.notice("read again", *(key for key in self.design.readings if disagrees(self.design, key)))
        if checked.sure:
            counted = (each for each in checked.findings if CHECK_KINDS[each.check].by_chance and each.state != "note")
            self.walk.chance = min((each.chance for each in counted if each.chance is not None), default=None)
            if self.walk.to_holes is None and drillable(checked).answer != "no":
                self.walk.to_holes = self.before_thin or (self.walk.answers, self.walk.presses)


def first(design: Design, key: str, text: str) -> Design:
    """Return ``design`` with a first reading."""
    row = sure(measure(design, key))
    if key == "transom.top_cut" and text in ("level", "square"):
        return without_reading(put_path(design, key, text), key)
    return enter(design, row, text)


def ours(owner: Owner, *, to_sheets: bool = True) -> Walk:
    """Walk by the questions of `geometry.asking`.

    Args:
        to_sheets: False ends it once the holes may be drilled and the thickness is read: no later question moves a hole.
    """
    walker, start = Walker(owner, to_sheets=to_sheets), time.process_time()
    walk = walker.walk
    for _ in range(MOST):
        checked, wanted = _next(walker)
        walker.look(checked)
        if wanted.key not in LAST:
            walker.before_thin = None
        moves = wanted.step is not None or wanted.key in SECOND_WAYS or wanted.kind == "again"
        if not to_sheets and checked.sure and drillable(checked).answer == "yes" and not _thin(walker.design) and not moves:
            walk.ends = _laid_on(walker)
            if walk.ends:
                break
            continue
        walk.asked.append(f"{wanted.kind} {wanted.key}".strip())
        noticed = owner.blunder == FIRST_INCH and walk.noticed
        walk.ends = "another tape" if noticed else _answer(walker, wanted)  # whoever knows begins again
        if walk.ends == "yes":
            walk.ends = _laid_on(walker)
        if walk.ends:
            break
        if walk.to_holes is not None and wanted.kind == "reading" and wanted.key not in SECOND_WAYS and checked.sure:
            _answer_the_rest(walker, checked)
        elif wanted.key == LAST[0] and (low := _thin(walker.design)):
            _answer(walker, NextQuestion("reading", low))
    walk.ends = walk.ends or "endless"
    walk.seconds = time.process_time() - start
    return walk


def _laid_on(walker: Walker) -> str:
    """Lay the bracket on the template before punching; return how the walk ends, "" where it goes on.

    Where the bracket covers a part of a ring, its holes are measured, and the walk goes on to another template.
    """
    walk, owner = walker.walk, walker.owner
    walk.unlaid = walk.unlaid or walker.design
    walk.laid += 1
    if not owner.sees_a_ring_covered(walker.design):
        return "yes"
    if walk.laid == _LAID:
        return "another bracket"
    walker.notice("laid on", *PATTERN)
    for key in PATTERN:
        walker.read(key)
    walker.passed = (*walker.passed, f"{STANDARD}0")
    walker.again = tuple(key for key in walker.again if ".bracket." not in key)
    return ""


def _thin(design: Design) -> str:
    """Return the key of the first thickness that was not read yet; "" once all were."""
    return next((key for key in LAST[:2] if is_guess(design, key)), "")


def _next(walker: Walker) -> tuple[Checked, NextQuestion]:
    """Return what comes next, by the least that has to be calculated for it.

    The chances of the rooms are enough for all but the last questions. Those of one second way are so for the next one.
    """
    checked = check(walker.design)
    wanted = next_question(checked, walker.asked())
    if wanted.kind != "wait":
        return checked, wanted
    if walker.rooms is not None:
        another = next_question(replace(walker.rooms, design=checked.design), walker.asked())
        if another.key in SECOND_WAYS:
            return checked, another
    if walker.walk.to_holes is None and (walker.to_sheets or _thin(walker.design)):
        rooms = _with_rooms(checked)
        wanted = next_question(rooms, walker.asked())
        walker.rooms = rooms if wanted.key in SECOND_WAYS else None
        if walker.rooms is None:
            wanted = next_question(rooms, walker.asked(ladder=True))
        enough = wanted.step is not None or wanted.key in SECOND_WAYS or wanted.kind == "again"
        if enough:
            return checked, wanted
        if not walker.to_sheets:
            walker.before_thin = walker.before_thin or (walker.walk.answers, walker.walk.presses)
            return checked, NextQuestion("reading", _thin(walker.design))
    checked = with_spreads(checked)
    wanted = next_question(checked, walker.asked(ladder=True))
    walker.rooms = checked if wanted.key in SECOND_WAYS else None
    return checked, wanted


def _with_rooms(checked: Checked) -> Checked:
    """Return the findings with the chances of the rooms only, as if no guess turned another one."""
    rooms = {(each.check, each.at): each for each in with_chances_of_room(checked)}
    others = (replace(each, guesses=()) for each in checked.findings if (each.check, each.at) not in rooms)  # not tried
    return replace(assembled(checked.design, (*rooms.values(), *others)), sure=True)


def _answer(walker: Walker, wanted: NextQuestion) -> str:
    """Do what is asked; return how the walk ends, "" where it goes on."""
    walk = walker.walk
    match wanted.kind:
        case "reading":
            if wanted.to is not None:
                walk.pilots += 1
                walker.design = with_end(walker.design, wanted.key, wanted.to)
            if not walker.group(wanted.key):
                walker.read(wanted.key)
        case "again":
            walker.read(wanted.key, again=True)
        case "standard":
            walker.press(with_standard(walker.design, wanted.mount))
        case "old holes":
            walk.presses += 1
            walker.design = walker.owner.with_old_holes(walker.design)
        case "move" | "lower":
            walker.press(sure(wanted.step).best.design)
        case "search":
            return "" if walker.fit() else "nothing fits"
        case "ease":
            better = cure(check(walker.design), sure(wanted.finding))
            if better is None:
                return "stuck"
            walker.press(better.design)
        case "sheets":
            walk.presses += 1
            return "yes"
        case _:
            return "stuck"
    return ""


def _answer_the_rest(walker: Walker, checked: Checked) -> None:
    """Answer what decides bolts and torque, all that is asked for by the same chances: one of them moves no other."""
    passed = (*walker.passed, *(key.partition(" ")[2] for key in walker.walk.asked[-1:]))
    while (wanted := next_question(checked, Asked(0, None, walker.again, passed))).kind == "reading":
        if wanted.key in passed:
            return
        walker.walk.asked.append(f"reading {wanted.key}")
        _answer(walker, wanted)
        passed = (*passed, wanted.key)


def by_hand(owner: Owner) -> Walk:
    """Walk as by hand: one depth, the trade's steps, no step between the faces, no rounded corner.

    The lower washer's rim stays an eighth of an inch above the floor, as far as one depth shows (common practice).
    """
    walk, design = Walk(owner.boat.start), owner.boat.start
    depth = enter_value(design, sure(measure(design, FIRST[0])), float(owner.text(design, FIRST[0])) * IN)
    floor = sure(sure(measure(depth, FIRST[0])).get(depth))
    walk.answers = 1
    for step in range(5):
        drop = (8.0 - 0.75 * step) * IN
        if 2 * IN + drop + (0.75 + 0.125) * IN <= floor:
            walk.design = replace(design, mounts=(replace(design.mounts[0], drop=drop, row=max(step, 2)),))
            walk.ends = "yes"
            return walk
    walk.ends = "nothing fits"
    return walk
