"""The ways in for a lift table: from the menu, and from a file that is dropped on the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject
from typing_extensions import override

from ui.help.key import give_help_key

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtWidgets import QWidget

    from ui.lift_import.dialog import LiftDialog
    from ui.session import Session
    from ui.settings import Settings

LARGEST_LOOKED_AT = 300_000
"""Bytes; a lift table as text is smaller, and it is looked at while the drop waits."""


def is_lift_table(path: Path) -> bool:
    """Whether a text file's headers name a column of angles and one of lifts; a workbook is not looked at.

    Args:
        path: a file that may be a printout too.

    Returns:
        True where a printout's reader would have nothing to read.
    """
    from loadbench.errors import LoadBenchError
    from loadbench.readings.lift_columns import columns_of, parted
    from loadbench.readings.printout.opening import read_grid

    try:
        if path.stat().st_size > LARGEST_LOOKED_AT or path.read_bytes()[:2] == b"PK":
            return False
        roles = [column.role for column in columns_of(parted(read_grid(path)))]
    except (LoadBenchError, OSError):
        return False
    return "angle" in roles and "lift" in roles


class LiftImports(QObject):
    """Opens what shows a lift table; it ends with its window."""

    def __init__(self, session: Session, window: QWidget, settings: Settings) -> None:
        super().__init__(window)
        self._session, self._window, self._settings = session, window, settings
        self._dialog: LiftDialog | None = None
        window.installEventFilter(self)

    def read(self) -> None:
        """Open the window that imports a lift table; the one that is open comes to the front."""
        self._shown()

    def read_path(self, path: Path) -> None:
        """Read a file."""
        self._shown().read_path(path)

    def _shown(self) -> LiftDialog:
        from ui.lift_import.dialog import LiftDialog

        dialog = self._dialog
        if dialog is None:
            dialog = self._dialog = LiftDialog(self._session, self._settings, self._window)
            dialog.finished.connect(self._forget)
            show = getattr(self._window, "show_help", None)
            if callable(show):
                give_help_key(dialog, "lift_import", show)
        dialog.show()
        dialog.raise_()
        dialog.activateWindow()
        return dialog

    def _forget(self, _how: int) -> None:
        self._dialog = None

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The dialog goes when its window goes, and its thread with it."""
        gone = event.type() is QEvent.Type.Hide and watched is self._window and not event.spontaneous()
        if gone and self._dialog is not None:
            self._dialog.close()
        return False
