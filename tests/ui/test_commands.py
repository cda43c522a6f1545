"""Commands: one action each, in a menu, with name, text, tip and keys; search and keyboard sheet made from them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QMenu

from loadbench.findings.rulebook import program_rules
from ui.command_search import CommandSearch
from ui.commands import Command, action_of, commands_of, keys_told, plain_text, register
from ui.fuzzy import NO_FIT, fit
from ui.keyboard_sheet import KeyboardSheet
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Key = QKeySequence.StandardKey
Role = QAction.MenuRole


def in_menus(window: MainWindow) -> list[QAction]:
    """Every action that the menu bar leads to; menus that fill on opening are opened."""
    found: list[QAction] = []

    def walk(menu: QMenu) -> None:
        menu.aboutToShow.emit()
        for action in menu.actions():
            below = action.menu()
            if isinstance(below, QMenu):
                walk(below)
            elif not action.isSeparator():
                found.append(action)

    for top in window.menuBar().actions():
        below = top.menu()
        assert isinstance(below, QMenu)
        walk(below)
    return found


def named(window: MainWindow, name: str) -> QAction:
    action = window.findChild(QAction, name)
    assert action is not None
    return action


def test_d01_menus_stand_in_their_order(window: MainWindow) -> None:
    titles = [plain_text(action) for action in window.menuBar().actions()]
    assert titles == ["File", "Edit", "View", "Tools", "Help"]


def test_d01_every_menu_entry_has_name_text_and_tip(window: MainWindow) -> None:
    actions = in_menus(window)
    assert len(actions) > 25
    bare = [a.text() for a in actions if not (a.objectName() and a.text() and a.statusTip())]
    assert bare == []


def test_d01_every_command_is_reached_by_menu(window: MainWindow) -> None:
    reached = {action.objectName() for action in in_menus(window)}
    assert {action.objectName() for action in commands_of(window)} <= reached


def test_d01_names_are_given_once(window: MainWindow) -> None:
    names = [action.objectName() for action in commands_of(window)]
    assert len(names) == len(set(names))


def test_a_command_without_a_tip_is_refused(window: MainWindow) -> None:
    with pytest.raises(ValueError, match="status tip"):
        register(QAction("text", window))


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("new", Key.New),
        ("open", Key.Open),
        ("save", Key.Save),
        ("save_as", Key.SaveAs),
        ("undo", Key.Undo),
        ("redo", Key.Redo),
        ("cut", Key.Cut),
        ("copy", Key.Copy),
        ("paste", Key.Paste),
        ("find", Key.Find),
        ("quit", Key.Quit),
        ("help", Key.HelpContents),
    ],
)
def test_d02_standard_keys_are_the_platforms(window: MainWindow, name: str, key: Key) -> None:
    assert set(QKeySequence.keyBindings(key)) <= set(named(window, name).shortcuts())


def test_d02_no_two_commands_share_keys(window: MainWindow) -> None:
    keys = [key.toString() for action in commands_of(window) for key in action.shortcuts()]
    assert sorted({key for key in keys if keys.count(key) > 1}) == []


@pytest.mark.parametrize("name", ["quit", "full_screen", "save_as", "find", "help", "undo", "redo"])
def test_d03_there_is_a_key_on_every_platform(window: MainWindow, name: str) -> None:
    assert keys_told(named(window, name))


def test_d03_the_fallback_stands_in_only_where_the_platform_has_none(window: MainWindow) -> None:
    own = action_of(Command(name="a", text="A", tip="a", run=lambda: None, keys=(Key.Copy, "Ctrl+J")), window)
    none = action_of(Command(name="b", text="B", tip="b", run=lambda: None, keys=(Key.Preferences, "Ctrl+J")), window)
    assert "Ctrl+J" not in [key.toString() for key in own.shortcuts()]
    assert "Ctrl+J" in [key.toString() for key in none.shortcuts()]


def test_d04_menu_roles_are_set(window: MainWindow) -> None:
    assert named(window, "quit").menuRole() is Role.QuitRole
    assert named(window, "about").menuRole() is Role.AboutRole
    others = {a.menuRole() for a in commands_of(window) if a.objectName() not in {"quit", "about", "undo", "redo"}}
    assert others == {Role.NoRole}


def test_d05_the_menu_names_the_step(window: MainWindow) -> None:
    window.session.set_field("spring.installed_height", "1.9 in")
    assert plain_text(named(window, "undo")) == "Undo set installed height"


def test_d25_buttons_of_the_window_are_large_enough(window: MainWindow) -> None:
    small = [
        button.objectName()
        for button in window._row.findChildren(QAbstractButton)
        if button.width() < 24 or button.height() < 24
    ]
    assert small == []


def test_d28_a_tip_tells_the_keys_too(window: MainWindow) -> None:
    assert keys_told(named(window, "save")) in named(window, "save").toolTip()


@pytest.mark.parametrize(
    ("pattern", "better", "worse"),
    [("sav", "Save", "Save as"), ("rb", "Rule book", "Member B"), ("inst h", "Installed height", "Head diameter")],
)
def test_the_better_fit_stands_first(pattern: str, better: str, worse: str) -> None:
    assert fit(pattern, better) > fit(pattern, worse)


def test_letters_out_of_order_do_not_fit() -> None:
    assert fit("evas", "Save") == NO_FIT
    assert fit("", "Save") == 0


def test_d48_the_search_finds_every_command_and_rule(window: MainWindow) -> None:
    search = CommandSearch(window)
    for action in commands_of(window):
        if action.isEnabled():
            assert plain_text(action) in [entry.name for entry in search.found(plain_text(action))], action.text()
    for rule in program_rules().values():
        assert rule.title in [entry.name for entry in search.found(rule.title) if entry.sort == "rule"]


def test_d48_a_field_is_found_and_gets_the_focus(window: MainWindow, qtbot: QtBot) -> None:
    window.show_page("readings")
    window.search()
    search = window.findChild(CommandSearch)
    assert search is not None
    qtbot.keyClicks(search.line, "bind height")
    qtbot.keyClick(search.line, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: getattr(QApplication.focusWidget(), "property", lambda _: None)("field") is not None)
    focused = QApplication.focusWidget()
    assert focused is not None
    assert focused.property("field") == "spring.bind_height"
    assert focused.isVisible()


def test_d48_arrows_choose_and_enter_runs(window: MainWindow, qtbot: QtBot) -> None:
    search = CommandSearch(window)
    qtbot.keyClicks(search.line, "metric")
    qtbot.keyClick(search.line, Qt.Key.Key_Down)
    qtbot.keyClick(search.line, Qt.Key.Key_Up)
    qtbot.keyClick(search.line, Qt.Key.Key_Return)
    assert window.session.style == "metric"


def test_d48_nothing_found_says_so(window: MainWindow, qtbot: QtBot) -> None:
    search = CommandSearch(window)
    qtbot.keyClicks(search.line, "zzzzqq")
    qtbot.keyClick(search.line, Qt.Key.Key_Return)
    assert not search._none.isHidden()


def test_d48_both_keys_open_the_search(window: MainWindow) -> None:
    keys = {key.toString() for key in named(window, "find").shortcuts()}
    assert {"Ctrl+K", "Ctrl+Shift+P"} <= keys


def test_d49_the_keyboard_sheet_equals_the_actions(window: MainWindow) -> None:
    sheet = KeyboardSheet(window)
    items = [sheet.table.topLevelItem(row) for row in range(sheet.table.topLevelItemCount())]
    rows = [(item.text(0), item.text(1)) for item in items if item is not None]
    wanted = [(plain_text(a), keys_told(a) or "\u2013") for a in commands_of(window)]
    assert rows[: len(wanted)] == wanted


def test_copy_goes_to_the_widget_with_the_focus(window: MainWindow, qtbot: QtBot) -> None:
    search = CommandSearch(window)
    search.show()
    search.line.setText("words")
    search.line.selectAll()
    search.line.setFocus()
    qtbot.waitUntil(search.line.hasFocus)
    named(window, "copy").trigger()
    assert QApplication.clipboard().text() == "words"
    named(window, "cut").trigger()
    assert search.line.text() == ""
    named(window, "paste").trigger()
    assert search.line.text() == "words"


def test_the_page_keys_change_the_page(window: MainWindow) -> None:
    QTest.keyClick(window, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    assert window.shell.kind.name == "readings"
    QTest.keyClick(window, Qt.Key.Key_1, Qt.KeyboardModifier.ControlModifier)
    assert window.shell.kind.name == "bench"
