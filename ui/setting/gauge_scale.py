"""The gauge's view: one vertical scale of depth or lash, the turns of the adjuster beside it, and a read-out."""

from __future__ import annotations

from math import ceil, floor
from typing import TYPE_CHECKING, Any

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QWidget
from typing_extensions import override

from ui.plots.axes import PlainAxis, SidesAxis
from ui.plots.ink import em
from ui.setting.gauge_item import GaugeItem

if TYPE_CHECKING:
    from ui.plots.ink import Ink
    from ui.setting.gauge_drawn import Drawn

KEEP = 1.3  # a range this many times what is needed stays: the picture does not breathe at every keystroke
QUARTERS, APART = (0.25, 0.5, 1.0, 2.0, 5.0), 15.0  # turns between the marks of the axis; px that they want
FAST = 10


class DepthAxis(PlainAxis):
    """Numbers of a scale that runs down from zero, or up from it."""

    def __init__(self) -> None:
        super().__init__("left")
        self.down = True

    @override
    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        shown = [-value if self.down else value for value in values]
        strings: list[str] = super().tickStrings(shown, scale, spacing)
        return [text.lstrip("-") if float(text or 0) == 0 else text.replace("-", "\u2212") for text in strings]


class TurnsAxis(PlainAxis):
    """Turns past zero lash, in quarters where there is room."""

    def __init__(self) -> None:
        super().__init__("right")
        self.turn: float | None = None  # in the unit on show
        self.down = True

    @override
    def tickValues(self, minVal: float, maxVal: float, size: float) -> list[tuple[Any, list[float]]]:
        if self.turn is None or self.turn <= 0:
            return []
        pixels = size / max(maxVal - minVal, 1e-12) * self.turn  # to a turn
        by = next((each for each in QUARTERS if each * pixels >= APART * em()), QUARTERS[-1])
        low, high = ceil(minVal / self.turn / by), floor(maxVal / self.turn / by)
        return [(by, [place * by * self.turn for place in range(low, high + 1)])] if high - low < 200 else []

    @override
    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        turn = self.turn or 1.0
        turns = [(-value if self.down else value) / turn for value in values]
        return [f"{each:.2f}".rstrip("0").rstrip(".").replace("-", "\u2212") if abs(each) > 1e-9 else "0"
                for each in turns]  # fmt: skip


