"""D22: the Motion page without a mouse: every view, slider, durations, another lobe, wanted speed, tables, undo."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QFileDialog

import loadbench
from loadbench.analysis.motion import dynamics
from tests.ui.motion.made import RPM
from tests.ui.spring.spring_jobs import pair
from tests.ui.test_keyboard_only import Hands
from ui.motion import sweeper
from ui.motion.views import views
from ui.pages.motion_page import MotionPage
from ui.session import Session
from ui.settings import Settings
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Key, Control = Qt.Key, Qt.KeyboardModifier.ControlModifier
LONG = 30_000
WHEEL = Path(loadbench.__file__).parent.parent / "samples" / "lobes" / "invented-degree-wheel-crank-metric.csv"


@pytest.fixture
def at_motion(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> Callable[[], tuple[Hands, MotionPage]]:
    monkeypatch.setattr(dynamics, "STEP", 500 * RPM)
    monkeypatch.setattr(sweeper, "IDLE_MS", 20)

    def make() -> tuple[Hands, MotionPage]:
        window = MainWindow(Session(pair()), Settings(), late=True)
        window._soon.stop()
        qtbot.addWidget(window, before_close_func=lambda made: made.session.undo_stack.setClean())
        window.resize(1280, 800)
        window.show()
        window.show_page("motion")
        qtbot.waitExposed(window)
        page = window.shell.page
        assert isinstance(page, MotionPage)
        qtbot.waitUntil(lambda: page.sweeper.held is not None and page.sweeper.held.refined, timeout=LONG)
        return Hands(window), page

    return make


Made = Callable[[], tuple[Hands, MotionPage]]


def to_view(hands: Hands, page: MotionPage, key: str) -> None:
    """Tab to the row of words, then along it."""
    hands.tab_to(f"motion_view_{page.words.key}")
    keys = list(page.words.buttons)
    while page.words.key != key:
        hands.press(Key.Key_Right if keys.index(page.words.key) < keys.index(key) else Key.Key_Left)


def table_text(hands: Hands, name: str) -> list[list[str]]:
    """Tab to a table, copy it, and read the clipboard."""
    QGuiApplication.clipboard().clear()
    hands.tab_to(name)
    hands.press(Key.Key_A, Control)
    hands.press(Key.Key_C, Control)
    return [row.split("\t") for row in QGuiApplication.clipboard().text().splitlines()]


def test_every_view_the_slider_and_the_figures_are_reached(at_motion: Made) -> None:
    hands, page = at_motion()
    for kind in views():
        to_view(hands, page, kind.key)
        assert page.view is page.made[kind.key]
        if kind.has_speed:
            hands.tab_to("motion_speed")
            before = page.speed.speed
            hands.press(Key.Key_Left)
            assert page.speed.speed < before
            assert page.view.seen is not None
            assert page.view.seen.speed == page.speed.speed
        if kind.picture:
            hands.tab_to(f"{kind.key}_picture")
            hands.press(Key.Key_Up if kind.key == "matters" else Key.Key_Right)
            assert any(letter.isdigit() for letter in page.read_out.text())
        rows = table_text(hands, "motion_table")
        assert len(rows) > 3
        assert rows[0][0] == "Figure"


def test_durations_are_chosen_a_lift_is_typed_and_both_are_copied(at_motion: Made) -> None:
    hands, page = at_motion()
    to_view(hands, page, "lift")
    hands.tab_to("motion_lower_figures")
    hands.press(Key.Key_Right)
    assert page.beneath.key == "durations"
    hands.tab_to("lobe_extra")
    hands.type("2.5 mm")
    hands.press(Key.Key_Return)
    rows = table_text(hands, "lobe_table")
    assert rows[0][0] == "Lift"
    assert any(row[0].startswith("At 0.098") for row in rows)
    assert page.session.undo_stack.count() == 0  # a look is no edit


def test_another_lobe_is_read_from_a_file_and_stands_beside(
    at_motion: Made, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(WHEEL), ""))
    hands, page = at_motion()
    to_view(hands, page, "lift")
    hands.tab_to("motion_lower_figures")
    hands.press(Key.Key_Right)
    hands.press(Key.Key_Right)
    hands.tab_to("lobe_beside")
    box = hands.at
    assert isinstance(box, QComboBox)
    hands.tab_to("lobe_open")
    hands.press(Key.Key_Space)
    dialog: Any = page.beneath._dialog
    assert dialog is not None
    dialog.activateWindow()
    QApplication.processEvents()
    with qtbot.waitSignal(dialog.read, timeout=LONG):
        if QApplication.focusWidget() is None:
            dialog.setFocus()
        hands.tab_to(dialog.file_button.objectName())
        hands.press(Key.Key_Space)
    for field in (dialog.angle.box, dialog.side.box):
        if not field.currentData():
            hands.tab_to(field.objectName())
            hands.press(Key.Key_Down)
    assert dialog.import_button.isEnabled(), dialog.message.text.text()
    hands.tab_to(dialog.import_button.objectName())
    hands.press(Key.Key_Space)
    hands.window.activateWindow()
    QApplication.processEvents()
    assert page.beneath.comparison.table is not None
    assert page.view is not None
    assert "Dashed" in page.view.told.notes[0]
    rows = table_text(hands, "lobe_table")
    assert rows[0][-2:] == ["Difference", "Note"]
    assert page.session.undo_stack.count() == 0


def test_a_wanted_speed_is_typed_and_wrong_ones_are_told(at_motion: Made) -> None:
    hands, page = at_motion()
    to_view(hands, page, "wanted")
    hands.tab_to("wanted_speed")
    view: Any = page.view
    before = [each.answer for each in view.answers]
    hands.type("8200")
    hands.press(Key.Key_Return)
    assert [each.answer for each in view.answers] != before
    hands.press(Key.Key_Escape)
    hands.type("fast")
    hands.press(Key.Key_Return)
    assert view.answers == ()
    assert view.messages[0].isVisible()


def test_the_full_sweep_is_chosen_and_its_table_copied(at_motion: Made, qtbot: QtBot) -> None:
    hands, page = at_motion()
    to_view(hands, page, "speeds")
    hands.tab_to("motion_full")
    hands.press(Key.Key_Space)
    qtbot.waitUntil(lambda: page.full.shown is not None, timeout=LONG)
    rows = table_text(hands, "motion_table")
    assert rows[0][:3] == ["Figure", "One mass", "Full"]
    hands.tab_to("motion_speeds_lower_figures")
    hands.press(Key.Key_Right)
    rows = table_text(hands, "speed_table")
    assert rows[0][0] == "Speed, rpm"
    assert rows[0][-1] == "Lost at"
    assert len(rows) == 1 + page.full.shown.found.speeds.size  # type: ignore[union-attr]
    assert any("linkage" in row[-1] for row in rows[1:])


def test_an_edit_is_undone_and_the_page_follows(at_motion: Made, qtbot: QtBot) -> None:
    hands, page = at_motion()
    to_view(hands, page, "map")
    held = page.sweeper.held
    assert held is not None
    onset = held.dynamics.figures["onset_speed"].value
    hands.tab_to("spring__installed_height")
    hands.press(Key.Key_A, Control)
    hands.type("1.900")
    hands.press(Key.Key_Return)
    qtbot.waitUntil(lambda: not page.sweeper.stale and page.sweeper.held.refined, timeout=LONG)  # type: ignore[union-attr]
    assert page.sweeper.held is not None
    assert page.sweeper.held.dynamics.figures["onset_speed"].value != onset
    hands.press(Key.Key_Z, Control)
    qtbot.waitUntil(lambda: not page.sweeper.stale and page.sweeper.held.refined, timeout=LONG)  # type: ignore[union-attr]
    assert page.sweeper.held.dynamics.figures["onset_speed"].value == pytest.approx(onset, abs=2 * RPM)


def test_an_angle_that_is_read_in_one_view_is_read_in_the_others(at_motion: Made) -> None:
    _, swept = at_motion()
    swept.words.choose("force")
    view: Any = swept.view
    QTest.keyClick(view.scale, Key.Key_Right)
    angle = view.across
    assert angle is not None
    for key in ("lift", "map", "together"):
        swept.words.choose(key)
        other: Any = swept.view
        assert other.across == angle
        assert {item.cursor for item in other.scale.items} == {angle}
        assert f"{angle:.1f}".replace("-", "\u2212") in swept.read_out.text()
    swept.words.choose("speeds")
    swept.words.choose("force")
    assert view.across == angle
    before = swept.read_out.text()
    QTest.keyClick(swept.speed.slider, Key.Key_Home)  # what is read out is of the slider's speed
    assert swept.read_out.text() != before
    assert swept.read_out.text().startswith("2000")
