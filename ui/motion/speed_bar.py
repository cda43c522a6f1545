"""The slider of the engine speed, with its value beside it: it stands at the swept speeds and nowhere between."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSlider, QWidget
from typing_extensions import override

from ui.motion import wording as words
from ui.motion.seen import nearest

if TYPE_CHECKING:
    from PySide6.QtGui import QKeyEvent, QWheelEvent

    from loadbench.arrays import Floats
    from loadbench.units import Style

RPM = math.pi / 30
Key = Qt.Key
STEPS = {Key.Key_Right: 1, Key.Key_Up: 1, Key.Key_Left: -1, Key.Key_Down: -1, Key.Key_PageUp: 5, Key.Key_PageDown: -5}


class SpeedSlider(QSlider):
    """Keys go from one swept speed to the next; the wheel moves it only while it has the focus."""

    stepped = Signal(int)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = STEPS.get(Key(event.key()))
        if step is None:
            super().keyPressEvent(event)  # Home and End
        else:
            self.stepped.emit(step)

    @override
    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            self.stepped.emit(1 if event.angleDelta().y() > 0 else -1)
            event.accept()
        else:
            event.ignore()


class SpeedBar(QWidget):
    """Word, slider and value."""

    moved = Signal(float)  # engine speed, rad/s

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.speeds: Floats = np.array([2000.0 * RPM])
        self.speed = 0.0
        self._style: Style | None = None
        self.word, self.slider, self.value = QLabel(self.tr("Engine speed")), SpeedSlider(), QLabel()
        self.slider.setObjectName("motion_speed")
        self.slider.setOrientation(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName(self.tr("Engine speed"))
        self.slider.setAccessibleDescription(self.tr("In rpm; the arrow keys go from one swept speed to the next."))
        self.slider.setToolTip(self.tr("The speed of the pictures. Arrow keys: the next swept speed; Page: five."))
        self.slider.setMinimumSize(90, 24)
        self.slider.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.word.setBuddy(self.slider)
        self.value.setObjectName("motion_speed_value")
        self.value.setTextFormat(Qt.TextFormat.PlainText)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.word)
        row.addWidget(self.slider, 1)
        row.addWidget(self.value)
        self.slider.valueChanged.connect(self._slid)
        self.slider.stepped.connect(self.step)

    def show_speeds(self, speeds: Floats, style: Style) -> None:
        """Offer these speeds; it stays as near as it can to where it stands."""
        if speeds is self.speeds and style is self._style:
            return
        self.speeds, self._style = speeds, style
        with QSignalBlocker(self.slider):
            self.slider.setRange(round(float(speeds[0]) / RPM), round(float(speeds[-1]) / RPM))
        self._put(float(speeds[nearest(speeds, self.speed)]))

    def set_speed(self, speed: float) -> None:
        """Stand at the swept speed that is nearest."""
        at = float(self.speeds[nearest(self.speeds, speed)])
        changed = at != self.speed
        self._put(at)
        if changed:
            self.moved.emit(at)

    def step(self, by: int) -> None:
        """Go on by so many swept speeds."""
        place = nearest(self.speeds, self.speed) + by
        self.set_speed(float(self.speeds[min(max(place, 0), self.speeds.size - 1)]))

    def _put(self, speed: float) -> None:
        self.speed = speed
        with QSignalBlocker(self.slider):
            self.slider.setValue(round(speed / RPM))
        if self._style is not None:
            self.value.setText(words.speed(speed, self._style))
            # the picture beside it does not move as digits come and go
            widest = words.speed(float(self.speeds[-1]), self._style)
            self.value.setMinimumWidth(self.value.fontMetrics().horizontalAdvance(widest) + 6)

    def _slid(self, rpm: int) -> None:
        self.set_speed(rpm * RPM)
