"""The Followers page: every view for every kind of follower, the match by keys alone, what leads to a field."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible, QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from loadbench.findings.match.match import match_of
from loadbench.findings.match.result import Criterion, Kit
from loadbench.job.files import open_job
from loadbench.job.model import Job
from loadbench.job.reading_in import job_from_text
from loadbench.units import Style
from tests.ui.lengthened import everything_longer
from tests.ui.test_fitting import cut, sideways
from ui.followers.axle_view import AxleView
from ui.followers.contact_view import ContactView
from ui.followers.match_view import MatchView
from ui.followers.plunger_view import PlungerView
from ui.pages.followers_page import FollowersPage
from ui.palette import colours
from ui.session import Session
from ui.settings import Settings
from ui.theme import Choice, theme
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


SAMPLES = Path(__file__).parents[3] / "samples"
VIEWS = ("match", "contact", "axle", "plunger")


def sample(name: str) -> Job:
    return open_job(SAMPLES / f"{name}.loadbench.json")


@pytest.fixture
def page(qtbot: QtBot) -> Iterator[FollowersPage]:
    made = FollowersPage(Session(sample("short-travel-hydraulic-roller")))
    qtbot.addWidget(made)
    made.resize(640, 620)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.hide()


def of(page: FollowersPage, key: str) -> Any:
    page.words.choose(key)
    QApplication.processEvents()
    return page.made[key]


def settled(qtbot: QtBot, view: MatchView) -> None:
    qtbot.waitUntil(lambda: not view.matcher.stale, timeout=3000)


def matched(page: FollowersPage, qtbot: QtBot) -> MatchView:
    view = cast("MatchView", of(page, "match"))
    settled(qtbot, view)
    return view


@pytest.mark.parametrize(
    "name",
    ["short-travel-hydraulic-roller", "solid-roller-1000-lbf", "mild-street-flat-hydraulic", "bucket-head-with-shims",
     "printout-and-fit", "deliberately-bad"],
)  # fmt: skip
def test_every_view_opens_for_every_kind_of_follower(qtbot: QtBot, name: str) -> None:
    page = FollowersPage(Session(sample(name)))
    qtbot.addWidget(page)
    page.resize(640, 620)
    page.show()
    for key in VIEWS:
        page.words.choose(key)
        QApplication.processEvents()
        if page.view is None:
            assert page.waiting.needs.text()
            assert "{" not in page.waiting.needs.text() + page.waiting.button.text()
            continue
        view = page.made[key]
        assert page.view is view
        told = getattr(getattr(view, "picture", view), "told", None)
        if told is not None:
            assert told.charts
            assert not told.empty
            assert "{" not in told.empty + told.description
    page.hide()


def test_the_match_shows_a_level_in_every_cell_that_concerns(page: FollowersPage, qtbot: QtBot) -> None:
    view = matched(page, qtbot)
    rows = view.model.as_rows()
    assert (len(rows), len(rows[0])) == (len(Criterion) + 1, len(Kit) + 1)
    words = {word.removesuffix(" *") for row in rows[1:] for word in row[1:]}
    assert words <= {"Clear", "Watch", "Stop", "Unknown", "\u2013"}
    assert {"Clear", "Stop"} <= words
    assert view.advice.text().startswith("Hydraulic roller, short travel")


def press(view: MatchView, key: Qt.Key) -> None:
    QTest.keyClick(view.grid, key)


def test_a_cell_tells_its_reason_and_walks_by_keys(page: FollowersPage, qtbot: QtBot) -> None:
    view = matched(page, qtbot)
    view.reset_view()
    assert view.cell.head.text().startswith("Flat tappet, solid, open load: ")
    press(view, Qt.Key.Key_Right)
    assert view.cell.head.text().startswith("Flat tappet, hydraulic, open load: ")
    press(view, Qt.Key.Key_Down)
    assert view.cell.head.text().startswith("Flat tappet, hydraulic, speed: ")
    assert "Source: " in view.cell.facts.text()
    assert "to suit:" in view.cell.changes.text()


def test_a_long_reason_is_scrolled_by_keys_and_a_new_one_starts_at_its_top(page: FollowersPage, qtbot: QtBot) -> None:
    view = matched(page, qtbot)
    view.reset_view()
    view.splitter.setSizes([500, 72])
    QApplication.processEvents()
    bar = view.scroller.verticalScrollBar()
    assert bar.maximum() > 0
    press(view, Qt.Key.Key_PageDown)
    assert bar.value() > 0
    press(view, Qt.Key.Key_Right)
    assert bar.value() == 0


def test_the_chosen_cell_keeps_its_sign_and_is_framed(page: FollowersPage, qtbot: QtBot) -> None:
    view = matched(page, qtbot)
    view.reset_view()
    QApplication.processEvents()
    box = view.grid.visualRect(view.grid.currentIndex())

    def seen(place: QPoint) -> str:
        return view.grid.viewport().grab().toImage().pixelColor(place).name()

    inside, edge = box.center() + QPoint(0, box.height() // 2 - 5), box.topLeft() + QPoint(box.width() // 2, 0)
    assert seen(inside) == colours().panel.lower()
    assert seen(edge) in (colours().ink.lower(), colours().accent.lower())


def test_what_is_missing_leads_to_its_field(page: FollowersPage, qtbot: QtBot) -> None:
    view = matched(page, qtbot)
    match = view.model.held
    assert match is not None
    cell = next(each for each in match.cells if each.missing)
    view.grid.setCurrentIndex(view.model.index(list(Criterion).index(cell.criterion), list(Kit).index(cell.kit)))
    with qtbot.waitSignal(view.field_wanted) as wanted:
        view.cell.links.shown[0].click()
    assert wanted.args == [cell.missing[0]]


def test_an_edit_is_followed_a_moment_later(page: FollowersPage, qtbot: QtBot) -> None:
    view = matched(page, qtbot)
    first = view.model.held
    page.session.set_fields("feed", {"follower.oil_feed": "splash"})
    assert view.matcher.stale
    assert view.model.held is first  # the key is not waited for
    settled(qtbot, view)
    assert view.model.held is not first
    assert view.model.held == match_of(page.session.state.analysis, page.session.shop)
    assert not view.model.stale


def test_what_is_long_out_of_date_is_greyed_until_the_answer(page: FollowersPage, qtbot: QtBot) -> None:
    view = matched(page, qtbot)
    view.matcher._desk.shutdown()
    view.matcher._later.setInterval(100000)  # an answer that is long in coming
    index = view.grid.currentIndex()
    before = view.model.data(index, Qt.ItemDataRole.ForegroundRole)
    page.session.set_fields("use", {"duty.use": "drag"})
    qtbot.waitUntil(lambda: view.model.stale, timeout=3000)
    assert view.model.data(index, Qt.ItemDataRole.ForegroundRole) == colours().colour("quiet") != before
    assert not view.advice.isEnabled()
    view.copy_table()  # what is taken away is of the job as it is
    assert not view.model.stale
    assert view.advice.isEnabled()
    assert not view.matcher.busy


def test_a_failure_is_told_in_words(page: FollowersPage, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    view = matched(page, qtbot)

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("ui.followers.match_work._match", broken)
    page.session.set_fields("use", {"duty.use": "drag"})
    qtbot.waitUntil(lambda: "could not" in view.advice.text(), timeout=3000)
    assert view.model.stale
    monkeypatch.undo()
    page.session.set_fields("use", {"duty.use": "street"})
    settled(qtbot, view)
    assert not view.model.stale
    assert "could not" not in view.advice.text()


def test_nothing_is_worked_out_while_the_page_is_hidden(page: FollowersPage, qtbot: QtBot) -> None:
    view = matched(page, qtbot)
    page.hide()
    before = view.model.held
    page.session.set_fields("use", {"duty.use": "drag"})
    QApplication.processEvents()
    assert not view.matcher.busy
    assert view.model.held is before
    page.show()
    settled(qtbot, view)
    assert view.model.held is not before


def test_copies_come_as_a_table_and_pictures_are_saved(page: FollowersPage, tmp_path: Path) -> None:
    page.copy_match()
    lines = QGuiApplication.clipboard().text().splitlines()
    assert len(lines) == len(Criterion) + 1
    assert lines[0].split("\t")[1] == "Flat tappet, solid"
    view = cast("MatchView", of(page, "match"))
    for name in ("match.png", "match.csv"):
        view.save_picture_as(tmp_path / name)
        assert (tmp_path / name).stat().st_size > 100
    for key in ("contact", "axle", "plunger"):
        of(page, key).save_picture_as(tmp_path / f"{key}.csv")
        rows = (tmp_path / f"{key}.csv").read_text(encoding="utf-8").splitlines()
        assert len(rows) > 2


def test_units_and_theme_follow(page: FollowersPage, qtbot: QtBot) -> None:
    view = matched(page, qtbot)
    page.session.set_style(Style.METRIC)
    assert "lbf" not in view.advice.text()
    contact = cast("ContactView", of(page, "contact"))
    assert "MPa" in contact.told.charts[0].up
    theme().choose(Choice.DARK)
    theme().choose(Choice.LIGHT)
    page.session.set_style(Style.INCH_POUND)
    assert "kpsi" in contact.told.charts[0].up


def keys(view: Any, *pressed: Qt.Key) -> None:
    for key in pressed:
        QTest.keyClick(view.scale, key)


def test_the_contact_is_read_out_by_keys(page: FollowersPage) -> None:
    contact = cast("ContactView", of(page, "contact"))
    keys(contact, Qt.Key.Key_Up)
    assert page.read_out.text().startswith("At the nose, idling: ")
    keys(contact, Qt.Key.Key_Right)
    assert page.read_out.text().startswith("Cam 1\u2009deg from the nose; idling: ")
    assert "at the speed limit: " in page.read_out.text()


def test_the_axle_is_read_out_at_any_load_and_share(page: FollowersPage) -> None:
    axle = cast("AxleView", of(page, "axle"))
    assert axle.told.description.startswith("This job: ")
    keys(axle, Qt.Key.Key_Right)
    assert "idling 16\u2009%" in page.read_out.text()
    before = page.read_out.text().split(" open")[0]
    keys(axle, Qt.Key.Key_Up, Qt.Key.Key_Up)
    up = page.read_out.text().split(" open")[0]
    assert int(up.split("\u202f")[0].split("\u2009")[0]) > int(before.split("\u202f")[0].split("\u2009")[0])
    assert axle.scale.level.isVisible()
    for _ in range(4):
        QTest.keyClick(axle.scale, Qt.Key.Key_PageDown, Qt.KeyboardModifier.ShiftModifier)
    assert axle.scale.level.isVisible()
    axle.scale.pointed_up = 1e6  # a pointer above the grid reads its edge
    axle.scale.hovered.emit("", 30.0)
    assert page.read_out.text().startswith("2000\u2009lbf open, idling 30\u2009%")
    axle.scale.hovered.emit("job", 15.0)
    assert page.read_out.text().startswith("This job: ")
    assert not axle.scale.level.isVisible()


def test_the_plungers_are_read_out_from_bore_to_bore(page: FollowersPage) -> None:
    plunger = cast("PlungerView", of(page, "plunger"))
    keys(plunger.picture, Qt.Key.Key_Right)
    assert page.read_out.text().startswith("Standard travel: ")
    keys(plunger.picture, Qt.Key.Key_Right)
    assert page.read_out.text().startswith("Short travel: ")
    assert plunger.table.model.rowCount() == 8


def test_what_an_empty_view_waits_for_is_named_and_led_to(page: FollowersPage, qtbot: QtBot) -> None:
    of(page, "axle")
    assert page.view is page.made["axle"]
    page.session.set_fields("base", {"cam.base_radius": None})
    assert page.view is None
    assert "base circle radius" in page.waiting.needs.text()
    with qtbot.waitSignal(page.session.pointed) as pointed:
        page.waiting.button.click()
    assert pointed.args[0].fields == ("cam.base_radius",)
    page.session.undo_stack.undo()
    assert page.view is page.made["axle"]


def test_a_new_window_shows_empty_views_and_a_match_of_unknowns(qtbot: QtBot) -> None:
    tree = {"format": "loadbench-job", "version": 4, "title": "t", "units": "metric"}
    page = FollowersPage(Session(job_from_text(json.dumps(tree))))
    qtbot.addWidget(page)
    page.show()
    view = matched(page, qtbot)
    assert view.model.held is not None
    for key in VIEWS[1:]:
        page.words.choose(key)
        assert page.view is None
        assert page.waiting.needs.text()
    page.hide()


def test_everything_that_takes_the_focus_has_a_name(page: FollowersPage, qtbot: QtBot) -> None:
    matched(page, qtbot)
    for key in VIEWS:
        of(page, key)
        for widget in page.findChildren(QWidget):
            if widget.isVisible() and widget.focusPolicy() != Qt.FocusPolicy.NoFocus:
                found = QAccessible.queryAccessibleInterface(widget)
                assert found.text(QAccessible.Text.Name) or widget.accessibleName(), widget.objectName()


def test_tab_goes_from_the_words_into_the_view(page: FollowersPage, qtbot: QtBot) -> None:
    matched(page, qtbot)
    for key, widget in (("match", "match_grid"), ("contact", "contact_picture"), ("axle", "axle_picture")):
        of(page, key)
        found, at = [], page.words.buttons[key]
        for _ in range(12):
            at = at.nextInFocusChain()
            if at.isVisible() and at.focusPolicy() & Qt.FocusPolicy.TabFocus:
                found.append(at.objectName())
        assert widget in found[:6]


def shown_window(qtbot: QtBot, job: Job, width: int, height: int) -> MainWindow:
    window = MainWindow(Session(job), Settings())
    qtbot.addWidget(window, before_close_func=lambda made: made.session.undo_stack.setClean())
    window.resize(width, height)
    window.show()
    window.show_page("followers")
    qtbot.waitExposed(window)
    return window


def rested(qtbot: QtBot, window: MainWindow, key: str) -> None:
    page = cast("FollowersPage", window.shell.page)
    page.words.choose(key)
    if key == "match":
        settled(qtbot, page.made[key])
    for _ in range(3):
        QApplication.processEvents()
        window.grab()


@pytest.mark.parametrize("job", [sample("solid-roller-1000-lbf"), Job(title="", units="inch-pound")])
def test_d50_texts_two_fifths_longer_are_not_cut(qtbot: QtBot, job: Job) -> None:
    with everything_longer():
        window = shown_window(qtbot, job, 1280, 800)
        for key in VIEWS:
            rested(qtbot, window, key)
            assert (window.width(), window.height()) == (1280, 800)
            assert cut(window.shell.stack) == []
            assert sideways(window) == []


def test_d20_every_view_is_whole_in_a_small_window(qtbot: QtBot) -> None:
    window = shown_window(qtbot, sample("short-travel-hydraulic-roller"), 1024, 640)
    for key in VIEWS:
        rested(qtbot, window, key)
        assert (window.width(), window.height()) == (1024, 640)
        assert cut(window.shell.stack) == []
        assert sideways(window) == []


def test_every_word_of_a_level_fits_its_cell(qtbot: QtBot) -> None:
    window = shown_window(qtbot, sample("short-travel-hydraulic-roller"), 1280, 800)
    rested(qtbot, window, "match")
    grid = cast("FollowersPage", window.shell.page).made["match"].grid
    letters, room = grid.fontMetrics(), grid.iconSize().width() + 10
    for row in range(grid.model().rowCount()):
        for column in range(grid.model().columnCount()):
            word = str(grid.model().index(row, column).data())
            assert letters.horizontalAdvance(word) + room <= grid.columnWidth(column), word
            assert grid.rowHeight(row) >= 24
