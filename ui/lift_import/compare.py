"""The window for lift tables where one is only looked at: it stands beside this lobe, and nothing goes into the job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from typing_extensions import override

from ui.lift_import.dialog import LiftDialog

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.readings.lift_file import LiftFile
    from ui.session import Session
    from ui.settings import Settings


class CompareDialog(LiftDialog):
    """Reads a lift table as the import does, and hands it over instead of storing it."""

    handed = Signal(object, str, str, str)  # rows, whose degrees, which side, name

    def __init__(self, session: Session, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(session, settings, parent)
        self.setObjectName("lift_compare")
        self.setWindowTitle(self.tr("Compare with a lift table"))
        self.import_button.setText(self.tr("&Compare"))

    @override
    def _invite(self) -> None:
        super()._invite()
        self.head.tell(
            self.tr(
                "A file (CSV, tabs, or a workbook .xlsx) or text from the clipboard with a column of angles and one of "
                "lifts; a file can be dropped here too. It stands beside this lobe for a look; the job stays as it is."
            )
        )

    @override
    def _wanting(self, found: LiftFile, angle: str | None, side: str | None) -> str:
        wanting = super()._wanting(found, angle, side)
        if wanting or not found.faults(angle):
            return wanting
        return self.tr("Stop: a table with faults gives no lift. Mend them in the file and read it again.")

    @override
    def take_over(self) -> None:
        """Hand the table over."""
        found, angle, side = self.current, self.angle.box.currentData(), self.side.box.currentData()
        if found is None or self._wanting(found, angle, side):
            return
        self.handed.emit(found.rows, angle, side, self.name.text().strip() or self.tr("lift table"))
        self.taken.emit()
        self.close()
