"""What the views of the Motion page share: a picture of charts, drawn from a line's motion and its last sweep."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import Signal
from typing_extensions import override

from loadbench.units import Kind, step, to_display
from ui.motion.seen import Seen
from ui.spring.chart_picture import ChartPicture

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.units import Style
    from ui.motion.stacked import StackedScale
    from ui.session import Session
    from ui.spring.chart import Told


class MotionPicture(ChartPicture):
    """Draws what it was last told to show; hidden, it only remembers it."""

    scale: StackedScale
    pointed = Signal(float)  # place across that is read out, in the unit on show

    def __init__(self, session: Session, scale: StackedScale, name: str, parent: QWidget | None = None) -> None:
        self.seen: Seen | None = None
        super().__init__(session, scale, name, parent)

    def build_seen(self, seen: Seen, style: Style) -> Told:
        """The picture of a line's motion."""
        raise NotImplementedError

    def show_seen(self, seen: Seen) -> None:
        """Draw a line's motion."""
        self.seen, self._stale = seen, True
        if self.isVisible():
            self._draw()

    def set_grey(self, grey: bool) -> None:
        """Draw what is out of date paler, or not."""
        self.scale.set_grey(grey)

    @override
    def _draw(self) -> None:
        if self.seen is not None and self._stale:
            self._stale = False
            self.show_told(self.build_seen(self.seen, self.session.style))

    @override
    def show_told(self, told: Told) -> None:
        """What is read out stays where it is, and says what holds there now."""
        super().show_told(told)
        if self.across is not None and told.charts:
            self._read("", self.across)

    @override
    def _read(self, key: str, cursor: float | None, *, say: bool = True) -> None:
        super()._read(key, cursor, say=say)
        if say and cursor is not None:
            self.pointed.emit(cursor)

    def stand_at(self, place: float) -> None:
        """Read out at a place across, as where another picture over the same axis was read; a mark goes before."""
        if self.across is None and not self.key and self.told.charts:
            low, high = self.told.charts[0].x_range
            self._read("", min(max(place, low), high))

    @override
    def read_at(self, place: float) -> str:
        return "" if self.seen is None else self.read_seen(self.seen, place, self.session.style)

    def read_seen(self, seen: Seen, place: float, style: Style) -> str:
        """What the read-out says at a place across, in the unit on show."""
        raise NotImplementedError

    @override
    def stride(self) -> float:
        return 1.0

    @override
    def rows(self) -> list[list[str]]:
        return [] if self.seen is None else self.rows_seen(self.seen, self.session.style)

    def rows_seen(self, seen: Seen, style: Style) -> list[list[str]]:
        """The data behind the picture, a header first."""
        raise NotImplementedError


def speed_stride(style: Style) -> float:
    """One step of the arrow keys over speeds, in the unit on show."""
    return to_display(2 * step(Kind.SPEED, style), Kind.SPEED, style)


def lifted(seen: Seen) -> tuple[float, float]:
    """From which to which cam angle the valve is off its seat, deg."""
    shown = seen.motion.shown
    if shown is None:
        return -90.0, 90.0
    places = np.flatnonzero(shown.net > 0)
    if not places.size:
        return -90.0, 90.0
    return float(np.degrees(shown.angles[places[0]])), float(np.degrees(shown.angles[places[-1]]))
