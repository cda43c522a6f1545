"""D22: each of the three users comes from an empty job to the end of the work without a mouse."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QFileDialog, QLabel, QWidget

from loadbench.job.files import open_job
from ui.widgets.figures_strip import FiguresStrip
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Key, Control, Shift = Qt.Key, Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
MANY = 400


class Hands:
    """Two hands on a keyboard: what they press goes where the focus is, and nowhere else."""

    def __init__(self, window: MainWindow) -> None:
        self.window = window
        window.activateWindow()
        QApplication.processEvents()

    @property
    def at(self) -> QWidget:
        """Where the focus is."""
        widget = QApplication.focusWidget()
        assert widget is not None, "the focus is nowhere"
        return widget

    def press(self, key: Qt.Key, more: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(QApplication.focusWidget() or self.window, key, more)
        QApplication.processEvents()

    def type(self, text: str) -> None:
        for letter in text:  # the first may open an editor, which then has the focus
            QTest.keyClicks(self.at, letter)

    def tab_to(self, wanted: Callable[[QWidget], bool] | str, *, back: bool = False) -> None:
        """Press Tab until the focus stands on a widget of this name."""
        name, passed = wanted, []
        for _ in range(MANY):
            if self.at.objectName() == name if isinstance(name, str) else name(self.at):
                return
            before = self.at
            passed.append(before.objectName())
            if back:
                self.press(Key.Key_Backtab, Shift)
            else:
                self.press(Key.Key_Tab)
            assert self.at is not before or self.at.objectName() == name, f"trapped in {before.objectName()!r}"
        pytest.fail(f"Tab does not come to {wanted!r}, but to {passed}")

    def leave(self) -> None:
        """Esc closes the window beside; the window manager, which is not there offscreen, goes back to the first."""
        beside = self.at.window()
        self.press(Key.Key_Escape)
        assert not beside.isVisible()
        self.window.activateWindow()
        QApplication.processEvents()

    def fill(self, name: str, text: str) -> None:
        self.tab_to(name)
        self.type(text)
        self.press(Key.Key_Return)

    def choose(self, name: str, word: str) -> None:
        """Choose a word of a closed list with the arrow keys."""
        self.tab_to(name)
        box = self.at
        assert isinstance(box, QComboBox)
        for _ in range(box.count()):
            if box.currentText() == word:
                return
            self.press(Key.Key_Down)
        pytest.fail(f"{word} is not in the list")

    def open_card(self, name: str) -> None:
        self.tab_to(f"card_{name}")
        self.press(Key.Key_Space)


def answer_files(monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
    """The system's file dialog is not ours: it answers with a name of the kind that was asked for."""

    def named(*asked: object) -> tuple[str, str]:
        return str(folder / ("out.xlsx" if "xlsx" in str(asked[3]) else "out.loadbench.json")), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", named)


def begin(window: MainWindow) -> Hands:
    window.resize(1280, 800)
    hands = Hands(window)
    hands.press(Key.Key_N, Control)
    assert window.session.job.spring.rate is None
    return hands


def type_spring(hands: Hands) -> None:
    hands.fill("spring__installed_height", "1.900")
    hands.fill("spring__bind_height", "1.080")
    hands.tab_to("spring__readings__table")
    for height, load in (("1.900", "150"), ("1.300", "402")):
        hands.press(Key.Key_Home)
        hands.press(Key.Key_Right)
        hands.type(height)
        hands.press(Key.Key_Tab)  # the editor goes to the next cell
        hands.type(load)
        hands.press(Key.Key_Return)


def type_gear(hands: Hands) -> None:
    hands.fill("valve_gear__rocker_ratio", "1.6")
    hands.fill("valve_gear__lobe_lift", "0.360")
    hands.fill("valve_gear__lash", "0.016")
    hands.fill("valve_gear__retainer_to_seal", "0.680")
    hands.choose("follower__family", "Roller solid")


def test_d22_the_builder_types_a_slip_and_keeps_it(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answer_files(monkeypatch, tmp_path)
    hands, session = begin(window), window.session
    type_spring(hands)
    type_gear(hands)
    line = session.state.analysis.lines[0]
    assert line.value("seat_load") == pytest.approx(150 * 4.4482216, rel=1e-6)
    assert line.value("net_valve_lift") == pytest.approx((1.6 * 0.360 - 0.016) * 0.0254)

    hands.tab_to("figure_bind_margin")
    assert "0.260" in hands.at.accessibleName() + hands.at.accessibleDescription()
    hands.press(Key.Key_Space)
    strip = window.shell.figures
    assert isinstance(strip, FiguresStrip)
    assert strip.pane is not None
    assert strip.pane.isVisible()
    assert strip.pane.isActiveWindow()
    assert "1.900" in strip.pane.text()
    hands.leave()
    assert hands.at.objectName() == "figure_bind_margin"

    hands.press(Key.Key_2, Control)
    hands.tab_to("slip_start")
    hands.press(Key.Key_Space)
    for load in ("150", "152", "149"):
        hands.type(load)
        hands.press(Key.Key_Return)
    assert [spring.readings[0].load for spring in session.job.springs] == ["150 lbf", "152 lbf", "149 lbf"]

    hands.press(Key.Key_1, Control)
    hands.press(Key.Key_S, Control)
    assert open_job(tmp_path / "out.loadbench.json") == session.job
    assert not window.isWindowModified()
    with qtbot.waitSignal(window.exporting.desk.done, timeout=20000):
        hands.press(Key.Key_E, Control)
    assert (tmp_path / "out.xlsx").stat().st_size > 5000


def test_d22_the_porter_asks_the_other_way_round(window: MainWindow) -> None:
    hands, session = begin(window), window.session
    hands.fill("spring__bare_height", "1.960")
    type_spring(hands)
    hands.open_card("targets")
    hands.fill("targets__seat_load", "160")
    hands.fill("targets__open_load", "395")
    hands.press(Key.Key_I, Control)
    answer = hands.at.window().findChild(QLabel, "answer_0")
    assert answer is not None
    # 10 lbf more at 420 lbf/in: 0.024 in lower.
    assert "1.876" in answer.text()
    hands.tab_to("take_0")
    hands.press(Key.Key_Space)
    assert session.state.analysis.lines[0].value("seat_load") == pytest.approx(160 * 4.4482216, rel=2e-3)
    hands.leave()
    assert hands.at.window() is window


def test_d22_the_seller_sets_candidates_side_by_side(window: MainWindow) -> None:
    hands, session = begin(window), window.session
    type_spring(hands)
    hands.press(Key.Key_V, Control | Shift)
    hands.tab_to("add_variant")
    hands.press(Key.Key_Space)
    assert len(session.job.variants) == 1
    hands.fill("variants__0__name", "Stiffer")
    hands.fill("variants__0__spring__bind_height", "1.050")
    hands.tab_to(lambda widget: widget.accessibleName() == "Take over: variant 1")
    hands.press(Key.Key_Space)
    assert session.job.spring.bind_height == "1.050 in"
    hands.leave()
    assert hands.at.window() is window


def test_d22_anything_is_found_by_its_name(window: MainWindow) -> None:
    hands = begin(window)
    for words, name in (("head diameter", "valve_gear__head_diameter"), ("lobe lift", "valve_gear__lobe_lift")):
        hands.press(Key.Key_K, Control)
        hands.type(words)
        hands.press(Key.Key_Return)
        assert hands.at.objectName() == name
