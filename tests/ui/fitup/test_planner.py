"""The plan is worked out beside the window, for the job as it stands, and for nobody while the page is hidden."""

from __future__ import annotations

import threading
import time
from typing import TYPE_CHECKING

import pytest

from loadbench.analysis import Analysis
from loadbench.assembly import fit as fitting
from loadbench.assembly.answer import FitAnswer
from loadbench.fitup.counted import NotKnownError
from tests.assembly.heads import analysed, head
from ui.fitup.planner import Planner
from ui.session import Session

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from pytestqt.qtbot import QtBot

SPRINGS = [("S1", 140.0, 400.0), ("S2", 150.0, 400.0), ("S3", 160.0, 400.0)]


@pytest.fixture
def planner(qtbot: QtBot) -> Iterator[Planner]:
    made = Planner(Session(analysed(head(SPRINGS, [1.80, 1.83])).job))
    yield made
    made.shutdown()


def ready(planner: Planner, qtbot: QtBot) -> FitAnswer:
    qtbot.waitUntil(lambda: not planner.busy, timeout=10_000)
    assert planner.answer is not None
    return planner.answer


def slowed(monkeypatch: pytest.MonkeyPatch, seconds: float) -> list[int]:
    """The fit takes so long; counts how often it ran to its end."""
    ran: list[int] = []
    real = fitting.fit

    def slow(analysis: Analysis, shop: object, progress: Callable[[float], None]) -> FitAnswer:
        for share in range(20):
            progress(share / 20)
            time.sleep(seconds / 20)
        ran.append(1)
        return real(analysis, None, progress)

    monkeypatch.setattr(fitting, "fit", slow)
    return ran


def test_nothing_is_worked_out_while_hidden(planner: Planner, qtbot: QtBot) -> None:
    planner.session.set_field("targets.seat_load", "150 lbf")
    assert not planner.busy
    planner.set_live(True)
    assert planner.busy
    assert ready(planner, qtbot).feasible
    assert planner.usable


def test_an_edit_makes_the_answer_stale_until_the_new_one_is_there(planner: Planner, qtbot: QtBot) -> None:
    planner.set_live(True)
    before = ready(planner, qtbot)
    planner.session.set_field("valves.0.bare_height", "1.850 in")
    assert planner.stale
    assert not planner.usable
    after = ready(planner, qtbot)
    assert not planner.stale
    assert after is not before
    planner.session.undo_stack.undo()
    planner.session.undo_stack.redo()
    assert not planner.stale  # back to what was answered
    assert not planner.busy


def test_what_no_plan_depends_on_asks_for_none(planner: Planner, qtbot: QtBot) -> None:
    planner.set_live(True)
    ready(planner, qtbot)
    planner.session.set_field("title", "Another name")
    planner.session.preview("targets.seat_load", "155 lbf")
    qtbot.wait(60)
    assert not planner.busy
    assert not planner.stale
    assert not planner.usable  # what is on show is not the job yet
    planner.session.drop_preview()
    assert planner.usable


def test_the_newest_inputs_win(planner: Planner, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    ran = slowed(monkeypatch, 0.4)
    planner.set_live(True)
    planner.find()
    qtbot.wait(60)
    planner.session.set_field("valves.0.bare_height", "1.850 in")
    planner.find()
    answer = ready(planner, qtbot)
    assert len(ran) == 1
    assert answer.plan[0].installed_height + sum(answer.plan[0].shims) == pytest.approx(1.85 * 0.0254)


def test_cancel_keeps_the_answer_before_and_asks_no_more(
    planner: Planner, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    planner.set_live(True)
    before = ready(planner, qtbot)
    ran = slowed(monkeypatch, 1.0)
    planner.session.set_field("valves.0.bare_height", "1.850 in")
    qtbot.waitUntil(lambda: not planner._wait.isActive())
    planner.cancel()
    assert not planner.busy
    planner.session.set_field("title", "Another name")
    assert not planner.busy
    assert planner.stale
    assert planner.answer is before
    assert ran == []


def test_an_error_is_told_and_not_tried_again_by_itself(
    planner: Planner, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(*_: object) -> FitAnswer:
        raise NotKnownError

    monkeypatch.setattr(fitting, "fit", failing)
    planner.set_live(True)
    qtbot.waitUntil(lambda: bool(planner.failure))
    assert "ran out of time" in planner.failure
    assert not planner.busy
    planner.set_live(False)
    planner.set_live(True)
    assert not planner.busy


def test_hiding_drops_the_work_and_shutting_down_ends_the_thread(
    planner: Planner, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    slowed(monkeypatch, 1.0)
    before = threading.active_count()
    planner.set_live(True)
    planner.find()
    assert threading.active_count() == before + 1
    planner.set_live(False)
    assert not planner.busy
    planner.shutdown()
    assert threading.active_count() == before
    planner.set_live(True)  # shown again
    assert planner.busy
