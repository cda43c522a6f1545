"""The search: which wire, coil and turns give the wanted loads; the best ten to sort, copy and take over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QFrame, QHBoxLayout, QProgressBar, QPushButton, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.assembly.spring_wanted import (
    Asked,
    asked_of,
    choices_of,
    coil_changes,
    left_of_old,
    variant_changes,
    ways_of,
)
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rulebook import rule_book
from ui.clipboard_table import text_of
from ui.plain_tip import plain_tip
from ui.spring import search_words as words
from ui.spring.search_choices import SearchChoices
from ui.spring.search_table import SearchTable
from ui.spring.search_wants import SearchWants
from ui.spring.search_work import Searcher, Task
from ui.spring.wording import tr
from ui.variants.edits import MOST
from ui.widgets.flow_bar import FlowBar
from ui.widgets.wrapped_label import WrappedLabel
from ui.window_watch import WindowWatch

if TYPE_CHECKING:
    from PySide6.QtGui import QHideEvent, QShowEvent

    from loadbench.analysis import LineAnalysis
    from ui.session import Session
    from ui.state import State

SHOW_AFTER_MS = 300


class SearchView(QWidget):
    """Follows the line on show; the search runs beside the window."""

    said = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("search_view")
        self.session = session
        self.searcher = Searcher(self)
        self.choices = SearchChoices(session.style)
        self.wants, self.table = SearchWants(), SearchTable()
        self.summary, self.advice = WrappedLabel(), WrappedLabel()
        self.away = WrappedLabel(role="quiet")
        self.take, self.copy_button = QPushButton(tr("Take over")), QPushButton(tr("Copy as text"))
        self.keep = QPushButton(tr("Keep as variant"))
        self.progress, self.cancel, self.work = QProgressBar(), QPushButton(tr("Cancel")), QWidget()
        self._watch = WindowWatch(self, self.searcher.shutdown)
        self._slow = QTimer(self)
        self._line = session.line
        self._asked: Asked | None = None
        self._chosen = False  # whether the user has made a choice; until then the job's own coil makes it
        self._told: object = None
        self._note = ""  # on what was taken over, while that is the last thing done
        self._note_of: object = None
        self._name_parts()
        self._lay_out()
        self._connect()

    # Making

    def _name_parts(self) -> None:
        for part, name in (
            (self.summary, "search_summary"), (self.advice, "search_advice"), (self.away, "search_away"),
            (self.take, "search_take_over"), (self.keep, "search_keep"), (self.copy_button, "search_copy"),
            (self.cancel, "search_cancel"),
        ):  # fmt: skip
            part.setObjectName(name)
        self.copy_button.setToolTip(tr("Copy what is wanted and the whole table as text, for a spreadsheet."))
        self.cancel.setToolTip(tr("Stop the search: Esc."))
        self.progress.setAccessibleName(tr("Progress of the search"))
        for button in (self.take, self.keep, self.copy_button, self.cancel):
            button.setMinimumHeight(26)
        for label in (self.summary, self.advice, self.away):
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._slow.setSingleShot(True)
        self._slow.setInterval(SHOW_AFTER_MS)
        self._slow.timeout.connect(self.work.show)

    def _lay_out(self) -> None:
        work = QHBoxLayout(self.work)
        work.setContentsMargins(0, 0, 0, 0)
        work.addWidget(self.progress, 1)
        work.addWidget(self.cancel)
        buttons = FlowBar()
        buttons.setContentsMargins(8, 0, 8, 4)
        for button in (self.take, self.keep, self.copy_button):
            buttons.add(button)
        inside = QWidget()
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(8, 4, 8, 4)
        rows.setSpacing(5)
        for part in (self.choices, self.wants, self.work, self.summary, self.advice):
            rows.addWidget(part)
        rows.addWidget(self.table, 1)
        rows.addWidget(self.away)
        rows.addStretch(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self._scrolling(inside), 1)
        column.addWidget(buttons)
        self.work.hide()

    def _scrolling(self, inside: QWidget) -> QScrollArea:
        """A low window scrolls what stands above the buttons: sentences are not cut, and the window does not grow."""
        area = self._area = QScrollArea()
        area.setObjectName("search_area")
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setMinimumHeight(120)
        area.setWidget(inside)
        return area

    def _connect(self) -> None:
        self.choices.changed.connect(self._choose)
        self.wants.follows = self.choices.fatigue
        self.wants.field_wanted.connect(self._go_to_field)
        self.wants.rule_wanted.connect(self._open_rule)
        self.searcher.changed.connect(self._draw)
        self.searcher.advanced.connect(self._advance)
        self.cancel.clicked.connect(self.searcher.cancel)
        self.take.clicked.connect(self.take_over)
        self.keep.clicked.connect(self.keep_variant)
        self.table.taken.connect(self.take_over)
        self.copy_button.clicked.connect(self.copy_all)
        self.table.copied.connect(self.copy_chosen)
        self.table.pointed.connect(self._point)
        self.session.loaded.connect(self._forget)

    # Showing

    def show_state(self, state: State, line: str, member: str | None) -> None:
        """Search for a line of a state; one spring in place of the whole nest, whichever of its coils is chosen."""
        del member
        self._line = line
        analysis = state.analysis.line(line)
        if not self._chosen:
            self.choices.put(choices_of(analysis))
        book = rule_book(
            self.session.shop, state.job.rules, state.analysis.stated.style, rows_in_force(analysis.stated)
        )
        asked = self._asked = asked_of(analysis, book, self.choices.choices)
        wanted = asked.wanted
        task = None
        if wanted is not None:
            task = Task(wanted, asked.wire, self.choices.stock_style, self.choices.choices)
        self.searcher.want(task, at_once=self.searcher.answer is None)
        self._draw()
        self._say_row()

    def _choose(self) -> None:
        self._chosen = True
        self.show_state(self.session.state, self._line, None)

    def _forget(self) -> None:
        """Another job: the choices are its own again."""
        self._chosen, self._told, self._note = False, None, ""

    def _analysis(self) -> LineAnalysis:
        return self.session.state.analysis.line(self._line)

    def _draw(self) -> None:
        asked, searcher, style = self._asked, self.searcher, self.session.style
        if asked is None:
            return
        line = self._analysis()
        self.wants.show_asked(asked, self.choices.choices, len(line.coils), style, ways_of(line))
        answer = searcher.answer if asked.wanted is not None else None
        springs = () if answer is None else answer.candidates
        self.table.show_springs(springs, style)
        self.table.setVisible(bool(springs))
        self.summary.tell(self._summary())
        lines = words.nothing_fits(answer, style) if answer is not None and not springs and searcher.current else []
        self.advice.tell("\n".join(lines))
        self.away.tell(words.turned_away(answer) if answer is not None and searcher.current else "")
        self._show_what_can_be_done(line, usable=searcher.current and bool(springs))
        self.copy_button.setEnabled(searcher.current)
        self._show_work()
        # the room for other sentences is made at once: no frame shows them cut
        QCoreApplication.sendEvent(self._area, QEvent(QEvent.Type.LayoutRequest))
        self._say_found()

    def _show_what_can_be_done(self, line: LineAnalysis, *, usable: bool) -> None:
        full = len(self.session.job.variants) >= MOST
        self.take.setEnabled(usable)
        self.take.setToolTip(
            plain_tip(words.take_tip((each.name for each in line.coils if each.path), left_of_old(line)))
        )
        self.keep.setEnabled(usable and not full)
        self.keep.setToolTip(words.keep_tip(MOST, full=full))

    def _summary(self) -> str:
        searcher = self.searcher
        if self._asked is None or self._asked.wanted is None:
            return ""
        if searcher.failure:
            return searcher.failure
        if searcher.stopped:
            return tr("The search was stopped. Change a choice, or the job, to search again.")
        return words.found(searcher.answer) if searcher.current and searcher.answer is not None else tr("Searching …")

    def _show_work(self) -> None:
        if not self.searcher.busy:
            self._slow.stop()
            self.work.hide()
        elif self.work.isHidden() and not self._slow.isActive():
            self.progress.setRange(0, 0)
            self._slow.start()

    def _advance(self, share: float) -> None:
        self.progress.setRange(0, 100)
        self.progress.setValue(round(100 * share))

    def _say_found(self) -> None:
        """Told once for each answer: to screen readers, and the read-out speaks of the chosen spring again."""
        told = (self.searcher.answered, self.session.style) if self.searcher.current else None
        if told is None or told == self._told:
            return
        self._told, self._note = told, ""
        self.session.announce(self._summary())
        self._say_row()

    def _point(self) -> None:
        self._note = ""
        self._say_row()

    def _say_row(self) -> None:
        """The read-out: what was done last, else the chosen spring."""
        spring = self.table.chosen
        if self._note and self._note_of is self.session.job:
            self.said.emit(self._note)
        elif spring is None or not self.searcher.current:
            self.said.emit("")
        else:
            rank = self.table.springs.rank(self.table.currentIndex().row())
            self.said.emit(words.read_out(rank, spring, self.session.style))

    # Doing

    def take_over(self) -> None:
        """Put the chosen spring into the job, as one undo step, and say what of the old one remains."""
        spring, task = self.table.chosen, self.searcher.answered
        if spring is None or task is None or not self.searcher.current or self.session.previewing:
            return
        line, rank = self._analysis(), self.table.springs.rank(self.table.currentIndex().row())
        left, others = left_of_old(line), len(line.coils) - 1
        changes = coil_changes(spring, line, task.choices, self.session.own_field, self.session.style)
        self.session.set_fields(tr("take over: spring {rank} of the search").format(rank=rank), changes)
        self._say_done(words.taken_over(rank, left, others))

    def keep_variant(self) -> None:
        """Keep the chosen spring as a variant, as one undo step; the job's own spring stays."""
        spring, task, job = self.table.chosen, self.searcher.answered, self.session.job
        if (
            spring is None
            or task is None
            or not self.searcher.current
            or self.session.previewing
            or len(job.variants) >= MOST
        ):
            return
        rank, style = self.table.springs.rank(self.table.currentIndex().row()), self.session.style
        name = tr("Found, wire {wire}").format(wire=words.wire(spring.wire_diameter, style).replace("\u2009", " "))
        changes = variant_changes(spring, job, task.choices, style, name)
        self.session.set_fields(tr("keep spring {rank} of the search as a variant").format(rank=rank), changes)
        self._say_done(tr("Spring {rank} is kept as the variant {name}.").format(rank=rank, name=name))

    def _say_done(self, note: str) -> None:
        self._note, self._note_of = note, self.session.job
        self._say_row()
        self.session.announce(note)

    def copy_all(self) -> None:
        """Copy what is wanted, the whole table and the sentences beneath as tab separated text."""
        asked, answer = self._asked, self.searcher.answer
        if asked is None or asked.wanted is None or answer is None or not self.searcher.current:
            return
        model = self.table.springs
        style = self.session.style
        rows = [[words.wants(asked, asked.wanted, self.choices.choices, style)], [words.found(answer)]]
        if answer.candidates:
            rows += [[], *model.cells(list(range(model.rowCount())))]
        else:
            rows += [[line] for line in words.nothing_fits(answer, style)]
        if away := words.turned_away(answer):
            rows += [[], [away]]
        QGuiApplication.clipboard().setText(text_of(rows))
        self.session.announce(tr("Search copied as text."))

    def copy_chosen(self) -> None:
        """Copy the chosen spring with the heads."""
        row = self.table.currentIndex().row()
        if row >= 0:
            QGuiApplication.clipboard().setText(text_of(self.table.springs.cells([row])))
            self.session.announce(tr("Spring copied."))

    def _go_to_field(self, field: str) -> None:
        go = getattr(self.window(), "go_to_field", None)  # a window of its own has none
        if go is not None:
            go(field)

    def _open_rule(self, rule: str) -> None:
        show = getattr(self.window(), "show_rule_book", None)
        if show is not None:
            show(rule)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Cancel) and self.searcher.busy:
            self.searcher.cancel()
        else:
            super().keyPressEvent(event)

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._watch.watch(self.window())

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.searcher.leave()
