"""What leaves the program as a file: the workbook and the tables, written off the window's thread."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QWidget

from loadbench.analysis import Analysis
from loadbench.errors import LoadBenchError
from loadbench.findings import Level, Verdicts
from loadbench.findings.shop import Shop
from loadbench.units import Style
from ui.asks import about_existing
from ui.desk import Desk, Progress
from ui.documents import Documents, settle
from ui.notice import NoticeArea
from ui.session import Session
from ui.settings import Settings
from ui.work_bar import WorkBar

Writer = Callable[[Analysis, Verdicts, Path, Style, Progress], None]


def _workbook(shop: Shop | None) -> Writer:
    def write(analysis: Analysis, verdicts: Verdicts, path: Path, style: Style, progress: Progress) -> None:
        from loadbench.report.workbook import write_workbook

        write_workbook(analysis, verdicts, path, style=style, shop=shop, progress=progress)

    return write


def _set_table(shop: Shop | None) -> Writer:
    def write(analysis: Analysis, _verdicts: Verdicts, path: Path, _style: Style, _progress: Progress) -> None:
        from loadbench.report.set_table import set_table_csv
        from loadbench.report.table import write_csv

        write_csv(path, set_table_csv(analysis, shop))

    return write


def _plan_table(shop: Shop | None) -> Writer:
    def write(analysis: Analysis, _verdicts: Verdicts, path: Path, _style: Style, progress: Progress) -> None:
        from loadbench.report.plan_table import plan_table_csv
        from loadbench.report.table import write_csv

        write_csv(path, plan_table_csv(analysis, shop, progress))

    return write


def _table(analysis: Analysis, _verdicts: Verdicts, path: Path, _style: Style, _progress: Progress) -> None:
    from loadbench.report.table import load_table_csv, write_csv

    write_csv(path, load_table_csv(analysis))


class Exporting(QObject):
    """The exports of one window; one at a time."""

    def __init__(
        self, session: Session, window: QWidget, documents: Documents, notices: NoticeArea, settings: Settings
    ) -> None:
        super().__init__(window)
        self._session = session
        self._window = window
        self._documents = documents
        self._notices = notices
        self._settings = settings
        self.desk = Desk(self)
        self.bar = WorkBar(self.desk)
        self.desk.done.connect(self._done)
        self.desk.failed.connect(self._failed)

    def workbook(self) -> None:
        """Ask for a file and write the workbook."""
        self._export(
            self.tr("Export the workbook"), self.tr("Excel workbooks (*.xlsx)"), ".xlsx", _workbook(self._session.shop)
        )

    def table(self) -> None:
        """Ask for a file and write the load table."""
        self._export(self.tr("Export the load table"), self.tr("Tables (*.csv)"), ".csv", _table)

    def set_table(self) -> None:
        """Ask for a file and write the table of the numbered springs."""
        writer = _set_table(self._session.shop)
        self._export(self.tr("Export the springs"), self.tr("Tables (*.csv)"), ".csv", writer, self.tr("springs"))

    def plan_table(self) -> None:
        """Ask for a file and write the plan that the job keeps, else the best one."""
        writer = _plan_table(self._session.shop)
        self._export(self.tr("Export the plan"), self.tr("Tables (*.csv)"), ".csv", writer, self.tr("plan"))

    def _export(self, title: str, kinds: str, suffix: str, writer: Writer, of: str = "") -> None:
        settle()
        name = f"{self._documents.name} {of}".rstrip()
        proposed = str(Path(self._settings.folder) / f"{name}{suffix}")
        chosen, _ = QFileDialog.getSaveFileName(self._window, title, proposed, kinds)
        if not chosen:
            return
        path = Path(chosen)
        if path.suffix.lower() != suffix:  # the dialog asked about another name
            path = path.with_name(f"{path.name}{suffix}")
            if path.exists() and not about_existing(self._window, path.name):
                return
        self.start(path, writer)

    def start(self, path: Path, writer: Writer) -> None:
        """Write a file from the job on show; Cancel leaves what stood there before.

        Args:
            path: the file.
            writer: writes it whole, off the window's thread.
        """
        state, style = self._session.state, self._session.style

        def work(progress: Progress) -> Path:
            part = path.with_name(f".{path.stem}.part{path.suffix}")
            try:
                writer(state.analysis, state.verdicts, part, style, progress)
                progress(1.0)  # the last moment at which Cancel still counts
                part.replace(path)
            finally:
                with contextlib.suppress(OSError):
                    part.unlink(missing_ok=True)
            return path

        self.bar.begin(self.tr("Writing {name}").format(name=path.name))
        self.desk.start(work)

    def _done(self, path: Path) -> None:
        self._settings.put("folder", str(path.parent))
        self._session.announce(self.tr("Exported {name}.").format(name=path.name))

    def _failed(self, error: Exception) -> None:
        if isinstance(error, OSError):
            told = self.tr("Nothing was exported: {why}.").format(why=error.strerror or error)
        elif isinstance(error, LoadBenchError):
            told = self.tr("Nothing was exported.") + f"\n{error}"
        else:
            raise error
        self._notices.tell(Level.STOP, told)
