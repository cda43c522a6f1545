"""The check list: initialled by keys, dated by itself, kept in the job as undo steps, copied."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from loadbench.job.model import Checked, Job
from tests.ui.setting.setting_jobs import setting_job
from ui.session import Session
from ui.setting.check_model import COLUMNS, rows_of, with_checks
from ui.setting.check_view import CheckView

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

TODAY = date.today().isoformat()
Opened = Callable[[Job], CheckView]


@pytest.fixture
def opened(qtbot: QtBot) -> Opened:
    def show(job: Job) -> CheckView:
        session = Session(job)
        view = CheckView(session)
        qtbot.addWidget(view)
        session.changed.connect(lambda state: view.show_state(state, session.line))
        view.resize(620, 520)
        view.show_state(session.state, session.line)
        view.show()
        view.activateWindow()
        qtbot.waitExposed(view)
        qtbot.waitUntil(view.isActiveWindow)
        return view

    return show


def place_of(view: CheckView, item: str) -> int:
    return next(at for at, row in enumerate(view.grid.checks.rows) if row.item is not None and row.item.id == item)


def go(view: CheckView, item: str, column: str) -> None:
    view.grid.setFocus()
    view.grid.setCurrentIndex(view.grid.checks.index(place_of(view, item), COLUMNS.index(column)))


def keys(qtbot: QtBot, text: str) -> None:
    for key in (*text, Qt.Key.Key_Return):
        focused = QApplication.focusWidget()
        assert focused is not None
        qtbot.keyClick(focused, key)


def test_items_stand_under_their_part_headings_across(opened: Opened) -> None:
    view = opened(setting_job())
    rows = view.grid.checks.rows
    assert (rows[0].heading, rows[0].item) == ("First", None)
    assert view.grid.columnSpan(0, 0) == len(COLUMNS)
    assert [row.heading for row in rows if row.item is None] == list(dict.fromkeys(row.heading for row in rows))
    assert not view.grid.checks.flags(view.grid.checks.index(0, 2)) & Qt.ItemFlag.ItemIsEditable


def test_initials_are_typed_down_the_column_and_dated_today(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job())
    go(view, "sheet", "initials")
    keys(qtbot, "AB")
    session = view.session
    qtbot.waitUntil(lambda: session.undo_stack.count() == 1)  # an editor hands over once its key is done
    assert session.job.check_list == (Checked(item="sheet", initials="AB", date=TODAY),)
    assert session.undo_stack.undoText() == "initial the check list"
    assert view.grid.currentIndex().row() == place_of(view, "safety")
    assert view.grid.checks.text(place_of(view, "sheet"), "date") == TODAY
    assert view.count.text().startswith("1 of ")
    session.undo_stack.undo()
    assert session.job.check_list == ()


def test_a_date_can_be_changed_and_initials_cleared(opened: Opened, qtbot: QtBot) -> None:
    kept = ({"item": "soak", "initials": "AB", "date": "2026-03-14"},)
    view = opened(setting_job({"check_list": kept}))
    go(view, "soak", "date")
    keys(qtbot, "14 Mar")
    qtbot.waitUntil(lambda: view.session.undo_stack.count() == 1)
    assert view.session.job.check_list == (Checked(item="soak", initials="AB", date="14 Mar"),)
    go(view, "soak", "initials")
    qtbot.keyClick(view.grid, Qt.Key.Key_Delete)
    assert view.session.job.check_list == ()
    assert view.session.undo_stack.count() == 2


def test_other_initials_keep_the_date_and_items_of_another_family_stay() -> None:
    kept = ({"item": "soak", "initials": "AB", "date": "2026-03-14"}, {"item": "paste", "initials": "CD"})
    job = setting_job({"check_list": kept})
    after = with_checks(job, {("soak", "initials"): "EF"}, TODAY)
    assert after == (
        {"item": "soak", "initials": "EF", "date": "2026-03-14"},
        {"item": "paste", "initials": "CD", "date": None},
    )
    pasted = with_checks(job, {("clean", "initials"): "GH", ("clean", "date"): "2026-01-01"}, TODAY)
    assert pasted[-1] == {"item": "clean", "initials": "GH", "date": "2026-01-01"}


def test_initials_are_pasted_as_one_step(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job())
    QGuiApplication.clipboard().setText("AB\t2026-01-02\nCD\t2026-01-03\n")
    go(view, "sheet", "initials")
    qtbot.keyClick(view.grid, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert [(each.item, each.initials, each.date) for each in view.session.job.check_list] == [
        ("sheet", "AB", "2026-01-02"),
        ("safety", "CD", "2026-01-03"),
    ]
    assert view.session.undo_stack.count() == 1


def test_what_the_job_says_has_sign_and_word(opened: Opened) -> None:
    view = opened(setting_job({"valve_gear.retainer_to_seal": "0.620 in"}))
    index = view.grid.checks.index(place_of(view, "turned"), COLUMNS.index("found"))
    assert index.data().startswith("Stop: The retainer clears the seal by")
    assert not index.data(Qt.ItemDataRole.DecorationRole).isNull()
    assert "common practice" in index.data(Qt.ItemDataRole.ToolTipRole)


def test_enter_on_a_text_goes_to_what_it_rests_on(opened: Opened, qtbot: QtBot) -> None:
    view = opened(setting_job())
    go(view, "bore-clearance", "do")
    with qtbot.waitSignal(view.field_wanted) as wanted:
        qtbot.keyClick(view.grid, Qt.Key.Key_Return)
    assert wanted.args == ["follower.bore.diameter"]
    told: list[str] = []
    view.session.announced.connect(told.append)
    go(view, "clean", "do")
    qtbot.keyClick(view.grid, Qt.Key.Key_Return)
    assert told == ["This item rests on no entry: it is looked at on the bench."]


def test_the_list_follows_the_family(opened: Opened) -> None:
    view = opened(setting_job())
    assert not any(row.item is not None and row.item.id == "face-crown" for row in view.grid.checks.rows)
    view.session.set_fields("family", {"follower.family": "flat-tappet-hydraulic"})
    assert place_of(view, "face-crown")


def test_the_source_is_read_out_and_a_cell_spoken_whole(opened: Opened) -> None:
    view, said = opened(setting_job()), list[str]()
    view.said.connect(said.append)
    go(view, "soak", "initials")
    assert said[-1] == "Source: common practice"
    spoken = view.grid.currentIndex().data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken.startswith("Initials: empty. Soak the followers")


def test_the_list_is_copied_with_heads_and_sources(opened: Opened) -> None:
    view = opened(setting_job())
    view.copy_button.click()
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0] == "Part\tWhat to do or look at\tWhat this job says\tInitials\tDate\tSource"
    assert len(lines) == 1 + sum(row.item is not None for row in view.grid.checks.rows)
    assert all(line.split("\t")[-1] for line in lines)


def test_rows_of_nothing_are_none() -> None:
    assert rows_of(()) == ()
