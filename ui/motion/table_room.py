"""How much room the table of figures gets beneath the pictures of the Motion page, which want to be tall."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from ui.spring.table_place import TablePlace

if TYPE_CHECKING:
    from PySide6.QtWidgets import QSplitter

    from ui.motion.lower_pane import LowerPane

TALL, USUAL, SHARE = 0.62, 150, 0.3
"""A picture is at first so tall in its width; the table keeps so many px, but no more than this share of both."""
FEW = {"together": 104, "speeds full": 132}
"""Views of many charts, whose table keeps no more px than for its head and a few rows."""
KEPT = "splitters/motion"
"""Where the height of the table is remembered; it goes with the splitters when the layout is reset."""


class TableRoom(TablePlace):
    """Remembers the table's height apart from that of the Spring page."""

    def __init__(self, splitter: QSplitter, pane: LowerPane) -> None:
        super().__init__(splitter, pane.figures)
        self._pane = pane

    @override
    def recall(self) -> None:
        settings = getattr(self._splitter.window(), "settings", None)
        kept = "" if settings is None or self._height else settings.text(KEPT)
        if kept.isdecimal():
            self._height = int(kept)

    @override
    def _moved(self) -> None:
        self._height = self._splitter.sizes()[1]
        settings = getattr(self._splitter.window(), "settings", None)
        if settings is not None:
            settings.put(KEPT, str(self._height))

    @override
    def place(self, view: str) -> None:
        if not self._pane.isVisible():
            return
        total = sum(self._splitter.sizes())
        least = min(FEW.get(view, USUAL), round(SHARE * total))
        table = min(
            self._height or max(total - round(TALL * self._splitter.width()), least), self._pane.needed_height()
        )
        if self._splitter.sizes() != [total - table, table]:
            self._splitter.setSizes([total - table, table])
