"""A widget that is dropped is deleted without a crash."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

import ui
from ui import let_go as module
from ui.let_go import let_go

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

DROPPED = """
from PySide6.QtCore import QCoreApplication, QEvent
from loadbench.job.files import open_job
from loadbench.job.model import Job
from ui import app
from ui.documents import sample_files
from ui.session import Session
from ui.widgets.findings_panel import FindingsPanel
application = app.make_application()
jobs = [open_job(file) for file in sample_files()]
session = Session(jobs[0])
panel = FindingsPanel(session)
panel.resize(400, 900)
panel.show()
dropped = 0
for turn in range(8):
    for job in (*jobs, Job(title="nothing")):
        session.reload(job, None)
        before = panel.entries()
        for entry in before:
            entry.set_open(True)
        dropped += len(before)
        del before, entry
        session.reload(Job(title="nothing"), None)
        application.processEvents()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
print("let go", dropped > 100)
"""


def test_findings_that_stood_open_go_with_their_job_without_a_crash() -> None:
    """In a program of its own: opening another job ended it with a fault of memory."""
    done = subprocess.run([sys.executable, "-c", DROPPED], capture_output=True, text=True, timeout=100, check=False)
    assert (done.returncode, done.stdout) == (0, "let go True\n"), done.stderr


def test_python_holds_a_widget_until_qt_has_deleted_it(qapp: QApplication) -> None:
    assert qapp is not None
    first, second = QWidget(), QWidget()
    let_go(first)
    assert isValid(first)
    assert any(held[0] is first for held in module._GOING)
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert not isValid(first)
    let_go(second)
    assert any(held[0] is second for held in module._GOING)
    assert not any(held[0] is first for held in module._GOING)
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def test_nobody_deletes_a_widget_past_it() -> None:
    for file in Path(ui.__file__).parent.rglob("*.py"):
        if file.name != "let_go.py":
            assert not re.search(r"\.deleteLater\(\)", file.read_text(encoding="utf-8")), file
