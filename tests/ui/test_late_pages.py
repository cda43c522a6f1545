"""The window is there before all its pages are; no command and no field is missed for that."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest

from loadbench.job.model import Job
from ui.app import demo_job
from ui.commands import commands_of
from ui.going import widget_of
from ui.pages.readings_page import ReadingsPage
from ui.session import Session
from ui.window import LATE_MS, MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Windows = Callable[[bool], MainWindow]


@pytest.fixture
def windows(qtbot: QtBot) -> Windows:
    def made(late: bool) -> MainWindow:
        window = MainWindow(Session(demo_job()), late=late)
        qtbot.addWidget(window)
        return window

    return made


def names(window: MainWindow) -> set[str]:
    return {action.objectName() for action in commands_of(window)}


def test_the_pages_come_by_themselves_and_then_nothing_is_lacking(windows: Windows, qtbot: QtBot) -> None:
    whole, late = windows(False), windows(True)
    assert late.findChild(ReadingsPage) is None
    assert names(late) < names(whole)
    qtbot.waitUntil(lambda: names(late) == names(whole), timeout=20 * LATE_MS + 5000)
    menus = [[action.text() for action in window.menus._edit_menu.actions()] for window in (whole, late)]
    assert menus[0] == menus[1]


def test_a_page_that_is_wanted_is_made_at_once(windows: Windows) -> None:
    window = windows(True)
    window.show_page("readings")
    assert isinstance(window.shell.page, ReadingsPage)
    assert window.shell.kind.name == "readings"


def test_the_search_and_a_field_wait_for_no_page(windows: Windows) -> None:
    window = windows(True)
    window.go_to_field("springs.0.readings.0.load")
    assert window.shell.kind.name == "readings"
    other = windows(True)
    other.shell.complete()
    assert names(other) == names(windows(False))


def test_a_field_in_a_folded_card_is_gone_to_from_a_page_without_cards(qtbot: QtBot) -> None:
    window = MainWindow(Session(Job(title="empty", units="inch-pound")))
    qtbot.addWidget(window)
    assert widget_of(window, "spring.spec") is None
    window.show_page("readings")
    window.go_to_field("spring.spec")
    assert window.shell.kind.name == "bench"
    assert window.shell.stated._input_of("spring.spec") is not None
