"""The views of a picture of charts: their axes, one zoom, and the pointer and keys that read out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QWidget
from typing_extensions import override

from ui.plots.axes import PlainAxis
from ui.spring.chart import Chart
from ui.spring.chart_item import ChartItem

if TYPE_CHECKING:
    from ui.plots.ink import Ink

KEEP = 1.3  # a range this many times what is needed stays as it is: the picture does not breathe at every keystroke
SIDE_BY_SIDE = 1.05  # width over height from which two charts stand beside one another
ALONG = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1, Qt.Key.Key_PageDown: 10, Qt.Key.Key_PageUp: -10}
MARKS = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}

Range = tuple[float, float]


class ChartScale(pg.GraphicsLayoutWidget):  # type: ignore[misc]
    """One or more charts over the same places across. They move only to hold what must be seen, until zoomed."""

    hovered = Signal(str, float)  # key of the mark under the pointer or "", and the place across
    left = Signal()
    walked = Signal(int)  # from mark to mark
    moved = Signal(int)  # steps along the axis
    copied = Signal()

    def __init__(self, name: str, count: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(260, 150)
        # The ground is filled once, by its brush: not by the widgets beneath as well, nor out of a picture of itself.
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setCacheMode(self.CacheModeFlag.CacheNone)
        self.ci.layout.setContentsMargins(2, 4, 6, 0)
        self.ci.layout.setHorizontalSpacing(8)
        self.ci.layout.setVerticalSpacing(4)
        self.axes: list[PlainAxis] = []
        self.items: list[ChartItem] = []
        self.plots = [self._plot() for _ in range(count)]
        self.beside: bool | None = None
        self._arrange()
        for plot in self.plots[1:]:
            plot.setXLink(self.plots[0])
        self.zoomed = False
        self.scene().sigMouseMoved.connect(self._pointer)

    def _plot(self) -> Any:
        axes = {"left": PlainAxis("left"), "bottom": PlainAxis("bottom")}
        self.axes += axes.values()
        plot = pg.PlotItem(axisItems=axes, enableMenu=False)
        plot.hideButtons()
        plot.setMenuEnabled(False)
        plot.ctrlMenu.setParent(self, plot.ctrlMenu.windowFlags())  # never shown, but it would outlive us
        box = plot.getViewBox()
        box.disableAutoRange()
        box.setDefaultPadding(0)
        box.sigRangeChangedManually.connect(self._zoom)
        item = ChartItem()
        plot.addItem(item, ignoreBounds=True)
        self.items.append(item)
        return plot

    def _arrange(self) -> None:
        """Side by side where it is wide, one above the other where it is tall."""
        beside = self.width() > SIDE_BY_SIDE * self.height()
        if beside is self.beside or (self.beside is not None and len(self.plots) == 1):
            return
        if self.beside is not None:
            for plot in self.plots:
                self.ci.removeItem(plot)
        self.beside = beside
        for place, plot in enumerate(self.plots):
            self.ci.addItem(plot, row=0 if beside else place, col=place if beside else 0)

    # Showing

    def show_charts(self, charts: tuple[Chart, ...]) -> None:
        """Draw these; a view that the user zoomed stays."""
        said = [axis.words for axis in self.axes]
        for place, chart in enumerate(charts):
            self.axes[2 * place].say(chart.up)
            self.axes[2 * place + 1].say(chart.across)
            self.items[place].show_chart(chart)
        if not self.zoomed:
            self._hold(KEEP)
        if said != [axis.words for axis in self.axes]:  # settling draws all their numbers anew
            self.settle_labels()

    def _hold(self, keep: float) -> None:
        """Move the ranges so far that they hold their charts and are not `keep` times too wide."""
        for plot, item in zip(self.plots, self.items, strict=True):
            box, chart = plot.getViewBox(), item.chart
            across, up = box.viewRange()
            if not _holds(across, chart.x_range, keep) or not _holds(up, chart.y_range, keep):
                box.setRange(xRange=chart.x_range, yRange=chart.y_range, padding=0)

    def reset(self) -> None:
        """The whole picture again."""
        self.zoomed = False
        self._hold(1.0)

    def settle_labels(self) -> None:
        """An axis places its label when it is resized, not when its words change."""
        for axis in self.axes:
            axis.resizeEvent(None)

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.setBackground(ink.colours.colour("panel"))
        for axis in self.axes:
            axis.restyle(ink)
        for item in self.items:
            item.restyle(ink)
        self.settle_labels()

    def point_out(self, key: str, cursor: float | None) -> None:
        """Mark what is read out, in every chart alike."""
        for item in self.items:
            item.point_out(key, cursor)

    # Pointer and keys

    def _zoom(self, *_: object) -> None:
        self.zoomed = True

    def _pointer(self, point: QPointF) -> None:
        for plot, item in zip(self.plots, self.items, strict=True):
            box = plot.getViewBox()
            if QRectF(box.sceneBoundingRect()).contains(point):
                at = box.mapSceneToView(point)
                self.hovered.emit(item.nearest(at.x(), at.y())[1], at.x())

    @override
    def leaveEvent(self, ev: QEvent) -> None:
        self.left.emit()
        super().leaveEvent(ev)

    @override
    def mouseDoubleClickEvent(self, ev: QMouseEvent) -> None:
        self.reset()

    @override
    def keyPressEvent(self, ev: QKeyEvent) -> None:
        fast = 10 if ev.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
        if ev.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        elif ev.key() in ALONG:
            self.moved.emit(ALONG[Qt.Key(ev.key())] * fast)
        elif ev.key() in MARKS:
            self.walked.emit(MARKS[Qt.Key(ev.key())])
        elif ev.key() == Qt.Key.Key_Home:
            self.reset()
        else:
            ev.ignore()

    @override
    def resizeEvent(self, ev: QResizeEvent) -> None:
        super().resizeEvent(ev)
        if hasattr(self, "zoomed"):
            self._arrange()


def _holds(seen: list[float], needed: Range, keep: float) -> bool:
    """Whether a range shows what is needed without being much too wide; its lower end must be right."""
    (low, high), span = seen, needed[1] - needed[0]
    slack = 1e-9 * span
    return abs(low - needed[0]) <= 0.02 * span and needed[1] - slack <= high <= needed[0] + keep * span + slack
