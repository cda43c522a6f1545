"""The window: its shape, its focus, what it says, what it does not do to the job."""

from __future__ import annotations

import ast
import itertools
import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QAccessible, QAction, QGuiApplication
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QApplication,
    QLabel,
    QLineEdit,
    QScrollArea,
    QWidget,
)

import ui
from loadbench.findings import Level
from loadbench.job.edits import replaced
from loadbench.job.files import text_of_job
from loadbench.units import Style
from ui.about import LIBRARIES, AboutDialog
from ui.app import demo_job
from ui.commands import plain_text
from ui.documents import sample_files
from ui.help import HelpDialog
from ui.help.topics import TOPICS, text_of
from ui.pages.bench_page import BenchPage
from ui.pages.readings_page import ReadingsPage
from ui.places import log_file
from ui.rule_book.dialog import RuleBookDialog
from ui.session import Session
from ui.settings import Settings
from ui.shell import NARROW
from ui.widgets.waiting_page import named
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

HEIGHT = "spring.installed_height"
PAGES = ("bench", "readings")
ASKED = (*PAGES, *(pytest.param(page, marks=pytest.mark.strength) for page in ("followers", "setting")))
"""Those of the everyday run, and with the long tests the others too."""


def another(qtbot: QtBot) -> MainWindow:
    job = demo_job()
    assert job is not None
    made = MainWindow(Session(job), Settings())
    qtbot.addWidget(made, before_close_func=lambda window: window.session.undo_stack.setClean())
    return made


