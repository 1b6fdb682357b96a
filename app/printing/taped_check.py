"""The taped-up check of a design's template: its table, what was read, and the answer. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from app.ui.terminal import wrapped
from geometry.design.checking_readings import TapedReading, TapedReadings
from geometry.design_text import fingerprint
from geometry.survey.taped_paper import Paper, is_out, judged
from geometry.survey.taped_words import FROM, allowed, figure, verdict_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from app.printing.sheet_set import SheetSet
    from geometry.design.design import Design
    from geometry.judge.findings import Checked
    from templates_out.drawing.printer import Printing


class TapedTable(msgspec.Struct, frozen=True):
    """The table of one template.

    Attributes:
        bars: how long those of sheet A say they are, across and up [mm].
        refused: why nobody may drill by this template, "" where they may.
        pilot: the only hole that is drilled by it, "" where there is no such limit.
    """

    paper: Paper
    bars: tuple[float, float]
    refused: str = ""
    pilot: str = ""

    def readings(self, design: Design) -> dict[str, float]:
        """Return what was read, by row [mm]: nothing where it was read on a print of another design."""
        taped = design.taped
        if taped is None or taped.number != fingerprint(design):
            return {}
        names = {row.name for row in self.paper.rows}
        return {each.row: each.read for each in taped.readings if each.row in names}

    def answer(self, design: Design) -> str:
        """Return the answer, in one to four sentences."""
        if self.refused:
            return self.refused
        verdict = judged(self.paper, self.readings(design))
        said = verdict_words(verdict, self.paper, design.units, self.bars)
        return said.replace("Punch the dots.", f"Punch only the dot of the {self.pilot} hole.") if self.pilot else said

    def may_go_on(self, design: Design) -> bool:
        """Return whether the dots may be punched."""
        return not self.refused and judged(self.paper, self.readings(design)).answer == "go on"

    def text(self, design: Design) -> str:
        """Return the table with the answer above it, for a terminal."""
        read, unit = self.readings(design), design.units
        wide = max(len(row.name) for row in self.paper.rows)
        lines = [wrapped(self.answer(design)), "", wrapped(FROM), ""]
        spans = [allowed(row, unit) for row in self.paper.rows]
        span_wide = max(map(len, spans)) + 2
        lines.append(f"     {'':<{wide}}  {'should be':<13}{'within':<{span_wide}}is")
        for number, (row, span) in enumerate(zip(self.paper.rows, spans, strict=True), start=1):
            seen = read.get(row.name)
            said = "" if seen is None else figure(seen, unit) + ("  off" if is_out(row, seen) else "")
            line = f"{number:>3}  {row.name:<{wide}}  {figure(row.expected, unit):<13}{span:<{span_wide}}{said}"
            lines.append(line.rstrip())
        return "\n".join(lines)


def table_of(checked: Checked, printing: Printing) -> TapedTable:
    """Return the table of a checked design's template on such paper.

    Raises:
        OwnerError: there are no bolts, a place is not measured, or the paper is too small.
    """
    from templates_out.layout.taped_table import taped_paper
    from templates_out.pages.template.template_pages import bar_lengths, template_layout, template_set

    plan, pages = template_set(checked, printing)
    stretch = template_layout(checked, printing).stretch
    return _stamped(checked, taped_paper(checked.design, plan, pages, stretch), bar_lengths(checked, printing))


def table_of_sheets(sheets: SheetSet) -> TapedTable | None:
    """Return the table of the template among the sheets; None where it is not among them."""
    from templates_out.layout.taped_table import taped_paper

    start = 0
    for group in sheets.groups:
        if group.key == "template":
            pages = sheets.pages[start : start + group.count]
            stretch = sheets.correction.on(sheets.plan.orientation)
            paper = taped_paper(sheets.checked.design, sheets.plan, pages, stretch)
            return _stamped(sheets.checked, paper, sheets.bars)
        start += group.count
    return None


def _stamped(checked: Checked, paper: Paper, bars: tuple[float, float]) -> TapedTable:
    """Return a table with what its template may be used for."""
    from templates_out.layout.drilling_permission import stamp

    stamped = stamp(checked)
    if stamped is None:
        return TapedTable(paper, bars)
    if stamped.pilot is None:
        return TapedTable(paper, bars, refused=stamped.warning)
    return TapedTable(paper, bars, pilot=stamped.pilot.hole)


def with_readings(design: Design, paper: Paper, read: Mapping[str, float | None]) -> Design:
    """Return ``design`` with what was read on its taped-up paper, next to what was read on it before. None: not read.

    Raises:
        NonsenseError: a reading that no paper has.
    """
    before = TapedTable(paper, (0.0, 0.0)).readings(design)
    both = {row: length for row, length in {**before, **read}.items() if length is not None}
    readings = tuple(TapedReading(row=row.name, read=both[row.name]) for row in paper.rows if row.name in both)
    return replace(design, taped=TapedReadings(number=fingerprint(design), readings=readings) if readings else None)

