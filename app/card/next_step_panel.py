"""The panel at the top of the card: the next step. A reading is asked for with its picture, its field and its button."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QObject, QRect, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from app.card import question_picture
from app.card.answer_field import AnswerField
from app.card.next_step import SHEETS, Next
from app.card.next_step_tracker import NextStepTracker
from app.card.one_press_group import Group, Press, group_of
from app.card.progress_row import WasherRow
from app.card.question import Question, progress, question
from app.entries import typed_entries as typing
from app.entries.choice_lines import ActLine
from app.entries.refusals import plain_refusal
from app.ui.basic_widgets import Button, StateMark, ground, shows_focus, unbroken, words
from app.ui.deciding_modes import with_mode
from app.ui.palette import fill, of
from geometry.asking.drop_steps import TWICE
from geometry.edits.confirm_or_buy import counted_as
from geometry.errors import OwnerError
from geometry.readings.measures import measure

if TYPE_CHECKING:
    from app.card.question_picture import Draw
    from app.document.view_state import ViewState
    from geometry.decide.ladder import Rung
    from geometry.design.design import Design
    from geometry.judge.findings import Checked

HIGH = 94
_EMPTY = "Type what you read. Without a reading, press Only a guess or Can’t reach it."
_EMPTY_AGAIN = "Type what you read. Or press Not now."
_EMPTY_SECOND = "Type what you read. Without a reading, press Can’t reach it."
_EMPTY_PAIR = "Type what you read. Without a reading, press Only a guess. For two values, press They differ."
_NO_GUESS = "Nothing is known here yet. Type your guess first, or press Can’t reach it."


class NextStepPanel(QWidget):
    """The next step: a question with its field, or a button where the program can do it.

    Args:
        picture: the widget of the question's picture; None for none.

    Signals:
        committed: (label, design) of the cure, or of the answer. wanted: key of what has no field here.
        view_changed: a view state with what helps to decide opened, a dimension lit, or a question passed by.
        sheets: the sheets are asked for.
        hinted: the design that the button leads to, while a hand is on it; None once it is not.
        asking: the key of the reading that is asked for now; "" for none.
    """

    committed = Signal(str, object)
    hinted = Signal(object)
    wanted = Signal(str)
    view_changed = Signal(object)
    sheets = Signal()
    asking = Signal(str)

    def __init__(self, picture: QWidget | None = None) -> None:
        super().__init__()
        ground(self, "sheet")
        self.setMinimumHeight(HIGH)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.setAccessibleName("Next")
        self._next = Next("", "")
        self._question: Question | None = None
        self._sentence = ""
        self._group: Group | None = None
        self._alone: set[str] = set()  # names of groups, and keys of readings, that are asked for one by one
        self._other_way = False  # whether the other way to the reading is shown
        self._tracker, self._stale = NextStepTracker(), False
        self._lighting = QTimer(self, interval=0, singleShot=True)  # once every view shows the same boat
        self._lighting.timeout.connect(self._light)
        self.washers = WasherRow()
        self._title = words(size="section", strong=True, wrap=True)
        self._picture = picture
        self._why = words(role="soft", wrap=True)
        self.field, self.enter = AnswerField(), Button("Enter", filled=True, high=36)
        self._problem, self._mark = words(size="small", wrap=True), StateMark(14)
        self._mark.show_state("fouled")
        self.only_guess, self.unreachable = ActLine(), ActLine()
        self.button, self.second = Button("", filled=True, high=36), Button("", high=36)
        for button in (self.button, self.second):
            button.setSizePolicy(QSizePolicy.Policy.MinimumExpanding, QSizePolicy.Policy.Fixed)
        self._lay()
        self._say("")
        self.button.clicked.connect(self._do)
        self.button.installEventFilter(self)
        self.second.clicked.connect(self._do_second)
        self.second.installEventFilter(self)
        self.field.entered.connect(self._submit)
        self.field.focused.connect(self._light)
        self.field.dropped.connect(self._drop)
        self.field.textChanged.connect(self._draw)
        self.enter.clicked.connect(self._submit)
        self.only_guess.clicked.connect(self._guess)
        self.unreachable.clicked.connect(self._pass_by)

    def _lay(self) -> None:
        head, answer, refusal, links = QHBoxLayout(), QHBoxLayout(), QHBoxLayout(), QHBoxLayout()
        head.addWidget(words("Next", "soft", "small", strong=True))
        head.addStretch(1)
        head.addWidget(self.washers)
        answer.setSpacing(8)
        answer.addWidget(self.field, 1)
        answer.addWidget(self.enter)
        answer.addWidget(self.button, 1)
        answer.addWidget(self.second, 1)
        refusal.setSpacing(6)
        refusal.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        refusal.addWidget(self._problem, 1)
        links.setSpacing(16)
        for link in (self.only_guess, self.unreachable):
            link.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
            links.addWidget(link)
        links.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 10, 16, 8)
        column.setSpacing(4)
        column.addLayout(head)
        column.addWidget(self._title)
        if self._picture is not None:
            column.addWidget(self._picture, 1)
        column.addWidget(self._why)
        column.addLayout(answer)
        column.addLayout(refusal)
        column.addLayout(links)

    # What is shown

    def forget(self) -> None:
        """Forget the question of the last boat: another one is opened, and nothing typed belongs to it."""
        self._next, self._question, self._group, self._stale = Next("", ""), None, None, False
        self._alone.clear()
        self.field.clear()
        self._say("")

    def show_checked(self, checked: Checked, view_state: ViewState) -> None:
        """Show what is next for a checked design; what the ladder and the chances say comes later."""
        self._tracker.show_checked(checked, view_state)
        step = self._tracker.step
        known = self._tracker.rungs is not None or checked.verdict != "fouled" or (step is not None and bool(step.key))
        self._show_next(stale=bool(self._next.button) and not known)

    def show_rungs(self, rungs: tuple[Rung, ...]) -> None:
        """Show the best cure, now that the ladder is known."""
        self._tracker.show_rungs(rungs)
        self._show_next()

    def show_doubts(self, checked: Checked) -> None:
        """Show the reading that moves the answer most, now that the chances are known."""
        if self._tracker.show_doubts(checked):
            self._show_next(stale=self._stale)

    def _show_next(self, *, stale: bool = False) -> None:
        """Show what is next; an old cure or guess stays until a better one is known, and a question while it is answered."""
        self._stale, step, checked = stale, self._tracker.step, self._tracker.checked
        if step is None or checked is None or stale:
            return
        answering = bool(self.field.text()) and self._is_open(checked.design)
        aside = self._next.key in self._tracker.view_state.passed
        guesses = {self._next.key} if step.waits else {step.key, self._next.key}
        known = self._tracker.sure and not step.waits
        if not answering and (known or aside or not guesses <= set(checked.guesses)):
            self._show(step, checked.design)
        elif self._question is not None or self._group is not None:
            self._ask(self._next, checked.design)

    def _is_open(self, design: Design) -> bool:
        """Return whether the question that is shown still waits for an answer on this boat."""
        return self._question is not None and self._question_of(self._next, design) == self._question

    def _question_of(self, step: Next, design: Design) -> Question | None:
        """Return the question of a step: of two readings at once, where they were not asked for apart."""
        return question(step.asked_on(design), step.key, alone=step.again or step.key in self._alone)

    def _show(self, step: Next, design: Design) -> None:
        here = (focus := QApplication.focusWidget()) is not None and (focus is self or self.isAncestorOf(focus))
        if step.key != self._next.key:
            self.field.clear()
            self._other_way = False
            self._say("")
        self._next = step
        self.asking.emit(step.key)
        self._ask(step, design)
        leads = step.waits or (bool(step.key) and self._question is None and self._group is None)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus if leads else Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor if leads else Qt.CursorShape.ArrowCursor)
        self.setAccessibleDescription(f"{step.title}. {step.why}")
        if here:
            self.take_focus()
            self._lighting.start()

    def _ask(self, step: Next, design: Design) -> None:
        """Show a step's words, with a field where it is a reading, and with buttons where one press answers it."""
        group = None if step.again or not step.key else group_of(design, self._tracker.view_state.mount, step.key)
        group = self._group = None if group is None or group.name in self._alone else group
        asked = self._question = self._question_of(step, design) if step.key and group is None else None
        for part in (self.field, self.enter):
            part.setVisible(asked is not None)
        self._show_buttons(step, group)
        own = group is not None and group.second is not None
        self.unreachable.setVisible(asked is not None or own or bool(step.leave))
        guessed = asked is not None and asked.guessed and not step.again
        self.only_guess.setVisible(guessed or (group is not None and group.guess))
        done, every = progress(design, step.key, sheets=step.opens == SHEETS)
        self.washers.show_progress(done, every)
        self.setAccessibleName(f"Next, {self.washers.words}")
        titles = group or asked or step
        how = group.how if group is not None else step.why if asked is None else self._how(asked, step)
        self._title.setText(unbroken(f"{titles.title}, again" if asked is not None and step.again else titles.title))
        self._why.setText(unbroken(how))
        self.only_guess.show_words("Only a guess")
        if group is not None:
            self.unreachable.show_words(group.own)
        if step.leave:
            self.unreachable.show_words(step.leave)
        if asked is not None:
            self.unreachable.show_words("Not now" if step.again else "They differ" if asked.also else "Can’t reach it")
            self.field.show_hint("" if step.again else asked.guess, asked.unit)
            self.field.setAccessibleName(asked.title)
            self.enter.setAccessibleName(f"Enter: {asked.title}")
            guess = f" The guess is {asked.guess}." if asked.guess and not step.again else ""
            self.field.setAccessibleDescription(f"{self.washers.words}. {self._why.text()}{guess}")
        self._draw()

    def _show_buttons(self, step: Next, group: Group | None) -> None:
        """Show the buttons of a group, or the one of a move."""
        second = "" if group is None else group.own if group.second is None else group.second.word
        for button, word in ((self.button, step.button if group is None else group.main.word), (self.second, second)):
            button.setText(word)
            button.setVisible(bool(word))
            button.updateGeometry()
        self.button.fill(step.opens != SHEETS)  # the button of the answer line is the filled one
        said = step.why if group is None else group.spoken or group.how
        self.button.setAccessibleName(f"{self.button.text()}: {said}" if self.button.text() else "")
        self.second.setAccessibleName(second)

    def _how(self, asked: Question, step: Next) -> str:
        """Return how to take the reading, and what it decides where the step says more than that."""
        if self._other_way:
            return asked.other_way
        reason = asked.reason if step.why == asked.plain_how else f"{step.why.split('. ')[0].rstrip('.')}."
        return f"{asked.how} {reason}".strip()

    def _draw(self, *_text: object) -> None:
        """Draw the boat with what is typed, as far as that can be taken."""
        if self._picture is None:
            return
        make: Draw | None = None
        checked, mount = self._tracker.checked, self._tracker.view_state.mount
        if self._group is not None:
            make = self._group.draw
        elif checked is not None and self._next.design is not None:
            make = question_picture.of_move(self._next.design, mount)
        elif self._question is not None and checked is not None:
            boat = self._next.asked_on(checked.design)
            make = question_picture.of_question(boat, self._question, mount, self.field.text().strip())
        self._picture.draw(make)  # type: ignore[attr-defined]

    # Hands

    @property
    def asks(self) -> bool:
        """Whether values are asked for, or will be at once: a reading, or several that one press answers."""
        return self._question is not None or self._group is not None or self._next.waits

    @property
    def key(self) -> str:
        """The key of the reading that is asked for by its field, "" for none."""
        return "" if self._question is None else self._question.key

    @property
    def title(self) -> str:
        """The title that is shown."""
        return self._title.text()

    @property
    def sentence(self) -> str:
        """Why a text was not taken, "" where it was."""
        return self._sentence

    def take_focus(self) -> None:
        """Take the focus: the field, else the button, else the panel itself."""
        stop: QWidget = self.field if self._question is not None else self.button if self.button.text() else self
        stop.setFocus(Qt.FocusReason.TabFocusReason)

    def settle(self) -> None:
        """Take a typed answer before the boat is saved or closed, as an entry does."""
        if self._question is not None and self.field.text().strip():
            self._submit()

    def _submit(self) -> None:
        asked, checked, step = self._question, self._tracker.checked, self._next
        if asked is None or checked is None:
            return
        text = self.field.text().strip()
        if not text:
            self._say(_EMPTY_AGAIN if step.again else _EMPTY_PAIR if asked.also else _EMPTY if asked.guessed else _EMPTY_SECOND)
            self.field.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._take(asked, text)

    def _take(self, asked: Question, text: str, *, guess: bool = False) -> None:
        """Make an answer the next step of the history, or say why it can't be."""
        checked = self._tracker.checked
        if checked is None:
            return
        design, again = self._next.asked_on(checked.design), self._next.again
        changed, keys = design, (asked.key, *asked.also)
        try:
            for key in keys:
                changed = typing.typed_again(changed, key, text) if again else typing.typed(changed, key, text)
                row = measure(changed, key)
                if guess and row is not None:
                    changed = counted_as(changed, row, "guess")
        except OwnerError as sentence:
            self._say(plain_refusal(sentence))
            self.field.setFocus(Qt.FocusReason.OtherFocusReason)
            self.field.selectAll()
            return
        self._say("")
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)  # what comes next gets the focus from here
        self.field.clear()
        if again or guess:
            self._set_aside(*keys, times=1)
        label = typing.label(changed, asked.key, design)
        if asked.also:
            label = f"{asked.title} to {typing.shown_figure(changed, asked.key)}"
        self.committed.emit(label, changed)

    def _guess(self) -> None:
        """Leave the value a guess: the one that is typed, else the present one; of a group all of them."""
        if self._group is not None:
            self._set_aside(*self._group.keys)
            return
        asked, checked = self._question, self._tracker.checked
        if asked is None or checked is None:
            return
        text = self.field.text().strip()
        if text:
            self._take(asked, text, guess=True)
        elif not asked.guess:
            self._say(_NO_GUESS)
            self.field.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self._set_aside(asked.key, *asked.also)

    def _pass_by(self) -> None:
        """Show the other way to the reading, where there is one that was not shown yet; else go on."""
        asked = self._question
        if self._group is not None:
            self._take_own(self._group)
        if asked is None:
            if self._next.leaves:
                self._set_aside(self._next.leaves)
            return
        if asked.also and self._tracker.checked is not None:
            self._alone.update((asked.key, *asked.also))
            self._show(self._next, self._tracker.checked.design)
            self.take_focus()
            return
        if asked.other_way and not self._other_way and not self._next.again:
            self._other_way = True
            self._why.setText(unbroken(asked.other_way))
            self.field.setAccessibleDescription(f"{self.washers.words}. {asked.other_way}")
            self.field.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._set_aside(asked.key)

    def _take_own(self, group: Group) -> None:
        """Ask for the values of a group one by one, or go to where they are chosen or drawn."""
        if group.goes:
            self.wanted.emit(group.goes)
        elif self._tracker.checked is not None:
            self._alone.add(group.name)
            self._show(self._next, self._tracker.checked.design)
            self.take_focus()

    def _set_aside(self, *keys: str, times: int = TWICE) -> None:
        """Ask for something else before these readings are asked for again.

        Args:
            times: so often they then count as taken once more; by default they are not asked for once more at all.
        """
        self._stay()
        self.field.clear()
        view_state = self._tracker.view_state
        if self._next.again:
            again = (*view_state.again, *(key for key in keys for _ in range(times)))
            self.view_changed.emit(replace(view_state, again=again, lit=""))
        else:
            passed = (*(old for old in view_state.passed if old not in keys), *keys)
            self.view_changed.emit(replace(view_state, passed=passed, lit=""))

    def _drop(self) -> None:
        self._say("")

    def _stay(self) -> None:
        """Keep the focus here while what is shown changes: the next field or button gets it from here."""
        if self._question is not None:
            self.field.setFocus(Qt.FocusReason.OtherFocusReason)

    def _light(self) -> None:
        """Light the dimension in the views while the hand is at its question. A group or a move lights none."""
        view_state, asked, lit = self._tracker.view_state, self._question, ""
        if asked is not None:
            lit = asked.key if self.field.hasFocus() and not self._next.again else view_state.lit
        if lit != view_state.lit:
            self.view_changed.emit(replace(view_state, lit=lit))

    def _say(self, sentence: str) -> None:
        """Show why a text was not taken; "" takes the sentence away."""
        self._sentence = sentence
        self._problem.setText(unbroken(sentence))
        self._problem.setVisible(bool(sentence))
        self._mark.setVisible(bool(sentence))
        if sentence:
            self.field.setAccessibleDescription(sentence)

    def _do(self) -> None:
        if self._stale:  # an old cure stays to be read until the new one is known, but does nothing
            return
        if self._group is not None:
            self._commit(self._group.main)
        elif self._next.opens == SHEETS:
            self.sheets.emit()
        elif self._next.opens:
            self.view_changed.emit(with_mode(self._tracker.view_state, self._next.opens))
        else:
            self.committed.emit(self._next.label, self._next.design)

    def _do_second(self) -> None:
        if self._group is not None and self._group.second is not None:
            self._commit(self._group.second)
        elif self._group is not None:
            self._take_own(self._group)

    def _commit(self, press: Press) -> None:
        """Make what a button of a group does, as one step."""
        try:
            changed = press.make()
        except OwnerError as sentence:
            self._say(plain_refusal(sentence))
        else:
            self.committed.emit(press.label, changed)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        """Show where the cure leads, while pointer or focus is on its button. A double click is one press."""
        if event.type() == QEvent.Type.MouseButtonDblClick and watched in (self.button, self.second):
            return True
        if watched is self.button:
            if event.type() in (QEvent.Type.Enter, QEvent.Type.FocusIn):
                self.hinted.emit(None if self._stale or self._group is not None else self._next.design)
            elif event.type() in (QEvent.Type.Leave, QEvent.Type.FocusOut, QEvent.Type.Hide):
                self.hinted.emit(None)
        return super().eventFilter(watched, event)

    def mousePressEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 (Qt's name)
        """Go to the field, or to what has none here."""
        self._go()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 (Qt's name)
        """Enter goes to what has no field here."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._go()
        else:
            super().keyPressEvent(event)

    def _go(self) -> None:
        if self._question is not None:
            self.field.setFocus(Qt.FocusReason.MouseFocusReason)
        elif self._next.key and self._group is None:
            self.wanted.emit(self._next.key)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 (Qt's name)
        """Draw the bar at its left."""
        super().paintEvent(event)
        colours, painter = of(self), QPainter(self)
        fill(painter, QRect(0, 0, 4, self.height()), colours["ink"])
        if shows_focus(self):
            painter.setPen(QPen(colours["new"], 2))
            painter.drawRect(self.rect().adjusted(5, 1, -1, -1))
