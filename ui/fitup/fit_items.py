"""What the picture draws: target bands, loads now and planned with a line between, stacks as plates to one scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from typing_extensions import override

from ui.plots.ink import em
from ui.plots.painted import Painted

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

REACH = 0.38  # of a valve's room, to either side
RADIUS = 4.5
PLATE = 0.30


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One valve in the units on show. `words` stand beside its mark: what is locked, what forbids a plan."""

    name: str
    before: float | None
    after: float | None
    low: float | None
    high: float | None
    target: float | None
    shims: tuple[float, ...]
    locked: bool
    barred: bool
    words: str


class _Marks(Painted):
    """A view of the valves' marks: which is the current one, which are lit, whether they are out of date."""

    def __init__(self) -> None:
        super().__init__(z=5)
        self.marks: tuple[Mark, ...] = ()
        self.chosen: int | None = None
        self.lit: frozenset[str] = frozenset()
        self.stale = False

    def show_marks(self, marks: tuple[Mark, ...], *, stale: bool) -> None:
        """Draw these."""
        self.marks, self.stale = marks, stale
        self.update()


class LoadMarks(_Marks):
    """The upper view."""

    @override
    def draw(self, painter: QPainter) -> None:
        view = self.viewRect()
        for place, mark in enumerate(self.marks):
            self._ground(painter, place, mark, view)
        for place, mark in enumerate(self.marks):
            self._band(painter, place, mark)
        for place, mark in enumerate(self.marks):
            self._loads(painter, place, mark)
            self._words(painter, place, mark, view)

    def _ground(self, painter: QPainter, place: int, mark: Mark, view: QRectF) -> None:
        column = QRectF(place - 0.5, view.top(), 1.0, view.height())
        if mark.name in self.lit:
            painter.fillRect(column, self.ink.tint("stop", 0.16))
        elif place == self.chosen:
            painter.fillRect(column, self.ink.tint("accent", 0.14))

    def _band(self, painter: QPainter, place: int, mark: Mark) -> None:
        left, right = place - 0.5, place + 0.5
        if mark.low is not None and mark.high is not None:
            painter.fillRect(QRectF(left, mark.low, 1.0, mark.high - mark.low), self.ink.brush("clear", 0.16))
            for edge in (mark.low, mark.high):
                self.line(painter, self.ink.pen("clear"), (left, edge), (right, edge))
        if mark.target is not None:
            pen = self.ink.dashed("clear", (4.0, 4.0))
            self.line(painter, pen, (left, mark.target), (right, mark.target))

    def _loads(self, painter: QPainter, place: int, mark: Mark) -> None:
        role = "quiet" if self.stale else "accent"
        if mark.before is not None and mark.after is not None:
            self.line(painter, self.ink.pen("lines", 1.2), (place, mark.before), (place, mark.after))
        if mark.before is not None:
            painter.setPen(self.ink.pen("ink" if mark.after is None else "quiet", 1.5))
            painter.setBrush(self.ink.brush("panel"))
            painter.drawEllipse(self._box(place, mark.before, RADIUS))
        if mark.after is None:
            return
        painter.setPen(self.ink.pen(role, 1.5))
        painter.setBrush(self.ink.brush("panel" if self.stale else role))
        if self.stale:
            painter.setPen(self.ink.dashed(role, (2.0, 2.0), 1.5))
        if mark.locked:
            painter.drawRect(self._box(place, mark.after, RADIUS - 0.5))
        else:
            painter.drawEllipse(self._box(place, mark.after, RADIUS))

    def _box(self, place: int, load: float, radius: float) -> QRectF:
        wide, tall = radius * em() * self.px, radius * em() * self.py
        return QRectF(place - wide, load - tall, 2 * wide, 2 * tall)

    def _words(self, painter: QPainter, place: int, mark: Mark, view: QRectF) -> None:
        """Beneath the top edge, upright where there is room, else read from the right; a bar for what forbids."""
        if not mark.words:
            return
        role = "stop" if mark.barred else "quiet"
        top = view.bottom() - 3 * self.py
        if mark.barred:
            self._barred(painter, place, top)
            top -= 16 * em() * self.py
        roomy = self.width_of(mark.words, 0.8) < 0.95 / self.px
        tall = (top - view.top()) / self.py > self.width_of(mark.words, 0.8) + 4
        words = mark.words if roomy or tall else mark.words.split(", ")[0]
        anchor = (0.5, 0.0) if roomy else (1.0, 0.5)
        self.text(painter, (place, top), words, role=role, anchor=anchor, share=0.8, rotated=not roomy, ground="panel")

    def _barred(self, painter: QPainter, place: int, top: float) -> None:
        side = 12 * em()
        box = QRectF(place - side / 2 * self.px, top - side * self.py, side * self.px, side * self.py)
        painter.setPen(self.ink.pen("stop", 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        middle = box.center().y()
        self.line(painter, self.ink.pen("stop", 2.0), (box.left(), middle), (box.right(), middle))


class Stacks(_Marks):
    """The lower view: plates from the line up, each as thick as its shim, and the valves' names beneath."""

    @override
    def draw(self, painter: QPainter) -> None:
        view = self.viewRect()
        self.line(painter, self.ink.pen("lines", 1.0), (view.left(), 0.0), (view.right(), 0.0))
        every = self._every()
        for place, mark in enumerate(self.marks):
            if mark.name in self.lit or place == self.chosen:
                role, share = ("stop", 0.16) if mark.name in self.lit else ("accent", 0.14)
                painter.fillRect(QRectF(place - 0.5, view.top(), 1.0, view.height()), self.ink.tint(role, share))
            self._plates(painter, place, mark)
            if place % every == 0 or place == self.chosen:
                bold = place == self.chosen
                self.text(painter, (place, -3 * self.py), mark.name, anchor=(0.5, 0.0), share=0.86, bold=bold)

    def _every(self) -> int:
        """Every how manieth name has room."""
        widest = max((self.width_of(mark.name, 0.86) for mark in self.marks), default=0.0) + 4
        return max(1, int(widest * self.px) + 1)

    def _plates(self, painter: QPainter, place: int, mark: Mark) -> None:
        base = 0.0
        wide = min(PLATE, 15 * em() * self.px)
        role = "quiet" if self.stale else "accent"
        painter.setPen(self.ink.pen(role, 1.2))
        for shim in mark.shims:
            painter.setBrush(self.ink.tint(role, 0.28))
            painter.drawRect(QRectF(QPointF(place - wide, base), QPointF(place + wide, base + shim)))
            base += shim
