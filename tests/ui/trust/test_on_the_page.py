"""The Readings page as a whole: slip, picture and meaning go to the same spring, by pointer and by keys."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QAction, QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget

from loadbench.findings.finding import Level
from loadbench.job.model import Job
from loadbench.units import Style
from tests.ui.trust.sets import FAULTS, FOUR, a_set, checked
from ui.pages.readings_page import ReadingsPage
from ui.session import Session
from ui.slip.slip_model import HEADS
from ui.theme import Choice, theme
from ui.trust import checker
from ui.widgets.link import Link

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

FIRST = len(HEADS)


@pytest.fixture
def pages(qtbot: QtBot) -> Iterator[list[ReadingsPage]]:
    made: list[ReadingsPage] = []
    yield made
    for page in made:
        page.hide()


def opened(qtbot: QtBot, pages: list[ReadingsPage], job: Job, width: int = 1264, height: int = 690) -> ReadingsPage:
    page = ReadingsPage(Session(job))
    pages.append(page)
    qtbot.addWidget(page)
    page.resize(width, height)
    page.show()
    page.activateWindow()
    page.grid.view.setFocus()
    qtbot.waitExposed(page)
    qtbot.wait(1)
    return page


def marks(page: ReadingsPage, spring: str) -> list[int]:
    return [place for place, dot in enumerate(page.picture.scene.dots) if dot.spring == spring]


def here(page: ReadingsPage) -> tuple[str, str]:
    """The spring of the current cell, and the head of its column."""
    source = page.grid.source_of(page.grid.view.currentIndex())
    return page.grid.model.entered(source.row(), 0), page.grid.model.head(source.column()).split("\n")[0]


def point_of(page: ReadingsPage, mark: int) -> QPointF:
    """A mark in the scene of the view."""
    view = page.picture.view
    view.item._settle()
    return QPointF(view.box.mapViewToScene(view.item.at(mark)))


def test_the_first_glance_says_how_many_pass_and_which_to_test_again(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    assert page.meaning.head.text() == "14 of 16 springs pass"
    links = [link.text() for link in page.meaning.again.findChildren(Link)]
    assert links == list(checked(a_set(faults=FAULTS)).test_again)
    assert set(links) == {"S07", "S12"}
    assert page.meaning.again.isVisible()


def test_a_doubt_selects_its_cell_lights_the_picture_and_opens_its_rule(
    qtbot: QtBot, pages: list[ReadingsPage]
) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    row = next(row for row in page.meaning.entries.rows if row.entry.spring == "S12")
    assert not row.rule.isVisible()
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton)
    assert here(page) == ("S12", "1.900 in")
    assert page.picture.lit == {"S12"}
    assert page.picture.scene.dots[page.picture.current or 0].spring == "S12"
    assert row.rule.text() == row.entry.rule
    assert row.rule.isVisible()
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton)
    assert not row.rule.isVisible()


def test_a_doubt_of_a_sorted_slip_finds_its_own_row(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    page.grid.sort(FIRST + 1, Qt.SortOrder.DescendingOrder)
    for row in page.meaning.entries.rows:
        row.press()
        assert here(page)[0] == row.entry.spring


def test_a_mark_selects_its_row(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    qtbot.wait(20)
    page.grab()  # the marks find their places as they are drawn
    view, mark = page.picture.view, marks(page, "S05")[1]
    at = view.mapFromScene(point_of(page, mark))
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    dot = page.picture.scene.dots[page.picture.current if page.picture.current is not None else -1]
    assert here(page) == (dot.spring, "1.300 in")
    assert dot.spring == "S05"


def test_a_cell_goes_to_its_mark(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    page.grid.go_to(4, FIRST + 1)
    dot = page.picture.scene.dots[page.picture.current if page.picture.current is not None else -1]
    assert (dot.spring, dot.place) == ("S05", 1)
    assert page.picture.read_out.text().startswith("S05: ")
    page.grid.go_to(5, 0)  # a cell without a height: the column on show stays
    dot = page.picture.scene.dots[page.picture.current if page.picture.current is not None else -1]
    assert (dot.spring, dot.place) == ("S06", 1)


def test_a_count_lights_its_springs_and_goes_from_one_to_the_next(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    button = page.meaning.counts.buttons[Level.STOP]
    seen = []
    for _ in range(3):
        button.click()
        seen.append(here(page))
    assert seen == [("S07", "1.900 in"), ("S12", "1.900 in"), ("S07", "1.900 in")]
    assert page.picture.lit == {"S07", "S12"}


def test_the_lists_go_to_their_springs_and_are_copied(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    page.meaning.words.choose("order")
    page.meaning.order.view.selectRow(3)
    assert here(page)[0] == "S04"
    page.meaning.copy_button.click()
    assert QGuiApplication.clipboard().text().splitlines()[4].startswith("2E\tS04")
    page.meaning.words.choose("bins")
    page.meaning.bins.view.selectRow(0)
    assert page.picture.lit == set(page.meaning.bins.model.listed.rows[0].springs)
    page.meaning.words.choose("why")
    assert not page.meaning.copy_button.isVisible()
    page.meaning.copy_strip_list()
    assert len(QGuiApplication.clipboard().text().splitlines()) == 17


def test_d22_the_page_is_read_by_keys_alone(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))

    def tab_to(name: str) -> QWidget:
        for _ in range(80):
            focused = QApplication.focusWidget()
            if focused is not None and focused.objectName() == name:
                return focused
            qtbot.keyClick(focused or page, Qt.Key.Key_Tab)
        raise AssertionError(name)

    qtbot.waitUntil(page.grid.view.hasFocus)
    words = tab_to("trust_words_loads")
    qtbot.keyClick(words, Qt.Key.Key_Right)
    assert page.picture.words.key == "rates"
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Left)
    view = tab_to("trust_picture")
    qtbot.keyClick(view, Qt.Key.Key_Home)
    first = page.picture.read_out.text()
    assert here(page)[0] == first.partition(":")[0]
    qtbot.keyClick(view, Qt.Key.Key_Up)
    assert page.picture.read_out.text() != first
    qtbot.keyClick(view, Qt.Key.Key_Right)
    assert here(page)[1] == "1.300 in"
    qtbot.keyClick(view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert QGuiApplication.clipboard().text() == page.picture.read_out.text()
    count = tab_to("trust_count_stop")
    qtbot.keyClick(count, Qt.Key.Key_Space)
    assert here(page)[0] == "S07"
    entry = tab_to("trust_entry")
    qtbot.keyClick(entry, Qt.Key.Key_Return)
    rows = page.meaning.entries.rows
    assert rows[0].opened
    assert here(page)[0] == rows[0].entry.spring
    qtbot.keyClick(entry, Qt.Key.Key_Down)
    qtbot.waitUntil(rows[1].hasFocus)
    qtbot.keyClick(rows[1], Qt.Key.Key_F8)
    assert here(page)[0] in {"S07", "S12"}


def test_f8_goes_from_doubt_to_doubt(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    shown_rows = [row for row in page.meaning.entries.rows if not row.isHidden()]
    seen = []
    for _ in range(len(shown_rows) + 1):
        page.next_doubt()
        seen.append(here(page)[0])
    assert seen == [row.entry.spring for row in shown_rows] + [shown_rows[0].entry.spring]
    said: list[str] = []
    clean = opened(qtbot, pages, a_set(seed=3))
    clean.session.announced.connect(said.append)
    clean.next_doubt()
    assert said == ["There are no doubts."]


def test_the_meaning_follows_an_edit_and_an_undo(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    page.session.set_field("springs.6.readings.0.load", "150 lbf")
    assert page.meaning.head.text() == "15 of 16 springs pass"
    page.session.undo_stack.undo()
    assert page.meaning.head.text() == "14 of 16 springs pass"
    shares = {"minus": "1 lbf", "plus": "1 lbf"}
    page.session.set_field("spring.spec", ({"height": "1.900 in", "load": "150 lbf", **shares},))
    assert page.picture.scene.bands[0].high == pytest.approx(1.0)


def test_nothing_is_checked_while_the_page_is_hidden(
    qtbot: QtBot, pages: list[ReadingsPage], monkeypatch: pytest.MonkeyPatch
) -> None:
    counted: list[int] = []
    real = checker.check_set

    def counting(*args: Any) -> Any:
        counted.append(1)
        return real(*args)

    monkeypatch.setattr(checker, "check_set", counting)
    page = opened(qtbot, pages, a_set())
    page.hide()
    before = len(counted)
    page.session.set_field("springs.0.id", "S77")
    page.session.set_style(Style.METRIC)
    assert len(counted) == before
    page.show()
    assert len(counted) == before + 1
    page.hide()
    page.show()
    assert len(counted) == before + 1  # nothing has changed since
    assert page.picture.scene.up.endswith("N")


def test_a_very_large_set_is_checked_off_the_window(
    qtbot: QtBot, pages: list[ReadingsPage], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(checker, "MOST_HERE", 10)
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    assert page.meaning.head.text() == "" or page.checker.check is not None
    qtbot.waitUntil(lambda: page.meaning.head.text() == "14 of 16 springs pass", timeout=5000)
    page.session.set_field("springs.6.readings.0.load", "150 lbf")
    page.session.set_field("springs.11.readings.0.load", "150 lbf")
    qtbot.waitUntil(lambda: page.meaning.head.text() == "16 of 16 springs pass", timeout=5000)


def test_a_printout_is_read_by_the_windows_own_command(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, Job(title=""))
    assert not page.read_button.isVisible()
    page.hide()
    action, ran = QAction(page), []
    action.setObjectName("read_printout")
    action.triggered.connect(lambda: ran.append(1))
    page.show()
    assert page.read_button.isVisible()
    page.read_button.click()
    page.session.set_fields("set springs", {"springs": a_set(2).springs})
    assert page.slip.read_button.isVisible()
    page.slip.read_button.click()
    assert ran == [1, 1]


def test_a_narrow_page_folds_the_meaning_to_its_counts(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS), width=1008, height=530)
    side = page.meaning
    assert side.folded
    assert side.width() < 140
    assert [button.text() for button in side.counts.buttons.values()] == ["14 pass", "2 fail", "0 unknown"]
    assert not side.entries.isVisible()
    assert not page.grid.summary.isVisible()  # the springs have the room
    side.fold_button.click()
    qtbot.wait(1)
    assert side.entries.isVisible()
    assert side.width() > 250
    page.resize(1264, 690)
    qtbot.wait(1)
    assert not side.folded
    assert not side.fold_button.isVisible()
    assert page.grid.summary.isVisible()


def test_every_picture_is_drawn_in_both_themes_and_says_what_it_shows(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(heights=FOUR, losses=(0.0, 0.06, 0.12), faults=FAULTS))
    view = page.picture.view
    for choice, name in product((Choice.DARK, Choice.LIGHT), page.picture.words.buttons):
        theme().choose(choice)
        page.picture.show_picture(name)
        assert view.isVisible()
        assert view.accessibleName() == page.picture.words.buttons[name].text()
        assert len(view.accessibleDescription()) > 20
        image = view.grab().toImage()
        colours = {
            image.pixelColor(x, y).name() for x in range(60, image.width(), 3) for y in range(0, image.height(), 3)
        }
        assert len(colours) > 3


def test_an_edge_mark_stands_at_the_edge_and_is_found_there(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults={(3, 1.9): 200.0}))
    page.grab()
    item, mark = page.picture.view.item, marks(page, "S04")[0]
    assert item.beyond(page.picture.scene.dots[mark]) == 1
    assert item.at(mark).y() <= page.picture.view.box.viewRect().bottom()
    assert item.nearest(item.at(mark)) == mark


def test_d37_the_units_switch_changes_numbers_and_words_and_the_whole_picture_comes_back(
    qtbot: QtBot, pages: list[ReadingsPage]
) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    sentence = page.meaning.entries.rows[0].sentence.text()
    page.picture.view.box.setYRange(-1, 1)
    page.picture.view.box.sigRangeChangedManually.emit([False, True])
    assert page.picture.view.zoomed
    page.session.set_field("springs.0.mark", "red")
    assert page.picture.view.box.viewRange()[1] == pytest.approx([-1, 1])  # an edit leaves a zoomed view alone
    page.session.set_style(Style.METRIC)
    assert page.picture.scene.up.endswith("N")
    assert page.meaning.entries.rows[0].sentence.text() != sentence
    assert page.picture.view.box.viewRange()[1] == pytest.approx(list(page.picture.scene.y_range))
    page.picture.view.box.setYRange(-1, 1)
    page.reset_view()
    assert page.picture.view.box.viewRange()[1] == pytest.approx(list(page.picture.scene.y_range))


def test_the_pointer_reads_out_and_leaves_the_current_spring(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    page.grab()
    page.go_to_spring("S05")
    current = page.picture.read_out.text()
    mark = marks(page, "S12")[0]
    page.picture.view.scene().sigMouseMoved.emit(point_of(page, mark))
    assert page.picture.read_out.text().startswith("S12: ")
    page.picture.view.scene().sigMouseMoved.emit(QPointF(-50, -50))
    assert page.picture.read_out.text() == current


def test_the_pictures_are_copied(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    page.copy_picture()
    image = QGuiApplication.clipboard().image()
    assert image.width() == 2 * page.picture.view.width()


def test_very_many_doubts_come_in_parts(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(40, faults={(place, 1.3): -60.0 for place in range(0, 40, 2)}, valves=0))
    entries = page.meaning.entries
    assert len(entries.entries) > 12
    assert len(entries.rows) == 12
    entries.more.click()
    assert len(entries.rows) > 12
    assert entries.rows[12].hasFocus()


def test_a_check_that_fails_is_told_and_the_page_goes_on(
    qtbot: QtBot, pages: list[ReadingsPage], monkeypatch: pytest.MonkeyPatch
) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    said: list[str] = []
    page.session.announced.connect(said.append)

    def broken(*_: Any) -> Any:
        raise ArithmeticError

    monkeypatch.setattr(checker, "MOST_HERE", 10)
    monkeypatch.setattr(checker, "check_set", broken)
    page.session.set_field("springs.0.mark", "red")
    qtbot.waitUntil(lambda: "The set could not be checked." in said, timeout=5000)
    assert page.meaning.head.text() == "14 of 16 springs pass"


def test_another_job_comes_without_the_marks_of_the_one_before(qtbot: QtBot, pages: list[ReadingsPage]) -> None:
    page = opened(qtbot, pages, a_set(faults=FAULTS))
    page.next_doubt()
    page.session.reload(a_set(8, seed=3), None)
    assert page.picture.lit == frozenset()
    assert page.picture.current is None
    assert page.meaning.head.text() == "8 of 8 springs pass"
