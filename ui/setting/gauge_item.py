"""Draws the gauge: bands of the rule book, a follower in half section, its plunger or gap, dimensions, the screw."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF
from typing_extensions import override

from loadbench.findings.finding import Level
from ui.plots.ink import CHAIN, THICK, THIN, em
from ui.plots.painted import Painted
from ui.setting.gauge_drawn import Band, Column, Drawn, Half

if TYPE_CHECKING:
    from PySide6.QtGui import QPen

SHARES = {Level.CLEAR: 0.20, Level.WATCH: 0.14, Level.STOP: 0.18, Level.UNKNOWN: 0.10}
"""How much of a level's colour a band has in the ground."""
WALL, SHOULDER, STEM = 0.16, 0.80, 0.34  # of the half width: wall's thickness, plunger's half width, stem's
THICKNESS, CLIP, BLOCK = 13.0, 5.0, 26.0  # px: the plunger's shoulder, its clip, the lower block of a gap
ARROW, WING = 7.0, 2.4  # px
SHARE = 0.88  # of the window's font


class GaugeItem(Painted):
    """One picture; kept, and shown another at every edit."""

    def __init__(self) -> None:
        super().__init__(z=5)
        self.drawn: Drawn | None = None
        self.cursor: float | None = None  # height that is read out

    def show_drawn(self, drawn: Drawn) -> None:
        """Draw this one from now on."""
        if drawn != self.drawn:
            self.drawn = drawn
            self.update()

    def point_out(self, cursor: float | None) -> None:
        """Draw a line at a height."""
        if cursor != self.cursor:
            self.cursor = cursor
            self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        drawn = self.drawn
        if drawn is None:
            return
        for column in drawn.columns:
            self._draw_bands(painter, column, drawn)
        for column in drawn.columns:
            if drawn.depth:
                self._draw_plunger(painter, column, drawn)
            else:
                self._draw_gap(painter, column, drawn)
            self._draw_heads(painter, column, drawn)
        if drawn.turn is not None and drawn.screw is not None:
            self._draw_screw(painter, drawn, drawn.turn, drawn.screw)
        if self.cursor is not None:
            view = self.boundingRect()
            self.line(painter, self.ink.dashed("quiet", (2.0, 2.0)), (view.left(), self.cursor),
                      (view.right(), self.cursor))  # fmt: skip

    # Bands

    def _draw_bands(self, painter: QPainter, column: Column, drawn: Drawn) -> None:
        named = drawn.names_at is not None
        right = (drawn.screw_across[0] - 3 if drawn.screw is not None else 99.0) if named else column.right
        left = column.left - (14 if named else 2)
        for band in column.bands:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.ink.tint(str(band.level), SHARES[band.level]))
            painter.drawRect(QRectF(left, band.low, right - left, band.high - band.low))
            for edge in (band.low, band.high):
                if drawn.low < edge < drawn.high:
                    self.line(painter, self.ink.pen(str(band.level), THIN), (left, edge), (right, edge))
        if drawn.names_at is not None:
            self._name_bands(painter, column.bands, drawn.names_at)

    def _name_bands(self, painter: QPainter, bands: tuple[Band, ...], across: float) -> None:
        """Each in its band; where that is thin, beside it where no other name stands."""
        taken: list[tuple[float, float]] = []
        tall = 15.0 * em() * self.py
        order = sorted(bands, key=lambda band: (band.level is not Level.CLEAR, band.low - band.high))
        for band in order:
            middle = (band.low + band.high) / 2
            if any(abs(middle - other) < tall for other, _ in taken):
                continue
            taken.append((middle, tall))
            self.text(painter, (across, middle), band.text, role=str(band.level), share=SHARE, anchor=(0.0, 0.5),
                      bold=band.level is Level.CLEAR)  # fmt: skip

    # The plunger

    def _draw_plunger(self, painter: QPainter, column: Column, drawn: Drawn) -> None:
        centre, half = (column.left + column.right) / 2, (column.right - column.left) / 2
        thick = THICKNESS * em() * self.py
        floor = drawn.low if drawn.floor is None else drawn.floor - thick
        inner = half * (1 - WALL)
        outline = self.ink.pen("accent" if column.chosen else "ink", THICK)
        painter.setBrush(self.ink.tint("lines", 0.30))
        for side in (-1, 1):
            wall = _rect(centre + side * inner, centre + side * half, floor - thick, CLIP * em() * self.py)
            painter.setPen(outline)
            painter.drawRect(wall)
            clip = _rect(centre + side * inner, centre + side * inner * 0.86, 0.0, CLIP * em() * self.py)
            painter.drawRect(clip)
        if drawn.floor is not None:
            painter.drawRect(_rect(centre - inner, centre + inner, floor - thick, floor))
        if drawn.warm_least is not None:
            ends = (centre, drawn.warm_least), (centre + inner, drawn.warm_least)
            self.line(painter, self.ink.dashed("watch", (6.0, 3.0), THICK), *ends)
        for side, each in zip((-1, 1), column.halves, strict=True):
            self._draw_half(painter, (centre, side * inner, side), each, drawn, thick)
        self.line(painter, self.ink.dashed("lines", CHAIN), (centre, drawn.low), (centre, drawn.high))
        if column.room and drawn.floor is not None and column.halves[0].at is not None:
            under, above = floor, column.halves[0].at - thick
            if (above - under) / self.py > 15 * em():
                self.text(painter, (centre, (under + above) / 2), column.room, role="quiet", share=SHARE,
                          anchor=(0.5, 0.5), ground="panel")  # fmt: skip

    def _draw_half(
        self, painter: QPainter, place: tuple[float, float, int], half: Half, drawn: Drawn, thick: float
    ) -> None:
        """One side of the centre line: shoulder and stem, and the depth from the clip down."""
        centre, reach, side = place
        if half.at is None:
            return
        painter.setPen(self.ink.pen("ink", THICK))
        painter.setBrush(self.ink.tint("accent", 0.28 if side < 0 else 0.14))
        shoulder = min(half.at, 0.0)  # with lash it stands against its clip, and the pushrod above it
        outline = [
            (0.0, shoulder - thick), (SHOULDER * reach, shoulder - thick), (SHOULDER * reach, shoulder),
            (STEM * reach, shoulder), (0.0, shoulder),
        ]  # fmt: skip
        painter.drawPolygon(QPolygonF([QPointF(centre + x, y) for x, y in outline]))
        painter.drawRect(_rect(centre, centre + STEM * reach, half.at if half.at > 0 else shoulder, drawn.high))
        self._dimension(painter, centre + side * (abs(reach) * 0.62), (0.0, half.at), half, side)

    # The gap

    def _draw_gap(self, painter: QPainter, column: Column, drawn: Drawn) -> None:
        centre, half = (column.left + column.right) / 2, (column.right - column.left) / 2
        painter.setPen(self.ink.pen("ink", THICK))
        painter.setBrush(self.ink.tint("lines", 0.30))
        low = max(-BLOCK * em() * self.py, drawn.low)
        painter.drawRect(_rect(centre - 0.7 * half, centre + 0.7 * half, low, 0.0))
        for side, each in zip((-1, 1), column.halves, strict=True):
            if each.at is None:
                continue
            painter.setPen(self.ink.pen("ink", THICK))
            painter.setBrush(self.ink.tint("accent", 0.28 if side < 0 else 0.14))
            painter.drawRect(_rect(centre, centre + side * 0.9 * half, each.at, drawn.high))
            self._dimension(painter, centre + side * half * 0.62, (0.0, each.at), each, side)
        self.line(painter, self.ink.dashed("lines", CHAIN), (centre, drawn.low), (centre, drawn.high))

    # Words and dimensions

    def _draw_heads(self, painter: QPainter, column: Column, drawn: Drawn) -> None:
        centre, half = (column.left + column.right) / 2, (column.right - column.left) / 2
        if column.title:
            self.text(painter, (centre, drawn.high), column.title, role="accent" if column.chosen else "ink",
                      share=SHARE, bold=True, anchor=(0.5, 0.0), ground="panel")  # fmt: skip
        for side, each in zip((-1, 1), column.halves, strict=True):
            if each.word:
                at = (centre + side * half * 0.72, drawn.high)
                self.text(painter, at, each.word, role="ink", share=SHARE, bold=True, anchor=(0.5, 0.0),
                          ground="panel")  # fmt: skip

    def _dimension(self, painter: QPainter, x: float, ends: tuple[float, float], half: Half, side: int) -> None:
        """A vertical dimension (ISO 129), its text outside where there is no room."""
        low, high = sorted(ends)
        pen = self.ink.pen("ink", THIN)
        outside = (high - low) / self.py < 2.4 * ARROW
        tail = 2 * ARROW * self.py if outside else 0.0
        self.line(painter, pen, (x, low - tail), (x, high + tail))
        painter.setBrush(pen.color())
        for tip, away in ((high, 1.0), (low, -1.0)):
            back = tip + (away if outside else -away) * ARROW * self.py
            wing = WING * self.px
            painter.drawPolygon(QPolygonF([QPointF(x, tip), QPointF(x - wing, back), QPointF(x + wing, back)]))
        middle = (low + high) / 2
        at = (x + side * 4 * self.px, middle)
        self.text(painter, at, half.text, role="ink", share=SHARE, anchor=(1.0 if side < 0 else 0.0, 0.5),
                  ground=self.ink.brush("panel", 0.8))  # fmt: skip

    # The screw

    def _draw_screw(self, painter: QPainter, drawn: Drawn, turn: float, tip: float) -> None:
        """The adjuster: one crest of its thread a turn, its tip where the plunger or the gap stands."""
        left, right = drawn.screw_across
        pen: QPen = self.ink.pen("ink", THICK)
        painter.setPen(pen)
        painter.setBrush(self.ink.tint("lines", 0.18))
        painter.drawRect(_rect(left + 1.2, right - 1.2, tip, drawn.high))
        if turn / self.py < 4:
            return  # a thread finer than the picture
        painter.setPen(self.ink.pen("ink", THIN))
        y = tip
        while y < drawn.high:  # the half of each turn that is in front rises by half the pitch
            end = min(y + 0.5 * turn, drawn.high)
            painter.drawLine(QPointF(left, y), QPointF(left + (right - left) * (end - y) / (0.5 * turn), end))
            y += turn


def _rect(one: float, other: float, low: float, high: float) -> QRectF:
    left, right = sorted((one, other))
    return QRectF(left, low, right - left, high - low)
