"""The errors of a printer: the margin that it leaves bare, and how far off the bars of its print are.

A printer is off along its feed and across it, each by its own share. A page turned on its side meets the two the other
way round, so a correction is kept for the paper's sides and turned for each page.
"""

from __future__ import annotations

import datetime
import math

import msgspec
from msgspec.structs import replace

from geometry.errors import OwnerError
from geometry.tables.papers import Paper, paper
from geometry.units.units import Unit, format_length
from templates_out.drawing.fonts import writable
from templates_out.drawing.marks import Point

MARGIN = 6.35  # mm, a quarter inch: what most printers leave; common practice, no source
READ = 0.25  # mm: how exactly a bar is read with a steel rule; common practice, no source
MOST_OFF = 0.03  # a printer further off than this share is not off, but set to scale; our assumption
MUST = 0.005  # what is known to be off by more is not printed uncorrected: 1/16 in over the bolts' spacing; our assumption

WHOLE = Paper("whole", 0.0, None, True, "our own: one sheet as large as the drawing needs, for a cutter or a screen")

Pair = tuple[float, float]
Measured = tuple["float | None", "float | None"]


class Stretch(msgspec.Struct, frozen=True):
    """The factors of a page's drawing, across and up, that make it come out true; and how sure they are, as a share."""

    across: float = 1.0
    up: float = 1.0
    unsure: Pair = (0.0, 0.0)

    def __call__(self, point: Point) -> Point:
        """Return where a point of the face goes on the drawing."""
        return point[0] * self.across, point[1] * self.up

    def length(self, length: float) -> float:
        """Return a radius, drawn round for any two factors."""
        return length * math.sqrt(self.across * self.up)

    @property
    def words(self) -> str:
        """The words of a page about it; nothing where there is none."""
        return f"Corrected for your printer: {self.figures}." if self.figures else ""

    @property
    def figures(self) -> str:
        """Its factors: "across × 1.0070 ± 0.0010, up × 0.9970 ± 0.0017"."""
        both = (("across", self.across, self.unsure[0]), ("up", self.up, self.unsure[1]))
        return ", ".join(f"{word} × {factor:.4f} ± {unsure:.4f}" for word, factor, unsure in both if factor != 1.0)


class Correction(msgspec.Struct, frozen=True):
    """The factors of a printer along the paper's shorter and longer side, and how sure each is, as a share.

    Of a roll, the shorter side is the one across it.

    Attributes:
        read: what the bars along both sides measured when it was found [mm]; None: not measured.
    """

    short: float = 1.0
    long: float = 1.0
    unsure: Pair = (0.0, 0.0)
    read: Measured = (None, None)

    def on(self, orientation: str) -> Stretch:
        """Return what it does to a page: "portrait", "landscape", "roll" or "roll, turned"."""
        if _on_its_side(orientation):
            return Stretch(self.long, self.short, self.unsure[::-1])
        return Stretch(self.short, self.long, self.unsure)

    @property
    def most(self) -> float:
        """How far off the printer is without it, as a share: the worse of the two."""
        return max(abs(1.0 / self.short - 1.0), abs(1.0 / self.long - 1.0))


class Printing(msgspec.Struct, frozen=True):
    """On what sheets are printed, and how.

    Attributes:
        date: printed on every sheet. paper: a name of ``geometry.tables.papers``, or that of ``WHOLE``.
        margin: what the printer leaves bare along each edge [mm].
        turned: "portrait" or "landscape"; None: whichever takes fewer sheets.
        correction: for what the printer is off. printer: the name that it is kept under, "" for none.
        template: how the template is printed, where that is on another paper; None for this one.
    """

    date: datetime.date
    paper: str = "letter"
    margin: float = MARGIN
    turned: str | None = None
    correction: Correction = Correction()
    printer: str = ""
    template: Printing | None = None

    @property
    def if_off(self) -> str:
        """The step for a bar that is off. A corrected print's reading counts only for the printer that it was made for."""
        if self.correction == Correction():
            return "If one is off, type in its length, then print again."
        if self.printer:
            name = writable(self.printer[:40])
            return f"These sheets are corrected. If a bar is off, type in its length for the printer {name}, then print again."
        return "These sheets are corrected. If a bar is off, print the page of bars without a correction. Type in its lengths."


