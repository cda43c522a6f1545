"""The words under the drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from ui.plots.ink import em
from ui.plots.painted import Painted

if TYPE_CHECKING:
    from PySide6.QtGui import QPainter


class SideNames(Painted):
    """Writes "closed" and "full lift" under their halves."""

    def __init__(self) -> None:
        super().__init__(z=18)
        self.names = ("", "")
        self.low = self.half = 0.0
        self.note = ""

    def show_names(self, names: tuple[str, str], note: str, low: float, half: float) -> None:
        """Write these below a height, each in the middle of its half, and a note beneath both."""
        self.names, self.note, self.low, self.half = names, note, low, half
        self.update()

    @override
    def draw(self, painter: QPainter) -> None:
        for side, name in zip((-0.55, 0.55), self.names, strict=True):
            self.text(
                painter, (side * self.half, self.low - 3 * self.py), name, role="quiet", anchor=(0.5, 0.0), share=0.86
            )
        below = (0.0, self.low - 20 * em() * self.py)
        if below[1] - 16 * em() * self.py < self.viewRect().top():
            return  # no room for a whole line: half a line says nothing
        self.text(painter, below, self.note, role="quiet", anchor=(0.5, 0.0), share=0.82)
