"""The match: which follower suits, every family against every criterion, and the reason of each cell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QIODevice, QItemSelectionModel, QModelIndex, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFrame, QScrollArea, QSplitter, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.errors import SaveError
from loadbench.findings.match.result import Kit
from loadbench.job.files import write_atomically
from ui.followers.match_cell import CellReason
from ui.followers.match_grid import MatchGrid
from ui.followers.match_model import CRITERIA, KITS, MatchModel
from ui.followers.match_work import Matcher
from ui.followers.wording import kit_word, small, tr
from ui.plots.paper import asked_path
from ui.theme import theme
from ui.widgets.wrapped_label import WrappedLabel
from ui.window_watch import WindowWatch

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtGui import QHideEvent, QShowEvent

    from loadbench.findings.match.result import Match
    from loadbench.units import Style
    from ui.session import Session
    from ui.state import State

GREY_AFTER_MS = 250
"""What is out of date for so long without a new answer is greyed: not at every key."""


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
        self.grid, self.advice, self.cell = MatchGrid(self.model), WrappedLabel(), CellReason()
        self.matcher = Matcher(session, self)
        self._watch = WindowWatch(self, self.matcher.shutdown)
        self._grey = QTimer(self)
        self._grey.setSingleShot(True)
        self._grey.setInterval(GREY_AFTER_MS)
        self._state: State | None = None
        self._lay_out()
        self._connect()

    def _connect(self) -> None:
        self._grey.timeout.connect(lambda: self._show_stale(stale=self.matcher.stale))
        self.matcher.found.connect(self.show_match)
        self.matcher.failed.connect(self._show_failure)
        self.grid.copied.connect(self.copy_table)
        self.grid.turned.connect(self._turn)
        self.grid.selectionModel().currentChanged.connect(self._chosen)
        self.cell.links.wanted.connect(self.field_wanted)
        self.session.styled.connect(self._restyled)
        theme().changed.connect(self._themed)

    def _lay_out(self) -> None:
        """The advice, the grid beneath it, and the reason of the chosen cell."""
        self.advice.setObjectName("match_advice")
        self.advice.setAccessibleName(tr("What suits best"))
        self.advice.setContentsMargins(8, 2, 8, 2)
        bold = self.advice.font()
        bold.setBold(True)
        self.advice.setFont(bold)
        self.scroller = QScrollArea()
        self.scroller.setObjectName("match_scroller")
        self.scroller.setWidget(self.cell)
        self.scroller.setWidgetResizable(True)
        self.scroller.setFrameShape(QFrame.Shape.NoFrame)
        self.scroller.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.scroller.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # the grid's Page Up and Page Down turn it
        self.scroller.setMinimumHeight(72)
        self.splitter = QSplitter(Qt.Orientation.Vertical)
        for place, part in enumerate((self.grid, self.scroller)):
            self.splitter.addWidget(part)
            self.splitter.setCollapsible(place, False)
            self.splitter.setStretchFactor(place, 2 - place)
        self.splitter.setSizes([386, 150])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.advice)
        column.addWidget(self.splitter, 1)

    @property
    def focus_chain(self) -> tuple[QWidget, ...]:
        """Where the focus goes, in this order."""
        return (self.grid,)

    # Showing

    def show_state(self, state: State, _line: str) -> None:
        """Show the match of a state as soon as it is worked out; until then the one before, greyed after a while."""
        self._state = state
        if not self.isVisible():
            return
        self.matcher.want(state)
        if self.matcher.stale and self.model.held is not None and not self._grey.isActive():
            self._grey.start()

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._watch.watch(self.window())
        if self._state is not None:
            self.show_state(self._state, "")

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self._grey.stop()
        self.matcher.rest()

    def show_match(self, match: Match) -> None:
        """Show a match."""
        self._grey.stop()
        self._show_stale(stale=False)
        self.model.show_match(match, self.session.style)
        if not self.grid.currentIndex().isValid():
            column = KITS.index(match.stated) if match.stated in KITS else 0
            self.grid.selectionModel().setCurrentIndex(
                self.model.index(_worst_row(match, KITS[column]), column),
                QItemSelectionModel.SelectionFlag.ClearAndSelect,
            )
        self._tell()

    def _show_stale(self, *, stale: bool) -> None:
        self.model.set_stale(stale)
        self.advice.setEnabled(not stale)
        self.cell.setEnabled(not stale)

    def _show_failure(self, told: str) -> None:
        self._grey.stop()
        self._show_stale(stale=True)
        self.advice.tell(told)

    def _tell(self) -> None:
        match = self.model.held
        if match is None:
            return
        style = self.session.style
        advice = match.family.reason.told(style)
        if match.family.runner_up:
            advice += " " + tr("Next best: {kit}.").format(kit=small(kit_word(Kit(match.family.runner_up))))
        self.advice.tell(advice)
        cell = self.model.cell(self.grid.currentIndex())
        if cell is not None:
            self.cell.show_cell(cell, match, style)

    def _chosen(self, _now: QModelIndex, _before: QModelIndex) -> None:
        self._tell()
        self.scroller.verticalScrollBar().setValue(0)

    def _turn(self, pages: int) -> None:
        """Scroll the reasons."""
        bar = self.scroller.verticalScrollBar()
        bar.setValue(bar.value() + pages * max(bar.pageStep() - 20, 20))

    def _restyled(self, style: Style) -> None:
        if self.model.held is not None:
            self.model.show_match(self.model.held, style)
            self._tell()

    def _themed(self) -> None:
        self._restyled(self.session.style)

    # Taking it away

    def copy_table(self) -> None:
        """The whole table to the clipboard, with tabs; of the job as it is now."""
        self._complete()
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
        self._complete()
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

    def _complete(self) -> None:
        """Be of one mind with the job before anything is taken away."""
        if self._state is not None:
            self.matcher.now(self._state)

    def reset_view(self) -> None:
        """The first cell again."""
        self.grid.setCurrentIndex(self.model.index(0, 0))


def _worst_row(match: Match, kit: Kit) -> int:
    ranks = [-1 if (level := match.cell(kit, criterion).level) is None else level.rank for criterion in CRITERIA]
    return ranks.index(max(ranks))
