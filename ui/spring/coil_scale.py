"""The two views of the coil's picture: the bench picture's one height scale, with names of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ui.plots.height_scale import HeightScale

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget


class CoilScale(HeightScale):
    """Drawing and plot over one height; four halves side by side are wide."""

    drawing_share = 0.68

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("coil_picture")
        self.setMinimumSize(320, 180)
