"""Nothing is cut: longer languages, narrow columns."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QScrollArea, QSplitter, QWidget

from loadbench.job.model import Job
from tests.ui.lengthened import everything_longer
from ui.app import demo_job
from ui.session import Session
from ui.settings import Settings
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

PAGES = ("bench", "readings")
ASKED = (*PAGES, *(pytest.param(page, marks=pytest.mark.strength) for page in ("followers", "setting")))
"""Those of the everyday run, and with the long tests the others too."""


def cut(window: QWidget) -> list[str]:
    """Labels of one line and buttons that are narrower than their text, labels of more lines that are too low."""
    found = []
    for label in window.findChildren(QLabel):
        if not label.isVisible() or not label.text():
            continue
        low = label.wordWrap() and label.height() + 1 < label.heightForWidth(label.width())
        if low or (not label.wordWrap() and label.width() + 1 < label.sizeHint().width()):
            found.append(label.text())
    for button in window.findChildren(QAbstractButton):
        if button.isVisible() and button.text():
            wanted = button.fontMetrics().horizontalAdvance(button.text().replace("&", ""))
            wanted += 0 if button.icon().isNull() else button.iconSize().width() + 4
            if button.width() < wanted + 2:
                found.append(button.text())
    return found


def sideways(window: QWidget) -> list[str]:
    areas = window.findChildren(QScrollArea)
    return [area.objectName() for area in areas if area.isVisible() and area.horizontalScrollBar().isVisible()]


def settle(window: MainWindow, width: int, height: int) -> None:
    window.resize(width, height)
    for _ in range(3):
        QApplication.processEvents()


@pytest.fixture(params=["demo", "empty"])
def long_window(qtbot: QtBot, request: pytest.FixtureRequest) -> Iterator[MainWindow]:
    """A window whose every text is two fifths longer."""
    job = demo_job() if request.param == "demo" else Job(title="", units="inch-pound")
    assert job is not None
    with everything_longer():
        made = MainWindow(Session(job), Settings())
        made.show()
        qtbot.waitExposed(made)
        yield made
        made.session.undo_stack.setClean()
        made.close()
        made.deleteLater()


@pytest.mark.parametrize("page", ASKED)
def test_d50_texts_two_fifths_longer_are_not_cut(long_window: MainWindow, page: str) -> None:
    long_window.show_page(page)
    settle(long_window, 1280, 800)
    assert long_window.menus.pages.actions()[0].text().endswith("xx")  # the longer texts are what is on show
    assert (long_window.width(), long_window.height()) == (1280, 800)
    assert sideways(long_window) == []
    assert cut(long_window) == []


@pytest.mark.parametrize("page", ASKED)
def test_d20_a_squeezed_page_wraps_its_tools(window: MainWindow, page: str) -> None:
    window.show_page(page)
    settle(window, 1024, 640)
    for splitter in window.shell.findChildren(QSplitter):
        splitter.setSizes([1000, 1, 1])
    settle(window, 1024, 640)
    assert window.shell.stack.width() < 620 or page == "readings"  # there is no left column to grow
    assert cut(window.shell.stack) == []
