"""The axis beneath a picture: numbers, or the names of its columns."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QPointF, QRectF, Qt
from typing_extensions import override

from ui.plots.axes import PlainAxis
from ui.plots.ink import Ink, em, face, screen_ink

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter

    from ui.trust.scene import Place

GAP = 4.0
SHARE = 0.86
LEAST_APART = 8.0  # px between two names


class NamesAxis(PlainAxis):
    """Names stand upright where there is room, else read from the right; the chosen one is bold."""

    def __init__(self) -> None:
        super().__init__("bottom")
        self.places: tuple[Place, ...] = ()
        self.chosen: int | None = None
        self._ink = screen_ink()

    def show_places(self, places: tuple[Place, ...]) -> None:
        """Name these columns; none: numbers again."""
        if places != self.places:
            self.places = places
            self.picture = None
            self._size()
            self.update()

    def choose(self, place: int | None) -> None:
        """Make the name of one column bold."""
        if place != self.chosen:
            self.chosen = place
            self.update()

    @override
    def restyle(self, ink: Ink) -> None:
        super().restyle(ink)
        self._ink = ink
        self._size()

    def _size(self) -> None:
        """As tall as names and label are."""
        tall = face(SHARE).tall
        lines = max((place.name.count("\n") + 1 for place in self.places), default=1)
        lines += any(place.note for place in self.places)
        names = self._longest() + GAP if self._turned() else lines * tall
        self.setHeight(round(names + (tall + 6 if self.words else 4) + 6))

    @override
    def resizeEvent(self, ev: Any = None) -> None:
        super().resizeEvent(ev)
        if hasattr(self, "places") and self.places:
            self._size()

    def _longest(self) -> float:
        lines = (line for place in self.places for line in place.name.split("\n"))
        return max((face(SHARE).width(line) for line in lines), default=0.0)

    def _room(self) -> float:
        """Of one column, px."""
        low, high = self.range
        return float(self.geometry().width() / max(high - low, 1e-9))

    def _turned(self) -> bool:
        return bool(self.places) and self._longest() + LEAST_APART > self._room() and "\n" not in self.places[0].name

    @override
    def paint(self, p: QPainter, opt: Any, widget: Any) -> None:
        if not self.places:
            super().paint(p, opt, widget)
            return
        box = self.mapRectFromParent(self.geometry())
        p.setPen(self._ink.pen("lines", 1.0))
        p.drawLine(box.topLeft(), box.topRight())
        turned, (low, high) = self._turned(), self.range
        every = self._every(turned=turned)
        for at, place in enumerate(self.places):
            if at % every and at != self.chosen:
                continue
            x = box.left() + (place.x - low) / (high - low) * box.width()
            if box.left() <= x <= box.right():
                self._name(p, QPointF(x, box.top() + GAP), place.name, bold=at == self.chosen, turned=turned)
                self._note(p, QPointF(x, box.top() + GAP), place)

    def _every(self, *, turned: bool) -> int:
        """Every how manieth name has room."""
        wanted = face(SHARE).tall if turned else self._longest() + LEAST_APART
        return max(1, int(wanted / max(self._room(), 1e-9) + 0.999)) if self.places else 1

    def _note(self, p: QPainter, at: QPointF, place: Place) -> None:
        letters = face(0.8)
        wide = letters.width(place.note)
        if place.note and wide + LEAST_APART <= self._room():
            p.setFont(letters.font)
            p.setPen(self._ink.colours.colour("quiet"))
            down = (place.name.count("\n") + 1) * face(SHARE).tall + letters.ascent
            p.drawText(at + QPointF(-wide / 2, down), place.note)

    def _name(self, p: QPainter, at: QPointF, name: str, *, bold: bool, turned: bool) -> None:
        letters = face(SHARE, bold=bold)
        p.setFont(letters.font)
        p.setPen(self._ink.colours.colour("accent" if bold else "ink"))
        p.save()
        p.translate(at)
        if turned:
            p.rotate(-90)
            wide = letters.width(name)
            p.drawText(QPointF(-wide, letters.ascent - letters.tall / 2), name)
        else:
            flags = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop
            p.drawText(QRectF(-200, 0, 400, 4 * letters.tall * em()), int(flags), name)
        p.restore()
