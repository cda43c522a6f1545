"""The Motion page: how fast can it turn? Views of lift, force and speed, live with the edits, their figures beneath."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QHBoxLayout, QWidget
from typing_extensions import override

from loadbench.analysis.motion.sensitivity import mass_parts
from loadbench.job.labels import common_path
from ui.motion.background import BackgroundSweep
from ui.motion.full_bar import FullBar
from ui.motion.full_sweep import FullSweep
from ui.motion.lower_pane import LowerPane
from ui.motion.seen import Seen, speeds_of
from ui.motion.speed_bar import SpeedBar
from ui.motion.sweep_work import SweepWork
from ui.motion.sweeper import Sweeper
from ui.motion.table_room import TableRoom
from ui.motion.views import MotionView, views
from ui.state import Pointing
from ui.view_page import Pane, ViewPage
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


class MotionPage(ViewPage):
    """Shows one view at a time; while it is hidden the lines are swept in the background, for the verdicts' sake."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.kinds: dict[str, MotionView] = {kind.key: kind for kind in views()}
        self.made: dict[str, MotionPicture] = {}
        words = [(kind.key, kind.word, kind.tip) for kind in self.kinds.values()]
        super().__init__(session, "motion", words, parent)
        self.sweeper = Sweeper(session, self)
        self.speed, self.work = SpeedBar(), SweepWork(self.sweeper)
        self.full = FullSweep(session, self)
        self.full_bar = FullBar(self.full)
        self.background = BackgroundSweep(session, self.sweeper, self)
        self.work.stop_from(self)
        self.full_bar.stop_from(self)
        self.beneath = LowerPane(session)
        self.table = self.beneath.figures
        self._angle: float | None = None  # of the cam, deg: where a picture was read out
        self._chose_speed = False  # whether the user moved the slider
        self._grey = QTimer(self)
        self._grey.setSingleShot(True)
        self._grey.setInterval(GREY_AFTER_MS)
        self._watch = WindowWatch(self, self._end)
        self._fill_head()
        self.lay_out(self.beneath, self.head, self.full_bar, lines=2)
        self.table_place = TableRoom(self.splitter, self.beneath)
        self.say()
        self._connect()

    # Making

    def _fill_head(self) -> None:
        end = QWidget()
        end.setFixedSize(0, 0)
        self.words.add(end)  # the last one stands at the right: no word
        self.head = QWidget()
        row = QHBoxLayout(self.head)
        row.setContentsMargins(8, 0, 8, 0)
        row.setSpacing(10)
        row.addWidget(self.speed, 1)
        row.addStretch(0)
        row.addWidget(self.work)
        row.addWidget(self.reset_button)

    def _connect(self) -> None:
        session = self.session
        session.changed.connect(self._edited)
        for signal in (session.styled, session.line_chosen):
            signal.connect(self._follow)
        session.loaded.connect(self._loaded)
        self.sweeper.changed.connect(self._follow)
        self.full.changed.connect(self._follow)
        self.full_bar.field_wanted.connect(self._fill_in)
        self.sweeper.answered.connect(session.take_run)
        self.speed.moved.connect(self._slid)
        self.words.chosen.connect(self._view_chosen)
        self.waiting.wanted.connect(self._fill)
        self.table.field_wanted.connect(self.lead_to_field)
        self.beneath.changed.connect(self._follow)
        self.beneath.said.connect(self.read_out.setText)
        self._grey.timeout.connect(self._show_grey)

    def _end(self) -> None:
        """The window is closed: nothing is left running or open."""
        self.sweeper.shutdown()
        self.full.shutdown()
        self.beneath.shutdown()

    @override
    def say_how_to_read(self) -> None:
        if self.kinds[self.words.key].picture:
            super().say_how_to_read()
        else:
            self.read_out.setText(self.tr("Type a speed and a force; the answers follow."))

    def _loaded(self) -> None:
        """What stands there was read from the job before."""
        self._chose_speed, self._angle = False, None
        self.say_how_to_read()

    # Showing

    def _edited(self, _state: object) -> None:
        """An edit; while a hand drags, the map is drawn once for each sweep and not for each edit as well."""
        kind = self.kinds[self.words.key]
        if kind.of_sweep and self.sweeper.tracking and self.view is self.made.get(kind.key) and self.isVisible():
            if not self._grey.isActive():
                self._grey.start()
            return
        self._follow()

    def _follow(self, _what: object = None) -> None:
        if not self.isVisible():
            self._stale = True
            return
        self._show()

    def _show(self) -> None:
        self._stale = False
        line, kind = self.line(), self.kinds[self.words.key]
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
        if kind.over_angle and self._angle is not None:
            view.stand_at(self._angle)
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
        held, beside = self.sweeper.held, self.beneath.beside_of(line)
        parts = mass_parts(line.figures["referred_mass"]) if self.kinds[self.words.key].wants_inputs else None
        mass = line.value("referred_mass")
        own = Seen(motion=line.motion, speed=self.speed.speed, parts=parts, beside=beside, mass=mass)
        if held is None:
            return own
        seen = replace(
            own, dynamics=held.dynamics, refined=held.refined, stale=self.sweeper.stale, onsets=held.onsets
        )  # fmt: skip
        if not self.kinds[self.words.key].has_full:
            return seen
        return replace(seen, full=self.full.shown, full_stale=self.full.stale)

    def _show_table(self, line: LineAnalysis, kind: MotionView, seen: Seen) -> None:
        dynamic = {} if seen.dynamics is None else seen.dynamics.figures
        self.table.show_motion(line.figures, dynamic, kind.groups, None if seen.full is None else seen.full.figures)
        self.beneath.show_line(line, seen.beside, seen)
        view = f"{kind.key} full" if seen.full is not None else kind.key
        shown = f"{view} {self.beneath.key}"
        if self.table_place.placed != shown:
            self.table_place.placed = shown
            QTimer.singleShot(0, self, lambda: self.table_place.place(view))  # once the page has its size

    def _time_grey(self, view: MotionPicture, seen: Seen) -> None:
        if seen.stale:
            if not self.sweeper.busy:
                self._show_grey()
            elif not self._grey.isActive():
                self._grey.start()
        else:
            self._grey.stop()
            view.set_grey(False)

    def _show_grey(self) -> None:
        view = self.made.get(self.words.key)
        if view is not None and view is self.view:
            view.set_grey(self.sweeper.stale and self.kinds[self.words.key].needs_gear)

    def _show_parts(self, kind: MotionView) -> None:
        empty = bool(self._missing)
        if not empty and kind.key not in self.made:
            self._make(kind)
        shown: QWidget = self.waiting if empty else self.made[kind.key]
        self.show_only(shown)
        self.beneath.show_lift(kind.has_lobes, kind.has_full)
        self.beneath.setVisible(not empty)
        self.reset_button.setVisible(kind.has_speed and not empty)  # elsewhere it would stand alone in its row
        self.read_out.setVisible(not empty)
        self.head.setVisible(not empty)
        self.full_bar.setVisible(kind.has_full and not empty)
        if kind.has_full:
            self.full_bar.follow()
        self.speed.setVisible(kind.has_speed)
        self.sweeper.want_inputs(kind.wants_inputs and not empty)

    def _make(self, kind: MotionView) -> None:
        view = self.made[kind.key] = kind.make(self.session)
        self.stack.addWidget(view)
        QWidget.setTabOrder(self.work.button, view.scale)  # made last, it would come last in the whole window
        view.said.connect(self.read_out.setText)
        if kind.over_angle:
            view.pointed.connect(self._pointed)

    def _pointed(self, angle: float) -> None:
        self._angle = angle

    def _tell_need(self, field: str) -> None:
        sentence = self.tr(
            "How fast it can turn follows from the lift over the cam\u2019s turn, the moving masses and the load.\n"
            "The page waits for: {name}."
        )
        if common_path(field) == FIRST:
            sentence += "\n" + self.tr(
                "A law of motion, or two durations with the greatest lift, do as well: they stand beneath it on the "
                "Cam card. File, Import lift table reads one from a file."
            )
        if note := self.line().motion.note:
            sentence += f"\n{note}"
        self.waiting.tell(sentence, field)

    def _fill(self) -> None:
        """Put the focus into the field that the page waits for."""
        self._fill_in(self._missing)

    def _fill_in(self, field: str) -> None:
        self.session.point_at(Pointing(fields=(field,)))
        self.lead_to_field(field)

    # Choosing

    def _view_chosen(self, _key: str) -> None:
        self.say_how_to_read()
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

    @override
    def open_pane(self) -> Pane | None:
        """The formula's pane, where one is open."""
        return self.table.pane