def corrected(
    before: Correction, orientation: str, nominal: Pair, measured: Measured, unit: Unit = "mm"
) -> Correction:
    """Return the correction that a print's bars call for; ``before``, where they are typed once more as they were last time.

    Args:
        before: what that print was corrected by already. orientation: of its sheet A.
        nominal: how long its bars say they are, across and up [mm].
        measured: what they measured [mm]; None: not measured.
        unit: of the words of a refusal.

    Raises:
        OwnerError: a bar, or the printer in all, is off by more than any printer is, both bars are true, or one that is
            needed was not measured.
    """
    last = _turned(before.read, orientation)
    again = [
        new is not None and old is not None and math.isclose(new, old, abs_tol=1e-6)
        for new, old in zip(measured, last, strict=True)
    ]
    if all(length is None or same for length, same in zip(measured, again, strict=True)):
        return before
    read = [
        None if length is None else 0.0 if same else _off(word, true, length, unit)
        for word, true, length, same in zip(("across", "up"), nominal, measured, again, strict=True)
    ]
    for word, other, share, unread in zip(("across", "up"), ("up", "across"), read, read[::-1], strict=True):
        if share is not None and abs(share) > MUST and unread is None:
            raise OwnerError(
                f"The bar {word} is {_percent(abs(share))} too {'long' if share > 0 else 'short'}. "
                f"Measure the bar {other} as well: a printer is seldom off one way only."
            )
    # A correction smaller than a rule can show would be a guess.
    factors = [
        1.0 if share is None or abs(share) * true < READ - 1e-9 else 1.0 / (1.0 + share)
        for share, true in zip(read, nominal, strict=True)
    ]
    if factors == [1.0, 1.0]:
        kept = "no correction is needed" if before == Correction() else "the correction that it has is good"
        exact = bar_exactness(unit)
        raise OwnerError(
            f"That print is true to within {exact}, and a rule shows no more: {kept}. Work by that print."
        )
    stretch = before.on(orientation)
    unsure = tuple(
        old if length is None or same else READ / true
        for old, length, same, true in zip(stretch.unsure, measured, again, nominal, strict=True)
    )
    turned = Correction(stretch.across * factors[0], stretch.up * factors[1], (unsure[0], unsure[1])).on(orientation)
    across, up = (old if new is None else new for new, old in zip(measured, last, strict=True))
    correction = Correction(turned.across, turned.up, turned.unsure, _turned((across, up), orientation))
    if correction.most > MOST_OFF:
        raise OwnerError(
            f"With the {before.on(orientation).figures} that the print had already, the printer is "
            f"{_percent(correction.most)} off, more than {MOST_OFF * 100:.0f} %. Print the page of bars without a correction. "
            "Type in what it measures under another printer's name."
        )
    return correction


def _on_its_side(orientation: str) -> bool:
    return orientation in ("landscape", "roll, turned")


def _turned(pair: Measured, orientation: str) -> Measured:
    """Return what was measured across and up by the paper's shorter and longer side, or the other way round."""
    return pair[::-1] if _on_its_side(orientation) else pair


def bar_exactness(unit: Unit) -> str:
    """Say how exactly the bars are read, as a rule shows it: 0.4 mm over a bar is 0.6 mm over the widest pair of holes."""
    return "1/64 in" if unit == "in" else "0.5 mm"


def _off(word: str, true: float, measured: float, unit: Unit) -> float:
    """Return by what share a bar is too long.

    Raises:
        OwnerError: it is more than any printer is off.
    """
    share = measured / true - 1.0
    if not abs(share) <= MOST_OFF:
        read = format_length(measured, unit, denominator=64) if math.isfinite(measured) else f"{measured:g}"
        long = format_length(true, unit)
        raise OwnerError(
            f"The bar {word} on sheet A is {long} long; {read} is more than {MOST_OFF * 100:.0f} % off. "
            "Measure it again from end tick to end tick, and see that the print was not scaled."
        )
    return share


def refuse_uncorrected(known: Correction, printer: str) -> None:
    """Refuse to print at full scale without a correction that is known to be needed.

    Raises:
        OwnerError: the printer is known to be off by more than half a percent.
    """
    if known.most > MUST:
        wrong = max((known.short, known.long), key=lambda factor: abs(1.0 / factor - 1.0))
        way = "short" if wrong > 1.0 else "long"
        raise OwnerError(
            f"{printer or 'This printer'} is known to print {_percent(known.most)} too {way}, and the "
            f"correction is left out: more than {_percent(MUST)} moves the holes. Take the correction, or another printer."
        )


def paper_of(printing: Printing) -> Paper:
    """Return what is printed on.

    Raises:
        OwnerError: there is no such paper; the message names those that there are.
    """
    return WHOLE if printing.paper == WHOLE.name else paper(printing.paper)


def plain(printing: Printing) -> Printing:
    """Return the same without a correction: as a print is whose bars have not been measured yet."""
    return replace(printing, correction=Correction())


def _percent(share: float) -> str:
    return f"{share * 100:.1f} %"
