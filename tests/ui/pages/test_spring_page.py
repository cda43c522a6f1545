"""The Spring page: its views and members, what it waits for, what it costs while hidden, its commands."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QSplitter, QWidget

from loadbench.job.files import open_job
from loadbench.job.model import Job
from loadbench.units import Style
from tests.ui.lengthened import everything_longer
from tests.ui.spring.spring_jobs import SAMPLES, beehive, pair, single
from tests.ui.test_fitting import cut
from ui.help import HelpDialog
from ui.pages.spring_page import SpringPage
from ui.session import Session
from ui.settings import Settings
from ui.spring.coil_view import CoilView
from ui.spring.views import views
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

Key = Qt.Key
Open = Callable[[Job], MainWindow]
VIEWS = [kind.key for kind in views()]


@pytest.fixture
def opened(qtbot: QtBot) -> Open:
    def make(job: Job) -> MainWindow:
        window = MainWindow(Session(job), Settings())
        qtbot.addWidget(window, before_close_func=lambda made: made.session.undo_stack.setClean())
        window.resize(1280, 800)
        window.show()
        window.show_page("spring")
        qtbot.waitExposed(window)
        settle(window)
        return window

    return make


def page_of(window: MainWindow) -> SpringPage:
    page = window.shell.page
    assert isinstance(page, SpringPage)
    return page


def settle(window: QWidget) -> None:
    for _ in range(3):
        QApplication.processEvents()
        window.grab()


def bad() -> Job:
    """The demo job that is wrong on purpose."""
    found = open_job(SAMPLES / "deliberately-bad.loadbench.json")
    return found if isinstance(found, Job) else found.job


# Views and members


def test_the_page_stands_after_readings_and_asks_its_question(opened: Open) -> None:
    window = opened(pair())
    names = [kind.name for kind in window.shell.kinds]
    assert names.index("spring") == names.index("readings") + 1
    assert window.shell.kind.shown_question == "Will the wire last?"
    assert window.shell.stated.isVisible()
    assert window.shell.findings.isVisible()


def test_a_view_is_made_when_it_is_first_shown(opened: Open) -> None:
    page = page_of(opened(pair()))
    assert list(page.made) == ["coil"]
    assert isinstance(page.view, CoilView)
    for key in VIEWS:
        page.words.choose(key)
        assert key in page.made
        assert page.view is page.made[key]


def test_arrow_keys_go_from_word_to_word(opened: Open) -> None:
    page = page_of(opened(pair()))
    page.words.buttons["coil"].setFocus()
    for key in VIEWS[1:]:
        QTest.keyClick(QApplication.focusWidget(), Key.Key_Right)  # type: ignore[arg-type]
        assert page.words.key == key
    for _ in VIEWS[1:]:
        QTest.keyClick(QApplication.focusWidget(), Key.Key_Left)  # type: ignore[arg-type]
    assert page.words.key == "coil"


def test_the_figures_beneath_follow_the_view(opened: Open) -> None:
    page = page_of(opened(pair()))
    for kind in views():
        page.words.choose(kind.key)
        headings = [row.name for row in page.table.figures.figures.rows if row.heading]
        assert page.table.isVisible() == bool(kind.groups)
        if kind.groups:
            assert tuple(headings) == kind.groups


def test_a_nest_offers_all_and_each_of_its_springs(opened: Open) -> None:
    page = page_of(opened(pair()))
    assert [page.members.itemText(place) for place in range(page.members.count())] == ["all", "outer", "inner"]
    page.members.setFocus()
    QTest.keyClick(page.members, Key.Key_Down)
    assert isinstance(page.view, CoilView)
    assert page.view.member == "outer"
    assert [profile.name for profile in page.view.items.stands.profiles] == ["outer"]


def test_a_view_of_one_spring_shows_the_first_of_all_and_all_come_back(opened: Open) -> None:
    page = page_of(opened(pair()))
    for kind in views():
        if kind.takes_all or not kind.needs_wire:
            continue
        page.words.choose(kind.key)
        assert page.members.findText("all") < 0
        assert page.members.currentText() == "outer"
    page.words.choose("coil")
    assert page.members.currentText() == "all"


def test_one_spring_needs_no_chooser(opened: Open) -> None:
    page = page_of(opened(single()))
    assert not page.members.isVisible()


# What it waits for


def test_d29_an_empty_job_says_what_is_wanted_and_goes_there(opened: Open, qtbot: QtBot) -> None:
    window = opened(Job(title="empty", units="inch-pound"))
    page = page_of(window)
    assert page.view is None
    assert "waits for: wire diameter" in page.waiting.needs.text()
    assert not page.table.isVisible()
    window.activateWindow()
    page.waiting.button.setFocus()
    QTest.keyClick(page.waiting.button, Key.Key_Space)
    qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
    focused = QApplication.focusWidget()
    assert focused is not None
    assert focused.property("field") == "spring.coils.0.wire.diameter"
    assert window.session.undo_stack.count() == 1
    QTest.keyClicks(focused, "0.192")
    QTest.keyClick(focused, Key.Key_Return)
    assert page.view is page.made["coil"]


def test_a_member_without_wire_waits_for_its_own_field(opened: Open) -> None:
    job = pair(spring__coils__1={"name": "inner", "bind_height": "1.100 in"})
    page = page_of(opened(job))
    assert page.view is not None  # the outer is there
    page.members.setCurrentIndex(page.members.findText("inner"))
    page.members.activated.emit(page.members.currentIndex())
    assert page.view is None
    assert page._missing.startswith("spring.coils.1.")


def bare() -> Job:
    """Nothing but its units."""
    return Job(title="", units="metric")


@pytest.mark.parametrize(
    "make", [pair, *(pytest.param(each, marks=pytest.mark.strength) for each in (bad, single, beehive, bare))]
)
def test_no_job_breaks_a_view(opened: Open, make: Callable[[], Job]) -> None:
    window = opened(make())
    page = page_of(window)
    for key in VIEWS:
        page.words.choose(key)
        for style in (Style.METRIC, Style.INCH_POUND):
            window.session.set_style(style)
            settle(window)
            assert page.stack.currentWidget() is not None, (key, style)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("spring.coils.0.wire.diameter", "-0.192 in"),
        ("spring.coils.0.wire.diameter", "1.2 in"),
        ("spring.coils.0.active_coils", 9.0),
        ("spring.coils.0.free_height", "0.5 in"),
        ("spring.coils.0.material", "cheese"),
        ("spring.coils.0.bind_height", "2.4 in"),
        ("spring.coils.0.total_coils", 0.0),
    ],
)
def test_bad_entries_leave_the_rest_shown(opened: Open, field: str, value: object) -> None:
    window = opened(pair())
    window.session.set_fields("spoil", {field: value})
    settle(window)
    page = page_of(window)
    assert isinstance(page.view, CoilView)
    assert "inner" in [profile.name for profile in page.view.items.stands.profiles]


# What it costs


def test_nothing_is_worked_out_while_the_page_is_hidden(opened: Open, monkeypatch: pytest.MonkeyPatch) -> None:
    window = opened(pair())
    page = page_of(window)
    calls: list[object] = []
    show = CoilView.show_state

    def counted(self: CoilView, *args: object) -> None:
        calls.append(args)
        show(self, *args)  # type: ignore[arg-type]

    monkeypatch.setattr(CoilView, "show_state", counted)
    window.show_page("bench")
    for height in ("1.840 in", "1.830 in"):
        window.session.set_fields("height", {"spring.installed_height": height, "spring.bare_height": None})
    window.session.set_style(Style.METRIC)
    assert calls == []
    window.show_page("spring")
    assert len(calls) == 1
    assert isinstance(page.view, CoilView)
    assert page.view.items.stands.height("closed") == pytest.approx(0.0254 * 1.83)


def test_the_shown_page_follows_every_edit_and_the_line(opened: Open) -> None:
    job = open_job(SAMPLES / "short-travel-hydraulic-roller.loadbench.json")
    window = opened(job if isinstance(job, Job) else job.job)
    page = page_of(window)
    assert isinstance(page.view, CoilView)
    window.session.set_field("spring.coils.0.mean_diameter", "1.300 in")
    assert page.view.items.stands.profiles[0].large == pytest.approx(0.65 * 0.0254)
    before = page.view.items.stands.height("closed")
    window.session.set_fields("own", {"lines.exhaust.spring.installed_height": "1.800 in"})
    window.session.choose_line("exhaust")
    assert page.view.items.stands.height("closed") != before


# Room and names


@pytest.mark.parametrize("key", VIEWS)
@pytest.mark.parametrize("style", [Style.INCH_POUND, pytest.param(Style.METRIC, marks=pytest.mark.strength)])
def test_d20_nothing_is_cut_at_1280_by_800(opened: Open, key: str, style: Style) -> None:
    window = opened(pair())
    page = page_of(window)
    page.words.choose(key)
    window.session.set_style(style)
    settle(window)
    assert (window.width(), window.height()) == (1280, 800)
    view = page.view
    assert view is not None
    assert view.minimumSizeHint().height() <= view.height()
    assert page.rect().contains(page.read_out.geometry())
    if page.table.isVisible():
        assert page.table.height() >= min(150, page.table.needed_height()) - 2
        assert not page.table.horizontalScrollBar().isVisible()


@pytest.mark.parametrize("make", [pair, pytest.param(bare, marks=pytest.mark.strength)])
def test_d50_texts_two_fifths_longer_are_not_cut(opened: Open, make: Callable[[], Job]) -> None:
    with everything_longer():
        window = opened(make())
        for key in VIEWS:
            page_of(window).words.choose(key)
            settle(window)
            assert (window.width(), window.height()) == (1280, 800)
            assert cut(window.shell.stack) == []


def test_d20_a_squeezed_page_wraps_its_tools(opened: Open) -> None:
    window = opened(pair())
    window.resize(1024, 640)
    for splitter in window.shell.findChildren(QSplitter):
        if splitter.orientation() is Qt.Orientation.Horizontal:
            splitter.setSizes([1000, 1, 1])
    for key in VIEWS:
        page_of(window).words.choose(key)
        settle(window)
        assert window.shell.stack.width() < 620
        assert cut(window.shell.stack) == []
        assert window.height() == 640


def test_the_splitter_keeps_its_place(opened: Open) -> None:
    window = opened(pair())
    page = page_of(window)
    total = sum(page.splitter.sizes())
    QTest.qWait(20)
    page.splitter.moveSplitter(total - 200, 1)
    sizes = page.splitter.sizes()
    window.session.set_field("spring.coils.0.mean_diameter", "1.300 in")
    for key in (*VIEWS, "coil"):
        page.words.choose(key)
        QTest.qWait(20)
        settle(window)
    assert page.splitter.sizes() == sizes
    other = page_of(opened(pair()))
    QTest.qWait(20)
    assert abs(other.splitter.sizes()[1] - sizes[1]) <= 2


def test_d26_everything_that_takes_the_focus_has_a_name(opened: Open) -> None:
    page = page_of(opened(pair()))
    for key in VIEWS:
        page.words.choose(key)
        settle(page)
        for widget in page.findChildren(QWidget):
            takes = widget.focusPolicy() & Qt.FocusPolicy.TabFocus
            if takes and widget.isVisible() and widget.objectName() != "qt_scrollarea_viewport":
                text = getattr(widget, "text", lambda: "")
                assert widget.accessibleName() or text(), widget


def test_d22_tab_goes_from_the_words_to_the_table(opened: Open) -> None:
    window = opened(pair())
    page = page_of(window)
    window.activateWindow()
    page.words.buttons["coil"].setFocus()
    seen = []
    for _ in range(12):
        QTest.keyClick(QApplication.focusWidget(), Key.Key_Tab)  # type: ignore[arg-type]
        focused = QApplication.focusWidget()
        assert focused is not None
        seen.append(focused.objectName())
        if seen[-1] == "coil_table":
            break
    wanted = ["spring_member", "spring_reset_view", "coil_picture", "coil_table"]
    assert [name for name in seen if name in wanted] == wanted


# Commands of the window


def test_the_windows_commands_reach_the_view_on_show(opened: Open, tmp_path: Path) -> None:
    window = opened(pair())
    page = page_of(window)
    for name in ("copy_picture", "save_picture", "reset_view"):
        action = window.findChild(QAction, name)
        assert action is not None
        assert action.isEnabled()
    QGuiApplication.clipboard().clear()
    window.ask_page("copy_picture")
    assert not QGuiApplication.clipboard().image().isNull()
    page.save_picture_as(tmp_path / "coil.svg")
    assert "free" in (tmp_path / "coil.svg").read_text(encoding="utf-8")
    window.ask_page("copy")
    assert QGuiApplication.clipboard().text() == page.read_out.text()


def test_d53_help_opens_at_the_pages_topic(opened: Open) -> None:
    window = opened(pair())
    assert window.shell.kind.topic == "spring"
    window.show_help()
    shown = window._dialogs["help"]
    assert isinstance(shown, HelpDialog)
    assert "stores enough energy to injure" in shown.text.toPlainText()
    shown.close()


def test_the_formula_closes_with_the_page(opened: Open) -> None:
    window = opened(pair())
    pane = page_of(window).table.open_formula("outer", "spring_index")
    window.show_page("bench")
    assert not pane.isVisible()
    assert pane.figure is None  # and follows no edit
