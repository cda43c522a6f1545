"""The Motion page: how fast can it turn? Views of lift, force and speed, live with the edits, their figures beneath."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSplitter, QStackedWidget, QToolButton, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.analysis.motion.sensitivity import mass_parts
from ui.icons import icon
from ui.motion.figure_table import FigureTable
from ui.motion.seen import Seen, speeds_of
from ui.motion.speed_bar import SpeedBar
from ui.motion.sweep_work import SweepWork
from ui.motion.sweeper import Sweeper
from ui.motion.table_room import TableRoom
from ui.motion.views import MotionView, views
from ui.state import Pointing
from ui.theme import theme
from ui.trust.word_row import WordRow
from ui.widgets.waiting_page import WaitingPage
from ui.window_watch import WindowWatch

if TYPE_CHECKING:
    from PySide6.QtGui import QHideEvent, QShowEvent

    from loadbench.analysis import LineAnalysis
    from ui.motion.motion_picture import MotionPicture
    from ui.session import Session

GREY_AFTER_MS = 400
"""A picture that is out of date for so long without a new one is greyed: not at every step of a drag."""

FIRST = "cam.profile"
"""What the page waits for where a line does not say."""


class _Views(QStackedWidget):
    """Only the one on show says how much room is needed."""

    @override
    def minimumSizeHint(self) -> QSize:
        page = self.currentWidget()
        return page.minimumSizeHint() if page is not None else QSize()


class MotionPage(QWidget):
    """Shows one view at a time; nothing is worked out while the page is hidden."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("motion_page")
        self.session = session
        self.kinds: dict[str, MotionView] = {kind.key: kind for kind in views()}
        self.made: dict[str, MotionPicture] = {}
        words = [(kind.key, kind.word, kind.tip) for kind in self.kinds.values()]
        self.words = WordRow("motion_view", words, last_right=True)
        self.reset_button, self.read_out = QToolButton(), QLabel()
        self.sweeper = Sweeper(session, self)
        self.speed, self.work = SpeedBar(), SweepWork(self.sweeper)
        self.work.stop_from(self)
        self.waiting = WaitingPage("motion_fill_first")
        self.stack, self.table = _Views(), FigureTable(session)
        self._missing = ""
        self._stale = True
        self._chose_speed = False  # whether the user moved the slider
        self._grey = QTimer(self)
        self._grey.setSingleShot(True)
        self._grey.setInterval(GREY_AFTER_MS)
        self._watch = WindowWatch(self, self.sweeper.shutdown)
        self._lay_out()
        self._say()
        self._connect()

    # Making

    def _lay_out(self) -> None:
        self.splitter = QSplitter(Qt.Orientation.Vertical)
        self.splitter.setObjectName("motion_splitter")
        for place, part in enumerate((self.stack, self.table)):
            self.splitter.addWidget(part)
            self.splitter.setCollapsible(place, False)
            self.splitter.setStretchFactor(place, 1 - place)
        self.table_place = TableRoom(self.splitter, self.table)
        self.stack.addWidget(self.waiting)
        self.read_out.setObjectName("motion_read_out")
        self.read_out.setTextFormat(Qt.TextFormat.PlainText)
        self.read_out.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.read_out.setContentsMargins(8, 0, 8, 2)
        self.read_out.setWordWrap(True)
        self.read_out.setMinimumHeight(2 * self.read_out.fontMetrics().height() + 4)
        self.words.setContentsMargins(8, 4, 8, 0)
        self.reset_button.setObjectName("motion_reset_view")
        self.reset_button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.reset_button.setMinimumSize(24, 24)
        self.words.add(self.reset_button)
        self.head = QWidget()
        row = QHBoxLayout(self.head)
        row.setContentsMargins(8, 0, 8, 0)
        row.setSpacing(10)
        row.addWidget(self.speed, 1)
        row.addWidget(self.work)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.words)
        column.addWidget(self.head)
        column.addWidget(self.splitter, 1)
        column.addWidget(self.read_out)

    def _say(self) -> None:
        self.reset_button.setText(self.tr("Reset view"))
        self.reset_button.setToolTip(self.tr("The whole picture again: Home, or a double click in it."))
        self.read_out.setAccessibleName(self.tr("Read-out"))
        self._say_how_to_read()
        self._say_icon()

    def _say_how_to_read(self) -> None:
        self.read_out.setText(self.tr("Point at the picture, or press the arrow keys in it, to read it."))

    def _say_icon(self) -> None:
        self.reset_button.setIcon(icon("reset-view"))

    def _connect(self) -> None:
        session = self.session
        for signal in (session.changed, session.styled, session.line_chosen):
            signal.connect(self._follow)
        session.loaded.connect(self._loaded)
        self.sweeper.changed.connect(self._follow)
        self.sweeper.answered.connect(session.take_run)
        self.speed.moved.connect(self._slid)
        self.words.chosen.connect(self._view_chosen)
        self.reset_button.clicked.connect(self.reset_view)
        self.waiting.wanted.connect(self._fill)
        self.table.field_wanted.connect(self._go_to_field)
        self._grey.timeout.connect(self._show_grey)
        theme().changed.connect(self._say_icon)

    def _loaded(self) -> None:
        """What stands there was read from the job before."""
        self._chose_speed = False
        self._say_how_to_read()

    # Showing

    @property
    def view(self) -> MotionPicture | None:
        """The view on show; None where the page waits for an entry."""
        shown = self.stack.currentWidget()
        return next((view for view in self.made.values() if view is shown), None)

    def _line(self) -> LineAnalysis:
        return self.session.state.analysis.line(self.session.line)

    def _follow(self, _what: object = None) -> None:
        if not self.isVisible():
            self._stale = True
            return
        self._show()

    def _show(self) -> None:
        self._stale = False
        line, kind = self._line(), self.kinds[self.words.key]
        motion = line.motion
        wanting = motion.dynamic is None if kind.needs_gear else motion.shown is None
        self._missing = next(iter(motion.missing), FIRST) if wanting else ""
        self._show_parts(kind)
        if self._missing:
            self._tell_need(self._missing)
            return
        self._show_speeds(line)
        seen = self._seen(line)
        self._show_table(line, kind, seen)
        view = self.made[kind.key]
        view.show_seen(seen)
        self._time_grey(view, seen)

    def _show_speeds(self, line: LineAnalysis) -> None:
        held = self.sweeper.held
        speeds = speeds_of(line.motion, None if held is None else held.dynamics)
        if not self._chose_speed:
            limit = line.motion.speed_limit
            self.speed.speed = float(speeds[speeds.size // 2]) if limit is None else limit
        same = self.speed.speeds.size == speeds.size and (self.speed.speeds == speeds).all()
        self.speed.show_speeds(self.speed.speeds if same and self._chose_speed else speeds, self.session.style)

    def _seen(self, line: LineAnalysis) -> Seen:
        held = self.sweeper.held
        parts = mass_parts(line.figures["referred_mass"]) if self.kinds[self.words.key].wants_inputs else None
        if held is None:
            return Seen(motion=line.motion, speed=self.speed.speed, parts=parts)
        return Seen(
            motion=line.motion, dynamics=held.dynamics, speed=self.speed.speed, refined=held.refined,
            stale=self.sweeper.stale, parts=parts, onsets=held.onsets,
        )  # fmt: skip

    def _show_table(self, line: LineAnalysis, kind: MotionView, seen: Seen) -> None:
        dynamic = {} if seen.dynamics is None else seen.dynamics.figures
        self.table.show_motion(line.figures, dynamic, kind.groups)
        if self.table_place.placed != kind.key:
            self.table_place.placed = kind.key
            QTimer.singleShot(0, self, lambda: self.table_place.place(self.words.key))  # once the page has its size

    def _time_grey(self, view: MotionPicture, seen: Seen) -> None:
        if seen.stale:
            self._grey.start() if self.sweeper.busy else self._show_grey()
        else:
            self._grey.stop()
            view.set_grey(False)

    def _show_grey(self) -> None:
        view = self.view
        if view is not None:
            view.set_grey(self.sweeper.stale and self.kinds[self.words.key].needs_gear)

    def _show_parts(self, kind: MotionView) -> None:
        empty = bool(self._missing)
        if not empty and kind.key not in self.made:
            self._make(kind)
        shown: QWidget = self.waiting if empty else self.made[kind.key]
        if self.stack.currentWidget() is not shown:
            self.stack.setCurrentWidget(shown)
            self.stack.updateGeometry()
        self.table.setVisible(not empty)
        self.reset_button.setVisible(not empty)
        self.read_out.setVisible(not empty)
        self.head.setVisible(not empty)
        self.speed.setVisible(kind.has_speed)
        self.sweeper.want_inputs(kind.wants_inputs and not empty)

    def _make(self, kind: MotionView) -> None:
        view = self.made[kind.key] = kind.make(self.session)
        self.stack.addWidget(view)
        QWidget.setTabOrder(self.work.button, view.scale)  # made last, it would come last in the whole window
        view.said.connect(self.read_out.setText)

    def _tell_need(self, field: str) -> None:
        sentence = self.tr(
            "How fast it can turn follows from the lift over the cam\u2019s turn, the moving masses and the load.\n"
            "The page waits for: {name}."
        )
        self.waiting.tell(sentence, field)

    def _fill(self) -> None:
        """Put the focus into the field that the page waits for."""
        self.session.point_at(Pointing(fields=(self._missing,)))
        self._go_to_field(self._missing)

    def _go_to_field(self, field: str) -> None:
        go = getattr(self.window(), "go_to_field", None)  # a window of its own has none
        if go is not None:
            go(field)

    # Choosing

    def _view_chosen(self, _key: str) -> None:
        self._say_how_to_read()
        self._follow()

    def _slid(self, _speed: float) -> None:
        self._chose_speed = True
        self._follow()

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._watch.watch(self.window())
        self.table_place.recall()
        if self._stale:
            self._show()
        self.sweeper.set_live(True)

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.sweeper.set_live(False)
        self._grey.stop()
        if self.table.pane is not None:
            self.table.pane.close()

    @override
    def minimumSizeHint(self) -> QSize:
        """For the width of now: Qt would reckon with the tools wrapped as in the narrowest page."""
        least, layout = super().minimumSizeHint(), self.layout()
        height = least.height() if layout is None else layout.minimumHeightForWidth(max(self.width(), least.width()))
        return QSize(least.width(), height)

    # What the commands of the window ask of the page

    def _shown(self) -> MotionPicture | None:
        if self.view is None:
            self.session.announce(self.tr("There is no picture on show."))
        return self.view

    def reset_view(self) -> None:
        """The whole picture again."""
        if (view := self._shown()) is not None:
            view.reset_view()

    def copy(self) -> None:
        """Copy the read-out as text."""
        QGuiApplication.clipboard().setText(self.read_out.text())
        self.session.announce(self.tr("Read-out copied."))

    def copy_picture(self) -> None:
        """Copy the picture on show."""
        if (view := self._shown()) is not None:
            view.copy_picture()

    def save_picture(self) -> None:
        """Ask where, and save the picture on show or the data behind it."""
        if (view := self._shown()) is not None:
            view.save_picture()

    def save_picture_as(self, path: Path) -> None:
        """Save the picture on show in the format of the file's name."""
        if (view := self._shown()) is not None:
            view.save_picture_as(path)
