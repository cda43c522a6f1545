"""Where the splitter between a view and the table of figures stands: as the user left it, else as the view needs it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QSplitter

    from ui.spring.coil_table import CoilTable

TALL, LEAST_TABLE = {"coil": 0.5}, 150
USUAL_TALL = 0.62
"""How tall a view is at first, in its width (the coil's scale hangs on the width), and what the table keeps, px."""
KEPT = "splitters/spring"
"""Where the height of the table is remembered; it goes with the splitters when the layout is reset."""


class TablePlace:
    """Remembers the table's height through views, edits and runs of the program."""

    def __init__(self, splitter: QSplitter, table: CoilTable) -> None:
        self._splitter, self._table = splitter, table
        self._height = 0  # as the user left it, px; 0 for what suits the view
        self.placed = ""  # the view that the splitter was placed for
        splitter.splitterMoved.connect(self._moved)

    def recall(self) -> None:
        """Take what the window remembers from an earlier run."""
        settings = getattr(self._splitter.window(), "settings", None)
        kept = "" if settings is None or self._height else settings.text(KEPT)
        if kept.isdecimal():
            self._height = int(kept)

    def _moved(self) -> None:
        self._height = self._splitter.sizes()[1]
        settings = getattr(self._splitter.window(), "settings", None)
        if settings is not None:
            settings.put(KEPT, str(self._height))

    def place(self, view: str) -> None:
        """Give the table its height beneath a view, never more than its rows take."""
        if not self._table.isVisible():
            return
        total = sum(self._splitter.sizes())
        tall = round(TALL.get(view, USUAL_TALL) * self._splitter.width())
        table = min(self._height or max(total - tall, LEAST_TABLE), self._table.needed_height())
        if self._splitter.sizes() != [total - table, table]:
            self._splitter.setSizes([total - table, table])
