"""Draws a scene: bands, strokes, bars and marks, the chosen spring and those that are lit."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPolygonF
from typing_extensions import override

from ui.plots.ink import em
from ui.plots.painted import Painted
from ui.plots.stamp import stamped
from ui.trust.scene import Band, Dot, Note, Scene, Sign, Stroke
from ui.trust.swarm import spread_out

if TYPE_CHECKING:
    from PySide6.QtGui import QBrush, QPainter, QPen

RADIUS = 4.0
APART = 9.5  # px between marks of a swarm
REACH = 0.42  # of a column, to either side
ROOMY = 74  # px of a column that has room for words
NEAR = 14.0  # px: what the pointer is near enough to
ROLES = {Sign.PLAIN: "accent", Sign.WITHIN: "accent", Sign.WATCHED: "watch", Sign.OUTSIDE: "stop"}
EDGE = 7.0  # px from the edge: where a mark beyond it stands


class SceneItem(Painted):
    """One scene in one view."""

    def __init__(self) -> None:
        super().__init__(z=5)
        self.scene_shown = Scene()
        self.chosen: Dot | None = None
        self.lit: frozenset[str] = frozenset()
        self._steps: dict[int, float] = {}  # of a swarm: place in the dots -> px aside
        self._apart = APART
        self._stepped_for: object = None
        self._view = QRectF()
        self._taken: list[QRectF] = []  # by words, in the plot's units

    def show_scene(self, scene: Scene) -> None:
        """Draw this one from now on."""
        self.scene_shown = scene
        self._stepped_for = None
        self.update()

    def point_out(self, chosen: Dot | None, lit: frozenset[str]) -> None:
        """Mark one dot as the current one, and springs by name."""
        if (chosen, lit) != (self.chosen, self.lit):
            self.chosen, self.lit = chosen, lit
            self.update()

    # Where a mark stands

    def at(self, place: int) -> QPointF:
        """The place of a mark in the plot's units: aside in a swarm, at the edge where it lies beyond."""
        dot = self.scene_shown.dots[place]
        x = dot.x + self._steps.get(place, 0.0) * self.px
        return QPointF(x, min(max(dot.y, self._view.top() + EDGE * self.py), self._view.bottom() - EDGE * self.py))

    def beyond(self, dot: Dot) -> int:
        """1 where a mark lies above the view, -1 below, else 0."""
        return (dot.y > self._view.bottom()) - (dot.y < self._view.top())

    def nearest(self, point: QPointF) -> int | None:
        """The mark at a point of the plot; within a bar its own; None where there is none near."""
        if self.scene_shown.bars:
            place = round(point.x())
            return place if 0 <= place < len(self.scene_shown.dots) else None
        self._settle()
        best, found = NEAR * em(), None
        for place in range(len(self.scene_shown.dots)):
            at = self.at(place)
            far = math.hypot((at.x() - point.x()) / self.px, (at.y() - point.y()) / self.py)
            if far < best:
                best, found = far, place
        return found

    def _settle(self) -> None:
        """Set the marks of each column side by side, once for a scene and a size."""
        view = self.viewRect()
        if view is None:
            return
        self._view = QRectF(view)
        key = (self.px, self.py, view.top(), view.bottom(), em())
        if key == self._stepped_for:
            return
        self._stepped_for, self._steps, self._apart = key, {}, APART * em()
        if not self.scene_shown.swarm:
            return
        columns: dict[int, list[int]] = {}
        for place, dot in enumerate(self.scene_shown.dots):
            columns.setdefault(dot.place, []).append(place)
        reach = REACH / self.px - RADIUS * em()
        for own in columns.values():  # as far apart as the columns before: one size of marks in all
            steps, self._apart = spread_out([self.at(p).y() / self.py for p in own], self._apart, reach)
            self._steps |= dict(zip(own, steps, strict=True))

    @property
    def radius(self) -> float:
        """Of the marks, px: smaller where a swarm has little room."""
        return max(RADIUS * em() * self._apart / (APART * em()), 1.6)

    # Drawing

    @override
    def draw(self, painter: QPainter) -> None:
        self._settle()
        scene = self.scene_shown
        self._taken = []
        for band in scene.bands:
            self._band(painter, band)
        for stroke in scene.strokes:
            self._stroke(painter, stroke)
        for note in scene.notes:
            self._note(painter, note)
        if scene.bars:
            self._bars(painter)
        else:
            self._joined(painter)
            self._marks(painter)
        self._names(painter)

    def _band(self, painter: QPainter, band: Band) -> None:
        view = self._view
        if band.upright:
            low, high = view.left() if band.low is None else band.low, view.right() if band.high is None else band.high
            box = QRectF(low, view.top(), high - low, view.height())
            edges = [((x, view.top()), (x, view.bottom())) for x in (band.low, band.high) if x is not None]
        else:
            low, high = view.top() if band.low is None else band.low, view.bottom() if band.high is None else band.high
            box = QRectF(band.left, low, band.right - band.left, high - low)
            edges = [((band.left, y), (band.right, y)) for y in (band.low, band.high) if y is not None]
        painter.fillRect(box, self.ink.brush("clear", 0.13))
        for start, end in edges:
            self.line(painter, self.ink.pen("clear", 1.2), start, end)

    def _stroke(self, painter: QPainter, stroke: Stroke) -> None:
        view = self._view
        chosen = self.chosen is not None and stroke.spring == self.chosen.spring and stroke.spring != ""
        role = "accent" if chosen or stroke.spring in self.lit else stroke.role
        width = 2.2 if role != stroke.role else stroke.width
        pen = self.ink.dashed(role, stroke.pattern, width) if stroke.pattern else self.ink.pen(role, width)
        start, end = stroke.start, stroke.end
        if stroke.level:
            start, end = (view.left(), start[1]), (view.right(), end[1])
        elif stroke.upright:
            start, end = (start[0], view.top()), (end[0], view.bottom())
        self.line(painter, pen, start, end)
        if stroke.words:
            at = (view.right() - 4 * self.px, end[1])
            role = stroke.role if stroke.role in ("watch", "stop") else "quiet"
            self._taken.append(self.text(painter, at, stroke.words, role=role, anchor=(1.0, 1.0), share=0.86))

    def _note(self, painter: QPainter, note: Note) -> None:
        if note.roomy and 1 / self.px < ROOMY * em():
            return
        at = (note.at[0] + 3 * self.px, note.at[1])
        self._taken.append(self.text(painter, at, note.words, role=note.role, anchor=note.anchor, share=0.82))

    def _bars(self, painter: QPainter) -> None:
        half = min(0.38, 14 * em() * self.px)
        for dot in self.scene_shown.dots:
            self._halo(painter, QRectF(dot.x - 0.5, self._view.top(), 1.0, self._view.height()), dot)
            role = ROLES[dot.sign]
            painter.setPen(self.ink.pen(role, 1.2))
            painter.setBrush(self.ink.brush(role) if dot.sign is Sign.OUTSIDE else self.ink.tint(role, 0.35))
            painter.drawRect(QRectF(dot.x - half, min(dot.y, 0.0), 2 * half, abs(dot.y)))
            if dot.sign is Sign.WATCHED and half > 3 * self.px:  # a line across its head, where colours do not tell
                inset = min(4 * self.py, abs(dot.y) / 2)
                self.line(
                    painter, self.ink.pen(role, 1.2), (dot.x - half, dot.y - inset), (dot.x + half, dot.y - inset)
                )

    def _halo(self, painter: QPainter, box: QRectF, dot: Dot) -> None:
        if dot == self.chosen:
            painter.fillRect(box, self.ink.tint("accent", 0.16))
        elif dot.spring in self.lit:
            painter.fillRect(box, self.ink.tint("accent", 0.08))

    def _joined(self, painter: QPainter) -> None:
        """The chosen spring from column to column."""
        if not self.scene_shown.joined or self.chosen is None:
            return
        own = [place for place, dot in enumerate(self.scene_shown.dots) if dot.spring == self.chosen.spring]
        painter.setPen(self.ink.pen("accent", 1.4, alpha=0.7))
        painter.drawPolyline(QPolygonF([self.at(place) for place in own]))

    def _marks(self, painter: QPainter) -> None:
        dots = self.scene_shown.dots
        pens = {sign: (self.ink.pen(role, 1.4), self._fill(sign)) for sign, role in ROLES.items()}
        reach = self.ink.pen("lines", 1.0)
        plain = [place for place, dot in enumerate(dots) if self._is_plain(dot)]
        painter.setPen(self.ink.pen("accent", 1.4))
        painter.setBrush(self.ink.brush("panel"))
        radius = self.radius
        circles = [self._box(self.at(place), radius) for place in plain]
        done = set(plain) if stamped(painter, circles, self.ink.scale) else set()
        shining = [place for place, dot in enumerate(dots) if self._shines(dot)]
        for place in (p for p in range(len(dots)) if p not in done and not self._shines(dots[p])):
            self._mark(painter, place, dots[place], *pens[dots[place].sign], reach)
        for place in shining:  # on top of all others
            self._ring(painter, place, dots[place])
            self._mark(painter, place, dots[place], *pens[dots[place].sign], reach)

    def _is_plain(self, dot: Dot) -> bool:
        """Whether a mark is but a circle, as most are."""
        circle = dot.sign in (Sign.PLAIN, Sign.WITHIN) and not dot.doubted and dot.wide is None and dot.tall is None
        return circle and not self.beyond(dot) and not self._shines(dot)

    def _shines(self, dot: Dot) -> bool:
        """Whether a mark is of the chosen spring, or lit."""
        own = self.chosen is not None and dot.spring == self.chosen.spring and dot.spring != ""
        return own or dot == self.chosen or dot.spring in self.lit

    def _fill(self, sign: Sign) -> QBrush:
        return self.ink.brush("stop") if sign is Sign.OUTSIDE else self.ink.brush("panel")

    def _ring(self, painter: QPainter, place: int, dot: Dot) -> None:
        painter.setPen(self.ink.pen("accent", 2.0 if dot == self.chosen else 1.2))
        painter.setBrush(self.ink.tint("accent", 0.25))
        painter.drawEllipse(self._box(self.at(place), self.radius + 4.5 * em()))

    def _mark(self, painter: QPainter, place: int, dot: Dot, pen: QPen, fill: QBrush, reach: QPen) -> None:
        at = self.at(place)
        if dot.wide is not None:
            self.line(painter, reach, (at.x() - dot.wide, at.y()), (at.x() + dot.wide, at.y()))
        if dot.tall is not None:
            self.line(painter, reach, (at.x(), at.y() - dot.tall), (at.x(), at.y() + dot.tall))
        if dot.doubted:
            painter.setPen(self.ink.pen("watch", 1.4))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self._box(at, self.radius + 2.5))
        painter.setPen(pen)
        painter.setBrush(fill)
        beyond = self.beyond(dot)
        if beyond:
            painter.drawPolygon(self._arrow(at, beyond))
        elif dot.sign is Sign.OUTSIDE:
            painter.drawPolygon(self._diamond(at))
        elif dot.sign is Sign.WATCHED:
            painter.drawPolygon(self._arrow(at, -1))
        else:
            painter.drawEllipse(self._box(at, self.radius))

    def _box(self, at: QPointF, radius: float) -> QRectF:
        wide, tall = radius * self.px, radius * self.py
        return QRectF(at.x() - wide, at.y() - tall, 2 * wide, 2 * tall)

    def _diamond(self, at: QPointF) -> QPolygonF:
        x, y = 1.3 * self.radius * self.px, 1.3 * self.radius * self.py
        return QPolygonF([at + QPointF(x, 0), at + QPointF(0, y), at + QPointF(-x, 0), at + QPointF(0, -y)])

    def _arrow(self, at: QPointF, way: int) -> QPolygonF:
        x, y = 1.2 * self.radius * self.px, 1.2 * self.radius * self.py * way
        return QPolygonF([at + QPointF(-x, -y), at + QPointF(x, -y), at + QPointF(0, y)])

    # Names

    def _names(self, painter: QPainter) -> None:
        """The chosen one, the lit ones, then those outside, the farthest first, as far as there is room."""
        dots = self.scene_shown.dots
        wanted = [place for place, dot in enumerate(dots) if self._named(dot)]
        for place in sorted(wanted, key=lambda each: self._rank(dots[each])):
            self._name(painter, place, dots[place])

    def _named(self, dot: Dot) -> bool:
        if not dot.spring:
            return False
        if self.scene_shown.bars:
            return dot == self.chosen
        told = dot.sign in (Sign.OUTSIDE, Sign.WATCHED) or dot.doubted or bool(self.beyond(dot))
        joined = self.scene_shown.joined and self.chosen is not None and dot.spring == self.chosen.spring
        return told or dot == self.chosen or (dot.spring in self.lit and not joined)  # once on its line is enough

    def _rank(self, dot: Dot) -> tuple[int, float]:
        return (0 if dot == self.chosen else 1 if dot.spring in self.lit else 2, -abs(dot.y))

    def _name(self, painter: QPainter, place: int, dot: Dot) -> None:
        at, bold = self.at(place), dot == self.chosen
        away = (self.radius + (7 if bold or dot.spring in self.lit else 4)) * self.px
        wide, tall = (self.width_of(dot.spring, 0.84) + 2) * self.px, 13 * em() * self.py
        for left in (at.x() + away, at.x() - away - wide):
            box = QRectF(left, at.y() - tall / 2, wide, tall)
            if self._free(box) or bold:
                role = "accent" if bold else "stop" if dot.sign is Sign.OUTSIDE else "ink"
                self.text(painter, (left, at.y()), dot.spring, role=role, anchor=(0.0, 0.5), share=0.84, bold=bold)
                self._taken.append(box)
                return

    def _free(self, box: QRectF) -> bool:
        inside = box.left() >= self._view.left() and box.right() <= self._view.right()
        return inside and not any(box.intersects(other) for other in self._taken)
