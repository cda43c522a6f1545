"""About: version, libraries and licences, and what to send with a report of trouble."""

from __future__ import annotations

import platform
from importlib import metadata

from PySide6.QtCore import QCoreApplication, Qt, QUrl, qVersion
from PySide6.QtGui import QDesktopServices, QGuiApplication
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

import loadbench
from ui.icons import pixmap
from ui.places import log_file

LIBRARIES = {
    "PySide6_Essentials": "LGPL-3.0",
    "pyqtgraph": "MIT",
    "numpy": "BSD-3-Clause",
    "scipy": "BSD-3-Clause",
    "pint": "BSD-3-Clause",
    "pydantic": "MIT",
    "openpyxl": "MIT",
    "XlsxWriter": "BSD-2-Clause",
    "platformdirs": "MIT",
    "defusedxml": "PSF-2.0",
    "typing_extensions": "PSF-2.0",
}


def version_of(library: str) -> str:
    """The installed version of a library, or a word that it is missing."""
    try:
        return metadata.version(library)
    except metadata.PackageNotFoundError:
        return QCoreApplication.translate("About", "not installed")


def trouble_report() -> str:
    """What helps to find a defect: versions, system, where the log is. Nothing of the job is in it."""
    return "\n".join(
        [
            f"LoadBench {loadbench.__version__}",
            f"Python {platform.python_version()}, Qt {qVersion()}, {QGuiApplication.platformName()}",
            f"{platform.system()} {platform.release()} {platform.machine()}",
            *(f"{library} {version_of(library)} ({licence})" for library, licence in LIBRARIES.items()),
            f"Log: {log_file()}",
        ]
    )


class AboutDialog(QDialog):
    """What the program is and what it stands on."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.setObjectName("about_dialog")
        self.setWindowTitle(self.tr("About LoadBench"))
        picture = QLabel()
        picture.setPixmap(pixmap("app", 64))
        words = QLabel(
            self.tr(
                "LoadBench {version}\n\nDecides from bench measurements whether valve spring, follower and setting "
                "suit each other and the duty.\n\nMIT licence, without any warranty. The limits of the rule book are "
                "common practice unless a source is named; a qualified engine builder has the last word."
            ).format(version=loadbench.__version__)
        )
        words.setTextFormat(Qt.TextFormat.PlainText)
        words.setWordWrap(True)
        self.report = QPlainTextEdit(trouble_report())
        self.report.setReadOnly(True)
        self.report.setAccessibleName(self.tr("Libraries and their licences"))
        top = QHBoxLayout()
        top.addWidget(picture, 0, Qt.AlignmentFlag.AlignTop)
        top.addWidget(words, 1)
        column = QVBoxLayout(self)
        column.addLayout(top)
        column.addWidget(self.report, 1)
        column.addLayout(self._buttons())
        self.resize(560, 440)

    def _buttons(self) -> QHBoxLayout:
        copy = QPushButton(self.tr("Copy for a report of trouble"))
        copy.setObjectName("copy_report")
        copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(trouble_report()))
        folder = QPushButton(self.tr("Show the log\u2019s folder"))
        folder.clicked.connect(lambda: QDesktopServices.openUrl(QUrl.fromLocalFile(str(log_file().parent))))
        close = QPushButton(self.tr("Close"))
        close.clicked.connect(self.close)
        row = QHBoxLayout()
        for button in (copy, folder):
            row.addWidget(button)
        row.addStretch(1)
        row.addWidget(close)
        return row
