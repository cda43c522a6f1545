"""The load plot's own items: bind zone, limits, readings, labels at the levels, the key below bind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPolygonF
from typing_extensions import override

from loadbench.arrays import Floats
from ui.icons import pixmap
from ui.plots.ink import DASHES, THIN, em, screen_ink
from ui.plots.painted import Painted

ICON = 16
LABEL = 0.88  # of the window's font: the words at the levels
LEVELS = ("clear", "watch", "stop")
ZONE = 0.07  # how strongly the bind zone is shaded
MARK = 4.5  # half the size of a reading's mark, px


class Zone(Painted):
    """The bind zone, shaded, in either view."""

    def __init__(self) -> None:
        super().__init__(z=-20)
        self.bind: float | None = None

    def show_bind(self, bind: float | None) -> None:
        """Shade everything below this height."""
        self.bind = bind
        self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        if self.bind is not None:
            rect = self.boundingRect()
            painter.fillRect(
                QRectF(rect.left(), rect.top(), rect.width(), self.bind - rect.top()), self.ink.tint("stop", ZONE)
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """Readings of one spring: where, what mark, which series (None: the accent), the curve of a member."""

    name: str
    loads: Floats
    heights: Floats
    place: int | None = None
    curve: tuple[Floats, Floats] | None = None


class Readings(Painted):
    """Readings as open marks; a nest's members each with mark, dash and name."""

    def __init__(self) -> None:
        super().__init__(z=10)
        self.series: tuple[Series, ...] = ()

    def show_series(self, series: tuple[Series, ...]) -> None:
        """Draw these from now on."""
        self.series = series
        self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        for each in self.series:
            pen = (
                self.ink.pen("accent", 1.6)
                if each.place is None
                else self.ink.series(each.place, DASHES[each.place % 3], 1.2)
            )
            if each.curve is not None:
                painter.setPen(pen)
                points = QPolygonF([QPointF(x, y) for x, y in zip(*(one[::8] for one in each.curve), strict=True)])
                painter.drawPolyline(points)
                end = points.at(points.count() - 1)
                # one above the other: the curves start close together
                level = end.y() + 12 * self.py * (each.place or 0)
                self.text(painter, (end.x(), level), each.name, role="quiet", anchor=(0.0, 1.0), share=0.82)
            pen.setStyle(Qt.PenStyle.SolidLine)
            painter.setPen(pen)
            painter.setBrush(self.ink.brush("panel"))
            for x, y in zip(each.loads, each.heights, strict=True):
                painter.drawPath(self._mark(x, y, each.place or 0))

    def _mark(self, x: float, y: float, place: int) -> QPainterPath:
        path = QPainterPath()
        wide, tall = MARK * self.px, MARK * self.py
        if place % 3 == 0:
            path.addEllipse(QPointF(x, y), wide, tall)
        elif place % 3 == 1:
            path.addRect(QRectF(x - wide, y - tall, 2 * wide, 2 * tall))
        else:
            path.addPolygon(QPolygonF([QPointF(x - wide, y - tall), QPointF(x + wide, y - tall), QPointF(x, y + tall)]))
            path.closeSubpath()
        return path


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitMark:
    """A limit as it stands in the plot: its load, its name with value, its rule."""

    rule: str
    text: str
    level: str
    load: float


class Limits(Painted):
    """The rule book's limits: thin vertical lines with their names along them."""

    def __init__(self) -> None:
        super().__init__(z=-5)
        self.marks: tuple[LimitMark, ...] = ()
        self.lit: str | None = None

    def show_marks(self, marks: tuple[LimitMark, ...]) -> None:
        """Draw these from now on."""
        self.marks = marks
        self.update()

    def light(self, rule: str | None) -> None:
        """Light up the limits of one rule."""
        if rule != self.lit:
            self.lit = rule
            self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        rect, taken = self.boundingRect(), list[float]()
        for mark in self.marks:
            if not rect.left() <= mark.load <= rect.right():
                continue
            lit = mark.rule == self.lit
            role = mark.level
            low, high = rect.top(), rect.bottom()
            pen = self.ink.pen(role, 2.2) if lit else self.ink.dashed(role, DASHES[mark.level == "watch"], 1.0)
            self.line(painter, pen, (mark.load, low), (mark.load, high))
            crowded = any(abs(mark.load - other) < 15 * self.px for other in taken)
            if not crowded:
                taken.append(mark.load)
                at = (mark.load - 2 * self.px, low + 6 * self.py)  # below the key, where the plot is empty
                self.text(painter, at, mark.text, role=role, rotated=True, anchor=(0.0, 1.0), share=0.8, bold=lit)


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelLabel:
    """What stands at a level line: a word and a value, above or below the line."""

    name: str
    texts: tuple[str, ...]  # the longest that fits is written
    height: float
    role: str
    above: bool
    load: float | None = None  # stands right of this load; None: at the left edge


