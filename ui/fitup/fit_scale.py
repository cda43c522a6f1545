"""The two views of the picture: seat load above, the stacks of shims beneath, the valves across both."""

from __future__ import annotations

from typing import Any

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QWidget
from typing_extensions import override

from ui.plots.axes import PlainAxis
from ui.plots.ink import Ink, em

STACKS_TALL = 58  # px: of the lower view, its names of valves not counted
NAMES_TALL = 18
HALF = 0.5


class FitScale(pg.GraphicsLayoutWidget):  # type: ignore[misc]
    """Valves are at 0, 1, 2 … across. Arrow keys move from valve to valve."""

    hovered = Signal(int)
    clicked = Signal(int)
    stepped = Signal(int)
    jumped = Signal(bool)  # to the last valve, else to the first
    copied = Signal()
    resized = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("fitup_picture")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(260, 130)
        self.ci.layout.setContentsMargins(0, 2, 4, 0)
        self.ci.layout.setVerticalSpacing(4)
        self.load_axis, self.shim_axis = PlainAxis("left"), PlainAxis("left")
        self.loads = self._view(self.load_axis, 0)
        self.stacks = self._view(self.shim_axis, 1)
        self.stacks.setXLink(self.loads)
        self.count = 0
        self.zoomed = False
        self.loads.getViewBox().setMouseEnabled(x=False, y=True)
        self.stacks.getViewBox().setMouseEnabled(x=False, y=False)
        self.loads.getViewBox().sigRangeChangedManually.connect(self._zoom)
        self.scene().sigMouseMoved.connect(self._moved)
        self.scene().sigMouseClicked.connect(self._click)
        self._place_rows()

    def _view(self, axis: PlainAxis, row: int) -> Any:
        plot = self.addPlot(row=row, col=0, axisItems={"left": axis}, enableMenu=False)
        plot.hideAxis("bottom")
        plot.hideButtons()
        plot.setMenuEnabled(False)
        plot.ctrlMenu.setParent(self, plot.ctrlMenu.windowFlags())  # never shown, but it would outlive us
        plot.getViewBox().disableAutoRange()
        plot.getViewBox().setDefaultPadding(0)
        return plot

    def _place_rows(self) -> None:
        self.ci.layout.setRowFixedHeight(1, (STACKS_TALL + NAMES_TALL) * em())

    # Ranges

    def fit(self, count: int, loads: tuple[float, float], thickest: float) -> None:
        """Show so many valves, these loads and stacks up to this thickness; a view that the user zoomed stays."""
        self.count = count
        self.loads.getViewBox().setXRange(-HALF, max(count, 1) - HALF, padding=0)
        if not self.zoomed:
            self.loads.getViewBox().setYRange(*loads, padding=0)
        names = thickest * NAMES_TALL / STACKS_TALL
        self.stacks.getViewBox().setYRange(-names, thickest, padding=0)

    def settle_labels(self) -> None:
        """An axis places its label when it is resized, not when its words change."""
        for axis in (self.load_axis, self.shim_axis):
            axis.resizeEvent(None)

    def _zoom(self, *_: object) -> None:
        self.zoomed = True

    @override
    def resizeEvent(self, ev: QResizeEvent) -> None:
        super().resizeEvent(ev)
        if hasattr(self, "stacks"):
            self._place_rows()
            self.resized.emit()

    # Mouse and keys

    def valve_at(self, point: QPointF) -> int | None:
        """The place of the valve at a point of the scene; None beside them."""
        for plot in (self.loads, self.stacks):
            box = plot.getViewBox()
            if QRectF(box.sceneBoundingRect()).contains(point):
                place = round(box.mapSceneToView(point).x())
                return place if 0 <= place < self.count else None
        return None

    def _moved(self, point: QPointF) -> None:
        place = self.valve_at(point)
        if place is not None:
            self.hovered.emit(place)

    def _click(self, event: Any) -> None:
        place = self.valve_at(event.scenePos())
        if place is not None and event.button() == Qt.MouseButton.LeftButton and not event.double():
            self.clicked.emit(place)

    @override
    def mouseDoubleClickEvent(self, ev: QMouseEvent) -> None:
        self.reset()

    def reset(self) -> None:
        """The whole picture again."""
        self.zoomed = False
        self.resized.emit()

    @override
    def keyPressEvent(self, ev: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1, Qt.Key.Key_PageDown: 4, Qt.Key.Key_PageUp: -4}
        if ev.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        elif ev.key() in steps:
            self.stepped.emit(steps[Qt.Key(ev.key())])
        elif ev.key() in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self.jumped.emit(ev.key() == Qt.Key.Key_End)
        else:
            ev.ignore()

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.setBackground(ink.colours.colour("panel"))
        for axis in (self.load_axis, self.shim_axis):
            axis.restyle(ink)
        self.settle_labels()