class GaugeScale(pg.GraphicsLayoutWidget):  # type: ignore[misc]
    """One view. It moves only to hold what must be seen, until zoomed."""

    hovered = Signal(float)  # the height under the pointer, in the unit on show
    moved = Signal(int)  # steps of the read-out by arrow keys
    ranged = Signal()
    copied = Signal()

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(300, 150)
        # The ground is filled once, by its brush: not by the widgets beneath as well, nor out of a picture of itself.
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setCacheMode(self.CacheModeFlag.CacheNone)
        self.ci.layout.setContentsMargins(2, 4, 6, 2)
        self.depth_axis, self.turns_axis, self.foot = DepthAxis(), TurnsAxis(), SidesAxis("bottom")
        self.plot = self.addPlot(
            row=0, col=0, enableMenu=False,
            axisItems={"left": self.depth_axis, "right": self.turns_axis, "bottom": self.foot},
        )  # fmt: skip
        self.plot.hideButtons()
        self.plot.setMenuEnabled(False)
        self.plot.hideAxis("bottom")
        self.plot.ctrlMenu.setParent(self, self.plot.ctrlMenu.windowFlags())  # never shown, but it would outlive us
        box = self.plot.getViewBox()
        box.disableAutoRange()
        box.setDefaultPadding(0)
        box.setMouseEnabled(x=False, y=True)
        box.setXRange(0, 100, padding=0)
        self.item = GaugeItem()
        self.plot.addItem(self.item, ignoreBounds=True)
        self.zoomed = False
        self.frozen = False  # while a handle is dragged the ground stays still
        box.sigRangeChangedManually.connect(self._zoom)
        box.sigYRangeChanged.connect(self._tell_range)
        self.scene().sigMouseMoved.connect(self._pointer)

    # Showing

    def show_drawn(self, drawn: Drawn, up: str, turns: str) -> None:
        """Draw this; a view that the user zoomed stays.

        Args:
            drawn: in the units on show.
            up: what the left axis says.
            turns: what the right axis says; "" without one.
        """
        said = (self.depth_axis.words, self.turns_axis.words)
        self.depth_axis.down = self.turns_axis.down = drawn.depth
        if self.turns_axis.turn != drawn.turn:
            self.turns_axis.turn = drawn.turn
            self.turns_axis.picture = None
        self.depth_axis.say(up)
        self.turns_axis.say(turns)
        self.plot.showAxis("right", bool(turns))
        self.item.show_drawn(drawn)
        if not (self.zoomed or self.frozen):
            self._hold(KEEP)
        if said != (up, turns):
            self.settle_labels()

    def _hold(self, keep: float) -> None:
        drawn, box = self.item.drawn, self.plot.getViewBox()
        if drawn is None:
            return
        low, high = box.viewRange()[1]
        span = drawn.high - drawn.low
        slack = 1e-9 * span
        inside = low <= drawn.low + slack and high >= drawn.high - slack
        if not (inside and high - low <= keep * span):
            box.setYRange(drawn.low, drawn.high, padding=0)

    def reset(self) -> None:
        """The whole picture again."""
        self.zoomed = False
        self._hold(1.0)

    def settle_labels(self) -> None:
        """An axis places its label when it is resized, not when its words change."""
        for axis in (self.depth_axis, self.turns_axis):
            axis.resizeEvent(None)

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.setBackground(ink.colours.colour("panel"))
        for axis in (self.depth_axis, self.turns_axis):
            axis.restyle(ink)
        self.item.restyle(ink)
        self.settle_labels()

    def point_out(self, _key: str, cursor: float | None) -> None:
        """Draw a line at the height that is read out."""
        self.item.point_out(cursor)

    # Places

    def pixel_at(self, height: float) -> QPointF:
        """Where a height stands, px from this widget's corner, at the left edge of the view."""
        box = self.plot.getViewBox()
        return QPointF(self.mapFromScene(box.mapViewToScene(QPointF(box.viewRange()[0][0], height))))

    def height_per_pixel(self) -> float:
        """The height of a pixel in the unit on show."""
        box = self.plot.getViewBox()
        low, high = box.viewRange()[1]
        return float(high - low) / max(float(box.height()), 1.0)

    # Pointer and keys

    def _zoom(self, *_: object) -> None:
        self.zoomed = True

    def _tell_range(self, *_: object) -> None:
        self.ranged.emit()

    def _pointer(self, point: QPointF) -> None:
        box = self.plot.getViewBox()
        if QRectF(box.sceneBoundingRect()).contains(point):
            self.hovered.emit(box.mapSceneToView(point).y())

    @override
    def leaveEvent(self, ev: QEvent) -> None:
        self.item.point_out(None)
        super().leaveEvent(ev)

    @override
    def mouseDoubleClickEvent(self, ev: QMouseEvent) -> None:
        self.reset()

    @override
    def keyPressEvent(self, ev: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1, Qt.Key.Key_PageUp: FAST, Qt.Key.Key_PageDown: -FAST}
        if ev.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        elif ev.key() in steps:
            by = steps[Qt.Key(ev.key())]
            fast = ev.modifiers() & Qt.KeyboardModifier.ShiftModifier and abs(by) == 1
            self.moved.emit(by * (FAST if fast else 1))
        elif ev.key() == Qt.Key.Key_Home:
            self.reset()
        else:
            ev.ignore()

    @override
    def resizeEvent(self, ev: QResizeEvent) -> None:
        super().resizeEvent(ev)
        if hasattr(self, "zoomed"):
            self.ranged.emit()
