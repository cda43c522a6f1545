"""The Setting page: its views, what it waits for, its figures and findings, its commands, by keys alone."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QGuiApplication
from PySide6.QtWidgets import QAbstractButton, QAbstractScrollArea, QApplication, QLabel, QScrollArea, QWidget

from loadbench.job.model import Job
from loadbench.units import Style
from tests.ui.setting.setting_jobs import BUCKET, SOLID, setting_job
from ui.pages.setting_page import SettingPage
from ui.session import Session
from ui.setting.sheet_view import SheetView
from ui.theme import Choice, theme

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from ui.window import MainWindow

VIEWS = ("sheet", "gauge", "ways", "checks")
Opened = Callable[[Job], SettingPage]


@pytest.fixture
def opened(qtbot: QtBot) -> Iterator[Opened]:
    made: list[SettingPage] = []

    def show(job: Job) -> SettingPage:
        page = SettingPage(Session(job))
        made.append(page)
        qtbot.addWidget(page)
        page.resize(640, 620)
        page.show()
        page.activateWindow()
        qtbot.waitExposed(page)
        return page

    yield show
    for page in made:
        page.hide()


@pytest.fixture
def at_page(window: MainWindow) -> SettingPage:
    window.show_page("setting")
    window.resize(1280, 800)
    QApplication.processEvents()
    page = window.shell.page
    assert isinstance(page, SettingPage)
    return page


def of(page: SettingPage, key: str) -> QWidget:
    page.words.choose(key)
    QApplication.processEvents()
    return page.made[key]


@pytest.mark.parametrize("changes", [{}, SOLID, BUCKET, {"valve_gear.adjuster.at": "none"}])
def test_every_view_opens_for_every_kind_of_setting(opened: Opened, changes: dict[str, object]) -> None:
    page = opened(setting_job(changes))
    for key in VIEWS:
        view = of(page, key)
        assert page.stack.currentWidget() is view
        assert page.read_out.text()


def test_nothing_is_made_before_it_is_wanted(opened: Opened) -> None:
    page = opened(setting_job())
    assert set(page.made) == {"sheet"}
    page.hide()
    page.session.set_fields("depth", {"follower.preload.depth": "0.012 in"})
    page.words.choose("gauge")
    assert set(page.made) == {"sheet"}
    page.show()
    assert set(page.made) == {"sheet", "gauge"}


def test_without_a_family_gauge_and_ways_wait_for_it(opened: Opened) -> None:
    page = opened(Job(title="", units="inch-pound"))
    assert page.stack.currentWidget() is page.made["sheet"]
    for key in ("gauge", "ways"):
        page.words.choose(key)
        assert page.stack.currentWidget() is page.waiting
        assert page.waiting.button.text() == "Enter follower family"
    assert of(page, "checks").isVisible()
    page.words.choose("gauge")
    page.session.set_fields("family", {"follower.family": "roller-solid"})
    assert page.stack.currentWidget() is page.made["gauge"]


def test_the_view_follows_an_edit_and_a_line(opened: Opened) -> None:
    page = opened(setting_job(SOLID | {"lines.exhaust.valve_gear.lash": "0.018 in"}))
    gauge = of(page, "gauge")
    page.session.choose_line("exhaust")
    drawn = gauge.scale.item.drawn  # type: ignore[attr-defined]
    assert drawn.columns[0].halves[0].at == pytest.approx(0.018)


def test_left_and_right_go_from_view_to_view(opened: Opened, qtbot: QtBot) -> None:
    page = opened(setting_job())
    page.words.buttons["sheet"].setFocus()
    qtbot.keyClick(page.words.buttons["sheet"], Qt.Key.Key_Right)
    assert page.words.key == "gauge"


# In the window


def test_it_stands_before_fit_up_and_has_its_own_figures(window: MainWindow, at_page: SettingPage) -> None:
    names = [kind.name for kind in window.shell.kinds]
    assert names.index("motion") < names.index("setting") < names.index("fitup")
    figures = [button.figure.name for button in window.shell.figures.buttons]
    assert figures == ["plunger_depth", "plunger_depth_hot", "adjuster_turns", "depth_a_turn", "hot_lash_change"]
    assert window.shell.figures.buttons[1].figure.label == "Depth warm, by lengths"  # the gauge may go by custom
    window.show_page("bench")
    assert window.shell.figures.buttons[0].figure.name == "rate"


def test_findings_of_the_setting_stand_first(window: MainWindow, at_page: SettingPage) -> None:
    groups = [entry.group.worst.group for entry in window.shell.findings.entries()]
    count = groups.count("Setting")
    assert count > 0
    assert groups[:count] == ["Setting"] * count
    window.show_page("bench")
    levels = [entry.group.level.rank for entry in window.shell.findings.entries()]
    assert levels == sorted(levels, reverse=True)


def test_a_figure_opens_its_formula(window: MainWindow, at_page: SettingPage) -> None:
    pane = window.shell.figures.open_formula("adjuster_turns")
    assert "0.312" in pane.text()
    pane.close()


def test_a_field_outside_the_grid_is_gone_to(window: MainWindow, at_page: SettingPage) -> None:
    at_page.go_to("valve_gear.adjuster.thread")
    focused = QApplication.focusWidget()
    assert focused is not None
    assert focused.objectName() == "valve_gear__adjuster__thread"


def test_a_valves_measurement_is_gone_to_in_the_worksheet(at_page: SettingPage) -> None:
    at_page.words.choose("checks")
    at_page.go_to("valves.3.depth_found")
    view = at_page.made["sheet"]
    assert isinstance(view, SheetView)
    assert at_page.words.key == "sheet"
    index = view.grid.currentIndex()
    assert view.grid.sheet_model.rows[index.row()].index == 3
    assert view.grid.sheet_model.columns[index.column()] == "depth_found"


def test_its_commands_are_in_the_menu_and_come_forward(window: MainWindow, at_page: SettingPage) -> None:
    window.show_page("bench")
    for name in ("copy_worksheet", "copy_check_list", "setting_turn_order", "setting_lay_out_valves"):
        action = window.findChild(QAction, name)
        assert action is not None
        action.trigger()
        assert window.shell.page is at_page
    assert QGuiApplication.clipboard().text().startswith("Part\t")
    view = at_page.made["sheet"]
    assert isinstance(view, SheetView)
    assert view.orders.key == "firing"
    assert [row.valve for row in view.grid.sheet_model.rows[:4]] == ["1I", "1E", "8I", "8E"]


def test_the_windows_copy_takes_the_picture_on_show(window: MainWindow, at_page: SettingPage) -> None:
    told: list[str] = []
    window.session.announced.connect(told.append)
    at_page.copy_picture()
    assert told[-1] == "There is no picture on show."
    at_page.words.choose("gauge")
    at_page.copy_picture()
    assert told[-1] == "Picture copied."


def cut(window: QWidget) -> list[str]:
    """Labels and buttons that are narrower than their text, labels of more lines that are too low."""
    found = []
    for label in (each for each in window.findChildren(QLabel) if each.isVisible() and each.text()):
        low = label.wordWrap() and label.height() + 1 < label.heightForWidth(label.width())
        if low or (not label.wordWrap() and label.width() + 1 < label.sizeHint().width()):
            found.append(label.text())
    buttons = [each for each in window.findChildren(QAbstractButton) if each.isVisible() and each.text()]
    words = [each.fontMetrics().horizontalAdvance(each.text().replace("&", "")) for each in buttons]
    return found + [each.text() for each, wanted in zip(buttons, words, strict=True) if each.width() < wanted]


@pytest.mark.parametrize("size", [(1280, 800), (1024, 640)])
def test_nothing_is_cut_or_scrolls_sideways(window: MainWindow, at_page: SettingPage, size: tuple[int, int]) -> None:
    window.resize(*size)
    for key, style in itertools.product(VIEWS, Style):
        window.session.set_style(style)
        at_page.words.choose(key)
        QApplication.processEvents()
        QApplication.processEvents()
        assert (window.width(), window.height()) == size, key
        areas = at_page.findChildren(QAbstractScrollArea)
        sideways = [each.objectName() for each in areas if each.isVisible() and each.horizontalScrollBar().isVisible()]
        assert sideways == [], key
        assert cut(at_page) == [], key


def test_every_focusable_widget_has_a_name(at_page: SettingPage) -> None:
    for key in VIEWS:
        at_page.words.choose(key)
        QApplication.processEvents()
        for widget in at_page.findChildren(QWidget):
            inside = isinstance(widget.parentWidget(), QAbstractScrollArea)
            if widget.focusPolicy() is Qt.FocusPolicy.NoFocus or not widget.isVisible() or inside:
                continue
            name = widget.accessibleName() or getattr(widget, "text", str)()
            assert name or isinstance(widget, QScrollArea), (key, type(widget).__name__, widget.objectName())


def test_both_themes_draw_every_view(at_page: SettingPage) -> None:
    """The ground of each picture is that of the theme."""
    grounds = []
    for choice in (Choice.LIGHT, Choice.DARK):
        theme().choose(choice)
        QApplication.processEvents()
        at_page.words.choose("gauge")
        QApplication.processEvents()
        image = at_page.made["gauge"].grab().toImage()
        grounds.append(image.pixelColor(image.width() - 3, 3).lightness())
    assert grounds[0] > 200
    assert grounds[1] < 100
