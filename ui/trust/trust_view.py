"""The view of a picture: its axes, its zoom, and the keys and the pointer that go from mark to mark."""

from __future__ import annotations

from typing import Any

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QMouseEvent
from PySide6.QtWidgets import QFrame, QWidget
from typing_extensions import override

from ui.plots.axes import PlainAxis
from ui.plots.ink import Ink
from ui.trust.names_axis import NamesAxis
from ui.trust.scene import Scene
from ui.trust.scene_item import SceneItem

KEYS = {
    Qt.Key.Key_Right: "right",
    Qt.Key.Key_Left: "left",
    Qt.Key.Key_Up: "up",
    Qt.Key.Key_Down: "down",
    Qt.Key.Key_Home: "first",
    Qt.Key.Key_End: "last",
}


class TrustView(pg.GraphicsLayoutWidget):  # type: ignore[misc]
    """Draws one scene. Marks are told by their place in it; -1 is none."""

    hovered = Signal(int)
    clicked = Signal(int)
    stepped = Signal(str)
    copied = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("trust_picture")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(260, 70)
        self.ci.layout.setContentsMargins(0, 4, 6, 0)
        self.up_axis, self.across_axis = PlainAxis("left"), NamesAxis()
        axes = {"left": self.up_axis, "bottom": self.across_axis}
        self.plot = self.addPlot(row=0, col=0, axisItems=axes, enableMenu=False)
        self.plot.hideButtons()
        self.plot.setMenuEnabled(False)
        self.plot.ctrlMenu.setParent(self, self.plot.ctrlMenu.windowFlags())  # never shown, but it would outlive us
        self.box = self.plot.getViewBox()
        self.box.disableAutoRange()
        self.box.setDefaultPadding(0)
        self.item = SceneItem()
        self.plot.addItem(self.item, ignoreBounds=True)
        self.zoomed = False
        self._under = -1
        self.box.sigRangeChangedManually.connect(self._zoom)
        self.scene().sigMouseMoved.connect(self._moved)
        self.scene().sigMouseClicked.connect(self._click)

    # Showing

    def show_scene(self, scene: Scene) -> None:
        """Draw a scene; a view that the user zoomed stays."""
        self.up_axis.say(scene.up)
        self.across_axis.say(scene.across)
        self.across_axis.show_places(scene.places)
        self.box.setMouseEnabled(x=not scene.places, y=not scene.bars)
        self.item.show_scene(scene)
        if not self.zoomed:
            self._fit(scene)
        self.settle_labels()

    def _fit(self, scene: Scene) -> None:
        self.box.setRange(xRange=scene.x_range, yRange=scene.y_range, padding=0)

    def reset(self) -> None:
        """The whole picture again."""
        self.zoomed = False
        self._fit(self.item.scene_shown)

    def settle_labels(self) -> None:
        """An axis places its label when it is resized, not when its words change."""
        for axis in (self.up_axis, self.across_axis):
            axis.resizeEvent(None)

    def _zoom(self, *_: object) -> None:
        self.zoomed = True

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.setBackground(ink.colours.colour("panel"))
        for axis in (self.up_axis, self.across_axis):
            axis.restyle(ink)
        self.item.restyle(ink)
        self.settle_labels()

    # Pointer and keys

    def mark_at(self, point: QPointF) -> int:
        """The mark at a point of the scene."""
        if not QRectF(self.box.sceneBoundingRect()).contains(point):
            return -1
        found = self.item.nearest(self.box.mapSceneToView(point))
        return -1 if found is None else found

    def _moved(self, point: QPointF) -> None:
        self._hover(self.mark_at(point))

    def _hover(self, mark: int) -> None:
        if mark != self._under:
            self._under = mark
            self.hovered.emit(mark)

    def _click(self, event: Any) -> None:
        mark = self.mark_at(event.scenePos())
        if mark >= 0 and event.button() == Qt.MouseButton.LeftButton and not event.double():
            self.clicked.emit(mark)

    @override
    def leaveEvent(self, ev: QEvent) -> None:
        self._hover(-1)
        super().leaveEvent(ev)

    @override
    def mouseDoubleClickEvent(self, ev: QMouseEvent) -> None:
        self.reset()

    @override
    def keyPressEvent(self, ev: QKeyEvent) -> None:
        if ev.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
        elif ev.key() in KEYS:
            self.stepped.emit(KEYS[Qt.Key(ev.key())])
        else:
            ev.ignore()