def test_d15_shape_page_and_folder_come_back(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    window.resize(700, 600)
    window.move(20, 30)
    window.show_page("readings")
    window.settings.put("folder", str(tmp_path))
    window.shell._splitter.setSizes([320, 500, 350])
    sizes = window.shell.splitters()
    window.close()
    again = another(qtbot)
    assert again.shell.kind.name == "readings"
    assert again.settings.folder == str(tmp_path)
    assert again.shell.splitters() == sizes
    assert again.width() < 1280


def test_d15_never_off_screen(window: MainWindow, qtbot: QtBot) -> None:
    window.move(5000, 5000)
    window.close()
    again = another(qtbot)
    again.show()
    screens = [screen.availableGeometry() for screen in QGuiApplication.screens()]
    assert any(screen.intersects(again.frameGeometry()) for screen in screens)


def test_d15_settings_that_make_no_sense_count_as_unset(qtbot: QtBot) -> None:
    settings = Settings()
    for key in ("window", "splitters", "page", "units", "theme", "folder", "recent"):
        settings.put(key, "nonsense \x01")
    settings.flush()
    again = another(qtbot)
    assert again.shell.kind.name == "bench"
    assert again.session.style is Style.INCH_POUND


def test_d15_reset_layout_is_a_command(window: MainWindow) -> None:
    window.resize(1000, 700)
    window.shell._splitter.setSizes([500, 400, 300])
    action = window.findChild(QAction, "reset_layout")
    assert action is not None
    action.trigger()
    assert (window.width(), window.height()) == (1280, 800)


@pytest.mark.parametrize("page", ASKED)
def test_d20_every_page_works_at_1024_by_640(window: MainWindow, page: str) -> None:
    window.show_page(page)
    window.resize(1024, 640)
    QApplication.processEvents()
    assert window.minimumSizeHint().width() <= 1024
    assert window.minimumSizeHint().height() <= 640
    assert (window.width(), window.height()) == (1024, 640)


def sideways(window: MainWindow) -> list[str]:
    areas = window.findChildren(QScrollArea)
    return [area.objectName() for area in areas if area.isVisible() and area.horizontalScrollBar().isVisible()]


def cut_labels(window: MainWindow) -> list[str]:
    """Labels of one line that are narrower than their text."""
    labels = [label for label in window.findChildren(QLabel) if label.isVisible() and label.text()]
    cut = [one.text() for one in labels if not one.wordWrap() and one.width() + 1 < one.sizeHint().width()]
    for button in window.findChildren(QAbstractButton):
        words = button.fontMetrics().horizontalAdvance(button.text().replace("&", ""))
        if button.isVisible() and button.text() and button.width() < words:
            cut.append(button.text())
    return cut


@pytest.mark.parametrize("page", ASKED)
@pytest.mark.parametrize("style", list(Style))
def test_d20_nothing_is_cut_or_scrolls_sideways_at_1280_by_800(window: MainWindow, page: str, style: Style) -> None:
    window.session.set_style(style)
    window.show_page(page)
    window.resize(1280, 800)
    QApplication.processEvents()
    assert sideways(window) == []
    assert cut_labels(window) == []


@pytest.mark.parametrize("page", ASKED)
def test_d21_half_as_large_a_font_again_cuts_nothing(window: MainWindow, page: str) -> None:
    before = QApplication.font()
    larger = QApplication.font()
    larger.setPointSizeF(before.pointSizeF() * 1.5)
    QApplication.setFont(larger)
    try:
        window.show_page(page)
        window.resize(1920, 1080)
        QApplication.processEvents()
        QApplication.processEvents()
        assert cut_labels(window) == []
    finally:
        QApplication.setFont(before)


def test_the_meaning_folds_when_the_window_is_narrow(window: MainWindow) -> None:
    window.resize(NARROW + 150, 700)
    QApplication.processEvents()
    opened, picture = window.shell.findings.width(), window.shell.stack.width()
    window.resize(NARROW - 40, 700)
    QApplication.processEvents()
    assert window.shell.findings.width() < opened / 2
    assert window.shell.stack.width() > picture - 190  # the picture gets what the meaning gives
    window.resize(NARROW + 150, 700)
    QApplication.processEvents()
    assert abs(window.shell.findings.width() - opened) < 12


def test_the_readings_page_has_its_own_inputs(window: MainWindow) -> None:
    window.show_page("readings")
    assert not window.shell.stated.isVisible()
    window.show_page("bench")
    assert window.shell.stated.isVisible()
    window.show_page("nonsense")
    assert window.shell.kind.name == "bench"


def focus_chain(window: MainWindow, most: int = 400) -> list[QWidget]:
    """The widgets in the order in which Tab goes through them."""
    chain: list[QWidget] = []
    window.activateWindow()
    for _ in range(most):
        window.focusNextChild()
        focused = QApplication.focusWidget()
        assert focused is not None
        if focused in chain:
            break
        chain.append(focused)
    return chain


def test_d23_the_focus_goes_through_the_columns_in_reading_order(window: MainWindow, qtbot: QtBot) -> None:
    qtbot.waitUntil(window.isActiveWindow)
    columns = [window._row, window.shell.stated, window.shell.stack, window.shell.findings, window.shell.figures]
    chain = focus_chain(window)
    places = [next((i for i, column in enumerate(columns) if column.isAncestorOf(w)), None) for w in chain]
    seen = [place for place, _ in itertools.groupby(place for place in places if place is not None)]
    start = seen.index(0)
    assert [*seen[start:], *seen[:start]] == [0, 1, 2, 3, 4] or seen == [0, 1, 2, 3, 4, 0]


def test_d23_there_is_no_trap(window: MainWindow, qtbot: QtBot) -> None:
    qtbot.waitUntil(window.isActiveWindow)
    chain = focus_chain(window)
    assert len(chain) > 30
    assert chain[0] in focus_chain(window)


def is_inside(widget: QWidget) -> bool:
    """Whether it is but the ground of a view that has the name."""
    above = widget.parentWidget()
    return isinstance(above, QAbstractScrollArea) and above.viewport() is widget


def test_d26_every_focusable_widget_has_a_name(window: MainWindow) -> None:
    nameless = []
    for page in PAGES:
        window.show_page(page)
        for widget in window.findChildren(QWidget):
            if widget.focusPolicy() is Qt.FocusPolicy.NoFocus or not widget.isVisible() or is_inside(widget):
                continue
            interface = QAccessible.queryAccessibleInterface(widget)
            name = interface.text(QAccessible.Text.Name) if interface else ""
            if not (name or widget.accessibleName()) and not isinstance(widget, QScrollArea):
                nameless.append(f"{page}: {type(widget).__name__} {widget.objectName()}")
    assert nameless == []


def test_d27_what_matters_is_announced(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    sent: list[str] = []
    monkeypatch.setattr(QAccessible, "updateAccessibility", lambda event: sent.append(event.message()))
    before = window.session.state.verdicts.count(Level.STOP)
    window.session.set_field("spring.coils", tuple({"name": n, "bind_height": "1.6 in"} for n in ("outer", "inner")))
    after = window.session.state.verdicts
    assert after.count(Level.STOP) > before
    worse = f"Findings got worse: stop {after.count(Level.STOP)}, watch {after.count(Level.WATCH)}."
    assert worse in sent
    assert window.statusBar().currentMessage() == worse
    window.session.undo_stack.undo()
    assert sent[-1].startswith("Findings got better")


def test_d27_what_can_no_longer_be_judged_is_no_better(window: MainWindow, monkeypatch: pytest.MonkeyPatch) -> None:
    window.session.set_field("spring.coils", tuple({"name": n, "bind_height": "1.6 in"} for n in ("outer", "inner")))
    sent: list[str] = []
    monkeypatch.setattr(QAccessible, "updateAccessibility", lambda event: sent.append(event.message()))
    window.session.set_field("spring.coils", tuple({"name": n, "bind_height": ""} for n in ("outer", "inner")))
    left = window.session.state.verdicts
    assert sent[-1] == f"Less can be judged now: stop {left.count(Level.STOP)}, watch {left.count(Level.WATCH)}."


def test_d27_what_was_said_of_the_job_before_goes_with_it(window: MainWindow, qtbot: QtBot) -> None:
    window.session.announce("Said of the first job.")
    page = window.shell.page
    assert isinstance(page, BenchPage)
    hint = page.read_out.text()
    qtbot.keyClick(page.picture.view, Qt.Key.Key_Up)
    assert page.read_out.text() != hint
    window.documents.open_sample(sample_files()[0])
    assert window.statusBar().currentMessage() == ""
    assert page.read_out.text() == hint


def test_d27_opening_a_job_is_no_change_for_the_worse(window: MainWindow) -> None:
    said: list[str] = []
    window.session.announced.connect(said.append)
    bad = next(file for file in sample_files() if "bad" in file.name)
    window.documents.open_sample(bad)
    assert said == []


def test_d37_the_switch_shows_other_units_and_leaves_the_job(window: MainWindow) -> None:
    before = text_of_job(window.session.job)
    for name in ("units_metric", "units_inch_pound", "units_metric"):
        action = window.findChild(QAction, name)
        assert action is not None
        action.trigger()
        assert action.isChecked()
    assert window.session.style is Style.METRIC
    assert text_of_job(window.session.job) == before
    assert window.session.undo_stack.isClean()
    assert window.settings.style is Style.METRIC


def test_a_job_looser_than_the_shop_says_so_and_can_take_the_shops(window: MainWindow) -> None:
    job = replaced(window.session.job, "rules", {"bind-margin-min": {"watch": "0.010 in", "stop": "0.005 in"}})
    window.documents.put_untitled(job)
    (notice,) = window.notices.notices()
    assert "looser" in notice.label.text()
    next(button for button in notice.buttons if button.text().startswith("Use")).click()
    assert dict(window.session.job.rules) == {}
    assert window.session.undo_stack.count() == 1


def test_d32_boxes_only_for_decisions_and_every_button_a_verb() -> None:
    folder = Path(ui.__file__).parent
    boxes = {
        file.relative_to(folder).as_posix()
        for file in folder.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Name) and node.id == "QMessageBox"
    }
    assert boxes <= {"asks.py"}
    standard = [
        file.name
        for file in folder.rglob("*.py")
        if "StandardButton.Ok" in file.read_text(encoding="utf-8") or "QMessageBox.warning" in file.read_text("utf-8")
    ]
    assert standard == []


@pytest.mark.parametrize("page", ASKED)
def test_d53_f1_opens_the_pages_topic(window: MainWindow, page: str, qtbot: QtBot) -> None:
    window.show_page(page)
    qtbot.keyClick(window, Qt.Key.Key_F1)
    dialog = window._dialogs["help"]
    assert isinstance(dialog, HelpDialog)
    assert dialog.topic == page
    assert len(dialog.text.toPlainText()) > 200


@pytest.mark.parametrize(
    ("dialog", "topic"),
    [("rule_book", "rules"), ("variants", "variants"), ("inverse", "inverse"), ("keyboard", "start")],
)
def test_d53_f1_in_a_dialog_opens_its_topic(window: MainWindow, qtbot: QtBot, dialog: str, topic: str) -> None:
    for _ in range(2):  # a dialog that is shown again has one key, not two that are in each other's way
        getattr(window, f"show_{dialog}")()
    shown = window._dialogs[dialog]
    qtbot.waitUntil(shown.isActiveWindow)
    qtbot.keyClick(QApplication.focusWidget() or shown, Qt.Key.Key_F1)
    found = window._dialogs["help"]
    assert isinstance(found, HelpDialog)
    assert found.isVisible()
    assert found.topic == topic


def test_d53_f1_in_the_slip_opens_the_readings_topic_also_while_typing(window: MainWindow, qtbot: QtBot) -> None:
    window.show_page("readings")
    page = window.shell.page
    assert isinstance(page, ReadingsPage)
    page.grid.view.setFocus()
    page.grid.go_to(0, page.grid.first_load())
    qtbot.keyClicks(page.grid.view, "15")
    editor = QApplication.focusWidget()
    assert isinstance(editor, QLineEdit)
    qtbot.keyClick(editor, Qt.Key.Key_F1)
    found = window._dialogs["help"]
    assert isinstance(found, HelpDialog)
    assert found.topic == "readings"


def test_d53_cautions_and_sources_are_in_help(window: MainWindow) -> None:
    window.show_help("cautions")
    dialog = window._dialogs["help"]
    assert isinstance(dialog, HelpDialog)
    assert "compressed valve spring stores enough energy" in dialog.text.toPlainText()
    assert "Piston-to-valve clearance" in dialog.text.toPlainText()
    assert "EN 13906-1" in text_of("sources")


def test_d53_help_speaks_of_commands_that_exist(window: MainWindow) -> None:
    names = {plain_text(action) for action in window.findChildren(QAction)}
    _, _, beside = text_of("start").partition("## Beside the pages")
    spoken = re.findall(r"\*\*([^*]+)\*\*", beside.partition("## Levels")[0])
    assert len(spoken) >= 7
    assert set(spoken) <= names


@pytest.mark.parametrize("topic", TOPICS)
def test_d53_every_topic_has_a_title_and_words(topic: str) -> None:
    text = text_of(topic)
    assert text.startswith("# ")
    assert len(text) > 150
    assert "http" not in text


def test_d54_about_tells_version_libraries_licences_and_log(window: MainWindow) -> None:
    dialog = AboutDialog(window)
    dialog.findChild(QAbstractButton, "copy_report").click()  # type: ignore[union-attr]
    text = QApplication.clipboard().text()
    assert "LoadBench 0." in text
    assert all(library in text for library in LIBRARIES)
    assert "not installed" not in text
    assert str(log_file()) in text


def test_dialogs_open_once(window: MainWindow) -> None:
    window.show_keyboard()
    first = window._dialogs["keyboard"]
    window.show_keyboard()
    assert not first.isVisible()
    assert window._dialogs["keyboard"].isVisible()


def test_full_screen_goes_and_comes(window: MainWindow) -> None:
    window.toggle_full_screen()
    assert window.isFullScreen()
    window.toggle_full_screen()
    assert not window.isFullScreen()


def test_d51_right_to_left_mirrors_the_columns(window: MainWindow) -> None:
    window.setLayoutDirection(Qt.LayoutDirection.RightToLeft)
    QApplication.processEvents()
    try:
        left = window.shell.stated.mapTo(window, QPoint(0, 0)).x()
        right = window.shell.findings.mapTo(window, QPoint(0, 0)).x()
        assert left > right
        assert QRect(QPoint(0, 0), window.size()).contains(window.shell.stated.mapTo(window, QPoint(5, 5)))
    finally:
        window.setLayoutDirection(Qt.LayoutDirection.LeftToRight)


def test_a_finding_leads_to_its_field_and_its_rule(window: MainWindow, qtbot: QtBot) -> None:
    window.show_page("readings")
    window.shell.findings.field_wanted.emit("lines.exhaust.valve_gear.retainer_to_seal")
    assert window.session.line == "exhaust"
    assert window.shell.kind.name == "bench"
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    focused = QApplication.focusWidget()
    assert focused is not None
    assert focused.property("field") == "valve_gear.retainer_to_seal"
    window.shell.findings.rule_wanted.emit("retainer-margin-min")
    book = window._dialogs["rule_book"]
    assert isinstance(book, RuleBookDialog)
    assert book.view is not None
    assert book.view.rule.id == "retainer-margin-min"
    window.show_rule_book()
    assert window._dialogs["rule_book"] is book


def test_every_tool_opens(window: MainWindow) -> None:
    for name in ("rule_book", "variants", "inverse"):
        action = window.findChild(QAction, name)
        assert action is not None
        action.trigger()
        assert window._dialogs[name].isVisible()


def test_what_was_said_of_one_page_goes_with_it(window: MainWindow) -> None:
    window.show_page("spring")
    window.announce("None of 15453 springs fits.")
    window.show_page("spring")
    assert window.statusBar().currentMessage() == "None of 15453 springs fits."
    window.show_page("bench")
    assert window.statusBar().currentMessage() == ""


def test_the_bench_names_the_follower_as_the_form_does(window: MainWindow) -> None:
    assert named("follower.family") == "follower family"
    assert named("lines.exhaust.spring.installed_height") == "installed height"
