"""The program: application, theme, session, window; what goes wrong is logged and told plainly."""

from __future__ import annotations

import logging
import signal
import sys
from collections.abc import Callable, Sequence
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QCoreApplication, Qt, QTimer
from PySide6.QtGui import QFont, QGuiApplication
from PySide6.QtWidgets import QApplication

import loadbench
from loadbench.errors import UnreadableFileError
from loadbench.findings import Level
from loadbench.findings.shop import load_shop
from loadbench.job.files import SUFFIX, open_job
from loadbench.job.model import Job
from ui import recovery
from ui.collecting import Collector
from ui.documents import DEMO, sample_files
from ui.places import log_file
from ui.session import Session
from ui.settings import Settings
from ui.theme import theme
from ui.window import MainWindow

_log = logging.getLogger("loadbench")
Hook = Callable[[type[BaseException], BaseException, TracebackType | None], None]
LARGEST_LOG = 500_000


def main(argv: Sequence[str] | None = None) -> int:
    """Run the window.

    Args:
        argv: what followed the program's name; the first file among it is opened.

    Returns:
        The exit code.
    """
    arguments = list(sys.argv[1:] if argv is None else argv)
    application = make_application()
    Collector(application)  # to the very end: what is left then goes on this thread too
    log_to(log_file())
    settings = Settings()
    with theme().sheet_last():
        theme().choose(settings.theme)
        session = Session(Job(title=""), style=settings.style)
        window = MainWindow(session, settings, late=True)
        sys.excepthook = hook(window)
        _take_shop(window)
        first_job(window, [Path(argument) for argument in arguments if not argument.startswith("-")])
    window.show()
    offer_recovery(window)
    with_signals = _quit_on_signals(application)
    try:
        return int(QApplication.exec())
    finally:
        with_signals.stop()
        sys.excepthook = sys.__excepthook__
        window.shut_down()
        close_log()


def make_application() -> QApplication:
    """The application as every window of ours wants it; the one there is, where there is one."""
    existing = QApplication.instance()
    if isinstance(existing, QApplication):
        return existing
    QGuiApplication.setHighDpiScaleFactorRoundingPolicy(Qt.HighDpiScaleFactorRoundingPolicy.PassThrough)
    QGuiApplication.setDesktopFileName("loadbench")
    application = QApplication([sys.argv[0] if sys.argv else "loadbench"])
    dress(application)
    return application


def dress(application: QApplication) -> None:
    """Name, style and font of our windows."""
    application.setApplicationName("LoadBench")
    application.setApplicationVersion(loadbench.__version__)
    application.setStyle("Fusion")
    font = application.font()
    font.setFeature(QFont.Tag("tnum"), 1)  # figures that stand under each other
    application.setFont(font)


def first_job(window: MainWindow, named: Sequence[Path]) -> None:
    """Put a job on the table: the one named, the last one, or the demo as an untitled copy."""
    last = window.settings.text("last")
    for path in [*named[:1], *([Path(last)] if last and Path(last).is_file() else [])]:
        if window.documents.open_path(path):
            return
    demo = demo_job()
    window.documents.put_untitled(demo or Job(title=QCoreApplication.translate("App", "Untitled")))


def demo_job() -> Job | None:
    """The demo; None where no samples were installed."""
    files = sample_files()
    file = next((file for file in files if file.name == f"{DEMO}{SUFFIX}"), files[0] if files else None)
    try:
        return None if file is None else open_job(file)
    except UnreadableFileError:
        _log.exception("The demo job cannot be opened")
        return None


def offer_recovery(window: MainWindow) -> None:
    """Offer unsaved work of runs that ended badly."""
    for found in recovery.found():
        text = QCoreApplication.translate(
            "App", "Unsaved work on \u201c{name}\u201d was left behind when LoadBench ended."
        )
        name = found.path.name if found.path else found.job.title

        def restore(found: recovery.Found = found) -> None:
            window.documents.restore(found)

        def discard(found: recovery.Found = found) -> None:
            found.file.unlink(missing_ok=True)

        words = (QCoreApplication.translate("App", "Restore"), QCoreApplication.translate("App", "Discard"))
        window.notices.tell(Level.WATCH, text.format(name=name), (words[0], restore), (words[1], discard))


def _take_shop(window: MainWindow) -> None:
    try:
        window.session.install_shop(load_shop())
    except UnreadableFileError as refused:
        text = QCoreApplication.translate("App", "The shop\u2019s rules were not read; the program\u2019s own hold.")
        window.notices.tell(Level.WATCH, f"{text}\n{refused}")


def log_to(file: Path) -> None:
    """Log to a file from now on."""
    if not _log.handlers:
        handler = RotatingFileHandler(file, maxBytes=LARGEST_LOG, backupCount=1, encoding="utf-8", delay=True)
        handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
        _log.addHandler(handler)


def close_log() -> None:
    """Let go of the log's file."""
    for handler in list(_log.handlers):
        _log.removeHandler(handler)
        handler.close()


def hook(window: MainWindow) -> Hook:
    """What a defect of ours does: a line in the log, a plain word at the user, and the program goes on."""

    def told(kind: type[BaseException], error: BaseException, traceback: TracebackType | None) -> None:
        _log.error("A defect", exc_info=(kind, error, traceback))
        text = QCoreApplication.translate(
            "App", "Something went wrong in LoadBench itself. The job is as it was. The log says more: {file}"
        )
        window.notices.tell(Level.STOP, text.format(file=log_file()))

    return told


def _quit_on_signals(application: QApplication) -> QTimer:
    """Ctrl+C in a terminal ends the program as Quit without questions would; a timer lets Python see the signal."""
    signal.signal(signal.SIGINT, lambda *_: application.quit())
    timer = QTimer()
    timer.timeout.connect(lambda: None)
    timer.start(500)
    return timer
