"""What is dropped on the window: a job opens, a printout is read, a photo is kept; else what was wanted is told."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.findings import Level
from loadbench.job.files import SUFFIX
from ui.lift_import.imports import is_lift_table
from ui.printout.printouts import may_be_photo, may_be_printout

if TYPE_CHECKING:
    from PySide6.QtCore import QMimeData, QUrl

    from ui.window import MainWindow


def _tr(text: str) -> str:
    return QCoreApplication.translate("Drops", text)


def is_for_us(data: QMimeData) -> bool:
    """Whether files are dragged: also a wrong one is taken, so that it can be told what was expected."""
    return data.hasUrls()


def take(window: MainWindow, data: QMimeData) -> None:
    """Open the first job of what was dropped, else read the printout or keep the photo; say what became of the rest."""
    urls = data.urls()
    jobs = [path for url in urls if (path := _job_at(url)) is not None]
    if not jobs and len(urls) == 1 and _brought_in(window, urls[0]):
        return
    if not jobs:
        said = _refusal(urls)
    elif not window.documents.open_path(jobs[0]) or len(urls) == 1:
        return  # told or asked by whoever opens
    else:
        text = _tr(
            "{count} files were dropped, and one job is opened at a time: {name} was opened, the others were not."
        )
        said = text.format(count=len(urls), name=jobs[0].name)
    window.notices.tell(Level.WATCH, said)
    window.announce(said)


def _job_at(url: QUrl) -> Path | None:
    path = Path(url.toLocalFile()) if url.isLocalFile() else None
    return path if path is not None and path.suffix.lower() == ".json" and not path.is_dir() else None


def _brought_in(window: MainWindow, url: QUrl) -> bool:
    """Whether it is the file of a printout or a photo, which is then read beside the work."""
    path = Path(url.toLocalFile()) if url.isLocalFile() else None
    if path is None or not path.is_file():
        return False
    if may_be_printout(path) and is_lift_table(path):
        window.documents.lifts.read_path(path)
    elif may_be_printout(path):
        window.documents.printouts.read_path(path)
    elif may_be_photo(path):
        window.documents.printouts.attach(path)
    else:
        return False
    return True


def _refusal(urls: list[QUrl]) -> str:
    wanted = _tr(
        "Drop one printout (CSV, text or .xlsx), one photo, or one job: a file whose name ends in {ending}. "
        "Nothing was changed."
    ).format(ending=SUFFIX)
    if len(urls) > 1:
        what = _tr("None of the {count} files dropped is a job.").format(count=len(urls))
    elif not urls[0].isLocalFile():
        what = _tr("{name} is not a file on this computer: save it here first.").format(name=urls[0].toDisplayString())
    elif Path(urls[0].toLocalFile()).is_dir():
        what = _tr("{name} is a folder.").format(name=_name(urls[0]))
    else:
        what = _tr("{name} is not a job.").format(name=_name(urls[0]))
    return f"{what}\n{wanted}"


def _name(url: QUrl) -> str:
    path = Path(url.toLocalFile())
    return path.name or str(path)
