"""The match: which follower suits, every family against every criterion, and the reason of each cell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QIODevice, QItemSelectionModel, QModelIndex, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QScrollArea,
    QSplitter,
    QTableView,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from loadbench.errors import SaveError
from loadbench.findings.match.result import Kit
from loadbench.job.files import write_atomically
from ui.followers.match_model import CRITERIA, KITS, MatchModel
from ui.followers.wording import DASH, criterion_word, kit_word, tr, value
from ui.labels import label_of
from ui.level_words import level_word
from ui.plots.ink import font
from ui.plots.paper import asked_path
from ui.theme import theme
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtGui import QShowEvent

    from loadbench.findings.match.result import Cell, Match
    from loadbench.units import Style
    from ui.session import Session
    from ui.state import State

AFTER_MS = 40
"""A key that is still being typed is waited for: the whole match takes about a hundredth of a second."""
MOST_LINKS = 4
HEAD_LINES = 5


class Grid(QTableView):
    """Cells are walked with the arrow keys; Copy takes the whole table."""

    copied = Signal()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        else:
            super().keyPressEvent(event)


class MatchView(QWidget):
    """Works the match out while it is on show and the job has changed."""

    said = Signal(str)
    field_wanted = Signal(str)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.setObjectName("match_view")
        self.model = MatchModel()
        self.model.setParent(self)
        self.grid = Grid()
        self.advice, self.reason, self.more, self.changes = (
            WrappedLabel(), WrappedLabel(), WrappedLabel(role="quiet"), WrappedLabel(role="quiet"),
        )  # fmt: skip
        self.links = [QPushButton() for _ in range(MOST_LINKS)]
        self._state: State | None = None
        self._shown: State | None = None
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(AFTER_MS)
        self._later.timeout.connect(self._work_out)
        self._lay_out()
        self.grid.copied.connect(self.copy_table)
        self.grid.selectionModel().currentChanged.connect(self._chosen)
        session.styled.connect(self._restyled)
        theme().changed.connect(self._themed)

    def _set_up_grid(self) -> None:
        grid = self.grid
        grid.setModel(self.model)
        grid.setObjectName("match_grid")
        grid.setAccessibleName(tr("Match of follower families"))
        grid.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        grid.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        grid.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        grid.setTabKeyNavigation(False)
        grid.setIconSize(QSize(14, 14))
        small = font(0.8)
        for part in (grid, grid.horizontalHeader(), grid.verticalHeader()):
            part.setFont(small)
        grid.setWordWrap(False)
        grid.setTextElideMode(Qt.TextElideMode.ElideNone)
        across, down = grid.horizontalHeader(), grid.verticalHeader()
        across.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        across.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        across.setMinimumHeight(HEAD_LINES * across.fontMetrics().height() + 6)
        across.setMinimumSectionSize(40)
        across.setSectionsClickable(False)
        down.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        down.setMinimumSectionSize(2 * down.fontMetrics().height() - 2)
        down.setSectionsClickable(False)

    def _lay_out(self) -> None:
        self._set_up_grid()
        for name, label in (
            ("advice", self.advice),
            ("reason", self.reason),
            ("more", self.more),
            ("changes", self.changes),
        ):
            label.setObjectName(f"match_{name}")
            label.setContentsMargins(8, 2, 8, 2)
        bold = self.advice.font()
        bold.setBold(True)
        self.advice.setFont(bold)
        inside = QWidget()
        told = QVBoxLayout(inside)
        told.setContentsMargins(0, 4, 0, 4)
        told.setSpacing(2)
        row = QHBoxLayout()
        row.setContentsMargins(8, 0, 8, 0)
        for place, link in enumerate(self.links):
            link.setObjectName(f"match_link_{place}")
            link.setFlat(True)
            link.clicked.connect(self._pressed)
            row.addWidget(link)
        row.addStretch(1)
        told.addWidget(self.reason)
        told.addWidget(self.more)
        told.addLayout(row)
        told.addWidget(self.changes)
        told.addStretch(1)
        self._split(inside)

    def _split(self, inside: QWidget) -> None:
        """The grid above, the reasons beneath, and the advice over both."""
        scroller = QScrollArea()
        scroller.setObjectName("match_scroller")
        scroller.setWidget(inside)
        scroller.setWidgetResizable(True)
        scroller.setFrameShape(QFrame.Shape.NoFrame)
        scroller.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroller.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.splitter = QSplitter(Qt.Orientation.Vertical)
        for place, part in enumerate((self.grid, scroller)):
            self.splitter.addWidget(part)
            self.splitter.setCollapsible(place, False)
            self.splitter.setStretchFactor(place, 2 - place)
        self.splitter.setSizes([400, 130])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.advice)
        column.addWidget(self.splitter, 1)

    # Showing

    def show_state(self, state: State, _line: str) -> None:
        """Show the match of a state; worked out a moment later, so that typing is not waited for."""
        self._state = state
        if self.model.held is None:
            self._work_out()
        elif state is not self._shown:
            self.grid.setEnabled(True)
            self._later.start()

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._state is not None and self._state is not self._shown:
            self._work_out()

    def _work_out(self) -> None:
        from loadbench.findings.match.match import match_of

        state = self._state
        if state is None or state is self._shown:
            return
        self._shown = state
        self.show_match(match_of(state.analysis, self.session.shop))

    def show_match(self, match: Match) -> None:
        """Show a match."""
        self.model.show_match(match, self.session.style)
        if not self.grid.currentIndex().isValid():
            column = KITS.index(match.stated) if match.stated in KITS else 0
            self.grid.selectionModel().setCurrentIndex(
                self.model.index(_worst_row(match, KITS[column]), column),
                QItemSelectionModel.SelectionFlag.ClearAndSelect,
            )
        self._tell()

    def _tell(self) -> None:
        match = self.model.held
        if match is None:
            return
        style = self.session.style
        advice = match.family.reason.told(style)
        if match.family.runner_up:
            advice += " " + tr("Next best: {kit}.").format(kit=_small(kit_word(Kit(match.family.runner_up))))
        self.advice.tell(advice)
        cell = self.model.cell(self.grid.currentIndex())
        if cell is not None:
            self._tell_cell(cell, match, style)

    def _tell_cell(self, cell: Cell, match: Match, style: Style) -> None:
        level = tr("does not concern it") if cell.level is None else level_word(cell.level)
        head = f"{kit_word(cell.kit)}, {_small(criterion_word(cell.criterion))}: {level}. "
        self.reason.tell(head + cell.sentence.told(style))
        lines = []
        if cell.disagree:
            lines.append(tr("The trade\u2019s rule and the physics of these parts disagree."))
        if cell.practice is not None and cell.physics is not None:
            lines.append(tr("Trade: {said}").format(said=cell.practice.told(style)))
            lines.append(tr("Physics: {said}").format(said=cell.physics.told(style)))
        if cell.value is not None and cell.value_kind is not None:
            limit = DASH if cell.limit is None else value(cell.limit, cell.value_kind, style)
            lines.append(tr("Value {value}, limit {limit}.").format(
                value=value(cell.value, cell.value_kind, style), limit=limit))  # fmt: skip
        lines.append(tr("Source: {source}.").format(source=cell.source))
        self.more.tell("\n".join(lines))
        self._show_links(cell)
        changes = match.changes.get(cell.kit, ())
        told = "\n".join(f"\u2022 {each.told(style)}" for each in changes)
        self.changes.tell(tr("For {kit} to suit:").format(kit=_small(kit_word(cell.kit))) + f"\n{told}" if told else "")

    def _show_links(self, cell: Cell) -> None:
        fields = list(dict.fromkeys(cell.missing))[:MOST_LINKS]
        for place, link in enumerate(self.links):
            link.setVisible(place < len(fields))
            if place < len(fields):
                link.setText(tr("State: {field}").format(field=_small(label_of(fields[place]))))
                link.setProperty("field_wanted", fields[place])

    def _pressed(self) -> None:
        field = self.sender().property("field_wanted")
        if isinstance(field, str):
            self.field_wanted.emit(field)

    def _chosen(self, _now: QModelIndex, _before: QModelIndex) -> None:
        self._tell()

    def _restyled(self, style: Style) -> None:
        if self.model.held is not None:
            self.model.show_match(self.model.held, style)
            self._tell()

    def _themed(self) -> None:
        if self.model.held is not None:
            self.model.show_match(self.model.held, self.session.style)

    # Taking it away

    def copy_table(self) -> None:
        """The whole table to the clipboard, with tabs."""
        rows = self.model.as_rows()
        QGuiApplication.clipboard().setText("\n".join("\t".join(row) for row in rows))
        self.session.announce(tr("The match was copied as a table."))

    def copy_picture(self) -> None:
        """The grid as a picture to the clipboard."""
        QGuiApplication.clipboard().setPixmap(self.grid.grab())
        self.session.announce(tr("Picture copied."))

    def save_picture(self) -> None:
        """Ask where, and save the grid as a picture or as a table."""
        path = asked_path(self, tr("Save picture"), tr("PNG (*.png);;CSV, the data behind (*.csv)"))
        if path is not None:
            self.save_picture_as(path)

    def save_picture_as(self, path: Path) -> None:
        """Save in the format of the file's name; a failure is told and leaves the old file."""
        content = self._as_table() if path.suffix.lower() == ".csv" else self._as_picture()
        try:
            write_atomically(path, content)
        except SaveError as error:
            self.session.failed.emit(str(error))
            return
        self.session.announce(tr("Picture saved as {name}.").format(name=path.name))

    def _as_table(self) -> bytes:
        import csv
        import io

        text = io.StringIO()
        csv.writer(text).writerows(self.model.as_rows())
        return text.getvalue().encode()

    def _as_picture(self) -> bytes:
        buffer = QBuffer()
        buffer.open(QIODevice.OpenModeFlag.WriteOnly)
        self.grid.grab().save(buffer, "PNG")
        return bytes(buffer.data().data())

    def reset_view(self) -> None:
        """The first cell again."""
        self.grid.setCurrentIndex(self.model.index(0, 0))


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]


def _worst_row(match: Match, kit: Kit) -> int:
    ranks = [-1 if (level := match.cell(kit, criterion).level) is None else level.rank for criterion in CRITERIA]
    return ranks.index(max(ranks))
