"""The window of the survey: a list of from, to and distance, typed line by line; what it says; and its picture."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QDialog, QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from app.canvas.small_picture import Picture
from app.entries.choice_lines import ActLine
from app.entries.field import Field
from app.entries.refusals import plain_refusal
from app.ui.apostrophes import curly
from app.ui.basic_widgets import Button, ScrollContent, ground, scrolled, unbroken, words
from geometry.errors import OwnerError
from geometry.survey.of_design import FACES, ends_of, surveyed, taken_over, with_distances
from geometry.survey.survey_text import distance
from geometry.survey.survey_words import agreement_word, place_words, survey_sentences
from geometry.units.units import format_length
from templates_out.pictures.survey_picture import survey_picture

if TYPE_CHECKING:
    from app.document.document import Document
    from geometry.design.checking_readings import Face, SurveyDistance
    from geometry.design.design import Design
    from geometry.survey.of_design import Surveyed

_LIST = 620  # px: the list's width, with all of its columns
_HOW = (
    "Measure between holes, corners and your own marks, and to the centreline and the top edge: more than are needed. "
    "Choose or type both names, then the distance. Square to a line is the shortest way to it."
)
_NONE = "No distance yet. Two fix a point. A third one checks it."
_FACES: dict[Face, str] = {"outside": "Outer face", "inside": "Inner face"}


class SurveyWindow(QDialog):
    """The list of distances of one face. The document keeps every line as one step."""

    def __init__(self, document: Document, parent: QWidget) -> None:
        super().__init__(parent)
        ground(self, "card")
        self.setWindowTitle("Survey")
        self._document = document
        self._face: Face = "outside"
        self.face = _box(editable=False)
        self.face.addItems([_FACES[face] for face in FACES])
        self.face.setAccessibleName("Face")
        self.face.currentIndexChanged.connect(self._turn)
        self.said = words(strong=True, wrap=True)
        self.problem = words(role="fouled", wrap=True)
        self.places = words(role="soft", wrap=True)
        self.picture = Picture()
        self.take, self.close_button = Button("Enter these places as readings", high=32), Button("Close", high=32)
        self.take.clicked.connect(self._take_over)
        self.close_button.clicked.connect(self.close)
        self.rows: list[_Row] = []
        self._inner = ScrollContent()
        self._grid = QGridLayout(self._inner)
        self._place()
        document.present_shown.connect(self._show)
        self.resize(1000, 580)
        self._show()

    def _place(self) -> None:
        top = QHBoxLayout()
        top.addWidget(words(_HOW, role="soft", wrap=True), 1)
        top.addWidget(self.face, 0, Qt.AlignmentFlag.AlignTop)
        left, right, whole = QVBoxLayout(), QVBoxLayout(), QHBoxLayout()
        self._grid.setContentsMargins(0, 6, 8, 6)
        self._grid.setColumnStretch(1, 3)
        self._grid.setColumnStretch(2, 3)
        self._grid.setColumnStretch(4, 2)
        area = scrolled(self._inner)
        area.setMinimumWidth(_LIST)
        left.addWidget(area, 1)
        self.picture.setMinimumSize(240, 180)
        for part in (self.said, self.problem, self.picture, self.places):
            right.addWidget(part, 1 if part is self.picture else 0)
        foot = QHBoxLayout()
        foot.addWidget(self.take)
        foot.addStretch(1)
        foot.addWidget(self.close_button)
        right.addLayout(foot)
        whole.addLayout(left, 8)
        whole.addSpacing(12)
        whole.addLayout(right, 5)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 14, 16, 14)
        column.addLayout(top)
        column.addLayout(whole, 1)

    @property
    def _design(self) -> Design:
        return self._document.design

    def _mine(self) -> list[tuple[int, SurveyDistance]]:
        every = self._design.survey.distances if self._design.survey is not None else ()
        return [(number, each) for number, each in enumerate(every) if each.face == self._face]

    def _turn(self, index: int) -> None:
        self._face = FACES[index]
        self._show()

    def _show(self) -> None:
        """Show the design's distances, what they say, and one empty line at the end."""
        mine, unit = self._mine(), self._design.units
        try:
            done = next((each for each in surveyed(self._design) if each.face == self._face), None)
            self._say("")
        except OwnerError as sentence:
            done = None
            self._say(plain_refusal(sentence))
        while len(self.rows) > len(mine) + 1:
            self.rows.pop().remove()
        while len(self.rows) < len(mine) + 1:
            self._add_row()
        names = ends_of(self._design, self._face)
        for place, row in enumerate(self.rows):
            if place < len(mine):
                number, each = mine[place]
                word = agreement_word(done.survey.agreements[place], unit) if done is not None else ""
                wrong = done is not None and place in done.survey.suspects
                row.show_distance(number + 1, each, names, format_length(each.length, unit, denominator=64), word, wrong=wrong)
            else:
                row.show_empty(names, f"{unit}")
        self.said.setText(unbroken(curly("\n".join(survey_sentences(done, unit)))) if done is not None else _NONE)
        self.places.setText("\n".join(_places(done, self._design)) if done is not None else "")
        self.picture.draw(partial(survey_picture, self._design, self._face, done))
        self.take.setEnabled(done is not None and done.survey.agrees)
        self.take.setVisible(self.take.isEnabled())

    def _add_row(self) -> None:
        row = _Row(self._inner, self._grid, len(self.rows))
        row.field.typed.connect(lambda _text, row=row: self._typed(row))
        row.field.gone_on.connect(lambda row=row: self._go_on(row))
        for box in (row.first, row.second):
            box.activated.connect(lambda _index, row=row: self._changed(row))
            line = box.lineEdit()
            if line is not None:
                line.editingFinished.connect(lambda row=row: self._changed(row))
        row.off.clicked.connect(lambda _on=False, row=row: self._remove(row))
        self.rows.append(row)

    def _go_on(self, row: _Row) -> None:
        """After a distance the next line is typed."""
        place = self.rows.index(row)
        if place + 1 < len(self.rows):
            self.rows[place + 1].first.setFocus(Qt.FocusReason.TabFocusReason)

    def _changed(self, row: _Row) -> None:
        if row.shown is None and row.field.pending:
            row.field.commit()
        elif row.shown is not None and row.names() != (row.shown.from_, row.shown.to):
            self._typed(row)

    def _typed(self, row: _Row) -> None:
        """Take a line that is complete; an incomplete one waits."""
        place, mine = self.rows.index(row), self._mine()
        first, second = row.names()
        text = row.field.text() or (format_length(row.shown.length, self._design.units) if row.shown is not None else "")
        if not (first and second and text.strip()):
            row.field.refuse()  # it stays, until both names are there
            return
        try:
            new = distance(self._design, self._face, first, second, text)
            every = list(self._design.survey.distances) if self._design.survey is not None else []
            if place < len(mine):
                every[mine[place][0]] = new
                label = f"Survey: distance {mine[place][0] + 1} changed"
            else:
                every.append(new)
                label = f"Survey: {new.from_} to {new.to}"
            changed = with_distances(self._design, tuple(every))
            surveyed(changed)
        except OwnerError as sentence:
            self._say(plain_refusal(sentence))
            row.field.refuse()
        else:
            if changed != self._design:
                row.typed_in()
                self._document.commit(label, changed)

    def _remove(self, row: _Row) -> None:
        place, mine = self.rows.index(row), self._mine()
        if place < len(mine) and self._design.survey is not None:
            number = mine[place][0]
            rest = tuple(each for index, each in enumerate(self._design.survey.distances) if index != number)
            self._document.commit(f"Survey: distance {number + 1} removed", with_distances(self._design, rest))

    def _take_over(self) -> None:
        try:
            changed = taken_over(self._design)
        except OwnerError as sentence:
            self._say(plain_refusal(sentence))
        else:
            self._document.commit("Places of the survey entered as readings", changed)

    def _say(self, sentence: str) -> None:
        self.problem.setText(curly(sentence))
        self.problem.setVisible(bool(sentence))


