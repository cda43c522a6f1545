"""Unsaved work survives a crash, is offered, and never touches the file unasked."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from loadbench.job.files import open_job, save_job
from loadbench.job.model import Job
from ui import app, recovery
from ui.places import recovery_folder
from ui.recovery import AFTER_MS, AT_MOST_S, SUFFIX, Recovery
from ui.session import Session
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

HEIGHT = "spring.installed_height"
# Opens a job, changes it, waits for the copy, and dies without a word.
CRASH = """
import os, sys, time
from pathlib import Path
from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QGuiApplication
application = QGuiApplication([])
from loadbench.job.files import open_job
from ui.places import recovery_folder
from ui.recovery import Recovery
from ui.session import Session
path = Path(sys.argv[1])
session = Session(open_job(path))
watch = Recovery(session)
watch.take(path)
session.set_path(path)
session.set_field("spring.installed_height", "48 mm")
end = time.monotonic() + 10
while not list(recovery_folder().glob("*.recovery.json")) and time.monotonic() < end:
    application.processEvents()
    time.sleep(0.01)
os._exit(9)
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    made = tmp_path / "one.loadbench.json"
    save_job(Job(title="One", units="metric"), made)
    return made


def copies() -> list[Path]:
    return list(recovery_folder().glob(f"*{SUFFIX}"))


@pytest.fixture
def watched(session: Session) -> Recovery:
    watch = Recovery(session)
    watch.take(None)
    return watch


def test_d13_work_of_a_crash_is_offered_and_restored(window: MainWindow, file: Path) -> None:
    done = subprocess.run([sys.executable, "-c", CRASH, str(file)], check=False, timeout=60)
    assert done.returncode == 9
    assert open_job(file).spring.installed_height is None
    app.offer_recovery(window)
    (notice,) = window.notices.notices()
    assert "one.loadbench.json" in notice.label.text()
    (found,) = recovery.found()
    window.documents.restore(found)
    assert window.session.job.spring.installed_height == "48 mm"
    assert window.session.path == file
    assert window.isWindowModified()
    assert open_job(file).spring.installed_height is None
    assert recovery.found() == []
    assert window.documents.save()
    assert open_job(file).spring.installed_height == "48 mm"
    assert copies() == []


def test_d13_the_copy_says_what_it_is_of(watched: Recovery, session: Session, file: Path) -> None:
    session.set_path(file)
    session.set_field(HEIGHT, "48 mm")
    watched.write()
    (copy,) = copies()
    kept = json.loads(copy.read_text(encoding="utf-8"))
    assert kept["path"] == str(file)
    assert kept["changed_on_disk"] == file.stat().st_mtime
    assert kept["program"]
    watched.release()


def test_d13_the_copy_comes_two_seconds_after_the_last_change(watched: Recovery, session: Session) -> None:
    session.set_field(HEIGHT, "48 mm")
    assert watched._timer.isActive()
    assert watched._timer.interval() == AFTER_MS
    watched.release()
    assert not watched._timer.isActive()


def test_d13_steady_typing_never_puts_it_off_beyond_half_a_minute(watched: Recovery, session: Session) -> None:
    session.set_field(HEIGHT, "48 mm")
    watched._first = time.monotonic() - AT_MOST_S + 0.5
    session.set_field(HEIGHT, "47 mm")
    assert watched._timer.interval() <= 500
    watched._first = time.monotonic() - AT_MOST_S - 5
    session.set_field(HEIGHT, "46 mm")
    assert watched._timer.interval() == 0
    watched.release()


def test_undone_work_needs_no_copy(watched: Recovery, session: Session) -> None:
    session.set_field(HEIGHT, "48 mm")
    watched.write()
    assert len(copies()) == 1
    session.undo_stack.undo()
    assert copies() == []
    watched.release()


def test_a_copy_that_is_held_is_not_offered(watched: Recovery, session: Session) -> None:
    session.set_field(HEIGHT, "48 mm")
    watched.write()
    assert recovery.found() == []
    watched._locks[0].unlock()
    assert len(recovery.found()) == 1
    watched.release()


@pytest.mark.parametrize("text", ["", "{}", "[1]", '{"job": "x", "path": null, "saved": 1}'])
def test_a_damaged_copy_is_passed_over(text: str) -> None:
    (recovery_folder() / f"bad{SUFFIX}").write_text(text)
    assert recovery.found() == []


def test_an_offer_can_be_discarded(window: MainWindow, file: Path, qtbot: QtBot) -> None:
    subprocess.run([sys.executable, "-c", CRASH, str(file)], check=False, timeout=60)
    app.offer_recovery(window)
    (notice,) = window.notices.notices()
    discard = next(button for button in notice.buttons if button.text() == "Discard")
    discard.click()
    assert copies() == []
    assert window.notices.notices() == []


def test_nothing_is_left_when_the_window_closes(window: MainWindow, file: Path) -> None:
    window.documents.open_path(file)
    window.session.set_field(HEIGHT, "48 mm")
    window.documents.recovery.write()
    window.session.undo_stack.setClean()
    window.close()
    assert list(recovery_folder().iterdir()) == []
