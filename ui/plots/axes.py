"""The axes: spring height on the left, valve lift on the right of the same data, load below."""

from __future__ import annotations

from math import ceil, floor
from typing import Any

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen
from typing_extensions import override

from ui.plots.ink import Ink, em, font

BOTTOM_HEIGHT = 42
"""One height for the bottom axis of both views: only then do linked heights align."""

TEXT_APART = 13.0  # px: numbers closer than this run into each other
LEFT_WIDTH, RIGHT_WIDTH = 48, 50
ALIGNED = Qt.AlignmentFlag.AlignLeft.value | Qt.AlignmentFlag.AlignVCenter.value | Qt.TextFlag.TextDontClip.value

Levels = list[tuple[float, list[tuple[float, float]]]]
"""Marks of an axis, the longest first: their spacing, and of each its value and its place, px."""


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
    """Valve lift beside spring height: lift = H - height; ticks from closed to bind only.

    It moves at every edit of the height, so it places its own marks: the stock axis measures every text anew.
    """

    def __init__(self) -> None:
        super().__init__("right")
        self._height: float | None = None
        self._most = 0.0
        self._pixels = 1e9  # to a unit
        self._boxes: dict[str, tuple[float, float]] = {}  # width and height of a text in the font of now

    def set_closed(self, height: float | None, most: float) -> None:
        """Say where the closed height is and how far the lift can go, in the unit on show."""
        if (height, most) != (self._height, self._most):
            self._height, self._most = height, most
            self.picture = None
            self.update()

    @override
    def restyle(self, ink: Ink) -> None:
        self._boxes.clear()
        super().restyle(ink)

    @override
    def tickValues(self, minVal: float, maxVal: float, size: float) -> list[tuple[Any, list[float]]]:
        if self._height is None:
            return []
        high, low = self._height - minVal, self._height - maxVal
        self._pixels = size / max(high - low, 1e-12)
        slack = 1e-9 * max(self._most, 1.0)
        least, most = max(low, -slack), min(high, self._most + slack)
        found, taken = list[tuple[Any, list[float]]](), list[float]()
        for spacing, _ in self.tickSpacing(low, high, size):
            lifts = [place * spacing for place in range(ceil(least / spacing), floor(most / spacing) + 1)]
            fresh = [lift for lift in lifts if all(abs(lift - other) > 0.01 * spacing for other in taken)]
            taken += fresh
            found.append((spacing, [self._height - lift for lift in fresh]))
        return found

    @override
    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        if spacing * self._pixels < TEXT_APART * em():
            return ["" for _ in values]
        lifts = [round((self._height or 0.0) - value, 9) for value in values]
        strings: list[str] = super().tickStrings(lifts, scale, spacing)
        return [text.replace("-0.0", "0.0") if float(text or 0) == 0 else text for text in strings]

    @override
    def generateDrawSpecs(self, p: QPainter) -> Any:
        bounds, (low, high) = self.mapRectFromParent(self.geometry()), self.range
        if bounds.height() <= 0 or high <= low:
            return None
        edge, tall = bounds.left(), bounds.height()
        size = tall + 2  # the line stands out by a pixel at both ends
        line = (self.pen(), QPointF(edge + 1, bounds.top() - 1), QPointF(edge + 1, bounds.bottom() + 1))
        levels = [
            (spacing, [(value, tall - (value - low) * tall / (high - low)) for value in values if low <= value <= high])
            for spacing, values in self.tickValues(low, high, size)
        ]
        return line, self._ticks(levels, edge), self._texts(p, levels, edge, size)

    def _ticks(self, levels: Levels, edge: float) -> list[tuple[QPen, QPointF, QPointF]]:
        ticks = []
        for rank, (_, marks) in enumerate(levels):
            pen, length = QPen(self.tickPen()), self.style["tickLength"] / (1 + 0.5 * rank)
            colour = pen.color()
            colour.setAlpha(255 // (rank + 1))
            pen.setColor(colour)
            ticks += [(pen, QPointF(edge, y), QPointF(edge + length, y)) for _, y in marks]
        return ticks

    def _texts(self, painter: QPainter, levels: Levels, edge: float, size: float) -> list[tuple[QRectF, Any, str]]:
        """The numbers of as many levels as have room; the limits of crowding are the stock axis's own."""
        texts, filled, inside = list[tuple[QRectF, Any, str]](), 0.0, self.boundingRect()
        left = edge + max(0, self.style["tickLength"]) + self.style["tickTextOffset"][0]
        for rank, (spacing, marks) in enumerate(levels):
            strings = self.tickStrings([value for value, _ in marks], 1.0, spacing)
            boxes = [self._box(painter, text) for text in strings]
            filled += sum(tall for _, tall in boxes) / size
            limits = self.style["textFillLimits"]
            if rank and any(len(texts) >= count and filled >= limit for count, limit in limits):
                break
            for (_, y), text, (wide, tall) in zip(marks, strings, boxes, strict=True):
                rect = QRectF(left, y - tall / 2, wide, tall)
                if inside.contains(rect):
                    texts.append((rect, ALIGNED, text))
        return texts

    def _box(self, painter: QPainter, text: str) -> tuple[float, float]:
        if text not in self._boxes:
            if len(self._boxes) > 200:  # zoom after zoom brings other numbers
                self._boxes.clear()
            box = painter.boundingRect(QRectF(0, 0, 100, 100), Qt.AlignmentFlag.AlignCenter, text)
            self._boxes[text] = (box.width(), 0.8 * box.height())  # a box is somewhat taller than its digits
        return self._boxes[text]


class SidesAxis(PlainAxis):
    """Below the drawing: no numbers, as tall as the axis beside it."""

    @override
    def tickValues(self, minVal: float, maxVal: float, size: float) -> list[tuple[Any, list[float]]]:
        return []
