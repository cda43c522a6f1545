"""The page in its window: nothing cut, nothing sideways, small windows, large letters; Tab in reading order."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QWidget

from loadbench.units import Style
from tests.assembly.heads import analysed, head
from ui.fitup.valve_columns import COLUMNS
from ui.help.topics import text_of
from ui.pages.fitup_page import FitupPage

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from ui.window import MainWindow

SPRINGS = [(f"S{number:02d}", 140.0 + number, 400.0) for number in range(18)]


def eight_cylinders(**more: Any) -> dict[str, Any]:
    tree = head(SPRINGS, [1.80 + place / 500 for place in range(16)], **more)
    for place, valve in enumerate(tree["valves"]):
        name = f"{place // 2 + 1}{'IE'[place % 2]}"
        line = ("intake", "exhaust")[place % 2]
        valve |= {"id": name, "line": line, "spring": f"S{place:02d}", "shims": ["0.060 in", "0.015 in"]}
    return tree


KINDS: dict[str, dict[str, Any]] = {
    "planned": {"targets": {"seat_load": "150 lbf", "tolerance_percent": 20}},
    "short of bind": {"spring": {"bind_height": "1.220 in", "installed_height": "1.800 in"}},
    "none holds": {"targets": {"seat_load": "120 lbf", "tolerance_percent": 1}},
    "empty": {"valves": []},
}


@pytest.fixture(params=list(KINDS))
def page(window: MainWindow, qtbot: QtBot, request: pytest.FixtureRequest) -> FitupPage:
    window.session.reload(analysed(eight_cylinders(**KINDS[request.param])).job, None)
    window.show_page("fitup")
    window.shell.findings.hide()
    found = window.shell.page
    assert isinstance(found, FitupPage)
    qtbot.waitUntil(lambda: not found.planner.busy, timeout=10_000)
    return found


def sized(page: FitupPage, width: int, height: int) -> QWidget:
    window = page.window()
    window.resize(width, height)
    for _ in range(3):
        QApplication.processEvents()
    assert (window.width(), window.height()) == (width, height)
    return window


def cut(page: FitupPage) -> list[str]:
    """Labels of one line and buttons that are narrower than their text, and heads of columns."""
    labels = [label for label in page.findChildren(QLabel) if label.isVisible() and label.text()]
    found = [one.text() for one in labels if not one.wordWrap() and one.width() + 1 < one.sizeHint().width()]
    for button in page.findChildren(QAbstractButton):
        words = button.fontMetrics().horizontalAdvance(button.text().replace("&", ""))
        if button.isVisible() and button.text() and button.width() < words:
            found.append(button.text())
    return [*found, *cut_cells(page)]


def cut_cells(page: FitupPage) -> list[str]:
    grid, metrics, found = page.grid, page.grid.fontMetrics(), list[str]()
    for column, name in enumerate(COLUMNS):
        head_text = str(grid.valves.headerData(column, Qt.Orientation.Horizontal))
        cells = [grid.valves.text(row, name) for row in range(len(page.rows))]
        signs = [grid.valves.index(row, column).data(Qt.ItemDataRole.DecorationRole) for row in range(len(page.rows))]
        for texts, sides in ((head_text.split("\n"), 13), (cells, 27 if any(signs) else 7)):
            found += [text for text in texts if metrics.horizontalAdvance(text) + sides > grid.columnWidth(column)]
    return found


def test_d20_nothing_is_cut_or_scrolls_sideways(page: FitupPage) -> None:
    for style, size in product(Style, [(1280, 800), (1920, 1080), (1024, 640)]):
        page.session.set_style(style)
        sized(page, *size)
        assert cut(page) == [], (style, size)
        for area in (page.stated, page.answer, page.grid):
            assert not area.horizontalScrollBar().isVisible(), (style, size)
        assert page.picture.view.height() >= 100 or page.middle.currentWidget() is page.prompt


def test_d20_it_fits_a_small_window_beside_the_findings_too(page: FitupPage, window: MainWindow) -> None:
    window.shell.findings.show()
    sized(page, 1024, 640)
    assert window.minimumSizeHint().height() <= 640
    assert window.minimumSizeHint().width() <= 1024


def test_d21_half_as_large_letters_cut_nothing(page: FitupPage) -> None:
    before = QApplication.font()
    larger = QApplication.font()
    larger.setPointSizeF(before.pointSizeF() * 1.5)
    QApplication.setFont(larger)
    try:
        sized(page, 1920, 1080)
        assert cut(page) == []
        for button in page.stated.switch.buttons.values():
            assert not button.isVisible() or button.width() >= button.sizeHint().width()
    finally:
        QApplication.setFont(before)


def test_d25_what_is_pressed_is_large_enough(page: FitupPage) -> None:
    sized(page, 1280, 800)
    small = [b.text() for b in page.findChildren(QAbstractButton) if b.isVisible() and min(b.width(), b.height()) < 24]
    assert [text for text in small if text] == []


def test_d23_tab_goes_in_reading_order_and_out_again(page: FitupPage, qtbot: QtBot) -> None:
    window = sized(page, 1280, 800)
    window.activateWindow()
    page.stated.fields["targets.seat_load"].setFocus()
    seen: list[QWidget] = []
    widget = page.stated.switch.buttons["common"]
    widget.setFocus()
    for _ in range(120):
        focused = QApplication.focusWidget()
        if focused is None or focused in seen:
            break
        if page.isAncestorOf(focused):
            seen.append(focused)
        window.focusNextChild()
    beneath = page.down.widget(1)
    assert beneath is not None
    parts = [page.stated, page.middle, page.answer, beneath]
    order = [next(place for place, part in enumerate(parts) if part.isAncestorOf(each)) for each in seen]
    assert order == sorted(order)
    assert page.grid in seen
    assert page.grid.mapTo(page, QPoint(0, 0)).y() > page.middle.mapTo(page, QPoint(0, 0)).y()


def test_f1_opens_the_topic_of_the_page(window: MainWindow) -> None:
    window.show_page("fitup")
    assert window.shell.kind.topic == "fitup"
    text = text_of("fitup")
    assert text.startswith("# Fit-up")
    for action in window.shell.page.commands:  # type: ignore[attr-defined]
        for key in action.shortcuts():
            assert key.toString().replace("Return", "Enter") in text
