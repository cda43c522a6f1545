"""Work off the window's thread: it answers meanwhile, it can be cancelled, the newest input wins."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFileDialog

from loadbench.analysis import Analysis
from loadbench.findings import Verdicts
from loadbench.job.model import Job
from loadbench.units import Style
from ui.desk import Desk, Progress
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.fixture
def desk(qapp: object) -> Iterator[Desk]:
    made = Desk()
    yield made
    made.shutdown()


def test_work_runs_on_another_thread_and_answers_on_this(desk: Desk, qtbot: QtBot) -> None:
    places: list[int] = []
    desk.done.connect(lambda _: places.append(threading.get_ident()))
    with qtbot.waitSignal(desk.done) as heard:
        desk.start(lambda _: threading.get_ident())
    assert heard.args is not None
    assert heard.args[0] != threading.get_ident()
    assert places == [threading.get_ident()]
    assert not desk.busy


def test_d30_the_window_answers_while_slow_work_runs(desk: Desk, qtbot: QtBot) -> None:
    gaps: list[float] = []
    last = time.perf_counter()

    def tick() -> None:
        nonlocal last
        now = time.perf_counter()
        gaps.append(now - last)
        last = now

    timer = QTimer()
    timer.timeout.connect(tick)
    timer.start(5)
    with qtbot.waitSignal(desk.done, timeout=3000):
        desk.start(lambda _: time.sleep(0.4))
    timer.stop()
    assert len(gaps) > 10
    assert sorted(gaps)[-2] < 0.05


def test_d30_a_late_result_is_dropped_and_the_newest_wins(desk: Desk, qtbot: QtBot) -> None:
    answers: list[object] = []
    desk.done.connect(answers.append)
    hold = threading.Event()

    def slow(_: Progress) -> str:
        hold.wait(2)
        return "old"

    desk.start(slow)
    desk.start(lambda _: "new")
    hold.set()
    qtbot.waitUntil(lambda: "new" in answers)
    qtbot.wait(50)
    assert answers == ["new"]


def test_d30_cancelled_work_stops_at_its_next_word(desk: Desk, qtbot: QtBot) -> None:
    steps: list[int] = []
    begun = threading.Event()
    ended = threading.Event()

    def work(progress: Progress) -> None:
        try:
            for step in range(10_000):
                begun.set()
                progress(step / 10_000)
                steps.append(step)
                time.sleep(0.001)
        finally:
            ended.set()

    desk.start(work)
    assert begun.wait(2)
    desk.cancel()
    assert ended.wait(2)
    qtbot.wait(20)
    assert len(steps) < 5000


def test_progress_is_told(desk: Desk, qtbot: QtBot) -> None:
    shares: list[float] = []
    desk.progress.connect(shares.append)
    with qtbot.waitSignal(desk.done):
        desk.start(lambda progress: [progress(share) for share in (0.25, 0.5)])
    assert shares == [0.25, 0.5]


def test_a_failure_is_told(desk: Desk, qtbot: QtBot) -> None:
    def work(_: Progress) -> Any:
        raise OSError(28, "No space left on device")

    with qtbot.waitSignal(desk.failed) as heard:
        desk.start(work)
    assert heard.args is not None
    assert isinstance(heard.args[0], OSError)
    assert not desk.busy


def writes(text: str) -> Any:
    def writer(_analysis: Analysis, _verdicts: Verdicts, path: Path, _style: Style, _progress: Progress) -> None:
        path.write_text(text)

    return writer


def test_an_export_is_whole_and_says_so(window: MainWindow, tmp_path: Path, qtbot: QtBot) -> None:
    said: list[str] = []
    window.session.announced.connect(said.append)
    with qtbot.waitSignal(window.exporting.desk.done):
        window.exporting.start(tmp_path / "book.xlsx", writes("content"))
    assert (tmp_path / "book.xlsx").read_text() == "content"
    assert [entry.name for entry in tmp_path.iterdir()] == ["book.xlsx"]
    assert said == ["Exported book.xlsx."]


def test_d30_esc_cancels_an_export_and_the_old_file_stays(window: MainWindow, tmp_path: Path, qtbot: QtBot) -> None:
    old = tmp_path / "book.xlsx"
    old.write_text("old")
    begun, go = threading.Event(), threading.Event()

    def slow(_analysis: Analysis, _verdicts: Verdicts, path: Path, _style: Style, _progress: Progress) -> None:
        begun.set()
        path.write_text("new")
        go.wait(2)

    window.exporting.start(old, slow)
    assert begun.wait(2)
    qtbot.waitUntil(window.exporting.bar.isVisible)
    qtbot.keyClick(window, Qt.Key.Key_Escape)
    go.set()
    assert not window.exporting.bar.isVisible()
    qtbot.waitUntil(lambda: [entry.name for entry in tmp_path.iterdir()] == ["book.xlsx"])
    assert old.read_text() == "old"


def test_an_export_that_fails_says_why(window: MainWindow, tmp_path: Path, qtbot: QtBot) -> None:
    with qtbot.waitSignal(window.exporting.desk.failed):
        window.exporting.start(tmp_path / "no" / "book.xlsx", writes("content"))
    (notice,) = window.notices.notices()
    assert "No such file" in notice.label.text()


@pytest.mark.parametrize(
    ("name", "suffix", "begins"),
    [
        ("workbook", ".xlsx", b"PK"),
        ("table", ".csv", b"\xef\xbb\xbfline,"),
        ("set_table", ".csv", b"\xef\xbb\xbfspring,"),
    ],
)
def test_each_export_writes_its_file(
    window: MainWindow,
    tmp_path: Path,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    name: str,
    suffix: str,
    begins: bytes,
) -> None:
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "out"), ""))
    with qtbot.waitSignal(window.exporting.desk.done, timeout=20_000):
        getattr(window.exporting, name)()
    assert (tmp_path / f"out{suffix}").read_bytes().startswith(begins)


def test_a_plan_that_cannot_be_had_is_told_and_nothing_is_written(
    window: MainWindow, tmp_path: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.session.reload(Job(title="nothing yet"), None)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "out.csv"), ""))
    with qtbot.waitSignal(window.exporting.desk.failed, timeout=20_000):
        window.exporting.plan_table()
    (notice,) = window.notices.notices()
    assert "keeps no plan" in notice.label.text()
    assert list(tmp_path.iterdir()) == []
