"""A small picture of a lift table that is to be imported: the readings, and the rows with faults crossed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from ui.palette import colours
from ui.theme import theme

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QPaintEvent

    from loadbench.arrays import Floats
    from loadbench.errors import Problem
    from loadbench.readings.lift_file import LiftFile

MARGIN = 10.0
CROSS = 5.0
MOST_NAMED = 6


class LiftPicture(QWidget):
    """Lift over angle, as stated; it says in words what it shows."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("lift_picture")
        self.setMinimumHeight(150)
        self._points: list[QPointF] = []  # from 0 to 1, left to right and bottom to top
        self._crossed: list[tuple[int, QPointF]] = []
        self._ends = ("", "", "")
        theme().changed.connect(self.update)

    @property
    def crossed(self) -> list[int]:
        """The rows of the file that are crossed."""
        return [row for row, _ in self._crossed]

    def show_table(self, found: LiftFile, faults: Sequence[Problem]) -> None:
        """Draw a table with its faults."""
        self._points = _scaled(_counted_on(found), found.lifts)
        places = {row: place for place, row in enumerate(found.places)}
        rows = sorted({fault.place.row for fault in faults if fault.place.row in places})
        self._crossed = [(row, self._points[places[row]]) for row in rows] if self._points else []
        angles = found.angles if found.angles.size else [0.0]
        first, last = (f"{math.degrees(angle):.5g}°" for angle in (min(angles), max(angles)))
        self._ends = (first, last, found.rows[int(found.lifts.argmax())][1] if found.rows else "")
        text = self.tr("Lift over angle, {first} to {last}, at most {lift}; {count} rows crossed")
        told = text.format(first=first, last=last, lift=self._ends[2], count=len(self._crossed))
        self.setAccessibleName(told)
        self.setToolTip(told)
        self.update()

    @override
    def sizeHint(self) -> QSize:
        return QSize(420, 190)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        shown, painter = colours(), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        tall = float(self.fontMetrics().height())
        frame = QRectF(self.rect()).adjusted(MARGIN, MARGIN + tall, -MARGIN, -MARGIN - tall)
        painter.setPen(QPen(shown.colour("lines"), 1.0))
        painter.drawLine(frame.bottomLeft(), frame.bottomRight())
        painter.setPen(QPen(shown.colour("accent"), 1.5))
        line = QPolygonF([_within(frame, point) for point in self._points])
        painter.drawPolyline(line)
        painter.setPen(QPen(shown.colour("stop"), 2.0))
        for number, (row, point) in enumerate(self._crossed):
            _cross(painter, _within(frame, point), str(row) if number < MOST_NAMED else "")
        painter.setPen(shown.colour("quiet"))
        below = QRectF(frame.left(), frame.bottom() + 2, frame.width(), tall)
        painter.drawText(below, Qt.AlignmentFlag.AlignLeft, self._ends[0])
        painter.drawText(below, Qt.AlignmentFlag.AlignRight, self._ends[1])
        painter.drawText(QRectF(frame.left(), 2, frame.width(), tall), Qt.AlignmentFlag.AlignHCenter, self._ends[2])
        painter.end()


def _counted_on(found: LiftFile) -> Floats:
    """The angles of a wheel that starts again, in one piece; it may be the crank's without saying so."""
    from loadbench.motion.lift_table import counted_on

    turns = 2.0 if found.profile_angle == "crank" else 1.0
    return turns * counted_on(found.angles / turns)[0]


def _scaled(angles: Floats, lifts: Floats) -> list[QPointF]:
    if angles.size < 2:
        return []
    low, high = float(min(lifts.min(), 0.0)), float(lifts.max())
    wide, tall = float(angles.max() - angles.min()) or 1.0, (high - low) or 1.0
    x, y = (angles - angles.min()) / wide, (lifts - low) / tall
    return [QPointF(across, up) for across, up in zip(x.tolist(), y.tolist(), strict=True)]


def _within(frame: QRectF, point: QPointF) -> QPointF:
    return QPointF(frame.left() + point.x() * frame.width(), frame.bottom() - point.y() * frame.height())


def _cross(painter: QPainter, at: QPointF, row: str) -> None:
    arm, other = QPointF(CROSS, CROSS), QPointF(CROSS, -CROSS)
    painter.drawLine(at - arm, at + arm)
    painter.drawLine(at - other, at + other)
    painter.drawText(at + QPointF(CROSS + 3, -CROSS), row)
