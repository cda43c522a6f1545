"""One height scale through a drawing and a plot: the two views, their ranges and the column they share."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QWidget
from typing_extensions import override

from ui.plots.axes import BOTTOM_HEIGHT, LEFT_WIDTH, LiftAxis, PlainAxis, SidesAxis
from ui.plots.dimensions import APART, OUT
from ui.plots.ink import Ink, em

SPACING = 10
KEEP = 1.35  # a range this many times what is needed stays as it is: the picture doesn't breathe at every keystroke
SPARE = 0.02  # of the span, on either side: small edits move nothing
EDGE = 20.0  # px kept free beside a dimension for its text


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """What must be seen, in the units on show: heights, loads, the drawing's half width, dimensions on the right."""

    low: float
    high: float
    most_load: float
    half_width: float
    dimensions: int


class HeightScale(pg.GraphicsLayoutWidget):  # type: ignore[misc]
    """The two views. They move only when asked to, or to keep in sight what must be seen until the user zooms."""

    ranged = Signal()  # heights or size changed: what stands beside the views must follow
    hovered = Signal(object)  # (in the plot?, x, height) in the units on show, or None
    clicked = Signal(bool, float, float)
    keyed = Signal(int)  # steps of the read-out by arrow keys
    copied = Signal()
    drawing_share = 0.6  # of the width at most

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("bench_picture")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(360, 260)
        # The ground is filled once, by its brush: not by the widgets beneath as well, nor out of a picture of itself.
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setCacheMode(self.CacheModeFlag.CacheNone)
        self.ci.layout.setContentsMargins(2, 4, 2, 0)
        self.ci.layout.setHorizontalSpacing(SPACING)
        self.height_axis, self.lift_axis, self.load_axis = PlainAxis("left"), LiftAxis(), PlainAxis("bottom")
        self.sides_axis = SidesAxis("bottom")
        self.drawing = self._view({"left": self.height_axis, "bottom": self.sides_axis}, 0)
        self.plot = self._view({"bottom": self.load_axis, "right": self.lift_axis, "left": PlainAxis("left")}, 1)
        self._arrange_axes()
        self.zoomed = False
        self.frozen = False  # while a handle is dragged the ground stays still
        self.extent: Extent | None = None
        self._fitted: Extent | None = None
        self._connect()

    def _view(self, axes: dict[str, Any], column: int) -> Any:
        plot = self.addPlot(row=0, col=column, axisItems=axes, enableMenu=False)
        plot.hideButtons()
        plot.setMenuEnabled(False)
        plot.ctrlMenu.setParent(self, plot.ctrlMenu.windowFlags())  # never shown, but it would outlive us
        plot.getViewBox().disableAutoRange()
        plot.getViewBox().setDefaultPadding(0)
        return plot

    def _arrange_axes(self) -> None:
        self.plot.hideAxis("left")
        self.plot.showAxis("right")
        self.sides_axis.setStyle(tickLength=0)
        self.plot.setYLink(self.drawing)
        self.drawing.getViewBox().setMouseEnabled(x=False, y=True)

    def _connect(self) -> None:
        for plot in (self.drawing, self.plot):
            plot.getViewBox().sigRangeChangedManually.connect(self._zoom)
        self.drawing.getViewBox().sigYRangeChanged.connect(self._square)
        self.drawing.getViewBox().sigResized.connect(self._square)
        self.scene().sigMouseMoved.connect(self._moved)
        self.scene().sigMouseClicked.connect(self._click)

    # Ranges

    def need(self, extent: Extent) -> None:
        """Say what must be seen; the ranges follow unless the user zoomed or drags."""
        self.extent = extent
        if not (self.zoomed or self.frozen or self._holds(extent)):
            self.fit()

    def _holds(self, extent: Extent) -> bool:
        """Whether the ranges as they are show it all without being much too wide."""
        seen = self._fitted
        if seen is None or seen.dimensions != extent.dimensions:
            return False
        if abs(seen.half_width - extent.half_width) > SPARE * seen.half_width:
            return False
        inside = seen.low <= extent.low and seen.high >= extent.high and seen.most_load >= extent.most_load
        wide = seen.high - seen.low > KEEP * (extent.high - extent.low) or seen.most_load > KEEP * extent.most_load
        return inside and not wide

    def reset(self) -> None:
        """The whole picture again."""
        self.zoomed = False
        self.fit()

    def fit(self) -> None:
        """Show what must be seen: the drawing to scale, as large as its column lets it be."""
        extent = self.extent
        if extent is None or self.width() < 50:
            return
        spare = SPARE * (extent.high - extent.low)
        extent = replace(
            extent, low=extent.low - spare, high=extent.high + spare, most_load=(1 + SPARE) * extent.most_load
        )
        self._fitted = extent
        tall = max(self.height() - BOTTOM_HEIGHT * em() - 6, 50)
        margins = self._left_room() + self._right_room()
        span = extent.high - extent.low
        most = self.drawing_share * self.width()
        left = LEFT_WIDTH * em()
        wanted = left + margins + 2 * extent.half_width * tall / span
        if wanted > most:
            span = 2 * extent.half_width * tall / max(most - left - margins, 40)
            wanted = most
        self.ci.layout.setColumnFixedWidth(0, wanted)
        spare = span - (extent.high - extent.low)
        high = extent.high + 0.3 * spare  # most of the spare room goes to the key below bind
        self.drawing.getViewBox().setYRange(high - span, high, padding=0)
        self.plot.getViewBox().setXRange(0.0, extent.most_load, padding=0)
        self._square()

    def _left_room(self) -> float:
        return (OUT + EDGE) * em()

    def _right_room(self) -> float:
        count = self.extent.dimensions if self.extent else 0
        return (OUT / 2 if count == 0 else OUT + APART * (count - 1) + 10.0) * em()

    def _square(self, *_: object) -> None:
        """Keep the drawing's two axes at one scale, its centre line in place."""
        box = self.drawing.getViewBox()
        if box.height() < 1 or box.width() < 1:
            return
        low, high = box.viewRange()[1]
        unit = (high - low) / box.height()
        middle = unit * (self._right_room() - self._left_room()) / 2
        half = unit * box.width() / 2
        box.setXRange(middle - half, middle + half, padding=0)
        self.ranged.emit()

    def scale_ranges(self, heights: float, loads: float) -> None:
        """Other units on show: what the user zoomed to stays in sight."""
        self._fitted = None
        if self.zoomed:
            low, high = self.drawing.getViewBox().viewRange()[1]
            left, right = self.plot.getViewBox().viewRange()[0]
            self.drawing.getViewBox().setYRange(low * heights, high * heights, padding=0)
            self.plot.getViewBox().setXRange(left * loads, right * loads, padding=0)

    def _zoom(self, *_: object) -> None:
        self.zoomed = True

    @override
    def resizeEvent(self, ev: QResizeEvent) -> None:
        super().resizeEvent(ev)
        if not getattr(self, "zoomed", True):
            self.fit()
        if hasattr(self, "drawing"):
            self.ranged.emit()

    # Places

    def pixel_at(self, height: float) -> tuple[int, int]:
        """Where a height stands, px from this widget's corner, at the left edge of the plot."""
        box = self.plot.getViewBox()
        left = box.viewRange()[0][0]
        point = self.mapFromScene(box.mapViewToScene(QPointF(left, height)))
        return point.x(), point.y()

    def height_per_pixel(self) -> float:
        """The height of a pixel in the unit on show."""
        box = self.plot.getViewBox()
        low, high = box.viewRange()[1]
        return float(high - low) / max(float(box.height()), 1.0)

    def _where(self, point: QPointF) -> tuple[bool, float, float] | None:
        for is_plot, plot in ((True, self.plot), (False, self.drawing)):
            box = plot.getViewBox()
            if QRectF(box.sceneBoundingRect()).contains(point):
                at = box.mapSceneToView(point)
                return is_plot, at.x(), at.y()
        return None

    # Mouse and keys

    def _moved(self, point: QPointF) -> None:
        self.hovered.emit(self._where(point))

    def _click(self, event: Any) -> None:
        where = self._where(event.scenePos())
        if where is not None and event.button() == Qt.MouseButton.LeftButton and not event.double():
            self.clicked.emit(*where)

    @override
    def mouseDoubleClickEvent(self, ev: QMouseEvent) -> None:
        self.reset()

    @override
    def keyPressEvent(self, ev: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1, Qt.Key.Key_PageUp: 10, Qt.Key.Key_PageDown: -10}
        if ev.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        elif ev.key() in steps:
            fast = bool(ev.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            by = steps[Qt.Key(ev.key())]
            self.keyed.emit(by * (10 if fast and abs(by) == 1 else 1))
        elif ev.key() == Qt.Key.Key_Home:
            self.reset()
        else:
            ev.ignore()

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.setBackground(ink.colours.colour("panel"))
        for axis in (self.height_axis, self.lift_axis, self.load_axis, self.sides_axis):
            axis.restyle(ink)
        self.sides_axis.setPen(ink.pen("panel", 0.1))
