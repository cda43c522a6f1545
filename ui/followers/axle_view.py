"""Where needles must give way to a bush: spring load against the share of idling, the trade's rule marked on it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF
from typing_extensions import override

from loadbench.findings.rulebook import rule_book
from loadbench.units import Kind, from_display, step, to_display
from ui.followers.axle_chart import axle_picture
from ui.followers.axle_place import place_at, shown_of
from ui.followers.axle_words import axle_rows, place_sentence
from ui.followers.needs import need_of
from ui.followers.wording import tr
from ui.motion.stacked import StackedScale
from ui.plots.ink import DASHES, Ink
from ui.spring.chart import Told
from ui.spring.chart_picture import ChartPicture

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.analysis.changeover import ChangeOverShown
    from loadbench.units import Style
    from ui.session import Session
    from ui.state import State

STEPS_UP = 10
"""Steps of a load field that one press of Up or Down goes."""


class PlaneScale(StackedScale):
    """One chart of which places are read, not only angles: the pointer's height counts too."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        self.pointed_up: float | None = None
        super().__init__(name, 1, parent)
        self.level: Any = pg.InfiniteLine(angle=0)
        self.plots[0].addItem(self.level, ignoreBounds=True)
        self.level.hide()

    def show_level(self, up: float | None) -> None:
        """Draw a level line at a height; None hides it."""
        self.level.setVisible(up is not None)
        if up is not None:
            self.level.setValue(up)

    @override
    def restyle(self, ink: Ink) -> None:
        super().restyle(ink)
        self.level.setPen(ink.dashed("quiet", DASHES[1]))

    @override
    def _pointer(self, point: QPointF) -> None:
        box = self.plots[0].getViewBox()
        inside = QRectF(box.sceneBoundingRect()).contains(point)
        self.pointed_up = box.mapSceneToView(point).y() if inside else None
        super()._pointer(point)


class AxleView(ChartPicture):
    """Both axles of this follower over load and idling; a place is read out by pointer, or by all four arrow keys."""

    scale: PlaneScale

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.shown: ChangeOverShown | None = None
        self.load: float | None = None  # that is read out, N; None: the job's own
        super().__init__(session, PlaneScale("axle_picture"), "axle", parent)

    @override
    def build(self, state: State, line: str, member: str | None, style: Style) -> Told:
        analysed = state.analysis.line(line)
        self.shown = shown_of(analysed)
        if self.shown is None:
            need = need_of("axle", analysed)
            return Told(empty="" if need is None else need.sentence)
        book = rule_book(self.session.shop, state.job.rules, state.analysis.stated.style)
        return axle_picture(self.shown, book.limit("bushed-axle", "open_load"), style)

    @override
    def read_at(self, place: float) -> str:
        if self.shown is None:
            return ""
        share = min(max(place / 100, 0.0), float(self.shown.grid.shares[-1]))
        load = self.shown.job_load if self.load is None else self.load
        return place_sentence(place_at(self.shown, load, share), self.shown, self.session.style)

    @override
    def _hovered(self, key: str, place: float) -> None:
        up = self.scale.pointed_up
        self.load = None if key or up is None else self._within(from_display(up, Kind.FORCE, self.session.style))
        super()._hovered(key, place)

    @override
    def _walk(self, steps: int) -> None:
        """Up and Down change the load."""
        if self.shown is None or not self.told.charts:
            return
        by = STEPS_UP * step(Kind.FORCE, self.session.style)
        start = self.shown.job_load if self.load is None else self.load
        self.load = self._within(round(start / by) * by + steps * by)
        self._read("", self._start() if self.across is None else self.across)

    def _within(self, load: float) -> float | None:
        if self.shown is None:
            return None
        loads = self.shown.grid.loads
        return min(max(load, float(loads[0])), float(loads[-1]))

    @override
    def _start(self) -> float:
        """At the job's own share."""
        if self.shown is None or self.shown.job_share is None:
            return super()._start()
        return 100 * self.shown.job_share

    @override
    def _read(self, key: str, cursor: float | None, *, say: bool = True) -> None:
        if cursor is None:
            self.load = None
        load = self.load if self.load is not None or self.shown is None else self.shown.job_load
        up = None if cursor is None or load is None else float(to_display(load, Kind.FORCE, self.session.style))
        self.scale.show_level(up)
        super()._read(key, cursor, say=say)

    @override
    def stride(self) -> float:
        return 1.0

    @override
    def rows(self) -> list[list[str]]:
        return [] if self.shown is None else axle_rows(self.shown, self.session.style)

    @override
    def title(self) -> str:
        return tr("Where needles give way to a bush")
