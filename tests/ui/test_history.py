"""The steps that undo takes back: what is clean, what merges, what the menu says."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QObject

import ui
from loadbench.job.model import Job
from ui.history import History, Step, StepAction
from ui.session import Session

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

JOBS = tuple(Job(title=str(number)) for number in range(5))


class Table(QObject):
    """Where the jobs come; notes each."""

    def __init__(self) -> None:
        super().__init__()
        self.titles: list[str] = []
        self.history = History(self.put, self)

    def put(self, job: Job) -> None:
        self.titles.append(job.title)

    def push(self, before: int, after: int, gesture: int = -1) -> None:
        number = gesture if gesture >= 0 else 100 + self.history.count()
        self.history.push(Step(f"to {after}", number, JOBS[before], JOBS[after]))


@pytest.fixture
def table(qapp: QApplication) -> Table:
    return Table()


def test_undo_and_redo_go_along_the_steps_and_stop_at_their_ends(table: Table) -> None:
    table.push(0, 1)
    table.push(1, 2)
    for _ in range(3):
        table.history.undo()
    for _ in range(3):
        table.history.redo()
    assert table.titles == ["1", "2", "1", "0", "1", "2"]


def test_a_new_step_forgets_what_was_taken_back(table: Table) -> None:
    table.push(0, 1)
    table.push(1, 2)
    table.history.undo()
    table.push(1, 3)
    assert [table.history.text(number) for number in range(-1, 3)] == ["", "to 1", "to 3", ""]
    assert not table.history.canRedo()


def test_clean_is_the_step_that_was_saved(table: Table) -> None:
    history = table.history
    assert history.isClean()
    table.push(0, 1)
    history.setClean()
    table.push(1, 2)
    assert not history.isClean()
    history.undo()
    assert history.isClean()
    history.undo()
    assert not history.isClean()
    table.push(0, 3)  # the saved step is gone for good
    assert not history.isClean()
    history.undo()
    assert not history.isClean()
    history.clear()
    assert history.isClean()
    history.resetClean()
    assert not history.isClean()


def test_steps_of_one_gesture_are_one_but_never_across_a_save(table: Table) -> None:
    table.push(0, 1, gesture=7)
    table.push(1, 2, gesture=7)
    assert (table.history.count(), table.history.isClean()) == (1, False)
    table.history.setClean()
    table.push(2, 3, gesture=7)
    assert table.history.count() == 2
    table.history.undo()
    assert table.titles[-1] == "2"
    assert table.history.isClean()


def test_a_gesture_back_to_its_start_leaves_no_step_and_shows_the_start(table: Table) -> None:
    table.push(0, 1, gesture=7)
    table.push(1, 0, gesture=7)
    assert (table.history.count(), table.history.isClean(), table.titles) == (0, True, ["1", "0"])


def test_everybody_hears_once_the_job_is_on_the_table(table: Table) -> None:
    heard: list[tuple[str, bool]] = []
    table.history.moved.connect(lambda: heard.append((table.titles[-1], table.history.isClean())))
    table.push(0, 1)
    table.history.undo()
    table.history.redo()
    table.history.setClean()
    table.history.resetClean()
    assert heard == [("1", False), ("0", True), ("1", False), ("1", True), ("1", False)]


def test_the_menu_says_what_it_would_do(table: Table) -> None:
    undo = StepAction(table.history, "&Undo", redo=False, parent=table)
    redo = StepAction(table.history, "&Redo", redo=True, parent=table)
    assert (undo.text(), undo.isEnabled(), redo.text(), redo.isEnabled()) == ("&Undo", False, "&Redo", False)
    table.history.push(Step("read a&b.csv", 1, JOBS[0], JOBS[1]))
    assert (undo.text(), undo.isEnabled(), redo.isEnabled()) == ("&Undo read a&&b.csv", True, False)
    undo.trigger()
    assert (undo.text(), redo.text(), redo.isEnabled()) == ("&Undo", "&Redo read a&&b.csv", True)
    redo.trigger()
    assert table.titles == ["1", "0", "1"]


def test_a_listener_that_edits_in_turn_keeps_the_order(session: Session) -> None:
    def second() -> None:
        if session.job.record.engine == "first":
            session.set_field("record.engine", "second")

    session.changed.connect(second)
    session.set_field("record.engine", "first")
    session.changed.disconnect(second)
    seen = [session.job.record.engine]
    for _ in range(2):
        session.undo_stack.undo()
        seen.append(session.job.record.engine)
    assert seen == ["second", "first", None]


def test_no_step_is_qts_own() -> None:
    """Qt's stack frees a step again that Python's collector freed before it."""
    for file in Path(ui.__file__).parent.rglob("*.py"):
        assert not re.search(r"\bQUndo(Command|Stack|Group)\b", file.read_text(encoding="utf-8")), file