class _Row:
    """One line: from, to, distance, how it agrees, and a word that removes it."""

    def __init__(self, parent: QWidget, grid: QGridLayout, line: int) -> None:
        self.shown: SurveyDistance | None = None
        self.number, self.word = words(role="soft"), words(role="soft", wrap=True)
        self.first, self.second, self.field, self.off = _box(), _box(), Field(), ActLine()
        self.off.show_words("Remove")
        self.off.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._parts = (self.number, self.first, self.second, self.field, self.word, self.off)
        for column, part in enumerate(self._parts):
            grid.addWidget(part, line, column, Qt.AlignmentFlag.AlignVCenter)
            part.setParent(parent)
            part.show()
        grid.setRowStretch(line, 0)
        grid.setRowStretch(line + 1, 1)

    def show_distance(
        self, number: int, each: SurveyDistance, names: tuple[str, ...], length: str, word: str, *, wrong: bool
    ) -> None:
        """Show a distance, and how it agrees."""
        self.shown = each
        self._name(str(number))
        for box, name in ((self.first, each.from_), (self.second, each.to)):
            _fill(box, names, name)
        self.field.show_value(length, length)
        self.word.setText(f"✕ {word}" if wrong else word)
        self.off.setVisible(True)

    def show_empty(self, names: tuple[str, ...], unit: str) -> None:
        """Show a line that is still to be typed; a text in it stays."""
        if self.shown is not None:
            _fill(self.first, names, "")
            _fill(self.second, names, "")
        else:
            _fill(self.first, names, self.first.currentText())
            _fill(self.second, names, self.second.currentText())
        self.shown = None
        self._name("new")
        self.field.show_value(unit, "")
        self.word.setText("")
        self.off.setVisible(False)

    def _name(self, number: str) -> None:
        self.number.setText(number)
        for part, what in ((self.first, "from"), (self.second, "to"), (self.field, "length"), (self.off, "remove")):
            part.setAccessibleName(f"Distance {number}, {what}")

    def names(self) -> tuple[str, str]:
        """Return both names, as chosen or typed."""
        return self.first.currentText().strip(), self.second.currentText().strip()

    def typed_in(self) -> None:
        """Begin an empty line with empty names, once this one is taken."""
        if self.shown is None:
            self.first.setCurrentText("")
            self.second.setCurrentText("")

    def remove(self) -> None:
        """Take it off the list."""
        for part in self._parts:
            part.hide()
            part.deleteLater()


def _box(*, editable: bool = True) -> QComboBox:
    box = QComboBox()
    box.setEditable(editable)
    box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
    box.setMinimumWidth(120)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    return box


def _fill(box: QComboBox, names: tuple[str, ...], text: str) -> None:
    """Offer names, with one of them, or an own one, shown."""
    if tuple(box.itemText(k) for k in range(box.count())) != names:
        box.clear()
        box.addItems(names)
        box.setCurrentIndex(-1)
    if box.currentText() != text:
        box.setCurrentText(text)
    line = box.lineEdit()
    if line is not None and not line.hasFocus():
        line.setCursorPosition(0)
        box.setToolTip(text)


def _places(done: Surveyed, design: Design) -> list[str]:
    return [f"{each.name}: {place_words(each, design.units, done.face == 'inside')}" for each in done.survey.placed]
