"""Draws one chart: fields, lines, marks, the place that is read out, and the names where they find room."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPainterPath, QPen, QPolygonF
from typing_extensions import override

from ui.plots.ink import DASHES, Ink, em, face
from ui.plots.painted import Painted
from ui.spring.chart import Chart, Look, Mark, Name, Shape, Stroke
from ui.spring.name_room import Found, Room, Size, points_along

if TYPE_CHECKING:
    from loadbench.arrays import Floats

SIZE, SMALL = 4.2, 2.6  # half a mark, px
NEAR = 13.0  # px: what the pointer is near enough to
SHARE = 0.84  # of the window's font: names
FAINT = 0.55  # of a faint colour in the ground

Find = Callable[[Size, Name, "int | None"], "Found | None"]
"""Finds room for a text of a size: its name's wishes, and where it stood last time."""

Drawn = tuple[QPainterPath | QLineF, QPen, bool]
"""A line, its pen, and whether it is level or upright."""

Placed = tuple[Name, str, QPointF]
"""A name, the text that fits, and its lower left corner on the base line, px from the view's upper left."""


class ChartItem(Painted):
    """One chart in one view; kept, and shown another chart at every edit."""

    def __init__(self) -> None:
        super().__init__(z=5)
        self.chart = Chart()
        self.chosen = ""  # key of the mark that is read out
        self.cursor: float | None = None  # place across that is read out
        self._lines: list[Drawn] = []
        self._fields: list[QPolygonF] = []
        self._named: list[Placed] = []
        self._choices: dict[tuple[int, int], int] = {}  # of each name and length of its text: names do not jump about
        self._laid_out_for: object = None  # the place and size of the view
        self._stale = True  # another chart since the names were placed

    def show_chart(self, chart: Chart) -> None:
        """Draw this one from now on."""
        self.chart = chart
        self._lines = [self._line(each) for each in chart.strokes]
        self._fields = [
            QPolygonF([QPointF(x, y) for x, y in zip(each.xs, each.ys, strict=True)]) for each in chart.shades
        ]
        self._stale = True
        self.update()

    @override
    def restyle(self, ink: Ink) -> None:
        super().restyle(ink)
        self.show_chart(self.chart)

    def point_out(self, key: str, cursor: float | None) -> None:
        """Ring the mark of this key, and draw a line at a place across."""
        if (key, cursor) != (self.chosen, self.cursor):
            self.chosen, self.cursor = key, cursor
            self.update()

    def nearest(self, x: float, y: float) -> tuple[float, str]:
        """How far the nearest mark with a key is from a point of the plot, px, and its key; "" where none is near."""
        best, found = NEAR * em(), ""
        for mark in self.chart.marks:
            far = math.hypot((mark.x - x) / self.px, (mark.y - y) / self.py)
            if mark.key and far < best:
                best, found = far, mark.key
        return best, found

    @property
    def names_written(self) -> tuple[str, ...]:
        """The names that found room when it was last drawn."""
        return tuple(text for _, text, _ in self._named)

    def name_boxes(self) -> list[QRectF]:
        """The boxes of those names, px from the view's upper left."""
        letters = [face(SHARE, bold=name.bold) for name, _, _ in self._named]
        return [
            QRectF(at.x(), at.y() - each.ascent, each.width(text), each.tall)
            for each, (_, text, at) in zip(letters, self._named, strict=True)
        ]

    def _line(self, stroke: Stroke) -> Drawn:
        pen, xs, ys = self.pen(stroke.look), stroke.xs, stroke.ys
        if len(xs) > 2:
            return pg.arrayToQPath(xs, ys, connect="finite"), pen, False
        line = QLineF(float(xs[0]), float(ys[0]), float(xs[1]), float(ys[1]))
        straight = line.dx() == 0 or line.dy() == 0
        if straight:  # without antialiasing a width between pixels would be now the one and now the other
            pen.setWidthF(max(1.0, round(pen.widthF())))
        return line, pen, straight

    # Drawing

    @override
    def draw(self, painter: QPainter) -> None:
        view = self.boundingRect()
        if not (view.width() > 0 and view.height() > 0 and 0 < self.px < math.inf and 0 < self.py < math.inf):
            return  # a view squeezed to nothing has no place for anything, and Qt may not survive what is drawn there
        for shape, shade in zip(self._fields, self.chart.shades, strict=True):
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.ink.tint(shade.role, shade.share))
            painter.drawPolygon(shape)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for line, pen, straight in self._lines:
            # Level and upright lines are sharp without, and drawn in a tenth of the time.
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, not straight)
            painter.setPen(pen)
            if isinstance(line, QLineF):
                painter.drawLine(line)
            else:
                painter.drawPath(line)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._draw_cursor(painter)
        for mark in self.chart.marks:
            self._draw_mark(painter, mark)
        self._draw_names(painter)

    def pen(self, look: Look, *, solid: bool = False) -> QPen:
        """The pen of a look."""
        pattern = () if solid else look.pattern
        pen = self.ink.dashed(look.role, pattern, look.width) if pattern else self.ink.pen(look.role, look.width)
        if look.series is not None:
            pen.setColor(self.ink.series(look.series, DASHES[0]).color())
        if look.faint:
            mine, ground = pen.color(), self.ink.colours.colour("panel")
            mine.setRgbF(
                *(FAINT * a + (1 - FAINT) * b for a, b in zip(mine.getRgbF()[:3], ground.getRgbF()[:3], strict=True))  # type: ignore[index]
            )
            pen.setColor(mine)
        return pen

    def _draw_cursor(self, painter: QPainter) -> None:
        if self.cursor is not None:
            view = self.boundingRect()
            pen = self.ink.dashed("quiet", DASHES[1])
            self.line(painter, pen, (self.cursor, view.top()), (self.cursor, view.bottom()))

    def _draw_mark(self, painter: QPainter, mark: Mark) -> None:
        at = QPointF(mark.x, mark.y)
        if mark.key and mark.key == self.chosen:
            painter.setPen(self.ink.pen("accent", 1.6))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(at, 2.1 * SIZE * em() * self.px, 2.1 * SIZE * em() * self.py)
        pen = self.pen(mark.look, solid=True)
        painter.setPen(pen)
        painter.setBrush(QBrush(pen.color()) if mark.filled else self.ink.brush("panel"))
        if mark.shape is not Shape.NONE:
            painter.drawPath(self._outline(mark))

    def _outline(self, mark: Mark) -> QPainterPath:
        size = (SMALL if mark.small else SIZE) * em()
        x, y, wide, tall, path = mark.x, mark.y, size * self.px, size * self.py, QPainterPath()
        if mark.shape is Shape.CIRCLE:
            path.addEllipse(QPointF(x, y), wide, tall)
        elif mark.shape is Shape.SQUARE:
            path.addRect(QRectF(x - wide, y - tall, 2 * wide, 2 * tall))
        elif mark.shape in (Shape.CROSS, Shape.BAR):
            ends = ((1, 1), (1, -1)) if mark.shape is Shape.CROSS else ((1.4, 0),)
            for across, up in ends:
                path.moveTo(x - across * wide, y - up * tall)
                path.lineTo(x + across * wide, y + up * tall)
        else:
            low = (0.0, -1.3) if mark.shape is Shape.DIAMOND else None
            corners = [(-1.3, 0.0), (0.0, 1.3), (1.3, 0.0), low] if low else [(-1.1, -1.0), (1.1, -1.0), (0.0, 1.2)]
            path.addPolygon(QPolygonF([QPointF(x + a * wide, y + b * tall) for a, b in corners if (a, b)]))
            path.closeSubpath()
        return path

    # Names

    def _draw_names(self, painter: QPainter) -> None:
        view = self.boundingRect()
        key = (self.px, self.py, view.left(), view.top(), view.width(), view.height(), em())
        if key != self._laid_out_for:
            self._laid_out_for = key
            self._choices.clear()
            self._stale = True
        if self._stale:
            self._stale, self._named = False, self._place_names(view)
        painter.save()
        painter.translate(view.left(), view.bottom())
        painter.scale(self.px, -self.py)
        for name, text, at in self._named:
            letters = face(SHARE, bold=name.bold)
            if name.must:
                box = QRectF(at.x() - 1, at.y() - letters.ascent, letters.width(text) + 2, letters.tall)
                painter.fillRect(box, self.ink.brush("panel", 0.75))
            painter.setFont(letters.font)
            painter.setPen(self.ink.colours.colour(name.role))
            painter.drawText(at, text)
        painter.restore()

    def _place_names(self, view: QRectF) -> list[Placed]:
        """By rank; of one rank marks first, then lines, in the order in which the chart has them."""
        chart = self.chart
        lines = [self._screen(each.xs, each.ys, view) for each in chart.strokes]
        room = Room(view.width() / self.px, view.height() / self.py, lines)
        spots = [self._spot(mark, view) for mark in chart.marks]
        for x, y, away in spots:
            room.take((x - away, y - away, x + away, y + away))
        wanted: list[tuple[Name, Find]] = []
        for mark, spot in zip(chart.marks, spots, strict=True):
            if mark.name is not None:
                wanted.append((mark.name, partial(room.at_mark, spot)))
        for place, stroke in enumerate(chart.strokes):
            if stroke.name is not None:
                wanted.append((stroke.name, partial(room.beside_line, place)))
        if chart.title:
            wanted.append((Name(texts=(chart.title,), bold=True, rank=9), room.in_a_corner))
        placed = [
            self._written(place, *wanted[place])
            for place in sorted(range(len(wanted)), key=lambda each: wanted[each][0].rank)
        ]
        return [each for each in placed if each is not None]

    def _written(self, place: int, name: Name, find: Find) -> Placed | None:
        """The longest text of a name that finds room: where it stood last time, if it still can."""
        letters = face(SHARE, bold=name.bold)
        for text in name.texts:
            found = find((letters.width(text), letters.tall), name, self._choices.get((place, len(text))))
            if found is not None:
                self._choices[place, len(text)] = found[2]
                return name, text, QPointF(found[0], found[1] + letters.ascent)
        return None

    def _screen(self, xs: Floats, ys: Floats, view: QRectF) -> Floats:
        across, down = (xs - view.left()) / self.px, (view.bottom() - ys) / self.py
        return points_along(np.clip(across, -1e4, 1e4), np.clip(down, -1e4, 1e4))

    def _spot(self, mark: Mark, view: QRectF) -> tuple[float, float, float]:
        """Where a mark stands and how far it reaches, px."""
        away = 0.0 if mark.shape is Shape.NONE else (SMALL if mark.small else SIZE) * em()
        return (mark.x - view.left()) / self.px, (view.bottom() - mark.y) / self.py, away
