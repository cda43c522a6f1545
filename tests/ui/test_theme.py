"""Light and dark, by choice and by the system."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit, QWidget
from typing_extensions import override

from ui.palette import DARK, LIGHT, colours, contrast
from ui.theme import Choice, theme
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.fixture(autouse=True)
def _back_to_light() -> Iterator[None]:
    yield
    theme().choose(Choice.LIGHT)


def ground_of(widget: QWidget) -> str:
    return widget.grab().toImage().pixelColor(QPoint(1, widget.height() // 2)).name()


def test_d16_the_system_is_followed_while_running(qtbot: QtBot) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    theme().choose(Choice.SYSTEM)
    theme().follow(Qt.ColorScheme.Dark)
    assert colours() is DARK
    assert ground_of(widget) == DARK.page
    theme().follow(Qt.ColorScheme.Light)
    assert colours() is LIGHT
    assert ground_of(widget) == LIGHT.page
    theme().follow(Qt.ColorScheme.Unknown)
    assert colours() is LIGHT


def test_d16_an_own_choice_wins_over_the_system() -> None:
    theme().choose(Choice.DARK)
    theme().follow(Qt.ColorScheme.Light)
    assert colours() is DARK


def test_d16_everybody_hears_once(qtbot: QtBot) -> None:
    heard: list[bool] = []
    theme().changed.connect(lambda: heard.append(colours().dark))
    theme().choose(Choice.DARK)
    theme().choose(Choice.DARK)
    theme().choose(Choice.LIGHT)
    assert heard == [True, False]


def test_d16_the_choice_is_a_command_and_is_remembered(window: MainWindow) -> None:
    window.choose_theme(Choice.DARK)
    assert window.settings.theme is Choice.DARK
    assert window.grab().toImage().pixelColor(2, window.height() - 4).name() == DARK.page


class Restyled(QObject):
    """Counts how often a widget is told that its style changed."""

    def __init__(self) -> None:
        super().__init__()
        self.count = 0

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        self.count += event.type() is QEvent.Type.StyleChange
        return False


def test_d30_a_switch_styles_the_deepest_widget_no_oftener_than_any(window: MainWindow) -> None:
    deepest = window.shell.findings.entries()[0].sentence
    heard = Restyled()
    deepest.installEventFilter(heard)
    window.choose_theme(Choice.DARK)
    deepest.removeEventFilter(heard)
    assert heard.count == 2  # off and on; ten and more where one sheet is laid over the other


def settled(window: MainWindow) -> None:
    """Waits until no pass of events moves a widget any more: a page just made is laid out in several."""
    before: list[object] = []
    for _ in range(20):
        QApplication.processEvents()
        after = [(widget, widget.geometry()) for widget in window.findChildren(QWidget) if widget.isVisible()]
        if after == before:
            return
        before = list(after)
    raise AssertionError("the window does not settle")


def test_d16_there_and_back_nothing_has_moved(window: MainWindow) -> None:
    bar = window.shell.findings.scroller.verticalScrollBar()
    bar.setValue(bar.maximum())
    settled(window)
    shown = [widget for widget in window.findChildren(QWidget) if widget.isVisible()]
    before, place = [widget.geometry() for widget in shown], bar.value()
    window.choose_theme(Choice.DARK)
    window.choose_theme(Choice.LIGHT)
    settled(window)
    assert [widget.geometry() for widget in shown] == before
    assert bar.value() == place > 0


@pytest.mark.parametrize("choice", [Choice.LIGHT, Choice.DARK])
@pytest.mark.parametrize("kind", [QLineEdit, QPlainTextEdit])
def test_d17_a_hint_in_a_field_is_quiet_and_can_be_read(
    qtbot: QtBot, choice: Choice, kind: type[QLineEdit] | type[QPlainTextEdit]
) -> None:
    theme().choose(choice)
    field = kind()
    qtbot.addWidget(field)
    field.show()
    hint = field.palette().color(QPalette.ColorRole.PlaceholderText)
    assert (hint.name(), hint.alpha()) == (colours().quiet, 255)
    assert contrast(hint.name(), field.palette().color(QPalette.ColorRole.Base).name()) >= 4.5
