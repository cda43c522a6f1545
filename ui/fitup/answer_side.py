"""The answer: how the plan stands, its figures, the shims to lay out, and where none holds what binds and frees."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from ui.fitup import wording
from ui.fitup.answer_lines import Line, figures_of, sections_of
from ui.icons import level_pixmap
from ui.labels import label_of
from ui.let_go import let_go
from ui.plain_tip import plain_tip
from ui.theme import theme
from ui.widgets.link import Link
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.findings.finding import Level
    from ui.fitup.planner import Planner
    from ui.fitup.rows import ValveRow

SHOW_AFTER_MS = 300
MOST_NAMED = 4


class AnswerSide(QScrollArea):
    """Follows one planner; draws anew only what changed."""

    lit = Signal(tuple)  # the valves that a line speaks of
    field_wanted = Signal(str)

    def __init__(self, planner: Planner, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.planner = planner
        self.setObjectName("fitup_answer")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setMinimumWidth(220)
        self._level: Level | None = None
        self._drawn: object = None
        self._signs: list[tuple[QLabel, Level]] = []
        self._make()
        self._lay_out()
        planner.advanced.connect(self._advance)
        theme().changed.connect(self._draw)

    def _make(self) -> None:
        self._sign = QLabel()
        self.word = QLabel()
        self.word.setProperty("role", "heading")
        self.word.setObjectName("fitup_standing")
        self.sentence = WrappedLabel(role="quiet")
        self.progress = QProgressBar()
        self.progress.setAccessibleName(self.tr("Progress of the plan"))
        self.cancel = QPushButton(self.tr("Cancel"))
        self.cancel.setObjectName("fitup_cancel")
        self.cancel.setToolTip(self.tr("Stop working out the plan: Esc."))
        self.cancel.setMinimumHeight(26)
        self.cancel.clicked.connect(self.planner.cancel)
        self.work = QWidget()
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.setInterval(SHOW_AFTER_MS)
        self._slow.timeout.connect(self.work.show)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(6)
        head.addWidget(self._sign)
        head.addWidget(self.word, 1)
        work = QHBoxLayout(self.work)
        work.setContentsMargins(0, 2, 0, 2)
        work.addWidget(self.progress, 1)
        work.addWidget(self.cancel)
        self._figures = QGridLayout()
        self._figures.setContentsMargins(0, 2, 0, 2)
        self._figures.setHorizontalSpacing(10)
        self._figures.setVerticalSpacing(1)
        self._figures.setColumnStretch(1, 1)
        self._sections = QVBoxLayout()
        self._sections.setSpacing(2)
        inside = QWidget()
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(6, 0, 4, 4)
        rows.setSpacing(3)
        rows.addLayout(head)
        rows.addWidget(self.sentence)
        rows.addWidget(self.work)
        rows.addLayout(self._figures)
        rows.addLayout(self._sections)
        rows.addStretch(1)
        self.setWidget(inside)
        self.work.hide()

    # Showing

    def show_answer(self, rows: tuple[ValveRow, ...]) -> None:
        """Show what the planner holds."""
        planner, session = self.planner, self.planner.session
        self._level, word = wording.standing_of(planner)
        self.word.setText(word)
        self._sign.setAccessibleName(str(self._level))
        self.sentence.tell(self._more())
        self._show_work()
        figures = figures_of(planner.answer, rows, session.style)
        sections = sections_of(planner.answer, session.job, session.style)
        content = (figures, sections, planner.stale)
        if content != self._drawn:
            self._drawn = content
            self._show_figures(figures)
            self._show_sections(sections)
        self._draw()

    def _more(self) -> str:
        planner = self.planner
        if planner.failure and not planner.busy:
            return planner.failure
        if planner.stale:
            again = self.tr("The job has changed: a new plan is being worked out.")
            stopped = self.tr("The job has changed since this plan. Find the plan again.")
            return again if planner.busy else stopped
        if planner.answer is None and not planner.busy:
            return self.tr("Find plan works one out.")
        return ""

    def _show_work(self) -> None:
        if not self.planner.busy:
            self._slow.stop()
            self.work.hide()
        elif self.work.isHidden() and not self._slow.isActive():
            self.progress.setRange(0, 0)
            self._slow.start()

    def _advance(self, share: float) -> None:
        self.progress.setRange(0, 100)
        self.progress.setValue(round(100 * share))

    def _show_figures(self, figures: list[tuple[str, str, str]]) -> None:
        _clear(self._figures)
        for place, (label, value, tip) in enumerate(figures):
            name, shown = QLabel(label), QLabel(value)
            name.setProperty("role", "quiet")
            shown.setProperty("role", "quiet" if self.planner.stale else "heading")
            shown.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            for part in (name, shown):
                part.setToolTip(plain_tip(tip))
            shown.setAccessibleName(f"{label}: {value}")
            self._figures.addWidget(name, place, 0)
            self._figures.addWidget(shown, place, 1)

    def _show_sections(self, sections: list[tuple[str, tuple[Line, ...]]]) -> None:
        _clear(self._sections)
        self._signs = []
        for title, lines in sections:
            head = QLabel(title)
            head.setProperty("role", "heading")
            head.setContentsMargins(0, 6, 0, 0)
            self._sections.addWidget(head)
            for line in lines:
                self._sections.addWidget(self._line(line))
        before: QWidget = self.cancel  # what is made late would come last in the focus order
        for link in (each for each in self.findChildren(Link) if not each.isHidden()):
            QWidget.setTabOrder(before, link)
            before = link

    def _line(self, line: Line) -> QWidget:
        row = QWidget()
        cells = QGridLayout(row)
        cells.setContentsMargins(0, 0, 0, 0)
        cells.setHorizontalSpacing(6)
        cells.setVerticalSpacing(0)
        if line.level is not None:
            sign = QLabel()
            sign.setAccessibleName(str(line.level))
            self._signs.append((sign, line.level))
            cells.addWidget(sign, 0, 0, Qt.AlignmentFlag.AlignTop)
        text = WrappedLabel(line.text, "quiet" if self.planner.stale else "")
        cells.addWidget(text, 0, 1)
        cells.setColumnStretch(1, 1)
        link = self._link(line)
        if link is not None:
            cells.addWidget(link, 1, 1)
        return row

    def _link(self, line: Line) -> Link | None:
        if line.valves:
            every = self.tr("Show valve {valves}").format(valves=", ".join(line.valves))
            few = len(line.valves) <= MOST_NAMED
            link = Link(every if few else self.tr("Show these {count} valves").format(count=len(line.valves)), every)
            link.clicked.connect(partial(self.lit.emit, line.valves))
            return link
        if line.field:
            text = self.tr("Go to {field}").format(field=_small(label_of(line.field)))
            link = Link(text, text)
            link.clicked.connect(partial(self.field_wanted.emit, line.field))
            return link
        return None

    def _draw(self) -> None:
        if self._level is not None:
            self._sign.setPixmap(level_pixmap(self._level, 16))
        for sign, level in self._signs:
            sign.setPixmap(level_pixmap(level, 16))


def _small(label: str) -> str:
    return label[:1].lower() + label[1:]


def _clear(layout: QGridLayout | QVBoxLayout) -> None:
    while (item := layout.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            let_go(widget)
