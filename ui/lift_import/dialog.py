"""The window that shows a lift table before it goes into the job: nothing is changed until Import is pressed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeySequence
from PySide6.QtWidgets import QDialog, QFileDialog, QHBoxLayout, QLabel, QLineEdit, QListWidget, QVBoxLayout, QWidget
from typing_extensions import override

from loadbench.errors import InputError, LoadBenchError, UnreadableFileError
from loadbench.findings.finding import Level
from loadbench.job.edits import replaced_all
from loadbench.readings.lift_file import LIFT_UNITS, LiftFile, Wishes, lift_table_in, read_lift_file, read_lift_text
from ui.desk import Desk, Progress
from ui.icons import level_icon
from ui.lift_import.picture import LiftPicture
from ui.lift_import.wording import column_name, left_told, lines_told, problem_told, rows_told
from ui.printout.chooser import NamedChooser
from ui.widgets.dialog_button import dialog_button
from ui.widgets.entry_edit import Judgement, Sign
from ui.widgets.flow_bar import FlowBar
from ui.widgets.message_row import MessageRow
from ui.widgets.wrapped_label import WrappedLabel
from ui.work_bar import WorkBar

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QDragEnterEvent, QDropEvent, QKeyEvent

    from ui.session import Session
    from ui.settings import Settings

FIRST_SIZE = QSize(760, 620)
KINDS = "*.csv *.tsv *.txt *.xlsx *.dat *.tab *.asc *.prn"
FIELDS = ("cam.profile", "cam.profile_angle", "cam.profile_side", "cam.profile_name")


class LiftDialog(QDialog):
    """One lift table; it ends with its window, and its thread with it."""

    read = Signal(object)  # LiftFile
    refused = Signal(str)
    taken = Signal()

    def __init__(self, session: Session, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("lift_import")
        self.setWindowTitle(self.tr("Import a lift table"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAcceptDrops(True)
        self.session, self._settings = session, settings
        self.current: LiftFile | None = None
        self.wishes = Wishes()
        self._path: Path | None = None
        self.desk = Desk(self)
        self.desk.done.connect(self._show)
        self.desk.failed.connect(self._refuse)
        self._make()
        self._lay_out()
        self._connect()
        self._invite()

    # The parts

    def _make(self) -> None:
        tr = self.tr
        self.file_button = dialog_button("lift_choose", tr("Choose a &file…"))
        self.paste_button = dialog_button("lift_paste", tr("&Paste from the clipboard"))
        self.head = WrappedLabel(role="heading")
        self.head.setObjectName("lift_head")
        self.rows = WrappedLabel()
        self.rows.setObjectName("lift_rows")
        self.rows.setMinimumWidth(240)
        self.angle = NamedChooser("lift_angle", tr("Degrees of"), tr("Whose degrees the angles are"))
        self.side = NamedChooser("lift_side", tr("Measured at"), tr("Where the lift was measured"))
        self.unit = NamedChooser("lift_unit", tr("Lift in"), tr("The unit of lifts that have none of their own"))
        self.column = NamedChooser("lift_column", tr("Lift"), tr("Which column holds the lifts"))
        self.sheet = NamedChooser("lift_sheet", tr("Sheet"), tr("Which sheet of the workbook holds the lobe"))
        self.name = QLineEdit()
        self.name.setObjectName("lift_name")
        self.name.setAccessibleName(tr("Name of the table"))
        self.name.setMinimumHeight(26)
        self.name.setMaxLength(80)
        self.told = QListWidget()
        self.told.setObjectName("lift_told")
        self.told.setAccessibleName(tr("What was guessed, and what is wrong"))
        self.told.setWordWrap(True)
        self.picture = LiftPicture()
        self.work, self.message = WorkBar(self.desk), MessageRow()
        self.import_button = dialog_button("lift_import_table", tr("&Import"))
        self.cancel_button = dialog_button("lift_cancel", tr("Cancel"))

    def _lay_out(self) -> None:
        self.choices = FlowBar()
        for widget in (self.angle, self.side, self.unit, self.column, self.sheet):
            self.choices.add(widget)
        named, label = QHBoxLayout(), QLabel(self.tr("&Name"))
        label.setBuddy(self.name)
        named.addWidget(label)
        named.addWidget(self.name, 1)
        self.page = QWidget()
        middle = QHBoxLayout()
        middle.addWidget(self.rows, 0, Qt.AlignmentFlag.AlignTop)
        middle.addWidget(self.picture, 1)
        rows = QVBoxLayout(self.page)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.addWidget(self.choices)
        rows.addLayout(named)
        rows.addLayout(middle, 2)
        rows.addWidget(self.told, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(12, 10, 12, 10)
        whole.addLayout(_row(self.file_button, self.paste_button))
        whole.addWidget(self.head)
        whole.addWidget(self.page, 1)
        whole.addStretch(0)
        foot = QHBoxLayout()
        foot.addWidget(self.work)
        foot.addWidget(self.message, 1)
        foot.addWidget(self.import_button)
        foot.addWidget(self.cancel_button)
        whole.addLayout(foot)
        self.resize(FIRST_SIZE.boundedTo(self.screen().availableSize() - QSize(40, 60)))

    def _connect(self) -> None:
        self.file_button.clicked.connect(self.choose_file)
        self.paste_button.clicked.connect(self.paste)
        self.import_button.clicked.connect(self.take_over)
        self.cancel_button.clicked.connect(self.close)
        for chooser in (self.angle, self.side):
            chooser.box.activated.connect(self._judge)
        self.unit.box.activated.connect(lambda: self._read_again(lift_unit=self.unit.box.currentData()))
        self.sheet.box.activated.connect(self._read_sheet)
        self.column.box.activated.connect(lambda: self._read_again(lift_column=self.column.box.currentData()))

    # Bringing a table in

    def choose_file(self) -> None:
        """Ask for a file and read it."""
        kinds = self.tr("Lift tables ({kinds});;All files (*)").format(kinds=KINDS)
        title = self.tr("Import a lift table")
        chosen, _ = QFileDialog.getOpenFileName(self, title, self._settings.folder, kinds)
        if chosen:
            self.read_path(Path(chosen))

    def read_path(self, path: Path) -> None:
        """Read a file."""
        self._settings.put("folder", str(path.absolute().parent))
        wishes, self._path = self._first_wishes(), path
        self._start(path.name, lambda progress: read_lift_file(path, wishes, progress=progress))

    def paste(self) -> None:
        """Read what is on the clipboard."""
        self.read_pasted(QGuiApplication.clipboard().text())

    def read_pasted(self, text: str) -> None:
        """Read a text."""
        wishes = self._first_wishes()
        self._start(self.tr("pasted text"), lambda _progress: read_lift_text(text, wishes))

    def _first_wishes(self) -> Wishes:
        style = self.session.state.analysis.stated.style or self.session.style
        self.current, self.wishes, self._path = None, Wishes(style=style), None
        return self.wishes

    def _read_sheet(self) -> None:
        """Another sheet of the same workbook: a table of its own, in which nothing is chosen yet."""
        path, sheet = self._path, self.sheet.box.currentData()
        if path is None or self.current is None:
            return
        wishes, self._path = self._first_wishes(), path
        self._start(path.name, lambda progress: read_lift_file(path, wishes, sheet=sheet, progress=progress))

    def _read_again(self, *, lift_unit: str | None = None, lift_column: int | None = None) -> None:
        """The same table with another unit or column; the choices before stay."""
        found, before = self.current, self.wishes
        if found is None:
            return
        self.wishes = wishes = Wishes(
            style=before.style,
            lift_unit=lift_unit or before.lift_unit,
            lift_column=before.lift_column if lift_column is None else lift_column,
        )
        self._start(found.profile_name, lambda _progress: lift_table_in(found.grid, wishes))

    def _start(self, name: str, work: Callable[[Progress], LiftFile]) -> None:
        self.message.tell(Judgement())
        self.work.begin(self.tr("Reading {name}").format(name=name))
        self._reading = name
        self.desk.start(work)

    # Showing

    def _invite(self) -> None:
        self.page.hide()
        self.import_button.hide()
        self.head.tell(
            self.tr(
                "A file (CSV, tabs, or a workbook .xlsx) or text from the clipboard with a column of angles and one of "
                "lifts; a file can be dropped here too. Nothing goes into the job before you have seen what was read."
            )
        )

    def _refuse(self, error: Exception) -> None:
        if not isinstance(error, LoadBenchError):
            raise error
        problems = error.problems if isinstance(error, UnreadableFileError) else ()
        why = "\n".join(map(problem_told, problems)) or str(error)
        self._invite()
        head = self.tr("Stop: {name} was not read; nothing was changed.").format(name=self._reading)
        self.head.tell(f"{head}\n{why}")
        self.session.announce(head)
        self.refused.emit(why)
        self.file_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show(self, found: LiftFile) -> None:
        first, self.current = self.current is None, found
        self.head.tell(self._reading)
        ask = (self.tr("choose…"), None)
        angle = found.profile_angle if first or not self.angle.box.currentData() else self.angle.box.currentData()
        self.angle.box.fill([ask, (self.tr("the cam"), "cam"), (self.tr("the crank"), "crank")], angle)
        side = found.profile_side if first or not self.side.box.currentData() else self.side.box.currentData()
        self.side.box.fill([ask, (self.tr("the lobe (follower)"), "lobe"), (self.tr("the valve"), "valve")], side)
        self.unit.box.fill([(unit, unit) for unit in self._units(found)], found.lift_unit)
        self.unit.setVisible(not found.unit_stated)
        columns = [each for each in found.columns if each.place != found.angle_column]
        self.column.box.fill(
            [(column_name(each.place, each.header), each.place) for each in columns], found.lift_column
        )
        self.column.setVisible(len(columns) > 1)
        self.sheet.box.fill([(name, name) for name in found.grid.sheets], found.grid.sheet)
        self.sheet.setVisible(self._path is not None and len(found.grid.sheets) > 1)
        if first:
            self.name.setText(found.profile_name)
        self.page.show()
        self.import_button.show()
        self._judge()
        if first:
            self.angle.box.setFocus(Qt.FocusReason.OtherFocusReason)
            self.session.announce(rows_told(found).partition("\n")[0])
        self.read.emit(found)

    def _units(self, found: LiftFile) -> list[str]:
        known = found.lift_unit
        return list(LIFT_UNITS) if known is None or known in LIFT_UNITS else [known, *LIFT_UNITS]

    def _judge(self) -> None:
        """Faults depend on whose degrees they are; Import waits for both choices."""
        found = self.current
        if found is None:
            return
        angle, side = self.angle.box.currentData(), self.side.box.currentData()
        faults, outcome = found.faults(angle), found.outcome(angle)
        self.rows.tell("\n".join(filter(None, (rows_told(found), left_told(outcome, self.wishes.style)))))
        self.told.clear()
        levels = {"stop": Level.STOP, "watch": Level.WATCH}
        for level, line in lines_told(found, faults, outcome):
            self.told.addItem(line)
            if level in levels:
                self.told.item(self.told.count() - 1).setIcon(level_icon(levels[level]))
        self.told.setVisible(self.told.count() > 0)
        self.picture.show_table(found, faults)
        wanting = self._wanting(found, angle, side)
        self.import_button.setEnabled(not wanting)
        self.message.tell(Judgement(remark=wanting or self._warning(len(faults))))

    def _wanting(self, found: LiftFile, angle: str | None, side: str | None) -> str:
        if not found.usable:
            return self.tr("Stop: some rows cannot be read. Mend them in the file and read it again.")
        if angle is None:
            return self.tr("Choose whose degrees the angles are: the table does not say.")
        return "" if side else self.tr("Choose where the lift was measured: the table does not say.")

    def _warning(self, faults: int) -> str:
        if not faults:
            return ""
        return self.tr("Watch: the faults go into the job as they are, and are told there at their rows.")

    # Into the job

    def take_over(self) -> None:
        """Put the table into the job, for the line on show, as one step."""
        found, angle, side = self.current, self.angle.box.currentData(), self.side.box.currentData()
        if found is None or self._wanting(found, angle, side):
            return
        values = (found.rows, angle, side, self.name.text().strip() or None)
        changes = {self.session.own_field(field): value for field, value in zip(FIELDS, values, strict=True)}
        try:
            self.session.edit(self.tr("import lift table"), lambda job: replaced_all(job, changes))
        except InputError as error:
            self.message.tell(Judgement(sign=Sign.WRONG, what=error.what, expected=error.expected))
            return
        told = self.tr("{count} rows of lift are in the job.").format(count=len(found.rows))
        self.session.announce(told)
        self.taken.emit()
        self.close()

    # Events

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Cancel) and self.desk.busy:
            self.work.cancel()
        elif event.matches(QKeySequence.StandardKey.Paste):
            self.paste()
        else:
            super().keyPressEvent(event)

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        urls = event.mimeData().urls()
        if urls and urls[0].isLocalFile():
            self.read_path(Path(urls[0].toLocalFile()))

    @override
    def done(self, result: int) -> None:
        self.desk.shutdown()  # every way out comes by here
        super().done(result)


def _row(*widgets: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    for widget in widgets:
        row.addWidget(widget)
    row.addStretch(1)
    return row