class Labels(Painted):
    """The words at the level lines, on the left of the plot."""

    def __init__(self) -> None:
        super().__init__(z=-1)  # the load line stays whole where a word reaches it
        self.labels: tuple[LevelLabel, ...] = ()
        self.lit: frozenset[str] = frozenset()

    def show_labels(self, labels: tuple[LevelLabel, ...]) -> None:
        """Write these from now on."""
        self.labels = labels
        self.update()

    def light(self, names: frozenset[str]) -> None:
        """Light up the words at some levels."""
        if names != self.lit:
            self.lit = names
            self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        rect = self.boundingRect()
        edge, room = rect.left() + 12 * self.px, rect.width() / self.px - 16
        for label in self.labels:
            text = next((each for each in label.texts if self.width_of(each, LABEL) <= room), label.texts[-1])
            left = edge if label.load is None else label.load + 10 * self.px
            left = max(edge, min(left, rect.right() - (self.width_of(text, LABEL) + 4) * self.px))
            at, role = (left, label.height + 3 * self.py * (1 if label.above else -1)), label.role
            anchor, lit = (0.0, 1.0 if label.above else 0.0), label.name in self.lit
            self.text(painter, at, text, role=role, anchor=anchor, bold=lit, ground="panel", share=LABEL)


class Key(Painted):
    """The key in the empty room below bind: the clearances with their chance; what the line rests on."""

    def __init__(self) -> None:
        super().__init__(z=14)
        self.rows: tuple[tuple[str, str], ...] = ()
        self.top = self.foot = 0.0

    def show_rows(self, rows: Sequence[tuple[str, str]], top: float, foot: float) -> None:
        """Write rows of text and role below a height, and `foot` px free of the plot's lower edge."""
        self.rows, self.top, self.foot = tuple(rows), top, foot
        self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        rect = self.boundingRect()
        step, floor = 16 * em() * self.py, rect.top() + self.foot * em() * self.py
        high = min(self.top, rect.bottom()) - 22 * em() * self.py
        share, ground = 0.86, self.ink.tint("stop", ZONE)
        for text, role in self.rows:
            left = 6 + (ICON + 4 if role in LEVELS else 0)
            parts = self._folded(text, rect.width() / self.px - left - 8, share)
            if high - step * len(parts) < floor:
                return  # what has no room stands in the findings
            if role in LEVELS:
                self._icon(painter, role, (rect.left() + 6 * self.px, high - step / 2))
            for part in parts:
                at = (rect.left() + left * self.px, high)
                self.text(painter, at, part, role=role, anchor=(0.0, 0.0), share=share, ground=ground)
                high -= step
            high -= 3 * self.py

    def _icon(self, painter: QPainter, level: str, at: tuple[float, float]) -> None:
        """The level's icon left of its row; on paper the word alone stands there."""
        if self.ink != screen_ink():
            return
        painter.save()
        painter.translate(*at)
        painter.scale(self.px, -self.py)
        painter.drawPixmap(QPointF(0, -ICON / 2), pixmap(level, ICON, level))
        painter.restore()

    def _folded(self, text: str, wide: float, share: float) -> list[str]:
        """The text in lines that fit."""
        lines, line = [], ""
        for word in text.split(" "):
            longer = f"{line} {word}".strip()
            if line and self.width_of(longer, share) > wide:
                lines.append(line)
                line = word
            else:
                line = longer
        return [*lines, line]


class Cross(Painted):
    """Where the read-out reads: a thin line at its height and a dot on the load line."""

    def __init__(self) -> None:
        super().__init__(z=30)
        self.at: tuple[float, float] | None = None

    def show_at(self, at: tuple[float, float] | None) -> None:
        """Mark load and height; None hides it."""
        if at != self.at:
            self.at = at
            self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        if self.at is None:
            return
        load, height = self.at
        rect = self.boundingRect()
        self.line(painter, self.ink.dashed("quiet", DASHES[1], THIN), (rect.left(), height), (rect.right(), height))
        self.line(painter, self.ink.dashed("quiet", DASHES[1], THIN), (load, rect.top()), (load, height))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.ink.brush("ink"))
        painter.drawEllipse(QPointF(load, height), 3 * self.px, 3 * self.py)
