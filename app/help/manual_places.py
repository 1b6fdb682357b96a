"""Finds the place in the manual for the focus: of choices and panels. A check and a measure name their own."""

from __future__ import annotations

from fnmatch import fnmatchcase
from typing import TYPE_CHECKING

from app.canvas.cut_canvas import CutView
from app.canvas.face_canvas import FaceCanvas
from app.canvas.face_head import FaceHead
from app.card.card import Card
from app.card.next_step_panel import NextStepPanel
from app.card.section_head import SectionHead
from app.entries.choice_lines import ActLine, Pick
from app.entries.entry import Entry
from app.findings.finding_head import FindingHead
from app.findings.findings_panel import FindingsPanel
from app.frame.answer_line import AnswerLine
from app.frame.first_hint import Hint
from app.frame.foot_line import FootLine
from app.frame.start_page import StartPage
from app.help.manual_pages import slug
from app.ladder.ladder_strip import LadderStrip
from app.printing.pages_panel import PagesPanel
from app.printing.sheets_card import SheetsCard
from app.printing.taped_strip import TapedStrip
from app.tools.tool import NAMES
from app.ui.tool_button import ToolButton
from geometry.judge.check_kinds import CHECK_KINDS
from geometry.readings.measures import measure

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from app.document.document import Document
    from geometry.design.design import Design

FIRST = "job"

CHOICES: tuple[tuple[str, str], ...] = (
    ("boat.name", "files#a-boat-is-a-file"),
    ("boat.*", "measuring#capacity-plate"),
    ("transom.core*", "measuring#skins-and-core"),
    ("choice.top_cut", "measuring#the-inside-top-edge"),
    ("Inside edge lower by", "measuring#the-inside-top-edge"),
    ("well.well_from", "measuring#the-inside-top-edge"),
    ("choice.well", "measuring#the-well"),
    ("old_holes.*.state", "old-holes#their-state"),
    ("old_holes.*.reuse", "old-holes#using-a-pair-again"),
    ("old_holes.*", "measuring#old-holes"),
    ("pair.*", "old-holes#using-a-pair-again"),
    ("add hole", "old-holes"),
    ("choice.bracket", "placing#the-bracket"),
    ("Gap under bracket hook", "placing#the-gap-under-the-bracket-hook"),
    ("AV plate above bottom", "placing#how-high-the-motor-hangs"),
    ("mounts.*_hardware.plate", "hardware#backing-plate"),
    ("mounts.*_hardware.material", "hardware#backing-plate"),
    ("mounts.*_hardware.spacer", "hardware#backing-plate"),
    ("mounts.*_hardware.flat", "hardware#cut-flat"),
    ("mounts.*_hardware.*washer", "hardware#washers"),
    ("mounts.*_hardware.tool", "hardware#socket-and-wrench"),
    ("mounts.*_hardware.inserted_from", "hardware#bolts-go-in"),
    ("mounts.*_hardware.friction", "hardware#torque"),
    ("mounts.*.slots.*", "measuring#slots"),
    ("mounts.*_hardware.*", "hardware#bolts"),
    ("alike", "hardware"),
    ("twin", "placing#more-than-one-motor"),
    ("kicker", "placing#more-than-one-motor"),
    ("off", "placing#more-than-one-motor"),
    ("usual.*", "sources#change-them"),
    ("view.mount", "placing#more-than-one-motor"),
)
"""A choice, an act or a calculated figure of the card, by its key; the first that fits. A measure names its own place."""

SECTIONS = (
    "measuring#the-transom", "measuring#the-inside-top-edge", "measuring#the-well", "old-holes",
    "measuring#the-motor-and-its-bracket", "placing#what-a-drag-moves", "placing#holes-and-drop", "hardware",
    "sources#change-them",
)  # fmt: skip
"""The card's sections, in their order."""

PARTS: tuple[tuple[str, str], ...] = (
    ("old hole*", "old-holes"),
    ("outline*", "sketching#changing-a-shape"),
    ("profile*", "sketching#changing-a-shape"),
    ("block*", "sketching#changing-a-shape"),
    ("fitting*", "sketching#changing-a-shape"),
    ("saddle*", "placing#holes-and-drop"),
    ("*", "placing#what-a-drag-moves"),
)
"""What is chosen on the face, by the name that its marks carry; the first that fits."""


