"""Sessions and windows for the tests of the window."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

from loadbench.job.model import Job
from ui.app import demo_job, dress
from ui.collecting import Collector
from ui.motion.background import BackgroundSweep
from ui.session import Session
from ui.settings import Settings
from ui.theme import Choice, theme
from ui.window import MainWindow

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication
    from pytestqt.qtbot import QtBot


@pytest.fixture(scope="session", autouse=True)
def _dressed(qapp: QApplication, _own_qt_settings: None) -> None:
    """The application as the program has it."""
    dress(qapp)
    theme().choose(Choice.LIGHT)
    BackgroundSweep.wanted = False  # its own tests have it on


@pytest.fixture(autouse=True)
def _collected_here(qapp: QApplication) -> Iterator[None]:
    """As in the program: what was dropped in a ring ends on this thread, never on a worker's."""
    collector = Collector()
    yield
    collector.look()
    collector.stop()


@pytest.fixture
def session(qapp: QApplication) -> Session:
    return Session(Job(title="A job", units="inch-pound"))


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """A window with the demo job, closed without questions at the end."""
    job = demo_job()
    assert job is not None
    with theme().sheet_last():
        made = MainWindow(Session(job), Settings())
        made.documents.put_untitled(job)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.session.undo_stack.setClean()
    made.close()
    made.deleteLater()
    theme().choose(Choice.LIGHT)
