"""A page without anything to draw: what it says, and that its one button leads on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ui.widgets.waiting_page import WaitingPage, within

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def test_it_names_the_field_in_the_sentence_and_on_the_button(qtbot: QtBot) -> None:
    page = WaitingPage("fill_it")
    qtbot.addWidget(page)
    page.tell("It waits for: {name}.", "lines.exhaust.spring.installed_height")
    assert page.needs.text() == "It waits for: installed height."
    assert page.button.text() == "Enter installed height"
    assert page.button.objectName() == "fill_it"


def test_the_button_asks_by_mouse_and_by_key(qtbot: QtBot) -> None:
    page = WaitingPage("fill_it")
    qtbot.addWidget(page)
    page.tell("{name}", "spring.bind_height")
    page.show()
    with qtbot.waitSignal(page.wanted, timeout=500):
        qtbot.mouseClick(page.button, Qt.MouseButton.LeftButton)
    page.button.setFocus()
    with qtbot.waitSignal(page.wanted, timeout=500):
        qtbot.keyClick(page.button, Qt.Key.Key_Space)


def test_a_label_within_a_sentence_begins_small() -> None:
    assert [within(text) for text in ("Bind height", "")] == ["bind height", ""]
