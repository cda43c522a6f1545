"""The axes: spring height on the left, valve lift on the right of the same data, load below."""

from __future__ import annotations

from typing import Any

import pyqtgraph as pg
from typing_extensions import override

from ui.plots.ink import Ink, em, font

BOTTOM_HEIGHT = 42
"""One height for the bottom axis of both views: only then do linked heights align."""

TEXT_APART = 13.0  # px: numbers closer than this run into each other
LEFT_WIDTH, RIGHT_WIDTH = 48, 50


class PlainAxis(pg.AxisItem):  # type: ignore[misc]
    """An axis that keeps its unit: no prefixes, one label, the window's font."""

    def __init__(self, orientation: str) -> None:
        super().__init__(orientation)
        self.enableAutoSIPrefix(False)
        self._words = ""

    def say(self, words: str) -> None:
        """Label the axis: quantity, comma, unit."""
        if words != self._words:
            self._words = words
            self.setLabel(words)

    @property
    def words(self) -> str:
        """The label."""
        return self._words

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.setPen(ink.pen("lines", 1.0))
        self.setTextPen(ink.pen("ink", 1.0))
        self.setTickFont(font(0.9))
        size = font(0.95).pixelSize()
        self.setLabel(self._words, **{"color": ink.colours.ink, "font-size": f"{size}px"})
        if self.orientation == "bottom":
            self.setHeight(round(BOTTOM_HEIGHT * em()))
        else:
            self.setWidth(round((LEFT_WIDTH if self.orientation == "left" else RIGHT_WIDTH) * em()))


class LiftAxis(PlainAxis):
    """Valve lift beside spring height: lift = H - height; ticks from closed to bind only."""

    def __init__(self) -> None:
        super().__init__("right")
        self._height: float | None = None
        self._most = 0.0
        self._pixels = 1e9  # to a unit

    def set_closed(self, height: float | None, most: float) -> None:
        """Say where the closed height is and how far the lift can go, in the unit on show."""
        if (height, most) != (self._height, self._most):
            self._height, self._most = height, most
            self.picture = None
            self.update()

    @override
    def tickValues(self, minVal: float, maxVal: float, size: float) -> list[tuple[Any, list[float]]]:
        if self._height is None:
            return []
        high, low = self._height - minVal, self._height - maxVal
        self._pixels = size / max(high - low, 1e-12)
        found = super().tickValues(low, high, size)
        slack = 1e-9 * max(self._most, 1.0)
        return [
            (spacing, [self._height - lift for lift in lifts if -slack <= lift <= self._most + slack])
            for spacing, lifts in found
        ]

    @override
    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        if spacing * self._pixels < TEXT_APART * em():
            return ["" for _ in values]
        lifts = [round((self._height or 0.0) - value, 9) for value in values]
        strings: list[str] = super().tickStrings(lifts, scale, spacing)
        return [text.replace("-0.0", "0.0") if float(text or 0) == 0 else text for text in strings]


class SidesAxis(PlainAxis):
    """Below the drawing: no numbers, as tall as the axis beside it."""

    @override
    def tickValues(self, minVal: float, maxVal: float, size: float) -> list[tuple[Any, list[float]]]:
        return []
