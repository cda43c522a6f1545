"""Below its width the window has the meaning folded to counts: a count opens the list over the page."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import QApplication, QToolButton

from loadbench.findings import Level
from ui.drawer import Drawer
from ui.widgets.finding_entry import FindingEntry
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.fixture
def narrow(window: MainWindow, qtbot: QtBot) -> MainWindow:
    window.resize(1024, 640)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    QApplication.processEvents()
    return window


def chip(window: MainWindow, level: Level) -> QToolButton:
    return window.shell.findings.chips.chips[level]


def drawer(window: MainWindow) -> Drawer:
    return window.shell.drawer


@pytest.mark.parametrize("page", ["bench", "readings"])
def test_a_count_opens_the_list_over_the_page_at_its_level(narrow: MainWindow, page: str) -> None:
    narrow.show_page(page)
    assert not drawer(narrow).isVisible()
    chip(narrow, Level.UNKNOWN).click()
    assert narrow.shell.findings.scroller.isVisible()
    entry = QApplication.focusWidget()
    assert isinstance(entry, FindingEntry)
    assert entry.group.level is Level.UNKNOWN
    assert chip(narrow, Level.UNKNOWN).isChecked()  # opened, not left out
    assert QRect(0, 0, narrow.shell.width(), narrow.shell.height()).contains(drawer(narrow).geometry())
    beside = drawer(narrow).mapTo(narrow, drawer(narrow).rect().topRight()).x()
    assert beside < chip(narrow, Level.STOP).mapTo(narrow, chip(narrow, Level.STOP).rect().topLeft()).x()


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_d22_it_opens_walks_and_closes_by_keys(narrow: MainWindow, qtbot: QtBot, key: Qt.Key) -> None:
    chip(narrow, Level.CLEAR).setFocus()
    qtbot.keyClick(chip(narrow, Level.CLEAR), key)
    first = QApplication.focusWidget()
    assert isinstance(first, FindingEntry)
    qtbot.keyClick(first, Qt.Key.Key_Down)
    second = QApplication.focusWidget()
    assert isinstance(second, FindingEntry)
    assert second is not first
    qtbot.keyClick(second, Qt.Key.Key_Escape)
    assert not drawer(narrow).isVisible()
    assert chip(narrow, Level.CLEAR).hasFocus()


def test_the_same_count_again_closes_and_so_do_esc_on_it_and_the_button(narrow: MainWindow, qtbot: QtBot) -> None:
    watch = chip(narrow, Level.WATCH)
    for close in (watch.click, lambda: qtbot.keyClick(watch, Qt.Key.Key_Escape), drawer(narrow).close_button.click):
        watch.click()
        assert drawer(narrow).isVisible()
        close()
        assert not drawer(narrow).isVisible()
    watch.click()
    chip(narrow, Level.CLEAR).click()  # another count goes on from there
    assert drawer(narrow).isVisible()


def test_a_level_that_was_left_out_is_on_show_again(narrow: MainWindow) -> None:
    chip(narrow, Level.UNKNOWN).setChecked(False)
    chip(narrow, Level.UNKNOWN).click()
    entry = QApplication.focusWidget()
    assert isinstance(entry, FindingEntry)
    assert entry.group.level is Level.UNKNOWN


def test_d23_what_has_the_focus_never_lies_beneath_it(narrow: MainWindow) -> None:
    chip(narrow, Level.WATCH).click()
    narrow.go_to_field("spring.bare_height")
    assert not drawer(narrow).isVisible()
    focused = QApplication.focusWidget()
    assert focused is not None
    assert focused.property("field") == "spring.bare_height"


def test_a_wide_window_has_the_list_beside_the_page_again(narrow: MainWindow) -> None:
    chip(narrow, Level.WATCH).click()
    narrow.resize(1280, 800)
    QApplication.processEvents()
    findings = narrow.shell.findings
    assert not drawer(narrow).isVisible()
    assert findings.isAncestorOf(findings.scroller)
    assert findings.scroller.isVisible()
    assert findings.scroller.height() > 300
    chip(narrow, Level.CLEAR).click()
    assert not chip(narrow, Level.CLEAR).isChecked()
    assert not drawer(narrow).isVisible()
    assert "leave out" in chip(narrow, Level.CLEAR).toolTip()


def test_d51_right_to_left_it_opens_on_the_other_side(narrow: MainWindow) -> None:
    narrow.setLayoutDirection(Qt.LayoutDirection.RightToLeft)
    for _ in range(3):  # the splitter follows a turn later
        QApplication.processEvents()
    chip(narrow, Level.WATCH).click()
    right_of_counts = narrow.shell.findings.mapTo(narrow.shell, narrow.shell.findings.rect().topRight()).x()
    assert drawer(narrow).x() > right_of_counts
    assert drawer(narrow).geometry().right() < narrow.shell.width()
