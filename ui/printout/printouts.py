"""The ways in: the windows for a printout and for the photos of one main window, from menu, drop and paste."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QAction, QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QTableView
from typing_extensions import override

from loadbench.findings import Level
from ui.help.key import give_help_key
from ui.notice import NoticeArea
from ui.slip.set_mean import mean_offered, take_mean, why_told, words_of

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtWidgets import QDialog, QWidget

    from ui.photos.dialog import PhotosDialog
    from ui.printout.dialog import PrintoutDialog
    from ui.session import Session
    from ui.settings import Settings

ENDINGS = frozenset((".csv", ".tsv", ".txt", ".tab", ".prn", ".asc", ".dat", ".xlsx", ".xlsm", ".xls"))
"""Names of files that may be printouts; what is inside decides whether one is."""

PICTURES = frozenset((".jpg", ".jpeg", ".png"))
LONGEST_LOOKED_AT = 200_000


def may_be_printout(path: Path) -> bool:
    """Whether a file's name is one of a printout."""
    return path.suffix.lower() in ENDINGS


def may_be_photo(path: Path) -> bool:
    """Whether a file's name is one of a picture."""
    return path.suffix.lower() in PICTURES


def more_than_a_grid_takes(text: str) -> bool:
    """Whether a text from the clipboard is a slip that a grid of cells cannot take as it is.

    Args:
        text: from the clipboard.

    Returns:
        True for a slip whose columns are not parted by tabs, or that has a row for each reading; False for a block of
        cells, and for what is no slip.
    """
    if len(text.splitlines()) < 3 or len(text) > LONGEST_LOOKED_AT:
        return len(text) > LONGEST_LOOKED_AT
    from loadbench.errors import LoadBenchError
    from loadbench.readings.printout.cells import Separator
    from loadbench.readings.printout.meaning import Layout
    from loadbench.readings.printout.opening import grid_of_pasted
    from loadbench.readings.printout.reading import understood

    try:
        found = understood(grid_of_pasted(text))
    except LoadBenchError:
        return False
    return found.count > 1 and (found.grid.separator is not Separator.TAB or found.layout is Layout.ROW_A_READING)


class Printouts(QObject):
    """Opens what reads a printout and what keeps photos; both end with their window."""

    def __init__(self, session: Session, window: QWidget, settings: Settings) -> None:
        super().__init__(window)
        self._session, self._window, self._settings = session, window, settings
        self._dialogs: dict[str, QDialog] = {}
        window.installEventFilter(self)

    # A printout

    def read(self) -> None:
        """Open the window that reads a printout; the one that is open comes to the front."""
        self._printout()

    def read_path(self, path: Path) -> None:
        """Read a file."""
        self._printout().read_path(path)

    def read_pasted(self, text: str | None = None) -> None:
        """Read a text; the clipboard's where none is given."""
        self._printout().read_pasted(QGuiApplication.clipboard().text() if text is None else text)

    def take_paste(self) -> bool:
        """Read the clipboard where it holds more than a grid of cells can take; False: it is for the grid."""
        text = QGuiApplication.clipboard().text()
        if not more_than_a_grid_takes(text):
            return False
        self.read_pasted(text)
        return True

    def watch_pastes(self, pages: QWidget) -> None:
        """From now on a slip that is pasted into a grid of springs comes here where the grid cannot take it."""
        for view in pages.findChildren(QTableView, "springs"):
            view.installEventFilter(self)

    def _printout(self) -> PrintoutDialog:
        from ui.printout.dialog import PrintoutDialog

        dialog = self._dialogs.get("printout")
        if not isinstance(dialog, PrintoutDialog):
            dialog = PrintoutDialog(self._session, self._settings, self._window)
            dialog.taken.connect(self._taken)
            self._keep("printout", dialog)
        self._bring(dialog)
        return dialog

    def _taken(self) -> None:
        """The springs are in the job: show them."""
        action = self._window.findChild(QAction, "page_readings")
        if isinstance(action, QAction):
            action.trigger()
        self._window.activateWindow()
        self._offer_mean()

    def _offer_mean(self) -> None:
        """The bench waits for readings still: say so, and offer the mean of the set."""
        notices, offered = getattr(self._window, "notices", None), mean_offered(self._session)
        if isinstance(notices, NoticeArea) and offered is not None:
            take = ((words_of(offered), self._take_mean),) if offered.readings else ()
            notices.tell(Level.UNKNOWN, why_told(offered), *take)

    def _take_mean(self) -> None:
        notices = getattr(self._window, "notices", None)
        said = take_mean(self._session) or self.tr("Nothing was taken: the bench has readings already.")
        if isinstance(notices, NoticeArea):
            notices.tell(Level.CLEAR, said)

    # Photos

    def attach_photo(self) -> None:
        """Ask for a picture and keep it with the job."""
        self._photos().choose_file()

    def attach(self, path: Path) -> None:
        """Keep a picture with the job."""
        self._photos().read_path(path)

    def show_photos(self) -> None:
        """Show the pictures that the job keeps."""
        self._photos()

    def _photos(self) -> PhotosDialog:
        from ui.photos.dialog import PhotosDialog

        dialog = self._dialogs.get("photos")
        if not isinstance(dialog, PhotosDialog):
            dialog = PhotosDialog(self._session, self._settings, self._window)
            self._keep("photos", dialog)
        self._bring(dialog)
        return dialog

    # Windows

    def _keep(self, name: str, dialog: QDialog) -> None:
        self._dialogs[name] = dialog
        dialog.finished.connect(lambda _how: self._dialogs.pop(name, None))
        show = getattr(self._window, "show_help", None)
        if callable(show):
            give_help_key(dialog, name, show)

    def _bring(self, dialog: QDialog) -> None:
        dialog.show()
        dialog.raise_()
        dialog.activateWindow()

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The dialogs go when their window goes, and their threads with them."""
        if event.type() is QEvent.Type.KeyPress and isinstance(event, QKeyEvent) and watched is not self._window:
            return event.matches(QKeySequence.StandardKey.Paste) and self.take_paste()
        if event.type() is QEvent.Type.Hide and watched is self._window and not event.spontaneous():
            for dialog in list(self._dialogs.values()):
                dialog.close()
        return False