_OTHER_TOOLS = {"zone": "placing#the-drillable-zone"}
_LATER = {
    "LowEnoughPanel": "placing#will-it-hang-low-enough", "FitPanel": "placing#find-a-fit", "ComparePage": "placing#compare",
    "IsometricCanvas": "placing#isometric-picture",
    "SurveyWindow": "measuring#survey", "TapedWindow": "sheets#after-taping",
}  # fmt: skip
"""Parts that the window makes late, by the name of their class, so that help does not load them."""


def place_for(focus: QWidget | None, document: Document) -> str:
    """Return the place of the manual for a widget: its own, else that of its part of the window."""
    part = focus
    while part is not None:
        if later := _LATER.get(type(part).__name__):
            return later
        for kind, place_of in _KINDS:
            if isinstance(part, kind):
                place = place_of(part, document)
                if place:
                    return place
        part = part.parentWidget()
    return FIRST


def reading_place(design: Design, key: str) -> str:
    """Return the place for something on the card by its key, "" for none."""
    own = measure(design, key)
    if own is not None:
        return own.page or SECTIONS[own.section - 1]
    return _first(CHOICES, key)


def check_place(check: str) -> str:
    """Return the place for a check."""
    return f"findings#{CHECK_KINDS[check].place}"


def _first(table: tuple[tuple[str, str], ...], name: str) -> str:
    return next((place for pattern, place in table if fnmatchcase(name, pattern)), "")


def _of_entry(entry: QWidget, document: Document) -> str:
    return reading_place(document.design, entry.key) if isinstance(entry, Entry) else ""


def _of_pick(pick: QWidget, document: Document) -> str:
    choice = pick.choice if isinstance(pick, Pick) else None
    return "" if choice is None else _first(CHOICES, choice.key) or reading_place(document.design, choice.reading)


def _of_act(line: QWidget, _document: Document) -> str:
    act = line.act if isinstance(line, ActLine) else None
    return "" if act is None else _first(CHOICES, act.key)


def _of_section(head: QWidget, _document: Document) -> str:
    return SECTIONS[head.number - 1] if isinstance(head, SectionHead) else ""


def _of_finding(head: QWidget, _document: Document) -> str:
    return check_place(head.line.first.check) if isinstance(head, FindingHead) else ""


def _of_tool(button: QWidget, _document: Document) -> str:
    if not isinstance(button, ToolButton) or not isinstance(button.parentWidget(), FaceHead):
        return ""
    name = button.text().lower()
    return f"sketching#{slug(name)}" if name in (*NAMES, "both sides alike") else _OTHER_TOOLS.get(name, "")


def _of_face(_face: QWidget, document: Document) -> str:
    view_state = document.view_state
    if view_state.sheets:
        return "sheets"
    if view_state.tool:
        return f"sketching#{slug(view_state.tool)}" if view_state.tool in NAMES else "sketching#changing-a-shape"
    return _first(PARTS, view_state.chosen)


def _always(place: str) -> Callable[[QWidget, Document], str]:
    return lambda _part, _document: place


_KINDS: tuple[tuple[type[QWidget], Callable[[QWidget, Document], str]], ...] = (
    (Entry, _of_entry),
    (Pick, _of_pick),
    (ActLine, _of_act),
    (SectionHead, _of_section),
    (FindingHead, _of_finding),
    (ToolButton, _of_tool),
    (FaceCanvas, _of_face),
    (FaceHead, _always("sketching#the-tools")),
    (NextStepPanel, _always("job#the-questions")),
    (Card, _always("measuring")),
    (CutView, _always("placing#square-or-level")),
    (LadderStrip, _always("placing#the-ladder")),
    (FindingsPanel, _always("findings#the-marks")),
    (AnswerLine, _always("findings#the-answer")),
    (SheetsCard, _always("sheets#which-sheets")),
    (PagesPanel, _always("sheets#print-and-measure-the-bars")),
    (TapedStrip, _always("sheets#join-and-tape")),
    (StartPage, _always("job#from-tape-to-holes")),
    (Hint, _always(FIRST)),
    (FootLine, _always(FIRST)),
)
"""Parts of the window. An inner part wins, since the search begins at the focus."""
